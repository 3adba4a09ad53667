//! The keyboard in the window as it is laid out: which controls it comes to, and which it does not. No display is needed.

use iced::advanced::widget::operation::{Operation, Outcome, focusable};
use iced::advanced::{clipboard, mouse};
use iced::keyboard::key::{Code, Key, Named, Physical};
use iced::keyboard::{self, Location, Modifiers};
use iced::{Event, Pixels, Renderer, Size, Theme};
use iced_test::runtime::user_interface::{Cache, UserInterface};
use shankline::drawing::Subject;
use shankline::joint::{Grain, Look as From};
use shankline::unit::Vec3;
use shankline::window::canvas::gesture::Gesture;
use shankline::window::dialog::{self, Dialog};
use shankline::window::look::Command;
use shankline::window::{App, Message, stock, top};

use super::window_bench::Bench;
use super::window_clicks::shown;
use super::window_session::{ctrl, letter, named};

const SIZE: Size = Size::new(1280.0, 1000.0);

/// What a key asks for with each of the controls in turn that Tab comes to, and how many there are.
fn walked(app: &App, key: Named) -> (Vec<Message>, usize) {
    let mut renderer: Renderer = iced_tiny_skia::Renderer::new(iced::Font::DEFAULT, Pixels(13.0));
    let mut ui: UserInterface<'_, Message, Theme, Renderer> =
        UserInterface::build(app.view(), SIZE, Cache::default(), &mut renderer);
    let mut messages = Vec::new();
    let count = count(&mut ui, &renderer);
    for _ in 0..count {
        let mut operation: Box<dyn Operation> = Box::new(focusable::focus_next());
        loop {
            ui.operate(&renderer, operation.as_mut());
            let Outcome::Chain(next) = operation.finish() else { break };
            operation = next;
        }
        let pressed = Event::Keyboard(keyboard::Event::KeyPressed {
            modified_key: Key::Named(key),
            key: Key::Named(key),
            physical_key: Physical::Code(Code::Abort),
            location: Location::Standard,
            modifiers: Modifiers::empty(),
            text: None,
            repeat: false,
        });
        let nowhere = mouse::Cursor::Unavailable;
        let _ = ui.update(&[pressed], nowhere, &mut renderer, &mut clipboard::Null, &mut messages);
    }
    (messages, count)
}

fn count(ui: &mut UserInterface<'_, Message, Theme, Renderer>, renderer: &Renderer) -> usize {
    let mut operation = focusable::count();
    ui.operate(renderer, &mut iced::advanced::widget::operation::black_box(&mut operation));
    match operation.finish() {
        Outcome::Some(it) => it.total,
        Outcome::None | Outcome::Chain(_) => 0,
    }
}

fn member(bench: &mut Bench) {
    bench.send(Message::Stock(stock::Message::ThingPressed(Subject::Member("near".into()))));
}

#[test]
fn the_keyboard_comes_to_every_list_and_down_picks_what_follows() {
    let mut bench = Bench::new(None);
    member(&mut bench);
    let (messages, _) = walked(&bench.app, Named::ArrowDown);
    let is_unit = |it: &&Message| matches!(it, Message::Top(top::Message::Unit(_)));
    let is_standard = |it: &&Message| matches!(it, Message::Top(top::Message::Standard(_)));
    let is_place = |it: &&Message| matches!(it, Message::Top(top::Message::Service(_)));
    let is_how = |it: &&Message| matches!(it, Message::Stock(stock::Message::HowPicked(_)));
    for (of, is) in [
        ("the unit", &is_unit as &dyn Fn(&&Message) -> bool),
        ("the standard", &is_standard),
        ("the place", &is_place),
        ("how fasteners are driven", &is_how),
    ] {
        // The last option of a list has none that follows.
        let up = walked(&bench.app, Named::ArrowUp).0;
        assert_eq!(messages.iter().chain(&up).filter(is).count(), 1, "{of}: {messages:?}");
    }
    let before = bench.app.document().joint().members[0].clone();
    assert_eq!(before.grain, Grain::AlongDepth);
    let picked = messages.into_iter().filter(|it| matches!(it, Message::Selected(_)));
    let picked: Vec<Message> = picked.chain(walked(&bench.app, Named::ArrowUp).0).collect();
    let changes = |it: Message| {
        let mut bench = Bench::new(None);
        member(&mut bench);
        bench.send(it);
        let after = bench.app.document().joint().members[0].clone();
        (after.grain != before.grain, after.treatment != before.treatment)
    };
    let changed: Vec<(bool, bool)> = picked.into_iter().map(changes).collect();
    assert!(changed.iter().any(|it| it.0), "the grain is picked");
    assert!(changed.iter().any(|it| it.1), "the treatment is picked");
}

#[test]
fn under_a_panel_nothing_has_the_keyboard_but_the_panel() {
    let mut bench = Bench::new(None);
    member(&mut bench);
    let (_, all) = walked(&bench.app, Named::Enter);
    for (key, panel, buttons) in [(Named::F1, Dialog::Keys, 3), (Named::F6, Dialog::Closed, all)] {
        bench.send(named(key));
        assert_eq!(bench.app.dialog(), &panel);
        let (messages, reached) = walked(&bench.app, Named::Enter);
        assert_eq!(reached, buttons, "{panel:?}: {messages:?}");
        if panel != Dialog::Closed {
            assert!(messages.iter().all(|it| matches!(it, Message::Dialog(_))), "{messages:?}");
            assert!(shown(&bench.app, SIZE).find("IN THIS JOINT").is_ok(), "it is seen all the same");
        }
        bench.send(named(Named::Escape));
    }
}

#[test]
fn the_numbers_are_edited_whatever_is_shown_of_what_is_chosen() {
    for shows in [Command::TurnCarries, Command::Arrange] {
        let mut bench = Bench::new(None);
        bench.press((0.0, 76.2));
        bench.release((0.0, 76.2));
        bench.send(Message::Top(top::Message::Pressed(shows)));
        let first = || iced_test::selector::id(iced::widget::Id::from("fastener n1 HeadX".to_owned()));
        assert!(shown(&bench.app, SIZE).find(first()).is_err(), "{shows:?} hides the numbers");
        bench.send(named(Named::F2));
        assert!(shown(&bench.app, SIZE).find(first()).is_ok(), "{shows:?}");
        assert_eq!(bench.app.chosen(), Some(&Subject::Fastener("n1".into())));
    }
}

/// With nothing but keys a nail is found by its size, its head is put at a place that is typed, and it is driven.
#[test]
fn a_fastener_is_driven_by_the_keyboard_alone() {
    let mut bench = Bench::new(None);
    let search = |bench: &mut Bench, words: &str| {
        bench.send(letter("/"));
        bench.send(Message::Dialog(dialog::Message::Searched(words.into())));
        bench.send(Message::Dialog(dialog::Message::SearchEntered));
    };
    let types =
        |bench: &mut Bench, text: &str| text.chars().for_each(|it| bench.send(letter(&it.to_string())));
    search(&mut bench, "drive one 16d");
    // A digit that would show another view is a number now.
    types(&mut bench, "0");
    bench.send(named(Named::Tab));
    types(&mut bench, "1 1/2\"");
    bench.send(named(Named::Enter));
    assert_eq!(bench.app.document().shown().joint.fasteners.len(), 3, "it is seen before it is driven");
    assert_eq!(bench.app.document().joint().fasteners.len(), 2);
    bench.send(named(Named::Enter));
    // Square to the face at x = 0, into the board, in the middle of its depth.
    let (head, toward) = bench.free(2);
    assert!((head - Vec3::new(0.0, 38.1, 600.0)).length() < 1e-9, "{head:?}");
    assert_eq!(toward, Vec3::X);
    assert!(matches!(bench.app.chosen(), Some(Subject::Fastener(_))), "{:?}", bench.app.chosen());
    // Another, at a slope.
    bench.send(letter("g"));
    types(&mut bench, "0");
    bench.send(named(Named::Tab));
    types(&mut bench, "6\"");
    bench.send(named(Named::Enter));
    types(&mut bench, "-30");
    bench.send(named(Named::Enter));
    let (head, toward) = bench.free(3);
    assert!((head - Vec3::new(0.0, 152.4, 600.0)).length() < 1e-9, "{head:?}");
    let (sin, cos) = (-30_f64).to_radians().sin_cos();
    assert!((toward.x - cos).abs() < 1e-12 && (toward.y - sin).abs() < 1e-12, "{toward:?}");
    // One that is begun and given up leaves nothing behind.
    bench.send(letter("g"));
    types(&mut bench, "3");
    bench.send(named(Named::Escape));
    bench.send(named(Named::Escape));
    assert_eq!(bench.app.canvas().gesture, Gesture::Idle);
    bench.send(letter("3"));
    assert_eq!(bench.app.canvas().view, From::Top, "a digit shows another view again");
    assert_eq!(bench.app.document().shown().joint.fasteners.len(), 4);
}

/// The first Escape leaves the sheet, wherever the keyboard was before it was shown.
#[test]
fn the_sheet_is_left_by_one_escape() {
    let mut bench = Bench::new(None);
    member(&mut bench);
    bench.send(named(Named::F2));
    bench.send(ctrl("p"));
    assert!(bench.app.sheet().is_open());
    bench.send(named(Named::Escape));
    assert!(!bench.app.sheet().is_open());
}

/// In the panel of steps Down goes back and Up forward again.
#[test]
fn the_panel_of_steps_is_walked_by_arrows() {
    let mut bench = Bench::new(None);
    member(&mut bench);
    bench.send(named(Named::ArrowRight));
    let moved = bench.app.document().joint().clone();
    bench.send(ctrl("h"));
    bench.send(named(Named::ArrowDown));
    assert_ne!(*bench.app.document().joint(), moved);
    bench.send(named(Named::ArrowUp));
    assert_eq!(*bench.app.document().joint(), moved);
    assert_eq!(bench.app.dialog(), &Dialog::Steps, "it stays open");
}
