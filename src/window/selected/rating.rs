//! Rows of a connector's own rating, as its user types it, and whether the fastening as drawn is still the one
//! that it presumes.

use std::collections::BTreeSet;
use std::sync::Arc;

use super::asked::{AskedField, in_plane_deg};
use super::field::Field;
use super::loads::{named, picked_way, ways};
use super::rows::{Rows, field, figure, head, wide_field};
use super::{Message, Pane};
use crate::drawing::mark_of;
use crate::findings::carry::{Differs, Rated};
use crate::joint::edit::Change;
use crate::joint::{Connector, Edit, Fastener, Placement, RatedHoles, Rating};
use crate::stock::{FastenerKind, FastenerSpec};
use crate::unit::force;
use crate::unit::length::Rounding;
use crate::window::look::Look;
use crate::window::theme::parts;
use crate::window::top::Named;

const HOLES: [Named<RatedHoles>; 2] = [
    Named { it: RatedHoles::Required, name: "the required holes" },
    Named { it: RatedHoles::All, name: "required and extra holes" },
];

/// What a rating presumes in each hole.
#[derive(Clone, PartialEq)]
struct Presumed(Option<Arc<FastenerSpec>>);

impl std::fmt::Display for Presumed {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str(self.0.as_ref().map_or("what each hole takes", |it| it.label.as_str()))
    }
}

/// The connector with its place, for what is picked from a list.
#[derive(Clone)]
struct Owned {
    at: usize,
    connector: Connector,
    rating: Rating,
}

impl Owned {
    fn with(&self, what: &str, change: impl FnOnce(&mut Rating)) -> Message {
        let mut rating = self.rating.clone();
        change(&mut rating);
        let new = Box::new(Connector { rating: Some(rating), ..self.connector.clone() });
        let name = format!("{what} of the rating of {}", self.connector.id);
        Message::Picked(name, Edit::Connectors(Change::Replace { at: self.at, new }))
    }
}

/// The rating of a connector and the fastening that it presumes, to be typed in.
pub(super) fn fields<'a>(mut list: Rows<'a>, pane: &Pane, at: usize, look: &Look<'a>) -> Rows<'a> {
    let (colours, of) = (look.colours, &look.joint.connectors[at]);
    let it = |which| Field::Asked(which);
    list = list.push(head("Its maker's rating", colours)).push(field(
        pane,
        it(AskedField::Rating(of.id.clone())),
        look,
    ));
    let Some(rating) = &of.rating else {
        return list.push(parts::soft(
            "Type what the maker publishes for the load that you have; nothing is ever filled in here for you.",
            colours,
        ));
    };
    let owned = Owned { at, connector: of.clone(), rating: rating.clone() };
    let (way, holes, presumed) = (owned.clone(), owned.clone(), owned);
    let (now, old) = (named(rating.toward), rating.toward);
    list = list.push(parts::pick(
        "For a load",
        ways(now),
        Some(now),
        move |to| way.with("Direction", |it| it.toward = picked_way(to, old)),
        colours,
    ));
    if in_plane_deg(rating.toward).is_some() {
        list = list.push(field(pane, it(AskedField::RatingDirection(of.id.clone())), look));
    }
    let now = HOLES.iter().find(|it| it.it == rating.holes).copied();
    list = list.push(parts::pick(
        "It presumes",
        HOLES.to_vec(),
        now,
        move |to| holes.with("Holes", |it| it.holes = to.it),
        colours,
    ));
    let now = Presumed(rating.spec.clone());
    list = list.push(parts::wide_pick(
        "filled with",
        presumable(of, &now, look),
        Some(now),
        move |to| presumed.with("Fastener", |it| it.spec = to.0),
        colours,
    ));
    list.push(wide_field(pane, it(AskedField::RatingNote(of.id.clone())), look))
}

/// What may be presumed: sizes of stock of the kinds that its holes take or hold, and what is presumed now.
fn presumable(of: &Connector, now: &Presumed, look: &Look<'_>) -> Vec<Presumed> {
    let taken = of.plates.iter().flat_map(|it| &it.holes).filter_map(|it| it.takes).map(|it| it.kind);
    let in_it =
        |it: &&Fastener| matches!(&it.place, Placement::Fills { connector, .. } if *connector == of.id);
    let driven = look.joint.fasteners.iter().filter(in_it).map(|it| it.spec.kind);
    let kinds: BTreeSet<FastenerKind> = taken.chain(driven).collect();
    let all =
        look.stock.fasteners_by_size().into_iter().filter(|it| kinds.is_empty() || kinds.contains(&it.kind));
    let mut list = vec![Presumed(None)];
    list.extend(all.cloned().map(|it| Presumed(Some(it))));
    if !list.contains(now) {
        list.push(now.clone());
    }
    list
}

/// The rating beside the fastening as drawn.
pub(super) fn told<'a>(mut list: Rows<'a>, rated: &Rated, look: &Look<'a>) -> Rows<'a> {
    let (colours, unit) = (look.colours, look.unit());
    list = list.push(head(format!("Rating of {} as typed", rated.connector), colours));
    let typed = force::format(rated.newtons, unit, Rounding::Down);
    let says = if rated.differs.is_empty() {
        ("holds for what is drawn".to_owned(), colours.accent)
    } else {
        ("does not hold as drawn".to_owned(), colours.caution)
    };
    list =
        list.push(figure(typed, says, rated.differs.iter().map(|it| differs(it, look)).collect(), colours));
    if let Some(demand) = rated.demand_n {
        let is_over = rated.newtons < demand;
        let colour = if is_over { colours.fault } else { colours.text };
        let below = if is_over { vec!["more than the rating".to_owned()] } else { Vec::new() };
        let asked = force::format(demand, unit, Rounding::Up);
        list = list.push(figure("Goes through it", (asked, colour), below, colours));
    }
    if let (Some(part), false) = (rated.ratio, rated.differs.is_empty()) {
        let percent = format!("{:.0} %", (part * 100.0).floor());
        let mut below = Vec::new();
        if let Some([drawn, presumed]) = rated.sums_n {
            let text = |newtons| force::format(newtons, unit, Rounding::Nearest);
            below.push(format!("worked out: {} as drawn, {} as presumed", text(drawn), text(presumed)));
        }
        below.push("An indication, and no rating: ask the maker or a licensed designer.".to_owned());
        list = list.push(figure("Drawn to presumed", (percent, colours.text), below, colours));
    } else if !rated.differs.is_empty() {
        list = list.push(parts::soft("What it still carries cannot be told from the rating.", colours));
    }
    list
}

/// What differs, with the number that the fastener has on the drawing in place of its id.
fn differs(it: &Differs, look: &Look<'_>) -> String {
    let rest = it.says.strip_prefix(&it.subject).filter(|it| it.starts_with(' '));
    match (mark_of(look.joint, &it.subject), rest) {
        (Some(number), Some(rest)) => format!("No. {number}{rest}"),
        _ => it.says.clone(),
    }
}
