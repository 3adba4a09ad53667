//! What goes with a fastener by its kind: the hole that is drilled for it, and its washers.

use std::sync::Arc;

use crate::joint::{LeadHole, Placement, StandardId};
use crate::stock::{FastenerKind, FastenerSpec, Stock, WasherSpec};
use crate::unit::compare::SAME_MM;
use crate::unit::length::MM_PER_INCH;

/// The hole and the washers of one fastener.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Outfit {
    /// The hole that is drilled.
    pub lead_hole: Option<LeadHole>,
    /// The washer under the head.
    pub head_washer: Option<Arc<WasherSpec>>,
    /// The washer under the nut.
    pub nut_washer: Option<Arc<WasherSpec>>,
}

/// What a head lies on.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Under {
    /// Wood or concrete.
    Member,
    /// The steel of a connector.
    Steel,
}

impl Outfit {
    /// What a fastener of this kind and size commonly gets.
    ///
    /// A bolt: a hole wider by 3/64" (NDS 2018 12.1.3.2: 1/32" to 1/16") or 1 mm (EN 1995-1-1 10.4.3(1)), and
    /// washers on wood. A lag screw: a hole of 0.65 to 0.7 D, which suits wood of every gravity (NDS 2018
    /// 12.1.4.2; EN 1995-1-1 10.4.5), and a washer on wood. A masonry screw: a hole of three quarters of its
    /// diameter, 1/2" deeper than it reaches (common practice). A wood screw: the greatest hole that NDS 2018
    /// 12.1.5.3 allows, or that of EN 1995-1-1 10.4.5 from 6 mm on. A nail: nothing.
    #[must_use]
    pub fn of(spec: &FastenerSpec, by: StandardId, under: Under, stock: &Stock) -> Self {
        let washer = || stock.washer_for(spec.diameter_mm).cloned().map(Arc::new);
        let under_head = if under == Under::Member { washer() } else { None };
        let hole = |diameter_mm: f64, depth_mm: f64| Some(LeadHole { diameter_mm, depth_mm });
        let (wide, long) = (spec.diameter_mm, spec.length_mm);
        match spec.kind {
            FastenerKind::Nail => Self::default(),
            FastenerKind::WoodScrew => {
                let wide = match (by, spec.root_mm) {
                    (StandardId::Nds2018, Some(root)) => Some(bit_below(0.875 * root, by)),
                    (StandardId::En199511, _) if 6.0 < wide => Some(bit_above(0.65 * wide, by)),
                    (StandardId::Nds2018, None) | (StandardId::En199511, _) => None,
                };
                Self { lead_hole: wide.and_then(|it| hole(it, long)), ..Self::default() }
            }
            FastenerKind::LagScrew => Self {
                lead_hole: hole(bit_above(0.65 * wide, by), long),
                head_washer: under_head,
                nut_washer: None,
            },
            FastenerKind::MasonryScrew => Self {
                lead_hole: hole(bit_above(0.75 * wide, by), long + MM_PER_INCH / 2.0),
                ..Self::default()
            },
            FastenerKind::Bolt | FastenerKind::ThreadedRod => {
                let play = match by {
                    StandardId::Nds2018 => 3.0 * MM_PER_INCH / 64.0,
                    StandardId::En199511 => 1.0,
                };
                Self { lead_hole: hole(wide + play, long), head_washer: under_head, nut_washer: washer() }
            }
        }
    }

    /// A place on the surface, moved back by the washer that lies there.
    pub(super) fn lifted(&self, place: Placement) -> Placement {
        match (place, &self.head_washer) {
            (Placement::Free { head, toward }, Some(washer)) => {
                let back = toward.unit().unwrap_or_default() * washer.thickness_mm;
                Placement::Free { head: head - back, toward }
            }
            (place, _) => place,
        }
    }
}

/// The step of drill bits: 1/64" or half a millimetre.
fn bit(by: StandardId) -> f64 {
    match by {
        StandardId::Nds2018 => MM_PER_INCH / 64.0,
        StandardId::En199511 => 0.5,
    }
}

/// The least drill bit that is no thinner.
fn bit_above(mm: f64, by: StandardId) -> f64 {
    (mm / bit(by) - SAME_MM).ceil() * bit(by)
}

/// The greatest drill bit that is no thicker, at least the thinnest there is.
fn bit_below(mm: f64, by: StandardId) -> f64 {
    (mm / bit(by) + SAME_MM).floor().max(1.0) * bit(by)
}
