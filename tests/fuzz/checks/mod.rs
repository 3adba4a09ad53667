//! What must hold of any input at all. The fuzzers ask it of what they make up, and
//! `cargo test` of everything that they found worth keeping.
//!
//! A check panics where it does not hold. Bytes that are no input for it are passed over.

mod made;
mod sheet;

use shankline::findings::{self, Findings};
use shankline::joint::{Joint, file};
use shankline::shape::Region;
use shankline::stock::Stock;
use shankline::trace::{self, Run, Trace, What};
use shankline::unit::compare::SAME_MM;
use shankline::unit::length::{self, LengthUnit};

/// A joint file is read or refused with words; what is read is written, read back and judged.
pub(crate) fn joint_file(bytes: &[u8]) {
    let Ok(text) = std::str::from_utf8(bytes) else { return };
    STOCK.with(|stock| match file::read(text, stock) {
        Ok(joint) => {
            let written = file::write(&joint);
            let again = file::read(&written, stock);
            assert_eq!(again.as_ref(), Ok(&joint), "what was written reads as something else:\n{written}");
            let _ = chain(&joint);
        }
        Err(problems) => {
            assert!(!problems.is_empty(), "refused without a word");
            for it in problems {
                assert!(!it.says.is_empty() && 0 < it.line && 0 < it.column, "{it:?}");
            }
        }
    });
}

/// A typed length is a finite number or refused, and what is shown of it is read back as the same.
pub(crate) fn length(bytes: &[u8]) {
    let Ok(text) = std::str::from_utf8(bytes) else { return };
    for unit in [LengthUnit::Inch, LengthUnit::Millimetre] {
        let Ok(mm) = length::parse(text, unit) else { continue };
        assert!(mm.is_finite(), "{text:?} is {mm}");
        let shown = length::exact(mm, unit);
        let read = length::parse(&shown, unit);
        let same = read.as_ref().is_ok_and(|it| (it - mm).abs() <= SAME_MM.max(1e-12 * mm.abs()));
        // More digits than a length may have are refused when typed.
        let is_long = 1e9 < mm.abs() || (mm != 0.0 && mm.abs() < 1e-3);
        assert!(same || is_long, "{text:?} is {mm} mm, shown as {shown:?}, read as {read:?}");
        assert!(!length::echo(mm, unit).is_empty());
    }
}

/// Path data is an outline or refused; an outline can be asked for everything.
pub(crate) fn path_data(bytes: &[u8]) {
    let Ok(text) = std::str::from_utf8(bytes) else { return };
    let Ok(region) = Region::path(text) else { return };
    if 2_000 < region.loops.iter().map(Vec::len).sum::<usize>() {
        return;
    }
    let bounds = region.bounds();
    // What no joint file may hold is refused by the reader, so nothing more is asked of it.
    let reach = [bounds.x0, bounds.y0, bounds.x1, bounds.y1].map(f64::abs).into_iter().fold(0.0, f64::max);
    if !bounds.is_finite() || 2e6 < reach {
        return;
    }
    for ring in &region.loops {
        for (edge, next) in ring.iter().zip(ring.iter().cycle().skip(1)) {
            let apart = edge.end().distance(next.start());
            assert!(apart <= 3e-6, "a loop is open by {apart}");
        }
    }
    if region.self_crossing().is_some() {
        return;
    }
    let area = region.area_mm2();
    let most = bounds.area().abs() * (1.0 + 1e-9) + 1e-6;
    assert!(area.is_finite() && area.abs() <= most, "area {area} in bounds of {most}");
    let far = kurbo::Point::new(bounds.x1 + 1.0, bounds.y1 + 1.0);
    assert!(!region.contains(far), "it holds a place outside its bounds");
    let _ = region.contains(bounds.center());
    assert!(region.to_path().elements().len() < 1 << 20);
}

/// The trace of a made-up joint partitions every shank, says of each run what lies there, and is the same again.
pub(crate) fn trace(bytes: &[u8]) {
    let Some(joint) = made::joint(bytes) else { return };
    let (traced, found) = chain(&joint);
    assert_eq!(traced, trace::trace(&joint), "traced again it is another");
    assert_eq!(found, findings::judge(&joint, &traced), "judged again it is another");
}

/// The sheets of a made-up joint are well-formed, hold nothing that acts, and are the same again.
pub(crate) fn drawing(bytes: &[u8]) {
    let Some(joint) = made::joint(bytes) else { return };
    let (traced, found) = chain(&joint);
    sheet::check(&joint, &traced, &found);
}

thread_local! {
    static STOCK: Stock = Stock::built_in();
}

fn chain(joint: &Joint) -> (Trace, Findings) {
    let traced = trace::trace(joint);
    assert_eq!(traced.fasteners.len(), joint.fasteners.len());
    for shank in traced.fasteners.iter().filter(|it| 0.0 < it.length_mm) {
        partitions(&shank.core, shank.length_mm);
        for run in &shank.core {
            lies_there(&traced, shank.head_at + shank.toward * ((run.from_mm + run.to_mm) / 2.0), run);
        }
    }
    let found = findings::judge(joint, &traced);
    for it in &found.list {
        assert!(!it.says.is_empty() && !it.source.is_empty(), "{it:?}");
        let is_number = |it: Option<f64>| !it.is_some_and(f64::is_nan);
        assert!(is_number(it.measured) && is_number(it.required), "{it:?}");
    }
    (traced, found)
}

/// The runs fill the length exactly, and none is empty.
fn partitions(core: &[Run], length: f64) {
    let mut at = 0.0_f64;
    for run in core {
        assert!(run.from_mm.to_bits() == at.to_bits() && run.from_mm < run.to_mm, "{core:#?}");
        at = run.to_mm;
    }
    assert!((at - length).abs() <= 1e-9 * length, "{at} of {length}: {core:#?}");
}

/// The middle of a run that is not tiny lies in the body that it names, but for a hair.
fn lies_there(traced: &Trace, at: shankline::unit::Vec3, run: &Run) {
    let Some(body) = run.body.map(|it| &traced.bodies[it.0]) else { return };
    if run.to_mm - run.from_mm < 0.05 || run.along_a_face || run.what == What::Steel {
        return;
    }
    // Far from the origin a double has fewer places after the point.
    let hair = 1e-6 + 1e-9 * at.length();
    let around = [(0.0, 0.0), (hair, 0.0), (-hair, 0.0), (0.0, hair), (0.0, -hair)];
    let is_in = around.iter().any(|it| body.region.contains(at.plan() + *it))
        && body.far_mm - hair <= at.z
        && at.z <= body.near_mm + hair;
    assert!(is_in, "{at:?} is not in {:?}: {run:?}", body.owner);
}
