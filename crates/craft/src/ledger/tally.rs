//! The signed whole number of a line.

use core::fmt;
use core::ops::Neg;

use crate::measure::{Mass, Money, Volume};

/// How much of a commodity, in its smallest whole unit: micrograms, nanolitres or minor units of money. Plus
/// comes in, minus goes out.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Tally(i64);

impl Tally {
    /// None.
    pub const ZERO: Self = Self(0);

    /// From the whole number that stands in a book.
    #[must_use]
    pub const fn from_units(units: i64) -> Self {
        Self(units)
    }

    /// The whole number.
    #[must_use]
    pub const fn to_units(self) -> i64 {
        self.0
    }

    /// Whether it is nothing.
    #[must_use]
    pub const fn is_zero(self) -> bool {
        self.0 == 0
    }

    /// Whether more goes out than comes in.
    #[must_use]
    pub const fn is_negative(self) -> bool {
        self.0 < 0
    }

    /// The sum; none beyond what 64 bits hold.
    #[must_use]
    pub fn plus(self, other: Self) -> Option<Self> {
        self.0.checked_add(other.0).map(Self)
    }

    /// Without its sign.
    ///
    /// `i64::MIN` has no positive twin and becomes the greatest number there is.
    #[must_use]
    pub const fn size(self) -> Self {
        Self(self.0.saturating_abs())
    }

    /// As a mass; none when negative or beyond what a [`Mass`] holds.
    #[must_use]
    pub fn to_mass(self) -> Option<Mass> {
        Mass::micrograms(self.0).ok()
    }

    /// As a volume; none when negative or beyond what a [`Volume`] holds.
    #[must_use]
    pub fn to_volume(self) -> Option<Volume> {
        Volume::nanolitres(self.0).ok()
    }
}

impl From<Mass> for Tally {
    fn from(mass: Mass) -> Self {
        Self(mass.to_micrograms())
    }
}

impl From<Volume> for Tally {
    fn from(volume: Volume) -> Self {
        Self(volume.to_nanolitres())
    }
}

impl From<Money> for Tally {
    fn from(money: Money) -> Self {
        Self(money.to_minor())
    }
}

impl Neg for Tally {
    type Output = Self;

    fn neg(self) -> Self {
        Self(self.0.saturating_neg())
    }
}

impl fmt::Display for Tally {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        fmt::Display::fmt(&self.0, f)
    }
}
