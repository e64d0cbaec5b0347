//! The search for the best curve, for readings to leave aside, and for the sizes of noise, drift and factor.

use nalgebra::{Cholesky, DMatrix, Dyn};

use super::family::{COSINES, SIGMOID, Unknowns};
use super::gauss::{Model, Sizes, Straight, squared};
use crate::numerics::simplex_least;
use crate::source::{ASIDE_MOST, MEAN_WORSE, OUTLIER_PART, OUTLIER_SIZE, STARTS};

/// Rounds of: step of the curve, readings to leave aside, sizes.
const ROUNDS: usize = 8;
/// Steps of the search for sizes in one round.
const SIZE_STEPS: usize = 40;
/// How far the search for sizes first reaches, as parts of them: in the first rounds, later, and at the end.
const WIDE: f64 = 0.5;
const NARROW: f64 = WIDE * WIDE;
const FINE: f64 = 0.1;
/// Sizes that move by no more than this part have settled.
const SIZES_SETTLED: f64 = 2.0 * FINE * FINE;
/// Steps of the curve after the last round.
const LAST_STEPS: usize = 12;

/// What curve and factor add to the covariance of readings: the first part, and the second for a factor of size 1.
pub(super) struct Weighed {
    base: DMatrix<f64>,
    bend: Option<DMatrix<f64>>,
}

impl Model {
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

    /// Leaves readings aside, one after the other, as long as that makes all of them likelier; at most a third.
    fn leave_aside(&mut self, straight: &Straight) -> Option<()> {
        let sizes = self.sizes();
        let wild = OUTLIER_SIZE.value * OUTLIER_SIZE.value;
        let odds = libm::log(OUTLIER_PART.value / (1.0 - OUTLIER_PART.value));
        self.aside.fill(false);
        for _ in 0..self.y.len() / ASIDE_MOST.value {
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
    pub(super) fn weighed(&self, straight: &Straight) -> Weighed {
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
    pub(super) fn unlikely(&self, straight: &Straight, weighed: &Weighed, logs: &[f64]) -> f64 {
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
        own.forget_ends();
        let (mean, after) = own.integrated()?;
        own.after = after;
        // The mean over sizes leans on a curve taken as straight; where that does not hold, the likeliest curve stays.
        if own.no_worse(&mean)? {
            own.best = mean;
        }
        Some(own)
    }

    /// Whether a curve goes with the readings as well as the likeliest, but for what chance may add.
    fn no_worse(&self, other: &Unknowns) -> Option<bool> {
        let sizes = self.sizes();
        let around = Cholesky::new(self.around(sizes))?;
        let before = Cholesky::new(self.before(sizes.factor))?;
        let worse = self.objection(other, &around, &before) - self.objection(&self.best, &around, &before);
        Some(worse < MEAN_WORSE.value)
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
            self.resize(&straight, if round < 2 { WIDE } else { NARROW });
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
        self.resize(&straight, FINE);
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
        for (dark, light) in STARTS.value.ends {
            for power in STARTS.value.powers {
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
}
