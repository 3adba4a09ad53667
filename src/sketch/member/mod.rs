//! Members: from stock in any of their three views, drawn by hand, and cut.

pub mod cut;
pub mod draw;
pub mod resize;
pub mod section;
#[cfg(test)]
mod tests;

use std::sync::Arc;

use super::fresh::Ids;
use super::question::WishError;
use crate::joint::edit::Change;
use crate::joint::{Edit, Grain, Interval, Joint, Member, Outline, Treatment};
use crate::shape::Region;
use crate::stock::Material;
use crate::trace::outline_region;
use crate::unit::compare::at_least;

/// Least area of an outline, square millimetres.
const LEAST_AREA_MM2: f64 = 1.0;

/// Least thickness in depth, millimetres.
const LEAST_MM: f64 = 1e-3;

/// Adds a member behind those of the joint. It bears unless its material is a filling.
///
/// # Errors
/// An outline that crosses itself or encloses nothing, or a depth of nothing.
pub fn added(
    joint: &Joint,
    name: &str,
    material: &Arc<Material>,
    outline: Outline,
    (depth, grain): (Interval, Grain),
) -> Result<Edit, WishError> {
    sound(&outline)?;
    if !at_least(depth.to - depth.from, LEAST_MM) {
        return Err(WishError::DoesNotFit(
            "a member needs a depth: its near end before its far end".to_owned(),
        ));
    }
    let plain: String =
        name.trim().to_lowercase().chars().map(|it| if it.is_alphanumeric() { it } else { '-' }).collect();
    let id = Ids::of(joint).like(if plain.is_empty() { "member" } else { &plain });
    let new = Member {
        name: if id == name { String::new() } else { name.trim().to_owned() },
        id,
        bearing: material.family.bears(),
        material: Arc::clone(material),
        outline,
        cutouts: Vec::new(),
        depth,
        grain: if material.family.is_wood() { grain } else { Grain::None },
        treatment: Treatment::None,
        blocking: false,
    };
    Ok(Edit::Members(Change::Insert { at: joint.members.len(), new: Box::new(new) }))
}

/// Refuses an outline that nothing can be made of.
pub(super) fn sound(outline: &Outline) -> Result<Region, WishError> {
    let refuse = |says: String| Err(WishError::DoesNotFit(says));
    if let Outline::Path(data) = outline
        && let Err(why) = Region::path(data)
    {
        return refuse(why.to_string());
    }
    let region = outline_region(outline);
    let bounds = region.bounds();
    if ![bounds.x0, bounds.y0, bounds.x1, bounds.y1].iter().all(|it| it.abs() <= 1e6) {
        return refuse("an outline lies within a kilometre of the origin".to_owned());
    }
    if let Some(at) = region.self_crossing() {
        return refuse(format!("the outline crosses or touches itself at x {:.1}, y {:.1}", at.x, at.y));
    }
    if region.area_mm2() < LEAST_AREA_MM2 {
        return refuse("the outline encloses nothing".to_owned());
    }
    Ok(region)
}
