//! A point that leaves the holding body.
//!
//! The rule. A bolt or a rod goes through by design and is excepted. A nail, a wood screw or a masonry
//! screw whose point comes out is a fault as drawn, whatever lies beyond: the length beyond holds
//! nothing, and a bare point hurts people, pipes and cables that no drawing shows. A lag screw is the
//! one whose point some ledger rules want through the rim; so where nothing but air lies beyond
//! and the bite without the point still meets the standard, it is a caution, and a fault otherwise.
//! A nail that is to be clinched is judged as any other: the joint does not say that it will be.

use crate::findings::scene::Fact;
use crate::findings::tell::worst;
use crate::findings::{Finding, Kind, Severity, words};
use crate::stock::FastenerKind;
use crate::trace::{Holding, Run, TOUCH_MM, What};

pub(super) fn point_out(fact: &Fact<'_>) -> Vec<Finding> {
    let Some(holding) = fact.shank.holding.filter(|it| TOUCH_MM < it.point_out_mm && !fact.has_nut()) else {
        return Vec::new();
    };
    let unit = fact.unit();
    let beyond: Vec<&Run> = fact
        .shank
        .core
        .iter()
        .filter(|it| holding.leaves_at_mm <= it.from_mm && TOUCH_MM < it.to_mm - it.from_mm)
        .collect();
    let says = format!(
        "The point stands {} out of {}; {}.",
        words::excess(holding.point_out_mm, unit),
        fact.scene.the(holding.body),
        what_beyond(fact, &beyond)
    );
    vec![
        fact.tell_of(Kind::PointOut, severity(fact, &holding, &beyond), &[holding.body], says)
            .lengths(holding.point_out_mm, 0.0)
            .worked([format!(
                "length {} - {} where it leaves = {}",
                words::fine(fact.shank.length_mm, unit),
                words::fine(holding.leaves_at_mm, unit),
                words::fine(holding.point_out_mm, unit)
            )])
            .at(fact.at(fact.shank.length_mm)),
    ]
}

fn severity(fact: &Fact<'_>, holding: &Holding, beyond: &[&Run]) -> Severity {
    let only_air = beyond.iter().all(|it| matches!(it.what, What::Air | What::Gap));
    if fact.kind() != FastenerKind::LagScrew || !only_air {
        return Severity::Fault;
    }
    let bite_is_met = fact.hold().is_some_and(|(_, mut hold)| {
        hold.bite_mm = hold.bite_without_point_mm;
        worst(fact.asks_bite(&hold)).is_none()
    });
    if bite_is_met && 0.0 < holding.bite_without_point_mm { Severity::Caution } else { Severity::Fault }
}

fn what_beyond(fact: &Fact<'_>, beyond: &[&Run]) -> String {
    let unit = fact.unit();
    let part = |run: &Run| {
        let place = match run.body {
            Some(body) => fact.scene.the(body),
            None => "air".to_owned(),
        };
        (words::measured(run.to_mm - run.from_mm, unit), place)
    };
    match beyond {
        [] => "nothing holds it there".to_owned(),
        [only] => {
            let (length, place) = part(only);
            format!("its last {length} is in {place}")
        }
        many => {
            let parts: Vec<String> = many
                .iter()
                .map(|it| {
                    let (length, place) = part(it);
                    format!("{length} in {place}")
                })
                .collect();
            format!("beyond it {}", words::list(&parts))
        }
    }
}
