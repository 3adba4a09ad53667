//! Standard scales, how they are written, and the bar that still tells the scale of a copy.

use kurbo::{Point, Rect, Shape as _};

use crate::drawing::pen::{self, Words};
use crate::drawing::text::CAPITAL;
use crate::drawing::{Anchor, Fill, Item, Layer, Line};
use crate::unit::LengthUnit;
use crate::unit::length::MM_PER_INCH;

/// Model millimetres to one paper millimetre, largest drawing first. The ratios of ISO 5455, with
/// 1:25 and 1:250 left out.
const METRIC: [f64; 9] = [1.0, 2.0, 5.0, 10.0, 20.0, 50.0, 100.0, 200.0, 500.0];

/// Full and half size, then 3", 1 1/2", 1", 3/4", 1/2", 1/4", 1/8" and 1/16" to the foot.
const INCH: [f64; 10] = [1.0, 2.0, 4.0, 8.0, 12.0, 16.0, 24.0, 48.0, 96.0, 192.0];

/// What is larger still is drawn at ten times the last scale, so that there always is a drawing.
const LAST_RESORT: [f64; 3] = [2000.0, 20_000.0, 200_000.0];

/// Height of a scale bar.
const BAR_MM: f64 = 1.6;

/// A scale bar is at most so long on paper.
const LONGEST_BAR_MM: f64 = 55.0;

/// The usual scales of this unit, the largest drawing first.
pub(super) fn usual(unit: LengthUnit) -> &'static [f64] {
    match unit {
        LengthUnit::Inch => &INCH,
        LengthUnit::Millimetre => &METRIC,
    }
}

/// A scale: model millimetres to one paper millimetre.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Scale(f64);

impl Scale {
    pub(super) fn new(model_per_paper: f64) -> Self {
        Self(model_per_paper)
    }

    /// The standard scales of this unit, the largest drawing first.
    pub(super) fn standard(unit: LengthUnit) -> impl Iterator<Item = Self> {
        usual(unit).iter().copied().chain(LAST_RESORT).map(Self)
    }

    /// Paper millimetres to one model millimetre.
    pub(super) fn factor(self) -> f64 {
        1.0 / self.0
    }

    /// `1:5`, or `3" = 1'-0" (1:4)`.
    pub(super) fn words(self, unit: LengthUnit) -> String {
        let ratio =
            if self.0 < 1.0 { format!("{}:1", plain(1.0 / self.0)) } else { format!("1:{}", plain(self.0)) };
        let same = |it: f64| (self.0 - it).abs() < 1e-9;
        let to_the_foot = [
            (4.0, "3"),
            (8.0, "1 1/2"),
            (12.0, "1"),
            (16.0, "3/4"),
            (24.0, "1/2"),
            (48.0, "1/4"),
            (96.0, "1/8"),
            (192.0, "1/16"),
        ];
        let named = to_the_foot.iter().find(|it| unit == LengthUnit::Inch && same(it.0));
        match named {
            Some((_, inches)) => format!("{inches}\" = 1'-0\" ({ratio})"),
            None => ratio,
        }
    }
}

/// At most two decimals.
fn plain(value: f64) -> String {
    let text = format!("{value:.2}");
    text.trim_end_matches('0').trim_end_matches('.').to_owned()
}

/// A bar of four parts from the left end `at` of its upper edge.
pub(super) fn bar(scale: Scale, unit: LengthUnit, at: Point) -> Vec<Item> {
    let (in_mm, name) = match unit {
        LengthUnit::Inch => (MM_PER_INCH, "in"),
        LengthUnit::Millimetre => (1.0, "mm"),
    };
    let step = part(scale, in_mm);
    let length = step * in_mm * scale.factor();
    let mut items = Vec::new();
    for n in 0..4_u8 {
        let from = at.x + length * f64::from(n);
        let rect = Rect::new(from, at.y, from + length, at.y + BAR_MM);
        let fill = if n % 2 == 0 { Fill::Shank } else { Fill::Paper };
        let path = rect.to_path(pen::TRUE_WITHIN_MM);
        items.push(pen::path(Layer::Notes, None, path, Some(fill), Some(Line::Rule)));
    }
    let size = 1.8 / CAPITAL;
    let label = |n: u8| {
        let words = plain(step * f64::from(n));
        let place = Point::new(at.x + length * f64::from(n), at.y - 1.2);
        Words::new(words, size).anchored(Anchor::Middle).at(Layer::Notes, None, place)
    };
    items.extend([0, 2, 4].map(label));
    // Clear of the last figure, which stands out over the end of the bar by half of its width.
    let figures = plain(step * 4.0).len();
    let clear = f64::from(u8::try_from(figures).unwrap_or(u8::MAX)) * size * 0.3;
    let end = Point::new(at.x + length * 4.0 + clear.max(1.3) + 1.2, at.y + BAR_MM);
    items.push(Words::new(name, size).at(Layer::Notes, None, end));
    items
}

/// The largest of 1, 2 and 5 times a power of ten, four of which are no longer than a bar may be.
fn part(scale: Scale, in_mm: f64) -> f64 {
    let most = LONGEST_BAR_MM / 4.0 / (in_mm * scale.factor());
    let power = 10.0_f64.powi(exponent(most));
    [5.0, 2.0, 1.0].into_iter().map(|it| it * power).find(|it| *it <= most).unwrap_or(power)
}

#[expect(clippy::cast_possible_truncation, reason = "the exponent of a scale is a small whole number")]
fn exponent(value: f64) -> i32 {
    value.log10().floor().clamp(-9.0, 9.0) as i32
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn scales_are_written_as_the_trade_writes_them() {
        let words = |ratio: f64, unit| Scale::new(ratio).words(unit);
        assert_eq!(words(4.0, LengthUnit::Inch), "3\" = 1'-0\" (1:4)");
        assert_eq!(words(8.0, LengthUnit::Inch), "1 1/2\" = 1'-0\" (1:8)");
        assert_eq!(words(12.0, LengthUnit::Inch), "1\" = 1'-0\" (1:12)");
        assert_eq!(words(1.0, LengthUnit::Inch), "1:1");
        assert_eq!(words(5.0, LengthUnit::Millimetre), "1:5");
        assert_eq!(words(0.5, LengthUnit::Millimetre), "2:1");
        assert_eq!(words(2.5, LengthUnit::Millimetre), "1:2.5");
    }

    #[test]
    fn a_scale_bar_is_as_long_as_it_says() {
        for (ratio, unit, per) in [
            (4.0, LengthUnit::Inch, 25.4),
            (12.0, LengthUnit::Inch, 25.4),
            (1.0, LengthUnit::Millimetre, 1.0),
            (10.0, LengthUnit::Millimetre, 1.0),
        ] {
            let items = bar(Scale::new(ratio), unit, Point::new(7.0, 3.0));
            let boxes: Vec<Rect> = items
                .iter()
                .filter_map(|it| match &it.shape {
                    crate::drawing::Shape::Path { path, .. } => Some(path.bounding_box()),
                    crate::drawing::Shape::Text { .. } => None,
                })
                .collect();
            let last: f64 = items
                .iter()
                .filter_map(|it| match &it.shape {
                    crate::drawing::Shape::Text { words, .. } => words.parse::<f64>().ok(),
                    crate::drawing::Shape::Path { .. } => None,
                })
                .fold(0.0, f64::max);
            let drawn = boxes.iter().map(|it| it.x1).fold(0.0, f64::max) - 7.0;
            assert!((drawn * ratio / per - last).abs() < 1e-9, "{drawn} mm at 1:{ratio} for {last}");
            assert!(15.0 < drawn && drawn <= LONGEST_BAR_MM, "{drawn}");
        }
    }
}
