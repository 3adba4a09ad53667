//! The window: shows a joint, lets it be handled, and hands every change to the chain.
//!
//! Each pane has its own state, message and update, and asks for an [`Action`]; only [`App`]
//! applies edits, keeps the undo journal and runs the chain again.

pub mod canvas;
pub mod carries;
mod commands;
pub mod cores;
pub mod dialog;
pub mod document;
pub mod files;
pub mod findings;
pub mod foot;
pub mod journal;
pub mod keys;
pub mod look;
mod run;
pub mod selected;
pub mod sheet;
pub mod stock;
pub mod theme;
pub mod top;
pub mod words;

use std::path::PathBuf;
use std::sync::Arc;

use iced::widget::{column, container, row, stack};
use iced::{Length, Subscription, Task, keyboard};

use self::dialog::{Dialog, Then};
use self::document::Document;
use self::files::Purpose;
use self::look::{Action, Look};
use self::theme::{Colours, Element, control, gap, part_px, parts};
use crate::drawing::Subject;
use crate::joint::{Fastener, Joint};
use crate::stock::{FastenerSpec, Stock};

pub use run::{program, run};

/// The window's state.
#[derive(Debug)]
pub struct App {
    stock: Arc<Stock>,
    document: Document,
    chosen: Option<Subject>,
    driving: Option<Arc<FastenerSpec>>,
    copied: Option<Fastener>,
    dark: bool,
    scale: f32,
    size: iced::Size,
    dialog: Dialog,
    /// The keyboard is in the fields of the pane of numbers: Tab goes from field to field.
    in_fields: bool,
    /// What to go on with once the joint is saved.
    then: Option<Then>,
    /// What was done last, in words, until something else is done.
    said: Option<String>,
    stock_pane: stock::Pane,
    canvas: canvas::Pane,
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
    /// In the canvas.
    Canvas(canvas::Message),
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
    Opened(PathBuf, files::Read),
    /// The joint was written as it stood at the mark, or not.
    Saved(PathBuf, journal::Mark, Result<(), String>),
    /// The detail was written, or not.
    Exported(PathBuf, Result<(), String>),
}

impl App {
    /// The window with a joint, and with its file where it came from one.
    #[must_use]
    pub fn new(stock: Arc<Stock>, joint: Joint, path: Option<PathBuf>) -> Self {
        let document = Document::new(joint, path, &stock);
        let mut app = Self {
            stock,
            document,
            chosen: None,
            driving: None,
            copied: None,
            dark: false,
            scale: 1.0,
            size: iced::Size::new(1280.0, 800.0),
            dialog: Dialog::Closed,
            in_fields: false,
            then: None,
            said: None,
            stock_pane: stock::Pane::default(),
            canvas: canvas::Pane::default(),
            cores: cores::Pane::default(),
            findings: findings::Pane::default(),
            selected: selected::Pane::default(),
            carries: carries::Pane::default(),
            sheet: sheet::Pane::default(),
        };
        app.with_look(canvas::Pane::fit);
        app.draw_again();
        app
    }

    /// The window on a joint file: a file that cannot be read opens a panel that says everything that is wrong with it.
    #[must_use]
    pub fn open(stock: Arc<Stock>, path: PathBuf) -> Self {
        match files::read(&path, &stock) {
            Ok(joint) => Self::new(stock, *joint, Some(path)),
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
            stock: &self.stock,
            chosen: self.chosen.as_ref(),
            driving: self.driving.as_ref(),
            colours: Colours::of(self.dark),
        }
    }

    /// Lets the canvas do something with the look.
    fn with_look<T>(&mut self, act: impl FnOnce(&mut canvas::Pane, &Look<'_>) -> T) -> T {
        let mut canvas = std::mem::take(&mut self.canvas);
        let answer = act(&mut canvas, &self.look());
        self.canvas = canvas;
        answer
    }

    /// Makes what is drawn anew, after the joint, the choice or the colours have changed.
    fn draw_again(&mut self) {
        self.with_look(canvas::Pane::draw_again);
        let mut cores = std::mem::take(&mut self.cores);
        cores.draw_again(&self.look());
        self.cores = cores;
        let mut carries = std::mem::take(&mut self.carries);
        carries.refresh(self.document.version(), self.document.in_hand(), &self.look());
        self.carries = carries;
        let mut sheet = std::mem::take(&mut self.sheet);
        sheet.refresh(self.document.version(), &self.look());
        self.sheet = sheet;
    }

    /// What happened, done.
    pub fn update(&mut self, message: Message) -> Task<Message> {
        let action = match message {
            Message::Top(it) => top::update(&it),
            Message::Stock(it) => self.in_stock(it),
            Message::Canvas(it) => self.in_canvas(&it),
            Message::Cores(it) => self.in_cores(&it),
            Message::Findings(it) => self.in_findings(&it),
            Message::Selected(it) => self.in_selected(it),
            Message::Carries(it) => self.in_carries(it),
            Message::Sheet(it) => self.in_sheet(&it),
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
        self.in_fields = matches!(message, selected::Message::Typed(..) | selected::Message::Entered(_));
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
        let mut pane = std::mem::take(&mut self.sheet);
        let action = pane.update(message, &self.look());
        self.sheet = pane;
        action
    }

    /// Opens or closes the panel of working and choices.
    pub(super) fn open_panel(&mut self, panel: carries::Panel) {
        let mut pane = std::mem::take(&mut self.carries);
        pane.open(panel, &self.look());
        self.carries = pane;
    }

    /// Does what a pane asked for.
    fn act(&mut self, action: Action) -> Task<Message> {
        match action {
            Action::None => return Task::none(),
            Action::Choose(subject) => self.choose(subject),
            Action::Show(subject, place) => {
                self.choose(subject);
                if let Some(place) = place {
                    self.with_look(|pane, look| pane.show(place, look));
                }
            }
            Action::Preview(name, edit) => self.document.preview(name, edit),
            Action::Keep(name, edit) => {
                self.settle_fields();
                self.document.keep(name, &edit, &self.stock.clone());
            }
            Action::KeepPreview => self.document.keep_preview(&self.stock.clone()),
            Action::DropPreview => self.document.drop_preview(),
            Action::Drive(spec) => self.driving = spec,
            Action::Do(command) => return self.command(command),
            Action::CopyText(words) => {
                self.said = Some(format!("Copied {} lines as text", words.lines().count()));
                return iced::clipboard::write(words);
            }
            Action::Again => {}
            Action::Focus(name) => return iced::widget::operation::focus(iced::widget::Id::new(name)),
            Action::All(actions) => {
                let tasks: Vec<_> = actions.into_iter().map(|it| self.act(it)).collect();
                return Task::batch(tasks);
            }
        }
        self.said = None;
        self.forget_what_is_gone();
        self.draw_again();
        Task::none()
    }

    fn choose(&mut self, subject: Option<Subject>) {
        if self.chosen != subject {
            self.settle_fields();
            self.chosen = subject;
        }
        let mut pane = std::mem::take(&mut self.findings);
        pane.release_unless_of(self.chosen.as_ref(), &self.look());
        self.findings = pane;
    }

    /// Keeps or drops what a field of the pane of numbers was in the middle of.
    fn settle_fields(&mut self) {
        let wanted = self.selected.settle();
        if wanted == Action::KeepPreview {
            self.document.keep_preview(&self.stock.clone());
        } else if wanted == Action::DropPreview {
            self.document.drop_preview();
        }
    }

    fn forget_what_is_gone(&mut self) {
        if self.chosen.as_ref().is_some_and(|it| !self.look().has(it)) {
            self.chosen = None;
        }
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
            foot::view(self.foot_words(&look), &look),
        ];
        let ground =
            container(window).width(Length::Fill).height(Length::Fill).style(control::surface(colours.pane));
        let large = self.carries.view_large(&look).map(Message::Carries);
        let sheet = self.sheet.view(&look).map(Message::Sheet);
        stack![ground, large, sheet, dialog::view(&self.dialog, colours).map(Message::Dialog)].into()
    }

    fn middle<'a>(&'a self, look: &Look<'a>) -> Element<'a, Message> {
        self.canvas.view(look).map(Message::Canvas)
    }

    fn below<'a>(&'a self, look: &Look<'a>) -> Element<'a, Message> {
        if self.carries.panel().is_some() && !self.carries.is_large() {
            let panel = self.carries.view(look).map(Message::Carries);
            return container(panel).height(part_px::PANEL_SHARE * self.size.height).into();
        }
        let wanted = canvas::pen::short(self.cores.height_px()) + 44.0;
        let content = column![
            parts::head("CORES", "what each shank passes through, from its head".into(), look.colours),
            self.cores.view(look).map(Message::Cores),
        ]
        .spacing(gap::TIGHT);
        container(content)
            .padding([gap::ROW, gap::PANE])
            .width(Length::Fill)
            .height(wanted.clamp(64.0, part_px::CORES_SHARE * self.size.height))
            .style(control::surface(look.colours.raised))
            .into()
    }

    fn right<'a>(&'a self, look: &Look<'a>) -> Element<'a, Message> {
        let found = self.findings.view(look).map(Message::Findings);
        let chosen = self.selected.view(self.carries.values(), look).map(Message::Selected);
        let pane = |content, portion| {
            container(content)
                .padding(iced::Padding::from([gap::PANE, 0.0]).left(gap::PANE))
                .height(Length::FillPortion(portion))
        };
        let portions = if self.chosen.is_some() { (9, 10) } else { (3, 2) };
        let both = column![pane(found, portions.0), parts::rule(look.colours), pane(chosen, portions.1)];
        container(both)
            .width(part_px::RIGHT)
            .height(Length::Fill)
            .style(control::surface(look.colours.pane))
            .into()
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

    fn foot_words(&self, look: &Look<'_>) -> String {
        self.said.clone().unwrap_or_else(|| foot::hint(&self.canvas.gesture, look))
    }

    /// Keys that no field took, and the wish to close.
    pub fn subscription(&self) -> Subscription<Message> {
        Subscription::batch([
            keyboard::listen().map(Message::Key),
            iced::event::listen_with(escape_from_a_field),
            iced::window::resize_events().map(|(_, size)| Message::Resized(size)),
            iced::window::close_requests().map(|_| Message::CloseRequested),
        ])
    }
}

/// Escape in a field: the field takes the key to let the cursor go, but the panel or the typing it belongs to
/// is meant.
fn escape_from_a_field(
    event: iced::Event,
    status: iced::event::Status,
    _window: iced::window::Id,
) -> Option<Message> {
    let iced::Event::Keyboard(pressed) = event else { return None };
    let is_escape = matches!(
        &pressed,
        keyboard::Event::KeyPressed { key: keyboard::Key::Named(keyboard::key::Named::Escape), .. }
    );
    (is_escape && status == iced::event::Status::Captured).then_some(Message::Key(pressed))
}
