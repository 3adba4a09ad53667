//! The check list for the site: one box for each thing to verify, in the order of work, built from this joint.
//!
//! It says what is drawn, so that somebody can hold it against what is there. It never says that this is enough.

mod after;
mod before;
mod during;
mod points;

use super::groups::{self, Content};

/// When a thing is verified.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Stage {
    /// With the parts and the place at hand, before anything is drilled or driven.
    Before,
    /// While it can still be put right: drilling, driving, filling holes.
    During,
    /// With all in place, before it is covered.
    After,
}

impl Stage {
    pub(super) fn words(self) -> &'static str {
        match self {
            Self::Before => "Before work",
            Self::During => "While driving",
            Self::After => "Before it is covered",
        }
    }
}

/// One thing to verify.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Check {
    pub(super) stage: Stage,
    pub(super) words: String,
}

/// Everything to verify; empty for a joint in which nothing is driven.
pub(super) fn of(content: &Content<'_>) -> Vec<Check> {
    if content.inputs.joint.fasteners.is_empty() {
        return Vec::new();
    }
    let points = points::all(content);
    let at = |stage: Stage| move |words: String| Check { stage, words };
    let mut checks: Vec<Check> =
        before::all(content, points.before).into_iter().map(at(Stage::Before)).collect();
    checks.extend(during::all(content).into_iter().map(at(Stage::During)));
    checks.extend(after::all(content, points.after).into_iter().map(at(Stage::After)));
    checks
}

/// Things told of several fasteners, in the order in which they were first met.
#[derive(Default)]
struct Told {
    list: Vec<(String, Vec<usize>)>,
    places: std::collections::BTreeMap<String, usize>,
}

impl Told {
    fn add(&mut self, words: String, fastener: usize) {
        match self.places.get(&words) {
            Some(at) => self.list[*at].1.push(fastener),
            None => {
                self.places.insert(words.clone(), self.list.len());
                self.list.push((words, vec![fastener]));
            }
        }
    }

    /// Each with the numbers of those that it is told of.
    fn sentences(self) -> Vec<String> {
        self.list
            .into_iter()
            .map(|(words, places)| format!("{}: {words}", groups::numbers(&places)))
            .collect()
    }
}
