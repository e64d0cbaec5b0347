//! A curve through points as 65,536 entries, and the inversion with it.

use alloc::vec::Vec;

use crate::measure::{Bounded, ToneInput};
use crate::numerics::Pchip;

/// Codes of 16 bits.
const CODES: usize = 1 << 16;

/// No table goes through these points.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
#[error("no curve goes through these points: two or more are needed, their inputs rising")]
pub struct CurveError;

/// The table of the monotone cubic through points (a wanted tone, what is sent for it): entry v is what is sent for the tone v/65535. Inverted
/// it is 65,535 less that: no ink where much light shall pass.
///
/// # Errors
/// [`CurveError`] for points that are no curve.
pub fn table(points: &[(ToneInput, ToneInput)], invert: bool) -> Result<Vec<u16>, CurveError> {
    let (x, y): (Vec<f64>, Vec<f64>) = points.iter().map(|own| (own.0.to_part(), own.1.to_part())).unzip();
    let curve = Pchip::through(&x, &y).map_err(|_| CurveError)?;
    let most = (CODES - 1) as f64;
    let mut last = 0;
    let entries = (0..CODES).map(|code| {
        let sent = curve.at(code as f64 / most).ok_or(CurveError)?;
        // Rounding may undo the order by the last digit.
        last = libm::round(sent.clamp(ToneInput::LEAST, ToneInput::MOST) * most).max(f64::from(last)) as u16;
        Ok(if invert { u16::MAX - last } else { last })
    });
    entries.collect()
}
