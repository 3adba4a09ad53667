//! Rows of dimensions beside the joint: lines, ticks, extension lines and figures that touch nothing.

use kurbo::{BezPath, Line as Segment, Point, Rect, Shape as _, Vec2};

use super::SHORTEST_MM;
use super::solids::Solids;
use crate::drawing::marks::edge_toward;
use crate::drawing::pen::{self, Scene, Words};
use crate::drawing::place::{Taken, touches};
use crate::drawing::put::Drawn;
use crate::drawing::text::{CAPITAL, WORDS_MM, turned_box};
use crate::drawing::{Anchor, Fill, Layer, Line};
use crate::unit::length::{self, Rounding};

/// From one dimension line to the next.
const ROW_MM: f64 = 7.0;
/// Clear paper between what is measured and its extension line.
const GAP_MM: f64 = 1.5;
/// How far an extension line runs past its dimension line.
const BEYOND_MM: f64 = 2.5;
/// Length of an oblique tick.
const TICK_MM: f64 = 3.0;
/// So far off its line a leader is clear of the ticks beside it.
const OFF_TICKS_MM: f64 = 1.1;
/// From the dimension line to the foot of its figure.
const LIFT_MM: f64 = 0.9;
/// Clear paper around a figure.
const CLEAR_MM: f64 = 0.4;
/// No more rows than this on one side of a joint.
const MOST_ROWS: usize = 6;
/// A figure that was put no farther from its line than this needs no leader.
const NEAR_LINE_MM: f64 = 3.0;
/// Places on one line closer than this on paper are one.
const SAME_PLACE_MM: f64 = 0.005;

/// The side of the joint along which dimensions lie.
pub(super) struct Side {
    /// A place on the first dimension line.
    pub(super) origin: Point,
    /// Along the line, in the way its figures are read.
    pub(super) along: Vec2,
    /// Away from the joint.
    pub(super) away: Vec2,
    /// How the figures are turned.
    pub(super) turn_deg: f64,
}

impl Side {
    /// So far along, and so far away from the first line.
    fn place(&self, s: f64, t: f64) -> Point {
        self.origin + self.along * s + self.away * t
    }

    /// How far a place lies along, and away from the first line.
    pub(super) fn read(&self, p: Point) -> (f64, f64) {
        ((p - self.origin).dot(self.along), (p - self.origin).dot(self.away))
    }

    /// The end of an edge that looks at the dimension lines.
    fn outer(&self, it: Edge) -> Point {
        if it.0.to_vec2().dot(self.away) < it.1.to_vec2().dot(self.away) { it.1 } else { it.0 }
    }

    /// To the left of the reading direction: the way in which figures are lifted off their line.
    fn left(&self) -> Vec2 {
        // On paper y looks down.
        Vec2::new(self.along.y, -self.along.x)
    }

    /// The same in steps of `away`.
    fn up(&self) -> f64 {
        if self.away.dot(self.left()) < 0.0 { -1.0 } else { 1.0 }
    }
}

/// What is measured at one end of a dimension: a point, or an edge from here to there, which can be followed out
/// to either side of the joint.
pub(super) type Edge = (Point, Point);

/// One thing to measure.
#[derive(Clone, Debug)]
pub(super) struct Measure {
    /// What it tells of, whatever its length is: the name by which its figure is put somewhere.
    what: String,
    ends: (Edge, Edge),
    from: f64,
    to: f64,
    /// Where the extension lines start, in steps of `away` from the first line.
    starts: (f64, f64),
    is_gap: bool,
    /// Equal steps that it goes over, told as so many times one of them.
    steps: usize,
    /// It ends within a body, and its extension line is drawn from there.
    ends_inside: bool,
}

impl Measure {
    pub(super) fn between(a: Point, b: Point, what: String) -> Self {
        Self::of_edges((a, a), (b, b), what)
    }

    /// From edge to edge.
    pub(super) fn of_edges(a: Edge, b: Edge, what: String) -> Self {
        Self {
            what,
            ends: (a, b),
            from: 0.0,
            to: 0.0,
            starts: (0.0, 0.0),
            is_gap: false,
            steps: 1,
            ends_inside: false,
        }
    }

    /// Whether a line between these places of the paper, along this side, tells the same.
    pub(super) fn is_told_by(&self, (a, b): (Point, Point), side: &Side) -> bool {
        let read = |p: Point| (p - side.origin).dot(side.along);
        let (a, b) = (read(a), read(b));
        (self.from - a.min(b)).abs() < SAME_PLACE_MM && (self.to - a.max(b)).abs() < SAME_PLACE_MM
    }

    /// The two places on paper.
    pub(super) fn ends(&self) -> (Point, Point) {
        (self.ends.0.0, self.ends.1.0)
    }

    /// Where its extension lines start on this side of the joint.
    pub(super) fn starts_on(&self, side: &Side) -> [Point; 2] {
        [side.outer(self.ends.0), side.outer(self.ends.1)]
    }

    /// The same, of a gap.
    pub(super) fn of_gap(self) -> Self {
        Self { is_gap: true, ..self }
    }

    /// The same, of so many equal steps.
    pub(super) fn of_steps(self, steps: usize) -> Self {
        Self { steps: steps.max(1), ..self }
    }

    /// The same, with an end within a body.
    pub(super) fn ending_inside(self) -> Self {
        Self { ends_inside: true, ..self }
    }

    /// Reads the two ends along this side.
    pub(super) fn set_from(&mut self, side: &Side) {
        let read = |it: Edge| side.read(side.outer(it));
        let (mut a, mut b) = (read(self.ends.0), read(self.ends.1));
        if b.0 < a.0 {
            std::mem::swap(&mut a, &mut b);
        }
        (self.from, self.to, self.starts) = (a.0, b.0, (a.1, b.1));
    }

    /// Whether both can lie on one line.
    fn is_clear_of(&self, other: &Self) -> bool {
        self.to <= other.from + SAME_PLACE_MM || other.to <= self.from + SAME_PLACE_MM
    }

    fn length(&self) -> f64 {
        self.to - self.from
    }

    /// Whether another one tells the same along this way.
    pub(super) fn is(&self, other: &Self) -> bool {
        (self.from - other.from).abs() < SAME_PLACE_MM && (self.to - other.to).abs() < SAME_PLACE_MM
    }
}

/// Draws the measures on rows, each chain of them on one, short ones first.
pub(super) fn lay_out(
    scene: &Scene<'_>,
    (side, bodies): (&Side, &Solids),
    mut chains: Vec<Vec<Measure>>,
    (edges, taken): (&Taken, &mut Taken),
) -> Drawn {
    for chain in &mut chains {
        chain.retain(|it| SHORTEST_MM < it.length() && it.length().is_finite());
    }
    let longest = |it: &[Measure]| it.iter().map(Measure::length).fold(0.0, f64::max);
    let first = |it: &[Measure]| it.iter().map(|it| it.from).fold(f64::INFINITY, f64::min);
    chains.sort_by(|a, b| longest(a).total_cmp(&longest(b)).then(first(a).total_cmp(&first(b))));
    let mut rows: Vec<Vec<Measure>> = Vec::new();
    for mut chain in chains {
        chain.retain(|measure| !rows.iter().flatten().any(|it| it.is(measure)));
        let is_clear =
            |row: &Vec<Measure>| chain.iter().all(|it| row.iter().all(|other| it.is_clear_of(other)));
        match rows.iter().position(is_clear) {
            Some(row) => rows[row].extend(chain),
            None if rows.len() < MOST_ROWS => rows.push(chain),
            None => {}
        }
    }
    let mut rows = Rows { scene, side, edges, bodies, rows };
    // A line without its figure would say nothing: what found no place goes, and the others get its room.
    for _ in 0..MOST_ROWS {
        let level = taken.level();
        match rows.draw(taken) {
            Ok(drawn) => return drawn,
            Err(without) => {
                taken.back_to(level);
                rows.drop_all(&without);
            }
        }
    }
    Drawn::default()
}

struct Rows<'a> {
    scene: &'a Scene<'a>,
    side: &'a Side,
    /// Edges of members and steel: no figure stands across them.
    edges: &'a Taken,
    /// What extension lines must not run through.
    bodies: &'a Solids,
    rows: Vec<Vec<Measure>>,
}

#[derive(Default)]
struct Lines {
    thin: BezPath,
    ticks: BezPath,
    /// Extension lines, which may be interrupted by a figure.
    extensions: Vec<Segment>,
}

impl Lines {
    /// Interrupts the extension lines that run through a figure.
    fn interrupt(&mut self, room: Rect) {
        let through = |it: &Segment| touches(room, *it);
        let (cut, mut kept): (Vec<Segment>, Vec<Segment>) =
            self.extensions.iter().partition(|it| through(it));
        for it in cut {
            let clear = room.inflate(CLEAR_MM, CLEAR_MM);
            let (way, long) = ((it.p1 - it.p0).normalize(), (it.p1 - it.p0).hypot());
            let along = |p: Point| (p - it.p0).dot(way);
            let corners = [
                Point::new(clear.x0, clear.y0),
                Point::new(clear.x1, clear.y0),
                Point::new(clear.x0, clear.y1),
                Point::new(clear.x1, clear.y1),
            ];
            let (low, high) = corners
                .into_iter()
                .map(along)
                .fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), it| (low.min(it), high.max(it)));
            kept.extend((0.0 < low).then(|| Segment::new(it.p0, it.p0 + way * low)));
            kept.extend((high < long).then(|| Segment::new(it.p0 + way * high, it.p1)));
        }
        self.extensions = kept;
    }
}

/// A figure with a place found for it.
struct Figure {
    words: Words,
    at: Point,
    /// What leads to it: more of the dimension line, or a leader.
    lead: Vec<Point>,
    room: Rect,
    is_put: bool,
}

impl Rows<'_> {
    fn drop_all(&mut self, without: &[Measure]) {
        for row in &mut self.rows {
            row.retain(|it| !without.iter().any(|gone| gone.is(it)));
        }
        self.rows.retain(|it| !it.is_empty());
    }

    /// Lines and figures; the measures whose figures found no place, where there are such.
    fn draw(&self, taken: &mut Taken) -> Result<Drawn, Vec<Measure>> {
        let mut lines = self.draw_lines(taken);
        // What the user has put somewhere, then gaps: nothing on the drawing says more.
        let mut order: Vec<(f64, &Measure, Option<Figure>)> =
            self.each().map(|(t, it)| (t, it, self.put(it, t))).collect();
        order.sort_by_key(|it| (it.2.is_none(), !it.1.is_gap));
        let mut drawn = Drawn::default();
        let mut without = Vec::new();
        for (t, measure, put) in order {
            let found = put.or_else(|| self.find_figure(measure, t, taken)).or_else(|| {
                let figure = self.over_extensions(measure, t, (&lines.extensions, taken))?;
                lines.interrupt(figure.room);
                Some(figure)
            });
            let Some(figure) = found else {
                without.push(measure.clone());
                continue;
            };
            taken.add_box(figure.room);
            for pair in figure.lead.windows(2) {
                taken.add_stroke(pair[0], pair[1], 0.1);
            }
            let lead = pen::open_line(&figure.lead);
            if figure.is_put {
                let line = pen::path(Layer::Dimensions, None, lead, None, Some(Line::Dimension));
                drawn.put.push(line);
            } else {
                lines.thin.extend(lead.iter());
            }
            let (what, anchor) = (format!("figure {}", measure.what), self.anchor(measure, t));
            drawn.handles.extend(self.scene.manner.handle(&what, figure.room, anchor));
            // Hatching must not run through a figure that stands over a member.
            let ground = self.bodies.overlap(figure.room).then(|| {
                let room = figure.room.to_path(pen::TRUE_WITHIN_MM);
                pen::path(Layer::Dimensions, None, room, Some(Fill::Paper), None)
            });
            let words = figure.words.at(Layer::Dimensions, None, figure.at);
            drawn.add(ground.into_iter().chain([words]), figure.is_put);
        }
        if !without.is_empty() {
            return Err(without);
        }
        if drawn.items.is_empty() && drawn.put.is_empty() {
            return Ok(drawn);
        }
        for it in &lines.extensions {
            pen::add_stroke(&mut lines.thin, it.p0, it.p1);
        }
        let thin = pen::path(Layer::Dimensions, None, lines.thin, None, Some(Line::Dimension));
        let ticks = pen::path(Layer::Dimensions, None, lines.ticks, None, Some(Line::Tick));
        drawn.items.splice(0..0, [thin, ticks]);
        Ok(drawn)
    }

    /// The middle of a figure that stands in the middle of its line.
    fn anchor(&self, measure: &Measure, t: f64) -> Point {
        self.side.place(f64::midpoint(measure.from, measure.to), t + LIFT_MM * self.side.up())
            + self.side.left() * (CAPITAL * WORDS_MM / 2.0)
    }

    /// The figure where the user has put it; on a leader where that is away from its line.
    fn put(&self, measure: &Measure, t: f64) -> Option<Figure> {
        let anchor = self.anchor(measure, t);
        let middle = self.scene.manner.put(&format!("figure {}", measure.what), anchor)?;
        let words = self.words(measure);
        let width = self.scene.lettering.width_mm(&words, WORDS_MM, false);
        let at = middle - self.side.left() * (CAPITAL * WORDS_MM / 2.0);
        let flat = Rect::new(-width / 2.0, -CAPITAL * WORDS_MM, width / 2.0, 0.0);
        let room = turned_box(at, flat.inflate(CLEAR_MM, CLEAR_MM), self.side.turn_deg);
        let start = self.side.place(f64::midpoint(measure.from, measure.to), t);
        let is_near = room.inflate(NEAR_LINE_MM, NEAR_LINE_MM).contains(start);
        let lead = if is_near { Vec::new() } else { vec![start, edge_toward(room, start)] };
        let words = Words::new(words, WORDS_MM).anchored(Anchor::Middle).turned(self.side.turn_deg);
        Some(Figure { words, at, lead, room, is_put: true })
    }

    fn draw_lines(&self, taken: &mut Taken) -> Lines {
        let mut lines = Lines::default();
        for (start, s, end) in self.extensions() {
            let (a, b) = (self.side.place(s, start + GAP_MM), self.side.place(s, end + BEYOND_MM));
            lines.extensions.push(Segment::new(a, b));
            taken.add_stroke(a, b, 0.1);
        }
        let slant = (self.side.along + self.side.left()) * (TICK_MM / 2.0 / 2.0_f64.sqrt());
        for (t, measure) in self.each() {
            let (a, b) = (self.side.place(measure.from, t), self.side.place(measure.to, t));
            taken.add_stroke(a, b, 0.1);
            for end in [a, b] {
                pen::add_stroke(&mut lines.ticks, end - slant, end + slant);
                taken.add_box(Rect::from_center_size(end, (TICK_MM * 0.7, TICK_MM * 0.7)));
            }
            pen::add_stroke(&mut lines.thin, a, b);
        }
        lines
    }

    /// Each measure with how far its line lies from the first.
    fn each(&self) -> impl Iterator<Item = (f64, &Measure)> {
        let mut t = -ROW_MM;
        self.rows.iter().flat_map(move |row| {
            t += ROW_MM;
            let here = t;
            row.iter().map(move |it| (here, it))
        })
    }

    /// One extension line for each place: where it starts, where it stands, where it ends. It starts outside of
    /// all that lies on its way.
    fn extensions(&self) -> Vec<(f64, f64, f64)> {
        let mut found: Vec<(f64, f64, f64)> = Vec::new();
        for (t, measure) in self.each() {
            for (s, start) in [(measure.from, measure.starts.0), (measure.to, measure.starts.1)] {
                let start =
                    if measure.ends_inside { start } else { self.bodies.clear_of(self.side, (s, start), t) };
                match found.iter_mut().find(|it| (it.1 - s).abs() < SAME_PLACE_MM) {
                    Some(same) => *same = (same.0.max(start), same.1, same.2.max(t)),
                    None => found.push((start, s, t)),
                }
            }
        }
        found
    }

    /// A place for the figure: above its line, beside it, or beyond all rows on a leader.
    fn find_figure(&self, measure: &Measure, t: f64, taken: &Taken) -> Option<Figure> {
        let words = self.words(measure);
        let width = self.scene.lettering.width_mm(&words, WORDS_MM, false);
        let middle = f64::midpoint(measure.from, measure.to);
        let lift = LIFT_MM * self.side.up();
        let set = |s: f64, t: f64, lead: Vec<Point>| {
            let at = self.side.place(s, t);
            // Figures have no descenders.
            let flat = Rect::new(-width / 2.0, -CAPITAL * WORDS_MM, width / 2.0, 0.0);
            let room = turned_box(at, flat.inflate(CLEAR_MM, CLEAR_MM), self.side.turn_deg);
            let words =
                Words::new(words.clone(), WORDS_MM).anchored(Anchor::Middle).turned(self.side.turn_deg);
            Figure { words, at, lead, room, is_put: false }
        };
        let room = measure.length() - width - 2.4;
        if 0.0 <= room {
            for part in [0.0, 0.15, -0.15, 0.3, -0.3, 0.48, -0.48] {
                let figure = set(middle + part * room, t + lift, Vec::new());
                if self.is_free(&figure, taken) {
                    return Some(figure);
                }
            }
        }
        for (end, sign) in [(measure.to, 1.0), (measure.from, -1.0)] {
            let s = end + sign * (1.8 + width / 2.0);
            let far = self.side.place(end + sign * (2.2 + width), t);
            let figure = set(s, t + lift, vec![self.side.place(end, t), far]);
            let from = self.side.place(end + sign * 1.2, t);
            if self.is_free(&figure, taken) && taken.is_free_stroke(from, far) {
                return Some(figure);
            }
        }
        self.on_leaders(middle, t).into_iter().find_map(|(s, foot, lead)| {
            let [start, knee, end] = lead;
            let figure = set(s, foot, lead.to_vec());
            // The leader starts on its own line, between its own ticks.
            let off = start + self.side.away * OFF_TICKS_MM;
            let is_free = self.is_free(&figure, taken)
                && taken.is_free_stroke(off, knee)
                && taken.is_free_stroke(knee, end);
            is_free.then_some(figure)
        })
    }

    /// In the middle of its line, over extension lines that are interrupted there.
    fn over_extensions(
        &self,
        measure: &Measure,
        t: f64,
        (extensions, taken): (&[Segment], &Taken),
    ) -> Option<Figure> {
        let words = self.words(measure);
        let width = self.scene.lettering.width_mm(&words, WORDS_MM, false);
        let at = self.side.place(f64::midpoint(measure.from, measure.to), t + LIFT_MM * self.side.up());
        let flat = Rect::new(-width / 2.0, -CAPITAL * WORDS_MM, width / 2.0, 0.0);
        let room = turned_box(at, flat.inflate(CLEAR_MM, CLEAR_MM), self.side.turn_deg);
        let is_free = width + 2.4 <= measure.length()
            && taken.is_free_box_without(room, extensions)
            && self.edges.is_free_box(room);
        let words = Words::new(words, WORDS_MM).anchored(Anchor::Middle).turned(self.side.turn_deg);
        is_free.then_some(Figure { words, at, lead: Vec::new(), room, is_put: false })
    }

    fn is_free(&self, figure: &Figure, taken: &Taken) -> bool {
        taken.is_free_box(figure.room) && self.edges.is_free_box(figure.room)
    }

    /// The length in the joint's unit; of equal steps, how many and how long each is. Millimetres go without their unit, as is usual on drawings; the
    /// sheet says so once.
    fn words(&self, measure: &Measure) -> String {
        let unit = self.scene.inputs.joint.show_lengths_in;
        let steps = f64::from(u32::try_from(measure.steps).unwrap_or(u32::MAX));
        let words = length::format(measure.length() / steps / self.scene.view.scale, unit, Rounding::Nearest);
        let words = words.strip_suffix(" mm").unwrap_or(&words);
        if measure.steps == 1 { words.to_owned() } else { format!("{} × {words}", measure.steps) }
    }

    /// Places beyond all rows: along, foot of the figure, and the leader to it. It leaves its line square,
    /// so that it stays between its own extension lines, and has no terminator there.
    fn on_leaders(&self, middle: f64, t: f64) -> Vec<(f64, f64, [Point; 3])> {
        let height = CAPITAL * WORDS_MM;
        let last = ROW_MM * f64::from(u16::try_from(self.rows.len().saturating_sub(1)).unwrap_or(0));
        let knee = last + BEYOND_MM + 0.4;
        let mut places = Vec::new();
        for level in 0..5 {
            // The side of the figure that looks at the rows, and its foot.
            let near = knee + 2.4 + f64::from(level) * (height + 2.2);
            let foot = if self.side.up() < 0.0 { near + height } else { near };
            for aside in [3.0, -3.0, 5.0, -5.0, 8.0, -8.0, 12.0, -12.0, 18.0, -18.0, 26.0, -26.0] {
                let at = |s: f64, t: f64| self.side.place(s, t);
                let lead = [at(middle, t), at(middle, knee), at(middle + aside, near - 0.8)];
                places.push((middle + aside, foot, lead));
            }
        }
        places
    }
}
