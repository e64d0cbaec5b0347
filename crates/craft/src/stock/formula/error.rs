//! Why a text is no formula, and where.

use alloc::string::String;
use core::ops::Range;

/// What is wrong with a formula. `at` is a range of bytes in the text as it was given.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
#[allow(missing_docs, reason = "the sentence above each variant says it; fields are what it names")]
pub enum FormulaError {
    #[error("no formula was given; expected one such as `PdCl2` or `Na2PtCl6·6H2O`")]
    Empty,
    #[error("`{text}` is longer than the {most} characters a formula may have")]
    TooLong { text: String, most: usize },
    #[error("`{symbol}` is no element")]
    ElementUnknown { symbol: String, at: Range<usize>, meant: Option<&'static str> },
    #[error("the atomic weight of `{symbol}` is not in the table this program keeps")]
    ElementUnlisted { symbol: String, at: Range<usize> },
    #[error("`{found}` cannot stand here in a formula")]
    Unexpected { found: char, at: Range<usize>, meant: Option<&'static str> },
    #[error("`{bracket}` is never closed")]
    BracketUnclosed { bracket: char, at: Range<usize> },
    #[error("`{bracket}` closes nothing")]
    BracketUnopened { bracket: char, at: Range<usize> },
    #[error("`{found}` closes a `{opened}`")]
    BracketMismatch { opened: char, found: char, at: Range<usize> },
    #[error("there is nothing between these brackets")]
    GroupEmpty { at: Range<usize> },
    #[error("brackets are nested more than {most} deep")]
    NestedTooDeep { most: usize, at: Range<usize> },
    #[error("a count of `{count}` makes no formula; counts are whole, from 1, without leading zeros")]
    CountZero { count: String, at: Range<usize> },
    #[error("a count of `{count}` is above {most}")]
    CountTooLarge { count: String, most: u32, at: Range<usize> },
    #[error("a formula starts with an element, not with `{number}`; how many moles is a question of its own")]
    LeadingNumber { number: String, at: Range<usize> },
    #[error("a part of the formula is missing beside this dot")]
    PartMissing { at: Range<usize> },
    #[error("`{number}` is no number of waters; expected a whole number, a decimal or a fraction above zero")]
    WatersMalformed { number: String, at: Range<usize> },
    #[error("`{letter}` waters is an open number; write how many, or leave the water off and say it is unknown")]
    WatersOpen { letter: char, at: Range<usize> },
    #[error(
        "`{digits}` before the sign may be a count, a charge or both; write the charge after `^`, as in `PdCl4^2-`"
    )]
    ChargeAmbiguous { digits: String, at: Range<usize> },
    #[error("`{charge}` is no charge; expected one such as `^2-` or `+`")]
    ChargeMalformed { charge: String, at: Range<usize> },
    #[error("`{text}` weighs {grams} g/mol or more, above any compound this program plans with")]
    TooHeavy { text: String, grams: f64 },
}

impl FormulaError {
    /// The stable code of this refusal.
    #[must_use]
    pub fn code(&self) -> &'static str {
        match self {
            Self::Empty => "formula_missing",
            Self::TooLong { .. } => "formula_too_long",
            Self::ElementUnknown { .. } => "element_unknown",
            Self::ElementUnlisted { .. } => "element_unlisted",
            Self::Unexpected { .. } => "formula_unexpected_character",
            Self::BracketUnclosed { .. } => "bracket_unclosed",
            Self::BracketUnopened { .. } => "bracket_unopened",
            Self::BracketMismatch { .. } => "bracket_mismatch",
            Self::GroupEmpty { .. } => "group_empty",
            Self::NestedTooDeep { .. } => "formula_nested_too_deep",
            Self::CountZero { .. } => "count_zero",
            Self::CountTooLarge { .. } => "count_too_large",
            Self::LeadingNumber { .. } => "formula_leading_number",
            Self::PartMissing { .. } => "formula_part_missing",
            Self::WatersMalformed { .. } => "waters_malformed",
            Self::WatersOpen { .. } => "waters_open",
            Self::ChargeAmbiguous { .. } => "charge_ambiguous",
            Self::ChargeMalformed { .. } => "charge_malformed",
            Self::TooHeavy { .. } => "formula_too_heavy",
        }
    }

    /// Where in the given text, in bytes.
    #[must_use]
    pub fn at(&self) -> Option<Range<usize>> {
        match self {
            Self::Empty | Self::TooLong { .. } | Self::TooHeavy { .. } => None,
            Self::ElementUnknown { at, .. }
            | Self::ElementUnlisted { at, .. }
            | Self::Unexpected { at, .. }
            | Self::BracketUnclosed { at, .. }
            | Self::BracketUnopened { at, .. }
            | Self::BracketMismatch { at, .. }
            | Self::GroupEmpty { at }
            | Self::NestedTooDeep { at, .. }
            | Self::CountZero { at, .. }
            | Self::CountTooLarge { at, .. }
            | Self::LeadingNumber { at, .. }
            | Self::PartMissing { at }
            | Self::WatersMalformed { at, .. }
            | Self::WatersOpen { at, .. }
            | Self::ChargeAmbiguous { at, .. }
            | Self::ChargeMalformed { at, .. } => Some(at.clone()),
        }
    }

    /// The formula that was probably meant, when only the capitals are wrong.
    #[must_use]
    pub fn meant(&self) -> Option<&'static str> {
        match self {
            Self::ElementUnknown { meant, .. } | Self::Unexpected { meant, .. } => *meant,
            _ => None,
        }
    }
}
