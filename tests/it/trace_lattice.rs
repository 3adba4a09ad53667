//! Joints in which everything touches everything, against exact rational arithmetic.
//!
//! Blocks of one cell each are packed on a lattice, whole or halved along a diagonal, and shanks run
//! from lattice place to lattice place: along faces, along edges, through corners, between
//! plies. The rule: a body owns its border, and of several bodies in one place the one drawn last
//! has it. So each stretch has exactly one owner, and it is known exactly.

use num_rational::BigRational;
use shankline::joint::Grain;
use shankline::trace::{Run, trace};
use shankline::unit::Vec3;

use crate::dice::Dice;
use crate::scenes::{Form, Move, Piece, Scene, Shot};
use crate::trace_sampled::partitions;

/// Millimetres to a cell; any number that binary fractions hold.
const CELL_MM: i64 = 8;
const CELLS: i64 = 4;

/// A block: its corners in cells, anticlockwise, and the depth where it begins; one cell deep.
struct Block {
    corners: Vec<(i64, i64)>,
    far: i64,
}

fn rational(it: i64) -> BigRational {
    BigRational::from_integer(it.into())
}

/// The stretch of the way from one place to another, as shares, that lies in a closed block.
fn inside(block: &Block, from: [i64; 3], to: [i64; 3]) -> Option<(BigRational, BigRational)> {
    let (mut low, mut high) = (rational(0), rational(1));
    // Each face as a value that is not negative inside and changes evenly on the way.
    let mut cut = |at_start: i64, at_end: i64| {
        let rise = at_end - at_start;
        if rise == 0 {
            return 0 <= at_start;
        }
        let share = BigRational::new((-at_start).into(), rise.into());
        if 0 < rise {
            low = low.clone().max(share);
        } else {
            high = high.clone().min(share);
        }
        true
    };
    let mut meets = cut(from[2] - block.far, to[2] - block.far);
    meets &= cut(block.far + 1 - from[2], block.far + 1 - to[2]);
    let next = block.corners.iter().cycle().skip(1);
    for (a, b) in block.corners.iter().zip(next) {
        let left = |it: [i64; 3]| (b.0 - a.0) * (it[1] - a.1) - (b.1 - a.1) * (it[0] - a.0);
        meets &= cut(left(from), left(to));
    }
    (meets && low < high).then_some((low, high))
}

/// The owners from one place to another, each with the share at which it ends.
fn exact(blocks: &[Block], from: [i64; 3], to: [i64; 3]) -> Vec<(Option<usize>, BigRational)> {
    let spans: Vec<_> = blocks.iter().map(|it| inside(it, from, to)).collect();
    let mut cuts: Vec<BigRational> = vec![rational(0), rational(1)];
    cuts.extend(spans.iter().flatten().flat_map(|it| [it.0.clone(), it.1.clone()]));
    cuts.sort();
    cuts.dedup();
    let mut owners: Vec<(Option<usize>, BigRational)> = Vec::new();
    for pair in cuts.windows(2) {
        let owner =
            spans.iter().rposition(|it| it.as_ref().is_some_and(|it| it.0 <= pair[0] && pair[1] <= it.1));
        match owners.last_mut() {
            Some(last) if last.0 == owner => last.1 = pair[1].clone(),
            _ => owners.push((owner, pair[1].clone())),
        }
    }
    owners
}

fn blocks(dice: &mut Dice) -> Vec<Block> {
    let mut blocks = Vec::new();
    for x in 0..CELLS {
        for y in 0..CELLS {
            for far in 0..2 {
                let square = vec![(x, y), (x + 1, y), (x + 1, y + 1), (x, y + 1)];
                match dice.below(5) {
                    0 => {}
                    1 => {
                        // Halved along a diagonal, the halves drawn one after the other.
                        let turn = dice.below(2);
                        let at = |n: usize| square[(n + turn) % 4];
                        blocks.push(Block { corners: vec![at(0), at(1), at(2)], far });
                        blocks.push(Block { corners: vec![at(2), at(3), at(0)], far });
                    }
                    _ => blocks.push(Block { corners: square, far }),
                }
            }
        }
    }
    // Drawn in any order.
    for n in (1..blocks.len()).rev() {
        blocks.swap(n, dice.below(n + 1));
    }
    blocks
}

fn scene(blocks: &[Block], ways: &[([i64; 3], [i64; 3])], dice: &mut Dice) -> Scene {
    let mm = |it: i64| {
        let it = i32::try_from(it * CELL_MM).expect("a small lattice");
        f64::from(it)
    };
    let piece = |it: &Block| {
        let corners: Vec<kurbo::Point> = it.corners.iter().map(|it| (mm(it.0), mm(it.1)).into()).collect();
        let is_square = corners.len() == 4;
        let form = if is_square && dice.below(2) == 0 {
            Form::Rectangle { corner: corners[0], size: (mm(1), mm(1)), turn_deg: 0.0 }
        } else {
            Form::Polygon(corners)
        };
        Piece {
            form,
            cutouts: Vec::new(),
            depth: (mm(it.far), mm(it.far + 1)),
            grain: Grain::None,
            bearing: true,
        }
    };
    let place = |it: [i64; 3]| Vec3::new(mm(it[0]), mm(it[1]), mm(it[2]));
    let shots = ways.iter().map(|(from, to)| Shot {
        head: place(*from),
        toward: place(*to) - place(*from),
        length: (place(*to) - place(*from)).length(),
        diameter: 2.0,
    });
    let shots = shots.collect();
    Scene { pieces: blocks.iter().map(piece).collect(), straps: Vec::new(), shots }
}

#[track_caller]
fn compare(seed: u64, core: &[Run], exact: &[(Option<usize>, BigRational)], length: f64) {
    assert!(partitions(core, length), "seed {seed}: {core:#?}");
    let ours: Vec<Option<usize>> = core.iter().map(|it| it.body.map(|it| it.0)).collect();
    let theirs: Vec<Option<usize>> = exact.iter().map(|it| it.0).collect();
    assert_eq!(ours, theirs, "seed {seed}: {core:#?}");
    for (run, (_, end)) in core.iter().zip(exact) {
        let numbers = (end.numer().to_string(), end.denom().to_string());
        let number = |it: &str| it.parse::<f64>().expect("a small number");
        let end = number(&numbers.0) / number(&numbers.1) * length;
        assert!((run.to_mm - end).abs() <= 1e-9 * length, "seed {seed}: {} is not {end}", run.to_mm);
    }
}

#[test]
fn each_stretch_has_the_one_owner_that_exact_arithmetic_gives() {
    let (mut stretches, mut turned) = (0, 0);
    for seed in 0..400 {
        let mut dice = Dice::new(seed);
        let blocks = blocks(&mut dice);
        let any = |dice: &mut Dice, most: i64| {
            let span = usize::try_from(most + 3).expect("a small lattice");
            i64::try_from(dice.below(span)).expect("a small lattice") - 1
        };
        let mut ways = Vec::new();
        while ways.len() < 40 {
            let place = |dice: &mut Dice| [any(dice, CELLS), any(dice, CELLS), any(dice, 2)];
            let (from, mut to) = (place(&mut dice), place(&mut dice));
            // Half of them keep to an axis or a plane of the lattice.
            if dice.below(2) == 0 {
                let kept = dice.below(3);
                to[kept] = from[kept];
                to[(kept + 1) % 3] =
                    if dice.below(2) == 0 { from[(kept + 1) % 3] } else { to[(kept + 1) % 3] };
            }
            if from != to {
                ways.push((from, to));
            }
        }
        let scene = scene(&blocks, &ways, &mut dice);
        for turn_deg in [0.0, 90.0, 180.0, 270.0, dice.between(0.0, 360.0)] {
            let by = Move { turn_deg, ..Move::NONE };
            let traced = trace(&scene.joint(&by));
            for ((from, to), (shot, shank)) in ways.iter().zip(scene.shots.iter().zip(&traced.fasteners)) {
                let exact = exact(&blocks, *from, *to);
                compare(seed, &shank.core, &exact, shot.length);
                stretches += exact.len();
                turned += 1;
            }
        }
    }
    assert!(turned == 80_000 && 160_000 < stretches, "{turned} {stretches}");
}
