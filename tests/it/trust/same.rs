//! The same input gives the same bytes, whatever the machine is set to and however many at once.

use std::path::Path;
use std::process::{Command, Output, Stdio};

const SAMPLES: [&str; 8] = [
    "sample-projects/alder-court-hanger.joint.json",
    "sample-projects/ferry-yard-splice.joint.json",
    "sample-projects/heron-lane-ledger.joint.json",
    "sample-projects/kiln-house-stud.joint.json",
    "sample-projects/mill-row-floor.joint.json",
    "sample-projects/osier-lane-strap.joint.json",
    "sample-projects/quay-house-sill.joint.json",
    "sample-projects/weir-gate-post.joint.json",
];

/// The program in a plain environment, or in one that is set to something else throughout.
fn program(other: bool) -> Command {
    let mut command = Command::new(env!("CARGO_BIN_EXE_shankline"));
    let _ = command.current_dir(env!("CARGO_MANIFEST_DIR")).env_clear().stdin(Stdio::null());
    if other {
        let _ = command.envs([
            ("LANG", "de_DE.UTF-8"),
            ("LC_ALL", "tr_TR.UTF-8"),
            ("TZ", "Pacific/Chatham"),
            ("HOME", "/nowhere"),
            ("TMPDIR", "/nowhere"),
            ("COLUMNS", "17"),
            ("NO_COLOR", "1"),
            ("RAYON_NUM_THREADS", "7"),
            ("SOURCE_DATE_EPOCH", "1"),
        ]);
    }
    command
}

fn said(arguments: &[&str], other: bool) -> Output {
    program(other).args(arguments).output().expect("the program starts")
}

#[test]
fn what_is_printed_does_not_depend_on_the_machine() {
    for verb in [&["check"][..], &["check", "--json"], &["check", "--working"], &["compare", "--json"]] {
        let arguments: Vec<&str> = verb.iter().copied().chain(SAMPLES).collect();
        let (a, b) = (said(&arguments, false), said(&arguments, true));
        assert!(!a.stdout.is_empty(), "{verb:?}");
        assert_eq!((a.status.code(), &a.stdout), (b.status.code(), &b.stdout), "{verb:?}");
    }
}

#[test]
fn what_is_drawn_does_not_depend_on_the_machine() {
    for format in ["svg", "pdf", "png"] {
        for sample in [SAMPLES[0], SAMPLES[4]] {
            let arguments = ["draw", sample, "-o", "-", "--format", format, "--dpi", "96"];
            let (a, b) = (said(&arguments, false), said(&arguments, true));
            assert!(a.status.success() && !a.stdout.is_empty(), "{}", String::from_utf8_lossy(&a.stderr));
            assert!(a.stdout == b.stdout, "{sample} as {format} is another");
        }
    }
}

/// Eight threads at once draw what one draws alone, over and over.
#[test]
fn threads_at_once_give_the_same_as_one_alone() {
    use shankline::drawing::{self, Inputs};
    use shankline::joint::file;
    use shankline::stock::Stock;
    use shankline::{findings, paint, trace};
    let stock = Stock::built_in();
    let texts = SAMPLES.map(|it| {
        std::fs::read_to_string(Path::new(env!("CARGO_MANIFEST_DIR")).join(it)).expect("the sample is there")
    });
    let all = || -> Vec<String> {
        let drawn = texts.iter().flat_map(|text| {
            let joint = file::read(text, &stock).expect("it is a joint");
            let traced = trace::trace(&joint);
            let found = findings::judge(&joint, &traced);
            let pages = drawing::pages(&Inputs { joint: &joint, trace: &traced, findings: &found });
            pages.iter().map(paint::svg).collect::<Vec<_>>()
        });
        drawn.collect()
    };
    let alone = all();
    std::thread::scope(|scope| {
        let threads: Vec<_> = (0..8).map(|_| scope.spawn(all)).collect();
        for thread in threads {
            assert!(thread.join().expect("it ends") == alone, "another in a thread");
        }
    });
}

/// Nothing of the surroundings gets into a file: no name of the user, no folder, no word of the environment.
#[test]
fn nothing_of_the_machine_gets_into_what_is_drawn() {
    let folder = tempfile::tempdir().expect("a folder");
    let secret = "s3cret-of-this-machine";
    let path = folder.path().join("porch.joint.json");
    std::fs::copy(Path::new(env!("CARGO_MANIFEST_DIR")).join(SAMPLES[2]), &path).expect("it can be copied");
    for format in ["svg", "pdf", "png"] {
        let out = folder.path().join(format!("porch.{format}"));
        let done = program(false)
            .args(["draw", &path.to_string_lossy(), "-o", &out.to_string_lossy()])
            .envs([("USER", secret), ("HOME", secret), ("HOSTNAME", secret), ("TOKEN", secret)])
            .status();
        assert!(done.is_ok_and(|it| it.success()));
        let bytes = std::fs::read(&out).expect("it was drawn");
        let holds = |word: &str| bytes.windows(word.len()).any(|it| it == word.as_bytes());
        assert!(!holds(secret) && !holds(&folder.path().to_string_lossy()), "{format}");
    }
}

/// A detail is written where it was asked for and nowhere else, whatever the joint calls itself.
#[test]
fn what_a_joint_says_never_becomes_a_path() {
    let folder = tempfile::tempdir().expect("a folder");
    let (inside, out) = (folder.path().join("in"), folder.path().join("out"));
    std::fs::create_dir(&inside).expect("a folder");
    std::fs::create_dir(&out).expect("a folder");
    let path = inside.join("porch.joint.json");
    let text = r#"{"format": "shankline-joint", "version": 1, "title": "../../etc/x\u0000y", "sheet":
        {"detail": "/tmp/detail", "number": "..\\..\\n", "owner": "~/owner"}}"#;
    std::fs::write(&path, text).expect("it can be written");
    for format in ["svg", "pdf", "png"] {
        let done = program(false)
            .args(["draw", &path.to_string_lossy(), "-o", &out.to_string_lossy(), "--format", format])
            .args(["--dpi", "30"])
            .output()
            .expect("the program starts");
        assert!(done.status.success(), "{}", String::from_utf8_lossy(&done.stderr));
    }
    let names = |folder: &Path| {
        let mut all: Vec<String> = std::fs::read_dir(folder)
            .expect("it is there")
            .filter_map(Result::ok)
            .map(|it| it.file_name().to_string_lossy().into_owned())
            .collect();
        all.sort();
        all
    };
    assert_eq!(names(folder.path()), ["in", "out"]);
    assert_eq!(names(&inside), ["porch.joint.json"]);
    assert_eq!(names(&out), ["porch.pdf", "porch.png", "porch.svg"]);
}

/// Words of a joint cannot work the terminal that they are printed on.
#[test]
fn what_a_joint_says_never_works_the_terminal() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("p\u{1b}[31m.joint.json");
    let text = r#"{"format": "shankline-joint", "version": 1, "title": "a\u001b[2J\u009b31m\u202eb"}"#;
    std::fs::write(&path, text).expect("it can be written");
    let acts = |it: char| it != '\n' && it.is_control() || it == '\u{202e}';
    for more in [&["check"][..], &["check", "--json"], &["check", "/no/such/\u{1b}[31m"]] {
        let arguments: Vec<&str> =
            more.iter().copied().chain(std::iter::once(path.to_str().expect("UTF-8"))).collect();
        let done = said(&arguments, false);
        for bytes in [&done.stdout, &done.stderr] {
            let text = String::from_utf8_lossy(bytes);
            assert!(!text.chars().any(acts), "{more:?}: {text:?}");
        }
        assert!(String::from_utf8_lossy(&done.stdout).contains("[2J"), "the title is told");
    }
}
