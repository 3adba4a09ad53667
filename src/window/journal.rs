//! The undo journal: named steps, one for each gesture, without limit, and the state that was saved last.
//!
//! Knows edits but no joint: who asks for a step applies it.

use crate::joint::Edit;

/// The steps done and the steps undone.
#[derive(Clone, Debug, Default)]
pub struct Journal {
    done: Vec<Step>,
    undone: Vec<Step>,
    last_number: u64,
    saved: Mark,
}

/// One step.
#[derive(Clone, Debug)]
struct Step {
    number: u64,
    name: String,
    redo: Edit,
    undo: Edit,
}

/// A state of the document. Two marks are equal only when the document is the same.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Mark(u64);

impl Journal {
    /// Writes down a step that was taken: its name (`Move fastener 2`), the edit, and what undoes it.
    pub fn record(&mut self, name: impl Into<String>, redo: Edit, undo: Edit) {
        self.last_number += 1;
        self.undone.clear();
        self.done.push(Step { number: self.last_number, name: name.into(), redo, undo });
    }

    /// The name of the step that undo would take back.
    #[must_use]
    pub fn undo_name(&self) -> Option<&str> {
        self.done.last().map(|it| it.name.as_str())
    }

    /// The name of the step that redo would take again.
    #[must_use]
    pub fn redo_name(&self) -> Option<&str> {
        self.undone.last().map(|it| it.name.as_str())
    }

    /// The names of the steps done, the first one first.
    pub fn done(&self) -> impl DoubleEndedIterator<Item = &str> {
        self.done.iter().map(|it| it.name.as_str())
    }

    /// The names of the steps undone, the next one to be done again first.
    pub fn undone(&self) -> impl Iterator<Item = &str> {
        self.undone.iter().rev().map(|it| it.name.as_str())
    }

    /// Goes one step back: its name and the edit to apply.
    pub fn undo(&mut self) -> Option<(String, Edit)> {
        let step = self.done.pop()?;
        let answer = (step.name.clone(), step.undo.clone());
        self.undone.push(step);
        Some(answer)
    }

    /// Goes one step forward: its name and the edit to apply.
    pub fn redo(&mut self) -> Option<(String, Edit)> {
        let step = self.undone.pop()?;
        let answer = (step.name.clone(), step.redo.clone());
        self.done.push(step);
        Some(answer)
    }

    /// Where the document stands.
    #[must_use]
    pub fn mark(&self) -> Mark {
        Mark(self.done.last().map_or(0, |it| it.number))
    }

    /// Remembers that the document was saved in no state that can be reached: work that was found again.
    pub fn never_saved(&mut self) {
        self.saved = Mark(u64::MAX);
    }

    /// Remembers that the document was saved as it stood at `mark`.
    pub fn saved_at(&mut self, mark: Mark) {
        self.saved = mark;
    }

    /// Whether the document differs from what was saved last. Undoing to the saved state brings it back to no.
    #[must_use]
    pub fn edited(&self) -> bool {
        self.mark() != self.saved
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::joint::{Joint, edit};

    fn step(joint: &mut Joint, journal: &mut Journal, title: &str) {
        let redo = Edit::Title(title.into());
        let undo = edit::apply(joint, &redo);
        journal.record(format!("Call it {title}"), redo, undo);
    }

    #[test]
    fn undo_and_redo_have_no_limit_and_keep_their_order() {
        let (mut joint, mut journal) = (Joint::default(), Journal::default());
        for n in 0..5000 {
            step(&mut joint, &mut journal, &n.to_string());
        }
        let mut back = 0;
        while let Some((_, undo)) = journal.undo() {
            let _ = edit::apply(&mut joint, &undo);
            back += 1;
        }
        assert_eq!((back, joint.title.as_str()), (5000, ""));
        while let Some((_, redo)) = journal.redo() {
            let _ = edit::apply(&mut joint, &redo);
        }
        assert_eq!(joint.title, "4999");
        assert_eq!(journal.undo_name(), Some("Call it 4999"));
    }

    #[test]
    fn the_sign_of_editing_vanishes_when_undone_to_what_was_saved() {
        let (mut joint, mut journal) = (Joint::default(), Journal::default());
        assert!(!journal.edited());
        step(&mut joint, &mut journal, "a");
        assert!(journal.edited());
        journal.saved_at(journal.mark());
        assert!(!journal.edited());
        step(&mut joint, &mut journal, "b");
        assert!(journal.edited());
        let _ = journal.undo();
        assert!(!journal.edited());
        let _ = journal.undo();
        assert!(journal.edited(), "before the saved state is edited too");
        let _ = journal.redo();
        assert!(!journal.edited());
    }

    #[test]
    fn a_new_step_after_undo_is_another_state_than_the_saved_one() {
        let (mut joint, mut journal) = (Joint::default(), Journal::default());
        step(&mut joint, &mut journal, "a");
        journal.saved_at(journal.mark());
        let _ = journal.undo();
        step(&mut joint, &mut journal, "b");
        assert!(journal.edited(), "as many steps as when it was saved, but other ones");
        assert_eq!(journal.redo_name(), None);
        assert_eq!(journal.undo_name(), Some("Call it b"));
    }
}
