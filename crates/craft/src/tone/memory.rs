//! What a fit leaves for the next one of the same set-up.

use alloc::vec::Vec;

use nalgebra::{Cholesky, DMatrix, DVector};

use super::family::{Curve, Family, UNKNOWNS};
use crate::measure::{Bounded as _, Lightness};
use crate::source::MEMORY_MOST;

/// The state of a fit: its unknowns and how well they are known together. It is written beside a response and read back as it is.
#[derive(Clone, Debug, PartialEq)]
pub struct Memory {
    values: Vec<f64>,
    /// Lower triangle of the covariance, row by row.
    covariance: Vec<f64>,
}

impl Memory {
    /// From what [`Memory::values`] and [`Memory::covariance`] gave; none for other counts, numbers no fit comes to, a covariance that is
    /// none, and a curve that does not rise.
    #[must_use]
    pub fn new(values: Vec<f64>, covariance: Vec<f64>) -> Option<Self> {
        let counted = values.len() == UNKNOWNS && covariance.len() == UNKNOWNS * (UNKNOWNS + 1) / 2;
        let most = MEMORY_MOST.value;
        let sound = values.iter().all(|own| own.abs() <= most) && covariance.iter().all(|own| own.abs() <= most * most);
        (counted && sound).then_some(Self { values, covariance }).filter(|own| own.varies() && own.rises())
    }

    /// Whether the covariance is one: as correlations, because the unknowns differ in size by many powers of ten.
    fn varies(&self) -> bool {
        // What was written and read again may miss by the last digit.
        const SLACK: f64 = 1e-9;
        let own = self.matrix();
        let sizes: Vec<f64> = own.diagonal().iter().map(|own| libm::sqrt(own.max(0.0))).collect();
        let within = own.diagonal().iter().all(|own| *own > 0.0);
        let alike = DMatrix::from_fn(UNKNOWNS, UNKNOWNS, |row, column| {
            let size = sizes.get(row).zip(sizes.get(column)).map_or(1.0, |(a, b)| a * b);
            own[(row, column)] / size + if row == column { SLACK } else { 0.0 }
        });
        within && Cholesky::new(alike).is_some()
    }

    fn rises(&self) -> bool {
        let curve = self.curve();
        let light = curve.lightness.iter().all(|own| (Lightness::LEAST..=Lightness::MOST).contains(own));
        light && curve.lightness.is_sorted() && curve.slopes.iter().all(|own| own.is_finite())
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
    /// It was made from these readings; it was left aside, or they would count twice.
    Repeated,
}
