//! Drops, counted whole, and how many of them one dropper gives to the millilitre.

use super::bounds::quantity;
use super::{Bounded, OutOfBounds};

/// Whole drops.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct DropCount(u32);

impl DropCount {
    /// From a whole count.
    ///
    /// # Errors
    /// [`OutOfBounds`] above 100 000 drops.
    pub fn drops(count: u32) -> Result<Self, OutOfBounds> {
        Self::from_unit(f64::from(count))
    }

    /// The count.
    #[must_use]
    pub fn to_drops(self) -> u32 {
        self.0
    }
}

impl Bounded for DropCount {
    const NAME: &'static str = "count of drops";
    const UNIT: &'static str = "drops";
    const LEAST: f64 = 0.0;
    const MOST: f64 = 100_000.0;

    fn from_unit(value: f64) -> Result<Self, OutOfBounds> {
        super::bounds::check::<Self>(value).map(|count| Self(libm::round(count) as u32))
    }

    fn in_unit(self) -> f64 {
        f64::from(self.0)
    }
}

quantity!(
    /// Drops to the millilitre of one dropper with one solution.
    DropsPerMillilitre, "drops per millilitre", "drops/mL", per_millilitre / to_per_millilitre, 1.0 ..= 200.0
);
