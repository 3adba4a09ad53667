//! What would mend a finding: each change is tried on a copy, traced and judged again, and kept only if
//! the finding is gone and nothing new is wrong with the fastener or its neighbours.
//!
//! Work is bounded: the first [`MOST_FINDINGS`] faults and cautions are looked at, each with at most
//! [`MOST_TRIES`] changes, each tried among the [`MOST_NEIGHBOURS`] nearest fasteners and the bodies near
//! by. In a larger joint the findings beyond that go without a remedy, which says nothing about them.

mod local;
mod moves;
mod sizes;
mod ways;

use crate::findings::{Finding, Findings, Kind, Remedy, Severity, judge_by};
use crate::joint::edit::{Change, apply};
use crate::joint::{Edit, Fastener, Joint};
use crate::standard::Standard;
use crate::stock::Stock;
use crate::trace::{Shank, Trace, trace};
use crate::unit::compare::SAME_MM;
pub(super) use local::Local;

/// Faults and cautions that a remedy is looked for.
const MOST_FINDINGS: usize = 50;

/// Changes tried for one finding.
const MOST_TRIES: usize = 32;

/// Fasteners that a change is tried among.
const MOST_NEIGHBOURS: usize = 16;

/// A change to try, and how to tell of it once it has proved good.
pub(super) struct Way {
    pub(super) place: Place,
    pub(super) fastener: Fastener,
    pub(super) says: Box<dyn Fn(&Mended<'_>) -> String>,
    /// Nearer changes of the same sort, for the search of the nearest that is good.
    pub(super) nearer: Option<Nearer>,
}

/// Changes of one sort that differ by a distance.
pub(super) struct Nearer {
    /// The distance of the change in hand.
    pub(super) distance_mm: f64,
    /// A distance that is too short, or zero.
    pub(super) too_short_mm: f64,
    /// What can be set out.
    pub(super) step_mm: f64,
    /// The change for another distance.
    pub(super) way: Box<dyn Fn(f64) -> Way>,
}

/// Where the fastener of a [`Way`] goes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Place {
    /// In the place of the one that the finding is about.
    Instead,
    /// After all the others.
    Added,
}

/// A fastener after a change that proved good.
pub(super) struct Mended<'a> {
    pub(super) joint: &'a Joint,
    pub(super) fastener: &'a Fastener,
    pub(super) shank: &'a Shank,
    /// It mends what it is for, and still bites too little.
    pub(super) is_short: bool,
}

/// What the ways of mending are looked for with.
pub(super) struct Asked<'a> {
    pub(super) joint: &'a Joint,
    pub(super) trace: &'a Trace,
    pub(super) stock: &'a Stock,
    pub(super) finding: &'a Finding,
    /// Place in the joint of the fastener that the finding is about; `None` when it is about a hole.
    pub(super) fastener: Option<usize>,
}

/// The same findings, each with a checked remedy where one was found.
pub(super) fn with_remedies(joint: &Joint, stock: &Stock, mut findings: Findings) -> Findings {
    let wanted = |it: &&mut Finding| it.severity != Severity::Note && ways::may_have_one(it.kind);
    if !findings.list.iter_mut().any(|it| wanted(&it)) {
        return findings;
    }
    let traced = trace(joint);
    let rules = crate::standard::by_id(joint.standard);
    for finding in findings.list.iter_mut().filter(wanted).take(MOST_FINDINGS) {
        finding.remedy = remedy(joint, &traced, stock, rules, finding);
    }
    findings
}

fn remedy(
    joint: &Joint,
    traced: &Trace,
    stock: &Stock,
    rules: &dyn Standard,
    finding: &Finding,
) -> Option<Remedy> {
    let subject = finding.subjects.first()?;
    let fastener = joint.fasteners.iter().position(|it| it.id == *subject);
    let asked = Asked { joint, trace: traced, stock, finding, fastener };
    let ways = ways::ways(&asked);
    if ways.is_empty() {
        return None;
    }
    let local = Local::around(joint, traced, fastener, finding.at)?;
    let before = judge_by(&local.joint, &trace(&local.joint), rules, local.loads());
    ways.into_iter().take(MOST_TRIES).find_map(|way| {
        let says = tried(&local, &before, &way, rules, finding)?;
        let (way, says) = nearest((way, says), |it| tried(&local, &before, it, rules, finding));
        let new = Box::new(way.fastener);
        let edit = match (way.place, fastener) {
            (Place::Instead, Some(at)) => Edit::Fasteners(Change::Replace { at, new }),
            (Place::Added, _) | (Place::Instead, None) => {
                Edit::Fasteners(Change::Insert { at: joint.fasteners.len(), new })
            }
        };
        Some(Remedy { says, edit })
    })
}

/// The nearest change of its sort that is good too, by halving what lies between it and one that is not.
fn nearest((way, says): (Way, String), tried: impl Fn(&Way) -> Option<String>) -> (Way, String) {
    let Some(nearer) = &way.nearer else { return (way, says) };
    let (mut low, mut high) = (nearer.too_short_mm, nearer.distance_mm);
    let mut best = None;
    while nearer.step_mm < high - low - SAME_MM {
        let half = (f64::midpoint(low, high) / nearer.step_mm - SAME_MM).ceil() * nearer.step_mm;
        if high <= half + SAME_MM {
            break;
        }
        let candidate = (nearer.way)(half);
        match tried(&candidate) {
            Some(says) => (high, best) = (half, Some((candidate, says))),
            None => low = half,
        }
    }
    best.unwrap_or((way, says))
}

/// Tries a change; what to say of it when it is good.
fn tried(
    local: &Local,
    before: &Findings,
    way: &Way,
    rules: &dyn Standard,
    finding: &Finding,
) -> Option<String> {
    let mut joint = local.joint.clone();
    let new = Box::new(way.fastener.clone());
    let at = match way.place {
        Place::Instead => local.fastener?,
        Place::Added => joint.fasteners.len(),
    };
    let change = match way.place {
        Place::Instead => Change::Replace { at, new },
        Place::Added => Change::Insert { at, new },
    };
    apply(&mut joint, &Edit::Fasteners(change));
    let traced = trace(&joint);
    let after = judge_by(&joint, &traced, rules, local.loads());
    let gone = !after.list.iter().any(|it| same_thing(it, finding));
    // What any fastener in an empty hole would cross is no fault of the one that is tried there.
    let of_the_place =
        |it: &Finding| way.place == Place::Added && matches!(it.kind, Kind::Gap | Kind::Filling);
    if !gone || after.list.iter().any(|it| !of_the_place(it) && is_new(it, before)) {
        return None;
    }
    let (fastener, shank) = (joint.fasteners.get(at)?, traced.fasteners.get(at)?);
    let is_of_it = |it: &&Finding| it.subjects.first() == Some(&fastener.id);
    let is_short = after.list.iter().filter(is_of_it).any(|it| it.kind == Kind::ShortBite);
    let mended = Mended { joint: &joint, fastener, shank, is_short };
    Some((way.says)(&mended))
}

/// Whether a finding is one that was not there before, or is graver or misses by more than it did.
fn is_new(finding: &Finding, before: &Findings) -> bool {
    if finding.severity == Severity::Note {
        return false;
    }
    let as_bad = |it: &&Finding| {
        same_thing(it, finding)
            && it.severity <= finding.severity
            && misses_by(finding) <= misses_by(it) + 1e-6
    };
    !before.list.iter().any(|it| as_bad(&it))
}

fn same_thing(one: &Finding, other: &Finding) -> bool {
    one.kind == other.kind && one.subjects == other.subjects
}

fn misses_by(finding: &Finding) -> f64 {
    match (finding.measured, finding.required) {
        (Some(measured), Some(required)) => (required - measured).abs(),
        (Some(_) | None, _) => 0.0,
    }
}
