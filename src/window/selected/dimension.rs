//! A placed dimension: what it tells, which distance that is, and how far off its line lies.

use super::Message;
use super::rows::{press, rows, value};
use crate::joint::edit::Change;
use crate::joint::{Anchor, Dimension, Edit, Measures};
use crate::trace::dimension;
use crate::window::canvas::plane;
use crate::window::look::{Command, Look};
use crate::window::making::DISTANCES;
use crate::window::theme::{Element, parts};
use crate::window::top::Named;
use crate::window::words;

pub(super) fn view<'a>(at: usize, look: &Look<'a>) -> Element<'a, Message> {
    let colours = look.colours;
    let Some(of) = look.joint.dimensions.get(at) else { return rows().into() };
    let told = match dimension(look.joint, look.trace, of) {
        Some(it) => words::in_both(it.mm, look.unit()),
        None => "nothing: what it held on to is gone".to_owned(),
    };
    let old = of.clone();
    let picked = move |it: Named<Measures>| {
        let new = Box::new(Dimension { measures: it.it, ..old.clone() });
        let name = format!("Dimension {} {it}", at + 1);
        Message::Picked(name, Edit::Dimensions(Change::Replace { at, new }))
    };
    let now = DISTANCES.into_iter().find(|it| it.it == of.measures);
    rows()
        .push(value("Stands in", plane::name(of.look).to_owned(), colours))
        .push(value("It tells", told, colours))
        .push(parts::pick("Distance", DISTANCES.to_vec(), now, picked, colours))
        .push(value("From", held(&of.from), colours))
        .push(value("To", held(&of.to), colours))
        .push(value("Line off by", words::size(of.offset_mm, look.unit()), colours))
        .push(parts::soft("Drag its line to another place; type a length meanwhile to fix it.", colours))
        .push(press("Take away", Command::Delete, colours))
        .into()
}

/// What an end holds on to, in words.
fn held(it: &Anchor) -> String {
    match it {
        Anchor::Edge { of, share, .. } if *share == 0.0 => format!("a corner of {of}"),
        Anchor::Edge { of, .. } => format!("an edge of {of}"),
        Anchor::Centre { of, .. } => format!("the middle of a round in {of}"),
        Anchor::Head(id) => format!("the head of {id}"),
        Anchor::Tip(id) => format!("the point of {id}"),
        Anchor::Hole { connector, hole } => format!("hole {hole} of {connector}"),
        Anchor::Place(_) => "a bare place, which follows nothing".to_owned(),
    }
}
