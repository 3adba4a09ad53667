//! A shank that is pulled out of the wood (12.2.1 to 12.2.3), and a head that is pulled through (12.2.5).

use super::factors::{barred_in_end_grain, of_pull_through, of_withdrawal};
use super::lateral::holds;
use super::shank::word;
use super::working::{given, inch, inches, line, none, per_inch, pound};
use crate::joint::Seat;
use crate::standard::capacity::{Along, Amount, Factor, Line, NoValue};
use crate::standard::nds2018::{Nds2018, nds};
use crate::stock::{FastenerKind, Material};
use std::f64::consts::PI;

/// One way in which a shank gives way along itself, pounds.
pub(super) struct Way {
    pub(super) name: &'static str,
    pub(super) reference: f64,
    pub(super) factors: Vec<Factor>,
    pub(super) working: Vec<Line>,
}

impl Way {
    /// The reference value with its factors.
    pub(super) fn adjusted(&self) -> f64 {
        self.factors.iter().map(|it| it.value).product::<f64>() * self.reference
    }
}

/// Withdrawal, and beside it the length that counts and the value per inch of it.
pub(super) struct Withdrawal {
    pub(super) way: Way,
    pub(super) length_in: f64,
    pub(super) per_inch: f64,
}

/// The specific gravity of a wood.
fn gravity(material: &Material) -> Result<f64, NoValue> {
    let known = material.specific_gravity.filter(|it| 0.0 < *it && it.is_finite());
    known.map_or_else(
        || none(format!("the specific gravity of {} is not known", material.label), nds("Table 12.3.3A")),
        Ok,
    )
}

/// Withdrawal of a nail, wood screw or lag screw from side grain; of a lag screw from end grain too.
///
/// # Errors
/// In end grain, for nails and wood screws; with too little bite or no thread in the wood; without gravity.
pub(super) fn withdrawal(rules: &Nds2018, asked: &Along<'_>) -> Result<Withdrawal, NoValue> {
    let (spec, holding) = (asked.driven.spec, &asked.holding);
    holds(rules, &asked.driven, holding)?;
    barred_in_end_grain(&asked.driven, holding)?;
    let gravity = gravity(holding.material)?;
    let diameter = inches(spec.diameter_mm);
    let (bite, thread, point) =
        (inches(holding.length_mm), inches(holding.thread_mm), inches(holding.point_mm).max(0.0));
    let (each, rule, source, length, why) = match spec.kind {
        FastenerKind::LagScrew => (
            1800.0 * gravity.powf(1.5) * diameter.powf(0.75),
            "1800 G^1.5 D^0.75",
            nds("12.2.1.1"),
            thread - point,
            "thread in the holding member, without the tapered tip",
        ),
        FastenerKind::WoodScrew => (
            2850.0 * gravity * gravity * diameter,
            "2850 G^2 D",
            nds("12.2.2.1"),
            thread,
            "thread in the holding member",
        ),
        FastenerKind::Nail | FastenerKind::Bolt | FastenerKind::ThreadedRod | FastenerKind::MasonryScrew => (
            1380.0 * gravity.powf(2.5) * diameter,
            "1380 G^2.5 D",
            nds("12.2.3.1"),
            bite,
            "length in the holding member, point included",
        ),
    };
    if length <= 0.0 || !length.is_finite() {
        let because = format!("no thread of this {} is in {}", word(spec.kind), holding.material.label);
        return none(because, source);
    }
    let value = each * length;
    let working = vec![
        given("G", Amount::Number(gravity), nds("Table 12.3.3A"), &holding.material.source),
        given("D", inch(diameter), source, "the nominal diameter"),
        line("W", rule, per_inch(each), source),
        given("p_w", inch(length), source, why),
        line("P_w", "W p_w", pound(value), source),
    ];
    let way = Way { name: "withdrawal", reference: value, factors: of_withdrawal(rules, asked), working };
    Ok(Withdrawal { way, length_in: length, per_inch: each })
}

/// The round head of a nail or wood screw pulled through the wood that it bears on; a washer is not counted.
///
/// An overdriven head leaves less wood: the net thickness counts.
///
/// # Errors
/// Without gravity, head or thickness.
pub(super) fn pull_through(rules: &Nds2018, asked: &Along<'_>) -> Result<Option<Way>, NoValue> {
    let Some(under) = asked.under_head.filter(|it| it.material.family.is_wood()) else { return Ok(None) };
    let source = nds("12.2.5");
    let gravity = gravity(under.material)?;
    let head = inches(asked.driven.spec.head_mm);
    let sunk_mm = match asked.driven.seat {
        Seat::Overdriven(mm) => mm.max(0.0),
        Seat::Flush | Seat::Proud(_) => 0.0,
    };
    let net = inches(under.length_mm - sunk_mm);
    if !head.is_finite() || !net.is_finite() || head <= 0.0 || net <= 0.0 {
        return none(format!("the head has no wood of {} under it", under.material.label), source);
    }
    let is_thin = net <= 2.5 * head;
    let (value, rule) = if is_thin {
        (690.0 * PI * head * gravity * gravity * net, "690 pi D_H G_s^2 t_ns")
    } else {
        (1725.0 * PI * head * head * gravity * gravity, "1725 pi D_H^2 G_s^2")
    };
    let because = if is_thin { "t_ns is at most 2.5 D_H" } else { "t_ns is above 2.5 D_H" };
    let working = vec![
        given("G_s", Amount::Number(gravity), nds("Table 12.3.3A"), &under.material.source),
        given("D_H", inch(head), source, "diameter of the head"),
        given("t_ns", inch(net), source, "net thickness of the wood under the head"),
        Line { because: because.to_owned(), ..line("W_H", rule, pound(value), source) },
    ];
    let factors = of_pull_through(rules, asked);
    Ok(Some(Way { name: "pull-through", reference: value, factors, working }))
}
