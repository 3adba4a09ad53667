//! What annotation hides and crosses, counted over the samples and two hundred random joints.
//!
//! The goal is none. The limits below are what is reached; they may only be made smaller.

use kurbo::{BezPath, Line as Segment, ParamCurve as _, Point, Rect, Shape as _, Vec2};
use shankline::drawing::{self, Drawing, Item, Layer, Line, Shape, Subject};
use shankline::joint::{Anchor, Dimension, Grain, Joint, Look, Measures, Outline};
use shankline::paint;
use shankline::stock::{Family, Stock};
use shankline::unit::Vec3;
use shankline::{findings, joint, trace};

use super::laws::{parse, texts};
use super::sample::{Sample, bolt, lag, nail, rect};
use super::{located, sheets};
use crate::dice::Dice;

/// What was counted. A mark counts as text with all of its outline.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
struct Counts {
    text_on_text: usize,
    line_through_text: usize,
    leaders_crossing: usize,
    /// Text across the edge of a member, of steel or of a hole.
    text_on_outline: usize,
    /// Text across a shank, a head, a washer or a nut.
    text_on_shank: usize,
}

impl Counts {
    fn each(self) -> [usize; 5] {
        [
            self.text_on_text,
            self.line_through_text,
            self.leaders_crossing,
            self.text_on_outline,
            self.text_on_shank,
        ]
    }

    fn add(&mut self, other: Self) {
        self.text_on_text += other.text_on_text;
        self.line_through_text += other.line_through_text;
        self.leaders_crossing += other.leaders_crossing;
        self.text_on_outline += other.text_on_outline;
        self.text_on_shank += other.text_on_shank;
    }
}

/// The strokes of a path, its curves followed within a hundredth of a millimetre.
fn segments(item: &Item) -> Vec<Segment> {
    match &item.shape {
        Shape::Path { path, line: Some(_), .. } => chords(path),
        Shape::Path { .. } | Shape::Text { .. } => Vec::new(),
    }
}

fn chords(path: &BezPath) -> Vec<Segment> {
    let mut flat = BezPath::new();
    kurbo::flatten(path.iter(), 0.01, |it| flat.push(it));
    flat.segments().map(|it| Segment::new(it.start(), it.end())).collect()
}

/// Whether a stroke runs through a box, not only along its edge.
fn runs_through(at: Rect, line: Segment) -> bool {
    let inner = at.inflate(-0.15, -0.15);
    if inner.width() <= 0.0 || inner.height() <= 0.0 {
        return false;
    }
    // Clipped on both axes, one after the other.
    let d = line.p1 - line.p0;
    let (mut from, mut to) = (0.0_f64, 1.0_f64);
    for (start, step, low, high) in
        [(line.p0.x, d.x, inner.x0, inner.x1), (line.p0.y, d.y, inner.y0, inner.y1)]
    {
        if step.abs() < 1e-12 {
            if start < low || high < start {
                return false;
            }
            continue;
        }
        let (a, b) = ((low - start) / step, (high - start) / step);
        (from, to) = (from.max(a.min(b)), to.min(a.max(b)));
    }
    from <= to
}

/// The boxes of the words of annotation as an independent library measures them, and of the marks.
fn boxes(page: &Drawing) -> Vec<Rect> {
    let is_mark = |it: &Item| it.layer == Layer::Marks && matches!(it.subject, Some(Subject::Fastener(_)));
    let is_word =
        |it: &&Item| matches!(it.layer, Layer::Dimensions | Layer::Marks | Layer::Notes) && !is_mark(it);
    let places: Vec<Point> = page
        .items
        .iter()
        .filter(is_word)
        .filter_map(|it| match &it.shape {
            Shape::Text { at, .. } => Some(*at),
            Shape::Path { .. } => None,
        })
        .collect();
    let tree = parse(&paint::svg(page));
    let mut boxes: Vec<Rect> = texts(&tree)
        .into_iter()
        .map(|it| it.1)
        .filter(|it| places.iter().any(|p| it.inflate(1.5, 1.5).contains(*p)))
        .collect();
    let outlines = page.items.iter().filter(|it| is_mark(it)).filter_map(|it| match &it.shape {
        Shape::Path { path, line: Some(Line::Mark(_)), .. } => Some(path.bounding_box()),
        Shape::Path { .. } | Shape::Text { .. } => None,
    });
    // The number of a mark lies in its outline and is not counted again.
    let outlines: Vec<Rect> = outlines.collect();
    boxes.retain(|it| !outlines.iter().any(|mark| mark.contains(it.center())));
    boxes.extend(outlines);
    boxes
}

/// The annotation of a page: figures, names, marks, tags, leaders; and what it must keep clear of.
fn count(page: &Drawing) -> Counts {
    let boxes = boxes(page);
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
    let strokes = |wanted: fn(Layer, Line) -> bool| -> Vec<Segment> {
        let is_wanted = |it: &&Item| match &it.shape {
            Shape::Path { line: Some(line), .. } => wanted(it.layer, *line),
            Shape::Path { .. } | Shape::Text { .. } => false,
        };
        page.items.iter().filter(is_wanted).flat_map(segments).collect()
    };
    let through = |strokes: &[Segment]| -> usize {
        boxes.iter().map(|it| strokes.iter().filter(|line| runs_through(*it, **line)).count()).sum()
    };
    counts.line_through_text = through(&strokes(|layer, line| {
        let is_annotation = matches!(line, Line::Dimension | Line::Tick | Line::Leader(_));
        is_annotation && matches!(layer, Layer::Dimensions | Layer::Marks | Layer::Notes | Layer::Fasteners)
    }));
    counts.text_on_outline = through(&strokes(|layer, line| {
        let is_edge =
            matches!(line, Line::Cut | Line::Seen | Line::Filling | Line::Steel | Line::Hole | Line::Hidden);
        is_edge && matches!(layer, Layer::Members | Layer::Connectors)
    }));
    let shanks =
        page.items.iter().filter(|it| it.layer == Layer::Fasteners).filter_map(|it| match &it.shape {
            Shape::Path { line: Some(Line::Dimension), .. } | Shape::Text { .. } => None,
            Shape::Path { path, fill, .. } => Some((path, fill.is_some())),
        });
    for (path, is_filled) in shanks {
        let edges = chords(path);
        let lies_on = |it: &&Rect| {
            let covers = is_filled && path.winding(it.center()) != 0;
            covers || edges.iter().any(|line| runs_through(**it, *line))
        };
        counts.text_on_shank += boxes.iter().filter(lies_on).count();
    }
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
    for (name, joint) in sheets::joints().into_iter().chain(located::joints()) {
        for (n, page) in sheets::pages(&joint).iter().enumerate() {
            let found = count(page);
            all.add(found);
            told.push_str(&format!("{name} {}: {found:?}; ", n + 1));
            if let Ok(folder) = std::env::var("LOOK_DIR") {
                let file = format!("{folder}/counted-{name}-{}.svg", n + 1);
                std::fs::write(file, paint::svg(page)).expect("it can be written");
            }
        }
    }
    assert!(is_within(all, [0, 0, 0, 0, 0]), "{all:?}: {told}");
}

/// Each count is at most so many.
fn is_within(found: Counts, most: [usize; 5]) -> bool {
    found.each().iter().zip(most).all(|(found, most)| *found <= most)
}

#[test]
fn annotation_of_two_hundred_random_joints_hides_nothing() {
    let mut dice = Dice::new(0xA770);
    let (mut all, mut told) = (Counts::default(), String::new());
    for n in 0..200 {
        let joint = random(&mut dice).joint;
        let page = first_page(&joint);
        let found = count(&page);
        if !is_within(found, [0, 0, 0, 0, 0]) {
            told.push_str(&format!("joint {n}: {found:?}; "));
            if let Ok(folder) = std::env::var("LOOK_DIR") {
                std::fs::write(format!("{folder}/joint-{n}.svg"), paint::svg(&page))
                    .expect("it can be written");
            }
        }
        all.add(found);
    }
    assert!(is_within(all, [0, 0, 0, 0, 0]), "{all:?}: {told}");
}

#[test]
fn what_was_drawn_aside_stays_where_it_was_put_and_its_leader_holds_on() {
    let stock = Stock::built_in();
    let text = joint::file::write(&sheets::joints().remove(3).1);
    let mut joint = joint::file::read(&text, &stock).expect("it is sound");
    let before = first_page(&joint);
    let mark = before.handles.iter().find(|it| it.what.contains(" mark ")).expect("there is a mark").clone();
    let put = mark.at.center() + Vec2::new(7.0, -4.0) - mark.anchor;
    joint.sheet.moved = vec![
        joint::Moved { what: mark.what.clone(), by_mm: (put.x, put.y) },
        joint::Moved { what: "front mark of nothing".to_owned(), by_mm: (1.0, 1.0) },
    ];
    let after = first_page(&joint);
    let moved = after.handles.iter().find(|it| it.what == mark.what).expect("it is still there");
    assert!((moved.at.center() - moved.anchor - put).hypot() < 1e-6, "{moved:?}");
    // Its leader begins at its new edge and ends at its head as it did.
    let id = mark.what.rsplit(' ').next().expect("an id");
    let is_it = |it: &&Item| {
        it.subject == Some(Subject::Fastener(id.to_owned()))
            && matches!(&it.shape, Shape::Path { line: Some(Line::Leader(_)), .. })
    };
    let leader = segments(after.items.iter().find(is_it).expect("it has a leader"))[0];
    assert!((leader.p1 - moved.anchor).hypot() < 1e-6, "{leader:?} {moved:?}");
    assert!(moved.at.inflate(0.3, 0.3).contains(leader.p0), "{:?} {leader:?}", moved.at);
    // The file keeps it.
    assert_eq!(joint::file::read(&joint::file::write(&joint), &stock).expect("it is sound"), joint);
    // What is put nowhere stays clear of it.
    assert_eq!(count(&after).text_on_text, 0);
}

#[test]
fn a_figure_stays_where_it_was_put_though_its_words_and_its_neighbours_change() {
    let mut joint =
        sheets::joints().into_iter().find(|it| it.0 == "heron-lane-ledger").expect("it is there").1;
    let width = "front figure ledger width";
    joint.sheet.moved = vec![joint::Moved { what: width.to_owned(), by_mm: (-12.0, 9.0) }];
    for size in [38.1, 63.5, 19.05] {
        let Outline::Rectangle { size_mm, .. } = &mut joint.members[0].outline else { panic!("a rectangle") };
        size_mm.0 = size;
        let page = first_page(&joint);
        let at = page.handles.iter().find(|it| it.what == width).expect("it is dimensioned");
        let by = at.at.center() - at.anchor;
        assert!((by - Vec2::new(-12.0, 9.0)).hypot() < 1e-6, "{by:?}");
    }
}

#[test]
fn what_the_user_has_dimensioned_is_on_the_sheet_and_is_not_dimensioned_twice() {
    let mut joint =
        sheets::joints().into_iter().find(|it| it.0 == "heron-lane-ledger").expect("it is there").1;
    let figures = |joint: &Joint| -> Vec<String> {
        let page = first_page(joint);
        page.handles.iter().filter(|it| it.what.contains(" figure ")).map(|it| it.what.clone()).collect()
    };
    let before = figures(&joint);
    assert!(before.contains(&"front figure ledger width".to_owned()), "{before:?}");
    // From the lower left to the lower right corner of the ledger, the line 20 mm above them.
    let corner =
        |edge| Anchor::Edge { of: "ledger".to_owned(), part: 0, ring: 0, edge, share: 0.0, deep: 0.0 };
    joint.dimensions = vec![Dimension {
        look: Look::Front,
        from: corner(0),
        to: corner(1),
        measures: Measures::Level,
        offset_mm: 20.0,
    }];
    let after = figures(&joint);
    assert!(after.contains(&"front figure placed 1".to_owned()), "{after:?}");
    assert!(!after.contains(&"front figure ledger width".to_owned()), "{after:?}");
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

#[test]
fn the_angle_of_a_nail_to_its_face_and_of_a_turned_member_to_the_level_are_dimensioned() {
    let figures = |it: &Sample| -> Vec<String> {
        let of = |it: &Item| match &it.shape {
            Shape::Text { words, .. } if words.ends_with('°') => Some(words.clone()),
            Shape::Text { .. } | Shape::Path { .. } => None,
        };
        let page = first_page(&it.joint);
        page.items.iter().filter(|it| it.layer == Layer::Dimensions).filter_map(of).collect()
    };
    let lumber = (Family::Lumber, "hem-fir");
    let mut it = Sample::default();
    it.member("post", lumber, rect(0.0, 0.0, 140.0, 300.0), Grain::InPlane(90.0));
    it.fastener(nail("16d common nail", 4.1, 88.9), Vec3::new(0.0, 150.0, 600.0), Vec3::new(1.0, 0.0, 0.0));
    assert_eq!(figures(&it), [""; 0], "square needs no figure");
    // 60 degrees from the level is 30 degrees to the upright face that it enters.
    let (sin, cos) = 60.0_f64.to_radians().sin_cos();
    it.fastener(nail("16d common nail", 4.1, 88.9), Vec3::new(0.0, 250.0, 600.0), Vec3::new(cos, -sin, 0.0));
    assert_eq!(figures(&it), ["30°"]);
    let mut it = Sample::default();
    let outline = Outline::Rectangle { corner: Point::ORIGIN, size_mm: (400.0, 60.0), turn_deg: 35.0 };
    it.member("brace", lumber, outline, Grain::InPlane(35.0));
    assert_eq!(figures(&it), ["35°"]);
}

#[test]
fn where_the_scale_is_small_a_detail_shows_the_fasteners_larger_with_their_pitch() {
    let joint = sheets::joints().into_iter().find(|it| it.0 == "osier-lane-strap").expect("it is there").1;
    let pages = sheets::pages(&joint);
    let words: Vec<&str> = pages
        .iter()
        .flat_map(|it| &it.items)
        .filter_map(|it| match &it.shape {
            Shape::Text { words, .. } => Some(words.as_str()),
            Shape::Path { .. } => None,
        })
        .collect();
    assert!(words.iter().any(|it| it.starts_with("Detail A, 1:")), "{words:?}");
    assert_eq!(words.iter().filter(|it| **it == "A").count(), 1, "what it is a detail of is marked once");
    let handles: Vec<&str> = pages.iter().flat_map(|it| &it.handles).map(|it| it.what.as_str()).collect();
    let pitch = |it: &&&str| it.starts_with("detail figure") && it.contains(" to ") && !it.contains("edge");
    // Three nails of each joist in a row: two links each.
    assert_eq!(handles.iter().filter(pitch).count(), 4, "{handles:?}");
    // Where it has a page of its own it is marked too.
    let splice = sheets::joints().into_iter().find(|it| it.0 == "ferry-yard-splice").expect("it is there").1;
    let letters = |page: &Drawing| {
        page.items.iter().filter(|it| matches!(&it.shape, Shape::Text { words, .. } if words == "A")).count()
    };
    assert_eq!(sheets::pages(&splice).iter().map(letters).collect::<Vec<_>>()[0], 1);
    // A joint that is drawn large needs none.
    let large = sheets::joints().into_iter().find(|it| it.0 == "heron-lane-ledger").expect("it is there").1;
    assert!(
        sheets::pages(&large).iter().all(|it| it.handles.iter().all(|it| !it.what.starts_with("detail")))
    );
}
