//! Why there is no such coat.

use crate::measure::{AgentDose, OutOfBounds, significant};
use crate::stock::FormsError;

/// Why a coat cannot be planned.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
#[allow(missing_docs, reason = "the sentence above each variant says it")]
pub enum CoatError {
    #[error("the image covers nothing")]
    NothingToCoat,
    #[error("a dose of {} mg/mL would take more than all the iron; this chlorate iron goes up to {} mg/mL", significant(.asked.to_milligrams_per_millilitre(), 3), significant(*.most_mg_per_ml, 3))]
    ChlorateBeyond { asked: AgentDose, most_mg_per_ml: f64 },
    #[error("the iron solution holds no iron")]
    NoIron,
    #[error("no whole drops come near these ratios")]
    NoDrops,
    #[error("{0}")]
    Forms(#[from] FormsError),
    #[error("{0}")]
    OutOfBounds(#[from] OutOfBounds),
}

impl CoatError {
    /// The stable code of this refusal.
    #[must_use]
    pub fn code(&self) -> &'static str {
        match self {
            Self::NothingToCoat => "nothing_asked",
            Self::ChlorateBeyond { .. } => "contrast_beyond",
            Self::NoIron => "iron_missing",
            Self::NoDrops => "drops_not_found",
            Self::Forms(FormsError::Hydrate(error)) => error.code(),
            Self::Forms(FormsError::OutOfBounds(_)) | Self::OutOfBounds(_) => "value_out_of_bounds",
        }
    }
}
