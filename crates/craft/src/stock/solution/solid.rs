//! A solid that is no metal salt, with the facts of its jar.

use alloc::vec::Vec;

use crate::stock::{Formula, Hydrate, HydrateError, Hydration, LeftOpen, Purity, PurityOf, hydrates_met};

/// A solid as it is weighed. Nothing is assumed: a form that is not stated stays open and is said.
#[derive(Clone, Debug, PartialEq)]
pub struct Solid {
    formula: Formula,
    hydration: Hydration,
    purity: Purity,
}

impl Solid {
    /// A solid, and what the maker says of its water.
    ///
    /// # Errors
    /// [`HydrateError`] when the formula says its water already, or the water makes it too heavy.
    pub fn new(formula: Formula, hydrate: Hydrate, purity: Purity) -> Result<Self, HydrateError> {
        let met = hydrates_met(&formula);
        let waters = met.map_or(formula.waters(), |(_, waters)| waters);
        hydrate.said_once(&formula, waters)?;
        let open = met.filter(|_| waters == 0.0).map(|(row, _)| row);
        let (formula, hydration) = match (hydrate, open) {
            (Hydrate::Stated(waters), _) => (formula.with_waters(waters)?, Hydration::Stated),
            (Hydrate::AsWritten | Hydrate::Unknown, Some(row)) => (formula, Hydration::Unstated(row)),
            (Hydrate::Unknown, None) => (formula, Hydration::Unknown),
            (Hydrate::AsWritten, None) if waters > 0.0 => (formula, Hydration::Stated),
            (Hydrate::AsWritten, None) => (formula, Hydration::AsWritten),
        };
        Ok(Self { formula, hydration, purity })
    }

    /// Its formula, with the water that is stated.
    #[must_use]
    pub fn formula(&self) -> &Formula {
        &self.formula
    }

    /// Whether its water is known.
    #[must_use]
    pub fn hydration(&self) -> Hydration {
        self.hydration
    }

    /// Its purity.
    #[must_use]
    pub fn purity(&self) -> Purity {
        self.purity
    }

    /// Every form it may be, from the least water up; one where that is known or no other is met.
    #[must_use]
    pub fn forms(&self) -> Vec<Formula> {
        match self.hydration {
            Hydration::Unstated(row) => {
                row.waters.iter().filter_map(|&waters| self.formula.with_waters(waters).ok()).collect()
            }
            Hydration::Stated | Hydration::AsWritten | Hydration::Unknown => Vec::from([self.formula.clone()]),
        }
    }

    /// Whether it is not known which form it is.
    #[must_use]
    pub fn form_open(&self) -> bool {
        matches!(self.hydration, Hydration::Unstated(_) | Hydration::Unknown)
    }

    /// What is open about it, and in no uncertainty that is reckoned.
    #[must_use]
    pub fn left_open(&self) -> Vec<LeftOpen> {
        let purity = match self.purity {
            Purity::Unstated | Purity::Stated { of: PurityOf::Trace | PurityOf::Metal, .. } => Some(LeftOpen::Purity),
            Purity::Stated { of: PurityOf::Unknown, .. } => Some(LeftOpen::PurityMeaning),
            Purity::Stated { of: PurityOf::Salt, .. } => None,
        };
        self.form_open().then_some(LeftOpen::Water).into_iter().chain(purity).collect()
    }

    /// Grams of the solid per gram of powder; one where nothing usable is said.
    pub(super) fn part(&self) -> f64 {
        match self.purity {
            Purity::Stated { fraction, of: PurityOf::Salt | PurityOf::Unknown } => fraction.to_ratio(),
            Purity::Stated { of: PurityOf::Trace | PurityOf::Metal, .. } | Purity::Unstated => 1.0,
        }
    }
}
