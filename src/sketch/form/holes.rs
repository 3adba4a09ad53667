//! Holes: one by one, in rows and in grids, each with its duty and what it takes.

use kurbo::Vec2;

use crate::joint::StandardId;
use crate::joint::{Duty, Hole, Plate, PlateSide, Takes};
use crate::sketch::fresh::Ids;
use crate::sketch::question::{Sizes, WishError, shown};
use crate::stock::{FastenerKind, FastenerSpec};
use crate::unit::Vec3;
use crate::unit::compare::{SAME_MM, at_least};
use crate::unit::length::MM_PER_INCH;

/// What the holes of a plate are alike in.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Fixing {
    /// Diameter of the hole.
    pub diameter_mm: f64,
    /// What it is for.
    pub duty: Duty,
    /// What may go through it; `None` leaves it open.
    pub takes: Option<Takes>,
    /// An angle that the steel forces on the shank, degrees from square to the steel.
    pub angle_deg: Option<f64>,
}

/// Places of holes on a plate: along its profile, and in depth.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Grid {
    /// The first hole along the profile.
    pub along_mm: f64,
    /// From hole to hole along the profile.
    pub pitch_mm: f64,
    /// Holes along the profile.
    pub count: usize,
    /// The middle of the rows in depth.
    pub depth_mm: f64,
    /// From row to row in depth.
    pub row_pitch_mm: f64,
    /// Rows.
    pub rows: usize,
}

impl Fixing {
    /// Holes for this fastener: with 1/64" of play for a nail or a screw, and for a bolt, a rod or a lag
    /// screw what its standard allows (NDS 2018 12.1.3.2: 1/32" to 1/16"; EN 1995-1-1 10.4.3(1): 1 mm).
    #[must_use]
    pub fn for_fastener(spec: &FastenerSpec, by: StandardId) -> Self {
        let play = match (spec.kind, by) {
            (FastenerKind::Nail | FastenerKind::WoodScrew | FastenerKind::MasonryScrew, _) => {
                MM_PER_INCH / 64.0
            }
            (_, StandardId::Nds2018) => 3.0 * MM_PER_INCH / 64.0,
            (_, StandardId::En199511) => 1.0,
        };
        let takes =
            Takes { kind: spec.kind, diameter_mm: spec.diameter_mm, min_length_mm: Some(spec.length_mm) };
        Self {
            diameter_mm: spec.diameter_mm + play,
            duty: Duty::Required,
            takes: Some(takes),
            angle_deg: None,
        }
    }

    /// A hole of this sort.
    #[must_use]
    pub fn hole(&self, id: &str, (along_mm, depth_mm): (f64, f64), driven_from: PlateSide) -> Hole {
        Hole {
            id: id.to_owned(),
            along_mm,
            depth_mm,
            diameter_mm: self.diameter_mm,
            duty: self.duty,
            takes: self.takes,
            angle_deg: self.angle_deg,
            driven_from,
        }
    }

    /// Holes of this sort at every place of a grid, along the profile first.
    pub(super) fn grid(&self, grid: &Grid, side: PlateSide) -> Vec<Hole> {
        grid.places().into_iter().map(|it| self.hole("", it, side)).collect()
    }
}

impl Grid {
    /// A single row.
    #[must_use]
    pub fn row(along_mm: f64, pitch_mm: f64, count: usize, depth_mm: f64) -> Self {
        Self { along_mm, pitch_mm, count, depth_mm, row_pitch_mm: 0.0, rows: 1 }
    }

    /// Every place: along the profile, and in depth.
    #[must_use]
    pub fn places(&self) -> Vec<(f64, f64)> {
        let mut places = Vec::new();
        let rows = self.rows.max(1);
        #[expect(clippy::cast_precision_loss, reason = "counts of holes")]
        for row in 0..rows {
            let from_middle = row as f64 - (rows - 1) as f64 / 2.0;
            let depth = from_middle.mul_add(self.row_pitch_mm, self.depth_mm);
            places.extend((0..self.count).map(|it| (self.pitch_mm.mul_add(it as f64, self.along_mm), depth)));
        }
        places
    }
}

/// The plate with the holes of a grid added, each with an id that no hole of the connector has.
///
/// `taken` are the ids of all holes of the connector; those given out are added to it.
///
/// # Errors
/// Holes that would run out of the steel or into others.
pub fn add(
    plate: &Plate,
    fixing: &Fixing,
    grid: &Grid,
    (side, taken, by): (PlateSide, &mut Ids, StandardId),
) -> Result<Plate, WishError> {
    let mut plate = plate.clone();
    let new: Vec<Hole> =
        grid.places().into_iter().map(|it| fixing.hole(&taken.numbered("h"), it, side)).collect();
    plate.holes.extend(new);
    check(&plate, &Sizes::defaults(by))?;
    Ok(plate)
}

/// Refuses holes that run out of the steel or into each other.
pub(super) fn check(plate: &Plate, sizes: &Sizes) -> Result<(), WishError> {
    let by = sizes.by();
    let length = super::own::developed_mm(plate);
    for hole in &plate.holes {
        let radius = hole.diameter_mm / 2.0;
        let along = hole.along_mm.min(length - hole.along_mm);
        let across = (hole.depth_mm - plate.depth.from).min(plate.depth.to - hole.depth_mm);
        if !at_least(along.min(across), radius) {
            let says = format!(
                "a hole of {} runs out of the steel, which is {} long and {} wide",
                shown(hole.diameter_mm, by),
                shown((length * 1e6).round() / 1e6, by),
                shown(plate.depth.to - plate.depth.from, by)
            );
            return Err(WishError::DoesNotFit(says));
        }
    }
    apart(&plate.holes, by)
}

fn apart(holes: &[Hole], by: StandardId) -> Result<(), WishError> {
    let mut sorted: Vec<&Hole> = holes.iter().collect();
    sorted.sort_by(|a, b| a.along_mm.total_cmp(&b.along_mm));
    let widest = holes.iter().map(|it| it.diameter_mm).fold(0.0, f64::max);
    for (at, one) in sorted.iter().enumerate() {
        // Sorted, so that only the holes within a diameter along the profile can meet this one.
        for other in sorted[at + 1..].iter().take_while(|it| it.along_mm - one.along_mm < widest) {
            let distance = (other.along_mm - one.along_mm).hypot(other.depth_mm - one.depth_mm);
            let needed = f64::midpoint(one.diameter_mm, other.diameter_mm);
            if distance + SAME_MM < needed {
                let says = format!(
                    "two holes {} apart run into each other; they need {}",
                    shown((distance * 1e6).round() / 1e6, by),
                    shown((needed * 1e6).round() / 1e6, by)
                );
                return Err(WishError::DoesNotFit(says));
            }
        }
    }
    Ok(())
}

/// The plate with one of its holes moved: along its leg of the profile, and in depth, as far as the shift goes that way.
///
/// # Errors
/// The hole would run out of the steel or into another; there is no such hole.
pub fn moved(plate: &Plate, hole: usize, by: Vec3, standard: StandardId) -> Result<Plate, WishError> {
    let mut new = plate.clone();
    let Some(it) = new.holes.get_mut(hole) else {
        return Err(WishError::DoesNotFit("there is no such hole".to_owned()));
    };
    let tidy = |mm: f64| (mm * 1e6).round() / 1e6;
    it.along_mm = tidy(it.along_mm + Vec2::new(by.x, by.y).dot(leg_way(plate, it.along_mm)));
    it.depth_mm = tidy(it.depth_mm + by.z);
    check(&new, &Sizes::defaults(standard))?;
    Ok(new)
}

/// The direction of the leg on which a place along the profile lies.
fn leg_way(plate: &Plate, along_mm: f64) -> Vec2 {
    let legs = plate.profile.windows(2).enumerate();
    let reaches = |leg: usize| {
        let profile = plate.profile[..=leg + 1].to_vec();
        along_mm <= super::own::developed_mm(&Plate { profile, holes: Vec::new(), ..plate.clone() })
    };
    let ends = legs.clone().find(|it| reaches(it.0)).or_else(|| legs.clone().next_back()).map(|it| it.1);
    ends.map_or(Vec2::ZERO, |it| (it[1] - it[0]).normalize())
}

#[cfg(test)]
mod tests {
    use kurbo::Point;

    use super::*;
    use crate::joint::Interval;

    #[test]
    fn a_hole_goes_along_its_leg_and_in_depth_and_not_out_of_the_steel() {
        let profile = [Point::ZERO, Point::new(0.0, 100.0), Point::new(80.0, 100.0)];
        let depth = Interval { from: 0.0, to: 50.0 };
        let by = StandardId::En199511;
        let bare = super::super::own::plate(&profile, (2.0, 0.0), depth, by).unwrap();
        let fixing = Fixing { diameter_mm: 5.0, duty: Duty::Required, takes: None, angle_deg: None };
        let holes = vec![
            fixing.hole("h1", (30.0, 25.0), PlateSide::Left),
            fixing.hole("h2", (130.0, 25.0), PlateSide::Left),
        ];
        let plate = Plate { holes, ..bare };
        let up = moved(&plate, 0, Vec3::new(7.0, 10.0, 5.0), by).unwrap();
        assert_eq!((up.holes[0].along_mm, up.holes[0].depth_mm), (40.0, 30.0), "across the leg it stays");
        let right = moved(&plate, 1, Vec3::new(7.0, 10.0, 0.0), by).unwrap();
        assert_eq!((right.holes[1].along_mm, right.holes[1].depth_mm), (137.0, 25.0));
        assert!(moved(&plate, 0, Vec3::new(0.0, -29.0, 0.0), by).is_err());
        assert!(moved(&plate, 0, Vec3::new(0.0, 0.0, 24.0), by).is_err());
        assert!(moved(&plate, 1, Vec3::new(-50.0, 0.0, 0.0), by).is_ok(), "on beyond the bend");
        assert!(moved(&plate, 5, Vec3::default(), by).is_err());
    }
}
