//! Writes a working down, line by line. Knows no wood.

use crate::standard::Source;
use crate::standard::capacity::{Amount, Line};

/// A value by its symbol.
pub(super) type Given = (&'static str, Amount);

/// The lines so far.
#[derive(Clone, Debug, Default)]
pub(super) struct Working {
    pub(super) lines: Vec<Line>,
}

/// Whether a formula names a symbol.
fn names(formula: &str, symbol: &str) -> bool {
    let is_part = |c: char| c.is_alphanumeric() || matches!(c, '_' | ',' | '\'');
    formula.split(|c| !is_part(c)).any(|it| it.trim_end_matches(',') == symbol)
}

impl Working {
    /// Whether the last line that tells of this symbol gives it this value.
    fn tells(&self, (symbol, value): Given) -> bool {
        let told = self.lines.iter().rev().find_map(|line| {
            let given = line.with.iter().find(|it| it.0 == symbol).map(|it| it.1);
            if line.symbol == symbol { Some(line.value) } else { given }
        });
        told == Some(value)
    }

    /// Writes a formula down with those of `inputs` that it names and that no line before it gives
    /// with that value.
    pub(super) fn put(
        &mut self,
        (symbol, formula): (&'static str, &'static str),
        inputs: &[Given],
        value: Amount,
        source: Source,
    ) {
        let with = inputs.iter().copied().filter(|it| names(formula, it.0) && !self.tells(*it)).collect();
        self.lines.push(Line { symbol, formula, with, value, source, because: String::new() });
    }

    /// Writes a value down that is given.
    pub(super) fn given(&mut self, (symbol, value): Given, source: Source) {
        self.put((symbol, ""), &[], value, source);
    }

    /// Says why the last line is so.
    pub(super) fn because(&mut self, why: impl Into<String>) {
        if let Some(last) = self.lines.last_mut() {
            last.because = why.into();
        }
    }

    /// Takes over what another working says.
    pub(super) fn append(&mut self, other: &Self) {
        for line in &other.lines {
            let is_known = line.formula.is_empty() && self.tells((line.symbol, line.value));
            if !is_known {
                self.lines.push(line.clone());
            }
        }
    }
}
