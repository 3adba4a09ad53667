//! Members by their sizes and drawn by hand.

use std::f64::consts::PI;
use std::sync::Arc;

use kurbo::Point;

use super::cut::{cut, uncut};
use super::draw::{Side, board, path, polygon, rectangle, round};
use super::section::{Section, Seen, Stands};
use super::*;
use crate::joint::edit::apply;
use crate::joint::file;
use crate::stock::{Family, Stock};
use crate::unit::LengthUnit;

fn at(x: f64, y: f64) -> Point {
    Point::new(x, y)
}

fn area(outline: &Outline) -> f64 {
    outline_region(outline).area_mm2()
}

#[test]
fn sizes_are_read_as_the_trade_says_them() {
    let stock = Stock::built_in();
    let read =
        |text: &str, unit| Section::typed(text, Family::Lumber, unit, &stock).map_err(|it| it.to_string());
    // PS 20: a 2x10 is 1 1/2" by 9 1/4" (from memory).
    for text in [
        "2x10",
        " 2 X 10 ",
        "2×10",
        "1 1/2\" x 9 1/4\"",
        "9.25 in x 1.5 in",
        "38.1 mm x 234.95 mm",
        "38.1 x 234.95 mm",
    ] {
        let found = read(text, LengthUnit::Inch).unwrap();
        assert!((found.thickness_mm - 38.1).abs() < 1e-9 && (found.depth_mm - 234.95).abs() < 1e-9, "{text}");
    }
    // A size that stock has no nominal one for is actual, in the unit of the joint.
    let found = read("45 x 203", LengthUnit::Millimetre).unwrap();
    assert!((found.thickness_mm - 45.0).abs() < 1e-9 && (found.depth_mm - 203.0).abs() < 1e-9);
    assert!(read("timber", LengthUnit::Inch).unwrap_err().contains("is no size"));
    assert!(read("2x", LengthUnit::Inch).is_err());
    assert!(read("1/0 x 3", LengthUnit::Inch).unwrap_err().contains("0 below the line"));
    assert!(read("0.001\" x 3\"", LengthUnit::Inch).unwrap_err().contains("no size that a member has"));
    let panel = stock.sections.iter().find(|it| it.id == "panel/23/32").unwrap();
    assert!(Section::of(panel, None).is_err());
    assert!((Section::of(panel, Some(1219.2)).unwrap().depth_mm - 1219.2).abs() < 1e-9);
}

#[test]
fn a_section_is_placed_in_each_of_its_views() {
    let stock = Stock::built_in();
    let joist = Section::typed("2x10", Family::Lumber, LengthUnit::Inch, &stock).unwrap();
    let placed = |seen, stands| joist.placed((seen, stands), (at(5.0, 6.0), 10.0), 1000.0);
    let rectangle = |x, y| Outline::Rectangle { corner: at(5.0, 6.0), size_mm: (x, y), turn_deg: 0.0 };
    let depth = |mm: f64| Interval { from: 10.0, to: 10.0 + mm };
    for (found, wanted) in [
        (placed(Seen::Across, Stands::OnEdge), (rectangle(38.1, 234.95), depth(1000.0), Grain::AlongDepth)),
        (placed(Seen::Across, Stands::Flat), (rectangle(234.95, 38.1), depth(1000.0), Grain::AlongDepth)),
        (placed(Seen::Side, Stands::OnEdge), (rectangle(1000.0, 234.95), depth(38.1), Grain::InPlane(0.0))),
        (placed(Seen::Edge, Stands::OnEdge), (rectangle(1000.0, 38.1), depth(234.95), Grain::InPlane(0.0))),
    ] {
        assert_eq!(found, wanted);
    }
    let i = Section::of(stock.sections.iter().find(|it| it.i_section_mm.is_some()).unwrap(), None).unwrap();
    for stands in [Stands::OnEdge, Stands::Flat] {
        let (outline, ..) = i.placed((Seen::Across, stands), (at(5.0, 6.0), 0.0), 100.0);
        let bounds = outline_region(&outline).bounds();
        assert!((bounds.x0 - 5.0).abs() < 1e-9 && (bounds.y0 - 6.0).abs() < 1e-9, "{bounds:?}");
        assert!(matches!(outline, Outline::ISection { .. }));
    }
}

#[test]
fn what_is_drawn_by_hand_encloses_what_it_should() {
    assert!((area(&rectangle(at(10.0, 20.0), at(0.0, 0.0)).unwrap()) - 200.0).abs() < 1e-9);
    assert!(rectangle(at(0.0, 0.0), at(0.0, 10.0)).is_err());
    let corners = [at(0.0, 0.0), at(10.0, 0.0), at(10.0, 10.0), at(10.0, 10.0), at(0.0, 0.0)];
    let Outline::Polygon(kept) = polygon(&corners).unwrap() else { panic!("a polygon") };
    assert_eq!(kept.len(), 3);
    let crossed = [at(0.0, 0.0), at(10.0, 10.0), at(10.0, 0.0), at(0.0, 10.0)];
    assert!(polygon(&crossed).unwrap_err().to_string().contains("crosses"));
    assert!(polygon(&corners[..2]).is_err());
    assert!((area(&round(at(0.0, 0.0), at(3.0, 4.0)).unwrap()) - 25.0 * PI).abs() < 1e-9);
    assert!(round(at(0.0, 0.0), at(0.0, 0.0)).is_err());
    // A half circle of radius 5 on a square of 10, drawn either way; three quarters of a circle; a straight arc.
    let half = [
        Side::Line(at(10.0, 0.0)),
        Side::Line(at(10.0, 10.0)),
        Side::Arc { through: at(5.0, 15.0), to: at(0.0, 10.0) },
    ];
    assert!((area(&path(at(0.0, 0.0), &half).unwrap()) - (100.0 + 12.5 * PI)).abs() < 1e-6);
    let hollow = [half[0], half[1], Side::Arc { through: at(5.0, 5.0), to: at(0.0, 10.0) }];
    assert!((area(&path(at(0.0, 0.0), &hollow).unwrap()) - (100.0 - 12.5 * PI)).abs() < 1e-6);
    let most = [Side::Arc { through: at(-3.0, -4.0), to: at(0.0, 5.0) }, Side::Line(at(0.0, 0.0))];
    let (three, found) = (0.75 * 25.0 * PI, path(at(5.0, 0.0), &most));
    // From (5, 0) through (-3, -4) to (0, 5) is the way round by three quarters.
    assert!((area(&found.unwrap()) - three).abs() < 1e-6);
    let straight = [half[0], half[1], Side::Arc { through: at(5.0, 10.0), to: at(0.0, 10.0) }];
    assert!((area(&path(at(0.0, 0.0), &straight).unwrap()) - 100.0).abs() < 1e-9);
    let leaning = board(at(0.0, 0.0), at(30.0, 40.0), 10.0).unwrap();
    assert!((area(&leaning) - 500.0).abs() < 1e-9);
    assert!(board(at(0.0, 0.0), at(30.0, 40.0), -1.0).is_err());
}

#[test]
fn notches_and_holes_are_cut_and_taken_back() {
    let stock = Stock::built_in();
    let wood: &Arc<_> = &stock.materials["lumber/hem-fir"];
    let mut joint = Joint::default();
    let depth = (Interval { from: 0.0, to: 40.0 }, Grain::InPlane(0.0));
    let outline = rectangle(at(0.0, 0.0), at(100.0, 50.0)).unwrap();
    let edit = added(&joint, "Floor joist", wood, outline.clone(), depth).unwrap();
    let _ = apply(&mut joint, &edit);
    assert_eq!(
        (joint.members[0].id.as_str(), joint.members[0].name.as_str()),
        ("floor-joist", "Floor joist")
    );
    let edit = added(&joint, "Floor joist", wood, outline.clone(), depth).unwrap();
    let Edit::Members(Change::Insert { at: 1, new }) = edit else { panic!("behind the first") };
    assert_eq!(new.id, "floor-joist-2");
    let foam = added(&joint, "foam", &stock.materials["filling/foam"], outline.clone(), depth).unwrap();
    let Edit::Members(Change::Insert { new, .. }) = foam else { panic!("one member") };
    assert!(!new.bearing && new.grain == Grain::None && new.name.is_empty());
    let no_depth = (Interval { from: 1.0, to: 1.0 }, Grain::None);
    assert!(added(&joint, "flat", wood, outline, no_depth).is_err());
    let hole = round(at(50.0, 25.0), at(55.0, 25.0)).unwrap();
    let edit = cut(&joint, "floor-joist", &hole).unwrap();
    let _ = apply(&mut joint, &edit);
    let notch = rectangle(at(90.0, 40.0), at(120.0, 60.0)).unwrap();
    let edit = cut(&joint, "floor-joist", &notch).unwrap();
    let _ = apply(&mut joint, &edit);
    let left = crate::trace::trace(&joint).bodies[0].region.area_mm2();
    assert!((left - (5000.0 - 25.0 * PI - 100.0)).abs() < 1e-6, "{left}");
    assert!(cut(&joint, "floor-joist", &notch).unwrap_err().to_string().contains("does not meet"));
    let beside = rectangle(at(200.0, 0.0), at(210.0, 10.0)).unwrap();
    assert!(cut(&joint, "floor-joist", &beside).is_err());
    let all = rectangle(at(-10.0, -10.0), at(200.0, 100.0)).unwrap();
    assert!(cut(&joint, "floor-joist", &all).unwrap_err().to_string().contains("leaves nothing"));
    assert!(cut(&joint, "nobody", &hole).is_err());
    assert!(file::read(&file::write(&joint), &stock).is_ok());
    let edit = uncut(&joint, "floor-joist", 0).unwrap();
    let _ = apply(&mut joint, &edit);
    assert_eq!(joint.members[0].cutouts, [notch]);
    assert!(uncut(&joint, "floor-joist", 7).is_err());
}
