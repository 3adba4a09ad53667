//! The window itself, on a screen that nobody sees: a real process, a real pointer, real keys, real files.
//!
//! Everything else about the window is tested without a display. This one session proves that what those tests
//! play as messages does come from a mouse and a keyboard. It needs `Xvfb` and `xdotool`; where they are missing it
//! says so and passes, unless `SHANKLINE_WINDOW_TEST=must` is set, as on the machine that takes changes in.

use std::io::{BufRead as _, BufReader, Read as _, Write as _};
use std::path::{Path, PathBuf};
use std::process::{Child, Command, Stdio};
use std::sync::Arc;
use std::time::{Duration, Instant};

use iced::{Event, Point, Size, mouse};
use shankline::joint::{Joint, Placement, file};
use shankline::stock::Stock;
use shankline::unit::Vec3;
use shankline::window::{App, Message};

use super::window_bench::Bench;
use super::window_clicks::{canvas_origin, shown, to_px};

pub(crate) const SCREEN: Size = Size::new(1280.0, 800.0);

/// The longest that anything may take before it counts as hung.
const PATIENCE: Duration = Duration::from_secs(15);

/// A process that does not outlive the test.
pub(crate) struct Running(pub(crate) Child);

impl Drop for Running {
    fn drop(&mut self) {
        let _ = self.0.kill();
        let _ = self.0.wait();
    }
}

/// Asks again and again until there is an answer; `None` when patience ends.
pub(crate) fn wait_for<T>(mut ask: impl FnMut() -> Option<T>) -> Option<T> {
    let began = Instant::now();
    while began.elapsed() < PATIENCE {
        if let Some(answer) = ask() {
            return Some(answer);
        }
        std::thread::sleep(Duration::from_millis(40));
    }
    None
}

pub(crate) fn is_installed(tool: &str) -> bool {
    let path = std::env::var_os("PATH").unwrap_or_default();
    std::env::split_paths(&path).any(|it| it.join(tool).is_file())
}

/// A screen with a free number, which the server picks itself.
pub(crate) fn screen() -> (Running, String) {
    let server = Command::new("Xvfb")
        .args(["-displayfd", "1", "-screen", "0", "1280x800x24", "-nolisten", "tcp", "-noreset"])
        .stdout(Stdio::piped())
        .stderr(Stdio::null())
        .spawn();
    let mut server = Running(server.expect("Xvfb is on the path"));
    let mut number = String::new();
    let answer = server.0.stdout.take().expect("its output is piped");
    let read = BufReader::new(answer).read_line(&mut number);
    assert!(read.is_ok() && !number.trim().is_empty(), "Xvfb named no display");
    (server, format!(":{}", number.trim()))
}

/// A hand with a pointer and a keyboard on a display.
pub(crate) struct Hand {
    pub(crate) display: String,
}

impl Hand {
    pub(crate) fn does(&self, words: &[&str]) -> String {
        let done = Command::new("xdotool").args(words).env("DISPLAY", &self.display).output();
        let done = done.expect("xdotool is on the path");
        String::from_utf8_lossy(&done.stdout).trim().to_owned()
    }

    pub(crate) fn key(&self, keys: &str) {
        let _ = self.does(&["key", "--clearmodifiers", keys]);
    }

    /// Drags from one pixel to another in small steps, as a hand does.
    pub(crate) fn drag(&self, from: (i64, i64), to: (i64, i64)) {
        let go = |x: i64, y: i64| format!("mousemove {x} {y} sleep 0.03");
        let mut all = vec![go(from.0, from.1), "mousedown 1".to_owned()];
        all.extend((1..=8).map(|n| go(from.0 + (to.0 - from.0) * n / 8, from.1 + (to.1 - from.1) * n / 8)));
        all.push("mouseup 1".to_owned());
        let words = all.join(" ");
        let words: Vec<&str> = words.split(' ').collect();
        let _ = self.does(&words);
    }
}

/// The pixels of the screen at which the window shows places of the drawing plane, worked out by a window of the same
/// size that is only laid out.
fn pixels(path: &Path, places: &[(f64, f64)]) -> Vec<(i64, i64)> {
    let mut bench = Bench::with(App::open(Arc::new(Stock::built_in()), path.to_owned()));
    // The pane of cores has another height once it knows its width, and so has the canvas above it.
    for _ in 0..2 {
        let messages: Vec<Message> = {
            let mut ui = shown(&bench.app, SCREEN);
            let at = Point::new(600.0, 300.0);
            ui.point_at(at);
            let _ = ui.simulate([Event::Mouse(mouse::Event::CursorMoved { position: at })]);
            ui.into_messages().collect()
        };
        for message in messages {
            bench.send(message);
        }
    }
    let origin = canvas_origin(&mut shown(&bench.app, SCREEN), bench.app.canvas().camera.viewport_px);
    let pixel = |it: &(f64, f64)| {
        let at = bench.px(it.0, it.1);
        #[expect(clippy::cast_possible_truncation, reason = "pixels of a screen")]
        let whole = |origin: f32, px: f64| (origin + to_px(px)).round() as i64;
        (whole(origin.x, at.x), whole(origin.y, at.y))
    };
    places.iter().map(pixel).collect()
}

pub(crate) fn read(path: &Path) -> Option<Joint> {
    file::read(&std::fs::read_to_string(path).ok()?, &Stock::built_in()).ok()
}

/// The window on a file, with nothing of the desktop round it: no file dialog and no settings of the user.
pub(crate) fn open(file: Option<&Path>, home: &Path, display: &str) -> Running {
    let mut command = Command::new(env!("CARGO_BIN_EXE_shankline"));
    command.args(file).env_clear().env("DISPLAY", display).env("HOME", home).env("ICED_BACKEND", "tiny-skia");
    // A file of this name makes the program fail on purpose, once.
    command.env("SHANKLINE_REHEARSE", home.join("rehearse"));
    command.env("DBUS_SESSION_BUS_ADDRESS", format!("unix:path={}", home.join("no-bus").display()));
    if let Some(libraries) = std::env::var_os("LD_LIBRARY_PATH") {
        command.env("LD_LIBRARY_PATH", libraries);
    }
    let child = command.stdout(Stdio::null()).stderr(Stdio::piped()).spawn();
    Running(child.expect("the program was built for this test"))
}

/// Waits until the window is there and has the keyboard; what the program said where it has ended instead.
pub(crate) fn focus(hand: &Hand, app: &mut Running) -> Result<(), String> {
    let found = wait_for(|| {
        if app.0.try_wait().ok()?.is_some() {
            let mut said = String::new();
            let _ = app.0.stderr.take()?.read_to_string(&mut said);
            return Some(Err(said));
        }
        let window = hand.does(&["search", "--onlyvisible", "--name", "Shankline"]);
        let window = window.lines().next()?.to_owned();
        let _ = hand.does(&["windowfocus", &window]);
        (hand.does(&["getwindowfocus", "-f"]) == window).then_some(Ok(()))
    });
    found.unwrap_or_else(|| Err("no window came up".into()))
}

/// Types the path of the detail into the panel that asks for it, once that panel is there.
fn export(hand: &Hand, detail: &Path) {
    let typed = detail.display().to_string();
    let is_there = wait_for(|| {
        hand.key("Escape");
        hand.key("ctrl+e");
        std::thread::sleep(Duration::from_millis(600));
        hand.key("ctrl+a");
        let _ = hand.does(&["type", "--delay", "4", &typed]);
        hand.key("Return");
        let began = Instant::now();
        while began.elapsed() < Duration::from_secs(2) {
            if std::fs::read_to_string(detail).is_ok_and(|it| it.trim_end().ends_with("</svg>")) {
                return Some(());
            }
            std::thread::sleep(Duration::from_millis(40));
        }
        None
    });
    assert!(is_there.is_some(), "nothing was exported to {typed}");
}

/// What the command line draws of the same file.
fn drawn(file: &Path, to: PathBuf) -> String {
    let done =
        Command::new(env!("CARGO_BIN_EXE_shankline")).arg("draw").arg(file).arg("-o").arg(&to).output();
    assert!(done.is_ok_and(|it| it.status.code().is_some_and(|code| code < 2)));
    std::fs::read_to_string(to).expect("it was written")
}

pub(crate) fn missing(what: &str) {
    let must = std::env::var("SHANKLINE_WINDOW_TEST").is_ok_and(|it| it == "must");
    assert!(!must, "the window was not driven: {what}");
    // Written past the capture of test output, so that it is seen when the test passes.
    let _ = writeln!(std::io::stderr(), "The window was not driven: {what}.");
}

/// The lower lag screw of the sample stands at x 0, y 50.8 mm and is 88.9 mm long. Its point is dragged to where a
/// shank that rises by 20 degrees would end: (88.9 cos 20, 50.8 + 88.9 sin 20). Turns snap to whole degrees.
#[test]
fn a_real_session_turns_a_screw_undoes_it_exports_saves_and_closes() {
    for tool in ["Xvfb", "xdotool"] {
        if !is_installed(tool) {
            return missing(&format!("{tool} is not installed"));
        }
    }
    let folder = tempfile::tempdir().expect("a folder for the session");
    let sample = Path::new(env!("CARGO_MANIFEST_DIR")).join("sample-projects/heron-lane-ledger.joint.json");
    let path = folder.path().join("ledger.joint.json");
    let _ = std::fs::copy(sample, &path).expect("the sample is copied");
    let original = read(&path).expect("the sample is sound");
    let (sin, cos) = 20.0_f64.to_radians().sin_cos();
    let places = pixels(&path, &[(88.9, 50.8), (88.9 * cos, 50.8 + 88.9 * sin)]);

    let (_server, display) = screen();
    let mut app = open(Some(&path), folder.path(), &display);
    let hand = Hand { display };
    if let Err(said) = focus(&hand, &mut app) {
        return missing(said.lines().next().unwrap_or("the program ended at once"));
    }

    hand.drag(places[0], places[1]);
    hand.key("ctrl+s");
    let turned = wait_for(|| read(&path).filter(|it| *it != original)).expect("the turn is saved");
    let mut wanted = original.clone();
    let Placement::Free { toward, .. } = &mut wanted.fasteners[1].place else { panic!("it stands free") };
    let Placement::Free { toward: got, .. } = turned.fasteners[1].place else { panic!("it stands free") };
    assert!((got - Vec3::new(cos, sin, 0.0)).length() < 1e-9, "{got:?}");
    *toward = got;
    assert_eq!(turned, wanted, "nothing else has changed");

    hand.key("ctrl+z");
    hand.key("ctrl+s");
    assert!(wait_for(|| read(&path).filter(|it| *it == original)).is_some(), "undone and saved");

    let detail = folder.path().join("detail.svg");
    export(&hand, &detail);
    let exported = std::fs::read_to_string(&detail).expect("it was exported");
    assert_eq!(
        exported,
        drawn(&path, folder.path().join("drawn.svg")),
        "the window draws what the command draws"
    );
    assert!(exported.contains("Heron Lane footbridge, ledger on the rim"));
    assert_eq!(read(&path), Some(original), "an export leaves the joint alone");

    hand.key("ctrl+y");
    hand.key("ctrl+q");
    std::thread::sleep(Duration::from_millis(500));
    assert!(app.0.try_wait().is_ok_and(|it| it.is_none()), "unsaved work is asked about, not thrown away");
    hand.key("Return");
    let ended = wait_for(|| app.0.try_wait().ok().flatten()).expect("it saves and closes");
    assert!(ended.success());
    assert_eq!(read(&path), Some(turned), "saved on the way out");
}
