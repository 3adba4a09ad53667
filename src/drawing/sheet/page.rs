//! How a page is divided: frame, title block, the room of the views and that of the lists.

use kurbo::{Rect, Vec2};

use super::flow::{Column, LEAST_COLUMN_MM};
use super::title;
use crate::drawing::Inputs;
use crate::drawing::text::Lettering;
use crate::joint::Paper;

/// Margins of ISO 5457: for filing at the left, elsewhere.
const FILING_MARGIN_MM: f64 = 20.0;
const MARGIN_MM: f64 = 10.0;

/// Clear paper inside the frame.
const INSIDE_MM: f64 = 5.0;

/// Height kept for the title of the views and their scale bar.
const VIEW_TITLE_MM: f64 = 19.0;

/// Where less than this is left beside the title block, the cautions stand above it.
const LEAST_BESIDE_MM: f64 = 60.0;

/// Height of the cautions above the title block.
const CAUTIONS_MM: f64 = 14.0;

/// On a paper that stands on its short side the views have this part of the height, and the lists the rest.
const VIEWS_SHARE: f64 = 0.5;

/// Paper between views and their title where lists stand below them.
const ABOVE_TITLE_MM: f64 = 1.5;

/// Paper between views with their title and lists below them.
const BELOW_VIEWS_MM: f64 = 4.0;

/// Paper between views and lists beside them.
const BESIDE_VIEWS_MM: f64 = 8.0;

/// Two columns of lists are set only where each is at least so wide.
const COLUMN_MM: f64 = 94.0;

/// A column of lists beside the views, whose tables wrap where it is narrower.
const BESIDE_MM: f64 = 106.0;

/// What every part of a page is laid out with.
pub(super) struct Page<'a> {
    pub(super) inputs: &'a Inputs<'a>,
    pub(super) lettering: &'a Lettering,
    pub(super) paper: Paper,
    pub(super) size_mm: (f64, f64),
    pub(super) frame: Rect,
    /// What is left for views and lists.
    pub(super) area: Rect,
    /// Where the lists stand on a page that has views too, at least one column.
    pub(super) lists: Vec<Rect>,
    /// Where the views stand.
    pub(super) view: Rect,
    /// Where their title stands.
    pub(super) view_title: Rect,
    pub(super) title_block: Rect,
    /// Where the cautions stand.
    pub(super) cautions: Rect,
}

/// Width and height of a paper.
pub(in crate::drawing) fn paper_mm(paper: Paper, is_portrait: bool) -> (f64, f64) {
    let (long, short) = match paper {
        Paper::A4 => (297.0, 210.0),
        Paper::A3 => (420.0, 297.0),
        Paper::Letter => (279.4, 215.9),
        Paper::Tabloid => (431.8, 279.4),
    };
    if is_portrait { (short, long) } else { (long, short) }
}

impl<'a> Page<'a> {
    /// A page of the joint's orientation.
    pub(super) fn new(inputs: &'a Inputs<'a>, lettering: &'a Lettering, paper: Paper) -> Self {
        let is_portrait = inputs.joint.sheet.portrait;
        let size_mm = paper_mm(paper, is_portrait);
        let frame = Rect::new(FILING_MARGIN_MM, MARGIN_MM, size_mm.0 - MARGIN_MM, size_mm.1 - MARGIN_MM);
        let title_block = Rect::new(
            frame.x1 - title::WIDTH_MM.min(frame.width()),
            frame.y1 - title::HEIGHT_MM,
            frame.x1,
            frame.y1,
        );
        let beside = Rect { x0: frame.x0, x1: title_block.x0, ..title_block };
        let (cautions, foot) = if beside.width() < LEAST_BESIDE_MM {
            let top = title_block.y0 - CAUTIONS_MM;
            (Rect { x0: frame.x0, x1: frame.x1, y0: top, y1: title_block.y0 }, top)
        } else {
            (beside, title_block.y0)
        };
        let area = Rect { y1: foot, ..frame }.inflate(-INSIDE_MM, -INSIDE_MM);
        let (shown, lists) = if is_portrait { one_over_the_other(area) } else { side_by_side(area, frame) };
        let cut = shown.y1 - VIEW_TITLE_MM;
        Self {
            inputs,
            lettering,
            paper,
            size_mm,
            frame,
            area,
            lists,
            view: Rect { y1: cut, ..shown },
            view_title: Rect { y0: cut, ..shown },
            title_block,
            cautions: cautions.inflate(-3.0, -3.0),
        }
    }

    /// The same page with all of its room for views.
    pub(super) fn without_lists(self) -> Self {
        let cut = self.area.y1 - VIEW_TITLE_MM;
        Self {
            view: Rect { y1: cut, ..self.area },
            view_title: Rect { y0: cut, ..self.area },
            lists: Vec::new(),
            ..self
        }
    }

    /// The columns of a page that holds nothing but lists.
    pub(super) fn columns(&self) -> Vec<Column> {
        columns(self.area).into_iter().map(Column::whole).collect()
    }

    /// The columns of a page that has views too, where these have all the room that is kept for them.
    pub(super) fn lists(&self) -> Vec<Column> {
        self.lists.iter().copied().map(Column::whole).collect()
    }

    /// The same page where the views, whose box is `taken`, go aside for lists: up for lists below them, and to the
    /// left for lists beside them; `None` where too little would be left.
    pub(super) fn packed(&self, taken: Rect) -> [Option<Packed>; 2] {
        [self.lists_below(taken), self.lists_beside(taken)]
    }

    fn lists_beside(&self, taken: Rect) -> Option<Packed> {
        if self.lists.iter().any(|it| it.x0 < self.view.x1) {
            return None;
        }
        let by = Vec2::new((self.view.x0 - taken.x0).min(0.0), 0.0);
        let right = self.lists.first().map_or(self.view.x1, |it| it.x0 - BESIDE_VIEWS_MM);
        let room = Rect { x0: taken.x1 + by.x + BESIDE_VIEWS_MM, x1: right, ..self.view };
        let beside = columns(room).into_iter().map(Column::part);
        // They are read from the left to the right.
        let columns = beside.chain(self.lists()).collect();
        (COLUMN_MM <= room.width()).then_some(Packed { by, view_title: self.view_title, columns })
    }

    fn lists_below(&self, taken: Rect) -> Option<Packed> {
        let by = Vec2::new(0.0, (self.view.y0 - taken.y0).min(0.0));
        let top = (taken.y1 + by.y + ABOVE_TITLE_MM).max(self.view.y0);
        let view_title = Rect { y0: top, y1: top + VIEW_TITLE_MM, ..self.view_title };
        let below = Rect { y0: view_title.y1 + BELOW_VIEWS_MM, y1: self.area.y1, ..self.view };
        if below.height() < LEAST_COLUMN_MM {
            return None;
        }
        let is_beside = self.lists.iter().all(|it| self.view.x1 <= it.x0);
        let beside = self.lists.iter().filter(|_| is_beside).copied().map(Column::whole);
        let below = columns(below).into_iter().map(Column::part);
        Some(Packed { by, view_title, columns: beside.chain(below).collect() })
    }
}

/// How views stand where lists are set below or beside them.
pub(super) struct Packed {
    /// How far the views go.
    pub(super) by: Vec2,
    pub(super) view_title: Rect,
    pub(super) columns: Vec<Column>,
}

/// The views at the left, a column of lists at the right.
fn side_by_side(area: Rect, frame: Rect) -> (Rect, Vec<Rect>) {
    let column = Rect { x0: area.x1 - (frame.width() * 0.37).clamp(BESIDE_MM, 140.0), ..area };
    (Rect { x1: column.x0 - INSIDE_MM, ..area }, vec![column])
}

/// The views above, the lists below.
fn one_over_the_other(area: Rect) -> (Rect, Vec<Rect>) {
    let middle = area.y0 + area.height() * VIEWS_SHARE;
    (Rect { y1: middle, ..area }, columns(Rect { y0: middle + INSIDE_MM, ..area }))
}

/// One column, or two where the room is wide enough.
fn columns(area: Rect) -> Vec<Rect> {
    let between = 2.0 * INSIDE_MM;
    let width = (area.width() - between) / 2.0;
    if width < COLUMN_MM {
        return vec![area];
    }
    [area.x0, area.x0 + width + between].map(|x0| Rect { x0, x1: x0 + width, ..area }).to_vec()
}
