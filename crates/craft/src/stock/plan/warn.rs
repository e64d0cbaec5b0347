//! What a plan warns of, looked for one thing at a time.

use alloc::vec::Vec;

use super::{Goal, Request, usual_strength};
use crate::measure::{Bounded, Mass, MassFraction, PercentByVolume, Volume};
use crate::source::{
    AIM_MISSED, ASSAY_NEAR, BOTTLE_FILL, CHLORIDE_EXCESS, CHLORIDE_SHORT, CHLORIDE_SOLUTION_ML, CLEARLY_WEAKER,
    COLD_CRYSTALS, Element, MOLAR_MASS_AGREES, RECOVERED_ENOUGH, SOLUTION_PART, STEPS_WANTED,
};
use crate::stock::identity::solubility;
use crate::stock::warning::{Coarse, Dilution, Warning};
use crate::stock::{
    Balance, Batch, ChlorideChoice, Formula, Hydration, MetalSalt, Powder, Purity, PurityOf, Water, grouped,
    mass_fraction, meetings, molar_mass,
};

/// All of them, the one that matters most first.
pub(super) fn all(request: &Request, batch: &Batch, complex: &Formula, water: &Water) -> Vec<Warning> {
    let mut warnings = Vec::new();
    let salt = request.powder.salt();
    warnings.extend(pair_warnings(request, complex));
    if salt.is_chloroplatinate() {
        warnings.push(Warning::SealedVial(batch.salt));
    }
    warnings.extend(chloride_warning(salt.chlorides_needed(), batch));
    if let Some(bottle) = request.bottle.filter(|bottle| !holds(*bottle, batch.volume.best)) {
        warnings.push(Warning::BottleTooSmall { volume: batch.volume.best, bottle });
    }
    if !batch.chloride.is_zero() && request.chloride.formula().count(Element::LI) > 0.0 {
        warnings.push(Warning::ChlorideDrawsWater(request.chloride.formula().clone()));
    }
    if request.chloride_named && salt.chlorides_needed() == 0.0 && batch.chloride.is_zero() {
        warnings.push(Warning::ChlorideUnused(request.chloride.formula().clone()));
    }
    if let Goal::Into(_, asked) | Goal::Dissolve(asked, _) = request.goal
        && asked != batch.salt
    {
        warnings.push(Warning::RoundedToScale { asked, planned: batch.salt });
    }
    warnings.extend(coarse_warnings(request, batch, water));
    warnings.extend(solubility_warnings(request, batch, water));
    warnings.extend(jar_warnings(&request.powder));
    warnings.extend(molar_mass_warning(request));
    if water.recovery.recovered() < RECOVERED_ENOUGH.value {
        warnings.push(Warning::StaysInBeaker(1.0 - water.recovery.recovered()));
    }
    warnings.extend(aim_warning(request, batch));
    if request.glass.is_some() && request.balance.is_none() {
        warnings.push(Warning::GlassUnused);
    }
    warnings
}

/// Whether a bottle holds a volume and its dropper.
pub(in crate::stock) fn holds(bottle: Volume, volume: Volume) -> bool {
    volume.to_millilitres() <= bottle.to_millilitres() * BOTTLE_FILL.value + 1e-9
}

/// Short or far over, where chloride is needed at all; far over also where it is not.
pub(in crate::stock) fn chloride_warning(needed: f64, batch: &Batch) -> Option<Warning> {
    let ratio = batch.chloride_to_metal.best;
    if needed > 0.0 && ratio.to_ratio() < CHLORIDE_SHORT.value {
        Some(Warning::ChlorideShort(ratio))
    } else if ratio.to_ratio() > CHLORIDE_EXCESS.value {
        Some(Warning::ChlorideExcess(ratio))
    } else {
        None
    }
}

fn pair_warnings(request: &Request, complex: &Formula) -> Vec<Warning> {
    let adds_chloride = request.powder.salt().chlorides_needed() > 0.0
        || matches!(request.chloride_choice, ChlorideChoice::Mass(_) | ChlorideChoice::Ratio(_));
    // All that comes together: what is in the stock, and everything it will meet.
    let mut together = Vec::from([complex]);
    together.extend(adds_chloride.then_some(request.chloride.formula()));
    together.extend(&request.meets);
    let found = together
        .iter()
        .enumerate()
        .flat_map(|(place, one)| together.iter().skip(place + 1).flat_map(|other| meetings(one, other)))
        .collect();
    grouped(found).into_iter().map(Warning::Meets).collect()
}

fn coarse_warnings(request: &Request, batch: &Batch, water: &Water) -> Vec<Warning> {
    let Some(balance) = request.balance else {
        return Vec::new();
    };
    let step = balance.step();
    let Ok(ten_steps) = Mass::grams(step.to_grams() * STEPS_WANTED.value) else {
        return Vec::new();
    };
    let larger = larger_volume(request, ten_steps);
    let dilution = stronger_first(request, batch, ten_steps);
    let mut warnings = Vec::from_iter(coarse(&request.powder, batch.salt, balance, larger, dilution));
    if batch.chloride < ten_steps && !batch.chloride.is_zero() {
        // Ten steps at a fifth by weight, taken by mL out of the water to dissolve in; nothing where that is too little.
        let make_up_to_ml = libm::ceil(CHLORIDE_SOLUTION_ML.value * ten_steps.to_grams().max(1.0));
        let take_ml = make_up_to_ml * batch.chloride.to_grams() / ten_steps.to_grams();
        let fits = take_ml <= SOLUTION_PART.value * water.dissolve.to_millilitres();
        let dilution = match (Volume::millilitres(make_up_to_ml), Volume::millilitres(take_ml)) {
            (Ok(make_up_to), Ok(take)) if fits => {
                Some(Dilution { weigh: ten_steps, with: None, make_up_to, take, up_to: None })
            }
            _ => None,
        };
        let what = alloc::format!("{}", request.chloride.formula());
        warnings.push(Warning::Coarse(Coarse { what, mass: batch.chloride, step, larger_volume: None, dilution }));
    }
    warnings
}

/// Powder under ten steps of the scale. A vial holds what it holds: only a finer scale tells more of it.
pub(in crate::stock) fn coarse(
    powder: &Powder,
    mass: Mass,
    balance: Balance,
    larger_volume: Option<Volume>,
    dilution: Option<Dilution>,
) -> Option<Warning> {
    let ten_steps_g = balance.step().to_grams() * STEPS_WANTED.value;
    let weighed = !powder.salt().is_chloroplatinate();
    (mass.to_grams() < ten_steps_g - 1e-9).then(|| {
        Warning::Coarse(Coarse {
            what: alloc::format!("{}", powder.salt().formula()),
            mass,
            step: balance.step(),
            larger_volume: larger_volume.filter(|_| weighed),
            dilution: dilution.filter(|_| weighed),
        })
    })
}

/// The volume at which the strength that was asked, not the one rounded to the scale, weighs ten steps; none where the powder or the
/// money is what there is, or the bottle does not hold it.
fn larger_volume(request: &Request, ten_steps: Mass) -> Option<Volume> {
    let (Goal::Make(_, strength) | Goal::FillBottle(_, strength)) = request.goal else { return None };
    let litres = ten_steps.to_grams() * request.moles_per_gram() / request.moles_per_litre(strength);
    let larger = Volume::millilitres(libm::ceil(litres * 1000.0)).ok()?;
    Some(larger).filter(|volume| request.bottle.is_none_or(|bottle| holds(bottle, *volume)))
}

/// For a weak solution: ten steps of powder, with their chloride, at about the usual strength in whole millilitres, of which so many mL
/// are diluted to what was asked.
fn stronger_first(request: &Request, batch: &Batch, ten_steps: Mass) -> Option<Dilution> {
    let usual = request.moles_per_litre(usual_strength(&request.powder));
    let wanted = match request.goal {
        Goal::Make(_, strength) | Goal::FillBottle(_, strength) => request.moles_per_litre(strength),
        _ => batch.strengths.molarity.best.to_moles_per_litre(),
    };
    if wanted > usual * CLEARLY_WEAKER.value {
        return None;
    }
    let millimoles = ten_steps.to_grams() * request.moles_per_gram() * 1000.0;
    let make_up_to_ml = libm::ceil(millimoles / usual);
    let take_ml = batch.volume.best.to_millilitres() * wanted * make_up_to_ml / millimoles;
    let chloride = request.chloride_for(ten_steps).ok().filter(|mass| !mass.is_zero());
    Some(Dilution {
        weigh: ten_steps,
        with: chloride.map(|mass| (request.chloride.formula().clone(), mass)),
        make_up_to: Volume::millilitres(make_up_to_ml).ok()?,
        take: Volume::millilitres(take_ml).ok()?,
        up_to: Some(batch.volume.best),
    })
}

fn solubility_warnings(request: &Request, batch: &Batch, water: &Water) -> Vec<Warning> {
    let mut warnings = Vec::new();
    let water_g = water.dissolve.to_millilitres();
    let asked = batch.chloride.to_grams() / water_g * 100.0;
    if let Some(row) = solubility(request.chloride.formula()).filter(|row| asked > row.grams_per_100_g_water) {
        warnings.push(Warning::Solubility { row, asked });
    }
    warnings.extend(cold_warning(request.powder.salt(), batch.strengths.salt));
    warnings
}

/// Potassium tetrachloroplatinate sits near saturation in a cool room.
pub(in crate::stock) fn cold_warning(salt: &MetalSalt, strength: PercentByVolume) -> Option<Warning> {
    let potassium = salt.formula().count(Element::K) > 0.0;
    (salt.is_chloroplatinate() && potassium && strength.in_unit() >= COLD_CRYSTALS.value)
        .then_some(Warning::MayCrystallise)
}

/// What the jar leaves open: its water and its purity.
pub(in crate::stock) fn jar_warnings(powder: &Powder) -> Vec<Warning> {
    let mut warnings = Vec::new();
    // A metal assay says the metal whatever the water is.
    if !matches!(powder.purity(), Purity::Stated { of: PurityOf::Metal, .. }) {
        warnings.extend(hydration_warning(powder));
    }
    match powder.purity() {
        Purity::Unstated => warnings.push(Warning::PurityUnstated),
        Purity::Stated { of: PurityOf::Unknown, .. } => warnings.push(Warning::PurityMeaningUnknown),
        Purity::Stated { of: PurityOf::Trace, .. } => warnings.push(Warning::PurityTraceBasis),
        Purity::Stated { of: PurityOf::Metal, .. } => {}
        Purity::Stated { fraction, of: PurityOf::Salt } => warnings.extend(assay_warning(powder, fraction)),
    }
    warnings
}

/// A molar mass on the jar that is not the formula's.
fn molar_mass_warning(request: &Request) -> Option<Warning> {
    let formula = request.powder.salt().formula();
    let stated = request.stated_molar_mass?;
    let disagrees = |formula: &Formula| {
        let computed = molar_mass(formula).best;
        let off = libm::fabs(stated.to_grams_per_mole() / computed.to_grams_per_mole() - 1.0);
        (off > MOLAR_MASS_AGREES.value).then_some(computed)
    };
    let computed = disagrees(formula)?;
    let forms = [0.0, 0.5, 1.0, 1.5, 2.0, 2.5, 3.0, 4.0, 5.0, 6.0, 8.0, 9.0, 10.0];
    let hydrates = forms.into_iter().filter_map(|waters| request.powder.salt().with_waters(waters).ok());
    let fits = hydrates.map(|salt| salt.formula().clone()).find(|form| disagrees(form).is_none());
    Some(Warning::MolarMassDisagrees { stated, computed, fits })
}

/// The water is open: how much metal less the powder holds as the wettest form met or, where no form is in the table,
/// for each water.
fn hydration_warning(powder: &Powder) -> Option<Warning> {
    let salt = powder.salt();
    let less = |waters: f64| {
        let may_be = salt.with_waters(waters).ok()?.formula().clone();
        let metal = salt.metal().element();
        let (dry, wet) = (mass_fraction(salt.formula(), metal)?, mass_fraction(&may_be, metal)?);
        Some((may_be, 1.0 - wet.best.to_ratio() / dry.best.to_ratio()))
    };
    match powder.hydration() {
        Hydration::Unstated(hydrates) => {
            let (may_be, less) = less(hydrates.waters.iter().copied().fold(0.0, f64::max))?;
            Some(Warning::HydrationUnstated { may_be, less })
        }
        Hydration::Unknown => less(1.0).map(|(_, less)| Warning::HydrationUnknown { less }),
        Hydration::Stated | Hydration::AsWritten => None,
    }
}

/// A "purity" that is just what the pure salt, or a hydrate of it, holds of metal is most likely an assay.
fn assay_warning(powder: &Powder, fraction: MassFraction) -> Option<Warning> {
    let salt = powder.salt();
    let holds = |formula: &Formula| mass_fraction(formula, salt.metal().element()).map(|own| own.best.to_ratio());
    let mut forms = Vec::from([salt.formula().clone()]);
    if let Hydration::Unstated(hydrates) = powder.hydration() {
        forms.extend(hydrates.waters.iter().filter_map(|&waters| salt.formula().with_waters(waters).ok()));
    }
    let near = forms.iter().filter_map(holds).any(|own| libm::fabs(own - fraction.to_ratio()) < ASSAY_NEAR.value);
    near.then_some(Warning::PurityMayBeAssay(fraction))
}

/// Whether rounding to the scale moved the strength away from what was asked.
fn aim_warning(request: &Request, batch: &Batch) -> Option<Warning> {
    let (Goal::Make(_, strength) | Goal::FillBottle(_, strength)) = request.goal else { return None };
    let off = batch.strengths.molarity.best.to_moles_per_litre() / request.moles_per_litre(strength) - 1.0;
    (libm::fabs(off) > AIM_MISSED.value).then_some(Warning::AimMissed(off))
}
