//! How the exported detail is laid out, and what its title block says.

use crate::unit::LengthUnit;
use crate::unit::Vec3;
use crate::unit::length;

/// Model millimetres to one paper millimetre that a file may have.
const SCALES: std::ops::RangeInclusive<f64> = 1e-3..=1e4;

/// How the exported detail is laid out.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct SheetSettings {
    /// Paper; the smallest that fits where absent.
    pub paper: Option<Paper>,
    /// The paper stands on its short side.
    pub portrait: bool,
    /// Model millimetres to one paper millimetre (5 for 1:5); the largest standard scale that fits where absent.
    pub scale: Option<f64>,
    /// What is shown, the main view first; chosen by what the joint needs where empty.
    pub views: Vec<SheetView>,
    /// Number of the detail.
    pub detail: String,
    /// Identification number of the document (ISO 7200). Blank fields stay blank.
    pub number: String,
    /// A second line to the title.
    pub supplement: String,
    /// Who owns the document.
    pub owner: String,
    /// Who drew it.
    pub drawn: String,
    /// Who checked it.
    pub checked: String,
    /// Who approved it.
    pub approved: String,
    /// Date of issue, as typed.
    pub date: String,
    /// What was changed from issue to issue, the oldest first.
    pub revisions: Vec<Revision>,
    /// What the user has drawn aside from where it was put.
    pub moved: Vec<Moved>,
}

/// A paper size, as it lies on its long side.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Paper {
    /// 297 by 210 mm.
    A4,
    /// 420 by 297 mm.
    A3,
    /// 11 by 8 1/2 in.
    Letter,
    /// 17 by 11 in.
    Tabloid,
}

/// From where a joint is looked at, third angle: the side from the right, the top from above.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Look {
    /// Along z: the drawing plane, x to the right, y up.
    #[default]
    Front,
    /// From the right along x: depth to the right, the near end at the left.
    Side,
    /// From above along y: depth upward, the near end below.
    Top,
}

impl Look {
    /// A place or direction of the model as the view from here has it: x to its right, y up in it, z towards
    /// its viewer.
    #[must_use]
    pub fn turned(self, place: Vec3) -> Vec3 {
        match self {
            Self::Front => place,
            Self::Side => Vec3::new(-place.z, place.y, place.x),
            Self::Top => Vec3::new(place.x, -place.z, place.y),
        }
    }

    /// The place or direction of the model that [`Look::turned`] has made this of.
    #[must_use]
    pub fn turned_back(self, place: Vec3) -> Vec3 {
        match self {
            Self::Front => place,
            Self::Side => Vec3::new(place.z, place.y, -place.x),
            Self::Top => Vec3::new(place.x, place.z, -place.y),
        }
    }
}

/// A view on a sheet.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct SheetView {
    /// From where.
    pub look: Look,
    /// The plane that cuts, as a place on the axis that is looked along; seen whole where absent.
    pub cut_mm: Option<f64>,
}

/// One row of the revision table.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Revision {
    /// Its letter or number.
    pub mark: String,
    /// What was changed.
    pub what: String,
    /// By whom.
    pub by: String,
    /// When, as typed.
    pub date: String,
}

/// Something on a sheet that the user has drawn aside, and stays there.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Moved {
    /// The view, the kind and the thing, such as `front mark s1`.
    pub what: String,
    /// Its middle, so many millimetres of paper to the right and down from what it belongs to: of a mark from its
    /// head, of a tag from its hole, of a name from the middle of its member, of a figure from that of its line.
    pub by_mm: (f64, f64),
}

/// A scale as it is written, `1:5`, `2:1`, `5`, or inches to the foot as `3"` or `1 1/2"`: model millimetres to
/// one paper millimetre.
///
/// # Errors
/// What was typed is no scale, in words.
pub fn read_scale(text: &str) -> Result<f64, String> {
    let text = text.trim();
    let wrong = || format!("{text:?} is no scale: write 1:5, 2:1, or 3\" for 3\" to the foot");
    let number = |it: &str| it.trim().parse::<f64>().map_err(|_| wrong());
    let ratio = if let Some((paper, model)) = text.split_once(':') {
        number(model)? / number(paper)?
    } else if text.ends_with('"') {
        let mm = length::parse(text, LengthUnit::Inch).map_err(|_| wrong())?;
        length::from_inches(12.0) / mm
    } else {
        number(text)?
    };
    if SCALES.contains(&ratio) { Ok(ratio) } else { Err(wrong()) }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn scales_are_read_as_the_trade_writes_them() {
        assert_eq!(read_scale("1:5"), Ok(5.0));
        assert_eq!(read_scale("2:1"), Ok(0.5));
        assert_eq!(read_scale("10"), Ok(10.0));
        assert!((read_scale("3\"").unwrap() - 4.0).abs() < 1e-12);
        assert!((read_scale("1 1/2\"").unwrap() - 8.0).abs() < 1e-12);
        for wrong in ["", "0", "1:0", "-3", "three", "1:x", "nan", "\"", "1:20000"] {
            assert!(read_scale(wrong).is_err(), "{wrong}");
        }
    }
}
