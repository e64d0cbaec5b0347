//! The scale at hand.

use crate::measure::{Mass, Uncertain};
use crate::numerics::{Inputs, Linear};
use crate::source::STEPS_WANTED;

use super::batch::Cause;

/// A balance, known by the smallest step its display shows.
///
/// A weighing is two readings, the tared paper and the paper with its load; each lies anywhere within half
/// a step of what the display says (rectangular, GUM F.2.2.1), so u = step / √6. Drift, buoyancy (under
/// 0.07 % for these salts) and a poor calibration are not in it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Balance {
    step: Mass,
}

impl Balance {
    /// A balance with this step; none when the step is nothing.
    #[must_use]
    pub fn with_step(step: Mass) -> Option<Self> {
        (!step.is_zero()).then_some(Self { step })
    }

    /// A balance on which a mass is ten steps or more: the coarsest decade of a gram that is, down to a microgram.
    #[must_use]
    pub fn fine_enough_for(mass: Mass) -> Self {
        let most_ug = (mass.to_micrograms() as f64 / STEPS_WANTED.value).max(1.0);
        let decade = libm::floor(libm::log10(most_ug) + 1e-9);
        let step = Mass::micrograms(libm::pow(10.0, decade) as i64);
        // OK because a tenth of a mass, and at least a microgram, is itself a mass.
        Self { step: step.expect("BUG: a tenth of a mass out of bounds") }
    }

    /// Its step.
    #[must_use]
    pub fn step(self) -> Mass {
        self.step
    }

    /// A mass weighed on it, with its standard uncertainty.
    #[must_use]
    pub fn weighing(self, mass: Mass) -> Uncertain<Mass> {
        let mut inputs = Inputs::default();
        let weighed = self.read(&mut inputs, Cause::SaltWeighing, mass);
        Uncertain::new(mass, inputs.standard_uncertainty(&weighed))
    }

    /// The same as an input of a calculation, in g: load minus tare.
    pub(crate) fn read(self, inputs: &mut Inputs<Cause>, cause: Cause, mass: Mass) -> Linear {
        let half_step = self.step.to_grams() / 2.0;
        let tare = inputs.add_rectangular(cause, 0.0, half_step);
        let load = inputs.add_rectangular(cause, mass.to_grams(), half_step);
        &load - &tare
    }
}
