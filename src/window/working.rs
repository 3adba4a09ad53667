//! Work that takes long, done in parts beside the window: it tells how far it has got, and can be stopped.
//!
//! In a joint of many fasteners the changes that would mend a finding are tried part by part after each step; what
//! was found is shown at once.

use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};

use iced::{Task, task};

use super::document::Chain;
use super::foot;
use super::look::{Judgement, Look};
use super::{App, Message, words};
use crate::drawing::Inputs;
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

/// A very large joint that is being judged beside the window.
#[derive(Debug)]
pub(super) struct Judging {
    /// The state of the document that it is for.
    of: u64,
    /// Fasteners that are judged.
    done: usize,
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

    /// Judges what is kept, unless it is judged, is being judged or was stopped. The newest state counts: of an older one
    /// the work ends.
    fn judge_on(&mut self) -> Task<Message> {
        let of = self.document.kept_version();
        let kept = self.document.kept();
        if self.judging.as_ref().is_some_and(|it| it.of == of && kept.unjudged) {
            return Task::none();
        }
        if let Some(old) = self.judging.take() {
            old.stopped.store(true, Ordering::Relaxed);
        }
        if !kept.unjudged || self.not_judged == Some(of) {
            return Task::none();
        }
        let (joint, trace) = (kept.joint.clone(), Arc::clone(&kept.trace));
        let stopped = Stopped::default();
        self.judging = Some(Judging { of, done: 0, stopped: stopped.clone() });
        let (told, messages) = iced::futures::channel::mpsc::unbounded();
        std::thread::spawn(move || {
            let mut go_on = |done: usize| {
                // Nobody listens any longer when the window is gone: the work ends then too.
                let is_heard = told.unbounded_send(Message::JudgedSoFar(of, done)).is_ok();
                is_heard && !stopped.load(Ordering::Relaxed)
            };
            if let Some(findings) = findings::judge_watched(&joint, &trace, &mut go_on) {
                let _ = told.unbounded_send(Message::Judged(of, Arc::new(findings)));
            }
        });
        Task::run(messages, |it| it)
    }

    /// Hears from what goes on beside the window with a very large joint.
    pub(super) fn hear_beside(&mut self, message: Message) {
        if let Message::JudgedSoFar(of, done) = message {
            self.judged_so_far(of, done);
        } else if let Message::Judged(of, findings) = message {
            self.judged(of, findings);
        } else if let Message::Paged(version, pages) = message {
            self.sheet.paged(version, Arc::unwrap_or_clone(pages));
        }
    }

    /// So many fasteners are judged.
    fn judged_so_far(&mut self, of: u64, done: usize) {
        if let Some(it) = self.judging.as_mut().filter(|it| it.of == of) {
            it.done = done;
        }
    }

    /// A state is judged. One that is gone is dropped.
    fn judged(&mut self, of: u64, findings: Arc<Findings>) {
        if self.judging.as_ref().is_none_or(|it| it.of != of) || of != self.document.kept_version() {
            return;
        }
        self.judging = None;
        self.document.judged(findings);
        self.draw_again();
    }

    /// Stops judging. Whether there was anything.
    pub(super) fn stop_judging(&mut self) -> bool {
        let Some(it) = self.judging.take() else { return false };
        it.stopped.store(true, Ordering::Relaxed);
        self.not_judged = Some(it.of);
        self.said = Some("Stopped judging. \u{201c}Judge\u{201d} in the findings begins again.".to_owned());
        true
    }

    /// Judges what was stopped.
    pub(super) fn judge_again(&mut self) {
        self.not_judged = None;
    }

    /// How far what is shown is judged.
    pub(super) fn judgement(&self) -> Judgement {
        if !self.document.shown().unjudged {
            Judgement::Done
        } else if self.document.in_hand() {
            Judgement::InHand
        } else if self.not_judged == Some(self.document.kept_version()) {
            Judgement::Stopped
        } else {
            Judgement::Going
        }
    }

    /// Goes on with what is owed, unless it is being done or was stopped.
    pub(super) fn work_on(&mut self) -> Task<Message> {
        let judging = self.judge_on();
        Task::batch([judging, self.page_on(), self.try_on()])
    }

    /// Draws the pages that are owed, if they are to be seen: those of a very large joint, and those of what is being
    /// typed.
    fn page_on(&mut self) -> Task<Message> {
        let Some(version) = self.sheet.take_owed(&self.document.shown().joint) else { return Task::none() };
        let Chain { joint, trace, findings, .. } = self.document.shown().clone();
        let pages_of = self.sheet.pages_later();
        let (told, messages) = iced::futures::channel::mpsc::unbounded();
        std::thread::spawn(move || {
            let pages = pages_of(&Inputs { joint: &joint, trace: &trace, findings: &findings });
            let _ = told.unbounded_send(Message::Paged(version, Arc::new(pages)));
        });
        Task::run(messages, |it| it)
    }

    /// Goes on with what would mend the findings.
    fn try_on(&mut self) -> Task<Message> {
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

    /// The line at the foot: what was done last, what goes on, or what a press does now.
    #[must_use]
    pub fn hint(&self) -> String {
        self.foot_words(&self.look())
    }

    pub(super) fn foot_words(&self, look: &Look<'_>) -> String {
        self.said
            .clone()
            .or_else(|| self.progress())
            .unwrap_or_else(|| foot::hint(&self.canvas.gesture, look))
    }

    /// How far the work has got, in words.
    #[must_use]
    pub fn progress(&self) -> Option<String> {
        if let Some(errand) = &self.errand {
            return Some(words::sentence(&errand.what) + " Esc stops.");
        }
        if let Some(it) = &self.judging {
            let all = self.document.kept().joint.fasteners.len();
            return Some(format!("Judging: {} of {all} fasteners. Esc stops.", it.done));
        }
        let work = self.working.filter(|it| it.of == self.document.kept_version())?;
        Some(format!("Trying what would mend the findings: {} of {}. Esc stops.", work.done, work.all))
    }
}
