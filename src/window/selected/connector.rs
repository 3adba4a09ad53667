//! A connector's numbers, and those of one of its holes.

use iced::widget::{button, row, text};

use super::field::{Field, HoleField, NameField, PlateField, TakesField, hole_of};
use super::member::Choice;
use super::rows::{field, head, id_field, press, rows, value};
use super::{Message, Pane};
use crate::drawing::Subject;
use crate::joint::edit::Change;
use crate::joint::{Connector, Duty, Edit, Hole, PlateSide, Takes};
use crate::stock::{Family, FastenerKind};
use crate::window::look::{Command, Fill, Look};
use crate::window::making::Thing;
use crate::window::theme::{Element, control, gap, parts, text_px};
use crate::window::top::Named;
use crate::window::words;

const DUTIES: [Named<Duty>; 3] = [
    Named { it: Duty::Required, name: "required" },
    Named { it: Duty::Extra, name: "extra" },
    Named { it: Duty::HoldingUp, name: "holding up" },
];

/// What a hole may take.
const KINDS: [Named<Option<FastenerKind>>; 7] = [
    Named { it: None, name: "anything" },
    Named { it: Some(FastenerKind::Nail), name: "a nail" },
    Named { it: Some(FastenerKind::WoodScrew), name: "a wood screw" },
    Named { it: Some(FastenerKind::LagScrew), name: "a lag screw" },
    Named { it: Some(FastenerKind::Bolt), name: "a bolt" },
    Named { it: Some(FastenerKind::ThreadedRod), name: "a threaded rod" },
    Named { it: Some(FastenerKind::MasonryScrew), name: "a masonry screw" },
];

const SIDES: [Named<PlateSide>; 2] = [
    Named { it: PlateSide::Left, name: "left of the profile" },
    Named { it: PlateSide::Right, name: "right of the profile" },
];

pub(super) fn view<'a>(pane: &'a Pane, id: &str, look: &Look<'a>) -> Element<'a, Message> {
    let Some((at, of)) = look.joint.connectors.iter().enumerate().find(|it| it.1.id == id) else {
        return rows().into();
    };
    let colours = look.colours;
    let subject = Subject::Connector(of.id.clone());
    let mut list = rows()
        .push(field(pane, Field::Called(subject.clone(), NameField::Name), look))
        .push(id_field(pane, subject, look));
    let steels =
        look.stock.materials.values().filter(|it| it.family == Family::Steel).cloned().map(Choice).collect();
    let old = of.clone();
    let picked = move |it: Choice| {
        let new = Box::new(Connector { material: it.0.clone(), ..old.clone() });
        Message::Picked(format!("Steel {it}"), Edit::Connectors(Change::Replace { at, new }))
    };
    list = list.push(parts::pick("Steel", steels, Some(Choice(of.material.clone())), picked, colours));
    for (n, plate) in of.plates.iter().enumerate() {
        if 1 < of.plates.len() {
            list = list.push(head(format!("Plate {}", n + 1), colours));
        }
        for it in [PlateField::Thickness, PlateField::Bend, PlateField::Far, PlateField::Near] {
            list = list.push(field(pane, Field::Plate(of.id.clone(), n, it), look));
        }
        for hole in &plate.holes {
            list = list.push(hole_line(of, hole, look));
        }
    }
    let fill = |words, which| press(words, Command::Fill(which), colours);
    list.push(
        row![fill("Fill what is required", Fill::Required), fill("Fill all", Fill::All)]
            .spacing(gap::ROW)
            .wrap(),
    )
    .push(
        row![
            press("More holes", Command::Make(Thing::Holes), colours),
            press("Take away", Command::Delete, colours)
        ]
        .spacing(gap::ROW)
        .wrap(),
    )
    .into()
}

fn hole_line<'a>(of: &Connector, hole: &'a Hole, look: &Look<'a>) -> Element<'a, Message> {
    let filled = look.joint.fasteners.iter().position(|it| {
        matches!(&it.place, crate::joint::Placement::Fills { connector, hole: at, .. }
            if *connector == of.id && *at == hole.id)
    });
    let filled = filled.map_or("empty".to_owned(), |n| format!("fastener {}", n + 1));
    let words =
        format!("{}, {}, {filled}", words::diameter(hole.diameter_mm, look.unit()), duty_word(hole.duty));
    let line = row![
        text(hole.id.as_str()).size(text_px::BODY),
        text(words).size(text_px::SMALL).style(control::words(look.colours.soft)),
    ]
    .spacing(gap::ROW)
    .align_y(iced::Alignment::Center);
    button(line)
        .width(iced::Length::Fill)
        .padding(gap::LINE)
        .style(control::line_button(look.colours, false))
        .on_press(Message::ThingPressed(Subject::Hole(of.id.clone(), hole.id.clone())))
        .into()
}

fn duty_word(duty: Duty) -> &'static str {
    DUTIES.iter().find(|it| it.it == duty).map_or("", |it| it.name)
}

pub(super) fn hole_view<'a>(pane: &'a Pane, id: &str, hole: &str, look: &Look<'a>) -> Element<'a, Message> {
    let Some((at, plate, n, of)) = hole_of(look, id, hole) else { return rows().into() };
    let colours = look.colours;
    let owner = &look.joint.connectors[at];
    let with = move |old: &Connector, new: Hole| {
        let mut connector = Box::new(old.clone());
        connector.plates[plate].holes[n] = new;
        Edit::Connectors(Change::Replace { at, new: connector })
    };
    let mut list = rows().push(value("Hole of", owner.shown_name().to_owned(), colours)).push(id_field(
        pane,
        Subject::Hole(id.to_owned(), hole.to_owned()),
        look,
    ));
    for it in [HoleField::Along, HoleField::Depth, HoleField::Diameter, HoleField::Angle] {
        list = list.push(field(pane, Field::Hole(id.to_owned(), hole.to_owned(), it), look));
    }
    let (connector, old) = (owner.clone(), of.clone());
    let picked = move |it: Named<Duty>| {
        Message::Picked(format!("Duty {it}"), with(&connector, Hole { duty: it.it, ..old.clone() }))
    };
    let duty = DUTIES.iter().find(|it| it.it == of.duty).copied();
    list = list.push(parts::pick("Duty", DUTIES.to_vec(), duty, picked, colours));
    let (connector, old) = (owner.clone(), of.clone());
    let picked = move |it: Named<PlateSide>| {
        Message::Picked("Driven from".into(), with(&connector, Hole { driven_from: it.it, ..old.clone() }))
    };
    let side = SIDES.iter().find(|it| it.it == of.driven_from).copied();
    list = list.push(parts::pick("Driven from", SIDES.to_vec(), side, picked, colours));
    let (connector, old) = (owner.clone(), of.clone());
    let picked = move |it: Named<Option<FastenerKind>>| {
        let before = old.takes;
        let takes = it.it.map(|kind| Takes {
            kind,
            diameter_mm: before.map_or(old.diameter_mm, |it| it.diameter_mm),
            min_length_mm: before.and_then(|it| it.min_length_mm),
        });
        Message::Picked(format!("Hole takes {it}"), with(&connector, Hole { takes, ..old.clone() }))
    };
    let now = KINDS.iter().find(|it| it.it == of.takes.map(|it| it.kind)).copied();
    list = list.push(parts::pick("Takes", KINDS.to_vec(), now, picked, colours));
    if of.takes.is_some() {
        for it in [TakesField::Diameter, TakesField::Least] {
            list = list.push(field(pane, Field::Takes(id.to_owned(), hole.to_owned(), it), look));
        }
    }
    let (connector, old) = (owner.clone(), of.clone());
    let specs = look.stock.fasteners_by_size().into_iter().cloned().map(ForFastener).collect();
    let picked = move |it: ForFastener| {
        let spec = &it.0;
        let takes =
            Takes { kind: spec.kind, diameter_mm: spec.diameter_mm, min_length_mm: Some(spec.length_mm) };
        let new = Hole { takes: Some(takes), ..old.clone() };
        Message::Picked(format!("Hole takes {it}"), with(&connector, new))
    };
    list = list.push(parts::wide_pick("Takes as", specs, None, picked, colours));
    let fill = press("Fill this hole", Command::Fill(Fill::One), colours);
    list.push(row![fill, press("Take away", Command::Delete, colours)].spacing(gap::ROW).wrap()).into()
}

/// A fastener with its name, as lists to pick from want it.
#[derive(Clone, PartialEq)]
struct ForFastener(std::sync::Arc<crate::stock::FastenerSpec>);

impl std::fmt::Display for ForFastener {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str(&self.0.label)
    }
}
