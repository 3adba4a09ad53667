//! The rows of `tests/published/`: tables of published values, a number in each row with where it stands.

use std::collections::BTreeMap;
use std::path::PathBuf;

/// The folder of the project.
pub(crate) fn root() -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR"))
}

/// A row by its columns, and where it stands.
pub(crate) struct Row {
    pub(crate) place: String,
    cells: BTreeMap<&'static str, String>,
}

impl Row {
    pub(crate) fn get(&self, column: &str) -> &str {
        &self.cells[column]
    }

    /// One of the pairs `key=word` in the column `inputs`.
    pub(crate) fn input(&self, key: &str) -> Option<&str> {
        let mut pairs = self.get("inputs").split(' ').filter_map(|it| it.split_once('='));
        pairs.find(|it| it.0 == key).map(|it| it.1)
    }

    pub(crate) fn number(&self, key: &str) -> Option<f64> {
        self.input(key).map(|it| it.parse().unwrap_or_else(|_| panic!("{}: {key} is no number", self.place)))
    }

    pub(crate) fn yes(&self, key: &str) -> Option<bool> {
        self.input(key).map(|it| it == "yes")
    }
}

/// Every row of these tables, each of which must have these columns and no others.
pub(crate) fn rows(files: &[&str], columns: &[&'static str]) -> Vec<Row> {
    files.iter().flat_map(|it| rows_of(it, columns)).collect()
}

fn rows_of(file: &str, columns: &[&'static str]) -> Vec<Row> {
    let path = root().join(format!("tests/published/{file}.csv"));
    let text = std::fs::read_to_string(&path).expect("it can be read");
    let mut lines = text.lines().enumerate();
    assert_eq!(cells(lines.next().expect("it has a head").1), columns, "{file}");
    let row = |(n, line): (usize, &str)| {
        let (place, cells) = (format!("{file}.csv:{}", n + 1), cells(line));
        assert_eq!(cells.len(), columns.len(), "{place}");
        Row { place, cells: columns.iter().copied().zip(cells).collect() }
    };
    lines.map(row).collect()
}

/// The cells of one line; a cell in quotes may hold commas.
fn cells(line: &str) -> Vec<String> {
    let (mut cells, mut quoted) = (vec![String::new()], false);
    for c in line.chars() {
        match c {
            '"' => quoted = !quoted,
            ',' if !quoted => cells.push(String::new()),
            _ => cells.last_mut().expect("there is one from the start").push(c),
        }
    }
    cells
}
