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
    let missing = ends_missing(readings, earlier)?;
    let fresh = alone(readings)?;
    match earlier {
        None => told(readings, &fresh, PriorUse::None),
        Some(earlier) => beside(readings, earlier, fresh, missing),
    }
}

/// The same beside an earlier fit where the readings were fitted by themselves already.
///
/// # Errors
/// [`ToneError`] as for [`fit`].
pub(super) fn fit_beside(readings: &[PatchReading], earlier: &Memory, fresh: Model) -> Result<ToneFit, ToneError> {
    let missing = ends_missing(readings, Some(earlier))?;
    beside(readings, earlier, fresh, missing)
}

/// What an end prints an earlier fit knows, as long as it holds; anything else that is missing refuses.
fn ends_missing(readings: &[PatchReading], earlier: Option<&Memory>) -> Result<Option<ToneError>, ToneError> {
    match super::checked(readings) {
        Ok(_) => Ok(None),
        Err(missing @ ToneError::EndsMissing { .. }) if earlier.is_some() => Ok(Some(missing)),
        Err(error) => Err(error),
    }
}

/// The readings by themselves, without a look at them: beyond the inputs that were read the family alone says what is printed.
pub(super) fn alone(readings: &[PatchReading]) -> Result<Model, ToneError> {
    Model::new(readings, None).best().ok_or(ToneError::NoFit)
}

fn beside(
    readings: &[PatchReading],
    earlier: &Memory,
    fresh: Model,
    missing: Option<ToneError>,
) -> Result<ToneFit, ToneError> {
    let with = Model::new(readings, Some(earlier)).best().ok_or(ToneError::NoFit)?;
    let (model, prior) = if with.evidence() + PRIOR_DOUBT.value < fresh.evidence() {
        (fresh, PriorUse::Contradicted)
    } else {
        (with, PriorUse::Used)
    };
    match missing {
        Some(missing) if prior != PriorUse::Used => Err(missing),
        _ => told(readings, &model, prior),
    }
}

/// What a model says when it has settled.
pub(super) fn told(readings: &[PatchReading], model: &Model, prior: PriorUse) -> Result<ToneFit, ToneError> {
    let curve = model.curve();
    let mut last = Lightness::LEAST;
    let rising = curve.lightness.iter().map(|own| {
        last = own.clamp(Lightness::LEAST, Lightness::MOST).max(last);
        last
    });
    let (drift, residuals) = model.parts();
    let lightness: Vec<f64> = rising.collect();
    let doubts = model.end_doubts(&lightness, &residuals);
    let mut standard = model.standard(&curve);
    for own in doubts.iter().flatten() {
        standard.iter_mut().zip(own).for_each(|(u, own)| *u = libm::hypot(*u, *own));
    }
    let response = Response::new(lightness, standard).ok_or(ToneError::NoFit)?;
    let differs = super::plain(readings).ok().map(|plain| {
        let pairs = plain.lightness().iter().zip(response.lightness());
        pairs.map(|(a, b)| (a - b).abs()).fold(0.0, f64::max)
    });
    let Sizes { noise, field, length, .. } = model.sizes();
    let apart = field * libm::sqrt(1.0 - SHEET_SHARED.value);
    let quality = Quality {
        // What a meter rounds by is noise as well, and the drift of patches whose places nobody knows.
        noise: libm::hypot(
            libm::hypot(noise, NOISE_LEAST.value),
            if model.extent_mm().is_none() { apart } else { 0.0 },
        ),
        field: model.extent_mm().map(|extent| FieldFound { deviation: field, length_mm: length * extent }),
        sheet_u: model.sheet_u(),
        expected: model.expected(&curve, doubts.as_ref()),
        plain_differs: differs,
    };
    Ok(ToneFit { response, drift, residuals, outliers: model.outliers(), quality, prior, memory: model.memory() })
}
