//! The stations of a shank: the members and connectors that it passes, head to point.

use crate::findings::scene::{Fact, Stage};
use crate::joint::Duty;
use crate::standard::Source;
use crate::standard::capacity::{Bearing, NoValue};
use crate::stock::FastenerKind;
use crate::trace::{BodyIx, Owner, ShearPlane, What};
use crate::unit::Vec3;

/// What counts as one body to a shank: a member, or all the steel of a connector.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Group {
    /// Place in the joint's members.
    Member(usize),
    /// Place in the joint's connectors.
    Connector(usize),
}

/// One stretch of a shank in one body, notches in it left out.
#[derive(Clone, Copy, Debug)]
pub(super) struct Station {
    pub(super) group: Group,
    /// Where the axis comes in, and where it goes out.
    pub(super) first: BodyIx,
    pub(super) last: BodyIx,
    pub(super) from_mm: f64,
    pub(super) to_mm: f64,
    /// Length in it; of steel its thickness.
    pub(super) length_mm: f64,
    /// How much of that lies in the point, and in the thread.
    pub(super) point_mm: f64,
    pub(super) thread_mm: f64,
    /// Diameter of the hole through it.
    pub(super) drilled_mm: Option<f64>,
}

/// Where a shank goes from one station to the next.
#[derive(Clone, Copy, Debug)]
pub(super) struct Crossing<'a> {
    /// Air and fillings on the way.
    pub(super) gap_mm: f64,
    pub(super) plane: Option<&'a ShearPlane>,
}

/// What a shank joins: one crossing fewer than stations.
#[derive(Clone, Debug, Default)]
pub(super) struct Joined<'a> {
    pub(super) stations: Vec<Station>,
    pub(super) crossings: Vec<Crossing<'a>>,
}

impl<'a> Joined<'a> {
    /// What the fastener joins. Nothing for one that misses, and for one that only holds a part up.
    pub(super) fn of(fact: &Fact<'a>) -> Self {
        if fact.stage != Stage::Holds || only_holds_up(fact) {
            return Self::default();
        }
        let mut stations: Vec<Station> = Vec::new();
        for run in &fact.shank.core {
            let (Some(body), What::Bearing | What::Steel) = (run.body, run.what) else { continue };
            let Some(group) = group_of(fact, body) else { continue };
            let part = (run.from_mm, run.to_mm);
            let length_mm = steel_mm(fact, body).unwrap_or(part.1 - part.0);
            let (point_mm, thread_mm) = (in_point(fact, part), in_thread(fact, part));
            match stations.last_mut().filter(|it| it.group == group) {
                Some(known) => {
                    (known.last, known.to_mm) = (body, part.1);
                    known.length_mm += length_mm;
                    known.point_mm += point_mm;
                    known.thread_mm += thread_mm;
                }
                None => stations.push(Station {
                    group,
                    first: body,
                    last: body,
                    from_mm: part.0,
                    to_mm: part.1,
                    length_mm,
                    point_mm,
                    thread_mm,
                    drilled_mm: drilled(fact, run),
                }),
            }
        }
        let crossings = stations.windows(2).map(|it| crossing(fact, &it[0], &it[1])).collect();
        Self { stations, crossings }
    }

    pub(super) fn has(&self, group: Group) -> bool {
        1 < self.stations.len() && self.stations.iter().any(|it| it.group == group)
    }

    pub(super) fn station_of(&self, body: BodyIx) -> Option<&Station> {
        self.stations.iter().find(|it| it.first == body || it.last == body)
    }
}

pub(super) fn group_of(fact: &Fact<'_>, body: BodyIx) -> Option<Group> {
    Some(match fact.scene.body(body)?.owner {
        Owner::Member(at) => Group::Member(at),
        Owner::Plate { connector, .. } => Group::Connector(connector),
    })
}

/// A hole that keeps a part in place while it is fixed carries nothing.
fn only_holds_up(fact: &Fact<'_>) -> bool {
    let mut holes = fact.shank.core.iter().filter_map(|it| fact.scene.hole(it.hole?)).peekable();
    holes.peek().is_some() && holes.all(|it| it.duty == Duty::HoldingUp)
}

/// The thickness of a plate; `None` for what is no plate.
fn steel_mm(fact: &Fact<'_>, body: BodyIx) -> Option<f64> {
    let Owner::Plate { connector, plate } = fact.scene.body(body)?.owner else { return None };
    Some(fact.scene.joint.connectors.get(connector)?.plates.get(plate)?.thickness_mm)
}

fn overlap((from, to): (f64, f64), (low, high): (f64, f64)) -> f64 {
    (to.min(high) - from.max(low)).max(0.0)
}

fn in_point(fact: &Fact<'_>, part: (f64, f64)) -> f64 {
    let length = fact.shank.length_mm;
    overlap(part, (length - fact.fastener.spec.point_mm, length))
}

fn in_thread(fact: &Fact<'_>, part: (f64, f64)) -> f64 {
    let length = fact.shank.length_mm;
    let thread = match fact.kind() {
        FastenerKind::ThreadedRod => length,
        FastenerKind::Nail
        | FastenerKind::WoodScrew
        | FastenerKind::LagScrew
        | FastenerKind::Bolt
        | FastenerKind::MasonryScrew => fact.fastener.spec.thread_mm.unwrap_or(0.0),
    };
    overlap(part, (length - thread, length))
}

/// The hole of the plate, or the hole that is drilled for the fastener, where it reaches so far.
fn drilled(fact: &Fact<'_>, run: &crate::trace::Run) -> Option<f64> {
    match run.what {
        What::Steel => fact.scene.hole(run.hole?).map(|it| it.diameter_mm),
        What::Bearing | What::Filling | What::Gap | What::Air => fact
            .fastener
            .lead_hole
            .filter(|it| run.from_mm + crate::trace::TOUCH_MM < it.depth_mm)
            .map(|it| it.diameter_mm),
    }
}

fn crossing<'a>(fact: &Fact<'a>, side: &Station, main: &Station) -> Crossing<'a> {
    let near = |it: &&ShearPlane| (it.at_mm - side.to_mm).abs() <= crate::trace::TOUCH_MM;
    let same = |it: &&ShearPlane| it.side == side.last && it.main == main.first && near(it);
    let plane = fact.shank.planes.iter().find(same);
    let apart = (main.from_mm - side.to_mm).max(0.0);
    Crossing { gap_mm: plane.map_or(apart, |it| it.gap_mm + it.filling_mm), plane }
}

/// Degrees between a direction and the grain of a body, 0 to 90; 90 where either is not known.
pub(super) fn to_grain_deg(fact: &Fact<'_>, body: BodyIx, toward: Option<Vec3>) -> f64 {
    let grain = fact.scene.body(body).and_then(|it| it.grain.direction());
    let (Some(grain), Some(toward)) = (grain, toward) else { return 90.0 };
    toward.cross(grain).length().atan2(toward.dot(grain).abs()).to_degrees()
}

/// A station as a standard asks about it, under a load that acts `toward`.
pub(super) fn bearing<'a>(
    fact: &Fact<'a>,
    station: &Station,
    toward: Option<Vec3>,
    end_grain: bool,
) -> Option<Bearing<'a>> {
    Some(Bearing {
        name: fact.scene.name(station.first),
        material: fact.scene.material(station.first)?,
        treatment: fact.scene.treatment(station.first),
        length_mm: station.length_mm,
        point_mm: station.point_mm,
        thread_mm: station.thread_mm,
        load_to_grain_deg: to_grain_deg(fact, station.first, toward),
        end_grain,
        drilled_mm: station.drilled_mm,
        area_mm2: toward.and_then(|it| section_mm2(fact, station, it)),
    })
}

/// Of one row of fasteners under a load across the grain, so many diameters of the member stretch with it
/// (NDS 2018 11.3.6.2: the least spacing for the full value).
const ROW_STRETCHES_DIAMETERS: f64 = 4.0;

/// The section of a body that stretches with a load: square to the grain, or where the load acts across
/// the grain its thickness by what stretches beside one row.
fn section_mm2(fact: &Fact<'_>, station: &Station, toward: Vec3) -> Option<f64> {
    let body = fact.scene.body(station.first)?;
    if let Owner::Plate { connector, plate } = body.owner {
        let plate = fact.scene.joint.connectors.get(connector)?.plates.get(plate)?;
        let along_depth = 0.5 < toward.z.abs();
        let length = plate.profile.windows(2).map(|it| (it[1] - it[0]).hypot()).sum::<f64>();
        let width = if along_depth { length } else { plate.depth.to - plate.depth.from };
        return Some(plate.thickness_mm * width);
    }
    let grain = body.grain.direction()?;
    if toward.dot(grain).abs() < std::f64::consts::FRAC_1_SQRT_2 {
        return Some(station.length_mm * ROW_STRETCHES_DIAMETERS * fact.fastener.spec.diameter_mm);
    }
    if 0.5 < grain.z.abs() {
        return Some(body.region.area_mm2());
    }
    let across = kurbo::Affine::rotate(-grain.y.atan2(grain.x)) * body.region.to_path();
    let width = kurbo::Shape::bounding_box(&across).height();
    Some(width * (body.near_mm - body.far_mm))
}

/// A shank that lies partly outside a body has no value there.
pub(super) fn is_whole(fact: &Fact<'_>, stations: &[Station]) -> Result<(), NoValue> {
    is_apart(fact, stations)?;
    let outside = stations.iter().map(|it| it.first).find(|it| fact.already_out_of(*it));
    outside.map_or(Ok(()), |body| {
        let because = format!("it lies partly outside {}", fact.scene.the(body));
        Err(NoValue { because, source: Source::CommonPractice })
    })
}

/// Whether no two of the bodies take the same place.
pub(super) fn is_apart(fact: &Fact<'_>, stations: &[Station]) -> Result<(), NoValue> {
    let has = |body: BodyIx| stations.iter().any(|it| it.first == body);
    if let Some(it) = fact.scene.trace.overlaps.iter().find(|it| has(it.under) && has(it.over)) {
        let because =
            format!("{} and {} take the same place", fact.scene.the(it.over), fact.scene.the(it.under));
        return Err(NoValue { because, source: Source::CommonPractice });
    }
    Ok(())
}
