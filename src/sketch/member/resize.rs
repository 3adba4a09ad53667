//! A member made larger or smaller by its handles: the sides and corners of its outline, and its two ends in depth.

use kurbo::{Point, Vec2};

use super::{LEAST_MM, sound};
use crate::joint::{Member, Outline};
use crate::shape::sin_cos_deg;
use crate::sketch::question::WishError;
use crate::trace::outline_region;
use crate::unit::Vec3;

/// No side is made shorter than this, millimetres.
const LEAST_SIDE_MM: f64 = 1.0;

/// What of a member can be taken hold of to change its size.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Handle {
    /// A side or a corner of a rectangle or an I-section, as it lies before it is turned: -1 is left or below, 1 right
    /// or above, 0 the middle of the side.
    Side {
        /// Left, middle or right.
        across: i8,
        /// Below, middle or above.
        up: i8,
    },
    /// A place on the rim of a round, in quarters anticlockwise from the right.
    Rim(u8),
    /// A corner of a polygon, by its place in the list.
    Corner(usize),
    /// The end in depth that is far from the viewer.
    Far,
    /// The end in depth that is near to the viewer.
    Near,
}

/// The handles of a member and where they lie: those of its outline halfway in depth, those in depth in its middle. An
/// outline with arcs has none of its own.
#[must_use]
pub fn handles(of: &Member) -> Vec<(Handle, Vec3)> {
    let depth = f64::midpoint(of.depth.from, of.depth.to);
    let flat = |at: Point| Vec3::new(at.x, at.y, depth);
    let mut found = match &of.outline {
        Outline::Rectangle { corner, size_mm, turn_deg }
        | Outline::ISection { corner, size_mm, turn_deg, .. } => {
            sides(*corner, *size_mm, *turn_deg).map(|it| (it.0, flat(it.1))).collect()
        }
        Outline::Round { centre, diameter_mm } => {
            let rim = |n: u8| (Handle::Rim(n), flat(*centre + quarter(n) * (diameter_mm / 2.0)));
            (0..4).map(rim).collect()
        }
        Outline::Polygon(corners) => {
            corners.iter().enumerate().map(|it| (Handle::Corner(it.0), flat(*it.1))).collect()
        }
        Outline::Path(_) => Vec::new(),
    };
    let middle = outline_region(&of.outline).bounds().center();
    found.push((Handle::Far, Vec3::new(middle.x, middle.y, of.depth.from)));
    found.push((Handle::Near, Vec3::new(middle.x, middle.y, of.depth.to)));
    found
}

fn sides(corner: Point, (width, height): (f64, f64), turn_deg: f64) -> impl Iterator<Item = (Handle, Point)> {
    let (sin, cos) = sin_cos_deg(turn_deg);
    let (x, y) = (Vec2::new(cos, sin) * (width / 2.0), Vec2::new(-sin, cos) * (height / 2.0));
    let all = (-1..=1_i8).flat_map(|across| (-1..=1_i8).map(move |up| (across, up)));
    all.filter(|it| *it != (0, 0)).map(move |(across, up)| {
        let at = corner + x * (1.0 + f64::from(across)) + y * (1.0 + f64::from(up));
        (Handle::Side { across, up }, at)
    })
}

fn quarter(n: u8) -> Vec2 {
    match n % 4 {
        0 => Vec2::new(1.0, 0.0),
        1 => Vec2::new(0.0, 1.0),
        2 => Vec2::new(-1.0, 0.0),
        _ => Vec2::new(0.0, -1.0),
    }
}

/// The member with one of its handles moved; what lies opposite stays. Cut-outs and grain stay where they are.
///
/// # Errors
/// Nothing would be left of it, or the outline would cross itself.
pub fn resized(of: &Member, handle: Handle, by: Vec3) -> Result<Member, WishError> {
    let mut new = of.clone();
    let plan = Vec2::new(by.x, by.y);
    match (&mut new.outline, handle) {
        (
            Outline::Rectangle { corner, size_mm, turn_deg }
            | Outline::ISection { corner, size_mm, turn_deg, .. },
            Handle::Side { across, up },
        ) => stretch((corner, size_mm, *turn_deg), (across, up), plan)?,
        (Outline::Round { diameter_mm, .. }, Handle::Rim(n)) => {
            *diameter_mm = left(*diameter_mm + 2.0 * plan.dot(quarter(n)))?;
        }
        (Outline::Polygon(corners), Handle::Corner(n)) => {
            corners.get_mut(n).into_iter().for_each(|it| *it += plan);
        }
        (_, Handle::Far) => new.depth.from += by.z,
        (_, Handle::Near) => new.depth.to += by.z,
        (_, Handle::Side { .. } | Handle::Rim(_) | Handle::Corner(_)) => return Err(nothing_left()),
    }
    if new.depth.to - new.depth.from < LEAST_MM {
        return Err(nothing_left());
    }
    if let Outline::ISection { size_mm, flange_mm, web_mm, .. } = &new.outline
        && (size_mm.1 <= 2.0 * flange_mm || size_mm.0 <= *web_mm)
    {
        return Err(WishError::DoesNotFit("flanges and web do not fit into that".to_owned()));
    }
    let _ = sound(&new.outline)?;
    Ok(new)
}

fn stretch(
    (corner, size_mm, turn_deg): (&mut Point, &mut (f64, f64), f64),
    (across, up): (i8, i8),
    by: Vec2,
) -> Result<(), WishError> {
    let (sin, cos) = sin_cos_deg(turn_deg);
    let (x, y) = (Vec2::new(cos, sin), Vec2::new(-sin, cos));
    let (right, above) = (by.dot(x), by.dot(y));
    size_mm.0 = left(size_mm.0 + f64::from(across) * right)?;
    size_mm.1 = left(size_mm.1 + f64::from(up) * above)?;
    if across < 0 {
        *corner += x * right;
    }
    if up < 0 {
        *corner += y * above;
    }
    Ok(())
}

fn left(mm: f64) -> Result<f64, WishError> {
    if mm < LEAST_SIDE_MM { Err(nothing_left()) } else { Ok(mm) }
}

fn nothing_left() -> WishError {
    WishError::DoesNotFit("nothing would be left of it".to_owned())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::joint::Interval;
    use crate::sketch::question::Sizes;
    use crate::sketch::start::Starter;
    use crate::stock::Stock;

    fn board(outline: Outline) -> Member {
        let stock = Stock::built_in();
        let sizes = Sizes::defaults(crate::joint::StandardId::Nds2018);
        let joint = Starter::named("ledger").unwrap().start(&sizes, &stock).unwrap();
        Member { outline, depth: Interval { from: 0.0, to: 40.0 }, ..joint.members[0].clone() }
    }

    fn at(of: &Member, handle: Handle) -> Vec3 {
        handles(of).into_iter().find(|it| it.0 == handle).unwrap().1
    }

    /// Whatever the shape, the handle goes where it is dragged and the one opposite stays.
    #[test]
    fn a_handle_follows_and_the_opposite_one_stays() {
        let turned =
            Outline::Rectangle { corner: Point::new(3.0, -2.0), size_mm: (80.0, 30.0), turn_deg: 33.0 };
        let section = Outline::ISection {
            corner: Point::new(0.0, 0.0),
            size_mm: (60.0, 240.0),
            flange_mm: 38.0,
            web_mm: 10.0,
            turn_deg: -90.0,
        };
        for outline in [turned, section] {
            let of = board(outline);
            for (handle, place) in handles(&of) {
                let Handle::Side { across, up } = handle else { continue };
                // Along the side's own way, so that a middle can follow all of it.
                let opposite = Handle::Side { across: -across, up: -up };
                let way = (place - at(&of, opposite)) * 0.05;
                let new = resized(&of, handle, way).unwrap();
                assert!((at(&new, handle) - (place + way)).length() < 1e-9, "{handle:?}");
                assert!((at(&new, opposite) - at(&of, opposite)).length() < 1e-9, "{handle:?}");
            }
        }
    }

    #[test]
    fn rims_corners_and_depths_are_dragged_too() {
        let post = board(Outline::Round { centre: Point::new(5.0, 5.0), diameter_mm: 100.0 });
        let wider = resized(&post, Handle::Rim(1), Vec3::new(7.0, 10.0, 0.0)).unwrap();
        assert_eq!(wider.outline, Outline::Round { centre: Point::new(5.0, 5.0), diameter_mm: 120.0 });
        let brace = board(Outline::Polygon(vec![Point::ZERO, Point::new(90.0, 0.0), Point::new(0.0, 90.0)]));
        let new = resized(&brace, Handle::Corner(2), Vec3::new(5.0, 0.0, 0.0)).unwrap();
        assert!((at(&new, Handle::Corner(2)) - Vec3::new(5.0, 90.0, 20.0)).length() < 1e-9);
        let deep = resized(&brace, Handle::Near, Vec3::new(9.0, 9.0, 25.0)).unwrap();
        assert_eq!((deep.depth.from, deep.depth.to), (0.0, 65.0));
        assert_eq!(deep.outline, brace.outline);
    }

    #[test]
    fn nothing_is_dragged_inside_out() {
        let of = board(Outline::Rectangle { corner: Point::ZERO, size_mm: (80.0, 30.0), turn_deg: 0.0 });
        let right = Handle::Side { across: 1, up: 0 };
        assert!(resized(&of, right, Vec3::new(-80.0, 0.0, 0.0)).is_err());
        assert!(resized(&of, Handle::Far, Vec3::new(0.0, 0.0, 40.0)).is_err());
        let section = board(Outline::ISection {
            corner: Point::ZERO,
            size_mm: (60.0, 240.0),
            flange_mm: 38.0,
            web_mm: 10.0,
            turn_deg: 0.0,
        });
        assert!(resized(&section, Handle::Side { across: 0, up: 1 }, Vec3::new(0.0, -170.0, 0.0)).is_err());
        let bow = board(Outline::Polygon(vec![
            Point::ZERO,
            Point::new(50.0, 0.0),
            Point::new(50.0, 50.0),
            Point::new(0.0, 50.0),
        ]));
        assert!(
            resized(&bow, Handle::Corner(0), Vec3::new(60.0, 20.0, 0.0)).is_err(),
            "it would cross itself"
        );
    }
}
