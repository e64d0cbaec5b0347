//! Curve, drift and noise as normal numbers around the best curve.

use alloc::vec;
use alloc::vec::Vec;

use nalgebra::{Cholesky, DMatrix, DVector, Dyn, SymmetricEigen};

use super::family::{COSINES, Curve, Family, SIGMOID, UNKNOWNS, Unknowns};
use super::response::RESPONSE_ROWS;
use super::{Memory, PatchReading};
use crate::numerics::simplex_least;
use crate::source::{
    CURVES_EXPECTED, DRIFTS, Expected, FACTOR_EXPECTED, FIELD_EXPECTED, FIELD_LENGTH_EXPECTED, NOISE_EXPECTED,
    OUTLIER_PART, OUTLIER_SIZE,
};

/// Rounds of: step of the curve, readings to leave aside, sizes.
const ROUNDS: usize = 8;
/// Steps of the search for sizes in one round.
const SIZE_STEPS: usize = 40;
/// Sizes that move by no more than this part have settled.
const SIZES_SETTLED: f64 = 0.02;
/// Steps of the curve after the last round.
const LAST_STEPS: usize = 12;

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
    fn expected() -> [Expected; 4] {
        [NOISE_EXPECTED.value, FIELD_EXPECTED.value, FIELD_LENGTH_EXPECTED.value, FACTOR_EXPECTED.value]
    }

    fn of(logs: &[f64]) -> Self {
        let own = |k: usize| libm::exp(logs.get(k).copied().unwrap_or(0.0));
        Self { noise: own(0), field: own(1), length: own(2), factor: own(3) }
    }
}

/// Readings and what is thought about them.
#[derive(Clone)]
pub(super) struct Model {
    family: Family,
    /// Row of the response below each input, and how far on to the next.
    rows: Vec<(usize, f64)>,
    y: DVector<f64>,
    /// Variance of each reading that is known apart.
    own_variance: Vec<f64>,
    /// Squared distances as parts of the extent, and the extent in mm; none without places.
    places: Option<(DMatrix<f64>, f64)>,
    mean: Unknowns,
    /// Covariance of the earlier fit with what drifts since; none without one.
    earlier: Option<DMatrix<f64>>,
    best: Unknowns,
    logs: Vec<f64>,
    aside: Vec<bool>,
    evidence: f64,
    /// Covariance of the unknowns after the readings.
    after: DMatrix<f64>,
}

/// What curve and factor add to the covariance of readings: the first part, and the second for a factor of size 1.
struct Weighed {
    base: DMatrix<f64>,
    bend: Option<DMatrix<f64>>,
}

/// A model straightened around its best curve.
struct Straight {
    slopes: DMatrix<f64>,
    /// Readings less what the mean of the unknowns would give.
    off: DVector<f64>,
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
            let mut covariance = own.matrix();
            for (unknown, drift) in DRIFTS.value.iter().enumerate() {
                covariance[(unknown, unknown)] += drift * drift;
            }
            for (wave, size) in family.sizes.iter().enumerate() {
                let own = crate::source::FACTOR_DRIFT.value * size;
                covariance[(SIGMOID + wave, SIGMOID + wave)] += own * own;
            }
            // A change of contrast moves black and white away from the middle together.
            let own = crate::source::CONTRAST_DRIFT.value * crate::source::CONTRAST_DRIFT.value;
            for (a, b) in [(3, 3), (3, 4), (4, 3), (4, 4)] {
                covariance[(a, b)] += own;
            }
            covariance
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
    fn before(&self, factor: f64) -> DMatrix<f64> {
        if let Some(own) = &self.earlier {
            return own.clone();
        }
        let expected = CURVES_EXPECTED.value.into_iter().map(|own| own.spread * own.spread);
        let factor = self.family.sizes.iter().map(|own| own * own * factor * factor);
        DMatrix::from_diagonal(&DVector::from_iterator(UNKNOWNS, expected.chain(factor)))
    }

    /// The covariance of drift between readings.
    fn drift(&self, sizes: Sizes) -> DMatrix<f64> {
        let count = self.y.len();
        let Some((squares, _)) = &self.places else { return DMatrix::zeros(count, count) };
        let by = -0.5 / (sizes.length * sizes.length);
        let variance = sizes.field * sizes.field;
        squares.map(|own| variance * libm::exp(by * own))
    }

    /// The covariance of readings around the curve.
    fn around(&self, sizes: Sizes) -> DMatrix<f64> {
        let mut around = self.drift(sizes);
        for (k, (own, aside)) in self.own_variance.iter().zip(&self.aside).enumerate() {
            let wild = if *aside { OUTLIER_SIZE.value * OUTLIER_SIZE.value } else { 0.0 };
            around[(k, k)] += sizes.noise * sizes.noise + own + wild;
        }
        around
    }

    fn at_readings(&self, lightness: &[f64]) -> DVector<f64> {
        let between = |&(row, part): &(usize, f64)| match lightness.get(row..) {
            Some([here, next, ..]) => here + part * (next - here),
            _ => 0.0,
        };
        DVector::from_iterator(self.rows.len(), self.rows.iter().map(between))
    }

    fn slopes_at_readings(&self, slopes: &DMatrix<f64>) -> DMatrix<f64> {
        DMatrix::from_fn(self.rows.len(), UNKNOWNS, |k, unknown| {
            self.rows.get(k).map_or(0.0, |&(row, part)| {
                slopes[(row, unknown)] + part * (slopes[(row + 1, unknown)] - slopes[(row, unknown)])
            })
        })
    }

    fn straight(&self) -> Straight {
        let curve = self.curve();
        let slopes = self.slopes_at_readings(&curve.slopes);
        let off = &self.y - self.at_readings(&curve.lightness) + &slopes * (&self.best - &self.mean);
        Straight { slopes, off }
    }

    fn whole(&self, straight: &Straight, sizes: Sizes) -> DMatrix<f64> {
        &straight.slopes * self.before(sizes.factor) * straight.slopes.transpose() + self.around(sizes)
    }

    /// How unlikely a curve is with these sizes, but for a constant.
    fn objection(&self, unknowns: &Unknowns, around: &Cholesky<f64, Dyn>, before: &Cholesky<f64, Dyn>) -> f64 {
        let off = &self.y - self.at_readings(&self.family.lightness(unknowns));
        let from = unknowns - &self.mean;
        let value = off.dot(&around.solve(&off)) + from.dot(&before.solve(&from));
        if value.is_finite() { value } else { f64::INFINITY }
    }

    /// A step towards the best curve with the sizes as they are (Gauss-Newton, shortened until it helps).
    fn step(&mut self) -> Option<f64> {
        let sizes = self.sizes();
        let straight = self.straight();
        let whole = Cholesky::new(self.whole(&straight, sizes))?;
        let before = self.before(sizes.factor);
        let to = &self.mean + &before * straight.slopes.transpose() * whole.solve(&straight.off);
        let (around, before) = (Cholesky::new(self.around(sizes))?, Cholesky::new(before)?);
        let now = self.objection(&self.best, &around, &before);
        let way = to - &self.best;
        let mut part = 1.0;
        for _ in 0..8 {
            let tried = &self.best + &way * part;
            if self.objection(&tried, &around, &before) < now {
                self.best = tried;
                return Some(part);
            }
            part *= 0.5;
        }
        Some(0.0)
    }

    /// Leaves readings aside, one after the other, as long as that makes all of them likelier.
    fn leave_aside(&mut self, straight: &Straight) -> Option<()> {
        let sizes = self.sizes();
        let wild = OUTLIER_SIZE.value * OUTLIER_SIZE.value;
        let odds = libm::log(OUTLIER_PART.value / (1.0 - OUTLIER_PART.value));
        self.aside.fill(false);
        for _ in 0..self.y.len() / 5 {
            let inverse = Cholesky::new(self.whole(straight, sizes))?.inverse();
            let pull = &inverse * &straight.off;
            let gain = |k: usize| {
                let more = 1.0 + wild * inverse[(k, k)];
                odds - 0.5 * libm::log(more) + 0.5 * wild * pull[k] * pull[k] / more
            };
            let free = (0..self.y.len()).filter(|k| !self.aside.get(*k).copied().unwrap_or(true));
            let Some((place, gain)) = free.map(|k| (k, gain(k))).max_by(|a, b| a.1.total_cmp(&b.1)) else { break };
            if gain <= 0.0 {
                break;
            }
            if let Some(own) = self.aside.get_mut(place) {
                *own = true;
            }
        }
        Some(())
    }

    /// What the sizes do to how unlikely the readings are, around a straightened curve.
    fn weighed(&self, straight: &Straight) -> Weighed {
        let fixed = DMatrix::from_fn(self.y.len(), SIGMOID, |k, u| straight.slopes[(k, u)]);
        let waves = DMatrix::from_fn(self.y.len(), COSINES, |k, w| straight.slopes[(k, SIGMOID + w)]);
        match &self.earlier {
            Some(own) => Weighed { base: &straight.slopes * own * straight.slopes.transpose(), bend: None },
            None => {
                let before = self.before(1.0);
                let head = before.view((0, 0), (SIGMOID, SIGMOID));
                let tail = before.view((SIGMOID, SIGMOID), (COSINES, COSINES));
                Weighed { base: &fixed * head * fixed.transpose(), bend: Some(&waves * tail * waves.transpose()) }
            }
        }
    }

    /// How unlikely the readings are with these sizes, and these sizes with what is known of coats: minus twice the logarithm.
    fn unlikely(&self, straight: &Straight, weighed: &Weighed, logs: &[f64]) -> f64 {
        let sizes = Sizes::of(logs);
        let mut whole = self.around(sizes) + &weighed.base;
        if let Some(bend) = &weighed.bend {
            whole += bend * (sizes.factor * sizes.factor);
        }
        let prior: f64 = logs.iter().zip(&Sizes::expected()).map(|(own, e)| squared((own - e.middle) / e.spread)).sum();
        let Some(whole) = Cholesky::new(whole) else { return f64::INFINITY };
        let logs: f64 = whole.l_dirty().diagonal().iter().map(|own| libm::log(*own)).sum();
        2.0 * logs + straight.off.dot(&whole.solve(&straight.off)) + prior
    }

    /// The sizes under which the readings are likeliest.
    fn resize(&mut self, straight: &Straight, reach: f64) {
        let weighed = self.weighed(straight);
        let found = simplex_least(&self.logs, reach, SIZE_STEPS, |logs| self.unlikely(straight, &weighed, logs));
        self.evidence = -0.5 * self.unlikely(straight, &weighed, &found);
        self.logs = found;
    }

    /// The best curve and sizes: without readings left aside, and then with those that would be likelier aside, if that is likelier in all.
    pub(super) fn best(mut self) -> Option<Self> {
        self.start();
        self.settle(false)?;
        let mut other = self.clone();
        // With the noise of a usual chart, so that several wild readings do not hide each other.
        other.logs = Sizes::expected().iter().map(|own| own.middle).collect();
        other.settle(true)?;
        let mut own = if other.aside.contains(&true) && other.evidence > self.evidence { other } else { self };
        let (mean, after) = own.integrated()?;
        (own.best, own.after) = (mean, after);
        Some(own)
    }

    fn settle(&mut self, leaving: bool) -> Option<()> {
        let mut straight = self.straight();
        for round in 0..ROUNDS {
            let before = (self.aside.clone(), self.logs.clone());
            if leaving {
                self.leave_aside(&straight)?;
            }
            self.step()?;
            self.step()?;
            straight = self.straight();
            self.resize(&straight, if round < 2 { 0.5 } else { 0.2 });
            let moved = self.logs.iter().zip(&before.1).map(|(own, before)| (own - before).abs()).fold(0.0, f64::max);
            if round > 0 && before.0 == self.aside && moved < SIZES_SETTLED {
                break;
            }
        }
        for _ in 0..LAST_STEPS {
            if self.step()? == 0.0 {
                break;
            }
        }
        let straight = self.straight();
        self.resize(&straight, 0.05);
        let odds = libm::log(OUTLIER_PART.value / (1.0 - OUTLIER_PART.value));
        self.evidence += odds * self.aside.iter().filter(|own| **own).count() as f64;
        Some(())
    }

    /// Where to start: the likeliest of a few curves after some steps each.
    fn start(&mut self) {
        if self.earlier.is_some() {
            return;
        }
        let mut found: Option<(f64, Unknowns)> = None;
        let sizes = self.sizes();
        let mut ends = (f64::INFINITY, f64::NEG_INFINITY);
        for own in &self.y {
            ends = (ends.0.min(*own), ends.1.max(*own));
        }
        for (dark, light) in [(0.7, 0.7), (1.5, 0.6), (0.6, 1.5)] {
            for power in [-0.4, 0.3] {
                let mut from = self.mean.clone();
                for (unknown, own) in [(2, power), (3, dark), (4, light)] {
                    from[unknown] = own;
                }
                self.best = from;
                for _ in 0..6 {
                    if self.step().is_none_or(|part| part == 0.0) {
                        break;
                    }
                }
                let Some(around) = Cholesky::new(self.around(sizes)) else { continue };
                let Some(before) = Cholesky::new(self.before(sizes.factor)) else { continue };
                let value = self.objection(&self.best, &around, &before);
                if found.as_ref().is_none_or(|own| value < own.0) {
                    found = Some((value, self.best.clone()));
                }
            }
        }
        if let Some((_, best)) = found {
            self.best = best;
        }
    }

    /// The unknowns after the readings with given sizes, and their covariance.
    fn given(&self, straight: &Straight, sizes: Sizes) -> Option<(Unknowns, DMatrix<f64>)> {
        let whole = Cholesky::new(self.whole(straight, sizes))?;
        let before = self.before(sizes.factor);
        let seen = &before * straight.slopes.transpose();
        let mean = &self.mean + &seen * whole.solve(&straight.off);
        Some((mean, &before - &seen * whole.solve(&seen.transpose())))
    }

    /// The same over all sizes that go with the readings: three places in each of four directions, weighed by how likely they are.
    fn integrated(&self) -> Option<(Unknowns, DMatrix<f64>)> {
        let straight = self.straight();
        let weighed = self.weighed(&straight);
        let of = |logs: &[f64]| 0.5 * self.unlikely(&straight, &weighed, logs);
        let (here, expected) = (of(&self.logs), Sizes::expected());
        let count = self.logs.len();
        const REACH: f64 = 0.1;
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
            if weight > -7.0 {
                if let Some((mean, covariance)) = self.given(&straight, Sizes::of(&logs)) {
                    found.push((libm::exp(weight), mean, covariance));
                }
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
        let after = self.after.clone();
        Memory::of(&self.best, &after)
    }

    /// Standard uncertainty at each row.
    pub(super) fn standard(&self, curve: &Curve) -> Vec<f64> {
        let after = self.after.clone();
        let spread = &curve.slopes * after;
        (0..RESPONSE_ROWS).map(|row| libm::sqrt(spread.row(row).dot(&curve.slopes.row(row)).max(0.0))).collect()
    }

    /// Drift and what is left, at each reading.
    pub(super) fn parts(&self) -> (Vec<f64>, Vec<f64>) {
        let sizes = self.sizes();
        let off = &self.y - self.at_readings(&self.family.lightness(&self.best));
        let drift = Cholesky::new(self.around(sizes))
            .map_or_else(|| DVector::zeros(off.len()), |around| self.drift(sizes) * around.solve(&off));
        let left = &off - &drift;
        (drift.iter().copied().collect(), left.iter().copied().collect())
    }

    /// How far the drift's mean over the sheet moves all tones.
    pub(super) fn sheet_u(&self) -> f64 {
        let count = (self.y.len() * self.y.len()) as f64;
        libm::sqrt(self.drift(self.sizes()).sum() / count)
    }

    /// The expected error of a corrected print between its own ends, root mean square over tones.
    pub(super) fn expected(&self, curve: &Curve) -> f64 {
        expected_error(curve, &self.after)
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

fn squared(own: f64) -> f64 {
    own * own
}

/// Squared distances between patches as parts of the chart's extent, and that extent.
fn places(readings: &[PatchReading]) -> Option<(DMatrix<f64>, f64)> {
    let places: Option<Vec<(f64, f64)>> = readings
        .iter()
        .map(|own| own.place.map(|own| (own.across.to_millimetres(), own.down.to_millimetres())))
        .collect();
    let places = places?;
    let span = |of: fn(&(f64, f64)) -> f64| {
        let most = places.iter().map(of).fold(f64::NEG_INFINITY, f64::max);
        most - places.iter().map(of).fold(f64::INFINITY, f64::min)
    };
    let extent = span(|own| own.0).max(span(|own| own.1));
    let squares = |i: usize, j: usize| match (places.get(i), places.get(j)) {
        (Some(a), Some(b)) => (squared(a.0 - b.0) + squared(a.1 - b.1)) / squared(extent),
        _ => 0.0,
    };
    (extent > 0.0).then(|| (DMatrix::from_fn(places.len(), places.len(), squares), extent))
}
