//! The sheets of the sample joints, page by page.

use std::path::Path;

use shankline::drawing::{self, Drawing, Shape};
use shankline::joint::{self, Joint};
use shankline::stock::Stock;
use shankline::{findings, paint, trace};

/// Every sample joint with its name.
pub(super) fn joints() -> Vec<(String, Joint)> {
    let stock = Stock::built_in();
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("sample-projects");
    let mut paths: Vec<_> = std::fs::read_dir(folder)
        .expect("there are samples")
        .map(|it| it.expect("it is read").path())
        .collect();
    paths.retain(|it| it.to_string_lossy().ends_with(".joint.json"));
    paths.sort();
    let read = |path: std::path::PathBuf| {
        let text = std::fs::read_to_string(&path).expect("the sample is there");
        let name = path.file_name().expect("it has a name").to_string_lossy().replace(".joint.json", "");
        (name, joint::file::read(&text, &stock).expect("it is sound"))
    };
    paths.into_iter().map(read).collect()
}

/// The pages of a joint.
pub(super) fn pages(joint: &Joint) -> Vec<Drawing> {
    let trace = trace::trace(joint);
    let findings = findings::judge(joint, &trace);
    drawing::pages(&drawing::Inputs { joint, trace: &trace, findings: &findings })
}

fn words(page: &Drawing) -> Vec<String> {
    let of = |it: &drawing::Item| match &it.shape {
        Shape::Text { words, .. } => Some(words.clone()),
        Shape::Path { .. } => None,
    };
    page.items.iter().filter_map(of).collect()
}

#[test]
fn every_sample_has_its_lists_and_every_fastener_is_in_them() {
    for (name, joint) in joints() {
        let pages = pages(&joint);
        let all: Vec<String> = pages.iter().flat_map(words).collect();
        for heading in ["FASTENERS", "CORE", "CHECK ON SITE", "Before work", "While driving", "NOT CHECKED"] {
            assert!(all.iter().any(|it| it == heading), "{name}: {heading}");
        }
        let count = joint.fasteners.len();
        let whole = all.join(" ");
        assert!(whole.contains(&format!("{count} fasteners in all")), "{name}");
        for never in ["safe", "approved by", "…\""] {
            assert!(!whole.contains(never), "{name}: {never}");
        }
        if let Ok(folder) = std::env::var("LOOK_DIR") {
            for (n, page) in pages.iter().enumerate() {
                std::fs::write(format!("{folder}/sheet-{name}-{}.svg", n + 1), paint::svg(page))
                    .expect("it can be written");
            }
        }
    }
}
