//! The halving ladder: one part of the rung above, one part of distilled water.
//!
//! Small prints use whole drops of a weaker rung instead of a part of a drop. One drop of 20 % carries the
//! metal of two of 10 %, four of 5 %; the water it brings is not the same.

use alloc::vec::Vec;

use super::batch::Bench;
use super::plan::{coarse, cold_warning, jar_warnings};
use super::water::{mark_above, mark_below};
use super::{Balance, Powder, Warning};
use crate::measure::{COVERAGE, Mass, MassConcentration, Molarity, OutOfBounds, PercentByVolume, Volume};

/// A ladder from the strongest rung down.
#[derive(Clone, Debug, PartialEq)]
pub struct Ladder {
    /// The rungs.
    pub rungs: Vec<Rung>,
    /// Powder in the first rung.
    pub powder: Mass,
    /// What to know before going on.
    pub warnings: Vec<Warning>,
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

impl Rung {
    /// Relative expanded uncertainty (k = 2); none when the scale is not known.
    #[must_use]
    pub fn relative_expanded(&self) -> Option<f64> {
        self.relative.map(|own| COVERAGE * own)
    }
}

impl Ladder {
    /// A ladder of `rungs` rungs from `top` down, with at least `keep` left of each.
    ///
    /// Every half is a mark that can be poured to, so that the two halves are equal as they are read and not
    /// only as they are reckoned; the first rung is made up to such a mark. Each halving measures two equal
    /// volumes; the tolerance of the glass adds to the uncertainty of every rung below. Powder out of a jar is
    /// rounded to the scale, and the strengths with it; a sealed vial's is weighed by difference.
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
        let halves = halves(rungs, keep.to_millilitres(), mark_above);
        let below_ml = halves.first().copied().unwrap_or_default();
        let first = Volume::millilitres(mark_above(keep.to_millilitres() + below_ml))?;
        let vial = powder.salt().is_chloroplatinate();
        let weighed = Mass::grams(top.to_grams_per_100_ml() * first.to_millilitres() / 100.0)?;
        let weighed = match balance.filter(|_| !vial) {
            Some(balance) => weighed.to_step(balance.step())?,
            None => weighed,
        };
        let top = if vial || balance.is_none() {
            top
        } else {
            PercentByVolume::grams_per_100_ml(weighed.to_grams() / first.to_millilitres() * 100.0)?
        };
        Self::down(powder, weighed, top, first, &halves, balance)
    }

    /// A ladder out of so much powder, a vial as it is: the first rung is made up to the next mark for `top`, and of each about as much is
    /// left as of every other.
    ///
    /// # Errors
    /// [`OutOfBounds`] when a rung is too weak or too much.
    pub fn of(
        powder: &Powder,
        mass: Mass,
        top: PercentByVolume,
        rungs: u32,
        balance: Option<Balance>,
    ) -> Result<Self, OutOfBounds> {
        let first = Volume::millilitres(mark_above(mass.to_grams() / top.to_grams_per_100_ml() * 100.0))?;
        let top = PercentByVolume::grams_per_100_ml(mass.to_grams() / first.to_millilitres() * 100.0)?;
        // With k left of each of n rungs the first takes k (2 − 2^(1−n)); marks below that leave no rung short.
        let keep_ml = first.to_millilitres() / (2.0 - libm::exp2(1.0 - f64::from(rungs)));
        let halves = halves(rungs, keep_ml, mark_below);
        Self::down(powder, mass, top, first, &halves, balance)
    }

    /// The rungs, from the first down.
    fn down(
        powder: &Powder,
        weighed: Mass,
        top: PercentByVolume,
        first: Volume,
        halves: &[f64],
        balance: Option<Balance>,
    ) -> Result<Self, OutOfBounds> {
        let vial = powder.salt().is_chloroplatinate();
        let bench = Bench { powder, balance, glass: None };
        let (molarity, metal, mut relative) = bench.dissolved(weighed, first)?;
        let mut warnings = Vec::from_iter(vial.then_some(Warning::SealedVial(weighed)));
        warnings.extend(balance.and_then(|own| coarse(powder, weighed, own, None, None)));
        warnings.extend(cold_warning(powder.salt(), top));
        warnings.extend(jar_warnings(powder));
        let mut out =
            Vec::from([Rung { percent: top, molarity, metal, relative, make: first, from_above: None, water: None }]);
        let mut part = 1.0;
        for &half_ml in halves {
            let half = Volume::millilitres(half_ml)?;
            part /= 2.0;
            // c' = c a/(a+b): with a = b, u(c')/c' = u(a)/a / √2 for each halving.
            let tolerance = bench.glass_tolerance_ml(half) / half.to_millilitres();
            let halving = tolerance / libm::sqrt(3.0) / libm::sqrt(2.0);
            relative = relative.map(|own| libm::sqrt(own * own + halving * halving));
            out.push(Rung {
                percent: PercentByVolume::grams_per_100_ml(top.to_grams_per_100_ml() * part)?,
                molarity: Molarity::moles_per_litre(molarity.to_moles_per_litre() * part)?,
                metal: MassConcentration::milligrams_per_millilitre(metal.to_milligrams_per_millilitre() * part)?,
                relative,
                make: half.plus(half)?,
                from_above: Some(half),
                water: Some(half),
            });
        }
        Ok(Self { rungs: out, powder: weighed, warnings })
    }
}

/// What of each rung goes into the next, from the first on, in mL. Reckoned from the last rung up, each must serve what is kept and half of the
/// rung below; `mark` says what can be poured to.
fn halves(rungs: u32, keep_ml: f64, mark: fn(f64) -> f64) -> Vec<f64> {
    let mut all = Vec::new();
    let mut below_ml = 0.0;
    for _ in 1..rungs {
        below_ml = mark(f64::midpoint(keep_ml, below_ml));
        all.push(below_ml);
    }
    all.reverse();
    all
}
