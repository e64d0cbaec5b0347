//! A quantity together with its standard uncertainty.

use super::Bounded;

/// Coverage factor of every "±" that is shown: the interval holds about 95 % (GUM 6.3.3).
pub const COVERAGE: f64 = 2.0;

/// A best estimate and its standard uncertainty (k = 1) in the same unit.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Uncertain<Q> {
    /// The best estimate.
    pub best: Q,
    standard: f64,
}

impl<Q: Bounded> Uncertain<Q> {
    /// Joins an estimate to a standard uncertainty given in the quantity's own unit.
    #[must_use]
    pub fn new(best: Q, standard: f64) -> Self {
        Self { best, standard: standard.abs() }
    }

    /// Standard uncertainty (k = 1) in the quantity's unit.
    #[must_use]
    pub fn standard(&self) -> f64 {
        self.standard
    }

    /// Expanded uncertainty (k = 2) in the quantity's unit.
    #[must_use]
    pub fn expanded(&self) -> f64 {
        COVERAGE * self.standard
    }

    /// Standard uncertainty as a part of the value; none where the value is zero.
    #[must_use]
    pub fn relative(&self) -> Option<f64> {
        let value = self.best.in_unit();
        (value != 0.0).then(|| self.standard / value.abs())
    }
}
