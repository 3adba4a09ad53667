//! Group action: a long row of fasteners does not share its load evenly (11.3.6).

use super::factors::factor;
use super::working::{MPA_PER_PSI, inch, inches, line, per_inch, pound, square_inch};
use crate::standard::capacity::{Across, Amount, Bearing, Factor, Line, Row};
use crate::standard::nds2018::{Nds2018, nds};
use crate::stock::Family;
use crate::unit::length::MM_PER_INCH;

/// What a row is made of, inches and pounds.
#[derive(Clone, Copy, Debug)]
struct Stretch {
    count: f64,
    pitch_in: f64,
    main_lb: f64,
    side_lb: f64,
    slip: f64,
}

/// `C_g`, worked out where everything it needs is known; else 1.0, and a caution says that it is not counted.
pub(super) fn group(
    rules: &Nds2018,
    asked: &Across<'_>,
    working: &mut Vec<Line>,
    cautions: &mut Vec<String>,
) -> Factor {
    let whole = |because: &str| factor("group_action", "C_g", 1.0, nds("11.3.6"), because);
    if !rules.is_large(&asked.driven) {
        return whole("thinner than 1/4 in");
    }
    let Some(row) = asked.row.filter(|it| 1 < it.count) else { return whole("one fastener in the row") };
    match stretch(rules, asked, row, working) {
        Ok(stretch) => {
            let value = of_row(stretch, working);
            let because = format!("{} in a row, {:.2} in apart", row.count, stretch.pitch_in);
            factor("group_action", "C_g", value, nds("11.3.6"), &because)
        }
        Err(because) => {
            cautions.push(format!(
                "Not counted: group action of {} in a row, because {because} (NDS 11.3.6).",
                row.count
            ));
            whole(&format!("not counted: {because}"))
        }
    }
}

/// Everything that the formula needs, or what is missing.
fn stretch(
    rules: &Nds2018,
    asked: &Across<'_>,
    row: Row,
    working: &mut Vec<Line>,
) -> Result<Stretch, String> {
    let bodies: Vec<&Bearing<'_>> =
        [Some(&asked.side), Some(&asked.main), asked.beyond.as_ref()].into_iter().flatten().collect();
    if bodies.iter().any(|it| matches!(it.material.family, Family::Concrete | Family::Masonry)) {
        return Err("no load/slip modulus is given for concrete or masonry".to_owned());
    }
    if row.pitch_mm <= 0.0 || !row.pitch_mm.is_finite() {
        return Err("the pitch is not known".to_owned());
    }
    let main_lb = stiffness(&asked.main)?;
    let side_lb = stiffness(&asked.side)? + asked.beyond.as_ref().map_or(Ok(0.0), stiffness)?;
    let by = &rules.table.group_action;
    let has_steel = bodies.iter().any(|it| it.material.family == Family::Steel);
    let (slip, rule) = if has_steel {
        (by.wood_to_steel, "270000 D_nom^1.5")
    } else {
        (by.wood_to_wood, "180000 D_nom^1.5")
    };
    let slip = slip * inches(asked.driven.spec.diameter_mm).powf(1.5);
    let (pitch_in, source) = (inches(row.pitch_mm), nds("11.3.6"));
    working.push(area_line("E_m A_m", &asked.main, main_lb));
    working.push(Line {
        because: if asked.beyond.is_some() { "both side members together".to_owned() } else { String::new() },
        ..area_line("E_s A_s", &asked.side, side_lb)
    });
    working.push(line("gamma", rule, per_inch(slip), source));
    let count = f64::from(u32::try_from(row.count).unwrap_or(u32::MAX));
    working.push(line("n", "", Amount::Number(count), source));
    working.push(line("s", "", inch(pitch_in), source));
    Ok(Stretch { count, pitch_in, main_lb, side_lb, slip })
}

/// Modulus times area, pounds.
fn stiffness(body: &Bearing<'_>) -> Result<f64, String> {
    let label = &body.material.label;
    let elastic = body
        .material
        .elastic_mpa
        .filter(|it| 0.0 < *it)
        .ok_or_else(|| format!("the modulus of {label} is not known"))?;
    let area = body.area_mm2.filter(|it| 0.0 < *it);
    let area = area.ok_or_else(|| format!("the section of {label} is not known"))?;
    Ok(elastic / MPA_PER_PSI * area / (MM_PER_INCH * MM_PER_INCH))
}

fn area_line(symbol: &'static str, body: &Bearing<'_>, stiffness_lb: f64) -> Line {
    let elastic = Amount::Stress(body.material.elastic_mpa.unwrap_or(0.0));
    let area = square_inch(body.area_mm2.unwrap_or(0.0) / (MM_PER_INCH * MM_PER_INCH));
    Line {
        with: vec![("E", elastic), ("A", area)],
        ..line(symbol, "E A", pound(stiffness_lb), nds("11.3.6"))
    }
}

/// The formula of 11.3.6.1.
fn of_row(row: Stretch, working: &mut Vec<Line>) -> f64 {
    let Stretch { count: n, pitch_in, main_lb, side_lb, slip } = row;
    let u = (slip * pitch_in / 2.0).mul_add(1.0 / main_lb + 1.0 / side_lb, 1.0);
    let m = u - u.mul_add(u, -1.0).max(0.0).sqrt();
    let ratio = (main_lb / side_lb).min(side_lb / main_lb);
    let m_n = m.powf(n);
    let m_2n = m_n * m_n;
    let shares = n * (ratio.mul_add(m_n, 1.0) * (1.0 + m) - 1.0 + m_2n);
    let found = m * (1.0 - m_2n) / shares * ((1.0 + ratio) / (1.0 - m));
    // Members so stiff that m is 1 share the load evenly.
    let value = if found.is_finite() { found.clamp(0.0, 1.0) } else { 1.0 };
    let source = nds("11.3.6");
    let number = |symbol, formula, value| line(symbol, formula, Amount::Number(value), source);
    working.push(number("u", "1 + gamma s/2 (1/(E_m A_m) + 1/(E_s A_s))", u));
    working.push(number("m", "u - sqrt(u^2 - 1)", m));
    working.push(number("R_EA", "the lesser of E_m A_m / (E_s A_s) and E_s A_s / (E_m A_m)", ratio));
    let formula = "m (1 - m^(2n)) / (n ((1 + R_EA m^n) (1 + m) - 1 + m^(2n))) (1 + R_EA) / (1 - m)";
    working.push(number("C_g", formula, value));
    value
}
