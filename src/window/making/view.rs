//! The pane of what is made: its settings and its numbers.

use iced::widget::{button, checkbox, column, container, row, text, text_input};
use iced::{Alignment, Length};

use super::{Hold, Key, Kind, Lies, Making, Message, Settings, wood};
use crate::drawing::Subject;
use crate::joint::{Duty, Grain, Measures, Treatment};
use crate::stock::{Family, FastenerSpec, Material};
use crate::window::look::Look;
use crate::window::theme::{Colours, Element, control, gap, parts, reach, text_px};
use crate::window::top::Named;
use std::sync::Arc;

const LIES: [Named<Lies>; 3] = [
    Named { it: Lies::EndOn, name: "cut across" },
    Named { it: Lies::Face, name: "lengthwise, wide face" },
    Named { it: Lies::Edge, name: "lengthwise, narrow edge" },
];
const HOLDS: [Named<Hold>; 5] = [
    Named { it: Hold::LowerLeft, name: "lower left corner" },
    Named { it: Hold::LowerRight, name: "lower right corner" },
    Named { it: Hold::UpperRight, name: "upper right corner" },
    Named { it: Hold::UpperLeft, name: "upper left corner" },
    Named { it: Hold::Middle, name: "middle" },
];
const GRAINS: [Named<Option<Grain>>; 4] = [
    Named { it: None, name: "as it lies" },
    Named { it: Some(Grain::AlongDepth), name: "along the depth" },
    Named { it: Some(Grain::InPlane(0.0)), name: "in the drawing plane" },
    Named { it: Some(Grain::None), name: "none" },
];
const TURNS: [Named<u8>; 4] = [
    Named { it: 0, name: "upright" },
    Named { it: 1, name: "by 90\u{b0}" },
    Named { it: 2, name: "by 180\u{b0}" },
    Named { it: 3, name: "by 270\u{b0}" },
];
/// Which distance a dimension tells.
pub(crate) const DISTANCES: [Named<Measures>; 3] = [
    Named { it: Measures::Straight, name: "straight" },
    Named { it: Measures::Level, name: "across only: level" },
    Named { it: Measures::Upright, name: "in height only: upright" },
];
/// What wood may have been treated with.
pub(crate) const TREATMENTS: [Named<Treatment>; 4] = [
    Named { it: Treatment::None, name: "none" },
    Named { it: Treatment::Preservative, name: "copper preservative" },
    Named { it: Treatment::Borate, name: "borate" },
    Named { it: Treatment::FireRetardant, name: "fire retardant" },
];

/// A material with its name, as lists to pick from want it.
#[derive(Clone, PartialEq)]
struct Choice(Arc<Material>);

impl std::fmt::Display for Choice {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str(&self.0.label)
    }
}

/// A fastener with its name, as lists to pick from want it.
#[derive(Clone, PartialEq)]
struct ForFastener(Arc<FastenerSpec>);

impl std::fmt::Display for ForFastener {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str(&self.0.label)
    }
}

const DUTIES: [Named<Duty>; 3] = [
    Named { it: Duty::Required, name: "required" },
    Named { it: Duty::Extra, name: "extra" },
    Named { it: Duty::HoldingUp, name: "holding up" },
];

impl Making {
    /// The pane.
    #[must_use]
    pub fn view<'a>(&'a self, look: &Look<'a>) -> Element<'a, Message> {
        let colours = look.colours;
        let mut list = column![].spacing(gap::TIGHT);
        if let Kind::Stock(size) = &self.kind {
            let unit = look.unit();
            let measures = match size.depth_mm {
                Some(deep) => format!(
                    "Actual {} \u{d7} {}",
                    crate::window::words::size(size.thickness_mm, unit),
                    crate::window::words::size(deep, unit)
                ),
                None => format!("Actual thickness {}", crate::window::words::size(size.thickness_mm, unit)),
            };
            list = list.push(parts::soft(measures, colours));
        }
        for key in self.asks(look.view) {
            list = list.push(self.field(key, look));
        }
        list = self.picks(list, look);
        list = list.push(reach(
            button(text("Enough (Esc)").size(text_px::SMALL))
                .padding(gap::CONTROL)
                .style(control::plain_button(colours))
                .on_press(Message::EndPressed),
            Some(Message::EndPressed),
            colours.accent,
        ));
        let inside = container(list).padding(iced::Padding::default().right(gap::PANE)).width(Length::Fill);
        column![
            container(parts::head("PLACING", self.words(), colours))
                .padding(iced::Padding::default().right(gap::PANE)),
            parts::scroll(inside, colours),
        ]
        .spacing(gap::ROW)
        .into()
    }

    fn field<'a>(&self, key: Key, look: &Look<'a>) -> Element<'a, Message> {
        let colours = look.colours;
        let error = self.error(key, look);
        let input = text_input("", &self.text(key, look))
            .id(iced::widget::Id::from(key.name()))
            .size(text_px::BODY)
            .padding(gap::CONTROL)
            .style(control::field(colours, error.is_some()))
            .on_submit(Message::Entered)
            .on_input(move |it| Message::Typed(key, it));
        let line =
            row![parts::label(key.words(), colours), input].spacing(gap::ROW).align_y(Alignment::Center);
        let below: Element<'a, Message> = match error {
            Some(error) => text(error).size(text_px::SMALL).style(control::words(colours.fault)).into(),
            None => iced::widget::space().height(0.0).into(),
        };
        column![line, below].into()
    }

    fn picks<'a>(
        &'a self,
        list: iced::widget::Column<'a, Message>,
        look: &Look<'a>,
    ) -> iced::widget::Column<'a, Message> {
        match &self.kind {
            Kind::Member(_) => self.wood_picks(list, look),
            Kind::Stock(size) => {
                let mut list = list;
                if wood::may_lie(size) {
                    let with = |it: Lies| Settings { lies: it, ..self.settings.clone() };
                    list = list.push(self.pick(("Seen", look.colours), &LIES, self.settings.lies, with));
                }
                let with = |it: u8| Settings { quarters: it, ..self.settings.clone() };
                list = list.push(self.pick(("Turned", look.colours), &TURNS, self.settings.quarters, with));
                let with = |it: Hold| Settings { hold: it, ..self.settings.clone() };
                list = list.push(self.pick(("Held by its", look.colours), &HOLDS, self.settings.hold, with));
                self.wood_picks(list, look)
            }
            Kind::Cut(_) => list.push(parts::soft(
                "It is cut out of the chosen member, or out of the one that it is begun on.",
                look.colours,
            )),
            Kind::Form(word) => {
                let says = crate::sketch::form::Form::named(word).map_or("", |it| it.says);
                self.steel_picks(list.push(parts::soft(says, look.colours)), look)
            }
            Kind::Profile => {
                let list = self.steel_pick(list, look);
                let Some(Subject::Connector(id)) = look.chosen else { return list };
                let joins = Settings { joins: !self.settings.joins, ..self.settings.clone() };
                list.push(tick(format!("A part of {id}"), self.settings.joins, joins, look.colours))
            }
            Kind::Holes => self.hole_picks(list, look),
            Kind::Toe(_) => list.push(parts::soft(
                "Start and slope are those of the standard. Press near the corner between two pieces.",
                look.colours,
            )),
            Kind::HeadOn(_) => list.push(parts::soft(
                "It is driven away from you, from the nearest face. Rows go to the right and upward.",
                look.colours,
            )),
            Kind::Row(_) => list.push(parts::soft(
                "Press where the first head goes and drag the way it points. The row runs along the face.",
                look.colours,
            )),
            Kind::Dimension => {
                let with = |it: Measures| Settings { measures: it, ..self.settings.clone() };
                let list = list.push(self.pick(
                    ("Distance", look.colours),
                    &DISTANCES,
                    self.settings.measures,
                    with,
                ));
                list.push(parts::soft(
                    "Press its two ends, then where its line goes. What it meets it holds on to, and follows.",
                    look.colours,
                ))
            }
            Kind::Measure(_) => list.push(parts::soft("Nothing of the joint is changed.", look.colours)),
        }
    }

    fn steel_pick<'a>(
        &'a self,
        list: iced::widget::Column<'a, Message>,
        look: &Look<'a>,
    ) -> iced::widget::Column<'a, Message> {
        let steels = look.stock.materials.values().filter(|it| it.family == Family::Steel);
        let now = self.settings.steel(look.stock).map(Choice);
        let settings = self.settings.clone();
        let picked = move |it: Choice| Message::Set(Settings { steel: Some(it.0), ..settings.clone() });
        list.push(parts::pick("Steel", steels.cloned().map(Choice).collect(), now, picked, look.colours))
    }

    fn hole_picks<'a>(
        &'a self,
        list: iced::widget::Column<'a, Message>,
        look: &Look<'a>,
    ) -> iced::widget::Column<'a, Message> {
        let specs = look.stock.fasteners_by_size().into_iter().cloned().map(ForFastener).collect();
        let now = self.settings.fastener(&look.kept.joint, look.stock).map(ForFastener);
        let settings = self.settings.clone();
        let picked =
            move |it: ForFastener| Message::Set(Settings { fastener: Some(it.0), ..settings.clone() });
        let list = list.push(parts::wide_pick("Holes for", specs, now, picked, look.colours));
        let with = |it: Duty| Settings { duty: it, ..self.settings.clone() };
        list.push(self.pick(("Duty", look.colours), &DUTIES, self.settings.duty, with))
    }

    fn steel_picks<'a>(
        &'a self,
        list: iced::widget::Column<'a, Message>,
        look: &Look<'a>,
    ) -> iced::widget::Column<'a, Message> {
        let list = self.hole_picks(self.steel_pick(list, look), look);
        let with = |it: u8| Settings { quarters: it, ..self.settings.clone() };
        let list = list.push(self.pick(("Turned", look.colours), &TURNS, self.settings.quarters, with));
        let mirrored = Settings { mirrored: !self.settings.mirrored, ..self.settings.clone() };
        list.push(tick("Mirrored", self.settings.mirrored, mirrored, look.colours))
    }

    fn wood_picks<'a>(
        &'a self,
        list: iced::widget::Column<'a, Message>,
        look: &Look<'a>,
    ) -> iced::widget::Column<'a, Message> {
        let colours = look.colours;
        let family = if let Kind::Stock(size) = &self.kind { Some(size.family) } else { None };
        let fits = |it: &&Arc<Material>| family.is_none_or(|family| it.family == family);
        let all: Vec<Choice> = look.stock.materials.values().filter(fits).cloned().map(Choice).collect();
        let now = self.settings.material(family, &look.kept.joint, look.stock).map(Choice);
        let settings = self.settings.clone();
        let picked = move |it: Choice| Message::Set(Settings { material: Some(it.0), ..settings.clone() });
        let mut list = list.push(parts::pick("Material", all, now, picked, colours));
        let grain = self.settings.grain.map(|it| match it {
            Grain::InPlane(_) => Grain::InPlane(0.0),
            Grain::AlongDepth | Grain::None => it,
        });
        let with = |it: Option<Grain>| Settings { grain: it, ..self.settings.clone() };
        list = list.push(self.pick(("Grain", colours), &GRAINS, grain, with));
        let with = |it: Treatment| Settings { treatment: it, ..self.settings.clone() };
        list = list.push(self.pick(("Treatment", colours), &TREATMENTS, self.settings.treatment, with));
        let bears = Settings { bearing: !self.settings.bearing, ..self.settings.clone() };
        list = list.push(tick("It bears", self.settings.bearing, bears, colours));
        let blocking = Settings { blocking: !self.settings.blocking, ..self.settings.clone() };
        list.push(tick("It is blocking", self.settings.blocking, blocking, colours))
    }

    fn pick<'a, T: Copy + PartialEq + 'a>(
        &self,
        (words, colours): (&'a str, &'static Colours),
        all: &'static [Named<T>],
        now: T,
        with: impl Fn(T) -> Settings,
    ) -> Element<'a, Message> {
        let chosen = all.iter().find(|it| it.it == now).copied();
        let each: Vec<(Named<T>, Settings)> = all.iter().map(|it| (*it, with(it.it))).collect();
        let picked = move |it: Named<T>| {
            let found = each.iter().find(|one| one.0.it == it.it);
            Message::Set(found.map_or_else(Settings::default, |it| it.1.clone()))
        };
        parts::pick(words, all.to_vec(), chosen, picked, colours)
    }
}

fn tick<'a>(
    words: impl text::IntoFragment<'a>,
    now: bool,
    then: Settings,
    colours: &'static Colours,
) -> Element<'a, Message> {
    checkbox(now)
        .label(words)
        .size(16.0)
        .text_size(text_px::BODY)
        .style(control::tick(colours))
        .on_toggle(move |_| Message::Set(then.clone()))
        .into()
}
