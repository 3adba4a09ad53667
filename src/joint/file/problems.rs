//! Gathers what is wrong with a joint file, finds where it stands, and keeps the list short.

use std::collections::BTreeSet;

use super::Problem;
use super::json::{Kind, Node};

/// So many problems are told; of the rest, their number.
const MOST_TOLD: usize = 50;

/// So many are kept until they are put in the order of the file.
const MOST_KEPT: usize = 2_000;

/// Longest name that is quoted whole.
const LONGEST_QUOTE: usize = 80;

/// The problems found so far.
#[derive(Debug, Default)]
pub(super) struct Problems {
    drafts: Vec<Draft>,
    found: usize,
    /// Parts that were wrong and have a stand-in, so that nothing more is said of them.
    replaced: BTreeSet<String>,
    /// Whether one of those parts is an id, or may hold ids.
    an_id_is_replaced: bool,
}

#[derive(Debug)]
struct Draft {
    /// Byte offset, where it is known already.
    at: Option<usize>,
    part: String,
    says: String,
}

impl Problems {
    /// Notes a problem at a known place of the text.
    pub(super) fn at(&mut self, at: usize, part: &str, says: String) {
        self.push(Draft { at: Some(at), part: part.to_owned(), says });
    }

    /// Notes a problem of a part, unless the part is a stand-in for something wrong itself.
    pub(super) fn of(&mut self, part: &str, says: String) {
        if !self.is_replaced(part) {
            self.push(Draft { at: None, part: part.to_owned(), says });
        }
    }

    /// Remembers that a stand-in took this part's place.
    pub(super) fn replaced(&mut self, part: &str) {
        self.an_id_is_replaced |= part.ends_with(".id") || part.ends_with(']') || !part.contains('.');
        self.replaced.insert(part.to_owned());
    }

    /// Whether the part, something around it or something in it is a stand-in.
    pub(super) fn is_replaced(&self, part: &str) -> bool {
        let around = |end: usize| self.replaced.contains(&part[..end]);
        let inside = |mark: char| {
            let start = format!("{part}{mark}");
            self.replaced.range(start.clone()..).next().is_some_and(|it| it.starts_with(&start))
        };
        !self.replaced.is_empty()
            && (around(part.len())
                || part.match_indices(['.', '[']).any(|(end, _)| around(end))
                || inside('.')
                || inside('['))
    }

    /// Whether some id could not be read, so that a reference to it is no problem of its own.
    pub(super) const fn an_id_is_replaced(&self) -> bool {
        self.an_id_is_replaced
    }

    /// Whether there is none.
    pub(super) fn is_empty(&self) -> bool {
        self.found == 0
    }

    /// The known name that `given` was most likely meant to be.
    ///
    /// Once many problems are found it no longer looks, so that a file full of wrong names costs no minutes.
    pub(super) fn nearest<'a>(&self, given: &str, known: impl Iterator<Item = &'a str>) -> Option<&'a str> {
        if MOST_TOLD * 4 < self.found { None } else { nearest(given, known) }
    }

    /// That name as the end of a sentence; empty where none is near.
    pub(super) fn meant<'a>(&self, given: &str, known: impl Iterator<Item = &'a str>) -> String {
        self.nearest(given, known).map_or_else(String::new, |it| format!("; did you mean `{it}`?"))
    }

    fn push(&mut self, draft: Draft) {
        self.found += 1;
        if self.drafts.len() < MOST_KEPT {
            self.drafts.push(draft);
        }
    }

    /// The problems in the order of the file, with line and column.
    pub(super) fn told(self, text: &str, tree: &Node<'_>) -> Vec<Problem> {
        let mut placed: Vec<(usize, Draft)> =
            self.drafts.into_iter().map(|it| (it.at.unwrap_or_else(|| find(tree, &it.part)), it)).collect();
        placed.sort_by_key(|it| it.0);
        placed.truncate(MOST_TOLD);
        let untold = self.found - placed.len();
        let mut ruler = Ruler { text, at: 0, line: 1, column: 1 };
        let mut told: Vec<Problem> =
            placed.into_iter().map(|(at, it)| ruler.problem(at, it.part, it.says)).collect();
        if 0 < untold {
            let last = told.last().map_or((1, 1), |it| (it.line, it.column));
            let says = format!("{untold} more problems were found and are not listed");
            told.push(Problem { line: last.0, column: last.1, part: String::new(), says });
        }
        told
    }
}

/// A problem that stands alone.
pub(super) fn alone(text: &str, at: usize, part: &str, says: String) -> Vec<Problem> {
    let part = part.trim_start_matches('.');
    // The part of a text that is nested very deep would fill a screen.
    let part: String = if 100 < part.len() { String::new() } else { part.to_owned() };
    vec![Ruler { text, at: 0, line: 1, column: 1 }.problem(at, part, says)]
}

/// Counts lines and columns while it walks forward through the text.
struct Ruler<'t> {
    text: &'t str,
    at: usize,
    line: usize,
    column: usize,
}

impl Ruler<'_> {
    fn problem(&mut self, at: usize, part: String, says: String) -> Problem {
        for it in self.text.get(self.at..at).unwrap_or("").chars() {
            if it == '\n' {
                self.line += 1;
                self.column = 1;
            } else if it != '\u{feff}' {
                self.column += 1;
            }
        }
        self.at = self.at.max(at);
        Problem { line: self.line, column: self.column, part, says }
    }
}

/// Where a part stands; the nearest thing around it where the file does not give it.
fn find(tree: &Node<'_>, part: &str) -> usize {
    let mut node = tree;
    for step in part.split(['.', '[']).filter(|it| !it.is_empty()) {
        let next = match step.strip_suffix(']') {
            Some(place) => place.parse().ok().and_then(|it| node.element(it)),
            None => node.get(step),
        };
        match next {
            Some(next) => node = next,
            None => break,
        }
    }
    node.at
}

/// The known name nearest to the given one, if it is near at all: a third of its letters may differ.
fn nearest<'a>(given: &str, known: impl Iterator<Item = &'a str>) -> Option<&'a str> {
    let length = given.chars().count();
    if LONGEST_QUOTE < length {
        return None;
    }
    let given = given.to_lowercase();
    known
        .map(|it| (strsim::osa_distance(&given, &it.to_lowercase()), it))
        .filter(|it| it.0 <= (length / 3).max(1))
        .min_by_key(|it| it.0)
        .map(|it| it.1)
}

/// A text of the file in back quotes, shortened, with nothing in it that could disturb a terminal.
pub(super) fn quoted(text: &str) -> String {
    let shown: String = text.chars().take(LONGEST_QUOTE).flat_map(char::escape_debug).collect();
    let more = if text.chars().nth(LONGEST_QUOTE).is_some() { "..." } else { "" };
    format!("`{shown}{more}`")
}

/// A value as the file gives it, for a message.
pub(super) fn shown(kind: &Kind<'_>) -> String {
    match kind {
        Kind::Number(it) if it.is_nan() => "`NaN`".to_owned(),
        Kind::Number(it) if it.is_infinite() => "a number too large to hold".to_owned(),
        Kind::Number(it) if 1e15 <= it.abs() => format!("`{it:e}`"),
        Kind::Number(it) => format!("`{it}`"),
        Kind::Text(it) => format!("the text {}", quoted(it)),
        Kind::Bool(it) => format!("`{it}`"),
        Kind::Null | Kind::List(_) | Kind::Object(_) => kind.words().to_owned(),
    }
}
