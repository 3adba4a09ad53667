//! End and edge distances and spacings: Table 8.2 for nails and thin screws, Table 8.4 for bolts and
//! thick screws, Table 8.6 for screws that are pulled.
//!
//! Angles are those between load and grain, from 0 to 90 degrees; whether a border is loaded
//! tells on which side of the shank it lies.

use super::table::NailColumn;
use super::{En1995, diameters, ec5};
use crate::standard::table::{angles, ask, begun, either, given, length, number, settle};
use crate::standard::{Border, Check, Driven, Pair, Quantity, Step, Topic};
use crate::stock::{Family, FastenerKind, Material};
use crate::unit::compare::{at_least, at_most};

/// Whether a term turns with the cosine or the sine of the angle.
#[derive(Clone, Copy)]
enum Turn {
    Cosine,
    Sine,
}

/// `(c + f |cos a|) d` or `(c + f sin a) d`, worked out.
fn turned(
    symbol: &'static str,
    [c, f]: [f64; 2],
    turn: Turn,
    (angle_deg, diameter_mm): (f64, f64),
) -> Vec<Step> {
    let radians = angle_deg.to_radians();
    let (formula, part) = match turn {
        Turn::Cosine => ("c + f |cos a|", radians.cos().abs()),
        Turn::Sine => ("c + f sin a", radians.sin()),
    };
    let factor = f.mul_add(part, c);
    begun([
        given("c", Quantity::Number(c)),
        given("f", Quantity::Number(f)),
        given("a", Quantity::Angle(angle_deg)),
        number("k", formula, factor),
        given("d", Quantity::Length(diameter_mm)),
        length(symbol, "k d", factor * diameter_mm),
    ])
}

/// Raises the last step to a least value where it is below it.
fn raised(mut steps: Vec<Step>, formula: &'static str, least_mm: f64) -> Vec<Step> {
    if let Some(last) = steps.last().cloned()
        && last.value.value() < least_mm
    {
        steps.push(length(last.symbol, formula, least_mm));
    }
    steps
}

/// The cases of loaded and not loaded that are possible; a load along the shank loads no border.
fn cases(border: &Border<'_>) -> impl Iterator<Item = bool> {
    either(if border.axial { Some(false) } else { border.loaded }, (false, true))
}

/// One end or edge distance.
pub(super) fn border(ec5: &En1995, driven: &Driven<'_>, border: &Border<'_>) -> Vec<Check> {
    if !border.material.family.is_wood() {
        return Vec::new();
    }
    match driven.spec.kind {
        FastenerKind::MasonryScrew => Vec::new(),
        FastenerKind::WoodScrew | FastenerKind::LagScrew if border.axial => axial_border(ec5, driven, border),
        FastenerKind::Nail | FastenerKind::WoodScrew | FastenerKind::LagScrew if ec5.is_like_nail(driven) => {
            if border.material.family == Family::Panel {
                panel_border(ec5, driven, border)
            } else {
                nail_border(ec5, driven, border)
            }
        }
        FastenerKind::Bolt | FastenerKind::ThreadedRod if border.axial => Vec::new(),
        FastenerKind::Nail
        | FastenerKind::WoodScrew
        | FastenerKind::LagScrew
        | FastenerKind::Bolt
        | FastenerKind::ThreadedRod => bolt_border(ec5, driven, border),
    }
}

/// The distance from which on nothing more is asked: the greatest of the tables that may hold.
pub(super) fn enough_mm(ec5: &En1995, driven: &Driven<'_>) -> f64 {
    let (nails, beside) = (&ec5.table.nails, &ec5.table.nails_beside);
    let (bolts, screws) = (&ec5.table.bolts, &ec5.table.axial_screws);
    let columns = [&nails.light, &nails.heavy, &nails.predrilled];
    let of_nails = columns
        .into_iter()
        .flat_map(|it| [it.a1, it.a1_thick, it.a2, it.a3t, it.a3c, it.a4t, it.a4t_thick, it.a4c]);
    let turned = of_nails.chain([beside.panel_loaded, bolts.a1, bolts.a3c, bolts.a4t]);
    let plain = [
        beside.panel_not_loaded,
        bolts.a2,
        bolts.a3t,
        bolts.a3c_least,
        bolts.a4t_least,
        bolts.a4c,
        screws.a1,
        screws.a2,
        screws.a1cg,
        screws.a2cg,
    ];
    let factor = turned.map(|[c, f]| c + f.max(0.0)).chain(plain).fold(0.0, f64::max);
    (factor * driven.spec.diameter_mm).max(bolts.a3t_least_mm)
}

fn topic(border: &Border<'_>) -> Topic {
    if border.is_end { Topic::EndDistance } else { Topic::EdgeDistance }
}

/// The columns of Table 8.2 that may hold: predrilled, or by density; both where the density is not known.
///
/// Above 500 kg/m3 nails must be predrilled, which is a matter of the hole; without it the column of
/// heavy timber is the nearest that is printed.
fn columns<'a>(ec5: &'a En1995, driven: &Driven<'_>, material: &Material) -> Vec<&'a NailColumn> {
    let nails = &ec5.table.nails;
    match material.density_kg_m3 {
        _ if driven.hole_mm.is_some() => vec![&nails.predrilled],
        Some(density) if at_most(density, nails.light_to) => vec![&nails.light],
        Some(_) => vec![&nails.heavy],
        None => vec![&nails.light, &nails.heavy],
    }
}

/// a3t, a3c, a4t and a4c of Table 8.2.
fn nail_border(ec5_2004: &En1995, driven: &Driven<'_>, border: &Border<'_>) -> Vec<Check> {
    let diameter_mm = driven.spec.diameter_mm;
    let is_thick = at_least(diameter_mm, ec5_2004.table.nails.thick_from_mm);
    let asked = ask(topic(border), ec5("Table 8.2"));
    let mut candidates = Vec::new();
    for column in columns(ec5_2004, driven, border.material) {
        for is_loaded in cases(border) {
            for angle_deg in angles(border.load_to_grain_deg) {
                let at = (angle_deg, diameter_mm);
                let a4t = if is_thick { column.a4t_thick } else { column.a4t };
                let steps = match (border.is_end, is_loaded) {
                    (true, true) => turned("a3t", column.a3t, Turn::Cosine, at),
                    (true, false) => turned("a3c", column.a3c, Turn::Cosine, at),
                    (false, true) => turned("a4t", a4t, Turn::Sine, at),
                    (false, false) => turned("a4c", column.a4c, Turn::Sine, at),
                };
                candidates.push(asked.at_least(Quantity::Length(border.distance_mm), steps));
            }
        }
    }
    settle(candidates)
}

/// Nails near the border of a panel, 8.3.1.3(2): 3 d, or (3 + 4 sin a) d where the border is loaded.
///
/// It is printed for plywood and used for other panels, of which nothing is printed. The angle is
/// that between the load and the border itself.
fn panel_border(ec5_2004: &En1995, driven: &Driven<'_>, border: &Border<'_>) -> Vec<Check> {
    let (beside, diameter_mm) = (&ec5_2004.table.nails_beside, driven.spec.diameter_mm);
    let asked = ask(topic(border), ec5("8.3.1.3(2)"));
    let mut candidates = Vec::new();
    for is_loaded in cases(border) {
        for angle_deg in angles(border.load_to_grain_deg) {
            let to_border_deg = if border.is_end { 90.0 - angle_deg } else { angle_deg };
            let steps = if is_loaded {
                turned("a_t", beside.panel_loaded, Turn::Sine, (to_border_deg, diameter_mm))
            } else {
                diameters("a_c", beside.panel_not_loaded, diameter_mm)
            };
            candidates.push(asked.at_least(Quantity::Length(border.distance_mm), steps));
        }
    }
    settle(candidates)
}

/// a3t, a3c, a4t and a4c of Table 8.4.
fn bolt_border(ec5_2004: &En1995, driven: &Driven<'_>, border: &Border<'_>) -> Vec<Check> {
    let (bolts, diameter_mm) = (&ec5_2004.table.bolts, driven.spec.diameter_mm);
    let asked = ask(topic(border), ec5("Table 8.4"));
    let mut candidates = Vec::new();
    for is_loaded in cases(border) {
        for angle_deg in angles(border.load_to_grain_deg) {
            let at = (angle_deg, diameter_mm);
            let steps = match (border.is_end, is_loaded) {
                (true, true) => {
                    raised(diameters("a3t", bolts.a3t, diameter_mm), "80 mm at least", bolts.a3t_least_mm)
                }
                // Up to 30 degrees 4 d is printed, which the floor of the sine term comes to.
                (true, false) => {
                    let least_mm = bolts.a3c_least * diameter_mm;
                    raised(turned("a3c", bolts.a3c, Turn::Sine, at), "4 d at least", least_mm)
                }
                (false, true) => {
                    let least_mm = bolts.a4t_least * diameter_mm;
                    raised(turned("a4t", bolts.a4t, Turn::Sine, at), "3 d at least", least_mm)
                }
                (false, false) => diameters("a4c", bolts.a4c, diameter_mm),
            };
            candidates.push(asked.at_least(Quantity::Length(border.distance_mm), steps));
        }
    }
    settle(candidates)
}

/// a1,CG and a2,CG of Table 8.6, read at the place where the screw crosses the face.
fn axial_border(ec5_2004: &En1995, driven: &Driven<'_>, border: &Border<'_>) -> Vec<Check> {
    let screws = &ec5_2004.table.axial_screws;
    let (symbol, factor) = if border.is_end { ("a1_CG", screws.a1cg) } else { ("a2_CG", screws.a2cg) };
    let working = diameters(symbol, factor, driven.spec.diameter_mm);
    vec![ask(topic(border), ec5("Table 8.6")).at_least(Quantity::Length(border.distance_mm), working)]
}

/// a1 along and a2 across the grain.
pub(super) fn spacing(ec5_2004: &En1995, driven: &Driven<'_>, pair: &Pair<'_>) -> Vec<Check> {
    let kind = driven.spec.kind;
    if !pair.material.family.is_wood() || kind == FastenerKind::MasonryScrew {
        return Vec::new();
    }
    let diameter_mm = driven.spec.diameter_mm;
    let is_screw = matches!(kind, FastenerKind::WoodScrew | FastenerKind::LagScrew);
    if pair.axial && is_screw {
        let screws = &ec5_2004.table.axial_screws;
        let (a1, a2) = (diameters("a1", screws.a1, diameter_mm), diameters("a2", screws.a2, diameter_mm));
        return both(pair, "Table 8.6", (vec![a1], vec![a2]));
    }
    if ec5_2004.is_like_nail(driven) {
        return nail_spacing(ec5_2004, driven, pair);
    }
    if pair.axial {
        return Vec::new();
    }
    let bolts = &ec5_2004.table.bolts;
    let a1 = angles(pair.load_to_grain_deg)
        .map(|angle_deg| turned("a1", bolts.a1, Turn::Cosine, (angle_deg, diameter_mm)))
        .collect();
    both(pair, "Table 8.4", (a1, vec![diameters("a2", bolts.a2, diameter_mm)]))
}

/// Candidates of both spacings, settled. Where only one of them hangs on what is not known, the other
/// stands in both groups, for of each group any one is enough.
fn both(pair: &Pair<'_>, clause: &'static str, (a1, a2): (Vec<Vec<Step>>, Vec<Vec<Step>>)) -> Vec<Check> {
    let settled = |topic, mm, workings: Vec<Vec<Step>>| {
        let asked = ask(topic, ec5(clause));
        settle(workings.into_iter().map(|it| asked.at_least(Quantity::Length(mm), it)).collect())
    };
    let mut along = settled(Topic::Spacing, pair.along_mm, a1);
    let mut across = settled(Topic::RowSpacing, pair.across_mm, a2);
    if along.len() < across.len() {
        along.extend(along.first().cloned().map(Check::recommended));
    } else if across.len() < along.len() {
        across.extend(across.first().cloned().map(Check::recommended));
    }
    along.append(&mut across);
    along
}

/// a1 and a2 of Table 8.2, times 0.7 under steel (8.3.1.4(1)) and 0.85 with panels (8.3.1.3(1)).
fn nail_spacing(ec5_2004: &En1995, driven: &Driven<'_>, pair: &Pair<'_>) -> Vec<Check> {
    let (nails, beside) = (&ec5_2004.table.nails, &ec5_2004.table.nails_beside);
    let diameter_mm = driven.spec.diameter_mm;
    let is_thick = at_least(diameter_mm, nails.thick_from_mm);
    let is_panel = pair.material.family == Family::Panel || pair.beside == Some(Family::Panel);
    let (clause, times) = match pair.beside {
        Some(Family::Steel) => ("8.3.1.4(1)", Some(beside.steel)),
        _ if is_panel => ("8.3.1.3(1)", Some(beside.panel)),
        _ => ("Table 8.2", None),
    };
    let scaled = |mut steps: Vec<Step>, symbol| {
        let full_mm = steps.last().map_or(0.0, |it| it.value.value());
        if let Some(factor) = times {
            steps.push(given("m", Quantity::Number(factor)));
            steps.push(length(symbol, "m k d", factor * full_mm));
        }
        steps
    };
    let (mut along, mut across) = (Vec::new(), Vec::new());
    // A load along the shanks has no angle to the grain; the rules for a load along the grain hold.
    let to_grain_deg = if pair.axial { Some(0.0) } else { pair.load_to_grain_deg };
    for column in columns(ec5_2004, driven, pair.material) {
        for angle_deg in angles(to_grain_deg) {
            let at = (angle_deg, diameter_mm);
            let a1 = if is_thick { column.a1_thick } else { column.a1 };
            along.push(scaled(turned("a1", a1, Turn::Cosine, at), "a1"));
            across.push(scaled(turned("a2", column.a2, Turn::Sine, at), "a2"));
        }
    }
    both(pair, clause, (along, across))
}
