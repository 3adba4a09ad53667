//! A working in text: every line with its formula, the values put in, the result and the clause.
//!
//! Numbers are in the units of the standard that worked them out, to five significant digits. One text
//! serves the window, the command line and the sheet.

use super::{AlongCarries, Carries, PlaneCarries, Shear};
use crate::findings::words;
use crate::standard::capacity::{Amount, Factor, Line, Mode, NoValue, Units};
use crate::unit::force::NEWTONS_PER_POUND;
use crate::unit::length::MM_PER_INCH;

/// Everything that led to the values of one fastener, a line each.
#[must_use]
pub fn lines(carries: &Carries, units: Units) -> Vec<String> {
    let mut out = Vec::new();
    for (number, plane) in carries.planes.iter().enumerate() {
        // Both planes of a shank in double shear have one working.
        if 0 < number && plane.shear == Shear::HalfOfDouble {
            out.push(format!("{}: as the first", title(number, carries.planes.len(), plane)));
            continue;
        }
        out.push(title(number, carries.planes.len(), plane));
        across(plane, units, &mut out);
    }
    if let Some(it) = &carries.along {
        out.push("Along the axis".to_owned());
        along(it, units, &mut out);
    }
    if let Some(combined) = &carries.combined {
        out.push("Demand over capacity".to_owned());
        out.extend(combined.working.iter().map(|it| indented(&line(it, units))));
    }
    out.extend(carries.cautions.iter().map(|it| format!("Caution: {it}")));
    out
}

/// The few lines that a finding needs: what fails at what, what is taken off, and what is asked.
#[must_use]
pub fn short(carries: &Carries, units: Units) -> Vec<String> {
    let mut out = Vec::new();
    let plane = carries.governing();
    let across = plane.and_then(|it| it.value.as_ref().ok());
    let pulled = carries.along.as_ref().filter(|it| it.demand_n.is_some_and(|it| 0.0 < it));
    let along = pulled.and_then(|it| it.value.as_ref().ok());
    let sides = [
        across.map(|it| (&it.modes, it.mode, it.reference_n, &it.factors, it.adjusted_n)),
        along.map(|it| (&it.modes, it.mode, it.reference_n, &it.factors, it.adjusted_n)),
    ];
    for (all, mode, reference_n, factors, adjusted_n) in sides.into_iter().flatten() {
        out.push(modes(all, mode, units));
        out.extend(factors.iter().filter(|it| 1e-12 < (it.value - 1.0).abs()).map(factor));
        out.push(format!("reference {}, adjusted {}", force(reference_n, units), force(adjusted_n, units)));
    }
    if let Some(demand) = plane.and_then(|it| it.demand_n) {
        out.push(format!("asked across {}", force(demand, units)));
    }
    if let Some(demand) = pulled.and_then(|it| it.demand_n) {
        out.push(format!("pulled along {}", force(demand, units)));
    }
    out.extend(carries.combined.iter().map(|it| format!("ratio {}", significant(it.ratio))));
    out
}

fn indented(text: &str) -> String {
    format!("  {text}")
}

fn title(number: usize, count: usize, plane: &PlaneCarries) -> String {
    let shear = match plane.shear {
        Shear::Single => "single shear",
        Shear::HalfOfDouble => "one of two planes in double shear",
        Shear::OneOf(_) => "one of many, the least for each",
    };
    format!("Shear plane {} of {count}, {} to {}, {shear}", number + 1, plane.side, plane.main)
}

fn across(plane: &PlaneCarries, units: Units, out: &mut Vec<String>) {
    match &plane.value {
        Err(why) => out.push(indented(&none(why))),
        Ok(it) => {
            let numbers = (it.mode, it.reference_n, it.adjusted_n);
            answer((&it.working, &it.factors, &it.modes), numbers, units, out);
        }
    }
    if let (Some(demand), Some(ratio)) = (plane.demand_n, plane.ratio) {
        out.push(indented(&format!("asked {}, ratio {}", force(demand, units), significant(ratio))));
    }
}

fn along(it: &AlongCarries, units: Units, out: &mut Vec<String>) {
    match &it.value {
        Err(why) => out.push(indented(&none(why))),
        Ok(it) => {
            let numbers = (it.mode, it.reference_n, it.adjusted_n);
            answer((&it.working, &it.factors, &it.modes), numbers, units, out);
        }
    }
    if let (Some(demand), Some(ratio)) = (it.demand_n, it.ratio) {
        out.push(indented(&format!("pulled {}, ratio {}", force(demand, units), significant(ratio))));
    }
}

/// What a standard answered, either way: working, factors and modes, then the one that governs with its values.
fn answer(
    (working, factors, all): (&[Line], &[Factor], &[Mode]),
    (governs, reference_n, adjusted_n): (&str, f64, f64),
    units: Units,
    out: &mut Vec<String>,
) {
    out.extend(working.iter().map(|it| indented(&line(it, units))));
    out.extend(factors.iter().map(|it| indented(&factor(it))));
    out.push(indented(&modes(all, governs, units)));
    let (reference, adjusted) = (force(reference_n, units), force(adjusted_n, units));
    out.push(indented(&format!("reference {reference}, adjusted {adjusted}")));
}

fn none(why: &NoValue) -> String {
    format!("no value: {} ({})", why.because, words::source(why.source))
}

fn modes(all: &[Mode], governs: &str, units: Units) -> String {
    let each: Vec<String> =
        all.iter().map(|it| format!("{} {}", it.name, force(it.newtons, units))).collect();
    format!("modes: {}; {governs} governs", each.join(", "))
}

fn factor(it: &Factor) -> String {
    format!("{} = {}: {} ({})", it.symbol, significant(it.value), it.because, words::source(it.source))
}

/// One line: `Z_IIIs = formula [R_d = 3.2] = 97.2 lb (NDS 2018 Table 12.3.1A; why)`.
#[must_use]
pub fn line(it: &Line, units: Units) -> String {
    let mut text = it.symbol.to_owned();
    if !it.formula.is_empty() {
        text += &format!(" = {}", it.formula);
    }
    if !it.with.is_empty() {
        let with: Vec<String> =
            it.with.iter().map(|(symbol, value)| format!("{symbol} = {}", amount(*value, units))).collect();
        text += &format!(" [{}]", with.join(", "));
    }
    text += &format!(" = {} ({}", amount(it.value, units), words::source(it.source));
    if !it.because.is_empty() {
        text += &format!("; {}", it.because);
    }
    text + ")"
}

/// A value with its unit.
#[must_use]
pub fn amount(value: Amount, units: Units) -> String {
    let (number, name) = match (value, units) {
        (Amount::Number(it), _) => return significant(it),
        (Amount::Angle(it), _) => (it, "deg"),
        (Amount::Density(it), _) => (it, "kg/m3"),
        (Amount::Length(it), Units::MillimetreNewton) => (it, "mm"),
        (Amount::Length(it), Units::InchPound) => (it / MM_PER_INCH, "in"),
        (Amount::Area(it), Units::MillimetreNewton) => (it, "mm2"),
        (Amount::Area(it), Units::InchPound) => (it / (MM_PER_INCH * MM_PER_INCH), "sq in"),
        (Amount::Force(it), _) => return force(it, units),
        (Amount::Stress(it), Units::MillimetreNewton) => (it, "N/mm2"),
        (Amount::Stress(it), Units::InchPound) => (it * MM_PER_INCH * MM_PER_INCH / NEWTONS_PER_POUND, "psi"),
        (Amount::Moment(it), Units::MillimetreNewton) => (it, "N mm"),
        (Amount::Moment(it), Units::InchPound) => (it / (NEWTONS_PER_POUND * MM_PER_INCH), "in-lb"),
        (Amount::ForcePerLength(it), Units::MillimetreNewton) => (it, "N/mm"),
        (Amount::ForcePerLength(it), Units::InchPound) => (it * MM_PER_INCH / NEWTONS_PER_POUND, "lb/in"),
    };
    format!("{} {name}", significant(number))
}

/// A force in the unit of the standard.
#[must_use]
pub fn force(newtons: f64, units: Units) -> String {
    match units {
        Units::MillimetreNewton => format!("{} N", significant(newtons)),
        Units::InchPound => format!("{} lb", significant(newtons / NEWTONS_PER_POUND)),
    }
}

/// Five significant digits, without needless zeros.
#[must_use]
pub fn significant(value: f64) -> String {
    if !value.is_finite() {
        return if value.is_nan() { "not a number".to_owned() } else { "beyond all bounds".to_owned() };
    }
    if value == 0.0 {
        return "0".to_owned();
    }
    let magnitude = value.abs().log10().floor();
    if !(-6.0..15.0).contains(&magnitude) {
        return format!("{value:.4e}");
    }
    #[expect(clippy::cast_possible_truncation, reason = "between -6 and 15")]
    #[expect(clippy::cast_sign_loss, reason = "never below zero")]
    let places = (4.0 - magnitude).max(0.0) as usize;
    let text = format!("{value:.places$}");
    if text.contains('.') { text.trim_end_matches('0').trim_end_matches('.').to_owned() } else { text }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::standard::Source;

    #[test]
    fn numbers_are_told_to_five_digits_in_the_units_of_the_standard() {
        assert_eq!(significant(97.166_666), "97.167");
        assert_eq!(significant(0.000_123_456), "0.00012346");
        assert_eq!(significant(4675.0), "4675");
        assert_eq!(significant(-0.5), "-0.5");
        assert_eq!(significant(f64::INFINITY), "beyond all bounds");
        // 1 lb = 4.4482216152605 N and 1 in = 25.4 mm, exactly.
        assert_eq!(amount(Amount::Force(444.822_161_526_05), Units::InchPound), "100 lb");
        assert_eq!(amount(Amount::Stress(6.894_757_293_168_361), Units::InchPound), "1000 psi");
        assert_eq!(amount(Amount::Length(38.1), Units::InchPound), "1.5 in");
        assert_eq!(amount(Amount::Length(38.1), Units::MillimetreNewton), "38.1 mm");
    }

    #[test]
    fn a_line_has_formula_inputs_value_and_clause() {
        let written = line(
            &Line {
                symbol: "Z_Im",
                formula: "D l_m F_em / R_d",
                with: vec![("R_d", Amount::Number(4.0))],
                value: Amount::Force(444.822_161_526_05),
                source: Source::Clause { document: "NDS 2018", clause: "Table 12.3.1A" },
                because: "the wood crushes".to_owned(),
            },
            Units::InchPound,
        );
        assert_eq!(
            written,
            "Z_Im = D l_m F_em / R_d [R_d = 4] = 100 lb (NDS 2018 Table 12.3.1A; the wood crushes)"
        );
    }
}
