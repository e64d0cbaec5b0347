//! Strength, in each of the ways a maker states it.

use alloc::vec::Vec;

use super::{Formula, hydrates_met, molar_mass};
use crate::measure::{MassConcentration, Molarity, OutOfBounds, PercentByVolume};
use crate::source::Element;

/// A wanted strength.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Strength {
    /// Grams of the anhydrous complex per 100 mL of finished solution: what "15 % palladium" means here.
    ComplexPercent(PercentByVolume),
    /// Moles of metal per litre.
    Molarity(Molarity),
    /// Grams of powder, as weighed, per 100 mL of finished solution.
    SaltPer100Ml(PercentByVolume),
    /// Milligrams of metal per millilitre.
    Metal(MassConcentration),
}

/// One reading of "so many percent of this solid".
#[derive(Clone, Debug, PartialEq)]
pub struct FormStrength {
    /// The solid, with its water.
    pub form: Formula,
    /// Moles of formula units per litre.
    pub molarity: Molarity,
    /// Milligrams of the metal asked for per millilitre, when it holds any.
    pub metal: Option<MassConcentration>,
}

/// What a strength in % w/v comes to for a solid, or for each hydrate it may be when its water is open.
///
/// A solid such as iron(III) oxalate is ill-defined: 27 % is 0.72 M if it is anhydrous and 0.56 M as the
/// hexahydrate. So the answer is a list, and a list of one only where the form is stated.
///
/// # Errors
/// [`OutOfBounds`] when a result is beyond what a solution can hold.
pub fn strengths_by_form(
    solid: &Formula,
    waters: Option<f64>,
    percent: PercentByVolume,
    metal: Option<Element>,
) -> Result<Vec<FormStrength>, OutOfBounds> {
    let open = hydrates_met(solid).filter(|(_, waters)| *waters == 0.0).map(|(row, _)| row);
    let forms: Vec<Formula> = match (waters, open) {
        (Some(waters), _) => Vec::from([solid.with_waters(waters)]),
        (None, Some(hydrates)) => hydrates.waters.iter().map(|&waters| solid.with_waters(waters)).collect(),
        (None, None) => Vec::from([solid.clone()]),
    };
    forms
        .into_iter()
        .map(|form| {
            let grams_per_litre = percent.to_grams_per_100_ml() * 10.0;
            let moles = grams_per_litre / molar_mass(&form).best.to_grams_per_mole();
            let metal = metal.filter(|&element| form.count(element) > 0.0).map(|element| {
                MassConcentration::milligrams_per_millilitre(
                    moles * form.count(element) * element.weight().grams_per_mole,
                )
            });
            Ok(FormStrength { molarity: Molarity::moles_per_litre(moles)?, metal: metal.transpose()?, form })
        })
        .collect()
}
