//! Material tables.

use serde::Deserialize;

use super::measure::{Provenance, sourced};
use super::{Family, Material, WoodType};

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct File {
    table: Vec<Table>,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct Table {
    id: String,
    family: FamilyWord,
    wood: Option<WoodWord>,
    source: String,
    provenance: Provenance,
    rows: Vec<Row>,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct Row {
    id: String,
    name: String,
    gravity: Option<f64>,
    density: Option<f64>,
    provenance: Option<Provenance>,
}

#[derive(Clone, Copy, Debug, Deserialize)]
#[serde(rename_all = "lowercase")]
pub(super) enum FamilyWord {
    Lumber,
    Glulam,
    Engineered,
    Panel,
    Concrete,
    Masonry,
    Steel,
    Filling,
}

impl From<FamilyWord> for Family {
    fn from(word: FamilyWord) -> Self {
        match word {
            FamilyWord::Lumber => Self::Lumber,
            FamilyWord::Glulam => Self::Glulam,
            FamilyWord::Engineered => Self::Engineered,
            FamilyWord::Panel => Self::Panel,
            FamilyWord::Concrete => Self::Concrete,
            FamilyWord::Masonry => Self::Masonry,
            FamilyWord::Steel => Self::Steel,
            FamilyWord::Filling => Self::Filling,
        }
    }
}

#[derive(Clone, Copy, Debug, Deserialize)]
#[serde(rename_all = "lowercase")]
enum WoodWord {
    Softwood,
    Hardwood,
}

/// Every material of the file.
pub(super) fn read(file: File) -> impl Iterator<Item = Material> {
    file.table.into_iter().flat_map(|table| {
        let Table { id, family, wood, source, provenance, rows } = table;
        rows.into_iter().map(move |row| Material {
            id: format!("{id}/{}", row.id),
            label: row.name,
            family: family.into(),
            wood: wood.map(|it| match it {
                WoodWord::Softwood => WoodType::Softwood,
                WoodWord::Hardwood => WoodType::Hardwood,
            }),
            specific_gravity: row.gravity,
            density_kg_m3: row.density,
            source: sourced(&source, row.provenance.unwrap_or(provenance)),
        })
    })
}
