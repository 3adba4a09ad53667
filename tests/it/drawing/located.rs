//! Whether a sheet tells where things are, in a view and at a scale that can be read: joints as they are drawn by hand.
//! The wanted figures are sums of the measures in the joints themselves.

use kurbo::{Point, Rect, Shape as _, Vec2};
use shankline::drawing::{self, Drawing, Item, Layer, Line, Shape};
use shankline::joint::{self, Joint, Look, Moved, Paper, SheetView};
use shankline::stock::Stock;
use shankline::{findings, trace};

use super::sheets::{self, pages};

/// A post of 5 1/2" x 5 1/2", 24" high, under a beam that reaches 20" to its left and 20" to its right; an angle with two
/// bolts up into the beam and two across the post.
const CAP: &str = r#"{
  "format": "shankline-joint", "version": 1, "title": "Post cap angle", "show_lengths_in": "inch",
  "standard": "nds-2018",
  "members": [
    { "id": "post", "material": "lumber/spruce-pine-fir", "depth": [0, 139.7], "grain": { "in_plane": 90 },
      "outline": { "rectangle": { "corner": [0, -609.6], "size": [139.7, 609.6] } } },
    { "id": "beam", "material": "lumber/spruce-pine-fir", "depth": [0, 139.7], "grain": { "in_plane": 0 },
      "outline": { "rectangle": { "corner": [-508, 0], "size": [1155.7, 285.75] } } }
  ],
  "connectors": [
    { "id": "angle", "material": "steel/galvanized", "plates": [ {
      "thickness": 3.175, "depth": [44.45, 95.25],
      "profile": [[266.7, -1.5875], [141.2875, -1.5875], [141.2875, -127]],
      "holes": [
        { "id": "h1", "along": 19.05, "depth": 69.85, "diameter": 13.890625,
          "takes": { "kind": "bolt", "diameter": 12.7, "min_length": 152.4 } },
        { "id": "h2", "along": 69.85, "depth": 69.85, "diameter": 13.890625,
          "takes": { "kind": "bolt", "diameter": 12.7, "min_length": 152.4 } },
        { "id": "h3", "along": 180.975, "depth": 69.85, "diameter": 13.890625,
          "takes": { "kind": "bolt", "diameter": 12.7, "min_length": 152.4 } },
        { "id": "h4", "along": 231.775, "depth": 69.85, "diameter": 13.890625,
          "takes": { "kind": "bolt", "diameter": 12.7, "min_length": 152.4 } }
      ] } ] }
  ],
  "fasteners": [
    { "id": "b1", "stock": "bolt/inch/0.5x12", "fills": "angle/h1", "washers": ["nut"] },
    { "id": "b2", "stock": "bolt/inch/0.5x12", "fills": "angle/h2", "washers": ["nut"] },
    { "id": "b3", "stock": "bolt/inch/0.5x6.5", "fills": "angle/h3", "washers": ["nut"] },
    { "id": "b4", "stock": "bolt/inch/0.5x6.5", "fills": "angle/h4", "washers": ["nut"] }
  ]
}"#;

/// A joist of 1 1/2" x 7 1/4" on a ledger 24" long, 11 1/4" from its far end; a nail driven at 30 degrees through the
/// joist's side, 1" from its end, and a gap of 1/4" behind the ledger.
const JOIST: &str = r#"{
  "format": "shankline-joint", "version": 1, "title": "", "show_lengths_in": "inch", "standard": "nds-2018",
  "members": [
    { "id": "rim", "material": "lumber/spruce-pine-fir", "depth": [0, 609.6], "grain": "along_depth",
      "outline": { "rectangle": { "corner": [0, 0], "size": [38.1, 234.95] } } },
    { "id": "ledger", "material": "lumber/spruce-pine-fir", "depth": [0, 609.6], "grain": "along_depth",
      "outline": { "rectangle": { "corner": [44.45, 25.4], "size": [38.1, 184.15] } } },
    { "id": "joist", "material": "lumber/spruce-pine-fir", "depth": [285.75, 323.85], "grain": { "in_plane": 0 },
      "outline": { "rectangle": { "corner": [82.55, 25.4], "size": [304.8, 184.15] } } }
  ],
  "fasteners": [
    { "id": "n1", "stock": "nail/common/10d", "head": [107.95, 117.475, 323.85],
      "toward": [-0.8660254037844387, 0, -0.5] }
  ]
}"#;

/// Two boards of 1 1/2" x 9 1/4" side by side, and a nail that begins 3" above their foot.
fn boards(toward: (f64, f64)) -> Joint {
    read(&format!(
        r#"{{ "format": "shankline-joint", "version": 1, "title": "", "show_lengths_in": "inch",
          "standard": "nds-2018",
          "members": [
            {{ "id": "left", "material": "lumber/spruce-pine-fir", "depth": [0, 609.6], "grain": "along_depth",
              "outline": {{ "rectangle": {{ "corner": [0, 0], "size": [38.1, 234.95] }} }} }},
            {{ "id": "right", "material": "lumber/spruce-pine-fir", "depth": [0, 609.6], "grain": "along_depth",
              "outline": {{ "rectangle": {{ "corner": [38.1, 0], "size": [38.1, 234.95] }} }} }}
          ],
          "fasteners": [
            {{ "id": "n1", "stock": "nail/box/10d", "head": [0, 76.2, 304.8], "toward": [{}, {}, 0] }}
          ] }}"#,
        toward.0, toward.1
    ))
}

/// All of these, standing and lying.
pub(super) fn joints() -> Vec<(String, Joint)> {
    let mut standing = read(CAP);
    (standing.sheet.portrait, standing.sheet.paper) = (true, Some(Paper::Letter));
    standing.sheet.views = [Look::Front, Look::Side].map(|look| SheetView { look, cut_mm: None }).to_vec();
    let all = [
        ("cap", read(CAP)),
        ("cap standing", standing),
        ("joist", read(JOIST)),
        ("boards", boards((1.0, 0.0))),
        ("boards upward", boards((0.956_304_755_963_035_4, 0.292_371_704_722_736_77))),
        ("boards staggered", staggered()),
    ];
    all.map(|(name, joint)| (name.to_owned(), joint)).to_vec()
}

/// The two boards with a second nail 6" up, 4" farther back.
fn staggered() -> Joint {
    let mut joint = boards((1.0, 0.0));
    let mut second = joint.fasteners[0].clone();
    second.id = "n2".to_owned();
    let joint::Placement::Free { head, .. } = &mut second.place else { panic!("it is free") };
    (head.y, head.z) = (152.4, 203.2);
    joint.fasteners.push(second);
    joint
}

fn read(text: &str) -> Joint {
    joint::file::read(text, &Stock::built_in()).expect("it is sound")
}

fn words(page: &Drawing, is_wanted: impl Fn(&Item) -> bool) -> Vec<String> {
    let of = |it: &Item| match &it.shape {
        Shape::Text { words, .. } => Some(words.clone()),
        Shape::Path { .. } => None,
    };
    page.items.iter().filter(|it| is_wanted(it)).filter_map(of).collect()
}

fn all_words(pages: &[Drawing]) -> Vec<String> {
    pages.iter().flat_map(|it| words(it, |_| true)).collect()
}

/// The figures of dimensions and angles.
fn figures(page: &Drawing) -> Vec<String> {
    words(page, |it| it.layer == Layer::Dimensions)
}

fn views(joint: &Joint) -> Vec<SheetView> {
    let trace = trace::trace(joint);
    let findings = findings::judge(joint, &trace);
    drawing::sheet_views(&drawing::Inputs { joint, trace: &trace, findings: &findings })
}

/// The scales of the title blocks, as so many model millimetres to one.
fn scales(pages: &[Drawing]) -> Vec<f64> {
    let ratio = |it: &String| it.split("(1:").nth(1)?.strip_suffix(')')?.parse().ok();
    let of = |page: &Drawing| {
        words(page, |it| it.layer == Layer::Frame).iter().filter_map(ratio).collect::<Vec<f64>>()
    };
    pages.iter().flat_map(of).collect()
}

#[test]
fn no_scale_is_chosen_that_nobody_can_read_only_to_save_a_page() {
    let mut joint = read(CAP);
    joint.sheet.portrait = true;
    joint.sheet.paper = Some(Paper::Letter);
    joint.sheet.views = [Look::Front, Look::Side].map(|look| SheetView { look, cut_mm: None }).to_vec();
    // The beam is 45 1/2" long and the joint 35 1/4" high with its bolts: at 1:12 3 3/4" x 3" of a paper of 8 1/2" x 11".
    let found = scales(&pages(&joint));
    assert!(!found.is_empty() && found.iter().all(|it| *it <= 16.0), "{found:?}");
    joint.sheet.scale = Some(16.0);
    let asked = pages(&joint);
    assert_eq!(scales(&asked), vec![16.0; scales(&asked).len()]);
    let told = all_words(&asked);
    assert!(
        told.iter().any(|it| it.contains("Front")) && told.iter().any(|it| it.contains("Side")),
        "{told:?}"
    );
    assert!(!told.iter().any(|it| it.contains("does not fit")), "{told:?}");
    // What cannot fit is told, and drawn as large as it can be.
    joint.sheet.scale = Some(2.0);
    let asked = pages(&joint);
    assert!(all_words(&asked).iter().any(|it| it.contains("does not fit")));
    assert!(scales(&asked).iter().all(|it| *it <= 16.0), "{:?}", scales(&asked));
}

#[test]
fn a_detail_leaves_no_row_of_fasteners_and_no_member_without_its_place() {
    let all = pages(&read(CAP));
    let told = all_words(&all);
    assert!(told.iter().any(|it| it.starts_with("Detail A")), "{told:?}");
    let front = figures(&all[0]);
    // The bolts along the beam from its ends, and from each other.
    let trace = trace::trace(&read(CAP));
    let place = |n: usize| trace.fasteners[n].head_at.x;
    let (first, last) = (place(0).min(place(1)), place(0).max(place(1)));
    let unit = shankline::unit::LengthUnit::Inch;
    let inches =
        |mm: f64| shankline::unit::length::format(mm, unit, shankline::unit::length::Rounding::Nearest);
    for wanted in [first + 508.0, last - first, 647.7 - last] {
        assert!(front.contains(&inches(wanted)), "{} in {front:?}", inches(wanted));
    }
    // The post stands 20" from either end of the beam.
    assert!(front.contains(&"1'-8\"".to_owned()), "{front:?}");
}

#[test]
fn a_nail_that_leans_in_the_depth_is_shown_at_its_true_slope_with_its_place() {
    let joint = read(JOIST);
    let found = views(&joint);
    let top = found.iter().find(|it| it.look == Look::Top).expect("it is seen from above");
    assert!((top.cut_mm.expect("cut through it") - 117.475).abs() < 1e-6, "{found:?}");
    let all = pages(&joint);
    let told: Vec<String> = all.iter().flat_map(figures).collect();
    // 30 degrees to the side of the joist; 1" from its end; the joist 11 1/4" from the end of the ledger.
    for wanted in ["30°", "1\"", "11 1/4\""] {
        assert!(told.iter().any(|it| it == wanted), "{wanted} in {told:?}");
    }
    // One that leans upward and in the depth is seen from the side.
    let mut upright = joint.clone();
    let joint::Placement::Free { toward, .. } = &mut upright.fasteners[0].place else { panic!("it is free") };
    (toward.x, toward.y) = (0.0, -0.8660254037844387);
    assert!(views(&upright).iter().any(|it| it.look == Look::Side), "{:?}", views(&upright));
}

#[test]
fn rows_that_differ_in_depth_and_joists_along_a_ledger_have_a_view_that_shows_where() {
    assert_eq!(
        views(&boards((1.0, 0.0))).len(),
        1,
        "one nail in two boards of one length needs no second view"
    );
    let joint = staggered();
    assert_eq!(views(&joint).len(), 2, "staggered in the depth");
    let all = pages(&joint);
    let told: Vec<String> = all.iter().flat_map(figures).collect();
    // From the far end 8" to the one, 4" to the other, and 12" to the near end.
    for wanted in ["8\"", "4\"", "1'-0\""] {
        assert!(told.iter().any(|it| it == wanted), "{wanted} in {told:?}");
    }
}

#[test]
fn a_nail_that_turns_keeps_the_dimension_of_its_head() {
    for toward in [(1.0, 0.0), (0.956_304_755_963_035_4, 0.292_371_704_722_736_77), (0.8, -0.6)] {
        let told = figures(&pages(&boards(toward))[0]);
        for wanted in ["3\"", "6 1/4\""] {
            assert!(told.iter().any(|it| it == wanted), "{toward:?}: {wanted} in {told:?}");
        }
    }
}

#[test]
fn a_list_is_held_clear_of_the_title_block_and_within_the_frame() {
    for (name, mut joint) in sheets::joints() {
        let before = pages(&joint);
        for (page, handle) in
            before.iter().enumerate().flat_map(|(n, it)| it.handles.iter().map(move |h| (n, h)))
        {
            if !handle.what.contains(" list ") {
                continue;
            }
            let room = before[page].room.expect("a page has room");
            for by in [Vec2::new(0.0, 60.0), Vec2::new(500.0, 500.0), Vec2::new(-500.0, -500.0)] {
                let place = handle.at.center() + by - handle.anchor;
                joint.sheet.moved = vec![Moved { what: handle.what.clone(), by_mm: (place.x, place.y) }];
                let after = pages(&joint);
                let now = after.iter().flat_map(|it| &it.handles).find(|it| it.what == handle.what);
                let now = now.expect("it can be taken hold of again").at;
                let is_within = room.inflate(0.01, 0.01).contains_rect(now);
                assert!(is_within, "{name} {}: {now:?} in {room:?}", handle.what);
                joint.sheet.moved.clear();
            }
            break;
        }
        // The room is what the title block leaves.
        let blocks: Vec<Rect> = before[0]
            .items
            .iter()
            .filter_map(|it| match &it.shape {
                Shape::Path { path, line: Some(Line::Frame), .. } => Some(path.bounding_box()),
                Shape::Path { .. } | Shape::Text { .. } => None,
            })
            .collect();
        let room = before[0].room.expect("a page has room");
        let smallest = blocks.iter().min_by(|a, b| a.area().total_cmp(&b.area())).expect("a title block");
        assert!(room.intersect(*smallest).area() <= 0.0, "{name}: {room:?} {smallest:?}");
        assert!(blocks.iter().any(|it| it.contains_rect(room)), "{name}");
    }
}

#[test]
fn what_is_drawn_aside_is_held_within_the_room() {
    let room = Rect::new(10.0, 20.0, 110.0, 120.0);
    let page = Drawing { room: Some(room), ..Drawing::default() };
    let at = Rect::from_origin_size(Point::new(30.0, 30.0), (20.0, 10.0));
    assert_eq!(page.held(at, Vec2::new(5.0, 5.0)), Vec2::new(5.0, 5.0));
    assert_eq!(page.held(at, Vec2::new(500.0, 500.0)), Vec2::new(60.0, 80.0));
    assert_eq!(page.held(at, Vec2::new(-500.0, -500.0)), Vec2::new(-20.0, -10.0));
    let large = Rect::from_origin_size(Point::new(30.0, 30.0), (200.0, 300.0));
    assert_eq!(page.held(large, Vec2::new(7.0, 7.0)), Vec2::new(-20.0, -10.0), "its corner stays there");
    assert_eq!(Drawing::default().held(at, Vec2::new(500.0, 0.0)), Vec2::new(500.0, 0.0));
}

#[test]
fn nobody_is_sent_to_look_where_nobody_can() {
    let mut joint = read(JOIST);
    // From the joist's side of the ledger, 1/16" into the gap of 1/4" before the rim.
    let mut nail = joint.fasteners[0].clone();
    let mut spec = (*nail.spec).clone();
    spec.length_mm = 38.1 + 1.5875;
    nail.spec = std::sync::Arc::new(spec);
    nail.place = joint::Placement::Free {
        head: shankline::unit::Vec3::new(82.55, 60.0, 100.0),
        toward: shankline::unit::Vec3::new(-1.0, 0.0, 0.0),
    };
    joint.fasteners = vec![nail];
    let told = all_words(&pages(&joint)).join(" ");
    assert!(!told.contains("look behind ledger"), "{told}");
    let wanted = "its point ends between ledger and rim, 1/16\" into 1/4\" as drawn, where nobody can look";
    assert!(told.contains(wanted), "{told}");
    // Where nothing stands behind, one can look.
    joint.members.remove(0);
    let told = all_words(&pages(&joint)).join(" ");
    assert!(told.contains("look behind ledger: the point shows by 1/16\""), "{told}");
    // A point that stays in, hidden by the rim.
    let mut hidden = boards((1.0, 0.0));
    let mut spec = (*hidden.fasteners[0].spec).clone();
    spec.length_mm = 30.0;
    hidden.fasteners[0].spec = std::sync::Arc::new(spec);
    let told = all_words(&pages(&hidden)).join(" ");
    assert!(told.contains("right hides its point behind left"), "{told}");
}

#[test]
fn what_a_shank_has_in_air_is_told_in_its_core_however_narrow_it_is() {
    // The bolts stick out by 1/2" and 3/4" beyond their nuts' faces, at a scale at which a foot fills the column.
    let all = pages(&read(CAP));
    let cores: Vec<String> = all.iter().flat_map(|it| words(it, |it| it.layer == Layer::Cores)).collect();
    let outs =
        cores.iter().filter(|it| it.ends_with("1/2\"") && !it.contains("post") || it.as_str() == "3/4\"");
    assert_eq!(outs.count(), 4, "{cores:?}");
    // No words of a core lie on others.
    let boxes = |page: &Drawing| -> Vec<Rect> {
        let tree = super::laws::parse(&shankline::paint::svg(page));
        let wanted = words(page, |it| it.layer == Layer::Cores);
        let found = super::laws::texts(&tree).into_iter();
        found.filter(|it| wanted.contains(&it.0)).map(|it| it.1).collect()
    };
    for page in &all {
        let found = boxes(page);
        for (n, a) in found.iter().enumerate() {
            assert!(!found[n + 1..].iter().any(|b| super::laws::overlap(*a, *b)), "{a:?}");
        }
    }
}
