//! Drawing from an empty window: members by pointer and by numbers, cuts, rows of fasteners, measures.

use std::sync::Arc;

use iced::keyboard::key::Named;
use kurbo::Point;
use shankline::drawing::Subject;
use shankline::joint::{Grain, Interval, Joint, Outline, file};
use shankline::stock::Stock;
use shankline::window::canvas::{self, gesture::Gesture};
use shankline::window::making::{self, Key, Kind, Lies, Measure, Settings, Shape};
use shankline::window::{App, Message, stock};

use super::window_bench::Bench;
use super::window_session::{ctrl, letter, named};

pub(crate) fn empty() -> Bench {
    Bench::with(App::new(Arc::new(Stock::built_in()), Joint::default(), None))
}

pub(crate) fn make(bench: &mut Bench, kind: Kind) {
    bench.send(Message::Stock(stock::Message::KindPressed(kind)));
}

/// Plays text as keys: a tab and a line end are the keys of that name.
pub(crate) fn keys(bench: &mut Bench, text: &str) {
    for it in text.chars() {
        match it {
            '\t' => bench.send(named(Named::Tab)),
            '\n' => bench.send(named(Named::Enter)),
            ' ' => {
                bench.send(named(Named::Space));
                bench.send(super::window_session::let_go(Named::Space));
            }
            it => bench.send(letter(&it.to_string())),
        }
    }
}

/// Answers a field of what is made.
pub(crate) fn answer(bench: &mut Bench, key: Key, text: &str) {
    bench.send(Message::Making(making::Message::Typed(key, text.into())));
    bench.send(Message::Making(making::Message::Entered));
}

pub(crate) fn set(bench: &mut Bench, change: impl FnOnce(&mut Settings)) {
    let mut settings = bench.app.making().expect("something is being made").settings.clone();
    change(&mut settings);
    bench.send(Message::Making(making::Message::Set(settings)));
}

fn stock_size(nominal: &str) -> Kind {
    let found = Stock::built_in().sections.into_iter().find(|it| it.nominal == nominal);
    Kind::Stock(Arc::new(found.expect("stock has it")))
}

/// Whatever is drawn can be saved and opened again.
fn opens_again(bench: &Bench) {
    let joint = bench.app.document().joint();
    let read = file::read(&file::write(joint), &Stock::built_in());
    assert_eq!(read.as_ref(), Ok(joint));
}

#[test]
fn a_rectangle_is_dragged_seen_live_and_undone() {
    let mut bench = empty();
    make(&mut bench, Kind::Member(Shape::Box));
    bench.press((0.2, 0.1));
    bench.move_to((38.0, 184.5));
    assert_eq!(bench.app.document().shown().joint.members.len(), 1, "it is shown while it is drawn");
    assert!(bench.app.document().joint().members.is_empty());
    bench.release((38.0, 184.5));
    let joint = bench.app.document().joint();
    // The snap is an eighth of an inch: 38 mm is nearest to 12/8", 184.5 mm to 58/8".
    let expected = Outline::Rectangle { corner: Point::ORIGIN, size_mm: (38.1, 184.15), turn_deg: 0.0 };
    assert_eq!(joint.members[0].outline, expected);
    assert_eq!(bench.app.chosen(), Some(&Subject::Member(joint.members[0].id.clone())));
    assert!(bench.app.making().is_none(), "one is made at a time");
    opens_again(&bench);
    bench.send(ctrl("z"));
    assert_eq!(bench.app.document().joint(), &Joint::default());
}

#[test]
fn a_stock_size_is_placed_by_numbers_alone() {
    let mut bench = empty();
    make(&mut bench, stock_size("2x10"));
    keys(&mut bench, "1 1/2\"\t-4\"\n");
    let joint = bench.app.document().joint();
    // A 2x10 is 1 1/2 by 9 1/4 inches dressed (PS 20).
    let expected =
        Outline::Rectangle { corner: Point::new(38.1, -101.6), size_mm: (38.1, 234.95), turn_deg: 0.0 };
    assert_eq!(joint.members[0].outline, expected);
    assert_eq!(joint.members[0].id, "2x10");
    assert_eq!(joint.members[0].grain, Grain::AlongDepth);
    keys(&mut bench, "g0\t0\n");
    let joint = bench.app.document().joint();
    assert_eq!((joint.members.len(), joint.members[1].id.as_str()), (2, "2x10-2"));
    opens_again(&bench);
}

#[test]
fn what_is_typed_is_told_without_a_pointer_and_what_it_made_is_in_sight() {
    let mut bench = empty();
    let before = bench.app.canvas().camera.scale;
    make(&mut bench, Kind::Member(Shape::Box));
    keys(&mut bench, "0\t0\n");
    keys(&mut bench, "4'\t8");
    let typed = bench.app.canvas().told().concat();
    assert_eq!(typed, "width 4' = 4'-0\" (1219.2 mm), height 8_ = 8\" (203.2 mm)");
    keys(&mut bench, "'\n");
    let camera = bench.app.canvas().camera;
    assert!(camera.scale < before, "it is made smaller to show all");
    let (width, height) = camera.viewport_px;
    let seen = kurbo::Rect::new(0.0, 0.0, width, height);
    for corner in [Point::ORIGIN, Point::new(1219.2, 2438.4)] {
        assert!(seen.contains(camera.on_screen(corner)), "{corner} is not seen");
    }
    // Where the user has chosen what to see, it stays.
    bench.send(Message::Canvas(canvas::Message::Wheel(Point::new(400.0, 250.0), 1.0, 0.0)));
    let chosen = bench.app.canvas().camera;
    make(&mut bench, Kind::Member(Shape::Box));
    keys(&mut bench, "100'\t0\n1'\t1'\n");
    assert_eq!(bench.app.canvas().camera, chosen);
}

#[test]
fn a_stock_size_lies_and_turns_and_is_held_as_wanted() {
    let mut bench = empty();
    make(&mut bench, stock_size("2x8"));
    set(&mut bench, |it| it.lies = Lies::Face);
    answer(&mut bench, Key::Length, "3'");
    answer(&mut bench, Key::Far, "1\"");
    answer(&mut bench, Key::Name, "Joist");
    keys(&mut bench, "c"); // held by its lower right corner
    bench.press((0.0, 0.0));
    let joist = bench.app.document().joint().members[0].clone();
    let expected =
        Outline::Rectangle { corner: Point::new(-914.4, 0.0), size_mm: (914.4, 184.15), turn_deg: 0.0 };
    assert_eq!(joist.outline, expected);
    assert_eq!(joist.grain, Grain::InPlane(0.0));
    assert_eq!((joist.id.as_str(), joist.shown_name()), ("joist", "Joist"));
    assert!(
        (joist.depth.from - 25.4).abs() < 1e-9 && (joist.depth.to - 63.5).abs() < 1e-9,
        "{:?}",
        joist.depth
    );
    keys(&mut bench, "g,");
    keys(&mut bench, "0\t0\n");
    let turned = bench.app.document().joint().members[1].clone();
    let expected =
        Outline::Rectangle { corner: Point::new(-184.15, 0.0), size_mm: (184.15, 914.4), turn_deg: 0.0 };
    assert_eq!((turned.outline, turned.grain), (expected, Grain::InPlane(90.0)));
}

#[test]
fn polygons_arcs_rounds_and_i_sections_are_drawn() {
    let mut bench = empty();
    make(&mut bench, Kind::Member(Shape::Polygon));
    keys(&mut bench, "0\t0\n4\"\t0\n3\"\t90\n\n");
    let triangle = vec![Point::new(0.0, 0.0), Point::new(101.6, 0.0), Point::new(101.6, 76.2)];
    assert_eq!(bench.app.document().joint().members[0].outline, Outline::Polygon(triangle));
    make(&mut bench, Kind::Member(Shape::Path));
    keys(&mut bench, "10\"\t0\n2\"\t0\na1\"\t90\n");
    keys(&mut bench, "\t\t10\"\t2\"\n");
    keys(&mut bench, "\n");
    let Outline::Path(data) = &bench.app.document().joint().members[1].outline else {
        panic!("{:?}", bench.app.document().joint().members[1].outline)
    };
    assert!(data.contains(" A "), "{data}");
    make(&mut bench, Kind::Member(Shape::Round));
    keys(&mut bench, "20\"\t0\n8\"\n");
    let round = Outline::Round { centre: Point::new(508.0, 0.0), diameter_mm: 203.2 };
    assert_eq!(bench.app.document().joint().members[2].outline, round);
    make(&mut bench, Kind::Member(Shape::ISection));
    keys(&mut bench, "30\"\t0\n2\"\t9 1/2\"\n");
    let i_section = &bench.app.document().joint().members[3].outline;
    assert!(
        matches!(i_section, Outline::ISection { size_mm, .. } if *size_mm == (50.8, 241.3)),
        "{i_section:?}"
    );
    opens_again(&bench);
}

#[test]
fn a_notch_and_a_hole_are_cut_and_a_cut_beside_the_wood_is_refused() {
    let mut bench = empty();
    make(&mut bench, Kind::Member(Shape::Box));
    keys(&mut bench, "0\t0\n6\"\t6\"\n");
    make(&mut bench, Kind::Cut(Shape::Box));
    bench.drag((50.8, 101.6), (190.5, 190.5));
    make(&mut bench, Kind::Cut(Shape::Round));
    keys(&mut bench, "1\"\t1\"\n1/2\"\n");
    let joint = bench.app.document().joint();
    assert_eq!(joint.members[0].cutouts.len(), 2);
    assert_eq!(
        joint.members[0].cutouts[1],
        Outline::Round { centre: Point::new(25.4, 25.4), diameter_mm: 12.7 }
    );
    opens_again(&bench);
    let before = joint.clone();
    make(&mut bench, Kind::Cut(Shape::Box));
    bench.drag((500.0, 0.0), (560.0, 60.0));
    assert_eq!(bench.app.document().joint(), &before);
    assert!(bench.app.said().is_some_and(|it| it.contains("outside")), "{:?}", bench.app.said());
    bench.send(named(Named::Escape));
    assert!(bench.app.making().is_none());
    for _ in 0..3 {
        bench.send(ctrl("z"));
    }
    assert_eq!(bench.app.document().joint(), &Joint::default());
}

#[test]
fn rows_and_grids_are_driven_as_one_step() {
    let mut bench = empty();
    make(&mut bench, Kind::Member(Shape::Box));
    keys(&mut bench, "0\t0\n3\"\t12\"\n");
    let nail = bench.app.stock().fasteners["nail/common/16d"].clone();
    make(&mut bench, Kind::Row(nail));
    answer(&mut bench, Key::Count, "3");
    answer(&mut bench, Key::Pitch, "2\"");
    answer(&mut bench, Key::Rows, "2");
    answer(&mut bench, Key::RowPitch, "4\"");
    bench.drag((0.2, 50.8), (60.0, 50.8));
    let joint = bench.app.document().joint();
    assert_eq!(joint.fasteners.len(), 6);
    let heads: Vec<_> = (0..6).map(|n| bench.free(n).0).collect();
    // The member is 24" deep, so the rows stand 2" to each side of 12".
    for (n, head) in heads.iter().enumerate() {
        let expected =
            (0.0, 50.8 * f64::from(u32::try_from(n % 3).unwrap() + 1), if n < 3 { 254.0 } else { 355.6 });
        let away = (head.x - expected.0).abs() + (head.y - expected.1).abs() + (head.z - expected.2).abs();
        assert!(away < 1e-6, "{n}: {head:?} {expected:?}");
    }
    assert_eq!(bench.app.all_chosen().count(), 6);
    opens_again(&bench);
    bench.send(ctrl("z"));
    assert!(bench.app.document().joint().fasteners.is_empty());
}

#[test]
fn distances_and_angles_are_told_and_change_nothing() {
    let mut bench = empty();
    make(&mut bench, Kind::Measure(Measure::Distance));
    keys(&mut bench, "0\t0\n\t\t3\"\t4\"\n");
    assert!(bench.app.said().is_some_and(|it| it.starts_with("5\" (127 mm)")), "{:?}", bench.app.said());
    make(&mut bench, Kind::Measure(Measure::Angle));
    keys(&mut bench, "4\"\t0\n\t\t0\t0\n\t\t0\t2\"\n");
    assert!(bench.app.said().is_some_and(|it| it.starts_with("90\u{b0}")), "{:?}", bench.app.said());
    bench.send(named(Named::Escape));
    assert_eq!(bench.app.document().joint(), &Joint::default());
    assert!(!bench.app.document().journal.edited());
}

#[test]
fn settings_are_shown_at_once_and_bad_numbers_make_nothing() {
    let mut bench = empty();
    make(&mut bench, Kind::Member(Shape::Box));
    bench.press((0.0, 0.0));
    bench.release((0.0, 0.0));
    bench.move_to((50.0, 50.0));
    answer(&mut bench, Key::Near, "10 mm");
    assert_eq!(bench.app.document().shown().joint.members[0].depth, Interval { from: 0.0, to: 10.0 });
    answer(&mut bench, Key::Near, "a lot");
    assert!(bench.app.document().shown().joint.members.is_empty(), "what cannot be read makes nothing");
    bench.press((50.0, 50.0));
    assert!(bench.app.document().joint().members.is_empty());
    assert!(matches!(bench.app.canvas().gesture, Gesture::Drawing(_)), "and can be mended");
    answer(&mut bench, Key::Near, "20 mm");
    bench.drag((0.0, 0.0), (50.0, 50.0));
    assert_eq!(bench.app.document().joint().members.len(), 1);
}

#[test]
fn escape_begins_anew_and_then_gives_up() {
    let mut bench = empty();
    make(&mut bench, Kind::Member(Shape::Polygon));
    keys(&mut bench, "0\t0\n1\"\t0\n");
    bench.send(named(Named::Escape));
    assert!(bench.app.making().is_some());
    bench.send(named(Named::Escape));
    assert!(bench.app.making().is_none());
    assert_eq!(bench.app.canvas().gesture, Gesture::Idle);
    assert!(!bench.app.document().journal.edited());
}

#[test]
fn what_is_met_is_named_and_a_dimension_holds_on_to_it() {
    let mut bench = empty();
    make(&mut bench, Kind::Member(Shape::Box));
    keys(&mut bench, "0\t0\n6\"\t12\"\n");
    make(&mut bench, Kind::Dimension);
    // Half a millimetre beside each corner: the corners are met.
    for place in [(0.5, -0.4), (152.0, 0.3)] {
        bench.move_to(place);
        bench.press(place);
        bench.release(place);
    }
    bench.move_to((80.0, -40.0));
    bench.press((80.0, -40.0));
    let joint = bench.app.document().joint();
    let shankline::joint::Anchor::Edge { of, .. } = &joint.dimensions[0].from else {
        panic!("{:?}", joint.dimensions)
    };
    assert_eq!(of, "member");
    let measured = |bench: &Bench| {
        let shown = bench.app.document().shown();
        shankline::trace::dimension(&shown.joint, &shown.trace, &shown.joint.dimensions[0]).map(|it| it.mm)
    };
    assert!(measured(&bench).is_some_and(|it| (it - 152.4).abs() < 1e-9), "{:?}", measured(&bench));
    opens_again(&bench);
    // The member is made wider: the dimension follows.
    let field = shankline::window::selected::field::Field::Member(
        "member".into(),
        shankline::window::selected::field::MemberField::Width,
    );
    bench.send(Message::Selected(shankline::window::selected::Message::Typed(field.clone(), "8\"".into())));
    bench.send(Message::Selected(shankline::window::selected::Message::Entered(field)));
    assert!(measured(&bench).is_some_and(|it| (it - 203.2).abs() < 1e-9), "{:?}", measured(&bench));
}
