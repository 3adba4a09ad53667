//! The safety of the work: kept aside, found again, guarded against others; and no action that cannot be undone.

use std::path::Path;
use std::sync::Arc;

use iced::keyboard::key::Named;
use iced_test::selector;
use shankline::joint::{Joint, file};
use shankline::stock::Stock;
use shankline::window::actions;
use shankline::window::dialog::{self, Dialog, Then};
use shankline::window::look::Command;
use shankline::window::{App, Message, selected, stock};

use super::window_bench::{self, Bench};
use super::window_clicks::shown;
use super::window_session::{ctrl, letter, named};

fn kept(folder: &Path, path: Option<&Path>) -> Bench {
    let app = App::new(window_bench::stock(), window_bench::joint(), path.map(Path::to_owned));
    Bench::with(app.kept_in(folder.to_owned()))
}

fn files_in(folder: &Path) -> usize {
    std::fs::read_dir(folder.join("unsaved")).map_or(0, |it| it.filter_map(Result::ok).count())
}

fn nudge(bench: &mut Bench) {
    bench.press((0.0, 76.2));
    bench.release((0.0, 76.2));
    bench.send(named(Named::ArrowUp));
}

#[test]
fn unsaved_work_is_kept_aside_after_every_step_and_found_again() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("porch é.joint.json");
    let mut bench = kept(folder.path(), Some(&path));
    assert_eq!(files_in(folder.path()), 0, "nothing is written before something is changed");
    nudge(&mut bench);
    nudge(&mut bench);
    let work = bench.app.document().joint().clone();
    assert_eq!(files_in(folder.path()), 2, "the work, and where it belongs");
    assert!(!path.exists(), "the user's own file is left alone");
    // The window is gone without a word: the next one finds the work.
    drop(bench);
    let mut next = kept(folder.path(), None);
    let Dialog::Recover(found) = next.app.dialog().clone() else { panic!("{:?}", next.app.dialog()) };
    assert_eq!(found.len(), 1);
    assert_eq!(found[0].origin.as_ref().map(|it| it.path.as_path()), Some(path.as_path()));
    next.send(Message::Dialog(dialog::Message::OpenFound(0)));
    assert_eq!(next.app.document().joint(), &work);
    assert!(next.app.document().journal.edited(), "it is still to be saved");
    assert!(!found[0].kept.exists(), "it has a file of this window's own now");
    assert_eq!(files_in(folder.path()), 2);
    next.send(ctrl("s"));
    assert_eq!(
        file::read(&std::fs::read_to_string(&path).unwrap(), &window_bench::stock()).as_ref(),
        Ok(&work)
    );
    next.send(letter("f"));
    assert_eq!(files_in(folder.path()), 0, "saved work needs no keeping");
}

#[test]
fn the_window_looks_as_it_was_left() {
    let folder = tempfile::tempdir().unwrap();
    let mut bench = kept(folder.path(), None);
    let light = bench.app.colours();
    bench.send(Message::Selected(selected::Message::Pressed(Command::Lights)));
    let dark = bench.app.colours();
    assert_ne!(light, dark);
    bench.send(Message::Selected(selected::Message::Pressed(Command::Scale(false))));
    let scale = bench.app.scale();
    assert!(scale < 1.0);
    drop(bench);
    let next = kept(folder.path(), None);
    assert_eq!((next.app.colours(), next.app.scale().to_bits()), (dark, scale.to_bits()));
}

#[test]
fn work_goes_only_when_somebody_says_so() {
    let folder = tempfile::tempdir().unwrap();
    let mut bench = kept(folder.path(), None);
    nudge(&mut bench);
    drop(bench);
    let mut next = kept(folder.path(), None);
    next.send(Message::Dialog(dialog::Message::CancelPressed));
    assert_eq!(files_in(folder.path()), 1, "later is not never");
    drop(next);
    let mut next = kept(folder.path(), None);
    next.send(Message::Dialog(dialog::Message::DiscardFound(0)));
    assert_eq!(files_in(folder.path()), 0);
    assert_eq!(next.app.dialog(), &Dialog::Closed);
}

#[test]
fn undoing_everything_leaves_nothing_to_be_found() {
    let folder = tempfile::tempdir().unwrap();
    let mut bench = kept(folder.path(), None);
    nudge(&mut bench);
    bench.send(ctrl("z"));
    assert_eq!(files_in(folder.path()), 0);
}

#[test]
fn a_folder_that_cannot_be_written_is_told_and_stops_nobody() {
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("a file");
    std::fs::write(&file, "no folder").unwrap();
    let mut bench = kept(&file, None);
    nudge(&mut bench);
    assert!(bench.app.said().is_some_and(|it| it.contains("not kept aside")), "{:?}", bench.app.said());
    assert!((bench.free(0).0.y - 79.375).abs() < 1e-9, "the step is done");
}

#[test]
fn a_file_changed_by_another_program_is_noticed_and_not_written_over_unasked() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("a.joint.json");
    std::fs::write(&path, file::write(&window_bench::joint())).unwrap();
    let mut bench = Bench::with(App::open(window_bench::stock(), path.clone()));
    bench.send(Message::Focused);
    assert_eq!(bench.app.dialog(), &Dialog::Closed);
    let other = Joint { title: "By somebody else".into(), ..window_bench::joint() };
    std::fs::write(&path, file::write(&other)).unwrap();
    bench.send(Message::Focused);
    assert_eq!(bench.app.dialog(), &Dialog::Changed { saving: false });
    bench.send(Message::Dialog(dialog::Message::ReadAgain));
    assert_eq!(bench.app.document().joint(), &other);
    nudge(&mut bench);
    std::fs::write(&path, "somebody's notes").unwrap();
    asks_before_it_saves(&mut bench, &path);
}

/// Saving over what another program wrote is asked about, and done when that is wanted.
#[track_caller]
fn asks_before_it_saves(bench: &mut Bench, path: &Path) {
    bench.send(ctrl("s"));
    assert_eq!(bench.app.dialog(), &Dialog::Changed { saving: true });
    assert_eq!(std::fs::read_to_string(path).expect("it can be read"), "somebody's notes");
    bench.send(Message::Dialog(dialog::Message::KeepMine));
    assert!(
        file::read(&std::fs::read_to_string(path).expect("it can be read"), &window_bench::stock()).is_ok()
    );
    assert!(!bench.app.document().journal.edited());
}

/// Work on a file that was kept aside and is opened by the next window; `between` happens to the file before that.
fn found_again(folder: &Path, path: &Path, between: impl FnOnce()) -> Bench {
    std::fs::write(path, file::write(&window_bench::joint())).expect("it can be written");
    let mut bench = Bench::with(App::open(window_bench::stock(), path.to_owned()).kept_in(folder.to_owned()));
    nudge(&mut bench);
    drop(bench);
    between();
    let mut next = kept(folder, None);
    next.send(Message::Dialog(dialog::Message::OpenFound(0)));
    assert_eq!(next.app.dialog(), &Dialog::Closed);
    next
}

#[test]
fn work_that_was_found_again_writes_over_no_other_program_unasked() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("a.joint.json");
    let other = || std::fs::write(&path, "somebody's notes").unwrap();
    let is_asked = |mut bench: Bench| asks_before_it_saves(&mut bench, &path);
    // Written by another after the work was opened again, before it, and while it was kept aside a second time.
    let bench = found_again(folder.path(), &path, || ());
    other();
    is_asked(bench);
    is_asked(found_again(folder.path(), &path, other));
    drop(found_again(folder.path(), &path, other));
    let mut third = kept(folder.path(), None);
    third.send(Message::Dialog(dialog::Message::OpenFound(0)));
    is_asked(third);
    // A companion that does not tell how the file was: it may have been written since.
    let origins = || std::fs::read_dir(folder.path().join("unsaved")).unwrap().filter_map(Result::ok);
    let forget = || {
        for it in origins().filter(|it| it.path().extension().is_some_and(|it| it == "origin")) {
            std::fs::write(it.path(), path.display().to_string()).unwrap();
        }
        other();
    };
    is_asked(found_again(folder.path(), &path, forget));
    // Nobody else has written it: it is saved without a question.
    let mut bench = found_again(folder.path(), &path, || ());
    bench.send(Message::Focused);
    bench.send(ctrl("s"));
    assert_eq!(bench.app.dialog(), &Dialog::Closed);
    assert!(!bench.app.document().journal.edited());
}

#[test]
fn recent_files_are_listed_and_a_dropped_file_is_opened() {
    let folder = tempfile::tempdir().unwrap();
    let paths = ["a", "b"].map(|it| folder.path().join(format!("{it}.joint.json")));
    for path in &paths {
        std::fs::write(path, file::write(&window_bench::joint())).unwrap();
    }
    let app = App::new(window_bench::stock(), Joint::default(), None).kept_in(folder.path().join("state"));
    let mut bench = Bench::with(app);
    for path in &paths {
        bench.send(Message::Hovered(true));
        assert!(
            shown(&bench.app, iced::Size::new(1280.0, 800.0)).find("Drop a joint file to open it").is_ok()
        );
        bench.send(Message::Dropped(path.clone()));
        assert_eq!(bench.app.document().path.as_ref(), Some(path));
    }
    assert_eq!(bench.app.recent(), [paths[1].clone(), paths[0].clone()]);
    nudge(&mut bench);
    bench.send(ctrl("r"));
    bench.send(Message::Dialog(dialog::Message::RecentPressed(paths[0].clone())));
    assert_eq!(bench.app.dialog(), &Dialog::Unsaved(Then::OpenThis(paths[0].clone())));
    bench.send(Message::Dialog(dialog::Message::DiscardPressed));
    assert_eq!(bench.app.document().path.as_ref(), Some(&paths[0]));
    bench.send(ctrl("r"));
    bench.send(Message::Dialog(dialog::Message::ClearRecentPressed));
    assert!(bench.app.recent().is_empty());
}

#[test]
fn an_action_is_searched_and_done_by_the_keyboard_alone() {
    let mut bench = Bench::new(None);
    bench.send(letter("/"));
    let messages: Vec<Message> = {
        let mut ui = shown(&bench.app, iced::Size::new(1280.0, 1000.0));
        let field = selector::id(iced::widget::Id::new(actions::FIELD));
        assert!(ui.click(field).is_ok());
        let _ = ui.typewrite("everything");
        ui.into_messages().collect()
    };
    for message in messages {
        bench.send(message);
    }
    bench.send(Message::Dialog(dialog::Message::SearchEntered));
    assert_eq!(bench.app.dialog(), &Dialog::Closed);
    assert_eq!(bench.app.all_chosen().count(), 4);
    bench.send(letter("/"));
    bench.send(named(Named::ArrowDown));
    assert!(matches!(bench.app.dialog(), Dialog::Actions { at: 1, .. }), "{:?}", bench.app.dialog());
}

/// Every action, done with each sort of thing chosen: what changes the joint can be undone, as one step.
#[test]
fn no_action_lacks_undo() {
    let stock = Arc::new(Stock::built_in());
    let text = include_str!("../../sample-projects/osier-lane-strap.joint.json");
    let joint = file::read(text, &stock).expect("the sample is sound");
    let hanger = &joint.connectors[0];
    let hole = hanger.plates.iter().flat_map(|it| &it.holes).last().expect("it has holes").id.clone();
    use shankline::drawing::Subject;
    let sorts = [
        Subject::Member(joint.members[0].id.clone()),
        Subject::Connector(hanger.id.clone()),
        Subject::Hole(hanger.id.clone(), hole),
        Subject::Fastener(joint.fasteners[0].id.clone()),
    ];
    let mut changed = std::collections::BTreeSet::new();
    let mut bench = Bench::with(App::new(stock.clone(), joint.clone(), None));
    bench.clipboard = Some(text.to_owned());
    let press = |bench: &mut Bench, command| {
        bench.send(Message::Top(shankline::window::top::Message::Pressed(command)));
    };
    for subject in &sorts {
        for entry in actions::ALL {
            if matches!(
                entry.command,
                Command::Close
                    | Command::New
                    | Command::Open
                    | Command::SaveAs
                    | Command::Save
                    | Command::Export
            ) {
                // They ask first, and what they do is no change of this joint.
                continue;
            }
            for _ in 0..4 {
                bench.send(named(Named::Escape));
            }
            bench.send(Message::Stock(stock::Message::ThingPressed(subject.clone())));
            let before = bench.app.document().journal.done().count();
            press(&mut bench, entry.command);
            let after = bench.app.document().joint().clone();
            let steps = bench.app.document().journal.done().count();
            assert_eq!(after != joint, steps == before + 1, "{}: a change is one step", entry.words);
            if after != joint {
                let _ = changed.insert(entry.words);
                press(&mut bench, Command::Undo);
                assert_eq!(bench.app.document().joint(), &joint, "{} is undone", entry.words);
                press(&mut bench, Command::Redo);
                assert_eq!(bench.app.document().joint(), &after, "{} is done again", entry.words);
                press(&mut bench, Command::Undo);
            }
        }
    }
    assert!(12 <= changed.len(), "the actions that change a joint were tried: {changed:?}");
}

/// The task of a message, not yet run.
fn begun(bench: &mut Bench, message: Message) -> iced::Task<Message> {
    bench.app.update(message)
}

/// Runs a task, and what comes of it.
fn go_on(bench: &mut Bench, task: iced::Task<Message>) {
    use iced_test::futures::futures::StreamExt as _;
    use iced_test::futures::futures::executor::block_on;
    let Some(mut stream) = iced_test::runtime::task::into_stream(task) else { return };
    while let Some(action) = block_on(stream.next()) {
        if let iced_test::runtime::Action::Output(message) = action {
            bench.send(message);
        }
    }
}

#[test]
fn a_file_is_opened_and_written_beside_the_window_which_says_so_and_can_stop_it() {
    use shankline::window::files::Purpose;
    let folder = tempfile::tempdir().unwrap();
    let (old, detail) = (folder.path().join("sill.joint.json"), folder.path().join("sill.svg"));
    // So many notes that they need a page of their own.
    let mut joint = window_bench::joint();
    joint.notes = (1..=90).map(|it| format!("Look at board {it} before it is covered.")).collect();
    std::fs::write(&old, file::write(&joint)).unwrap();
    let mut bench = Bench::with(App::new(window_bench::stock(), Joint::default(), None));
    let open = || Message::PathPicked(Purpose::Open, Some(old.clone()));
    let export = || Message::PathPicked(Purpose::Export, Some(detail.clone()));

    let task = begun(&mut bench, open());
    assert_eq!(bench.app.progress().as_deref(), Some("Opening sill.joint.json. Esc stops."));
    bench.send(named(Named::Escape));
    assert_eq!(bench.app.said(), Some("Stopped opening sill.joint.json."));
    go_on(&mut bench, task);
    assert_eq!(bench.app.document().joint(), &Joint::default(), "what was stopped does not come after all");

    let task = begun(&mut bench, open());
    go_on(&mut bench, task);
    assert_eq!(bench.app.document().joint(), &joint);
    assert_eq!(bench.app.progress(), None);

    let task = begun(&mut bench, export());
    assert_eq!(bench.app.progress().as_deref(), Some("Exporting sill.svg. Esc stops."));
    bench.send(named(Named::Escape));
    go_on(&mut bench, task);
    assert!(!detail.exists(), "nothing is written once it was stopped");

    let task = begun(&mut bench, export());
    go_on(&mut bench, task);
    assert!(detail.exists());
    // All that was written is named.
    let is_there = |n: &usize| folder.path().join(format!("sill-{n}.svg")).exists();
    let last = (2..).take_while(is_there).last().expect("it has several pages");
    let said = bench.app.said().unwrap_or_default();
    assert!(said.starts_with(&format!("Exported {}", detail.display())), "{said}");
    assert!(said.ends_with(&format!("sill-{last}.svg")), "{said}");
}
