//! Bare numbers. This module alone takes and returns `f64` without a unit; whoever calls it wraps them.

mod propagation;

pub use propagation::{Inputs, Linear};
