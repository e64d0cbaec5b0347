//! Whether a response still holds: what of its set-up has changed since, and how long it is ago.

use alloc::vec::Vec;
use core::fmt;

use crate::expose::{has_aged, lamp_has_aged};
use crate::measure::{fixed, significant};

/// A part of a set-up.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum SetupPart {
    /// The lot of paper.
    Paper,
    /// The coat: metals, iron, contrast agent.
    Coat,
    /// The lamp.
    Lamp,
    /// The developer.
    Developer,
    /// The film the negative is on.
    Film,
    /// The printer.
    Printer,
    /// How its driver is set.
    Driver,
    /// The ink.
    Ink,
}

impl SetupPart {
    /// All of them.
    pub const ALL: [Self; 8] =
        [Self::Paper, Self::Coat, Self::Lamp, Self::Developer, Self::Film, Self::Printer, Self::Driver, Self::Ink];

    /// In a sentence.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::Paper => "the paper",
            Self::Coat => "the coat",
            Self::Lamp => "the lamp",
            Self::Developer => "the developer",
            Self::Film => "the film",
            Self::Printer => "the printer",
            Self::Driver => "the settings of the driver",
            Self::Ink => "the ink",
        }
    }
}

/// What has happened since a response was read. What nobody knows is left out, and nothing follows from it.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Since {
    /// What is not the same any more.
    pub changed: Vec<SetupPart>,
    /// Hours the lamp has burned since.
    pub lamp_hours: Option<f64>,
    /// Days since.
    pub days: Option<i64>,
    /// A print through its correction was read.
    pub verified: bool,
    /// That print was off by so much beside the noise, L*, where it was off by more than noise makes.
    pub failed: Option<f64>,
}

/// Why a response is doubted.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Doubt {
    /// A part of the set-up is another one: it is a response of something that is not there any more.
    Changed(SetupPart),
    /// The lamp is older by so many hours.
    LampOlder(f64),
    /// It was read so many days ago.
    Old(i64),
    /// A print through it was off by so much, L*.
    Failed(f64),
    /// No print through it was read.
    NeverVerified,
}

/// How a response stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Standing {
    /// It holds as far as anybody knows.
    Holds,
    /// A print through its correction would tell.
    Check,
    /// It is of another set-up; read a new one, with this as what is known before.
    Stale,
}

impl Standing {
    /// Its word.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Holds => "holds",
            Self::Check => "check",
            Self::Stale => "stale",
        }
    }
}

impl Doubt {
    /// How much it weighs.
    #[must_use]
    pub fn standing(&self) -> Standing {
        match self {
            Self::Changed(_) => Standing::Stale,
            Self::LampOlder(_) | Self::Old(_) | Self::Failed(_) | Self::NeverVerified => Standing::Check,
        }
    }

    /// The stable code.
    #[must_use]
    pub fn code(&self) -> &'static str {
        match self {
            Self::Changed(_) => "setup_changed",
            Self::LampOlder(_) => "lamp_older",
            Self::Old(_) => "response_old",
            Self::Failed(_) => "check_failed",
            Self::NeverVerified => "never_verified",
        }
    }
}

impl fmt::Display for Doubt {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Changed(part) => {
                write!(f, "{} changed since: print a chart again, with this as the earlier response", part.words())
            }
            Self::LampOlder(hours) => {
                write!(
                    f,
                    "the lamp burned {} h since: check the base exposure, and print through the curve",
                    fixed(*hours, 0)
                )
            }
            Self::Old(days) => write!(f, "it was read {days} days ago: print through the curve before an edition"),
            Self::Failed(off) => write!(
                f,
                "a print through this curve was off by {} L* beside the noise: use the improved curve, or read a chart anew",
                significant(*off, 2)
            ),
            Self::NeverVerified => f.write_str("no print through this curve was read yet"),
        }
    }
}

/// All there is to doubt, the gravest first.
#[must_use]
pub fn doubts(since: &Since) -> Vec<Doubt> {
    let mut changed = since.changed.clone();
    changed.sort_unstable();
    changed.dedup();
    let mut doubts: Vec<Doubt> = changed.into_iter().map(Doubt::Changed).collect();
    doubts.extend(since.lamp_hours.filter(|own| lamp_has_aged(*own)).map(Doubt::LampOlder));
    doubts.extend(since.days.filter(|own| has_aged(*own)).map(Doubt::Old));
    doubts.extend(since.failed.map(Doubt::Failed));
    if !since.verified {
        doubts.push(Doubt::NeverVerified);
    }
    doubts
}

/// How a response stands with these doubts.
#[must_use]
pub fn standing(doubts: &[Doubt]) -> Standing {
    doubts.iter().map(Doubt::standing).max().unwrap_or(Standing::Holds)
}
