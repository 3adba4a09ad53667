//! The numbers of the `carry` part of `resources/standards/en-1995-1-1.toml`.

use serde::Deserialize;

use crate::standard::table::Origin;

/// Everything that section 8 and the factors of sections 2 and 3 take from tables.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(in crate::standard::en1995) struct Carry {
    pub(super) rope: Rope,
    pub(super) plate: Plate,
    pub(super) wire: Wire,
    pub(super) diameter: Diameter,
    pub(super) k90: K90,
    pub(super) row: Row,
    pub(super) nail_axial: NailAxial,
    pub(super) screw_axial: ScrewAxial,
    pub(super) bearing: Bearing,
    pub(super) steel: Steel,
    pub(super) gamma: Gamma,
    pub(super) kmod: Kmod,
}

/// Limits of the rope effect, as parts of the Johansen part.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Rope {
    #[serde(rename = "origin")]
    _origin: Origin,
    pub(super) round_nail: f64,
    pub(super) other_nail: f64,
    pub(super) screw: f64,
    pub(super) bolt: f64,
}

/// Thin and thick steel plates, in d.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Plate {
    #[serde(rename = "origin")]
    _origin: Origin,
    pub(super) thin: f64,
    pub(super) thick: f64,
    pub(super) tolerance: f64,
}

/// Wire of nails.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Wire {
    #[serde(rename = "origin")]
    _origin: Origin,
    pub(super) nail_tensile: f64,
}

/// How far rules reach by diameter, and what of a screw counts.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Diameter {
    #[serde(rename = "origin")]
    _origin: Origin,
    pub(super) nail_to_mm: f64,
    pub(super) bolt_to_mm: f64,
    pub(super) screw_root: f64,
    pub(super) screw_shank: f64,
}

/// Terms of `k_90`.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct K90 {
    #[serde(rename = "origin")]
    _origin: Origin,
    pub(super) softwood: f64,
    pub(super) lvl: f64,
    pub(super) hardwood: f64,
    pub(super) per_mm: f64,
}

/// Table 8.1.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Row {
    #[serde(rename = "origin")]
    _origin: Origin,
    pub(super) k_ef: [[f64; 2]; 3],
    pub(super) k_ef_predrilled: [f64; 2],
}

/// Nails along their axis.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct NailAxial {
    #[serde(rename = "origin")]
    _origin: Origin,
    pub(super) withdrawal: f64,
    pub(super) pull_through: f64,
    pub(super) threaded_withdrawal: f64,
    pub(super) threaded_density: f64,
    pub(super) wet_when_made: f64,
    pub(super) end_grain_penetration: f64,
}

/// Screws along their axis.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct ScrewAxial {
    #[serde(rename = "origin")]
    _origin: Origin,
    pub(super) diameter_mm: [f64; 2],
    pub(super) root: [f64; 2],
}

/// Washers on wood.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Bearing {
    #[serde(rename = "origin")]
    _origin: Origin,
    pub(super) times: f64,
    pub(super) softwood: f64,
    pub(super) hardwood: f64,
    pub(super) dense_hardwood: f64,
    pub(super) dense_from: f64,
    pub(super) glulam: f64,
    pub(super) plate_thicknesses: f64,
    pub(super) plate_diameters: f64,
}

/// Steel in tension.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Steel {
    #[serde(rename = "origin")]
    _origin: Origin,
    pub(super) part: f64,
    pub(super) gamma_m2: f64,
}

/// Partial factors.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Gamma {
    #[serde(rename = "origin")]
    _origin: Origin,
    pub(super) connection: f64,
}

/// Table 3.1.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Kmod {
    #[serde(rename = "origin")]
    _origin: Origin,
    pub(super) timber: Classes,
    pub(super) strand: Classes,
    pub(super) particle: Classes,
    pub(super) hardboard: Classes,
}

/// Rows of Table 3.1 by service class, each from permanent to instantaneous; none where the class bars the board.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Classes {
    pub(super) dry: [f64; 5],
    pub(super) humid: Option<[f64; 5]>,
    pub(super) wet: Option<[f64; 5]>,
}
