//! Measures beside what is asked of them: worked out by hand for one sample, and in step with the findings for all.

use std::path::Path;

use shankline::findings::{self, Kind, Measure, Stands};
use shankline::joint::{Joint, file};
use shankline::stock::Stock;
use shankline::trace;

fn sample(path: &Path) -> Joint {
    let text = std::fs::read_to_string(path).expect("a sample can be read");
    file::read(&text, &Stock::built_in()).expect("a sample is sound")
}

fn samples() -> Vec<(String, Joint)> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("sample-projects");
    let paths =
        std::fs::read_dir(folder).expect("the samples are there").filter_map(|it| Some(it.ok()?.path()));
    let mut all: Vec<(String, Joint)> = paths
        .map(|it| (it.file_name().unwrap_or_default().to_string_lossy().into_owned(), sample(&it)))
        .collect();
    all.sort_by(|a, b| a.0.cmp(&b.0));
    all
}

fn of<'a>(measures: &'a [Measure], what: &str, place: &str) -> &'a Measure {
    let found = measures.iter().find(|it| it.what == what && it.drawn.ends_with(place));
    found.unwrap_or_else(|| panic!("{what} {place} is not in {measures:#?}"))
}

/// The upper lag screw of the ledger: 3/8" by 4", at y 133.35 mm. It passes 1 1/2" of ledger and 1" of foam, so
/// 1 1/2" are left for the rim, which is 1 1/8" thick: 1 1/8" of bite where 4 D = 1 1/2" is asked for.
/// The load pulls the ledger down, so the shank pushes its upper edge, 184.15 - 133.35 = 50.8 mm = 2" away; a
/// loaded edge wants 4 D = 1 1/2" (NDS 2018 Table 12.5.1C, from memory). In the rim, from -25.4 to 209.55 mm, the
/// lower edge is loaded, 158.75 mm = 6 1/4" away, and the upper is not, 76.2 mm = 3" away, where 1.5 D is asked.
#[test]
fn the_ledgers_screw_is_measured_by_hand() {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("sample-projects/heron-lane-ledger.joint.json");
    let joint = sample(&path);
    let measures = findings::measures(&joint, &trace::trace(&joint), 0);
    let bite = of(&measures, "Bite", "in the rim");
    assert_eq!((bite.drawn.as_str(), bite.stands), ("1 1/8\" in the rim", Stands::Missed));
    assert_eq!((bite.asked.as_str(), bite.source.as_str()), ("1 1/2\" (4 D) or more", "NDS 2018 12.1.4.6"));
    let edge = of(&measures, "To the upper edge", "in the ledger");
    assert_eq!((edge.drawn.as_str(), edge.stands), ("2\" in the ledger", Stands::Met));
    assert_eq!(edge.asked, "1 1/2\" (4 D) or more");
    let edge = of(&measures, "To the upper edge", "in the rim");
    assert_eq!((edge.drawn.as_str(), edge.stands), ("3\" in the rim", Stands::Met));
    // The nearest face of all is the ledger's upper edge; half of 3/8" is 3/16".
    let cover = of(&measures, "Cover", "in the ledger");
    assert_eq!((cover.drawn.as_str(), cover.stands), ("2\" in the ledger", Stands::Met));
    assert_eq!(cover.asked, "3/16\" (half the shank) or more");
    // 1.5 D = 0.5625" = 9/16".
    assert!(edge.asked.starts_with("9/16\""), "{}", edge.asked);
}

/// Toe-nails of 3.1 mm in a stud that stands on its sole plate at y 45 mm, at 30 degrees to its side. The one with its head
/// at 77 mm starts 32 mm from the end of the stud, the other at 57 mm starts 12 mm from it; 10 d = 31 mm are asked for
/// (EN 1995-1-1 8.3.2(9), Figure 8.8b, from memory). That figure asks no slope, common practice 30 degrees or so.
#[test]
fn the_start_and_the_slope_of_a_toe_nail_are_measured_by_hand() {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("sample-projects/kiln-house-stud.joint.json");
    let joint = sample(&path);
    let trace = trace::trace(&joint);
    for (id, start, stands) in [("left", "32 mm", Stands::Met), ("low", "12 mm", Stands::Missed)] {
        let at = joint.fasteners.iter().position(|it| it.id == id).expect("it is in the sample");
        let measures = findings::measures(&joint, &trace, at);
        let found = of(&measures, "Start", "from the end of the stud");
        assert!(found.drawn.starts_with(start) && found.asked.starts_with("31 mm"), "{id}: {found:?}");
        assert_eq!(found.stands, stands, "{id}");
        let slope = of(&measures, "Slope", "to the face of the stud");
        assert!(slope.drawn.starts_with("30°") && slope.stands == Stands::Met, "{id}: {slope:?}");
    }
}

/// Bolts M12 of the gate post, 40 mm apart one above the other: the load pulls across the grain of the post, which has
/// 4 d = 48 mm between them along it or across it (EN 1995-1-1 Table 8.4: a1 = (4 + |cos|) d, a2 = 4 d; from memory).
#[test]
fn what_a_neighbour_asks_is_told_with_its_way() {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("sample-projects/weir-gate-post.joint.json");
    let joint = sample(&path);
    let measures = findings::measures(&joint, &trace::trace(&joint), 0);
    let found = measures.iter().find(|it| it.what == "From fastener 2").expect("they are neighbours");
    assert!(found.drawn.starts_with("0 mm along, 40 mm across the grain"), "{found:?}");
    assert_eq!(found.asked, "48 mm (4 d) along or 48 mm (4 d) across");
    assert_eq!(found.stands, Stands::Missed);
}

#[test]
fn a_measure_misses_exactly_where_a_finding_says_so() {
    let mut seen = 0;
    for (name, joint) in samples() {
        let trace = trace::trace(&joint);
        let findings = findings::judge(&joint, &trace);
        for (n, fastener) in joint.fasteners.iter().enumerate() {
            let measures = findings::measures(&joint, &trace, n);
            if measures.is_empty() {
                continue;
            }
            seen += 1;
            let told = |kinds: &[Kind]| {
                let about = |it: &&findings::Finding| {
                    kinds.contains(&it.kind) && it.subjects.first() == Some(&fastener.id) && it.unit == "mm"
                };
                findings.list.iter().any(|it| about(&it))
            };
            let missed = |starts: &str, ends: &str| {
                let open = |it: &&Measure| Stands::Met < it.stands;
                measures.iter().filter(open).any(|it| it.what.starts_with(starts) && it.what.ends_with(ends))
            };
            let pairs = [
                (missed("Bite", ""), told(&[Kind::ShortBite]), "bite"),
                (missed("To the", "end"), told(&[Kind::EndDistance]), "end"),
                (missed("To the", "edge"), told(&[Kind::EdgeDistance]), "edge"),
                (missed("Hole depth", ""), told(&[Kind::HoleDepth]), "hole depth"),
                (missed("Cover", ""), told(&[Kind::BreaksOut, Kind::AlongFace]), "cover"),
                (missed("Start", ""), told(&[Kind::WrongStart]), "start"),
            ];
            for (missed, told, what) in pairs {
                assert_eq!(missed, told, "{name} {} {what}: {measures:#?}", fastener.id);
            }
        }
    }
    assert!(20 < seen, "the samples have fasteners that hold: {seen}");
}
