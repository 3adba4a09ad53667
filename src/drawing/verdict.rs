//! What there is to say about a fastener in a few words, beside its core strip and on the sheet.

use super::{Inputs, Mood};
use crate::findings::{Finding, Kind};
use crate::unit::LengthUnit;
use crate::unit::length::{self, Rounding};

/// The worst finding about a fastener in a few plain words with its numbers; where there is none, its bite.
pub(super) fn verdict(inputs: &Inputs<'_>, which: usize) -> String {
    let Some(fastener) = inputs.joint.fasteners.get(which) else { return String::new() };
    let own = inputs.findings.list.iter().filter(|it| it.subjects.first() == Some(&fastener.id));
    verdict_of(inputs, which, own)
}

/// The same of a fastener whose own findings are known.
pub(super) fn verdict_of<'a>(
    inputs: &Inputs<'_>,
    which: usize,
    own: impl Iterator<Item = &'a Finding>,
) -> String {
    let Some(shank) = inputs.trace.fasteners.get(which) else { return String::new() };
    let unit = inputs.joint.show_lengths_in;
    let worst = own.min_by_key(|it| (it.severity, is_minor(it.kind)));
    let bite = shank.holding.map(|it| format!("bite {}", length::format(it.bite_mm, unit, Rounding::Down)));
    let bite = bite.unwrap_or_else(|| "no bite".to_owned());
    match worst {
        Some(finding) if Mood::from(Some(finding.severity)) != Mood::Quiet => {
            in_short(finding, unit).unwrap_or(bite)
        }
        _ => bite,
    }
}

/// Among findings of one severity these say less about the shank than the others.
fn is_minor(kind: Kind) -> bool {
    matches!(kind, Kind::Gap | Kind::Filling | Kind::Finish | Kind::LeadHole | Kind::Washer)
}

/// A finding in a few words. A yes or no has no number to show, and a diameter is shown finer than a length.
/// `None` for a short bite without its numbers, where the bite itself says more.
fn in_short(finding: &Finding, unit: LengthUnit) -> Option<String> {
    let numbers = Numbers::of(finding, unit);
    let plain = short_name(finding.kind);
    let Some(it) = numbers else {
        return (finding.kind != Kind::ShortBite).then_some(plain);
    };
    let (measured, needs) = (&it.measured, &it.needs);
    Some(match finding.kind {
        Kind::Gap => format!("gap of {measured} on the way"),
        Kind::Filling => format!("{measured} of filling on the way"),
        Kind::ShortBite => format!("bite {measured}{needs}"),
        Kind::ThinSide => format!("side member {measured}{needs}"),
        Kind::PointOut => format!("point out by {measured}"),
        Kind::BreaksOut => format!("breaks out: cover {measured}{needs}"),
        Kind::EndDistance => format!("{measured} from an end{needs}"),
        Kind::EdgeDistance => format!("{measured} from an edge{needs}"),
        Kind::Spacing => format!("{measured} from a neighbour{needs}"),
        Kind::Spread => format!("rows {measured} apart{needs}"),
        Kind::WrongDiameter => format!("shank {measured}, hole takes {}", it.required),
        Kind::WrongLength => format!("length {measured}{needs}"),
        // In a hole the angle is told off square to the steel.
        Kind::WrongAngle if 2 < finding.subjects.len() => {
            format!("{measured} off square, hole asks {}", it.required)
        }
        Kind::WrongAngle => format!("slope {measured}{needs}"),
        Kind::WrongStart => format!("starts at {measured}{needs}"),
        Kind::OversizeHole => format!("hole {measured} wide{needs}"),
        Kind::LeadHole if 0.0 < it.drawn => format!("lead hole {measured}{needs}"),
        Kind::LeadHole => "lead hole missing".to_owned(),
        Kind::HoleDepth if 0.0 < it.drawn => format!("hole {measured} deep{needs}"),
        Kind::HoleDepth => "hole not drilled".to_owned(),
        Kind::Overdriven => format!("overdriven by {measured}"),
        Kind::Proud => format!("head proud by {measured}"),
        Kind::Washer if 0.0 < it.drawn => format!("washer {measured}{needs}"),
        Kind::Washer => "washer missing".to_owned(),
        Kind::BoltShort => format!("{measured} for washer and nut{needs}"),
        Kind::InAir
        | Kind::Shiner
        | Kind::AlongFace
        | Kind::Clash
        | Kind::HeadSeat
        | Kind::EmptyHole
        | Kind::WrongKind
        | Kind::ThroughSteel
        | Kind::NutSeat
        | Kind::Overlap
        | Kind::Finish
        | Kind::EndGrain
        | Kind::Unsuitable
        | Kind::NoSuchHole
        | Kind::Overloaded
        | Kind::NoValue
        | Kind::BelowRating
        | Kind::NotCarried => plain,
    })
}

/// The two numbers of a finding in words.
struct Numbers {
    measured: String,
    required: String,
    /// `, needs 1 1/2"`, or `, at most 13 mm` where less is asked for.
    needs: String,
    /// The measured value itself.
    drawn: f64,
}

impl Numbers {
    fn of(finding: &Finding, unit: LengthUnit) -> Option<Self> {
        let (measured, required) = finding.measured.zip(finding.required)?;
        // Where less is asked for, rounding goes the other way, so that it never turns a fail into a pass.
        // Where nothing is asked for there is no pass, and it is a measure like any other.
        let is_limit = 0.0 < required && required < measured;
        let (down, up, asks) = if is_limit {
            (Rounding::Up, Rounding::Down, "at most")
        } else {
            (Rounding::Down, Rounding::Up, "needs")
        };
        let is_diameter = matches!(
            finding.kind,
            Kind::WrongDiameter | Kind::OversizeHole | Kind::LeadHole | Kind::BreaksOut
        );
        let shown = |value: f64, rounding| match finding.unit {
            "mm" if is_diameter => Some(length::format_diameter(value, unit)),
            "mm" => Some(length::format(value, unit, rounding)),
            "deg" => Some(crate::unit::angle::format(value, rounding)),
            _ => None,
        };
        let required = shown(required, up)?;
        Some(Self {
            measured: shown(measured, down)?,
            needs: format!(", {asks} {required}"),
            required,
            drawn: measured,
        })
    }
}

/// The title of a kind in the middle of a line.
pub(super) fn short_name(kind: Kind) -> String {
    let mut letters = kind.title().chars();
    letters.next().map_or_else(String::new, |it| it.to_lowercase().chain(letters).collect())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::findings::{Severity, Working};

    fn finding(kind: Kind, numbers: Option<(f64, f64)>, unit: &'static str) -> Finding {
        Finding {
            kind,
            severity: Severity::Fault,
            subjects: vec!["a".into()],
            says: String::new(),
            measured: numbers.map(|it| it.0),
            required: numbers.map(|it| it.1),
            unit,
            source: String::new(),
            working: Working::default(),
            remedy: None,
            at: None,
        }
    }

    #[test]
    fn each_kind_is_said_as_one_speaks() {
        let inch = [
            // 0.131 in and 0.148 in are the shanks of the 8d and the 10d common nail: ASTM F1667, from memory.
            (Kind::WrongDiameter, Some((3.3274, 3.7592)), "mm", "shank 0.131\", hole takes 0.148\""),
            (Kind::WrongKind, Some((0.0, 1.0)), "count", "wrong kind for the hole"),
            (Kind::Unsuitable, Some((0.0, 1.0)), "", "unsuitable fastener"),
            (Kind::Gap, Some((3.175, 0.0)), "mm", "gap of 1/8\" on the way"),
            (Kind::ShortBite, Some((19.05, 38.1)), "mm", "bite 3/4\", needs 1 1/2\""),
            (Kind::EdgeDistance, Some((9.525, 12.7)), "mm", "3/8\" from an edge, needs 1/2\""),
            (Kind::Overdriven, Some((1.5875, 0.0)), "mm", "overdriven by 1/16\""),
            (Kind::Proud, Some((3.0, 0.0)), "mm", "head proud by 1/16\""),
            (Kind::ThroughSteel, Some((1.5875, 0.0)), "mm", "through steel without a hole"),
            (Kind::AlongFace, Some((0.0, 2.0)), "mm", "runs along a face"),
            (Kind::HoleDepth, Some((0.0, 95.25)), "mm", "hole not drilled"),
            (Kind::Washer, Some((0.0, 1.0)), "", "washer"),
            (Kind::NoSuchHole, None, "", "no such hole"),
        ];
        for (kind, numbers, unit, said) in inch {
            let short = in_short(&finding(kind, numbers, unit), LengthUnit::Inch);
            assert_eq!(short.as_deref(), Some(said), "{kind:?}");
        }
        let millimetre = [
            (Kind::OversizeHole, (15.0, 13.0), "mm", "hole 15 mm wide, at most 13 mm"),
            (Kind::WrongAngle, (60.0, 50.0), "deg", "slope 60\u{b0}, at most 50\u{b0}"),
        ];
        for (kind, numbers, unit, said) in millimetre {
            let short = in_short(&finding(kind, Some(numbers), unit), LengthUnit::Millimetre);
            assert_eq!(short.as_deref(), Some(said), "{kind:?}");
        }
    }

    #[test]
    fn a_yes_or_no_is_never_printed_as_a_number() {
        for kind in Kind::ALL {
            for unit in ["count", ""] {
                let short = in_short(&finding(kind, Some((0.0, 1.0)), unit), LengthUnit::Inch);
                assert!(short.is_none_or(|it| !it.contains(char::is_numeric)), "{kind:?}");
            }
        }
    }
}
