//! The pane in the middle: the joint as drawn, to be looked at and handled.
//!
//! It has no geometry of its own but the camera: what is drawn comes from `drawing`, what a drag
//! would make of the joint comes from the chain run on an edited copy.

mod aim;
pub mod camera;
pub mod carry;
mod cutting;
pub mod draft;
mod drawn;
mod eye;
pub mod gesture;
mod grain;
mod grip;
mod handles;
pub mod hit;
pub mod letters;
mod overlay;
pub mod pen;
pub mod plane;
mod program;
mod snaps;
pub mod typed;

use std::sync::Arc;

use iced::widget::canvas::Cache;
use kurbo::{Point, Rect, Vec2};

use self::camera::Camera;
use self::carry::{Carry, Load};
use self::gesture::{Event, Gesture, Ground, Outcome};
pub(super) use self::grip::{depth_at, face_at, middle_of};
use self::handles::hole_load;
use self::typed::Typed;
use super::look::{Action, Look, id_of, name_of};
use super::making::outfitted;
use super::words;
use crate::drawing::{self, Item, Layer, Projection, Shape, Subject};
use crate::joint::Look as From;
use crate::sketch::arrange::Chosen;
use crate::unit::LengthUnit;
use crate::unit::length::MM_PER_INCH;

/// The grab zone round a thing, in pixels.
const REACH_PX: f64 = 9.0;
/// A press becomes a drag beyond so many pixels.
const SLOP_PX: f64 = 4.0;
/// A head is caught by a face within so many pixels.
const CATCH_PX: f64 = 7.0;
/// A corner of what is carried meets other things if it was so near to the press, in pixels.
const HOLD_PX: f64 = 60.0;
/// One notch of the wheel, or one key, makes everything so much larger.
const ZOOM_STEP: f64 = 1.2;

/// What the pane remembers.
#[derive(Debug, Default)]
pub struct Pane {
    /// From where the joint is looked at.
    pub view: From,
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
    /// Where what is placed lay against a face last, in the drawing plane.
    rested: Option<Point>,
    items: Vec<Item>,
    /// What has no room in the pane and is not drawn.
    left_out: &'static [Layer],
    /// The scale and the part of the paper that the items were drawn for.
    drawn: (f64, Rect),
    /// What else they were drawn for.
    drawn_of: Option<Drawn>,
    overlay_items: Vec<Item>,
    /// What can be met, of the joint as it is kept.
    snaps: snaps::Snaps,
    scene: Cache,
    /// Where the origin of the paper lay when that was painted, in pixels.
    painted_at: Point,
    /// Another number whenever the drawing is painted anew, and the same of what lies over it.
    painted: (u64, u64),
    overlay: Cache,
}

/// What a picture is of, besides the place of the eye: of the same it need not be drawn again.
#[derive(Clone, Debug, PartialEq)]
struct Drawn {
    picture: u64,
    projection: Projection,
    left_out: &'static [Layer],
    dark: bool,
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
    /// The plane that cuts this view is wanted, or no longer.
    CutPressed,
    /// A button of the bar above was pressed.
    Asked(super::look::Command),
}

impl Pane {
    /// What is asked for by what happened.
    pub fn update(&mut self, message: &Message, look: &Look<'_>) -> Action {
        let action = match message {
            Message::Resized(width, height) => {
                // What is pointed at stays under the pointer: the pane of cores comes with the first fastener that is shown.
                let is_busy = self.is_busy() || look.making.is_some() || look.driving.is_some();
                if is_busy {
                    self.camera.resize_below((*width, *height));
                } else {
                    self.camera.viewport_px = (*width, *height);
                }
                if self.camera.fitted && !is_busy {
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
                self.rest(look)
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
            Message::CutPressed => Action::Cut(cutting::toggled(look.cuts, self.view, look)),
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
        if let Some(of) = self.cut_under(at, look) {
            self.gesture = Gesture::Cutting { of };
            return Action::None;
        }
        if look.making.is_some() {
            return self.draw(&Event::Pressed(from), look);
        }
        if let Some(spec) = look.driving {
            let held = grip::new_fastener(spec, (from, self.view), &self.ground(look), look);
            self.gesture = Gesture::Driving { to: from, typed: Typed::for_turn(), held };
            return self.step(&Event::Moved(from), look);
        }
        if self.held.shift {
            self.gesture = Gesture::Boxing { from, to: from, more: true };
            return Action::None;
        }
        if let Some(it) = self.handle_under(at, look) {
            return self.take_handle(it, from, look);
        }
        if let Some(it) = self.grain_under(at, look) {
            return self.take_grain(it, from, look);
        }
        if let Some(held) = grip::under(at, (&self.camera, self.view), &self.items, look) {
            let pressed = Subject::Fastener(held.fastener.id.clone());
            if !look.also.is_empty() && look.all_chosen().any(|it| *it == pressed) {
                return self.take_up(pressed, from, look);
            }
            self.gesture = Gesture::Pressed { held, from };
            return Action::Choose(Some(pressed));
        }
        match self.subject_at(at) {
            Some(pressed) => self.take_up(pressed, from, look),
            None => {
                self.gesture = Gesture::Boxing { from, to: from, more: false };
                Action::Choose(None)
            }
        }
    }

    /// Whether a hand is in the middle of something here.
    #[must_use]
    pub fn is_busy(&self) -> bool {
        let begun = match &self.gesture {
            Gesture::Idle => false,
            Gesture::Drawing(draft) => !draft.corners.is_empty(),
            Gesture::Pressed { .. }
            | Gesture::Moving { .. }
            | Gesture::Turning { .. }
            | Gesture::Driving { .. }
            | Gesture::Carrying(_)
            | Gesture::Cutting { .. }
            | Gesture::Boxing { .. } => true,
        };
        begun || self.panning.is_some()
    }

    /// What is drawn at a pixel.
    fn subject_at(&self, at: Point) -> Option<Subject> {
        hit::at(&self.items, self.camera.on_paper(at), REACH_PX / camera::PX_PER_MM).cloned()
    }

    /// Takes hold of a thing, and of all that is chosen if it is one of them.
    fn take_up(&mut self, pressed: Subject, from: Point, look: &Look<'_>) -> Action {
        let with_all = look.all_chosen().any(|it| *it == pressed);
        let held = if with_all { look.chosen_ids() } else { vec![id_of(&pressed)] };
        let group = Chosen::of(look.joint, &held);
        let anchor = grip::lower_left(&group, self.view, look).unwrap_or(from);
        let typed = Typed::for_move(self.view);
        let reach_mm = HOLD_PX / self.camera.px_per_model_mm();
        let corner = self.snaps.own(&held, from, reach_mm, look).unwrap_or(anchor);
        let alone = !with_all || look.also.is_empty();
        let load = match &pressed {
            Subject::Hole(id, hole) if alone => hole_load(look.joint, id, hole),
            Subject::Dimension(at) if alone => Some(Load::Dimension(*at)),
            Subject::Member(_)
            | Subject::Connector(_)
            | Subject::Fastener(_)
            | Subject::Hole(..)
            | Subject::Dimension(_) => None,
        };
        let load = load.unwrap_or(Load::Things(held));
        self.gesture = Gesture::Carrying(Box::new(Carry {
            joint: Arc::new(look.joint.clone()),
            load,
            pressed: pressed.clone(),
            view: self.view,
            corner,
            anchor,
            from,
            to: from,
            moved: false,
            typed,
        }));
        if with_all { Action::None } else { Action::Choose(Some(pressed)) }
    }

    fn moved(&mut self, at: Point, look: &Look<'_>) -> Action {
        self.pointer = Some(at);
        if let Some(from) = self.panning {
            self.camera.pan(at - from);
            self.panning = Some(at);
            self.repaint();
            return Action::None;
        }
        if let Gesture::Cutting { of } = self.gesture {
            let cut = self.cut_at(of, self.camera.in_model(at), &self.ground(look), look);
            return Action::Cut(look.cuts.with(of, Some(cut)));
        }
        self.step(&Event::Moved(self.camera.in_model(at)), look)
    }

    fn released(&mut self, at: Point, look: &Look<'_>) -> Action {
        if self.panning.take().is_some() {
            return Action::None;
        }
        if matches!(self.gesture, Gesture::Cutting { .. }) {
            self.gesture = Gesture::Idle;
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
        self.repaint();
    }

    /// One step of the gesture, and what is asked for by it.
    pub fn step(&mut self, event: &Event, look: &Look<'_>) -> Action {
        if look.making.is_some() {
            return self.draw(event, look);
        }
        if let (Gesture::Drawing(_), Some(spec)) = (&self.gesture, look.driving) {
            return self.aim(event, spec, look);
        }
        let ground = self.ground(look);
        if *event == Event::Confirmed && self.gesture.is_unreadable(&ground) {
            return Action::Say(
                "What is typed here cannot be read: Backspace takes it back, Esc gives it up.".into(),
            );
        }
        let before = std::mem::take(&mut self.gesture);
        let driving = matches!(before, Gesture::Driving { .. });
        let what = words_of(&before, look);
        let new_id = new_id(&before);
        let clicked = clicked(&before);
        let (after, outcome) = gesture::step(before, event, &ground);
        self.gesture = after;
        self.lay_over(look);
        let driven = look.driving.filter(|_| driving);
        let outfit = |edit| match driven {
            Some(spec) => outfitted(edit, spec, look),
            None => edit,
        };
        match outcome {
            Outcome::Nothing => Action::None,
            Outcome::Clicked => match clicked {
                Some(Clicked::On(subject)) => Action::Choose(Some(subject)),
                Some(Clicked::More(at)) => {
                    self.subject_at(self.camera.on_screen(at)).map_or(Action::None, Action::Toggle)
                }
                None => Action::None,
            },
            Outcome::Boxed(area, more) => self.choose_in(area, more, look),
            Outcome::Preview(edit) => Action::Preview("Drag".into(), outfit(edit)),
            Outcome::Done(verb, edit) if driving => Action::All(vec![
                Action::Keep(format!("{verb} {what}"), outfit(edit)),
                Action::Drive(None),
                Action::Choose(new_id.map(Subject::Fastener)),
            ]),
            Outcome::Done(verb, edit) => Action::Keep(format!("{verb} {what}"), edit),
            Outcome::Dropped => Action::DropPreview,
        }
    }

    /// Chooses everything that is drawn wholly inside an area of the drawing plane.
    fn choose_in(&self, area: Rect, more: bool, look: &Look<'_>) -> Action {
        let view = self.camera.view();
        let corner = |x: f64, y: f64| view.on_paper(crate::unit::Vec3::new(x, y, 0.0));
        let box_on_paper = Rect::from_points(corner(area.x0, area.y0), corner(area.x1, area.y1));
        let mut inside: Vec<Subject> = if more { look.all_chosen().cloned().collect() } else { Vec::new() };
        let found = hit::wholly_inside(&self.items, box_on_paper);
        inside
            .extend(found.into_iter().filter(|it| !matches!(it, Subject::Hole(..) | Subject::Dimension(_))));
        inside.sort();
        inside.dedup();
        Action::ChooseAll(inside)
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
            faces: plane::faces(self.view, &look.kept.trace),
            met: self.met(look),
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

    /// A place of the model on the paper of this view.
    fn on_paper(&self, place: crate::unit::Vec3) -> Point {
        self.camera.view().on_paper(self.view.turned(place))
    }

    /// Makes the drawing anew where it is another one; asked for whenever the joint, the choice or the colours change.
    pub fn draw_again(&mut self, look: &Look<'_>) {
        // A screen's width more on every side, so that a little panning needs no new drawing.
        let shown = self.camera.shown_on_paper();
        let seen = shown.inflate(shown.width(), shown.height());
        self.snaps.renew(self.view, look);
        let projection = look.cuts.projection(self.view);
        let (picture, left_out, dark) = (look.picture, self.left_out, look.colours.dark);
        let of = Drawn { picture, projection, left_out, dark };
        if self.drawn_of.as_ref() == Some(&of) && self.is_drawn() {
            if self.painted_at != self.camera.paper_origin_px() {
                self.repaint();
            }
            return self.lay_over(look);
        }
        self.drawn_of = Some(of);
        self.items = drawing::view(&look.inputs(), &projection, &self.camera.view(), Some(seen));
        self.items.retain(|it| !self.left_out.contains(&it.layer));
        self.drawn = (self.camera.scale, seen);
        self.repaint();
        self.lay_over(look);
    }

    fn draw_if_needed(&mut self, look: &Look<'_>) {
        if !self.is_drawn() {
            self.draw_again(look);
        }
    }

    /// Whether what is drawn has the scale of the eye and holds all that it sees.
    fn is_drawn(&self) -> bool {
        let (scale, seen) = self.drawn;
        scale.to_bits() == self.camera.scale.to_bits() && seen.union(self.camera.shown_on_paper()) == seen
    }

    /// Nothing that is painted can be used again: the eye, the drawing or the colours have changed.
    fn repaint(&mut self) {
        self.scene.clear();
        self.painted_at = self.camera.paper_origin_px();
        self.painted.0 += 1;
        self.repaint_over();
    }

    fn repaint_over(&mut self) {
        self.overlay.clear();
        self.painted.1 += 1;
    }

    fn lay_over(&mut self, look: &Look<'_>) {
        let items = overlay::items(self, look);
        if items != self.overlay_items {
            self.overlay_items = items;
            self.repaint_over();
        }
    }

    /// The words that lie over the drawing now: what is typed, what was met.
    #[must_use]
    pub fn told(&self) -> Vec<&str> {
        let words = self.overlay_items.iter().map(|it| match &it.shape {
            Shape::Text { words, .. } => words.as_str(),
            Shape::Path { .. } => "",
        });
        words.filter(|it| !it.is_empty()).collect()
    }

    /// Where the pointer is, in words.
    #[must_use]
    pub fn pointer_words(&self, unit: LengthUnit) -> String {
        let place = |it: Point| {
            let ((across, u), (up, v)) = match self.view {
                From::Front => (("x", it.x), ("y", it.y)),
                From::Side => (("depth", -it.x), ("y", it.y)),
                From::Top => (("x", it.x), ("depth", -it.y)),
            };
            format!("{across} {}  {up} {}", words::size(u, unit), words::size(v, unit))
        };
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

/// What a click, as against a drag, chooses.
enum Clicked {
    /// This alone.
    On(Subject),
    /// What lies at this place, besides what is chosen.
    More(Point),
}

fn clicked(gesture: &Gesture) -> Option<Clicked> {
    match gesture {
        Gesture::Carrying(carry) => Some(Clicked::On(carry.pressed.clone())),
        Gesture::Boxing { from, more: true, .. } => Some(Clicked::More(*from)),
        Gesture::Boxing { .. }
        | Gesture::Idle
        | Gesture::Pressed { .. }
        | Gesture::Moving { .. }
        | Gesture::Turning { .. }
        | Gesture::Drawing(_)
        | Gesture::Cutting { .. }
        | Gesture::Driving { .. } => None,
    }
}

/// What is in the hand, in words.
fn words_of(gesture: &Gesture, look: &Look<'_>) -> String {
    match gesture {
        Gesture::Carrying(carry) => match &carry.load {
            Load::Things(held) if held.len() != 1 => words::count(held.len(), "thing"),
            Load::Things(_) | Load::Handle(..) | Load::Grain(_) | Load::Hole(..) | Load::Dimension(_) => {
                name_of(look.joint, &carry.pressed)
            }
        },
        Gesture::Idle
        | Gesture::Pressed { .. }
        | Gesture::Moving { .. }
        | Gesture::Turning { .. }
        | Gesture::Driving { .. }
        | Gesture::Drawing(_)
        | Gesture::Cutting { .. }
        | Gesture::Boxing { .. } => {
            held(gesture).map_or(String::new(), |it| format!("fastener {}", it.at + 1))
        }
    }
}

fn new_id(gesture: &Gesture) -> Option<String> {
    held(gesture).map(|it| it.fastener.id.clone())
}

fn held(gesture: &Gesture) -> Option<&gesture::Held> {
    match gesture {
        Gesture::Idle
        | Gesture::Carrying(_)
        | Gesture::Drawing(_)
        | Gesture::Cutting { .. }
        | Gesture::Boxing { .. } => None,
        Gesture::Pressed { held, .. }
        | Gesture::Moving { held, .. }
        | Gesture::Turning { held, .. }
        | Gesture::Driving { held, .. } => Some(held),
    }
}
