//! The check result as other programs read it, and every kind of finding on joints made by hand.

mod build;
mod cases;
mod loads;
mod measures;
mod remedies;
mod room;

use std::collections::BTreeSet;
use std::path::Path;

use shankline::findings::{Findings, Kind, Severity, Verdict, judge};
use shankline::joint::Joint;
use shankline::trace::trace;

/// Compares a stored text with the fresh one; `UPDATE=1` stores the fresh one.
#[track_caller]
pub(crate) fn same_as_stored(path: &str, fresh: &str) {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join(path);
    if std::env::var_os("UPDATE").is_some() {
        std::fs::write(&path, fresh).expect("the stored text can be written");
    }
    let stored = std::fs::read_to_string(&path).unwrap_or_default();
    assert!(stored == fresh, "{} is not current; run with UPDATE=1 and read what changed", path.display());
}

fn judged(joint: &Joint) -> Findings {
    judge(joint, &trace(joint))
}

/// To a tenth of a micrometre, so that the last bit of a sum is no change.
fn number(value: Option<f64>) -> String {
    value.map_or("-".to_owned(), |it| format!("{:.4}", it + 0.0))
}

/// Every finding on a line of its own, its working below it.
fn told(findings: &Findings) -> String {
    let mut text = String::new();
    for it in &findings.list {
        text += &format!(
            "  {} {} [{}]: {}\n    {} of {} {} ({})\n",
            it.severity.word(),
            it.kind.word(),
            it.subjects.join(" "),
            it.says,
            number(it.measured),
            number(it.required),
            it.unit,
            it.source
        );
        for line in &it.working.lines() {
            text += &format!("    | {line}\n");
        }
        if let Some(remedy) = &it.remedy {
            text += &format!("    > {}\n", remedy.says);
        }
    }
    text
}

#[test]
fn the_schema_of_a_check_result_is_current() {
    same_as_stored("resources/schema/check.schema.json", &shankline::findings::report::schema());
}

#[test]
fn each_joint_has_its_finding_and_no_other() {
    let mut wrong = String::new();
    for case in cases::all() {
        let findings = judged(&case.joint);
        let list: Vec<_> = findings.list.iter().filter(|it| it.severity != Severity::Note).collect();
        let near = |a: Option<f64>, b: Option<f64>| match (a, b) {
            (Some(a), Some(b)) => (a - b).abs() < 1e-6,
            (_, None) => true,
            (None, Some(_)) => false,
        };
        let right = list.len() == case.told.len()
            && list.iter().zip(&case.told).all(|(found, told)| {
                found.kind == told.kind
                    && found.severity == told.severity
                    && near(found.measured, told.measured)
                    && near(found.required, told.required)
            });
        if !right {
            wrong += &format!("{}\n{}", case.name, told(&findings));
        }
    }
    assert!(wrong.is_empty(), "\n{wrong}");
}

#[test]
fn an_overlap_is_told_with_its_area() {
    let findings = judged(&cases::overlapping());
    // 469.9 / 645.16 = 0.7283 sq in; 1200 mm = 47.24 in, rounded down to 3'-11 3/16".
    assert_eq!(
        findings.list[0].says,
        "The rim and the ledger take the same place: 0.72 sq in of the drawing, 3'-11 3/16\" deep. \
         Shanks there count as in the rim; until one gives way, distances and bites near there are not those of \
         the built joint."
    );
}

#[test]
fn every_kind_is_found_in_some_joint() {
    let found: BTreeSet<Kind> = cases::all().iter().flat_map(|it| &it.told).map(|it| it.kind).collect();
    let missing: Vec<&str> = Kind::ALL.iter().filter(|it| !found.contains(it)).map(|it| it.word()).collect();
    assert!(missing.is_empty(), "no test for {missing:?}");
}

#[test]
fn a_sound_joint_has_no_fault_and_no_caution_and_says_what_was_not_checked() {
    for (name, joint) in cases::sound() {
        let findings = judged(&joint);
        assert_eq!(findings.verdict(), Verdict::Sound, "{name}\n{}", told(&findings));
        assert!(!findings.not_checked.is_empty(), "{name}");
    }
}

#[test]
fn the_sentences_are_as_reviewed() {
    let mut text = String::new();
    for case in cases::all() {
        text += &format!("{}\n{}", case.name, told(&judged(&case.joint)));
    }
    same_as_stored("tests/snap/findings.txt", &text);
}
