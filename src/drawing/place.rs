//! Which places of the paper are taken already: finds where a mark or a figure hides nothing.

use kurbo::{Line, Point, Rect, Vec2};

/// Edge of a bucket on paper, millimetres.
const BUCKET_MM: f64 = 12.0;

/// A stroke or box longer than this many buckets is kept in one list that every question reads.
const LONG: i64 = 24;

/// Buckets along each side of the table; beyond it they begin again from its other side. Things that share
/// a bucket without being near are told apart when they are looked at.
const AROUND: i64 = 32;

/// A stroke with less than this on either side, the clear paper beside it included, is thin.
const THIN_MM: f64 = 1.0;

/// Boxes and strokes that must not be covered.
#[derive(Clone)]
pub(super) struct Taken {
    all: Vec<Thing>,
    /// What lies in each bucket, once in each that it touches.
    buckets: Vec<Vec<Thing>>,
    long: Vec<Thing>,
}

#[derive(Clone, Copy)]
struct Thing {
    /// The box itself, or that round a stroke with the paper beside it.
    bounds: Rect,
    /// The stroke with half its width; a box has none.
    stroke: Option<(Line, f64)>,
}

impl Default for Taken {
    fn default() -> Self {
        let count = usize::try_from(AROUND * AROUND).unwrap_or(0);
        Self { all: Vec::new(), buckets: vec![Vec::new(); count], long: Vec::new() }
    }
}

impl Taken {
    /// Takes a box.
    pub(super) fn add_box(&mut self, rect: Rect) {
        self.add(Thing { bounds: rect, stroke: None });
    }

    /// Takes a stroke with so much paper on either side of it.
    pub(super) fn add_stroke(&mut self, from: Point, to: Point, half_mm: f64) {
        let bounds = Rect::from_points(from, to).inflate(half_mm, half_mm);
        self.add(Thing { bounds, stroke: Some((Line::new(from, to), half_mm)) });
    }

    fn add(&mut self, thing: Thing) {
        self.all.push(thing);
        match buckets(thing.bounds) {
            Some(found) => found.for_each(|it| self.buckets[it].push(thing)),
            None => self.long.push(thing),
        }
    }

    /// How much is taken now, to come back to it.
    pub(super) fn level(&self) -> usize {
        self.all.len()
    }

    /// Gives free all that was taken since.
    pub(super) fn back_to(&mut self, level: usize) {
        while level < self.all.len() {
            let Some(thing) = self.all.pop() else { return };
            // What was taken last lies last in each of its buckets.
            let forget = |of: &mut Vec<Thing>| of.truncate(of.len().saturating_sub(1));
            match buckets(thing.bounds) {
                Some(found) => found.for_each(|it| forget(&mut self.buckets[it])),
                None => forget(&mut self.long),
            }
        }
    }

    /// Whether `is_free` of everything in these buckets and of all that is long; of everything where
    /// there are no buckets.
    fn all_in(&self, buckets: Option<impl Iterator<Item = usize>>, is_free: impl Fn(&Thing) -> bool) -> bool {
        match buckets {
            Some(mut found) => {
                found.all(|it| self.buckets[it].iter().all(&is_free)) && self.long.iter().all(is_free)
            }
            None => self.all.iter().all(is_free),
        }
    }

    /// Whether the box covers nothing that is taken.
    pub(super) fn is_free_box(&self, rect: Rect) -> bool {
        self.all_in(buckets(rect), |thing| {
            !meet(rect, thing.bounds)
                || match thing.stroke {
                    None => !overlap(rect, thing.bounds),
                    Some((line, half)) => !touches(rect.inflate(half, half), line),
                }
        })
    }

    /// The same without these strokes, which can be interrupted.
    pub(super) fn is_free_box_without(&self, rect: Rect, strokes: &[Line]) -> bool {
        self.all_in(buckets(rect), |thing| {
            !meet(rect, thing.bounds)
                || match thing.stroke {
                    None => !overlap(rect, thing.bounds),
                    Some((line, half)) => strokes.contains(&line) || !touches(rect.inflate(half, half), line),
                }
        })
    }

    /// Whether the stroke crosses nothing that is taken.
    pub(super) fn is_free_stroke(&self, from: Point, to: Point) -> bool {
        self.is_free_from(from, to, 0.0)
    }

    /// Whether it crosses nothing but thin strokes, such as dimension lines and nails.
    pub(super) fn is_free_but_for_thin(&self, from: Point, to: Point) -> bool {
        self.is_free_from(from, to, THIN_MM)
    }

    /// Whether the stroke crosses nothing that is taken but strokes of at most `thin_mm` to either side.
    fn is_free_from(&self, from: Point, to: Point, thin_mm: f64) -> bool {
        let stroke = Line::new(from, to);
        let bounds = Rect::from_points(from, to);
        self.all_in(buckets_along(stroke), |thing| {
            !meet(bounds, thing.bounds)
                || match thing.stroke {
                    None => !touches(thing.bounds, stroke),
                    Some((line, half)) => half < thin_mm || !crosses(line, stroke, half),
                }
        })
    }
}

/// The bucket at these steps of the paper.
fn bucket(x: i64, y: i64) -> usize {
    usize::try_from(y.rem_euclid(AROUND) * AROUND + x.rem_euclid(AROUND)).unwrap_or(0)
}

/// The buckets that a stroke runs through; `None` for too many. What is taken lies in every bucket that it or
/// the paper round it touches, so that those of the bare stroke are enough.
fn buckets_along(stroke: Line) -> Option<impl Iterator<Item = usize>> {
    let (low, high) =
        if stroke.p0.x <= stroke.p1.x { (stroke.p0, stroke.p1) } else { (stroke.p1, stroke.p0) };
    let columns = range(low.x, high.x)?;
    range(low.y.min(high.y), low.y.max(high.y))?;
    let slope = if low.x < high.x { (high.y - low.y) / (high.x - low.x) } else { 0.0 };
    let is_upright = high.x - low.x < 1e-6;
    Some(columns.flat_map(move |x| {
        #[expect(clippy::cast_precision_loss, reason = "small, checked by `range`")]
        let (left, right) = ((x as f64) * BUCKET_MM, (x as f64 + 1.0) * BUCKET_MM);
        let at = |x: f64| (x.clamp(low.x, high.x) - low.x).mul_add(slope, low.y);
        let (a, b) = if is_upright { (low.y, high.y) } else { (at(left), at(right)) };
        range(a.min(b), a.max(b)).into_iter().flatten().map(move |y| bucket(x, y))
    }))
}

/// The buckets that a box lies in; `None` for too many.
fn buckets(bounds: Rect) -> Option<impl Iterator<Item = usize>> {
    let (x, y) = (range(bounds.x0, bounds.x1)?, range(bounds.y0, bounds.y1)?);
    Some(x.flat_map(move |x| y.clone().map(move |y| bucket(x, y))))
}

fn range(from: f64, to: f64) -> Option<std::ops::RangeInclusive<i64>> {
    let (from, to) = ((from / BUCKET_MM).floor(), (to / BUCKET_MM).floor());
    #[expect(clippy::cast_possible_truncation, reason = "both are whole and small, checked here")]
    let whole = (from.abs() < 1e9 && to.abs() < 1e9).then_some(from as i64..=to as i64)?;
    (whole.end() - whole.start() <= LONG).then_some(whole)
}

/// Whether two boxes have any point in common.
fn meet(a: Rect, b: Rect) -> bool {
    a.x0 <= b.x1 && b.x0 <= a.x1 && a.y0 <= b.y1 && b.y0 <= a.y1
}

/// Whether two boxes have inner points in common.
pub(super) fn overlap(a: Rect, b: Rect) -> bool {
    a.x0 < b.x1 && b.x0 < a.x1 && a.y0 < b.y1 && b.y0 < a.y1
}

/// Whether a stroke has a point in a box (clipped after Liang and Barsky).
pub(super) fn touches(rect: Rect, line: Line) -> bool {
    let d = line.p1 - line.p0;
    let (mut from, mut to) = (0.0_f64, 1.0_f64);
    let walls = [
        (-d.x, line.p0.x - rect.x0),
        (d.x, rect.x1 - line.p0.x),
        (-d.y, line.p0.y - rect.y0),
        (d.y, rect.y1 - line.p0.y),
    ];
    for (step, room) in walls {
        if step == 0.0 {
            if room < 0.0 {
                return false;
            }
        } else if step < 0.0 {
            from = from.max(room / step);
        } else {
            to = to.min(room / step);
        }
    }
    from <= to
}

/// Whether two strokes come closer than `half_mm`.
pub(super) fn crosses(a: Line, b: Line, half_mm: f64) -> bool {
    let apart_in = |p: (f64, f64), q: (f64, f64)| {
        p.0.max(p.1) + half_mm < q.0.min(q.1) || q.0.max(q.1) + half_mm < p.0.min(p.1)
    };
    if apart_in((a.p0.x, a.p1.x), (b.p0.x, b.p1.x)) || apart_in((a.p0.y, a.p1.y), (b.p0.y, b.p1.y)) {
        return false;
    }
    let proper = {
        let side = |p: Point, q: Point, r: Point| (q - p).cross(r - p);
        let (s1, s2) = (side(a.p0, a.p1, b.p0), side(a.p0, a.p1, b.p1));
        let (s3, s4) = (side(b.p0, b.p1, a.p0), side(b.p0, b.p1, a.p1));
        s1 * s2 <= 0.0 && s3 * s4 <= 0.0 && (s1 != 0.0 || s2 != 0.0)
    };
    proper || [(a.p0, b), (a.p1, b), (b.p0, a), (b.p1, a)].iter().any(|(p, line)| apart(*p, *line) < half_mm)
}

/// Distance of a place from a stroke.
fn apart(p: Point, line: Line) -> f64 {
    let d: Vec2 = line.p1 - line.p0;
    let along = if d.hypot2() == 0.0 { 0.0 } else { ((p - line.p0).dot(d) / d.hypot2()).clamp(0.0, 1.0) };
    (p - (line.p0 + d * along)).hypot()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn boxes_and_strokes_that_meet_are_seen_also_across_buckets_and_when_long() {
        let mut taken = Taken::default();
        taken.add_stroke(Point::new(-1e6, 5.0), Point::new(1e6, 5.0), 0.5);
        taken.add_box(Rect::new(10.0, 20.0, 14.0, 24.0));
        assert!(!taken.is_free_box(Rect::new(0.0, 5.4, 3.0, 8.0)));
        assert!(taken.is_free_box(Rect::new(0.0, 5.6, 3.0, 8.0)));
        assert!(!taken.is_free_box(Rect::new(13.9, 23.9, 30.0, 30.0)));
        assert!(taken.is_free_box(Rect::new(14.0, 20.0, 30.0, 30.0)));
        assert!(!taken.is_free_stroke(Point::new(0.0, 0.0), Point::new(0.0, 9.0)));
        assert!(!taken.is_free_stroke(Point::new(8.0, 22.0), Point::new(400.0, 22.0)));
        assert!(taken.is_free_stroke(Point::new(8.0, 30.0), Point::new(400.0, 30.0)));
    }

    #[test]
    fn what_was_taken_since_is_given_free_again() {
        let mut taken = Taken::default();
        taken.add_box(Rect::new(0.0, 0.0, 30.0, 30.0));
        let level = taken.level();
        taken.add_box(Rect::new(20.0, 20.0, 60.0, 60.0));
        taken.add_stroke(Point::new(-1e6, 90.0), Point::new(1e6, 90.0), 0.5);
        taken.back_to(level);
        assert!(taken.is_free_box(Rect::new(40.0, 40.0, 50.0, 50.0)));
        assert!(taken.is_free_box(Rect::new(40.0, 85.0, 50.0, 95.0)));
        assert!(!taken.is_free_box(Rect::new(25.0, 25.0, 50.0, 50.0)));
    }

    #[test]
    fn strokes_that_run_side_by_side_cross_only_when_closer_than_asked() {
        let line = |y: f64| Line::new((0.0, y), (10.0, y));
        assert!(crosses(line(0.0), line(0.4), 0.5));
        assert!(!crosses(line(0.0), line(0.6), 0.5));
        assert!(crosses(Line::new((0.0, -1.0), (10.0, 1.0)), line(0.0), 0.0));
    }
}
