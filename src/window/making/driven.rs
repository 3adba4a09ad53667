//! Fasteners: in rows, seen head on, toe-nailed by rule.

use std::collections::BTreeSet;
use std::sync::Arc;

use kurbo::{Point, Vec2};

use super::{Key, Made, Making, NotMade};
use crate::drawing::Subject;
use crate::joint::edit::{Change, apply};
use crate::joint::{Edit, Joint, Look as From};
use crate::sketch::drive::free::{Spaced, grid};
use crate::sketch::drive::toe::{Rule, toe_nail};
use crate::sketch::question::WishError;
use crate::stock::FastenerSpec;
use crate::unit::Vec3;
use crate::window::canvas;
use crate::window::canvas::draft::Corner;
use crate::window::look::Look;

/// How many, and how far apart, both ways.
struct Rows {
    count: usize,
    pitch_mm: f64,
    rows: usize,
    row_pitch_mm: f64,
}

fn rows(making: &Making, look: &Look<'_>) -> Result<Rows, NotMade> {
    Ok(Rows {
        count: making.count(Key::Count, look)?,
        pitch_mm: making.number(Key::Pitch, look)?,
        rows: making.count(Key::Rows, look)?,
        row_pitch_mm: making.number(Key::RowPitch, look)?,
    })
}

/// The rows from a first head, along one way and then along another.
fn driven(
    rows: &Rows,
    spec: &Arc<FastenerSpec>,
    (head, toward): (Vec3, Vec3),
    (along, across): (Vec3, Vec3),
    look: &Look<'_>,
) -> Result<Made, NotMade> {
    let to = head + along;
    let spaced = (Spaced::CountAt(rows.count, rows.pitch_mm), Spaced::CountAt(rows.rows, rows.row_pitch_mm));
    let edit = grid(&look.kept.joint, spec, (head, to, head + across), spaced, (toward, look.stock));
    made(edit, &format!("Drive {} {}", rows.count * rows.rows, spec.label), look)
}

/// What was made, with all that is new chosen.
fn made(edit: Result<Edit, WishError>, name: &str, look: &Look<'_>) -> Result<Made, NotMade> {
    let edit = edit.map_err(|it| it.to_string())?;
    let chosen = new_fasteners(&look.kept.joint, &edit);
    Ok(Made { name: name.to_owned(), edit, chosen })
}

/// The fasteners that an edit adds.
#[must_use]
pub(crate) fn new_fasteners(joint: &Joint, edit: &Edit) -> Vec<Subject> {
    let before: BTreeSet<&String> = joint.fasteners.iter().map(|it| &it.id).collect();
    let mut after = joint.clone();
    let _ = apply(&mut after, edit);
    let is_new = |it: &&crate::joint::Fastener| !before.contains(&it.id);
    after.fasteners.iter().filter(is_new).map(|it| Subject::Fastener(it.id.clone())).collect()
}

/// A row along the face from the first head, each one pointing as the line is drawn; more rows follow in depth.
pub(super) fn row(
    making: &Making,
    spec: &Arc<FastenerSpec>,
    corners: &[Corner],
    look: &Look<'_>,
) -> Result<Made, NotMade> {
    let [from, to] = corners else { return Err(NotMade::new()) };
    let way = to.at - from.at;
    if way.hypot() < 1e-6 {
        return Err(NotMade::new());
    }
    let toward = way.normalize();
    // The row runs along the face, to the left of the way the fasteners point: upward for one that points right.
    let left = Vec2::new(-toward.y, toward.x);
    let along =
        canvas::face_at(from.at, look).map_or(left, |face| if face.dot(left) < 0.0 { -face } else { face });
    let rows = rows(making, look)?;
    let middle = canvas::depth_at((from.at + toward * 0.5, From::Front), look);
    #[expect(clippy::cast_precision_loss, reason = "a count of rows")]
    let first = middle - rows.row_pitch_mm * (rows.rows.max(1) - 1) as f64 / 2.0;
    let head = Vec3::new(from.at.x, from.at.y, first);
    let toward = Vec3::new(toward.x, toward.y, 0.0);
    driven(&rows, spec, (head, toward), (Vec3::new(along.x, along.y, 0.0), Vec3::Z), look)
}

/// Fasteners seen head on: from the near face of the frontmost body away from the viewer, to the right and upward.
pub(super) fn head_on(
    making: &Making,
    spec: &Arc<FastenerSpec>,
    corners: &[Corner],
    look: &Look<'_>,
) -> Result<Made, NotMade> {
    let [at] = corners else { return Err(NotMade::new()) };
    let near = nearest_face(at.at, look).ok_or("Press on a member or on steel: there is none here.")?;
    let head = Vec3::new(at.at.x, at.at.y, near);
    let away = Vec3::new(0.0, 0.0, -1.0);
    driven(&rows(making, look)?, spec, (head, away), (Vec3::X, Vec3::new(0.0, 1.0, 0.0)), look)
}

/// How near the viewer the frontmost body at a place reaches.
fn nearest_face(at: Point, look: &Look<'_>) -> Option<f64> {
    let here = look.kept.trace.bodies.iter().filter(|it| it.region.contains(at));
    here.map(|it| it.near_mm).max_by(f64::total_cmp)
}

/// A toe-nail in the corner that is nearest, by the start and the slope that stand in the fields.
pub(super) fn toe(
    making: &Making,
    spec: &Arc<FastenerSpec>,
    corners: &[Corner],
    look: &Look<'_>,
) -> Result<Made, NotMade> {
    let [at] = corners else { return Err(NotMade::new()) };
    // What was not typed is what the standard says, and not what its text rounds it to.
    let mut rule = Rule::of(spec, look.kept.joint.standard);
    if making.texts.contains_key(&Key::Start) {
        rule.start_mm = making.number(Key::Start, look)?;
    }
    if making.texts.contains_key(&Key::Slope) {
        rule.angle_deg = making.number(Key::Slope, look)?;
    }
    let depth = canvas::depth_at((at.at, From::Front), look);
    let chain = (&look.kept.joint, &*look.kept.trace);
    made(toe_nail(chain, spec, (at.at, depth), rule), &format!("Toe-nail {}", spec.label), look)
}

/// The edit that puts one more fastener at the end of the list, outfitted as its kind commonly is.
#[must_use]
pub(crate) fn outfitted(edit: Edit, spec: &Arc<FastenerSpec>, look: &Look<'_>) -> Edit {
    use crate::sketch::drive::{Outfit, Under};
    let Edit::Fasteners(Change::Insert { at, mut new }) = edit else { return edit };
    let under = match new.place {
        crate::joint::Placement::Free { .. } => Under::Member,
        crate::joint::Placement::Fills { .. } => Under::Steel,
    };
    let outfit = Outfit::of(spec, look.kept.joint.standard, under, look.stock);
    if let (crate::joint::Placement::Free { head, toward }, Some(washer)) =
        (&mut new.place, &outfit.head_washer)
    {
        // The head lies on the washer, and the washer on the surface.
        *head = *head - toward.unit().unwrap_or_default() * washer.thickness_mm;
    }
    new.lead_hole = outfit.lead_hole;
    new.head_washer = outfit.head_washer;
    new.nut_washer = outfit.nut_washer;
    Edit::Fasteners(Change::Insert { at, new })
}
