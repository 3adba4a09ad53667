//! How wide words are: measured from the bundled letters, never guessed.

use std::sync::LazyLock;

use kurbo::{Affine, Point, Rect, Vec2};
use ttf_parser::Face;

use super::{Anchor, Shape};

/// Height of a capital in ems of the bundled letters; a test reads it back from the font.
pub(super) const CAPITAL: f64 = 0.711;

/// Depth of a descender in ems.
pub(super) const DESCENDER: f64 = 0.21;

/// Ordinary words on paper: a capital of 2.5 mm, the least that a drawing should have (ISO 3098-1 series).
pub(super) const WORDS_MM: f64 = 2.5 / CAPITAL;

const ELLIPSIS: char = '…';

/// The bundled letters, regular and bold.
pub(super) struct Lettering {
    regular: Letters,
    bold: Letters,
}

/// The font file of the bundled letters, regular or bold.
pub(super) fn file(bold: bool) -> &'static [u8] {
    if bold {
        include_bytes!("../../resources/fonts/Roboto-Bold.ttf")
    } else {
        include_bytes!("../../resources/fonts/Roboto-Regular.ttf")
    }
}

struct Letters {
    face: Face<'static>,
    em: f64,
    ascii: [f64; 128],
}

impl Letters {
    fn read(bytes: &'static [u8]) -> Self {
        let face = Face::parse(bytes, 0).expect("the bundled font is sound; a test reads it");
        let em = f64::from(face.units_per_em());
        let mut letters = Self { face, em, ascii: [0.0; 128] };
        for code in 32_u8..127 {
            letters.ascii[usize::from(code)] = letters.look_up(char::from(code));
        }
        letters
    }

    fn look_up(&self, letter: char) -> f64 {
        let glyph = self.face.glyph_index(letter).unwrap_or_default();
        self.face.glyph_hor_advance(glyph).map_or(0.5, |it| f64::from(it) / self.em)
    }

    fn advance(&self, letter: char) -> f64 {
        match u8::try_from(letter) {
            Ok(code) if code.is_ascii() => self.ascii[usize::from(code)],
            _ => self.look_up(letter),
        }
    }
}

impl Lettering {
    /// The letters that come with Shankline: part of the program, and measured once.
    pub(super) fn bundled() -> &'static Self {
        static BUNDLED: LazyLock<Lettering> = LazyLock::new(|| Lettering {
            regular: Letters::read(file(false)),
            bold: Letters::read(file(true)),
        });
        &BUNDLED
    }

    /// How wide the words are.
    pub(super) fn width_mm(&self, words: &str, size_mm: f64, bold: bool) -> f64 {
        let letters = if bold { &self.bold } else { &self.regular };
        words.chars().map(|it| letters.advance(it)).sum::<f64>() * size_mm
    }

    /// The words, or as much of their beginning as fits with an ellipsis; `None` when not even
    /// three letters would stay.
    pub(super) fn shortened(&self, words: &str, size_mm: f64, bold: bool, width_mm: f64) -> Option<String> {
        if self.width_mm(words, size_mm, bold) <= width_mm {
            return Some(words.to_owned());
        }
        let mut left = width_mm - self.width_mm(&ELLIPSIS.to_string(), size_mm, bold);
        let letters = if bold { &self.bold } else { &self.regular };
        let mut kept = String::new();
        for letter in words.chars() {
            left -= letters.advance(letter) * size_mm;
            if left < 0.0 {
                break;
            }
            kept.push(letter);
        }
        let kept = kept.trim_end();
        (3 <= kept.chars().count()).then(|| format!("{kept}{ELLIPSIS}"))
    }

    /// The words broken into lines no wider than this; a word too long for a line is broken itself.
    pub(super) fn wrapped(&self, words: &str, size_mm: f64, width_mm: f64) -> Vec<String> {
        self.wrapped_after(0.0, words, size_mm, width_mm)
    }

    /// The same where the first line begins after so many millimetres.
    pub(super) fn wrapped_after(
        &self,
        first_mm: f64,
        words: &str,
        size_mm: f64,
        width_mm: f64,
    ) -> Vec<String> {
        let mut lines = Vec::new();
        let mut line = String::new();
        let width = |words: &str| self.width_mm(words, size_mm, false);
        let room = |lines: &[String]| if lines.is_empty() { width_mm - first_mm } else { width_mm };
        for word in unbroken(words) {
            let longer = if line.is_empty() { word.to_owned() } else { format!("{line} {word}") };
            if width(&longer) <= room(&lines) {
                line = longer;
                continue;
            }
            if !line.is_empty() {
                lines.push(std::mem::take(&mut line));
            }
            for letter in word.chars() {
                line.push(letter);
                if room(&lines) < width(&line) && 1 < line.chars().count() {
                    line.pop();
                    lines.push(std::mem::take(&mut line));
                    line.push(letter);
                }
            }
        }
        if !line.is_empty() {
            lines.push(line);
        }
        lines
    }

    /// The upright box around a line of text, descenders included; `None` for a path.
    pub(super) fn bounds(&self, shape: &Shape) -> Option<Rect> {
        let Shape::Text { at, words, size_mm, anchor, turn_deg, bold, .. } = shape else { return None };
        let width = self.width_mm(words, *size_mm, *bold);
        let left = match anchor {
            Anchor::Start => 0.0,
            Anchor::Middle => -width / 2.0,
            Anchor::End => -width,
        };
        let flat = Rect::new(left, -CAPITAL * size_mm, left + width, DESCENDER * size_mm);
        Some(turned_box(*at, flat, *turn_deg))
    }
}

/// The words of a text, a number with its fraction and its unit as one: `1 1/2"` is not broken into two lines, of which
/// the first would read as another length.
fn unbroken(words: &str) -> impl Iterator<Item = &str> {
    let mut pieces: Vec<(usize, usize)> = Vec::new();
    for word in words.split_whitespace() {
        // Every word lies in the text that it is split from.
        let from = word.as_ptr().addr() - words.as_ptr().addr();
        let to = from + word.len();
        match pieces.last_mut() {
            Some(last) if goes_on(&words[last.0..last.1], word) => last.1 = to,
            Some(_) | None => pieces.push((from, to)),
        }
    }
    pieces.into_iter().map(|it| &words[it.0..it.1])
}

/// Whether a word belongs to the number before it.
fn goes_on(number: &str, word: &str) -> bool {
    if !number.ends_with(|it: char| it.is_ascii_digit()) {
        return false;
    }
    let bare = word.trim_end_matches([',', ';', '.', ')', ':']);
    let is_fraction = bare.starts_with(|it: char| it.is_ascii_digit()) && bare.contains('/');
    is_fraction || matches!(bare, "mm" | "in" | "lb" | "N" | "kN" | "D" | "d")
}

/// The upright box around a box that is given from the beginning of a base line and turned with it.
pub(super) fn turned_box(at: Point, flat: Rect, turn_deg: f64) -> Rect {
    let turned = Affine::rotate(-turn_deg.to_radians()).then_translate(Vec2::new(at.x, at.y));
    turned.transform_rect_bbox(flat)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_number_is_not_broken_from_its_fraction_or_its_unit() {
        let broken = |words: &str| unbroken(words).map(str::to_owned).collect::<Vec<_>>();
        assert_eq!(
            broken("needs 1 1/2\" or 38 mm, of 4 D"),
            ["needs", "1 1/2\"", "or", "38 mm,", "of", "4 D"]
        );
        assert_eq!(broken("No. 1 to 3 of  rim"), ["No.", "1", "to", "3", "of", "rim"]);
        assert_eq!(broken("3'-2 1/4\" long"), ["3'-2 1/4\"", "long"]);
    }

    #[test]
    fn the_bundled_letters_can_be_read_and_their_capitals_are_as_high_as_assumed() {
        let lettering = Lettering::bundled();
        for letters in [&lettering.regular, &lettering.bold] {
            let capital = f64::from(letters.face.capital_height().unwrap()) / letters.em;
            assert!((capital - CAPITAL).abs() < 0.001, "{capital}");
        }
        assert!(lettering.width_mm("member", 1.0, false) < lettering.width_mm("member", 1.0, true));
    }

    #[test]
    fn figures_are_all_equally_wide_so_that_columns_stand() {
        let lettering = Lettering::bundled();
        let one = lettering.width_mm("1", 10.0, false);
        for figure in "0234567890".chars() {
            assert!((lettering.width_mm(&figure.to_string(), 10.0, false) - one).abs() < 1e-9);
        }
    }

    #[test]
    fn words_that_do_not_fit_are_shortened_or_left_out_but_never_cut() {
        let lettering = Lettering::bundled();
        let wide = lettering.width_mm("laminated strand rim", 3.0, false);
        let fits = |width| lettering.shortened("laminated strand rim", 3.0, false, width);
        assert_eq!(fits(wide).as_deref(), Some("laminated strand rim"));
        let short = fits(wide * 0.6).unwrap();
        assert!(short.ends_with(ELLIPSIS) && lettering.width_mm(&short, 3.0, false) <= wide * 0.6, "{short}");
        assert_eq!(fits(4.0), None);
    }

    #[test]
    fn wrapped_lines_keep_every_letter_and_fit() {
        let lettering = Lettering::bundled();
        let words =
            "The point comes out of the rim by 7/8\", and Donaudampfschifffahrtsgesellschaft is long.";
        let lines = lettering.wrapped(words, 3.5, 30.0);
        assert!(lines.iter().all(|it| lettering.width_mm(it, 3.5, false) <= 30.0), "{lines:?}");
        let joined: String = lines.concat().split_whitespace().collect();
        assert_eq!(joined, words.split_whitespace().collect::<String>());
    }
}
