//! Moves, copies, orders and the clipboard, on the samples and on starting joints.

use kurbo::Point;
use proptest::prelude::*;

use super::align::{Along, Line, aligned, distributed};
use super::clip::{inserted, pasted, text};
use super::order::{Order, deep, ordered, stacked};
use super::*;
use crate::joint::edit::apply;
use crate::joint::{Interval, StandardId, file};
use crate::sketch::question::Sizes;
use crate::sketch::start::{STARTERS, Starter};
use crate::stock::Stock;
use crate::trace::trace;

fn started(word: &str) -> (Joint, Stock) {
    let stock = Stock::built_in();
    let sizes = Sizes::defaults(StandardId::Nds2018);
    (Starter::named(word).unwrap().start(&sizes, &stock).unwrap(), stock)
}

fn after(joint: &Joint, edit: &Edit) -> Joint {
    let mut new = joint.clone();
    let undo = apply(&mut new, edit);
    let mut back = new.clone();
    let _ = apply(&mut back, &undo);
    assert_eq!(&back, joint, "it can be undone");
    new
}

fn ids(names: &[&str]) -> Vec<String> {
    names.iter().map(|it| (*it).to_owned()).collect()
}

fn everything(joint: &Joint) -> Vec<String> {
    let members = joint.members.iter().map(|it| it.id.clone());
    let connectors = joint.connectors.iter().map(|it| it.id.clone());
    members.chain(connectors).chain(joint.fasteners.iter().map(|it| it.id.clone())).collect()
}

fn order_of(joint: &Joint) -> Vec<&str> {
    joint.members.iter().map(|it| it.id.as_str()).collect()
}

#[test]
fn a_copy_of_a_connector_takes_its_fasteners_along() {
    let (joint, stock) = started("strap");
    let by = Motion::shift(Vec3::new(0.0, 0.0, 500.0));
    let (edit, new) = copied(&joint, &ids(&["strap"]), &[by]).unwrap();
    let copy = after(&joint, &edit);
    assert_eq!(copy.connectors.len(), 2);
    assert_eq!(copy.fasteners.len(), 2 * joint.fasteners.len());
    assert_eq!(new.len(), 1 + joint.fasteners.len());
    let fills =
        |it: &Fastener| matches!(&it.place, Placement::Fills { connector, .. } if connector == "strap-2");
    assert_eq!(copy.fasteners.iter().filter(|it| fills(it)).count(), joint.fasteners.len());
    assert!(copy.fasteners.iter().any(|it| it.id == "n24"), "counted on from n12");
    assert!(file::read(&file::write(&copy), &stock).is_ok());
    let alone = copied(&joint, &ids(&["n1"]), &[by]).unwrap_err();
    assert!(alone.to_string().contains("without its connector"));
    assert!(moved(&joint, &ids(&["n1"]), &by).unwrap_err().to_string().contains("stays where the hole is"));
    assert!(copied(&joint, &ids(&["nobody"]), &[by]).is_err());
    // A hole takes its nail along, and the strap keeps the others.
    let less = after(&joint, &deleted(&joint, &ids(&["strap/h2", "strap/h1"]), &[]).unwrap());
    let count = |it: &Joint| it.connectors[0].plates.iter().map(|it| it.holes.len()).sum::<usize>();
    assert_eq!((count(&less), less.fasteners.len()), (count(&joint) - 2, joint.fasteners.len() - 2));
    assert!(file::read(&file::write(&less), &stock).is_ok());
    // Taken away, the strap takes its nails along.
    let gone = after(&joint, &deleted(&joint, &ids(&["strap", "upper-stud"]), &[]).unwrap());
    assert!(gone.connectors.is_empty() && gone.fasteners.is_empty() && gone.loads.is_empty());
    assert_eq!(gone.members.len(), joint.members.len() - 1);
}

#[test]
fn arrays_stand_in_rows_and_rings() {
    let step = Vec3::new(10.0, 0.0, 0.0);
    let motions = grid(&[(3, step), (2, Vec3::new(0.0, 5.0, 0.0))]);
    let places: Vec<Point> = motions.iter().map(|it| it.point(Point::ZERO)).collect();
    let wanted = [(10.0, 0.0), (20.0, 0.0), (0.0, 5.0), (10.0, 5.0), (20.0, 5.0)];
    assert_eq!(places, wanted.map(Point::from));
    let ring = around(Point::new(1.0, 0.0), 4, 90.0);
    let places: Vec<Point> = ring.iter().map(|it| it.point(Point::new(3.0, 0.0))).collect();
    assert_eq!(places, [(1.0, 2.0), (-1.0, 0.0), (1.0, -2.0)].map(Point::from));
    let (joint, _) = started("splice");
    let too_many = grid(&[(usize::MAX, step), (usize::MAX, step)]);
    assert!(copied(&joint, &ids(&["b1"]), &too_many).is_err());
}

#[test]
fn members_go_forward_and_back_and_lie_in_rows() {
    let (joint, _) = started("splice");
    assert_eq!(order_of(&joint), ["back-board", "left-tie", "right-tie", "front-board"]);
    for (which, order, wanted) in [
        (["left-tie", "-"], Order::Front, ["back-board", "right-tie", "front-board", "left-tie"]),
        (["right-tie", "left-tie"], Order::Behind, ["left-tie", "right-tie", "back-board", "front-board"]),
        (["left-tie", "right-tie"], Order::Forward, ["back-board", "front-board", "left-tie", "right-tie"]),
        (["left-tie", "right-tie"], Order::Back, ["left-tie", "right-tie", "back-board", "front-board"]),
    ] {
        let new = after(&joint, &ordered(&joint, &ids(&which), order).unwrap());
        assert_eq!(order_of(&new), wanted, "{order:?}");
    }
    assert!(ordered(&joint, &ids(&["front-board"]), Order::Forward).is_err());
    assert!(ordered(&joint, &ids(&["b1"]), Order::Front).is_err());
    let (strap, _) = started("strap");
    let first = strap.connectors[0].clone();
    let two = Joint { connectors: vec![first.clone(), Connector { id: "other".into(), ..first }], ..strap };
    let new = after(&two, &ordered(&two, &ids(&["strap"]), Order::Front).unwrap());
    assert_eq!(new.connectors.iter().map(|it| it.id.as_str()).collect::<Vec<_>>(), ["other", "strap"]);
    let depth = Interval { from: 5.0, to: 25.0 };
    let new = after(&joint, &deep(&joint, &ids(&["left-tie"]), depth).unwrap());
    assert_eq!(new.members[1].depth, depth);
    assert!(deep(&joint, &ids(&["left-tie"]), Interval { from: 5.0, to: 5.0 }).is_err());
    let new =
        after(&joint, &stacked(&joint, &ids(&["back-board", "left-tie", "front-board"]), 0.0, 2.0).unwrap());
    let depths: Vec<(f64, f64)> = new.members.iter().map(|it| (it.depth.from, it.depth.to)).collect();
    assert!((depths[1].0 - 40.1).abs() < 1e-9 && (depths[3].0 - 80.2).abs() < 1e-9, "{depths:?}");
}

#[test]
fn things_are_brought_into_line_and_spread() {
    let (joint, stock) = started("ledger");
    let traced = trace(&joint);
    let edit = aligned((&joint, &traced), &ids(&["ledger", "rim"]), Line::Bottom).unwrap();
    let new = after(&joint, &edit);
    let bottom = |at: usize| trace(&new).bodies[at].region.bounds().y0;
    assert!((bottom(0) - bottom(2)).abs() < 1e-9);
    let fasteners: Vec<String> = joint.fasteners.iter().map(|it| it.id.clone()).collect();
    let new = after(&joint, &aligned((&joint, &traced), &fasteners, Line::Top).unwrap());
    let heights: Vec<f64> = trace(&new).fasteners.iter().map(|it| it.head_at.y).collect();
    assert!(heights.iter().all(|it| (it - heights[0]).abs() < 1e-9), "{heights:?}");
    assert!(aligned((&joint, &traced), &ids(&["ledger"]), Line::Top).is_err());
    // Three boards of 10, 20 and 30 between 0 and 120: two gaps of 30.
    let board = |id: &str, x: f64, wide: f64| {
        let mut it = joint.members[0].clone();
        it.id = id.to_owned();
        it.outline = crate::joint::Outline::Rectangle {
            corner: Point::new(x, 0.0),
            size_mm: (wide, 5.0),
            turn_deg: 0.0,
        };
        it
    };
    let row = Joint {
        members: vec![board("a", 0.0, 10.0), board("c", 90.0, 30.0), board("b", 11.0, 20.0)],
        ..Joint::default()
    };
    let edit = distributed((&row, &trace(&row)), &ids(&["a", "b", "c"]), Along::X).unwrap();
    let new = after(&row, &edit);
    assert!((trace(&new).bodies[2].region.bounds().x0 - 40.0).abs() < 1e-9);
    assert!(distributed((&row, &trace(&row)), &ids(&["a", "b"]), Along::X).is_err());
    assert!(file::read(&file::write(&new), &stock).is_ok());
}

#[test]
fn what_is_copied_can_be_pasted_anywhere() {
    let (joint, stock) = started("hanger");
    let traced = trace(&joint);
    let shift = Motion::shift(Vec3::new(10.0, 0.0, 0.0));
    let whole = text(&joint, &traced, &everything(&joint)).unwrap();
    // Into an empty joint it gives the same joint, its title and standard too, but for notes and the like.
    let empty = Joint { standard: StandardId::En199511, ..Joint::default() };
    let (edit, new) = pasted(&empty, &whole, &Motion::shift(Vec3::default()), &stock).unwrap();
    let pasted_joint = after(&empty, &edit);
    assert_eq!(pasted_joint, Joint { notes: Vec::new(), ..joint.clone() });
    assert_eq!(new, everything(&joint));
    // Into itself it gives everything twice, under free ids.
    let (edit, new) = pasted(&joint, &whole, &shift, &stock).unwrap();
    let double = after(&joint, &edit);
    assert_eq!(double.members.len(), 2 * joint.members.len());
    assert!(new.contains(&"hanger-2".to_owned()), "{new:?}");
    assert_eq!(double.loads.len(), 2);
    assert_eq!(double.title, joint.title);
    assert!(file::read(&file::write(&double), &stock).is_ok());
    // A nail without its hanger is driven freely, where it was.
    let nail = text(&joint, &traced, &ids(&["n1"])).unwrap();
    let (edit, _) = pasted(&Joint::default(), &nail, &Motion::shift(Vec3::default()), &stock).unwrap();
    let alone = after(&Joint::default(), &edit);
    let Placement::Free { head, .. } = alone.fasteners[0].place else { panic!("driven freely") };
    assert!((head - traced.fasteners[0].head_at).length() < 1e-9);
}

#[test]
fn a_clipboard_of_something_else_is_refused_in_words() {
    let (joint, stock) = started("hanger");
    let none = Motion::shift(Vec3::default());
    for bad in ["", "hello", "{}", "[1, 2]", "{\"format\": \"shankline-joint\", \"version\": 9}", "\u{0}"] {
        let why = pasted(&joint, bad, &none, &stock).unwrap_err().to_string();
        assert!(why.starts_with("the clipboard holds nothing that can be put into a joint"), "{why}");
    }
    let late = "{\"format\": \"shankline-joint\", \"version\": 9}";
    assert!(pasted(&joint, late, &none, &stock).unwrap_err().to_string().contains("later Shankline"));
    let nothing = file::write(&Joint::default());
    assert!(pasted(&joint, &nothing, &none, &stock).unwrap_err().to_string().contains("nothing in it"));
    assert!(text(&joint, &trace(&joint), &[]).is_err());
    assert!(inserted(&joint, &Joint::default(), &none).is_err());
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 60, failure_persistence: None, ..ProptestConfig::default() })]

    /// Copies and moves of any selection keep the joint one that can be saved, and can be undone.
    #[test]
    fn any_selection_can_be_moved_copied_and_deleted(
        which in 0_usize..10,
        picks in proptest::collection::vec(any::<proptest::sample::Index>(), 1..6),
        x in -300.0..300.0_f64,
        degrees in -180.0..180.0_f64,
    ) {
        let stock = Stock::built_in();
        let joint = STARTERS[which].start(&Sizes::defaults(StandardId::Nds2018), &stock).unwrap();
        let all = everything(&joint);
        let chosen: Vec<String> = picks.iter().map(|it| it.get(&all).clone()).collect();
        let motions = [Motion::shift(Vec3::new(x, degrees, x)), Motion::mirror(Point::new(x, 0.0), degrees)];
        let edits = [
            moved(&joint, &chosen, &motions[1]).ok(),
            copied(&joint, &chosen, &motions).ok().map(|it| it.0),
            deleted(&joint, &chosen, &[]).ok(),
        ];
        for edit in edits.into_iter().flatten() {
            let new = after(&joint, &edit);
            let read = file::read(&file::write(&new), &stock);
            prop_assert_eq!(read.as_ref(), Ok(&new));
        }
        let clip = text(&joint, &trace(&joint), &chosen).unwrap();
        prop_assert!(file::read(&clip, &stock).is_ok(), "{}", clip);
    }
}
