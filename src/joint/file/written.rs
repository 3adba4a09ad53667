//! From the model to the file's types. What a reader would fill in by itself is left out.

use kurbo::Point;

use super::carried;
use super::measure::{
    Coordinate, Density, Direction, Force, Gravity, Lean, Length, Partial, Size, Strength, Turn,
};
use super::model::{grain_of, label_of, wood_of, word};
use super::sheet;
use super::types as file;
use super::types::Named;
use super::words::{End, Family, Format, Kind, Wood};
use crate::joint::{
    Connector, Fastener, Grain, Hole, Interval, Joint, Load, Member, Outline, Placement, Plate, Rating, Seat,
};
use crate::stock::{FastenerSpec, Material, Stock, WasherSpec, WoodType};
use crate::unit::Vec3;

/// The file that holds a joint.
pub(super) fn file(joint: &Joint) -> file::File {
    let stock = Stock::built_in();
    file::File {
        format: Format::Joint,
        version: super::VERSION,
        title: joint.title.clone(),
        show_lengths_in: Some(joint.show_lengths_in.into()),
        standard: Some(joint.standard.into()),
        service: joint.service.into(),
        members: joint.members.iter().map(member).collect(),
        connectors: joint.connectors.iter().map(connector).collect(),
        fasteners: joint.fasteners.iter().map(|it| fastener(it, &stock)).collect(),
        loads: joint.loads.iter().map(load).collect(),
        dimensions: joint.dimensions.iter().map(Into::into).collect(),
        conditions: carried::Conditions {
            wet_when_made: joint.conditions.wet_when_made,
            heat: joint.conditions.heat.into(),
            diaphragm: joint.conditions.diaphragm,
            gamma_m: joint.conditions.gamma_m.map(Partial),
        },
        notes: joint.notes.clone(),
        sheet: sheet::written(&joint.sheet),
    }
}

fn point(it: Point) -> [Coordinate; 2] {
    [Coordinate(it.x), Coordinate(it.y)]
}

fn place(it: Vec3) -> [Coordinate; 3] {
    it.to_array().map(Coordinate)
}

fn direction(it: Vec3) -> [Direction; 3] {
    it.to_array().map(Direction)
}

fn interval(it: Interval) -> [Coordinate; 2] {
    [Coordinate(it.from), Coordinate(it.to)]
}

fn member(it: &Member) -> file::Member {
    let family = it.material.family;
    file::Member {
        id: it.id.clone(),
        name: it.name.clone(),
        material: material(&it.material),
        outline: outline(&it.outline),
        cutouts: it.cutouts.iter().map(outline).collect(),
        depth: interval(it.depth),
        grain: (it.grain != grain_of(family)).then_some(match it.grain {
            Grain::AlongDepth => file::Grain::AlongDepth,
            Grain::None => file::Grain::None,
            Grain::InPlane(degrees) => file::Grain::InPlane(Turn(degrees)),
        }),
        treatment: it.treatment.into(),
        bearing: (it.bearing != family.bears()).then_some(it.bearing),
        blocking: it.blocking,
    }
}

fn outline(it: &Outline) -> file::Outline {
    match it {
        Outline::Rectangle { corner, size_mm, turn_deg } => file::Outline::Rectangle(file::Rectangle {
            corner: point(*corner),
            size: [Size(size_mm.0), Size(size_mm.1)],
            turn: Turn(*turn_deg),
        }),
        Outline::Polygon(corners) => file::Outline::Polygon(corners.iter().map(|it| point(*it)).collect()),
        Outline::Round { centre, diameter_mm } => {
            file::Outline::Round(file::Round { centre: point(*centre), diameter: Size(*diameter_mm) })
        }
        Outline::ISection { corner, size_mm, flange_mm, web_mm, turn_deg } => {
            file::Outline::ISection(file::ISection {
                corner: point(*corner),
                size: [Size(size_mm.0), Size(size_mm.1)],
                flange: Size(*flange_mm),
                web: Size(*web_mm),
                turn: Turn(*turn_deg),
            })
        }
        Outline::Path(data) => file::Outline::Path(data.clone()),
    }
}

fn material(it: &Material) -> file::MaterialOf {
    if !it.id.is_empty() {
        return Named::Stock(it.id.clone());
    }
    let family: Family = it.family.into();
    let wood = match it.wood {
        Some(WoodType::Softwood) => Wood::Softwood,
        Some(WoodType::Hardwood) => Wood::Hardwood,
        None => Wood::None,
    };
    Named::Own(file::Material {
        family,
        name: (it.label != word(family)).then(|| it.label.clone()),
        wood: (wood != wood_of(it.family)).then_some(wood),
        specific_gravity: it.specific_gravity.map(Gravity),
        density: it.density_kg_m3.map(Density),
        source: it.source.clone(),
    })
}

fn connector(it: &Connector) -> file::Connector {
    file::Connector {
        id: it.id.clone(),
        name: it.name.clone(),
        material: material(&it.material),
        plates: it.plates.iter().map(plate).collect(),
        rating: it.rating.as_ref().map(rating),
    }
}

fn rating(it: &Rating) -> carried::Rating {
    carried::Rating {
        newtons: Force(it.newtons),
        toward: direction(it.toward),
        presumes: carried::Presumes { holes: it.holes.into(), stock: it.spec.as_deref().map(spec) },
        note: it.note.clone(),
    }
}

fn plate(it: &Plate) -> file::Plate {
    file::Plate {
        thickness: Size(it.thickness_mm),
        depth: interval(it.depth),
        profile: it.profile.iter().map(|it| point(*it)).collect(),
        bend_radius: Length(it.bend_radius_mm),
        holes: it.holes.iter().map(hole).collect(),
    }
}

fn hole(it: &Hole) -> file::Hole {
    file::Hole {
        id: it.id.clone(),
        along: Length(it.along_mm),
        depth: Some(Coordinate(it.depth_mm)),
        diameter: Size(it.diameter_mm),
        duty: it.duty.into(),
        takes: it.takes.map(|it| file::Takes {
            kind: it.kind.into(),
            diameter: Size(it.diameter_mm),
            min_length: it.min_length_mm.map(Size),
        }),
        angle: it.angle_deg.map(Lean),
        driven_from: it.driven_from.into(),
    }
}

fn fastener(it: &Fastener, stock: &Stock) -> file::Fastener {
    let (fills, angle, head, toward) = match &it.place {
        Placement::Free { head, toward } => (None, None, Some(place(*head)), Some(direction(*toward))),
        Placement::Fills { connector, hole, angle_deg } => {
            (Some(format!("{connector}/{hole}")), angle_deg.map(Lean), None, None)
        }
    };
    let plain = stock.washer_for(it.spec.diameter_mm);
    let washers = [(End::Head, &it.head_washer), (End::Nut, &it.nut_washer)];
    let washer = |(at, washer): (End, &Option<std::sync::Arc<WasherSpec>>)| {
        let washer = washer.as_deref()?;
        Some(if plain == Some(washer) {
            file::WasherAt::Plain(at)
        } else {
            file::WasherAt::Chosen(file::ChosenWasher { at, stock: chosen_washer(washer) })
        })
    };
    file::Fastener {
        id: it.id.clone(),
        stock: spec(&it.spec),
        fills,
        angle,
        head,
        toward,
        seat: match it.seat {
            Seat::Flush => file::Seat::Flush,
            Seat::Proud(by) => file::Seat::Proud(Length(by)),
            Seat::Overdriven(by) => file::Seat::Overdriven(Length(by)),
        },
        finish: it.finish.into(),
        lead_hole: it
            .lead_hole
            .map(|it| file::LeadHole { diameter: Size(it.diameter_mm), depth: Size(it.depth_mm) }),
        washers: washers.into_iter().filter_map(washer).collect(),
        existing: it.existing,
    }
}

fn chosen_washer(it: &WasherSpec) -> Named<file::Washer> {
    if !it.id.is_empty() {
        return Named::Stock(it.id.clone());
    }
    Named::Own(file::Washer {
        for_diameter: (it.for_diameter_mm.to_bits() != it.inner_mm.to_bits())
            .then_some(Size(it.for_diameter_mm)),
        inner: Size(it.inner_mm),
        outer: Size(it.outer_mm),
        thickness: Size(it.thickness_mm),
        source: it.source.clone(),
    })
}

fn spec(it: &FastenerSpec) -> file::FastenerOf {
    if !it.id.is_empty() {
        return Named::Stock(it.id.clone());
    }
    let kind: Kind = it.kind.into();
    Named::Own(file::Spec {
        kind,
        name: (it.label != label_of(kind, it.diameter_mm, it.length_mm)).then(|| it.label.clone()),
        diameter: Size(it.diameter_mm),
        root: it.root_mm.map(Size),
        length: Size(it.length_mm),
        head: Length(it.head_mm),
        head_height: Length(it.head_height_mm),
        thread: it.thread_mm.map(Size),
        point: Length(it.point_mm),
        bending_yield: it.bending_yield_mpa.map(Strength),
        tensile: it.tensile_mpa.map(Strength),
        nut: it
            .nut
            .map(|it| file::Nut { height: Size(it.height_mm), across_flats: Size(it.across_flats_mm) }),
        source: it.source.clone(),
    })
}

fn load(it: &Load) -> file::Load {
    file::Load {
        on: it.on.clone(),
        toward: direction(it.toward),
        newtons: it.newtons.map(Force),
        duration: it.duration.into(),
    }
}
