//! Spans of time as the darkroom writes them: `4:00`, `4min30s`, `90s`.

use alloc::format;
use alloc::string::String;

use super::bounds::{self, Bounded};
use super::{Digits, OutOfBounds, ReadError, Readable, read_digits};

/// A length of time, exact in milliseconds.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Span(u64);

impl Span {
    /// No time at all.
    pub const ZERO: Self = Self(0);
    /// Thirty days.
    pub const LONGEST: Self = Self(2_592_000_000);

    /// From whole milliseconds.
    ///
    /// # Errors
    /// [`OutOfBounds`] over 30 days.
    pub fn milliseconds(value: u64) -> Result<Self, OutOfBounds> {
        bounds::check::<Self>(value as f64 / 1000.0)?;
        Ok(Self(value))
    }

    /// In whole milliseconds.
    #[must_use]
    pub fn to_milliseconds(self) -> u64 {
        self.0
    }

    /// From seconds, rounded to whole milliseconds.
    ///
    /// # Errors
    /// [`OutOfBounds`] below zero or over 30 days.
    pub fn seconds(value: f64) -> Result<Self, OutOfBounds> {
        let value = bounds::check::<Self>(value)?;
        Ok(Self(libm::round(value * 1000.0) as u64))
    }

    /// In seconds.
    #[must_use]
    pub fn to_seconds(self) -> f64 {
        self.0 as f64 / 1000.0
    }

    /// As minutes and seconds, `4:00`; from one hour on `1:02:30`.
    #[must_use]
    pub fn clock(self) -> String {
        let seconds = (self.0 + 500) / 1000;
        let (hours, minutes, seconds) = (seconds / 3600, seconds / 60 % 60, seconds % 60);
        if hours == 0 { format!("{minutes}:{seconds:02}") } else { format!("{hours}:{minutes:02}:{seconds:02}") }
    }
}

impl Bounded for Span {
    const NAME: &'static str = "time";
    const UNIT: &'static str = "s";
    const LEAST: f64 = 0.0;
    const MOST: f64 = 2_592_000.0;

    fn from_unit(value: f64) -> Result<Self, OutOfBounds> {
        Self::seconds(value)
    }

    fn in_unit(self) -> f64 {
        self.to_seconds()
    }
}

impl Readable for Span {
    const WHAT: &'static str = "time";
    const FORMS: &'static str = "`4:00`, `4min30s` or `90s`";

    fn read(text: &str) -> Result<Self, ReadError> {
        let trimmed = text.trim();
        if trimmed.contains(':') { read_clock(trimmed) } else { read_units(trimmed) }
    }
}

/// `4:00`, `1:02:30`: every field after the first has two digits and stays under 60.
fn read_clock(text: &str) -> Result<Span, ReadError> {
    let malformed = || ReadError::TimeMalformed { text: text.into() };
    let mut fields = text.split(':');
    let first = fields.next().ok_or_else(malformed)?;
    if first.is_empty() || first.len() > 4 || !first.bytes().all(|b| b.is_ascii_digit()) {
        return Err(malformed());
    }
    let mut seconds: u64 = first.parse().map_err(|_| malformed())?;
    let mut followers = 0;
    for field in fields {
        if field.len() != 2 || !field.bytes().all(|b| b.is_ascii_digit()) {
            return Err(malformed());
        }
        let value: u64 = field.parse().map_err(|_| malformed())?;
        if value > 59 {
            return Err(ReadError::TimeFieldOver59 { text: text.into(), field: value });
        }
        seconds = seconds * 60 + value;
        followers += 1;
    }
    if followers > 2 {
        return Err(malformed());
    }
    Ok(Span::seconds(seconds as f64)?)
}

/// `90s`, `4min30s`, `1h 30min`: units descend and each stands once.
fn read_units(text: &str) -> Result<Span, ReadError> {
    const UNITS: [(&str, f64); 3] = [("h", 3600.0), ("min", 60.0), ("s", 1.0)];
    if text.is_empty() {
        return Err(ReadError::Empty { what: Span::WHAT, forms: Span::FORMS });
    }
    let (mut rest, mut seconds, mut next) = (text, 0.0, 0);
    while !rest.is_empty() {
        let (digits, after): (Digits, &str) = read_digits(Span::WHAT, Span::FORMS, rest)?;
        let name_end = after.find(|c: char| !c.is_ascii_alphabetic()).unwrap_or(after.len());
        // OK because `name_end` is where `find` saw a character begin, or the end.
        let (name, after) = after.split_at(name_end);
        if name.is_empty() {
            return Err(ReadError::UnitMissing { what: Span::WHAT, text: text.into(), forms: Span::FORMS });
        }
        let place = UNITS.iter().position(|(unit, _)| *unit == name).ok_or_else(|| ReadError::UnitUnknown {
            what: Span::WHAT,
            unit: name.into(),
            forms: Span::FORMS,
        })?;
        if place < next {
            return Err(ReadError::TimeMalformed { text: text.into() });
        }
        if digits.is_negative() {
            return Err(ReadError::Negative { what: Span::WHAT, text: text.into() });
        }
        // OK because `place` came from `position` over the same table.
        seconds += digits.to_f64() * UNITS[place].1;
        next = place + 1;
        rest = after.trim_start();
    }
    Ok(Span::seconds(seconds)?)
}
