//! A powder: a salt, and what its jar says about it.

use alloc::vec::Vec;

use super::{Hydrate, HydrateError, Hydration, MetalSalt, hydrates_met};
use crate::measure::MassFraction;

/// What a stated purity is a percentage of.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum PurityOf {
    /// Of the salt by mass.
    Salt,
    /// Of the metal by mass: the assay.
    Metal,
    /// "Trace metals basis": says what other metals there are, and nothing of water.
    Trace,
    /// Nobody knows.
    Unknown,
}

/// The purity on the jar.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Purity {
    /// Nothing is said.
    Unstated,
    /// A figure, and what it means.
    Stated {
        /// The figure.
        fraction: MassFraction,
        /// Its meaning.
        of: PurityOf,
    },
}

/// What is open about a powder and stands in no ±: a jar either holds it or not, and no spread describes that.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum LeftOpen {
    /// How much water is in it.
    Water,
    /// How pure it is.
    Purity,
    /// What the stated purity is a percentage of.
    PurityMeaning,
    /// How pure and how dry the alkali chloride is that is weighed beside it.
    ChlorideJar,
}

impl LeftOpen {
    /// It in words.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::Water => "the water in the powder",
            Self::Purity => "the powder's purity",
            Self::PurityMeaning => "what the purity is a percentage of",
            Self::ChlorideJar => "purity and damp of the chloride",
        }
    }
}

/// A salt with the facts of its jar. Nothing is assumed: what is not stated stays unstated and is said.
#[derive(Clone, Debug, PartialEq)]
pub struct Powder {
    salt: MetalSalt,
    hydration: Hydration,
    purity: Purity,
}

impl Powder {
    /// A powder of `salt`, and what the maker says of its water.
    ///
    /// # Errors
    /// [`HydrateError`] when the formula says its water already, or the water makes it too heavy.
    pub fn new(salt: MetalSalt, hydrate: Hydrate, purity: Purity) -> Result<Self, HydrateError> {
        hydrate.said_once(salt.formula(), salt.waters())?;
        let met = hydrates_met(salt.formula()).filter(|_| salt.waters() == 0.0).map(|(row, _)| row);
        Ok(match (hydrate, met) {
            (Hydrate::Stated(waters), _) => {
                Self { salt: salt.with_waters(waters)?, hydration: Hydration::Stated, purity }
            }
            (Hydrate::AsWritten | Hydrate::Unknown, Some(row)) => {
                Self { salt, hydration: Hydration::Unstated(row), purity }
            }
            (Hydrate::Unknown, None) => Self { salt, hydration: Hydration::Unknown, purity },
            (Hydrate::AsWritten, None) if salt.waters() > 0.0 => Self { salt, hydration: Hydration::Stated, purity },
            (Hydrate::AsWritten, None) => Self { salt, hydration: Hydration::AsWritten, purity },
        })
    }

    /// Its salt.
    #[must_use]
    pub fn salt(&self) -> &MetalSalt {
        &self.salt
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

    /// What is open about it, and in no uncertainty that is reckoned.
    #[must_use]
    pub fn left_open(&self) -> Vec<LeftOpen> {
        let by_metal = matches!(self.purity, Purity::Stated { of: PurityOf::Metal, .. });
        // A metal assay says the metal whatever the water is.
        let water = matches!(self.hydration, Hydration::Unstated(_) | Hydration::Unknown) && !by_metal;
        let purity = match self.purity {
            Purity::Unstated | Purity::Stated { of: PurityOf::Trace, .. } => Some(LeftOpen::Purity),
            Purity::Stated { of: PurityOf::Unknown, .. } => Some(LeftOpen::PurityMeaning),
            Purity::Stated { of: PurityOf::Salt | PurityOf::Metal, .. } => None,
        };
        water.then_some(LeftOpen::Water).into_iter().chain(purity).collect()
    }

    /// Grams of salt (or, for a metal assay, of metal) per gram of powder; one where nothing usable is said.
    pub(crate) fn assay(&self) -> Assay {
        match self.purity {
            Purity::Stated { fraction, of: PurityOf::Metal } => Assay::Metal(fraction.to_ratio()),
            Purity::Stated { fraction, of: PurityOf::Salt | PurityOf::Unknown } => Assay::Salt(fraction.to_ratio()),
            Purity::Stated { of: PurityOf::Trace, .. } | Purity::Unstated => Assay::Salt(1.0),
        }
    }
}

/// What the purity lets one calculate with.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) enum Assay {
    /// Salt per powder.
    Salt(f64),
    /// Metal per powder.
    Metal(f64),
}
