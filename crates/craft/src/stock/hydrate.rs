//! The water in a solid: what the maker says of it, and what is known then.

use alloc::format;
use alloc::string::String;

use super::{Formula, FormulaError};
use crate::source::Hydrates;

/// What the maker says of the water.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub enum Hydrate {
    /// Nothing: it is as the formula is written.
    #[default]
    AsWritten,
    /// So many waters per formula.
    Stated(f64),
    /// That it is not known.
    Unknown,
}

/// Words for forms, from none to ten waters.
const FORM_WORDS: [&str; 11] = [
    "anhydrous",
    "monohydrate",
    "dihydrate",
    "trihydrate",
    "tetrahydrate",
    "pentahydrate",
    "hexahydrate",
    "heptahydrate",
    "octahydrate",
    "nonahydrate",
    "decahydrate",
];

/// The waters of a form named in words, `hexahydrate`.
#[must_use]
pub fn waters_of_form(word: &str) -> Option<f64> {
    let place = FORM_WORDS.iter().position(|own| own.eq_ignore_ascii_case(word.trim()))?;
    Some(place as f64)
}

/// The word for a form with so many waters, where there is one.
#[must_use]
pub fn form_word(waters: f64) -> Option<&'static str> {
    let whole = waters >= 0.0 && libm::floor(waters) == waters;
    FORM_WORDS.get(waters as usize).copied().filter(|_| whole)
}

/// Whether the water in the powder is known.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Hydration {
    /// It is: the formula says it, or the maker does.
    Stated,
    /// Nothing is said, and no other form of this solid is in the table: it is taken as its formula says.
    AsWritten,
    /// It is not, and several hydrates of this solid are met.
    Unstated(&'static Hydrates),
    /// The maker says that it is not known, and the table has no other form of this solid.
    Unknown,
}

/// Why a statement about the water cannot stand.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
#[allow(missing_docs, reason = "the sentence above each variant says it")]
pub enum HydrateError {
    #[error("`{formula}` says its water already")]
    SaidTwice { formula: String },
    #[error("{0}")]
    TooHeavy(#[from] FormulaError),
}

impl HydrateError {
    /// The stable code of this refusal.
    #[must_use]
    pub fn code(&self) -> &'static str {
        match self {
            Self::SaidTwice { .. } => "hydrate_said_twice",
            Self::TooHeavy(error) => error.code(),
        }
    }
}

impl Hydrate {
    /// Refuses a statement about a formula that holds `waters` already.
    pub(crate) fn said_once(self, formula: &Formula, waters: f64) -> Result<(), HydrateError> {
        if waters > 0.0 && self != Self::AsWritten {
            return Err(HydrateError::SaidTwice { formula: format!("{formula}") });
        }
        Ok(())
    }
}
