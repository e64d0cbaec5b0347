//! Curve, drift and noise as normal numbers around the best curve.

use alloc::vec;
use alloc::vec::Vec;

use nalgebra::{DMatrix, DVector};

use super::family::{Curve, Family, SIGMOID, UNKNOWNS, Unknowns};
use super::response::RESPONSE_ROWS;
use super::{Memory, PatchReading};
use crate::source::{
    CONTRAST_DRIFT, CURVES_EXPECTED, DRIFTS, Expected, FACTOR_DRIFT, FACTOR_EXPECTED, FIELD_EXPECTED,
    FIELD_LENGTH_EXPECTED, NOISE_EXPECTED, NOISE_LEAST, OUTLIER_SIZE, SHEET_SHARED,
};

/// What is not known beforehand but how large it is.
#[derive(Clone, Copy, Debug)]
pub(super) struct Sizes {
    /// Noise of a reading, L*.
    pub(super) noise: f64,
    /// Drift of the coat, L*.
    pub(super) field: f64,
    /// Its length, as a part of the sheet.
    pub(super) length: f64,
    /// Standard deviation of the factor's logarithm.
    pub(super) factor: f64,
}

impl Sizes {
    pub(super) fn expected() -> [Expected; 4] {
        [NOISE_EXPECTED.value, FIELD_EXPECTED.value, FIELD_LENGTH_EXPECTED.value, FACTOR_EXPECTED.value]
    }

    pub(super) fn of(logs: &[f64]) -> Self {
        let own = |k: usize| libm::exp(logs.get(k).copied().unwrap_or(0.0));
        Self { noise: own(0), field: own(1), length: own(2), factor: own(3) }
    }
}

/// Readings and what is thought about them.
#[derive(Clone)]
pub(super) struct Model {
    pub(super) family: Family,
    /// Row of the response below each input, and how far on to the next.
    pub(super) rows: Vec<(usize, f64)>,
    pub(super) y: DVector<f64>,
    /// Variance of each reading that is known apart.
    pub(super) own_variance: Vec<f64>,
    /// Squared distances as parts of the extent, and the extent in mm; none without places.
    pub(super) places: Option<(DMatrix<f64>, f64)>,
    pub(super) mean: Unknowns,
    /// Covariance of the earlier fit with what drifts since; none without one.
    pub(super) earlier: Option<DMatrix<f64>>,
    pub(super) best: Unknowns,
    pub(super) logs: Vec<f64>,
    pub(super) aside: Vec<bool>,
    pub(super) evidence: f64,
    /// Covariance of the unknowns after the readings.
    pub(super) after: DMatrix<f64>,
}

/// A model straightened around its best curve.
pub(super) struct Straight {
    pub(super) slopes: DMatrix<f64>,
    /// Readings less what the mean of the unknowns would give.
    pub(super) off: DVector<f64>,
}

impl Model {
    pub(super) fn new(readings: &[PatchReading], earlier: Option<&Memory>) -> Self {
        let family = Family::new();
        let rows = readings.iter().map(|own| {
            let along = own.input.to_part() * (RESPONSE_ROWS - 1) as f64;
            let row = (along as usize).min(RESPONSE_ROWS - 2);
            (row, along - row as f64)
        });
        let y = DVector::from_iterator(readings.len(), readings.iter().map(|own| own.lightness.to_l_star()));
        let own_variance = readings.iter().map(|own| own.spread.map_or(0.0, |own| own.to_l_star() * own.to_l_star()));
        let mut mean = DVector::zeros(UNKNOWNS);
        for (own, expected) in mean.iter_mut().zip(CURVES_EXPECTED.value) {
            *own = expected.middle;
        }
        let drifted = earlier.map(|own| {
            mean = DVector::from_column_slice(own.values());
            drifted(own, &family)
        });
        let logs = Sizes::expected().iter().map(|own| own.middle).collect();
        Self {
            rows: rows.collect(),
            own_variance: own_variance.collect(),
            places: places(readings),
            aside: vec![false; readings.len()],
            best: mean.clone(),
            earlier: drifted,
            evidence: f64::NEG_INFINITY,
            after: DMatrix::zeros(UNKNOWNS, UNKNOWNS),
            family,
            mean,
            y,
            logs,
        }
    }

    pub(super) fn sizes(&self) -> Sizes {
        Sizes::of(&self.logs)
    }

    pub(super) fn evidence(&self) -> f64 {
        self.evidence
    }

    pub(super) fn extent_mm(&self) -> Option<f64> {
        self.places.as_ref().map(|own| own.1)
    }

    pub(super) fn outliers(&self) -> Vec<usize> {
        self.aside.iter().enumerate().filter(|own| *own.1).map(|own| own.0).collect()
    }

    pub(super) fn curve(&self) -> Curve {
        self.family.curve(&self.best)
    }

    /// The covariance of the unknowns before the readings.
    pub(super) fn before(&self, factor: f64) -> DMatrix<f64> {
        if let Some(own) = &self.earlier {
            return own.clone();
        }
        let expected = CURVES_EXPECTED.value.into_iter().map(|own| own.spread * own.spread);
        let factor = self.family.sizes.iter().map(|own| own * own * factor * factor);
        DMatrix::from_diagonal(&DVector::from_iterator(UNKNOWNS, expected.chain(factor)))
    }

    /// The covariance of drift between readings. Where nobody knows the places, two patches share what any two places on a sheet share; where
    /// only some are known, the drift of the others is their own.
    pub(super) fn drift(&self, sizes: Sizes) -> DMatrix<f64> {
        let (count, variance) = (self.y.len(), sizes.field * sizes.field);
        let Some((squares, _)) = &self.places else {
            let shared = variance * SHEET_SHARED.value;
            return DMatrix::from_fn(count, count, |i, j| if i == j { variance } else { shared });
        };
        let by = -0.5 / (sizes.length * sizes.length);
        squares.map(|own| variance * libm::exp(by * own))
    }

    /// The covariance of readings around the curve.
    pub(super) fn around(&self, sizes: Sizes) -> DMatrix<f64> {
        let mut around = self.drift(sizes);
        for (k, (own, aside)) in self.own_variance.iter().zip(&self.aside).enumerate() {
            let wild = if *aside { OUTLIER_SIZE.value * OUTLIER_SIZE.value } else { 0.0 };
            around[(k, k)] += sizes.noise * sizes.noise + squared(NOISE_LEAST.value) + own + wild;
        }
        around
    }

    pub(super) fn at_readings(&self, lightness: &[f64]) -> DVector<f64> {
        let between = |&(row, part): &(usize, f64)| match lightness.get(row..) {
            Some([here, next, ..]) => here + part * (next - here),
            _ => 0.0,
        };
        DVector::from_iterator(self.rows.len(), self.rows.iter().map(between))
    }

    pub(super) fn slopes_at_readings(&self, slopes: &DMatrix<f64>) -> DMatrix<f64> {
        DMatrix::from_fn(self.rows.len(), UNKNOWNS, |k, unknown| {
            self.rows.get(k).map_or(0.0, |&(row, part)| {
                slopes[(row, unknown)] + part * (slopes[(row + 1, unknown)] - slopes[(row, unknown)])
            })
        })
    }

    pub(super) fn straight(&self) -> Straight {
        let curve = self.curve();
        let slopes = self.slopes_at_readings(&curve.slopes);
        let off = &self.y - self.at_readings(&curve.lightness) + &slopes * (&self.best - &self.mean);
        Straight { slopes, off }
    }

    pub(super) fn whole(&self, straight: &Straight, sizes: Sizes) -> DMatrix<f64> {
        &straight.slopes * self.before(sizes.factor) * straight.slopes.transpose() + self.around(sizes)
    }
}

/// The covariance of an earlier fit's unknowns on another day: what it knew, and what drifts from day to day.
pub(super) fn drifted(earlier: &Memory, family: &Family) -> DMatrix<f64> {
    let mut covariance = earlier.matrix();
    for (unknown, drift) in DRIFTS.value.iter().enumerate() {
        covariance[(unknown, unknown)] += drift * drift;
    }
    for (wave, size) in family.sizes.iter().enumerate() {
        covariance[(SIGMOID + wave, SIGMOID + wave)] += squared(FACTOR_DRIFT.value * size);
    }
    // A change of contrast moves black and white away from the middle together.
    for (a, b) in [(3, 3), (3, 4), (4, 3), (4, 4)] {
        covariance[(a, b)] += squared(CONTRAST_DRIFT.value);
    }
    covariance
}

pub(super) fn squared(own: f64) -> f64 {
    own * own
}

/// Squared distances between patches as parts of the chart's extent, and that extent; without end to a patch whose place nobody knows. None
/// when fewer than two places are known, or all are one.
fn places(readings: &[PatchReading]) -> Option<(DMatrix<f64>, f64)> {
    let places: Vec<Option<(f64, f64)>> = readings
        .iter()
        .map(|own| own.place.map(|own| (own.across.to_millimetres(), own.down.to_millimetres())))
        .collect();
    let span = |of: fn(&(f64, f64)) -> f64| {
        let known = || places.iter().flatten().map(of);
        known().fold(f64::NEG_INFINITY, f64::max) - known().fold(f64::INFINITY, f64::min)
    };
    let extent = span(|own| own.0).max(span(|own| own.1));
    let squares = |i: usize, j: usize| match (places.get(i), places.get(j)) {
        (Some(Some(a)), Some(Some(b))) => (squared(a.0 - b.0) + squared(a.1 - b.1)) / squared(extent),
        _ if i == j => 0.0,
        _ => f64::INFINITY,
    };
    (extent > 0.0).then(|| (DMatrix::from_fn(places.len(), places.len(), squares), extent))
}
