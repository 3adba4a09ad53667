//! How long the trace and the whole chain take, beside the same work by general-purpose libraries.
//!
//! `cargo bench --bench chain` prints the bars first: processor time per fastener (medians, so that
//! other programs on the machine count little), the ratio to `geo`, the growth from 1,000 to 50,000
//! fasteners and the peak of memory. Then divan measures the parts.

#![expect(clippy::print_stdout, reason = "a benchmark tells its figures")]

mod by_geo;
mod panel;
mod sketch;
mod wall;

use std::hint::black_box;

use shankline::drawing::{self, View};
use shankline::findings::{self, Findings};
use shankline::joint::{Duration, Joint, Load};
use shankline::trace::{Trace, trace};
use shankline::unit::Vec3;
use wall::{LARGE, MEDIUM, SMALL, Size, TWO_HUNDRED, wall};

fn main() {
    // Without `--bench` this is a trial run of `cargo test`, which measures nothing.
    if std::env::args().any(|it| it == "--bench") {
        report();
    }
    divan::main();
}

/// From a joint to its display list, at 1:5.
fn chain(joint: &Joint) -> usize {
    let traced = trace(joint);
    let found = findings::judge(joint, &traced);
    draw(joint, &traced, &found)
}

fn draw(joint: &Joint, traced: &Trace, found: &Findings) -> usize {
    let inputs = drawing::Inputs { joint, trace: traced, findings: found };
    let view = View { scale: 0.2, origin: kurbo::Point::new(100.0, 200.0) };
    drawing::front(&inputs, &view).len()
}

/// The wall with a load of known size on every panel, so that half of its fasteners are held against it.
fn loaded(size: Size) -> Joint {
    let mut joint = wall(size);
    let panels = joint.members.iter().filter(|it| it.id.starts_with("panel-"));
    let load = |on: &str| Load {
        on: on.to_owned(),
        toward: Vec3::new(0.0, -1.0, 0.0),
        newtons: Some(5_000.0),
        duration: Duration::TenYears,
    };
    joint.loads = panels.map(|it| load(&it.id)).collect();
    joint
}

/// Nanoseconds that this thread was on a processor.
fn on_processor() -> u64 {
    let text = std::fs::read_to_string("/proc/thread-self/schedstat").unwrap_or_default();
    text.split(' ').next().and_then(|it| it.parse().ok()).unwrap_or(0)
}

/// Median processor time of one call, in nanoseconds.
///
/// The kernel counts in steps of some milliseconds, so each round calls so often that it takes 200 of them.
fn median_ns<T>(rounds: usize, mut call: impl FnMut() -> T) -> f64 {
    let mut calls = 1_u32;
    let mut round = || {
        let begun = on_processor();
        for _ in 0..calls {
            black_box(call());
        }
        let micros = u32::try_from((on_processor() - begun) / 1_000).unwrap_or(u32::MAX);
        if micros < 200_000 {
            let times = if micros < 20_000 { 10 } else { 200_000 / micros + 1 };
            calls = calls.saturating_mul(times);
            return None;
        }
        Some(1_000.0 * f64::from(micros) / f64::from(calls))
    };
    let mut times: Vec<f64> = std::iter::from_fn(|| Some(round())).flatten().take(rounds).collect();
    times.sort_by(f64::total_cmp);
    times[rounds / 2]
}

/// Peak of memory of this process so far, in megabytes.
fn peak_mb() -> f64 {
    let text = std::fs::read_to_string("/proc/self/status").unwrap_or_default();
    let line = text.lines().find_map(|it| it.strip_prefix("VmHWM:")).unwrap_or("0 kB");
    let kb: u32 = line.trim().trim_end_matches(" kB").parse().unwrap_or(0);
    f64::from(kb) / 1_000.0
}

fn per_fastener(ns: f64, size: Size) -> f64 {
    ns / f64::from(u32::try_from(size.fasteners).unwrap_or(u32::MAX))
}

fn bar(text: &str, measured: f64, most: f64, unit: &str) {
    let word = if measured <= most { "kept" } else { "MISSED" };
    println!("  {word:6}  {text}: {measured:.2} {unit}, at most {most:.2} {unit}");
}

fn tell_parts(name: &str, joint: &Joint) {
    let traced = trace(joint);
    let found = findings::judge(joint, &traced);
    println!("\nOf the chain for {name}, with {} findings:", found.list.len());
    println!("  trace {:.2} ms", median_ns(9, || trace(joint)) / 1e6);
    println!("  findings {:.2} ms", median_ns(9, || findings::judge(joint, &traced)) / 1e6);
    println!("  drawing {:.2} ms", median_ns(9, || draw(joint, &traced, &found)) / 1e6);
}

fn report() {
    let sizes = [SMALL, MEDIUM, LARGE];
    let walls = sizes.map(wall);
    let panel = panel::panel();
    let panel_ns = median_ns(9, || chain(&panel));
    let joint = wall(TWO_HUNDRED);
    let chain_ns = median_ns(9, || chain(&joint));
    let loaded = loaded(TWO_HUNDRED);
    let loaded_ns = median_ns(9, || chain(&loaded));
    // The peak before `geo` takes its own, and before the display list of the large wall takes its.
    black_box(trace(&walls[2]));
    let peak = peak_mb();
    tell_parts("200 fasteners, nearly all of them sound", &panel);
    tell_parts("200 fasteners, most of them at fault", &joint);
    let begun = on_processor();
    let items = chain(&walls[2]);
    let large_chain_ms = f64::from(u32::try_from((on_processor() - begun) / 1_000).unwrap_or(u32::MAX)) / 1e3;
    let chain_peak = peak_mb();
    println!("\nProcessor time per fastener, medians:");
    let mut ours = [0.0; 3];
    let mut ratio = 0.0;
    for (n, size) in sizes.into_iter().enumerate() {
        let ready = by_geo::ready(&walls[n]);
        let rounds = 9;
        ours[n] = per_fastener(median_ns(rounds, || trace(&walls[n])), size);
        let theirs = per_fastener(median_ns(rounds, || by_geo::run(&ready)), size);
        ratio = ours[n] / theirs;
        println!("  {size}: trace {:.0} ns, geo and rstar {theirs:.0} ns, ratio {ratio:.2}", ours[n]);
    }
    println!("\nBars:");
    bar("large wall, trace by geo", ratio, 1.0 / 3.0, "");
    bar("cost per fastener, 50,000 by 1,000", ours[2] / ours[1], 1.25, "");
    bar("peak of memory, three walls and the trace of the large one", peak, 300.0, "MB");
    bar("200 fasteners, joint to display list, nearly all sound", panel_ns / 1e6, 5.0, "ms");
    bar("200 fasteners, joint to display list, most at fault", chain_ns / 1e6, 5.0, "ms");
    bar("the same under a load on every panel", loaded_ns / 1e6, 5.0, "ms");
    println!("  large wall to {items} items: {large_chain_ms:.0} ms, peak {chain_peak:.0} MB\n");
    let sum = by_geo::run(&by_geo::ready(&walls[1]));
    let traced = trace(&walls[1]);
    println!("Both saw the same medium wall: {} neighbours here, {sum:?} by geo.\n", traced.neighbours.len());
}

#[divan::bench(args = [SMALL, MEDIUM, LARGE], sample_size = 1, sample_count = 9)]
fn trace_alone(bencher: divan::Bencher<'_, '_>, size: Size) {
    let joint = wall(size);
    bencher.counter(divan::counter::ItemsCount::new(size.fasteners)).bench_local(|| trace(&joint));
}

#[divan::bench(args = [SMALL, MEDIUM, LARGE], sample_size = 1, sample_count = 9)]
fn geo_and_rstar(bencher: divan::Bencher<'_, '_>, size: Size) {
    let ready = by_geo::ready(&wall(size));
    bencher.counter(divan::counter::ItemsCount::new(size.fasteners)).bench_local(|| by_geo::run(&ready));
}

#[divan::bench(args = [SMALL, TWO_HUNDRED, MEDIUM], sample_size = 1, sample_count = 9)]
fn joint_to_display_list(bencher: divan::Bencher<'_, '_>, size: Size) {
    let joint = wall(size);
    bencher.counter(divan::counter::ItemsCount::new(size.fasteners)).bench_local(|| chain(&joint));
}
