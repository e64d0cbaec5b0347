//! Decimal numbers as people write them.
//!
//! One mark, point or comma, is always the decimal mark; digits are never grouped. `1,500 g` is one and
//! a half grams; `1.500,0` and `1 500` are refused. Why not refuse `1,500` too: balances that read
//! milligrams print exactly that, and every answer shows the value it was read as.

use alloc::format;
use core::str::FromStr;

use rust_decimal::Decimal;

use super::{ReadError, Unit, shortened};

/// More digits than this are a paste gone wrong, not a measurement.
const MOST_DIGITS: usize = 18;

/// A decimal number, exactly as written.
#[derive(Clone, Debug, PartialEq)]
pub struct Digits {
    exact: Decimal,
    nearest: f64,
}

impl Digits {
    /// Whether it carries a minus sign and is not zero.
    #[must_use]
    pub fn is_negative(&self) -> bool {
        self.exact < Decimal::ZERO
    }

    /// The nearest binary number.
    #[must_use]
    pub fn to_f64(&self) -> f64 {
        self.nearest
    }

    /// How many decimals were written.
    #[must_use]
    pub fn decimals(&self) -> u32 {
        self.exact.scale()
    }

    /// The number times ten to the `power`, when that is a whole number.
    #[must_use]
    pub fn to_whole(&self, power: i32) -> Option<i64> {
        let factor = Decimal::from(10_i64.checked_pow(power.unsigned_abs())?);
        let scaled = if power >= 0 { self.exact.checked_mul(factor)? } else { self.exact.checked_div(factor)? };
        scaled.fract().is_zero().then(|| i64::try_from(scaled).ok()).flatten()
    }

    /// The number times ten to the `power`, to the nearest binary number.
    #[must_use]
    pub fn scaled(&self, power: i32) -> f64 {
        // Division by an exact power of ten keeps the last bit that a product with 0.001 would lose.
        let factor = libm::pow(10.0, f64::from(power.unsigned_abs()));
        if power >= 0 { self.nearest * factor } else { self.nearest / factor }
    }

    /// The number, written with this unit, in the reference unit of its kind.
    #[must_use]
    pub fn in_unit(&self, unit: Unit) -> f64 {
        let times = Self { exact: self.exact, nearest: self.nearest * f64::from(unit.times) };
        times.scaled(unit.power)
    }
}

/// Reads a decimal number off the front of `text`; returns it with what follows.
///
/// # Errors
/// [`ReadError`] naming `what` was being read and the accepted `forms`.
pub fn read_digits<'t>(what: &'static str, forms: &'static str, text: &'t str) -> Result<(Digits, &'t str), ReadError> {
    let trimmed = text.trim();
    if trimmed.is_empty() {
        return Err(ReadError::Empty { what, forms });
    }
    let (negative, unsigned) = match trimmed.strip_prefix(['-', '\u{2212}']) {
        Some(rest) => (true, rest.trim_start()),
        None => (false, trimmed.strip_prefix('+').unwrap_or(trimmed)),
    };
    let end = unsigned.find(|c: char| !(c.is_ascii_digit() || c == '.' || c == ',')).unwrap_or(unsigned.len());
    // OK because `end` is where `find` saw a character begin, or the end.
    let (number, rest) = unsigned.split_at(end);
    let owned = || shortened(trimmed);
    let too_long = || ReadError::NumberTooLong { what, text: owned(), most: MOST_DIGITS };
    if !number.bytes().any(|b| b.is_ascii_digit()) {
        return Err(ReadError::NumberMissing { what, text: owned(), forms });
    }
    if number.bytes().filter(|b| matches!(b, b'.' | b',')).count() > 1 {
        return Err(ReadError::NumberTwoMarks { what, text: owned() });
    }
    if number.ends_with(['.', ',']) {
        return Err(ReadError::NumberUnfinished { what, text: owned() });
    }
    let after = rest.trim_start();
    let grouped = after.starts_with(|c: char| c.is_ascii_digit()) || rest.starts_with(['\'', '_', '’']);
    if grouped {
        return Err(ReadError::NumberGrouped { what, text: owned() });
    }
    if number.bytes().filter(u8::is_ascii_digit).count() > MOST_DIGITS {
        return Err(too_long());
    }
    let sign = if negative { "-" } else { "" };
    let written = format!("{sign}0{}", number.replace(',', "."));
    let exact = Decimal::from_str(&written).map_err(|_| too_long())?;
    let nearest = f64::from_str(&written).map_err(|_| too_long())?;
    Ok((Digits { exact, nearest }, after))
}
