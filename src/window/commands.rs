//! Commands by key or button, dialogs and files: the rest of the window's update.

use std::path::PathBuf;

use iced::Task;

use super::dialog::{self, Dialog, Then};
use super::document::{Chain, Document};
use super::eyes::SCALES;
use super::files::{self, Purpose};
use super::look::{Action, Command};
use super::{App, Message, canvas, carries, journal, stock};
use crate::drawing::{self, Subject};
use crate::findings;
use crate::joint::{Joint, file};

impl App {
    /// Does what a key or a button asks for.
    pub(super) fn command(&mut self, command: Command) -> Task<Message> {
        use Command::{Align, Arrange, ArrangeBy, Arranged, Spread};
        match command {
            Align(_) | Spread(_) | Arrange | ArrangeBy(_) | Arranged(_) => return self.arrange(command),
            Command::New => return self.unless_edited(Then::New),
            Command::Open => return self.unless_edited(Then::Open),
            Command::Close => return self.unless_edited(Then::Close),
            Command::Save => return self.save(),
            Command::SaveAs => return self.ask_path(Purpose::SaveAs),
            Command::Export => return self.ask_path(Purpose::Export),
            Command::Sheet => return self.turn_sheet(),
            Command::Undo | Command::Redo => self.undo(command == Command::Undo),
            Command::Steps => self.dialog = Dialog::Steps,
            Command::StepBack(steps) => (0..steps.unsigned_abs()).for_each(|_| self.undo(0 < steps)),
            Command::Delete => self.delete(),
            Command::Duplicate => self.duplicate(),
            Command::Copy => return self.copy(),
            Command::Cut => return self.cut(),
            Command::Paste => return iced::clipboard::read().map(Message::Pasted),
            Command::ChooseAll => self.choose_everything(),
            Command::Fit => self.each_canvas(canvas::Pane::fit),
            Command::View(shown) => self.show_views(shown),
            Command::Plane => return self.press_on_canvas(&canvas::Message::CutPressed),
            Command::SnapStep => return self.press_on_canvas(&canvas::Message::SnapPressed),
            Command::FitChosen => self.with_look(canvas::Pane::fit_chosen),
            Command::ZoomIn => self.with_look(|pane, look| pane.zoom(true, look)),
            Command::ZoomOut => self.with_look(|pane, look| pane.zoom(false, look)),
            Command::TrueSize => self.with_look(canvas::Pane::true_size),
            Command::NextFinding => return self.walk_findings(true),
            Command::PreviousFinding => return self.walk_findings(false),
            Command::NextThing => self.walk_things(true),
            Command::PreviousThing => self.walk_things(false),
            Command::ApplyRemedy => return self.apply_remedy(),
            Command::ShowWorking => self.show_working(),
            Command::TurnCarries => self.turn_carries(),
            Command::Working => self.open_panel(carries::Panel::Working),
            Command::Compare => self.open_panel(carries::Panel::Compare),
            Command::EditNumbers | Command::Confirm => return self.edit_numbers(command),
            Command::NextField(forward) => return next_field(forward),
            Command::Nudge(right, up) => return self.nudge(right, up),
            Command::TurnBy(deg) => return self.turn_by(deg),
            Command::Mirror => return self.mirror(false),
            Command::MirrorUpsideDown => return self.mirror(true),
            Command::Order(before_all) => return self.order(before_all),
            Command::NextSize(longer) => return self.next_size(longer),
            Command::Judge => self.judge_again(),
            Command::Lights => self.turn_lights(),
            Command::Scale(larger) => self.scale_by(larger),
            Command::Make(thing) => return self.act(Action::Make(Some(thing.kind()))),
            Command::Starters => return self.show_starters(),
            Command::Fill(which) => return self.fill(which),
            Command::Recent => self.dialog = Dialog::Recent,
            Command::Actions => return self.open_actions(),
            Command::Controls => return self.reach_controls(),
            Command::Keys => self.dialog = Dialog::Keys,
            Command::Again => return self.again(),
            Command::Escape => return self.one_level_back(),
        }
        self.draw_again();
        Task::none()
    }

    /// Shows the sheet, or the joint again.
    fn turn_sheet(&mut self) -> Task<Message> {
        self.settle_fields();
        self.sheet.turn();
        self.draw_again();
        // A field behind the sheet does not keep the keyboard.
        self.act(Action::Leave)
    }

    /// What a button of the view that is worked in does.
    fn press_on_canvas(&mut self, button: &canvas::Message) -> Task<Message> {
        let action = self.with_look(|pane, look| pane.update(button, look));
        self.act(action)
    }

    fn undo(&mut self, back: bool) {
        self.settle_fields();
        let stock = self.stock.clone();
        if let Some(name) = self.document.step(back, &stock) {
            self.said = Some(format!("{}: {name}", if back { "Undone" } else { "Done again" }));
            self.forget_what_is_gone();
        }
    }

    fn walk_findings(&mut self, forward: bool) -> Task<Message> {
        if self.in_fields {
            return next_field(forward);
        }
        let mut pane = std::mem::take(&mut self.findings);
        let action = pane.walk(forward, &self.look());
        self.findings = pane;
        let task = self.act(action);
        let Some(share) = self.findings.chosen_share(&self.document.shown().findings) else { return task };
        let offset = iced::widget::scrollable::RelativeOffset { x: 0.0, y: share };
        let list = iced::widget::Id::new(super::findings::LIST);
        task.chain(iced::widget::operation::snap_to(list, offset))
    }

    fn walk_things(&mut self, forward: bool) {
        let joint = self.document.joint();
        let all: Vec<Subject> = joint
            .members
            .iter()
            .map(|it| Subject::Member(it.id.clone()))
            .chain(joint.connectors.iter().map(|it| Subject::Connector(it.id.clone())))
            .chain(joint.fasteners.iter().map(|it| Subject::Fastener(it.id.clone())))
            .collect();
        if all.is_empty() {
            return;
        }
        let now = self.chosen.as_ref().and_then(|it| all.iter().position(|one| one == it));
        let next = match (now, forward) {
            (Some(at), true) => (at + 1) % all.len(),
            (Some(at), false) => (at + all.len() - 1) % all.len(),
            (None, true) => 0,
            (None, false) => all.len() - 1,
        };
        self.choose(all.get(next).cloned());
    }

    fn show_working(&mut self) {
        let mut pane = std::mem::take(&mut self.findings);
        pane.show_working(&self.look());
        self.findings = pane;
    }

    pub(super) fn first_field(&mut self) -> Task<Message> {
        let Some(name) = self.selected.first_field_name(&self.look()) else { return Task::none() };
        self.in_fields = true;
        let id = iced::widget::Id::from(name);
        let selected = iced::widget::operation::select_all(id.clone());
        iced::widget::operation::focus(id).chain(selected).chain(super::theme::reveal())
    }

    fn next_size(&mut self, longer: bool) -> Task<Message> {
        let Some(at) = self.look().chosen_fastener() else { return Task::none() };
        let Some(old) = self.document.joint().fasteners.get(at) else { return Task::none() };
        let sizes = stock::same_table(&self.stock, &old.spec);
        let by_length = sizes.iter().filter(|it| {
            if longer { old.spec.length_mm < it.length_mm } else { it.length_mm < old.spec.length_mm }
        });
        let away = |it: &crate::stock::FastenerSpec| {
            ((it.diameter_mm - old.spec.diameter_mm).abs() * 1e3, (it.length_mm - old.spec.length_mm).abs())
        };
        let next = by_length.min_by(|a, b| {
            let (a, b) = (away(a), away(b));
            a.0.total_cmp(&b.0).then(a.1.total_cmp(&b.1))
        });
        let Some(spec) = next.map(|it| (*it).clone()) else {
            let end = if longer { "longest" } else { "shortest" };
            self.said = Some(format!("Stock has none beyond this: it is the {end} of its kind."));
            return Task::none();
        };
        let look = self.look();
        let action = stock::swap_those_like(at, &spec, &look);
        self.act(action)
    }

    /// Light words on a dark ground, or dark ones on a light one.
    fn turn_lights(&mut self) {
        self.dark = !self.dark;
        self.keep_eyes();
    }

    /// Larger or smaller words and controls, as long as the window keeps its least size in them.
    fn scale_by(&mut self, larger: bool) {
        let wanted = (self.scale * if larger { 1.1 } else { 1.0 / 1.1 }).clamp(SCALES.0, SCALES.1);
        // The last step is as large as there is room for.
        let wanted = if larger { wanted.min(self.most_scale()) } else { wanted };
        if larger && wanted <= self.scale {
            self.said = Some("The window is too small for larger words; make it larger first.".into());
            return;
        }
        (self.scale, self.size) = (wanted, self.size * (self.scale / wanted));
        self.keep_eyes();
    }

    /// The largest size of words and controls with which the window keeps its least size in them.
    pub(super) fn most_scale(&self) -> f32 {
        let (all, least) = (self.size * self.scale, super::run::LEAST);
        (all.width / least.width).min(all.height / least.height).clamp(1.0, 2.0)
    }

    pub(super) fn unless_edited(&mut self, then: Then) -> Task<Message> {
        self.settle_fields();
        if self.document.journal.edited() {
            self.dialog = Dialog::Unsaved(then);
            self.draw_again();
            return Task::none();
        }
        self.go_on(then)
    }

    fn go_on(&mut self, then: Then) -> Task<Message> {
        match then {
            Then::New => {
                self.show_document(Document::new(Joint::default(), None, &self.stock.clone()));
                Task::none()
            }
            Then::Open => self.ask_path(Purpose::Open),
            Then::Begin => {
                self.show_document(Document::new(Joint::default(), None, &self.stock.clone()));
                self.begin()
            }
            Then::OpenThis(path) => self.with_path(Purpose::Open, path),
            Then::Close => {
                self.forget_aside();
                iced::exit()
            }
        }
    }

    pub(super) fn show_document(&mut self, document: Document) {
        self.document = document;
        self.chosen = None;
        self.also.clear();
        self.stop_making();
        self.driving = None;
        self.stock_pane = stock::Pane::of(self.document.joint());
        self.selected = super::selected::Pane::default();
        self.findings = super::findings::Pane::default();
        self.carries.forget();
        self.canvas.gesture = canvas::gesture::Gesture::Idle;
        self.each_canvas(canvas::Pane::fit);
        self.draw_again();
    }

    pub(super) fn ask_path(&mut self, purpose: Purpose) -> Task<Message> {
        self.settle_fields();
        let suggested = files::suggested(self.document.path.as_deref(), purpose);
        Task::perform(files::ask(purpose, suggested), move |it| Message::PathPicked(purpose, it))
    }

    pub(super) fn path_picked(&mut self, purpose: Purpose, path: Option<PathBuf>) -> Task<Message> {
        if let Some(path) = path {
            self.dialog = Dialog::Closed;
            return self.with_path(purpose, path);
        }
        let text = files::suggested(self.document.path.as_deref(), purpose);
        self.dialog = Dialog::Path { purpose, text, error: None };
        let id = iced::widget::Id::new(dialog::PATH_FIELD);
        iced::widget::operation::focus(id.clone()).chain(iced::widget::operation::select_all(id))
    }

    pub(super) fn with_path(&mut self, purpose: Purpose, path: PathBuf) -> Task<Message> {
        match purpose {
            Purpose::Open => {
                let stock = self.stock.clone();
                self.errand(format!("opening {}", name_of(&path)), |_| async move {
                    let judged = files::judged(&path, &stock);
                    Message::Opened(path, judged)
                })
            }
            Purpose::SaveAs => self.save_to(path),
            Purpose::Export => {
                let shown = self.document.shown().clone();
                let pages_of = self.sheet.pages_later();
                self.errand(format!("exporting {}", name_of(&path)), |stopped| async move {
                    let Chain { joint, trace, mut findings, unjudged, .. } = shown;
                    if unjudged {
                        findings = findings::judge(&joint, &trace).into();
                    }
                    let inputs = drawing::Inputs { joint: &joint, trace: &trace, findings: &findings };
                    let pages = pages_of(&inputs);
                    // Nothing is written any longer once it was stopped.
                    let result = match stopped.load(std::sync::atomic::Ordering::Relaxed) {
                        true => Err("It was stopped.".to_owned()),
                        false => files::export(&path, &pages),
                    };
                    Message::Exported(path, result)
                })
            }
        }
    }

    pub(super) fn save(&mut self) -> Task<Message> {
        self.settle_fields();
        match self.document.path.clone() {
            Some(path) => self.save_to(path),
            None => self.ask_path(Purpose::SaveAs),
        }
    }

    pub(super) fn save_to(&mut self, path: PathBuf) -> Task<Message> {
        if self.is_changed_by_others(&path) {
            self.dialog = Dialog::Changed { saving: true };
            return Task::none();
        }
        let joint = self.document.joint().clone();
        let mark = self.document.journal.mark();
        let writing = async move {
            let result = files::write(&path, &file::write(&joint));
            (path, result)
        };
        Task::perform(writing, move |(path, result)| Message::Saved(path, mark, result))
    }

    pub(super) fn saved(
        &mut self,
        path: PathBuf,
        mark: journal::Mark,
        result: Result<(), String>,
    ) -> Task<Message> {
        match result {
            Ok(()) => {
                self.said = Some(format!("Saved {}", path.display()));
                self.note_file(&path);
                self.document.path = Some(path);
                self.document.journal.saved_at(mark);
                self.then.take().map_or(Task::none(), |it| self.go_on(it))
            }
            Err(words) => {
                self.then = None;
                self.dialog = Dialog::Problems { head: "The joint was not saved".into(), lines: vec![words] };
                Task::none()
            }
        }
    }

    pub(super) fn exported(
        &mut self,
        path: &std::path::Path,
        result: Result<usize, String>,
    ) -> Task<Message> {
        self.errand = None;
        match result {
            Ok(files) => self.said = Some(format!("Exported {}", crate::disk::numbered_words(path, files))),
            Err(words) => {
                self.dialog =
                    Dialog::Problems { head: "The detail was not exported".into(), lines: vec![words] };
            }
        }
        Task::none()
    }

    pub(super) fn opened(&mut self, path: PathBuf, judged: files::Judged) -> Task<Message> {
        self.errand = None;
        match judged {
            Ok(chain) => {
                self.said = Some(format!("Opened {}", path.display()));
                self.show_document(Document::of(*chain, Some(path.clone())));
                self.note_file(&path);
            }
            Err(lines) => {
                self.dialog = Dialog::Problems { head: format!("{} was not opened", path.display()), lines };
            }
        }
        Task::none()
    }

    pub(super) fn in_dialog(&mut self, message: dialog::Message) -> Task<Message> {
        match message {
            dialog::Message::CancelPressed => {
                self.dialog = Dialog::Closed;
                self.then = None;
                Task::none()
            }
            dialog::Message::DiscardPressed => {
                let Dialog::Unsaved(then) = std::mem::take(&mut self.dialog) else { return Task::none() };
                self.go_on(then)
            }
            dialog::Message::SavePressed => {
                let Dialog::Unsaved(then) = std::mem::take(&mut self.dialog) else { return Task::none() };
                self.then = Some(then);
                self.save()
            }
            dialog::Message::PathTyped(typed) => {
                if let Dialog::Path { text, error, .. } = &mut self.dialog {
                    (*text, *error) = (typed, None);
                }
                Task::none()
            }
            dialog::Message::PathEntered => self.path_entered(),
            dialog::Message::ScalePressed(larger) => self.command(Command::Scale(larger)),
            dialog::Message::Searched(_)
            | dialog::Message::SearchEntered
            | dialog::Message::ActionPressed(_) => self.in_actions(message),
            dialog::Message::OpenFound(_)
            | dialog::Message::DiscardFound(_)
            | dialog::Message::RecentPressed(_)
            | dialog::Message::ClearRecentPressed
            | dialog::Message::ReadAgain
            | dialog::Message::KeepMine
            | dialog::Message::SaveElsewhere => self.in_safety(message),
            dialog::Message::StepPressed(steps) => self.command(Command::StepBack(steps)),
        }
    }

    fn path_entered(&mut self) -> Task<Message> {
        let Dialog::Path { purpose, text, error } = &mut self.dialog else { return Task::none() };
        match files::typed_path(text, *purpose) {
            Ok(path)
                if replaces(&path, *purpose, self.document.path.as_deref())
                    && error.as_deref() != Some(REPLACE) =>
            {
                *error = Some(REPLACE.into());
                Task::none()
            }
            Ok(path) => {
                let purpose = *purpose;
                self.dialog = Dialog::Closed;
                self.with_path(purpose, path)
            }
            Err(words) => {
                *error = Some(words);
                Task::none()
            }
        }
    }
}

/// The name of a file without its folder.
fn name_of(path: &std::path::Path) -> String {
    path.file_name().map_or_else(String::new, |it| it.to_string_lossy().into_owned())
}

/// What is asked before a file is replaced. Typing another path takes it back.
const REPLACE: &str =
    "A file of this name is there already. Confirm once more to replace it, or type another name.";

/// Whether writing there would replace a file other than the one that the joint is to be saved to.
fn replaces(path: &std::path::Path, purpose: Purpose, own: Option<&std::path::Path>) -> bool {
    match purpose {
        Purpose::Open => false,
        Purpose::SaveAs => path.exists() && own != Some(path),
        Purpose::Export => path.exists(),
    }
}

pub(super) fn next_field(forward: bool) -> Task<Message> {
    let moved = if forward {
        iced::widget::operation::focus_next()
    } else {
        iced::widget::operation::focus_previous()
    };
    moved.chain(super::theme::reveal())
}
