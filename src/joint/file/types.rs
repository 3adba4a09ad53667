//! What a joint file holds, key by key. The JSON Schema and the reader's rules come from here.

use std::borrow::Cow;

use schemars::{JsonSchema, Schema, SchemaGenerator, json_schema};
use serde::de::IntoDeserializer as _;
use serde::de::value::MapAccessDeserializer;
use serde::{Deserialize, Deserializer, Serialize};

use super::carried::{Conditions, Rating};
use super::measure::{Coordinate, Density, Direction, Force, Gravity, Lean, Length, Size, Strength, Turn};
use super::measured::Dimension;
use super::sheet::Sheet;
use super::words::{
    Duration, Duty, End, Family, Finish, Format, Kind, Service, Side, Standard, Treatment, Unit, Wood,
};

pub(super) fn is_default<T: Default + PartialEq>(value: &T) -> bool {
    *value == T::default()
}

/// A wood joint for Shankline. Lengths in millimetres, angles in degrees anticlockwise, forces in newtons.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
#[schemars(title = "Shankline joint file", rename = "JointFile")]
pub(super) struct File {
    /// What the file is.
    pub(super) format: Format,
    /// Version of this format.
    #[schemars(range(min = 1, max = 1))]
    pub(super) version: u32,
    /// What the joint is called.
    #[serde(default)]
    #[schemars(length(max = 1000))]
    pub(super) title: String,
    /// The unit in which lengths are shown and typed; where absent, that of the standard.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub(super) show_lengths_in: Option<Unit>,
    /// The standard that the joint is checked by; `nds-2018` where absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub(super) standard: Option<Standard>,
    /// How damp the place is.
    #[serde(default, skip_serializing_if = "is_default")]
    pub(super) service: Service,
    /// What is joined. Where two overlap, the later one takes the run.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    #[schemars(length(max = 100_000))]
    pub(super) members: Vec<Member>,
    /// The steel.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    #[schemars(length(max = 10_000))]
    pub(super) connectors: Vec<Connector>,
    /// What is driven.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    #[schemars(length(max = 100_000))]
    pub(super) fasteners: Vec<Fastener>,
    /// What pulls and pushes.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    #[schemars(length(max = 10_000))]
    pub(super) loads: Vec<Load>,
    /// Dimensions that the user placed.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    #[schemars(length(max = 10_000))]
    pub(super) dimensions: Vec<Dimension>,
    /// What is around the connection and settles what it may carry.
    #[serde(default, skip_serializing_if = "is_default")]
    pub(super) conditions: Conditions,
    /// Notes, a paragraph each.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    #[schemars(length(max = 1000), inner(length(max = 10_000)))]
    pub(super) notes: Vec<String>,
    /// How the exported detail is laid out.
    #[serde(default, skip_serializing_if = "is_default")]
    pub(super) sheet: Sheet,
}

/// A piece that bears, or a filling.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(super) struct Member {
    /// Unique among members, connectors and fasteners.
    #[schemars(length(min = 1, max = 200))]
    pub(super) id: String,
    /// The name for people; the id where absent.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    #[schemars(length(max = 200))]
    pub(super) name: String,
    /// The name of a material in stock, or the material itself.
    pub(super) material: MaterialOf,
    /// Its outline in the drawing plane.
    pub(super) outline: Outline,
    /// Notches and holes.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    #[schemars(length(max = 1000))]
    pub(super) cutouts: Vec<Outline>,
    /// Far and near end in depth.
    pub(super) depth: [Coordinate; 2],
    /// Which way its grain runs; `along_depth` for wood and `none` for the rest where absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub(super) grain: Option<Grain>,
    /// What the wood was treated with.
    #[serde(default, skip_serializing_if = "is_default")]
    pub(super) treatment: Treatment,
    /// Whether it bears; only a filling does not where absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub(super) bearing: Option<bool>,
    /// A short interrupted piece such as blocking.
    #[serde(default, skip_serializing_if = "is_default")]
    pub(super) blocking: bool,
}

/// The name of an entry of stock, or the thing itself.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[serde(untagged)]
pub(super) enum Named<T> {
    Stock(String),
    Own(T),
}

pub(super) type MaterialOf = Named<Material>;
pub(super) type FastenerOf = Named<Spec>;

// By hand and not `untagged`: a fault in the object is told as such, not as "fits no variant".
impl<'de, T: Deserialize<'de>> Deserialize<'de> for Named<T> {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        struct Visitor<T>(std::marker::PhantomData<T>);
        impl<'de, T: Deserialize<'de>> serde::de::Visitor<'de> for Visitor<T> {
            type Value = Named<T>;
            fn expecting(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
                f.write_str("the name of an entry of stock, or an object")
            }
            fn visit_str<E>(self, name: &str) -> Result<Named<T>, E> {
                Ok(Named::Stock(name.to_owned()))
            }
            fn visit_map<A: serde::de::MapAccess<'de>>(self, map: A) -> Result<Named<T>, A::Error> {
                T::deserialize(MapAccessDeserializer::new(map)).map(Named::Own)
            }
        }
        deserializer.deserialize_any(Visitor(std::marker::PhantomData))
    }
}

impl<T: JsonSchema> JsonSchema for Named<T> {
    fn schema_name() -> Cow<'static, str> {
        format!("{}InStockOrOwn", T::schema_name()).into()
    }

    fn json_schema(generator: &mut SchemaGenerator) -> Schema {
        let own = generator.subschema_for::<T>();
        json_schema!({ "anyOf": [{ "type": "string", "description": "The name of an entry of stock.", "maxLength": 200 }, own] })
    }
}

/// A material that no table holds.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(super) struct Material {
    /// What kind of stuff it is.
    pub(super) family: Family,
    /// The name for people; the family where absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schemars(length(max = 200))]
    pub(super) name: Option<String>,
    /// Softwood or hardwood; softwood for lumber and glulam where absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub(super) wood: Option<Wood>,
    /// Specific gravity by oven-dry mass and volume.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub(super) specific_gravity: Option<Gravity>,
    /// Characteristic density.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub(super) density: Option<Density>,
    /// Where the numbers come from.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    #[schemars(length(max = 1000))]
    pub(super) source: String,
}

/// A fastener that no table holds.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(super) struct Spec {
    /// What kind it is.
    pub(super) kind: Kind,
    /// The name for people; kind and measures where absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schemars(length(max = 200))]
    pub(super) name: Option<String>,
    /// Nominal diameter.
    pub(super) diameter: Size,
    /// Diameter at the root of the thread.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub(super) root: Option<Size>,
    /// Length below the head, point included; of a threaded rod, the whole length.
    pub(super) length: Size,
    /// Diameter of a round head, width across flats of a hexagon one; none where absent.
    #[serde(default, skip_serializing_if = "is_default")]
    pub(super) head: Length,
    /// Height of the head above its seat.
    #[serde(default, skip_serializing_if = "is_default")]
    pub(super) head_height: Length,
    /// Length of the thread, measured back from the point.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub(super) thread: Option<Size>,
    /// Length of the tapered point.
    #[serde(default, skip_serializing_if = "is_default")]
    pub(super) point: Length,
    /// Bending yield strength.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub(super) bending_yield: Option<Strength>,
    /// Ultimate tensile strength.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub(super) tensile: Option<Strength>,
    /// The nut that goes with it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub(super) nut: Option<Nut>,
    /// Where the measures come from.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    #[schemars(length(max = 1000))]
    pub(super) source: String,
}

/// A hexagon nut.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(super) struct Nut {
    /// Height along the axis.
    pub(super) height: Size,
    /// Width across flats.
    pub(super) across_flats: Size,
}

/// An outline.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub(super) enum Outline {
    /// A rectangle, turned about its lower-left corner.
    Rectangle(Rectangle),
    /// Corners in order, either winding.
    Polygon(#[schemars(length(min = 3, max = 2000))] Vec<[Coordinate; 2]>),
    /// A round post or hole.
    Round(Round),
    /// An I-section of two equal flanges and a web.
    ISection(ISection),
    /// SVG path data with M L H V A C Q Z: closed loops, even-odd.
    Path(#[schemars(length(max = 100_000))] String),
}

/// A rectangle.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(super) struct Rectangle {
    /// The lower-left corner before it is turned.
    pub(super) corner: [Coordinate; 2],
    /// Width and height.
    pub(super) size: [Size; 2],
    /// Degrees anticlockwise about that corner.
    #[serde(default, skip_serializing_if = "is_zero")]
    pub(super) turn: Turn,
}

/// Whether it is zero and not minus zero, so that what is left out reads back the same.
fn is_zero(turn: &Turn) -> bool {
    turn.0.to_bits() == 0
}

/// A circle.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(super) struct Round {
    /// Its centre.
    pub(super) centre: [Coordinate; 2],
    /// Its diameter.
    pub(super) diameter: Size,
}

/// An I-section.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(super) struct ISection {
    /// The lower-left corner of the lower flange before it is turned.
    pub(super) corner: [Coordinate; 2],
    /// Width and height over all.
    pub(super) size: [Size; 2],
    /// Height of each flange.
    pub(super) flange: Size,
    /// Thickness of the web.
    pub(super) web: Size,
    /// Degrees anticlockwise about that corner.
    #[serde(default, skip_serializing_if = "is_zero")]
    pub(super) turn: Turn,
}

/// Which way the grain runs.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub(super) enum Grain {
    /// Towards the viewer.
    AlongDepth,
    /// No grain: concrete, steel, foam.
    None,
    /// In the drawing plane, degrees anticlockwise from x.
    InPlane(Turn),
}

/// A generic connector: one or more bent plates.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(super) struct Connector {
    /// Unique among members, connectors and fasteners.
    #[schemars(length(min = 1, max = 200))]
    pub(super) id: String,
    /// The name for people; the id where absent.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    #[schemars(length(max = 200))]
    pub(super) name: String,
    /// The name of a material in stock, or the material itself; `steel/plate` where absent.
    #[serde(default = "steel_plate")]
    pub(super) material: MaterialOf,
    /// Its plates.
    #[schemars(length(min = 1, max = 100))]
    pub(super) plates: Vec<Plate>,
    /// What its maker says that it carries.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub(super) rating: Option<Rating>,
}

fn steel_plate() -> MaterialOf {
    Named::Stock("steel/plate".to_owned())
}

/// One bent plate.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(super) struct Plate {
    /// Thickness, half on each side of the profile.
    pub(super) thickness: Size,
    /// Far and near edge in depth.
    pub(super) depth: [Coordinate; 2],
    /// The middle line of the steel, with sharp corners where it is bent.
    #[schemars(length(min = 2, max = 200))]
    pub(super) profile: Vec<[Coordinate; 2]>,
    /// Radius of every bend to the middle line; 0 for sharp corners.
    #[serde(default, skip_serializing_if = "is_default")]
    pub(super) bend_radius: Length,
    /// Its holes.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    #[schemars(length(max = 10_000))]
    pub(super) holes: Vec<Hole>,
}

/// One hole in a plate.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(super) struct Hole {
    /// Unique in the connector.
    #[schemars(length(min = 1, max = 200))]
    pub(super) id: String,
    /// Place along the profile from its first point.
    pub(super) along: Length,
    /// Place in depth; the middle of the plate where absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub(super) depth: Option<Coordinate>,
    /// Diameter.
    pub(super) diameter: Size,
    /// What it is for.
    #[serde(default, skip_serializing_if = "is_default")]
    pub(super) duty: Duty,
    /// What may go through it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub(super) takes: Option<Takes>,
    /// An angle that the steel forces on the shank.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub(super) angle: Option<Lean>,
    /// The side that it is driven from.
    #[serde(default, skip_serializing_if = "is_default")]
    pub(super) driven_from: Side,
}

/// What a hole takes.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(super) struct Takes {
    /// Kind of fastener.
    pub(super) kind: Kind,
    /// Nominal diameter.
    pub(super) diameter: Size,
    /// Least length below the head.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub(super) min_length: Option<Size>,
}

/// One driven fastener: either it fills a hole, or it has a head and a direction.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(super) struct Fastener {
    /// Unique among members, connectors and fasteners.
    #[schemars(length(min = 1, max = 200))]
    pub(super) id: String,
    /// The name of a fastener in stock, or the fastener itself.
    pub(super) stock: FastenerOf,
    /// The hole that it fills, as `connector/hole`.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schemars(length(max = 401))]
    pub(super) fills: Option<String>,
    /// Its own angle in the hole that it fills; the hole's where absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub(super) angle: Option<Lean>,
    /// The point under the head, on the axis.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub(super) head: Option<[Coordinate; 3]>,
    /// The way it points; need not be of unit length.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub(super) toward: Option<[Direction; 3]>,
    /// How far the head was driven.
    #[serde(default, skip_serializing_if = "is_default")]
    pub(super) seat: Seat,
    /// Its coating or metal.
    #[serde(default, skip_serializing_if = "is_default")]
    pub(super) finish: Finish,
    /// The hole drilled for it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub(super) lead_hole: Option<LeadHole>,
    /// Its washers, at most one at each end.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    #[schemars(length(max = 2))]
    pub(super) washers: Vec<WasherAt>,
    /// It was there before.
    #[serde(default, skip_serializing_if = "is_default")]
    pub(super) existing: bool,
}

/// A washer: the end that it lies at, with the plain washer for the fastener's diameter, or more.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
#[serde(untagged)]
pub(super) enum WasherAt {
    Plain(End),
    Chosen(ChosenWasher),
}

impl<'de> Deserialize<'de> for WasherAt {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        struct Visitor;
        impl<'de> serde::de::Visitor<'de> for Visitor {
            type Value = WasherAt;
            fn expecting(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
                f.write_str("\"head\", \"nut\" or an object")
            }
            fn visit_str<E: serde::de::Error>(self, end: &str) -> Result<WasherAt, E> {
                End::deserialize(end.into_deserializer()).map(WasherAt::Plain)
            }
            fn visit_map<A: serde::de::MapAccess<'de>>(self, map: A) -> Result<WasherAt, A::Error> {
                ChosenWasher::deserialize(MapAccessDeserializer::new(map)).map(WasherAt::Chosen)
            }
        }
        deserializer.deserialize_any(Visitor)
    }
}

/// A washer other than the plain one for the fastener's diameter.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(super) struct ChosenWasher {
    /// The end that it lies at.
    pub(super) at: End,
    /// The name of a washer in stock, or the washer itself.
    pub(super) stock: Named<Washer>,
}

/// A washer that no table holds.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(super) struct Washer {
    /// Nominal diameter of the bolt or screw that it is for; the hole's where absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub(super) for_diameter: Option<Size>,
    /// Diameter of its hole.
    pub(super) inner: Size,
    /// Outer diameter.
    pub(super) outer: Size,
    /// Thickness.
    pub(super) thickness: Size,
    /// Where the measures come from.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    #[schemars(length(max = 1000))]
    pub(super) source: String,
}

/// How far the head was driven, along the axis from flush.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub(super) enum Seat {
    /// The underside of the head lies on the surface.
    #[default]
    Flush,
    /// The head stands off by so much.
    Proud(Length),
    /// The head is sunk by so much.
    Overdriven(Length),
}

/// A drilled hole for one fastener.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(super) struct LeadHole {
    /// Diameter.
    pub(super) diameter: Size,
    /// Depth along the axis from the seat of the head.
    pub(super) depth: Size,
}

/// A load on a member.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(super) struct Load {
    /// The id of the member that it acts on.
    #[schemars(length(max = 200))]
    pub(super) on: String,
    /// The way it acts; need not be of unit length.
    pub(super) toward: [Direction; 3],
    /// Its size, where known.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub(super) newtons: Option<Force>,
    /// How long it acts.
    #[serde(default, skip_serializing_if = "is_default")]
    pub(super) duration: Duration,
}
