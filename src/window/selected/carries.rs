//! What the chosen thing carries: values in the unit of the joint, what is asked of them, and the cautions.
//!
//! Everything shown here was worked out by [`crate::findings::carry`]; this file only sets it out.

use iced::widget::row;

use super::rows::{Rows, figure, head, press, rows, value};
use super::{Message, Pane, loads, rating};
use crate::drawing::Subject;
use crate::findings::carry::{
    AlongCarries, Carries, Carrying, Connection, EQUAL_SHARES, PlaneCarries, Shear, written,
};
use crate::joint::{Grain, StandardId};
use crate::standard::capacity::{Factor, Mode};
use crate::unit::force;
use crate::unit::length::{Rounding, format as length};
use crate::window::carries::{Told, left_out};
use crate::window::look::{Command, Look};
use crate::window::theme::{Element, gap, parts};
use crate::window::words;

pub(super) fn view<'a>(pane: &'a Pane, told: &'a Told, look: &Look<'a>) -> Element<'a, Message> {
    let mut list = rows();
    list = match look.chosen {
        Some(Subject::Fastener(id)) => of_fastener(list, id, told, look),
        Some(Subject::Member(id)) => {
            let list = loads::loads(list, pane, Some(id), look);
            let list = connections(list, told, look, |it| it.between.contains(id));
            splitting(list, told, look, Some(id))
        }
        Some(Subject::Connector(id) | Subject::Hole(id, _)) => of_connector(list, pane, id, told, look),
        Some(Subject::Dimension(_)) => list.push(parts::soft("A dimension carries nothing.", look.colours)),
        None => {
            let mut sums = rows().push(head("Connections", look.colours));
            sums = connections(sums, told, look, |_| true);
            sums = splitting(sums, told, look, None);
            for it in &told.carrying.ratings {
                sums = rating::told(sums, it, look);
            }
            let fields = loads::loads(rows().push(head("Loads", look.colours)), pane, None, look);
            // Each of the two keeps its place, however many rows the other has: a field that is typed in stays the one
            // that has the keyboard.
            list.push(sums).push(loads::conditions(fields, pane, look))
        }
    };
    list = list.push(buttons(look));
    not_counted(list, &told.carrying, look).into()
}

fn buttons<'a>(look: &Look<'a>) -> Element<'a, Message> {
    let colours = look.colours;
    row![press("Working", Command::Working, colours), press("Compare", Command::Compare, colours)]
        .spacing(gap::TIGHT)
        .into()
}

/// What is left out, and who decides: never far from a value.
fn not_counted<'a>(mut list: Rows<'a>, carrying: &'a Carrying, look: &Look<'a>) -> Rows<'a> {
    let colours = look.colours;
    list = list.push(head("Not counted, and who decides", colours));
    for it in &carrying.not_counted {
        list = list.push(parts::soft(it.as_str(), colours));
    }
    list.push(parts::soft(is_told(look.joint.standard), colours))
}

/// What the values are, and what they are not.
pub(crate) fn is_told(standard: StandardId) -> &'static str {
    match standard {
        StandardId::Nds2018 => {
            "Reference and adjusted values of NDS 2018, allowable stress design, as drawn. This designs nothing: \
             local code, the connector maker's instructions and a licensed designer decide."
        }
        StandardId::En199511 => {
            "Characteristic and design values of EN 1995-1-1, as drawn. This designs nothing: local code, the \
             connector maker's instructions and a licensed designer decide."
        }
    }
}

/// The words of the standard for a value before and after its factors.
fn value_words(standard: StandardId) -> [&'static str; 2] {
    match standard {
        StandardId::Nds2018 => ["Reference", "Adjusted"],
        StandardId::En199511 => ["Characteristic", "Design value"],
    }
}

fn of_fastener<'a>(mut list: Rows<'a>, id: &str, told: &'a Told, look: &Look<'a>) -> Rows<'a> {
    let colours = look.colours;
    let Some(carries) = told.carrying.fasteners.iter().find(|it| it.id == id) else { return list };
    for (number, plane) in carries.planes.iter().enumerate() {
        if number == 0 || plane.shear != Shear::HalfOfDouble {
            list = of_plane(list, plane, (&told.carrying, carries), look);
        }
    }
    if let Some(along) = &carries.along {
        list = of_axis(list, along, look);
    }
    if let Some(both) = &carries.combined {
        list = list.push(head("Demand over capacity", colours));
        list = list.push(ratio_row("All in all", both.ratio, look));
    }
    if !carries.cautions.is_empty() {
        list = list.push(head("Before it is believed", colours));
    }
    for it in &carries.cautions {
        list = list.push(parts::body(it.as_str(), colours));
    }
    list
}

fn of_plane<'a>(
    mut list: Rows<'a>,
    plane: &'a PlaneCarries,
    (carrying, carries): (&Carrying, &Carries),
    look: &Look<'a>,
) -> Rows<'a> {
    let (colours, unit) = (look.colours, look.unit());
    let names = [&plane.side, &plane.main].map(|it| look.joint.name_of(it));
    let shear = match plane.shear {
        Shear::Single => "",
        Shear::HalfOfDouble => ", each of two planes",
        Shear::OneOf(_) => ", each plane",
    };
    list = list.push(head(format!("Across, {} to {}{shear}", names[0], names[1]), colours));
    if 0.0 < plane.gap_mm {
        list = list.push(value("Gap between", length(plane.gap_mm, unit, Rounding::Down), colours));
    }
    match &plane.value {
        Err(why) => list = list.push(parts::body(format!("No value: {}.", why.because), colours)),
        Ok(it) => {
            let numbers = (it.mode, it.reference_n, it.adjusted_n);
            list = answer(list, (&it.modes, &it.factors), numbers, look);
        }
    }
    let Some(demand) = plane.demand_n else { return list };
    let mut below: Vec<String> =
        carries.case.and_then(|it| carrying.cases.get(it)).map(|it| it.name.clone()).into_iter().collect();
    if !plane.is_certain {
        below.push("the most that can cross here".to_owned());
    }
    for (id, deg) in [&plane.side, &plane.main].into_iter().zip(plane.to_grain_deg) {
        let of = look.joint.members.iter().find(|it| it.id == *id);
        if let Some(of) = of.filter(|it| it.grain != Grain::None) {
            below.push(format!("at {} to the grain of {}", words::degrees(deg), of.shown_name()));
        }
    }
    let asked = force::format(demand, unit, Rounding::Up);
    list = list.push(figure("Asked", (asked, colours.text), below, colours));
    match plane.ratio {
        Some(ratio) => list.push(ratio_row("Asked to carried", ratio, look)),
        None => list,
    }
}

fn of_axis<'a>(mut list: Rows<'a>, along: &'a AlongCarries, look: &Look<'a>) -> Rows<'a> {
    let (colours, unit) = (look.colours, look.unit());
    list = list.push(head("Along the shank", colours));
    match &along.value {
        Err(why) => list = list.push(parts::body(format!("No value: {}.", why.because), colours)),
        Ok(it) => {
            if 0.0 < it.length_mm {
                let per = match unit {
                    crate::unit::LengthUnit::Inch => {
                        let inch = crate::unit::length::MM_PER_INCH;
                        format!(
                            "{} for each inch",
                            force::format(it.reference_n_per_mm * inch, unit, Rounding::Down)
                        )
                    }
                    crate::unit::LengthUnit::Millimetre => {
                        format!("{} N for each mm", written::significant(it.reference_n_per_mm))
                    }
                };
                let counts = length(it.length_mm, unit, Rounding::Down);
                list = list.push(figure("Length that counts", (counts, colours.text), vec![per], colours));
            }
            let numbers = (it.mode, it.reference_n, it.adjusted_n);
            list = answer(list, (&it.modes, &it.factors), numbers, look);
        }
    }
    if let Some(demand) = along.demand_n.filter(|it| 0.0 < *it) {
        let asked = force::format(demand, unit, Rounding::Up);
        list = list.push(figure("Pulled by", (asked, colours.text), Vec::new(), colours));
        if let Some(ratio) = along.ratio {
            list = list.push(ratio_row("Pulled to carried", ratio, look));
        }
    }
    list
}

/// Mode, value, factors, and what is left of it.
fn answer<'a>(
    list: Rows<'a>,
    (modes, factors): (&[Mode], &[Factor]),
    (mode, reference_n, adjusted_n): (&str, f64, f64),
    look: &Look<'a>,
) -> Rows<'a> {
    let (colours, unit) = (look.colours, look.unit());
    let down = |newtons| force::format(newtons, unit, Rounding::Down);
    let [reference, adjusted] = value_words(look.joint.standard);
    let others: Vec<String> = modes.iter().map(|it| format!("{} {}", it.name, down(it.newtons))).collect();
    list.push(figure("Mode that governs", (mode.to_owned(), colours.text), vec![others.join(", ")], colours))
        .push(figure(reference, (down(reference_n), colours.text), Vec::new(), colours))
        .push(figure(adjusted, (down(adjusted_n), colours.text), told_factors(factors), colours))
}

/// What takes off or adds, with its reason; the rest in one line.
fn told_factors(factors: &[Factor]) -> Vec<String> {
    let is_one = |it: &&Factor| (it.value - 1.0).abs() < 1e-12;
    let mut lines: Vec<String> = factors
        .iter()
        .filter(|it| !is_one(it))
        .map(|it| format!("{} = {}: {}", it.symbol, written::significant(it.value), it.because))
        .collect();
    let ones: Vec<&str> = factors.iter().filter(is_one).map(|it| it.symbol).collect();
    if !ones.is_empty() {
        lines.push(format!("{} = 1; the working says why", ones.join(", ")));
    }
    lines
}

/// A ratio, rounded up, with how it stands by a word and not by its colour alone.
fn ratio_row<'a>(label: &'static str, ratio: f64, look: &Look<'a>) -> Element<'a, Message> {
    let colours = look.colours;
    let (word, colour) = if ratio <= 1.0 + 1e-9 {
        ("at most 1, as drawn", colours.accent)
    } else {
        ("more is asked than there is", colours.fault)
    };
    let shown = written::significant((ratio * 1000.0 - 1e-6).ceil() / 1000.0);
    figure(label, (shown, colour), vec![word.to_owned()], colours)
}

fn connections<'a>(
    mut list: Rows<'a>,
    told: &'a Told,
    look: &Look<'a>,
    is_wanted: impl Fn(&Connection) -> bool,
) -> Rows<'a> {
    let colours = look.colours;
    if told.is_left_out {
        return list.push(parts::soft(left_out(look.joint), colours));
    }
    let mut wanted = told.carrying.connections.iter().filter(|it| is_wanted(it)).peekable();
    if wanted.peek().is_none() {
        return list.push(parts::soft("No fastener joins it to anything.", colours));
    }
    for it in wanted {
        list = connection(list, it, look);
    }
    list
}

fn connection<'a>(mut list: Rows<'a>, it: &'a Connection, look: &Look<'a>) -> Rows<'a> {
    let (colours, unit) = (look.colours, look.unit());
    let names = [&it.between[0], &it.between[1]].map(|it| look.joint.name_of(it));
    let carries = match it.has_value() {
        true => force::format(it.adjusted_n, unit, Rounding::Down),
        false => "no value".to_owned(),
    };
    let label = format!("{} to {}", names[0], names[1]);
    list = list.push(figure(
        label,
        (carries, colours.text),
        vec![format!("across, by {}", it.of_how_many())],
        colours,
    ));
    let shown = |newtons: f64| (force::format(newtons, unit, Rounding::Up), colours.text);
    if let Some((demand, ratio)) = it.asked_across() {
        list = list.push(figure("Asked", shown(demand), Vec::new(), colours));
        if let Some(ratio) = ratio {
            list = list.push(ratio_row("Asked to carried", ratio, look));
        }
    }
    if let Some(pull) = it.pulled() {
        list = list.push(figure("Pulled by", shown(pull), vec!["along its fasteners".to_owned()], colours));
    }
    if let Some(worst) = it.worst_ratio.filter(|worst| it.ratio.is_none_or(|it| it + 1e-9 < *worst)) {
        list = list.push(ratio_row("The worst fastener", worst, look));
    }
    // What holds for every connection is told once, below.
    for says in it.not_counted.iter().filter(|it| it.as_str() != EQUAL_SHARES) {
        list = list.push(parts::soft(says.as_str(), colours));
    }
    list
}

/// Members that are pushed across their grain.
fn splitting<'a>(mut list: Rows<'a>, told: &'a Told, look: &Look<'a>, only: Option<&str>) -> Rows<'a> {
    let (colours, unit) = (look.colours, look.unit());
    for it in told.carrying.splits.iter().filter(|it| only.is_none_or(|only| it.member == only)) {
        let label = format!("{} splits at", look.joint.name_of(&it.member));
        match &it.value {
            Err(why) => {
                list = list.push(parts::soft(format!("{label}: no value, {}.", why.because), colours));
            }
            Ok(value) => {
                let carries = force::format(value.adjusted_n, unit, Rounding::Down);
                let sheared = force::format(it.demand_n, unit, Rounding::Up);
                let below = vec![format!("sheared across its grain by at most {sheared}")];
                list = list.push(figure(label, (carries, colours.text), below, colours));
                if let Some(ratio) = it.ratio {
                    list = list.push(ratio_row("At most asked to carried", ratio, look));
                }
            }
        }
    }
    list
}

fn of_connector<'a>(
    mut list: Rows<'a>,
    pane: &'a Pane,
    id: &str,
    told: &'a Told,
    look: &Look<'a>,
) -> Rows<'a> {
    let Some(at) = look.joint.connectors.iter().position(|it| it.id == id) else { return list };
    for it in told.carrying.ratings.iter().filter(|it| it.connector == id) {
        list = rating::told(list, it, look);
    }
    list = rating::fields(list, pane, at, look);
    let owner = id.to_owned();
    connections(list.push(head("Connections", look.colours)), told, look, |it| it.between.contains(&owner))
}
