//! Another kind or size in the place of one fastener, of those selected, or of all alike.

use std::sync::Arc;

use super::outfit::{Outfit, Under};
use crate::joint::edit::Change;
use crate::joint::{Edit, Fastener, Joint, Placement, StandardId};
use crate::sketch::question::WishError;
use crate::stock::{FastenerSpec, Stock};
use crate::unit::compare::SAME_MM;

/// Which fasteners to change.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Whose<'a> {
    /// The one with this id.
    One(&'a str),
    /// Those with these ids.
    These(&'a [String]),
    /// All that are of the kind and size of this one now.
    AlikeTo(&'a str),
}

/// The places in the joint of the fasteners that are meant.
#[must_use]
pub fn meant(joint: &Joint, whose: Whose<'_>) -> Vec<usize> {
    let spec = |id: &str| joint.fasteners.iter().find(|it| it.id == id).map(|it| &it.spec);
    let is_meant = |it: &Fastener| match whose {
        Whose::One(id) => it.id == id,
        Whose::These(ids) => ids.contains(&it.id),
        Whose::AlikeTo(id) => spec(id) == Some(&it.spec),
    };
    joint.fasteners.iter().enumerate().filter(|it| is_meant(it.1)).map(|it| it.0).collect()
}

/// Puts `spec` in the place of each, as one step. Heads stay on their surface; holes and washers follow the
/// new size where they were those of the old one, and stay where they were chosen by hand.
///
/// # Errors
/// No such fastener, or all are of that kind and size already.
pub fn swap(
    joint: &Joint,
    whose: Whose<'_>,
    spec: &Arc<FastenerSpec>,
    stock: &Stock,
) -> Result<Edit, WishError> {
    let meant = meant(joint, whose);
    if meant.is_empty() {
        return Err(WishError::DoesNotFit("there is no such fastener".to_owned()));
    }
    let edits: Vec<Edit> = meant
        .into_iter()
        .filter(|at| joint.fasteners[*at].spec != *spec)
        .map(|at| {
            let new = Box::new(swapped(&joint.fasteners[at], spec, (joint.standard, stock)));
            Edit::Fasteners(Change::Replace { at, new })
        })
        .collect();
    if edits.is_empty() {
        return Err(WishError::DoesNotFit(format!("it is {} already", spec.label)));
    }
    Ok(Edit::All(edits))
}

/// The fastener with another kind or size.
pub(super) fn swapped(
    old: &Fastener,
    spec: &Arc<FastenerSpec>,
    (by, stock): (StandardId, &Stock),
) -> Fastener {
    let under = match old.place {
        Placement::Free { .. } => Under::Member,
        Placement::Fills { .. } => Under::Steel,
    };
    let (was, now) = (Outfit::of(&old.spec, by, under, stock), Outfit::of(spec, by, under, stock));
    let mut new = old.clone();
    new.spec = Arc::clone(spec);
    if old.lead_hole == was.lead_hole || old.spec.kind != spec.kind {
        new.lead_hole = now.lead_hole;
    } else {
        new.lead_hole = old.lead_hole.map(|it| it.for_length(old.spec.length_mm, spec.length_mm));
    }
    let other_size = SAME_MM < (old.spec.diameter_mm - spec.diameter_mm).abs();
    if old.head_washer == was.head_washer || other_size && old.head_washer.is_some() {
        new.head_washer.clone_from(&now.head_washer);
    }
    if old.nut_washer == was.nut_washer || other_size && old.nut_washer.is_some() {
        new.nut_washer.clone_from(&now.nut_washer);
    }
    if let Placement::Free { head, toward } = &mut new.place {
        let thick = |it: &Fastener| it.head_washer.as_ref().map_or(0.0, |it| it.thickness_mm);
        let lift = thick(old) - new.head_washer.as_ref().map_or(0.0, |it| it.thickness_mm);
        *head = *head + toward.unit().unwrap_or_default() * lift;
    }
    new
}
