//! All fasteners between two members or connectors, summed.

use std::collections::BTreeMap;

use super::solve::Solver;
use super::{Carries, Connection, Shear, written};

/// What no connection counts.
pub const EQUAL_SHARES: &str = "eccentricity, differences in stiffness, prying, friction and the members themselves; the shares are equal.";

/// The sums, in the order in which the fasteners name the pairs.
pub(super) fn connections(solver: &Solver<'_>, carried: &[Carries]) -> Vec<Connection> {
    let mut order: Vec<Connection> = Vec::new();
    let mut without: Vec<Vec<(&str, Vec<usize>)>> = Vec::new();
    let mut known: BTreeMap<(super::bodies::Group, super::bodies::Group), usize> = BTreeMap::new();
    for (place, (carries, joined)) in carried.iter().zip(&solver.joined).enumerate() {
        let last = carries.planes.len().saturating_sub(1);
        for (n, (plane, pair)) in carries.planes.iter().zip(joined.stations.windows(2)).enumerate() {
            let (a, b) = (pair[0].group, pair[1].group);
            let at = *known.entry((a.min(b), a.max(b))).or_insert_with(|| {
                order.push(Connection::empty([plane.side.clone(), plane.main.clone()]));
                without.push(Vec::new());
                order.len() - 1
            });
            let sum = &mut order[at];
            if sum.fasteners.last() != Some(&carries.id) {
                sum.fasteners.push(carries.id.clone());
            }
            match &plane.value {
                Ok(value) => sum.adjusted_n += value.adjusted_n,
                Err(why) => {
                    if sum.without_value.last() != Some(&carries.id) {
                        sum.without_value.push(carries.id.clone());
                    }
                    written::note(&mut without[at], &why.because, place + 1);
                }
            }
            if let Some(demand) = plane.demand_n {
                sum.demand_n = Some(sum.demand_n.unwrap_or(0.0) + demand);
            }
            if let Some(pull) = carries.along.as_ref().and_then(|it| it.demand_n).filter(|_| n == last) {
                sum.pulled_n = Some(sum.pulled_n.unwrap_or(0.0) + pull);
            }
            let worst = carries.combined.as_ref().map(|it| it.ratio).or(plane.ratio);
            sum.worst_ratio = match (sum.worst_ratio, worst) {
                (Some(a), Some(b)) => Some(a.max(b)),
                (a, b) => a.or(b),
            };
            if let Shear::OneOf(_) = plane.shear {
                let says = "Shanks with more than two planes count the least of them for each.".to_owned();
                if !sum.not_counted.contains(&says) {
                    sum.not_counted.push(says);
                }
            }
        }
    }
    for (it, without) in order.iter_mut().zip(without) {
        let reasons =
            without.iter().map(|(why, numbers)| format!("No. {}: no value, {why}.", written::runs(numbers)));
        it.not_counted.splice(0..0, reasons);
        it.ratio = it.demand_n.map(|demand| super::judged::ratio(demand, it.adjusted_n));
        it.not_counted.push(EQUAL_SHARES.to_owned());
    }
    order
}

impl Connection {
    /// One that nothing is summed in so far.
    fn empty(between: [String; 2]) -> Self {
        Self {
            between,
            fasteners: Vec::new(),
            without_value: Vec::new(),
            adjusted_n: 0.0,
            demand_n: None,
            pulled_n: None,
            ratio: None,
            worst_ratio: None,
            not_counted: Vec::new(),
        }
    }
}
