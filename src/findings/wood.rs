//! What the wood does to a fastener: end grain, coating, kinds that do not suit.

use crate::findings::bite::capital;
use crate::findings::holes::kind_name;
use crate::findings::scene::Fact;
use crate::findings::tell::{severity, worse, worst};
use crate::findings::{Finding, Kind, words};
use crate::joint::{Service, Treatment};
use crate::standard::{Check, Force, Surround, common};
use crate::trace::BodyIx;

/// What the numbers of [`common::finish_class`] mean.
const CLASSES: &str = "classes: 0 bare steel, 1 electroplated, 2 mechanically galvanized, 3 hot-dip \
                       galvanized, 4 stainless, silicon bronze or copper";

pub(super) fn end_grain(fact: &Fact<'_>) -> Vec<Finding> {
    let Some((holding, hold)) = fact.hold() else { return Vec::new() };
    let Some(check) = worst(fact.scene.rules.end_grain(&fact.driven, &hold)) else { return Vec::new() };
    let pull = match hold.withdrawal {
        Some(true) => " and the load pulls it out",
        Some(false) | None => "",
    };
    let the = fact.scene.the(holding.body);
    let pulled = match hold.withdrawal {
        Some(true) => "a load pulls along the shank",
        Some(false) => "the loads push across the shank alone",
        None => "no load is given: it may be pulled along the shank, or pushed across it",
    };
    let entered = format!("{the} is entered by a face that its grain runs out at: end grain");
    let there = match check.force {
        Force::Shall => "it may carry nothing there",
        Force::Should => "it holds less there",
    };
    let says = format!("It is in the end grain of {the}{pull}; {there}.");
    vec![
        fact.tell_of(Kind::EndGrain, severity(&check), &[holding.body], says)
            .worked([entered, pulled.to_owned()])
            .by(&check, fact.unit())
            .at(fact.at(holding.enters_at_mm)),
    ]
}

pub(super) fn unsuitable(fact: &Fact<'_>) -> Vec<Finding> {
    let Some((holding, hold)) = fact.hold() else { return Vec::new() };
    let asked = fact
        .scene
        .ask(|it| it.kind(&fact.driven, &hold), || fact.scene.rules.practice().kind(&fact.driven, &hold));
    let Some(check) = worst(asked) else { return Vec::new() };
    let says = format!(
        "A {} is not for {}: {} must hold it.",
        kind_name(fact.kind()),
        hold.material.label,
        fact.scene.the(holding.body)
    );
    vec![
        fact.tell_of(Kind::Unsuitable, severity(&check), &[holding.body], says)
            .by(&check, fact.unit())
            .at(fact.at(holding.enters_at_mm)),
    ]
}

/// The worst of all the bodies that it is in, told once with their names.
pub(super) fn finish(fact: &Fact<'_>) -> Vec<Finding> {
    let mut told: Vec<(BodyIx, Check)> = Vec::new();
    for body in fact.bearing_bodies() {
        let Some(material) = fact.scene.material(body) else { continue };
        let surround = Surround { material, treatment: fact.scene.treatment(body) };
        let asked = fact.scene.ask(
            |it| it.finish(&fact.driven, &surround),
            || fact.scene.rules.practice().finish(&fact.driven, &surround),
        );
        told.extend(worst(asked).map(|it| (body, it)));
    }
    let Some((body, check)) =
        told.iter().reduce(|a, b| if worse(&b.1, &a.1) { b } else { a }).map(|it| (it.0, it.1.clone()))
    else {
        return Vec::new();
    };
    let bodies: Vec<BodyIx> = told.iter().map(|it| it.0).collect();
    let mut names: Vec<String> = bodies.iter().map(|it| fact.scene.the(*it)).collect();
    // What is said of the one is said of it alone.
    if let Some(at) = bodies.iter().position(|it| *it == body) {
        let named = names.remove(at);
        names.push(format!("{named}, {}", why(fact, body)));
    }
    let says = format!(
        "{} does not suit {}; {} or better is asked for.",
        capital(finish_name(fact.fastener.finish)),
        words::list(&names),
        class_name(&check)
    );
    vec![
        fact.tell_of(Kind::Finish, severity(&check), &bodies, says)
            .by(&check, fact.unit())
            .worked([CLASSES.to_owned()])
            .at(fact.shank.head_at),
    ]
}

/// The class of finish that is asked for, by the least finish that is in it.
fn class_name(check: &Check) -> &'static str {
    use crate::joint::Finish;
    let finishes =
        [Finish::Electroplated, Finish::MechanicallyGalvanized, Finish::HotDipGalvanized, Finish::Stainless];
    let least = finishes
        .into_iter()
        .find(|it| crate::unit::compare::at_least(common::finish_class(*it).value(), check.required.value()));
    finish_name(least.unwrap_or(Finish::Stainless))
}

fn why(fact: &Fact<'_>, body: BodyIx) -> &'static str {
    match (fact.scene.treatment(body), fact.scene.joint.service) {
        (Treatment::Preservative, _) => "which is treated with a preservative",
        (Treatment::FireRetardant, _) => "which is treated with a fire retardant",
        (Treatment::Borate, Service::Wet | Service::Humid) => "which is treated with borate and gets damp",
        (Treatment::Borate, Service::Dry) => "which is treated with borate",
        (Treatment::None, Service::Wet) => "which gets wet",
        (Treatment::None, Service::Humid) => "which gets damp",
        (Treatment::None, Service::Dry) => "by its wood",
    }
}

/// A finish as the trade says it.
pub(super) fn finish_name(finish: crate::joint::Finish) -> &'static str {
    use crate::joint::Finish;
    match finish {
        Finish::Bright => "bare steel",
        Finish::Electroplated => "electroplated steel",
        Finish::HotDipGalvanized => "hot-dip galvanized steel",
        Finish::MechanicallyGalvanized => "mechanically galvanized steel",
        Finish::Stainless => "stainless steel",
        Finish::SiliconBronze => "silicon bronze",
        Finish::Copper => "copper",
    }
}
