//! Places and directions in space, in millimetres. Knows no wood.

use std::ops::{Add, Mul, Neg, Sub};

/// A place or a direction in the joint's space: x to the right, y up, z towards the viewer.
///
/// As a place its numbers are millimetres; as a direction they have no unit.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Vec3 {
    /// To the right.
    pub x: f64,
    /// Up.
    pub y: f64,
    /// Towards the viewer.
    pub z: f64,
}

impl Vec3 {
    /// The direction to the right.
    pub const X: Self = Self::new(1.0, 0.0, 0.0);
    /// The direction up.
    pub const Y: Self = Self::new(0.0, 1.0, 0.0);
    /// The direction towards the viewer.
    pub const Z: Self = Self::new(0.0, 0.0, 1.0);

    /// The place or direction with these three parts.
    #[must_use]
    pub const fn new(x: f64, y: f64, z: f64) -> Self {
        Self { x, y, z }
    }

    /// The scalar product.
    #[must_use]
    pub fn dot(self, other: Self) -> f64 {
        self.x * other.x + self.y * other.y + self.z * other.z
    }

    /// The vector product, right-handed.
    #[must_use]
    pub fn cross(self, other: Self) -> Self {
        Self::new(
            self.y * other.z - self.z * other.y,
            self.z * other.x - self.x * other.z,
            self.x * other.y - self.y * other.x,
        )
    }

    /// The length, never negative.
    #[must_use]
    pub fn length(self) -> f64 {
        self.dot(self).sqrt()
    }

    /// The direction of unit length, or `None` when the length is zero or not finite.
    #[must_use]
    pub fn unit(self) -> Option<Self> {
        let largest = self.x.abs().max(self.y.abs()).max(self.z.abs());
        if largest == 0.0 || !largest.is_finite() {
            return None;
        }
        // Scaled first, so that neither a tiny nor a huge direction is lost in the square.
        let scaled = self * (1.0 / largest);
        Some(scaled * (1.0 / scaled.length()))
    }

    /// The place in the drawing plane, without its depth.
    #[must_use]
    pub fn plan(self) -> kurbo::Point {
        kurbo::Point::new(self.x, self.y)
    }

    /// The three numbers in order.
    #[must_use]
    pub const fn to_array(self) -> [f64; 3] {
        [self.x, self.y, self.z]
    }
}

impl From<[f64; 3]> for Vec3 {
    fn from([x, y, z]: [f64; 3]) -> Self {
        Self { x, y, z }
    }
}

impl Add for Vec3 {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        Self::new(self.x + other.x, self.y + other.y, self.z + other.z)
    }
}

impl Sub for Vec3 {
    type Output = Self;
    fn sub(self, other: Self) -> Self {
        Self::new(self.x - other.x, self.y - other.y, self.z - other.z)
    }
}

impl Mul<f64> for Vec3 {
    type Output = Self;
    fn mul(self, factor: f64) -> Self {
        Self::new(self.x * factor, self.y * factor, self.z * factor)
    }
}

impl Neg for Vec3 {
    type Output = Self;
    fn neg(self) -> Self {
        Self::new(-self.x, -self.y, -self.z)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_direction_has_unit_length_however_small_or_large() {
        for scale in [1e-300, 1e-9, 1.0, 1e9, 1e300] {
            let unit = Vec3::new(3.0 * scale, 4.0 * scale, 0.0).unit().unwrap();
            assert!((unit - Vec3::new(0.6, 0.8, 0.0)).length() < 1e-15);
        }
        assert_eq!(Vec3::default().unit(), None);
        assert_eq!(Vec3::new(f64::INFINITY, 0.0, 0.0).unit(), None);
    }
}
