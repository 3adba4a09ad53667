//! How long a hundred sheets take in each format, and how much memory.
//!
//! `cargo bench --bench sheets` draws the sample joints over and over until a hundred sheets are made: from the
//! joint to its pages, and from the pages to the bytes of SVG, PDF and PNG.

#![expect(clippy::print_stdout, reason = "a benchmark tells its figures")]

use std::time::Instant;

use shankline::drawing::{self, Drawing};
use shankline::joint::{self, Joint};
use shankline::paint::{self, Format, Options};
use shankline::stock::Stock;
use shankline::{findings, trace};

/// So many sheets are made in each format.
const SHEETS: usize = 100;

fn main() {
    // Without `--bench` this is a trial run of `cargo test`, which measures nothing.
    if !std::env::args().any(|it| it == "--bench") {
        return;
    }
    let joints = samples();
    let began = Instant::now();
    let mut pages: Vec<Drawing> = Vec::new();
    let mut count = 0;
    while count < SHEETS {
        for joint in &joints {
            let made = sheets(joint);
            count += made.len();
            if pages.len() < SHEETS {
                pages.extend(made);
            }
        }
    }
    pages.truncate(SHEETS);
    println!("joint to pages: {:.2} ms a sheet, peak {:.0} MB", ms(began) / as_f64(count), peak_mb());
    for format in Format::ALL {
        let began = Instant::now();
        let mut bytes = 0;
        for page in &pages {
            let files = paint::files(std::slice::from_ref(page), format, Options::default());
            bytes += files.map_or(0, |it| it.iter().map(Vec::len).sum::<usize>());
        }
        let (each, size) = (ms(began) / as_f64(SHEETS), as_f64(bytes) / as_f64(SHEETS) / 1024.0);
        println!(
            "pages to {}: {each:.2} ms and {size:.0} kB a sheet, peak {:.0} MB",
            format.ending(),
            peak_mb()
        );
    }
    let began = Instant::now();
    let whole = paint::pdf(&pages).map_or(0, |it| it.len());
    println!(
        "one PDF of {SHEETS} sheets: {:.0} ms, {} kB, peak {:.0} MB",
        ms(began),
        whole / 1024,
        peak_mb()
    );
}

fn samples() -> Vec<Joint> {
    let stock = Stock::built_in();
    let folder = concat!(env!("CARGO_MANIFEST_DIR"), "/sample-projects");
    let mut paths: Vec<_> =
        std::fs::read_dir(folder).into_iter().flatten().flatten().map(|it| it.path()).collect();
    paths.sort();
    let read = |it: std::path::PathBuf| joint::file::read(&std::fs::read_to_string(it).ok()?, &stock).ok();
    paths.into_iter().filter_map(read).collect()
}

fn sheets(joint: &Joint) -> Vec<Drawing> {
    let trace = trace::trace(joint);
    let findings = findings::judge(joint, &trace);
    drawing::pages(&drawing::Inputs { joint, trace: &trace, findings: &findings })
}

fn ms(began: Instant) -> f64 {
    began.elapsed().as_secs_f64() * 1e3
}

fn as_f64(it: usize) -> f64 {
    f64::from(u32::try_from(it).unwrap_or(u32::MAX))
}

/// The most memory that this process has had.
fn peak_mb() -> f64 {
    let text = std::fs::read_to_string("/proc/self/status").unwrap_or_default();
    let line = text.lines().find_map(|it| it.strip_prefix("VmHWM:")).unwrap_or("0 kB");
    line.trim().trim_end_matches(" kB").parse::<f64>().unwrap_or(0.0) / 1024.0
}
