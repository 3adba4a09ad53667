//! What the head sits on, and what the nut of a bolt or a rod is tightened against.

use super::clip::{Axis, Piece, Scratch};
use super::core::{Stretch, Washers};
use super::flat::Flat;
use super::holding::{angle_to_face_deg, distances};
use super::{Body, Head, Nut, Run, Seating, Stuff, TOUCH_MM, What};
use crate::stock::FastenerKind;

/// What the head sits on.
pub(super) fn head(
    axis: &Axis,
    washers: Washers,
    (runs, stretches, pieces): (&[Run], &[Stretch], &[Piece]),
    (bodies, flat): (&[Body], &Flat),
    scratch: &mut Scratch,
) -> Head {
    let piece = |n: usize| stretches[n].piece.map(|it| &pieces[it]);
    let washer_runs = usize::from(runs.first().is_some_and(|it| it.what == What::Steel && it.body.is_none()));
    // Under the washer, if there is one: air, or what it lies on.
    let under = runs.get(washer_runs).filter(|it| it.body.is_none());
    let stands_off_mm = under.map_or(0.0, |it| it.to_mm - it.from_mm);
    let has_washer = 0.0 < washers.head_mm;
    let first = runs.iter().position(|it| it.body.is_some());
    let entry = first.and_then(piece).map(|it| &it.entry).filter(|it| it.at.is_finite());
    let is_sunk = first == Some(0) && entry.is_some_and(|it| it.at < -TOUCH_MM);
    let is_seated = stands_off_mm < TOUCH_MM;
    let on = match first.and_then(|it| runs[it].body).filter(|_| is_seated && !has_washer) {
        Some(body) => seating(body, bodies),
        None if has_washer => Seating::Washer,
        None => Seating::Air,
    };
    let bearing = runs.iter().position(|it| it.what == What::Bearing);
    let at_face = bearing.and_then(|n| {
        let own = piece(n)?;
        // A sunk head lies below the face by which its axis came in.
        let came_in = runs[n].entered.is_some() || (n == 0 && own.entry.at < 0.0);
        distances(axis, runs[n].body?, Some(&own.entry).filter(|_| came_in), (bodies, flat), scratch)
    });
    Head {
        on,
        stands_off_mm: if is_seated { 0.0 } else { stands_off_mm },
        sunk_mm: entry.filter(|_| is_sunk).map_or(0.0, |it| -it.at),
        angle_to_face_deg: first.zip(entry).filter(|_| is_seated).map(|(n, cut)| {
            let body = runs[n].body.map_or(0, |it| it.0);
            angle_to_face_deg(axis.toward, cut.face(flat.edges_of(body), &flat.bends).normal)
        }),
        hole: first_hole(runs),
        at_face,
    }
}

fn seating(body: super::BodyIx, bodies: &[Body]) -> Seating {
    match bodies[body.0].stuff {
        Stuff::Bearing => Seating::Bearing(body),
        Stuff::Filling => Seating::Filling(body),
        Stuff::Steel => Seating::Steel(body),
    }
}

/// The hole that the head sits over: that of the first body, when it is steel.
fn first_hole(runs: &[Run]) -> Option<super::HoleIx> {
    runs.iter().find(|it| it.body.is_some()).and_then(|it| it.hole)
}

/// What the nut is tightened against; `None` for a fastener that has no nut.
pub(super) fn nut(
    axis: &Axis,
    (kind, washers): (FastenerKind, Washers),
    runs: &[Run],
    bodies: &[Body],
) -> Option<Nut> {
    if !matches!(kind, FastenerKind::Bolt | FastenerKind::ThreadedRod) {
        return None;
    }
    let last = runs.iter().rfind(|it| it.body.is_some());
    let on = match last.and_then(|it| it.body) {
        None => Seating::Air,
        Some(_) if 0.0 < washers.nut_mm => Seating::Washer,
        Some(body) => seating(body, bodies),
    };
    Some(Nut {
        on,
        projects_mm: last.map_or(axis.length, |it| axis.length - it.to_mm),
        angle_to_face_deg: last.and_then(|it| it.left).map(|it| angle_to_face_deg(axis.toward, it.normal)),
    })
}
