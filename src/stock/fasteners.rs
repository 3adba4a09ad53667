//! Fastener tables: a row for each diameter, with the lengths that it comes in.

use serde::Deserialize;

use super::measure::{MPA_PER_PSI, Measure, Provenance, Unit, by, in_name, mm_of, sourced, unmarked};
use super::read::StockError;
use super::{FastenerKind, FastenerSpec, NutSpec};
use crate::unit::length::from_inches;

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct File {
    table: Vec<Table>,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct Table {
    id: String,
    kind: Kind,
    name: String,
    named_by: NamedBy,
    /// Stands before the size in the label: `No. `.
    #[serde(default)]
    size_sign: String,
    /// Stands before the diameter in the label: `M`.
    #[serde(default)]
    diameter_sign: String,
    unit: Unit,
    source: String,
    provenance: Provenance,
    /// For whoever reads the table.
    #[serde(default, rename = "note")]
    _note: String,
    point: Option<PointRule>,
    thread: Option<ThreadRule>,
    bending_yield: Option<String>,
    bending_yield_psi: Option<f64>,
    tensile_psi: Option<f64>,
    tensile_mpa: Option<f64>,
    rows: Vec<Row>,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct Row {
    size: Option<String>,
    diameter: Measure,
    lengths: Vec<Measure>,
    root: Option<Measure>,
    head: Option<Measure>,
    head_height: Option<Measure>,
    point: Option<Measure>,
    nut: Option<Measure>,
    nut_height: Option<Measure>,
    source: Option<String>,
    provenance: Option<Provenance>,
}

#[derive(Clone, Copy, Debug, Deserialize)]
#[serde(rename_all = "kebab-case")]
enum Kind {
    Nail,
    WoodScrew,
    LagScrew,
    Bolt,
    ThreadedRod,
    MasonryScrew,
}

impl From<Kind> for FastenerKind {
    fn from(kind: Kind) -> Self {
        match kind {
            Kind::Nail => Self::Nail,
            Kind::WoodScrew => Self::WoodScrew,
            Kind::LagScrew => Self::LagScrew,
            Kind::Bolt => Self::Bolt,
            Kind::ThreadedRod => Self::ThreadedRod,
            Kind::MasonryScrew => Self::MasonryScrew,
        }
    }
}

/// What the last part of an entry's name is made of.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "kebab-case")]
enum NamedBy {
    /// `16d`: the size settles the length.
    Size,
    /// `10x3`.
    SizeAndLength,
    /// `0.375x4`.
    DiameterAndLength,
}

#[derive(Clone, Copy, Debug, Deserialize)]
#[serde(rename_all = "kebab-case")]
enum PointRule {
    /// Nails and wood screws: NDS 2018 Table L3 footnote 6, Table L4 footnote 2.
    TwiceDiameter,
}

#[derive(Clone, Copy, Debug, Deserialize)]
#[serde(rename_all = "kebab-case")]
enum ThreadRule {
    WoodScrew,
    SixTenths,
    LagScrew,
    BoltInch,
    BoltMetric,
    Full,
}

impl ThreadRule {
    /// Least length of the thread, point included, in millimetres; never more than the whole length.
    fn mm(self, diameter: f64, length: f64) -> f64 {
        let inch = from_inches;
        let thread = match self {
            // NDS 2018 Table L3 footnotes 2 and 3: rolled thread at least 4 D or two thirds.
            Self::WoodScrew => (4.0 * diameter).max(length * 2.0 / 3.0),
            // Common practice for partially threaded wood screws.
            Self::SixTenths => length * 0.6,
            // NDS 2018 Table L2: 6 in or half the length and 1/2 in, whichever is less; for the
            // shortest the table prints 3/4 in of 1 in and 1 1/4 in of 1 1/2 in.
            Self::LagScrew if length <= inch(1.5) => length - inch(0.25),
            Self::LagScrew => (length / 2.0 + inch(0.5)).min(inch(6.0)),
            // NDS 2018 Table L1: 2 D + 1/4 in up to 6 in, 2 D + 1/2 in above.
            Self::BoltInch if length <= inch(6.0) => 2.0 * diameter + inch(0.25),
            Self::BoltInch => 2.0 * diameter + inch(0.5),
            // ISO 888: 2 d + 6 up to 125 mm, 2 d + 12 up to 200 mm, 2 d + 25 above (from memory).
            Self::BoltMetric if length <= 125.0 => 2.0 * diameter + 6.0,
            Self::BoltMetric if length <= 200.0 => 2.0 * diameter + 12.0,
            Self::BoltMetric => 2.0 * diameter + 25.0,
            Self::Full => length,
        };
        thread.min(length)
    }
}

/// The table of bending yield strengths, as its file holds it.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct BandsFile {
    id: String,
    unit: Unit,
    #[serde(rename = "source")]
    _source: String,
    #[serde(rename = "provenance")]
    _provenance: Provenance,
    #[serde(default, rename = "note")]
    _note: String,
    from: Measure,
    bands: Vec<BandRow>,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct BandRow {
    up_to: Measure,
    psi: f64,
}

/// Bending yield strength by nominal diameter.
pub(super) struct Bands {
    id: String,
    from_mm: f64,
    /// Greatest diameter of each band in millimetres, and its strength in N/mm2, thin to thick.
    bands: Vec<(f64, f64)>,
}

impl Bands {
    pub(super) fn new(file: &BandsFile) -> Result<Self, StockError> {
        let bands: Vec<(f64, f64)> = file
            .bands
            .iter()
            .map(|it| Ok((it.up_to.mm(file.unit)?, it.psi * MPA_PER_PSI)))
            .collect::<Result<_, StockError>>()?;
        if !bands.is_sorted_by(|a, b| a.0 < b.0) {
            return Err(StockError::new(format!("{}: bands run from thin to thick", file.id)));
        }
        Ok(Self { id: file.id.clone(), from_mm: file.from.mm(file.unit)?, bands })
    }

    fn at(&self, diameter_mm: f64) -> Option<f64> {
        if diameter_mm < self.from_mm {
            return None;
        }
        self.bands.iter().find(|it| diameter_mm <= it.0).map(|it| it.1)
    }
}

/// Every fastener of a file.
pub(super) fn read(file: File, bands: &Bands) -> Result<Vec<FastenerSpec>, StockError> {
    let mut found = Vec::new();
    for table in file.table {
        if table.bending_yield.as_ref().is_some_and(|it| *it != bands.id) {
            return Err(StockError::new(format!("{}: there are no bands of that name", table.id)));
        }
        for row in &table.rows {
            if table.named_by == NamedBy::Size && row.lengths.len() != 1 {
                return Err(StockError::new(format!("{}: a size has one length", table.id)));
            }
            of_row(&table, row, bands, &mut found).map_err(|why| why.within(&table.id))?;
        }
    }
    Ok(found)
}

/// A fastener for each length of a row.
fn of_row(table: &Table, row: &Row, bands: &Bands, found: &mut Vec<FastenerSpec>) -> Result<(), StockError> {
    let common = whatever_its_length(table, row, bands)?;
    for length in &row.lengths {
        let length_mm = length.mm(table.unit)?;
        let (id, label) = names(table, row, common.diameter_mm, length_mm)?;
        let thread_mm = table.thread.map(|it| it.mm(common.diameter_mm, length_mm));
        found.push(FastenerSpec { id, label, length_mm, thread_mm, ..common.clone() });
    }
    Ok(())
}

/// What the fasteners of a row have in common, still without name, length and thread.
fn whatever_its_length(table: &Table, row: &Row, bands: &Bands) -> Result<FastenerSpec, StockError> {
    let mm = |measure: &Option<Measure>| mm_of(measure.as_ref(), table.unit);
    let diameter_mm = row.diameter.mm(table.unit)?;
    let nut = match (mm(&row.nut)?, mm(&row.nut_height)?) {
        (Some(across_flats_mm), Some(height_mm)) => Some(NutSpec { height_mm, across_flats_mm }),
        (None, None) => None,
        _ => return Err(StockError::new("a nut has a width and a height".to_owned())),
    };
    let point = match table.point {
        Some(PointRule::TwiceDiameter) => 2.0 * diameter_mm,
        None => mm(&row.point)?.unwrap_or(0.0),
    };
    let bending_yield = match (&table.bending_yield, table.bending_yield_psi) {
        (Some(_), _) => bands.at(diameter_mm),
        (None, psi) => psi.map(|it| it * MPA_PER_PSI),
    };
    Ok(FastenerSpec {
        id: String::new(),
        label: String::new(),
        kind: table.kind.into(),
        diameter_mm,
        root_mm: mm(&row.root)?,
        length_mm: 0.0,
        head_mm: mm(&row.head)?.unwrap_or(0.0),
        head_height_mm: mm(&row.head_height)?.unwrap_or(0.0),
        thread_mm: None,
        point_mm: point,
        bending_yield_mpa: bending_yield,
        tensile_mpa: table.tensile_mpa.or(table.tensile_psi.map(|it| it * MPA_PER_PSI)),
        nut,
        source: sourced(
            row.source.as_ref().unwrap_or(&table.source),
            row.provenance.unwrap_or(table.provenance),
        ),
    })
}

/// The entry's name in stock and its name for people.
fn names(table: &Table, row: &Row, diameter: f64, length: f64) -> Result<(String, String), StockError> {
    let Table { id, name, unit, .. } = table;
    let size = || row.size.as_deref().ok_or_else(|| StockError::new("a row lacks its size".to_owned()));
    let measures = if table.diameter_sign.is_empty() {
        by(diameter, length, *unit)
    } else {
        format!("{}{} x {} mm", table.diameter_sign, unmarked(diameter, *unit), unmarked(length, *unit))
    };
    Ok(match table.named_by {
        NamedBy::Size => (format!("{id}/{}", size()?), format!("{name} {measures} ({})", size()?)),
        NamedBy::SizeAndLength => (
            format!("{id}/{}x{}", size()?, in_name(length, *unit)),
            format!("{name} {measures} ({}{})", table.size_sign, size()?),
        ),
        NamedBy::DiameterAndLength => (
            format!("{id}/{}x{}", in_name(diameter, *unit), in_name(length, *unit)),
            format!("{name} {measures}"),
        ),
    })
}
