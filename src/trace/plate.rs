//! A bent plate as a body, and places on its middle line.
//!
//! The faces of the steel lie half its thickness on either side of the middle line. A bend is
//! an exact arc on both faces about one centre; where its radius is less than half the
//! thickness, the inner face has a sharp corner instead. The ends are cut square.

use kurbo::{Arc, Line, Point, Vec2};

use crate::joint::{Plate, PlateSide};
use crate::shape::{Edge, Region};

/// A sharp corner that would reach farther than this many half thicknesses is cut off straight, so
/// that a plate folded flat on itself does not reach into infinity.
const LONGEST_MITRE: f64 = 8.0;

/// A piece of the middle line.
#[derive(Clone, Copy, Debug)]
enum Piece {
    /// Straight, of unit direction `way`.
    Leg { line: Line, way: Vec2 },
    /// Round: the arc of the middle line, and the unit directions in which it begins and ends.
    Bend { arc: Arc, ways: (Vec2, Vec2) },
}

/// The section of the plate. Empty when its profile has no length.
///
/// A bend radius that the legs have no room for is replaced by the largest one, the same for
/// all bends, for which they have.
pub(super) fn region(plate: &Plate) -> Region {
    let pieces = pieces(plate);
    let half = 0.5 * plate.thickness_mm.abs();
    let mut outline = face(&pieces, -half);
    let back = face(&pieces, half);
    let (Some(first), Some(last)) = (outline.first(), outline.last()) else { return Region::default() };
    let (Some(opposite_first), Some(opposite_last)) = (back.first(), back.last()) else {
        return Region::default();
    };
    let end_cut = Edge::Line(Line::new(last.end(), opposite_last.end()));
    let start_cut = Edge::Line(Line::new(opposite_first.start(), first.start()));
    outline.push(end_cut);
    outline.extend(back.iter().rev().map(Edge::reversed));
    outline.push(start_cut);
    Region::from_loops(vec![outline])
}

/// The place so far along the middle line, bends included, and the direction to its left, of unit length.
///
/// Before the first point and beyond the last one the line goes straight on. At a sharp corner
/// the leg that ends there counts.
pub(super) fn middle(plate: &Plate, along_mm: f64) -> (Point, Vec2) {
    match find(&pieces(plate), along_mm) {
        Some((Piece::Leg { line, way }, at)) => (line.p0 + way * at, left_of(way)),
        Some((Piece::Bend { arc, .. }, at)) => {
            let out = out_of(&arc, at);
            (arc.center + out * arc.radii.x, -out * arc.sweep_angle.signum())
        }
        None => (plate.profile.first().copied().unwrap_or_default(), Vec2::new(0.0, 1.0)),
    }
}

/// The centre of a hole on the surface of the side that it is driven from, and the direction
/// square into the steel, of unit length. `along_mm` is measured on the middle line, bends included.
pub(super) fn hole_place(plate: &Plate, along_mm: f64, side: PlateSide) -> (Point, Vec2) {
    let (on_line, left) = middle(plate, along_mm);
    let outward = match side {
        PlateSide::Left => left,
        PlateSide::Right => -left,
    };
    let half = 0.5 * plate.thickness_mm.abs();
    let mut to_surface = half;
    if let Some((Piece::Bend { arc, ways }, _)) = find(&pieces(plate), along_mm) {
        let is_inner = 0.0 < outward.dot(arc.center - on_line);
        let short = half - arc.radii.x;
        if is_inner && 0.0 < short {
            // The inner faces meet in a sharp corner beyond the centre of the bend.
            let inward = |way: Vec2| left_of(way) * arc.sweep_angle.signum();
            let cos = outward.dot(inward(ways.0)).max(outward.dot(inward(ways.1)));
            to_surface = arc.radii.x + short / cos;
        }
    }
    (on_line + outward * to_surface, -outward)
}

fn left_of(way: Vec2) -> Vec2 {
    Vec2::new(-way.y, way.x)
}

/// From the centre of a bend to the place so far along it, of unit length.
fn out_of(arc: &Arc, at: f64) -> Vec2 {
    let angle = (at / arc.radii.x).mul_add(arc.sweep_angle.signum(), arc.start_angle);
    Vec2::from_angle(angle)
}

fn find(pieces: &[Piece], along_mm: f64) -> Option<(Piece, f64)> {
    let mut left = along_mm;
    for (n, piece) in pieces.iter().enumerate() {
        let length = match piece {
            Piece::Leg { line, way } => way.dot(line.p1 - line.p0),
            Piece::Bend { arc, .. } => arc.radii.x * arc.sweep_angle.abs(),
        };
        if left <= length || n + 1 == pieces.len() {
            return Some((*piece, left));
        }
        left -= length;
    }
    None
}

/// The middle line as legs and bends; it begins and ends with a leg.
fn pieces(plate: &Plate) -> Vec<Piece> {
    let mut corners: Vec<Point> = Vec::with_capacity(plate.profile.len());
    for it in &plate.profile {
        if corners.last().is_none_or(|last| 1e-9 < (*it - *last).hypot()) {
            corners.push(*it);
        }
    }
    let legs: Vec<Line> = corners.windows(2).map(|it| Line::new(it[0], it[1])).collect();
    let ways: Vec<Vec2> = legs.iter().map(|it| (it.p1 - it.p0).normalize()).collect();
    let turns: Vec<f64> = ways.windows(2).map(|it| it[0].cross(it[1]).atan2(it[0].dot(it[1]))).collect();
    let radius = radius_that_fits(plate.bend_radius_mm, &legs, &turns);
    let mut pieces = Vec::with_capacity(2 * legs.len());
    let mut from = match legs.first() {
        Some(leg) => leg.p0,
        None => return pieces,
    };
    for (n, leg) in legs.iter().enumerate() {
        let turn = turns.get(n).copied().unwrap_or(0.0);
        let cut = radius * half_tan(turn);
        if cut <= 0.0 {
            pieces.push(Piece::Leg { line: Line::new(from, leg.p1), way: ways[n] });
            from = leg.p1;
            continue;
        }
        let to = leg.p1 - ways[n] * cut;
        pieces.push(Piece::Leg { line: Line::new(from, to), way: ways[n] });
        let inward = left_of(ways[n]) * turn.signum();
        let arc = Arc::new(to + inward * radius, (radius, radius), (-inward).atan2(), turn, 0.0);
        pieces.push(Piece::Bend { arc, ways: (ways[n], ways[n + 1]) });
        from = leg.p1 + ways[n + 1] * cut;
    }
    pieces
}

/// Tangent of half a turn: the length that a bend of radius one takes from each leg.
fn half_tan(turn: f64) -> f64 {
    (0.5 * turn.abs()).tan()
}

/// The radius asked for, or the largest one for which every leg has room for the bends at its ends.
fn radius_that_fits(asked: f64, legs: &[Line], turns: &[f64]) -> f64 {
    let mut radius = if asked.is_finite() { asked.max(0.0) } else { 0.0 };
    for (n, leg) in legs.iter().enumerate() {
        let before = n.checked_sub(1).and_then(|it| turns.get(it)).map_or(0.0, |it| half_tan(*it));
        let after = turns.get(n).map_or(0.0, |it| half_tan(*it));
        if 0.0 < before + after {
            radius = radius.min((leg.p1 - leg.p0).hypot() / (before + after));
        }
    }
    radius
}

/// One face of the steel, run along the middle line, `offset` to the left of it.
fn face(pieces: &[Piece], offset: f64) -> Vec<Edge> {
    let mut edges: Vec<Edge> = Vec::with_capacity(2 * pieces.len());
    for (n, piece) in pieces.iter().enumerate() {
        match piece {
            Piece::Bend { arc, .. } => {
                let radius = arc.radii.x - offset * arc.sweep_angle.signum();
                if 0.0 < radius {
                    edges.push(Edge::Arc(Arc { radii: Vec2::new(radius, radius), ..*arc }));
                }
            }
            Piece::Leg { line, way } => {
                let off = left_of(*way) * offset;
                let start = line.p0 + off;
                let end = line.p1 + off;
                if way.dot(end - start) <= 1e-9 && !matches!(edges.last(), Some(Edge::Line(_))) {
                    // The bend has used up the leg.
                    continue;
                }
                edges.push(Edge::Line(Line::new(start, end)));
                trim_corner(&mut edges, pieces, n, offset);
            }
        }
    }
    edges
}

/// Makes the leg just drawn meet the leg before it where no arc lies between them.
fn trim_corner(edges: &mut Vec<Edge>, pieces: &[Piece], n: usize, offset: f64) {
    let count = edges.len();
    let Some(at) = count.checked_sub(2) else { return };
    let (Edge::Line(before), Edge::Line(after)) = (edges[at], edges[count - 1]) else { return };
    let way_of = |piece: &Piece| match piece {
        Piece::Leg { way, .. } => *way,
        Piece::Bend { ways, .. } => ways.0,
    };
    let (Some(earlier), Piece::Leg { way: b, line }) =
        (n.checked_sub(1).map(|it| way_of(&pieces[it])), pieces[n])
    else {
        return;
    };
    let sharp = match pieces[n - 1] {
        Piece::Leg { .. } => line.p0,
        // Where the inner arc has shrunk away, the legs meet where they would without a bend.
        Piece::Bend { arc, .. } => line.p0 - b * (arc.radii.x * half_tan(arc.sweep_angle)),
    };
    let sum = left_of(earlier) + left_of(b);
    // The offset corner lies on the line that halves the angle of the two legs.
    let scale = 2.0 / sum.hypot2();
    if LONGEST_MITRE * LONGEST_MITRE < scale * 2.0 {
        // Folded all but flat: the two ends are joined straight.
        edges.insert(count - 1, Edge::Line(Line::new(before.p1, after.p0)));
        return;
    }
    let corner = sharp + sum * (offset * scale);
    edges[at] = Edge::Line(Line::new(before.p0, corner));
    edges[count - 1] = Edge::Line(Line::new(corner, after.p1));
}

#[cfg(test)]
mod tests {
    use std::f64::consts::{FRAC_PI_2, PI};

    use super::*;
    use crate::joint::Interval;

    fn plate(thickness_mm: f64, bend_radius_mm: f64, profile: &[(f64, f64)]) -> Plate {
        Plate {
            thickness_mm,
            depth: Interval { from: 0.0, to: 40.0 },
            profile: profile.iter().map(|it| Point::from(*it)).collect(),
            bend_radius_mm,
            holes: Vec::new(),
        }
    }

    const ANGLE: &[(f64, f64)] = &[(50.0, 0.0), (0.0, 0.0), (0.0, 30.0)];
    const ZED: &[(f64, f64)] = &[(-40.0, 0.0), (0.0, 0.0), (0.0, 30.0), (40.0, 30.0)];

    #[track_caller]
    fn area(plate: &Plate, by_hand: f64) {
        let area = region(plate).area_mm2();
        assert!((area - by_hand).abs() < 1e-9, "{area} is not {by_hand}");
        assert_eq!(region(plate).self_crossing(), None);
    }

    #[test]
    fn a_section_has_the_area_worked_out_by_hand() {
        area(&plate(2.0, 0.0, &[(0.0, 0.0), (100.0, 0.0)]), 200.0);
        // A sharp corner gains outside what it loses inside; so does an arc (Pappus).
        area(&plate(4.0, 0.0, ANGLE), 4.0 * 80.0);
        area(&plate(4.0, 10.0, ANGLE), 4.0 * (40.0 + 20.0 + 10.0 * FRAC_PI_2));
        // Inner face sharp, outer face round with radius 1 + 2: the square of 3 loses its corner.
        area(&plate(4.0, 1.0, ANGLE), 4.0 * 80.0 - 9.0 * (1.0 - PI / 4.0));
        area(&plate(3.0, 5.0, ZED), 3.0 * (35.0 + 20.0 + 35.0 + 10.0 * FRAC_PI_2));
        area(&plate(3.0, 0.0, ZED), 3.0 * 110.0);
        // A straight profile with a point in its middle is one face.
        let straight = plate(2.0, 3.0, &[(0.0, 0.0), (40.0, 0.0), (40.0, 0.0), (100.0, 0.0)]);
        area(&straight, 200.0);
        assert_eq!(region(&straight).loops[0].len(), 4);
        assert_eq!(region(&plate(2.0, 3.0, &[(1.0, 1.0)])), Region::default());
        assert_eq!(region(&plate(2.0, 3.0, &[])), Region::default());
    }

    #[test]
    fn a_radius_without_room_becomes_the_largest_that_fits() {
        // Legs of 50 and 30 at a square corner have room for 30.
        area(&plate(2.0, 500.0, ANGLE), 2.0 * (20.0 + 30.0 * FRAC_PI_2));
        // The middle leg of 30 holds two bends of 15.
        area(&plate(2.0, 40.0, ZED), 2.0 * (25.0 + 25.0 + 30.0 * FRAC_PI_2));
        // A bend of half a right angle takes r tan 22.5 degrees.
        let gentle = plate(2.0, 1e9, &[(-100.0, 0.0), (0.0, 0.0), (30.0, 30.0)]);
        let radius = 30.0 * 2.0_f64.sqrt() / (PI / 8.0).tan();
        assert_eq!(region(&gentle).loops[0].len(), 6);
        let (place, left) = middle(&gentle, 1e-9 + 100.0 - radius * (PI / 8.0).tan() + radius * PI / 4.0);
        assert!((place - Point::new(30.0, 30.0)).hypot() < 1e-6, "{place}");
        assert!((left - Vec2::new(-0.5_f64.sqrt(), 0.5_f64.sqrt())).hypot() < 1e-9);
    }

    #[test]
    fn a_hole_lies_on_the_driven_surface_square_to_the_steel() {
        let round = plate(4.0, 10.0, ANGLE);
        let sharp = plate(4.0, 1.0, ANGLE);
        let half = 0.5_f64.sqrt();
        let (left, right) = (PlateSide::Left, PlateSide::Right);
        // The profile runs to the left and then up: its left side is below and then to the left.
        let table = [
            (&round, 25.0, left, (25.0, -2.0), (0.0, 1.0)),
            (&round, 25.0, right, (25.0, 2.0), (0.0, -1.0)),
            (&round, 40.0 + 10.0 * FRAC_PI_2 + 5.0, right, (2.0, 15.0), (-1.0, 0.0)),
            // Halfway round the bend about (10, 10).
            (&round, 40.0 + 5.0 * FRAC_PI_2, left, (10.0 - 12.0 * half, 10.0 - 12.0 * half), (half, half)),
            (&round, 40.0 + 5.0 * FRAC_PI_2, right, (10.0 - 8.0 * half, 10.0 - 8.0 * half), (-half, -half)),
            // Radius 1 in steel of 4: the inner corner is sharp, at (2, 2).
            (&sharp, 49.0 + 0.5 * FRAC_PI_2, right, (2.0, 2.0), (-half, -half)),
            // Off both ends the line goes straight on.
            (&round, -5.0, left, (55.0, -2.0), (0.0, 1.0)),
            (&round, 40.0 + 10.0 * FRAC_PI_2 + 25.0, left, (-2.0, 35.0), (1.0, 0.0)),
        ];
        for (n, (plate, along, side, at, into)) in table.into_iter().enumerate() {
            let (centre, square) = hole_place(plate, along, side);
            assert!((centre - Point::from(at)).hypot() < 1e-12, "{n}: {centre}");
            assert!((square - Vec2::from(into)).hypot() < 1e-12, "{n}: {square}");
        }
    }

    #[test]
    fn everywhere_along_it_the_steel_begins_at_the_hole_and_is_as_thick_as_it_is() {
        for radius in [0.0, 0.7, 1.5, 4.0, 12.0] {
            let plate =
                plate(3.0, radius, &[(0.0, 0.0), (50.0, 5.0), (60.0, 45.0), (20.0, 70.0), (70.0, 90.0)]);
            let section = region(&plate);
            assert_eq!(section.self_crossing(), None);
            let mut in_corners = 0;
            let length = section.area_mm2() / 3.0;
            for n in (1..2000).take_while(|it| f64::from(*it) * 0.1 < length - 0.1) {
                for side in [PlateSide::Left, PlateSide::Right] {
                    let (centre, into) = hole_place(&plate, f64::from(n) * 0.1, side);
                    let is_steel = |depth: f64| section.contains(centre + into * depth);
                    let is_right = is_steel(1e-6) && is_steel(1.5) && !is_steel(-1e-6);
                    // In a sharp inner corner two surfaces lie in each other's way.
                    let may_be_corner = radius <= 1.5;
                    assert!(is_right || may_be_corner, "radius {radius}, at {n}");
                    in_corners += usize::from(!is_right);
                }
            }
            assert!(in_corners < 120, "radius {radius}: {in_corners}");
        }
    }

    #[test]
    fn no_profile_makes_it_panic() {
        for profile in [
            &[(0.0, 0.0), (10.0, 0.0), (0.0, 0.0)][..],
            &[(0.0, 0.0), (10.0, 0.0), (0.0, 1e-7)],
            &[(0.0, 0.0), (1e-3, 0.0), (1e-3, 1e-3), (0.0, 1e-3)],
            &[(0.0, 0.0), (f64::NAN, 0.0), (0.0, 1.0)],
        ] {
            for radius in [0.0, 5.0, f64::INFINITY] {
                let plate = plate(6.0, radius, profile);
                assert!(region(&plate).area_mm2().is_nan() || region(&plate).area_mm2() < 200.0);
                let _ = hole_place(&plate, 5.0, PlateSide::Left);
            }
        }
    }
}
