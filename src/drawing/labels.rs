//! The names of members and of steel: in the member where there is room, else beside it on a leader that ends with a
//! dot in the member or an arrow on the steel; with material and section where there is room for that, else with the
//! material, else alone.
//!
//! A name that would hide anything is left out; the core strips name every member again. A member that nearer
//! ones hide altogether is named in a view that shows it.

mod setting;

use std::rc::Rc;

use kurbo::{BezPath, Line as Segment, Point, Rect, Shape as _};

use super::annotate::Label;
use super::marks::arrow;
use super::pen::{self, Care, Scene};
use super::place::{Taken, overlap};
use super::put::Drawn;
use super::settle::{Choice, Fixed};
use super::{Fill, Item, Layer, Line, Subject, sizes};
use crate::joint::{Member, Outline};
use crate::trace::{Body, Owner};
use setting::Setting;

pub(super) use setting::Place;

/// A joint of more members and connectors than this is named by its strips alone.
const MOST_NAMES: usize = 16;
/// Radius of the dot in the member at the end of a leader.
const DOT_MM: f64 = 0.5;
/// From the end of a member to the dot that is closest to it.
const END_MM: f64 = 1.8;
/// So many free places for the end of a leader to steel are tried.
const MOST_ENDS: usize = 12;
/// What it costs to leave a name out, to leave its material out, and its section.
const LEFT_OUT: f64 = 60.0;
const ALONE: f64 = 18.0;
const WITHOUT_SIZE: f64 = 9.0;
/// What it costs to lead through what the name is not of.
const THROUGH: f64 = 25.0;
/// What a millimetre of leader costs.
const COST_OF_A_MM: f64 = 0.1;
/// A leader of at most this cost leads through nothing, and is no longer than it should be.
const DIRECT: f64 = 20.0;
/// A name that may not stand far from its member stands at most so far off.
const NEAR_MM: f64 = 13.0;
/// A piece of the edge of steel that an arrow may stand on.
const LEAST_EDGE_MM: f64 = 2.0;

/// A member or a connector with its name.
pub(super) struct Name {
    subject: Subject,
    /// With material and section, with its material, and alone.
    full: Setting,
    long: Setting,
    short: Setting,
    at: Option<Place>,
    /// Free places for the end of a leader.
    ends: Vec<Point>,
    seen: Seen,
    /// The box round all bodies.
    all: Rect,
    what: String,
    is_put: bool,
    /// It may stand far from its member; and a full name beside it is liked better than a shorter one in it.
    may_be_far: bool,
}

/// All bodies on paper, as straight pieces, each with the box round it.
type Bodies = Rc<Vec<(BezPath, Rect)>>;

/// The part of a body that can be seen.
struct Seen {
    bodies: Bodies,
    /// Which of them it is.
    own: usize,
    bounds: Rect,
    /// Those that lie nearer to the viewer.
    nearer: Vec<usize>,
    /// It is steel: thin, and pointed at on its edge.
    is_steel: bool,
}

impl Seen {
    fn is_in(&self, body: usize, place: Point) -> bool {
        let (outline, bounds) = &self.bodies[body];
        bounds.inflate(1e-9, 1e-9).contains(place) && outline.winding(place) != 0
    }

    fn has(&self, place: Point) -> bool {
        self.is_in(self.own, place) && !self.is_hidden(place)
    }

    fn is_hidden(&self, place: Point) -> bool {
        self.nearer.iter().any(|it| self.is_in(*it, place))
    }

    /// Whether words there lie on bare paper.
    fn is_bare(&self, room: Rect) -> bool {
        !self.bodies.iter().any(|it| overlap(it.1, room))
    }

    /// What it costs to come from this knee to that end.
    fn way_cost(&self, knee: Point, end: Point) -> f64 {
        let way = (end - knee).hypot() * COST_OF_A_MM;
        let is_through = (1..9_u8)
            .map(|it| knee.lerp(end, f64::from(it) / 10.0))
            .any(|it| !self.is_in(self.own, it) && (0..self.bodies.len()).any(|other| self.is_in(other, it)));
        if is_through { way + THROUGH } else { way }
    }
}

/// A body that is named, with what it is and its words: name, material, section.
struct Named<'a> {
    body: usize,
    /// The plates of a connector.
    plates: Vec<usize>,
    subject: Subject,
    what: String,
    name: &'a str,
    material: &'a str,
    section: Option<String>,
}

/// Members, and of each connector its largest plate.
fn named<'a>(scene: &Scene<'a>, bodies: &Bodies) -> Vec<Named<'a>> {
    let (joint, unit) = (scene.inputs.joint, scene.inputs.joint.show_lengths_in);
    let reach = |it: usize| bodies[it].1.width().max(bodies[it].1.height());
    let mut named: Vec<Named<'_>> = Vec::new();
    for (n, body) in scene.inputs.trace.bodies.iter().enumerate() {
        match body.owner {
            Owner::Member(number) => {
                let Some(member) = joint.members.get(number) else { continue };
                named.push(Named {
                    body: n,
                    plates: Vec::new(),
                    subject: Subject::Member(member.id.clone()),
                    what: format!("name {}", member.id),
                    name: member.shown_name(),
                    material: &member.material.label,
                    section: whole(scene, number, member).and_then(|it| sizes::section(it, body, unit)),
                });
            }
            Owner::Plate { connector, .. } => {
                let Some(connector) = joint.connectors.get(connector) else { continue };
                let subject = Subject::Connector(connector.id.clone());
                if let Some(known) = named.iter_mut().find(|it| it.subject == subject) {
                    known.plates.push(n);
                    known.body = if reach(known.body) < reach(n) { n } else { known.body };
                    continue;
                }
                named.push(Named {
                    body: n,
                    plates: vec![n],
                    subject,
                    what: format!("name {}", connector.id),
                    name: connector.shown_name(),
                    material: &connector.material.label,
                    section: Some(sizes::thickness(connector, unit)),
                });
            }
        }
    }
    named
}

/// A member as it was drawn, from whatever side it is seen; none where only what is seen would tell its size.
fn whole<'a>(scene: &Scene<'a>, number: usize, seen: &'a Member) -> Option<&'a Member> {
    let Some(holder) = scene.holder else { return Some(seen) };
    let is_plain = |it: &&Member| !matches!(it.outline, Outline::Polygon(_) | Outline::Path(_));
    holder.joint.members.get(number).filter(is_plain)
}

/// A name for every member and connector that is not named yet, placed one after the other.
pub(super) fn place(scene: &Scene<'_>, edges: &Taken, taken: &mut Taken) -> Vec<Name> {
    let bodies = &scene.inputs.trace.bodies;
    if MOST_NAMES < bodies.iter().filter(|it| matches!(it.owner, Owner::Member(_))).count() {
        return Vec::new();
    }
    let outline = |it: &Body| {
        let outline = pen::flat(&scene.outline(&it.region));
        let bounds = outline.bounding_box();
        (outline, bounds)
    };
    let on_paper: Bodies = Rc::new(bodies.iter().map(outline).collect());
    let all = on_paper.iter().map(|it| it.1).reduce(|a, b| a.union(b)).unwrap_or_default();
    let mut names: Vec<Name> = Vec::new();
    for it in named(scene, &on_paper).into_iter().take(MOST_NAMES) {
        if scene.manner.is_named(&it.subject) {
            continue;
        }
        let seen = seen(bodies, it.body, &on_paper);
        let ends = if seen.is_steel { on_edge(&seen, &it.plates, taken) } else { dots(&seen, edges, taken) };
        let put = scene.manner.put(&it.what, seen.bounds.center());
        let tells_nothing = it.material.is_empty() || it.material.eq_ignore_ascii_case(it.name);
        let long = if tells_nothing { it.name.to_owned() } else { format!("{}, {}", it.name, it.material) };
        let full = std::iter::once(long.clone()).chain(it.section).collect();
        let mut name = Name {
            subject: it.subject,
            full: Setting::new(scene, full),
            long: Setting::new(scene, vec![long]),
            short: Setting::new(scene, vec![it.name.to_owned()]),
            at: None,
            ends,
            seen,
            all,
            what: it.what,
            is_put: put.is_some(),
            may_be_far: scene.manner.care == Care::Full,
        };
        name.at = name.find(edges, taken);
        if let Some(middle) = put {
            name.at = Some(name.put_at(middle));
        }
        if let Some(found) = &name.at {
            taken.add_box(found.room);
            for pair in found.leader.windows(2) {
                taken.add_stroke(pair[0], pair[1], 0.2);
            }
        }
        names.push(name);
    }
    names
}

/// What is seen of a body.
fn seen(bodies: &[Body], own: usize, on_paper: &Bodies) -> Seen {
    let (body, bounds) = (&bodies[own], on_paper[own].1);
    let is_steel = matches!(body.owner, Owner::Plate { .. });
    // Of two in one depth the later one takes the place, as in the trace.
    let is_nearer =
        |(n, it): &(usize, &Body)| body.near_mm < it.near_mm || (body.near_mm <= it.near_mm && own < *n);
    let nearer = bodies.iter().enumerate().filter(is_nearer).map(|it| it.0);
    let nearer = nearer.filter(|it| on_paper[*it].1.overlaps(bounds)).collect();
    Seen { bodies: Rc::clone(on_paper), own, bounds, nearer, is_steel }
}

/// The names as drawn.
pub(super) fn draw(scene: &Scene<'_>, names: &[Name]) -> Drawn {
    let mut drawn = Drawn::default();
    for it in names {
        let Some(place) = &it.at else { continue };
        drawn.add(items_of(place, it), it.is_put);
        drawn.handles.extend(scene.manner.handle(&it.what, place.room, it.seen.bounds.center()));
    }
    drawn
}

fn items_of(place: &Place, name: &Name) -> Vec<Item> {
    let subject = Some(name.subject.clone());
    let mut items = Vec::new();
    if let [.., knee, end] = place.leader.as_slice() {
        let mut line = pen::open_line(&place.leader);
        if name.seen.is_steel {
            line.extend(arrow(*knee, *end));
        }
        items.push(pen::path(Layer::Notes, subject.clone(), line, None, Some(Line::Dimension)));
        if !name.seen.is_steel {
            let dot = pen::circle(*end, DOT_MM);
            items.push(pen::path(Layer::Notes, subject.clone(), dot, Some(Fill::Shank), None));
        }
    } else {
        // Hatching must not run through words.
        let room = place.room.to_path(pen::TRUE_WITHIN_MM);
        items.push(pen::path(Layer::Notes, subject.clone(), room, Some(Fill::Paper), None));
    }
    let words = place.lines.iter().cloned();
    items.extend(words.map(|(words, at)| words.at(Layer::Notes, subject.clone(), at)));
    items
}

impl Name {
    /// Where the user has put its middle, turned as it was; on a leader where that is beside the member.
    fn put_at(&self, middle: Point) -> Place {
        let turn_deg = self.at.as_ref().map_or(0.0, |it| it.turn_deg);
        if self.seen.has(middle) {
            return self.full.around(middle, turn_deg).moved_to(middle);
        }
        let end = self.ends.first().copied().unwrap_or_else(|| self.seen.bounds.center());
        self.full.facing(middle, turn_deg, end).moved_to(middle).leading_to(end)
    }

    /// The first place that hides nothing.
    fn find(&self, edges: &Taken, taken: &Taken) -> Option<Place> {
        let is_free = |it: &Place| {
            let off = |pair: &[Point]| taken.is_free_stroke(pair[0], pair[1]);
            taken.is_free_box(it.room) && edges.is_free_box(it.room) && it.leader.windows(2).all(off)
        };
        let led = |it: Place| {
            let knee = *it.leader.last()?;
            let is_free = |end: &&Point| it.may_lead_to(**end) && taken.is_free_stroke(knee, **end);
            let end = self.ends.iter().find(is_free)?;
            let cost = self.seen.way_cost(knee, *end);
            Some(it.led_to(*end, cost))
        };
        let inside = |setting: &Setting| {
            if self.seen.is_steel { None } else { setting.inside(&self.seen).find(is_free) }
        };
        let beside = |setting: &Setting| {
            let led = self.beside(setting).filter(is_free).filter_map(led);
            led.min_by(|a, b| a.wish.total_cmp(&b.wish))
        };
        let full = || if self.may_be_far { beside(&self.full) } else { None };
        let direct = |it: &Place| it.wish < DIRECT;
        inside(&self.full)
            .or_else(|| full().filter(direct))
            .or_else(|| inside(&self.long))
            .or_else(|| beside(&self.long))
            .or_else(|| inside(&self.short))
    }

    /// On the paper beside it, and above and below the joint.
    fn beside<'a>(&'a self, setting: &'a Setting) -> impl Iterator<Item = Place> + 'a {
        let of = self.seen.bounds;
        let is_far = |off: f64| NEAR_MM < off;
        let near = setting
            .near(of)
            .filter(move |(off, it)| (self.may_be_far || !is_far(*off)) && self.seen.is_bare(it.room));
        let below = setting.below(self.all, of).filter(|_| self.may_be_far);
        setting.above(self.all, of).chain(below).chain(near.map(|it| it.1))
    }
}

impl Label for Name {
    type Place = Option<Place>;

    fn place(&self) -> &Option<Place> {
        &self.at
    }

    fn put(&mut self, place: Option<Place>) {
        self.at = place;
    }

    fn others(&self) -> Vec<Option<Place>> {
        if self.is_put {
            return Vec::new();
        }
        let mut all = vec![None];
        for (setting, cost) in [(&self.full, 0.0), (&self.long, WITHOUT_SIZE), (&self.short, ALONE)] {
            let led = |it: Place| {
                let knee = it.leader.last().copied().unwrap_or_default();
                let ends: Vec<Point> = self.ends.iter().copied().filter(|end| it.may_lead_to(*end)).collect();
                ends.into_iter().map(move |end| it.clone().led_to(end, self.seen.way_cost(knee, end)))
            };
            let inside = setting.inside(&self.seen).filter(|_| !self.seen.is_steel);
            let places = inside.chain(self.beside(setting).flat_map(led));
            all.extend(places.map(|it| Some(Place { wish: it.wish + cost, ..it })));
        }
        all
    }

    fn choice(&self, place: &Option<Place>, fixed: &Fixed<'_>) -> Choice {
        let Some(it) = place else { return Choice::none(LEFT_OUT) };
        let strokes = it.leader.windows(2).map(|pair| Segment::new(pair[0], pair[1])).collect();
        Choice::new(vec![it.room], strokes, (it.wish, 0.0), fixed).over_thin_lines(fixed)
    }
}

/// Free places well inside what is seen of a member, one at each of several heights, those at its ends first; and one
/// close to either end, beyond all that crosses it.
fn dots(seen: &Seen, edges: &Taken, taken: &Taken) -> Vec<Point> {
    let bounds = seen.bounds;
    let parts = [0.12, 0.88, 0.5, 0.95, 0.05, 0.25, 0.75, 0.4, 0.6];
    let room = |it: &Point| Rect::from_center_size(*it, (4.0 * DOT_MM, 4.0 * DOT_MM));
    let is_thin = bounds.width().min(bounds.height()) < 12.0 * DOT_MM;
    let is_free =
        |it: &Point| seen.has(*it) && taken.is_free_box(room(it)) && (is_thin || edges.is_free_box(room(it)));
    let at = |x: f64, y: f64| Point::new(bounds.x0 + bounds.width() * x, bounds.y0 + bounds.height() * y);
    let close = (END_MM / bounds.height()).min(0.5);
    let parts = parts.into_iter().chain([close, 1.0 - close]);
    parts.filter_map(|y| [0.5, 0.3, 0.7].into_iter().map(|x| at(x, y)).find(is_free)).collect()
}

/// Free places on the long edges of steel.
fn on_edge(seen: &Seen, plates: &[usize], taken: &Taken) -> Vec<Point> {
    let mut edges: Vec<(Point, Point)> =
        plates.iter().flat_map(|it| pen::chords(&seen.bodies[*it].0)).collect();
    edges.retain(|(a, b)| LEAST_EDGE_MM < (*b - *a).hypot());
    edges.sort_by(|a, b| (b.1 - b.0).hypot2().total_cmp(&(a.1 - a.0).hypot2()));
    let places =
        edges.iter().flat_map(|(a, b)| [0.5, 0.15, 0.85, 0.3, 0.7, 0.05, 0.95].map(|part| a.lerp(*b, part)));
    let room = |it: &Point| Rect::from_center_size(*it, (2.0 * DOT_MM, 2.0 * DOT_MM));
    places.filter(|it| !seen.is_hidden(*it) && taken.is_free_box(room(it))).take(MOST_ENDS).collect()
}
