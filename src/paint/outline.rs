//! Letters as outlines.

use kurbo::{Affine, BezPath, Point, Vec2};
use ttf_parser::{Face, GlyphId, OutlineBuilder};

use crate::drawing;

/// The bundled face, regular or bold.
pub(super) struct Letters {
    pub(super) face: Face<'static>,
    pub(super) bytes: &'static [u8],
}

impl Letters {
    pub(super) fn bundled(bold: bool) -> Self {
        let bytes = drawing::font_file(bold);
        let face = Face::parse(bytes, 0).expect("the bundled font is sound; a test reads it");
        Self { face, bytes }
    }

    /// The glyph of a letter; the empty box for one that the font has not.
    pub(super) fn glyph(&self, letter: char) -> GlyphId {
        self.face.glyph_index(letter).unwrap_or_default()
    }

    /// How far the next letter stands, in ems.
    pub(super) fn advance(&self, glyph: GlyphId) -> f64 {
        let em = f64::from(self.face.units_per_em());
        self.face.glyph_hor_advance(glyph).map_or(0.5, |it| f64::from(it) / em)
    }

    /// How wide the words are, in ems.
    pub(super) fn width(&self, words: &str) -> f64 {
        words.chars().map(|it| self.advance(self.glyph(it))).sum()
    }

    /// The words as one path, from this place of their base line on.
    pub(super) fn outline(
        &self,
        words: &str,
        at: Point,
        size: f64,
        (anchor, turn_deg): (f64, f64),
    ) -> BezPath {
        let scale = size / f64::from(self.face.units_per_em());
        let turn = Affine::translate(at.to_vec2()) * Affine::rotate(-turn_deg.to_radians());
        let mut left = -self.width(words) * anchor * size;
        let mut all = BezPath::new();
        for letter in words.chars() {
            let glyph = self.glyph(letter);
            let mut pen = Pen(BezPath::new());
            if self.face.outline_glyph(glyph, &mut pen).is_some() {
                let place = turn
                    * Affine::translate(Vec2::new(left, 0.0))
                    * Affine::new([scale, 0.0, 0.0, -scale, 0.0, 0.0]);
                all.extend((place * pen.0).iter());
            }
            left += self.advance(glyph) * size;
        }
        all
    }
}

struct Pen(BezPath);

impl OutlineBuilder for Pen {
    fn move_to(&mut self, x: f32, y: f32) {
        self.0.move_to((f64::from(x), f64::from(y)));
    }

    fn line_to(&mut self, x: f32, y: f32) {
        self.0.line_to((f64::from(x), f64::from(y)));
    }

    fn quad_to(&mut self, x1: f32, y1: f32, x: f32, y: f32) {
        self.0.quad_to((f64::from(x1), f64::from(y1)), (f64::from(x), f64::from(y)));
    }

    fn curve_to(&mut self, x1: f32, y1: f32, x2: f32, y2: f32, x: f32, y: f32) {
        let p = |x: f32, y: f32| (f64::from(x), f64::from(y));
        self.0.curve_to(p(x1, y1), p(x2, y2), p(x, y));
    }

    fn close(&mut self) {
        self.0.close_path();
    }
}
