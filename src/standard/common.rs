//! Common practice: what the trade does where the standards are silent. Nothing is cited.
//!
//! Each method of [`Practice`] has the shape of the method of [`super::Standard`] with its name, and is
//! asked where that answers with nothing.

use serde::Deserialize;

use super::table::{Origin, ask, given, length, number, read};
use super::{Angled, Check, Driven, Hold, Quantity, Source, Surround, Topic, Under};
use crate::joint::{Finish, Service, Treatment};
use crate::stock::{Family, FastenerKind, Material};

const TABLE: &str = include_str!("../../resources/standards/common-practice.toml");

/// Common practice with its table read: the whole file.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Practice {
    /// How far "about" reaches.
    pub(super) about: About,
    angled: Slope,
    masonry_screw: MasonryScrew,
}

/// How far "about" and "approximately" reach. Ours.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct About {
    #[serde(rename = "origin")]
    _origin: Origin,
    /// Degrees each way from the slope of a nail.
    pub(super) angle_deg: f64,
    /// Part of the nominal start distance each way.
    pub(super) start_part: f64,
    /// Part of the nominal hole each way.
    pub(super) hole_part: f64,
}

/// Slope of nails and screws.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct Slope {
    #[serde(rename = "origin")]
    _origin: Origin,
    least_deg: f64,
    most_deg: f64,
}

/// Screws in concrete and masonry.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct MasonryScrew {
    #[serde(rename = "origin")]
    _origin: Origin,
    bite_mm: f64,
    hole_beyond_mm: f64,
}

/// The class of zinc that is laid on mechanically, as [`finish_class`] counts.
pub const MECHANICAL: f64 = 2.0;
/// The class of hot-dip zinc, as [`finish_class`] counts.
pub const HOT_DIP: f64 = 3.0;
/// The class of a thin electroplated coat, as [`finish_class`] counts.
pub const ELECTROPLATED: f64 = 1.0;

/// How well a finish stands damp and treated wood, in classes: 0 bare steel, 1 thin electroplated
/// zinc, 2 mechanically laid zinc, 3 hot-dip zinc, 4 stainless steel, silicon bronze and copper.
///
/// The order is ours, made so that "at least" can be said of coatings; each rule names its class.
#[must_use]
pub fn finish_class(finish: Finish) -> Quantity {
    Quantity::Number(match finish {
        Finish::Bright => 0.0,
        Finish::Electroplated => ELECTROPLATED,
        Finish::MechanicallyGalvanized => MECHANICAL,
        Finish::HotDipGalvanized => HOT_DIP,
        Finish::Stainless | Finish::SiliconBronze | Finish::Copper => 4.0,
    })
}

impl Practice {
    /// Reads the table that is part of the program.
    pub(super) fn read() -> Self {
        read(TABLE)
    }

    /// Bite of a masonry screw: 1 in. Nothing is said of other fasteners.
    #[must_use]
    pub fn penetration(&self, driven: &Driven<'_>, hold: &Hold<'_>) -> Vec<Check> {
        let holds_masonry = matches!(hold.material.family, Family::Concrete | Family::Masonry);
        if driven.spec.kind != FastenerKind::MasonryScrew || !holds_masonry {
            return Vec::new();
        }
        let working = vec![given("p_min", Quantity::Length(self.masonry_screw.bite_mm))];
        let check =
            ask(Topic::Penetration, Source::CommonPractice).at_least(Quantity::Length(hold.bite_mm), working);
        vec![check.recommended()]
    }

    /// Slope of a nail or screw that is driven at a slope: neither along the face nor nearly square.
    #[must_use]
    pub fn angled(&self, driven: &Driven<'_>, angled: &Angled) -> Vec<Check> {
        if !matches!(driven.spec.kind, FastenerKind::Nail | FastenerKind::WoodScrew | FastenerKind::LagScrew)
        {
            return Vec::new();
        }
        let slope = &self.angled;
        let asked = ask(Topic::NailAngle, Source::CommonPractice);
        let measured = Quantity::Angle(angled.angle_to_face_deg);
        vec![
            asked.at_least(measured, vec![given("a_min", Quantity::Angle(slope.least_deg))]).recommended(),
            asked.at_most(measured, vec![given("a_max", Quantity::Angle(slope.most_deg))]).recommended(),
        ]
    }

    /// Hole of a screw in concrete or masonry: 1/2 in deeper than the screw reaches, for the dust.
    ///
    /// Depth is measured from the seat of the head, so the bite ends at the length of the screw. A hole
    /// that was not drilled measures zero.
    #[must_use]
    pub fn hole(&self, driven: &Driven<'_>, material: &Material) -> Vec<Check> {
        let is_masonry = matches!(material.family, Family::Concrete | Family::Masonry);
        if driven.spec.kind != FastenerKind::MasonryScrew || !is_masonry {
            return Vec::new();
        }
        let (length_mm, beyond_mm) = (driven.spec.length_mm, self.masonry_screw.hole_beyond_mm);
        let working = vec![
            given("L", Quantity::Length(length_mm)),
            given("c", Quantity::Length(beyond_mm)),
            length("h_min", "L + c", length_mm + beyond_mm),
        ];
        let depth = Quantity::Length(driven.hole_mm.map_or(0.0, |it| it.1));
        vec![ask(Topic::HoleDepth, Source::CommonPractice).at_least(depth, working)]
    }

    /// A washer under the head of a lag screw on wood.
    #[must_use]
    pub fn washer(&self, driven: &Driven<'_>, under: &Under<'_>) -> Vec<Check> {
        if driven.spec.kind != FastenerKind::LagScrew || !under.material.family.is_wood() {
            return Vec::new();
        }
        vec![ask(Topic::Washer, Source::CommonPractice).wanted(under.washer_mm.is_some()).recommended()]
    }

    /// Coating in treated, wet or humid wood, where no text is followed.
    #[must_use]
    pub fn finish(&self, driven: &Driven<'_>, surround: &Surround<'_>) -> Vec<Check> {
        if !surround.material.family.is_wood() {
            return Vec::new();
        }
        let least = match (surround.treatment, driven.service) {
            (Treatment::Preservative | Treatment::FireRetardant, _) | (_, Service::Wet) => MECHANICAL,
            (_, Service::Humid) => ELECTROPLATED,
            (Treatment::None | Treatment::Borate, Service::Dry) => return Vec::new(),
        };
        let check = ask(Topic::Finish, Source::CommonPractice)
            .at_least(finish_class(driven.finish), vec![number("class", "", least)]);
        vec![check.recommended()]
    }

    /// Whether the kind can be held by the body: nails and wood screws by wood alone, masonry screws by
    /// concrete and masonry alone, bolts and rods by anything, for they go through.
    #[must_use]
    pub fn kind(&self, driven: &Driven<'_>, hold: &Hold<'_>) -> Vec<Check> {
        let family = hold.material.family;
        let suits = match driven.spec.kind {
            FastenerKind::Nail | FastenerKind::WoodScrew | FastenerKind::LagScrew => family.is_wood(),
            FastenerKind::MasonryScrew => matches!(family, Family::Concrete | Family::Masonry),
            FastenerKind::Bolt | FastenerKind::ThreadedRod => true,
        };
        vec![ask(Topic::Kind, Source::CommonPractice).wanted(suits)]
    }
}
