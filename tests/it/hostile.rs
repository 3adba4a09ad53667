//! Joint files that are damaged, huge or hostile: never a panic, never a long wait, and what is
//! drawn is well-formed.

use std::panic::catch_unwind;
use std::path::Path;
use std::time::{Duration, Instant};

use shankline::drawing::{self, Inputs};
use shankline::joint::file;
use shankline::stock::Stock;
use shankline::{findings, paint, trace};
use usvg::roxmltree;

use crate::damage::{letters, numbers, values};
use crate::dice::Dice;

/// Files of each way of damage.
const FILES: u64 = 500;

/// Far above what one damaged file takes, far below what a person would wait.
const LONGEST: Duration = Duration::from_secs(10);

fn samples() -> Vec<String> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("sample-projects");
    let mut paths: Vec<_> = std::fs::read_dir(folder)
        .expect("the samples are there")
        .map(|it| it.expect("the entry can be read").path())
        .filter(|it| it.to_string_lossy().ends_with(".joint.json"))
        .collect();
    paths.sort();
    assert!(!paths.is_empty(), "there are samples");
    paths.iter().map(|it| std::fs::read_to_string(it).expect("it can be read")).collect()
}

/// From a text to its picture; whether the text was a sound joint.
fn chain(text: &str, stock: &Stock) -> bool {
    let Ok(joint) = file::read(text, stock) else { return false };
    let traced = trace::trace(&joint);
    let found = findings::judge(&joint, &traced);
    for page in drawing::pages(&Inputs { joint: &joint, trace: &traced, findings: &found }) {
        let svg = paint::svg(&page);
        if let Err(why) = roxmltree::Document::parse(&svg) {
            panic!("the picture is no XML: {why}");
        }
    }
    // What was read can be written and read again.
    assert_eq!(file::read(&file::write(&joint), stock).as_ref(), Ok(&joint));
    true
}

/// How many of the damaged files were still joints. Prints the file that goes wrong, with its seed.
fn damaged(damage: fn(&str, &mut Dice) -> String) -> usize {
    let stock = Stock::built_in();
    let samples = samples();
    let mut sound = 0;
    for seed in 0..FILES {
        let mut dice = Dice::new(seed);
        let sample = dice.below(samples.len());
        let text = damage(&samples[sample], &mut dice);
        let start = Instant::now();
        match catch_unwind(|| chain(&text, &stock)) {
            Ok(is_sound) => sound += usize::from(is_sound),
            Err(_) => panic!("seed {seed} panics:\n{text}"),
        }
        assert!(start.elapsed() < LONGEST, "seed {seed} takes {:?}:\n{text}", start.elapsed());
    }
    sound
}

#[test]
fn the_samples_themselves_go_through() {
    let stock = Stock::built_in();
    for text in samples() {
        assert_eq!(file::read(&text, &stock).map(|_| ()), Ok(()), "{text}");
        assert!(chain(&text, &stock));
    }
}

#[test]
fn files_with_damaged_letters_never_panic() {
    let _ = damaged(letters);
}

#[test]
fn files_with_damaged_values_never_panic() {
    let _ = damaged(values);
}

#[test]
fn joints_with_odd_numbers_never_panic() {
    let sound = damaged(numbers);
    // Otherwise this would test the reader only.
    assert!(50 < sound, "only {sound} of {FILES} were joints");
}

/// What is told of a hostile text, within the time.
fn told(text: &str) -> Vec<String> {
    let start = Instant::now();
    let problems = file::read(text, &Stock::built_in()).err().unwrap_or_default();
    assert!(start.elapsed() < LONGEST, "{:?} for {}", start.elapsed(), &text[..text.len().min(80)]);
    problems.iter().map(|it| format!("{}: {}", it.part, it.says)).collect()
}

/// A joint file with these entries besides its heading.
fn joint(entries: &str) -> String {
    format!("{{\"format\": \"shankline-joint\", \"version\": 1, {entries}}}")
}

#[test]
fn deep_nesting_is_refused_and_takes_no_stack() {
    for (open, count) in [("[", 1_000_000), ("{\"a\":", 1_000_000), ("[{\"members\":", 300_000)] {
        let told = told(&open.repeat(count));
        assert!(told[0].contains("more than 64 deep"), "{told:?}");
    }
    let told = told(&joint(&format!("\"notes\": {}{}", "[".repeat(60), "]".repeat(60))));
    assert_eq!(told, ["notes[0]: a list stands where a text is wanted"]);
}

#[test]
fn huge_numbers_are_refused_by_name() {
    let digits = "9".repeat(100_000);
    for number in ["1e400", "-1e400", digits.as_str(), "NaN", "-Infinity"] {
        let told = told(&joint(&format!("\"sheet\": {{\"scale\": {number}}}")));
        assert_eq!(told.len(), 1, "{told:?}");
        assert!(told[0].starts_with("sheet.scale: "), "{told:?}");
        assert!(told[0].len() < 200, "{told:?}");
    }
    // A number too small to hold is zero, and zero is no scale.
    assert_eq!(told(&joint("\"sheet\": {\"scale\": 1e-400}")).len(), 1);
}

#[test]
fn long_lists_are_refused_by_their_limit() {
    let corners = vec!["[0,0]"; 100_000].join(",");
    let member = |outline: &str| {
        format!(
            "\"members\": [{{\"id\": \"a\", \"material\": \"steel/plate\", \"depth\": [0, 9], \"outline\": {outline}}}]"
        )
    };
    let polygon = told(&joint(&member(&format!("{{\"polygon\": [{corners}]}}"))));
    assert_eq!(
        polygon,
        ["members[0].outline.polygon: this list has 100000 entries; at most 2000 are allowed"]
    );
    let path = told(&joint(&member(&format!("{{\"path\": \"M0 0{}Z\"}}", "L1 1".repeat(20_000)))));
    assert_eq!(path.len(), 1, "{path:?}");
    let notes = told(&joint(&format!("\"notes\": [{}]", vec!["1"; 100_000].join(","))));
    assert_eq!(notes.len(), 51);
    assert_eq!(notes[0], "notes: this list has 100000 entries; at most 1000 are allowed");
    let keys: Vec<String> = (0..100_000).map(|it| format!("\"k{it}\": 0")).collect();
    let told = told(&joint(&keys.join(",")));
    assert_eq!(told.len(), 51);
    assert_eq!(told[50], ": 99950 more problems were found and are not listed");
}

#[test]
fn a_hundred_thousand_wrong_fasteners_are_told_quickly() {
    let one = "{\"id\": \"same\", \"stock\": \"nail/comon/16d\", \"fills\": \"a/b\"}";
    let told = told(&joint(&format!("\"fasteners\": [{}]", vec![one; 100_000].join(","))));
    assert_eq!(told.len(), 51);
    // Each has a wrong stock name and fills no hole, and all but the first share its id.
    assert_eq!(told[50], ": 299949 more problems were found and are not listed");
}

#[test]
fn a_hundred_thousand_sound_fasteners_are_read() {
    let fasteners: Vec<String> = (0..100_000)
        .map(|it| {
            format!("{{\"id\": \"f{it}\", \"stock\": \"nail/common/16d\", \"head\": [{it}, 0, 0], \"toward\": [0, -1, 0]}}")
        })
        .collect();
    let text = joint(&format!("\"fasteners\": [{}]", fasteners.join(",")));
    let start = Instant::now();
    let joint = file::read(&text, &Stock::built_in()).expect("the file is sound");
    assert_eq!(joint.fasteners.len(), 100_000);
    assert!(start.elapsed() < LONGEST, "{:?}", start.elapsed());
}

#[test]
fn many_large_outlines_take_no_minutes() {
    // A ring of corners is the worst sound case of a test of every side with every other.
    let ring: Vec<String> = (0..2000)
        .map(|it| {
            let turn = f64::from(it) / 2000.0 * std::f64::consts::TAU;
            format!("[{},{}]", 1e3 * turn.cos(), 1e3 * turn.sin())
        })
        .collect();
    let member = |n: usize| {
        format!(
            "{{\"id\": \"{n}\", \"material\": \"steel/plate\", \"depth\": [0, 9], \"outline\": {{\"polygon\": [{}]}}}}",
            ring.join(",")
        )
    };
    let members: Vec<String> = (0..200).map(member).collect();
    let told = told(&joint(&format!("\"members\": [{}]", members.join(","))));
    assert_eq!(told.len(), 51);
    assert_eq!(
        told[0],
        "members[100].outline.polygon: the outlines of the joint have more than 200000 edges together"
    );
}

#[test]
fn a_file_over_the_limit_is_refused_at_once() {
    let told = told(&" ".repeat(file::MOST_BYTES + 1));
    assert_eq!(told.len(), 1);
    assert!(told[0].contains("at most 33554432 are read"), "{told:?}");
}

/// The most memory that this process ever held, where the system tells it.
#[cfg(target_os = "linux")]
#[test]
fn the_costliest_small_values_stay_below_a_gigabyte() {
    let values = vec!["{\"\":0}"; file::MOST_BYTES / 8].join(",");
    let told = told(&joint(&format!("\"notes\": [{values}]")));
    assert!(told[0].contains("more than 4,000,000 values"), "{told:?}");
    let status = std::fs::read_to_string("/proc/self/status").expect("Linux tells it");
    let peak = status.lines().find_map(|it| it.strip_prefix("VmHWM:")).expect("Linux tells it");
    let kilobytes: u64 = peak.trim().trim_end_matches(" kB").parse().expect("it is a number");
    assert!(kilobytes < 1 << 20, "{kilobytes} kB");
}
