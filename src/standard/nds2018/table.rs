//! The numbers of `resources/standards/nds-2018.toml`, which says of each where it is printed.

use serde::Deserialize;

use crate::standard::table::{Band, Origin};

/// The whole file.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Table {
    pub(super) large_diameter: LargeDiameter,
    pub(super) penetration: Penetration,
    pub(super) toe_nail: ToeNail,
    pub(super) end_distance: EndDistance,
    pub(super) edge_distance: EdgeDistance,
    pub(super) in_row: InRow,
    pub(super) between_rows: BetweenRows,
    pub(super) axial_lag_screw: AxialLagScrew,
    pub(super) spread: Spread,
    pub(super) small_in_wood: Small,
    pub(super) small_under_steel: Small,
    pub(super) lag_lead: Bands,
    pub(super) lag_lead_free: LagLeadFree,
    pub(super) screw_lead: Bands,
    pub(super) nail_hole: Bands,
    pub(super) bolt_hole: BoltHole,
    pub(super) washer: Washer,
    pub(super) end_grain: EndGrain,
    pub(super) treated_wood: TreatedWood,
}

/// From which diameter on the binding tables hold.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct LargeDiameter {
    #[serde(rename = "origin")]
    _origin: Origin,
    pub(super) from_mm: f64,
}

/// Least penetrations, in D.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Penetration {
    #[serde(rename = "origin")]
    _origin: Origin,
    pub(super) lag_screw: f64,
    pub(super) wood_screw: f64,
    pub(super) nail: f64,
}

/// Slope and start of a toe-nail.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct ToeNail {
    #[serde(rename = "origin")]
    _origin: Origin,
    pub(super) angle_deg: f64,
    pub(super) start_of_length: f64,
}

/// End distances, in D.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct EndDistance {
    #[serde(rename = "origin")]
    _origin: Origin,
    pub(super) softwood_loaded: f64,
    pub(super) hardwood_loaded: f64,
    pub(super) not_loaded: f64,
    pub(super) perpendicular: f64,
    pub(super) least_part: f64,
}

/// Edge distances, in D.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct EdgeDistance {
    #[serde(rename = "origin")]
    _origin: Origin,
    pub(super) parallel: f64,
    pub(super) slender: f64,
    pub(super) perpendicular_loaded: f64,
    pub(super) perpendicular_not_loaded: f64,
    pub(super) part_of_row_spacing: f64,
}

/// Spacing in a row, in D.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct InRow {
    #[serde(rename = "origin")]
    _origin: Origin,
    pub(super) full: f64,
    pub(super) least: f64,
}

/// Spacing between rows, in D.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct BetweenRows {
    #[serde(rename = "origin")]
    _origin: Origin,
    pub(super) parallel: f64,
    pub(super) stocky: f64,
    pub(super) stocky_rows: f64,
    pub(super) slender: f64,
    pub(super) slender_rows: f64,
}

/// Lag screws in withdrawal only, in D.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct AxialLagScrew {
    #[serde(rename = "origin")]
    _origin: Origin,
    pub(super) edge: f64,
    pub(super) end: f64,
    pub(super) spacing: f64,
}

/// Greatest distance across the grain.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Spread {
    #[serde(rename = "origin")]
    _origin: Origin,
    pub(super) most_mm: f64,
}

/// Advisory distances of nails and small wood screws, in D: not bored, bored.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Small {
    #[serde(rename = "origin")]
    _origin: Origin,
    pub(super) edge: [f64; 2],
    pub(super) end_loaded: [f64; 2],
    pub(super) end_not_loaded: [f64; 2],
    pub(super) in_row_parallel: [f64; 2],
    pub(super) in_row_perpendicular: [f64; 2],
    pub(super) rows_in_line: [f64; 2],
    pub(super) rows_staggered: [f64; 2],
}

/// Hole diameters by specific gravity.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Bands {
    #[serde(rename = "origin")]
    _origin: Origin,
    pub(super) bands: Vec<Band>,
}

/// Lag screws that may go without a lead hole in withdrawal.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct LagLeadFree {
    #[serde(rename = "origin")]
    _origin: Origin,
    pub(super) diameter_to_mm: f64,
    pub(super) gravity_to: f64,
}

/// How much wider than the bolt its hole is.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct BoltHole {
    #[serde(rename = "origin")]
    _origin: Origin,
    pub(super) least_over_mm: f64,
    pub(super) most_over_mm: f64,
}

/// Standard cut washers.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Washer {
    #[serde(rename = "origin")]
    _origin: Origin,
    pub(super) sizes_in: Vec<WasherSize>,
}

/// What is left of a value in end grain.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct EndGrain {
    #[serde(rename = "origin")]
    _origin: Origin,
    pub(super) sideways: f64,
    pub(super) lag_withdrawal: f64,
}

/// Bolts that may be plain in treated wood.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct TreatedWood {
    #[serde(rename = "origin")]
    _origin: Origin,
    pub(super) plain_bolt_from_mm: f64,
}

/// One standard cut washer, inches.
#[derive(Clone, Copy, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct WasherSize {
    pub(super) bolt: f64,
    pub(super) outer: f64,
    pub(super) thickness: f64,
}
