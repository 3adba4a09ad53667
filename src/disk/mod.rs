//! Reading files within a limit and replacing them whole. Knows no wood.

use std::path::{Path, PathBuf};

/// How the name of a file begins that is being written.
const HALF: &str = ".shankline-";

/// What went wrong with a file.
#[derive(Debug, thiserror::Error)]
pub enum DiskError {
    /// It could not be read.
    #[error("{} cannot be read: {why}", path.display())]
    Read {
        /// The file.
        path: PathBuf,
        /// What the system said.
        why: std::io::Error,
    },
    /// It is no UTF-8 text.
    #[error("{} is no UTF-8 text (byte {at})", path.display())]
    NotText {
        /// The file.
        path: PathBuf,
        /// Offset of the first bad byte.
        at: usize,
    },
    /// It is larger than any joint file may be.
    #[error("{} has {bytes} bytes; at most {limit} are read", path.display())]
    TooLarge {
        /// The file.
        path: PathBuf,
        /// Its size.
        bytes: u64,
        /// The limit.
        limit: u64,
    },
    /// It could not be written. What stood there before is untouched.
    #[error("{} cannot be written: {why}; what stood there is untouched", path.display())]
    Write {
        /// The file.
        path: PathBuf,
        /// What the system said.
        why: std::io::Error,
    },
}

/// Reads a text file of at most `limit` bytes.
///
/// # Errors
/// When it cannot be read, is too large, or is no UTF-8.
pub fn read_text(path: &Path, limit: u64) -> Result<String, DiskError> {
    use std::io::Read as _;
    let fail = |why| DiskError::Read { path: path.to_owned(), why };
    let file = std::fs::File::open(path).map_err(fail)?;
    let bytes = file.metadata().map_err(fail)?.len();
    let too_large = |bytes| DiskError::TooLarge { path: path.to_owned(), bytes, limit };
    if limit < bytes {
        return Err(too_large(bytes));
    }
    let mut content = Vec::new();
    // A pipe or a growing file has no honest size, so the limit is kept here too.
    file.take(limit + 1).read_to_end(&mut content).map_err(fail)?;
    if limit < content.len() as u64 {
        return Err(too_large(content.len() as u64));
    }
    String::from_utf8(content)
        .map_err(|it| DiskError::NotText { path: path.to_owned(), at: it.utf8_error().valid_up_to() })
}

/// The path of the page at place `n`, from zero, of a drawing whose first page is written to `path`: `porch.svg`,
/// then `porch-2.svg`.
#[must_use]
pub fn numbered(path: &Path, n: usize) -> PathBuf {
    if n == 0 {
        return path.to_owned();
    }
    let stem = path.file_stem().map_or_else(String::new, |it| it.to_string_lossy().into_owned());
    let ending = path.extension().map_or_else(String::new, |it| format!(".{}", it.to_string_lossy()));
    path.with_file_name(format!("{stem}-{}{ending}", n + 1))
}

/// The files of so many pages under their numbered names, in words: the first with its path, the others by name, those
/// between left out where they are many.
#[must_use]
pub fn numbered_words(path: &Path, count: usize) -> String {
    let first = path.display();
    let name = |n: usize| {
        let name = numbered(path, n);
        name.file_name().map_or_else(String::new, |it| it.to_string_lossy().into_owned())
    };
    match count {
        0 | 1 => first.to_string(),
        2 => format!("{first} and {}", name(1)),
        3 => format!("{first}, {} and {}", name(1), name(2)),
        _ => format!("{first} and {} to {}", name(1), name(count - 1)),
    }
}

/// Puts a file in place of what stood there, whole or not at all: a temporary file beside it,
/// synced, then renamed. The permissions of the old file are kept.
///
/// # Errors
/// When it cannot be written; then the old file is as it was.
pub fn replace(path: &Path, content: &[u8]) -> Result<(), DiskError> {
    use std::io::Write as _;
    let fail = |why| DiskError::Write { path: path.to_owned(), why };
    // A link is followed, so that the file it names is replaced and the link stays.
    let target = std::fs::canonicalize(path).unwrap_or_else(|_| path.to_owned());
    let folder = target.parent().filter(|it| !it.as_os_str().is_empty()).unwrap_or(Path::new("."));
    let mut file =
        tempfile::Builder::new().prefix(HALF).tempfile_in(folder).map_err(|it| fail(alone(&it)))?;
    file.write_all(content).map_err(fail)?;
    keep_permissions(&target, file.as_file()).map_err(fail)?;
    file.as_file().sync_all().map_err(fail)?;
    file.persist(&target).map_err(|it| fail(it.error))?;
    // The rename itself reaches the disk with its folder.
    std::fs::File::open(folder).and_then(|it| it.sync_all()).map_err(fail)
}

/// What the system said, without the name of the half that nobody has asked for.
fn alone(why: &std::io::Error) -> std::io::Error {
    let words = why.to_string();
    let of_system = words.split_once(" at path ").map_or(words.as_str(), |it| it.0);
    std::io::Error::new(why.kind(), of_system)
}

fn keep_permissions(old: &Path, new: &std::fs::File) -> std::io::Result<()> {
    match std::fs::metadata(old) {
        Ok(metadata) => new.set_permissions(metadata.permissions()),
        #[cfg(unix)]
        Err(_) => {
            use std::os::unix::fs::PermissionsExt as _;
            new.set_permissions(std::fs::Permissions::from_mode(0o644))
        }
        #[cfg(not(unix))]
        Err(_) => Ok(()),
    }
}

/// When a file was last written, and how long it is: another stamp is another content, as far as can be told
/// without reading it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Stamp {
    written: Option<std::time::SystemTime>,
    bytes: u64,
}

impl Stamp {
    /// How large the file was.
    #[must_use]
    pub fn bytes(&self) -> u64 {
        self.bytes
    }

    /// The stamp as words that [`Self::read_back`] reads; `None` where the time cannot be told.
    #[must_use]
    pub fn written_down(&self) -> Option<String> {
        let since = self.written?.duration_since(std::time::UNIX_EPOCH).ok()?;
        Some(format!("{} {} {}", since.as_secs(), since.subsec_nanos(), self.bytes))
    }

    /// A stamp that was written down; `None` where the words are none.
    #[must_use]
    pub fn read_back(words: &str) -> Option<Self> {
        let mut numbers = words.split(' ');
        let seconds = numbers.next()?.parse().ok()?;
        let nanos = numbers.next()?.parse().ok().filter(|it| *it < 1_000_000_000)?;
        let bytes = numbers.next()?.parse().ok()?;
        let written = std::time::UNIX_EPOCH.checked_add(std::time::Duration::new(seconds, nanos))?;
        numbers.next().is_none().then_some(Self { written: Some(written), bytes })
    }
}

/// The stamp of a file; `None` where there is none.
#[must_use]
pub fn stamp(path: &Path) -> Option<Stamp> {
    let metadata = std::fs::metadata(path).ok()?;
    Some(Stamp { written: metadata.modified().ok(), bytes: metadata.len() })
}

/// How long ago a file was written; `None` where that cannot be told.
#[must_use]
pub fn age(path: &Path) -> Option<std::time::Duration> {
    std::fs::metadata(path).and_then(|it| it.modified()).ok()?.elapsed().ok()
}

/// The files of a folder, by name; none where there is no such folder.
#[must_use]
pub fn files_in(folder: &Path) -> Vec<PathBuf> {
    let entries = std::fs::read_dir(folder).into_iter().flatten().filter_map(Result::ok);
    let mut files: Vec<PathBuf> = entries.map(|it| it.path()).filter(|it| it.is_file()).collect();
    files.sort();
    files
}

/// Removes what writers that were killed have left in a folder: half-written files that nobody has touched for an hour.
pub fn sweep(folder: &Path) {
    let is_half = |it: &PathBuf| it.file_name().is_some_and(|it| it.to_string_lossy().starts_with(HALF));
    let is_old = |it: &PathBuf| age(it).is_some_and(|it| 3600 < it.as_secs());
    for path in files_in(folder).iter().filter(|it| is_half(it) && is_old(it)) {
        // What stays is swept the next time.
        let _ = remove(path);
    }
}

/// Makes a folder and those that it lies in.
///
/// # Errors
/// When it cannot be made.
pub fn make_folder(path: &Path) -> Result<(), DiskError> {
    std::fs::create_dir_all(path).map_err(|why| DiskError::Write { path: path.to_owned(), why })
}

/// Removes a file. One that is gone already is no error.
///
/// # Errors
/// When it is there and cannot be removed.
pub fn remove(path: &Path) -> Result<(), DiskError> {
    match std::fs::remove_file(path) {
        Err(why) if why.kind() != std::io::ErrorKind::NotFound => {
            Err(DiskError::Write { path: path.to_owned(), why })
        }
        Ok(()) | Err(_) => Ok(()),
    }
}

/// Whether a process of this number runs the same program as this one. Where the system does not tell, it is
/// taken to have ended.
#[must_use]
pub fn is_running(process: u32) -> bool {
    let program = |it: &str| std::fs::read_link(format!("/proc/{it}/exe")).ok();
    match (program(&process.to_string()), program("self")) {
        (Some(other), Some(own)) => other == own,
        _ => false,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_file_is_replaced_whole_and_keeps_its_permissions() {
        use std::os::unix::fs::PermissionsExt as _;
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("a.joint.json");
        replace(&path, b"one").unwrap();
        std::fs::set_permissions(&path, std::fs::Permissions::from_mode(0o640)).unwrap();
        replace(&path, b"two").unwrap();
        assert_eq!(read_text(&path, 10).unwrap(), "two");
        assert_eq!(std::fs::metadata(&path).unwrap().permissions().mode() & 0o777, 0o640);
        assert_eq!(std::fs::read_dir(folder.path()).unwrap().count(), 1, "no temporary file is left");
    }

    #[test]
    fn every_page_that_is_written_is_named() {
        let words = |count| numbered_words(Path::new("/jobs/cap.svg"), count);
        assert_eq!(words(1), "/jobs/cap.svg");
        assert_eq!(words(2), "/jobs/cap.svg and cap-2.svg");
        assert_eq!(words(3), "/jobs/cap.svg, cap-2.svg and cap-3.svg");
        assert_eq!(words(12), "/jobs/cap.svg and cap-2.svg to cap-12.svg");
    }

    #[test]
    fn a_save_that_fails_leaves_the_old_file_and_no_other() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("gone").join("a.joint.json");
        let why = replace(&path, b"one").unwrap_err();
        assert!(matches!(why, DiskError::Write { .. }));
        let says = why.to_string();
        assert!(
            says.contains("a.joint.json") && says.contains("No such file") && !says.contains(HALF),
            "{says}"
        );
        // A folder in the place of the file cannot be renamed over.
        let taken = folder.path().join("taken");
        std::fs::create_dir(&taken).unwrap();
        assert!(matches!(replace(&taken, b"one"), Err(DiskError::Write { .. })));
        assert_eq!(std::fs::read_dir(folder.path()).unwrap().count(), 1);
    }

    #[test]
    fn halves_are_swept_once_they_are_old_and_nothing_else_is() {
        let folder = tempfile::tempdir().unwrap();
        let old = std::time::SystemTime::now() - std::time::Duration::from_secs(4000);
        for (name, is_old) in [(".shankline-a", true), (".shankline-b", false), ("porch.joint.json", true)] {
            let file = std::fs::File::create(folder.path().join(name)).unwrap();
            if is_old {
                file.set_modified(old).unwrap();
            }
        }
        sweep(folder.path());
        let left = files_in(folder.path());
        assert_eq!(left, [".shankline-b", "porch.joint.json"].map(|it| folder.path().join(it)));
    }

    #[test]
    fn a_stamp_that_is_written_down_reads_back_the_same() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("a");
        replace(&path, b"one").unwrap();
        let of = stamp(&path).unwrap();
        assert_eq!(Stamp::read_back(&of.written_down().unwrap()), Some(of));
        for bad in ["", "porch", "1 2", "1 2 3 4", "1 1000000000 3", "18446744073709551615 0 3", "-1 0 3"] {
            assert_eq!(Stamp::read_back(bad), None, "{bad}");
        }
    }

    #[test]
    fn a_link_stays_a_link() {
        let folder = tempfile::tempdir().unwrap();
        let (path, link) = (folder.path().join("a"), folder.path().join("b"));
        replace(&path, b"one").unwrap();
        std::os::unix::fs::symlink(&path, &link).unwrap();
        replace(&link, b"two").unwrap();
        assert_eq!(read_text(&path, 10).unwrap(), "two");
        assert!(std::fs::symlink_metadata(&link).unwrap().is_symlink());
    }

    #[test]
    fn large_and_binary_files_are_refused_by_name() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("a");
        replace(&path, b"12345").unwrap();
        assert!(matches!(read_text(&path, 4), Err(DiskError::TooLarge { bytes: 5, limit: 4, .. })));
        replace(&path, b"ab\xff").unwrap();
        assert!(matches!(read_text(&path, 9), Err(DiskError::NotText { at: 2, .. })));
    }
}
