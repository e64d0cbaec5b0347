//! The alkali chloride that goes into the water first.

use alloc::format;
use alloc::string::String;

use super::formula::Formula;
use crate::measure::{AmountRatio, Mass};
use crate::source::Element;

/// A cation of the alkali kind; ammonium counts as one.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Alkali {
    /// Li+
    Lithium,
    /// Na+
    Sodium,
    /// K+
    Potassium,
    /// NH4+
    Ammonium,
    /// Cs+
    Caesium,
}

impl Alkali {
    /// Its symbol in tables of ions.
    #[must_use]
    pub fn symbol(self) -> &'static str {
        match self {
            Self::Lithium => "Li",
            Self::Sodium => "Na",
            Self::Potassium => "K",
            Self::Ammonium => "NH4",
            Self::Caesium => "Cs",
        }
    }

    /// The one cation of a formula that otherwise holds only chlorine, a metal and water, and how many of
    /// it there are. `Some((None, 0))` when there is none; `None` when it is another kind of formula.
    pub(crate) fn in_formula(formula: &Formula) -> Option<(Option<Self>, f64)> {
        const METALS: [(Element, Alkali); 4] = [
            (Element::LI, Alkali::Lithium),
            (Element::NA, Alkali::Sodium),
            (Element::K, Alkali::Potassium),
            (Element::CS, Alkali::Caesium),
        ];
        let known = |element: Element| {
            let others = [Element::H, Element::N, Element::O, Element::CL, Element::PD, Element::PT];
            others.contains(&element) || METALS.iter().any(|(metal, _)| *metal == element)
        };
        if !formula.counts().iter().all(|(element, _)| known(*element)) {
            return None;
        }
        let mut found = None;
        let mut cations = 0.0;
        for (element, alkali) in METALS {
            let count = formula.count(element);
            if count > 0.0 {
                if found.is_some() {
                    return None;
                }
                (found, cations) = (Some(alkali), count);
            }
        }
        let (nitrogen, oxygen) = (formula.count(Element::N), formula.count(Element::O));
        if nitrogen > 0.0 {
            if found.is_some() {
                return None;
            }
            (found, cations) = (Some(Self::Ammonium), nitrogen);
        }
        // Every hydrogen must sit in water or in ammonium: H2PtCl6 is an acid and no salt.
        let hydrogen_left = formula.count(Element::H) - 2.0 * oxygen - 4.0 * nitrogen;
        (hydrogen_left.abs() < 1e-9).then_some((found, cations))
    }
}

/// One of LiCl, NaCl, KCl, NH4Cl, CsCl, or a hydrate.
#[derive(Clone, Debug, PartialEq)]
pub struct AlkaliChloride {
    formula: Formula,
    alkali: Alkali,
}

/// A formula that is no alkali chloride.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error("`{formula}` is no alkali chloride; expected `NaCl`, `KCl`, `NH4Cl`, `LiCl` or `CsCl`")]
pub struct ChlorideError {
    /// What was given.
    pub formula: String,
}

impl AlkaliChloride {
    /// Recognises one by what it is made of.
    ///
    /// # Errors
    /// [`ChlorideError`] for anything else.
    pub fn recognise(formula: Formula) -> Result<Self, ChlorideError> {
        let not = || ChlorideError { formula: format!("{formula}") };
        let metal = formula.count(Element::PD) + formula.count(Element::PT);
        match Alkali::in_formula(&formula) {
            Some((Some(alkali), 1.0)) if formula.count(Element::CL) == 1.0 && metal == 0.0 && formula.charge() == 0 => {
                Ok(Self { formula, alkali })
            }
            _ => Err(not()),
        }
    }

    /// Plain salt.
    #[must_use]
    pub fn plain_salt() -> Self {
        // OK because the formula is a constant of this line.
        let formula = "NaCl".parse().expect("BUG: NaCl does not parse");
        Self { formula, alkali: Alkali::Sodium }
    }

    /// Its formula.
    #[must_use]
    pub fn formula(&self) -> &Formula {
        &self.formula
    }

    /// Its cation.
    #[must_use]
    pub fn alkali(&self) -> Alkali {
        self.alkali
    }
}

/// How much chloride a plan takes.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum ChlorideChoice {
    /// The bare need; with a balance, the smallest step that is surely enough.
    Enough,
    /// So many moles of added chloride per mole of metal.
    Ratio(AmountRatio),
    /// This mass, whatever it comes to.
    Mass(Mass),
}
