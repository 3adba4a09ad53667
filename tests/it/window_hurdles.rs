//! What people ran into at the window: what they did, and what they would have expected. No display is needed.

use std::sync::Arc;

use iced::advanced::widget::Id;
use iced::advanced::widget::operation::{Operation, Outcome, Scrollable};
use iced::keyboard::key::Named;
use iced::{Event, Pixels, Rectangle, Renderer, Size, Theme, Vector, mouse};
use iced_test::futures::futures::StreamExt as _;
use iced_test::futures::futures::executor::block_on;
use iced_test::runtime::user_interface::{Cache, UserInterface};
use iced_test::runtime::{Action, task};
use kurbo::Vec2;
use shankline::drawing::Subject;
use shankline::findings::Kind as Found;
use shankline::joint::{Grain, Look as From, Measures, StandardId, file};
use shankline::stock::Stock;
use shankline::trace::dimension;
use shankline::window::carries::{self, ChoiceMessage};
use shankline::window::dialog::{self, Dialog};
use shankline::window::look::{Action as Asked, Command, Fill};
use shankline::window::making::{self, Key, Kind, Shape};
use shankline::window::sheet::Message as OnSheet;
use shankline::window::{App, Message, canvas, findings, stock, top};

use super::window_bench::{self, Bench};
use super::window_clicks::{settle, shown};
use super::window_drawing::{answer, empty, keys, make};
use super::window_session::{letter, named};

const SIZE: Size = Size::new(1280.0, 800.0);

/// A post, 4" by 12".
fn post(bench: &mut Bench) {
    make(bench, Kind::Member(Shape::Box));
    keys(bench, "0\t0\n4\"\t12\"\n");
}

/// The offers of a search, in their order.
fn search(bench: &mut Bench, words: &str) -> Vec<(String, Asked)> {
    bench.send(letter("/"));
    bench.send(Message::Dialog(dialog::Message::Searched(words.into())));
    let Dialog::Actions { found, .. } = bench.app.dialog() else { panic!("the search is open") };
    let offers = found.offers.iter().map(|it| (it.words.clone(), it.action.clone())).collect();
    bench.send(named(Named::Escape));
    offers
}

#[test]
fn what_cannot_be_made_in_a_view_is_given_up_by_escape_and_goes_on_in_front_by_1() {
    let mut bench = empty();
    post(&mut bench);
    let nail = bench.app.stock().fasteners["nail/common/8d"].clone();
    for kind in [Kind::Form("angle"), Kind::Toe(nail)] {
        bench.send(letter("3"));
        make(&mut bench, kind.clone());
        assert!(bench.app.hint().contains("1 shows Front"), "{}", bench.app.hint());
        bench.send(named(Named::Escape));
        assert!(bench.app.making().is_none(), "{kind:?}");
        make(&mut bench, kind.clone());
        bench.press((20.0, -20.0));
        assert!(bench.app.hint().contains("1 shows"), "a press says so too: {}", bench.app.hint());
        bench.send(letter("1"));
        assert_eq!(bench.app.canvas().view, From::Front, "{kind:?}");
        assert!(bench.app.making().is_some_and(|it| it.kind == kind), "it goes on");
        assert!(bench.app.hint().starts_with("Press where it goes"), "{}", bench.app.hint());
        bench.send(named(Named::Escape));
        assert!(bench.app.making().is_none());
    }
}

#[test]
fn the_words_of_a_button_find_what_it_does() {
    let mut bench = Bench::with(App::new(Arc::new(Stock::built_in()), window_bench::joint(), None));
    for (words, command) in [
        ("fill what is required", Command::Fill(Fill::Required)),
        ("fill all", Command::Fill(Fill::All)),
        ("fill this hole", Command::Fill(Fill::One)),
        ("export detail", Command::Export),
        ("working", Command::Working),
        ("choices", Command::Compare),
        ("zoom in", Command::ZoomIn),
        ("rotate 90", Command::TurnBy(90)),
    ] {
        let offers = search(&mut bench, words);
        assert!(offers.iter().any(|it| it.1 == Asked::Do(command)), "{words}: {offers:?}");
    }
}

#[test]
fn a_size_is_found_as_it_is_typed_and_the_nearest_comes_first() {
    let mut bench = Bench::with(App::new(Arc::new(Stock::built_in()), window_bench::joint(), None));
    let first = |bench: &mut Bench, words: &str| {
        search(bench, words).into_iter().next().map_or_else(String::new, |it| it.0)
    };
    assert_eq!(first(&mut bench, "bolt 1/2"), "Drive one: bolt 1/2\" x 1 1/2\"");
    assert_eq!(first(&mut bench, "drive one bolt 1/2x5"), "Drive one: bolt 1/2\" x 5\"");
    assert_eq!(first(&mut bench, "drive one bolt 1/2\"x3-1/2\""), "Drive one: bolt 1/2\" x 3 1/2\"");
    assert_eq!(first(&mut bench, "drive one m12x140"), "Drive one: bolt M12 x 140 mm");
    let none = search(&mut bench, "swap bolt 1/2x5");
    assert!(matches!(&none[..], [(_, Asked::Say(why))] if why.starts_with("Choose a fastener")), "{none:?}");
    bench.send(Message::Stock(stock::Message::ThingPressed(Subject::Fastener("n1".into()))));
    assert_eq!(first(&mut bench, "swap bolt 1/2x5"), "Swap what is chosen for: bolt 1/2\" x 5\"");
    // By length as a rule shows it, not as letters are sorted: 2" before 10".
    let bolts: Vec<String> = search(&mut bench, "swap bolt 1/2").into_iter().map(|it| it.0).collect();
    let at = |length: &str| bolts.iter().position(|it| it.ends_with(&format!("bolt 1/2\" x {length}")));
    assert!(at("2\"").is_some() && at("2\"") < at("10\"") && at("10\"") < at("16\""), "{bolts:?}");
    let panels = search(&mut bench, "place 1/2");
    assert!(panels.iter().any(|it| it.0.contains("panel")), "it says of what: {panels:?}");
}

#[test]
fn a_finding_is_headed_by_the_names_that_its_text_tells() {
    let mut joint = window_bench::joint();
    joint.members[1].name = "Old post".into();
    let bench = Bench::with(App::new(window_bench::stock(), joint, None));
    let of_far = |it: &&shankline::findings::Finding| it.subjects.contains(&"far".to_owned());
    let list = &bench.app.document().shown().findings.list;
    let told = list.iter().find(of_far).expect("the short nail is told of");
    assert!(told.says.contains("Old post"), "{}", told.says);
    let head = format!("fastener {}, Old post", if told.subjects[0] == "n1" { 1 } else { 2 });
    assert_eq!(told.subjects.len(), 2);
    assert!(shown(&bench.app, SIZE).find(head.as_str()).is_ok(), "{head}: {:?}", told.subjects);
}

#[test]
fn an_angle_without_a_fastener_asks_of_which_and_is_that_of_the_chosen_one() {
    let stock = Arc::new(Stock::built_in());
    let text = include_str!("../../sample-projects/heron-lane-ledger.joint.json");
    let joint = file::read(text, &stock).expect("a sample is sound");
    let id = joint.fasteners[0].id.clone();
    let mut bench = Bench::with(App::new(stock, joint, None));
    let choice = |bench: &mut Bench, it| bench.send(Message::Carries(carries::Message::Choices(it)));
    bench.send(named(Named::F4));
    choice(&mut bench, ChoiceMessage::Typed("angle -30".into()));
    choice(&mut bench, ChoiceMessage::Entered);
    let asks = format!("`angle -30`: say of which fastener: angle {id} -30");
    assert!(shown(&bench.app, Size::new(1280.0, 4000.0)).find(asks.as_str()).is_ok(), "{asks}");
    choice(&mut bench, ChoiceMessage::Typed("material lumber/southern-pine".into()));
    choice(&mut bench, ChoiceMessage::Entered);
    let asks = "`material lumber/southern-pine`: say of which member: material ledger lumber/southern-pine";
    assert!(shown(&bench.app, Size::new(1280.0, 4000.0)).find(asks).is_ok(), "{asks}");
    bench.send(Message::Stock(stock::Message::ThingPressed(Subject::Fastener(id.clone()))));
    choice(&mut bench, ChoiceMessage::Typed("angle -30".into()));
    choice(&mut bench, ChoiceMessage::Entered);
    let table = bench.app.carries().told().table.as_ref().expect("choices are shown");
    let name = format!("angle {id} -30");
    assert!(table.columns.iter().any(|it| it.name == name), "{:?}", table.columns);
}

#[test]
fn a_refused_measure_is_not_kept_and_not_told_once_it_is_mended() {
    let mut bench = empty();
    post(&mut bench);
    let thick = Key::Asked("angle", "thickness");
    make(&mut bench, Kind::Form("angle"));
    answer(&mut bench, thick, "1 1/2\"");
    bench.press((101.6, 150.0));
    assert!(bench.app.said().is_some_and(|it| it.contains("thickness")), "{:?}", bench.app.said());
    bench.send(Message::Making(making::Message::Typed(thick, "1/4\"".into())));
    assert_eq!(bench.app.said(), None, "it is mended");
    answer(&mut bench, thick, "1 1/2\"");
    answer(&mut bench, Key::Asked("angle", "width"), "3\"");
    bench.send(named(Named::Escape));
    assert!(bench.app.making().is_none());
    make(&mut bench, Kind::Form("angle"));
    let texts = &bench.app.making().expect("another is placed").texts;
    assert_eq!(texts.get(&thick), None, "what was refused is not kept");
    assert_eq!(texts.get(&Key::Asked("angle", "width")).map(String::as_str), Some("3\""), "what was not is");
}

#[test]
fn end_grain_is_told_with_its_working() {
    for standard in [StandardId::Nds2018, StandardId::En199511] {
        let mut joint = window_bench::joint();
        joint.standard = standard;
        // The nails run along the grain of the far board.
        joint.members[1].grain = Grain::InPlane(0.0);
        let mut bench = Bench::with(App::new(window_bench::stock(), joint, None));
        let list = &bench.app.document().shown().findings.list;
        let at = list.iter().position(|it| it.kind == Found::EndGrain).expect("it is told of");
        let lines = list[at].working.lines();
        assert!(lines.iter().any(|it| it.contains("grain")), "{standard:?}: {lines:?}");
        bench.send(Message::Findings(findings::Message::WorkingPressed(at)));
        let mut ui = shown(&bench.app, Size::new(1280.0, 4000.0));
        assert!(ui.find(lines[0].as_str()).is_ok(), "{standard:?}: {lines:?}");
    }
}

/// Where all that can be drawn aside stands on the sheet, and where what it belongs to is.
fn standing(bench: &Bench) -> Vec<(String, Rectangle<f64>, kurbo::Point)> {
    let all = bench.app.sheet().pages().iter().flat_map(|it| &it.handles);
    let area = |it: kurbo::Rect| Rectangle { x: it.x0, y: it.y0, width: it.width(), height: it.height() };
    all.map(|it| (it.what.clone(), area(it.at), it.anchor)).collect()
}

#[test]
fn the_view_stays_where_it_is_whatever_mark_is_dragged() {
    for text in [
        include_str!("../../sample-projects/alder-court-hanger.joint.json"),
        include_str!("../../sample-projects/mill-row-floor.joint.json"),
    ] {
        let stock = Arc::new(Stock::built_in());
        let joint = file::read(text, &stock).expect("a sample is sound");
        let mut bench = Bench::with(App::new(stock, joint, None));
        bench.send(Message::Top(top::Message::Pressed(Command::Sheet)));
        let before = standing(&bench);
        let marks = || before.iter().filter(|it| it.0.starts_with("front mark"));
        // Those that stand farthest out are what the view is measured by.
        let top = marks().min_by(|a, b| a.1.y.total_cmp(&b.1.y)).expect("it has marks");
        let left = marks().min_by(|a, b| a.1.x.total_cmp(&b.1.x)).expect("it has marks");
        let right = marks().max_by(|a, b| a.1.x.total_cmp(&b.1.x)).expect("it has marks");
        for (what, at, _) in [top, left, right] {
            let from = kurbo::Point::new(at.x + at.width / 2.0, at.y + at.height / 2.0);
            bench.send(Message::Sheet(OnSheet::Pressed(from)));
            bench.send(Message::Sheet(OnSheet::Moved(from + Vec2::new(6.0, 14.0))));
            bench.send(Message::Sheet(OnSheet::Released));
            let after = standing(&bench);
            for (other, _, anchor) in before.iter().filter(|it| it.0.starts_with("front ")) {
                let now = after.iter().find(|it| it.0 == *other).map(|it| it.2);
                let off = now.map_or(0.0, |it| (it - *anchor).hypot());
                assert!(off < 0.05, "{what} moved the view by {off} mm: {other}");
            }
            bench.send(Message::Top(top::Message::Pressed(Command::Undo)));
        }
    }
}

#[test]
fn a_dimension_is_made_level_or_upright_by_a_key() {
    for (presses, measures, mm, beside) in [
        ("", Measures::Straight, 38.1_f64.hypot(184.15), (-30.0, 120.0)),
        ("c", Measures::Level, 38.1, (20.0, 220.0)),
        ("cc", Measures::Upright, 184.15, (-40.0, 90.0)),
        ("ccc", Measures::Straight, 38.1_f64.hypot(184.15), (-30.0, 120.0)),
    ] {
        let mut bench = Bench::new(None);
        make(&mut bench, Kind::Dimension);
        assert!(bench.app.hint().contains("level"), "{}", bench.app.hint());
        bench.press((0.5, 0.5));
        bench.release((0.5, 0.5));
        bench.press((38.0, 184.0));
        bench.release((38.0, 184.0));
        keys(&mut bench, presses);
        bench.press(beside);
        bench.release(beside);
        let kept = bench.app.document().kept();
        let [it] = &kept.joint.dimensions[..] else { panic!("{:?}", bench.app.said()) };
        assert_eq!(it.measures, measures);
        let measured = dimension(&kept.joint, &kept.trace, it).expect("it holds on to the board");
        assert!((measured.mm - mm).abs() < 1e-6, "{presses}: {}", measured.mm);
        // Its line goes through the place that was pressed last.
        let line = kurbo::Line::new(measured.line.0, measured.line.1);
        let way = (line.p1 - line.p0).normalize();
        let off = way.cross(kurbo::Point::new(beside.0, beside.1) - line.p0);
        assert!(off.abs() < 4.0, "{presses}: {off}");
        assert_eq!(
            file::read(&file::write(&kept.joint), &Stock::built_in()).map(|it| it.dimensions.len()),
            Ok(1)
        );
    }
}

type Ui<'a> = UserInterface<'a, Message, Theme, Renderer>;

/// Asks all widgets something, and whatever follows from it.
fn asked(ui: &mut Ui<'_>, renderer: &Renderer, mut operation: Box<dyn Operation>) {
    loop {
        ui.operate(renderer, operation.as_mut());
        let Outcome::Chain(next) = operation.finish() else { break };
        operation = next;
    }
}

/// What is asked of the widgets first by what a message does.
fn asks(bench: &mut Bench, message: Message) -> Option<Box<dyn Operation>> {
    let mut stream = task::into_stream(bench.app.update(message))?;
    while let Some(action) = block_on(stream.next()) {
        if let Action::Widget(operation) = action {
            return Some(operation);
        }
    }
    None
}

/// Every pane that scrolls at the left: what is seen of it, and how far it is scrolled.
#[derive(Default)]
struct Panes(Vec<(Rectangle, f32)>);

impl Operation for Panes {
    fn traverse(&mut self, operate: &mut dyn FnMut(&mut dyn Operation)) {
        operate(self);
    }

    fn scrollable(
        &mut self,
        _id: Option<&Id>,
        bounds: Rectangle,
        _content_bounds: Rectangle,
        by: Vector,
        _state: &mut dyn Scrollable,
    ) {
        if bounds.x < 200.0 && bounds.width < 240.0 {
            self.0.push((bounds, by.y));
        }
    }
}

fn of_stock(ui: &mut Ui<'_>, renderer: &Renderer) -> (Rectangle, f32) {
    let mut panes = Panes::default();
    ui.operate(renderer, &mut panes);
    *panes.0.first().expect("the pane of stock scrolls")
}

fn tiny() -> Renderer {
    iced_tiny_skia::Renderer::new(iced::Font::DEFAULT, Pixels(13.0))
}

#[test]
fn another_sort_of_stock_is_shown_from_its_beginning() {
    let mut bench = Bench::new(None);
    bench.send(Message::Stock(stock::Message::TabPressed(stock::Tab::Wood)));
    let mut renderer = tiny();
    let mut ui: Ui<'_> = UserInterface::build(bench.app.view(), SIZE, Cache::default(), &mut renderer);
    let over = mouse::Cursor::Available(iced::Point::new(100.0, 200.0));
    let wheel =
        Event::Mouse(mouse::Event::WheelScrolled { delta: mouse::ScrollDelta::Pixels { x: 0.0, y: -150.0 } });
    let _ = ui.update(&[wheel], over, &mut renderer, &mut iced::advanced::clipboard::Null, &mut Vec::new());
    assert!(50.0 < of_stock(&mut ui, &renderer).1, "it is scrolled");
    let cache = ui.into_cache();
    bench.send(Message::Stock(stock::Message::TabPressed(stock::Tab::Steel)));
    let mut ui: Ui<'_> = UserInterface::build(bench.app.view(), SIZE, cache, &mut renderer);
    assert_eq!(of_stock(&mut ui, &renderer).1, 0.0);
}

#[test]
fn the_sizes_to_swap_for_are_shown_round_the_chosen_one() {
    let stock = Arc::new(Stock::built_in());
    let mut joint = window_bench::joint();
    joint.fasteners[0].spec = stock.fasteners["bolt/inch/0.75x12"].clone();
    let mut bench = Bench::with(App::new(stock, joint, None));
    let press = stock::Message::ThingPressed(Subject::Fastener("n1".into()));
    let operation = asks(&mut bench, Message::Stock(press)).expect("the pane is scrolled");
    let mut renderer = tiny();
    let mut ui: Ui<'_> = UserInterface::build(bench.app.view(), SIZE, Cache::default(), &mut renderer);
    asked(&mut ui, &renderer, operation);
    let (seen, by) = of_stock(&mut ui, &renderer);
    drop(ui);
    // Where its line stands in the list is told by a window that is high enough for all of it.
    let mut ui = shown(&bench.app, Size::new(1280.0, 16000.0));
    let line = ui.find("bolt 3/4\" x 12\"").expect("it is in the list").bounds();
    let top = of_first_pane(&bench);
    let at = line.y - top - by;
    assert!(0.0 <= at && at + line.height <= seen.height, "{at} of {seen:?}, scrolled by {by}");
}

/// Where the pane of stock begins in a very high window: as in a usual one, for its head is as high.
fn of_first_pane(bench: &Bench) -> f32 {
    let mut renderer = tiny();
    let mut ui: Ui<'_> =
        UserInterface::build(bench.app.view(), Size::new(1280.0, 16000.0), Cache::default(), &mut renderer);
    of_stock(&mut ui, &renderer).0.y
}

#[test]
fn steel_that_is_placed_stays_at_the_face_when_the_pointer_goes_to_its_measures() {
    let mut bench = empty();
    post(&mut bench);
    settle(&mut bench, SIZE);
    make(&mut bench, Kind::Form("strap"));
    bench.move_to((101.6, 150.0));
    let at_face = |bench: &Bench| {
        let of = &bench.app.document().shown().joint.connectors;
        of.first().is_some_and(|it| it.plates[0].profile.iter().all(|at| (at.x - 101.6).abs() < 4.0))
    };
    assert!(at_face(&bench));
    bench.move_to((180.0, 150.0));
    assert!(!at_face(&bench));
    let messages: Vec<Message> = {
        let mut ui = shown(&bench.app, SIZE);
        let findings = ui.find("FINDINGS").expect("the list of findings is there").bounds();
        let right = findings.x - 14.0 - 1.0;
        let inside = iced::Point::new(right - 40.0, 300.0);
        let outside = iced::Point::new(right + 120.0, 320.0);
        for at in [inside, outside] {
            ui.point_at(at);
            let _ = ui.simulate([Event::Mouse(mouse::Event::CursorMoved { position: at })]);
        }
        // A press there is none of the canvas either.
        let button = mouse::Button::Left;
        for it in [mouse::Event::ButtonPressed(button), mouse::Event::ButtonReleased(button)] {
            let _ = ui.simulate([Event::Mouse(it)]);
        }
        ui.into_messages().collect()
    };
    let of_canvas = |it: &Message| match it {
        Message::Canvas(it) | Message::CanvasOf(_, it) => Some(it.clone()),
        _ => None,
    };
    let told: Vec<canvas::Message> = messages.iter().filter_map(of_canvas).collect();
    assert_eq!(told.last(), Some(&canvas::Message::Left), "{told:?}");
    messages.into_iter().for_each(|it| bench.send(it));
    assert!(at_face(&bench), "it is seen where it lay last");
    answer(&mut bench, Key::Asked("strap", "thickness"), "1/4\"");
    assert!(at_face(&bench), "and its measures are seen there");
    // The pointer takes it along again.
    bench.move_to((0.0, 100.0));
    assert!(!at_face(&bench));
}
