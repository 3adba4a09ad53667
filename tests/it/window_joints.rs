//! Whole joints drawn from an empty window by pointer and keys alone, saved, and held against files written by hand.

use std::path::Path;
use std::sync::Arc;

use iced::{Event, Point, Size, mouse};
use shankline::joint::{Grain, Joint, Treatment, file};
use shankline::stock::Stock;
use shankline::window::making::{Key, Kind, Lies};
use shankline::window::selected::field::{Field, JointField};
use shankline::window::{App, Message, selected, stock};

use super::window_bench::Bench;
use super::window_clicks::{canvas_origin, settle, shown, to_px};
use super::window_drawing::{answer, keys, make, set};
use super::window_session::ctrl;

const SIZE: Size = Size::new(1280.0, 1000.0);

/// An empty window that saves to a file, laid out and with its canvas at its true size.
fn empty(path: &Path) -> Bench {
    let app = App::new(Arc::new(Stock::built_in()), Joint::default(), Some(path.to_owned()));
    let mut bench = Bench::with(app);
    settle(&mut bench, SIZE);
    bench
}

/// Presses on words of the window.
#[track_caller]
fn click(bench: &mut Bench, words: &str) {
    let messages: Vec<Message> = {
        let mut ui = shown(&bench.app, Size::new(1280.0, 3000.0));
        let found = ui.click(words);
        assert!(found.is_ok(), "{words:?} is not on the window: {:?}", found.err());
        ui.into_messages().collect()
    };
    // The canvas of this taller window tells its size first; that of the usual one counts.
    let is_size = |it: &Message| {
        matches!(
            it,
            Message::Canvas(
                shankline::window::canvas::Message::Resized(..) | shankline::window::canvas::Message::Left
            )
        )
    };
    messages.into_iter().filter(|it| !is_size(it)).for_each(|it| bench.send(it));
}

/// Presses, drags and lets go with the pointer over the laid out window.
fn drag(bench: &mut Bench, from: (f64, f64), to: (f64, f64)) {
    for (at, event) in [
        (from, mouse::Event::ButtonPressed(mouse::Button::Left)),
        (to, mouse::Event::CursorMoved { position: Point::ORIGIN }),
        (to, mouse::Event::ButtonReleased(mouse::Button::Left)),
    ] {
        settle(bench, SIZE);
        let messages: Vec<Message> = {
            let px = bench.px(at.0, at.1);
            let mut ui = shown(&bench.app, SIZE);
            let origin = canvas_origin(&mut ui, bench.app.canvas().camera.viewport_px);
            let position = origin + iced::Vector::new(to_px(px.x), to_px(px.y));
            ui.point_at(position);
            let moved = Event::Mouse(mouse::Event::CursorMoved { position });
            let _ = match event {
                mouse::Event::CursorMoved { .. } => ui.simulate([moved]),
                other => ui.simulate([moved, Event::Mouse(other)]),
            };
            ui.into_messages().collect()
        };
        messages.into_iter().for_each(|it| bench.send(it));
    }
}

fn title(bench: &mut Bench, text: &str) {
    let field = Field::Joint(JointField::Title);
    bench.send(Message::Selected(selected::Message::Typed(field.clone(), text.into())));
    bench.send(Message::Selected(selected::Message::Entered(field)));
}

fn material(bench: &mut Bench, id: &str) {
    let found = bench.app.stock().materials[id].clone();
    set(bench, |it| it.material = Some(found));
}

/// Saves and holds the file against the expected one.
#[track_caller]
fn compare(bench: &mut Bench, path: &Path, expected: &str) {
    bench.send(ctrl("s"));
    let stock = Stock::built_in();
    let saved = std::fs::read_to_string(path).expect("it is saved");
    let saved = file::read(&saved, &stock).expect("what is saved can be read");
    let expected = file::read(expected, &stock).expect("the expected file is sound");
    assert_eq!(saved.members, expected.members);
    assert_eq!(saved.connectors, expected.connectors);
    assert_eq!(saved.fasteners.len(), expected.fasteners.len());
    for (got, wanted) in saved.fasteners.iter().zip(&expected.fasteners) {
        let near = |it: &shankline::joint::Fastener| {
            let mut it = it.clone();
            if let shankline::joint::Placement::Free { head, toward } = &mut it.place {
                let round = |mm: f64| (mm * 1e9).round() / 1e9 + 0.0;
                for at in [head, toward] {
                    (at.x, at.y, at.z) = (round(at.x), round(at.y), round(at.z));
                }
            }
            it
        };
        assert_eq!(near(got), near(wanted));
    }
    let rest = |it: &Joint| Joint { fasteners: Vec::new(), ..it.clone() };
    assert_eq!(rest(&saved), rest(&expected));
}

#[test]
fn a_sistered_joist_is_drawn() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("joist.joint.json");
    let mut bench = empty(&path);
    title(&mut bench, "Mill Row, sistered joist");
    click(&mut bench, "Sawn");
    click(&mut bench, "2x10");
    material(&mut bench, "lumber/hem-fir");
    answer(&mut bench, Key::Name, "old joist");
    keys(&mut bench, "0\t0\n");
    keys(&mut bench, "g");
    answer(&mut bench, Key::Name, "sister");
    keys(&mut bench, "1 1/2\"\t0\n");
    keys(&mut bench, "f");
    click(&mut bench, "Drive");
    bench.send(Message::Stock(stock::Message::HowPicked(stock::How::Rows)));
    keys_escape(&mut bench);
    click(&mut bench, "Nail, common");
    let nail = bench.app.stock().fasteners["nail/common/16d"].clone();
    bench.send(Message::Stock(stock::Message::NewPressed(nail)));
    answer(&mut bench, Key::Count, "3");
    answer(&mut bench, Key::Pitch, "2 1/2\"");
    answer(&mut bench, Key::Rows, "2");
    answer(&mut bench, Key::RowPitch, "8\"");
    drag(&mut bench, (0.4, 50.8), (60.0, 50.8));
    compare(&mut bench, &path, include_str!("../drawn/sistered-joist.joint.json"));
}

/// Lets go of what is chosen.
fn keys_escape(bench: &mut Bench) {
    bench.send(super::window_session::named(iced::keyboard::key::Named::Escape));
}

#[test]
fn a_ledger_with_layers_between_is_drawn() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("ledger.joint.json");
    let mut bench = empty(&path);
    title(&mut bench, "Tern Street, ledger on the rim");
    click(&mut bench, "Sawn");
    click(&mut bench, "2x8");
    material(&mut bench, "lumber/hem-fir");
    set(&mut bench, |it| it.treatment = Treatment::Preservative);
    answer(&mut bench, Key::Name, "ledger");
    keys(&mut bench, "0\t0\n");
    click(&mut bench, "Sawn");
    click(&mut bench, "Rectangle");
    material(&mut bench, "filling/foam");
    set(&mut bench, |it| it.treatment = Treatment::None);
    answer(&mut bench, Key::Name, "foam");
    keys(&mut bench, "1 1/2\"\t-1\"\n1\"\t10\"\n");
    click(&mut bench, "Sawn");
    click(&mut bench, "2x10");
    material(&mut bench, "lumber/hem-fir");
    answer(&mut bench, Key::Name, "rim");
    keys(&mut bench, "2 1/2\"\t-1\"\n");
    keys(&mut bench, "f");
    keys_escape(&mut bench);
    let lag = bench.app.stock().fasteners["lag-screw/0.375x5"].clone();
    for y in [133.35, 50.8] {
        bench.send(Message::Stock(stock::Message::NewPressed(lag.clone())));
        drag(&mut bench, (0.4, y), (60.0, y));
    }
    compare(&mut bench, &path, include_str!("../drawn/ledger-on-rim.joint.json"));
}

#[test]
fn a_toe_nailed_stud_is_drawn() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("stud.joint.json");
    let mut bench = empty(&path);
    title(&mut bench, "Kiln House, stud on its plate");
    click(&mut bench, "Rectangle");
    material(&mut bench, "lumber/hem-fir");
    set(&mut bench, |it| it.grain = Some(Grain::InPlane(0.0)));
    answer(&mut bench, Key::Name, "plate");
    answer(&mut bench, Key::Near, "3 1/2\"");
    keys(&mut bench, "0\t-1 1/2\"\n24\"\t1 1/2\"\n");
    keys(&mut bench, "g");
    answer(&mut bench, Key::Name, "stud");
    answer(&mut bench, Key::GrainDeg, "90");
    keys(&mut bench, "8\"\t0\n1 1/2\"\t12\"\n");
    keys(&mut bench, "f");
    let nail = bench.app.stock().fasteners["nail/common/8d"].clone();
    for x in [202.0, 243.0] {
        make(&mut bench, Kind::Toe(nail.clone()));
        drag(&mut bench, (x, 1.0), (x, 1.0));
    }
    compare(&mut bench, &path, include_str!("../drawn/toe-nailed-stud.joint.json"));
}

#[test]
fn a_bolted_splice_is_drawn() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("splice.joint.json");
    let mut bench = empty(&path);
    title(&mut bench, "Ferry Yard, tie with a side board");
    click(&mut bench, "Sawn");
    click(&mut bench, "2x8");
    material(&mut bench, "lumber/douglas-fir-larch");
    set(&mut bench, |it| it.lies = Lies::Face);
    answer(&mut bench, Key::Length, "3'");
    answer(&mut bench, Key::Name, "left tie");
    keys(&mut bench, "-3'\t0\n");
    keys(&mut bench, "g");
    answer(&mut bench, Key::Name, "right tie");
    keys(&mut bench, "0\t0\n");
    keys(&mut bench, "g");
    answer(&mut bench, Key::Name, "board");
    answer(&mut bench, Key::Length, "2'");
    answer(&mut bench, Key::Far, "1 1/2\"");
    keys(&mut bench, "-12\"\t0\n");
    keys(&mut bench, "f");
    let bolt = bench.app.stock().fasteners["bolt/inch/0.5x4"].clone();
    for place in ["-8\"\t2\"\n", "4\"\t2\"\n"] {
        make(&mut bench, Kind::HeadOn(bolt.clone()));
        answer(&mut bench, Key::Count, "2");
        answer(&mut bench, Key::Pitch, "4\"");
        answer(&mut bench, Key::Rows, "2");
        answer(&mut bench, Key::RowPitch, "3\"");
        keys(&mut bench, place);
    }
    compare(&mut bench, &path, include_str!("../drawn/bolted-splice.joint.json"));
}
