//! What a standard is asked of a load along a shank.

use super::across::Asking;
use super::bodies::{Station, bearing, is_whole, to_grain_deg};
use crate::findings::scene::Fact;
use crate::standard::Source;
use crate::standard::capacity::{Along, Axial, Bearing, NoValue};
use crate::stock::WasherSpec;
use crate::trace::{BodyIx, Seating};

/// What the shank carries along its axis.
pub(super) fn carried(asking: &Asking<'_, '_>) -> Result<Axial, NoValue> {
    let fact = asking.fact();
    is_whole(fact, &asking.joined().stations)?;
    let asked = asked(asking).ok_or_else(|| NoValue {
        because: "no body that bears holds its point side".to_owned(),
        source: Source::CommonPractice,
    })?;
    fact.scene.rules.along(&asked)
}

/// The question; `None` for a shank that no bearing body holds.
pub(super) fn asked<'a>(asking: &Asking<'_, 'a>) -> Option<Along<'a>> {
    let (fact, joined) = (asking.fact(), asking.joined());
    let holding = fact.shank.holding.as_ref()?;
    let station = joined.station_of(holding.body)?;
    let end_grain = fact.hold().is_some_and(|it| it.1.end_grain);
    let under_nut = fact.shank.nut.and_then(|it| {
        let body = seat(it.on).or_else(|| joined.stations.last().map(|it| it.last))?;
        let washer = fact.fastener.nut_washer.as_deref().map(diameters);
        (it.on != Seating::Air).then_some((under(fact, body, joined.station_of(body))?, washer))
    });
    let on_head = fact.shank.head.on;
    let first = joined.stations.first().map(|it| it.first);
    let under_head = seat(on_head)
        .or_else(|| first.filter(|_| on_head == Seating::Washer))
        .and_then(|body| under(fact, body, joined.station_of(body)));
    Some(Along {
        driven: fact.driven,
        holding: bearing(fact, station, None, end_grain)?,
        under_head,
        head_washer_mm: fact.fastener.head_washer.as_deref().map(diameters),
        under_nut,
        axis_to_grain_deg: to_grain_deg(fact, holding.body, Some(fact.shank.toward)),
        toe: asking.toe(),
        count: asking.solver.beside(asking.ix),
        duration: asking.duration,
        conditions: fact.scene.joint.conditions,
    })
}

fn diameters(it: &WasherSpec) -> (f64, f64) {
    (it.outer_mm, it.inner_mm)
}

fn seat(on: Seating) -> Option<BodyIx> {
    match on {
        Seating::Bearing(body) | Seating::Steel(body) | Seating::Filling(body) => Some(body),
        Seating::Washer | Seating::Air => None,
    }
}

/// What a head or a nut bears on. A filling is no station: nothing is known but what it is.
fn under<'a>(fact: &Fact<'a>, body: BodyIx, station: Option<&Station>) -> Option<Bearing<'a>> {
    if let Some(station) = station {
        return bearing(fact, station, None, false);
    }
    Some(Bearing {
        name: fact.scene.name(body),
        material: fact.scene.material(body)?,
        treatment: fact.scene.treatment(body),
        length_mm: fact.length_in(body),
        point_mm: 0.0,
        thread_mm: 0.0,
        load_to_grain_deg: 90.0,
        end_grain: false,
        drilled_mm: None,
        area_mm2: None,
    })
}
