//! The joint: members, connectors, fasteners, loads and notes, as plain data.
//!
//! Knows no screen, no standard, no clock and no disk: text in, text out. What a user can
//! change is changed through [`Edit`] alone, which gives back its own undoing.

mod dimension;
pub mod edit;
pub mod file;
mod sheet;

use std::sync::Arc;

use kurbo::Point;

use crate::stock::{FastenerKind, FastenerSpec, Material, WasherSpec};
use crate::unit::{LengthUnit, Vec3};

pub use dimension::{Anchor, Dimension, Measures};
pub use edit::Edit;
pub use sheet::{Look, Moved, Paper, Revision, SheetSettings, SheetView, read_scale};

/// A joint: everything that one file holds.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Joint {
    /// What the joint is called.
    pub title: String,
    /// The unit in which lengths are shown and typed.
    pub show_lengths_in: LengthUnit,
    /// The standard that it is checked by.
    pub standard: StandardId,
    /// How damp the place is.
    pub service: Service,
    /// What is joined. Where two overlap, the later one takes the run.
    pub members: Vec<Member>,
    /// The steel. It is drawn after the members.
    pub connectors: Vec<Connector>,
    /// What is driven.
    pub fasteners: Vec<Fastener>,
    /// What pulls and pushes.
    pub loads: Vec<Load>,
    /// Dimensions that the user placed.
    pub dimensions: Vec<Dimension>,
    /// What is around the connection and settles what it may carry.
    pub conditions: Conditions,
    /// Notes of the user, a paragraph each.
    pub notes: Vec<String>,
    /// How the exported detail is laid out.
    pub sheet: SheetSettings,
}

/// The published standards that a joint can be checked by.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord)]
pub enum StandardId {
    /// National Design Specification for Wood Construction, 2018 edition.
    #[default]
    Nds2018,
    /// EN 1995-1-1 (Eurocode 5), 2004 with its amendments A1 and A2.
    En199511,
}

/// How damp the wood gets. The service classes 1, 2 and 3 of EN 1995-1-1, 2.3.1.3.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Service {
    /// Heated inside: service class 1.
    #[default]
    Dry,
    /// Covered outside: service class 2.
    Humid,
    /// Rained on or in contact with the ground: service class 3.
    Wet,
}

/// A piece that bears, or a filling that is drawn and named but never bears.
#[derive(Clone, Debug, PartialEq)]
pub struct Member {
    /// Unique in the joint.
    pub id: String,
    /// The name for people; the id where it is empty.
    pub name: String,
    /// What it is made of.
    pub material: Arc<Material>,
    /// Its outline in the drawing plane.
    pub outline: Outline,
    /// What is cut out of it: notches and holes.
    pub cutouts: Vec<Outline>,
    /// How far it reaches in depth.
    pub depth: Interval,
    /// Which way its grain runs.
    pub grain: Grain,
    /// What the wood was treated with.
    pub treatment: Treatment,
    /// Whether it bears; a filling does not.
    pub bearing: bool,
    /// A short interrupted piece such as blocking: cut across, it is hatched with one diagonal, not two.
    pub blocking: bool,
}

/// An outline as the user gave it.
#[derive(Clone, Debug, PartialEq)]
pub enum Outline {
    /// A rectangle, turned about its lower-left corner.
    Rectangle {
        /// The lower-left corner before it is turned.
        corner: Point,
        /// Width and height.
        size_mm: (f64, f64),
        /// Degrees anticlockwise.
        turn_deg: f64,
    },
    /// Corners in order, either winding.
    Polygon(Vec<Point>),
    /// A round post or hole.
    Round {
        /// Its centre.
        centre: Point,
        /// Its diameter.
        diameter_mm: f64,
    },
    /// An I-section: two equal flanges and a web, turned about its lower-left corner.
    ISection {
        /// The lower-left corner of the lower flange before it is turned.
        corner: Point,
        /// Width and height over all.
        size_mm: (f64, f64),
        /// Height of each flange.
        flange_mm: f64,
        /// Thickness of the web.
        web_mm: f64,
        /// Degrees anticlockwise.
        turn_deg: f64,
    },
    /// SVG path data with M L H V A C Q Z: closed loops, even-odd.
    Path(String),
}

/// A stretch of depth; `from` lies farther from the viewer than `to`.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Interval {
    /// The far end, millimetres.
    pub from: f64,
    /// The near end, millimetres.
    pub to: f64,
}

/// Which way the grain runs.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub enum Grain {
    /// Towards the viewer.
    #[default]
    AlongDepth,
    /// In the drawing plane, degrees anticlockwise from x.
    InPlane(f64),
    /// Concrete, steel, foam.
    None,
}

/// What wood was treated with, as far as fasteners must know.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Treatment {
    /// Nothing.
    #[default]
    None,
    /// A waterborne preservative with copper, which eats bare steel.
    Preservative,
    /// A borate preservative, which is kind to steel while it stays dry.
    Borate,
    /// A fire retardant.
    FireRetardant,
}

/// A generic connector: one or more bent plates. No maker's part.
#[derive(Clone, Debug, PartialEq)]
pub struct Connector {
    /// Unique in the joint, among members and fasteners too.
    pub id: String,
    /// The name for people; the id where it is empty.
    pub name: String,
    /// The steel.
    pub material: Arc<Material>,
    /// Its plates.
    pub plates: Vec<Plate>,
    /// What its maker says that it carries, as the user typed it; nothing else ever fills this in.
    pub rating: Option<Rating>,
}

/// What a maker says that a connector carries, and the fastening for which that was said.
#[derive(Clone, Debug, PartialEq)]
pub struct Rating {
    /// The rating, newtons.
    pub newtons: f64,
    /// The way the load acts on what the connector carries; need not be of unit length.
    pub toward: Vec3,
    /// Which holes it presumes to be filled.
    pub holes: RatedHoles,
    /// The fastener that it presumes in each of them; `None` where what a hole takes says it.
    pub spec: Option<Arc<FastenerSpec>>,
    /// Where it is written, and what else it presumes, in the user's words.
    pub note: String,
}

/// The holes that a rating presumes to be filled.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum RatedHoles {
    /// Those that must be filled in any case.
    #[default]
    Required,
    /// Those and the extra ones.
    All,
}

/// One bent plate.
#[derive(Clone, Debug, PartialEq)]
pub struct Plate {
    /// Thickness of the steel, half on each side of the profile.
    pub thickness_mm: f64,
    /// How far it reaches in depth.
    pub depth: Interval,
    /// The middle line of the steel, with sharp corners where it is bent.
    pub profile: Vec<Point>,
    /// Radius of every bend, to the middle line; zero for sharp corners.
    pub bend_radius_mm: f64,
    /// Its holes.
    pub holes: Vec<Hole>,
}

/// One hole in a plate.
#[derive(Clone, Debug, PartialEq)]
pub struct Hole {
    /// Unique in the connector.
    pub id: String,
    /// Place along the profile from its first point, measured on the middle line with its bends.
    pub along_mm: f64,
    /// Place in depth.
    pub depth_mm: f64,
    /// Diameter.
    pub diameter_mm: f64,
    /// What it is for.
    pub duty: Duty,
    /// What may go through it; `None` where the maker leaves it open.
    pub takes: Option<Takes>,
    /// An angle that the steel forces on the shank: degrees from square to the steel,
    /// anticlockwise in the drawing plane.
    pub angle_deg: Option<f64>,
    /// The side that it is driven from.
    pub driven_from: PlateSide,
}

/// What a hole is for. Shown by a word or letter, never by the outline of the hole.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Duty {
    /// Must be filled.
    #[default]
    Required,
    /// Only for the higher of two ratings.
    Extra,
    /// Keeps the part in place while it is fixed; carries nothing.
    HoldingUp,
}

/// What a hole takes.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Takes {
    /// Kind of fastener.
    pub kind: FastenerKind,
    /// Nominal diameter.
    pub diameter_mm: f64,
    /// Least length below the head, where one is asked for.
    pub min_length_mm: Option<f64>,
}

/// A side of a plate, seen along its profile from the first point to the last.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum PlateSide {
    /// To the left of the line's direction.
    #[default]
    Left,
    /// To the right of it.
    Right,
}

/// One driven fastener.
#[derive(Clone, Debug, PartialEq)]
pub struct Fastener {
    /// Unique in the joint.
    pub id: String,
    /// What it is.
    pub spec: Arc<FastenerSpec>,
    /// Where it is.
    pub place: Placement,
    /// How far the head was driven.
    pub seat: Seat,
    /// Its coating or metal.
    pub finish: Finish,
    /// The hole drilled for it; of a bolt, the bolt hole.
    pub lead_hole: Option<LeadHole>,
    /// The washer under the head, measures and all, so that nobody has to look it up again.
    pub head_washer: Option<Arc<WasherSpec>>,
    /// The washer under the nut.
    pub nut_washer: Option<Arc<WasherSpec>>,
    /// It was there before: drawn as existing, counted as a neighbour.
    pub existing: bool,
}

/// Where a fastener is.
#[derive(Clone, Debug, PartialEq)]
pub enum Placement {
    /// Anywhere.
    Free {
        /// The point under the head, on the axis, when the head is flush.
        head: Vec3,
        /// The way it points; need not be of unit length.
        toward: Vec3,
    },
    /// In a hole of a connector.
    Fills {
        /// The connector's id.
        connector: String,
        /// The hole's id.
        hole: String,
        /// Degrees from square to the steel, anticlockwise in the drawing plane; the hole's angle or 0 where absent.
        angle_deg: Option<f64>,
    },
}

/// How far the head was driven, along the axis from flush.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub enum Seat {
    /// The underside of the head lies on the surface.
    #[default]
    Flush,
    /// The head stands off by so many millimetres.
    Proud(f64),
    /// The head is sunk by so many millimetres.
    Overdriven(f64),
}

/// A fastener's coating or metal.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Finish {
    /// Bare steel.
    #[default]
    Bright,
    /// Thin electroplated zinc.
    Electroplated,
    /// Hot-dip zinc coating.
    HotDipGalvanized,
    /// Mechanically deposited zinc of the same weight as hot-dip.
    MechanicallyGalvanized,
    /// Stainless steel.
    Stainless,
    /// Silicon bronze.
    SiliconBronze,
    /// Copper.
    Copper,
}

/// A drilled hole for one fastener, measured from the head's seat.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct LeadHole {
    /// Diameter.
    pub diameter_mm: f64,
    /// Depth along the axis from the seat of the head.
    pub depth_mm: f64,
}

impl LeadHole {
    /// The hole for a fastener of another length: one as deep as the old one was long is as deep as the new one.
    #[must_use]
    pub fn for_length(self, was_mm: f64, now_mm: f64) -> Self {
        let is_full = (self.depth_mm - was_mm).abs() < crate::unit::compare::SAME_MM;
        Self { depth_mm: if is_full { now_mm } else { self.depth_mm }, ..self }
    }
}

/// A load on a member.
#[derive(Clone, Debug, PartialEq)]
pub struct Load {
    /// The id of the member that it acts on.
    pub on: String,
    /// The way it acts; need not be of unit length.
    pub toward: Vec3,
    /// Its size, where known.
    pub newtons: Option<f64>,
    /// How long it acts.
    pub duration: Duration,
}

/// How long a load acts (NDS 2018 Table 2.3.2; EN 1995-1-1 Table 2.1 reads them as its classes).
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Duration {
    /// Self-weight.
    Permanent,
    /// Occupancy: about ten years in all.
    #[default]
    TenYears,
    /// Snow: about two months.
    TwoMonths,
    /// Construction: about seven days.
    SevenDays,
    /// Wind and earthquake: about ten minutes.
    TenMinutes,
    /// A blow.
    Impact,
}

/// What is around a connection, beside how damp the place is ([`Service`]).
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Conditions {
    /// The wood was wet when it was nailed together.
    pub wet_when_made: bool,
    /// How hot it gets for long.
    pub heat: Heat,
    /// The connection is part of a diaphragm or shear wall and is nailed for it (NDS 2018 12.5.3).
    pub diaphragm: bool,
    /// The partial factor of a connection where the country chooses another than EN 1995-1-1 recommends.
    pub gamma_m: Option<f64>,
}

/// Sustained heat, by the bands of NDS 2018 Table 11.3.4.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Heat {
    /// Up to 100 degrees Fahrenheit (38 Celsius).
    #[default]
    Ordinary,
    /// Above that, up to 125 (52).
    Warm,
    /// Above that, up to 150 (66).
    Hot,
}

impl Grain {
    /// The direction of the grain in space, of unit length; `None` where there is no grain.
    #[must_use]
    pub fn direction(self) -> Option<Vec3> {
        match self {
            Self::AlongDepth => Some(Vec3::Z),
            Self::InPlane(degrees) => {
                let (sin, cos) = crate::shape::sin_cos_deg(degrees);
                Some(Vec3::new(cos, sin, 0.0))
            }
            Self::None => None,
        }
    }
}

impl Joint {
    /// The name of a member or a connector for people, by its id; the id itself where the joint has none.
    #[must_use]
    pub fn name_of<'a>(&'a self, id: &'a str) -> &'a str {
        let member = self.members.iter().find(|it| it.id == id).map(Member::shown_name);
        let connector = || self.connectors.iter().find(|it| it.id == id).map(Connector::shown_name);
        member.or_else(connector).unwrap_or(id)
    }
}

impl Member {
    /// The name for people: the name, or the id where no name was given.
    #[must_use]
    pub fn shown_name(&self) -> &str {
        if self.name.is_empty() { &self.id } else { &self.name }
    }
}

impl Connector {
    /// The name for people: the name, or the id where no name was given.
    #[must_use]
    pub fn shown_name(&self) -> &str {
        if self.name.is_empty() { &self.id } else { &self.name }
    }
}
