//! What a hand does on the canvas: press, drag, type, let go; and the edit that comes of it.
//!
//! Takes millimetres and plain events and knows no toolkit. A gesture holds what was taken hold
//! of as it was, so every step starts from there and nothing drifts.

use std::sync::Arc;

use kurbo::{Line, ParamCurveNearest as _, Point, Rect, Vec2};

use super::carry::Carry;
use super::draft::Draft;
use super::typed::{Slot, Typed};
use crate::joint::edit::Change;
use crate::joint::{Edit, Fastener, Look as From, Placement};
use crate::sketch::snap::{Kind, Snap};
use crate::unit::{LengthUnit, Vec3};

/// Where a hand is in its work.
#[derive(Clone, Debug, Default, PartialEq)]
pub enum Gesture {
    /// Nothing is held.
    #[default]
    Idle,
    /// Pressed, and not moved far enough to be a drag.
    Pressed {
        /// What lies under the press.
        held: Held,
        /// Where it was pressed.
        from: Point,
    },
    /// A fastener is moved.
    Moving {
        /// The fastener as it was.
        held: Held,
        /// Where it was pressed.
        from: Point,
        /// Where the pointer is.
        to: Point,
        /// What was typed meanwhile: the length and the direction of the move.
        typed: Typed,
    },
    /// A fastener is turned about its head.
    Turning {
        /// The fastener as it was.
        held: Held,
        /// Where the pointer is.
        to: Point,
        /// What was typed meanwhile: the direction of the shank.
        typed: Typed,
    },
    /// A new fastener is driven: its head is set, the pointer gives its direction.
    Driving {
        /// The new fastener, its head set.
        held: Held,
        /// Where the pointer is.
        to: Point,
        /// What was typed meanwhile: the direction of the shank.
        typed: Typed,
    },
    /// Things are held, and moved once the pointer has gone far enough.
    Carrying(Box<Carry>),
    /// Something is drawn, place by place.
    Drawing(Box<Draft>),
    /// The plane that cuts another view is moved.
    Cutting {
        /// Of which view.
        of: From,
    },
    /// A box is drawn round what is to be chosen; not moved far enough, it is a click.
    Boxing {
        /// Where it was pressed.
        from: Point,
        /// Where the pointer is.
        to: Point,
        /// What is chosen already stays chosen.
        more: bool,
    },
}

/// A fastener that is held.
#[derive(Clone, Debug, PartialEq)]
pub struct Held {
    /// Its place in the joint's list; of a new one, where it will be put.
    pub at: usize,
    /// As it was when it was taken hold of.
    pub fastener: Arc<Fastener>,
    /// From where it is looked at; head, way and square are as this view has them.
    pub view: From,
    /// Its head.
    pub head: Vec3,
    /// The way it points, of unit length.
    pub toward: Vec3,
    /// Which part is held.
    pub grip: Grip,
    /// For one that fills a hole: into the steel, square to it.
    pub square: Option<Vec3>,
}

/// Which part of a fastener is held.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Grip {
    /// Its head: it moves.
    Head,
    /// Its shank: it moves, or turns where it cannot move.
    Shank,
    /// Its point: it turns.
    Point,
}

/// What happens, in millimetres of the drawing plane.
#[derive(Clone, Debug, PartialEq)]
pub enum Event {
    /// The button was pressed.
    Pressed(Point),
    /// The pointer moved.
    Moved(Point),
    /// The button was let go.
    Released(Point),
    /// A character was typed.
    Typed(char),
    /// The last character typed was taken back.
    Erased,
    /// On to the other number: length or direction.
    OtherNumber,
    /// It is right so.
    Confirmed,
    /// Everything back as it was.
    Cancelled,
}

/// A shank that is pointed less than this off square to its face is meant to be square, in degrees: a head that was
/// caught lies a little beside the place that was pressed.
const NEARLY_SQUARE_DEG: f64 = 2.5;

/// What a gesture must know of its surroundings.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Ground {
    /// Moves are whole steps of this; zero for free ones.
    pub step_mm: f64,
    /// Turns are whole steps of this; zero for free ones.
    pub step_deg: f64,
    /// A press becomes a drag beyond this.
    pub slop_mm: f64,
    /// A head is caught by a face nearer than this.
    pub catch_mm: f64,
    /// Faces that catch a head.
    pub faces: Vec<Line>,
    /// What lies near the place that is asked for now: that place, and what it meets.
    pub met: Option<(Point, Snap)>,
    /// Shift is held: moves keep an axis, turns 15-degree steps.
    pub keep: bool,
    /// The unit of numbers typed without one.
    pub unit: LengthUnit,
}

/// A place that the snap has found.
#[derive(Clone, Debug, PartialEq)]
pub struct Snapped {
    /// Where.
    pub at: Point,
    /// What it snapped to, in words; `None` where it is only in whole steps, or free.
    pub to: Option<String>,
}

impl Ground {
    /// What a place meets, if it is the one that was asked for.
    #[must_use]
    pub fn meets(&self, place: Point) -> Option<&Snap> {
        let met = self.met.as_ref().filter(|it| (it.0 - place).hypot() < 1e-6);
        met.map(|it| &it.1)
    }

    /// Where a place snaps to: the nearest face, else whole steps.
    #[must_use]
    pub fn snapped(&self, place: Point) -> Snapped {
        let on_grid = Point::new(stepped(place.x, self.step_mm), stepped(place.y, self.step_mm));
        if let Some(snap) = self.meets(place) {
            // Along a face or a middle line the step still counts.
            let at = match (snap.kind, &snap.along) {
                (Kind::Face | Kind::Grain | Kind::Along, Some(line)) => foot_on(line, on_grid),
                _ => snap.at,
            };
            return Snapped { at, to: Some(snap.says.clone()) };
        }
        match nearest_face(&self.faces, place, self.catch_mm) {
            Some(face) => Snapped { at: foot_on(face, on_grid), to: Some("on the face".into()) },
            None => Snapped { at: on_grid, to: None },
        }
    }
}

/// What comes of a step.
#[derive(Clone, Debug, PartialEq)]
pub enum Outcome {
    /// Nothing yet.
    Nothing,
    /// It was a click, not a drag.
    Clicked,
    /// Show the joint with this edit, but do not keep it.
    Preview(Edit),
    /// Keep this edit as a step with a name.
    Done(&'static str, Edit),
    /// Choose what lies in the box, or that too.
    Boxed(Rect, bool),
    /// Everything back as it was.
    Dropped,
}

impl Gesture {
    /// Whether something is held and moving, so that keys belong to the gesture.
    #[must_use]
    pub fn is_dragging(&self) -> bool {
        match self {
            Self::Moving { .. } | Self::Turning { .. } | Self::Driving { .. } => true,
            Self::Carrying(carry) => carry.moved,
            Self::Drawing(_) => true,
            Self::Cutting { .. } => true,
            Self::Idle | Self::Pressed { .. } | Self::Boxing { .. } => false,
        }
    }

    /// Whether it follows the pointer out of its pane, as what the hand holds does.
    #[must_use]
    pub fn is_held(&self) -> bool {
        !matches!(self, Self::Idle | Self::Drawing(_))
    }

    /// What was typed so far.
    #[must_use]
    pub fn typed(&self) -> Option<&Typed> {
        match self {
            Self::Moving { typed, .. } | Self::Turning { typed, .. } | Self::Driving { typed, .. } => {
                Some(typed)
            }
            Self::Carrying(carry) => Some(&carry.typed),
            Self::Drawing(draft) => Some(&draft.typed),
            Self::Idle | Self::Pressed { .. } | Self::Cutting { .. } | Self::Boxing { .. } => None,
        }
    }

    fn typed_mut(&mut self) -> Option<&mut Typed> {
        match self {
            Self::Moving { typed, .. } | Self::Turning { typed, .. } | Self::Driving { typed, .. } => {
                Some(typed)
            }
            Self::Carrying(carry) => Some(&mut carry.typed),
            Self::Drawing(draft) => Some(&mut draft.typed),
            Self::Idle | Self::Pressed { .. } | Self::Cutting { .. } | Self::Boxing { .. } => None,
        }
    }

    fn to_mut(&mut self) -> Option<&mut Point> {
        match self {
            Self::Moving { to, .. }
            | Self::Turning { to, .. }
            | Self::Driving { to, .. }
            | Self::Boxing { to, .. } => Some(to),
            Self::Carrying(carry) => Some(&mut carry.to),
            Self::Drawing(draft) => Some(&mut draft.to),
            Self::Idle | Self::Pressed { .. } | Self::Cutting { .. } => None,
        }
    }

    /// Whether something is typed of which nothing can be made.
    #[must_use]
    pub fn is_unreadable(&self, ground: &Ground) -> bool {
        let has_typed = self.typed().is_some_and(|it| !it.is_empty());
        match self {
            Self::Moving { .. } | Self::Turning { .. } | Self::Driving { .. } => {
                has_typed && self.result(ground).is_none()
            }
            Self::Carrying(carry) => has_typed && carry.edit(ground).is_none(),
            Self::Idle
            | Self::Pressed { .. }
            | Self::Drawing(_)
            | Self::Cutting { .. }
            | Self::Boxing { .. } => false,
        }
    }

    /// The fastener as the gesture would leave it now; `None` while nothing is dragged or while
    /// what is typed cannot be read.
    #[must_use]
    pub fn result(&self, ground: &Ground) -> Option<Fastener> {
        match self {
            Self::Idle
            | Self::Pressed { .. }
            | Self::Carrying(_)
            | Self::Drawing(_)
            | Self::Cutting { .. }
            | Self::Boxing { .. } => None,
            Self::Moving { held, from, to, typed } => {
                let by = moved_by(held, *to - *from, typed, ground)?;
                let head = Vec3::new(held.head.x + by.x, held.head.y + by.y, held.head.z);
                Some(placed(held, head, held.toward))
            }
            Self::Turning { held, to, typed } | Self::Driving { held, to, typed } => {
                Some(placed(held, held.head, turned(held, *to, typed, ground)?))
            }
        }
    }
}

/// One step of a gesture.
#[must_use]
pub fn step(mut gesture: Gesture, event: &Event, ground: &Ground) -> (Gesture, Outcome) {
    match event {
        Event::Pressed(_) => {}
        Event::Moved(to) => {
            if let Gesture::Pressed { held, from } = &gesture {
                // A fastener that fills a hole stays in its hole: by its head nothing is done to it.
                let stays = held.grip == Grip::Head && held.square.is_some();
                if stays || (*to - *from).hypot() <= ground.slop_mm {
                    return (gesture, Outcome::Nothing);
                }
                gesture = begun(held.clone(), *from, *to);
            }
            if let Gesture::Carrying(carry) = &mut gesture {
                carry.moved |= ground.slop_mm < (*to - carry.from).hypot();
            }
            if let Some(place) = gesture.to_mut() {
                *place = *to;
            }
        }
        Event::Released(to) => {
            if let Some(place) = gesture.to_mut() {
                *place = *to;
            }
            return finished(&gesture, ground);
        }
        Event::Confirmed => return finished(&gesture, ground),
        Event::Cancelled => {
            let dropped = gesture != Gesture::Idle;
            return (Gesture::Idle, if dropped { Outcome::Dropped } else { Outcome::Nothing });
        }
        Event::Typed(character) => gesture.typed_mut().into_iter().for_each(|it| it.push(*character)),
        Event::Erased => gesture.typed_mut().into_iter().for_each(Typed::erase),
        Event::OtherNumber => gesture.typed_mut().into_iter().for_each(Typed::other),
    }
    let outcome = preview(&gesture, ground);
    (gesture, outcome)
}

fn begun(held: Held, from: Point, to: Point) -> Gesture {
    match held.grip {
        Grip::Head | Grip::Shank if held.square.is_none() => {
            let typed = Typed::for_move(held.view);
            Gesture::Moving { held, from, to, typed }
        }
        Grip::Head | Grip::Shank | Grip::Point => Gesture::Turning { held, to, typed: Typed::for_turn() },
    }
}

fn preview(gesture: &Gesture, ground: &Ground) -> Outcome {
    edit_of(gesture, ground).map_or(Outcome::Nothing, |it| Outcome::Preview(it.1))
}

fn finished(gesture: &Gesture, ground: &Ground) -> (Gesture, Outcome) {
    let outcome = match gesture {
        Gesture::Idle | Gesture::Drawing(_) | Gesture::Cutting { .. } => Outcome::Nothing,
        Gesture::Pressed { .. } => Outcome::Clicked,
        Gesture::Boxing { from, to, more } => {
            if (*to - *from).hypot() <= ground.slop_mm {
                Outcome::Clicked
            } else {
                Outcome::Boxed(Rect::from_points(*from, *to), *more)
            }
        }
        Gesture::Carrying(carry) if !carry.moved => Outcome::Clicked,
        Gesture::Carrying(carry) => match edit_of(gesture, ground) {
            Some((name, edit)) if !carry.stays(ground) => Outcome::Done(name, edit),
            Some(_) | None => Outcome::Dropped,
        },
        Gesture::Moving { held, .. } | Gesture::Turning { held, .. } => match edit_of(gesture, ground) {
            Some((name, edit)) if !changes_nothing(&edit, held) => Outcome::Done(name, edit),
            Some(_) | None => Outcome::Dropped,
        },
        Gesture::Driving { .. } => {
            edit_of(gesture, ground).map_or(Outcome::Dropped, |(name, edit)| Outcome::Done(name, edit))
        }
    };
    (Gesture::Idle, outcome)
}

fn changes_nothing(edit: &Edit, held: &Held) -> bool {
    matches!(edit, Edit::Fasteners(Change::Replace { new, .. }) if **new == *held.fastener)
}

fn edit_of(gesture: &Gesture, ground: &Ground) -> Option<(&'static str, Edit)> {
    if let Gesture::Carrying(carry) = gesture {
        return carry.edit(ground).map(|it| (carry.verb(), it));
    }
    let new = Box::new(gesture.result(ground)?);
    match gesture {
        Gesture::Idle
        | Gesture::Pressed { .. }
        | Gesture::Carrying(_)
        | Gesture::Drawing(_)
        | Gesture::Cutting { .. }
        | Gesture::Boxing { .. } => None,
        Gesture::Moving { held, .. } => Some(("Move", Edit::Fasteners(Change::Replace { at: held.at, new }))),
        Gesture::Turning { held, .. } => {
            Some(("Turn", Edit::Fasteners(Change::Replace { at: held.at, new })))
        }
        Gesture::Driving { held, .. } => {
            Some(("Drive", Edit::Fasteners(Change::Insert { at: held.at, new })))
        }
    }
}

/// The fastener at its new place.
fn placed(held: &Held, head: Vec3, toward: Vec3) -> Fastener {
    let mut new = (*held.fastener).clone();
    match (&mut new.place, held.square) {
        (Placement::Free { head: at, toward: way }, _) => {
            (*at, *way) = (held.view.turned_back(head), held.view.turned_back(toward));
        }
        (Placement::Fills { angle_deg, .. }, Some(square)) if held.view == From::Front => {
            *angle_deg = Some(angle_between(square, toward));
        }
        (Placement::Fills { .. }, _) => {}
    }
    new
}

fn angle_between(square: Vec3, toward: Vec3) -> f64 {
    let (a, b) = (Vec2::new(square.x, square.y), Vec2::new(toward.x, toward.y));
    tidy(a.cross(b).atan2(a.dot(b)).to_degrees())
}

/// The way in which the move of a head goes and how far; a face catches what is neither typed nor kept.
fn moved_by(held: &Held, drag: Vec2, typed: &Typed, ground: &Ground) -> Option<Vec2> {
    let head = held.head.plan();
    let by = shift(head, drag, typed, ground)?;
    if ground.keep || !typed.is_empty() {
        return Some(by);
    }
    if ground.meets(head + drag).is_some() {
        return Some(ground.snapped(head + drag).at - head);
    }
    let caught = nearest_face(&ground.faces, head + drag, ground.catch_mm);
    Some(caught.map_or(by, |face| foot_on(face, head + by) - head))
}

/// How far a drag moves what was at `anchor`: typed numbers first, then the kept axis, then whole steps.
///
/// `None` while something typed cannot be read.
#[must_use]
pub fn shift(anchor: Point, drag: Vec2, typed: &Typed, ground: &Ground) -> Option<Vec2> {
    let length = typed.length_mm(Slot::Length, ground.unit)?;
    let angle = typed.angle_deg()?;
    let (across, up) = typed.place_mm(ground.unit)?;
    let kept = if ground.keep { on_axis(drag) } else { drag };
    if length.is_some() || angle.is_some() {
        let along = angle.map_or_else(
            || if kept.hypot() == 0.0 { Vec2::new(1.0, 0.0) } else { kept.normalize() },
            direction,
        );
        let far = length.unwrap_or_else(|| stepped(drag.dot(along), ground.step_mm));
        return Some(along * far);
    }
    let by = Vec2::new(stepped(kept.x, ground.step_mm), stepped(kept.y, ground.step_mm));
    Some(Vec2::new(across.map_or(by.x, |it| it - anchor.x), up.map_or(by.y, |it| it - anchor.y)))
}

/// The face nearest to a place, if it lies within reach.
#[must_use]
pub fn nearest_face(faces: &[Line], place: Point, reach_mm: f64) -> Option<&Line> {
    use kurbo::ParamCurveNearest as _;
    faces
        .iter()
        .map(|it| (it.nearest(place, 1e-6).distance_sq.sqrt(), it))
        .filter(|it| it.0 <= reach_mm)
        .min_by(|a, b| a.0.total_cmp(&b.0))
        .map(|it| it.1)
}

/// The foot of the perpendicular from a place on a face's line.
#[must_use]
pub fn foot_on(face: &Line, place: Point) -> Point {
    let along = face.p1 - face.p0;
    let length = along.hypot();
    if length == 0.0 {
        return face.p0;
    }
    let unit = along / length;
    face.p0 + unit * (place - face.p0).dot(unit)
}

/// The direction square to the face that the head is nearest to, where the hand points nearly so and turns by steps.
fn square_to(head: Point, pointed: f64, ground: &Ground) -> Option<f64> {
    if ground.step_deg <= 0.0 {
        return None;
    }
    let away = |it: &Line| it.nearest(head, 1e-9).distance_sq;
    let face = ground.faces.iter().min_by(|a, b| away(a).total_cmp(&away(b)))?;
    let along = face.p1 - face.p0;
    let normal = tidy(along.y.atan2(along.x).to_degrees() + 90.0);
    let off = (pointed - normal).rem_euclid(180.0);
    let off = if 90.0 < off { off - 180.0 } else { off };
    (off.abs() < NEARLY_SQUARE_DEG).then(|| tidy(pointed - off))
}

/// The direction of the shank after a turn; the share that runs in depth is kept.
fn turned(held: &Held, to: Point, typed: &Typed, ground: &Ground) -> Option<Vec3> {
    let in_plane = held.toward.x.hypot(held.toward.y);
    let wanted = to - held.head.plan();
    let degrees = match typed.angle_deg()? {
        Some(typed) => typed,
        None if wanted.hypot() == 0.0 => return Some(held.toward),
        None => {
            let pointed = wanted.y.atan2(wanted.x).to_degrees();
            match square_to(held.head.plan(), pointed, ground) {
                Some(square) if !ground.keep => square,
                _ => stepped(pointed, if ground.keep { 15.0 } else { ground.step_deg }),
            }
        }
    };
    if in_plane < 1e-9 {
        // Seen head on, it has no direction in the drawing plane to turn.
        return Some(held.toward);
    }
    let way = direction(degrees) * in_plane;
    Some(Vec3::new(way.x, way.y, held.toward.z))
}

/// The unit vector at so many degrees anticlockwise from the right; exact at the quarters.
#[must_use]
pub fn direction(degrees: f64) -> Vec2 {
    let quarter = (degrees / 90.0).round();
    let rest = degrees - quarter * 90.0;
    let (sin, cos) = if rest == 0.0 { (0.0, 1.0) } else { rest.to_radians().sin_cos() };
    let way = match quarter.rem_euclid(4.0) {
        q if q < 0.5 => Vec2::new(cos, sin),
        q if q < 1.5 => Vec2::new(-sin, cos),
        q if q < 2.5 => Vec2::new(-cos, -sin),
        _ => Vec2::new(sin, -cos),
    };
    // Adding zero turns minus zero into zero, which files and fields show more kindly.
    way + Vec2::ZERO
}

/// The longer of the two parts of a move: across or up.
#[must_use]
pub fn on_axis(by: Vec2) -> Vec2 {
    if by.x.abs() < by.y.abs() { Vec2::new(0.0, by.y) } else { Vec2::new(by.x, 0.0) }
}

/// A value in whole steps; as it is where there is no step.
#[must_use]
pub fn stepped(value: f64, step: f64) -> f64 {
    if step <= 0.0 { value } else { clean((value / step).round() * step) }
}

/// Without the crumbs of a sum of steps: to a billionth of a millimetre, so that twelve eighths of an inch are 38.1.
#[must_use]
pub fn clean(mm: f64) -> f64 {
    (mm * 1e9).round() / 1e9 + 0.0
}

/// Without the crumbs of an arc tangent: to a millionth of a degree.
fn tidy(degrees: f64) -> f64 {
    (degrees * 1e6).round() / 1e6
}

#[cfg(test)]
mod tests;
