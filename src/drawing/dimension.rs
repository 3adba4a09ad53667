//! Dimensions: overall sizes of members, chains through fasteners, bites and gaps, on rows below and to the
//! right of the joint; and angles.
//!
//! Short ones lie nearest to the joint and those that follow each other share a row, so that they read as a
//! chain. A figure stands above its line, or outside on a leader where there is no room. A figure that
//! would touch anything is left out with its line: a wrong reading is worse than none.

mod angle;
mod apart;
mod chain;
mod heads;
mod layout;
mod solids;

use kurbo::{Point, Rect, Vec2};

use super::pen::Scene;
use super::place::Taken;
use super::put::Drawn;
use crate::joint::Outline;
use crate::trace::{Body, Measured, Owner, What};
use layout::{Measure, Side, lay_out};
use solids::Solids;

/// From the outline to the first dimension line (ISO 129-1 practice: 10 mm).
const FIRST_ROW_MM: f64 = 10.0;

/// A piece or gap shorter than this on paper cannot be told from a line and gets no dimension.
const SHORTEST_MM: f64 = 0.05;

/// Extension lines that run through bodies by less than this, all together, stay on the usual side.
const THROUGH_MM: f64 = 1.0;

/// What a millimetre of way from what is measured to the side costs, where one through a body costs 1.
const WAY_COST: f64 = 0.25;

/// The other side must cost less than this part of what the usual one does.
const BETTER: f64 = 0.6;

/// Measures that follow each other and stand on one side of the joint.
#[derive(Default)]
struct Group {
    measures: Vec<Measure>,
    /// The heads that they tell of: better on the side where these are near.
    heads: Vec<Point>,
    /// They tell of what fasteners pass through, several in one place, whose marks need the room on the other side.
    gives_way: bool,
}

impl Group {
    fn one(measure: Measure) -> Self {
        Self { measures: vec![measure], heads: Vec::new(), gives_way: false }
    }

    /// How far the extension lines would run through bodies on this side, and what that costs with the way to it.
    fn cost(&self, side: &Side, solids: &Solids) -> (f64, f64) {
        let starts = || self.measures.iter().flat_map(|it| it.starts_on(side));
        let through: f64 = starts().map(|it| solids.run_through_mm(side, it)).sum();
        let way: f64 = starts().chain(self.heads.iter().copied()).map(|it| -side.read(it).1).sum();
        (through, way.mul_add(WAY_COST, through))
    }

    /// Whether it stands better on the other side than on the usual one.
    fn is_better(&self, other: &Side, usual: &Side, solids: &Solids) -> bool {
        let (through, usual) = self.cost(usual, solids);
        THROUGH_MM < through && self.cost(other, solids).1 < BETTER * usual
    }
}

/// The dimensions of the view.
///
/// What the user has dimensioned already is not dimensioned again.
pub(super) fn draw(
    scene: &Scene<'_>,
    by_user: &[(usize, Measured)],
    edges: &Taken,
    taken: &mut Taken,
) -> Drawn {
    let Some(extent) = super::extent::of(scene.inputs).filter(|_| !scene.is_crowded()) else {
        return Drawn::default();
    };
    let extent = scene.affine().transform_rect_bbox(extent);
    let solids = Solids::of(scene);
    let (level, upright) = groups(scene, &solids);
    let mut drawn = Drawn::default();
    for (mut groups, [usual, other]) in
        [(level, [below(extent), above(extent)]), (upright, [right_of(extent), left_of(extent)])]
    {
        let lines = by_user.iter().map(|it| on_paper(scene, &it.1));
        let told: Vec<(Point, Point)> = lines.filter(|(a, b)| is_along(*b - *a, &usual)).collect();
        let mut known: Vec<Measure> = Vec::new();
        for group in &mut groups {
            group.measures.iter_mut().for_each(|it| it.set_from(&usual));
            group.measures.retain(|it| {
                !told.iter().any(|line| it.is_told_by(*line, &usual))
                    && !known.iter().any(|other| it.is(other))
            });
            known.extend(group.measures.iter().cloned());
        }
        let (there, here): (Vec<Group>, Vec<Group>) =
            groups.into_iter().partition(|it| it.is_better(&other, &usual, &solids));
        let there = there.into_iter().filter(|it| !it.gives_way).collect();
        for (side, groups) in [(&usual, here), (&other, there)] {
            let mut chains: Vec<Vec<Measure>> = groups.into_iter().map(|it| it.measures).collect();
            chains.iter_mut().flatten().for_each(|it| it.set_from(side));
            drawn.extend(lay_out(scene, (side, &solids), chains, (edges, taken)));
        }
    }
    if scene.window.is_none() {
        drawn.extend(turned(scene, (extent, &solids), edges, taken));
    }
    drawn.extend(angle::draw(scene, edges, taken));
    drawn
}

/// All that is measured to the right, and upward.
fn groups(scene: &Scene<'_>, solids: &Solids) -> (Vec<Group>, Vec<Group>) {
    let trace = scene.inputs.trace;
    let boxes: Vec<Sized> = trace
        .bodies
        .iter()
        .zip(&solids.bodies)
        .filter_map(|(body, it)| sized(scene, body, it.bounds))
        .collect();
    let (mut level, mut upright) = (Vec::new(), Vec::new());
    // The whole sizes of members are told in the view that the detail is of.
    let is_detail = scene.window.is_some();
    for one in boxes.iter().filter(|it| it.is_upright && !is_detail) {
        let (width, height) = scene.dimensioned(one.member);
        let id = member_id(scene, one.member);
        level.extend(width.then(|| Group::one(across(one.at, one.at, format!("{id} width")))));
        upright.extend(height.then(|| Group::one(upward(one.at, one.at, format!("{id} height")))));
    }
    let heads = heads::by_member(scene);
    let chains = chain::all(scene, &boxes, &heads);
    level.extend(chains.across);
    upright.extend(chains.upward);
    let axes = scene.axes();
    let (mut level_gaps, mut upright_gaps) = (Vec::new(), Vec::new());
    for (before, after) in gaps(scene) {
        let (a, b) = (solids.bodies[before].bounds, solids.bodies[after].bounds);
        let id = |it: usize| owner_id(scene, &trace.bodies[it]);
        let what = || format!("gap {} {}", id(before), id(after));
        let pair = || Some((member_of(&trace.bodies[before])?, member_of(&trace.bodies[after])?));
        if axes.0 && (a.x1 < b.x0 || b.x1 < a.x0) {
            level.push(Group::one(across(a, b, what()).of_gap()));
            level_gaps.extend(pair());
        } else if axes.1 && (a.y1 < b.y0 || b.y1 < a.y0) {
            upright.push(Group::one(upward(a, b, what()).of_gap()));
            upright_gaps.extend(pair());
        }
    }
    if !is_detail {
        level.extend(apart::all(scene, &boxes, apart::Way::Right, (&heads, &level_gaps)));
        upright.extend(apart::all(scene, &boxes, apart::Way::Up, (&heads, &upright_gaps)));
    }
    (level, upright)
}

/// The member that a body is of.
fn member_of(body: &Body) -> Option<usize> {
    match body.owner {
        Owner::Member(n) => Some(n),
        Owner::Plate { .. } => None,
    }
}

fn below(extent: Rect) -> Side {
    let origin = Point::new(0.0, extent.y1 + FIRST_ROW_MM);
    Side { origin, along: Vec2::new(1.0, 0.0), away: Vec2::new(0.0, 1.0), turn_deg: 0.0 }
}

fn above(extent: Rect) -> Side {
    let origin = Point::new(0.0, extent.y0 - FIRST_ROW_MM);
    Side { origin, along: Vec2::new(1.0, 0.0), away: Vec2::new(0.0, -1.0), turn_deg: 0.0 }
}

fn right_of(extent: Rect) -> Side {
    let origin = Point::new(extent.x1 + FIRST_ROW_MM, 0.0);
    Side { origin, along: Vec2::new(0.0, -1.0), away: Vec2::new(1.0, 0.0), turn_deg: 90.0 }
}

fn left_of(extent: Rect) -> Side {
    let origin = Point::new(extent.x0 - FIRST_ROW_MM, 0.0);
    Side { origin, along: Vec2::new(0.0, -1.0), away: Vec2::new(-1.0, 0.0), turn_deg: 90.0 }
}

/// The line of a dimension of the user's on paper.
fn on_paper(scene: &Scene<'_>, it: &Measured) -> (Point, Point) {
    (scene.affine() * it.line.0, scene.affine() * it.line.1)
}

fn is_along(way: Vec2, side: &Side) -> bool {
    way.cross(side.along).abs() < 1e-6 * way.hypot().max(1.0)
}

fn member_id<'a>(scene: &Scene<'a>, member: usize) -> &'a str {
    scene.inputs.joint.members.get(member).map_or("", |it| it.id.as_str())
}

fn owner_id<'a>(scene: &Scene<'a>, body: &Body) -> &'a str {
    match body.owner {
        Owner::Member(n) => member_id(scene, n),
        Owner::Plate { connector, .. } => {
            scene.inputs.joint.connectors.get(connector).map_or("", |it| it.id.as_str())
        }
    }
}

/// A member's box on paper.
struct Sized {
    /// Its place in the joint.
    member: usize,
    at: Rect,
    /// Its own sides lie along those of the paper, so that the box is its size.
    is_upright: bool,
}

fn sized(scene: &Scene<'_>, body: &Body, at: Rect) -> Option<Sized> {
    let Owner::Member(number) = body.owner else { return None };
    let turn = match scene.inputs.joint.members.get(number)?.outline {
        Outline::Rectangle { turn_deg, .. } | Outline::ISection { turn_deg, .. } => turn_deg,
        Outline::Polygon(_) | Outline::Round { .. } | Outline::Path(_) => 0.0,
    };
    Some(Sized { member: number, at, is_upright: !is_askew(turn) })
}

/// Whether a turn by so many degrees takes a side off the directions of the paper.
fn is_askew(turn_deg: f64) -> bool {
    (1e-6..=90.0 - 1e-6).contains(&turn_deg.rem_euclid(90.0))
}

/// The bodies before and after every gap that a shank crosses.
fn gaps(scene: &Scene<'_>) -> Vec<(usize, usize)> {
    let trace = scene.inputs.trace;
    let mut found = Vec::new();
    for shank in &trace.fasteners {
        for (n, run) in shank.core.iter().enumerate() {
            if run.what != What::Gap {
                continue;
            }
            let before = shank.core[..n].iter().rev().find_map(|it| it.body);
            let after = shank.core[n + 1..].iter().find_map(|it| it.body);
            let pair = before.zip(after).filter(|it| it.0 != it.1 && !found.contains(it));
            found.extend(pair);
        }
    }
    let is_there = |it: &usize| *it < trace.bodies.len();
    found.iter().map(|(a, b)| (a.0, b.0)).filter(|(a, b)| is_there(a) && is_there(b)).collect()
}

/// The width of one box, or the way from one box to the other.
fn across(a: Rect, b: Rect, what: String) -> Measure {
    let (a, b) = if b.x0 < a.x0 { (b, a) } else { (a, b) };
    let (left, right) = if a == b { (a.x0, a.x1) } else { (a.x1, b.x0) };
    let edge = |x: f64, it: Rect| (Point::new(x, it.y0), Point::new(x, it.y1));
    Measure::of_edges(edge(left, a), edge(right, b), what)
}

/// The height of one box, or the way from one box to the other.
fn upward(a: Rect, b: Rect, what: String) -> Measure {
    let (low, high) = if a.y1 < b.y1 { (b, a) } else { (a, b) };
    let (from, to) = if a == b { (a.y1, a.y0) } else { (low.y0, high.y1) };
    let edge = |y: f64, it: Rect| (Point::new(it.x0, y), Point::new(it.x1, y));
    Measure::of_edges(edge(from, low), edge(to, high), what)
}

/// The two sizes of rectangles that lie askew, each along its own side that looks out of the joint.
fn turned(scene: &Scene<'_>, (extent, solids): (Rect, &Solids), edges: &Taken, taken: &mut Taken) -> Drawn {
    let mut drawn = Drawn::default();
    for member in &scene.inputs.joint.members {
        let Outline::Rectangle { corner, size_mm: (width, height), turn_deg } = member.outline else {
            continue;
        };
        if !is_askew(turn_deg) {
            continue;
        }
        let angle = turn_deg.to_radians();
        let (x, y) = (Vec2::new(angle.cos(), -angle.sin()), Vec2::new(-angle.sin(), -angle.cos()));
        let at = scene.affine() * corner;
        let (width, height) = (x * (width * scene.view.scale), y * (height * scene.view.scale));
        let middle = at + (width + height) / 2.0;
        for (side, other, word) in [(width, height, "width"), (height, width, "height")] {
            // Of the two sides of this length the one that looks away from the middle of the joint.
            let looks_out = 0.0 <= (middle - extent.center()).dot(-other);
            let (from, away) = if looks_out { (at, -other) } else { (at + other, other) };
            let what = format!("{} {word}", member.id);
            let measure = Measure::between(from, from + side, what);
            drawn.extend(along_side(scene, measure, (away.normalize(), solids), (edges, taken)));
        }
    }
    drawn
}

fn along_side(
    scene: &Scene<'_>,
    mut measure: Measure,
    (away, solids): (Vec2, &Solids),
    (edges, taken): (&Taken, &mut Taken),
) -> Drawn {
    let (from, to) = measure.ends();
    if !(from.is_finite() && to.is_finite() && away.is_finite()) || (to - from).hypot() <= 0.0 {
        return Drawn::default();
    }
    // Figures read from below or from the right: the line is followed so that they never stand on their heads.
    let mut along = (to - from).normalize();
    if along.x < -1e-9 || (along.x.abs() <= 1e-9 && 0.0 < along.y) {
        along = -along;
    }
    let turn_deg = (-along.y).atan2(along.x).to_degrees();
    let side = Side { origin: from + away * FIRST_ROW_MM, along, away, turn_deg };
    measure.set_from(&side);
    lay_out(scene, (&side, solids), vec![vec![measure]], (edges, taken))
}
