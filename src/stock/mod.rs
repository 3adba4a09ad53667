//! What can be placed: fasteners, materials, member sizes, washers. Knows no joint.
//!
//! The tables stand in `resources/`, each with its source; this room reads them.

mod fasteners;
mod materials;
mod measure;
mod read;
mod sizes;
#[cfg(test)]
mod tests;

use std::collections::BTreeMap;
use std::sync::Arc;

pub use read::StockError;

/// The kinds of fastener that Shankline knows.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum FastenerKind {
    /// A driven nail.
    Nail,
    /// A wood screw.
    WoodScrew,
    /// A lag screw (coach screw): hexagon head, turned into a lead hole.
    LagScrew,
    /// A bolt with head and nut.
    Bolt,
    /// A plain threaded rod with a nut at both ends.
    ThreadedRod,
    /// A screw cut into a hole drilled in concrete or masonry.
    MasonryScrew,
}

/// One fastener as made: its measures below and at the head.
#[derive(Clone, Debug, PartialEq)]
pub struct FastenerSpec {
    /// The entry's name in stock (`nail/common/16d`); empty for one that the joint file describes itself.
    pub id: String,
    /// The name for people, diameter by length in the unit of its table, then the trade name:
    /// `common nail 0.162" x 3 1/2" (16d)`, `bolt M12 x 140 mm`.
    pub label: String,
    /// What kind it is.
    pub kind: FastenerKind,
    /// Nominal diameter: the shank of a nail, the full body of a screw or bolt.
    pub diameter_mm: f64,
    /// Diameter at the root of the thread; `None` for a plain shank.
    pub root_mm: Option<f64>,
    /// Length below the head, point included; of a threaded rod, the whole length.
    pub length_mm: f64,
    /// Diameter of a round head, width across flats of a hexagon one; zero for a rod.
    pub head_mm: f64,
    /// Height of the head above its seat; zero for a nail or a countersunk screw.
    pub head_height_mm: f64,
    /// Length of the thread, measured back from the point, the point included.
    pub thread_mm: Option<f64>,
    /// Length of the tapered point (E in the tables of NDS); zero for bolts and rods.
    pub point_mm: f64,
    /// Bending yield strength in N/mm2, where the tables give one.
    pub bending_yield_mpa: Option<f64>,
    /// Ultimate tensile strength of the wire or bolt in N/mm2, where the tables give one.
    pub tensile_mpa: Option<f64>,
    /// The nut that goes with a bolt or a rod.
    pub nut: Option<NutSpec>,
    /// Where the measures come from.
    pub source: String,
}

/// A hexagon nut.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct NutSpec {
    /// Height along the axis.
    pub height_mm: f64,
    /// Width across flats.
    pub across_flats_mm: f64,
}

/// What kind of stuff a material is; it settles hatching, whether it bears, and which rules apply.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Family {
    /// Sawn lumber.
    Lumber,
    /// Glued laminated timber.
    Glulam,
    /// Structural composite lumber: laminated veneer, strand and the like.
    Engineered,
    /// Plywood, strand board and other structural panels.
    Panel,
    /// Cast concrete.
    Concrete,
    /// Brick or block masonry.
    Masonry,
    /// Steel plate and strip.
    Steel,
    /// Foam, gypsum, cladding, loose shim: drawn and named, never bite.
    Filling,
}

/// Whether a wood grows on a needle or a leaf tree: some distances differ.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum WoodType {
    /// Needle trees.
    Softwood,
    /// Leaf trees.
    Hardwood,
}

/// One material.
#[derive(Clone, Debug, PartialEq)]
pub struct Material {
    /// The entry's name in stock (`lumber/hem-fir`); empty for one that the joint file describes itself.
    pub id: String,
    /// The name for people.
    pub label: String,
    /// What kind of stuff it is.
    pub family: Family,
    /// Softwood or hardwood; `None` when it is no wood or a panel.
    pub wood: Option<WoodType>,
    /// Specific gravity G by oven-dry mass and volume (NDS), where the tables give one.
    pub specific_gravity: Option<f64>,
    /// Characteristic density in kg/m3 (EN 338, EN 14080), where the tables give one.
    pub density_kg_m3: Option<f64>,
    /// Modulus of elasticity along the grain, of steel in any direction, in N/mm2, where a table gives one.
    pub elastic_mpa: Option<f64>,
    /// Bearing strength under a dowel in N/mm2, where a table gives one and it does not follow from the gravity.
    pub dowel_bearing_mpa: Option<f64>,
    /// Strength in compression across the grain in N/mm2 (Fc-perp of NDS), where a table gives one.
    pub crushing_mpa: Option<f64>,
    /// Where the numbers come from.
    pub source: String,
}

/// A dressed size that members are cut from.
#[derive(Clone, Debug, PartialEq)]
pub struct SectionSize {
    /// The entry's name: `sawn/2x10`, `panel/23/32`, `i-section/9.5`.
    pub id: String,
    /// The nominal name for people: `2x10`.
    pub nominal: String,
    /// Actual thickness, the lesser measure.
    pub thickness_mm: f64,
    /// Actual depth, the greater measure; `None` for panels, which are cut to any.
    pub depth_mm: Option<f64>,
    /// Flange width and height and web thickness of an I-section, in that order.
    pub i_section_mm: Option<[f64; 3]>,
    /// Family that it is cut from.
    pub family: Family,
    /// Where the numbers come from.
    pub source: String,
}

/// A plain round washer.
#[derive(Clone, Debug, PartialEq)]
pub struct WasherSpec {
    /// The entry's name: `washer/inch/0.5`.
    pub id: String,
    /// Nominal diameter of the bolt or screw that it is for.
    pub for_diameter_mm: f64,
    /// Diameter of its hole.
    pub inner_mm: f64,
    /// Outer diameter.
    pub outer_mm: f64,
    /// Thickness.
    pub thickness_mm: f64,
    /// Where the numbers come from.
    pub source: String,
}

/// Everything that can be placed, by name.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Stock {
    /// Fasteners by name.
    pub fasteners: BTreeMap<String, Arc<FastenerSpec>>,
    /// Materials by name.
    pub materials: BTreeMap<String, Arc<Material>>,
    /// Member sizes, in the order of the tables.
    pub sections: Vec<SectionSize>,
    /// Washers, in the order of the tables.
    pub washers: Vec<WasherSpec>,
}

impl Stock {
    /// The tables that come with Shankline, read anew.
    ///
    /// # Panics
    /// Only if a table that is part of the program cannot be read; a test reads every one.
    #[must_use]
    pub fn built_in() -> Self {
        Self::read(&read::BUILT_IN).expect("the tables are part of the program, and a test reads every one")
    }

    /// The fasteners that one may swap `spec` for: same kind and same table, by diameter, then length.
    ///
    /// Common nails for a common nail, inch bolts for an inch bolt. A fastener that a joint file describes
    /// itself stands in no table, so any of its kind may take its place.
    pub fn alternatives<'a>(&'a self, spec: &'a FastenerSpec) -> impl Iterator<Item = &'a Arc<FastenerSpec>> {
        let table = spec.table();
        let mut found: Vec<&Arc<FastenerSpec>> = self
            .fasteners
            .values()
            .filter(|it| it.kind == spec.kind && (table.is_empty() || it.table() == table))
            .collect();
        found.sort_by(|a, b| a.by_size(b));
        found.into_iter()
    }

    /// All fasteners as a list shows them: kind after kind, table after table, and in a table by diameter, then length.
    #[must_use]
    pub fn fasteners_by_size(&self) -> Vec<&Arc<FastenerSpec>> {
        let mut all: Vec<&Arc<FastenerSpec>> = self.fasteners.values().collect();
        all.sort_by(|a, b| (a.kind, a.table()).cmp(&(b.kind, b.table())).then(a.by_size(b)));
        all
    }

    /// The plain round washer that goes under a head or nut of this nominal diameter on wood.
    ///
    /// The standard cut washer for an inch diameter; for a metric one the extra large series, because
    /// EN 1995-1-1 10.4.3 asks for three diameters of width.
    #[must_use]
    pub fn washer_for(&self, diameter_mm: f64) -> Option<&WasherSpec> {
        self.washers.iter().find(|it| (it.for_diameter_mm - diameter_mm).abs() < 0.05)
    }
}

impl FastenerKind {
    /// Every kind, in the order of the lists.
    pub const ALL: [Self; 6] =
        [Self::Nail, Self::WoodScrew, Self::LagScrew, Self::Bolt, Self::ThreadedRod, Self::MasonryScrew];

    /// The word for it in files and on the command line.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Nail => "nail",
            Self::WoodScrew => "wood-screw",
            Self::LagScrew => "lag-screw",
            Self::Bolt => "bolt",
            Self::ThreadedRod => "threaded-rod",
            Self::MasonryScrew => "masonry-screw",
        }
    }
}

impl FastenerSpec {
    /// The table that it stands in: its name without the last part; empty for one that a file describes.
    #[must_use]
    pub fn table(&self) -> &str {
        self.id.rsplit_once('/').map_or("", |it| it.0)
    }

    /// Thinner before thicker, then shorter before longer, then by name.
    #[must_use]
    pub fn by_size(&self, other: &Self) -> std::cmp::Ordering {
        self.diameter_mm
            .total_cmp(&other.diameter_mm)
            .then(self.length_mm.total_cmp(&other.length_mm))
            .then(self.id.cmp(&other.id))
    }
}

impl Family {
    /// Every family, in the order of the lists.
    pub const ALL: [Self; 8] = [
        Self::Lumber,
        Self::Glulam,
        Self::Engineered,
        Self::Panel,
        Self::Concrete,
        Self::Masonry,
        Self::Steel,
        Self::Filling,
    ];

    /// The word for it in files and on the command line.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Lumber => "lumber",
            Self::Glulam => "glulam",
            Self::Engineered => "engineered",
            Self::Panel => "panel",
            Self::Concrete => "concrete",
            Self::Masonry => "masonry",
            Self::Steel => "steel",
            Self::Filling => "filling",
        }
    }

    /// Whether it is wood or made of wood, so that grain and wood rules apply.
    #[must_use]
    pub fn is_wood(self) -> bool {
        matches!(self, Self::Lumber | Self::Glulam | Self::Engineered | Self::Panel)
    }

    /// Whether a member of it bears unless its file says otherwise.
    #[must_use]
    pub fn bears(self) -> bool {
        !matches!(self, Self::Filling)
    }
}
