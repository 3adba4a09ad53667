//! The program killed without a word, at any moment: a file is the old one or the new one, whole.
//!
//! A few dozen times in every run; `SHANKLINE_KILLS=500` asks for more and prints the figures.

use std::path::{Path, PathBuf};
use std::process::{Child, Command, Stdio};
use std::time::{Duration, Instant};

use super::say;
use crate::dice::Dice;

fn kills() -> usize {
    std::env::var("SHANKLINE_KILLS").ok().and_then(|it| it.parse().ok()).unwrap_or(24)
}

fn kill(mut child: Child) {
    let _ = child.kill();
    let _ = child.wait();
}

fn draw(from: &str, to: &Path) -> Child {
    Command::new(env!("CARGO_BIN_EXE_shankline"))
        .args(["draw", from, "-o"])
        .arg(to)
        .current_dir(env!("CARGO_MANIFEST_DIR"))
        .stderr(Stdio::null())
        .spawn()
        .expect("the program starts")
}

#[test]
fn an_export_that_is_killed_leaves_the_old_detail_or_the_new_one() {
    let folder = tempfile::tempdir().expect("a folder");
    let joints =
        ["sample-projects/heron-lane-ledger.joint.json", "sample-projects/osier-lane-strap.joint.json"];
    for ending in ["svg", "pdf"] {
        let whole: Vec<Vec<u8>> = joints
            .iter()
            .map(|it| {
                let path = folder.path().join(format!("whole.{ending}"));
                assert!(draw(it, &path).wait().is_ok_and(|it| it.success()));
                std::fs::read(&path).expect("it was drawn")
            })
            .collect();
        assert_ne!(whole[0], whole[1]);
        let path = folder.path().join(format!("porch.{ending}"));
        let began = Instant::now();
        assert!(draw(joints[0], &path).wait().is_ok_and(|it| it.success()));
        let usual = began.elapsed().as_secs_f64();
        let mut dice = Dice::new(11);
        let mut now = 0;
        let mut replaced = 0;
        let count = kills() / 4;
        for n in 0..count {
            let next = 1 - now;
            let child = draw(joints[next], &path);
            std::thread::sleep(Duration::from_secs_f64(usual * dice.between(0.5, 1.3)));
            kill(child);
            let found = std::fs::read(&path).expect("there is always a file");
            assert!(
                found == whole[now] || found == whole[next],
                "kill {n}: {} bytes of neither",
                found.len()
            );
            if found == whole[next] {
                (now, replaced) = (next, replaced + 1);
            }
        }
        say(&format!(
            "{count} exports of {ending} killed: {replaced} had replaced the file, the others left it"
        ));
    }
}

/// Every file of a folder by its name; what a killed save leaves half written is hidden and named for us.
fn files(folder: &Path) -> (Vec<PathBuf>, usize) {
    let all: Vec<PathBuf> = std::fs::read_dir(folder)
        .into_iter()
        .flatten()
        .filter_map(Result::ok)
        .map(|it| it.path())
        .filter(|it| it.is_file())
        .collect();
    let is_half =
        |it: &PathBuf| it.file_name().is_some_and(|it| it.to_string_lossy().starts_with(".shankline-"));
    let half = all.iter().filter(|it| is_half(it)).count();
    (all.into_iter().filter(|it| !is_half(it)).collect(), half)
}

#[cfg(feature = "window")]
mod window {
    use std::io::{BufRead as _, BufReader, Write as _};

    use iced::keyboard::key::Named;
    use shankline::joint::{Joint, Placement, file};
    use shankline::window::App;

    use super::*;
    use crate::window_bench::{self, Bench};
    use crate::window_session::{ctrl, named};

    /// A sixteenth of an inch, the step of a nudge.
    const STEP_MM: f64 = 25.4 / 16.0;

    const HERE: &str = "SHANKLINE_KILL_HERE";

    /// The window of `window_bench` at work in a folder: it nudges a nail, keeps that aside and saves every third
    /// time, until it is killed. Run by the test below, in a process of its own.
    #[test]
    #[ignore = "it goes on until it is killed"]
    fn works_until_it_is_killed() {
        let Some(folder) = std::env::var_os(HERE).map(PathBuf::from) else { return };
        let path = folder.join("porch.joint.json");
        let joint = std::fs::read_to_string(&path)
            .ok()
            .and_then(|it| file::read(&it, &window_bench::stock()).ok())
            .unwrap_or_else(window_bench::joint);
        let app = App::new(window_bench::stock(), joint, Some(path.clone()));
        let mut bench = Bench::with(app.kept_in(folder.join("state")));
        let (head, _) = bench.free(0);
        bench.press((head.x, head.y));
        bench.release((head.x, head.y));
        for n in 1.. {
            bench.send(named(if n % 40 < 20 { Named::ArrowUp } else { Named::ArrowDown }));
            if n % 3 == 0 {
                bench.send(ctrl("s"));
            }
            if n == 3 {
                say("ready");
                let _ = std::io::stdout().flush();
            }
        }
    }

    /// The joint with its first nail back where it began: nothing else may ever differ.
    fn put_back(mut joint: Joint) -> (Joint, f64) {
        let Placement::Free { head, toward } = joint.fasteners[0].place.clone() else {
            panic!("the first nail is free")
        };
        let mut first = head;
        first.y = 76.2;
        joint.fasteners[0].place = Placement::Free { head: first, toward };
        (joint, head.y)
    }

    #[test]
    fn a_window_that_is_killed_leaves_every_file_whole() {
        let folder = tempfile::tempdir().expect("a folder");
        let unsaved = folder.path().join("state/unsaved");
        let mut dice = Dice::new(7);
        let (mut half_in_all, mut aside, mut looked) = (0, 0, 0);
        let count = kills() / 2;
        for n in 0..count {
            let mut child = Command::new(std::env::current_exe().expect("this test is a program"))
                .args([
                    "--exact",
                    "trust::killed::window::works_until_it_is_killed",
                    "--ignored",
                    "--nocapture",
                ])
                .env(HERE, folder.path())
                .stdout(Stdio::piped())
                .stderr(Stdio::null())
                .spawn()
                .expect("the test starts");
            let answers = BufReader::new(child.stdout.take().expect("its output is piped"));
            assert!(
                answers.lines().map_while(Result::ok).any(|it| it.ends_with("ready")),
                "it began to work"
            );
            std::thread::sleep(Duration::from_secs_f64(dice.between(0.0, 0.06)));
            kill(child);
            let (whole, half) = files(folder.path());
            half_in_all += half;
            assert_eq!(whole, [folder.path().join("porch.joint.json")], "kill {n}");
            let (kept, half) = files(&unsaved);
            half_in_all += half;
            for path in whole.iter().chain(&kept) {
                let text = std::fs::read_to_string(path).expect("it is text");
                if path.extension().is_some_and(|it| it == "origin") {
                    assert_eq!(text.lines().next(), whole[0].to_str(), "kill {n}");
                    continue;
                }
                let read = file::read(&text, &window_bench::stock());
                let joint = read.unwrap_or_else(|it| panic!("kill {n}: {} {it:?}\n{text}", path.display()));
                let (joint, y) = put_back(joint);
                assert_eq!(joint, window_bench::joint(), "kill {n}: {}", path.display());
                let steps = (y - 76.2) / STEP_MM;
                assert!(
                    (steps - steps.round()).abs() < 1e-6,
                    "kill {n}: the nail is where no step leads: {y}"
                );
                looked += 1;
                aside += usize::from(path.starts_with(&unsaved));
            }
            // What was left is taken up or given up by the user; here it is given up.
            let _ = std::fs::remove_dir_all(&unsaved);
            for path in std::fs::read_dir(folder.path()).expect("it is there").filter_map(Result::ok) {
                if path.file_name().to_string_lossy().starts_with(".shankline-") {
                    let _ = std::fs::remove_file(path.path());
                }
            }
        }
        say(&format!(
            "{count} windows killed: {looked} files whole, {aside} of them kept aside; {half_in_all} hidden halves"
        ));
    }
}
