//! What a fastener carries.

use super::{Nds2018, nds};
use crate::standard::Driven;
use crate::standard::capacity::{Across, Along, Axial, Combined, Demand, Lateral, NoValue};

pub(super) fn across(_rules: &Nds2018, _asked: &Across<'_>) -> Result<Lateral, NoValue> {
    Err(NoValue { because: "not worked out".to_owned(), source: nds("12") })
}

pub(super) fn along(_rules: &Nds2018, _asked: &Along<'_>) -> Result<Axial, NoValue> {
    Err(NoValue { because: "not worked out".to_owned(), source: nds("12") })
}

pub(super) fn both_ways(_rules: &Nds2018, _driven: &Driven<'_>, across: Demand, along: Demand) -> Combined {
    let ratio = across.demand_n / across.adjusted_n + along.demand_n / along.adjusted_n;
    Combined { ratio, working: Vec::new() }
}
