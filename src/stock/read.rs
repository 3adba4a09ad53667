//! Reads the tables of `resources/stock`. Unknown keys and names that stand twice are refused.

use std::collections::BTreeSet;
use std::sync::Arc;

use serde::de::DeserializeOwned;
use thiserror::Error;

use super::{Stock, fasteners, materials, sizes};

/// The texts of the tables, one for each kind.
#[derive(Clone, Copy, Debug)]
pub(super) struct Texts {
    pub(super) fasteners: &'static [(&'static str, &'static str)],
    pub(super) strength: (&'static str, &'static str),
    pub(super) materials: (&'static str, &'static str),
    pub(super) sizes: (&'static str, &'static str),
    pub(super) washers: (&'static str, &'static str),
}

/// The tables that are built into the program.
pub(super) const BUILT_IN: Texts = Texts {
    fasteners: &[
        ("nails.toml", include_str!("../../resources/stock/nails.toml")),
        ("screws.toml", include_str!("../../resources/stock/screws.toml")),
        ("bolts.toml", include_str!("../../resources/stock/bolts.toml")),
    ],
    strength: ("strength.toml", include_str!("../../resources/stock/strength.toml")),
    materials: ("materials.toml", include_str!("../../resources/stock/materials.toml")),
    sizes: ("sizes.toml", include_str!("../../resources/stock/sizes.toml")),
    washers: ("washers.toml", include_str!("../../resources/stock/washers.toml")),
};

/// What is wrong in a table, with its file and place.
#[derive(Clone, Debug, Error, PartialEq, Eq)]
#[error("{0}")]
pub struct StockError(String);

impl StockError {
    pub(super) fn new(says: String) -> Self {
        Self(says)
    }

    /// The same, with where it is.
    pub(super) fn within(self, place: &str) -> Self {
        Self(format!("{place}: {}", self.0))
    }
}

impl Stock {
    pub(super) fn read(texts: &Texts) -> Result<Self, StockError> {
        let mut stock = Self::default();
        let bands = fasteners::Bands::new(&parse(texts.strength)?)?;
        for text in texts.fasteners {
            for spec in within(text.0, fasteners::read(parse(*text)?, &bands))? {
                if let Some(other) = stock.fasteners.insert(spec.id.clone(), Arc::new(spec)) {
                    return Err(twice(text.0, &other.id));
                }
            }
        }
        for material in materials::read(parse(texts.materials)?) {
            if let Some(other) = stock.materials.insert(material.id.clone(), Arc::new(material)) {
                return Err(twice(texts.materials.0, &other.id));
            }
        }
        stock.sections = within(texts.sizes.0, sizes::sections(&parse(texts.sizes)?))?;
        no_name_twice(texts.sizes.0, stock.sections.iter().map(|it| it.id.as_str()))?;
        stock.washers = within(texts.washers.0, sizes::washers(&parse(texts.washers)?))?;
        no_name_twice(texts.washers.0, stock.washers.iter().map(|it| it.id.as_str()))?;
        Ok(stock)
    }
}

fn parse<T: DeserializeOwned>((file, text): (&str, &str)) -> Result<T, StockError> {
    toml::from_str(text).map_err(|why| StockError::new(format!("{file}: {why}")))
}

fn within<T>(file: &str, result: Result<T, StockError>) -> Result<T, StockError> {
    result.map_err(|why| why.within(file))
}

fn no_name_twice<'a>(file: &str, mut names: impl Iterator<Item = &'a str>) -> Result<(), StockError> {
    let mut seen = BTreeSet::new();
    names.find(|it| !seen.insert(*it)).map_or(Ok(()), |it| Err(twice(file, it)))
}

fn twice(file: &str, name: &str) -> StockError {
    StockError::new(format!("{file}: `{name}` stands twice"))
}
