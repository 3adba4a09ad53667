//! What a member is made of, as far as section 8 tells stuffs apart.

use crate::standard::capacity::NoValue;
use crate::stock::{Family, Material, WoodType};

use super::none;

/// The stuffs that section 8 and Table 3.1 know.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Stuff {
    /// Sawn or glued laminated timber of needle trees.
    Softwood,
    /// Sawn or glued laminated timber of leaf trees.
    Hardwood,
    /// Laminated veneer lumber.
    Veneer,
    /// Plywood.
    Plywood,
    /// Oriented strand board.
    StrandBoard,
    /// Particle board.
    ParticleBoard,
    /// Hard fibreboard.
    HardBoard,
    /// Steel plate.
    Steel,
}

impl Stuff {
    /// What a material is, by its family and, where that is not enough, by its name.
    pub(super) fn of(material: &Material) -> Result<Self, NoValue> {
        match material.family {
            Family::Lumber | Family::Glulam => Ok(match material.wood {
                Some(WoodType::Hardwood) => Self::Hardwood,
                Some(WoodType::Softwood) | None => Self::Softwood,
            }),
            Family::Engineered => engineered(material),
            Family::Panel => panel(material),
            Family::Steel => Ok(Self::Steel),
            Family::Concrete | Family::Masonry | Family::Filling => none(
                "8.1.1",
                format!("{}: section 8 is for timber, wood-based panels and steel plates", material.label),
            ),
        }
    }

    pub(super) fn is_steel(self) -> bool {
        self == Self::Steel
    }

    /// A board and no timber.
    pub(super) fn is_board(self) -> bool {
        matches!(self, Self::Plywood | Self::StrandBoard | Self::ParticleBoard | Self::HardBoard)
    }
}

fn says(material: &Material, words: &[&str]) -> bool {
    let name = format!("{} {}", material.id, material.label).to_lowercase();
    words.iter().any(|it| name.contains(it))
}

fn engineered(material: &Material) -> Result<Stuff, NoValue> {
    if says(material, &["veneer", "lvl"]) {
        return Ok(Stuff::Veneer);
    }
    let why = "the standard knows laminated veneer lumber and no other lumber that is made of pieces; \
               what fasteners carry in it is for its maker to declare";
    none("8.3.1.1(5)", format!("{}: {why}", material.label))
}

fn panel(material: &Material) -> Result<Stuff, NoValue> {
    let kinds: [(&[&str], Stuff); 4] = [
        (&["plywood"], Stuff::Plywood),
        (&["osb", "strand board", "strandboard"], Stuff::StrandBoard),
        (&["particle", "chipboard"], Stuff::ParticleBoard),
        (&["hardboard", "hard fibreboard", "hard fiberboard"], Stuff::HardBoard),
    ];
    match kinds.iter().find(|it| says(material, it.0)) {
        Some((_, stuff)) => Ok(*stuff),
        None => none(
            "8.3.1.3(3)",
            format!(
                "{}: the embedment strength goes by the kind of panel, and this is named neither plywood, \
                 strand board, particle board nor hardboard",
                material.label
            ),
        ),
    }
}
