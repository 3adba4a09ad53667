//! The solid bodies of a joint: members with their cut-outs taken away, then the plates of connectors.

use kurbo::{Point, Vec2};

use super::boxes::{Box3, Boxes};
use super::flat::Flat;
use super::hole::Holes;
use super::{Body, Owner, Stuff, plate};
use crate::joint::{Grain, Interval, Joint, Member, Outline};
use crate::shape::{Region, sin_cos_deg};
use crate::unit::Vec3;

/// A joint's bodies made ready, so that one fastener after the other can be traced against them.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Bodies {
    /// Members first, then plates, each in the joint's order.
    pub list: Vec<Body>,
    pub(super) flat: Flat,
    pub(super) holes: Holes,
    pub(super) index: Boxes,
}

impl Bodies {
    /// The bodies of a joint.
    #[must_use]
    pub fn of(joint: &Joint) -> Self {
        let mut list: Vec<Body> = joint.members.iter().enumerate().map(|(n, it)| member(n, it)).collect();
        let first_plate = list.len();
        for (n, connector) in joint.connectors.iter().enumerate() {
            list.extend(connector.plates.iter().enumerate().map(|(plate_ix, it)| Body {
                owner: Owner::Plate { connector: n, plate: plate_ix },
                stuff: Stuff::Steel,
                region: plate::region(it),
                far_mm: far(it.depth),
                near_mm: near(it.depth),
                grain: Grain::None,
            }));
        }
        let flat = Flat::of(&list);
        let boxes: Vec<Box3> = flat
            .prisms
            .iter()
            .map(|it| {
                let low = Vec3::new(it.bounds.x0, it.bounds.y0, it.far);
                Box3::around(low, Vec3::new(it.bounds.x1, it.bounds.y1, it.near), super::TOUCH_MM)
            })
            .collect();
        Self { holes: Holes::of(joint, first_plate), index: Boxes::of(&boxes), flat, list }
    }
}

fn far(depth: Interval) -> f64 {
    depth.from.min(depth.to)
}

fn near(depth: Interval) -> f64 {
    depth.from.max(depth.to)
}

fn member(place: usize, member: &Member) -> Body {
    let whole = region(&member.outline);
    let cutouts: Vec<Region> = member.cutouts.iter().map(region).collect();
    Body {
        owner: Owner::Member(place),
        stuff: if member.bearing { Stuff::Bearing } else { Stuff::Filling },
        region: if cutouts.is_empty() { whole } else { whole.minus(&cutouts) },
        far_mm: far(member.depth),
        near_mm: near(member.depth),
        grain: member.grain,
    }
}

/// An outline as a region; empty for path data that cannot be read, which the reader of files refuses.
#[must_use]
pub fn region(outline: &Outline) -> Region {
    match outline {
        Outline::Rectangle { corner, size_mm, turn_deg } => Region::rectangle(*corner, *size_mm, *turn_deg),
        Outline::Polygon(corners) => Region::polygon(corners),
        Outline::Round { centre, diameter_mm } => Region::round(*centre, *diameter_mm),
        Outline::ISection { corner, size_mm, flange_mm, web_mm, turn_deg } => {
            i_section(*corner, *size_mm, (*flange_mm, *web_mm), *turn_deg)
        }
        Outline::Path(data) => Region::path(data).unwrap_or_default(),
    }
}

/// Two flanges and a web; a plain rectangle where these leave nothing between them.
fn i_section(corner: Point, (width, height): (f64, f64), (flange, web): (f64, f64), turn_deg: f64) -> Region {
    if height <= 2.0 * flange || width <= web {
        return Region::rectangle(corner, (width, height), turn_deg);
    }
    let (left, right) = (0.5 * (width - web), 0.5 * (width + web));
    let (low, high) = (flange, height - flange);
    let corners = [
        (0.0, 0.0),
        (width, 0.0),
        (width, low),
        (right, low),
        (right, high),
        (width, high),
        (width, height),
        (0.0, height),
        (0.0, high),
        (left, high),
        (left, low),
        (0.0, low),
    ];
    let (sin, cos) = sin_cos_deg(turn_deg);
    let turned = |(x, y): (f64, f64)| corner + Vec2::new(x * cos - y * sin, x * sin + y * cos);
    Region::polygon(&corners.map(turned))
}
