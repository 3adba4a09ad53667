//! Lists what a joint file can name: fasteners, washers, materials and member sizes.

use serde::Serialize;

use crate::stock::{Family, FastenerKind, FastenerSpec, Material, SectionSize, Stock, WasherSpec, WoodType};
use crate::unit::LengthUnit;
use crate::unit::length::format_diameter;

/// What washers are listed under.
const WASHER: &str = "washer";
/// What member sizes are listed under.
const SIZE: &str = "size";

/// The list for people, or for programs.
///
/// `kind` is a kind of fastener, a family of material, `washer` or `size`, or the first part of a name such
/// as `nail/common` or `sawn`; everything where it is absent.
///
/// # Errors
/// In words for the user: there is no such kind; with those that there are.
pub(super) fn list(stock: &Stock, kind: Option<&str>, json: bool) -> Result<String, String> {
    let kind = kind.map(|it| it.trim().trim_end_matches('/'));
    let chosen = Chosen::new(stock, kind);
    if chosen.is_empty() {
        let kinds: Vec<&str> = kinds().collect();
        return Err(format!(
            "there is no kind `{}` in stock; choose one of {}, or the first part of a name, such as nail/common",
            kind.unwrap_or_default(),
            kinds.join(", ")
        ));
    }
    if json { for_programs(&chosen) } else { Ok(for_people(&chosen)) }
}

fn kinds() -> impl Iterator<Item = &'static str> {
    let fasteners = FastenerKind::ALL.into_iter().map(FastenerKind::word);
    let families = Family::ALL.into_iter().map(Family::word);
    fasteners.chain([WASHER]).chain(families).chain([SIZE])
}

/// What is to be listed, in the order of the list.
struct Chosen<'a> {
    fasteners: Vec<&'a FastenerSpec>,
    washers: Vec<&'a WasherSpec>,
    materials: Vec<&'a Material>,
    sizes: Vec<&'a SectionSize>,
}

impl<'a> Chosen<'a> {
    fn new(stock: &'a Stock, kind: Option<&str>) -> Self {
        let of = |word: &str, id: &str| {
            kind.is_none_or(|it| {
                it == word || id.strip_prefix(it).is_some_and(|rest| rest.is_empty() || rest.starts_with('/'))
            })
        };
        let fasteners: Vec<&FastenerSpec> = stock
            .fasteners_by_size()
            .into_iter()
            .map(AsRef::as_ref)
            .filter(|it| of(it.kind.word(), &it.id))
            .collect();
        let mut materials: Vec<&Material> =
            stock.materials.values().map(AsRef::as_ref).filter(|it| of(it.family.word(), &it.id)).collect();
        materials.sort_by(|a, b| (a.family, &a.id).cmp(&(b.family, &b.id)));
        // A family names a material; sizes are asked for by their own word or name.
        let size_of = |it: &&SectionSize| match kind {
            Some(word) if Family::ALL.iter().any(|family| family.word() == word) => false,
            _ => of(SIZE, &it.id),
        };
        Self {
            fasteners,
            washers: stock.washers.iter().filter(|it| of(WASHER, &it.id)).collect(),
            materials,
            sizes: stock.sections.iter().filter(size_of).collect(),
        }
    }

    fn is_empty(&self) -> bool {
        self.fasteners.is_empty()
            && self.washers.is_empty()
            && self.materials.is_empty()
            && self.sizes.is_empty()
    }
}

/// Entries that are listed together, with the sources that they share.
struct Table {
    heads: &'static [&'static str],
    rows: Vec<Vec<String>>,
    sources: Vec<String>,
}

impl Table {
    fn new(heads: &'static [&'static str]) -> Self {
        Self { heads, rows: Vec::new(), sources: Vec::new() }
    }

    /// Adds a row; its source is told below the table, by number.
    fn push(&mut self, mut row: Vec<String>, source: &str) {
        let known = self.sources.iter().position(|it| it == source);
        let n = known.unwrap_or_else(|| {
            self.sources.push(source.to_owned());
            self.sources.len() - 1
        });
        row.push(format!("[{}]", n + 1));
        self.rows.push(row);
    }

    fn print(&self, title: &str, out: &mut String) {
        let heads: Vec<String> = self.heads.iter().map(|it| (*it).to_owned()).collect();
        let lines = || std::iter::once(&heads).chain(&self.rows);
        let wide: Vec<usize> = (0..heads.len())
            .map(|n| lines().map(|line| line[n].chars().count()).max().unwrap_or(0))
            .collect();
        if !out.is_empty() {
            out.push('\n');
        }
        out.push_str(title);
        out.push('\n');
        for line in lines() {
            let cells = line.iter().zip(&wide).map(|(cell, wide)| format!("{cell:wide$}"));
            let text = cells.collect::<Vec<_>>().join("  ");
            out.push_str("  ");
            out.push_str(text.trim_end());
            out.push('\n');
        }
        for (n, source) in self.sources.iter().enumerate() {
            out.push_str(&format!("  [{}] {source}\n", n + 1));
        }
    }
}

/// The unit that an entry's own table is in: metric tables say so in their name.
fn unit_of(id: &str) -> LengthUnit {
    if id.split('/').any(|it| it.starts_with("metric")) { LengthUnit::Millimetre } else { LengthUnit::Inch }
}

fn shown(mm: impl Into<Option<f64>>, unit: LengthUnit) -> String {
    match mm.into() {
        Some(mm) if 0.0 < mm => format_diameter(mm, unit),
        _ => "-".to_owned(),
    }
}

fn number(value: Option<f64>) -> String {
    value.map_or_else(|| "-".to_owned(), |it| it.to_string())
}

/// The name without its last part.
fn table_of(id: &str) -> &str {
    // `panel/23/32` and `sawn/5/4x6` have a fraction in their last part.
    let fraction = |it: &(&str, &str)| it.0.ends_with(|last: char| last.is_ascii_digit());
    match id.rsplit_once('/') {
        Some(parts) if fraction(&parts) => parts.0.rsplit_once('/').map_or("", |it| it.0),
        Some(parts) => parts.0,
        None => "",
    }
}

fn for_people(chosen: &Chosen<'_>) -> String {
    let mut out = String::new();
    for (title, table) in fastener_tables(&chosen.fasteners) {
        table.print(&title, &mut out);
    }
    for (title, table) in washer_tables(&chosen.washers) {
        table.print(&title, &mut out);
    }
    for (title, table) in material_tables(&chosen.materials) {
        table.print(&title, &mut out);
    }
    for (title, table) in size_tables(&chosen.sizes) {
        table.print(&title, &mut out);
    }
    out
}

/// Tables in the order in which their first entry comes.
fn last<'t>(
    tables: &'t mut Vec<(String, Table)>,
    title: &str,
    heads: &'static [&'static str],
) -> &'t mut Table {
    let n = tables.iter().position(|it| it.0 == title).unwrap_or_else(|| {
        tables.push((title.to_owned(), Table::new(heads)));
        tables.len() - 1
    });
    &mut tables[n].1
}

fn fastener_tables(list: &[&FastenerSpec]) -> Vec<(String, Table)> {
    const HEADS: &[&str] =
        &["name", "diameter", "length", "head", "height", "root", "thread", "point", "label", "source"];
    let mut tables = Vec::new();
    for it in list {
        let unit = unit_of(&it.id);
        let row = vec![
            it.id.clone(),
            shown(it.diameter_mm, unit),
            shown(it.length_mm, unit),
            shown(it.head_mm, unit),
            shown(it.head_height_mm, unit),
            shown(it.root_mm, unit),
            shown(it.thread_mm, unit),
            shown(it.point_mm, unit),
            it.label.clone(),
        ];
        last(&mut tables, it.table(), HEADS).push(row, &it.source);
    }
    tables
}

fn washer_tables(list: &[&WasherSpec]) -> Vec<(String, Table)> {
    const HEADS: &[&str] = &["name", "for", "hole", "across", "thick", "source"];
    let mut tables = Vec::new();
    for it in list {
        let unit = unit_of(&it.id);
        let row = vec![
            it.id.clone(),
            shown(it.for_diameter_mm, unit),
            shown(it.inner_mm, unit),
            shown(it.outer_mm, unit),
            shown(it.thickness_mm, unit),
        ];
        last(&mut tables, table_of(&it.id), HEADS).push(row, &it.source);
    }
    tables
}

fn material_tables(list: &[&Material]) -> Vec<(String, Table)> {
    const HEADS: &[&str] = &["name", "gravity", "kg/m3", "wood", "label", "source"];
    let mut tables = Vec::new();
    for it in list {
        let row = vec![
            it.id.clone(),
            number(it.specific_gravity),
            number(it.density_kg_m3),
            it.wood.map_or("-", wood_word).to_owned(),
            it.label.clone(),
        ];
        last(&mut tables, it.family.word(), HEADS).push(row, &it.source);
    }
    tables
}

fn size_tables(list: &[&SectionSize]) -> Vec<(String, Table)> {
    const HEADS: &[&str] = &["name", "nominal", "thick", "deep", "flange", "web", "source"];
    let mut tables = Vec::new();
    for it in list {
        let unit = unit_of(&it.id);
        let row = vec![
            it.id.clone(),
            it.nominal.clone(),
            shown(it.thickness_mm, unit),
            shown(it.depth_mm, unit),
            shown(it.i_section_mm.map(|it| it[1]), unit),
            shown(it.i_section_mm.map(|it| it[2]), unit),
        ];
        last(&mut tables, table_of(&it.id), HEADS).push(row, &it.source);
    }
    tables
}

fn wood_word(wood: WoodType) -> &'static str {
    match wood {
        WoodType::Softwood => "softwood",
        WoodType::Hardwood => "hardwood",
    }
}

#[derive(Serialize)]
struct Listing<'a> {
    format: &'static str,
    version: u32,
    fasteners: Vec<FastenerRow<'a>>,
    washers: Vec<WasherRow<'a>>,
    materials: Vec<MaterialRow<'a>>,
    sizes: Vec<SizeRow<'a>>,
}

#[derive(Serialize)]
struct FastenerRow<'a> {
    id: &'a str,
    label: &'a str,
    kind: &'static str,
    diameter_mm: f64,
    root_mm: Option<f64>,
    length_mm: f64,
    head_mm: f64,
    head_height_mm: f64,
    thread_mm: Option<f64>,
    point_mm: f64,
    bending_yield_n_per_mm2: Option<f64>,
    tensile_n_per_mm2: Option<f64>,
    nut_height_mm: Option<f64>,
    nut_across_flats_mm: Option<f64>,
    source: &'a str,
}

#[derive(Serialize)]
struct WasherRow<'a> {
    id: &'a str,
    for_diameter_mm: f64,
    inner_mm: f64,
    outer_mm: f64,
    thickness_mm: f64,
    source: &'a str,
}

#[derive(Serialize)]
struct MaterialRow<'a> {
    id: &'a str,
    label: &'a str,
    family: &'static str,
    wood: Option<&'static str>,
    specific_gravity: Option<f64>,
    density_kg_per_m3: Option<f64>,
    source: &'a str,
}

#[derive(Serialize)]
struct SizeRow<'a> {
    id: &'a str,
    nominal: &'a str,
    family: &'static str,
    thickness_mm: f64,
    depth_mm: Option<f64>,
    flange_width_mm: Option<f64>,
    flange_height_mm: Option<f64>,
    web_mm: Option<f64>,
    source: &'a str,
}

fn for_programs(chosen: &Chosen<'_>) -> Result<String, String> {
    let listing = Listing {
        format: "shankline-stock",
        version: 1,
        fasteners: chosen.fasteners.iter().copied().map(FastenerRow::new).collect(),
        washers: chosen.washers.iter().copied().map(WasherRow::new).collect(),
        materials: chosen.materials.iter().copied().map(MaterialRow::new).collect(),
        sizes: chosen.sizes.iter().copied().map(SizeRow::new).collect(),
    };
    let text = serde_json::to_string_pretty(&listing);
    text.map(|it| it + "\n").map_err(|why| format!("the list cannot be written as JSON: {why}"))
}

impl<'a> FastenerRow<'a> {
    fn new(it: &'a FastenerSpec) -> Self {
        Self {
            id: &it.id,
            label: &it.label,
            kind: it.kind.word(),
            diameter_mm: it.diameter_mm,
            root_mm: it.root_mm,
            length_mm: it.length_mm,
            head_mm: it.head_mm,
            head_height_mm: it.head_height_mm,
            thread_mm: it.thread_mm,
            point_mm: it.point_mm,
            bending_yield_n_per_mm2: it.bending_yield_mpa,
            tensile_n_per_mm2: it.tensile_mpa,
            nut_height_mm: it.nut.map(|it| it.height_mm),
            nut_across_flats_mm: it.nut.map(|it| it.across_flats_mm),
            source: &it.source,
        }
    }
}

impl<'a> WasherRow<'a> {
    fn new(it: &'a WasherSpec) -> Self {
        Self {
            id: &it.id,
            for_diameter_mm: it.for_diameter_mm,
            inner_mm: it.inner_mm,
            outer_mm: it.outer_mm,
            thickness_mm: it.thickness_mm,
            source: &it.source,
        }
    }
}

impl<'a> MaterialRow<'a> {
    fn new(it: &'a Material) -> Self {
        Self {
            id: &it.id,
            label: &it.label,
            family: it.family.word(),
            wood: it.wood.map(wood_word),
            specific_gravity: it.specific_gravity,
            density_kg_per_m3: it.density_kg_m3,
            source: &it.source,
        }
    }
}

impl<'a> SizeRow<'a> {
    fn new(it: &'a SectionSize) -> Self {
        let part = |n: usize| it.i_section_mm.map(|it| it[n]);
        Self {
            id: &it.id,
            nominal: &it.nominal,
            family: it.family.word(),
            thickness_mm: it.thickness_mm,
            depth_mm: it.depth_mm,
            flange_width_mm: part(0),
            flange_height_mm: part(1),
            web_mm: part(2),
            source: &it.source,
        }
    }
}

#[cfg(test)]
mod tests;
