//! Molar masses out of the table of atomic weights, with their uncertainty.

use alloc::vec::Vec;

use super::Formula;
use super::batch::Cause;
use crate::measure::{MassFraction, MolarMass, Uncertain};
use crate::numerics::{Inputs, Linear};
use crate::source::{ELECTRON_MOLAR_MASS, Element};

/// Atomic weights as inputs of one calculation. Asking twice for an element gives the same input, so that
/// chlorine counted in two salts is one uncertainty and not two.
#[derive(Debug, Default)]
pub struct Weights {
    known: Vec<(Element, Linear)>,
}

impl Weights {
    /// The weight of an element, in g/mol.
    pub fn of(&mut self, inputs: &mut Inputs<Cause>, element: Element) -> Linear {
        if let Some((_, weight)) = self.known.iter().find(|(own, _)| *own == element) {
            return weight.clone();
        }
        let row = element.weight();
        // The table's ± is a bound (Possolo et al. 2018), hence rectangular.
        let weight = inputs.add_rectangular(Cause::AtomicWeights, row.grams_per_mole, row.bound);
        self.known.push((element, weight.clone()));
        weight
    }

    /// The molar mass of a formula, in g/mol. Electrons lost or gained are counted.
    pub fn molar_mass(&mut self, inputs: &mut Inputs<Cause>, formula: &Formula) -> Linear {
        let electrons = -f64::from(formula.charge()) * ELECTRON_MOLAR_MASS.value;
        formula
            .counts()
            .iter()
            .fold(Linear::exact(electrons), |sum, &(element, count)| &sum + &(&self.of(inputs, element) * count))
    }
}

/// The molar mass of a formula and its standard uncertainty.
#[must_use]
pub fn molar_mass(formula: &Formula) -> Uncertain<MolarMass> {
    let mut inputs = Inputs::default();
    let mass = Weights::default().molar_mass(&mut inputs, formula);
    // OK because a formula is refused above the bounds, electrons counted, and the lightest, H+, is well over the least.
    let best = MolarMass::grams_per_mole(mass.value()).expect("BUG: a molar mass outside its own bounds");
    Uncertain::new(best, inputs.standard_uncertainty(&mass))
}

/// The part of a formula's mass that is one element; none when it holds none of it.
#[must_use]
pub fn mass_fraction(formula: &Formula, element: Element) -> Option<Uncertain<MassFraction>> {
    let (mut inputs, mut weights) = (Inputs::default(), Weights::default());
    let whole = weights.molar_mass(&mut inputs, formula);
    let part = &weights.of(&mut inputs, element) * formula.count(element);
    let fraction = &part / &whole;
    // The electrons of a cation can lift a lone element's fraction a hair over one.
    let best = MassFraction::ratio(fraction.value().min(1.0)).ok()?;
    Some(Uncertain::new(best, inputs.standard_uncertainty(&fraction)))
}
