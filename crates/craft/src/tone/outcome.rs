//! What is known after the readings: the unknowns over all sizes that go with them, and what follows for the response.

use alloc::vec::Vec;

use nalgebra::{Cholesky, DMatrix, DVector, SymmetricEigen};

use super::Memory;
use super::family::{Curve, UNKNOWNS, Unknowns};
use super::gauss::{Model, Sizes, Straight};
use super::response::RESPONSE_ROWS;

/// Step for second differences of the logarithms of sizes.
const REACH: f64 = 0.1;
/// Sizes whose weight's logarithm is lower add nothing.
const NEGLIGIBLE: f64 = -7.0;

impl Model {
    /// The unknowns after the readings with given sizes, and their covariance.
    fn given(&self, straight: &Straight, sizes: Sizes) -> Option<(Unknowns, DMatrix<f64>)> {
        let whole = Cholesky::new(self.whole(straight, sizes))?;
        let before = self.before(sizes.factor);
        let seen = &before * straight.slopes.transpose();
        let mean = &self.mean + &seen * whole.solve(&straight.off);
        Some((mean, &before - &seen * whole.solve(&seen.transpose())))
    }

    /// The same over all sizes that go with the readings: three places in each of four directions, weighed by how likely they are.
    pub(super) fn integrated(&self) -> Option<(Unknowns, DMatrix<f64>)> {
        let straight = self.straight();
        let weighed = self.weighed(&straight);
        let of = |logs: &[f64]| 0.5 * self.unlikely(&straight, &weighed, logs);
        let (here, expected) = (of(&self.logs), Sizes::expected());
        let count = self.logs.len();
        let moved = |by: &[(usize, f64)]| {
            let mut logs = self.logs.clone();
            for (k, own) in by {
                if let Some(log) = logs.get_mut(*k) {
                    *log += own * REACH;
                }
            }
            of(&logs)
        };
        let bend = DMatrix::from_fn(count, count, |i, j| {
            let second = if i == j {
                moved(&[(i, 1.0)]) - 2.0 * here + moved(&[(i, -1.0)])
            } else {
                (moved(&[(i, 1.0), (j, 1.0)]) - moved(&[(i, 1.0), (j, -1.0)]) - moved(&[(i, -1.0), (j, 1.0)])
                    + moved(&[(i, -1.0), (j, -1.0)]))
                    / 4.0
            };
            second / (REACH * REACH)
        });
        let axes = SymmetricEigen::new(bend);
        // No direction is known worse than beforehand.
        let widest = expected.iter().map(|own| own.spread).fold(0.0, f64::max);
        let reach = axes.eigenvalues.map(|own| if own > 0.0 { (1.0 / libm::sqrt(own)).min(widest) } else { widest });
        let mut found: Vec<(f64, Unknowns, DMatrix<f64>)> = Vec::new();
        for place in 0..3_usize.pow(count as u32) {
            let (mut rest, mut along, mut weight) = (place, DVector::zeros(count), 0.0);
            for (own, reach) in along.iter_mut().zip(reach.iter()) {
                let at = [0.0, libm::sqrt(3.0), -libm::sqrt(3.0)][rest % 3];
                *own = at * reach;
                // The three places and weights of Gauss and Hermite, less the normal they stand for.
                weight += 0.5 * at * at + libm::log(if rest % 3 == 0 { 2.0 / 3.0 } else { 1.0 / 6.0 });
                rest /= 3;
            }
            let logs: Vec<f64> =
                self.logs.iter().zip((&axes.eigenvectors * along).iter()).map(|(own, by)| own + by).collect();
            let weight = weight - (of(&logs) - here);
            if weight > NEGLIGIBLE
                && let Some((mean, covariance)) = self.given(&straight, Sizes::of(&logs))
            {
                found.push((libm::exp(weight), mean, covariance));
            }
        }
        let whole: f64 = found.iter().map(|own| own.0).sum();
        let mut mean = DVector::zeros(UNKNOWNS);
        for (weight, own, _) in &found {
            mean += own * (weight / whole);
        }
        let mut covariance = DMatrix::zeros(UNKNOWNS, UNKNOWNS);
        for (weight, own, around) in &found {
            let off = own - &mean;
            covariance += (around + &off * off.transpose()) * (weight / whole);
        }
        (whole > 0.0).then_some((mean, covariance))
    }

    pub(super) fn memory(&self) -> Memory {
        Memory::of(&self.best, &self.after)
    }

    /// Standard uncertainty at each row.
    pub(super) fn standard(&self, curve: &Curve) -> Vec<f64> {
        let spread = &curve.slopes * &self.after;
        (0..RESPONSE_ROWS).map(|row| libm::sqrt(spread.row(row).dot(&curve.slopes.row(row)).max(0.0))).collect()
    }

    /// Drift and what is left, at each reading.
    pub(super) fn parts(&self) -> (Vec<f64>, Vec<f64>) {
        let sizes = self.sizes();
        let off = &self.y - self.at_readings(&self.family.lightness(&self.best));
        // Without places there is no telling which part of what is left is drift.
        let around = self.places.as_ref().and_then(|_| Cholesky::new(self.around(sizes)));
        let drift = around.map_or_else(|| DVector::zeros(off.len()), |around| self.drift(sizes) * around.solve(&off));
        let left = &off - &drift;
        (drift.iter().copied().collect(), left.iter().copied().collect())
    }

    /// How far the drift's mean over the sheet moves all tones.
    pub(super) fn sheet_u(&self) -> f64 {
        let count = (self.y.len() * self.y.len()) as f64;
        libm::sqrt(self.drift(self.sizes()).sum() / count)
    }

    /// The expected error of a corrected print between its own ends, root mean square over tones; with what is doubted of its ends.
    pub(super) fn expected(&self, curve: &Curve, doubts: Option<&[Vec<f64>; 2]>) -> f64 {
        let known = expected_error(curve, &self.after);
        doubts.into_iter().flatten().fold(known, |sum, own| libm::hypot(sum, doubted_error(curve, own)))
    }
}

/// The expected error of a corrected print between its own ends, root mean square over tones, for a covariance of the unknowns.
pub(super) fn expected_error(curve: &Curve, after: &DMatrix<f64>) -> f64 {
    let (first, last) =
        (curve.lightness.first().copied().unwrap_or(0.0), curve.lightness.last().copied().unwrap_or(0.0));
    let (black, white) = (curve.slopes.row(0), curve.slopes.row(RESPONSE_ROWS - 1));
    // Weighted by the steps of lightness, so that all tones count the same.
    let mut sum = 0.0;
    for row in 1..RESPONSE_ROWS {
        let here = curve.lightness.get(row).copied().unwrap_or(0.0);
        let step = here - curve.lightness.get(row - 1).copied().unwrap_or(0.0);
        let part = (here - first) / (last - first);
        let moved = curve.slopes.row(row) - black * (1.0 - part) - white * part;
        sum += step * (&moved * after).dot(&moved).max(0.0);
    }
    libm::sqrt(sum / (last - first))
}

/// The same for a way all rows go together by so much each.
fn doubted_error(curve: &Curve, way: &[f64]) -> f64 {
    let ends = |own: &[f64]| (own.first().copied().unwrap_or(0.0), own.last().copied().unwrap_or(0.0));
    let ((first, last), (black, white)) = (ends(&curve.lightness), ends(way));
    let mut sum = 0.0;
    for ((here, before), way) in curve.lightness.iter().skip(1).zip(&curve.lightness).zip(way.iter().skip(1)) {
        let part = (here - first) / (last - first);
        let moved = way - black * (1.0 - part) - white * part;
        sum += (here - before) * moved * moved;
    }
    libm::sqrt((sum / (last - first)).max(0.0))
}
