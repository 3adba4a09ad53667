//! The views beside the front: depth is set in them, and a plane that cuts them is dragged.

use iced::Size;
use iced::keyboard::key::Named;
use shankline::joint::Look as From;
use shankline::unit::Vec3;
use shankline::window::canvas::Message as OnCanvas;
use shankline::window::look::{Command, Shown};
use shankline::window::{Message, top};

use super::window_bench::{self, Bench};
use super::window_clicks::shown;
use super::window_session::{ctrl, letter, named};

#[test]
fn the_depth_row_of_a_fastener_is_set_in_the_side_view() {
    let mut bench = Bench::new(None);
    bench.send(letter("2"));
    assert_eq!(bench.app.canvas().view, From::Side);
    // From the side the depth runs to the left: a head at depth 600 stands at -600.
    bench.drag((-600.0, 76.2), (-300.0, 76.2));
    let (head, toward) = bench.free(0);
    assert!(head.z < 310.0 && 290.0 < head.z, "{head:?}");
    assert_eq!((head.x, head.y, toward), (0.0, 76.2, Vec3::X));
    assert_eq!(bench.app.document().journal.undo_name(), Some("Move fastener 1"));
    bench.send(ctrl("z"));
    assert_eq!(bench.app.document().joint(), &window_bench::joint());
}

#[test]
fn members_are_carried_in_depth_from_above_and_nudged_there() {
    let mut bench = Bench::new(None);
    bench.send(letter("3"));
    bench.press((20.0, -100.0));
    bench.move_to((20.0, -160.0));
    for it in ["5", "0", "m", "m"] {
        bench.send(letter(it));
    }
    bench.send(named(Named::Tab));
    for it in ["9", "0"] {
        bench.send(letter(it));
    }
    bench.send(named(Named::Enter));
    // From above the depth runs downward: up by 50 mm is 50 mm farther from the viewer of the front.
    let depth = bench.app.document().joint().members[0].depth;
    assert_eq!((depth.from, depth.to), (-50.0, 1150.0));
    bench.send(named(Named::ArrowDown));
    let depth = bench.app.document().joint().members[0].depth;
    assert!((depth.from - (3.175 - 50.0)).abs() < 1e-9, "{depth:?}");
}

#[test]
fn the_tilt_of_a_shank_in_depth_is_set_from_above() {
    let mut bench = Bench::new(None);
    bench.send(letter("3"));
    let tip = 88.9;
    bench.drag((tip, -600.0), (60.0, -540.0));
    let (_, toward) = bench.free(0);
    // From above the point lies up by 60 at 60 across, that is, away from the viewer of the front.
    assert!((toward - Vec3::new(0.5_f64.sqrt(), 0.0, -(0.5_f64.sqrt()))).length() < 1e-9, "{toward:?}");
}

#[test]
fn a_plane_that_cuts_the_side_is_dragged_in_the_front_through_a_fastener() {
    let mut bench = Bench::new(None);
    bench.send(letter("4"));
    bench.send(Message::CanvasOf(From::Front, OnCanvas::Resized(600.0, 400.0)));
    bench.send(Message::CanvasOf(From::Side, OnCanvas::Resized(400.0, 400.0)));
    bench.send(Message::CanvasOf(From::Top, OnCanvas::Resized(1000.0, 240.0)));
    bench.send(Message::CanvasOf(From::Top, OnCanvas::CutPressed));
    let cut = bench.app.cuts().of(From::Top).expect("a plane cuts it now");
    assert!((cut - 184.15 / 2.0).abs() < 1e-3, "in the middle of the boards at first: {cut}");
    // In the front it is a level line with its handle near the left edge.
    bench.send(Message::CanvasOf(From::Front, OnCanvas::Moved(kurbo::Point::new(5.0, 5.0))));
    let px = bench.px(0.0, cut);
    let handle = kurbo::Point::new(34.0, px.y);
    let to = bench.px(0.0, 127.4);
    bench.send(Message::CanvasOf(From::Front, OnCanvas::Moved(handle)));
    bench.send(Message::CanvasOf(From::Front, OnCanvas::Pressed(handle)));
    bench.send(Message::CanvasOf(From::Front, OnCanvas::Moved(kurbo::Point::new(34.0, to.y))));
    bench.send(Message::CanvasOf(From::Front, OnCanvas::Released(kurbo::Point::new(34.0, to.y))));
    assert_eq!(bench.app.cuts().of(From::Top), Some(127.0), "caught by the axis of the upper nail");
    assert!(!bench.app.document().journal.edited(), "to look is no change of the joint");
    bench.send(letter("1"));
    assert_eq!(bench.app.canvas().view, From::Front);
}

#[test]
fn every_view_is_there_by_its_name_in_the_least_and_in_a_large_window() {
    let mut bench = Bench::new(None);
    bench.send(Message::Top(top::Message::Pressed(Command::View(Shown::All))));
    for size in [Size::new(1024.0, 700.0), Size::new(2560.0, 1440.0)] {
        bench.send(Message::Resized(size));
        let mut ui = shown(&bench.app, size);
        for words in ["Front", "Side", "Top", "FINDINGS", "SELECTED", "CORES"] {
            let area = ui.find(words).unwrap_or_else(|why| panic!("{words}: {why:?}")).bounds();
            assert!(0.0 <= area.x && area.x + area.width <= size.width, "{words} {area:?}");
            assert!(0.0 <= area.y && area.y + area.height <= size.height, "{words} {area:?}");
        }
    }
}

#[test]
fn what_is_chosen_is_shown_as_large_as_it_goes() {
    let mut bench = Bench::new(None);
    let before = bench.app.canvas().camera.scale;
    bench.press((20.0, 20.0));
    bench.release((20.0, 20.0));
    bench.send(letter("z"));
    assert!(before <= bench.app.canvas().camera.scale);
    let corner = bench.px(0.0, 0.0);
    assert!(0.0 < corner.x && corner.y < 500.0, "{corner:?}");
}
