//! Where a connector lies: a place on a face, and the two directions along the face and out of it.

use kurbo::{Point, Vec2};

use crate::joint::{Hole, Interval, Plate, PlateSide};

/// A place on a face in the drawing.
///
/// `along` and `out` are of unit length and square to each other; `out` looks away from the body.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Seat {
    /// The place on the face.
    pub at: Point,
    /// Along the face.
    pub along: Vec2,
    /// Out of the body.
    pub out: Vec2,
    /// The middle of the connector in depth, millimetres.
    pub depth_mm: f64,
}

impl Seat {
    /// On a face that looks `out`; `along` is a quarter turn clockwise from it, so that the connector's
    /// own lines are not mirrored. `None` where `out` has no direction.
    #[must_use]
    pub fn new(at: Point, out: Vec2, depth_mm: f64) -> Option<Self> {
        let length = out.hypot();
        if length == 0.0 || !length.is_finite() {
            return None;
        }
        let out = out / length;
        Some(Self { at, along: Vec2::new(out.y, -out.x), out, depth_mm })
    }

    /// The same seat seen in a mirror: `along` looks the other way.
    #[must_use]
    pub fn mirrored(self) -> Self {
        Self { along: -self.along, ..self }
    }

    /// The place in the drawing of one in the form's own lines.
    #[must_use]
    pub fn place(&self, own: Point) -> Point {
        self.at + self.along * own.x + self.out * own.y
    }

    /// A plate of a form laid against the face.
    #[must_use]
    pub fn lay(&self, plate: &Plate) -> Plate {
        let is_mirrored = self.along.cross(self.out) < 0.0;
        let hole = |it: &Hole| Hole {
            depth_mm: it.depth_mm + self.depth_mm,
            angle_deg: it.angle_deg.map(|it| if is_mirrored { -it } else { it }),
            driven_from: match (it.driven_from, is_mirrored) {
                (PlateSide::Left, false) | (PlateSide::Right, true) => PlateSide::Left,
                (PlateSide::Right, false) | (PlateSide::Left, true) => PlateSide::Right,
            },
            ..it.clone()
        };
        let depth = Interval { from: plate.depth.from + self.depth_mm, to: plate.depth.to + self.depth_mm };
        Plate {
            depth,
            profile: plate.profile.iter().map(|it| self.place(*it)).collect(),
            holes: plate.holes.iter().map(hole).collect(),
            ..plate.clone()
        }
    }
}
