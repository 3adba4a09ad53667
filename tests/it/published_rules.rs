//! Every rule of the standards against a published number: a row of `tests/published/` for each.
//!
//! A row names the method that is asked, what it is asked of, and the clause, topic, force and sense of
//! the answer that must come; `value` is what the answer must require, or, where `step` is given,
//! what that step of its working must come to. `none` stands for no such answer at all.

use std::collections::BTreeSet;

use shankline::joint::{Finish, Seat, Service, StandardId, Treatment};
use shankline::standard::{
    Angled, Border, Check, Driven, Force, Hold, Pair, Sense, Source, Standard, Surround, Topic, Under, by_id,
};
use shankline::stock::{Family, FastenerKind, FastenerSpec, Material, WoodType};

use crate::published::{self, Row, root};

const COLUMNS: [&str; 14] = [
    "source",
    "provenance",
    "standard",
    "method",
    "clause",
    "topic",
    "force",
    "sense",
    "inputs",
    "step",
    "value",
    "unit",
    "tolerance",
    "met",
];

const FILES: [&str; 9] =
    ["penetration", "angled", "distances", "spacing", "holes", "washers", "end_grain", "finish", "kind"];

fn rows() -> Vec<Row> {
    published::rows(&FILES, &COLUMNS)
}

/// A length that the row gives in inches (`d_in`) or in millimetres (`d_mm`), in millimetres.
fn mm(row: &Row, key: &str) -> Option<f64> {
    let inches = row.number(&format!("{key}_in")).map(|it| it * 25.4);
    inches.or_else(|| row.number(&format!("{key}_mm")))
}

fn family(word: &str) -> Family {
    match word {
        "lumber" => Family::Lumber,
        "glulam" => Family::Glulam,
        "panel" => Family::Panel,
        "concrete" => Family::Concrete,
        "masonry" => Family::Masonry,
        "steel" => Family::Steel,
        other => panic!("no family {other}"),
    }
}

fn spec(row: &Row) -> FastenerSpec {
    let kind = match row.input("kind").expect("each row names a kind") {
        "nail" => FastenerKind::Nail,
        "wood-screw" => FastenerKind::WoodScrew,
        "lag" => FastenerKind::LagScrew,
        "bolt" => FastenerKind::Bolt,
        "rod" => FastenerKind::ThreadedRod,
        "masonry-screw" => FastenerKind::MasonryScrew,
        other => panic!("no kind {other}"),
    };
    FastenerSpec {
        id: String::new(),
        label: String::new(),
        kind,
        diameter_mm: mm(row, "d").expect("each row has a diameter"),
        root_mm: mm(row, "root"),
        length_mm: mm(row, "L").unwrap_or(100.0),
        head_mm: 0.0,
        head_height_mm: 0.0,
        thread_mm: mm(row, "thread"),
        point_mm: 0.0,
        bending_yield_mpa: None,
        tensile_mpa: None,
        nut: None,
        source: String::new(),
    }
}

fn material(row: &Row) -> Material {
    let family = family(row.input("family").unwrap_or("lumber"));
    let wood = match row.input("wood") {
        Some("hardwood") => WoodType::Hardwood,
        _ => WoodType::Softwood,
    };
    Material {
        id: String::new(),
        label: String::new(),
        family,
        wood: (family.is_wood() && family != Family::Panel).then_some(wood),
        specific_gravity: row.number("G"),
        density_kg_m3: row.number("rho"),
        elastic_mpa: None,
        dowel_bearing_mpa: None,
        crushing_mpa: None,
        source: String::new(),
    }
}

fn finish(row: &Row) -> Finish {
    match row.input("finish").unwrap_or("bright") {
        "bright" => Finish::Bright,
        "electroplated" => Finish::Electroplated,
        "mechanical" => Finish::MechanicallyGalvanized,
        "hot-dip" => Finish::HotDipGalvanized,
        "stainless" => Finish::Stainless,
        "silicon-bronze" => Finish::SiliconBronze,
        "copper" => Finish::Copper,
        other => panic!("no finish {other}"),
    }
}

fn service(row: &Row) -> Service {
    match row.input("service").unwrap_or("dry") {
        "dry" => Service::Dry,
        "humid" => Service::Humid,
        "wet" => Service::Wet,
        other => panic!("no service {other}"),
    }
}

fn treatment(row: &Row) -> Treatment {
    match row.input("treatment").unwrap_or("none") {
        "none" => Treatment::None,
        "preservative" => Treatment::Preservative,
        "borate" => Treatment::Borate,
        "fire" => Treatment::FireRetardant,
        other => panic!("no treatment {other}"),
    }
}

fn hold<'a>(row: &Row, material: &'a Material) -> Hold<'a> {
    let bite_mm = mm(row, "bite").unwrap_or(100.0);
    Hold {
        material,
        bite_mm,
        bite_without_point_mm: mm(row, "bite_wo").unwrap_or(bite_mm),
        side_mm: mm(row, "side"),
        side_is_steel: false,
        end_grain: row.yes("endgrain").unwrap_or(false),
        withdrawal: row.yes("withdrawal"),
    }
}

fn border<'a>(row: &Row, material: &'a Material) -> Border<'a> {
    Border {
        material,
        is_end: row.yes("end").unwrap_or(false),
        distance_mm: mm(row, "e").expect("a border has a distance"),
        loaded: row.yes("loaded"),
        load_to_grain_deg: row.number("angle"),
        thickness_mm: mm(row, "l").expect("a border has a thickness"),
        end_grain: false,
        beside: row.input("beside").map(family),
        row_spacing_mm: mm(row, "row"),
        axial: row.yes("axial").unwrap_or(false),
    }
}

fn pair<'a>(row: &Row, material: &'a Material) -> Pair<'a> {
    Pair {
        material,
        along_mm: mm(row, "along").expect("a pair has a distance along"),
        across_mm: mm(row, "across").expect("a pair has a distance across"),
        load_to_grain_deg: row.number("angle"),
        thickness_mm: mm(row, "l").expect("a pair has a thickness"),
        beside: row.input("beside").map(family),
        axial: row.yes("axial").unwrap_or(false),
    }
}

/// The answers to one row.
fn ask(row: &Row) -> Vec<Check> {
    let (spec, material) = (spec(row), material(row));
    let driven = Driven {
        spec: &spec,
        finish: finish(row),
        seat: Seat::Flush,
        service: service(row),
        hole_mm: mm(row, "hole").map(|it| (it, mm(row, "depth").unwrap_or(0.0))),
    };
    let hold = hold(row, &material);
    let surround = Surround { material: &material, treatment: treatment(row) };
    let under = Under { material: &material, washer_mm: mm(row, "washer").zip(mm(row, "washer_t")) };
    let angled = || Angled {
        angle_to_face_deg: row.number("slope").expect("an angled nail has a slope"),
        start_mm: mm(row, "start").expect("an angled nail has a start"),
    };
    let standard: &dyn Standard = match row.get("standard") {
        "nds" => by_id(StandardId::Nds2018),
        "ec5" => by_id(StandardId::En199511),
        "common" => {
            let standard = by_id(StandardId::Nds2018);
            let practice = standard.practice();
            return match row.get("method") {
                "penetration" => practice.penetration(&driven, &hold),
                "angled" => practice.angled(&driven, &angled()),
                "hole" => practice.hole(&driven, &material),
                "washer" => practice.washer(&driven, &under),
                "finish" => practice.finish(&driven, &surround),
                "kind" => practice.kind(&driven, &hold),
                other => panic!("common practice has no {other}"),
            };
        }
        other => panic!("no standard {other}"),
    };
    match row.get("method") {
        "penetration" => standard.penetration(&driven, &hold),
        "angled" => standard.angled(&driven, &angled()),
        "border" => standard.border(&driven, &border(row, &material)),
        "spacing" => standard.spacing(&driven, &pair(row, &material)),
        "spread" => standard.spread(&driven, &pair(row, &material)),
        "hole" => standard.hole(&driven, &material),
        "washer" => standard.washer(&driven, &under),
        "end_grain" => standard.end_grain(&driven, &hold),
        "finish" => standard.finish(&driven, &surround),
        "kind" => standard.kind(&driven, &hold),
        other => panic!("a standard has no {other}"),
    }
}

fn clause(source: Source) -> String {
    match source {
        Source::Clause { document, clause } => format!("{document} {clause}"),
        Source::CommonPractice => "common practice".to_owned(),
    }
}

fn answers_to(row: &Row, check: &Check) -> bool {
    let force = if check.force == Force::Shall { "shall" } else { "should" };
    let sense = if check.sense == Sense::AtLeast { "least" } else { "most" };
    let has_step = row.get("step").is_empty() || check.working.iter().any(|it| it.symbol == row.get("step"));
    (row.get("clause") == "any" || row.get("clause") == clause(check.source))
        && row.get("topic") == format!("{:?}", check.topic)
        && (row.get("force"), row.get("sense")) == (force, sense)
        && has_step
}

/// What is wrong with the answer to a row.
fn fault(row: &Row) -> Option<String> {
    let asked = ask(row);
    let found: Vec<&Check> = asked.iter().filter(|it| answers_to(row, it)).collect();
    let value = row.get("value");
    if value == "none" {
        return (!found.is_empty()).then(|| format!("{}: an answer where none is due: {found:?}", row.place));
    }
    let [check] = found.as_slice() else {
        return Some(format!("{}: {} answers of {asked:#?}", row.place, found.len()));
    };
    let wanted: f64 = value.parse().unwrap_or_else(|_| panic!("{}: value {value}", row.place));
    let tolerance: f64 = row.get("tolerance").parse().unwrap_or_else(|_| panic!("{}: tolerance", row.place));
    let step = check.working.iter().find(|it| it.symbol == row.get("step"));
    let quantity = step.map_or(check.required, |it| it.value);
    let got = if row.get("unit") == "in" { quantity.value() / 25.4 } else { quantity.value() };
    if tolerance < (got - wanted).abs() {
        return Some(format!("{}: {got} and not {wanted}: {check:#?}", row.place));
    }
    let met = if check.is_met() { "yes" } else { "no" };
    let expected = row.get("met");
    (!expected.is_empty() && expected != met).then(|| format!("{}: met is {met}: {check:#?}", row.place))
}

#[test]
fn every_rule_gives_its_published_number() {
    let faults: Vec<String> = rows().iter().filter_map(fault).collect();
    assert!(faults.is_empty(), "{} faults\n{}", faults.len(), faults.join("\n"));
}

#[test]
fn every_row_says_where_its_number_comes_from() {
    for row in rows() {
        assert!(!row.get("source").is_empty(), "{}", row.place);
        assert!(matches!(row.get("provenance"), "found" | "from memory"), "{}", row.place);
    }
}

/// The quoted texts on a line of code, outside comments.
fn literals(code: &str) -> impl Iterator<Item = &str> {
    code.split('"').skip(1).step_by(2)
}

/// Whether a text names a clause or a table that a rule is read from: `12.1.6.4`, `8.3.1.2(1)`, `Table 8.2`.
fn names_a_clause(text: &str) -> bool {
    let number =
        |it: &str| it.contains('.') && it.chars().all(|c| c.is_ascii_digit() || "RC.()ABCDE".contains(c));
    let bare = text.strip_prefix("Commentary ").unwrap_or(text);
    number(bare.strip_prefix("Table ").unwrap_or(bare)) && bare.chars().any(|c| c.is_ascii_digit())
}

#[test]
fn every_clause_in_the_code_has_a_row() {
    let tested: BTreeSet<String> = rows().iter().map(|it| it.get("clause").to_owned()).collect();
    let mut missing = Vec::new();
    let mut count = 0;
    for (folder, documents) in [("nds2018", ["NDS 2018", "IRC"]), ("en1995", ["EN 1995-1-1", "EN 1995-1-1"])]
    {
        for entry in std::fs::read_dir(root().join("src/standard").join(folder)).expect("the folder is there")
        {
            let path = entry.expect("it can be listed").path();
            // What a fastener carries has rows and a test of its own.
            if path.is_dir() {
                continue;
            }
            let text = std::fs::read_to_string(path).expect("it can be read");
            let code = text.lines().map(|it| it.split("//").next().unwrap_or(""));
            for clause in code.flat_map(literals).filter(|it| names_a_clause(it)) {
                count += 1;
                if !documents.iter().any(|it| tested.contains(&format!("{it} {clause}"))) {
                    missing.push(format!("{folder} {clause}"));
                }
            }
        }
    }
    assert!(40 < count, "only {count} clauses were found: the reader of clauses is blind");
    assert!(missing.is_empty(), "no row in tests/published for {missing:#?}");
}

#[test]
fn every_topic_and_every_practice_has_rows() {
    let rows = rows();
    for topic in [
        Topic::Penetration,
        Topic::SidePenetration,
        Topic::NailAngle,
        Topic::NailStart,
        Topic::EndDistance,
        Topic::EdgeDistance,
        Topic::Spacing,
        Topic::RowSpacing,
        Topic::LeadHole,
        Topic::HoleDepth,
        Topic::BoltHole,
        Topic::Washer,
        Topic::EndGrain,
        Topic::Finish,
        Topic::Kind,
    ] {
        let n_rows = rows.iter().filter(|it| it.get("topic") == format!("{topic:?}")).count();
        assert!(0 < n_rows, "no row for {topic:?}");
    }
    for practice in ["penetration", "angled", "hole", "washer", "finish", "kind"] {
        let is_tested = rows.iter().any(|it| it.get("standard") == "common" && it.get("method") == practice);
        assert!(is_tested, "no row for common practice of {practice}");
    }
}
