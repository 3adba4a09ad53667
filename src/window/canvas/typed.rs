//! Numbers typed while something is dragged or drawn: a row of slots, of which one is in the hand.

use crate::joint::Look;
use crate::unit::LengthUnit;
use crate::window::words;

/// What a number that is typed means.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Slot {
    /// How far from where it began.
    Length,
    /// Which way, in degrees anticlockwise from the right.
    Direction,
    /// The coordinate to the right.
    Across,
    /// The coordinate upward.
    Up,
    /// The depth, in a view whose right is far.
    DeepAcross,
    /// The depth, in a view whose top is far.
    DeepUp,
    /// The width of what is drawn.
    Width,
    /// The height of what is drawn.
    Height,
    /// The diameter of what is drawn.
    Diameter,
}

impl Slot {
    /// The coordinates of a place in a view: to the right in it, and upward.
    #[must_use]
    pub fn place_in(view: Look) -> [Self; 2] {
        match view {
            Look::Front => [Self::Across, Self::Up],
            Look::Side => [Self::DeepAcross, Self::Up],
            Look::Top => [Self::Across, Self::DeepUp],
        }
    }

    /// A coordinate of the plane of a view as it is typed and told, and back: depth runs the other way there.
    #[must_use]
    pub fn told(self, coordinate: f64) -> f64 {
        if matches!(self, Self::DeepAcross | Self::DeepUp) { 0.0 - coordinate } else { coordinate }
    }

    /// The word before the number.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Length => "length",
            Self::Direction => "direction",
            Self::Across => "x",
            Self::Up => "y",
            Self::DeepAcross | Self::DeepUp => "z",
            Self::Width => "width",
            Self::Height => "height",
            Self::Diameter => "diameter",
        }
    }
}

/// What was typed during a gesture.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Typed {
    slots: Vec<(Slot, String)>,
    at: usize,
}

impl Typed {
    /// Nothing typed yet in these slots; the first one is in the hand.
    #[must_use]
    pub fn new(slots: &[Slot]) -> Self {
        Self { slots: slots.iter().map(|it| (*it, String::new())).collect(), at: 0 }
    }

    /// For a move: length, direction, then the coordinates of what is held.
    #[must_use]
    pub fn for_move(view: Look) -> Self {
        let [across, up] = Slot::place_in(view);
        Self::new(&[Slot::Length, Slot::Direction, across, up])
    }

    /// For a turn: a direction only.
    #[must_use]
    pub fn for_turn() -> Self {
        Self::new(&[Slot::Direction])
    }

    /// Whether anything was typed.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.slots.iter().all(|it| it.1.trim().is_empty())
    }

    /// The slot that is in the hand.
    #[must_use]
    pub fn slot(&self) -> Option<Slot> {
        self.slots.get(self.at).map(|it| it.0)
    }

    /// What was typed in a slot.
    #[must_use]
    pub fn text(&self, slot: Slot) -> &str {
        self.slots.iter().find(|it| it.0 == slot).map_or("", |it| it.1.as_str())
    }

    /// What was typed in a slot, with a cursor where it is in the hand; `None` where nothing was typed in it.
    #[must_use]
    pub fn shown(&self, slot: Slot) -> Option<String> {
        let text = self.text(slot);
        let here = self.slot() == Some(slot) && !self.is_empty();
        match (text.is_empty(), here) {
            (true, false) => None,
            (_, true) => Some(format!("{text}_")),
            (false, false) => Some(text.to_owned()),
        }
    }

    /// Adds a character that can stand in a length or an angle; ignores others.
    pub fn push(&mut self, character: char) {
        const MAY: &str = "0123456789.,/-'\"\u{00b0}mcinft =+*()";
        let Some((_, field)) = self.slots.get_mut(self.at) else { return };
        if MAY.contains(character) && field.chars().count() < 24 && !(field.is_empty() && character == ' ') {
            field.push(character);
        }
    }

    /// Takes the last character back.
    pub fn erase(&mut self) {
        if let Some((_, field)) = self.slots.get_mut(self.at) {
            let _ = field.pop();
        }
    }

    /// On to the next number.
    pub fn other(&mut self) {
        self.at = (self.at + 1) % self.slots.len().max(1);
    }

    /// Everything typed is forgotten; the first slot is in the hand again.
    pub fn clear(&mut self) {
        self.at = 0;
        self.slots.iter_mut().for_each(|it| it.1.clear());
    }

    /// The typed length of a slot: `Some(None)` if none was typed, `None` if it cannot be read.
    #[must_use]
    pub fn length_mm(&self, slot: Slot, unit: LengthUnit) -> Option<Option<f64>> {
        match self.text(slot).trim() {
            "" => Some(None),
            text => words::length(text, unit).ok().map(Some),
        }
    }

    /// The typed coordinates in the plane of the view, to the right and upward, each `None` if it was not typed;
    /// `None` if one cannot be read.
    #[must_use]
    pub fn place_mm(&self, unit: LengthUnit) -> Option<(Option<f64>, Option<f64>)> {
        let read = |one: Slot, deep: Slot| {
            let deep = self.length_mm(deep, unit)?.map(|it| deep.told(it));
            Some(self.length_mm(one, unit)?.or(deep))
        };
        Some((read(Slot::Across, Slot::DeepAcross)?, read(Slot::Up, Slot::DeepUp)?))
    }

    /// The typed direction: `Some(None)` if none was typed, `None` if it cannot be read.
    #[must_use]
    pub fn angle_deg(&self) -> Option<Option<f64>> {
        match self.text(Slot::Direction).trim() {
            "" => Some(None),
            text => words::angle(text).ok().map(Some),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_go_to_their_slots_and_sums_are_read() {
        let mut typed = Typed::for_move(Look::Front);
        "=1 1/2\" + 3/16\"".chars().for_each(|it| typed.push(it));
        // 1.5 + 0.1875 inches: the sum of the table in the grammar of lengths.
        let sum = typed.length_mm(Slot::Length, LengthUnit::Inch).flatten();
        assert!(sum.is_some_and(|it| (it - 42.8625).abs() < 1e-9), "{sum:?}");
        typed.other();
        "30".chars().for_each(|it| typed.push(it));
        assert_eq!(typed.angle_deg(), Some(Some(30.0)));
        typed.other();
        assert_eq!(typed.slot(), Some(Slot::Across));
        assert_eq!(typed.length_mm(Slot::Across, LengthUnit::Inch), Some(None));
        typed.push('/');
        assert_eq!(typed.length_mm(Slot::Across, LengthUnit::Inch), None, "what cannot be read is no number");
    }
}
