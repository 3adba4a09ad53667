//! What is carried, as other programs read it. Forces are newtons, lengths millimetres.

use std::collections::BTreeMap;

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::findings::carry::{
    AlongCarries, Carries, Carrying, Connection, PlaneCarries, Rated, Shear, Splits,
};
use crate::standard::capacity::{Factor, Mode};

/// One shear plane. Of a shank in double shear each of the two has half of what that carries.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct PlaneResult {
    /// Id of the member or connector on the head side.
    pub side: String,
    /// Id of the one on the point side.
    pub main: String,
    /// Air and fillings between them, mm along the axis.
    pub gap_mm: f64,
    /// `single`, `double` or `multiple`.
    pub shear: String,
    /// Degrees between the load and the grain of the side and of the main body; 90 where no load is known.
    pub load_to_grain_deg: [f64; 2],
    /// The standard's name of the mode that governs; null where there is no value.
    pub mode: Option<String>,
    /// Every mode by its name, newtons.
    pub modes: BTreeMap<String, f64>,
    /// The reference (NDS) or characteristic (EN) value; null where there is none.
    pub reference_n: Option<f64>,
    /// Every adjustment by its word.
    pub factors: BTreeMap<String, f64>,
    /// The adjusted (NDS) or design (EN) value; null where there is none.
    pub adjusted_n: Option<f64>,
    /// What the load asks; null without a load of known size.
    pub demand_n: Option<f64>,
    /// Demand over capacity; null without a load or a value.
    pub ratio: Option<f64>,
    /// Why there is no value; null where there is one.
    pub no_value: Option<String>,
}

/// What a shank carries along its axis.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct WithdrawalResult {
    /// Length that counts, mm; 0 where withdrawal is not what fails.
    pub length_mm: f64,
    /// Withdrawal per millimetre of it.
    pub reference_n_per_mm: f64,
    /// What fails: `withdrawal`, `pull-through`, `washer bearing`, `steel in tension`.
    pub mode: String,
    /// Every mode by its name, newtons.
    pub modes: BTreeMap<String, f64>,
    /// The reference or characteristic value of the mode that governs.
    pub reference_n: f64,
    /// Every adjustment by its word.
    pub factors: BTreeMap<String, f64>,
    /// The adjusted or design value.
    pub adjusted_n: f64,
    /// What the load pulls; null without a load of known size.
    pub demand_n: Option<f64>,
    /// Demand over capacity; null without a load.
    pub ratio: Option<f64>,
}

/// All fasteners between two members or connectors.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct ConnectionResult {
    /// Ids of the two.
    pub between: [String; 2],
    /// Ids of its fasteners.
    pub fasteners: Vec<String>,
    /// Ids of those of them that have no value in a plane.
    pub without_value: Vec<String>,
    /// Sum of what their shear planes carry; those without a value count as nothing.
    pub adjusted_n: f64,
    /// Sum of what is asked of them; null without a load of known size.
    pub demand_n: Option<f64>,
    /// Sum of what pulls along its fasteners; null without a load of known size.
    pub pulled_n: Option<f64>,
    /// What is asked of the shear planes over what they carry.
    pub ratio: Option<f64>,
    /// The greatest ratio of any of its fasteners.
    pub worst_ratio: Option<f64>,
    /// What is not counted, and why.
    pub not_counted: Vec<String>,
}

/// A typed-in rating beside the fastening as drawn.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct RatingResult {
    /// Id of the connector.
    pub connector: String,
    /// The rating as typed.
    pub rating_n: f64,
    /// What goes through the connector that way; null without a load of known size.
    pub demand_n: Option<f64>,
    /// Whether the fastening as drawn is the one that the rating presumes.
    pub holds: bool,
    /// What differs, a clause each.
    pub differs: Vec<String>,
    /// What is worked out as drawn over what is worked out as presumed: an indication; null where one of
    /// them has no value.
    pub indication: Option<f64>,
}

/// A member that its fasteners push across its grain (EN 1995-1-1 8.1.4).
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct SplittingResult {
    /// Id of the member.
    pub member: String,
    /// The characteristic value; null where there is none.
    pub reference_n: Option<f64>,
    /// Every adjustment by its word.
    pub factors: BTreeMap<String, f64>,
    /// The design value; null where there is none.
    pub adjusted_n: Option<f64>,
    /// What shears it, at most.
    pub demand_n: f64,
    /// The one over the other, at most; null where there is no value.
    pub ratio: Option<f64>,
    /// Why there is no value; null where there is one.
    pub no_value: Option<String>,
}

/// A case of loads.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct CaseResult {
    /// For people: `load 1 on ledger`.
    pub name: String,
    /// Places in the joint's loads, from 0.
    pub loads: Vec<usize>,
}

/// A number that JSON can say.
fn finite(value: Option<f64>) -> Option<f64> {
    value.filter(|it| it.is_finite())
}

fn by_name(modes: &[Mode]) -> BTreeMap<String, f64> {
    modes.iter().filter(|it| it.newtons.is_finite()).map(|it| (it.name.to_owned(), it.newtons)).collect()
}

fn by_key(factors: &[Factor]) -> BTreeMap<String, f64> {
    factors.iter().map(|it| (it.key.to_owned(), it.value)).collect()
}

/// The planes of a fastener.
pub(super) fn planes(carries: &Carries) -> Vec<PlaneResult> {
    carries.planes.iter().map(plane).collect()
}

fn plane(it: &PlaneCarries) -> PlaneResult {
    let value = it.value.as_ref().ok();
    PlaneResult {
        side: it.side.clone(),
        main: it.main.clone(),
        gap_mm: it.gap_mm,
        shear: match it.shear {
            Shear::Single => "single",
            Shear::HalfOfDouble => "double",
            Shear::OneOf(_) => "multiple",
        }
        .to_owned(),
        load_to_grain_deg: it.to_grain_deg,
        mode: value.map(|it| it.mode.to_owned()),
        modes: value.map_or_else(BTreeMap::new, |it| by_name(&it.modes)),
        reference_n: value.map(|it| it.reference_n),
        factors: value.map_or_else(BTreeMap::new, |it| by_key(&it.factors)),
        adjusted_n: value.map(|it| it.adjusted_n),
        demand_n: it.demand_n,
        ratio: finite(it.ratio),
        no_value: it.value.as_ref().err().map(|it| it.because.clone()),
    }
}

/// What a fastener carries along itself; nothing where no value applies.
pub(super) fn withdrawal(it: &AlongCarries) -> Option<WithdrawalResult> {
    let value = it.value.as_ref().ok()?;
    Some(WithdrawalResult {
        length_mm: value.length_mm,
        reference_n_per_mm: value.reference_n_per_mm,
        mode: value.mode.to_owned(),
        modes: by_name(&value.modes),
        reference_n: value.reference_n,
        factors: by_key(&value.factors),
        adjusted_n: value.adjusted_n,
        demand_n: it.demand_n,
        ratio: finite(it.ratio),
    })
}

pub(super) fn connections(carrying: &Carrying) -> Vec<ConnectionResult> {
    let each = |it: &Connection| ConnectionResult {
        between: it.between.clone(),
        fasteners: it.fasteners.clone(),
        without_value: it.without_value.clone(),
        adjusted_n: it.adjusted_n,
        demand_n: it.demand_n,
        pulled_n: it.pulled_n,
        ratio: finite(it.ratio),
        worst_ratio: finite(it.worst_ratio),
        not_counted: it.not_counted.clone(),
    };
    carrying.connections.iter().map(each).collect()
}

pub(super) fn ratings(carrying: &Carrying) -> Vec<RatingResult> {
    let each = |it: &Rated| RatingResult {
        connector: it.connector.clone(),
        rating_n: it.newtons,
        demand_n: it.demand_n,
        holds: it.differs.is_empty(),
        differs: it.differs.iter().map(|it| it.says.clone()).collect(),
        indication: finite(it.ratio),
    };
    carrying.ratings.iter().map(each).collect()
}

pub(super) fn splitting(carrying: &Carrying) -> Vec<SplittingResult> {
    let each = |it: &Splits| {
        let value = it.value.as_ref().ok();
        SplittingResult {
            member: it.member.clone(),
            reference_n: value.map(|it| it.reference_n),
            factors: value.map_or_else(BTreeMap::new, |it| by_key(&it.factors)),
            adjusted_n: value.map(|it| it.adjusted_n),
            demand_n: it.demand_n,
            ratio: finite(it.ratio),
            no_value: it.value.as_ref().err().map(|it| it.because.clone()),
        }
    };
    carrying.splits.iter().map(each).collect()
}

pub(super) fn cases(carrying: &Carrying) -> Vec<CaseResult> {
    carrying.cases.iter().map(|it| CaseResult { name: it.name.clone(), loads: it.loads.clone() }).collect()
}
