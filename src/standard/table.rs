//! Reads the tables of `resources/standards/`, and helps to write a check down. Knows no clause.

use serde::Deserialize;
use serde::de::DeserializeOwned;

use super::{Check, Force, Quantity, Sense, Source, Step, Topic};

/// Where a group of numbers comes from. It is kept beside the numbers for whoever reads the table.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Origin {
    #[serde(rename = "clause")]
    _clause: Option<String>,
    #[serde(rename = "source")]
    _source: String,
    #[serde(rename = "provenance")]
    _provenance: Provenance,
}

/// Whether numbers were read in a text that quotes the print, or recalled.
#[derive(Clone, Copy, Debug, Deserialize)]
pub(super) enum Provenance {
    /// Read.
    #[serde(rename = "found")]
    Found,
    /// Recalled.
    #[serde(rename = "from memory")]
    FromMemory,
}

/// A row of a table by specific gravity.
#[derive(Clone, Copy, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Band {
    /// The row holds for gravities up to and with this one.
    pub(super) gravity_to: f64,
    /// Least hole, as a part of the diameter.
    pub(super) least: f64,
    /// Greatest hole, as a part of the diameter.
    pub(super) most: f64,
}

/// Reads a table that is part of the program.
pub(super) fn read<T: DeserializeOwned>(text: &str) -> T {
    toml::from_str(text).expect("the table is part of the program, and a test reads it")
}

/// What a check is about and where it is written.
#[derive(Clone, Copy, Debug)]
pub(super) struct Asked {
    topic: Topic,
    source: Source,
}

/// Begins a check.
pub(super) fn ask(topic: Topic, source: Source) -> Asked {
    Asked { topic, source }
}

impl Asked {
    /// A demand that `measured` be at least what the last step of the working comes to.
    pub(super) fn at_least(self, measured: Quantity, working: Vec<Step>) -> Check {
        self.check(measured, Sense::AtLeast, working)
    }

    /// A demand that `measured` be at most what the last step of the working comes to.
    pub(super) fn at_most(self, measured: Quantity, working: Vec<Step>) -> Check {
        self.check(measured, Sense::AtMost, working)
    }

    /// A demand that something be there.
    pub(super) fn wanted(self, is_there: bool) -> Check {
        let working = vec![given("wanted", Quantity::Number(1.0))];
        self.check(yes_or_no(is_there), Sense::AtLeast, working)
    }

    /// A demand that something not be so.
    pub(super) fn barred(self, is_so: bool) -> Check {
        let working = vec![given("allowed", Quantity::Number(0.0))];
        self.check(yes_or_no(is_so), Sense::AtMost, working)
    }

    fn check(self, measured: Quantity, sense: Sense, working: Vec<Step>) -> Check {
        let required = working.last().map_or(Quantity::Number(0.0), |it| it.value);
        let (topic, source) = (self.topic, self.source);
        Check { topic, measured, required, sense, force: Force::Shall, source, working }
    }
}

fn yes_or_no(yes: bool) -> Quantity {
    Quantity::Number(if yes { 1.0 } else { 0.0 })
}

/// A working with room for the steps that follow.
pub(super) fn begun<const N: usize>(steps: [Step; N]) -> Vec<Step> {
    let mut working = Vec::with_capacity(N + 4);
    working.extend(steps);
    working
}

/// The values that a fact may have: the known one, or each of the two ends of what is possible.
pub(super) fn either<T>(known: Option<T>, ends: (T, T)) -> impl Iterator<Item = T> {
    let (first, second) = match known {
        Some(known) => (known, None),
        None => (ends.0, Some(ends.1)),
    };
    std::iter::once(first).chain(second)
}

/// The angles between load and grain that are possible, in degrees from 0 to 90.
pub(super) fn angles(load_to_grain_deg: Option<f64>) -> impl Iterator<Item = f64> {
    either(load_to_grain_deg.map(|it| it.clamp(0.0, 90.0)), (0.0, 90.0))
}

/// A step that is given and not worked out.
pub(super) fn given(symbol: &'static str, value: Quantity) -> Step {
    Step { symbol, formula: "", value }
}

/// A step that is worked out, in millimetres.
pub(super) fn length(symbol: &'static str, formula: &'static str, mm: f64) -> Step {
    Step { symbol, formula, value: Quantity::Length(mm) }
}

/// A step that is worked out, without unit.
pub(super) fn number(symbol: &'static str, formula: &'static str, value: f64) -> Step {
    Step { symbol, formula, value: Quantity::Number(value) }
}

/// Of checks that differ in what is not known (a load, a density), what holds in any case as
/// demanded, and what holds in the worst case as recommended.
///
/// Each must ask for at least something, of the same measure. With nothing unknown there is one
/// candidate, and it is demanded.
pub(super) fn settle(candidates: Vec<Check>) -> Vec<Check> {
    let mut sorted = candidates;
    sorted.sort_by(|a, b| a.required.value().total_cmp(&b.required.value()));
    let worst = sorted.pop();
    let mut settled: Vec<Check> = sorted.into_iter().take(1).collect();
    match (settled.first(), worst) {
        (Some(least), Some(worst)) if worst.required.value() <= least.required.value() => {}
        (Some(_), Some(worst)) => settled.push(worst.recommended()),
        (None, Some(only)) => settled.push(only),
        (_, None) => {}
    }
    settled
}
