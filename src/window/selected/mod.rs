//! The pane of what is chosen: its numbers, as fields that can be edited.
//!
//! Typed text stays text until it reads as a number; then the joint is shown with it, and Enter keeps it.

pub mod arrange;
mod asked;
pub(crate) mod carries;
mod connector;
mod dimension;
pub(super) mod fastener;
pub mod field;
mod joint;
mod loads;
pub(super) mod member;
mod named;
mod rating;
mod rows;
mod several;
mod shank;

use iced::widget::{button, column, container, row, text};
use iced::{Alignment, Length};

use self::arrange::{Arranging, Done, Size};
use self::field::{Field, NameField};
use super::carries::Told;
use super::look::{Action, Command, Look};
use super::theme::{self, Element, control, gap, parts, piece, text_px};
use crate::drawing::{Subject, mark_of};
use crate::findings::{self, Measure};
use crate::joint::Edit;

/// What the pane remembers: the field that is being typed in.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Pane {
    typing: Option<Typing>,
    /// The measures of the chosen fastener, and the picture and the fastener that they are of.
    measures: Option<(u64, usize, Vec<Measure>)>,
    /// The side of the pane with what can be arranged.
    pub(super) arranging: Arranging,
}

/// A field while it is typed in.
#[derive(Clone, Debug, PartialEq)]
pub struct Typing {
    /// Which field.
    pub field: Field,
    /// The text as it stands.
    pub text: String,
    /// Why it cannot be taken, in words.
    pub error: Option<String>,
    /// A step that is done only when the typing ends: while an id is typed nothing has it.
    later: Option<(String, Edit)>,
}

/// What happened in the pane.
#[derive(Clone, Debug, PartialEq)]
pub enum Message {
    /// A field has another text.
    Typed(Field, String),
    /// Enter was pressed in a field.
    Entered(Field),
    /// Something was picked or ticked: the step's name and its edit.
    Picked(String, Edit),
    /// A thing was pressed.
    ThingPressed(Subject),
    /// A button was pressed.
    Pressed(Command),
    /// A field of the side with what can be arranged has another text.
    ArrangeTyped(Size, String),
    /// A button of that side was pressed, or Enter in a field of it.
    Arranged(Done),
}

impl Pane {
    /// What is asked for by what happened.
    pub fn update(&mut self, message: Message, look: &Look<'_>) -> Action {
        match message {
            Message::Typed(field, text) => self.typed(field, text, look),
            Message::Entered(field) => self.entered(&field, look),
            Message::Picked(name, edit) => Action::All(vec![self.settle(), Action::Keep(name, edit)]),
            Message::ThingPressed(subject) => Action::Show(Some(subject), None),
            Message::Pressed(command) => Action::Do(command),
            Message::ArrangeTyped(size, text) => self.arranging.typed(size, text, look),
            Message::Arranged(done) => self.arranging.done(done, look),
        }
    }

    /// Takes the measures of the chosen fastener anew where they are others.
    pub fn refresh(&mut self, look: &Look<'_>) {
        let chosen = look.chosen_fastener();
        if self.measures.as_ref().map(|it| (it.0, it.1)) != chosen.map(|it| (look.picture, it)) {
            let measured = |n| (look.picture, n, findings::measures(look.joint, look.trace, n));
            self.measures = chosen.map(measured);
        }
    }

    fn typed(&mut self, field: Field, text: String, look: &Look<'_>) -> Action {
        // Typing in another field keeps what was typed in the one before.
        let before = match &self.typing {
            Some(typing) if typing.field != field => self.settle(),
            Some(_) | None => Action::None,
        };
        let is_id = matches!(field, Field::Called(_, NameField::Id));
        let (error, later, then) = match field.write(&text, look) {
            Ok(step) if is_id => (None, Some(step), Action::DropPreview),
            Ok((name, edit)) => (None, None, Action::Preview(name, edit)),
            Err(words) => (Some(words), None, Action::DropPreview),
        };
        self.typing = Some(Typing { field, text, error, later });
        Action::All(vec![before, then])
    }

    fn entered(&mut self, field: &Field, look: &Look<'_>) -> Action {
        match &self.typing {
            Some(typing) if typing.field == *field && typing.error.is_some() => Action::None,
            Some(typing) if typing.field == *field => {
                let wanted = field.write(&typing.text, look);
                let then = if let Field::Called(subject, NameField::Id) = field {
                    Action::Choose(Some(named::called(subject, &typing.text)))
                } else {
                    Action::None
                };
                self.typing = None;
                match wanted {
                    Ok((name, edit)) => Action::All(vec![Action::Keep(name, edit), then]),
                    Err(_) => Action::DropPreview,
                }
            }
            Some(_) | None => Action::None,
        }
    }

    /// Ends the typing: what reads as a number is kept, what does not is dropped.
    #[must_use]
    pub fn settle(&mut self) -> Action {
        match self.typing.take() {
            Some(Typing { error: None, later: Some((name, edit)), .. }) => Action::Keep(name, edit),
            Some(Typing { error: None, .. }) => Action::KeepPreview,
            Some(Typing { error: Some(_), .. }) => Action::DropPreview,
            None => self.arranging.put_back(),
        }
    }

    /// Ends the typing and drops it. Whether there was any.
    pub fn cancel(&mut self) -> bool {
        let arranged = self.arranging.is_in_hand();
        let _ = self.arranging.put_back();
        self.typing.take().is_some() || arranged
    }

    /// The field that is being typed in.
    #[must_use]
    pub fn typing(&self) -> Option<&Typing> {
        self.typing.as_ref()
    }

    /// The first field of what is chosen.
    #[must_use]
    pub fn first_field(&self, look: &Look<'_>) -> Option<Field> {
        use self::field::{FastenerField, HoleField, JointField, MemberField, PlateField};
        Some(match look.chosen {
            Some(Subject::Fastener(id)) => {
                let at = look.chosen_fastener()?;
                let first = match look.joint.fasteners[at].place {
                    crate::joint::Placement::Free { .. } => FastenerField::HeadX,
                    crate::joint::Placement::Fills { .. } => FastenerField::Tilt,
                };
                Field::Fastener(id.clone(), first)
            }
            Some(Subject::Member(id)) => Field::Member(id.clone(), MemberField::Name),
            Some(Subject::Connector(id)) => Field::Plate(id.clone(), 0, PlateField::Thickness),
            Some(Subject::Hole(id, hole)) => Field::Hole(id.clone(), hole.clone(), HoleField::Along),
            // It is dragged; it has no field.
            Some(Subject::Dimension(_)) => return None,
            None => Field::Joint(JointField::Title),
        })
    }

    /// The name of the first field that is shown.
    #[must_use]
    pub fn first_field_name(&self, look: &Look<'_>) -> Option<String> {
        if self.arranging.is_shown {
            return look.chosen.map(|_| Size::Across.name());
        }
        self.first_field(look).map(|it| it.name())
    }

    /// The pane: the numbers of what is chosen, or what it carries where that was worked out.
    #[must_use]
    pub fn view<'a>(&'a self, told: Option<&'a Told>, look: &Look<'a>) -> Element<'a, Message> {
        let colours = look.colours;
        let content = match (told, look.chosen) {
            _ if self.arranging.is_shown => self.arranging.view(look),
            (None, Some(_)) if !look.also.is_empty() => several::view(look),
            (Some(told), _) => carries::view(self, told, look),
            (None, Some(Subject::Fastener(_))) => fastener::view(self, look),
            (None, Some(Subject::Member(id))) => member::view(self, id, look),
            (None, Some(Subject::Connector(id))) => connector::view(self, id, look),
            (None, Some(Subject::Hole(connector, hole))) => connector::hole_view(self, connector, hole, look),
            (None, Some(Subject::Dimension(at))) => dimension::view(*at, look),
            (None, None) => joint::view(self, look),
        };
        let inside =
            container(content).padding(iced::Padding::default().right(gap::PANE)).width(Length::Fill);
        let shown = (self.arranging.is_shown, told.is_some(), look.chosen.map(std::mem::discriminant));
        column![
            container(head(self.arranging.is_shown, told.is_some(), look))
                .padding(iced::Padding::default().right(gap::PANE)),
            parts::scroll_of(shown, piece(inside, look.version), colours),
        ]
        .spacing(gap::ROW)
        .into()
    }
}

/// The head of the pane: what is chosen, and which side of it is shown.
fn head<'a>(on_arrange: bool, on_carries: bool, look: &Look<'a>) -> Element<'a, Message> {
    let colours = look.colours;
    let small = |words: String| {
        text(words).size(text_px::SMALL).wrapping(text::Wrapping::None).style(control::words(colours.soft))
    };
    let tab = |words: &'static str, is_on: bool, command: Command| {
        let pressed = (!is_on).then_some(Message::Pressed(command));
        let face =
            button(text(words).size(text_px::SMALL).font(if is_on { theme::BOLD } else { theme::REGULAR }))
                .padding(gap::LINE)
                .style(control::line_button(colours, is_on))
                .on_press_maybe(pressed.clone());
        theme::reach(face, pressed, colours.accent)
    };
    // From either of the others the same that shows it takes it away again.
    let to_numbers = if on_arrange { Command::Arrange } else { Command::TurnCarries };
    row![
        small("SELECTED".to_owned()).font(theme::BOLD),
        container(small(chosen_words(look))).width(Length::Fill).clip(true),
        tab("Numbers", !on_arrange && !on_carries, to_numbers),
        tab("Carries", !on_arrange && on_carries, Command::TurnCarries),
        tab("Arrange", on_arrange, Command::Arrange),
    ]
    .spacing(gap::TIGHT)
    .align_y(Alignment::Center)
    .into()
}

/// What is chosen, in a word or two.
pub(crate) fn chosen_words(look: &Look<'_>) -> String {
    match look.chosen {
        Some(_) if !look.also.is_empty() => format!("{} things", look.also.len() + 1),
        Some(Subject::Fastener(id)) => {
            mark_of(look.joint, id).map_or(id.clone(), |it| format!("fastener {it}"))
        }
        Some(Subject::Member(id) | Subject::Connector(id)) => id.clone(),
        Some(Subject::Hole(connector, hole)) => format!("{connector}/{hole}"),
        Some(Subject::Dimension(at)) => format!("dimension {}", at + 1),
        None => "the joint".to_owned(),
    }
}
