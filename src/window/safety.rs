//! The safety of the work: kept aside while it is unsaved, found again after a crash, guarded against files that
//! others change meanwhile.

use std::path::{Path, PathBuf};

use iced::Task;

use super::dialog::{self, Dialog, Then};
use super::document::Document;
use super::eyes::Eyes;
use super::files::Purpose;
use super::keeper::{self, Found, Keeper, Origin};
use super::look::Action;
use super::rescue::{self, Rescue};
use super::{App, Message, actions, files, theme};
use crate::disk;
use crate::joint::file;

impl App {
    /// The same window, with unsaved work kept in a folder; work that was left there is offered.
    #[must_use]
    pub fn kept_in(mut self, folder: PathBuf) -> Self {
        let mut keeper = Keeper::new(folder);
        let left = keeper.left();
        if !left.is_empty() && self.dialog == Dialog::Closed {
            self.dialog = Dialog::Recover(left);
        }
        if let Some(path) = &self.document.path {
            // A list that cannot be written is no reason not to open the window.
            let _ = keeper.opened(path);
        }
        self.see(keeper.eyes());
        self.keeper = Some(keeper);
        self
    }

    /// Shows the window in these colours, its words as large as wanted, or as there is room for.
    fn see(&mut self, eyes: Eyes) {
        self.dark = eyes.dark;
        let scale = eyes.scale.min(self.most_scale());
        (self.scale, self.size) = (scale, self.size * (self.scale / scale));
    }

    /// Remembers how the window is seen.
    pub(super) fn keep_eyes(&self) {
        if let Some(keeper) = &self.keeper {
            keeper.keep_eyes(Eyes { dark: self.dark, scale: self.scale });
        }
    }

    /// The same window; where the program fails, the work is found here.
    #[must_use]
    pub(super) fn rescued_by(mut self, rescue: Rescue) -> Self {
        if let Some(keeper) = &mut self.keeper {
            keeper.rescue = rescue;
        }
        self
    }

    /// The same window, begun because a fault of the program ended the one before: it says so.
    #[must_use]
    pub fn after_a_stop(mut self, why: Option<String>) -> Self {
        let Some(why) = why else { return self };
        if let Dialog::Recover(found) = &mut self.dialog {
            if let Some(it) = found.first_mut() {
                it.why = Some(why);
            }
        } else if self.dialog == Dialog::Closed {
            let head = "Shankline had to begin again".to_owned();
            let fault = format!("A fault of the program, not of your joint: {why}");
            self.dialog = Dialog::Problems { head, lines: vec![fault, "Nothing was unsaved.".to_owned()] };
        } else {
            // What is wrong with the file is the nearer thing to say.
            self.said = Some(format!("Shankline had to begin again: {why}"));
        }
        self
    }

    /// Files that were open lately, the last one first.
    #[must_use]
    pub fn recent(&self) -> &[PathBuf] {
        self.keeper.as_ref().map_or(&[], |it| it.recent())
    }

    /// Hands the work over to be kept aside, if it differs from its file and was not handed over before.
    pub(super) fn keep_aside(&mut self) -> Task<Message> {
        let Some(keeper) = &mut self.keeper else { return Task::none() };
        if !self.document.journal.edited() {
            if !keeper.writing {
                keeper.drop_own();
            }
            return Task::none();
        }
        let stamp = self.document.stamp;
        let origin = self.document.path.clone().map(|path| Origin { path, stamp });
        keeper.note(self.document.journal.mark(), self.document.joint(), origin.as_ref());
        rescue::rehearse();
        let Some(path) = keeper.hand_over(self.document.journal.mark()) else { return Task::none() };
        let joint = self.document.joint().clone();
        let writing = async move { keeper::keep(&path, &file::write(&joint), origin.as_ref()) };
        Task::perform(writing, Message::KeptAside)
    }

    /// The work was written aside, or not.
    fn kept_aside(&mut self, result: Result<(), String>) {
        if let Some(keeper) = &mut self.keeper {
            match result {
                Ok(()) => keeper.written(),
                Err(words) => {
                    keeper.writing = false;
                    self.said = Some(format!("Unsaved work is not kept aside: {words}"));
                }
            }
        }
    }

    /// The work is saved or given up for good.
    pub(super) fn forget_aside(&mut self) {
        if let Some(keeper) = &mut self.keeper {
            keeper.drop_own();
        }
    }

    /// Opens work that was found again: it is unsaved, and belongs to the file that it came from.
    pub(super) fn recover(&mut self, found: Found) {
        match files::read(&found.kept, &self.stock) {
            Ok(joint) => {
                let path = found.origin.as_ref().map(|it| it.path.clone());
                let mut document = Document::new(*joint, path, &self.stock.clone());
                document.journal.never_saved();
                // What another program wrote since the work was begun is asked about, as if this window had been
                // open all the time.
                document.stamp = found.origin.as_ref().and_then(|it| it.stamp);
                self.show_document(document);
                self.said = Some(format!("Found again: {}. Save it to keep it.", found.words()));
                if let Some(keeper) = &mut self.keeper {
                    keeper.adopt(found.kept);
                }
            }
            Err(lines) => {
                let head = format!("{} cannot be read", found.kept.display());
                self.dialog = Dialog::Problems { head, lines };
            }
        }
    }

    /// Notices whether another program has changed the file since it was read or written here.
    pub(super) fn look_at_file(&mut self) {
        let Some(path) = &self.document.path else { return };
        let now = disk::stamp(path);
        if now != self.document.stamp && now.is_some() && self.dialog == Dialog::Closed {
            self.dialog = Dialog::Changed { saving: false };
        }
    }

    /// Whether saving there would write over what another program wrote. A file whose state at the last reading is
    /// not known counts as written by another.
    pub(super) fn is_changed_by_others(&self, path: &Path) -> bool {
        let own = self.document.path.as_deref() == Some(path);
        let now = disk::stamp(path);
        own && now.is_some() && now != self.document.stamp
    }

    /// What was read is what the file holds now.
    pub(super) fn note_file(&mut self, path: &Path) {
        self.document.stamp = disk::stamp(path);
        if let Some(keeper) = &mut self.keeper
            && let Err(words) = keeper.opened(path)
        {
            self.said = Some(format!("The list of recent files is not kept: {words}"));
        }
    }

    /// What the desktop says of the window, its files and the keyboard; none of it changes the joint.
    #[expect(clippy::wildcard_enum_match_arm, reason = "all other messages are heard of elsewhere")]
    pub(super) fn hear_of_the_window(&mut self, message: Message) -> Task<Message> {
        match message {
            Message::KeptAside(result) => self.kept_aside(result),
            Message::Hovered(is_over) => self.dropping = is_over,
            Message::Dropped(path) => return self.dropped(path),
            Message::Focused => self.look_at_file(),
            Message::Clicked => return theme::has_keyboard().map(Message::HasKeyboard),
            Message::HasKeyboard(has) => self.in_fields = has,
            _ => {}
        }
        Task::none()
    }

    /// A file was dropped on the window.
    fn dropped(&mut self, path: PathBuf) -> Task<Message> {
        self.dropping = false;
        self.unless_edited(Then::OpenThis(path))
    }
}

impl App {
    /// A press in a panel about the safety of the work.
    pub(super) fn in_safety(&mut self, message: dialog::Message) -> Task<Message> {
        let before = std::mem::take(&mut self.dialog);
        match (message, before) {
            (dialog::Message::OpenFound(n), Dialog::Recover(mut found)) if n < found.len() => {
                self.recover(found.remove(n));
                if !found.is_empty() && self.dialog == Dialog::Closed {
                    self.said = Some("The rest is offered again the next time.".into());
                }
            }
            (dialog::Message::DiscardFound(n), Dialog::Recover(mut found)) if n < found.len() => {
                keeper::forget(&found.remove(n).kept);
                if !found.is_empty() {
                    self.dialog = Dialog::Recover(found);
                }
            }
            (dialog::Message::RecentPressed(path), _) => return self.unless_edited(Then::OpenThis(path)),
            (dialog::Message::ClearRecentPressed, _) => {
                let cleared = self.keeper.as_mut().map_or(Ok(()), Keeper::clear_recent);
                self.said = cleared.err();
            }
            (dialog::Message::ReadAgain, _) => {
                let Some(path) = self.document.path.clone() else { return Task::none() };
                return self.with_path(Purpose::Open, path);
            }
            (dialog::Message::KeepMine, Dialog::Changed { saving }) => {
                self.document.stamp = self.document.path.as_deref().and_then(disk::stamp);
                if saving {
                    return self.save();
                }
                // What is shown is no longer what the file holds.
                self.document.journal.never_saved();
            }
            (dialog::Message::SaveElsewhere, _) => return self.ask_path(Purpose::SaveAs),
            (_, before) => self.dialog = before,
        }
        Task::none()
    }

    /// Something in the panel of actions.
    pub(super) fn in_actions(&mut self, message: dialog::Message) -> Task<Message> {
        let Dialog::Actions { found, at, .. } = &self.dialog else { return Task::none() };
        if let dialog::Message::Searched(search) = message {
            let found = actions::found(&search, &self.look());
            self.dialog = Dialog::Actions { search, found, at: 0 };
            return Task::none();
        }
        let wanted = if let dialog::Message::ActionPressed(n) = message {
            found.offers.get(n)
        } else {
            found.offers.get(*at)
        };
        let Some(action) = wanted.map(|it| it.action.clone()) else { return Task::none() };
        self.dialog = Dialog::Closed;
        // What is begun by it has the keyboard, not the control that had it before.
        let left = self.act(Action::Leave);
        let task = self.act(action);
        left.chain(task)
    }

    /// Marks the next action of those found, or the one before.
    pub(super) fn mark_action(&mut self, forward: bool) -> Task<Message> {
        if let Dialog::Actions { found, at, .. } = &mut self.dialog {
            let last = found.offers.len().saturating_sub(1);
            *at = if forward { (*at + 1).min(last) } else { at.saturating_sub(1) };
        }
        Task::none()
    }
}

/// Files held over the window or dropped on it, the keyboard coming back to it, and presses, which may give the keyboard
/// to a field.
pub(super) fn of_the_window(
    event: iced::Event,
    _status: iced::event::Status,
    _window: iced::window::Id,
) -> Option<Message> {
    if let iced::Event::Mouse(iced::mouse::Event::ButtonPressed(_)) = event {
        return Some(Message::Clicked);
    }
    let iced::Event::Window(event) = event else { return None };
    #[expect(clippy::wildcard_enum_match_arm, reason = "the toolkit's other events mean nothing here")]
    match event {
        iced::window::Event::FileHovered(_) => Some(Message::Hovered(true)),
        iced::window::Event::FilesHoveredLeft => Some(Message::Hovered(false)),
        iced::window::Event::FileDropped(path) => Some(Message::Dropped(path)),
        iced::window::Event::Focused => Some(Message::Focused),
        _ => None,
    }
}
