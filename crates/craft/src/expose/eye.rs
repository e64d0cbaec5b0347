//! A wedge judged by eye: two step numbers.

use super::{ExposeError, Exposure};
use crate::measure::{Bounded, LogRange, StepDensity, Uncertain};
use crate::source::{EYE_TIME, USUAL_TABLET};

/// A silver tablet whose steps are even.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct StepTablet {
    first: StepDensity,
    increment: LogRange,
    steps: u8,
}

impl StepTablet {
    /// A tablet by the density of step 1, the difference of neighbours, and the count of steps.
    ///
    /// # Errors
    /// [`ExposeError::NoTablet`] for fewer than two steps, more than sixty, no difference, or densities nobody makes.
    pub fn new(first: StepDensity, increment: LogRange, steps: u8) -> Result<Self, ExposeError> {
        let last = first.to_density() + increment.to_log_h() * f64::from(steps.saturating_sub(1));
        if !(2..=60).contains(&steps) || increment.to_log_h() <= 0.0 || last > StepDensity::MOST {
            return Err(ExposeError::NoTablet);
        }
        Ok(Self { first, increment, steps })
    }

    /// The usual one: 21 steps of 0.15 from 0.05.
    #[must_use]
    pub fn usual() -> Self {
        let tablet = USUAL_TABLET.value;
        // OK because the usual tablet is a constant inside the bounds.
        let (first, increment) = (StepDensity::density(tablet.first), LogRange::log_h(tablet.increment));
        let built = first.and_then(|first| Ok((first, increment?)));
        // OK because of the same.
        let (first, increment) = built.expect("BUG: the usual tablet is out of bounds");
        Self { first, increment, steps: tablet.steps }
    }

    /// How many steps it has.
    #[must_use]
    pub fn steps(&self) -> u8 {
        self.steps
    }

    /// Density of a step, counted from 1.
    ///
    /// # Errors
    /// [`ExposeError::StepUnknown`] for a number it does not have.
    pub fn density(&self, step: u8) -> Result<StepDensity, ExposeError> {
        if step == 0 || step > self.steps {
            return Err(ExposeError::StepUnknown { step, steps: self.steps });
        }
        Ok(StepDensity::density(self.first.to_density() + self.increment.to_log_h() * f64::from(step - 1))?)
    }
}

/// Two numbers read off a dry print: the last step that is full black, and the last that shows a tone.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ByEye {
    /// The tablet.
    pub tablet: StepTablet,
    /// The last full-black step; 0 when none is.
    pub last_black: u8,
    /// The last step with a tone that can be told from paper white.
    pub last_tone: u8,
}

/// What two step numbers come to.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Judged<E> {
    /// Whether a step is full black.
    pub black: bool,
    /// Whether a step is paper white.
    pub white: bool,
    /// From the last full black to the last tone; none when the wedge did not bracket.
    pub scale: Option<Uncertain<LogRange>>,
    /// Time or count through clear film to full black; none when the wedge did not bracket.
    pub base: Option<Uncertain<E>>,
}

impl ByEye {
    /// Exposure scale and base exposure. The true end of black lies somewhere within one step (rectangular), as does that of the
    /// tones; a time is never said to be known better than to a tenth.
    ///
    /// # Errors
    /// [`ExposeError`] for steps the tablet does not have, and for a tone before the black.
    pub fn judge<E: Exposure>(&self, test: E) -> Result<Judged<E>, ExposeError> {
        let Self { tablet, last_black, last_tone } = *self;
        if last_tone <= last_black {
            return Err(ExposeError::TonesReversed { black: last_black, tone: last_tone });
        }
        let end = tablet.density(last_tone)?;
        let (black, white) = (last_black > 0, last_tone < tablet.steps);
        if !black || !white {
            return Ok(Judged { black, white, scale: None, base: None });
        }
        let full = tablet.density(last_black)?;
        let one_end = tablet.increment.to_log_h() / 2.0 / libm::sqrt(3.0);
        let scale = LogRange::log_h(end.to_density() - full.to_density())?;
        let by_eye = EYE_TIME.value / core::f64::consts::LN_10;
        Ok(Judged {
            black,
            white,
            scale: Some(Uncertain::new(scale, libm::sqrt(2.0) * one_end)),
            base: Some(test.times_ten_to(-full.to_density(), one_end.max(by_eye))?),
        })
    }
}
