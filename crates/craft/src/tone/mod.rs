//! From the patches of a chart to what this paper prints for each input, and to the correction that makes it print what is wanted.
//!
//! A fit is read from the top down: `family` says which curves there are, `gauss` how likely the readings are for one of them, `search` finds
//! the likeliest, `outcome` what is known after it, and `fit` is the whole of it with wrong readings left aside and an earlier fit beside.
//!
//! | module | what it holds |
//! |---|---|
//! | `reading` | a patch that was read |
//! | `family` | curves a paper may have, by a few unknowns |
//! | `gauss` | readings, drift of the coat and noise as one normal model |
//! | `search` | the unknowns and sizes that go best with the readings |
//! | `outcome` | what is known after them, over all sizes that go with them |
//! | `ends` | an end whose only reading was left aside |
//! | `fit` | the fit |
//! | `plain` | a plain curve through the readings, to compare |
//! | `response` | what a set-up prints for each input |
//! | `memory` | what a fit leaves for the next one |
//! | `target`, `correction` | how tones shall be spaced, and what is sent for them |
//! | `verify` | a print through the correction |
//! | `next` | which patches come next |
//! | `layout` | a chart to print and scan: where everything on it lies |
//! | `proof` | what a print will look like |
//! | `standing` | whether a response still holds |
//! | `warning`, `error` | what to know, and why there is none |

mod correction;
mod ends;
mod error;
mod family;
mod fit;
mod gauss;
mod layout;
mod memory;
mod next;
mod outcome;
mod plain;
mod proof;
mod reading;
mod response;
mod search;
mod standing;
mod target;
mod verify;
mod warning;

pub use correction::{CORRECTION_ROWS, Correction, EndReached, PredictedTone};
pub use error::ToneError;
pub use fit::{FieldFound, Quality, ToneFit, fit};
pub use layout::{
    BookTag, CODE_SQUARES, ChartCode, ChartFrame, ChartInk, ChartLayout, ChartPatch, ChartSize, CheckCell, DropMark,
    DropShape, LAYOUT_VERSION, NoCode, Spot,
};
pub use memory::{Memory, PriorUse};
pub use next::{NextPatch, NextPatches, next_patches};
pub use plain::plain;
pub use proof::{Proof, Tint};
pub use reading::{PatchReading, Place, same_print, same_readings};
pub use response::{RESPONSE_ROWS, Response};
pub use standing::{Doubt, SetupPart, Since, Standing, doubts, standing};
pub use target::Target;
pub use verify::{EndShift, ToneLeft, Verified, as_sent, verify, within_noise};
pub use warning::{Warning, warnings};

use crate::source::{END_INPUTS, LEAST_INPUTS, LEAST_LIGHTNESS_SPAN, MOST_PATCHES};

/// Whether readings can have a response at all; gives the different inputs in order.
fn checked(readings: &[PatchReading]) -> Result<alloc::vec::Vec<f64>, ToneError> {
    let mut inputs: alloc::vec::Vec<f64> = readings.iter().map(|own| own.input.to_part()).collect();
    inputs.sort_by(f64::total_cmp);
    inputs.dedup();
    if readings.len() > MOST_PATCHES.value {
        return Err(ToneError::TooManyPatches { found: readings.len(), most: MOST_PATCHES.value });
    }
    let few = ToneError::TooFewInputs { found: inputs.len(), least: LEAST_INPUTS.value };
    if inputs.len() < LEAST_INPUTS.value {
        return Err(few);
    }
    let (Some(least), Some(most)) = (inputs.first().copied(), inputs.last().copied()) else { return Err(few) };
    let (below, above) = END_INPUTS.value;
    if least > below || most < above {
        return Err(ToneError::EndsMissing { least, most, below, above });
    }
    let tones = |own: &PatchReading| own.lightness.to_l_star();
    let lightest = readings.iter().map(tones).fold(f64::NEG_INFINITY, f64::max);
    let darkest = readings.iter().map(tones).fold(f64::INFINITY, f64::min);
    if lightest - darkest < LEAST_LIGHTNESS_SPAN.value {
        return Err(ToneError::NoTones { found: lightest - darkest, least: LEAST_LIGHTNESS_SPAN.value });
    }
    // The sign of the slope of a straight line: enough to see a chart that was read the wrong way round.
    let (x, y) = readings.iter().fold((0.0, 0.0), |(x, y), own| (x + own.input.to_part(), y + tones(own)));
    let (x, y) = (x / readings.len() as f64, y / readings.len() as f64);
    if readings.iter().map(|own| (own.input.to_part() - x) * (tones(own) - y)).sum::<f64>() <= 0.0 {
        return Err(ToneError::Upside);
    }
    Ok(inputs)
}
