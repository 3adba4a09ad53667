//! The tables against published values, and laws that hold in each of them.

use super::read::{BUILT_IN, Texts};
use super::*;
use crate::unit::force::NEWTONS_PER_POUND;
use crate::unit::length::MM_PER_INCH;

const PUBLISHED: &str = include_str!("../../tests/published/stock.csv");

fn measured(stock: &Stock, entry: &str, field: &str) -> Option<f64> {
    if let Some(spec) = stock.fasteners.get(entry) {
        return match field {
            "diameter" => Some(spec.diameter_mm),
            "length" => Some(spec.length_mm),
            "head" => Some(spec.head_mm),
            "head_height" => Some(spec.head_height_mm),
            "point" => Some(spec.point_mm),
            "root" => spec.root_mm,
            "thread" => spec.thread_mm,
            "nut" => spec.nut.map(|it| it.across_flats_mm),
            "nut_height" => spec.nut.map(|it| it.height_mm),
            "bending_yield" => spec.bending_yield_mpa,
            _ => None,
        };
    }
    if let Some(material) = stock.materials.get(entry) {
        return match field {
            "gravity" => material.specific_gravity,
            "density" => material.density_kg_m3,
            _ => None,
        };
    }
    if let Some(washer) = stock.washers.iter().find(|it| it.id == entry) {
        return match field {
            "inner" => Some(washer.inner_mm),
            "outer" => Some(washer.outer_mm),
            "thickness" => Some(washer.thickness_mm),
            _ => None,
        };
    }
    let section = stock.sections.iter().find(|it| it.id == entry)?;
    match field {
        "thickness" => Some(section.thickness_mm),
        "depth" => section.depth_mm,
        _ => None,
    }
}

#[test]
fn the_tables_hold_the_published_values() {
    let stock = Stock::built_in();
    let mut rows = 0;
    let mut faults = Vec::new();
    for (n, line) in PUBLISHED.lines().enumerate().skip(1) {
        let cells: Vec<&str> = line.split(',').collect();
        let [_, entry, field, value, unit, digits, source, provenance] = cells[..] else {
            panic!("line {} has {} cells", n + 1, cells.len());
        };
        assert!(!source.is_empty() && ["quoted", "from memory"].contains(&provenance), "line {}", n + 1);
        let value: f64 = value.parse().unwrap();
        let digits: i32 = digits.parse().unwrap();
        let to_print = match unit {
            "in" => 1.0 / MM_PER_INCH,
            "psi" => MM_PER_INCH * MM_PER_INCH / NEWTONS_PER_POUND,
            _ => 1.0,
        };
        match measured(&stock, entry, field).map(|it| it * to_print) {
            // The rounding of the print, never looser.
            Some(held) if (held - value).abs() <= 0.5 * 10_f64.powi(-digits) + 1e-9 => rows += 1,
            held => faults.push(format!("{entry} {field}: printed {value} {unit}, held {held:?}")),
        }
    }
    assert!(faults.is_empty(), "{}", faults.join("\n"));
    assert!(200 < rows, "only {rows} rows");
}

#[test]
fn every_entry_has_a_source_and_sane_measures() {
    let stock = Stock::built_in();
    for spec in stock.fasteners.values() {
        let id = &spec.id;
        assert!(!spec.source.is_empty() && !spec.label.is_empty(), "{id}");
        assert!(0.0 < spec.diameter_mm && 2.0 * spec.diameter_mm < spec.length_mm, "{id}");
        assert!(spec.length_mm <= 1000.0, "{id}");
        assert!(spec.root_mm.is_none_or(|it| 0.6 * spec.diameter_mm < it && it < spec.diameter_mm), "{id}");
        assert!(spec.point_mm < spec.length_mm, "{id}");
        assert!(spec.thread_mm.is_none_or(|it| spec.point_mm < it && it <= spec.length_mm), "{id}");
        let rod = spec.kind == FastenerKind::ThreadedRod;
        assert!(rod == (spec.head_mm <= 0.0), "{id}");
        assert!(
            rod || (1.2 * spec.diameter_mm < spec.head_mm && spec.head_mm < 4.0 * spec.diameter_mm),
            "{id}"
        );
        let has_nut = matches!(spec.kind, FastenerKind::Bolt | FastenerKind::ThreadedRod);
        assert_eq!(has_nut, spec.nut.is_some(), "{id}");
        assert!(spec.nut.is_none_or(|it| it.height_mm < it.across_flats_mm), "{id}");
        assert!(id.starts_with(spec.kind.word()), "{id}");
    }
    for material in stock.materials.values() {
        let id = &material.id;
        assert!(!material.source.is_empty() && !material.label.is_empty(), "{id}");
        assert!(material.specific_gravity.is_none_or(|it| (0.3..0.8).contains(&it)), "{id}");
        assert!(material.density_kg_m3.is_none_or(|it| (280.0..=800.0).contains(&it)), "{id}");
        let known = material.specific_gravity.is_some() || material.density_kg_m3.is_some();
        assert_eq!(known, material.family.is_wood(), "{id}");
    }
    for section in &stock.sections {
        let id = &section.id;
        assert!(!section.source.is_empty() && !section.nominal.is_empty(), "{id}");
        assert!(section.depth_mm.is_none_or(|it| section.thickness_mm <= it), "{id}");
        if let Some([width, flange, web]) = section.i_section_mm {
            assert!(web < width && 2.0 * flange < section.depth_mm.unwrap(), "{id}");
        }
    }
    for washer in &stock.washers {
        let id = &washer.id;
        assert!(!washer.source.is_empty(), "{id}");
        assert!(washer.for_diameter_mm < washer.inner_mm && washer.inner_mm < 0.7 * washer.outer_mm, "{id}");
        assert!(washer.thickness_mm < washer.inner_mm, "{id}");
    }
}

#[test]
fn names_and_labels_are_as_promised() {
    let stock = Stock::built_in();
    for (id, label) in [
        ("nail/common/16d", "common nail 0.162\" x 3 1/2\" (16d)"),
        ("nail/box/10d", "box nail 0.128\" x 3\" (10d)"),
        ("nail/metric/3.1x90", "nail 3.1 x 90 mm"),
        ("wood-screw/10x3", "wood screw 0.19\" x 3\" (No. 10)"),
        ("lag-screw/0.375x4", "lag screw 3/8\" x 4\""),
        ("bolt/inch/0.5x6", "bolt 1/2\" x 6\""),
        ("bolt/metric/12x140", "bolt M12 x 140 mm"),
        ("threaded-rod/inch/0.5x12", "threaded rod 1/2\" x 12\""),
        ("threaded-rod/metric/12x300", "threaded rod M12 x 300 mm"),
        ("masonry-screw/0.25x2.25", "masonry screw 1/4\" x 2 1/4\""),
    ] {
        assert_eq!(stock.fasteners.get(id).map(|it| it.label.as_str()), Some(label), "{id}");
    }
    for id in [
        "lumber/hem-fir",
        "lumber/C24",
        "lumber/D30",
        "glulam/GL24h",
        "engineered/laminated-veneer",
        "panel/plywood",
        "panel/osb",
        "concrete/normal",
        "masonry/brick",
        "masonry/block",
        "steel/plate",
        "filling/foam",
        "filling/gypsum",
        "filling/cladding",
        "filling/shim",
        "filling/fibreboard",
    ] {
        assert!(stock.materials.contains_key(id), "{id}");
    }
    for id in ["sawn/2x10", "sawn/5/4x6", "panel/23/32", "panel/1-1/8", "i-section/9.5", "sawn/metric/45x195"]
    {
        assert!(stock.sections.iter().any(|it| it.id == id), "{id}");
    }
    assert!(stock.materials["engineered/laminated-strand"].source.starts_with("common practice"));
    assert!(stock.fasteners["lag-screw/1x12"].source.ends_with("(from memory)"));
}

#[test]
fn alternatives_stay_in_their_table() {
    let stock = Stock::built_in();
    let nail = &stock.fasteners["nail/common/16d"];
    let others: Vec<&str> = stock.alternatives(nail).map(|it| it.id.as_str()).collect();
    assert_eq!(others.len(), 11);
    assert!(others.iter().all(|it| it.starts_with("nail/common/")));
    assert_eq!(others[..3], ["nail/common/6d", "nail/common/7d", "nail/common/8d"]);
    let screw = &stock.fasteners["wood-screw/10x3"];
    assert!(stock.alternatives(screw).all(|it| !it.id.starts_with("wood-screw/metric")));
    let bolts: Vec<_> = stock.alternatives(&stock.fasteners["bolt/inch/0.5x6"]).collect();
    assert!(bolts.iter().all(|it| it.id.starts_with("bolt/inch/")));
    assert!(bolts.is_sorted_by(|a, b| (a.diameter_mm, a.length_mm) < (b.diameter_mm, b.length_mm)));
    let own = FastenerSpec { id: String::new(), ..(**nail).clone() };
    assert!(stock.alternatives(&own).any(|it| it.id == "nail/metric/3.1x90"));
}

#[test]
fn a_washer_on_wood_is_wide_enough_for_its_standard() {
    let stock = Stock::built_in();
    assert_eq!(stock.washer_for(12.7).map(|it| it.id.as_str()), Some("washer/inch/0.5"));
    // EN 1995-1-1 10.4.3 (from memory): at least 3 d wide and 0.3 d thick.
    for diameter in [6.0, 8.0, 10.0, 12.0, 16.0, 20.0, 24.0] {
        let washer = stock.washer_for(diameter).unwrap();
        assert!(3.0 * diameter <= washer.outer_mm, "{}", washer.id);
    }
    assert_eq!(stock.washer_for(13.3), None);
}

#[test]
fn a_table_that_is_wrong_is_refused_by_name() {
    let refused = |texts: Texts| Stock::read(&texts).unwrap_err().to_string();
    let unknown = Texts { washers: ("w.toml", "[[table]]\nid = \"a\"\ncolour = \"red\"\n"), ..BUILT_IN };
    assert!(refused(unknown).contains("unknown field `colour`"), "{}", refused(unknown));
    let head = "[[table]]\nid = \"washer/inch\"\nname = \"w\"\nunit = \"inch\"\nsource = \"s\"\nprovenance = \"quoted\"\n";
    let row = "{ bolt = \"1/2\", inner = 0.5, outer = 1, thickness = 0.1 }";
    let twice: &'static str = format!("{head}rows = [ {row}, {row} ]").leak();
    assert_eq!(
        refused(Texts { washers: ("w.toml", twice), ..BUILT_IN }),
        "w.toml: `washer/inch/0.5` stands twice"
    );
    let zero: &'static str = format!("{head}rows = [ {} ]", row.replace("0.1", "0")).leak();
    assert!(refused(Texts { washers: ("w.toml", zero), ..BUILT_IN }).contains("must be larger than zero"));
    let torn: &'static str = format!("{head}rows = [ {} ]", row.replace("1/2", "1/0")).leak();
    assert!(
        refused(Texts { washers: ("w.toml", torn), ..BUILT_IN }).contains("cannot have 0 below the line")
    );
}

/// EN 1995-1-1 8.3.1.1(4) gives a round nail a yield moment of `0.3 f_u d^2.6`, and a full hinge has d^3 / 6 of its
/// bending yield strength (NDS 2018 Appendix I). The two standards agree about the wire that both speak of.
#[test]
fn metric_nails_bend_by_the_one_standard_as_by_the_other() {
    let stock = Stock::built_in();
    let nails = stock.fasteners.values().filter(|it| it.id.starts_with("nail/metric/"));
    let mut count = 0;
    for nail in nails {
        let Some(bends) = nail.bending_yield_mpa else {
            assert!(nail.diameter_mm < 0.099 * 25.4, "{}: Table I1 begins at 0.099 in", nail.id);
            continue;
        };
        let tensile = nail.tensile_mpa.unwrap();
        let d = nail.diameter_mm;
        let part = bends * d.powi(3) / 6.0 / (0.3 * tensile * d.powf(2.6));
        assert!((0.8..1.1).contains(&part), "{}: {part}", nail.id);
        count += 1;
    }
    assert!(20 < count, "{count}");
}

/// As letters are sorted, 14" would stand before 2".
#[test]
fn lists_show_fasteners_by_kind_table_diameter_and_length() {
    let stock = Stock::built_in();
    let all = stock.fasteners_by_size();
    assert_eq!(all.len(), stock.fasteners.len());
    for pair in all.windows(2) {
        let is_next = (pair[0].kind, pair[0].table()) < (pair[1].kind, pair[1].table());
        let sizes = |at: usize| (pair[at].diameter_mm, pair[at].length_mm);
        let is_same = (pair[0].kind, pair[0].table()) == (pair[1].kind, pair[1].table());
        assert!(is_next || is_same && sizes(0) <= sizes(1), "{} {}", pair[0].id, pair[1].id);
    }
    let bolts = all.iter().filter(|it| it.id.starts_with("bolt/inch/0.5x"));
    let inches: Vec<f64> = bolts.map(|it| it.length_mm / 25.4).collect();
    assert!((inches[0] - 1.5).abs() < 1e-9 && (inches[inches.len() - 1] - 16.0).abs() < 1e-9, "{inches:?}");
}
