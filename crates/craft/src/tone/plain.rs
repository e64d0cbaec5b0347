//! The plain alternative: a monotone smoothing spline through the readings, whose places on the sheet are not asked.
//!
//! It knows nothing of paper. What it gives is there to be compared with: where both agree, the readings say so; where they differ by more
//! than their ±, the readings alone do not tell.

use alloc::vec::Vec;

use super::response::RESPONSE_ROWS;
use super::{PatchReading, Response, ToneError};
use crate::measure::{Bounded, Lightness};
use crate::numerics::{Direction, MonotoneSpline};

/// Fits a monotone spline. The standard uncertainty is that of a reading spread over the freedom the curve takes: the same at all tones.
///
/// # Errors
/// [`ToneError`] for too few inputs and readings without tones.
pub fn plain(readings: &[PatchReading]) -> Result<Response, ToneError> {
    super::checked(readings)?;
    let x: Vec<f64> = readings.iter().map(|own| own.input.to_part()).collect();
    let y: Vec<f64> = readings.iter().map(|own| own.lightness.to_l_star()).collect();
    let spline = MonotoneSpline::fit(&x, &y, None, Direction::Up).ok_or(ToneError::NoFit)?;
    let standard = spline.deviation * libm::sqrt((spline.freedom / readings.len() as f64).min(1.0));
    let mut last = Lightness::LEAST;
    let lightness = (0..RESPONSE_ROWS).map(|row| {
        // The spline never falls; rounding may, by the last digit.
        last = spline.at(Response::input_of(row)).clamp(Lightness::LEAST, Lightness::MOST).max(last);
        last
    });
    Response::new(lightness.collect(), alloc::vec![standard; RESPONSE_ROWS]).ok_or(ToneError::NoFit)
}
