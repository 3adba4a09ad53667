//! Fasteners driven anywhere: one, a row, a grid.

use std::sync::Arc;

use super::outfit::{Outfit, Under};
use super::{added, letter, new};
use crate::joint::{Edit, Joint, Placement};
use crate::sketch::fresh::Ids;
use crate::sketch::question::WishError;
use crate::stock::{FastenerSpec, Stock};
use crate::unit::Vec3;

/// Most fasteners that one step places.
const MOST: usize = 10_000;

/// How far apart the fasteners of a row stand.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Spaced {
    /// So many, evenly from end to end; one stands in the middle.
    Count(usize),
    /// So far from each other, from the start on, as many as there is room for.
    Pitch(f64),
    /// So many so far from each other from the start on, whatever the room.
    CountAt(usize, f64),
}

/// One fastener under the point `head` on a surface.
///
/// # Errors
/// A direction of no length.
pub fn drive(
    joint: &Joint,
    spec: &Arc<FastenerSpec>,
    (head, toward): (Vec3, Vec3),
    stock: &Stock,
) -> Result<Edit, WishError> {
    row(joint, spec, (head, head, toward), Spaced::Count(1), stock)
}

/// A row of fasteners from one place on a surface to another, all pointing the same way.
///
/// # Errors
/// A direction of no length, a pitch of nothing, or more fasteners than anybody drives.
pub fn row(
    joint: &Joint,
    spec: &Arc<FastenerSpec>,
    (from, to, toward): (Vec3, Vec3, Vec3),
    spaced: Spaced,
    stock: &Stock,
) -> Result<Edit, WishError> {
    drive_at(joint, spec, places(from, to, spaced)?, toward, stock)
}

/// Rows of fasteners: the row from `from` to `to`, and more of them towards `across`.
///
/// # Errors
/// As for [`row`].
pub fn grid(
    joint: &Joint,
    spec: &Arc<FastenerSpec>,
    (from, to, across): (Vec3, Vec3, Vec3),
    (in_row, rows): (Spaced, Spaced),
    (toward, stock): (Vec3, &Stock),
) -> Result<Edit, WishError> {
    let row = places(from, to, in_row)?;
    let starts = places(from, across, rows)?;
    if MOST < row.len().saturating_mul(starts.len()) {
        return Err(too_many());
    }
    let heads = starts.iter().flat_map(|start| row.iter().map(move |it| *it + (*start - from))).collect();
    drive_at(joint, spec, heads, toward, stock)
}

fn drive_at(
    joint: &Joint,
    spec: &Arc<FastenerSpec>,
    heads: Vec<Vec3>,
    toward: Vec3,
    stock: &Stock,
) -> Result<Edit, WishError> {
    if toward.unit().is_none() || heads.iter().any(|it| !(it.x + it.y + it.z).is_finite()) {
        return Err(WishError::DoesNotFit("a fastener needs a place and a way to point".to_owned()));
    }
    let mut ids = Ids::of(joint);
    let outfit = Outfit::of(spec, joint.standard, Under::Member, stock);
    let place = |head| Placement::Free { head, toward };
    let fasteners =
        heads.into_iter().map(|it| new(ids.numbered(letter(spec)), spec, place(it), outfit.clone()));
    Ok(added(joint, fasteners.collect()))
}

/// The places of a row.
fn places(from: Vec3, to: Vec3, spaced: Spaced) -> Result<Vec<Vec3>, WishError> {
    let whole = to - from;
    let length = whole.length();
    let way = whole.unit().unwrap_or(Vec3::X);
    let refuse = |says: &str| Err(WishError::DoesNotFit(says.to_owned()));
    let (count, pitch) = match spaced {
        Spaced::Count(0) | Spaced::CountAt(0, _) => return refuse("a row has at least one fastener"),
        Spaced::Count(1) => return Ok(vec![from + whole * 0.5]),
        #[expect(clippy::cast_precision_loss, reason = "a count of fasteners")]
        Spaced::Count(count) => (count, length / (count - 1) as f64),
        Spaced::CountAt(count, pitch) => (count, pitch),
        Spaced::Pitch(pitch) => {
            // A pitch that goes into the length but for the last bit goes into it.
            let fits = (length / pitch + crate::unit::compare::SAME_MM).floor();
            #[expect(clippy::cast_precision_loss, reason = "a count of fasteners")]
            if !(0.0 < pitch && fits < MOST as f64) {
                return refuse("the distance in the row is too small");
            }
            #[expect(clippy::cast_possible_truncation, reason = "below MOST")]
            #[expect(clippy::cast_sign_loss, reason = "lengths are not negative")]
            (fits as usize + 1, pitch)
        }
    };
    if MOST < count {
        return Err(too_many());
    }
    if 1 < count && !(0.0 < pitch && pitch.is_finite()) {
        return refuse("the distance in the row is too small");
    }
    #[expect(clippy::cast_precision_loss, reason = "a count of fasteners")]
    let places = (0..count).map(|it| from + way * (pitch * it as f64)).collect();
    Ok(places)
}

fn too_many() -> WishError {
    WishError::DoesNotFit(format!("at most {MOST} fasteners are placed in one step"))
}
