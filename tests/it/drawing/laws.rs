//! What every page owes its reader, read back from the SVG.

use std::sync::Arc;

use shankline::drawing::{self, Drawing};
use shankline::paint;
use usvg::{Node, Options, Rect, Tree};

use super::sample::{self, Sample};

fn all() -> Vec<(&'static str, Sample)> {
    vec![
        ("ledger", sample::ledger()),
        ("yard", sample::yard()),
        ("splice", sample::splice()),
        ("row", sample::row_of(40)),
        ("empty", Sample::default()),
    ]
}

/// The page parsed by a general-purpose library, with the bundled letters and no others.
fn parse(svg: &str) -> Tree {
    let mut options = Options { font_family: "Roboto".to_owned(), ..Options::default() };
    let fonts = Arc::make_mut(&mut options.fontdb);
    for name in ["Roboto-Regular.ttf", "Roboto-Bold.ttf"] {
        let path = format!("{}/resources/fonts/{name}", env!("CARGO_MANIFEST_DIR"));
        fonts.load_font_file(path).expect("the bundled font can be read");
    }
    Tree::from_str(svg, &options).expect("the page is sound SVG")
}

/// Every line of text with its box.
fn texts(tree: &Tree) -> Vec<(String, Rect)> {
    fn collect(group: &usvg::Group, into: &mut Vec<(String, Rect)>) {
        for node in group.children() {
            match node {
                Node::Group(inner) => collect(inner, into),
                Node::Text(text) => {
                    let words = text.chunks().iter().map(usvg::TextChunk::text).collect();
                    into.push((words, text.abs_bounding_box()));
                }
                Node::Path(_) | Node::Image(_) => {}
            }
        }
    }
    let mut found = Vec::new();
    collect(tree.root(), &mut found);
    found
}

fn page(sample: &Sample) -> Drawing {
    drawing::sheet(&sample.inputs())
}

#[test]
fn no_two_labels_overlap_and_none_leaves_the_page() {
    for (name, sample) in all() {
        let drawing = page(&sample);
        let svg = paint::svg(&drawing);
        if let Ok(folder) = std::env::var("LOOK_DIR") {
            std::fs::write(format!("{folder}/{name}.svg"), &svg).expect("it can be written");
        }
        let tree = parse(&svg);
        let found = texts(&tree);
        assert!(8 < found.len(), "{name} has words");
        for (n, (words, a)) in found.iter().enumerate() {
            assert!(0.0 <= a.left() && 0.0 <= a.top(), "{name}: {words}");
            assert!(
                a.right() <= tree.size().width() && a.bottom() <= tree.size().height(),
                "{name}: {words}"
            );
            for (other, b) in &found[n + 1..] {
                let apart = a.right() <= b.left()
                    || b.right() <= a.left()
                    || a.bottom() <= b.top()
                    || b.bottom() <= a.top();
                assert!(apart, "{name}: `{words}` lies on `{other}`");
            }
        }
    }
}
