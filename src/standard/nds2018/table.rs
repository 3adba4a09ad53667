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
    pub(super) steel_bearing: SteelBearing,
    pub(super) load_duration: LoadDuration,
    pub(super) wet_service: WetService,
    pub(super) wet_crushing: WetCrushing,
    pub(super) heat: HeatLeft,
    pub(super) group_action: GroupAction,
    pub(super) diaphragm: Diaphragm,
    pub(super) toe_nail_factor: ToeNailFactor,
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

/// Bearing strength of steel under a dowel, by its thickness.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct SteelBearing {
    #[serde(rename = "origin")]
    _origin: Origin,
    pub(super) plate_from_mm: f64,
    pub(super) plate_psi: f64,
    pub(super) sheet_psi: f64,
}

/// Factors for how long the load acts.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct LoadDuration {
    #[serde(rename = "origin")]
    _origin: Origin,
    pub(super) permanent: f64,
    pub(super) ten_years: f64,
    pub(super) two_months: f64,
    pub(super) seven_days: f64,
    pub(super) ten_minutes: f64,
    pub(super) impact: f64,
}

/// Factors for wood that is or was wet.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct WetService {
    #[serde(rename = "origin")]
    _origin: Origin,
    pub(super) lateral_wet: f64,
    pub(super) lateral_wet_then_dry: f64,
    pub(super) lateral_wet_then_dry_thin: f64,
    pub(super) screw_withdrawal_wet: f64,
    pub(super) nail_withdrawal_changing: f64,
    pub(super) pull_through_wet: f64,
}

/// The factor for wet wood that is crushed across the grain.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct WetCrushing {
    #[serde(rename = "origin")]
    _origin: Origin,
    pub(super) wet: f64,
}

/// Factors for sustained heat: dry, wet.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct HeatLeft {
    #[serde(rename = "origin")]
    _origin: Origin,
    pub(super) warm: [f64; 2],
    pub(super) hot: [f64; 2],
}

/// Load/slip moduli of a fastener in a row, over D^1.5.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct GroupAction {
    #[serde(rename = "origin")]
    _origin: Origin,
    pub(super) wood_to_wood: f64,
    pub(super) wood_to_steel: f64,
}

/// The factor for nails of a diaphragm.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Diaphragm {
    #[serde(rename = "origin")]
    _origin: Origin,
    pub(super) factor: f64,
}

/// What is left of a value for a toe-nail.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct ToeNailFactor {
    #[serde(rename = "origin")]
    _origin: Origin,
    pub(super) lateral: f64,
    pub(super) withdrawal: f64,
}
