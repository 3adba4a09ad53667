//! The working on paper: whole, in order, inside its columns, on as many pages as it takes.

use kurbo::Rect;
use shankline::drawing::{self, Drawing, Inputs};
use shankline::findings::carry::{Detail, carry, written};
use shankline::findings::{Findings, judge};
use shankline::joint::{Joint, Paper, file};
use shankline::paint;
use shankline::stock::Stock;
use shankline::trace::{Trace, trace};

use super::laws::{overlap, parse, texts};

struct Read {
    joint: Joint,
    trace: Trace,
    findings: Findings,
}

impl Read {
    fn pages(&self) -> Vec<Drawing> {
        drawing::appendix(&Inputs { joint: &self.joint, trace: &self.trace, findings: &self.findings })
    }
}

fn read(name: &str) -> Read {
    let path = format!("{}/sample-projects/{name}.joint.json", env!("CARGO_MANIFEST_DIR"));
    let text = std::fs::read_to_string(path).expect("the sample is there");
    of(file::read(&text, &Stock::built_in()).expect("the sample is sound"))
}

fn of(joint: Joint) -> Read {
    let trace = trace(&joint);
    let findings = judge(&joint, &trace);
    Read { joint, trace, findings }
}

const SAMPLES: [&str; 8] = [
    "heron-lane-ledger",
    "alder-court-hanger",
    "mill-row-floor",
    "quay-house-sill",
    "kiln-house-stud",
    "weir-gate-post",
    "ferry-yard-splice",
    "osier-lane-strap",
];

fn bare(text: &str) -> String {
    text.split_whitespace().collect()
}

/// Everything on the pages without spaces, in the order of painting.
fn told(pages: &[Drawing]) -> String {
    let text = |it: &drawing::Item| match &it.shape {
        drawing::Shape::Text { words, .. } => bare(words),
        drawing::Shape::Path { .. } => String::new(),
    };
    pages.iter().flat_map(|it| &it.items).map(text).collect()
}

#[test]
fn every_value_is_on_the_pages_whole_with_formula_values_clause_and_reason() {
    for name in SAMPLES {
        let read = read(name);
        let pages = read.pages();
        let told = told(&pages);
        let carrying = carry(&read.joint, &read.trace, Detail::Working);
        let mut count = 0;
        for row in carrying.fasteners.iter().flat_map(|it| written::rows(it, &read.joint)) {
            let parts = match row {
                written::Row::Step(it) | written::Row::Factor(it) => {
                    let formula = if it.formula.is_empty() { String::new() } else { bare(&it.formula) };
                    vec![bare(&it.symbol), formula, bare(&it.value), bare(&it.because)]
                }
                written::Row::Title(it) | written::Row::Result(it) | written::Row::NoValue(it) => {
                    vec![bare(&it)]
                }
                written::Row::Caution(it) => vec![bare(&it)],
            };
            for part in parts {
                assert!(told.contains(&part), "{name}: {part}");
                count += 1;
            }
        }
        for it in &carrying.not_counted {
            assert!(told.contains(&bare(it)), "{name}: {it}");
        }
        assert!(5 < count, "{name}: {count}");
        let last = pages.last().expect("there are pages");
        assert!(last.title.ends_with(&format!("page {0} of {0}", pages.len())), "{}", last.title);
        assert!(pages.iter().all(|it| it.description.contains("a licensed designer decide")));
    }
}

#[test]
fn nothing_overlaps_and_nothing_leaves_the_frame_on_any_paper() {
    for name in SAMPLES {
        for paper in [None, Some(Paper::A3)] {
            let mut read = read(name);
            read.joint.sheet.paper = paper;
            let pages = read.pages();
            assert!(!pages.is_empty(), "{name}");
            for (number, page) in pages.iter().enumerate() {
                let svg = paint::svg(page);
                if let (Ok(folder), None) = (std::env::var("LOOK_DIR"), paper) {
                    let path = format!("{folder}/working-{name}-{}.svg", number + 1);
                    std::fs::write(path, &svg).expect("it can be written");
                }
                let found = texts(&parse(&svg));
                let frame = Rect::new(20.0, 10.0, page.size_mm.0 - 10.0, page.size_mm.1 - 10.0);
                for (n, (words, a)) in found.iter().enumerate() {
                    assert!(frame.union(*a) == frame, "{name} {number}: {words} {a:?}");
                    for (other, b) in &found[n + 1..] {
                        assert!(!overlap(*a, *b), "{name} {number}: {words:?} on {other:?}");
                    }
                }
            }
        }
    }
}

/// Bolts of a splice that all carry the same are worked out once, by the numbers that they have on the detail.
#[test]
fn fasteners_that_are_alike_are_told_once() {
    let read = read("osier-lane-strap");
    let told = told(&read.pages());
    let carrying = carry(&read.joint, &read.trace, Detail::Working);
    let first = written::lines(&carrying.fasteners[0], &read.joint);
    let alike = carrying.fasteners.iter().filter(|it| written::lines(it, &read.joint) == first).count();
    assert!(1 < alike, "the sample has some that are alike");
    let titles = told.matches("Fastener").count();
    assert!(titles < carrying.fasteners.len(), "{titles}");
}

#[test]
fn a_joint_without_a_fastener_has_no_pages() {
    assert!(of(Joint::default()).pages().is_empty());
}
