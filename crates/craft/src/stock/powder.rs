//! A powder: a salt, and what its jar says about it.

use super::{Formula, MetalSalt, hydrates_met};
use crate::measure::MassFraction;
use crate::source::Hydrates;

/// Whether the water in the powder is known.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Hydration {
    /// It is: the formula says it, or the maker does.
    Stated,
    /// It is not, and several hydrates of this solid are met.
    Unstated(&'static Hydrates),
}

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

/// A salt with the facts of its jar. Nothing is assumed: what is not stated stays unstated and is said.
#[derive(Clone, Debug, PartialEq)]
pub struct Powder {
    salt: MetalSalt,
    hydration: Hydration,
    purity: Purity,
}

impl Powder {
    /// A powder of `salt`. `waters` is the maker's statement where the formula leaves the water open.
    #[must_use]
    pub fn new(salt: MetalSalt, waters: Option<f64>, purity: Purity) -> Self {
        match waters {
            Some(waters) => {
                let formula = salt.formula().with_waters(waters);
                Self { salt: salt.with_formula(formula), hydration: Hydration::Stated, purity }
            }
            None => {
                let hydration = unstated(salt.formula()).map_or(Hydration::Stated, Hydration::Unstated);
                Self { salt, hydration, purity }
            }
        }
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

/// The hydrates a formula without water may stand for, when more than one is met.
fn unstated(formula: &Formula) -> Option<&'static Hydrates> {
    hydrates_met(formula).filter(|(_, waters)| *waters == 0.0).map(|(row, _)| row)
}
