//! A connector's own rating, as the user typed it: is the fastening as drawn still the one that it presumes?
//!
//! The rating is never corrected here. Beside what differs stands the ratio of what is worked out for the
//! fastening as drawn to what is worked out for the one presumed, in wood without gaps: an indication, no more.

use super::across::{self, Asking};
use super::bodies::{Group, to_grain_deg};
use super::loads::applied;
use super::solve::Solver;
use super::{PlaneCarries, Shear};
use crate::findings::scene::{Fact, Stage};
use crate::findings::tell::worst;
use crate::findings::{holes, words};
use crate::joint::{Connector, Duration, Duty, Fastener, Finish, Hole, Placement, RatedHoles, Rating, Seat};
use crate::standard::capacity::{Across, Bearing};
use crate::standard::{Driven, Topic};
use crate::stock::FastenerSpec;
use crate::trace::{Bodies, BodyIx, HoleTrace, TOUCH_MM, What, shank};
use crate::unit::{Vec3, compare};
use std::collections::BTreeMap;
use std::sync::Arc;

/// A rating beside the fastening as drawn.
#[derive(Clone, Debug, PartialEq)]
pub struct Rated {
    /// Id of the connector.
    pub connector: String,
    /// The rating as typed, newtons.
    pub newtons: f64,
    /// What goes through the connector in the direction of the rating, at most; `None` without a load.
    pub demand_n: Option<f64>,
    /// What is not as the rating presumes it. Empty where the fastening as drawn is that.
    pub differs: Vec<Differs>,
    /// What is worked out for the fastening as drawn over what is worked out for the one presumed; `None`
    /// where one of them has no value. An indication, and no part of the rating.
    pub ratio: Option<f64>,
    /// The two sums, newtons: as drawn and as presumed, of the member where they differ most.
    pub sums_n: Option<[f64; 2]>,
}

/// One thing that is not as a rating presumes it.
#[derive(Clone, Debug, PartialEq)]
pub struct Differs {
    /// Id of the fastener, or of the hole where that is empty.
    pub subject: String,
    /// What differs, as the rest of a sentence: `hole h5 is empty`.
    pub says: String,
}

/// A slope by which a shank may stray in its hole. Common practice.
const STRAIGHT_WITHIN_DEG: f64 = 5.0;

/// Every connector with a rating.
pub(super) fn ratings(solver: &Solver<'_>) -> Vec<Rated> {
    let joint = solver.scene.joint;
    if joint.connectors.iter().all(|it| it.rating.is_none()) {
        return Vec::new();
    }
    let bodies = Bodies::of(joint);
    let rated = joint.connectors.iter().enumerate().filter_map(|(at, connector)| {
        let looked = Looked { solver, bodies: &bodies, at, connector, rating: connector.rating.as_ref()? };
        Some(looked.rated())
    });
    rated.collect()
}

struct Looked<'s, 'a> {
    solver: &'s Solver<'a>,
    bodies: &'s Bodies,
    at: usize,
    connector: &'s Connector,
    rating: &'s Rating,
}

impl Looked<'_, '_> {
    fn rated(&self) -> Rated {
        let scene = self.solver.scene;
        let mut differs = Vec::new();
        // What is worked out as drawn and as presumed, by the member that the holes lead to.
        let mut sums: BTreeMap<Option<BodyIx>, Option<[f64; 2]>> = BTreeMap::new();
        for traced in scene.trace.holes.iter().filter(|it| it.connector == self.at) {
            let Some(hole) = scene.joint.connectors[self.at]
                .plates
                .get(traced.plate)
                .and_then(|it| it.holes.get(traced.hole))
            else {
                continue;
            };
            if !self.is_presumed(hole) {
                continue;
            }
            let fact = traced.filled_by.first().and_then(|it| self.solver.facts.get(it.fastener));
            differs.extend(self.differs(hole, traced, fact));
            let Some(spec) = self.presumed(hole, fact) else {
                sums.insert(None, None);
                continue;
            };
            let (into, presumed) =
                self.as_presumed(hole, &spec).map_or((None, None), |it| (Some(it.0), it.1));
            let drawn = fact.map_or(Some(0.0), |it| self.as_drawn(it.ix));
            let sum = sums.entry(into).or_insert(Some([0.0; 2]));
            *sum = match (*sum, drawn, presumed) {
                (Some([a, b]), Some(drawn), Some(presumed)) => Some([a + drawn, b + presumed]),
                _ => None,
            };
        }
        let all: Option<Vec<[f64; 2]>> = sums.into_values().collect();
        let part = |it: &[f64; 2]| if 0.0 < it[1] { it[0] / it[1] } else { 1.0 };
        let sums_n = all.and_then(|it| it.into_iter().min_by(|a, b| part(a).total_cmp(&part(b))));
        let toward = self.rating.toward.unit().unwrap_or_default();
        let through = self.solver.cases.iter().filter_map(|it| it.path.through.get(&self.at));
        Rated {
            connector: self.connector.id.clone(),
            newtons: self.rating.newtons,
            demand_n: through.map(|it| it.dot(toward).max(0.0)).reduce(f64::max),
            differs,
            ratio: sums_n.map(|it| part(&it)),
            sums_n,
        }
    }

    fn is_presumed(&self, hole: &Hole) -> bool {
        match hole.duty {
            Duty::Required => true,
            Duty::Extra => self.rating.holes == RatedHoles::All,
            Duty::HoldingUp => false,
        }
    }

    /// The fastener that is presumed in a hole; that which is drawn where it is what the hole takes.
    fn presumed(&self, hole: &Hole, fact: Option<&Fact<'_>>) -> Option<Arc<FastenerSpec>> {
        if let Some(spec) = &self.rating.spec {
            return Some(Arc::clone(spec));
        }
        let drawn =
            |it: &&Fact<'_>| hole.takes.is_none() || self.wrong_spec(hole, &it.fastener.spec).is_none();
        let own = fact.filter(drawn);
        // Where this hole is empty or wrongly filled: what fills another hole of the same sort rightly.
        let other = || {
            let facts = self.solver.facts.iter();
            let mine = facts.filter(|it| matches!(&it.fastener.place, Placement::Fills { connector, .. } if *connector == self.connector.id));
            mine.into_iter().find(|it| hole.takes.is_some() && drawn(it))
        };
        own.or_else(other).map(|it| Arc::clone(&it.fastener.spec))
    }

    /// What is wrong with a fastener in a hole, as the rest of a sentence.
    fn wrong_spec(&self, hole: &Hole, drawn: &FastenerSpec) -> Option<String> {
        let unit = self.solver.scene.unit;
        let wanted = self
            .rating
            .spec
            .as_deref()
            .map(|it| (it.kind, it.diameter_mm, Some(it.length_mm)))
            .or_else(|| hole.takes.map(|it| (it.kind, it.diameter_mm, it.min_length_mm)));
        let (kind, diameter_mm, length_mm) = wanted?;
        if drawn.kind != kind {
            let (is, was) = (holes::kind_name(drawn.kind), holes::kind_name(kind));
            return Some(format!("is a {is} and no {was}"));
        }
        if holes::SAME_SIZE_MM < (drawn.diameter_mm - diameter_mm).abs() {
            let (is, was) = (words::fine(drawn.diameter_mm, unit), words::fine(diameter_mm, unit));
            return Some(format!("is {is} thick and not {was}"));
        }
        let short = length_mm.filter(|it| !compare::at_least(drawn.length_mm, *it))?;
        Some(format!("is {} long and not {}", words::fine(drawn.length_mm, unit), words::fine(short, unit)))
    }

    fn differs(&self, hole: &Hole, traced: &HoleTrace, fact: Option<&Fact<'_>>) -> Vec<Differs> {
        let Some(fact) = fact else {
            return vec![Differs { subject: hole.id.clone(), says: format!("hole {} is empty", hole.id) }];
        };
        let unit = self.solver.scene.unit;
        let mut said: Vec<String> = self.wrong_spec(hole, &fact.fastener.spec).into_iter().collect();
        let leans =
            traced.filled_by.first().map_or(0.0, |it| (it.tilt_deg - hole.angle_deg.unwrap_or(0.0)).abs());
        if STRAIGHT_WITHIN_DEG < leans {
            said.push("leans from the way that the hole asks for".to_owned());
        }
        match fact.stage {
            Stage::Lost | Stage::InAir | Stage::Shiner => said.push("ends in air".to_owned()),
            Stage::Holds => {
                let gap: f64 = self.solver.joined[fact.ix].crossings.iter().map(|it| it.gap_mm).sum();
                if TOUCH_MM < gap {
                    said.push(format!("crosses {} of gap", words::measured(gap, unit)));
                }
                let short = fact.hold().is_some_and(|(_, hold)| {
                    worst(fact.asks_bite(&hold).into_iter().filter(|it| it.topic == Topic::Penetration))
                        .is_some()
                });
                if short {
                    said.push("is short of bite".to_owned());
                }
            }
        }
        let (id, number) = (&fact.fastener.id, fact.ix + 1);
        said.into_iter()
            .map(|it| Differs { subject: id.clone(), says: format!("No. {number} {it}") })
            .collect()
    }

    /// What the connector's plane of a fastener carries in the direction of the rating.
    fn as_drawn(&self, ix: usize) -> Option<f64> {
        let joined = &self.solver.joined[ix];
        let group = Group::Connector(self.at);
        if !joined.has(group) {
            return Some(0.0);
        }
        let axis = self.solver.facts[ix].shank.toward;
        let (share, _) = applied(joined, axis, (group, self.rating.toward.unit()?));
        let duration = Duration::TenYears;
        let asking =
            Asking { solver: self.solver, ix, duration, case: None, share: Some(&share), rows: None };
        let planes = across::planes(&asking, &mut Vec::new());
        let worth = |it: &PlaneCarries| it.value.as_ref().map_or(0.0, |it| it.adjusted_n);
        let nearest = planes.iter().filter(|it| it.is_certain);
        Some(match planes.first()?.shear {
            Shear::Single => nearest.map(worth).fold(0.0, f64::max),
            Shear::HalfOfDouble | Shear::OneOf(_) => nearest.map(worth).sum(),
        })
    }

    /// The same of the fastener presumed, as long as it is in solid wood of the kind behind the steel; and
    /// the body that this is.
    fn as_presumed(&self, hole: &Hole, spec: &Arc<FastenerSpec>) -> Option<(BodyIx, Option<f64>)> {
        let scene = self.solver.scene;
        let imagined = Fastener {
            id: String::new(),
            spec: Arc::clone(spec),
            place: Placement::Fills {
                connector: self.connector.id.clone(),
                hole: hole.id.clone(),
                angle_deg: None,
            },
            seat: Seat::Flush,
            finish: Finish::Bright,
            lead_hole: None,
            head_washer: None,
            nut_washer: None,
            existing: false,
        };
        let core = shank(self.bodies, &imagined);
        let fact = Fact::new(scene, usize::MAX, &imagined, &core);
        let behind = core.core.iter().find(|it| it.what == What::Bearing)?;
        let steel = core.core.iter().find(|it| it.what == What::Steel && it.body.is_some())?;
        let into = behind.body?;
        let thickness_mm = steel.to_mm - steel.from_mm;
        let axis = core.toward;
        let toward = self.rating.toward.unit()?;
        let toward: Vec3 = (toward - axis * toward.dot(axis)).unit()?;
        let body = |at: BodyIx, length_mm: f64, drilled_mm: Option<f64>| {
            Some(Bearing {
                name: scene.name(at),
                material: scene.material(at)?,
                treatment: scene.treatment(at),
                length_mm,
                point_mm: if drilled_mm.is_none() { spec.point_mm } else { 0.0 },
                thread_mm: if drilled_mm.is_none() {
                    spec.thread_mm.unwrap_or(0.0).min(length_mm)
                } else {
                    0.0
                },
                load_to_grain_deg: to_grain_deg(&fact, at, Some(toward)),
                end_grain: false,
                drilled_mm,
                area_mm2: None,
            })
        };
        let across = Across {
            driven: Driven { spec, ..fact.driven },
            side: body(steel.body?, thickness_mm, Some(hole.diameter_mm))?,
            main: body(into, spec.length_mm - thickness_mm, None)?,
            beyond: None,
            gap_mm: [0.0; 2],
            toe: None,
            row: None,
            rooms: Vec::new(),
            along: None,
            duration: Duration::TenYears,
            conditions: scene.joint.conditions,
        };
        Some((into, scene.rules.across(&across).ok().map(|it| it.adjusted_n)))
    }
}
