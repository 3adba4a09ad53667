//! What is picked for a thing that is made, and kept for the next one.

use std::sync::Arc;

use crate::joint::{Duty, Grain, Joint, Measures, StandardId, Treatment};
use crate::stock::{Family, FastenerSpec, Material, Stock};

/// How a stock size lies in the view.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Lies {
    /// Cut across: its section is seen.
    #[default]
    EndOn,
    /// Lengthwise, its wide face seen.
    Face,
    /// Lengthwise, its narrow edge seen.
    Edge,
}

/// The place of a thing by which the pointer holds it.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Hold {
    /// Its lower left corner.
    #[default]
    LowerLeft,
    /// Its lower right corner.
    LowerRight,
    /// Its upper right corner.
    UpperRight,
    /// Its upper left corner.
    UpperLeft,
    /// Its middle.
    Middle,
}

impl Hold {
    /// The shares of width and height at which the place lies.
    #[must_use]
    pub fn share(self) -> (f64, f64) {
        match self {
            Self::LowerLeft => (0.0, 0.0),
            Self::LowerRight => (1.0, 0.0),
            Self::UpperRight => (1.0, 1.0),
            Self::UpperLeft => (0.0, 1.0),
            Self::Middle => (0.5, 0.5),
        }
    }

    /// The next one round.
    #[must_use]
    pub fn next(self) -> Self {
        match self {
            Self::LowerLeft => Self::LowerRight,
            Self::LowerRight => Self::UpperRight,
            Self::UpperRight => Self::UpperLeft,
            Self::UpperLeft => Self::Middle,
            Self::Middle => Self::LowerLeft,
        }
    }
}

/// What is picked.
#[derive(Clone, Debug, PartialEq)]
pub struct Settings {
    /// The material of members; where none was picked, a usual one of the family.
    pub material: Option<Arc<Material>>,
    /// The way the grain runs; where none was picked, as the thing lies.
    pub grain: Option<Grain>,
    /// What the wood was treated with.
    pub treatment: Treatment,
    /// Whether a member bears.
    pub bearing: bool,
    /// Whether a member is blocking.
    pub blocking: bool,
    /// How a stock size lies.
    pub lies: Lies,
    /// Quarter turns anticlockwise.
    pub quarters: u8,
    /// Where it is held.
    pub hold: Hold,
    /// Seen in a mirror: of steel that lies on a face.
    pub mirrored: bool,
    /// The steel of connectors; where none was picked, the first of stock.
    pub steel: Option<Arc<Material>>,
    /// The fastener that holes are made for; where none was picked, a usual nail.
    pub fastener: Option<Arc<FastenerSpec>>,
    /// What holes are for.
    pub duty: Duty,
    /// A plate that is drawn becomes a part of the chosen connector.
    pub joins: bool,
    /// Which distance a dimension tells.
    pub measures: Measures,
}

impl Default for Settings {
    fn default() -> Self {
        Self {
            material: None,
            grain: None,
            treatment: Treatment::None,
            bearing: true,
            blocking: false,
            lies: Lies::default(),
            quarters: 0,
            hold: Hold::default(),
            mirrored: false,
            steel: None,
            fastener: None,
            duty: Duty::default(),
            joins: false,
            measures: Measures::default(),
        }
    }
}

impl Settings {
    /// The steel of connectors.
    #[must_use]
    pub fn steel(&self, stock: &Stock) -> Option<Arc<Material>> {
        let first = || stock.materials.values().find(|it| it.family == Family::Steel).cloned();
        self.steel.clone().or_else(first)
    }

    /// The fastener that holes are made for.
    #[must_use]
    pub fn fastener(&self, joint: &Joint, stock: &Stock) -> Option<Arc<FastenerSpec>> {
        self.fastener.clone().or_else(|| super::steel::usual_fastener(joint, stock))
    }

    /// The material of a member: the one picked, or a usual one of the family where none fits.
    #[must_use]
    pub fn material(&self, family: Option<Family>, joint: &Joint, stock: &Stock) -> Option<Arc<Material>> {
        let fits = |it: &Arc<Material>| family.is_none_or(|family| it.family == family);
        let picked = self.material.clone().filter(|it| family.is_none() || fits(it));
        picked.or_else(|| usual(family.unwrap_or(Family::Lumber), joint, stock))
    }
}

/// A usual material of a family: the one that the joint has already, else the one that is sold most where its
/// standard rules, else the first of the tables.
fn usual(family: Family, joint: &Joint, stock: &Stock) -> Option<Arc<Material>> {
    let wanted = match joint.standard {
        StandardId::Nds2018 => "lumber/spruce-pine-fir",
        StandardId::En199511 => "lumber/C24",
    };
    let in_joint = joint.members.iter().rev().map(|it| &it.material).find(|it| it.family == family);
    let by_name = || stock.materials.get(wanted).filter(|it| it.family == family);
    let first = || stock.materials.values().find(|it| it.family == family);
    in_joint.or_else(by_name).or_else(first).or_else(|| stock.materials.values().next()).cloned()
}
