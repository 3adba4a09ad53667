//! Whether a joint makes sense as a whole: outlines, references, ids, plates and their holes.
//!
//! Judges the model, so that it holds for what the window edits as for what a file says.

use std::collections::{BTreeMap, BTreeSet};

use kurbo::Point;

use super::problems::{Problems, quoted};
use crate::joint::{Connector, Fastener, Hole, Interval, Joint, Member, Outline, Placement, Plate};
use crate::shape::{Edge, Region};
use crate::stock::FastenerSpec;
use crate::unit::compare::at_most;

/// Least depth of a body in millimetres: the smallest size that a file may give.
const LEAST_MM: f64 = 1e-3;

/// Least area in square millimetres: half of what the smallest sizes enclose.
const LEAST_AREA_MM2: f64 = LEAST_MM * LEAST_MM / 2.0;

/// Greatest distance from the origin.
const FARTHEST_MM: f64 = 1e6;

/// Most corners and edges of one outline.
const MOST_CORNERS: usize = 2_000;

/// Most corners and edges of all outlines of a joint.
const MOST_CORNERS_IN_ALL: usize = 200_000;

/// Tells everything that does not make sense.
pub(super) fn check(joint: &Joint, problems: &mut Problems) {
    ids(joint, problems);
    let mut corners = 0;
    for (n, it) in joint.members.iter().enumerate() {
        member(it, n, &mut corners, problems);
    }
    for (n, it) in joint.connectors.iter().enumerate() {
        connector(it, n, problems);
    }
    let holes: BTreeMap<&str, BTreeSet<&str>> =
        joint.connectors.iter().map(|it| (it.id.as_str(), hole_ids(it).collect())).collect();
    for (n, it) in joint.fasteners.iter().enumerate() {
        fastener(it, n, &holes, problems);
    }
    loads(joint, problems);
}

fn hole_ids(connector: &Connector) -> impl Iterator<Item = &str> {
    connector.plates.iter().flat_map(|it| &it.holes).map(|it| it.id.as_str())
}

fn ids(joint: &Joint, problems: &mut Problems) {
    let members = joint.members.iter().enumerate().map(|(n, it)| ("members", n, &it.id));
    let connectors = joint.connectors.iter().enumerate().map(|(n, it)| ("connectors", n, &it.id));
    let fasteners = joint.fasteners.iter().enumerate().map(|(n, it)| ("fasteners", n, &it.id));
    let mut seen = BTreeMap::new();
    for (list, n, id) in members.chain(connectors).chain(fasteners) {
        let part = || format!("{list}[{n}].id");
        id_form(id, part, problems);
        if let Some((list, n)) = seen.get(id) {
            let says = format!("the id {} is taken: {list}[{n}] has it; every id is used once", quoted(id));
            problems.of(&part(), says);
        } else {
            seen.insert(id, (list, n));
        }
    }
}

/// An id is a part of references, of tables and of file names for people: it is kept plain.
fn id_form(id: &str, part: impl Fn() -> String, problems: &mut Problems) {
    if id.trim() != id || id.is_empty() || id.contains('/') || id.chars().any(char::is_control) {
        let says = "an id may not be empty, begin or end with a blank, or hold `/` or control characters";
        problems.of(&part(), format!("{} is no id: {says}", quoted(id)));
    }
}

fn member(it: &Member, n: usize, corners: &mut usize, problems: &mut Problems) {
    let part = format!("members[{n}]");
    depth(it.depth, &part, problems);
    outline(&it.outline, &format!("{part}.outline"), corners, problems);
    for (number, cutout) in it.cutouts.iter().enumerate() {
        outline(cutout, &format!("{part}.cutouts[{number}]"), corners, problems);
    }
}

fn depth(it: Interval, part: &str, problems: &mut Problems) {
    if it.to < it.from {
        let says = format!(
            "the depth runs backwards: first the far end, then the near one: [{}, {}]",
            it.to, it.from
        );
        problems.of(&format!("{part}.depth"), says);
    } else if !at_most(LEAST_MM, it.to - it.from) {
        let says = format!("the depth is empty: it needs at least {LEAST_MM} mm");
        problems.of(&format!("{part}.depth"), says);
    }
}

fn outline(it: &Outline, part: &str, corners: &mut usize, problems: &mut Problems) {
    match it {
        // Their sizes were checked one by one, and then they are sound.
        Outline::Rectangle { .. } | Outline::Round { .. } => {}
        Outline::ISection { size_mm, flange_mm, web_mm, .. } => {
            if size_mm.1 <= 2.0 * flange_mm {
                let says =
                    format!("two flanges of {flange_mm} mm leave no web in a height of {} mm", size_mm.1);
                problems.of(&format!("{part}.i_section.flange"), says);
            }
            if size_mm.0 <= *web_mm {
                let says =
                    format!("a web of {web_mm} mm is not narrower than the flanges of {} mm", size_mm.0);
                problems.of(&format!("{part}.i_section.web"), says);
            }
        }
        Outline::Polygon(places) => {
            region(&Region::polygon(places), places.len(), (&format!("{part}.polygon"), corners), problems);
        }
        Outline::Path(data) => {
            let part = format!("{part}.path");
            match Region::path(data) {
                Ok(found) if found.loops.iter().flatten().all(is_near) => {
                    let edges = found.loops.iter().map(Vec::len).sum();
                    region(&found, edges, (&part, corners), problems);
                }
                Ok(_) => {
                    let says =
                        "a coordinate or radius of the path is no number from -1,000,000 to 1,000,000 mm";
                    problems.of(&part, says.to_owned());
                }
                Err(why) => problems.of(&part, why.to_string()),
            }
        }
    }
}

fn is_near(edge: &Edge) -> bool {
    let near = |it: Point| it.x.abs() <= FARTHEST_MM && it.y.abs() <= FARTHEST_MM;
    match edge {
        Edge::Line(it) => near(it.p0) && near(it.p1),
        Edge::Arc(it) => near(it.center) && near(it.radii.to_point()),
        Edge::Curve(it) => near(it.p0) && near(it.p1) && near(it.p2) && near(it.p3),
    }
}

fn region(it: &Region, edges: usize, (part, corners): (&str, &mut usize), problems: &mut Problems) {
    *corners += edges;
    if MOST_CORNERS < edges {
        problems.of(part, format!("the outline has {edges} edges; at most {MOST_CORNERS} are allowed"));
    } else if MOST_CORNERS_IN_ALL < *corners {
        let says = format!("the outlines of the joint have more than {MOST_CORNERS_IN_ALL} edges together");
        problems.of(part, says);
    } else if let Some(at) = it.self_crossing() {
        let says = format!("the outline crosses or touches itself at x {:.3}, y {:.3}", at.x, at.y);
        problems.of(part, says);
    } else if it.area_mm2() < LEAST_AREA_MM2 {
        problems.of(part, "the outline encloses no area".to_owned());
    }
}

fn connector(it: &Connector, n: usize, problems: &mut Problems) {
    let mut seen = BTreeMap::new();
    for (number, plate) in it.plates.iter().enumerate() {
        let part = format!("connectors[{n}].plates[{number}]");
        depth(plate.depth, &part, problems);
        let length = profile(plate, &part, problems);
        for (place, hole) in plate.holes.iter().enumerate() {
            let part = format!("{part}.holes[{place}]");
            id_form(&hole.id, || format!("{part}.id"), problems);
            if let Some(first) = seen.insert(hole.id.as_str(), part.clone()) {
                let says = format!(
                    "the hole id {} is taken: {first} has it; every hole of a connector has its own",
                    quoted(&hole.id)
                );
                problems.of(&format!("{part}.id"), says);
            }
            // Of a profile that is wrong itself no length can be told.
            if let Some(length) = length {
                hole_in_plate(hole, plate, (length, &part), problems);
            }
        }
    }
    rating(it, n, problems);
}

fn rating(it: &Connector, n: usize, problems: &mut Problems) {
    let Some(rating) = &it.rating else { return };
    if rating.toward.unit().is_none() {
        let says = "a direction needs a length: [0, 0, 0] points nowhere";
        problems.of(&format!("connectors[{n}].rating.toward"), says.to_owned());
    }
    if let Some(own) = rating.spec.as_deref().filter(|it| it.id.is_empty()) {
        spec(own, &format!("connectors[{n}].rating.presumes.stock"), problems);
    }
}

/// The developed length of the middle line, if the profile is sound.
fn profile(plate: &Plate, part: &str, problems: &mut Problems) -> Option<f64> {
    let points = &plate.profile;
    let (radius, half) = (plate.bend_radius_mm, plate.thickness_mm / 2.0);
    if points.len() < 2 {
        problems.of(&format!("{part}.profile"), "a profile needs at least two points".to_owned());
        return None;
    }
    let legs: Vec<_> = points.windows(2).map(|it| it[1] - it[0]).collect();
    if let Some(short) = legs.iter().position(|it| !at_most(LEAST_MM, it.hypot())) {
        let says = format!("this point lies on the one before it; a leg has at least {LEAST_MM} mm");
        problems.of(&format!("{part}.profile[{}]", short + 1), says);
        return None;
    }
    if 0.0 < radius && 1 < legs.len() && !at_most(half, radius) {
        let says = format!(
            "a bend radius of {radius} mm to the middle of steel {} mm thick leaves none inside; it is 0 or at \
             least {half}",
            plate.thickness_mm
        );
        problems.of(&format!("{part}.bend_radius"), says);
        return None;
    }
    let mut length = legs.iter().map(|it| it.hypot()).sum::<f64>();
    // What the bends take from each leg, to the tangent point.
    let mut taken = vec![0.0; legs.len()];
    for (corner, pair) in legs.windows(2).enumerate() {
        let angle = pair[0].cross(pair[1]).abs().atan2(pair[0].dot(pair[1]));
        let tangent = if radius == 0.0 { 0.0 } else { radius * (angle / 2.0).tan() };
        if std::f64::consts::PI - angle < 1e-9 {
            let says =
                "the profile turns straight back here; give a fold as two bends with a short leg between";
            problems.of(&format!("{part}.profile[{}]", corner + 1), says.to_owned());
            return None;
        }
        taken[corner] += tangent;
        taken[corner + 1] += tangent;
        length -= 2.0 * tangent - radius * angle;
    }
    if let Some(leg) = (0..legs.len()).find(|it| !at_most(taken[*it], legs[*it].hypot())) {
        let says = format!(
            "a bend radius of {radius} mm is too large: its bends take {:.3} mm of the leg from point {leg} to {}, \
             which has {:.3} mm",
            taken[leg],
            leg + 1,
            legs[leg].hypot()
        );
        problems.of(&format!("{part}.bend_radius"), says);
        return None;
    }
    Some(length)
}

fn hole_in_plate(it: &Hole, plate: &Plate, (length, part): (f64, &str), problems: &mut Problems) {
    let radius = it.diameter_mm / 2.0;
    let width = plate.depth.to - plate.depth.from;
    if 0.0 < width && !at_most(it.diameter_mm, width) {
        let says = format!("a hole of {} mm is wider than its plate of {width} mm", it.diameter_mm);
        problems.of(&format!("{part}.diameter"), says);
    } else if 0.0 < width
        && !(at_most(plate.depth.from + radius, it.depth_mm) && at_most(it.depth_mm, plate.depth.to - radius))
    {
        let says = format!(
            "at depth {} the hole of {} mm does not lie within its plate, which has the depth {} to {}",
            it.depth_mm, it.diameter_mm, plate.depth.from, plate.depth.to
        );
        problems.of(&format!("{part}.depth"), says);
    }
    if !(at_most(radius, it.along_mm) && at_most(it.along_mm, length - radius)) {
        let says = format!(
            "at {} mm along the profile the hole of {} mm does not lie within it; the profile is {length:.3} mm long",
            it.along_mm, it.diameter_mm
        );
        problems.of(&format!("{part}.along"), says);
    }
}

fn fastener(it: &Fastener, n: usize, holes: &BTreeMap<&str, BTreeSet<&str>>, problems: &mut Problems) {
    let part = format!("fasteners[{n}]");
    if it.spec.id.is_empty() {
        spec(&it.spec, &format!("{part}.stock"), problems);
    }
    match &it.place {
        Placement::Free { toward, .. } => {
            if toward.unit().is_none() {
                let says = "a direction needs a length: [0, 0, 0] points nowhere";
                problems.of(&format!("{part}.toward"), says.to_owned());
            }
        }
        Placement::Fills { connector, hole, .. } => {
            let part = format!("{part}.fills");
            match holes.get(connector.as_str()) {
                _ if problems.an_id_is_replaced() => {}
                None => {
                    let meant = problems.meant(connector, holes.keys().copied());
                    problems.of(&part, format!("there is no connector {}{meant}", quoted(connector)));
                }
                Some(known) if !known.contains(hole.as_str()) => {
                    let meant = problems.meant(hole, known.iter().copied());
                    let says =
                        format!("the connector {} has no hole {}{meant}", quoted(connector), quoted(hole));
                    problems.of(&part, says);
                }
                Some(_) => {}
            }
        }
    }
}

fn spec(it: &FastenerSpec, part: &str, problems: &mut Problems) {
    let mut within = |value: Option<f64>, key: &str, most: f64, of: &str| {
        if let Some(value) = value.filter(|it| !at_most(*it, most)) {
            let says = format!("{value} mm is more than the {of} of {most} mm");
            problems.of(&format!("{part}.{key}"), says);
        }
    };
    within(it.root_mm, "root", it.diameter_mm, "diameter");
    within(it.thread_mm, "thread", it.length_mm, "length");
    within(Some(it.point_mm), "point", it.length_mm, "length");
    if let Some(nut) = it.nut.filter(|nut| nut.across_flats_mm <= it.diameter_mm) {
        let says =
            format!("{} mm is not more than the diameter of {} mm", nut.across_flats_mm, it.diameter_mm);
        problems.of(&format!("{part}.nut.across_flats"), says);
    }
    for (washer, key) in [(it.head_mm, "head")].into_iter().filter(|washer| 0.0 < washer.0) {
        if !at_most(it.diameter_mm, washer) {
            let says = format!("a head of {washer} mm is narrower than the shank of {} mm", it.diameter_mm);
            problems.of(&format!("{part}.{key}"), says);
        }
    }
}

fn loads(joint: &Joint, problems: &mut Problems) {
    let members: BTreeSet<&str> = joint.members.iter().map(|it| it.id.as_str()).collect();
    for (n, it) in joint.loads.iter().enumerate() {
        if it.toward.unit().is_none() {
            let says = "a direction needs a length: [0, 0, 0] points nowhere";
            problems.of(&format!("loads[{n}].toward"), says.to_owned());
        }
        if !members.contains(it.on.as_str()) && !problems.an_id_is_replaced() {
            let meant = problems.meant(&it.on, members.iter().copied());
            problems.of(&format!("loads[{n}].on"), format!("there is no member {}{meant}", quoted(&it.on)));
        }
    }
}
