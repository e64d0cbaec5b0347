//! A response from the patches of a chart.
//!
//! What is read is taken for the sum of three: the response at the patch's input, a drift of the coat that changes slowly over the sheet,
//! and noise from patch to patch. The response is of the family in `family.rs`, with its unknowns expected where papers have them; the drift
//! is a random field with one standard deviation and one length (kriging: Matheron, *Econ. Geol.* 58 (1963) 1246-1266; as Gaussian
//! processes, Rasmussen and Williams, 2006, chapters 2 and 5). With the curve taken as straight in its unknowns near the best one, all three
//! are normal together; so the sizes of noise, drift and of the factor are those under which the readings are likeliest (the Laplace
//! approximation: Tierney and Kadane, *J. Am. Stat. Assoc.* 81 (1986) 82-86), each kept near what coats are like. A reading is left aside
//! when it is likelier with an error of several L* (the shift of Box and Tiao, *Biometrika* 55 (1968) 119-129, as a variance).
//!
//! The ± that comes out holds the drift's mean over the sheet, which no single sheet tells apart from the tone itself. Limits: the response
//! may not bend faster than the factor's length allows; drift in steps or stripes counts as noise; ± is by first order. Sources from memory.
//! All of it is deterministic: fixed starts, fixed counts of rounds, no random numbers, no kernels chosen by the processor.

use alloc::vec::Vec;

use super::gauss::{Model, Sizes};
use super::{Memory, PatchReading, PriorUse, Response, ToneError};
use crate::measure::Bounded;
use crate::measure::Lightness;
use crate::source::{NOISE_LEAST, PRIOR_DOUBT, SHEET_SHARED};

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
    /// The largest difference to the plain alternative, L*; none where that finds no curve.
    pub plain_differs: Option<f64>,
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
    match (super::checked(readings), earlier) {
        (Ok(_), _) => fitted(readings, earlier),
        // What an end prints the earlier fit knows, as long as it holds.
        (Err(missing @ ToneError::EndsMissing { .. }), Some(_)) => {
            let fit = fitted(readings, earlier)?;
            if fit.prior == PriorUse::Used { Ok(fit) } else { Err(missing) }
        }
        (Err(error), _) => Err(error),
    }
}

/// The same without a look at the readings: beyond the inputs that were read the family alone says what is printed.
pub(super) fn fitted(readings: &[PatchReading], earlier: Option<&Memory>) -> Result<ToneFit, ToneError> {
    let fresh = Model::new(readings, None).best().ok_or(ToneError::NoFit)?;
    let (model, prior) = match earlier {
        None => (fresh, PriorUse::None),
        Some(earlier) => {
            let with = Model::new(readings, Some(earlier)).best().ok_or(ToneError::NoFit)?;
            if with.evidence() + PRIOR_DOUBT.value < fresh.evidence() {
                (fresh, PriorUse::Contradicted)
            } else {
                (with, PriorUse::Used)
            }
        }
    };
    let curve = model.curve();
    let mut last = Lightness::LEAST;
    let rising = curve.lightness.iter().map(|own| {
        last = own.clamp(Lightness::LEAST, Lightness::MOST).max(last);
        last
    });
    let response = Response::new(rising.collect(), model.standard(&curve)).ok_or(ToneError::NoFit)?;
    let differs = super::plain(readings).ok().map(|plain| {
        let pairs = plain.lightness().iter().zip(response.lightness());
        pairs.map(|(a, b)| (a - b).abs()).fold(0.0, f64::max)
    });
    let Sizes { noise, field, length, .. } = model.sizes();
    let (drift, residuals) = model.parts();
    let apart = field * libm::sqrt(1.0 - SHEET_SHARED.value);
    let quality = Quality {
        // What a meter rounds by is noise as well, and the drift of patches whose places nobody knows.
        noise: libm::hypot(
            libm::hypot(noise, NOISE_LEAST.value),
            if model.extent_mm().is_none() { apart } else { 0.0 },
        ),
        field: model.extent_mm().map(|extent| FieldFound { deviation: field, length_mm: length * extent }),
        sheet_u: model.sheet_u(),
        expected: model.expected(&curve),
        plain_differs: differs,
    };
    Ok(ToneFit { response, drift, residuals, outliers: model.outliers(), quality, prior, memory: model.memory() })
}
