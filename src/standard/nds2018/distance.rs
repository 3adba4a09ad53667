//! End and edge distances and spacings: Tables 12.5.1A to 12.5.1E for 1/4 in and more, and the
//! advice of Commentary Tables C12.1.5.7 and C12.1.6.6 below that.

use super::table::Small;
use super::{Nds2018, diameters, nds};
use crate::standard::table::{angles, ask, begun, either, given, length, number, settle};
use crate::standard::{Border, Check, Driven, Pair, Quantity, Source, Step, Topic};
use crate::stock::{Family, FastenerKind, WoodType};
use crate::unit::compare::{at_least, at_most};

/// One end or edge distance.
pub(super) fn border(nds: &Nds2018, driven: &Driven<'_>, border: &Border<'_>) -> Vec<Check> {
    if !border.material.family.is_wood() {
        return Vec::new();
    }
    if !nds.is_large(driven) {
        return small_border(nds, driven, border);
    }
    if border.axial {
        return axial_border(nds, driven, border);
    }
    if border.is_end { end(nds, driven, border) } else { edge(nds, driven, border) }
}

/// The distance from which on nothing more is asked: the greatest factor of the tables that may hold.
pub(super) fn enough_mm(nds: &Nds2018, driven: &Driven<'_>, row_spacing_mm: Option<f64>) -> f64 {
    let diameter_mm = driven.spec.diameter_mm;
    let greatest = |factors: &[f64]| factors.iter().copied().fold(0.0, f64::max) * diameter_mm;
    let table = &nds.table;
    if nds.is_large(driven) {
        let (end, edge, axial) = (&table.end_distance, &table.edge_distance, &table.axial_lag_screw);
        let rows = &table.between_rows;
        let half_row_mm = row_spacing_mm.map_or(0.0, |it| it * edge.part_of_row_spacing);
        return greatest(&[
            end.softwood_loaded,
            end.hardwood_loaded,
            end.not_loaded,
            end.perpendicular,
            edge.parallel,
            edge.perpendicular_loaded,
            edge.perpendicular_not_loaded,
            table.in_row.full,
            table.in_row.least,
            rows.parallel,
            rows.stocky_rows,
            rows.slender_rows,
            axial.end,
            axial.edge,
            axial.spacing,
        ])
        .max(half_row_mm);
    }
    [&table.small_in_wood, &table.small_under_steel]
        .into_iter()
        .flat_map(|it| {
            [
                it.edge,
                it.end_loaded,
                it.end_not_loaded,
                it.in_row_parallel,
                it.in_row_perpendicular,
                it.rows_in_line,
                it.rows_staggered,
            ]
        })
        .map(|it| greatest(&it))
        .fold(0.0, f64::max)
}

/// The values that hold along and across the grain, at an angle between them: straight between,
/// as Commentary C12.5.1.2 does it for end distances.
fn between(symbol: &'static str, along: f64, across: f64, angle_deg: f64) -> Vec<Step> {
    begun([
        given("k_0", Quantity::Number(along)),
        given("k_90", Quantity::Number(across)),
        given("angle", Quantity::Angle(angle_deg)),
        number(symbol, "k_0 + (k_90 - k_0) angle / 90", (across - along).mul_add(angle_deg / 90.0, along)),
    ])
}

/// The last factor times D, after the steps that led to it.
fn times_diameter(mut steps: Vec<Step>, symbol: &'static str, diameter_mm: f64) -> Vec<Step> {
    let (factor, formula) = steps
        .last()
        .map_or((0.0, "k D"), |it| (it.value.value(), if it.symbol == "h" { "h D" } else { "k D" }));
    steps.push(given("D", Quantity::Length(diameter_mm)));
    steps.push(length(symbol, formula, factor * diameter_mm));
    steps
}

/// The cases of loaded and not loaded that are possible.
fn cases(loaded: Option<bool>) -> impl Iterator<Item = bool> {
    either(loaded, (false, true))
}

/// End distance, Table 12.5.1A: the full value, and half of it as the least that is allowed.
fn end(nds_2018: &Nds2018, driven: &Driven<'_>, border: &Border<'_>) -> Vec<Check> {
    let full = &nds_2018.table.end_distance;
    let diameter_mm = driven.spec.diameter_mm;
    let measured = Quantity::Length(border.distance_mm);
    let loaded_along = match border.material.wood {
        Some(WoodType::Hardwood) => full.hardwood_loaded,
        Some(WoodType::Softwood) | None => full.softwood_loaded,
    };
    let (mut least, mut whole) = (Vec::new(), Vec::new());
    for is_loaded in cases(border.loaded) {
        for angle_deg in angles(border.load_to_grain_deg) {
            let along = if is_loaded { loaded_along } else { full.not_loaded };
            let mut steps = between("k", along, full.perpendicular, angle_deg);
            let whole_factor = steps.last().map_or(0.0, |it| it.value.value());
            let asked = ask(Topic::EndDistance, nds("Table 12.5.1A"));
            let working = times_diameter(steps.clone(), "e_full", diameter_mm);
            whole.push(asked.at_least(measured, working).recommended());
            steps.push(number("h", "k / 2", full.least_part * whole_factor));
            least.push(asked.at_least(measured, times_diameter(steps, "e_min", diameter_mm)));
        }
    }
    // Below the least in any case: not allowed. Below the full value in the worst case: reduced.
    let mut checks: Vec<Check> = smallest(least).into_iter().collect();
    checks.extend(largest(whole).map(|it| reduced(it, "e / e_full")));
    checks
}

/// With the geometry factor that a distance below the full one costs.
fn reduced(check: Check, formula: &'static str) -> Check {
    let factor = check.measured.value() / check.required.value();
    check.with(number("C_delta", formula, factor.min(1.0)))
}

fn smallest(checks: Vec<Check>) -> Option<Check> {
    checks.into_iter().min_by(|a, b| a.required.value().total_cmp(&b.required.value()))
}

fn largest(checks: Vec<Check>) -> Option<Check> {
    checks.into_iter().max_by(|a, b| a.required.value().total_cmp(&b.required.value()))
}

/// Edge distance, Table 12.5.1C. It is never reduced.
fn edge(nds_2018: &Nds2018, driven: &Driven<'_>, border: &Border<'_>) -> Vec<Check> {
    let table = &nds_2018.table.edge_distance;
    let diameter_mm = driven.spec.diameter_mm;
    let measured = Quantity::Length(border.distance_mm);
    let asked = ask(Topic::EdgeDistance, nds("Table 12.5.1C"));
    // l/D of exactly 6 belongs to the stocky row.
    let is_stocky = at_most(border.thickness_mm, table.slender * diameter_mm);
    let half_row_mm = border
        .row_spacing_mm
        .filter(|_| !is_stocky)
        .map(|it| it * table.part_of_row_spacing)
        .filter(|it| table.parallel * diameter_mm < *it);
    let mut candidates = Vec::new();
    for is_loaded in cases(border.loaded) {
        for angle_deg in angles(border.load_to_grain_deg) {
            let across = if is_loaded { table.perpendicular_loaded } else { table.perpendicular_not_loaded };
            // Half the row spacing stands for 1.5 D in the row of the table for loads along the grain.
            let along = half_row_mm.map_or(table.parallel, |it| it / diameter_mm);
            let steps = between("k", along, across, angle_deg);
            candidates.push(asked.at_least(measured, times_diameter(steps, "e_min", diameter_mm)));
        }
    }
    settle(candidates)
}

/// Lag screws in withdrawal only, Table 12.5.1E.
fn axial_border(nds_2018: &Nds2018, driven: &Driven<'_>, border: &Border<'_>) -> Vec<Check> {
    if driven.spec.kind != FastenerKind::LagScrew {
        return Vec::new();
    }
    let table = &nds_2018.table.axial_lag_screw;
    let (topic, factor) =
        if border.is_end { (Topic::EndDistance, table.end) } else { (Topic::EdgeDistance, table.edge) };
    let working = diameters("e_min", factor, driven.spec.diameter_mm);
    vec![ask(topic, nds("Table 12.5.1E")).at_least(Quantity::Length(border.distance_mm), working)]
}

/// Where the advice for a small fastener is printed.
fn advice(driven: &Driven<'_>) -> Source {
    match driven.spec.kind {
        FastenerKind::Nail => nds("Commentary Table C12.1.6.6"),
        FastenerKind::WoodScrew
        | FastenerKind::LagScrew
        | FastenerKind::Bolt
        | FastenerKind::ThreadedRod
        | FastenerKind::MasonryScrew => nds("Commentary Table C12.1.5.7"),
    }
}

/// The advisory table that holds, by what lies beside, and its column: 0 not bored, 1 bored.
fn small<'a>(nds: &'a Nds2018, driven: &Driven<'_>, beside: Option<Family>) -> (&'a Small, usize) {
    let is_under_steel = beside == Some(Family::Steel);
    let table = if is_under_steel { &nds.table.small_under_steel } else { &nds.table.small_in_wood };
    (table, usize::from(driven.hole_mm.is_some()))
}

/// Advice below 1/4 in; 12.1.5.7 and 12.1.6.5 only demand that the wood does not split.
fn small_border(nds: &Nds2018, driven: &Driven<'_>, border: &Border<'_>) -> Vec<Check> {
    let (table, column) = small(nds, driven, border.beside);
    let diameter_mm = driven.spec.diameter_mm;
    let measured = Quantity::Length(border.distance_mm);
    if !border.is_end {
        let working = diameters("e", table.edge[column], diameter_mm);
        return vec![ask(Topic::EdgeDistance, advice(driven)).at_least(measured, working).recommended()];
    }
    let not_loaded = table.end_not_loaded[column];
    let is_loaded = !border.axial && border.loaded != Some(false);
    let along = if is_loaded { table.end_loaded[column] } else { not_loaded };
    let angle_deg = border.load_to_grain_deg.map_or(0.0, |it| it.clamp(0.0, 90.0));
    let working = times_diameter(between("k", along, not_loaded, angle_deg), "e", diameter_mm);
    vec![ask(Topic::EndDistance, advice(driven)).at_least(measured, working).recommended()]
}

/// Two neighbours: Table 12.5.1B in a row and 12.5.1D between rows, by the way of the load.
///
/// A row lies along the load. So along the grain the distance is that in a row for a load along
/// the grain, and that between rows for a load across it; across the grain the other way round.
pub(super) fn spacing(nds_2018: &Nds2018, driven: &Driven<'_>, pair: &Pair<'_>) -> Vec<Check> {
    if !pair.material.family.is_wood() {
        return Vec::new();
    }
    if !nds_2018.is_large(driven) {
        return small_spacing(nds_2018, driven, pair);
    }
    let diameter_mm = driven.spec.diameter_mm;
    let (along_mm, across_mm) = (Quantity::Length(pair.along_mm), Quantity::Length(pair.across_mm));
    if pair.axial {
        if driven.spec.kind != FastenerKind::LagScrew {
            return Vec::new();
        }
        let working = diameters("s_min", nds_2018.table.axial_lag_screw.spacing, diameter_mm);
        return vec![
            ask(Topic::Spacing, nds("Table 12.5.1E")).at_least(along_mm, working.clone()),
            ask(Topic::RowSpacing, nds("Table 12.5.1E")).at_least(across_mm, working),
        ];
    }
    let (in_row, rows) = (&nds_2018.table.in_row, &nds_2018.table.between_rows);
    let rows_across = rows_loaded_across(nds_2018, diameter_mm, pair.thickness_mm);
    let (mut along, mut along_full, mut across) = (Vec::new(), Vec::new(), Vec::new());
    for angle_deg in angles(pair.load_to_grain_deg) {
        let clause = if angle_deg < 45.0 { nds("Table 12.5.1B") } else { nds("Table 12.5.1D") };
        let other = if angle_deg < 45.0 { nds("Table 12.5.1D") } else { nds("Table 12.5.1B") };
        let steps =
            |k_0, k_90, symbol| times_diameter(between("k", k_0, k_90, angle_deg), symbol, diameter_mm);
        along.push(ask(Topic::Spacing, clause).at_least(along_mm, steps(in_row.least, rows_across, "s_min")));
        along_full
            .push(ask(Topic::Spacing, clause).at_least(along_mm, steps(in_row.full, rows_across, "s_full")));
        across.push(
            ask(Topic::RowSpacing, other).at_least(across_mm, steps(rows.parallel, in_row.least, "s_min")),
        );
    }
    let mut checks: Vec<Check> = smallest(along).into_iter().collect();
    checks.extend(smallest(across.clone()));
    checks.extend(largest(along_full).map(|it| reduced(it, "s / s_full").recommended()));
    checks.extend(largest(across).map(Check::recommended));
    checks
}

/// Rows of fasteners that are loaded across the grain, Table 12.5.1D, in D:
/// 2.5 for l/D up to 2, (5 l + 10 D) / 8 D between, 5 from l/D 6 on.
fn rows_loaded_across(nds: &Nds2018, diameter_mm: f64, length_mm: f64) -> f64 {
    let rows = &nds.table.between_rows;
    if at_most(length_mm, rows.stocky * diameter_mm) {
        rows.stocky_rows
    } else if at_least(length_mm, rows.slender * diameter_mm) {
        rows.slender_rows
    } else {
        5.0_f64.mul_add(length_mm, 10.0 * diameter_mm) / (8.0 * diameter_mm)
    }
}

/// Advice below 1/4 in.
fn small_spacing(nds: &Nds2018, driven: &Driven<'_>, pair: &Pair<'_>) -> Vec<Check> {
    let (table, column) = small(nds, driven, pair.beside);
    let diameter_mm = driven.spec.diameter_mm;
    let (row, row_across) = (table.in_row_parallel[column], table.in_row_perpendicular[column]);
    let angle_deg = pair.load_to_grain_deg.map_or(0.0, |it| it.clamp(0.0, 90.0));
    // Rows are staggered when the neighbours in them stand half a spacing apart along the row; how
    // far out of line that has to be is not printed, and half is the middle between two of a row.
    let is_staggered = if angle_deg < 45.0 {
        at_least(pair.along_mm, row * diameter_mm / 2.0)
    } else {
        at_least(pair.across_mm, row_across * diameter_mm / 2.0)
    };
    let rows = if is_staggered { table.rows_staggered[column] } else { table.rows_in_line[column] };
    let steps = |k_0, k_90| times_diameter(between("k", k_0, k_90, angle_deg), "s", diameter_mm);
    let source = advice(driven);
    vec![
        ask(Topic::Spacing, source).at_least(Quantity::Length(pair.along_mm), steps(row, rows)).recommended(),
        ask(Topic::RowSpacing, source)
            .at_least(Quantity::Length(pair.across_mm), steps(rows, row_across))
            .recommended(),
    ]
}
