//! Several things at once: chosen by a box and by Shift, carried, copied, put in elsewhere, taken away, undone.

use iced::keyboard::key::{Key, Named};
use iced::keyboard::{Event, Modifiers};
use shankline::drawing::Subject;
use shankline::joint::{Joint, Outline, Placement, file};
use shankline::stock::Stock;
use shankline::window::look::Command;
use shankline::window::{App, Message, selected};

use super::window_bench::{self, Bench};
use super::window_session::{ctrl, letter, named, press};

fn member(id: &str) -> Subject {
    Subject::Member(id.into())
}

fn hold_shift(bench: &mut Bench, held: bool) {
    let modifiers = if held { Modifiers::SHIFT } else { Modifiers::empty() };
    bench.send(Message::Key(Event::ModifiersChanged(modifiers)));
}

fn corner(joint: &Joint, n: usize) -> (f64, f64) {
    match joint.members[n].outline {
        Outline::Rectangle { corner, .. } => (corner.x, corner.y),
        _ => panic!("the boards are rectangles"),
    }
}

fn chosen(bench: &Bench) -> usize {
    bench.app.all_chosen().count()
}

#[test]
fn a_box_round_things_chooses_what_lies_wholly_inside() {
    let mut bench = Bench::new(None);
    bench.drag((-20.0, -20.0), (45.0, 200.0));
    assert_eq!(bench.app.all_chosen().cloned().collect::<Vec<_>>(), [member("near")], "the nails reach on");
    bench.drag((-20.0, -20.0), (120.0, 200.0));
    assert_eq!(chosen(&bench), 4);
    bench.drag((-60.0, -60.0), (-30.0, -30.0));
    assert_eq!(chosen(&bench), 0, "an empty box chooses nothing");
    assert!(!bench.app.document().journal.edited());
}

#[test]
fn shift_and_a_press_adds_and_leaves_out() {
    let mut bench = Bench::new(None);
    bench.press((20.0, 20.0));
    bench.release((20.0, 20.0));
    hold_shift(&mut bench, true);
    bench.drag((60.0, 20.0), (60.0, 20.0));
    assert_eq!(bench.app.chosen(), Some(&member("far")));
    assert_eq!(chosen(&bench), 2);
    bench.drag((20.0, 20.0), (20.0, 20.0));
    assert_eq!(bench.app.all_chosen().cloned().collect::<Vec<_>>(), [member("far")]);
    hold_shift(&mut bench, false);
    bench.press((20.0, 20.0));
    bench.release((20.0, 20.0));
    assert_eq!(bench.app.all_chosen().cloned().collect::<Vec<_>>(), [member("near")]);
}

#[test]
fn a_group_is_carried_as_one_step_and_a_typed_length_is_exact() {
    let mut bench = Bench::new(None);
    bench.send(ctrl("a"));
    assert_eq!(chosen(&bench), 4);
    bench.press((20.0, 20.0));
    bench.move_to((60.0, 60.0));
    for it in ["1", " ", "1", "/", "2"] {
        bench.send(if it == " " { named(Named::Space) } else { letter(it) });
    }
    bench.send(named(Named::Tab));
    bench.send(letter("0"));
    bench.send(named(Named::Enter));
    let joint = bench.app.document().joint();
    assert!((corner(joint, 0).0 - 38.1).abs() < 1e-9 && corner(joint, 0).1 == 0.0, "{:?}", corner(joint, 0));
    assert!((bench.free(0).0.x - 38.1).abs() < 1e-9);
    assert_eq!(bench.app.document().journal.undo_name(), Some("Move 4 things"));
    bench.send(ctrl("z"));
    assert_eq!(bench.app.document().joint(), &window_bench::joint());
}

#[test]
fn a_coordinate_can_be_typed_while_a_member_is_dragged() {
    let mut bench = Bench::new(None);
    bench.press((20.0, 20.0));
    bench.move_to((60.0, 60.0));
    bench.send(named(Named::Tab));
    bench.send(named(Named::Tab));
    bench.send(press(Key::Character("3".into()), Modifiers::empty()));
    bench.send(press(Key::Character("\"".into()), Modifiers::empty()));
    bench.send(named(Named::Tab));
    bench.send(letter("1"));
    bench.send(named(Named::Enter));
    let at = corner(bench.app.document().joint(), 0);
    assert!((at.0 - 76.2).abs() < 1e-9 && (at.1 - 25.4).abs() < 1e-9, "{at:?}");
}

#[test]
fn what_is_cut_in_one_window_is_put_into_another() {
    let (mut one, mut other) = (Bench::new(None), Bench::new(None));
    one.send(ctrl("a"));
    one.send(ctrl("x"));
    let left = one.app.document().joint();
    assert!(left.members.is_empty() && left.fasteners.is_empty());
    let text = one.clipboard.clone().expect("the clipboard of the system has it");
    let part = file::read(&text, &window_bench::stock()).expect("it is joint JSON");
    assert_eq!((part.members.len(), part.fasteners.len()), (2, 2));
    other.clipboard = Some(text);
    other.send(ctrl("v"));
    let joint = other.app.document().joint();
    assert_eq!((joint.members.len(), joint.fasteners.len()), (4, 4));
    assert_eq!(chosen(&other), 4, "what was put in is chosen");
    let ids: std::collections::BTreeSet<_> = joint.members.iter().map(|it| &it.id).collect();
    assert_eq!(ids.len(), 4, "under ids of their own");
    other.send(ctrl("v"));
    let joint = other.app.document().joint();
    assert!(corner(joint, 4).1 > corner(joint, 2).1, "a second copy does not hide the first");
    other.send(ctrl("z"));
    other.send(ctrl("z"));
    assert_eq!(other.app.document().joint(), &window_bench::joint());
    one.send(ctrl("z"));
    assert_eq!(one.app.document().joint(), &window_bench::joint());
}

#[test]
fn a_clipboard_with_something_else_changes_nothing() {
    let mut bench = Bench::new(None);
    for text in [None, Some(""), Some("milk, eggs"), Some("{\"format\": \"shankline-joint\"}")] {
        bench.clipboard = text.map(str::to_owned);
        bench.send(ctrl("v"));
        assert_eq!(bench.app.document().joint(), &window_bench::joint(), "{text:?}");
    }
}

#[test]
fn a_member_turned_mirrored_and_put_behind_goes_back_by_undo() {
    let mut bench = Bench::new(None);
    bench.press((20.0, 20.0));
    bench.release((20.0, 20.0));
    bench.send(Message::Selected(selected::Message::Pressed(Command::TurnBy(90))));
    match bench.app.document().joint().members[0].outline {
        Outline::Rectangle { turn_deg, .. } => assert_eq!(turn_deg, 90.0),
        _ => panic!("it stays a rectangle"),
    }
    bench.send(letter("m"));
    bench.send(letter("}"));
    assert_eq!(bench.app.document().joint().members[1].id, "near", "drawn before the others");
    assert_eq!(bench.app.document().journal.undo_name(), Some("Draw near before the others"));
    for _ in 0..3 {
        bench.send(ctrl("z"));
    }
    assert_eq!(bench.app.document().joint(), &window_bench::joint());
}

#[test]
fn what_cannot_be_without_a_thing_is_taken_away_with_it_and_comes_back() {
    let sample = include_str!("../../sample-projects/alder-court-hanger.joint.json");
    let stock = std::sync::Arc::new(Stock::built_in());
    let joint = file::read(sample, &stock).expect("the sample is sound");
    let hanger = joint.connectors[0].id.clone();
    let mut bench = Bench::with(App::new(stock.clone(), joint.clone(), None));
    bench.send(Message::Stock(shankline::window::stock::Message::ThingPressed(Subject::Connector(hanger))));
    bench.send(named(Named::Delete));
    let left = bench.app.document().joint();
    assert_eq!(left.connectors.len() + 1, joint.connectors.len());
    let dangling = |it: &&shankline::joint::Fastener| match &it.place {
        Placement::Fills { connector, .. } => !left.connectors.iter().any(|it| it.id == *connector),
        Placement::Free { .. } => false,
    };
    assert_eq!(left.fasteners.iter().find(dangling), None);
    assert!(file::read(&file::write(left), &stock).is_ok(), "what is left can be saved and opened");
    bench.send(ctrl("z"));
    assert_eq!(bench.app.document().joint(), &joint);
}

#[test]
fn the_list_of_steps_goes_back_and_forth() {
    let mut bench = Bench::new(None);
    bench.press((20.0, 20.0));
    bench.release((20.0, 20.0));
    for _ in 0..5 {
        bench.send(named(Named::ArrowUp));
    }
    let after = bench.app.document().joint().clone();
    let steps = |steps| Message::Dialog(shankline::window::dialog::Message::StepPressed(steps));
    bench.send(ctrl("h"));
    bench.send(steps(5));
    assert_eq!(bench.app.document().joint(), &window_bench::joint());
    assert_eq!(bench.app.document().journal.undone().count(), 5);
    bench.send(steps(-5));
    assert_eq!(bench.app.document().joint(), &after);
}

#[test]
fn a_step_that_no_file_could_hold_is_refused_in_words() {
    let mut bench = Bench::new(None);
    bench.press((20.0, 20.0));
    // A million millimetres from the origin is the farthest that a file may say.
    bench.move_to((60.0, 60.0));
    for it in ["9", "9", "9", "9", "9", "9", "9", "m"] {
        bench.send(letter(it));
    }
    bench.send(named(Named::Enter));
    assert_eq!(bench.app.document().joint(), &window_bench::joint());
    assert!(!bench.app.document().journal.edited());
    assert!(bench.app.said().is_some_and(|it| it.starts_with("Not done:")), "{:?}", bench.app.said());
}
