//! The pane below: the core of every fastener as a strip. A press on a strip chooses its fastener.

use std::collections::HashSet;
use std::ops::Range;

use iced::widget::canvas::{self, Cache, Canvas, Geometry};
use iced::widget::container;
use iced::{Event, Length, Rectangle, Renderer, Theme, mouse};
use kurbo::Point;

use super::canvas::camera::PX_PER_MM;
use super::canvas::{hit, letters, pen};
use super::look::{Action, Judgement, Look};
use super::part;
use super::theme::{Colours, Element, gap, parts, piece};
use crate::drawing::{self, Inputs, Item};
use crate::findings::{Finding, Findings};

/// What the pane remembers: its items for the width that it has.
#[derive(Debug, Default)]
pub struct Pane {
    width_px: f64,
    items: Vec<Item>,
    height_px: f64,
    /// The fasteners that are shown, by their places.
    part: Range<usize>,
    dark: bool,
    cache: Cache,
    /// Another number whenever they are painted anew.
    painted: u64,
}

/// What happened in the pane.
#[derive(Clone, Debug, PartialEq)]
pub enum Message {
    /// It has another width.
    Resized(f64),
    /// It was pressed at this place on its paper.
    Pressed(Point),
}

/// Paper above the first strip, so that the line of its mark is whole.
const ABOVE_MM: f64 = 0.6;

/// The grab zone round a thing, in pixels.
const REACH_PX: f64 = 8.0;

impl Pane {
    /// What is asked for by what happened.
    pub fn update(&mut self, message: &Message, look: &Look<'_>) -> Action {
        match message {
            Message::Resized(width) => {
                self.width_px = *width;
                self.draw_again(look);
                Action::None
            }
            Message::Pressed(at) => hit::at(&self.items, *at, REACH_PX / PX_PER_MM)
                .map_or(Action::None, |it| Action::Show(Some(it.clone()), None)),
        }
    }

    /// Makes the strips anew; asked for whenever the joint, the choice or the colours change.
    pub fn draw_again(&mut self, look: &Look<'_>) {
        let chosen = look.chosen_fastener();
        self.part = part::part(look.joint.fasteners.len(), chosen);
        let which: Vec<usize> = self.part.clone().collect();
        let width_mm = (self.width_px / PX_PER_MM).max(60.0);
        let dark = look.colours.dark;
        let findings = self.findings_of_part(look);
        let inputs = Inputs { findings: findings.as_ref().unwrap_or(look.findings), ..look.inputs() };
        let items = drawing::cores(&inputs, &which, Point::new(0.0, ABOVE_MM), width_mm);
        if items == self.items && dark == self.dark {
            return;
        }
        (self.items, self.dark) = (items, dark);
        let bottom = self.items.iter().map(|it| hit::bounds(&it.shape).y1).fold(0.0, f64::max);
        self.height_px = bottom * PX_PER_MM + 4.0;
        self.cache.clear();
        self.painted += 1;
    }

    /// What was found of the fasteners that are shown; `None` where they are all of them.
    fn findings_of_part(&self, look: &Look<'_>) -> Option<Findings> {
        let fasteners = &look.joint.fasteners;
        if self.part.len() == fasteners.len() {
            return None;
        }
        let ids: HashSet<&str> = fasteners[self.part.clone()].iter().map(|it| it.id.as_str()).collect();
        let is_shown = |it: &&Finding| it.subjects.first().is_some_and(|it| ids.contains(it.as_str()));
        let list = look.findings.list.iter().filter(is_shown).cloned().collect();
        Some(Findings { list, not_checked: Vec::new() })
    }

    /// Which cores are shown, and how far they are judged: the words at the right of the head.
    #[must_use]
    pub fn words(&self, look: &Look<'_>) -> String {
        let all = look.joint.fasteners.len();
        let which = if self.part.len() < all {
            format!("No. {} to {} of {all}", self.part.start + 1, self.part.end)
        } else {
            "what each shank passes through, from its head".to_owned()
        };
        if look.judgement == Judgement::Done { which } else { format!("{which}; {}", look.judgement.word()) }
    }

    /// The height that the strips want, in pixels.
    #[must_use]
    pub fn height_px(&self) -> f64 {
        self.height_px
    }

    /// The strips.
    #[must_use]
    pub fn view<'a>(&'a self, look: &Look<'a>) -> Element<'a, Message> {
        let colours = look.colours;
        if look.joint.fasteners.is_empty() {
            return parts::soft(
                "Every fastener that is driven shows here what its shank passes through.",
                colours,
            );
        }
        let strips = Canvas::new(Strips { pane: self, colours })
            .width(Length::Fill)
            .height(pen::short(self.height_px.max(20.0)));
        let strips = letters::on(strips, self.items.as_slice(), Point::ORIGIN, colours);
        let strips = piece(strips, self.painted);
        parts::scroll(container(strips).padding(iced::Padding::default().right(gap::PANE)), colours).into()
    }
}

struct Strips<'a> {
    pane: &'a Pane,
    colours: &'static Colours,
}

impl canvas::Program<Message> for Strips<'_> {
    type State = ();

    fn update(
        &self,
        _state: &mut (),
        event: &Event,
        bounds: Rectangle,
        cursor: mouse::Cursor,
    ) -> Option<canvas::Action<Message>> {
        if 0.5 < (f64::from(bounds.width) - self.pane.width_px).abs() {
            return Some(canvas::Action::publish(Message::Resized(f64::from(bounds.width))));
        }
        if let Event::Mouse(mouse::Event::ButtonPressed(mouse::Button::Left)) = event {
            let at = cursor.position_in(bounds)?;
            let at = Point::new(f64::from(at.x) / PX_PER_MM, f64::from(at.y) / PX_PER_MM);
            return Some(canvas::Action::publish(Message::Pressed(at)).and_capture());
        }
        None
    }

    fn draw(
        &self,
        _state: &(),
        renderer: &Renderer,
        _theme: &Theme,
        bounds: Rectangle,
        _cursor: mouse::Cursor,
    ) -> Vec<Geometry> {
        let painted = self.pane.cache.draw(renderer, bounds.size(), |frame| {
            let lay = pen::Lay::new(Point::ORIGIN, bounds);
            pen::paint(frame, &self.pane.items, &lay, pen::Words::Turned, self.colours);
        });
        vec![painted]
    }

    fn mouse_interaction(&self, _state: &(), bounds: Rectangle, cursor: mouse::Cursor) -> mouse::Interaction {
        let Some(at) = cursor.position_in(bounds) else { return mouse::Interaction::None };
        let at = Point::new(f64::from(at.x) / PX_PER_MM, f64::from(at.y) / PX_PER_MM);
        match hit::at(&self.pane.items, at, REACH_PX / PX_PER_MM) {
            Some(_) => mouse::Interaction::Pointer,
            None => mouse::Interaction::None,
        }
    }
}
