//! The grain of a chosen member, drawn in its lower left corner, and the hand that turns it.

use kurbo::{Point, Vec2};

use super::carry::Load;
use super::gesture::{Ground, direction, stepped};
use super::typed::Typed;
use super::{Pane, REACH_PX};
use crate::drawing::Subject;
use crate::joint::{Grain, Look as From};
use crate::trace::Owner;
use crate::window::look::{Action, Look};

/// The grain is drawn so far from the left and the lower side, where that leaves the middle to the name; pixels.
const ASIDE_PX: f64 = 44.0;
/// How far the handle stands from the place round which it turns, pixels: the first of these that is clear of the handles of its
/// sides.
const FROM_MIDDLE_PX: [f64; 3] = [28.0, 50.0, 72.0];
/// Clear of them, pixels: a press there is near the one or the other, never both.
const CLEAR_PX: f64 = 2.0 * REACH_PX;
/// A direction that is less than this off one of a face is meant to be that one, in degrees.
const NEARLY_DEG: f64 = 2.5;

/// The grain of the chosen member as it is shown in the drawing plane.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Shown {
    /// The member's place in the joint's list.
    pub(super) member: usize,
    /// How its grain runs: in the plane, or along the depth.
    pub(super) grain: Grain,
    /// The place round which it turns, in the drawing plane.
    pub(super) middle: Point,
    /// Where the grain is taken hold of, in pixels.
    pub(super) handle: Point,
}

impl Pane {
    /// The grain of the chosen member; it has one to turn in Front alone.
    pub(super) fn grain(&self, look: &Look<'_>) -> Option<Shown> {
        let Some(Subject::Member(id)) = look.chosen.filter(|_| look.also.is_empty()) else { return None };
        if self.view != From::Front {
            return None;
        }
        let member = look.joint.members.iter().position(|it| it.id == *id)?;
        let body = look.trace.bodies.iter().find(|it| it.owner == Owner::Member(member))?;
        let area = body.region.bounds();
        let grain = look.joint.members[member].grain;
        let way = match grain {
            Grain::InPlane(deg) => direction(deg),
            // It is seen head on: the handle rests where the member is long.
            Grain::AlongDepth if area.height() < area.width() => Vec2::new(1.0, 0.0),
            Grain::AlongDepth => Vec2::new(0.0, 1.0),
            Grain::None => return None,
        };
        let aside = |size: f64| (ASIDE_PX / self.camera.px_per_model_mm()).min(size / 2.0);
        let middle = Point::new(area.x0 + aside(area.width()), area.y0 + aside(area.height()));
        let at = |far: f64| self.camera.on_screen(middle) + Vec2::new(way.x, -way.y) * far;
        let others: Vec<Point> = self.handles(look).iter().map(|it| self.camera.on_screen(it.at)).collect();
        let is_clear = |it: &Point| others.iter().all(|other| CLEAR_PX < (*other - *it).hypot());
        let handle =
            FROM_MIDDLE_PX.into_iter().map(at).find(is_clear).unwrap_or_else(|| at(FROM_MIDDLE_PX[0]));
        Some(Shown { member, grain, middle, handle })
    }

    /// The same, if a pixel is on its handle.
    pub(super) fn grain_under(&self, at: Point, look: &Look<'_>) -> Option<Shown> {
        self.grain(look).filter(|it| (it.handle - at).hypot() <= REACH_PX)
    }

    /// Takes hold of the grain.
    pub(super) fn take_grain(&mut self, it: Shown, from: Point, look: &Look<'_>) -> Action {
        self.take(Load::Grain(it.member), (it.middle, from), Typed::for_turn(), look)
    }
}

/// The grain that a hand at a place shows, or types: round the place where it is drawn in the plane, on that place along
/// the depth. `None` while what is typed cannot be read.
pub(super) fn shown_by((middle, to): (Point, Point), typed: &Typed, ground: &Ground) -> Option<Grain> {
    if let Some(deg) = typed.angle_deg()? {
        return Some(Grain::InPlane(half_turn(deg)));
    }
    let way = to - middle;
    if way.hypot() <= 3.0 * ground.slop_mm {
        return Some(Grain::AlongDepth);
    }
    let pointed = way.y.atan2(way.x).to_degrees();
    if ground.keep || ground.step_deg <= 0.0 {
        return Some(Grain::InPlane(half_turn(stepped(pointed, if ground.keep { 15.0 } else { 0.0 }))));
    }
    let off = |it: f64| (pointed - it + 90.0).rem_euclid(180.0) - 90.0;
    let faces = ground.faces.iter().map(|it| (it.p1 - it.p0).atan2().to_degrees());
    let near = faces.filter(|it| off(*it).abs() < NEARLY_DEG);
    let deg = near.min_by(|a, b| off(*a).abs().total_cmp(&off(*b).abs()));
    Some(Grain::InPlane(half_turn(deg.unwrap_or_else(|| stepped(pointed, ground.step_deg)))))
}

/// A direction between 0 and 180 degrees, for a grain runs both ways; without the crumbs of an arc tangent.
fn half_turn(deg: f64) -> f64 {
    let deg = (deg * 1e6).round() / 1e6;
    deg.rem_euclid(180.0) + 0.0
}

#[cfg(test)]
mod tests {
    use kurbo::Line;

    use super::*;

    #[test]
    fn a_hand_shows_the_grain_by_steps_by_faces_and_in_the_middle() {
        let slope = Line::new((0.0, 0.0), (100.0, 40.0));
        let ground = Ground { step_deg: 1.0, slop_mm: 1.0, faces: vec![slope], ..Ground::default() };
        let by = |to: (f64, f64), ground: &Ground| {
            shown_by((Point::ORIGIN, Point::from(to)), &Typed::for_turn(), ground)
        };
        assert_eq!(by((50.0, 0.2), &ground), Some(Grain::InPlane(0.0)));
        assert_eq!(by((-50.0, 0.0), &ground), Some(Grain::InPlane(0.0)), "it runs both ways");
        assert_eq!(by((0.0, -50.0), &ground), Some(Grain::InPlane(90.0)));
        assert_eq!(by((2.0, 2.0), &ground), Some(Grain::AlongDepth));
        // The slope of the face is atan(0.4) = 21.801409 degrees.
        assert_eq!(by((100.0, 42.0), &ground), Some(Grain::InPlane(21.801_409)));
        let kept = Ground { keep: true, ..ground.clone() };
        assert_eq!(by((100.0, 42.0), &kept), Some(Grain::InPlane(30.0)));
        let mut typed = Typed::for_turn();
        "-30".chars().for_each(|it| typed.push(it));
        let shown = shown_by((Point::ORIGIN, Point::ORIGIN), &typed, &ground);
        assert_eq!(shown, Some(Grain::InPlane(150.0)));
    }
}
