//! Small joints made in code. Lengths in the text are inches where a name says so, else millimetres.

use std::sync::Arc;

use kurbo::Point;
use shankline::joint::{
    Connector, Duration, Duty, Fastener, Finish, Grain, Hole, Interval, Joint, Load, Member, Outline,
    Placement, Plate, PlateSide, Seat, Takes, Treatment,
};
use shankline::stock::{Family, FastenerKind, FastenerSpec, Material, NutSpec, WasherSpec, WoodType};
use shankline::unit::Vec3;

/// Hem-fir, G 0.43 (NDS 2018 Table 12.3.3A).
pub(super) fn hem_fir() -> Arc<Material> {
    wood("lumber/hem-fir", "hem-fir", 0.43)
}

/// Spruce of class C24, characteristic density 350 kg/m3 (EN 338).
pub(super) fn c24() -> Arc<Material> {
    let mut material = (*wood("lumber/C24", "C24", 0.42)).clone();
    (material.specific_gravity, material.density_kg_m3) = (None, Some(350.0));
    Arc::new(material)
}

fn wood(id: &str, label: &str, specific_gravity: f64) -> Arc<Material> {
    Arc::new(Material {
        id: id.to_owned(),
        label: label.to_owned(),
        family: Family::Lumber,
        wood: Some(WoodType::Softwood),
        specific_gravity: Some(specific_gravity),
        density_kg_m3: None,
        elastic_mpa: None,
        dowel_bearing_mpa: None,
        crushing_mpa: None,
        source: "in a test".to_owned(),
    })
}

pub(super) fn no_wood(id: &str, label: &str, family: Family) -> Arc<Material> {
    let mut material = (*wood(id, label, 0.5)).clone();
    (material.family, material.wood, material.specific_gravity) = (family, None, None);
    Arc::new(material)
}

/// A fastener of the inch tables, measures in inches.
pub(super) fn spec(id: &str, label: &str, kind: FastenerKind, diameter: f64, length: f64) -> FastenerSpec {
    FastenerSpec {
        id: id.to_owned(),
        label: label.to_owned(),
        kind,
        diameter_mm: mm(diameter),
        root_mm: None,
        length_mm: mm(length),
        head_mm: 2.1 * mm(diameter),
        head_height_mm: 0.0,
        thread_mm: None,
        point_mm: 0.0,
        bending_yield_mpa: None,
        tensile_mpa: None,
        nut: None,
        source: "in a test".to_owned(),
    }
}

/// Inches as the decimal that a file would hold.
pub(super) fn mm(inches: f64) -> f64 {
    shankline::unit::length::from_inches(inches)
}

/// 16d common: 0.162 by 3 1/2 in (NDS 2018 Table L4).
pub(super) fn nail_16d() -> FastenerSpec {
    spec("nail/common/16d", "16d common nail", FastenerKind::Nail, 0.162, 3.5)
}

/// 3/8 in lag screw: root 0.265 in, tip E 7/32 in (NDS 2018 Table L2); thread half the length and 1/2 in more.
pub(super) fn lag(length: f64) -> FastenerSpec {
    let mut lag =
        spec(&format!("lag-screw/0.375x{length}"), "lag screw", FastenerKind::LagScrew, 0.375, length);
    lag.root_mm = Some(mm(0.265));
    lag.point_mm = mm(7.0 / 32.0);
    lag.thread_mm = Some(mm(length / 2.0 + 0.5));
    lag.head_mm = mm(9.0 / 16.0);
    lag
}

/// 1/2 in bolt with a nut 7/16 in high (ASME B18.2.2).
pub(super) fn bolt(length: f64) -> FastenerSpec {
    let mut bolt = spec(&format!("bolt/inch/0.5x{length}"), "bolt", FastenerKind::Bolt, 0.5, length);
    bolt.head_mm = mm(0.75);
    bolt.thread_mm = Some(mm(1.25));
    bolt.nut = Some(NutSpec { height_mm: mm(0.4375), across_flats_mm: mm(0.75) });
    bolt
}

/// A standard cut washer: 1/2 in 1.375 by 0.109, 3/8 in 1.0 by 0.083 (NDS 2018 Table L6).
pub(super) fn washer(diameter: f64) -> WasherSpec {
    let (outer, thickness) = if diameter < 0.45 { (1.0, 0.083) } else { (1.375, 0.109) };
    WasherSpec {
        id: format!("washer/inch/{diameter}"),
        for_diameter_mm: mm(diameter),
        inner_mm: mm(diameter + 1.0 / 16.0),
        outer_mm: mm(outer),
        thickness_mm: mm(thickness),
        source: "in a test".to_owned(),
    }
}

/// A block from x to x and y to y, 1200 deep, its grain along the depth.
pub(super) fn block(id: &str, x: [f64; 2], y: [f64; 2]) -> Member {
    let corners = [(x[0], y[0]), (x[1], y[0]), (x[1], y[1]), (x[0], y[1])];
    Member {
        id: id.to_owned(),
        name: String::new(),
        material: hem_fir(),
        outline: Outline::Polygon(corners.into_iter().map(Point::from).collect()),
        cutouts: Vec::new(),
        depth: Interval { from: 0.0, to: 1200.0 },
        grain: Grain::AlongDepth,
        treatment: Treatment::None,
        bearing: true,
        blocking: false,
    }
}

pub(super) fn foam(x: [f64; 2]) -> Member {
    Member {
        material: no_wood("filling/foam", "foam", Family::Filling),
        grain: Grain::None,
        bearing: false,
        ..block("foam", x, [0.0, 250.0])
    }
}

pub(super) fn driven(id: &str, spec: FastenerSpec, head: [f64; 3], toward: [f64; 3]) -> Fastener {
    Fastener {
        id: id.to_owned(),
        spec: Arc::new(spec),
        place: Placement::Free { head: Vec3::from(head), toward: Vec3::from(toward) },
        seat: Seat::Flush,
        finish: Finish::Bright,
        lead_hole: None,
        head_washer: None,
        nut_washer: None,
        existing: false,
    }
}

/// A 1.5 mm strap on the ledger's face, 50 mm wide about z = 600, with one hole at y = 120.
pub(super) fn strap(takes: Option<Takes>, angle_deg: Option<f64>) -> Connector {
    Connector {
        id: "strap".to_owned(),
        name: String::new(),
        material: no_wood("steel/plate", "steel", Family::Steel),
        plates: vec![Plate {
            thickness_mm: 1.5,
            depth: Interval { from: 575.0, to: 625.0 },
            profile: vec![Point::new(-0.75, 20.0), Point::new(-0.75, 220.0)],
            bend_radius_mm: 0.0,
            holes: vec![Hole {
                id: "h1".to_owned(),
                along_mm: 100.0,
                depth_mm: 600.0,
                diameter_mm: 4.4,
                duty: Duty::Required,
                takes,
                angle_deg,
                driven_from: PlateSide::Left,
            }],
        }],
        rating: None,
    }
}

pub(super) fn filling(id: &str, hole: &str, angle_deg: Option<f64>) -> Fastener {
    let place = Placement::Fills { connector: "strap".to_owned(), hole: hole.to_owned(), angle_deg };
    Fastener { place, ..driven(id, nail_16d(), [0.0; 3], [1.0, 0.0, 0.0]) }
}

pub(super) fn takes(kind: FastenerKind, diameter_mm: f64, min_length_mm: Option<f64>) -> Option<Takes> {
    Some(Takes { kind, diameter_mm, min_length_mm })
}

/// The ledger 1 1/2 by 9 1/4 in on a rim 3 1/2 by 9 1/4 in, loaded straight down, with nothing driven.
pub(super) fn ledger_on_rim() -> Joint {
    Joint {
        title: "Ledger on rim".to_owned(),
        members: vec![
            block("ledger", [0.0, mm(1.5)], [0.0, mm(9.25)]),
            block("rim", [mm(1.5), mm(5.0)], [0.0, mm(9.25)]),
        ],
        loads: vec![Load {
            on: "ledger".to_owned(),
            toward: Vec3::new(0.0, -1.0, 0.0),
            newtons: None,
            duration: Duration::TenYears,
        }],
        ..Joint::default()
    }
}

/// The same with one 16d common nail square through the ledger into the rim: sound.
pub(super) fn nailed() -> Joint {
    let mut joint = ledger_on_rim();
    joint.fasteners.push(driven("n1", nail_16d(), [0.0, 120.0, 600.0], [1.0, 0.0, 0.0]));
    joint
}

/// The same with a 3/8 in lag screw of this length in inches, a washer under its head, in a lead hole
/// of 15/64 in: sound from 4 in on.
pub(super) fn lagged(length: f64) -> Joint {
    let mut joint = ledger_on_rim();
    let mut lag = driven("s1", lag(length), [-mm(0.083), 120.0, 600.0], [1.0, 0.0, 0.0]);
    lag.lead_hole = Some(shankline::joint::LeadHole { diameter_mm: mm(15.0 / 64.0), depth_mm: mm(length) });
    lag.head_washer = Some(Arc::new(washer(0.375)));
    joint.fasteners.push(lag);
    joint
}

/// The same with one 1/2 in bolt, washers at both ends, in a hole 1/32 in wider: sound.
pub(super) fn bolted() -> Joint {
    let mut joint = ledger_on_rim();
    // The head lies on its washer, 0.109 in off the ledger.
    let mut bolt = driven("b1", bolt(6.0), [-mm(0.109), 120.0, 600.0], [1.0, 0.0, 0.0]);
    bolt.lead_hole =
        Some(shankline::joint::LeadHole { diameter_mm: mm(0.5 + 1.0 / 32.0), depth_mm: mm(5.0) });
    bolt.head_washer = Some(Arc::new(washer(0.5)));
    bolt.nut_washer = Some(Arc::new(washer(0.5)));
    joint.fasteners.push(bolt);
    joint
}
