//! The trace against slow and simple methods on random joints: dense sampling for what a shank is in,
//! and the `geo` crate for where it goes in and out and how near it comes to a face.

use geo::line_intersection::{LineIntersection, line_intersection};
use geo::{Contains, Distance, Euclidean};
use kurbo::Point;
use shankline::trace::{Run, TOUCH_MM, Trace, What, trace};
use shankline::unit::Vec3;

use crate::dice::Dice;
use crate::scenes::{Move, Scene, Shot, for_geo};

/// The runs fill the length exactly, none is empty.
pub(crate) fn partitions(core: &[Run], length: f64) -> bool {
    let mut at = 0.0;
    for run in core {
        if run.from_mm.to_bits() != f64::to_bits(at) || run.to_mm <= run.from_mm {
            return false;
        }
        at = run.to_mm;
    }
    let sum: f64 = core.iter().map(|it| it.to_mm - it.from_mm).sum();
    (at - length).abs() <= 1e-9 * length && (sum - length).abs() <= 1e-9 * length
}

fn run_at(core: &[Run], along: f64) -> Option<&Run> {
    core.iter().find(|it| it.from_mm <= along && along < it.to_mm)
}

#[test]
fn every_place_of_a_shank_is_in_the_body_drawn_last_there() {
    let (mut asked, mut solid) = (0, 0);
    for seed in 0..2000 {
        let scene = Scene::random(&mut Dice::new(seed));
        let traced = trace(&scene.joint(&Move::NONE));
        for (shot, shank) in scene.shots.iter().zip(&traced.fasteners) {
            assert!(partitions(&shank.core, shot.length), "seed {seed}: {:#?}", shank.core);
            for n in 0..150 {
                let along = shot.length * (f64::from(n) + 0.5) / 150.0;
                let run = run_at(&shank.core, along).expect("the runs fill the length");
                // What touches within a hundredth has no gap; such places are not asked.
                if (along - run.from_mm).min(run.to_mm - along) < 0.011 {
                    continue;
                }
                let owner = scene.owner(shot.at(along));
                assert_eq!(run.body.map(|it| it.0), owner, "seed {seed}: at {along} of {shot:?}: {run:?}");
                asked += 1;
                solid += usize::from(owner.is_some());
            }
        }
    }
    assert!(1_500_000 < asked && asked / 8 < solid, "{asked} {solid}");
}

#[test]
fn gap_and_air_are_told_apart_by_what_lies_before_and_after() {
    for seed in 0..1000 {
        let scene = Scene::random(&mut Dice::new(seed));
        let traced = trace(&scene.joint(&Move::NONE));
        for shank in &traced.fasteners {
            for (n, run) in shank.core.iter().enumerate().filter(|it| it.1.body.is_none()) {
                let before = shank.core[..n].iter().any(|it| matches!(it.what, What::Bearing | What::Steel));
                let after = shank.core[n..].iter().any(|it| it.what == What::Bearing);
                assert_eq!(run.what == What::Gap, before && after, "seed {seed}: {:#?}", shank.core);
            }
        }
    }
}

/// A stretch of an axis in one body, and where the unending axis comes in and goes out.
struct Stretch {
    from: f64,
    to: f64,
    entry: (f64, Side),
    exit: (f64, Side),
}

#[derive(Clone, Copy, PartialEq, Debug)]
enum Side {
    Edge(usize),
    Far,
    Near,
}

/// What `geo` finds for a body with straight edges.
fn by_geo(scene: &Scene, body: usize, shot: &Shot) -> Vec<Stretch> {
    let piece = &scene.pieces[body];
    let corners = piece.form.corners();
    let polygon = for_geo(&corners);
    let flat = shot.toward.x.hypot(shot.toward.y);
    let at = |along: f64| shot.at(along);
    // The slab first.
    let (far, near) = if shot.toward.z.abs() <= 0.0 {
        if !(piece.depth.0 < shot.head.z && shot.head.z < piece.depth.1) {
            return Vec::new();
        }
        ((f64::NEG_INFINITY, Side::Far), (f64::INFINITY, Side::Near))
    } else {
        let meets = |z: f64| (z - shot.head.z) / shot.toward.z;
        ((meets(piece.depth.0), Side::Far), (meets(piece.depth.1), Side::Near))
    };
    let (slab_in, slab_out) = if far.0 < near.0 { (far, near) } else { (near, far) };
    let mut spans: Vec<((f64, Side), (f64, Side))> = Vec::new();
    if flat <= 0.0 {
        if polygon.contains(&geo::Point::new(shot.head.x, shot.head.y)) {
            spans
                .push(((f64::NEG_INFINITY, Side::Edge(usize::MAX)), (f64::INFINITY, Side::Edge(usize::MAX))));
        }
    } else {
        let coord = |it: Vec3| geo::Coord { x: it.x, y: it.y };
        let long = geo::Line::new(coord(at(-2000.0 / flat)), coord(at(2000.0 / flat)));
        let mut hits: Vec<(f64, Side)> = polygon
            .exterior()
            .lines()
            .enumerate()
            .filter_map(|(n, edge)| match line_intersection(long, edge)? {
                LineIntersection::SinglePoint { intersection: it, .. } => {
                    let off = Point::new(it.x, it.y) - shot.head.plan();
                    let way = kurbo::Vec2::new(shot.toward.x, shot.toward.y);
                    Some((off.dot(way) / (flat * flat), Side::Edge(n)))
                }
                LineIntersection::Collinear { .. } => None,
            })
            .collect();
        hits.sort_by(|a, b| a.0.total_cmp(&b.0));
        spans.extend(hits.chunks_exact(2).map(|it| (it[0], it[1])));
    }
    let later = |a: (f64, Side), b: (f64, Side)| if a.0 < b.0 { b } else { a };
    let sooner = |a: (f64, Side), b: (f64, Side)| if b.0 < a.0 { b } else { a };
    spans
        .into_iter()
        .map(|(start, end)| (later(start, slab_in), sooner(end, slab_out)))
        .map(|(entry, exit)| Stretch { from: entry.0.max(0.0), to: exit.0.min(shot.length), entry, exit })
        .filter(|it| it.from < it.to)
        .collect()
}

/// Least distance by `geo` from the axis between two places to the faces of a body that count.
fn cover_by_geo(scene: &Scene, body: usize, shot: &Shot, (from, to): (f64, f64), stays: &[Stretch]) -> f64 {
    let piece = &scene.pieces[body];
    let polygon = for_geo(&piece.form.corners());
    let lines: Vec<geo::Line> = polygon.exterior().lines().collect();
    let does_not_count = |side: Side| {
        stays.iter().flat_map(|it| [it.entry, it.exit]).filter(|it| it.1 == side).any(|(at, side)| {
            let cosine = match side {
                Side::Far | Side::Near => shot.toward.z.abs(),
                Side::Edge(n) => {
                    let way = lines[n].delta();
                    let length = way.x.hypot(way.y);
                    (shot.toward.x * way.y - shot.toward.y * way.x).abs() / length
                }
            };
            // Faces crossed, and faces that the shank looks at squarely enough.
            (0.0..=shot.length).contains(&at) || at.is_finite() && 0.5_f64.sqrt() <= cosine
        })
    };
    let (a, b) = (shot.at(from), shot.at(to));
    let mut least = f64::INFINITY;
    if !does_not_count(Side::Far) {
        least = least.min(a.z.min(b.z) - piece.depth.0);
    }
    if !does_not_count(Side::Near) {
        least = least.min(piece.depth.1 - a.z.max(b.z));
    }
    let bite = geo::Line::new(geo::Coord { x: a.x, y: a.y }, geo::Coord { x: b.x, y: b.y });
    for (n, line) in lines.iter().enumerate().filter(|it| !does_not_count(Side::Edge(it.0))) {
        let _ = n;
        least = least.min(Euclidean.distance(&bite, line));
    }
    least
}

#[test]
fn runs_bite_and_cover_are_those_that_geo_finds() {
    let (mut bitten, mut runs, mut drawn_out) = (0, 0, 0);
    for seed in 0..2000 {
        let scene = Scene::straight(&mut Dice::new(seed));
        let traced: Trace = trace(&scene.joint(&Move::NONE));
        for (shot, shank) in scene.shots.iter().zip(&traced.fasteners) {
            let stays: Vec<Vec<Stretch>> =
                (0..scene.pieces.len()).map(|body| by_geo(&scene, body, shot)).collect();
            for run in shank.core.iter().filter(|it| it.body.is_some()) {
                let body = run.body.map_or(0, |it| it.0);
                // Each end is where some body begins or ends, or an end of the shank.
                let ends: Vec<f64> = stays.iter().flatten().flat_map(|it| [it.from, it.to]).collect();
                for end in [run.from_mm, run.to_mm] {
                    let off = ends.iter().map(|it| (it - end).abs()).fold(f64::INFINITY, f64::min);
                    // Where less than a hundredth of air would be left, the body before is drawn out.
                    runs += 1;
                    drawn_out += usize::from(1e-9 * 250.0 < off);
                    assert!(off < TOUCH_MM, "seed {seed}: {end} is {off} off: {run:?}");
                }
                let Some(cover) = run.cover_mm else { continue };
                let by_geo = cover_by_geo(&scene, body, shot, (run.from_mm, run.to_mm), &stays[body]);
                let same = (cover - by_geo).abs() < 1e-7 || cover.is_infinite() && by_geo.is_infinite();
                assert!(same, "seed {seed}: cover {cover} is not {by_geo}: {shot:?} {run:?}");
            }
            let Some(holding) = shank.holding else { continue };
            // The bite: the body's own stretches less what bodies drawn later take of them.
            let mut bite = 0.0;
            for n in 0..4000 {
                let along = shot.length * (f64::from(n) + 0.5) / 4000.0;
                let holds = |it: &Stretch| it.from < along && along < it.to;
                let owner = stays.iter().rposition(|it| it.iter().any(holds));
                bite += if owner == Some(holding.body.0) { shot.length / 4000.0 } else { 0.0 };
            }
            let step = shot.length / 4000.0;
            assert!((bite - holding.bite_mm).abs() < 6.0 * step + 0.05, "seed {seed}: {bite} {holding:?}");
            let out = shot.length - holding.leaves_at_mm;
            assert!((out - holding.point_out_mm).abs() < 1e-9 * 250.0 || out < 0.011, "seed {seed}");
            bitten += 1;
        }
    }
    assert!(4_000 < bitten && drawn_out < runs / 500, "{bitten} {runs} {drawn_out}");
}
