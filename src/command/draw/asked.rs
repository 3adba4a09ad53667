//! What a call asks of a sheet, read from its words.

use std::str::FromStr;

use crate::joint::{Look, Paper, SheetView, read_scale};
use crate::unit::LengthUnit;

/// A paper by its word.
#[derive(clap::ValueEnum, Clone, Copy, Debug)]
pub(super) enum PaperWord {
    A4,
    A3,
    Letter,
    Tabloid,
}

impl From<PaperWord> for Paper {
    fn from(word: PaperWord) -> Self {
        match word {
            PaperWord::A4 => Self::A4,
            PaperWord::A3 => Self::A3,
            PaperWord::Letter => Self::Letter,
            PaperWord::Tabloid => Self::Tabloid,
        }
    }
}

/// A scale: model millimetres to one paper millimetre.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct ScaleWord(pub(super) f64);

impl FromStr for ScaleWord {
    type Err = String;

    fn from_str(text: &str) -> Result<Self, String> {
        read_scale(text).map(Self)
    }
}

/// A view: a side, and a plane that cuts as it was typed.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct ViewWord {
    look: Look,
    cut: Option<String>,
}

impl FromStr for ViewWord {
    type Err = String;

    /// `front`, `side`, `top`, or with a plane `top@4 1/2"`.
    fn from_str(text: &str) -> Result<Self, String> {
        let (name, cut) = match text.split_once('@') {
            Some((name, cut)) => (name, Some(cut.trim().to_owned())),
            None => (text, None),
        };
        let look = match name.trim() {
            "front" => Look::Front,
            "side" => Look::Side,
            "top" => Look::Top,
            other => return Err(format!("{other:?} is no view: front, side, top, or one cut as top@100mm")),
        };
        Ok(Self { look, cut })
    }
}

impl ViewWord {
    /// The view of a joint that shows lengths in this unit.
    pub(super) fn view(&self, shown_in: LengthUnit) -> Result<SheetView, String> {
        let plane = |it: &String| {
            crate::unit::length::parse(it, shown_in).map_err(|why| format!("--view cut at {it:?}: {why}"))
        };
        Ok(SheetView { look: self.look, cut_mm: self.cut.as_ref().map(plane).transpose()? })
    }
}

/// Pages by their numbers, from one.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct PageRange(Vec<(usize, usize)>);

impl FromStr for PageRange {
    type Err = String;

    /// `2`, `1,3-4`.
    fn from_str(text: &str) -> Result<Self, String> {
        let wrong = || format!("{text:?} names no pages: write 2, 1-3, or 1,3-4");
        let number = |it: &str| it.trim().parse::<usize>().ok().filter(|it| 0 < *it).ok_or_else(wrong);
        let part = |it: &str| match it.split_once('-') {
            Some((from, to)) => Ok((number(from)?, number(to)?)),
            None => number(it).map(|it| (it, it)),
        };
        let parts = text.split(',').map(part).collect::<Result<Vec<_>, String>>()?;
        if parts.iter().any(|it| it.1 < it.0) { Err(wrong()) } else { Ok(Self(parts)) }
    }
}

impl PageRange {
    /// Those of the pages that are named, in their order.
    pub(super) fn of<T>(&self, pages: Vec<T>) -> Result<Vec<T>, String> {
        let count = pages.len();
        let named = |n: usize| self.0.iter().any(|(from, to)| (*from..=*to).contains(&n));
        let kept: Vec<T> =
            pages.into_iter().enumerate().filter(|it| named(it.0 + 1)).map(|it| it.1).collect();
        let beyond = self.0.iter().map(|it| it.0).find(|it| count < *it);
        match beyond {
            Some(page) => Err(format!("there is no page {page}; the last is {count}")),
            None => Ok(kept),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn views_and_pages_are_read_and_what_is_none_is_refused() {
        let view: ViewWord = "top@4 1/2\"".parse().unwrap();
        let view = view.view(LengthUnit::Inch).unwrap();
        assert_eq!(view.look, Look::Top);
        assert!((view.cut_mm.unwrap() - 114.3).abs() < 1e-9);
        assert!("back".parse::<ViewWord>().is_err());
        assert!("side@soon".parse::<ViewWord>().unwrap().view(LengthUnit::Inch).is_err());
        let pages: PageRange = "1,3-4".parse().unwrap();
        assert_eq!(pages.of(vec!['a', 'b', 'c', 'd', 'e']), Ok(vec!['a', 'c', 'd']));
        assert!(pages.of(vec!['a', 'b']).is_err());
        for wrong in ["", "0", "3-1", "x", "1-", "1,,2"] {
            assert!(wrong.parse::<PageRange>().is_err(), "{wrong}");
        }
    }
}
