//! SVG, PDF and PNG as other programs read them.
//!
//! Tests that need a browser, librsvg or poppler step aside where these are missing, unless
//! `SHANKLINE_TOOLS_TEST=must`; `.ci/run` installs them and says so.

use std::path::{Path, PathBuf};
use std::process::Command;

use shankline::drawing::{self, Drawing};
use shankline::joint::{self, Joint, Look, Paper, SheetView};
use shankline::paint::{self, Format, Letters, Options};
use shankline::stock::Stock;
use shankline::{findings, trace};

fn sample(name: &str) -> Joint {
    let path = format!("{}/sample-projects/{name}.joint.json", env!("CARGO_MANIFEST_DIR"));
    let text = std::fs::read_to_string(path).expect("the sample is there");
    joint::file::read(&text, &Stock::built_in()).expect("it is sound")
}

fn pages(joint: &Joint) -> Vec<Drawing> {
    let trace = trace::trace(joint);
    let findings = findings::judge(joint, &trace);
    drawing::pages(&drawing::Inputs { joint, trace: &trace, findings: &findings })
}

/// The first of these programs that is there. Without one the test steps aside, or fails where it must run.
fn tool(names: &[&str]) -> Option<String> {
    let is_there = |it: &&&str| Command::new(it).arg("--version").output().is_ok();
    let found = names.iter().find(is_there).map(|it| (*it).to_owned());
    let must = std::env::var("SHANKLINE_TOOLS_TEST").is_ok_and(|it| it == "must");
    assert!(found.is_some() || !must, "none of {names:?} is installed");
    found
}

/// A file that names the bundled fonts and no others, for programs that use fontconfig.
fn font_config(folder: &Path) -> PathBuf {
    let path = folder.join("fonts.conf");
    let text = format!(
        "<?xml version=\"1.0\"?><!DOCTYPE fontconfig SYSTEM \"fonts.dtd\"><fontconfig><dir>{}/resources/fonts</dir>\
         <cachedir>{}</cachedir></fontconfig>",
        env!("CARGO_MANIFEST_DIR"),
        folder.display()
    );
    std::fs::write(&path, text).expect("it can be written");
    path
}

/// A picture as grey values from 0 to 255, row by row.
struct Grey {
    width: usize,
    height: usize,
    values: Vec<u8>,
}

fn grey(png: &[u8]) -> Grey {
    let mut decoder = png::Decoder::new(std::io::Cursor::new(png));
    decoder.set_transformations(png::Transformations::normalize_to_color8());
    let mut reader = decoder.read_info().expect("it is a PNG");
    let mut bytes = vec![0; reader.output_buffer_size().expect("it has a size")];
    let info = reader.next_frame(&mut bytes).expect("it has a picture");
    let step = info.color_type.samples();
    let whole = |it: u32| usize::try_from(it).expect("it fits");
    let luma = |it: &[u8]| match it.len() {
        1 | 2 => it[0],
        _ => {
            let sum = u32::from(it[0]) * 299 + u32::from(it[1]) * 587 + u32::from(it[2]) * 114;
            u8::try_from(sum / 1000).expect("it is a mean")
        }
    };
    let values = bytes.chunks_exact(step).take(whole(info.width) * whole(info.height)).map(luma).collect();
    Grey { width: whole(info.width), height: whole(info.height), values }
}

/// How far two pictures are apart: the mean difference of grey, and the part of all places of one of which no
/// place within a dot of the other is nearly alike.
fn apart(a: &Grey, b: &Grey) -> (f64, f64) {
    assert!(a.width.abs_diff(b.width) <= 1 && a.height.abs_diff(b.height) <= 1);
    let (width, height) = (a.width.min(b.width), a.height.min(b.height));
    let at = |it: &Grey, x: usize, y: usize| i32::from(it.values[y * it.width + x]);
    let (mut sum, mut strange) = (0_u64, 0_u32);
    for y in 1..height - 1 {
        for x in 1..width - 1 {
            let (p, q) = (at(a, x, y), at(b, x, y));
            sum += u64::from(p.abs_diff(q));
            let near = |one: &Grey, value: i32| {
                (y - 1..=y + 1).any(|v| (x - 1..=x + 1).any(|u| at(one, u, v).abs_diff(value) <= 64))
            };
            strange += u32::from(!near(b, p) || !near(a, q));
        }
    }
    let count = (width - 2) * (height - 2);
    #[expect(clippy::cast_precision_loss, reason = "sums of a picture are small enough")]
    let parts = (sum as f64 / count as f64, f64::from(strange) / count as f64);
    parts
}

/// All pages that are compared: every sample's first page, and one with all views.
fn compared() -> Vec<(String, Drawing)> {
    let names = ["heron-lane-ledger", "ferry-yard-splice", "quay-house-sill"];
    let mut all: Vec<(String, Drawing)> =
        names.iter().map(|it| ((*it).to_owned(), pages(&sample(it)).swap_remove(0))).collect();
    let mut joint = sample("alder-court-hanger");
    let view = |look, cut_mm| SheetView { look, cut_mm };
    joint.sheet.views = vec![view(Look::Front, None), view(Look::Side, None), view(Look::Top, Some(100.0))];
    all.push(("alder-court-hanger views".to_owned(), pages(&joint).swap_remove(0)));
    all
}

const DPI: f64 = 96.0;

/// Between two renderers of antialiased lines and letters, on a whole page that may be full of small letters.
const MOST_MEAN: f64 = 4.0;
const MOST_STRANGE: f64 = 0.003;

#[test]
fn librsvg_paints_what_we_paint() {
    let Some(rsvg) = tool(&["rsvg-convert"]) else { return };
    let folder = tempfile::tempdir().expect("a temporary folder");
    let config = font_config(folder.path());
    for (name, page) in compared() {
        let ours = grey(&paint::png(&page, DPI).expect("it is small"));
        for letters in [Letters::Embedded, Letters::Outlines] {
            let svg = folder.path().join("page.svg");
            std::fs::write(&svg, paint::svg_with(&page, letters)).expect("it can be written");
            let output = Command::new(&rsvg)
                .env("FONTCONFIG_FILE", &config)
                .args(["--dpi-x", "96", "--dpi-y", "96"])
                .arg(&svg)
                .output()
                .expect("it runs");
            assert!(output.status.success(), "{}", String::from_utf8_lossy(&output.stderr));
            let (mean, strange) = apart(&ours, &grey(&output.stdout));
            assert!(mean < MOST_MEAN && strange < MOST_STRANGE, "{name} {letters:?}: {mean} {strange}");
        }
    }
}

#[test]
fn a_browser_paints_what_we_paint_with_the_font_that_is_in_the_file() {
    let Some(browser) = tool(&["chromium", "chromium-browser"]) else { return };
    let folder = tempfile::tempdir().expect("a temporary folder");
    for (name, page) in compared() {
        let ours = grey(&paint::png(&page, DPI).expect("it is small"));
        let (svg, png) = (folder.path().join("page.svg"), folder.path().join("page.png"));
        std::fs::write(&svg, paint::svg_with(&page, Letters::Embedded)).expect("it can be written");
        let output = Command::new(&browser)
            .args(["--headless", "--no-sandbox", "--disable-gpu", "--hide-scrollbars"])
            .arg("--force-device-scale-factor=1")
            .arg(format!("--user-data-dir={}", folder.path().join("profile").display()))
            .arg(format!("--window-size={},{}", ours.width, ours.height))
            .arg(format!("--screenshot={}", png.display()))
            .arg(format!("file://{}", svg.display()))
            .output()
            .expect("it runs");
        let picture = std::fs::read(&png)
            .unwrap_or_else(|why| panic!("{why}: {}", String::from_utf8_lossy(&output.stderr)));
        let (mean, strange) = apart(&ours, &grey(&picture));
        assert!(mean < MOST_MEAN && strange < MOST_STRANGE, "{name}: {mean} {strange}");
    }
}

#[test]
fn poppler_shows_the_pages_and_reads_the_words_of_a_pdf() {
    let Some(to_text) = tool(&["pdftotext"]) else { return };
    let Some(to_picture) = tool(&["pdftoppm"]) else { return };
    let folder = tempfile::tempdir().expect("a temporary folder");
    let mut joint = sample("heron-lane-ledger");
    joint.title = "Überlänge </text><script> 1 1/2\" × 9".to_owned();
    let pages = pages(&joint);
    let path = folder.path().join("sheet.pdf");
    std::fs::write(&path, paint::pdf(&pages).expect("it can be made")).expect("it can be written");
    let text = Command::new(to_text).arg("-layout").arg(&path).arg("-").output().expect("it runs");
    let text = String::from_utf8_lossy(&text.stdout).into_owned();
    for words in [
        "Überlänge </text><script> 1 1/2\" × 9",
        "CHECK ON SITE",
        "FASTENERS",
        "stands 3/8\" out",
        "rim 1 1/8\"",
    ] {
        assert!(text.contains(words), "{words} in {text}");
    }
    assert_eq!(text.matches('\u{c}').count(), pages.len(), "a page for each sheet");
    for (n, page) in pages.iter().enumerate() {
        let ours = grey(&paint::png(page, DPI).expect("it is small"));
        let number = (n + 1).to_string();
        let output = Command::new(&to_picture)
            .args(["-r", "96", "-png", "-f", &number, "-l", &number])
            .arg(&path)
            .output()
            .expect("it runs");
        let (mean, strange) = apart(&ours, &grey(&output.stdout));
        // Poppler draws thin lines on whole dots, up to half a dot aside.
        assert!(mean < 5.0 && strange < 0.02, "page {number}: {mean} {strange}");
    }
}

#[test]
fn a_pdf_has_its_fonts_in_it_and_true_page_sizes() {
    let mut joint = sample("osier-lane-strap");
    joint.sheet.paper = Some(Paper::A3);
    let pages = pages(&joint);
    let pdf = paint::pdf(&pages).expect("it can be made");
    let text = String::from_utf8_lossy(&pdf);
    // 420 mm by 297 mm in points of 1/72 inch.
    assert!(text.contains("/MediaBox [0 0 1190.5511 841.88"), "{}", &text[..600]);
    assert_eq!(text.matches("/FontFile2").count(), 2, "regular and bold");
    assert!(text.contains("/PrintScaling /None") && text.contains("/ToUnicode"));
    assert_eq!(pdf, paint::pdf(&pages).expect("it can be made"), "the same bytes");
    assert!(!text.contains("CreationDate"));
}

#[test]
fn a_picture_is_as_large_as_its_paper_at_its_resolution_and_says_so() {
    let page = pages(&sample("osier-lane-strap")).swap_remove(0);
    for dpi in [72.0, 150.0] {
        let bytes = paint::png(&page, dpi).expect("it is small");
        let reader = png::Decoder::new(std::io::Cursor::new(&bytes)).read_info().expect("it is a PNG");
        let info = reader.info();
        let dots = |mm: f64| (mm / 25.4 * dpi).round();
        assert_eq!(f64::from(info.width), dots(page.size_mm.0));
        assert_eq!(f64::from(info.height), dots(page.size_mm.1));
        let per_metre = info.pixel_dims.expect("it says its resolution").xppu;
        assert!((f64::from(per_metre) - dpi / 0.0254).abs() <= 0.5);
    }
    assert!(paint::png(&page, 1e6).is_err_and(|it| it.to_string().contains("too large")));
    assert!(paint::png(&page, f64::NAN).is_err());
}

#[test]
fn letters_in_a_picture_have_the_size_that_the_sheet_asks_for() {
    // The scale bar of 1:2 in inches: the first part of four black and white ones is one inch of model, 12.7 mm.
    let page = pages(&sample("heron-lane-ledger")).swap_remove(0);
    let dpi = 254.0;
    let picture = grey(&paint::png(&page, dpi).expect("it is small"));
    let bar = page
        .items
        .iter()
        .filter_map(|it| match &it.shape {
            drawing::Shape::Path {
                path,
                fill: Some(drawing::Fill::Shank),
                line: Some(drawing::Line::Rule),
            } => Some(kurbo::Shape::bounding_box(path)),
            _ => None,
        })
        .next()
        .expect("there is a scale bar");
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a place in the picture")]
    let (row, from) = ((bar.center().y * 10.0) as usize, (bar.center().x * 10.0) as usize);
    let dark = |x: usize| picture.values[row * picture.width + x] < 128;
    let right = (from..picture.width).find(|it| !dark(*it)).expect("it ends");
    let left = (0..from).rev().find(|it| !dark(*it)).expect("it begins");
    let width = right - left - 1;
    // 127 dots and the line round it.
    assert!((127..=130).contains(&width), "{width}");
}

#[test]
fn a_dimension_read_back_is_the_models_at_the_scale_of_the_sheet() {
    for (name, scale) in [("heron-lane-ledger", 2.0), ("weir-gate-post", 5.0), ("kiln-house-stud", 10.0)] {
        let mut joint = sample(name);
        joint.sheet.scale = Some(scale);
        let trace = trace::trace(&joint);
        let page = pages(&joint).swap_remove(0);
        let svg = paint::svg_with(&page, Letters::Embedded);
        let document = roxmltree::Document::parse(&svg).expect("it is XML");
        let members = document
            .descendants()
            .find(|it| it.attribute("id") == Some("layer-members"))
            .expect("members are a group of their own");
        let drawn: Vec<kurbo::Rect> = members
            .descendants()
            .filter_map(|it| it.attribute("d"))
            .map(|it| kurbo::Shape::bounding_box(&kurbo::BezPath::from_svg(it).expect("path data")))
            .collect();
        for body in &trace.bodies {
            let trace::Owner::Member(_) = body.owner else { continue };
            let true_size = body.region.bounds();
            let is_it = |it: &kurbo::Rect| {
                (it.width() * scale - true_size.width()).abs() < 0.01
                    && (it.height() * scale - true_size.height()).abs() < 0.01
            };
            assert!(drawn.iter().any(is_it), "{name}: {true_size:?} at 1:{scale} in {drawn:?}");
        }
    }
}

#[test]
fn the_font_in_an_svg_is_a_small_one_with_every_letter_that_is_used() {
    let mut joint = sample("heron-lane-ledger");
    joint.title = "Grüße </style><script>".to_owned();
    let svg = paint::svg_with(&pages(&joint)[0], Letters::Embedded);
    assert!(!svg.contains("<script"), "words are words");
    let document = roxmltree::Document::parse(&svg).expect("it is XML");
    let style =
        document.descendants().find(|it| it.has_tag_name("style")).and_then(|it| it.text()).expect("a rule");
    let faces: Vec<Vec<u8>> = style
        .split("base64,")
        .skip(1)
        .map(|it| {
            use base64::Engine as _;
            let data = it.split(')').next().expect("it ends");
            base64::engine::general_purpose::STANDARD.decode(data).expect("base64")
        })
        .collect();
    assert_eq!(faces.len(), 2);
    for text in document.descendants().filter(|it| it.has_tag_name("text")) {
        let face = &faces[usize::from(text.attribute("font-weight").is_some())];
        let face = ttf_parser::Face::parse(face, 0).expect("a font");
        for letter in text.text().expect("words").trim_matches('\n').chars() {
            assert!(face.glyph_index(letter).is_some(), "{letter:?}");
        }
    }
    assert!(faces.iter().all(|it| it.len() < 40_000));
}

#[test]
fn every_format_has_the_same_bytes_on_every_run() {
    let joint = sample("weir-gate-post");
    for format in Format::ALL {
        let options = Options { dots_per_inch: 60.0, ..Options::default() };
        let make = || paint::files(&pages(&joint), format, options).expect("it can be made");
        assert_eq!(make(), make(), "{format:?}");
    }
}
