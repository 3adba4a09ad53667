//! Which changes to try for which kind of finding, in the order of trying.

use crate::findings::remedy::moves::{down, sideways, turned};
use crate::findings::remedy::sizes::{Sizes, sizes, what_it_takes};
use crate::findings::remedy::{Asked, Mended, Place, Way};
use crate::findings::{Kind, words};
use crate::joint::{Fastener, Finish, LeadHole, Placement, Seat};
use crate::unit::LengthUnit;
use crate::unit::length::MM_PER_INCH;

/// A family of changes.
type Family = fn(&Asked<'_>) -> Vec<Way>;

/// Whether any change is tried for a kind.
pub(super) fn may_have_one(kind: Kind) -> bool {
    !families(kind).is_empty()
}

/// The changes to try.
pub(super) fn ways(asked: &Asked<'_>) -> Vec<Way> {
    families(asked.finding.kind).iter().flat_map(|family| family(asked)).collect()
}

fn families(kind: Kind) -> &'static [Family] {
    match kind {
        Kind::PointOut => &[shorter],
        Kind::ShortBite => &[longer, thinner],
        Kind::Shiner | Kind::InAir => &[longer, sideways],
        Kind::ThinSide => &[thinner],
        Kind::BreaksOut | Kind::AlongFace | Kind::EndDistance | Kind::EdgeDistance | Kind::Spacing => {
            &[sideways, shorter, thinner]
        }
        Kind::Clash => &[sideways, shorter],
        Kind::WrongStart => &[sideways],
        Kind::EmptyHole | Kind::WrongKind | Kind::WrongDiameter | Kind::WrongLength => &[what_it_takes],
        Kind::WrongAngle => &[turned],
        Kind::OversizeHole | Kind::LeadHole | Kind::HoleDepth => &[drilled],
        Kind::Overdriven | Kind::Proud => &[flush],
        Kind::HeadSeat => &[down, washer],
        Kind::Washer => &[washer],
        Kind::BoltShort => &[longer],
        Kind::NutSeat => &[shorter],
        Kind::Finish => &[finish],
        Kind::Gap
        | Kind::Filling
        | Kind::ThroughSteel
        | Kind::Overlap
        | Kind::Spread
        | Kind::EndGrain
        | Kind::Unsuitable
        | Kind::NoSuchHole
        | Kind::Overloaded
        | Kind::NoValue
        | Kind::BelowRating
        | Kind::NotCarried => &[],
    }
}

fn shorter(asked: &Asked<'_>) -> Vec<Way> {
    sizes(asked, Sizes::Shorter)
}

fn longer(asked: &Asked<'_>) -> Vec<Way> {
    sizes(asked, Sizes::Longer)
}

fn thinner(asked: &Asked<'_>) -> Vec<Way> {
    sizes(asked, Sizes::Thinner)
}

fn old<'a>(asked: &Asked<'a>) -> Option<&'a Fastener> {
    asked.joint.fasteners.get(asked.fastener?)
}

fn instead(fastener: Fastener, says: impl Fn(&Mended<'_>) -> String + 'static) -> Way {
    Way { place: Place::Instead, fastener, says: Box::new(says), nearer: None }
}

fn flush(asked: &Asked<'_>) -> Vec<Way> {
    old(asked)
        .map(|it| {
            instead(Fastener { seat: Seat::Flush, ..it.clone() }, |_| "Driven flush, it is right.".to_owned())
        })
        .into_iter()
        .collect()
}

/// The plain washer of its size under the head, under the nut, or under both.
fn washer(asked: &Asked<'_>) -> Vec<Way> {
    let Some(old) = old(asked) else { return Vec::new() };
    let Some(washer) = asked.stock.washer_for(old.spec.diameter_mm) else { return Vec::new() };
    let washer = std::sync::Arc::new(washer.clone());
    let under = |head: bool, nut: bool, place: &'static str| {
        let mut new = old.clone();
        if head {
            new.head_washer = Some(std::sync::Arc::clone(&washer));
            // The head rises by the washer that now lies under it.
            if let (None, Placement::Free { head, toward }) = (&old.head_washer, &mut new.place) {
                *head = *head - toward.unit().unwrap_or_default() * washer.thickness_mm;
            }
        }
        if nut {
            new.nut_washer = Some(std::sync::Arc::clone(&washer));
        }
        let outer = washer.outer_mm;
        instead(new, move |it| {
            let across = words::fine(outer, it.joint.show_lengths_in);
            format!("A washer {across} across under the {place} does.")
        })
    };
    vec![under(true, false, "head"), under(false, true, "nut"), under(true, true, "head and the nut")]
}

/// Other finishes, the commonest first.
fn finish(asked: &Asked<'_>) -> Vec<Way> {
    let Some(old) = old(asked) else { return Vec::new() };
    [Finish::Electroplated, Finish::MechanicallyGalvanized, Finish::HotDipGalvanized, Finish::Stainless]
        .into_iter()
        .filter(|it| *it != old.finish)
        .map(|finish| {
            instead(Fastener { finish, ..old.clone() }, move |_| {
                let name = crate::findings::wood::finish_name(finish);
                format!("{} does.", crate::findings::bite::capital(name))
            })
        })
        .collect()
}

/// The hole that is asked for: of the width or the depth required, to what a drill bit can do.
fn drilled(asked: &Asked<'_>) -> Vec<Way> {
    let Some(old) = old(asked) else { return Vec::new() };
    let (finding, spec, unit) = (asked.finding, &old.spec, asked.joint.show_lengths_in);
    let drawn = old.lead_hole;
    let depth = drawn.map_or(spec.length_mm, |it| it.depth_mm.max(spec.length_mm));
    let required = finding.required.filter(|_| finding.unit == "mm");
    let holes: Vec<LeadHole> = if finding.kind == Kind::HoleDepth {
        let deep = required.map_or(depth, |it| up(it, unit));
        drawn.into_iter().map(|it| LeadHole { depth_mm: deep, ..it }).collect()
    } else {
        let parts = [0.7, 0.8, 0.6, 0.5, 0.4, 0.9].map(|part| part * spec.diameter_mm);
        let near = required.into_iter().flat_map(|it| [it, up(it, unit), down_to(it, unit)]);
        let others = parts.into_iter().flat_map(|it| [up(it, unit), down_to(it, unit)]);
        near.chain(others).map(|wide| LeadHole { diameter_mm: wide, depth_mm: depth }).collect()
    };
    holes
        .into_iter()
        .map(|hole| {
            instead(Fastener { lead_hole: Some(hole), ..old.clone() }, move |it| {
                let unit = it.joint.show_lengths_in;
                let (wide, deep) = (words::fine(hole.diameter_mm, unit), words::fine(hole.depth_mm, unit));
                format!("A hole {wide} wide and {deep} deep does.")
            })
        })
        .collect()
}

/// The step of drill bits: 1/64" or half a millimetre.
fn bit(unit: LengthUnit) -> f64 {
    match unit {
        LengthUnit::Inch => MM_PER_INCH / 64.0,
        LengthUnit::Millimetre => 0.5,
    }
}

fn up(mm: f64, unit: LengthUnit) -> f64 {
    (mm / bit(unit) - crate::unit::compare::SAME_MM).ceil() * bit(unit)
}

fn down_to(mm: f64, unit: LengthUnit) -> f64 {
    (mm / bit(unit) + crate::unit::compare::SAME_MM).floor() * bit(unit)
}
