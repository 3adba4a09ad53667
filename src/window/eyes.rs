//! How the user likes to see the window: by day or by night, and how large its words are. Kept from one start to the next.

use std::path::Path;

use crate::disk;

const FILE: &str = "window";
/// The file is a few words; what is longer is none of ours.
const MOST_BYTES: u64 = 1 << 10;
/// The least and the greatest size of words and controls.
pub(super) const SCALES: (f32, f32) = (0.75, 2.0);

/// What is kept.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Eyes {
    /// Light words on a dark ground.
    pub(super) dark: bool,
    /// How many times their usual size words and controls have.
    pub(super) scale: f32,
}

impl Default for Eyes {
    fn default() -> Self {
        Self { dark: false, scale: 1.0 }
    }
}

impl Eyes {
    /// What was kept in the folder of the state. What is missing or makes no sense is as in a new window.
    pub(super) fn read(folder: &Path) -> Self {
        let text = disk::read_text(&folder.join(FILE), MOST_BYTES).unwrap_or_default();
        let mut eyes = Self::default();
        for line in text.lines() {
            match line.split_once(' ') {
                Some(("scale", number)) => {
                    let scale = number.parse().ok().filter(|it: &f32| it.is_finite());
                    eyes.scale = scale.unwrap_or(1.0).clamp(SCALES.0, SCALES.1);
                }
                _ => eyes.dark |= line == "dark",
            }
        }
        eyes
    }

    /// Keeps it. A window that cannot keep it looks as usual the next time, which is no reason to stop anyone.
    pub(super) fn keep(self, folder: &Path) {
        let light = if self.dark { "dark" } else { "light" };
        let _ = disk::make_folder(folder);
        let _ = disk::replace(&folder.join(FILE), format!("{light}\nscale {}\n", self.scale).as_bytes());
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_kept_is_read_again_and_nonsense_is_as_usual() {
        let folder = tempfile::tempdir().unwrap();
        assert_eq!(Eyes::read(folder.path()), Eyes::default());
        let eyes = Eyes { dark: true, scale: 1.21 };
        eyes.keep(&folder.path().join("new"));
        assert_eq!(Eyes::read(&folder.path().join("new")), eyes);
        for (text, scale) in
            [("scale NaN", 1.0), ("scale 1e9", 2.0), ("scale", 1.0), ("\u{0}\nscale 0", 0.75)]
        {
            std::fs::write(folder.path().join(FILE), text).unwrap();
            assert_eq!(Eyes::read(folder.path()), Eyes { dark: false, scale }, "{text}");
        }
    }
}
