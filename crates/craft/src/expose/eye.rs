//! A wedge judged by eye: two step numbers.

use super::{Base, ExposeError, Exposure};
use crate::measure::{Bounded, LogRange, StepDensity, Uncertain};
use crate::source::USUAL_TABLET;

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
    /// The last step that is as black as step 1; 0 when none is.
    pub last_black: u8,
    /// The last step with a tone that can be told from paper white.
    pub last_tone: u8,
}

/// What two step numbers come to.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Judged<E> {
    /// Whether two steps at least are as black as each other: one alone shows nothing denser to be full black by.
    pub black: bool,
    /// Whether a step is paper white.
    pub white: bool,
    /// From the last full black to the last tone; none when the wedge did not bracket.
    pub scale: Option<Uncertain<LogRange>>,
    /// Time or count through clear film to full black; none when the wedge did not bracket.
    pub base: Option<Base<E>>,
}

impl ByEye {
    /// Exposure scale and base exposure. Black truly begins within the step after the last full black ([`Base`]). The scale goes from
    /// the last black step to the last tone; both true ends lie somewhere in the step after it (rectangular), so they move it alike and
    /// its ± is as much to either side.
    ///
    /// # Errors
    /// [`ExposeError`] for steps the tablet does not have, and for a tone before the black.
    pub fn judge<E: Exposure>(&self, test: E) -> Result<Judged<E>, ExposeError> {
        let Self { tablet, last_black, last_tone } = *self;
        if last_tone <= last_black {
            return Err(ExposeError::TonesReversed { black: last_black, tone: last_tone });
        }
        let end = tablet.density(last_tone)?;
        let (black, white) = (last_black > 1, last_tone < tablet.steps);
        if !black || !white {
            return Ok(Judged { black, white, scale: None, base: None });
        }
        let full = tablet.density(last_black)?;
        let one_end = tablet.increment.to_log_h() / 2.0 / libm::sqrt(3.0);
        let scale = LogRange::log_h(end.to_density() - full.to_density())?;
        // A tone comes after the black, so there is a step after it.
        let lighter = tablet.density(last_black + 1)?;
        let under = |own: StepDensity| test.times_ten_to(-own.to_density(), 0.0).map(|own| own.best);
        Ok(Judged {
            black,
            white,
            scale: Some(Uncertain::new(scale, libm::sqrt(2.0) * one_end)),
            base: Some(Base::seen(under(lighter)?, under(full)?)?),
        })
    }
}
