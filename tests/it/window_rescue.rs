//! A failure of the program itself: the work is saved first, what happened is shown, and the work is offered again.

use std::path::Path;
use std::time::Duration;

use shankline::joint::Joint;
use shankline::window::App;
use shankline::window::dialog::Dialog;

use super::window_bench;
use super::window_clicks::shown;
use super::window_real::{Hand, SCREEN, focus, is_installed, missing, open, read, screen, wait_for};

/// What a window says that was begun again.
fn after(app: App) -> App {
    app.after_a_stop(Some("attempt to add with overflow (src/trace/core.rs:12)".into()))
}

#[test]
fn a_window_that_begins_again_says_why_and_that_nothing_was_unsaved() {
    let app = after(App::new(window_bench::stock(), Joint::default(), None));
    let Dialog::Problems { head, lines } = app.dialog() else { panic!("{:?}", app.dialog()) };
    assert!(head.contains("begin again"), "{head}");
    assert!(lines[0].contains("core.rs:12") && lines[1].contains("Nothing was unsaved"), "{lines:?}");
    let mut ui = shown(&app, SCREEN);
    assert!(ui.find("Shankline had to begin again").is_ok());
}

#[test]
fn a_window_that_finds_work_says_why_it_had_to_begin_again() {
    let folder = tempfile::tempdir().expect("a folder");
    let kept = folder.path().join("unsaved/4294967295-0.joint.json");
    let text = shankline::joint::file::write(&window_bench::joint());
    shankline::window::keeper::keep(&kept, &text, None).expect("it can be written");
    let app = App::new(window_bench::stock(), Joint::default(), None).kept_in(folder.path().to_owned());
    let app = after(app);
    let Dialog::Recover(found) = app.dialog() else { panic!("{:?}", app.dialog()) };
    assert!(found[0].why.as_deref().is_some_and(|it| it.contains("core.rs:12")), "{found:?}");
    let mut ui = shown(&app, SCREEN);
    assert!(ui.find("Unsaved work was found").is_ok());
}

/// All that is kept aside there.
fn kept(home: &Path) -> Vec<Joint> {
    let files = std::fs::read_dir(home.join(".local/state/shankline/unsaved"));
    files.into_iter().flatten().filter_map(Result::ok).filter_map(|it| read(&it.path())).collect()
}

#[test]
fn a_real_window_that_fails_saves_the_work_begins_again_and_offers_it() {
    for tool in ["Xvfb", "xdotool"] {
        if !is_installed(tool) {
            return missing(&format!("{tool} is not installed"));
        }
    }
    let home = tempfile::tempdir().expect("a folder for the session");
    let sample = Path::new(env!("CARGO_MANIFEST_DIR")).join("sample-projects/heron-lane-ledger.joint.json");
    let path = home.path().join("ledger.joint.json");
    let _ = std::fs::copy(sample, &path).expect("the sample is copied");
    let original = read(&path).expect("the sample is sound");
    let (_server, display) = screen();
    let hand = Hand { display };
    let mut app = open(Some(&path), home.path(), &hand.display);
    if let Err(said) = focus(&hand, &mut app) {
        return missing(said.lines().next().unwrap_or("the program ended at once"));
    }
    // Everything is nudged, and kept aside.
    let edited = wait_for(|| {
        hand.key("ctrl+a");
        hand.key("Up");
        std::thread::sleep(Duration::from_millis(300));
        kept(home.path()).into_iter().next()
    });
    assert!(edited.is_some_and(|it| it != original), "the work is kept aside");
    std::thread::sleep(Duration::from_millis(500));
    let before = kept(home.path());
    // The next thing that happens makes it fail.
    std::fs::write(home.path().join("rehearse"), "").expect("it can be written");
    hand.key("Up");
    let failed = wait_for(|| (!home.path().join("rehearse").exists()).then_some(()));
    assert!(failed.is_some(), "it failed as asked");
    std::thread::sleep(Duration::from_millis(1500));
    assert!(app.0.try_wait().is_ok_and(|it| it.is_none()), "the window is there again, in the same process");
    assert!(focus(&hand, &mut app).is_ok(), "and has the keyboard");
    let after = kept(home.path());
    assert_eq!(after.len(), 1, "the work is there once");
    assert_ne!(after, before, "with the step in which it failed");
    // The first button of the panel opens the work; then it is saved where it belongs.
    let saved = wait_for(|| {
        hand.key("Return");
        std::thread::sleep(Duration::from_millis(700));
        hand.key("ctrl+s");
        std::thread::sleep(Duration::from_millis(700));
        read(&path).filter(|it| *it != original)
    });
    assert_eq!(saved.as_ref(), after.first(), "what was rescued is saved");
}
