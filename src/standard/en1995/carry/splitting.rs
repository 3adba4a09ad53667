//! Timber that a connection splits along its grain: 8.1.4.

use crate::standard::capacity::{Amount, NoValue, Split, Splitting};
use crate::standard::en1995::{En1995, ec5};

use super::stuff::Stuff;
use super::working::Working;
use super::{factors, none};

/// The value of 8.4 in N and mm, with w = 1 for all fasteners but punched metal plates.
const SPLITS: f64 = 14.0;

/// What the timber carries across its grain at a connection: 8.4 for softwood.
pub(in crate::standard::en1995) fn splitting(
    rules: &En1995,
    asked: &Split<'_>,
) -> Result<Splitting, NoValue> {
    const CLAUSE: &str = "8.1.4(3)";
    let stuff = Stuff::of(asked.material)?;
    if stuff != Stuff::Softwood {
        return none(CLAUSE, format!("{}: 8.4 is given for softwood alone", asked.material.label));
    }
    let (far, depth, width) = (asked.far_mm, asked.depth_mm, asked.width_mm);
    let is_sound =
        0.0 < far && 0.0 < depth && 0.0 < width && [far, depth, width].iter().all(|it| it.is_finite());
    if !is_sound || depth <= far {
        return none(CLAUSE, "no fastener of it lies inside the depth of the timber");
    }
    let mut working = Working::default();
    let carried = SPLITS * width * (far / (1.0 - far / depth)).sqrt();
    let inputs = [("b", Amount::Length(width)), ("h_e", Amount::Length(far)), ("h", Amount::Length(depth))];
    let formula = "14 b (h_e / (1 - h_e / h))^0.5";
    working.put(("F_90,Rk", formula), &inputs, Amount::Force(carried), ec5(CLAUSE));
    working.because("N and mm; w = 1, and h_e to the farthest fastener from the loaded edge");
    let load = (asked.service, asked.duration);
    let factors = vec![
        factors::kmod(rules, &[stuff], load, &mut working)?,
        factors::gamma(rules, &asked.conditions, &mut working)?,
    ];
    let adjusted_n = factors.iter().fold(carried, |so_far, it| so_far * it.value);
    if !(adjusted_n.is_finite() && 0.0 <= adjusted_n) {
        return none(CLAUSE, "the measures are so far from any that can be made that no force comes out");
    }
    working.put(("F_90,Rd", "k_mod F_90,Rk / gamma_M"), &[], Amount::Force(adjusted_n), ec5("2.4.3(1)"));
    Ok(Splitting { reference_n: carried, factors, adjusted_n, working: working.lines })
}
