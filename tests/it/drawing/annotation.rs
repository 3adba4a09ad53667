//! What annotation hides and crosses, counted over the samples and two hundred random joints.
//!
//! The goal is none. The limits below are what is reached; they may only be made smaller.

use kurbo::{Line as Segment, ParamCurve as _, Point, Rect};
use shankline::drawing::{self, Drawing, Item, Layer, Line, Shape};
use shankline::joint::{Grain, Joint};
use shankline::paint;
use shankline::stock::{Family, Stock};
use shankline::unit::Vec3;
use shankline::{findings, joint, trace};

use super::laws::{parse, texts};
use super::sample::{Sample, bolt, lag, nail, rect};
use super::sheets;
use crate::dice::Dice;

/// What was counted.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
struct Counts {
    text_on_text: usize,
    line_through_text: usize,
    leaders_crossing: usize,
}

impl Counts {
    fn add(&mut self, other: Self) {
        self.text_on_text += other.text_on_text;
        self.line_through_text += other.line_through_text;
        self.leaders_crossing += other.leaders_crossing;
    }
}

fn segments(item: &Item) -> Vec<Segment> {
    match &item.shape {
        Shape::Path { path, line: Some(_), .. } => {
            path.segments().map(|it| Segment::new(it.start(), it.end())).collect()
        }
        _ => Vec::new(),
    }
}

/// Whether a stroke runs through a box, not only along its edge.
fn runs_through(at: Rect, line: Segment) -> bool {
    let inner = at.inflate(-0.15, -0.15);
    0.0 < inner.width()
        && 0.0 < inner.height()
        && (0..=40).map(|it| line.eval(f64::from(it) / 40.0)).any(|it| inner.contains(it))
}

/// The annotation of a page: figures, names, marks, tags, leaders; and the lines that it must keep clear of.
fn count(page: &Drawing) -> Counts {
    let tree = parse(&paint::svg(page));
    let annotated = |it: &&Item| matches!(it.layer, Layer::Dimensions | Layer::Marks | Layer::Notes);
    // Text boxes as an independent library measures them, for the words of annotation only.
    let places: Vec<Point> = page
        .items
        .iter()
        .filter(annotated)
        .filter_map(|it| match &it.shape {
            Shape::Text { at, .. } => Some(*at),
            Shape::Path { .. } => None,
        })
        .collect();
    let boxes: Vec<Rect> = texts(&tree)
        .into_iter()
        .map(|it| it.1)
        .filter(|it| places.iter().any(|p| it.inflate(1.5, 1.5).contains(*p)))
        .collect();
    let mut counts = Counts::default();
    for (n, a) in boxes.iter().enumerate() {
        counts.text_on_text += boxes[n + 1..]
            .iter()
            .filter(|b| {
                let common = a.intersect(**b);
                0.05 < common.width() && 0.05 < common.height()
            })
            .count();
    }
    let strokes: Vec<Segment> = page
        .items
        .iter()
        .filter(|it| match &it.shape {
            Shape::Path { line: Some(line), .. } => {
                let is_annotation = matches!(line, Line::Dimension | Line::Tick | Line::Leader(_));
                is_annotation && matches!(it.layer, Layer::Dimensions | Layer::Marks | Layer::Notes)
            }
            _ => false,
        })
        .flat_map(segments)
        .collect();
    counts.line_through_text =
        boxes.iter().map(|it| strokes.iter().filter(|line| runs_through(*it, **line)).count()).sum();
    let leaders: Vec<Segment> = page
        .items
        .iter()
        .filter(|it| matches!(&it.shape, Shape::Path { line: Some(Line::Leader(_)), .. }))
        .filter_map(|it| segments(it).into_iter().next())
        .collect();
    for (n, a) in leaders.iter().enumerate() {
        counts.leaders_crossing += leaders[n + 1..].iter().filter(|b| cross(*a, **b)).count();
    }
    counts
}

/// Whether two leaders cross before their arrows.
fn cross(a: Segment, b: Segment) -> bool {
    a.crossing_point(b).is_some_and(|p| {
        [a, b].iter().all(|it| {
            let t = (p - it.p0).dot(it.p1 - it.p0) / (it.p1 - it.p0).hypot2();
            (0.0..=0.98).contains(&t)
        })
    })
}

/// A joint as one meets it: a few boards side by side with gaps, and a handful of fasteners through them.
fn random(dice: &mut Dice) -> Sample {
    let mut it = Sample::default();
    let lumber = (Family::Lumber, "hem-fir");
    let mut x = 0.0;
    let mut ends = (0.0, 0.0);
    for n in 0..2 + dice.below(3) {
        let (width, height, foot) =
            (dice.between(19.0, 45.0), dice.between(140.0, 300.0), dice.between(-40.0, 20.0));
        let grain = if dice.below(2) == 0 { Grain::AlongDepth } else { Grain::InPlane(90.0) };
        it.member(&format!("board {}", n + 1), lumber, rect(x, foot, width, height), grain);
        if n == 0 {
            ends = (foot, foot + height);
        }
        x += width + if dice.below(2) == 0 { 0.0 } else { dice.between(3.0, 25.0) };
    }
    let count = 1 + dice.below(7);
    for n in 0..count {
        let part =
            (f64::from(u32::try_from(n).expect("few")) + 0.5) / f64::from(u32::try_from(count).expect("few"));
        let y = ends.0 + (ends.1 - ends.0) * part + dice.between(-6.0, 6.0);
        let spec = match dice.below(3) {
            0 => nail("16d common nail", 4.1, 88.9),
            1 => lag("lag screw 3/8 × 4", 9.5, 101.6),
            _ => bolt("bolt 1/2 × 8", 12.7, 203.0),
        };
        let lean = if dice.below(4) == 0 { dice.between(-0.5, 0.5) } else { 0.0 };
        it.fastener(spec, Vec3::new(0.0, y, 600.0), Vec3::new(1.0, lean, 0.0));
    }
    it
}

fn first_page(joint: &Joint) -> Drawing {
    let trace = trace::trace(joint);
    let findings = findings::judge(joint, &trace);
    drawing::pages(&drawing::Inputs { joint, trace: &trace, findings: &findings }).swap_remove(0)
}

#[test]
fn annotation_of_the_samples_hides_nothing() {
    let (mut all, mut told) = (Counts::default(), String::new());
    for (name, joint) in sheets::joints() {
        for page in sheets::pages(&joint) {
            let found = count(&page);
            all.add(found);
            told.push_str(&format!("{name}: {found:?}; "));
        }
    }
    let reached = Counts { text_on_text: 0, line_through_text: 3, leaders_crossing: 2 };
    assert!(is_within(all, reached), "{all:?}: {told}");
}

fn is_within(found: Counts, most: Counts) -> bool {
    found.text_on_text <= most.text_on_text
        && found.line_through_text <= most.line_through_text
        && found.leaders_crossing <= most.leaders_crossing
}

#[test]
fn annotation_of_two_hundred_random_joints_hides_nothing() {
    let mut dice = Dice::new(0xA770);
    let mut all = Counts::default();
    for _ in 0..200 {
        let joint = random(&mut dice).joint;
        all.add(count(&first_page(&joint)));
    }
    let reached = Counts { text_on_text: 0, line_through_text: 0, leaders_crossing: 0 };
    assert!(is_within(all, reached), "{all:?}");
}

#[test]
fn what_was_drawn_aside_stays_where_it_was_put_and_its_leader_holds_on() {
    let stock = Stock::built_in();
    let text = joint::file::write(&sheets::joints().remove(3).1);
    let mut joint = joint::file::read(&text, &stock).expect("it is sound");
    let before = first_page(&joint);
    let mark = before.handles.iter().find(|it| it.what.contains(" mark ")).expect("there is a mark").clone();
    joint.sheet.moved = vec![
        joint::Moved { what: mark.what.clone(), by_mm: (7.0, -4.0) },
        joint::Moved { what: "front mark of nothing".to_owned(), by_mm: (1.0, 1.0) },
    ];
    let after = first_page(&joint);
    let moved = after.handles.iter().find(|it| it.what == mark.what).expect("it is still there");
    // The views may be centred anew on the page; what counts is where the mark is among the rest.
    let still =
        |page: &Drawing| page.handles.iter().find(|it| it.what.contains(" name ")).expect("a name").at;
    let by = (moved.at.origin() - mark.at.origin()) - (still(&after).origin() - still(&before).origin());
    assert!((by.x - 7.0).abs() < 1e-6 && (by.y + 4.0).abs() < 1e-6, "{by:?}");
    // Its leader begins at its new edge and ends where it did.
    let id = mark.what.rsplit(' ').next().expect("an id");
    let leader = |page: &Drawing| {
        let is_it = |it: &&Item| {
            it.subject == Some(drawing::Subject::Fastener(id.to_owned()))
                && matches!(&it.shape, Shape::Path { line: Some(Line::Leader(_)), .. })
        };
        segments(page.items.iter().find(is_it).expect("it has a leader"))[0]
    };
    let (old, new) = (leader(&before), leader(&after));
    let kept = (new.p1 - old.p1) - (still(&after).origin() - still(&before).origin());
    assert!(kept.hypot() < 1e-6, "{kept:?}");
    assert!(moved.at.inflate(0.3, 0.3).contains(new.p0), "{:?} {new:?}", moved.at);
    // The file keeps it.
    assert_eq!(joint::file::read(&joint::file::write(&joint), &stock).expect("it is sound"), joint);
}

#[test]
fn edge_distances_pitch_and_bite_are_dimensioned_once() {
    let joint = sheets::joints().into_iter().find(|it| it.0 == "heron-lane-ledger").expect("it is there").1;
    let page = first_page(&joint);
    let figures: Vec<String> = page
        .items
        .iter()
        .filter(|it| it.layer == Layer::Dimensions)
        .filter_map(|it| match &it.shape {
            Shape::Text { words, .. } => Some(words.clone()),
            Shape::Path { .. } => None,
        })
        .collect();
    // The rim is 9 1/4 high from -1 to 8 1/4; the screws lie at 2 and 5 1/4 (the file): 3, 3 1/4 and 3 to its edges.
    let trace = trace::trace(&joint);
    let bounds = trace.bodies[2].region.bounds();
    let mut places: Vec<f64> = trace.fasteners.iter().map(|it| it.head_at.y).collect();
    places.extend([bounds.y0, bounds.y1]);
    places.sort_by(f64::total_cmp);
    for pair in places.windows(2) {
        let words = shankline::unit::length::format(
            pair[1] - pair[0],
            joint.show_lengths_in,
            shankline::unit::length::Rounding::Nearest,
        );
        assert!(figures.contains(&words), "{words} in {figures:?}");
    }
    // The second screw bites 1 inch with its point.
    assert!(figures.iter().any(|it| it == "1\""), "{figures:?}");
}
