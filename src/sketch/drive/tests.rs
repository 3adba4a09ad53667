//! Fasteners placed, swapped and chosen: by hand-worked places, and against the findings themselves.

use std::sync::Arc;

use kurbo::Point;

use super::choose::sizes;
use super::fill::{Which, fill};
use super::free::{Spaced, drive, grid, row};
use super::swap::{Whose, swap};
use super::toe::{Rule, adjust, toe_nail};
use super::*;
use crate::findings::{Kind, Severity, Verdict, judge};
use crate::joint::edit::apply;
use crate::joint::{StandardId, file};
use crate::sketch::question::Sizes;
use crate::sketch::start::Starter;
use crate::stock::Stock;
use crate::trace::trace;
use crate::unit::Vec3;

fn started(word: &str, by: StandardId) -> (Joint, Stock) {
    let stock = Stock::built_in();
    (Starter::named(word).unwrap().start(&Sizes::defaults(by), &stock).unwrap(), stock)
}

const HERON_LANE: &str = include_str!("../../../sample-projects/heron-lane-ledger.joint.json");
const MILL_ROW: &str = include_str!("../../../sample-projects/mill-row-floor.joint.json");
const ALDER_COURT: &str = include_str!("../../../sample-projects/alder-court-hanger.joint.json");
const WEIR_GATE: &str = include_str!("../../../sample-projects/weir-gate-post.joint.json");
const OSIER_LANE: &str = include_str!("../../../sample-projects/osier-lane-strap.joint.json");
const KILN_HOUSE: &str = include_str!("../../../sample-projects/kiln-house-stud.joint.json");

fn sample(text: &str) -> (Joint, Stock) {
    let stock = Stock::built_in();
    (file::read(text, &stock).unwrap(), stock)
}

fn after(joint: &Joint, edit: &Edit) -> Joint {
    let mut new = joint.clone();
    let undo = apply(&mut new, edit);
    let mut back = new.clone();
    let _ = apply(&mut back, &undo);
    assert_eq!(&back, joint, "it can be undone");
    new
}

fn heads(joint: &Joint, from: usize) -> Vec<[f64; 3]> {
    let head = |it: &Fastener| match it.place {
        Placement::Free { head, .. } => head.to_array(),
        Placement::Fills { .. } => [f64::NAN; 3],
    };
    joint.fasteners[from..].iter().map(head).collect()
}

#[test]
fn rows_and_grids_stand_where_pitch_and_count_say() {
    let (joint, stock) = (Joint::default(), Stock::built_in());
    let nail = &stock.fasteners["nail/common/10d"];
    let (from, to) = (Vec3::new(0.0, 5.0, 0.0), Vec3::new(100.0, 5.0, 0.0));
    let placed = |spaced| {
        let edit = row(&joint, nail, (from, to, -Vec3::Y), spaced, &stock).unwrap();
        let along: Vec<f64> = heads(&after(&joint, &edit), 0).iter().map(|it| it[0]).collect();
        along
    };
    assert_eq!(placed(Spaced::Count(1)), [50.0]);
    assert_eq!(placed(Spaced::Count(5)), [0.0, 25.0, 50.0, 75.0, 100.0]);
    assert_eq!(placed(Spaced::Pitch(30.0)), [0.0, 30.0, 60.0, 90.0]);
    assert_eq!(placed(Spaced::Pitch(100.0 / 3.0)).len(), 4);
    assert_eq!(placed(Spaced::CountAt(2, 75.0)), [0.0, 75.0]);
    for spaced in [Spaced::Count(0), Spaced::Pitch(0.0), Spaced::Pitch(f64::NAN), Spaced::Pitch(1e-9)] {
        assert!(row(&joint, nail, (from, to, -Vec3::Y), spaced, &stock).is_err(), "{spaced:?}");
    }
    assert!(row(&joint, nail, (from, to, -Vec3::Y), Spaced::Count(usize::MAX), &stock).is_err());
    assert!(drive(&joint, nail, (from, Vec3::default()), &stock).is_err());
    let up = Vec3::new(0.0, 25.0, 0.0);
    let edit = grid(&joint, nail, (from, to, up), (Spaced::Count(2), Spaced::Pitch(10.0)), (Vec3::Z, &stock))
        .unwrap();
    let joint = after(&joint, &edit);
    assert_eq!(heads(&joint, 0)[2..4], [[0.0, 15.0, 0.0], [100.0, 15.0, 0.0]]);
    let ids: Vec<&str> = joint.fasteners.iter().map(|it| it.id.as_str()).collect();
    assert_eq!(ids, ["n1", "n2", "n3", "n4", "n5", "n6"]);
}

#[test]
fn a_bolt_comes_with_its_washers_and_its_hole_and_a_nail_with_nothing() {
    let (joint, stock) = started("splice", StandardId::Nds2018);
    let drawn = &joint.fasteners[0];
    let bare = Joint { fasteners: Vec::new(), ..joint.clone() };
    // On the surface of the front board: the same bolt as the one that was drawn there.
    let Placement::Free { head, toward } = drawn.place else { panic!("driven freely") };
    let washer = drawn.head_washer.clone().unwrap();
    let surface = head + toward * washer.thickness_mm;
    let edit = drive(&bare, &drawn.spec, (surface, toward), &stock).unwrap();
    assert_eq!(after(&bare, &edit).fasteners[0], *drawn);
    let edit = drive(&bare, &stock.fasteners["nail/common/10d"], (surface, toward), &stock).unwrap();
    let nail = &after(&bare, &edit).fasteners[0];
    assert_eq!((&nail.lead_hole, &nail.head_washer, &nail.nut_washer), (&None, &None, &None));
}

#[test]
fn holes_are_filled_once_each_with_what_they_take() {
    let (mut joint, stock) = sample(OSIER_LANE);
    joint.fasteners.truncate(2);
    let fills = |joint: &Joint, which| fill((joint, &trace(joint)), "strap", which, None, &stock);
    let filled = after(&joint, &fills(&joint, Which::Required).unwrap());
    // Four of six required ones were left, and the hole that only holds up stays empty.
    assert_eq!(filled.fasteners.len(), 6);
    let specs: Vec<&str> = filled.fasteners[2..].iter().map(|it| it.spec.id.as_str()).collect();
    assert_eq!(specs, ["nail/metric/4x50"; 4]);
    assert!(fills(&filled, Which::Required).unwrap_err().to_string().contains("filled already"));
    assert!(fills(&filled, Which::All).is_err());
    let one = after(&joint, &fills(&joint, Which::One("r3")).unwrap());
    assert_eq!(one.fasteners.len(), 3);
    assert!(fills(&one, Which::One("r3")).unwrap_err().to_string().contains("filled already"));
    assert_eq!(
        fills(&one, Which::One("no")).unwrap_err().to_string(),
        "the connector `strap` has no hole `no`"
    );
    // The hole that only holds up says nothing of what it takes.
    assert!(fills(&one, Which::One("tack")).unwrap_err().to_string().contains("choose a fastener"));
    let spec = &stock.fasteners["nail/metric/4x75"];
    let edit = fill((&joint, &trace(&joint)), "strap", Which::All, Some(spec), &stock).unwrap();
    assert!(after(&joint, &edit).fasteners[2..].iter().all(|it| it.spec == *spec));
}

#[test]
fn the_preset_of_a_toe_nail_is_that_of_its_standard() {
    let stock = Stock::built_in();
    let nail = &stock.fasteners["nail/common/8d"];
    // NDS 2018 12.1.6.3: about 30 degrees, about a third of the length from the end.
    let rule = Rule::of(nail, StandardId::Nds2018);
    assert!((rule.angle_deg - 30.0).abs() < 1e-9 && (rule.start_mm - 63.5 / 3.0).abs() < 1e-9, "{rule:?}");
    let nail = &stock.fasteners["nail/metric/3.1x80"];
    let rule = Rule::of(nail, StandardId::En199511);
    // EN 1995-1-1 8.3.2(10): at least 10 d from the end, which is more than a third of the length.
    assert!((20.0..=50.0).contains(&rule.angle_deg) && (rule.start_mm - 31.0).abs() < 1e-9, "{rule:?}");
}

#[test]
fn the_preset_of_a_toe_nail_is_not_at_fault_by_its_standard() {
    let (mut joint, stock) = sample(KILN_HOUSE);
    joint.fasteners.clear();
    let mut tried = 0;
    for by in [StandardId::Nds2018, StandardId::En199511] {
        joint.standard = by;
        for nail in stock.fasteners.values().filter(|it| it.id.starts_with("nail/")) {
            let rule = Rule::of(nail, by);
            let at = (Point::new(-8.0, 60.0), 22.5);
            let Ok(edit) = toe_nail((&joint, &trace(&joint)), nail, at, rule) else { continue };
            let new = after(&joint, &edit);
            let found = judge(&new, &trace(&new)).list;
            let wrong =
                |it: &crate::findings::Finding| matches!(it.kind, Kind::WrongStart | Kind::WrongAngle);
            assert!(!found.iter().any(wrong), "{} {by:?} {found:?}", nail.id);
            tried += 1;
        }
    }
    assert!(20 < tried, "{tried}");
}

#[test]
fn toe_nails_start_on_the_side_that_is_pointed_at() {
    let (mut joint, stock) = sample(KILN_HOUSE);
    joint.fasteners.clear();
    let nail = &stock.fasteners["nail/metric/3.1x80"];
    let rule = Rule { start_mm: 32.0, angle_deg: 30.0 };
    let placed = |near: (f64, f64)| {
        let edit = toe_nail((&joint, &trace(&joint)), nail, (Point::from(near), 22.5), rule).unwrap();
        after(&joint, &edit)
    };
    // The stud stands on its plate at y 45, from x 0 to x 95.
    for (near, x, way) in [((-8.0, 60.0), 0.0, 0.5), ((110.0, 50.0), 95.0, -0.5)] {
        let new = placed(near);
        let Placement::Free { head, toward } = new.fasteners[0].place else { panic!("driven freely") };
        assert!((head - Vec3::new(x, 77.0, 22.5)).length() < 1e-9, "{head:?}");
        assert!((toward - Vec3::new(way, -0.75_f64.sqrt(), 0.0)).length() < 1e-9, "{toward:?}");
        let found = judge(&new, &trace(&new));
        assert!(found.list.iter().all(|it| Severity::Fault < it.severity), "{:?}", found.list);
        // Adjusted to another rule and back.
        let other = Rule { start_mm: 25.0, angle_deg: 40.0 };
        let leaned = after(&new, &adjust((&new, &trace(&new)), 0, other).unwrap());
        assert_ne!(leaned.fasteners, new.fasteners);
        let back = after(&leaned, &adjust((&leaned, &trace(&leaned)), 0, rule).unwrap());
        let Placement::Free { head: again, .. } = back.fasteners[0].place else { panic!("driven freely") };
        assert!((again - head).length() < 1e-9);
    }
    let nowhere = toe_nail((&joint, &trace(&joint)), nail, (Point::new(0.0, 5000.0), 22.5), rule);
    assert!(nowhere.unwrap_err().to_string().contains("no piece stands on another"));
    let flat = Rule { angle_deg: 90.0, ..rule };
    assert!(toe_nail((&joint, &trace(&joint)), nail, (Point::new(0.0, 45.0), 22.5), flat).is_err());
}

#[test]
fn swapping_keeps_the_head_on_its_surface_and_what_was_chosen_by_hand() {
    let (joint, stock) = started("splice", StandardId::Nds2018);
    let thick = &stock.fasteners["bolt/inch/0.625x6"];
    let one = after(&joint, &swap(&joint, Whose::One("b1"), thick, &stock).unwrap());
    let all = after(&joint, &swap(&joint, Whose::AlikeTo("b1"), thick, &stock).unwrap());
    let changed = |it: &Joint| it.fasteners.iter().filter(|it| it.spec == *thick).count();
    assert_eq!((changed(&one), changed(&all)), (1, joint.fasteners.len()));
    let these = ["b2".to_owned(), "b4".to_owned()];
    assert_eq!(changed(&after(&joint, &swap(&joint, Whose::These(&these), thick, &stock).unwrap())), 2);
    for (old, new) in joint.fasteners.iter().zip(&all.fasteners) {
        let surface = |it: &Fastener| match it.place {
            Placement::Free { head, toward } => {
                head + toward.unit().unwrap() * it.head_washer.as_ref().unwrap().thickness_mm
            }
            Placement::Fills { .. } => panic!("driven freely"),
        };
        assert!((surface(old) - surface(new)).length() < 1e-9);
        assert!((new.lead_hole.unwrap().diameter_mm - (15.875 + 1.190_625)).abs() < 1e-9);
    }
    // A hole of one's own stays, only as deep as the new bolt is long.
    let mut own = joint.clone();
    own.fasteners[0].lead_hole.as_mut().unwrap().diameter_mm = 14.0;
    let longer = &stock.fasteners["bolt/inch/0.5x6"];
    let swapped = after(&own, &swap(&own, Whose::One("b1"), longer, &stock).unwrap());
    let hole = swapped.fasteners[0].lead_hole.unwrap();
    assert!((hole.diameter_mm - 14.0).abs() < 1e-9 && (hole.depth_mm - 152.4).abs() < 1e-9);
    assert!(swap(&own, Whose::One("nobody"), longer, &stock).is_err());
    let same = Arc::clone(&joint.fasteners[0].spec);
    assert!(swap(&joint, Whose::AlikeTo("b1"), &same, &stock).unwrap_err().to_string().contains("already"));
}

#[test]
fn what_a_choice_says_is_what_the_findings_say_once_it_is_chosen() {
    for text in [HERON_LANE, MILL_ROW, ALDER_COURT, WEIR_GATE] {
        let (joint, stock) = sample(text);
        let name = &joint.title;
        let traced = trace(&joint);
        for (at, fastener) in joint.fasteners.iter().enumerate() {
            let choices = sizes(&joint, &traced, &[at], &stock);
            assert!(choices.iter().filter(|it| it.is_drawn).count() == 1, "{name} {}", fastener.id);
            for choice in choices.iter().step_by(5).chain(choices.iter().filter(|it| it.is_drawn)) {
                let whole = if choice.is_drawn {
                    joint.clone()
                } else {
                    let edit = swap(&joint, Whose::One(&fastener.id), &choice.spec, &stock).unwrap();
                    after(&joint, &edit)
                };
                let found = judge(&whole, &trace(&whole));
                let mine = |severity| {
                    let list = found.list.iter().filter(|it| it.severity == severity);
                    list.filter(|it| it.subjects.contains(&fastener.id)).count()
                };
                let told = (choice.faults, choice.cautions);
                let wanted = (mine(Severity::Fault), mine(Severity::Caution));
                assert_eq!(told, wanted, "{name} {} {}", fastener.id, choice.spec.id);
                assert_eq!(choice.verdict == Verdict::Sound, choice.says.is_none());
            }
        }
    }
}

#[test]
fn a_group_is_judged_with_all_of_it_changed() {
    let (joint, stock) = started("splice", StandardId::Nds2018);
    let group: Vec<usize> = (0..joint.fasteners.len()).collect();
    let choices = sizes(&joint, &trace(&joint), &group, &stock);
    let of = |id: &str| choices.iter().find(|it| it.spec.id == id).unwrap();
    assert_eq!(of(&joint.fasteners[0].spec.id).verdict, Verdict::Sound);
    // Bolts of 1" where those of 1/2" have 4 D: spacing and ends are too short, the short bolt does not reach.
    assert_eq!(of("bolt/inch/1x6").verdict, Verdict::Faults);
    assert_eq!(of("bolt/inch/0.5x3").verdict, Verdict::Faults);
    let short = of("bolt/inch/0.5x3").says.clone().unwrap();
    assert!(!short.is_empty());
    let whole =
        after(&joint, &swap(&joint, Whose::AlikeTo("b1"), &of("bolt/inch/1x6").spec, &stock).unwrap());
    let found = judge(&whole, &trace(&whole));
    assert!(found.list.iter().any(|it| it.kind == Kind::Spacing), "{:?}", found.list);
    assert!(sizes(&joint, &trace(&joint), &[], &stock).is_empty());
    assert!(sizes(&joint, &trace(&joint), &[99], &stock).is_empty());
}
