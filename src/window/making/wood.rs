//! Members that are drawn or placed from stock, and cuts in them.

use std::sync::Arc;

use kurbo::{Point, Rect};

use super::{Key, Lies, Made, Making, NotMade, Shape};
use crate::drawing::Subject;
use crate::joint::edit::Change;
use crate::joint::{Edit, Grain, Interval, Joint, Look as From, Member, Outline};
use crate::sketch::fresh::Ids;
use crate::stock::{Family, SectionSize};
use crate::window::canvas::draft::{Corner, path_data};
use crate::window::canvas::gesture::clean;
use crate::window::look::Look;

/// Nothing narrower than this is drawn, millimetres.
const LEAST_MM: f64 = 0.01;

/// The outline of what is drawn.
fn outline(making: &Making, shape: Shape, corners: &[Corner], look: &Look<'_>) -> Result<Outline, NotMade> {
    match shape {
        Shape::Box | Shape::ISection => {
            let [a, b] = corners else { return Err(NotMade::new()) };
            let area = Rect::from_points(a.at, b.at);
            if area.width() < LEAST_MM || area.height() < LEAST_MM {
                return Err(NotMade::new());
            }
            let (corner, size_mm) = (area.origin(), (clean(area.width()), clean(area.height())));
            if shape == Shape::Box {
                return Ok(Outline::Rectangle { corner, size_mm, turn_deg: 0.0 });
            }
            let (flange_mm, web_mm) = (making.number(Key::Flange, look)?, making.number(Key::Web, look)?);
            if size_mm.1 <= 2.0 * flange_mm || size_mm.0 <= web_mm {
                return Err("Web and flanges must fit into its width and height.".into());
            }
            Ok(Outline::ISection { corner, size_mm, flange_mm, web_mm, turn_deg: 0.0 })
        }
        Shape::Round => {
            let [centre, rim] = corners else { return Err(NotMade::new()) };
            let diameter_mm = clean(2.0 * (rim.at - centre.at).hypot());
            if diameter_mm < LEAST_MM {
                return Err(NotMade::new());
            }
            Ok(Outline::Round { centre: centre.at, diameter_mm })
        }
        Shape::Polygon => {
            let places: Vec<Point> = corners.iter().map(|it| it.at).collect();
            if places.len() < 3 {
                return Err(NotMade::new());
            }
            Ok(Outline::Polygon(places))
        }
        Shape::Path => {
            let has_arc = corners.iter().any(|it| it.through.is_some());
            if corners.len() < if has_arc { 2 } else { 3 } {
                return Err(NotMade::new());
            }
            Ok(if has_arc {
                Outline::Path(path_data(corners))
            } else {
                Outline::Polygon(corners.iter().map(|it| it.at).collect())
            })
        }
    }
}

/// A member that is drawn.
pub(super) fn member(
    making: &Making,
    shape: Shape,
    corners: &[Corner],
    look: &Look<'_>,
) -> Result<Made, NotMade> {
    let outline = outline(making, shape, corners, look)?;
    let [begin, end] = Key::ends(look.view);
    let ends = ends(making.number(begin, look)?, making.number(end, look)?)?;
    let solid = match (look.view, &outline) {
        (From::Side | From::Top, Outline::Rectangle { corner, size_mm, .. }) => {
            let area = Rect::from_origin_size(*corner, *size_mm);
            let runs = if area.height() <= area.width() { Runs::Level } else { Runs::Upright };
            Box3 { area, ends, runs }.stood(look.view)
        }
        (From::Front, Outline::Rectangle { size_mm, .. }) => {
            let grain = as_it_lies(*size_mm, ends.to - ends.from);
            (outline, ends, grain)
        }
        _ => (outline, ends, Grain::AlongDepth),
    };
    put(making, solid, (None, "member"), look)
}

/// The grain of a piece of wood of these measures: along the longest of them, and along the depth where that is one.
fn as_it_lies((width, height): (f64, f64), depth: f64) -> Grain {
    if width.max(height) <= depth {
        Grain::AlongDepth
    } else if height <= width {
        Grain::InPlane(0.0)
    } else {
        Grain::InPlane(90.0)
    }
}

fn ends(from: f64, to: f64) -> Result<Interval, NotMade> {
    if from < to { Ok(Interval { from, to }) } else { Err("It must begin before it ends.".into()) }
}

/// The way that the grain of something runs, as its view has it.
#[derive(Clone, Copy)]
enum Runs {
    Level,
    Upright,
    /// To the viewer.
    Toward,
}

/// A box as a view has it.
struct Box3 {
    /// In the plane of the view.
    area: Rect,
    /// Its ends on the axis that the view looks along.
    ends: Interval,
    runs: Runs,
}

impl Box3 {
    /// The same as a member has it: outline, depth and grain.
    fn stood(&self, view: From) -> (Outline, Interval, Grain) {
        let (area, ends) = (self.area, self.ends);
        let outline = |x0: f64, y0: f64, x1: f64, y1: f64| Outline::Rectangle {
            corner: Point::new(clean(x0), clean(y0)),
            size_mm: (clean(x1 - x0), clean(y1 - y0)),
            turn_deg: 0.0,
        };
        let depth = |far: f64, near: f64| Interval { from: clean(far), to: clean(near) };
        let (level, upright, toward) = (Grain::InPlane(0.0), Grain::InPlane(90.0), Grain::AlongDepth);
        let (shape, depth, [on_level, on_upright, on_toward]) = match view {
            From::Front => (outline(area.x0, area.y0, area.x1, area.y1), ends, [level, upright, toward]),
            From::Side => (
                outline(ends.from, area.y0, ends.to, area.y1),
                depth(0.0 - area.x1, 0.0 - area.x0),
                [toward, upright, level],
            ),
            From::Top => (
                outline(area.x0, ends.from, area.x1, ends.to),
                depth(0.0 - area.y1, 0.0 - area.y0),
                [level, toward, upright],
            ),
        };
        let grain = match self.runs {
            Runs::Level => on_level,
            Runs::Upright => on_upright,
            Runs::Toward => on_toward,
        };
        (shape, depth, grain)
    }
}

/// A member of a stock size, held at one of its corners.
pub(super) fn of_stock(
    making: &Making,
    size: &SectionSize,
    corners: &[Corner],
    look: &Look<'_>,
) -> Result<Made, NotMade> {
    let [at] = corners else { return Err(NotMade::new()) };
    let settings = &making.settings;
    let [begin, end] = Key::ends(look.view);
    let from = making.number(begin, look)?;
    let length = || making.number(Key::Length, look);
    let upright = settings.quarters % 2 == 1;
    let along = if upright { Runs::Upright } else { Runs::Level };
    let (box_mm, ends, runs) = match (settings.lies, size.depth_mm) {
        // A panel has no width of its own: its edge is seen, as long as it is wanted.
        (_, None) => {
            let to = making.number(end, look).unwrap_or(from + 600.0);
            ((length()?, size.thickness_mm), ends(from, to)?, along)
        }
        (Lies::EndOn, Some(deep)) => {
            ((size.thickness_mm, deep), ends(from, making.number(end, look)?)?, Runs::Toward)
        }
        (Lies::Face, Some(deep)) => {
            ((length()?, deep), Interval { from, to: from + size.thickness_mm }, along)
        }
        (Lies::Edge, Some(deep)) => {
            ((length()?, size.thickness_mm), Interval { from, to: from + deep }, along)
        }
    };
    let turned = if upright { (box_mm.1, box_mm.0) } else { box_mm };
    let share = settings.hold.share();
    let corner = Point::new(clean(at.at.x - share.0 * turned.0), clean(at.at.y - share.1 * turned.1));
    let (rectangle, depth, grain) =
        Box3 { area: Rect::from_origin_size(corner, turned), ends, runs }.stood(look.view);
    let outline = match size.i_section_mm.filter(|_| settings.lies == Lies::EndOn) {
        Some([_, flange_mm, web_mm]) => Outline::ISection {
            corner: if upright { Point::new(corner.x + turned.0, corner.y) } else { corner },
            size_mm: box_mm,
            flange_mm,
            web_mm,
            turn_deg: if upright { 90.0 } else { 0.0 },
        },
        None => rectangle,
    };
    put(making, (outline, depth, grain), (Some(size.family), &size.nominal), look)
}

/// The member put at the end of the list, under a name of its own.
fn put(
    making: &Making,
    (outline, depth, grain): (Outline, Interval, Grain),
    (family, usual_id): (Option<Family>, &str),
    look: &Look<'_>,
) -> Result<Made, NotMade> {
    let joint = &look.kept.joint;
    let settings = &making.settings;
    let material = settings.material(family, joint, look.stock).ok_or("Stock holds no material.")?;
    let name = making.text(Key::Name, look).trim().to_owned();
    let id = Ids::of(joint).like(&id_of(if name.is_empty() { usual_id } else { &name }));
    let grain = match settings.grain {
        Some(Grain::InPlane(_)) => Grain::InPlane(making.number(Key::GrainDeg, look)?),
        Some(picked) => picked,
        None if material.family.is_wood() => grain,
        None => Grain::None,
    };
    let bearing = settings.bearing && material.family.bears();
    let new = Member {
        id: id.clone(),
        name: if name == id { String::new() } else { name },
        material,
        outline,
        cutouts: Vec::new(),
        depth,
        grain,
        treatment: settings.treatment,
        bearing,
        blocking: settings.blocking,
    };
    Ok(Made {
        name: format!("Place {}", new.shown_name()),
        edit: Edit::Members(Change::Insert { at: joint.members.len(), new: Box::new(new) }),
        chosen: vec![Subject::Member(id)],
    })
}

/// A name as an id: in small letters, with strokes for blanks and slashes.
fn id_of(name: &str) -> String {
    let plain = |it: char| if it == '/' || it.is_control() || it.is_whitespace() { '-' } else { it };
    let id: String = name.trim().to_lowercase().chars().take(60).map(plain).collect();
    if id.is_empty() { "member".to_owned() } else { id }
}

/// A notch or a hole in the chosen member, or in the one that it is begun on.
pub(super) fn cut(
    making: &Making,
    shape: Shape,
    corners: &[Corner],
    look: &Look<'_>,
) -> Result<Made, NotMade> {
    let outline = outline(making, shape, corners, look)?;
    let joint = &look.kept.joint;
    let at = whose(joint, corners, look).ok_or("Choose first the member that is cut, or begin on it.")?;
    let old = &joint.members[at];
    let mut new = Box::new(old.clone());
    new.cutouts.push(outline);
    let before = look.kept.trace.bodies.get(at).map_or(0.0, |it| it.region.area_mm2());
    let mut cut = joint.clone();
    cut.members = vec![(*new).clone()];
    cut.connectors.clear();
    cut.fasteners.clear();
    let left = crate::trace::trace(&cut).bodies.first().map_or(0.0, |it| it.region.area_mm2());
    if left <= LEAST_MM {
        return Err("Nothing of the member would be left.".into());
    }
    if before <= left + LEAST_MM {
        return Err("The cut lies outside the member.".into());
    }
    Ok(Made {
        name: format!("Cut {}", old.shown_name()),
        edit: Edit::Members(Change::Replace { at, new }),
        chosen: vec![Subject::Member(old.id.clone())],
    })
}

/// The member that is cut: the chosen one, or the last one drawn that one of the places lies on.
fn whose(joint: &Joint, corners: &[Corner], look: &Look<'_>) -> Option<usize> {
    if let Some(Subject::Member(id)) = look.chosen
        && let Some(at) = joint.members.iter().position(|it| it.id == *id)
    {
        return Some(at);
    }
    let on = |at: Point| {
        (0..joint.members.len())
            .rev()
            .find(|it| look.kept.trace.bodies.get(*it).is_some_and(|it| it.region.contains(at)))
    };
    let middle = corners.iter().fold(kurbo::Vec2::ZERO, |sum, it| sum + it.at.to_vec2());
    #[expect(clippy::cast_precision_loss, reason = "a few corners")]
    let middle = (middle / corners.len().max(1) as f64).to_point();
    corners.iter().map(|it| it.at).chain([middle]).find_map(on)
}

/// Whether stock sizes are asked how they lie.
#[must_use]
pub(super) fn may_lie(size: &Arc<SectionSize>) -> bool {
    size.depth_mm.is_some()
}
