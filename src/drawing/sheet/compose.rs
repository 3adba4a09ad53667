//! Which views a sheet shows, at what scale, and how they stand to each other.
//!
//! They are aligned as orthographic projections, third angle: the top above the front, the side at its right.

use std::collections::BTreeSet;

use kurbo::{Affine, Point, Rect, Shape as _, Vec2};

use super::captions::{DETAIL_LETTER, framed, name, words};
use super::scale::Scale;
use super::{Page, needed};
use crate::drawing::detail::{self, Detail};
use crate::drawing::pen::{Care, Frame, Manner};
use crate::drawing::projection::{Projection, Turned};
use crate::drawing::put::{Drawn, Puts};
use crate::drawing::text::Lettering;
use crate::drawing::{Handle, Inputs, Item, Layer, Shape, Subject, View, extent, front_as};
use crate::joint::{Dimension, Look, SheetView};
use crate::unit::Vec3;

/// Paper between two views.
const BETWEEN_MM: f64 = 12.0;

/// Beside the fasteners a view across the depth shows at least so much of long members.
const LEAST_BESIDE_MM: f64 = 60.0;

/// A member is broken off only where the whole of it is longer than this many times what is shown: of one that is not
/// broken off the ends are seen, and how far fasteners are from them.
const WORTH_BREAKING: f64 = 2.5;

/// At a smaller scale than this fasteners cannot be dimensioned, and a detail shows them larger.
const SMALL: f64 = 1.0 / 8.0 + 1e-9;

/// A detail is drawn at least so many times as large as what it is a detail of.
const ENLARGED: f64 = 2.0;

/// For the sake of a further view the scale is made at most so much smaller; never so small, and not from a scale at
/// which fasteners are seen well to one at which they are not: the further view then has a page of its own.
const SMALLER_FOR_MORE: f64 = 2.0 + 1e-9;
const SMALLEST_FOR_MORE: f64 = 1.0 / 24.0 - 1e-9;
const SEEN_WELL: f64 = 1.0 / 5.0 - 1e-9;

/// A view, turned and ready to be drawn at any scale.
pub(super) struct Shown<'a> {
    pub(super) view: SheetView,
    /// Its place among the views of the sheet.
    place: usize,
    /// What it is called where something in it is drawn aside: `front`, or `front 2` for the second one.
    name: String,
    turned: Option<Turned<'a>>,
    /// The part of the front that it shows larger.
    detail: Option<Detail<'a>>,
    /// The part of it that a detail shows larger, on this page or on another, in the model, and of which members it
    /// shows an end there.
    framed: Option<(Rect, Vec<(bool, bool)>)>,
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
    /// The views that it shows, in words.
    pub(super) captions: Vec<String>,
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
    if asked.is_empty() { needed::views(inputs) } else { asked.clone() }
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
        Shown { view, place, name, turned, detail: None, framed: None, axes }
    };
    views.into_iter().enumerate().map(one).collect()
}

/// The part of the depth that is worth showing: round the fasteners and short bodies, with a good part of
/// the long members beside; `None` where that is nearly all.
pub(super) fn reach(inputs: &Inputs<'_>) -> Option<(f64, f64)> {
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
    for it in dimensioned_depths(inputs) {
        (low, high) = around(low, high, (it - 1.0, it + 1.0));
    }
    (WORTH_BREAKING * (high - low) < near - far).then_some((low, high))
}

/// The depths that dimensions of the user's hold on to: nothing is broken off between them.
fn dimensioned_depths<'a>(inputs: &Inputs<'a>) -> impl Iterator<Item = f64> + use<'a> {
    let (joint, trace) = (inputs.joint, inputs.trace);
    let depths = |it: &Dimension| {
        let measured = crate::trace::dimension(joint, trace, it)?;
        let depth = |at: Point| it.look.turned_back(Vec3::new(at.x, at.y, 0.0)).z;
        Some([depth(measured.from), depth(measured.to)])
    };
    let placed = joint.dimensions.iter().filter(|it| it.look != Look::Front);
    placed.filter_map(depths).flatten()
}

/// The views at the scale asked for, or at the largest standard scale that fits. A view that would make the
/// others much smaller is left for a page of its own, and so is an enlarged detail.
pub(super) fn largest(page: &Page<'_>, views: &[&Shown<'_>]) -> Composed {
    let (details, plain): (Vec<&Shown<'_>>, Vec<&Shown<'_>>) =
        views.iter().partition(|it| it.detail.is_some());
    if plain.is_empty() {
        return largest_of(page, views);
    }
    let composed = largest_of(page, &plain);
    if details.is_empty() || composed.count < plain.len() {
        return composed;
    }
    let all: Vec<&Shown<'_>> = plain.iter().chain(&details).copied().collect();
    let unit = page.inputs.joint.show_lengths_in;
    let enlarged = Scale::standard(unit).take_while(|it| ENLARGED * composed.scale.factor() <= it.factor());
    for detail in enlarged {
        let set = |care| fits(page, &all, Sizes { scale: composed.scale, detail, care });
        if let Some((items, handles)) = settled(set) {
            let captions = all.iter().map(|it| it.words(page.inputs, detail)).collect();
            let places = all.iter().map(|it| it.place).collect();
            return Composed { items, handles, captions, count: all.len(), places, ..composed };
        }
    }
    composed
}

/// The same without a look at details.
fn largest_of(page: &Page<'_>, views: &[&Shown<'_>]) -> Composed {
    let joint = page.inputs.joint;
    let asked = joint.sheet.scale.filter(|it| it.is_finite() && 0.0 < *it).map(Scale::new);
    let asked = asked.filter(|_| views.iter().all(|it| it.detail.is_none()));
    let standard = Scale::standard(joint.show_lengths_in);
    let choices: Vec<Scale> = asked
        .into_iter()
        .chain(standard.filter(|it| asked.is_none_or(|asked| it.factor() <= asked.factor())))
        .collect();
    let sizes = |scale: Scale, care| Sizes { scale, detail: scale, care };
    let first = choices
        .iter()
        .position(|it| fits(page, &views[..views.len().min(1)], sizes(*it, Care::Quick)).is_some());
    let nothing = |scale, places| Composed {
        items: Vec::new(),
        handles: Vec::new(),
        scale,
        is_smaller_than_asked: false,
        captions: Vec::new(),
        count: 0,
        places,
    };
    let Some(first) = first else {
        let places = views.iter().map(|it| it.place).collect();
        return Composed { is_smaller_than_asked: true, ..nothing(Scale::new(1.0), places) };
    };
    let largest = choices[first];
    let is_worth = |it: &Scale| {
        let is_near = largest.factor() <= SMALLER_FOR_MORE * it.factor();
        let least = if SEEN_WELL <= largest.factor() { SEEN_WELL } else { SMALLEST_FOR_MORE };
        *it == largest || (asked.is_none() && is_near && least <= it.factor())
    };
    for count in (1..=views.len()).rev() {
        let tried = choices[first..].iter().take_while(|it| is_worth(it));
        for scale in tried.take(if count == 1 { 1 } else { usize::MAX }) {
            let views = &views[..count];
            let set = |care| fits(page, views, sizes(*scale, care));
            if let Some((items, handles)) = settled(set) {
                return Composed {
                    items,
                    handles,
                    scale: *scale,
                    is_smaller_than_asked: asked.is_some_and(|it| it != *scale),
                    captions: views.iter().map(|it| it.words(page.inputs, *scale)).collect(),
                    count,
                    places: views.iter().map(|it| it.place).collect(),
                };
            }
        }
    }
    nothing(largest, Vec::new())
}

/// An enlarged detail of the front round the fasteners, where the scale is so small that they cannot be
/// dimensioned; none where the user has chosen the views.
pub(super) fn detail<'a>(inputs: &Inputs<'a>, composed: &Composed, shown: &[Shown<'_>]) -> Option<Shown<'a>> {
    let is_front = shown.first().is_some_and(|it| it.view == SheetView::default());
    let is_small = composed.scale.factor() < SMALL;
    if !(inputs.joint.sheet.views.is_empty() && is_front && is_small) {
        return None;
    }
    Some(Shown {
        view: SheetView::default(),
        place: shown.len(),
        name: "detail".to_owned(),
        turned: None,
        detail: Some(Detail::of(inputs)?),
        framed: None,
        axes: (true, true),
    })
}

/// Takes in a detail of the first of the views, which is framed there.
pub(super) fn with_detail<'a>(shown: &mut Vec<Shown<'a>>, detail: Shown<'a>) {
    if let Some(front) = shown.first_mut() {
        front.framed = detail.detail.as_ref().map(Detail::window);
    }
    shown.push(detail);
}

/// The views as `set` sets them where they fit at all. Labels that are settled need other room: where they no longer
/// fit, names keep close to their members, and where that does not help, all stay as they were.
fn settled<T>(set: impl Fn(Care) -> Option<T>) -> Option<T> {
    let quick = set(Care::Quick)?;
    set(Care::Full).or_else(|| set(Care::Close)).or(Some(quick))
}

/// At what scales views are drawn, and with how much care.
#[derive(Clone, Copy)]
struct Sizes {
    scale: Scale,
    /// Of an enlarged detail.
    detail: Scale,
    care: Care,
}

/// The views set in the middle of their part of the page; `None` where they do not fit.
fn fits(page: &Page<'_>, views: &[&Shown<'_>], sizes: Sizes) -> Option<(Vec<Item>, Vec<Handle>)> {
    let area = page.view;
    let factor = |it: &Shown<'_>| if it.detail.is_some() { sizes.detail } else { sizes.scale }.factor();
    // What is too large without its dimensions need not be drawn to see that it is.
    for it in views {
        let (extent, factor) = (it.extent(page.inputs), factor(it));
        if extent.is_some_and(|it| area.width() < it.width() * factor || area.height() < it.height() * factor)
        {
            return None;
        }
    }
    let has_names = 1 < views.len();
    let mut set = Set::default();
    for shown in views {
        let view = View { scale: factor(shown), origin: Point::ORIGIN };
        let frame = shown.framed.as_ref();
        let frame = frame.map(|it| Frame { at: detail::on_paper(it.0, &view), has_end: &it.1 });
        let mut drawn = shown.draw(page.inputs, &view, (sizes.care, &set.named, frame));
        let puts = Puts::of(&shown.name, &page.inputs.joint.sheet.moved);
        if let Some(frame) = frame {
            framed(page.lettering, &puts, frame.at, &mut drawn);
        }
        let Drawn { items: mut own, mut put, mut handles } = drawn;
        // Measured as if nothing had been put anywhere, so that the view stays where it is whatever is drawn aside.
        let plain = (!put.is_empty()).then(|| plain(page, shown, &view, (sizes.care, &set.named, frame)));
        let Some(mut at) = bounds(page.lettering, plain.as_ref().unwrap_or(&own)) else { continue };
        if has_names {
            let words = shown.words(page.inputs, sizes.detail);
            let Drawn { items, put: name_put, handles: name_handle } = name(page, &puts, &words, &mut at);
            own.extend(items);
            put.extend(name_put);
            handles.extend(name_handle);
        }
        own.extend(put);
        set.named
            .extend(own.iter().filter(|it| it.layer == Layer::Notes).filter_map(|it| it.subject.clone()));
        let by = set.way(shown, at, (area, is_front(views)));
        shift(&mut own, by);
        shift_handles(&mut handles, by);
        set.add(shown, at + by, is_front(views));
        set.handles.extend(handles);
        set.items.extend(own);
    }
    let Set { mut items, mut handles, all, .. } = set;
    let Some(all) = all else { return Some((items, handles)) };
    if area.width() < all.width() || area.height() < all.height() {
        return None;
    }
    let by = area.center() - all.center();
    shift(&mut items, by);
    shift_handles(&mut handles, by);
    Some((items, handles))
}

/// A view as it is where nothing was put anywhere.
fn plain(
    page: &Page<'_>,
    shown: &Shown<'_>,
    view: &View,
    (care, named, frame): (Care, &BTreeSet<Subject>, Option<Frame<'_>>),
) -> Vec<Item> {
    let mut joint = page.inputs.joint.clone();
    joint.sheet.moved.clear();
    let inputs = Inputs { joint: &joint, ..*page.inputs };
    let mut drawn = shown.draw(&inputs, view, (care, named, frame));
    if let Some(frame) = frame {
        framed(page.lettering, &Puts::of(&shown.name, &[]), frame.at, &mut drawn);
    }
    drawn.items
}

/// Views as they are set beside each other.
#[derive(Default)]
struct Set {
    items: Vec<Item>,
    handles: Vec<Handle>,
    named: BTreeSet<Subject>,
    main: Option<Rect>,
    all: Option<Rect>,
    /// How far the views above the main one reach up, and those beside it to the right.
    top: f64,
    right: f64,
}

impl Set {
    /// How far a view that lies there goes to stand where it belongs.
    fn way(&self, shown: &Shown<'_>, at: Rect, (area, is_front): (Rect, bool)) -> Vec2 {
        let (Some(main), Some(all)) = (self.main, self.all) else { return Vec2::ZERO };
        let beside = self.right + BETWEEN_MM - at.x0;
        if shown.detail.is_some() {
            // It is aligned with nothing: at the right where there is room, else below.
            let has_room = all.width() + BETWEEN_MM + at.width() <= area.width();
            return if has_room {
                Vec2::new(all.x1 + BETWEEN_MM - at.x0, all.center().y - at.center().y)
            } else {
                Vec2::new(all.center().x - at.center().x, all.y1 + BETWEEN_MM - at.y0)
            };
        }
        match (shown.view.look, is_front) {
            (Look::Top, true) => Vec2::new(0.0, self.top - BETWEEN_MM - at.y1),
            (Look::Front | Look::Side, true) => Vec2::new(beside, 0.0),
            // Nothing to be aligned with: side by side on one foot.
            (Look::Front | Look::Side | Look::Top, false) => Vec2::new(beside, main.y1 - at.y1),
        }
    }

    fn add(&mut self, shown: &Shown<'_>, at: Rect, is_front: bool) {
        self.all = Some(self.all.map_or(at, |it| it.union(at)));
        if self.main.is_none() {
            self.main = Some(at);
            (self.top, self.right) = (at.y0, at.x1);
        } else if shown.view.look == Look::Top && is_front {
            self.top = at.y0;
        } else {
            self.right = at.x1;
        }
    }
}

/// Moves what can be drawn aside.
pub(super) fn shift_handles(handles: &mut [Handle], by: Vec2) {
    for it in handles {
        (it.at, it.grip) = (it.at + by, it.grip + by);
        it.anchor += by;
    }
}

fn is_front(views: &[&Shown<'_>]) -> bool {
    views.first().is_some_and(|it| it.view.look == Look::Front)
}

impl Shown<'_> {
    /// The view without the names of members that are named in another one of the page.
    fn draw(
        &self,
        inputs: &Inputs<'_>,
        view: &View,
        (care, named, frame): (Care, &BTreeSet<Subject>, Option<Frame<'_>>),
    ) -> Drawn {
        let puts = Puts::of(&self.name, &inputs.joint.sheet.moved);
        let manner = Manner { care, named: Some(named), puts: Some(&puts), frame };
        match (&self.turned, &self.detail) {
            (Some(it), _) => it.draw(view, None, self.axes, manner),
            (None, Some(it)) => it.draw(view, manner),
            (None, None) => front_as(inputs, view, None, manner),
        }
    }

    /// What it is called below it; `scale` is that of a detail.
    fn words(&self, inputs: &Inputs<'_>, scale: Scale) -> String {
        match self.detail {
            Some(_) => format!("Detail {DETAIL_LETTER}, {}", scale.words(inputs.joint.show_lengths_in)),
            None => words(inputs, &self.view),
        }
    }

    fn extent(&self, inputs: &Inputs<'_>) -> Option<Rect> {
        match (&self.turned, &self.detail) {
            (Some(it), _) => it.extent(),
            (None, Some(it)) => it.extent(),
            (None, None) => extent::of(inputs),
        }
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

/// Moves what is drawn.
pub(super) fn shift(items: &mut [Item], by: Vec2) {
    for item in items {
        match &mut item.shape {
            Shape::Path { path, .. } => path.apply_affine(Affine::translate(by)),
            Shape::Text { at, .. } => *at += by,
        }
    }
}
