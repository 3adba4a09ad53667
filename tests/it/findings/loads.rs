//! Which edge is loaded, and what is told when no load is given.

use shankline::findings::{Kind, Severity};
use shankline::joint::{Duration, Joint, Load};
use shankline::unit::Vec3;

use super::build::{block, bolted};
use super::{judged, told};

/// The bolt 40 mm below the ledger's upper edge, loaded so, or not at all.
fn near_the_upper_edge(toward: Option<Vec3>, on: &str) -> Joint {
    let mut joint = bolted();
    joint.members[0] = block("ledger", [0.0, 38.1], [0.0, 160.0]);
    joint.loads = toward
        .into_iter()
        .map(|toward| Load { on: on.to_owned(), toward, newtons: None, duration: Duration::TenYears })
        .collect();
    joint
}

/// The severity of the edge distance, or nothing.
fn edge(joint: &Joint) -> Option<Severity> {
    judged(joint).list.iter().find(|it| it.kind == Kind::EdgeDistance).map(|it| it.severity)
}

#[test]
fn the_shank_pushes_the_loaded_member_back_and_every_other_along() {
    // 40 mm is less than 4 D = 50.8 for a loaded edge and more than 1.5 D = 19.05 for another
    // (NDS 2018 Table 12.5.1C).
    let (down, up) = (-Vec3::Y, Vec3::Y);
    assert_eq!(edge(&near_the_upper_edge(Some(down), "ledger")), Some(Severity::Fault));
    assert_eq!(edge(&near_the_upper_edge(Some(up), "ledger")), None);
    // The same forces, drawn as what acts on the rim.
    assert_eq!(edge(&near_the_upper_edge(Some(up), "rim")), Some(Severity::Fault));
    assert_eq!(edge(&near_the_upper_edge(Some(down), "rim")), None);
    // Along the grain no edge is loaded.
    assert_eq!(edge(&near_the_upper_edge(Some(Vec3::Z), "ledger")), None);
}

#[test]
fn of_several_loads_each_counts() {
    let mut joint = near_the_upper_edge(Some(Vec3::Y), "ledger");
    joint.loads.push(Load { toward: -Vec3::Y, ..joint.loads[0].clone() });
    let findings = judged(&joint);
    assert_eq!(edge(&joint), Some(Severity::Fault), "{}", told(&findings));
    assert!(findings.not_checked.iter().any(|it| it.starts_with("Loads acting together")));
}

#[test]
fn without_a_load_what_depends_on_it_is_a_caution_and_says_so() {
    let joint = near_the_upper_edge(None, "ledger");
    let findings = judged(&joint);
    assert_eq!(edge(&joint), Some(Severity::Caution));
    let finding = findings.list.iter().find(|it| it.kind == Kind::EdgeDistance).expect("it was found");
    assert_eq!(
        finding.says,
        "The shank lies 1 9/16\" from the upper edge of the ledger. No load is given: should it be pushed \
         that way, 2\" (4 D) is asked for."
    );
    assert!(findings.not_checked.iter().any(|it| it.starts_with("Load: none is given")));
}

#[test]
fn without_a_load_what_fails_in_any_case_is_told_as_its_source_has_it() {
    let mut joint = near_the_upper_edge(None, "ledger");
    joint.members[0] = block("ledger", [0.0, 38.1], [0.0, 135.0]);
    // 15 mm is less than 1.5 D = 19.05 whatever the load.
    let findings = judged(&joint);
    let finding = findings.list.iter().find(|it| it.kind == Kind::EdgeDistance).expect("it was found");
    assert_eq!(finding.severity, Severity::Fault, "{}", told(&findings));
    assert!((finding.required.expect("it is known") - 19.05).abs() < 1e-9, "{}", told(&findings));
}

/// A load that comes to nothing with a value is no load that something was held against.
#[test]
fn what_was_not_checked_says_so_until_a_load_is_held_against_a_value() {
    let capacity = |joint: &Joint| judged(joint).not_checked[0].clone();
    let mut joint = bolted();
    joint.loads[0].newtons = None;
    assert!(capacity(&joint).starts_with("Capacity: no load of known size"), "{}", capacity(&joint));
    joint.members.push(block("joist", [400.0, 500.0], [0.0, 200.0]));
    joint.loads[0].on = "joist".to_owned();
    joint.loads[0].newtons = Some(3000.0);
    assert!(capacity(&joint).starts_with("Capacity: no load comes to"), "{}", capacity(&joint));
    // Nobody knows at what the bolt bends (NDS 2018 12.3.1 asks for F_yb), so that it has no value.
    joint.loads[0].on = "ledger".to_owned();
    assert!(capacity(&joint).starts_with("Capacity: no load comes to"), "{}", capacity(&joint));
    let mut spec = (*joint.fasteners[0].spec).clone();
    spec.bending_yield_mpa = Some(310.0);
    joint.fasteners[0].spec = std::sync::Arc::new(spec);
    assert!(capacity(&joint).starts_with("Capacity beyond equal shares"), "{}", capacity(&joint));
}

/// 28 mm is less than the 4 D = 38.1 that a lag screw in withdrawal must have to an end (NDS 2018 Table 12.5.1E, from
/// memory); pushed across the grain it may stand there at less than its full value (Table 12.5.1B).
#[test]
fn a_lag_screw_that_is_pulled_has_the_distances_of_withdrawal() {
    use shankline::joint::Placement;
    let end = |toward: Vec3| {
        let mut joint = super::build::lagged(4.0);
        joint.loads[0].toward = toward;
        if let Placement::Free { head, .. } = &mut joint.fasteners[0].place {
            head.z = 1200.0 - 28.0;
        }
        let found = judged(&joint).list.into_iter().find(|it| it.kind == Kind::EndDistance);
        found.map(|it| (it.severity, it.required.map(|it| (it * 1e3).round() / 1e3)))
    };
    assert_eq!(end(-Vec3::X), Some((Severity::Fault, Some(38.1))));
    assert_eq!(end(-Vec3::Y), Some((Severity::Caution, Some(38.1))));
}
