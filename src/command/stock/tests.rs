//! The list as people and programs read it.

use super::*;

fn text(kind: &str) -> String {
    list(&Stock::built_in(), Some(kind), false).expect("the kind is in stock")
}

#[test]
fn a_table_is_aligned_and_names_its_sources() {
    let expected = "\
nail/common
  name             diameter  length  head    height  root  thread  point   label                              source
  nail/common/6d   0.113\"    2\"      0.266\"  -       -     -       0.226\"  common nail 0.113\" x 2\" (6d)       [1]
";
    let shown = text("nail/common");
    assert!(shown.starts_with(expected), "{shown}");
    assert!(shown.ends_with("[1]\n  [1] NDS 2018 Table L4 (ASTM F1667)\n"), "{shown}");
    assert_eq!(shown.lines().count(), 2 + 11 + 1);
}

#[test]
fn each_table_is_in_its_own_unit() {
    let bolts = text("bolt");
    assert!(bolts.contains("bolt/inch/0.5x6 "), "{bolts}");
    assert!(bolts.contains("bolt/metric/12x140  12 mm     140 mm"), "{bolts}");
    let sizes = text("size");
    assert!(sizes.contains("  sawn/2x10 "), "{sizes}");
    assert!(sizes.contains("\npanel\n") && sizes.contains("\nsawn/metric\n"), "{sizes}");
    assert!(text("lumber").contains("lumber/hem-fir "));
    assert!(text("washer").contains("washer/metric/12 "));
    assert!(text("masonry-screw").contains("[1] common practice: "));
}

#[test]
fn every_kind_lists_something_and_an_unknown_one_names_them() {
    let stock = Stock::built_in();
    for kind in kinds() {
        assert!(list(&stock, Some(kind), false).is_ok_and(|it| 3 < it.lines().count()), "{kind}");
    }
    let refused = list(&stock, Some("rivet"), false).expect_err("there are no rivets");
    assert!(refused.starts_with("there is no kind `rivet` in stock; choose one of nail, wood-screw, "));
    assert!(list(&stock, Some("nai"), false).is_err());
    assert!(list(&stock, Some(""), true).is_err());
}

#[test]
fn programs_get_numbers_with_their_units_that_read_back() {
    let stock = Stock::built_in();
    let printed = list(&stock, None, true).expect("everything is listed");
    let read: serde_json::Value = serde_json::from_str(&printed).expect("it is JSON");
    assert_eq!(read["format"], "shankline-stock");
    let count = |key: &str| read[key].as_array().map_or(0, Vec::len);
    assert_eq!(count("fasteners"), stock.fasteners.len());
    assert_eq!(count("materials"), stock.materials.len());
    assert_eq!(count("sizes"), stock.sections.len());
    assert_eq!(count("washers"), stock.washers.len());
    let nail = read["fasteners"]
        .as_array()
        .and_then(|it| it.iter().find(|it| it["id"] == "nail/common/16d"))
        .expect("the nail is listed");
    assert_eq!(nail["diameter_mm"], 4.1148);
    assert_eq!(nail["length_mm"], 88.9);
    assert_eq!(nail["root_mm"], serde_json::Value::Null);
}
