//! The sample joints against verdicts worked out by hand.
//!
//! Every core, bite and finding below was worked out from the figures in the joint file with pencil
//! and paper before the program was asked; the sums stand beside them. The scenarios are invented.
//! Rules that decide a verdict are cited where they do so; their published values are tested in
//! `published_rules`.

use std::path::Path;

use shankline::findings::{self, Findings, Severity, Verdict};
use shankline::joint::{self, Joint};
use shankline::stock::Stock;
use shankline::trace::{self, Trace, What};

struct Sample {
    joint: Joint,
    trace: Trace,
    findings: Findings,
}

fn sample(name: &str) -> Sample {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("sample-projects").join(format!("{name}.joint.json"));
    let text = std::fs::read_to_string(&path).expect("the sample is there");
    let stock = Stock::built_in();
    let joint = joint::file::read(&text, &stock).unwrap_or_else(|problems| panic!("{name}: {problems:#?}"));
    let trace = trace::trace(&joint);
    let findings = findings::with_remedies(&joint, &stock, findings::judge(&joint, &trace));
    Sample { joint, trace, findings }
}

impl Sample {
    /// A core as `ledger 38.1 | gap 25.4`, lengths in millimetres to a thousandth.
    fn core(&self, id: &str) -> String {
        let at = self.joint.fasteners.iter().position(|it| it.id == id).expect("the fastener is in the sample");
        let runs = self.trace.fasteners[at].core.iter().map(|run| {
            let name = match (run.body, run.what) {
                (Some(body), _) => match self.trace.bodies[body.0].owner {
                    trace::Owner::Member(at) => self.joint.members[at].id.clone(),
                    trace::Owner::Plate { connector, .. } => self.joint.connectors[connector].id.clone(),
                },
                (None, What::Steel) => "washer".to_owned(),
                (None, What::Gap) => "gap".to_owned(),
                (None, _) => "air".to_owned(),
            };
            let length = ((run.to_mm - run.from_mm) * 1000.0).round() / 1000.0;
            format!("{name} {length}")
        });
        runs.collect::<Vec<_>>().join(" | ")
    }

    /// Findings of this severity as `subject kind`, sorted.
    fn found(&self, severity: Severity) -> Vec<String> {
        let mut found: Vec<String> = self
            .findings
            .list
            .iter()
            .filter(|it| it.severity == severity)
            .map(|it| format!("{} {}", it.subjects.first().map_or("", String::as_str), it.kind.word()))
            .collect();
        found.sort();
        found.dedup();
        found
    }

    /// The measured and the required number of one finding.
    fn numbers(&self, subject: &str, kind: &str) -> (Option<f64>, Option<f64>) {
        let finding = self
            .findings
            .list
            .iter()
            .find(|it| it.kind.word() == kind && it.subjects.first().is_some_and(|first| first == subject))
            .unwrap_or_else(|| panic!("no {kind} about {subject}"));
        (finding.measured, finding.required)
    }

    fn holding(&self, id: &str) -> trace::Holding {
        let at = self.joint.fasteners.iter().position(|it| it.id == id).expect("the fastener is in the sample");
        self.trace.fasteners[at].holding.expect("it is held")
    }
}

#[track_caller]
fn near(value: f64, expected: f64) {
    assert!((value - expected).abs() < 1e-6, "{value} is not {expected}");
}

#[track_caller]
fn numbers(sample: &Sample, subject: &str, kind: &str, expected: (f64, f64)) {
    let (measured, required) = sample.numbers(subject, kind);
    near(measured.expect("a measured number"), expected.0);
    near(required.expect("a required number"), expected.1);
}
