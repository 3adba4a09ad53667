//! A prism looked at from its side: what is seen of its outline is bands, each with how near it comes.

use kurbo::{BezPath, Point};

use crate::shape::Region;

/// Corners flatter than this many degrees are the chords of a curve and no edge.
const CURVE_DEG: f64 = 20.0;

/// Curves are followed within this, in model millimetres.
const WITHIN_MM: f64 = 0.02;

/// Places closer than this are one.
const SAME_MM: f64 = 1e-6;

/// So far beside a corner the surface is looked at.
const BESIDE_MM: f64 = 1e-4;

/// Surfaces that meet closer than this go on without an edge.
const STEP_MM: f64 = 0.01;

/// What is seen between two places of the axis across.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Band {
    pub(super) from: f64,
    pub(super) to: f64,
    /// The nearest that its surface comes to the viewer.
    pub(super) near: f64,
    /// The farthest that its surface goes from the viewer.
    pub(super) far: f64,
    /// The plane cuts it, all of it.
    pub(super) is_cut: bool,
}

/// A corner of the outline: an edge that runs along the depth of the joint.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Corner {
    pub(super) across: f64,
    pub(super) depth: f64,
    /// It lies on the surface that is nearest there, so that its own body does not hide it.
    pub(super) is_on_surface: bool,
}

/// Bands of one outline, and its corners.
#[derive(Clone, Debug, Default, PartialEq)]
pub(super) struct Bands {
    pub(super) list: Vec<Band>,
    pub(super) corners: Vec<Corner>,
}

/// One straight piece of the outline: across and depth at both ends, across rising.
struct Chord {
    from: (f64, f64),
    to: (f64, f64),
}

impl Chord {
    fn depth_at(&self, across: f64) -> f64 {
        let width = self.to.0 - self.from.0;
        let t = ((across - self.from.0) / width).clamp(0.0, 1.0);
        t.mul_add(self.to.1 - self.from.1, self.from.1)
    }
}

/// The bands of a region whose places are read as (across, depth), without what lies nearer than the cut.
pub(super) fn bands(region: &Region, read: impl Fn(Point) -> (f64, f64), cut: Option<f64>) -> Bands {
    let (chords, corners) = chords(&region.to_path(), read);
    let mut places: Vec<f64> = chords.iter().flat_map(|it| [it.from.0, it.to.0]).collect();
    if let Some(cut) = cut {
        places.extend(chords.iter().filter_map(|it| crossing(it, cut)));
    }
    places.sort_by(f64::total_cmp);
    places.dedup_by(|a, b| (*a - *b).abs() < SAME_MM);
    let mut list: Vec<Band> = Vec::new();
    // The surface at the end of the last band, to see whether the next goes on from it.
    let mut last_end = (f64::NAN, f64::NAN);
    for pair in places.windows(2) {
        let (from, to) = (pair[0], pair[1]);
        let Some(slice) = Slice::at(&chords, f64::midpoint(from, to), cut) else { continue };
        let (start, end) = (slice.near_at(from), slice.near_at(to));
        let band = Band { from, to, near: start.max(end), far: start.min(end), is_cut: slice.is_cut };
        match list.last_mut() {
            Some(last)
                if last.is_cut == band.is_cut
                    && (last_end.0 - from).abs() < SAME_MM
                    && (last_end.1 - start).abs() < STEP_MM =>
            {
                last.to = to;
                last.near = last.near.max(band.near);
                last.far = last.far.min(band.far);
            }
            _ => list.push(band),
        }
        last_end = (to, end);
    }
    let corner = |(across, depth): (f64, f64)| {
        let is_surface =
            |it: f64| Slice::at(&chords, it, cut).is_some_and(|it| it.near_at(across) <= depth + STEP_MM);
        let is_on_surface = is_surface(across - BESIDE_MM) || is_surface(across + BESIDE_MM);
        Corner { across, depth, is_on_surface }
    };
    let is_left = |it: &(f64, f64)| cut.is_none_or(|cut| it.1 <= cut + SAME_MM);
    let corners = corners.into_iter().filter(is_left).map(corner).collect();
    Bands { list, corners }
}

/// The surface over one stretch between places where nothing changes.
struct Slice<'a> {
    nearest: Option<&'a Chord>,
    cut: f64,
    is_cut: bool,
}

impl<'a> Slice<'a> {
    /// `None` where there is nothing, or nothing that the cut leaves.
    fn at(chords: &'a [Chord], middle: f64, cut: Option<f64>) -> Option<Self> {
        let mut met: Vec<(f64, &Chord)> = chords
            .iter()
            .filter(|it| it.from.0 < middle && middle < it.to.0)
            .map(|it| (it.depth_at(middle), it))
            .collect();
        met.sort_by(|a, b| a.0.total_cmp(&b.0));
        let cut = cut.unwrap_or(f64::INFINITY);
        let last = met.chunks_exact(2).rfind(|it| it[0].0 < cut)?;
        let is_cut = cut < last[1].0;
        Some(Self { nearest: (!is_cut).then_some(last[1].1), cut, is_cut })
    }

    fn near_at(&self, across: f64) -> f64 {
        self.nearest.map_or(self.cut, |it| it.depth_at(across).min(self.cut))
    }
}

/// Where a chord meets the plane that cuts.
fn crossing(chord: &Chord, cut: f64) -> Option<f64> {
    let (a, b) = (chord.from.1 - cut, chord.to.1 - cut);
    (a * b < 0.0).then(|| (a / (a - b)).mul_add(chord.to.0 - chord.from.0, chord.from.0))
}

fn chords(path: &BezPath, read: impl Fn(Point) -> (f64, f64)) -> (Vec<Chord>, Vec<(f64, f64)>) {
    let mut flat = BezPath::new();
    kurbo::flatten(path.iter(), WITHIN_MM, |it| flat.push(it));
    let (mut chords, mut corners) = (Vec::new(), Vec::new());
    for ring in rings(&flat) {
        for n in 0..ring.len() {
            let (before, at, after) =
                (ring[(n + ring.len() - 1) % ring.len()], ring[n], ring[(n + 1) % ring.len()]);
            let (a, b) = (read(at), read(after));
            if (a.0 - b.0).abs() >= SAME_MM {
                let (from, to) = if a.0 < b.0 { (a, b) } else { (b, a) };
                chords.push(Chord { from, to });
            }
            let (d, e) = (at - before, after - at);
            let turn = d.cross(e).atan2(d.dot(e)).to_degrees().abs();
            if CURVE_DEG < turn {
                corners.push(a);
            }
        }
    }
    (chords, corners)
}

/// The closed loops of a path of straight pieces, without repeated places.
fn rings(flat: &BezPath) -> Vec<Vec<Point>> {
    let mut rings: Vec<Vec<Point>> = Vec::new();
    for element in flat.elements() {
        match element {
            kurbo::PathEl::MoveTo(p) => rings.push(vec![*p]),
            kurbo::PathEl::LineTo(p) => {
                if let Some(ring) = rings.last_mut()
                    && ring.last().is_none_or(|it| SAME_MM < it.distance(*p))
                {
                    ring.push(*p);
                }
            }
            kurbo::PathEl::QuadTo(..) | kurbo::PathEl::CurveTo(..) | kurbo::PathEl::ClosePath => {}
        }
    }
    for ring in &mut rings {
        if 1 < ring.len() && ring[0].distance(ring[ring.len() - 1]) <= SAME_MM {
            ring.pop();
        }
    }
    rings.retain(|it| 2 < it.len());
    rings
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Read as the view from the right reads it: up is across, to the right is near.
    fn from_the_right(region: &Region, cut: Option<f64>) -> Bands {
        bands(region, |it| (it.y, it.x), cut)
    }

    fn notched() -> Region {
        // A post 100 wide and 200 high with a notch 40 deep in its right side from 50 to 120.
        let corners = [
            (0.0, 0.0),
            (100.0, 0.0),
            (100.0, 50.0),
            (60.0, 50.0),
            (60.0, 120.0),
            (100.0, 120.0),
            (100.0, 200.0),
            (0.0, 200.0),
        ];
        Region::polygon(&corners.map(|(x, y)| Point::new(x, y)))
    }

    #[test]
    fn a_notch_is_a_band_that_lies_deeper() {
        let found: Vec<_> =
            from_the_right(&notched(), None).list.iter().map(|it| (it.from, it.to, it.near)).collect();
        assert_eq!(found, [(0.0, 50.0, 100.0), (50.0, 120.0, 60.0), (120.0, 200.0, 100.0)]);
    }

    #[test]
    fn a_plane_through_the_notch_cuts_above_and_below_it_alone() {
        let found: Vec<_> = from_the_right(&notched(), Some(80.0))
            .list
            .iter()
            .map(|it| (it.from, it.to, it.near, it.is_cut))
            .collect();
        assert_eq!(found, [(0.0, 50.0, 80.0, true), (50.0, 120.0, 60.0, false), (120.0, 200.0, 80.0, true)]);
        assert!(
            from_the_right(&notched(), Some(0.0)).list.is_empty(),
            "a plane before all of it leaves nothing"
        );
    }

    #[test]
    fn a_round_post_is_one_band_without_corners_as_wide_as_it_is_cut() {
        let round = Region::round(Point::new(50.0, 0.0), 100.0);
        let whole = from_the_right(&round, None);
        assert_eq!(whole.corners, []);
        assert_eq!(whole.list.len(), 1);
        assert!((whole.list[0].to - whole.list[0].from - 100.0).abs() < 0.05);
        // A chord 30 from the middle of a circle of radius 50 is 2 * 40 long.
        let cut = from_the_right(&round, Some(80.0));
        let section = cut.list.iter().find(|it| it.is_cut).expect("it is cut");
        assert!((section.to - section.from - 80.0).abs() < 0.1, "{section:?}");
    }
}
