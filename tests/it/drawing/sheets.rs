//! The sheets of the sample joints, page by page.

use std::path::Path;

use kurbo::{Point, Rect};
use shankline::drawing::{self, Drawing, Shape};
use shankline::joint::{self, Joint};
use shankline::stock::Stock;
use shankline::{findings, paint, trace};

/// Every sample joint with its name.
pub(super) fn joints() -> Vec<(String, Joint)> {
    let stock = Stock::built_in();
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("sample-projects");
    let mut paths: Vec<_> = std::fs::read_dir(folder)
        .expect("there are samples")
        .map(|it| it.expect("it is read").path())
        .collect();
    paths.retain(|it| it.to_string_lossy().ends_with(".joint.json"));
    paths.sort();
    let read = |path: std::path::PathBuf| {
        let text = std::fs::read_to_string(&path).expect("the sample is there");
        let name = path.file_name().expect("it has a name").to_string_lossy().replace(".joint.json", "");
        (name, joint::file::read(&text, &stock).expect("it is sound"))
    };
    paths.into_iter().map(read).collect()
}

/// The pages of a joint.
pub(super) fn pages(joint: &Joint) -> Vec<Drawing> {
    let trace = trace::trace(joint);
    let findings = findings::judge(joint, &trace);
    drawing::pages(&drawing::Inputs { joint, trace: &trace, findings: &findings })
}

fn words(page: &Drawing) -> Vec<String> {
    let of = |it: &drawing::Item| match &it.shape {
        Shape::Text { words, .. } => Some(words.clone()),
        Shape::Path { .. } => None,
    };
    page.items.iter().filter_map(of).collect()
}

#[test]
fn every_sample_has_its_lists_and_every_fastener_is_in_them() {
    for (name, joint) in joints() {
        let pages = pages(&joint);
        let all: Vec<String> = pages.iter().flat_map(words).collect();
        for heading in ["FASTENERS", "CORE", "CHECK ON SITE", "Before work", "While driving", "NOT CHECKED"] {
            assert!(all.iter().any(|it| it == heading), "{name}: {heading}");
        }
        let count = joint.fasteners.len();
        let whole = all.join(" ");
        assert!(whole.contains(&format!("{count} fasteners in all")), "{name}");
        for never in ["safe", "approved by", "…\""] {
            assert!(!whole.contains(never), "{name}: {never}");
        }
        if let Ok(folder) = std::env::var("LOOK_DIR") {
            for (n, page) in pages.iter().enumerate() {
                std::fs::write(format!("{folder}/sheet-{name}-{}.svg", n + 1), paint::svg(page))
                    .expect("it can be written");
            }
        }
    }
}

/// The joint of a sample.
fn sample(name: &str) -> Joint {
    joints().into_iter().find(|it| it.0 == name).expect("there is such a sample").1
}

/// Where a line of words stands: its page and its anchor.
fn place_of(pages: &[Drawing], wanted: &str) -> Option<(usize, Point)> {
    let of = |it: &drawing::Item| match &it.shape {
        Shape::Text { words, at, .. } if words == wanted => Some(*at),
        Shape::Text { .. } | Shape::Path { .. } => None,
    };
    pages.iter().enumerate().find_map(|(n, page)| Some((n, page.items.iter().find_map(of)?)))
}

#[test]
fn no_page_is_begun_for_a_few_lines_that_have_room_below_the_views() {
    // Counted by hand on the pages of the samples as they were looked at.
    for (name, most) in [
        ("osier-lane-strap", 1),
        ("heron-lane-ledger", 1),
        // Its bolts lie in several depths: the second page shows the rail from above.
        ("weir-gate-post", 2),
        ("ferry-yard-splice", 2),
        ("quay-house-sill", 2),
    ] {
        let pages = pages(&sample(name));
        assert!(pages.len() <= most, "{name}: {} pages", pages.len());
    }
}

#[test]
fn the_notes_stay_where_they_were_put_and_the_lists_make_room() {
    let mut joint = sample("alder-court-hanger");
    let before = pages(&joint);
    let (page, heading) = place_of(&before, "NOTES").expect("it has notes");
    let what = format!("sheet {} list notes", page + 1);
    let handle = before[page].handles.iter().find(|it| it.what == what).expect("they can be drawn aside");
    assert!(handle.at.inflate(0.1, 0.1).contains(heading), "{:?} {heading:?}", handle.at);
    // Onto the first list of the page.
    let list = before[page].handles.iter().find(|it| it.what.contains(" list ") && it.what != what);
    let to = list.expect("there are others").at.center() - handle.at.size().to_vec2() / 2.0;
    let by = to + handle.at.size().to_vec2() / 2.0 - handle.anchor;
    joint.sheet.moved = vec![joint::Moved { what: what.clone(), by_mm: (by.x, by.y) }];
    let after = pages(&joint);
    let put = after[page].handles.iter().find(|it| it.what == what).expect("they can be taken hold of again");
    // Held within the room of the page.
    let wanted = Rect::from_origin_size(to, put.at.size());
    let to = to + before[page].held(wanted, kurbo::Vec2::ZERO);
    assert!((put.at.origin() - to).hypot() < 1e-6, "{:?} {to:?}", put.at);
    let others = after[page].handles.iter().filter(|it| it.what.contains(" list ") && it.what != what);
    for other in others {
        let common = put.at.intersect(other.at);
        assert!(common.width() < 0.01 || common.height() < 0.01, "{} lies under the notes", other.what);
    }
    // Nothing is lost and nothing is told twice.
    let told = |pages: &[Drawing]| {
        let mut all: Vec<String> = pages.iter().flat_map(words).collect();
        all.retain(|it| !it.ends_with("CONTINUED") && !it.contains(" / "));
        all.sort();
        all.dedup();
        all
    };
    assert_eq!(told(&before), told(&after));
    // More lines leave the upper left corner where it is.
    joint.notes.push("Look twice.".to_owned());
    let more = pages(&joint);
    let grown = more[page].handles.iter().find(|it| it.what == what).expect("still there");
    assert!((grown.at.origin() - to).hypot() < 1e-6 && put.at.height() < grown.at.height());
    // A name that says nothing moves nothing.
    joint.notes.pop();
    joint.sheet.moved = [
        "sheet 0 list notes",
        "sheet 99 list notes",
        "sheet 1 list",
        "sheet x list notes",
        "sheet 1 list none",
    ]
    .map(|it| joint::Moved { what: it.to_owned(), by_mm: (5.0, 5.0) })
    .to_vec();
    assert_eq!(pages(&joint), before);
}

#[test]
fn the_last_revision_has_its_mark_in_a_triangle_that_is_drawn_to_what_was_changed() {
    let mut joint = sample("osier-lane-strap");
    let find = |pages: &[Drawing]| {
        pages[0].handles.iter().find(|it| it.what == "sheet 1 revision mark").map(|it| it.at)
    };
    assert!(find(&pages(&joint)).is_none(), "nothing was revised");
    for mark in ["A", "B", "P01"] {
        joint.sheet.revisions.push(joint::Revision { mark: mark.to_owned(), ..joint::Revision::default() });
    }
    let revised = pages(&joint);
    let at = find(&revised).expect("it can be drawn aside");
    let (_, letters) = place_of(&revised[..1], "P01").expect("it is written");
    let in_triangle = |it: &drawing::Item| match &it.shape {
        Shape::Text { words, at: place, .. } => words == "P01" && at.inflate(1.0, 1.0).contains(*place),
        Shape::Path { .. } => false,
    };
    assert!(revised[0].items.iter().any(in_triangle), "{at:?} {letters:?}");
    let by = (-60.0, -50.0);
    joint.sheet.moved = vec![joint::Moved { what: "sheet 1 revision mark".to_owned(), by_mm: by }];
    let moved = find(&pages(&joint)).expect("it is still there");
    assert!((moved.center() - at.center() - kurbo::Vec2::from(by)).hypot() < 1e-6, "{moved:?} {at:?}");
}

#[test]
fn a_short_list_is_not_broken_and_no_row_stands_alone_below_a_heading() {
    for (name, joint) in joints() {
        for page in pages(&joint) {
            let all = words(&page);
            let broken: Vec<&String> = all.iter().filter(|it| it.ends_with(", CONTINUED")).collect();
            assert!(!broken.iter().any(|it| it.starts_with("NOT CHECKED")), "{name}: {broken:?}");
        }
    }
}

#[test]
fn long_notes_run_from_narrow_columns_into_wide_ones_without_a_word_lost_or_told_twice() {
    let mut joint = sample("heron-lane-ledger");
    let note = |n: usize| {
        let words: Vec<String> = (0..150).map(|word| format!("w{n}x{word}")).collect();
        words.join(" ")
    };
    joint.notes = (0..9).map(note).collect();
    for portrait in [false, true] {
        joint.sheet.portrait = portrait;
        let all: Vec<String> = pages(&joint).iter().flat_map(words).collect();
        let told: Vec<&str> = all
            .iter()
            .flat_map(|it| it.split(' '))
            .filter(|it| it.starts_with('w') && it.contains('x'))
            .collect();
        let wanted: Vec<String> =
            (0..9).flat_map(|n| (0..150).map(move |word| format!("w{n}x{word}"))).collect();
        assert_eq!(told, wanted);
    }
}

#[test]
fn every_body_of_the_samples_is_named_on_a_sheet() {
    for (name, joint) in joints() {
        let all: Vec<String> = pages(&joint)
            .iter()
            .flat_map(|page| {
                let is_name = |it: &&drawing::Item| it.layer == drawing::Layer::Notes && it.subject.is_some();
                let of = |it: &drawing::Item| match &it.shape {
                    Shape::Text { words, .. } => Some(words.clone()),
                    Shape::Path { .. } => None,
                };
                page.items.iter().filter(is_name).filter_map(of).collect::<Vec<_>>()
            })
            .collect();
        let members = joint.members.iter().map(joint::Member::shown_name);
        for wanted in members.chain(joint.connectors.iter().map(joint::Connector::shown_name)) {
            let is_named = all.iter().any(|it| it == wanted || it.starts_with(&format!("{wanted},")));
            assert!(is_named, "{name}: {wanted} is not named: {all:?}");
        }
    }
}

/// The screws of the sill are 3 1/4" long and end in a slab of 8": a hole of 3 3/4" goes no farther than 1/2" beyond their
/// points.
#[test]
fn a_hole_goes_through_only_what_its_fastener_goes_through() {
    let all = joints();
    let told = |name: &str| {
        let (_, joint) = all.iter().find(|it| it.0 == name).expect("the sample is there");
        pages(joint).iter().flat_map(words).collect::<Vec<_>>()
    };
    let sill = told("quay-house-sill");
    assert!(!sill.iter().any(|it| it == "through" || it.contains("right through")), "{sill:?}");
    assert!(sill.iter().any(|it| it == "3 3/4\""), "{sill:?}");
    let splice = told("ferry-yard-splice");
    assert!(splice.iter().any(|it| it == "through"), "a bolt goes through: {splice:?}");
}
