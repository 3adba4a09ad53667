//! Tests of the joint file: what is read, what is refused and where, and that nothing is lost.

#![allow(clippy::too_many_lines, reason = "a table of cases is read best in one place")]

use std::sync::Arc;

use proptest::prelude::*;

use super::arbitrary;
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
pub(in crate::joint) fn stock() -> Stock {
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
            elastic_mpa: None,
            dowel_bearing_mpa: None,
            crushing_mpa: None,
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

/// A change of the example and what is told of it.
#[track_caller]
fn case(from: &str, to: &str, expected: &[&str]) {
    assert!(EXAMPLE.contains(from), "the example has no `{from}`");
    check(&EXAMPLE.replacen(from, to, 1), expected);
}

/// A text and what is told of it.
#[track_caller]
fn check(text: &str, expected: &[&str]) {
    assert_eq!(told(text), expected);
}

#[test]
fn unknown_keys_and_words_are_told_with_the_nearest_known_one() {
    case(
        "\"cutouts\"",
        "\"cutout\"",
        &[
            "16:7 members[2].cutout: `cutout` is no key here; did you mean `cutouts`? (keys: bearing, blocking, cutouts, depth, grain, id, material, name, outline, treatment)",
        ],
    );
    case(
        "\"grain\": \"none\"",
        "\"grain\": \"non\"",
        &[
            "13:36 members[1].grain: the text `non` stands where one of \"along_depth\", \"none\" or an object { \"in_plane\": ... } is wanted; did you mean `none`?",
        ],
    );
    case(
        "{ \"round\":",
        "{ \"circle\":",
        &[
            "16:20 members[2].cutouts[0]: the key `circle` stands where an object with one of the keys \"rectangle\", \"polygon\", \"round\", \"i_section\", \"path\" is wanted",
        ],
    );
    case(
        "nail/common/16d",
        "nail/comon/16d",
        &[
            "26:28 fasteners[0].stock: stock has no fastener `nail/comon/16d`; did you mean `nail/common/16d`?",
        ],
    );
    case("lumber/hem-fir", "lumber/wood", &["8:35 members[0].material: stock has no material `lumber/wood`"]);
    case(
        "\"strap/h1\"",
        "\"strop/h1\"",
        &["26:56 fasteners[0].fills: there is no connector `strop`; did you mean `strap`?"],
    );
    case(
        "\"strap/h1\"",
        "\"strap/h2\"",
        &["26:56 fasteners[0].fills: the connector `strap` has no hole `h2`; did you mean `h1`?"],
    );
    case(
        "\"strap/h1\"",
        "\"strap\"",
        &["26:56 fasteners[0].fills: `strap` does not name a hole as connector/hole"],
    );
    case(
        "\"on\": \"ledger\"",
        "\"on\": \"leger\"",
        &["30:22 loads[0].on: there is no member `leger`; did you mean `ledger`?"],
    );
}

#[test]
fn wrong_kinds_and_missing_keys_are_told() {
    case(
        "\"size\": [38.1, 184.15]",
        "\"size\": [38.1]",
        &["9:61 members[0].outline.rectangle.size: this list needs 2 entries and has 1"],
    );
    case(
        "\"size\": [38.1, 184.15]",
        "\"size\": \"2x8\"",
        &[
            "9:61 members[0].outline.rectangle.size: the text `2x8` stands where a list of 2 (a size in millimetres, from 0.001 to 1,000,000) is wanted",
        ],
    );
    case(
        "\"depth\": [0, 1200], \"grain\": \"none\"",
        "\"grain\": \"none\"",
        &["11:5 members[1]: the key `depth` is missing here"],
    );
    case(
        "\"stock\": \"nail/common/16d\"",
        "\"stock\": 16",
        &["26:28 fasteners[0].stock: `16` stands where a text or an object is wanted"],
    );
    case(
        "\"stock\": \"nail/common/16d\"",
        "\"stock\": { \"kind\": \"nail\", \"diameter\": -3 }",
        &[
            "26:28 fasteners[0].stock: the key `length` is missing here",
            "26:58 fasteners[0].stock.diameter: `-3` is not allowed here: a size in millimetres, from 0.001 to 1,000,000",
        ],
    );
    case(
        "\"washers\": [\"head\"]",
        "\"washers\": [\"hat\", 3]",
        &[
            "28:19 fasteners[1].washers[0]: the text `hat` stands where one of \"head\", \"nut\" or an object is wanted",
            "28:26 fasteners[1].washers[1]: `3` stands where one of \"head\", \"nut\" or an object is wanted",
        ],
    );
    case(
        "\"grain\": \"none\"",
        "\"grain\": { \"in_plain\": 3 }",
        &[
            "13:38 members[1].grain.in_plain: `in_plain` is no key here; did you mean `in_plane`? (keys: in_plane)",
        ],
    );
    case(
        ", \"toward\": [1, 0, 0]",
        "",
        &["27:5 fasteners[1]: a fastener needs either `fills`, or both `head` and `toward`"],
    );
    case(
        "\"fills\": \"strap/h1\"",
        "\"fills\": \"strap/h1\", \"head\": [0, 0, 0]",
        &[
            "26:5 fasteners[0]: a fastener that fills a hole has its place there; leave out `head` and `toward`",
        ],
    );
    case(
        "\"bearing\": false",
        "\"bearing\": \"no\"",
        &["11:60 members[1].bearing: the text `no` stands where true or false is wanted"],
    );
}

#[test]
fn absurd_numbers_are_told_with_the_limit() {
    case(
        "[38.1, -50]",
        "[NaN, 1e999]",
        &[
            "12:33 members[1].outline.polygon[0][0]: `NaN` is not allowed here: a coordinate in millimetres, from -1,000,000 to 1,000,000",
            "12:38 members[1].outline.polygon[0][1]: a number too large to hold is not allowed here: a coordinate in millimetres, from -1,000,000 to 1,000,000",
        ],
    );
    case(
        "[38.1, -50]",
        "[-Infinity, 1e7]",
        &[
            "12:33 members[1].outline.polygon[0][0]: a number too large to hold is not allowed here: a coordinate in millimetres, from -1,000,000 to 1,000,000",
            "12:44 members[1].outline.polygon[0][1]: `10000000` is not allowed here: a coordinate in millimetres, from -1,000,000 to 1,000,000",
        ],
    );
    case(
        "\"thickness\": 1.5",
        "\"thickness\": 0",
        &[
            "21:22 connectors[0].plates[0].thickness: `0` is not allowed here: a size in millimetres, from 0.001 to 1,000,000",
        ],
    );
    case(
        "\"newtons\": 1870",
        "\"newtons\": -1",
        &["30:65 loads[0].newtons: `-1` is not allowed here: newtons, from 0 to 1,000,000,000"],
    );
    case(
        "\"diameter\": 12 ",
        "\"diameter\": 1e-9 ",
        &[
            "16:65 members[2].cutouts[0].round.diameter: `0.000000001` is not allowed here: a size in millimetres, from 0.001 to 1,000,000",
        ],
    );
}

#[test]
fn joints_that_make_no_sense_are_told() {
    case(
        "[63.5, -50], [63.5, 240], [38.1, 240]",
        "[63.5, 240], [63.5, -50], [38.1, 240]",
        &["12:31 members[1].outline.polygon: the outline crosses or touches itself at x 50.800, y 95.000"],
    );
    case(
        "[[38.1, -50], [63.5, -50], [63.5, 240], [38.1, 240]]",
        "[[0, 0], [1, 1], [2, 2]]",
        &["12:31 members[1].outline.polygon: the outline encloses no area"],
    );
    case(
        "\"depth\": [0, 1200]",
        "\"depth\": [1200, 1200]",
        &["10:16 members[0].depth: the depth is empty: it needs at least 0.001 mm"],
    );
    case(
        "\"depth\": [0, 1200]",
        "\"depth\": [1200, 0]",
        &[
            "10:16 members[0].depth: the depth runs backwards: first the far end, then the near one: [0, 1200]",
        ],
    );
    case(
        "\"id\": \"rim\"",
        "\"id\": \"ledger\"",
        &["14:13 members[2].id: the id `ledger` is taken: members[0] has it; every id is used once"],
    );
    case(
        "\"id\": \"n1\"",
        "\"id\": \"strap\"",
        &["26:13 fasteners[0].id: the id `strap` is taken: connectors[0] has it; every id is used once"],
    );
    case(
        "\"id\": \"n1\"",
        "\"id\": \" a/b\"",
        &[
            "26:13 fasteners[0].id: ` a/b` is no id: an id may not be empty, begin or end with a blank, or hold `/` or control characters",
        ],
    );
    case(
        "\"along\": 25",
        "\"along\": 151",
        &[
            "22:43 connectors[0].plates[0].holes[0].along: at 151 mm along the profile the hole of 4.4 mm does not lie within it; the profile is 150.000 mm long",
        ],
    );
    case(
        "\"depth\": 605, \"diameter\": 4.4",
        "\"depth\": 581, \"diameter\": 4.4",
        &[
            "22:56 connectors[0].plates[0].holes[0].depth: at depth 581 the hole of 4.4 mm does not lie within its plate, which has the depth 580 to 630",
        ],
    );
    case(
        "\"diameter\": 4.4",
        "\"diameter\": 51",
        &[
            "22:43 connectors[0].plates[0].holes[0].along: at 25 mm along the profile the hole of 51 mm does not lie within it; the profile is 150.000 mm long",
            "22:73 connectors[0].plates[0].holes[0].diameter: a hole of 51 mm is wider than its plate of 50 mm",
        ],
    );
    case(
        "\"toward\": [1, 0, 0]",
        "\"toward\": [0, 0, 0]",
        &["27:82 fasteners[1].toward: a direction needs a length: [0, 0, 0] points nowhere"],
    );
    case(
        "[[-0.75, 20], [-0.75, 170]], \"bend_radius\": 0",
        "[[0, 0], [0, 20], [20, 20], [20, 170]], \"bend_radius\": 12",
        &[
            "21:114 connectors[0].plates[0].bend_radius: a bend radius of 12 mm is too large: its bends take 24.000 mm of the leg from point 1 to 2, which has 20.000 mm",
        ],
    );
    case(
        "[[-0.75, 20], [-0.75, 170]]",
        "[[0, 20], [0, 170], [0, 60]]",
        &[
            "21:69 connectors[0].plates[0].profile[1]: the profile turns straight back here; give a fold as two bends with a short leg between",
        ],
    );
    case(
        "{ \"rectangle\": { \"corner\": [0, 0], \"size\": [38.1, 184.15], \"turn\": 0 } }",
        "{ \"i_section\": { \"corner\": [0, 0], \"size\": [44, 241], \"flange\": 121, \"web\": 50 } }",
        &[
            "9:82 members[0].outline.i_section.flange: two flanges of 121 mm leave no web in a height of 241 mm",
            "9:94 members[0].outline.i_section.web: a web of 50 mm is not narrower than the flanges of 44 mm",
        ],
    );
    case(
        "{ \"round\": { \"centre\": [80, 20], \"diameter\": 12 } }",
        "{ \"path\": \"M0 0 L5 5\" }",
        &["16:30 members[2].cutouts[0].path: loop 1 of the path is not closed: end it with Z"],
    );
}

#[test]
fn a_text_that_is_no_json_is_told_where_it_breaks() {
    case(
        "\"turn\": 0",
        "\"turn\": 0,",
        &["9:88 members[0].outline.rectangle: a key in quotes was expected after the comma; found `}`"],
    );
    case(
        "\"turn\": 0",
        "\"turn\" 0",
        &["9:84 members[0].outline.rectangle.turn: `:` was expected after the key; found `0`"],
    );
    case(
        "\"grain\": \"none\" }",
        "\"grain\": \"none\"",
        &["14:5 members[1]: a key in quotes was expected after the comma; found `{`"],
    );
    case(
        "[38.1, -50]",
        "[38.1, -050]",
        &["12:39 members[1].outline.polygon[0][1]: a number may not begin with a needless zero; found `-`"],
    );
    case(
        "Heron",
        "Heron\\q",
        &["4:12 title: a backslash in this text is followed by something that JSON does not know"],
    );
    check("", &["1:1 : a value was expected; the file ends here"]);
    check(
        &EXAMPLE[..500],
        &["12:66 members[1].outline.polygon[2]: `,` or `]` was expected after the value; the file ends here"],
    );
    check(
        &"[".repeat(100_000),
        &["1:65 : lists and objects stand more than 64 deep in each other; found `[`"],
    );
}

#[test]
fn another_format_and_a_later_version_are_told_first_and_alone() {
    case(
        "\"version\": 1",
        "\"version\": 2, \"members\": 3",
        &[
            "3:14 version: the file was written by a later Shankline: it has version 2, and this one reads versions up to 1. Use a later Shankline; the file was left as it is",
        ],
    );
    case(
        "shankline-joint",
        "shankline-check",
        &[
            "2:13 format: the format is `shankline-check`; a joint file is an object with \"format\": \"shankline-joint\"",
        ],
    );
    check("[]", &["1:1 : a joint file is an object with \"format\": \"shankline-joint\""]);
    check(
        "{}",
        &[
            "1:1 : the key `format` is missing; a joint file is an object with \"format\": \"shankline-joint\"",
        ],
    );
    check("{\"format\": \"shankline-joint\"}", &["1:1 : the key `version` is missing here"]);
}

#[test]
fn a_key_given_twice_is_told_at_its_second_place() {
    case(
        "\"grain\": \"none\"",
        "\"id\": \"foam\", \"grain\": \"none\"",
        &["13:27 members[1].id: the key `id` is given twice"],
    );
}

#[test]
fn everything_wrong_is_told_at_once_in_the_order_of_the_file() {
    let text = EXAMPLE
        .replace("\"title\"", "\"titel\"")
        .replace("\"bearing\": false", "\"baring\": false")
        .replace("\"depth\": [580, 630]", "\"depth\": [630, 580]")
        .replace("\"h1\", \"along\": 25", "\"h1\", \"along\": \"25\"")
        .replace("\"newtons\": 1870", "\"newtons\": true")
        .replace("lag-screw/0.375x4", "lag-screw/0.375x44");
    check(
        &text,
        &[
            "4:3 titel: `titel` is no key here; did you mean `title`? (keys: conditions, connectors, dimensions, fasteners, format, loads, members, notes, service, sheet, show_lengths_in, standard, title, version)",
            "11:49 members[1].baring: `baring` is no key here; did you mean `bearing`? (keys: bearing, blocking, cutouts, depth, grain, id, material, name, outline, treatment)",
            "21:36 connectors[0].plates[0].depth: the depth runs backwards: first the far end, then the near one: [580, 630]",
            "22:43 connectors[0].plates[0].holes[0].along: the text `25` stands where a length in millimetres, from 0 to 1,000,000 is wanted",
            "27:28 fasteners[1].stock: stock has no fastener `lag-screw/0.375x44`; did you mean `lag-screw/0.375x4`?",
            "30:65 loads[0].newtons: `true` stands where newtons, from 0 to 1,000,000,000 is wanted",
        ],
    );
}

#[test]
fn of_very_many_problems_fifty_are_told_and_the_rest_counted() {
    let holes = vec!["{}"; 1000].join(",");
    let text = EXAMPLE.replace("\"holes\": [", &format!("\"holes\": [{holes},"));
    let told = told(&text);
    assert_eq!(told.len(), 51);
    // Each hole lacks its keys, in one problem.
    assert_eq!(told[50], "22:166 : 950 more problems were found and are not listed");
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 512, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn a_joint_written_and_read_is_the_same_joint(joint in arbitrary::joint(&stock())) {
        let text = write(&joint);
        match read(&text, &stock()) {
            Ok(read) => {
                prop_assert_eq!(&read, &joint);
                // The same letters too: minus zero and the last bit of every number included.
                prop_assert_eq!(write(&read), text);
            }
            Err(problems) => prop_assert!(false, "{problems:?}\n{text}"),
        }
    }

    #[test]
    fn our_reader_of_json_takes_what_the_general_library_takes(text in json_like()) {
        let ours = json::parse(&text).map(|_| ()).map_err(|it| it.says);
        let theirs = serde_json::from_str::<serde_json::Value>(&text);
        prop_assert_eq!(ours.is_ok(), theirs.is_ok(), "{:?} {:?} {}", ours, theirs, text);
    }
}

/// Texts of the letters that JSON is made of, mostly broken, and small sound ones that were damaged.
fn json_like() -> impl Strategy<Value = String> {
    let sound = "[{\"a\": [1, -2.5e-3, true, false, null, \"x\\n\\u00e9\"], \"b\": {}}, [], 0.0, \"\"]";
    prop_oneof![
        "[\\[\\]{}\",:0-9eE+.\\\\untrfals -]{0,16}",
        (0..sound.len(), "[\\[\\]{}\",:0-9eE+.\\\\unt -]{0,2}").prop_map(move |(at, with)| {
            let mut text = sound.to_owned();
            text.replace_range(at..=at, &with);
            text
        }),
        Just(sound.to_owned()),
    ]
}

#[test]
fn the_tree_reads_into_the_same_types_as_the_general_library() {
    let tree = json::parse(EXAMPLE).unwrap();
    let ours = types::File::deserialize(&tree).unwrap();
    let theirs: types::File = serde_json::from_str(EXAMPLE).unwrap();
    assert_eq!(ours, theirs);
}

#[test]
fn a_rating_and_the_conditions_are_read_kept_and_refused() {
    let rated = |rating: &str| {
        let from = "\"id\": \"strap\",";
        assert!(EXAMPLE.contains(from));
        EXAMPLE.replacen(from, &format!("{from} \"rating\": {rating},"), 1)
    };
    let sound = rated(
        "{ \"newtons\": 4000, \"toward\": [0, -1, 0], \"presumes\": { \"holes\": \"all\", \"stock\": \"nail/common/16d\" } }",
    )
    .replacen(
        "\"loads\"",
        "\"conditions\": { \"wet_when_made\": true, \"heat\": \"warm\", \"gamma_m\": 1.2 }, \"loads\"",
        1,
    );
    let joint = read(&sound, &stock()).unwrap();
    let rating = joint.connectors[0].rating.as_ref().unwrap();
    assert_eq!((rating.newtons, rating.holes), (4000.0, crate::joint::RatedHoles::All));
    assert_eq!(rating.spec.as_ref().unwrap().id, "nail/common/16d");
    assert_eq!(joint.conditions.heat, crate::joint::Heat::Warm);
    assert_eq!(joint.conditions.gamma_m, Some(1.2));
    assert_eq!(read(&write(&joint), &stock()).unwrap(), joint);
    for (rating, part) in [
        (
            "{ \"newtons\": 1, \"toward\": [0, 0, 0] }",
            "connectors[0].rating.toward: a direction needs a length",
        ),
        ("{ \"newtons\": -1, \"toward\": [0, 1, 0] }", "connectors[0].rating.newtons: "),
        (
            "{ \"newtons\": 1, \"toward\": [0, 1, 0], \"presumes\": { \"stock\": \"nail/common/17d\" } }",
            "connectors[0].rating.presumes.stock: stock has no fastener",
        ),
        (
            "{ \"newtons\": 1, \"toward\": [0, 1, 0], \"presumes\": { \"holes\": \"some\" } }",
            "connectors[0].rating.presumes.holes: ",
        ),
    ] {
        let said = told(&rated(rating));
        assert!(said.len() == 1 && said[0].contains(part), "{rating}: {said:?}");
    }
    // A joint without either is written as before.
    assert!(!write(&read(EXAMPLE, &stock()).unwrap()).contains("conditions"));
}
