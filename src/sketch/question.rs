//! The sizes that a starting joint or a connector form asks for, with defaults and limits in inches and
//! in millimetres, and why what was wished for cannot be drawn.

use std::collections::BTreeMap;

use thiserror::Error;

use crate::joint::StandardId;
use crate::unit::LengthUnit;
use crate::unit::length::{exact, from_inches, parse};

/// One size that is asked for.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Question {
    /// Its name on the command line.
    pub key: &'static str,
    /// What is asked, for people.
    pub asks: &'static str,
    /// What sort of number it is.
    pub sort: Sort,
    inch: Span,
    metric: Span,
}

/// What sort of number a size is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Sort {
    /// Millimetres.
    Length,
    /// A whole number.
    Count,
    /// Degrees.
    Degrees,
}

/// Default, least and most, in the unit of its standard.
type Span = [f64; 3];

/// Why what was wished for cannot be drawn, in words for whoever wished.
#[derive(Clone, Debug, Error, PartialEq)]
pub enum WishError {
    /// A size that is not asked for.
    #[error("`{key}` is no size that is asked for; there are {known}")]
    UnknownSize {
        /// The name that was given.
        key: String,
        /// The names that there are.
        known: String,
    },
    /// A text that is no number or length.
    #[error("{key}: {why}")]
    Unreadable {
        /// Which size.
        key: &'static str,
        /// What is wrong with the text.
        why: String,
    },
    /// A value beyond the limits.
    #[error("{key} is {given}; from {least} to {most} is possible")]
    OutOfRange {
        /// Which size.
        key: &'static str,
        /// What was given.
        given: String,
        /// The least possible.
        least: String,
        /// The most possible.
        most: String,
    },
    /// A count with a fraction.
    #[error("{key} is {given}; a whole number is wanted")]
    NotWhole {
        /// Which size.
        key: &'static str,
        /// What was given.
        given: String,
    },
    /// Measures that do not go together, or make nothing.
    #[error("{0}")]
    DoesNotFit(String),
    /// Stock holds nothing for it.
    #[error("{0}")]
    NotInStock(String),
}

impl Question {
    /// A length: default, least and most, first in inches, then in millimetres.
    pub(super) const fn length(key: &'static str, asks: &'static str, inch: Span, metric: Span) -> Self {
        Self { key, asks, sort: Sort::Length, inch, metric }
    }

    /// A whole number: default, least and most.
    pub(super) const fn count(key: &'static str, asks: &'static str, span: Span) -> Self {
        Self { key, asks, sort: Sort::Count, inch: span, metric: span }
    }

    /// An angle in degrees: default, least and most.
    pub(super) const fn degrees(key: &'static str, asks: &'static str, span: Span) -> Self {
        Self { key, asks, sort: Sort::Degrees, inch: span, metric: span }
    }

    fn bound(&self, by: StandardId, which: usize) -> f64 {
        match (by, self.sort) {
            (StandardId::Nds2018, Sort::Length) => from_inches(self.inch[which]),
            (StandardId::Nds2018, Sort::Count | Sort::Degrees) => self.inch[which],
            (StandardId::En199511, _) => self.metric[which],
        }
    }

    /// What it is where nothing is given: millimetres, a number, degrees.
    #[must_use]
    pub fn default(&self, by: StandardId) -> f64 {
        self.bound(by, 0)
    }

    /// The least that is possible.
    #[must_use]
    pub fn least(&self, by: StandardId) -> f64 {
        self.bound(by, 1)
    }

    /// The most that is possible.
    #[must_use]
    pub fn most(&self, by: StandardId) -> f64 {
        self.bound(by, 2)
    }

    /// A value of it for people, as it may be typed.
    #[must_use]
    pub fn shown(&self, value: f64, by: StandardId) -> String {
        match self.sort {
            Sort::Length => shown(value, by),
            Sort::Count => format!("{value}"),
            Sort::Degrees => format!("{value}°"),
        }
    }

    /// Reads what was typed for it, and checks that it lies within the limits.
    ///
    /// # Errors
    /// A text that is no length or number, or a value beyond the limits.
    pub fn read(&self, text: &str, by: StandardId) -> Result<f64, WishError> {
        let unreadable = |why: String| WishError::Unreadable { key: self.key, why };
        let value = match self.sort {
            Sort::Length => parse(text, unit_of(by)).map_err(|it| unreadable(it.to_string()))?,
            Sort::Count | Sort::Degrees => {
                let bare = text.trim().trim_end_matches('°').trim_end();
                bare.parse().map_err(|_| unreadable(format!("`{}` is no number", text.trim())))?
            }
        };
        self.check(value, by)?;
        Ok(value)
    }

    /// Whether a value lies within the limits.
    ///
    /// # Errors
    /// Beyond them, and for a count with a fraction.
    pub fn check(&self, value: f64, by: StandardId) -> Result<(), WishError> {
        let shown = |it| self.shown(it, by);
        if self.sort == Sort::Count && value.is_finite() && value.fract() != 0.0 {
            return Err(WishError::NotWhole { key: self.key, given: shown(value) });
        }
        // A bound that was rounded to its last bit is still that bound.
        let slack = crate::unit::compare::SAME_MM;
        if self.least(by) - slack <= value && value <= self.most(by) + slack {
            return Ok(());
        }
        Err(WishError::OutOfRange {
            key: self.key,
            given: shown(value),
            least: shown(self.least(by)),
            most: shown(self.most(by)),
        })
    }
}

/// Values for some questions, each within its limits; the rest have their defaults.
#[derive(Clone, Debug, PartialEq)]
pub struct Sizes {
    by: StandardId,
    given: BTreeMap<&'static str, f64>,
}

impl Sizes {
    /// Takes values by the names of their questions: millimetres, numbers, degrees.
    ///
    /// # Errors
    /// A name that is not asked for, or a value beyond its limits.
    pub fn new<'a>(
        questions: &[Question],
        by: StandardId,
        values: impl IntoIterator<Item = (&'a str, f64)>,
    ) -> Result<Self, WishError> {
        let mut given = BTreeMap::new();
        for (key, value) in values {
            let question = find(questions, key)?;
            question.check(value, by)?;
            given.insert(question.key, value);
        }
        Ok(Self { by, given })
    }

    /// Takes typed texts by the names of their questions; of a name that comes twice the last one counts.
    ///
    /// # Errors
    /// A name that is not asked for, a text that cannot be read, or a value beyond its limits.
    pub fn read<'a>(
        questions: &[Question],
        by: StandardId,
        typed: impl IntoIterator<Item = (&'a str, &'a str)>,
    ) -> Result<Self, WishError> {
        let mut given = BTreeMap::new();
        for (key, text) in typed {
            let question = find(questions, key)?;
            given.insert(question.key, question.read(text, by)?);
        }
        Ok(Self { by, given })
    }

    /// The defaults of every question.
    #[must_use]
    pub fn defaults(by: StandardId) -> Self {
        Self { by, given: BTreeMap::new() }
    }

    /// The standard, which settles the unit and the defaults.
    #[must_use]
    pub fn by(&self) -> StandardId {
        self.by
    }

    /// What was given, or the default: millimetres, a number, degrees.
    #[must_use]
    pub fn of(&self, question: &Question) -> f64 {
        self.given.get(question.key).copied().unwrap_or_else(|| question.default(self.by))
    }

    /// A count.
    #[must_use]
    pub fn count(&self, question: &Question) -> usize {
        #[expect(clippy::cast_possible_truncation, reason = "checked to be a small whole number")]
        #[expect(clippy::cast_sign_loss, reason = "no count has a limit below zero")]
        let count = self.of(question).max(0.0) as usize;
        count
    }

    /// A length for a sentence.
    #[must_use]
    pub fn shown(&self, mm: f64) -> String {
        shown(mm, self.by)
    }
}

fn find(questions: &[Question], key: &str) -> Result<Question, WishError> {
    questions.iter().find(|it| it.key == key).copied().ok_or_else(|| {
        let known: Vec<&str> = questions.iter().map(|it| it.key).collect();
        WishError::UnknownSize { key: key.to_owned(), known: known.join(", ") }
    })
}

/// The unit that a standard is written in.
#[must_use]
pub fn unit_of(standard: StandardId) -> LengthUnit {
    match standard {
        StandardId::Nds2018 => LengthUnit::Inch,
        StandardId::En199511 => LengthUnit::Millimetre,
    }
}

/// A length in the unit of the standard, exactly.
pub(super) fn shown(mm: f64, by: StandardId) -> String {
    exact(mm, unit_of(by))
}
