//! The shank: what kind it is to section 8, its effective diameter and its yield moment.

use crate::standard::Driven;
use crate::standard::capacity::{Amount, Bearing, NoValue};
use crate::standard::en1995::{En1995, ec5, is_threaded};
use crate::stock::FastenerKind;
use crate::unit::compare::{at_least, at_most};

use super::none;
use super::working::Working;

/// The kinds that section 8 tells apart.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Kind {
    /// A round smooth nail: the stock does not tell square nails apart.
    SmoothNail,
    /// A nail with rings or threads.
    ThreadedNail,
    /// A wood screw or coach screw.
    Screw,
    /// A bolt or a threaded rod with nuts.
    Bolt,
}

/// A shank across a shear plane.
#[derive(Clone, Copy, Debug)]
pub(super) struct Shank<'a> {
    pub(super) driven: &'a Driven<'a>,
    pub(super) kind: Kind,
    /// Nominal diameter.
    pub(super) diameter_mm: f64,
    /// The diameter that embedment and yield moment go by.
    pub(super) effective_mm: f64,
    /// The rules of nails hold for it, and not those of bolts.
    pub(super) is_like_nail: bool,
}

/// What a fastener is to section 8.
pub(super) fn kind(driven: &Driven<'_>) -> Result<Kind, NoValue> {
    match driven.spec.kind {
        FastenerKind::Nail if is_threaded(driven.spec) => Ok(Kind::ThreadedNail),
        FastenerKind::Nail => Ok(Kind::SmoothNail),
        FastenerKind::WoodScrew | FastenerKind::LagScrew => Ok(Kind::Screw),
        FastenerKind::Bolt | FastenerKind::ThreadedRod => Ok(Kind::Bolt),
        FastenerKind::MasonryScrew => {
            none("8.1.1", "a screw for concrete or masonry is no timber fastener: its maker rates it")
        }
    }
}

impl<'a> Shank<'a> {
    /// A formula as it is written for this shank: with `d`, or with the effective diameter of a screw.
    pub(super) fn written<T>(&self, plain: T, of_screw: T) -> T {
        if self.kind == Kind::Screw { of_screw } else { plain }
    }

    /// The shank of a fastener whose point, or end, is in `last`.
    pub(super) fn of(
        rules: &En1995,
        driven: &'a Driven<'a>,
        last: &Bearing<'_>,
        working: &mut Working,
    ) -> Result<Self, NoValue> {
        let (kind, diameter_mm) = (kind(driven)?, driven.spec.diameter_mm);
        if !(0.0 < diameter_mm && diameter_mm.is_finite()) {
            return none("8.1.1", "the fastener has no diameter");
        }
        let is_like_nail = rules.is_like_nail(driven);
        let by_bolts = !is_like_nail || !at_most(diameter_mm, rules.table.carry.diameter.nail_to_mm);
        if by_bolts && !at_most(diameter_mm, rules.table.carry.diameter.bolt_to_mm) {
            return none("8.5.1.1(2)", "the embedment strength is given up to a diameter of 30 mm");
        }
        working.given(("d", Amount::Length(diameter_mm)), ec5("8.1.1"));
        let mut shank = Self { driven, kind, diameter_mm, effective_mm: diameter_mm, is_like_nail };
        if kind == Kind::Screw {
            shank.effective_mm = shank.of_screw(rules, last, working)?;
        }
        Ok(shank)
    }

    /// The whole diameter where at least 4 d of smooth shank is in the member with the point (8.7.1(2)),
    /// or 1.1 times the root of the thread (8.7.1(3)).
    fn of_screw(&self, rules: &En1995, last: &Bearing<'_>, working: &mut Working) -> Result<f64, NoValue> {
        let terms = &rules.table.carry.diameter;
        let smooth_mm = (last.length_mm - last.thread_mm.max(0.0)).max(0.0);
        let is_whole = self.driven.spec.root_mm.is_none() && self.driven.spec.thread_mm.is_none();
        if is_whole || at_least(smooth_mm, terms.screw_shank * self.diameter_mm) {
            working.put(("d_ef", "d"), &[], Amount::Length(self.diameter_mm), ec5("8.7.1(2)"));
            working.because("at least 4 d of smooth shank is in the member with the point");
            return Ok(self.diameter_mm);
        }
        let Some(root_mm) = self.driven.spec.root_mm.filter(|it| 0.0 < *it) else {
            return none("8.7.1(3)", "the diameter at the root of the screw's thread is not known");
        };
        let effective_mm = terms.screw_root * root_mm;
        let inputs = [("d_1", Amount::Length(root_mm))];
        working.put(("d_ef", "1.1 d_1"), &inputs, Amount::Length(effective_mm), ec5("8.7.1(3)"));
        working.because(
            "less than 4 d of smooth shank is in the member with the point; d_ef stands for d across the shank",
        );
        Ok(effective_mm)
    }

    /// Characteristic yield moment, N mm: 8.14 for nails and thin screws, 8.30 for bolts and thick ones.
    pub(super) fn yield_moment(
        &self,
        rules: &En1995,
        working: &mut Working,
        cautions: &mut Vec<String>,
    ) -> Result<f64, NoValue> {
        let source = ec5(if self.is_like_nail { "8.3.1.1(4)" } else { "8.5.1.1(1)" });
        let strength = match (self.driven.spec.tensile_mpa, self.kind) {
            (Some(known), Kind::Screw) if 0.0 < known => {
                cautions.push(format!(
                    "The yield moment of a screw is for its maker to declare (EN 14592); here it is worked out for \
                     a tensile strength of {known:.0} N/mm2."
                ));
                known
            }
            (Some(known), _) if 0.0 < known => known,
            (_, Kind::SmoothNail | Kind::ThreadedNail) => {
                cautions.push(
                    "The strength of the wire is not known; 600 N/mm2 is assumed, the least that EN 1995-1-1 \
                     takes nails to be made of."
                        .to_owned(),
                );
                rules.table.carry.wire.nail_tensile
            }
            (_, Kind::Screw) => {
                return none(
                    "8.7.1(3)",
                    "the tensile strength of the screw is not known: its maker declares it (EN 14592)",
                );
            }
            (_, Kind::Bolt) => {
                return none(
                    "8.5.1.1(1)",
                    "the tensile strength of the bolt is not known: its class tells it",
                );
            }
        };
        let moment = 0.3 * strength * self.effective_mm.powf(2.6);
        let inputs = [("f_u", Amount::Stress(strength))];
        let formula = if self.kind == Kind::Screw { "0.3 f_u d_ef^2.6" } else { "0.3 f_u d^2.6" };
        working.put(("M_y,Rk", formula), &inputs, Amount::Moment(moment), source);
        Ok(moment)
    }
}
