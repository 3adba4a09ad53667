//! What every fastener carries as drawn, beside what the loads ask of it.
//!
//! Joins the trace and the loads with what the standard of the joint says a shank carries. It works out
//! no strength itself, and it designs nothing: loads are shared equally, and what that leaves out is said.

mod across;
mod along;
mod bodies;
pub mod compare;
mod connections;
mod fellows;
mod judged;
mod loads;
mod rating;
mod rooms;
mod rows;
mod solve;
mod splits;
pub mod stated;
pub(super) mod told;
pub mod vary;
pub mod written;

use crate::findings::scene::Scene;
use crate::joint::{Duration, Joint};
use crate::standard::capacity::{Axial, Combined, Lateral, NoValue, Splitting};
use crate::trace::Trace;

pub use connections::EQUAL_SHARES;
pub use rating::{Differs, Rated};

/// What a joint carries as drawn.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Carrying {
    /// The cases that were looked at: each load of known size, and those that act together.
    pub cases: Vec<LoadCase>,
    /// One for each fastener of the joint, in its order.
    pub fasteners: Vec<Carries>,
    /// One for each pair of members or connectors that a fastener joins, in the order of the fasteners.
    pub connections: Vec<Connection>,
    /// One for each connector with a typed-in rating.
    pub ratings: Vec<Rated>,
    /// One for each member that is pushed across its grain, where the standard has a formula for its splitting.
    pub splits: Vec<Splits>,
    /// What is not counted, and why, a sentence each. Never empty where there is a fastener.
    pub not_counted: Vec<String>,
}

/// Loads that act at once.
#[derive(Clone, Debug, PartialEq)]
pub struct LoadCase {
    /// For people: `load 1 on the ledger`.
    pub name: String,
    /// The shortest of the durations in it: connections are worked out for that one
    /// (NDS 2018 2.3.2, EN 1995-1-1 3.1.3(2)).
    pub duration: Duration,
    /// Places in [`Joint::loads`].
    pub loads: Vec<usize>,
}

/// What one fastener carries, in the case that is hardest on it.
#[derive(Clone, Debug, PartialEq)]
pub struct Carries {
    /// Its id.
    pub id: String,
    /// Place in [`Carrying::cases`]; `None` where no load of known size reaches it. The values then hold
    /// for a load across the grain, which is the lesser, of ordinary duration.
    pub case: Option<usize>,
    /// Its shear planes, head to point. Empty for one that joins nothing.
    pub planes: Vec<PlaneCarries>,
    /// Along its axis; `None` for one that joins nothing.
    pub along: Option<AlongCarries>,
    /// Demand over capacity of both together; `None` without a load or without a value.
    pub combined: Option<Combined>,
    /// What to look at before a value is believed, a sentence each.
    pub cautions: Vec<String>,
}

/// How a shear plane stands in its shank.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Shear {
    /// By itself.
    Single,
    /// One of the two of a shank in double shear; its value is half of what that carries.
    HalfOfDouble,
    /// One of so many: the least of them counts for each.
    OneOf(usize),
}

/// What one shear plane carries.
#[derive(Clone, Debug, PartialEq)]
pub struct PlaneCarries {
    /// Id of the member or connector on the head side.
    pub side: String,
    /// Id of the one on the point side.
    pub main: String,
    /// Air and fillings between them, along the axis.
    pub gap_mm: f64,
    /// How it stands in its shank.
    pub shear: Shear,
    /// Degrees between the load and the grain of the side and the main body; 90 where no load is known.
    pub to_grain_deg: [f64; 2],
    /// What it carries, or why there is no value.
    pub value: Result<Lateral, NoValue>,
    /// What the load asks of it, newtons; `None` without a load of known size.
    pub demand_n: Option<f64>,
    /// Demand over capacity.
    pub ratio: Option<f64>,
    /// Whether all of the demand crosses here for sure. Beyond the body next to the loaded one it is the
    /// most that can: what that body keeps is not known.
    pub is_certain: bool,
}

/// What a shank carries along its axis.
#[derive(Clone, Debug, PartialEq)]
pub struct AlongCarries {
    /// What it carries, or why there is no value.
    pub value: Result<Axial, NoValue>,
    /// The pull that the load asks of it, newtons; zero where it pushes, `None` without a load of known size.
    pub demand_n: Option<f64>,
    /// Demand over capacity.
    pub ratio: Option<f64>,
}

/// All fasteners between two members or connectors.
#[derive(Clone, Debug, PartialEq)]
pub struct Connection {
    /// Ids of the two.
    pub between: [String; 2],
    /// Ids of its fasteners.
    pub fasteners: Vec<String>,
    /// Ids of those of them that have no value in a plane.
    pub without_value: Vec<String>,
    /// Sum of what its shear planes carry; those without a value count as nothing.
    pub adjusted_n: f64,
    /// Sum of what is asked of them, each in the case that is hardest on it; `None` without a load.
    pub demand_n: Option<f64>,
    /// Sum of what pulls along them, out of the last piece that each goes into; `None` without a load.
    pub pulled_n: Option<f64>,
    /// What is asked of the shear planes over what they carry.
    pub ratio: Option<f64>,
    /// The greatest ratio of any of its fasteners, with what pulls along them.
    pub worst_ratio: Option<f64>,
    /// What is not counted, and why.
    pub not_counted: Vec<String>,
}

impl Connection {
    /// Whether any of its fasteners has a value: where none has, a sum of nothing would read as one.
    #[must_use]
    pub fn has_value(&self) -> bool {
        self.without_value.len() < self.fasteners.len()
    }

    /// What is asked of its shear planes, and its ratio; `None` where the load only pulls, and without a load.
    #[must_use]
    pub fn asked_across(&self) -> Option<(f64, Option<f64>)> {
        let only_pulls = self.pulled().is_some() && self.demand_n.is_none_or(|it| it <= judged::LEAST_N);
        self.demand_n.filter(|_| !only_pulls).map(|it| (it, self.ratio))
    }

    /// What pulls along its fasteners; `None` where nothing does.
    #[must_use]
    pub fn pulled(&self) -> Option<f64> {
        self.pulled_n.filter(|it| judged::LEAST_N < *it)
    }

    /// How many fasteners the sum is of, in words: `8 fasteners`, `6 of 8 fasteners, the others have no value`.
    #[must_use]
    pub fn of_how_many(&self) -> String {
        let (all, without) = (self.fasteners.len(), self.without_value.len());
        match (all, without) {
            (1, _) => "one fastener".to_owned(),
            // Where none has a value, nothing is summed.
            (_, 0) => format!("{all} fasteners"),
            (_, _) if without == all => format!("{all} fasteners"),
            (_, 1) => format!("{} of {all} fasteners, the other has no value", all - 1),
            (_, _) => format!("{} of {all} fasteners, the others have no value", all - without),
        }
    }
}

/// A member that its fasteners push across its grain, in the case that is hardest on it.
#[derive(Clone, Debug, PartialEq)]
pub struct Splits {
    /// Its id.
    pub member: String,
    /// Place in [`Carrying::cases`].
    pub case: usize,
    /// What it carries before it splits, or why there is no value.
    pub value: Result<Splitting, NoValue>,
    /// All that the fasteners push it with across its grain. On each side of them the member is sheared by
    /// half of that at least, and by all of it at most: which, hangs on how it is held, which is not drawn.
    pub demand_n: f64,
    /// All of it over what the member carries.
    pub ratio: Option<f64>,
}

/// Whether the lines of the working are kept.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Detail {
    /// Values only: a large joint has hundreds of thousands of lines.
    Values,
    /// With every line.
    Working,
}

/// What a traced joint carries.
#[must_use]
pub fn carry(joint: &Joint, trace: &Trace, detail: Detail) -> Carrying {
    let rules = crate::standard::by_id(joint.standard);
    let scene = Scene::new(joint, trace, rules);
    let facts = scene.facts();
    let solver = solve::Solver::new(&scene, &facts);
    let fasteners: Vec<Carries> = (0..facts.len())
        .map(|ix| {
            let mut found = solver.hardest(ix, solve::Along::Always);
            if detail == Detail::Values {
                found.leave_out_the_working();
            }
            found
        })
        .collect();
    let ratings = rating::ratings(&solver);
    let connections = connections::connections(&solver, &fasteners);
    let mut splits = splits::splits(&solver);
    if detail == Detail::Values {
        for it in splits.iter_mut().filter_map(|it| it.value.as_mut().ok()) {
            it.working = Vec::new();
        }
    }
    let not_counted = solver.not_counted();
    Carrying { cases: solver.into_cases(), fasteners, connections, ratings, splits, not_counted }
}

/// What one fastener of a traced joint carries: as [`carry`], with that fastener alone and no connection.
///
/// Costs one fastener and not all of them, beside a look at which loads reach what. `None` where the joint has
/// no fastener at that place.
#[must_use]
pub fn carry_one(joint: &Joint, trace: &Trace, at: usize, detail: Detail) -> Option<Carrying> {
    let rules = crate::standard::by_id(joint.standard);
    let scene = Scene::new(joint, trace, rules);
    let facts = scene.facts();
    facts.get(at)?;
    let solver = solve::Solver::new(&scene, &facts);
    let mut found = solver.hardest(at, solve::Along::Always);
    if detail == Detail::Values {
        found.leave_out_the_working();
    }
    let not_counted = solver.not_counted();
    let (cases, fasteners) = (solver.into_cases(), vec![found]);
    Some(Carrying { cases, fasteners, not_counted, ..Carrying::default() })
}

impl Carries {
    /// The plane with the greatest ratio; without a load the one that carries least.
    #[must_use]
    pub fn governing(&self) -> Option<&PlaneCarries> {
        let least = |it: &&PlaneCarries| it.value.as_ref().map_or(0.0, |it| it.adjusted_n);
        let certain = self.planes.iter().filter(|it| it.is_certain);
        if self.planes.iter().any(|it| it.ratio.is_some()) {
            return certain.max_by(|a, b| a.ratio.unwrap_or(0.0).total_cmp(&b.ratio.unwrap_or(0.0)));
        }
        certain.min_by(|a, b| least(a).total_cmp(&least(b)))
    }

    /// What pulls or pushes it in all, newtons; `None` without a load of known size.
    #[must_use]
    pub fn demand_n(&self) -> Option<f64> {
        let across = self.governing().and_then(|it| it.demand_n)?;
        Some(across.hypot(self.along.as_ref().and_then(|it| it.demand_n).unwrap_or(0.0)))
    }

    /// Why a load that reaches it cannot be held against a value.
    #[must_use]
    pub fn unanswered(&self) -> Option<&NoValue> {
        let asks = |demand: Option<f64>| demand.is_some_and(|it| judged::LEAST_N < it);
        let across = self.planes.iter().filter(|it| it.is_certain && asks(it.demand_n));
        let along = self.along.iter().filter(|it| asks(it.demand_n)).filter_map(|it| it.value.as_ref().err());
        across.filter_map(|it| it.value.as_ref().err()).chain(along).next()
    }

    /// Whether some of what is asked of it was held against a value.
    fn is_held(&self) -> bool {
        self.combined.is_some()
            || self.planes.iter().any(|it| it.value.is_ok() && it.ratio.is_some())
            || self.along.as_ref().is_some_and(|it| it.value.is_ok() && it.ratio.is_some())
    }

    fn leave_out_the_working(&mut self) {
        for it in self.planes.iter_mut().filter_map(|it| it.value.as_mut().ok()) {
            it.working = Vec::new();
        }
        if let Some(it) = self.along.as_mut().and_then(|it| it.value.as_mut().ok()) {
            it.working = Vec::new();
        }
        if let Some(it) = &mut self.combined {
            it.working = Vec::new();
        }
    }
}
