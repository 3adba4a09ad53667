//! From a characteristic value to a design value: 2.4.3, with `k_mod` of Table 3.1, `gamma_M` of Table 2.3 and the
//! effective number in a row.

use crate::joint::{Conditions, Duration, Service};
use crate::standard::capacity::{Amount, Factor, NoValue, Row};
use crate::standard::en1995::{En1995, ec5};
use crate::unit::compare::at_least;

use super::none;
use super::shank::Shank;
use super::stuff::Stuff;
use super::table::Classes;
use super::working::Working;

/// A class of load duration of Table 2.1: its place in Table 3.1, its name, and why.
///
/// Wind stands for ten minutes. Table 2.1 calls all below a week short-term; a country may call wind instantaneous.
fn class(duration: Duration) -> (usize, &'static str) {
    match duration {
        Duration::Permanent => (0, "permanent load"),
        Duration::TenYears => (1, "long-term load: ten years"),
        Duration::TwoMonths => (2, "medium-term load: two months"),
        Duration::SevenDays => (3, "short-term load: a week"),
        Duration::TenMinutes => (3, "short-term load: ten minutes, which some countries call instantaneous"),
        Duration::Impact => (4, "instantaneous load: a blow"),
    }
}

/// `k_mod` of one stuff; nothing where the service class bars it.
fn kmod_of(rules: &En1995, stuff: Stuff, (service, place): (Service, usize)) -> Result<f64, NoValue> {
    let table = &rules.table.carry.kmod;
    let classes: &Classes = match stuff {
        Stuff::StrandBoard => &table.strand,
        Stuff::ParticleBoard => &table.particle,
        Stuff::HardBoard => &table.hardboard,
        Stuff::Softwood | Stuff::Hardwood | Stuff::Veneer | Stuff::Plywood | Stuff::Steel => &table.timber,
    };
    let row = match service {
        Service::Dry => Some(classes.dry),
        Service::Humid => classes.humid,
        Service::Wet => classes.wet,
    };
    match row.and_then(|it| it.get(place).copied()) {
        Some(known) => Ok(known),
        None => none("Table 3.1", "the place is too damp for one of the boards: Table 3.1 gives it no k_mod"),
    }
}

/// `k_mod` of a connection; of two stuffs the root of the product (2.3.2.1(2), equation 2.6).
pub(super) fn kmod(
    rules: &En1995,
    woods: &[Stuff],
    (service, duration): (Service, Duration),
    working: &mut Working,
) -> Result<Factor, NoValue> {
    let (place, why) = class(duration);
    let class_name = match service {
        Service::Dry => "service class 1",
        Service::Humid => "service class 2",
        Service::Wet => "service class 3",
    };
    let because = format!("{why}, {class_name}");
    let values: Vec<f64> =
        woods.iter().map(|it| kmod_of(rules, *it, (service, place))).collect::<Result<_, _>>()?;
    let source = ec5("Table 3.1");
    let (value, source) = match values.as_slice() {
        [first, second] if 1e-12 < (first - second).abs() => {
            let inputs = [("k_mod,1", Amount::Number(*first)), ("k_mod,2", Amount::Number(*second))];
            let value = (first * second).sqrt();
            let source = ec5("2.3.2.1(2)");
            working.put(("k_mod", "sqrt(k_mod,1 k_mod,2)"), &inputs, Amount::Number(value), source);
            (value, source)
        }
        values => {
            // A connection without wood does not come this far.
            let value = values.first().copied().unwrap_or(0.0);
            working.given(("k_mod", Amount::Number(value)), source);
            (value, source)
        }
    };
    working.because(because.clone());
    Ok(Factor { key: "k_mod", symbol: "k_mod", value, because, source })
}

/// `1 / gamma_M` of a connection, recommended or as the country chooses it.
pub(super) fn gamma(
    rules: &En1995,
    conditions: &Conditions,
    working: &mut Working,
) -> Result<Factor, NoValue> {
    let (source, recommended) = (ec5("Table 2.3"), rules.table.carry.gamma.connection);
    let (gamma_m, because) = match conditions.gamma_m {
        None => (recommended, format!("gamma_M = {recommended}, connections, the recommended value")),
        Some(chosen) if chosen.is_finite() && 0.0 < chosen => {
            (chosen, format!("gamma_M = {chosen}, chosen instead of the recommended {recommended}"))
        }
        Some(_) => return none("Table 2.3", "gamma_M must be a number above zero"),
    };
    working.given(("gamma_M", Amount::Number(gamma_m)), source);
    working.because(because.clone());
    Ok(Factor { key: "gamma_m", symbol: "1 / gamma_M", value: 1.0 / gamma_m, because, source })
}

/// The effective number in a row by the number: `n` times it is `n_ef`.
pub(super) fn row(
    rules: &En1995,
    (shank, is_predrilled): (&Shank<'_>, bool),
    row: Option<Row>,
    working: &mut Working,
) -> Result<Factor, NoValue> {
    let source = ec5(if shank.is_like_nail { "8.3.1.1(8)" } else { "8.5.1.1(4)" });
    let alone = |because: String| Factor { key: "row", symbol: "n_ef / n", value: 1.0, because, source };
    let Some(row) = row.filter(|it| 1 < it.count) else {
        return Ok(alone("one in a row".to_owned()));
    };
    if !(0.0 < row.pitch_mm && row.pitch_mm.is_finite()) {
        return none("8.1.2(4)", "the pitch of the row is no length");
    }
    let count = count(row.count);
    // An angle that is none is taken as along the grain, the lesser value.
    let angle = if row.to_grain_deg.is_nan() { 0.0 } else { row.to_grain_deg.abs().min(90.0) };
    let inputs = [
        ("n", Amount::Number(count)),
        ("a_1", Amount::Length(row.pitch_mm)),
        ("a_row", Amount::Angle(angle)),
        ("d", Amount::Length(shank.diameter_mm)),
    ];
    let effective = if shank.is_like_nail {
        let d = shank.diameter_mm;
        // Neighbours of a row that runs at an angle to the grain are staggered across it.
        if at_least(row.pitch_mm * angle.to_radians().sin(), d) {
            return Ok(alone(format!("{count} in a row that is staggered across the grain by 1 d or more")));
        }
        let exponent = k_ef(rules, row.pitch_mm / d, is_predrilled)?;
        working.put(("k_ef", "by a_1 / d"), &inputs, Amount::Number(exponent), ec5("Table 8.1"));
        working.because(format!("a_1 = {:.1} d", row.pitch_mm / d));
        let effective = count.powf(exponent);
        working.put(("n_ef", "n^k_ef"), &inputs, Amount::Number(effective), source);
        effective
    } else {
        let pitch = row.pitch_mm / (13.0 * shank.diameter_mm);
        let along = count.min(count.powf(0.9) * pitch.powf(0.25));
        let formula = "min(n, n^0.9 (a_1 / (13 d))^0.25)";
        working.put(("n_ef,0", formula), &inputs, Amount::Number(along), source);
        let effective = along + (count - along) * angle / 90.0;
        let formula = "n_ef,0 + (n - n_ef,0) a_row / 90";
        working.put(("n_ef", formula), &inputs, Amount::Number(effective), source);
        effective
    };
    let because = format!("{count} in a row, {:.1} mm apart: n_ef = {effective:.3}", row.pitch_mm);
    Ok(Factor { value: effective / count, ..alone(because) })
}

/// A count as a number; more than any connection has is cut off.
pub(super) fn count(count: usize) -> f64 {
    u32::try_from(count).map_or(f64::from(u32::MAX), f64::from)
}

/// Table 8.1, between its rows by straight lines.
fn k_ef(rules: &En1995, pitch: f64, is_predrilled: bool) -> Result<f64, NoValue> {
    let table = &rules.table.carry.row;
    let mut points = table.k_ef.to_vec();
    if is_predrilled {
        points.push(table.k_ef_predrilled);
    }
    let mut above: Option<[f64; 2]> = None;
    for [at, value] in points {
        if at_least(pitch, at) {
            let Some([high, of_high]) = above else { return Ok(value) };
            return Ok(value + (of_high - value) * (pitch - at).max(0.0) / (high - at));
        }
        above = Some([at, value]);
    }
    let least = if is_predrilled { "4 d" } else { "7 d (4 d if they are predrilled)" };
    none("Table 8.1", format!("nails of a row along the grain that are closer than {least} have no k_ef"))
}
