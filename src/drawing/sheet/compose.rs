//! Which views a sheet shows, at what scale, and how they stand to each other.
//!
//! They are aligned as orthographic projections, third angle: the top above the front, the side at its right.

use kurbo::{Affine, Point, Rect, Shape as _, Vec2};

use super::Page;
use super::scale::Scale;
use crate::drawing::pen::Words;
use crate::drawing::projection::{Projection, Shows, Turned};
use crate::drawing::shanks::HEAD_ON_BELOW;
use crate::drawing::text::{CAPITAL, Lettering, WORDS_MM};
use crate::drawing::{Anchor, Handle, Inputs, Item, Layer, Shape, View, extent, front, moved};
use crate::joint::{Look, SheetView};
use crate::trace::Shank;
use crate::unit::length::{self, Rounding};

/// Paper between two views.
const BETWEEN_MM: f64 = 12.0;

/// Paper for the name below a view, where there are several.
const NAME_MM: f64 = 7.0;

/// Heads closer than this in the model are behind each other from the front.
const BEHIND_MM: f64 = 2.0;

/// Beside the fasteners a view across the depth shows at least so much of long members.
const LEAST_BESIDE_MM: f64 = 60.0;

/// A member is broken off only where the whole of it is longer than this many times what is shown.
const WORTH_BREAKING: f64 = 1.5;

/// Of so many steps at most the scale is made smaller for the sake of a further view.
const STEPS_FOR_MORE: usize = 2;

/// A view, turned and ready to be drawn at any scale.
pub(super) struct Shown<'a> {
    pub(super) view: SheetView,
    /// Its place among the views of the sheet.
    place: usize,
    /// What it is called where something in it is drawn aside: `front`, or `front 2` for the second one.
    name: String,
    turned: Option<Turned<'a>>,
    /// Ways that are dimensioned in it: those that another view shows too are dimensioned there.
    axes: (bool, bool),
}

/// Views as they are set on a page.
pub(super) struct Composed {
    pub(super) items: Vec<Item>,
    /// What can be drawn aside.
    pub(super) handles: Vec<Handle>,
    pub(super) scale: Scale,
    /// The scale that was asked for does not fit.
    pub(super) is_smaller_than_asked: bool,
    /// The views that it shows.
    pub(super) views: Vec<SheetView>,
    /// How many these are.
    pub(super) count: usize,
    places: Vec<usize>,
}

impl Composed {
    /// Whether this view is among them.
    pub(super) fn holds(&self, shown: &Shown<'_>) -> bool {
        self.places.contains(&shown.place)
    }
}

/// The views of a sheet: those that its settings name, else the front and what the joint needs beside it.
pub(super) fn views(inputs: &Inputs<'_>) -> Vec<SheetView> {
    let asked = &inputs.joint.sheet.views;
    if asked.is_empty() { needed(inputs) } else { asked.clone() }
}

/// The same, each turned.
pub(super) fn shown<'a>(inputs: &Inputs<'a>) -> Vec<Shown<'a>> {
    let views = views(inputs);
    let has_front = views.first().is_some_and(|it| it.look == Look::Front);
    let reach = reach(inputs);
    let looks: Vec<Look> = views.iter().map(|it| it.look).collect();
    let one = |(place, view): (usize, SheetView)| {
        let before = looks[..place].iter().filter(|it| **it == view.look).count();
        let word = match view.look {
            Look::Front => "front",
            Look::Side => "side",
            Look::Top => "top",
        };
        let name = if before == 0 { word.to_owned() } else { format!("{word} {}", before + 1) };
        let projection = Projection { look: view.look, cut_mm: view.cut_mm, reach_mm: reach };
        // The height of things is seen from the front and from the side, their width from above.
        let axes = match view.look {
            Look::Front => (place == 0, place == 0),
            Look::Side => (true, !has_front),
            Look::Top => (!has_front, true),
        };
        let turned = (!projection.is_front()).then(|| Turned::of(inputs, &projection));
        Shown { view, place, name, turned, axes }
    };
    views.into_iter().enumerate().map(one).collect()
}

/// The front, and a section that shows what it cannot: fasteners that it sees head on, or that lie behind
/// each other in it.
fn needed(inputs: &Inputs<'_>) -> Vec<SheetView> {
    let mut views = vec![SheetView { look: Look::Front, cut_mm: None }];
    let shanks = &inputs.trace.fasteners;
    let middle = |it: &Shank| it.head_at + it.toward * (it.length_mm / 2.0);
    let is_there = |it: &&Shank| 0.0 < it.length_mm;
    let has_twin = |it: &Shank| {
        shanks.iter().take(400).any(|other| {
            let apart = other.head_at - it.head_at;
            apart.x.hypot(apart.y) < BEHIND_MM && BEHIND_MM < apart.z.abs()
        })
    };
    let head_on = shanks.iter().filter(is_there).find(|it| it.toward.x.hypot(it.toward.y) < HEAD_ON_BELOW);
    let behind = || shanks.iter().take(400).filter(is_there).find(|it| has_twin(it));
    if let Some(shank) = head_on.or_else(behind) {
        let at = middle(shank);
        let is_level = shank.toward.y.abs() <= shank.toward.x.abs();
        let is_head_on = shank.toward.x.hypot(shank.toward.y) < HEAD_ON_BELOW;
        views.push(if is_level || is_head_on {
            SheetView { look: Look::Top, cut_mm: Some(at.y) }
        } else {
            SheetView { look: Look::Side, cut_mm: Some(at.x) }
        });
    }
    views
}

/// The part of the depth that is worth showing: round the fasteners and short bodies, with a good part of
/// the long members beside; `None` where that is nearly all.
fn reach(inputs: &Inputs<'_>) -> Option<(f64, f64)> {
    let trace = inputs.trace;
    let around = |low: f64, high: f64, (a, b): (f64, f64)| (low.min(a), high.max(b));
    let none = (f64::INFINITY, f64::NEG_INFINITY);
    let shanks = trace.fasteners.iter().filter(|it| 0.0 < it.length_mm).map(|it| {
        let end = it.head_at + it.toward * it.length_mm;
        (it.head_at.z.min(end.z), it.head_at.z.max(end.z))
    });
    let (low, high) = shanks.fold(none, |(low, high), it| around(low, high, it));
    let bodies = || trace.bodies.iter().map(|it| (it.far_mm, it.near_mm));
    let (far, near) = bodies().fold(none, |(low, high), it| around(low, high, it));
    if !(low <= high && far < near) {
        return None;
    }
    let beside = extent::of(inputs).map_or(0.0, |it| it.width().max(it.height()) * 0.35).max(LEAST_BESIDE_MM);
    // A body that ends near the fasteners is shown to its end.
    let (mut low, mut high) = (low - beside, high + beside);
    for (a, b) in bodies() {
        if low - beside <= a && a <= high {
            low = low.min(a - 1.0);
        }
        if low <= b && b <= high + beside {
            high = high.max(b + 1.0);
        }
    }
    (WORTH_BREAKING * (high - low) < near - far).then_some((low, high))
}

/// The views at the scale asked for, or at the largest standard scale that fits. A view that would make the
/// others much smaller is left for a page of its own.
pub(super) fn largest(page: &Page<'_>, views: &[&Shown<'_>]) -> Composed {
    let joint = page.inputs.joint;
    let asked = joint.sheet.scale.filter(|it| it.is_finite() && 0.0 < *it).map(Scale::new);
    let standard = Scale::standard(joint.show_lengths_in);
    let choices: Vec<Scale> = asked
        .into_iter()
        .chain(standard.filter(|it| asked.is_none_or(|asked| it.factor() <= asked.factor())))
        .collect();
    let first = choices.iter().position(|it| fits(page, &views[..views.len().min(1)], *it).is_some());
    let Some(first) = first else {
        return Composed {
            items: Vec::new(),
            handles: Vec::new(),
            scale: Scale::new(1.0),
            is_smaller_than_asked: true,
            views: Vec::new(),
            count: 0,
            places: views.iter().map(|it| it.place).collect(),
        };
    };
    let steps = if asked.is_some() { 1 } else { STEPS_FOR_MORE };
    for count in (1..=views.len()).rev() {
        for scale in choices.iter().skip(first).take(if count == 1 { 1 } else { steps }) {
            if let Some((items, handles)) = fits(page, &views[..count], *scale) {
                return Composed {
                    items,
                    handles,
                    scale: *scale,
                    is_smaller_than_asked: asked.is_some_and(|it| it != *scale),
                    views: views[..count].iter().map(|it| it.view).collect(),
                    count,
                    places: views[..count].iter().map(|it| it.place).collect(),
                };
            }
        }
    }
    Composed {
        items: Vec::new(),
        handles: Vec::new(),
        scale: choices[first],
        is_smaller_than_asked: false,
        views: Vec::new(),
        count: 0,
        places: Vec::new(),
    }
}

/// The views set in the middle of their part of the page; `None` where they do not fit.
fn fits(page: &Page<'_>, views: &[&Shown<'_>], scale: Scale) -> Option<(Vec<Item>, Vec<Handle>)> {
    let factor = scale.factor();
    let area = page.view;
    // What is too large without its dimensions need not be drawn to see that it is.
    for it in views {
        let extent = it.extent(page.inputs);
        if extent.is_some_and(|it| area.width() < it.width() * factor || area.height() < it.height() * factor)
        {
            return None;
        }
    }
    let has_names = 1 < views.len();
    let (mut items, mut handles) = (Vec::new(), Vec::new());
    let mut main: Option<Rect> = None;
    let mut all: Option<Rect> = None;
    // How far the views above the main one reach up, and those beside it to the right.
    let (mut top, mut right) = (0.0, 0.0);
    for (n, shown) in views.iter().enumerate() {
        let mut own = shown.draw(page.inputs, factor, n == 0);
        // Measured before anything is drawn aside, so that the rest of the drawing stays where it is.
        let Some(mut at) = bounds(page.lettering, &own) else { continue };
        let moved = &page.inputs.joint.sheet.moved;
        let mut own_handles = moved::apply(&mut own, &shown.name, moved, page.lettering);
        if has_names {
            own.extend(name(page, shown, &mut at));
        }
        let by = match main {
            None => {
                (top, right) = (at.y0, at.x1);
                main = Some(at);
                Vec2::ZERO
            }
            Some(_) if shown.view.look == Look::Top && is_front(views) => {
                Vec2::new(0.0, top - BETWEEN_MM - at.y1)
            }
            Some(_) if is_front(views) => Vec2::new(right + BETWEEN_MM - at.x0, 0.0),
            // Nothing to be aligned with: side by side on one foot.
            Some(main) => Vec2::new(right + BETWEEN_MM - at.x0, main.y1 - at.y1),
        };
        shift(&mut own, by);
        shift_handles(&mut own_handles, by);
        handles.extend(own_handles);
        let at = at + by;
        if n != 0 {
            if shown.view.look == Look::Top && is_front(views) { top = at.y0 } else { right = at.x1 }
        }
        all = Some(all.map_or(at, |it| it.union(at)));
        items.extend(own);
    }
    let Some(all) = all else { return Some((items, handles)) };
    if area.width() < all.width() || area.height() < all.height() {
        return None;
    }
    let by = area.center() - all.center();
    shift(&mut items, by);
    shift_handles(&mut handles, by);
    Some((items, handles))
}

fn shift_handles(handles: &mut [Handle], by: Vec2) {
    for it in handles {
        it.at = it.at + by;
    }
}

fn is_front(views: &[&Shown<'_>]) -> bool {
    views.first().is_some_and(|it| it.view.look == Look::Front)
}

/// The name below a view; its box grows by it.
fn name(page: &Page<'_>, shown: &Shown<'_>, at: &mut Rect) -> Vec<Item> {
    let words = page.lettering.shortened(&words(page.inputs, &shown.view), WORDS_MM, true, page.view.width());
    let Some(words) = words else { return Vec::new() };
    let width = page.lettering.width_mm(&words, WORDS_MM, true);
    let base = Point::new(at.center().x, at.y1 + NAME_MM - 1.5);
    *at = at.union(Rect::new(
        base.x - width / 2.0,
        base.y - CAPITAL * WORDS_MM,
        base.x + width / 2.0,
        at.y1 + NAME_MM,
    ));
    vec![Words::new(words, WORDS_MM).bold().anchored(Anchor::Middle).at(Layer::Notes, None, base)]
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

impl Shown<'_> {
    /// Members are named in the first view of a page only.
    fn draw(&self, inputs: &Inputs<'_>, scale: f64, has_names: bool) -> Vec<Item> {
        let view = View { scale, origin: Point::ORIGIN };
        match &self.turned {
            Some(it) => it.draw(&view, None, Shows { axes: self.axes, names: has_names }),
            None => front(inputs, &view),
        }
    }

    fn extent(&self, inputs: &Inputs<'_>) -> Option<Rect> {
        self.turned.as_ref().map_or_else(|| extent::of(inputs), Turned::extent)
    }
}

/// The box around items, their line widths included; `None` for no items.
pub(super) fn bounds(lettering: &Lettering, items: &[Item]) -> Option<Rect> {
    let one = |item: &Item| match &item.shape {
        Shape::Path { path, line, .. } => {
            let half = line.map_or(0.0, |it| it.width_mm() / 2.0);
            (!path.is_empty()).then(|| path.bounding_box().inflate(half, half))
        }
        Shape::Text { .. } => lettering.bounds(&item.shape),
    };
    items.iter().filter_map(one).reduce(|a, b| a.union(b))
}

fn shift(items: &mut [Item], by: Vec2) {
    for item in items {
        match &mut item.shape {
            Shape::Path { path, .. } => path.apply_affine(Affine::translate(by)),
            Shape::Text { at, .. } => *at += by,
        }
    }
}
