//! Why there is no response.

use crate::measure::significant;

/// Why readings come to nothing.
#[derive(Clone, Copy, Debug, PartialEq, thiserror::Error)]
#[allow(missing_docs, reason = "the sentence above each variant says it")]
pub enum ToneError {
    #[error("{found} different inputs were read; a response needs {least} at least")]
    TooFewInputs { found: usize, least: usize },
    #[error("{found} patches were read; a sheet has {most} at most")]
    TooManyPatches { found: usize, most: usize },
    #[error(
        "the darkest and the lightest reading differ by {} L*; a chart that printed differs by {least} at least",
        significant(*.found, 3)
    )]
    NoTones { found: f64, least: f64 },
    #[error("the print is lighter where less should be printed; input 0 is the darkest and 1 is paper white")]
    Upside,
    #[error(
        "inputs go from {} to {}; a response needs some below {below} and some above {above}",
        significant(*.least, 3), significant(*.most, 3)
    )]
    EndsMissing { least: f64, most: f64, below: f64, above: f64 },
    #[error("they are the readings the response was made from, and would count twice")]
    ReadBefore,
    #[error("no curve goes through these readings")]
    NoFit,
}
