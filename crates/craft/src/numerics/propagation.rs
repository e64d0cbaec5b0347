//! Propagation of uncertainty, first order.
//!
//! JCGM 100:2008 (*Guide to the expression of uncertainty in measurement*, "GUM"):
//! uncorrelated inputs 5.1.2, correlated inputs 5.2.2, effective degrees of freedom G.4.1.
//!
//! A [`Linear`] is a value together with its slope against every input it came from. Arithmetic on it
//! applies the chain rule exactly, so an input used twice (the same weighing in a ratio and in a sum, the
//! atomic weight of chlorine in two salts) is counted once, as it must be. What is neglected is
//! curvature: where an uncertainty is a large part of its value the result is only approximate, and
//! tests compare it with a Monte Carlo after JCGM 101:2008.

use alloc::vec::Vec;
use core::ops::{Add, Div, Mul, Sub};

/// The inputs of one calculation: a label for each, its standard uncertainty, and what is correlated.
#[derive(Clone, Debug)]
pub struct Inputs<L> {
    standard: Vec<f64>,
    labels: Vec<L>,
    freedom: Vec<Option<f64>>,
    correlations: Vec<(usize, usize, f64)>,
}

impl<L> Default for Inputs<L> {
    fn default() -> Self {
        Self { standard: Vec::new(), labels: Vec::new(), freedom: Vec::new(), correlations: Vec::new() }
    }
}

impl<L: Clone + PartialEq> Inputs<L> {
    /// Adds an input with its standard uncertainty; returns it as a quantity to calculate with.
    pub fn add(&mut self, label: L, value: f64, standard: f64) -> Linear {
        self.standard.push(standard);
        self.labels.push(label);
        self.freedom.push(None);
        let index = self.standard.len() - 1;
        Linear { value, slopes: Vec::from([(index, 1.0)]) }
    }

    /// Adds an input known only to lie within `half_width` of `value`: a rectangular distribution,
    /// u = a / √3 (GUM 4.3.7; for the step of a digital display F.2.2.1).
    pub fn add_rectangular(&mut self, label: L, value: f64, half_width: f64) -> Linear {
        self.add(label, value, half_width / libm::sqrt(3.0))
    }

    /// Adds an input whose uncertainty was itself estimated with few degrees of freedom.
    pub fn add_with_freedom(&mut self, label: L, value: f64, standard: f64, freedom: f64) -> Linear {
        let input = self.add(label, value, standard);
        // OK because `add` has just pushed.
        *self.freedom.last_mut().expect("BUG: no input after adding one") = Some(freedom);
        input
    }

    /// States that two inputs are correlated with coefficient `r`. Quantities that are not inputs
    /// themselves (they have not exactly one slope of 1) are ignored.
    pub fn correlate(&mut self, a: &Linear, b: &Linear, r: f64) {
        if let ([(a, _)], [(b, _)]) = (a.slopes.as_slice(), b.slopes.as_slice()) {
            self.correlations.push((*a, *b, r));
        }
    }

    /// Covariance of two results (GUM 5.2.2, eq. 13, and its bilinear extension).
    #[must_use]
    pub fn covariance(&self, y: &Linear, z: &Linear) -> f64 {
        let own: f64 = y
            .slopes
            .iter()
            .map(|&(input, slope)| slope * z.slope(input) * self.standard[input] * self.standard[input])
            .sum();
        let crossed: f64 = self
            .correlations
            .iter()
            .map(|&(a, b, r)| {
                let both = y.slope(a) * z.slope(b) + y.slope(b) * z.slope(a);
                both * r * self.standard[a] * self.standard[b]
            })
            .sum();
        own + crossed
    }

    /// Combined standard uncertainty of a result.
    #[must_use]
    pub fn standard_uncertainty(&self, y: &Linear) -> f64 {
        // Rounding can carry a perfectly cancelling variance a hair below zero.
        libm::sqrt(self.covariance(y, y).max(0.0))
    }

    /// Correlation coefficient of two results; none when one of them is certain.
    #[must_use]
    pub fn correlation(&self, y: &Linear, z: &Linear) -> Option<f64> {
        let both = self.standard_uncertainty(y) * self.standard_uncertainty(z);
        (both > 0.0).then(|| self.covariance(y, z) / both)
    }

    /// The standard uncertainty each label brings to a result, largest first. Inputs with the same label
    /// (the two readings of one weighing) are combined; correlations between labels are left out.
    #[must_use]
    pub fn contributions(&self, y: &Linear) -> Vec<(L, f64)> {
        let mut by_label: Vec<(L, f64)> = Vec::new();
        for &(input, slope) in &y.slopes {
            let variance = slope * slope * self.standard[input] * self.standard[input];
            match by_label.iter_mut().find(|(label, _)| *label == self.labels[input]) {
                Some((_, sum)) => *sum += variance,
                None => by_label.push((self.labels[input].clone(), variance)),
            }
        }
        for (_, variance) in &mut by_label {
            *variance = libm::sqrt(*variance);
        }
        by_label.sort_by(|a, b| b.1.total_cmp(&a.1));
        by_label
    }

    /// Effective degrees of freedom after Welch and Satterthwaite (GUM G.4.1, eq. G.2b); none when every
    /// input is certain about its uncertainty.
    #[must_use]
    pub fn effective_freedom(&self, y: &Linear) -> Option<f64> {
        let sum: f64 = y
            .slopes
            .iter()
            .filter_map(|&(input, slope)| {
                self.freedom[input].map(|freedom| libm::pow(slope * self.standard[input], 4.0) / freedom)
            })
            .sum();
        (sum > 0.0).then(|| libm::pow(self.standard_uncertainty(y), 4.0) / sum)
    }
}

/// A value and its slope against each input, in order of input.
#[derive(Clone, Debug, PartialEq)]
pub struct Linear {
    value: f64,
    slopes: Vec<(usize, f64)>,
}

impl Linear {
    /// A number that is certain.
    #[must_use]
    pub fn exact(value: f64) -> Self {
        Self { value, slopes: Vec::new() }
    }

    /// Its value.
    #[must_use]
    pub fn value(&self) -> f64 {
        self.value
    }

    fn slope(&self, input: usize) -> f64 {
        self.slopes.binary_search_by_key(&input, |&(index, _)| index).map_or(0.0, |place| self.slopes[place].1)
    }

    /// A function of it, given the function's value and slope here.
    #[must_use]
    pub fn map(&self, value: f64, slope: f64) -> Self {
        Self { value, slopes: self.slopes.iter().map(|&(input, own)| (input, own * slope)).collect() }
    }

    /// Its cosine, for an angle in radians.
    #[must_use]
    pub fn cos(&self) -> Self {
        self.map(libm::cos(self.value), -libm::sin(self.value))
    }

    /// Its sine, for an angle in radians.
    #[must_use]
    pub fn sin(&self) -> Self {
        self.map(libm::sin(self.value), libm::cos(self.value))
    }

    /// Both merged: the value given, and own slope × `a` + other's slope × `b` for each input.
    fn combine(&self, other: &Self, value: f64, a: f64, b: f64) -> Self {
        let (mut left, mut right) = (self.slopes.iter().peekable(), other.slopes.iter().peekable());
        let mut slopes = Vec::with_capacity(self.slopes.len() + other.slopes.len());
        loop {
            match (left.peek(), right.peek()) {
                (Some(&&(i, own)), Some(&&(j, others))) if i == j => {
                    slopes.push((i, own * a + others * b));
                    left.next();
                    right.next();
                }
                (Some(&&(i, own)), Some(&&(j, _))) if i < j => {
                    slopes.push((i, own * a));
                    left.next();
                }
                (_, Some(&&(j, others))) => {
                    slopes.push((j, others * b));
                    right.next();
                }
                (Some(&&(i, own)), None) => {
                    slopes.push((i, own * a));
                    left.next();
                }
                (None, None) => return Self { value, slopes },
            }
        }
    }
}

impl Add for &Linear {
    type Output = Linear;
    fn add(self, other: Self) -> Linear {
        self.combine(other, self.value + other.value, 1.0, 1.0)
    }
}

impl Sub for &Linear {
    type Output = Linear;
    fn sub(self, other: Self) -> Linear {
        self.combine(other, self.value - other.value, 1.0, -1.0)
    }
}

impl Mul for &Linear {
    type Output = Linear;
    fn mul(self, other: Self) -> Linear {
        self.combine(other, self.value * other.value, other.value, self.value)
    }
}

impl Div for &Linear {
    type Output = Linear;
    fn div(self, other: Self) -> Linear {
        let quotient = self.value / other.value;
        self.combine(other, quotient, 1.0 / other.value, -quotient / other.value)
    }
}

impl Mul<f64> for &Linear {
    type Output = Linear;
    fn mul(self, factor: f64) -> Linear {
        self.map(self.value * factor, factor)
    }
}
