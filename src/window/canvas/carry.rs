//! Things that are carried by the hand: what of the joint, from where, and the edit that moves them.

use std::sync::Arc;

use kurbo::{Point, Vec2};

use super::gesture::{Ground, shift};
use super::typed::Typed;
use crate::drawing::{Subject, turned_back};
use crate::joint::Look as From;
use crate::joint::group::Group;
use crate::joint::rigid::Rigid;
use crate::joint::{Edit, Joint};
use crate::unit::Vec3;

/// Things that are held.
#[derive(Clone, Debug, PartialEq)]
pub struct Carry {
    /// The joint as it was when they were taken hold of.
    pub joint: Arc<Joint>,
    /// What is held.
    pub group: Group,
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
        self.by(ground).is_some_and(|it| it == Vec2::ZERO)
    }

    /// The edit that moves them; `None` before the drag has begun and while what is typed cannot be read.
    #[must_use]
    pub fn edit(&self, ground: &Ground) -> Option<Edit> {
        if !self.moved {
            return None;
        }
        let by = self.by(ground)?;
        Some(self.group.moved(&self.joint, &Rigid::shift(turned_back(self.view, Vec3::new(by.x, by.y, 0.0)))))
    }
}
