//! Paints drawings as SVG, and PDF and PNG from that SVG. Knows only `unit` and `drawing`: no joint, no trace.
//!
//! The same drawing gives the same bytes on every run and every machine.

mod font;
mod outline;
mod pdf;
mod png;
mod read;
mod svg;

use crate::drawing::Drawing;

/// How letters are told in SVG.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Letters {
    /// As text with the bundled font in the file, as much of it as is used.
    #[default]
    Embedded,
    /// As text that names its font and leaves it to whoever shows the file.
    Named,
    /// As outlines, so that they look alike everywhere; the words stay as titles.
    Outlines,
}

/// A format of files.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Format {
    /// Scalable Vector Graphics, a file for each page.
    #[default]
    Svg,
    /// Portable Document Format, all pages in one file.
    Pdf,
    /// Portable Network Graphics, a file for each page.
    Png,
}

/// How drawings are written.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Options {
    /// How letters are told in SVG.
    pub letters: Letters,
    /// Dots to the inch of a PNG.
    pub dots_per_inch: f64,
}

impl Default for Options {
    fn default() -> Self {
        Self { letters: Letters::Embedded, dots_per_inch: 300.0 }
    }
}

/// Why a drawing cannot be painted.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum PaintError {
    /// A PNG of this resolution would be larger than any program opens.
    #[error("a PNG of {width} by {height} dots is too large: take at most {most} dots to the inch")]
    TooLarge {
        /// Dots across.
        width: f64,
        /// Dots down.
        height: f64,
        /// The most dots to the inch for this paper.
        most: f64,
    },
    /// The drawing could not be put into the format.
    #[error("the {0} could not be made: {1}")]
    Failed(&'static str, String),
}

impl Format {
    /// Every format, in the order of the lists.
    pub const ALL: [Self; 3] = [Self::Svg, Self::Pdf, Self::Png];

    /// The ending of its files, and its word on the command line.
    #[must_use]
    pub fn ending(self) -> &'static str {
        match self {
            Self::Svg => "svg",
            Self::Pdf => "pdf",
            Self::Png => "png",
        }
    }

    /// The format that a file's ending names, in any case of its letters.
    #[must_use]
    pub fn of(path: &std::path::Path) -> Option<Self> {
        let ending = path.extension()?.to_str()?.to_lowercase();
        Self::ALL.into_iter().find(|it| it.ending() == ending)
    }
}

/// The drawing as an SVG document with true millimetres that names its font.
#[must_use]
pub fn svg(drawing: &Drawing) -> String {
    svg::document(drawing, Letters::Named)
}

/// The drawing as an SVG document with true millimetres and its letters as asked.
#[must_use]
pub fn svg_with(drawing: &Drawing, letters: Letters) -> String {
    svg::document(drawing, letters)
}

/// The drawing as a picture of so many dots to the inch, true to size by what it says of itself.
///
/// # Errors
/// When it would be too large.
pub fn png(drawing: &Drawing, dots_per_inch: f64) -> Result<Vec<u8>, PaintError> {
    png::picture(drawing, dots_per_inch)
}

/// The drawings as one PDF, a page for each, with the bundled font in it as far as it is used.
///
/// # Errors
/// When a page of it cannot be read back; no drawing of ours does that.
pub fn pdf(drawings: &[Drawing]) -> Result<Vec<u8>, PaintError> {
    pdf::document(drawings)
}

/// What is to be written for these pages: one content for each file, in the order of the pages.
///
/// # Errors
/// When a picture would be too large.
pub fn files(pages: &[Drawing], format: Format, options: Options) -> Result<Vec<Vec<u8>>, PaintError> {
    match format {
        Format::Svg => Ok(pages.iter().map(|it| svg_with(it, options.letters).into_bytes()).collect()),
        Format::Png => pages.iter().map(|it| png(it, options.dots_per_inch)).collect(),
        Format::Pdf => Ok(vec![pdf(pages)?]),
    }
}
