//! The house rules that a program can read: which room may name which, and how long a file may get.

use std::collections::BTreeSet;
use std::path::{Path, PathBuf};

/// Which room may name which. A breach fails with file and line.
const MAY_NAME: &[(&str, &str)] = &[
    ("unit", ""),
    ("disk", ""),
    ("shape", ""),
    ("stock", "unit"),
    ("joint", "unit shape stock"),
    ("trace", "unit shape stock joint"),
    ("standard", "unit stock joint trace"),
    ("findings", "unit stock joint trace standard"),
    ("sketch", "unit shape stock joint trace standard findings"),
    ("drawing", "unit shape stock joint trace findings"),
    ("paint", "unit drawing"),
    ("command", "unit disk shape stock joint trace standard findings sketch drawing paint"),
    ("window", "unit disk shape stock joint trace standard findings sketch drawing paint"),
];

/// Words that one room alone may say.
const ONLY_IN: &[(&str, &str)] = &[
    ("iced::", "window"),
    ("rfd::", "window"),
    ("println!", "command"),
    ("std::fs", "disk"),
    ("crate::{", "nowhere"),
    ("super::super", "nowhere"),
    ("#[ignore", "nowhere"),
];

fn rust_files(folder: &Path) -> Vec<PathBuf> {
    let mut found = Vec::new();
    let mut open = vec![folder.to_owned()];
    while let Some(at) = open.pop() {
        for entry in std::fs::read_dir(&at).expect("the folder is there") {
            let path = entry.expect("the entry can be read").path();
            if path.is_dir() {
                open.push(path);
            } else if path.extension().is_some_and(|it| it == "rs") {
                found.push(path);
            }
        }
    }
    found.sort();
    found
}

fn root() -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR"))
}

/// The code of a file without comments and without its own unit tests.
fn code_lines(text: &str) -> impl Iterator<Item = (usize, &str)> {
    let code = text.split("#[cfg(test)]\nmod tests").next().unwrap_or(text);
    code.lines().enumerate().map(|(n, line)| (n + 1, line.split("//").next().unwrap_or("")))
}

fn breaches(room: &str, path: &str, text: &str) -> Vec<String> {
    let may = MAY_NAME.iter().find(|it| it.0 == room).map_or("", |it| it.1);
    let mut faults = Vec::new();
    for (n, code) in code_lines(text) {
        let ident =
            |it: &str| it.split(|c: char| c != '_' && !c.is_alphanumeric()).next().unwrap_or("").to_owned();
        let rooms = code.split("crate::").skip(1).map(ident);
        let bad_room = rooms.filter(|it| it != room && !may.split(' ').any(|m| m == it));
        let bad_word =
            ONLY_IN.iter().filter(|it| it.1 != room && code.contains(it.0)).map(|it| it.0.to_owned());
        faults
            .extend(bad_room.chain(bad_word).map(|bad| format!("{path}:{n}: `{room}` may not say `{bad}`")));
    }
    faults
}

#[test]
fn no_arrow_runs_backwards() {
    let src = root().join("src");
    let mut faults = Vec::new();
    for path in rust_files(&src) {
        let inside = path.strip_prefix(&src).expect("it was found there");
        let Some(room) = inside.parent().and_then(|it| it.components().next()) else { continue };
        let text = std::fs::read_to_string(&path).expect("it can be read");
        faults.extend(breaches(&room.as_os_str().to_string_lossy(), &path.to_string_lossy(), &text));
    }
    assert!(faults.is_empty(), "{}", faults.join("\n"));
}

#[test]
fn the_reader_of_arrows_sees_a_planted_breach() {
    let planted = "use crate::findings::Kind;\nlet a = iced::Length::Fill; // crate::window\n";
    let faults = breaches("trace", "planted.rs", planted);
    assert_eq!(faults.len(), 2, "{faults:?}");
    assert!(faults[0].starts_with("planted.rs:1: `trace` may not say `findings`"));
    assert!(breaches("window", "planted.rs", planted).is_empty());
}

#[test]
fn the_rooms_on_disk_are_the_rooms_in_the_table() {
    let on_disk: BTreeSet<String> = std::fs::read_dir(root().join("src"))
        .expect("src is there")
        .map(|it| it.expect("the entry can be read"))
        .filter(|it| it.path().is_dir())
        .map(|it| it.file_name().to_string_lossy().into_owned())
        .collect();
    let in_table: BTreeSet<String> = MAY_NAME.iter().map(|it| it.0.to_owned()).collect();
    assert_eq!(on_disk, in_table);
}

#[test]
fn every_file_opens_with_what_it_is_and_stays_short() {
    let mut faults = Vec::new();
    for path in rust_files(&root().join("src")).into_iter().chain(rust_files(&root().join("tests"))) {
        let text = std::fs::read_to_string(&path).expect("it can be read");
        if !text.starts_with("//!") {
            faults.push(format!("{}: does not open with //!", path.display()));
        }
        if 600 < text.lines().count() {
            faults.push(format!("{}: {} lines, over 600", path.display(), text.lines().count()));
        }
    }
    assert!(faults.is_empty(), "{}", faults.join("\n"));
}
