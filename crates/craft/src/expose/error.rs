//! Why there is no exposure.

use crate::measure::{OutOfBounds, significant};

/// Why readings, strips or a ladder come to nothing.
#[derive(Clone, Copy, Debug, PartialEq, thiserror::Error)]
#[allow(missing_docs, reason = "the sentence above each variant says it")]
pub enum ExposeError {
    #[error("{0} different steps were read; a curve needs four at least")]
    TooFewSteps(usize),
    #[error(
        "the darkest and the lightest reading differ by {}; a print of a wedge differs by {least} at least",
        significant(*.found, 3)
    )]
    NoTones { found: f64, least: f64 },
    #[error("the print is darker under the denser steps; under a wedge that lies on clear film it is lighter there")]
    Upside,
    #[error("black within {} of the greatest density is asked; {least} to {most} is meant by it", significant(*.asked, 3))]
    BlackWithin { asked: f64, least: f64, most: f64 },
    #[error("step {step} is no step of a tablet of {steps}")]
    StepUnknown { step: u8, steps: u8 },
    #[error("a tablet has from 2 to 60 steps that reach no further than a density of 6")]
    NoTablet,
    #[error(
        "the last full black is step {black} and the last visible tone is step {tone}; the tone comes after the black"
    )]
    TonesReversed { black: u8, tone: u8 },
    #[error("the longest exposure is no longer than the first")]
    StripsReversed,
    #[error("{strips} strips would be needed; {most} fit under one card")]
    StripsMany { strips: usize, most: usize },
    #[error("the first exposure is so short that two strips come to the same second")]
    StripsAlike,
    #[error("strip {strip} was tapped; these strips go from 2 to {strips}")]
    StripUnknown { strip: u8, strips: usize },
    #[error("strip 1 is full black already: it did not bracket, and the time to black may be any that is shorter")]
    BlackFromTheFirst,
    #[error("nothing is known of this agent yet; expected wedges of one's own with two different doses of it")]
    LadderEmpty,
    #[error("a dose of another kind stands in this ladder")]
    DoseOfAnotherKind,
    #[error(
        "by these wedges more agent does not shorten the exposure scale; expected a shorter scale at a larger dose"
    )]
    LadderFlat,
    #[error("a bank of tubes or a panel does not follow the square of the distance; find the time anew with a wedge")]
    WideLamp,
    #[error("a distance of nothing has no light to it")]
    NoDistance,
    #[error("{0}")]
    OutOfBounds(#[from] OutOfBounds),
}

impl ExposeError {
    /// The stable code of this refusal.
    #[must_use]
    pub fn code(&self) -> &'static str {
        match self {
            Self::TooFewSteps(_) => "steps_too_few",
            Self::NoTones { .. } => "tones_missing",
            Self::Upside => "wedge_upside_down",
            Self::BlackWithin { .. } => "black_within_unusual",
            Self::StepUnknown { .. } => "step_unknown",
            Self::NoTablet => "tablet_unknown",
            Self::TonesReversed { .. } => "tones_reversed",
            Self::StripsReversed => "strips_reversed",
            Self::StripsMany { .. } => "strips_many",
            Self::StripsAlike => "strips_alike",
            Self::StripUnknown { .. } => "strip_unknown",
            Self::BlackFromTheFirst => "strips_too_long",
            Self::LadderEmpty => "ladder_empty",
            Self::DoseOfAnotherKind => "dose_of_another_kind",
            Self::LadderFlat => "ladder_flat",
            Self::WideLamp => "lamp_is_wide",
            Self::NoDistance => "distance_missing",
            Self::OutOfBounds(_) => "value_out_of_bounds",
        }
    }
}
