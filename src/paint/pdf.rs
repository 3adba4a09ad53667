//! Drawings as one PDF, read back from their SVG: vectors stay vectors and text stays text.

use std::collections::BTreeSet;

use kurbo::PathEl;
use miniz_oxide::deflate::compress_to_vec_zlib;
use pdf_writer::types::{CidFontType, FontFlags, SystemInfo, UnicodeCmap};
use pdf_writer::{Content, Filter, Finish as _, Name, Pdf, Rect, Ref, Str, TextStr};

use super::font::{self, Subset};
use super::outline::Letters;
use super::read::{self, Mark, Page, Text};
use super::{PaintError, svg};
use crate::drawing::Drawing;
use crate::unit::length::MM_PER_INCH;

/// Points of PDF to a millimetre.
const POINTS: f64 = 72.0 / MM_PER_INCH;

/// How hard streams are pressed; the same everywhere, so that the bytes are the same.
const PRESS: u8 = 6;

const SYSTEM: SystemInfo<'static> =
    SystemInfo { registry: Str(b"Adobe"), ordering: Str(b"Identity"), supplement: 0 };

/// A face in the document.
struct Face {
    letters: Letters,
    subset: Subset,
    name: &'static str,
    base: &'static str,
    id: Ref,
}

/// Gives out numbers of objects.
struct Numbers(i32);

impl Numbers {
    fn next(&mut self) -> Ref {
        self.0 += 1;
        Ref::new(self.0)
    }
}

/// The document.
pub(super) fn document(drawings: &[Drawing]) -> Result<Vec<u8>, PaintError> {
    let pages = drawings
        .iter()
        .map(|it| read::page(&svg::document(it, super::Letters::Named)))
        .collect::<Result<Vec<Page>, _>>()?;
    let mut numbers = Numbers(0);
    let (catalog, tree, info) = (numbers.next(), numbers.next(), numbers.next());
    let mut pdf = Pdf::new();
    let faces = [false, true]
        .into_iter()
        .filter_map(|bold| face(&pages, bold, &mut numbers).transpose())
        .collect::<Result<Vec<Face>, _>>()?;
    for it in &faces {
        write_face(&mut pdf, it, &mut numbers);
    }
    let ids: Vec<(Ref, Ref)> = pages.iter().map(|_| (numbers.next(), numbers.next())).collect();
    for (page, id) in pages.iter().zip(&ids) {
        write_page(&mut pdf, page, &faces, (tree, *id));
    }
    pdf.pages(tree).kids(ids.iter().map(|it| it.0)).count(i32::try_from(ids.len()).unwrap_or(i32::MAX));
    let mut root = pdf.catalog(catalog);
    root.pages(tree).lang(TextStr("en"));
    // A sheet is printed at its own size, and is called by its title.
    root.viewer_preferences().display_doc_title(true).insert(Name(b"PrintScaling")).primitive(Name(b"None"));
    root.finish();
    if let Some(first) = pages.first() {
        let mut about = pdf.document_info(info);
        about.title(TextStr(&first.title)).subject(TextStr(&first.description));
        about.creator(TextStr("Shankline")).producer(TextStr("Shankline"));
    }
    Ok(pdf.finish())
}

/// The letters of a weight that the pages use; `None` where they use none.
fn face(pages: &[Page], bold: bool, numbers: &mut Numbers) -> Result<Option<Face>, PaintError> {
    let texts = pages.iter().flat_map(|it| &it.marks).filter_map(|it| match it {
        Mark::Text(text) if text.bold == bold => Some(text),
        Mark::Text(_) | Mark::Path { .. } => None,
    });
    let used: BTreeSet<char> = texts.flat_map(|it| it.words.chars()).collect();
    if used.is_empty() {
        return Ok(None);
    }
    let letters = Letters::bundled(bold);
    let failed = || PaintError::Failed("PDF", "the bundled font cannot be made smaller".to_owned());
    let subset = font::subset(&letters, &used).ok_or_else(failed)?;
    let (name, base) = if bold { ("Bold", "SHANKB+Roboto-Bold") } else { ("Plain", "SHANKA+Roboto-Regular") };
    Ok(Some(Face { letters, subset, name, base, id: numbers.next() }))
}

fn narrow(it: f64) -> f32 {
    #[expect(clippy::cast_possible_truncation, reason = "places on paper have far fewer figures")]
    let it = it as f32;
    it
}

fn write_face(pdf: &mut Pdf, face: &Face, numbers: &mut Numbers) {
    let (cid, descriptor, cmap, data) = (numbers.next(), numbers.next(), numbers.next(), numbers.next());
    let base = Name(face.base.as_bytes());
    pdf.type0_font(face.id)
        .base_font(base)
        .encoding_predefined(Name(b"Identity-H"))
        .descendant_font(cid)
        .to_unicode(cmap);
    let ttf = &face.letters.face;
    let thousandths = |it: f64| narrow(it * 1000.0 / f64::from(ttf.units_per_em()));
    let mut font = pdf.cid_font(cid);
    font.subtype(CidFontType::Type2)
        .base_font(base)
        .system_info(SYSTEM)
        .font_descriptor(descriptor)
        .default_width(0.0)
        .cid_to_gid_map_predefined(Name(b"Identity"));
    let mut widths: Vec<(u16, f32)> = face
        .subset
        .glyphs
        .iter()
        .map(|(letter, glyph)| (*glyph, narrow(face.letters.advance(face.letters.glyph(*letter)) * 1000.0)))
        .collect();
    widths.sort_by_key(|it| it.0);
    widths.dedup_by_key(|it| it.0);
    let mut list = font.widths();
    for (glyph, width) in widths {
        list.consecutive(glyph, [width]);
    }
    list.finish();
    font.finish();
    let bounds = ttf.global_bounding_box();
    pdf.font_descriptor(descriptor)
        .name(base)
        .flags(FontFlags::NON_SYMBOLIC)
        .bbox(Rect::new(
            thousandths(f64::from(bounds.x_min)),
            thousandths(f64::from(bounds.y_min)),
            thousandths(f64::from(bounds.x_max)),
            thousandths(f64::from(bounds.y_max)),
        ))
        .italic_angle(0.0)
        .ascent(thousandths(f64::from(ttf.ascender())))
        .descent(thousandths(f64::from(ttf.descender())))
        .cap_height(thousandths(f64::from(ttf.capital_height().unwrap_or(0))))
        .stem_v(80.0)
        .font_file2(data);
    let mut unicode = UnicodeCmap::new(Name(b"Custom"), SYSTEM);
    for (letter, glyph) in face.subset.glyphs.iter().filter(|it| *it.1 != 0) {
        unicode.pair(*glyph, *letter);
    }
    pdf.cmap(cmap, &unicode.finish());
    let packed = compress_to_vec_zlib(&face.subset.bytes, PRESS);
    let length = i32::try_from(face.subset.bytes.len()).unwrap_or(i32::MAX);
    let mut stream = pdf.stream(data, &packed);
    stream.filter(Filter::FlateDecode).pair(Name(b"Length1"), length);
}

fn write_page(pdf: &mut Pdf, page: &Page, faces: &[Face], (tree, (id, content)): (Ref, (Ref, Ref))) {
    let (width, height) = (page.size_mm.0 * POINTS, page.size_mm.1 * POINTS);
    let mut object = pdf.page(id);
    object.parent(tree).contents(content);
    object.media_box(Rect::new(0.0, 0.0, narrow(width), narrow(height)));
    let mut resources = object.resources();
    let mut fonts = resources.fonts();
    for it in faces {
        fonts.pair(Name(it.name.as_bytes()), it.id);
    }
    fonts.finish();
    resources.finish();
    object.finish();
    let mut ink = Content::new();
    // From here on as in the SVG: millimetres, y down from the upper left corner.
    let points = narrow(POINTS);
    ink.transform([points, 0.0, 0.0, -points, 0.0, narrow(height)]);
    for mark in &page.marks {
        match mark {
            Mark::Path { path, fill, line } => {
                add_path(&mut ink, path);
                if let Some([r, g, b]) = fill {
                    ink.set_fill_rgb(*r, *g, *b);
                }
                if let Some(([r, g, b], width)) = line {
                    ink.set_stroke_rgb(*r, *g, *b).set_line_width(narrow(*width));
                }
                match (fill, line) {
                    (Some(_), Some(_)) => ink.fill_even_odd_and_stroke(),
                    (Some(_), None) => ink.fill_even_odd(),
                    (None, Some(_)) => ink.stroke(),
                    (None, None) => ink.end_path(),
                };
            }
            Mark::Text(text) => add_text(&mut ink, text, faces),
        }
    }
    let packed = compress_to_vec_zlib(&ink.finish(), PRESS);
    pdf.stream(content, &packed).filter(Filter::FlateDecode);
}

fn add_path(ink: &mut Content, path: &kurbo::BezPath) {
    let mut last = kurbo::Point::ORIGIN;
    for element in path.elements() {
        match *element {
            PathEl::MoveTo(p) => {
                ink.move_to(narrow(p.x), narrow(p.y));
                last = p;
            }
            PathEl::LineTo(p) => {
                ink.line_to(narrow(p.x), narrow(p.y));
                last = p;
            }
            PathEl::QuadTo(q, p) => {
                // The same curve of the third degree.
                let (a, b) = (last.lerp(q, 2.0 / 3.0), p.lerp(q, 2.0 / 3.0));
                ink.cubic_to(narrow(a.x), narrow(a.y), narrow(b.x), narrow(b.y), narrow(p.x), narrow(p.y));
                last = p;
            }
            PathEl::CurveTo(a, b, p) => {
                ink.cubic_to(narrow(a.x), narrow(a.y), narrow(b.x), narrow(b.y), narrow(p.x), narrow(p.y));
                last = p;
            }
            PathEl::ClosePath => {
                ink.close_path();
            }
        }
    }
}

fn add_text(ink: &mut Content, text: &Text, faces: &[Face]) {
    let name = if text.bold { "Bold" } else { "Plain" };
    let Some(face) = faces.iter().find(|it| it.name == name) else { return };
    let (sin, cos) = text.turn_deg.to_radians().sin_cos();
    let back = face.letters.width(&text.words) * text.size_mm * text.anchor;
    let at = (text.at.x - cos * back, text.at.y + sin * back);
    let glyphs: Vec<u8> = text
        .words
        .chars()
        .filter_map(|it| face.subset.glyphs.get(&it))
        .flat_map(|it| it.to_be_bytes())
        .collect();
    let [r, g, b] = text.colour;
    ink.set_fill_rgb(r, g, b);
    ink.begin_text();
    ink.set_font(Name(name.as_bytes()), narrow(text.size_mm));
    // Upright letters on paper whose y looks down.
    ink.set_text_matrix([narrow(cos), narrow(-sin), narrow(-sin), narrow(-cos), narrow(at.0), narrow(at.1)]);
    ink.show(Str(&glyphs));
    ink.end_text();
}
