//! Schedules: fasteners, drilling, and the holes of the connectors by their duty.

use std::collections::BTreeMap;

use super::Page;
use super::flow::List;
use super::groups::{Content, body_name, finish, first_body, from, last_of_bodies, ranges, size};
use super::table::{Cell, list, narrow, numbers, wide};
use crate::drawing::steel::tag;
use crate::drawing::{Inputs, Mood, Subject};
use crate::joint::{Duty, Fastener, Hole};
use crate::stock::FastenerKind;
use crate::trace::{Shank, What};
use crate::unit::LengthUnit;
use crate::unit::compare::SAME_MM;
use crate::unit::length::{self, Rounding};

/// More ranges of numbers than this are told in words instead of marks.
const MOST_MARKS: usize = 3;

/// A hole that ends this close to the end of the last body goes through it.
const THROUGH_MM: f64 = 0.5;

fn words(it: impl Into<String>) -> Cell {
    Cell::Words(it.into())
}

/// The numbers of fasteners as marks, where there are few.
fn marks(places: &[usize], mood: Mood, subject: Option<Subject>) -> Cell {
    let ranges = ranges(places);
    if ranges.len() <= MOST_MARKS { Cell::Marks(ranges, mood, subject) } else { words(ranges.join(", ")) }
}

/// The fasteners: one row for those that are alike.
pub(super) fn fasteners<'a>(page: &'a Page<'a>, width: f64, content: &Content<'_>) -> Option<List<'a>> {
    let joint = content.inputs.joint;
    let row = |group: &super::groups::Group| {
        let fastener = joint.fasteners.get(*group.members.first()?)?;
        let (diameter, long) = size(fastener, joint.show_lengths_in);
        let there = if fastener.existing { "\nthere already" } else { "" };
        Some(vec![
            marks(&group.members, group.mood, Some(Subject::Fastener(fastener.id.clone()))),
            words(group.members.len().to_string()),
            words(format!("{}\n{}{there}", fastener.spec.label, finish(fastener.finish))),
            words(format!("{diameter}\n{long}")),
            words(format!("{}\n{}", group.angle, group.bite)),
            words(group.verdict.clone()),
        ])
    };
    let rows: Vec<Vec<Cell>> = content.groups.iter().filter_map(row).collect();
    let columns = [
        numbers(),
        narrow("Qty"),
        wide("Fastener\nFinish"),
        narrow("Diameter\nLength"),
        narrow("Angle\nBite"),
        wide("As drawn"),
    ];
    (!rows.is_empty()).then(|| list(page, width, "FASTENERS", &columns, rows))
}

/// What is to be drilled for whom.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct Drilling {
    /// The bodies that the drill goes through and into, in their order.
    pub(super) into: String,
    pub(super) diameter: String,
    /// A length, or `through`.
    pub(super) depth: String,
    pub(super) from: &'static str,
    /// A hole that is needed was not drawn.
    pub(super) is_missing: bool,
}

/// Everything that is to be drilled, with the fasteners that each hole is for.
pub(super) fn drillings(content: &Content<'_>) -> Vec<(Drilling, Vec<usize>)> {
    let inputs = content.inputs;
    let mut found: Vec<(Drilling, Vec<usize>)> = Vec::new();
    let mut places: BTreeMap<Drilling, usize> = BTreeMap::new();
    for (n, (fastener, shank)) in inputs.joint.fasteners.iter().zip(&inputs.trace.fasteners).enumerate() {
        let into = bored(inputs, fastener, shank);
        let lead = drilling(fastener, shank, into, inputs.joint.show_lengths_in);
        for one in lead.into_iter().chain(shank_hole(inputs, fastener, shank)) {
            match places.get(&one) {
                Some(at) => found[*at].1.push(n),
                None => {
                    places.insert(one.clone(), found.len());
                    found.push((one, vec![n]));
                }
            }
        }
    }
    found
}

/// The hole for the smooth part of a lag screw: as wide as the shank and as deep as that is long, over the narrower
/// one for the thread (NDS 2018 12.1.4.2 and EN 1995-1-1 10.4.5, from memory).
fn shank_hole(inputs: &Inputs<'_>, fastener: &Fastener, shank: &Shank) -> Option<Drilling> {
    let spec = &fastener.spec;
    let lead = fastener.lead_hole.filter(|_| spec.kind == FastenerKind::LagScrew && !fastener.existing)?;
    let smooth_mm = spec.length_mm - spec.thread_mm?;
    if shank.length_mm <= 0.0 || smooth_mm < THROUGH_MM || spec.diameter_mm <= lead.diameter_mm + SAME_MM {
        return None;
    }
    let unit = inputs.joint.show_lengths_in;
    Some(Drilling {
        into: format!("{}, for the smooth shank", reached(inputs, shank, smooth_mm)),
        diameter: length::format_diameter(spec.diameter_mm, unit),
        depth: length::format(smooth_mm, unit, Rounding::Nearest),
        from: from(shank.toward),
        is_missing: false,
    })
}

/// What a hole goes through and into: `ledger + foam + rim`, for a name may have a comma of its own. Of one that is not drawn the body that it begins in.
fn bored(inputs: &Inputs<'_>, fastener: &Fastener, shank: &Shank) -> String {
    let Some(hole) = fastener.lead_hole else {
        return first_body(shank).map_or_else(String::new, |it| body_name(inputs, it));
    };
    reached(inputs, shank, hole.depth_mm)
}

/// The bodies that a hole of this depth goes through and into.
fn reached(inputs: &Inputs<'_>, shank: &Shank, depth_mm: f64) -> String {
    let mut names: Vec<String> = Vec::new();
    let reached = shank.core.iter().take_while(|it| it.from_mm + THROUGH_MM < depth_mm);
    // Steel has its holes already.
    for body in reached.filter(|it| it.what != What::Steel).filter_map(|it| it.body) {
        let name = body_name(inputs, body);
        if !names.contains(&name) {
            names.push(name);
        }
    }
    names.join(" + ")
}

fn drilling(fastener: &Fastener, shank: &Shank, into: String, unit: LengthUnit) -> Option<Drilling> {
    if fastener.existing || shank.length_mm <= 0.0 {
        return None;
    }
    let from = from(shank.toward);
    let Some(hole) = fastener.lead_hole else {
        let is_missing = matches!(
            fastener.spec.kind,
            FastenerKind::LagScrew
                | FastenerKind::Bolt
                | FastenerKind::ThreadedRod
                | FastenerKind::MasonryScrew
        );
        let none = || "not drawn".to_owned();
        return is_missing.then(|| Drilling { into, diameter: none(), depth: none(), from, is_missing });
    };
    // A hole that is a little deeper than its screw does not go through what the screw ends in.
    let is_through =
        last_of_bodies(shank).is_some_and(|it| it.left.is_some() && it.to_mm - THROUGH_MM <= hole.depth_mm);
    let depth = if is_through {
        "through".to_owned()
    } else {
        length::format(hole.depth_mm, unit, Rounding::Nearest)
    };
    let diameter = length::format_diameter(hole.diameter_mm, unit);
    Some(Drilling { into, diameter, depth, from, is_missing: false })
}

/// The holes to be drilled.
pub(super) fn drilling_list<'a>(page: &'a Page<'a>, width: f64, content: &Content<'_>) -> Option<List<'a>> {
    let rows: Vec<Vec<Cell>> = drillings(content)
        .into_iter()
        .map(|(one, places)| {
            vec![
                words(ranges(&places).join(", ")),
                words(one.into),
                words(one.diameter),
                words(one.depth),
                words(one.from),
            ]
        })
        .collect();
    let columns = [numbers(), wide("Into"), narrow("Hole"), narrow("Depth"), narrow("From")];
    (!rows.is_empty()).then(|| list(page, width, "DRILLING", &columns, rows))
}

/// Holes of one connector that are alike.
pub(super) struct Holes {
    pub(super) connector: String,
    pub(super) duty: Duty,
    pub(super) takes: String,
    pub(super) diameter: String,
    pub(super) count: usize,
    pub(super) filled: usize,
}

/// The holes of all connectors by duty, size and what they take.
pub(super) fn holes(content: &Content<'_>) -> Vec<Holes> {
    let inputs = content.inputs;
    let unit = inputs.joint.show_lengths_in;
    let mut found: BTreeMap<(usize, u8, String, String), Holes> = BTreeMap::new();
    for trace in &inputs.trace.holes {
        let Some(connector) = inputs.joint.connectors.get(trace.connector) else { continue };
        let Some(hole) = connector.plates.get(trace.plate).and_then(|it| it.holes.get(trace.hole)) else {
            continue;
        };
        let diameter = length::format_diameter(hole.diameter_mm, unit);
        let takes = takes(hole, unit);
        let order = match hole.duty {
            Duty::Required => 0,
            Duty::Extra => 1,
            Duty::HoldingUp => 2,
        };
        let key = (trace.connector, order, takes.clone(), diameter.clone());
        let one = found.entry(key).or_insert_with(|| Holes {
            connector: connector.shown_name().to_owned(),
            duty: hole.duty,
            takes,
            diameter,
            count: 0,
            filled: 0,
        });
        one.count += 1;
        one.filled += usize::from(!trace.filled_by.is_empty());
    }
    found.into_values().collect()
}

fn takes(hole: &Hole, unit: LengthUnit) -> String {
    let Some(takes) = hole.takes else { return "left open".to_owned() };
    let kind = takes.kind.word().replace('-', " ");
    let diameter = length::format_diameter(takes.diameter_mm, unit);
    match takes.min_length_mm {
        Some(long) => format!("{kind} {diameter}, {} or longer", length::format(long, unit, Rounding::Up)),
        None => format!("{kind} {diameter}"),
    }
}

/// The holes by duty.
pub(super) fn holes_list<'a>(page: &'a Page<'a>, width: f64, content: &Content<'_>) -> Option<List<'a>> {
    let row = |it: Holes| {
        vec![
            words(it.connector),
            words(format!("{} {}", it.count, tag(it.duty).0)),
            words(it.diameter),
            words(it.takes),
            words(it.filled.to_string()),
            words((it.count - it.filled).to_string()),
        ]
    };
    let rows: Vec<Vec<Cell>> = holes(content).into_iter().map(row).collect();
    let columns = [
        wide("Connector"),
        narrow("Holes"),
        narrow("Wide"),
        wide("Takes"),
        narrow("Filled"),
        narrow("Empty"),
    ];
    (!rows.is_empty()).then(|| list(page, width, "HOLES", &columns, rows))
}
