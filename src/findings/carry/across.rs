//! What a standard is asked of a load across a shank, plane by plane.

use super::bodies::{Joined, Station, bearing, is_apart, is_whole, to_grain_deg};
use super::fellows::with_fellows;
use super::loads::Share;
use super::rows::Rows;
use super::solve::Solver;
use super::{Carries, PlaneCarries, Shear, along, judged};
use crate::findings::angle::toe_nail;
use crate::findings::scene::Fact;
use crate::joint::Duration;
use crate::standard::Source;
use crate::standard::capacity::{Across, Lateral, NoValue, Toe, Units};
use crate::stock::FastenerKind;
use crate::trace::BodyIx;
use crate::unit::Vec3;

/// Two planes share a load evenly when what crosses them differs by less than this part of it.
const ALIKE: f64 = 1e-9;

/// What is asked about one fastener in one case.
pub(super) struct Asking<'s, 'a> {
    pub(super) solver: &'s Solver<'a>,
    pub(super) ix: usize,
    pub(super) duration: Duration,
    /// Place in the solver's cases.
    pub(super) case: Option<usize>,
    pub(super) share: Option<&'s Share>,
    pub(super) rows: Option<&'s Rows>,
}

impl<'s, 'a> Asking<'s, 'a> {
    pub(super) fn fact(&self) -> &'s Fact<'a> {
        &self.solver.facts[self.ix]
    }

    pub(super) fn joined(&self) -> &'s Joined<'a> {
        &self.solver.joined[self.ix]
    }

    /// The same about another fastener in the same case.
    pub(super) fn of_another(&self, ix: usize) -> Self {
        let case = self.case.and_then(|it| self.solver.cases.get(it));
        Self { ix, share: case.and_then(|it| it.path.shares.get(&ix)), ..*self }
    }

    /// What crosses a plane, square to the shank.
    pub(super) fn force(&self, plane: usize) -> Option<Vec3> {
        let axis = self.fact().shank.toward;
        let force = self.share?.planes.get(plane)?.force;
        Some(force - axis * force.dot(axis))
    }

    /// Both planes of three bodies carry the same from the middle one: half of the load each.
    pub(super) fn is_double(&self) -> bool {
        let stations = &self.joined().stations;
        if stations.len() != 3 {
            return false;
        }
        match (self.force(0), self.force(1)) {
            (Some(a), Some(b)) if judged::LEAST_N < a.length() => (a + b).length() <= ALIKE * a.length(),
            _ => stations[0].group == stations[2].group,
        }
    }

    /// An angled nail or screw that starts in the first station.
    pub(super) fn toe(&self) -> Option<Toe> {
        toe_of(self.fact())
    }
}

/// An angled nail or screw that starts in the first body.
pub(super) fn toe_of(fact: &Fact<'_>) -> Option<Toe> {
    if !matches!(fact.kind(), FastenerKind::Nail | FastenerKind::WoodScrew) {
        return None;
    }
    let (_, angled) = toe_nail(fact)?;
    Some(Toe { angle_to_face_deg: angled.angle_to_face_deg, start_mm: angled.start_mm })
}

/// What every plane of a fastener carries.
pub(super) fn planes(asking: &Asking<'_, '_>, cautions: &mut Vec<String>) -> Vec<PlaneCarries> {
    let (fact, joined) = (asking.fact(), asking.joined());
    let count = joined.crossings.len();
    let shear = match count {
        _ if asking.is_double() => Shear::HalfOfDouble,
        0..=2 => Shear::Single,
        _ => Shear::OneOf(count),
    };
    let mut values: Vec<Result<Lateral, NoValue>> = if shear == Shear::HalfOfDouble {
        let value = carried(asking, 0, true);
        vec![value.clone(), value]
    } else {
        (0..count).map(|plane| carried(asking, plane, false)).collect()
    };
    if let Shear::OneOf(count) = shear {
        least_for_all(&mut values);
        cautions.push(format!(
            "It has {count} shear planes: each is taken in single shear, and the least counts for every one \
             (NDS 2018 12.3.9 does so; EN 1995-1-1 8.1.3 asks for more)."
        ));
    }
    let is_at_most =
        |plane: usize| asking.share.and_then(|it| it.planes.get(plane)).is_some_and(|it| it.is_at_most);
    if (0..count).any(is_at_most) {
        cautions.push(
            "What the body next to the loaded one keeps is not known: the planes beyond it are held against \
             all of the load, which is the most that can cross them."
                .to_owned(),
        );
    }
    let all = values.into_iter().enumerate().map(|(plane, value)| {
        let (side, main) = (&joined.stations[plane], &joined.stations[plane + 1]);
        let force = asking.force(plane);
        let demand_n = force.map(Vec3::length);
        let ratio = demand_n.and_then(|it| match &value {
            Ok(value) => Some(judged::ratio(it, value.adjusted_n)),
            Err(_) => (it <= judged::LEAST_N).then_some(0.0),
        });
        let toward = force.and_then(Vec3::unit);
        PlaneCarries {
            side: fact.scene.id_of(side.first),
            main: fact.scene.id_of(main.first),
            gap_mm: joined.crossings[plane].gap_mm,
            shear,
            to_grain_deg: [side.last, main.first].map(|it| to_grain_deg(fact, it, toward)),
            value,
            demand_n,
            ratio,
            is_certain: !is_at_most(plane),
        }
    });
    all.collect()
}

/// The least of all planes stands for each.
fn least_for_all(values: &mut [Result<Lateral, NoValue>]) {
    let worth = |it: &Result<Lateral, NoValue>| it.as_ref().map_or(-1.0, |it| it.adjusted_n);
    let least = values.iter().min_by(|a, b| worth(a).total_cmp(&worth(b))).cloned();
    if let Some(least) = least {
        values.fill(least);
    }
}

fn carried(asking: &Asking<'_, '_>, plane: usize, is_double: bool) -> Result<Lateral, NoValue> {
    let (fact, joined) = (asking.fact(), asking.joined());
    let stations: &[Station] = &joined.stations[plane..plane + if is_double { 3 } else { 2 }];
    is_whole(fact, stations)?;
    is_apart(fact, &joined.stations)?;
    let toward = asking.force(plane).and_then(Vec3::unit);
    let crossings = &joined.crossings[plane..plane + stations.len() - 1];
    // The face by which a station is entered: a toe-nail leaves its first piece by the end of that, and is
    // in side grain there all the same.
    let in_end_grain = |at: usize| {
        let face = match plane + at {
            0 => fact.shank.head.at_face,
            entered => joined.crossings[entered - 1].plane.and_then(|it| it.in_main),
        };
        let is_first_body = fact.bearing_bodies().first() == Some(&stations[at].first);
        face.filter(|_| 0 < plane + at || is_first_body).is_some_and(|it| it.end_grain)
    };
    let body = |at: usize| {
        bearing(fact, &stations[at], toward, in_end_grain(at))
            .ok_or_else(|| no_material(fact, stations[at].first))
    };
    let is_first = plane == 0;
    let across = Across {
        driven: fact.driven,
        side: body(0)?,
        main: body(1)?,
        beyond: if is_double { Some(body(2)?) } else { None },
        gap_mm: [crossings[0].gap_mm, crossings.get(1).map_or(0.0, |it| it.gap_mm)],
        toe: if is_first { asking.toe() } else { None },
        row: asking.rows.and_then(|it| it.of(asking.ix, plane)),
        rooms: with_fellows(asking, plane, is_double),
        // The rope effect is of EN 1995-1-1 alone.
        along: if fact.scene.rules.works_in() == Units::MillimetreNewton {
            along::asked(asking).map(Box::new)
        } else {
            None
        },
        duration: asking.duration,
        conditions: fact.scene.joint.conditions,
    };
    fact.scene.rules.across(&across)
}

fn no_material(fact: &Fact<'_>, body: BodyIx) -> NoValue {
    NoValue {
        because: format!("nothing is known of {}", fact.scene.the(body)),
        source: Source::CommonPractice,
    }
}

impl Carries {
    /// Everything that the standard says about the values, each sentence once.
    pub(super) fn gather_cautions(&mut self) {
        let of_planes =
            self.planes.iter().filter_map(|it| it.value.as_ref().ok()).flat_map(|it| &it.cautions);
        let of_along = self.along.iter().filter_map(|it| it.value.as_ref().ok()).flat_map(|it| &it.cautions);
        let mut all: Vec<String> = of_planes.chain(of_along).cloned().collect();
        all.append(&mut self.cautions);
        for it in all {
            if !self.cautions.contains(&it) {
                self.cautions.push(it);
            }
        }
    }
}
