//! Work that takes long, done in parts beside the window: it tells how far it has got, and can be stopped.
//!
//! In a joint of many fasteners the changes that would mend a finding are tried part by part after each step; what
//! was found is shown at once.

use std::sync::Arc;

use iced::Task;

use super::{App, Message};
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

impl App {
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
        let work = self.working.filter(|it| it.of == self.document.kept_version())?;
        Some(format!("Trying what would mend the findings: {} of {}. Esc stops.", work.done, work.all))
    }
}
