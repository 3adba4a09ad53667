//! What a shank carries along itself: nails 8.3.2, bolts 8.5.2, screws 8.7.2.

use crate::joint::Duration;
use crate::standard::Source;
use crate::standard::capacity::{Along, Amount, Axial, Bearing, Factor, Mode, NoValue};
use crate::standard::en1995::{En1995, ec5};
use crate::stock::{Family, Material};
use crate::unit::compare::{at_least, at_most};

use super::shank::{Kind, kind};
use super::stuff::Stuff;
use super::working::Working;
use super::{bolt_axial, density, factors, forces, limits, none};

pub(super) const WITHDRAWAL: &str = "withdrawal";
pub(super) const PULL_THROUGH: &str = "pull-through";
pub(super) const WASHER: &str = "washer bearing";
pub(super) const STEEL: &str = "steel in tension";

/// Characteristic values along a shank.
#[derive(Default)]
pub(super) struct Pull {
    pub(super) modes: Vec<Mode>,
    pub(super) length_mm: f64,
    pub(super) per_mm: f64,
    /// What is left of nails in wet wood that dries under load.
    pub(super) wet: f64,
    /// A mode that nobody knows the value of, so that the least of the others may be too much.
    pub(super) unknown: Option<&'static str>,
    /// The stuffs that bear.
    pub(super) woods: Vec<Stuff>,
    pub(super) working: Working,
    pub(super) cautions: Vec<String>,
}

impl Pull {
    pub(super) fn least_n(&self) -> f64 {
        super::plane::least(&self.modes).1
    }

    pub(super) fn add(&mut self, name: &'static str, newtons: f64) {
        self.modes.push(Mode { name, newtons });
    }
}

/// The characteristic values along a shank.
pub(super) fn characteristic(rules: &En1995, asked: &Along<'_>) -> Result<Pull, NoValue> {
    let d = asked.driven.spec.diameter_mm;
    if !(0.0 < d && d.is_finite()) {
        return none("8.1.1", "the fastener has no diameter");
    }
    let mut pull = Pull { wet: 1.0, ..Pull::default() };
    pull.working.given(("d", Amount::Length(d)), ec5("8.1.1"));
    match kind(&asked.driven)? {
        Kind::SmoothNail => nail(rules, asked, true, &mut pull)?,
        Kind::ThreadedNail => nail(rules, asked, false, &mut pull)?,
        Kind::Screw => screw(rules, asked, &mut pull)?,
        Kind::Bolt => bolt_axial::bolt(rules, asked, &mut pull)?,
    }
    Ok(pull)
}

/// The density of the timber that must hold; panels and steel have no rule.
fn holding<'a>(asked: &'a Along<'_>, clause: &'static str) -> Result<(&'a Material, Stuff, f64), NoValue> {
    let material = asked.holding.material;
    let stuff = Stuff::of(material)?;
    if stuff.is_board() || stuff.is_steel() {
        return none(clause, format!("{}: withdrawal is given for timber alone", material.label));
    }
    if !(0.0 < asked.holding.length_mm && asked.holding.length_mm.is_finite()) {
        return none(clause, format!("no length of the shank is in {}", material.label));
    }
    match density(material) {
        Some(density) => Ok((material, stuff, density)),
        None => none(clause, format!("{}: no characteristic density is known", material.label)),
    }
}

/// Nails: 8.23 and 8.24, with the strengths of 8.25 and 8.26 and the reduction of 8.3.2(7).
fn nail(rules: &En1995, asked: &Along<'_>, is_smooth: bool, pull: &mut Pull) -> Result<(), NoValue> {
    let (terms, d, length_mm) =
        (&rules.table.carry.nail_axial, asked.driven.spec.diameter_mm, asked.holding.length_mm);
    let (_, stuff, density) = holding(asked, "8.3.2(4)")?;
    if asked.holding.end_grain {
        return none("8.3.2(3)", "a nail in end grain carries nothing along itself");
    }
    let (least, whole) = if is_smooth {
        (rules.table.nail_penetration.smooth, rules.table.nail_axial.smooth_full)
    } else {
        (rules.table.nail_penetration.threaded, rules.table.nail_axial.threaded_full)
    };
    if !at_least(length_mm, least * d) {
        let needed = format!("less than the {:.1} mm ({least} d) from which on it counts", least * d);
        return none(
            "8.3.2(7)",
            format!("{length_mm:.1} mm in the {} on the point side is {needed}", asked.holding.name),
        );
    }
    pull.woods.push(stuff);
    let strength = nail_strength(rules, is_smooth, density, pull);
    let inputs = [("t_pen", Amount::Length(length_mm))];
    // 0 at the least length and 1 at the whole one: t / 4 d - 2 of smooth nails, t / 2 d - 3 of others.
    let share = ((length_mm / d - least) / (whole - least)).clamp(0.0, 1.0);
    let formula = if is_smooth { "t_pen / (4 d) - 2, at most 1" } else { "t_pen / (2 d) - 3, at most 1" };
    pull.working.put(("k_pen", formula), &inputs, Amount::Number(share), ec5("8.3.2(7)"));
    pull.length_mm = length_mm;
    pull.per_mm = strength * share * d;
    let withdrawal = pull.per_mm * length_mm;
    let source = ec5("8.3.2(4)");
    pull.working.put(("F_w", "k_pen f_ax,k d t_pen"), &inputs, Amount::Force(withdrawal), source);
    pull.add(WITHDRAWAL, withdrawal);
    head_of_nail(rules, asked, (is_smooth, strength), pull)?;
    if asked.conditions.wet_when_made {
        pull.wet = terms.wet_when_made;
    }
    if let Some(toe) = asked.toe {
        slanted(rules, (toe.start_mm, d), pull);
    }
    Ok(())
}

/// Slant nailing, 8.3.2(10) and figure 8.8(b): as other nails, with at least 10 d to the loaded edge and two
/// nails at least.
fn slanted(rules: &En1995, (start_mm, d): (f64, f64), pull: &mut Pull) {
    let least_mm = rules.table.slant.loaded_edge * d;
    pull.working.put(("s_min", "10 d"), &[], Amount::Length(least_mm), ec5("8.3.2(10)"));
    pull.working.because(format!("the slanted nail starts {start_mm:.1} mm from the loaded edge"));
    if !at_least(start_mm, least_mm) {
        pull.cautions.push(format!(
            "The slanted nail starts {start_mm:.1} mm from the loaded edge; the value holds from \
             {least_mm:.1} mm (10 d) on (8.3.2(10))."
        ));
    }
    pull.cautions.push("A connection has at least two slanted nails (8.3.2(10)).".to_owned());
}

fn nail_strength(rules: &En1995, is_smooth: bool, density: f64, pull: &mut Pull) -> f64 {
    let (terms, source) = (&rules.table.carry.nail_axial, ec5("8.3.2(6)"));
    let inputs = [("rho_k,p", Amount::Density(density))];
    if is_smooth {
        let strength = terms.withdrawal * density * density;
        pull.working.put(("f_ax,k", "20e-6 rho_k,p^2"), &inputs, Amount::Stress(strength), source);
        return strength;
    }
    let strength = terms.threaded_withdrawal * (density / terms.threaded_density).powi(2).min(1.0);
    let formula = "4.5 min(1, (rho_k,p / 350)^2)";
    pull.working.put(("f_ax,k", formula), &inputs, Amount::Stress(strength), ec5("8.3.2(5)"));
    pull.working.because("the least that EN 14592 lets a threaded nail have");
    pull.cautions.push(
        "The withdrawal of a threaded nail is for its maker to declare; the least that EN 14592 lets it have \
         is taken, and less in lighter wood."
            .to_owned(),
    );
    strength
}

/// What the head adds: its pull-through, and of smooth nails the friction of the shank below it.
fn head_of_nail(
    rules: &En1995,
    asked: &Along<'_>,
    (is_smooth, strength): (bool, f64),
    pull: &mut Pull,
) -> Result<(), NoValue> {
    let (spec, terms) = (asked.driven.spec, &rules.table.carry.nail_axial);
    let Some(under) = &asked.under_head else {
        pull.unknown = Some("what the head bears on is not known");
        pull.cautions
            .push("What the head bears on is not known; its pull-through is not counted.".to_owned());
        return Ok(());
    };
    if under.material.family == Family::Steel {
        return Ok(());
    }
    let stuff = Stuff::of(under.material)?;
    let Some(density) = density(under.material) else {
        return none("8.3.2(6)", format!("{}: no characteristic density is known", under.material.label));
    };
    if stuff.is_board() {
        pull.cautions.push(
            "The pull-through of timber is taken for the panel under the head; tests may give another."
                .to_owned(),
        );
    }
    pull.woods.push(stuff);
    let (d, head_mm, thickness_mm) = (spec.diameter_mm, spec.head_mm.max(0.0), under.length_mm.max(0.0));
    let head = terms.pull_through * density * density;
    let inputs = [
        ("rho_k,h", Amount::Density(density)),
        ("d_h", Amount::Length(head_mm)),
        ("t", Amount::Length(thickness_mm)),
    ];
    pull.working.put(("f_head,k", "70e-6 rho_k,h^2"), &inputs, Amount::Stress(head), ec5("8.3.2(6)"));
    let source = ec5("8.3.2(4)");
    let newtons = if is_smooth {
        // The shank below the head holds by the wood that it is in there.
        let beside = strength.min(terms.withdrawal * density * density);
        let inputs = [inputs[1], inputs[2], ("f_ax,h,k", Amount::Stress(beside))];
        let newtons = (beside * d).mul_add(thickness_mm, head * head_mm * head_mm);
        let formula = "f_ax,h,k d t + f_head,k d_h^2";
        pull.working.put(("F_head", formula), &inputs, Amount::Force(newtons), source);
        pull.working.because("f_ax,h,k is that of the lighter of both woods");
        newtons
    } else {
        let newtons = head * head_mm * head_mm;
        pull.working.put(("F_head", "f_head,k d_h^2"), &inputs, Amount::Force(newtons), source);
        newtons
    };
    pull.add(PULL_THROUGH, newtons);
    Ok(())
}

/// Screws: 8.38 to 8.40; what the head pulls through at is for the maker to declare.
fn screw(rules: &En1995, asked: &Along<'_>, pull: &mut Pull) -> Result<(), NoValue> {
    let (terms, spec) = (&rules.table.carry.screw_axial, asked.driven.spec);
    let (d, clause) = (spec.diameter_mm, "8.7.2(4)");
    let (_, stuff, density) = holding(asked, clause)?;
    let Some(root_mm) = spec.root_mm.filter(|it| 0.0 < *it) else {
        return none(clause, "the diameter at the root of the screw's thread is not known");
    };
    let (thin, thick) = (terms.diameter_mm, terms.root);
    let in_range = at_least(d, thin[0]) && at_most(d, thin[1]);
    if !in_range || !at_least(root_mm / d, thick[0]) || !at_most(root_mm / d, thick[1]) {
        return none(
            "8.7.2(5)",
            "the withdrawal of a screw that is not 6 to 12 mm thick with a root of 0.60 to 0.75 of that is for its \
             maker to declare (EN 14592)",
        );
    }
    let thread_mm = spec.thread_mm.map_or(asked.holding.length_mm, |_| asked.holding.thread_mm);
    let length_mm = thread_mm.clamp(0.0, asked.holding.length_mm);
    let least_mm = rules.table.screw_penetration.axial_thread * d;
    if !at_least(length_mm, least_mm) {
        let there = format!("{length_mm:.1} mm of thread in the {} on the point side", asked.holding.name);
        let because = format!("{there} is less than the {least_mm:.1} mm (6 d) from which on it counts");
        return none("8.7.2(3)", because);
    }
    let angle = asked.axis_to_grain_deg.abs().clamp(0.0, 90.0);
    if !at_least(angle, rules.table.end_grain.screw_angle_least_deg) {
        return none(
            clause,
            "a screw that stands at less than 30 degrees to the grain has no withdrawal value",
        );
    }
    pull.woods.push(stuff);
    let strength = 0.52 * d.powf(-0.5) * length_mm.powf(-0.1) * density.powf(0.8);
    let inputs = [
        ("l_ef", Amount::Length(length_mm)),
        ("rho_k,p", Amount::Density(density)),
        ("a", Amount::Angle(angle)),
    ];
    let formula = "0.52 d^-0.5 l_ef^-0.1 rho_k,p^0.8";
    pull.working.put(("f_ax,k", formula), &inputs, Amount::Stress(strength), ec5(clause));
    let thin = (d / 8.0).min(1.0);
    pull.working.put(("k_d", "min(d / 8, 1)"), &[], Amount::Number(thin), ec5(clause));
    let (sine, cosine) = angle.to_radians().sin_cos();
    pull.per_mm = strength * d * thin / (1.2 * cosine * cosine + sine * sine);
    pull.length_mm = length_mm;
    let newtons = pull.per_mm * length_mm;
    let formula = "f_ax,k d l_ef k_d / (1.2 cos^2 a + sin^2 a)";
    pull.working.put(("F_w", formula), &inputs, Amount::Force(newtons), ec5(clause));
    pull.add(WITHDRAWAL, newtons);
    if asked.under_head.as_ref().is_none_or(|it| it.material.family != Family::Steel) {
        pull.unknown = Some("what the screw's head pulls through at is for its maker to declare");
        pull.cautions.push(
            "What the head of the screw pulls through at is for its maker to declare (8.7.2(6)) and is not \
             counted; it is often the lesser value."
                .to_owned(),
        );
    }
    bolt_axial::steel(rules, &asked.driven, pull);
    Ok(())
}

/// Design values along a shank.
pub(super) fn along(rules: &En1995, asked: &Along<'_>) -> Result<Axial, NoValue> {
    let kind = kind(&asked.driven)?;
    let is_long = matches!(asked.duration, Duration::Permanent | Duration::TenYears);
    if kind == Kind::SmoothNail && is_long {
        return none("8.3.2(1)", "smooth nails are not pulled by permanent or long-term loads");
    }
    let mut pull = characteristic(rules, asked)?;
    forces(&pull.modes)?;
    limits::hot(asked.conditions.heat, &mut pull.cautions);
    let of_wood = wood_factors(rules, asked, kind, &mut pull)?;
    let of_steel = bolt_axial::steel_factors(rules);
    let factors_of = |mode: &Mode| if mode.name == STEEL { &of_steel } else { &of_wood };
    let design = |mode: &Mode| factors_of(mode).iter().fold(mode.newtons, |so_far, it| so_far * it.value);
    let least = pull.modes.iter().min_by(|a, b| design(a).total_cmp(&design(b)));
    let Some(governs) = least.copied() else {
        return none(
            "8.5.2(1)",
            "neither what the head and the nut bear on nor the strength of the steel is known",
        );
    };
    let adjusted_n = design(&governs);
    let source = ec5("2.4.3(1)");
    pull.working.put(("F_ax,Rk", "the mode that governs"), &[], Amount::Force(governs.newtons), source);
    pull.working.because(governs.name);
    let formula =
        if governs.name == STEEL { "F_ax,Rk / gamma_M2" } else { "k_wet k_group k_mod F_ax,Rk / gamma_M" };
    let inputs = [("gamma_M2", Amount::Number(rules.table.carry.steel.gamma_m2))];
    pull.working.put(("F_ax,Rd", formula), &inputs, Amount::Force(adjusted_n), source);
    let factors = factors_of(&governs).clone();
    Ok(Axial {
        modes: pull.modes,
        mode: governs.name,
        length_mm: pull.length_mm,
        reference_n_per_mm: pull.per_mm,
        reference_n: governs.newtons,
        factors,
        adjusted_n,
        working: pull.working.lines,
        cautions: pull.cautions,
    })
}

/// The factors of a mode in wood.
fn wood_factors(
    rules: &En1995,
    asked: &Along<'_>,
    kind: Kind,
    pull: &mut Pull,
) -> Result<Vec<Factor>, NoValue> {
    let wet_because = if pull.wet < 1.0 { "wet when nailed, and dries under load" } else { "not nailed wet" };
    let wet_source: Source = ec5("8.3.2(8)");
    let wet = Factor {
        key: "wet_when_made",
        symbol: "k_wet",
        value: pull.wet,
        because: wet_because.to_owned(),
        source: wet_source,
    };
    pull.working.given(("k_wet", Amount::Number(pull.wet)), wet_source);
    pull.working.because(wet_because);
    let group = group(asked, kind, &mut pull.working);
    let load = (asked.driven.service, asked.duration);
    let kmod = factors::kmod(rules, &bearing_woods(pull), load, &mut pull.working)?;
    let gamma = factors::gamma(rules, &asked.conditions, &mut pull.working)?;
    Ok(vec![wet, group, kmod, gamma])
}

/// At most two stuffs, the first and one that differs from it.
fn bearing_woods(pull: &Pull) -> Vec<Stuff> {
    let first = pull.woods.first().copied();
    let other = pull.woods.iter().copied().find(|it| Some(*it) != first);
    first.into_iter().chain(other).collect()
}

/// Screws that are pulled together: `n_ef = n^0.9` (8.41).
fn group(asked: &Along<'_>, kind: Kind, working: &mut Working) -> Factor {
    let source = ec5("8.7.2(8)");
    let (value, because) = if kind == Kind::Screw && 1 < asked.count {
        let count = factors::count(asked.count);
        let effective = count.powf(0.9);
        let inputs = [("n", Amount::Number(count))];
        working.put(("n_ef", "n^0.9"), &inputs, Amount::Number(effective), source);
        (effective / count, format!("{count} screws pulled together: n_ef = {effective:.3}"))
    } else if kind == Kind::Screw {
        (1.0, "one screw".to_owned())
    } else {
        (1.0, "each counts whole".to_owned())
    };
    working.given(("k_group", Amount::Number(value)), source);
    working.because(because.clone());
    Factor { key: "group", symbol: "n_ef / n", value, because, source }
}

/// The length of a body along the axis where it is one.
pub(super) fn thickness(bearing: &Bearing<'_>) -> f64 {
    bearing.length_mm.max(0.0)
}
