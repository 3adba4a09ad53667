//! A joint drawn for real: an empty window on a screen that nobody sees, a pointer and keys, a kill in the midst of
//! the work, and the work found again.
//!
//! A window that is only laid out does the same beside it; it tells where things stand on the screen, and what the
//! joint must be in the end.

use std::sync::Arc;
use std::time::Duration;

use iced::{Event, Point, mouse};
use shankline::joint::Joint;
use shankline::stock::Stock;
use shankline::window::{App, Message};

use super::window_bench::Bench;
use super::window_clicks::{canvas_origin, settle, shown, to_px};
use super::window_drawing::keys;
use super::window_real::{Hand, Running, SCREEN, focus, is_installed, missing, open, read, screen, wait_for};

/// The real window's hand, and a window that is only laid out.
struct Twin {
    hand: Hand,
    bench: Bench,
}

impl Twin {
    fn pause(&self) {
        std::thread::sleep(Duration::from_millis(350));
    }

    /// Moves the pointer to a pixel of the screen, in both windows.
    fn point(&mut self, at: Point) {
        #[expect(clippy::cast_possible_truncation, reason = "pixels of a screen")]
        let whole = |px: f32| (px.round() as i64).to_string();
        let _ = self.hand.does(&["mousemove", &whole(at.x), &whole(at.y)]);
        self.play(at, &[]);
    }

    /// Plays events of the pointer at a pixel in the window that is only laid out.
    fn play(&mut self, at: Point, buttons: &[mouse::Event]) {
        settle(&mut self.bench, SCREEN);
        let messages: Vec<Message> = {
            let mut ui = shown(&self.bench.app, SCREEN);
            ui.point_at(at);
            let moved = Event::Mouse(mouse::Event::CursorMoved { position: at });
            let all: Vec<Event> =
                std::iter::once(moved).chain(buttons.iter().map(|it| Event::Mouse(*it))).collect();
            let _ = ui.simulate(all);
            ui.into_messages().collect()
        };
        messages.into_iter().for_each(|it| self.bench.send(it));
    }

    /// Presses on words of the window.
    #[track_caller]
    fn click(&mut self, words: &str) {
        let area = {
            let mut ui = shown(&self.bench.app, SCREEN);
            let found = ui.find(words);
            assert!(found.is_ok(), "{words:?} is not on the window");
            found.map(|it| it.bounds()).unwrap_or_default()
        };
        let at = Point::new(area.x + area.width / 2.0, area.y + area.height / 2.0);
        self.point(at);
        self.pause();
        let _ = self.hand.does(&["click", "1"]);
        let button = mouse::Button::Left;
        self.play(at, &[mouse::Event::ButtonPressed(button), mouse::Event::ButtonReleased(button)]);
        self.pause();
    }

    /// Types; a tab and a line end are the keys of that name.
    fn types(&mut self, text: &str) {
        for part in text.split_inclusive(['\t', '\n']) {
            let words = part.trim_end_matches(['\t', '\n']);
            if !words.is_empty() {
                let _ = self.hand.does(&["type", "--delay", "30", words]);
            }
            if let Some(key) = part.chars().last().filter(|it| matches!(it, '\t' | '\n')) {
                self.hand.key(if key == '\t' { "Tab" } else { "Return" });
            }
        }
        keys(&mut self.bench, text);
        self.pause();
    }

    /// The pixel of the screen at which a place of the drawing plane is seen.
    fn pixel(&self, x: f64, y: f64) -> Point {
        let px = self.bench.px(x, y);
        let mut ui = shown(&self.bench.app, SCREEN);
        canvas_origin(&mut ui, self.bench.app.canvas().camera.viewport_px)
            + iced::Vector::new(to_px(px.x), to_px(px.y))
    }
}

fn start(hand: &Hand, home: &std::path::Path) -> Result<Running, String> {
    let mut app = open(None, home, &hand.display);
    focus(hand, &mut app).map(|()| app)
}

#[test]
fn a_joint_is_drawn_for_real_killed_in_the_midst_and_found_again() {
    for tool in ["Xvfb", "xdotool"] {
        if !is_installed(tool) {
            return missing(&format!("{tool} is not installed"));
        }
    }
    let folder = tempfile::tempdir().expect("a folder for the session");
    let (_server, display) = screen();
    let hand = Hand { display };
    let mut app = match start(&hand, folder.path()) {
        Ok(app) => app,
        Err(said) => return missing(said.lines().next().unwrap_or("the program ended at once")),
    };
    let bench = Bench { app: App::new(Arc::new(Stock::built_in()), Joint::default(), None), clipboard: None };
    let mut twin = Twin { hand, bench };
    twin.point(Point::new(400.0, 600.0));
    twin.pause();

    // Two boards by numbers, the second by the key that makes another.
    twin.click("Draw a rectangle");
    twin.types("0\t0\n1 1/2\"\t9 1/4\"\n");
    twin.types("g1 1/2\"\t0\n1 1/2\"\t9 1/4\"\n");
    twin.types("f");
    // A nail by the pointer: its size, then its head on the face and the way it points.
    twin.click("Drive");
    twin.hand.key("Escape");
    twin.bench.send(super::window_session::named(iced::keyboard::key::Named::Escape));
    twin.pause();
    twin.click("Nail, box");
    let stock = twin.bench.app.stock();
    let boxes = stock.fasteners.values().filter(|it| it.table() == "nail/box");
    let first = boxes.min_by(|a, b| a.by_size(b)).expect("stock has box nails").label.clone();
    twin.click(&shankline::window::words::unbroken(&first));
    let (from, to) = (twin.pixel(0.3, 101.6), twin.pixel(60.0, 101.6));
    let button = mouse::Button::Left;
    #[expect(clippy::cast_possible_truncation, reason = "pixels of a screen")]
    let whole = |it: Point| (it.x.round() as i64, it.y.round() as i64);
    twin.hand.drag(whole(from), whole(to));
    twin.play(from, &[mouse::Event::ButtonPressed(button)]);
    twin.play(to, &[mouse::Event::ButtonReleased(button)]);
    let wanted = twin.bench.app.document().joint().clone();
    assert_eq!((wanted.members.len(), wanted.fasteners.len()), (2, 1), "the twin has drawn it");

    // What is kept aside holds it all; then the window is killed without a word.
    let unsaved = folder.path().join(".local/state/shankline/unsaved");
    let aside = || {
        let files = std::fs::read_dir(&unsaved).ok()?.filter_map(Result::ok);
        files.filter_map(|it| read(&it.path())).find(|it| *it == wanted)
    };
    let seen = || {
        let files = std::fs::read_dir(&unsaved).ok()?.filter_map(Result::ok);
        files.filter_map(|it| read(&it.path())).next()
    };
    assert!(wait_for(aside).is_some(), "drawn for real: {:#?}\nwanted: {wanted:#?}", seen());
    let _ = app.0.kill();
    let _ = app.0.wait();

    let mut app = match start(&twin.hand, folder.path()) {
        Ok(app) => app,
        Err(said) => panic!("the second start: {said}"),
    };
    std::thread::sleep(Duration::from_millis(800));
    twin.hand.key("Return");
    std::thread::sleep(Duration::from_millis(800));
    let path = folder.path().join("found again.joint.json");
    let saved = wait_for(|| {
        twin.hand.key("ctrl+s");
        std::thread::sleep(Duration::from_millis(700));
        twin.hand.key("ctrl+a");
        let _ = twin.hand.does(&["type", "--delay", "8", &path.display().to_string()]);
        twin.hand.key("Return");
        std::thread::sleep(Duration::from_millis(700));
        read(&path)
    });
    assert_eq!(saved.as_ref(), Some(&wanted), "the work was found again and saved");
    twin.hand.key("ctrl+q");
    assert!(wait_for(|| app.0.try_wait().ok().flatten()).is_some_and(|it| it.success()));
    let left = std::fs::read_dir(&unsaved).map_or(0, Iterator::count);
    assert_eq!(left, 0, "saved work is kept aside no longer");
}
