//! From a file's name to its findings: the one place where the command line runs the chain.

use std::panic::{AssertUnwindSafe, catch_unwind};
use std::path::Path;

use crate::disk;
use crate::drawing;
use crate::findings::{self, Findings};
use crate::joint::{self, Joint};
use crate::stock::Stock;
use crate::trace::{self, Trace};

/// A joint file with all that follows from it.
pub(super) struct Chained {
    /// As read.
    pub(super) joint: Joint,
    /// As traced.
    pub(super) trace: Trace,
    /// As judged, with remedies.
    pub(super) findings: Findings,
}

impl Chained {
    /// What a drawing is made from.
    pub(super) fn inputs(&self) -> drawing::Inputs<'_> {
        drawing::Inputs { joint: &self.joint, trace: &self.trace, findings: &self.findings }
    }
}

/// Reads a file. What is wrong with it comes back as lines to print.
pub(super) fn read(path: &Path, stock: &Stock) -> Result<Joint, Vec<String>> {
    let text = disk::read_text(path, joint::file::MOST_BYTES as u64).map_err(|it| vec![it.to_string()])?;
    joint::file::read(&text, stock).map_err(|problems| {
        problems
            .iter()
            .map(|it| format!("{}:{}:{}: {}: {}", path.display(), it.line, it.column, it.part, it.says))
            .collect::<Vec<_>>()
    })
}

/// Reads a file and runs the chain. What is wrong with it comes back as lines to print,
/// each beginning with the file's name and, where there is one, its line and column.
pub(super) fn run(path: &Path, stock: &Stock) -> Result<Chained, Vec<String>> {
    let joint = read(path, stock)?;
    let trace = trace::trace(&joint);
    let findings = findings::with_remedies(&joint, stock, findings::judge(&joint, &trace));
    Ok(Chained { joint, trace, findings })
}

/// Does something for one file. Where the program itself fails at it, that is this file's error and not the end of
/// the others; the standard error has said before where it failed.
pub(super) fn guarded<T>(
    path: &Path,
    act: impl FnOnce() -> Result<T, Vec<String>>,
) -> Result<T, Vec<String>> {
    // What `act` has begun is dropped with it, so nobody sees it half done.
    catch_unwind(AssertUnwindSafe(act)).unwrap_or_else(|_| {
        let fault =
            "Shankline failed at this file, by a fault of its own that is told above. Nothing was changed";
        Err(vec![format!(
            "{}: {fault}; please keep the file, so that the fault can be found",
            path.display()
        )])
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_failure_at_one_file_is_the_error_of_that_file() {
        let paths = ["a", "b", "c"].map(Path::new);
        let done = paths.map(|path| {
            guarded(path, || {
                assert_ne!(path, Path::new("b"), "a failure that was asked for");
                Ok(path)
            })
        });
        assert_eq!((done[0].as_ref(), done[2].as_ref()), (Ok(&paths[0]), Ok(&paths[2])));
        let said = done[1].as_ref().unwrap_err();
        assert!(said[0].starts_with("b: Shankline failed at this file"), "{said:?}");
    }
}
