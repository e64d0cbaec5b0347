//! Curves with parameters that do not enter linearly, fitted by least squares.
//!
//! Levenberg (*Quart. Appl. Math.* 2 (1944) 164-168) and Marquardt (*J. SIAM* 11 (1963) 431-441), with the trust region of Moré (*Numerical
//! Analysis*, Lecture Notes in Mathematics 630 (1978) 105-116), as the crate `levenberg-marquardt` has them. The covariance is that of the linear
//! fit which the curve is at its end; where parameters are ill determined it is only a first order.

use alloc::vec::Vec;

use levenberg_marquardt::{LeastSquaresProblem, LevenbergMarquardt};
use nalgebra::{DMatrix, DVector, Dyn, storage::Owned};

use super::LeastSquares;

/// Rounds for each parameter and one more, before it is given up.
const PATIENCE: usize = 200;
/// A step or a gain below this part of what is there ends the search.
const ENOUGH: f64 = 1e-15;
/// The size of the step that is left, against the deviations of the parameters, where the search has ended.
const STEP_LEFT: f64 = 1e-3;

/// Parameters of a curve, and how well they are known.
#[derive(Clone, Debug, PartialEq)]
pub struct CurveFit {
    /// In the order of the start.
    pub parameters: Vec<f64>,
    linear: LeastSquares,
}

struct Problem<'a, M> {
    x: &'a [f64],
    y: &'a [f64],
    roots: Vec<f64>,
    model: &'a M,
    parameters: DVector<f64>,
}

impl<M: Fn(f64, &[f64]) -> (f64, Vec<f64>)> Problem<'_, M> {
    /// Reading less curve, and the curve's slopes, each times the root of its weight; none where something is not finite or a slope is missing.
    fn rows(&self) -> Option<Vec<(f64, Vec<f64>)>> {
        let parameters = self.parameters.as_slice();
        let row = |((x, y), root): ((&f64, &f64), &f64)| {
            let (value, mut slopes) = (self.model)(*x, parameters);
            let off = (y - value) * root;
            slopes.iter_mut().for_each(|own| *own *= root);
            let sound = slopes.len() == parameters.len() && slopes.iter().chain([&off]).all(|own| own.is_finite());
            sound.then_some((off, slopes))
        };
        self.x.iter().zip(self.y).zip(&self.roots).map(row).collect()
    }
}

impl<M: Fn(f64, &[f64]) -> (f64, Vec<f64>)> LeastSquaresProblem<f64, Dyn, Dyn> for Problem<'_, M> {
    type ResidualStorage = Owned<f64, Dyn>;
    type JacobianStorage = Owned<f64, Dyn, Dyn>;
    type ParameterStorage = Owned<f64, Dyn>;

    fn set_params(&mut self, parameters: &DVector<f64>) {
        self.parameters.copy_from(parameters);
    }

    fn params(&self) -> DVector<f64> {
        self.parameters.clone()
    }

    fn residuals(&self) -> Option<DVector<f64>> {
        Some(DVector::from_vec(self.rows()?.into_iter().map(|(off, _)| off).collect()))
    }

    fn jacobian(&self) -> Option<DMatrix<f64>> {
        let flat: Vec<f64> = self.rows()?.into_iter().flat_map(|(_, slopes)| slopes).map(|own| -own).collect();
        Some(DMatrix::from_row_slice(self.x.len(), self.parameters.len(), &flat))
    }
}

impl CurveFit {
    /// Fits a curve from a start. The model gives its value at a place, and its slope against each parameter there. Weights are 1/u² where
    /// the u are known; without them all count the same. None for fewer readings than parameters, unequal counts, weights that are not
    /// above zero, what is not finite, parameters that cannot be told apart, and a search that does not end at a least sum.
    #[must_use]
    pub fn fit<M>(x: &[f64], y: &[f64], weights: Option<&[f64]>, start: &[f64], model: M) -> Option<Self>
    where
        M: Fn(f64, &[f64]) -> (f64, Vec<f64>),
    {
        let sound = |own: &[f64]| own.len() == x.len() && own.iter().all(|own| own.is_finite() && *own > 0.0);
        let finite = x.iter().chain(y).chain(start).all(|own| own.is_finite());
        if start.is_empty() || x.len() < start.len() || x.len() != y.len() || !finite || !weights.is_none_or(sound) {
            return None;
        }
        let root = |i: usize| weights.and_then(|own| own.get(i)).map_or(1.0, |own| libm::sqrt(*own));
        let roots = (0..x.len()).map(root).collect();
        let problem = Problem { x, y, roots, model: &model, parameters: DVector::from_column_slice(start) };
        let search = LevenbergMarquardt::new().with_patience(PATIENCE).with_tol(ENOUGH);
        let (problem, _) = search.minimize(problem);
        let (off, rows): (Vec<f64>, Vec<Vec<f64>>) = problem.rows()?.into_iter().unzip();
        let linear = LeastSquares::fit(&rows, &off, None)?;
        // What it says of its end (that no better was possible, that it lost patience) is not asked: at a least sum the linear fit has no step
        // left to go, beside what the readings leave open or beside the parameters themselves.
        let variance = linear.residual_variance().unwrap_or(0.0);
        let ended = linear.coefficients.iter().zip(problem.parameters.iter()).enumerate().all(|(k, (step, own))| {
            let open = libm::sqrt(linear.covariance(k, k).unwrap_or(0.0) * variance);
            step.abs() <= STEP_LEFT * open || step.abs() <= 1e-9 * own.abs()
        });
        ended.then(|| Self { parameters: problem.parameters.iter().copied().collect(), linear })
    }

    /// Weighted sum of squared residuals.
    #[must_use]
    pub fn residual_squares(&self) -> f64 {
        self.linear.residual_squares
    }

    /// Readings less parameters.
    #[must_use]
    pub fn freedom(&self) -> usize {
        self.linear.freedom
    }

    /// Covariance of two parameters, for weights that are 1/u²; none beyond the last.
    #[must_use]
    pub fn covariance(&self, i: usize, j: usize) -> Option<f64> {
        self.linear.covariance(i, j)
    }

    /// Estimated variance of a reading of weight 1; none without freedom.
    #[must_use]
    pub fn residual_variance(&self) -> Option<f64> {
        self.linear.residual_variance()
    }

    /// Standard deviation of a parameter from the scatter of the residuals; none without freedom.
    #[must_use]
    pub fn deviation(&self, i: usize) -> Option<f64> {
        self.linear.deviation(i)
    }
}
