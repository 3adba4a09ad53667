//! Sizes that no joint has are refused with the limit named, and large files within a stated time.

use std::process::Command;

use shankline::joint::file;
use shankline::stock::Stock;

fn told(text: &str) -> Vec<String> {
    let problems = file::read(text, &Stock::built_in()).err().unwrap_or_default();
    problems.iter().map(|it| format!("{}: {}", it.part, it.says)).collect()
}

fn joint(entries: &str) -> String {
    format!("{{\"format\": \"shankline-joint\", \"version\": 1, {entries}}}")
}

fn member(outline: &str, depth: &str) -> String {
    joint(&format!(
        "\"members\": [{{\"id\": \"a\", \"material\": \"lumber/hem-fir\", \"outline\": {outline}, \"depth\": {depth}}}]"
    ))
}

#[test]
fn sizes_beyond_the_limits_are_refused_by_name() {
    let rectangle = |x: &str, wide: &str| {
        member(&format!("{{\"rectangle\": {{\"corner\": [{x}, 0], \"size\": [{wide}, 90]}}}}"), "[0, 90]")
    };
    let table = [
        (rectangle("0", "1e-9"), "members[0].outline.rectangle.size[0]", "0.001"),
        (rectangle("0", "1e12"), "members[0].outline.rectangle.size[0]", "1,000,000"),
        (rectangle("1e12", "38"), "members[0].outline.rectangle.corner[0]", "1,000,000"),
        (rectangle("-1000001", "38"), "members[0].outline.rectangle.corner[0]", "1,000,000"),
        (
            member("{\"rectangle\": {\"corner\": [0, 0], \"size\": [38, 90]}}", "[0, 1e-9]"),
            "members[0].depth",
            "0.001",
        ),
        (
            member("{\"round\": {\"centre\": [0, 0], \"diameter\": 1e-9}}", "[0, 90]"),
            "members[0].outline.round.diameter",
            "0.001",
        ),
        (member("{\"path\": \"M0 0H1e12V9H0Z\"}", "[0, 90]"), "members[0].outline.path", "1,000,000"),
        (
            joint(
                "\"fasteners\": [{\"id\": \"n\", \"stock\": \"nail/common/16d\", \"head\": [1e12, 0, 0], \"toward\": [1, 0, 0]}]",
            ),
            "fasteners[0].head[0]",
            "1,000,000",
        ),
    ];
    for (text, part, limit) in table {
        let said = told(&text);
        assert_eq!(said.len(), 1, "{text}: {said:?}");
        let plain = said[0].replace("1000000", "1,000,000");
        assert!(said[0].starts_with(part) && plain.contains(limit), "{part} wants {limit}: {said:?}");
    }
}

#[test]
fn the_smallest_and_the_largest_sizes_go_through() {
    for (corner, size) in [(0.0, 0.001), (-1e6, 1e6), (999_999.0, 1.0)] {
        let text = member(
            &format!("{{\"rectangle\": {{\"corner\": [{corner}, {corner}], \"size\": [{size}, {size}]}}}}"),
            "[0, 0.001]",
        );
        assert!(told(&text).is_empty(), "{corner} {size}: {:?}", told(&text));
        let joint = file::read(&text, &Stock::built_in()).expect("it was just read");
        let traced = shankline::trace::trace(&joint);
        let found = shankline::findings::judge(&joint, &traced);
        let inputs = shankline::drawing::Inputs { joint: &joint, trace: &traced, findings: &found };
        assert!(!shankline::drawing::pages(&inputs).is_empty());
    }
}

#[test]
fn a_path_of_a_million_corners_is_refused_with_the_limit() {
    let data = format!("M0 0{}Z", "L1 1".repeat(1_000_000));
    let said = told(&member(&format!("{{\"path\": \"{data}\"}}"), "[0, 90]"));
    assert_eq!(said.len(), 1, "{said:?}");
    assert!(said[0].contains("members[0].outline.path") && said[0].contains("at most"), "{said:?}");
}

#[test]
fn a_file_of_a_hundred_megabytes_is_refused_before_it_is_read() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("huge.joint.json");
    let file = std::fs::File::create(&path).expect("it can be made");
    file.set_len(100 << 20).expect("it can be that long");
    for verb in ["check", "draw"] {
        let mut command = Command::new(env!("CARGO_BIN_EXE_shankline"));
        let _ = command.arg(verb).arg(&path);
        if verb == "draw" {
            let _ = command.arg("-o").arg(folder.path().join("x.svg"));
        }
        let done = command.output().expect("the program starts");
        assert_eq!(done.status.code(), Some(2));
        let said = String::from_utf8_lossy(&done.stderr);
        assert!(said.contains("104857600") && said.contains("33554432"), "{said}");
    }
    assert!(!folder.path().join("x.svg").exists());
}
