//! Ids that nothing in a joint has yet.

use std::collections::BTreeSet;

use crate::joint::Joint;

/// Longest id of a joint file, in characters.
const LONGEST: usize = 200;

/// The ids that are taken, and those given out since.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Ids {
    taken: BTreeSet<String>,
}

impl Ids {
    /// The ids of the members, connectors and fasteners of a joint: one of each may exist.
    #[must_use]
    pub fn of(joint: &Joint) -> Self {
        let members = joint.members.iter().map(|it| &it.id);
        let connectors = joint.connectors.iter().map(|it| &it.id);
        let fasteners = joint.fasteners.iter().map(|it| &it.id);
        members.chain(connectors).chain(fasteners).cloned().collect()
    }

    /// Whether something is called so.
    #[must_use]
    pub fn has(&self, id: &str) -> bool {
        self.taken.contains(id)
    }

    /// All that are taken.
    pub fn all(&self) -> impl Iterator<Item = &str> {
        self.taken.iter().map(String::as_str)
    }

    /// The id itself where it is free, else the first free one with a number behind: `rim`, `rim-2`, `rim-3`.
    ///
    /// A number that stands there already is counted on: a copy of `rim-2` is `rim-3`.
    pub fn like(&mut self, id: &str) -> String {
        if !self.has(id) {
            return self.give(id.to_owned());
        }
        let (stem, from) = match id.rsplit_once('-') {
            Some((stem, number)) if !stem.is_empty() => {
                number.parse::<usize>().map_or((id, 2), |it| (stem, it.saturating_add(1)))
            }
            _ => (id, 2),
        };
        self.counted(&format!("{stem}-"), from)
    }

    /// The first free one of `n1`, `n2`, ... for the letters `n`.
    pub fn numbered(&mut self, letters: &str) -> String {
        self.counted(letters, 1)
    }

    fn counted(&mut self, stem: &str, from: usize) -> String {
        // An id has room for its number.
        let stem: String = stem.chars().take(LONGEST - 20).collect();
        let mut number = from;
        loop {
            let id = format!("{stem}{number}");
            if !self.has(&id) {
                return self.give(id);
            }
            // Far beyond the last number there is a free one below it.
            number = if number == usize::MAX { 1 } else { number + 1 };
        }
    }

    fn give(&mut self, id: String) -> String {
        self.taken.insert(id.clone());
        id
    }
}

impl FromIterator<String> for Ids {
    fn from_iter<I: IntoIterator<Item = String>>(ids: I) -> Self {
        Self { taken: ids.into_iter().collect() }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn ids_are_counted_on() {
        let mut ids: Ids = ["rim", "rim-2", "n1", "a-b", "-7"].into_iter().map(str::to_owned).collect();
        assert_eq!(ids.like("ledger"), "ledger");
        assert_eq!(ids.like("ledger"), "ledger-2");
        assert_eq!(ids.like("rim"), "rim-3");
        assert_eq!(ids.like("rim-2"), "rim-4");
        assert_eq!(ids.like("a-b"), "a-b-2");
        assert_eq!(ids.like("-7"), "-7-2");
        assert_eq!(ids.numbered("n"), "n2");
        assert_eq!(ids.numbered("n"), "n3");
        let long = "x".repeat(LONGEST);
        assert_eq!(ids.like(&long), long);
        assert!(ids.like(&long).chars().count() <= LONGEST);
        let last = format!("y-{}", usize::MAX);
        assert_eq!((ids.like(&last), ids.like(&last)), (last.clone(), "y-1".to_owned()));
    }
}
