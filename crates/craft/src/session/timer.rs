//! Timers that stay right when somebody puts the clock right.
//!
//! A clock on the wall can be set, moved by an hour in spring, or corrected over the net. The time since the machine
//! was started cannot; but it begins anew when the machine does. A timer remembers both.

use alloc::string::String;

use crate::measure::Span;

/// Milliseconds of the wall clock since 1970-01-01 UTC.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct WallClock(i64);

/// Milliseconds since the machine was started, sleep included.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct SinceBoot(u64);

/// The clock that only runs forward, and which start of the machine it belongs to.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct BootClock {
    /// A word that is another one after every start.
    pub boot: String,
    /// Since then.
    pub since: SinceBoot,
}

/// Both clocks at one moment. A machine that does not tell its starts apart has only the one on the wall.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Reading {
    /// The wall clock.
    pub wall: WallClock,
    /// The clock since the start of the machine.
    pub boot: Option<BootClock>,
}

/// A span that has begun.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Timer {
    /// Both clocks when it began.
    pub begun: Reading,
    /// How long it runs.
    pub span: Span,
}

/// By which clock it was judged.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Judged {
    /// Since the start of the machine: right whatever the wall clock does.
    ByBoot,
    /// By the wall clock, because the machine was started anew in between: as right as that clock.
    ByWallAfterRestart,
    /// By the wall clock, because this machine has no other.
    ByWallOnly,
}

/// What is left of a timer.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Left {
    /// How long it has run.
    pub ran: Span,
    /// How long it still runs; nothing once it is over.
    pub left: Span,
    /// How long it is over.
    pub over: Span,
    /// By which clock.
    pub judged: Judged,
}

impl WallClock {
    /// From milliseconds since 1970-01-01 UTC.
    #[must_use]
    pub fn milliseconds(value: i64) -> Self {
        Self(value)
    }

    /// In milliseconds since 1970-01-01 UTC.
    #[must_use]
    pub fn to_milliseconds(self) -> i64 {
        self.0
    }
}

impl SinceBoot {
    /// From milliseconds.
    #[must_use]
    pub fn milliseconds(value: u64) -> Self {
        Self(value)
    }

    /// In milliseconds.
    #[must_use]
    pub fn to_milliseconds(self) -> u64 {
        self.0
    }
}

impl Timer {
    /// What is left now. A clock that stands before the beginning counts as the beginning.
    #[must_use]
    pub fn left(&self, now: &Reading) -> Left {
        let wall = u64::try_from(now.wall.0.saturating_sub(self.begun.wall.0)).unwrap_or(0);
        let (ran, judged) = match (&self.begun.boot, &now.boot) {
            (Some(then), Some(now)) if then.boot == now.boot => {
                (now.since.0.saturating_sub(then.since.0), Judged::ByBoot)
            }
            (Some(_), Some(_)) => (wall, Judged::ByWallAfterRestart),
            _ => (wall, Judged::ByWallOnly),
        };
        let length = self.span.to_milliseconds();
        // Past 30 days nobody waits for it any more: shown as 30 days.
        let shown = |value: u64| Span::milliseconds(value).unwrap_or(Span::LONGEST);
        Left {
            ran: shown(ran),
            left: shown(length.saturating_sub(ran)),
            over: shown(ran.saturating_sub(length)),
            judged,
        }
    }
}
