//! What a fit leaves for the next one of the same set-up.

use alloc::vec::Vec;

use nalgebra::{DMatrix, DVector};

use super::family::{Curve, Family, UNKNOWNS};

/// The state of a fit: its unknowns and how well they are known together. It is written beside a response and read back as it is.
#[derive(Clone, Debug, PartialEq)]
pub struct Memory {
    values: Vec<f64>,
    /// Lower triangle of the covariance, row by row.
    covariance: Vec<f64>,
}

impl Memory {
    /// From what [`Memory::values`] and [`Memory::covariance`] gave; none for other counts and numbers that are not finite.
    #[must_use]
    pub fn new(values: Vec<f64>, covariance: Vec<f64>) -> Option<Self> {
        let counted = values.len() == UNKNOWNS && covariance.len() == UNKNOWNS * (UNKNOWNS + 1) / 2;
        let sound = values.iter().chain(&covariance).all(|own| own.is_finite());
        (counted && sound).then_some(Self { values, covariance })
    }

    pub(super) fn of(values: &DVector<f64>, covariance: &DMatrix<f64>) -> Self {
        let lower = (0..UNKNOWNS).flat_map(|row| (0..=row).map(move |column| (row, column)));
        Self { values: values.iter().copied().collect(), covariance: lower.map(|own| covariance[own]).collect() }
    }

    /// The covariance as it is worked with.
    pub(super) fn matrix(&self) -> DMatrix<f64> {
        DMatrix::from_fn(UNKNOWNS, UNKNOWNS, |row, column| {
            let (long, short) = (row.max(column), row.min(column));
            self.covariance.get(long * (long + 1) / 2 + short).copied().unwrap_or(0.0)
        })
    }

    /// The curve it remembers, and how each unknown moves it.
    pub(super) fn curve(&self) -> Curve {
        Family::new().curve(&DVector::from_column_slice(&self.values))
    }

    /// The covariance between the rows of its response.
    pub(super) fn rows(&self) -> DMatrix<f64> {
        let slopes = self.curve().slopes;
        &slopes * self.matrix() * slopes.transpose()
    }

    /// The unknowns.
    #[must_use]
    pub fn values(&self) -> &[f64] {
        &self.values
    }

    /// Lower triangle of their covariance, row by row.
    #[must_use]
    pub fn covariance(&self) -> &[f64] {
        &self.covariance
    }
}

/// What became of an earlier fit.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum PriorUse {
    /// There was none.
    None,
    /// The readings agree with it as far as such set-ups drift; it was used.
    Used,
    /// The readings contradict it; it was left aside.
    Contradicted,
}
