//! The choices as a table of words: what is compared in rows, a column for each choice.

use super::Variant;
use crate::findings::carry::compare::{Cell, Choice, Compared, compare, compare_one};
use crate::findings::carry::{vary, written};
use crate::joint::Joint;
use crate::unit::force;
use crate::unit::length::{Rounding, format as length};
use crate::window::look::Look;

/// Choices side by side, in words.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Table {
    /// The joint as drawn first.
    pub columns: Vec<Column>,
    /// What is compared.
    pub rows: Vec<Row>,
}

/// One choice.
#[derive(Clone, Debug, PartialEq)]
pub struct Column {
    /// What it is called.
    pub name: String,
    /// Why it cannot be made of the joint as it is now.
    pub refused: Option<String>,
}

/// One thing that is compared.
#[derive(Clone, Debug, PartialEq)]
pub struct Row {
    /// What it is.
    pub what: String,
    /// A value for each choice.
    pub cells: Vec<Value>,
}

/// One value.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Value {
    /// The value.
    pub says: String,
    /// How it differs from that of the first; empty where it does not.
    pub differs: String,
    /// Its row is one that decides.
    pub is_main: bool,
}

/// What stands where there is no value.
const NONE: &str = "\u{2013}";

impl Table {
    /// The joint as drawn, and every choice beside it.
    pub(super) fn of(list: &[Variant], look: &Look<'_>) -> Self {
        let mut columns = vec![Column { name: "as drawn".to_owned(), refused: None }];
        let mut made: Vec<(String, Joint)> = vec![("as drawn".to_owned(), look.joint.clone())];
        // For each column its place among those that could be made.
        let mut places = vec![Some(0)];
        for it in list {
            let name = it.name(look);
            match vary::varied(look.joint, &it.text(look), look.stock) {
                Ok(joint) => {
                    places.push(Some(made.len()));
                    made.push((name.clone(), joint));
                    columns.push(Column { name, refused: None });
                }
                Err(why) => {
                    places.push(None);
                    columns.push(Column { name, refused: Some(why) });
                }
            }
        }
        let id = look.chosen_fastener().and_then(|at| look.joint.fasteners.get(at)).map(|it| it.id.as_str());
        let compared = id.map_or_else(|| compare(&made), |id| compare_one(&made, id));
        let mut rows = of_fastener(id, &compared, look);
        rows.extend(of_joint(id.is_none(), &compared, look));
        for row in &mut rows {
            let cells = std::mem::take(&mut row.cells);
            row.cells = places
                .iter()
                .map(|at| at.and_then(|at| cells.get(at)).cloned().unwrap_or_default())
                .collect();
        }
        Self { columns, rows }
    }

    /// The table as text, with tabs between its columns, as programs for tables read it.
    pub(super) fn lines(&self) -> Vec<String> {
        let names: Vec<&str> = self.columns.iter().map(|it| it.name.as_str()).collect();
        let mut lines = vec![format!("\t{}", names.join("\t"))];
        for row in &self.rows {
            let cell = |it: &Value| {
                if it.differs.is_empty() { it.says.clone() } else { format!("{} ({})", it.says, it.differs) }
            };
            let cells: Vec<String> = row.cells.iter().map(cell).collect();
            lines.push(format!("{}\t{}", row.what, cells.join("\t")));
        }
        let refused = self.columns.iter().filter_map(|it| Some((it, it.refused.as_ref()?)));
        lines.extend(refused.map(|(it, why)| format!("{}: {why}", it.name)));
        lines
    }
}

fn row(what: impl Into<String>, is_main: bool, cells: Vec<(String, String)>) -> Row {
    let cells = cells.into_iter().map(|(says, differs)| Value { says, differs, is_main }).collect();
    Row { what: what.into(), cells }
}

/// The rows of one fastener; none where no fastener is chosen.
fn of_fastener(id: Option<&str>, compared: &Compared, look: &Look<'_>) -> Vec<Row> {
    let Some(found) = id.and_then(|id| compared.fasteners.iter().find(|it| it.id == id)) else {
        return Vec::new();
    };
    let unit = look.unit();
    let down = |newtons: f64| force::format(newtons, unit, Rounding::Down);
    let cells = |tell: &dyn Fn(&Cell) -> (String, String)| -> Vec<(String, String)> {
        let none = || (NONE.to_owned(), String::new());
        found.choices.iter().map(|it| it.as_ref().map_or_else(none, tell)).collect()
    };
    let plain = |it: String| (it, String::new());
    let mut rows = vec![
        row("Fastener", false, cells(&|it| plain(it.label.clone()))),
        row(
            "Bite",
            false,
            cells(&|it| {
                let more = it.bite_more_mm.filter(|it| 1e-6 < it.abs()).map_or_else(String::new, |more| {
                    let way = if more < 0.0 { "less" } else { "more" };
                    format!("{} {way}", length(more.abs(), unit, Rounding::Nearest))
                });
                (length(it.bite_mm, unit, Rounding::Down), more)
            }),
        ),
        row(
            "Gap",
            false,
            cells(&|it| {
                plain(if 0.0 < it.gap_mm { length(it.gap_mm, unit, Rounding::Down) } else { "none".into() })
            }),
        ),
    ];
    rows.extend(of_modes(&found.choices, down));
    rows.push(row("Mode that governs", false, cells(&|it| plain(governs(it)))));
    let value = |it: Option<f64>| it.map_or_else(|| NONE.to_owned(), down);
    rows.push(row("Reference", false, cells(&|it| plain(value(it.reference_n)))));
    rows.push(row("Adjusted", true, cells(&|it| (value(it.adjusted_n), percent(it.adjusted_part)))));
    rows.push(row(
        "Along the shank",
        false,
        cells(&|it| {
            let mode = it.withdrawal_mode.as_ref().map_or_else(String::new, |it| format!(", {it}"));
            (format!("{}{mode}", value(it.withdrawal_n)), percent(it.withdrawal_part))
        }),
    ));
    rows.push(row("Demand over capacity", true, cells(&|it| plain(ratio(it.ratio)))));
    rows
}

/// A row for each mode of any of the choices: the standards name theirs differently.
fn of_modes(choices: &[Option<Cell>], tell: impl Fn(f64) -> String) -> Vec<Row> {
    let mut names: Vec<&str> = Vec::new();
    for name in choices.iter().flatten().flat_map(|it| &it.modes).map(|it| it.0.as_str()) {
        if !names.contains(&name) {
            names.push(name);
        }
    }
    let one = |name: &&str| {
        let of = |it: &Cell| it.modes.iter().find(|it| it.0 == **name).map(|it| tell(it.1));
        let says = |it: &Option<Cell>| it.as_ref().and_then(of).unwrap_or_else(|| NONE.to_owned());
        let cells = choices.iter().map(|it| (says(it), String::new())).collect();
        row(format!("Mode {name}"), false, cells)
    };
    names.iter().map(one).collect()
}

fn governs(it: &Cell) -> String {
    match (&it.mode, &it.no_value) {
        (Some(mode), _) if it.planes == 2 => format!("{mode}, both planes"),
        (Some(mode), _) => mode.clone(),
        (None, Some(why)) => format!("no value: {why}"),
        (None, None) => NONE.to_owned(),
    }
}

/// The rows of the choices as a whole; the sum only where no fastener is chosen.
fn of_joint(with_sum: bool, compared: &Compared, look: &Look<'_>) -> Vec<Row> {
    let cells = |tell: &dyn Fn(&Choice) -> (String, String)| compared.choices.iter().map(tell).collect();
    let plain = |it: String| (it, String::new());
    let mut rows = Vec::new();
    if with_sum {
        let down = |newtons: f64| force::format(newtons, look.unit(), Rounding::Down);
        rows.push(row(
            "Weakest connection, across",
            true,
            cells(&|it| (sum(it, down), percent(it.adjusted_part))),
        ));
        rows.push(row(
            "Worst demand over capacity",
            true,
            cells(&|it| plain(it.left_out().unwrap_or_else(|| ratio(it.worst_ratio)))),
        ));
    }
    let standard = |it: &Choice| if it.standard == "nds-2018" { "NDS 2018" } else { "EN 1995-1-1" };
    rows.push(row("By", false, cells(&|it| plain(standard(it).to_owned()))));
    rows.push(row("Findings in the joint", false, cells(&|it| plain(findings(it)))));
    rows
}

/// The sum of the fasteners of the weakest connection that have a value, with how many of all have none.
fn sum(it: &Choice, tell: impl Fn(f64) -> String) -> String {
    let parts: Vec<String> = it.adjusted_n.map(tell).into_iter().chain(it.left_out()).collect();
    parts.join(", ")
}

fn findings(it: &Choice) -> String {
    let count = crate::window::words::count;
    match (it.faults, it.cautions) {
        (0, 0) => "none".to_owned(),
        (faults, 0) => count(faults, "fault"),
        (0, cautions) => count(cautions, "caution"),
        (faults, cautions) => format!("{}, {}", count(faults, "fault"), count(cautions, "caution")),
    }
}

fn ratio(it: Option<f64>) -> String {
    it.map_or_else(|| NONE.to_owned(), |it| written::significant((it * 1000.0 - 1e-6).ceil() / 1000.0))
}

/// How much more or less than the first, in percent, rounded towards less.
fn percent(part: Option<f64>) -> String {
    let Some(more) = part.map(|it| ((it - 1.0) * 100.0 + 1e-9).floor()) else { return String::new() };
    match more {
        it if it < 0.0 => format!("{} % less", -it),
        it if 0.0 < it => format!("{it} % more"),
        _ => String::new(),
    }
}
