//! What is placed in the views from the side and from above: dimensions, rectangles, stock.

use std::sync::Arc;

use iced::keyboard::key::Named;
use shankline::drawing::{self, Subject};
use shankline::joint::{Anchor, Grain, Interval, Joint, Look as From, Outline, file};
use shankline::stock::Stock;
use shankline::window::making::{Key, Kind, Lies, Shape};
use shankline::window::selected::field::{Field, MemberField};
use shankline::window::{App, Message, selected};

use super::window_bench::{self, Bench};
use super::window_drawing::{answer, keys, make, set};
use super::window_session::{ctrl, letter, named};

fn click(bench: &mut Bench, at: (f64, f64)) {
    bench.move_to(at);
    bench.press(at);
    bench.release(at);
}

fn told(bench: &Bench) -> f64 {
    let shown = bench.app.document().shown();
    let measured = shankline::trace::dimension(&shown.joint, &shown.trace, &shown.joint.dimensions[0]);
    measured.expect("it holds on to something").mm
}

fn figures(joint: &Joint) -> Vec<String> {
    let trace = shankline::trace::trace(joint);
    let findings = shankline::findings::judge(joint, &trace);
    let inputs = drawing::Inputs { joint, trace: &trace, findings: &findings };
    let pages = drawing::pages(&inputs);
    pages.into_iter().flat_map(|it| it.handles).map(|it| it.what).filter(|it| it.contains("placed")).collect()
}

/// In a view the boards are 1200 deep: from the side to the left, from above downward.
#[test]
fn a_dimension_of_depth_is_placed_chosen_dragged_and_taken_away() {
    for (view, key, far, near, beside, name) in [
        (From::Side, "2", (0.0, 0.0), (-1200.0, 0.0), (-300.0, -90.0), "side"),
        (From::Top, "3", (0.0, 0.0), (0.0, -1200.0), (-90.0, -300.0), "top"),
    ] {
        let mut bench = Bench::new(None);
        bench.send(letter(key));
        make(&mut bench, Kind::Dimension);
        click(&mut bench, (far.0 + 2.0, far.1 - 1.0));
        click(&mut bench, (near.0 - 2.0, near.1 + 1.0));
        click(&mut bench, beside);
        let joint = bench.app.document().joint().clone();
        assert_eq!(joint.dimensions.len(), 1, "{view:?} {:?}", bench.app.said());
        assert_eq!(joint.dimensions[0].look, view);
        assert!(matches!(joint.dimensions[0].to, Anchor::Edge { deep: 1.0, .. }), "{:?}", joint.dimensions);
        assert!((told(&bench) - 1200.0).abs() < 1e-9, "{view:?} {}", told(&bench));
        let again = file::read(&file::write(&joint), &Stock::built_in()).map(|it| it.dimensions);
        assert_eq!(again.as_ref(), Ok(&joint.dimensions));
        assert_eq!(figures(&joint), [format!("{name} figure placed 1")], "it is on the sheet in its view");
        // It follows the member.
        let of = joint.dimensions[0].to.id().expect("it holds on to a board").to_owned();
        let field = Field::Member(of, MemberField::Near);
        bench.send(Message::Selected(selected::Message::Typed(field.clone(), "50\"".into())));
        bench.send(Message::Selected(selected::Message::Entered(field)));
        assert!((told(&bench) - 1270.0).abs() < 1e-9, "{view:?} {}", told(&bench));
        bench.send(ctrl("z"));
        // Its line is chosen, dragged and taken away.
        bench.send(named(Named::Escape));
        bench.send(named(Named::Escape));
        click(&mut bench, beside);
        assert_eq!(bench.app.chosen(), Some(&Subject::Dimension(0)), "{view:?}");
        let off = joint.dimensions[0].offset_mm;
        let away = if view == From::Side { (beside.0, beside.1 - 50.0) } else { (beside.0 - 50.0, beside.1) };
        bench.drag(beside, away);
        let moved = bench.app.document().joint().dimensions[0].offset_mm;
        assert!(
            ((moved - off).abs() - 50.0).abs() < 4.0 && off.abs() < moved.abs(),
            "{view:?} {off} {moved}"
        );
        bench.send(named(Named::Delete));
        assert!(bench.app.document().joint().dimensions.is_empty());
        bench.send(ctrl("z"));
        bench.send(ctrl("z"));
        assert_eq!(bench.app.document().joint(), &joint);
        // In the front it is not drawn, and cannot be met there.
        bench.send(letter("1"));
        let look = &bench.app.document().shown();
        let inputs = drawing::Inputs { joint: &look.joint, trace: &look.trace, findings: &look.findings };
        let view = drawing::View { scale: 0.5, origin: kurbo::Point::ZERO };
        let items = drawing::front(&inputs, &view);
        assert!(!items.iter().any(|it| it.subject == Some(Subject::Dimension(0))));
    }
}

fn empty(view: &str) -> Bench {
    let mut bench = Bench::with(App::new(Arc::new(Stock::built_in()), Joint::default(), None));
    bench.send(letter(view));
    bench
}

fn last(bench: &Bench) -> (Outline, Interval, Grain) {
    let it = bench.app.document().joint().members.last().expect("one is placed").clone();
    (it.outline, it.depth, it.grain)
}

fn rectangle(x: f64, y: f64, width: f64, height: f64) -> Outline {
    Outline::Rectangle { corner: kurbo::Point::new(x, y), size_mm: (width, height), turn_deg: 0.0 }
}

#[test]
fn a_rectangle_drawn_from_the_side_or_from_above_gives_depth_and_one_more_measure() {
    let mut bench = empty("2");
    make(&mut bench, Kind::Member(Shape::Box));
    let hint = bench.app.hint();
    assert!(hint.contains("depth") && hint.contains("height") && hint.contains("type z"), "{hint}");
    // Depth 20" and height 0; from there 16" to the right, that is farther, and 6" up.
    keys(&mut bench, "20\"\t0\n16\"\t6\"\n");
    let expected = (rectangle(0.0, 0.0, 38.1, 152.4), Interval { from: 101.6, to: 508.0 }, Grain::AlongDepth);
    assert_eq!(last(&bench), expected);
    // As far across as what is there, unless something is typed.
    make(&mut bench, Kind::Member(Shape::Box));
    answer(&mut bench, Key::Left, "1 1/2\"");
    answer(&mut bench, Key::Right, "5\"");
    keys(&mut bench, "0\t10\"\n2\"\t30\"\n");
    let (outline, depth, grain) = last(&bench);
    assert_eq!(outline, rectangle(38.1, 254.0, 88.9, 762.0));
    assert_eq!((depth, grain), (Interval { from: -50.8, to: 0.0 }, Grain::InPlane(90.0)));
    bench.send(letter("3"));
    make(&mut bench, Kind::Member(Shape::Box));
    let hint = bench.app.hint();
    assert!(hint.contains("width") && hint.contains("type x, Tab, z"), "{hint}");
    answer(&mut bench, Key::Low, "0");
    answer(&mut bench, Key::High, "3/4\"");
    keys(&mut bench, "10\"\t0\n20\"\t4\"\n");
    assert_eq!(
        last(&bench),
        (rectangle(254.0, 0.0, 508.0, 19.05), Interval { from: -101.6, to: 0.0 }, Grain::InPlane(0.0))
    );
    bench.send(ctrl("z"));
    assert_eq!(bench.app.document().joint().members.len(), 2);
    // By the hand alone.
    make(&mut bench, Kind::Member(Shape::Box));
    bench.drag((300.0, -300.0), (400.0, -500.0));
    let (_, depth, grain) = last(&bench);
    assert!((depth.from - 300.0).abs() < 8.0 && (depth.to - 500.0).abs() < 8.0, "{depth:?}");
    assert_eq!(grain, Grain::AlongDepth);
}

#[test]
fn stock_is_placed_from_the_side_and_from_above() {
    let mut bench = empty("3");
    let size = |bench: &Bench, nominal: &str| {
        let all = &bench.app.stock().sections;
        Arc::new(all.iter().find(|it| it.nominal == nominal).expect("it is in stock").clone())
    };
    // A post, cut across as it is seen from above: 3 1/2" by 3 1/2", from 0 to 8' high.
    let post = size(&bench, "4x4");
    make(&mut bench, Kind::Stock(post));
    answer(&mut bench, Key::Low, "0");
    answer(&mut bench, Key::High, "8'");
    keys(&mut bench, "1\"\t2\"\n");
    let (outline, depth, grain) = last(&bench);
    assert_eq!(outline, rectangle(25.4, 0.0, 88.9, 2438.4));
    assert_eq!((depth, grain), (Interval { from: -38.1, to: 50.8 }, Grain::InPlane(90.0)));
    // A beam over it, its wide face seen from the side.
    bench.send(letter("2"));
    let beam = size(&bench, "2x8");
    make(&mut bench, Kind::Stock(beam));
    set(&mut bench, |it| it.lies = Lies::Face);
    answer(&mut bench, Key::Length, "4'");
    answer(&mut bench, Key::Left, "1\"");
    keys(&mut bench, "2'\t8'\n");
    let (outline, depth, grain) = last(&bench);
    assert_eq!(outline, rectangle(25.4, 2438.4, 38.1, 184.15));
    assert_eq!((depth, grain), (Interval { from: -609.6, to: 609.6 }, Grain::AlongDepth));
    let joint = bench.app.document().joint().clone();
    assert_eq!(file::read(&file::write(&joint), &Stock::built_in()).as_ref(), Ok(&joint));
}

#[test]
fn what_has_no_box_is_placed_in_the_front_and_it_is_said() {
    let mut bench = Bench::new(None);
    bench.send(letter("2"));
    make(&mut bench, Kind::Member(Shape::Round));
    assert!(bench.app.hint().contains("Front"), "{}", bench.app.hint());
    click(&mut bench, (-300.0, 300.0));
    assert!(
        bench.app.said().is_some_and(|it| it.contains("a round is placed in Front")),
        "{:?}",
        bench.app.said()
    );
    assert_eq!(bench.app.document().joint(), &window_bench::joint());
}
