//! Bare numbers. This module alone takes and returns `f64` without a unit; whoever calls it wraps them.

mod curve_fit;
mod homography;
mod isotonic;
mod knots;
mod least_squares;
mod monotone;
mod propagation;
mod robust;
mod simplex;

pub use curve_fit::CurveFit;
pub use homography::{Homography, PointPair};
pub use isotonic::{Direction, Isotonic, isotonic};
pub use knots::{KnotsError, Pchip, Polyline};
pub use least_squares::{LeastSquares, non_negative};
pub use monotone::MonotoneSpline;
pub use propagation::{Inputs, Linear};
pub use robust::{MAD_TO_SD, median, median_absolute_deviation, theil_sen};
pub use simplex::simplex_least;
