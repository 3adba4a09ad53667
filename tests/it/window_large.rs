//! A joint so large that it is judged beside the window: what is told meanwhile, the newest state that counts, and Esc.

use iced::keyboard::key::Named;
use shankline::drawing::Subject;
use shankline::findings::{Findings, judge};
use shankline::joint::{Fastener, Joint, Placement};
use shankline::trace::trace;
use shankline::unit::Vec3;
use shankline::window::look::Command;
use shankline::window::{App, Message, stock, top};

use super::window_bench::{self, Bench};
use super::window_clicks::shown;
use super::window_session::{ctrl, named};

const SIZE: iced::Size = iced::Size::new(1280.0, 800.0);

/// The two boards with 1,200 nails in rows of sixty.
fn joint() -> Joint {
    let mut joint = window_bench::joint();
    let nail = joint.fasteners[1].clone();
    let one = |n: u32| Fastener {
        id: format!("f{n}"),
        place: Placement::Free {
            head: Vec3::new(0.0, 10.0 + 8.0 * f64::from(n / 60), 10.0 + 19.0 * f64::from(n % 60)),
            toward: Vec3::X,
        },
        ..nail.clone()
    };
    joint.fasteners = (0..1_200).map(one).collect();
    joint
}

/// What is found of a joint, remedies aside.
fn found(joint: &Joint) -> Findings {
    judge(joint, &trace(joint))
}

fn told(app: &App) -> Findings {
    let mut told = (*app.document().shown().findings).clone();
    told.list.iter_mut().for_each(|it| it.remedy = None);
    told
}

/// The window, and the task that judges.
fn opened() -> (Bench, iced::Task<Message>) {
    let mut bench = Bench { app: App::new(window_bench::stock(), joint(), None), clipboard: None };
    let task = bench.app.update(Message::Canvas(shankline::window::canvas::Message::Resized(800.0, 500.0)));
    (bench, task)
}

#[test]
fn a_very_large_joint_is_judged_beside_the_window_and_it_says_so() {
    let (mut bench, task) = opened();
    let chain = bench.app.document().shown();
    assert!(chain.unjudged && chain.findings.list.is_empty());
    assert_eq!(*chain.trace, trace(&joint()), "the picture is of the joint all the same");
    assert!(bench.app.hint().starts_with("Judging: "), "{}", bench.app.hint());
    for words in [
        "being judged",
        "Judging\u{2026} What was found before was of another joint, and is not told any longer.",
    ] {
        assert!(shown(&bench.app, SIZE).find(words).is_ok(), "{words}");
    }
    bench.go_on(task);
    assert!(!bench.app.document().shown().unjudged);
    assert_eq!(told(&bench.app), found(&joint()));
    assert!(shown(&bench.app, SIZE).find("being judged").is_err());
}

#[test]
fn of_two_states_the_newest_is_judged() {
    let (mut bench, first) = opened();
    drop(bench.app.update(Message::Stock(stock::Message::ThingPressed(Subject::Fastener("f7".into())))));
    let second = bench.app.update(named(Named::Delete));
    assert_eq!(bench.app.document().joint().fasteners.len(), 1_199);
    bench.go_on(first);
    let is_told = !bench.app.document().shown().unjudged;
    assert!(!is_told, "what was found of the state before is not told of this one");
    bench.go_on(second);
    assert_eq!(told(&bench.app), found(bench.app.document().joint()));
    bench.send(ctrl("z"));
    assert_eq!(told(&bench.app), found(&joint()), "after undo it is judged again");
}

#[test]
fn esc_stops_judging_and_a_button_begins_again() {
    let (mut bench, task) = opened();
    drop(bench.app.update(named(Named::Escape)));
    assert!(bench.app.said().is_some_and(|it| it.starts_with("Stopped judging")), "{:?}", bench.app.said());
    bench.go_on(task);
    assert!(bench.app.document().shown().unjudged, "what was stopped is not told");
    assert!(shown(&bench.app, SIZE).find("not judged").is_ok());
    let messages: Vec<Message> = {
        let mut ui = shown(&bench.app, SIZE);
        let _ = ui.click("Judge").expect("the button is there");
        ui.into_messages().collect()
    };
    messages.into_iter().for_each(|it| bench.send(it));
    assert_eq!(told(&bench.app), found(&joint()));
    // By the list of actions too, where nothing is to be done.
    bench.send(Message::Top(top::Message::Pressed(Command::Judge)));
    assert_eq!(told(&bench.app), found(&joint()));
}

#[test]
fn while_something_is_dragged_nothing_is_told_and_then_what_is_so() {
    let (mut bench, task) = opened();
    bench.go_on(task);
    let before = told(&bench.app);
    bench.press((60.0, 183.0));
    bench.move_to((60.0, 205.0));
    assert!(bench.app.document().in_hand());
    assert!(bench.app.document().shown().unjudged);
    assert!(shown(&bench.app, SIZE).find("judged when let go").is_ok());
    bench.release((60.0, 205.0));
    assert!(!bench.app.document().in_hand());
    assert_eq!(told(&bench.app), found(bench.app.document().joint()));
    assert_ne!(told(&bench.app), before);
}

#[test]
fn a_long_list_is_shown_in_parts() {
    let (mut bench, task) = opened();
    bench.go_on(task);
    let all = bench.app.document().shown().findings.list.len();
    assert!(500 < all, "{all}");
    let tall = iced::Size::new(1280.0, 800.0);
    let mut ui = shown(&bench.app, tall);
    assert!(ui.find(format!("{} more", all - 120).as_str()).is_ok(), "{all}");
    assert!(ui.find("No. 1 to 120 of 1200").is_ok());
    drop(ui);
    // To choose one shows the part that it stands in.
    bench.send(Message::Stock(stock::Message::ThingPressed(Subject::Fastener("f500".into()))));
    let mut ui = shown(&bench.app, tall);
    assert!(ui.find("No. 481 to 600 of 1200").is_ok());
    assert!(ui.find("480 before these").is_ok());
}

#[test]
fn the_sheet_of_a_very_large_joint_waits_for_the_findings_and_is_drawn_beside_the_window() {
    let (mut bench, task) = opened();
    drop(bench.app.update(ctrl("p")));
    assert!(
        bench.app.sheet().is_open() && bench.app.sheet().pages().is_empty(),
        "no page says that nothing was found"
    );
    assert!(shown(&bench.app, SIZE).find("The joint is being judged").is_ok());
    // The nails are fewer by far than in a joint that takes minutes to draw, and drawn all the same.
    bench.go_on(task);
    assert!(!bench.app.sheet().pages().is_empty(), "{}", bench.app.hint());
    let first = &bench.app.sheet().pages()[0];
    assert!(first.items.len() > 100);
    assert!(
        shown(&bench.app, SIZE)
            .find(format!("Sheet 1 of {}", bench.app.sheet().pages().len()).as_str())
            .is_ok()
    );
}
