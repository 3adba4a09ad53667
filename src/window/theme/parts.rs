//! Small parts that several panes show alike: heads, rules, words, the mark of a severity.

use std::borrow::Borrow;
use std::cell::RefCell;
use std::hash::{DefaultHasher, Hash as _, Hasher as _};
use std::rc::Rc;

use iced::widget::canvas::{self, Cache, Canvas, Geometry};
use iced::widget::{PickList, column, container, pick_list, row, scrollable, space, text};
use iced::{Alignment, Length, Rectangle, Renderer, Theme, mouse};
use kurbo::{BezPath, Point, Shape as _};

use super::afresh::afresh;
use super::picking::{Options, picking};
use super::{BOLD, Colours, Element, control, gap, part_px, text_px};
use crate::drawing::{Anchor, Fill, Ink, Item, Layer, Line, Mood, Shape};
use crate::window::canvas::camera::PX_PER_MM;
use crate::window::canvas::{letters, pen};

/// The head of a pane, with words at its right end.
pub fn head<'a, M: 'a>(words: &'a str, right: String, colours: &'static Colours) -> Element<'a, M> {
    row![
        text(words).size(text_px::SMALL).font(BOLD).style(control::words(colours.soft)),
        space().width(Length::Fill),
        text(right).size(text_px::SMALL).style(control::words(colours.soft)),
    ]
    .spacing(gap::ROW)
    .into()
}

/// The head of a part of a pane.
pub fn part_head<'a, M: 'a>(words: impl text::IntoFragment<'a>, colours: &'static Colours) -> Element<'a, M> {
    text(words).size(text_px::BODY).font(BOLD).style(control::words(colours.text)).into()
}

/// Ordinary words.
pub fn body<'a, M: 'a>(words: impl text::IntoFragment<'a>, colours: &'static Colours) -> Element<'a, M> {
    text(words).size(text_px::BODY).style(control::words(colours.text)).into()
}

/// Words that stand back.
pub fn soft<'a, M: 'a>(words: impl text::IntoFragment<'a>, colours: &'static Colours) -> Element<'a, M> {
    text(words).size(text_px::SMALL).style(control::words(colours.soft)).into()
}

/// The label of a row.
pub fn label<'a, M: 'a>(words: impl text::IntoFragment<'a>, colours: &'static Colours) -> Element<'a, M> {
    container(soft(words, colours)).width(part_px::LABEL).into()
}

/// So many options of a list are seen at once; the least window has room for them above or below any list.
const MOST_SEEN: usize = 10;
/// A line of an option, in heights of its letters: what the toolkit's menu has by itself.
const LINE_HEIGHT: f32 = 1.3;
/// An option of a list, in pixels: a whole number, so that whole options are scrolled exactly.
pub(super) const OPTION_PX: f32 = 27.0;

/// A list to pick one thing from, as all of them look, for the mouse and the keyboard; `shaped` gives it its width.
pub fn picker<'a, T: Clone + PartialEq + ToString + 'a, L: Borrow<[T]> + 'a, M: Clone + 'a>(
    all: L,
    now: Option<T>,
    picked: impl Fn(T) -> M + 'a,
    shaped: impl FnOnce(PickList<'a, T, L, T, M>) -> PickList<'a, T, L, T, M>,
    colours: &'static Colours,
) -> Element<'a, M> {
    let options = all.borrow().to_vec();
    let picked = Rc::new(picked);
    let by_key = picked.clone();
    let keys = Options {
        count: options.len(),
        now: now.as_ref().and_then(|now| options.iter().position(|it| it == now)),
        pick: Box::new(move |at| options.get(at).cloned().map(|it| by_key(it))),
        seal: now.as_ref().map_or(0, |it| seal(&it.to_string())),
        ring: colours.accent,
    };
    // Whole options are seen, never a part of one; of a long list the rest is scrolled to.
    #[expect(clippy::cast_precision_loss, reason = "a few options")]
    let seen = keys.count.min(MOST_SEEN) as f32;
    let list = pick_list(all, now, move |it| picked(it))
        .menu_height(seen * OPTION_PX)
        .text_line_height(LINE_HEIGHT)
        .padding([(OPTION_PX - text_px::BODY * LINE_HEIGHT) / 2.0, gap::CONTROL[1]])
        .text_size(text_px::BODY)
        .style(control::pick(colours))
        .menu_style(control::pick_menu(colours));
    picking(shaped(list), keys)
}

/// A number of words, another one for other words.
fn seal(words: &str) -> u64 {
    let mut hasher = DefaultHasher::new();
    words.hash(&mut hasher);
    hasher.finish()
}

/// A row with a list to pick one thing from.
pub fn pick<'a, T: Clone + PartialEq + ToString + 'a, M: Clone + 'a>(
    words: &'a str,
    all: Vec<T>,
    now: Option<T>,
    picked: impl Fn(T) -> M + 'a,
    colours: &'static Colours,
) -> Element<'a, M> {
    let list = picker(all, now, picked, |it| it.width(Length::Fill), colours);
    row![label(words, colours), list].spacing(gap::ROW).align_y(Alignment::Center).into()
}

/// The same with its label above it, for long words.
pub fn wide_pick<'a, T: Clone + PartialEq + ToString + 'a, M: Clone + 'a>(
    words: &'a str,
    all: Vec<T>,
    now: Option<T>,
    picked: impl Fn(T) -> M + 'a,
    colours: &'static Colours,
) -> Element<'a, M> {
    let list = picker(all, now, picked, |it| it.width(Length::Fill), colours);
    column![soft(words, colours), list].spacing(gap::TIGHT).into()
}

/// A part that scrolls up and down, with a slim bar.
pub fn scroll<'a, M: 'a>(
    content: impl Into<Element<'a, M>>,
    colours: &'static Colours,
) -> iced::widget::Scrollable<'a, M> {
    let bar = scrollable::Scrollbar::new().width(6.0).scroller_width(6.0).margin(2.0);
    scrollable(content)
        .direction(scrollable::Direction::Vertical(bar))
        .width(Length::Fill)
        .height(Length::Fill)
        .style(control::scroll(colours))
}

/// A part that scrolls, and begins at its top again whenever it shows something else.
pub fn scroll_of<'a, K: Copy + PartialEq + 'static, M: 'a>(
    what: K,
    content: impl Into<Element<'a, M>>,
    colours: &'static Colours,
) -> Element<'a, M> {
    afresh(what, scroll(content, colours))
}

/// A thin line across.
pub fn rule<'a, M: 'a>(colours: &'static Colours) -> Element<'a, M> {
    container(space()).width(Length::Fill).height(1.0).style(control::stripe(colours.rule)).into()
}

/// A thin line from top to bottom.
pub fn upright<'a, M: 'a>(colours: &'static Colours) -> Element<'a, M> {
    container(space()).width(1.0).height(Length::Fill).style(control::stripe(colours.rule)).into()
}

/// The mark of a severity: filled for a fault, dashed for a caution, outlined for the rest, with a number in it.
pub fn mark<'a, M: 'a>(words: String, mood: Mood, colours: &'static Colours) -> Element<'a, M> {
    let items = mark_items(&words, mood);
    let square = Canvas::new(Mark { words, mood, colours }).width(part_px::MARK).height(part_px::MARK);
    letters::on(square, items, Point::ORIGIN, colours)
}

struct Mark {
    words: String,
    mood: Mood,
    colours: &'static Colours,
}

/// What a mark was painted as, so that it is painted again only when it changes.
#[derive(Default)]
struct Painted {
    cache: Cache,
    as_was: RefCell<Option<(String, Mood, bool)>>,
}

impl<M> canvas::Program<M> for Mark {
    type State = Painted;

    fn draw(
        &self,
        state: &Painted,
        renderer: &Renderer,
        _theme: &Theme,
        bounds: Rectangle,
        _cursor: mouse::Cursor,
    ) -> Vec<Geometry> {
        let now = Some((self.words.clone(), self.mood, self.colours.dark));
        if state.as_was.replace(now.clone()) != now {
            state.cache.clear();
        }
        let painted = state.cache.draw(renderer, bounds.size(), |frame| {
            let lay = pen::Lay::new(Point::ORIGIN, bounds);
            pen::paint(frame, &mark_items(&self.words, self.mood), &lay, pen::Words::Turned, self.colours);
        });
        vec![painted]
    }
}

/// A mark as items of a drawing, in a square of the size of a mark.
fn mark_items(words: &str, mood: Mood) -> Vec<Item> {
    let side = f64::from(part_px::MARK) / PX_PER_MM;
    let square = kurbo::RoundedRect::new(0.4, 0.4, side - 0.4, side - 0.4, 0.9).to_path(0.01);
    let path = match mood {
        Mood::Caution => kurbo::dash(square.iter(), 0.0, &[0.9, 0.6]).collect::<BezPath>(),
        Mood::Fault | Mood::Quiet => square.clone(),
    };
    let fill = match mood {
        Mood::Fault => Some(Fill::Mark(mood)),
        Mood::Caution | Mood::Quiet => None,
    };
    let item = |shape| Item { layer: Layer::Marks, subject: None, shape };
    let size_mm = if words.chars().count() < 3 { 3.4 } else { 2.6 };
    vec![
        item(Shape::Path { path: square, fill, line: None }),
        item(Shape::Path { path, fill: None, line: Some(Line::Mark(mood)) }),
        item(Shape::Text {
            at: Point::new(side / 2.0, side / 2.0 + 0.36 * size_mm),
            words: words.to_owned(),
            size_mm,
            anchor: Anchor::Middle,
            turn_deg: 0.0,
            bold: true,
            ink: if fill.is_some() { Ink::OnMark } else { Ink::Mood(mood) },
        }),
    ]
}
