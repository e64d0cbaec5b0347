//! Linear least squares with weights, by Householder reflections (Golub, *Numer. Math.* 7 (1965) 206-216), and with coefficients that are
//! not below zero (Lawson and Hanson, *Solving Least Squares Problems*, 1974, chapter 23).

use alloc::vec;
use alloc::vec::Vec;

/// A column whose part beside the earlier ones is smaller than this part of itself adds nothing that could be told apart.
const DEPENDENT: f64 = 1e-11;

/// Coefficients of a fit, and how well they are known.
#[derive(Clone, Debug, PartialEq)]
pub struct LeastSquares {
    /// One for each column.
    pub coefficients: Vec<f64>,
    /// The inverse of the weighted normal matrix, row by row: the covariance where weights are 1/u².
    unscaled: Vec<Vec<f64>>,
    /// Weighted sum of squared residuals.
    pub residual_squares: f64,
    /// Observations less coefficients.
    pub freedom: usize,
}

impl LeastSquares {
    /// Fits `y` by a weighted sum of columns. `rows[i]` holds the value of each column at observation `i`; without weights all count
    /// the same, and with weights 1/u² the covariance is that of the u. None for too few rows, rows of unequal length, weights below
    /// zero, and columns that are not independent.
    #[must_use]
    pub fn fit(rows: &[Vec<f64>], y: &[f64], weights: Option<&[f64]>) -> Option<Self> {
        let (count, columns) = (rows.len(), rows.first()?.len());
        let sound = |own: &[f64]| own.len() == count && own.iter().all(|own| own.is_finite() && *own >= 0.0);
        if columns == 0
            || count < columns
            || y.len() != count
            || rows.iter().any(|row| row.len() != columns || row.iter().any(|own| !own.is_finite()))
            || y.iter().any(|own| !own.is_finite())
            || !weights.is_none_or(sound)
        {
            return None;
        }
        let root = |i: usize| libm::sqrt(weights.and_then(|own| own.get(i)).copied().unwrap_or(1.0));
        let mut a: Vec<Vec<f64>> =
            rows.iter().enumerate().map(|(i, row)| row.iter().map(|own| own * root(i)).collect()).collect();
        let mut b: Vec<f64> = y.iter().enumerate().map(|(i, own)| own * root(i)).collect();
        reflect(&mut a, &mut b, columns)?;
        let coefficients = solved(&a, &b, columns);
        let mut inverse = vec![vec![0.0; columns]; columns];
        for (k, column) in inverse.iter_mut().enumerate() {
            let mut unit = vec![0.0; columns];
            unit[k] = 1.0;
            *column = solved(&a, &unit, columns);
        }
        // With columns of R⁻¹ in `inverse`, the inverse of RᵀR is R⁻¹R⁻ᵀ.
        let entry = |i: usize, j: usize| inverse.iter().map(|column| column[i] * column[j]).sum();
        let unscaled = (0..columns).map(|i| (0..columns).map(|j| entry(i, j)).collect()).collect();
        let residual_squares = b.iter().skip(columns).map(|own| own * own).sum();
        Some(Self { coefficients, unscaled, residual_squares, freedom: count - columns })
    }

    /// Covariance of two coefficients, for weights that are 1/u²; none beyond the last.
    #[must_use]
    pub fn covariance(&self, i: usize, j: usize) -> Option<f64> {
        self.unscaled.get(i)?.get(j).copied()
    }

    /// Estimated variance of an observation of weight 1; none without freedom.
    #[must_use]
    pub fn residual_variance(&self) -> Option<f64> {
        (self.freedom > 0).then(|| self.residual_squares / self.freedom as f64)
    }

    /// Standard deviation of a coefficient from the scatter of the residuals; none without freedom.
    #[must_use]
    pub fn deviation(&self, i: usize) -> Option<f64> {
        Some(libm::sqrt(self.covariance(i, i)? * self.residual_variance()?))
    }

    /// The fitted value for a row, and its variance, for weights that are 1/u².
    #[must_use]
    pub fn predict(&self, row: &[f64]) -> (f64, f64) {
        let value = row.iter().zip(&self.coefficients).map(|(own, coefficient)| own * coefficient).sum();
        let crossed = |own: &Vec<f64>| own.iter().zip(row).map(|(own, other)| own * other).sum::<f64>();
        let variance = row.iter().zip(&self.unscaled).map(|(own, line)| own * crossed(line)).sum::<f64>();
        (value, variance.max(0.0))
    }
}

/// Brings `a` to upper triangular form by reflections, and `b` with it; none when a column depends on the earlier ones.
fn reflect(a: &mut [Vec<f64>], b: &mut [f64], columns: usize) -> Option<()> {
    let size =
        |a: &[Vec<f64>], k: usize, from: usize| libm::sqrt(a.iter().skip(from).map(|row| row[k] * row[k]).sum::<f64>());
    for k in 0..columns {
        let (whole, below) = (size(a, k, 0), size(a, k, k));
        if below.is_nan() || below <= DEPENDENT * whole {
            return None;
        }
        let alpha = if a[k][k] > 0.0 { -below } else { below };
        let mut v: Vec<f64> = a.iter().skip(k).map(|row| row[k]).collect();
        v[0] -= alpha;
        let squares: f64 = v.iter().map(|own| own * own).sum();
        for j in k..columns {
            let dot: f64 = v.iter().zip(a.iter().skip(k)).map(|(own, row)| own * row[j]).sum();
            for (own, row) in v.iter().zip(a.iter_mut().skip(k)) {
                row[j] -= 2.0 * dot / squares * own;
            }
        }
        let dot: f64 = v.iter().zip(b.iter().skip(k)).map(|(own, other)| own * other).sum();
        for (own, other) in v.iter().zip(b.iter_mut().skip(k)) {
            *other -= 2.0 * dot / squares * own;
        }
    }
    Some(())
}

/// Solves the upper triangle for the first rows of `b`.
fn solved(a: &[Vec<f64>], b: &[f64], columns: usize) -> Vec<f64> {
    let mut x = vec![0.0; columns];
    for k in (0..columns).rev() {
        let known: f64 = (k + 1..columns).map(|j| a[k][j] * x[j]).sum();
        x[k] = (b[k] - known) / a[k][k];
    }
    x
}

/// Coefficients not below zero, and the length of the residual. None for what [`LeastSquares::fit`] refuses.
#[must_use]
pub fn non_negative(rows: &[Vec<f64>], y: &[f64]) -> Option<(Vec<f64>, f64)> {
    let columns = rows.first()?.len();
    let mut x = vec![0.0; columns];
    let mut free = vec![false; columns];
    let residuals = |x: &[f64]| -> Vec<f64> {
        let fitted = |row: &Vec<f64>| row.iter().zip(x).map(|(own, other)| own * other).sum::<f64>();
        rows.iter().zip(y).map(|(row, own)| own - fitted(row)).collect()
    };
    let scale = y.iter().fold(0.0_f64, |most, own| most.max(own.abs())).max(f64::MIN_POSITIVE);
    // Each round frees one column, and none is freed twice with the same others: three rounds a column are never used up in practice.
    for _ in 0..3 * columns.max(10) {
        let rest = residuals(&x);
        let pull = |j: usize| rows.iter().zip(&rest).map(|(row, own)| row[j] * own).sum::<f64>();
        let candidates = (0..columns).filter(|&j| !free[j]).map(|j| (j, pull(j)));
        let best = candidates.max_by(|a, b| a.1.total_cmp(&b.1)).filter(|(_, pull)| *pull > DEPENDENT * scale);
        let Some((enters, _)) = best else { break };
        free[enters] = true;
        loop {
            let own: Vec<usize> = (0..columns).filter(|&j| free[j]).collect();
            let narrow: Vec<Vec<f64>> = rows.iter().map(|row| own.iter().map(|&j| row[j]).collect()).collect();
            let tried = LeastSquares::fit(&narrow, y, None)?.coefficients;
            if tried.iter().all(|own| *own > 0.0) {
                for (&j, value) in own.iter().zip(&tried) {
                    x[j] = *value;
                }
                break;
            }
            let reach = own.iter().zip(&tried).filter(|(_, tried)| **tried <= 0.0);
            let part = reach.map(|(&j, tried)| x[j] / (x[j] - tried)).fold(1.0_f64, f64::min);
            for (&j, tried) in own.iter().zip(&tried) {
                x[j] += part * (tried - x[j]);
                if x[j] <= DEPENDENT * scale {
                    x[j] = 0.0;
                    free[j] = false;
                }
            }
        }
    }
    let length = libm::sqrt(residuals(&x).iter().map(|own| own * own).sum());
    Some((x, length))
}
