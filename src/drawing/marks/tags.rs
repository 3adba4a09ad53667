//! The letters that tag holes: what each is for is told by a letter, never by an outline.

use kurbo::{Line as Segment, Point, Rect, Vec2};

use super::edge_toward;
use crate::drawing::annotate::Label;
use crate::drawing::pen::{self, Scene, Words};
use crate::drawing::place::Taken;
use crate::drawing::put::Drawn;
use crate::drawing::settle::{Choice, Fixed};
use crate::drawing::steel::{tag, tag_place};
use crate::drawing::text::CAPITAL;
use crate::drawing::{Anchor, Fill, Layer, Line, Subject};

/// Font size of the letter that tags a hole.
const TAG_MM: f64 = 2.5;

/// What a place costs that is one further down the list.
const COST_OF_A_PLACE: f64 = 0.5;

/// A letter whose middle is farther than this from its hole has a leader.
const NEAR_MM: f64 = 4.4;
/// What it costs to need one.
const COST_OF_A_LEADER: f64 = 4.0;
/// A leader begins so far off the letter.
const OFF_LETTER_MM: f64 = 0.4;
/// So near to its hole a leader touches what is in it.
const AT_HOLE_MM: f64 = 1.6;

/// The letter of a hole, with its place.
pub(in crate::drawing) struct Tag {
    subject: Subject,
    letter: &'static str,
    /// Where it can stand, the best first.
    places: Vec<Rect>,
    at: usize,
    what: String,
    /// The hole.
    anchor: Point,
    is_put: bool,
}

/// The letters beside the holes, which tell what each hole is for, placed one after the other.
pub(in crate::drawing) fn place(scene: &Scene<'_>, taken: &mut Taken) -> Vec<Tag> {
    let mut tags = Vec::new();
    for trace in &scene.inputs.trace.holes {
        let Some(connector) = scene.inputs.joint.connectors.get(trace.connector) else { continue };
        let Some(hole) = connector.plates.get(trace.plate).and_then(|it| it.holes.get(trace.hole)) else {
            continue;
        };
        let (at, out) = tag_place(scene, trace);
        if !at.is_finite() || out.hypot() <= 0.0 {
            continue;
        }
        let (letter, _) = tag(hole.duty);
        let out = out.normalize();
        let aside = Vec2::new(-out.y, out.x);
        let width = scene.lettering.width_mm(letter, TAG_MM, true) + 0.8;
        let height = TAG_MM * CAPITAL + 0.8;
        let straight = [(2.4, 0.0), (3.4, 0.0), (5.0, 0.0)];
        let beside = [(2.0, 2.7), (2.0, -2.7), (2.0, 3.8), (2.0, -3.8)];
        let beyond = [(3.4, 2.0), (3.4, -2.0), (4.6, 2.4), (4.6, -2.4), (6.4, 0.0), (3.0, 5.2), (3.0, -5.2)];
        // Where both sides of a thick shank are taken: farther along the steel, or on its other side.
        let far = [(3.0, 7.4), (3.0, -7.4), (-3.4, 5.6), (-3.4, -5.6), (-3.4, 7.6), (-3.4, -7.6)];
        // Straight out of a hole with something in it goes the leader of its mark.
        let first = if trace.filled_by.is_empty() {
            [straight.as_slice(), &beside].concat()
        } else {
            [beside.as_slice(), &straight].concat()
        };
        let boxed = |(o, a): &(f64, f64)| Rect::from_center_size(at + out * *o + aside * *a, (width, height));
        let places: Vec<Rect> = first.iter().chain(&beyond).chain(&far).map(boxed).collect();
        let what = format!("tag {}/{}", connector.id, hole.id);
        let subject = Subject::Hole(connector.id.clone(), hole.id.clone());
        let put = scene.manner.put(&what, at);
        let (places, chosen) = match put {
            Some(middle) => (vec![Rect::from_center_size(middle, (width, height))], 0),
            None => {
                let free = places[..first.len()].iter().position(|it| taken.is_free_box(*it));
                (places, free.unwrap_or(0))
            }
        };
        taken.add_box(places[chosen]);
        let is_put = put.is_some();
        tags.push(Tag { subject, letter, places, at: chosen, what, anchor: at, is_put });
    }
    tags
}

impl Label for Tag {
    type Place = usize;

    fn place(&self) -> &usize {
        &self.at
    }

    fn put(&mut self, place: usize) {
        self.at = place;
    }

    fn others(&self) -> Vec<usize> {
        if self.is_put { Vec::new() } else { (0..self.places.len()).collect() }
    }

    fn choice(&self, place: &usize, fixed: &Fixed<'_>) -> Choice {
        #[expect(clippy::cast_precision_loss, reason = "a score of places")]
        let wish = *place as f64 * COST_OF_A_PLACE;
        let leader = self.leader(self.places[*place]);
        let cost = if leader.is_some() { COST_OF_A_LEADER } else { 0.0 };
        let strokes = leader.into_iter().collect();
        Choice::new(vec![self.places[*place]], strokes, (wish + cost, AT_HOLE_MM), fixed)
    }
}

impl Tag {
    /// From the letter to its hole, where it stands so far off that another hole might be meant.
    fn leader(&self, at: Rect) -> Option<Segment> {
        let is_far = NEAR_MM < (at.center() - self.anchor).hypot();
        is_far.then(|| {
            Segment::new(edge_toward(at.inflate(OFF_LETTER_MM, OFF_LETTER_MM), self.anchor), self.anchor)
        })
    }
}

/// The letters as drawn.
pub(in crate::drawing) fn draw(scene: &Scene<'_>, tags: &[Tag]) -> Drawn {
    let mut drawn = Drawn::default();
    for it in tags {
        let (place, subject) = (it.places[it.at], Some(it.subject.clone()));
        let base = Point::new(place.center().x, place.center().y + TAG_MM * CAPITAL / 2.0);
        let ground = pen::rounded(place, 0.3);
        // The leader is no part of the hole that a press could mean.
        let leader = it.leader(place).map(|line| {
            let path = pen::stroke(line.p0, line.p1);
            pen::path(Layer::Marks, None, path, None, Some(Line::Dimension))
        });
        let items = leader.into_iter().chain([
            pen::path(Layer::Marks, subject.clone(), ground, Some(Fill::Paper), None),
            Words::new(it.letter, TAG_MM).bold().anchored(Anchor::Middle).at(Layer::Marks, subject, base),
        ]);
        drawn.add(items, it.is_put);
        drawn.handles.extend(scene.manner.handle(&it.what, place, it.anchor));
    }
    drawn
}
