//! Rows of what is asked: the loads, and what is around the connection.

use super::asked::{AskedField, in_plane_deg};
use super::field::Field;
use super::rows::{Rows, change, field, head, tick};
use super::{Message, Pane};
use crate::joint::edit::Change;
use crate::joint::{Conditions, Duration, Edit, Heat, Load, Service, StandardId};
use crate::unit::Vec3;
use crate::window::look::Look;
use crate::window::theme::parts;
use crate::window::top::{Named, SERVICES};

const DURATIONS: [Named<Duration>; 6] = [
    Named { it: Duration::Permanent, name: "permanent (self-weight)" },
    Named { it: Duration::TenYears, name: "ten years (occupancy)" },
    Named { it: Duration::TwoMonths, name: "two months (snow)" },
    Named { it: Duration::SevenDays, name: "seven days (building)" },
    Named { it: Duration::TenMinutes, name: "ten minutes (wind)" },
    Named { it: Duration::Impact, name: "a blow" },
];

const HEATS: [Named<Heat>; 3] = [
    Named { it: Heat::Ordinary, name: "up to 100 \u{b0}F (38 \u{b0}C)" },
    Named { it: Heat::Warm, name: "up to 125 \u{b0}F (52 \u{b0}C)" },
    Named { it: Heat::Hot, name: "up to 150 \u{b0}F (66 \u{b0}C)" },
];

/// Ways that have a name.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Way {
    Down,
    Up,
    Right,
    Left,
    Near,
    Far,
    /// None of them.
    Other,
}

pub(super) const WAYS: [Named<Way>; 6] = [
    Named { it: Way::Down, name: "down" },
    Named { it: Way::Up, name: "up" },
    Named { it: Way::Right, name: "to the right" },
    Named { it: Way::Left, name: "to the left" },
    Named { it: Way::Near, name: "towards the viewer" },
    Named { it: Way::Far, name: "away from the viewer" },
];

const OTHER_WAY: Named<Way> = Named { it: Way::Other, name: "another way" };

/// What counts as straight along an axis, of a direction of unit length.
const STRAIGHT: f64 = 1.0 - 1e-12;

impl Way {
    fn toward(self) -> Option<Vec3> {
        Some(match self {
            Self::Down => -Vec3::Y,
            Self::Up => Vec3::Y,
            Self::Right => Vec3::X,
            Self::Left => -Vec3::X,
            Self::Near => Vec3::Z,
            Self::Far => -Vec3::Z,
            Self::Other => return None,
        })
    }
}

/// The name of a direction.
pub(super) fn named(toward: Vec3) -> Named<Way> {
    let unit = toward.unit().unwrap_or_default();
    let along = |it: &&Named<Way>| it.it.toward().is_some_and(|way| STRAIGHT < way.dot(unit));
    WAYS.iter().find(along).copied().unwrap_or(OTHER_WAY)
}

/// The names to pick from; the one that has no name is among them only where it is so now.
pub(super) fn ways(now: Named<Way>) -> Vec<Named<Way>> {
    let mut all = WAYS.to_vec();
    if now == OTHER_WAY {
        all.push(OTHER_WAY);
    }
    all
}

/// The direction that was picked; the old one for what has no name.
pub(super) fn picked_way(it: Named<Way>, old: Vec3) -> Vec3 {
    it.it.toward().unwrap_or(old)
}

/// The loads on one member, or all.
pub(super) fn loads<'a>(mut list: Rows<'a>, pane: &Pane, on: Option<&str>, look: &Look<'a>) -> Rows<'a> {
    let colours = look.colours;
    let all = look.joint.loads.iter().enumerate();
    let mut shown = 0;
    for (n, load) in all.filter(|it| on.is_none_or(|on| it.1.on == on)) {
        shown += 1;
        list = one(list, pane, (n, load), look);
    }
    if shown == 0 {
        list = list.push(parts::soft(
            "No load is given. Without one the values are shown for a load across the grain and ten years.",
            colours,
        ));
    }
    let first = on.or_else(|| look.joint.members.iter().find(|it| it.bearing).map(|it| it.id.as_str()));
    if let Some(on) = first {
        let new = Load { on: on.to_owned(), toward: -Vec3::Y, newtons: None, duration: Duration::default() };
        let at = look.joint.loads.len();
        let edit = Edit::Loads(Change::Insert { at, new: Box::new(new) });
        list = list.push(change("Add a load", format!("Load on {on}"), edit, colours));
    }
    list
}

fn one<'a>(list: Rows<'a>, pane: &Pane, (n, load): (usize, &Load), look: &Look<'a>) -> Rows<'a> {
    let colours = look.colours;
    let it = |which| field(pane, Field::Asked(which), look);
    let members: Vec<String> = look.joint.members.iter().map(|it| it.id.clone()).collect();
    // What a list picks must stand on its own: the joint is looked at again when it is picked.
    let owned = OwnedLoad { n, load: load.clone() };
    let (on, way, lasts) = (owned.clone(), owned.clone(), owned);
    let now = named(load.toward);
    let old = load.toward;
    let mut list = list
        .push(head(format!("Load {} on {}", n + 1, look.joint.name_of(&load.on)), colours))
        .push(parts::pick(
            "On",
            members,
            Some(load.on.clone()),
            move |id| on.with("Member", |it| it.on = id),
            colours,
        ))
        .push(it(AskedField::Size(n)))
        .push(parts::pick(
            "Acts",
            ways(now),
            Some(now),
            move |to| way.with("Direction", |it| it.toward = picked_way(to, old)),
            colours,
        ));
    if in_plane_deg(load.toward).is_some() {
        list = list.push(it(AskedField::Direction(n)));
    }
    let now = DURATIONS.iter().find(|it| it.it == load.duration).copied();
    list.push(parts::pick(
        "Lasts",
        DURATIONS.to_vec(),
        now,
        move |to| lasts.with("Duration", |it| it.duration = to.it),
        colours,
    ))
    .push(change(
        "Take the load away",
        format!("Take load {} away", n + 1),
        Edit::Loads(Change::Remove { at: n }),
        colours,
    ))
}

/// A load with its place, for what is picked from a list.
#[derive(Clone)]
struct OwnedLoad {
    n: usize,
    load: Load,
}

impl OwnedLoad {
    fn with(&self, what: &str, change: impl FnOnce(&mut Load)) -> Message {
        let mut new = Box::new(self.load.clone());
        change(&mut new);
        let edit = Edit::Loads(Change::Replace { at: self.n, new });
        Message::Picked(format!("{what} of load {}", self.n + 1), edit)
    }
}

/// What is around the connection.
pub(super) fn conditions<'a>(list: Rows<'a>, pane: &Pane, look: &Look<'a>) -> Rows<'a> {
    let (colours, now) = (look.colours, look.joint.conditions);
    let damp = SERVICES.iter().find(|it| it.it == look.joint.service).copied();
    let picked_damp = |it: Named<Service>| Message::Picked(format!("Service {it}"), Edit::Service(it.it));
    let heat = HEATS.iter().find(|it| it.it == now.heat).copied();
    let picked_heat = move |it: Named<Heat>| {
        Message::Picked("Heat".into(), Edit::Conditions(Conditions { heat: it.it, ..now }))
    };
    let wet = Edit::Conditions(Conditions { wet_when_made: !now.wet_when_made, ..now });
    let mut list = list
        .push(head("What is around", colours))
        .push(parts::pick("The place is", SERVICES.to_vec(), damp, picked_damp, colours))
        .push(parts::pick("Heat that lasts", HEATS.to_vec(), heat, picked_heat, colours))
        .push(tick("Wood was wet when joined", now.wet_when_made, "Wet when joined", wet, colours));
    if look.joint.standard == StandardId::Nds2018 || now.diaphragm {
        let edit = Edit::Conditions(Conditions { diaphragm: !now.diaphragm, ..now });
        list = list.push(tick("Diaphragm or shear wall", now.diaphragm, "Diaphragm", edit, colours));
    }
    if look.joint.standard == StandardId::En199511 || now.gamma_m.is_some() {
        list = list.push(field(pane, Field::Asked(AskedField::Partial), look));
    }
    list
}
