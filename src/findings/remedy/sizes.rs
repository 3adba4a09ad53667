//! Another size of the same stock, or the stock that a hole takes.

use std::sync::Arc;

use crate::findings::holes::{SAME_SIZE_MM, kind_name};
use crate::findings::remedy::{Asked, Mended, Place, Way};
use crate::findings::words;
use crate::joint::{Fastener, Finish, Hole, Placement, Seat};
use crate::stock::{FastenerKind, FastenerSpec};
use crate::unit::LengthUnit;
use crate::unit::compare::SAME_MM;

/// Which sizes to try, and in which order.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Sizes {
    /// Shorter ones, the longest first; the same shank first.
    Shorter,
    /// Longer ones, the shortest first; the same shank first.
    Longer,
    /// Thinner ones no shorter than this one, the thickest first.
    Thinner,
}

/// The other sizes of the table that the fastener is from.
pub(super) fn sizes(asked: &Asked<'_>, which: Sizes) -> Vec<Way> {
    let Some(old) = asked.fastener.and_then(|it| asked.joint.fasteners.get(it)) else { return Vec::new() };
    let spec = &*old.spec;
    let fits = |it: &&Arc<FastenerSpec>| match which {
        Sizes::Shorter => it.length_mm + SAME_MM < spec.length_mm,
        Sizes::Longer => spec.length_mm + SAME_MM < it.length_mm,
        Sizes::Thinner => {
            it.diameter_mm + SAME_MM < spec.diameter_mm && spec.length_mm <= it.length_mm + SAME_MM
        }
    };
    let mut specs: Vec<&Arc<FastenerSpec>> = asked.stock.alternatives(spec).filter(fits).collect();
    let other_shank = |it: &FastenerSpec| (it.diameter_mm - spec.diameter_mm).abs();
    specs.sort_by(|a, b| {
        let by_shank = other_shank(a).total_cmp(&other_shank(b));
        let by_length = a.length_mm.total_cmp(&b.length_mm);
        let by_length = if which == Sizes::Shorter { by_length.reverse() } else { by_length };
        by_shank.then(by_length).then(a.id.cmp(&b.id))
    });
    specs
        .into_iter()
        .map(|new| Way {
            place: Place::Instead,
            nearer: None,
            fastener: resized(old, new),
            says: Box::new(says_size),
        })
        .collect()
}

/// The fastener in another size, and its hole as deep as that wants it.
fn resized(old: &Fastener, spec: &Arc<FastenerSpec>) -> Fastener {
    let lead_hole = old.lead_hole.map(|it| it.for_length(old.spec.length_mm, spec.length_mm));
    Fastener { spec: Arc::clone(spec), lead_hole, ..old.clone() }
}

/// `A 4" lag screw stays in and has 1 1/2" of bite.`
fn says_size(mended: &Mended<'_>) -> String {
    format!("{} {}.", capital_article(mended), does(mended))
}

/// `A 16d common nail, 3 1/2" long,`; `An 8d common nail, 2 1/2" long,`.
fn capital_article(mended: &Mended<'_>) -> String {
    let name = name(&mended.fastener.spec, mended.joint.show_lengths_in);
    // Numbers that are spoken with a vowel first: eight, eighty, eleven, eighteen.
    let vowel =
        name.starts_with('8') || name.starts_with("11") && !name.starts_with("11/") || name.starts_with("18");
    format!("{} {name}", if vowel { "An" } else { "A" })
}

/// As stock calls it where that tells its measures; a nail by its name in the trade, anything else by its
/// measures.
pub(super) fn name(spec: &FastenerSpec, unit: LengthUnit) -> String {
    let length = words::fine(spec.length_mm, unit);
    if spec.label.contains(" x ") {
        return spec.label.clone();
    }
    if spec.kind == FastenerKind::Nail && !spec.label.is_empty() {
        return format!("{}, {length} long,", spec.label);
    }
    format!("{} x {length} {}", words::fine(spec.diameter_mm, unit), kind_name(spec.kind))
}

/// What the fastener does after the change.
fn does(mended: &Mended<'_>) -> String {
    let unit = mended.joint.show_lengths_in;
    let nut = match (mended.fastener.spec.nut, mended.shank.nut) {
        (Some(_), Some(nut)) => Some(nut.projects_mm),
        (None, _) | (_, None) => None,
    };
    match (nut, mended.shank.holding) {
        (Some(projects), _) => format!("leaves {} for washer and nut", words::measured(projects, unit)),
        (None, Some(holding)) => {
            let bite = words::measured(holding.bite_mm, unit);
            let stays = if 0.0 < holding.point_out_mm { "" } else { "stays in and " };
            let still = if mended.is_short { ", still too little" } else { "" };
            format!("{stays}has {bite} of bite{still}")
        }
        (None, None) => "does".to_owned(),
    }
}

/// What goes into the hole that the finding names: in the place of what is in it, or added where it is empty.
pub(super) fn what_it_takes(asked: &Asked<'_>) -> Vec<Way> {
    let Some((connector, hole)) = named_hole(asked) else { return Vec::new() };
    let Some(takes) = hole.takes else { return Vec::new() };
    let fits = |it: &&Arc<FastenerSpec>| {
        it.kind == takes.kind
            && (it.diameter_mm - takes.diameter_mm).abs() <= SAME_SIZE_MM
            && takes.min_length_mm.is_none_or(|least| least - SAME_SIZE_MM <= it.length_mm)
    };
    let mut specs: Vec<&Arc<FastenerSpec>> = asked.stock.fasteners.values().filter(fits).collect();
    specs.sort_by(|a, b| a.length_mm.total_cmp(&b.length_mm).then(a.id.cmp(&b.id)));
    let old = asked.fastener.and_then(|it| asked.joint.fasteners.get(it));
    let finishes = match old {
        Some(old) => vec![old.finish],
        None => finishes_beside(asked, connector),
    };
    let place = if old.is_some() { Place::Instead } else { Place::Added };
    specs
        .into_iter()
        .flat_map(|spec| finishes.iter().map(move |finish| (spec, *finish)))
        .map(|(spec, finish)| Way {
            place,
            nearer: None,
            fastener: match old {
                Some(old) => resized(old, spec),
                None => fills(asked, (connector, &hole.id), spec, finish),
            },
            says: Box::new(|it| {
                format!(
                    "{} fills the hole and {}.",
                    capital_article(it),
                    does(it).replace("stays in and ", "")
                )
            }),
        })
        .collect()
}

fn named_hole<'a>(asked: &Asked<'a>) -> Option<(&'a str, &'a Hole)> {
    asked.joint.connectors.iter().filter(|it| asked.finding.subjects.contains(&it.id)).find_map(|connector| {
        let holes = connector.plates.iter().flat_map(|it| &it.holes);
        let hole = holes.into_iter().find(|it| asked.finding.subjects.contains(&it.id))?;
        Some((connector.id.as_str(), hole))
    })
}

/// The finishes of what is in the connector already, then those that one would try next.
fn finishes_beside(asked: &Asked<'_>, connector: &str) -> Vec<Finish> {
    let beside = asked
        .joint
        .fasteners
        .iter()
        .filter(|it| matches!(&it.place, Placement::Fills { connector: of, .. } if of == connector));
    let mut finishes: Vec<Finish> = beside.map(|it| it.finish).take(1).collect();
    finishes.extend([Finish::Bright, Finish::HotDipGalvanized]);
    finishes.dedup();
    finishes
}

fn fills(
    asked: &Asked<'_>,
    (connector, hole): (&str, &str),
    spec: &Arc<FastenerSpec>,
    finish: Finish,
) -> Fastener {
    Fastener {
        id: free_id(asked),
        spec: Arc::clone(spec),
        place: Placement::Fills { connector: connector.to_owned(), hole: hole.to_owned(), angle_deg: None },
        seat: Seat::Flush,
        finish,
        lead_hole: None,
        head_washer: None,
        nut_washer: None,
        existing: false,
    }
}

/// The first of `f1`, `f2`, ... that nothing in the joint is called.
fn free_id(asked: &Asked<'_>) -> String {
    let joint = asked.joint;
    let taken = |id: &str| {
        joint.members.iter().any(|it| it.id == id)
            || joint.connectors.iter().any(|it| it.id == id)
            || joint.fasteners.iter().any(|it| it.id == id)
    };
    (joint.fasteners.len() + 1..).map(|n| format!("f{n}")).find(|it| !taken(it)).unwrap_or_default()
}
