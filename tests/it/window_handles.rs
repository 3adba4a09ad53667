//! What is taken hold of on the canvas besides whole things: handles of a member, holes in steel, placed dimensions.

use shankline::drawing::Subject;
use shankline::joint::{Anchor, Dimension, Grain, Interval, Joint, Look, Measures, Outline, file};
use shankline::sketch::question::Sizes;
use shankline::sketch::start::Starter;
use shankline::stock::Stock;
use shankline::window::look::{Command, Shown};
use shankline::window::{App, Message, canvas, selected, stock};

use super::window_bench::{self, Bench};
use super::window_session::{ctrl, letter, named};
use iced::keyboard::key::Named;

fn rectangle(joint: &Joint, n: usize) -> ((f64, f64), (f64, f64)) {
    match joint.members[n].outline {
        Outline::Rectangle { corner, size_mm, .. } => ((corner.x, corner.y), size_mm),
        _ => panic!("it stays a rectangle"),
    }
}

fn choose(bench: &mut Bench, subject: Subject) {
    bench.send(Message::Stock(stock::Message::ThingPressed(subject)));
}

fn opens_again(joint: &Joint) {
    assert_eq!(file::read(&file::write(joint), &Stock::built_in()).as_ref(), Ok(joint));
}

#[test]
fn a_side_and_a_corner_of_a_chosen_member_are_dragged() {
    let mut bench = Bench::new(None);
    choose(&mut bench, Subject::Member("near".into()));
    // The middle of the top of a board from 0, 0 to 1 1/2", 7 1/4": two inches up.
    bench.drag((19.05, 184.15), (19.05, 184.15 + 50.8));
    assert_eq!(rectangle(bench.app.document().joint(), 0), ((0.0, 0.0), (38.1, 184.15 + 50.8)));
    assert_eq!(bench.app.document().journal.undo_name(), Some("Resize near"));
    assert_eq!(bench.app.chosen(), Some(&Subject::Member("near".into())), "it stays chosen");
    // The lower left corner, to where it is typed.
    bench.press((0.0, 0.0));
    bench.move_to((-20.0, -20.0));
    bench.send(named(Named::Tab));
    bench.send(named(Named::Tab));
    for it in ["-", "1", "\""] {
        bench.send(letter(it));
    }
    bench.send(named(Named::Tab));
    for it in ["-", "2", "\""] {
        bench.send(letter(it));
    }
    bench.send(named(Named::Enter));
    let (corner, size) = rectangle(bench.app.document().joint(), 0);
    assert!((corner.0 + 25.4).abs() < 1e-9 && (corner.1 + 50.8).abs() < 1e-9, "{corner:?}");
    assert!((size.0 - 63.5).abs() < 1e-9 && (size.1 - 285.75).abs() < 1e-9, "{size:?}");
    bench.send(ctrl("z"));
    bench.send(ctrl("z"));
    assert_eq!(bench.app.document().joint(), &window_bench::joint());
}

#[test]
fn a_member_is_not_dragged_inside_out() {
    let mut bench = Bench::new(None);
    choose(&mut bench, Subject::Member("near".into()));
    bench.drag((19.05, 184.15), (19.05, -60.0));
    assert_eq!(bench.app.document().joint(), &window_bench::joint());
    assert!(!bench.app.document().in_hand());
}

/// The place round which the grain of a board of 38.1 by 184.15 mm turns, 44 pixels from its left and its lower side but in
/// the middle where it is narrow, and the ring by which it is turned: 28 pixels along the grain, or 50 or 72 where a press
/// on it would be one on a side or a corner of the board, 18 pixels away or less.
fn ring(deg: f64, bench: &Bench) -> [(f64, f64); 2] {
    let px = bench.app.canvas().camera.px_per_model_mm();
    let (sin, cos) = deg.to_radians().sin_cos();
    let middle = (19.05_f64.min(44.0 / px), 92.075_f64.min(44.0 / px));
    let handles = (0..=2).flat_map(|x| (0..=2).map(move |y| (19.05 * f64::from(x), 92.075 * f64::from(y))));
    let handles: Vec<(f64, f64)> = handles.filter(|it| *it != (19.05, 92.075)).collect();
    let is_clear = |it: &(f64, f64)| handles.iter().all(|h| 18.0 < px * (h.0 - it.0).hypot(h.1 - it.1));
    let at = |far: f64| (middle.0 + cos * far / px, middle.1 + sin * far / px);
    let ring = [28.0, 50.0, 72.0].into_iter().map(at).find(is_clear).unwrap_or_else(|| at(28.0));
    [middle, ring]
}

#[test]
fn the_grain_of_a_chosen_member_is_turned_by_its_ring() {
    let mut bench = Bench::new(None);
    choose(&mut bench, Subject::Member("near".into()));
    let grain = |bench: &Bench| bench.app.document().joint().members[0].grain;
    // In a board that is tall and is seen from its end it stands upward.
    let [(x, y), at] = ring(90.0, &bench);
    bench.drag(at, (x + 80.0, y + 1.0));
    assert_eq!(grain(&bench), Grain::InPlane(0.0));
    assert_eq!(bench.app.document().journal.undo_name(), Some("Turn the grain of near"));
    // From where it is now, by a direction that is typed.
    let [_, at] = ring(0.0, &bench);
    bench.press(at);
    bench.move_to((at.0, at.1 + 60.0));
    ["3", "0"].into_iter().for_each(|it| bench.send(letter(it)));
    bench.send(named(Named::Enter));
    assert_eq!(grain(&bench), Grain::InPlane(30.0));
    // On the place itself it runs along the depth again.
    let [place, at] = ring(30.0, &bench);
    bench.drag(at, place);
    assert_eq!(grain(&bench), Grain::AlongDepth);
    (0..3).for_each(|_| bench.send(ctrl("z")));
    assert_eq!(bench.app.document().joint(), &window_bench::joint());
}

#[test]
fn what_is_not_chosen_has_no_handles_and_is_moved() {
    let mut bench = Bench::new(None);
    bench.drag((10.0, 30.0), (10.0, 30.0 + 25.4));
    let (corner, size) = rectangle(bench.app.document().joint(), 0);
    assert!((corner.1 - 25.4).abs() < 0.5 && size == (38.1, 184.15), "{corner:?} {size:?}");
}

#[test]
fn an_end_in_depth_is_dragged_from_the_side() {
    let mut bench = Bench::new(None);
    bench.send(Message::Canvas(canvas::Message::Asked(Command::View(Shown::One(Look::Side)))));
    choose(&mut bench, Subject::Member("near".into()));
    // From the side depth runs the other way: the near end lies at the left.
    let near = Look::Side.turned(shankline::unit::Vec3::new(0.0, 92.075, 1200.0)).plan();
    bench.drag((near.x, near.y), (near.x + near.x.signum() * 100.0, near.y));
    let depth = bench.app.document().joint().members[0].depth;
    assert!(depth.from == 0.0 && 1250.0 < depth.to && depth.to < 1350.0, "{depth:?}");
    bench.send(ctrl("z"));
    assert_eq!(bench.app.document().joint().members[0].depth, Interval { from: 0.0, to: 1200.0 });
}

fn strapped() -> Bench {
    let stock = std::sync::Arc::new(Stock::built_in());
    let sizes = Sizes::defaults(shankline::joint::StandardId::Nds2018);
    let joint = Starter::named("strap")
        .expect("it is in the list")
        .start(&sizes, &stock)
        .expect("its usual sizes fit");
    Bench::with(App::new(stock, joint, None))
}

#[test]
fn a_hole_is_dragged_along_its_steel_with_what_fills_it() {
    let mut bench = strapped();
    let before = bench.app.document().joint().clone();
    let trace = bench.app.document().shown().trace.clone();
    let hole = &trace.holes[1];
    let owner = &before.connectors[hole.connector];
    let id = owner.plates[hole.plate].holes[hole.hole].id.clone();
    let steel = &owner.plates[hole.plate].profile;
    let way = (steel[1] - steel[0]).normalize();
    bench.send(Message::Canvas(canvas::Message::Wheel(bench.px(hole.at.x, hole.at.y), 8.0, 0.0)));
    choose(&mut bench, Subject::Hole(owner.id.clone(), id.clone()));
    // Its fastener is taken away, so that the press meets the hole.
    let filler = before
        .fasteners
        .iter()
        .position(|it| matches!(&it.place, shankline::joint::Placement::Fills { hole, .. } if *hole == id));
    let filler = before.fasteners[filler.expect("a strap of the start is filled")].id.clone();
    choose(&mut bench, Subject::Fastener(filler));
    bench.send(named(Named::Delete));
    let at = (hole.at.x, hole.at.y);
    let to = (hole.at.x + way.x * 10.0, hole.at.y + way.y * 10.0);
    bench.press(at);
    assert_eq!(bench.app.chosen(), Some(&Subject::Hole(owner.id.clone(), id.clone())));
    bench.move_to(to);
    assert!(bench.app.document().in_hand(), "{:?}", bench.app.said());
    bench.release(to);
    let after = bench.app.document().joint();
    let moved = &after.connectors[hole.connector].plates[hole.plate].holes[hole.hole];
    let old = &owner.plates[hole.plate].holes[hole.hole];
    assert!((moved.along_mm - old.along_mm - 10.0).abs() < 1.7, "{} {}", moved.along_mm, old.along_mm);
    assert!(moved.along_mm != old.along_mm && moved.depth_mm == old.depth_mm);
    assert_eq!(
        bench.app.document().journal.undo_name(),
        Some(format!("Move hole {id} of {}", owner.id).as_str())
    );
    opens_again(after);
}

fn dimensioned() -> Bench {
    let edge =
        |of: &str, share: f64| Anchor::Edge { of: of.into(), part: 0, ring: 0, edge: 0, share, deep: 0.0 };
    let joint = Joint {
        dimensions: vec![Dimension {
            look: Look::Front,
            from: edge("near", 0.0),
            to: edge("far", 1.0),
            measures: Measures::Straight,
            offset_mm: -40.0,
        }],
        ..window_bench::joint()
    };
    Bench::with(App::new(window_bench::stock(), joint, None))
}

#[test]
fn a_placed_dimension_is_chosen_moved_changed_and_taken_away() {
    let mut bench = dimensioned();
    let before = bench.app.document().joint().clone();
    // Off the middle, where the figure stands.
    bench.press((15.0, -40.0));
    bench.release((15.0, -40.0));
    assert_eq!(bench.app.chosen(), Some(&Subject::Dimension(0)));
    bench.drag((15.0, -40.0), (15.0, -60.0));
    let off = bench.app.document().joint().dimensions[0].offset_mm;
    assert!((off + 60.0).abs() < 2.0, "{off}");
    assert_eq!(bench.app.document().journal.undo_name(), Some("Move dimension 1"));
    assert_eq!(bench.app.document().joint().members, before.members, "what it measures stays");
    bench.press((15.0, off));
    bench.release((15.0, off));
    bench.send(named(Named::Delete));
    assert!(bench.app.document().joint().dimensions.is_empty());
    assert_eq!(bench.app.chosen(), None);
    bench.send(ctrl("z"));
    bench.send(ctrl("z"));
    assert_eq!(bench.app.document().joint(), &before);
    // What is copied and cut is no dimension.
    bench.press((15.0, -40.0));
    bench.release((15.0, -40.0));
    bench.send(Message::Selected(selected::Message::Pressed(Command::Duplicate)));
    assert_eq!(bench.app.document().joint(), &before);
}
