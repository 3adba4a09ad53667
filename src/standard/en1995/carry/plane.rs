//! One shear plane: the equations that hold for it, the rope effect, and the mode that governs.

use crate::standard::capacity::{Across, Amount, Bearing, Mode, NoValue};
use crate::standard::en1995::{En1995, ec5};
use crate::unit::compare::at_least;

use super::embedment::Bears;
use super::johansen::{DOUBLE, MIDDLE, OUTSIDE_THICK, OUTSIDE_THIN, Plane, Rule, SINGLE, THICK, THIN};
use super::rope::{self, Rope};
use super::shank::Shank;
use super::stuff::Stuff;
use super::working::Working;
use super::{limits, none};

/// What one plane carries.
pub(super) struct Sheared<'a> {
    pub(super) shank: Shank<'a>,
    pub(super) modes: Vec<Mode>,
    pub(super) mode: &'static str,
    pub(super) reference_n: f64,
    /// The stuffs that the timber or panel members of the plane are made of.
    pub(super) woods: Vec<Stuff>,
    /// A timber that a row may split along is predrilled.
    pub(super) is_predrilled: bool,
    pub(super) working: Working,
    pub(super) cautions: Vec<String>,
}

/// The modes of a plane: one set, or two and how far between them.
enum Sets {
    One(&'static [Rule]),
    Between { thin: &'static [Rule], thick: &'static [Rule], share: f64, name: &'static str },
}

/// How a plate stands between thin, 0, and thick, 1 (8.2.3(1)).
fn plate_share(
    rules: &En1995,
    (steel, shank): (&Bearing<'_>, &Shank<'_>),
    working: &mut Working,
    cautions: &mut Vec<String>,
) -> f64 {
    let (terms, d) = (&rules.table.carry.plate, shank.diameter_mm);
    let source = ec5("8.2.3(1)");
    let Some(hole_mm) = steel.drilled_mm.filter(|it| it.is_finite()) else {
        working.put(("s", "0"), &[], Amount::Number(0.0), source);
        working.because("a thin plate: the hole in it is not known, and only a tight one holds the shank");
        cautions.push(
            "The hole in the steel is not known; the plate is taken as thin, the lesser value.".to_owned(),
        );
        return 0.0;
    };
    let share = ((steel.length_mm / d - terms.thin) / (terms.thick - terms.thin)).clamp(0.0, 1.0);
    if 0.0 < share && at_least(hole_mm - d, terms.tolerance * d) {
        working.put(("s", "0"), &[], Amount::Number(0.0), source);
        working
            .because(format!("a thin plate: its hole of {hole_mm:.1} mm is wider than d by 0.1 d or more"));
        return 0.0;
    }
    let inputs = [("t", Amount::Length(steel.length_mm))];
    working.put(("s", "(t - 0.5 d) / (0.5 d), from 0 to 1"), &inputs, Amount::Number(share), source);
    working.because(if share <= 0.0 {
        "a thin plate"
    } else if 1.0 <= share {
        "a thick plate"
    } else {
        "between a thin and a thick plate"
    });
    share
}

fn between(thin: &'static [Rule], thick: &'static [Rule], share: f64, name: &'static str) -> Sets {
    if share <= 0.0 {
        Sets::One(thin)
    } else if 1.0 <= share {
        Sets::One(thick)
    } else {
        Sets::Between { thin, thick, share, name }
    }
}

impl<'a> Sheared<'a> {
    /// The plane between the main body and `outer`, which is the side or the one beyond.
    pub(super) fn of(
        rules: &En1995,
        asked: &'a Across<'a>,
        (outer, gap_mm): (&'a Bearing<'a>, f64),
    ) -> Result<Self, NoValue> {
        let (mut working, mut cautions) = (Working::default(), Vec::new());
        let last = limits::last(asked);
        let shank = Shank::of(rules, &asked.driven, last, &mut working)?;
        limits::penetration(rules, &shank, last, &mut working)?;
        limits::splitting(rules, &shank, asked, (&mut working, &mut cautions));
        let moment = shank.yield_moment(rules, &mut working, &mut cautions)?;
        let mut plane = Plane {
            strength: [0.0; 2],
            length_mm: [0.0; 2],
            diameter_mm: shank.effective_mm,
            yield_moment: moment,
            gap_mm,
        };
        let (bears, sets) = arranged(rules, (asked, outer), &shank, (&mut working, &mut cautions))?;
        for it in &bears {
            plane.length_mm[it.place] = it.bearing.length_mm;
            plane.strength[it.place] = it.strength(rules, &shank, &mut working)?;
        }
        if bears.len() == 2 {
            let beta = Amount::Number(plane.strength[1] / plane.strength[0]);
            working.put(("beta", "f_h,2,k / f_h,1,k"), &[], beta, ec5("8.2.2(1)"));
        }
        let rope = rope::of(rules, (asked, gap_mm), shank.kind, &mut working);
        let mut sheared = Self {
            shank,
            modes: Vec::new(),
            mode: "",
            reference_n: 0.0,
            woods: bears.iter().map(|it| it.stuff).collect(),
            is_predrilled: bears.iter().all(|it| it.stuff.is_board() || it.bearing.drilled_mm.is_some()),
            working,
            cautions,
        };
        sheared.carry(&sets, &plane, rope);
        Ok(sheared)
    }

    /// The modes, and the least of them.
    fn carry(&mut self, sets: &Sets, plane: &Plane, rope: Rope) {
        match sets {
            Sets::One(set) => {
                self.modes = modes(set, plane, rope, &mut self.working);
                (self.mode, self.reference_n) = least(&self.modes);
                let value = Amount::Force(self.reference_n);
                self.working.put(("F_v,Rk", "the least of the modes"), &[], value, set[0].source());
                self.working.because(format!("mode {} governs", self.mode));
            }
            Sets::Between { thin, thick, share, name } => {
                let (_, low) = least(&modes(thin, plane, rope, &mut self.working));
                let source = thin[0].source();
                self.working.put(("F_thin", "the least with a thin plate"), &[], Amount::Force(low), source);
                let (_, high) = least(&modes(thick, plane, rope, &mut self.working));
                let source = thick[0].source();
                self.working.put(
                    ("F_thick", "the least with a thick plate"),
                    &[],
                    Amount::Force(high),
                    source,
                );
                let newtons = share.mul_add(high - low, low);
                (self.mode, self.reference_n) = (name, newtons);
                self.modes = vec![Mode { name, newtons }];
                let formula = "F_thin + s (F_thick - F_thin)";
                self.working.put(("F_v,Rk", formula), &[], Amount::Force(newtons), ec5("8.2.3(1)"));
            }
        }
    }
}

/// The members in their places in the equations, and the equations.
fn arranged<'a>(
    rules: &En1995,
    (asked, outer): (&'a Across<'a>, &'a Bearing<'a>),
    shank: &Shank<'_>,
    (working, cautions): (&mut Working, &mut Vec<String>),
) -> Result<(Vec<Bears<'a>>, Sets), NoValue> {
    let (inner, is_double) = (&asked.main, asked.beyond.is_some());
    let (outer_stuff, inner_stuff) = (Stuff::of(outer.material)?, Stuff::of(inner.material)?);
    let first = Bears { bearing: outer, stuff: outer_stuff, place: 0 };
    let second = Bears { bearing: inner, stuff: inner_stuff, place: 1 };
    Ok(match (outer_stuff.is_steel(), inner_stuff.is_steel(), is_double) {
        (true, true, _) => return none("8.2.3(1)", "steel on steel is no timber connection (EN 1993-1-8)"),
        (false, false, false) => (vec![first, second], Sets::One(&SINGLE)),
        (false, false, true) => (vec![first, second], Sets::One(&DOUBLE)),
        (false, true, true) => (vec![first], Sets::One(&MIDDLE)),
        (false, true, false) => {
            let share = plate_share(rules, (inner, shank), working, cautions);
            (vec![first], between(&THIN, &THICK, share, "8.9 to 8.10"))
        }
        (true, false, false) => {
            let share = plate_share(rules, (outer, shank), working, cautions);
            (vec![Bears { place: 0, ..second }], between(&THIN, &THICK, share, "8.9 to 8.10"))
        }
        (true, false, true) => {
            let share = plate_share(rules, (outer, shank), working, cautions);
            (vec![second], between(&OUTSIDE_THIN, &OUTSIDE_THICK, share, "8.12 to 8.13"))
        }
    })
}

/// Each mode of a set with its rope effect, written down.
fn modes(set: &[Rule], plane: &Plane, rope: Rope, working: &mut Working) -> Vec<Mode> {
    let inputs = plane.inputs();
    let mut found = Vec::with_capacity(set.len());
    for rule in set {
        let (yields_n, formula) = rule.yields_at(plane);
        working.put((rule.symbol, formula), &inputs, Amount::Force(yields_n), rule.source());
        working.because(format!("mode {}", rule.name));
        let mut newtons = yields_n;
        if rule.is_roped && 0.0 < rope.quarter_n {
            newtons += rope.quarter_n.min(rope.limit * yields_n);
            working.put(rule.whole, &[], Amount::Force(newtons), ec5("8.2.2(2)"));
        }
        found.push(Mode { name: rule.name, newtons });
    }
    found
}

/// The mode that governs and what it gives; of equal ones the first.
pub(super) fn least(modes: &[Mode]) -> (&'static str, f64) {
    let least = modes.iter().min_by(|a, b| a.newtons.total_cmp(&b.newtons));
    least.map_or(("", 0.0), |it| (it.name, it.newtons))
}
