//! The adjustments of chapter 11 in the order of Table 11.3.1, each with its reason.

use super::group::group;
use super::shank::word;
use super::working::{none, said};
use crate::joint::{Conditions, Duration, Heat, Service};
use crate::standard::capacity::{Across, Along, Bearing, Factor, Line, NoValue, Room};
use crate::standard::nds2018::{Nds2018, nds};
use crate::standard::{Driven, Source};
use crate::stock::FastenerKind;
use crate::unit::compare::at_least;

/// One factor.
pub(super) fn factor(
    key: &'static str,
    symbol: &'static str,
    value: f64,
    source: Source,
    because: &str,
) -> Factor {
    Factor { key, symbol, value, because: because.to_owned(), source }
}

/// Every factor of a load across the shank.
///
/// # Errors
/// Where a distance is below the least that is allowed.
pub(super) fn of_lateral(
    rules: &Nds2018,
    asked: &Across<'_>,
    working: &mut Vec<Line>,
    cautions: &mut Vec<String>,
) -> Result<Vec<Factor>, NoValue> {
    let is_large = rules.is_large(&asked.driven);
    let wet = asked.driven.service == Service::Wet;
    let bodies = [Some(&asked.side), Some(&asked.main), asked.beyond.as_ref()];
    let in_end_grain = bodies.into_iter().flatten().any(|it| it.end_grain && it.material.family.is_wood());
    Ok(vec![
        load_duration(rules, asked.duration),
        wet_lateral(rules, asked.conditions, is_large, wet),
        temperature(rules, asked.conditions.heat, wet, nds("Table 11.3.4")),
        group(rules, asked, working, cautions),
        geometry(is_large, &asked.rooms)?,
        end_grain(rules, in_end_grain),
        diaphragm(rules, asked),
        toe_nail(asked.toe.map(|_| rules.table.toe_nail_factor.lateral)),
    ])
}

/// Every factor of withdrawal.
pub(super) fn of_withdrawal(rules: &Nds2018, asked: &Along<'_>) -> Vec<Factor> {
    let wet = asked.driven.service == Service::Wet;
    let lag_in_end_grain = asked.holding.end_grain && asked.driven.spec.kind == FastenerKind::LagScrew;
    let left = if lag_in_end_grain { rules.table.end_grain.lag_withdrawal } else { 1.0 };
    let because = if lag_in_end_grain { "a lag screw in end grain" } else { "in side grain" };
    vec![
        load_duration(rules, asked.duration),
        wet_withdrawal(rules, asked, wet),
        temperature(rules, asked.conditions.heat, wet, nds("Table 11.3.4")),
        factor("end_grain", "C_eg", left, nds("12.2.1.3"), because),
        toe_nail(asked.toe.map(|_| rules.table.toe_nail_factor.withdrawal)),
    ]
}

/// Every factor of a head that is pulled through.
pub(super) fn of_pull_through(rules: &Nds2018, asked: &Along<'_>) -> Vec<Factor> {
    let wet = asked.driven.service == Service::Wet;
    let value = if wet { rules.table.wet_service.pull_through_wet } else { 1.0 };
    vec![
        load_duration(rules, asked.duration),
        factor("wet_service", "C_M", value, nds("Table 11.3.3"), damp(wet)),
        temperature(rules, asked.conditions.heat, wet, nds("Table 11.3.4")),
    ]
}

/// Every factor of wood that is crushed across the grain under a washer. Duration does not count (2.3.2).
pub(super) fn of_crushing(rules: &Nds2018, asked: &Along<'_>) -> Vec<Factor> {
    let wet = asked.driven.service == Service::Wet;
    let value = if wet { rules.table.wet_crushing.wet } else { 1.0 };
    vec![
        factor(
            "load_duration",
            "C_D",
            1.0,
            nds("Table 2.3.2"),
            "crushing across the grain does not go by duration",
        ),
        factor("wet_service", "C_M", value, nds("Supplement Table 4A"), damp(wet)),
        temperature(rules, asked.conditions.heat, wet, nds("Table 2.3.3")),
    ]
}

fn damp(wet: bool) -> &'static str {
    if wet { "wet in service" } else { "dry in service: at most 19 percent moisture" }
}

fn load_duration(rules: &Nds2018, duration: Duration) -> Factor {
    let by = &rules.table.load_duration;
    let (value, because) = match duration {
        Duration::Permanent => (by.permanent, "permanent load"),
        Duration::TenYears => (by.ten_years, "ten years of load: occupancy"),
        Duration::TwoMonths => (by.two_months, "two months of load: snow"),
        Duration::SevenDays => (by.seven_days, "seven days of load: construction"),
        Duration::TenMinutes => (by.ten_minutes, "ten minutes of load: wind or earthquake"),
        Duration::Impact => (by.impact, "a blow; connections count it as ten minutes"),
    };
    factor("load_duration", "C_D", value, nds("11.3.2"), because)
}

/// Table 11.3.3. One fastener alone, or one row along the grain, keeps 1.0 after drying by a footnote; whether
/// there are other rows is not known here, so it is not counted on.
fn wet_lateral(rules: &Nds2018, on: Conditions, is_large: bool, wet: bool) -> Factor {
    let by = &rules.table.wet_service;
    let (value, because) = match (wet, on.wet_when_made) {
        (true, _) => (by.lateral_wet, "wet in service"),
        (false, true) if is_large => (
            by.lateral_wet_then_dry,
            "put together wet, dries in service; one fastener or one row along the grain may count 1.0",
        ),
        (false, true) => {
            (by.lateral_wet_then_dry_thin, "put together wet, dries in service; thinner than 1/4 in")
        }
        (false, false) => (1.0, "dry when put together and in service: at most 19 percent moisture"),
    };
    factor("wet_service", "C_M", value, nds("Table 11.3.3"), because)
}

fn wet_withdrawal(rules: &Nds2018, asked: &Along<'_>, wet: bool) -> Factor {
    let by = &rules.table.wet_service;
    let is_nail = asked.driven.spec.kind == FastenerKind::Nail;
    let (value, because) = match (is_nail, wet, asked.conditions.wet_when_made) {
        (true, _, _) if asked.toe.is_some() => (1.0, "not counted on a toe-nail, 12.5.4.1"),
        (true, true, true) => (1.0, "a nail driven into wet wood that stays wet"),
        (true, true, false) => (by.nail_withdrawal_changing, "a nail in wood that gets wet"),
        (true, false, true) => (by.nail_withdrawal_changing, "a nail driven into wet wood that dries"),
        (false, true, _) => (by.screw_withdrawal_wet, "wet in service"),
        (_, false, _) => (1.0, damp(false)),
    };
    factor("wet_service", "C_M", value, nds("Table 11.3.3"), because)
}

fn temperature(rules: &Nds2018, heat: Heat, wet: bool, source: Source) -> Factor {
    let by = &rules.table.heat;
    let damp = usize::from(wet);
    let (value, because) = match heat {
        Heat::Ordinary => (1.0, "up to 100 F (38 C)"),
        Heat::Warm => (by.warm[damp], "sustained above 100 F, up to 125 F (52 C)"),
        Heat::Hot => (by.hot[damp], "sustained above 125 F, up to 150 F (66 C)"),
    };
    factor("temperature", "C_t", value, source, because)
}

/// The least of all distances as drawn over those of the full value: the smallest of any fastener in a group holds
/// for all of it, so that those of the others are among the rooms.
fn geometry(is_large: bool, rooms: &[Room]) -> Result<Factor, NoValue> {
    let source = nds("12.5.1");
    if !is_large {
        return Ok(factor(
            "geometry",
            "C_Delta",
            1.0,
            source,
            "thinner than 1/4 in: only no splitting is asked for",
        ));
    }
    let (mut least, mut because) = (1.0, "every distance is enough for the full value".to_owned());
    if rooms.is_empty() {
        "no distance is known".clone_into(&mut because);
    }
    for room in rooms {
        if !at_least(room.drawn_mm, room.least_mm) {
            let (drawn, allowed) = (said(room.drawn_mm), said(room.least_mm));
            let sentence = format!("the {} is {drawn}, and below {allowed} NDS gives no value", room.what);
            return none(sentence, room.source);
        }
        let ratio = room.drawn_mm / room.full_mm;
        if !at_least(room.drawn_mm, room.full_mm) && ratio < least {
            least = ratio;
            let (drawn, full) = (said(room.drawn_mm), said(room.full_mm));
            let of =
                room.of.as_ref().map_or(String::new(), |it| format!(", of {it}, the least of the group"));
            because = format!("{} {drawn} of {full} for the full value{of}", room.what);
        }
    }
    Ok(factor("geometry", "C_Delta", least, source, &because))
}

fn end_grain(rules: &Nds2018, in_end_grain: bool) -> Factor {
    let (value, because) =
        if in_end_grain { (rules.table.end_grain.sideways, "in end grain") } else { (1.0, "in side grain") };
    factor("end_grain", "C_eg", value, nds("12.5.2.2"), because)
}

fn diaphragm(rules: &Nds2018, asked: &Across<'_>) -> Factor {
    let kind = asked.driven.spec.kind;
    let (value, because) = match (asked.conditions.diaphragm, kind) {
        (true, FastenerKind::Nail) => (rules.table.diaphragm.factor, "a nail of a diaphragm".to_owned()),
        (true, _) => (1.0, format!("a diaphragm, but a {} and no nail", word(kind))),
        (false, _) => (1.0, "no part of a diaphragm".to_owned()),
    };
    factor("diaphragm", "C_di", value, nds("12.5.3"), &because)
}

fn toe_nail(left: Option<f64>) -> Factor {
    let because = if left.is_some() { "a toe-nail" } else { "no toe-nail" };
    factor("toe_nail", "C_tn", left.unwrap_or(1.0), nds("12.5.4"), because)
}

/// Whether the axis runs into the grain's end, where nails and wood screws keep nothing in withdrawal.
pub(super) fn barred_in_end_grain(driven: &Driven<'_>, holding: &Bearing<'_>) -> Result<(), NoValue> {
    let kind = driven.spec.kind;
    let source = match kind {
        FastenerKind::Nail => nds("12.2.3.3"),
        FastenerKind::WoodScrew => nds("12.2.2.3"),
        FastenerKind::LagScrew
        | FastenerKind::Bolt
        | FastenerKind::ThreadedRod
        | FastenerKind::MasonryScrew => {
            return Ok(());
        }
    };
    if !holding.end_grain {
        return Ok(());
    }
    none(format!("a {} in end grain must not be loaded in withdrawal", word(kind)), source)
}
