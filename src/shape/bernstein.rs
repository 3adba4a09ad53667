//! Polynomials on 0..1 by their Bernstein coefficients, which never lie on one side of zero
//! when the polynomial does not: so every root is found and none is invented.

/// The value at `share`, by repeated mixing.
pub(super) fn value(coefficients: &[f64], share: f64) -> f64 {
    let mut row = coefficients.to_vec();
    for length in (1..row.len()).rev() {
        for n in 0..length {
            row[n] += (row[n + 1] - row[n]) * share;
        }
    }
    row.first().copied().unwrap_or(0.0)
}

/// The product of two polynomials.
pub(super) fn product(a: &[f64], b: &[f64]) -> Vec<f64> {
    if a.is_empty() || b.is_empty() {
        return Vec::new();
    }
    let (n, m) = (a.len() - 1, b.len() - 1);
    let mut out = vec![0.0; n + m + 1];
    for (i, x) in a.iter().enumerate() {
        for (j, y) in b.iter().enumerate() {
            out[i + j] += choose(n, i) * choose(m, j) * x * y;
        }
    }
    for (k, it) in out.iter_mut().enumerate() {
        *it /= choose(n + m, k);
    }
    out
}

/// How many ways there are to choose `k` of `n`, for small `n`.
fn choose(n: usize, k: usize) -> f64 {
    let mut ways = 1_u32;
    for step in 0..k.min(n - k) {
        let (top, bottom) = (u32::try_from(n - step), u32::try_from(step + 1));
        ways = ways * top.unwrap_or(1) / bottom.unwrap_or(1);
    }
    f64::from(ways)
}

/// The roots on 0..1 in order. A polynomial that is zero all along has none here.
pub(super) fn roots(coefficients: &[f64]) -> Vec<f64> {
    let largest = coefficients.iter().fold(0.0_f64, |a, it| a.max(it.abs()));
    let mut found: Vec<(f64, f64)> = Vec::new();
    if coefficients.len() < 2 || !(0.0 < largest && largest.is_finite()) {
        return Vec::new();
    }
    let nothing = 4.0 * f64::EPSILON * largest;
    let mut open = vec![(coefficients.to_vec(), 0.0, 1.0)];
    while let Some((row, from, to)) = open.pop() {
        let changes = row.windows(2).filter(|it| (it[0] < 0.0) != (it[1] < 0.0)).count();
        let touches_end = row[0].abs() <= nothing || row[row.len() - 1].abs() <= nothing;
        if changes == 0 && !touches_end {
            continue;
        }
        let middle: f64 = 0.5 * (from + to);
        let is_all_nothing = row.iter().all(|it| it.abs() <= nothing);
        if to - from < 1e-15 || is_all_nothing {
            // A polynomial that is zero from end to end is no crossing.
            if !(is_all_nothing && 0.5 < to - from) {
                // Around a double root nothing can be told from zero: that stretch is one root.
                match found.last_mut() {
                    Some(last) if from - last.1 < 1e-12 => last.1 = to,
                    _ => found.push((from, to)),
                }
            }
            continue;
        }
        let (left, right) = halves(&row);
        open.push((right, middle, to));
        open.push((left, from, middle));
    }
    found.into_iter().map(|(from, to)| 0.5 * (from + to)).collect()
}

fn halves(row: &[f64]) -> (Vec<f64>, Vec<f64>) {
    let mut row = row.to_vec();
    let mut left = Vec::with_capacity(row.len());
    for length in (1..=row.len()).rev() {
        left.push(row[0]);
        for n in 0..length - 1 {
            row[n] = 0.5 * (row[n] + row[n + 1]);
        }
    }
    // What is left in the row, from the middle to the old end, is the right half.
    (left, row)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn has_roots(coefficients: &[f64], by_hand: &[f64]) {
        let found = roots(coefficients);
        let apart = found.iter().zip(by_hand).map(|(a, b)| (a - b).abs()).fold(0.0, f64::max);
        assert!(found.len() == by_hand.len() && apart < 1e-12, "{found:?} are not {by_hand:?}");
    }

    #[test]
    fn roots_are_those_of_the_factors() {
        has_roots(&[-0.25, 0.75], &[0.25]);
        has_roots(&product(&[-0.25, 0.75], &[-0.5, 0.5]), &[0.25, 0.5]);
        let four = product(&product(&[-0.1, 0.9], &[-0.9, 0.1]), &product(&[-0.3, 0.7], &[-0.6, 0.4]));
        has_roots(&four, &[0.1, 0.3, 0.6, 0.9]);
        has_roots(&[1.0, 2.0, 0.5], &[]);
        has_roots(&[0.0, 0.0, 0.0], &[]);
        has_roots(&[0.0, 1.0], &[0.0]);
        has_roots(&[1.0, 0.0], &[1.0]);
    }

    #[test]
    fn a_double_root_is_one_root() {
        let found = roots(&product(&[-0.3, 0.7], &[-0.3, 0.7]));
        assert!(found.len() == 1 && (found[0] - 0.3).abs() < 1e-7, "{found:?}");
    }

    #[test]
    fn a_value_is_the_mixture() {
        assert!((value(&[1.0, 2.0, 5.0], 0.5) - 2.5).abs() < 1e-15);
        assert!((value(&product(&[1.0, 3.0], &[2.0, 0.0]), 0.25) - 1.5 * 1.5).abs() < 1e-15);
    }
}
