//! The numbers of `resources/standards/en-1995-1-1.toml`, which says of each where it is printed.

use serde::Deserialize;

use super::carry::table::Carry;
use crate::standard::table::Origin;

/// The whole file.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Table {
    pub(super) nail_penetration: NailPenetration,
    pub(super) screw_penetration: ScrewPenetration,
    pub(super) nail_axial: NailAxial,
    pub(super) nail_thickness: NailThickness,
    pub(super) slant: Slant,
    pub(super) nails: Nails,
    pub(super) nails_beside: NailsBeside,
    pub(super) bolts: Bolts,
    pub(super) axial_screws: AxialScrews,
    pub(super) predrill: Predrill,
    pub(super) screw_lead: ScrewLead,
    pub(super) bolt_hole: BoltHole,
    pub(super) washer: Washer,
    pub(super) end_grain: EndGrain,
    pub(super) corrosion: Corrosion,
    pub(super) carry: Carry,
}

/// Least penetration of nails, in d.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct NailPenetration {
    #[serde(rename = "origin")]
    _origin: Origin,
    pub(super) smooth: f64,
    pub(super) threaded: f64,
}

/// Least penetration of screws, in d.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct ScrewPenetration {
    #[serde(rename = "origin")]
    _origin: Origin,
    pub(super) sideways: f64,
    pub(super) axial_thread: f64,
    pub(super) as_nail_to_mm: f64,
}

/// Penetration from which nails keep their whole withdrawal value, in d.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct NailAxial {
    #[serde(rename = "origin")]
    _origin: Origin,
    pub(super) smooth_full: f64,
    pub(super) threaded_full: f64,
}

/// The terms of the thickness below which timber is predrilled.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct NailThickness {
    #[serde(rename = "origin")]
    _origin: Origin,
    pub(super) diameters: f64,
    pub(super) slope: f64,
    pub(super) offset_mm: f64,
    pub(super) density: f64,
}

/// Slant nailing.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Slant {
    #[serde(rename = "origin")]
    _origin: Origin,
    pub(super) loaded_edge: f64,
}

/// Table 8.2.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Nails {
    #[serde(rename = "origin")]
    _origin: Origin,
    pub(super) thick_from_mm: f64,
    pub(super) light_to: f64,
    pub(super) light: NailColumn,
    pub(super) heavy: NailColumn,
    pub(super) predrilled: NailColumn,
}

/// Nails through panels and steel.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct NailsBeside {
    #[serde(rename = "origin")]
    _origin: Origin,
    pub(super) steel: f64,
    pub(super) panel: f64,
    pub(super) panel_loaded: [f64; 2],
    pub(super) panel_not_loaded: f64,
}

/// Table 8.4.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Bolts {
    #[serde(rename = "origin")]
    _origin: Origin,
    pub(super) a1: [f64; 2],
    pub(super) a2: f64,
    pub(super) a3t: f64,
    pub(super) a3t_least_mm: f64,
    pub(super) a3c: [f64; 2],
    pub(super) a3c_least: f64,
    pub(super) a4t: [f64; 2],
    pub(super) a4t_least: f64,
    pub(super) a4c: f64,
}

/// Table 8.6.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct AxialScrews {
    #[serde(rename = "origin")]
    _origin: Origin,
    pub(super) a1: f64,
    pub(super) a2: f64,
    pub(super) a1cg: f64,
    pub(super) a2cg: f64,
}

/// Predrilling of nails.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Predrill {
    #[serde(rename = "origin")]
    _origin: Origin,
    pub(super) density_from: f64,
    pub(super) nail_above_mm: f64,
    pub(super) most: f64,
}

/// Lead holes of screws.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct ScrewLead {
    #[serde(rename = "origin")]
    _origin: Origin,
    pub(super) free_to_mm: f64,
    pub(super) thread: f64,
    pub(super) tests_above: f64,
}

/// Bolt holes.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct BoltHole {
    #[serde(rename = "origin")]
    _origin: Origin,
    pub(super) timber_over_mm: f64,
    pub(super) steel_over_mm: f64,
    pub(super) steel_over_part: f64,
}

/// Washers, in d.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Washer {
    #[serde(rename = "origin")]
    _origin: Origin,
    pub(super) side: f64,
    pub(super) thickness: f64,
}

/// End grain.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct EndGrain {
    #[serde(rename = "origin")]
    _origin: Origin,
    pub(super) nail_sideways: f64,
    pub(super) screw_angle_least_deg: f64,
}

/// Table 4.1.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Corrosion {
    #[serde(rename = "origin")]
    _origin: Origin,
    pub(super) thin_to_mm: f64,
}

/// A column of Table 8.2: constant and factor of |cos a| or sin a, in d.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct NailColumn {
    pub(super) a1: [f64; 2],
    pub(super) a1_thick: [f64; 2],
    pub(super) a2: [f64; 2],
    pub(super) a3t: [f64; 2],
    pub(super) a3c: [f64; 2],
    pub(super) a4t: [f64; 2],
    pub(super) a4t_thick: [f64; 2],
    pub(super) a4c: [f64; 2],
}
