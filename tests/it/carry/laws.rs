//! What must hold of any loads: equal shares sum to the load, turning changes nothing, ratios grow with it.

use kurbo::Point;
use proptest::prelude::*;
use shankline::findings::carry::{Carries, Detail, PlaneCarries, carry, carry_one};
use shankline::joint::{Duration, Grain, Joint, Load, Outline, Placement};
use shankline::trace::trace;
use shankline::unit::Vec3;

use super::{carried, driven, ledger_on_rim, strapped};

/// So many nails in a grid through the ledger.
fn nailed(count: u32) -> Joint {
    let mut joint = ledger_on_rim();
    for n in 0..count {
        let (row, place) = (f64::from(n % 3), f64::from(n / 3));
        let head = [0.0, 60.0 + 50.0 * row, 150.0 + 90.0 * place];
        joint.fasteners.push(driven(&format!("n{n}"), "nail/common/16d", head, [1.0, 0.0, 0.0]));
    }
    joint
}

fn loads() -> impl Strategy<Value = Load> {
    let direction = [-1.0..1.0_f64, -1.0..1.0_f64, -1.0..1.0_f64].prop_map(Vec3::from);
    let sound = direction.prop_filter("a direction needs a length", |it| 0.1 < it.length());
    (sound, 1.0..5000.0_f64, any::<bool>()).prop_map(|(toward, newtons, on_ledger)| Load {
        on: if on_ledger { "ledger" } else { "rim" }.to_owned(),
        toward,
        newtons: Some(newtons),
        duration: Duration::TwoMonths,
    })
}

#[test]
fn one_fastener_alone_is_told_as_among_all_and_without_its_working_only_where_none_is_wanted() {
    let mut joint = nailed(9);
    joint.loads.push(Load {
        on: "ledger".to_owned(),
        toward: Vec3::new(0.0, -1.0, 0.0),
        newtons: Some(900.0),
        duration: Duration::TenYears,
    });
    let trace = trace(&joint);
    let lines = |of: &Carries| {
        let lines = |it: &PlaneCarries| it.value.as_ref().map_or(0, |it| it.working.len());
        of.planes.iter().map(lines).sum::<usize>()
    };
    for detail in [Detail::Working, Detail::Values] {
        let all = carry(&joint, &trace, detail);
        let one = carry_one(&joint, &trace, 4, detail).expect("there are nine");
        assert_eq!(one.fasteners, [all.fasteners[4].clone()], "{detail:?}");
        assert_eq!(0 < lines(&one.fasteners[0]), detail == Detail::Working);
    }
    assert!(carry_one(&joint, &trace, 9, Detail::Values).is_none());
}

/// The joint turned about the origin in the drawing plane.
fn turned(joint: &Joint, degrees: f64) -> Joint {
    let (sine, cosine) = degrees.to_radians().sin_cos();
    let place = |it: Point| Point::new(it.x * cosine - it.y * sine, it.x * sine + it.y * cosine);
    let way = |it: Vec3| Vec3::new(it.x * cosine - it.y * sine, it.x * sine + it.y * cosine, it.z);
    let mut turned = joint.clone();
    for it in &mut turned.members {
        if let Outline::Polygon(corners) = &mut it.outline {
            for at in corners {
                *at = place(*at);
            }
        }
        if let Grain::InPlane(along) = &mut it.grain {
            *along += degrees;
        }
    }
    for it in turned.connectors.iter_mut().flat_map(|it| &mut it.plates).flat_map(|it| &mut it.profile) {
        *it = place(*it);
    }
    for it in &mut turned.fasteners {
        if let Placement::Free { head, toward } = &mut it.place {
            (*head, *toward) = (way(*head), way(*toward));
        }
    }
    for it in &mut turned.loads {
        it.toward = way(it.toward);
    }
    turned
}

fn ratios(joint: &Joint) -> Vec<Option<f64>> {
    carried(joint).fasteners.iter().map(|it| it.combined.as_ref().map(|it| it.ratio)).collect()
}

fn same(one: &[Option<f64>], other: &[Option<f64>], times: f64) -> bool {
    let near = |a: f64, b: f64| (a * times - b).abs() <= 1e-9 * (a * times).abs().max(b.abs()) + 1e-12;
    one.len() == other.len()
        && one.iter().zip(other).all(|it| match it {
            (Some(a), Some(b)) => near(*a, *b),
            (None, None) => true,
            (Some(_), None) | (None, Some(_)) => false,
        })
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 64, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn equal_shares_sum_to_the_load(count in 1_u32..12, load in loads()) {
        let mut joint = nailed(count);
        let axis = Vec3::X;
        let force = load.toward.unit().expect("it has a length") * load.newtons.expect("it is given");
        let on_ledger = load.on == "ledger";
        joint.loads = vec![load];
        let carrying = carried(&joint);
        let across: f64 = carrying.fasteners.iter().filter_map(|it| it.planes[0].demand_n).sum();
        let along: f64 = carrying.fasteners.iter().filter_map(|it| it.along.as_ref()?.demand_n).sum();
        let pull = if on_ledger { -force.dot(axis) } else { force.dot(axis) };
        prop_assert!((across - (force - axis * force.dot(axis)).length()).abs() < 1e-6);
        prop_assert!((along - pull.max(0.0)).abs() < 1e-6);
        prop_assert!((carrying.connections[0].demand_n.expect("loaded") - across).abs() < 1e-6);
    }

    #[test]
    fn turning_the_whole_joint_changes_nothing(degrees in -180.0..180.0_f64, load in loads(), newtons in 1.0..900.0_f64) {
        let mut joint = nailed(5);
        joint.loads = vec![load];
        prop_assert!(same(&ratios(&joint), &ratios(&turned(&joint, degrees)), 1.0));
        let mut joint = strapped(2, 3);
        let toward = joint_way(degrees);
        joint.loads = vec![Load { on: "right".to_owned(), toward, newtons: Some(newtons), duration: Duration::Impact }];
        prop_assert!(same(&ratios(&joint), &ratios(&turned(&joint, degrees)), 1.0));
    }

    #[test]
    fn the_ratio_grows_with_the_load(times in 0.1..10.0_f64, load in loads()) {
        let mut joint = nailed(4);
        joint.loads = vec![load];
        let before = ratios(&joint);
        for it in &mut joint.loads {
            it.newtons = it.newtons.map(|it| it * times);
        }
        prop_assert!(before.iter().all(Option::is_some));
        prop_assert!(same(&before, &ratios(&joint), times));
    }
}

/// Some direction, more along the strap than across it.
fn joint_way(degrees: f64) -> Vec3 {
    Vec3::new(1.0, 0.0, degrees / 360.0)
}

/// Two loads on one member that act at once are one load; two in balance are each by itself.
#[test]
fn loads_that_act_together_are_added_and_named() {
    let mut joint = nailed(2);
    let one = |y: f64, newtons: f64, duration| Load {
        on: "ledger".to_owned(),
        toward: Vec3::new(0.0, y, 0.0),
        newtons: Some(newtons),
        duration,
    };
    joint.loads = vec![one(-1.0, 100.0, Duration::Permanent), one(-1.0, 300.0, Duration::TwoMonths)];
    let carrying = carried(&joint);
    let names: Vec<&str> = carrying.cases.iter().map(|it| it.name.as_str()).collect();
    assert_eq!(names, ["load 1 on ledger", "load 2 on ledger", "loads 1 and 2 together"]);
    // The shortest of the two lasts two months: C_D 1.15 (NDS 2018 Table 2.3.2).
    assert_eq!(carrying.cases[2].duration, Duration::TwoMonths);
    let it = &carrying.fasteners[0];
    assert_eq!(it.case, Some(2));
    assert!((it.planes[0].demand_n.expect("loaded") - 200.0).abs() < 1e-9);
    let value = it.planes[0].value.as_ref().expect("there is a value");
    assert!((value.adjusted_n / value.reference_n - 1.15).abs() < 1e-12);
    joint.loads = vec![
        one(-1.0, 100.0, Duration::Permanent),
        Load { on: "rim".to_owned(), ..one(1.0, 100.0, Duration::Permanent) },
    ];
    let carrying = carried(&joint);
    assert_eq!(carrying.cases.len(), 2);
    assert!(carrying.not_counted.iter().any(|it| it.contains("in balance")));
    assert!((carrying.fasteners[0].planes[0].demand_n.expect("loaded") - 50.0).abs() < 1e-9);
}
