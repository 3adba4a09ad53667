//! What every fastener carries, and how that came about, as text.

use super::check::line;
use crate::findings::carry::{Carries, Carrying, Detail, Shear, carry, stated, written};
use crate::joint::{Joint, StandardId};
use crate::trace::Trace;
use crate::unit::force::format as force;
use crate::unit::length::Rounding;

/// Says what each fastener carries, and each connection in all.
pub(super) fn say(out: &mut String, joint: &Joint, trace: &Trace, working: bool) {
    if joint.fasteners.is_empty() {
        return;
    }
    let detail = if working { Detail::Working } else { Detail::Values };
    let carrying = carry(joint, trace, detail);
    line(out, &format!("\nCarries, by published formulas ({}):", what_is_told(joint.standard)));
    if working {
        for it in stated::rows(joint) {
            line(out, &format!("  {}", it.text()));
        }
    }
    let wide = joint.fasteners.iter().map(|it| it.id.chars().count()).max().unwrap_or(0);
    for (number, it) in carrying.fasteners.iter().enumerate() {
        line(out, &format!("{:>4}  {:wide$}  {}", number + 1, it.id, in_words(joint, &carrying, it)));
        if working {
            for step in written::lines(it, joint) {
                line(out, &format!("{:>4}  {:wide$}    {step}", "", ""));
            }
        }
    }
    say_connections(out, joint, &carrying);
    if working {
        let sums = carrying.connections.iter().flat_map(|it| written::sum_rows(&carrying, it, joint));
        for it in sums.chain(carrying.splits.iter().flat_map(|it| written::split_rows(it, joint))) {
            line(out, &format!("    {}", it.text()));
        }
    }
    say_cautions(out, &carrying);
    for it in &carrying.not_counted {
        line(out, &format!("  {it}"));
    }
}

/// What to look at before a value is believed: each sentence once, with the numbers of its fasteners.
fn say_cautions(out: &mut String, carrying: &Carrying) {
    let mut told: Vec<(&str, Vec<usize>)> = Vec::new();
    for (number, it) in carrying.fasteners.iter().enumerate().filter(|it| !it.1.planes.is_empty()) {
        for says in &it.cautions {
            written::note(&mut told, says, number + 1);
        }
    }
    for (says, numbers) in told {
        line(out, &format!("  Caution, No. {}: {says}", written::runs(&numbers)));
    }
}

fn what_is_told(standard: StandardId) -> &'static str {
    match standard {
        StandardId::Nds2018 => "NDS 2018, adjusted values for allowable stress design",
        StandardId::En199511 => "EN 1995-1-1, design values",
    }
}

fn in_words(joint: &Joint, carrying: &Carrying, it: &Carries) -> String {
    let unit = joint.show_lengths_in;
    let down = |newtons| force(newtons, unit, Rounding::Down);
    let Some(plane) = it.governing() else {
        return it.cautions.first().cloned().unwrap_or_default();
    };
    let mut text = format!("{} to {}", joint.name_of(&plane.side), joint.name_of(&plane.main));
    match &plane.value {
        Ok(value) => {
            let shear = match plane.shear {
                Shear::Single => "",
                Shear::HalfOfDouble => ", each of two planes",
                Shear::OneOf(_) => ", each plane",
            };
            text += &format!(": {} across, mode {}{shear}", down(value.adjusted_n), value.mode);
        }
        Err(why) => text += &format!(": no value, {}", why.because),
    }
    match it.along.as_ref().map(|it| &it.value) {
        Some(Ok(value)) => text += &format!("; {} along, {}", down(value.adjusted_n), value.mode),
        Some(Err(why)) => text += &format!("; along no value, {}", why.because),
        None => {}
    }
    if let (Some(demand), Some(case)) = (it.demand_n(), it.case) {
        text += &format!("; {} by {}", force(demand, unit, Rounding::Up), carrying.cases[case].name);
        if let Some(combined) = &it.combined {
            text += &format!(", ratio {}", written::significant((combined.ratio * 1000.0).ceil() / 1000.0));
        }
    }
    text
}

fn say_connections(out: &mut String, joint: &Joint, carrying: &Carrying) {
    let unit = joint.show_lengths_in;
    for it in &carrying.connections {
        let mut asked = it.asked_across().map_or_else(String::new, |(demand, ratio)| {
            let ratio = ratio.map_or_else(String::new, |it| format!(", ratio {}", written::significant(it)));
            format!("; {} asked{ratio}", force(demand, unit, Rounding::Up))
        });
        if let Some(pull) = it.pulled() {
            let worst = it
                .worst_ratio
                .map_or_else(String::new, |it| format!(", worst ratio {}", written::significant(it)));
            asked += &format!("; pulled by {}{worst}", force(pull, unit, Rounding::Up));
        }
        let by = it.of_how_many();
        let [from, to] = [&it.between[0], &it.between[1]].map(|it| joint.name_of(it));
        let carried = if it.has_value() {
            format!("{} by {by}", force(it.adjusted_n, unit, Rounding::Down))
        } else {
            format!("no value that could be counted, {by}")
        };
        line(out, &format!("  {from} to {to}: {carried}{asked}"));
    }
    for it in &carrying.splits {
        let value = match &it.value {
            Ok(value) => force(value.adjusted_n, unit, Rounding::Down),
            Err(why) => format!("no value, {}", why.because),
        };
        let ratio =
            it.ratio.map_or_else(String::new, |it| format!(", ratio at most {}", written::significant(it)));
        let sheared = force(it.demand_n, unit, Rounding::Up);
        line(
            out,
            &format!(
                "  {} splits at: {value}; sheared by at most {sheared}{ratio}",
                joint.name_of(&it.member)
            ),
        );
    }
    for it in &carrying.ratings {
        let holds = if it.differs.is_empty() {
            "the fastening as drawn is the one that it presumes"
        } else {
            "the fastening as drawn is not the one that it presumes"
        };
        line(
            out,
            &format!(
                "  Rating of the {} as typed, {}: {holds}.",
                it.connector,
                force(it.newtons, unit, Rounding::Down)
            ),
        );
    }
}
