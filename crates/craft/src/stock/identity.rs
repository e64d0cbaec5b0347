//! Which solid of the tables a formula is: told by what it is made of, not by how it is spelled.
//!
//! `Na2PtCl6`, `Na2[PtCl6]` and `Cl6Na2Pt` are one solid. A row of a table is the same solid when charge and
//! counts agree; where the water is open, when they agree but for whole molecules of water, wherever the formula
//! writes them. Isomers of one composition are not told apart.

use super::Formula;
use crate::source::{
    CRYSTAL_DENSITIES, Compound, HYDRATES, Hydrates, NAMED, PREPARED, Prepared, SOLUBILITY, Solubility,
};

/// Formulas of the tables are read by the same parser; one that is no formula is found by nobody, and a test refuses it.
fn row_formula(text: &str) -> Option<Formula> {
    text.parse().ok()
}

fn is_row(formula: &Formula, text: &str) -> bool {
    row_formula(text).is_some_and(|row| formula.waters_over(&row) == Some(0.0))
}

/// The named compound of this composition, water counted.
#[must_use]
pub fn named(formula: &Formula) -> Option<&'static Compound> {
    NAMED.iter().find(|compound| is_row(formula, compound.formula))
}

/// What the trade makes of this solid, whatever its water; none for what it does not dissolve.
#[must_use]
pub fn prepared(formula: &Formula) -> Option<&'static Prepared> {
    PREPARED.iter().find(|row| row_formula(row.formula).is_some_and(|own| formula.waters_over(&own.dry()).is_some()))
}

/// The formula a plain name stands for: `ferric oxalate`, `citric acid`, or the name of the table of compounds.
#[must_use]
pub fn formula_of_name(text: &str) -> Option<Formula> {
    let text = text.trim();
    let is = |name: &&str| name.eq_ignore_ascii_case(text);
    let plain = PREPARED.iter().find(|row| row.names.iter().any(is)).map(|row| row.formula);
    let listed = || NAMED.iter().find(|row| is(&row.name)).map(|row| row.formula);
    row_formula(plain.or_else(listed)?)
}

/// The hydrates met of this solid, and how many waters the formula holds, wherever it writes them.
#[must_use]
pub fn hydrates_met(formula: &Formula) -> Option<(&'static Hydrates, f64)> {
    HYDRATES.iter().find_map(|row| {
        let waters = formula.waters_over(&row_formula(row.anhydrous)?)?;
        Some((row, waters))
    })
}

/// Density of the crystals, in g/cm3, where it is known.
pub(crate) fn crystal_density(formula: &Formula) -> Option<f64> {
    CRYSTAL_DENSITIES.iter().find(|(row, ..)| is_row(formula, row)).map(|(_, density, _)| *density)
}

/// The row of how much of this solid dissolves, where there is one.
pub(crate) fn solubility(formula: &Formula) -> Option<&'static Solubility> {
    SOLUBILITY.iter().find(|row| is_row(formula, row.formula))
}
