//! Timber pushed across its grain: held against EN 1995-1-1 8.1.4, equation 8.4, worked out here by hand.

use shankline::findings::{Kind, Severity, judge};
use shankline::joint::{Duration, Grain, Interval, Joint, StandardId};
use shankline::trace::trace;

use super::{block, carried, driven, load, near};

/// A C24 beam, 50 thick and 200 high, on the face of a C24 post, with bolts so far below its upper edge. The
/// load pulls the beam down, so that the bolts push it up towards that edge.
fn beam(down_mm: &[f64], newtons: f64) -> Joint {
    let mut beam = block("beam", "lumber/C24", [0.0, 1000.0], [0.0, 200.0], Grain::InPlane(0.0));
    beam.depth = Interval { from: 50.0, to: 100.0 };
    let mut post = block("post", "lumber/C24", [400.0, 600.0], [-500.0, 700.0], Grain::InPlane(90.0));
    post.depth = Interval { from: 0.0, to: 50.0 };
    let bolt = |(n, down): (usize, &f64)| {
        driven(&format!("b{n}"), "bolt/metric/12x140", [500.0, 200.0 - down, 100.0], [0.0, 0.0, -1.0])
    };
    Joint {
        standard: StandardId::En199511,
        members: vec![beam, post],
        fasteners: down_mm.iter().enumerate().map(bolt).collect(),
        loads: vec![load("beam", [0.0, -1.0, 0.0], newtons)],
        ..Joint::default()
    }
}

/// `14 b (h_e / (1 - h_e / h))^0.5` in N and mm.
fn by_hand(far_mm: f64) -> f64 {
    14.0 * 50.0 * (far_mm / (1.0 - far_mm / 200.0)).sqrt()
}

#[test]
fn a_beam_splits_by_its_farthest_bolt_from_the_edge_that_it_is_pushed_towards() {
    for (places, far_mm) in [(vec![60.0], 60.0), (vec![60.0, 140.0], 140.0)] {
        let carrying = carried(&beam(&places, 4000.0));
        let it =
            carrying.splits.iter().find(|it| it.member == "beam").expect("it is pushed across its grain");
        let value = it.value.as_ref().expect("softwood has a value");
        near(value.reference_n, by_hand(far_mm), 1e-6);
        // Table 3.1, long-term in service class 1: 0.7; Table 2.3: 1.3.
        near(value.adjusted_n, by_hand(far_mm) * 0.7 / 1.3, 1e-6);
        near(it.demand_n, 4000.0, 1e-9);
        near(it.ratio.expect("it has a value"), 4000.0 / value.adjusted_n, 1e-12);
        // The post is pushed along its grain.
        assert!(carrying.splits.iter().all(|it| it.member == "beam"), "{:?}", carrying.splits);
    }
}

#[test]
fn pushed_the_other_way_the_other_edge_is_the_loaded_one() {
    let mut joint = beam(&[60.0], 4000.0);
    joint.loads = vec![load("beam", [0.0, 1.0, 0.0], 4000.0)];
    let carrying = carried(&joint);
    near(carrying.splits[0].value.as_ref().expect("a value").reference_n, by_hand(140.0), 1e-6);
}

#[test]
fn a_load_along_the_grain_and_the_other_standard_split_nothing() {
    let mut along = beam(&[60.0], 4000.0);
    along.loads = vec![load("beam", [1.0, 0.0, 0.0], 4000.0)];
    assert!(carried(&along).splits.iter().all(|it| it.member != "beam"));
    let mut other = beam(&[60.0], 4000.0);
    other.standard = StandardId::Nds2018;
    assert!(carried(&other).splits.is_empty());
}

/// Half of what pushes it shears it on one side at least: beyond twice the value it is a fault, beyond it a caution.
#[test]
fn more_than_it_carries_is_told_by_how_sure_it_is() {
    let carries = by_hand(60.0) * 0.7 / 1.3;
    let told = |newtons: f64| {
        let joint = beam(&[60.0], newtons);
        let found = judge(&joint, &trace(&joint)).list;
        found
            .into_iter()
            .find(|it| it.kind == Kind::Overloaded && it.subjects == ["beam"])
            .map(|it| (it.severity, it.source))
    };
    let clause = "EN 1995-1-1 8.1.4(3)".to_owned();
    assert_eq!(told(0.99 * carries), None);
    assert_eq!(told(1.01 * carries), Some((Severity::Caution, clause.clone())));
    assert_eq!(told(2.01 * carries), Some((Severity::Fault, clause)));
}

#[test]
fn a_shorter_load_lets_it_carry_more() {
    let mut joint = beam(&[60.0], 4000.0);
    joint.loads[0].duration = Duration::SevenDays;
    let value = |joint: &Joint| carried(joint).splits[0].value.as_ref().expect("a value").adjusted_n;
    // Table 3.1, service class 1: 0.9 for a week and 0.7 for ten years.
    near(value(&joint) / value(&beam(&[60.0], 4000.0)), 0.9 / 0.7, 1e-12);
}
