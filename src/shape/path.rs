//! Regions from SVG path data. The plane's y points up, so a sweep flag of 1 turns anticlockwise.

use kurbo::{Arc, CubicBez, Line, Point, QuadBez, Vec2};
use svgtypes::{PathParser, PathSegment};

use super::edge::turned;
use super::{Edge, PathError, Region};

/// How far an arc may miss the place that it is drawn to.
const HAIR_MM: f64 = 1e-6;

impl Region {
    /// SVG path data (M L H V A C Q Z and their relative forms), closed, one or more loops, even-odd.
    ///
    /// # Errors
    /// When the text is no path data, a command is none of these, or a loop is open.
    pub fn path(data: &str) -> Result<Self, PathError> {
        if let Some((at, letter)) = data.char_indices().find(|it| "STst".contains(it.1)) {
            let instead = if letter.eq_ignore_ascii_case(&'s') { 'C' } else { 'Q' };
            let why = format!(
                "the smooth curve {letter} is not known here; write {instead} with its control places"
            );
            return Err(PathError::Unreadable { at, why });
        }
        let mut pen = Pen::default();
        for segment in PathParser::from(data) {
            let segment = segment.map_err(|it| unreadable(data, &it))?;
            pen.follow(&segment)?;
        }
        pen.end_loop()?;
        if pen.loops.is_empty() {
            return Err(PathError::Unreadable { at: 0, why: "it draws no loop".to_owned() });
        }
        Ok(Self::from_loops(pen.loops))
    }
}

fn unreadable(data: &str, error: &svgtypes::Error) -> PathError {
    use svgtypes::Error as E;
    let at = match error {
        E::UnexpectedData(at) | E::InvalidChar(_, at) | E::InvalidString(_, at) | E::InvalidNumber(at) => {
            at.saturating_sub(1)
        }
        E::UnexpectedEndOfStream | E::InvalidValue | E::InvalidIdent => data.len(),
    };
    let why = if matches!(error, E::InvalidNumber(_)) {
        "a number is expected"
    } else if matches!(error, E::UnexpectedEndOfStream) {
        "it ends in the middle of a command"
    } else {
        "a command (M L H V A C Q Z) or a number is expected"
    };
    PathError::Unreadable { at: at.min(data.len()), why: why.to_owned() }
}

/// Where the pen stands and what it has drawn.
#[derive(Default)]
struct Pen {
    loops: Vec<Vec<Edge>>,
    edges: Vec<Edge>,
    begin: Point,
    at: Point,
}

impl Pen {
    fn follow(&mut self, segment: &PathSegment) -> Result<(), PathError> {
        let base = if segment.is_abs() { Vec2::ZERO } else { self.at.to_vec2() };
        let place = |x: f64, y: f64| Point::new(x, y) + base;
        match *segment {
            PathSegment::MoveTo { x, y, .. } => {
                self.end_loop()?;
                self.begin = place(x, y);
                self.at = self.begin;
            }
            PathSegment::LineTo { x, y, .. } => self.line(place(x, y)),
            PathSegment::HorizontalLineTo { x, .. } => self.line(Point::new(x + base.x, self.at.y)),
            PathSegment::VerticalLineTo { y, .. } => self.line(Point::new(self.at.x, y + base.y)),
            PathSegment::CurveTo { x1, y1, x2, y2, x, y, .. } => {
                self.draw(
                    Edge::Curve(CubicBez::new(self.at, place(x1, y1), place(x2, y2), place(x, y))),
                    place(x, y),
                );
            }
            PathSegment::Quadratic { x1, y1, x, y, .. } => {
                let raised = QuadBez::new(self.at, place(x1, y1), place(x, y)).raise();
                self.draw(Edge::Curve(raised), place(x, y));
            }
            PathSegment::EllipticalArc { rx, ry, x_axis_rotation, large_arc, sweep, x, y, .. } => {
                let to = place(x, y);
                match arc_between(self.at, to, (rx, ry, x_axis_rotation), (large_arc, sweep)) {
                    Some(arc) if spans(&arc, self.at, to) => self.draw(Edge::Arc(arc), to),
                    Some(_) => return Err(PathError::Arc { x: to.x, y: to.y }),
                    None => self.line(to),
                }
            }
            PathSegment::ClosePath { .. } => {
                self.line(self.begin);
                self.end_loop()?;
            }
            PathSegment::SmoothCurveTo { .. } | PathSegment::SmoothQuadratic { .. } => {
                let why = "smooth curves (S and T) are not known here; write C or Q".to_owned();
                return Err(PathError::Unreadable { at: 0, why });
            }
        }
        Ok(())
    }

    fn line(&mut self, to: Point) {
        self.draw(Edge::Line(Line::new(self.at, to)), to);
    }

    fn draw(&mut self, edge: Edge, to: Point) {
        self.edges.push(edge);
        self.at = to;
    }

    /// Ends a loop; a place that nothing was drawn from is no loop.
    fn end_loop(&mut self) -> Result<(), PathError> {
        if self.edges.is_empty() {
            return Ok(());
        }
        if self.at != self.begin {
            return Err(PathError::Open { number: self.loops.len() + 1 });
        }
        self.loops.push(std::mem::take(&mut self.edges));
        Ok(())
    }
}

/// The arc between two places by radii, turn in degrees, and the flags for the long way and the
/// anticlockwise way; `None` where it is a straight line. Radii that cannot span the places are
/// enlarged until they just do.
///
/// # Source
/// SVG 1.1, appendix F.6.5 and F.6.6, written in the frame where the ellipse is the unit circle.
fn arc_between(
    from: Point,
    to: Point,
    (rx, ry, turn_deg): (f64, f64, f64),
    (is_long, is_anticlockwise): (bool, bool),
) -> Option<Arc> {
    let (mut radii, mut rotation) = (Vec2::new(rx.abs(), ry.abs()), turn_deg.to_radians());
    let is_circle = (radii.x - radii.y).abs() <= 1e-12 * radii.x;
    if is_circle {
        radii.y = radii.x;
        rotation = 0.0;
    }
    let half = turned((from - to) * 0.5, -rotation);
    let mut unit = Vec2::new(half.x / radii.x, half.y / radii.y);
    let mut reach = unit.x.hypot(unit.y);
    if !reach.is_finite() || reach <= 0.0 {
        return None;
    }
    if 1.0 < reach {
        radii *= reach;
        unit /= reach;
        reach = 1.0;
    }
    let side = if is_long == is_anticlockwise { -1.0 } else { 1.0 };
    let off = side * ((1.0 - reach) * (1.0 + reach)).sqrt() / reach;
    let centre = Vec2::new(off * unit.y, -off * unit.x);
    let start = unit - centre;
    let short = 2.0 * reach.asin();
    let sweep = if is_long { std::f64::consts::TAU - short } else { short };
    let moved = turned(Vec2::new(centre.x * radii.x, centre.y * radii.y), rotation);
    let center = from.midpoint(to) + moved;
    let sweep_angle = if is_anticlockwise { sweep } else { -sweep };
    center.is_finite().then(|| Arc::new(center, radii, start.atan2(), sweep_angle, rotation))
}

/// Whether an arc, as worked out, begins and ends where it should. Radii a million million times apart leave
/// no digits for that.
fn spans(arc: &Arc, from: Point, to: Point) -> bool {
    let edge = Edge::Arc(*arc);
    let farthest = [from.x, from.y, to.x, to.y].into_iter().fold(1.0, |most: f64, it| most.max(it.abs()));
    let allowed = HAIR_MM.max(farthest * 1e-12);
    edge.start().distance(from) <= allowed && edge.end().distance(to) <= allowed
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn same(a: &str, b: &str) {
        assert_eq!(Region::path(a).unwrap(), Region::path(b).unwrap(), "{a} is not {b}");
    }

    #[test]
    fn relative_commands_mean_what_the_absolute_ones_mean() {
        same("M1 2 H11 V7 L1 7 Z", "m1 2 h10 v5 l-10 0 z");
        same("M1 2 11 2 11 7 Z", "M1 2 L11 2 L11 7 Z");
        same("M1 2 11 2 11 7 1 2", "M1 2 L11 2 L11 7 Z");
        same("M1 2 A 8 4 0 0 1 9 6 V 2 Z", "m1 2 a 8 4 0 0 1 8 4 v -4 z");
        same("M1 2 C 1 9 5 9 9 2 Z", "m1 2 c 0 7 4 7 8 0 z");
        same("M1 2 Q 5 9 9 2 Z", "m1 2 q 4 7 8 0 z");
        same("M1 2h3v3z m5 0 h3v3z", "M1 2h3v3z M6 2 h3v3z");
    }

    #[test]
    fn an_arc_ends_where_it_is_told_to() {
        for (long, way, sweep) in [(0, 0, -1.0), (0, 1, 1.0), (1, 0, -3.0), (1, 1, 3.0)] {
            let arc = arc_between(
                Point::new(5.0, 0.0),
                Point::new(0.0, 5.0),
                (5.0, 5.0, 20.0),
                (long == 1, way == 1),
            )
            .unwrap();
            let edge = Edge::Arc(arc);
            assert!((edge.start() - Point::new(5.0, 0.0)).hypot() < 1e-14);
            assert!((edge.end() - Point::new(0.0, 5.0)).hypot() < 1e-14);
            assert!((arc.sweep_angle - sweep * std::f64::consts::FRAC_PI_2).abs() < 1e-14);
        }
    }

    #[test]
    fn radii_that_cannot_span_are_enlarged_and_no_radius_is_a_line() {
        let radii = |data: &str| {
            let region = Region::path(data).unwrap();
            region.loops[0].iter().find_map(|edge| match edge {
                Edge::Arc(arc) => Some(arc.radii.x),
                Edge::Line(_) | Edge::Curve(_) => None,
            })
        };
        assert_eq!(radii("M5 0 A 1 1 0 0 1 -5 0 Z"), Some(5.0));
        assert_eq!(radii("M5 0 A 0 1 0 0 1 -5 0 L 0 -5 Z"), None);
        assert_eq!(radii("M5 0 A 1e-300 1e-300 0 0 1 -5 0 L 0 -5 Z").map(f64::round), Some(5.0));
    }

    #[test]
    fn what_is_no_outline_is_refused_by_name() {
        let says = |data: &str| Region::path(data).unwrap_err().to_string();
        let table = [
            ("M0 0 H5 V5", "loop 1 of the path is not closed: end it with Z"),
            ("M0 0H9V9Z M1 1H2V2", "loop 2 of the path is not closed: end it with Z"),
            (
                "M0 0 S1 1 2 2 Z",
                "path data cannot be read at character 5: the smooth curve S is not known here; write C with its control places",
            ),
            (
                "M0 0 t2 2 Z",
                "path data cannot be read at character 5: the smooth curve t is not known here; write Q with its control places",
            ),
            (
                "M0 0H1000A1e9 1e-9 45 1 0 0 440Z",
                "the arc to 0, 440 cannot be drawn exactly: its radii are too far apart; write it with C or L",
            ),
            ("", "path data cannot be read at character 0: it draws no loop"),
            ("M3 3", "path data cannot be read at character 0: it draws no loop"),
            ("M0 0 L5", "path data cannot be read at character 7: it ends in the middle of a command"),
            ("M0 0 L5 x Z", "path data cannot be read at character 8: a number is expected"),
            (
                "L5 5",
                "path data cannot be read at character 0: a command (M L H V A C Q Z) or a number is expected",
            ),
        ];
        for (data, text) in table {
            assert_eq!(says(data), text, "{data}");
        }
    }
}
