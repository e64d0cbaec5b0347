//! Metal salts the trade makes stock from, and the complex each becomes.
//!
//! PdCl2 alone barely dissolves; two chlorides per palladium make the soluble tetrachloropalladate:
//! `PdCl2 + 2 MCl → M2PdCl4`, with M any of Li, Na, K, NH4, Cs. Tetrachloroplatinates(II) and
//! hexachloroplatinates(IV) are bought as such and dissolve as they are.

use alloc::format;
use alloc::string::String;

use super::formula::{Formula, FormulaError};
use super::{Alkali, AlkaliChloride};
use crate::source::{Element, LEAST_CHLORIDE};

/// The metal that makes the picture.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Metal {
    /// Palladium.
    Palladium,
    /// Platinum.
    Platinum,
}

impl Metal {
    /// As an element.
    #[must_use]
    pub fn element(self) -> Element {
        match self {
            Self::Palladium => Element::PD,
            Self::Platinum => Element::PT,
        }
    }

    /// Its name.
    #[must_use]
    pub fn name(self) -> &'static str {
        self.element().weight().name
    }
}

/// What kind of salt it is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum SaltKind {
    /// PdCl2: needs two chlorides to dissolve.
    Chloride,
    /// M2PdCl4 or M2PtCl4.
    Tetrachloro(Alkali),
    /// M2PtCl6.
    Hexachloro(Alkali),
}

/// A salt that stock is made from.
#[derive(Clone, Debug, PartialEq)]
pub struct MetalSalt {
    formula: Formula,
    metal: Metal,
    kind: SaltKind,
}

/// Why a formula is not such a salt.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[allow(missing_docs, reason = "the sentence above each variant says it")]
pub enum SaltError {
    #[error("`{formula}` holds neither palladium nor platinum")]
    NoMetal { formula: String },
    #[error("`{formula}` holds palladium and platinum; a stock is made from one salt")]
    TwoMetals { formula: String },
    #[error("`{formula}` carries a charge; a powder in a jar has none")]
    Charged { formula: String },
    #[error("`{formula}` is none of the salts stock is planned from here")]
    NotPlanned { formula: String },
}

impl SaltError {
    /// The stable code of this refusal.
    #[must_use]
    pub fn code(&self) -> &'static str {
        match self {
            Self::NoMetal { .. } => "salt_without_metal",
            Self::TwoMetals { .. } => "salt_with_two_metals",
            Self::Charged { .. } => "salt_charged",
            Self::NotPlanned { .. } => "salt_not_planned",
        }
    }
}

impl MetalSalt {
    /// Recognises a salt by what it is made of, however its formula is written.
    ///
    /// # Errors
    /// [`SaltError`] when it is none of PdCl2, M2PdCl4, M2PtCl4, M2PtCl6 or a hydrate of one.
    pub fn recognise(formula: Formula) -> Result<Self, SaltError> {
        let text = || String::from(&*format!("{formula}"));
        let (pd, pt) = (formula.count(Element::PD), formula.count(Element::PT));
        if formula.charge() != 0 {
            return Err(SaltError::Charged { formula: text() });
        }
        let metal = match (pd > 0.0, pt > 0.0) {
            (false, false) => return Err(SaltError::NoMetal { formula: text() }),
            (true, true) => return Err(SaltError::TwoMetals { formula: text() }),
            (true, false) => Metal::Palladium,
            (false, true) => Metal::Platinum,
        };
        let not_planned = || SaltError::NotPlanned { formula: text() };
        let (alkali, cations) = Alkali::in_formula(&formula).ok_or_else(not_planned)?;
        let chlorines = formula.count(Element::CL);
        let kind = match (metal, alkali, cations, chlorines) {
            (Metal::Palladium, None, _, 2.0) => SaltKind::Chloride,
            (_, Some(alkali), 2.0, 4.0) => SaltKind::Tetrachloro(alkali),
            // The others are sparingly soluble: no stock is made of them.
            (Metal::Platinum, Some(alkali @ (Alkali::Sodium | Alkali::Lithium)), 2.0, 6.0) => {
                SaltKind::Hexachloro(alkali)
            }
            _ => return Err(not_planned()),
        };
        if pd + pt != 1.0 {
            return Err(not_planned());
        }
        Ok(Self { formula, metal, kind })
    }

    /// Its formula.
    #[must_use]
    pub fn formula(&self) -> &Formula {
        &self.formula
    }

    /// Waters in it, wherever its formula writes them: all the oxygen of these salts is water's.
    #[must_use]
    pub fn waters(&self) -> f64 {
        self.formula.count(Element::O)
    }

    /// The same salt with so many waters in all.
    ///
    /// # Errors
    /// [`FormulaError::TooHeavy`] beyond what any formula weighs.
    pub fn with_waters(&self, waters: f64) -> Result<Self, FormulaError> {
        // Water written inside a bracket cannot be taken out of the text: then the salt is written as it usually is.
        let in_brackets = self.waters() > self.formula.waters();
        let formula = if in_brackets { self.anhydrous() } else { self.formula.clone() }.with_waters(waters)?;
        Ok(Self { formula, ..self.clone() })
    }

    /// The salt without water, as it is usually written.
    fn anhydrous(&self) -> Formula {
        match self.kind {
            // OK because the formula is a constant of this line.
            SaltKind::Chloride => "PdCl2".parse().expect("BUG: PdCl2 does not parse"),
            SaltKind::Tetrachloro(alkali) => complex_formula(self.metal, alkali, 4),
            SaltKind::Hexachloro(alkali) => complex_formula(self.metal, alkali, 6),
        }
    }

    /// Its metal.
    #[must_use]
    pub fn metal(&self) -> Metal {
        self.metal
    }

    /// Its kind.
    #[must_use]
    pub fn kind(&self) -> SaltKind {
        self.kind
    }

    /// Whether it is one of the chloroplatinates, which are never weighed, scraped or put back in the open.
    #[must_use]
    pub fn is_chloroplatinate(&self) -> bool {
        self.metal == Metal::Platinum
    }

    /// Chlorides to add for each metal atom: two for the plain chloride, none for a complex.
    #[must_use]
    pub fn chlorides_needed(&self) -> f64 {
        match self.kind {
            SaltKind::Chloride => LEAST_CHLORIDE.value,
            SaltKind::Tetrachloro(_) | SaltKind::Hexachloro(_) => 0.0,
        }
    }

    /// The complex in the finished solution, without water. A plain chloride takes its cation from `with`.
    #[must_use]
    pub fn complex(&self, with: &AlkaliChloride) -> Formula {
        let (alkali, chlorines) = match self.kind {
            SaltKind::Chloride => (with.alkali(), 4),
            SaltKind::Tetrachloro(alkali) => (alkali, 4),
            SaltKind::Hexachloro(alkali) => (alkali, 6),
        };
        complex_formula(self.metal, alkali, chlorines)
    }
}

fn complex_formula(metal: Metal, alkali: Alkali, chlorines: u32) -> Formula {
    let cation = match alkali {
        Alkali::Ammonium => "(NH4)2",
        Alkali::Lithium => "Li2",
        Alkali::Sodium => "Na2",
        Alkali::Potassium => "K2",
        Alkali::Caesium => "Cs2",
    };
    let text = format!("{cation}{}Cl{chlorines}", metal.element());
    // OK because the text is put together here from listed elements.
    text.parse().expect("BUG: a complex formula that does not parse")
}
