//! Lays JSON out for people: what fits on a line stands on one, the rest an entry a line.

use super::json::{self, Kind, Node};

/// Longest line, unless a single text is longer.
const WIDTH: usize = 110;

/// Lays out compact JSON of our own writing. Numbers and texts are copied as they are.
pub(super) fn pretty(compact: &str) -> String {
    let Ok(tree) = json::parse(compact) else { return compact.to_owned() };
    let mut out = String::with_capacity(compact.len() * 2);
    let ends = compact.len();
    lay(Piece { text: compact, node: &tree, end: ends }, 0, &mut out);
    out.push('\n');
    out
}

/// A value and the end of its text.
#[derive(Clone, Copy)]
struct Piece<'a> {
    text: &'a str,
    node: &'a Node<'a>,
    end: usize,
}

impl<'a> Piece<'a> {
    /// The key, with its quotes, and the value of each entry.
    fn entries(self) -> Vec<(&'a str, Piece<'a>)> {
        let Self { text, node, end } = self;
        match &node.kind {
            Kind::Object(entries) => {
                // Compact JSON: an entry ends where the comma before the next one stands.
                let ends = entries.iter().skip(1).map(|it| it.at - 1).chain([end - 1]);
                let entry = |(it, end): (&'a json::Entry<'a>, usize)| {
                    (&text[it.at..it.value.at - 1], Piece { text, node: &it.value, end })
                };
                entries.iter().zip(ends).map(entry).collect()
            }
            Kind::List(elements) => {
                let ends = elements.iter().skip(1).map(|it| it.at - 1).chain([end - 1]);
                elements.iter().zip(ends).map(|(node, end)| ("", Piece { text, node, end })).collect()
            }
            Kind::Null | Kind::Bool(_) | Kind::Number(_) | Kind::Text(_) => Vec::new(),
        }
    }

    fn written(self) -> &'a str {
        &self.text[self.node.at..self.end]
    }
}

fn marks(kind: &Kind<'_>) -> (&'static str, &'static str) {
    if let Kind::Object(_) = kind { ("{", "}") } else { ("[", "]") }
}

fn lay(piece: Piece<'_>, indent: usize, out: &mut String) {
    let used = out.len() - out.rfind('\n').map_or(0, |it| it + 1);
    let mut line = String::new();
    // The file itself is always broken, an entry a line.
    if 0 < indent && fits(piece, WIDTH.saturating_sub(used + 1), &mut line) {
        out.push_str(&line);
        return;
    }
    let entries = piece.entries();
    if entries.is_empty() {
        out.push_str(piece.written());
        return;
    }
    let (open, close) = marks(&piece.node.kind);
    out.push_str(open);
    let pad = " ".repeat(indent + 2);
    for (number, (key, value)) in entries.into_iter().enumerate() {
        out.push_str(if number == 0 { "\n" } else { ",\n" });
        out.push_str(&pad);
        out.push_str(key);
        if !key.is_empty() {
            out.push_str(": ");
        }
        lay(value, indent + 2, out);
    }
    out.push('\n');
    out.push_str(&pad[2..]);
    out.push_str(close);
}

/// Writes the piece on one line, as long as that stays within `room` characters.
fn fits(piece: Piece<'_>, room: usize, line: &mut String) -> bool {
    if room < piece.written().len() {
        return false;
    }
    let entries = piece.entries();
    if entries.is_empty() {
        line.push_str(piece.written());
        return line.len() <= room;
    }
    let (open, close) = marks(&piece.node.kind);
    let space = if open == "{" { " " } else { "" };
    line.push_str(open);
    line.push_str(space);
    for (number, (key, value)) in entries.into_iter().enumerate() {
        line.push_str(if number == 0 { "" } else { ", " });
        line.push_str(key);
        if !key.is_empty() {
            line.push_str(": ");
        }
        if !fits(value, room, line) {
            return false;
        }
    }
    line.push_str(space);
    line.push_str(close);
    line.len() <= room
}
