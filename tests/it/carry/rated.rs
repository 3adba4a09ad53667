//! A typed-in rating: is the fastening as drawn still the one that it presumes?

use std::sync::Arc;

use shankline::findings::{Kind, Severity, judge};
use shankline::joint::{Joint, RatedHoles, Rating};
use shankline::stock::Stock;
use shankline::trace::trace;
use shankline::unit::Vec3;

use super::{carried, load, near, strapped};

fn rated() -> Joint {
    let mut joint = strapped(3, 3);
    joint.connectors[0].rating = Some(Rating {
        newtons: 3000.0,
        toward: Vec3::X,
        holes: RatedHoles::Required,
        spec: Some(Arc::clone(&Stock::built_in().fasteners["nail/metric/4x60"])),
        note: "from the label".to_owned(),
    });
    joint
}

#[test]
fn a_fastening_that_is_presumed_is_not_spoken_of() {
    let joint = rated();
    let carrying = carried(&joint);
    assert!(carrying.ratings[0].differs.is_empty(), "{:?}", carrying.ratings[0]);
    assert!(judge(&joint, &trace(&joint)).list.iter().all(|it| it.kind != Kind::BelowRating));
}

/// One of three nails on the left is missing: the two that are left carry two thirds.
#[test]
fn an_empty_hole_is_named_and_told_as_an_indication() {
    let mut joint = rated();
    joint.fasteners.remove(1);
    let it = &carried(&joint).ratings[0];
    assert_eq!(it.differs.iter().map(|it| it.says.as_str()).collect::<Vec<_>>(), ["hole h1 is empty"]);
    // The rope effect counts as drawn and not as presumed, and the row of nails in the other direction.
    let ratio = it.ratio.expect("both have values");
    assert!((0.6..0.8).contains(&ratio), "{ratio}");
    let findings = judge(&joint, &trace(&joint));
    let told = findings.list.iter().find(|it| it.kind == Kind::BelowRating).expect("it is told");
    assert_eq!(
        (told.severity, &told.subjects),
        (Severity::Caution, &vec!["strap".to_owned(), "h1".to_owned()])
    );
    assert!(
        told.says.contains("hole h1 is empty") && told.says.contains("an indication, not a rating"),
        "{}",
        told.says
    );
    near(told.measured.expect("a number"), ratio, 1e-12);
}

#[test]
fn a_thinner_nail_and_a_gap_are_named() {
    let mut joint = rated();
    joint.fasteners[0].spec = Arc::clone(&Stock::built_in().fasteners["nail/metric/3.1x80"]);
    let says = |joint: &Joint| {
        carried(joint).ratings[0].differs.iter().map(|it| it.says.clone()).collect::<Vec<_>>()
    };
    let said = says(&joint);
    assert!(said.contains(&"No. 1 is 3.1 mm thick and not 4 mm".to_owned()), "{said:?}");
    // The strap stands off the left joist by 3 mm.
    let mut joint = rated();
    joint.members[0] = super::block(
        "left",
        "lumber/C24",
        [-800.0, 0.0],
        [0.0, 192.0],
        shankline::joint::Grain::InPlane(0.0),
    );
    let said = says(&joint);
    assert_eq!(said.len(), 3, "{said:?}");
    assert!(said[0].starts_with("No. 1 crosses 3 mm"), "{said:?}");
}

#[test]
fn a_load_beyond_the_rating_is_a_fault() {
    let mut joint = rated();
    joint.loads = vec![load("right", [1.0, 0.0, 0.0], 3500.0)];
    let findings = judge(&joint, &trace(&joint));
    let told = findings.list.iter().find(|it| it.subjects == ["strap"]).expect("it is told");
    assert_eq!((told.kind, told.severity, told.unit), (Kind::Overloaded, Severity::Fault, "N"));
    near(told.measured.expect("a number"), 3500.0, 1e-9);
    near(told.required.expect("a number"), 3000.0, 0.0);
    assert_eq!(told.source, "rating as typed");
    near(carried(&joint).ratings[0].demand_n.expect("it is loaded"), 3500.0, 1e-9);
}
