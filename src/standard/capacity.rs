//! What one fastener carries: what a standard is told, and what it answers with.
//!
//! A standard is handed plain measures of one shear plane, or of two for a shank in double shear, and
//! answers with the reference value, each mode of failure, each adjustment and every line of the working.
//! Inside all is newtons, millimetres and their products; how a number is printed is settled by
//! [`Standard::works_in`](super::Standard::works_in).

use super::{Driven, Source};
use crate::joint::{Conditions, Duration, Service, Treatment};
use crate::stock::Material;

/// The units in which a standard writes its formulas.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Units {
    /// Inches, pounds and pounds per square inch.
    InchPound,
    /// Millimetres, newtons and newtons per square millimetre.
    MillimetreNewton,
}

/// A value of a working with its unit.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Amount {
    /// Millimetres.
    Length(f64),
    /// Square millimetres.
    Area(f64),
    /// Degrees.
    Angle(f64),
    /// A bare number.
    Number(f64),
    /// Newtons.
    Force(f64),
    /// Newtons per square millimetre.
    Stress(f64),
    /// Newton millimetres.
    Moment(f64),
    /// Newtons per millimetre.
    ForcePerLength(f64),
    /// Kilograms per cubic metre.
    Density(f64),
}

/// One line of a working: `Z_IIIs = k3 D l_s F_em / ((2 + R_e) R_d) = 97 lb`.
#[derive(Clone, Debug, PartialEq)]
pub struct Line {
    /// What is worked out: `Z_IIIs`.
    pub symbol: &'static str,
    /// The formula in symbols; empty for a value that is given.
    pub formula: &'static str,
    /// The values put into the formula that no line before this one gives, by symbol.
    pub with: Vec<(&'static str, Amount)>,
    /// Its value.
    pub value: Amount,
    /// Where the formula or the number is written.
    pub source: Source,
    /// Why it is so, in a plain clause; empty where the formula says it all.
    pub because: String,
}

/// What one body is to a shank at a shear plane.
#[derive(Clone, Copy, Debug)]
pub struct Bearing<'a> {
    /// What the joint calls it: `rim`.
    pub name: &'a str,
    /// What it is made of. Steel is told by its family.
    pub material: &'a Material,
    /// What it was treated with.
    pub treatment: Treatment,
    /// Length of the shank in it along the axis, point included; of steel its thickness.
    pub length_mm: f64,
    /// How much of that length lies in the tapered point.
    pub point_mm: f64,
    /// How much of that length is threaded, point included.
    pub thread_mm: f64,
    /// Degrees between the load and the grain. 90 where the load is not known: the lesser value.
    pub load_to_grain_deg: f64,
    /// The face that the shank crosses is end grain.
    pub end_grain: bool,
    /// Diameter of the hole drilled for the shank in it, where there is one.
    pub drilled_mm: Option<f64>,
    /// The section that stretches with the load, square millimetres: width by depth of the member
    /// or of the plate. `None` where it is not known.
    pub area_mm2: Option<f64>,
}

/// An angled nail or screw, as far as what it carries must know.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Toe {
    /// Degrees between the shank and the face of the member that it starts in.
    pub angle_to_face_deg: f64,
    /// Along that face, from the start to where the member ends against the next.
    pub start_mm: f64,
}

/// The row that a fastener stands in, along the load.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Row {
    /// Fasteners in it.
    pub count: usize,
    /// Distance from one to the next, the least.
    pub pitch_mm: f64,
    /// Degrees between the row and the grain.
    pub to_grain_deg: f64,
}

/// A distance as drawn against those at which the full value, and any value, may be used.
#[derive(Clone, Debug, PartialEq)]
pub struct Room {
    /// What it is: `end distance`, `pitch`, `edge distance`, `row spacing`.
    pub what: &'static str,
    /// As drawn.
    pub drawn_mm: f64,
    /// At which the full value holds.
    pub full_mm: f64,
    /// Below which none does; equal to `full_mm` where the standard knows no reduction.
    pub least_mm: f64,
    /// Where both are written.
    pub source: Source,
    /// Id of the fastener that it is of, where the least of a group counts for this one too.
    pub of: Option<String>,
}

/// What a standard is told of a load across a shank.
#[derive(Clone, Debug)]
pub struct Across<'a> {
    /// The fastener; its lead hole, seat and the damp of the place are in it.
    pub driven: Driven<'a>,
    /// The body on the head side.
    pub side: Bearing<'a>,
    /// The body on the point side; in double shear the one in the middle.
    pub main: Bearing<'a>,
    /// In double shear the body beyond the middle one.
    pub beyond: Option<Bearing<'a>>,
    /// Air and fillings between the side and the main body, and between the main body and the one beyond.
    pub gap_mm: [f64; 2],
    /// It is a toe-nail.
    pub toe: Option<Toe>,
    /// The row that it stands in; `None` for a row of one.
    pub row: Option<Row>,
    /// Its distances, as far as they settle what it may carry.
    pub rooms: Vec<Room>,
    /// What is asked of the shank along its axis, for what it adds across it (the rope effect).
    pub along: Option<Box<Along<'a>>>,
    /// How long the load acts.
    pub duration: Duration,
    /// What is around.
    pub conditions: Conditions,
}

/// What a standard is told of a load along a shank.
#[derive(Clone, Debug)]
pub struct Along<'a> {
    /// The fastener.
    pub driven: Driven<'a>,
    /// The holding body; its length is the bite.
    pub holding: Bearing<'a>,
    /// What the head or its washer bears on; its length is the thickness along the axis.
    pub under_head: Option<Bearing<'a>>,
    /// Outer and inner diameter of a washer under the head.
    pub head_washer_mm: Option<(f64, f64)>,
    /// What the nut of a bolt or its washer bears on, and its washer.
    pub under_nut: Option<(Bearing<'a>, Option<(f64, f64)>)>,
    /// Degrees between the axis and the grain of the holding body.
    pub axis_to_grain_deg: f64,
    /// It is a toe-nail.
    pub toe: Option<Toe>,
    /// How many act together.
    pub count: usize,
    /// How long the load acts.
    pub duration: Duration,
    /// What is around.
    pub conditions: Conditions,
}

/// One adjustment of a reference value.
#[derive(Clone, Debug, PartialEq)]
pub struct Factor {
    /// The word for it in files: `load_duration`.
    pub key: &'static str,
    /// As the standard writes it: `C_D`.
    pub symbol: &'static str,
    /// Its value; 1.0 where it changes nothing.
    pub value: f64,
    /// Why it has that value, in a plain clause: `ten years of load`.
    pub because: String,
    /// Where it is written.
    pub source: Source,
}

/// One mode of failure with what it gives.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Mode {
    /// The standard's name of it: `IIIs`, `8.6 (d)`.
    pub name: &'static str,
    /// Newtons for one shear plane.
    pub newtons: f64,
}

/// What one shear plane carries across the shank. Of a shank in double shear: half of what it carries.
#[derive(Clone, Debug, PartialEq)]
pub struct Lateral {
    /// Every mode that the standard knows for it, in its order.
    pub modes: Vec<Mode>,
    /// The name of the mode that governs.
    pub mode: &'static str,
    /// The reference (NDS) or characteristic (EN) value, the least of the modes.
    pub reference_n: f64,
    /// Every adjustment, in the standard's order, those of 1.0 too.
    pub factors: Vec<Factor>,
    /// The adjusted (NDS, allowable stress design) or design (EN) value.
    pub adjusted_n: f64,
    /// How the numbers came about.
    pub working: Vec<Line>,
    /// What to look at before it is believed, a sentence each.
    pub cautions: Vec<String>,
}

/// What a shank carries along its axis.
#[derive(Clone, Debug, PartialEq)]
pub struct Axial {
    /// What fails: `withdrawal`, `pull-through`, `washer bearing`, `steel in tension`, each in newtons.
    pub modes: Vec<Mode>,
    /// The name of the mode that governs.
    pub mode: &'static str,
    /// Length that counts, in the holding body; zero where withdrawal is not a mode.
    pub length_mm: f64,
    /// Withdrawal per millimetre of it; zero where withdrawal is not a mode.
    pub reference_n_per_mm: f64,
    /// Of the mode that governs, which is the one with the least adjusted value: each has its own factors.
    pub reference_n: f64,
    /// Every adjustment of the mode that governs.
    pub factors: Vec<Factor>,
    /// The adjusted or design value.
    pub adjusted_n: f64,
    /// How the numbers came about.
    pub working: Vec<Line>,
    /// What to look at before it is believed.
    pub cautions: Vec<String>,
}

/// Demand over capacity of a shank that is loaded both ways.
#[derive(Clone, Debug, PartialEq)]
pub struct Combined {
    /// At most 1 where it carries.
    pub ratio: f64,
    /// How it came about.
    pub working: Vec<Line>,
}

/// A demand and what there is against it, both newtons.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Demand {
    /// What acts.
    pub demand_n: f64,
    /// What may act.
    pub adjusted_n: f64,
}

/// What a standard is told of a timber that its fasteners push across the grain.
#[derive(Clone, Copy, Debug)]
pub struct Split<'a> {
    /// What it is made of.
    pub material: &'a Material,
    /// Across the grain, from the edge that it is pushed towards to the farthest fastener.
    pub far_mm: f64,
    /// Its depth across the grain, the way that it is pushed.
    pub depth_mm: f64,
    /// Its thickness, as far as the shanks reach into it.
    pub width_mm: f64,
    /// How damp the place is.
    pub service: Service,
    /// How long the load acts.
    pub duration: Duration,
    /// What is around.
    pub conditions: Conditions,
}

/// What a timber carries across its grain before it splits along the fasteners.
#[derive(Clone, Debug, PartialEq)]
pub struct Splitting {
    /// The characteristic value, newtons.
    pub reference_n: f64,
    /// Every adjustment.
    pub factors: Vec<Factor>,
    /// The design value, newtons.
    pub adjusted_n: f64,
    /// How it came about.
    pub working: Vec<Line>,
}

/// Why a standard gives no value: a plain sentence with what would have to be known or changed.
#[derive(Clone, Debug, PartialEq)]
pub struct NoValue {
    /// The sentence.
    pub because: String,
    /// Where it is written.
    pub source: Source,
}
