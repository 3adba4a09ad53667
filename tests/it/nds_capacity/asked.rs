//! What a standard is asked, as plain owned measures in inches and pounds that a test can change.

use std::sync::Arc;

use shankline::joint::{Conditions, Duration, Finish, Seat, Service, StandardId, Treatment};
use shankline::standard::capacity::{Across, Along, Axial, Bearing, Lateral, NoValue, Room, Row, Toe};
use shankline::standard::{Driven, Source, by_id};
use shankline::stock::{Family, FastenerKind, FastenerSpec, Material, NutSpec, WoodType};

pub(super) const MM: f64 = 25.4;
pub(super) const N: f64 = 4.448_221_615_260_5;
pub(super) const MPA: f64 = N / (MM * MM);

/// One body.
#[derive(Clone, Debug)]
pub(super) struct Body {
    pub(super) material: Arc<Material>,
    pub(super) length_in: f64,
    pub(super) point_in: f64,
    pub(super) thread_in: f64,
    pub(super) angle: f64,
    pub(super) end_grain: bool,
    pub(super) area_in2: Option<f64>,
}

/// All that may be asked about one fastener.
#[derive(Clone, Debug)]
pub(super) struct Case {
    pub(super) spec: FastenerSpec,
    pub(super) service: Service,
    pub(super) seat: Seat,
    pub(super) side: Option<Body>,
    pub(super) main: Body,
    pub(super) beyond: Option<Body>,
    pub(super) gap_in: [f64; 2],
    pub(super) toe: Option<Toe>,
    pub(super) row: Option<Row>,
    pub(super) rooms: Vec<Room>,
    pub(super) washer_mm: Option<(f64, f64)>,
    pub(super) nut_washer_mm: Option<(f64, f64)>,
    pub(super) duration: Duration,
    pub(super) conditions: Conditions,
}

pub(super) fn material(family: Family, gravity: Option<f64>) -> Material {
    Material {
        id: String::new(),
        label: "a body".to_owned(),
        family,
        wood: family.is_wood().then_some(WoodType::Softwood),
        specific_gravity: gravity,
        density_kg_m3: None,
        elastic_mpa: None,
        dowel_bearing_mpa: None,
        crushing_mpa: None,
        source: "test".to_owned(),
    }
}

pub(super) fn wood(gravity: f64, length_in: f64, angle: f64) -> Body {
    let material = Arc::new(material(Family::Lumber, Some(gravity)));
    Body { material, length_in, point_in: 0.0, thread_in: 0.0, angle, end_grain: false, area_in2: None }
}

pub(super) fn spec(kind: FastenerKind, diameter_in: f64, yield_psi: f64) -> FastenerSpec {
    FastenerSpec {
        id: String::new(),
        label: String::new(),
        kind,
        diameter_mm: diameter_in * MM,
        root_mm: None,
        length_mm: 100.0,
        head_mm: 0.0,
        head_height_mm: 0.0,
        thread_mm: None,
        point_mm: 0.0,
        bending_yield_mpa: Some(yield_psi * MPA),
        tensile_mpa: None,
        nut: Some(NutSpec { height_mm: 10.0, across_flats_mm: 1.5 * diameter_in * MM }),
        source: "test".to_owned(),
    }
}

impl Case {
    pub(super) fn new(spec: FastenerSpec, side: Body, main: Body) -> Self {
        Self {
            spec,
            service: Service::Dry,
            seat: Seat::Flush,
            side: Some(side),
            main,
            beyond: None,
            gap_in: [0.0; 2],
            toe: None,
            row: None,
            rooms: Vec::new(),
            washer_mm: None,
            nut_washer_mm: None,
            duration: Duration::TenYears,
            conditions: Conditions::default(),
        }
    }

    pub(super) fn driven(&self) -> Driven<'_> {
        Driven {
            spec: &self.spec,
            finish: Finish::Bright,
            seat: self.seat,
            service: self.service,
            hole_mm: None,
        }
    }

    pub(super) fn across(&self) -> Result<Lateral, NoValue> {
        by_id(StandardId::Nds2018).across(&Across {
            driven: self.driven(),
            side: bearing(self.side.as_ref().expect("a load across needs a side")),
            main: bearing(&self.main),
            beyond: self.beyond.as_ref().map(bearing),
            gap_mm: self.gap_in.map(|it| it * MM),
            toe: self.toe,
            row: self.row,
            rooms: self.rooms.clone(),
            along: None,
            duration: self.duration,
            conditions: self.conditions,
        })
    }

    pub(super) fn along(&self) -> Result<Axial, NoValue> {
        by_id(StandardId::Nds2018).along(&Along {
            driven: self.driven(),
            holding: bearing(&self.main),
            under_head: self.side.as_ref().map(bearing),
            head_washer_mm: self.washer_mm,
            under_nut: self.beyond.as_ref().map(|it| (bearing(it), self.nut_washer_mm)),
            axis_to_grain_deg: 90.0,
            toe: self.toe,
            count: 1,
            duration: self.duration,
            conditions: self.conditions,
        })
    }

    /// Reference value of one plane in pounds.
    pub(super) fn pounds(&self) -> f64 {
        self.across().expect("it has a value").reference_n / N
    }

    /// A mode of one plane in pounds.
    pub(super) fn mode(&self, name: &str) -> f64 {
        let found = self.across().expect("it has a value");
        found.modes.iter().find(|it| it.name == name).expect("it has this mode").newtons / N
    }
}

fn bearing(body: &Body) -> Bearing<'_> {
    Bearing {
        name: "rim",
        material: &body.material,
        treatment: Treatment::None,
        length_mm: body.length_in * MM,
        point_mm: body.point_in * MM,
        thread_mm: body.thread_in * MM,
        load_to_grain_deg: body.angle,
        end_grain: body.end_grain,
        drilled_mm: None,
        area_mm2: body.area_in2.map(|it| it * MM * MM),
    }
}

pub(super) fn room(text: &str) -> Room {
    let parts: Vec<f64> = text.split('/').map(|it| it.parse().expect("a number")).collect();
    let [drawn, full, least] = parts[..] else { panic!("a room is drawn/full/least") };
    Room {
        what: "distance",
        drawn_mm: drawn * MM,
        full_mm: full * MM,
        least_mm: least * MM,
        of: None,
        source: Source::Clause { document: "NDS 2018", clause: "12.5.1" },
    }
}
