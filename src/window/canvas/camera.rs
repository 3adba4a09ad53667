//! What part of the drawing plane is seen, and how large: model millimetres, paper millimetres, pixels.
//!
//! Everything is f64 and pure. The paper's origin is the model's origin, so that panning changes
//! no item of the drawing; only a change of scale does.

use kurbo::{Point, Rect, Vec2};

use crate::drawing::View;

/// Pixels to one millimetre on paper: the reference pixel of CSS, 96 to the inch.
pub const PX_PER_MM: f64 = 96.0 / 25.4;

/// Least and greatest scale, paper millimetres to one model millimetre.
const SCALES: (f64, f64) = (0.002, 20.0);

/// Pixels kept free at an edge when nothing is known of what stands round the joint.
const ROOM_PX: f64 = 84.0;

/// Pixels that marks and dimensions take up on each side of a joint, free space included.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Room {
    /// At the left.
    pub left: f64,
    /// Above.
    pub above: f64,
    /// At the right.
    pub right: f64,
    /// Below.
    pub below: f64,
}

impl Default for Room {
    fn default() -> Self {
        Self { left: ROOM_PX, above: ROOM_PX, right: ROOM_PX, below: ROOM_PX }
    }
}

/// Where the eye is.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Camera {
    /// Paper millimetres to one model millimetre.
    pub scale: f64,
    /// The model place in the middle of the viewport.
    pub centre: Point,
    /// Width and height of the viewport in pixels.
    pub viewport_px: (f64, f64),
    /// The joint is fitted in again when the viewport changes; until the user pans or zooms.
    pub fitted: bool,
}

impl Default for Camera {
    fn default() -> Self {
        Self { scale: 0.5, centre: Point::ORIGIN, viewport_px: (800.0, 600.0), fitted: true }
    }
}

impl Camera {
    /// The view that a drawing is made for.
    #[must_use]
    pub fn view(&self) -> View {
        View { scale: self.scale, origin: Point::ORIGIN }
    }

    /// Pixels to one model millimetre.
    #[must_use]
    pub fn px_per_model_mm(&self) -> f64 {
        self.scale * PX_PER_MM
    }

    /// Where the origin of the paper falls in the viewport, in pixels.
    #[must_use]
    pub fn paper_origin_px(&self) -> Point {
        let middle = Point::new(self.viewport_px.0 / 2.0, self.viewport_px.1 / 2.0);
        middle - self.view().on_paper(plane(self.centre)).to_vec2() * PX_PER_MM
    }

    /// The place of the paper at a pixel of the viewport.
    #[must_use]
    pub fn on_paper(&self, px: Point) -> Point {
        ((px - self.paper_origin_px()) / PX_PER_MM).to_point()
    }

    /// The part of the paper that is seen.
    #[must_use]
    pub fn shown_on_paper(&self) -> Rect {
        let far = Point::new(self.viewport_px.0, self.viewport_px.1);
        Rect::from_points(self.on_paper(Point::ORIGIN), self.on_paper(far))
    }

    /// The model place at a pixel of the viewport.
    #[must_use]
    pub fn in_model(&self, px: Point) -> Point {
        self.view().in_model(self.on_paper(px))
    }

    /// The pixel of the viewport at which a model place is seen.
    #[must_use]
    pub fn on_screen(&self, place: Point) -> Point {
        self.paper_origin_px() + self.view().on_paper(plane(place)).to_vec2() * PX_PER_MM
    }

    /// Another size of the viewport, which grows or shrinks at its right and below: what is under the pointer stays.
    pub fn resize_below(&mut self, viewport_px: (f64, f64)) {
        let before = self.in_model(Point::ORIGIN);
        self.viewport_px = viewport_px;
        self.centre += before - self.in_model(Point::ORIGIN);
    }

    /// Moves the drawing by so many pixels, as a hand moves paper.
    pub fn pan(&mut self, by_px: Vec2) {
        let mm = by_px / self.px_per_model_mm();
        self.centre -= Vec2::new(mm.x, -mm.y);
        self.fitted = false;
    }

    /// Makes everything `factor` times as large; what is under the pixel stays there.
    pub fn zoom_at(&mut self, px: Point, factor: f64) {
        let held = self.in_model(px);
        self.scale = (self.scale * factor).clamp(SCALES.0, SCALES.1);
        let moved = self.in_model(px);
        self.centre -= moved - held;
        self.fitted = false;
    }

    /// Sets the scale; the middle stays.
    pub fn set_scale(&mut self, scale: f64) {
        self.scale = scale.clamp(SCALES.0, SCALES.1);
        self.fitted = false;
    }

    /// Shows all of an extent, with room round it for marks and dimensions.
    pub fn fit(&mut self, extent: Option<Rect>, room: &Room) {
        self.fitted = true;
        let Some(extent) = extent else { return };
        let left_over = |px: f64, taken: f64| (px - taken).max(px * 0.4).max(1.0);
        let across = left_over(self.viewport_px.0, room.left + room.right) / extent.width().max(1.0);
        let up = left_over(self.viewport_px.1, room.above + room.below) / extent.height().max(1.0);
        self.scale = (across.min(up) / PX_PER_MM).clamp(SCALES.0, SCALES.1);
        // The middle of what is left over is the middle of the extent, as far as the extent stays in sight.
        let px = self.px_per_model_mm();
        let aside = |less: f64, more: f64, view: f64, size: f64| {
            let spare = (view / px - size).max(0.0) / 2.0;
            ((more - less) / 2.0 / px).clamp(-spare, spare)
        };
        self.centre = extent.center()
            + Vec2::new(
                aside(room.left, room.right, self.viewport_px.0, extent.width()),
                aside(room.below, room.above, self.viewport_px.1, extent.height()),
            );
    }

    /// Brings a place into view if it is not well inside already; the scale stays.
    pub fn show(&mut self, place: Point) {
        let px = self.on_screen(place);
        let margin = (self.viewport_px.0.min(self.viewport_px.1) * 0.12).min(ROOM_PX);
        let inside = Rect::new(margin, margin, self.viewport_px.0 - margin, self.viewport_px.1 - margin);
        if !inside.contains(px) {
            self.centre = place;
            self.fitted = false;
        }
    }

    /// The scale as draughtsmen write it: `1:2.3`, `2:1`.
    #[must_use]
    pub fn scale_words(&self) -> String {
        let short = |it: f64| {
            let digits = if it < 9.95 { 1 } else { 0 };
            let text = format!("{it:.digits$}");
            text.strip_suffix(".0").map(str::to_owned).unwrap_or(text)
        };
        if self.scale < 0.999 {
            format!("1:{}", short(1.0 / self.scale))
        } else {
            format!("{}:1", short(self.scale))
        }
    }
}

fn plane(at: Point) -> crate::unit::Vec3 {
    crate::unit::Vec3::new(at.x, at.y, 0.0)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn cameras() -> Vec<Camera> {
        let mut all = Vec::new();
        for scale in [0.002, 0.043, 0.5, 1.0, 7.3, 20.0] {
            for centre in [Point::ORIGIN, Point::new(-1250.5, 88.25), Point::new(1e6, -1e6)] {
                for viewport_px in [(1024.0, 420.0), (611.0, 903.0)] {
                    all.push(Camera { scale, centre, viewport_px, fitted: false });
                }
            }
        }
        all
    }

    #[test]
    fn a_place_goes_to_the_screen_and_comes_back() {
        for camera in cameras() {
            for px in [Point::new(0.0, 0.0), Point::new(1.5, 777.25), Point::new(-30.0, 2000.0)] {
                let back = camera.on_screen(camera.in_model(px));
                assert!((back - px).hypot() < 1e-6, "{camera:?} {px:?} {back:?}");
            }
        }
    }

    #[test]
    fn up_is_up_and_one_to_one_is_true_size() {
        let camera = Camera { scale: 1.0, ..Camera::default() };
        let origin = camera.on_screen(Point::ORIGIN);
        let above = camera.on_screen(Point::new(0.0, 25.4));
        assert!((origin.y - above.y - 96.0).abs() < 1e-9, "an inch of model is 96 pixels upward");
        assert!((origin.x - above.x).abs() < 1e-9);
    }

    #[test]
    fn zooming_keeps_what_is_under_the_pointer_even_at_the_limits() {
        for camera in cameras() {
            for factor in [1.25, 0.8, 1e9, 1e-9] {
                let (mut zoomed, px) = (camera, Point::new(37.0, 410.0));
                zoomed.zoom_at(px, factor);
                let off = (zoomed.in_model(px) - camera.in_model(px)).hypot();
                assert!(off * zoomed.px_per_model_mm() < 1e-6, "{camera:?} {factor}: {off}");
                assert!((0.002..=20.0).contains(&zoomed.scale));
            }
        }
    }

    #[test]
    fn a_viewport_that_shrinks_below_leaves_every_place_where_it_was() {
        for camera in cameras() {
            let mut resized = camera;
            resized.resize_below((640.0, 300.0));
            for px in [Point::new(0.0, 0.0), Point::new(321.0, 123.0)] {
                let off = (resized.in_model(px) - camera.in_model(px)).hypot();
                assert!(off * camera.px_per_model_mm() < 1e-6, "{camera:?}");
            }
        }
    }

    #[test]
    fn panning_there_and_back_changes_nothing() {
        for camera in cameras() {
            let mut panned = camera;
            panned.pan(Vec2::new(113.0, -57.0));
            let at = panned.on_screen(camera.centre);
            assert!((at.x - camera.viewport_px.0 / 2.0 - 113.0).abs() < 1e-6);
            assert!((at.y - camera.viewport_px.1 / 2.0 + 57.0).abs() < 1e-6);
            panned.pan(Vec2::new(-113.0, 57.0));
            assert!((panned.centre - camera.centre).hypot() < 1e-6);
        }
    }

    #[test]
    fn a_fitted_extent_is_all_inside_whatever_its_shape() {
        for extent in [
            Rect::new(0.0, 0.0, 100.0, 2400.0),
            Rect::new(-5.0, 3.0, 9000.0, 4.0),
            Rect::new(7.0, 7.0, 7.0, 7.0),
        ] {
            for viewport_px in [(1024.0, 420.0), (80.0, 60.0)] {
                let mut camera = Camera { viewport_px, ..Camera::default() };
                camera.fit(Some(extent), &Room { right: 140.0, ..Room::default() });
                for corner in [Point::new(extent.x0, extent.y0), Point::new(extent.x1, extent.y1)] {
                    let px = camera.on_screen(corner);
                    assert!((0.0..=viewport_px.0).contains(&px.x), "{extent:?} {px:?}");
                    assert!((0.0..=viewport_px.1).contains(&px.y), "{extent:?} {px:?}");
                }
            }
        }
    }

    #[test]
    fn a_place_out_of_sight_is_brought_in_and_one_in_sight_is_left() {
        let mut camera = Camera::default();
        let before = camera;
        camera.show(Point::new(1.0, 1.0));
        assert_eq!(camera, before);
        camera.show(Point::new(1e4, 0.0));
        assert_eq!(camera.centre, Point::new(1e4, 0.0));
    }

    #[test]
    fn scales_read_as_on_drawings() {
        let words = |scale| Camera { scale, ..Camera::default() }.scale_words();
        assert_eq!(words(0.5), "1:2");
        assert_eq!(words(1.0 / 2.3), "1:2.3");
        assert_eq!(words(0.1), "1:10");
        assert_eq!(words(1.0), "1:1");
        assert_eq!(words(2.0), "2:1");
    }
}
