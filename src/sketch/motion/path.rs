//! Path data moved, segment by segment, so that what is moved again and again does not grow.

use kurbo::{Arc, Point, SvgArc, Vec2};
use svgtypes::{PathParser, PathSegment};

use super::Motion;

/// Path data, moved, in absolute form. Data that cannot be read stay as they are: the joint says so elsewhere.
pub(super) fn moved(data: &str, motion: &Motion) -> String {
    let mut out = String::new();
    let (mut at, mut start) = (Point::ORIGIN, Point::ORIGIN);
    for it in PathParser::from(data) {
        let Ok(it) = it else { return data.to_owned() };
        let moved = segment(motion, &it, &mut at, &mut start);
        if !out.is_empty() {
            out.push(' ');
        }
        out.push_str(&moved);
    }
    out
}

/// One segment, moved, in absolute form; `at` follows the pen.
fn segment(motion: &Motion, segment: &PathSegment, at: &mut Point, start: &mut Point) -> String {
    let from = *at;
    let absolute = |abs: bool, x: f64, y: f64| {
        if abs { Point::new(x, y) } else { Point::new(from.x + x, from.y + y) }
    };
    let said = |it: Point| {
        let it = motion.point(it);
        format!("{} {}", tidy(it.x), tidy(it.y))
    };
    let (to, text) = match *segment {
        PathSegment::MoveTo { abs, x, y } => {
            *start = absolute(abs, x, y);
            (*start, format!("M {}", said(*start)))
        }
        PathSegment::LineTo { abs, x, y } => {
            let to = absolute(abs, x, y);
            (to, format!("L {}", said(to)))
        }
        PathSegment::HorizontalLineTo { abs, x } => {
            let to = Point::new(if abs { x } else { from.x + x }, from.y);
            (to, format!("L {}", said(to)))
        }
        PathSegment::VerticalLineTo { abs, y } => {
            let to = Point::new(from.x, if abs { y } else { from.y + y });
            (to, format!("L {}", said(to)))
        }
        PathSegment::CurveTo { abs, x1, y1, x2, y2, x, y } => {
            let (a, b, to) = (absolute(abs, x1, y1), absolute(abs, x2, y2), absolute(abs, x, y));
            (to, format!("C {} {} {}", said(a), said(b), said(to)))
        }
        PathSegment::Quadratic { abs, x1, y1, x, y } => {
            let (a, to) = (absolute(abs, x1, y1), absolute(abs, x, y));
            (to, format!("Q {} {}", said(a), said(to)))
        }
        PathSegment::EllipticalArc { abs, rx, ry, x_axis_rotation, large_arc, sweep, x, y } => {
            let to = absolute(abs, x, y);
            let arc = SvgArc {
                from,
                to,
                radii: Vec2::new(rx, ry),
                x_rotation: x_axis_rotation.to_radians(),
                large_arc,
                sweep,
            };
            let (turn, sweep) = (tidy(motion.degrees(x_axis_rotation)), u8::from(sweep != motion.mirrored));
            let (radii, ends) = pieces(&arc);
            let piece = |end: Point| format!("A {} {} {turn} 0 {sweep} {}", radii.x, radii.y, said(end));
            let pieces: Vec<String> = ends.into_iter().map(piece).collect();
            (to, pieces.join(" "))
        }
        PathSegment::ClosePath { .. } => (*start, "Z".to_owned()),
        // Outlines have no smooth curves: a file with one is refused.
        PathSegment::SmoothCurveTo { abs, x, y, .. } | PathSegment::SmoothQuadratic { abs, x, y } => {
            let to = absolute(abs, x, y);
            (to, format!("L {}", said(to)))
        }
    };
    *at = to;
    text
}

/// The radii of an arc, and where its pieces end. An arc of half a circle or so is cut in four: its centre would be lost in the rounding
/// of its ends. A quarter stays one, however often it is moved.
fn pieces(arc: &SvgArc) -> (Vec2, Vec<Point>) {
    match Arc::from_svg_arc(arc).filter(|it| WIDEST_RAD < it.sweep_angle.abs()) {
        None => (arc.radii, vec![arc.to]),
        Some(whole) => {
            let at = |share: f64| {
                let (sin, cos) = (whole.start_angle + share * whole.sweep_angle).sin_cos();
                let along = Vec2::from_angle(whole.x_rotation);
                let up = Vec2::new(-along.y, along.x);
                whole.center + along * (whole.radii.x * cos) + up * (whole.radii.y * sin)
            };
            // Radii that were too small for the way are those that reach.
            (whole.radii, vec![at(0.25), at(0.5), at(0.75), arc.to])
        }
    }
}

/// Wider arcs are cut, radians.
const WIDEST_RAD: f64 = 2.9;

/// Without the crumbs of a sum: to a billionth of a millimetre.
fn tidy(mm: f64) -> f64 {
    (mm * 1e9).round() / 1e9 + 0.0
}
