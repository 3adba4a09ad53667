//! Holes in plates: where they are, and which shank goes through which.

use super::clip::Axis;
use super::{BodyIx, Fill, HoleIx, HoleTrace, Run, TOUCH_MM, plate};
use crate::joint::{Connector, Joint};
use crate::unit::Vec3;

/// What a shank must know of one hole.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Hole {
    /// The plate.
    pub(super) body: BodyIx,
    /// Its centre in the middle of the steel.
    pub(super) middle: Vec3,
    /// Its centre on the side that it is driven from.
    pub(super) at: Vec3,
    /// Into the steel from that side, square to it.
    pub(super) square: Vec3,
    /// Diameter.
    pub(super) diameter_mm: f64,
    /// The angle that the steel forces on a shank.
    pub(super) angle_deg: Option<f64>,
}

/// All holes of a joint, as others see them and as a shank asks them.
#[derive(Clone, Debug, Default, PartialEq)]
pub(super) struct Holes {
    /// As others see them.
    pub(super) list: Vec<HoleTrace>,
    /// As a shank asks them.
    pub(super) own: Vec<Hole>,
    /// For each body from the first plate on, its first hole and one past its last.
    of_plate: Vec<(usize, usize)>,
    first_plate: usize,
    /// Connector id and hole id, sorted.
    names: Vec<(String, String, HoleIx)>,
}

impl Holes {
    /// The holes of a joint whose plates are bodies in the joint's order from `first_plate` on.
    pub(super) fn of(joint: &Joint, first_plate: usize) -> Self {
        let mut holes = Self { first_plate, ..Self::default() };
        for (n, connector) in joint.connectors.iter().enumerate() {
            holes.push(n, connector);
        }
        // Of two holes of one name the first is meant.
        holes.names.sort();
        holes
    }

    fn push(&mut self, number: usize, connector: &Connector) {
        for (plate_ix, plate) in connector.plates.iter().enumerate() {
            let body = BodyIx(self.first_plate + self.of_plate.len());
            let begin = self.own.len();
            for (hole_ix, hole) in plate.holes.iter().enumerate() {
                let (middle, _) = plate::middle(plate, hole.along_mm);
                let (at, square) = plate::hole_place(plate, hole.along_mm, hole.driven_from);
                let middle = Vec3::new(middle.x, middle.y, hole.depth_mm);
                let at = Vec3::new(at.x, at.y, hole.depth_mm);
                let square = Vec3::new(square.x, square.y, 0.0);
                self.names.push((connector.id.clone(), hole.id.clone(), HoleIx(self.own.len())));
                self.list.push(HoleTrace {
                    connector: number,
                    plate: plate_ix,
                    hole: hole_ix,
                    at,
                    square,
                    filled_by: Vec::new(),
                });
                let (diameter_mm, angle_deg) = (hole.diameter_mm, hole.angle_deg);
                self.own.push(Hole { body, middle, at, square, diameter_mm, angle_deg });
            }
            self.of_plate.push((begin, self.own.len()));
        }
    }

    /// The hole of this name.
    pub(super) fn named(&self, connector: &str, hole: &str) -> Option<HoleIx> {
        let from = self.names.partition_point(|it| (it.0.as_str(), it.1.as_str()) < (connector, hole));
        self.names.get(from).filter(|it| it.0 == connector && it.1 == hole).map(|it| it.2)
    }

    /// The hole of a plate that the axis goes through on a run: its centre is nearer than its radius
    /// where the axis crosses the middle of the steel. Of several the nearest.
    pub(super) fn on_run(&self, axis: &Axis, run: &Run) -> Option<HoleIx> {
        let plate = run.body?.0.checked_sub(self.first_plate)?;
        let (first, end) = *self.of_plate.get(plate)?;
        let mut best: Option<(f64, usize)> = None;
        for n in first..end {
            let hole = &self.own[n];
            let (at, off) = hole.passes(axis);
            let is_there = run.from_mm - TOUCH_MM <= at && at <= run.to_mm + TOUCH_MM;
            if is_there && off <= 0.5 * hole.diameter_mm && best.is_none_or(|it| off < it.0) {
                best = Some((off, n));
            }
        }
        best.map(|it| HoleIx(it.1))
    }

    /// How a shank of this diameter stands in a hole.
    pub(super) fn fill(&self, hole: HoleIx, axis: &Axis, (fastener, diameter_mm): (usize, f64)) -> Fill {
        let own = &self.own[hole.0];
        Fill {
            fastener,
            play_mm: own.diameter_mm - diameter_mm,
            off_centre_mm: own.passes(axis).1,
            tilt_deg: own.tilt_deg(axis.toward),
        }
    }
}

impl Hole {
    /// Where the axis crosses the middle of the steel, and how far from the centre of the hole; for an
    /// axis that runs along the steel, where it is nearest.
    fn passes(&self, axis: &Axis) -> (f64, f64) {
        let (away, into) = (self.middle - axis.head, axis.toward.dot(self.square));
        let at = if 1e-9 < into.abs() { away.dot(self.square) / into } else { away.dot(axis.toward) };
        (at, (axis.at(at) - self.middle).length())
    }

    /// Degrees in the drawing plane from square to the steel, the way that the shank goes through it.
    fn tilt_deg(&self, toward: Vec3) -> f64 {
        let square = if toward.dot(self.square) < 0.0 { -self.square } else { self.square };
        let cross = square.x * toward.y - square.y * toward.x;
        cross.atan2(square.x * toward.x + square.y * toward.y).to_degrees()
    }
}
