//! Chance that can be repeated: a test that fails prints its seed and gives the same case again.

use std::f64::consts::TAU;

use kurbo::Point;
use shankline::shape::Region;

/// The `SplitMix64` generator (Steele, Lea, Flood, 2014).
pub(crate) struct Dice(u64);

impl Dice {
    /// Dice that always fall the same way for the same seed.
    pub(crate) fn new(seed: u64) -> Self {
        Self(seed.wrapping_mul(0x9E37_79B9_7F4A_7C15) ^ 0x5DEE_CE66)
    }

    /// Sixty-four bits.
    pub(crate) fn bits(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut it = self.0;
        it = (it ^ (it >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        it = (it ^ (it >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        it ^ (it >> 31)
    }

    /// A number from 0 up to, not including, 1.
    pub(crate) fn share(&mut self) -> f64 {
        let top = u32::try_from(self.bits() >> 32).expect("32 bits are left");
        f64::from(top) / 4_294_967_296.0
    }

    /// A number between two others.
    pub(crate) fn between(&mut self, low: f64, high: f64) -> f64 {
        (high - low).mul_add(self.share(), low)
    }

    /// A whole number below `count`.
    pub(crate) fn below(&mut self, count: usize) -> usize {
        usize::try_from(self.bits() % count as u64).expect("it is below a usize")
    }

    /// A place in the square about the origin.
    pub(crate) fn place(&mut self, half: f64) -> Point {
        Point::new(self.between(-half, half), self.between(-half, half))
    }

    /// The corners of a polygon that sees all of itself from its middle; seldom convex.
    pub(crate) fn star(&mut self, middle: Point, reach: f64, corners: usize) -> Vec<Point> {
        let first = self.share() * TAU;
        let step = TAU / f64::from(u32::try_from(corners).expect("few corners"));
        (0..corners)
            .map(|n| {
                let n = f64::from(u32::try_from(n).expect("few corners"));
                let angle = step.mul_add(n + 0.8 * self.share(), first);
                let far = reach * self.between(0.3, 1.0);
                Point::new(far.mul_add(angle.cos(), middle.x), far.mul_add(angle.sin(), middle.y))
            })
            .collect()
    }

    /// A region of any kind: turned rectangle, polygon, round, or a path with an arc and a curve.
    pub(crate) fn region(&mut self, middle: Point, reach: f64) -> Region {
        match self.below(4) {
            0 => {
                let (width, height) = (reach * self.between(0.3, 1.5), reach * self.between(0.3, 1.5));
                let turn = [0.0, 90.0, self.between(0.0, 360.0)][self.below(3)];
                Region::rectangle(middle, (width, height), turn)
            }
            1 => {
                let corners = 3 + self.below(7);
                Region::polygon(&self.star(middle, reach, corners))
            }
            2 => Region::round(middle, reach * self.between(0.4, 2.0)),
            _ => {
                // A bowl: an elliptic arc below, a curve above.
                let (x, y) = (middle.x, middle.y);
                let (wide, low, high) =
                    (reach, reach * self.between(0.2, 0.9), reach * self.between(0.1, 0.9));
                let turn = self.between(-40.0, 40.0);
                let data = format!(
                    "M{} {y} A{wide} {low} 0 0 1 {} {y} C{} {} {} {} {} {y} Z",
                    x - wide,
                    x + wide,
                    x + 0.6 * wide,
                    y + high,
                    x - wide * self.between(0.1, 0.9),
                    y + high * self.between(0.2, 1.0),
                    x - wide
                );
                let upright = Region::path(&data).expect("the dice write sound path data");
                turned(&upright, middle, turn)
            }
        }
    }
}

/// The region turned about a place, degrees anticlockwise.
pub(crate) fn turned(region: &Region, about: Point, degrees: f64) -> Region {
    use kurbo::Affine;
    use shankline::shape::Edge;
    let by = Affine::rotate_about(degrees.to_radians(), about);
    let turn = |edge: &Edge| match edge {
        Edge::Line(it) => Edge::Line(by * *it),
        Edge::Curve(it) => Edge::Curve(by * *it),
        Edge::Arc(it) => {
            let is_circle = (it.radii.x - it.radii.y).abs() <= 0.0;
            let (start, rotation) = if is_circle {
                (it.start_angle + degrees.to_radians(), 0.0)
            } else {
                (it.start_angle, it.x_rotation + degrees.to_radians())
            };
            Edge::Arc(kurbo::Arc { center: by * it.center, start_angle: start, x_rotation: rotation, ..*it })
        }
    };
    Region { loops: region.loops.iter().map(|it| it.iter().map(turn).collect()).collect() }
}
