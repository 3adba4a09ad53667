//! A load across the shank: penetration, yield modes, factors, and what is not counted.

use super::bearing::{MAIN, SIDE, angle, length, strength};
use super::factors::of_lateral;
use super::reduction::{Reduction, reduction};
use super::shank::{Shank, shank, word};
use super::working::{inches, line, newtons, none, pound, said};
use super::yields::{Plane, modes};
use crate::joint::Treatment;
use crate::standard::capacity::{Across, Amount, Bearing, Lateral, Line, Mode, NoValue};
use crate::standard::nds2018::{Nds2018, nds};
use crate::standard::{Driven, Source};
use crate::stock::{Family, FastenerKind};
use crate::unit::compare::at_least;

/// The modes of one plane and how they came about.
struct Solved {
    modes: Vec<(&'static str, f64)>,
    working: Vec<Line>,
}

impl Solved {
    /// The mode that gives least, in pounds.
    fn least(&self) -> (&'static str, f64) {
        self.modes.iter().copied().min_by(|a, b| a.1.total_cmp(&b.1)).unwrap_or(("", 0.0))
    }
}

/// What one shear plane carries across the shank: half of it in double shear.
///
/// Bodies of different thickness or stuff on both sides of a middle one: as if the weaker were on both
/// sides (12.3.8, from memory).
///
/// # Errors
/// Where a strength or a diameter is not known, the bite is below 6 D (4 D of a lag screw), a distance is
/// below the least that Tables 12.5.1A to 12.5.1E allow, or the bodies are none that chapter 12 speaks of.
pub(in crate::standard::nds2018) fn across(rules: &Nds2018, asked: &Across<'_>) -> Result<Lateral, NoValue> {
    let mut working = Vec::new();
    let shank = shank(rules, asked, &mut working)?;
    holds(rules, &asked.driven, asked.beyond.as_ref().unwrap_or(&asked.main))?;
    suits(&asked.driven, &asked.side)?;
    suits(&asked.driven, &asked.main)?;
    let by = reduction(shank, asked, &mut working);
    let first = solve(rules, asked, (&asked.side, asked.gap_mm[0]), (shank, by))?;
    let solved = match &asked.beyond {
        None => first,
        Some(beyond) => {
            let second = solve(rules, asked, (beyond, asked.gap_mm[1]), (shank, by))?;
            lesser(first, second)
        }
    };
    if solved.modes.iter().any(|it| !it.1.is_finite()) {
        return none("a measure is beyond all bounds".to_owned(), nds("12.3.1"));
    }
    let (mode, least) = solved.least();
    working.extend(solved.working);
    let because = if asked.beyond.is_some() {
        "the least of the modes, for one of the two planes"
    } else {
        "the least of the modes"
    };
    working.push(Line {
        because: format!("{because}: {mode}"),
        ..line("Z", "min", pound(least), nds("12.3.1"))
    });
    let mut cautions = cautions(rules, asked);
    let factors = of_lateral(rules, asked, &mut working, &mut cautions)?;
    let adjusted = factors.iter().map(|it| it.value).product::<f64>() * least;
    working.push(Line {
        with: factors.iter().map(|it| (it.symbol, Amount::Number(it.value))).collect(),
        ..line("Z'", "Z C_D C_M C_t C_g C_Delta C_eg C_di C_tn", pound(adjusted), nds("Table 11.3.1"))
    });
    let modes = solved.modes.iter().map(|it| Mode { name: it.0, newtons: newtons(it.1) }).collect();
    let (reference_n, adjusted_n) = (newtons(least), newtons(adjusted));
    Ok(Lateral { modes, mode, reference_n, factors, adjusted_n, working, cautions })
}

/// The modes between the main body and one side.
fn solve(
    rules: &Nds2018,
    asked: &Across<'_>,
    (side, gap_mm): (&Bearing<'_>, f64),
    (shank, by): (Shank, Reduction),
) -> Result<Solved, NoValue> {
    let mut working = Vec::new();
    let main_psi = strength(rules, shank, &asked.main, MAIN, &mut working)?;
    let side_psi = strength(rules, shank, side, SIDE, &mut working)?;
    let main_in = length(&asked.main, asked.toe, MAIN, &mut working)?;
    let side_in = length(side, asked.toe, SIDE, &mut working)?;
    let plane = Plane {
        side_in,
        main_in,
        side_psi,
        main_psi,
        gap_in: inches(gap_mm.max(0.0)),
        diameter_in: shank.bending_in,
        yield_psi: shank.yield_psi,
        is_double: asked.beyond.is_some(),
    };
    Ok(Solved { modes: modes(plane, by, &mut working), working })
}

/// Of the two sides of a middle member the one that gives less, with a line about the other.
fn lesser(first: Solved, second: Solved) -> Solved {
    let (of_first, of_second) = (first.least().1, second.least().1);
    let is_first = of_first <= of_second;
    let which = if is_first { "the side of the head" } else { "the side beyond the middle" };
    let (mut less, more) = if is_first { (first, of_second) } else { (second, of_first) };
    if 1e-9 * more < more - less.least().1 {
        less.working.push(Line {
            because: format!("the other side would give more; {which} governs, as if it were on both sides"),
            ..line("Z_other", "", pound(more), nds("12.3.8"))
        });
    }
    less
}

/// Whether the shank bites deep enough for any value. Bolts and rods go through.
pub(super) fn holds(rules: &Nds2018, driven: &Driven<'_>, last: &Bearing<'_>) -> Result<(), NoValue> {
    let least = &rules.table.penetration;
    let kind = driven.spec.kind;
    let (factor, bite_mm, source, tip): (f64, f64, Source, &str) = match kind {
        FastenerKind::LagScrew => {
            (least.lag_screw, last.length_mm - last.point_mm, nds("12.1.4.6"), "without the point")
        }
        FastenerKind::WoodScrew => (least.wood_screw, last.length_mm, nds("12.1.5.6"), "with the point"),
        FastenerKind::Nail => (least.nail, last.length_mm, nds("12.1.6.4"), "with the point"),
        FastenerKind::Bolt | FastenerKind::ThreadedRod | FastenerKind::MasonryScrew => return Ok(()),
    };
    if !last.material.family.is_wood() {
        let because = format!("a {} is held by wood, and this ends in {}", word(kind), last.material.label);
        return none(because, source);
    }
    let required_mm = factor * driven.spec.diameter_mm;
    if at_least(bite_mm, required_mm) {
        return Ok(());
    }
    let because = format!(
        "it bites {} in the {} {tip}, and below {factor} D = {} NDS gives no value",
        said(bite_mm.max(0.0)),
        last.name,
        said(required_mm)
    );
    none(because, source)
}

/// Whether chapter 12 speaks of this kind in this body.
fn suits(driven: &Driven<'_>, body: &Bearing<'_>) -> Result<(), NoValue> {
    let is_bolt = matches!(driven.spec.kind, FastenerKind::Bolt | FastenerKind::ThreadedRod);
    let is_mineral = matches!(body.material.family, Family::Concrete | Family::Masonry);
    if is_mineral && !is_bolt {
        let because =
            format!("NDS gives no values for a {} in {}", word(driven.spec.kind), body.material.label);
        return none(because, nds("12"));
    }
    Ok(())
}

const MEMBERS: &str = "Not counted: what the members carry at the connection: net section, row and group tear-out \
                       (NDS 3.1.2, Appendix E).";
const STEEL: &str = "Not counted: the steel itself, which is designed by its own standard (NDS 11.2.3).";
const MINERAL: &str =
    "Not counted: the anchorage in concrete or masonry, which is designed by its own standard.";
const ENGINEERED: &str =
    "The specific gravity of an engineered member is what its maker declares for fasteners in that face.";
const GAP: &str = "NDS takes members to touch; the gap is counted by AWC TR 12, and nothing bears in it.";
const ACROSS_GRAIN: &str = "Not counted: shear and splitting of a member that is loaded across its grain near \
                            an edge (NDS 3.4.3.3).";
/// Clause 11.3.5 of NDS in our words.
pub(super) const FIRE_RETARDANT: &str =
    "Not counted: what a fire retardant takes off, which whoever treats the wood declares (NDS 11.3.5).";

/// What to look at before a value across the shank is believed.
fn cautions(rules: &Nds2018, asked: &Across<'_>) -> Vec<String> {
    let bodies: Vec<&Bearing<'_>> =
        [Some(&asked.side), Some(&asked.main), asked.beyond.as_ref()].into_iter().flatten().collect();
    let any = |family| bodies.iter().any(|it| it.material.family == family);
    let is_turned = bodies.iter().any(|it| it.material.family.is_wood() && !it.end_grain && 0.0 < angle(it));
    let cases = [
        (true, MEMBERS),
        (any(Family::Steel), STEEL),
        (any(Family::Concrete) || any(Family::Masonry), MINERAL),
        (any(Family::Engineered), ENGINEERED),
        (asked.gap_mm.iter().any(|it| 0.0 < *it), GAP),
        (is_turned && rules.is_large(&asked.driven), ACROSS_GRAIN),
        (bodies.iter().any(|it| it.treatment == Treatment::FireRetardant), FIRE_RETARDANT),
    ];
    cases.into_iter().filter(|it| it.0).map(|it| it.1.to_owned()).collect()
}
