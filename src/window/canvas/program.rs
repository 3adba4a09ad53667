//! The canvas as a widget: routes events to messages and paints what the pane has made.

use iced::widget::canvas::{self, Canvas, Geometry};
use iced::widget::{button, center, column, container, row, space, stack, text};
use iced::{Alignment, Event, Length, Rectangle, Renderer, Theme, mouse};
use kurbo::Point;

use super::gesture::Gesture;
use super::{Message, Pane, grip, letters, pen, plane};
use crate::drawing::{self, Layer};
use crate::joint::Look as From;
use crate::window::look::{Command, Judgement, Look, Shown};
use crate::window::making::{Shape, Thing};
use crate::window::theme::{Colours, Element, control, gap, part_px, parts, piece, reach, text_px};

/// A view that is wider than this has room in its bar for the place of the pointer, in pixels.
const ROOM_FOR_PLACE_PX: f64 = 600.0;

impl Pane {
    /// The pane.
    #[must_use]
    pub fn view<'a>(&'a self, beside: bool, look: &Look<'a>) -> Element<'a, Message> {
        let colours = look.colours;
        let scene = Canvas::new(Scene { pane: self, look: *look }).width(Length::Fill).height(Length::Fill);
        let over = Canvas::new(Over { pane: self, look: *look }).width(Length::Fill).height(Length::Fill);
        let origin = self.camera.paper_origin_px();
        let scene = piece(letters::on(scene, self.items.as_slice(), origin, colours), self.painted.0);
        let over = piece(letters::on(over, self.overlay_items.as_slice(), origin, colours), self.painted.1);
        // Words on a canvas are clipped only in layers above the first one of a clipped stack.
        let is_empty = look.joint.members.is_empty() && look.joint.connectors.is_empty();
        let offers = if is_empty && look.making.is_none() && look.driving.is_none() && !beside {
            offers(colours)
        } else {
            space().into()
        };
        let paper = stack![space().width(Length::Fill).height(Length::Fill), scene, over, offers].clip(true);
        column![
            self.bar(beside, look),
            parts::rule(colours),
            container(paper).width(Length::Fill).height(Length::Fill).style(control::surface(colours.canvas)),
        ]
        .into()
    }

    /// What is to be known of the picture: it is not judged yet, or it shows more fasteners than can be numbered.
    fn word(&self, look: &Look<'_>) -> &'static str {
        let is_crowd = drawing::MOST_TOLD < look.joint.fasteners.len();
        let is_numbered = !is_crowd || self.items.iter().any(|it| it.layer == Layer::Marks);
        if look.judgement == Judgement::Done && !is_numbered {
            return "numbers when zoomed in";
        }
        look.judgement.word()
    }

    /// The scale and what changes it. Side by side the views have little room: what keys and the wheel do as well
    /// is left out.
    fn scales<'a>(&'a self, look: &Look<'a>) -> Element<'a, Message> {
        let press = |words: String, message| {
            let face = button(text(words).size(text_px::SMALL).wrapping(text::Wrapping::None))
                .padding(gap::LINE)
                .style(control::bare_button(look.colours, look.colours.text));
            reached(face, message, look.colours)
        };
        let scale = press(self.camera.scale_words(), Message::Asked(Command::TrueSize));
        let fit = press("Fit".into(), Message::Asked(Command::Fit));
        if look.shown == Shown::All {
            return row![scale, fit].into();
        }
        row![
            press(self.snap_words(look.unit()), Message::SnapPressed),
            press("\u{2013}".into(), Message::Asked(Command::ZoomOut)),
            scale,
            press("+".into(), Message::Asked(Command::ZoomIn)),
            fit,
        ]
        .into()
    }

    fn bar<'a>(&'a self, beside: bool, look: &Look<'a>) -> Element<'a, Message> {
        let colours = look.colours;
        let cut = button(
            text(match look.cuts.of(self.view) {
                Some(at) => format!("cut at {}", crate::window::words::size(at, look.unit())),
                None => "whole".to_owned(),
            })
            .size(text_px::SMALL)
            .wrapping(text::Wrapping::None),
        )
        .padding(gap::LINE)
        .style(control::line_button(colours, look.cuts.of(self.view).is_some()));
        let cut = reached(cut, Message::CutPressed, colours);
        let show = |words: &'a str, shown: Shown| -> Element<'a, Message> {
            let face = button(text(words).size(text_px::SMALL).wrapping(text::Wrapping::None))
                .padding(gap::LINE)
                .style(control::line_button(colours, look.shown == shown));
            reached(face, Message::Asked(Command::View(shown)), colours)
        };
        // Of three views the one above has the width of all.
        let has_views = if look.shown == Shown::All { self.view == From::Top } else { !beside };
        let views: Element<'a, Message> = if has_views {
            row![
                show("Front", Shown::One(From::Front)),
                show("Side", Shown::One(From::Side)),
                show("Top", Shown::One(From::Top)),
                show("All", Shown::All),
                space().width(gap::TIGHT),
            ]
            .into()
        } else {
            space().width(0.0).into()
        };
        let (all, right) = (look.shown == Shown::All, self.scales(look));
        // The place of the pointer has what is left: it never pushes the buttons out, and is not told by halves.
        let has_room = !all && ROOM_FOR_PLACE_PX < self.camera.viewport_px.0;
        let place = text(if has_room { self.pointer_words(look.unit()) } else { String::new() })
            .size(text_px::SMALL)
            .wrapping(text::Wrapping::None)
            .style(control::words(colours.soft));
        let bar = row![
            parts::part_head(plane::name(self.view), colours),
            parts::soft(self.word(look), colours),
            cut,
            container(place).width(Length::Fill).clip(true),
            views,
            right,
        ]
        .spacing(gap::TIGHT)
        .align_y(Alignment::Center);
        container(bar)
            .padding([gap::TIGHT, gap::PANE])
            .width(Length::Fill)
            .clip(true)
            .style(control::surface(colours.canvas))
            .into()
    }
}

/// What an empty joint can begin with.
fn offers<'a>(colours: &'static Colours) -> Element<'a, Message> {
    let offer = |words: &'a str, command| {
        let face = button(text(words).size(text_px::BODY))
            .padding(gap::CONTROL)
            .style(control::plain_button(colours));
        reached(face, Message::Asked(command), colours)
    };
    let row = row![
        offer("Start from a ready joint", Command::Starters),
        offer("Draw a rectangle", Command::Make(Thing::Member(Shape::Box))),
        offer("Open", Command::Open),
        offer("Recent files", Command::Recent),
    ]
    .spacing(gap::ROW);
    // Below the words that the overlay has in the middle.
    center(column![space().height(part_px::OFFERS), row.wrap()].align_x(Alignment::Center)).into()
}

/// A button that the keyboard comes to.
fn reached<'a>(
    face: button::Button<'a, Message, Theme, Renderer>,
    message: Message,
    colours: &'static Colours,
) -> Element<'a, Message> {
    reach(face.on_press(message.clone()), Some(message), colours.accent)
}

/// The drawing.
struct Scene<'a> {
    pane: &'a Pane,
    look: Look<'a>,
}

impl canvas::Program<Message> for Scene<'_> {
    type State = ();

    fn draw(
        &self,
        _state: &(),
        renderer: &Renderer,
        _theme: &Theme,
        bounds: Rectangle,
        _cursor: mouse::Cursor,
    ) -> Vec<Geometry> {
        let painted = self.pane.scene.draw(renderer, bounds.size(), |frame| {
            let lay = pen::Lay::new(self.pane.camera.paper_origin_px(), bounds);
            pen::paint(frame, &self.pane.items, &lay, pen::Words::Turned, self.look.colours);
        });
        vec![painted]
    }
}

/// Handles, and the hand.
struct Over<'a> {
    pane: &'a Pane,
    look: Look<'a>,
}

/// What the widget itself must remember, since several events may come before its messages are heeded.
#[derive(Default)]
struct Hand {
    /// Where the pointer was heard of last. The toolkit hands over the pointer's newest place with every event
    /// of a batch; on a slow machine a press would then land where the drag has got to meanwhile.
    heard: Option<iced::Point>,
    /// The pointer was inside when it was heard of last.
    inside: bool,
    /// A button was pressed inside and not let go.
    down: bool,
}

impl canvas::Program<Message> for Over<'_> {
    type State = Hand;

    fn update(
        &self,
        hand: &mut Hand,
        event: &Event,
        bounds: Rectangle,
        cursor: mouse::Cursor,
    ) -> Option<canvas::Action<Message>> {
        let size = (f64::from(bounds.width), f64::from(bounds.height));
        let known = self.pane.camera.viewport_px;
        // A button is never passed over for it: the next move or frame tells the size.
        let is_button =
            matches!(event, Event::Mouse(mouse::Event::ButtonPressed(_) | mouse::Event::ButtonReleased(_)));
        if !is_button && (0.5 < (size.0 - known.0).abs() || 0.5 < (size.1 - known.1).abs()) {
            return Some(canvas::Action::publish(Message::Resized(size.0, size.1)));
        }
        let Event::Mouse(event) = event else { return None };
        // A drag goes on outside the pane, so its place is not asked for inside the bounds.
        if let mouse::Event::CursorMoved { position } = event {
            hand.heard = Some(*position);
        }
        // There is none while something lies over the pane.
        let newest = cursor.position()?;
        let at = hand.heard.unwrap_or(newest);
        let anywhere = Point::new(f64::from(at.x - bounds.x), f64::from(at.y - bounds.y));
        let is_in = bounds.contains(at);
        // What is drawn press by press does not follow a pointer that is at work in another pane.
        let held = hand.down || self.pane.panning.is_some() || self.pane.gesture != Gesture::Idle;
        let follows = hand.down || self.pane.panning.is_some() || self.pane.gesture.is_held();
        let message = match event {
            mouse::Event::ButtonPressed(mouse::Button::Left) if is_in => Message::Pressed(anywhere),
            mouse::Event::ButtonPressed(mouse::Button::Middle) if is_in => Message::PressedMiddle(anywhere),
            mouse::Event::CursorMoved { .. } if is_in || follows => Message::Moved(anywhere),
            mouse::Event::CursorMoved { .. } if hand.inside => Message::Left,
            mouse::Event::ButtonReleased(_) if follows || (held && is_in) => Message::Released(anywhere),
            mouse::Event::WheelScrolled { delta } if is_in => {
                let (up, sideways) = notches(*delta);
                Message::Wheel(anywhere, up, sideways)
            }
            mouse::Event::CursorEntered
            | mouse::Event::CursorLeft
            | mouse::Event::CursorMoved { .. }
            | mouse::Event::ButtonPressed(_)
            | mouse::Event::ButtonReleased(_)
            | mouse::Event::WheelScrolled { .. } => return None,
        };
        hand.inside = is_in;
        hand.down = match event {
            mouse::Event::ButtonPressed(_) => true,
            mouse::Event::ButtonReleased(_) => false,
            mouse::Event::CursorEntered
            | mouse::Event::CursorLeft
            | mouse::Event::CursorMoved { .. }
            | mouse::Event::WheelScrolled { .. } => hand.down,
        };
        Some(canvas::Action::publish(message))
    }

    fn draw(
        &self,
        _state: &Hand,
        renderer: &Renderer,
        _theme: &Theme,
        bounds: Rectangle,
        _cursor: mouse::Cursor,
    ) -> Vec<Geometry> {
        let painted = self.pane.overlay.draw(renderer, bounds.size(), |frame| {
            let lay = pen::Lay::new(self.pane.camera.paper_origin_px(), bounds);
            pen::paint(frame, &self.pane.overlay_items, &lay, pen::Words::Turned, self.look.colours);
        });
        vec![painted]
    }

    fn mouse_interaction(
        &self,
        _state: &Hand,
        bounds: Rectangle,
        cursor: mouse::Cursor,
    ) -> mouse::Interaction {
        if self.pane.panning.is_some() || self.pane.gesture.is_dragging() {
            return mouse::Interaction::Grabbing;
        }
        let Some(at) = cursor.position_in(bounds) else { return mouse::Interaction::None };
        if self.pane.held.space {
            return mouse::Interaction::Grab;
        }
        if self.look.driving.is_some() || self.look.making.is_some() {
            return mouse::Interaction::Crosshair;
        }
        let at = Point::new(f64::from(at.x), f64::from(at.y));
        if self.pane.cut_under(at, &self.look).is_some() {
            return mouse::Interaction::Grab;
        }
        match grip::under(at, (&self.pane.camera, self.pane.view), &self.pane.items, &self.look) {
            Some(_) => mouse::Interaction::Grab,
            None => mouse::Interaction::None,
        }
    }
}

fn notches(delta: mouse::ScrollDelta) -> (f64, f64) {
    let (x, y) = match delta {
        mouse::ScrollDelta::Lines { x, y } => (x, y),
        mouse::ScrollDelta::Pixels { x, y } => (x / 40.0, y / 40.0),
    };
    (f64::from(y), f64::from(x))
}
