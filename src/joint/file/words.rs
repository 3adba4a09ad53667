//! The fixed words of a joint file, apart from the model: a rename there never changes a file.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::joint as model;
use crate::stock;
use crate::unit;

/// Defines the words for an enum of the model, and the way there and back.
macro_rules! words {
    ($name:ident for $room:ident :: $model:ident { $( $variant:ident = $word:literal : $meaning:literal ),+ $(,)? }) => {
        #[doc = concat!("The words for [`", stringify!($room), "::", stringify!($model), "`].")]
        #[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
        pub(super) enum $name {
            $( #[doc = $meaning] #[serde(rename = $word)] $variant, )+
        }

        impl From<$room::$model> for $name {
            fn from(it: $room::$model) -> Self {
                match it { $( $room::$model::$variant => Self::$variant, )+ }
            }
        }

        impl From<$name> for $room::$model {
            fn from(it: $name) -> Self {
                match it { $( $name::$variant => Self::$variant, )+ }
            }
        }
    };
}

/// The model's default is the word's default.
macro_rules! default_words {
    ($( $name:ident for $room:ident :: $model:ident ),+) => {
        $( impl Default for $name {
            fn default() -> Self {
                $room::$model::default().into()
            }
        } )+
    };
}

words!(Unit for unit::LengthUnit {
    Inch = "inch": "Inches with fractions, feet from one foot upward.",
    Millimetre = "millimetre": "Millimetres.",
});
words!(Standard for model::StandardId {
    Nds2018 = "nds-2018": "National Design Specification for Wood Construction, 2018.",
    En199511 = "en-1995-1-1": "Eurocode 5.",
});
words!(Service for model::Service {
    Dry = "dry": "Heated inside: service class 1.",
    Humid = "humid": "Covered outside: service class 2.",
    Wet = "wet": "Rained on or in contact with the ground: service class 3.",
});
words!(Treatment for model::Treatment {
    None = "none": "Untreated.",
    Preservative = "preservative": "A waterborne preservative with copper.",
    Borate = "borate": "A borate preservative.",
    FireRetardant = "fire-retardant": "A fire retardant.",
});
words!(Duty for model::Duty {
    Required = "required": "Must be filled.",
    Extra = "extra": "Only for the higher of two ratings.",
    HoldingUp = "holding-up": "Keeps the part in place while it is fixed; carries nothing.",
});
words!(Side for model::PlateSide {
    Left = "left": "Left of the profile's direction.",
    Right = "right": "Right of the profile's direction.",
});
words!(Finish for model::Finish {
    Bright = "bright": "Bare steel.",
    Electroplated = "electroplated": "Thin electroplated zinc.",
    HotDipGalvanized = "hot-dip-galvanized": "Hot-dip zinc coating.",
    MechanicallyGalvanized = "mechanically-galvanized": "Mechanically deposited zinc of the weight of hot-dip.",
    Stainless = "stainless": "Stainless steel.",
    SiliconBronze = "silicon-bronze": "Silicon bronze.",
    Copper = "copper": "Copper.",
});
words!(Duration for model::Duration {
    Permanent = "permanent": "Self-weight.",
    TenYears = "ten-years": "Occupancy.",
    TwoMonths = "two-months": "Snow.",
    SevenDays = "seven-days": "Construction.",
    TenMinutes = "ten-minutes": "Wind and earthquake.",
    Impact = "impact": "A blow.",
});
words!(Heat for model::Heat {
    Ordinary = "ordinary": "Up to 38 degrees Celsius (100 Fahrenheit).",
    Warm = "warm": "Above that, up to 52 (125).",
    Hot = "hot": "Above that, up to 66 (150).",
});
words!(RatedHoles for model::RatedHoles {
    Required = "required": "Those that must be filled in any case.",
    All = "all": "Those and the extra ones.",
});
words!(Paper for model::Paper {
    A4 = "A4": "297 by 210 mm.",
    A3 = "A3": "420 by 297 mm.",
    Letter = "letter": "11 by 8 1/2 in.",
    Tabloid = "tabloid": "17 by 11 in.",
});
words!(Look for model::Look {
    Front = "front": "The drawing plane, seen from the front.",
    Side = "side": "From the right.",
    Top = "top": "From above.",
});
words!(Kind for stock::FastenerKind {
    Nail = "nail": "A driven nail.",
    WoodScrew = "wood-screw": "A wood screw.",
    LagScrew = "lag-screw": "A lag screw.",
    Bolt = "bolt": "A bolt with head and nut.",
    ThreadedRod = "threaded-rod": "A plain threaded rod with a nut at both ends.",
    MasonryScrew = "masonry-screw": "A screw for a hole in concrete or masonry.",
});
words!(Family for stock::Family {
    Lumber = "lumber": "Sawn lumber.",
    Glulam = "glulam": "Glued laminated timber.",
    Engineered = "engineered": "Structural composite lumber.",
    Panel = "panel": "Plywood, strand board and other structural panels.",
    Concrete = "concrete": "Cast concrete.",
    Masonry = "masonry": "Brick or block masonry.",
    Steel = "steel": "Steel plate and strip.",
    Filling = "filling": "Foam, gypsum, cladding, loose shim: never bite.",
});

default_words!(Service for model::Service, Treatment for model::Treatment, Duty for model::Duty,
    Side for model::PlateSide, Finish for model::Finish, Duration for model::Duration,
    Heat for model::Heat, RatedHoles for model::RatedHoles);

/// Whether the wood grows on a needle or a leaf tree; the model says `none` by an absent value.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "lowercase")]
pub(super) enum Wood {
    /// Needle trees.
    Softwood,
    /// Leaf trees.
    Hardwood,
    /// No wood, or a panel of any.
    None,
}

/// The end of a fastener that a washer lies at.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "lowercase")]
pub(super) enum End {
    /// Under the head.
    Head,
    /// Under the nut.
    Nut,
}

/// What the file is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
pub(super) enum Format {
    /// A joint of Shankline.
    #[serde(rename = "shankline-joint")]
    Joint,
}
