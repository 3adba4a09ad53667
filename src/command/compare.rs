//! `shankline compare`: choices side by side, as text for people or JSON for programs.

use std::path::PathBuf;

use super::chain::read;
use super::check::line;
use super::{End, print, print_json, tell};
use crate::findings::carry::compare::{Cell, Choice, Compared, compare};
use crate::findings::carry::{vary, written};
use crate::joint::Joint;
use crate::stock::Stock;
use crate::unit::LengthUnit;
use crate::unit::force::format as force;
use crate::unit::length::{Rounding, format as length};

const EXAMPLES: &str = "\
Examples:
  shankline compare ledger.joint.json --with \"all lag-screw/0.375x5\" --with \"gap 0\"
  shankline compare ledger.joint.json --with \"upper lag-screw/0.5x5; material rim lumber/southern-pine\"
  shankline compare hanger.joint.json --with \"angle n1 25\" --with \"standard en-1995-1-1\" --json
  shankline compare drawn.joint.json as-built.joint.json

TEXT names one change, or several with semicolons between:
";

/// Compare choices side by side
#[derive(clap::Args, Debug)]
#[command(after_help = format!("{EXAMPLES}{}", vary::GRAMMAR))]
pub(super) struct Call {
    /// Joint files; differences are to the first
    #[arg(required = true)]
    files: Vec<PathBuf>,
    /// A variant of the first file; may be given more than once
    #[arg(long, value_name = "TEXT")]
    with: Vec<String>,
    /// Print JSON for programs, lengths in millimetres and forces in newtons
    #[arg(long)]
    json: bool,
}

/// Compares all files and variants.
pub(super) fn run(call: &Call) -> End {
    match choices(call) {
        Err(why) => {
            tell(&format!("{why}\n"));
            End::Unusable
        }
        Ok(choices) => {
            let compared = compare(&choices);
            if call.json {
                return print_json(&crate::findings::carry::compare::print(&compared), End::Clean);
            }
            let unit = choices.first().map_or(LengthUnit::Millimetre, |it| it.1.show_lengths_in);
            print(&in_words(&compared, unit), End::Clean)
        }
    }
}

fn choices(call: &Call) -> Result<Vec<(String, Joint)>, String> {
    let stock = Stock::built_in();
    let mut choices = Vec::new();
    for path in &call.files {
        let joint = read(path, &stock).map_err(|problems| problems.join("\n"))?;
        let name = path
            .file_name()
            .map_or_else(|| path.display().to_string(), |it| it.to_string_lossy().into_owned());
        choices.push((name, joint));
    }
    for text in &call.with {
        let Some((_, first)) = choices.first() else { continue };
        let varied = vary::varied(first, text, &stock).map_err(|why| format!("--with {why}"))?;
        choices.push((text.clone(), varied));
    }
    if choices.len() < 2 {
        return Err("nothing to compare with: name a second file, or a variant by --with TEXT".to_owned());
    }
    Ok(choices)
}

/// A table for each fastener, a line for each choice.
fn in_words(compared: &Compared, unit: LengthUnit) -> String {
    let mut out = String::new();
    line(&mut out, "Choices:");
    for (number, it) in compared.choices.iter().enumerate() {
        let part = it
            .adjusted_part
            .filter(|_| 0 < number)
            .map_or_else(String::new, |it| format!(", {} of the first", written::significant(it)));
        let ratio = it
            .worst_ratio
            .map_or_else(String::new, |it| format!(", worst ratio {}", written::significant(it)));
        let carries = it
            .adjusted_n
            .map(|it| format!("its weakest connection carries {}", force(it, unit, Rounding::Down)))
            .into_iter()
            .chain(it.left_out())
            .collect::<Vec<_>>()
            .join(", ");
        line(
            &mut out,
            &format!(
                "  {}  {} ({}): {}; {carries}{part}{ratio}",
                letter(number),
                it.name,
                it.standard,
                verdict(it),
            ),
        );
    }
    for row in &compared.fasteners {
        line(&mut out, &format!("\n{}:", row.id));
        for (number, cell) in row.choices.iter().enumerate() {
            let text =
                cell.as_ref().map_or_else(|| "not in it".to_owned(), |it| cell_words(it, number, unit));
            line(&mut out, &format!("  {}  {text}", letter(number)));
        }
    }
    line(&mut out, "\nValues are for comparison, as drawn. Local code and a licensed designer decide.");
    out
}

/// `sound`, or how much there is against it.
fn verdict(it: &Choice) -> String {
    let count = |number: usize, what: &str| format!("{number} {what}{}", if number == 1 { "" } else { "s" });
    match (it.faults, it.cautions) {
        (0, 0) => "sound as drawn".to_owned(),
        (faults, cautions) => format!("{}, {}", count(faults, "fault"), count(cautions, "caution")),
    }
}

/// `A`, `B`, ... `Z`, then numbers.
fn letter(number: usize) -> String {
    let letter = u8::try_from(number).ok().filter(|it| *it < 26).map(|it| char::from(b'A' + it));
    letter.map_or_else(|| format!("{}", number + 1), |it| it.to_string())
}

fn cell_words(it: &Cell, number: usize, unit: LengthUnit) -> String {
    let down = |newtons| force(newtons, unit, Rounding::Down);
    let mut text = format!("{}: bite {}", it.label, length(it.bite_mm, unit, Rounding::Down));
    if let Some(more) = it.bite_more_mm.filter(|more| 0 < number && 1e-6 < more.abs()) {
        let way = if more < 0.0 { "less" } else { "more" };
        text += &format!(" ({} {way})", length(more.abs(), unit, Rounding::Nearest));
    }
    if 0.0 < it.gap_mm {
        text += &format!(", gap {}", length(it.gap_mm, unit, Rounding::Down));
    }
    match (&it.mode, it.reference_n, it.adjusted_n) {
        (Some(mode), Some(reference), Some(adjusted)) => {
            let modes: Vec<String> =
                it.modes.iter().map(|(name, newtons)| format!("{name} {}", down(*newtons))).collect();
            let double = if it.planes == 2 { ", both planes" } else { "" };
            text += &format!(
                "; modes {}; {mode} governs, reference {}, adjusted {}{double}",
                modes.join(", "),
                down(reference),
                down(adjusted)
            );
        }
        _ => text += &format!("; no value: {}", it.no_value.as_deref().unwrap_or("it joins nothing")),
    }
    if let Some(part) = it.adjusted_part.filter(|_| 0 < number) {
        text += &format!(", {} of the first", written::significant(part));
    }
    if let (Some(mode), Some(newtons)) = (&it.withdrawal_mode, it.withdrawal_n) {
        text += &format!("; {} along, {mode}", down(newtons));
    }
    if let Some(ratio) = it.ratio {
        text += &format!(", ratio {}", written::significant(ratio));
    }
    text
}
