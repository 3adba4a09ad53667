//! A load across and along one shank at once (12.4).

use super::working::line;
use crate::standard::Driven;
use crate::standard::capacity::{Amount, Combined, Demand, Line};
use crate::standard::nds2018::{Nds2018, nds};
use crate::stock::FastenerKind;

/// Demand over what may act. Nothing against nothing is nothing.
fn ratio(it: Demand) -> f64 {
    if it.demand_n <= 0.0 {
        0.0
    } else if it.adjusted_n <= 0.0 {
        f64::INFINITY
    } else {
        it.demand_n / it.adjusted_n
    }
}

/// Demand over capacity of a shank that is loaded both ways.
///
/// Lag and wood screws by 12.4.1, the form of Hankinson's formula; nails by 12.4.2, the straight line. NDS
/// gives no formula for bolts and rods: the straight line is taken, which is on the safe side of the other.
/// By 12.4.1 a screw that is much stronger along than across may carry more at a slope than straight across.
pub(in crate::standard::nds2018) fn both_ways(
    _rules: &Nds2018,
    driven: &Driven<'_>,
    across: Demand,
    along: Demand,
) -> Combined {
    let (of_across, of_along) = (ratio(across), ratio(along));
    let (z, w) = (across.demand_n.max(0.0), along.demand_n.max(0.0));
    let load = z.hypot(w);
    let degrees = w.atan2(z).to_degrees();
    let is_screw = matches!(driven.spec.kind, FastenerKind::LagScrew | FastenerKind::WoodScrew);
    let (source, because) = match driven.spec.kind {
        FastenerKind::LagScrew | FastenerKind::WoodScrew => (nds("12.4.1"), "lag and wood screws"),
        FastenerKind::Nail => (nds("12.4.2"), "nails"),
        FastenerKind::Bolt | FastenerKind::ThreadedRod | FastenerKind::MasonryScrew => {
            (nds("12.4.2"), "NDS gives no formula for bolts; as for nails, which is the safe side")
        }
    };
    let formula = if is_screw {
        "W' Z' / (W' cos(alpha)^2 + Z' sin(alpha)^2)"
    } else {
        "W' Z' / (W' cos(alpha) + Z' sin(alpha))"
    };
    let found = if load <= 0.0 {
        0.0
    } else if is_screw {
        (z / load).mul_add(of_across, w / load * of_along)
    } else {
        of_across + of_along
    };
    // Where one load is absent its share is nothing, and not nothing times infinity.
    let found = if found.is_nan() { f64::INFINITY } else { found };
    let allowed = if 0.0 < found && found.is_finite() { load / found } else { 0.0 };
    let force = |symbol, formula, newtons| line(symbol, formula, Amount::Force(newtons), source);
    let working = vec![
        Line {
            with: vec![("V", Amount::Force(z)), ("T", Amount::Force(w))],
            ..force("R", "sqrt(V^2 + T^2)", load)
        },
        line("alpha", "atan(T / V)", Amount::Angle(degrees), source),
        Line {
            with: vec![("Z'", Amount::Force(across.adjusted_n)), ("W'", Amount::Force(along.adjusted_n))],
            because: because.to_owned(),
            ..force("Z'_alpha", formula, allowed)
        },
        line("ratio", "R / Z'_alpha", Amount::Number(found), source),
    ];
    Combined { ratio: found, working }
}
