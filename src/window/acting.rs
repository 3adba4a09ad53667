//! Doing what the panes ask for: the one place where the joint, what is chosen and what is made change.

use iced::Task;

use super::document::Document;
use super::look::Action;
use super::making::{Kind, Making};
use super::{App, Message, canvas, selected};
use crate::drawing::Subject;
use crate::stock::Stock;

impl App {
    /// Does what a pane asked for.
    pub(super) fn act(&mut self, action: Action) -> Task<Message> {
        match action {
            Action::None => return Task::none(),
            Action::Choose(subject) => self.choose(subject),
            Action::ChooseAll(mut all) => {
                let last = all.pop();
                self.choose(last);
                self.also = all;
            }
            Action::Toggle(subject) => self.toggle(subject),
            Action::Show(subject, place) => {
                self.choose(subject);
                if let Some(place) = place {
                    self.with_look(|pane, look| pane.show(place, look));
                }
            }
            Action::Preview(name, edit) => self.document.preview(name, edit),
            Action::Keep(name, edit) => {
                self.settle_fields();
                return self.keep(|document, stock| document.keep(name, &edit, stock));
            }
            Action::KeepPreview => return self.keep(Document::keep_preview),
            Action::DropPreview if !self.document.in_hand() => return Task::none(),
            Action::DropPreview => self.document.drop_preview(),
            Action::Drive(spec) => {
                self.stop_making();
                if spec.is_some() {
                    self.latest = Some(Action::Drive(spec.clone()));
                }
                self.driving = spec;
            }
            Action::Make(kind) => self.make(kind),
            Action::Redraft => {
                let action = self.with_look(canvas::Pane::redraft);
                return self.act(action);
            }
            Action::Cut(cuts) => self.cuts = cuts,
            Action::Leave => {
                self.in_fields = false;
                // Nothing has this name: whatever had the keyboard lets it go.
                return iced::widget::operation::focus(iced::widget::Id::new("the canvas"));
            }
            Action::Say(words) => return self.say(words),
            Action::Do(command) => return self.command(command),
            Action::CopyText(words) => {
                self.said = Some(format!("Copied {} lines as text", words.lines().count()));
                return iced::clipboard::write(words);
            }
            Action::Again => {}
            Action::Focus(name) => return iced::widget::operation::focus(iced::widget::Id::new(name)),
            Action::All(actions) => return self.act_all(actions),
        }
        self.said = None;
        self.forget_what_is_gone();
        self.draw_again();
        Task::none()
    }

    /// Something in the pane of what is chosen. What is typed in stays in sight, however much it puts above itself.
    pub(super) fn hear_selected(&mut self, message: selected::Message) -> Task<Message> {
        use selected::Message::{ArrangeTyped, Typed};
        let is_typed = matches!(message, Typed(..) | ArrangeTyped(..));
        let action = self.in_selected(message);
        let task = self.act(action);
        if is_typed { task.chain(super::theme::stay_in_sight()) } else { task }
    }

    /// Does several things in order. What follows a step that was refused would follow from nothing.
    fn act_all(&mut self, actions: Vec<Action>) -> Task<Message> {
        let mut tasks = Vec::with_capacity(actions.len());
        for action in actions {
            tasks.push(self.act(action));
            if std::mem::take(&mut self.refused) {
                break;
            }
        }
        Task::batch(tasks)
    }

    fn say(&mut self, words: String) -> Task<Message> {
        self.draw_again();
        self.said = Some(words);
        Task::none()
    }

    /// Keeps a step and shows the joint as it is then; or says why the step was refused.
    fn keep(&mut self, how: impl FnOnce(&mut Document, &Stock) -> Option<String>) -> Task<Message> {
        let refused = how(&mut self.document, &self.stock.clone());
        self.refused = refused.is_some();
        self.said = refused.map(|it| format!("Not done: {it}"));
        self.forget_what_is_gone();
        self.draw_again();
        Task::none()
    }

    /// Begins to make something, or ends it.
    pub(super) fn make(&mut self, kind: Option<Kind>) {
        self.stop_making();
        self.driving = None;
        if let Some(kind) = kind {
            self.settle_fields();
            self.latest = Some(Action::Make(Some(kind.clone())));
            self.making = Some(Making::new(kind, self.made.as_ref()));
        }
    }

    /// Ends what is being made; its settings are kept for the next one.
    pub(super) fn stop_making(&mut self) {
        if let Some(mut making) = self.making.take() {
            making.forget_refused(&self.look());
            self.made = Some(making);
            self.document.drop_preview();
            self.canvas.gesture = canvas::gesture::Gesture::Idle;
            self.beside.iter_mut().for_each(|it| it.gesture = canvas::gesture::Gesture::Idle);
        }
    }

    pub(super) fn toggle(&mut self, subject: Subject) {
        if self.chosen.as_ref() == Some(&subject) {
            let last = self.also.pop();
            let rest = std::mem::take(&mut self.also);
            self.choose(last);
            self.also = rest;
        } else if let Some(at) = self.also.iter().position(|it| *it == subject) {
            let _ = self.also.remove(at);
        } else {
            let mut all = std::mem::take(&mut self.also);
            all.extend(self.chosen.clone());
            self.choose(Some(subject));
            self.also = all;
        }
    }

    /// Chooses one thing, or nothing.
    pub(super) fn choose(&mut self, subject: Option<Subject>) {
        self.also.clear();
        if self.chosen != subject {
            self.settle_fields();
            self.chosen = subject;
        }
        let mut pane = std::mem::take(&mut self.findings);
        pane.release_unless_of(self.chosen.as_ref(), &self.look());
        self.findings = pane;
    }

    /// Keeps or drops what a field of the pane of numbers or of the sheet's settings was in the middle of.
    pub(super) fn settle_fields(&mut self) {
        let mut wanted = self.sheet.settle();
        if wanted == Action::None {
            wanted = self.selected.settle();
        }
        let stock = self.stock.clone();
        if wanted == Action::KeepPreview {
            let refused = self.document.keep_preview(&stock);
            self.said = refused.map(|it| format!("Not done: {it}"));
        } else if let Action::Keep(name, edit) = wanted {
            let refused = self.document.keep(name, &edit, &stock);
            self.said = refused.map(|it| format!("Not done: {it}"));
        } else if wanted == Action::DropPreview {
            self.document.drop_preview();
        }
    }

    pub(super) fn forget_what_is_gone(&mut self) {
        let also = std::mem::take(&mut self.also);
        self.also = also.into_iter().filter(|it| self.look().has(it)).collect();
        if self.chosen.as_ref().is_some_and(|it| !self.look().has(it)) {
            self.chosen = self.also.pop();
        }
    }
}
