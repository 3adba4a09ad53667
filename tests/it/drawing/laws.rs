//! What every page owes its reader, read back from the SVG.

use std::collections::BTreeSet;
use std::sync::Arc;

use kurbo::{ParamCurve as _, Rect, Shape as _};
use shankline::drawing::{self, Drawing, Fill, Item, Layer, Line, Shape, Subject};
use shankline::findings::{Kind, Severity};
use shankline::joint::{Finish, Grain, Interval, Look, Moved, Paper, Revision, SheetView};
use shankline::paint;
use shankline::stock::Family;
use usvg::{Node, Options, Tree};

use super::sample::{self, Sample};

fn all() -> Vec<(&'static str, Sample)> {
    vec![
        ("ledger", sample::ledger()),
        ("yard", sample::yard()),
        ("splice", sample::splice()),
        ("row", sample::row_of(40)),
        ("empty", Sample::default()),
    ]
}

/// The page parsed by a general-purpose library, with the bundled letters and no others.
pub(super) fn parse(svg: &str) -> Tree {
    let mut options = Options { font_family: "Roboto".to_owned(), ..Options::default() };
    let fonts = Arc::make_mut(&mut options.fontdb);
    for name in ["Roboto-Regular.ttf", "Roboto-Bold.ttf"] {
        let path = format!("{}/resources/fonts/{name}", env!("CARGO_MANIFEST_DIR"));
        fonts.load_font_file(path).expect("the bundled font can be read");
    }
    Tree::from_str(svg, &options).expect("the page is sound SVG")
}

/// Every line of text with its box in millimetres; the parser counts 96 pixels to the inch, as CSS does.
pub(super) fn texts(tree: &Tree) -> Vec<(String, Rect)> {
    fn collect(group: &usvg::Group, into: &mut Vec<(String, Rect)>) {
        for node in group.children() {
            match node {
                Node::Group(inner) => collect(inner, into),
                Node::Text(text) => {
                    let words = text.chunks().iter().map(usvg::TextChunk::text).collect();
                    let at = text.abs_bounding_box();
                    let at =
                        [at.left(), at.top(), at.right(), at.bottom()].map(|it| f64::from(it) * 25.4 / 96.0);
                    into.push((words, Rect::new(at[0], at[1], at[2], at[3])));
                }
                Node::Path(_) | Node::Image(_) => {}
            }
        }
    }
    let mut found = Vec::new();
    collect(tree.root(), &mut found);
    found
}

/// Whether two boxes have more in common than a hundredth of a millimetre.
pub(super) fn overlap(a: Rect, b: Rect) -> bool {
    let common = a.intersect(b);
    0.01 < common.width() && 0.01 < common.height()
}

fn page(sample: &Sample) -> Drawing {
    drawing::pages(&sample.inputs()).swap_remove(0)
}

/// All pages of all samples, lying and standing, each with its name.
fn every_page() -> Vec<(String, Drawing)> {
    let pages = |(name, sample): (String, Sample)| {
        let named = |(n, it): (usize, Drawing)| (format!("{name} {}", n + 1), it);
        drawing::pages(&sample.inputs()).into_iter().enumerate().map(named).collect::<Vec<_>>()
    };
    let turned = |(name, sample): (&str, Sample)| {
        let papers = [None, Some(Paper::A4), Some(Paper::Letter), Some(Paper::A3), Some(Paper::Tabloid)];
        let standing = papers.into_iter().map(|paper| {
            let mut it = sample.clone();
            (it.joint.sheet.portrait, it.joint.sheet.paper) = (true, paper);
            (format!("{name} standing {paper:?}"), it)
        });
        let mut all: Vec<(String, Sample)> = standing.collect();
        all.push((name.to_owned(), sample));
        all
    };
    all().into_iter().flat_map(turned).flat_map(pages).collect()
}

#[test]
fn a_paper_that_stands_is_as_high_as_it_lies_wide_and_holds_the_same() {
    let mut sample = sample::ledger();
    sample.joint.sheet.paper = Some(Paper::A3);
    let lying = drawing::pages(&sample.inputs());
    sample.joint.sheet.portrait = true;
    let standing = drawing::pages(&sample.inputs());
    // ISO 216: A3 is 297 by 420 mm.
    assert_eq!((lying[0].size_mm, standing[0].size_mm), ((420.0, 297.0), (297.0, 420.0)));
    let told = |pages: &[Drawing]| -> BTreeSet<String> { words(pages).into_iter().collect() };
    let (before, after) = (told(&lying), told(&standing));
    for list in ["FASTENERS", "CORE", "CHECK ON SITE", "NOT CHECKED"] {
        assert!(before.contains(list) && after.contains(list), "{list}");
    }
}

#[test]
fn no_two_labels_overlap_and_none_leaves_the_page() {
    for (name, drawing) in every_page() {
        let svg = paint::svg(&drawing);
        if let Ok(folder) = std::env::var("LOOK_DIR") {
            std::fs::write(format!("{folder}/{name}.svg"), &svg).expect("it can be written");
        }
        let tree = parse(&svg);
        let found = texts(&tree);
        assert!(8 < found.len(), "{name} has words");
        let paper = Rect::new(0.0, 0.0, drawing.size_mm.0, drawing.size_mm.1);
        for (n, (words, a)) in found.iter().enumerate() {
            assert!(paper.union(*a) == paper, "{name}: {words}");
            for (other, b) in &found[n + 1..] {
                assert!(!overlap(*a, *b), "{name}: `{words}` lies on `{other}`");
            }
        }
    }
}

/// The paths of a drawing with their lines.
fn paths(drawing: &Drawing) -> impl Iterator<Item = (&Item, &kurbo::BezPath, Option<Line>)> {
    drawing.items.iter().filter_map(|item| match &item.shape {
        Shape::Path { path, line, .. } => Some((item, path, *line)),
        Shape::Text { .. } => None,
    })
}

#[test]
fn all_is_inside_the_frame() {
    for (name, drawing) in every_page() {
        let frame = paths(&drawing)
            .find(|it| it.2 == Some(Line::Frame))
            .map(|it| it.1.bounding_box())
            .expect("a sheet has a frame");
        let edge = Line::Frame.width_mm();
        for (item, path, _) in paths(&drawing).filter(|it| it.0.layer != Layer::Frame) {
            let inside = frame.inflate(edge, edge).union(path.bounding_box()) == frame.inflate(edge, edge);
            assert!(path.is_empty() || inside, "{name}: {item:?}");
        }
        let tree = parse(&paint::svg(&drawing));
        for (words, at) in texts(&tree) {
            assert!(frame.union(at) == frame, "{name}: {words} at {at} in {frame}");
        }
    }
}

/// How many fasteners the number of a mark tells of: `7` one, `1–40` forty.
fn fasteners_in_mark(item: &Item) -> usize {
    let Shape::Text { words, .. } = &item.shape else { return 0 };
    if item.layer != Layer::Marks || !matches!(item.subject, Some(Subject::Fastener(_))) {
        return 0;
    }
    let numbers: Vec<usize> = words.split('–').map(|it| it.parse().expect("a number")).collect();
    numbers[numbers.len() - 1] + 1 - numbers[0]
}

#[test]
fn like_fasteners_too_close_for_a_mark_each_are_told_by_one_on_a_bracket() {
    let runs = |sample: &Sample| -> Vec<String> {
        let drawing = page(sample);
        let words = drawing.items.iter().filter(|it| 0 < fasteners_in_mark(it)).map(|it| match &it.shape {
            Shape::Text { words, .. } => words.clone(),
            Shape::Path { .. } => String::new(),
        });
        words.collect()
    };
    let mut sample = sample::row_of(40);
    (sample.joint.sheet.portrait, sample.joint.sheet.paper) = (true, Some(Paper::A4));
    assert_eq!(runs(&sample), ["1–40"]);
    // One of another finish has its own.
    sample.joint.fasteners[9].finish = Finish::HotDipGalvanized;
    assert_eq!(runs(&sample), ["1–9", "10", "11–40"]);
    // One that the user has put somewhere begins another run, whose mark it is.
    sample.joint.sheet.moved = vec![Moved { what: "front mark f21".to_owned(), by_mm: (-30.0, 2.0) }];
    assert_eq!(runs(&sample), ["1–9", "10", "11–20", "21–40"]);
    // Where there is room each has its own.
    assert_eq!(runs(&sample::row_of(4)), ["1", "2", "3", "4"]);
}

#[test]
fn marks_lie_on_no_other_mark_shank_or_figure() {
    for (name, sample) in all() {
        let drawing = page(&sample);
        let of = |layer: Layer, wanted: fn(Option<Line>) -> bool| -> Vec<Rect> {
            paths(&drawing)
                .filter(|it| it.0.layer == layer && wanted(it.2))
                .map(|it| it.1.bounding_box())
                .collect()
        };
        let marks = of(Layer::Marks, |it| matches!(it, Some(Line::Mark(_))));
        // In each view one for each fastener that is seen there; a run of them has one on a bracket.
        let told: usize = drawing.items.iter().map(fasteners_in_mark).sum();
        assert!(sample.joint.fasteners.len() <= told, "{name}: {told}");
        let mut others = marks.clone();
        // The boxes of level and upright shanks are what they cover; a slanted one covers less.
        let straight = |it: &Rect| it.width() < 9.0 || it.height() < 9.0;
        others.extend(of(Layer::Fasteners, |_| true).into_iter().filter(straight));
        for item in &drawing.items {
            if let Shape::Text { at, .. } = &item.shape
                && item.layer == Layer::Dimensions
            {
                others.push(Rect::from_center_size(*at, (0.5, 0.5)));
            }
        }
        for (n, mark) in marks.iter().enumerate() {
            for (m, other) in others.iter().enumerate().filter(|it| it.0 != n) {
                let common = mark.intersect(*other);
                assert!(
                    common.width() <= 0.01 || common.height() <= 0.01,
                    "{name}: mark {} lies on thing {m} at {other:?}",
                    n + 1
                );
            }
        }
    }
}

#[test]
fn no_leader_runs_through_another_mark_or_leader() {
    for (name, sample) in all() {
        let drawing = page(&sample);
        // A leader is one straight stroke and the two of its arrow.
        let leaders: Vec<kurbo::Line> = paths(&drawing)
            .filter(|it| matches!(it.2, Some(Line::Leader(_))))
            .filter_map(|it| it.1.segments().next())
            .map(|it| kurbo::Line::new(it.start(), it.end()))
            .collect();
        let marks: Vec<Rect> = paths(&drawing)
            .filter(|it| it.0.layer == Layer::Marks && matches!(it.2, Some(Line::Mark(_))))
            .map(|it| it.1.bounding_box())
            .collect();
        for (n, leader) in leaders.iter().enumerate() {
            for (m, other) in leaders.iter().enumerate().skip(n + 1) {
                let crossing = leader.crossing_point(*other).filter(|p| {
                    [leader, other].iter().all(|it| {
                        let t = (*p - it.p0).dot(it.p1 - it.p0) / (it.p1 - it.p0).hypot2();
                        (0.0..=0.98).contains(&t)
                    })
                });
                assert!(
                    crossing.is_none(),
                    "{name}: leaders {} and {} cross, {leader:?} {other:?}",
                    n + 1,
                    m + 1
                );
            }
            for (m, mark) in marks.iter().enumerate().filter(|it| it.0 != n) {
                let inside = (0..=100).map(|t| leader.eval(f64::from(t) / 100.0)).any(|p| mark.contains(p));
                assert!(!inside, "{name}: leader {} runs through mark {}", n + 1, m + 1);
            }
        }
    }
}

#[test]
fn a_dimension_read_back_from_the_page_is_the_size_of_the_member() {
    // The ledger is 1 1/2" by 7 1/4", the gap 1", the sheathing 1/2" by 11", the rim 1 1/8" by 9 1/2".
    let drawing = page(&sample::ledger());
    let figures: BTreeSet<String> = drawing
        .items
        .iter()
        .filter(|it| it.layer == Layer::Dimensions)
        .filter_map(|it| match &it.shape {
            Shape::Text { words, .. } => Some(words.clone()),
            Shape::Path { .. } => None,
        })
        .collect();
    for wanted in ["1 1/2\"", "7 1/4\"", "1\"", "1/2\"", "11\"", "1 1/8\"", "9 1/2\""] {
        assert!(figures.contains(wanted), "{wanted} in {figures:?}");
    }
    // 1:4, told by the page itself; the rim is 9 1/2 inches of 25.4 mm high.
    let svg = paint::svg(&drawing);
    assert!(svg.contains("Front, 3\" = 1'-0\" (1:4)"));
    let height = |d: &str| {
        let path = kurbo::BezPath::from_svg(d).expect("path data");
        path.bounding_box().height()
    };
    let members = svg.split("id=\"layer-members\"").nth(1).expect("there is such a layer");
    let members = members.split("</g>").next().expect("it ends");
    let heights: Vec<f64> = members
        .split(" d=\"")
        .skip(1)
        .map(|it| height(it.split('"').next().expect("it ends")) * 4.0)
        .collect();
    assert!(heights.iter().any(|it| (it - 9.5 * 25.4).abs() < 0.001), "{heights:?}");
    assert!(heights.iter().any(|it| (it - 7.25 * 25.4).abs() < 0.001), "{heights:?}");
}

#[test]
fn every_core_is_told_on_the_strip_and_words_stay_in_their_runs() {
    for (name, sample) in all() {
        let which: Vec<usize> = (0..sample.joint.fasteners.len()).collect();
        for width in [420.0, 200.0, 90.0] {
            let items = drawing::cores(&sample.inputs(), &which, kurbo::Point::new(3.0, 4.0), width);
            let size = (width + 6.0, drawing::cores_height_mm(which.len()) + 8.0);
            let drawing = Drawing { size_mm: size, items, ..Drawing::default() };
            let tree = parse(&paint::svg(&drawing));
            let found = texts(&tree);
            let runs: usize = sample.trace.fasteners.iter().map(|it| it.core.len()).sum();
            let bars = paths(&drawing).filter(|it| !matches!(it.2, Some(Line::Mark(_)))).count();
            assert!(runs <= bars, "{name} at {width}");
            for (n, (words, a)) in found.iter().enumerate() {
                let inside = 3.0 - 0.01 <= a.x0 && a.x1 <= 3.0 + width + 0.01;
                assert!(inside, "{name} at {width}: {words} at {a}");
                for (other, b) in &found[n + 1..] {
                    assert!(!overlap(*a, *b), "{name} at {width}: `{words}` lies on `{other}`");
                }
            }
        }
    }
}

#[test]
fn the_same_joint_gives_the_same_bytes() {
    for (name, sample) in all() {
        assert_eq!(paint::svg(&page(&sample)), paint::svg(&page(&sample.clone())), "{name}");
    }
}

#[test]
fn hostile_words_stay_words() {
    let mut sample = sample::ledger();
    let hostile = "</text><script>alert(1)</script>&amp;]]>\"'\u{0}\u{1b}\u{fffe}\nx";
    sample.joint.title = hostile.to_owned();
    sample.joint.sheet.owner = hostile.to_owned();
    sample.joint.sheet.detail = hostile.to_owned();
    sample.joint.members[1].name = hostile.to_owned();
    sample.findings.list[0].says = hostile.repeat(20);
    sample.findings.not_checked = vec!["\u{7}".to_owned(), hostile.to_owned()];
    let svg = paint::svg(&page(&sample));
    assert!(!svg.contains("<script"), "no element is made of words");
    assert!(svg.contains("&lt;/text&gt;"), "the words are there");
    assert!(svg.chars().all(|it| it == '\n' || !it.is_control()), "no control character is left");
    let _ = parse(&svg);
}

#[test]
fn a_page_says_only_what_every_renderer_can_draw() {
    const ELEMENTS: [&str; 8] = ["svg", "title", "desc", "g", "path", "rect", "text", "/"];
    for (name, drawing) in every_page() {
        let svg = paint::svg(&drawing);
        for tag in svg.split('<').skip(1) {
            let element = tag.split([' ', '>', '/']).next().unwrap_or("");
            assert!(element.is_empty() || ELEMENTS.contains(&element), "{name}: <{element}>");
        }
        for banned in ["style=", "class=", "dominant-baseline", "textLength", "url(", "href", "NaN", "inf"] {
            assert!(!svg.contains(banned), "{name}: {banned}");
        }
        let open = svg.split("<title").next().expect("there is a beginning");
        assert!(open.contains("mm\"") && open.contains("viewBox=\"0 0 ") && open.contains("role=\"img\""));
        assert!(svg.contains("<rect fill=\"#FFFFFF\""), "{name}: the paper is white in a dark viewer too");
    }
}

#[test]
fn plies_are_drawn_on_the_edge_of_a_panel_and_not_on_its_face() {
    // Strokes across the plies stand upright in a panel that lies level.
    let upright = |height: f64, depth: f64| {
        let mut it = Sample::default();
        let outline = sample::rect(0.0, 0.0, 300.0, height);
        let depth = Interval { from: 0.0, to: depth };
        it.member_at("panel", (Family::Panel, "plywood"), outline, Grain::None, depth);
        let page = page(&it);
        let hatched = paths(&page).filter(|it| it.0.layer == Layer::Hatch);
        hatched.flat_map(|it| it.1.segments()).filter(|it| (it.start().x - it.end().x).abs() < 1e-6).count()
    };
    assert!(10 < upright(18.0, 1200.0), "cut across");
    assert_eq!(upright(200.0, 18.0), 0, "seen on its face");
}

#[test]
fn handles_of_the_screen_are_not_exported() {
    let item = |layer| Item {
        layer,
        subject: None,
        shape: Shape::Path {
            path: Rect::new(1.0, 1.0, 2.0, 2.0).to_path(0.1),
            fill: Some(Fill::Handle),
            line: Some(Line::Handle),
        },
    };
    let with = |layer| paint::svg(&Drawing { items: vec![item(layer)], ..Drawing::default() });
    assert!(with(Layer::Notes).contains("<path"));
    assert!(!with(Layer::Handles).contains("<path"));
}

/// All words of all pages.
fn words(pages: &[Drawing]) -> Vec<String> {
    let of = |item: &Item| match &item.shape {
        Shape::Text { words, .. } => Some(words.clone()),
        Shape::Path { .. } => None,
    };
    pages.iter().flat_map(|it| it.items.iter().filter_map(of)).collect()
}

#[test]
fn what_does_not_fit_goes_on_on_further_pages_and_nothing_is_lost() {
    let mut sample = sample::row_of(40);
    for n in 0..40 {
        let says = format!("Finding {n} of many that one page has no room for, in words of some length.");
        sample.find(Kind::Spacing, Severity::Fault, &format!("f{}", n % 40 + 1), Some((5.0, 9.0)), &says);
    }
    sample.joint.notes = (0..30).map(|it| format!("Remark {it}, which somebody typed.")).collect();
    let pages = drawing::pages(&sample.inputs());
    assert!(1 < pages.len());
    let all = words(&pages).join(" ");
    for n in 0..40 {
        assert!(all.contains(&format!("Finding {n} of many")), "finding {n}");
    }
    for n in 0..30 {
        assert!(all.contains(&format!("Remark {n}, which")), "remark {n}");
    }
    assert!(all.contains("FINDINGS, CONTINUED") && all.contains("Loads.") && !all.contains("more rows"));
    for (n, page) in pages.iter().enumerate() {
        let number = format!("{} / {}", n + 1, pages.len());
        assert!(words(std::slice::from_ref(page)).contains(&number), "{number}");
    }
    assert_eq!(drawing::pages(&Sample::default().inputs()).len(), 1);
}

#[test]
fn alike_fasteners_share_a_row_and_all_are_counted() {
    // Forty nails in a row: those without a finding of their own differ in nothing.
    let sample = sample::row_of(40);
    let all = words(&drawing::pages(&sample.inputs()));
    assert!(all.iter().any(|it| it == "40 fasteners in all"), "{all:?}");
    let quantities: usize = all
        .iter()
        .zip(all.iter().skip(1))
        .filter(|it| it.1.starts_with("lag screw 5/16"))
        .filter_map(|it| it.0.parse::<usize>().ok())
        .sum();
    assert_eq!(quantities, 40, "{all:?}");
}

#[test]
fn views_stand_as_orthographic_projections_do() {
    let mut sample = sample::ledger();
    let view = |look, cut_mm| SheetView { look, cut_mm };
    sample.joint.sheet.views =
        vec![view(Look::Front, None), view(Look::Side, None), view(Look::Top, Some(100.0))];
    sample.joint.sheet.paper = Some(Paper::Tabloid);
    sample.joint.sheet.scale = Some(8.0);
    let page = page(&sample);
    if let Ok(folder) = std::env::var("LOOK_DIR") {
        for (n, page) in drawing::pages(&sample.inputs()).iter().enumerate() {
            std::fs::write(format!("{folder}/views-{n}.svg"), paint::svg(page)).expect("it can be written");
        }
    }
    // The rim is 9 1/2" high from the front and from the side, and 1 1/8" wide from the front and from above.
    let of_rim: Vec<Rect> = page
        .items
        .iter()
        .filter(|it| it.subject == Some(Subject::Member("rim".to_owned())) && it.layer == Layer::Members)
        .filter_map(|it| match &it.shape {
            Shape::Path { path, fill: Some(_), .. } => Some(path.bounding_box()),
            _ => None,
        })
        .collect();
    assert_eq!(of_rim.len(), 3, "one face in each view");
    let (front, side, top) = (of_rim[0], of_rim[1], of_rim[2]);
    assert!(
        (front.y0 - side.y0).abs() < 1e-6 && (front.y1 - side.y1).abs() < 1e-6,
        "side is level with front"
    );
    assert!((front.x0 - top.x0).abs() < 1e-6 && (front.x1 - top.x1).abs() < 1e-6, "top is over front");
    assert!(front.x1 < side.x0 && top.y1 < front.y0, "third angle");
    assert!((front.height() * 8.0 - 9.5 * 25.4).abs() < 0.01);
    let all = words(std::slice::from_ref(&page));
    for name in ["Front", "Side, from the right", "Top, cut at y 3 15/16\"", "Third-angle projection."] {
        assert!(all.iter().any(|it| it == name), "{name} in {all:?}");
    }
}

#[test]
fn a_view_that_does_not_fit_has_a_page_of_its_own() {
    let mut sample = sample::ledger();
    let view = |look| SheetView { look, cut_mm: None };
    sample.joint.sheet.views = vec![view(Look::Front), view(Look::Side), view(Look::Top)];
    sample.joint.sheet.paper = Some(Paper::Letter);
    let pages = drawing::pages(&sample.inputs());
    let all = words(&pages).join(" | ");
    assert!(1 < pages.len(), "{}", pages.len());
    for name in ["Front", "Side, from the right", "Top"] {
        assert!(all.contains(name), "{name} in {all}");
    }
}

#[test]
fn the_title_block_has_the_fields_of_iso_7200_and_blanks_stay_blank() {
    let mut sample = sample::ledger();
    let sheet = &mut sample.joint.sheet;
    sheet.number = "HL-017".to_owned();
    sheet.approved = "M. Osei".to_owned();
    sheet.revisions = vec![
        Revision { mark: "A".into(), what: "First issue".into(), by: "rk".into(), date: "3 May".into() },
        Revision { mark: "B".into(), what: "Foam found".into(), by: "rk".into(), date: "9 May".into() },
    ];
    let all = words(&drawing::pages(&sample.inputs())[..1]);
    // ISO 7200:2004, 5.1: legal owner, identification number, date of issue, sheet number, title, approval
    // person, creator, document type (from memory).
    let fields =
        ["Owner", "Document no.", "Date of issue", "Sheet", "Title", "Approved", "Drawn", "Document type"];
    for field in fields.into_iter().chain(["HL-017", "M. Osei", "REVISIONS", "Foam found", "B"]) {
        assert!(all.iter().any(|it| it == field), "{field} in {all:?}");
    }
    // Nobody drew it yet: what follows the field is the next field.
    let drawn = all.iter().position(|it| it == "Drawn").expect("it is there");
    assert_eq!(all[drawn + 1], "Checked");
}
