//! National Design Specification for Wood Construction, 2018 edition: what it asks of a fastener, and
//! in `carry` what the fastener then carries. Inches are turned exactly.

mod carry;
mod distance;
mod hole;
mod table;

use super::capacity::{Across, Along, Axial, Combined, Demand, Lateral, NoValue, Units};
use super::common::Practice;
use super::table::{ask, given, length, number, read};
use super::{
    Angled, Border, Check, Driven, Hold, Pair, Quantity, Source, Standard, Step, Surround, Topic, Under,
    common,
};
use crate::joint::{Service, StandardId, Treatment};
use crate::stock::{FastenerKind, Material};
use crate::unit::compare::at_least;
use crate::unit::length::MM_PER_INCH;
use table::{Table, WasherSize};

const TABLE: &str = include_str!("../../../resources/standards/nds-2018.toml");

/// The standard with its table read.
pub(super) struct Nds2018 {
    table: Table,
    practice: Practice,
}

/// A clause or table of the standard.
fn nds(clause: &'static str) -> Source {
    Source::Clause { document: "NDS 2018", clause }
}

/// A clause of the residential code, which the standard leaves coatings to.
fn irc(clause: &'static str) -> Source {
    Source::Clause { document: "IRC", clause }
}

/// `k D`, worked out: the least or greatest measure in diameters.
fn diameters(symbol: &'static str, factor: f64, diameter_mm: f64) -> Vec<Step> {
    vec![
        given("D", Quantity::Length(diameter_mm)),
        given("k", Quantity::Number(factor)),
        length(symbol, "k D", factor * diameter_mm),
    ]
}

impl Nds2018 {
    pub(super) fn read() -> Self {
        Self { table: read(TABLE), practice: Practice::read() }
    }

    /// Whether Tables 12.5.1A to 12.5.1E bind for this fastener: 1/4 in and more.
    fn is_large(&self, driven: &Driven<'_>) -> bool {
        at_least(driven.spec.diameter_mm, self.table.large_diameter.from_mm)
    }

    /// The standard cut washer for a bolt: of the next larger size where its own is not in the table.
    fn cut_washer(&self, diameter_mm: f64) -> Option<&WasherSize> {
        self.table.washer.sizes_in.iter().find(|it| at_least(it.bolt * MM_PER_INCH, diameter_mm))
    }
}

impl Standard for Nds2018 {
    fn id(&self) -> StandardId {
        StandardId::Nds2018
    }

    fn practice(&self) -> &Practice {
        &self.practice
    }

    fn name(&self) -> &'static str {
        "National Design Specification (NDS) for Wood Construction, 2018 edition"
    }

    /// Least penetration: 12.1.4.6 lag screws (4 D, without the tip), 12.1.5.6 wood screws and
    /// 12.1.6.4 nails (6 D, tip included). Bolts go through.
    fn penetration(&self, driven: &Driven<'_>, hold: &Hold<'_>) -> Vec<Check> {
        if !hold.material.family.is_wood() {
            return Vec::new();
        }
        let least = &self.table.penetration;
        let (clause, factor, measured_mm) = match driven.spec.kind {
            FastenerKind::LagScrew => (nds("12.1.4.6"), least.lag_screw, hold.bite_without_point_mm),
            FastenerKind::WoodScrew => (nds("12.1.5.6"), least.wood_screw, hold.bite_mm),
            FastenerKind::Nail => (nds("12.1.6.4"), least.nail, hold.bite_mm),
            FastenerKind::Bolt | FastenerKind::ThreadedRod | FastenerKind::MasonryScrew => return Vec::new(),
        };
        let working = diameters("p_min", factor, driven.spec.diameter_mm);
        vec![ask(Topic::Penetration, clause).at_least(Quantity::Length(measured_mm), working)]
    }

    /// Toe-nails, 12.1.6.3: about 30 degrees to the member, from about a third of the length from its end.
    ///
    /// How far "about" reaches is ours. Other fasteners than nails are not spoken of.
    fn angled(&self, driven: &Driven<'_>, angled: &Angled) -> Vec<Check> {
        if driven.spec.kind != FastenerKind::Nail {
            return Vec::new();
        }
        let (toe_nail, about) = (&self.table.toe_nail, &self.practice.about);
        let angle = |edge: &'static str, sign: f64| {
            vec![
                given("a", Quantity::Angle(toe_nail.angle_deg)),
                given("t", Quantity::Angle(about.angle_deg)),
                Step {
                    symbol: edge,
                    formula: if sign < 0.0 { "a - t" } else { "a + t" },
                    value: Quantity::Angle(sign.mul_add(about.angle_deg, toe_nail.angle_deg)),
                },
            ]
        };
        let nominal_mm = toe_nail.start_of_length * driven.spec.length_mm;
        let start = |edge: &'static str, sign: f64| {
            vec![
                given("L", Quantity::Length(driven.spec.length_mm)),
                length("s", "L / 3", nominal_mm),
                given("t", Quantity::Number(about.start_part)),
                length(
                    edge,
                    if sign < 0.0 { "s (1 - t)" } else { "s (1 + t)" },
                    nominal_mm * sign.mul_add(about.start_part, 1.0),
                ),
            ]
        };
        let (slope, place) = (Quantity::Angle(angled.angle_to_face_deg), Quantity::Length(angled.start_mm));
        let (asked_angle, asked_start) =
            (ask(Topic::NailAngle, nds("12.1.6.3")), ask(Topic::NailStart, nds("12.1.6.3")));
        vec![
            asked_angle.at_least(slope, angle("a_min", -1.0)),
            asked_angle.at_most(slope, angle("a_max", 1.0)),
            asked_start.at_least(place, start("s_min", -1.0)),
            asked_start.at_most(place, start("s_max", 1.0)),
        ]
    }

    fn border(&self, driven: &Driven<'_>, border: &Border<'_>) -> Vec<Check> {
        distance::border(self, driven, border)
    }

    fn spacing(&self, driven: &Driven<'_>, pair: &Pair<'_>) -> Vec<Check> {
        distance::spacing(self, driven, pair)
    }

    fn enough_mm(&self, driven: &Driven<'_>, row_spacing_mm: Option<f64>) -> f64 {
        distance::enough_mm(self, driven, row_spacing_mm)
    }

    /// Outermost fasteners of 1/4 in and more across the grain, 12.5.1.3: at most 5 in, unless the
    /// joint is detailed for shrinkage.
    fn spread(&self, driven: &Driven<'_>, pair: &Pair<'_>) -> Vec<Check> {
        if !self.is_large(driven) || !pair.material.family.is_wood() {
            return Vec::new();
        }
        let working = vec![given("s_max", Quantity::Length(self.table.spread.most_mm))];
        let check =
            ask(Topic::RowSpacing, nds("12.5.1.3")).at_most(Quantity::Length(pair.across_mm), working);
        vec![check.recommended()]
    }

    fn hole(&self, driven: &Driven<'_>, material: &Material) -> Vec<Check> {
        hole::hole(self, driven, material)
    }

    /// Bolts on wood, 12.1.3.3: a standard cut washer, or plate of equal size, under head and nut.
    fn washer(&self, driven: &Driven<'_>, under: &Under<'_>) -> Vec<Check> {
        let is_bolt = matches!(driven.spec.kind, FastenerKind::Bolt | FastenerKind::ThreadedRod);
        if !is_bolt || !under.material.family.is_wood() {
            return Vec::new();
        }
        let asked = ask(Topic::Washer, nds("12.1.3.3"));
        let Some((outer_mm, thickness_mm)) = under.washer_mm else { return vec![asked.wanted(false)] };
        let Some(size) = self.cut_washer(driven.spec.diameter_mm) else { return vec![asked.wanted(true)] };
        let bolt = given("D", Quantity::Length(driven.spec.diameter_mm));
        let in_table = |symbol, inch: f64| vec![bolt.clone(), length(symbol, "Table L6", inch * MM_PER_INCH)];
        vec![
            asked.at_least(Quantity::Length(outer_mm), in_table("d_washer", size.outer)),
            asked.at_least(Quantity::Length(thickness_mm), in_table("t_washer", size.thickness)),
        ]
    }

    /// End grain: no withdrawal of wood screws (12.2.2.3) and nails (12.2.3.3), less of lag screws
    /// (12.2.1.3), and less across the shank of any (12.5.2.2).
    fn end_grain(&self, driven: &Driven<'_>, hold: &Hold<'_>) -> Vec<Check> {
        if !hold.end_grain || !hold.material.family.is_wood() {
            return Vec::new();
        }
        let left = &self.table.end_grain;
        let less = |clause, part| {
            let step = number("C_eg", "", part);
            ask(Topic::EndGrain, nds(clause)).barred(true).recommended().with(step)
        };
        let sideways = || less("12.5.2.2", left.sideways);
        let pulled = match driven.spec.kind {
            FastenerKind::WoodScrew => Some(ask(Topic::EndGrain, nds("12.2.2.3")).barred(true)),
            FastenerKind::Nail => Some(ask(Topic::EndGrain, nds("12.2.3.3")).barred(true)),
            FastenerKind::LagScrew => Some(less("12.2.1.3", left.lag_withdrawal)),
            FastenerKind::Bolt | FastenerKind::ThreadedRod | FastenerKind::MasonryScrew => None,
        };
        match (pulled, hold.withdrawal) {
            (Some(pulled), Some(true)) => vec![pulled],
            (Some(pulled), None) => vec![pulled.recommended(), sideways()],
            (Some(_), Some(false)) | (None, _) => vec![sideways()],
        }
    }

    /// Coating in treated wood. The standard leaves it to the building code: IRC R317.3.1 for
    /// preservatives, R317.3.3 and R317.3.4 for fire retardants.
    fn finish(&self, driven: &Driven<'_>, surround: &Surround<'_>) -> Vec<Check> {
        if !surround.material.family.is_wood() {
            return Vec::new();
        }
        let plain_from_mm = self.table.treated_wood.plain_bolt_from_mm;
        let kind = driven.spec.kind;
        let is_thick_bolt = matches!(kind, FastenerKind::Bolt | FastenerKind::ThreadedRod)
            && at_least(driven.spec.diameter_mm, plain_from_mm);
        let is_dry = driven.service == Service::Dry;
        let clause = match surround.treatment {
            Treatment::None => return Vec::new(),
            Treatment::Preservative if is_thick_bolt => return Vec::new(),
            Treatment::Borate if is_dry || is_thick_bolt => return Vec::new(),
            Treatment::Preservative | Treatment::Borate => irc("R317.3.1"),
            Treatment::FireRetardant if is_dry => irc("R317.3.4"),
            Treatment::FireRetardant => irc("R317.3.3"),
        };
        // Zinc laid on mechanically serves for everything but nails.
        let least = if kind == FastenerKind::Nail { common::HOT_DIP } else { common::MECHANICAL };
        vec![
            ask(Topic::Finish, clause)
                .at_least(common::finish_class(driven.finish), vec![number("class", "", least)]),
        ]
    }

    /// The chapter speaks of wood alone; unsuitable kinds are a matter of common practice.
    fn kind(&self, _driven: &Driven<'_>, _hold: &Hold<'_>) -> Vec<Check> {
        Vec::new()
    }

    fn least_of_group_counts(&self, driven: &Driven<'_>) -> bool {
        self.is_large(driven)
    }

    fn works_in(&self) -> Units {
        Units::InchPound
    }

    fn across(&self, asked: &Across<'_>) -> Result<Lateral, NoValue> {
        carry::across(self, asked)
    }

    fn along(&self, asked: &Along<'_>) -> Result<Axial, NoValue> {
        carry::along(self, asked)
    }

    fn both_ways(&self, driven: &Driven<'_>, across: Demand, along: Demand) -> Combined {
        carry::both_ways(self, driven, across, along)
    }
}
