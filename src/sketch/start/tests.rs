//! Each starting joint at its default sizes, at its limits, and at random sizes between.

use proptest::prelude::*;

use super::*;
use crate::findings::{Findings, Severity, judge};
use crate::joint::{StandardId, file};
use crate::sketch::question::Sort;
use crate::trace::trace;

const BOTH: [StandardId; 2] = [StandardId::Nds2018, StandardId::En199511];

fn judged(joint: &Joint) -> Findings {
    judge(joint, &trace(joint))
}

fn told(findings: &Findings, worse_than: Severity) -> Vec<String> {
    let list = findings.list.iter().filter(|it| it.severity <= worse_than);
    list.map(|it| format!("{:?} {:?}: {}", it.severity, it.subjects, it.says)).collect()
}

#[test]
fn no_starter_has_a_fault_or_a_caution_but_the_gap_that_it_shows() {
    let stock = Stock::built_in();
    let mut others = Vec::new();
    for starter in &STARTERS {
        for by in BOTH {
            let joint = starter.start(&Sizes::defaults(by), &stock).unwrap();
            let said = told(&judged(&joint), Severity::Caution);
            // A hanger on a header with a gap is there to show the gap.
            assert_eq!(said.iter().any(|it| it.contains(" gap ")), starter.word == "hanger", "{said:#?}");
            let other = said.into_iter().filter(|it| !it.contains(" gap "));
            others.extend(other.map(|it| format!("{} {by:?} {it}", starter.word)));
            assert!(!joint.fasteners.is_empty() && !joint.loads.is_empty(), "{}", starter.word);
        }
    }
    assert!(others.is_empty(), "{others:#?}");
}

#[test]
fn what_a_starter_gives_can_be_saved_and_opened() {
    let stock = Stock::built_in();
    for starter in &STARTERS {
        for by in BOTH {
            let joint = starter.start(&Sizes::defaults(by), &stock).unwrap();
            assert_eq!(file::read(&file::write(&joint), &stock).as_ref(), Ok(&joint), "{}", starter.word);
        }
    }
}

#[test]
fn absurd_sizes_are_refused_by_name() {
    let stock = Stock::built_in();
    for starter in &STARTERS {
        for by in BOTH {
            for question in starter.questions {
                let (least, most) = (question.least(by), question.most(by));
                assert!(least <= question.default(by) && question.default(by) <= most, "{}", question.key);
                for absurd in [least - 1.0, most + 1.0, f64::NAN, f64::INFINITY, -1e300] {
                    let why = Sizes::new(starter.questions, by, [(question.key, absurd)]).unwrap_err();
                    assert!(matches!(why, WishError::OutOfRange { .. }), "{}: {why}", question.key);
                    assert!(why.to_string().starts_with(question.key), "{why}");
                }
                // Each limit alone either draws or says why not.
                for limit in [least, most] {
                    let sizes = Sizes::new(starter.questions, by, [(question.key, limit)]).unwrap();
                    if let Err(why) = starter.start(&sizes, &stock) {
                        assert!(!matches!(why, WishError::UnknownSize { .. }), "{why}");
                    }
                }
            }
        }
        assert!(matches!(
            Sizes::read(starter.questions, StandardId::Nds2018, [("colour", "3\"")]),
            Err(WishError::UnknownSize { .. })
        ));
    }
}

#[test]
fn typed_sizes_are_read_in_the_unit_of_the_standard() {
    let ledger = Starter::named("ledger").unwrap();
    let read = |by, key: &str, text: &str| Sizes::read(ledger.questions, by, [(key, text)]);
    let question = ledger.questions.iter().find(|it| it.key == "ledger-depth").unwrap();
    for text in ["9 1/4", "9-1/4\"", "234.95 mm"] {
        let sizes = read(StandardId::Nds2018, "ledger-depth", text).unwrap();
        assert!((sizes.of(question) - 234.95).abs() < 1e-9, "{text}");
    }
    assert!((read(StandardId::En199511, "ledger-depth", "220").unwrap().of(question) - 220.0).abs() < 1e-9);
    let why = read(StandardId::Nds2018, "ledger-depth", "2x10").unwrap_err().to_string();
    assert!(why.starts_with("ledger-depth: ") && why.contains("nominal"), "{why}");
    let why = read(StandardId::Nds2018, "ledger-depth", "9'").unwrap_err().to_string();
    assert_eq!(why, "ledger-depth is 9'-0\"; from 3 1/2\" to 1'-4\" is possible");
    let splice = Starter::named("splice").unwrap();
    let why = Sizes::read(splice.questions, StandardId::Nds2018, [("rows", "1.5")]).unwrap_err();
    assert_eq!(why.to_string(), "rows is 1.5; a whole number is wanted");
    assert!(Starter::named("nothing").is_none());
}

#[test]
fn words_and_keys_are_their_own() {
    let mut words: Vec<&str> = STARTERS.iter().map(|it| it.word).collect();
    words.sort_unstable();
    words.dedup();
    assert_eq!(words.len(), STARTERS.len());
    for starter in &STARTERS {
        let mut keys: Vec<&str> = starter.questions.iter().map(|it| it.key).collect();
        keys.sort_unstable();
        keys.dedup();
        assert_eq!(keys.len(), starter.questions.len(), "{}", starter.word);
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 300, failure_persistence: None, ..ProptestConfig::default() })]

    /// Any sizes within the limits make a joint that can be saved, with no two bodies in one place, or are
    /// refused in words.
    #[test]
    fn sizes_within_the_limits_draw_or_say_why(
        which in 0_usize..10,
        metric: bool,
        parts in proptest::collection::vec(0.0_f64..=1.0, 12),
    ) {
        let stock = Stock::built_in();
        let starter = &STARTERS[which];
        let by = BOTH[usize::from(metric)];
        let values = starter.questions.iter().zip(&parts).map(|(question, part)| {
            let (least, most) = (question.least(by), question.most(by));
            let value = (most - least).mul_add(*part, least);
            (question.key, if question.sort == Sort::Count { value.round() } else { value })
        });
        let sizes = Sizes::new(starter.questions, by, values).unwrap();
        match starter.start(&sizes, &stock) {
            Err(why) => prop_assert!(!why.to_string().is_empty()),
            Ok(joint) => {
                let read = file::read(&file::write(&joint), &stock);
                prop_assert!(read.is_ok(), "{} {read:?}", starter.word);
                let traced = trace(&joint);
                prop_assert!(traced.overlaps.is_empty(), "{} {:?}", starter.word, traced.overlaps);
                let findings = judge(&joint, &traced);
                let lost = [crate::findings::Kind::InAir, crate::findings::Kind::NoSuchHole];
                prop_assert!(findings.list.iter().all(|it| !lost.contains(&it.kind)), "{}", starter.word);
            }
        }
    }
}
