//! What joints carry under their loads: sums by hand, laws, choices side by side.

mod choices;
mod hand;
mod laws;
mod rated;
mod splitting;

use std::sync::Arc;

use kurbo::Point;
use shankline::findings::carry::{Carries, Carrying, Detail, carry};
use shankline::joint::{
    Connector, Duration, Duty, Fastener, Finish, Grain, Hole, Interval, Joint, LeadHole, Load, Member,
    Outline, Placement, Plate, PlateSide, Seat, Treatment,
};
use shankline::stock::Stock;
use shankline::trace::trace;
use shankline::unit::Vec3;

pub(super) const MM: f64 = 25.4;
pub(super) const LB: f64 = 4.448_221_615_260_5;

#[track_caller]
fn near(value: f64, expected: f64, within: f64) {
    assert!((value - expected).abs() <= within, "{value} is not {expected}");
}

fn carried(joint: &Joint) -> Carrying {
    carry(joint, &trace(joint), Detail::Working)
}

fn of<'a>(carrying: &'a Carrying, id: &str) -> &'a Carries {
    carrying.fasteners.iter().find(|it| it.id == id).expect("the fastener is there")
}

/// A block from x to x and y to y, 1200 deep, of a material in stock.
fn block(id: &str, material: &str, x: [f64; 2], y: [f64; 2], grain: Grain) -> Member {
    let material = Arc::clone(&Stock::built_in().materials[material]);
    Member {
        id: id.to_owned(),
        name: String::new(),
        bearing: material.family.bears(),
        material,
        outline: Outline::Polygon(
            [(x[0], y[0]), (x[1], y[0]), (x[1], y[1]), (x[0], y[1])].into_iter().map(Point::from).collect(),
        ),
        cutouts: Vec::new(),
        depth: Interval { from: 0.0, to: 1200.0 },
        grain,
        treatment: Treatment::None,
        blocking: false,
    }
}

fn driven(id: &str, stock: &str, head: [f64; 3], toward: [f64; 3]) -> Fastener {
    Fastener {
        id: id.to_owned(),
        spec: Arc::clone(&Stock::built_in().fasteners[stock]),
        place: Placement::Free { head: Vec3::from(head), toward: Vec3::from(toward) },
        seat: Seat::Flush,
        finish: Finish::Bright,
        lead_hole: None,
        head_washer: None,
        nut_washer: None,
        existing: false,
    }
}

fn load(on: &str, toward: [f64; 3], newtons: f64) -> Load {
    Load {
        on: on.to_owned(),
        toward: Vec3::from(toward),
        newtons: Some(newtons),
        duration: Duration::TenYears,
    }
}

/// A hem-fir ledger 1 1/2 in thick on a hem-fir rim 3 1/2 in thick, both with their grain along the depth.
fn ledger_on_rim() -> Joint {
    let grain = Grain::AlongDepth;
    Joint {
        members: vec![
            block("ledger", "lumber/hem-fir", [0.0, 1.5 * MM], [0.0, 9.25 * MM], grain),
            block("rim", "lumber/hem-fir", [1.5 * MM, 5.0 * MM], [0.0, 9.25 * MM], grain),
        ],
        ..Joint::default()
    }
}

fn lead_hole(mut fastener: Fastener, inches: f64) -> Fastener {
    fastener.lead_hole = Some(LeadHole { diameter_mm: inches * MM, depth_mm: fastener.spec.length_mm });
    fastener
}

/// A strap 2 mm thick on top of two C24 joists that meet at x = 0, with nails of 4 x 60 mm through it: so many
/// to the left and so many to the right, 50 mm apart from 60 mm off the joint on.
fn strapped(left: usize, right: usize) -> Joint {
    let grain = Grain::InPlane(0.0);
    let places = |count: usize, way: f64| {
        (0..count).map(move |n| way * (60.0 + 50.0 * f64::from(u32::try_from(n).expect("few"))))
    };
    let all: Vec<f64> = places(left, -1.0).chain(places(right, 1.0)).collect();
    let hole = |(n, x): (usize, &f64)| Hole {
        id: format!("h{n}"),
        along_mm: x + 500.0,
        depth_mm: 600.0,
        diameter_mm: 4.5,
        duty: Duty::Required,
        takes: None,
        angle_deg: None,
        driven_from: PlateSide::Left,
    };
    let strap = Connector {
        id: "strap".to_owned(),
        name: String::new(),
        material: Arc::clone(&Stock::built_in().materials["steel/plate"]),
        plates: vec![Plate {
            thickness_mm: 2.0,
            depth: Interval { from: 570.0, to: 630.0 },
            profile: vec![Point::new(-500.0, 196.0), Point::new(500.0, 196.0)],
            bend_radius_mm: 0.0,
            holes: all.iter().enumerate().map(hole).collect(),
        }],
        rating: None,
    };
    let fill = |n: usize| Fastener {
        place: Placement::Fills { connector: "strap".to_owned(), hole: format!("h{n}"), angle_deg: None },
        ..driven(&format!("n{n}"), "nail/metric/4x60", [0.0; 3], [0.0, -1.0, 0.0])
    };
    Joint {
        standard: shankline::joint::StandardId::En199511,
        show_lengths_in: shankline::unit::LengthUnit::Millimetre,
        members: vec![
            block("left", "lumber/C24", [-800.0, 0.0], [0.0, 195.0], grain),
            block("right", "lumber/C24", [0.0, 800.0], [0.0, 195.0], grain),
        ],
        connectors: vec![strap],
        fasteners: (0..all.len()).map(fill).collect(),
        ..Joint::default()
    }
}
