//! Small joints to trace, and the notation in which their cores are compared.

use std::sync::Arc;

use kurbo::Point;

use crate::joint::{
    Connector, Duty, Fastener, Finish, Grain, Hole, Interval, Joint, Member, Outline, Placement, Plate,
    PlateSide, Seat, Treatment,
};
use crate::stock::{Family, FastenerKind, FastenerSpec, Material, WasherSpec};
use crate::trace::{Holding, Run, Shank, Stuff, Trace, What, trace};
use crate::unit::Vec3;

/// Diameter of every nail here: 16d common, NDS 2018 Appendix L4 (0.162 in).
pub(super) const NAIL_MM: f64 = 4.1148;

fn material(family: Family) -> Arc<Material> {
    Arc::new(Material {
        id: String::new(),
        label: String::new(),
        family,
        wood: None,
        specific_gravity: None,
        density_kg_m3: None,
        elastic_mpa: None,
        dowel_bearing_mpa: None,
        crushing_mpa: None,
        source: String::new(),
    })
}

pub(super) fn member(outline: Outline, depth: (f64, f64), grain: Grain) -> Member {
    Member {
        id: String::new(),
        name: String::new(),
        material: material(Family::Lumber),
        outline,
        cutouts: Vec::new(),
        depth: Interval { from: depth.0, to: depth.1 },
        grain,
        treatment: Treatment::None,
        bearing: true,
        blocking: false,
    }
}

/// A rectangle of wood from one corner to the other, 100 deep, grain along the depth.
pub(super) fn wood(from: (f64, f64), to: (f64, f64)) -> Member {
    let size_mm = (to.0 - from.0, to.1 - from.1);
    let outline = Outline::Rectangle { corner: from.into(), size_mm, turn_deg: 0.0 };
    member(outline, (0.0, 100.0), Grain::AlongDepth)
}

pub(super) fn filling(from: (f64, f64), to: (f64, f64)) -> Member {
    Member { bearing: false, ..wood(from, to) }
}

pub(super) fn rectangle(from: (f64, f64), to: (f64, f64)) -> Outline {
    Outline::Rectangle { corner: from.into(), size_mm: (to.0 - from.0, to.1 - from.1), turn_deg: 0.0 }
}

/// A plate 1.5 thick along a middle line, from depth 0 to 100.
pub(super) fn plate(profile: &[(f64, f64)], bend_radius_mm: f64, holes: Vec<Hole>) -> Connector {
    Connector {
        id: "plate".to_owned(),
        name: String::new(),
        material: material(Family::Steel),
        plates: vec![Plate {
            thickness_mm: 1.5,
            depth: Interval { from: 0.0, to: 100.0 },
            profile: profile.iter().map(|it| Point::from(*it)).collect(),
            bend_radius_mm,
            holes,
        }],
        rating: None,
    }
}

pub(super) fn hole(id: &str, along_mm: f64, driven_from: PlateSide) -> Hole {
    Hole {
        id: id.to_owned(),
        along_mm,
        depth_mm: 50.0,
        diameter_mm: 5.0,
        duty: Duty::Required,
        takes: None,
        angle_deg: None,
        driven_from,
    }
}

pub(super) fn spec(kind: FastenerKind, diameter_mm: f64, length_mm: f64) -> FastenerSpec {
    FastenerSpec {
        id: String::new(),
        label: String::new(),
        kind,
        diameter_mm,
        root_mm: None,
        length_mm,
        head_mm: 2.0 * diameter_mm,
        head_height_mm: 0.0,
        thread_mm: None,
        point_mm: 0.0,
        bending_yield_mpa: None,
        tensile_mpa: None,
        nut: None,
        source: String::new(),
    }
}

pub(super) fn fastener(spec: FastenerSpec, place: Placement) -> Fastener {
    Fastener {
        id: String::new(),
        spec: Arc::new(spec),
        place,
        seat: Seat::Flush,
        finish: Finish::Bright,
        lead_hole: None,
        head_washer: None,
        nut_washer: None,
        existing: false,
    }
}

pub(super) fn nail(head: [f64; 3], toward: [f64; 3], length_mm: f64) -> Fastener {
    let place = Placement::Free { head: head.into(), toward: toward.into() };
    fastener(spec(FastenerKind::Nail, NAIL_MM, length_mm), place)
}

pub(super) fn washer(thickness_mm: f64) -> Option<Arc<WasherSpec>> {
    Some(Arc::new(WasherSpec {
        id: String::new(),
        for_diameter_mm: 12.7,
        inner_mm: 14.3,
        outer_mm: 34.9,
        thickness_mm,
        source: String::new(),
    }))
}

pub(super) fn joint(members: Vec<Member>, fasteners: Vec<Fastener>) -> Joint {
    Joint { members, fasteners, ..Joint::default() }
}

/// The core in one line: `steel 1.5 | wood 38.1 | gap 6.0 | wood 43.3 | holds`; in place of `holds` stands
/// `out 5.0` when the point comes out of the holding body, and `misses` when there is none.
pub(super) fn line(trace: &Trace, shank: &Shank) -> String {
    let mut parts: Vec<String> = shank.core.iter().map(|it| word(trace, it)).collect();
    parts.push(match shank.holding {
        None => "misses".to_owned(),
        Some(Holding { point_out_mm, .. }) if 0.0 < point_out_mm => format!("out {point_out_mm:.1}"),
        Some(_) => "holds".to_owned(),
    });
    parts.join(" | ")
}

fn word(trace: &Trace, run: &Run) -> String {
    let name = match (run.what, run.body) {
        (What::Steel, None) => "washer",
        (What::Steel, Some(_)) => "steel",
        (What::Bearing, _) => "wood",
        (What::Filling, _) => "filling",
        (What::Gap, _) => "gap",
        (What::Air, _) => "air",
    };
    let is_right = match (run.what, run.body.map(|it| trace.bodies[it.0].stuff)) {
        (What::Bearing, it) => it == Some(Stuff::Bearing),
        (What::Filling, it) => it == Some(Stuff::Filling),
        (What::Steel, it) => it != Some(Stuff::Bearing),
        (What::Gap | What::Air, it) => it.is_none(),
    };
    assert!(is_right, "the run and its body disagree: {run:?}");
    let flag = if run.along_a_face { " along" } else { "" };
    format!("{name} {:.1}{flag}", run.to_mm - run.from_mm)
}

/// Traces the first fastener, compares its core, checks that the runs fill the length, and gives its shank.
#[track_caller]
pub(super) fn check(joint: &Joint, expected: &str) -> Shank {
    let trace = trace(joint);
    let shank = trace.fasteners[0].clone();
    assert_eq!(line(&trace, &shank), expected, "{:#?}", shank.core);
    let mut at = 0.0;
    for run in &shank.core {
        assert!((run.from_mm - at).abs() <= 0.0, "a hole or an overlap at {at}: {:#?}", shank.core);
        assert!(run.from_mm < run.to_mm, "an empty run: {run:?}");
        at = run.to_mm;
    }
    assert!((at - shank.length_mm).abs() <= 1e-9 * shank.length_mm, "the runs end at {at}");
    shank
}

#[track_caller]
pub(super) fn close(measured: f64, expected: f64) {
    assert!((measured - expected).abs() < 1e-9, "measured {measured}, expected {expected}");
}

#[track_caller]
pub(super) fn close_to(measured: Vec3, expected: [f64; 3]) {
    let off = measured - Vec3::from(expected);
    assert!(off.length() < 1e-9, "measured {measured:?}, expected {expected:?}");
}
pub(super) fn cut(member: Member, cutout: Outline) -> Member {
    Member { cutouts: vec![cutout], ..member }
}
