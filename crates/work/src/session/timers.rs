//! Timers that people start: rows in the book, so that a reload, a sleep or a killed server loses none.
//!
//! They tell a time and do nothing else: no lamp is switched, held or guarded by one.

use handcoat_book::{Instant, SessionNumber, TimerNumber, TimerRow};
use handcoat_craft::measure::{Readable, Span, shortened};
use handcoat_craft::session::{BootClock, Judged, Left, Reading, SinceBoot, Timer, WallClock};
use handcoat_craft::source::TAPPED_TWICE;
use jiff::Timestamp;

use super::state::span_ms;
use crate::{Question, Refusal, RefusalKind, Remedy, Studio};

/// A running timer.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct TimerView {
    /// Its number.
    pub number: i64,
    /// The session it belongs to.
    pub session: Option<i64>,
    /// What it is called.
    pub name: String,
    /// How long it runs.
    pub span: Span,
    /// What is left of it.
    pub left: Left,
}

/// The longest name of a timer.
const MOST_NAME: usize = 140;

impl TimerView {
    fn of(row: &TimerRow, now: &Reading) -> Self {
        let boot = row.begun.boot.clone();
        let boot =
            boot.map(|(boot, ms)| BootClock { boot, since: SinceBoot::milliseconds(u64::try_from(ms).unwrap_or(0)) });
        let begun = Reading { wall: WallClock::milliseconds(row.begun.wall.as_millisecond()), boot };
        let span = span_ms(u64::try_from(row.span_ms).unwrap_or(0));
        Self {
            number: row.number.get(),
            session: row.session.map(SessionNumber::get),
            name: row.name.clone(),
            span,
            left: Timer { begun, span }.left(now),
        }
    }

    /// Whether its time is over.
    #[must_use]
    pub fn is_over(&self) -> bool {
        self.left.left == Span::ZERO
    }

    /// What is left, or how long it is over, as `3:21` and `left` or `over`. Seconds that have begun are shown whole.
    #[must_use]
    pub fn words(&self) -> (String, &'static str) {
        if self.is_over() {
            (span_ms(self.left.over.to_milliseconds() / 1000 * 1000).clock(), "over")
        } else {
            (span_ms(self.left.left.to_milliseconds().div_ceil(1000) * 1000).clock(), "left")
        }
    }

    /// What should be known of how it was judged.
    #[must_use]
    pub fn notice(&self) -> Option<&'static str> {
        match self.left.judged {
            Judged::ByBoot => None,
            Judged::ByWallAfterRestart => Some(
                "The machine was started anew meanwhile: this is by the clock on the wall, and as right as that is.",
            ),
            Judged::ByWallOnly => Some("By the clock on the wall: leave that alone while it runs."),
        }
    }
}

/// Every running timer, in the order they were begun.
///
/// # Errors
/// [`Refusal`] when the book cannot be read.
pub fn timers(studio: &Studio, now: &Reading) -> Result<Vec<TimerView>, Refusal> {
    Ok(studio.book.running_timers()?.iter().map(|row| TimerView::of(row, now)).collect())
}

/// Starts a timer.
///
/// # Errors
/// [`Refusal`] when its name or its time cannot be read, or there is no such session.
pub fn start_timer(
    studio: &mut Studio,
    now: &Reading,
    session: Option<SessionNumber>,
    name: Option<&String>,
    time: Option<&String>,
) -> Result<i64, Refusal> {
    let time = time.ok_or_else(|| Refusal::missing(Question::TimerSpan, "7min"))?;
    let span = read_span(time)?;
    let name = name.map_or("timer", |own| own.trim());
    let name = if name.is_empty() { "timer" } else { name };
    if name.chars().count() > MOST_NAME || name.chars().any(char::is_control) {
        let cause =
            format!("`{}` is no name of a timer; expected at most {MOST_NAME} characters in one line", shortened(name));
        let remedies = vec![Remedy::Write(Question::TimerName, "second bath".into())];
        return Err(Refusal::unreadable("name_unreadable", Question::TimerName, cause, remedies));
    }
    if let Some(session) = session
        && studio.book.session(session)?.is_none()
    {
        return Err(super::begin::unknown(format!("there is no session {}", session.get())));
    }
    begin_timer(studio, now, session, name, span)
}

/// At the bench a bare number is minutes.
fn read_span(text: &str) -> Result<Span, Refusal> {
    let about = Question::TimerSpan;
    let bare = !text.trim().is_empty() && text.trim().bytes().all(|own| own.is_ascii_digit());
    let written = if bare { format!("{}min", text.trim()) } else { text.into() };
    let span = Span::read(&written).map_err(|error| Refusal::quantity(about, Span::FORMS, &error))?;
    if span == Span::ZERO {
        let cause = String::from("a timer of no time is over before it begins");
        return Err(Refusal::rule("timer_of_nothing", about, cause, vec![Remedy::Write(about, "7min".into())]));
    }
    Ok(span)
}

/// The same timer begun a moment ago is this one, tapped twice.
pub(super) fn begin_timer(
    studio: &mut Studio,
    now: &Reading,
    session: Option<SessionNumber>,
    name: &str,
    span: Span,
) -> Result<i64, Refusal> {
    let own = session.map(SessionNumber::get);
    let twice = timers(studio, now)?.into_iter().find(|timer| {
        let just = timer.left.ran.to_seconds() < TAPPED_TWICE.value;
        just && timer.session == own && timer.name == name && timer.span == span
    });
    if let Some(timer) = twice {
        return Ok(timer.number);
    }
    let begun = instant(now);
    let span = i64::try_from(span.to_milliseconds()).unwrap_or(i64::MAX);
    Ok(studio.book.start_timer(session, name, span, &begun)?.get())
}

fn instant(now: &Reading) -> Instant {
    let boot = now.boot.as_ref();
    Instant {
        wall: wall(now),
        boot: boot.map(|own| (own.boot.clone(), i64::try_from(own.since.to_milliseconds()).unwrap_or(i64::MAX))),
    }
}

pub(super) fn wall(now: &Reading) -> Timestamp {
    Timestamp::from_millisecond(now.wall.to_milliseconds()).unwrap_or(Timestamp::UNIX_EPOCH)
}

/// Puts a timer away; one that is away stays so.
///
/// # Errors
/// [`Refusal`] with code `timer_unknown` when there never was one.
pub fn put_timer_away(studio: &mut Studio, now: &Reading, written: &str) -> Result<i64, Refusal> {
    let found = match written.trim().parse().map(TimerNumber::new) {
        Ok(number) => studio.book.timer(number)?,
        Err(_) => None,
    };
    let row = found.ok_or_else(|| {
        let (kind, about) = (RefusalKind::Missing, Some(Question::Timer));
        let cause = format!("there is no timer `{}`", shortened(written.trim()));
        Refusal { code: "timer_unknown", kind, about, cause, excerpt: None, remedies: vec![Remedy::ListTimers] }
    })?;
    studio.book.end_timer(row.number, wall(now))?;
    Ok(row.number.get())
}
