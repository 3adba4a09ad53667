//! Bite in the holding body, and the thickness of the piece on the head side.

use crate::findings::scene::Fact;
use crate::findings::tell::{severity, worst};
use crate::findings::{Finding, Kind, words};
use crate::standard::{Check, Hold, Topic};
use crate::trace::{Holding, What};
use crate::unit::compare::at_least;

pub(super) fn bite(fact: &Fact<'_>) -> Vec<Finding> {
    let Some((holding, hold)) = fact.hold() else { return Vec::new() };
    let checks = fact.asks_bite(&hold);
    let of = |topic: Topic| worst(checks.iter().filter(|it| it.topic == topic).cloned());
    let short = of(Topic::Penetration).map(|check| short_bite(fact, &holding, &check));
    let thin = of(Topic::SidePenetration).and_then(|check| thin_side(fact, &check));
    short.into_iter().chain(thin).collect()
}

fn short_bite(fact: &Fact<'_>, holding: &Holding, check: &Check) -> Finding {
    let unit = fact.unit();
    let (drawn, asked) = words::both(check, unit);
    let the = fact.scene.the(holding.body);
    let gap = fact
        .shank
        .core
        .iter()
        .filter(|it| it.what == What::Gap && it.to_mm <= holding.enters_at_mm)
        .map(|it| it.to_mm - it.from_mm)
        .sum::<f64>();
    let because = if 0.0 < gap {
        format!(" A gap of {} lies before it.", words::measured(gap, unit))
    } else {
        String::new()
    };
    let without = without_point(check, holding);
    let formula = words::formula(check);
    let says = format!("Only {drawn} of bite{without} in {the}; {asked}{formula} is asked for.{because}");
    let lies = format!(
        "the shank is in {the} from {} to {} below the head",
        words::fine(holding.enters_at_mm, unit),
        words::fine(holding.leaves_at_mm, unit)
    );
    let counted = check.measured.value();
    let point = format!(
        "bite {} - {} of the point in it = {}",
        words::fine(holding.bite_mm, unit),
        words::fine(holding.bite_mm - counted, unit),
        words::fine(counted, unit)
    );
    fact.tell_of(Kind::ShortBite, severity(check), &[holding.body], says)
        .worked(std::iter::once(lies).chain((!without.is_empty()).then_some(point)))
        .by(check, unit)
        .at(fact.at(f64::midpoint(holding.enters_at_mm, holding.leaves_at_mm)))
}

/// What is to be said where a standard does not count the point: so that the bite is not held for the whole one.
pub(super) fn without_point(check: &Check, holding: &Holding) -> &'static str {
    if at_least(check.measured.value(), holding.bite_mm) { "" } else { " without the point" }
}

fn thin_side(fact: &Fact<'_>, check: &Check) -> Option<Finding> {
    let side = fact.holding_plane()?.side;
    let (drawn, asked) = words::both(check, fact.unit());
    let says = format!(
        "{} is only {drawn} thick on the shank; {asked}{} is asked for.",
        capital(&fact.scene.the(side)),
        words::formula(check)
    );
    let place = fact.bearing_runs().find(|it| it.0 == side).map_or(0.0, |it| it.1.from_mm);
    Some(
        fact.tell_of(Kind::ThinSide, severity(check), &[side], says)
            .by(check, fact.unit())
            .at(fact.at(place)),
    )
}

impl Fact<'_> {
    /// What is asked of the bite.
    pub(super) fn asks_bite(&self, hold: &Hold<'_>) -> Vec<Check> {
        let driven = &self.driven;
        self.scene
            .ask(|it| it.penetration(driven, hold), || self.scene.rules.practice().penetration(driven, hold))
    }
}

/// With its first letter in upper case.
pub(super) fn capital(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or(String::new(), |it| it.to_uppercase().chain(letters).collect())
}
