//! What is carried by the hand: things of the joint, a handle or the grain of a member, a hole in its steel or the line of a dimension;
//! from where, and the edit that comes of it.

use std::sync::Arc;

use kurbo::{Point, Vec2};

use super::gesture::{Ground, shift};
use super::grain;
use super::typed::Typed;
use crate::drawing::Subject;
use crate::joint::Look as From;
use crate::joint::edit::Change;
use crate::joint::{Dimension, Edit, Grain, Joint, Measures, Member};
use crate::sketch::arrange::{self, Chosen};
use crate::sketch::form::holes;
use crate::sketch::member::resize::{Handle, resized};
use crate::sketch::motion::Motion;
use crate::unit::Vec3;

/// What is in the hand.
#[derive(Clone, Debug, PartialEq)]
pub enum Load {
    /// Things, by their ids: they are moved.
    Things(Vec<String>),
    /// A handle of the member at a place of the list: its size changes.
    Handle(usize, Handle),
    /// The grain of the member at a place of the list: it turns.
    Grain(usize),
    /// A hole: connector, plate, hole. It moves in its steel.
    Hole(usize, usize, usize),
    /// A dimension at a place of the list: its line moves off what it measures, or nearer.
    Dimension(usize),
}

/// Something that is held.
#[derive(Clone, Debug, PartialEq)]
pub struct Carry {
    /// The joint as it was when they were taken hold of.
    pub joint: Arc<Joint>,
    /// What is held.
    pub load: Load,
    /// What lay under the press: a click chooses it alone.
    pub pressed: Subject,
    /// From where it is looked at.
    pub view: From,
    /// The place whose coordinates can be typed: the lower left corner of what is held.
    pub anchor: Point,
    /// The place of what is held that meets other things: the corner or middle that is nearest to the press.
    pub corner: Point,
    /// Where it was pressed.
    pub from: Point,
    /// Where the pointer is.
    pub to: Point,
    /// The pointer has gone far enough for a drag.
    pub moved: bool,
    /// What was typed meanwhile.
    pub typed: Typed,
}

impl Carry {
    /// How far the things are moved; `None` while what is typed cannot be read.
    #[must_use]
    pub fn by(&self, ground: &Ground) -> Option<Vec2> {
        let drag = self.to - self.from;
        if self.typed.is_empty() && !ground.keep && ground.meets(self.corner + drag).is_some() {
            return Some(ground.snapped(self.corner + drag).at - self.corner);
        }
        shift(self.anchor, drag, &self.typed, ground)
    }

    /// Whether they are where they were.
    #[must_use]
    pub fn stays(&self, ground: &Ground) -> bool {
        if let Load::Grain(at) = self.load {
            return self.joint.members.get(at).map(|it| it.grain) == self.grain(ground);
        }
        self.by(ground).is_some_and(|it| it == Vec2::ZERO)
    }

    /// The edit that moves them; `None` before the drag has begun and while what is typed cannot be read.
    #[must_use]
    pub fn edit(&self, ground: &Ground) -> Option<Edit> {
        if !self.moved {
            return None;
        }
        if let Load::Grain(at) = self.load {
            let new = Member { grain: self.grain(ground)?, ..self.joint.members.get(at)?.clone() };
            return Some(Edit::Members(Change::Replace { at, new: Box::new(new) }));
        }
        let by = self.by(ground)?;
        if let Load::Dimension(at) = self.load {
            return Some(self.line_moved(at, by).unwrap_or(Edit::All(Vec::new())));
        }
        let by = self.view.turned_back(Vec3::new(by.x, by.y, 0.0));
        // What cannot be moved so far stays where it is.
        Some(self.moved(by).unwrap_or(Edit::All(Vec::new())))
    }

    /// The grain as the hand shows it.
    #[must_use]
    pub fn grain(&self, ground: &Ground) -> Option<Grain> {
        grain::shown_by((self.anchor, self.to), &self.typed, ground)
    }

    fn moved(&self, by: Vec3) -> Option<Edit> {
        let joint = &self.joint;
        match &self.load {
            Load::Things(ids) => arrange::moved(joint, ids, &Motion::shift(by)).ok(),
            Load::Handle(at, handle) => {
                let new = resized(joint.members.get(*at)?, *handle, by).ok()?;
                Some(Edit::Members(Change::Replace { at: *at, new: Box::new(new) }))
            }
            Load::Hole(connector, plate, hole) => {
                let mut new = joint.connectors.get(*connector)?.clone();
                let it = new.plates.get_mut(*plate)?;
                *it = holes::moved(it, *hole, by, joint.standard).ok()?;
                Some(Edit::Connectors(Change::Replace { at: *connector, new: Box::new(new) }))
            }
            Load::Grain(_) | Load::Dimension(_) => None,
        }
    }

    /// The line of a dimension moved in the plane of its view.
    fn line_moved(&self, at: usize, by: Vec2) -> Option<Edit> {
        let mut new = self.joint.dimensions.get(at)?.clone();
        new.offset_mm += self.off_line(&new, by)?;
        Some(Edit::Dimensions(Change::Replace { at, new: Box::new(new) }))
    }

    /// How far a shift goes off what a dimension measures.
    fn off_line(&self, it: &Dimension, by: Vec2) -> Option<f64> {
        let way = match it.measures {
            Measures::Straight => {
                let trace = crate::trace::trace(&self.joint);
                let measured = crate::trace::dimension(&self.joint, &trace, it)?;
                (measured.to - measured.from).normalize()
            }
            Measures::Level => Vec2::new(1.0, 0.0),
            Measures::Upright => Vec2::new(0.0, 1.0),
        };
        let off = way.cross(by);
        off.is_finite().then_some(off)
    }

    /// What is done to it, in a word.
    #[must_use]
    pub fn verb(&self) -> &'static str {
        match self.load {
            Load::Handle(..) => "Resize",
            Load::Grain(_) => "Turn the grain of",
            Load::Things(_) | Load::Hole(..) | Load::Dimension(_) => "Move",
        }
    }

    /// The ids of what moves with the hand, so that it does not meet itself.
    #[must_use]
    pub fn own_ids(&self, joint: &Joint) -> Vec<String> {
        match &self.load {
            Load::Things(ids) => {
                Chosen::of(joint, ids).with_fills(joint).ids(joint).map(str::to_owned).collect()
            }
            Load::Handle(at, _) | Load::Grain(at) => {
                joint.members.get(*at).map(|it| it.id.clone()).into_iter().collect()
            }
            Load::Hole(at, ..) => joint.connectors.get(*at).map(|it| it.id.clone()).into_iter().collect(),
            Load::Dimension(_) => Vec::new(),
        }
    }
}
