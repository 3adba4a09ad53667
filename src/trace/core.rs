//! The core of one shank: runs that partition its length, head to point.

use super::clip::{Axis, Cut, ON_MM, Piece};
use super::flat::Flat;
use super::{Body, BodyIx, Run, Stuff, TOUCH_MM, What};

/// A run under work: with the piece that it comes from.
#[derive(Clone, Copy, Debug)]
pub(super) struct Stretch {
    /// Where it begins.
    pub(super) from: f64,
    /// Where it ends.
    pub(super) to: f64,
    /// Place among the pieces; `None` in air or in a washer.
    pub(super) piece: Option<usize>,
    /// It is a washer.
    pub(super) is_washer: bool,
}

/// Thickness of the washers of a fastener; zero where there is none.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct Washers {
    /// Under the head.
    pub(super) head_mm: f64,
    /// Under the nut.
    pub(super) nut_mm: f64,
}

/// Cuts the axis into stretches: the later body takes what two bodies have in common, bodies
/// nearer than [`TOUCH_MM`] touch, and washers take the first air under the head and beyond the last body.
pub(super) fn stretches(axis: &Axis, pieces: &mut [Piece], washers: Washers, out: &mut Vec<Stretch>) {
    out.clear();
    pieces.sort_unstable_by(|a, b| a.from.total_cmp(&b.from).then(a.body.cmp(&b.body)));
    if pieces.windows(2).all(|it| it[0].to <= it[1].from + ON_MM) {
        out.extend(pieces.iter().enumerate().map(|(n, it)| solid(it.from, it.to, n)));
    } else {
        settle(pieces, out);
    }
    close_up(axis.length, out);
    put_washers(washers, out);
}

fn solid(from: f64, to: f64, piece: usize) -> Stretch {
    Stretch { from, to, piece: Some(piece), is_washer: false }
}

fn air(from: f64, to: f64) -> Stretch {
    Stretch { from, to, piece: None, is_washer: false }
}

/// Where pieces overlap the body drawn last takes the stretch.
fn settle(pieces: &[Piece], out: &mut Vec<Stretch>) {
    let mut cuts: Vec<f64> = pieces.iter().flat_map(|it| [it.from, it.to]).collect();
    cuts.sort_unstable_by(f64::total_cmp);
    cuts.dedup_by(|next, kept| *next <= *kept + ON_MM);
    for pair in cuts.windows(2) {
        let middle = 0.5 * (pair[0] + pair[1]);
        let covers = |it: &(usize, &Piece)| it.1.from < middle && middle < it.1.to;
        let Some((top, _)) = pieces.iter().enumerate().filter(covers).max_by_key(|it| it.1.body) else {
            continue;
        };
        match out.last_mut() {
            Some(last) if last.piece == Some(top) && pair[0] <= last.to => last.to = pair[1],
            _ => out.push(solid(pair[0], pair[1], top)),
        }
    }
}

/// Fills what no body takes with air, or, where that is less than [`TOUCH_MM`], with the body before it.
fn close_up(length: f64, out: &mut Vec<Stretch>) {
    let bodies = out.len();
    let mut filled = Vec::new();
    let mut at = 0.0;
    for n in 0..bodies {
        let from = out[n].from;
        if from - at < TOUCH_MM {
            // The body before is drawn out to this one; the first is drawn back to the head.
            match n.checked_sub(1) {
                Some(before) => out[before].to = from,
                None => out[n].from = 0.0,
            }
        } else {
            filled.push(air(at, from));
        }
        at = out[n].to;
    }
    match out.last_mut() {
        Some(last) if length - at < TOUCH_MM => last.to = length,
        _ => filled.push(air(at, length)),
    }
    if !filled.is_empty() {
        out.extend(filled);
        out.sort_by(|a, b| a.from.total_cmp(&b.from));
    }
}

fn put_washers(washers: Washers, out: &mut Vec<Stretch>) {
    let washer = |it: Stretch| Stretch { is_washer: true, ..it };
    let has_body = out.iter().any(|it| it.piece.is_some());
    if 0.0 < washers.nut_mm
        && has_body
        && let Some(last) = out.pop_if(|it| it.piece.is_none())
    {
        let end = last.from + washers.nut_mm;
        if last.to - end < TOUCH_MM {
            out.push(washer(last));
        } else {
            out.extend([washer(air(last.from, end)), air(end, last.to)]);
        }
    }
    if 0.0 < washers.head_mm
        && let Some(first) = out.first().copied().filter(|it| it.piece.is_none() && !it.is_washer)
    {
        if first.to - washers.head_mm < TOUCH_MM {
            out[0] = washer(first);
        } else {
            out[0] = air(washers.head_mm, first.to);
            out.insert(0, washer(air(first.from, washers.head_mm)));
        }
    }
}

/// The runs as others see them, still without cover and holes.
pub(super) fn runs(
    axis: &Axis,
    stretches: &[Stretch],
    pieces: &[Piece],
    (bodies, flat): (&[Body], &Flat),
) -> Vec<Run> {
    let stuff_of = |it: &Stretch| it.piece.map(|n| bodies[pieces[n].body].stuff);
    let last_bearing = stretches.iter().rposition(|it| stuff_of(it) == Some(Stuff::Bearing));
    let mut is_after_solid = false;
    let mut runs = Vec::with_capacity(stretches.len());
    for (n, it) in stretches.iter().enumerate() {
        let what = match stuff_of(it) {
            Some(Stuff::Bearing) => What::Bearing,
            Some(Stuff::Filling) => What::Filling,
            Some(Stuff::Steel) => What::Steel,
            None if it.is_washer => What::Steel,
            None if is_after_solid && last_bearing.is_some_and(|last| n < last) => What::Gap,
            None => What::Air,
        };
        // A washer is part of the fastener: air beyond it is no gap of the joint.
        is_after_solid |= it.piece.is_some() && what != What::Filling;
        let piece = it.piece.map(|n| &pieces[n]);
        let face = |cut: &Cut, end: f64| {
            let is_its_own = cut.is_on(axis) && (cut.at - end).abs() <= TOUCH_MM;
            is_its_own.then(|| piece.map(|it| cut.face(flat.edges_of(it.body), &flat.bends))).flatten()
        };
        runs.push(Run {
            from_mm: it.from,
            to_mm: it.to,
            body: piece.map(|it| BodyIx(it.body)),
            what,
            entered: piece.and_then(|own| face(&own.entry, it.from)),
            left: piece.and_then(|own| face(&own.exit, it.to)),
            cover_mm: None,
            along_a_face: false,
            hole: None,
        });
    }
    runs
}
