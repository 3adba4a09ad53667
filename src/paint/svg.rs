//! A drawing as an SVG document.
//!
//! Static SVG 1.1 only, of the few elements and attributes that every renderer draws alike: no style
//! sheet but the rule that brings the font, no marker, no `dominant-baseline`, no remote reference, literal colours. One user unit is one
//! millimetre on paper.

use ::svg::Document;
use std::collections::BTreeSet;

use ::svg::node::element::{Definitions, Description, Group, Path, Rectangle, Style, Text, Title};
use kurbo::{BezPath, PathEl, Point};

use super::{Letters, font, outline};
use crate::drawing::{Anchor, Drawing, Fill, Ink, Item, Layer, Line, Mood, Shape};

/// Families in the order of choice: the bundled one, then faces of about its width.
const FAMILIES: &str = "Roboto, Arial, 'Liberation Sans', Helvetica, sans-serif";

/// All layers in the order of painting.
const LAYERS: [Layer; 10] = [
    Layer::Frame,
    Layer::Members,
    Layer::Hatch,
    Layer::Connectors,
    Layer::Fasteners,
    Layer::Dimensions,
    Layer::Marks,
    Layer::Cores,
    Layer::Notes,
    Layer::Handles,
];

/// The document.
pub(super) fn document(drawing: &Drawing, letters: Letters) -> String {
    let outlines = (letters == Letters::Outlines).then(|| [false, true].map(outline::Letters::bundled));
    let (width, height) = (number(drawing.size_mm.0), number(drawing.size_mm.1));
    let mut document = Document::new()
        .set("width", format!("{width}mm"))
        .set("height", format!("{height}mm"))
        .set("viewBox", format!("0 0 {width} {height}"))
        .set("role", "img")
        .set("aria-labelledby", "drawing-title drawing-description")
        .add(Title::new(clean(&drawing.title)).set("id", "drawing-title"))
        .add(description(&drawing.description));
    if letters == Letters::Embedded {
        document = document.add(Definitions::new().add(Style::new(faces(drawing))));
    }
    document = document.add(
        Rectangle::new()
            .set("x", "0")
            .set("y", "0")
            .set("width", width)
            .set("height", height)
            .set("fill", "#FFFFFF"),
    );
    for layer in LAYERS {
        let Some(name) = layer_name(layer) else { continue };
        let mut group = Group::new().set("id", format!("layer-{name}"));
        let mut is_empty = true;
        for item in drawing.items.iter().filter(|it| it.layer == layer) {
            group = draw(group, item, outlines.as_ref());
            is_empty = false;
        }
        if !is_empty {
            document = document.add(group);
        }
    }
    let mut text = document.to_string();
    text.push('\n');
    text
}

fn description(words: &str) -> Description {
    Description::new().set("id", "drawing-description").add(::svg::node::Text::new(clean(words)))
}

/// The name of a layer's group; `None` for what is on the screen only.
fn layer_name(layer: Layer) -> Option<&'static str> {
    match layer {
        Layer::Frame => Some("frame"),
        Layer::Members => Some("members"),
        Layer::Hatch => Some("hatch"),
        Layer::Connectors => Some("connectors"),
        Layer::Fasteners => Some("fasteners"),
        Layer::Dimensions => Some("dimensions"),
        Layer::Marks => Some("marks"),
        Layer::Cores => Some("cores"),
        Layer::Notes => Some("notes"),
        Layer::Handles => None,
    }
}

/// The rules that bring the letters that the drawing uses.
fn faces(drawing: &Drawing) -> String {
    let rule = |wanted: bool, weight: u16| {
        let words = drawing.items.iter().filter_map(|it| match &it.shape {
            Shape::Text { words, bold, .. } if *bold == wanted => Some(clean(words)),
            Shape::Text { .. } | Shape::Path { .. } => None,
        });
        let used: BTreeSet<char> = words.flat_map(|it| it.chars().collect::<Vec<_>>()).collect();
        font::face_rule(&outline::Letters::bundled(wanted), &used, weight)
    };
    format!("{}{}", rule(false, 400), rule(true, 700))
}

/// A line of text as one path, with its words as a title.
fn outlined(letters: &outline::Letters, shape: &Shape) -> Option<Path> {
    let Shape::Text { at, words, size_mm, anchor, turn_deg, ink, .. } = shape else { return None };
    let words = clean(words);
    let anchor = match anchor {
        Anchor::Start => 0.0,
        Anchor::Middle => 0.5,
        Anchor::End => 1.0,
    };
    let path = letters.outline(&words, *at, *size_mm, (anchor, *turn_deg));
    let element = Path::new().set("d", path_data(&path)).set("fill", ink_colour(*ink));
    (!path.is_empty()).then(|| element.add(Title::new(words)))
}

fn draw(group: Group, item: &Item, outlines: Option<&[outline::Letters; 2]>) -> Group {
    if let (Some(letters), Shape::Text { bold, .. }) = (outlines, &item.shape) {
        return match outlined(&letters[usize::from(*bold)], &item.shape) {
            Some(it) => group.add(it),
            None => group,
        };
    }
    match &item.shape {
        Shape::Path { path, fill, line } => {
            let mut element = Path::new().set("d", path_data(path));
            element = match fill {
                Some(fill) => element.set("fill", fill_colour(*fill)).set("fill-rule", "evenodd"),
                None => element.set("fill", "none"),
            };
            if let Some(line) = line {
                element =
                    element.set("stroke", line_colour(*line)).set("stroke-width", number(line.width_mm()));
            }
            group.add(element)
        }
        Shape::Text { at, words, size_mm, anchor, turn_deg, bold, ink } => {
            let mut element = Text::new(clean(words))
                .set("x", number(at.x))
                .set("y", number(at.y))
                .set("font-family", FAMILIES)
                .set("font-size", number(*size_mm))
                .set("fill", ink_colour(*ink));
            match anchor {
                Anchor::Start => {}
                Anchor::Middle => element = element.set("text-anchor", "middle"),
                Anchor::End => element = element.set("text-anchor", "end"),
            }
            if *bold {
                element = element.set("font-weight", "700");
            }
            if *turn_deg != 0.0 {
                let turn = format!("rotate({} {} {})", number(-turn_deg), number(at.x), number(at.y));
                element = element.set("transform", turn);
            }
            group.add(element)
        }
    }
}

/// Colour of a line. Steel is a slate blue-grey; moods differ in darkness too and never stand alone.
fn line_colour(line: Line) -> &'static str {
    match line {
        Line::Cut | Line::Seen | Line::Hidden | Line::Shank | Line::Tick | Line::Frame => "#1A2126",
        Line::Filling => "#66757D",
        Line::Steel | Line::SteelHatch | Line::Hole => "#2E3D4A",
        Line::Hatch => "#857656",
        Line::Break | Line::Dimension | Line::Rule => "#3C474D",
        Line::ShankInAir(mood) | Line::Leader(mood) | Line::Mark(mood) => mood_colour(mood),
        Line::Handle => "#00707A",
    }
}

/// Colour of an area.
fn fill_colour(fill: Fill) -> &'static str {
    match fill {
        Fill::Paper => "#FFFFFF",
        Fill::Lumber => "#F0E4CB",
        Fill::Engineered => "#E6D8B5",
        Fill::Panel => "#E4DFD2",
        Fill::Concrete => "#ECECEA",
        Fill::Filling => "#F1F5F7",
        Fill::Steel => "#64788A",
        Fill::Shank => "#1A2126",
        Fill::ExistingShank => "#AEB7BC",
        Fill::Mark(mood) => mood_colour(mood),
        Fill::Handle => "#00707A",
    }
}

/// Colour of words: each at least 4.5 to 1 on white and on the fills of wood.
fn ink_colour(ink: Ink) -> &'static str {
    match ink {
        Ink::Plain => "#1A2126",
        Ink::Soft => "#536068",
        Ink::Mood(mood) => mood_colour(mood),
        Ink::OnMark => "#FFFFFF",
    }
}

/// Dark enough for words, and apart in hue for those who cannot tell red from green.
fn mood_colour(mood: Mood) -> &'static str {
    match mood {
        Mood::Fault => "#9C1C2E",
        Mood::Caution => "#7A5300",
        Mood::Quiet => "#005A8E",
    }
}

/// A number with at most four decimals, a point and no exponent.
fn number(value: f64) -> String {
    // A tenth of a micrometre on paper. What is no number cannot be drawn, and nothing upstream makes one.
    let rounded = if value.is_finite() { (value * 1e4).round() / 1e4 } else { 0.0 };
    let text = format!("{rounded:.4}");
    let text = text.trim_end_matches('0').trim_end_matches('.');
    if text == "-0" { "0".to_owned() } else { text.to_owned() }
}

fn path_data(path: &BezPath) -> String {
    let mut data = String::with_capacity(path.elements().len() * 14);
    let mut add = |letter: char, places: &[Point]| {
        data.push(letter);
        for (n, place) in places.iter().enumerate() {
            if n != 0 {
                data.push(' ');
            }
            data.push_str(&number(place.x));
            data.push(' ');
            data.push_str(&number(place.y));
        }
    };
    for element in path.elements() {
        match *element {
            PathEl::MoveTo(p) => add('M', &[p]),
            PathEl::LineTo(p) => add('L', &[p]),
            PathEl::QuadTo(p, q) => add('Q', &[p, q]),
            PathEl::CurveTo(p, q, r) => add('C', &[p, q, r]),
            PathEl::ClosePath => add('Z', &[]),
        }
    }
    data
}

/// Words without what XML 1.0 cannot hold; line ends and tabs become spaces. The `svg` crate escapes the rest.
fn clean(words: &str) -> String {
    let is_text = |it: &char| !matches!(it, '\u{0}'..='\u{8}' | '\u{b}' | '\u{c}' | '\u{e}'..='\u{1f}' | '\u{7f}'..='\u{9f}' | '\u{fffe}' | '\u{ffff}');
    words.chars().filter(is_text).map(|it| if it.is_whitespace() { ' ' } else { it }).collect()
}
