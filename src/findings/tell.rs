//! How a finding is put together, and how a check of a standard becomes one.

use crate::findings::scene::Fact;
use crate::findings::{Finding, Kind, Severity, Working, words};
use crate::standard::{Check, Force, Quantity, Sense};
use crate::trace::BodyIx;
use crate::unit::LengthUnit;
use crate::unit::Vec3;

/// The source of what follows from the drawing alone.
pub(super) const DRAWING: &str = "drawing";
/// The source of what the trade does, with nothing to cite.
pub(super) const COMMON_PRACTICE: &str = "common practice";

impl Finding {
    /// A finding that follows from the drawing, without its numbers.
    pub(super) fn drawn(kind: Kind, severity: Severity, subjects: Vec<String>, says: String) -> Self {
        Self {
            kind,
            severity,
            subjects,
            says,
            measured: None,
            required: None,
            unit: "",
            source: DRAWING.to_owned(),
            working: Working::default(),
            remedy: None,
            at: None,
        }
    }

    /// With its lengths in millimetres.
    pub(super) fn lengths(mut self, measured: f64, required: f64) -> Self {
        (self.measured, self.required, self.unit) = (Some(measured), Some(required), "mm");
        self
    }

    /// With its angles in degrees.
    pub(super) fn angles(mut self, measured: f64, required: f64) -> Self {
        (self.measured, self.required, self.unit) = (Some(measured), Some(required), "deg");
        self
    }

    /// With its counts.
    pub(super) fn counts(mut self, measured: f64, required: f64) -> Self {
        (self.measured, self.required, self.unit) = (Some(measured), Some(required), "count");
        self
    }

    /// With the place to look at.
    pub(super) fn at(mut self, place: Vec3) -> Self {
        self.at = Some(place);
        self
    }

    /// With a source other than the drawing.
    pub(super) fn from(mut self, source: &str) -> Self {
        source.clone_into(&mut self.source);
        self
    }

    /// With more lines of working, after those that stand already.
    pub(super) fn worked(mut self, lines: impl IntoIterator<Item = String>) -> Self {
        lines.into_iter().for_each(|it| self.working.push(it));
        self
    }

    /// With the numbers, source and working of a check that failed.
    pub(super) fn by(mut self, check: &Check, unit: LengthUnit) -> Self {
        let (measured, name) = number(check.measured);
        let (required, _) = number(check.required);
        (self.measured, self.required, self.unit) = (Some(measured), Some(required), name);
        self.source = words::source(check.source);
        self.working.push_check(check, unit);
        self
    }
}

impl Fact<'_> {
    /// A finding about this fastener.
    pub(super) fn tell(&self, kind: Kind, severity: Severity, says: String) -> Finding {
        Finding::drawn(kind, severity, vec![self.fastener.id.clone()], says)
    }

    /// A finding about this fastener and these bodies.
    pub(super) fn tell_of(&self, kind: Kind, severity: Severity, bodies: &[BodyIx], says: String) -> Finding {
        let mut finding = self.tell(kind, severity, says);
        for body in bodies {
            let id = self.scene.id_of(*body);
            if !finding.subjects.contains(&id) {
                finding.subjects.push(id);
            }
        }
        finding
    }
}

/// Whether a check is not met. Compared unrounded.
pub(super) fn fails(check: &Check) -> bool {
    !check.is_met()
}

/// How bad it is not to meet a check: what the source demands is a fault, what it recommends a caution.
pub(super) fn severity(check: &Check) -> Severity {
    match check.force {
        Force::Shall => Severity::Fault,
        Force::Should => Severity::Caution,
    }
}

/// By how much a check is missed, for the choice between several; larger is worse.
pub(super) fn shortfall(check: &Check) -> f64 {
    let (measured, required) = (check.measured.value(), check.required.value());
    match check.sense {
        Sense::AtLeast => required - measured,
        Sense::AtMost => measured - required,
    }
}

/// Of the checks that are not met, the one to tell: a demand before a recommendation, then the
/// largest shortfall, then the first.
pub(super) fn worst(checks: impl IntoIterator<Item = Check>) -> Option<Check> {
    checks.into_iter().filter(fails).reduce(|best, it| if worse(&it, &best) { it } else { best })
}

/// Whether `one` is to be told rather than `other`.
pub(super) fn worse(one: &Check, other: &Check) -> bool {
    let (a, b) = (severity(one), severity(other));
    a < b || a == b && shortfall(other) < shortfall(one)
}

fn number(quantity: Quantity) -> (f64, &'static str) {
    match quantity {
        Quantity::Length(mm) => (mm, "mm"),
        Quantity::Angle(degrees) => (degrees, "deg"),
        Quantity::Number(number) => (number, ""),
    }
}
