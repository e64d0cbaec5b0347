//! The day a paper carries. Which day it is today only a door can know; how a day is written is read here.

use handcoat_craft::measure::shortened;
use jiff::civil::Date;

use crate::{Question, Refusal, Remedy};

/// A day of the calendar, from year 1 on.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Day(Date);

impl Day {
    /// A date as a calendar gives it.
    #[must_use]
    pub fn of(date: Date) -> Self {
        Self(date)
    }

    /// Reads year, month and day, as `2026-03-14`.
    ///
    /// # Errors
    /// [`Refusal`] with code `day_unreadable` for anything that is no day of the calendar from year 1 on.
    pub fn read(text: &str) -> Result<Self, Refusal> {
        let date = text.trim().parse::<Date>().ok().filter(|date| date.year() > 0);
        date.map(Self).ok_or_else(|| {
            let cause = format!("`{}` is no day; expected year, month and day as `2026-03-14`", shortened(text.trim()));
            let remedies = vec![Remedy::Write(Question::Date, "2026-03-14".into())];
            Refusal::unreadable("day_unreadable", Question::Date, cause, remedies)
        })
    }

    /// The day of an instant, in UTC.
    #[must_use]
    pub fn of_instant(at: jiff::Timestamp) -> Self {
        Self(jiff::tz::Offset::UTC.to_datetime(at).date())
    }

    /// How many days it is after another; less than nothing when it is before.
    pub(crate) fn days_since(self, other: Self) -> i64 {
        self.0.since(other.0).map_or(0, |span| i64::from(span.get_days()))
    }

    /// Year, month and day as a sheet wants them.
    pub(crate) fn numbers(self) -> (i32, u8, u8) {
        // Months and days are small and positive; `unsigned_abs` only changes their type.
        (i32::from(self.0.year()), self.0.month().unsigned_abs(), self.0.day().unsigned_abs())
    }
}

impl std::fmt::Display for Day {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        self.0.fmt(f)
    }
}
