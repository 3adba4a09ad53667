//! EN 1995-1-1:2004 with A1 and A2 (Eurocode 5): what it asks of a fastener.
//!
//! Values of capacity and national annexes are not here. A least or greatest measure that the text
//! gives with "should" is taken as demanded: a design by the standard keeps its rules.

mod carry;
mod distance;
mod hole;
mod table;

use super::capacity::{Across, Along, Axial, Combined, Demand, Lateral, NoValue, Split, Splitting, Units};
use super::common::Practice;
use super::table::{ask, given, length, number, read};
use super::{
    Angled, Border, Check, Driven, Hold, Pair, Quantity, Source, Standard, Step, Surround, Topic, Under,
    common,
};
use crate::joint::{Service, StandardId, Treatment};
use crate::stock::{FastenerKind, FastenerSpec, Material};
use crate::unit::compare::at_most;
use table::Table;

const TABLE: &str = include_str!("../../../resources/standards/en-1995-1-1.toml");

/// The standard with its table read.
pub(super) struct En1995 {
    table: Table,
    practice: Practice,
}

/// A clause or table of the standard.
fn ec5(clause: &'static str) -> Source {
    Source::Clause { document: "EN 1995-1-1", clause }
}

/// `k d`, worked out.
fn diameters(symbol: &'static str, factor: f64, diameter_mm: f64) -> Vec<Step> {
    vec![
        given("d", Quantity::Length(diameter_mm)),
        given("k", Quantity::Number(factor)),
        length(symbol, "k d", factor * diameter_mm),
    ]
}

/// A nail with rings or threads, which EN 14592 tells from a smooth one.
fn is_threaded(spec: &FastenerSpec) -> bool {
    spec.thread_mm.is_some()
}

impl En1995 {
    pub(super) fn read() -> Self {
        Self { table: read(TABLE), practice: Practice::read() }
    }

    /// Screws up to 6 mm are treated as nails (8.7.1(5)), thicker ones as bolts (8.7.1(4)).
    fn is_like_nail(&self, driven: &Driven<'_>) -> bool {
        match driven.spec.kind {
            FastenerKind::Nail => true,
            FastenerKind::WoodScrew | FastenerKind::LagScrew => {
                at_most(driven.spec.diameter_mm, self.table.screw_penetration.as_nail_to_mm)
            }
            FastenerKind::Bolt | FastenerKind::ThreadedRod | FastenerKind::MasonryScrew => false,
        }
    }

    /// Nails: 8 d smooth (8.3.1.2(1)), 6 d others (8.3.1.2(2)); pulled, the whole value from 12 d and 8 d on (8.3.2(7)).
    fn nail_penetration(&self, driven: &Driven<'_>, hold: &Hold<'_>) -> Vec<Check> {
        let (least, whole) = (&self.table.nail_penetration, &self.table.nail_axial);
        let (source, factor, whole) = if is_threaded(driven.spec) {
            (ec5("8.3.1.2(2)"), least.threaded, whole.threaded_full)
        } else {
            (ec5("8.3.1.2(1)"), least.smooth, whole.smooth_full)
        };
        let (bite, diameter_mm) = (Quantity::Length(hold.bite_mm), driven.spec.diameter_mm);
        let mut checks =
            vec![ask(Topic::Penetration, source).at_least(bite, diameters("t_pen", factor, diameter_mm))];
        if hold.withdrawal == Some(true) {
            let working = diameters("t_pen", whole, diameter_mm);
            checks.push(ask(Topic::Penetration, ec5("8.3.2(7)")).at_least(bite, working).recommended());
        }
        checks.extend(self.thickness(driven, hold));
        checks
    }

    /// Timber that is thinner than max(7 d, (13 d - 30) `rho_k` / 400) is predrilled for nails, 8.3.1.2(6).
    fn thickness(&self, driven: &Driven<'_>, hold: &Hold<'_>) -> Option<Check> {
        let (side_mm, density) = (hold.side_mm?, hold.material.density_kg_m3?);
        if driven.hole_mm.is_some() {
            return None;
        }
        let (terms, diameter_mm) = (&self.table.nail_thickness, driven.spec.diameter_mm);
        let by_density = terms.slope.mul_add(diameter_mm, -terms.offset_mm) * density / terms.density;
        let working = vec![
            given("d", Quantity::Length(diameter_mm)),
            given("rho_k", Quantity::Number(density)),
            length("t_1", "7 d", terms.diameters * diameter_mm),
            length("t_2", "(13 d - 30) rho_k / 400", by_density),
            length("t_min", "max(t_1, t_2)", (terms.diameters * diameter_mm).max(by_density)),
        ];
        let asked = ask(Topic::SidePenetration, ec5("8.3.1.2(6)"));
        Some(asked.at_least(Quantity::Length(side_mm), working))
    }

    /// Screws: up to 6 mm as threaded nails (8.7.1(5)), thicker ones 4 d of shank (8.7.1(2)); when pulled,
    /// 6 d of thread (8.7.2(3)).
    fn screw_penetration(&self, driven: &Driven<'_>, hold: &Hold<'_>) -> Vec<Check> {
        let (least, diameter_mm) = (&self.table.screw_penetration, driven.spec.diameter_mm);
        let bite = Quantity::Length(hold.bite_mm);
        let sideways = if self.is_like_nail(driven) {
            let working = diameters("t_pen", self.table.nail_penetration.threaded, diameter_mm);
            ask(Topic::Penetration, ec5("8.7.1(5)")).at_least(bite, working)
        } else {
            ask(Topic::Penetration, ec5("8.7.1(2)"))
                .at_least(bite, diameters("t_pen", least.sideways, diameter_mm))
        };
        let thread_mm = driven.spec.thread_mm.map_or(hold.bite_mm, |it| it.min(hold.bite_mm));
        let pulled = ask(Topic::Penetration, ec5("8.7.2(3)"))
            .at_least(Quantity::Length(thread_mm), diameters("l_ef", least.axial_thread, diameter_mm));
        match hold.withdrawal {
            Some(true) => vec![pulled],
            Some(false) => vec![sideways],
            None => vec![sideways, pulled.recommended()],
        }
    }
}

impl Standard for En1995 {
    fn id(&self) -> StandardId {
        StandardId::En199511
    }

    fn practice(&self) -> &Practice {
        &self.practice
    }

    fn name(&self) -> &'static str {
        "EN 1995-1-1:2004 + A1 + A2 (Eurocode 5)"
    }

    fn penetration(&self, driven: &Driven<'_>, hold: &Hold<'_>) -> Vec<Check> {
        if !hold.material.family.is_wood() {
            return Vec::new();
        }
        match driven.spec.kind {
            FastenerKind::Nail => self.nail_penetration(driven, hold),
            FastenerKind::WoodScrew | FastenerKind::LagScrew => self.screw_penetration(driven, hold),
            FastenerKind::Bolt | FastenerKind::ThreadedRod | FastenerKind::MasonryScrew => Vec::new(),
        }
    }

    /// Slant nailing, 8.3.2(10) and figure 8.8(b): at least 10 d to the loaded edge, read as the
    /// distance from the start to where the member ends against the next. No slope is printed; it is
    /// left to common practice.
    fn angled(&self, driven: &Driven<'_>, angled: &Angled) -> Vec<Check> {
        if driven.spec.kind != FastenerKind::Nail {
            return Vec::new();
        }
        let working = diameters("s_min", self.table.slant.loaded_edge, driven.spec.diameter_mm);
        let start =
            ask(Topic::NailStart, ec5("8.3.2(10)")).at_least(Quantity::Length(angled.start_mm), working);
        let mut checks = self.practice.angled(driven, angled);
        checks.push(start);
        checks
    }

    fn border(&self, driven: &Driven<'_>, border: &Border<'_>) -> Vec<Check> {
        distance::border(self, driven, border)
    }

    fn spacing(&self, driven: &Driven<'_>, pair: &Pair<'_>) -> Vec<Check> {
        distance::spacing(self, driven, pair)
    }

    fn enough_mm(&self, driven: &Driven<'_>, _row_spacing_mm: Option<f64>) -> f64 {
        distance::enough_mm(self, driven)
    }

    fn hole(&self, driven: &Driven<'_>, material: &Material) -> Vec<Check> {
        hole::hole(self, driven, material)
    }

    /// Bolts on timber, 10.4.3(2): under head and nut, side or diameter at least 3 d, thickness 0.3 d.
    fn washer(&self, driven: &Driven<'_>, under: &Under<'_>) -> Vec<Check> {
        let is_bolt = matches!(driven.spec.kind, FastenerKind::Bolt | FastenerKind::ThreadedRod);
        if !is_bolt || !under.material.family.is_wood() {
            return Vec::new();
        }
        let asked = ask(Topic::Washer, ec5("10.4.3(2)"));
        let Some((outer_mm, thickness_mm)) = under.washer_mm else { return vec![asked.wanted(false)] };
        let (least, diameter_mm) = (&self.table.washer, driven.spec.diameter_mm);
        vec![
            asked.at_least(Quantity::Length(outer_mm), diameters("d_washer", least.side, diameter_mm)),
            asked.at_least(
                Quantity::Length(thickness_mm),
                diameters("t_washer", least.thickness, diameter_mm),
            ),
        ]
    }

    /// End grain: nails carry nothing along (8.3.2(3)), and across (8.3.1.2(3)) a third at most in
    /// secondary structures (8.3.1.2(4)); a screw is pulled at 30 degrees to the grain or more (8.7.2(4)).
    fn end_grain(&self, driven: &Driven<'_>, hold: &Hold<'_>) -> Vec<Check> {
        if !hold.end_grain || !hold.material.family.is_wood() {
            return Vec::new();
        }
        let barred = |clause| ask(Topic::EndGrain, ec5(clause)).barred(true);
        match (driven.spec.kind, hold.withdrawal) {
            (FastenerKind::Nail, Some(true)) => vec![barred("8.3.2(3)")],
            (FastenerKind::Nail, Some(false)) => vec![self.nail_across_end_grain()],
            (FastenerKind::Nail, None) => {
                vec![self.nail_across_end_grain(), barred("8.3.2(3)").recommended()]
            }
            (FastenerKind::WoodScrew | FastenerKind::LagScrew, withdrawal) => {
                let least = given("angle_min", Quantity::Angle(self.table.end_grain.screw_angle_least_deg));
                let check = barred("8.7.2(4)").with(least);
                match withdrawal {
                    Some(true) => vec![check],
                    None => vec![check.recommended()],
                    Some(false) => Vec::new(),
                }
            }
            (FastenerKind::Bolt | FastenerKind::ThreadedRod | FastenerKind::MasonryScrew, _) => Vec::new(),
        }
    }

    /// Coating by service class, Table 4.1; beyond it, treated wood by common practice.
    fn finish(&self, driven: &Driven<'_>, surround: &Surround<'_>) -> Vec<Check> {
        if !surround.material.family.is_wood() || driven.spec.kind == FastenerKind::MasonryScrew {
            return Vec::new();
        }
        let is_bolt = matches!(driven.spec.kind, FastenerKind::Bolt | FastenerKind::ThreadedRod);
        let is_thin = !is_bolt && at_most(driven.spec.diameter_mm, self.table.corrosion.thin_to_mm);
        // Fe/Zn 12c is a thin electroplated coat; Fe/Zn 25c is as much as is laid on mechanically.
        let least = match driven.service {
            Service::Humid if is_thin => Some(common::ELECTROPLATED),
            Service::Dry | Service::Humid => None,
            Service::Wet => Some(common::MECHANICAL),
        };
        let measured = common::finish_class(driven.finish);
        let by_class =
            |least| ask(Topic::Finish, ec5("Table 4.1")).at_least(measured, vec![number("class", "", least)]);
        let mut checks: Vec<Check> = least.map(by_class).into_iter().collect();
        if surround.treatment != Treatment::None {
            checks.extend(self.practice.finish(driven, surround));
        }
        checks
    }

    /// Smooth nails are not pulled for long, 8.3.2(1). How long a load acts is not known here. Other
    /// kinds are a matter of common practice.
    fn kind(&self, driven: &Driven<'_>, hold: &Hold<'_>) -> Vec<Check> {
        let is_smooth_nail = driven.spec.kind == FastenerKind::Nail && !is_threaded(driven.spec);
        if is_smooth_nail && hold.withdrawal == Some(true) && hold.material.family.is_wood() {
            return vec![ask(Topic::Kind, ec5("8.3.2(1)")).wanted(false).recommended()];
        }
        Vec::new()
    }

    fn works_in(&self) -> Units {
        Units::MillimetreNewton
    }

    fn across(&self, asked: &Across<'_>) -> Result<Lateral, NoValue> {
        carry::across(self, asked)
    }

    fn along(&self, asked: &Along<'_>) -> Result<Axial, NoValue> {
        carry::along(self, asked)
    }

    fn splitting(&self, asked: &Split<'_>) -> Option<Result<Splitting, NoValue>> {
        Some(carry::splitting(self, asked))
    }

    fn both_ways(&self, driven: &Driven<'_>, across: Demand, along: Demand) -> Combined {
        carry::both_ways(self, driven, across, along)
    }
}

impl En1995 {
    fn nail_across_end_grain(&self) -> Check {
        let part = given("part", Quantity::Number(self.table.end_grain.nail_sideways));
        ask(Topic::EndGrain, ec5("8.3.1.2(3)")).barred(true).with(part)
    }
}
