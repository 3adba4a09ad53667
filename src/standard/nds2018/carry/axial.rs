//! A load along the shank: every way in which it gives way, and which governs.

use super::lateral::FIRE_RETARDANT;
use super::seat::{Pressed, crushing, steel};
use super::shank::word;
use super::withdrawal::{Way, Withdrawal, pull_through, withdrawal};
use super::working::{line, newtons, none, pound};
use crate::joint::Treatment;
use crate::standard::capacity::{Along, Amount, Axial, Line, Mode, NoValue};
use crate::standard::nds2018::{Nds2018, nds};
use crate::stock::{Family, FastenerKind};
use crate::unit::force::NEWTONS_PER_POUND;
use crate::unit::length::MM_PER_INCH;

/// The ways in which it may give way, withdrawal first, and what is not counted.
struct Gathered {
    ways: Vec<Way>,
    pulled: Option<(f64, f64)>,
    cautions: Vec<String>,
}

/// What a shank carries along its axis. Each of several counts in full: NDS knows no group action here.
///
/// The mode that governs is the one that gives least with its own factors.
///
/// # Errors
/// Where no mode can be worked out, or one that there must be cannot.
pub(in crate::standard::nds2018) fn along(rules: &Nds2018, asked: &Along<'_>) -> Result<Axial, NoValue> {
    let diameter_mm = asked.driven.spec.diameter_mm;
    if !diameter_mm.is_finite() || diameter_mm <= 0.0 {
        return none("the diameter is not known".to_owned(), nds("12.2"));
    }
    let mut all = match asked.driven.spec.kind {
        FastenerKind::Nail | FastenerKind::WoodScrew | FastenerKind::LagScrew => driven(rules, asked)?,
        FastenerKind::Bolt | FastenerKind::ThreadedRod => bolted(rules, asked)?,
        FastenerKind::MasonryScrew => {
            let because = "NDS gives no values for screws in concrete or masonry: their maker does";
            return none(because.to_owned(), nds("12"));
        }
    };
    let bodies = [Some(&asked.holding), asked.under_head.as_ref(), asked.under_nut.as_ref().map(|it| &it.0)];
    if bodies.into_iter().flatten().any(|it| it.treatment == Treatment::FireRetardant) {
        all.cautions.push(FIRE_RETARDANT.to_owned());
    }
    let modes = all.ways.iter().map(|it| Mode { name: it.name, newtons: newtons(it.reference) }).collect();
    let governs =
        (0..all.ways.len()).min_by(|a, b| all.ways[*a].adjusted().total_cmp(&all.ways[*b].adjusted()));
    let Some(governs) = governs else {
        let because = format!("nothing is known that this {} gives way by", word(asked.driven.spec.kind));
        return none(because, nds("12.2"));
    };
    if !all.ways[governs].adjusted().is_finite() {
        return none("a measure is beyond all bounds".to_owned(), nds("12.2"));
    }
    let working = written(&all.ways, governs);
    let (length_in, per_inch) = all.pulled.unwrap_or((0.0, 0.0));
    let way = all.ways.swap_remove(governs);
    Ok(Axial {
        modes,
        mode: way.name,
        length_mm: length_in * MM_PER_INCH,
        reference_n_per_mm: per_inch * NEWTONS_PER_POUND / MM_PER_INCH,
        reference_n: newtons(way.reference),
        adjusted_n: newtons(way.adjusted()),
        factors: way.factors,
        working,
        cautions: all.cautions,
    })
}

/// The working of every way, each with its factors, and the least at the end.
fn written(ways: &[Way], governs: usize) -> Vec<Line> {
    let mut working = Vec::new();
    for way in ways {
        working.extend(way.working.iter().cloned());
        let (symbol, formula) = way.adjusted_by();
        working.push(Line {
            with: way.factors.iter().map(|it| (it.symbol, Amount::Number(it.value))).collect(),
            because: way.name.to_owned(),
            ..line(symbol, formula, pound(way.adjusted()), nds("Table 11.3.1"))
        });
    }
    if let Some(way) = ways.get(governs) {
        working.push(Line {
            because: format!("the least: {}", way.name),
            ..line("W'", "min", pound(way.adjusted()), nds("Table 11.3.1"))
        });
    }
    working
}

impl Way {
    /// The symbol of its adjusted value and how that comes about.
    fn adjusted_by(&self) -> (&'static str, &'static str) {
        match self.name {
            "withdrawal" => ("P_w'", "P_w C_D C_M C_t C_eg C_tn"),
            "pull-through" => ("W_H'", "W_H C_D C_M C_t"),
            "steel in tension" => ("T'", "T C_D"),
            _ => ("P_perp'", "P_perp C_D C_M C_t"),
        }
    }
}

/// Nails and screws: withdrawal, and the head.
fn driven(rules: &Nds2018, asked: &Along<'_>) -> Result<Gathered, NoValue> {
    let spec = asked.driven.spec;
    let mut cautions = vec![format!("Not counted: the steel of the {} in tension.", word(spec.kind))];
    let Withdrawal { way, length_in, per_inch } = withdrawal(rules, asked)?;
    let mut ways = vec![way];
    if spec.kind == FastenerKind::Nail && spec.thread_mm.is_some() {
        cautions.push(
            "Counted as a smooth nail: NDS gives more to ring-shank nails of a listed form alone.".to_owned(),
        );
    }
    match &asked.under_head {
        None => cautions.push("Not counted: the head, for what it bears on is not known.".to_owned()),
        Some(under) if under.material.family == Family::Filling => {
            cautions.push(format!("Not counted: the head, which bears on {} alone.", under.material.label));
        }
        Some(under) if spec.kind == FastenerKind::LagScrew => {
            let width_mm = spec.head_mm;
            let at =
                Pressed { name: "washer bearing", on: *under, washer_mm: asked.head_washer_mm, width_mm };
            match crushing(rules, asked, &at) {
                Ok(found) => ways.extend(found),
                Err(why) => cautions.push(format!("Not counted: the head; {}.", why.because)),
            }
        }
        Some(_) => match pull_through(rules, asked) {
            Ok(found) => ways.extend(found),
            Err(why) => cautions.push(format!("Not counted: the head; {}.", why.because)),
        },
    }
    Ok(Gathered { ways, pulled: Some((length_in, per_inch)), cautions })
}

/// Bolts and rods: what is under head and nut, and the steel.
fn bolted(rules: &Nds2018, asked: &Along<'_>) -> Result<Gathered, NoValue> {
    let spec = asked.driven.spec;
    let mut cautions = vec!["Not counted: washers and plates that bend (NDS 11.2.3).".to_owned()];
    let mut ways = Vec::new();
    let nut_mm = spec.nut.map_or(0.0, |it| it.across_flats_mm);
    let head_mm = if 0.0 < spec.head_mm { spec.head_mm } else { nut_mm };
    let head = asked.under_head.map(|on| Pressed {
        name: "washer bearing",
        on,
        washer_mm: asked.head_washer_mm,
        width_mm: head_mm,
    });
    let nut = asked.under_nut.map(|(on, washer_mm)| Pressed {
        name: "washer bearing at the nut",
        on,
        washer_mm,
        width_mm: nut_mm,
    });
    for (at, end) in [(&head, "head"), (&nut, "nut")] {
        let Some(at) = at else {
            cautions.push(format!("Not counted: the {end}, for what it bears on is not known."));
            continue;
        };
        if matches!(at.on.material.family, Family::Concrete | Family::Masonry | Family::Filling) {
            cautions.push(format!("Not counted: the {end} on {}.", at.on.material.label));
        }
        ways.extend(crushing(rules, asked, at)?);
    }
    match steel(asked) {
        Some(way) => ways.push(way),
        None => cautions.push("Not counted: the steel in tension, for its strength is not known.".to_owned()),
    }
    Ok(Gathered { ways, pulled: None, cautions })
}
