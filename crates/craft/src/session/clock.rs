//! The time on the wall at which a session begins, and the times that follow from it.

use alloc::format;
use alloc::string::String;

use crate::measure::Span;

const DAY_MINUTES: u64 = 24 * 60;

/// A time of day, to the minute.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct TimeOfDay {
    minutes: u16,
}

impl TimeOfDay {
    /// Reads hours and minutes of a clock with 24 hours, `9:30` or `14:05`.
    #[must_use]
    pub fn read(text: &str) -> Option<Self> {
        let (hours, minutes) = text.trim().split_once(':')?;
        let digits = |text: &str, least: usize| {
            let all = (least..=2).contains(&text.len()) && text.bytes().all(|byte| byte.is_ascii_digit());
            all.then(|| text.parse::<u16>().ok()).flatten()
        };
        let (hours, minutes) = (digits(hours, 1)?, digits(minutes, 2)?);
        (hours < 24 && minutes < 60).then_some(Self { minutes: hours * 60 + minutes })
    }

    /// The time so much later, as `14:05`; on a later day with how many days later, `0:40 +1 d`.
    ///
    /// ```
    /// use handcoat_craft::measure::{Readable, Span};
    /// use handcoat_craft::session::TimeOfDay;
    ///
    /// let ten = TimeOfDay::read("10:00").expect("a time");
    /// assert_eq!(ten.after(Span::read("1h 30min").expect("a span")), "11:30");
    /// assert_eq!(ten.after(Span::read("15h").expect("a span")), "1:00 +1 d");
    /// ```
    #[must_use]
    pub fn after(self, span: Span) -> String {
        let all = u64::from(self.minutes) + span.to_milliseconds() / 60_000;
        let (days, minutes) = (all / DAY_MINUTES, all % DAY_MINUTES);
        let time = format!("{}:{:02}", minutes / 60, minutes % 60);
        if days == 0 { time } else { format!("{time} +{days} d") }
    }

    /// How long after this time the clock next stands at a multiple of `step`, counted from midnight.
    #[must_use]
    pub fn to_next(self, step: Span) -> Span {
        let step = step.to_milliseconds().max(1);
        let past = u64::from(self.minutes) * 60_000 % step;
        // Shorter than the step, which is a span: it always is one.
        Span::milliseconds((step - past) % step).unwrap_or(Span::ZERO)
    }
}
