//! When the program itself fails: the work is written aside before anything else, and the window begins again,
//! says what happened and offers the work.

use std::ffi::OsString;
use std::panic::PanicHookInfo;
use std::path::{Path, PathBuf};
use std::sync::{Arc, Mutex};
use std::time::{Duration, Instant};

use super::journal::Mark;
use super::keeper::{self, Origin};
use crate::joint::{Joint, file};

/// Tells the window that begins again what ended the one before.
const STOPPED: &str = "SHANKLINE_STOPPED";

/// A window that fails sooner than this after it began again is not begun a third time.
const SOON: Duration = Duration::from_secs(5);

/// The work as it was after the last step, where a failure finds it. Copies share it.
#[derive(Clone, Debug, Default)]
pub struct Rescue {
    last: Arc<Mutex<Option<Last>>>,
}

#[derive(Debug)]
struct Last {
    mark: Mark,
    joint: Joint,
    kept: PathBuf,
    origin: Option<Origin>,
}

impl Rescue {
    /// Notes the unsaved work as it is now, the file to keep it in, and the user's own file that it belongs to.
    pub(super) fn note(
        &self,
        mark: Mark,
        joint: &Joint,
        kept: impl FnOnce() -> PathBuf,
        origin: Option<&Origin>,
    ) {
        if let Ok(mut last) = self.last.lock()
            && last.as_ref().is_none_or(|it| it.mark != mark)
        {
            *last = Some(Last { mark, joint: joint.clone(), kept: kept(), origin: origin.cloned() });
        }
    }

    /// Nothing is unsaved.
    pub(super) fn clear(&self) {
        if let Ok(mut last) = self.last.lock() {
            *last = None;
        }
    }

    /// Writes the noted work aside, if there is any; where it now lies.
    ///
    /// # Errors
    /// In words, when it cannot be written.
    pub fn save(&self) -> Result<Option<PathBuf>, String> {
        // A failure in the midst of `note` leaves the lock poisoned and the state before it whole.
        let last = match self.last.try_lock() {
            Ok(it) => it,
            Err(std::sync::TryLockError::Poisoned(it)) => it.into_inner(),
            Err(std::sync::TryLockError::WouldBlock) => return Ok(None),
        };
        let Some(Last { joint, kept, origin, .. }) = &*last else { return Ok(None) };
        keeper::keep(kept, &file::write(joint), origin.as_ref()).map(|()| Some(kept.clone()))
    }
}

/// What failed, and where in the program, in one line.
pub(super) fn words(info: &PanicHookInfo<'_>) -> String {
    let payload = info.payload();
    let text = payload.downcast_ref::<&str>().copied();
    let text = text.or(payload.downcast_ref::<String>().map(String::as_str)).unwrap_or("no reason given");
    let place = info.location().map_or(String::new(), |it| format!(" ({}:{})", it.file(), it.line()));
    format!("{}{place}", text.lines().next().unwrap_or_default())
}

/// What ended the window before this one, if this one was begun because of that.
pub(super) fn stopped() -> Option<String> {
    std::env::var(STOPPED).ok().filter(|it| !it.is_empty())
}

/// Begins the window again in place of the one that failed, on the file that was shown where no work is to be
/// found again. Comes back only when that cannot be done, or would go on for ever.
pub(super) fn begin_again(why: &str, began: Instant, shown: Option<&Path>) {
    if stopped().is_some() && began.elapsed() < SOON {
        return;
    }
    let Ok(program) = std::env::current_exe() else { return };
    let mut next = std::process::Command::new(program);
    let _ = next.env(STOPPED, why).args(shown.map(OsString::from));
    #[cfg(unix)]
    {
        use std::os::unix::process::CommandExt as _;
        let _ = next.exec();
    }
    #[cfg(not(unix))]
    if next.spawn().is_ok() {
        std::process::exit(0);
    }
}

/// Fails on purpose where a test asks for it, by a file that it names; never in a released program.
pub(super) fn rehearse() {
    #[cfg(debug_assertions)]
    if let Some(path) = std::env::var_os("SHANKLINE_REHEARSE").map(PathBuf::from)
        && path.exists()
    {
        let _ = crate::disk::remove(&path);
        panic!("a failure that was asked for");
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::stock::Stock;
    use crate::window::journal::Journal;

    #[test]
    fn the_last_state_is_written_whole_with_the_file_that_it_belongs_to() {
        let folder = tempfile::tempdir().unwrap();
        let kept = folder.path().join("unsaved/1-0.joint.json");
        let rescue = Rescue::default();
        assert_eq!(rescue.save(), Ok(None), "nothing is noted");
        let joint = Joint { title: "Weir gate".into(), ..Joint::default() };
        rescue.note(
            Journal::default().mark(),
            &joint,
            || kept.clone(),
            Some(&Origin { path: "/jobs/weir.joint.json".into(), stamp: None }),
        );
        assert_eq!(rescue.clone().save(), Ok(Some(kept.clone())));
        let text = std::fs::read_to_string(&kept).unwrap();
        assert_eq!(file::read(&text, &Stock::built_in()), Ok(joint));
        assert!(kept.with_file_name("1-0.origin").is_file());
        rescue.clear();
        assert_eq!(rescue.save(), Ok(None), "what is saved need not be rescued");
    }

    #[test]
    fn a_failure_while_the_work_is_noted_leaves_the_state_before() {
        let folder = tempfile::tempdir().unwrap();
        let kept = folder.path().join("unsaved/1-0.joint.json");
        let rescue = Rescue::default();
        let before = Joint { title: "before".into(), ..Joint::default() };
        rescue.note(Journal::default().mark(), &before, || kept.clone(), None);
        let other = rescue.clone();
        let failed = std::thread::spawn(move || {
            let _held = other.last.lock();
            panic!("in the midst");
        });
        assert!(failed.join().is_err());
        assert_eq!(rescue.save(), Ok(Some(kept)));
    }
}
