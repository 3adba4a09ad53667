//! Fasteners: driven anywhere, into holes, at a slope by rule, in rows; swapped; chosen.

pub mod choose;
pub mod fill;
pub mod free;
mod outfit;
pub mod swap;
#[cfg(test)]
mod tests;
pub mod toe;
pub mod typed;

use std::sync::Arc;

pub use outfit::{Outfit, Under};

use crate::joint::edit::Change;
use crate::joint::{Edit, Fastener, Finish, Joint, Placement, Seat};
use crate::stock::FastenerSpec;

/// A new fastener as its kind is commonly driven: flush, bare, with the hole and the washers that it needs.
fn new(id: String, spec: &Arc<FastenerSpec>, place: Placement, outfit: Outfit) -> Fastener {
    Fastener {
        id,
        spec: Arc::clone(spec),
        place: outfit.lifted(place),
        seat: Seat::Flush,
        finish: Finish::Bright,
        lead_hole: outfit.lead_hole,
        head_washer: outfit.head_washer,
        nut_washer: outfit.nut_washer,
        existing: false,
    }
}

/// The letter that fasteners are counted with: `n1` of nails, `s1` of screws, `b1` of bolts and rods.
fn letter(spec: &FastenerSpec) -> &'static str {
    use crate::stock::FastenerKind as Kind;
    match spec.kind {
        Kind::Nail => "n",
        Kind::WoodScrew | Kind::LagScrew | Kind::MasonryScrew => "s",
        Kind::Bolt | Kind::ThreadedRod => "b",
    }
}

/// Adds fasteners behind those of the joint, as one step.
fn added(joint: &Joint, fasteners: Vec<Fastener>) -> Edit {
    let insert =
        |(n, new)| Edit::Fasteners(Change::Insert { at: joint.fasteners.len() + n, new: Box::new(new) });
    Edit::All(fasteners.into_iter().enumerate().map(insert).collect())
}
