//! A gap opened or closed: the pieces on the head side are moved, and what filled the gap is taken away.

use std::collections::BTreeSet;

use svgtypes::{PathParser, PathSegment};

use crate::findings::carry::bodies::{Group, Joined, group_of};
use crate::findings::scene::Scene;
use crate::joint::edit::Change;
use crate::joint::{Connector, Edit, Fastener, Joint, Member, Outline, Placement};
use crate::trace::{Trace, What};
use crate::unit::Vec3;

const NONE_THERE: &str = "it does not join two bodies, so that there is no gap to speak of";
const NO_GAP: &str = "no fastener joins two bodies, so that there is no gap to speak of";

/// A shank whose direction has less than this part along the way of the move does not slide with it: it holds.
const TIES_BELOW: f64 = 0.5;

/// The change that makes what lies before the bite of a fastener so wide: of the one at `only`, else of the first
/// that has a gap there, else of the first with a second body.
pub(super) fn edit(joint: &Joint, trace: &Trace, mm: f64, only: Option<usize>) -> Result<Edit, String> {
    let rules = crate::standard::by_id(joint.standard);
    let scene = Scene::new(joint, trace, rules);
    let facts = scene.facts();
    let joined: Vec<Joined<'_>> = facts.iter().map(Joined::of).collect();
    let is_open = |it: &&(usize, usize)| crate::trace::TOUCH_MM < joined[it.0].crossings[it.1].gap_mm;
    let all: Vec<(usize, usize)> = joined
        .iter()
        .enumerate()
        .filter(|it| only.is_none_or(|only| it.0 == only))
        .flat_map(|(ix, it)| (0..it.crossings.len()).map(move |at| (ix, at)))
        .collect();
    // Where nothing is open it is the bite of the first, which lies behind its last crossing.
    let first = all.iter().take_while(|it| it.0 == all[0].0).last();
    let chosen = all.iter().find(is_open).or(first);
    let (ix, at) = *chosen.ok_or(if only.is_some() { NONE_THERE } else { NO_GAP })?;
    let crossing = joined[ix].crossings[at];
    let plane = crossing.plane.ok_or("the two bodies meet in no plane that could be moved")?;
    let way = -plane.normal;
    let across = facts[ix].shank.toward.dot(way).abs();
    let by = way * crossing.gap_mm.mul_add(across, -mm);
    let (side, main) = (joined[ix].stations[at].group, joined[ix].stations[at + 1].group);
    // A shank that goes into the other piece square to the way ties the two together.
    let ties: Vec<bool> = facts.iter().map(|it| it.shank.toward.dot(way).abs() < TIES_BELOW).collect();
    let moving = head_side((&joined, &ties), side, main)?;
    // What lies between the two, by every fastener that goes from the one into the other.
    let mut fillings = BTreeSet::new();
    for fact in &facts {
        for run in fact.shank.core.iter().filter(|it| it.what == What::Filling) {
            if let Some(Group::Member(at)) = run.body.and_then(|it| group_of(fact, it)) {
                fillings.insert(at);
            }
        }
    }
    let mut edits = Vec::new();
    for group in &moving {
        edits.push(match *group {
            Group::Member(at) => {
                let new = Box::new(member(&joint.members[at], by)?);
                Edit::Members(Change::Replace { at, new })
            }
            Group::Connector(at) => {
                Edit::Connectors(Change::Replace { at, new: Box::new(connector(&joint.connectors[at], by)) })
            }
        });
    }
    for (at, (old, joined)) in joint.fasteners.iter().zip(&joined).enumerate() {
        let goes = joined.stations.first().is_some_and(|it| moving.contains(&it.group));
        if let (Placement::Free { head, toward }, true) = (&old.place, goes) {
            let place = Placement::Free { head: *head + by, toward: *toward };
            let new = Box::new(Fastener { place, ..old.clone() });
            edits.push(Edit::Fasteners(Change::Replace { at, new }));
        }
    }
    // From the last, so that the places before it stay.
    edits.extend(fillings.into_iter().rev().map(|at| Edit::Members(Change::Remove { at })));
    Ok(Edit::All(edits))
}

/// Everything that hangs together with the piece on the head side, but not through the other.
fn head_side(
    (joined, ties): (&[Joined<'_>], &[bool]),
    side: Group,
    main: Group,
) -> Result<BTreeSet<Group>, String> {
    let mut moving = BTreeSet::from([side]);
    loop {
        let before = moving.len();
        for (it, ties) in joined.iter().zip(ties) {
            let groups: Vec<Group> = it.stations.iter().map(|it| it.group).collect();
            let into = groups.iter().position(|it| !*ties && *it == main);
            let until = into.unwrap_or(groups.len());
            if groups[..until].iter().any(|it| moving.contains(it)) {
                moving.extend(&groups[..until]);
            }
        }
        if moving.len() == before {
            break;
        }
    }
    if moving.contains(&main) {
        return Err(
            "the pieces on both sides hang together, so that the gap cannot be changed by moving one".into(),
        );
    }
    Ok(moving)
}

fn connector(old: &Connector, by: Vec3) -> Connector {
    let mut new = old.clone();
    for plate in &mut new.plates {
        for at in &mut plate.profile {
            *at += kurbo::Vec2::new(by.x, by.y);
        }
        plate.depth.from += by.z;
        plate.depth.to += by.z;
        for hole in &mut plate.holes {
            hole.depth_mm += by.z;
        }
    }
    new
}

fn member(old: &Member, by: Vec3) -> Result<Member, String> {
    let mut new = old.clone();
    new.depth.from += by.z;
    new.depth.to += by.z;
    let plan = kurbo::Vec2::new(by.x, by.y);
    new.outline =
        outline(&old.outline, plan).ok_or_else(|| format!("the outline of {} cannot be read", old.id))?;
    for cutout in &mut new.cutouts {
        *cutout = outline(cutout, plan).ok_or_else(|| format!("a cut-out of {} cannot be read", old.id))?;
    }
    Ok(new)
}

fn outline(old: &Outline, by: kurbo::Vec2) -> Option<Outline> {
    let mut new = old.clone();
    match &mut new {
        Outline::Rectangle { corner, .. } | Outline::ISection { corner, .. } => *corner += by,
        Outline::Round { centre, .. } => *centre += by,
        Outline::Polygon(corners) => corners.iter_mut().for_each(|it| *it += by),
        Outline::Path(data) => *data = path(data, by)?,
    }
    Some(new)
}

/// Path data with every absolute place moved; what is relative stays, but for the start, which never is.
fn path(data: &str, by: kurbo::Vec2) -> Option<String> {
    let mut out = String::new();
    for (number, segment) in PathParser::from(data).enumerate() {
        let mut segment = segment.ok()?;
        let first = number == 0;
        match &mut segment {
            PathSegment::MoveTo { abs, x, y } if *abs || first => (*x, *y) = (*x + by.x, *y + by.y),
            PathSegment::LineTo { abs: true, x, y } | PathSegment::SmoothQuadratic { abs: true, x, y } => {
                (*x, *y) = (*x + by.x, *y + by.y);
            }
            PathSegment::HorizontalLineTo { abs: true, x } => *x += by.x,
            PathSegment::VerticalLineTo { abs: true, y } => *y += by.y,
            PathSegment::CurveTo { abs: true, x1, y1, x2, y2, x, y } => {
                (*x1, *x2, *x) = (*x1 + by.x, *x2 + by.x, *x + by.x);
                (*y1, *y2, *y) = (*y1 + by.y, *y2 + by.y, *y + by.y);
            }
            PathSegment::SmoothCurveTo { abs: true, x2, y2, x, y } => {
                (*x2, *x) = (*x2 + by.x, *x + by.x);
                (*y2, *y) = (*y2 + by.y, *y + by.y);
            }
            PathSegment::Quadratic { abs: true, x1, y1, x, y } => {
                (*x1, *x) = (*x1 + by.x, *x + by.x);
                (*y1, *y) = (*y1 + by.y, *y + by.y);
            }
            PathSegment::EllipticalArc { abs: true, x, y, .. } => (*x, *y) = (*x + by.x, *y + by.y),
            PathSegment::MoveTo { .. }
            | PathSegment::LineTo { .. }
            | PathSegment::HorizontalLineTo { .. }
            | PathSegment::VerticalLineTo { .. }
            | PathSegment::CurveTo { .. }
            | PathSegment::SmoothCurveTo { .. }
            | PathSegment::Quadratic { .. }
            | PathSegment::SmoothQuadratic { .. }
            | PathSegment::EllipticalArc { .. }
            | PathSegment::ClosePath { .. } => {}
        }
        out += &spelled(&segment);
        out.push(' ');
    }
    Some(out.trim_end().to_owned())
}

fn spelled(segment: &PathSegment) -> String {
    let letter = |abs: bool, letter: char| if abs { letter } else { letter.to_ascii_lowercase() };
    match *segment {
        PathSegment::MoveTo { abs, x, y } => format!("{} {x} {y}", letter(abs, 'M')),
        PathSegment::LineTo { abs, x, y } => format!("{} {x} {y}", letter(abs, 'L')),
        PathSegment::HorizontalLineTo { abs, x } => format!("{} {x}", letter(abs, 'H')),
        PathSegment::VerticalLineTo { abs, y } => format!("{} {y}", letter(abs, 'V')),
        PathSegment::CurveTo { abs, x1, y1, x2, y2, x, y } => {
            format!("{} {x1} {y1} {x2} {y2} {x} {y}", letter(abs, 'C'))
        }
        PathSegment::SmoothCurveTo { abs, x2, y2, x, y } => format!("{} {x2} {y2} {x} {y}", letter(abs, 'S')),
        PathSegment::Quadratic { abs, x1, y1, x, y } => format!("{} {x1} {y1} {x} {y}", letter(abs, 'Q')),
        PathSegment::SmoothQuadratic { abs, x, y } => format!("{} {x} {y}", letter(abs, 'T')),
        PathSegment::EllipticalArc { abs, rx, ry, x_axis_rotation, large_arc, sweep, x, y } => {
            let (large, sweep) = (u8::from(large_arc), u8::from(sweep));
            format!("{} {rx} {ry} {x_axis_rotation} {large} {sweep} {x} {y}", letter(abs, 'A'))
        }
        PathSegment::ClosePath { .. } => "Z".to_owned(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn path_data_is_moved_where_it_is_absolute() {
        let by = kurbo::Vec2::new(10.0, -1.0);
        let moved = path("M0 0H100V50l5 5A 3 4 0 0 1 9 9 C 1 2 3 4 5 6 q 1 1 2 2 Z", by);
        assert_eq!(
            moved.as_deref(),
            Some("M 10 -1 H 110 V 49 l 5 5 A 3 4 0 0 1 19 8 C 11 1 13 3 15 5 q 1 1 2 2 Z")
        );
        assert_eq!(path("m 1 1 l 2 2 z", by).as_deref(), Some("m 11 0 l 2 2 Z"));
        assert_eq!(path("M 1 x", by), None);
    }
}
