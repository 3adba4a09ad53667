//! The joint that is open, its undo journal and its file; and the chain, run again after every change.

use std::path::PathBuf;

use super::journal::Journal;
use crate::findings::{self, Findings};
use crate::joint::edit::apply;
use crate::joint::{Edit, Joint};
use crate::stock::Stock;
use crate::trace::{self, Trace};

/// A joint with what the chain says of it.
#[derive(Clone, Debug, Default)]
pub struct Chain {
    /// The joint.
    pub joint: Joint,
    /// Its trace.
    pub trace: Trace,
    /// What was found.
    pub findings: Findings,
}

impl Chain {
    /// Runs the chain with remedies, as it is shown at rest.
    #[must_use]
    pub fn at_rest(joint: Joint, stock: &Stock) -> Self {
        let mut chain = Self::in_hand(joint);
        chain.findings = findings::with_remedies(&chain.joint, stock, chain.findings);
        chain
    }

    /// Runs the chain without remedies: while something is dragged nobody can press one.
    #[must_use]
    pub fn in_hand(joint: Joint) -> Self {
        let trace = trace::trace(&joint);
        let findings = findings::judge(&joint, &trace);
        Self { joint, trace, findings }
    }
}

/// What is previewed: a drag or a field in the middle of typing.
#[derive(Clone, Debug)]
struct Draft {
    name: String,
    edit: Edit,
    chain: Chain,
}

/// The open document.
#[derive(Clone, Debug, Default)]
pub struct Document {
    base: Chain,
    draft: Option<Draft>,
    /// Counts every change of what is shown.
    version: u64,
    /// Its undo journal.
    pub journal: Journal,
    /// The file that it came from or was saved to.
    pub path: Option<PathBuf>,
}

impl Document {
    /// A joint, unedited.
    #[must_use]
    pub fn new(joint: Joint, path: Option<PathBuf>, stock: &Stock) -> Self {
        Self {
            base: Chain::at_rest(joint, stock),
            draft: None,
            version: 0,
            journal: Journal::default(),
            path,
        }
    }

    /// The joint as it is kept.
    #[must_use]
    pub fn joint(&self) -> &Joint {
        &self.base.joint
    }

    /// The joint as it is shown, with what the chain says of it.
    #[must_use]
    pub fn shown(&self) -> &Chain {
        self.draft.as_ref().map_or(&self.base, |it| &it.chain)
    }

    /// A number that is another one whenever what is shown is another joint.
    #[must_use]
    pub fn version(&self) -> u64 {
        self.version
    }

    /// Whether something is previewed.
    #[must_use]
    pub fn in_hand(&self) -> bool {
        self.draft.is_some()
    }

    /// Shows the joint with an edit, without keeping it.
    pub fn preview(&mut self, name: String, edit: Edit) {
        self.version += 1;
        let mut joint = self.base.joint.clone();
        let _ = apply(&mut joint, &edit);
        self.draft = Some(Draft { name, edit, chain: Chain::in_hand(joint) });
    }

    /// Drops what is previewed.
    pub fn drop_preview(&mut self) {
        self.version += u64::from(self.draft.is_some());
        self.draft = None;
    }

    /// Keeps what is previewed as a step.
    pub fn keep_preview(&mut self, stock: &Stock) {
        if let Some(draft) = self.draft.take() {
            self.keep(draft.name, &draft.edit, stock);
        }
    }

    /// Keeps an edit as a step, unless it changes nothing.
    pub fn keep(&mut self, name: String, edit: &Edit, stock: &Stock) {
        self.version += 1;
        self.draft = None;
        let mut joint = self.base.joint.clone();
        let undo = apply(&mut joint, edit);
        if joint == self.base.joint {
            return;
        }
        self.journal.record(name, edit.clone(), undo);
        self.base = Chain::at_rest(joint, stock);
    }

    /// One step back or forward. The name of the step, if there was one.
    pub fn step(&mut self, back: bool, stock: &Stock) -> Option<String> {
        self.version += 1;
        self.draft = None;
        let (name, edit) = if back { self.journal.undo() } else { self.journal.redo() }?;
        let mut joint = std::mem::take(&mut self.base.joint);
        let _ = apply(&mut joint, &edit);
        self.base = Chain::at_rest(joint, stock);
        Some(name)
    }
}
