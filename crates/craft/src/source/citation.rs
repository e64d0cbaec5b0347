//! Where a value comes from, and how far that was checked.

use core::fmt;

/// How well a value is anchored in its source.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Status {
    /// Read in the named work.
    Seen,
    /// Read in a second work that quotes the named one.
    SeenSecondHand,
    /// Recalled; the named work was not opened.
    Memory,
    /// Follows from other values by arithmetic.
    Computed,
    /// Usual among workers; no publication settles it.
    CommonPractice,
}

impl fmt::Display for Status {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::Seen => "seen",
            Self::SeenSecondHand => "seen second-hand",
            Self::Memory => "from memory",
            Self::Computed => "computed",
            Self::CommonPractice => "common practice, no source",
        })
    }
}

/// A place in a work listed in `SOURCES.bib`.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Citation {
    /// Key of the work in `SOURCES.bib`; empty only for common practice.
    pub key: &'static str,
    /// Table, section or page in it.
    pub place: &'static str,
    /// How far it was checked.
    pub status: Status,
}

impl Citation {
    /// A place that was read.
    #[must_use]
    pub const fn seen(key: &'static str, place: &'static str) -> Self {
        Self { key, place, status: Status::Seen }
    }

    /// A place read in another work's quotation.
    #[must_use]
    pub const fn second_hand(key: &'static str, place: &'static str) -> Self {
        Self { key, place, status: Status::SeenSecondHand }
    }

    /// A place that was not opened.
    #[must_use]
    pub const fn memory(key: &'static str, place: &'static str) -> Self {
        Self { key, place, status: Status::Memory }
    }

    /// What workers usually do; `what` says it in a few words.
    #[must_use]
    pub const fn practice(what: &'static str) -> Self {
        Self { key: "", place: what, status: Status::CommonPractice }
    }
}

impl fmt::Display for Citation {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if self.key.is_empty() {
            write!(f, "{}", self.status)
        } else {
            write!(f, "{}, {} ({})", self.key, self.place, self.status)
        }
    }
}

/// One value and its source.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Fact<T> {
    /// The value.
    pub value: T,
    /// Its source.
    pub cite: Citation,
}
