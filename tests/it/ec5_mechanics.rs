//! The equations of EN 1995-1-1 8.2 against the balance of stresses that they come from, worked out anew by
//! summing slices and halving intervals, on random connections; and their limits, which must not jump.

use shankline::joint::StandardId;
use shankline::standard::capacity::{Demand, Lateral, NoValue, Room};
use shankline::standard::{Source, by_id};

use crate::dice::Dice;
use crate::ec5_scene::Scene;

fn ask(scene: &Scene) -> Result<Lateral, NoValue> {
    scene.across(|it| by_id(StandardId::En199511).across(it))
}

fn carries(scene: &Scene) -> Lateral {
    ask(scene).unwrap_or_else(|why| panic!("{}", why.because))
}

fn of_mode(lateral: &Lateral, name: &str) -> f64 {
    let mode = lateral.modes.iter().find(|it| it.name == name);
    mode.unwrap_or_else(|| panic!("no mode {name} in {:?}", lateral.modes)).newtons
}

/// A member: newtons per millimetre when all of it bears, and its length.
#[derive(Clone, Copy)]
struct Member {
    line: f64,
    length: f64,
}

/// The sum of a line load times its distance from the face, between two places, by slices.
fn levered(line: f64, from: f64, to: f64) -> f64 {
    let n_slices = 400;
    let width = (to - from) / f64::from(n_slices);
    (0..n_slices).map(|n| line * width * (from + (f64::from(n) + 0.5) * width)).sum()
}

/// How the shank ends in a member or a plate.
#[derive(Clone, Copy)]
enum End {
    Turns(Member),
    Yields(Member),
    Plate { moment: f64 },
}

impl End {
    /// The moment at the face that this end can still give while it bears a load.
    fn gives(self, load: f64, yield_moment: f64) -> f64 {
        match self {
            Self::Turns(it) => {
                let turns_at = (it.length + load / it.line) / 2.0;
                levered(it.line, turns_at, it.length) - levered(it.line, 0.0, turns_at)
            }
            Self::Yields(it) => yield_moment - levered(it.line, 0.0, load / it.line),
            Self::Plate { moment } => moment,
        }
    }
}

/// The load at which both ends just hold the lever of the gap.
fn balance(ends: [End; 2], yield_moment: f64, gap: f64) -> f64 {
    let left = |load: f64| ends.iter().map(|it| it.gives(load, yield_moment)).sum::<f64>() - load * gap;
    let (mut low, mut high) = (0.0, 1.0);
    while 0.0 < left(high) {
        high *= 2.0;
    }
    for _ in 0..200 {
        let middle = f64::midpoint(low, high);
        if 0.0 < left(middle) { low = middle } else { high = middle }
    }
    low
}

fn near(what: &str, got: f64, wanted: f64, within: f64) {
    let off = (got - wanted).abs();
    assert!(off <= within * wanted.abs().max(1.0), "{what}: {got} and not {wanted}");
}

/// A random bolted connection of two timbers, and its numbers worked out apart from the program.
struct Chance {
    scene: Scene,
    members: [Member; 2],
    moment: f64,
    gap: f64,
    seed: u64,
}

fn embedment(rho: f64, d: f64, degrees: f64) -> f64 {
    let (s, c) = (degrees.to_radians().sin(), degrees.to_radians().cos());
    0.082 * (1.0 - 0.01 * d) * rho / ((1.35 + 0.015 * d) * s * s + c * c)
}

fn chance(seed: u64) -> Chance {
    let mut dice = Dice::new(seed);
    let d = dice.between(4.0, 30.0);
    let fu = dice.between(300.0, 1000.0);
    let rho = [dice.between(290.0, 480.0), dice.between(290.0, 480.0)];
    let angle = [dice.between(0.0, 90.0), dice.between(0.0, 90.0)];
    let length = [dice.between(0.5, 15.0) * d, dice.between(0.5, 15.0) * d];
    let gap = if dice.below(4) == 0 { 0.0 } else { dice.between(0.0, 4.0) * d };
    let scene = Scene::read(&format!(
        "kind=bolt d_mm={d} fu={fu} side=lumber side_rho={} main=lumber main_rho={} t1_mm={} t2_mm={} a1={} \
         a2={} g_mm={gap}",
        rho[0], rho[1], length[0], length[1], angle[0], angle[1]
    ));
    let member = |n: usize| Member { line: embedment(rho[n], d, angle[n]) * d, length: length[n] };
    Chance { scene, members: [member(0), member(1)], moment: 0.3 * fu * d.powf(2.6), gap, seed }
}

#[test]
fn timber_in_single_shear_is_the_balance_of_its_stresses() {
    for seed in 0..400 {
        let it = chance(seed);
        let ([one, two], lateral) = (it.members, carries(&it.scene));
        let balanced = |ends| balance(ends, it.moment, it.gap);
        let case = |name: &str, wanted: f64| {
            near(&format!("seed {}, {name}", it.seed), of_mode(&lateral, name), wanted, 1e-5);
        };
        case("8.6 (a)", one.line * one.length);
        case("8.6 (b)", two.line * two.length);
        case("8.6 (c)", balanced([End::Turns(one), End::Turns(two)]));
        case("8.6 (d)", 1.05 * balanced([End::Turns(one), End::Yields(two)]));
        case("8.6 (e)", 1.05 * balanced([End::Yields(one), End::Turns(two)]));
        case("8.6 (f)", 1.15 * balanced([End::Yields(one), End::Yields(two)]));
    }
}

/// Each end gives the lesser of what it can by turning and by yielding, and no end bears more than all of it:
/// the greatest load that so holds is the least of the modes, by the theorems of limit analysis.
#[test]
fn the_least_mode_is_the_limit_load() {
    for seed in 400..700 {
        let it = chance(seed);
        let lateral = carries(&it.scene);
        let holds = |load: f64| {
            let gives = |it: Member, moment: f64| {
                End::Turns(it).gives(load, moment).min(End::Yields(it).gives(load, moment))
            };
            let bears = it.members.iter().all(|it| load <= it.line * it.length);
            bears && load * it.gap <= it.members.iter().map(|m| gives(*m, it.moment)).sum()
        };
        let (mut low, mut high) = (0.0, 1e7);
        for _ in 0..100 {
            let middle = f64::midpoint(low, high);
            if holds(middle) { low = middle } else { high = middle }
        }
        let factors = [1.0, 1.0, 1.0, 1.05, 1.05, 1.15];
        let least = lateral.modes.iter().zip(factors).map(|(mode, it)| mode.newtons / it);
        near(&format!("seed {seed}"), least.fold(f64::INFINITY, f64::min), low, 1e-4);
    }
}

#[test]
fn timber_in_double_shear_and_steel_are_the_balance_of_their_stresses() {
    for seed in 700..900 {
        let it = chance(seed);
        let ([one, two], moment) = (it.members, it.moment);
        let balanced = |ends| balance(ends, moment, it.gap);
        let asked = |change: &str| carries(&it.scene.with(change));
        let case = |lateral: &Lateral, name: &str, wanted: f64| {
            near(&format!("seed {seed}, {name}"), of_mode(lateral, name), wanted, 1e-5);
        };
        let d = it.scene.number("d_mm");
        let [thin, thick] = [End::Plate { moment: 0.0 }, End::Plate { moment }];
        let both = format!(
            "beyond=lumber beyond_rho={} t3_mm={} a3={} g2_mm={}",
            it.scene.number("side_rho"),
            one.length,
            it.scene.number("a1"),
            it.gap
        );
        let double = asked(&both);
        case(&double, "8.7 (g)", one.line * one.length);
        case(&double, "8.7 (h)", two.line * two.length / 2.0);
        case(&double, "8.7 (j)", 1.05 * balanced([End::Turns(one), End::Yields(two)]));
        case(&double, "8.7 (k)", 1.15 * balanced([End::Yields(one), End::Yields(two)]));
        let middle = asked(&format!("{both} main=steel t2_mm=5 drill2_mm={d}"));
        case(&middle, "8.11 (f)", one.line * one.length);
        case(&middle, "8.11 (g)", balanced([End::Turns(one), thick]));
        case(&middle, "8.11 (h)", 1.15 * balanced([End::Yields(one), thick]));
        let thin_far = asked(&format!("main=steel t2_mm={} drill2_mm={d}", 0.5 * d));
        let pinned = 0.4 / (2.0_f64.sqrt() - 1.0);
        case(&thin_far, "8.9 (a)", pinned * balanced([End::Turns(one), thin]));
        case(&thin_far, "8.9 (b)", 1.15 * balanced([End::Yields(one), thin]));
        let thick_far = asked(&format!("main=steel t2_mm={d} drill2_mm={d}"));
        case(&thick_far, "8.10 (c)", one.line * one.length);
        case(&thick_far, "8.10 (d)", balanced([End::Turns(one), thick]));
        case(&thick_far, "8.10 (e)", 1.15 * balanced([End::Yields(one), thick]));
        let outside = |t: f64| {
            asked(&format!(
                "side=steel beyond=steel t1_mm={t} t3_mm={t} drill1_mm={d} drill3_mm={d} g2_mm={}",
                it.gap
            ))
        };
        let (thin_out, thick_out) = (outside(0.4 * d), outside(1.2 * d));
        case(&thin_out, "8.12 (j)", two.line * two.length / 2.0);
        case(&thin_out, "8.12 (k)", 1.15 * balanced([thin, End::Yields(two)]));
        case(&thick_out, "8.13 (l)", two.line * two.length / 2.0);
        case(&thick_out, "8.13 (m)", 1.15 * balanced([thick, End::Yields(two)]));
    }
}

/// The scenes of each set of equations, with the members touching.
fn sets() -> Vec<Scene> {
    let bolt = "kind=bolt d_mm=12 fu=400 side=lumber side_rho=350 main=lumber main_rho=420 t1_mm=50 t2_mm=75 \
                a1=20 a2=70 g_mm=0 g2_mm=0";
    let beyond = "beyond=lumber beyond_rho=350 t3_mm=50 a3=20";
    let plates = "side=steel beyond=steel drill1_mm=13 drill3_mm=13";
    [
        "".to_owned(),
        beyond.to_owned(),
        "main=steel t2_mm=5 drill2_mm=13".to_owned(),
        "main=steel t2_mm=8 drill2_mm=13".to_owned(),
        "main=steel t2_mm=12 drill2_mm=13".to_owned(),
        format!("{beyond} main=steel t2_mm=8 drill2_mm=13"),
        format!("{plates} t1_mm=5 t3_mm=5"),
        format!("{plates} t1_mm=8 t3_mm=8"),
        format!("{plates} t1_mm=12 t3_mm=12"),
    ]
    .iter()
    .map(|it| Scene::read(bolt).with(it))
    .collect()
}

#[test]
fn a_gap_begins_at_the_printed_value_and_only_takes_away() {
    for scene in sets() {
        let touching = carries(&scene);
        let hair = carries(&scene.with("g_mm=1e-9 g2_mm=1e-9"));
        for (printed, open) in touching.modes.iter().zip(&hair.modes) {
            assert_eq!(printed.name, open.name);
            near(printed.name, open.newtons, printed.newtons, 1e-9);
        }
        assert!(touching.cautions.iter().all(|it| !it.contains("mechanics")));
        assert!(hair.cautions.iter().any(|it| it.contains("mechanics and not as the standard's")));
        let mut last = touching.reference_n;
        for gap in 1..60 {
            let now = carries(&scene.with(&format!("g_mm={gap} g2_mm={gap}"))).reference_n;
            assert!(now <= last && 0.0 < now, "gap {gap}: {now} after {last}");
            last = now;
        }
        assert!(last < touching.reference_n, "a gap of 60 mm costs nothing");
    }
}

#[test]
fn a_gap_on_one_side_of_double_shear_is_counted_for_both() {
    let scene = &sets()[1];
    let both = carries(&scene.with("g_mm=6 g2_mm=6")).reference_n;
    for gaps in ["g_mm=6", "g2_mm=6"] {
        near(gaps, carries(&scene.with(gaps)).reference_n, both, 1e-12);
    }
}

#[test]
fn two_timbers_carry_the_same_seen_from_either_side() {
    for seed in 900..1000 {
        let it = chance(seed);
        let read = |key| it.scene.number(key);
        let turned = it.scene.with(&format!(
            "side_rho={} main_rho={} t1_mm={} t2_mm={} a1={} a2={}",
            read("main_rho"),
            read("side_rho"),
            read("t2_mm"),
            read("t1_mm"),
            read("a2"),
            read("a1")
        ));
        let (one, other) = (carries(&it.scene), carries(&turned));
        let pairs = [("a", "b"), ("b", "a"), ("c", "c"), ("d", "e"), ("e", "d"), ("f", "f")];
        for (here, there) in pairs {
            let of = |lateral, letter| of_mode(lateral, &format!("8.6 ({letter})"));
            near(&format!("seed {seed} {here}"), of(&one, here), of(&other, there), 1e-9);
        }
    }
}

#[test]
fn the_angle_to_the_grain_has_no_jump_and_only_takes_away() {
    let scene = Scene::read(
        "kind=bolt d_mm=16 fu=400 side=lumber side_rho=350 main=lumber main_rho=350 t1_mm=45 t2_mm=90 a2=0",
    );
    let at = |degrees: f64| carries(&scene.with(&format!("a1={degrees}"))).reference_n;
    near("0", at(1e-7), at(0.0), 1e-9);
    near("90", at(90.0 - 1e-7), at(90.0), 1e-9);
    for degrees in 0..90 {
        let (here, next) = (at(f64::from(degrees)), at(f64::from(degrees + 1)));
        assert!(next <= here && here - next < 0.02 * here, "{degrees}: {here}, {next}");
    }
    let nail = scene.with("kind=nail d_mm=4");
    near(
        "nails do not ask",
        carries(&nail.with("a1=90")).reference_n,
        carries(&nail.with("a1=0")).reference_n,
        0.0,
    );
}

#[test]
fn from_a_thin_plate_to_a_thick_one_there_is_no_jump() {
    for (scene, plates) in [(&sets()[2], "t2_mm"), (&sets()[6], "t1_mm t3_mm")] {
        let at = |t: f64| {
            let change: Vec<String> = plates.split(' ').map(|it| format!("{it}={t}")).collect();
            carries(&scene.with(&change.join(" "))).reference_n
        };
        for t in [6.0, 12.0] {
            near("knee", at(t + 1e-9), at(t - 1e-9), 1e-8);
        }
        near("halfway", at(9.0), f64::midpoint(at(6.0), at(12.0)), 1e-9);
        assert!(at(6.0) < at(12.0));
        near("thinner is thin", at(2.0), at(6.0), 1e-12);
        near("thicker is thick", at(20.0), at(12.0), 1e-12);
    }
}

#[test]
fn thick_members_yield_and_thin_ones_bear() {
    let scene = Scene::read(
        "kind=bolt d_mm=12 fu=400 side=lumber side_rho=350 main=lumber main_rho=350 a1=0 a2=0 t1_mm=50 t2_mm=50",
    );
    let thick = carries(&scene.with("t1_mm=900 t2_mm=900"));
    assert_eq!(thick.mode, "8.6 (f)");
    let thin = carries(&scene.with("t1_mm=0.01 t2_mm=900"));
    assert_eq!(thin.mode, "8.6 (a)");
    assert!(thin.reference_n < 5.0);
    let mut last = 0.0;
    for t in 1..300 {
        let now = carries(&scene.with(&format!("t1_mm={t} t2_mm={t}"))).reference_n;
        assert!(last <= now, "{t} mm carry less than {} mm", t - 1);
        last = now;
    }
    near("no end", last, thick.reference_n, 1e-12);
}

#[test]
fn the_rope_begins_at_nothing_and_ends_at_its_limit() {
    let scene = Scene::read(
        "kind=nail d_mm=4 head_mm=8 fu=600 side=lumber side_rho=350 main=lumber main_rho=350 t1_mm=45 t2_mm=60 \
         head_on=lumber head_rho=350 head_t_mm=45",
    );
    let at =
        |bite: i32, along: &str| carries(&scene.with(&format!("t2_mm={bite} along={along}"))).reference_n;
    // At 8 d of bite the withdrawal of a smooth nail is reduced to nothing, 8.3.2(7).
    near("8 d", at(32, "yes"), at(32, "no"), 1e-12);
    assert!(at(32, "no") < at(33, "yes"), "a rope that pulls adds nothing");
    for bite in 32..200 {
        let (with, without) = (at(bite, "yes"), at(bite, "no"));
        assert!(without <= with && with <= 1.15 * without * (1.0 + 1e-12), "{bite} mm: {with} of {without}");
    }
    let strong = scene.with("t2_mm=2000 head_mm=30");
    let ratio = carries(&strong.with("along=yes")).reference_n / carries(&strong).reference_n;
    near("the limit of round nails", ratio, 1.15, 1e-12);
}

#[test]
fn a_load_one_way_is_judged_by_its_own_value_alone() {
    let standard = by_id(StandardId::En199511);
    let demand = |demand_n, adjusted_n| Demand { demand_n, adjusted_n };
    for kind in ["nail", "nail thread_mm=40", "wood-screw", "bolt"] {
        let scene = Scene::read(&format!("kind={kind} d_mm=4"));
        let ratio = |across, along| scene.driven(|it| standard.both_ways(it, across, along).ratio);
        near(kind, ratio(demand(450.0, 600.0), demand(0.0, 0.0)), 0.75, 1e-12);
        near(kind, ratio(demand(0.0, 0.0), demand(450.0, 600.0)), 0.75, 1e-12);
        near(kind, ratio(demand(450.0, 600.0), demand(1e-9, 600.0)), 0.75, 1e-9);
        assert!(ratio(demand(1.0, 0.0), demand(0.0, 0.0)).is_infinite());
        assert!(ratio(demand(400.0, 600.0), demand(400.0, 600.0)) > 2.0_f64.sqrt() * 0.66);
    }
}

#[test]
fn a_distance_below_the_least_leaves_no_value() {
    let standard = by_id(StandardId::En199511);
    let source = Source::Clause { document: "EN 1995-1-1", clause: "Table 8.4" };
    let with = |drawn_mm: f64| {
        sets()[0].across(|it| {
            let room =
                Room { what: "end distance", drawn_mm, full_mm: 84.0, least_mm: 84.0, source, of: None };
            let mut asked = it.clone();
            asked.rooms = vec![room];
            standard.across(&asked)
        })
    };
    near("enough", with(84.0).expect("it is enough").reference_n, carries(&sets()[0]).reference_n, 0.0);
    let why = with(83.9).expect_err("it is too short");
    assert_eq!(why.source, source);
    assert_eq!(why.because, "end distance 83.9 mm is less than the 84.0 mm that it must have at least");
}
