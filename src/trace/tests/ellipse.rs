//! The distance from a shank to the round side of wood that is no circle, against many places of that side.

use std::f64::consts::{PI, TAU};

use kurbo::{Point, Vec2};

use super::scene::{joint, member, nail};
use crate::joint::{Grain, Outline};
use crate::trace::trace;

/// Half an ellipse on its long axis, from `half.0` to the right of the middle anticlockwise to as far on the left.
struct Half {
    half: (f64, f64),
    turn: f64,
}

impl Half {
    /// The place at an angle, and at a share of the way to it from the middle.
    fn at(&self, angle: f64, share: f64) -> Point {
        let it = Vec2::new(self.half.0 * angle.cos(), self.half.1 * angle.sin()) * share;
        let (sin, cos) = self.turn.sin_cos();
        Point::new(it.x * cos - it.y * sin, it.x * sin + it.y * cos)
    }

    fn outline(&self) -> Outline {
        let (first, last) = (self.at(0.0, 1.0), self.at(PI, 1.0));
        let (a, b) = self.half;
        let turn = self.turn.to_degrees();
        Outline::Path(format!("M {} {} A {a} {b} {turn} 0 1 {} {} Z", first.x, first.y, last.x, last.y))
    }

    /// The least distance to 20,000 places of the round side and to the straight one: too great by less than
    /// half a step, squared, over twice the distance.
    fn nearest(&self, place: Point) -> f64 {
        let round = (0..=20_000_i32).map(|n| (self.at(PI * f64::from(n) / 20_000.0, 1.0) - place).hypot());
        let axis = Vec2::new(self.turn.cos(), self.turn.sin());
        round.fold(axis.cross(place.to_vec2()).abs(), f64::min)
    }
}

#[test]
fn cover_of_a_shank_beside_the_round_of_an_ellipse() {
    for half in [(60.0, 50.0), (60.0, 30.0), (60.0, 12.0), (50.0, 60.0), (20.0, 60.0)] {
        for turn in [0.0, 0.4, 0.25 * TAU, 2.5] {
            let side = Half { half, turn };
            let outline = side.outline();
            for n in 0..24_i32 {
                let share = [0.15, 0.5, 0.8, 0.97][usize::try_from(n % 4).unwrap_or(0)];
                let place = side.at(PI * (f64::from(n) + 0.5) / 24.0, share);
                let wood = member(outline.clone(), (0.0, 500.0), Grain::AlongDepth);
                let shank = nail([place.x, place.y, 400.0], [0.0, 0.0, -1.0], 150.0);
                let cover = trace(&joint(vec![wood], vec![shank])).fasteners[0].core[0].cover_mm;
                let (cover, nearest) = (cover.expect("it is in wood"), side.nearest(place));
                assert!(
                    (cover - nearest).abs() < 1e-4,
                    "{half:?} turned {turn} at {n}: {cover}, not {nearest}"
                );
                assert!(cover < nearest + 1e-9, "nothing is nearer than the nearest: {cover}, {nearest}");
            }
        }
    }
}
