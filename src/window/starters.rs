//! The panel of starting joints: one is picked, its sizes are asked for, and it is shown as it would be drawn.

use std::collections::BTreeMap;

use iced::widget::canvas::{self, Cache, Canvas, Geometry};
use iced::widget::{button, column, container, row, space, stack, text, text_input};
use iced::{Alignment, Length, Rectangle, Renderer, Theme, mouse};
use kurbo::Rect;

use super::canvas::camera::{Camera, PX_PER_MM, Room};
use super::canvas::{hit, pen};
use super::document::Chain;
use super::theme::{self, Colours, Element, control, gap, part_px, parts, reach, text_px};
use super::top::{Named, STANDARDS};
use crate::drawing::{self, Inputs, Item};
use crate::findings::Severity;
use crate::joint::{Edit, Joint, StandardId};
use crate::sketch::arrange::clip::inserted;
use crate::sketch::motion::Motion;
use crate::sketch::question::Sizes;
use crate::sketch::start::{STARTERS, Starter};
use crate::stock::Stock;
use crate::unit::Vec3;

/// Pixels kept free round all that is drawn.
const EDGE_PX: f64 = 10.0;
/// So often at most a drawing is fitted in.
const MOST_FITS: usize = 5;

/// What the panel remembers.
#[derive(Debug)]
pub struct Panel {
    at: usize,
    by: StandardId,
    texts: BTreeMap<&'static str, String>,
    made: Result<Box<Chain>, String>,
    items: Vec<Item>,
    camera: Camera,
    painted: Cache,
}

/// What happened in it.
#[derive(Clone, Debug, PartialEq)]
pub enum Message {
    /// Another starting joint was picked.
    Picked(usize),
    /// Another standard, and with it other usual sizes, was picked.
    By(Named<StandardId>),
    /// A size was typed.
    Typed(&'static str, String),
    /// The drawing of it has another size.
    Resized(f64, f64),
    /// Begin with it.
    BeginPressed,
    /// Back to the joint.
    CancelPressed,
}

impl Panel {
    /// The first one at its usual sizes.
    #[must_use]
    pub fn new(by: StandardId, stock: &Stock) -> Self {
        let mut new = Self {
            at: 0,
            by,
            texts: BTreeMap::new(),
            made: Err(String::new()),
            items: Vec::new(),
            camera: Camera { viewport_px: (360.0, 320.0), ..Camera::default() },
            painted: Cache::new(),
        };
        new.draw(stock);
        new
    }

    fn starter(&self) -> &'static Starter {
        &STARTERS[self.at.min(STARTERS.len() - 1)]
    }

    /// The joint as it would be; or why there is none, in words.
    ///
    /// # Errors
    /// Sizes that cannot be read or drawn together.
    pub fn joint(&self) -> Result<&Joint, &str> {
        self.made.as_ref().map(|it| &it.joint).map_err(String::as_str)
    }

    /// What it is called.
    #[must_use]
    pub fn title(&self) -> &'static str {
        self.starter().title
    }

    /// What happened in the panel, but for its ends.
    pub fn update(&mut self, message: Message, stock: &Stock) {
        match message {
            Message::Picked(at) => {
                self.at = at;
                self.texts.clear();
            }
            Message::By(by) => {
                self.by = by.it;
                self.texts.clear();
            }
            Message::Typed(key, text) => {
                let _ = self.texts.insert(key, text);
            }
            Message::Resized(width, height) => self.camera.viewport_px = (width, height),
            Message::BeginPressed | Message::CancelPressed => return,
        }
        self.draw(stock);
    }

    /// What picks the next starting joint, or the one before.
    #[must_use]
    pub fn other(&self, next: bool) -> Message {
        let step = if next { 1 } else { STARTERS.len() - 1 };
        Message::Picked((self.at + step) % STARTERS.len())
    }

    fn draw(&mut self, stock: &Stock) {
        let starter = self.starter();
        let typed = self.texts.iter().map(|it| (*it.0, it.1.as_str()));
        let made = Sizes::read(starter.questions, self.by, typed).and_then(|it| starter.start(&it, stock));
        self.made = made.map(|it| Box::new(Chain::in_hand(it))).map_err(|it| it.to_string());
        self.items.clear();
        self.painted.clear();
        let Ok(chain) = &self.made else { return };
        let inputs = Inputs { joint: &chain.joint, trace: &chain.trace, findings: &chain.findings };
        let Some(extent) = drawing::extent(&inputs) else { return };
        let mut room = Room { left: 70.0, above: 50.0, right: 110.0, below: 70.0 };
        // What marks and dimensions take up round it is measured on the drawing, which changes a little with the scale.
        for _ in 0..MOST_FITS {
            self.camera.fit(Some(extent), &room);
            let seen = self.camera.shown_on_paper();
            self.items = drawing::front_within(&inputs, &self.camera.view(), Some(seen));
            let Some(drawn) = drawn_on(&self.items) else { return };
            if seen.union(drawn) == seen {
                return;
            }
            room = round(&self.camera, extent, drawn);
        }
    }

    /// The box on paper round what is drawn, and that which is seen.
    #[must_use]
    pub fn drawn_and_seen(&self) -> Option<(Rect, Rect)> {
        Some((drawn_on(&self.items)?, self.camera.shown_on_paper()))
    }

    /// The name of the field of the first size.
    #[must_use]
    pub fn first_field(&self) -> Option<String> {
        self.starter().questions.first().map(|it| field_name(it.key))
    }

    /// The panel.
    #[must_use]
    pub fn view<'a>(&'a self, colours: &'static Colours) -> Element<'a, Message> {
        let mut list = column![].spacing(1.0).width(part_px::STOCK);
        for (n, it) in STARTERS.iter().enumerate() {
            let line = button(text(it.title).size(text_px::BODY))
                .width(Length::Fill)
                .padding(gap::LINE)
                .style(control::line_button(colours, n == self.at))
                .on_press(Message::Picked(n));
            list = list.push(reach(line, Some(Message::Picked(n)), colours.accent));
        }
        let drawn =
            container(self.drawn(colours)).height(Length::Fill).style(control::surface(colours.canvas));
        let middle = column![parts::body(self.starter().says, colours), drawn, self.below(colours)]
            .spacing(gap::ROW)
            .width(Length::Fill);
        let begin = self.made.is_ok().then_some(Message::BeginPressed);
        let face = button(text("Begin with it").size(text_px::BODY).font(theme::BOLD))
            .padding(gap::CONTROL)
            .style(control::main_button(colours))
            .on_press_maybe(begin.clone());
        let back = button(text("Cancel").size(text_px::BODY))
            .padding(gap::CONTROL)
            .style(control::plain_button(colours))
            .on_press(Message::CancelPressed);
        let head = row![
            text("Start from a ready joint").size(text_px::TITLE).font(theme::BOLD),
            parts::soft("Up and down pick another, Tab goes from size to size, Enter begins.", colours),
            space().width(Length::Fill),
            reach(back, Some(Message::CancelPressed), colours.accent),
            reach(face, begin, colours.text),
        ]
        .spacing(gap::ROW)
        .align_y(Alignment::Center);
        column![head, row![list, middle, self.fields(colours)].spacing(gap::PANE).height(Length::Fill)]
            .spacing(gap::PANE)
            .into()
    }

    fn below<'a>(&'a self, colours: &'static Colours) -> Element<'a, Message> {
        let (words, colour) = match &self.made {
            Ok(chain) => {
                let of = |severity| chain.findings.list.iter().filter(|it| it.severity == severity).count();
                match (of(Severity::Fault), of(Severity::Caution)) {
                    (0, 0) => ("No fault and no caution at these sizes, as drawn.".to_owned(), colours.soft),
                    (0, cautions) => (format!("Cautions at these sizes: {cautions}."), colours.caution),
                    (faults, _) => (
                        format!("Faults at these sizes: {faults}. They are told when you begin."),
                        colours.fault,
                    ),
                }
            }
            Err(why) => (why.clone(), colours.fault),
        };
        text(words).size(text_px::SMALL).style(control::words(colour)).into()
    }

    fn fields<'a>(&'a self, colours: &'static Colours) -> Element<'a, Message> {
        let now = STANDARDS.iter().find(|it| it.it == self.by).copied();
        let by = parts::picker(STANDARDS, now, Message::By, |it| it.width(Length::Fill), colours);
        let mut list = column![by].spacing(gap::TIGHT);
        for question in self.starter().questions {
            let shown = || question.shown(question.default(self.by), self.by);
            let now = self.texts.get(question.key).cloned().unwrap_or_else(shown);
            let bad = question.read(&now, self.by).is_err();
            let key = question.key;
            let field = text_input("", &now)
                .id(iced::widget::Id::from(field_name(key)))
                .size(text_px::BODY)
                .padding(gap::CONTROL)
                .style(control::field(colours, bad))
                .on_submit(Message::BeginPressed)
                .on_input(move |it| Message::Typed(key, it));
            list = list.push(column![parts::soft(question.asks, colours), field].spacing(1.0));
        }
        let inside = container(list).padding(iced::Padding::default().right(gap::PANE)).width(Length::Fill);
        container(parts::scroll_of(self.at, inside, colours))
            .width(part_px::STOCK)
            .height(Length::Fill)
            .into()
    }

    fn drawn<'a>(&'a self, colours: &'static Colours) -> Element<'a, Message> {
        let drawn = Canvas::new(Drawn { panel: self, colours }).width(Length::Fill).height(Length::Fill);
        stack![space().width(Length::Fill).height(Length::Fill), drawn].clip(true).into()
    }
}

/// The box on paper round items.
fn drawn_on(items: &[Item]) -> Option<Rect> {
    items.iter().map(|it| hit::bounds(&it.shape)).reduce(|a, b| a.union(b))
}

/// The room that what is drawn takes up beyond the joint itself.
fn round(camera: &Camera, extent: Rect, drawn: Rect) -> Room {
    let view = camera.view();
    let corner = |x: f64, y: f64| view.on_paper(Vec3::new(x, y, 0.0));
    let joint = Rect::from_points(corner(extent.x0, extent.y0), corner(extent.x1, extent.y1));
    let room = |mm: f64| mm.max(0.0) * PX_PER_MM + EDGE_PX;
    Room {
        left: room(joint.x0 - drawn.x0),
        above: room(joint.y0 - drawn.y0),
        right: room(drawn.x1 - joint.x1),
        below: room(drawn.y1 - joint.y1),
    }
}

/// The joint as it would be.
struct Drawn<'a> {
    panel: &'a Panel,
    colours: &'static Colours,
}

impl canvas::Program<Message> for Drawn<'_> {
    type State = ();

    fn update(
        &self,
        _state: &mut (),
        _event: &iced::Event,
        bounds: Rectangle,
        _cursor: mouse::Cursor,
    ) -> Option<canvas::Action<Message>> {
        let (width, height) = (f64::from(bounds.width), f64::from(bounds.height));
        let known = self.panel.camera.viewport_px;
        let differs = 0.5 < (width - known.0).abs() || 0.5 < (height - known.1).abs();
        differs.then(|| canvas::Action::publish(Message::Resized(width, height)))
    }

    fn draw(
        &self,
        _state: &(),
        renderer: &Renderer,
        _theme: &Theme,
        bounds: Rectangle,
        _cursor: mouse::Cursor,
    ) -> Vec<Geometry> {
        let painted = self.panel.painted.draw(renderer, bounds.size(), |frame| {
            let lay = pen::Lay::new(self.panel.camera.paper_origin_px(), bounds);
            pen::paint(frame, &self.panel.items, &lay, pen::Words::All, self.colours);
        });
        vec![painted]
    }
}

/// The step that makes an empty joint this one.
#[must_use]
pub fn begun(joint: &Joint, start: &Joint) -> Edit {
    let mut edits = vec![
        Edit::Title(start.title.clone()),
        Edit::ShowLengthsIn(start.show_lengths_in),
        Edit::Standard(start.standard),
        Edit::Service(start.service),
        Edit::Conditions(start.conditions),
        Edit::Notes(start.notes.clone()),
    ];
    if let Ok((things, _)) = inserted(joint, start, &Motion::shift(Vec3::default())) {
        edits.push(things);
    }
    Edit::All(edits)
}

/// The name by which the field of a size is found among all widgets.
fn field_name(key: &str) -> String {
    format!("start {key}")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn no_mark_and_no_dimension_of_a_ready_joint_is_cut() {
        let stock = Stock::built_in();
        // As large as the panel's drawing is in windows of 1280x800 and 1920x1080, and in a small one.
        for size in [(700.0, 560.0), (1340.0, 840.0), (640.0, 420.0)] {
            for by in STANDARDS.iter().map(|it| it.it) {
                let mut panel = Panel::new(by, &stock);
                panel.update(Message::Resized(size.0, size.1), &stock);
                for (n, starter) in STARTERS.iter().enumerate() {
                    panel.update(Message::Picked(n), &stock);
                    let (drawn, seen) = panel.drawn_and_seen().expect("it is drawn");
                    let title = starter.title;
                    assert!(
                        seen.inflate(0.01, 0.01).contains_rect(drawn),
                        "{title} {size:?}: {drawn:?} {seen:?}"
                    );
                }
            }
        }
    }
}
