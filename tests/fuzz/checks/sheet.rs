//! What must hold of the sheets of any joint.

use shankline::drawing::{self, Drawing, Inputs};
use shankline::findings::Findings;
use shankline::joint::Joint;
use shankline::paint::{self, Letters};
use shankline::trace::Trace;

/// All that an SVG of ours is made of. None of them acts, links or fetches.
const ELEMENTS: [&str; 9] = ["svg", "title", "desc", "defs", "style", "g", "path", "rect", "text"];

/// The attributes of those. None of them can hold a script or an address.
const ATTRIBUTES: [&str; 22] = [
    "width",
    "height",
    "viewBox",
    "role",
    "aria-labelledby",
    "id",
    "x",
    "y",
    "d",
    "fill",
    "fill-rule",
    "stroke",
    "stroke-width",
    "font-family",
    "font-size",
    "font-weight",
    "text-anchor",
    "transform",
    "version",
    "xmlns",
    "stroke-dasharray",
    "letter-spacing",
];

pub(super) fn check(joint: &Joint, trace: &Trace, findings: &Findings) {
    let inputs = Inputs { joint, trace, findings };
    let pages = drawing::pages(&inputs);
    assert!(!pages.is_empty(), "no page");
    let plain = |it: &Drawing| paint::svg_with(it, Letters::Named);
    for page in &pages {
        let svg = plain(page);
        harmless(&svg);
        assert!(!svg.contains("NaN"), "a number is none");
    }
    // Letters take the longest, and are the same on every page.
    harmless(&paint::svg(&pages[0]));
    harmless(&paint::svg_with(&pages[0], Letters::Outlines));
    let again = drawing::pages(&inputs);
    assert!(pages.iter().map(plain).eq(again.iter().map(plain)), "drawn again it is another");
    let pdf = paint::pdf(&pages[..1]).expect("what is drawn can be printed");
    assert!(pdf.starts_with(b"%PDF-"));
    no_action(&pdf, &pages);
}

/// The text is XML of the few elements that only show, and no word of the joint became one.
fn harmless(svg: &str) {
    let tree = match roxmltree::Document::parse(svg) {
        Ok(it) => it,
        Err(why) => panic!("no XML: {why}\n{svg}"),
    };
    for node in tree.descendants() {
        assert!(!node.is_pi() && !node.is_comment(), "an instruction or a comment:\n{svg}");
        if !node.is_element() {
            continue;
        }
        assert!(ELEMENTS.contains(&node.tag_name().name()), "<{}> in\n{svg}", node.tag_name().name());
        for it in node.attributes() {
            assert!(ATTRIBUTES.contains(&it.name()), "the attribute {} in\n{svg}", it.name());
        }
        if node.tag_name().name() == "style" {
            let rules = node.text().unwrap_or("");
            let is_face = rules.is_empty() || rules.trim_start().starts_with("@font-face");
            assert!(is_face && !rules.contains("http") && !rules.contains("@import"), "{rules}");
        }
    }
}

/// A PDF of ours has no link, no script and no embedded file.
fn no_action(pdf: &[u8], pages: &[Drawing]) {
    for name in ["/JavaScript", "/JS", "/URI", "/Launch", "/EmbeddedFile", "/OpenAction", "/Annots"] {
        // Compressed streams are bytes of any kind, so only a name with its end counts.
        let is_there = pdf
            .windows(name.len() + 1)
            .any(|it| &it[..name.len()] == name.as_bytes() && b" /<([".contains(&it[name.len()]));
        assert!(!is_there, "{name} in a PDF of {} pages", pages.len());
    }
}
