//! Whether two shanks run into each other.

use super::Clash;
use super::pairs::Rod;
use crate::unit::{Vec3, compare};

/// The collision of two shanks whose nearest places are given, its indices left open; `None` when they
/// pass each other or just touch.
pub(super) fn clash(a: &Rod, b: &Rod, (on_a, on_b): (Vec3, Vec3)) -> Option<Clash> {
    let touch_mm = 0.5 * (a.diameter + b.diameter);
    let axes_apart_mm = (on_b - on_a).length();
    let passes = compare::at_least(axes_apart_mm, touch_mm);
    (!passes).then(|| Clash { a: 0, b: 0, axes_apart_mm, touch_mm, at: (on_a + on_b) * 0.5 })
}

/// The nearest places of two stretches of axis, on the first and on the second. Of parallel
/// stretches that lie side by side, the middle of what lies side by side.
pub(super) fn nearest(a: (&Rod, f64, f64), b: (&Rod, f64, f64)) -> (Vec3, Vec3) {
    let ((rod_a, from_a, to_a), (rod_b, from_b, to_b)) = (a, b);
    let off = rod_b.head - rod_a.head;
    let (cosine, on_a, on_b) = (rod_a.toward.dot(rod_b.toward), off.dot(rod_a.toward), off.dot(rod_b.toward));
    // The sine is taken from the vector product: one less the square of the cosine is lost near parallel.
    let sine2 = rod_a.toward.cross(rod_b.toward);
    let sine2 = sine2.dot(sine2);
    let free = if sine2 <= 1e-18 {
        // Parallel: b's ends as seen along a, cut to what a has.
        let (one, other) = (on_a + cosine * from_b, on_a + cosine * to_b);
        let (low, high) = (one.min(other).clamp(from_a, to_a), one.max(other).clamp(from_a, to_a));
        0.5 * (low + high)
    } else {
        (on_a - on_b * cosine) / sine2
    };
    let s = free.clamp(from_a, to_a);
    let t = (s * cosine - on_b).clamp(from_b, to_b);
    let s = (on_a + t * cosine).clamp(from_a, to_a);
    (rod_a.at(s), rod_b.at(t))
}
