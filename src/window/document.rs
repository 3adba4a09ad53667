//! The joint that is open, its undo journal and its file; and the chain, run again after every change.

use std::path::PathBuf;

use super::journal::Journal;
use crate::disk;
use crate::findings::{self, Finding, Findings};
use crate::joint::edit::apply;
use crate::joint::{Edit, Joint, file};
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

    /// Runs the chain as a joint is opened: of a large joint without remedies, which are owed.
    #[must_use]
    pub fn opened(joint: Joint, stock: &Stock) -> Self {
        if is_large(&joint) { Self::in_hand(joint) } else { Self::at_rest(joint, stock) }
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
    /// Another number whenever another joint is kept.
    kept_version: u64,
    /// So many findings of a large joint have been looked at for what would mend them.
    tried: usize,
    /// Its undo journal.
    pub journal: Journal,
    /// The file that it came from or was saved to.
    pub path: Option<PathBuf>,
    /// The stamp of that file when it was read or written here.
    pub stamp: Option<disk::Stamp>,
}

impl Document {
    /// A joint, unedited.
    #[must_use]
    pub fn new(joint: Joint, path: Option<PathBuf>, stock: &Stock) -> Self {
        Self::of(Chain::opened(joint, stock), path)
    }

    /// A joint that was judged already, unedited.
    #[must_use]
    pub fn of(base: Chain, path: Option<PathBuf>) -> Self {
        Self {
            base,
            kept_version: 0,
            tried: 0,
            draft: None,
            version: 0,
            journal: Journal::default(),
            path,
            stamp: None,
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

    /// The joint as it is kept, with what the chain says of it.
    #[must_use]
    pub fn kept(&self) -> &Chain {
        &self.base
    }

    /// A number that is another one whenever what is shown is another joint.
    #[must_use]
    pub fn version(&self) -> u64 {
        self.version
    }

    /// A number that is another one whenever another joint is kept.
    #[must_use]
    pub fn kept_version(&self) -> u64 {
        self.kept_version
    }

    /// Of a large joint: how many findings have been looked at for what would mend them, and how many are to be, as
    /// long as some are left.
    #[must_use]
    pub fn owed(&self) -> Option<(usize, usize)> {
        let all = self.base.findings.list.len().min(MOST_TRIED);
        (is_large(&self.base.joint) && self.tried < all).then_some((self.tried, all))
    }

    /// Takes findings that were looked at, in place of those from `at` on.
    pub fn remedied(&mut self, at: usize, list: Vec<Finding>) {
        self.tried = at + list.len().max(1);
        self.version += 1;
        for (old, new) in self.base.findings.list.iter_mut().skip(at).zip(list) {
            *old = new;
        }
    }

    fn rest(&mut self, joint: Joint, stock: &Stock) {
        self.base = Chain::opened(joint, stock);
        self.kept_version += 1;
        self.tried = 0;
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

    /// Keeps what is previewed as a step. Why not, in words, where it is refused.
    #[must_use]
    pub fn keep_preview(&mut self, stock: &Stock) -> Option<String> {
        let draft = self.draft.take()?;
        self.keep(draft.name, &draft.edit, stock)
    }

    /// Keeps an edit as a step, unless it changes nothing.
    ///
    /// An edit that would make a joint which no file can hold is refused, with the reason in words: whatever is
    /// on the screen can be saved and opened again.
    #[must_use]
    pub fn keep(&mut self, name: String, edit: &Edit, stock: &Stock) -> Option<String> {
        self.version += 1;
        self.draft = None;
        let mut joint = self.base.joint.clone();
        let undo = apply(&mut joint, edit);
        if joint == self.base.joint {
            return None;
        }
        if let Some(why) = unsound(&joint, stock)
            && unsound(&self.base.joint, stock).is_none()
        {
            return Some(why);
        }
        self.journal.record(name, edit.clone(), undo);
        self.rest(joint, stock);
        None
    }

    /// One step back or forward. The name of the step, if there was one.
    pub fn step(&mut self, back: bool, stock: &Stock) -> Option<String> {
        self.version += 1;
        self.draft = None;
        let (name, edit) = if back { self.journal.undo() } else { self.journal.redo() }?;
        let mut joint = std::mem::take(&mut self.base.joint);
        let _ = apply(&mut joint, &edit);
        self.rest(joint, stock);
        Some(name)
    }
}

/// Findings that are looked at for what would mend them: as many as the chain itself looks at.
const MOST_TRIED: usize = 50;

/// From so many fasteners on, what would mend a finding is tried beside the window and not before it is shown.
const MANY: usize = 60;

fn is_large(joint: &Joint) -> bool {
    MANY <= joint.fasteners.len()
}

/// Why a joint could not be opened again after it is saved; `None` where it could.
fn unsound(joint: &Joint, stock: &Stock) -> Option<String> {
    let problems = file::read(&file::write(joint), stock).err()?;
    Some(problems.into_iter().next().map_or(String::new(), |it| it.says))
}
