//! Reads our own SVG back: the few elements and attributes that it is made of, and nothing else.

use kurbo::{BezPath, Point, Rect, Shape as _};
use roxmltree::{Document, Node};

use super::PaintError;

/// A colour, each part from 0 to 1.
pub(super) type Colour = [f32; 3];

/// A page.
pub(super) struct Page {
    pub(super) size_mm: (f64, f64),
    pub(super) title: String,
    pub(super) description: String,
    pub(super) marks: Vec<Mark>,
}

/// Something painted.
pub(super) enum Mark {
    /// A path, filled even-odd, stroked or both.
    Path { path: BezPath, fill: Option<Colour>, line: Option<(Colour, f64)> },
    /// A line of text.
    Text(Text),
}

/// A line of text.
pub(super) struct Text {
    pub(super) at: Point,
    pub(super) words: String,
    pub(super) size_mm: f64,
    /// The part of its width that lies left of `at`: 0, 0.5 or 1.
    pub(super) anchor: f64,
    /// Degrees anticlockwise.
    pub(super) turn_deg: f64,
    pub(super) bold: bool,
    pub(super) colour: Colour,
}

/// Reads a page.
pub(super) fn page(svg: &str) -> Result<Page, PaintError> {
    let failed = |why: &dyn std::fmt::Display| PaintError::Failed("PDF", why.to_string());
    let document = Document::parse(svg).map_err(|it| failed(&it))?;
    let root = document.root_element();
    let size = |name: &str| {
        let words = root.attribute(name).and_then(|it| it.strip_suffix("mm")).unwrap_or_default();
        words.parse::<f64>().map_err(|_| failed(&format!("{name} is not in millimetres")))
    };
    let words_of = |name: &str| {
        let found = root.children().find(|it| it.has_tag_name(name));
        found.and_then(|it| it.text()).unwrap_or_default().to_owned()
    };
    let mut page = Page {
        size_mm: (size("width")?, size("height")?),
        title: words_of("title"),
        description: words_of("desc"),
        marks: Vec::new(),
    };
    for node in root.descendants().filter(Node::is_element) {
        let mark = match node.tag_name().name() {
            "path" => path(node).ok_or_else(|| failed(&"a path cannot be read"))?,
            "rect" => rectangle(node),
            "text" => Mark::Text(text(node)),
            _ => continue,
        };
        page.marks.push(mark);
    }
    Ok(page)
}

fn number(node: Node<'_, '_>, name: &str) -> f64 {
    node.attribute(name).and_then(|it| it.parse().ok()).unwrap_or(0.0)
}

fn colour(node: Node<'_, '_>, name: &str) -> Option<Colour> {
    let digits = node.attribute(name)?.strip_prefix('#')?;
    let whole = u32::from_str_radix(digits, 16).ok()?;
    let part = |shift: u32| f32::from(u8::try_from((whole >> shift) & 0xFF).unwrap_or(0)) / 255.0;
    Some([part(16), part(8), part(0)])
}

fn painted(node: Node<'_, '_>, path: BezPath) -> Mark {
    let line = colour(node, "stroke").map(|it| (it, number(node, "stroke-width")));
    Mark::Path { path, fill: colour(node, "fill"), line }
}

fn path(node: Node<'_, '_>) -> Option<Mark> {
    let data = node.attribute("d")?;
    Some(painted(node, BezPath::from_svg(data).ok()?))
}

fn rectangle(node: Node<'_, '_>) -> Mark {
    let at = Point::new(number(node, "x"), number(node, "y"));
    let size = (number(node, "width"), number(node, "height"));
    painted(node, Rect::from_origin_size(at, size).to_path(0.01))
}

fn text(node: Node<'_, '_>) -> Text {
    let anchor = match node.attribute("text-anchor") {
        Some("middle") => 0.5,
        Some("end") => 1.0,
        _ => 0.0,
    };
    let turn = node.attribute("transform").and_then(|it| {
        let inner = it.strip_prefix("rotate(")?;
        inner.split(' ').next()?.parse::<f64>().ok()
    });
    Text {
        at: Point::new(number(node, "x"), number(node, "y")),
        // The library that writes it puts words on a line of their own.
        words: node.text().unwrap_or_default().trim_matches('\n').to_owned(),
        size_mm: number(node, "font-size"),
        anchor,
        turn_deg: -turn.unwrap_or(0.0),
        bold: node.attribute("font-weight").is_some(),
        colour: colour(node, "fill").unwrap_or_default(),
    }
}
