//! Fasteners: shanks solid where they are in something and hollow in air, heads, points, nuts, washers.

mod head;
mod head_on;

use kurbo::{BezPath, Point, Rect, Vec2};

use super::pen::{self, Scene};
use super::place::Taken;
use super::{Fill, Item, Layer, Line, Mood, Subject};
use crate::joint::Fastener;
use crate::trace::{Run, Shank, What};

/// A shank at least so many pen widths wide is drawn with two lines, a thinner one with one.
const PENS_FOR_TWO_LINES: f64 = 3.0;

/// A shank whose axis on paper is shorter than this part of its length is seen head on.
pub(super) const HEAD_ON_BELOW: f64 = 0.02;

/// Heads, nuts and washers reach this far beyond a shank on paper, at most.
const BESIDE_MM: f64 = 20.0;

/// One fastener as it lies on paper.
struct Laid<'a> {
    fastener: &'a Fastener,
    shank: &'a Shank,
    mood: Mood,
    /// The seat of the head.
    at: Point,
    /// Model millimetres along the axis to paper, towards the point.
    along: Vec2,
    /// Unit vector across the axis.
    across: Vec2,
    scale: f64,
}

/// All fasteners. Their places are taken, so that no mark and no figure hides them.
pub(super) fn draw(scene: &Scene<'_>, taken: &mut Taken) -> Vec<Item> {
    let all = 0..scene.inputs.joint.fasteners.len();
    all.filter(|it| is_seen(scene, *it)).flat_map(|it| draw_one(scene, it, taken)).collect()
}

/// Whether a fastener may be seen; in a crowd those that cannot are not drawn.
pub(super) fn is_seen(scene: &Scene<'_>, which: usize) -> bool {
    let (Some(seen), Some(shank)) = (scene.seen, scene.inputs.trace.fasteners.get(which)) else {
        return true;
    };
    if !scene.is_crowded() {
        return true;
    }
    let ends = [shank.head_at, shank.head_at + shank.toward * shank.length_mm];
    let area = Rect::from_points(scene.view.on_paper(ends[0]), scene.view.on_paper(ends[1]));
    seen.overlaps(area.inflate(BESIDE_MM, BESIDE_MM))
}

/// One fastener; nothing for one that is nowhere.
pub(super) fn draw_one(scene: &Scene<'_>, which: usize, taken: &mut Taken) -> Vec<Item> {
    let inputs = scene.inputs;
    let (Some(fastener), Some(shank)) =
        (inputs.joint.fasteners.get(which), inputs.trace.fasteners.get(which))
    else {
        return Vec::new();
    };
    let flat = scene.direction(shank.toward);
    let along = flat * scene.view.scale;
    let across =
        if 0.0 < flat.hypot() { Vec2::new(-flat.y, flat.x) / flat.hypot() } else { Vec2::new(0.0, 1.0) };
    let at = scene.view.on_paper(shank.head_at);
    if !at.is_finite() || !along.is_finite() {
        return Vec::new();
    }
    let (mood, scale) = (scene.mood(which), scene.view.scale);
    let laid = Laid { fastener, shank, mood, at, along, across, scale };
    if flat.hypot() < HEAD_ON_BELOW {
        return head_on::draw(&laid, taken);
    }
    let mut items = laid.draw_runs();
    items.extend(head::draw(&laid));
    let half = fastener.spec.diameter_mm * scale / 2.0;
    taken.add_stroke(laid.place(0.0), laid.place(shank.length_mm), half + 0.4);
    taken.add_box(head::bounds(&laid));
    for (from, to, half) in head::washers_and_nut(&laid) {
        taken.add_stroke(from, to, half + 0.4);
    }
    items
}

impl Laid<'_> {
    /// The place on paper so many model millimetres down the axis.
    fn place(&self, s: f64) -> Point {
        self.at + self.along * s
    }

    /// The place so far down the axis and so many model millimetres to its side.
    fn beside(&self, s: f64, side: f64) -> Point {
        self.place(s) + self.across * (side * self.scale)
    }

    fn item(&self, path: BezPath, fill: Option<Fill>, line: Option<Line>) -> Item {
        let subject = Some(Subject::Fastener(self.fastener.id.clone()));
        pen::path(Layer::Fasteners, subject, path, fill, line)
    }

    fn solid(&self) -> Fill {
        if self.fastener.existing { Fill::ExistingShank } else { Fill::Shank }
    }

    /// Half the width of the shank so far down the axis: full to the point, then tapered to its tip.
    fn half_at(&self, s: f64) -> f64 {
        let half = self.fastener.spec.diameter_mm / 2.0;
        let (length, point) = (self.shank.length_mm, self.fastener.spec.point_mm);
        if 0.0 < point { half * ((length - s) / point).clamp(0.0, 1.0) } else { half }
    }

    fn draw_runs(&self) -> Vec<Item> {
        let width = self.fastener.spec.diameter_mm * self.scale;
        let two_lines = PENS_FOR_TWO_LINES * Line::Shank.width_mm() <= width;
        let runs = join_alike(&self.shank.core);
        runs.iter().map(|run| if two_lines { self.wide_run(run) } else { self.thin_run(run) }).collect()
    }

    fn thin_run(&self, run: &Stretch) -> Item {
        let line = pen::stroke(self.place(run.from), self.place(run.to));
        if run.is_held {
            self.item(line, None, Some(Line::Shank))
        } else {
            self.item(pen::dashed(&line), None, Some(Line::ShankInAir(self.mood)))
        }
    }

    /// The two sides of a run, the tip or the blunt end included; open where it borders on another run.
    fn wide_run(&self, run: &Stretch) -> Item {
        let bend = self.shank.length_mm - self.fastener.spec.point_mm;
        let mut stations = vec![run.from, run.to];
        if run.from < bend && bend < run.to {
            stations.insert(1, bend);
        }
        let side = |sign: f64| stations.iter().map(move |s| self.beside(*s, sign * self.half_at(*s)));
        let mut corners: Vec<Point> = side(1.0).collect();
        if run.is_held {
            corners.extend(side(-1.0).rev());
            // An existing shank is pale and needs its outline; the others are as wide as they are filled.
            let line = self.fastener.existing.then_some(Line::Shank);
            return self.item(pen::polygon(&corners), Some(self.solid()), line);
        }
        let ends_here = self.shank.length_mm - 1e-6 <= run.to;
        let mut outline = BezPath::new();
        if ends_here {
            corners.extend(side(-1.0).rev());
            outline.extend(pen::dashed(&pen::open_line(&corners)));
        } else {
            let other: Vec<Point> = side(-1.0).collect();
            outline.extend(pen::dashed(&pen::open_line(&corners)));
            outline.extend(pen::dashed(&pen::open_line(&other)));
        }
        self.item(outline, None, Some(Line::ShankInAir(self.mood)))
    }
}

/// Runs that are drawn alike and follow each other, as one.
struct Stretch {
    from: f64,
    to: f64,
    is_held: bool,
}

fn join_alike(core: &[Run]) -> Vec<Stretch> {
    let mut stretches: Vec<Stretch> = Vec::new();
    for run in core {
        let is_held = matches!(run.what, What::Bearing | What::Steel);
        match stretches.last_mut() {
            Some(last) if last.is_held == is_held => last.to = run.to_mm,
            _ => stretches.push(Stretch { from: run.from_mm, to: run.to_mm, is_held }),
        }
    }
    stretches
}
