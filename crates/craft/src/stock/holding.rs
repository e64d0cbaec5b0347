//! What is in a jar or a bottle: metal per gram of powder, metal per millilitre of solution, and back.

use super::batch::Cause;
use super::molar_mass::Weights;
use super::powder::Assay;
use super::{FormsError, Formula, Hydrate, Hydration, Powder, Strength, mass_fraction, molar_mass, strengths_by_form};
use crate::measure::{
    Mass, MassConcentration, MassFraction, Molarity, OutOfBounds, PercentByVolume, Uncertain, Volume,
};
use crate::numerics::{Inputs, Linear};
use crate::source::Element;

/// The metal a formula is kept account of by: palladium, platinum or gold; none when it holds none of them, or two.
#[must_use]
pub fn kept_metal(formula: &Formula) -> Option<Element> {
    let mut held = [Element::PD, Element::PT, Element::AU].into_iter().filter(|&metal| formula.count(metal) > 0.0);
    let first = held.next();
    first.filter(|_| held.next().is_none())
}

/// Grams of metal per gram of powder at the purity of its jar.
///
/// The standard uncertainty holds that of the atomic weights and, where the jar leaves the water open, the width
/// between the hydrates that are met (rectangular). A purity counts as stated; one that is not stated counts as 100 %.
#[must_use]
pub fn metal_in_powder(powder: &Powder) -> Uncertain<MassFraction> {
    let element = powder.salt().metal().element();
    let (mut inputs, mut weights) = (Inputs::<Cause>::default(), Weights::default());
    let fraction = match powder.assay() {
        Assay::Metal(part) => Linear::exact(part),
        Assay::Salt(part) => {
            let formula = powder.salt().formula();
            let metal = &weights.of(&mut inputs, element) * formula.count(element);
            &(&metal / &weights.molar_mass(&mut inputs, formula)) * part
        }
    };
    let own = inputs.standard_uncertainty(&fraction);
    let open = match (powder.hydration(), powder.assay()) {
        (Hydration::Unstated(row), Assay::Salt(part)) => {
            let of = |waters: f64| {
                let form = powder.salt().formula().with_waters(waters).ok()?;
                mass_fraction(&form, element).map(|fraction| fraction.best.to_ratio() * part)
            };
            let (least, most) = row
                .waters
                .iter()
                .filter_map(|&waters| of(waters))
                .fold((f64::INFINITY, 0.0_f64), |(least, most), own| (least.min(own), most.max(own)));
            if least < most { (most - least) / 2.0 / libm::sqrt(3.0) } else { 0.0 }
        }
        _ => 0.0,
    };
    // OK because a metal salt holds metal, and never more than all.
    let best = MassFraction::ratio(fraction.value().min(1.0)).expect("BUG: a metal salt without metal");
    Uncertain::new(best, libm::sqrt(own * own + open * open))
}

/// Milligrams of metal per millilitre of a solution whose label says `strength` of `solid`; none when the solid holds no
/// metal that is kept account of.
///
/// Where the water of the solid is open, the middle of the forms that are met, with the width between them (rectangular).
/// The figure on a label itself counts as certain.
///
/// # Errors
/// [`FormsError`] when the water is said twice or the strength is beyond any solution.
pub fn metal_in_solution(
    solid: &Formula,
    hydrate: Hydrate,
    strength: Strength,
) -> Result<Option<Uncertain<MassConcentration>>, FormsError> {
    let Some(element) = kept_metal(solid) else { return Ok(None) };
    let of_molarity = |molarity: Molarity| {
        let weight = element.weight();
        let per_mole = weight.grams_per_mole * solid.count(element);
        let best = MassConcentration::milligrams_per_millilitre(molarity.to_moles_per_litre() * per_mole)?;
        Ok(Uncertain::new(best, best.to_milligrams_per_millilitre() * weight.bound / weight.grams_per_mole))
    };
    match strength {
        Strength::Metal(metal) => Ok(Some(Uncertain::new(metal, 0.0))),
        Strength::Molarity(molarity) => of_molarity(molarity).map(Some).map_err(FormsError::OutOfBounds),
        Strength::ComplexPercent(percent) | Strength::SaltPer100Ml(percent) => {
            let forms = strengths_by_form(solid, hydrate, percent, Some(element))?.forms;
            let metals =
                forms.iter().filter_map(|form| form.metal.map(MassConcentration::to_milligrams_per_millilitre));
            let (least, most) =
                metals.fold((f64::INFINITY, 0.0_f64), |(least, most), own| (least.min(own), most.max(own)));
            let best = MassConcentration::milligrams_per_millilitre(f64::midpoint(least, most))?;
            Ok(Some(Uncertain::new(best, (most - least) / 2.0 / libm::sqrt(3.0))))
        }
    }
}

/// Metal per volume; none of an empty bottle or one without metal.
#[must_use]
pub fn concentration(metal: Mass, volume: Volume) -> Option<MassConcentration> {
    let ml = volume.to_millilitres();
    let mg_per_ml = metal.to_grams() * 1000.0 / ml;
    if ml > 0.0 { MassConcentration::milligrams_per_millilitre(mg_per_ml).ok() } else { None }
}

/// Moles of `metal` per litre.
///
/// # Errors
/// [`OutOfBounds`] beyond what a [`Molarity`] holds.
pub fn molarity_of(metal: Element, strength: MassConcentration) -> Result<Molarity, OutOfBounds> {
    Molarity::moles_per_litre(strength.to_milligrams_per_millilitre() / metal.weight().grams_per_mole)
}

/// Grams of `solid` per 100 mL that hold so much metal; none when it holds none.
#[must_use]
pub fn percent_of(solid: &Formula, strength: MassConcentration) -> Option<PercentByVolume> {
    let metal = kept_metal(solid)?;
    let moles = molarity_of(metal, strength).ok()?.to_moles_per_litre() / solid.count(metal);
    PercentByVolume::grams_per_100_ml(moles * molar_mass(solid).best.to_grams_per_mole() / 10.0).ok()
}

/// So much of `mass` as metal, to the microgram.
///
/// # Errors
/// [`OutOfBounds`] beyond what a [`Mass`] holds.
pub fn metal_of_mass(mass: Mass, fraction: MassFraction) -> Result<Mass, OutOfBounds> {
    Mass::grams(mass.to_grams() * fraction.to_ratio())
}

/// The metal in so much solution, to the microgram.
///
/// # Errors
/// [`OutOfBounds`] beyond what a [`Mass`] holds.
pub fn metal_of_volume(volume: Volume, strength: MassConcentration) -> Result<Mass, OutOfBounds> {
    Mass::grams(volume.to_millilitres() * strength.to_milligrams_per_millilitre() / 1000.0)
}

/// Relative standard uncertainty of a strength after water was added: of the strength before, of the volume it was in, and of
/// the water (GUM first order for c V / (V + W)).
#[must_use]
pub fn thinned_u(relative: f64, before: Uncertain<Volume>, water: Uncertain<Volume>) -> f64 {
    let (v, w) = (before.best.to_millilitres(), water.best.to_millilitres());
    if v <= 0.0 {
        return relative;
    }
    let of_volume = before.standard() * w / (v * (v + w));
    let of_water = water.standard() / (v + w);
    libm::sqrt(relative * relative + of_volume * of_volume + of_water * of_water)
}
