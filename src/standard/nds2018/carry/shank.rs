//! The shank that bends: which diameter counts and how strong it is (12.3.7, Appendix I).

use super::working::{MPA_PER_PSI, given, inch, inches, line, none, psi};
use crate::standard::capacity::{Across, Bearing, Line, NoValue};
use crate::standard::nds2018::{Nds2018, nds};
use crate::stock::{FastenerKind, FastenerSpec};
use crate::unit::compare::{at_least, at_most};

/// Threads that bear over more than this part of the length in a member weaken the whole shank, 12.3.7.2.
const THREAD_PART: f64 = 0.25;
/// The greatest diameter of Table 12.3.1B, inches.
const GREATEST_IN: f64 = 1.0;

/// A shank as the yield equations see it, inches and psi.
#[derive(Clone, Copy, Debug)]
pub(super) struct Shank {
    /// Nominal: settles dowel bearing, spacing and load/slip.
    pub(super) nominal_in: f64,
    /// In the yield equations and for the reduction term.
    pub(super) bending_in: f64,
    /// Nominal diameter of 1/4 in or more.
    pub(super) is_large: bool,
    /// Bending yield strength.
    pub(super) yield_psi: f64,
}

/// The word for a kind in a sentence.
pub(super) fn word(kind: FastenerKind) -> &'static str {
    match kind {
        FastenerKind::Nail => "nail",
        FastenerKind::WoodScrew => "wood screw",
        FastenerKind::LagScrew => "lag screw",
        FastenerKind::Bolt => "bolt",
        FastenerKind::ThreadedRod => "threaded rod",
        FastenerKind::MasonryScrew => "masonry screw",
    }
}

/// Reads diameter and strength off the fastener.
pub(super) fn shank(rules: &Nds2018, asked: &Across<'_>, working: &mut Vec<Line>) -> Result<Shank, NoValue> {
    let spec = asked.driven.spec;
    if spec.kind == FastenerKind::MasonryScrew {
        return none(
            "NDS gives no values for screws in concrete or masonry: their maker does".into(),
            nds("12"),
        );
    }
    if !at_most(inches(spec.diameter_mm), GREATEST_IN) || spec.diameter_mm <= 0.0 {
        let because = format!(
            "NDS gives values up to a diameter of 1 in, and this is {:.3} in",
            inches(spec.diameter_mm)
        );
        return none(because, nds("Table 12.3.1B"));
    }
    let Some(yield_mpa) = spec.bending_yield_mpa else {
        let because = format!("the bending yield strength of this {} is not known", word(spec.kind));
        return none(because, nds("Table I1"));
    };
    let (bending_mm, why) = bending_diameter(spec, asked)?;
    let (nominal_in, bending_in) = (inches(spec.diameter_mm), inches(bending_mm));
    working.push(given(
        "D_nom",
        inch(nominal_in),
        nds("12.3.7"),
        "the nominal diameter; the bearing of wood goes by it",
    ));
    let formula = if bending_mm < spec.diameter_mm { "D_r" } else { "D_nom" };
    working.push(Line { because: why.to_owned(), ..line("D", formula, inch(bending_in), nds("12.3.7")) });
    let yield_psi = yield_mpa / MPA_PER_PSI;
    working.push(given(
        "F_yb",
        psi(yield_psi),
        nds("Table I1"),
        "bending yield strength, by kind and nominal diameter",
    ));
    Ok(Shank { nominal_in, bending_in, is_large: rules.is_large(&asked.driven), yield_psi })
}

/// The diameter that bends, in millimetres, and why it is that one.
fn bending_diameter(spec: &FastenerSpec, asked: &Across<'_>) -> Result<(f64, &'static str), NoValue> {
    let is_threaded = |it: &Bearing<'_>| !at_most(it.thread_mm, THREAD_PART * it.length_mm);
    let nominal = |why| Ok((spec.diameter_mm, why));
    let root = |why| {
        let known = spec.root_mm.filter(|it| 0.0 < *it && at_least(spec.diameter_mm, *it));
        known.map(|it| (it, why)).map_or_else(
            || none(format!("the root diameter of this {} is not known", word(spec.kind)), nds("12.3.7")),
            Ok,
        )
    };
    match spec.kind {
        FastenerKind::Nail => nominal("a nail bends at its shank"),
        FastenerKind::WoodScrew | FastenerKind::LagScrew => {
            root("the root of the thread: the shank may be rolled down to it")
        }
        FastenerKind::ThreadedRod => root("the root of the thread, which runs all along a rod"),
        FastenerKind::Bolt | FastenerKind::MasonryScrew => {
            let bodies = [Some(&asked.side), Some(&asked.main), asked.beyond.as_ref()];
            if bodies.into_iter().flatten().any(is_threaded) {
                root("the root of the thread: in one member it bears over more than a quarter of the length")
            } else {
                nominal("the full body: no member bears on thread over more than a quarter of its length")
            }
        }
    }
}
