//! How the numbers of a finding came about, kept as values and written out for whoever asks.
//!
//! Every edit judges the whole joint again, and few findings are ever opened: most workings are never read.

use super::words;
use crate::standard::{Check, Quantity, Sense};
use crate::unit::LengthUnit;

/// The working of a finding.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Working(Vec<Part>);

#[derive(Clone, Debug, PartialEq)]
enum Part {
    Line(String),
    Check(Check, LengthUnit),
}

impl Working {
    /// The lines, in the joint's unit.
    #[must_use]
    pub fn lines(&self) -> Vec<String> {
        let mut lines = Vec::new();
        for part in &self.0 {
            match part {
                Part::Line(line) => lines.push(line.clone()),
                Part::Check(check, unit) => lines.extend(of_check(check, *unit)),
            }
        }
        lines
    }

    /// One more line.
    pub(super) fn push(&mut self, line: String) {
        self.0.push(Part::Line(line));
    }

    /// The steps of a check, and how what is drawn compares with what they come to.
    pub(super) fn push_check(&mut self, check: &Check, unit: LengthUnit) {
        self.0.push(Part::Check(check.clone(), unit));
    }
}

fn of_check(check: &Check, unit: LengthUnit) -> Vec<String> {
    let mut lines = words::working(check, unit);
    if !matches!(check.required, Quantity::Number(_)) {
        let (drawn, asked) = words::both_fine(check, unit);
        let sign = match check.sense {
            Sense::AtLeast => "<",
            Sense::AtMost => ">",
        };
        lines.push(format!("{drawn} {sign} {asked}"));
    }
    lines
}
