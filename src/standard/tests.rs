//! What holds of the rules beyond their printed numbers: bands that join, things not known, tables that load.

use super::*;
use crate::stock::{FastenerKind, WoodType};
use crate::unit::compare::SAME_MM;

fn spec(kind: FastenerKind, diameter_mm: f64) -> FastenerSpec {
    FastenerSpec {
        id: String::new(),
        label: String::new(),
        kind,
        diameter_mm,
        root_mm: None,
        length_mm: 100.0,
        head_mm: 0.0,
        head_height_mm: 0.0,
        thread_mm: None,
        point_mm: 0.0,
        bending_yield_mpa: None,
        tensile_mpa: None,
        nut: None,
        source: String::new(),
    }
}

fn driven(spec: &FastenerSpec) -> Driven<'_> {
    Driven { spec, finish: Finish::Bright, seat: Seat::Flush, service: Service::Dry, hole_mm: None }
}

fn softwood() -> Material {
    Material {
        id: String::new(),
        label: String::new(),
        family: Family::Lumber,
        wood: Some(WoodType::Softwood),
        specific_gravity: Some(0.5),
        density_kg_m3: Some(350.0),
        elastic_mpa: None,
        dowel_bearing_mpa: None,
        crushing_mpa: None,
        source: String::new(),
    }
}

fn end(material: &Material) -> Border<'_> {
    Border {
        material,
        is_end: true,
        distance_mm: 50.0,
        loaded: Some(true),
        load_to_grain_deg: Some(0.0),
        thickness_mm: 38.1,
        end_grain: false,
        beside: None,
        row_spacing_mm: None,
        axial: false,
    }
}

fn pair(material: &Material) -> Pair<'_> {
    Pair {
        material,
        along_mm: 50.0,
        across_mm: 50.0,
        load_to_grain_deg: Some(90.0),
        thickness_mm: 38.1,
        beside: None,
        axial: false,
    }
}

/// What is demanded of a topic, in millimetres.
fn demanded(checks: &[Check], topic: Topic) -> f64 {
    let check = checks.iter().find(|it| it.topic == topic && it.force == Force::Shall);
    check.expect("it is demanded").required.value()
}

fn recommended(checks: &[Check], topic: Topic) -> Option<f64> {
    checks.iter().find(|it| it.topic == topic && it.force == Force::Should).map(|it| it.required.value())
}

/// Fails when `f` jumps at `at` by more than a thousandth over a step of a millionth.
#[track_caller]
fn joins(at: f64, f: impl Fn(f64) -> f64) {
    let (below, above) = (f(at - 1e-5), f(at + 1e-5));
    assert!((below - above).abs() < 1e-3, "at {at} it jumps from {below} to {above}");
}

#[test]
fn every_standard_reads_its_table() {
    for id in [StandardId::Nds2018, StandardId::En199511] {
        let standard = by_id(id);
        assert_eq!(standard.id(), id);
        assert!(standard.name().contains(|it: char| it.is_ascii_digit()), "the name tells the edition");
    }
}

#[test]
fn rows_loaded_across_the_grain_join_at_the_limits_of_their_bands() {
    let (bolt, wood, nds) = (spec(FastenerKind::Bolt, 12.7), softwood(), by_id(StandardId::Nds2018));
    let along = |thickness_mm: f64| {
        demanded(&nds.spacing(&driven(&bolt), &Pair { thickness_mm, ..pair(&wood) }), Topic::Spacing)
    };
    for slenderness in [2.0, 6.0] {
        joins(slenderness * 12.7, along);
    }
}

#[test]
fn distances_join_over_the_angle_of_the_load() {
    let (bolt, nail, wood) = (spec(FastenerKind::Bolt, 16.0), spec(FastenerKind::Nail, 3.1), softwood());
    for id in [StandardId::Nds2018, StandardId::En199511] {
        let standard = by_id(id);
        for loaded in [true, false] {
            let bolt_end = |angle: f64| {
                let border = Border { loaded: Some(loaded), load_to_grain_deg: Some(angle), ..end(&wood) };
                demanded(&standard.border(&driven(&bolt), &border), Topic::EndDistance)
            };
            for angle in [30.0, 45.0, 60.0] {
                joins(angle, bolt_end);
            }
        }
        joins(45.0, |angle| {
            let pair = Pair { load_to_grain_deg: Some(angle), ..pair(&wood) };
            demanded(&standard.spacing(&driven(&bolt), &pair), Topic::Spacing)
        });
    }
    let ec5 = by_id(StandardId::En199511);
    joins(45.0, |angle| {
        let border = Border { load_to_grain_deg: Some(angle), ..end(&wood) };
        demanded(&ec5.border(&driven(&nail), &border), Topic::EndDistance)
    });
}

#[test]
fn without_a_load_the_least_of_all_cases_is_demanded_and_the_greatest_recommended() {
    let (bolt, wood) = (spec(FastenerKind::Bolt, 12.7), softwood());
    let unknown = Border { loaded: None, load_to_grain_deg: None, ..end(&wood) };
    // Half of 4 D, and 7 D.
    let nds = by_id(StandardId::Nds2018).border(&driven(&bolt), &unknown);
    assert!((demanded(&nds, Topic::EndDistance) - 25.4).abs() < SAME_MM);
    assert!((recommended(&nds, Topic::EndDistance).unwrap() - 88.9).abs() < SAME_MM);
    // 4 d for a load away from the end; 7 d, which is more than 80 mm.
    let ec5 = by_id(StandardId::En199511).border(&driven(&bolt), &unknown);
    assert!((demanded(&ec5, Topic::EndDistance) - 50.8).abs() < SAME_MM);
    assert!((recommended(&ec5, Topic::EndDistance).unwrap() - 88.9).abs() < SAME_MM);
}

#[test]
fn without_a_density_both_columns_of_nails_are_asked() {
    let (nail, wood) = (spec(FastenerKind::Nail, 3.0), Material { density_kg_m3: None, ..softwood() });
    let checks = by_id(StandardId::En199511).border(&driven(&nail), &end(&wood));
    assert!((demanded(&checks, Topic::EndDistance) - 45.0).abs() < SAME_MM);
    assert!((recommended(&checks, Topic::EndDistance).unwrap() - 60.0).abs() < SAME_MM);
}

#[test]
fn with_everything_known_nothing_is_said_twice() {
    let (nail, bolt, wood) = (spec(FastenerKind::Nail, 3.0), spec(FastenerKind::Bolt, 12.0), softwood());
    let ec5 = by_id(StandardId::En199511);
    for spec in [&nail, &bolt] {
        assert_eq!(ec5.border(&driven(spec), &end(&wood)).len(), 1);
        assert_eq!(ec5.spacing(&driven(spec), &pair(&wood)).len(), 2);
    }
}

#[test]
fn the_working_ends_in_what_is_required() {
    let (bolt, nail, wood) = (spec(FastenerKind::Bolt, 12.7), spec(FastenerKind::Nail, 4.1), softwood());
    for id in [StandardId::Nds2018, StandardId::En199511] {
        let standard = by_id(id);
        for spec in [&bolt, &nail] {
            let fact = Driven { hole_mm: Some((3.0, 50.0)), ..driven(spec) };
            let mut checks = standard.border(&fact, &end(&wood));
            checks.extend(standard.spacing(&fact, &pair(&wood)));
            checks.extend(standard.hole(&fact, &wood));
            assert!(!checks.is_empty());
            for check in checks {
                assert_eq!(check.working.last().map(|it| it.value), Some(check.required), "{check:?}");
            }
        }
    }
}

#[test]
fn concrete_and_steel_are_left_alone_by_the_rules_of_wood() {
    use FastenerKind::{Bolt, LagScrew, Nail, ThreadedRod, WoodScrew};
    let thick = [Bolt, ThreadedRod, LagScrew].map(|it| spec(it, 12.7));
    let thin = [Nail, WoodScrew].map(|it| spec(it, 4.1));
    for family in [Family::Concrete, Family::Masonry, Family::Filling] {
        let body = Material { family, wood: None, ..softwood() };
        for id in [StandardId::Nds2018, StandardId::En199511] {
            let standard = by_id(id);
            for spec in thick.iter().chain(&thin) {
                assert!(standard.border(&driven(spec), &end(&body)).is_empty());
                assert!(standard.spacing(&driven(spec), &pair(&body)).is_empty());
                assert!(standard.hole(&driven(spec), &body).is_empty());
            }
        }
    }
}

#[test]
fn a_plate_of_steel_lets_nails_stand_closer() {
    let (nail, wood) = (spec(FastenerKind::Nail, 4.0), softwood());
    for id in [StandardId::Nds2018, StandardId::En199511] {
        let standard = by_id(id);
        let required = |beside| {
            let checks = standard.spacing(&driven(&nail), &Pair { beside, ..pair(&wood) });
            checks.iter().map(|it| it.required.value()).fold(0.0, f64::max)
        };
        assert!(required(Some(Family::Steel)) < required(Some(Family::Lumber)), "{id:?}");
    }
}

/// What lets a border or a pair go unasked must never let one go that would have been told.
#[test]
fn nothing_is_asked_of_a_border_or_a_neighbour_that_is_far_enough_away() {
    use proptest::prelude::*;
    let kinds = prop_oneof![
        Just(FastenerKind::Nail),
        Just(FastenerKind::WoodScrew),
        Just(FastenerKind::LagScrew),
        Just(FastenerKind::Bolt),
        Just(FastenerKind::ThreadedRod),
        Just(FastenerKind::MasonryScrew),
    ];
    let families = prop_oneof![Just(Family::Lumber), Just(Family::Panel), Just(Family::Steel)];
    let angle = prop::option::of(0.0..=90.0_f64);
    let all = (kinds, 1.0..30.0_f64, prop::option::of(Just(())), families, angle, 100.0..900.0_f64);
    let more = (any::<[bool; 6]>(), 0.0..200.0_f64, prop::option::of(10.0..300.0_f64));
    proptest!(|((kind, diameter_mm, bored, family, angle, density) in all, (yes, over_mm, row) in more)| {
        let spec = spec(kind, diameter_mm);
        let driven = Driven { hole_mm: bored.map(|()| (diameter_mm * 0.8, 50.0)), ..driven(&spec) };
        let wood = Some(if yes[0] { WoodType::Softwood } else { WoodType::Hardwood });
        let wood = Material { family, wood, density_kg_m3: yes[1].then_some(density), ..softwood() };
        let beside = yes[2].then_some(family);
        for id in [StandardId::Nds2018, StandardId::En199511] {
            let standard = by_id(id);
            let enough_mm = standard.enough_mm(&driven, row);
            let loaded = yes[3].then_some(yes[4]);
            let border = Border {
                is_end: yes[5],
                distance_mm: enough_mm + over_mm,
                loaded,
                load_to_grain_deg: angle,
                beside,
                row_spacing_mm: row,
                axial: yes[0] && yes[3],
                ..end(&wood)
            };
            prop_assert!(standard.border(&driven, &border).iter().all(Check::is_met));
            let far = standard.enough_mm(&driven, None) + over_mm;
            let (along_mm, across_mm) = if yes[4] { (far, 0.0) } else { (0.0, far) };
            let axial = yes[1] && yes[5];
            let pair = Pair { along_mm, across_mm, load_to_grain_deg: angle, beside, axial, ..pair(&wood) };
            let asked = standard.spacing(&driven, &pair);
            for force in [Force::Shall, Force::Should] {
                let of_force: Vec<&Check> = asked.iter().filter(|it| it.force == force).collect();
                prop_assert!(of_force.is_empty() || of_force.iter().any(|it| it.is_met()), "{of_force:?}");
            }
        }
    });
}
