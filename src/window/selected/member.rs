//! A member's numbers: outline, depth, material, grain, treatment.

use super::field::{Field, MemberField};
use super::rows::{field, id_field, press, rows, tick, value};
use super::{Message, Pane};
use crate::drawing::Subject;
use crate::joint::edit::Change;
use crate::joint::{Edit, Grain, Member, Outline, Treatment};
use crate::stock::Material;
use crate::window::look::{Command, Look};
use crate::window::theme::{Element, parts};
use crate::window::top::Named;
use std::sync::Arc;

/// Every treatment by its name.
pub(in crate::window) const TREATMENTS: [Named<Treatment>; 4] = [
    Named { it: Treatment::None, name: "none" },
    Named { it: Treatment::Preservative, name: "copper preservative" },
    Named { it: Treatment::Borate, name: "borate" },
    Named { it: Treatment::FireRetardant, name: "fire retardant" },
];

/// Every way the grain runs, by its name.
pub(in crate::window) const GRAINS: [Named<Grain>; 3] = [
    Named { it: Grain::AlongDepth, name: "along the depth" },
    Named { it: Grain::InPlane(0.0), name: "in the drawing plane" },
    Named { it: Grain::None, name: "none" },
];

/// A material with its name, as lists to pick from want it.
#[derive(Clone, PartialEq)]
pub(super) struct Choice(pub(super) Arc<Material>);

impl std::fmt::Display for Choice {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str(&self.0.label)
    }
}

/// The member, of another material: what never bears no longer does, and what now can does.
pub(in crate::window) fn of_material(old: &Member, material: &Arc<Material>) -> Member {
    let bearing = material.family.bears() && (old.bearing || !old.material.family.bears());
    Member { material: material.clone(), bearing, ..old.clone() }
}

pub(super) fn view<'a>(pane: &'a Pane, id: &str, look: &Look<'a>) -> Element<'a, Message> {
    let Some((n, of)) = look.joint.members.iter().enumerate().find(|it| it.1.id == id) else {
        return rows().into();
    };
    let colours = look.colours;
    let with = move |new: Member| Edit::Members(Change::Replace { at: n, new: Box::new(new) });
    let mut list = rows().push(field(pane, Field::Member(of.id.clone(), MemberField::Name), look));
    list = list.push(id_field(pane, Subject::Member(of.id.clone()), look));
    let materials = look.stock.materials.values().cloned().map(Choice).collect();
    let old = of.clone();
    let picked = move |it: Choice| Message::Picked(format!("Material {it}"), with(of_material(&old, &it.0)));
    list = list.push(parts::pick("Material", materials, Some(Choice(of.material.clone())), picked, colours));
    let (outline, drawn) = outline_fields(&of.outline);
    if let Some(drawn) = drawn {
        list = list.push(value("Outline", drawn, colours));
    }
    for it in outline.iter().chain(&[MemberField::Far, MemberField::Near]) {
        list = list.push(field(pane, Field::Member(of.id.clone(), *it), look));
    }
    let same = |it: &&Named<Grain>| std::mem::discriminant(&it.it) == std::mem::discriminant(&of.grain);
    let old = of.clone();
    let picked = move |it: Named<Grain>| {
        Message::Picked(format!("Grain {it}"), with(Member { grain: it.it, ..old.clone() }))
    };
    list =
        list.push(parts::pick("Grain", GRAINS.to_vec(), GRAINS.iter().find(same).copied(), picked, colours));
    if matches!(of.grain, Grain::InPlane(_)) {
        list = list.push(field(pane, Field::Member(of.id.clone(), MemberField::GrainDeg), look));
    }
    let old = of.clone();
    let picked = move |it: Named<Treatment>| {
        Message::Picked(format!("Treatment {it}"), with(Member { treatment: it.it, ..old.clone() }))
    };
    let treatment = TREATMENTS.iter().find(|it| it.it == of.treatment).copied();
    list = list.push(parts::pick("Treatment", TREATMENTS.to_vec(), treatment, picked, colours));
    let edit = with(Member { bearing: !of.bearing, ..of.clone() });
    list = list.push(tick("It bears", of.bearing, "Bearing", edit, colours));
    let edit = with(Member { blocking: !of.blocking, ..of.clone() });
    list = list.push(tick("It is blocking", of.blocking, "Blocking", edit, colours));
    if !of.cutouts.is_empty() {
        list = list.push(value("Cut-outs", of.cutouts.len().to_string(), colours));
    }
    list.push(press("Take away", Command::Delete, colours)).into()
}

/// The measures of an outline that can be typed, and what is said of one that is drawn point by point.
fn outline_fields(outline: &Outline) -> (&'static [MemberField], Option<String>) {
    use MemberField::{Diameter, Flange, Height, Turn, Web, Width, X, Y};
    match outline {
        Outline::Rectangle { .. } => (&[Width, Height, X, Y, Turn], None),
        Outline::Round { .. } => (&[Diameter, X, Y], None),
        Outline::ISection { .. } => (&[Width, Height, Flange, Web, X, Y, Turn], None),
        Outline::Polygon(corners) => (&[], Some(format!("{} corners", corners.len()))),
        Outline::Path(_) => (&[], Some("a path".into())),
    }
}
