//! Clicks on the window as it is laid out, by a simulated pointer. No display is needed.

use iced::{Event, Point, Size, mouse};
use iced_test::Simulator;
use shankline::drawing::Subject;
use shankline::window::dialog::Dialog;
use shankline::window::theme::{FONT_FILES, REGULAR};
use shankline::window::{App, Message, findings, selected, stock};

use super::window_bench::{Bench, joint, stock as small_stock};

pub(crate) fn shown(app: &App, size: Size) -> Simulator<'_, Message> {
    let settings = iced::Settings {
        fonts: FONT_FILES.iter().map(|it| (*it).into()).collect(),
        default_font: REGULAR,
        ..iced::Settings::default()
    };
    Simulator::with_size(settings, size, app.view())
}

const USUAL: Size = Size::new(1280.0, 1000.0);

/// Clicks on words and plays what comes of it.
#[track_caller]
fn click(bench: &mut Bench, words: &str) {
    let messages: Vec<Message> = {
        let mut ui = shown(&bench.app, USUAL);
        let found = ui.click(words);
        assert!(found.is_ok(), "{words:?} is not on the window: {:?}", found.err());
        ui.into_messages().collect()
    };
    assert!(!messages.is_empty(), "{words:?} cannot be pressed");
    for message in messages {
        bench.send(message);
    }
}

#[test]
fn a_size_is_picked_from_an_opened_table() {
    let mut bench = Bench::new(None);
    bench.press((0.0, 76.2));
    bench.release((0.0, 76.2));
    // The table of the chosen nail is open.
    click(&mut bench, "20d common nail");
    assert!((bench.length_of(0) - 101.6).abs() < 1e-9);
    click(&mut bench, "Undo");
    assert!((bench.length_of(0) - 88.9).abs() < 1e-9);
    click(&mut bench, "Redo");
    assert!((bench.length_of(0) - 101.6).abs() < 1e-9);
}

#[test]
fn a_thing_is_chosen_from_the_list_and_a_strip_from_the_cores() {
    let mut bench = Bench::new(None);
    click(&mut bench, "near");
    assert_eq!(bench.app.chosen(), Some(&Subject::Member("near".into())));
    click(&mut bench, "It bears");
    assert!(!bench.app.document().joint().members[0].bearing);
    click(&mut bench, "Undo");
    assert!(bench.app.document().joint().members[0].bearing);
}

#[test]
fn every_finding_is_in_the_list_by_a_word_and_a_press_shows_its_subject() {
    // An 8d nail, 2 1/2" long, reaches 1" into the far board: 2.5 - 1.5.
    let mut bench = Bench::new(None);
    let list = bench.app.document().shown().findings.list.clone();
    let Some(first) = list.first() else { panic!("the short nail is told of") };
    click(&mut bench, &first.says);
    let Some(Subject::Fastener(id)) = bench.app.chosen() else { panic!("{:?}", bench.app.chosen()) };
    assert_eq!(Some(id), first.subjects.first());
    let word = findings::severity_word(first.severity);
    assert!(shown(&bench.app, USUAL).find(word).is_ok(), "{word} is said, not only coloured");
}

#[test]
fn the_question_of_unsaved_changes_has_verbs() {
    let mut bench = Bench::new(None);
    click(&mut bench, "near");
    click(&mut bench, "It bears");
    click(&mut bench, "New");
    assert!(matches!(bench.app.dialog(), Dialog::Unsaved(_)));
    click(&mut bench, "Cancel");
    assert_eq!(bench.app.document().joint().members.len(), 2);
    click(&mut bench, "New");
    click(&mut bench, "Don't save");
    assert!(bench.app.document().joint().members.is_empty());
}

#[test]
fn a_press_and_a_release_in_one_breath_are_a_click() {
    let mut bench = Bench::new(None);
    let messages: Vec<Message> = {
        let mut ui = shown(&bench.app, USUAL);
        // Anywhere in the canvas: it learns its size by the first event, and is let go of by the last.
        let at = Point::new(300.0, 300.0);
        ui.point_at(at);
        let _ = ui.simulate([
            Event::Mouse(mouse::Event::CursorMoved { position: at }),
            Event::Mouse(mouse::Event::ButtonPressed(mouse::Button::Left)),
            Event::Mouse(mouse::Event::ButtonReleased(mouse::Button::Left)),
        ]);
        ui.into_messages().collect()
    };
    // The bench has told the canvas another size before; the first answers are the new size.
    for message in messages {
        bench.send(message);
    }
    let messages: Vec<Message> = {
        let camera = bench.app.canvas().camera;
        let head = camera.on_screen(kurbo::Point::new(0.0, 76.2));
        let mut ui = shown(&bench.app, USUAL);
        let origin = canvas_origin(&mut ui, camera.viewport_px);
        let at = origin + iced::Vector::new(to_px(head.x), to_px(head.y));
        ui.point_at(at);
        let _ = ui.simulate([
            Event::Mouse(mouse::Event::CursorMoved { position: at }),
            Event::Mouse(mouse::Event::ButtonPressed(mouse::Button::Left)),
            Event::Mouse(mouse::Event::ButtonReleased(mouse::Button::Left)),
        ]);
        ui.into_messages().collect()
    };
    for message in messages {
        bench.send(message);
    }
    assert_eq!(bench.app.chosen(), Some(&Subject::Fastener("n1".into())));
    assert!(!bench.app.canvas().gesture.is_dragging());
    bench.move_to((60.0, 140.0));
    assert_eq!(bench.app.document().shown().joint, joint(), "nothing is held any longer");
}

#[expect(clippy::cast_possible_truncation, reason = "pixels of a window")]
pub(crate) fn to_px(it: f64) -> f32 {
    it as f32
}

/// Tells the canvas its size, as the next frame would.
pub(crate) fn settle(bench: &mut Bench, size: Size) {
    let messages: Vec<Message> = {
        let mut ui = shown(&bench.app, size);
        let redraw = iced::window::Event::RedrawRequested(std::time::Instant::now());
        let _ = ui.simulate([Event::Window(redraw)]);
        ui.into_messages().collect()
    };
    messages.into_iter().for_each(|it| bench.send(it));
}

/// The top left corner of the canvas: it lies above the pane of cores and left of the findings.
pub(crate) fn canvas_origin(ui: &mut Simulator<'_, Message>, size: (f64, f64)) -> Point {
    let cores = ui.find("CORES").expect("the pane of cores is there");
    let findings = ui.find("FINDINGS").expect("the list of findings is there");
    let right = findings.bounds().x - 14.0 - 1.0;
    let bottom = cores.bounds().y - 8.0 - 1.0;
    Point::new(right - to_px(size.0), bottom - to_px(size.1))
}

#[test]
fn the_least_window_has_room_for_every_part() {
    let bench = Bench::new(None);
    let mut ui = shown(&bench.app, Size::new(1024.0, 700.0));
    for words in ["STOCK", "IN THIS JOINT", "FINDINGS", "SELECTED", "CORES", "Export detail", "Keys"] {
        let found = ui.find(words).unwrap_or_else(|why| panic!("{words}: {why:?}"));
        let area = found.bounds();
        assert!(0.0 <= area.x && area.x + area.width <= 1024.0, "{words} {area:?}");
        assert!(0.0 <= area.y && area.y + area.height <= 700.0, "{words} {area:?}");
    }
    assert!(ui.find(shankline::window::foot::CAUTIONS).is_ok());
}

#[test]
fn messages_of_panes_can_be_played_again() {
    // A session is a list of messages: replayed on a fresh window it ends in the same joint.
    let spec = small_stock().fasteners["nail/common/20d"].clone();
    let session = [
        Message::Stock(stock::Message::ThingPressed(Subject::Fastener("n2".into()))),
        Message::Stock(stock::Message::SizePressed(spec)),
        Message::Selected(selected::Message::Pressed(shankline::window::look::Command::Duplicate)),
    ];
    let (mut one, mut other) = (Bench::new(None), Bench::new(None));
    for message in &session {
        one.send(message.clone());
        other.send(message.clone());
    }
    assert_eq!(one.app.document().joint(), other.app.document().joint());
    assert_eq!(one.app.document().joint().fasteners.len(), 3);
}

#[test]
fn a_field_takes_what_is_typed_and_enter_keeps_it() {
    let mut bench = Bench::new(None);
    bench.press((0.0, 76.2));
    bench.release((0.0, 76.2));
    let messages: Vec<Message> = {
        let mut ui = shown(&bench.app, USUAL);
        let field = iced_test::selector::id(iced::widget::Id::from("fastener n1 HeadY".to_owned()));
        let found = ui.click(field);
        assert!(found.is_ok(), "{:?}", found.err());
        let _ = ui.typewrite(" + 1");
        let _ = ui.tap_key(iced::keyboard::key::Named::Enter);
        ui.into_messages().collect()
    };
    let typed = messages.iter().filter(|it| matches!(it, Message::Selected(selected::Message::Typed(..))));
    assert_eq!(typed.count(), 4, "{messages:?}");
    for message in messages {
        bench.send(message);
    }
    assert_eq!(bench.free(0).0.y, 76.2, "3\" + 1 is no length, so the old one stays");
}

#[test]
fn tab_goes_from_field_to_field_once_the_keyboard_is_in_them() {
    let mut bench = Bench::new(None);
    bench.press((0.0, 76.2));
    bench.release((0.0, 76.2));
    let before = bench.app.chosen().cloned();
    bench.send(super::window_session::named(iced::keyboard::key::Named::F2));
    bench.send(super::window_session::named(iced::keyboard::key::Named::Tab));
    assert_eq!(bench.app.chosen().cloned(), before, "Tab did not walk on to a finding of another fastener");
    bench.send(super::window_session::named(iced::keyboard::key::Named::ArrowUp));
    assert_eq!(bench.free(0).0.y, 76.2, "arrows belong to the field");
}
