//! What views are called: the name below each, and the frame with its letter round what a detail shows larger.

use kurbo::{Point, Rect, Shape as _, Vec2};

use super::Page;
use crate::drawing::pen::{self, Words};
use crate::drawing::place::{overlap, touches};
use crate::drawing::put::{Drawn, Puts};
use crate::drawing::text::{CAPITAL, Lettering, WORDS_MM};
use crate::drawing::{Anchor, Inputs, Item, Layer, Line, Shape};
use crate::joint::{Look, SheetView};
use crate::unit::length::{self, Rounding};

/// Paper for the name below a view, where there are several.
const NAME_MM: f64 = 7.0;

/// What a detail is called.
pub(super) const DETAIL_LETTER: &str = "A";

/// The frame round what a detail shows larger, with its letter where the user has put it, or at a corner where it
/// hides nothing.
pub(super) fn framed(lettering: &Lettering, puts: &Puts<'_>, window: Rect, drawn: &mut Drawn) {
    let path = pen::centre_line(&window.to_path(pen::TRUE_WITHIN_MM));
    drawn.items.push(pen::path(Layer::Notes, None, path, None, Some(Line::Dimension)));
    let half = Vec2::new(lettering.width_mm(DETAIL_LETTER, WORDS_MM, true), CAPITAL * WORDS_MM) / 2.0;
    let clear = 1.2;
    let all = || drawn.items.iter().chain(&drawn.put);
    let boxes: Vec<Rect> = all().filter_map(|it| room_of(lettering, it)).collect();
    let strokes: Vec<(Point, Point)> = all().flat_map(strokes_of).collect();
    let room = |middle: Point| Rect::from_center_size(middle, (2.0 * half.x, 2.0 * half.y)).inflate(0.4, 0.4);
    let is_free = |middle: &Point| {
        let room = room(*middle);
        !boxes.iter().any(|it| overlap(room, *it))
            && !strokes.iter().any(|(a, b)| touches(room, kurbo::Line::new(*a, *b)))
    };
    let (x, y) = (half.x + clear, half.y + clear);
    let places = [window.x1 - x, window.x0 + x, window.center().x].into_iter().flat_map(|at| {
        [window.y0 - y, window.y1 + y, window.y0 + y, window.y1 - y].map(|up| Point::new(at, up))
    });
    let beside = [window.y0 + y, window.center().y, window.y1 - y]
        .into_iter()
        .flat_map(|at| [window.x1 + x, window.x0 - x].map(|side| Point::new(side, at)));
    let (what, anchor) = ("letter of the detail", window.center());
    let put = puts.place(what, anchor);
    if let Some(middle) = put.or_else(|| places.chain(beside).find(is_free)) {
        let at = Point::new(middle.x, middle.y + half.y);
        let words = Words::new(DETAIL_LETTER, WORDS_MM).bold().anchored(Anchor::Middle);
        drawn.add([words.at(Layer::Notes, None, at)], put.is_some());
        drawn.handles.push(puts.handle(what, room(middle), anchor));
    }
}

/// What a letter must not lie on: words and marks.
fn room_of(lettering: &Lettering, item: &Item) -> Option<Rect> {
    match &item.shape {
        // Letters may reach below their line.
        Shape::Text { .. } => lettering.bounds(&item.shape).map(|it| it.inflate(0.8, 0.9)),
        Shape::Path { path, line: Some(Line::Mark(_)), .. } => Some(path.bounding_box()),
        Shape::Path { .. } => None,
    }
}

/// What must not run through it: all lines but hatching.
fn strokes_of(item: &Item) -> Vec<(Point, Point)> {
    match &item.shape {
        Shape::Path { line: Some(Line::Hatch | Line::SteelHatch) | None, .. } | Shape::Text { .. } => {
            Vec::new()
        }
        Shape::Path { path, .. } => pen::chords(path),
    }
}

/// The name below a view, or where the user has put it; its box grows by the one below.
pub(super) fn name(page: &Page<'_>, puts: &Puts<'_>, words: &str, at: &mut Rect) -> Drawn {
    let mut drawn = Drawn::default();
    let words = page.lettering.shortened(words, WORDS_MM, true, page.view.width());
    let Some(words) = words else { return drawn };
    let half = Vec2::new(page.lettering.width_mm(&words, WORDS_MM, true), CAPITAL * WORDS_MM) / 2.0;
    let anchor = Point::new(at.center().x, at.y1 + NAME_MM - 1.5 - half.y);
    let room = |middle: Point| Rect::from_center_size(middle, (2.0 * half.x, 2.0 * half.y));
    *at = at.union(Rect { y1: at.y1 + NAME_MM, ..room(anchor) });
    let put = puts.place("title", anchor);
    let middle = put.unwrap_or(anchor);
    let base = Point::new(middle.x, middle.y + half.y);
    let words = Words::new(words, WORDS_MM).bold().anchored(Anchor::Middle);
    drawn.add([words.at(Layer::Notes, None, base)], put.is_some());
    drawn.handles.push(puts.handle("title", room(middle), anchor));
    drawn
}

/// `Front`, or `Top, cut at y 4 1/2"`.
pub(super) fn words(inputs: &Inputs<'_>, view: &SheetView) -> String {
    let (name, axis) = match view.look {
        Look::Front => ("Front", "z"),
        Look::Side => ("Side, from the right", "x"),
        Look::Top => ("Top", "y"),
    };
    match view.cut_mm {
        Some(at) => {
            let at = length::format(at, inputs.joint.show_lengths_in, Rounding::Nearest);
            let name = if view.look == Look::Side { "Side" } else { name };
            format!("{name}, cut at {axis} {at}")
        }
        None => name.to_owned(),
    }
}
