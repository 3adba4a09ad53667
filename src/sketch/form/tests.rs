//! Forms against measures worked out by hand, and wherever they may lie.

use std::sync::Arc;

use kurbo::{Point, Vec2};
use proptest::prelude::*;

use super::holes::{Grid, add};
use super::own::{developed_mm, plate};
use super::*;
use crate::joint::{Interval, Joint, PlateSide, StandardId, file};
use crate::sketch::fresh::Ids;
use crate::stock::Stock;
use crate::trace::trace;
use crate::unit::Vec3;

const NDS: StandardId = StandardId::Nds2018;

fn fixing(stock: &Stock) -> Fixing {
    Fixing::for_fastener(&stock.fasteners["nail/common/10d"], NDS)
}

fn made(form: &Form, seat: &Seat) -> (Joint, Stock) {
    let stock = Stock::built_in();
    let steel = Arc::clone(&stock.materials["steel/plate"]);
    let connector = form.connector(&Sizes::defaults(NDS), &fixing(&stock), seat, ("steel", steel)).unwrap();
    (Joint { connectors: vec![connector], ..Joint::default() }, stock)
}

#[test]
fn every_form_lies_on_its_face_and_is_driven_from_outside() {
    for form in &FORMS {
        for (out, mirrored) in
            [((-1.0, 0.0), false), ((-1.0, 0.0), true), ((0.6, 0.8), false), ((0.6, 0.8), true)]
        {
            let seat = Seat::new(Point::new(10.0, 20.0), Vec2::from(out), 7.0).unwrap();
            let seat = if mirrored { seat.mirrored() } else { seat };
            let (joint, stock) = made(form, &seat);
            let problems = file::read(&file::write(&joint), &stock).err();
            assert_eq!(problems, None, "{}", form.word);
            let traced = trace(&joint);
            assert!(traced.overlaps.is_empty(), "{}: {:?}", form.word, traced.overlaps);
            // No steel lies behind the face but the seat of a hanger, which lies below its place.
            for body in &traced.bodies {
                let low = body.region.loops.iter().flatten().map(|it| (it.start() - seat.at).dot(seat.out));
                assert!(low.fold(f64::INFINITY, f64::min) > -1e-9, "{} {out:?}", form.word);
            }
            // A shank goes into the member, into the post beside the leg, or into what stands on the seat.
            for hole in &traced.holes {
                let way = hole.square.plan().to_vec2();
                let (into, along) = (way.dot(seat.out), way.dot(seat.along));
                let from_outside = match form.word {
                    "post-seat" => (hole.at.plan() - seat.at).dot(seat.along) * along < 0.0,
                    "angle" => into < -0.9 || along < -0.9,
                    _ => into < -0.9,
                };
                assert!(from_outside, "{} {out:?} {mirrored}", form.word);
            }
        }
    }
}

#[test]
fn a_strap_has_its_holes_where_its_measures_say() {
    // 18" long, four holes 1 1/2" apart from 1/2" on at both ends: 0.5, 2, 3.5, 5 and 13, 14.5, 16, 17.5.
    let seat = Seat::new(Point::ZERO, Vec2::new(0.0, 1.0), 0.0).unwrap();
    let (joint, _) = made(Form::named("strap").unwrap(), &seat);
    let along: Vec<f64> = joint.connectors[0].plates[0].holes.iter().map(|it| it.along_mm / 25.4).collect();
    for (found, wanted) in along.iter().zip([0.5, 2.0, 3.5, 5.0, 13.0, 14.5, 16.0, 17.5]) {
        assert!((found - wanted).abs() < 1e-9, "{along:?}");
    }
    assert_eq!(along.len(), 8);
    let at = trace(&joint).holes[0].at;
    assert!((at - Vec3::new(-8.5 * 25.4, 25.4 / 16.0, 0.0)).length() < 1e-9, "{at:?}");
}

#[test]
fn measures_that_do_not_go_together_are_refused() {
    let stock = Stock::built_in();
    let seat = Seat::new(Point::ZERO, Vec2::new(0.0, 1.0), 0.0).unwrap();
    let asked = |word: &str, values: &[(&'static str, f64)]| {
        let form = Form::named(word).unwrap();
        let sizes = Sizes::new(form.questions, NDS, values.iter().copied()).unwrap();
        let steel = Arc::clone(&stock.materials["steel/plate"]);
        form.connector(&sizes, &fixing(&stock), &seat, ("s", steel)).map_err(|it| it.to_string())
    };
    let why = asked("strap", &[("length", 76.2)]).unwrap_err();
    assert_eq!(why, "a row of 5\" from each end does not fit on 3\"");
    assert!(asked("strap", &[("rows", 3.0)]).unwrap_err().contains("runs out of the steel"));
    assert!(asked("strap", &[("pitch", 6.35), ("rows", 1.0)]).is_ok());
    assert!(asked("tie-plate", &[("row-pitch", 4.7625), ("pitch", 6.35)]).is_ok());
    assert!(asked("angle", &[("leg", 25.4)]).unwrap_err().contains("does not fit on a leg of 1\""));
    assert!(asked("post-seat", &[("height", 25.4)]).unwrap_err().contains("does not fit on a leg"));
    assert!(asked("joist-hanger", &[("height", 50.8)]).unwrap_err().contains("runs out of the steel"));
}

#[test]
fn a_plate_of_ones_own_is_checked_as_it_is_drawn() {
    let depth = Interval { from: 0.0, to: 40.0 };
    let of = |points: &[(f64, f64)], measures| {
        let points: Vec<Point> = points.iter().map(|it| Point::from(*it)).collect();
        plate(&points, measures, depth, StandardId::En199511).map_err(|it| it.to_string())
    };
    // Two legs of 50 and 30 with a bend of radius 5: each leg loses 5, the bend adds a quarter circle.
    let bent = of(&[(0.0, 0.0), (50.0, 0.0), (50.0, 0.0), (50.0, 30.0)], (2.0, 5.0)).unwrap();
    assert_eq!(bent.profile.len(), 3);
    let wanted = 45.0 + 25.0 + 5.0 * std::f64::consts::FRAC_PI_2;
    assert!((developed_mm(&bent) - wanted).abs() < 1e-9);
    assert!(of(&[(0.0, 0.0)], (2.0, 0.0)).is_err());
    assert!(of(&[(0.0, 0.0), (50.0, 0.0), (20.0, 0.0)], (2.0, 0.0)).unwrap_err().contains("straight back"));
    let why = of(&[(0.0, 0.0), (50.0, 0.0), (50.0, 30.0)], (2.0, 40.0)).unwrap_err();
    assert_eq!(why, "a bend of 40 mm does not fit: the legs have room for 30 mm");
    assert!(of(&[(0.0, 0.0), (50.0, 0.0), (50.0, 30.0)], (4.0, 1.0)).unwrap_err().contains("leaves none"));
    assert!(of(&[(0.0, 0.0), (f64::NAN, 0.0)], (2.0, 0.0)).is_err());
    let mut ids: Ids = ["h1".to_owned()].into_iter().collect();
    let stock = Stock::built_in();
    let grid = Grid { along_mm: 10.0, pitch_mm: 10.0, count: 2, depth_mm: 20.0, row_pitch_mm: 15.0, rows: 2 };
    let with = add(&bent, &fixing(&stock), &grid, (PlateSide::Left, &mut ids, NDS)).unwrap();
    let holes: Vec<_> = with.holes.iter().map(|it| (it.id.as_str(), it.along_mm, it.depth_mm)).collect();
    assert_eq!(holes, [("h2", 10.0, 12.5), ("h3", 20.0, 12.5), ("h4", 10.0, 27.5), ("h5", 20.0, 27.5)]);
    let again = add(&with, &fixing(&stock), &grid, (PlateSide::Left, &mut ids, NDS));
    assert!(again.unwrap_err().to_string().contains("run into each other"));
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 200, failure_persistence: None, ..ProptestConfig::default() })]

    /// Any measures within the limits make steel that can be saved, or are refused in words.
    #[test]
    fn any_measures_draw_or_say_why(
        which in 0_usize..5,
        parts in proptest::collection::vec(0.0_f64..=1.0, 9),
        turn in 0.0_f64..360.0,
    ) {
        let stock = Stock::built_in();
        let form = &FORMS[which];
        let values = form.questions.iter().zip(&parts).map(|(question, part)| {
            let (least, most) = (question.least(NDS), question.most(NDS));
            let value = (most - least).mul_add(*part, least);
            (question.key, if question.sort == crate::sketch::question::Sort::Count { value.round() } else { value })
        });
        let sizes = Sizes::new(form.questions, NDS, values).unwrap();
        let seat = Seat::new(Point::new(3.0, 4.0), Vec2::from_angle(turn.to_radians()), 5.0).unwrap();
        let steel = Arc::clone(&stock.materials["steel/plate"]);
        if let Ok(connector) = form.connector(&sizes, &fixing(&stock), &seat, ("s", steel)) {
            let joint = Joint { connectors: vec![connector], ..Joint::default() };
            let problems = file::read(&file::write(&joint), &stock).err();
            prop_assert_eq!(problems, None, "{}", form.word);
        }
    }
}
