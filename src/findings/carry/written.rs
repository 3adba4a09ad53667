//! A working in text: every line with its formula, the values put in, the result and the clause.
//!
//! Numbers are in the units of the standard that worked them out, to five significant digits. One text
//! serves the window, the command line and the sheet.

use super::{AlongCarries, Carries, Carrying, Connection, PlaneCarries, Shear, Splits};
use crate::findings::words;
use crate::joint::Joint;
pub use crate::standard::capacity::Units;
use crate::standard::capacity::{Amount, Factor, Line, Mode, NoValue};
use crate::unit::force::NEWTONS_PER_POUND;
use crate::unit::length::MM_PER_INCH;

/// One row of a working, as it is laid out on a screen, on a sheet or in a line of text.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Row {
    /// What the rows below it are of.
    Title(String),
    /// A value, and how it comes about.
    Step(Step),
    /// An adjustment with its reason.
    Factor(Step),
    /// What follows: the modes, the value in all, what is asked.
    Result(String),
    /// Why there is no value.
    NoValue(String),
    /// What to look at before a value is believed.
    Caution(String),
}

/// A value with all that led to it, each part as text.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Step {
    /// What is worked out: `Z_IIIs`.
    pub symbol: String,
    /// The formula in symbols; empty for a value that is given.
    pub formula: String,
    /// The values put into it with their units: `R_d = 3.2, D = 0.162 in`; empty where it needs none.
    pub with: String,
    /// The value with its unit.
    pub value: String,
    /// Where the formula or the number is written.
    pub source: String,
    /// Why it is so; empty where the formula says it all.
    pub because: String,
}

/// The units that the standard of a joint writes its formulas in.
#[must_use]
pub fn units(joint: &Joint) -> Units {
    crate::standard::by_id(joint.standard).works_in()
}

/// Everything that led to the values of one fastener, row by row.
#[must_use]
pub fn rows(carries: &Carries, joint: &Joint) -> Vec<Row> {
    let units = units(joint);
    let mut out = Vec::new();
    for (number, plane) in carries.planes.iter().enumerate() {
        // Both planes of a shank in double shear have one working.
        if 0 < number && plane.shear == Shear::HalfOfDouble {
            out.push(Row::Title(format!(
                "{}: as the first",
                title(number, carries.planes.len(), plane, joint)
            )));
            continue;
        }
        out.push(Row::Title(title(number, carries.planes.len(), plane, joint)));
        across(plane, units, &mut out);
    }
    if let Some(it) = &carries.along {
        out.push(Row::Title("Along the axis".to_owned()));
        along(it, units, &mut out);
    }
    if let Some(combined) = &carries.combined {
        out.push(Row::Title("Demand over capacity".to_owned()));
        steps(&combined.working, units, &mut out);
    }
    out.extend(carries.cautions.iter().cloned().map(Row::Caution));
    out
}

/// What a connection carries in all: what each of its fasteners adds to it, the sum, and what is not in it.
#[must_use]
pub fn sum_rows(carrying: &Carrying, connection: &Connection, joint: &Joint) -> Vec<Row> {
    let units = units(joint);
    let [a, b] = &connection.between;
    let mut out = vec![Row::Title(format!("{} to {}, in all", joint.name_of(a), joint.name_of(b)))];
    let of_it = carrying.fasteners.iter().enumerate().filter(|it| connection.fasteners.contains(&it.1.id));
    let planes = of_it.flat_map(|(n, it)| it.planes.iter().map(move |plane| (n + 1, it, plane)));
    for (number, it, plane) in planes {
        let is_here = (&plane.side, &plane.main) == (a, b) || (&plane.side, &plane.main) == (b, a);
        let (Ok(value), true) = (&plane.value, is_here) else { continue };
        let because = match plane.shear {
            Shear::Single => "",
            Shear::HalfOfDouble => "one of two planes in double shear",
            Shear::OneOf(_) => "one of many, the least for each",
        };
        out.push(Row::Step(Step {
            symbol: format!("No. {number}, {}", it.id),
            formula: String::new(),
            with: String::new(),
            value: force(value.adjusted_n, units),
            source: format!("mode {}", value.mode),
            because: because.to_owned(),
        }));
    }
    let (mut sum, kind): (_, fn(String) -> Row) = match connection.has_value() {
        true => (format!("sum {}", force(connection.adjusted_n, units)), Row::Result),
        false => ("no value: none of its fasteners has one".to_owned(), Row::NoValue),
    };
    if let Some((demand, Some(ratio))) = connection.asked_across() {
        sum += &format!("; asked {}, ratio {}", force(demand, units), significant(ratio));
    }
    if let Some(pull) = connection.pulled() {
        sum += &format!("; pulled by {}", force(pull, units));
    }
    if let Some(worst) = connection.worst_ratio {
        sum += &format!("; worst fastener {}", significant(worst));
    }
    out.push(kind(sum));
    out.extend(connection.not_counted.iter().map(|it| Row::Caution(format!("Not counted: {it}"))));
    out
}

/// The same as [`rows`], a line of text each.
#[must_use]
pub fn lines(carries: &Carries, joint: &Joint) -> Vec<String> {
    rows(carries, joint).iter().map(Row::text).collect()
}

impl Row {
    /// The row as one line of text; what stands under a title is set in.
    #[must_use]
    pub fn text(&self) -> String {
        match self {
            Self::Title(it) => it.clone(),
            Self::Step(it) => indented(&it.text()),
            Self::Factor(it) => {
                indented(&format!("{} = {}: {} ({})", it.symbol, it.value, it.because, it.source))
            }
            Self::Result(it) | Self::NoValue(it) => indented(it),
            Self::Caution(it) => format!("Caution: {it}"),
        }
    }
}

impl Step {
    fn of(it: &Line, with: &[(&'static str, Amount)], units: Units) -> Self {
        let with: Vec<String> =
            with.iter().map(|(symbol, value)| format!("{symbol} = {}", amount(*value, units))).collect();
        let source = words::source(it.source);
        // A number of stock may be told with the table that is its clause already.
        let because = it.because.strip_prefix(&source).map(|it| it.trim_start_matches([';', ' ']));
        Self {
            symbol: it.symbol.to_owned(),
            formula: it.formula.to_owned(),
            with: with.join(", "),
            value: amount(it.value, units),
            because: because.unwrap_or(&it.because).to_owned(),
            source,
        }
    }

    /// `Z_IIIs = formula [R_d = 3.2] = 97.2 lb (NDS 2018 Table 12.3.1A; why)`.
    #[must_use]
    pub fn text(&self) -> String {
        let mut text = self.symbol.clone();
        if !self.formula.is_empty() {
            text += &format!(" = {}", self.formula);
        }
        if !self.with.is_empty() {
            text += &format!(" [{}]", self.with);
        }
        text += &format!(" = {} ({}", self.value, self.source);
        if !self.because.is_empty() {
            text += &format!("; {}", self.because);
        }
        text + ")"
    }
}

/// Lines of one working as rows, each with every value that its formula names, also where a line before it
/// gave that value.
fn steps(working: &[Line], units: Units, out: &mut Vec<Row>) {
    let mut known: Vec<(&'static str, Amount)> = Vec::new();
    for it in working {
        out.push(Row::Step(Step::of(it, &put_in(it, &known), units)));
        known.retain(|known| known.0 != it.symbol);
        known.push((it.symbol, it.value));
        for (symbol, value) in &it.with {
            if !known.iter().any(|known| known.0 == *symbol) {
                known.push((symbol, *value));
            }
        }
    }
}

/// The values that a formula names, in the order in which it names them, then those that it was given besides.
fn put_in(it: &Line, known: &[(&'static str, Amount)]) -> Vec<(&'static str, Amount)> {
    let mut found: Vec<(&'static str, Amount)> = Vec::new();
    // A formula in words names nothing: "the least of the modes".
    let formula = if it.formula.starts_with("the ") { "" } else { it.formula };
    let all =
        || it.with.iter().chain(known.iter().filter(|known| it.with.iter().all(|own| own.0 != known.0)));
    let mut before = ' ';
    let mut rest = formula;
    while let Some(first) = rest.chars().next() {
        let begins = !is_of_symbol(before);
        let here = all().filter(|it| begins && stands_first(rest, it.0)).max_by_key(|it| it.0.len());
        let taken = here.map_or(first.len_utf8(), |it| it.0.len());
        if let Some(named) = here.filter(|named| found.iter().all(|it| it.0 != named.0)) {
            found.push(*named);
        }
        before = rest[..taken].chars().next_back().unwrap_or(' ');
        rest = &rest[taken..];
    }
    for own in &it.with {
        if found.iter().all(|it| it.0 != own.0) {
            found.push(*own);
        }
    }
    found
}

fn is_of_symbol(letter: char) -> bool {
    letter.is_alphanumeric() || letter == '_' || letter == '\''
}

/// Whether the formula goes on with just this symbol: `f_h` does not stand first in `f_h,1 d`.
fn stands_first(formula: &str, symbol: &str) -> bool {
    let Some(rest) = formula.strip_prefix(symbol) else { return false };
    let mut next = rest.chars();
    match next.next() {
        Some(',') => !next.next().is_some_and(is_of_symbol),
        Some(letter) => !is_of_symbol(letter),
        None => true,
    }
}

/// How a member that is pushed across its grain came to its value.
#[must_use]
pub fn split_rows(it: &Splits, joint: &Joint) -> Vec<Row> {
    let units = units(joint);
    let mut out = vec![Row::Title(format!("Splitting of {} along its grain", joint.name_of(&it.member)))];
    match &it.value {
        Err(why) => out.push(Row::NoValue(none(why))),
        Ok(value) => steps(&value.working, units, &mut out),
    }
    let ratio = it.ratio.map_or_else(String::new, |it| format!(", ratio at most {}", significant(it)));
    out.push(Row::Result(format!("sheared by at most {}{ratio}", force(it.demand_n, units))));
    out
}

/// The same as lines of text, without the title.
pub(super) fn short_split(it: &Splits, joint: &Joint) -> Vec<String> {
    split_rows(it, joint).iter().skip(1).map(|it| it.text().trim_start().to_owned()).collect()
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

fn title(number: usize, count: usize, plane: &PlaneCarries, joint: &Joint) -> String {
    let shear = match plane.shear {
        Shear::Single => "single shear",
        Shear::HalfOfDouble => "one of two planes in double shear",
        Shear::OneOf(_) => "one of many, the least for each",
    };
    let [side, main] = [&plane.side, &plane.main].map(|it| joint.name_of(it));
    format!("Shear plane {} of {count}, {side} to {main}, {shear}", number + 1)
}

fn across(plane: &PlaneCarries, units: Units, out: &mut Vec<Row>) {
    match &plane.value {
        Err(why) => out.push(Row::NoValue(none(why))),
        Ok(it) => {
            let numbers = (it.mode, it.reference_n, it.adjusted_n);
            answer((&it.working, &it.factors, &it.modes), numbers, units, out);
        }
    }
    if let (Some(demand), Some(ratio)) = (plane.demand_n, plane.ratio) {
        out.push(Row::Result(format!("asked {}, ratio {}", force(demand, units), significant(ratio))));
    }
}

fn along(it: &AlongCarries, units: Units, out: &mut Vec<Row>) {
    match &it.value {
        Err(why) => out.push(Row::NoValue(none(why))),
        Ok(it) => {
            let numbers = (it.mode, it.reference_n, it.adjusted_n);
            answer((&it.working, &it.factors, &it.modes), numbers, units, out);
        }
    }
    if let (Some(demand), Some(ratio)) = (it.demand_n.filter(|it| 0.0 < *it), it.ratio) {
        out.push(Row::Result(format!("pulled {}, ratio {}", force(demand, units), significant(ratio))));
    }
}

/// What a standard answered, either way: working, factors and modes, then the one that governs with its values.
fn answer(
    (working, factors, all): (&[Line], &[Factor], &[Mode]),
    (governs, reference_n, adjusted_n): (&str, f64, f64),
    units: Units,
    out: &mut Vec<Row>,
) {
    steps(working, units, out);
    out.extend(factors.iter().map(|it| {
        Row::Factor(Step {
            symbol: it.symbol.to_owned(),
            formula: String::new(),
            with: String::new(),
            value: significant(it.value),
            source: words::source(it.source),
            because: it.because.clone(),
        })
    }));
    out.push(Row::Result(modes(all, governs, units)));
    let (reference, adjusted) = (force(reference_n, units), force(adjusted_n, units));
    out.push(Row::Result(format!("reference {reference}, adjusted {adjusted}")));
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
    Step::of(it, &it.with, units).text()
}

/// Puts the number of a fastener to those of which the same is told, in the order in which it was told first.
pub fn note<'a>(told: &mut Vec<(&'a str, Vec<usize>)>, says: &'a str, number: usize) {
    match told.iter_mut().find(|it| it.0 == says) {
        // A shank with two planes is told once.
        Some((_, numbers)) if numbers.last() == Some(&number) => {}
        Some((_, numbers)) => numbers.push(number),
        None => told.push((says, vec![number])),
    }
}

/// Numbers in order by their runs: `1 to 4, 7`.
#[must_use]
pub fn runs(numbers: &[usize]) -> String {
    let mut parts: Vec<(usize, usize)> = Vec::new();
    for it in numbers {
        match parts.last_mut() {
            Some(last) if last.1 + 1 == *it => last.1 = *it,
            _ => parts.push((*it, *it)),
        }
    }
    let words: Vec<String> = parts
        .iter()
        .map(|(from, to)| match to - from {
            0 => from.to_string(),
            1 => format!("{from}, {to}"),
            _ => format!("{from} to {to}"),
        })
        .collect();
    words.join(", ")
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

    #[test]
    fn numbers_in_a_row_are_told_by_their_ends() {
        assert_eq!(runs(&[3]), "3");
        assert_eq!(runs(&[1, 2]), "1, 2");
        assert_eq!(runs(&[1, 2, 3, 4, 7]), "1 to 4, 7");
        assert_eq!(runs(&[]), "");
    }

    fn step(symbol: &'static str, formula: &'static str, value: f64) -> Line {
        let source = Source::CommonPractice;
        let value = Amount::Number(value);
        Line { symbol, formula, with: Vec::new(), value, source, because: String::new() }
    }

    #[test]
    fn a_formula_is_told_with_every_value_that_it_names() {
        let known = Line { because: "common practice; a table".to_owned(), ..step("G", "", 0.5) };
        assert_eq!(line(&known, Units::InchPound), "G = 0.5 (common practice; a table)");
        let given = |it| Line { with: vec![("R_d", Amount::Number(4.0))], ..it };
        let working = [
            step("D", "", 2.0),
            step("f_h,1,k", "", 5.0),
            step("f_h", "", 7.0),
            given(step("Z", "2 D f_h,1,k / R_d", 5.0)),
            step("Z'", "Z C_D + D'", 5.0),
            step("F", "the least of D", 5.0),
        ];
        let mut rows = Vec::new();
        steps(&working, Units::InchPound, &mut rows);
        let with: Vec<&str> = rows
            .iter()
            .map(|it| match it {
                Row::Step(it) => it.with.as_str(),
                Row::Title(_) | Row::Factor(_) | Row::Result(_) | Row::NoValue(_) | Row::Caution(_) => "",
            })
            .collect();
        assert_eq!(with, ["", "", "", "D = 2, f_h,1,k = 5, R_d = 4", "Z = 5", ""]);
    }
}
