//! What must hold the point side of a shank, and where the shank crosses from body to body.

use super::clip::{Axis, Cut, Piece, Scratch};
use super::core::Stretch;
use super::flat::Flat;
use super::{Body, BodyIx, FaceDistances, Holding, Run, ShearPlane, Stuff, TOUCH_MM, What, reach};
use crate::unit::Vec3;

/// Degrees between an axis and a face with this normal: 90 is square to it.
pub(super) fn angle_to_face_deg(toward: Vec3, normal: Vec3) -> f64 {
    toward.dot(normal).abs().atan2(toward.cross(normal).length()).to_degrees()
}

/// The last bearing body on the axis and what the shank has in it.
pub(super) fn holding(axis: &Axis, runs: &[Run], point_mm: f64) -> Option<Holding> {
    let last = runs.iter().rfind(|it| it.what == What::Bearing)?;
    let body = last.body?;
    let own = || runs.iter().filter(|it| it.body == Some(body));
    let first = own().next()?;
    let point_from = axis.length - point_mm.max(0.0);
    let bite_mm: f64 = own().map(|it| it.to_mm - it.from_mm).sum();
    let bite_without_point_mm = own().map(|it| (it.to_mm.min(point_from) - it.from_mm).max(0.0)).sum();
    let normal = first.entered.map(|it| it.normal);
    let beyond = axis.length - last.to_mm;
    Some(Holding {
        body,
        enters_at_mm: first.from_mm,
        leaves_at_mm: last.to_mm,
        bite_mm,
        bite_without_point_mm,
        bite_square_mm: bite_mm * normal.map_or(1.0, |it| axis.toward.dot(it).abs()),
        angle_to_face_deg: normal.map(|it| angle_to_face_deg(axis.toward, it)),
        cover_mm: own().filter_map(|it| it.cover_mm).fold(f64::INFINITY, f64::min),
        point_out_mm: if TOUCH_MM <= beyond { beyond } else { 0.0 },
    })
}

/// The shear planes of a shank, head to point.
pub(super) fn planes(
    axis: &Axis,
    (runs, stretches, pieces): (&[Run], &[Stretch], &[Piece]),
    (bodies, flat): (&[Body], &Flat),
    scratch: &mut Scratch,
) -> Vec<ShearPlane> {
    let mut planes = Vec::with_capacity(crossings(runs));
    let mut side: Option<(usize, BodyIx)> = None;
    let (mut gap_mm, mut filling_mm) = (0.0, 0.0);
    for (n, run) in runs.iter().enumerate() {
        let solid = run.body.filter(|_| matches!(run.what, What::Bearing | What::Steel));
        let Some(main) = solid else {
            match run.what {
                What::Filling => filling_mm += run.to_mm - run.from_mm,
                What::Air | What::Gap => gap_mm += run.to_mm - run.from_mm,
                What::Bearing | What::Steel => {}
            }
            continue;
        };
        if let Some((before, side)) = side.filter(|it| it.1 != main) {
            let piece = |n: usize| stretches[n].piece.map(|it| &pieces[it]);
            let mut distances =
                |body: BodyIx, cut: Option<&Cut>| distances(axis, body, cut, (bodies, flat), scratch);
            let left = runs[before].left.map(|it| it.normal);
            let into = run.entered.map(|it| it.normal);
            planes.push(ShearPlane {
                side,
                main,
                at_mm: runs[before].to_mm,
                gap_mm,
                filling_mm,
                normal: into.or(left.map(|it| -it)).unwrap_or(-axis.toward),
                in_side: distances(side, piece(before).map(|it| &it.exit).filter(|_| left.is_some())),
                in_main: distances(main, piece(n).map(|it| &it.entry).filter(|_| into.is_some())),
            });
        }
        side = Some((n, main));
        (gap_mm, filling_mm) = (0.0, 0.0);
    }
    planes
}

/// How many shear planes there are, so that none is paid for that is not.
fn crossings(runs: &[Run]) -> usize {
    let mut solid =
        runs.iter().filter(|it| matches!(it.what, What::Bearing | What::Steel)).filter_map(|it| it.body);
    let first = solid.next();
    solid.fold((first, 0), |(before, n), it| (Some(it), n + usize::from(before != Some(it)))).1
}

/// Distances in a bearing body on the face that the axis crosses at `cut`; `None` in steel.
pub(super) fn distances(
    axis: &Axis,
    body: BodyIx,
    cut: Option<&Cut>,
    (bodies, flat): (&[Body], &Flat),
    scratch: &mut Scratch,
) -> Option<FaceDistances> {
    let _ = bodies.get(body.0).filter(|it| it.stuff == Stuff::Bearing)?;
    let cut = cut.filter(|it| it.at.is_finite())?;
    Some(reach::on_face(flat, body.0, cut, axis.at(cut.at), scratch))
}
