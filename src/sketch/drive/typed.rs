//! Fasteners as one types them: `10d`, `16d common`, `1/2 x 6`, `M12 x 140`, `nail/common/10d`.

use std::sync::Arc;

use crate::sketch::question::WishError;
use crate::stock::{FastenerKind, FastenerSpec, Stock};
use crate::unit::LengthUnit;
use crate::unit::length::parse;

/// Diameters and lengths that differ by less are what was typed.
const SAME_MM: f64 = 0.05;

/// The fasteners of stock that a text means, the commonest table first; of one kind only where that is told.
///
/// A trade size such as `10d` means every nail of that size, with more words only those whose name has them; a
/// size `diameter x length` every fastener of those measures, in the unit of the joint unless it names one.
///
/// # Errors
/// A text that means nothing in stock.
pub fn typed(
    text: &str,
    kind: Option<FastenerKind>,
    unit: LengthUnit,
    stock: &Stock,
) -> Result<Vec<Arc<FastenerSpec>>, WishError> {
    let plain = text.trim().to_lowercase().replace('\u{d7}', "x");
    let of_kind = |it: &&Arc<FastenerSpec>| kind.is_none_or(|kind| it.kind == kind);
    let all = || stock.fasteners.values().filter(of_kind);
    if let Some(found) = stock.fasteners.get(&plain).filter(of_kind) {
        return Ok(vec![Arc::clone(found)]);
    }
    let words: Vec<&str> = plain.split_whitespace().collect();
    let by_words = |it: &&Arc<FastenerSpec>| {
        let (label, size) = (it.label.to_lowercase(), it.id.rsplit('/').next().unwrap_or(""));
        words.iter().all(|word| size == *word || 1 < word.len() && !is_size(word) && label.contains(word))
    };
    let mut found: Vec<Arc<FastenerSpec>> =
        if words.is_empty() { Vec::new() } else { all().filter(by_words).cloned().collect() };
    if let (true, Some((wide, long))) = (found.is_empty(), measures(&plain, unit)) {
        let near = |a: f64, b: f64| (a - b).abs() < SAME_MM;
        let fits = |it: &&Arc<FastenerSpec>| near(it.diameter_mm, wide) && near(it.length_mm, long);
        found = all().filter(fits).cloned().collect();
    }
    if found.is_empty() {
        let says = format!("stock has no fastener `{}`; type 10d, or diameter x length", text.trim());
        return Err(WishError::NotInStock(says));
    }
    // Common nails before box nails and sinkers, and by size.
    found.sort_by(|a, b| {
        let common = |it: &FastenerSpec| it.table() != "nail/common";
        common(a).cmp(&common(b)).then(a.table().cmp(b.table())).then(a.by_size(b))
    });
    Ok(found)
}

/// `10d`, which is no part of a name.
fn is_size(word: &str) -> bool {
    word.starts_with(|it: char| it.is_ascii_digit())
}

/// Diameter and length of `1/2 x 6`; an M before the diameter makes both millimetres.
fn measures(plain: &str, unit: LengthUnit) -> Option<(f64, f64)> {
    let (wide, long) = plain.split_once('x')?;
    let (wide, unit) = match wide.trim().strip_prefix('m') {
        Some(bare) if is_size(bare) => (bare, LengthUnit::Millimetre),
        _ => (wide.trim(), unit),
    };
    Some((parse(wide, unit).ok()?, parse(long, unit).ok()?))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn trade_sizes_and_measures_find_their_fasteners() {
        let stock = Stock::built_in();
        let read = |text: &str, kind| {
            typed(text, kind, LengthUnit::Inch, &stock)
                .map(|it| it.iter().map(|it| it.id.clone()).collect::<Vec<_>>())
                .map_err(|it| it.to_string())
        };
        assert_eq!(read("10d", None).unwrap(), ["nail/common/10d", "nail/box/10d", "nail/sinker/10d"]);
        assert_eq!(read("10d box", None).unwrap(), ["nail/box/10d"]);
        assert_eq!(read("nail/common/10d", None).unwrap(), ["nail/common/10d"]);
        let both = read("1/2 x 6", None).unwrap();
        assert!(both.contains(&"bolt/inch/0.5x6".to_owned()) && both.contains(&"lag-screw/0.5x6".to_owned()));
        assert_eq!(read("1/2\" \u{d7} 6\"", Some(FastenerKind::LagScrew)).unwrap(), ["lag-screw/0.5x6"]);
        assert_eq!(read("M12 x 140", Some(FastenerKind::Bolt)).unwrap(), ["bolt/metric/12x140"]);
        // A penny size tells neither diameter nor length by itself: 10d is 0.148" x 3" (NDS 2018 Table L4).
        let nail = &typed("10d", None, LengthUnit::Inch, &stock).unwrap()[0];
        assert!((nail.diameter_mm - 3.7592).abs() < 1e-9 && (nail.length_mm - 76.2).abs() < 1e-9);
        for bad in ["", "11d", "hello", "1/2 x", "x", "10d", "3 x 3 x 3"] {
            let kind = if bad == "10d" { Some(FastenerKind::Bolt) } else { None };
            assert!(read(bad, kind).unwrap_err().contains("stock has no fastener"), "{bad}");
        }
    }
}
