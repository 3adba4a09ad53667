//! The holes of a connector: what is still to fill, and what does not suit its hole.

use crate::findings::scene::{Fact, Scene};
use crate::findings::tell::{COMMON_PRACTICE, DRAWING, severity, worst};
use crate::findings::{Finding, Kind, Severity, words};
use crate::joint::{Connector, Duty, Hole, Placement, Takes};
use crate::standard::{Driven, Topic};
use crate::stock::{FastenerKind, Material};
use crate::trace::{Fill, HoleIx, HoleTrace};
use crate::unit::compare;
use crate::unit::length::Rounding;

/// Diameters that differ by less are one size: tables print hundredths of a millimetre or thousandths
/// of an inch, and a 16d common nail is 4.11 mm in one and 0.162" in another. Common practice.
pub(super) const SAME_SIZE_MM: f64 = 0.05;

/// A shank is driven as straight as this by hand, in degrees. Common practice.
const STRAIGHT_WITHIN_DEG: f64 = 5.0;

impl<'a> Scene<'a> {
    /// A hole of a connector, as drawn.
    pub(super) fn hole(&self, ix: HoleIx) -> Option<&'a Hole> {
        self.drawn_hole(self.trace.holes.get(ix.0)?).map(|it| it.1)
    }

    fn drawn_hole(&self, traced: &HoleTrace) -> Option<(&'a Connector, &'a Hole, f64)> {
        let connector = self.joint.connectors.get(traced.connector)?;
        let plate = connector.plates.get(traced.plate)?;
        Some((connector, plate.holes.get(traced.hole)?, plate.thickness_mm))
    }
}

/// A fastener in its hole.
struct InHole<'a> {
    fact: &'a Fact<'a>,
    connector: &'a Connector,
    hole: &'a Hole,
    thickness_mm: f64,
    traced: &'a HoleTrace,
    fill: &'a Fill,
}

pub(super) fn empty(scene: &Scene<'_>) -> Vec<Finding> {
    let required = scene.trace.holes.iter().filter_map(|traced| {
        let (connector, hole, _) = scene.drawn_hole(traced)?;
        let is_empty = hole.duty == Duty::Required && traced.filled_by.is_empty();
        is_empty.then(|| {
            let takes = hole.takes.map_or_else(
                || "a fastener".to_owned(),
                |it| format!("a {} of {}", kind_name(it.kind), words::fine(it.diameter_mm, scene.unit)),
            );
            let says =
                format!("Hole {} of the {} is empty; {takes} goes in.", hole.id, connector.shown_name());
            Finding::drawn(
                Kind::EmptyHole,
                Severity::Fault,
                vec![connector.id.clone(), hole.id.clone()],
                says,
            )
            .counts(0.0, 1.0)
            .at(traced.at)
        })
    });
    let extra = (0..scene.joint.connectors.len()).filter_map(|at| empty_extra(scene, at));
    required.chain(extra).collect()
}

/// Holes for the higher of two ratings: a note, once for a connector.
fn empty_extra(scene: &Scene<'_>, at: usize) -> Option<Finding> {
    let extra: Vec<&HoleTrace> = scene
        .trace
        .holes
        .iter()
        .filter(|it| it.connector == at)
        .filter(|it| scene.drawn_hole(it).is_some_and(|it| it.1.duty == Duty::Extra))
        .collect();
    let first_empty = extra.iter().find(|it| it.filled_by.is_empty())?;
    let filled = extra.iter().filter(|it| !it.filled_by.is_empty()).count();
    let connector = scene.joint.connectors.get(at)?;
    let says = format!(
        "{filled} of {} of the {} {} filled: as drawn it has only the lower of its two ratings.",
        words::count(extra.len(), "extra hole"),
        connector.shown_name(),
        if filled == 1 { "is" } else { "are" }
    );
    #[expect(clippy::cast_precision_loss, reason = "a connector has few holes")]
    let (have, want) = (filled as f64, extra.len() as f64);
    Some(
        Finding::drawn(Kind::EmptyHole, Severity::Note, vec![connector.id.clone()], says)
            .counts(have, want)
            .at(first_empty.at),
    )
}

/// What is wrong with each fastener in each hole. One that is of the wrong kind is not told to be of
/// the wrong size too.
pub(super) fn fit(scene: &Scene<'_>, facts: &[Fact<'_>]) -> Vec<(usize, Finding)> {
    let mut told = Vec::new();
    for traced in &scene.trace.holes {
        let Some((connector, hole, thickness_mm)) = scene.drawn_hole(traced) else { continue };
        for fill in &traced.filled_by {
            let Some(fact) = facts.get(fill.fastener) else { continue };
            let it = InHole { fact, connector, hole, thickness_mm, traced, fill };
            told.extend(it.findings().into_iter().map(|found| (fill.fastener, found.at(traced.at))));
        }
    }
    told
}

impl InHole<'_> {
    fn findings(&self) -> Vec<Finding> {
        if let Some(wrong) = self.wrong_kind() {
            return vec![wrong];
        }
        let size = self.wrong_diameter().or_else(|| self.oversize()).or_else(|| self.off_centre());
        [size, self.wrong_length(), self.wrong_angle(), self.crowded()].into_iter().flatten().collect()
    }

    fn name(&self) -> String {
        format!("hole {} of the {}", self.hole.id, self.connector.shown_name())
    }

    fn tell(&self, kind: Kind, severity: Severity, says: String) -> Finding {
        let mut finding = self.fact.tell(kind, severity, says);
        finding.subjects.extend([self.connector.id.clone(), self.hole.id.clone()]);
        finding
    }

    fn wrong_kind(&self) -> Option<Finding> {
        let takes = self.hole.takes.filter(|it| it.kind != self.fact.kind())?;
        let says = format!(
            "{} takes a {}; this is a {}.",
            crate::findings::bite::capital(&self.name()),
            kind_name(takes.kind),
            kind_name(self.fact.kind())
        );
        Some(self.tell(Kind::WrongKind, Severity::Fault, says).counts(0.0, 1.0))
    }

    fn wrong_diameter(&self) -> Option<Finding> {
        let (unit, drawn) = (self.fact.unit(), self.fact.fastener.spec.diameter_mm);
        if !compare::at_least(self.fill.play_mm, -SAME_SIZE_MM) {
            let says = format!(
                "A shank of {} does not go through {}, {} wide.",
                words::fine(drawn, unit),
                self.name(),
                words::fine(self.hole.diameter_mm, unit)
            );
            let finding = self.tell(Kind::WrongDiameter, Severity::Fault, says);
            return Some(finding.lengths(drawn, self.hole.diameter_mm));
        }
        let Takes { diameter_mm: wanted, .. } = self.hole.takes?;
        let fits =
            compare::at_least(drawn, wanted - SAME_SIZE_MM) && compare::at_most(drawn, wanted + SAME_SIZE_MM);
        if fits {
            return None;
        }
        let says = format!(
            "{} takes a shank of {}; this one is {}.",
            crate::findings::bite::capital(&self.name()),
            words::fine(wanted, unit),
            words::fine(drawn, unit)
        );
        Some(self.tell(Kind::WrongDiameter, Severity::Fault, says).lengths(drawn, wanted))
    }

    /// A hole in steel wider than the standard lets a bolt have.
    fn oversize(&self) -> Option<Finding> {
        let (unit, rules) = (self.fact.unit(), self.fact.scene.rules);
        let hole_mm = Some((self.hole.diameter_mm, self.thickness_mm));
        let driven = Driven { hole_mm, ..self.fact.driven };
        let steel: &Material = &self.connector.material;
        let check = worst(rules.hole(&driven, steel).into_iter().filter(|it| it.topic == Topic::BoltHole))?;
        let (drawn, asked) = words::both_fine(&check, unit);
        let says =
            format!("{} is {drawn} wide; {asked} is allowed.", crate::findings::bite::capital(&self.name()));
        Some(self.tell(Kind::OversizeHole, severity(&check), says).by(&check, unit))
    }

    /// A shank so far off the centre of a hole that it would cut the steel. One that is placed by its hole goes
    /// through the centre where it enters; at a forced angle it lies off it inside the steel, and that is right.
    fn off_centre(&self) -> Option<Finding> {
        if matches!(self.fact.fastener.place, Placement::Fills { .. }) {
            return None;
        }
        let (unit, room) = (self.fact.unit(), (self.fill.play_mm / 2.0).max(0.0));
        let off = self.fill.off_centre_mm;
        if compare::at_most(off, room + SAME_SIZE_MM) {
            return None;
        }
        let says = format!(
            "It crosses the steel {} off the centre of {}, where it has {} to move: it cuts the steel.",
            words::fine(off, unit),
            self.name(),
            words::fine(room, unit)
        );
        let working = format!(
            "room = ({} - {}) / 2 = {}",
            words::fine(self.hole.diameter_mm, unit),
            words::fine(self.fact.fastener.spec.diameter_mm, unit),
            words::fine(room, unit)
        );
        Some(self.tell(Kind::ThroughSteel, Severity::Fault, says).lengths(off, room).worked([working]))
    }

    fn wrong_length(&self) -> Option<Finding> {
        let (unit, drawn) = (self.fact.unit(), self.fact.fastener.spec.length_mm);
        let least = self.hole.takes?.min_length_mm?;
        if compare::at_least(drawn, least - SAME_SIZE_MM) {
            return None;
        }
        let says = format!(
            "{} takes a length of {} or more; this one has {}.",
            crate::findings::bite::capital(&self.name()),
            words::required(least, unit),
            words::measured(drawn, unit)
        );
        Some(self.tell(Kind::WrongLength, Severity::Fault, says).lengths(drawn, least))
    }

    /// The steel forces an angle: then it is a fault to stray from it. Else a hole is for a shank square
    /// to the steel, and to stray from that is a caution.
    fn wrong_angle(&self) -> Option<Finding> {
        let (wanted, severity, source) = match self.hole.angle_deg {
            Some(forced) => (forced, Severity::Fault, DRAWING),
            None => (0.0, Severity::Caution, COMMON_PRACTICE),
        };
        let drawn = self.fill.tilt_deg;
        if compare::at_most((drawn - wanted).abs(), STRAIGHT_WITHIN_DEG) {
            return None;
        }
        let stands = format!("The shank stands {} off square", words::angle(drawn, Rounding::Nearest));
        let says = match self.hole.angle_deg {
            Some(forced) => {
                let forced = words::angle(forced, Rounding::Nearest);
                format!("{stands}; {} forces {forced}.", self.name())
            }
            None => format!("{stands} in {}, which is for a square one.", self.name()),
        };
        let working = format!(
            "{} is more than {} off",
            words::angle((drawn - wanted).abs(), Rounding::Nearest),
            words::angle(STRAIGHT_WITHIN_DEG, Rounding::Nearest)
        );
        let finding = self.tell(Kind::WrongAngle, severity, says).angles(drawn, wanted).from(source);
        Some(finding.worked([working]))
    }

    /// Two fasteners in one hole: told of the later one.
    fn crowded(&self) -> Option<Finding> {
        let first = self.traced.filled_by.first()?;
        if first.fastener == self.fill.fastener {
            return None;
        }
        let says = format!(
            "{} is filled by fastener {} already.",
            crate::findings::bite::capital(&self.name()),
            first.fastener + 1
        );
        #[expect(clippy::cast_precision_loss, reason = "a hole has few fasteners")]
        let many = self.traced.filled_by.len() as f64;
        Some(self.tell(Kind::Clash, Severity::Fault, says).counts(many, 1.0))
    }
}

/// The trade's word for a kind.
pub(super) fn kind_name(kind: FastenerKind) -> &'static str {
    match kind {
        FastenerKind::Nail => "nail",
        FastenerKind::WoodScrew => "wood screw",
        FastenerKind::LagScrew => "lag screw",
        FastenerKind::Bolt => "bolt",
        FastenerKind::ThreadedRod => "threaded rod",
        FastenerKind::MasonryScrew => "masonry screw",
    }
}
