//! How what is chosen can be arranged: copies in rows, turned and mirrored, brought into line, spread evenly.

use std::collections::BTreeMap;

use iced::widget::{column, row, text, text_input};
use iced::{Alignment, Length};

use super::Message as PaneMessage;
use super::rows::{Rows, head, press, rows};
use crate::joint::Edit;
use crate::sketch::arrange::align::{Along, Line};
use crate::sketch::arrange::{around, copied, grid, moved};
use crate::sketch::motion::Motion;
use crate::trace::Owner;
use crate::unit::{LengthUnit, Vec3};
use crate::window::canvas::gesture::clean;
use crate::window::canvas::middle_of;
use crate::window::look::{Action, Command, Look};
use crate::window::theme::{self, Element, control, gap, parts, text_px};
use crate::window::words;

/// A field of this side of the pane.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Size {
    /// How many stand in a row from left to right, the original among them.
    Across,
    /// From one to the next, to the right.
    AcrossBy,
    /// How many stand in a row upward.
    Up,
    /// From one to the next, upward.
    UpBy,
    /// How many stand in a row in depth.
    Near,
    /// From one to the next, towards the viewer.
    NearBy,
    /// Degrees of a turn, anticlockwise.
    Turn,
    /// How many stand round a place, the original among them.
    Ring,
    /// Degrees from one to the next, anticlockwise.
    RingBy,
    /// The place that they stand round, to the right.
    RingX,
    /// The place that they stand round, upward.
    RingY,
}

impl Size {
    /// What it is without being typed.
    fn usual(self, unit: LengthUnit) -> String {
        match (self, unit) {
            (Self::Across, _) => "3".into(),
            (Self::Up | Self::Near, _) => "1".into(),
            (Self::Turn, _) => "90".into(),
            (Self::Ring, _) => "6".into(),
            // These follow from the count and from what is chosen.
            (Self::RingBy | Self::RingX | Self::RingY, _) => String::new(),
            (Self::AcrossBy | Self::UpBy | Self::NearBy, LengthUnit::Inch) => "4\"".into(),
            (Self::AcrossBy | Self::UpBy | Self::NearBy, LengthUnit::Millimetre) => "100 mm".into(),
        }
    }

    /// The name by which its field is found.
    #[must_use]
    pub fn name(self) -> String {
        format!("arrange {self:?}")
    }
}

/// What this side of the pane remembers.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Arranging {
    /// It is shown, and not the numbers.
    pub is_shown: bool,
    texts: BTreeMap<Size, String>,
    /// Copies are shown that are not kept yet.
    in_hand: bool,
}

/// What happened there.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Done {
    /// Copies are wanted, in rows.
    Copies,
    /// Copies are wanted, round a place.
    Ring,
    /// The turn is wanted.
    Turn,
    /// A copy is wanted, turned.
    TurnedCopy,
    /// A copy is wanted, mirrored left to right.
    MirroredCopy,
}

impl Arranging {
    fn text(&self, size: Size, look: &Look<'_>) -> String {
        if let Some(typed) = self.texts.get(&size) {
            return typed.clone();
        }
        let place = || ring_middle(look).unwrap_or_default();
        match size {
            // All the way round.
            Size::RingBy => match self.count(Size::Ring, look) {
                #[expect(clippy::cast_precision_loss, reason = "a count of copies")]
                Ok(count) => words::degrees(360.0 / count as f64),
                Err(_) => String::new(),
            },
            Size::RingX => words::exact(clean(place().x), look.unit()),
            Size::RingY => words::exact(clean(place().y), look.unit()),
            Size::Across
            | Size::AcrossBy
            | Size::Up
            | Size::UpBy
            | Size::Near
            | Size::NearBy
            | Size::Turn
            | Size::Ring => size.usual(look.unit()),
        }
    }

    /// A field has another text: the copies are shown as they would stand.
    pub(super) fn typed(&mut self, size: Size, text: String, look: &Look<'_>) -> Action {
        let _ = self.texts.insert(size, text);
        let copies = match size {
            Size::Turn => return Action::Again,
            Size::Ring | Size::RingBy | Size::RingX | Size::RingY => self.ring(look),
            Size::Across | Size::AcrossBy | Size::Up | Size::UpBy | Size::Near | Size::NearBy => {
                self.copies(look)
            }
        };
        match copies {
            Ok((name, edit, _)) => {
                self.in_hand = true;
                Action::Preview(name, edit)
            }
            Err(_) => self.put_back(),
        }
    }

    /// What was shown and not kept is no longer shown.
    pub(super) fn put_back(&mut self) -> Action {
        if std::mem::take(&mut self.in_hand) { Action::DropPreview } else { Action::None }
    }

    /// Whether copies are shown that are not kept yet.
    pub(super) fn is_in_hand(&self) -> bool {
        self.in_hand
    }

    /// Does what a button asks for.
    pub(super) fn done(&mut self, done: Done, look: &Look<'_>) -> Action {
        self.in_hand = false;
        let made = match done {
            Done::Copies => self.copies(look),
            Done::Ring => self.ring(look),
            Done::Turn => {
                return match self.turn(look).and_then(|it| {
                    let edit = moved(&look.kept.joint, &look.chosen_ids(), &it);
                    edit.map_err(|it| words::sentence(&it.to_string()))
                }) {
                    Ok(edit) => Action::Keep(format!("Turn {}", super::chosen_words(look)), edit),
                    Err(why) => Action::Say(why),
                };
            }
            Done::TurnedCopy => self.turn(look).and_then(|it| one_copy("Turned", it, look)),
            Done::MirroredCopy => {
                middle(look).and_then(|it| one_copy("Mirrored", Motion::mirror(it, 90.0), look))
            }
        };
        match made {
            Ok((name, edit, ids)) => {
                let mut all: Vec<_> = look.all_chosen().cloned().collect();
                // The copies can be asked for by their ids only once they are there.
                let joint = &look.kept.joint;
                let mut after = joint.clone();
                let _ = crate::joint::edit::apply(&mut after, &edit);
                let after = Look { joint: &after, ..*look };
                all.extend(ids.iter().filter_map(|it| after.subject_of(it)));
                Action::All(vec![Action::Keep(name, edit), Action::ChooseAll(all)])
            }
            Err(why) => Action::Say(why),
        }
    }

    fn count(&self, size: Size, look: &Look<'_>) -> Result<usize, String> {
        let typed = self.text(size, look);
        let count = typed.trim().parse::<usize>().ok().filter(|it| (1..=1000).contains(it));
        count.ok_or_else(|| {
            format!("\u{201c}{}\u{201d} is no count. Type a whole number from 1 to 1000.", typed.trim())
        })
    }

    fn pitch(&self, size: Size, look: &Look<'_>) -> Result<f64, String> {
        words::length(&self.text(size, look), look.unit())
    }

    /// The copies in rows: the name of the step, the step, and the ids of what is new.
    fn copies(&self, look: &Look<'_>) -> Result<(String, Edit, Vec<String>), String> {
        let ways = [
            (self.count(Size::Across, look)?, Vec3::X * self.pitch(Size::AcrossBy, look)?),
            (self.count(Size::Up, look)?, Vec3::new(0.0, self.pitch(Size::UpBy, look)?, 0.0)),
            (self.count(Size::Near, look)?, Vec3::new(0.0, 0.0, self.pitch(Size::NearBy, look)?)),
        ];
        if ways.iter().any(|it| 1 < it.0 && it.1.length() < 1e-6) {
            return Err("Copies would lie on each other: type how far it is from one to the next.".into());
        }
        let motions = grid(&ways);
        if motions.is_empty() {
            return Err("One alone is what is there already: type how many there are to be.".into());
        }
        let (edit, ids) = copied(&look.kept.joint, &look.chosen_ids(), &motions)
            .map_err(|it| words::sentence(&it.to_string()))?;
        let name = format!("Copy {} {}", super::chosen_words(look), words::count(motions.len(), "time"));
        Ok((name, edit, ids))
    }

    /// The copies round a place: the name of the step, the step, and the ids of what is new.
    fn ring(&self, look: &Look<'_>) -> Result<(String, Edit, Vec<String>), String> {
        let count = self.count(Size::Ring, look)?;
        let typed = |it: Size| self.texts.contains_key(&it);
        #[expect(clippy::cast_precision_loss, reason = "a count of copies")]
        let even = 360.0 / count as f64;
        // What was not typed is not what its text rounds it to.
        let step = if typed(Size::RingBy) { words::angle(&self.text(Size::RingBy, look))? } else { even };
        let (x, y) = (self.pitch(Size::RingX, look)?, self.pitch(Size::RingY, look)?);
        let middle = ring_middle(look)?;
        let about = kurbo::Point::new(
            if typed(Size::RingX) { x } else { middle.x },
            if typed(Size::RingY) { y } else { middle.y },
        );
        if count < 2 {
            return Err("One alone is what is there already: type how many there are to be.".into());
        }
        let is_round =
            |turns: f64| (step * turns).rem_euclid(360.0).min((-step * turns).rem_euclid(360.0)) < 1e-6;
        #[expect(clippy::cast_precision_loss, reason = "a count of copies")]
        if (1..count).any(|it| is_round(it as f64)) {
            return Err(
                "Copies would lie on each other: type fewer, or fewer degrees from one to the next.".into()
            );
        }
        let own = middle_of(&look.chosen_group(), look);
        if look.chosen_fastener().is_some() && own.is_some_and(|it| (it - about).hypot() < 1e-6) {
            return Err("Copies would lie on each other: type the place that they go round.".into());
        }
        let (edit, ids) = copied(&look.kept.joint, &look.chosen_ids(), &around(about, count, step))
            .map_err(|it| words::sentence(&it.to_string()))?;
        let times = words::count(count - 1, "time");
        Ok((format!("Copy {} {times} round a place", super::chosen_words(look)), edit, ids))
    }

    fn turn(&self, look: &Look<'_>) -> Result<Motion, String> {
        let degrees = words::angle(&self.text(Size::Turn, look))?;
        middle(look).map(|it| Motion::turn(it, degrees))
    }

    /// This side of the pane.
    pub(super) fn view<'a>(&'a self, look: &Look<'a>) -> Element<'a, PaneMessage> {
        let colours = look.colours;
        let count = look.all_chosen().count();
        if count == 0 {
            return parts::soft(
                "Choose first what is to be arranged: press it, or draw a box round several.",
                colours,
            );
        }
        let told = self.copies(look);
        let button = match &told {
            Ok((_, _, ids)) => format!("Make {}", words::count(ids.len(), "new thing")),
            Err(_) => "Make the copies".to_owned(),
        };
        let below = match told {
            Ok(_) => parts::soft("As seen from the front; minus goes to the left, down and away.", colours),
            Err(why) => text(why).size(text_px::SMALL).style(control::words(colours.fault)).into(),
        };
        rows()
            .push(head("Copies in rows", colours))
            .push(self.way("Across", (Size::Across, Size::AcrossBy), look))
            .push(self.way("Upward", (Size::Up, Size::UpBy), look))
            .push(self.way("In depth", (Size::Near, Size::NearBy), look))
            .push(below)
            .push(done(button, Done::Copies, look))
            .push(head("Copies round a place", colours))
            .push(self.ringed(look))
            .push(head("Turn and mirror", colours))
            .push(self.turning(look))
            .push(lines(count, look))
            .into()
    }

    /// How many in one way, and how far apart.
    fn way<'a>(
        &self,
        label: &'a str,
        (count, by): (Size, Size),
        look: &Look<'a>,
    ) -> Element<'a, PaneMessage> {
        let colours = look.colours;
        row![
            parts::label(label, colours),
            self.field(count, Done::Copies, look).width(Length::Fixed(44.0)),
            text("every").size(text_px::BODY).style(control::words(colours.soft)),
            self.field(by, Done::Copies, look).width(Length::Fill),
        ]
        .spacing(gap::TIGHT)
        .align_y(Alignment::Center)
        .into()
    }

    fn field<'a>(
        &self,
        size: Size,
        entered: Done,
        look: &Look<'a>,
    ) -> iced::widget::TextInput<'a, PaneMessage> {
        text_input("", &self.text(size, look))
            .id(iced::widget::Id::from(size.name()))
            .size(text_px::BODY)
            .padding(gap::CONTROL)
            .style(control::field(look.colours, false))
            .on_submit(PaneMessage::Arranged(entered))
            .on_input(move |it| PaneMessage::ArrangeTyped(size, it))
    }

    fn ringed<'a>(&self, look: &Look<'a>) -> Element<'a, PaneMessage> {
        let colours = look.colours;
        let soft = |it: &'static str| text(it).size(text_px::BODY).style(control::words(colours.soft));
        let place = row![
            parts::label("About x, y", colours),
            self.field(Size::RingX, Done::Ring, look).width(Length::Fill),
            self.field(Size::RingY, Done::Ring, look).width(Length::Fill),
        ];
        let many = row![
            parts::label("In all", colours),
            self.field(Size::Ring, Done::Ring, look).width(Length::Fixed(44.0)),
            soft("every"),
            self.field(Size::RingBy, Done::Ring, look).width(Length::Fill),
        ];
        let told = self.ring(look);
        let button = match &told {
            Ok((_, _, ids)) => format!("Make {} round it", words::count(ids.len(), "new thing")),
            Err(_) => "Make the ring".to_owned(),
        };
        let below: Element<'a, PaneMessage> = match told {
            Ok(_) => parts::soft("Degrees anticlockwise, as seen from the front.", colours),
            Err(why) => text(why).size(text_px::SMALL).style(control::words(colours.fault)).into(),
        };
        column![
            many.spacing(gap::TIGHT).align_y(Alignment::Center),
            place.spacing(gap::TIGHT).align_y(Alignment::Center),
            below,
            done(button, Done::Ring, look),
        ]
        .spacing(gap::TIGHT)
        .into()
    }

    fn turning<'a>(&self, look: &Look<'a>) -> Element<'a, PaneMessage> {
        let colours = look.colours;
        let angle = row![
            parts::label("Degrees", colours),
            self.field(Size::Turn, Done::Turn, look).width(Length::Fill),
        ]
        .spacing(gap::TIGHT)
        .align_y(Alignment::Center);
        column![
            angle,
            row![
                done("Turn".into(), Done::Turn, look),
                done("Turned copy".into(), Done::TurnedCopy, look),
                done("Mirrored copy".into(), Done::MirroredCopy, look),
            ]
            .spacing(gap::ROW)
            .wrap(),
            row![
                press("Mirror left to right", Command::Mirror, colours),
                press("Top to bottom", Command::MirrorUpsideDown, colours),
            ]
            .spacing(gap::ROW)
            .wrap(),
        ]
        .spacing(gap::TIGHT)
        .into()
    }
}

/// Into line, and evenly spread.
fn lines<'a>(count: usize, look: &Look<'a>) -> Rows<'a> {
    let colours = look.colours;
    let trio = |all: [(&'a str, Command); 3]| {
        row(all.map(|(words, command)| press(words, command, colours))).spacing(gap::ROW).wrap()
    };
    let mut list = rows().push(head("Line up", colours));
    if count < 2 {
        return list.push(parts::soft(
            "Choose two things or more: Shift and a press, or a box round them.",
            colours,
        ));
    }
    list = list
        .push(trio([
            ("Left sides", Command::Align(Line::Left)),
            ("Middles", Command::Align(Line::Centre)),
            ("Right sides", Command::Align(Line::Right)),
        ]))
        .push(trio([
            ("Tops", Command::Align(Line::Top)),
            ("Middles, level", Command::Align(Line::Middle)),
            ("Bottoms", Command::Align(Line::Bottom)),
        ]))
        .push(head("Spread evenly", colours));
    if count < 3 {
        return list.push(parts::soft("Three things or more; the outermost two stay.", colours));
    }
    list.push(
        row![
            press("Spread across", Command::Spread(Along::X), colours),
            press("Spread upward", Command::Spread(Along::Y), colours),
        ]
        .spacing(gap::ROW),
    )
}

fn done<'a>(words: String, done: Done, look: &Look<'a>) -> Element<'a, PaneMessage> {
    let face = iced::widget::button(text(words).size(text_px::SMALL))
        .padding(gap::CONTROL)
        .style(control::plain_button(look.colours))
        .on_press(PaneMessage::Arranged(done));
    theme::reach(face, Some(PaneMessage::Arranged(done)), look.colours.accent)
}

fn middle(look: &Look<'_>) -> Result<kurbo::Point, String> {
    let at = middle_of(&look.chosen_group(), look);
    at.ok_or_else(|| "Choose first what is to be arranged.".into())
}

/// The place that copies go round unless another is typed: the middle of the body that is chosen with others or lies
/// under the chosen thing.
fn ring_middle(look: &Look<'_>) -> Result<kurbo::Point, String> {
    let own = middle(look)?;
    let chosen = look.chosen_group();
    let is_other = |it: &&crate::trace::Body| match it.owner {
        Owner::Member(n) => !chosen.members.contains(&n),
        Owner::Plate { connector, .. } => !chosen.connectors.contains(&connector),
    };
    let under = look.kept.trace.bodies.iter().rev().filter(is_other).find(|it| it.region.contains(own));
    Ok(under.map_or(own, |it| it.region.bounds().center()))
}

fn one_copy(how: &str, motion: Motion, look: &Look<'_>) -> Result<(String, Edit, Vec<String>), String> {
    let (edit, ids) = copied(&look.kept.joint, &look.chosen_ids(), &[motion])
        .map_err(|it| words::sentence(&it.to_string()))?;
    Ok((format!("{how} copy of {}", super::chosen_words(look)), edit, ids))
}
