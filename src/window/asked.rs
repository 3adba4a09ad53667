//! Keys that no field took, and what they ask for beyond a word: panels, the keyboard's way, one level back.

use iced::keyboard::key::{Key, Named};
use iced::{Task, keyboard};

use super::canvas::gesture::{Event, Gesture};
use super::commands::next_field;
use super::dialog::{self, Dialog};
use super::look::{Action, Command};
use super::{App, Message, actions, keys, sheet, starters};

impl App {
    /// A key that no field took.
    pub(super) fn in_keys(&mut self, event: &keyboard::Event) -> Task<Message> {
        match event {
            keyboard::Event::ModifiersChanged(modifiers) => {
                self.canvas.held.shift = modifiers.shift();
                self.canvas.held.ctrl = modifiers.command();
            }
            keyboard::Event::KeyPressed { key: Key::Named(Named::Space), .. } => {
                // In the middle of a number it is a part of the number.
                let typing = self.canvas.gesture.typed().is_some_and(|it| !it.is_empty());
                self.canvas.held.space = !typing;
            }
            keyboard::Event::KeyReleased { key: Key::Named(Named::Space), .. } => {
                self.canvas.held.space = false;
            }
            keyboard::Event::KeyPressed { .. } | keyboard::Event::KeyReleased { .. } => {}
        }
        if self.dialog != Dialog::Closed {
            return self.key_in_dialog(keys::command(event));
        }
        if self.sheet.is_open() {
            return self.key_on_sheet(keys::command(event));
        }
        if self.starters.is_some() {
            return match keys::command(event) {
                Some(Command::Escape) => self.command(Command::Escape),
                Some(Command::NextFinding) => next_field(true),
                Some(Command::PreviousFinding) => next_field(false),
                Some(Command::Confirm) => self.in_starters(starters::Message::BeginPressed),
                Some(Command::Nudge(0, up)) => {
                    let wanted = self.starters.as_ref().map(|it| it.other(up < 0));
                    wanted.map_or(Task::none(), |it| self.in_starters(it))
                }
                Some(_) | None => Task::none(),
            };
        }
        if self.making.is_some() {
            if let Some(task) = self.key_in_making(event) {
                return task;
            }
        } else if self.canvas.gesture.is_dragging() || self.begins_to_aim(event) {
            return self.key_in_drag(event);
        }
        keys::command(event).map_or(Task::none(), |it| self.command(it))
    }

    fn key_in_dialog(&mut self, command: Option<Command>) -> Task<Message> {
        match (command, &self.dialog) {
            (Some(Command::Nudge(0, up)), Dialog::Actions { .. }) => self.mark_action(up < 0),
            (Some(Command::Nudge(0, up)), Dialog::Steps) => {
                self.command(Command::StepBack(if up < 0 { 1 } else { -1 }))
            }
            (Some(it @ (Command::Undo | Command::Redo)), Dialog::Steps) => self.command(it),
            (Some(Command::NextFinding), _) => next_field(true),
            (Some(Command::PreviousFinding), _) => next_field(false),
            (Some(Command::Escape), _) => self.in_dialog(dialog::Message::CancelPressed),
            (Some(Command::Confirm), Dialog::Unsaved(_)) => self.in_dialog(dialog::Message::SavePressed),
            (Some(Command::Confirm), Dialog::Recover(_)) => self.in_dialog(dialog::Message::OpenFound(0)),
            (Some(Command::Confirm), Dialog::Recent) => match self.recent().first().cloned() {
                Some(path) => self.in_dialog(dialog::Message::RecentPressed(path)),
                None => Task::none(),
            },
            (Some(Command::Confirm), Dialog::Path { .. }) => self.in_dialog(dialog::Message::PathEntered),
            (Some(Command::Confirm), Dialog::Problems { .. } | Dialog::Keys | Dialog::Steps) => {
                self.in_dialog(dialog::Message::CancelPressed)
            }
            _ => Task::none(),
        }
    }

    /// Whether a key begins a number that says where the head of a new fastener goes.
    fn begins_to_aim(&mut self, event: &keyboard::Event) -> bool {
        let keyboard::Event::KeyPressed { text, modifiers, .. } = event else { return false };
        let begins = |it: char| it.is_ascii_digit() || matches!(it, '-' | '=' | '.');
        let is_number = text.as_ref().and_then(|it| it.chars().next()).is_some_and(begins);
        let may = self.driving.is_some() && self.canvas.gesture == Gesture::Idle && !self.in_fields;
        let aims = may && is_number && !modifiers.command() && !modifiers.alt();
        if aims {
            self.canvas.begin_to_aim();
        }
        aims
    }

    /// While something is dragged, keys are numbers for the drag.
    fn key_in_drag(&mut self, event: &keyboard::Event) -> Task<Message> {
        let keyboard::Event::KeyPressed { key, text, .. } = event else { return Task::none() };
        let step = match key.as_ref() {
            Key::Named(Named::Escape) => Event::Cancelled,
            Key::Named(Named::Enter) => Event::Confirmed,
            Key::Named(Named::Tab) => Event::OtherNumber,
            Key::Named(Named::Backspace) => Event::Erased,
            Key::Named(Named::Space) => Event::Typed(' '),
            Key::Character(_) => match text.as_ref().and_then(|it| it.chars().next()) {
                Some(character) => Event::Typed(character),
                None => return Task::none(),
            },
            Key::Named(_) | Key::Unidentified => return Task::none(),
        };
        let action = self.with_look(|pane, look| pane.step(&step, look));
        self.act(action)
    }

    /// While something is made, digits are numbers for it and some letters turn it; `None` for a key that means what
    /// it always means.
    fn key_in_making(&mut self, event: &keyboard::Event) -> Option<Task<Message>> {
        let keyboard::Event::KeyPressed { key, text, modifiers, .. } = event else { return None };
        if modifiers.command() || modifiers.alt() || self.in_fields {
            return None;
        }
        let typing = self.canvas.gesture.typed().is_some_and(|it| !it.is_empty());
        let making = self.making.as_mut()?;
        let step = match key.as_ref() {
            Key::Named(Named::Enter) => Event::Confirmed,
            Key::Named(Named::Tab) => Event::OtherNumber,
            Key::Named(Named::Backspace) => Event::Erased,
            Key::Named(Named::Space) if typing => Event::Typed(' '),
            Key::Character(_) => {
                let character = text.as_ref().and_then(|it| it.chars().next())?;
                match character {
                    // Where nothing can be made of it a digit shows another view, as ever.
                    '1'..='4' if !making.can_stand_in(self.canvas.view) => return None,
                    ',' if !typing => making.turn(1),
                    '.' if !typing => making.turn(-1),
                    'c' | 'C' if !typing => making.hold_elsewhere(),
                    'a' | 'A' if !typing => {
                        if let Gesture::Drawing(draft) = &mut self.canvas.gesture {
                            draft.toggle_arc();
                        }
                    }
                    it if typing || it.is_ascii_digit() || it == '-' || it == '=' => {
                        let action = self.with_look(|pane, look| pane.draw(&Event::Typed(it), look));
                        return Some(self.act(action));
                    }
                    _ => return None,
                }
                return Some(self.act(Action::Redraft));
            }
            Key::Named(_) | Key::Unidentified => return None,
        };
        let action = self.with_look(|pane, look| pane.draw(&step, look));
        Some(self.act(action))
    }

    /// One level back.
    fn escape(&mut self) {
        if self.dialog != Dialog::Closed {
            self.dialog = Dialog::Closed;
            self.then = None;
        } else if self.sheet.cancel() {
            self.document.drop_preview();
            self.in_fields = false;
        } else if (self.sheet.is_open() && std::mem::take(&mut self.in_fields)) || self.sheet.close() {
            self.said = None;
        } else if let Some(said) = self.stop_errand() {
            self.said = Some(said);
            return;
        } else if self.stop_judging() {
            return;
        } else if self.stop_working() {
            self.said = Some("Stopped: for the rest no change is offered that would mend it.".into());
            return;
        } else if self.starters.take().is_some() {
            self.in_fields = false;
        } else if self.making.is_some() {
            let action = self.with_look(|pane, look| pane.draw(&Event::Cancelled, look));
            let _ = self.act(action);
        } else if self.canvas.gesture != Gesture::Idle {
            let action = self.with_look(|pane, look| pane.step(&Event::Cancelled, look));
            let _ = self.act(action);
        } else if self.selected.cancel() {
            self.document.drop_preview();
            self.in_fields = false;
        } else if self.in_fields {
            self.in_fields = false;
        } else if self.driving.take().is_none() && !self.carries.step_back() && !self.findings.release() {
            self.chosen = None;
            self.also.clear();
        }
        self.said = None;
    }

    /// While the sheet is shown, keys turn its pages and move what stands on it, or go through its settings; the
    /// joint is left alone.
    fn key_on_sheet(&mut self, command: Option<Command>) -> Task<Message> {
        let action = match command {
            Some(Command::NextFinding) if self.in_fields => return next_field(true),
            Some(Command::PreviousFinding) if self.in_fields => return next_field(false),
            Some(Command::Nudge(..)) if self.in_fields => return Task::none(),
            Some(Command::NextThing) => self.in_sheet(&sheet::Message::PagePressed(true)),
            Some(Command::PreviousThing) => self.in_sheet(&sheet::Message::PagePressed(false)),
            Some(Command::NextFinding) => self.in_sheet(&sheet::Message::Stepped(true)),
            Some(Command::PreviousFinding) => self.in_sheet(&sheet::Message::Stepped(false)),
            Some(Command::ZoomIn) => self.in_sheet(&sheet::Message::Zoomed(true)),
            Some(Command::ZoomOut) => self.in_sheet(&sheet::Message::Zoomed(false)),
            Some(Command::Fit) => self.in_sheet(&sheet::Message::FitPressed),
            Some(Command::Nudge(right, up)) => self.in_sheet(&sheet::Message::Nudged(right, up)),
            Some(
                it @ (Command::Sheet
                | Command::Export
                | Command::Save
                | Command::SaveAs
                | Command::Undo
                | Command::Redo
                | Command::Close
                | Command::Controls
                | Command::Keys
                | Command::Escape),
            ) => return self.command(it),
            _ => return Task::none(),
        };
        self.act(action)
    }

    pub(super) fn one_level_back(&mut self) -> Task<Message> {
        self.escape();
        self.draw_again();
        self.act(Action::Leave)
    }

    /// Makes or drives another of what was made or driven last.
    pub(super) fn again(&mut self) -> Task<Message> {
        let nothing = || Action::Say("Nothing has been made yet.".into());
        let action = self.latest.clone().unwrap_or_else(nothing);
        self.act(action)
    }

    pub(super) fn apply_remedy(&mut self) -> Task<Message> {
        let action = self.findings.apply_remedy(&self.look());
        self.act(action)
    }

    pub(super) fn turn_carries(&mut self) {
        self.settle_fields();
        self.selected.arranging.is_shown = false;
        self.carries.turn();
    }

    /// The keyboard into the first field that is shown; where the numbers are asked for by name, they are shown first.
    pub(super) fn edit_numbers(&mut self, command: Command) -> Task<Message> {
        if command == Command::EditNumbers {
            if self.selected.arranging.is_shown {
                self.turn_arrange();
            }
            if self.carries.values().is_some() {
                self.turn_carries();
            }
            self.draw_again();
        }
        self.first_field()
    }

    /// Shows how what is chosen can be arranged, or its numbers again.
    pub(super) fn turn_arrange(&mut self) {
        self.settle_fields();
        let is_shown = !self.selected.arranging.is_shown;
        self.selected.arranging.is_shown = is_shown;
        if is_shown {
            self.stop_making();
            if self.carries.values().is_some() {
                self.carries.turn();
            }
        }
    }

    pub(super) fn open_starters(&mut self) {
        self.stop_making();
        let by = self.document.joint().standard;
        self.starters = Some(starters::Panel::new(by, &self.stock));
    }

    /// Shows the starting joints, with the keyboard in the first of the sizes.
    pub(super) fn show_starters(&mut self) -> Task<Message> {
        self.open_starters();
        self.draw_again();
        let first = self.starters.as_ref().and_then(starters::Panel::first_field);
        first.map_or(Task::none(), |name| {
            let id = iced::widget::Id::from(name);
            iced::widget::operation::focus(id.clone()).chain(iced::widget::operation::select_all(id))
        })
    }

    pub(super) fn open_actions(&mut self) -> Task<Message> {
        let found = actions::found("", &self.look());
        self.dialog = Dialog::Actions { search: String::new(), found, at: 0 };
        iced::widget::operation::focus(iced::widget::Id::new(actions::FIELD))
    }

    /// The keyboard goes from control to control from here on.
    pub(super) fn reach_controls(&mut self) -> Task<Message> {
        self.in_fields = true;
        next_field(true)
    }
}

/// Escape in a field: the field takes the key to let the cursor go, but the panel or the typing it belongs to
/// is meant.
pub(super) fn escape_from_a_field(
    event: iced::Event,
    status: iced::event::Status,
    _window: iced::window::Id,
) -> Option<Message> {
    let iced::Event::Keyboard(pressed) = event else { return None };
    let is_escape = matches!(&pressed, keyboard::Event::KeyPressed { key: Key::Named(Named::Escape), .. });
    // A list that was open has closed by it, and nothing else is meant.
    let is_taken = is_escape && status == iced::event::Status::Captured;
    (is_taken && !super::theme::escape_closed_a_list()).then_some(Message::Key(pressed))
}
