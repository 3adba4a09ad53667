//! Which of many boxes meet a box: a packed tree, sorted along a curve that keeps neighbours together.
//!
//! It holds any number of boxes of any sizes without growing beyond them, so that no drawing,
//! however odd, costs more than its number of bodies.

use crate::unit::Vec3;

/// Children of a node: two to the third power.
const FAN: usize = 8;

/// More levels than any number of boxes that a machine can hold needs.
const DEEPEST: usize = 24;

/// An upright box in space.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Box3 {
    /// Its least corner.
    pub(super) low: Vec3,
    /// Its greatest corner.
    pub(super) high: Vec3,
}

impl Box3 {
    /// The box of two places, wider by `margin` all round.
    pub(super) fn around(a: Vec3, b: Vec3, margin: f64) -> Self {
        let wide = Vec3::new(margin, margin, margin);
        Self {
            low: Vec3::new(a.x.min(b.x), a.y.min(b.y), a.z.min(b.z)) - wide,
            high: Vec3::new(a.x.max(b.x), a.y.max(b.y), a.z.max(b.z)) + wide,
        }
    }

    fn with(self, other: Self) -> Self {
        Self {
            low: Vec3::new(
                self.low.x.min(other.low.x),
                self.low.y.min(other.low.y),
                self.low.z.min(other.low.z),
            ),
            high: Vec3::new(
                self.high.x.max(other.high.x),
                self.high.y.max(other.high.y),
                self.high.z.max(other.high.z),
            ),
        }
    }
}

/// The same in single precision, rounded outward: half the memory to walk through. It only sorts out
/// what cannot meet.
#[derive(Clone, Copy, Debug, PartialEq)]
struct Lean {
    low: [f32; 3],
    high: [f32; 3],
}

impl Lean {
    fn of(it: &Box3) -> Self {
        #[allow(clippy::cast_possible_truncation, reason = "the next number outward holds what was rounded")]
        let (down, up) = (|it: f64| (it as f32).next_down(), |it: f64| (it as f32).next_up());
        Self { low: it.low.to_array().map(down), high: it.high.to_array().map(up) }
    }

    fn with(self, other: Self) -> Self {
        Self {
            low: std::array::from_fn(|n| self.low[n].min(other.low[n])),
            high: std::array::from_fn(|n| self.high[n].max(other.high[n])),
        }
    }

    fn meets(&self, other: &Self) -> bool {
        // Without short cuts: six comparisons cost less than one jump that was guessed wrong.
        (self.low[0] <= other.high[0])
            & (other.low[0] <= self.high[0])
            & (self.low[1] <= other.high[1])
            & (other.low[1] <= self.high[1])
            & (self.low[2] <= other.high[2])
            & (other.low[2] <= self.high[2])
    }
}

/// The tree.
#[derive(Clone, Debug, Default, PartialEq)]
pub(super) struct Boxes {
    /// Which box stands at each place of the lowest level.
    order: Vec<u32>,
    /// The boxes themselves, then boxes around each eight of the level below, up to one.
    levels: Vec<Vec<Lean>>,
}

impl Boxes {
    /// Packs the boxes; each is known by its place.
    pub(super) fn of(boxes: &[Box3]) -> Self {
        let Some(all) = boxes.iter().copied().reduce(Box3::with) else { return Self::default() };
        let span = all.high - all.low;
        let widest = span.x.max(span.y).max(span.z);
        let scale = if 0.0 < widest && widest.is_finite() { CELLS / widest } else { 0.0 };
        let mut keyed: Vec<(u64, u32)> = (0_u32..)
            .zip(boxes)
            .map(|(n, it)| (curve_place(((it.low + it.high) * 0.5 - all.low) * scale), n))
            .collect();
        keyed.sort_unstable();
        let order: Vec<u32> = keyed.into_iter().map(|it| it.1).collect();
        let mut levels = vec![order.iter().map(|it| Lean::of(&boxes[*it as usize])).collect::<Vec<_>>()];
        while let Some(below) = levels.last().filter(|it| 1 < it.len()) {
            let above = below.chunks(FAN).filter_map(|it| it.iter().copied().reduce(Lean::with)).collect();
            levels.push(above);
        }
        Self { order, levels }
    }

    /// Calls `visit` with the number of every box that meets `window`, until it answers false.
    pub(super) fn visit(&self, window: &Box3, mut visit: impl FnMut(u32) -> bool) {
        self.visit_places((window, 0), |it| visit(self.order[it]));
    }

    /// The numbers of the boxes in the order in which they are packed: what is near in space is
    /// mostly near in it.
    pub(super) fn order(&self) -> &[u32] {
        &self.order
    }

    /// Calls `visit` with the place in [`Self::order`] of every box that meets the window, for the
    /// places from `first` on, until it answers false.
    pub(super) fn visit_places(&self, (window, first): (&Box3, usize), mut visit: impl FnMut(usize) -> bool) {
        let Some(top) = self.levels.len().checked_sub(1) else { return };
        let window = Lean::of(window);
        // On each level the node in hand and the one past the last of its siblings.
        let mut open = [(0_usize, 0_usize); DEEPEST];
        let (mut level, mut node, mut end) = (top, 0, 1);
        loop {
            if node == end {
                if level == top {
                    return;
                }
                level += 1;
                (node, end) = open[level];
                continue;
            }
            let is_open = first >> (3 * level) <= node && self.levels[level][node].meets(&window);
            node += 1;
            if !is_open {
                continue;
            }
            if level == 0 {
                if first < node && !visit(node - 1) {
                    return;
                }
                continue;
            }
            open[level] = (node, end);
            level -= 1;
            (node, end) = ((node - 1) * FAN, (node * FAN).min(self.levels[level].len()));
        }
    }
}

/// Cells along the widest side: as many as three numbers packed in one can hold.
const CELLS: f64 = 2_097_151.0;

/// The place on the curve of a place given in cells: the bits of the three numbers in turn.
fn curve_place(cell: Vec3) -> u64 {
    spread(cell.x) | spread(cell.y) << 1 | spread(cell.z) << 2
}

fn spread(cell: f64) -> u64 {
    #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "held within the cells first")]
    let mut it = cell.clamp(0.0, CELLS) as u64;
    it = (it | it << 32) & 0x001f_0000_0000_ffff;
    it = (it | it << 16) & 0x001f_0000_ff00_00ff;
    it = (it | it << 8) & 0x100f_00f0_0f00_f00f;
    it = (it | it << 4) & 0x10c3_0c30_c30c_30c3;
    (it | it << 2) & 0x1249_2492_4924_9249
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn finds_exactly_the_boxes_that_meet() {
        let cube = |x: f64, y: f64| Box3::around(Vec3::new(x, y, 0.0), Vec3::new(x + 1.0, y + 1.0, 1.0), 0.0);
        let boxes: Vec<Box3> =
            (0..400).map(|n| cube(f64::from(n % 20) * 2.0, f64::from(n / 20) * 2.0)).collect();
        let tree = Boxes::of(&boxes);
        let window = Box3::around(Vec3::new(3.0, 4.5, 0.5), Vec3::new(8.0, 6.0, 0.5), 0.0);
        let mut found = Vec::new();
        tree.visit(&window, |it| {
            found.push(it);
            true
        });
        found.sort_unstable();
        let meets = |it: &Box3| Lean::of(it).meets(&Lean::of(&window));
        let expected: Vec<u32> = (0_u32..).zip(&boxes).filter(|it| meets(it.1)).map(|it| it.0).collect();
        assert_eq!(found, expected);
        // x from 2 to 3 touches, 4..5, 6..7, 8..9 touches; y 4..5 and 6..7 touches.
        assert_eq!(found.len(), 8);
    }

    #[test]
    fn no_boxes_are_no_trouble() {
        Boxes::of(&[]).visit(&Box3::around(Vec3::default(), Vec3::X, 1.0), |_| panic!("there is none"));
    }
}
