//! Disks that fill up, folders that go or cannot be written: a clear message, and the work still there.

use std::path::{Path, PathBuf};
use std::process::{Command, Output};

use super::say;

const SAMPLE: &str = "sample-projects/heron-lane-ledger.joint.json";

fn draw(to: &Path) -> Output {
    Command::new(env!("CARGO_BIN_EXE_shankline"))
        .args(["draw", SAMPLE, "-o"])
        .arg(to)
        .current_dir(env!("CARGO_MANIFEST_DIR"))
        .output()
        .expect("the program starts")
}

#[track_caller]
fn not_written(done: &Output, path: &Path) {
    let said = String::from_utf8_lossy(&done.stderr);
    assert_eq!(done.status.code(), Some(3), "{said}");
    let head = format!("{} cannot be written: ", path.display());
    assert!(said.starts_with(&head) && said.contains("what stood there is untouched"), "{said}");
}

/// A disk of a few pages, where the system lets us have one.
struct Small(PathBuf);

impl Small {
    fn mounted(at: PathBuf) -> Option<Self> {
        std::fs::create_dir(&at).ok()?;
        let done =
            Command::new("mount").args(["-t", "tmpfs", "-o", "size=64k", "none"]).arg(&at).output().ok()?;
        done.status.success().then_some(Self(at))
    }
}

impl Drop for Small {
    fn drop(&mut self) {
        let _ = Command::new("umount").arg(&self.0).output();
    }
}

#[test]
fn a_full_disk_leaves_what_stood_there() {
    let folder = tempfile::tempdir().expect("a folder");
    let Some(disk) = Small::mounted(folder.path().join("disk")) else {
        return say("no small disk can be mounted here; nothing was tested");
    };
    let path = disk.0.join("porch.pdf");
    std::fs::write(&path, "the old detail").expect("there is room for that");
    let _ = std::fs::write(disk.0.join("ballast"), vec![0_u8; 1 << 20]);
    not_written(&draw(&path), &path);
    assert_eq!(std::fs::read_to_string(&path).expect("it is there"), "the old detail");
    let names: Vec<_> = std::fs::read_dir(&disk.0).expect("it is there").filter_map(Result::ok).collect();
    assert_eq!(names.len(), 2, "nothing half written is left: {names:?}");
}

#[test]
fn folders_that_are_gone_or_cannot_be_written_are_named() {
    let folder = tempfile::tempdir().expect("a folder");
    let gone = folder.path().join("gone/porch.svg");
    not_written(&draw(&gone), &gone);
    let taken = folder.path().join("file");
    std::fs::write(&taken, "a file").expect("it can be written");
    let below = taken.join("porch.svg");
    not_written(&draw(&below), &below);
    #[cfg(target_os = "linux")]
    {
        // Nobody can make a file there, not even an administrator.
        let path = Path::new("/proc/porch.svg");
        not_written(&draw(path), path);
    }
}

#[cfg(feature = "window")]
mod window {
    use shankline::joint::file;
    use shankline::window::dialog::Dialog;
    use shankline::window::{App, Message, dialog};

    use super::*;
    use crate::window_bench::{self, Bench};
    use crate::window_session::{ctrl, named};

    fn edited(folder: &Path, path: &Path) -> Bench {
        let app = App::new(window_bench::stock(), window_bench::joint(), Some(path.to_owned()));
        let mut bench = Bench::with(app.kept_in(folder.to_owned()));
        bench.press((0.0, 76.2));
        bench.release((0.0, 76.2));
        bench.send(named(iced::keyboard::key::Named::ArrowUp));
        assert!(bench.app.document().journal.edited());
        bench
    }

    #[track_caller]
    fn save_fails(bench: &mut Bench, path: &Path) {
        bench.send(ctrl("s"));
        let Dialog::Problems { head, lines } = bench.app.dialog().clone() else {
            panic!("a message is shown: {:?}", bench.app.dialog())
        };
        let said = format!("{head} {}", lines.join(" "));
        assert!(said.contains(&path.display().to_string()) || said.contains("porch"), "{said}");
        assert!(bench.app.document().journal.edited(), "it is still unsaved");
        bench.send(Message::Dialog(dialog::Message::CancelPressed));
    }

    #[test]
    fn a_folder_that_vanishes_costs_no_work_and_comes_back() {
        let folder = tempfile::tempdir().expect("a folder");
        let share = folder.path().join("share");
        std::fs::create_dir(&share).expect("a folder");
        let path = share.join("porch.joint.json");
        let mut bench = edited(&folder.path().join("state"), &path);
        std::fs::remove_dir(&share).expect("it goes");
        save_fails(&mut bench, &path);
        let work = bench.app.document().joint().clone();
        std::fs::create_dir(&share).expect("it comes back");
        bench.send(ctrl("s"));
        assert_eq!(*bench.app.dialog(), Dialog::Closed, "the second time it is saved");
        let text = std::fs::read_to_string(&path).expect("it was saved");
        assert_eq!(file::read(&text, &window_bench::stock()), Ok(work));
    }

    #[test]
    fn a_full_disk_costs_no_work() {
        let folder = tempfile::tempdir().expect("a folder");
        let Some(disk) = Small::mounted(folder.path().join("disk")) else {
            return say("no small disk can be mounted here; nothing was tested");
        };
        let path = disk.0.join("porch.joint.json");
        let old = file::write(&window_bench::joint());
        std::fs::write(&path, &old).expect("there is room for that");
        let mut bench = edited(&folder.path().join("state"), &path);
        let _ = std::fs::write(disk.0.join("ballast"), vec![0_u8; 1 << 20]);
        save_fails(&mut bench, &path);
        assert_eq!(std::fs::read_to_string(&path).ok(), Some(old), "the old file is whole");
        std::fs::remove_file(disk.0.join("ballast")).expect("room is made");
        bench.send(ctrl("s"));
        assert_ne!(std::fs::read_to_string(&path).ok(), None);
        assert!(!bench.app.document().journal.edited(), "saved: {:?}", bench.app.dialog());
    }

    /// A state folder that cannot be written is told, and the window works on.
    #[test]
    fn work_that_cannot_be_kept_aside_is_told() {
        let folder = tempfile::tempdir().expect("a folder");
        let taken = folder.path().join("state");
        std::fs::write(&taken, "a file where the folder should be").expect("it can be written");
        let bench = edited(&taken, &folder.path().join("porch.joint.json"));
        let said = bench.app.said().unwrap_or_default();
        assert!(said.contains("not kept aside") && said.contains("state"), "{said}");
    }
}
