//! Fasteners of stock by kind and size: one press swaps the chosen one, or drives a new one.

use std::collections::BTreeMap;
use std::sync::Arc;

use iced::widget::{button, checkbox, column, container, row, text, tooltip};
use iced::{Alignment, Length};

use super::list::table_head;
use super::{Message, Pane, SIZE_NOW};
use crate::findings::Verdict;
use crate::sketch::drive::choose::{Choice, choices};
use crate::sketch::drive::swap::{Whose, meant, swap as exchange};
use crate::stock::{FastenerKind, FastenerSpec, Stock};
use crate::window::look::{Action, Look};
use crate::window::making::Kind;
use crate::window::theme::{Colours, Element, control, gap, parts, reach, text_px};
use crate::window::top::Named;
use crate::window::words;

/// How new fasteners are driven.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum How {
    /// One, by a press and a drag.
    #[default]
    One,
    /// Several, in rows.
    Rows,
    /// Away from the viewer.
    HeadOn,
    /// At a slope, by rule.
    Toe,
}

/// Every way to drive, by its name.
pub(in crate::window) const HOWS: [Named<How>; 4] = [
    Named { it: How::One, name: "Drive one" },
    Named { it: How::Rows, name: "Drive a row or grid" },
    Named { it: How::HeadOn, name: "Drive away from you" },
    Named { it: How::Toe, name: "Toe-nail by rule" },
];

impl How {
    /// What is asked of the window to drive this one so.
    pub(in crate::window) fn drives(self, spec: Arc<FastenerSpec>) -> Action {
        match self {
            Self::One => Action::Drive(Some(spec)),
            Self::Rows => Action::Make(Some(Kind::Row(spec))),
            Self::HeadOn => Action::Make(Some(Kind::HeadOn(spec))),
            Self::Toe => Action::Make(Some(Kind::Toe(spec))),
        }
    }
}

/// The list.
pub(super) fn list<'a>(pane: &'a Pane, look: &Look<'a>) -> iced::widget::Column<'a, Message> {
    let colours = look.colours;
    let does = match look.chosen_fastener() {
        Some(at) => format!("Swap fastener {} for", at + 1),
        None => "Press a size, then the joint.".to_owned(),
    };
    let now = HOWS.iter().find(|it| it.it == pane.how).copied();
    let hows = parts::picker(HOWS, now, |it| Message::HowPicked(it.it), |it| it.width(Length::Fill), colours);
    let mut list = column![hows, parts::soft(does, colours)].spacing(1.0);
    if look.chosen_fastener().is_some() {
        let alike = checkbox(pane.alike)
            .label("and all that are alike")
            .size(14.0)
            .text_size(text_px::SMALL)
            .style(control::tick(colours))
            .on_toggle(|_| Message::AlikeToggled);
        list = list.push(alike);
    }
    for (table, specs) in tables(look.stock) {
        let open = pane.open.as_ref() == Some(&table);
        let name = table_words(&table, specs[0].kind);
        list = list.push(table_head(table, name, open, colours));
        if open {
            for spec in specs {
                list = list.push(size_line(spec, &pane.told, look));
            }
        }
    }
    list
}

/// The words over a table of sizes.
fn table_words(table: &str, kind: FastenerKind) -> String {
    let more = table.split('/').skip(1).collect::<Vec<_>>().join(" ");
    match more.as_str() {
        "" => kind_words(kind).to_owned(),
        more => format!("{}, {more}", kind_words(kind)),
    }
}

/// How the sizes of a table would do, and what they were judged for.
#[derive(Clone, Debug, Default, PartialEq)]
pub(super) struct Told {
    of: Option<(u64, Vec<usize>, String)>,
    choices: Vec<Choice>,
}

/// Judges the sizes of a table in the place of the chosen fasteners; each time only for another joint, choice or
/// table.
pub(super) fn judge(told: &mut Told, open: Option<&str>, version: u64, look: &Look<'_>) {
    let group = look.chosen_group().fasteners;
    let wanted = open.filter(|_| !group.is_empty()).map(|it| (version, group, it.to_owned()));
    if told.of == wanted {
        return;
    }
    told.choices = match &wanted {
        Some((_, group, table)) => {
            let chain = (&look.kept.joint, &*look.kept.trace);
            let specs = tables(look.stock).into_iter().find(|it| it.0 == *table).map(|it| it.1);
            choices(chain, group, specs.unwrap_or_default(), look.stock)
        }
        None => Vec::new(),
    };
    told.of = wanted;
}

/// The step that makes the chosen fasteners, or all that are alike, ones of this kind and size; `None` when no
/// fastener is chosen.
pub(in crate::window) fn swap(spec: &Arc<FastenerSpec>, alike: bool, look: &Look<'_>) -> Option<Action> {
    let at = look.chosen_fastener()?;
    let joint = &look.kept.joint;
    let id = joint.fasteners.get(at)?.id.clone();
    let group = look.chosen_group().fasteners;
    let these: Vec<String> =
        group.iter().filter_map(|it| joint.fasteners.get(*it)).map(|it| it.id.clone()).collect();
    let whose = if alike { Whose::AlikeTo(&id) } else { Whose::These(&these) };
    Some(exchanged(at, whose, spec, look))
}

/// The step that makes a fastener, and those that are chosen with it and are alike, ones of this kind and size.
pub(in crate::window) fn swap_those_like(at: usize, spec: &Arc<FastenerSpec>, look: &Look<'_>) -> Action {
    let all = &look.kept.joint.fasteners;
    let Some(old) = all.get(at) else { return Action::None };
    let group = look.chosen_group().fasteners;
    let alike = group.iter().filter_map(|it| all.get(*it)).filter(|it| it.spec == old.spec);
    let these: Vec<String> = alike.map(|it| it.id.clone()).collect();
    exchanged(at, Whose::These(&these), spec, look)
}

fn exchanged(at: usize, whose: Whose<'_>, spec: &Arc<FastenerSpec>, look: &Look<'_>) -> Action {
    let joint = &look.kept.joint;
    let count = meant(joint, whose).len();
    let what = if count == 1 { format!("fastener {}", at + 1) } else { format!("{count} fasteners") };
    match exchange(joint, whose, spec, look.stock) {
        Ok(edit) => Action::Keep(format!("Make {what} a {}", spec.label), edit),
        Err(why) => Action::Say(why.to_string()),
    }
}

/// The fasteners of stock by table: the entry's name without its size.
fn tables(stock: &Stock) -> Vec<(String, Vec<&Arc<FastenerSpec>>)> {
    let mut tables: BTreeMap<(FastenerKind, &str), Vec<&Arc<FastenerSpec>>> = BTreeMap::new();
    for (id, spec) in &stock.fasteners {
        let table = id.rsplit_once('/').map_or(id.as_str(), |it| it.0);
        tables.entry((spec.kind, table)).or_default().push(spec);
    }
    let mut all: Vec<_> = tables.into_iter().map(|(key, specs)| (key.1.to_owned(), specs)).collect();
    for (_, specs) in &mut all {
        specs.sort_by(|a, b| {
            a.diameter_mm.total_cmp(&b.diameter_mm).then(a.length_mm.total_cmp(&b.length_mm))
        });
    }
    all
}

/// The sizes of the table that a fastener stands in, in the order of the list.
#[must_use]
pub fn same_table<'a>(stock: &'a Stock, spec: &FastenerSpec) -> Vec<&'a Arc<FastenerSpec>> {
    let table = spec.id.rsplit_once('/').map_or(spec.id.as_str(), |it| it.0).to_owned();
    tables(stock).into_iter().find(|it| it.0 == table).map(|it| it.1).unwrap_or_default()
}

/// The kind in words for people.
#[must_use]
pub fn kind_words(kind: FastenerKind) -> &'static str {
    match kind {
        FastenerKind::Nail => "Nail",
        FastenerKind::WoodScrew => "Wood screw",
        FastenerKind::LagScrew => "Lag screw",
        FastenerKind::Bolt => "Bolt",
        FastenerKind::ThreadedRod => "Threaded rod",
        FastenerKind::MasonryScrew => "Masonry screw",
    }
}

/// Whether a size would be sound here, by a word and by what would be told first.
fn verdict<'a>(choice: &'a Choice, colours: &'static Colours) -> Element<'a, Message> {
    let (word, colour) = match choice.verdict {
        Verdict::Faults => ("fault", colours.fault),
        Verdict::Cautions => ("caution", colours.caution),
        Verdict::Sound => ("no fault as drawn", colours.quiet),
    };
    let says = choice.says.as_deref().map_or(String::new(), |it| format!(": {it}"));
    text(words::unbroken(&format!("{word}{says}"))).size(text_px::SMALL).style(control::words(colour)).into()
}

fn size_line<'a>(spec: &'a Arc<FastenerSpec>, told: &'a Told, look: &Look<'a>) -> Element<'a, Message> {
    let colours = look.colours;
    let now = look.chosen_fastener().is_some_and(|at| look.joint.fasteners[at].spec == *spec);
    let driven = look.driving == Some(spec);
    let mut line = column![text(words::unbroken(&spec.label)).size(text_px::BODY)];
    if let Some(choice) = told.choices.iter().find(|it| it.spec == *spec) {
        line = line.push(verdict(choice, colours));
    }
    if !spec.label.contains(&words::size(spec.length_mm, look.unit())) {
        line = line.push(parts::soft(words::measures(spec, look.unit()), colours));
    }
    let tip = container(parts::soft("Drive a new one", colours)).padding(gap::CONTROL);
    let plus = button(text("+").size(text_px::BODY).center())
        .width(26.0)
        .padding(gap::LINE)
        .style(control::line_button(colours, driven))
        .on_press(Message::NewPressed(spec.clone()));
    let size = Message::SizePressed(spec.clone());
    let line = button(line)
        .width(Length::Fill)
        .padding(gap::LINE)
        .style(control::line_button(colours, now))
        .on_press(size.clone());
    let plus = reach(plus, Some(Message::NewPressed(spec.clone())), colours.accent);
    let line = row![
        reach(line, Some(size), colours.accent),
        tooltip(plus, tip.style(control::card(colours, false)), tooltip::Position::Right),
    ]
    .align_y(Alignment::Center);
    if now { container(line).id(iced::widget::Id::new(SIZE_NOW)).into() } else { line.into() }
}
