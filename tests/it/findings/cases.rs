//! For every kind of finding a joint that has it and nothing else, its numbers worked out by hand.
//!
//! Where nothing else is said the joint is the ledger of `build`: 38.1 mm thick, x from 0; the rim 88.9 mm
//! thick behind it; a 16d common nail, D = 0.162 in = 4.1148 mm, L = 3 1/2 in = 88.9 mm, at y = 120,
//! z = 600, driven to the right; a load straight down on the ledger.

use shankline::findings::Severity::{self, Caution, Fault};
use shankline::findings::{self, Kind};
use shankline::joint::{
    Fastener, Finish, Grain, Interval, Joint, LeadHole, Outline, Placement, Seat, Service, StandardId,
    Treatment,
};
use shankline::stock::{Family, FastenerKind};
use shankline::trace;
use shankline::unit::Vec3;

use super::build::*;

/// What must be found, and its numbers.
pub(super) struct Told {
    pub(super) kind: Kind,
    pub(super) severity: Severity,
    pub(super) measured: Option<f64>,
    pub(super) required: Option<f64>,
}

pub(super) struct Case {
    pub(super) name: &'static str,
    pub(super) joint: Joint,
    /// The faults and cautions that must be found, no more and no less; notes may be listed too.
    pub(super) told: Vec<Told>,
}

fn told(kind: Kind, severity: Severity, measured: f64, required: f64) -> Told {
    Told { kind, severity, measured: Some(measured), required: Some(required) }
}

fn case(name: &'static str, joint: Joint, told: Told) -> Case {
    Case { name, joint, told: vec![told] }
}

fn with(mut joint: Joint, change: impl FnOnce(&mut Joint)) -> Joint {
    change(&mut joint);
    joint
}

/// The rim behind the ledger, from x to x and y to y.
fn rim(joint: &mut Joint, x: [f64; 2], y: [f64; 2]) {
    joint.members[1] = block("rim", x, y);
}

const HEIGHT: f64 = 234.95;

pub(super) fn all() -> Vec<Case> {
    let mut cases = on_the_way();
    cases.extend(at_the_point());
    cases.extend(distances());
    cases.extend(seats());
    cases.extend(holes());
    cases.extend(drilled());
    cases.extend(wood());
    cases.extend(carried());
    cases
}

fn on_the_way() -> Vec<Case> {
    vec![
        // Head and point at y = 300, above both pieces: nothing of it is in wood.
        Case {
            name: "a nail above the ledger",
            joint: with(nailed(), |it| move_head(it, Vec3::new(0.0, 300.0, 600.0))),
            told: vec![Told { kind: Kind::InAir, severity: Fault, measured: Some(0.0), required: None }],
        },
        // 1 mm of air; bite 88.9 - 38.1 - 1 = 49.8, more than 6 D = 24.7.
        case(
            "a gap of one millimetre",
            with(nailed(), |it| rim(it, [39.1, 128.0], [0.0, HEIGHT])),
            told(Kind::Gap, Caution, 1.0, 0.0),
        ),
        // 12.7 mm of foam; bite 88.9 - 38.1 - 12.7 = 38.1.
        case(
            "foam between",
            with(nailed(), |it| {
                rim(it, [50.8, 139.7], [0.0, HEIGHT]);
                it.members.push(foam([38.1, 50.8]));
            }),
            told(Kind::Filling, Caution, 12.7, 0.0),
        ),
        // The rim ends 20 mm below the nail.
        Case {
            name: "a nail over the rim",
            joint: with(nailed(), |it| rim(it, [38.1, 127.0], [-200.0, 100.0])),
            told: vec![Told { kind: Kind::Shiner, severity: Fault, measured: Some(0.0), required: None }],
        },
    ]
}

fn move_head(joint: &mut Joint, to: Vec3) {
    let toward = Vec3::X;
    joint.fasteners[0].place = Placement::Free { head: to, toward };
}

fn at_the_point() -> Vec<Case> {
    vec![
        // Ledger 72 mm: bite 88.9 - 72 = 16.9; 6 D = 6 x 4.1148 = 24.6888 (NDS 12.1.6.4).
        case(
            "a thick ledger",
            with(nailed(), |it| {
                it.members[0] = block("ledger", [0.0, 72.0], [0.0, HEIGHT]);
                rim(it, [72.0, 161.0], [0.0, HEIGHT]);
            }),
            told(Kind::ShortBite, Fault, 16.9, 24.6888),
        ),
        // EN 1995-1-1 8.3.1.2(6): t = max(7 d, (13 d - 30) rho / 400) with d = 4, rho = 350:
        // 28 and 19.25; the side piece is 20 mm.
        case("a thin side piece", thin_side(), told(Kind::ThinSide, Fault, 20.0, 28.0)),
        // Rim 25.4 mm: the point stands 88.9 - 38.1 - 25.4 = 25.4 out; bite 25.4, over 24.6888.
        case(
            "a thin rim",
            with(nailed(), |it| rim(it, [38.1, 63.5], [0.0, HEIGHT])),
            told(Kind::PointOut, Fault, 25.4, 0.0),
        ),
        // The lag screw of 5 in: rim 2 in, so 88.9 mm of wood and the washer leave 127 - 2.1082 - 88.9 = 35.9918
        // out; the bite without the point is 50.8, over 4 D = 38.1: a caution.
        case(
            "a lag screw through a thick rim",
            with(lagged(5.0), |it| rim(it, [38.1, 88.9], [0.0, HEIGHT])),
            told(Kind::PointOut, Caution, 35.9918, 0.0),
        ),
        // The rim begins 1 mm below the axis; half of 4.1148 is 2.0574.
        case(
            "a nail in the edge of the rim",
            with(nailed(), |it| rim(it, [38.1, 127.0], [119.0, 300.0])),
            told(Kind::BreaksOut, Fault, 1.0, 2.0574),
        ),
        // The rim begins at the axis.
        case(
            "a nail along the underside of the rim",
            with(nailed(), |it| rim(it, [38.1, 127.0], [120.0, 300.0])),
            told(Kind::AlongFace, Fault, 0.0, 2.0574),
        ),
    ]
}

/// A 4 by 90 mm nail through 20 mm of C24 into a post of C24, by EN 1995-1-1, loaded along the grain.
fn thin_side() -> Joint {
    let mut joint = nailed();
    joint.standard = StandardId::En199511;
    joint.show_lengths_in = shankline::unit::LengthUnit::Millimetre;
    joint.members =
        vec![block("board", [0.0, 20.0], [0.0, HEIGHT]), block("post", [20.0, 120.0], [0.0, HEIGHT])];
    for member in &mut joint.members {
        member.material = c24();
    }
    joint.loads[0].on = "board".to_owned();
    joint.loads[0].toward = Vec3::Z;
    let mut nail = nail_16d();
    (nail.diameter_mm, nail.length_mm) = (4.0, 90.0);
    nail.bending_yield_mpa = None;
    nail.tensile_mpa = Some(600.0);
    joint.fasteners[0].spec = nail.into();
    joint
}

fn distances() -> Vec<Case> {
    vec![
        // Load across the grain, so the ends are not loaded: 10 D = 41.148 without a lead hole (NDS Commentary
        // Table C12.1.6.6, advice). The rim goes on beyond.
        case(
            "a nail near the end of the ledger",
            with(nailed(), |it| {
                move_head(it, Vec3::new(0.0, 120.0, 20.0));
                it.members[1].depth = Interval { from: -600.0, to: 1200.0 };
            }),
            told(Kind::EndDistance, Caution, 20.0, 41.148),
        ),
        // 1/2 in bolt, load across the grain, the shank pushes the ledger up: its upper edge is loaded,
        // 4 D = 50.8 (NDS Table 12.5.1C); the ledger ends 40 mm above the bolt.
        case(
            "a bolt near the loaded edge",
            with(bolted(), |it| it.members[0] = block("ledger", [0.0, 38.1], [0.0, 160.0])),
            told(Kind::EdgeDistance, Fault, 40.0, 50.8),
        ),
        // Two nails 18 mm apart along the grain under a load across it: rows in line, 5 D = 20.574 (the same
        // table, advice).
        case(
            "two nails side by side",
            with(nailed(), |it| {
                it.fasteners.push(driven("n2", nail_16d(), [0.0, 120.0, 618.0], [1.0, 0.0, 0.0]));
            }),
            told(Kind::Spacing, Caution, 18.0, 20.574),
        ),
        // Two nails 3 mm apart; 4.1148 / 2 twice is 4.1148.
        case(
            "two nails in one another",
            with(nailed(), |it| {
                it.fasteners.push(driven("n2", nail_16d(), [0.0, 120.0, 603.0], [1.0, 0.0, 0.0]));
            }),
            told(Kind::Clash, Fault, 3.0, 4.1148),
        ),
        // The grain of the ledger runs across that of the post behind it: 180 - 40 = 140 between the outer
        // bolts is more than 5 in = 127 (NDS 12.5.1.3).
        case(
            "two bolts far apart across the grain",
            with(bolted(), |it| {
                rim(it, [38.1, 127.0], [-300.0, 500.0]);
                it.members[1].grain = Grain::InPlane(90.0);
                move_head(it, Vec3::new(-mm(0.109), 40.0, 600.0));
                let upper = driven("b2", bolt(6.0), [-mm(0.109), 180.0, 600.0], [1.0, 0.0, 0.0]);
                it.fasteners.push(Fastener { id: upper.id, place: upper.place, ..it.fasteners[0].clone() });
            }),
            told(Kind::Spread, Caution, 140.0, 127.0),
        ),
    ]
}

fn seats() -> Vec<Case> {
    vec![
        // The head lies 10 mm off the ledger.
        case(
            "a floating head",
            with(nailed(), |it| move_head(it, Vec3::new(-10.0, 120.0, 600.0))),
            told(Kind::HeadSeat, Fault, 10.0, 0.0),
        ),
        case(
            "a head driven too far",
            with(nailed(), |it| it.fasteners[0].seat = Seat::Overdriven(3.0)),
            told(Kind::Overdriven, Caution, 3.0, 0.0),
        ),
        // The strap is 1.5 thick: a head cannot be 3 below its face and leave it whole.
        case(
            "a head driven on into a strap",
            with(ledger_on_rim(), |it| {
                it.connectors.push(strap(takes(FastenerKind::Nail, 4.11, Some(63.5)), None));
                it.fasteners.push(filling("n1", "h1", None));
                it.fasteners[0].seat = Seat::Overdriven(3.0);
            }),
            told(Kind::Overdriven, Fault, 3.0, 0.0),
        ),
        case(
            "a head left proud",
            with(nailed(), |it| it.fasteners[0].seat = Seat::Proud(3.0)),
            told(Kind::Proud, Caution, 3.0, 0.0),
        ),
        // No washer under the head, which then lies on the ledger (NDS 12.1.3.3).
        case(
            "no washer under a bolt's head",
            with(bolted(), |it| {
                it.fasteners[0].head_washer = None;
                move_head(it, Vec3::new(0.0, 120.0, 600.0));
            }),
            told(Kind::Washer, Fault, 0.0, 1.0),
        ),
        // 5 1/2 in = 139.7, less washer 2.7686, less 127 of wood = 9.9314; nut 11.1125 + washer 2.7686 = 13.8811.
        case(
            "a short bolt",
            with(bolted(), |it| it.fasteners[0].spec = bolt(5.5).into()),
            told(Kind::BoltShort, Fault, 9.9314, 13.8811),
        ),
        // The back of the rim leans by 1 in 4: the axis meets it at 90 - atan(1/4) = 75.96 degrees; 85 is square enough.
        Case {
            name: "a nut on a slope",
            joint: with(bolted(), |it| {
                let corners = [(38.1, 0.0), (97.0, 0.0), (155.0, 232.0), (38.1, 232.0)];
                it.members[1].outline = Outline::Polygon(corners.into_iter().map(Into::into).collect());
            }),
            told: vec![told(Kind::NutSeat, Caution, 90.0 - 0.25_f64.atan().to_degrees(), 85.0)],
        },
    ]
}

fn holes() -> Vec<Case> {
    let nail = FastenerKind::Nail;
    let in_strap = |takes, hole_deg, nail_deg| {
        with(ledger_on_rim(), |it| {
            it.connectors.push(strap(takes, hole_deg));
            it.fasteners.push(filling("n1", "h1", nail_deg));
        })
    };
    vec![
        case(
            "a hole left empty",
            with(ledger_on_rim(), |it| it.connectors.push(strap(takes(nail, 4.11, None), None))),
            told(Kind::EmptyHole, Fault, 0.0, 1.0),
        ),
        case(
            "a nail where a screw goes",
            in_strap(takes(FastenerKind::WoodScrew, 4.11, None), None, None),
            told(Kind::WrongKind, Fault, 0.0, 1.0),
        ),
        case(
            "a thick nail",
            in_strap(takes(nail, 3.76, None), None, None),
            told(Kind::WrongDiameter, Fault, 4.1148, 3.76),
        ),
        case(
            "a short nail",
            in_strap(takes(nail, 4.11, Some(101.6)), None, None),
            told(Kind::WrongLength, Fault, 88.9, 101.6),
        ),
        case(
            "a nail out of its guide",
            in_strap(takes(nail, 4.11, None), Some(-30.0), Some(0.0)),
            told(Kind::WrongAngle, Fault, 0.0, -30.0),
        ),
        // A free nail where the strap has steel and no hole, 40 mm above the hole, 1.5 mm thick.
        case(
            "a nail through the strap",
            with(nailed(), |it| {
                let mut strap = strap(None, None);
                strap.plates[0].holes.clear();
                it.connectors.push(strap);
                move_head(it, Vec3::new(-1.5, 160.0, 600.0));
            }),
            told(Kind::ThroughSteel, Fault, 1.5, 0.0),
        ),
        // 2 mm of 234.95 is 469.9 mm2.
        case("a rim drawn into the ledger", overlapping(), told(Kind::Overlap, Fault, 2.0 * HEIGHT, 0.0)),
        Case {
            name: "a nail for a hole that is not there",
            joint: with(ledger_on_rim(), |it| {
                let mut strap = strap(None, None);
                strap.plates[0].holes.clear();
                it.connectors.push(strap);
                it.fasteners.push(filling("n1", "h9", None));
            }),
            told: vec![Told { kind: Kind::NoSuchHole, severity: Fault, measured: None, required: None }],
        },
    ]
}

/// The rim drawn 2 mm into the ledger.
pub(super) fn overlapping() -> Joint {
    with(nailed(), |it| rim(it, [36.1, 127.0], [0.0, HEIGHT]))
}

fn drilled() -> Vec<Case> {
    vec![
        // 5/8 in hole for a 1/2 in bolt: at most 1/16 in more, 14.2875 (NDS 12.1.3.2).
        case(
            "a bolt in a wide hole",
            with(bolted(), |it| {
                it.fasteners[0].lead_hole = Some(LeadHole { diameter_mm: 15.875, depth_mm: 127.0 });
            }),
            told(Kind::OversizeHole, Fault, 15.875, 14.2875),
        ),
        // Ledger and rim are 5 in thick, 127 mm; the hole ends 1 in before that.
        case(
            "a bolt whose hole does not go through",
            with(bolted(), |it| {
                it.fasteners[0].lead_hole = Some(LeadHole { diameter_mm: 13.5, depth_mm: 101.6 });
            }),
            told(Kind::HoleDepth, Fault, 101.6, 127.0),
        ),
        // A 6 in lag screw through 5 in of wood: its hole is asked to be 6 in deep (NDS 12.1.4.2), and ends with the
        // wood. The washer is 0.083 in thick: 152.4 - 2.1082 - 127 mm stands out.
        case(
            "a lag screw that comes out of a hole right through",
            with(lagged(6.0), |it| {
                it.fasteners[0].lead_hole.as_mut().expect("it has one").depth_mm = 127.0;
            }),
            told(Kind::PointOut, Caution, 152.4 - 2.1082 - 127.0, 0.0),
        ),
        // No hole drilled for a 3/8 in lag screw in hem-fir, G 0.43: 40 % of 9.525 is 3.81 at least (NDS 12.1.4.3).
        case(
            "a lag screw without a lead hole",
            with(lagged(4.0), |it| it.fasteners[0].lead_hole = None),
            told(Kind::LeadHole, Caution, 0.0, 3.81),
        ),
        // Hole as deep as the screw is long, 88.9; 1/2 in more is asked for: 101.6 (common practice).
        case("a masonry screw in a shallow hole", masonry(88.9), told(Kind::HoleDepth, Fault, 88.9, 101.6)),
    ]
}

/// The ledger on a concrete wall, with a 1/4 by 3 1/2 in masonry screw in a hole of this depth.
fn masonry(depth_mm: f64) -> Joint {
    let mut joint = ledger_on_rim();
    joint.members[1].material = no_wood("concrete/normal", "concrete", Family::Concrete);
    joint.members[1].grain = Grain::None;
    let spec = spec("masonry-screw/0.25x3.5", "masonry screw", FastenerKind::MasonryScrew, 0.25, 3.5);
    let mut screw = driven("m1", spec, [0.0, 120.0, 600.0], [1.0, 0.0, 0.0]);
    screw.lead_hole = Some(LeadHole { diameter_mm: mm(3.0 / 16.0), depth_mm });
    joint.fasteners.push(screw);
    joint
}

fn wood() -> Vec<Case> {
    vec![
        // Copper preservative against bare steel: hot-dip zinc, class 3 of 0 to 4 (IRC R317.3.1).
        case(
            "a bright nail in treated wood",
            with(nailed(), |it| it.members[1].treatment = Treatment::Preservative),
            told(Kind::Finish, Fault, 0.0, 3.0),
        ),
        case(
            "a nail in end grain",
            with(nailed(), |it| it.members[1].grain = Grain::InPlane(0.0)),
            told(Kind::EndGrain, Caution, 1.0, 0.0),
        ),
        case(
            "a nail in concrete",
            with(nailed(), |it| {
                it.members[1].material = no_wood("concrete/normal", "concrete", Family::Concrete);
                it.members[1].grain = Grain::None;
            }),
            told(Kind::Unsuitable, Fault, 0.0, 1.0),
        ),
        // A toe-nail at 30 degrees to the post's face (NDS 12.1.6.3): a third of 88.9 is 29.6333, a quarter either
        // way is near enough, so 22.225 at least; it starts 20 mm from the post's end. It reaches
        // 88.9 cos 30 - 20 = 57.0 into the sill, which is 100 thick.
        case(
            "a toe-nail that starts too low",
            toe_nail(20.0, 30.0),
            told(Kind::WrongStart, Fault, 20.0, 22.225),
        ),
    ]
}

/// 16d common nails bend at 90,000 psi (NDS 2018 Table I1).
fn strong(joint: &mut Joint) {
    let mut spec = nail_16d();
    spec.bending_yield_mpa = Some(90_000.0 * 4.448_221_615_260_5 / 645.16);
    joint.fasteners[0].spec = std::sync::Arc::new(spec);
    joint.loads[0].newtons = Some(1000.0);
}

fn carried() -> Vec<Case> {
    // Mode IV: D^2 / R_d sqrt(2 F_e F_yb / (3 (1 + R_e))) with F_e of hem-fir 3500 psi and R_d 2.2: 122.2 lb
    // (NDS 2018 12.3.1; 122 lb in Table 12N, from memory).
    let carries = 0.162 * 0.162 / 2.2 * (2.0 * 3500.0 * 90_000.0 / 6.0_f64).sqrt() * 4.448_221_615_260_5;
    let rated = with(ledger_on_rim(), |it| {
        let mut strap = strap(None, None);
        strap.rating = Some(shankline::joint::Rating {
            newtons: 2000.0,
            toward: -Vec3::Y,
            holes: shankline::joint::RatedHoles::Required,
            spec: Some(std::sync::Arc::new(spec("", "10d common nail", FastenerKind::Nail, 0.148, 3.0))),
            note: String::new(),
        });
        it.connectors.push(strap);
        it.fasteners.push(filling("n1", "h1", None));
    });
    vec![
        case(
            "a nail that carries less than comes to it",
            with(nailed(), strong),
            told(Kind::Overloaded, Fault, 1000.0, carries),
        ),
        Case {
            name: "a nail of which nobody knows at what it bends",
            joint: with(nailed(), |it| it.loads[0].newtons = Some(1000.0)),
            told: vec![Told {
                kind: Kind::NoValue,
                severity: Caution,
                measured: Some(1000.0),
                required: None,
            }],
        },
        Case {
            name: "a strap with another nail than its rating presumes",
            joint: rated,
            told: vec![Told { kind: Kind::BelowRating, severity: Caution, measured: None, required: None }],
        },
        Case {
            name: "a load on a joist that nothing is driven into",
            joint: with(nailed(), |it| {
                it.members.push(block("joist", [400.0, 500.0], [0.0, 200.0]));
                it.loads[0].on = "joist".to_owned();
                it.loads[0].newtons = Some(800.0 * 4.448_221_615_260_5);
            }),
            told: vec![Told {
                kind: Kind::NotCarried,
                severity: Caution,
                measured: Some(800.0 * 4.448_221_615_260_5),
                required: None,
            }],
        },
    ]
}

/// A post 88.9 mm thick and 400 high on a sill, its grain upright, and a 16d nail from its left side so far above
/// the sill, at this angle to its face.
pub(super) fn toe_nail(start_mm: f64, degrees: f64) -> Joint {
    let mut joint = ledger_on_rim();
    let mut post = block("post", [100.0, 188.9], [38.1, 438.1]);
    post.grain = Grain::InPlane(90.0);
    post.depth = Interval { from: 0.0, to: 88.9 };
    let mut sill = block("sill", [0.0, 400.0], [-61.9, 38.1]);
    sill.grain = Grain::InPlane(0.0);
    sill.depth = Interval { from: 0.0, to: 88.9 };
    joint.members = vec![post, sill];
    joint.loads[0].on = "post".to_owned();
    joint.loads[0].toward = Vec3::X;
    let (sin, cos) = degrees.to_radians().sin_cos();
    let head = [100.0, 38.1 + start_mm, 44.45];
    joint.fasteners.push(driven("n1", nail_16d(), head, [sin, -cos, 0.0]));
    joint
}

/// Joints in which nothing is to be found.
pub(super) fn sound() -> Vec<(&'static str, Joint)> {
    vec![
        ("a nailed ledger", nailed()),
        ("a lag screw", lagged(4.0)),
        ("a bolt", bolted()),
        ("a masonry screw in a deep hole", masonry(101.6)),
        (
            "a strap nail",
            with(ledger_on_rim(), |it| {
                it.connectors.push(strap(takes(FastenerKind::Nail, 4.11, Some(63.5)), None));
                it.fasteners.push(filling("n1", "h1", None));
            }),
        ),
        (
            "a galvanized nail in treated wood",
            with(nailed(), |it| {
                it.members[1].treatment = Treatment::Preservative;
                it.fasteners[0].finish = Finish::HotDipGalvanized;
            }),
        ),
        ("a dry place", with(nailed(), |it| it.service = Service::Dry)),
        // Notes do not spoil it.
        (
            "an old nail that is short",
            with(nailed(), |it| {
                it.fasteners[0].existing = true;
                rim(it, [38.1, 63.5], [0.0, HEIGHT]);
            }),
        ),
    ]
}

/// A short bite says that a gap costs it, where one does: 88.9 - 38.1 - 30 = 20.8 mm in the rim, and 30 mm before it.
#[test]
fn a_short_bite_names_the_gap_that_costs_it() {
    let says = |joint: &Joint| {
        let found = findings::judge(joint, &trace::trace(joint));
        let short = found.list.into_iter().find(|it| it.kind == Kind::ShortBite);
        short.map(|it| it.says).unwrap_or_default()
    };
    let across_a_gap = says(&with(nailed(), |it| rim(it, [68.1, 157.0], [0.0, HEIGHT])));
    // 30 mm are 1.1811", and what is measured is rounded down.
    assert!(across_a_gap.contains("A gap of 1 1/8\" lies before it."), "{across_a_gap}");
    let without = says(&with(nailed(), |it| {
        it.members[0] = block("ledger", [0.0, 72.0], [0.0, HEIGHT]);
        rim(it, [72.0, 161.0], [0.0, HEIGHT]);
    }));
    assert!(without.starts_with("Only ") && !without.contains("gap"), "{without}");
}

/// What is there already and runs into each other did so before; what is driven into it is told.
#[test]
fn only_two_old_shanks_may_run_into_each_other() {
    let mut joint = nailed();
    joint.fasteners.push(driven("n2", nail_16d(), [0.0, 120.0, 603.0], [1.0, 0.0, 0.0]));
    for (old, is_told) in
        [([false, false], true), ([true, false], true), ([false, true], true), ([true, true], false)]
    {
        for (it, old) in joint.fasteners.iter_mut().zip(old) {
            it.existing = old;
        }
        let found = findings::judge(&joint, &trace::trace(&joint));
        assert_eq!(found.list.iter().any(|it| it.kind == Kind::Clash), is_told, "{old:?}");
    }
}

/// The hole of the strap is 4.4 mm wide and at y = 120, the shank 4.1148 mm thick: it has (4.4 - 4.1148) / 2 = 0.1426 mm
/// to move to each side, and a tenth of a millimetre more is not to be told from it.
#[test]
fn a_free_shank_may_lie_off_the_centre_of_a_hole_as_far_as_it_has_room() {
    let cut_by = |off_mm: f64| {
        let joint = with(nailed(), |it| {
            it.connectors.push(strap(takes(FastenerKind::Nail, 4.1148, None), None));
            move_head(it, Vec3::new(-1.5, 120.0 + off_mm, 600.0));
        });
        let found = findings::judge(&joint, &trace::trace(&joint));
        found.list.iter().find(|it| it.kind == Kind::ThroughSteel).map(|it| (it.measured, it.required))
    };
    assert_eq!(cut_by(0.0), None);
    assert_eq!(cut_by(0.1), None, "it has room");
    assert_eq!(cut_by(-0.14), None, "it touches the rim of the hole");
    let (off, room) = cut_by(0.5).expect("it cuts the steel");
    assert!(
        (off.unwrap_or(0.0) - 0.5).abs() < 1e-9 && (room.unwrap_or(0.0) - 0.1426).abs() < 1e-9,
        "{off:?} {room:?}"
    );
}
