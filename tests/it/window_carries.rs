//! What is carried, in the window: values, working, choices, loads, conditions and ratings. No display is needed.

use iced::Size;
use iced::keyboard::key::Named;
use shankline::drawing::{Inputs, Subject};
use shankline::findings::carry::{Detail, carry, written};
use shankline::joint::{Duration, Joint, Load, StandardId, file};
use shankline::stock::Stock;
use shankline::trace::trace;
use shankline::unit::Vec3;
use shankline::unit::force::NEWTONS_PER_POUND;
use shankline::window::carries::{self, ChoiceMessage, Panel, Variant};
use shankline::window::look::Command;
use shankline::window::selected::field::{AskedField, Field};
use shankline::window::{App, Message, canvas, selected, sheet, top};
use std::sync::Arc;

use super::window_bench::Bench;
use super::window_clicks::shown;
use super::window_session::named;

/// A window on a sample, with the stock that the program has.
fn window(sample: &str) -> Bench {
    let stock = Arc::new(Stock::built_in());
    let path = format!("{}/sample-projects/{sample}.joint.json", env!("CARGO_MANIFEST_DIR"));
    let text = std::fs::read_to_string(&path).expect("the sample is there");
    let joint = file::read(&text, &stock).expect("the sample is sound");
    let mut bench = Bench::with(App::new(stock, joint, None));
    bench.send(Message::Canvas(canvas::Message::Resized(800.0, 500.0)));
    bench
}

fn choose(bench: &mut Bench, id: &str) {
    let subject = Subject::Fastener(id.to_owned());
    bench.send(Message::Selected(selected::Message::ThingPressed(subject)));
}

fn ask(bench: &mut Bench, command: Command) {
    bench.send(Message::Selected(selected::Message::Pressed(command)));
}

fn choice(bench: &mut Bench, it: ChoiceMessage) {
    bench.send(Message::Carries(carries::Message::Choices(it)));
}

fn type_in(bench: &mut Bench, field: AskedField, text: &str) {
    let field = Field::Asked(field);
    bench.send(Message::Selected(selected::Message::Typed(field.clone(), text.into())));
    bench.send(Message::Selected(selected::Message::Entered(field)));
}

fn joint(bench: &Bench) -> &Joint {
    bench.app.document().joint()
}

fn see(bench: &Bench, words: &str) {
    let mut ui = shown(&bench.app, Size::new(1280.0, 4000.0));
    assert!(ui.find(words).is_ok(), "{words:?} is not on the window");
}

#[test]
fn nothing_is_worked_out_until_it_is_shown() {
    let mut bench = window("ferry-yard-splice");
    let id = joint(&bench).fasteners[0].id.clone();
    choose(&mut bench, &id);
    assert!(bench.app.carries().told().carrying.fasteners.is_empty());
    bench.send(named(Named::F3));
    assert_eq!(bench.app.carries().panel(), Some(Panel::Working));
    assert_eq!(bench.app.carries().told().carrying.fasteners.len(), 1, "the chosen one alone");
    bench.send(named(Named::F3));
    assert_eq!(bench.app.carries().panel(), None);
    assert!(bench.app.carries().told().rows.is_empty());
}

#[test]
fn the_values_shown_are_those_of_the_chain_in_the_unit_of_the_joint() {
    let mut bench = window("ferry-yard-splice");
    let id = joint(&bench).fasteners[7].id.clone();
    let whole = carry(joint(&bench), &trace(joint(&bench)), Detail::Working);
    choose(&mut bench, &id);
    ask(&mut bench, Command::TurnCarries);
    bench.send(named(Named::F3));
    let told = bench.app.carries().told();
    assert_eq!(told.carrying.fasteners[0], whole.fasteners[7], "one by itself is what it is among all");
    assert_eq!(told.carrying.cases, whole.cases);
    let rows = written::rows(&whole.fasteners[7], joint(&bench));
    assert_eq!(told.rows, rows);
    // NDS 2018 Table 12F: 1,050 lb of a 1/2" bolt through 1 1/2" of Douglas Fir-Larch in double shear along the
    // grain; one of the two planes has half.
    see(&bench, "525 lb");
    see(&bench, "Im");
    let caution = whole.fasteners[7].cautions[0].clone();
    see(&bench, &caution);
    see(&bench, "= 45000 psi");
}

#[test]
fn a_load_is_given_sized_turned_and_taken_back_step_by_step() {
    let mut bench = window("ferry-yard-splice");
    ask(&mut bench, Command::TurnCarries);
    let before = joint(&bench).loads.clone();
    let n = before.len();
    let messages: Vec<Message> = {
        let mut ui = shown(&bench.app, Size::new(1280.0, 4000.0));
        ui.click("Add a load").expect("it can be pressed");
        ui.into_messages().collect()
    };
    for it in messages {
        bench.send(it);
    }
    assert_eq!(joint(&bench).loads.len(), n + 1);
    type_in(&mut bench, AskedField::Size(n), "420 lb");
    type_in(&mut bench, AskedField::Direction(n), "-90");
    let made = Load {
        newtons: Some(420.0 * NEWTONS_PER_POUND),
        toward: -Vec3::Y,
        duration: Duration::TenYears,
        on: joint(&bench).loads[n].on.clone(),
    };
    let load = &joint(&bench).loads[n];
    assert!((load.toward + Vec3::Y).length() < 1e-12, "{load:?}");
    assert_eq!(Load { toward: -Vec3::Y, ..load.clone() }, made);
    type_in(&mut bench, AskedField::Size(n), "heavy");
    assert_eq!(joint(&bench).loads[n].newtons, made.newtons, "what is no force leaves the old one");
    bench.send(named(Named::Escape));
    type_in(&mut bench, AskedField::Size(n), "");
    assert_eq!(joint(&bench).loads[n].newtons, None, "an empty field is a load of unknown size");
    while bench.app.document().journal.undo_name().is_some() {
        ask(&mut bench, Command::Undo);
    }
    assert_eq!(joint(&bench).loads, before);
}

#[test]
fn a_rating_is_typed_judged_and_taken_away() {
    let mut bench = window("osier-lane-strap");
    let id = joint(&bench).connectors[0].id.clone();
    bench.send(Message::Selected(selected::Message::ThingPressed(Subject::Connector(id.clone()))));
    ask(&mut bench, Command::TurnCarries);
    type_in(&mut bench, AskedField::Rating(id.clone()), "4.5 kN");
    type_in(&mut bench, AskedField::RatingDirection(id.clone()), "0");
    let rating = joint(&bench).connectors[0].rating.clone().expect("it is typed");
    assert_eq!(rating.newtons, 4500.0);
    assert!((rating.toward - Vec3::X).length() < 1e-12);
    see(&bench, "holds for what is drawn");
    // A nail fewer in a hole that must be filled.
    let at = joint(&bench).fasteners[0].id.clone();
    choose(&mut bench, &at);
    ask(&mut bench, Command::Delete);
    bench.send(Message::Selected(selected::Message::ThingPressed(Subject::Connector(id.clone()))));
    see(&bench, "does not hold as drawn");
    see(&bench, "An indication, and no rating: ask the maker or a licensed designer.");
    type_in(&mut bench, AskedField::Rating(id), "");
    assert_eq!(joint(&bench).connectors[0].rating, None);
}

#[test]
fn choices_stand_beside_the_joint_and_one_of_them_can_be_taken() {
    let mut bench = window("heron-lane-ledger");
    let id = joint(&bench).fasteners[0].id.clone();
    choose(&mut bench, &id);
    bench.send(named(Named::F4));
    let names = |bench: &Bench| -> Vec<String> {
        let table = bench.app.carries().told().table.as_ref().expect("it is shown");
        table.columns.iter().map(|it| it.name.clone()).collect()
    };
    // A lag screw 3/8" x 4" through an inch of foam: the next longer one, and the foam taken out.
    assert_eq!(names(&bench), ["as drawn", "lag screw 3/8\" x 4 1/2\"", "gap closed"]);
    choice(&mut bench, ChoiceMessage::Removed(0));
    choice(&mut bench, ChoiceMessage::GapTyped("1/2\"".into()));
    choice(&mut bench, ChoiceMessage::GapEntered);
    choice(&mut bench, ChoiceMessage::Added(Variant::Standard(StandardId::En199511)));
    choice(&mut bench, ChoiceMessage::Typed("rim lag-screw/0.375x5".into()));
    choice(&mut bench, ChoiceMessage::Entered);
    assert_eq!(names(&bench), ["as drawn", "gap closed", "gap 1/2\"", "by EN 1995-1-1"]);
    see(&bench, "`rim lag-screw/0.375x5`: there is no fastener rim");
    let table = bench.app.carries().told().table.clone().expect("it is shown");
    let of = |what: &str| {
        let row = table.rows.iter().find(|it| it.what == what).expect("the row is there");
        row.cells.iter().map(|it| it.says.clone()).collect::<Vec<_>>()
    };
    assert_eq!(of("Gap"), ["1\"", "none", "1/2\"", "1\""]);
    assert_eq!(of("By"), ["NDS 2018", "NDS 2018", "NDS 2018", "EN 1995-1-1"]);
    assert!(table.rows.iter().all(|it| it.cells.len() == 4));
    let before = joint(&bench).clone();
    choice(&mut bench, ChoiceMessage::KeepPressed(0));
    assert!(joint(&bench).members.iter().all(|it| it.id != "foam"), "the gap is closed");
    assert_eq!(names(&bench), ["as drawn", "gap 1/2\"", "by EN 1995-1-1"]);
    ask(&mut bench, Command::Undo);
    assert_eq!(*joint(&bench), before, "one step takes it back");
}

#[test]
fn values_and_working_follow_a_drag_while_it_lasts() {
    let mut bench = window("heron-lane-ledger");
    let id = joint(&bench).fasteners[1].id.clone();
    choose(&mut bench, &id);
    bench.send(named(Named::F3));
    let before = bench.app.carries().told().rows.clone();
    let (head, _) = bench.free(1);
    bench.press((head.x, head.y));
    // To the left by half an inch: less of it is in the rim, and the working says how much.
    bench.move_to((head.x - 10.0, head.y));
    bench.move_to((head.x - 14.0, head.y));
    assert_ne!(bench.app.carries().told().rows, before, "it is worked out for what is shown");
    bench.send(named(Named::Escape));
    assert_eq!(bench.app.carries().told().rows, before);
}

#[test]
fn escape_makes_a_large_panel_small_and_closes_a_small_one() {
    let mut bench = window("ferry-yard-splice");
    bench.send(named(Named::F3));
    bench.send(Message::Carries(carries::Message::LargePressed));
    assert!(bench.app.carries().is_large());
    see(&bench, "Below the drawing");
    bench.send(named(Named::Escape));
    assert!(!bench.app.carries().is_large());
    assert_eq!(bench.app.carries().panel(), Some(Panel::Working));
    bench.send(named(Named::Escape));
    assert_eq!(bench.app.carries().panel(), None);
}

#[test]
fn the_working_follows_the_pages_of_the_sheet_where_it_is_wanted() {
    let mut bench = window("ferry-yard-splice");
    bench.send(Message::Top(top::Message::Pressed(Command::Sheet)));
    let alone = bench.app.sheet().pages().len();
    bench.send(Message::Sheet(sheet::Message::WorkingPressed));
    let inputs = bench.app.sheet().pages().to_vec();
    let joint = joint(&bench);
    let trace = trace(joint);
    let findings = shankline::findings::judge(joint, &trace);
    let appendix = shankline::drawing::appendix(&Inputs { joint, trace: &trace, findings: &findings });
    assert!(!appendix.is_empty());
    assert_eq!(inputs[alone..], appendix, "what follows is the working, whole");
    bench.send(Message::Sheet(sheet::Message::WorkingPressed));
    assert_eq!(bench.app.sheet().pages().len(), alone);
}

/// 14.18 mm of the nail stand out: a measure, rounded down as its finding has it.
#[test]
fn what_stands_out_is_told_as_the_finding_tells_it() {
    let mut bench = window("kiln-house-stud");
    choose(&mut bench, "low");
    see(&bench, "14.1\u{a0}mm");
    let mut ui = shown(&bench.app, Size::new(1280.0, 4000.0));
    assert!(ui.find("14.2\u{a0}mm").is_err());
}
