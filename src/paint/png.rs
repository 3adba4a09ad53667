//! A drawing as a picture, painted from its SVG with the letters as outlines.

use resvg::tiny_skia::{Pixmap, Transform};
use resvg::usvg::{Options, Tree};

use super::{Letters, PaintError, svg};
use crate::drawing::Drawing;
use crate::unit::length::MM_PER_INCH;

/// The most dots of a picture: 400 megabytes while it is painted.
const MOST_DOTS: f64 = 1e8;

/// Dots to the inch of CSS, in which the SVG library counts.
const CSS_PER_INCH: f64 = 96.0;

pub(super) fn picture(drawing: &Drawing, dots_per_inch: f64) -> Result<Vec<u8>, PaintError> {
    let failed = |why: &dyn std::fmt::Display| PaintError::Failed("PNG", why.to_string());
    if !(dots_per_inch.is_finite() && 0.0 < dots_per_inch) {
        return Err(failed(&"there must be some dots to the inch"));
    }
    let dots = |mm: f64| (mm / MM_PER_INCH * dots_per_inch).round().max(1.0);
    let (width, height) = (dots(drawing.size_mm.0), dots(drawing.size_mm.1));
    if MOST_DOTS < width * height {
        let inches = drawing.size_mm.0 * drawing.size_mm.1 / (MM_PER_INCH * MM_PER_INCH);
        return Err(PaintError::TooLarge { width, height, most: (MOST_DOTS / inches).sqrt().floor() });
    }
    let text = svg::document(drawing, Letters::Outlines);
    let tree = Tree::from_str(&text, &Options::default()).map_err(|it| failed(&it))?;
    let mut pixels = Pixmap::new(whole(width), whole(height)).ok_or_else(|| failed(&"no room for it"))?;
    #[expect(clippy::cast_possible_truncation, reason = "a scale of a few units")]
    let scale = (dots_per_inch / CSS_PER_INCH) as f32;
    resvg::render(&tree, Transform::from_scale(scale, scale), &mut pixels.as_mut());
    // The paper is white and whole, so that nothing shines through.
    let colours: Vec<u8> = pixels.data().chunks_exact(4).flat_map(|it| [it[0], it[1], it[2]]).collect();
    encoded(&colours, (whole(width), whole(height)), dots_per_inch).map_err(|it| failed(&it))
}

#[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "at most the dots of a picture")]
fn whole(it: f64) -> u32 {
    it as u32
}

fn encoded(
    colours: &[u8],
    (width, height): (u32, u32),
    dots_per_inch: f64,
) -> Result<Vec<u8>, ::png::EncodingError> {
    let mut bytes = Vec::new();
    let mut encoder = ::png::Encoder::new(&mut bytes, width, height);
    encoder.set_color(::png::ColorType::Rgb);
    encoder.set_depth(::png::BitDepth::Eight);
    let per_metre = whole((dots_per_inch / MM_PER_INCH * 1000.0).round());
    let unit = ::png::Unit::Meter;
    encoder.set_pixel_dims(Some(::png::PixelDimensions { xppu: per_metre, yppu: per_metre, unit }));
    let mut writer = encoder.write_header()?;
    writer.write_image_data(colours)?;
    writer.finish()?;
    Ok(bytes)
}
