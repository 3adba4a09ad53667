//! The exported detail: one page with a frame, the view to scale, lists beside it and a title block.

mod column;
mod scale;
mod table;
mod title;

use kurbo::{Affine, Point, Rect, Shape as _, Vec2};

use super::pen;
use super::text::Lettering;
use super::{Drawing, Inputs, Item, Layer, Line, Shape, View, front};
use crate::joint::{Paper, StandardId};
use crate::unit::LengthUnit;
use scale::Scale;

/// Margins of ISO 5457: for filing at the left, elsewhere.
const FILING_MARGIN_MM: f64 = 20.0;
const MARGIN_MM: f64 = 10.0;

/// Clear paper inside the frame.
const INSIDE_MM: f64 = 5.0;

/// Height kept for the title of the view and its scale bar.
const VIEW_TITLE_MM: f64 = 19.0;

/// On a smaller paper a joint is drawn at least so large before a larger paper is taken.
const SMALLEST_ON_SMALL_PAPER: f64 = 1.0 / 5.0;

/// What every part of a sheet is laid out with.
struct Page<'a> {
    inputs: &'a Inputs<'a>,
    lettering: &'static Lettering,
    size_mm: (f64, f64),
    frame: Rect,
    /// Where the lists stand.
    column: Rect,
    /// Where the view stands.
    view: Rect,
    /// Where the title of the view stands.
    view_title: Rect,
    title_block: Rect,
}

/// The view as it is set on the page.
struct Setting {
    items: Vec<Item>,
    scale: Scale,
    /// The scale that was asked for does not fit.
    is_smaller_than_asked: bool,
}

/// Lays the page out.
pub(super) fn draw(inputs: &Inputs<'_>) -> Drawing {
    let (page, setting) = choose(inputs);
    let mut items =
        vec![pen::path(Layer::Frame, None, page.frame.to_path(pen::TRUE_WITHIN_MM), None, Some(Line::Frame))];
    items.extend(title::block(&page, &setting));
    items.extend(title::of_view(&page, &setting));
    items.extend(title::cautions(&page, &setting));
    items.extend(column::draw(&page));
    let title = title::of_drawing(inputs);
    let description = title::description(inputs, &setting);
    items.extend(setting.items);
    items.sort_by_key(|it| it.layer);
    Drawing { size_mm: page.size_mm, title, description, items }
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

/// The papers that may be taken, the smallest first.
fn papers(inputs: &Inputs<'_>) -> Vec<Paper> {
    match (inputs.joint.sheet.paper, inputs.joint.show_lengths_in) {
        (Some(paper), _) => vec![paper],
        (None, LengthUnit::Inch) => vec![Paper::Letter, Paper::Tabloid],
        (None, LengthUnit::Millimetre) => vec![Paper::A4, Paper::A3],
    }
}

/// The smallest paper on which the view is large enough and the lists are whole, else the largest.
fn choose<'a>(inputs: &'a Inputs<'a>) -> (Page<'a>, Setting) {
    let mut last = None;
    for paper in papers(inputs) {
        let page = Page::new(inputs, paper);
        let setting = set_view(&page);
        let is_large = SMALLEST_ON_SMALL_PAPER <= setting.scale.factor() && !setting.is_smaller_than_asked;
        let is_good = is_large && column::is_whole(&page);
        last = Some((page, setting));
        if is_good {
            break;
        }
    }
    last.unwrap_or_else(|| {
        let page = Page::new(inputs, Paper::A4);
        let setting = set_view(&page);
        (page, setting)
    })
}

impl<'a> Page<'a> {
    fn new(inputs: &'a Inputs<'a>, paper: Paper) -> Self {
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
        let left = Rect::new(
            frame.x0 + INSIDE_MM,
            frame.y0 + INSIDE_MM,
            column.x0 - INSIDE_MM,
            title_block.y0 - INSIDE_MM,
        );
        let cut = left.y1 - VIEW_TITLE_MM;
        Self {
            inputs,
            lettering: Lettering::bundled(),
            size_mm,
            frame,
            column,
            view: Rect { y1: cut, ..left },
            view_title: Rect { y0: cut, ..left },
            title_block,
        }
    }
}

/// The view at the scale asked for, or at the largest standard scale that fits.
fn set_view(page: &Page<'_>) -> Setting {
    let joint = page.inputs.joint;
    let asked = joint.sheet.scale.filter(|it| it.is_finite() && 0.0 < *it).map(Scale::new);
    let extent = super::extent(page.inputs);
    let choices = asked.into_iter().chain(Scale::standard(joint.show_lengths_in));
    for scale in choices {
        if asked.is_some_and(|it| it.factor() < scale.factor()) {
            continue;
        }
        let factor = scale.factor();
        // What is too large without its dimensions need not be drawn to see that it is.
        if extent.is_some_and(|it| {
            page.view.width() < it.width() * factor || page.view.height() < it.height() * factor
        }) {
            continue;
        }
        let mut items = front(page.inputs, &View { scale: factor, origin: Point::ORIGIN });
        let Some(bounds) = bounds(page.lettering, &items) else {
            return Setting { items, scale, is_smaller_than_asked: false };
        };
        if bounds.width() <= page.view.width() && bounds.height() <= page.view.height() {
            shift(&mut items, page.view.center() - bounds.center());
            return Setting { items, scale, is_smaller_than_asked: asked.is_some_and(|it| it != scale) };
        }
    }
    Setting { items: Vec::new(), scale: Scale::new(1.0), is_smaller_than_asked: true }
}

/// The box around items, their line widths included; `None` for no items.
fn bounds(lettering: &Lettering, items: &[Item]) -> Option<Rect> {
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

/// The name of a standard on a sheet.
fn standard_name(standard: StandardId) -> &'static str {
    match standard {
        StandardId::Nds2018 => "NDS 2018",
        StandardId::En199511 => "EN 1995-1-1",
    }
}
