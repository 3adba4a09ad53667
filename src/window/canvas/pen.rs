//! Paints the items of a drawing on the canvas, arm by arm the twin of the SVG painter.
//!
//! Points are turned into pixels here, so line widths stay what they are at every zoom.

use iced::advanced::text::Alignment;
use iced::widget::canvas::{self, Frame, Path, Stroke, fill::Rule, path::Builder};
use iced::{Color, Pixels, Radians, Rectangle, Vector, alignment};
use kurbo::{BezPath, PathEl, Point};

use super::camera::PX_PER_MM;
use crate::drawing::{Anchor, Item, Shape};
use crate::window::theme::{self, Colours};

/// How far the base line lies below the top of a line box of `LINE_HEIGHT` times the font size:
/// ascent and descent of the bundled font (its `hhea` table: 1900 and -500 of 2048) centred in it.
const BASE_LINE: f64 = 0.941_75;
pub(super) const LINE_HEIGHT: f32 = 1.2;

/// Width below which a line on a screen is too faint to be seen.
const LEAST_PX: f64 = 0.75;

/// Where the paper lies in the frame, in pixels.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Lay {
    /// The paper's origin.
    pub origin_px: Point,
    /// Width and height of the frame; what lies outside is not painted.
    pub size_px: (f64, f64),
}

impl Lay {
    /// A frame with these bounds, with the paper's origin at a place in it.
    #[must_use]
    pub fn new(origin_px: Point, bounds: Rectangle) -> Self {
        Self { origin_px, size_px: (f64::from(bounds.width), f64::from(bounds.height)) }
    }

    fn px(&self, at: Point) -> Point {
        self.origin_px + at.to_vec2() * PX_PER_MM
    }

    /// Whether a box of the paper shows in the frame.
    fn shows(&self, area: kurbo::Rect) -> bool {
        let (a, b) = (self.px(area.origin()), self.px(Point::new(area.x1, area.y1)));
        a.x <= self.size_px.0 && a.y <= self.size_px.1 && 0.0 <= b.x && 0.0 <= b.y
    }
}

/// Which words the pen paints.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Words {
    /// All of them.
    All,
    /// Those that are turned: the level ones are painted by [`super::letters`].
    Turned,
}

/// Paints the items in their order.
pub fn paint(frame: &mut Frame, items: &[Item], lay: &Lay, words: Words, colours: &Colours) {
    for item in items {
        if let Shape::Path { path, fill, line } = &item.shape {
            use kurbo::Shape as _;
            if !lay.shows(path.bounding_box().inflate(1.0, 1.0)) {
                continue;
            }
            let on_screen = to_path(path, lay);
            if let Some(fill) = fill {
                let style = canvas::Fill { style: colours.fill(*fill).into(), rule: Rule::EvenOdd };
                frame.fill(&on_screen, style);
            }
            if let Some(line) = line {
                let width = (line.width_mm() * PX_PER_MM).max(LEAST_PX);
                frame.stroke(
                    &on_screen,
                    Stroke::default().with_color(colours.line(*line)).with_width(short(width)),
                );
            }
        }
        let Some(line) = lettering(item, colours) else { continue };
        if (words == Words::Turned && line.turn_deg == 0.0) || !lay.shows(line.reach()) {
            continue;
        }
        line.paint(frame, lay);
    }
}

/// A line of words with its colour.
pub(super) struct Lettering<'a> {
    pub(super) words: &'a str,
    /// Its anchor on the base line, on the paper.
    at: Point,
    pub(super) size_px: f64,
    pub(super) anchor: Anchor,
    pub(super) turn_deg: f64,
    bold: bool,
    pub(super) colour: Color,
}

/// The words of an item; `None` of a path.
pub(super) fn lettering<'a>(item: &'a Item, colours: &Colours) -> Option<Lettering<'a>> {
    let Shape::Text { at, words, size_mm, anchor, turn_deg, bold, ink } = &item.shape else { return None };
    Some(Lettering {
        words,
        at: *at,
        size_px: size_mm * PX_PER_MM,
        anchor: *anchor,
        turn_deg: *turn_deg,
        bold: *bold,
        colour: colours.ink(*ink),
    })
}

impl Lettering<'_> {
    /// The box of the paper that it lies in, however it is turned.
    fn reach(&self) -> kurbo::Rect {
        let size_mm = self.size_px / PX_PER_MM;
        let reach = size_mm * f64::from(u32::try_from(self.words.len()).unwrap_or(u32::MAX)) + size_mm;
        kurbo::Rect::from_center_size(self.at, (2.0 * reach, 2.0 * reach))
    }

    /// Its font.
    pub(super) fn font(&self) -> iced::Font {
        if self.bold { theme::BOLD } else { theme::REGULAR }
    }

    /// How it lies about its anchor.
    pub(super) fn align(&self) -> Alignment {
        match self.anchor {
            Anchor::Start => Alignment::Left,
            Anchor::Middle => Alignment::Center,
            Anchor::End => Alignment::Right,
        }
    }

    /// How far the base line lies below the top of its line box.
    fn up(&self) -> f32 {
        short(BASE_LINE * self.size_px)
    }

    /// Its anchor at the top of its line box, in pixels, on a paper with its origin there.
    pub(super) fn top(&self, origin_px: Point) -> iced::Point {
        let at = px(self.at, origin_px);
        iced::Point::new(at.x, at.y - self.up())
    }

    fn paint(&self, frame: &mut Frame, lay: &Lay) {
        let text = |position| canvas::Text {
            content: self.words.to_owned(),
            position,
            max_width: f32::INFINITY,
            color: self.colour,
            size: Pixels(short(self.size_px)),
            line_height: iced::advanced::text::LineHeight::Relative(LINE_HEIGHT),
            font: self.font(),
            align_x: self.align(),
            align_y: alignment::Vertical::Top,
            shaping: iced::advanced::text::Shaping::Advanced,
        };
        if self.turn_deg == 0.0 {
            frame.fill_text(text(self.top(lay.origin_px)));
            return;
        }
        let at = px(self.at, lay.origin_px);
        frame.with_save(|frame| {
            frame.translate(Vector::new(at.x, at.y));
            frame.rotate(Radians(short(-self.turn_deg.to_radians())));
            frame.fill_text(text(iced::Point::new(0.0, -self.up())));
        });
    }
}

/// A place of the paper in pixels.
fn px(at: Point, origin_px: Point) -> iced::Point {
    let at = origin_px + at.to_vec2() * PX_PER_MM;
    iced::Point::new(short(at.x), short(at.y))
}

fn to_path(path: &BezPath, lay: &Lay) -> Path {
    let mut builder = Builder::new();
    let px = |at: Point| px(at, lay.origin_px);
    for element in path {
        match element {
            PathEl::MoveTo(to) => builder.move_to(px(to)),
            PathEl::LineTo(to) => builder.line_to(px(to)),
            PathEl::QuadTo(a, to) => builder.quadratic_curve_to(px(a), px(to)),
            PathEl::CurveTo(a, b, to) => builder.bezier_curve_to(px(a), px(b), px(to)),
            PathEl::ClosePath => builder.close(),
        }
    }
    builder.build()
}

/// A pixel number as the toolkit takes it. Far outside the frame it is held at a million, where
/// f32 still tells halves of a pixel apart.
#[must_use]
pub fn short(px: f64) -> f32 {
    #[allow(clippy::cast_possible_truncation, reason = "pixels need no more than f32, and the range is held")]
    let it = px.clamp(-1e6, 1e6) as f32;
    if it.is_finite() { it } else { 0.0 }
}
