//! Steps printed in ink: they come in an order, and that is all that is known of them.

use alloc::vec::Vec;

use super::ExposeError;
use crate::measure::PrintDensity;
use crate::numerics::{Direction, isotonic};
use crate::source::{BLACK_WITHIN, LEAST_TONES, TOE_ABOVE};

/// Print densities under steps 1, 2, 3 … of ink, from the least ink to the most.
#[derive(Clone, Debug, PartialEq)]
pub struct InkSteps {
    prints: Vec<PrintDensity>,
}

/// Where black ends and white begins, by number. No time and no scale follows: how dense an ink is to the lamp nobody knows.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct InkRank {
    /// The last step that is full black, counted from 1; none when not even two are.
    pub last_black: Option<usize>,
    /// The last step with a tone that can be told from white; none when white is not reached.
    pub last_tone: Option<usize>,
}

impl InkSteps {
    /// Readings in the order of the steps.
    ///
    /// # Errors
    /// [`ExposeError::TooFewSteps`] for fewer than four.
    pub fn new(prints: Vec<PrintDensity>) -> Result<Self, ExposeError> {
        if prints.len() < 4 { Err(ExposeError::TooFewSteps(prints.len())) } else { Ok(Self { prints }) }
    }

    /// Ranks them.
    ///
    /// # Errors
    /// [`ExposeError`] when there is no picture in the readings, or it runs the other way.
    pub fn rank(&self) -> Result<InkRank, ExposeError> {
        let read: Vec<f64> = self.prints.iter().map(|own| own.to_density()).collect();
        let fitted = isotonic(&read, None, Direction::Down).map_or(Vec::new(), |own| own.values);
        let (Some(dmax), Some(base)) = (fitted.first(), fitted.last()) else {
            return Err(ExposeError::TooFewSteps(fitted.len()));
        };
        tones(*dmax - *base, &read)?;
        let black = fitted.iter().filter(|own| **own >= dmax - BLACK_WITHIN.value).count();
        let tone = fitted.iter().filter(|own| **own > base + TOE_ABOVE.value).count();
        Ok(InkRank {
            last_black: Some(black).filter(|own| *own > 1),
            last_tone: Some(tone).filter(|own| *own + 1 < fitted.len()),
        })
    }
}

/// Whether there is a picture, from the span of the fitted tones; `read` goes from the most exposure to the least.
pub(super) fn tones(found: f64, read: &[f64]) -> Result<(), ExposeError> {
    if found >= LEAST_TONES.value {
        return Ok(());
    }
    let other = read.last().copied().unwrap_or(0.0) - read.first().copied().unwrap_or(0.0);
    if other >= LEAST_TONES.value {
        return Err(ExposeError::Upside);
    }
    Err(ExposeError::NoTones { found, least: LEAST_TONES.value })
}
