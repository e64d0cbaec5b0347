//! What a set-up prints for each input.

use alloc::vec::Vec;

use crate::measure::{Bounded, Lightness, ToneInput, Uncertain};

/// Places at which a response is written down: input 0, 1/256, … 1.
pub const RESPONSE_ROWS: usize = 257;

/// Lightness of the print for each input, never falling, with its standard uncertainty.
#[derive(Clone, Debug, PartialEq)]
pub struct Response {
    lightness: Vec<f64>,
    standard: Vec<f64>,
}

impl Response {
    /// From [`RESPONSE_ROWS`] lightnesses and standard uncertainties; none for other counts, numbers that are not finite or beyond what a
    /// lightness can be, and a response that falls.
    #[must_use]
    pub fn new(lightness: Vec<f64>, standard: Vec<f64>) -> Option<Self> {
        let counted = lightness.len() == RESPONSE_ROWS && standard.len() == RESPONSE_ROWS;
        let within = lightness.iter().all(|own| (Lightness::LEAST..=Lightness::MOST).contains(own));
        let sound = standard.iter().all(|own| own.is_finite() && *own >= 0.0);
        (counted && within && sound && lightness.is_sorted()).then_some(Self { lightness, standard })
    }

    /// Lightness at each row, L*.
    #[must_use]
    pub fn lightness(&self) -> &[f64] {
        &self.lightness
    }

    /// Its standard uncertainty at each row, L*: the coat's drift over the whole sheet included.
    #[must_use]
    pub fn standard(&self) -> &[f64] {
        &self.standard
    }

    /// The input of a row, 0 to 1.
    #[must_use]
    pub fn input_of(row: usize) -> f64 {
        row as f64 / (RESPONSE_ROWS - 1) as f64
    }

    /// Lightness at an input, along straight lines between rows.
    #[must_use]
    pub fn at(&self, input: ToneInput) -> Uncertain<Lightness> {
        let along = input.to_part() * (RESPONSE_ROWS - 1) as f64;
        let row = (along as usize).min(RESPONSE_ROWS - 2);
        let part = along - row as f64;
        let between = |own: &[f64]| match own.get(row..) {
            Some([here, next, ..]) => here + part * (next - here),
            _ => 0.0,
        };
        // OK because every row was held to the bounds of a lightness.
        let best = Lightness::l_star(between(&self.lightness)).expect("BUG: a response left the bounds of lightness");
        Uncertain::new(best, between(&self.standard))
    }

    /// The paper's own black, L*.
    #[must_use]
    pub fn black(&self) -> f64 {
        self.lightness.first().copied().unwrap_or(0.0)
    }

    /// The paper's own white, L*.
    #[must_use]
    pub fn white(&self) -> f64 {
        self.lightness.last().copied().unwrap_or(0.0)
    }
}
