//! Tables of member sizes and washers.

use serde::Deserialize;

use super::materials::FamilyWord;
use super::measure::{Measure, Provenance, Unit, by, in_name, mm_of, sourced, unmarked};
use super::read::StockError;
use super::{SectionSize, WasherSpec};

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct SectionFile {
    table: Vec<SectionTable>,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct SectionTable {
    id: String,
    family: FamilyWord,
    unit: Unit,
    source: String,
    provenance: Provenance,
    #[serde(default, rename = "note")]
    _note: String,
    /// The actual depth of each nominal one.
    #[serde(default)]
    nominal_depth: Vec<(u32, Measure)>,
    /// The name holds the depth alone.
    #[serde(default)]
    named_by_depth: bool,
    rows: Vec<SectionRow>,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct SectionRow {
    nominal: Option<String>,
    thickness: Measure,
    #[serde(default)]
    nominal_depths: Vec<u32>,
    #[serde(default)]
    depths: Vec<Measure>,
    flange: Option<Measure>,
    web: Option<Measure>,
}

/// Every member size of the file, in its order.
pub(super) fn sections(file: &SectionFile) -> Result<Vec<SectionSize>, StockError> {
    let mut found = Vec::new();
    for table in &file.table {
        for row in &table.rows {
            of_row(table, row, &mut found).map_err(|why| why.within(&table.id))?;
        }
    }
    Ok(found)
}

fn of_row(table: &SectionTable, row: &SectionRow, found: &mut Vec<SectionSize>) -> Result<(), StockError> {
    let unit = table.unit;
    let thickness = row.thickness.mm(unit)?;
    let web = match (mm_of(row.flange.as_ref(), unit)?, mm_of(row.web.as_ref(), unit)?) {
        (Some(flange), Some(web)) => Some([thickness, flange, web]),
        (None, None) => None,
        _ => return Err(StockError::new("an I-section has a flange and a web".to_owned())),
    };
    let mut push = |name: String, nominal: String, depth_mm: Option<f64>| {
        found.push(SectionSize {
            id: format!("{}/{name}", table.id),
            nominal,
            thickness_mm: thickness,
            depth_mm,
            i_section_mm: web,
            family: table.family.into(),
            source: sourced(&table.source, table.provenance),
        });
    };
    for nominal_depth in &row.nominal_depths {
        let nominal = row.nominal.as_deref().unwrap_or_default();
        let actual = table.nominal_depth.iter().find(|it| it.0 == *nominal_depth);
        let Some((_, depth)) = actual else {
            return Err(StockError::new(format!("no actual depth for nominal {nominal_depth}")));
        };
        let name = format!("{nominal}x{nominal_depth}");
        push(name.clone(), name, Some(depth.mm(unit)?));
    }
    for depth in &row.depths {
        let depth = depth.mm(unit)?;
        let name = if table.named_by_depth {
            in_name(depth, unit)
        } else {
            format!("{}x{}", in_name(thickness, unit), in_name(depth, unit))
        };
        let sign = if web.is_some() { "I " } else { "" };
        push(name, format!("{sign}{}", by(thickness, depth, unit)), Some(depth));
    }
    if row.nominal_depths.is_empty() && row.depths.is_empty() {
        let name = unmarked(thickness, unit);
        let mark = if unit == Unit::Inch { "\"" } else { " mm" };
        push(name.replace(' ', "-"), format!("{name}{mark}"), None);
    }
    Ok(())
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct WasherFile {
    table: Vec<WasherTable>,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct WasherTable {
    id: String,
    /// For whoever reads the table.
    #[serde(rename = "name")]
    _name: String,
    unit: Unit,
    source: String,
    provenance: Provenance,
    rows: Vec<WasherRow>,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct WasherRow {
    bolt: Measure,
    inner: Measure,
    outer: Measure,
    thickness: Measure,
}

/// Every washer of the file, in its order.
pub(super) fn washers(file: &WasherFile) -> Result<Vec<WasherSpec>, StockError> {
    let mut found = Vec::new();
    for table in &file.table {
        for row in &table.rows {
            let unit = table.unit;
            let for_diameter_mm = row.bolt.mm(unit)?;
            found.push(WasherSpec {
                id: format!("{}/{}", table.id, in_name(for_diameter_mm, unit)),
                for_diameter_mm,
                inner_mm: row.inner.mm(unit)?,
                outer_mm: row.outer.mm(unit)?,
                thickness_mm: row.thickness.mm(unit)?,
                source: sourced(&table.source, table.provenance),
            });
        }
    }
    Ok(found)
}
