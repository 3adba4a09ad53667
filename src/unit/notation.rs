//! Typed lengths: `3'-2 1/4"`, `1½ in`, `38 mm`, `=1 1/2" + 3/16"`. What is in doubt is asked, never guessed.
//!
//! ```text
//! entry    = "=" term { ("+" | " -") term } | term ;
//! term     = [ "-" ] ( feet [ sep mixed [ inch ] ] | mixed inch | decimal metric | mixed ) ;
//! mixed    = int [ ("-" | spaces) ] fraction | fraction | int | decimal ;
//! fraction = int "/" int | one of the fraction characters ;
//! sep      = spaces | [ spaces ] "-" [ spaces ] ;
//! ```
//!
//! A hyphen inside a value joins its parts and never subtracts; a sign touches its number. A value
//! without a unit takes the unit of the joint. Everything is reckoned in whole ratios and rounded once.

use thiserror::Error;

use super::length::LengthUnit;

/// Longest entry that is read, in characters.
const LONGEST: usize = 200;

/// Most decimals that are read: what an f64 of a millionth needs to be told exactly.
const MOST_DECIMALS: u32 = 24;

/// Why a typed length was not read, in words for whoever typed it.
#[derive(Clone, Debug, Error, PartialEq, Eq)]
pub enum LengthError {
    /// Nothing but spaces.
    #[error("type a length, for example 3 1/2\" or 89 mm")]
    Empty,
    /// More than anybody types.
    #[error("this is too long for a length")]
    TooLong,
    /// A number with more digits than can be kept exactly, or too large.
    #[error("this number is too large or has too many digits")]
    TooManyDigits,
    /// A letter or sign that has no place in a length.
    #[error("`{0}` has no place in a length")]
    Stray(char),
    /// A word that is no unit.
    #[error("`{0}` is no unit; use in, ft, mm, cm or m")]
    UnknownUnit(String),
    /// `2x10`.
    #[error("`x` makes this a nominal size, not a length; type the actual size, such as 9 1/4\"")]
    NominalSize,
    /// `10d`.
    #[error("`d` makes this a penny size, not a length; type the length itself, such as 3\"")]
    PennySize,
    /// `1/0`.
    #[error("a fraction cannot have 0 below the line")]
    ZeroDenominator,
    /// `1/2/3`.
    #[error("there are two fraction lines; a fraction has one, as in 3/16")]
    TwoFractionLines,
    /// `1/`, `/2`, `1.5/2`.
    #[error("a fraction needs a whole number above and below the line, as in 3/16")]
    BrokenFraction,
    /// `1.5 1/2"`.
    #[error("a decimal and a fraction do not go together; use one of them")]
    DecimalAndFraction,
    /// `1,250`.
    #[error("`{0}` can be read in two ways; type {1} or {2}")]
    DoubtfulComma(String, String, String),
    /// `1,250.5`, `1.250.5`.
    #[error("`{0}` has more than one decimal mark; leave out the marks between thousands")]
    TwoDecimalMarks(String),
    /// `1/2` where lengths are in millimetres.
    #[error("is this inches? Add \" or in; for millimetres type a decimal")]
    DoubtfulFraction,
    /// `1 1/2 mm`.
    #[error("a fraction goes with inches; for millimetres type a decimal")]
    MetricFraction,
    /// `- 1/2"`.
    #[error("the minus sign must touch its number")]
    SignApart,
    /// `1 - 1/2"`, `10-2`.
    #[error(
        "a hyphen joins whole inches and a fraction (1-1/2\"); to subtract, begin with = and put spaces round the minus"
    )]
    HyphenAsMinus,
    /// `1 2"`.
    #[error("there are two numbers side by side; a fraction, a mark or = is missing")]
    TwoNumbers,
    /// `5'6'7"`.
    #[error("feet are given twice")]
    FeetTwice,
    /// `6" 5'`, `3 mm 2"`.
    #[error("nothing can follow the inches or the millimetres; feet come first")]
    AfterTheEnd,
    /// `'`, `= +`, `3' -`.
    #[error("a number is missing")]
    NumberMissing,
    /// `1 + 2` without `=`.
    #[error("to add or subtract, begin with =")]
    SumWithoutEqual,
}

/// Reads a typed length; the answer is in millimetres.
///
/// `unit` is what a number without a unit is taken to be in.
///
/// # Errors
/// The first thing that cannot be read, or that can be read in two ways.
pub fn parse(text: &str, unit: LengthUnit) -> Result<f64, LengthError> {
    let text = text.trim();
    if text.is_empty() {
        return Err(LengthError::Empty);
    }
    if LONGEST < text.chars().count() {
        return Err(LengthError::TooLong);
    }
    let sum = match text.strip_prefix('=') {
        Some(terms) => read_sum(&tokens(terms)?, unit)?,
        None => {
            let tokens = tokens(text)?;
            if tokens.iter().any(|it| it.mark == Mark::Plus) {
                return Err(LengthError::SumWithoutEqual);
            }
            read_signed(&tokens, unit)?
        }
    };
    sum.to_f64()
}

/// A ratio of whole numbers, so that nothing is rounded before the end.
#[derive(Clone, Copy, Debug, PartialEq)]
struct Ratio {
    above: i128,
    below: i128,
}

impl Ratio {
    const ZERO: Self = Self { above: 0, below: 1 };
    const MM_PER_INCH: Self = Self { above: 127, below: 5 };
    const MM_PER_FOOT: Self = Self { above: 1524, below: 5 };

    fn reduced(above: i128, below: i128) -> Self {
        // Division of 128 bits is slow; nearly all that is typed fits into 64.
        let common = match (u64::try_from(above.unsigned_abs()), u64::try_from(below.unsigned_abs())) {
            (Ok(a), Ok(b)) => i128::from(common_64(a, b)),
            _ => i128::try_from(common_128(above.unsigned_abs(), below.unsigned_abs())).unwrap_or(1),
        };
        let common = common.max(1);
        Self { above: above / common, below: below / common }
    }

    fn plus(self, other: Self) -> Result<Self, LengthError> {
        let sum = || {
            let left = self.above.checked_mul(other.below)?;
            let right = other.above.checked_mul(self.below)?;
            Some(Self::reduced(left.checked_add(right)?, self.below.checked_mul(other.below)?))
        };
        sum().ok_or(LengthError::TooManyDigits)
    }

    fn times(self, other: Self) -> Result<Self, LengthError> {
        let product = || {
            let above = self.above.checked_mul(other.above)?;
            Some(Self::reduced(above, self.below.checked_mul(other.below)?))
        };
        product().ok_or(LengthError::TooManyDigits)
    }

    #[expect(clippy::cast_precision_loss, reason = "this is the one place where a length is rounded")]
    fn to_f64(self) -> Result<f64, LengthError> {
        let value = self.above as f64 / self.below as f64;
        if value.is_finite() { Ok(value) } else { Err(LengthError::TooManyDigits) }
    }
}

/// Greatest common divisor.
fn common_64(mut a: u64, mut b: u64) -> u64 {
    while b != 0 {
        (a, b) = (b, a % b);
    }
    a
}

/// Greatest common divisor.
fn common_128(mut a: u128, mut b: u128) -> u128 {
    while b != 0 {
        (a, b) = (b, a % b);
    }
    a
}

#[derive(Clone, Copy, Debug, PartialEq)]
enum Mark {
    Whole(i128),
    Decimal(Ratio),
    Glyph(Ratio),
    Slash,
    Hyphen,
    Minus,
    Plus,
    Feet,
    Inch,
    /// Millimetres in one of the unit.
    Metric(i128),
}

#[derive(Clone, Copy, Debug)]
struct Token {
    mark: Mark,
    /// Whether a space stands before it.
    spaced: bool,
}

fn tokens(text: &str) -> Result<Vec<Token>, LengthError> {
    let characters: Vec<char> = text.chars().collect();
    let mut found = Vec::new();
    let mut at = 0;
    let mut spaced = false;
    while let Some(&character) = characters.get(at) {
        if character.is_whitespace() {
            spaced = true;
            at += 1;
            continue;
        }
        let rest = &characters[at..];
        let (mark, taken) = if starts_number(rest) {
            number(rest)?
        } else if character.is_alphabetic() {
            word(rest)?
        } else {
            sign(rest)?
        };
        found.push(Token { mark, spaced });
        spaced = false;
        at += taken;
    }
    Ok(found)
}

fn starts_number(rest: &[char]) -> bool {
    let digit = |at: usize| rest.get(at).is_some_and(char::is_ascii_digit);
    digit(0) || (matches!(rest.first(), Some('.' | ',')) && digit(1))
}

fn number(rest: &[char]) -> Result<(Mark, usize), LengthError> {
    let text: String = rest.iter().take_while(|it| it.is_ascii_digit() || matches!(it, '.' | ',')).collect();
    let taken = text.len();
    let points = text.matches(['.', ',']).count();
    if 1 < points {
        return Err(LengthError::TwoDecimalMarks(text));
    }
    let Some((whole, decimals)) = text.split_once(['.', ',']) else {
        return Ok((Mark::Whole(digits(&text)?), taken));
    };
    // Three digits after a comma, and a number before it that could count thousands.
    let thousands = decimals.len() == 3 && (1..=3).contains(&whole.len()) && !whole.starts_with('0');
    if text.contains(',') && thousands {
        return Err(LengthError::DoubtfulComma(
            text.clone(),
            format!("{whole}{decimals}"),
            format!("{whole}.{decimals}"),
        ));
    }
    let above = digits(&format!("{whole}{decimals}"))?;
    let places = u32::try_from(decimals.len()).map_err(|_| LengthError::TooManyDigits)?;
    if MOST_DECIMALS < places {
        return Err(LengthError::TooManyDigits);
    }
    Ok((Mark::Decimal(Ratio::reduced(above, 10_i128.pow(places))), taken))
}

/// A whole number of at most 18 digits, so that products of a few of them still fit.
fn digits(text: &str) -> Result<i128, LengthError> {
    let text = text.trim_start_matches('0');
    match text.len() {
        0 => Ok(0),
        1..=18 => text.parse().map_err(|_| LengthError::TooManyDigits),
        _ => Err(LengthError::TooManyDigits),
    }
}

fn word(rest: &[char]) -> Result<(Mark, usize), LengthError> {
    let word: String = rest.iter().take_while(|it| it.is_alphabetic()).collect();
    let taken = word.chars().count();
    let mark = match word.to_lowercase().as_str() {
        "ft" | "foot" | "feet" => Mark::Feet,
        "in" | "inch" | "inches" => Mark::Inch,
        "mm" => Mark::Metric(1),
        "cm" => Mark::Metric(10),
        "m" => Mark::Metric(1000),
        "x" => return Err(LengthError::NominalSize),
        "d" => return Err(LengthError::PennySize),
        _ => return Err(LengthError::UnknownUnit(word)),
    };
    // The full stop of an abbreviation: `3 in.`
    let stop = rest.get(taken) == Some(&'.') && !starts_number(&rest[taken..]);
    Ok((mark, taken + usize::from(stop)))
}

fn sign(rest: &[char]) -> Result<(Mark, usize), LengthError> {
    let foot = |it: &char| matches!(it, '\'' | '′' | '’');
    let Some(&character) = rest.first() else { return Err(LengthError::NumberMissing) };
    let mark = match character {
        '\'' | '′' | '’' if rest.get(1).is_some_and(foot) => return Ok((Mark::Inch, 2)),
        '\'' | '′' | '’' => Mark::Feet,
        '"' | '″' | '”' | '“' => Mark::Inch,
        '-' | '\u{2010}' | '\u{2011}' => Mark::Hyphen,
        '\u{2212}' => Mark::Minus,
        '+' => Mark::Plus,
        '/' | '\u{2044}' | '\u{2215}' => Mark::Slash,
        '×' => return Err(LengthError::NominalSize),
        other => Mark::Glyph(glyph(other).ok_or(LengthError::Stray(other))?),
    };
    Ok((mark, 1))
}

fn glyph(character: char) -> Option<Ratio> {
    let (above, below) = match character {
        '½' => (1, 2),
        '⅓' => (1, 3),
        '⅔' => (2, 3),
        '¼' => (1, 4),
        '¾' => (3, 4),
        '⅕' => (1, 5),
        '⅖' => (2, 5),
        '⅗' => (3, 5),
        '⅘' => (4, 5),
        '⅙' => (1, 6),
        '⅚' => (5, 6),
        '⅛' => (1, 8),
        '⅜' => (3, 8),
        '⅝' => (5, 8),
        '⅞' => (7, 8),
        '⅒' => (1, 10),
        _ => return None,
    };
    Some(Ratio { above, below })
}

/// Terms with a plus, or with a minus that has a space before it, between them.
fn read_sum(tokens: &[Token], unit: LengthUnit) -> Result<Ratio, LengthError> {
    let between =
        |it: &Token| matches!(it.mark, Mark::Plus | Mark::Minus) || (it.mark == Mark::Hyphen && it.spaced);
    let mut sum = Ratio::ZERO;
    let mut rest = tokens;
    let mut subtract = false;
    loop {
        // A sign at the start of a term belongs to it.
        let end = rest.iter().skip(1).position(between).map_or(rest.len(), |it| it + 1);
        let term = read_signed(&rest[..end], unit)?;
        sum = sum.plus(if subtract { Ratio { above: -term.above, ..term } } else { term })?;
        let Some(operator) = rest.get(end) else { return Ok(sum) };
        subtract = operator.mark != Mark::Plus;
        rest = &rest[end + 1..];
    }
}

fn read_signed(tokens: &[Token], unit: LengthUnit) -> Result<Ratio, LengthError> {
    match tokens {
        [Token { mark: Mark::Hyphen | Mark::Minus, .. }, rest @ ..] => {
            if rest.first().is_some_and(|it| it.spaced) {
                return Err(LengthError::SignApart);
            }
            let term = read_term(rest, unit)?;
            Ok(Ratio { above: -term.above, ..term })
        }
        _ => read_term(tokens, unit),
    }
}

fn read_term(tokens: &[Token], unit: LengthUnit) -> Result<Ratio, LengthError> {
    let (first, rest) = read_mixed(tokens)?;
    let [mark, rest @ ..] = rest else {
        return match unit {
            LengthUnit::Inch => first.value.times(Ratio::MM_PER_INCH),
            LengthUnit::Millimetre if first.fraction => Err(LengthError::DoubtfulFraction),
            LengthUnit::Millimetre => Ok(first.value),
        };
    };
    match mark.mark {
        Mark::Feet => {
            let feet = first.value.times(Ratio::MM_PER_FOOT)?;
            feet.plus(read_inches_after_feet(rest)?)
        }
        Mark::Inch if rest.is_empty() => first.value.times(Ratio::MM_PER_INCH),
        Mark::Metric(_) if first.fraction => Err(LengthError::MetricFraction),
        Mark::Metric(mm) if rest.is_empty() => first.value.times(Ratio { above: mm, below: 1 }),
        Mark::Inch | Mark::Metric(_) => Err(LengthError::AfterTheEnd),
        Mark::Slash => Err(LengthError::TwoFractionLines),
        Mark::Hyphen | Mark::Minus => Err(LengthError::HyphenAsMinus),
        Mark::Plus => Err(LengthError::SumWithoutEqual),
        Mark::Whole(_) | Mark::Decimal(_) | Mark::Glyph(_) => Err(LengthError::TwoNumbers),
    }
}

fn read_inches_after_feet(tokens: &[Token]) -> Result<Ratio, LengthError> {
    let rest = match tokens {
        [] => return Ok(Ratio::ZERO),
        [Token { mark: Mark::Hyphen, .. }, rest @ ..] => rest,
        _ => tokens,
    };
    let (inches, rest) = read_mixed(rest)?;
    match rest.iter().map(|it| it.mark).collect::<Vec<_>>().as_slice() {
        [] | [Mark::Inch] => inches.value.times(Ratio::MM_PER_INCH),
        [Mark::Feet, ..] => Err(LengthError::FeetTwice),
        [Mark::Slash, ..] => Err(LengthError::TwoFractionLines),
        [Mark::Hyphen | Mark::Minus, ..] => Err(LengthError::HyphenAsMinus),
        [Mark::Whole(_) | Mark::Decimal(_) | Mark::Glyph(_), ..] => Err(LengthError::TwoNumbers),
        _ => Err(LengthError::AfterTheEnd),
    }
}

/// A number, and whether a fraction was written.
struct Mixed {
    value: Ratio,
    fraction: bool,
}

fn read_mixed(tokens: &[Token]) -> Result<(Mixed, &[Token]), LengthError> {
    if let Some((value, rest)) = read_fraction(tokens)? {
        return Ok((Mixed { value, fraction: true }, rest));
    }
    let whole = match tokens.first().map(|it| it.mark) {
        Some(Mark::Decimal(value)) => return read_decimal(value, &tokens[1..]),
        Some(Mark::Whole(value)) => Ratio { above: value, below: 1 },
        Some(Mark::Slash) => return Err(LengthError::BrokenFraction),
        Some(Mark::Hyphen | Mark::Minus) => return Err(LengthError::HyphenAsMinus),
        Some(Mark::Glyph(_) | Mark::Plus | Mark::Feet | Mark::Inch | Mark::Metric(_)) | None => {
            return Err(LengthError::NumberMissing);
        }
    };
    let rest = &tokens[1..];
    let (joined, after) = match rest {
        [Token { mark: Mark::Hyphen, spaced }, after @ ..] => {
            if *spaced || after.first().is_some_and(|it| it.spaced) {
                return Err(LengthError::HyphenAsMinus);
            }
            (true, after)
        }
        _ => (false, rest),
    };
    match read_fraction(after)? {
        Some((part, rest)) => Ok((Mixed { value: whole.plus(part)?, fraction: true }, rest)),
        None if joined => Err(LengthError::HyphenAsMinus),
        None => Ok((Mixed { value: whole, fraction: false }, rest)),
    }
}

fn read_decimal(value: Ratio, rest: &[Token]) -> Result<(Mixed, &[Token]), LengthError> {
    match rest {
        [Token { mark: Mark::Slash, .. }, ..] => return Err(LengthError::BrokenFraction),
        [Token { mark: Mark::Glyph(_), .. }, ..] => return Err(LengthError::DecimalAndFraction),
        [_, Token { mark: Mark::Slash, .. }, ..] | [_, _, Token { mark: Mark::Slash, .. }, ..]
            if !matches!(rest[0].mark, Mark::Feet) =>
        {
            return Err(LengthError::DecimalAndFraction);
        }
        _ => {}
    }
    Ok((Mixed { value, fraction: false }, rest))
}

/// The fraction at the start of the tokens, if there is one.
fn read_fraction(tokens: &[Token]) -> Result<Option<(Ratio, &[Token])>, LengthError> {
    match tokens {
        [Token { mark: Mark::Glyph(value), .. }, rest @ ..] => Ok(Some((*value, rest))),
        [Token { mark: Mark::Whole(above), .. }, Token { mark: Mark::Slash, .. }, rest @ ..] => match rest {
            [Token { mark: Mark::Whole(0), .. }, ..] => Err(LengthError::ZeroDenominator),
            [Token { mark: Mark::Whole(below), .. }, rest @ ..] => {
                if matches!(rest.first(), Some(Token { mark: Mark::Slash, .. })) {
                    return Err(LengthError::TwoFractionLines);
                }
                Ok(Some((Ratio::reduced(*above, *below), rest)))
            }
            _ => Err(LengthError::BrokenFraction),
        },
        _ => Ok(None),
    }
}

#[cfg(test)]
mod tests;
