//! Strength, in each of the ways a maker states it.

use alloc::vec::Vec;

use super::{Formula, Hydrate, HydrateError, hydrates_met, molar_mass};
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

/// What so many percent of a solid come to, in each form it may have.
#[derive(Clone, Debug, PartialEq)]
pub struct Forms {
    /// The forms, from the least water up.
    pub forms: Vec<FormStrength>,
    /// Whether the solid is known to be the one form listed.
    pub known: bool,
}

/// Why there is no such list.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
#[allow(missing_docs, reason = "the errors inside say it")]
pub enum FormsError {
    #[error("{0}")]
    Hydrate(#[from] HydrateError),
    #[error("{0}")]
    OutOfBounds(#[from] OutOfBounds),
}

/// What a strength in % w/v comes to for a solid, or for each hydrate it may be when its water is open.
///
/// A solid such as iron(III) oxalate is ill-defined: 27 % is 0.72 M if it is anhydrous and 0.56 M as the
/// hexahydrate. So the answer is a list, and a list of one only where the form is stated or no other is met.
///
/// # Errors
/// [`FormsError`] when the water is said twice or a result is beyond what a solution can hold.
pub fn strengths_by_form(
    solid: &Formula,
    hydrate: Hydrate,
    percent: PercentByVolume,
    metal: Option<Element>,
) -> Result<Forms, FormsError> {
    let met = hydrates_met(solid);
    hydrate.said_once(solid, met.map_or(solid.waters(), |(_, waters)| waters))?;
    let open = met.filter(|(_, waters)| *waters == 0.0).map(|(row, _)| row);
    let forms: Vec<Formula> = match (hydrate, open) {
        (Hydrate::Stated(waters), _) => Vec::from([solid.with_waters(waters).map_err(HydrateError::from)?]),
        (Hydrate::AsWritten | Hydrate::Unknown, Some(row)) => {
            let forms: Result<_, _> = row.waters.iter().map(|&waters| solid.with_waters(waters)).collect();
            forms.map_err(HydrateError::from)?
        }
        (Hydrate::AsWritten | Hydrate::Unknown, None) => Vec::from([solid.clone()]),
    };
    let known = forms.len() == 1 && hydrate != Hydrate::Unknown;
    let forms: Result<Vec<FormStrength>, OutOfBounds> = forms
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
        .collect();
    Ok(Forms { forms: forms?, known })
}
