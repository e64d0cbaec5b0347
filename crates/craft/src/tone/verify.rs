//! A print through the correction: what is left of the error, how much of that is noise, and what it teaches.

use alloc::vec::Vec;

use super::{Correction, Memory, PatchReading, Response, ToneError, ToneFit, fit};
use crate::measure::{COVERAGE, ToneInput};

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

/// What a second print says of a correction.
#[derive(Clone, Debug, PartialEq)]
pub struct Verified {
    /// What the corrected print is: lightness for each wanted tone.
    pub print: ToneFit,
    /// What is left, row by row of a correction.
    pub left: Vec<ToneLeft>,
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
        self.rms <= COVERAGE * self.noise
    }
}

/// Compares a print through a correction with what was wanted. The input of each reading is the tone that was wanted; what was sent to the
/// film for it the correction says.
///
/// # Errors
/// [`ToneError`] for readings without a response in them.
pub fn verify(readings: &[PatchReading], correction: &Correction, earlier: &Memory) -> Result<Verified, ToneError> {
    let print = fit(readings, None)?;
    let (black, white) = (print.response.black(), print.response.white());
    let common = print.quality.sheet_u;
    let left: Vec<ToneLeft> = print
        .response
        .lightness()
        .iter()
        .zip(print.response.standard())
        .enumerate()
        .map(|(row, (found, standard))| {
            let tone = Response::input_of(row);
            let standard = libm::sqrt((standard * standard - common * common).max(0.0));
            ToneLeft { tone, off: found - correction.target().aim(tone, black, white), standard }
        })
        .collect();
    let mean = |of: &dyn Fn(&ToneLeft) -> f64| left.iter().map(of).sum::<f64>() / left.len() as f64;
    let (square, noise) = (mean(&|own| own.off * own.off), mean(&|own| own.standard * own.standard));
    let beyond = mean(&|own| if own.off.abs() > COVERAGE * own.standard { 1.0 } else { 0.0 });
    let update = fit(&as_sent(readings, correction), Some(earlier));
    Ok(Verified {
        print,
        left,
        rms: libm::sqrt(square),
        noise: libm::sqrt(noise),
        beside_noise: libm::sqrt((square - noise).max(0.0)),
        beyond,
        update,
    })
}

/// Readings of a corrected print as readings of the response: the input is what was sent to the film.
#[must_use]
pub fn as_sent(readings: &[PatchReading], correction: &Correction) -> Vec<PatchReading> {
    let sent = |own: &PatchReading| -> ToneInput { correction.send(own.input) };
    readings.iter().map(|own| PatchReading { input: sent(own), ..*own }).collect()
}
