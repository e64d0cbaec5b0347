//! A smooth curve that never turns, through scattered readings of which some may be wild.
//!
//! Cubic B-splines on even knots with a penalty on the bending of neighbouring coefficients (Eilers and Marx, *Statist. Sci.* 11 (1996)
//! 89-121); coefficients that never fall make a curve that never falls, so the steps between them are fitted by least squares not below
//! zero. How stiff it is generalised cross-validation decides (Golub, Heath and Wahba, *Technometrics* 21 (1979) 215-223), from the fit
//! without that bound. Readings far from the curve lose their weight by Tukey's biweight over the median absolute deviation (Beaton
//! and Tukey, *Technometrics* 16 (1974) 147-185). All from memory. It is deterministic: a fixed ladder of stiffness, a fixed count of rounds.

use alloc::vec;
use alloc::vec::Vec;

use super::{Direction, LeastSquares, MAD_TO_SD, median, non_negative};

/// Most pieces between the first and the last place.
const PIECES: usize = 20;
/// A reading this many standard deviations off has no weight (95 % efficient with normal noise).
const TUKEY: f64 = 4.685;
/// Rounds of weighting anew.
const ROUNDS: usize = 6;
/// Stiffness is tried from ten to the first to ten to the last power, in halves.
const STIFFNESS: (i32, i32) = (-3, 5);

/// A fitted curve.
#[derive(Clone, Debug, PartialEq)]
pub struct MonotoneSpline {
    from: f64,
    width: f64,
    sign: f64,
    /// One for each B-spline, never falling.
    coefficients: Vec<f64>,
    /// Weight of each reading, from 1 down to 0 for what was left aside.
    pub weights: Vec<f64>,
    /// Estimated standard deviation of a reading.
    pub deviation: f64,
    /// How many readings' worth of freedom the curve takes.
    pub freedom: f64,
}

/// The four B-splines that are not zero at a place: index of the first, and their values.
fn basis(from: f64, width: f64, pieces: usize, x: f64) -> (usize, [f64; 4]) {
    let along = ((x - from) / width).clamp(0.0, pieces as f64);
    let piece = (libm::floor(along) as usize).min(pieces - 1);
    let t = along - piece as f64;
    let s = 1.0 - t;
    let values = [
        s * s * s / 6.0,
        (t * t * (3.0 * t - 6.0) + 4.0) / 6.0,
        (s * s * (3.0 * s - 6.0) + 4.0) / 6.0,
        t * t * t / 6.0,
    ];
    (piece, values)
}

/// The row of a place over the first coefficient and the steps after it.
fn row(from: f64, width: f64, pieces: usize, x: f64) -> Vec<f64> {
    let (first, values) = basis(from, width, pieces, x);
    let mut row = vec![0.0; pieces + 3];
    for (place, own) in row.iter_mut().enumerate() {
        // The share of all B-splines from this one on.
        *own = values.iter().enumerate().filter(|(k, _)| first + k >= place).map(|(_, value)| value).sum();
    }
    row
}

/// Rows and values with weights, and the penalty below them.
fn stacked(rows: &[Vec<f64>], y: &[f64], weights: &[f64], stiffness: f64) -> (Vec<Vec<f64>>, Vec<f64>) {
    let columns = rows.first().map_or(0, Vec::len);
    let root = |own: &f64| libm::sqrt(*own);
    let mut all: Vec<Vec<f64>> =
        rows.iter().zip(weights).map(|(row, own)| row.iter().map(|value| value * root(own)).collect()).collect();
    let mut values: Vec<f64> = y.iter().zip(weights).map(|(value, own)| value * root(own)).collect();
    for k in 1..columns.saturating_sub(1) {
        let mut bend = vec![0.0; columns];
        bend[k] = -libm::sqrt(stiffness);
        bend[k + 1] = libm::sqrt(stiffness);
        all.push(bend);
        values.push(0.0);
    }
    (all, values)
}

/// Residual squares and freedom taken by a fit without the bound.
fn tried(rows: &[Vec<f64>], y: &[f64], weights: &[f64], stiffness: f64) -> Option<(f64, f64)> {
    let (all, values) = stacked(rows, y, weights, stiffness);
    let fit = LeastSquares::fit(&all, &values, None)?;
    let (mut squares, mut freedom) = (0.0, 0.0);
    for ((row, own), weight) in rows.iter().zip(y).zip(weights) {
        let (value, variance) = fit.predict(row);
        squares += weight * (own - value) * (own - value);
        freedom += weight * variance;
    }
    Some((squares, freedom))
}

impl MonotoneSpline {
    /// Fits readings at their places; `weights` are relative (1/u²), all the same without. None for fewer than five readings, fewer than four
    /// different places, unequal counts and what is not finite.
    #[must_use]
    pub fn fit(x: &[f64], y: &[f64], weights: Option<&[f64]>, direction: Direction) -> Option<Self> {
        let sound = |own: &[f64]| own.len() == x.len() && own.iter().all(|own| own.is_finite());
        if x.len() < 5
            || !sound(x)
            || !sound(y)
            || !weights.is_none_or(|own| sound(own) && own.iter().all(|w| *w > 0.0))
        {
            return None;
        }
        let mut places = x.to_vec();
        places.sort_by(f64::total_cmp);
        places.dedup();
        let (from, to) = (*places.first()?, *places.last()?);
        if places.len() < 4 {
            return None;
        }
        let pieces = PIECES.min(2 * places.len());
        let width = (to - from) / pieces as f64;
        let sign = match direction {
            Direction::Up => 1.0,
            Direction::Down => -1.0,
        };
        let turned: Vec<f64> = y.iter().map(|own| sign * own).collect();
        let least = turned.iter().copied().fold(f64::INFINITY, f64::min);
        let most = turned.iter().copied().fold(f64::NEG_INFINITY, f64::max);
        // So far below all readings that the first coefficient is never held by zero.
        let shift = least - 2.0 * (most - least) - 1.0;
        let y: Vec<f64> = turned.iter().map(|own| own - shift).collect();
        let rows: Vec<Vec<f64>> = x.iter().map(|own| row(from, width, pieces, *own)).collect();
        let given = weights.map_or_else(
            || vec![1.0; x.len()],
            |own| {
                let mean = own.iter().sum::<f64>() / own.len() as f64;
                own.iter().map(|w| w / mean).collect()
            },
        );
        let mut trust = vec![1.0; x.len()];
        let mut found = None;
        for _ in 0..ROUNDS {
            let now: Vec<f64> = given.iter().zip(&trust).map(|(a, b)| a * b).collect();
            let count: f64 = trust.iter().sum();
            let mut best: Option<(f64, f64, f64)> = None;
            for half in 2 * STIFFNESS.0..=2 * STIFFNESS.1 {
                let stiffness = libm::pow(10.0, f64::from(half) / 2.0);
                let Some((squares, freedom)) = tried(&rows, &y, &now, stiffness) else { continue };
                if freedom >= count {
                    continue;
                }
                let part = 1.0 - freedom / count;
                let score = squares / (part * part);
                if best.is_none_or(|own| score < own.0) {
                    best = Some((score, stiffness, freedom));
                }
            }
            let (_, stiffness, freedom) = best?;
            let (all, values) = stacked(&rows, &y, &now, stiffness);
            let (steps, _) = non_negative(&all, &values)?;
            let fitted = |row: &Vec<f64>| row.iter().zip(&steps).map(|(a, b)| a * b).sum::<f64>();
            let off: Vec<f64> =
                rows.iter().zip(&y).zip(&given).map(|((row, own), w)| (own - fitted(row)) * libm::sqrt(*w)).collect();
            let sizes: Vec<f64> = off.iter().map(|own| own.abs()).collect();
            let spread = median(&sizes)? * MAD_TO_SD * libm::sqrt(x.len() as f64 / (x.len() as f64 - freedom).max(1.0));
            // Readings almost without noise would else be called wild where the knots are too wide for them.
            let spread = spread.max(1e-3 * (most - least));
            let squares: f64 = off.iter().zip(&trust).map(|(own, w)| w * own * own).sum();
            let deviation = libm::sqrt(squares / (count - freedom).max(1.0));
            found = Some((steps, trust.clone(), deviation, freedom));
            if spread <= 0.0 {
                break;
            }
            for (own, off) in trust.iter_mut().zip(&off) {
                let part = off / (TUKEY * spread);
                let left = (1.0 - part * part).max(0.0);
                // Never wholly nothing, so that a place is not lost where all its readings are wild.
                *own = (left * left).max(1e-6);
            }
        }
        let (steps, trust, deviation, freedom) = found?;
        let mut sum = shift;
        let coefficients = steps.iter().map(|own| {
            sum += own;
            sum
        });
        Some(Self { from, width, sign, coefficients: coefficients.collect(), weights: trust, deviation, freedom })
    }

    /// The value at a place; beyond the readings that of the nearest end.
    #[must_use]
    pub fn at(&self, x: f64) -> f64 {
        let (first, values) = basis(self.from, self.width, self.coefficients.len() - 3, x);
        let sum = self.coefficients.iter().skip(first).zip(values).map(|(own, value)| own * value).sum::<f64>();
        self.sign * sum
    }
}
