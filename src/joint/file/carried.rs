//! The parts of a joint file that settle what it may carry: what is around it, and a typed-in rating.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::measure::{Direction, Force, Partial};
use super::types::{FastenerOf, is_default};
use super::words::{Heat, RatedHoles};

/// What is around a connection.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, default)]
pub(super) struct Conditions {
    /// The wood was wet when it was nailed together.
    #[serde(skip_serializing_if = "is_default")]
    pub(super) wet_when_made: bool,
    /// How hot it gets for long.
    #[serde(skip_serializing_if = "is_default")]
    pub(super) heat: Heat,
    /// It is nailed as part of a diaphragm or shear wall.
    #[serde(skip_serializing_if = "is_default")]
    pub(super) diaphragm: bool,
    /// The partial factor of a connection; the recommended one of EN 1995-1-1 where absent.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(super) gamma_m: Option<Partial>,
}

/// What a maker says that a connector carries: only ever what the user typed.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(super) struct Rating {
    /// The rating.
    pub(super) newtons: Force,
    /// The way the load acts on what the connector carries; need not be of unit length.
    pub(super) toward: [Direction; 3],
    /// The fastening for which it was said.
    #[serde(default, skip_serializing_if = "is_default")]
    pub(super) presumes: Presumes,
    /// Where it is written, and what else it presumes.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    #[schemars(length(max = 1000))]
    pub(super) note: String,
}

/// The fastening that a rating presumes.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, default)]
pub(super) struct Presumes {
    /// Which holes are filled.
    #[serde(skip_serializing_if = "is_default")]
    pub(super) holes: RatedHoles,
    /// The name of a fastener in stock, or the fastener itself; what each hole takes where absent.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(super) stock: Option<FastenerOf>,
}
