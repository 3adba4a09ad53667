//! Joints of our own invention to draw, traced by small steps: slow, plain, and nothing but a test's.

use std::sync::Arc;

use kurbo::Point;
use shankline::drawing::Inputs;
use shankline::findings::{Finding, Findings, Kind, Severity, Working};
use shankline::joint::{
    Connector, Duty, Fastener, Finish, Grain, Hole, Interval, Joint, Member, Outline, Placement, Plate,
    PlateSide, Seat, Treatment,
};
use shankline::shape::Region;
use shankline::stock::{Family, FastenerKind, FastenerSpec, Material, NutSpec, WasherSpec};
use shankline::trace::{
    Body, BodyIx, Fill, Holding, HoleTrace, Nut, Owner, Run, Seating, Shank, Stuff, Trace, What,
};
use shankline::unit::{LengthUnit, Vec3};

/// A joint with its trace and findings.
#[derive(Clone, Default)]
pub(super) struct Sample {
    pub(super) joint: Joint,
    pub(super) trace: Trace,
    pub(super) findings: Findings,
}

impl Sample {
    pub(super) fn inputs(&self) -> Inputs<'_> {
        Inputs { joint: &self.joint, trace: &self.trace, findings: &self.findings }
    }

    pub(super) fn member(
        &mut self,
        id: &str,
        of: (Family, &str),
        outline: Outline,
        grain: Grain,
    ) -> &mut Member {
        self.member_at(id, of, outline, grain, Interval { from: 0.0, to: 1200.0 })
    }

    pub(super) fn member_at(
        &mut self,
        id: &str,
        (family, label): (Family, &str),
        outline: Outline,
        grain: Grain,
        depth: Interval,
    ) -> &mut Member {
        let material = Material {
            id: String::new(),
            label: label.to_owned(),
            family,
            wood: None,
            specific_gravity: None,
            density_kg_m3: None,
            elastic_mpa: None,
            dowel_bearing_mpa: None,
            crushing_mpa: None,
            source: "drawn for a test".to_owned(),
        };
        let bearing = family != Family::Filling;
        let region = region_of(&outline);
        self.trace.bodies.push(Body {
            owner: Owner::Member(self.joint.members.len()),
            stuff: if bearing { Stuff::Bearing } else { Stuff::Filling },
            region,
            far_mm: depth.from,
            near_mm: depth.to,
            grain,
        });
        self.joint.members.push(Member {
            id: id.to_owned(),
            name: String::new(),
            material: Arc::new(material),
            outline,
            cutouts: Vec::new(),
            depth,
            grain,
            treatment: Treatment::None,
            bearing,
            blocking: false,
        });
        self.joint.members.last_mut().expect("it was just put there")
    }

    /// A straight upright plate with holes, its middle line at `x`.
    pub(super) fn plate(&mut self, id: &str, x: f64, y: (f64, f64), thickness: f64, holes: &[(f64, Duty)]) {
        let connector = self.joint.connectors.len();
        let plate = Plate {
            thickness_mm: thickness,
            depth: Interval { from: 580.0, to: 630.0 },
            profile: vec![Point::new(x, y.0), Point::new(x, y.1)],
            bend_radius_mm: 0.0,
            holes: holes
                .iter()
                .enumerate()
                .map(|(n, (at, duty))| Hole {
                    id: format!("h{}", n + 1),
                    along_mm: at - y.0,
                    depth_mm: 605.0,
                    diameter_mm: 4.4,
                    duty: *duty,
                    takes: None,
                    angle_deg: None,
                    driven_from: PlateSide::Left,
                })
                .collect(),
        };
        self.trace.bodies.push(Body {
            owner: Owner::Plate { connector, plate: 0 },
            stuff: Stuff::Steel,
            region: Region::rectangle(Point::new(x - thickness / 2.0, y.0), (thickness, y.1 - y.0), 0.0),
            far_mm: 580.0,
            near_mm: 630.0,
            grain: Grain::None,
        });
        self.trace.holes.extend(holes.iter().enumerate().map(|(hole, (at, _))| HoleTrace {
            connector,
            plate: 0,
            hole,
            at: Vec3::new(x - thickness / 2.0, *at, 605.0),
            square: Vec3::X,
            filled_by: Vec::<Fill>::new(),
        }));
        self.joint.connectors.push(Connector {
            id: id.to_owned(),
            name: String::new(),
            material: Arc::new(Material {
                id: "steel/plate".to_owned(),
                label: "steel plate".to_owned(),
                family: Family::Steel,
                wood: None,
                specific_gravity: None,
                density_kg_m3: None,
                elastic_mpa: None,
                dowel_bearing_mpa: None,
                crushing_mpa: None,
                source: "drawn for a test".to_owned(),
            }),
            plates: vec![plate],
            rating: None,
        });
    }

    pub(super) fn fastener(&mut self, spec: FastenerSpec, head: Vec3, toward: Vec3) -> &mut Fastener {
        let toward = toward.unit().expect("a direction");
        let core = steps(&self.trace.bodies, head, toward, spec.length_mm);
        let holding = holding(&core, spec.length_mm);
        let last = core.iter().rev().find(|it| it.body.is_some());
        let nut = spec.nut.and(last).map(|it| Nut {
            on: it.body.map_or(Seating::Air, Seating::Bearing),
            projects_mm: spec.length_mm - it.to_mm,
            angle_to_face_deg: Some(90.0),
        });
        self.trace.fasteners.push(Shank {
            head_at: head,
            toward,
            length_mm: spec.length_mm,
            core,
            holding,
            nut,
            ..Shank::default()
        });
        self.joint.fasteners.push(Fastener {
            id: format!("f{}", self.joint.fasteners.len() + 1),
            spec: Arc::new(spec),
            place: Placement::Free { head, toward },
            seat: Seat::Flush,
            finish: Finish::Bright,
            lead_hole: None,
            head_washer: None,
            nut_washer: None,
            existing: false,
        });
        self.joint.fasteners.last_mut().expect("it was just put there")
    }

    pub(super) fn find(
        &mut self,
        kind: Kind,
        severity: Severity,
        of: &str,
        numbers: Option<(f64, f64)>,
        says: &str,
    ) {
        self.findings.list.push(Finding {
            kind,
            severity,
            subjects: vec![of.to_owned()],
            says: says.to_owned(),
            measured: numbers.map(|it| it.0),
            required: numbers.map(|it| it.1),
            unit: "mm",
            source: "drawn for a test".to_owned(),
            working: Working::default(),
            remedy: None,
            at: None,
        });
    }
}

fn region_of(outline: &Outline) -> Region {
    match outline {
        Outline::Rectangle { corner, size_mm, turn_deg } => Region::rectangle(*corner, *size_mm, *turn_deg),
        Outline::Polygon(corners) => Region::polygon(corners),
        Outline::Round { centre, diameter_mm } => Region::round(*centre, *diameter_mm),
        Outline::Path(data) => Region::path(data).expect("path data of a test"),
        Outline::ISection { .. } => unreachable!("no sample has one"),
    }
}

pub(super) fn rect(x: f64, y: f64, width: f64, height: f64) -> Outline {
    Outline::Rectangle { corner: Point::new(x, y), size_mm: (width, height), turn_deg: 0.0 }
}

/// The core by steps of a twentieth of a millimetre; a later body takes the step.
fn steps(bodies: &[Body], head: Vec3, toward: Vec3, length: f64) -> Vec<Run> {
    let count = (length / 0.05).round();
    let mut core: Vec<Run> = Vec::new();
    let mut n = 0.0;
    while n < count {
        let (from, to) = (length * n / count, length * (n + 1.0) / count);
        let at = head + toward * f64::midpoint(from, to);
        let inside = |it: &Body| it.far_mm <= at.z && at.z < it.near_mm && it.region.contains(at.plan());
        let body = bodies.iter().rposition(inside).map(BodyIx);
        let what = match body.map(|it| bodies[it.0].stuff) {
            Some(Stuff::Bearing) => What::Bearing,
            Some(Stuff::Filling) => What::Filling,
            Some(Stuff::Steel) => What::Steel,
            None => What::Air,
        };
        match core.last_mut() {
            Some(last) if last.body == body => last.to_mm = to,
            _ => core.push(Run {
                from_mm: from,
                to_mm: to,
                body,
                what,
                entered: None,
                left: None,
                cover_mm: None,
                along_a_face: false,
                hole: None,
            }),
        }
        n += 1.0;
    }
    let holds = |it: &Run| matches!(it.what, What::Bearing | What::Steel);
    let first = core.iter().position(holds).unwrap_or(core.len());
    let last = core.iter().rposition(|it| it.what == What::Bearing).unwrap_or(0);
    for (n, run) in core.iter_mut().enumerate() {
        if run.what == What::Air && first < n && n < last {
            run.what = What::Gap;
        }
    }
    core
}

fn holding(core: &[Run], length: f64) -> Option<Holding> {
    let last = core.iter().rfind(|it| it.what == What::Bearing)?;
    Some(Holding {
        body: last.body?,
        enters_at_mm: last.from_mm,
        leaves_at_mm: last.to_mm,
        bite_mm: last.to_mm - last.from_mm,
        bite_without_point_mm: last.to_mm - last.from_mm,
        bite_square_mm: last.to_mm - last.from_mm,
        angle_to_face_deg: Some(90.0),
        cover_mm: 10.0,
        point_out_mm: length - last.to_mm,
    })
}

fn spec(kind: FastenerKind, label: &str, diameter: f64, length: f64, head: (f64, f64)) -> FastenerSpec {
    FastenerSpec {
        id: String::new(),
        label: label.to_owned(),
        kind,
        diameter_mm: diameter,
        root_mm: None,
        length_mm: length,
        head_mm: head.0,
        head_height_mm: head.1,
        thread_mm: None,
        point_mm: 0.0,
        bending_yield_mpa: None,
        tensile_mpa: None,
        nut: None,
        source: "drawn for a test".to_owned(),
    }
}

pub(super) fn nail(label: &str, diameter: f64, length: f64) -> FastenerSpec {
    FastenerSpec {
        point_mm: diameter * 1.5,
        ..spec(FastenerKind::Nail, label, diameter, length, (diameter * 2.2, 0.0))
    }
}

pub(super) fn lag(label: &str, diameter: f64, length: f64) -> FastenerSpec {
    let head = (diameter * 1.5, diameter * 0.65);
    FastenerSpec { point_mm: diameter * 0.6, ..spec(FastenerKind::LagScrew, label, diameter, length, head) }
}

pub(super) fn wood_screw(label: &str, diameter: f64, length: f64) -> FastenerSpec {
    let head = (diameter * 2.0, 0.0);
    FastenerSpec { point_mm: diameter, ..spec(FastenerKind::WoodScrew, label, diameter, length, head) }
}

pub(super) fn bolt(label: &str, diameter: f64, length: f64) -> FastenerSpec {
    let nut = NutSpec { height_mm: diameter * 0.87, across_flats_mm: diameter * 1.5 };
    let head = (diameter * 1.5, diameter * 0.65);
    FastenerSpec { nut: Some(nut), ..spec(FastenerKind::Bolt, label, diameter, length, head) }
}

pub(super) fn washer(outer: f64, thickness: f64) -> Arc<WasherSpec> {
    Arc::new(WasherSpec {
        id: String::new(),
        for_diameter_mm: 12.0,
        inner_mm: 13.0,
        outer_mm: outer,
        thickness_mm: thickness,
        source: "drawn for a test".to_owned(),
    })
}

/// A ledger on a rim across a gap, in inches: short bite, point out, a nail that breaks out, a sound one.
pub(super) fn ledger() -> Sample {
    let inch = 25.4;
    let mut it = Sample::default();
    it.joint.title = "Quarry Row landing, ledger on the rim".to_owned();
    let lumber = (Family::Lumber, "hem-fir");
    it.member("joist", lumber, rect(-360.0, 0.0, 360.0, 7.25 * inch), Grain::InPlane(0.0));
    it.member("ledger", lumber, rect(0.0, 0.0, 1.5 * inch, 7.25 * inch), Grain::AlongDepth);
    it.member(
        "sheathing",
        (Family::Panel, "oriented strand board"),
        rect(2.5 * inch, -45.0, 0.5 * inch, 11.0 * inch),
        Grain::AlongDepth,
    );
    it.member(
        "rim",
        (Family::Engineered, "laminated strand lumber"),
        rect(3.0 * inch, -32.0, 1.125 * inch, 9.5 * inch),
        Grain::AlongDepth,
    );
    let x = |head: f64, y: f64| Vec3::new(head, y * inch, 605.0);
    it.fastener(lag("lag screw 3/8 × 4", 9.525, 4.0 * inch), x(0.0, 5.75), Vec3::X);
    it.fastener(lag("lag screw 3/8 × 5", 9.525, 5.0 * inch), x(0.0, 1.25), Vec3::X);
    it.fastener(nail("10d common nail", 3.76, 3.0 * inch), x(-44.0, 7.25), Vec3::new(0.866, -0.5, 0.0));
    it.fastener(nail("16d common nail", 4.11, 3.5 * inch), x(-44.0, 0.0), Vec3::new(0.8, 0.6, 0.0));
    it.find(
        Kind::PointOut,
        Severity::Fault,
        "f2",
        Some((22.0, 0.0)),
        "The point comes out of the rim by 13/16\".",
    );
    it.find(
        Kind::BreaksOut,
        Severity::Fault,
        "f4",
        None,
        "The shank breaks out of the ledger: its point passes the back face by 9/16\".",
    );
    it.find(
        Kind::ShortBite,
        Severity::Caution,
        "f1",
        Some((inch, 1.5 * inch)),
        "Bite in the rim is 1\" and needs 1 1/2\"; a 1\" gap lies before it.",
    );
    it.findings.not_checked = vec![
        "Whether the wood is sound, dry and of the species named.".to_owned(),
        "What the connector's maker asks for.".to_owned(),
    ];
    it
}

/// Every material and every kind of head in millimetres, with a strap, a turned brace and a round post.
pub(super) fn yard() -> Sample {
    let mut it = Sample::default();
    it.joint.title = "Yard of pieces".to_owned();
    it.joint.show_lengths_in = LengthUnit::Millimetre;
    it.joint.sheet.detail = "7".to_owned();
    it.joint.sheet.owner = "Brackwater Timber".to_owned();
    it.member("beam", (Family::Glulam, "GL24h"), rect(0.0, 0.0, 90.0, 240.0), Grain::AlongDepth);
    it.member("purlin", (Family::Lumber, "C24"), rect(100.0, 0.0, 60.0, 120.0), Grain::AlongDepth).blocking =
        true;
    it.member("ply", (Family::Panel, "plywood"), rect(160.0, 0.0, 18.0, 240.0), Grain::InPlane(90.0));
    it.member("foam", (Family::Filling, "foam"), rect(178.0, 0.0, 40.0, 240.0), Grain::None);
    it.member("wall", (Family::Concrete, "concrete"), rect(218.0, -60.0, 110.0, 330.0), Grain::None);
    it.member("brick", (Family::Masonry, "brick"), rect(328.0, -60.0, 60.0, 330.0), Grain::None);
    it.member(
        "brace",
        (Family::Lumber, "C24"),
        Outline::Rectangle { corner: Point::new(-150.0, -60.0), size_mm: (160.0, 60.0), turn_deg: 40.0 },
        Grain::InPlane(40.0),
    );
    it.member(
        "post",
        (Family::Lumber, "C24"),
        Outline::Round { centre: Point::new(130.0, 190.0), diameter_mm: 60.0 },
        Grain::AlongDepth,
    );
    it.plate(
        "strap",
        -1.5,
        (110.0, 230.0),
        3.0,
        &[(125.0, Duty::Required), (155.0, Duty::Extra), (185.0, Duty::HoldingUp), (215.0, Duty::Required)],
    );
    let at = |x: f64, y: f64| Vec3::new(x, y, 605.0);
    it.fastener(nail("4.0 × 75 nail", 4.0, 75.0), at(-3.0, 125.0), Vec3::X);
    it.fastener(wood_screw("6 × 100 wood screw", 6.0, 100.0), at(-3.0, 215.0), Vec3::X);
    it.fastener(lag("12 × 160 lag screw", 12.0, 160.0), at(100.0, 30.0), Vec3::X);
    let through = it.fastener(bolt("M12 × 120 bolt", 12.0, 120.0), at(-3.0, 60.0), Vec3::X);
    (through.head_washer, through.nut_washer) = (Some(washer(36.0, 3.0)), Some(washer(36.0, 3.0)));
    it.fastener(bolt("M16 × 300 bolt", 16.0, 300.0), Vec3::new(60.0, 180.0, 800.0), -Vec3::Z);
    it.fastener(nail("3.1 × 60 nail", 3.1, 60.0), at(130.0, 260.0), -Vec3::Y);
    it.find(Kind::Spacing, Severity::Note, "f1", None, "Two nails are near each other.");
    it.find(Kind::NutSeat, Severity::Caution, "f4", None, "The nut is not square to the beam.");
    it.findings.not_checked = vec!["Fire.".to_owned()];
    it
}

/// Two planks side by side on a third, seen in elevation and bolted through: one lies behind.
pub(super) fn splice() -> Sample {
    let mut it = Sample::default();
    it.joint.title = "Weir hut, bottom chord splice".to_owned();
    it.joint.show_lengths_in = LengthUnit::Millimetre;
    let lumber = (Family::Lumber, "C24");
    let depth = |from: f64, to: f64| Interval { from, to };
    it.member_at("left", lumber, rect(-500.0, 0.0, 500.0, 145.0), Grain::InPlane(0.0), depth(0.0, 45.0));
    it.member_at("right", lumber, rect(0.0, 0.0, 500.0, 145.0), Grain::InPlane(0.0), depth(0.0, 45.0));
    it.member_at("cover", lumber, rect(-300.0, 25.0, 600.0, 95.0), Grain::InPlane(0.0), depth(45.0, 83.0));
    for (x, y) in [(-210.0, 50.0), (-90.0, 95.0), (90.0, 50.0), (210.0, 95.0)] {
        let bolt = it.fastener(bolt("M12 × 100 bolt", 12.0, 100.0), Vec3::new(x, y, 83.0), -Vec3::Z);
        bolt.head_washer = Some(washer(36.0, 3.0));
    }
    it.findings.not_checked = vec!["The strength of the splice.".to_owned()];
    it
}

/// So many lag screws in a row through a ledger into a rim.
pub(super) fn row_of(count: u16) -> Sample {
    let mut it = Sample::default();
    it.joint.title = "A long row".to_owned();
    let height = 30.0 * f64::from(count) + 30.0;
    it.member("ledger", (Family::Lumber, "hem-fir"), rect(0.0, 0.0, 38.0, height), Grain::InPlane(90.0));
    it.member("rim", (Family::Lumber, "hem-fir"), rect(48.0, 0.0, 38.0, height), Grain::InPlane(90.0));
    for n in 0..count {
        let y = 30.0 + 30.0 * f64::from(n);
        let toward = Vec3::new(1.0, if n % 3 == 0 { 0.2 } else { 0.0 }, 0.0);
        it.fastener(lag("lag screw 5/16 × 4", 8.0, 101.6), Vec3::new(0.0, y, 600.0), toward);
        let id = format!("f{}", n + 1);
        let says =
            format!("Bite of fastener {} in the rim is too short as drawn, by the standard chosen.", n + 1);
        it.find(Kind::ShortBite, Severity::Fault, &id, Some((25.0, 38.0)), &says);
    }
    it.findings.not_checked = vec!["Loads.".to_owned()];
    it
}
