//! Middles and slopes that a few wild values do not move.

use alloc::vec::Vec;

/// What turns the median absolute deviation of a normal distribution into its standard deviation: 1/Φ⁻¹(3/4), rounded as the
/// literature has it (Rousseeuw and Croux, *J. Amer. Statist. Assoc.* 88 (1993) 1273-1283, from memory).
pub const MAD_TO_SD: f64 = 1.482_602_218_505_602;

/// The middle value, or the mean of the two in the middle; none of nothing.
#[must_use]
pub fn median(values: &[f64]) -> Option<f64> {
    let mut sorted: Vec<f64> = values.to_vec();
    sorted.sort_by(f64::total_cmp);
    let half = sorted.len() / 2;
    let upper = *sorted.get(half)?;
    if sorted.len() % 2 == 1 {
        Some(upper)
    } else {
        sorted.get(half.checked_sub(1)?).map(|lower| 0.5 * (lower + upper))
    }
}

/// The median distance from the median; none of nothing.
#[must_use]
pub fn median_absolute_deviation(values: &[f64]) -> Option<f64> {
    let middle = median(values)?;
    let distances: Vec<f64> = values.iter().map(|own| (own - middle).abs()).collect();
    median(&distances)
}

/// A line as slope and intercept after Theil and Sen: the median slope of all pairs, and the median of y less the slope times the median
/// of x. None without two different places.
#[must_use]
pub fn theil_sen(x: &[f64], y: &[f64]) -> Option<(f64, f64)> {
    if x.len() != y.len() {
        return None;
    }
    let points: Vec<(f64, f64)> = x.iter().copied().zip(y.iter().copied()).collect();
    let mut slopes = Vec::new();
    for (place, (x0, y0)) in points.iter().enumerate() {
        slopes.extend(points.iter().skip(place + 1).filter(|(x1, _)| x1 != x0).map(|(x1, y1)| (y1 - y0) / (x1 - x0)));
    }
    let slope = median(&slopes)?;
    Some((slope, median(y)? - slope * median(x)?))
}
