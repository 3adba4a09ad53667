//! What a joint is held against, in words: its loads and the place it stands in, for those who work it out again.

use super::written::Row;
use crate::joint::{Duration, Joint, Load, Service};
use crate::unit::Vec3;
use crate::unit::force;
use crate::unit::length::Rounding;

/// A direction is told by a word where it is less than this off it, the sine.
const OFF: f64 = 1e-6;

/// The loads of known size and the place, a row each; none where no load has a size.
#[must_use]
pub fn rows(joint: &Joint) -> Vec<Row> {
    let known = joint.loads.iter().enumerate().filter_map(|(n, it)| Some((n, it, it.newtons?)));
    let mut rows: Vec<Row> = known.map(|(n, it, newtons)| Row::Result(load(joint, n, it, newtons))).collect();
    if rows.is_empty() {
        return rows;
    }
    rows.insert(0, Row::Title("What it is held against".to_owned()));
    let place = match joint.service {
        Service::Dry => "dry: service class 1",
        Service::Humid => "humid: service class 2",
        Service::Wet => "wet: service class 3",
    };
    rows.push(Row::Result(format!("The place is {place}.")));
    rows
}

fn load(joint: &Joint, n: usize, it: &Load, newtons: f64) -> String {
    format!(
        "Load {}: {} on {}, {}; {}.",
        n + 1,
        force::format(newtons, joint.show_lengths_in, Rounding::Nearest),
        joint.name_of(&it.on),
        way(it.toward),
        lasts(it.duration)
    )
}

/// A direction as the front view shows it: `downward`, `at -30° in the drawing`.
fn way(toward: Vec3) -> String {
    let Some(way) = toward.unit() else { return "in no direction".to_owned() };
    let plain = [
        (Vec3::X, "to the right"),
        (-Vec3::X, "to the left"),
        (Vec3::Y, "upward"),
        (-Vec3::Y, "downward"),
        (Vec3::Z, "toward the viewer"),
        (-Vec3::Z, "away from the viewer"),
    ];
    if let Some((_, words)) = plain.iter().find(|it| (it.0 - way).length() < OFF) {
        return (*words).to_owned();
    }
    let turn = way.y.atan2(way.x).to_degrees();
    let lean = way.z.asin().to_degrees();
    if lean.abs() < OFF {
        format!("at {turn:.1}\u{b0} in the drawing")
    } else {
        format!("at {turn:.1}\u{b0} in the drawing, leaning {lean:.1}\u{b0} toward the viewer")
    }
}

fn lasts(it: Duration) -> &'static str {
    match it {
        Duration::Permanent => "permanent, as self-weight",
        Duration::TenYears => "ten years, as occupancy",
        Duration::TwoMonths => "two months, as snow",
        Duration::SevenDays => "seven days, as construction",
        Duration::TenMinutes => "ten minutes, as wind and earthquake",
        Duration::Impact => "a blow",
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_load_is_told_with_its_size_its_way_and_how_long_it_lasts() {
        assert!(rows(&Joint::default()).is_empty());
        let load =
            |toward, newtons| Load { on: "rail".into(), toward, newtons, duration: Duration::TwoMonths };
        let joint = Joint {
            loads: vec![
                load(-Vec3::Y, None),
                load(-Vec3::Y, Some(2_400.0)),
                load(Vec3::new(1.0, -1.0, 0.0), Some(500.0)),
            ],
            show_lengths_in: crate::unit::LengthUnit::Millimetre,
            ..Joint::default()
        };
        let told: Vec<String> = rows(&joint).iter().map(Row::text).collect();
        assert_eq!(told[1].trim(), "Load 2: 2400 N on rail, downward; two months, as snow.");
        assert_eq!(
            told[2].trim(),
            "Load 3: 500 N on rail, at -45.0\u{b0} in the drawing; two months, as snow."
        );
        assert!(told[3].contains("dry"), "{told:?}");
    }
}
