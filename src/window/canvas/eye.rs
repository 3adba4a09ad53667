//! Where the eye is: all of the joint, what is chosen, a place; larger and smaller.

use kurbo::{Point, Rect};

use super::camera::{self, Room};
use super::{Pane, ZOOM_STEP, hit, plane};
use crate::drawing::{self, Item, Layer, Shape, Subject};
use crate::unit::Vec3;
use crate::window::look::{Look, Shown};

/// Pixels kept free round all that is drawn when it is fitted in.
const EDGE_PX: f64 = 26.0;
/// The greatest share of the pane that marks and labels at one side may take from the joint.
const MOST_ASIDE: f64 = 0.32;

impl Pane {
    /// Shows all of the joint.
    ///
    /// What marks and dimensions take up round it is measured on a first drawing: it hardly
    /// changes with the scale. Side by side the views have little room: there what would be cut is left out, names first,
    /// then dimensions; alone each view has them.
    pub fn fit(&mut self, look: &Look<'_>) {
        self.left_out = &[];
        self.fit_once(look);
        if look.shown != Shown::All {
            return;
        }
        for (cut, left_out) in [
            (Layer::Notes, &[Layer::Notes] as &'static [Layer]),
            (Layer::Dimensions, &[Layer::Notes, Layer::Dimensions]),
        ] {
            if self.is_cut(cut) {
                self.left_out = left_out;
                self.fit_once(look);
            }
        }
    }

    /// Whether words of a layer, or the lines of a dimension, are cut by the edge of the pane.
    fn is_cut(&self, layer: Layer) -> bool {
        let seen = self.camera.shown_on_paper();
        let counts = |it: &&Item| match it.shape {
            Shape::Text { .. } => it.layer == layer,
            Shape::Path { .. } => it.layer == layer && layer == Layer::Dimensions,
        };
        self.items.iter().filter(counts).map(|it| hit::bounds(&it.shape)).any(|it| seen.union(it) != seen)
    }

    fn fit_once(&mut self, look: &Look<'_>) {
        let projection = look.cuts.projection(self.view);
        let extent = drawing::extent_of(&look.inputs(), &projection);
        self.camera.fit(extent, &Room::default());
        self.draw_again(look);
        let Some(extent) = extent else { return };
        let extent = self.with_placed(extent);
        self.fit_round(extent, look);
        // Marks and dimensions take a little more, or less, of a drawing of another scale.
        for _ in 0..2 {
            if self.is_cut(Layer::Dimensions) || self.is_cut(Layer::Notes) {
                self.fit_round(extent, look);
            }
        }
    }

    /// An extent of the joint together with the dimensions that the user has placed, wherever they stand.
    fn with_placed(&self, extent: Rect) -> Rect {
        let view = self.camera.view();
        let is_placed = |it: &&Item| matches!(it.subject, Some(Subject::Dimension(_)));
        let placed = self.items.iter().filter(is_placed).map(|it| hit::bounds(&it.shape));
        let in_model = placed.map(|it| {
            Rect::from_points(
                view.in_model(Point::new(it.x0, it.y0)),
                view.in_model(Point::new(it.x1, it.y1)),
            )
        });
        in_model.fold(extent, |all, it| all.union(it))
    }

    /// Fits in an extent, with room for what is drawn round it now.
    fn fit_round(&mut self, extent: Rect, look: &Look<'_>) {
        let drawn = self.items.iter().map(|it| hit::bounds(&it.shape)).reduce(|a, b| a.union(b));
        let Some(drawn) = drawn else { return };
        let view = self.camera.view();
        let corner = |x: f64, y: f64| view.on_paper(Vec3::new(x, y, 0.0));
        let joint = Rect::from_points(corner(extent.x0, extent.y0), corner(extent.x1, extent.y1));
        // In a small pane a long label must not push the joint aside.
        let (width, height) = self.camera.viewport_px;
        let room = |mm: f64, px: f64| (mm.max(0.0) * camera::PX_PER_MM + EDGE_PX).min(px * MOST_ASIDE);
        let room = Room {
            left: room(joint.x0 - drawn.x0, width),
            above: room(joint.y0 - drawn.y0, height),
            right: room(drawn.x1 - joint.x1, width),
            below: room(drawn.y1 - joint.y1, height),
        };
        self.camera.fit(Some(extent), &room);
        self.draw_again(look);
    }

    /// Larger or smaller about the middle.
    pub fn zoom(&mut self, larger: bool, look: &Look<'_>) {
        let middle = Point::new(self.camera.viewport_px.0 / 2.0, self.camera.viewport_px.1 / 2.0);
        self.camera.zoom_at(middle, if larger { ZOOM_STEP } else { 1.0 / ZOOM_STEP });
        self.draw_again(look);
    }

    /// True size.
    pub fn true_size(&mut self, look: &Look<'_>) {
        self.camera.set_scale(1.0);
        self.draw_again(look);
    }

    /// Makes what is chosen as large as the pane has room for.
    pub fn fit_chosen(&mut self, look: &Look<'_>) {
        let chosen: Vec<&Subject> = look.all_chosen().collect();
        let of_chosen = |it: &&Item| it.subject.as_ref().is_some_and(|it| chosen.contains(&it));
        let on_paper = self.items.iter().filter(of_chosen).map(|it| hit::bounds(&it.shape));
        let Some(on_paper) = on_paper.reduce(|a, b| a.union(b)) else { return self.fit(look) };
        let view = self.camera.view();
        let corner = |x: f64, y: f64| view.in_model(Point::new(x, y));
        let area = Rect::from_points(corner(on_paper.x0, on_paper.y0), corner(on_paper.x1, on_paper.y1));
        let room = Room { left: EDGE_PX, above: EDGE_PX, right: EDGE_PX, below: EDGE_PX };
        self.camera.fit(Some(area), &room);
        self.camera.fitted = false;
        self.draw_again(look);
    }

    /// Shows all of the joint when a step has made it, or its dimensions, larger than what is seen, unless the user has
    /// chosen what to see.
    pub fn keep_in_sight(&mut self, look: &Look<'_>) {
        if !self.camera.fitted || self.is_busy() {
            return;
        }
        let extent = drawing::extent_of(&look.inputs(), &look.cuts.projection(self.view));
        let view = self.camera.view();
        let corner = |x: f64, y: f64| view.on_paper(Vec3::new(x, y, 0.0));
        let seen = self.camera.shown_on_paper();
        let joint = extent.map(|it| Rect::from_points(corner(it.x0, it.y0), corner(it.x1, it.y1)));
        if joint.is_some_and(|it| seen.union(it) != seen)
            || self.is_cut(Layer::Dimensions)
            || self.is_cut(Layer::Notes)
        {
            self.fit(look);
        }
    }

    /// Brings a place of the drawing plane into view.
    pub fn show(&mut self, place: Point, look: &Look<'_>) {
        let shank = look.chosen_fastener().and_then(|n| look.trace.fasteners.get(n));
        let depth = shank.map_or(0.0, |it| it.head_at.z);
        let seen = plane::flat(self.view, Vec3::new(place.x, place.y, depth));
        self.camera.show(seen);
        self.repaint();
        self.lay_over(look);
    }
}

#[cfg(test)]
mod tests {
    use std::sync::Arc;

    use super::*;
    use crate::joint::{Look as From, file};
    use crate::stock::Stock;
    use crate::window::App;
    use crate::window::canvas::Message;

    /// As at 1024 by 700: what has no room is left out, and nothing is cut.
    #[test]
    fn side_by_side_no_name_and_no_dimension_is_cut() {
        let stock = Arc::new(Stock::built_in());
        for text in [
            include_str!("../../../sample-projects/heron-lane-ledger.joint.json"),
            include_str!("../../../sample-projects/weir-gate-post.joint.json"),
            include_str!("../../../sample-projects/quay-house-sill.joint.json"),
        ] {
            let joint = file::read(text, &stock).unwrap();
            let mut app = App::new(stock.clone(), joint, None);
            app.show_views(Shown::All);
            for (from, size) in
                [(From::Top, (459.0, 172.0)), (From::Front, (275.0, 274.0)), (From::Side, (183.0, 274.0))]
            {
                let _ = app.in_canvas_of(from, &Message::Resized(size.0, size.1));
            }
            for pane in app.beside.iter().chain([&app.canvas]) {
                assert!(pane.items.iter().any(|it| it.layer == Layer::Members), "the joint itself is drawn");
                assert!(!pane.is_cut(Layer::Notes) && !pane.is_cut(Layer::Dimensions), "{:?}", pane.view);
            }
            app.show_views(Shown::One(From::Front));
            assert!(app.canvas.left_out.is_empty(), "alone the view has everything");
        }
    }
}
