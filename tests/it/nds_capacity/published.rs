//! A row of `tests/published/nds_*.csv` for each published number of what a fastener carries.
//!
//! A row names the clause, what is asked of what, and which number of the answer is compared: a mode, the
//! reference value, a line of the working, a factor; `none` stands for no value at all.

use std::collections::BTreeSet;
use std::path::Path;
use std::sync::Arc;

use super::asked::{Body, Case, MM, MPA, N, material, room, spec};
use crate::published::{self, Row as Published, root};
use shankline::joint::{Duration, Heat, Service, StandardId};
use shankline::standard::capacity::{Amount, Axial, Demand, Factor, Lateral, Line, Mode, NoValue, Row, Toe};
use shankline::standard::{Source, by_id};
use shankline::stock::{Family, FastenerKind, FastenerSpec, Material, Stock};

const COLUMNS: [&str; 9] =
    ["source", "provenance", "clause", "method", "inputs", "output", "value", "unit", "tolerance"];
const FILES: [&str; 4] = ["nds_lateral", "nds_gap", "nds_withdrawal", "nds_factors"];

fn rows() -> Vec<Published> {
    published::rows(&FILES, &COLUMNS)
}

fn is(row: &Published, key: &str) -> bool {
    row.yes(key) == Some(true)
}

fn stuff(word: &str, stock: &Stock) -> Material {
    match word.split_once(':') {
        Some(("wood", gravity)) => material(Family::Lumber, Some(gravity.parse().expect("a gravity"))),
        Some(("panel", gravity)) => material(Family::Panel, Some(gravity.parse().expect("a gravity"))),
        Some(("stock", id)) => Material::clone(&stock.materials[id]),
        None if word == "steel" => material(Family::Steel, None),
        _ => panic!("no material {word}"),
    }
}

fn body(row: &Published, role: &str, stock: &Stock) -> Option<Body> {
    let mut material = stuff(row.input(role)?, stock);
    let number = |key: &str| row.number(&format!("{role}_{key}"));
    material.elastic_mpa = number("E_psi").map(|it| it * MPA).or(material.elastic_mpa);
    Some(Body {
        material: Arc::new(material),
        length_in: number("in").expect("a body has a length"),
        point_in: number("point_in").unwrap_or(0.0),
        thread_in: number("thread_in").unwrap_or(0.0),
        angle: number("angle").unwrap_or(0.0),
        end_grain: is(row, &format!("{role}_end")),
        area_in2: number("area_in2"),
    })
}

fn fastener(row: &Published, stock: &Stock) -> FastenerSpec {
    if let Some(id) = row.input("stock") {
        return FastenerSpec::clone(&stock.fasteners[id]);
    }
    let kind = match row.input("kind").expect("each row names a kind") {
        "nail" => FastenerKind::Nail,
        "wood-screw" => FastenerKind::WoodScrew,
        "lag" => FastenerKind::LagScrew,
        "bolt" => FastenerKind::Bolt,
        "masonry-screw" => FastenerKind::MasonryScrew,
        other => panic!("no kind {other}"),
    };
    let mut spec =
        spec(kind, row.number("d_in").expect("a diameter"), row.number("Fyb_psi").unwrap_or(45000.0));
    spec.root_mm = row.number("root_in").map(|it| it * MM);
    spec.head_mm = row.number("head_in").unwrap_or(0.0) * MM;
    spec.tensile_mpa = row.number("tensile_psi").map(|it| it * MPA);
    spec
}

fn case(row: &Published, stock: &Stock) -> Case {
    let main = body(row, "main", stock).expect("each row has a main body");
    let mut case = Case::new(fastener(row, stock), main.clone(), main);
    case.side = body(row, "side", stock);
    case.beyond = body(row, "beyond", stock);
    case.gap_in = [row.number("gap_in").unwrap_or(0.0); 2];
    case.toe = row.number("toe_deg").map(|angle_to_face_deg| Toe {
        angle_to_face_deg,
        start_mm: row.number("toe_start_in").expect("a toe-nail has a start") * MM,
    });
    case.row = row.input("row_n").map(|it| Row {
        count: it.parse().expect("a count"),
        pitch_mm: row.number("row_pitch_in").expect("a row has a pitch") * MM,
        to_grain_deg: 0.0,
    });
    let rooms = row.get("inputs").split(' ').filter_map(|it| it.strip_prefix("room="));
    case.rooms = rooms.map(room).collect();
    let washer = |key: &str| {
        let (outer, inner) = (row.number(&format!("{key}_in"))?, row.number(&format!("{key}_hole_in"))?);
        Some((outer * MM, inner * MM))
    };
    (case.washer_mm, case.nut_washer_mm) = (washer("washer"), washer("nut_washer"));
    case.service = match row.input("service").unwrap_or("dry") {
        "dry" => Service::Dry,
        "humid" => Service::Humid,
        "wet" => Service::Wet,
        other => panic!("no service {other}"),
    };
    case.conditions.wet_when_made = is(row, "wet_made");
    case.conditions.diaphragm = is(row, "diaphragm");
    case.conditions.heat = match row.input("heat").unwrap_or("ordinary") {
        "ordinary" => Heat::Ordinary,
        "warm" => Heat::Warm,
        "hot" => Heat::Hot,
        other => panic!("no heat {other}"),
    };
    case.duration = match row.input("duration").unwrap_or("ten-years") {
        "permanent" => Duration::Permanent,
        "ten-years" => Duration::TenYears,
        "two-months" => Duration::TwoMonths,
        "seven-days" => Duration::SevenDays,
        "ten-minutes" => Duration::TenMinutes,
        "impact" => Duration::Impact,
        other => panic!("no duration {other}"),
    };
    case
}

/// An answer as names with numbers and clauses, in the units that the tables print.
#[derive(Debug, Default)]
struct Answer {
    found: Vec<(String, f64, String)>,
    governs: String,
    none: Option<(String, String)>,
}

fn clause(source: Source) -> String {
    match source {
        Source::Clause { clause, .. } => clause.to_owned(),
        Source::CommonPractice => "common practice".to_owned(),
    }
}

fn printed(amount: Amount) -> f64 {
    match amount {
        Amount::Length(it) => it / MM,
        Amount::Area(it) => it / (MM * MM),
        Amount::Angle(it) | Amount::Number(it) | Amount::Density(it) => it,
        Amount::Force(it) => it / N,
        Amount::Stress(it) => it / MPA,
        Amount::Moment(it) => it / (N * MM),
        Amount::ForcePerLength(it) => it / N * MM,
    }
}

impl Answer {
    fn push(&mut self, name: impl Into<String>, value: f64, clause: impl Into<String>) {
        self.found.push((name.into(), value, clause.into()));
    }

    fn lines(&mut self, working: &[Line]) {
        for line in working {
            self.push(format!("line:{}", line.symbol), printed(line.value), clause(line.source));
        }
    }

    fn parts(&mut self, modes: &[Mode], factors: &[Factor], working: &[Line]) {
        for mode in modes {
            let symbols = match mode.name {
                "pull-through" => "W_H".to_owned(),
                "steel in tension" => "T".to_owned(),
                "withdrawal" => "P_w".to_owned(),
                other if other.starts_with("washer") => "P_perp".to_owned(),
                other => format!("Z_{other}"),
            };
            let line = working.iter().find(|it| it.symbol == symbols).expect("each mode has its line");
            self.push(format!("mode:{}", mode.name), mode.newtons / N, clause(line.source));
        }
        for factor in factors {
            assert!(!factor.because.is_empty(), "{factor:?} gives no reason");
            self.push(format!("factor:{}", factor.key), factor.value, clause(factor.source));
        }
        self.lines(working);
    }

    fn of_lateral(it: &Lateral) -> Self {
        let mut answer = Self { governs: it.mode.to_owned(), ..Self::default() };
        answer.parts(&it.modes, &it.factors, &it.working);
        answer.push("reference", it.reference_n / N, "12.3.1");
        answer.push("both_planes", 2.0 * it.reference_n / N, "12.3.1");
        answer
    }

    fn of_axial(it: &Axial) -> Self {
        let mut answer = Self { governs: it.mode.to_owned(), ..Self::default() };
        answer.parts(&it.modes, &it.factors, &it.working);
        let source =
            it.working.iter().find(|it| it.symbol == "W").map_or(String::new(), |it| clause(it.source));
        answer.push("per_length", it.reference_n_per_mm / N * MM, source);
        answer.push("length", it.length_mm / MM, "");
        answer.push("reference", it.reference_n / N, "");
        answer
    }

    fn of_none(why: NoValue) -> Self {
        Self { none: Some((why.because, clause(why.source))), ..Self::default() }
    }
}

fn answer(row: &Published, stock: &Stock) -> Answer {
    match row.get("method") {
        "across" => case(row, stock).across().map_or_else(Answer::of_none, |it| Answer::of_lateral(&it)),
        "along" => case(row, stock).along().map_or_else(Answer::of_none, |it| Answer::of_axial(&it)),
        "both" => {
            let pounds = |key| row.number(key).expect("a force") * N;
            let across = Demand { demand_n: pounds("V_lb"), adjusted_n: pounds("Z_lb") };
            let along = Demand { demand_n: pounds("T_lb"), adjusted_n: pounds("W_lb") };
            let body = super::asked::wood(0.5, 1.5, 0.0);
            let case = Case::new(fastener(row, stock), body.clone(), body);
            let found = by_id(StandardId::Nds2018).both_ways(&case.driven(), across, along);
            let mut answer = Answer::default();
            answer.lines(&found.working);
            let source = found.working.last().expect("it has a working").source;
            answer.push("ratio", found.ratio, clause(source));
            answer
        }
        other => panic!("no method {other}"),
    }
}

/// What is wrong with the answer to a row.
fn fault(row: &Published, stock: &Stock) -> Option<String> {
    let answer = answer(row, stock);
    let (place, wanted, output) = (&row.place, row.get("value"), row.get("output"));
    let wrong_clause = |it: &str| row.get("clause") != "any" && row.get("clause") != it;
    if output == "none" {
        return match &answer.none {
            Some((_, clause)) if !wrong_clause(clause) => None,
            other => Some(format!("{place}: no value is due, found {other:?}")),
        };
    }
    if output == "governs" {
        return (answer.governs != wanted)
            .then(|| format!("{place}: {} governs: {answer:?}", answer.governs));
    }
    let Some((_, got, clause)) = answer.found.iter().find(|it| it.0 == output) else {
        return Some(format!("{place}: no {output} in {answer:?}"));
    };
    if wrong_clause(clause) {
        return Some(format!("{place}: {output} stands on {clause}"));
    }
    let number = |column| row.get(column).parse::<f64>().unwrap_or_else(|_| panic!("{place}: {column}"));
    let off = (got - number("value")).abs();
    (number("tolerance") + 1e-6 < off).then(|| format!("{place}: {output} is {got} and not {wanted}"))
}

#[test]
fn every_capacity_is_the_published_number() {
    let (stock, rows) = (Stock::built_in(), rows());
    let faults: Vec<String> = rows.iter().filter_map(|it| fault(it, &stock)).collect();
    assert!(faults.is_empty(), "{} faults\n{}", faults.len(), faults.join("\n"));
    assert!(300 < rows.len(), "only {} rows", rows.len());
}

#[test]
fn every_row_of_capacity_says_where_its_number_comes_from() {
    for row in rows() {
        assert!(!row.get("source").is_empty(), "{}", row.place);
        assert!(matches!(row.get("provenance"), "found" | "from memory"), "{}", row.place);
    }
}

fn names_a_clause(text: &str) -> bool {
    let bare = text.strip_prefix("Commentary ").unwrap_or(text);
    let number = |it: &str| it.contains('.') && it.chars().all(|c| c.is_ascii_digit() || "C.AB".contains(c));
    text.starts_with("Table ") || text.starts_with("Supplement Table ") || number(bare)
}

fn literals_of(path: &Path) -> Vec<String> {
    let text = std::fs::read_to_string(path).expect("it can be read");
    let code = text.lines().map(|it| it.split("//").next().unwrap_or("").to_owned());
    code.flat_map(|it| it.split('"').skip(1).step_by(2).map(str::to_owned).collect::<Vec<_>>()).collect()
}

#[test]
fn every_clause_of_capacity_has_a_row() {
    let tested: BTreeSet<String> = rows().iter().map(|it| it.get("clause").to_owned()).collect();
    let folder = root().join("src/standard/nds2018/carry");
    let mut named = BTreeSet::new();
    for entry in std::fs::read_dir(folder).expect("the folder is there") {
        named.extend(
            literals_of(&entry.expect("it can be listed").path()).into_iter().filter(|it| names_a_clause(it)),
        );
    }
    let missing: Vec<&String> = named.iter().filter(|it| !tested.contains(*it)).collect();
    assert!(25 < named.len(), "only {} clauses were found: the reader of clauses is blind", named.len());
    assert!(missing.is_empty(), "no row in tests/published for {missing:?}");
}
