//! Choices side by side: what each fastener bites, how it fails and what it carries in every one of them.

use schemars::JsonSchema;
use serde::Serialize;

use super::{Carries, Carrying, Connection, Detail, Shear, carry, carry_one};
use crate::findings::{Findings, judge};
use crate::joint::Joint;
use crate::trace::{Trace, trace};

/// The word that every comparison begins with.
pub const FORMAT: &str = "shankline-compare";

/// The version of its shape.
pub const VERSION: u32 = 1;

/// Choices side by side, as other programs read them.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
#[schemars(title = "Shankline comparison")]
pub struct Compared {
    /// Always `shankline-compare`.
    pub format: String,
    /// Version of the shape of this object.
    pub version: u32,
    /// What is compared; all differences are to the first.
    pub choices: Vec<Choice>,
    /// One for each fastener id of any of them, in the order of the first.
    pub fasteners: Vec<Row>,
}

/// One choice as a whole.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct Choice {
    /// What it is called.
    pub name: String,
    /// The standard that it is judged by: `nds-2018` or `en-1995-1-1`.
    pub standard: String,
    /// `sound`, `cautions` or `faults`, as drawn.
    pub verdict: String,
    /// Faults and cautions.
    pub faults: usize,
    /// Cautions.
    pub cautions: usize,
    /// The greatest demand over capacity of a fastener; null without a load, and where one has no value.
    pub worst_ratio: Option<f64>,
    /// Sum of what the fasteners carry across themselves between two bodies, newtons; of the two between which it is
    /// least, for a load passes from one connection to the next. Null where none has a value.
    pub adjusted_n: Option<f64>,
    /// The same over that of the first choice; null where a fastener of either has no value.
    pub adjusted_part: Option<f64>,
    /// Fasteners that join one body to another.
    pub joining: usize,
    /// How many of them have no value: neither the sum nor the ratio counts them.
    pub without_value: usize,
}

impl Choice {
    /// Which fasteners a sum or a ratio would leave out: `no value for 2 of 3`, `no value` where it would have
    /// none; `None` where it has all of them.
    #[must_use]
    pub fn left_out(&self) -> Option<String> {
        match (self.without_value, self.joining, self.adjusted_n) {
            (_, _, None) => Some("no value".to_owned()),
            (0, _, Some(_)) => None,
            (without, all, Some(_)) => Some(format!("no value for {without} of {all}")),
        }
    }
}

/// One fastener in every choice.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct Row {
    /// Its id.
    pub id: String,
    /// One for each choice; null where that has no such fastener.
    pub choices: Vec<Option<Cell>>,
}

/// One fastener in one choice.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct Cell {
    /// The fastener for people.
    pub label: String,
    /// Length along the axis in the holding body, mm.
    pub bite_mm: f64,
    /// The same less that of the first choice, mm.
    pub bite_more_mm: Option<f64>,
    /// Air and fillings at the plane that governs, mm.
    pub gap_mm: f64,
    /// The mode that governs; null where there is no value.
    pub mode: Option<String>,
    /// Every mode with newtons.
    pub modes: Vec<(String, f64)>,
    /// Shear planes that the value counts: 2 in double shear.
    pub planes: usize,
    /// The reference (NDS) or characteristic (EN) value of all of them, newtons.
    pub reference_n: Option<f64>,
    /// The adjusted or design value of all of them, newtons.
    pub adjusted_n: Option<f64>,
    /// The same over that of the first choice.
    pub adjusted_part: Option<f64>,
    /// What fails first where it is pulled along itself; null where there is no value.
    pub withdrawal_mode: Option<String>,
    /// The adjusted or design value along itself, newtons; null where there is none.
    pub withdrawal_n: Option<f64>,
    /// The same over that of the first choice.
    pub withdrawal_part: Option<f64>,
    /// Demand over capacity, across and along together; null without a load or a value.
    pub ratio: Option<f64>,
    /// Why there is no value; null where there is one.
    pub no_value: Option<String>,
}

struct Judged<'a> {
    name: &'a str,
    joint: &'a Joint,
    trace: Trace,
    findings: Findings,
    carrying: Carrying,
}

/// Compares joints by the ids of their fasteners; all differences are to the first.
#[must_use]
pub fn compare(choices: &[(String, Joint)]) -> Compared {
    let judged: Vec<Judged<'_>> = choices.iter().map(|it| Judged::of(it, None)).collect();
    let mut ids: Vec<&str> = Vec::new();
    for id in judged.iter().flat_map(|it| &it.joint.fasteners).map(|it| it.id.as_str()) {
        if !ids.contains(&id) {
            ids.push(id);
        }
    }
    side_by_side(&judged, &ids)
}

/// Compares what one fastener is in each of the choices: the sums are of that fastener alone.
#[must_use]
pub fn compare_one(choices: &[(String, Joint)], id: &str) -> Compared {
    let judged: Vec<Judged<'_>> = choices.iter().map(|it| Judged::of(it, Some(id))).collect();
    side_by_side(&judged, &[id])
}

impl<'a> Judged<'a> {
    fn of((name, joint): &'a (String, Joint), only: Option<&str>) -> Self {
        let trace = trace(joint);
        let findings = judge(joint, &trace);
        let carrying = match only {
            None => carry(joint, &trace, Detail::Values),
            Some(id) => joint
                .fasteners
                .iter()
                .position(|it| it.id == id)
                .and_then(|at| carry_one(joint, &trace, at, Detail::Values))
                .unwrap_or_default(),
        };
        Self { name, joint, trace, findings, carrying }
    }
}

fn side_by_side(judged: &[Judged<'_>], ids: &[&str]) -> Compared {
    let fasteners = ids.iter().map(|id| row(id, judged)).collect();
    let mut choices: Vec<Choice> = judged.iter().map(choice).collect();
    let whole = |it: &Choice| it.adjusted_n.filter(|_| it.without_value == 0);
    if let Some(first) = choices.first().and_then(whole) {
        for it in &mut choices {
            it.adjusted_part = whole(it).and_then(|value| part(value, first));
        }
    }
    Compared { format: FORMAT.to_owned(), version: VERSION, choices, fasteners }
}

/// The whole result as indented JSON with a line feed at its end.
#[must_use]
pub fn print(compared: &Compared) -> String {
    // Names are strings and numbers are finite or null, so nothing here can fail to be written.
    serde_json::to_string_pretty(compared).unwrap_or_default() + "\n"
}

/// The JSON Schema of a comparison, as it stands in `resources/schema/compare.schema.json`.
#[must_use]
pub fn schema() -> String {
    serde_json::to_string_pretty(&schemars::schema_for!(Compared)).unwrap_or_default() + "\n"
}

fn part(value: f64, first: f64) -> Option<f64> {
    (0.0 < first).then(|| value / first)
}

fn values(carries: &Carries) -> Option<(usize, f64, f64)> {
    let plane = carries.governing()?;
    let value = plane.value.as_ref().ok()?;
    #[expect(clippy::cast_precision_loss, reason = "a shank has few planes")]
    let (planes, times) = match plane.shear {
        Shear::Single => (1, 1.0),
        Shear::HalfOfDouble => (2, 2.0),
        Shear::OneOf(count) => (count, count as f64),
    };
    Some((planes, times * value.reference_n, times * value.adjusted_n))
}

/// One choice, not yet beside the first.
fn choice(it: &Judged<'_>) -> Choice {
    // One that misses, or only holds a part up, takes no share of a load and has no value to lack.
    let joining: Vec<&Carries> = it.carrying.fasteners.iter().filter(|it| !it.planes.is_empty()).collect();
    let without_value = joining.iter().filter(|it| values(it).is_none()).count();
    let count = |severity| it.findings.list.iter().filter(|it| it.severity == severity).count();
    let ratios = it.carrying.fasteners.iter().filter_map(|it| it.combined.as_ref()).map(|it| it.ratio);
    Choice {
        name: it.name.to_owned(),
        standard: crate::findings::report::standard_word(it.joint.standard).to_owned(),
        verdict: it.findings.verdict().word().to_owned(),
        faults: count(crate::findings::Severity::Fault),
        cautions: count(crate::findings::Severity::Caution),
        worst_ratio: ratios.reduce(f64::max).filter(|it| it.is_finite() && without_value == 0),
        adjusted_n: weakest(&joining, &it.carrying.connections),
        adjusted_part: None,
        joining: joining.len(),
        without_value,
    }
}

/// What the connection that carries least carries, as the list of connections has it; of one fastener alone what that
/// carries.
fn weakest(joining: &[&Carries], connections: &[Connection]) -> Option<f64> {
    let with_value = connections.iter().filter(|it| it.has_value());
    let least = with_value.map(|it| it.adjusted_n).reduce(f64::min);
    least.or_else(|| joining.iter().filter_map(|it| values(it)).map(|it| it.2).reduce(|a, b| a + b))
}

fn row(id: &str, judged: &[Judged<'_>]) -> Row {
    let mut choices: Vec<Option<Cell>> = judged.iter().map(|it| cell(id, it)).collect();
    let first = judged.first().and_then(|it| cell(id, it));
    if let Some(first) = first {
        for it in choices.iter_mut().flatten() {
            it.bite_more_mm = Some(it.bite_mm - first.bite_mm);
            it.adjusted_part =
                it.adjusted_n.zip(first.adjusted_n).and_then(|(value, first)| part(value, first));
            it.withdrawal_part =
                it.withdrawal_n.zip(first.withdrawal_n).and_then(|(value, first)| part(value, first));
        }
    }
    Row { id: id.to_owned(), choices }
}

fn cell(id: &str, judged: &Judged<'_>) -> Option<Cell> {
    let at = judged.joint.fasteners.iter().position(|it| it.id == id)?;
    let (fastener, shank) = (&judged.joint.fasteners[at], judged.trace.fasteners.get(at)?);
    let carries = judged.carrying.fasteners.iter().find(|it| it.id == id)?;
    let along = carries.along.as_ref().and_then(|it| it.value.as_ref().ok());
    let governing = carries.governing();
    let value = governing.and_then(|it| it.value.as_ref().ok());
    let why = governing.and_then(|it| it.value.as_ref().err()).map(|it| it.because.clone());
    let values = values(carries);
    Some(Cell {
        label: fastener.spec.label.clone(),
        bite_mm: shank.holding.map_or(0.0, |it| it.bite_mm),
        bite_more_mm: None,
        gap_mm: governing.map_or(0.0, |it| it.gap_mm),
        mode: value.map(|it| it.mode.to_owned()),
        modes: value
            .map_or_else(Vec::new, |it| it.modes.iter().map(|it| (it.name.to_owned(), it.newtons)).collect()),
        planes: values.map_or(0, |it| it.0),
        reference_n: values.map(|it| it.1),
        adjusted_n: values.map(|it| it.2),
        adjusted_part: None,
        withdrawal_mode: along.map(|it| it.mode.to_owned()),
        withdrawal_n: along.map(|it| it.adjusted_n),
        withdrawal_part: None,
        ratio: carries.combined.as_ref().map(|it| it.ratio).filter(|it| it.is_finite()),
        no_value: why.or_else(|| governing.is_none().then(|| carries.cautions.first().cloned()).flatten()),
    })
}
