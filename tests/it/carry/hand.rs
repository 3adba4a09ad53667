//! Joints worked out by hand. The yield equations are written here once more, in the printed form of NDS
//! 2018 Tables 12.3.1A and 12.3.1B, which is not the form that the program works with.

use shankline::findings::carry::{Shear, written};
use shankline::findings::{Kind, judge};
use shankline::joint::{Duration, Grain, Interval};
use shankline::trace::trace;

use super::{LB, MM, block, carried, driven, lead_hole, ledger_on_rim, load, near, of, strapped};

/// One shear plane in inches and pounds, side and main of one strength.
struct Printed {
    d: f64,
    side: f64,
    main: f64,
    strength: f64,
    yields: f64,
    /// `R_d` of modes I, II, and III and IV.
    rd: [f64; 3],
}

impl Printed {
    /// Im, Is, II, `IIIm`, `IIIs`, IV in single shear; `R_e` is 1.
    fn modes(&self) -> [f64; 6] {
        let Self { d, side, main, strength, yields, rd } = *self;
        let rt = main / side;
        let k1 = ((1.0 + 2.0 * (1.0 + rt + rt * rt) + rt * rt).sqrt() - (1.0 + rt)) / 2.0;
        let k2 = -1.0 + (4.0 + 2.0 * yields * 3.0 * d * d / (3.0 * strength * main * main)).sqrt();
        let k3 = -1.0 + (4.0 + 2.0 * yields * 3.0 * d * d / (3.0 * strength * side * side)).sqrt();
        [
            d * main * strength / rd[0],
            d * side * strength / rd[0],
            k1 * d * side * strength / rd[1],
            k2 * d * main * strength / (3.0 * rd[2]),
            k3 * d * side * strength / (3.0 * rd[2]),
            d * d / rd[2] * (2.0 * strength * yields / 6.0).sqrt(),
        ]
    }

    fn least(&self) -> f64 {
        self.modes().into_iter().fold(f64::INFINITY, f64::min)
    }
}

/// Two 3/8 in by 4 in lag screws side by side along the ledger, 1000 N each straight down, across the grain of
/// both. `F_e` = 6100 x 0.43^1.45 / sqrt(0.375) = 2930, printed as 2950 psi (NDS 2018 Table 12.3.3); root 0.265 in,
/// 45,000 psi, point 7/32 in of which half does not bear; `K_theta` = 1.25 (Table 12.3.1B).
#[test]
fn a_ledger_with_lag_screws() {
    let mut joint = ledger_on_rim();
    for (id, z) in [("a", 400.0), ("b", 800.0)] {
        let lag = driven(id, "lag-screw/0.375x4", [0.0, 120.0, z], [1.0, 0.0, 0.0]);
        joint.fasteners.push(lead_hole(lag, 15.0 / 64.0));
    }
    joint.loads = vec![load("ledger", [0.0, -1.0, 0.0], 2000.0)];
    let hand = Printed {
        d: 0.265,
        side: 1.5,
        main: 2.5 - 7.0 / 64.0,
        strength: 2950.0,
        yields: 45_000.0,
        rd: [4.0 * 1.25, 3.6 * 1.25, 3.2 * 1.25],
    };
    // 116.79 lb, mode IV.
    near(hand.least(), 116.79, 0.005);
    let carrying = carried(&joint);
    for id in ["a", "b"] {
        let it = of(&carrying, id);
        let plane = &it.planes[0];
        let value = plane.value.as_ref().expect("there is a value");
        assert_eq!((plane.side.as_str(), plane.main.as_str(), value.mode), ("ledger", "rim", "IV"));
        near(value.adjusted_n, hand.least() * LB, 1e-6);
        near(plane.demand_n.expect("it is loaded"), 1000.0, 1e-9);
        near(it.combined.as_ref().expect("both are known").ratio, 1000.0 / (hand.least() * LB), 1e-9);
        assert_eq!(plane.to_grain_deg, [90.0, 90.0]);
        assert!(value.factors.iter().all(|it| (it.value - 1.0).abs() < 1e-12), "{:?}", value.factors);
    }
    let sum = &carrying.connections[0];
    assert_eq!((sum.between.clone(), sum.fasteners.len()), (["ledger".to_owned(), "rim".to_owned()], 2));
    near(sum.adjusted_n, 2.0 * hand.least() * LB, 1e-6);
    near(sum.demand_n.expect("it is loaded"), 2000.0, 1e-9);
    // 1000 N are more than 519.5 N: a fault for each of the two.
    let findings = judge(&joint, &trace(&joint));
    let over: Vec<_> = findings.list.iter().filter(|it| it.kind == Kind::Overloaded).collect();
    assert_eq!(over.len(), 2);
    near(over[0].measured.expect("a number"), 1000.0, 1e-9);
    near(over[0].required.expect("a number"), hand.least() * LB, 1e-6);
    assert_eq!(over[0].unit, "N");
    assert!(
        over[0].working.lines().iter().any(|it| it.ends_with("IV 116.79 lb; IV governs")),
        "{:#?}",
        over[0]
    );
}

/// What comes to the right joist goes into the strap by the two nails there, 300 N each, and out of it by the
/// three on the left, 200 N each. A push down is bearing: it asks for nothing along the nails.
#[test]
fn a_load_goes_on_through_the_steel() {
    let mut joint = strapped(3, 2);
    joint.loads = vec![load("right", [1.0, 0.0, 0.0], 600.0)];
    let carrying = carried(&joint);
    for id in ["n0", "n1", "n2"] {
        near(of(&carrying, id).planes[0].demand_n.expect("it is loaded"), 200.0, 1e-9);
    }
    for id in ["n3", "n4"] {
        near(of(&carrying, id).planes[0].demand_n.expect("it is loaded"), 300.0, 1e-9);
        near(of(&carrying, id).along.as_ref().and_then(|it| it.demand_n).expect("it is loaded"), 0.0, 1e-9);
    }
    let sums: Vec<f64> = carrying.connections.iter().filter_map(|it| it.demand_n).collect();
    near(sums[0], 600.0, 1e-9);
    near(sums[1], 600.0, 1e-9);
    // The joist pushed up against the steel bears; pulled down it pulls at the nails, 300 N each.
    joint.loads = vec![load("right", [0.0, 1.0, 0.0], 600.0)];
    let pull = |joint: &_, id: &str| of(&carried(joint), id).along.as_ref().and_then(|it| it.demand_n);
    near(pull(&joint, "n3").expect("it is loaded"), 0.0, 1e-9);
    joint.loads = vec![load("right", [0.0, -1.0, 0.0], 600.0)];
    near(pull(&joint, "n3").expect("it is loaded"), 300.0, 1e-9);
    // What pulls the strap down by the right nails lets it bear on the left joist.
    near(pull(&joint, "n0").expect("it is loaded"), 0.0, 1e-9);
}

/// A hole that only holds the strap up, and a load that nothing takes on.
#[test]
fn what_reaches_nothing_is_said() {
    let mut joint = strapped(0, 2);
    joint.connectors[0].plates[0].holes[0].duty = shankline::joint::Duty::HoldingUp;
    joint.loads = vec![load("right", [1.0, 0.0, 0.0], 600.0), load("left", [1.0, 0.0, 0.0], 100.0)];
    let carrying = carried(&joint);
    assert!(of(&carrying, "n0").planes.is_empty());
    near(of(&carrying, "n1").planes[0].demand_n.expect("it is loaded"), 600.0, 1e-9);
    let said = carrying.not_counted.join("\n");
    assert!(said.contains("What load 1 puts into the strap is passed on by nothing"), "{said}");
    assert!(said.contains("Load 2 reaches no fastener: none joins the left to anything"), "{said}");
}

/// 1/2 in bolts, three pieces of 1 1/2 in Douglas fir-larch loaded along the grain: 0.5 x 1.5 x 5600 / 4 = 1050 lb
/// in mode Im (NDS 2018 Table 12F has 1050 too, from memory). Two in a row 2 in apart, E 1,600,000 psi, pieces
/// 1 1/2 by 7 1/4 in: `C_g` by equation 11.3-1 below. The load on the middle piece makes it double shear.
#[test]
fn a_bolted_splice_in_double_shear() {
    let text = std::fs::read_to_string(
        std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("sample-projects/ferry-yard-splice.joint.json"),
    )
    .expect("the sample is there");
    let joint = shankline::joint::file::read(&text, &shankline::stock::Stock::built_in()).expect("it reads");
    let carrying = carried(&joint);
    let it = of(&carrying, "b3");
    let (main, side) = (1.6e6 * 1.5 * 7.25, 2.0 * 1.6e6 * 1.5 * 7.25);
    let u: f64 = 1.0 + 180_000.0 * 0.5_f64.powf(1.5) * 2.0 / 2.0 * (1.0 / main + 1.0 / side);
    let m = u - (u * u - 1.0).sqrt();
    let rest = 2.0 * ((1.0 + 0.5 * m * m) * (1.0 + m) - 1.0 + m.powi(4));
    let group = m * (1.0 - m.powi(4)) / rest * 1.5 / (1.0 - m);
    near(group, 0.9982, 5e-5);
    assert_eq!(it.planes.len(), 2);
    for plane in &it.planes {
        let value = plane.value.as_ref().expect("there is a value");
        assert_eq!((plane.shear, value.mode), (Shear::HalfOfDouble, "Im"));
        near(value.reference_n, 1050.0 / 2.0 * LB, 1e-6);
        near(value.adjusted_n, 1050.0 / 2.0 * LB * group, 1e-6);
        // 8000 N by four bolts and two planes.
        near(plane.demand_n.expect("it is loaded"), 1000.0, 1e-9);
    }
    near(it.combined.as_ref().expect("both are known").ratio, 1000.0 / (525.0 * LB * group), 1e-9);
    // The bolts of the other tie take part in no load path that is drawn.
    assert_eq!(of(&carrying, "b1").case, None);
    assert_eq!(of(&carrying, "b1").planes[0].shear, Shear::Single);
}

/// A bolt of 1/2 in with 1 1/4 in of thread through two pieces 1 1/2 in thick: at 4 in the thread reaches 1/4 in into the
/// second, a sixth of it, and the body bends; at 3 1/2 in it is half of it, and the root of 0.406 in does. The line
/// is a quarter (NDS 2018 12.3.7.2).
#[test]
fn a_bolt_bends_at_its_root_where_a_member_bears_on_thread() {
    let mut joint = ledger_on_rim();
    joint.members[1] =
        block("rim", "lumber/hem-fir", [1.5 * MM, 3.0 * MM], [0.0, 9.25 * MM], Grain::AlongDepth);
    for (stock, formula) in [("bolt/inch/0.5x4", "D_nom"), ("bolt/inch/0.5x3.5", "D_r")] {
        joint.fasteners =
            vec![lead_hole(driven("b", stock, [0.0, 4.5 * MM, 600.0], [1.0, 0.0, 0.0]), 0.5625)];
        let carrying = carried(&joint);
        let value = of(&carrying, "b").planes[0].value.clone().expect("there is a value");
        let bends = value.working.iter().find(|it| it.symbol == "D").expect("it is worked out");
        assert_eq!(bends.formula, formula, "{stock}");
    }
}

/// Two bolts of 1/2 in, the first 1 1/2 in from the near end of the ledger, pushed across the grain: end distance 4 D =
/// 2 in for the full value, half of it for any (NDS 2018 Table 12.5.1A), so that `C_Delta` is 0.75, and "the smallest
/// geometry factor for any fastener in a group shall apply to all" (12.5.1, from memory). One below the half has no
/// value and takes nothing from the other.
#[test]
fn the_least_end_distance_of_a_group_counts_for_all_of_it() {
    let mut joint = ledger_on_rim();
    let at = |id: &str, inches: f64| {
        lead_hole(
            driven(id, "bolt/inch/0.5x6", [0.0, 4.5 * MM, 1200.0 - inches * MM], [1.0, 0.0, 0.0]),
            0.5625,
        )
    };
    joint.loads = vec![load("ledger", [0.0, -1.0, 0.0], 1000.0)];
    let geometry = |joint: &shankline::joint::Joint, id: &str| {
        let carrying = carried(joint);
        let value = of(&carrying, id).planes[0].value.clone().expect("there is a value");
        let factor = value.factors.into_iter().find(|it| it.symbol == "C_Delta").expect("it is large");
        (factor.value, factor.because)
    };
    joint.fasteners = vec![at("far", 20.0)];
    near(geometry(&joint, "far").0, 1.0, 1e-12);
    joint.fasteners.push(at("close", 1.5));
    near(geometry(&joint, "close").0, 0.75, 1e-9);
    let (value, because) = geometry(&joint, "far");
    near(value, 0.75, 1e-9);
    assert!(because.ends_with("of close, the least of the group"), "{because}");
    joint.fasteners[1] = at("close", 0.9);
    near(geometry(&joint, "far").0, 1.0, 1e-12);
    assert!(of(&carried(&joint), "close").planes[0].value.is_err());
}

/// A post on a sill, a 16d common nail at 30 degrees to its side, L / 3 above the sill: it bears over L / 3 in the
/// post and over (L - L / 3 / cos 30) cos 30 in the sill (NDS 2018 12.1.6.3 and Commentary C12.5.4), `C_tn` 0.83.
/// `F_e` of Douglas fir-larch 16600 x 0.5^1.84 = 4637, printed 4650 psi; 90,000 psi; `R_d` 2.2.
#[test]
fn a_toe_nail() {
    let mut joint = ledger_on_rim();
    let wood = "lumber/douglas-fir-larch";
    let start = 3.5 * MM / 3.0;
    let mut post = block("post", wood, [100.0, 188.9], [38.1, 438.1], Grain::InPlane(90.0));
    let mut sill = block("sill", wood, [0.0, 400.0], [-61.9, 38.1], Grain::InPlane(0.0));
    post.depth = Interval { from: 0.0, to: 88.9 };
    sill.depth = Interval { from: 0.0, to: 88.9 };
    joint.members = vec![post, sill];
    let (sine, cosine) = 30.0_f64.to_radians().sin_cos();
    joint.fasteners =
        vec![driven("n1", "nail/common/16d", [100.0, 38.1 + start, 44.45], [sine, -cosine, 0.0])];
    // Along the depth, square to the shank.
    joint.loads = vec![load("post", [0.0, 0.0, 1.0], 300.0)];
    let in_post = 3.5 / 3.0;
    let hand = Printed {
        d: 0.162,
        side: in_post,
        main: (3.5 - in_post / cosine) * cosine,
        strength: 4650.0,
        yields: 90_000.0,
        rd: [2.2; 3],
    };
    let carrying = carried(&joint);
    let value = of(&carrying, "n1").planes[0].value.as_ref().expect("there is a value");
    near(value.reference_n, hand.least() * LB, 1e-6);
    near(value.adjusted_n, 0.83 * hand.least() * LB, 1e-6);
    // It starts in the side of the post and leaves by its end: that is no end grain.
    let factor = |key: &str| value.factors.iter().find(|it| it.key == key).expect("it is listed").value;
    near(factor("end_grain"), 1.0, 0.0);
    near(factor("toe_nail"), 0.83, 0.0);
    near(
        of(&carrying, "n1").planes[0].ratio.expect("it is loaded"),
        300.0 / (0.83 * hand.least() * LB),
        1e-9,
    );
}

/// Pulled off the rim: W = 1380 x 0.43^2.5 x 0.162 = 27.1 lb/in (NDS 2018 Table 12.2C has 27, from memory), 2 in of
/// bite, wind: `C_D` 1.6. At a slope of three to four both ways at once: 12.4.2, the sum of the two ratios.
#[test]
fn a_nail_that_is_pulled() {
    let mut joint = ledger_on_rim();
    joint.fasteners = vec![driven("n1", "nail/common/16d", [0.0, 120.0, 600.0], [1.0, 0.0, 0.0])];
    joint.loads = vec![load("ledger", [-1.0, 0.0, 0.0], 100.0)];
    joint.loads[0].duration = Duration::TenMinutes;
    let pulled = 1380.0 * 0.43_f64.powf(2.5) * 0.162 * 2.0 * 1.6 * LB;
    let carrying = carried(&joint);
    let it = of(&carrying, "n1");
    let along = it.along.as_ref().expect("it is held");
    let value = along.value.as_ref().expect("there is a value");
    assert_eq!(value.mode, "withdrawal");
    near(value.length_mm, 2.0 * MM, 1e-9);
    near(value.adjusted_n, pulled, 1e-6);
    near(along.demand_n.expect("it is loaded"), 100.0, 1e-9);
    near(it.combined.as_ref().expect("both are known").ratio, 100.0 / pulled, 1e-9);
    // Nothing is asked across, so that no sum of shear planes is held against it.
    let between = &carried(&joint).connections[0];
    assert_eq!(between.asked_across(), None);
    near(between.pulled().expect("it is pulled"), 100.0, 1e-9);
    // Pushed on, it bears.
    joint.loads[0].toward = shankline::unit::Vec3::X;
    near(of(&carried(&joint), "n1").along.as_ref().and_then(|it| it.demand_n).expect("loaded"), 0.0, 1e-12);
    joint.loads[0].toward = shankline::unit::Vec3::new(-3.0, -4.0, 0.0);
    let hand = Printed { d: 0.162, side: 1.5, main: 2.0, strength: 3500.0, yields: 90_000.0, rd: [2.2; 3] };
    let across = hand.least() * 1.6 * LB;
    near(
        of(&carried(&joint), "n1").combined.as_ref().expect("both are known").ratio,
        60.0 / pulled + 80.0 / across,
        1e-9,
    );
    let between = &carried(&joint).connections[0];
    near(between.pulled().expect("it is pulled"), 60.0, 1e-9);
    let (asked, ratio) = between.asked_across().expect("it is pushed across too");
    near(asked, 80.0, 1e-9);
    near(ratio.expect("it has a value"), 80.0 / across, 1e-9);
}

/// A filling and a loose fit count as gap, and the working says so; every line has its clause.
#[test]
fn a_gap_costs_and_the_working_tells_how() {
    let mut joint = ledger_on_rim();
    joint.fasteners = vec![driven("n1", "nail/common/16d", [0.0, 120.0, 600.0], [1.0, 0.0, 0.0])];
    let tight = carried(&joint);
    joint.members[1] =
        block("rim", "lumber/hem-fir", [1.5 * MM + 6.0, 5.0 * MM], [0.0, 200.0], Grain::AlongDepth);
    joint.members.push(block("foam", "filling/foam", [1.5 * MM, 1.5 * MM + 4.0], [0.0, 200.0], Grain::None));
    let loose = carried(&joint);
    near(of(&loose, "n1").planes[0].gap_mm, 6.0, 1e-9);
    let value = |it: &shankline::findings::carry::Carrying| {
        of(it, "n1").planes[0].value.as_ref().expect("there is a value").adjusted_n
    };
    assert!(value(&loose) < 0.9 * value(&tight), "{} of {}", value(&loose), value(&tight));
    let lines = written::lines(of(&loose, "n1"), &joint);
    assert!(lines.iter().any(|it| it.trim_start().starts_with("g = 0.23622 in")), "{lines:#?}");
    assert!(lines.iter().any(|it| it.contains(" lb (")) && !lines.iter().any(|it| it.contains(" N (")));
    for line in
        lines.iter().filter(|it| it.contains(" = ") && it.starts_with("  ") && !it.contains("ratio = "))
    {
        assert!(line.contains("NDS 2018") || line.contains("AWC TR 12"), "{line}");
    }
    // Without a load: nothing is asked, and it is said for what angle the values hold.
    assert_eq!(of(&loose, "n1").planes[0].demand_n, None);
    assert!(loose.not_counted.iter().any(|it| it.contains("for a load across the grain")));
}

/// A member between two others, loaded at one end: the plane beyond the next body is held against all of it,
/// and what goes over there is a caution and no fault.
#[test]
fn what_the_next_body_keeps_is_not_known() {
    let mut joint = ledger_on_rim();
    joint.members[1] =
        block("shim", "lumber/hem-fir", [1.5 * MM, 2.0 * MM], [0.0, 9.25 * MM], Grain::AlongDepth);
    joint.members.push(block(
        "rim",
        "lumber/hem-fir",
        [2.0 * MM, 6.0 * MM],
        [0.0, 9.25 * MM],
        Grain::AlongDepth,
    ));
    joint.fasteners = vec![driven("n1", "nail/common/16d", [0.0, 120.0, 600.0], [1.0, 0.0, 0.0])];
    joint.loads = vec![load("ledger", [0.0, -1.0, 0.0], 100.0)];
    let carrying = carried(&joint);
    let planes = &of(&carrying, "n1").planes;
    assert_eq!((planes[0].is_certain, planes[1].is_certain), (true, false));
    near(planes[1].demand_n.expect("it is loaded"), 100.0, 1e-9);
    assert!(of(&carrying, "n1").cautions.iter().any(|it| it.contains("the most that can cross")));
}

/// A panel of 7/16 in between ledger and rim: the lag screw crosses it and bites 0.4375 in in it, below 4 D = 1.5 in
/// (NDS 2018 12.1.4.6), and what is said names it.
#[test]
fn a_bite_that_is_too_short_names_what_it_is_in() {
    let y = [0.0, 9.25 * MM];
    let mut joint = ledger_on_rim();
    joint.members[1] = block("rim", "lumber/hem-fir", [1.9375 * MM, 5.4375 * MM], y, Grain::AlongDepth);
    joint.members.push(block("panel", "panel/osb", [1.5 * MM, 1.9375 * MM], y, Grain::AlongDepth));
    joint.fasteners.push(driven("s1", "lag-screw/0.375x4", [0.0, 120.0, 600.0], [1.0, 0.0, 0.0]));
    let carrying = carried(&joint);
    let planes = &of(&carrying, "s1").planes;
    assert_eq!((planes[0].side.as_str(), planes[0].main.as_str()), ("ledger", "panel"));
    let why = planes[0].value.as_ref().expect_err("it has no value").because.clone();
    assert_eq!(
        why,
        "it bites 0.438 in in the panel without the point, and below 4 D = 1.500 in NDS gives no value"
    );
}
