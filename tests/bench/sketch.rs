//! How long a pointer waits: for what it snaps to, and for the list of sizes beside a fastener.

use kurbo::Point;
use shankline::sketch::drive::choose;
use shankline::sketch::snap::{Options, Snapper};
use shankline::stock::Stock;
use shankline::trace::trace;

use crate::wall::{LARGE, MEDIUM, Size, TWO_HUNDRED, wall};

/// A thousand places of the pointer, 8 mm around each, on a joint made ready.
#[divan::bench(args = [TWO_HUNDRED, MEDIUM, LARGE], sample_size = 1, sample_count = 9)]
fn snap_a_thousand_times(bencher: divan::Bencher<'_, '_>, size: Size) {
    let joint = wall(size);
    let snapper = Snapper::new(&joint, &trace(&joint));
    let options = Options { within_mm: 8.0, step_mm: 1.0, ..Options::default() };
    bencher.counter(divan::counter::ItemsCount::new(1_000_usize)).bench_local(|| {
        let places = (0..1_000_u32).map(|it| Point::new(f64::from(it) * 1.1, f64::from(it % 300)));
        places.filter_map(|it| snapper.snap(it, &options)).count()
    });
}

#[divan::bench(args = [TWO_HUNDRED, MEDIUM, LARGE], sample_size = 1, sample_count = 9)]
fn make_ready_to_snap(bencher: divan::Bencher<'_, '_>, size: Size) {
    let joint = wall(size);
    let traced = trace(&joint);
    bencher.bench_local(|| Snapper::new(&joint, &traced));
}

/// Every lag screw of stock in the place of one, in the middle of a crowd.
#[divan::bench(args = [TWO_HUNDRED, MEDIUM], sample_size = 1, sample_count = 9)]
fn list_of_sizes(bencher: divan::Bencher<'_, '_>, size: Size) {
    let (joint, stock) = (wall(size), Stock::built_in());
    let traced = trace(&joint);
    bencher.bench_local(|| choose::sizes(&joint, &traced, &[53], &stock));
}
