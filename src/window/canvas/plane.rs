//! The plane that a view shows: places of the model in it, and back; and the planes that cut.

use kurbo::{Line, Point, Rect};

use crate::drawing::Projection;
use crate::joint::Look as From;
use crate::shape::Edge;
use crate::trace::{Body, Trace};
use crate::unit::Vec3;

/// The planes that cut the views, as places on the axis that each looks along.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Cuts {
    front: Option<f64>,
    side: Option<f64>,
    top: Option<f64>,
}

impl Cuts {
    /// The plane that cuts the view from here.
    #[must_use]
    pub fn of(&self, from: From) -> Option<f64> {
        match from {
            From::Front => self.front,
            From::Side => self.side,
            From::Top => self.top,
        }
    }

    /// The same with another plane for the view from here.
    #[must_use]
    pub fn with(mut self, from: From, at: Option<f64>) -> Self {
        match from {
            From::Front => self.front = at,
            From::Side => self.side = at,
            From::Top => self.top = at,
        }
        self
    }

    /// How the view from here is drawn.
    #[must_use]
    pub fn projection(&self, from: From) -> Projection {
        Projection { cut_mm: self.of(from), ..Projection::of(from) }
    }
}

/// Every way to look, in the order of the buttons.
pub const ALL: [From; 3] = [From::Front, From::Side, From::Top];

/// What a view is called.
#[must_use]
pub fn name(from: From) -> &'static str {
    match from {
        From::Front => "Front",
        From::Side => "Side",
        From::Top => "Top",
    }
}

/// The place on the axis that a view from here looks along.
#[must_use]
pub fn along(from: From, place: Vec3) -> f64 {
    match from {
        From::Front => place.z,
        From::Side => place.x,
        From::Top => place.y,
    }
}

/// A place of the model in the plane of a view.
#[must_use]
pub fn flat(from: From, place: Vec3) -> Point {
    from.turned(place).plan()
}

/// The place of the model at a place of the plane of a view, `toward` the viewer from its origin.
#[must_use]
pub fn lifted(from: From, at: Point, toward: f64) -> Vec3 {
    from.turned_back(Vec3::new(at.x, at.y, toward))
}

/// The box of a body in the plane of a view.
#[must_use]
pub fn bounds(from: From, body: &Body) -> Rect {
    let area = body.region.bounds();
    Rect::from_points(
        flat(from, Vec3::new(area.x0, area.y0, body.far_mm)),
        flat(from, Vec3::new(area.x1, area.y1, body.near_mm)),
    )
}

/// How far a body reaches along the axis that a view looks along, in the coordinate towards the viewer.
#[must_use]
pub fn reach(from: From, body: &Body) -> (f64, f64) {
    let area = body.region.bounds();
    let (a, b) = (
        from.turned(Vec3::new(area.x0, area.y0, body.far_mm)).z,
        from.turned(Vec3::new(area.x1, area.y1, body.near_mm)).z,
    );
    (a.min(b), a.max(b))
}

/// The straight faces of all bodies in the plane of a view; from the side and from above those of their boxes.
#[must_use]
pub fn faces(from: From, trace: &Trace) -> Vec<Line> {
    if from == From::Front {
        let edges = trace.bodies.iter().flat_map(|it| it.region.loops.iter().flatten());
        let straight = |it: &Edge| match it {
            Edge::Line(line) => Some(*line),
            Edge::Arc(_) | Edge::Curve(_) => None,
        };
        return edges.filter_map(straight).collect();
    }
    let sides = |it: &Body| {
        let area = bounds(from, it);
        let corners = [
            Point::new(area.x0, area.y0),
            Point::new(area.x1, area.y0),
            Point::new(area.x1, area.y1),
            Point::new(area.x0, area.y1),
        ];
        (0..4).map(move |n| Line::new(corners[n], corners[(n + 1) % 4]))
    };
    trace.bodies.iter().flat_map(sides).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_place_goes_to_every_plane_and_comes_back() {
        let place = Vec3::new(3.0, -5.0, 7.0);
        for from in ALL {
            let toward = from.turned(place).z;
            assert_eq!(lifted(from, flat(from, place), toward), place, "{from:?}");
            assert_eq!(Cuts::default().with(from, Some(2.0)).of(from), Some(2.0));
        }
        for (from, expected) in ALL.into_iter().zip([7.0, 3.0, -5.0]) {
            assert!((along(from, place) - expected).abs() < 1e-12, "{from:?}");
        }
    }
}
