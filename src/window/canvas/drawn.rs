//! Drawing on the canvas: the hand's steps to a draft, the draft to what is made of it.

use super::draft::{Draft, Figure, Step};
use super::gesture::{Event, Gesture};
use super::{Pane, face_at, plane};
use crate::joint::Look as From;
use crate::window::look::{Action, Look};
use crate::window::making::Making;

impl Pane {
    /// One step of what is drawn, and what is asked for by it.
    pub fn draw(&mut self, event: &Event, look: &Look<'_>) -> Action {
        let Some(making) = look.making else { return Action::None };
        if !making.can_stand_in(self.view) {
            let said = format!(
                "In {} nothing is made of it: {} is placed in Front, which 1 shows.",
                plane::name(self.view),
                making.words()
            );
            return match event {
                Event::Pressed(_) => Action::Say(said),
                Event::Cancelled => Action::All(vec![Action::DropPreview, Action::Make(None)]),
                Event::Moved(_)
                | Event::Released(_)
                | Event::Typed(_)
                | Event::Erased
                | Event::OtherNumber
                | Event::Confirmed => Action::None,
            };
        }
        let ground = self.ground(look);
        let before = std::mem::take(&mut self.gesture);
        if !matches!(before, Gesture::Drawing(_)) {
            self.rested = None;
        }
        let mut draft =
            if let Gesture::Drawing(draft) = before { draft } else { Box::new(making.draft(self.view)) };
        // What was begun in another view is begun anew.
        if draft.view != self.view || (draft.is_full() && matches!(event, Event::Pressed(_))) {
            *draft = making.draft(self.view);
        }
        let step = draft.step(event, &ground);
        // Faces are those of the front.
        if self.view == From::Front
            && matches!(event, Event::Moved(_))
            && draft.next(&ground).is_some_and(|it| face_at(it, look).is_some())
        {
            self.rested = Some(draft.to);
        }
        let action = match step {
            Step::GivenUp => Action::All(vec![Action::DropPreview, Action::Make(None)]),
            Step::Done => finished(making, &mut draft, look),
            Step::Going => match making.made(&draft.with_next(&ground), look) {
                Ok(made) => Action::Preview(made.name, made.edit),
                Err(_) => Action::DropPreview,
            },
        };
        self.gesture = Gesture::Drawing(draft);
        self.lay_over(look);
        action
    }

    /// The pointer has left for another pane: what one press places goes back to where it lay against a face last, so
    /// that what is set there is seen on the joint.
    pub(super) fn rest(&mut self, look: &Look<'_>) -> Action {
        let (Gesture::Drawing(draft), Some(at)) = (&self.gesture, self.rested) else { return Action::None };
        let may = draft.figure == Figure::One && draft.typed.is_empty() && look.making.is_some();
        if may { self.draw(&Event::Moved(at), look) } else { Action::None }
    }

    /// Shows what is made anew, after one of its settings has changed.
    pub fn redraft(&mut self, look: &Look<'_>) -> Action {
        match (&self.gesture, look.making) {
            (Gesture::Drawing(draft), Some(_)) => self.draw(&Event::Moved(draft.to), look),
            _ => Action::None,
        }
    }
}

/// All places are set: what is made is kept and chosen, or it is said why nothing can be made of them.
fn finished(making: &Making, draft: &mut Draft, look: &Look<'_>) -> Action {
    let fresh = |draft: &mut Draft| {
        let (to, seen) = (draft.to, draft.seen);
        *draft = making.draft(look.view);
        (draft.to, draft.seen) = (to, seen);
    };
    if let Some(said) = making.measured(&draft.corners, look) {
        return Action::Say(said);
    }
    let made = making.made(&draft.corners, look);
    // Should the step be refused, it is drawn from the beginning again.
    fresh(draft);
    match made {
        Ok(made) => Action::All(vec![
            Action::Keep(made.name, made.edit),
            Action::Make(None),
            Action::ChooseAll(made.chosen),
        ]),
        Err(why) => {
            let why = if why.is_empty() { "It has no size. Draw it again.".to_owned() } else { why };
            Action::All(vec![Action::DropPreview, Action::Say(why)])
        }
    }
}
