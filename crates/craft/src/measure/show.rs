//! Showing numbers: to the balance at the bench, to the uncertainty at the desk.
//!
//! Where a number decides something it is shown as value ± expanded uncertainty (k = 2), the
//! uncertainty rounded by the rule of the Particle Data Group (*Review of Particle Physics*, Phys. Rev. D
//! 98 (2018) 030001, Introduction 5.3: three leading digits 100-354 keep two, 355-949 keep one, 950-999
//! become 1000 and keep two), which stays inside GUM 7.2.6 ("at most two significant digits"); the value
//! is then rounded to the same decimal place.

use alloc::format;
use alloc::string::String;

use super::{Bounded, Mass, Uncertain};

/// A value and its expanded uncertainty, rounded to belong together.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Shown {
    /// The value.
    pub value: String,
    /// Expanded uncertainty (k = 2), to the same place.
    pub expanded: String,
}

impl core::fmt::Display for Shown {
    fn fmt(&self, f: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
        write!(f, "{} ± {}", self.value, self.expanded)
    }
}

/// Rounds a quantity to its expanded uncertainty; a quantity known exactly is shown to 12 digits.
#[must_use]
pub fn with_uncertainty<Q: Bounded>(quantity: &Uncertain<Q>) -> Shown {
    let (value, expanded) = (quantity.best.in_unit(), quantity.expanded());
    if expanded <= 0.0 || !expanded.is_finite() {
        return Shown { value: significant(value, 12), expanded: String::from("0") };
    }
    let place = libm::floor(libm::log10(expanded)) as i32;
    let leading = expanded / libm::pow(10.0, f64::from(place)) * 100.0;
    // The decimal place of the last kept digit, as a power of ten.
    // 950-999 become 1000 of one place more and keep two digits: the same last place as one digit here.
    let last = if leading < 354.5 { place - 1 } else { place };
    let decimals = usize::try_from(-last).unwrap_or(0);
    if last >= 0 {
        let step = libm::pow(10.0, f64::from(last));
        let to_step = |x: f64| format!("{:.0}", libm::round(x / step) * step);
        return Shown { value: to_step(value), expanded: to_step(expanded) };
    }
    Shown { value: fixed(value, decimals), expanded: fixed(expanded, decimals) }
}

/// A number with a fixed count of decimals, halves away from zero, never `-0`.
#[must_use]
pub fn fixed(value: f64, decimals: usize) -> String {
    // 2.675 is stored a hair below itself; a nudge far under any displayed digit lets written halves round up.
    let nudged = value + value * 4.0 * f64::EPSILON;
    let text = format!("{nudged:.decimals$}");
    match text.strip_prefix('-') {
        Some(digits) if digits.bytes().all(|b| matches!(b, b'0' | b'.')) => digits.into(),
        _ => text,
    }
}

/// A number to `digits` significant digits, without trailing zeros behind the decimal point.
#[must_use]
pub fn significant(value: f64, digits: usize) -> String {
    if value == 0.0 || !value.is_finite() {
        return format!("{value}");
    }
    let text = self::digits(value, digits);
    if text.contains('.') { text.trim_end_matches('0').trim_end_matches('.').into() } else { text }
}

/// A number to `digits` significant digits, zeros kept: for columns.
#[must_use]
pub fn digits(value: f64, digits: usize) -> String {
    if value == 0.0 || !value.is_finite() {
        return format!("{value}");
    }
    let place = libm::floor(libm::log10(value.abs())) as i32;
    match usize::try_from(digits as i32 - 1 - place) {
        Ok(decimals) => fixed(value, decimals),
        Err(_) => {
            let step = libm::pow(10.0, f64::from(place + 1 - digits as i32));
            format!("{:.0}", libm::round(value / step) * step)
        }
    }
}

/// A ratio in percent to two significant digits: `3.5 %`.
#[must_use]
pub fn percent(ratio: f64) -> String {
    format!("{} %", significant(ratio * 100.0, 2))
}

/// How many decimals of a gram a balance with this step shows; at most six.
#[must_use]
pub fn decimals_of_step(step: Mass) -> usize {
    let mut micrograms = step.to_micrograms();
    let mut decimals = 6;
    while decimals > 0 && micrograms != 0 && micrograms % 10 == 0 {
        micrograms /= 10;
        decimals -= 1;
    }
    if step.is_zero() { 6 } else { decimals }
}
