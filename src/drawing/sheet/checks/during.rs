//! What can still be put right: drilling, slope and start, holes to fill, borders, pitch, washers.

use std::collections::BTreeMap;

use super::Told;
use crate::drawing::sheet::groups::{Content, body_name, first_body, leans, numbers};
use crate::drawing::sheet::schedules::{Holes, drillings, holes};
use crate::drawing::steel::tag;
use crate::joint::Duty;
use crate::stock::FastenerKind;
use crate::trace::{BodyIx, FaceDistances};
use crate::unit::angle;
use crate::unit::length::{self, Rounding};

pub(super) fn all(content: &Content<'_>) -> Vec<String> {
    let mut checks = drilling(content);
    checks.extend(turned(content));
    checks.extend(leaning(content));
    checks.extend(filled(content));
    checks.extend(borders(content));
    checks.extend(pitch(content));
    checks.extend(washers(content));
    checks
}

fn drilling(content: &Content<'_>) -> Vec<String> {
    let one = |(it, places): (crate::drawing::sheet::schedules::Drilling, Vec<usize>)| {
        let who = numbers(&places);
        if it.is_missing {
            return format!("{who}: no hole is drawn; ask what is to be drilled before it goes in");
        }
        let depth =
            if it.depth == "through" { "right through".to_owned() } else { format!("{} deep", it.depth) };
        format!("{who}: hole {} wide, {depth}, from {}: {}", it.diameter, it.from, it.into)
    };
    drillings(content).into_iter().map(one).collect()
}

/// Screws are turned in; a hammer breaks the wood that their thread should hold (NDS 2018 12.1.4 and 12.1.5
/// ask for turning, from memory).
fn turned(content: &Content<'_>) -> Option<String> {
    let is_turned =
        |kind| matches!(kind, FastenerKind::LagScrew | FastenerKind::WoodScrew | FastenerKind::MasonryScrew);
    let places = new_ones(content, |it| is_turned(it.spec.kind));
    (!places.is_empty()).then(|| format!("{}: turned in, not driven with a hammer", numbers(&places)))
}

fn new_ones(content: &Content<'_>, wanted: impl Fn(&crate::joint::Fastener) -> bool) -> Vec<usize> {
    let all = content.inputs.joint.fasteners.iter().enumerate();
    all.filter(|it| !it.1.existing && wanted(it.1)).map(|it| it.0).collect()
}

/// Slope, and how far from the end they start.
fn leaning(content: &Content<'_>) -> Vec<String> {
    let inputs = content.inputs;
    let unit = inputs.joint.show_lengths_in;
    let mut told = Told::default();
    for (n, shank) in inputs.trace.fasteners.iter().enumerate() {
        let (Some(slope), Some(body)) = (leans(shank), first_body(shank)) else { continue };
        let slope = angle::format(slope, Rounding::Nearest);
        let mut words = format!("at {slope} to the face of {}", body_name(inputs, body));
        let start = shank.head.at_face.map(|it| nearest(&it.along)).filter(|it| it.is_finite());
        if let Some(start) = start {
            words.push_str(&format!(", {} from its end", length::format(start, unit, Rounding::Nearest)));
        }
        told.add(words, n);
    }
    told.sentences()
}

fn nearest(reaches: &[crate::trace::Reach; 2]) -> f64 {
    reaches[0].mm.min(reaches[1].mm)
}

/// How many holes of each duty are to be filled.
fn filled(content: &Content<'_>) -> Vec<String> {
    let mut counts: Vec<(Holes, Vec<String>)> = Vec::new();
    for it in holes(content) {
        let same = counts.iter_mut().find(|one| one.0.connector == it.connector && one.0.duty == it.duty);
        match same {
            Some((all, takes)) => {
                all.count += it.count;
                all.filled += it.filled;
                takes.push(it.takes);
            }
            None => {
                let takes = vec![it.takes.clone()];
                counts.push((it, takes));
            }
        }
    }
    let words = |(all, mut takes): (Holes, Vec<String>)| {
        takes.dedup();
        let Holes { connector: name, duty, count, filled, .. } = all;
        let (letter, what) = (tag(duty).0, takes.join(" or "));
        match duty {
            Duty::Required => {
                format!("{name}: all of {count} tagged {letter} filled ({filled} as drawn), each with {what}")
            }
            Duty::Extra => format!(
                "{name}: {filled} of {count} tagged {letter} filled as drawn; the higher rating asks for all of \
                 them, each with {what}"
            ),
            Duty::HoldingUp => format!(
                "{name}: {count} tagged {letter} may hold it up and carry nothing ({filled} filled as drawn)"
            ),
        }
    };
    counts.into_iter().map(words).collect()
}

/// In each body the least distances to its edges and ends.
fn borders(content: &Content<'_>) -> Vec<String> {
    #[derive(Clone, Copy)]
    struct Least {
        edge: (f64, usize),
        end: (f64, usize),
    }
    let inputs = content.inputs;
    let none = (f64::INFINITY, 0);
    let mut least: BTreeMap<BodyIx, Least> = BTreeMap::new();
    let mut add = |body: BodyIx, face: &FaceDistances, n: usize| {
        let one = least.entry(body).or_insert(Least { edge: none, end: none });
        let lesser = |a: (f64, usize), b: f64| if b + 1e-9 < a.0 { (b, n) } else { a };
        one.edge = lesser(one.edge, nearest(&face.across));
        if face.end_grain {
            one.edge = lesser(one.edge, nearest(&face.along));
        } else {
            one.end = lesser(one.end, nearest(&face.along));
        }
    };
    for (n, shank) in inputs.trace.fasteners.iter().enumerate() {
        for plane in &shank.planes {
            plane.in_side.iter().for_each(|it| add(plane.side, it, n));
            plane.in_main.iter().for_each(|it| add(plane.main, it, n));
        }
    }
    let unit = inputs.joint.show_lengths_in;
    let told = |(body, it): (BodyIx, Least)| {
        let part = |(mm, n): (f64, usize), what: &str| {
            let drawn = length::format(mm, unit, Rounding::Down);
            mm.is_finite().then(|| format!("{drawn} to the nearest {what} (No. {})", n + 1))
        };
        let parts: Vec<String> = [part(it.edge, "edge"), part(it.end, "end")].into_iter().flatten().collect();
        (!parts.is_empty()).then(|| format!("in {}: {}", body_name(inputs, body), parts.join(", ")))
    };
    least.into_iter().filter_map(told).collect()
}

/// In each body the two fasteners that are nearest to each other.
fn pitch(content: &Content<'_>) -> Vec<String> {
    let inputs = content.inputs;
    let mut least: BTreeMap<BodyIx, (f64, usize, usize)> = BTreeMap::new();
    for it in &inputs.trace.neighbours {
        let apart = it.along_mm.hypot(it.across_mm);
        let one = least.entry(it.body).or_insert((f64::INFINITY, 0, 0));
        if apart + 1e-9 < one.0 {
            *one = (apart, it.a, it.b);
        }
    }
    let told = |(body, (apart, a, b)): (BodyIx, (f64, usize, usize))| {
        let apart = length::format(apart, inputs.joint.show_lengths_in, Rounding::Down);
        format!(
            "in {}: {apart} between the nearest two (No. {} and {})",
            body_name(inputs, body),
            a + 1,
            b + 1
        )
    };
    least.into_iter().map(told).collect()
}

fn washers(content: &Content<'_>) -> Vec<String> {
    let head = new_ones(content, |it| it.head_washer.is_some());
    let nut = new_ones(content, |it| it.nut_washer.is_some());
    if head == nut && !head.is_empty() {
        return vec![format!("{}: a washer under the head and under the nut", numbers(&head))];
    }
    [(head, "head"), (nut, "nut")]
        .into_iter()
        .filter(|it| !it.0.is_empty())
        .map(|(places, end)| format!("{}: a washer under the {end}", numbers(&places)))
        .collect()
}
