//! Every measure of a fastener beside what is asked of it, met or not.
//!
//! A finding tells only what misses. Whoever places a fastener also wants to see how much room is left, so
//! the same rules are asked here once more and every answer is told. Nothing is judged here that a finding
//! does not judge, and the findings' own rounding holds: drawn and asked are each shown on their worse side.

use crate::findings::scene::{Fact, Scene, Stage};
use crate::findings::seat::SQUARE_WITHIN_DEG;
use crate::findings::tell::{DRAWING, fails, shortfall, worst};
use crate::findings::{angle, bite, borders, drilling, spacing, washers, words};
use crate::joint::Joint;
use crate::standard::{Check, Force, Quantity, Sense, Topic};
use crate::trace::{BodyIx, Reach, Trace};
use crate::unit::compare;

/// One measure of a fastener.
#[derive(Clone, Debug, PartialEq)]
pub struct Measure {
    /// What is measured: `Bite`, `To the upper edge`.
    pub what: String,
    /// As drawn, with the body in which it is measured: `1 1/8" in the rim`.
    pub drawn: String,
    /// What is asked: `1 1/2" (4 D) or more`; empty where nobody asks anything.
    pub asked: String,
    /// Where that is written; empty where nobody asks anything.
    pub source: String,
    /// How the two stand to each other.
    pub stands: Stands,
}

/// How a measure stands to what is asked of it; the worse the later.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Stands {
    /// Nothing is asked of it.
    Unasked,
    /// It does what is asked.
    Met,
    /// It does unless a load pushes that way, and no load is given.
    MetUnlessLoaded,
    /// It does not.
    Missed,
}

/// The measures of a fastener, by its place in the joint, in the order in which a shank is looked at:
/// bite, slope, borders, neighbours, what is drilled, washers. Empty for one that is not there or holds nothing.
#[must_use]
pub fn measures(joint: &Joint, trace: &Trace, which: usize) -> Vec<Measure> {
    let rules = crate::standard::by_id(joint.standard);
    let scene = Scene::new(joint, trace, rules);
    let facts = scene.facts();
    let Some(fact) = facts.get(which).filter(|it| it.stage == Stage::Holds) else { return Vec::new() };
    let mut told = of_bite(fact);
    told.extend(of_cover(fact));
    told.extend(of_angle(fact));
    told.extend(of_borders(fact));
    told.extend(of_neighbours(&scene, &facts, which));
    told.extend(of_drilling(fact));
    told.extend(of_washers(fact));
    told
}

impl Measure {
    /// A measure by a check, whose source, sense and numbers it tells.
    fn by(check: &Check, what: &str, drawn: String, fact: &Fact<'_>) -> Self {
        let (_, asked) = both(check, fact);
        let bound = match check.sense {
            Sense::AtLeast => "or more",
            Sense::AtMost => "or less",
        };
        Self {
            what: what.to_owned(),
            drawn,
            asked: format!("{asked}{} {bound}", words::formula(check)),
            source: words::source(check.source),
            stands: if fails(check) { Stands::Missed } else { Stands::Met },
        }
    }
}

/// A diameter is shown finer than a length.
fn both(check: &Check, fact: &Fact<'_>) -> (String, String) {
    match check.topic {
        Topic::LeadHole | Topic::BoltHole => words::both_fine(check, fact.unit()),
        Topic::Penetration
        | Topic::SidePenetration
        | Topic::NailAngle
        | Topic::NailStart
        | Topic::EndDistance
        | Topic::EdgeDistance
        | Topic::Spacing
        | Topic::RowSpacing
        | Topic::HoleDepth
        | Topic::Washer
        | Topic::EndGrain
        | Topic::Finish
        | Topic::Kind => words::both(check, fact.unit()),
    }
}

/// Of several answers the one to tell: the worst that is not met, else the one that is met most barely.
/// A bare yes or no is not a measure.
fn tightest<'a>(checks: impl IntoIterator<Item = &'a Check>) -> Option<Check> {
    let measures = |it: &&Check| !matches!(it.required, Quantity::Number(_));
    let checks: Vec<Check> = checks.into_iter().filter(measures).cloned().collect();
    worst(checks.iter().cloned()).or_else(|| {
        checks.into_iter().reduce(|best, it| if shortfall(&best) < shortfall(&it) { it } else { best })
    })
}

fn of_bite(fact: &Fact<'_>) -> Vec<Measure> {
    let Some((holding, hold)) = fact.hold() else { return Vec::new() };
    let checks = fact.asks_bite(&hold);
    let of = |topic: Topic| tightest(checks.iter().filter(|it| it.topic == topic));
    let the = fact.scene.the(holding.body);
    let bite = match of(Topic::Penetration) {
        Some(check) => {
            let (drawn, _) = both(&check, fact);
            let without = bite::without_point(&check, &holding);
            Measure::by(&check, "Bite", format!("{drawn}{without} in {the}"), fact)
        }
        None => {
            let drawn = format!("{} in {the}", words::measured(holding.bite_mm, fact.unit()));
            unasked("Bite".to_owned(), drawn)
        }
    };
    let side = of(Topic::SidePenetration).zip(fact.holding_plane()).map(|(check, plane)| {
        let drawn = format!("{} in {}", both(&check, fact).0, fact.scene.the(plane.side));
        Measure::by(&check, "Head side", drawn, fact)
    });
    [Some(bite), side].into_iter().flatten().collect()
}

/// What nobody asks anything of.
fn unasked(what: String, drawn: String) -> Measure {
    Measure { what, drawn, asked: String::new(), source: String::new(), stands: Stands::Unasked }
}

/// The room beside the shank in each body that it holds by; half the shank is the least, or it breaks out.
fn of_cover(fact: &Fact<'_>) -> Option<Measure> {
    let unit = fact.unit();
    let radius = fact.fastener.spec.diameter_mm / 2.0;
    let covers = fact.bearing_bodies().into_iter().filter_map(|it| Some((it, fact.cover_in(it)?)));
    let (body, cover) = covers.reduce(|best, it| if it.1 < best.1 { it } else { best })?;
    Some(Measure {
        what: "Cover".to_owned(),
        drawn: format!("{} in {}", words::fine(cover, unit), fact.scene.the(body)),
        asked: format!("{} (half the shank) or more", words::fine(radius, unit)),
        source: DRAWING.to_owned(),
        stands: if compare::at_least(cover, radius) { Stands::Met } else { Stands::Missed },
    })
}

fn of_angle(fact: &Fact<'_>) -> Vec<Measure> {
    let Some((body, checks)) = angle::asks(fact) else { return Vec::new() };
    let the = fact.scene.the(body);
    [(Topic::NailAngle, "Slope"), (Topic::NailStart, "Start")]
        .into_iter()
        .filter_map(|(topic, what)| {
            let check = tightest(checks.iter().filter(|it| it.topic == topic))?;
            let from = if topic == Topic::NailAngle { "to the face of" } else { "from the end of" };
            let drawn = format!("{} {from} {the}", both(&check, fact).0);
            Some(Measure::by(&check, what, drawn, fact))
        })
        .collect()
}

/// A border of a body, with how much room is left there.
struct Border<'a> {
    body: BodyIx,
    is_end: bool,
    reach: &'a Reach,
    measure: Measure,
    room_mm: f64,
}

fn of_borders(fact: &Fact<'_>) -> Vec<Measure> {
    let mut told: Vec<Border<'_>> = Vec::new();
    for plane in &fact.shank.planes {
        for (body, face) in [(plane.side, &plane.in_side), (plane.main, &plane.in_main)] {
            let Some(face) = face.as_ref().filter(|_| !fact.already_out_of(body)) else { continue };
            let along = face.along.iter().map(|it| (!face.end_grain, it));
            for (is_end, reach) in along.chain(face.across.iter().map(|it| (false, it))) {
                if !reach.mm.is_finite() || fact.scene.member(body).is_none() {
                    continue;
                }
                let asked = borders::asks(fact, plane, body, (face, is_end, reach));
                let border = border(fact, body, (is_end, reach), &asked);
                let same = |it: &&mut Border<'_>| it.body == body && it.is_end == is_end;
                match told.iter_mut().find(same) {
                    Some(old) if tighter(&border, old) => *old = border,
                    Some(_) => {}
                    None => told.push(border),
                }
            }
        }
    }
    told.into_iter().map(|it| it.measure).collect()
}

/// Whether a distance is another one at the head than at the shear plane, where it counts.
fn leans(fact: &Fact<'_>) -> bool {
    fact.shank.head.angle_to_face_deg.is_some_and(|it| it < 90.0 - SQUARE_WITHIN_DEG)
}

fn tighter(one: &Border<'_>, other: &Border<'_>) -> bool {
    let (a, b) = (one.measure.stands, other.measure.stands);
    b < a || a == b && (one.room_mm, one.reach.mm) < (other.room_mm, other.reach.mm)
}

/// One border by what is asked in each case of the load.
fn border<'a>(
    fact: &Fact<'_>,
    body: BodyIx,
    (is_end, reach): (bool, &'a Reach),
    asked: &[Vec<Check>],
) -> Border<'a> {
    let name = if is_end { "end" } else { "edge" };
    let what = format!("To the {} {name}", words::side(reach.toward));
    let place = if leans(fact) { ", where the pieces meet" } else { "" };
    let drawn = format!("{} in {}{place}", words::measured(reach.mm, fact.unit()), fact.scene.the(body));
    let is_open = fact.scene.pushes.is_empty();
    let always = asked.iter().all(|it| it.iter().any(fails));
    // What misses whatever the load is told by its mildest requirement, as the finding tells it.
    let mildest = asked.iter().filter_map(|it| worst(it.iter().cloned()));
    let mildest = mildest.reduce(|a, b| if shortfall(&b) < shortfall(&a) { b } else { a });
    let told = if is_open && always { mildest } else { tightest(asked.iter().flatten()) };
    let Some(check) = told else {
        return Border { body, is_end, reach, measure: unasked(what, drawn), room_mm: reach.mm };
    };
    let mut measure = Measure::by(&check, &what, drawn, fact);
    if fails(&check) && is_open && !always {
        measure.stands = Stands::MetUnlessLoaded;
        measure.asked.push_str(", should it be pushed that way");
    }
    Border { body, is_end, reach, measure, room_mm: -shortfall(&check) }
}

/// The neighbour to which the least room is left, or the nearest where nobody asks anything.
fn of_neighbours(scene: &Scene<'_>, facts: &[Fact<'_>], which: usize) -> Option<Measure> {
    let pairs = scene.trace.neighbours.iter().filter(|it| it.a == which || it.b == which);
    let told = pairs.filter_map(|pair| {
        let (a, b) = (facts.get(pair.a)?, facts.get(pair.b)?);
        if a.stage != Stage::Holds || b.stage != Stage::Holds {
            return None;
        }
        let other = if pair.a == which { pair.b } else { pair.a };
        let unit = scene.unit;
        let (along, across) = (pair.along_mm.abs(), pair.across_mm.abs());
        let mut measure = unasked(
            format!("From fastener {}", other + 1),
            format!(
                "{} along, {} across the grain of {}",
                words::measured(along, unit),
                words::measured(across, unit),
                scene.the(pair.body)
            ),
        );
        let asked = spacing::asks(a, b, pair);
        let hardest = asked.iter().filter_map(|it| hardest_pair(it)).max_by(|x, y| x.0.total_cmp(&y.0));
        if let Some((_, either)) = hardest {
            let ways = either.iter().map(|it| way(it, scene));
            measure.asked = ways.collect::<Vec<_>>().join(" or ");
            measure.source = either.first().map_or(String::new(), |it| words::source(it.source));
            measure.stands = stands_of_pair(&asked, scene);
            if measure.stands == Stands::MetUnlessLoaded {
                measure.asked.push_str(", under some loads");
            }
        }
        Some((measure, along.hypot(across)))
    });
    told.reduce(|best, it| {
        let closer = best.0.stands < it.0.stands || best.0.stands == it.0.stands && it.1 < best.1;
        if closer { it } else { best }
    })
    .map(|it| it.0)
}

/// Of the answers of the stronger force those of which any one is enough, and how much the least of them asks.
fn hardest_pair(checks: &[Check]) -> Option<(f64, Vec<Check>)> {
    let of = |force: Force| {
        let found: Vec<Check> = checks.iter().filter(|it| it.force == force).cloned().collect();
        let most = found.iter().map(|it| it.required.value()).reduce(f64::max)?;
        Some((most, found))
    };
    of(Force::Shall).or_else(|| of(Force::Should))
}

fn way(check: &Check, scene: &Scene<'_>) -> String {
    let (_, asked) = words::both(check, scene.unit);
    let way = if check.topic == Topic::RowSpacing { "across" } else { "along" };
    format!("{asked}{} {way}", words::formula(check))
}

fn stands_of_pair(asked: &[Vec<Check>], scene: &Scene<'_>) -> Stands {
    let misses = |it: &Vec<Check>| spacing::unmet(it).is_some();
    match (asked.iter().any(misses), asked.iter().all(misses)) {
        (false, _) => Stands::Met,
        (true, false) if scene.pushes.is_empty() => Stands::MetUnlessLoaded,
        (true, _) => Stands::Missed,
    }
}

fn of_drilling(fact: &Fact<'_>) -> Vec<Measure> {
    let asked = drilling::asks(fact);
    [(Topic::LeadHole, "Lead hole"), (Topic::HoleDepth, "Hole depth"), (Topic::BoltHole, "Bolt hole")]
        .into_iter()
        .filter_map(|(topic, what)| {
            let of = |it: &(BodyIx, Vec<Check>)| {
                let check = tightest(it.1.iter().filter(|it| it.topic == topic))?;
                Some((it.0, check))
            };
            let found = asked.iter().filter_map(of);
            let (body, check) = found.reduce(|best, it| {
                let worse = shortfall(&best.1) < shortfall(&it.1);
                if worse { it } else { best }
            })?;
            let the = fact.scene.the(body);
            let drawn = match fact.driven.hole_mm {
                Some(_) => format!("{} in {the}", both(&check, fact).0),
                None => format!("none in {the}"),
            };
            Some(Measure::by(&check, what, drawn, fact))
        })
        .collect()
}

fn of_washers(fact: &Fact<'_>) -> Vec<Measure> {
    washers::asks(fact)
        .into_iter()
        .filter_map(|(end, has_one, checks)| {
            let check = tightest(&checks)?;
            let what = if end == "nut" { "Washer at the nut" } else { "Washer at the head" };
            let drawn = if has_one { both(&check, fact).0 } else { "none".to_owned() };
            Some(Measure::by(&check, what, drawn, fact))
        })
        .collect()
}
