//! Equal spacing: as far from one head or hole as that is from another, or in the middle between two.

use kurbo::Point;

use super::{Kind, Snap, Spot};

/// So many of the nearest heads and holes are looked at.
const MOST: usize = 12;

/// So far off they are looked for, millimetres.
pub(super) const REACH_MM: f64 = 600.0;

/// The nearest place that stands in line with two others at their own distance.
pub(super) fn equal<'a>(
    spots: impl Iterator<Item = &'a Spot>,
    pointer: Point,
    within: f64,
    free: &impl Fn(&str) -> bool,
) -> Option<Snap> {
    let mut near: Vec<(f64, &Spot)> = spots
        .filter(|it| matches!(it.kind, Kind::Head | Kind::Hole) && free(&it.id))
        .map(|it| ((it.at - pointer).hypot2(), it))
        .collect();
    near.sort_by(|a, b| a.0.total_cmp(&b.0).then(a.1.name.cmp(&b.1.name)));
    near.truncate(MOST);
    let mut best: Option<(f64, Snap)> = None;
    for (_, one) in &near {
        for (_, other) in &near {
            let apart = other.at - one.at;
            // Those that stand head on behind each other, or in one hole, give no direction.
            if apart.hypot() <= 1.0 {
                continue;
            }
            let next = (other.at + apart, format!("as far from {} as that is from {}", other.name, one.name));
            let between =
                (one.at.midpoint(other.at), format!("midway between {} and {}", one.name, other.name));
            for (at, says) in [next, between] {
                let distance = (at - pointer).hypot();
                if distance <= within && best.as_ref().is_none_or(|it| distance < it.0 - 1e-9) {
                    let snap = Snap { at, kind: Kind::Equal, says, along: None, body: None, thing: None };
                    best = Some((distance, snap));
                }
            }
        }
    }
    best.map(|it| it.1)
}
