//! The rope effect, 8.2.2(2): a quarter of what the shank bears along itself adds to the modes in which it
//! yields, up to a part of the Johansen part.

use crate::standard::capacity::{Across, Amount};
use crate::standard::en1995::{En1995, ec5};

use super::axial;
use super::shank::Kind;
use super::working::Working;

/// What may be added to a mode.
#[derive(Clone, Copy, Debug)]
pub(super) struct Rope {
    /// `F_ax,Rk / 4`, newtons; zero where it is not known.
    pub(super) quarter_n: f64,
    /// The most that adds, as a part of the Johansen part.
    pub(super) limit: f64,
}

/// The rope effect at one plane.
pub(super) fn of(
    rules: &En1995,
    (asked, gap_mm): (&Across<'_>, f64),
    kind: Kind,
    working: &mut Working,
) -> Rope {
    let (terms, source) = (&rules.table.carry.rope, ec5("8.2.2(2)"));
    let (limit, who) = match kind {
        Kind::SmoothNail => (terms.round_nail, "round nail"),
        Kind::ThreadedNail => (terms.other_nail, "nail that is not smooth"),
        Kind::Screw => (terms.screw, "screw"),
        Kind::Bolt => (terms.bolt, "bolt"),
    };
    let nothing = |working: &mut Working, why: &str| {
        working.put(("F_ax,Rk", ""), &[], Amount::Force(0.0), source);
        working.because(format!("no rope effect: {why}"));
        Rope { quarter_n: 0.0, limit }
    };
    if 0.0 < gap_mm {
        return nothing(working, "the members do not touch, so they do not rub");
    }
    let Some(along) = asked.along.as_deref() else {
        return nothing(working, "what the shank bears along itself is not known");
    };
    let pull = match axial::characteristic(rules, along) {
        Ok(pull) => pull,
        Err(why) => return nothing(working, &why.because),
    };
    if let Some(unknown) = pull.unknown {
        return nothing(working, unknown);
    }
    let newtons = pull.least_n() * pull.wet;
    working.append(&pull.working);
    working.put(("F_ax,Rk", "the least along the shank"), &[], Amount::Force(newtons), source);
    working.given(("k_rope", Amount::Number(limit)), source);
    working.because(format!("{who}: the rope effect adds at most this part"));
    Rope { quarter_n: newtons / 4.0, limit }
}
