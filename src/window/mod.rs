//! The window: shows a joint, lets it be handled, and hands every change to the chain.
//!
//! Each pane has its own state, message and update, and asks for an [`Action`]; only [`App`]
//! applies edits, keeps the undo journal and runs the chain again.

mod acting;
pub mod actions;
mod asked;
pub mod canvas;
pub mod carries;
mod commands;
pub mod cores;
pub mod dialog;
pub mod document;
mod editing;
mod eyes;
pub mod files;
pub mod findings;
pub mod foot;
pub mod journal;
pub mod keeper;
pub mod keys;
pub mod look;
pub mod making;
pub mod part;
pub mod rescue;
mod run;
mod safety;
pub mod selected;
pub mod sheet;
pub mod starters;
pub mod stock;
pub mod theme;
pub mod top;
mod views;
pub mod words;
mod working;

use std::path::PathBuf;
use std::sync::Arc;

use iced::widget::{column, container, row, stack};
use iced::{Length, Subscription, Task, keyboard};

use self::canvas::plane::Cuts;
use self::dialog::{Dialog, Then};
use self::document::Document;
use self::files::Purpose;
use self::keeper::Keeper;
use self::look::{Action, Look, Shown};
use self::making::Making;
use self::theme::{Colours, Element, parts};
use crate::drawing::{Drawing, Subject};
use crate::findings::{Finding, Findings};
use crate::joint::{Joint, Look as From};
use crate::stock::{FastenerSpec, Stock};

pub use run::{program, run};

/// The window's state.
#[derive(Debug)]
pub struct App {
    stock: Arc<Stock>,
    document: Document,
    /// What is chosen; of several things the one that was chosen last.
    chosen: Option<Subject>,
    /// What is chosen besides.
    also: Vec<Subject>,
    driving: Option<Arc<FastenerSpec>>,
    /// What the next presses on the canvas make.
    making: Option<Making>,
    /// What was made last, with its settings.
    made: Option<Making>,
    /// What makes or drives another of what was made or driven last.
    latest: Option<Action>,
    /// How often the clipboard was put in since something was copied, so that no copy hides another.
    pasted: u32,
    dark: bool,
    scale: f32,
    size: iced::Size,
    dialog: Dialog,
    /// The keyboard is in the fields of the pane of numbers: Tab goes from field to field.
    in_fields: bool,
    /// What to go on with once the joint is saved.
    then: Option<Then>,
    /// Keeps unsaved work aside; `None` in a window that is only tried out.
    keeper: Option<Keeper>,
    /// A file is held over the window.
    dropping: bool,
    /// The last step was refused.
    refused: bool,
    /// What is worked on beside the window.
    working: Option<working::Work>,
    /// The state of the document for which that was stopped.
    stopped: Option<u64>,
    /// A very large joint that is being judged beside the window.
    judging: Option<working::Judging>,
    /// The state of the document for which that was stopped.
    not_judged: Option<u64>,
    /// A file that is read or written beside the window.
    errand: Option<working::Errand>,
    /// What was done last, in words, until something else is done.
    said: Option<String>,
    stock_pane: stock::Pane,
    /// The panel of starting joints, while it is open.
    starters: Option<starters::Panel>,
    /// The view that is worked in.
    canvas: canvas::Pane,
    /// The other views that are shown.
    beside: Vec<canvas::Pane>,
    /// The planes that cut the views.
    cuts: Cuts,
    cores: cores::Pane,
    findings: findings::Pane,
    selected: selected::Pane,
    carries: carries::Pane,
    sheet: sheet::Pane,
}

/// What happened.
#[derive(Clone, Debug)]
pub enum Message {
    /// In the bar at the top.
    Top(top::Message),
    /// In the pane of stock.
    Stock(stock::Message),
    /// In the view that is worked in.
    Canvas(canvas::Message),
    /// In the view from here, which may be another one.
    CanvasOf(From, canvas::Message),
    /// In the pane of cores.
    Cores(cores::Message),
    /// In the list of findings.
    Findings(findings::Message),
    /// In the pane of what is chosen.
    Selected(selected::Message),
    /// In the panel of working and choices.
    Carries(carries::Message),
    /// In the preview of the sheet.
    Sheet(sheet::Message),
    /// In the pane of what is made.
    Making(making::Message),
    /// In the panel of starting joints.
    Starters(starters::Message),
    /// In a panel over the window.
    Dialog(dialog::Message),
    /// On the keyboard, where no field took it.
    Key(keyboard::Event),
    /// The window has another size.
    Resized(iced::Size),
    /// The window is asked to close.
    CloseRequested,
    /// A path was picked for a purpose, or none.
    PathPicked(Purpose, Option<PathBuf>),
    /// A file was read.
    Opened(PathBuf, files::Judged),
    /// The joint was written as it stood at the mark, or not.
    Saved(PathBuf, journal::Mark, Result<(), String>),
    /// The detail was written, or not.
    Exported(PathBuf, Result<usize, String>),
    /// What was on the clipboard.
    Pasted(Option<String>),
    /// Findings of a state of the document, from a place on, were looked at for what would mend them.
    Remedied(u64, usize, Vec<Finding>),
    /// Of a state of the document so many fasteners are judged.
    JudgedSoFar(u64, usize),
    /// A state of the document is judged.
    Judged(u64, Arc<Findings>),
    /// The pages of a state of the document are drawn.
    Paged(u64, Arc<Vec<Drawing>>),
    /// Unsaved work was kept aside, or not.
    KeptAside(Result<(), String>),
    /// A file is held over the window, or no longer.
    Hovered(bool),
    /// A file was dropped on the window.
    Dropped(PathBuf),
    /// The window has the keyboard again.
    Focused,
    /// A button of the pointer was pressed somewhere.
    Clicked,
    /// After that something has the keyboard, or nothing.
    HasKeyboard(bool),
}

impl App {
    /// The window with a joint, and with its file where it came from one.
    #[must_use]
    pub fn new(stock: Arc<Stock>, joint: Joint, path: Option<PathBuf>) -> Self {
        let mut document = Document::new(joint, path, &stock);
        document.stamp = document.path.as_deref().and_then(crate::disk::stamp);
        Self::with(stock, document)
    }

    fn with(stock: Arc<Stock>, document: Document) -> Self {
        let mut app = Self {
            stock,
            document,
            chosen: None,
            also: Vec::new(),
            driving: None,
            making: None,
            made: None,
            latest: None,
            pasted: 0,
            dark: false,
            scale: 1.0,
            size: iced::Size::new(1280.0, 800.0),
            dialog: Dialog::Closed,
            in_fields: false,
            then: None,
            keeper: None,
            dropping: false,
            refused: false,
            working: None,
            stopped: None,
            judging: None,
            not_judged: None,
            errand: None,
            said: None,
            stock_pane: stock::Pane::default(),
            starters: None,
            canvas: canvas::Pane::default(),
            beside: Vec::new(),
            cuts: Cuts::default(),
            cores: cores::Pane::default(),
            findings: findings::Pane::default(),
            selected: selected::Pane::default(),
            carries: carries::Pane::default(),
            sheet: sheet::Pane::default(),
        };
        app.stock_pane = stock::Pane::of(app.document.joint());
        app.with_look(canvas::Pane::fit);
        app.draw_again();
        app
    }

    /// The window on a joint file: a file that cannot be read opens a panel that says everything that is wrong with it.
    #[must_use]
    pub fn open(stock: Arc<Stock>, path: PathBuf) -> Self {
        match files::judged(&path, &stock) {
            Ok(chain) => {
                let mut app = Self::with(stock, Document::of(*chain, Some(path.clone())));
                app.document.stamp = crate::disk::stamp(&path);
                app
            }
            Err(lines) => {
                let mut app = Self::new(stock, Joint::default(), None);
                app.dialog = Dialog::Problems { head: format!("{} was not opened", path.display()), lines };
                app
            }
        }
    }

    /// The open document.
    #[must_use]
    pub fn document(&self) -> &Document {
        &self.document
    }

    /// What is chosen.
    #[must_use]
    pub fn chosen(&self) -> Option<&Subject> {
        self.chosen.as_ref()
    }

    /// What is being made.
    #[must_use]
    pub fn making(&self) -> Option<&Making> {
        self.making.as_ref()
    }

    /// The planes that cut the views.
    #[must_use]
    pub fn cuts(&self) -> Cuts {
        self.cuts
    }

    /// What can be placed.
    #[must_use]
    pub fn stock(&self) -> &Stock {
        &self.stock
    }

    /// Everything that is chosen.
    pub fn all_chosen(&self) -> impl Iterator<Item = &Subject> {
        self.also.iter().chain(&self.chosen)
    }

    /// What was done last, in words.
    #[must_use]
    pub fn said(&self) -> Option<&str> {
        self.said.as_deref()
    }

    /// The panel over the window.
    #[must_use]
    pub fn dialog(&self) -> &Dialog {
        &self.dialog
    }

    /// What is carried.
    #[must_use]
    pub fn carries(&self) -> &carries::Pane {
        &self.carries
    }

    /// The preview of the sheet.
    #[must_use]
    pub fn sheet(&self) -> &sheet::Pane {
        &self.sheet
    }

    /// The canvas.
    #[must_use]
    pub fn canvas(&self) -> &canvas::Pane {
        &self.canvas
    }

    /// The colours.
    #[must_use]
    pub fn colours(&self) -> &'static Colours {
        Colours::of(self.dark)
    }

    /// The size of words and controls; 1 is the usual one.
    #[must_use]
    pub fn scale(&self) -> f32 {
        self.scale
    }

    /// The title of the window.
    #[must_use]
    pub fn title(&self) -> String {
        let joint = self.document.joint();
        let title = if joint.title.is_empty() { "Untitled joint" } else { joint.title.as_str() };
        let sign = if self.document.journal.edited() { "\u{2022} " } else { "" };
        format!("{sign}{title} \u{2013} Shankline")
    }

    fn look(&self) -> Look<'_> {
        let shown = self.document.shown();
        Look {
            joint: &shown.joint,
            trace: &shown.trace,
            findings: &shown.findings,
            known: &shown.known,
            judgement: self.judgement(),
            stock: &self.stock,
            chosen: self.chosen.as_ref(),
            also: &self.also,
            driving: self.driving.as_ref(),
            kept: self.document.kept(),
            version: self.document.version(),
            picture: self.document.picture(),
            kept_version: self.document.kept_version(),
            making: self.making.as_ref(),
            cuts: self.cuts,
            view: self.canvas.view,
            shown: if self.beside.is_empty() { Shown::One(self.canvas.view) } else { Shown::All },
            colours: Colours::of(self.dark),
        }
    }

    /// Lets the canvas do something with the look.
    fn with_look<T>(&mut self, act: impl FnOnce(&mut canvas::Pane, &Look<'_>) -> T) -> T {
        let mut canvas = std::mem::take(&mut self.canvas);
        let shown = if self.beside.is_empty() { Shown::One(canvas.view) } else { Shown::All };
        let look = Look { view: canvas.view, shown, ..self.look() };
        let answer = act(&mut canvas, &look);
        self.canvas = canvas;
        answer
    }

    /// Makes what is drawn anew, after the joint, the choice or the colours have changed.
    fn draw_again(&mut self) {
        self.each_canvas(canvas::Pane::draw_again);
        let mut cores = std::mem::take(&mut self.cores);
        cores.draw_again(&self.look());
        self.cores = cores;
        let mut carries = std::mem::take(&mut self.carries);
        carries.refresh(self.document.version(), self.document.in_hand(), &self.look());
        self.carries = carries;
        let mut sheet = std::mem::take(&mut self.sheet);
        sheet.refresh(self.document.version(), &self.look());
        self.sheet = sheet;
        let mut selected = std::mem::take(&mut self.selected);
        selected.refresh(&self.look());
        self.selected = selected;
        if !self.document.in_hand() {
            let mut pane = std::mem::take(&mut self.stock_pane);
            pane.judge(self.document.version(), &self.look());
            self.stock_pane = pane;
        }
    }

    /// What happened, done; and unsaved work kept aside.
    pub fn update(&mut self, message: Message) -> Task<Message> {
        let before = (self.document.kept_version(), self.stock_pane.swaps().map(str::to_owned));
        let task = self.on_message(message);
        let task = task.chain(self.bring_into_sight(&before));
        let aside = self.keep_aside();
        let work = self.work_on();
        Task::batch([task, aside, work])
    }

    fn on_message(&mut self, message: Message) -> Task<Message> {
        let action = match message {
            Message::Top(it) => top::update(&it),
            Message::Stock(it) => self.in_stock(it),
            Message::Canvas(it) => self.in_canvas(&it),
            Message::CanvasOf(from, it) => self.in_canvas_of(from, &it),
            Message::Cores(it) => self.in_cores(&it),
            Message::Findings(it) => self.in_findings(&it),
            Message::Selected(it) => return self.hear_selected(it),
            Message::Carries(it) => self.in_carries(it),
            Message::Sheet(it) => self.in_sheet(&it),
            Message::Making(it) => {
                self.in_fields = matches!(it, making::Message::Typed(..));
                // What was refused may be mended by it.
                self.said = None;
                self.making.as_mut().map_or(Action::None, |making| making.update(it))
            }
            Message::Starters(it) => return self.in_starters(it),
            Message::Dialog(it) => return self.in_dialog(it),
            Message::Key(it) => return self.in_keys(&it),
            Message::Resized(size) => {
                self.size = size;
                Action::None
            }
            Message::CloseRequested => Action::Do(look::Command::Close),
            Message::PathPicked(purpose, path) => return self.path_picked(purpose, path),
            Message::Opened(path, read) => return self.opened(path, read),
            Message::Saved(path, mark, result) => return self.saved(path, mark, result),
            Message::Exported(path, result) => return self.exported(&path, result),
            Message::Remedied(of, at, list) => {
                self.remedied(of, at, list);
                return Task::none();
            }
            it @ (Message::JudgedSoFar(..) | Message::Judged(..) | Message::Paged(..)) => {
                self.hear_beside(it);
                return Task::none();
            }
            it @ (Message::KeptAside(_)
            | Message::Hovered(_)
            | Message::Dropped(_)
            | Message::Focused
            | Message::Clicked
            | Message::HasKeyboard(_)) => return self.hear_of_the_window(it),
            Message::Pasted(text) => {
                self.paste(text.as_deref());
                self.draw_again();
                return Task::none();
            }
        };
        self.act(action)
    }

    fn in_stock(&mut self, message: stock::Message) -> Action {
        let mut pane = std::mem::take(&mut self.stock_pane);
        let action = pane.update(message, &self.look());
        self.stock_pane = pane;
        action
    }

    fn in_canvas(&mut self, message: &canvas::Message) -> Action {
        if matches!(message, canvas::Message::Pressed(_)) {
            self.in_fields = false;
            self.settle_fields();
        }
        self.with_look(|pane, look| pane.update(message, look))
    }

    fn in_cores(&mut self, message: &cores::Message) -> Action {
        let mut pane = std::mem::take(&mut self.cores);
        let action = pane.update(message, &self.look());
        self.cores = pane;
        action
    }

    fn in_findings(&mut self, message: &findings::Message) -> Action {
        let mut pane = std::mem::take(&mut self.findings);
        let action = pane.update(message, &self.look());
        self.findings = pane;
        action
    }

    fn in_selected(&mut self, message: selected::Message) -> Action {
        self.in_fields = match message {
            selected::Message::Typed(..)
            | selected::Message::Entered(_)
            | selected::Message::ArrangeTyped(..) => true,
            // Whoever picks by the keyboard goes on to the next field.
            selected::Message::Picked(..) => self.in_fields,
            selected::Message::ThingPressed(_)
            | selected::Message::Pressed(_)
            | selected::Message::Arranged(_) => false,
        };
        let mut pane = std::mem::take(&mut self.selected);
        let action = pane.update(message, &self.look());
        self.selected = pane;
        action
    }

    fn in_carries(&mut self, message: carries::Message) -> Action {
        // The choices have fields of their own, that Tab goes through.
        self.in_fields = matches!(message, carries::Message::Choices(_));
        let mut pane = std::mem::take(&mut self.carries);
        let action = pane.update(message, &self.look());
        self.carries = pane;
        action
    }

    pub(super) fn in_sheet(&mut self, message: &sheet::Message) -> Action {
        self.in_fields = matches!(message, sheet::Message::Typed(..) | sheet::Message::Entered(_));
        let mut pane = std::mem::take(&mut self.sheet);
        let action = pane.update(message, &self.look());
        self.sheet = pane;
        action
    }

    /// Opens or closes the panel of working and choices.
    pub(super) fn open_panel(&mut self, panel: carries::Panel) {
        self.settle_fields();
        let mut pane = std::mem::take(&mut self.carries);
        pane.open(panel, &self.look());
        self.carries = pane;
    }

    /// What is shown.
    #[must_use]
    pub fn view(&self) -> Element<'_, Message> {
        let look = self.look();
        let colours = look.colours;
        let left = column![
            row![
                self.stock_pane.view(&look).map(Message::Stock),
                parts::upright(colours),
                self.middle(&look)
            ]
            .height(Length::Fill),
            parts::rule(colours),
            self.below(&look),
        ];
        let window = column![
            top::view(self.top_state(), &look).map(Message::Top),
            parts::rule(colours),
            row![left.width(Length::Fill), parts::upright(colours), self.right(&look)].height(Length::Fill),
            parts::rule(colours),
            foot::view(self.foot_words(&look), self.size.width, &look),
        ];
        // The ground has the colour of the panes already; painting it again would cost more than all words on it.
        let ground = container(window).width(Length::Fill).height(Length::Fill);
        let ground = theme::under(ground, self.sheet.is_open());
        let large = self.carries.view_large(&look).map(Message::Carries);
        let sheet = self.sheet.view(self.said.as_deref(), &look).map(Message::Sheet);
        // A panel over the window has the keyboard for itself.
        let is_asked = self.dialog != Dialog::Closed;
        let is_behind = is_asked || self.starters.is_some();
        let ground = theme::behind(ground, is_behind);
        let large = theme::behind(large, is_behind || self.sheet.is_open());
        let sheet = theme::behind(sheet, is_behind);
        let state = dialog::State {
            journal: &self.document.journal,
            recent: self.recent(),
            scale: (self.scale, self.most_scale()),
            colours,
        };
        let dialog = dialog::view(&self.dialog, state).map(Message::Dialog);
        let dropping: Element<'_, Message> =
            if self.dropping { dialog::drop_here(colours) } else { iced::widget::space().into() };
        let starters = self.starters.as_ref().map(|it| it.view(colours).map(Message::Starters));
        let starters = starters.map_or_else(|| iced::widget::space().into(), |it| dialog::wide(it, colours));
        let starters = theme::behind(starters, is_asked);
        stack![ground, large, sheet, starters, dialog, dropping].into()
    }

    fn top_state(&self) -> top::State<'_> {
        let journal = &self.document.journal;
        top::State {
            edited: journal.edited(),
            file: self.document.path.as_ref().and_then(|it| it.file_name()).and_then(|it| it.to_str()),
            width_px: self.size.width,
            undo: journal.undo_name(),
            redo: journal.redo_name(),
        }
    }

    /// Keys that no field took, and the wish to close.
    pub fn subscription(&self) -> Subscription<Message> {
        Subscription::batch([
            keyboard::listen().map(Message::Key),
            iced::event::listen_with(asked::escape_from_a_field),
            iced::event::listen_with(safety::of_the_window),
            iced::window::resize_events().map(|(_, size)| Message::Resized(size)),
            iced::window::close_requests().map(|_| Message::CloseRequested),
        ])
    }
}
