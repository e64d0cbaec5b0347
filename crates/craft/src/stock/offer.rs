//! What metal costs in what is for sale: powder or solution, side by side.

use crate::measure::{Currency, Mass, MassConcentration, Money};

/// Something for sale: so much metal for so much money.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Offer {
    sum: Money,
    metal: Mass,
}

impl Offer {
    /// An offer; none without metal in it.
    #[must_use]
    pub fn new(sum: Money, metal: Mass) -> Option<Self> {
        (!metal.is_zero()).then_some(Self { sum, metal })
    }

    /// What it costs.
    #[must_use]
    pub fn sum(self) -> Money {
        self.sum
    }

    /// The metal in it.
    #[must_use]
    pub fn metal(self) -> Mass {
        self.metal
    }

    /// Its currency.
    #[must_use]
    pub fn currency(self) -> Currency {
        self.sum.currency()
    }

    /// Money for a gram of metal, in major units.
    #[must_use]
    pub fn per_gram(self) -> f64 {
        self.major() / self.metal.to_grams()
    }

    /// Money for the metal in a millilitre of stock of this strength, in major units.
    #[must_use]
    pub fn per_millilitre(self, strength: MassConcentration) -> f64 {
        self.per_gram() * strength.to_milligrams_per_millilitre() / 1000.0
    }

    fn major(self) -> f64 {
        self.sum.to_minor() as f64 / libm::pow(10.0, f64::from(self.currency().minor_digits()))
    }
}
