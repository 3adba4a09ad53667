//! The pane in the middle: the joint as drawn, to be looked at and handled.
//!
//! It has no geometry of its own but the camera: what is drawn comes from `drawing`, what a drag
//! would make of the joint comes from the chain run on an edited copy.

pub mod camera;
pub mod gesture;
mod grip;
pub mod hit;
mod overlay;
pub mod pen;
mod program;
pub mod typed;

use iced::widget::canvas::Cache;
use kurbo::{Point, Rect, Vec2};

use self::camera::{Camera, Room};
use self::gesture::{Event, Gesture, Ground, Outcome};
pub(super) use self::grip::free_id;
use super::look::{Action, Look};
use super::words;
use crate::drawing::{self, Item, Subject};
use crate::unit::LengthUnit;
use crate::unit::length::MM_PER_INCH;

/// The grab zone round a thing, in pixels.
const REACH_PX: f64 = 9.0;
/// A press becomes a drag beyond so many pixels.
const SLOP_PX: f64 = 4.0;
/// A head is caught by a face within so many pixels.
const CATCH_PX: f64 = 7.0;
/// Pixels kept free round all that is drawn when it is fitted in.
const EDGE_PX: f64 = 26.0;
/// One notch of the wheel, or one key, makes everything so much larger.
const ZOOM_STEP: f64 = 1.2;

/// What the pane remembers.
#[derive(Debug, Default)]
pub struct Pane {
    /// Where the eye is.
    pub camera: Camera,
    /// Where the hand is in its work.
    pub gesture: Gesture,
    /// Keys that are held.
    pub held: Held,
    /// Which of the steps of the snap is in use.
    snap: usize,
    /// Where the pointer is, in pixels of the pane.
    pointer: Option<Point>,
    /// Where the hand took hold of the paper.
    panning: Option<Point>,
    items: Vec<Item>,
    /// The scale and the part of the paper that the items were drawn for.
    drawn: (f64, Rect),
    overlay_items: Vec<Item>,
    scene: Cache,
    overlay: Cache,
}

/// Keys that are held.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Held {
    /// Keeps an axis, or 15-degree steps.
    pub shift: bool,
    /// No snap.
    pub ctrl: bool,
    /// A drag pans.
    pub space: bool,
}

/// What happened in the pane; places in pixels from its top left corner.
#[derive(Clone, Debug, PartialEq)]
pub enum Message {
    /// It has another size.
    Resized(f64, f64),
    /// The main button was pressed.
    Pressed(Point),
    /// The middle button was pressed.
    PressedMiddle(Point),
    /// The pointer moved.
    Moved(Point),
    /// The pointer left.
    Left,
    /// A button was let go.
    Released(Point),
    /// The wheel was turned by so many notches, away from the user positive, and sideways.
    Wheel(Point, f64, f64),
    /// The next step of the snap is wanted.
    SnapPressed,
    /// A button of the bar above was pressed.
    Asked(super::look::Command),
}

impl Pane {
    /// What is asked for by what happened.
    pub fn update(&mut self, message: &Message, look: &Look<'_>) -> Action {
        let action = match message {
            Message::Resized(width, height) => {
                self.camera.viewport_px = (*width, *height);
                if self.camera.fitted {
                    self.fit(look);
                }
                Action::None
            }
            Message::Pressed(at) => self.pressed(*at, look),
            Message::PressedMiddle(at) => {
                self.panning = Some(*at);
                Action::None
            }
            Message::Moved(at) => self.moved(*at, look),
            Message::Left => {
                self.pointer = None;
                Action::None
            }
            Message::Released(at) => self.released(*at, look),
            Message::Wheel(at, up, sideways) => {
                self.wheel(*at, *up, *sideways);
                Action::None
            }
            Message::SnapPressed => {
                self.snap = (self.snap + 1) % steps(look.unit()).len();
                Action::None
            }
            Message::Asked(command) => Action::Do(*command),
        };
        self.draw_if_needed(look);
        self.lay_over(look);
        action
    }

    fn pressed(&mut self, at: Point, look: &Look<'_>) -> Action {
        self.pointer = Some(at);
        if self.held.space {
            self.panning = Some(at);
            return Action::None;
        }
        let from = self.camera.in_model(at);
        if let Some(spec) = look.driving {
            let held = grip::new_fastener(spec, from, &self.ground(look), look);
            self.gesture = Gesture::Driving { to: from, typed: typed::Typed::for_turn(), held };
            return self.step(&Event::Moved(from), look);
        }
        if let Some(held) = grip::under(at, &self.camera, &self.items, look) {
            let chosen = Subject::Fastener(held.fastener.id.clone());
            self.gesture = Gesture::Pressed { held, from };
            return Action::Choose(Some(chosen));
        }
        let reach_mm = REACH_PX / camera::PX_PER_MM;
        Action::Choose(hit::at(&self.items, self.camera.on_paper(at), reach_mm).cloned())
    }

    fn moved(&mut self, at: Point, look: &Look<'_>) -> Action {
        self.pointer = Some(at);
        if let Some(from) = self.panning {
            self.camera.pan(at - from);
            self.panning = Some(at);
            self.scene.clear();
            return Action::None;
        }
        self.step(&Event::Moved(self.camera.in_model(at)), look)
    }

    fn released(&mut self, at: Point, look: &Look<'_>) -> Action {
        if self.panning.take().is_some() {
            return Action::None;
        }
        self.step(&Event::Released(self.camera.in_model(at)), look)
    }

    fn wheel(&mut self, at: Point, up: f64, sideways: f64) {
        if self.held.shift || (up == 0.0 && sideways != 0.0) {
            self.camera.pan(Vec2::new((up + sideways) * 40.0, 0.0));
        } else {
            self.camera.zoom_at(at, ZOOM_STEP.powf(up));
        }
        self.scene.clear();
    }

    /// One step of the gesture, and what is asked for by it.
    pub fn step(&mut self, event: &Event, look: &Look<'_>) -> Action {
        let ground = self.ground(look);
        let before = std::mem::take(&mut self.gesture);
        let driving = matches!(before, Gesture::Driving { .. });
        let number = number_of(&before);
        let new_id = new_id(&before);
        let (after, outcome) = gesture::step(before, event, &ground);
        self.gesture = after;
        self.lay_over(look);
        match outcome {
            Outcome::Nothing | Outcome::Clicked => Action::None,
            Outcome::Preview(edit) => Action::Preview("Drag".into(), edit),
            Outcome::Done(verb, edit) if driving => Action::All(vec![
                Action::Keep(format!("{verb} fastener {number}"), edit),
                Action::Drive(None),
                Action::Choose(new_id.map(Subject::Fastener)),
            ]),
            Outcome::Done(verb, edit) => Action::Keep(format!("{verb} fastener {number}"), edit),
            Outcome::Dropped => Action::DropPreview,
        }
    }

    /// What a gesture must know of its surroundings.
    #[must_use]
    pub fn ground(&self, look: &Look<'_>) -> Ground {
        let px = self.camera.px_per_model_mm();
        Ground {
            step_mm: if self.held.ctrl { 0.0 } else { self.step_mm(look.unit()) },
            step_deg: if self.held.ctrl { 0.0 } else { 1.0 },
            slop_mm: SLOP_PX / px,
            catch_mm: if self.held.ctrl { 0.0 } else { CATCH_PX / px },
            faces: grip::faces(look),
            keep: self.held.shift,
            unit: look.unit(),
        }
    }

    /// The snap in millimetres.
    #[must_use]
    pub fn step_mm(&self, unit: LengthUnit) -> f64 {
        let steps = steps(unit);
        steps[self.snap % steps.len()]
    }

    /// Shows all of the joint.
    ///
    /// What marks and dimensions take up round it is measured on a first drawing: it hardly
    /// changes with the scale.
    pub fn fit(&mut self, look: &Look<'_>) {
        let extent = drawing::extent(&look.inputs());
        self.camera.fit(extent, &Room::default());
        self.draw_again(look);
        let Some(extent) = extent else { return };
        let drawn = self.items.iter().map(|it| hit::bounds(&it.shape)).reduce(|a, b| a.union(b));
        let Some(drawn) = drawn else { return };
        let view = self.camera.view();
        let corner = |x: f64, y: f64| view.on_paper(crate::unit::Vec3::new(x, y, 0.0));
        let joint = Rect::from_points(corner(extent.x0, extent.y0), corner(extent.x1, extent.y1));
        let room = |mm: f64| mm.max(0.0) * camera::PX_PER_MM + EDGE_PX;
        let room = Room {
            left: room(joint.x0 - drawn.x0),
            above: room(joint.y0 - drawn.y0),
            right: room(drawn.x1 - joint.x1),
            below: room(drawn.y1 - joint.y1),
        };
        self.camera.fit(Some(extent), &room);
        self.draw_again(look);
    }

    /// Larger or smaller about the middle.
    pub fn zoom(&mut self, larger: bool, look: &Look<'_>) {
        let middle = Point::new(self.camera.viewport_px.0 / 2.0, self.camera.viewport_px.1 / 2.0);
        self.camera.zoom_at(middle, if larger { ZOOM_STEP } else { 1.0 / ZOOM_STEP });
        self.draw_again(look);
    }

    /// True size.
    pub fn true_size(&mut self, look: &Look<'_>) {
        self.camera.set_scale(1.0);
        self.draw_again(look);
    }

    /// Brings a place into view.
    pub fn show(&mut self, place: Point, look: &Look<'_>) {
        self.camera.show(place);
        self.scene.clear();
        self.lay_over(look);
    }

    /// Makes the drawing anew; asked for whenever the joint, the choice or the colours change.
    pub fn draw_again(&mut self, look: &Look<'_>) {
        // A screen's width more on every side, so that a little panning needs no new drawing.
        let shown = self.camera.shown_on_paper();
        let seen = shown.inflate(shown.width(), shown.height());
        self.items = drawing::front_within(&look.inputs(), &self.camera.view(), Some(seen));
        self.drawn = (self.camera.scale, seen);
        self.scene.clear();
        self.lay_over(look);
    }

    fn draw_if_needed(&mut self, look: &Look<'_>) {
        let (scale, seen) = self.drawn;
        let shown = self.camera.shown_on_paper();
        if scale.to_bits() != self.camera.scale.to_bits() || seen.union(shown) != seen {
            self.draw_again(look);
        }
    }

    fn lay_over(&mut self, look: &Look<'_>) {
        self.overlay_items = overlay::items(self, look);
        self.overlay.clear();
    }

    /// Where the pointer is, in words.
    #[must_use]
    pub fn pointer_words(&self, unit: LengthUnit) -> String {
        let place = |it: Point| format!("x {}  y {}", words::size(it.x, unit), words::size(it.y, unit));
        self.pointer_mm().map_or(String::new(), place)
    }

    /// Where the pointer is in the drawing plane.
    #[must_use]
    pub fn pointer_mm(&self) -> Option<Point> {
        self.pointer.map(|it| self.camera.in_model(it))
    }

    /// The snap in words.
    #[must_use]
    pub fn snap_words(&self, unit: LengthUnit) -> String {
        format!("snap {}", words::size(self.step_mm(unit), unit))
    }
}

/// The steps of the snap that may be chosen, the usual one first.
fn steps(unit: LengthUnit) -> [f64; 3] {
    match unit {
        LengthUnit::Inch => [MM_PER_INCH / 8.0, MM_PER_INCH / 4.0, MM_PER_INCH / 16.0],
        LengthUnit::Millimetre => [1.0, 5.0, 0.5],
    }
}

fn number_of(gesture: &Gesture) -> usize {
    held(gesture).map_or(0, |it| it.at + 1)
}

fn new_id(gesture: &Gesture) -> Option<String> {
    held(gesture).map(|it| it.fastener.id.clone())
}

fn held(gesture: &Gesture) -> Option<&gesture::Held> {
    match gesture {
        Gesture::Idle => None,
        Gesture::Pressed { held, .. }
        | Gesture::Moving { held, .. }
        | Gesture::Turning { held, .. }
        | Gesture::Driving { held, .. } => Some(held),
    }
}
