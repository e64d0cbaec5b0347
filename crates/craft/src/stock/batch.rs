//! One batch: so much powder and chloride in so much solution, and what it comes to.
//!
//! Both the plan and what was really weighed go through here, so that they cannot differ in arithmetic.

use alloc::vec::Vec;

use super::molar_mass::Weights;
use super::powder::Assay;
use super::{AlkaliChloride, Balance, Powder, RoomTaken};
use crate::measure::{
    Amount, AmountRatio, COVERAGE, Mass, MassConcentration, Molarity, OutOfBounds, PercentByVolume, Uncertain, Volume,
};
use crate::numerics::{Inputs, Linear};
use crate::source::{ABOVE_THE_TABLE, cylinder_for};

/// Where uncertainty comes from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Cause {
    /// Weighing the powder.
    SaltWeighing,
    /// Weighing the chloride.
    ChlorideWeighing,
    /// Measuring a strong liquid.
    Measuring,
    /// The mark of the glass.
    Glass,
    /// The room the solids take, when water was added and nothing made up.
    SolidsRoom,
    /// The table of atomic weights.
    AtomicWeights,
}

/// The strength of a batch, in every unit.
#[derive(Clone, Debug, PartialEq)]
pub struct Strengths {
    /// Moles of metal per litre.
    pub molarity: Uncertain<Molarity>,
    /// Milligrams of metal per millilitre.
    pub metal: Uncertain<MassConcentration>,
    /// Grams of anhydrous complex per 100 mL.
    pub complex: Uncertain<PercentByVolume>,
    /// Grams of powder, as weighed, per 100 mL.
    pub salt: PercentByVolume,
    /// Relative standard uncertainty; none when the scale is not known.
    pub relative: Option<f64>,
    /// Relative standard uncertainty by cause, largest first; empty when the scale is not known.
    pub causes: Vec<(Cause, f64)>,
}

/// A batch.
#[derive(Clone, Debug, PartialEq)]
pub struct Batch {
    /// Powder.
    pub salt: Mass,
    /// Alkali chloride.
    pub chloride: Mass,
    /// Finished solution.
    pub volume: Uncertain<Volume>,
    /// Metal in it.
    pub amount: Amount,
    /// Chloride this much powder needs at least.
    pub chloride_needed: Mass,
    /// Moles of added chloride per mole of metal.
    pub chloride_to_metal: Uncertain<AmountRatio>,
    /// How strong it is.
    pub strengths: Strengths,
}

/// Added chloride against the bare need, as a part of it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum AgainstNeed {
    /// Less by this part.
    Under(f64),
    /// More by this part, or just enough.
    Over(f64),
}

impl Strengths {
    /// Relative expanded uncertainty (k = 2); none when the scale is not known.
    #[must_use]
    pub fn relative_expanded(&self) -> Option<f64> {
        self.relative.map(|own| COVERAGE * own)
    }
}

/// How the final volume comes about.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) enum Fill {
    /// Made up to a mark.
    To(Volume),
    /// So much water added, and the solids take their room.
    Water(Volume, RoomTaken),
}

/// What stays the same between batches of one plan.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Bench<'a> {
    pub powder: &'a Powder,
    pub balance: Option<Balance>,
    /// Tolerance of the glass, when the maker states it.
    pub glass: Option<Volume>,
}

/// Half the range in which a glass may be off at this volume, in mL: as stated, or that of a class B cylinder.
pub(crate) fn tolerance_ml(glass: Option<Volume>, volume: Volume) -> f64 {
    let proportion = || volume.to_millilitres() * ABOVE_THE_TABLE.value;
    glass.map_or_else(
        || cylinder_for(volume).map_or_else(proportion, |cylinder| cylinder.tolerance_ml),
        Volume::to_millilitres,
    )
}

impl Bench<'_> {
    /// Half the range in which the glass may be off at this volume, in mL.
    pub(crate) fn glass_tolerance_ml(&self, volume: Volume) -> f64 {
        tolerance_ml(self.glass, volume)
    }

    /// Moles of metal per gram of powder.
    pub(crate) fn moles_per_gram(&self, inputs: &mut Inputs<Cause>, weights: &mut Weights) -> Linear {
        match self.powder.assay() {
            Assay::Salt(part) => &Linear::exact(part) / &weights.molar_mass(inputs, self.powder.salt().formula()),
            Assay::Metal(part) => &Linear::exact(part) / &weights.of(inputs, self.powder.salt().metal().element()),
        }
    }

    fn weigh(&self, inputs: &mut Inputs<Cause>, cause: Cause, mass: Mass) -> Linear {
        match self.balance {
            Some(balance) if !mass.is_zero() => balance.read(inputs, cause, mass),
            _ => Linear::exact(mass.to_grams()),
        }
    }

    /// So much powder alone in so much solution: moles and milligrams of metal, and the relative standard
    /// uncertainty of both, none when the scale is not known.
    ///
    /// # Errors
    /// [`OutOfBounds`] when a strength is beyond what a solution can hold.
    pub(crate) fn dissolved(
        &self,
        salt: Mass,
        volume: Volume,
    ) -> Result<(Molarity, MassConcentration, Option<f64>), OutOfBounds> {
        let (mut inputs, mut weights) = (Inputs::default(), Weights::default());
        let salt_g = self.weigh(&mut inputs, Cause::SaltWeighing, salt);
        let moles = &salt_g * &self.moles_per_gram(&mut inputs, &mut weights);
        let tolerance = self.glass_tolerance_ml(volume);
        let volume_ml = inputs.add_rectangular(Cause::Glass, volume.to_millilitres(), tolerance);
        let molarity = &moles / &(&volume_ml * 1e-3);
        let metal = &molarity * &weights.of(&mut inputs, self.powder.salt().metal().element());
        let known = self.balance.is_some() && molarity.value() > 0.0;
        Ok((
            Molarity::moles_per_litre(molarity.value())?,
            MassConcentration::milligrams_per_millilitre(metal.value())?,
            known.then(|| inputs.standard_uncertainty(&molarity) / molarity.value()),
        ))
    }

    /// The batch of so much powder and chloride.
    ///
    /// # Errors
    /// [`OutOfBounds`] when a strength is beyond what a solution can hold.
    pub(crate) fn batch(
        &self,
        salt: Mass,
        with: &AlkaliChloride,
        chloride: Mass,
        fill: Fill,
    ) -> Result<Batch, OutOfBounds> {
        let (mut inputs, mut weights) = (Inputs::default(), Weights::default());
        let salt_g = self.weigh(&mut inputs, Cause::SaltWeighing, salt);
        let chloride_g = self.weigh(&mut inputs, Cause::ChlorideWeighing, chloride);
        let moles = &salt_g * &self.moles_per_gram(&mut inputs, &mut weights);

        let measured = match fill {
            Fill::To(volume) | Fill::Water(volume, _) => volume,
        };
        let tolerance = self.glass_tolerance_ml(measured);
        let poured = inputs.add_rectangular(Cause::Glass, measured.to_millilitres(), tolerance);
        let volume_ml = match fill {
            Fill::To(_) => poured,
            Fill::Water(_, room) => {
                &poured + &inputs.add_rectangular(Cause::SolidsRoom, room.middle_ml(), room.half_width_ml())
            }
        };

        let chloride_molar = weights.molar_mass(&mut inputs, with.formula());
        let needed = &(&moles * &chloride_molar) * self.powder.salt().chlorides_needed();
        let ratio = &(&chloride_g / &chloride_molar) / &moles;
        let litres = &volume_ml * 1e-3;
        let molarity = &moles / &litres;
        let metal = &molarity * &weights.of(&mut inputs, self.powder.salt().metal().element());
        let complex_molar = weights.molar_mass(&mut inputs, &self.powder.salt().complex(with));
        let complex = &(&molarity * &complex_molar) * 0.1;

        let u = |y: &Linear| inputs.standard_uncertainty(y);
        let known = self.balance.is_some() && molarity.value() > 0.0;
        let causes = if known { inputs.contributions(&molarity) } else { Vec::new() };
        let strengths = Strengths {
            molarity: Uncertain::new(Molarity::moles_per_litre(molarity.value())?, u(&molarity)),
            metal: Uncertain::new(MassConcentration::milligrams_per_millilitre(metal.value())?, u(&metal)),
            complex: Uncertain::new(PercentByVolume::grams_per_100_ml(complex.value())?, u(&complex)),
            salt: PercentByVolume::grams_per_100_ml(salt.to_grams() / volume_ml.value() * 100.0)?,
            relative: known.then(|| u(&molarity) / molarity.value()),
            causes: causes.into_iter().map(|(cause, own)| (cause, own / molarity.value())).collect(),
        };
        Ok(Batch {
            salt,
            chloride,
            volume: Uncertain::new(Volume::millilitres(volume_ml.value())?, u(&volume_ml)),
            amount: Amount::moles(moles.value())?,
            chloride_needed: Mass::grams(needed.value())?,
            chloride_to_metal: Uncertain::new(AmountRatio::ratio(ratio.value())?, u(&ratio)),
            strengths,
        })
    }
}

impl Batch {
    /// Chloride over the bare need, as a part of it; none when none is needed.
    #[must_use]
    pub fn chloride_excess(&self) -> Option<f64> {
        let needed = self.chloride_needed.to_grams();
        (needed > 0.0).then(|| self.chloride.to_grams() / needed - 1.0)
    }

    /// The same, told by which side of the need it is on; none when none is needed.
    #[must_use]
    pub fn against_the_need(&self) -> Option<AgainstNeed> {
        // A millionth either way is the microgram masses are kept in.
        self.chloride_excess()
            .map(|excess| if excess < -1e-6 { AgainstNeed::Under(-excess) } else { AgainstNeed::Over(excess.max(0.0)) })
    }

    /// Chloride that must be added to reach the bare need; nothing when there is enough.
    #[must_use]
    pub fn chloride_missing(&self) -> Mass {
        self.chloride_needed.excess_over(self.chloride)
    }

    /// What dominates the uncertainty of the strength, and its part of the variance.
    #[must_use]
    pub fn dominant(&self) -> Option<(Cause, f64)> {
        let (cause, own) = *self.strengths.causes.first()?;
        let whole = self.strengths.relative?;
        Some((cause, own * own / (whole * whole)))
    }
}
