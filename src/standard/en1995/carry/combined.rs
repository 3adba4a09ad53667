//! Across and along at once, 8.3.3 and 8.7.3.

use crate::standard::Driven;
use crate::standard::capacity::{Amount, Combined, Demand};
use crate::standard::en1995::{En1995, ec5};
use crate::stock::FastenerKind;

use super::shank::{Kind, kind};
use super::working::Working;

/// Demand over capacity; with nothing asked for it is zero, even where there is nothing.
fn ratio(of: Demand) -> f64 {
    if of.demand_n.abs() <= 0.0 {
        0.0
    } else if 0.0 < of.adjusted_n {
        of.demand_n.abs() / of.adjusted_n
    } else {
        f64::INFINITY
    }
}

/// Smooth nails: the sum of the ratios (8.27). Others: the sum of their squares (8.28), here its root, which
/// is at most 1 where the sum is and grows with the load as the sum of 8.27 does. Bolts: nothing is printed,
/// and the sum of the ratios is the safe reading.
pub(super) fn both_ways(_rules: &En1995, driven: &Driven<'_>, across: Demand, along: Demand) -> Combined {
    let mut working = Working::default();
    let (sideways, pulled) = (ratio(across), ratio(along));
    let is_screw = matches!(driven.spec.kind, FastenerKind::WoodScrew | FastenerKind::LagScrew);
    let source = ec5(if is_screw { "8.7.3(1)" } else { "8.3.3(1)" });
    let inputs = [
        ("F_v,Ed", Amount::Force(across.demand_n)),
        ("F_v,Rd", Amount::Force(across.adjusted_n)),
        ("F_ax,Ed", Amount::Force(along.demand_n)),
        ("F_ax,Rd", Amount::Force(along.adjusted_n)),
    ];
    working.put(("i_v", "F_v,Ed / F_v,Rd"), &inputs, Amount::Number(sideways), source);
    working.put(("i_ax", "F_ax,Ed / F_ax,Rd"), &inputs, Amount::Number(pulled), source);
    let kind = kind(driven);
    let is_squared = matches!(kind, Ok(Kind::ThreadedNail | Kind::Screw));
    let (ratio, formula) = if is_squared {
        (sideways.hypot(pulled), "sqrt(i_ax^2 + i_v^2)")
    } else {
        (pulled + sideways, "i_ax + i_v")
    };
    working.put(("i", formula), &[], Amount::Number(ratio), source);
    working.because(match kind {
        Ok(Kind::SmoothNail) => "smooth nail, equation 8.27",
        Ok(Kind::ThreadedNail | Kind::Screw) => "the root of equation 8.28, so that it grows with the load",
        _ => "nothing is printed for it: the sum is the safe reading",
    });
    Combined { ratio, working: working.lines }
}
