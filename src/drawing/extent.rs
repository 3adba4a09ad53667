//! How far the joint reaches in the drawing plane.

use kurbo::{Point, Rect, Shape as _};

use super::Inputs;

/// Extent in model millimetres, y up; `None` for an empty joint.
pub(super) fn of(inputs: &Inputs<'_>) -> Option<Rect> {
    let bodies = inputs.trace.bodies.iter().map(|it| it.region.to_path().bounding_box());
    let shanks = inputs.trace.fasteners.iter().zip(&inputs.joint.fasteners).map(|(shank, fastener)| {
        let spec = &fastener.spec;
        let top = (shank.head_at - shank.toward * spec.head_height_mm).plan();
        let point = (shank.head_at + shank.toward * shank.length_mm).plan();
        let half = spec.head_mm.max(spec.diameter_mm) / 2.0;
        Rect::from_points(top, point).inflate(half, half)
    });
    let finite =
        |it: &Rect| [Point::new(it.x0, it.y0), Point::new(it.x1, it.y1)].iter().all(|it| it.is_finite());
    bodies.chain(shanks).filter(finite).filter(|it| 0.0 < it.width() + it.height()).reduce(|a, b| a.union(b))
}
