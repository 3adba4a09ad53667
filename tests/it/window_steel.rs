//! Steel and fasteners by the hand: forms on faces, drawn plates, holes, fills, toe-nails, swaps; ready joints.

use std::sync::Arc;

use iced::keyboard::key::Named;
use shankline::drawing::Subject;
use shankline::joint::{Duty, Joint, Placement, StandardId, file};
use shankline::sketch::question::Sizes;
use shankline::sketch::start::STARTERS;
use shankline::stock::Stock;
use shankline::window::canvas::gesture::Gesture;
use shankline::window::dialog::{self, Dialog, Then};
use shankline::window::look::{Command, Fill};
use shankline::window::making::{Key, Kind, Shape};
use shankline::window::{App, Message, selected, starters, stock};

use super::window_bench::Bench;
use super::window_drawing::{answer, empty, keys, make, set};
use super::window_session::{ctrl, letter, named};

fn post(bench: &mut Bench) {
    make(bench, Kind::Member(Shape::Box));
    keys(bench, "0\t0\n4\"\t12\"\n");
}

fn pressed(command: Command) -> Message {
    Message::Selected(selected::Message::Pressed(command))
}

fn opens_again(bench: &Bench) {
    let joint = bench.app.document().joint();
    assert_eq!(file::read(&file::write(joint), &Stock::built_in()).as_ref(), Ok(joint));
}

#[test]
fn a_form_lies_on_the_face_that_is_near_and_its_holes_are_filled() {
    let mut bench = empty();
    post(&mut bench);
    make(&mut bench, Kind::Form("strap"));
    // An eighth of an inch beside the right face: the strap is caught by it.
    bench.press((4.0 * 25.4 + 1.0, 6.0 * 25.4));
    let joint = bench.app.document().joint();
    let strap = &joint.connectors[0];
    let half = strap.plates[0].thickness_mm / 2.0;
    for at in &strap.plates[0].profile {
        assert!((at.x - 101.6 - half).abs() < 1e-9, "its back lies on the face at x = 4\": {at:?}");
    }
    let holes = strap.plates[0].holes.len();
    assert!(2 <= holes);
    assert_eq!(bench.app.chosen(), Some(&Subject::Connector(strap.id.clone())));
    bench.send(pressed(Command::Fill(Fill::Required)));
    let joint = bench.app.document().joint();
    assert_eq!(joint.fasteners.len(), holes);
    assert!(joint.fasteners.iter().all(|it| matches!(it.place, Placement::Fills { .. })));
    opens_again(&bench);
    bench.send(ctrl("z"));
    assert!(bench.app.document().joint().fasteners.is_empty());
}

#[test]
fn measures_of_a_form_are_seen_live_and_what_does_not_fit_is_said() {
    let mut bench = empty();
    post(&mut bench);
    make(&mut bench, Kind::Form("angle"));
    bench.move_to((101.6, 150.0));
    assert_eq!(bench.app.document().shown().joint.connectors.len(), 1, "it is shown before it is placed");
    answer(&mut bench, Key::Asked("angle", "width"), "3\"");
    let width = |bench: &Bench| {
        let depth = bench.app.document().shown().joint.connectors[0].plates[0].depth;
        depth.to - depth.from
    };
    assert!((width(&bench) - 76.2).abs() < 1e-9);
    answer(&mut bench, Key::Asked("angle", "leg"), "1\"");
    assert!(bench.app.document().shown().joint.connectors.is_empty(), "two holes do not fit on an inch");
    bench.press((101.6, 150.0));
    assert!(bench.app.said().is_some_and(|it| it.contains("does not fit")), "{:?}", bench.app.said());
    assert!(bench.app.document().joint().connectors.is_empty());
}

#[test]
fn what_is_refused_is_drawn_from_the_beginning_again() {
    let mut bench = empty();
    post(&mut bench);
    make(&mut bench, Kind::Form("joist-hanger"));
    answer(&mut bench, Key::Angle, "90");
    keys(&mut bench, "3\t0\n");
    assert!(bench.app.said().is_some_and(|it| it.starts_with("Not done")), "{:?}", bench.app.said());
    assert!(bench.app.document().joint().connectors.is_empty());
    answer(&mut bench, Key::Angle, "45");
    keys(&mut bench, "3");
    let Gesture::Drawing(draft) = &bench.app.canvas().gesture else { panic!("it is still being placed") };
    assert!(draft.corners.is_empty() && !draft.typed.is_empty(), "what is typed counts");
    assert_eq!(bench.app.document().shown().joint.connectors.len(), 1, "it is seen again");
    keys(&mut bench, "\t0\n");
    assert_eq!(bench.app.document().joint().connectors.len(), 1, "{:?}", bench.app.said());
}

#[test]
fn a_plate_is_drawn_bent_and_drilled() {
    let mut bench = empty();
    post(&mut bench);
    make(&mut bench, Kind::Profile);
    answer(&mut bench, Key::Thickness, "1/8\"");
    answer(&mut bench, Key::Near, "2\"");
    keys(&mut bench, "5\"\t0\n4\"\t90\n3\"\t0\n\n");
    let joint = bench.app.document().joint();
    assert_eq!(joint.connectors[0].plates[0].profile.len(), 3);
    make(&mut bench, Kind::Holes);
    answer(&mut bench, Key::Count, "3");
    answer(&mut bench, Key::Pitch, "1\"");
    answer(&mut bench, Key::Angle, "20");
    set(&mut bench, |it| it.duty = Duty::Extra);
    bench.press((5.0 * 25.4, 25.4));
    let joint = bench.app.document().joint();
    let holes = &joint.connectors[0].plates[0].holes;
    let along: Vec<f64> = holes.iter().map(|it| it.along_mm).collect();
    assert_eq!(along.len(), 3, "{:?}", bench.app.said());
    for (got, inches) in along.iter().zip([1.0, 2.0, 3.0]) {
        assert!((got - inches * 25.4).abs() < 0.011, "{along:?}");
    }
    assert!(holes.iter().all(|it| it.duty == Duty::Extra && it.angle_deg == Some(20.0)));
    opens_again(&bench);
    bench.send(ctrl("z"));
    assert!(bench.app.document().joint().connectors[0].plates[0].holes.is_empty());
}

#[test]
fn a_toe_nail_goes_in_by_the_rule_of_the_standard() {
    let mut bench = empty();
    make(&mut bench, Kind::Member(Shape::Box));
    keys(&mut bench, "0\t0\n12\"\t-1 1/2\"\n");
    make(&mut bench, Kind::Member(Shape::Box));
    keys(&mut bench, "4\"\t0\n1 1/2\"\t8\"\n");
    let nail = bench.app.stock().fasteners["nail/common/8d"].clone();
    make(&mut bench, Kind::Toe(nail.clone()));
    bench.press((4.0 * 25.4 - 2.0, 2.0));
    let told = (bench.app.said(), bench.app.making(), &bench.app.document().joint().members);
    assert_eq!(bench.app.document().joint().fasteners.len(), 1, "{told:?}");
    let (head, toward) = bench.free(0);
    // NDS 2018 12.1.6.3: 30 degrees to the face, started a third of the length from the end.
    assert!((toward.x.atan2(-toward.y).to_degrees() - 30.0).abs() < 1e-6, "{toward:?}");
    assert!((head.y - nail.length_mm / 3.0).abs() < 1e-6, "{head:?}");
}

#[test]
fn bolts_seen_head_on_go_through_in_a_grid_with_their_washers() {
    let mut bench = empty();
    make(&mut bench, Kind::Member(Shape::Box));
    keys(&mut bench, "0\t0\n12\"\t8\"\n");
    let bolts = &bench.app.stock().fasteners;
    let bolt = bolts.values().find(|it| it.id.starts_with("bolt/inch/0.5")).expect("stock has it").clone();
    make(&mut bench, Kind::HeadOn(bolt));
    answer(&mut bench, Key::Count, "2");
    answer(&mut bench, Key::Rows, "2");
    bench.press((4.0 * 25.4, 2.0 * 25.4));
    let joint = bench.app.document().joint();
    assert_eq!(joint.fasteners.len(), 4, "{:?}", bench.app.said());
    assert!(joint.fasteners.iter().all(|it| it.head_washer.is_some() && it.lead_hole.is_some()));
    let (_, toward) = bench.free(3);
    assert!(toward.z < 0.0 && toward.x == 0.0, "{toward:?}");
    opens_again(&bench);
}

#[test]
fn all_that_are_alike_are_swapped_as_one_step() {
    let mut bench = empty();
    make(&mut bench, Kind::Member(Shape::Box));
    keys(&mut bench, "0\t0\n4\"\t12\"\n");
    let nail = bench.app.stock().fasteners["nail/common/16d"].clone();
    make(&mut bench, Kind::Row(nail));
    bench.drag((0.2, 50.8), (60.0, 50.8));
    let first = bench.app.document().joint().fasteners[0].id.clone();
    bench.send(Message::Stock(stock::Message::ThingPressed(Subject::Fastener(first))));
    bench.send(Message::Stock(stock::Message::AlikeToggled));
    let longer = bench.app.stock().fasteners["nail/common/20d"].clone();
    bench.send(Message::Stock(stock::Message::SizePressed(longer)));
    assert!(bench.app.document().joint().fasteners.iter().all(|it| it.spec.id == "nail/common/20d"));
    assert!(bench.app.document().journal.undo_name().is_some_and(|it| it.starts_with("Make 3 fasteners")));
    bench.send(ctrl("z"));
    assert!(bench.app.document().joint().fasteners.iter().all(|it| it.spec.id == "nail/common/16d"));
}

#[test]
fn every_ready_joint_begins_an_empty_window_and_is_undone() {
    let stock = Arc::new(Stock::built_in());
    for (n, starter) in STARTERS.iter().enumerate() {
        let mut bench = Bench::with(App::new(stock.clone(), Joint::default(), None));
        // By the keyboard alone: down to it, and begin.
        bench.send(letter("b"));
        (0..n).for_each(|_| bench.send(named(Named::ArrowDown)));
        bench.send(named(Named::Enter));
        let expected = starter.start(&Sizes::defaults(StandardId::Nds2018), &stock).expect("it is drawn");
        assert_eq!(bench.app.document().joint(), &expected, "{}", starter.title);
        assert!(bench.app.document().journal.edited());
        bench.send(ctrl("z"));
        assert_eq!(bench.app.document().joint(), &Joint::default(), "{}", starter.title);
    }
}

#[test]
fn a_ready_joint_follows_its_sizes_and_asks_before_work_is_lost() {
    let mut bench = empty();
    post(&mut bench);
    bench.send(letter("b"));
    let question = STARTERS[0].questions[0];
    bench.send(Message::Starters(starters::Message::Typed(question.key, "nonsense".into())));
    bench.send(Message::Starters(starters::Message::BeginPressed));
    assert_eq!(bench.app.dialog(), &Dialog::Unsaved(Then::Begin));
    bench.send(Message::Dialog(dialog::Message::CancelPressed));
    assert_eq!(bench.app.document().joint().members.len(), 1);
    bench.send(Message::Starters(starters::Message::Picked(1)));
    bench.send(Message::Starters(starters::Message::BeginPressed));
    bench.send(Message::Dialog(dialog::Message::DiscardPressed));
    assert!(1 < bench.app.document().joint().members.len());
}
