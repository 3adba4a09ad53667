//! As much of the bundled font as a page uses, as a font file of its own.
//!
//! The library that makes subsets makes them for PDF, which needs no table of characters. A browser does, so
//! the tables that it asks for are put in here (OpenType 1.9: the font file, `cmap` format 4, `OS/2`, `post`).

use std::collections::{BTreeMap, BTreeSet};

use base64::Engine as _;
use base64::engine::general_purpose::STANDARD;
use subsetter::GlyphRemapper;

use super::outline::Letters;

/// A subset of one face.
pub(super) struct Subset {
    /// The font file without a table of characters.
    pub(super) bytes: Vec<u8>,
    /// The glyph in the subset for each letter that is used.
    pub(super) glyphs: BTreeMap<char, u16>,
}

/// The subset of a face that these letters need; `None` where the library cannot make one.
pub(super) fn subset(letters: &Letters, used: &BTreeSet<char>) -> Option<Subset> {
    let mut remapper = GlyphRemapper::new();
    let glyphs = used.iter().map(|it| (*it, remapper.remap(letters.glyph(*it).0))).collect();
    let bytes = subsetter::subset(letters.bytes, 0, &remapper).ok()?;
    Some(Subset { bytes, glyphs })
}

/// The rule of a style sheet that brings a face of this weight, or nothing where no letter of it is used.
pub(super) fn face_rule(letters: &Letters, used: &BTreeSet<char>, weight: u16) -> String {
    if used.is_empty() {
        return String::new();
    }
    let Some(file) = subset(letters, used).and_then(|it| for_browsers(letters, &it)) else {
        return String::new();
    };
    let data = STANDARD.encode(file);
    format!("@font-face{{font-family:Roboto;font-weight:{weight};src:url(data:font/ttf;base64,{data})}}")
}

/// The subset with the tables that browsers ask for.
fn for_browsers(letters: &Letters, subset: &Subset) -> Option<Vec<u8>> {
    let mut tables = tables(&subset.bytes)?;
    tables.insert(*b"cmap", cmap(&subset.glyphs));
    tables.insert(*b"OS/2", table(letters.bytes, *b"OS/2")?.to_vec());
    let mut post = table(letters.bytes, *b"post")?.get(..32)?.to_vec();
    // Version 3: no names of glyphs.
    post.splice(..4, [0, 3, 0, 0]);
    tables.insert(*b"post", post);
    Some(file(&mut tables))
}

type Tag = [u8; 4];

fn u16_at(bytes: &[u8], at: usize) -> Option<usize> {
    Some(usize::from(u16::from_be_bytes(bytes.get(at..at + 2)?.try_into().ok()?)))
}

fn u32_at(bytes: &[u8], at: usize) -> Option<usize> {
    usize::try_from(u32::from_be_bytes(bytes.get(at..at + 4)?.try_into().ok()?)).ok()
}

fn tables(file: &[u8]) -> Option<BTreeMap<Tag, Vec<u8>>> {
    let count = u16_at(file, 4)?;
    let mut found = BTreeMap::new();
    for n in 0..count {
        let record = 12 + 16 * n;
        let tag: Tag = file.get(record..record + 4)?.try_into().ok()?;
        let (from, long) = (u32_at(file, record + 8)?, u32_at(file, record + 12)?);
        found.insert(tag, file.get(from..from + long)?.to_vec());
    }
    Some(found)
}

fn table(file: &[u8], tag: Tag) -> Option<&[u8]> {
    let count = u16_at(file, 4)?;
    let record = (0..count).map(|n| 12 + 16 * n).find(|it| file.get(*it..*it + 4) == Some(&tag[..]))?;
    let (from, long) = (u32_at(file, record + 8)?, u32_at(file, record + 12)?);
    file.get(from..from + long)
}

fn low16(it: usize) -> [u8; 2] {
    u16::try_from(it & 0xFFFF).unwrap_or(0).to_be_bytes()
}

fn low32(it: usize) -> [u8; 4] {
    u32::try_from(it & 0xFFFF_FFFF).unwrap_or(0).to_be_bytes()
}

/// A table of characters in format 4: one segment for each letter, which is small enough.
fn cmap(glyphs: &BTreeMap<char, u16>) -> Vec<u8> {
    let pairs: Vec<(u16, u16)> = glyphs
        .iter()
        .filter_map(|(letter, glyph)| Some((u16::try_from(u32::from(*letter)).ok()?, *glyph)))
        .filter(|it| it.0 != 0xFFFF)
        .collect();
    let count = pairs.len() + 1;
    let exponent = usize::try_from(count.ilog2()).unwrap_or(0);
    let range = 2 << exponent;
    let mut sub = Vec::new();
    sub.extend([0, 4]);
    sub.extend(low16(16 + 8 * count));
    sub.extend([0, 0]);
    for it in [2 * count, range, exponent, 2 * count - range.min(2 * count)] {
        sub.extend(low16(it));
    }
    let ends = pairs.iter().map(|it| it.0).chain([0xFFFF]);
    sub.extend(ends.clone().flat_map(u16::to_be_bytes));
    sub.extend([0, 0]);
    sub.extend(ends.flat_map(u16::to_be_bytes));
    let deltas = pairs.iter().map(|(letter, glyph)| glyph.wrapping_sub(*letter)).chain([1]);
    sub.extend(deltas.flat_map(u16::to_be_bytes));
    sub.extend(std::iter::repeat_n(0, 2 * count));
    // Version 0, one encoding: Windows, Unicode of the basic plane, 12 bytes from the beginning.
    let mut table = vec![0, 0, 0, 1, 0, 3, 0, 1, 0, 0, 0, 12];
    table.extend(sub);
    table
}

fn checksum(bytes: &[u8]) -> u32 {
    let word = |it: &[u8]| {
        let mut four = [0; 4];
        four[..it.len()].copy_from_slice(it);
        u32::from_be_bytes(four)
    };
    bytes.chunks(4).map(word).fold(0, u32::wrapping_add)
}

/// The font file of these tables, with its checksums.
fn file(tables: &mut BTreeMap<Tag, Vec<u8>>) -> Vec<u8> {
    let count = tables.len();
    let exponent = usize::try_from(count.ilog2()).unwrap_or(0);
    let range = 16 << exponent;
    if let Some(adjustment) = tables.get_mut(b"head").and_then(|it| it.get_mut(8..12)) {
        adjustment.fill(0);
    }
    let mut file = vec![0, 1, 0, 0];
    for it in [count, range, exponent, 16 * count - range.min(16 * count)] {
        file.extend(low16(it));
    }
    let mut at = 12 + 16 * count;
    let mut head_at = 0;
    for (tag, bytes) in tables.iter() {
        if tag == b"head" {
            head_at = at;
        }
        file.extend(tag);
        file.extend(checksum(bytes).to_be_bytes());
        file.extend(low32(at));
        file.extend(low32(bytes.len()));
        at += bytes.len().next_multiple_of(4);
    }
    for bytes in tables.values() {
        file.extend(bytes);
        file.resize(file.len().next_multiple_of(4), 0);
    }
    let whole = 0xB1B0_AFBA_u32.wrapping_sub(checksum(&file));
    if let Some(adjustment) = file.get_mut(head_at + 8..head_at + 12) {
        adjustment.copy_from_slice(&whole.to_be_bytes());
    }
    file
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_subset_for_browsers_is_a_sound_font_with_the_same_letters() {
        for bold in [false, true] {
            let letters = Letters::bundled(bold);
            let used: BTreeSet<char> = "Rim 1 1/2\" × 9 1/4\" – é".chars().collect();
            let subset = subset(&letters, &used).unwrap();
            let file = for_browsers(&letters, &subset).unwrap();
            assert!(file.len() < letters.bytes.len() / 10, "{} bytes", file.len());
            assert_eq!(checksum(&file), 0xB1B0_AFBA, "the checksum of a whole font file (OpenType, `head`)");
            let face = ttf_parser::Face::parse(&file, 0).unwrap();
            for letter in used {
                let (old, new) = (letters.glyph(letter), face.glyph_index(letter).unwrap());
                assert_eq!(letters.face.glyph_hor_advance(old), face.glyph_hor_advance(new), "{letter}");
                assert_eq!(letters.face.glyph_bounding_box(old), face.glyph_bounding_box(new), "{letter}");
            }
            assert_eq!(face.glyph_index('Q'), None, "what is not used is not there");
        }
    }
}
