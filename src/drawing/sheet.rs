//! The exported detail as pages: views to scale, lists beside them and after them, a title block on each.
//!
//! The first page holds the views that fit it and as many rows of the lists as its column has room for.
//! What is left goes below or beside the views where that saves a page, else on further pages: nothing is cut and nothing is
//! left out.

mod captions;
mod checks;
mod compose;
mod fingerprint;
mod flow;
mod groups;
mod lists;
mod needed;
mod page;
mod scale;
mod schedules;
mod share;
mod table;
mod title;

use kurbo::Shape as _;

use super::pen;
use super::text::Lettering;
use super::{Drawing, Inputs, Layer, Line};
use crate::joint::{Paper, SheetView, StandardId};
use crate::unit::LengthUnit;
use compose::{Composed, Shown};
use flow::Place;
use groups::Content;
use page::Page;
use share::{Leaf, Shared};

pub(super) use page::paper_mm;

/// On a smaller paper a joint is drawn at least so large before a larger paper is taken.
const SMALLEST_ON_SMALL_PAPER: f64 = 1.0 / 5.0;

/// Views that would be smaller than this beside lists have the page for themselves, where that makes them larger.
const SMALLEST_BESIDE_LISTS: f64 = 1.0 / 12.0 - 1e-9;

/// No joint has more pages: a list that is longer still says how much of it is in the check report.
const MOST_PAGES: usize = 120;

/// All pages.
pub(super) fn pages(inputs: &Inputs<'_>) -> Vec<Drawing> {
    let lettering = Lettering::bundled();
    let mut shown = compose::shown(inputs);
    let content = Content::of(inputs);
    let (mut page, mut composed) = choose(&content, lettering, &shown);
    if let Some(detail) = compose::detail(inputs, &composed, &shown) {
        compose::with_detail(&mut shown, detail);
        (page, composed) = choose(&content, lettering, &shown);
    }
    let mut rest: Vec<&Shown<'_>> = shown.iter().filter(|it| !composed.holds(it)).collect();
    let mut leaves = vec![Leaf::new(&page, composed)];
    while !rest.is_empty() && leaves.len() < MOST_PAGES {
        let page = Page::new(inputs, lettering, page.paper).without_lists();
        let composed = compose::largest(&page, &rest);
        let before = rest.len();
        rest.retain(|it| !composed.holds(it));
        leaves.push(Leaf::new(&page, composed));
        if rest.len() == before {
            break;
        }
    }
    let shared = share::share(&page, &content, leaves);
    let count = shared.len();
    shared.into_iter().enumerate().map(|(n, it)| finish(&page, it, (n + 1, count))).collect()
}

/// Frame, title block and cautions round what stands on a page.
fn finish(page: &Page<'_>, shared: Shared, number: (usize, usize)) -> Drawing {
    let Shared { leaf, mut items, mut handles } = shared;
    items.push(pen::path(
        Layer::Frame,
        None,
        page.frame.to_path(pen::TRUE_WITHIN_MM),
        None,
        Some(Line::Frame),
    ));
    let shown = leaf.as_ref().map(|it| &it.composed);
    items.extend(title::block(page, shown, number));
    items.extend(title::cautions(page, shown));
    let description = title::description(page.inputs, shown, number);
    if let Some(Leaf { composed, view_title, .. }) = leaf {
        let titles = title::of_views(page, &composed, view_title, number.0);
        items.extend(titles.items.into_iter().chain(titles.put));
        handles.extend(composed.handles.into_iter().chain(titles.handles));
        items.extend(composed.items);
    }
    items.sort_by_key(|it| it.layer);
    Drawing {
        size_mm: page.size_mm,
        title: title::of_drawing(page.inputs, number),
        description,
        items,
        handles,
        room: Some(page.area),
    }
}

/// The views that are shown.
pub(super) fn views(inputs: &Inputs<'_>) -> Vec<SheetView> {
    compose::views(inputs)
}

/// The standard scales of this unit that are chosen by name.
pub(super) fn standard_scales(unit: LengthUnit) -> impl Iterator<Item = f64> {
    scale::usual(unit).iter().copied()
}

/// A scale as it is written.
pub(super) fn scale_words(model_per_paper: f64, unit: LengthUnit) -> String {
    scale::Scale::new(model_per_paper).words(unit)
}

/// The papers that may be taken, the smallest first.
fn papers(inputs: &Inputs<'_>) -> Vec<Paper> {
    match (inputs.joint.sheet.paper, inputs.joint.show_lengths_in) {
        (Some(paper), _) => vec![paper],
        (None, LengthUnit::Inch) => vec![Paper::Letter, Paper::Tabloid],
        (None, LengthUnit::Millimetre) => vec![Paper::A4, Paper::A3],
    }
}

/// The smallest paper on which the views are large enough and the lists are whole, else the largest; there the views
/// have all of the page where they could not be read beside lists.
fn choose<'a>(
    content: &'a Content<'a>,
    lettering: &'a Lettering,
    shown: &[Shown<'_>],
) -> (Page<'a>, Composed) {
    let inputs = content.inputs;
    let views: Vec<&Shown<'_>> = shown.iter().collect();
    let mut last = None;
    for paper in papers(inputs) {
        let page = Page::new(inputs, lettering, paper);
        let composed = compose::largest(&page, &views);
        let is_large = SMALLEST_ON_SMALL_PAPER <= composed.scale.factor() && !composed.is_smaller_than_asked;
        let is_good = is_large && composed.count == views.len() && {
            let lists = lists::all(&page, page.lists[0].width(), content);
            flow::fill(&page, &lists, Place::default(), (&page.lists(), None)).at.is_end(&lists)
        };
        last = Some((page, composed));
        if is_good {
            break;
        }
    }
    let (page, composed) = last.unwrap_or_else(|| {
        let page = Page::new(inputs, lettering, Paper::A4);
        let composed = compose::largest(&page, &views);
        (page, composed)
    });
    if SMALLEST_BESIDE_LISTS <= composed.scale.factor() && !composed.is_smaller_than_asked {
        return (page, composed);
    }
    let whole = Page::new(inputs, lettering, page.paper).without_lists();
    let alone = compose::largest(&whole, &views);
    if composed.scale.factor() < alone.scale.factor() { (whole, alone) } else { (page, composed) }
}

/// The name of a standard on a sheet.
fn standard_name(standard: StandardId) -> &'static str {
    match standard {
        StandardId::Nds2018 => "NDS 2018",
        StandardId::En199511 => "EN 1995-1-1",
    }
}
