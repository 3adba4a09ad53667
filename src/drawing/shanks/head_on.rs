//! A fastener whose axis runs towards the viewer or away: circle or hexagon with crossed centre lines.

use kurbo::{Point, Rect, Vec2};

use super::Laid;
use crate::drawing::place::Taken;
use crate::drawing::{Fill, Item, Line, pen};
use crate::stock::FastenerKind;
use crate::trace::What;

/// How far the centre lines reach beyond what they cross.
const BEYOND_MM: f64 = 2.0;

/// The fastener seen along its axis; its place is taken.
pub(super) fn draw(laid: &Laid<'_>, taken: &mut Taken) -> Vec<Item> {
    let spec = &laid.fastener.spec;
    let looks_away = laid.shank.toward.z < 0.0;
    let (washer, across_flats) = if looks_away {
        let flats = if spec.kind == FastenerKind::ThreadedRod {
            spec.nut.map_or(0.0, |it| it.across_flats_mm)
        } else {
            spec.head_mm
        };
        (laid.fastener.head_washer.as_deref(), flats)
    } else {
        (laid.fastener.nut_washer.as_deref(), spec.nut.map_or(0.0, |it| it.across_flats_mm))
    };
    let mut items = Vec::new();
    let mut reach = spec.diameter_mm * laid.scale / 2.0;
    if let Some(washer) = washer {
        let radius = washer.outer_mm * laid.scale / 2.0;
        reach = reach.max(radius);
        items.push(laid.item(pen::circle(laid.at, radius), Some(Fill::Paper), Some(Line::Shank)));
    }
    if 0.0 < across_flats {
        let is_round = matches!(spec.kind, FastenerKind::Nail | FastenerKind::WoodScrew);
        let radius = across_flats * laid.scale / 2.0;
        let corner = if is_round { radius } else { radius * 2.0 / 3.0_f64.sqrt() };
        reach = reach.max(corner);
        let outline = if is_round { pen::circle(laid.at, radius) } else { hexagon(laid.at, corner) };
        items.push(laid.item(outline, Some(Fill::Paper), Some(Line::Shank)));
    }
    items.push(shank(laid));
    let arm = reach + BEYOND_MM;
    let mut cross = pen::centre_line(&pen::stroke(laid.at, laid.at + Vec2::new(arm, 0.0)));
    for (x, y) in [(-arm, 0.0), (0.0, arm), (0.0, -arm)] {
        // Each arm begins with a long dash in the middle, so that they cross in one.
        cross.extend(pen::centre_line(&pen::stroke(laid.at, laid.at + Vec2::new(x, y))));
    }
    items.push(laid.item(cross, None, Some(Line::Dimension)));
    taken.add_box(Rect::from_center_size(laid.at, (2.0 * reach + 0.8, 2.0 * reach + 0.8)));
    items
}

/// The section of the shank: filled when any of it is in something that holds, hollow and dashed when none is.
fn shank(laid: &Laid<'_>) -> Item {
    let radius = laid.fastener.spec.diameter_mm * laid.scale / 2.0;
    let circle = pen::circle(laid.at, radius);
    let is_held = laid.shank.core.iter().any(|it| matches!(it.what, What::Bearing | What::Steel));
    if is_held {
        laid.item(circle, Some(laid.solid()), Some(Line::Shank))
    } else {
        laid.item(pen::dashed(&circle), None, Some(Line::ShankInAir(laid.mood)))
    }
}

/// A hexagon with two flats above and below.
fn hexagon(centre: Point, corner: f64) -> kurbo::BezPath {
    let corners: Vec<Point> = (0..6)
        .map(|n| centre + Vec2::from_angle(f64::from(n) * std::f64::consts::FRAC_PI_3) * corner)
        .collect();
    pen::polygon(&corners)
}
