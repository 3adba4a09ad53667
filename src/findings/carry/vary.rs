//! Variants of a joint, as one types them: another size, a gap closed, another angle, species or standard.
//!
//! `n1 nail/common/10d; gap 0` is two changes, one after the other. Each is an edit of the joint like any
//! other, so that what is compared can also be kept.

mod gap;

use std::sync::Arc;

use crate::joint::edit::{Change, apply};
use crate::joint::{Edit, Fastener, Joint, Placement, Service, StandardId};
use crate::stock::Stock;
use crate::trace::trace;
use crate::unit::{LengthUnit, Vec3, length as measure};

/// How a variant is typed, for help and refusals.
pub const GRAMMAR: &str = "\
\x20 all STOCK            every fastener is that one: all nail/common/10d
  ID STOCK             that fastener is that one: n1 lag-screw/0.375x5
  gap LENGTH           what lies before the bite of the first fastener with a gap there, else of the first, is so wide,
                       and holds no filling: gap 0
  gap LENGTH at ID     the same for that fastener: gap 1/8\" at n1
  angle ID DEGREES     that fastener stands so far off square, anticlockwise in the drawing: angle n1 25
  material ID STOCK    that member or connector is of that: material rim lumber/southern-pine
  standard NAME        checked by nds-2018 or en-1995-1-1
  service NAME         in a place that is dry, humid or wet
Several, one after the other, with semicolons between: n1 nail/common/10d; gap 1/8\"";

/// The joint with the changes that a text names, in order.
///
/// # Errors
/// What cannot be understood or done, as a sentence that names the part of the text.
pub fn varied(joint: &Joint, text: &str, stock: &Stock) -> Result<Joint, String> {
    let mut varied = joint.clone();
    let _ = apply(&mut varied, &edits(joint, text, stock)?);
    Ok(varied)
}

/// The same changes as one edit, so that a choice that was compared can be kept.
///
/// # Errors
/// As [`varied`].
pub fn edits(joint: &Joint, text: &str, stock: &Stock) -> Result<Edit, String> {
    let mut varied = joint.clone();
    let mut edits = Vec::new();
    for part in text.split(';').map(str::trim).filter(|it| !it.is_empty()) {
        let edit = edit(&varied, part, stock).map_err(|why| format!("`{part}`: {why}"))?;
        let _ = apply(&mut varied, &edit);
        edits.push(edit);
    }
    if edits.is_empty() {
        return Err(format!("a variant names at least one change:\n{GRAMMAR}"));
    }
    Ok(Edit::All(edits))
}

/// One change.
fn edit(joint: &Joint, part: &str, stock: &Stock) -> Result<Edit, String> {
    let words: Vec<&str> = part.split_whitespace().collect();
    match words.as_slice() {
        ["gap", rest @ .., "at", id] if !rest.is_empty() => {
            let mm = length(&rest.join(" "), joint.show_lengths_in)?;
            let at = joint.fasteners.iter().position(|it| it.id == *id);
            let at = at.ok_or_else(|| format!("there is no fastener {id}"))?;
            gap::edit(joint, &trace(joint), mm, Some(at))
        }
        ["gap", rest @ ..] if !rest.is_empty() => {
            let mm = length(&rest.join(" "), joint.show_lengths_in)?;
            gap::edit(joint, &trace(joint), mm, None)
        }
        ["angle", id, degrees] => {
            let degrees: f64 = degrees.parse().map_err(|_| format!("{degrees} is no number of degrees"))?;
            angle(joint, id, degrees)
        }
        ["material", id, name] => material(joint, id, name, stock),
        ["standard", name] => match *name {
            "nds-2018" => Ok(Edit::Standard(StandardId::Nds2018)),
            "en-1995-1-1" => Ok(Edit::Standard(StandardId::En199511)),
            _ => Err("a standard is nds-2018 or en-1995-1-1".to_owned()),
        },
        ["service", name] => match *name {
            "dry" => Ok(Edit::Service(Service::Dry)),
            "humid" => Ok(Edit::Service(Service::Humid)),
            "wet" => Ok(Edit::Service(Service::Wet)),
            _ => Err("a service is dry, humid or wet".to_owned()),
        },
        ["angle", degrees] if degrees.parse::<f64>().is_ok() => {
            let id = joint.fasteners.first().map_or("n1", |it| it.id.as_str());
            Err(format!("say of which fastener: angle {id} {degrees}"))
        }
        ["material", name] if stock.materials.contains_key(*name) => {
            let id = joint.members.first().map_or("rim", |it| it.id.as_str());
            Err(format!("say of which member: material {id} {name}"))
        }
        ["all", name] => fasteners(joint, None, name, stock),
        [id, name] => fasteners(joint, Some(id), name, stock),
        _ => Err(format!("this is no change; known are\n{GRAMMAR}")),
    }
}

fn length(text: &str, unit: LengthUnit) -> Result<f64, String> {
    let mm = measure::parse(text, unit).map_err(|why| why.to_string())?;
    if (0.0..=1e6).contains(&mm) { Ok(mm) } else { Err(format!("{text} is no length from 0 up")) }
}

fn fasteners(joint: &Joint, id: Option<&str>, name: &str, stock: &Stock) -> Result<Edit, String> {
    let spec = stock.fasteners.get(name).ok_or_else(|| format!("stock has no fastener {name}"))?;
    let wanted = |it: &&(usize, &Fastener)| id.is_none_or(|id| it.1.id == id);
    let edits: Vec<Edit> = joint
        .fasteners
        .iter()
        .enumerate()
        .collect::<Vec<_>>()
        .iter()
        .filter(wanted)
        .map(|(at, old)| {
            let new = Fastener { spec: Arc::clone(spec), ..(*old).clone() };
            Edit::Fasteners(Change::Replace { at: *at, new: Box::new(new) })
        })
        .collect();
    match (edits.is_empty(), id) {
        (false, _) => Ok(Edit::All(edits)),
        (true, Some(id)) => Err(format!("there is no fastener {id}")),
        (true, None) => Err("the joint has no fastener".to_owned()),
    }
}

fn material(joint: &Joint, id: &str, name: &str, stock: &Stock) -> Result<Edit, String> {
    let material = stock.materials.get(name).ok_or_else(|| format!("stock has no material {name}"))?;
    if let Some(at) = joint.members.iter().position(|it| it.id == id) {
        let mut new = joint.members[at].clone();
        new.material = Arc::clone(material);
        return Ok(Edit::Members(Change::Replace { at, new: Box::new(new) }));
    }
    let at = joint.connectors.iter().position(|it| it.id == id);
    let at = at.ok_or_else(|| format!("there is no member or connector {id}"))?;
    let mut new = joint.connectors[at].clone();
    new.material = Arc::clone(material);
    Ok(Edit::Connectors(Change::Replace { at, new: Box::new(new) }))
}

/// Turns a fastener about its head, in the drawing plane, to so many degrees off square.
fn angle(joint: &Joint, id: &str, degrees: f64) -> Result<Edit, String> {
    if !(-89.0..=89.0).contains(&degrees) {
        return Err("an angle off square is from -89 to 89 degrees".to_owned());
    }
    let at = joint.fasteners.iter().position(|it| it.id == id);
    let at = at.ok_or_else(|| format!("there is no fastener {id}"))?;
    let mut new = joint.fasteners[at].clone();
    match &mut new.place {
        Placement::Fills { angle_deg, .. } => *angle_deg = Some(degrees),
        Placement::Free { toward, .. } => {
            let traced = trace(joint);
            let entered = traced.fasteners.get(at).and_then(|it| it.core.iter().find_map(|it| it.entered));
            let square =
                entered.map(|it| -it.normal).ok_or("it goes into no face that it could be square to")?;
            if 1e-9 < square.z.abs() {
                return Err("it goes into a face that lies in the drawing; an angle in the drawing has no \
                            meaning there"
                    .to_owned());
            }
            let (sine, cosine) = degrees.to_radians().sin_cos();
            *toward = Vec3::new(
                square.x.mul_add(cosine, -square.y * sine),
                square.x.mul_add(sine, square.y * cosine),
                0.0,
            );
        }
    }
    Ok(Edit::Fasteners(Change::Replace { at, new: Box::new(new) }))
}
