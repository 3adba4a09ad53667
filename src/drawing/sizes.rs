//! The sizes by which members and steel are named.

use kurbo::Shape as _;

use crate::joint::{Connector, Grain, Interval, Member, Outline};
use crate::stock::Family;
use crate::trace::Body;
use crate::unit::LengthUnit;
use crate::unit::length::{self, Rounding};

/// The section of a member: of wood across its grain, which for one that runs along the drawing is its depth by what
/// is drawn of it; of a panel its thickness; else its measures in the drawing plane. `None` where there is nothing
/// to tell.
pub(super) fn section(member: &Member, body: &Body, unit: LengthUnit) -> Option<String> {
    let shown = |it: f64| length::format(it, unit, Rounding::Nearest);
    let by = |a: f64, b: f64| format!("{} × {}", shown(a.min(b)), shown(a.max(b)));
    match &member.outline {
        Outline::Rectangle { size_mm: (a, b), turn_deg, .. }
        | Outline::ISection { size_mm: (a, b), turn_deg, .. } => {
            let Interval { from, to } = member.depth;
            let deep = (to - from).abs();
            let thin = a.min(*b).min(deep);
            if member.material.family == Family::Panel {
                return Some(format!("{} thick", shown(thin)));
            }
            Some(match (across(member.grain, *turn_deg), member.material.family) {
                (Some(is_level), Family::Lumber | Family::Glulam | Family::Engineered) => {
                    by(deep, if is_level { *b } else { *a })
                }
                _ => by(*a, *b),
            })
        }
        Outline::Round { diameter_mm, .. } => Some(format!("{} in diameter", shown(*diameter_mm))),
        Outline::Polygon(corners) if corners.is_empty() => None,
        Outline::Polygon(_) | Outline::Path(_) => {
            let it = body.region.to_path().bounding_box();
            let is_sound = it.width().is_finite() && 0.0 < it.width();
            is_sound.then(|| format!("{} × {} over all", shown(it.width()), shown(it.height())))
        }
    }
}

/// Whether the grain runs along the width of an outline that is turned so, or else along its height; `None` where it
/// runs along neither.
fn across(grain: Grain, turn_deg: f64) -> Option<bool> {
    let Grain::InPlane(deg) = grain else { return None };
    let turn = (deg - turn_deg).rem_euclid(180.0);
    let is_near = |it: f64| (turn - it).abs() < 1.0;
    if is_near(0.0) || is_near(180.0) { Some(true) } else { is_near(90.0).then_some(false) }
}

/// How thick the steel of a connector is.
pub(super) fn thickness(connector: &Connector, unit: LengthUnit) -> String {
    let shown = |it: f64| length::format_diameter(it, unit);
    let mut thick: Vec<String> = connector.plates.iter().map(|it| shown(it.thickness_mm)).collect();
    thick.dedup();
    format!("{} thick", thick.join(" and "))
}
