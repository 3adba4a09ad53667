//! Numbers that can be trusted: the same joint elsewhere, turned, mirrored or in the other unit has the same verdict,
//! and where a hair decides, a finding says so.

use std::collections::BTreeSet;
use std::path::Path;

use kurbo::Point;
use shankline::findings::{self, Finding, Severity};
use shankline::joint::{Joint, Outline, Placement, StandardId, edit, file};
use shankline::sketch::arrange;
use shankline::sketch::motion::Motion;
use shankline::stock::Stock;
use shankline::trace;
use shankline::unit::{LengthUnit, Vec3};

use crate::dice::Dice;
use crate::scenes::{Move, Scene};

fn samples() -> Vec<(String, Joint)> {
    let stock = Stock::built_in();
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("sample-projects");
    let mut all: Vec<(String, Joint)> = std::fs::read_dir(folder)
        .expect("the samples are there")
        .map(|it| it.expect("it can be read").path())
        .filter(|it| it.to_string_lossy().ends_with(".joint.json"))
        .map(|it| {
            let text = std::fs::read_to_string(&it).expect("it is text");
            let name = it.file_name().map_or_else(String::new, |it| it.to_string_lossy().into_owned());
            (name, file::read(&text, &stock).expect("it is a joint"))
        })
        .collect();
    all.sort_by(|a, b| a.0.cmp(&b.0));
    assert_eq!(all.len(), 8);
    all
}

fn judged(joint: &Joint) -> Vec<Finding> {
    findings::judge(joint, &trace::trace(joint)).list
}

/// A finding without its words: what, how bad, of what, measured and required.
type Bare = (&'static str, Severity, BTreeSet<String>, Option<f64>, Option<f64>);

fn bare(list: &[Finding]) -> Vec<Bare> {
    let mut all: Vec<Bare> = list
        .iter()
        .map(|it| {
            let subjects = it.subjects.iter().cloned().collect();
            (it.kind.word(), it.severity, subjects, it.measured, it.required)
        })
        .collect();
    let order = |it: Option<f64>| it.unwrap_or(f64::NEG_INFINITY);
    // Rounded for the order only, so that the last bit does not swap two of a kind.
    let coarse = |it: Option<f64>| (order(it) * 1e3).round();
    all.sort_by(|a, b| {
        (a.0, a.1, &a.2)
            .cmp(&(b.0, b.1, &b.2))
            .then(coarse(a.3).total_cmp(&coarse(b.3)))
            .then(coarse(a.4).total_cmp(&coarse(b.4)))
    });
    all
}

/// One part in a thousand million of the size of the joint, which is at most some metres.
fn close(a: Option<f64>, b: Option<f64>) -> bool {
    match (a, b) {
        (Some(a), Some(b)) => (a - b).abs() <= 1e-9 * a.abs().max(1e3),
        (a, b) => a.is_none() && b.is_none(),
    }
}

#[track_caller]
fn same(what: &str, a: &[Finding], b: &[Finding]) {
    let (a, b) = (bare(a), bare(b));
    let kinds = |it: &[Bare]| it.iter().map(|it| (it.0, it.1, it.2.clone())).collect::<Vec<_>>();
    assert_eq!(kinds(&a), kinds(&b), "{what}");
    for (a, b) in a.iter().zip(&b) {
        // Round forms are flattened for an area that two members share, in other places once they are turned.
        if a.0 == "overlap" {
            let near = a.3.zip(b.3).is_some_and(|(a, b)| (a - b).abs() <= 1e-4 * a + 0.01);
            assert!(near, "{what}: {a:?} became {b:?}");
            continue;
        }
        assert!(close(a.3, b.3) && close(a.4, b.4), "{what}: {a:?} became {b:?}");
    }
}

fn all_ids(joint: &Joint) -> Vec<String> {
    let members = joint.members.iter().map(|it| it.id.clone());
    let connectors = joint.connectors.iter().map(|it| it.id.clone());
    members.chain(connectors).chain(joint.fasteners.iter().map(|it| it.id.clone())).collect()
}

/// The whole joint moved, with what pulls on it.
fn moved(joint: &Joint, by: &Motion) -> Joint {
    let mut joint = joint.clone();
    let change = arrange::moved(&joint, &all_ids(&joint), by).expect("a whole joint can be moved");
    let _ = edit::apply(&mut joint, &change);
    for load in &mut joint.loads {
        load.toward = by.direction(load.toward);
    }
    joint
}

#[test]
fn a_sample_elsewhere_turned_or_mirrored_is_judged_the_same() {
    let motions = [
        ("shifted", Motion::shift(Vec3::new(1234.5, -987.6, 345.6))),
        ("turned by 37 degrees", Motion::turn(Point::new(11.0, -7.0), 37.0)),
        ("turned by 90 degrees", Motion::turn(Point::ZERO, 90.0)),
        ("turned by 180 degrees", Motion::turn(Point::new(50.0, 50.0), 180.0)),
        ("mirrored left and right", Motion::mirror(Point::new(3.0, 0.0), 90.0)),
        ("mirrored on a slope", Motion::mirror(Point::ZERO, 22.5)),
    ];
    for (name, joint) in samples() {
        for by in [StandardId::Nds2018, StandardId::En199511] {
            let joint = Joint { standard: by, ..joint.clone() };
            let here = judged(&joint);
            for (what, motion) in &motions {
                same(&format!("{name} by {by:?}, {what}"), &here, &judged(&moved(&joint, motion)));
            }
        }
    }
}

#[test]
fn random_joints_elsewhere_turned_or_mirrored_are_judged_the_same() {
    for seed in 0..300 {
        let mut dice = Dice::new(seed);
        let scene = Scene::random(&mut dice);
        let plan = dice.place(900.0);
        let by = Move {
            mirrors: seed % 2 == 0,
            turn_deg: dice.between(-360.0, 360.0),
            shift: Vec3::new(plan.x, plan.y, dice.between(-900.0, 900.0)),
            flips_depth: false,
        };
        same(&format!("seed {seed}"), &judged(&scene.joint(&Move::NONE)), &judged(&scene.joint(&by)));
    }
}

#[test]
fn the_unit_that_is_shown_changes_no_number() {
    for (name, joint) in samples() {
        let inch = judged(&Joint { show_lengths_in: LengthUnit::Inch, ..joint.clone() });
        let metric = judged(&Joint { show_lengths_in: LengthUnit::Millimetre, ..joint });
        same(&name, &inch, &metric);
    }
}

/// Far from the origin a double has fewer places after the point, but more than enough.
#[test]
fn nine_hundred_metres_from_the_origin_the_verdict_is_the_same() {
    for (name, joint) in samples() {
        let far = judged(&moved(&joint, &Motion::shift(Vec3::new(9e5, -9e5, 9e5))));
        let kinds = |it: &[Finding]| bare(it).into_iter().map(|it| (it.0, it.1, it.2)).collect::<Vec<_>>();
        assert_eq!(kinds(&far), kinds(&judged(&joint)), "{name}");
    }
}

/// How near to its limit a hair's move may bring a number before it counts as decided by that hair.
const HAIR_MM: f64 = 4e-3;

/// The fasteners and members that have a fault here and none there, or none here and one there. A fault whose own
/// numbers say that a hair decides it does not count.
fn flipped(a: &[Finding], b: &[Finding]) -> Vec<String> {
    let is_close_call = |it: &Finding| match (it.measured, it.required) {
        (Some(measured), Some(required)) => (measured - required).abs() <= HAIR_MM,
        _ => false,
    };
    let faulty = |list: &[Finding]| -> BTreeSet<String> {
        let all = list.iter().filter(|it| it.severity == Severity::Fault && !is_close_call(it));
        all.filter_map(|it| it.subjects.first().cloned()).collect()
    };
    let (a, b) = (faulty(a), faulty(b));
    a.symmetric_difference(&b).cloned().collect()
}

/// Whether one has a caution that the other has not.
fn warns(a: &[Finding], b: &[Finding]) -> bool {
    let cautions = |list: &[Finding]| -> BTreeSet<(&'static str, Vec<String>)> {
        let all = list.iter().filter(|it| it.severity == Severity::Caution);
        all.map(|it| (it.kind.word(), it.subjects.clone())).collect()
    };
    cautions(a) != cautions(b)
}

#[test]
fn faces_a_micrometre_apart_flip_no_verdict_without_a_word() {
    for (name, joint) in samples() {
        let here = judged(&joint);
        for n in 0..joint.members.len() {
            for by in [
                Vec3::new(1e-3, 0.0, 0.0),
                Vec3::new(-1e-3, 0.0, 0.0),
                Vec3::new(0.0, 1e-3, 0.0),
                Vec3::new(0.0, -1e-3, 0.0),
                Vec3::new(0.0, 0.0, 1e-3),
                Vec3::new(0.0, 0.0, -1e-3),
            ] {
                let ids = [joint.members[n].id.clone()];
                let mut other = joint.clone();
                let change = arrange::moved(&other, &ids, &Motion::shift(by)).expect("a member can be moved");
                let _ = edit::apply(&mut other, &change);
                let there = judged(&other);
                let flipped = flipped(&here, &there);
                assert!(
                    flipped.is_empty() || warns(&here, &there),
                    "{name}: {} by {by:?} flips {flipped:?} without a word",
                    ids[0]
                );
            }
        }
    }
}

#[test]
fn shanks_a_hair_off_parallel_flip_no_verdict_without_a_word() {
    for (name, joint) in samples() {
        let here = judged(&joint);
        for n in 0..joint.fasteners.len() {
            for (x, y, z) in
                [(1.0, 0.0, 0.0), (-1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, -1.0, 0.0), (0.0, 0.0, 1.0)]
            {
                let mut other = joint.clone();
                let Placement::Free { toward, .. } = &mut other.fasteners[n].place else { continue };
                let tilt = 1e-6_f64.to_radians() * toward.length();
                *toward = *toward + Vec3::new(x, y, z) * tilt;
                let there = judged(&other);
                let flipped = flipped(&here, &there);
                assert!(
                    flipped.is_empty() || warns(&here, &there),
                    "{name}: {} tilted by a millionth of a degree flips {flipped:?} without a word",
                    joint.fasteners[n].id
                );
            }
        }
    }
}

/// A nail in the plane where two boards meet, or a hair beside it or off parallel with it: it never just holds.
#[test]
fn a_shank_in_a_shared_face_is_told_whichever_side_the_hair_lies() {
    let (_, sample) =
        samples().into_iter().find(|it| it.0.starts_with("heron")).expect("the ledger is there");
    let board = |id: &str, x: f64| {
        let mut member = sample.members[0].clone();
        member.id = id.to_owned();
        member.outline =
            Outline::Rectangle { corner: Point::new(x, 0.0), size_mm: (38.1, 184.15), turn_deg: 0.0 };
        member
    };
    let nail = sample.fasteners[0].clone();
    let mut told = 0;
    for apart in [0.0, 1e-3, -1e-3, 1e-9] {
        for off in [0.0, 1e-3, -1e-3, 1e-12] {
            for tilt in [0.0, 1e-6, -1e-6] {
                let mut joint = Joint { standard: sample.standard, ..Joint::default() };
                joint.members = vec![board("left", -38.1 - apart), board("right", 0.0)];
                let mut nail = nail.clone();
                let z = f64::midpoint(joint.members[0].depth.from, joint.members[0].depth.to);
                nail.place = Placement::Free {
                    head: Vec3::new(off, 184.15, z),
                    toward: Vec3::new(f64::to_radians(tilt), -1.0, 0.0),
                };
                joint.fasteners = vec![nail];
                let found = judged(&joint);
                let says = found.iter().any(|it| {
                    it.severity != Severity::Note
                        && it.subjects.iter().any(|it| *it == sample.fasteners[0].id)
                });
                assert!(says, "apart {apart}, off {off}, tilted {tilt}: {found:#?}");
                told += 1;
            }
        }
    }
    assert_eq!(told, 48);
}
