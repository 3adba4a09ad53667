//! Which views of the joint are shown, side by side, and which of them is worked in.

use iced::widget::{column, container, row};
use iced::{Length, Task};

use super::look::{Action, Look, Shown};
use super::theme::{Element, control, gap, part_px, parts};
use super::{App, Message, canvas};
use crate::joint::Look as From;

impl App {
    /// Lets every view that is shown do something with the look.
    pub(super) fn each_canvas(&mut self, act: impl Fn(&mut canvas::Pane, &Look<'_>)) {
        let (mut canvas, mut beside) = (std::mem::take(&mut self.canvas), std::mem::take(&mut self.beside));
        let mut look = self.look();
        look.shown = if beside.is_empty() { Shown::One(canvas.view) } else { Shown::All };
        for pane in std::iter::once(&mut canvas).chain(&mut beside) {
            look.view = pane.view;
            act(pane, &look);
        }
        (self.canvas, self.beside) = (canvas, beside);
    }

    /// Brings into sight what was not before: the joint, where a step has made it larger, and the size that another
    /// fastener has, among those that it may be swapped for. `before` is what was kept, and whose sizes were shown.
    pub(super) fn bring_into_sight(&mut self, before: &(u64, Option<String>)) -> Task<Message> {
        if self.document.kept_version() != before.0 {
            self.each_canvas(canvas::Pane::keep_in_sight);
        }
        match self.stock_pane.swaps() {
            Some(now) if before.1.as_deref() != Some(now) => super::theme::bring(super::stock::SIZE_NOW),
            Some(_) | None => Task::none(),
        }
    }

    /// Shows one view, or all three; the one that is worked in keeps its eye.
    pub(super) fn show_views(&mut self, shown: Shown) {
        // What was said of the view before is not so in another.
        self.said = None;
        self.canvas.gesture = canvas::gesture::Gesture::Idle;
        self.document.drop_preview();
        let viewport_px = self.canvas.camera.viewport_px;
        let mut all: Vec<canvas::Pane> = std::mem::take(&mut self.beside);
        all.push(std::mem::take(&mut self.canvas));
        let mut pick = |view: From| {
            let at = all.iter().position(|it| it.view == view);
            at.map(|at| all.swap_remove(at)).unwrap_or_else(|| {
                let mut fresh = canvas::Pane::default();
                fresh.view = view;
                fresh.camera.viewport_px = viewport_px;
                fresh
            })
        };
        match shown {
            Shown::One(view) => self.canvas = pick(view),
            Shown::All => {
                self.canvas = pick(From::Front);
                self.beside = vec![pick(From::Side), pick(From::Top)];
            }
        }
        self.each_canvas(canvas::Pane::fit);
    }

    /// What happened in a view that need not be the one that is worked in: a press there makes it that one.
    pub(super) fn in_canvas_of(&mut self, from: From, message: &canvas::Message) -> Action {
        if self.canvas.view == from {
            return self.in_canvas(message);
        }
        let Some(at) = self.beside.iter().position(|it| it.view == from) else { return Action::None };
        let passes = matches!(message, canvas::Message::Resized(..) | canvas::Message::Left);
        if passes || self.canvas.is_busy() {
            if passes {
                let mut pane = std::mem::take(&mut self.beside[at]);
                let _ = pane.update(message, &Look { view: from, ..self.look() });
                self.beside[at] = pane;
            }
            return Action::None;
        }
        self.beside[at].held = self.canvas.held;
        std::mem::swap(&mut self.canvas, &mut self.beside[at]);
        self.in_canvas(message)
    }

    pub(super) fn middle<'a>(&'a self, look: &Look<'a>) -> Element<'a, Message> {
        let pane = |view: From| {
            let found = self.beside.iter().find(|it| it.view == view).unwrap_or(&self.canvas);
            found.view(view != From::Front, look).map(move |it| Message::CanvasOf(view, it))
        };
        if self.beside.is_empty() {
            return self.canvas.view(false, look).map(Message::Canvas);
        }
        let colours = look.colours;
        let cell = |it, portion| container(it).width(Length::FillPortion(portion)).height(Length::Fill);
        let below = row![cell(pane(From::Front), 3), parts::upright(colours), cell(pane(From::Side), 2)];
        column![
            container(pane(From::Top)).width(Length::Fill).height(Length::FillPortion(2)),
            parts::rule(colours),
            container(below).width(Length::Fill).height(Length::FillPortion(3)),
        ]
        .into()
    }

    pub(super) fn below<'a>(&'a self, look: &Look<'a>) -> Element<'a, Message> {
        if self.carries.panel().is_some() && !self.carries.is_large() {
            let panel = self.carries.view(look).map(Message::Carries);
            return container(panel).height(part_px::PANEL_SHARE * self.size.height).into();
        }
        let wanted = canvas::pen::short(self.cores.height_px()) + 44.0;
        let content = column![
            parts::head("CORES", self.cores.words(look), look.colours),
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

    pub(super) fn right<'a>(&'a self, look: &Look<'a>) -> Element<'a, Message> {
        let found = self.findings.view(look).map(Message::Findings);
        let chosen = match &self.making {
            Some(making) => making.view(look).map(Message::Making),
            None => self.selected.view(self.carries.values(), look).map(Message::Selected),
        };
        let pane = |content, portion| {
            container(content)
                .padding(iced::Padding::from([gap::PANE, 0.0]).left(gap::PANE))
                .height(Length::FillPortion(portion))
        };
        // The same shares whatever is chosen, so that nothing jumps under the pointer.
        let both = column![pane(found, 9), parts::rule(look.colours), pane(chosen, 10)];
        container(both).width(part_px::RIGHT).height(Length::Fill).into()
    }
}
