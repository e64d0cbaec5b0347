//! Strips without a wedge: one sheet, one card, seconds to add.

use alloc::vec::Vec;

use super::{Base, ExposeError, Exposure};
use crate::source::STRIPS_MOST;

/// By how much each strip is longer than the one before.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum StopPart {
    /// Half a stop.
    Half,
    /// A third of a stop.
    Third,
}

impl StopPart {
    /// How many make a stop, which doubles the exposure.
    #[must_use]
    pub fn in_a_stop(self) -> u8 {
        match self {
            Self::Half => 2,
            Self::Third => 3,
        }
    }
}

/// One strip.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Strip<E> {
    /// Its number, from the shortest exposure.
    pub number: u8,
    /// What it gets in all.
    pub total: E,
    /// What is added after the card was moved over the one before; of the first, all of it.
    pub add: E,
}

/// A card moved over one strip after another: the first exposure is for all of them, then each gets a little more than the last.
#[derive(Clone, Debug, PartialEq)]
pub struct StripPlan<E> {
    strips: Vec<Strip<E>>,
}

impl<E: Exposure> StripPlan<E> {
    /// Strips from the first exposure to the one that reaches the last, in whole seconds or units.
    ///
    /// # Errors
    /// [`ExposeError`] when the last is no longer than the first, when there would be too many, or two alike.
    pub fn make(first: E, until: E, part: StopPart) -> Result<Self, ExposeError> {
        if until.in_unit() <= first.in_unit() || first.in_unit() <= 0.0 {
            return Err(ExposeError::StripsReversed);
        }
        let parts = f64::from(part.in_a_stop());
        // A hair under, so that an exact doubling is reached by exactly that many parts.
        let needed = libm::ceil(libm::log2(until.in_unit() / first.in_unit()) * parts - 1e-9) as usize + 1;
        if needed > STRIPS_MOST.value {
            return Err(ExposeError::StripsMany { strips: needed, most: STRIPS_MOST.value });
        }
        let mut strips: Vec<Strip<E>> = Vec::with_capacity(needed);
        let mut before = 0.0;
        for number in (1_u8..).take(needed) {
            let power = f64::from(number - 1) / parts;
            let whole = libm::round(first.in_unit() * libm::pow(2.0, power));
            if whole <= before {
                return Err(ExposeError::StripsAlike);
            }
            strips.push(Strip { number, total: E::from_unit(whole)?, add: E::from_unit(whole - before)? });
            before = whole;
        }
        Ok(Self { strips })
    }

    /// The strips, from the shortest exposure on.
    #[must_use]
    pub fn strips(&self) -> &[Strip<E>] {
        &self.strips
    }

    /// The base exposure, when the first strip that is no blacker than the one before it was tapped, dry: the one before is then the
    /// shortest that was seen full black. Black truly begins in the part of a stop before that ([`Base`]).
    ///
    /// # Errors
    /// [`ExposeError`] for a strip that is not there, and when black was reached in the first.
    pub fn tapped(&self, strip: u8) -> Result<Base<E>, ExposeError> {
        let strips = self.strips.len();
        if strip == 2 {
            return Err(ExposeError::BlackFromTheFirst);
        }
        let before = |by: usize| usize::from(strip).checked_sub(by).and_then(|place| self.strips.get(place));
        let (lighter, black) = before(3)
            .zip(before(2))
            .filter(|_| usize::from(strip) <= strips)
            .ok_or(ExposeError::StripUnknown { strip, strips })?;
        Base::seen(lighter.total, black.total)
    }
}
