//! The list of sizes to choose from, each with whether it would be sound where the fastener is.

use std::sync::Arc;

use super::swap::swapped;
use crate::findings::trial::Trial;
use crate::findings::{Finding, Severity, Verdict};
use crate::joint::Joint;
use crate::stock::{FastenerSpec, Stock};
use crate::trace::Trace;

/// Most fasteners of a group that each size is tried at; of a larger group some are taken evenly.
const MOST_TRIED: usize = 8;

/// One size, and how it would do.
#[derive(Clone, Debug, PartialEq)]
pub struct Choice {
    /// The size.
    pub spec: Arc<FastenerSpec>,
    /// It is the one that is drawn.
    pub is_drawn: bool,
    /// The worst of what would be found about the fastener.
    pub verdict: Verdict,
    /// Faults that it would have.
    pub faults: usize,
    /// Cautions that it would have.
    pub cautions: usize,
    /// The foremost thing that would be told: the first fault, else the first caution.
    pub says: Option<String>,
}

/// How each of `specs` would do in the place of the fasteners at `group`, all of them changed.
///
/// A fastener is judged among those near it, so that the answer comes at once in a large joint too; what
/// depends on all fasteners together, as the share of a load, is judged only where all are near.
#[must_use]
pub fn choices<'a>(
    (joint, trace): (&Joint, &Trace),
    group: &[usize],
    specs: impl IntoIterator<Item = &'a Arc<FastenerSpec>>,
    stock: &Stock,
) -> Vec<Choice> {
    let step = group.len().div_ceil(MOST_TRIED).max(1);
    let tried: Vec<Trial> =
        group.iter().step_by(step).filter_map(|at| Trial::around(joint, trace, *at)).collect();
    let drawn = group.first().and_then(|at| joint.fasteners.get(*at)).map(|it| &it.spec);
    let judge = |spec: &Arc<FastenerSpec>| {
        let new = |at: usize| {
            let old = joint.fasteners.get(at).filter(|_| group.contains(&at))?;
            Some(swapped(old, spec, (joint.standard, stock)))
        };
        let found: Vec<Finding> = tried.iter().flat_map(|it| it.findings(&new)).collect();
        choice(spec, drawn == Some(spec), &found)
    };
    specs.into_iter().map(judge).collect()
}

/// The sizes that one may swap the fastener at this place for, as [`choices`] tells of them.
#[must_use]
pub fn sizes(joint: &Joint, trace: &Trace, group: &[usize], stock: &Stock) -> Vec<Choice> {
    let Some(first) = group.first().and_then(|at| joint.fasteners.get(*at)) else { return Vec::new() };
    let specs: Vec<_> = stock.alternatives(&first.spec).collect();
    choices((joint, trace), group, specs, stock)
}

fn choice(spec: &Arc<FastenerSpec>, is_drawn: bool, found: &[Finding]) -> Choice {
    let of = |severity: Severity| found.iter().filter(move |it| it.severity == severity);
    let (faults, cautions) = (of(Severity::Fault).count(), of(Severity::Caution).count());
    let worst = of(Severity::Fault).next().or_else(|| of(Severity::Caution).next());
    Choice {
        spec: Arc::clone(spec),
        is_drawn,
        verdict: match (faults, cautions) {
            (0, 0) => Verdict::Sound,
            (0, _) => Verdict::Cautions,
            _ => Verdict::Faults,
        },
        faults,
        cautions,
        says: worst.map(|it| it.says.clone()),
    }
}
