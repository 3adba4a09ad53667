//! What there is to tell about a traced joint: faults, cautions and notes.
//!
//! This room alone decides which is which. It draws nothing. There is no finding without its
//! measure and its source. Wording is "as drawn", never "safe".

mod angle;
mod bite;
mod borders;
pub mod carry;
mod cover;
mod drilling;
mod gap;
mod holes;
mod in_air;
mod kind;
mod measures;
mod not_checked;
mod nut;
mod overlap;
mod point_out;
mod push;
mod remedy;
pub mod report;
mod room;
mod scene;
mod seat;
mod shiner;
mod spacing;
mod spread;
mod steel;
mod tell;
pub mod trial;
mod washers;
mod wood;
mod words;
mod working;

use std::collections::BTreeMap;

use crate::findings::carry::told::Held;
use crate::joint::{Edit, Joint};
use crate::standard::Standard;
use crate::stock::Stock;
use crate::trace::Trace;
use crate::unit::Vec3;

pub use kind::Kind;
pub use measures::{Measure, Stands, measures};
use scene::{Fact, Scene, Stage};
pub use working::Working;

/// All that was found.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Findings {
    /// In order: faults, cautions, notes; within each by fastener as in the joint.
    pub list: Vec<Finding>,
    /// What was not checked, a sentence each. Never empty.
    pub not_checked: Vec<String>,
}

/// One thing to tell.
#[derive(Clone, Debug, PartialEq)]
pub struct Finding {
    /// What it is.
    pub kind: Kind,
    /// How bad it is.
    pub severity: Severity,
    /// Ids of the things that it is about, the foremost first.
    pub subjects: Vec<String>,
    /// One plain sentence in the joint's unit, measured rounded down, required rounded up.
    pub says: String,
    /// The value as drawn, exact, in `unit`.
    pub measured: Option<f64>,
    /// The value asked for, exact, in `unit`.
    pub required: Option<f64>,
    /// `mm`, `deg`, `mm2`, `N`, `count`, or empty.
    pub unit: &'static str,
    /// `NDS 2018 12.1.6.4`, `common practice` or `drawing`.
    pub source: String,
    /// How the numbers came about.
    pub working: Working,
    /// What would mend it, itself checked.
    pub remedy: Option<Remedy>,
    /// Where to look in the drawing.
    pub at: Option<Vec3>,
}

/// A change that was tried and found to mend its finding without making another.
#[derive(Clone, Debug, PartialEq)]
pub struct Remedy {
    /// What to do, in one plain sentence with its numbers.
    pub says: String,
    /// The change itself.
    pub edit: Edit,
}

/// How bad a finding is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Severity {
    /// The joint as drawn does not do what its source demands.
    Fault,
    /// Look at this: recommended, borderline, or to be settled by somebody who may.
    Caution,
    /// Good to know.
    Note,
}

/// The verdict on a whole joint.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Verdict {
    /// No fault and no caution.
    Sound,
    /// Cautions, no fault.
    Cautions,
    /// At least one fault.
    Faults,
}

/// What is asked of every fastener by itself, in the order of telling, each from the stage on at which
/// it makes sense.
///
/// This is the order of precedence. Who fills a hole that is not there is told only that. Who is in no
/// bearing body has no bite, no borders and no head to speak of. A shiner has no second body, so that bite,
/// point and distances in it are not asked. Inside a stage, a shank along a face is not told to break out of
/// it too, and one that does either has no end or edge distances told in that body.
const EACH_FASTENER: &[(Stage, Check)] = &[
    (Stage::Lost, in_air::no_such_hole),
    (Stage::InAir, in_air::in_air),
    (Stage::InAir, steel::through_steel),
    (Stage::Shiner, shiner::shiner),
    (Stage::Shiner, cover::along_face),
    (Stage::Shiner, cover::cover),
    (Stage::Shiner, room::of_shank),
    (Stage::Shiner, gap::gap),
    (Stage::Shiner, gap::filling),
    (Stage::Shiner, seat::head),
    (Stage::Shiner, room::of_head_and_nut),
    (Stage::Shiner, washers::washers),
    (Stage::Shiner, wood::finish),
    (Stage::Holds, bite::bite),
    (Stage::Holds, point_out::point_out),
    (Stage::Holds, borders::borders),
    (Stage::Holds, angle::angle),
    (Stage::Holds, drilling::drilling),
    (Stage::Holds, nut::nut),
    (Stage::Holds, wood::end_grain),
    (Stage::Holds, wood::unsuitable),
];

/// What is asked of fasteners together: pairs and holes. Each answer names the fastener it is told of.
const TOGETHER: &[Together] = &[spacing::clash, spacing::spacing, spread::spread, holes::fit, room::between];

/// What is asked of the joint itself.
const OF_THE_JOINT: &[fn(&Scene<'_>) -> Vec<Finding>] = &[holes::empty, overlap::overlap];

type Check = fn(&Fact<'_>) -> Vec<Finding>;
type Together = fn(&Scene<'_>, &[Fact<'_>]) -> Vec<(usize, Finding)>;

/// Judges a traced joint by its standard. Remedies are left out; see [`with_remedies`].
#[must_use]
pub fn judge(joint: &Joint, trace: &Trace) -> Findings {
    judge_by(joint, trace, crate::standard::by_id(joint.standard), Loads::Count)
}

/// The same for a joint that takes long: `go_on` is told again and again how many fasteners are judged, and stops
/// the work by saying no. `None` where it was stopped.
#[must_use]
pub fn judge_watched(joint: &Joint, trace: &Trace, go_on: &mut dyn FnMut(usize) -> bool) -> Option<Findings> {
    judge_while(joint, trace, crate::standard::by_id(joint.standard), (Loads::Count, go_on))
}

/// So many fasteners are judged before it is asked again whether to go on.
const PART: usize = 200;

/// Whether the loads are held against what is carried.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Loads {
    /// As in a whole joint.
    Count,
    /// In a part of a joint they are not: its fasteners would share what others carry too.
    DoNotCount,
}

/// The same by rules that are at hand.
fn judge_by(joint: &Joint, trace: &Trace, rules: &dyn Standard, loads: Loads) -> Findings {
    judge_while(joint, trace, rules, (loads, &mut |_| true)).unwrap_or_default()
}

fn judge_while(
    joint: &Joint,
    trace: &Trace,
    rules: &dyn Standard,
    (loads, go_on): (Loads, &mut dyn FnMut(usize) -> bool),
) -> Option<Findings> {
    let scene = Scene::new(joint, trace, rules);
    let facts = scene.facts();
    let mut told: Vec<(usize, Finding)> = Vec::new();
    for (n, fact) in facts.iter().enumerate() {
        if n.is_multiple_of(PART) && !go_on(n) {
            return None;
        }
        for (from, check) in EACH_FASTENER {
            if *from <= fact.stage {
                told.extend(check(fact).into_iter().map(|it| (fact.ix, it)));
            }
        }
    }
    for check in TOGETHER {
        if !go_on(facts.len()) {
            return None;
        }
        told.extend(check(&scene, &facts));
    }
    let mut held = Held::NoLoad;
    if loads == Loads::Count {
        if !go_on(facts.len()) {
            return None;
        }
        // The fasteners under the loads, the loads that reach none, and the connectors with a rating.
        let (carried, is_held) = carry::told::carried(&scene, &facts);
        told.extend(carried);
        held = is_held;
    }
    for (ix, finding) in &mut told {
        // What was there before is not ours to mend; it counts as a neighbour all the same.
        let about_a_pair = matches!(finding.kind, Kind::Spacing | Kind::Spread | Kind::Clash);
        if !about_a_pair && facts.get(*ix).is_some_and(|it| it.fastener.existing) {
            finding.severity = Severity::Note;
        }
    }
    if !go_on(facts.len()) {
        return None;
    }
    told.extend(OF_THE_JOINT.iter().flat_map(|check| check(&scene)).map(|it| (usize::MAX, it)));
    // Stable, so that findings of one fastener keep the order of the lists above.
    told.sort_by_key(|(ix, finding)| (finding.severity, *ix));
    Some(Findings {
        list: told.into_iter().map(|it| it.1).collect(),
        not_checked: not_checked::not_checked(&scene, held),
    })
}

/// The same findings, each with a checked remedy where one can be computed.
///
/// The work is bounded: the 50 foremost faults and cautions are looked at, 32 changes each, tried on a copy
/// of the joint around the fastener. It takes far longer than [`judge`]; ask for it when the user rests.
#[must_use]
pub fn with_remedies(joint: &Joint, stock: &Stock, findings: Findings) -> Findings {
    remedy::with_remedies(joint, stock, findings)
}

impl Severity {
    /// The fixed word in files.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Fault => "fault",
            Self::Caution => "caution",
            Self::Note => "note",
        }
    }
}

impl Verdict {
    /// The fixed word in files.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Sound => "sound",
            Self::Cautions => "cautions",
            Self::Faults => "faults",
        }
    }
}

impl Findings {
    /// The verdict on the whole joint.
    #[must_use]
    pub fn verdict(&self) -> Verdict {
        match self.list.iter().map(|it| it.severity).min() {
            Some(Severity::Fault) => Verdict::Faults,
            Some(Severity::Caution) => Verdict::Cautions,
            Some(Severity::Note) | None => Verdict::Sound,
        }
    }

    /// The worst that is said about each thing, by the id of the foremost subject: for whoever asks
    /// about all of them.
    #[must_use]
    pub fn worst_by_id(&self) -> BTreeMap<&str, Severity> {
        let mut worst = BTreeMap::new();
        for finding in &self.list {
            if let Some(first) = finding.subjects.first() {
                let known = worst.entry(first.as_str()).or_insert(finding.severity);
                *known = finding.severity.min(*known);
            }
        }
        worst
    }

    /// The worst that is said about the thing with this id.
    #[must_use]
    pub fn worst_of(&self, id: &str) -> Option<Severity> {
        self.list
            .iter()
            .filter(|it| it.subjects.first().is_some_and(|first| first == id))
            .map(|it| it.severity)
            .min()
    }
}
