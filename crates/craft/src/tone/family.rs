//! The curves a set-up may have, as a handful of unknowns.
//!
//! What is sent to the film goes by a power to the density of its ink; the paper answers in density by a sigmoid with a toe and a shoulder
//! of their own (Richards, *J. Exp. Bot.* 10 (1959) 290-301: a logistic with a fourth number for its skew), of which the film's range shows
//! a piece between the paper's own black and its own white. No paper is exactly of that family; so the slope of lightness at each input is
//! the family's times a smooth factor, whose logarithm is a sum of cosines with sizes that fall off as for a random function of a given
//! length (Solin and Särkkä, *Stat. Comput.* 30 (2020) 419-446). Slopes stay above zero, so every curve rises.

use alloc::vec::Vec;

use nalgebra::{DMatrix, DVector};

use super::response::RESPONSE_ROWS;
use crate::colour::l_star_of;
use crate::source::{FACTOR_LENGTH, FACTOR_MARGIN, WHITE_WRITTEN};

/// Numbers of the sigmoid: density of white and black; logarithms of the input's power, of how far black and white lie from the middle, of
/// the skew.
pub(super) const SIGMOID: usize = 6;
/// Cosines in the factor of the slope.
pub(super) const COSINES: usize = 16;
/// All unknowns.
pub(super) const UNKNOWNS: usize = SIGMOID + COSINES;

/// The unknowns of a curve.
pub(super) type Unknowns = DVector<f64>;

/// A curve on the rows of a response, and how each unknown moves it.
pub(super) struct Curve {
    /// Lightness, L*.
    pub(super) lightness: Vec<f64>,
    /// Change of lightness for a change of each unknown.
    pub(super) slopes: DMatrix<f64>,
}

#[derive(Clone)]
/// The cosines and how large each is expected, for a factor whose logarithm has standard deviation 1.
pub(super) struct Family {
    /// Cosines at the middles between rows.
    waves: DMatrix<f64>,
    /// Standard deviation of the weight of each.
    pub(super) sizes: Vec<f64>,
}

impl Family {
    pub(super) fn new() -> Self {
        let (length, margin) = (FACTOR_LENGTH.value, FACTOR_MARGIN.value);
        let span = 1.0 + 2.0 * margin;
        let turns = |wave: usize| core::f64::consts::PI * (wave + 1) as f64 / span;
        let waves = DMatrix::from_fn(RESPONSE_ROWS - 1, COSINES, |row, wave| {
            let at = (row as f64 + 0.5) / (RESPONSE_ROWS - 1) as f64;
            libm::cos(turns(wave) * (at + margin))
        });
        // The spectral density of a squared exponential; 2/span makes the sum of squares the variance.
        let sizes = (0..COSINES).map(|wave| {
            let phase = turns(wave) * length;
            let density = length * libm::sqrt(2.0 * core::f64::consts::PI) * libm::exp(-0.5 * phase * phase);
            libm::sqrt(density * 2.0 / span)
        });
        Self { waves, sizes: sizes.collect() }
    }

    /// Lightness of the sigmoid at each row.
    fn sigmoid(unknowns: &[f64; SIGMOID]) -> Vec<f64> {
        let [white, black, power, dark, light, skew] = *unknowns;
        let (stretch, below) = WHITE_WRITTEN.value;
        let white = stretch * (libm::exp(white) - below);
        let (power, dark, light, skew) = (libm::exp(power), libm::exp(dark), libm::exp(light), libm::exp(skew));
        // So that half of the range is reached in the middle whatever the skew.
        let half = libm::exp2(1.0 / skew) - 1.0;
        let rise = |at: f64| {
            let along = dark - (dark + light) * libm::pow(at, power);
            libm::pow(1.0 + half * libm::exp(-along), -skew)
        };
        let (first, last) = (rise(0.0), rise(1.0));
        let part = |row: usize| (rise(row as f64 / (RESPONSE_ROWS - 1) as f64) - last) / (first - last);
        (0..RESPONSE_ROWS).map(|row| l_star_of(white + (black - white) * part(row))).collect()
    }

    fn head(unknowns: &Unknowns) -> [f64; SIGMOID] {
        core::array::from_fn(|k| unknowns.get(k).copied().unwrap_or(0.0))
    }

    /// The logarithm of the factor between rows, from the weights.
    fn factor(&self, unknowns: &Unknowns) -> DVector<f64> {
        &self.waves * unknowns.rows(SIGMOID, COSINES)
    }

    /// Lightness at each row.
    pub(super) fn lightness(&self, unknowns: &Unknowns) -> Vec<f64> {
        bent(&Self::sigmoid(&Self::head(unknowns)), &self.factor(unknowns))
    }

    /// Lightness at each row, and how it moves: by central differences for the sigmoid, exactly for the factor.
    pub(super) fn curve(&self, unknowns: &Unknowns) -> Curve {
        const STEP: f64 = 1e-3;
        let head = Self::head(unknowns);
        let factor = self.factor(unknowns);
        let base = Self::sigmoid(&head);
        let lightness = bent(&base, &factor);
        let mut slopes = DMatrix::zeros(RESPONSE_ROWS, UNKNOWNS);
        for (place, own) in head.iter().enumerate() {
            let moved = |by: f64| {
                let mut head = head;
                head[place] = own + by;
                bent(&Self::sigmoid(&head), &factor)
            };
            for (row, (up, down)) in moved(STEP).into_iter().zip(moved(-STEP)).enumerate() {
                slopes[(row, place)] = (up - down) / (2.0 * STEP);
            }
        }
        let steps: Vec<f64> = stretched(&base, &factor).collect();
        let whole: f64 = steps.iter().sum();
        let span = lightness.last().copied().unwrap_or(0.0) - lightness.first().copied().unwrap_or(0.0);
        for wave in 0..COSINES {
            let waves = self.waves.column(wave);
            let all: f64 = steps.iter().zip(waves.iter()).map(|(step, wave)| step * wave).sum();
            let (mut own, mut sum) = (0.0, 0.0);
            for (row, (step, wave_here)) in steps.iter().zip(waves.iter()).enumerate() {
                own += step * wave_here;
                sum += step;
                slopes[(row + 1, SIGMOID + wave)] = span * (own / whole - sum / whole * all / whole);
            }
        }
        Curve { lightness, slopes }
    }
}

/// Steps of lightness, each times its factor.
fn stretched<'a>(base: &'a [f64], factor: &'a DVector<f64>) -> impl Iterator<Item = f64> + 'a {
    base.iter().zip(base.iter().skip(1)).zip(factor.iter()).map(|((here, next), own)| (next - here) * libm::exp(*own))
}

/// The same ends with the steps between them stretched.
fn bent(base: &[f64], factor: &DVector<f64>) -> Vec<f64> {
    let whole: f64 = stretched(base, factor).sum();
    let (first, last) = (base.first().copied().unwrap_or(0.0), base.last().copied().unwrap_or(0.0));
    let mut sum = 0.0;
    core::iter::once(first)
        .chain(stretched(base, factor).map(|step| {
            sum += step;
            first + (last - first) * sum / whole
        }))
        .collect()
}
