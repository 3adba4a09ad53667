//! What the lists of a sheet are made of, whatever the page: fasteners that are alike, names, directions.

use std::collections::BTreeMap;

use crate::drawing::{Inputs, Mood, verdict};
use crate::findings::{Finding, Severity};
use crate::joint::{Connector, Fastener, Finish, Member};
use crate::trace::{BodyIx, Owner, Run, Shank, What};
use crate::unit::angle;
use crate::unit::length::{self, Rounding};
use crate::unit::{LengthUnit, Vec3};

/// A shank at least so many degrees to its face is called square.
const SQUARE_DEG: f64 = 89.95;

/// Fasteners that are alike in all that a schedule says of them.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Group {
    /// Their places in the joint, rising.
    pub(super) members: Vec<usize>,
    pub(super) mood: Mood,
    pub(super) angle: String,
    pub(super) bite: String,
    pub(super) verdict: String,
}

/// All that the lists are made of.
pub(super) struct Content<'a> {
    pub(super) inputs: &'a Inputs<'a>,
    pub(super) groups: Vec<Group>,
}

impl<'a> Content<'a> {
    pub(super) fn of(inputs: &'a Inputs<'a>) -> Self {
        let mut by_subject: BTreeMap<&str, Vec<&Finding>> = BTreeMap::new();
        for finding in &inputs.findings.list {
            if let Some(id) = finding.subjects.first() {
                by_subject.entry(id).or_default().push(finding);
            }
        }
        let worst = inputs.findings.worst_by_id();
        let mut places: BTreeMap<Vec<String>, usize> = BTreeMap::new();
        let mut groups: Vec<Group> = Vec::new();
        for (n, (fastener, shank)) in inputs.joint.fasteners.iter().zip(&inputs.trace.fasteners).enumerate() {
            let own = by_subject.get(fastener.id.as_str()).map_or(&[][..], Vec::as_slice);
            let unit = inputs.joint.show_lengths_in;
            let mood = Mood::from(worst.get(fastener.id.as_str()).copied());
            let bite = shank.holding.map(|it| length::format(it.bite_mm, unit, Rounding::Down));
            let group = Group {
                members: vec![n],
                mood,
                angle: angle_words(shank),
                bite: bite.unwrap_or_else(|| "none".to_owned()),
                verdict: in_short(inputs, n, own, mood),
            };
            let mut key = key(inputs, fastener, shank, &group);
            key.extend(own.iter().map(|it| format!("{:?}", it.kind)));
            match places.get(&key).and_then(|it| groups.get_mut(*it)) {
                Some(same) => same.members.push(n),
                None => {
                    places.insert(key, groups.len());
                    groups.push(group);
                }
            }
        }
        Self { inputs, groups }
    }
}

/// A finding with the places of all fasteners of which the same is said.
pub(super) struct Told<'a> {
    pub(super) finding: &'a Finding,
    /// Rising; empty for one that is about no fastener.
    pub(super) places: Vec<usize>,
}

/// The findings in their order, those that say the same of several fasteners once, where the first of them stood.
pub(super) fn told<'a>(inputs: &Inputs<'a>) -> Vec<Told<'a>> {
    let places: BTreeMap<&str, usize> =
        inputs.joint.fasteners.iter().enumerate().map(|(n, it)| (it.id.as_str(), n)).collect();
    let mut at: BTreeMap<(Severity, &str, &str), usize> = BTreeMap::new();
    let mut list: Vec<Told<'a>> = Vec::new();
    for finding in &inputs.findings.list {
        let place = finding.subjects.first().and_then(|it| places.get(it.as_str()).copied());
        let key = (finding.severity, finding.says.as_str(), finding.source.as_str());
        match (place, at.get(&key).and_then(|it| list.get_mut(*it))) {
            (Some(place), Some(same)) if !same.places.is_empty() => same.places.push(place),
            _ => {
                at.insert(key, list.len());
                list.push(Told { finding, places: place.into_iter().collect() });
            }
        }
    }
    for it in &mut list {
        it.places.sort_unstable();
        it.places.dedup();
    }
    list
}

/// The verdict of a row: what is wrong in a few words, else that nothing was found.
fn in_short(inputs: &Inputs<'_>, which: usize, own: &[&Finding], mood: Mood) -> String {
    if mood == Mood::Quiet {
        return "no fault as drawn".to_owned();
    }
    let words = verdict::verdict_of(inputs, which, own.iter().copied());
    match mood {
        Mood::Fault => format!("fault: {words}"),
        Mood::Caution => format!("caution: {words}"),
        Mood::Quiet => words,
    }
}

/// Those for which these words are the same stand in one row.
fn key(inputs: &Inputs<'_>, fastener: &Fastener, shank: &Shank, group: &Group) -> Vec<String> {
    let spec = &fastener.spec;
    let mut key = vec![
        spec.label.clone(),
        format!("{:?} {} {} {}", spec.kind, spec.diameter_mm, spec.length_mm, fastener.existing),
        format!("{:?} {:?} {:?}", fastener.finish, fastener.lead_hole, fastener.seat),
        format!("{:?}", group.mood),
        group.angle.clone(),
        group.bite.clone(),
        group.verdict.clone(),
        from(shank.toward).to_owned(),
    ];
    key.extend(shank.core.iter().map(|run| {
        let name = run.body.map_or_else(String::new, |it| body_name(inputs, it));
        format!("{name} {:?} {:.2}", run.what, run.to_mm - run.from_mm)
    }));
    key
}

/// The slope to the face that the head sits on, else to the face by which the holding body is entered.
fn angle_words(shank: &Shank) -> String {
    let slope = shank.head.angle_to_face_deg.or(shank.holding.and_then(|it| it.angle_to_face_deg));
    match slope {
        Some(it) if SQUARE_DEG <= it => "square".to_owned(),
        Some(it) => angle::format(it, Rounding::Nearest),
        None => "none".to_owned(),
    }
}

/// Whether the shank leans so much that its slope must be kept by the hand that drives it.
pub(super) fn leans(shank: &Shank) -> Option<f64> {
    shank.head.angle_to_face_deg.filter(|it| *it < 80.0)
}

/// Places as the numbers of marks: `1–3`, `7`.
pub(super) fn ranges(places: &[usize]) -> Vec<String> {
    let mut runs: Vec<(usize, usize)> = Vec::new();
    for place in places {
        match runs.last_mut() {
            Some(last) if last.1 + 1 == *place => last.1 = *place,
            _ => runs.push((*place, *place)),
        }
    }
    let words = |(from, to): &(usize, usize)| match to - from {
        0 => (from + 1).to_string(),
        _ => format!("{}–{}", from + 1, to + 1),
    };
    runs.iter().map(words).collect()
}

/// The same in a sentence: `No. 1–3, 7`.
pub(super) fn numbers(places: &[usize]) -> String {
    let mut places = places.to_vec();
    places.sort_unstable();
    places.dedup();
    format!("No. {}", ranges(&places).join(", "))
}

/// The name of a body for people.
pub(super) fn body_name(inputs: &Inputs<'_>, body: BodyIx) -> String {
    let joint = inputs.joint;
    let name = inputs.trace.bodies.get(body.0).and_then(|it| match it.owner {
        Owner::Member(n) => joint.members.get(n).map(Member::shown_name),
        Owner::Plate { connector, .. } => joint.connectors.get(connector).map(Connector::shown_name),
    });
    name.unwrap_or_default().to_owned()
}

/// The first body that the shank is in.
pub(super) fn first_body(shank: &Shank) -> Option<BodyIx> {
    shank.core.iter().find_map(|it| it.body)
}

/// The run in the last body that can be drilled: steel and washers behind it have their holes.
pub(super) fn last_of_bodies(shank: &Shank) -> Option<&Run> {
    shank.core.iter().rev().find(|it| matches!(it.what, What::Bearing | What::Filling))
}

/// The side that something which points this way comes from.
pub(super) fn from(toward: Vec3) -> &'static str {
    let (x, y, z) = (toward.x.abs(), toward.y.abs(), toward.z.abs());
    if y <= x && z <= x {
        if 0.0 <= toward.x { "the left" } else { "the right" }
    } else if z <= y {
        if 0.0 <= toward.y { "below" } else { "above" }
    } else if 0.0 <= toward.z {
        "behind"
    } else {
        "the front"
    }
}

/// A finish in the middle of a line.
pub(super) fn finish(finish: Finish) -> &'static str {
    match finish {
        Finish::Bright => "bare steel",
        Finish::Electroplated => "electroplated",
        Finish::HotDipGalvanized => "hot-dip galvanized",
        Finish::MechanicallyGalvanized => "mechanically galvanized",
        Finish::Stainless => "stainless steel",
        Finish::SiliconBronze => "silicon bronze",
        Finish::Copper => "copper",
    }
}

/// Diameter and length of a shank.
pub(super) fn size(fastener: &Fastener, unit: LengthUnit) -> (String, String) {
    let spec = &fastener.spec;
    (length::format_diameter(spec.diameter_mm, unit), length::format(spec.length_mm, unit, Rounding::Nearest))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_that_follow_each_other_are_told_as_a_range() {
        assert_eq!(ranges(&[0, 1, 2, 6, 8, 9]), ["1–3", "7", "9–10"]);
        assert_eq!(numbers(&[4, 0, 0]), "No. 1, 5");
        assert!(ranges(&[]).is_empty());
    }

    #[test]
    fn what_points_one_way_comes_from_the_other_side() {
        assert_eq!(from(Vec3::X), "the left");
        assert_eq!(from(-Vec3::Y), "above");
        assert_eq!(from(-Vec3::Z), "the front");
        assert_eq!(from(Vec3::new(0.5, -0.8, 0.0)), "above");
    }
}
