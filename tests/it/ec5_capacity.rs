//! What a fastener carries by EN 1995-1-1, against published numbers and its clauses: a row of
//! `tests/published/ec5_*.csv` for each.
//!
//! `step` names what the number is: `mode:8.6 (d)`, `line:f_h,1,k`, `factor:k_mod`, `reference` or `ratio`. Where
//! `value` is `none` the standard must give no value, by that clause. A number whose source is the standard
//! itself was worked out from the formula apart from the program.

use std::collections::BTreeSet;
use std::path::Path;

use shankline::joint::StandardId;
use shankline::standard::capacity::{Amount, Axial, Demand, Lateral, Line, NoValue, Splitting};
use shankline::standard::{Source, by_id};

use crate::ec5_scene::Scene;
use crate::published::{self, Row, root};

const COLUMNS: [&str; 9] =
    ["source", "provenance", "method", "clause", "inputs", "step", "value", "unit", "tolerance"];
const FILES: [&str; 4] = ["ec5_lateral", "ec5_factors", "ec5_axial", "ec5_none"];

fn rows() -> Vec<Row> {
    published::rows(&FILES, &COLUMNS)
}

fn clause(source: Source) -> String {
    match source {
        Source::Clause { document, clause } => format!("{document} {clause}"),
        Source::CommonPractice => "common practice".to_owned(),
    }
}

pub(crate) fn bare(amount: Amount) -> f64 {
    match amount {
        Amount::Length(it)
        | Amount::Area(it)
        | Amount::Angle(it)
        | Amount::Number(it)
        | Amount::Force(it)
        | Amount::Stress(it)
        | Amount::Moment(it)
        | Amount::ForcePerLength(it)
        | Amount::Density(it) => it,
    }
}

/// The unit of an amount as the rows write it.
fn unit(amount: Amount) -> &'static str {
    match amount {
        Amount::Length(_) => "mm",
        Amount::Area(_) => "mm2",
        Amount::Angle(_) => "deg",
        Amount::Number(_) => "-",
        Amount::Force(_) => "N",
        Amount::Stress(_) => "N/mm2",
        Amount::Moment(_) => "Nmm",
        Amount::ForcePerLength(_) => "N/mm",
        Amount::Density(_) => "kg/m3",
    }
}

/// An answer of either kind.
enum Answer {
    Across(Box<Lateral>),
    Along(Box<Axial>),
    Splits(Box<Splitting>),
}

impl Answer {
    fn working(&self) -> &[Line] {
        match self {
            Self::Across(it) => &it.working,
            Self::Along(it) => &it.working,
            Self::Splits(it) => &it.working,
        }
    }

    /// The number that a step names, with its unit and the clause it is told with.
    fn step(&self, step: &str) -> Option<(f64, &'static str, Vec<String>)> {
        let (modes, factors, reference_n) = match self {
            Self::Across(it) => (it.modes.as_slice(), &it.factors, it.reference_n),
            Self::Along(it) => (it.modes.as_slice(), &it.factors, it.reference_n),
            Self::Splits(it) => ([].as_slice(), &it.factors, it.reference_n),
        };
        let told = |wanted: &dyn Fn(&&Line) -> bool| {
            self.working().iter().filter(wanted).map(|it| clause(it.source)).collect::<Vec<_>>()
        };
        if let Some(name) = step.strip_prefix("mode:") {
            let mode = modes.iter().find(|it| it.name == name)?;
            let value = mode.newtons;
            return Some((value, "N", told(&|it| bare(it.value) == value || it.because.ends_with(name))));
        }
        if let Some(key) = step.strip_prefix("factor:") {
            let factor = factors.iter().find(|it| it.key == key)?;
            return Some((factor.value, "-", vec![clause(factor.source)]));
        }
        if let Some(symbol) = step.strip_prefix("line:") {
            let line = self.working().iter().rfind(|it| it.symbol == symbol)?;
            return Some((bare(line.value), unit(line.value), vec![clause(line.source)]));
        }
        (step == "reference").then(|| (reference_n, "N", told(&|_| true)))
    }
}

fn answer(row: &Row) -> Result<Answer, NoValue> {
    let scene = Scene::read(row.get("inputs"));
    let standard = by_id(StandardId::En199511);
    match row.get("method") {
        "across" | "none" => scene.across(|it| standard.across(it)).map(|it| Answer::Across(Box::new(it))),
        "along" | "none-along" => scene.along(|it| standard.along(it)).map(|it| Answer::Along(Box::new(it))),
        "splits" | "none-splits" => {
            let asked = scene.split(|it| standard.splitting(it));
            asked.expect("EN 1995-1-1 has a formula").map(|it| Answer::Splits(Box::new(it)))
        }
        other => panic!("{}: no method {other}", row.place),
    }
}

/// The number of a row, its unit, and the clauses that it is told with.
fn got(row: &Row) -> Result<(f64, &'static str, Vec<String>), String> {
    if row.get("method") == "both" {
        let scene = Scene::read(row.get("inputs"));
        let of = |asked, there| Demand { demand_n: scene.number(asked), adjusted_n: scene.number(there) };
        let (sideways, pulled) = (of("Fv", "Rv"), of("Fax", "Rax"));
        let standard = by_id(StandardId::En199511);
        let combined = scene.driven(|it| standard.both_ways(it, sideways, pulled));
        let clauses = combined.working.iter().map(|it| clause(it.source)).collect();
        return Ok((combined.ratio, "-", clauses));
    }
    let answer = answer(row).map_err(|why| format!("{}: no value: {}", row.place, why.because))?;
    answer.step(row.get("step")).ok_or_else(|| {
        let lines: Vec<&str> = answer.working().iter().map(|it| it.symbol).collect();
        format!("{}: no {} among {lines:?}", row.place, row.get("step"))
    })
}

/// What is wrong with the answer to a row.
fn fault(row: &Row) -> Option<String> {
    if row.get("value") == "none" {
        return match answer(row) {
            Ok(_) => Some(format!("{}: a value where there is none", row.place)),
            Err(why) if clause(why.source) == row.get("clause") => None,
            Err(why) => Some(format!("{}: {} {}", row.place, clause(why.source), why.because)),
        };
    }
    let (value, unit, clauses) = match got(row) {
        Ok(it) => it,
        Err(why) => return Some(why),
    };
    let number =
        |column| row.get(column).parse::<f64>().unwrap_or_else(|_| panic!("{}: {column}", row.place));
    if number("tolerance") < (value - number("value")).abs() || value.is_nan() {
        return Some(format!("{}: {value} and not {}", row.place, row.get("value")));
    }
    if unit != row.get("unit") {
        return Some(format!("{}: in {unit}", row.place));
    }
    let is_told = clauses.iter().any(|it| it == row.get("clause"));
    (!is_told).then(|| format!("{}: told with {clauses:?}", row.place))
}

#[test]
fn every_row_comes_out() {
    let rows = rows();
    assert!(150 < rows.len(), "only {} rows", rows.len());
    let faults: Vec<String> = rows.iter().filter_map(fault).collect();
    assert!(faults.is_empty(), "{} of {} faults\n{}", faults.len(), rows.len(), faults.join("\n"));
}

#[test]
fn every_row_says_where_its_number_comes_from() {
    for row in rows() {
        assert!(!row.get("source").is_empty(), "{}", row.place);
        assert!(matches!(row.get("provenance"), "found" | "from memory"), "{}", row.place);
    }
}

/// Whether a text in the code is a clause, a table, or the number of an equation.
fn is_clause(text: &str) -> bool {
    let bare = text.strip_prefix("Table ").unwrap_or(text);
    bare.contains('.')
        && bare.chars().any(|c| c.is_ascii_digit())
        && bare.chars().all(|c| c.is_ascii_digit() || ".()".contains(c))
}

#[test]
fn every_clause_in_the_code_has_a_row() {
    let rows = rows();
    let mut tested: BTreeSet<String> = rows.iter().map(|it| it.get("clause").to_owned()).collect();
    let equation = |it: &Row| it.get("step").strip_prefix("mode:")?.split(' ').next().map(str::to_owned);
    tested.extend(rows.iter().filter_map(equation).map(|it| format!("EN 1995-1-1 {it}")));
    let (mut missing, mut count) = (BTreeSet::new(), 0);
    let folder: &Path = &root().join("src/standard/en1995/carry");
    for entry in std::fs::read_dir(folder).expect("the folder is there") {
        let text = std::fs::read_to_string(entry.expect("it can be listed").path()).expect("it can be read");
        for line in text.lines().map(|it| it.split("//").next().unwrap_or("")) {
            for literal in line.split('"').skip(1).step_by(2).filter(|it| is_clause(it)) {
                count += 1;
                let is_tested = ["EN 1995-1-1", "EN 1993-1-8"]
                    .iter()
                    .any(|it| tested.contains(&format!("{it} {literal}")));
                if !is_tested {
                    missing.insert(literal.to_owned());
                }
            }
        }
    }
    assert!(60 < count, "only {count} clauses were found: the reader of clauses is blind");
    assert!(missing.is_empty(), "no row for {missing:?}");
}
