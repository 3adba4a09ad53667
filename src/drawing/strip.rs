//! Core strips: for each fastener what its shank passes through, head to point, like a drill core.

use kurbo::{BezPath, Point, Rect};

use super::marks::{MARK_MM, mark, mark_size};
use super::pen::{self, Words};
use super::text::{CAPITAL, Lettering};
use super::verdict::verdict;
use super::{Anchor, Fill, Ink, Inputs, Item, Layer, Line, Mood, Subject};
use crate::stock::Family;
use crate::trace::{Body, Owner, Run, Shank, What};
use crate::unit::length::{self, Rounding};

/// Height of one strip with the paper below it.
const STRIP_MM: f64 = 7.6;

/// Height of the bar in it.
const BAR_MM: f64 = 5.2;
/// Words beside the bars.
const BESIDE_MM: f64 = 3.4;
/// Words in the bars.
const INSIDE_MM: f64 = 2.9;
/// Words below a bar, of a gap or a point out that is too narrow for them; and the paper above and between them.
const BELOW_MM: f64 = 2.6;
const ABOVE_WORDS_MM: f64 = 0.4;
const BETWEEN_WORDS_MM: f64 = 1.5;
/// Height of a strip with words below its bar beyond that of others: letters reach below their line.
const WORDS_BELOW_MM: f64 = 1.1;
/// The highest strip.
pub(super) const HIGHEST_MM: f64 = STRIP_MM + WORDS_BELOW_MM;
/// Less air than this is none on a site.
const LEAST_TOLD_MM: f64 = 0.25;
/// Clear paper between the columns.
const GUTTER_MM: f64 = 3.0;
/// The label before a bar takes at most this part of the width.
const MOST_LABEL: f64 = 0.3;
/// The verdict behind it takes at most this part: to cut it hides more.
const MOST_VERDICT: f64 = 0.36;

/// Strips one below the other from the top left corner `at`.
pub(super) fn draw(inputs: &Inputs<'_>, which: &[usize], at: Point, width_mm: f64) -> Vec<Item> {
    draw_strips(inputs, which.iter().filter_map(|it| Strip::of(inputs, *it)).collect(), at, width_mm)
}

/// One strip without words beside its bar, for a sheet on which a table holds these: the place of its
/// fastener, the words in its mark, and how wide the widest mark is. The bar is to such a scale that the
/// `longest` shank of all would fill the width.
pub(super) fn draw_bar(
    inputs: &Inputs<'_>,
    bar: (usize, &str, f64),
    at: Point,
    width: (f64, f64),
) -> Vec<Item> {
    bar_of(inputs, bar, width).map_or_else(Vec::new, |(columns, strip)| columns.draw(&strip, at))
}

/// Height of the same with the paper below it.
pub(super) fn bar_height_mm(inputs: &Inputs<'_>, bar: (usize, &str, f64), width: (f64, f64)) -> f64 {
    bar_of(inputs, bar, width).map_or(STRIP_MM, |(columns, strip)| columns.height_mm(&strip))
}

fn bar_of<'a>(
    inputs: &'a Inputs<'a>,
    (which, number, mark_mm): (usize, &str, f64),
    (width_mm, longest): (f64, f64),
) -> Option<(Columns<'a>, Strip<'a>)> {
    let it = Strip::of(inputs, which)?;
    let strip = Strip { number: number.to_owned(), label: "", verdict: String::new(), ..it };
    let mut columns = Columns::fit(inputs, std::slice::from_ref(&strip), width_mm);
    columns.bar_at = mark_mm + 2.0;
    if 0.0 < longest {
        columns.per_mm = (width_mm - columns.bar_at - 0.5).max(0.0) / longest;
    }
    Some((columns, strip))
}

fn draw_strips(inputs: &Inputs<'_>, strips: Vec<Strip<'_>>, at: Point, width_mm: f64) -> Vec<Item> {
    let columns = Columns::fit(inputs, &strips, width_mm);
    let mut items = Vec::new();
    let mut top = at.y;
    for strip in &strips {
        items.extend(columns.draw(strip, Point::new(at.x, top)));
        top += columns.height_mm(strip);
    }
    items
}

/// One fastener with its words.
struct Strip<'a> {
    number: String,
    label: &'a str,
    verdict: String,
    mood: Mood,
    shank: &'a Shank,
    subject: Subject,
}

impl<'a> Strip<'a> {
    fn of(inputs: &Inputs<'a>, which: usize) -> Option<Self> {
        let fastener = inputs.joint.fasteners.get(which)?;
        let shank = inputs.trace.fasteners.get(which)?;
        Some(Self {
            number: (which + 1).to_string(),
            label: &fastener.spec.label,
            verdict: verdict(inputs, which),
            mood: Mood::from(inputs.findings.worst_of(&fastener.id)),
            shank,
            subject: Subject::Fastener(fastener.id.clone()),
        })
    }
}

/// Where the columns stand, and how long a model millimetre is in the bars.
struct Columns<'a> {
    inputs: &'a Inputs<'a>,
    lettering: &'static Lettering,
    label_at: f64,
    label_width: f64,
    bar_at: f64,
    verdict_at: f64,
    verdict_width: f64,
    per_mm: f64,
}

impl<'a> Columns<'a> {
    fn fit(inputs: &'a Inputs<'a>, strips: &[Strip<'_>], width_mm: f64) -> Self {
        let lettering = Lettering::bundled();
        let widest = |of: &dyn Fn(&Strip<'_>) -> f64| strips.iter().map(of).fold(0.0, f64::max);
        let mark_width = widest(&|it| mark_width(lettering, &it.number)).max(MARK_MM);
        let label_width =
            widest(&|it| lettering.width_mm(it.label, BESIDE_MM, false)).min(width_mm * MOST_LABEL);
        let verdict_width =
            widest(&|it| lettering.width_mm(&it.verdict, BESIDE_MM, true)).min(width_mm * MOST_VERDICT);
        let label_at = mark_width + 2.0;
        let bar_at = label_at + if 0.0 < label_width { label_width + GUTTER_MM } else { 0.0 };
        let verdict_at = (width_mm - verdict_width).max(bar_at);
        let longest = strips.iter().map(|it| it.shank.length_mm).fold(0.0, f64::max);
        let gutter = if 0.0 < verdict_width { GUTTER_MM } else { 0.5 };
        let room = (verdict_at - gutter - bar_at).max(0.0);
        let per_mm = if 0.0 < longest { room / longest } else { 0.0 };
        Self { inputs, lettering, label_at, label_width, bar_at, verdict_at, verdict_width, per_mm }
    }

    fn draw(&self, strip: &Strip<'_>, at: Point) -> Vec<Item> {
        let (middle, subject) = (at.y + BAR_MM / 2.0, Some(strip.subject.clone()));
        let place = Rect::new(
            at.x,
            middle - MARK_MM / 2.0,
            at.x + mark_width(self.lettering, &strip.number),
            middle + MARK_MM / 2.0,
        );
        let mut items = mark(&strip.number, place, strip.mood, (Layer::Cores, subject.clone()));
        let base = middle + BESIDE_MM * CAPITAL / 2.0;
        let label = self.lettering.shortened(strip.label, BESIDE_MM, false, self.label_width + 0.01);
        if let Some(label) = label.filter(|it| !it.is_empty()) {
            let words = Words::new(label, BESIDE_MM);
            items.push(words.at(Layer::Cores, subject.clone(), Point::new(at.x + self.label_at, base)));
        }
        for run in &strip.shank.core {
            items.extend(self.draw_run(strip, run, Point::new(at.x + self.bar_at, at.y)));
        }
        items.extend(self.draw_below(strip, at));
        let is_bold = strip.mood == Mood::Fault;
        let words = self.lettering.shortened(&strip.verdict, BESIDE_MM, is_bold, self.verdict_width + 0.01);
        if let Some(words) = words.filter(|it| !it.is_empty()) {
            let words = Words { bold: is_bold, ..Words::new(words, BESIDE_MM) }.ink(Ink::Mood(strip.mood));
            items.push(words.at(Layer::Cores, subject, Point::new(at.x + self.verdict_at, base)));
        }
        items
    }

    fn draw_run(&self, strip: &Strip<'_>, run: &Run, at: Point) -> Vec<Item> {
        let (from, to) = (at.x + run.from_mm * self.per_mm, at.x + run.to_mm * self.per_mm);
        let place = Rect::new(from, at.y, to, at.y + BAR_MM);
        let subject = Some(strip.subject.clone());
        let is_air = matches!(run.what, What::Gap | What::Air);
        let mut items = Vec::new();
        if is_air {
            let outline = pen::dashed(&open_box(place));
            let line = Some(Line::ShankInAir(strip.mood));
            items.push(pen::path(Layer::Cores, subject.clone(), outline, None, line));
        } else {
            let outline = pen::polygon(&corners(place));
            let fill = Some(self.fill(run));
            let path = if run.what == What::Filling {
                items.push(pen::path(Layer::Cores, subject.clone(), outline.clone(), fill, None));
                (pen::dashed(&open_box(place)), None)
            } else {
                (outline, fill)
            };
            items.push(pen::path(Layer::Cores, subject.clone(), path.0, path.1, Some(Line::Rule)));
        }
        let ink = match (is_air, self.fill(run)) {
            (true, _) => Ink::Mood(strip.mood),
            (false, Fill::Steel) => Ink::OnMark,
            (false, _) => Ink::Plain,
        };
        if let Some(words) = self.words_in(strip, run, room_in(place.width())) {
            let base = Point::new(place.center().x, place.center().y + INSIDE_MM * CAPITAL / 2.0);
            let words = Words::new(words, INSIDE_MM).anchored(Anchor::Middle).ink(ink);
            items.push(words.at(Layer::Cores, subject, base));
        }
        items
    }

    fn height_mm(&self, strip: &Strip<'_>) -> f64 {
        let has_words = strip.shank.core.iter().any(|it| self.is_narrow(strip, it));
        if has_words { HIGHEST_MM } else { STRIP_MM }
    }

    /// Whether a run is air that has no room for its length.
    fn is_narrow(&self, strip: &Strip<'_>, run: &Run) -> bool {
        let long = run.to_mm - run.from_mm;
        let is_told = matches!(run.what, What::Gap | What::Air) && LEAST_TOLD_MM < long;
        is_told && self.words_in(strip, run, room_in(long * self.per_mm)).is_none()
    }

    /// What air a shank is in is told whatever the scale: of runs without room for their length, below the bar.
    fn draw_below(&self, strip: &Strip<'_>, at: Point) -> Vec<Item> {
        let unit = self.inputs.joint.show_lengths_in;
        let words = |run: &Run| {
            let long = length::format(run.to_mm - run.from_mm, unit, Rounding::Down);
            (format!("{} {long}", self.name(strip, run)), long)
        };
        let narrow: Vec<(f64, (String, String))> = strip
            .shank
            .core
            .iter()
            .filter(|run| self.is_narrow(strip, run))
            .map(|run| (f64::midpoint(run.from_mm, run.to_mm) * self.per_mm, words(run)))
            .collect();
        let room = (at.x + self.bar_at, at.x + self.verdict_at);
        let whole = narrow.iter().map(|it| (at.x + self.bar_at + it.0, it.1.0.as_str()));
        let short = narrow.iter().map(|it| (at.x + self.bar_at + it.0, it.1.1.as_str()));
        let width = |it: &str| self.lettering.width_mm(it, BELOW_MM, false);
        let set = beside_each_other(whole.collect(), room, width)
            .unwrap_or_else(|| beside_each_other(short.collect(), room, width).unwrap_or_default());
        let base = at.y + BAR_MM + ABOVE_WORDS_MM + BELOW_MM * CAPITAL;
        let item = |(middle, words): (f64, &str)| {
            let words = Words::new(words, BELOW_MM).anchored(Anchor::Middle).ink(Ink::Mood(strip.mood));
            words.at(Layer::Cores, Some(strip.subject.clone()), Point::new(middle, base))
        };
        set.into_iter().map(item).collect()
    }

    /// Name and length if there is room, else a shortened name with the length, the length, or nothing.
    fn words_in(&self, strip: &Strip<'_>, run: &Run, room_mm: f64) -> Option<String> {
        let unit = self.inputs.joint.show_lengths_in;
        let length = length::format(run.to_mm - run.from_mm, unit, Rounding::Down);
        let name = self.name(strip, run);
        let width = |words: &str| self.lettering.width_mm(words, INSIDE_MM, false);
        if width(&format!("{name} {length}")) <= room_mm {
            return Some(format!("{name} {length}"));
        }
        let short = self.lettering.shortened(&name, INSIDE_MM, false, room_mm - width(&format!(" {length}")));
        match short {
            Some(short) => Some(format!("{short} {length}")),
            None => (width(&length) <= room_mm).then_some(length),
        }
    }

    fn name(&self, strip: &Strip<'_>, run: &Run) -> String {
        let joint = self.inputs.joint;
        let of_body = |body: &Body| match body.owner {
            Owner::Member(n) => joint.members.get(n).map(|it| it.shown_name().to_owned()),
            Owner::Plate { connector, .. } => {
                joint.connectors.get(connector).map(|it| it.shown_name().to_owned())
            }
        };
        let body = run.body.and_then(|it| self.inputs.trace.bodies.get(it.0));
        match (run.what, body) {
            (What::Gap, _) => "gap".to_owned(),
            (What::Air, _) if strip.shank.length_mm - 1e-6 <= run.to_mm && 0.0 < run.from_mm => {
                "out".to_owned()
            }
            (What::Air, _) => "air".to_owned(),
            (What::Steel, None) => "washer".to_owned(),
            (_, Some(body)) => of_body(body).unwrap_or_default(),
            (What::Bearing | What::Filling, None) => String::new(),
        }
    }

    fn fill(&self, run: &Run) -> Fill {
        let body = run.body.and_then(|it| self.inputs.trace.bodies.get(it.0));
        let family = body.and_then(|it| match it.owner {
            Owner::Member(n) => self.inputs.joint.members.get(n).map(|it| it.material.family),
            Owner::Plate { .. } => Some(Family::Steel),
        });
        match (run.what, family) {
            (What::Filling, _) | (_, Some(Family::Filling)) => Fill::Filling,
            (What::Steel, _) | (_, Some(Family::Steel)) => Fill::Steel,
            (_, Some(Family::Glulam | Family::Engineered)) => Fill::Engineered,
            (_, Some(Family::Panel)) => Fill::Panel,
            (_, Some(Family::Concrete | Family::Masonry)) => Fill::Concrete,
            (_, Some(Family::Lumber) | None) => Fill::Lumber,
        }
    }
}

/// How long words in a run may be that is so long on paper.
fn room_in(run_mm: f64) -> f64 {
    run_mm - 1.4
}

/// Words, each with its middle, moved aside so far that all stand in the room clear of each other; `None` where they have
/// no room.
fn beside_each_other(
    mut words: Vec<(f64, &str)>,
    (low, high): (f64, f64),
    width: impl Fn(&str) -> f64,
) -> Option<Vec<(f64, &str)>> {
    let mut from = low;
    for it in &mut words {
        let half = width(it.1) / 2.0;
        it.0 = it.0.max(from + half);
        from = it.0 + half + BETWEEN_WORDS_MM;
    }
    let mut to = high;
    for it in words.iter_mut().rev() {
        let half = width(it.1) / 2.0;
        it.0 = it.0.min(to - half);
        to = it.0 - half - BETWEEN_WORDS_MM;
    }
    let is_within = words.first().is_none_or(|it| low - 1e-9 <= it.0 - width(it.1) / 2.0);
    is_within.then_some(words)
}

fn mark_width(lettering: &Lettering, number: &str) -> f64 {
    mark_size(lettering, number).0
}

fn corners(place: Rect) -> [Point; 4] {
    [
        Point::new(place.x0, place.y0),
        Point::new(place.x1, place.y0),
        Point::new(place.x1, place.y1),
        Point::new(place.x0, place.y1),
    ]
}

/// A box without its left side, which the run before it has drawn.
fn open_box(place: Rect) -> BezPath {
    let [a, b, c, d] = corners(place);
    pen::open_line(&[a, b, c, d])
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn words_below_a_bar_stand_clear_of_each_other_within_it() {
        let width = |it: &str| f64::from(u8::try_from(it.len()).unwrap());
        let set = |words: Vec<(f64, &'static str)>| beside_each_other(words, (0.0, 20.0), width);
        assert_eq!(set(vec![(10.0, "gap")]), Some(vec![(10.0, "gap")]));
        assert_eq!(set(vec![(0.5, "gap"), (19.5, "out")]), Some(vec![(1.5, "gap"), (18.5, "out")]));
        let two = set(vec![(18.0, "gap"), (19.0, "out")]).unwrap();
        assert_eq!(two, [(18.5 - 3.0 - BETWEEN_WORDS_MM, "gap"), (18.5, "out")]);
        assert_eq!(set(vec![(5.0, "0123456789"), (6.0, "0123456789")]), None);
    }
}
