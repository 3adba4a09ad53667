//! The working as pages after the detail: every value of every fastener with its formula, the values put in, its
//! clause and its reason, in columns, over as many pages as it takes. Nothing is cut.

mod block;

use kurbo::{Point, Rect, Shape as _};

use self::block::{Block, blocks};
use super::pen::{self, Words};
use super::sheet::paper_mm;
use super::text::{CAPITAL, Lettering, WORDS_MM};
use super::{Anchor, Drawing, Ink, Inputs, Item, Layer, Line};
use crate::joint::{Paper, StandardId};
use crate::unit::LengthUnit;

/// Margins of ISO 5457: for filing at the left, elsewhere.
const FILING_MARGIN_MM: f64 = 20.0;
const MARGIN_MM: f64 = 10.0;
/// Clear paper inside the frame.
const INSIDE_MM: f64 = 5.0;
/// Height of the heading of a page, with the paper below it.
const HEADING_MM: f64 = 10.0;
/// Height of the words at the foot of a page, with the paper above them.
const FOOT_MM: f64 = 9.0;
/// A column is at least so wide: a formula with its values is read in it at a glance.
const COLUMN_MM: f64 = 100.0;
/// Paper between two columns.
const BETWEEN_MM: f64 = 8.0;
/// Words of the heading.
const TITLE_MM: f64 = 3.5 / CAPITAL;

/// What every page says.
const CAUTION: &str = "Published formulas, as drawn: this designs nothing. Local code, the connector maker's \
                       instructions and a licensed designer decide.";

/// The pages; none where the joint has no fastener.
pub(super) fn draw(inputs: &Inputs<'_>) -> Vec<Drawing> {
    if inputs.joint.fasteners.is_empty() {
        return Vec::new();
    }
    let page = Page::of(inputs);
    let mut columns: Vec<Vec<(f64, Block)>> = vec![Vec::new()];
    let mut used = 0.0;
    let all = blocks(inputs, page.lettering, page.column_mm);
    for block in all.into_iter().flat_map(|it| it.no_higher_than(page.height_mm)) {
        // A title stands over something: it does not end a column.
        let wanted = block.height_mm + if block.is_title { block::LEAST_BELOW_MM } else { 0.0 };
        let is_first = columns.last().is_some_and(Vec::is_empty);
        if !is_first && page.height_mm < used + wanted {
            columns.push(Vec::new());
            used = 0.0;
        }
        let height_mm = block.height_mm;
        if let Some(column) = columns.last_mut() {
            column.push((used, block));
        }
        used += height_mm;
    }
    let pages: Vec<&[Vec<(f64, Block)>]> = columns.chunks(page.columns).collect();
    let count = pages.len();
    pages.into_iter().enumerate().map(|(n, columns)| page.draw(inputs, columns, (n + 1, count))).collect()
}

/// What every page is laid out with.
struct Page {
    lettering: &'static Lettering,
    size_mm: (f64, f64),
    frame: Rect,
    columns: usize,
    column_mm: f64,
    /// Height of a column.
    height_mm: f64,
}

impl Page {
    /// On the paper of the detail, or the smaller one of its country.
    fn of(inputs: &Inputs<'_>) -> Self {
        let paper = inputs.joint.sheet.paper.unwrap_or(match inputs.joint.show_lengths_in {
            LengthUnit::Inch => Paper::Letter,
            LengthUnit::Millimetre => Paper::A4,
        });
        let size_mm = paper_mm(paper, inputs.joint.sheet.portrait);
        let frame = Rect::new(FILING_MARGIN_MM, MARGIN_MM, size_mm.0 - MARGIN_MM, size_mm.1 - MARGIN_MM);
        let width = frame.width() - 2.0 * INSIDE_MM;
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a few columns")]
        let columns = (((width + BETWEEN_MM) / (COLUMN_MM + BETWEEN_MM)) as usize).max(1);
        #[expect(clippy::cast_precision_loss, reason = "a few columns")]
        let column_mm = (width + BETWEEN_MM) / columns as f64 - BETWEEN_MM;
        let height_mm = frame.height() - 2.0 * INSIDE_MM - HEADING_MM - FOOT_MM;
        Self { lettering: Lettering::bundled(), size_mm, frame, columns, column_mm, height_mm }
    }

    fn draw(
        &self,
        inputs: &Inputs<'_>,
        columns: &[Vec<(f64, Block)>],
        (number, count): (usize, usize),
    ) -> Drawing {
        let outline = self.frame.to_path(pen::TRUE_WITHIN_MM);
        let mut items = vec![pen::path(Layer::Frame, None, outline, None, Some(Line::Frame))];
        items.extend(self.heading(inputs, (number, count)));
        let top = self.frame.y0 + INSIDE_MM + HEADING_MM;
        let mut left = self.frame.x0 + INSIDE_MM;
        for column in columns {
            for (down, block) in column {
                items.extend(block.draw(Point::new(left, top + down)));
            }
            left += self.column_mm + BETWEEN_MM;
        }
        items.extend(self.foot());
        let what = heading(inputs);
        let title = format!("{what}, page {number} of {count}");
        let told: Vec<String> = columns.iter().flatten().map(|it| it.1.told()).collect();
        Drawing {
            size_mm: self.size_mm,
            title,
            description: format!("{} {CAUTION}", told.join(" ")),
            items,
            handles: Vec::new(),
            room: None,
        }
    }

    fn heading(&self, inputs: &Inputs<'_>, (number, count): (usize, usize)) -> Vec<Item> {
        let (x0, x1) = (self.frame.x0 + INSIDE_MM, self.frame.x1 - INSIDE_MM);
        let base = self.frame.y0 + INSIDE_MM + TITLE_MM * CAPITAL;
        let mut right = format!("{}, page {number} of {count}", standard_name(inputs.joint.standard));
        if !inputs.joint.sheet.detail.is_empty() {
            right = format!("Detail {}, {right}", inputs.joint.sheet.detail);
        }
        let room = x1 - x0 - self.lettering.width_mm(&right, WORDS_MM, false) - BETWEEN_MM;
        let mut items = Vec::new();
        if let Some(words) = self.lettering.shortened(&heading(inputs), TITLE_MM, true, room) {
            items.push(Words::new(words, TITLE_MM).bold().at(Layer::Notes, None, Point::new(x0, base)));
        }
        let right = Words::new(right, WORDS_MM).anchored(Anchor::End).ink(Ink::Soft);
        items.push(right.at(Layer::Notes, None, Point::new(x1, base)));
        let mut rule = kurbo::BezPath::new();
        pen::add_stroke(&mut rule, Point::new(x0, base + 3.0), Point::new(x1, base + 3.0));
        items.push(pen::path(Layer::Frame, None, rule, None, Some(Line::Rule)));
        items
    }

    fn foot(&self) -> Vec<Item> {
        let x0 = self.frame.x0 + INSIDE_MM;
        let width = self.frame.width() - 2.0 * INSIDE_MM;
        let lines = self.lettering.wrapped(CAUTION, WORDS_MM, width);
        let mut base = self.frame.y1 - INSIDE_MM;
        let mut items = Vec::new();
        for line in lines.into_iter().rev() {
            items.push(Words::new(line, WORDS_MM).at(Layer::Notes, None, Point::new(x0, base)));
            base -= 4.7;
        }
        items
    }
}

fn heading(inputs: &Inputs<'_>) -> String {
    let title = &inputs.joint.title;
    if title.is_empty() { "Working".to_owned() } else { format!("Working: {title}") }
}

/// The name of a standard with the sort of values that it gives.
fn standard_name(standard: StandardId) -> &'static str {
    match standard {
        StandardId::Nds2018 => "NDS 2018, allowable stress design",
        StandardId::En199511 => "EN 1995-1-1, design values",
    }
}
