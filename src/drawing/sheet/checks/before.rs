//! What is at hand and what is there: members, steel, fasteners, and the room between the members.

use super::Told;
use crate::drawing::sheet::groups::{Content, body_name, finish, numbers, size};
use crate::drawing::sizes;
use crate::joint::{Member, Treatment};
use crate::trace::{Body, Owner, What};
use crate::unit::LengthUnit;
use crate::unit::length::{self, Rounding};

/// Members of more kinds than this are told together.
const MOST_MEMBERS: usize = 24;

pub(super) fn all(content: &Content<'_>, points: Vec<String>) -> Vec<String> {
    let mut checks = members(content);
    checks.extend(connectors(content));
    checks.extend(fasteners(content));
    checks.extend(between(content));
    checks.extend(points);
    checks
}

fn members(content: &Content<'_>) -> Vec<String> {
    let joint = content.inputs.joint;
    let mut checks: Vec<String> = Vec::new();
    for body in &content.inputs.trace.bodies {
        let Owner::Member(n) = body.owner else { continue };
        let Some(member) = joint.members.get(n) else { continue };
        checks.push(one_member(member, body, joint.show_lengths_in));
    }
    if MOST_MEMBERS < checks.len() {
        let rest = checks.len() - MOST_MEMBERS;
        checks.truncate(MOST_MEMBERS);
        checks.push(format!("the {rest} other members as the joint file lists them"));
    }
    checks
}

fn one_member(member: &Member, body: &Body, unit: LengthUnit) -> String {
    let mut words = member.shown_name().to_owned();
    let mut add = |more: &str| {
        words.push_str(", ");
        words.push_str(more);
    };
    if !member.material.label.is_empty() && member.material.label != member.shown_name() {
        add(&member.material.label);
    }
    if let Some(it) = sizes::section(member, body, unit) {
        add(&it);
    }
    match member.treatment {
        Treatment::None => {}
        Treatment::Preservative => add("preservative-treated"),
        Treatment::Borate => add("borate-treated"),
        Treatment::FireRetardant => add("fire-retardant-treated"),
    }
    words
}

fn connectors(content: &Content<'_>) -> Vec<String> {
    let joint = content.inputs.joint;
    let one = |it: &crate::joint::Connector| {
        format!("{}, {}, {}", it.shown_name(), it.material.label, sizes::thickness(it, joint.show_lengths_in))
    };
    joint.connectors.iter().map(one).collect()
}

fn fasteners(content: &Content<'_>) -> Vec<String> {
    let joint = content.inputs.joint;
    let mut told = Told::default();
    for (n, it) in joint.fasteners.iter().enumerate() {
        let (diameter, long) = size(it, joint.show_lengths_in);
        let label = &it.spec.label;
        // Most labels of stock tell the measures themselves.
        let is_told = label.contains(&long) && label.contains(diameter.trim_end_matches(" mm"));
        let measures = if is_told { String::new() } else { format!(", {diameter} × {long}") };
        let what = format!("{label}{measures}, {}", finish(it.finish));
        told.add(if it.existing { format!("{what}, there already and sound") } else { what }, n);
    }
    told.list
        .into_iter()
        .map(|(words, places)| format!("{} × {words} ({})", places.len(), numbers(&places)))
        .collect()
}

/// Gaps and fillings that shanks cross, each between its two bodies.
fn between(content: &Content<'_>) -> Vec<String> {
    let inputs = content.inputs;
    let unit = inputs.joint.show_lengths_in;
    let mut told = Told::default();
    for (n, shank) in inputs.trace.fasteners.iter().enumerate() {
        for (at, run) in shank.core.iter().enumerate() {
            let thick = length::format(run.to_mm - run.from_mm, unit, Rounding::Down);
            match run.what {
                What::Gap => {
                    let name = |it: Option<crate::trace::BodyIx>| it.map(|it| body_name(inputs, it));
                    let before = name(shank.core[..at].iter().rev().find_map(|it| it.body));
                    let after = name(shank.core[at + 1..].iter().find_map(|it| it.body));
                    if let Some((before, after)) = before.zip(after) {
                        told.add(
                            format!("gap from {before} to {after} along the shank: {thick}, not more"),
                            n,
                        );
                    }
                }
                What::Filling => {
                    let name = run.body.map_or_else(String::new, |it| body_name(inputs, it));
                    told.add(format!("{name} along the shank: {thick}, not more"), n);
                }
                What::Bearing | What::Steel | What::Air => {}
            }
        }
    }
    told.sentences()
}
