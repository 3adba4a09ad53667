//! A long wall of like joints, made up and the same every time: what the bench measures on.
//!
//! In each bay a panel stands before foam, a notched rim, a round post, a turned brace and a drilled
//! block, between a sill and a plate. Every 50 mm of depth ten fasteners go in: level, aslant, along the
//! depth, and some that miss. A wall with more fasteners is longer, never denser.

use std::sync::Arc;

use kurbo::Point;
use shankline::joint::{
    Fastener, Finish, Grain, Interval, Joint, Member, Outline, Placement, Seat, Treatment,
};
use shankline::stock::{FastenerSpec, Stock};
use shankline::unit::Vec3;

const MEMBERS_IN_A_BAY: usize = 8;
const FASTENERS_AT_A_STATION: usize = 10;
const STATION_MM: f64 = 50.0;
const BAY_MM: f64 = 600.0;

/// A size of wall.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Size {
    /// What it is called.
    pub(crate) name: &'static str,
    /// How many members.
    pub(crate) members: usize,
    /// How many fasteners.
    pub(crate) fasteners: usize,
}

pub(crate) const SMALL: Size = Size { name: "small", members: 8, fasteners: 40 };
pub(crate) const TWO_HUNDRED: Size = Size { name: "two hundred", members: 16, fasteners: 200 };
pub(crate) const MEDIUM: Size = Size { name: "medium", members: 60, fasteners: 1_000 };
pub(crate) const LARGE: Size = Size { name: "large", members: 2_000, fasteners: 50_000 };

impl std::fmt::Display for Size {
    fn fmt(&self, to: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(to, "{}: {} members, {} fasteners", self.name, self.members, self.fasteners)
    }
}

/// Small numbers that are the same every time (a linear congruential generator, Knuth's MMIX numbers).
struct Jitter(u64);

impl Jitter {
    /// Within so many millimetres, either way.
    fn within(&mut self, most: f64) -> f64 {
        self.0 = self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        let top = u32::try_from(self.0 >> 32).expect("32 bits are left");
        most * (f64::from(top) / 2_147_483_648.0 - 1.0)
    }
}

fn count(n: usize) -> f64 {
    f64::from(u32::try_from(n).expect("a wall has fewer"))
}

/// The wall of this size.
pub(crate) fn wall(size: Size) -> Joint {
    let stock = Stock::built_in();
    let bays = size.members.div_ceil(MEMBERS_IN_A_BAY);
    let in_bay = size.fasteners.div_ceil(bays);
    let depth = STATION_MM * (count(in_bay.div_ceil(FASTENERS_AT_A_STATION)) + 1.0);
    let mut jitter = Jitter(7);
    let mut joint = Joint { title: format!("Wall of {bays} bays"), ..Joint::default() };
    for bay in 0..bays {
        let left = count(bay) * BAY_MM;
        let room = size.members - joint.members.len();
        joint.members.extend(members(&stock, bay, left, depth).into_iter().take(room));
        for n in 0..in_bay.min(size.fasteners - joint.fasteners.len()) {
            joint.fasteners.push(fastener(&stock, (bay, n), left, &mut jitter));
        }
    }
    joint
}

fn members(stock: &Stock, bay: usize, left: f64, depth: f64) -> Vec<Member> {
    let at = |x: f64, y: f64| Point::new(left + x, y);
    let rectangle = |x: f64, y: f64, width: f64, height: f64, turn_deg: f64| Outline::Rectangle {
        corner: at(x, y),
        size_mm: (width, height),
        turn_deg,
    };
    let round = |x: f64, y: f64, diameter_mm: f64| Outline::Round { centre: at(x, y), diameter_mm };
    let sill = Outline::Polygon(vec![at(0.0, -45.0), at(420.0, -45.0), at(400.0, -5.0), at(0.0, -5.0)]);
    let list = [
        ("panel", "panel/plywood", rectangle(0.0, 0.0, 12.0, 300.0, 0.0), None, Grain::InPlane(90.0)),
        ("foam", "filling/foam", rectangle(12.0, 0.0, 6.0, 300.0, 0.0), None, Grain::None),
        (
            "rim",
            "lumber/hem-fir",
            rectangle(18.0, 0.0, 38.0, 240.0, 0.0),
            Some(rectangle(18.0, 100.0, 12.0, 30.0, 0.0)),
            Grain::AlongDepth,
        ),
        ("post", "lumber/douglas-fir-larch", round(131.0, 150.0, 140.0), None, Grain::AlongDepth),
        ("brace", "lumber/hem-fir", rectangle(240.0, 20.0, 140.0, 40.0, 55.0), None, Grain::InPlane(55.0)),
        ("sill", "lumber/hem-fir", sill, None, Grain::InPlane(0.0)),
        ("plate", "lumber/hem-fir", rectangle(0.0, 300.0, 400.0, 38.0, 0.0), None, Grain::InPlane(0.0)),
        (
            "block",
            "lumber/hem-fir",
            rectangle(330.0, 0.0, 70.0, 290.0, 0.0),
            Some(round(365.0, 145.0, 30.0)),
            Grain::InPlane(90.0),
        ),
    ];
    let member =
        |(name, material, outline, cutout, grain): (&str, &str, Outline, Option<Outline>, Grain)| Member {
            id: format!("{name}-{bay}"),
            name: String::new(),
            material: stock.materials.get(material).expect("stock lists it").clone(),
            outline,
            cutouts: cutout.into_iter().collect(),
            depth: Interval { from: 0.0, to: depth },
            grain,
            treatment: Treatment::None,
            bearing: name != "foam",
            blocking: name == "block",
        };
    list.into_iter().map(member).collect()
}

fn fastener(stock: &Stock, (bay, n): (usize, usize), left: f64, jitter: &mut Jitter) -> Fastener {
    let z = STATION_MM * (count(n / FASTENERS_AT_A_STATION) + 1.0) + jitter.within(8.0);
    let (head, toward, id) = match n % FASTENERS_AT_A_STATION {
        // Through the panel, the foam and the rim, one of them at the height of the notch.
        0 => ((0.0, 30.0), (1.0, 0.0, 0.0), "nail/common/16d"),
        1 => ((0.0, 75.0), (1.0, 0.0, 0.0), "nail/common/16d"),
        2 => ((0.0, 115.0), (1.0, 0.0, 0.0), "nail/common/16d"),
        3 => ((0.0, 150.0), (1.0, 0.05, 0.0), "lag-screw/0.375x6"),
        4 => ((0.0, 210.0), (1.0, -0.2, 0.1), "nail/common/20d"),
        // Aslant into the sill, down through the plate, into the brace, along the depth, and a miss.
        5 => ((56.0, 40.0), (-0.3, -1.0, 0.0), "nail/common/10d"),
        6 => ((350.0, 338.0), (0.0, -1.0, 0.0), "nail/common/20d"),
        7 => ((400.0, 120.0), (-1.0, 0.1, 0.0), "lag-screw/0.5x6"),
        8 => ((131.0, 190.0), (0.1, 0.0, 1.0), "nail/common/10d"),
        _ => ((220.0, 200.0), (0.3, 1.0, 0.0), "nail/common/8d"),
    };
    let head = Vec3::new(left + head.0, head.1 + jitter.within(6.0), z);
    let toward = Vec3::new(toward.0, toward.1 + jitter.within(0.02), toward.2 + jitter.within(0.02));
    let spec: Arc<FastenerSpec> = stock.fasteners.get(id).expect("stock lists it").clone();
    Fastener {
        id: format!("f{bay}-{n}"),
        spec,
        place: Placement::Free { head, toward },
        seat: Seat::Flush,
        finish: Finish::Bright,
        lead_hole: None,
        head_washer: None,
        nut_washer: None,
        existing: false,
    }
}
