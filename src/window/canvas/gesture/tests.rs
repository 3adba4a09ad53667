//! The gesture as a table: events in, edit out.

#![allow(clippy::wildcard_enum_match_arm, reason = "any other edit is shown as it is")]

use super::*;
use crate::joint::{Finish, Seat};
use crate::stock::{FastenerKind, FastenerSpec};

fn nail(place: Placement) -> Arc<Fastener> {
    let spec = FastenerSpec {
        id: "nail/common/16d".into(),
        label: "16d common nail".into(),
        kind: FastenerKind::Nail,
        diameter_mm: 4.11,
        root_mm: None,
        length_mm: 88.9,
        head_mm: 8.74,
        head_height_mm: 0.0,
        thread_mm: None,
        point_mm: 8.0,
        bending_yield_mpa: None,
        tensile_mpa: None,
        nut: None,
        source: "a test".into(),
    };
    Arc::new(Fastener {
        id: "n1".into(),
        spec: Arc::new(spec),
        place,
        seat: Seat::Flush,
        finish: Finish::Bright,
        lead_hole: None,
        head_washer: None,
        nut_washer: None,
        existing: false,
    })
}

fn held(grip: Grip) -> Held {
    let (head, toward) = (Vec3::new(10.0, 20.0, 600.0), Vec3::X);
    Held {
        at: 3,
        view: From::Front,
        fastener: nail(Placement::Free { head, toward }),
        head,
        toward,
        grip,
        square: None,
    }
}

fn in_hole(grip: Grip) -> Held {
    let place = Placement::Fills { connector: "strap".into(), hole: "h1".into(), angle_deg: None };
    let (head, toward) = (Vec3::new(10.0, 20.0, 600.0), Vec3::X);
    Held { at: 3, view: From::Front, fastener: nail(place), head, toward, grip, square: Some(Vec3::X) }
}

fn ground() -> Ground {
    Ground {
        step_mm: 1.0,
        step_deg: 1.0,
        slop_mm: 2.0,
        catch_mm: 0.0,
        faces: Vec::new(),
        met: None,
        keep: false,
        unit: LengthUnit::Millimetre,
    }
}

/// Plays the events from a press at the head and tells in words what came of it.
fn play(held: Held, ground: &Ground, events: &[Event]) -> String {
    let mut gesture = Gesture::Pressed { held, from: Point::new(10.0, 20.0) };
    let mut outcome = Outcome::Nothing;
    for event in events {
        (gesture, outcome) = step(gesture, event, ground);
    }
    let says = |edit: &Edit| match edit {
        Edit::Fasteners(Change::Replace { at: 3, new }) => match &new.place {
            Placement::Free { head, toward } => format!(
                "head {:.3} {:.3} {:.0} toward {:.3} {:.3} {:.3}",
                head.x, head.y, head.z, toward.x, toward.y, toward.z
            ),
            Placement::Fills { angle_deg, .. } => format!("hole at {angle_deg:?}"),
        },
        other => format!("{other:?}"),
    };
    match &outcome {
        Outcome::Nothing => "nothing".into(),
        Outcome::Clicked => "clicked".into(),
        Outcome::Boxed(area, more) => format!("box {area:?} {more}"),
        Outcome::Dropped => "dropped".into(),
        Outcome::Preview(edit) => format!("preview {}", says(edit)),
        Outcome::Done(name, edit) => format!("{name}: {}", says(edit)),
    }
}

#[track_caller]
fn case(held: Held, ground: &Ground, events: &[Event], expected: &str) {
    assert_eq!(play(held, ground, events), expected);
}

fn to(x: f64, y: f64) -> Event {
    Event::Moved(Point::new(x, y))
}

fn up(x: f64, y: f64) -> Event {
    Event::Released(Point::new(x, y))
}

fn typed(text: &str) -> Vec<Event> {
    text.chars().map(Event::Typed).collect()
}

#[test]
fn a_small_movement_is_a_click() {
    case(held(Grip::Head), &ground(), &[to(11.0, 21.0), up(11.0, 21.0)], "clicked");
    case(held(Grip::Head), &ground(), &[to(11.0, 21.0)], "nothing");
}

#[test]
fn a_head_is_moved_in_steps_from_where_it_was_and_keeps_its_depth() {
    let ground = ground();
    case(
        held(Grip::Head),
        &ground,
        &[to(15.4, 20.2)],
        "preview head 15.000 20.000 600 toward 1.000 0.000 0.000",
    );
    case(
        held(Grip::Head),
        &ground,
        &[to(15.4, 20.2), up(13.6, 26.6)],
        "Move: head 14.000 27.000 600 toward 1.000 0.000 0.000",
    );
    // A head that stands between two steps keeps its own: 3 steps to the right of 10.25 is 13.25.
    let mut off_step = held(Grip::Head);
    off_step.head.x = 10.25;
    case(off_step, &ground, &[up(13.1, 20.0)], "clicked");
    let mut off_step = held(Grip::Head);
    off_step.head.x = 10.25;
    case(
        off_step,
        &ground,
        &[to(13.1, 20.0), up(13.1, 20.0)],
        "Move: head 13.250 20.000 600 toward 1.000 0.000 0.000",
    );
    let free = Ground { step_mm: 0.0, ..ground };
    case(
        held(Grip::Head),
        &free,
        &[to(15.4, 20.2), up(15.4, 20.2)],
        "Move: head 15.400 20.200 600 toward 1.000 0.000 0.000",
    );
}

#[test]
fn a_drag_that_comes_back_or_is_cancelled_leaves_nothing() {
    case(held(Grip::Head), &ground(), &[to(30.0, 20.0), up(10.0, 20.0)], "dropped");
    case(held(Grip::Head), &ground(), &[to(30.0, 20.0), Event::Cancelled], "dropped");
    case(held(Grip::Head), &ground(), &[to(30.0, 20.0), Event::Cancelled, up(30.0, 20.0)], "nothing");
}

#[test]
fn shift_keeps_the_longer_axis_and_steps_of_fifteen_degrees() {
    let keep = Ground { keep: true, ..ground() };
    case(
        held(Grip::Head),
        &keep,
        &[to(15.4, 23.2), up(15.4, 23.2)],
        "Move: head 15.000 20.000 600 toward 1.000 0.000 0.000",
    );
    // 50 degrees are nearer to 45 than to 60.
    let (x, y) = (10.0 + 100.0 * 50_f64.to_radians().cos(), 20.0 + 100.0 * 50_f64.to_radians().sin());
    case(
        held(Grip::Point),
        &keep,
        &[to(x, y), up(x, y)],
        "Turn: head 10.000 20.000 600 toward 0.707 0.707 0.000",
    );
}

#[test]
fn a_point_turns_about_the_head_and_a_quarter_turn_is_exact() {
    case(
        held(Grip::Point),
        &ground(),
        &[to(10.2, 120.0), up(10.2, 120.0)],
        "Turn: head 10.000 20.000 600 toward 0.000 1.000 0.000",
    );
    assert_eq!(direction(90.0), Vec2::new(0.0, 1.0));
    assert!((direction(-180.0).x + 1.0).abs() < 1e-12);
    assert_eq!(direction(270.0), Vec2::new(0.0, -1.0));
}

#[test]
fn a_shank_that_is_pointed_nearly_square_to_its_face_is_square() {
    let tilted = direction(100.0);
    let faces = vec![
        Line::new(Point::new(10.0, 20.0) - tilted * 50.0, Point::new(10.0, 20.0) + tilted * 50.0),
        Line::new((200.0, 0.0), (200.0, 100.0)),
    ];
    let near = Ground { faces, ..ground() };
    // Square to a face at 100 degrees is 10 degrees.
    let at = |degrees: f64| Point::new(10.0, 20.0) + direction(degrees) * 100.0;
    let turn = |degrees: f64| [to(at(degrees).x, at(degrees).y), up(at(degrees).x, at(degrees).y)];
    let square = "Turn: head 10.000 20.000 600 toward 0.985 0.174 0.000";
    case(held(Grip::Point), &near, &turn(8.0), square);
    case(held(Grip::Point), &near, &turn(12.0), square);
    // Farther off it is a slope in whole degrees, and with free turns it is what it is.
    case(held(Grip::Point), &near, &turn(14.2), "Turn: head 10.000 20.000 600 toward 0.970 0.242 0.000");
    let free = Ground { step_deg: 0.0, ..near };
    case(held(Grip::Point), &free, &turn(8.5), "Turn: head 10.000 20.000 600 toward 0.989 0.148 0.000");
}

#[test]
fn the_share_in_depth_stays_and_one_seen_head_on_does_not_turn() {
    let mut slant = held(Grip::Point);
    slant.toward = Vec3::new(0.6, 0.0, 0.8);
    case(
        slant,
        &ground(),
        &[to(10.0, 120.0), up(10.0, 120.0)],
        "Turn: head 10.000 20.000 600 toward 0.000 0.600 0.800",
    );
    let mut head_on = held(Grip::Point);
    head_on.toward = Vec3::Z;
    let place = Placement::Free { head: head_on.head, toward: Vec3::Z };
    head_on.fastener = nail(place);
    case(head_on, &ground(), &[to(10.0, 120.0), up(10.0, 120.0)], "dropped");
}

#[test]
fn typed_numbers_fix_length_and_direction() {
    let mut events = vec![to(30.0, 20.0)];
    events.extend(typed("12.5"));
    case(
        held(Grip::Head),
        &ground(),
        &[events.clone(), vec![Event::Confirmed]].concat(),
        "Move: head 22.500 20.000 600 toward 1.000 0.000 0.000",
    );
    events.push(Event::OtherNumber);
    events.extend(typed("90"));
    case(
        held(Grip::Head),
        &ground(),
        &[events.clone(), vec![Event::Confirmed]].concat(),
        "Move: head 10.000 32.500 600 toward 1.000 0.000 0.000",
    );
    events.push(Event::Erased);
    case(
        held(Grip::Head),
        &ground(),
        &[events, vec![up(77.0, 3.0)]].concat(),
        "Move: head 22.346 21.955 600 toward 1.000 0.000 0.000", // 12.5 mm at 9 degrees
    );
    let turn = [vec![to(30.0, 25.0)], typed("180"), vec![Event::Confirmed]].concat();
    case(held(Grip::Point), &ground(), &turn, "Turn: head 10.000 20.000 600 toward -1.000 0.000 0.000");
    let inch = Ground { unit: LengthUnit::Inch, ..ground() };
    let half = [vec![to(30.0, 20.0)], typed("1 1/2"), vec![Event::Confirmed]].concat();
    case(held(Grip::Head), &inch, &half, "Move: head 48.100 20.000 600 toward 1.000 0.000 0.000");
}

#[test]
fn what_cannot_be_read_moves_nothing() {
    let half = [vec![to(30.0, 20.0)], typed("1/0")].concat();
    case(held(Grip::Head), &ground(), &half, "nothing");
    let done = [vec![to(30.0, 20.0)], typed("1/0"), vec![Event::Confirmed]].concat();
    case(held(Grip::Head), &ground(), &done, "dropped");
}

#[test]
fn a_face_catches_the_head_and_the_snap_goes_on_along_it() {
    let face = Line::new((38.1, -100.0), (38.1, 100.0));
    let ground = Ground { catch_mm: 3.0, faces: vec![face], ..ground() };
    case(
        held(Grip::Head),
        &ground,
        &[to(36.5, 23.3), up(36.5, 23.3)],
        "Move: head 38.100 23.000 600 toward 1.000 0.000 0.000",
    );
    case(
        held(Grip::Head),
        &ground,
        &[to(34.5, 23.3), up(34.5, 23.3)],
        "Move: head 35.000 23.000 600 toward 1.000 0.000 0.000", // 3.6 mm off: not caught
    );
}

#[test]
fn a_fastener_in_a_hole_turns_but_does_not_leave_it() {
    // By its shank or by its point: 100 to the right and 100 up is 45 degrees from square.
    for grip in [Grip::Shank, Grip::Point] {
        case(in_hole(grip), &ground(), &[to(110.0, 120.0), up(110.0, 120.0)], "Turn: hole at Some(45.0)");
    }
    case(in_hole(Grip::Head), &ground(), &[to(110.0, 120.0), up(110.0, 120.0)], "clicked");
    case(
        held(Grip::Shank),
        &ground(),
        &[to(20.0, 20.0)],
        "preview head 20.000 20.000 600 toward 1.000 0.000 0.000",
    );
}

#[test]
fn a_new_fastener_is_driven_the_way_of_the_drag() {
    let held = held(Grip::Point);
    let start = Gesture::Driving { held, to: Point::new(10.0, 20.0), typed: Typed::for_turn() };
    let (gesture, _) = step(start, &to(10.0, 90.0), &ground());
    let (gesture, outcome) = step(gesture, &up(10.0, 90.0), &ground());
    assert_eq!(gesture, Gesture::Idle);
    let Outcome::Done("Drive", Edit::Fasteners(Change::Insert { at: 3, new })) = outcome else {
        panic!("{outcome:?}")
    };
    let Placement::Free { head, toward } = new.place else { panic!("{new:?}") };
    assert_eq!((head, toward), (Vec3::new(10.0, 20.0, 600.0), Vec3::Y));
}
