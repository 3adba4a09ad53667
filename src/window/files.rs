//! Joint files on disk and the dialogs that ask for their names. Each is a task; each answer is a message.

use std::path::{Path, PathBuf};

use super::document::Chain;
use crate::disk;
use crate::drawing::Drawing;
use crate::joint::{Joint, file};
use crate::paint::{self, Format, Options};
use crate::stock::Stock;

/// What a path is asked for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Purpose {
    /// To open the joint file there.
    Open,
    /// To save the joint there.
    SaveAs,
    /// To write the detail there.
    Export,
}

impl Purpose {
    /// The purpose as a title.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::Open => "Open a joint file",
            Self::SaveAs => "Save the joint as",
            Self::Export => "Export the detail as SVG, PDF or PNG",
        }
    }

    /// The verb on its button.
    #[must_use]
    pub fn verb(self) -> &'static str {
        match self {
            Self::Open => "Open",
            Self::SaveAs => "Save",
            Self::Export => "Export",
        }
    }
}

/// What stood in a file: a joint, or everything that is wrong with it, a line each.
pub type Read = Result<Box<Joint>, Vec<String>>;

/// What was made of a file: a joint with what the chain says of it, or everything that is wrong with it.
pub type Judged = Result<Box<Chain>, Vec<String>>;

/// Reads a joint file and runs the chain on it, which takes a while for a very large one.
///
/// # Errors
/// Everything that is wrong with it, a line each.
pub fn judged(path: &Path, stock: &Stock) -> Judged {
    read(path, stock).map(|joint| Box::new(Chain::opened(*joint, stock)))
}

/// Reads a joint file.
///
/// # Errors
/// Everything that is wrong with it, a line each.
pub fn read(path: &Path, stock: &Stock) -> Read {
    let text = disk::read_text(path, file::MOST_BYTES as u64).map_err(|it| vec![it.to_string()])?;
    file::read(&text, stock).map(Box::new).map_err(|problems| {
        let line = |it: file::Problem| {
            let part = if it.part.is_empty() { String::new() } else { format!("{}: ", it.part) };
            format!("Line {}, column {}: {part}{}", it.line, it.column, it.says)
        };
        problems.into_iter().map(line).collect()
    })
}

/// Writes a text in place of what stood there, whole or not at all.
///
/// # Errors
/// In words, when it cannot be written; what stood there is untouched.
pub fn write(path: &Path, text: &str) -> Result<(), String> {
    disk::replace(path, text.as_bytes()).map_err(|it| it.to_string())
}

/// Writes pages in the format that the ending names, further ones of SVG and PNG under numbered names. Gives how many
/// files there are.
///
/// # Errors
/// In words, when a picture is too large or a file cannot be written.
pub fn export(path: &Path, pages: &[Drawing]) -> Result<usize, String> {
    let format = Format::of(path).ok_or_else(|| {
        format!("{} does not say what to write: end the name with .svg, .pdf or .png.", path.display())
    })?;
    let contents = paint::files(pages, format, Options::default()).map_err(|it| it.to_string())?;
    for (n, content) in contents.iter().enumerate() {
        disk::replace(&disk::numbered(path, n), content).map_err(|it| it.to_string())?;
    }
    Ok(contents.len())
}

/// A path that a user typed or picked, with the ending that its purpose wants.
#[must_use]
pub fn with_ending(path: PathBuf, purpose: Purpose) -> PathBuf {
    let ending = match purpose {
        Purpose::Open => return path,
        Purpose::SaveAs => "joint.json",
        Purpose::Export => "svg",
    };
    if path.extension().is_some() {
        return path;
    }
    path.with_extension(ending)
}

/// Reads a typed path: `~/` is the home folder.
///
/// # Errors
/// In words, when nothing was typed or a folder is named.
pub fn typed_path(text: &str, purpose: Purpose) -> Result<PathBuf, String> {
    let text = text.trim();
    if text.is_empty() {
        return Err("Type the path of a file.".into());
    }
    let path = match (text.strip_prefix("~/"), std::env::home_dir()) {
        (Some(rest), Some(home)) => home.join(rest),
        _ => PathBuf::from(text),
    };
    if path.is_dir() {
        return Err(format!("{} is a folder. Add the name of a file.", path.display()));
    }
    Ok(with_ending(path, purpose))
}

/// The path that is offered first: beside the joint's file.
#[must_use]
pub fn suggested(of: Option<&Path>, purpose: Purpose) -> String {
    match (of, purpose) {
        (Some(path), Purpose::Open | Purpose::SaveAs) => path.display().to_string(),
        (Some(path), Purpose::Export) => {
            let name = path.file_name().map_or(String::new(), |it| it.to_string_lossy().into_owned());
            let stem = name.split('.').next().unwrap_or("detail").to_owned();
            path.with_file_name(stem + ".svg").display().to_string()
        }
        (None, Purpose::Open) => String::new(),
        (None, Purpose::SaveAs) => "untitled.joint.json".into(),
        (None, Purpose::Export) => "detail.svg".into(),
    }
}

/// Asks for a path by the dialog of the desktop. `None` means that it was cancelled or that there is none to be had.
pub async fn ask(purpose: Purpose, suggested: String) -> Option<PathBuf> {
    let suggested = PathBuf::from(suggested);
    let mut dialog = rfd::AsyncFileDialog::new().set_title(purpose.words());
    if let Some(folder) = suggested.parent().filter(|it| it.is_dir()) {
        dialog = dialog.set_directory(folder);
    }
    let name = suggested.file_name().map_or(String::new(), |it| it.to_string_lossy().into_owned());
    let picked = match purpose {
        Purpose::Open => dialog.add_filter("Joint files", &["json"]).pick_file().await,
        Purpose::SaveAs => dialog.add_filter("Joint files", &["json"]).set_file_name(name).save_file().await,
        Purpose::Export => {
            let dialog = dialog.add_filter("SVG, PDF or PNG", &["svg", "pdf", "png"]);
            dialog.set_file_name(name).save_file().await
        }
    };
    picked.map(|it| with_ending(it.path().to_owned(), purpose))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_name_without_an_ending_gets_the_one_of_its_purpose() {
        let path = |text, purpose| typed_path(text, purpose).unwrap();
        assert_eq!(path("porch", Purpose::SaveAs), PathBuf::from("porch.joint.json"));
        assert_eq!(path(" porch.joint.json ", Purpose::SaveAs), PathBuf::from("porch.joint.json"));
        assert_eq!(path("porch", Purpose::Export), PathBuf::from("porch.svg"));
        assert_eq!(path("porch", Purpose::Open), PathBuf::from("porch"));
        assert!(typed_path("  ", Purpose::Open).is_err());
        assert!(typed_path("/", Purpose::SaveAs).is_err_and(|it| it.contains("folder")));
    }

    #[test]
    fn pages_are_written_in_the_format_of_the_ending_and_another_ending_is_refused() {
        let folder = tempfile::tempdir().unwrap();
        let pages = [Drawing { size_mm: (20.0, 10.0), ..Drawing::default() }, Drawing::default()];
        let at = |name: &str| folder.path().join(name);
        let begin = |name: &str| std::fs::read(at(name)).unwrap()[..4].to_vec();
        assert_eq!(export(&at("a.PDF"), &pages), Ok(1));
        assert_eq!(begin("a.PDF"), b"%PDF");
        assert_eq!(export(&at("b.svg"), &pages), Ok(pages.len()));
        assert_eq!((begin("b.svg"), begin("b-2.svg")), (b"<svg".to_vec(), b"<svg".to_vec()));
        assert_eq!(export(&at("c.png"), &pages[..1]), Ok(1));
        assert_eq!(begin("c.png"), b"\x89PNG");
        assert!(export(&at("d.dwg"), &pages).is_err_and(|it| it.contains(".pdf")));
    }

    #[test]
    fn the_detail_is_offered_beside_its_joint() {
        let of = Path::new("/jobs/heron lane/ledger.joint.json");
        assert_eq!(suggested(Some(of), Purpose::Export), "/jobs/heron lane/ledger.svg");
        assert_eq!(suggested(None, Purpose::Export), "detail.svg");
    }

    #[test]
    fn a_file_that_is_not_there_is_told_by_name() {
        let read = read(Path::new("/nowhere/at all.joint.json"), &Stock::default());
        assert!(read.is_err_and(|it| it.len() == 1 && it[0].contains("/nowhere/at all.joint.json")));
    }
}
