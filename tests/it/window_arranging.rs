//! What is chosen, arranged: copies in rows, turned and mirrored, brought into line, spread evenly. All by the pane's
//! own buttons and fields, each one named step that is taken back by one.

use iced::Size;
use shankline::drawing::Subject;
use shankline::joint::{Joint, Outline};
use shankline::sketch::arrange::align::{Along, Line};
use shankline::window::dialog::{self, Dialog};
use shankline::window::look::Command;
use shankline::window::selected::arrange::{Done, Size as Field};
use shankline::window::{Message, selected};

use super::window_bench::{self, Bench};
use super::window_clicks::shown;
use super::window_session::{ctrl, letter, named};

fn click(bench: &mut Bench, words: &str) {
    let messages: Vec<Message> = {
        let mut ui = shown(&bench.app, Size::new(1280.0, 1400.0));
        let found = ui.click(words);
        assert!(found.is_ok(), "{words:?} is not on the window: {:?}", found.err());
        ui.into_messages().collect()
    };
    assert!(!messages.is_empty(), "{words:?} cannot be pressed");
    messages.into_iter().for_each(|it| bench.send(it));
}

fn types(bench: &mut Bench, field: Field, text: &str) {
    bench.send(Message::Selected(selected::Message::ArrangeTyped(field, text.into())));
}

fn done(bench: &mut Bench, it: Done) {
    bench.send(Message::Selected(selected::Message::Arranged(it)));
}

fn choose(bench: &mut Bench, ids: &[&str]) {
    bench.send(ctrl("a"));
    let all: Vec<Subject> = bench.app.all_chosen().cloned().collect();
    let named = |it: &Subject| match it {
        Subject::Member(id) | Subject::Connector(id) | Subject::Fastener(id) => ids.contains(&id.as_str()),
        Subject::Hole(..) | Subject::Dimension(_) => false,
    };
    bench.send(named_key());
    for (n, it) in all.into_iter().filter(named).enumerate() {
        if n == 0 {
            bench.send(Message::Stock(shankline::window::stock::Message::ThingPressed(it)));
        } else {
            let shift = iced::keyboard::Modifiers::SHIFT;
            bench.send(Message::Key(iced::keyboard::Event::ModifiersChanged(shift)));
            let Subject::Fastener(id) = &it else { panic!("only fasteners are added: {it:?}") };
            let at = bench.app.document().joint().fasteners.iter().position(|it| it.id == *id);
            let (head, toward) = bench.free(at.expect("it is there"));
            let shank = head + toward * 5.0;
            bench.press((shank.x, shank.y));
            bench.release((shank.x, shank.y));
            bench.send(Message::Key(iced::keyboard::Event::ModifiersChanged(Default::default())));
        }
    }
    assert_eq!(bench.app.all_chosen().count(), ids.len());
}

fn named_key() -> Message {
    named(iced::keyboard::key::Named::Escape)
}

fn heads(joint: &Joint) -> Vec<(f64, f64, f64)> {
    let round = |it: f64| (it * 1e6).round() / 1e6;
    let place = |it: &shankline::joint::Fastener| match it.place {
        shankline::joint::Placement::Free { head, .. } => (round(head.x), round(head.y), round(head.z)),
        shankline::joint::Placement::Fills { .. } => panic!("driven freely"),
    };
    joint.fasteners.iter().map(place).collect()
}

#[test]
fn rows_of_copies_are_shown_while_they_are_typed_and_kept_as_one_step() {
    let mut bench = Bench::new(None);
    choose(&mut bench, &["n1"]);
    click(&mut bench, "Arrange");
    types(&mut bench, Field::Across, "1");
    types(&mut bench, Field::Up, "2");
    types(&mut bench, Field::UpBy, "1\"");
    types(&mut bench, Field::Near, "3");
    types(&mut bench, Field::NearBy, "-2\"");
    assert_eq!(bench.app.document().shown().joint.fasteners.len(), 7, "they are seen before they are kept");
    assert_eq!(bench.app.document().joint().fasteners.len(), 2);
    click(&mut bench, "Make 5 new things");
    let joint = bench.app.document().joint();
    let all = heads(joint);
    assert_eq!(all.len(), 7);
    for (up, near) in [(25.4, 0.0), (0.0, -50.8), (25.4, -50.8), (0.0, -101.6), (25.4, -101.6)] {
        let wanted = (0.0, ((76.2 + up) * 1e6_f64).round() / 1e6, ((600.0 + near) * 1e6_f64).round() / 1e6);
        assert!(all.contains(&wanted), "{wanted:?} of {all:?}");
    }
    assert_eq!(bench.app.all_chosen().count(), 6, "the original and its copies are chosen");
    assert_eq!(bench.app.document().journal.undo_name(), Some("Copy fastener 1 5 times"));
    bench.send(ctrl("z"));
    assert_eq!(bench.app.document().joint(), &window_bench::joint());
}

#[test]
fn what_makes_no_rows_is_said_and_copies_that_are_not_wanted_go_again() {
    let mut bench = Bench::new(None);
    choose(&mut bench, &["n1"]);
    bench.send(letter("a"));
    types(&mut bench, Field::Across, "2");
    assert!(bench.app.document().in_hand());
    for (field, text) in
        [(Field::Across, "0"), (Field::Across, "1e9"), (Field::AcrossBy, "wide"), (Field::UpBy, "")]
    {
        types(&mut bench, field, text);
        assert!(!bench.app.document().in_hand(), "{text:?} makes no copies");
        done(&mut bench, Done::Copies);
        assert_eq!(bench.app.document().joint(), &window_bench::joint(), "{text:?}");
        assert!(bench.app.said().is_some(), "{text:?}");
        types(&mut bench, field, if field == Field::Across { "2" } else { "1\"" });
    }
    types(&mut bench, Field::AcrossBy, "0");
    done(&mut bench, Done::Copies);
    assert!(bench.app.said().is_some_and(|it| it.contains("on each other")), "{:?}", bench.app.said());
    types(&mut bench, Field::AcrossBy, "3\"");
    assert!(bench.app.document().in_hand());
    bench.press((20.0, 20.0));
    bench.release((20.0, 20.0));
    assert!(!bench.app.document().in_hand());
    assert_eq!(bench.app.document().joint(), &window_bench::joint());
}

#[test]
fn things_are_lined_up_and_spread_by_buttons() {
    let mut bench = Bench::new(None);
    choose(&mut bench, &["n1"]);
    click(&mut bench, "Arrange");
    types(&mut bench, Field::Across, "1");
    types(&mut bench, Field::Up, "3");
    types(&mut bench, Field::UpBy, "1/2\"");
    done(&mut bench, Done::Copies);
    let before = bench.app.document().joint().clone();
    // The second copy is nudged aside and far up.
    let moved = bench.app.document().joint().fasteners[3].id.clone();
    choose(&mut bench, &[&moved]);
    for _ in 0..3 {
        bench.send(named(iced::keyboard::key::Named::ArrowUp));
        bench.send(named(iced::keyboard::key::Named::ArrowRight));
    }
    let copy = bench.app.document().joint().fasteners[2].id.clone();
    choose(&mut bench, &["n1", &copy, &moved]);
    click(&mut bench, "Left sides");
    let names: Vec<f64> = heads(bench.app.document().joint()).iter().map(|it| it.0).collect();
    assert!(names.iter().all(|it| it.abs() < 1e-9), "{names:?}");
    assert!(bench.app.document().journal.undo_name().is_some_and(|it| it.starts_with("Line up 3 things")));
    click(&mut bench, "Spread upward");
    let all = heads(bench.app.document().joint());
    let (low, middle, high) = (all[0].1, all[2].1, all[3].1);
    assert!((middle - f64::midpoint(low, high)).abs() < 1e-6, "{all:?}");
    for _ in 0..8 {
        bench.send(ctrl("z"));
    }
    assert_eq!(bench.app.document().joint(), &before);
}

#[test]
fn a_member_is_turned_and_mirrored_with_a_copy_or_without() {
    let mut bench = Bench::new(None);
    bench.press((20.0, 20.0));
    bench.release((20.0, 20.0));
    click(&mut bench, "Arrange");
    types(&mut bench, Field::Turn, "30");
    done(&mut bench, Done::Turn);
    let turn = |joint: &Joint, n: usize| match joint.members[n].outline {
        Outline::Rectangle { turn_deg, .. } => turn_deg,
        _ => panic!("it stays a rectangle"),
    };
    assert!((turn(bench.app.document().joint(), 0) - 30.0).abs() < 1e-9);
    done(&mut bench, Done::MirroredCopy);
    let joint = bench.app.document().joint();
    assert_eq!(joint.members.len(), 3);
    assert!((turn(joint, 0) - 30.0).abs() < 1e-9 && (turn(joint, 2) + 30.0).abs() < 1e-9);
    bench.send(ctrl("z"));
    bench.send(ctrl("z"));
    assert_eq!(bench.app.document().joint(), &window_bench::joint());
    // One board is its own mirror image; with the nails it is not.
    bench.send(ctrl("a"));
    click(&mut bench, "Top to bottom");
    assert!(bench.app.document().journal.undo_name().is_some_and(|it| it.starts_with("Mirror")));
}

#[test]
fn too_few_things_are_not_lined_up_and_it_is_said_why() {
    let mut bench = Bench::new(None);
    for (count, command) in
        [(0, Command::Align(Line::Top)), (1, Command::Align(Line::Left)), (2, Command::Spread(Along::X))]
    {
        bench.send(named_key());
        match count {
            0 => {}
            1 => choose(&mut bench, &["n1"]),
            _ => choose(&mut bench, &["n1", "n2"]),
        }
        bench.send(Message::Selected(selected::Message::Pressed(command)));
        assert_eq!(bench.app.document().joint(), &window_bench::joint());
        assert!(bench.app.said().is_some(), "{command:?} of {count}");
    }
}

#[test]
fn copies_go_round_the_middle_of_what_lies_under_them_or_a_typed_place() {
    let mut bench = Bench::new(None);
    choose(&mut bench, &["n1"]);
    // Found by its words in the list of actions: the keyboard is in the count then.
    let dialog = |it| Message::Dialog(it);
    bench.send(letter("/"));
    bench.send(dialog(dialog::Message::Searched("copies round ring".into())));
    let Dialog::Actions { found, .. } = bench.app.dialog() else { panic!("it is open") };
    assert_eq!(found.offers.len(), 1, "{found:?}");
    bench.send(dialog(dialog::Message::SearchEntered));
    types(&mut bench, Field::RingX, "0");
    types(&mut bench, Field::RingY, "4\"");
    types(&mut bench, Field::Ring, "4");
    assert_eq!(bench.app.document().shown().joint.fasteners.len(), 5, "they are seen before they are kept");
    click(&mut bench, "Make 3 new things round it");
    // 3" up and turned by quarters about 4" up: 1" from it to each side.
    let heads = heads(bench.app.document().joint());
    for wanted in [(25.4, 101.6, 600.0), (0.0, 127.0, 600.0), (-25.4, 101.6, 600.0)] {
        assert!(heads.contains(&wanted), "{wanted:?} of {heads:?}");
    }
    let (_, toward) = bench.free(2);
    assert!(
        (toward - shankline::unit::Vec3::new(0.0, 1.0, 0.0)).length() < 1e-9,
        "it points along: {toward:?}"
    );
    assert_eq!(bench.app.document().journal.undo_name(), Some("Copy fastener 1 3 times round a place"));
    bench.send(ctrl("z"));
    assert_eq!(bench.app.document().joint(), &window_bench::joint());
    for (field, text) in
        [(Field::RingBy, "360"), (Field::RingBy, "120"), (Field::RingBy, "wide"), (Field::Ring, "1")]
    {
        types(&mut bench, field, text);
        assert!(!bench.app.document().in_hand(), "{text:?} makes no ring");
        done(&mut bench, Done::Ring);
        assert!(bench.app.said().is_some(), "{text:?}");
        types(&mut bench, field, if field == Field::Ring { "4" } else { "45" });
    }
    types(&mut bench, Field::RingY, "3\"");
    done(&mut bench, Done::Ring);
    assert!(bench.app.said().is_some_and(|it| it.contains("type the place")), "{:?}", bench.app.said());
    bench.send(named_key());
    bench.send(named_key());
    assert_eq!(bench.app.document().joint(), &window_bench::joint());
}
