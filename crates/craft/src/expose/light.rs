//! How long, how much, how far: three things that are not each other.

use super::ExposeError;
use crate::measure::{Bounded, COVERAGE, IntegratorUnits, Length, Span, Uncertain};
use crate::source::EYE_TIME;

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

/// An exposure to full black that was found, and between which it lies.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Base<E> {
    /// What is set, and its standard uncertainty.
    pub set: Uncertain<E>,
    /// Between which black truly begins, about 95 times in 100.
    pub between: Option<(E, E)>,
    /// By eye: what is set is the shortest exposure that was seen full black, at the far end of where black begins.
    pub seen: bool,
}

impl<E: Exposure> Base<E> {
    /// One that was computed from readings; its ± is as much to either side (as a factor, k = 2).
    #[must_use]
    pub fn computed(set: Uncertain<E>) -> Self {
        Self { set, between: E::between(&set), seen: false }
    }

    /// One that was seen: full black with one exposure, and not yet with the next shorter one.
    ///
    /// An eye finds an edge, and black begins before it: anywhere between the exposure that was seen lighter and the one that was seen
    /// black, each place as likely (rectangular, of the width ln(black / lighter)). Where the edge is, the eye tells to a tenth (one
    /// standard deviation). So black begins between the lighter exposure less a tenth and the black one and a tenth: for steps from a
    /// third to half a stop that holds 93 to 95 of 100 (the two convolved), about what k = 2 holds elsewhere. The standard uncertainty
    /// is that of both in quadrature, √(width² / 12 + 0.1²). What is set stays the black one: a shorter one was never seen to be black.
    ///
    /// # Errors
    /// [`ExposeError::OutOfBounds`] beyond what can be set.
    pub(super) fn seen(lighter: E, black: E) -> Result<Self, ExposeError> {
        let eye = EYE_TIME.value;
        let anywhere = libm::log(black.in_unit() / lighter.in_unit()) / 2.0 / libm::sqrt(3.0);
        let relative = libm::sqrt(anywhere * anywhere + eye * eye);
        let of = |value: f64| E::from_unit(value.clamp(E::LEAST, E::MOST));
        let between = (of(lighter.in_unit() * (1.0 - eye))?, of(black.in_unit() * (1.0 + eye))?);
        Ok(Self { set: Uncertain::new(black, black.in_unit() * relative), between: Some(between), seen: true })
    }
}

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
