//! Where a drawing is written.

use std::path::{Path, PathBuf};

use crate::paint::Format;

/// The file that is written for a joint file: the output itself, or in it where it is a folder.
pub(super) fn path(output: &Path, file: &Path, format: Format) -> PathBuf {
    if !output.is_dir() {
        return output.to_owned();
    }
    let name = file.file_name().map_or_else(String::new, |it| it.to_string_lossy().into_owned());
    let stem = name.strip_suffix(".joint.json").or_else(|| name.strip_suffix(".json")).unwrap_or(&name);
    output.join(format!("{stem}.{}", format.ending()))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_folder_gets_the_name_of_the_joint_and_a_file_is_taken_as_it_is() {
        let folder = tempfile::tempdir().unwrap();
        let file = Path::new("/jobs/porch 2.joint.json");
        assert_eq!(path(folder.path(), file, Format::Pdf), folder.path().join("porch 2.pdf"));
        assert_eq!(path(Path::new("x.svg"), file, Format::Svg), PathBuf::from("x.svg"));
    }
}
