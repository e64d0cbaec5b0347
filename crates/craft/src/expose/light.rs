//! How long, how much, how far: three things that are not each other.

use super::ExposeError;
use crate::measure::{Bounded, COVERAGE, IntegratorUnits, Length, Span, Uncertain};

/// What an exposure is given by: the time of a lamp, or the count of an integrator. Of either a part can be taken.
pub trait Exposure: Bounded {
    /// So many powers of ten of it; an uncertainty of the power becomes one of the exposure (first order).
    ///
    /// # Errors
    /// [`ExposeError::OutOfBounds`] beyond what can be set.
    fn times_ten_to(self, power: f64, u: f64) -> Result<Uncertain<Self>, ExposeError> {
        let best = Self::from_unit(self.in_unit() * libm::pow(10.0, power))?;
        Ok(Uncertain::new(best, best.in_unit() * core::f64::consts::LN_10 * u))
    }

    /// Between which exposures it lies (k = 2). What is known of it is a factor, so the ends are as many times more and less, and
    /// never below nothing; an end beyond what can be set is the bound.
    fn between(own: &Uncertain<Self>) -> Option<(Self, Self)> {
        let factor = libm::exp(COVERAGE * own.relative()?);
        let of = |value: f64| Self::from_unit(value.clamp(Self::LEAST, Self::MOST)).ok();
        Some((of(own.best.in_unit() / factor)?, of(own.best.in_unit() * factor)?))
    }
}

impl Exposure for Span {}
impl Exposure for IntegratorUnits {}

/// How far the lamp is from the sheet. It is no exposure: a time belongs to the distance it was found at.
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd)]
pub struct LampDistance(pub Length);

/// How a lamp spreads its light.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum LampKind {
    /// Small against the distance: an arc or one bulb.
    Point,
    /// A bank of tubes or a panel.
    Wide,
}

/// The time at another distance from a lamp that is small against both: it goes by the square of the distance.
///
/// # Errors
/// [`ExposeError`] for a wide lamp, which goes by no rule, for no distance, and beyond what can be set.
pub fn time_at(lamp: LampKind, time: Span, from: LampDistance, to: LampDistance) -> Result<Span, ExposeError> {
    if lamp == LampKind::Wide {
        return Err(ExposeError::WideLamp);
    }
    let (from, to) = (from.0.to_millimetres(), to.0.to_millimetres());
    if from <= 0.0 || to <= 0.0 {
        return Err(ExposeError::NoDistance);
    }
    let ratio = to / from;
    Ok(Span::seconds(time.to_seconds() * ratio * ratio)?)
}
