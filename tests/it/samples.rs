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
    let path =
        Path::new(env!("CARGO_MANIFEST_DIR")).join("sample-projects").join(format!("{name}.joint.json"));
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
        let at =
            self.joint.fasteners.iter().position(|it| it.id == id).expect("the fastener is in the sample");
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
        let at =
            self.joint.fasteners.iter().position(|it| it.id == id).expect("the fastener is in the sample");
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

/// `core` of each fastener, then the findings of each severity.
struct Expected<'a> {
    name: &'a str,
    verdict: Verdict,
    cores: &'a [(&'a str, &'a str)],
    faults: &'a [&'a str],
    cautions: &'a [&'a str],
}

#[track_caller]
fn check(expected: &Expected<'_>) {
    let sample = sample(expected.name);
    for (id, core) in expected.cores {
        assert_eq!(sample.core(id), *core, "{}: {id}", expected.name);
    }
    assert_eq!(sample.found(Severity::Fault), expected.faults, "{}: faults", expected.name);
    assert_eq!(sample.found(Severity::Caution), expected.cautions, "{}: cautions", expected.name);
    assert_eq!(sample.findings.verdict(), expected.verdict, "{}", expected.name);
}

/// Ledger 1 1/2" = 38.1, foam 1" = 25.4, rim 1 1/8" = 28.575: the rim ends 92.075 below the head.
/// Upper, 4" = 101.6: 101.6 - 92.075 = 9.525 comes out. Lower, 3 1/2" = 88.9: 88.9 - 63.5 = 25.4 of bite,
/// of which the tapered point, 7/32" = 5.55625 (NDS 2018 Table L2), does not count: 19.84375.
/// 4 D = 4 x 9.525 = 38.1 is asked for without the point (NDS 2018 12.1.4.6).
#[test]
fn heron_lane_ledger() {
    check(&Expected {
        name: "heron-lane-ledger",
        verdict: Verdict::Faults,
        cores: &[
            ("upper", "ledger 38.1 | foam 25.4 | rim 28.575 | air 9.525"),
            ("lower", "ledger 38.1 | foam 25.4 | rim 25.4"),
        ],
        faults: &["lower short_bite", "upper point_out", "upper short_bite"],
        cautions: &["lower filling", "lower washer", "upper filling", "upper washer"],
    });
    let sample = sample("heron-lane-ledger");
    numbers(&sample, "upper", "short_bite", (28.575, 38.1));
    numbers(&sample, "lower", "short_bite", (19.843_75, 38.1));
    near(sample.holding("upper").point_out_mm, 9.525);
    near(sample.holding("lower").point_out_mm, 0.0);
    // From the axis at y = 133.35 to the top of the rim at 209.55, and from 50.8 to its foot at -25.4.
    near(sample.holding("upper").cover_mm, 76.2);
    near(sample.holding("lower").cover_mm, 76.2);
}

/// Boards of 38.1 and a washer of 0.109" = 2.7686 at each end: 139.7 - 2 x 2.7686 - 3 x 38.1 = 19.8628
/// stands out, and the nut of a 1/2" bolt is 7/16" = 11.1125 high. Ends: 88.9 = 7 D and 254 - 139.7 = 114.3;
/// pitch 50.8 = 4 D; edges 57.15 = 4.5 D; rows 69.85 = 5.5 D apart (NDS 2018 Tables 12.5.1A to D). Sound.
#[test]
fn ferry_yard_splice_is_sound() {
    let left =
        "washer 2.769 | front-board 38.1 | left-tie 38.1 | back-board 38.1 | washer 2.769 | air 19.863";
    let right =
        "washer 2.769 | front-board 38.1 | right-tie 38.1 | back-board 38.1 | washer 2.769 | air 19.863";
    check(&Expected {
        name: "ferry-yard-splice",
        verdict: Verdict::Sound,
        cores: &[("b1", left), ("b2", left), ("b3", right), ("b8", right)],
        faults: &[],
        cautions: &[],
    });
}

/// 60 less 2 of strap is 58 of bite; 8 d = 32 is asked for (EN 1995-1-1 8.3.1.2). Ends: 90 is over
/// 15 d = 60; pitch 50 is over 10 d = 40; edges 30 are over 5 d = 20 (EN 1995-1-1 Table 8.2). Sound.
#[test]
fn osier_lane_strap_is_sound() {
    check(&Expected {
        name: "osier-lane-strap",
        verdict: Verdict::Sound,
        cores: &[("n1", "strap 2 | left-joist 58"), ("n6", "strap 2 | right-joist 58")],
        faults: &[],
        cautions: &[],
    });
    near(sample("osier-lane-strap").holding("n1").bite_mm, 58.0);
}

/// At 30 degrees from the stud 32 of height takes 32 / cos 30 = 36.950 of nail, so 43.050 is left for the
/// plate. At 60 degrees it takes 32 / cos 60 = 64, and 16 is left; 8 d = 24.8 is asked for
/// (EN 1995-1-1 8.3.1.2(1)). From below 80 - 45 = 35 stands in the end grain of the stud.
#[test]
fn kiln_house_stud_cores() {
    let sample = sample("kiln-house-stud");
    assert_eq!(sample.core("left"), "stud 36.95 | plate 43.05");
    assert_eq!(sample.core("flat"), "stud 64 | plate 16");
    assert_eq!(sample.core("below"), "plate 45 | stud 35");
    numbers(&sample, "flat", "short_bite", (16.0, 24.8));
    let faults = sample.found(Severity::Fault);
    for expected in ["flat short_bite", "below end_grain", "below edge_distance"] {
        assert!(faults.iter().any(|it| it == expected), "{expected} is missing in {faults:?}");
    }
    assert!(sample.found(Severity::Caution).iter().any(|it| it == "flat wrong_angle"));
}

/// Subfloor 23/32" = 18.25625; 63.5 - 18.25625 = 45.24375 of an 8d common nail lies below it.
#[test]
fn mill_row_floor_cores() {
    let sample = sample("mill-row-floor");
    assert_eq!(sample.core("hit"), "subfloor 18.256 | joist 45.244");
    assert_eq!(sample.core("miss"), "subfloor 18.256 | air 45.244");
    assert_eq!(sample.core("astray"), "trim 63.5");
    let faults = sample.found(Severity::Fault);
    for expected in ["miss shiner", "side breaks_out", "face along_face", "over clash", "astray in_air"] {
        assert!(faults.iter().any(|it| it == expected), "{expected} is missing in {faults:?}");
    }
    // 38.1 - 36.83 = 1.27 of cover for half of 0.131" = 1.6637.
    numbers(&sample, "side", "breaks_out", (1.27, 1.6637));
}

/// Steel 1.5, plies 38.1, gap 1/8" = 3.175: of 3" = 76.2 there remain 33.425 in the far ply.
#[test]
fn alder_court_hanger_cores() {
    let sample = sample("alder-court-hanger");
    assert_eq!(sample.core("good"), "hanger 1.5 | near-ply 38.1 | gap 3.175 | far-ply 33.425");
    near(sample.holding("good").bite_mm, 33.425);
    let faults = sample.found(Severity::Fault);
    for expected in [
        "thin wrong_diameter",
        "thin wrong_length",
        "screw wrong_kind",
        "stray through_steel",
        "hanger empty_hole",
    ] {
        assert!(faults.iter().any(|it| it == expected), "{expected} is missing in {faults:?}");
    }
    numbers(&sample, "thin", "wrong_length", (63.5, 76.2));
}

/// The hole of `shallow` ends 85 - 82.55 = 2.45 beyond the point; 1/2" = 12.7 is common practice, so
/// 82.55 + 12.7 = 95.25 from the head. The grout takes 6.35 x (6.35 + 7.0555...) / 2 = 42.5627 of the sill.
#[test]
fn quay_house_sill_cores() {
    let sample = sample("quay-house-sill");
    assert_eq!(sample.core("held"), "sill 38.1 | slab 44.45");
    assert_eq!(sample.core("proud"), "air 6.35 | sill 38.1 | slab 38.1");
    numbers(&sample, "shallow", "hole_depth", (85.0, 95.25));
    let faults = sample.found(Severity::Fault);
    for expected in ["shallow finish", "nail unsuitable", "grout overlap"] {
        assert!(faults.iter().any(|it| it == expected), "{expected} is missing in {faults:?}");
    }
    let overlap = sample.trace.overlaps[0].area_mm2;
    assert!((overlap - 6.35 * (6.35 + 6.35 + 6.35 / 9.0) / 2.0).abs() < 1e-3, "{overlap}");
}

/// At y = 40 the round post of radius 100 ends at x = -sqrt(100^2 - 40^2) = -91.652, so that the bolt has
/// 60 + 91.652 = 151.652 in it; of 220 less the washer of 2.5 and the rail of 60 there stand out 5.848.
#[test]
fn weir_gate_post_cores() {
    let sample = sample("weir-gate-post");
    assert!(sample.core("long").starts_with("washer 2.5 | rail 60 | post 160 | "), "{}", sample.core("long"));
    near(sample.holding("short").bite_mm, 60.0 + 84.0_f64.sqrt() * 10.0);
    let faults = sample.found(Severity::Fault);
    for expected in ["short bolt_short", "short oversize_hole", "short edge_distance", "long spacing"] {
        assert!(faults.iter().any(|it| it == expected), "{expected} is missing in {faults:?}");
    }
}
