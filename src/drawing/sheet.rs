//! The exported detail as pages: views to scale, lists beside them and after them, a title block on each.
//!
//! The first page holds the views that fit it and as many rows of the lists as its column has room for.
//! What is left goes on further pages: nothing is cut and nothing is left out.

mod checks;
mod compose;
mod fingerprint;
mod flow;
mod groups;
mod lists;
mod scale;
mod schedules;
mod table;
mod title;

use kurbo::{Rect, Shape as _};

use super::pen;
use super::text::Lettering;
use super::{Drawing, Inputs, Item, Layer, Line};
use crate::joint::{Paper, StandardId};
use crate::unit::LengthUnit;
use compose::{Composed, Shown};
use flow::Place;
use groups::Content;

/// Margins of ISO 5457: for filing at the left, elsewhere.
const FILING_MARGIN_MM: f64 = 20.0;
const MARGIN_MM: f64 = 10.0;

/// Clear paper inside the frame.
const INSIDE_MM: f64 = 5.0;

/// Height kept for the title of the views and their scale bar.
const VIEW_TITLE_MM: f64 = 19.0;

/// On a smaller paper a joint is drawn at least so large before a larger paper is taken.
const SMALLEST_ON_SMALL_PAPER: f64 = 1.0 / 5.0;

/// No joint has more pages: a list that is longer still says how much of it is in the check report.
const MOST_PAGES: usize = 120;

/// What every part of a page is laid out with.
struct Page<'a> {
    inputs: &'a Inputs<'a>,
    lettering: &'a Lettering,
    size_mm: (f64, f64),
    frame: Rect,
    /// Where the lists stand beside a view.
    column: Rect,
    /// Where the views stand.
    view: Rect,
    /// Where their title stands.
    view_title: Rect,
    title_block: Rect,
}

/// What stands on one page before it knows its number.
struct Filled {
    items: Vec<Item>,
    /// The views on it; `None` for a page of lists.
    composed: Option<Composed>,
}

/// All pages.
pub(super) fn pages(inputs: &Inputs<'_>) -> Vec<Drawing> {
    let lettering = Lettering::bundled();
    let shown = compose::shown(inputs);
    let content = Content::of(inputs);
    let (page, composed) = choose(&content, lettering, &shown);
    let mut rest: Vec<&Shown<'_>> = shown.iter().filter(|it| !composed.holds(it)).collect();
    let mut filled = Vec::new();
    let first = lists::all(&page, page.column.width(), &content);
    let (items, mut at) = flow::fill(&page, &first, Place::default(), &[page.column]);
    filled.push(Filled { items, composed: Some(composed) });
    while !rest.is_empty() {
        let page = Page::new(inputs, lettering, paper_of(&page)).without_column();
        let composed = compose::largest(&page, &rest);
        let before = rest.len();
        rest.retain(|it| !composed.holds(it));
        filled.push(Filled { items: Vec::new(), composed: Some(composed) });
        if rest.len() == before {
            break;
        }
    }
    let columns = page.columns();
    let later = lists::all(&page, columns[0].width(), &content);
    while !at.is_end(&later) && filled.len() < MOST_PAGES {
        let (mut items, next) = flow::fill(&page, &later, at, &columns);
        if next == at {
            break;
        }
        if filled.len() + 1 == MOST_PAGES {
            items.extend(flow::left_over(&page, &later, next));
        }
        at = next;
        filled.push(Filled { items, composed: None });
    }
    let count = filled.len();
    filled.into_iter().enumerate().map(|(n, it)| finish(&page, it, (n + 1, count))).collect()
}

/// Frame, title block and cautions round what stands on a page.
fn finish(page: &Page<'_>, filled: Filled, number: (usize, usize)) -> Drawing {
    let Filled { mut items, composed } = filled;
    items.push(pen::path(
        Layer::Frame,
        None,
        page.frame.to_path(pen::TRUE_WITHIN_MM),
        None,
        Some(Line::Frame),
    ));
    items.extend(title::block(page, composed.as_ref(), number));
    items.extend(title::cautions(page, composed.as_ref()));
    let description = title::description(page.inputs, composed.as_ref(), number);
    let mut handles = Vec::new();
    if let Some(composed) = composed {
        handles.clone_from(&composed.handles);
        items.extend(title::of_views(page, &composed));
        items.extend(composed.items);
    }
    items.sort_by_key(|it| it.layer);
    Drawing {
        size_mm: page.size_mm,
        title: title::of_drawing(page.inputs, number),
        description,
        items,
        handles,
    }
}

/// Width and height of a paper, landscape.
pub(super) fn paper_mm(paper: Paper) -> (f64, f64) {
    match paper {
        Paper::A4 => (297.0, 210.0),
        Paper::A3 => (420.0, 297.0),
        Paper::Letter => (279.4, 215.9),
        Paper::Tabloid => (431.8, 279.4),
    }
}

fn paper_of(page: &Page<'_>) -> Paper {
    let all = [Paper::A4, Paper::A3, Paper::Letter, Paper::Tabloid];
    let is_it = |it: &Paper| (paper_mm(*it).0 - page.size_mm.0).abs() < 0.1;
    all.into_iter().find(is_it).unwrap_or(Paper::A3)
}

/// The papers that may be taken, the smallest first.
fn papers(inputs: &Inputs<'_>) -> Vec<Paper> {
    match (inputs.joint.sheet.paper, inputs.joint.show_lengths_in) {
        (Some(paper), _) => vec![paper],
        (None, LengthUnit::Inch) => vec![Paper::Letter, Paper::Tabloid],
        (None, LengthUnit::Millimetre) => vec![Paper::A4, Paper::A3],
    }
}

/// The smallest paper on which the views are large enough and the lists are whole, else the largest.
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
            let lists = lists::all(&page, page.column.width(), content);
            flow::height(&lists) <= page.column.height()
        };
        last = Some((page, composed));
        if is_good {
            break;
        }
    }
    last.unwrap_or_else(|| {
        let page = Page::new(inputs, lettering, Paper::A4);
        let composed = compose::largest(&page, &views);
        (page, composed)
    })
}

impl<'a> Page<'a> {
    fn new(inputs: &'a Inputs<'a>, lettering: &'a Lettering, paper: Paper) -> Self {
        let size_mm = paper_mm(paper);
        let frame = Rect::new(FILING_MARGIN_MM, MARGIN_MM, size_mm.0 - MARGIN_MM, size_mm.1 - MARGIN_MM);
        let title_block = Rect::new(
            frame.x1 - title::WIDTH_MM.min(frame.width()),
            frame.y1 - title::HEIGHT_MM,
            frame.x1,
            frame.y1,
        );
        let column_width = (frame.width() * 0.37).clamp(94.0, 140.0);
        let column = Rect::new(
            frame.x1 - INSIDE_MM - column_width,
            frame.y0 + INSIDE_MM,
            frame.x1 - INSIDE_MM,
            title_block.y0 - INSIDE_MM,
        );
        let left = Rect { x0: frame.x0 + INSIDE_MM, x1: column.x0 - INSIDE_MM, ..column };
        let cut = left.y1 - VIEW_TITLE_MM;
        Self {
            inputs,
            lettering,
            size_mm,
            frame,
            column,
            view: Rect { y1: cut, ..left },
            view_title: Rect { y0: cut, ..left },
            title_block,
        }
    }

    /// The same page with all of its width for a view.
    fn without_column(self) -> Self {
        let x1 = self.column.x1;
        Self { view: Rect { x1, ..self.view }, view_title: Rect { x1, ..self.view_title }, ..self }
    }

    /// The columns of a page that holds nothing but lists.
    fn columns(&self) -> Vec<Rect> {
        let between = 2.0 * INSIDE_MM;
        let all = Rect { x0: self.frame.x0 + INSIDE_MM, ..self.column };
        let width = (all.width() - between) / 2.0;
        [all.x0, all.x0 + width + between].map(|x0| Rect { x0, x1: x0 + width, ..all }).to_vec()
    }
}

/// The name of a standard on a sheet.
fn standard_name(standard: StandardId) -> &'static str {
    match standard {
        StandardId::Nds2018 => "NDS 2018",
        StandardId::En199511 => "EN 1995-1-1",
    }
}
