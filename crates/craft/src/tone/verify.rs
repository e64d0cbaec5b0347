//! A print through the correction: what is left of the error, how much of that is noise, and what it teaches.

use alloc::vec::Vec;

use super::correction::weighted_u;
use super::ends::beyond;
use super::fit::{alone, fit_beside, told};
use super::{Correction, Memory, PatchReading, PriorUse, ToneError, ToneFit};
use crate::measure::{COVERAGE, ToneInput};
use crate::source::{NOT_THROUGH, WITHIN_NOISE};

/// What one wanted tone became.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ToneLeft {
    /// The wanted tone, 0 to 1.
    pub tone: f64,
    /// How much lighter than wanted it was printed, L*, between the print's own black and white.
    pub off: f64,
    /// Standard uncertainty of that, L*: what is common to the whole sheet is left out, as it moves no tone against another.
    pub standard: f64,
}

/// An end of the paper in this print, beside where the response had it. The tones between are held against this print's own ends, so that
/// what moved the ends stands here and nowhere else.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct EndShift {
    /// How light it is in this print, L*.
    pub lightness: f64,
    /// How much lighter than the response had it, L*.
    pub shift: f64,
    /// Standard uncertainty of that, L*: what is common to a whole sheet is in it.
    pub standard: f64,
}

/// What a second print says of a correction.
#[derive(Clone, Debug, PartialEq)]
pub struct Verified {
    /// The print by itself, as one more print of the same paper: lightness for what was sent.
    pub print: ToneFit,
    /// What is left, row by row of a correction.
    pub left: Vec<ToneLeft>,
    /// Its black, which is what tone 0 is set to.
    pub black: EndShift,
    /// Its white, which is what tone 1 is set to.
    pub white: EndShift,
    /// The readings go with the response as it is, and not with the curve: the chart looks like one that was sent without it.
    pub without_curve: bool,
    /// Root mean square of it over tones, L*.
    pub rms: f64,
    /// How much of that readings and coat explain by themselves, L*.
    pub noise: f64,
    /// What remains beside the noise, L*; 0 where the noise explains all.
    pub beside_noise: f64,
    /// Tones that are off by more than k = 2, as a part of all.
    pub beyond: f64,
    /// The response with these readings added to what the earlier fit knew; or why there is none.
    pub update: Result<ToneFit, ToneError>,
}

impl Verified {
    /// The tone that is furthest off.
    #[must_use]
    pub fn worst(&self) -> Option<ToneLeft> {
        self.left.iter().copied().max_by(|a, b| a.off.abs().total_cmp(&b.off.abs()))
    }

    /// Whether what is left is no more than noise makes: nothing is gained by another correction.
    #[must_use]
    pub fn within_noise(&self) -> bool {
        within_noise(self.rms, self.noise)
    }
}

/// Whether so much is no more than noise of this size makes, both in L*.
#[must_use]
pub fn within_noise(rms: f64, noise: f64) -> bool {
    rms <= WITHIN_NOISE.value * noise
}

/// Compares a print through a correction with what was wanted. The input of each reading is the tone that was wanted; what was sent to the
/// film for it the correction says.
///
/// # Errors
/// [`ToneError`] for readings without a response in them.
pub fn verify(readings: &[PatchReading], correction: &Correction, earlier: &Memory) -> Result<Verified, ToneError> {
    super::checked(readings)?;
    // A corrected print is straight, and no paper is; as it was sent it is one more print of the same paper.
    let sent = as_sent(readings, correction);
    let fresh = alone(&sent)?;
    let print = told(&sent, &fresh, PriorUse::None)?;
    let rows = print.memory.rows();
    let by_fit = |a: usize, b: usize| rows.get((a, b)).copied().unwrap_or(0.0);
    let doubted = beyond(print.response.standard(), |row| by_fit(row, row));
    let covariance = |a: usize, b: usize| by_fit(a, b) + doubted(a, b);
    let at = |input: f64| ToneInput::part(input).map_or(0.0, |own| print.response.at(own).best.to_l_star());
    let inputs = correction.inputs();
    let ends = (inputs.first().copied().unwrap_or(0.0), inputs.last().copied().unwrap_or(1.0));
    let (black, white) = (at(ends.0), at(ends.1));
    let known = earlier.rows();
    let known = |a: usize, b: usize| known.get((a, b)).copied().unwrap_or(0.0);
    let before = earlier.curve().lightness;
    let had = |input: f64| lightness_at(&before, input);
    let shift = |input: f64, own: f64| {
        let (u, other) = (weighted_u(&covariance, &[(input, 1.0)]), weighted_u(&known, &[(input, 1.0)]));
        EndShift { lightness: own, shift: own - had(input), standard: libm::sqrt(u * u + other * other) }
    };
    let off = |of: &[PatchReading]| {
        middle(of.iter().map(|own| (own.lightness.to_l_star() - had(own.input.to_part())).abs()).collect())
    };
    let nearer_without = off(readings) <= NOT_THROUGH.value * off(&sent);
    // Held against what the curve itself expects of each tone, both between the lightnesses that are sent for black and white: what margins and
    // smoothing cost is known beforehand and no fault of the print.
    let expected: Vec<f64> = correction.predicted().iter().map(|own| own.expected).collect();
    let (first, last) = (expected.first().copied().unwrap_or(0.0), expected.last().copied().unwrap_or(1.0));
    let one = |(row, (input, own)): (usize, (&f64, &f64))| {
        let part = (own - first) / (last - first);
        let standard = weighted_u(&covariance, &[(*input, 1.0), (ends.0, part - 1.0), (ends.1, -part)]);
        ToneLeft { tone: Correction::tone_of(row), off: at(*input) - black - part * (white - black), standard }
    };
    let left: Vec<ToneLeft> = inputs.iter().zip(&expected).enumerate().map(one).collect();
    let mean = |of: &dyn Fn(&ToneLeft) -> f64| left.iter().map(of).sum::<f64>() / left.len() as f64;
    let (square, noise) = (mean(&|own| own.off * own.off), mean(&|own| own.standard * own.standard));
    let beyond = mean(&|own| if own.off.abs() > COVERAGE * own.standard { 1.0 } else { 0.0 });
    let update = fit_beside(&sent, earlier, fresh);
    let (rms, noise_rms) = (libm::sqrt(square), libm::sqrt(noise));
    Ok(Verified {
        print,
        left,
        black: shift(ends.0, black),
        white: shift(ends.1, white),
        without_curve: nearer_without && rms > WITHIN_NOISE.value * noise_rms,
        rms,
        noise: noise_rms,
        beside_noise: libm::sqrt((square - noise).max(0.0)),
        beyond,
        update,
    })
}

/// Lightness at an input, along straight lines between rows.
fn lightness_at(rows: &[f64], input: f64) -> f64 {
    let along = input * rows.len().saturating_sub(1) as f64;
    let row = (along as usize).min(rows.len().saturating_sub(2));
    match rows.get(row..) {
        Some([here, next, ..]) => here + (along - row as f64) * (next - here),
        _ => 0.0,
    }
}

/// The one in the middle: a wrong reading or two do not move it.
fn middle(mut values: Vec<f64>) -> f64 {
    values.sort_by(f64::total_cmp);
    values.get(values.len() / 2).copied().unwrap_or(0.0)
}

/// Readings of a corrected print as readings of the response: the input is what was sent to the film.
#[must_use]
pub fn as_sent(readings: &[PatchReading], correction: &Correction) -> Vec<PatchReading> {
    let sent = |own: &PatchReading| -> ToneInput { correction.send(own.input) };
    readings.iter().map(|own| PatchReading { input: sent(own), ..*own }).collect()
}
