//! Published rules, one module for each standard, each rule beside its clause.
//!
//! Knows no severity and no sentence, and never sees an outline: it is handed plain measures
//! and answers with what is required of them. Lengths are millimetres, angles degrees.
//!
//! Numbers that are data stand in `resources/standards/`, each with its source and whether it was
//! read in a text that quotes it or recalled. Formulas stand in the code beside their clause.

pub mod capacity;
pub mod common;
mod en1995;
mod nds2018;
mod table;

use std::sync::LazyLock;

use capacity::{Across, Along, Axial, Combined, Demand, Lateral, NoValue, Split, Splitting, Units};

use crate::joint::{Finish, Seat, Service, StandardId, Treatment};
use crate::stock::{Family, FastenerSpec, Material};

/// One thing that a standard (or common practice) asks of a measure.
#[derive(Clone, Debug, PartialEq)]
pub struct Check {
    /// What it is about.
    pub topic: Topic,
    /// The value as drawn.
    pub measured: Quantity,
    /// The value asked for.
    pub required: Quantity,
    /// Whether the measured value must be at least or at most the required one.
    pub sense: Sense,
    /// Whether the source demands or recommends it.
    pub force: Force,
    /// Where it is written.
    pub source: Source,
    /// How the required value comes about, step by step.
    pub working: Vec<Step>,
}

/// What a check is about.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Topic {
    /// Length of the shank in the holding body.
    Penetration,
    /// Thickness of, or length in, the body on the head side.
    SidePenetration,
    /// Slope of an angled nail or screw against the face of the member it starts in.
    NailAngle,
    /// Distance from the start of an angled nail to the end of that member.
    NailStart,
    /// End distance.
    EndDistance,
    /// Edge distance.
    EdgeDistance,
    /// Distance of neighbours along the grain, or within a row.
    Spacing,
    /// Distance of neighbours across the grain, or between rows.
    RowSpacing,
    /// Diameter of a lead hole.
    LeadHole,
    /// Depth of a drilled hole: in masonry, or for a lag screw in wood.
    HoleDepth,
    /// Diameter of a bolt hole, in wood or steel.
    BoltHole,
    /// Outer diameter or thickness of, or need for, a washer.
    Washer,
    /// Shank in end grain.
    EndGrain,
    /// Coating against treated or wet wood.
    Finish,
    /// Kind of fastener that does not suit the body.
    Kind,
}

/// A value with its unit.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Quantity {
    /// Millimetres.
    Length(f64),
    /// Degrees.
    Angle(f64),
    /// A bare number: a ratio, a count, a specific gravity, or 1 for yes and 0 for no.
    Number(f64),
}

/// The sense of a check.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Sense {
    /// Measured must be at least required.
    AtLeast,
    /// Measured must be at most required.
    AtMost,
}

/// How strongly the source asks.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Force {
    /// It demands, or nobody in the trade does otherwise. A least or greatest measure that
    /// EN 1995-1-1 gives with the word "should" counts as demanded.
    Shall,
    /// It recommends, or common practice asks for it.
    Should,
}

/// Where a requirement is written.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Source {
    /// A clause or table of a published standard: `NDS 2018`, `12.1.6.4`.
    Clause {
        /// Short name of the document.
        document: &'static str,
        /// Clause or table.
        clause: &'static str,
    },
    /// The trade does it so; nothing is cited.
    CommonPractice,
}

/// One step of a working: `p_min = 6 D = 24.69 mm`.
#[derive(Clone, Debug, PartialEq)]
pub struct Step {
    /// What is worked out: `p_min`.
    pub symbol: &'static str,
    /// The formula in symbols: `6 D`; empty for a value that is given.
    pub formula: &'static str,
    /// Its value.
    pub value: Quantity,
}

/// A fastener and where it stands, as every rule may want to know.
#[derive(Clone, Copy, Debug)]
pub struct Driven<'a> {
    /// The fastener.
    pub spec: &'a FastenerSpec,
    /// Its coating or metal.
    pub finish: Finish,
    /// How far its head was driven.
    pub seat: Seat,
    /// How damp the place is.
    pub service: Service,
    /// Diameter and depth of its drilled hole, where there is one.
    pub hole_mm: Option<(f64, f64)>,
}

/// What a shank ends in.
#[derive(Clone, Copy, Debug)]
pub struct Hold<'a> {
    /// The holding body's material.
    pub material: &'a Material,
    /// Bite with the point.
    pub bite_mm: f64,
    /// Bite without the point.
    pub bite_without_point_mm: f64,
    /// Length in the body on the head side, where that is wood: its thickness along the axis.
    pub side_mm: Option<f64>,
    /// The side body is steel.
    pub side_is_steel: bool,
    /// It enters the holding body's end grain.
    pub end_grain: bool,
    /// The load pulls the shank out along its axis; `None` when no load is given.
    pub withdrawal: Option<bool>,
}

/// An angled nail or screw: how it starts in the first member.
#[derive(Clone, Copy, Debug)]
pub struct Angled {
    /// Degrees between the shank and the face of the member that it starts in.
    pub angle_to_face_deg: f64,
    /// Along that face, from the start to where the member ends against the next.
    pub start_mm: f64,
}

/// One end or edge distance at a shear plane.
#[derive(Clone, Copy, Debug)]
pub struct Border<'a> {
    /// The body's material.
    pub material: &'a Material,
    /// To an end (along the grain), or to an edge.
    pub is_end: bool,
    /// As drawn.
    pub distance_mm: f64,
    /// The shank pushes the wood this way, towards this border, across or along the grain; `None` when no load is given.
    pub loaded: Option<bool>,
    /// Degrees between load and grain at this plane; `None` when no load is given.
    pub load_to_grain_deg: Option<f64>,
    /// Length of the shank in the main member or in all side members together, whichever is less,
    /// steel left out: tables for bolts compare it with the diameter.
    pub thickness_mm: f64,
    /// The face is end grain.
    pub end_grain: bool,
    /// What lies on the other side of the shear plane; `None` where nothing does.
    pub beside: Option<Family>,
    /// Distance to the next row of fasteners across the grain; `None` where there is one row.
    pub row_spacing_mm: Option<f64>,
    /// The load acts along the shank alone, not across it.
    pub axial: bool,
}

/// Two neighbours in one body.
#[derive(Clone, Copy, Debug)]
pub struct Pair<'a> {
    /// The body's material.
    pub material: &'a Material,
    /// Distance along the grain.
    pub along_mm: f64,
    /// Distance across the grain.
    pub across_mm: f64,
    /// Degrees between load and grain; `None` when no load is given.
    pub load_to_grain_deg: Option<f64>,
    /// Length of the shank in the main member or in all side members together, whichever is less,
    /// steel left out: tables for bolts compare it with the diameter.
    pub thickness_mm: f64,
    /// What lies on the other side of the shear plane; `None` where nothing does.
    pub beside: Option<Family>,
    /// The load acts along the shanks alone, not across them.
    pub axial: bool,
}

/// A body that a shank is in, as far as its coating must know.
#[derive(Clone, Copy, Debug)]
pub struct Surround<'a> {
    /// The body's material.
    pub material: &'a Material,
    /// What it was treated with.
    pub treatment: Treatment,
}

/// A washer, or the lack of one, under a head or a nut.
#[derive(Clone, Copy, Debug)]
pub struct Under<'a> {
    /// What the washer, head or nut bears on.
    pub material: &'a Material,
    /// Outer diameter and thickness of the washer; `None` where there is none.
    pub washer_mm: Option<(f64, f64)>,
}

/// A published standard: what it asks of a fastener.
///
/// Where it is silent a method answers with nothing, and [`Standard::practice`] is asked.
/// An answer says what is required and not whether it is met; compare with [`Check::is_met`].
pub trait Standard {
    /// Which one it is.
    fn id(&self) -> StandardId;
    /// Its full name with its edition, as printed on a sheet.
    fn name(&self) -> &'static str;
    /// What the trade does where it is silent.
    fn practice(&self) -> &common::Practice;
    /// Bite in the holding body and in the side member.
    fn penetration(&self, driven: &Driven<'_>, hold: &Hold<'_>) -> Vec<Check>;
    /// Slope and start of an angled nail or screw.
    fn angled(&self, driven: &Driven<'_>, angled: &Angled) -> Vec<Check>;
    /// One end or edge distance.
    fn border(&self, driven: &Driven<'_>, border: &Border<'_>) -> Vec<Check>;
    /// Least distance of two neighbours, along the grain as [`Topic::Spacing`] and across it as
    /// [`Topic::RowSpacing`]. Of the answers of one [`Force`] it is enough that any one is met:
    /// far enough apart along the grain, or far enough across.
    fn spacing(&self, driven: &Driven<'_>, pair: &Pair<'_>) -> Vec<Check>;
    /// Greatest distance of two fasteners of one connection across the grain, lest the wood split
    /// when it dries.
    fn spread(&self, _driven: &Driven<'_>, _pair: &Pair<'_>) -> Vec<Check> {
        Vec::new()
    }
    /// From this distance on neither `border` nor `spacing` asks for more, whatever the load and the wood:
    /// a border so far away, or a neighbour so far away along or across the grain, need not be asked about.
    fn enough_mm(&self, driven: &Driven<'_>, row_spacing_mm: Option<f64>) -> f64;
    /// Lead hole in the body that must hold, bolt hole in wood or steel.
    fn hole(&self, driven: &Driven<'_>, material: &Material) -> Vec<Check>;
    /// Washer under a head or a nut.
    fn washer(&self, driven: &Driven<'_>, under: &Under<'_>) -> Vec<Check>;
    /// Shank in end grain.
    fn end_grain(&self, driven: &Driven<'_>, hold: &Hold<'_>) -> Vec<Check>;
    /// Coating against the bodies it is in.
    fn finish(&self, driven: &Driven<'_>, surround: &Surround<'_>) -> Vec<Check>;
    /// Whether the kind suits the body that must hold it.
    fn kind(&self, driven: &Driven<'_>, hold: &Hold<'_>) -> Vec<Check>;
    /// Whether the least distance of a group of such fasteners counts for every one of it, as NDS 2018 12.5.1 has it.
    fn least_of_group_counts(&self, _driven: &Driven<'_>) -> bool {
        false
    }
    /// The units that its formulas are written in.
    fn works_in(&self) -> Units;
    /// What a shank carries across itself at one shear plane, or at one of two alike.
    ///
    /// # Errors
    /// Where the standard gives no value: no density is known, the bite is too short, the material is not covered.
    fn across(&self, asked: &Across<'_>) -> Result<Lateral, NoValue>;
    /// What a shank carries along itself.
    ///
    /// # Errors
    /// As for [`Standard::across`]; also a nail in end grain, which NDS and EN 1995-1-1 do not count.
    fn along(&self, asked: &Along<'_>) -> Result<Axial, NoValue>;
    /// What a timber carries across its grain before it splits along the fasteners; `None` where the standard has
    /// no formula for that.
    fn splitting(&self, _asked: &Split<'_>) -> Option<Result<Splitting, NoValue>> {
        None
    }
    /// Both at once, for one fastener: demand over capacity, 1 where it is just enough.
    fn both_ways(&self, driven: &Driven<'_>, across: Demand, along: Demand) -> Combined;
}

/// The standard of this name. Its tables are part of the program and are read once, by whoever asks first.
#[must_use]
pub fn by_id(id: StandardId) -> &'static dyn Standard {
    static NDS_2018: LazyLock<nds2018::Nds2018> = LazyLock::new(nds2018::Nds2018::read);
    static EN_1995: LazyLock<en1995::En1995> = LazyLock::new(en1995::En1995::read);
    match id {
        StandardId::Nds2018 => &*NDS_2018,
        StandardId::En199511 => &*EN_1995,
    }
}

impl Quantity {
    /// Its bare value: millimetres, degrees, or the number.
    #[must_use]
    pub fn value(self) -> f64 {
        match self {
            Self::Length(value) | Self::Angle(value) | Self::Number(value) => value,
        }
    }
}

impl Check {
    /// Whether the measured value does what is asked, by the one comparison of [`crate::unit::compare`].
    #[must_use]
    pub fn is_met(&self) -> bool {
        let (measured, required) = (self.measured.value(), self.required.value());
        match self.sense {
            Sense::AtLeast => crate::unit::compare::at_least(measured, required),
            Sense::AtMost => crate::unit::compare::at_most(measured, required),
        }
    }

    /// The same check, recommended only.
    #[must_use]
    fn recommended(mut self) -> Self {
        self.force = Force::Should;
        self
    }

    /// The same check with one more step of working, before the last, which is the required value.
    #[must_use]
    fn with(mut self, step: Step) -> Self {
        let last = self.working.len().saturating_sub(1);
        self.working.insert(last, step);
        self
    }
}

#[cfg(test)]
mod tests;
