//! Connectors: by the measures of a form, by a profile of one's own, and holes in them.

use std::sync::Arc;

use kurbo::{ParamCurveNearest as _, Point, Vec2};

use super::{Key, Made, Making, NotMade};
use crate::drawing::Subject;
use crate::joint::edit::Change;
use crate::joint::{Connector, Edit, Interval, Look as From, Plate, PlateSide};
use crate::sketch::form::against::against;
use crate::sketch::form::holes::{self, Fixing, Grid};
use crate::sketch::form::{Form, Seat, own};
use crate::sketch::fresh::Ids;
use crate::sketch::question::Sizes;
use crate::stock::{FastenerSpec, Material};
use crate::window::canvas;
use crate::window::canvas::draft::Corner;
use crate::window::look::Look;

/// A hole is put into steel, and a form heeds a corner, not farther from the pointer than this, millimetres.
const REACH_MM: f64 = 25.0;

/// The seat of a form: on the face at a place, as what is near there wants it, turned by quarters or mirrored where that
/// is asked for. The place stays the one that was pressed or typed; away from all faces the form stands upright.
fn seat(making: &Making, form: &Form, at: Point, look: &Look<'_>) -> Option<Seat> {
    let kept = look.kept;
    let found =
        canvas::face_at(at, look).and_then(|_| against((&kept.joint, &kept.trace), form, at, REACH_MM));
    let seat = match found {
        Some(it) => Seat { at, ..it.seat },
        None => Seat::new(at, Vec2::new(0.0, 1.0), canvas::depth_at((at, From::Front), look))?,
    };
    let quarter = |it: Vec2| Vec2::new(-it.y, it.x);
    let turned = (0..making.settings.quarters).fold(seat, |it, _| Seat {
        along: quarter(it.along),
        out: quarter(it.out),
        ..it
    });
    Some(if making.settings.mirrored { turned.mirrored() } else { turned })
}

/// What holes are alike in, by what was picked.
fn fixing(making: &Making, look: &Look<'_>) -> Result<Fixing, NotMade> {
    let joint = &look.kept.joint;
    let spec = making.settings.fastener(joint, look.stock).ok_or("Stock holds no fastener.")?;
    let angle_deg = making.number_or_none(Key::Angle, look)?;
    Ok(Fixing { duty: making.settings.duty, angle_deg, ..Fixing::for_fastener(&spec, joint.standard) })
}

fn steel(making: &Making, look: &Look<'_>) -> Result<Arc<Material>, NotMade> {
    making.settings.steel(look.stock).ok_or_else(|| "Stock holds no steel.".into())
}

/// A connector of a form, laid against the face at the place.
pub(super) fn form(
    making: &Making,
    form: &Form,
    corners: &[Corner],
    look: &Look<'_>,
) -> Result<Made, NotMade> {
    let [at] = corners else { return Err(NotMade::new()) };
    let joint = &look.kept.joint;
    let typed: Vec<(&str, String)> =
        form.questions.iter().map(|it| (it.key, making.text(Key::Asked(form.word, it.key), look))).collect();
    let typed = typed.iter().map(|it| (it.0, it.1.as_str()));
    let sizes = Sizes::read(form.questions, joint.standard, typed).map_err(|it| it.to_string())?;
    let seat = seat(making, form, at.at, look).ok_or("The face has no direction here.")?;
    let id = Ids::of(joint).like(form.word);
    let material = steel(making, look)?;
    let new = form
        .connector(&sizes, &fixing(making, look)?, &seat, (&id, material))
        .map_err(|it| it.to_string())?;
    Ok(put(new, form.title, look))
}

/// A connector with one plate along a drawn profile.
pub(super) fn profile(making: &Making, corners: &[Corner], look: &Look<'_>) -> Result<Made, NotMade> {
    if corners.len() < 2 {
        return Err(NotMade::new());
    }
    let joint = &look.kept.joint;
    let points: Vec<Point> = corners.iter().map(|it| it.at).collect();
    let thickness = making.number(Key::Thickness, look)?;
    let bend = making.number(Key::Bend, look)?;
    let depth = Interval { from: making.number(Key::Far, look)?, to: making.number(Key::Near, look)? };
    let plate = own::plate(&points, (thickness, bend), depth, joint.standard).map_err(|it| it.to_string())?;
    if let Some(at) = joined(making, look) {
        let mut new = Box::new(joint.connectors[at].clone());
        new.plates.push(plate);
        return Ok(Made {
            name: format!("One more plate of {}", new.shown_name()),
            chosen: vec![Subject::Connector(new.id.clone())],
            edit: Edit::Connectors(Change::Replace { at, new }),
        });
    }
    let id = Ids::of(joint).like("plate");
    let material = steel(making, look)?;
    let new = Connector { id, name: String::new(), material, plates: vec![plate], rating: None };
    Ok(put(new, "plate", look))
}

/// The connector that a plate which is drawn becomes a part of.
fn joined(making: &Making, look: &Look<'_>) -> Option<usize> {
    let Some(Subject::Connector(id)) = look.chosen.filter(|_| making.settings.joins) else { return None };
    look.kept.joint.connectors.iter().position(|it| it.id == *id)
}

fn put(new: Connector, what: &str, look: &Look<'_>) -> Made {
    Made {
        name: format!("Place {} {}", what.to_lowercase(), new.id),
        chosen: vec![Subject::Connector(new.id.clone())],
        edit: Edit::Connectors(Change::Insert { at: look.kept.joint.connectors.len(), new: Box::new(new) }),
    }
}

/// A place on a plate.
struct OnPlate {
    connector: usize,
    plate: usize,
    along_mm: f64,
    side: PlateSide,
}

/// Holes in the steel at the place: one, a row along it, or a grid.
pub(super) fn holes(making: &Making, corners: &[Corner], look: &Look<'_>) -> Result<Made, NotMade> {
    let [at] = corners else { return Err(NotMade::new()) };
    let joint = &look.kept.joint;
    let row = making.number_or_none_length(Key::Row, look)?;
    let found = on_plate(at.at, row, look).ok_or("Press on steel: there is none here.")?;
    let owner = &joint.connectors[found.connector];
    let old = &owner.plates[found.plate];
    let mut taken: Ids = owner.plates.iter().flat_map(|it| &it.holes).map(|it| it.id.clone()).collect();
    let middle = f64::midpoint(old.depth.from, old.depth.to);
    let grid = Grid {
        along_mm: found.along_mm,
        pitch_mm: making.number(Key::Pitch, look)?,
        count: making.count(Key::Count, look)?,
        depth_mm: row.unwrap_or(middle),
        row_pitch_mm: making.number(Key::RowPitch, look)?,
        rows: making.count(Key::Rows, look)?,
    };
    let before = old.holes.len();
    let plate = holes::add(old, &fixing(making, look)?, &grid, (found.side, &mut taken, joint.standard))
        .map_err(|it| it.to_string())?;
    let chosen =
        plate.holes[before..].iter().map(|it| Subject::Hole(owner.id.clone(), it.id.clone())).collect();
    let mut new = Box::new(owner.clone());
    new.plates[found.plate] = plate;
    let count = grid.count * grid.rows.max(1);
    let what = if count == 1 { "a hole".to_owned() } else { format!("{count} holes") };
    Ok(Made {
        name: format!("Make {what} in {}", owner.shown_name()),
        edit: Edit::Connectors(Change::Replace { at: found.connector, new }),
        chosen,
    })
}

/// The place on the steel that is nearest to a place of the drawing plane. Of plates that lie behind each other the one
/// that reaches the depth row counts.
fn on_plate(at: Point, row: Option<f64>, look: &Look<'_>) -> Option<OnPlate> {
    let joint = &look.kept.joint;
    let mut best: Option<((bool, f64), OnPlate)> = None;
    for (connector, owner) in joint.connectors.iter().enumerate() {
        for (plate, of) in owner.plates.iter().enumerate() {
            let is_beside = row.is_some_and(|it| it < of.depth.from || of.depth.to < it);
            for (leg, ends) in of.profile.windows(2).enumerate() {
                let line = kurbo::Line::new(ends[0], ends[1]);
                let nearest = line.nearest(at, 1e-9);
                let away = nearest.distance_sq.sqrt();
                if REACH_MM < away || best.as_ref().is_some_and(|it| it.0 <= (is_beside, away)) {
                    continue;
                }
                let foot = ends[0].lerp(ends[1], nearest.t);
                let is_left = 0.0 <= (ends[1] - ends[0]).cross(at - ends[0]);
                let side = if is_left { PlateSide::Left } else { PlateSide::Right };
                let along_mm = along(of, leg, foot);
                best = Some(((is_beside, away), OnPlate { connector, plate, along_mm, side }));
            }
        }
    }
    best.map(|it| it.1)
}

/// How far along the middle line, with its bends, a place on one of its legs lies.
fn along(plate: &Plate, leg: usize, foot: Point) -> f64 {
    let mut profile: Vec<Point> = plate.profile[..=leg].to_vec();
    profile.push(foot);
    let mm = own::developed_mm(&Plate { profile, holes: Vec::new(), ..plate.clone() });
    // To a hundredth: nobody drills closer, and a place pointed at has no more to say.
    (mm * 100.0).round() / 100.0
}

/// The fastener that holes are for where none was picked: a usual nail.
#[must_use]
pub(super) fn usual_fastener(
    joint: &crate::joint::Joint,
    stock: &crate::stock::Stock,
) -> Option<Arc<FastenerSpec>> {
    let wanted = match joint.standard {
        crate::joint::StandardId::Nds2018 => "nail/common/10d",
        crate::joint::StandardId::En199511 => "nail/metric/4x40",
    };
    stock.fasteners.get(wanted).or_else(|| stock.fasteners.values().next()).cloned()
}
