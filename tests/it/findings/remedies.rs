//! Remedies: what is said, and that the change itself does what is said.

use std::sync::Arc;

use shankline::findings::{Findings, Kind, Severity, judge, with_remedies};
use shankline::joint::edit::apply;
use shankline::joint::{Fastener, Joint, Treatment};
use shankline::stock::{FastenerKind, FastenerSpec, Stock};
use shankline::trace::trace;

use super::build::*;
use super::{cases, judged, told};

/// A shelf of a few sizes, their measures from NDS 2018 Tables L2 and L4.
fn shelf() -> Stock {
    let nail = |penny: &str, diameter: f64, length: f64| {
        let label = format!("{penny} common nail");
        spec(&format!("nail/common/{penny}"), &label, FastenerKind::Nail, diameter, length)
    };
    let nails = [
        nail("8d", 0.131, 2.5),
        nail("10d", 0.148, 3.0),
        nail("12d", 0.148, 3.25),
        nail_16d(),
        nail("20d", 0.192, 4.0),
        nail("30d", 0.207, 4.5),
    ];
    let specs: Vec<FastenerSpec> =
        nails.into_iter().chain([3.0, 4.0, 5.0, 6.0].map(lag)).chain([5.5, 6.0, 7.0].map(bolt)).collect();
    Stock {
        fasteners: specs.into_iter().map(|it| (it.id.clone(), Arc::new(it))).collect(),
        washers: vec![washer(0.375), washer(0.5)],
        ..Stock::default()
    }
}

fn mended(joint: &Joint) -> Findings {
    with_remedies(joint, &shelf(), judged(joint))
}

/// What the remedy of the first finding of this kind says.
fn says(joint: &Joint, kind: Kind) -> Option<String> {
    let findings = mended(joint);
    let finding = findings.list.iter().find(|it| it.kind == kind).expect("the finding is there");
    finding.remedy.as_ref().map(|it| it.says.clone())
}

#[track_caller]
fn case(name: &str, kind: Kind, expected: Option<&str>) {
    let joint = cases::all().into_iter().find(|it| it.name == name).expect("there is such a case").joint;
    assert_eq!(says(&joint, kind).as_deref(), expected, "{name}");
}

#[test]
fn each_remedy_is_the_nearest_that_was_tried_and_proved() {
    // Rim 1 in: the longest shorter nail is the 12d, 82.55 - 63.5 = 19.05 out; the 10d 12.7 out; the
    // 8d ends at 63.5, flush with the back, with 25.4 of bite, over 6 D = 6 x 3.3274 = 19.96.
    case(
        "a thin rim",
        Kind::PointOut,
        Some("An 8d common nail, 2 1/2\" long, stays in and has 1\" of bite."),
    );
    // Rim 2 in, washer 0.083: 4 in of lag reach 3.917 in, 2.417 past the ledger: out. 3 in reach 2.917: bite
    // 1.417 in, 1.198 without the tip: less than 1 1/2 in, so that is no remedy, and there is none.
    case("a lag screw through a thick rim", Kind::PointOut, None);
    // Ledger 72 mm: the 20d is 101.6 long: bite 29.6, over 6 D = 29.26.
    case(
        "a thick ledger",
        Kind::ShortBite,
        Some("A 20d common nail, 4\" long, stays in and has 1 1/8\" of bite."),
    );
    case("a short bolt", Kind::BoltShort, Some("A 1/2\" x 6\" bolt leaves 7/8\" for washer and nut."));
    case("no washer under a bolt's head", Kind::Washer, Some("A washer 1 3/8\" across under the head does."));
    case("a head driven too far", Kind::Overdriven, Some("Driven flush, it is right."));
    case("a head left proud", Kind::Proud, Some("Driven flush, it is right."));
    case("a floating head", Kind::HeadSeat, Some("Moved 7/16\" along its axis, the head is seated."));
    case("a bright nail in treated wood", Kind::Finish, Some("Hot-dip galvanized steel does."));
    case(
        "a nail out of its guide",
        Kind::WrongAngle,
        Some("Driven as the hole guides it, the angle is right."),
    );
    // 88.9 - 1.5 of steel - 38.1 of ledger = 49.3 mm.
    case(
        "a hole left empty",
        Kind::EmptyHole,
        Some("A 16d common nail, 3 1/2\" long, fills the hole and has 1 15/16\" of bite."),
    );
    case("a bolt in a wide hole", Kind::OversizeHole, Some("A hole 9/16\" wide and 6\" deep does."));
    // 50.8 - 40 = 10.8 mm, 7/16 in is 11.1.
    let moved = |by: &str| format!("Moved {by}, it has the room that is asked for.");
    case("a bolt near the loaded edge", Kind::EdgeDistance, Some(&moved("7/16\" down")));
    // 20.574 - 18 = 2.574 mm, 1/8 in is 3.175.
    case("two nails side by side", Kind::Spacing, Some(&moved("1/8\" away from the viewer")));
    // Not the 1.06 mm that the cover wants: the edge distance of 2.5 D = 10.287 wants 9.287, 3/8 in is 9.525.
    case("a nail in the edge of the rim", Kind::BreaksOut, Some(&moved("3/8\" up")));
    // Nothing in the drawing of a gap can be changed by the choice of a fastener.
    case("a gap of one millimetre", Kind::Gap, None);
}

#[test]
fn a_remedy_applied_does_what_it_says() {
    for case in cases::all() {
        let findings = mended(&case.joint);
        for finding in findings.list.iter().filter(|it| it.remedy.is_some()) {
            let mut joint = case.joint.clone();
            apply(&mut joint, &finding.remedy.as_ref().expect("it was asked").edit);
            let after = judged(&joint);
            let left = after.list.iter().any(|it| it.kind == finding.kind && it.subjects == finding.subjects);
            let grave = |it: &Findings| it.list.iter().filter(|it| it.severity != Severity::Note).count();
            assert!(!left && grave(&after) < grave(&findings), "{}\n{}", case.name, told(&after));
        }
    }
}

#[test]
fn a_remedy_that_would_hurt_a_neighbour_is_not_offered() {
    // Two nails one in another, 3 mm apart: n1 wants 5 D = 20.574 along the grain from both n2 and n3, or to
    // leave their line across it.
    let mut joint = nailed();
    for (id, z) in [("n2", 603.0), ("n3", 575.0)] {
        joint.fasteners.push(driven(id, nail_16d(), [0.0, 120.0, z], [1.0, 0.0, 0.0]));
    }
    let findings = mended(&joint);
    let clash = findings.list.iter().find(|it| it.kind == Kind::Clash).expect("it was found");
    let remedy = clash.remedy.as_ref().expect("there is room");
    let mut after = joint.clone();
    apply(&mut after, &remedy.edit);
    assert!(judged(&after).list.is_empty(), "{}\n{}", remedy.says, told(&judged(&after)));
}

#[test]
fn an_empty_hole_over_a_gap_is_filled_all_the_same() {
    // Any nail in the hole crosses the 1 mm gap; that is told of the nail and does not speak against it.
    let mut joint =
        cases::all().into_iter().find(|it| it.name == "a hole left empty").expect("it is there").joint;
    joint.members[1] = block("rim", [39.1, 128.0], [0.0, 234.95]);
    assert!(says(&joint, Kind::EmptyHole).is_some());
}

#[test]
fn the_work_is_bounded_in_a_large_joint() {
    let mut joint = nailed();
    joint.members[1].treatment = Treatment::Preservative;
    let nail = joint.fasteners[0].clone();
    joint.fasteners = (0..120)
        .map(|n| Fastener {
            id: format!("n{n}"),
            ..driven("", nail_16d(), [0.0, 120.0, f64::from(n).mul_add(100.0, 100.0)], [1.0, 0.0, 0.0])
        })
        .map(|it| Fastener { finish: nail.finish, ..it })
        .collect();
    for member in &mut joint.members {
        member.depth.to = 13_000.0;
    }
    let findings = with_remedies(&joint, &shelf(), judge(&joint, &trace(&joint)));
    assert_eq!(findings.list.len(), 120, "{}", told(&findings));
    assert_eq!(findings.list.iter().filter(|it| it.remedy.is_some()).count(), 50);
}
