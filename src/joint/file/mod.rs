//! Joint files: text to joint and joint to text.
//!
//! The file's own types stand apart from the model and are converted, so that a rename in the
//! model never changes the format. What is wrong with a file is told all at once, each problem
//! with line, column and part.

mod carried;
mod json;
mod layout;
mod measure;
mod measured;
mod model;
mod problems;
mod rules;
mod sheet;
mod sound;
mod types;
mod words;
mod written;

#[cfg(test)]
pub(crate) mod arbitrary;
#[cfg(test)]
pub(crate) mod tests;

use serde::Deserialize as _;

use self::json::{Kind, Node};
use self::problems::{Problems, alone, quoted};
use super::Joint;
use crate::stock::Stock;

/// The version of the format that this program writes, and the latest that it reads.
pub const VERSION: u32 = 1;

/// Largest joint file in bytes.
pub const MOST_BYTES: usize = 32 << 20;

/// One thing that is wrong in a joint file.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Problem {
    /// Line in the file, from one.
    pub line: usize,
    /// Column in the line, in characters, from one.
    pub column: usize,
    /// Which part: `members[2].outline`; empty for the file as a whole.
    pub part: String,
    /// What is wrong, and what to do.
    pub says: String,
}

/// Reads a joint file.
///
/// # Errors
/// Everything that is wrong with it, in the order of the file, at most fifty and the number of
/// the rest. A text that is no JSON, another format or a later version is one problem alone.
pub fn read(text: &str, stock: &Stock) -> Result<Joint, Vec<Problem>> {
    if MOST_BYTES < text.len() {
        let says = format!("the file has {} bytes; at most {MOST_BYTES} are read", text.len());
        return Err(alone(text, 0, "", says));
    }
    let mut tree = json::parse(text).map_err(|it| alone(text, it.at, &it.part, it.says))?;
    heading(&tree).map_err(|(at, part, says)| alone(text, at, part, says))?;
    let mut problems = Problems::default();
    let schema = schemars::schema_for!(types::File).to_value();
    rules::Rule::compile(&schema, &schema).settle(&mut tree, &mut String::new(), &mut problems);
    let joint = match types::File::deserialize(&tree) {
        Ok(file) => model::joint(file, stock, &mut problems),
        // The rules and the types are one, so this says that they are not.
        Err(why) => {
            problems.at(tree.at, "", why.to_string());
            Joint::default()
        }
    };
    sound::check(&joint, &mut problems);
    if problems.is_empty() { Ok(joint) } else { Err(problems.told(text, &tree)) }
}

/// Refuses what is no joint file of a version known here, before anything else is said about it.
fn heading(tree: &Node<'_>) -> Result<(), (usize, &'static str, String)> {
    let whole = "a joint file is an object with \"format\": \"shankline-joint\"";
    let Kind::Object(_) = tree.kind else { return Err((tree.at, "", whole.to_owned())) };
    match tree.get("format") {
        Some(Node { kind: Kind::Text(it), .. }) if it == "shankline-joint" => {}
        Some(Node { kind: Kind::Text(it), at }) => {
            return Err((*at, "format", format!("the format is {}; {whole}", quoted(it))));
        }
        Some(other) => return Err((other.at, "format", whole.to_owned())),
        None => return Err((tree.at, "", format!("the key `format` is missing; {whole}"))),
    }
    match tree.get("version") {
        Some(Node { kind: Kind::Number(it), at }) if f64::from(VERSION) < *it => {
            let says = format!(
                "the file was written by a later Shankline: it has version {it}, and this one reads versions up \
                 to {VERSION}. Use a later Shankline; the file was left as it is"
            );
            Err((*at, "version", says))
        }
        _ => Ok(()),
    }
}

/// Writes a joint as a file; [`read`] gives the same joint back.
#[must_use]
pub fn write(joint: &Joint) -> String {
    // Our own types hold text keys only and numbers that JSON can say, so nothing can fail here.
    let compact = serde_json::to_string(&written::file(joint)).unwrap_or_default();
    layout::pretty(&compact)
}

/// The JSON Schema of a joint file.
#[must_use]
pub fn schema() -> String {
    let schema = schemars::schema_for!(types::File);
    let mut text = serde_json::to_string_pretty(&schema).unwrap_or_default();
    text.push('\n');
    text
}
