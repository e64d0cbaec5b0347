//! A response from the patches of a chart.

use alloc::vec::Vec;

use super::{Memory, PatchReading, PriorUse, Response, ToneError};

/// A slow drift of the coat over the sheet, as it was found.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct FieldFound {
    /// Its standard deviation, L*.
    pub deviation: f64,
    /// Over which length it keeps its size, mm.
    pub length_mm: f64,
}

/// How good readings and fit are.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Quality {
    /// Standard deviation of a reading beside the curve and the drift, L*.
    pub noise: f64,
    /// Drift over the sheet; none where no places are known.
    pub field: Option<FieldFound>,
    /// Standard uncertainty of all tones together that no single sheet can tell, L*: the drift's mean over the sheet. It stands in the
    /// response's uncertainties and moves no tone against another.
    pub sheet_u: f64,
    /// Expected error of a corrected print against its own black and white (root mean square over tones), L*.
    pub expected: f64,
    /// The largest difference to the plain alternative, L*.
    pub plain_differs: f64,
}

/// A response and what it was made from.
#[derive(Clone, Debug, PartialEq)]
pub struct ToneFit {
    /// What the set-up prints.
    pub response: Response,
    /// The drift of the coat at each reading, L*, in their order; 0 where no places are known.
    pub drift: Vec<f64>,
    /// Readings less response and drift, L*, in their order.
    pub residuals: Vec<f64>,
    /// Which readings were left aside, by their place in the list.
    pub outliers: Vec<usize>,
    /// How good it is.
    pub quality: Quality,
    /// What became of the earlier fit.
    pub prior: PriorUse,
    /// For the next fit of this set-up.
    pub memory: Memory,
}

/// Fits a response.
///
/// # Errors
/// [`ToneError`] for readings without a response in them.
pub fn fit(readings: &[PatchReading], earlier: Option<&Memory>) -> Result<ToneFit, ToneError> {
    let response = super::plain(readings)?;
    let residuals: Vec<f64> = readings
        .iter()
        .map(|own| own.lightness.to_l_star() - crate::measure::Bounded::in_unit(response.at(own.input).best))
        .collect();
    let count = super::memory::UNKNOWNS;
    let memory =
        Memory::new(alloc::vec![0.0; count], alloc::vec![0.0; count * (count + 1) / 2]).ok_or(ToneError::NoFit)?;
    let noise = response.standard().first().copied().unwrap_or(0.0);
    Ok(ToneFit {
        drift: alloc::vec![0.0; readings.len()],
        outliers: Vec::new(),
        quality: Quality { noise, field: None, sheet_u: 0.0, expected: noise, plain_differs: 0.0 },
        prior: if earlier.is_some() { PriorUse::Used } else { PriorUse::None },
        residuals,
        response,
        memory,
    })
}
