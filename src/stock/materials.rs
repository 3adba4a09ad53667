//! Material tables.

use serde::Deserialize;

use super::measure::{MPA_PER_PSI, Provenance, sourced};
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
    /// Where modulus and crushing strength come from, and how, where rows give them.
    strength_source: Option<String>,
    strength_provenance: Option<Provenance>,
    rows: Vec<Row>,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct Row {
    id: String,
    name: String,
    gravity: Option<f64>,
    density: Option<f64>,
    elastic_psi: Option<f64>,
    dowel_bearing_psi: Option<f64>,
    crushing_psi: Option<f64>,
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
    file.table.into_iter().flat_map(|mut table| {
        let rows = std::mem::take(&mut table.rows);
        rows.into_iter().map(move |row| of_row(&table, row))
    })
}

fn of_row(table: &Table, row: Row) -> Material {
    let mpa = |psi: f64| psi * MPA_PER_PSI;
    let mut source = sourced(&table.source, row.provenance.unwrap_or(table.provenance));
    let has_strength = row.elastic_psi.is_some() || row.crushing_psi.is_some();
    if let (true, Some(of_strength), Some(how)) =
        (has_strength, &table.strength_source, table.strength_provenance)
    {
        source = format!("{source}; {}", sourced(of_strength, how));
    }
    Material {
        id: format!("{}/{}", table.id, row.id),
        label: row.name,
        family: table.family.into(),
        wood: table.wood.map(|it| match it {
            WoodWord::Softwood => WoodType::Softwood,
            WoodWord::Hardwood => WoodType::Hardwood,
        }),
        specific_gravity: row.gravity,
        density_kg_m3: row.density,
        elastic_mpa: row.elastic_psi.map(mpa),
        dowel_bearing_mpa: row.dowel_bearing_psi.map(mpa),
        crushing_mpa: row.crushing_psi.map(mpa),
        source,
    }
}
