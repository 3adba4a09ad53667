//! Fasteners in the holes of a connector: one, all that must be filled, or all.

use std::sync::Arc;

use super::outfit::{Outfit, Under};
use super::{added, letter, new};
use crate::joint::{Connector, Duty, Edit, Hole, Joint, Placement, Takes};
use crate::sketch::fresh::Ids;
use crate::sketch::question::WishError;
use crate::stock::{FastenerSpec, Stock};
use crate::trace::Trace;
use crate::unit::length::format_diameter;

/// Diameters that differ by less are one size: 16d is 4.11 mm in one table and 0.162" in another.
const SAME_SIZE_MM: f64 = 0.05;

/// Which holes to fill.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Which<'a> {
    /// The one with this id.
    One(&'a str),
    /// Those that must be filled.
    Required,
    /// Those that must be filled and the extra ones.
    All,
}

/// Fills holes that are empty, each with `spec`, or with the shortest of stock that the hole takes.
///
/// What is filled already, also by a fastener that was driven freely through it, is left as it is.
///
/// # Errors
/// No such connector or hole, nothing left to fill, or a hole for which stock has nothing.
pub fn fill(
    (joint, trace): (&Joint, &Trace),
    connector: &str,
    which: Which<'_>,
    spec: Option<&Arc<FastenerSpec>>,
    stock: &Stock,
) -> Result<Edit, WishError> {
    let refuse = |says: String| Err(WishError::DoesNotFit(says));
    let Some(at) = joint.connectors.iter().position(|it| it.id == connector) else {
        return refuse(format!("there is no connector `{connector}`"));
    };
    let holes = empty(&joint.connectors[at], at, trace);
    if let Which::One(id) = which
        && !joint.connectors[at].plates.iter().flat_map(|it| &it.holes).any(|it| it.id == id)
    {
        return refuse(format!("the connector `{connector}` has no hole `{id}`"));
    }
    let wanted = |hole: &&Hole| match which {
        Which::One(id) => hole.id == id,
        Which::Required => hole.duty == Duty::Required,
        Which::All => hole.duty != Duty::HoldingUp,
    };
    let mut ids = Ids::of(joint);
    let mut fasteners = Vec::new();
    for hole in holes.into_iter().filter(wanted) {
        let spec = match spec {
            Some(spec) => Arc::clone(spec),
            None => what_it_takes(hole, joint, stock)?,
        };
        let outfit = Outfit::of(&spec, joint.standard, Under::Steel, stock);
        let place =
            Placement::Fills { connector: connector.to_owned(), hole: hole.id.clone(), angle_deg: None };
        fasteners.push(new(ids.numbered(letter(&spec)), &spec, place, outfit));
    }
    if fasteners.is_empty() {
        return refuse(match which {
            Which::One(id) => format!("hole `{id}` is filled already"),
            Which::Required => "every hole that must be filled is filled already".to_owned(),
            Which::All => "every hole is filled already".to_owned(),
        });
    }
    Ok(added(joint, fasteners))
}

/// The holes that nothing goes through.
fn empty<'a>(connector: &'a Connector, at: usize, trace: &Trace) -> Vec<&'a Hole> {
    let traced = trace.holes.iter().filter(|it| it.connector == at && it.filled_by.is_empty());
    traced.filter_map(|it| connector.plates.get(it.plate)?.holes.get(it.hole)).collect()
}

/// The shortest fastener of stock that a hole takes; where several are alike the first by name.
fn what_it_takes(hole: &Hole, joint: &Joint, stock: &Stock) -> Result<Arc<FastenerSpec>, WishError> {
    let unit = joint.show_lengths_in;
    let Some(takes) = hole.takes else {
        let says = format!("hole `{}` does not say what it takes; choose a fastener", hole.id);
        return Err(WishError::DoesNotFit(says));
    };
    let found = stock
        .fasteners
        .values()
        .filter(|it| suits(it, &takes))
        .min_by(|a, b| a.length_mm.total_cmp(&b.length_mm).then(a.id.cmp(&b.id)));
    found.cloned().ok_or_else(|| {
        WishError::NotInStock(format!(
            "stock has no {} of {} for hole `{}`",
            takes.kind.word().replace('-', " "),
            format_diameter(takes.diameter_mm, unit),
            hole.id
        ))
    })
}

fn suits(spec: &FastenerSpec, takes: &Takes) -> bool {
    spec.kind == takes.kind
        && (spec.diameter_mm - takes.diameter_mm).abs() <= SAME_SIZE_MM
        && takes.min_length_mm.is_none_or(|least| least - SAME_SIZE_MM <= spec.length_mm)
}
