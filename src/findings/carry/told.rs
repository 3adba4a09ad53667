//! The findings about what is carried: more asked than there is, no value, a rating that does not hold.

use super::bodies::Group;
use super::rating::Rated;
use super::solve::{Along, Case, Solver};
use super::{Carries, Splits, judged, written};
use crate::findings::scene::{Fact, Scene};
use crate::findings::{Finding, Kind, Severity, words};
use crate::unit::force;
use crate::unit::length::Rounding;

/// So many fasteners under so many cases are worked out after every edit; the rest is said to be left out.
const MOST_LOOKED_AT: usize = 20_000;

/// Whether a load was held against what something carries.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(in crate::findings) enum Held {
    /// No load of known size is given.
    NoLoad,
    /// None of those that are given comes to anything with a value.
    Nothing,
    /// Some load was.
    Some,
}

/// What is told of each fastener that a load of known size reaches, of each load that reaches none, and of each
/// connector with a rating.
pub(in crate::findings) fn carried(scene: &Scene<'_>, facts: &[Fact<'_>]) -> (Vec<(usize, Finding)>, Held) {
    let rated = scene.joint.connectors.iter().any(|it| it.rating.is_some());
    let is_asked = Solver::is_asked(scene);
    let mut held = if is_asked { Held::Nothing } else { Held::NoLoad };
    if !rated && !is_asked {
        return (Vec::new(), held);
    }
    let solver = Solver::new(scene, facts);
    let mut told = Vec::new();
    let mut hold = |it: bool| {
        if it {
            held = Held::Some;
        }
    };
    let mut looked_at = 0;
    for fact in facts {
        let asked = solver.cases.iter().filter(|it| it.path.shares.contains_key(&fact.ix)).count();
        looked_at += asked;
        if 0 < asked && looked_at <= MOST_LOOKED_AT {
            let carries = solver.hardest(fact.ix, Along::IfPulled);
            hold(carries.is_held());
            let case = carries.case.map_or("", |it| &solver.cases[it].told.name);
            told.extend(of_fastener(fact, &carries, case).into_iter().map(|it| (fact.ix, it)));
        }
    }
    told.extend(solver.cases.iter().filter_map(|it| of_load(scene, it)).map(|it| (usize::MAX, it)));
    told.extend(solver.cases.iter().flat_map(|it| of_ends(scene, it)).map(|it| (usize::MAX, it)));
    for it in super::splits::splits(&solver) {
        hold(it.ratio.is_some());
        told.extend(of_splitting(scene, &it, &solver.cases[it.case].told.name).map(|it| (usize::MAX, it)));
    }
    if rated {
        let ratings = super::rating::ratings(&solver);
        hold(ratings.iter().any(|it| it.demand_n.is_some_and(|it| judged::LEAST_N < it)));
        told.extend(ratings.iter().flat_map(|it| of_rating(scene, it)).map(|it| (usize::MAX, it)));
    }
    (told, held)
}

/// A load that no fastener takes: where a member merely lies on another, or in the seat of a connector.
fn of_load(scene: &Scene<'_>, case: &Case) -> Option<Finding> {
    let [load] = case.told.loads[..] else { return None };
    if !case.path.shares.is_empty() {
        return None;
    }
    let (newtons, on) = (scene.joint.loads[load].newtons?, &scene.joint.loads[load].on);
    let member = scene.joint.members.iter().find(|it| it.id == *on)?;
    let name = member.shown_name();
    let says = format!(
        "Load {} of {} on the {name} reaches no fastener: none joins the {name} to anything. Nothing of it was held \
         against what the joint carries.",
        load + 1,
        force::format(newtons, scene.unit, Rounding::Up)
    );
    Some(not_carried(on, newtons, says))
}

/// A load of so many newtons that comes to an end at the member or steel with this id.
fn not_carried(at: &str, newtons: f64, says: String) -> Finding {
    let finding = Finding::drawn(Kind::NotCarried, Severity::Caution, vec![at.to_owned()], says);
    Finding { measured: Some(newtons), unit: "N", ..finding }
}

/// Steel that a load goes into and out of which no fastener takes it: it hangs in the air.
fn of_ends(scene: &Scene<'_>, case: &Case) -> Vec<Finding> {
    let [load] = case.told.loads[..] else { return Vec::new() };
    let Some(newtons) = scene.joint.loads[load].newtons else { return Vec::new() };
    let ends = case.path.ends.iter().filter_map(|it| match *it {
        Group::Connector(at) => scene.joint.connectors.get(at),
        Group::Member(_) => None,
    });
    let of_steel = ends.map(|steel| {
        let name = steel.shown_name();
        let says = format!(
            "What load {} of {} puts into the {name} is passed on by nothing: it has no other fastener.",
            load + 1,
            force::format(newtons, scene.unit, Rounding::Up)
        );
        not_carried(&steel.id, newtons, says)
    });
    of_steel.collect()
}

/// Whether [`carried`] leaves some of a joint out.
pub(in crate::findings) fn is_too_large(scene: &Scene<'_>) -> bool {
    let loads = scene.joint.loads.iter().filter(|it| it.newtons.is_some()).count();
    MOST_LOOKED_AT < scene.joint.fasteners.len() * loads
}

fn of_fastener(fact: &Fact<'_>, carries: &Carries, case: &str) -> Vec<Finding> {
    if let Some(why) = carries.unanswered() {
        return vec![no_value(fact, carries, (why, case))];
    }
    let Some(ratio) = carries.combined.as_ref().map(|it| it.ratio) else { return Vec::new() };
    let over = judged::is_over(ratio).then(|| overloaded(fact, carries, (ratio, case)));
    over.into_iter().chain(farther(fact, carries, case)).collect()
}

/// A farther plane at which more may come to it than it carries.
fn farther(fact: &Fact<'_>, carries: &Carries, case: &str) -> Option<Finding> {
    // What may cross a farther plane is the most that can, so that it is no fault for sure.
    let farther = carries.planes.iter().filter(|it| !it.is_certain);
    let worst = farther.filter(|it| it.ratio.is_some_and(judged::is_over));
    let plane = worst.max_by(|a, b| a.ratio.unwrap_or(0.0).total_cmp(&b.ratio.unwrap_or(0.0)))?;
    let (demand_n, adjusted_n) = (plane.demand_n?, plane.value.as_ref().ok()?.adjusted_n);
    let unit = fact.unit();
    let says = format!(
        "Up to {} of {case} may cross from {} to {}, where it carries {}: what {} keeps of it is not known.",
        force::format(demand_n, unit, Rounding::Up),
        plane.side,
        plane.main,
        force::format(adjusted_n, unit, Rounding::Down),
        plane.side,
    );
    Some(told(fact, (Severity::Caution, says), (demand_n, adjusted_n), carries))
}

fn overloaded(fact: &Fact<'_>, carries: &Carries, (ratio, case): (f64, &str)) -> Finding {
    let unit = fact.unit();
    let demand_n = carries.demand_n().unwrap_or(0.0);
    let allowed_n = if ratio.is_finite() { demand_n / ratio } else { 0.0 };
    let pull_n = carries.along.as_ref().and_then(|it| it.demand_n).unwrap_or(0.0);
    let how = match carries.governing().filter(|_| pull_n <= judged::LEAST_N) {
        Some(plane) => {
            let mode = plane.value.as_ref().map_or("", |it| it.mode);
            format!(
                "from {} to {} it carries {} (mode {mode})",
                plane.side,
                plane.main,
                force::format(allowed_n, unit, Rounding::Down)
            )
        }
        None => {
            format!("across and along at once it carries {}", force::format(allowed_n, unit, Rounding::Down))
        }
    };
    let says = format!(
        "By {case}, {} comes to it in equal shares; {how}, as drawn.",
        force::format(demand_n, unit, Rounding::Up)
    );
    told(fact, (Severity::Fault, says), (demand_n, allowed_n), carries)
}

fn told(
    fact: &Fact<'_>,
    (severity, says): (Severity, String),
    (demand_n, allowed_n): (f64, f64),
    carries: &Carries,
) -> Finding {
    let source = carries
        .governing()
        .and_then(|it| it.value.as_ref().ok())
        .and_then(|it| it.working.last())
        .map_or_else(String::new, |it| words::source(it.source));
    let mut finding = fact
        .tell(Kind::Overloaded, severity, says)
        .worked(written::short(carries, fact.scene.rules.works_in()))
        .from(&source)
        .at(fact.at(carries.planes.first().map_or(0.0, |_| first_plane_mm(fact))));
    (finding.measured, finding.required, finding.unit) = (Some(demand_n), Some(allowed_n), "N");
    finding
}

fn first_plane_mm(fact: &Fact<'_>) -> f64 {
    fact.shank.planes.first().map_or(0.0, |it| it.at_mm)
}

fn no_value(
    fact: &Fact<'_>,
    carries: &Carries,
    (why, case): (&crate::standard::capacity::NoValue, &str),
) -> Finding {
    let asked =
        carries.planes.iter().filter(|it| it.is_certain).filter_map(|it| it.demand_n).fold(0.0, f64::max);
    let pulled = carries.along.as_ref().and_then(|it| it.demand_n).unwrap_or(0.0);
    let demand_n = asked.hypot(pulled);
    let says = format!(
        "By {case}, {} comes to it, and there is no value to hold against that: {}.",
        force::format(demand_n, fact.unit(), Rounding::Up),
        why.because
    );
    let mut finding = fact
        .tell(Kind::NoValue, Severity::Caution, says)
        .from(&words::source(why.source))
        .at(fact.at(first_plane_mm(fact)));
    (finding.measured, finding.unit) = (Some(demand_n), "N");
    finding
}

/// More than the member carries is a caution, and a fault where half of it is too much as well: at least half of
/// what pushes a member across its grain shears it on one side.
fn of_splitting(scene: &Scene<'_>, it: &Splits, case: &str) -> Option<Finding> {
    let value = it.value.as_ref().ok()?;
    let ratio = it.ratio.filter(|it| judged::is_over(*it))?;
    let severity = if judged::is_over(ratio / 2.0) { Severity::Fault } else { Severity::Caution };
    let member = scene.joint.members.iter().find(|of| of.id == it.member)?;
    let says = format!(
        "By {case}, up to {} shears the {} across its grain at its fasteners; it splits at {} by the formula for \
         that, as drawn.",
        force::format(it.demand_n, scene.unit, Rounding::Up),
        member.shown_name(),
        force::format(value.adjusted_n, scene.unit, Rounding::Down),
    );
    let source = value.working.first().map_or_else(String::new, |it| words::source(it.source));
    let mut finding = Finding::drawn(Kind::Overloaded, severity, vec![it.member.clone()], says).from(&source);
    (finding.measured, finding.required, finding.unit) = (Some(it.demand_n), Some(value.adjusted_n), "N");
    Some(finding.worked(written::short_split(it, scene.joint)))
}

fn of_rating(scene: &Scene<'_>, rated: &Rated) -> Vec<Finding> {
    let Some(connector) = scene.joint.connectors.iter().find(|it| it.id == rated.connector) else {
        return Vec::new();
    };
    let (unit, name) = (scene.unit, connector.shown_name());
    let typed = force::format(rated.newtons, unit, Rounding::Down);
    let mut told = Vec::new();
    if let Some(demand_n) = rated.demand_n.filter(|it| judged::is_over(judged::ratio(*it, rated.newtons))) {
        let says = format!(
            "{} goes through the {name} the way that its rating is for; the rating as typed is {typed}.",
            force::format(demand_n, unit, Rounding::Up)
        );
        let mut finding = Finding::drawn(Kind::Overloaded, Severity::Fault, vec![connector.id.clone()], says)
            .from("rating as typed");
        (finding.measured, finding.required, finding.unit) = (Some(demand_n), Some(rated.newtons), "N");
        told.push(finding);
    }
    if rated.differs.is_empty() {
        return told;
    }
    let all: Vec<String> = rated.differs.iter().map(|it| it.says.clone()).collect();
    let indication = rated.ratio.map_or_else(
        || " What it still carries cannot be told from it.".to_owned(),
        |it| {
            format!(
                " What is worked out for the fastening as drawn is {} of what is worked out for the one presumed: \
                 an indication, not a rating.",
                words::part(it)
            )
        },
    );
    let says = format!(
        "The rating of {typed} does not hold for the {name} as drawn: {}.{indication}",
        words::list(&all)
    );
    let mut subjects = vec![connector.id.clone()];
    for it in &rated.differs {
        if !subjects.contains(&it.subject) {
            subjects.push(it.subject.clone());
        }
    }
    let mut finding =
        Finding::drawn(Kind::BelowRating, Severity::Caution, subjects, says).from("rating as typed");
    (finding.measured, finding.required) = (rated.ratio, rated.ratio.map(|_| 1.0));
    let sums = rated.sums_n.iter().map(|it| {
        let text = |newtons| force::format(newtons, unit, Rounding::Nearest);
        format!("as drawn {} / as presumed {}", text(it[0]), text(it[1]))
    });
    told.push(finding.worked(sums));
    told
}
