//! Keeps unsaved work aside, outside the user's files, and the list of files that were open lately.
//!
//! Everything lies in one folder of the user's state. A window writes one file of its own, named by its process;
//! it goes when the work is saved or given up. A file of a process that runs no longer is work to be found again.

use std::path::{Path, PathBuf};
use std::sync::atomic::{AtomicUsize, Ordering};
use std::time::Duration;

use super::eyes::Eyes;
use super::journal::Mark;
use super::rescue::Rescue;
use crate::disk::{self, Stamp};
use crate::joint::Joint;

/// So many files are remembered.
const MOST_RECENT: usize = 10;
/// The list of files is cut off beyond so many bytes.
const MOST_BYTES: u64 = 1 << 20;
const ENDING: &str = ".joint.json";
const ORIGIN: &str = ".origin";
/// Stands where a stamp is not known.
const NO_STAMP: &str = "unknown";
/// The folder of unsaved work in the folder of the state.
const UNSAVED: &str = "unsaved";

/// Where work is kept aside, and how far it has got.
#[derive(Clone, Debug)]
pub struct Keeper {
    folder: PathBuf,
    /// The name of this window's own file, without its ending.
    own: String,
    /// The state that was handed over to be written.
    handed: Option<Mark>,
    /// A file is being written.
    pub writing: bool,
    /// Files of work that was found again: they go once it is written anew.
    adopted: Vec<PathBuf>,
    recent: Vec<PathBuf>,
    /// Where a failure of the program finds the work.
    pub(super) rescue: Rescue,
}

/// The user's own file that work belongs to.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Origin {
    /// The file.
    pub path: PathBuf,
    /// How it was when it was last read or written here; `None` where that is not known.
    pub stamp: Option<Stamp>,
}

impl Origin {
    /// The words in the companion of a file of work: the path, then the stamp on a line of its own.
    fn words(&self) -> String {
        let path = std::path::absolute(&self.path).unwrap_or_else(|_| self.path.clone());
        let stamp = self.stamp.and_then(|it| it.written_down());
        format!("{}\n{}", path.display(), stamp.as_deref().unwrap_or(NO_STAMP))
    }

    /// Reads such words; those without a stamp are a path alone.
    fn read(words: &str) -> Self {
        let (path, stamp) = match words.rsplit_once('\n') {
            Some((path, NO_STAMP)) => (path, None),
            Some((path, last)) => match Stamp::read_back(last) {
                Some(stamp) => (path, Some(stamp)),
                None => (words, None),
            },
            None => (words, None),
        };
        Self { path: PathBuf::from(path), stamp }
    }
}

/// Work that was found again.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Found {
    /// The file that it was kept in.
    pub kept: PathBuf,
    /// The user's own file that it belongs to.
    pub origin: Option<Origin>,
    /// How long ago it was kept.
    pub age: Option<Duration>,
    /// What ended the window that it was drawn in, where that is known.
    pub why: Option<String>,
}

impl Found {
    /// What it is, in words.
    #[must_use]
    pub fn words(&self) -> String {
        let name = self.origin.as_ref().and_then(|it| it.path.file_name());
        let name = name.map_or("a joint without a file".to_owned(), |it| it.to_string_lossy().into_owned());
        let age = self.age.map_or(String::new(), |it| format!(", {}", ago(it)));
        format!("{name}{age}")
    }
}

/// A time gone by, in words.
fn ago(age: Duration) -> String {
    let minutes = age.as_secs() / 60;
    match minutes {
        0 => "less than a minute ago".into(),
        1 => "a minute ago".into(),
        2..=119 => format!("{minutes} minutes ago"),
        120..=2879 => format!("{} hours ago", minutes / 60),
        _ => format!("{} days ago", minutes / 1440),
    }
}

/// The folder for the state of this user's programs, as the XDG Base Directory Specification has it.
#[must_use]
pub fn usual_folder() -> Option<PathBuf> {
    let named = std::env::var_os("XDG_STATE_HOME").map(PathBuf::from).filter(|it| it.is_absolute());
    let home = || std::env::home_dir().map(|it| it.join(".local/state"));
    named.or_else(home).map(|it| it.join("shankline"))
}

impl Keeper {
    /// Keeps work in a folder, which is made when it is first needed.
    #[must_use]
    pub fn new(folder: PathBuf) -> Self {
        static COUNT: AtomicUsize = AtomicUsize::new(0);
        // An earlier process of the same number may have left work under the same name.
        let name = || format!("{}-{}", std::process::id(), COUNT.fetch_add(1, Ordering::Relaxed));
        let is_taken = |it: &String| folder.join(UNSAVED).join(it.clone() + ENDING).exists();
        let own = std::iter::repeat_with(name).find(|it| !is_taken(it)).unwrap_or_default();
        disk::sweep(&folder.join(UNSAVED));
        let text = disk::read_text(&folder.join("recent"), MOST_BYTES).unwrap_or_default();
        let recent = text.lines().filter(|it| !it.is_empty()).map(PathBuf::from).take(MOST_RECENT).collect();
        Self {
            folder,
            own,
            handed: None,
            writing: false,
            adopted: Vec::new(),
            recent,
            rescue: Rescue::default(),
        }
    }

    fn unsaved(&self) -> PathBuf {
        self.folder.join(UNSAVED)
    }

    fn own_file(&self) -> PathBuf {
        self.unsaved().join(self.own.clone() + ENDING)
    }

    /// How the user likes to see the window.
    pub(super) fn eyes(&self) -> Eyes {
        Eyes::read(&self.folder)
    }

    /// Remembers that.
    pub(super) fn keep_eyes(&self, eyes: Eyes) {
        eyes.keep(&self.folder);
    }

    /// Work that a window which has ended left unsaved, the newest first.
    #[must_use]
    pub fn left(&self) -> Vec<Found> {
        let ended = |it: &PathBuf| {
            let name = it.file_name().map_or(String::new(), |it| it.to_string_lossy().into_owned());
            let Some(stem) = name.strip_suffix(ENDING) else { return false };
            let process = stem.split('-').next().and_then(|it| it.parse::<u32>().ok());
            stem != self.own && process.is_some_and(|it| it == std::process::id() || !disk::is_running(it))
        };
        let mut found: Vec<Found> = disk::files_in(&self.unsaved())
            .into_iter()
            .filter(ended)
            .map(|kept| {
                let origin = disk::read_text(&origin_of(&kept), MOST_BYTES).ok().map(|it| Origin::read(&it));
                Found { age: disk::age(&kept), origin, kept, why: None }
            })
            .collect();
        found.sort_by_key(|it| it.age);
        found
    }

    /// Notes the work as it is now for the case that the program itself fails.
    pub fn note(&self, mark: Mark, joint: &Joint, origin: Option<&Origin>) {
        self.rescue.note(mark, joint, || self.own_file(), origin);
    }

    /// What is to be written for a state of the document: the file and its companion. `None` where that state was
    /// handed over already or another one is on its way.
    pub fn hand_over(&mut self, mark: Mark) -> Option<PathBuf> {
        if self.writing || self.handed == Some(mark) {
            return None;
        }
        (self.handed, self.writing) = (Some(mark), true);
        Some(self.own_file())
    }

    /// The file was written: what was found again needs no file of its own any longer.
    pub fn written(&mut self) {
        self.writing = false;
        for kept in std::mem::take(&mut self.adopted) {
            forget(&kept);
        }
    }

    /// The work is saved or given up: nothing is to be found again.
    pub fn drop_own(&mut self) {
        self.rescue.clear();
        if self.handed.take().is_some() {
            forget(&self.own_file());
        }
        for kept in std::mem::take(&mut self.adopted) {
            forget(&kept);
        }
    }

    /// The work of this file is the document's now.
    pub fn adopt(&mut self, kept: PathBuf) {
        self.adopted.push(kept);
    }

    /// Files that were open lately, the last one first.
    #[must_use]
    pub fn recent(&self) -> &[PathBuf] {
        &self.recent
    }

    /// Remembers that a file was open.
    ///
    /// # Errors
    /// In words, when the list cannot be written.
    pub fn opened(&mut self, path: &Path) -> Result<(), String> {
        let whole = std::path::absolute(path).unwrap_or_else(|_| path.to_owned());
        self.recent.retain(|it| *it != whole);
        self.recent.insert(0, whole);
        self.recent.truncate(MOST_RECENT);
        self.write_recent()
    }

    /// Forgets the files that were open.
    ///
    /// # Errors
    /// In words, when the list cannot be written.
    pub fn clear_recent(&mut self) -> Result<(), String> {
        self.recent.clear();
        self.write_recent()
    }

    fn write_recent(&self) -> Result<(), String> {
        let text: Vec<String> = self.recent.iter().map(|it| it.display().to_string()).collect();
        disk::make_folder(&self.folder).map_err(|it| it.to_string())?;
        disk::replace(&self.folder.join("recent"), text.join("\n").as_bytes()).map_err(|it| it.to_string())
    }
}

fn origin_of(kept: &Path) -> PathBuf {
    let name = kept.file_name().map_or(String::new(), |it| it.to_string_lossy().into_owned());
    kept.with_file_name(name.trim_end_matches(ENDING).to_owned() + ORIGIN)
}

/// Writes work aside, with the user's own file that it belongs to.
///
/// # Errors
/// In words, when it cannot be written.
pub fn keep(path: &Path, text: &str, origin: Option<&Origin>) -> Result<(), String> {
    let folder = path.parent().unwrap_or(Path::new("."));
    disk::make_folder(folder).map_err(|it| it.to_string())?;
    if let Some(origin) = origin {
        disk::replace(&origin_of(path), origin.words().as_bytes()).map_err(|it| it.to_string())?;
    }
    disk::replace(path, text.as_bytes()).map_err(|it| it.to_string())
}

/// Removes a file of work that was kept aside. Where that fails it is offered once more the next time, which
/// costs nobody anything.
pub fn forget(kept: &Path) {
    let _ = disk::remove(kept);
    let _ = disk::remove(&origin_of(kept));
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn work_of_a_process_that_has_ended_is_found_and_goes_when_it_is_forgotten() {
        let folder = tempfile::tempdir().unwrap();
        let keeper = Keeper::new(folder.path().to_owned());
        assert_eq!(keeper.left(), []);
        // No process has this number: it is beyond the greatest that Linux gives out (2^22).
        let kept = folder.path().join("unsaved/4294967295-0.joint.json");
        let stamp = Stamp::read_back("1700000000 5 2");
        let origin = Origin { path: "/jobs/porch é.joint.json".into(), stamp };
        keep(&kept, "{}", Some(&origin)).unwrap();
        keep(&folder.path().join("unsaved/1-0.joint.json"), "{}", None).unwrap();
        let left = keeper.left();
        assert!(left.iter().any(|it| it.kept == kept), "{left:?}");
        let found = left.iter().find(|it| it.kept == kept).unwrap();
        let origin = found.origin.as_ref().unwrap();
        assert_eq!(origin.path, Path::new("/jobs/porch é.joint.json"));
        assert!(origin.stamp.is_some() && origin.stamp == stamp);
        assert_eq!(found.words(), "porch é.joint.json, less than a minute ago");
        forget(&kept);
        assert!(keeper.left().iter().all(|it| it.kept != kept));
    }

    #[test]
    fn the_file_that_work_belongs_to_is_read_with_and_without_a_stamp() {
        let stamp = Stamp::read_back("1700000000 5 2");
        for path in ["/jobs/porch.joint.json", "/jobs/two\nlines.joint.json"] {
            for stamp in [stamp, None] {
                let origin = Origin { path: path.into(), stamp };
                assert_eq!(Origin::read(&origin.words()), origin);
            }
            assert_eq!(Origin::read(path), Origin { path: path.into(), stamp: None }, "a path alone");
        }
    }

    #[test]
    fn files_open_lately_are_listed_once_the_last_one_first() {
        let folder = tempfile::tempdir().unwrap();
        let mut keeper = Keeper::new(folder.path().to_owned());
        for n in 0..12 {
            keeper.opened(Path::new(&format!("/jobs/{n}.joint.json"))).unwrap();
        }
        keeper.opened(Path::new("/jobs/5.joint.json")).unwrap();
        let again = Keeper::new(folder.path().to_owned());
        assert_eq!(again.recent().len(), MOST_RECENT);
        assert_eq!(again.recent()[0], Path::new("/jobs/5.joint.json"));
        assert_eq!(again.recent().iter().filter(|it| it.ends_with("5.joint.json")).count(), 1);
        assert_ne!(again.own, keeper.own, "two windows of one process keep apart");
    }

    #[test]
    fn times_gone_by_read_as_people_say_them() {
        let words = |minutes: u64| ago(Duration::from_secs(minutes * 60 + 5));
        assert_eq!(words(0), "less than a minute ago");
        assert_eq!(words(1), "a minute ago");
        assert_eq!(words(50), "50 minutes ago");
        assert_eq!(words(150), "2 hours ago");
        assert_eq!(words(4000), "2 days ago");
    }
}
