//! The halving ladder: one part of the rung above, one part of distilled water.
//!
//! Small prints use whole drops of a weaker rung instead of a part of a drop. One drop of 20 % carries the
//! metal of two of 10 %, four of 5 %; the water it brings is not the same.

use alloc::vec::Vec;

use super::batch::{Bench, Fill};
use super::{AlkaliChloride, Balance, Powder};
use crate::measure::{Mass, MassConcentration, Molarity, OutOfBounds, PercentByVolume, Volume};

/// A ladder from the strongest rung down.
#[derive(Clone, Debug, PartialEq)]
pub struct Ladder {
    /// The rungs.
    pub rungs: Vec<Rung>,
    /// Powder in the first rung.
    pub powder: Mass,
}

/// One rung.
#[derive(Clone, Debug, PartialEq)]
pub struct Rung {
    /// Grams of powder per 100 mL.
    pub percent: PercentByVolume,
    /// Moles of metal per litre.
    pub molarity: Molarity,
    /// Milligrams of metal per millilitre.
    pub metal: MassConcentration,
    /// Relative standard uncertainty of the strength; none when the scale is not known.
    pub relative: Option<f64>,
    /// What to make of it in all, so that enough is left when the next has been drawn.
    pub make: Volume,
    /// What of the rung above goes into it; none for the first.
    pub from_above: Option<Volume>,
    /// Water that goes into it; none for the first, which is made up.
    pub water: Option<Volume>,
}

impl Ladder {
    /// A ladder of `rungs` rungs from `top` down, with `keep` left of each.
    ///
    /// Each halving measures two equal volumes; the tolerance of the glass adds to the uncertainty of every
    /// rung below. The powder of the first rung is a sealed vial's, weighed by difference.
    ///
    /// # Errors
    /// [`OutOfBounds`] when a rung is too weak or too much.
    pub fn halve(
        powder: &Powder,
        top: PercentByVolume,
        keep: Volume,
        rungs: u32,
        balance: Option<Balance>,
    ) -> Result<Self, OutOfBounds> {
        // From the last rung up: each must serve what is kept and half of the rung below.
        let mut amounts = Vec::new();
        let mut below_ml = 0.0;
        for _ in 0..rungs {
            let make_ml = keep.to_millilitres() + below_ml / 2.0;
            amounts.push(make_ml);
            below_ml = make_ml;
        }
        amounts.reverse();
        let salt_water = AlkaliChloride::plain_salt();
        let bench = Bench { powder, chloride: &salt_water, balance, glass: None };
        let first_ml = amounts.first().copied().unwrap_or(0.0);
        let first_powder = Mass::grams(top.to_grams_per_100_ml() * first_ml / 100.0)?;
        let first = bench.batch(first_powder, Mass::ZERO, Fill::To(Volume::millilitres(first_ml)?))?.strengths;
        let mut out = Vec::new();
        let mut relative = first.relative;
        for (place, make_ml) in amounts.into_iter().enumerate() {
            let part = libm::pow(0.5, place as f64);
            let half = Volume::millilitres(make_ml / 2.0)?;
            if place > 0 {
                // c' = c a/(a+b): with a = b, u(c')/c' = u(a)/a / √2 for each halving.
                let tolerance = bench.glass_tolerance_ml(half) / half.to_millilitres();
                let halving = tolerance / libm::sqrt(3.0) / libm::sqrt(2.0);
                relative = relative.map(|own| libm::sqrt(own * own + halving * halving));
            }
            let drawn = (place > 0).then_some(half);
            out.push(Rung {
                percent: PercentByVolume::grams_per_100_ml(top.to_grams_per_100_ml() * part)?,
                molarity: Molarity::moles_per_litre(first.molarity.best.to_moles_per_litre() * part)?,
                metal: MassConcentration::milligrams_per_millilitre(
                    first.metal.best.to_milligrams_per_millilitre() * part,
                )?,
                relative,
                make: Volume::millilitres(make_ml)?,
                from_above: drawn,
                water: drawn,
            });
        }
        Ok(Self { rungs: out, powder: first_powder })
    }
}
