//! Numbers typed while something is dragged: a length and a direction, of which one is in the hand.

use crate::unit::LengthUnit;
use crate::window::words;

/// What was typed during a gesture.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Typed {
    /// The length so far; of a turn there is none.
    pub length: Option<String>,
    /// The direction so far, in degrees.
    pub angle: String,
    /// Which of the two is typed at.
    pub at_angle: bool,
}

impl Typed {
    /// For a move: length first.
    #[must_use]
    pub fn for_move() -> Self {
        Self { length: Some(String::new()), angle: String::new(), at_angle: false }
    }

    /// For a turn: a direction only.
    #[must_use]
    pub fn for_turn() -> Self {
        Self { length: None, angle: String::new(), at_angle: true }
    }

    /// Whether anything was typed.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.angle.is_empty() && self.length.as_ref().is_none_or(String::is_empty)
    }

    fn field(&mut self) -> &mut String {
        match &mut self.length {
            Some(length) if !self.at_angle => length,
            Some(_) | None => &mut self.angle,
        }
    }

    /// Adds a character that can stand in a length or an angle; ignores others.
    pub fn push(&mut self, character: char) {
        const MAY: &str = "0123456789.,/-'\"\u{00b0}mcinft ";
        let field = self.field();
        if MAY.contains(character) && field.chars().count() < 24 && !(field.is_empty() && character == ' ') {
            field.push(character);
        }
    }

    /// Takes the last character back.
    pub fn erase(&mut self) {
        let _ = self.field().pop();
    }

    /// On to the other number.
    pub fn other(&mut self) {
        self.at_angle = self.length.is_none() || !self.at_angle;
    }

    /// The typed length: `Some(None)` if none was typed, `None` if it cannot be read.
    #[must_use]
    pub fn length_mm(&self, unit: LengthUnit) -> Option<Option<f64>> {
        match self.length.as_deref().map(str::trim) {
            None | Some("") => Some(None),
            Some(text) => words::length(text, unit).ok().map(Some),
        }
    }

    /// The typed direction: `Some(None)` if none was typed, `None` if it cannot be read.
    #[must_use]
    pub fn angle_deg(&self) -> Option<Option<f64>> {
        match self.angle.trim() {
            "" => Some(None),
            text => words::angle(text).ok().map(Some),
        }
    }
}
