//! The correction: which input makes the paper print a wanted tone.
//!
//! It is the response read backwards. Where several inputs print the same tone in the middle, the middle one is taken. Where they do so at
//! an end, paper white and paper black, the one is taken at which the end is just reached, and a margin of k = 2 beyond it: less ink than
//! that loses the white, more only thickens the negative. Between the ends two rounds of weighing each entry with its neighbours (¼, ½, ¼)
//! take out the corners of a response that stands still; such means of values that never fall never fall themselves. The curve through
//! the entries is the monotone cubic of [`crate::numerics::Pchip`].

use alloc::vec;
use alloc::vec::Vec;

use super::ends::beyond;
use super::response::RESPONSE_ROWS;
use super::{Response, Target, ToneError, ToneFit};
use crate::measure::{Bounded, COVERAGE, ToneInput, Uncertain};
use crate::numerics::Pchip;
use crate::source::{LEAST_LIGHTNESS_SPAN, NOTHING_GAINED, ROWS_TOGETHER};

/// Wanted tones at which a correction is written down: 0, 1/256, … 1.
pub const CORRECTION_ROWS: usize = 257;

/// Rounds of smoothing.
const ROUNDS: usize = 2;

/// Where an end of the paper is just reached.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct EndReached {
    /// The input beyond which nothing more is gained.
    pub at: Uncertain<ToneInput>,
    /// What is sent for the end: that input and its margin.
    pub sent: ToneInput,
}

impl EndReached {
    /// How far beyond the place what is sent lies.
    #[must_use]
    pub fn margin(&self) -> f64 {
        (self.sent.to_part() - self.at.best.to_part()).abs()
    }
}

/// What one wanted tone is expected to become.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PredictedTone {
    /// The wanted tone, 0 to 1.
    pub tone: f64,
    /// What is sent for it.
    pub sent: f64,
    /// How light it shall be, L*.
    pub wanted: f64,
    /// How light it is expected to be, L*.
    pub expected: f64,
    /// Standard uncertainty of that against the paper's own black and white, L*.
    pub standard: f64,
}

/// Inputs to send for wanted tones.
#[derive(Clone, Debug, PartialEq)]
pub struct Correction {
    inputs: Vec<f64>,
    curve: Pchip,
    target: Target,
    /// Where black is just reached.
    pub black: EndReached,
    /// Where paper white is just reached.
    pub white: EndReached,
    predicted: Vec<PredictedTone>,
}

/// A response read backwards.
struct Inverse<'r> {
    response: &'r Response,
    up: Pchip,
    /// The same from the other side: what was last is first.
    down: Pchip,
}

impl<'r> Inverse<'r> {
    fn of(response: &'r Response) -> Result<Self, ToneError> {
        let x: Vec<f64> = (0..RESPONSE_ROWS).map(Response::input_of).collect();
        let y = response.lightness();
        let turned: Vec<f64> = y.iter().rev().map(|own| -own).collect();
        let through = |y: &[f64]| Pchip::through(&x, y).map_err(|_| ToneError::NoFit);
        Ok(Self { response, up: through(y)?, down: through(&turned)? })
    }

    /// First and last input with a lightness; beyond the ends of the response those of the end.
    fn between(&self, lightness: f64) -> (f64, f64) {
        let own = lightness.clamp(self.response.black(), self.response.white());
        let first = self.up.first_at(own).unwrap_or(0.0);
        let last = self.down.first_at(-own).map_or(1.0, |own| 1.0 - own);
        (first, last.max(first))
    }

    /// Where an end is just reached, how well that is known, and what is sent for it.
    fn end(&self, white: bool, covariance: Covariance<'_>) -> Result<EndReached, ToneError> {
        let reached = |off: f64| {
            if white {
                self.between(self.response.white() - off).0
            } else {
                self.between(self.response.black() + off).1
            }
        };
        let best = reached(NOTHING_GAINED.value);
        let end = if white { 1.0 } else { 0.0 };
        // What is told apart there is the end and the place: what all tones have in common does not matter.
        let off = weighted_u(covariance, &[(best, 1.0), (end, -1.0)]);
        let (sooner, later) = (reached(NOTHING_GAINED.value + off), reached((NOTHING_GAINED.value - off).max(0.0)));
        let standard = (later - sooner).abs() / 2.0;
        let outward = if white { COVERAGE * standard } else { -COVERAGE * standard };
        let part = |own: f64| ToneInput::part(own.clamp(ToneInput::LEAST, ToneInput::MOST));
        let (Ok(at), Ok(sent)) = (part(best), part(best + outward)) else { return Err(ToneError::NoFit) };
        Ok(EndReached { at: Uncertain::new(at, standard), sent })
    }
}

/// How the errors of a response's lightnesses go together: the covariance between two of its rows.
pub(super) type Covariance<'c> = &'c dyn Fn(usize, usize) -> f64;

/// The row nearest to an input.
fn row_of(input: f64) -> usize {
    ((input * (RESPONSE_ROWS - 1) as f64 + 0.5) as usize).min(RESPONSE_ROWS - 1)
}

/// Standard uncertainty of a weighted sum of lightnesses at inputs; what all of them share cancels where the weights sum to nothing.
pub(super) fn weighted_u(covariance: Covariance<'_>, parts: &[(f64, f64)]) -> f64 {
    let mut variance = 0.0;
    for (a, by_a) in parts {
        for (b, by_b) in parts {
            variance += by_a * by_b * covariance(row_of(*a), row_of(*b));
        }
    }
    libm::sqrt(variance.max(0.0))
}

impl Correction {
    /// The correction of a fit for a target.
    ///
    /// # Errors
    /// [`ToneError`] for a response between whose ends there are no tones.
    pub fn of(fit: &ToneFit, target: Target) -> Result<Self, ToneError> {
        let rows = fit.memory.rows();
        let known = |a: usize, b: usize| rows.get((a, b)).copied().unwrap_or(0.0);
        let doubted = beyond(fit.response.standard(), |row| known(row, row));
        Self::made(&fit.response, &|a, b| known(a, b) + doubted(a, b), target)
    }

    /// The correction of a response of which no more is known than how well each row is: errors are taken to go together over a part of the
    /// inputs.
    ///
    /// # Errors
    /// [`ToneError`] as for [`Correction::of`].
    pub fn of_response(response: &Response, target: Target) -> Result<Self, ToneError> {
        let standard = |row: usize| response.standard().get(row).copied().unwrap_or(0.0);
        let covariance = |a: usize, b: usize| {
            let apart = (Response::input_of(a) - Response::input_of(b)) / ROWS_TOGETHER.value;
            standard(a) * standard(b) * libm::exp(-0.5 * apart * apart)
        };
        Self::made(response, &covariance, target)
    }

    fn made(response: &Response, covariance: Covariance<'_>, target: Target) -> Result<Self, ToneError> {
        let (black, white) = (response.black(), response.white());
        if white - black < LEAST_LIGHTNESS_SPAN.value {
            return Err(ToneError::NoTones { found: white - black, least: LEAST_LIGHTNESS_SPAN.value });
        }
        let inverse = Inverse::of(response)?;
        let middle = |lightness: f64| {
            let (first, last) = inverse.between(lightness);
            0.5 * (first + last)
        };
        let mut inputs: Vec<f64> =
            (0..CORRECTION_ROWS).map(|row| middle(target.aim(Self::tone_of(row), black, white))).collect();
        let (at_black, at_white) = (inverse.end(false, covariance)?, inverse.end(true, covariance)?);
        let (first_white, last_black) = (inverse.between(white).0, inverse.between(black).1);
        let last = CORRECTION_ROWS - 1;
        let (second, before) = (inputs.get(1).copied().unwrap_or(0.0), inputs.get(last - 1).copied().unwrap_or(1.0));
        // An end is sent no further than it is reached for certain, and no nearer than the tone beside it.
        let lower = at_black.sent.to_part().max(last_black).min(second);
        let upper = at_white.sent.to_part().min(first_white).max(before);
        for (row, own) in inputs.iter_mut().enumerate() {
            *own = match row {
                0 => lower,
                _ if row == last => upper,
                _ => own.clamp(lower, upper),
            };
        }
        for _ in 0..ROUNDS {
            inputs = smoothed(&inputs);
        }
        let tones: Vec<f64> = (0..CORRECTION_ROWS).map(Self::tone_of).collect();
        let curve = Pchip::through(&tones, &inputs).map_err(|_| ToneError::NoFit)?;
        let sent = |own: f64| ToneInput::part(own.clamp(ToneInput::LEAST, ToneInput::MOST));
        let (Ok(sent_black), Ok(sent_white)) = (sent(lower), sent(upper)) else { return Err(ToneError::NoFit) };
        let predicted = inputs.iter().enumerate().map(|(row, own)| {
            let tone = Self::tone_of(row);
            let wanted = target.aim(tone, black, white);
            let part = (wanted - black) / (white - black);
            // Against the ends of the paper, which a curve that is sent with its margins may miss by a hair.
            let ends = [(*own, 1.0), (0.0, part - 1.0), (1.0, -part)];
            let expected = inverse.up.at(*own).unwrap_or(wanted);
            PredictedTone { tone, sent: *own, wanted, expected, standard: weighted_u(covariance, &ends) }
        });
        Ok(Self {
            predicted: predicted.collect(),
            black: EndReached { sent: sent_black, ..at_black },
            white: EndReached { sent: sent_white, ..at_white },
            inputs,
            curve,
            target,
        })
    }

    /// The same with entries that were written down earlier, so that a curve stays what it was when a negative was made with it. None for
    /// other counts, entries that fall and such that are no inputs.
    #[must_use]
    pub fn with_inputs(self, inputs: Vec<f64>) -> Option<Self> {
        let within = inputs.iter().all(|own| (ToneInput::LEAST..=ToneInput::MOST).contains(own));
        if inputs.len() != CORRECTION_ROWS || !within || !inputs.is_sorted() {
            return None;
        }
        let tones: Vec<f64> = (0..CORRECTION_ROWS).map(Self::tone_of).collect();
        let curve = Pchip::through(&tones, &inputs).ok()?;
        Some(Self { inputs, curve, ..self })
    }

    /// The wanted tone of a row, 0 to 1.
    #[must_use]
    pub fn tone_of(row: usize) -> f64 {
        row as f64 / (CORRECTION_ROWS - 1) as f64
    }

    /// What is sent for each row's tone: [`CORRECTION_ROWS`] inputs that never fall.
    #[must_use]
    pub fn inputs(&self) -> &[f64] {
        &self.inputs
    }

    /// For which target it is.
    #[must_use]
    pub fn target(&self) -> Target {
        self.target
    }

    /// What is sent for a tone, by the monotone cubic through the entries.
    #[must_use]
    pub fn send(&self, tone: ToneInput) -> ToneInput {
        let own = self.curve.at(tone.to_part()).unwrap_or(0.0).clamp(ToneInput::LEAST, ToneInput::MOST);
        // OK because it was clamped to the bounds.
        ToneInput::part(own).expect("BUG: a correction left the bounds of an input")
    }

    /// What each wanted tone is expected to become.
    #[must_use]
    pub fn predicted(&self) -> &[PredictedTone] {
        &self.predicted
    }

    /// Root mean square over tones of what is expected to be left, L*: what the margins and the smoothing cost, and the uncertainty.
    #[must_use]
    pub fn expected_rms(&self) -> f64 {
        let square = |own: &PredictedTone| {
            let off = own.expected - own.wanted;
            off * off + own.standard * own.standard
        };
        libm::sqrt(self.predicted.iter().map(square).sum::<f64>() / CORRECTION_ROWS as f64)
    }
}

/// Each value with its neighbours; the ends stay.
fn smoothed(values: &[f64]) -> Vec<f64> {
    let mut out = vec![0.0; values.len()];
    for (own, around) in out.iter_mut().skip(1).zip(values.windows(3)) {
        if let [before, here, after] = around {
            *own = 0.5 * here + 0.5 * (0.5 * before + 0.5 * after);
        }
    }
    if let (Some(first), Some(last)) = (values.first(), values.last()) {
        if let Some(own) = out.first_mut() {
            *own = *first;
        }
        if let Some(own) = out.last_mut() {
            *own = *last;
        }
    }
    // Rounding may undo the order by the last digit.
    for k in 1..out.len() {
        out[k] = out[k].max(out[k - 1]);
    }
    out
}
