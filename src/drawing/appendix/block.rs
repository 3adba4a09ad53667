//! The working as blocks of lines for one column. A block stays together unless it is higher than a column.

use kurbo::Point;

use crate::drawing::pen::Words;
use crate::drawing::text::{CAPITAL, Lettering};
use crate::drawing::{Ink, Inputs, Item, Layer, Mood};
use crate::findings::carry::{Carries, Carrying, Detail, carry};
use crate::findings::carry::{stated, written};
use crate::joint::Joint;

/// Words of formulas and values: a capital of 2 mm, so that a joint takes few pages.
const PLAIN_MM: f64 = 2.0 / CAPITAL;
/// Leading of ordinary words.
const LINE_MM: f64 = 3.7;
/// Room below a title without which it would end a column.
pub(super) const LEAST_BELOW_MM: f64 = 3.0 * LINE_MM;
/// Words that stand back: a capital of 1.8 mm, the least of ISO 3098-1.
const SMALL_MM: f64 = 1.8 / CAPITAL;
const SMALL_LINE_MM: f64 = 3.3;
/// From the top of a line to its base.
const BASE_MM: f64 = 2.4;
/// What belongs to a value is set in below it.
const INDENT_MM: f64 = 4.0;
/// Paper below a block.
const BELOW_MM: f64 = 1.0;
/// Bold letters are wider than those that lines are broken by, by less than this part.
const BOLD_PART: f64 = 1.08;

/// One line of a block.
#[derive(Clone, Debug)]
struct Set {
    /// What stands in it, each from its place on the line.
    words: Vec<(f64, Words)>,
    height_mm: f64,
}

/// Lines that belong together.
#[derive(Clone, Debug)]
pub(super) struct Block {
    lines: Vec<Set>,
    /// With the paper below it.
    pub(super) height_mm: f64,
    pub(super) is_title: bool,
}

impl Block {
    fn new(lines: Vec<Set>, is_title: bool) -> Self {
        let height_mm = lines.iter().map(|it| it.height_mm).sum::<f64>() + BELOW_MM;
        Self { lines, height_mm, is_title }
    }

    /// The block, or several where it is higher than a column.
    pub(super) fn no_higher_than(self, height_mm: f64) -> Vec<Self> {
        if self.height_mm <= height_mm {
            return vec![self];
        }
        let is_title = self.is_title;
        let mut parts: Vec<Vec<Set>> = vec![Vec::new()];
        let mut used = BELOW_MM;
        for line in self.lines {
            if height_mm < used + line.height_mm && parts.last().is_some_and(|it| !it.is_empty()) {
                parts.push(Vec::new());
                used = BELOW_MM;
            }
            used += line.height_mm;
            if let Some(part) = parts.last_mut() {
                part.push(line);
            }
        }
        parts.into_iter().map(|it| Self::new(it, is_title)).collect()
    }

    /// Its items, from its upper left corner.
    pub(super) fn draw(&self, at: Point) -> Vec<Item> {
        let mut items = Vec::new();
        let mut top = at.y;
        for line in &self.lines {
            let base = top + BASE_MM;
            for (right, words) in &line.words {
                items.push(words.clone().at(Layer::Notes, None, Point::new(at.x + right, base)));
            }
            top += line.height_mm;
        }
        items
    }

    /// Its words in one line, for those who cannot see the page.
    pub(super) fn told(&self) -> String {
        let all: Vec<&str> =
            self.lines.iter().flat_map(|it| &it.words).map(|it| it.1.words.as_str()).collect();
        all.join(" ")
    }
}

/// Everything that is worked out for the joint. Fasteners that are alike in every number are told once.
pub(super) fn blocks(inputs: &Inputs<'_>, lettering: &Lettering, width_mm: f64) -> Vec<Block> {
    let joint = inputs.joint;
    let carrying = carry(joint, inputs.trace, Detail::Working);
    let setter = Setter { lettering, width_mm };
    let mut alike: Vec<(Vec<usize>, &str, Vec<written::Row>)> = Vec::new();
    for (number, it) in carrying.fasteners.iter().enumerate() {
        let label = joint.fasteners.get(number).map_or("", |it| it.spec.label.as_str());
        let rows = rows_of(it, &carrying, joint);
        match alike.iter_mut().find(|known| known.1 == label && known.2 == rows) {
            Some(known) => known.0.push(number + 1),
            None => alike.push((vec![number + 1], label, rows)),
        }
    }
    let mut cautions: Vec<(&str, Vec<usize>)> = Vec::new();
    for (number, it) in carrying.fasteners.iter().enumerate() {
        for says in &it.cautions {
            written::note(&mut cautions, says, number + 1);
        }
    }
    let mut out: Vec<Block> = stated::rows(joint).iter().map(|it| setter.row(it)).collect();
    for (numbers, label, rows) in &alike {
        let word = if numbers.len() == 1 { "Fastener" } else { "Fasteners" };
        out.push(setter.title(&format!("{word} {}, {label}", written::runs(numbers)), true));
        out.extend(rows.iter().map(|it| setter.row(it)));
    }
    for it in &carrying.connections {
        out.extend(written::sum_rows(&carrying, it, joint).iter().map(|it| setter.row(it)));
    }
    for it in &carrying.splits {
        out.extend(written::split_rows(it, joint).iter().map(|it| setter.row(it)));
    }
    // What many of them must be looked at for is told once.
    if !cautions.is_empty() {
        out.push(setter.title("Before a value is believed", true));
    }
    for (says, numbers) in cautions {
        out.push(setter.plain(&format!("No. {}: {says}", written::runs(&numbers))));
    }
    out.push(setter.title("Not counted", true));
    out.extend(carrying.not_counted.iter().map(|it| setter.plain(it)));
    out
}

/// The working of one fastener, with the case that it is worked out for.
fn rows_of(it: &Carries, carrying: &Carrying, joint: &Joint) -> Vec<written::Row> {
    let case = it.case.and_then(|at| carrying.cases.get(at));
    let mut rows: Vec<written::Row> =
        case.map(|it| written::Row::Result(format!("by {}", it.name))).into_iter().collect();
    rows.extend(written::rows(it, joint).into_iter().filter(|it| !matches!(it, written::Row::Caution(_))));
    rows
}

/// Breaks rows into lines of a width.
struct Setter<'a> {
    lettering: &'a Lettering,
    width_mm: f64,
}

impl Setter<'_> {
    fn row(&self, it: &written::Row) -> Block {
        match it {
            written::Row::Title(it) => self.title(it, false),
            written::Row::Step(it) | written::Row::Factor(it) => self.step(it),
            written::Row::Result(it) => Block::new(self.bold(it, Ink::Plain), false),
            written::Row::NoValue(it) => Block::new(self.bold(it, Ink::Mood(Mood::Caution)), false),
            written::Row::Caution(it) => self.plain(&format!("Caution: {it}")),
        }
    }

    fn title(&self, words: &str, is_first: bool) -> Block {
        let mut lines = self.bold(words, Ink::Plain);
        if is_first {
            lines.insert(0, Set { words: Vec::new(), height_mm: BELOW_MM });
        }
        Block::new(lines, true)
    }

    fn bold(&self, words: &str, ink: Ink) -> Vec<Set> {
        let lines = self.lettering.wrapped(words, PLAIN_MM, self.width_mm / BOLD_PART);
        let set = |it: String| Set {
            words: vec![(0.0, Words::new(it, PLAIN_MM).bold().ink(ink))],
            height_mm: LINE_MM,
        };
        lines.into_iter().map(set).collect()
    }

    fn plain(&self, words: &str) -> Block {
        Block::new(self.small(words, (0.0, 0.0)), false)
    }

    /// Small words, the first line of them after `first_mm`, all of them set in by `indent_mm`.
    fn small(&self, words: &str, (first_mm, indent_mm): (f64, f64)) -> Vec<Set> {
        let lines = self.lettering.wrapped_after(first_mm, words, SMALL_MM, self.width_mm - indent_mm);
        let set = |(n, it): (usize, String)| {
            let right = indent_mm + if n == 0 { first_mm } else { 0.0 };
            Set { words: vec![(right, Words::new(it, SMALL_MM).ink(Ink::Soft))], height_mm: SMALL_LINE_MM }
        };
        lines.into_iter().enumerate().map(set).collect()
    }

    /// The formula, and below it what comes of it, with the values put in, its clause and its reason.
    fn step(&self, it: &written::Step) -> Block {
        let (value, indent_mm) = if it.formula.is_empty() {
            (format!("{} = {}", it.symbol, it.value), 0.0)
        } else {
            (format!("= {}", it.value), INDENT_MM)
        };
        let mut lines: Vec<Set> = Vec::new();
        if !it.formula.is_empty() {
            let formula = format!("{} = {}", it.symbol, it.formula);
            let set = |it: String| Set { words: vec![(0.0, Words::new(it, PLAIN_MM))], height_mm: LINE_MM };
            lines.extend(self.lettering.wrapped(&formula, PLAIN_MM, self.width_mm).into_iter().map(set));
        }
        let with = if it.with.is_empty() { String::new() } else { format!("with {}; ", it.with) };
        let why = if it.because.is_empty() { String::new() } else { format!("; {}", it.because) };
        let room = self.width_mm - indent_mm;
        let after = self.lettering.width_mm(&value, PLAIN_MM, true) + 2.0;
        // Where hardly anything fits beside the value, the rest stands below it.
        let beside = after < 0.6 * room;
        let mut of_value = vec![(indent_mm, Words::new(value, PLAIN_MM).bold())];
        let first_mm = if beside { after } else { 0.0 };
        let mut rest = self.small(&format!("{with}{}{why}", it.source), (first_mm, indent_mm));
        if beside && !rest.is_empty() {
            of_value.extend(rest.remove(0).words);
        }
        lines.push(Set { words: of_value, height_mm: LINE_MM });
        lines.extend(rest);
        Block::new(lines, false)
    }
}
