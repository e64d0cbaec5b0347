//! Amounts, molar masses and the several things people call strength.
//!
//! "15 %" has at least three meanings. They are distinct types here, and one becomes another only
//! through a stated density: [`PercentByVolume`] (grams per 100 mL of finished solution, the trade's
//! usual meaning), [`PercentByMass`] (grams per 100 g of solution) and [`GramsPer100MlWater`]
//! (grams added to 100 mL of water).

use super::bounds::quantity;
use super::{OutOfBounds, Volume};

quantity!(
    /// An amount of substance.
    Amount, "amount of substance", "mol", moles / to_moles, 0.0 ..= 1000.0
);
quantity!(
    /// Mass of one mole.
    MolarMass, "molar mass", "g/mol", grams_per_mole / to_grams_per_mole, 0.5 ..= 100000.0
);
quantity!(
    /// Amount of metal in a litre of finished solution.
    Molarity, "molarity", "mol/L", moles_per_litre / to_moles_per_litre, 0.000001 ..= 20.0
);
quantity!(
    /// Mass of metal in a millilitre of finished solution.
    MassConcentration, "metal strength", "mg/mL", milligrams_per_millilitre / to_milligrams_per_millilitre, 0.0001 ..= 2000.0
);
quantity!(
    /// Density of a solution or a solid.
    MassDensity, "density", "g/mL", grams_per_millilitre / to_grams_per_millilitre, 0.1 ..= 25.0
);
quantity!(
    /// Grams per 100 mL of finished solution: "% w/v".
    PercentByVolume, "strength in % w/v", "g per 100 mL", grams_per_100_ml / to_grams_per_100_ml, 0.0001 ..= 100.0
);
quantity!(
    /// Grams per 100 g of finished solution: "% w/w".
    PercentByMass, "strength in % w/w", "g per 100 g", grams_per_100_g / to_grams_per_100_g, 0.0001 ..= 99.9999
);
quantity!(
    /// Grams stirred into 100 mL of water, whatever volume that comes to.
    GramsPer100MlWater, "strength per 100 mL of water", "g per 100 mL water", grams / to_grams, 0.0001 ..= 100000.0
);
quantity!(
    /// A part of a whole by mass, such as the purity of a powder.
    MassFraction, "mass fraction", "g/g", ratio / to_ratio, 0.000001 ..= 1.0
);
quantity!(
    /// Moles of one thing per mole of another.
    AmountRatio, "mole ratio", "mol/mol", ratio / to_ratio, 0.0 ..= 1000.0
);

impl PercentByVolume {
    /// The same solution by mass, given its density.
    ///
    /// # Errors
    /// [`OutOfBounds`] when the density cannot belong to such a solution (the solid would outweigh it).
    pub fn by_mass(self, density: MassDensity) -> Result<PercentByMass, OutOfBounds> {
        PercentByMass::grams_per_100_g(self.0 / density.to_grams_per_millilitre())
    }
}

impl PercentByMass {
    /// The same solution by finished volume, given its density.
    ///
    /// # Errors
    /// [`OutOfBounds`] above 100 g per 100 mL.
    pub fn by_volume(self, density: MassDensity) -> Result<PercentByVolume, OutOfBounds> {
        PercentByVolume::grams_per_100_ml(self.0 * density.to_grams_per_millilitre())
    }

    /// The same solution as grams per 100 mL of water taken.
    ///
    /// Mass fraction w and grams r per 100 g of water: r = 100 w / (1 - w), as the definitions before
    /// the solubility tables of the *CRC Handbook of Chemistry and Physics* (Haynes, sec. 8) have it;
    /// water of density `water` turns 100 g into 100 mL.
    ///
    /// # Errors
    /// [`OutOfBounds`] when the result leaves the range of [`GramsPer100MlWater`].
    pub fn per_100_ml_water(self, water: MassDensity) -> Result<GramsPer100MlWater, OutOfBounds> {
        let w = self.0 / 100.0;
        GramsPer100MlWater::grams(100.0 * w / (1.0 - w) * water.to_grams_per_millilitre())
    }
}

impl GramsPer100MlWater {
    /// The same solution by mass: w = m / (m + mass of the water).
    ///
    /// # Errors
    /// [`OutOfBounds`] when the result leaves the range of [`PercentByMass`].
    pub fn by_mass(self, water: MassDensity) -> Result<PercentByMass, OutOfBounds> {
        let water_g = 100.0 * water.to_grams_per_millilitre();
        PercentByMass::grams_per_100_g(100.0 * self.0 / (self.0 + water_g))
    }
}

impl Molarity {
    /// The strength of `amount` in `volume`.
    ///
    /// # Errors
    /// [`OutOfBounds`] when the volume is nothing or the strength impossible.
    pub fn of(amount: Amount, volume: Volume) -> Result<Self, OutOfBounds> {
        Self::moles_per_litre(amount.to_moles() / (volume.to_millilitres() / 1000.0))
    }
}
