//! Every fastener under every case: which case is hardest on it, and what it carries then.

use std::collections::BTreeMap;

use super::across::{self, Asking};
use super::along;
use super::bodies::{Group, Joined};
use super::fellows::Fellows;
use super::loads::{Path, Share, follow};
use super::rows::{Rows, rows};
use super::{AlongCarries, Carries, LoadCase, judged};
use crate::findings::scene::{Fact, Scene, Stage};
use crate::findings::words;
use crate::joint::Duration;
use crate::standard::capacity::{Combined, Demand};
use crate::unit::Vec3;

/// So many loads of known size are followed; no joint on paper has more.
const MOST_LOADS: usize = 64;

/// A case with what it asks of every fastener that it reaches.
pub(super) struct Case {
    pub(super) told: LoadCase,
    pub(super) path: Path,
    pub(super) rows: Rows,
}

/// Whether what a shank carries along its axis is worked out where nothing pulls at it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Along {
    /// To be shown.
    Always,
    /// To be judged.
    IfPulled,
}

/// A joint made ready.
pub(super) struct Solver<'a> {
    pub(super) scene: &'a Scene<'a>,
    pub(super) facts: &'a [Fact<'a>],
    pub(super) joined: Vec<Joined<'a>>,
    /// The fasteners that join each group to another.
    pub(super) touching: BTreeMap<Group, Vec<usize>>,
    pub(super) cases: Vec<Case>,
    /// Places in [`Trace::neighbours`](crate::trace::Trace::neighbours), for each fastener.
    pub(super) neighbours: Vec<Vec<usize>>,
    /// How many fasteners go from one group into another.
    pairs: BTreeMap<(Group, Group), usize>,
    pub(super) fellows: Fellows,
    said: Vec<String>,
}

impl<'a> Solver<'a> {
    pub(super) fn new(scene: &'a Scene<'a>, facts: &'a [Fact<'a>]) -> Self {
        let joined: Vec<Joined<'a>> = facts.iter().map(Joined::of).collect();
        let mut touching: BTreeMap<Group, Vec<usize>> = BTreeMap::new();
        for (ix, it) in joined.iter().enumerate().filter(|it| 1 < it.1.stations.len()) {
            for station in &it.stations {
                let list = touching.entry(station.group).or_default();
                if list.last() != Some(&ix) {
                    list.push(ix);
                }
            }
        }
        let mut neighbours = vec![Vec::new(); facts.len()];
        for (at, pair) in scene.trace.neighbours.iter().enumerate() {
            for ix in [pair.a, pair.b] {
                neighbours[ix].push(at);
            }
        }
        let mut pairs = BTreeMap::new();
        for pair in joined.iter().filter_map(last_pair) {
            *pairs.entry(pair).or_default() += 1;
        }
        let (cases, said, fellows) = (Vec::new(), Vec::new(), Fellows::default());
        let mut solver = Self { scene, facts, joined, touching, cases, neighbours, pairs, fellows, said };
        solver.make_cases();
        solver
    }

    /// How many fasteners, with this one, go into the body that holds it from the same one.
    pub(super) fn beside(&self, ix: usize) -> usize {
        last_pair(&self.joined[ix]).and_then(|it| self.pairs.get(&it).copied()).unwrap_or(1)
    }

    /// Whether some load of known size acts.
    pub(super) fn is_asked(scene: &Scene<'_>) -> bool {
        scene.joint.loads.iter().any(|it| it.newtons.is_some_and(|it| judged::LEAST_N < it))
    }

    fn make_cases(&mut self) {
        let joint = self.scene.joint;
        let mut singles: Vec<(usize, Path, Duration)> = Vec::new();
        let axes: Vec<Vec3> = self.facts.iter().map(|it| it.shank.toward).collect();
        let known = joint.loads.iter().enumerate().filter_map(|(n, load)| {
            let newtons = load.newtons.filter(|it| judged::LEAST_N < *it)?;
            let on = joint.members.iter().position(|it| it.id == load.on)?;
            Some((n, Group::Member(on), load.toward.unit()? * newtons, load.duration))
        });
        let known: Vec<_> = known.collect();
        if MOST_LOADS < known.len() {
            self.said.push(format!("Of {} loads the first {MOST_LOADS} are followed.", known.len()));
        }
        let (mut sum, mut largest_n) = (Vec3::default(), 0.0_f64);
        for (n, on, force, duration) in known.into_iter().take(MOST_LOADS) {
            sum = sum + force;
            largest_n = largest_n.max(force.length());
            let path = follow(&self.joined, &axes, &self.touching, (on, force));
            let stays = path.stays.iter().filter_map(|it| self.stays_in(n, *it, &path));
            let told: Vec<String> = path.ends.iter().map(|it| self.end_of(n, *it)).chain(stays).collect();
            self.said.extend(told);
            singles.push((n, path, duration));
        }
        let balanced = 1 < singles.len() && sum.length() <= judged::LEAST_N.max(1e-9 * largest_n);
        if balanced {
            self.said.push(
                "The loads hold each other in balance; each is looked at by itself, because what one asks of a \
                 fastener is what the other holds."
                    .to_owned(),
            );
        }
        let together = if balanced { Vec::new() } else { combinations(&singles) };
        let case = |name: String, duration, loads: Vec<usize>, path: Path| {
            let rows = rows(self.facts, &self.joined, &path);
            Case { told: LoadCase { name, duration, loads }, path, rows }
        };
        let mut cases = Vec::new();
        for (loads, duration) in together {
            let mut path = Path::default();
            for it in loads.iter().filter_map(|n| singles.iter().find(|it| it.0 == *n)) {
                add(&mut path, &it.1);
            }
            let numbers: Vec<String> = loads.iter().map(|it| (it + 1).to_string()).collect();
            cases.push(case(format!("loads {} together", words::list(&numbers)), duration, loads, path));
        }
        let name = |n: usize| format!("load {} on {}", n + 1, joint.name_of(&joint.loads[n].on));
        let mut all: Vec<Case> =
            singles.into_iter().map(|(n, path, duration)| case(name(n), duration, vec![n], path)).collect();
        all.append(&mut cases);
        self.cases = all;
    }

    fn end_of(&self, load: usize, group: Group) -> String {
        let joint = self.scene.joint;
        match group {
            Group::Member(at) => format!(
                "Load {} reaches no fastener: none joins the {} to anything.",
                load + 1,
                joint.members[at].shown_name()
            ),
            Group::Connector(at) => format!(
                "What load {} puts into the {} is passed on by nothing: it has no other fastener.",
                load + 1,
                joint.connectors[at].shown_name()
            ),
        }
    }

    /// What is to be said where a load comes to a member that other fasteners hold: they are not asked for it.
    fn stays_in(&self, load: usize, member: usize, path: &Path) -> Option<String> {
        let all = self.touching.get(&Group::Member(member))?;
        let others = all.iter().filter(|it| !path.shares.contains_key(it)).count();
        let name = self.scene.joint.members[member].shown_name();
        (0 < others).then(|| {
            format!(
                "Load {} is taken to stay in the {name}: {} there {} not held against it. Put it on the {name} \
                 too for that.",
                load + 1,
                words::count(others, "other fastener"),
                if others == 1 { "is" } else { "are" }
            )
        })
    }

    /// What a fastener carries in the case that is hardest on it, or without a case where none reaches it.
    pub(super) fn hardest(&self, ix: usize, along: Along) -> Carries {
        let mut found: Option<(f64, Carries)> = None;
        for at in 0..self.cases.len() {
            let Some(share) = self.cases[at].path.shares.get(&ix) else { continue };
            let here = self.in_case(ix, Some((at, share)), along);
            let rank = judged::rank(&here);
            if found.as_ref().is_none_or(|it| it.0 < rank) {
                found = Some((rank, here));
            }
        }
        found.map_or_else(|| self.in_case(ix, None, along), |it| it.1)
    }

    fn in_case(&self, ix: usize, case: Option<(usize, &Share)>, wanted: Along) -> Carries {
        let (fact, joined) = (&self.facts[ix], &self.joined[ix]);
        let id = fact.fastener.id.clone();
        if joined.crossings.is_empty() {
            let cautions = vec![why_nothing(fact).to_owned()];
            return Carries { id, case: None, planes: Vec::new(), along: None, combined: None, cautions };
        }
        let told = case.map(|it| &self.cases[it.0]);
        let duration = told.map_or(Duration::TenYears, |it| it.told.duration);
        let (rows, share) = (told.map(|it| &it.rows), case.map(|it| it.1));
        let asking = Asking { solver: self, ix, duration, case: case.map(|it| it.0), share, rows };
        let mut cautions = Vec::new();
        let planes = across::planes(&asking, &mut cautions);
        let pull_n = case.map(|it| it.1.pull_n(fact.shank.toward));
        let is_pulled = pull_n.is_some_and(|it| judged::LEAST_N < it);
        let along = (is_pulled || wanted == Along::Always).then(|| {
            let value = along::carried(&asking);
            let ratio = match (&value, pull_n) {
                (Ok(value), Some(pull)) => Some(judged::ratio(pull, value.adjusted_n)),
                (Err(_), Some(_)) if !is_pulled => Some(0.0),
                _ => None,
            };
            AlongCarries { value, demand_n: pull_n, ratio }
        });
        let mut found = Carries { id, case: case.map(|it| it.0), planes, along, combined: None, cautions };
        found.combined = self.combined(fact, &found);
        if wanted == Along::Always {
            found.gather_cautions();
        }
        found
    }

    /// Both ways at once, at the plane that governs.
    fn combined(&self, fact: &Fact<'_>, found: &Carries) -> Option<Combined> {
        found.case?;
        // What is mere rounding is no load, and no value must be there for it.
        let felt = |it: Option<f64>| it.filter(|it| judged::LEAST_N < *it).unwrap_or(0.0);
        let pull_n = felt(found.along.as_ref().and_then(|it| it.demand_n));
        let worst = found.governing()?;
        if found.unanswered().is_some() {
            return None;
        }
        let across = Demand {
            demand_n: felt(worst.demand_n),
            adjusted_n: worst.value.as_ref().map_or(0.0, |it| it.adjusted_n),
        };
        let of_along = found.along.as_ref().and_then(|it| it.value.as_ref().ok());
        let along = Demand { demand_n: pull_n, adjusted_n: of_along.map_or(0.0, |it| it.adjusted_n) };
        Some(self.scene.rules.both_ways(&fact.driven, across, along))
    }

    /// What is left out, and why.
    pub(super) fn not_counted(&self) -> Vec<String> {
        if self.facts.is_empty() {
            return Vec::new();
        }
        let mut list = self.said.clone();
        if self.cases.is_empty() {
            list.push(
                "No load of known size is given: the values hold for a load across the grain and ten years, the \
                 lesser, and nothing is held against them."
                    .to_owned(),
            );
        } else {
            list.push(
                "Loads are shared equally by all fasteners that join the loaded member to anything, also to one that \
                 only hangs on it; eccentricity, differences in stiffness, prying and friction are not counted."
                    .to_owned(),
            );
            if !self.scene.joint.connectors.is_empty() {
                list.push(
                    "What bears on a connector's seat or edge is not counted: all of a load is taken to go \
                     through its fasteners."
                        .to_owned(),
                );
            }
        }
        list.push(
            "A push along a shank bears on the wood between the pieces and is not counted; the members \
             themselves and the steel of connectors are not worked out."
                .to_owned(),
        );
        list
    }

    pub(super) fn into_cases(self) -> Vec<LoadCase> {
        self.cases.into_iter().map(|it| it.told).collect()
    }
}

fn last_pair(joined: &Joined<'_>) -> Option<(Group, Group)> {
    let [.., from, into] = joined.stations.as_slice() else { return None };
    Some((from.group, into.group))
}

fn why_nothing(fact: &Fact<'_>) -> &'static str {
    match fact.stage {
        Stage::Lost => "It fills a hole that is not there.",
        Stage::InAir => "It is in nothing that bears.",
        Stage::Shiner => "It joins nothing: it meets no second body that bears.",
        Stage::Holds => "It only holds a part up while that is fixed, or joins one body to itself.",
    }
}

/// Loads that last at least as long as each of the durations, with that one: the shortest of a combination
/// governs it (NDS 2018 2.3.2 and Appendix B; EN 1995-1-1 3.1.3(2)).
fn combinations(singles: &[(usize, Path, Duration)]) -> Vec<(Vec<usize>, Duration)> {
    let mut durations: Vec<Duration> = singles.iter().map(|it| it.2).collect();
    durations.sort_by_key(|it| judged::shortness(*it));
    durations.dedup();
    let upto = |shortest: Duration| -> Vec<usize> {
        let lasts = |it: &&(usize, Path, Duration)| judged::shortness(it.2) <= judged::shortness(shortest);
        singles.iter().filter(lasts).map(|it| it.0).collect()
    };
    durations.into_iter().map(|it| (upto(it), it)).filter(|it| 1 < it.0.len()).collect()
}

fn add(sum: &mut Path, path: &Path) {
    for (ix, share) in &path.shares {
        sum.shares.entry(*ix).or_default().add(share);
    }
    for (connector, force) in &path.through {
        let known = sum.through.entry(*connector).or_default();
        *known = *known + *force;
    }
}
