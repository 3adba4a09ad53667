//! The result of a check as other programs read it: plain types with the names that files promise.
//!
//! Lengths are millimetres, angles degrees. A number is printed so that it reads back to the same f64.
//! Fields may be added, never renamed or removed.

mod carried;

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::findings::carry::{Carries, Detail, carry};
use crate::findings::{Finding, Findings};
use crate::joint::{Fastener, Joint, StandardId};
use crate::trace::{BodyIx, Owner, Run, Shank, Trace, What};

pub use carried::{
    CaseResult, ConnectionResult, PlaneResult, RatingResult, SplittingResult, WithdrawalResult,
};

/// The word that every check result begins with.
pub const FORMAT: &str = "shankline-check";

/// The version of the result's shape.
pub const VERSION: u32 = 1;

/// What a check prints: one object for all files of a call.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[schemars(title = "Shankline check result")]
pub struct CheckResult {
    /// Always `shankline-check`.
    pub format: String,
    /// Version of the shape of this object.
    pub version: u32,
    /// One for each joint file that could be read, in the order of the call.
    pub files: Vec<FileResult>,
}

/// The result for one joint file.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct FileResult {
    /// The file as it was named in the call.
    pub file: String,
    /// The joint's title.
    pub title: String,
    /// The standard that it was judged by: `nds-2018` or `en-1995-1-1`.
    pub standard: String,
    /// `sound`, `cautions` or `faults`, as drawn.
    pub verdict: String,
    /// One for each fastener, in the joint's order.
    pub fasteners: Vec<FastenerResult>,
    /// One for each pair of members or connectors that a fastener joins.
    pub connections: Vec<ConnectionResult>,
    /// One for each connector with a rating.
    pub ratings: Vec<RatingResult>,
    /// One for each member that is pushed across its grain, by EN 1995-1-1 alone.
    pub splitting: Vec<SplittingResult>,
    /// The cases of loads of known size.
    pub cases: Vec<CaseResult>,
    /// What the values do not count, a sentence each.
    pub not_counted: Vec<String>,
    /// Faults, then cautions, then notes.
    pub findings: Vec<FindingResult>,
    /// What was not checked, a sentence each.
    pub not_checked: Vec<String>,
}

/// One fastener traced.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct FastenerResult {
    /// Its id.
    pub id: String,
    /// Length below the head, mm.
    pub length_mm: f64,
    /// What the shank passes through, in order from the head.
    pub core: Vec<RunResult>,
    /// Id of the body that must hold the point side; null where there is none.
    pub holding_body: Option<String>,
    /// Length along the axis in the holding body, point included, mm; 0 without one.
    pub bite_mm: f64,
    /// The same square to the face entered, mm.
    pub bite_square_mm: f64,
    /// Length beyond the holding body, mm; 0 when the point stays in.
    pub point_out_mm: f64,
    /// Least distance from the axis, along the bite, to a face that it neither enters nor leaves by, mm;
    /// null without bite.
    pub cover_mm: Option<f64>,
    /// Degrees between the axis and the face by which the holding body is entered, 90 is square; null
    /// without bite or where the axis starts inside.
    pub angle_to_face_deg: Option<f64>,
    /// Its shear planes, head to point, in the case that is hardest on it; without a load of known size for
    /// a load across the grain.
    pub planes: Vec<PlaneResult>,
    /// What it carries along its axis; null where no value applies.
    pub withdrawal: Option<WithdrawalResult>,
    /// Why no value along its axis applies; null where one does or it joins nothing.
    pub no_withdrawal: Option<String>,
    /// Place in `cases` of the case that is hardest on it; null without a load of known size.
    pub case: Option<usize>,
    /// Demand over capacity, across and along together; null without a load or a value.
    pub combined_ratio: Option<f64>,
    /// What to look at before a value is believed, a sentence each.
    pub cautions: Vec<String>,
}

/// One stretch of a shank.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct RunResult {
    /// Where it begins, mm from the head along the axis.
    pub from_mm: f64,
    /// Where it ends.
    pub to_mm: f64,
    /// Id of the member or connector; null in air, in a gap and in a washer.
    pub body: Option<String>,
    /// `bearing`, `filling`, `steel`, `gap` or `air`.
    pub what: String,
}

/// One thing to tell.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct FindingResult {
    /// A fixed word, such as `short_bite`.
    pub kind: String,
    /// `fault`, `caution` or `note`.
    pub severity: String,
    /// Ids of what it is about, the foremost first.
    pub subjects: Vec<String>,
    /// One plain sentence, in the unit of the joint.
    pub says: String,
    /// The value as drawn, unrounded, in `unit`; null where there is none.
    pub measured: Option<f64>,
    /// The value asked for, unrounded, in `unit`; null where there is none.
    pub required: Option<f64>,
    /// `mm`, `deg`, `mm2`, `N`, `count`, or empty for a bare number.
    pub unit: String,
    /// Standard and clause, `common practice` or `drawing`.
    pub source: String,
    /// How the numbers came about, a line each, in the unit of the joint.
    pub working: Vec<String>,
    /// What would mend it, itself checked; null where none was found.
    pub remedy: Option<String>,
    /// Where to look, x, y and z in mm; null where it is no one place.
    pub at_mm: Option<[f64; 3]>,
}

/// The result for one joint file.
#[must_use]
pub fn report_file(file: &str, joint: &Joint, trace: &Trace, findings: &Findings) -> FileResult {
    let carrying = carry(joint, trace, Detail::Values);
    FileResult {
        file: file.to_owned(),
        title: joint.title.clone(),
        standard: standard_word(joint.standard).to_owned(),
        verdict: findings.verdict().word().to_owned(),
        fasteners: joint
            .fasteners
            .iter()
            .zip(&trace.fasteners)
            .zip(&carrying.fasteners)
            .map(|((fastener, shank), carries)| fastener_result((joint, trace), fastener, shank, carries))
            .collect(),
        connections: carried::connections(&carrying),
        ratings: carried::ratings(&carrying),
        splitting: carried::splitting(&carrying),
        cases: carried::cases(&carrying),
        not_counted: carrying.not_counted,
        findings: findings.list.iter().map(finding_result).collect(),
        not_checked: findings.not_checked.clone(),
    }
}

/// The whole result as indented JSON with a line feed at its end.
#[must_use]
pub fn print(files: Vec<FileResult>) -> String {
    json(&CheckResult { format: FORMAT.to_owned(), version: VERSION, files })
}

/// The JSON Schema of a check result, as it stands in `resources/schema/check.schema.json`.
#[must_use]
pub fn schema() -> String {
    json(&schemars::schema_for!(CheckResult))
}

fn json(value: &impl Serialize) -> String {
    let text = serde_json::to_string_pretty(value);
    // Names are strings and numbers are finite or null, so nothing here can fail to be written.
    text.unwrap_or_default() + "\n"
}

pub(super) fn standard_word(standard: StandardId) -> &'static str {
    match standard {
        StandardId::Nds2018 => "nds-2018",
        StandardId::En199511 => "en-1995-1-1",
    }
}

fn fastener_result(
    (joint, trace): (&Joint, &Trace),
    fastener: &Fastener,
    shank: &Shank,
    carries: &Carries,
) -> FastenerResult {
    let holding = shank.holding.as_ref();
    FastenerResult {
        id: fastener.id.clone(),
        length_mm: shank.length_mm,
        core: shank.core.iter().map(|it| run_result(joint, trace, it)).collect(),
        holding_body: holding.and_then(|it| body_id(joint, trace, it.body)),
        bite_mm: holding.map_or(0.0, |it| it.bite_mm),
        bite_square_mm: holding.map_or(0.0, |it| it.bite_square_mm),
        point_out_mm: holding.map_or(0.0, |it| it.point_out_mm),
        cover_mm: holding.map(|it| it.cover_mm),
        angle_to_face_deg: holding.and_then(|it| it.angle_to_face_deg),
        planes: carried::planes(carries),
        withdrawal: carries.along.as_ref().and_then(carried::withdrawal),
        no_withdrawal: carries
            .along
            .as_ref()
            .and_then(|it| it.value.as_ref().err())
            .map(|it| it.because.clone()),
        case: carries.case,
        combined_ratio: carries.combined.as_ref().map(|it| it.ratio).filter(|it| it.is_finite()),
        cautions: carries.cautions.clone(),
    }
}

fn run_result(joint: &Joint, trace: &Trace, run: &Run) -> RunResult {
    RunResult {
        from_mm: run.from_mm,
        to_mm: run.to_mm,
        body: run.body.and_then(|it| body_id(joint, trace, it)),
        what: what_word(run.what).to_owned(),
    }
}

fn what_word(what: What) -> &'static str {
    match what {
        What::Bearing => "bearing",
        What::Filling => "filling",
        What::Steel => "steel",
        What::Gap => "gap",
        What::Air => "air",
    }
}

fn body_id(joint: &Joint, trace: &Trace, body: BodyIx) -> Option<String> {
    match trace.bodies.get(body.0)?.owner {
        Owner::Member(at) => joint.members.get(at).map(|it| it.id.clone()),
        Owner::Plate { connector, .. } => joint.connectors.get(connector).map(|it| it.id.clone()),
    }
}

fn finding_result(finding: &Finding) -> FindingResult {
    FindingResult {
        kind: finding.kind.word().to_owned(),
        severity: finding.severity.word().to_owned(),
        subjects: finding.subjects.clone(),
        says: finding.says.clone(),
        measured: finding.measured,
        required: finding.required,
        unit: finding.unit.to_owned(),
        source: finding.source.clone(),
        working: finding.working.lines(),
        remedy: finding.remedy.as_ref().map(|it| it.says.clone()),
        at_mm: finding.at.map(crate::unit::Vec3::to_array),
    }
}
