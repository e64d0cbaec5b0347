//! The solutions of a coat, each called by what it is.

use alloc::string::String;

use crate::measure::{MassConcentration, Molarity, PercentByVolume, PricePerVolume, Uncertain, Volume};
use crate::source::Element;
use crate::stock::{FormsError, Formula, Hydrate, strengths_by_form};

/// What is true of any bottle that drops are taken from.
#[derive(Clone, Debug, PartialEq)]
pub struct Bottle {
    /// What it is: metal, strength; or its name on the shelf.
    pub name: String,
    /// Which of the request's droppers it has.
    pub dropper: usize,
    /// What it costs; none when unknown.
    pub price: Option<PricePerVolume>,
    /// What is in it; none when nobody says.
    pub holds: Option<Volume>,
}

/// A solution of iron(III).
#[derive(Clone, Debug, PartialEq)]
pub struct Iron {
    /// The bottle.
    pub bottle: Bottle,
    /// The solid that was dissolved.
    pub solid: Formula,
    /// What is known of its water.
    pub hydrate: Hydrate,
    /// Grams of it per 100 mL.
    pub percent: PercentByVolume,
}

/// How much iron is in such a solution: one figure where the form is known, a range where it is not.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct IronMolarity {
    /// Moles of iron per litre in the form with the most water.
    pub least: Molarity,
    /// The same with the least water.
    pub most: Molarity,
    /// Moles of the solid per litre, least and most.
    pub solid: (Molarity, Molarity),
    /// Whether the form is known.
    pub known: bool,
}

impl Iron {
    /// Moles of iron per litre, for each form the solid may have.
    ///
    /// # Errors
    /// [`FormsError`] when the water is said twice or the strength is beyond any solution.
    pub fn molarity(&self) -> Result<IronMolarity, FormsError> {
        let found = strengths_by_form(&self.solid, self.hydrate, self.percent, None)?;
        let atoms = self.solid.count(Element::FE);
        let of = |form: &crate::stock::FormStrength| form.molarity.to_moles_per_litre();
        let (least, most) = found
            .forms
            .iter()
            .fold((f64::INFINITY, 0.0_f64), |(least, most), form| (least.min(of(form)), most.max(of(form))));
        Ok(IronMolarity {
            least: Molarity::moles_per_litre(least * atoms)?,
            most: Molarity::moles_per_litre(most * atoms)?,
            solid: (Molarity::moles_per_litre(least)?, Molarity::moles_per_litre(most)?),
            known: found.known,
        })
    }
}

/// A solution of palladium or platinum.
#[derive(Clone, Debug, PartialEq)]
pub struct MetalStock {
    /// The bottle.
    pub bottle: Bottle,
    /// The solid in it, where it is known.
    pub solid: Option<Formula>,
    /// The metal.
    pub element: Element,
    /// Its strength.
    pub strength: Uncertain<MassConcentration>,
    /// The water of the solid is open, and the strength with it.
    pub water_open: bool,
    /// Grams of the solid per 100 mL, where that is what the label says.
    pub percent: Option<PercentByVolume>,
}

impl MetalStock {
    /// Moles of metal per litre.
    #[must_use]
    pub fn moles_per_litre(&self) -> f64 {
        self.strength.best.to_milligrams_per_millilitre() / self.element.weight().grams_per_mole
    }
}
