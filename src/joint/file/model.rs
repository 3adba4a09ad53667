//! From the file's types to the model and back.

use std::sync::Arc;

use kurbo::Point;

use super::carried;
use super::measure::{Coordinate, Length, Size};
use super::problems::{Problems, quoted};
use super::sheet;
use super::types as file;
use super::types::Named;
use super::words::{End, Wood};
use crate::joint::{
    Conditions, Connector, Fastener, Grain, Hole, Interval, Joint, LeadHole, Load, Member, Outline,
    Placement, Plate, Rating, Seat, StandardId, Takes,
};
use crate::stock::{Family, FastenerKind, FastenerSpec, Material, NutSpec, Stock, WasherSpec, WoodType};
use crate::unit::{LengthUnit, Vec3};

/// The joint that a file holds. Names that stock does not have are told and stood in for.
pub(super) fn joint(file: file::File, stock: &Stock, problems: &mut Problems) -> Joint {
    let standard = file.standard.map_or_else(StandardId::default, Into::into);
    let mut reading = Reading { stock, problems };
    Joint {
        title: file.title,
        show_lengths_in: file.show_lengths_in.map_or_else(|| unit_of(standard), Into::into),
        standard,
        service: file.service.into(),
        members: numbered(file.members, |n, it| reading.member(n, it)),
        connectors: numbered(file.connectors, |n, it| reading.connector(n, it)),
        fasteners: numbered(file.fasteners, |n, it| reading.fastener(n, it)),
        loads: file.loads.into_iter().map(load).collect(),
        dimensions: file.dimensions.into_iter().map(Into::into).collect(),
        conditions: conditions(file.conditions),
        notes: file.notes,
        sheet: sheet::read(file.sheet),
    }
}

/// The unit that the standard itself is written in.
fn unit_of(standard: StandardId) -> LengthUnit {
    match standard {
        StandardId::Nds2018 => LengthUnit::Inch,
        StandardId::En199511 => LengthUnit::Millimetre,
    }
}

fn numbered<T, U>(list: Vec<T>, mut each: impl FnMut(usize, T) -> U) -> Vec<U> {
    list.into_iter().enumerate().map(|(n, it)| each(n, it)).collect()
}

struct Reading<'a> {
    stock: &'a Stock,
    problems: &'a mut Problems,
}

impl Reading<'_> {
    fn unknown<'k>(&mut self, part: &str, name: &str, what: &str, known: impl Iterator<Item = &'k str>) {
        let meant = self.problems.meant(name, known);
        self.problems.of(part, format!("stock has no {what} {}{meant}", quoted(name)));
    }

    fn member(&mut self, n: usize, it: file::Member) -> Member {
        let material = self.material(&format!("members[{n}].material"), it.material);
        Member {
            id: it.id,
            name: it.name,
            outline: outline(it.outline),
            cutouts: it.cutouts.into_iter().map(outline).collect(),
            depth: interval(it.depth),
            grain: it.grain.map_or_else(|| grain_of(material.family), grain),
            treatment: it.treatment.into(),
            bearing: it.bearing.unwrap_or(material.family.bears()),
            blocking: it.blocking,
            material,
        }
    }

    fn material(&mut self, part: &str, named: file::MaterialOf) -> Arc<Material> {
        let name = match named {
            Named::Own(own) => return Arc::new(own_material(own)),
            Named::Stock(name) => name,
        };
        let stock = self.stock;
        if let Some(found) = stock.materials.get(&name) {
            return Arc::clone(found);
        }
        self.unknown(part, &name, "material", stock.materials.keys().map(String::as_str));
        let family = super::words::Family::Lumber;
        let plain = file::Material {
            family,
            name: None,
            wood: None,
            specific_gravity: None,
            density: None,
            source: String::new(),
        };
        Arc::new(own_material(plain))
    }

    fn connector(&mut self, n: usize, it: file::Connector) -> Connector {
        Connector {
            id: it.id,
            name: it.name,
            material: self.material(&format!("connectors[{n}].material"), it.material),
            plates: it.plates.into_iter().map(plate).collect(),
            rating: it.rating.map(|it| self.rating(&format!("connectors[{n}].rating.presumes.stock"), it)),
        }
    }

    fn rating(&mut self, part: &str, it: carried::Rating) -> Rating {
        Rating {
            newtons: it.newtons.0,
            toward: it.toward.map(|it| it.0).into(),
            holes: it.presumes.holes.into(),
            spec: it.presumes.stock.map(|it| self.spec(part, it)),
            note: it.note,
        }
    }

    fn fastener(&mut self, n: usize, it: file::Fastener) -> Fastener {
        let place = self.place(n, &it);
        let spec = self.spec(&format!("fasteners[{n}].stock"), it.stock);
        let mut washers = [None, None];
        for (number, washer) in it.washers.into_iter().enumerate() {
            let part = format!("fasteners[{n}].washers[{number}]");
            let (end, found) = match washer {
                file::WasherAt::Plain(end) => (end, self.plain_washer(n, &part, spec.diameter_mm)),
                file::WasherAt::Chosen(it) => (it.at, self.washer(&part, it.stock)),
            };
            let place = &mut washers[usize::from(end == End::Nut)];
            if place.is_some() {
                self.problems.of(&part, "a second washer at the same end; one is allowed".to_owned());
            }
            *place = found;
        }
        let [head_washer, nut_washer] = washers;
        Fastener {
            id: it.id,
            spec,
            place,
            seat: seat(it.seat),
            finish: it.finish.into(),
            lead_hole: it.lead_hole.map(|it| LeadHole { diameter_mm: it.diameter.0, depth_mm: it.depth.0 }),
            head_washer,
            nut_washer,
            existing: it.existing,
        }
    }

    fn spec(&mut self, part: &str, named: file::FastenerOf) -> Arc<FastenerSpec> {
        let name = match named {
            Named::Own(own) => return Arc::new(own_spec(own)),
            Named::Stock(name) => name,
        };
        let stock = self.stock;
        if let Some(found) = stock.fasteners.get(&name) {
            return Arc::clone(found);
        }
        let known = stock.fasteners.keys().map(String::as_str);
        self.unknown(part, &name, "fastener", known);
        self.problems.replaced(part);
        Arc::new(stand_in_spec())
    }

    fn plain_washer(&mut self, n: usize, part: &str, diameter_mm: f64) -> Option<Arc<WasherSpec>> {
        let found = self.stock.washer_for(diameter_mm).cloned().map(Arc::new);
        // Of a fastener that is a stand-in itself no washer can be told.
        if found.is_none() && !self.problems.is_replaced(&format!("fasteners[{n}].stock")) {
            let says = format!(
                "stock has no washer for a diameter of {diameter_mm} mm; give it as {{ \"at\": ..., \"stock\": {{ \
                 \"inner\": ..., \"outer\": ..., \"thickness\": ... }} }}"
            );
            self.problems.of(part, says);
        }
        found
    }

    fn washer(&mut self, part: &str, named: Named<file::Washer>) -> Option<Arc<WasherSpec>> {
        let name = match named {
            Named::Own(own) => {
                return Some(Arc::new(WasherSpec {
                    id: String::new(),
                    for_diameter_mm: own.for_diameter.unwrap_or(own.inner).0,
                    inner_mm: own.inner.0,
                    outer_mm: own.outer.0,
                    thickness_mm: own.thickness.0,
                    source: own.source,
                }));
            }
            Named::Stock(name) => name,
        };
        let stock = self.stock;
        let found = stock.washers.iter().find(|it| it.id == name).cloned().map(Arc::new);
        if found.is_none() {
            let known = stock.washers.iter().map(|it| it.id.as_str());
            self.unknown(&format!("{part}.stock"), &name, "washer", known);
        }
        found
    }

    fn place(&mut self, n: usize, it: &file::Fastener) -> Placement {
        let part = format!("fasteners[{n}]");
        let free = Placement::Free {
            head: it.head.map_or_else(Vec3::default, |it| it.map(|it| it.0).into()),
            toward: it.toward.map_or(-Vec3::Y, |it| it.map(|it| it.0).into()),
        };
        let Some(fills) = &it.fills else {
            if it.head.is_none() || it.toward.is_none() {
                let says = "a fastener needs either `fills`, or both `head` and `toward`";
                self.problems.of(&part, says.to_owned());
            }
            if it.angle.is_some() {
                let says = "`angle` is for a fastener that fills a hole; here `toward` says the way";
                self.problems.of(&format!("{part}.angle"), says.to_owned());
            }
            return free;
        };
        if it.head.is_some() || it.toward.is_some() {
            let says = "a fastener that fills a hole has its place there; leave out `head` and `toward`";
            self.problems.of(&part, says.to_owned());
        }
        let Some((connector, hole)) = fills.split_once('/') else {
            let says = format!("{} does not name a hole as connector/hole", quoted(fills));
            self.problems.of(&format!("{part}.fills"), says);
            // The reference check must not speak of it again.
            return free;
        };
        Placement::Fills {
            connector: connector.to_owned(),
            hole: hole.to_owned(),
            angle_deg: it.angle.map(|it| it.0),
        }
    }
}

fn point([x, y]: [Coordinate; 2]) -> Point {
    Point::new(x.0, y.0)
}

fn interval([from, to]: [Coordinate; 2]) -> Interval {
    Interval { from: from.0, to: to.0 }
}

fn outline(it: file::Outline) -> Outline {
    match it {
        file::Outline::Rectangle(it) => Outline::Rectangle {
            corner: point(it.corner),
            size_mm: (it.size[0].0, it.size[1].0),
            turn_deg: it.turn.0,
        },
        file::Outline::Polygon(corners) => Outline::Polygon(corners.into_iter().map(point).collect()),
        file::Outline::Round(it) => Outline::Round { centre: point(it.centre), diameter_mm: it.diameter.0 },
        file::Outline::ISection(it) => Outline::ISection {
            corner: point(it.corner),
            size_mm: (it.size[0].0, it.size[1].0),
            flange_mm: it.flange.0,
            web_mm: it.web.0,
            turn_deg: it.turn.0,
        },
        file::Outline::Path(data) => Outline::Path(data),
    }
}

/// Wood has a grain, and members are mostly seen end on.
pub(super) fn grain_of(family: Family) -> Grain {
    if family.is_wood() { Grain::AlongDepth } else { Grain::None }
}

fn grain(it: file::Grain) -> Grain {
    match it {
        file::Grain::AlongDepth => Grain::AlongDepth,
        file::Grain::None => Grain::None,
        file::Grain::InPlane(turn) => Grain::InPlane(turn.0),
    }
}

fn seat(it: file::Seat) -> Seat {
    match it {
        file::Seat::Flush => Seat::Flush,
        file::Seat::Proud(it) => Seat::Proud(it.0),
        file::Seat::Overdriven(it) => Seat::Overdriven(it.0),
    }
}

fn plate(it: file::Plate) -> Plate {
    let depth = interval(it.depth);
    let middle = f64::midpoint(depth.from, depth.to);
    let hole = |it: file::Hole| Hole {
        id: it.id,
        along_mm: it.along.0,
        depth_mm: it.depth.map_or(middle, |it| it.0),
        diameter_mm: it.diameter.0,
        duty: it.duty.into(),
        takes: it.takes.map(|it| Takes {
            kind: it.kind.into(),
            diameter_mm: it.diameter.0,
            min_length_mm: it.min_length.map(|it| it.0),
        }),
        angle_deg: it.angle.map(|it| it.0),
        driven_from: it.driven_from.into(),
    };
    Plate {
        thickness_mm: it.thickness.0,
        depth,
        profile: it.profile.into_iter().map(point).collect(),
        bend_radius_mm: it.bend_radius.0,
        holes: it.holes.into_iter().map(hole).collect(),
    }
}

fn load(it: file::Load) -> Load {
    Load {
        on: it.on,
        toward: it.toward.map(|it| it.0).into(),
        newtons: it.newtons.map(|it| it.0),
        duration: it.duration.into(),
    }
}

fn conditions(it: carried::Conditions) -> Conditions {
    Conditions {
        wet_when_made: it.wet_when_made,
        heat: it.heat.into(),
        diaphragm: it.diaphragm,
        gamma_m: it.gamma_m.map(|it| it.0),
    }
}

/// The word of the file for it, as a label.
pub(super) fn word<T: serde::Serialize>(it: T) -> String {
    let word = serde_json::to_value(it).unwrap_or_default();
    word.as_str().unwrap_or_default().replace('-', " ")
}

pub(super) fn wood_of(family: Family) -> Wood {
    match family {
        Family::Lumber | Family::Glulam => Wood::Softwood,
        Family::Engineered
        | Family::Panel
        | Family::Concrete
        | Family::Masonry
        | Family::Steel
        | Family::Filling => Wood::None,
    }
}

fn own_material(it: file::Material) -> Material {
    let family = it.family.into();
    Material {
        id: String::new(),
        label: it.name.unwrap_or_else(|| word(it.family)),
        family,
        wood: match it.wood.unwrap_or_else(|| wood_of(family)) {
            Wood::Softwood => Some(WoodType::Softwood),
            Wood::Hardwood => Some(WoodType::Hardwood),
            Wood::None => None,
        },
        specific_gravity: it.specific_gravity.map(|it| it.0),
        density_kg_m3: it.density.map(|it| it.0),
        elastic_mpa: None,
        dowel_bearing_mpa: None,
        crushing_mpa: None,
        source: it.source,
    }
}

/// The name of a fastener of which nothing but the measures is known.
pub(super) fn label_of(kind: super::words::Kind, diameter_mm: f64, length_mm: f64) -> String {
    format!("{} {diameter_mm} x {length_mm} mm", word(kind))
}

fn own_spec(it: file::Spec) -> FastenerSpec {
    FastenerSpec {
        id: String::new(),
        label: it.name.unwrap_or_else(|| label_of(it.kind, it.diameter.0, it.length.0)),
        kind: it.kind.into(),
        diameter_mm: it.diameter.0,
        root_mm: it.root.map(|it| it.0),
        length_mm: it.length.0,
        head_mm: it.head.0,
        head_height_mm: it.head_height.0,
        thread_mm: it.thread.map(|it| it.0),
        point_mm: it.point.0,
        bending_yield_mpa: it.bending_yield.map(|it| it.0),
        tensile_mpa: it.tensile.map(|it| it.0),
        nut: it.nut.map(|it| NutSpec { height_mm: it.height.0, across_flats_mm: it.across_flats.0 }),
        source: it.source,
    }
}

fn stand_in_spec() -> FastenerSpec {
    own_spec(file::Spec {
        kind: FastenerKind::Nail.into(),
        name: None,
        diameter: Size(1.0),
        root: None,
        length: Size(1.0),
        head: Length(0.0),
        head_height: Length(0.0),
        thread: None,
        point: Length(0.0),
        bending_yield: None,
        tensile: None,
        nut: None,
        source: String::new(),
    })
}
