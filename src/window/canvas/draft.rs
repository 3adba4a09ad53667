//! Drawing by the hand: presses, moves and typed numbers in, the places of what is drawn out.
//!
//! Takes millimetres of the drawing plane and plain events, and knows no toolkit and no joint.

use kurbo::{Point, Vec2};

use super::gesture::{Event, Ground, clean, direction, on_axis, stepped};
use super::typed::{Slot, Typed};
use crate::joint::Look;

/// How many places are asked for, and what they mean.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Figure {
    /// One place.
    One,
    /// Two corners of a box.
    Box,
    /// A centre and a place on the rim.
    Round,
    /// A line from one place to another.
    Line,
    /// Three places.
    Three,
    /// Corner after corner, closed at the end; some pieces may be arcs.
    Closed {
        /// Pieces may be arcs.
        arcs: bool,
    },
    /// Corner after corner, left open.
    Open,
}

/// A place that was set, and how the pen came there.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Corner {
    /// Where.
    pub at: Point,
    /// For an arc: a place between, on it. `None` for a straight line.
    pub through: Option<Point>,
}

impl Corner {
    /// A corner at the end of a straight line.
    #[must_use]
    pub fn straight(at: Point) -> Self {
        Self { at, through: None }
    }
}

/// What is being drawn.
#[derive(Clone, Debug, PartialEq)]
pub struct Draft {
    /// What it asks for.
    pub figure: Figure,
    /// The view that it is drawn in.
    pub view: Look,
    /// The places that are set.
    pub corners: Vec<Corner>,
    /// The place on the arc that is set already.
    pub through: Option<Point>,
    /// The next piece is an arc.
    pub arc: bool,
    /// Where the pointer is.
    pub to: Point,
    /// The pointer has been over the paper, so that there is something to show.
    pub seen: bool,
    /// The pointer has moved since the last place was set, so that it says which way to go on.
    pub moved: bool,
    /// What was typed for the next place.
    pub typed: Typed,
    /// Where the button is held down since.
    down: Option<Point>,
}

/// What came of a step.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Step {
    /// More places are to come.
    Going,
    /// All places are set.
    Done,
    /// Nothing was set, and it is given up.
    GivenUp,
}

impl Draft {
    /// Nothing is set yet.
    #[must_use]
    pub fn new(figure: Figure, view: Look) -> Self {
        let mut new = Self {
            figure,
            view,
            corners: Vec::new(),
            through: None,
            arc: false,
            to: Point::ORIGIN,
            seen: false,
            moved: false,
            typed: Typed::new(&[]),
            down: None,
        };
        new.typed = new.slots();
        new
    }

    /// What can be typed for the next place.
    fn slots(&self) -> Typed {
        match (self.corners.is_empty(), self.figure) {
            (true, _) => Typed::new(&Slot::place_in(self.view)),
            (false, Figure::Box) => Typed::new(&[Slot::Width, Slot::Height]),
            (false, Figure::Round) => Typed::new(&[Slot::Diameter]),
            (false, _) => Typed::for_move(self.view),
        }
    }

    /// So many places make the figure; `None` where the user says when it ends.
    fn wanted(&self) -> Option<usize> {
        match self.figure {
            Figure::One => Some(1),
            Figure::Box | Figure::Round | Figure::Line => Some(2),
            Figure::Three => Some(3),
            Figure::Closed { .. } | Figure::Open => None,
        }
    }

    /// Where the next place would be; `None` while what is typed cannot be read.
    #[must_use]
    pub fn next(&self, ground: &Ground) -> Option<Point> {
        self.next_as_summed(ground).map(|it| Point::new(clean(it.x), clean(it.y)))
    }

    fn next_as_summed(&self, ground: &Ground) -> Option<Point> {
        let unit = ground.unit;
        let length = |slot| self.typed.length_mm(slot, unit);
        let free = ground.snapped(self.to).at;
        let Some(last) = self.corners.last().map(|it| it.at) else {
            let (across, up) = self.typed.place_mm(unit)?;
            return Some(Point::new(across.unwrap_or(free.x), up.unwrap_or(free.y)));
        };
        let drag = if self.moved { self.to - last } else { Vec2::ZERO };
        match self.figure {
            Figure::Box => {
                let toward = |way: f64| if way < 0.0 { -1.0 } else { 1.0 };
                let (width, height) = (length(Slot::Width)?, length(Slot::Height)?);
                let mut by = free - last;
                if ground.keep {
                    let side = by.x.abs().max(by.y.abs());
                    by = Vec2::new(side * toward(drag.x), side * toward(drag.y));
                }
                let x = width.map_or(by.x, |it| it * toward(drag.x));
                Some(last + Vec2::new(x, height.map_or(by.y, |it| it * toward(drag.y))))
            }
            Figure::Round => match length(Slot::Diameter)? {
                Some(diameter) => Some(last + Vec2::new(diameter / 2.0, 0.0)),
                None => Some(last + Vec2::new(stepped((free - last).hypot(), ground.step_mm / 2.0), 0.0)),
            },
            Figure::One | Figure::Line | Figure::Three | Figure::Closed { .. } | Figure::Open => {
                self.next_on_a_way(last, free, ground)
            }
        }
    }

    /// The next place by its length and direction from the last one, by its coordinates, or where it snaps.
    fn next_on_a_way(&self, last: Point, free: Point, ground: &Ground) -> Option<Point> {
        let length = self.typed.length_mm(Slot::Length, ground.unit)?;
        let angle = self.typed.angle_deg()?;
        let (across, up) = self.typed.place_mm(ground.unit)?;
        let kept = if ground.keep { last + on_axis(free - last) } else { free };
        if length.is_none() && angle.is_none() {
            return Some(Point::new(across.unwrap_or(kept.x), up.unwrap_or(kept.y)));
        }
        let drag = if self.moved { kept - last } else { Vec2::ZERO };
        let way = match angle {
            Some(deg) => direction(deg),
            None if drag.hypot() == 0.0 => Vec2::new(1.0, 0.0),
            None => drag.normalize(),
        };
        let far = length.unwrap_or_else(|| stepped((self.to - last).dot(way), ground.step_mm));
        Some(last + way * far)
    }

    /// Whether every place is set, so that only a new beginning can follow.
    #[must_use]
    pub fn is_full(&self) -> bool {
        self.wanted().is_some_and(|it| it <= self.corners.len())
    }

    /// The corners as they would be with the next place set where the pointer is.
    #[must_use]
    pub fn with_next(&self, ground: &Ground) -> Vec<Corner> {
        let mut all = self.corners.clone();
        if self.seen
            && !self.is_full()
            && let Some(at) = self.next(ground)
        {
            all.push(match self.through {
                Some(through) => Corner { at, through: Some(through) },
                None => Corner::straight(at),
            });
        }
        all
    }

    /// One step.
    pub fn step(&mut self, event: &Event, ground: &Ground) -> Step {
        match event {
            Event::Moved(to) => (self.to, self.seen, self.moved) = (*to, true, true),
            Event::Pressed(at) => {
                (self.to, self.seen, self.down) = (*at, true, Some(*at));
                return self.set(ground);
            }
            Event::Released(at) => {
                self.to = *at;
                // A drag sets its second place where it ends; a click leaves that to the next press.
                let dragged = self.down.take().is_some_and(|from| ground.slop_mm < (*at - from).hypot());
                let by_drag = matches!(self.figure, Figure::Box | Figure::Round | Figure::Line);
                if dragged && by_drag && self.corners.len() == 1 {
                    return self.set(ground);
                }
            }
            Event::Confirmed if !self.typed.is_empty() => return self.set(ground),
            Event::Confirmed => return self.end(),
            Event::Typed(character) => {
                self.typed.push(*character);
                self.seen = true;
            }
            Event::Erased if self.typed.is_empty() => {
                if self.through.take().is_none() {
                    let _ = self.corners.pop();
                }
                self.typed = self.slots();
            }
            Event::Erased => self.typed.erase(),
            Event::OtherNumber => self.typed.other(),
            Event::Cancelled if self.corners.is_empty() => return Step::GivenUp,
            Event::Cancelled => {
                let seen = self.seen;
                let to = self.to;
                *self = Self::new(self.figure, self.view);
                (self.seen, self.to) = (seen, to);
            }
        }
        Step::Going
    }

    /// Whether the next piece can be made an arc.
    #[must_use]
    pub fn may_arc(&self) -> bool {
        self.figure == Figure::Closed { arcs: true } && !self.corners.is_empty()
    }

    /// The next piece is an arc, or a straight line again.
    pub fn toggle_arc(&mut self) {
        if self.may_arc() {
            self.arc = !self.arc;
            self.through = None;
        }
    }

    /// Sets the next place.
    fn set(&mut self, ground: &Ground) -> Step {
        if self.is_full() {
            return Step::Going;
        }
        let Some(at) = self.next(ground) else { return Step::Going };
        if self.arc && self.through.is_none() {
            self.through = Some(at);
            self.typed = self.slots();
            return Step::Going;
        }
        let first = self.corners.first().map(|it| it.at);
        let closes = matches!(self.figure, Figure::Closed { .. })
            && self.typed.is_empty()
            && first.is_some_and(|it| (it - at).hypot() <= ground.slop_mm.max(1e-9) * 2.0);
        if closes && 2 < self.corners.len() + usize::from(self.through.is_some()) {
            if let Some(through) = self.through.take() {
                self.corners.push(Corner { at: first.unwrap_or(at), through: Some(through) });
            }
            return Step::Done;
        }
        // Twice the same place is no piece.
        if self.corners.last().is_some_and(|it| (it.at - at).hypot() < 1e-9) {
            self.typed = self.slots();
            return Step::Going;
        }
        self.corners.push(Corner { at, through: self.through.take() });
        self.moved = false;
        self.arc = false;
        self.typed = self.slots();
        if self.wanted() == Some(self.corners.len()) { Step::Done } else { Step::Going }
    }

    /// Ends a figure that has as many places as the user likes.
    fn end(&self) -> Step {
        let enough = match self.figure {
            Figure::Closed { arcs } => 3 <= self.corners.len() || (arcs && 2 <= self.corners.len()),
            Figure::Open => 2 <= self.corners.len(),
            Figure::One | Figure::Box | Figure::Round | Figure::Line | Figure::Three => false,
        };
        if enough { Step::Done } else { Step::Going }
    }
}

/// Path data of a closed outline: straight pieces and arcs through three places.
#[must_use]
pub fn path_data(corners: &[Corner]) -> String {
    let said = |it: Point| format!("{} {}", tidy(it.x), tidy(it.y));
    let mut data = String::new();
    let mut last = None;
    for corner in corners {
        match (last, corner.through.map(|it| (it, last.and_then(|from| arc(from, it, corner.at))))) {
            (None, _) => data = format!("M {}", said(corner.at)),
            (Some(_), Some((_, Some((radius, large, sweep))))) => {
                let flag = |it: bool| u8::from(it);
                data += &format!(
                    " A {0} {0} 0 {1} {2} {3}",
                    tidy(radius),
                    flag(large),
                    flag(sweep),
                    said(corner.at)
                );
            }
            (Some(_), _) => data += &format!(" L {}", said(corner.at)),
        }
        last = Some(corner.at);
    }
    data + " Z"
}

/// The arc from one place through another to a third: radius, whether it is the larger part of its circle, and
/// whether it runs anticlockwise as the model has it, y up. `None` where the three lie on a line.
#[must_use]
pub fn arc(from: Point, through: Point, to: Point) -> Option<(f64, bool, bool)> {
    let (a, b) = (through - from, to - from);
    let cross = a.cross(b);
    if cross.abs() < 1e-9 * (a.hypot() * b.hypot()).max(1e-9) {
        return None;
    }
    // The circumcentre, from `from`.
    let centre =
        Vec2::new(b.y * a.hypot2() - a.y * b.hypot2(), a.x * b.hypot2() - b.x * a.hypot2()) / (2.0 * cross);
    let anticlockwise = 0.0 < cross;
    let side = b.cross(centre);
    // The centre lies on the same side of the chord as the arc when the arc is the larger part.
    let large = (0.0 < side) == (0.0 < b.cross(a));
    Some((centre.hypot(), large, anticlockwise))
}

/// Without the crumbs of a sum: to a millionth of a millimetre.
fn tidy(mm: f64) -> f64 {
    (mm * 1e6).round() / 1e6 + 0.0
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::shape::Region;
    use crate::unit::LengthUnit;

    fn ground() -> Ground {
        Ground { step_mm: 1.0, slop_mm: 0.5, unit: LengthUnit::Millimetre, ..Ground::default() }
    }

    fn typed(draft: &mut Draft, text: &str) -> Step {
        let mut last = Step::Going;
        for it in text.chars() {
            let event = match it {
                '\t' => Event::OtherNumber,
                '\n' => Event::Confirmed,
                it => Event::Typed(it),
            };
            last = draft.step(&event, &ground());
        }
        last
    }

    #[test]
    fn a_box_is_drawn_by_a_drag_by_two_clicks_and_by_numbers_alone() {
        let (from, to) = (Point::new(10.2, 20.4), Point::new(50.0, 80.0));
        let expected = [Point::new(10.0, 20.0), Point::new(50.0, 80.0)];
        let places = |it: &Draft| it.corners.iter().map(|it| it.at).collect::<Vec<_>>();
        let mut drag = Draft::new(Figure::Box, Look::Front);
        assert_eq!(drag.step(&Event::Pressed(from), &ground()), Step::Going);
        assert_eq!(drag.step(&Event::Moved(to), &ground()), Step::Going);
        assert_eq!(drag.step(&Event::Released(to), &ground()), Step::Done);
        assert_eq!(places(&drag), expected);
        let mut clicks = Draft::new(Figure::Box, Look::Front);
        for event in [Event::Pressed(from), Event::Released(from), Event::Moved(to)] {
            assert_eq!(clicks.step(&event, &ground()), Step::Going);
        }
        assert_eq!(clicks.step(&Event::Pressed(to), &ground()), Step::Done);
        assert_eq!(places(&clicks), expected);
        let mut keys = Draft::new(Figure::Box, Look::Front);
        assert_eq!(typed(&mut keys, "10\t20\n"), Step::Going);
        assert_eq!(typed(&mut keys, "40\t60\n"), Step::Done);
        assert_eq!(places(&keys), expected);
    }

    #[test]
    fn a_closed_figure_ends_at_its_first_place_or_by_enter() {
        let mut draft = Draft::new(Figure::Closed { arcs: false }, Look::Front);
        let _ = typed(&mut draft, "0\t0\n30\t0\n40\t90\n");
        assert_eq!(draft.corners.last().map(|it| it.at), Some(Point::new(30.0, 40.0)));
        assert_eq!(draft.step(&Event::Pressed(Point::new(0.2, 0.1)), &ground()), Step::Done);
        let mut draft = Draft::new(Figure::Closed { arcs: false }, Look::Front);
        let _ = typed(&mut draft, "0\t0\n30\t0\n");
        assert_eq!(draft.step(&Event::Confirmed, &ground()), Step::Going, "two corners are no outline");
        let _ = typed(&mut draft, "40\t90\n");
        assert_eq!(draft.step(&Event::Confirmed, &ground()), Step::Done);
        let _ = draft.step(&Event::Erased, &ground());
        assert_eq!(draft.corners.len(), 2, "the last place is taken back");
    }

    #[test]
    fn an_arc_runs_through_its_three_places() {
        // A half disk of radius 10: the area is half of pi r squared.
        let corners = [
            Corner::straight(Point::new(0.0, 0.0)),
            Corner::straight(Point::new(20.0, 0.0)),
            Corner { at: Point::new(0.0, 0.0), through: Some(Point::new(10.0, 10.0)) },
        ];
        let region = Region::path(&path_data(&corners)).unwrap();
        assert!((region.area_mm2() - std::f64::consts::PI * 50.0).abs() < 1e-6, "{}", path_data(&corners));
        assert!(region.contains(Point::new(10.0, 9.9)) && !region.contains(Point::new(10.0, -1.0)));
        // Three quarters of a disk: the arc is the larger part of its circle.
        for mirror in [1.0, -1.0] {
            let at = |x: f64, y: f64| Point::new(x, y * mirror);
            let corners = [
                Corner::straight(at(0.0, 0.0)),
                Corner::straight(at(10.0, 0.0)),
                Corner { at: at(0.0, -10.0), through: Some(at(-10.0, 0.0)) },
            ];
            let region = Region::path(&path_data(&corners)).unwrap();
            assert!(
                (region.area_mm2() - std::f64::consts::PI * 75.0).abs() < 1e-6,
                "{}",
                path_data(&corners)
            );
        }
        assert_eq!(arc(Point::ORIGIN, Point::new(1.0, 1.0), Point::new(2.0, 2.0)), None);
    }
}
