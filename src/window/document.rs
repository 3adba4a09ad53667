//! The joint that is open, its undo journal and its file; and the chain, run again after every change.

use std::collections::HashMap;
use std::path::PathBuf;
use std::sync::Arc;
use std::sync::atomic::{AtomicU64, Ordering};

use super::journal::Journal;
use crate::disk;
use crate::findings::{self, Finding, Findings, Severity};
use crate::joint::edit::apply;
use crate::joint::{Connector, Edit, Fastener, Joint, Placement, file};
use crate::stock::Stock;
use crate::trace::{self, Trace};

/// A joint with what the chain says of it.
#[derive(Clone, Debug, Default)]
pub struct Chain {
    /// The joint.
    pub joint: Joint,
    /// Its trace.
    pub trace: Arc<Trace>,
    /// What was found; nothing while it is not judged.
    pub findings: Arc<Findings>,
    /// What panes ask of many things at once.
    pub known: Known,
    /// It is so large that it is judged beside the window, and is not judged yet.
    pub unjudged: bool,
}

/// The number of each fastener and the worst that was found of each thing, by their ids.
#[derive(Clone, Debug, Default)]
pub struct Known {
    numbers: Arc<HashMap<String, usize>>,
    worst: Arc<HashMap<String, Severity>>,
}

impl Known {
    fn of(joint: &Joint, findings: &Findings) -> Self {
        let ids = joint.fasteners.iter().enumerate();
        let worst = findings.worst_by_id();
        Self {
            numbers: Arc::new(ids.map(|(at, it)| (it.id.clone(), at + 1)).collect()),
            worst: Arc::new(worst.into_iter().map(|(id, it)| (id.to_owned(), it)).collect()),
        }
    }

    /// The number that a fastener is marked with.
    #[must_use]
    pub fn number(&self, id: &str) -> Option<usize> {
        self.numbers.get(id).copied()
    }

    /// The worst that was found of a thing.
    #[must_use]
    pub fn worst_of(&self, id: &str) -> Option<Severity> {
        self.worst.get(id).copied()
    }
}

impl Chain {
    /// Runs the chain with remedies, as it is shown at rest.
    #[must_use]
    pub fn at_rest(joint: Joint, stock: &Stock) -> Self {
        let mut chain = Self::judged(joint);
        let findings = findings::with_remedies(&chain.joint, stock, Arc::unwrap_or_clone(chain.findings));
        chain.findings = Arc::new(findings);
        chain
    }

    /// Runs the chain as a joint is opened beside the window: of a large joint without remedies, which are owed.
    #[must_use]
    pub fn opened(joint: Joint, stock: &Stock) -> Self {
        if is_large(&joint) { Self::judged(joint) } else { Self::at_rest(joint, stock) }
    }

    /// Runs the chain as far as the window waits for it: a very large joint is judged beside it.
    #[must_use]
    pub fn kept(joint: Joint, stock: &Stock) -> Self {
        if is_vast(&joint) { Self::in_hand(joint) } else { Self::opened(joint, stock) }
    }

    /// Runs the chain without remedies: while something is dragged nobody can press one. A very large joint is not
    /// judged meanwhile.
    #[must_use]
    pub fn in_hand(joint: Joint) -> Self {
        if !is_vast(&joint) {
            return Self::judged(joint);
        }
        let trace = Arc::new(trace::trace(&joint));
        let known = Known::of(&joint, &Findings::default());
        Self { joint, trace, findings: Arc::default(), known, unjudged: true }
    }

    fn judged(joint: Joint) -> Self {
        let trace = Arc::new(trace::trace(&joint));
        let findings = Arc::new(findings::judge(&joint, &trace));
        let known = Known::of(&joint, &findings);
        Self { joint, trace, findings, known, unjudged: false }
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
    /// Another number whenever another picture is shown: what would mend a finding is not in it.
    picture: u64,
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
        Self::of(Chain::kept(joint, stock), path)
    }

    /// A joint that was judged already, unedited.
    #[must_use]
    pub fn of(base: Chain, path: Option<PathBuf>) -> Self {
        Self {
            base,
            kept_version: next_version(),
            tried: 0,
            draft: None,
            version: next_version(),
            picture: next_version(),
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
        (!self.base.unjudged && is_large(&self.base.joint) && self.tried < all).then_some((self.tried, all))
    }

    /// Takes findings that were looked at, in place of those from `at` on.
    pub fn remedied(&mut self, at: usize, list: Vec<Finding>) {
        self.tried = at + list.len().max(1);
        self.version = next_version();
        let findings = Arc::make_mut(&mut self.base.findings);
        for (old, new) in findings.list.iter_mut().skip(at).zip(list) {
            *old = new;
        }
    }

    /// Takes what was found of the joint that is kept.
    pub fn judged(&mut self, findings: Arc<Findings>) {
        self.base.known = Known::of(&self.base.joint, &findings);
        self.base.findings = findings;
        self.base.unjudged = false;
        self.shows_another();
    }

    fn rest(&mut self, joint: Joint, stock: &Stock) {
        self.base = Chain::kept(joint, stock);
        self.kept_version = next_version();
        self.tried = 0;
    }

    fn shows_another(&mut self) {
        self.version = next_version();
        self.picture = self.version;
    }

    /// A number that is another one whenever the picture of what is shown is another one.
    #[must_use]
    pub fn picture(&self) -> u64 {
        self.picture
    }

    /// Whether something is previewed.
    #[must_use]
    pub fn in_hand(&self) -> bool {
        self.draft.is_some()
    }

    /// Shows the joint with an edit, without keeping it.
    pub fn preview(&mut self, name: String, edit: Edit) {
        self.shows_another();
        let mut joint = self.base.joint.clone();
        let _ = apply(&mut joint, &edit);
        self.draft = Some(Draft { name, edit, chain: Chain::in_hand(joint) });
    }

    /// Drops what is previewed.
    pub fn drop_preview(&mut self) {
        if self.draft.is_some() {
            self.shows_another();
        }
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
        self.shows_another();
        self.draft = None;
        let mut joint = self.base.joint.clone();
        let undo = apply(&mut joint, edit);
        if joint == self.base.joint {
            return None;
        }
        let part = if is_vast(&joint) { changed(&self.base.joint, &joint) } else { None };
        if let Some(why) = unsound(part.as_ref().unwrap_or(&joint), stock)
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
        self.shows_another();
        self.draft = None;
        let (name, edit) = if back { self.journal.undo() } else { self.journal.redo() }?;
        let mut joint = std::mem::take(&mut self.base.joint);
        let _ = apply(&mut joint, &edit);
        self.rest(joint, stock);
        Some(name)
    }
}

/// A number that no state of any document has had: what is kept for one document is never taken for another's.
fn next_version() -> u64 {
    static NEXT: AtomicU64 = AtomicU64::new(1);
    NEXT.fetch_add(1, Ordering::Relaxed)
}

/// Findings that are looked at for what would mend them: as many as the chain itself looks at.
const MOST_TRIED: usize = 50;

/// From so many fasteners on, what would mend a finding is tried beside the window and not before it is shown.
const MANY: usize = 60;

fn is_large(joint: &Joint) -> bool {
    MANY <= joint.fasteners.len()
}

/// From so many members and fasteners on a joint is judged beside the window: to judge it takes longer than a frame.
const VERY_MANY: usize = 1_000;

/// Whether a joint is so large that the window does not wait for what is told of it.
#[must_use]
pub fn is_vast(joint: &Joint) -> bool {
    VERY_MANY <= joint.fasteners.len() + joint.members.len()
}

/// Of a very large joint the fasteners that are not as they were before, by themselves: what else is in it could be
/// opened then and can be now. `None` where more than fasteners was changed, or where they are not known one by one.
fn changed(old: &Joint, new: &Joint) -> Option<Joint> {
    let rest = |it: &Joint| (it.members.len(), it.connectors.len(), it.loads.len(), it.dimensions.len());
    let is_same = rest(old) == rest(new)
        && old.fasteners.len() == new.fasteners.len()
        && old.members == new.members
        && old.connectors == new.connectors
        && old.loads == new.loads
        && old.dimensions == new.dimensions;
    let pairs = || old.fasteners.iter().zip(&new.fasteners);
    if !is_same || !pairs().all(|(a, b)| a.id == b.id) {
        return None;
    }
    let fasteners = pairs().filter(|(a, b)| a != b).map(|it| it.1.clone()).collect();
    let filled = |it: &Connector| {
        let fills =
            |one: &Fastener| matches!(&one.place, Placement::Fills { connector, .. } if *connector == it.id);
        new.fasteners.iter().any(fills)
    };
    let connectors = new.connectors.iter().filter(|it| filled(it)).cloned().collect();
    let (members, loads, dimensions) = (Vec::new(), Vec::new(), Vec::new());
    let shell = Joint { members, connectors, fasteners, loads, dimensions, ..Joint::default() };
    let (title, notes, sheet) = (new.title.clone(), new.notes.clone(), new.sheet.clone());
    Some(Joint { title, notes, sheet, standard: new.standard, conditions: new.conditions, ..shell })
}

/// Why a joint could not be opened again after it is saved; `None` where it could.
fn unsound(joint: &Joint, stock: &Stock) -> Option<String> {
    let problems = file::read(&file::write(joint), stock).err()?;
    Some(problems.into_iter().next().map_or(String::new(), |it| it.says))
}
