//! Work that takes long, done in parts beside the window: it tells how far it has got, and can be stopped.
//!
//! In a joint of many fasteners the changes that would mend a finding are tried part by part after each step; what
//! was found is shown at once.

use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};

use iced::{Task, task};

use super::{App, Message, words};
use crate::findings::{self, Finding, Findings};

/// Findings that are looked at in one part.
const PART: usize = 5;

/// What is being worked on.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Work {
    /// The state of the document that it is for.
    of: u64,
    /// Findings that are done.
    done: usize,
    /// Findings that are looked at in all.
    all: usize,
}

/// A file that is read or written beside the window.
#[derive(Debug)]
pub(super) struct Errand {
    /// What is done: `opening ledger.joint.json`.
    what: String,
    stop: task::Handle,
    /// Told to the work, which looks at it before it begins a part.
    stopped: Stopped,
}

/// Whether a work beside the window was stopped.
pub(super) type Stopped = Arc<AtomicBool>;

impl App {
    /// Does something with a file beside the window, and says so at the foot until its message comes.
    pub(super) fn errand<F>(&mut self, what: String, work: impl FnOnce(Stopped) -> F) -> Task<Message>
    where
        F: Future<Output = Message> + Send + 'static,
    {
        let stopped = Stopped::default();
        let (task, stop) = Task::perform(work(stopped.clone()), |it| it).abortable();
        self.said = None;
        self.errand = Some(Errand { what, stop, stopped });
        task
    }

    /// No longer waits for a file. What it did, if there was one.
    pub(super) fn stop_errand(&mut self) -> Option<String> {
        let errand = self.errand.take()?;
        errand.stop.abort();
        errand.stopped.store(true, Ordering::Relaxed);
        Some(format!("Stopped {}.", errand.what))
    }

    /// Goes on with what is owed, unless it is being done or was stopped.
    pub(super) fn work_on(&mut self) -> Task<Message> {
        let of = self.document.kept_version();
        if self.working.is_some_and(|it| it.of == of) || self.stopped == Some(of) {
            return Task::none();
        }
        let Some((at, all)) = self.document.owed() else {
            self.working = None;
            return Task::none();
        };
        self.working = Some(Work { of, done: at, all });
        let kept = self.document.kept();
        let (joint, stock) = (kept.joint.clone(), Arc::clone(&self.stock));
        let list: Vec<Finding> =
            kept.findings.list.iter().skip(at).take(PART.min(all - at)).cloned().collect();
        let part = Findings { list, not_checked: Vec::new() };
        let trying = async move { findings::with_remedies(&joint, &stock, part).list };
        Task::perform(trying, move |list| Message::Remedied(of, at, list))
    }

    /// A part is done. One of a state that is gone is dropped.
    pub(super) fn remedied(&mut self, of: u64, at: usize, list: Vec<Finding>) {
        self.working = None;
        if of == self.document.kept_version() && self.stopped != Some(of) {
            self.document.remedied(at, list);
        }
    }

    /// Stops what is being worked on. Whether there was anything.
    pub(super) fn stop_working(&mut self) -> bool {
        let Some(work) = self.working.take() else { return false };
        self.stopped = Some(work.of);
        true
    }

    /// How far the work has got, in words.
    #[must_use]
    pub fn progress(&self) -> Option<String> {
        if let Some(errand) = &self.errand {
            return Some(words::sentence(&errand.what) + " Esc stops.");
        }
        let work = self.working.filter(|it| it.of == self.document.kept_version())?;
        Some(format!("Trying what would mend the findings: {} of {}. Esc stops.", work.done, work.all))
    }
}
