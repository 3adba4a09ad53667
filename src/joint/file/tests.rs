//! Tests of the joint file: what is read, what is refused and where, and that nothing is lost.

use std::sync::Arc;

use super::*;
use crate::stock::{Family, FastenerKind, FastenerSpec, Material};

/// The file of the format's description.
const EXAMPLE: &str = r#"{
  "format": "shankline-joint",
  "version": 1,
  "title": "Heron Lane footbridge, ledger on the rim",
  "show_lengths_in": "inch",
  "standard": "nds-2018",
  "members": [
    { "id": "ledger", "material": "lumber/hem-fir",
      "outline": { "rectangle": { "corner": [0, 0], "size": [38.1, 184.15], "turn": 0 } },
      "depth": [0, 1200], "grain": "along_depth" },
    { "id": "foam", "material": "filling/foam", "bearing": false,
      "outline": { "polygon": [[38.1, -50], [63.5, -50], [63.5, 240], [38.1, 240]] },
      "depth": [0, 1200], "grain": "none" },
    { "id": "rim", "material": "lumber/douglas-fir-larch",
      "outline": { "rectangle": { "corner": [63.5, -25], "size": [38.1, 235] } },
      "cutouts": [ { "round": { "centre": [80, 20], "diameter": 12 } } ],
      "depth": [0, 1200], "grain": "along_depth" }
  ],
  "connectors": [
    { "id": "strap", "material": "steel/plate", "plates": [
      { "thickness": 1.5, "depth": [580, 630], "profile": [[-0.75, 20], [-0.75, 170]], "bend_radius": 0,
        "holes": [ { "id": "h1", "along": 25, "depth": 605, "diameter": 4.4, "duty": "required",
                     "takes": { "kind": "nail", "diameter": 4.11, "min_length": 63.5 } } ] } ] }
  ],
  "fasteners": [
    { "id": "n1", "stock": "nail/common/16d", "fills": "strap/h1" },
    { "id": "s1", "stock": "lag-screw/0.375x4", "head": [0, 120, 605], "toward": [1, 0, 0],
      "washers": ["head"], "lead_hole": { "diameter": 6, "depth": 100 } }
  ],
  "loads": [ { "on": "ledger", "toward": [0, -1, 0], "newtons": 1870, "duration": "ten-years" } ]
}"#;

/// A stock of a few entries, so that these tests do not hang on the tables.
fn stock() -> Stock {
    let mut stock = Stock::default();
    for (id, family) in [
        ("lumber/hem-fir", Family::Lumber),
        ("lumber/douglas-fir-larch", Family::Lumber),
        ("filling/foam", Family::Filling),
        ("steel/plate", Family::Steel),
    ] {
        let material = Material {
            id: id.to_owned(),
            label: id.to_owned(),
            family,
            wood: None,
            specific_gravity: None,
            density_kg_m3: None,
            source: String::new(),
        };
        stock.materials.insert(id.to_owned(), Arc::new(material));
    }
    for (id, kind, diameter_mm, length_mm) in [
        ("nail/common/16d", FastenerKind::Nail, 4.1148, 88.9),
        ("lag-screw/0.375x4", FastenerKind::LagScrew, 9.525, 101.6),
    ] {
        let spec = FastenerSpec {
            id: id.to_owned(),
            label: id.to_owned(),
            kind,
            diameter_mm,
            root_mm: None,
            length_mm,
            head_mm: 2.0 * diameter_mm,
            head_height_mm: 0.0,
            thread_mm: None,
            point_mm: 0.0,
            bending_yield_mpa: None,
            tensile_mpa: None,
            nut: None,
            source: String::new(),
        };
        stock.fasteners.insert(id.to_owned(), Arc::new(spec));
    }
    stock.washers.push(crate::stock::WasherSpec {
        id: "washer/inch/0.375".to_owned(),
        for_diameter_mm: 9.525,
        inner_mm: 11.1,
        outer_mm: 25.4,
        thickness_mm: 2.1,
        source: String::new(),
    });
    stock
}

fn told(text: &str) -> Vec<String> {
    match read(text, &stock()) {
        Ok(_) => Vec::new(),
        Err(problems) => {
            problems.iter().map(|it| format!("{}:{} {}: {}", it.line, it.column, it.part, it.says)).collect()
        }
    }
}

#[test]
fn the_example_of_the_format_reads_cleanly() {
    assert_eq!(told(EXAMPLE), Vec::<String>::new());
    let joint = read(EXAMPLE, &stock()).unwrap();
    assert_eq!(joint.members.len(), 3);
    assert!(!joint.members[1].bearing);
    assert_eq!(read(&write(&joint), &stock()).unwrap(), joint);
}
