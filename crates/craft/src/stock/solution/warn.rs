//! What a plan of a solution warns of, the weightiest first.

use alloc::vec::Vec;

use super::{ComesAs, Dissolved, Dose, HowMuch, Ingredient, SolutionRequest, Strong};
use crate::measure::{Mass, Volume};
use crate::source::{AIM_MISSED, CHLORATE_SMALL, Class, STEPS_WANTED};
use crate::stock::identity::solubility;
use crate::stock::plan::holds;
use crate::stock::warning::{Coarse, Warning};
use crate::stock::{Formula, Purity, PurityOf, RoomTaken, classes, grouped, meetings};

/// All of them.
pub(super) fn all(request: &SolutionRequest, dissolved: &[Dissolved], volume: Volume, room: RoomTaken) -> Vec<Warning> {
    let mut warnings = chlorate_warnings(request, dissolved, volume);
    warnings.extend(pair_warnings(request));
    warnings.extend(liquid_warnings(request));
    for (own, planned) in request.ingredients.iter().zip(dissolved) {
        warnings.extend(form_warning(own, planned));
        warnings.extend(solubility_warning(own, planned, volume, room));
    }
    if let Some(bottle) = request.bottle.filter(|bottle| !holds(*bottle, volume)) {
        warnings.push(Warning::BottleTooSmall { volume, bottle });
    }
    for (own, planned) in request.ingredients.iter().zip(dissolved) {
        warnings.extend(coarse_warning(request, own, planned, volume));
    }
    let solids = request.ingredients.iter().filter_map(|own| own.comes.solid());
    if solids.clone().any(|solid| solid.purity() == Purity::Unstated) {
        warnings.push(Warning::PurityUnstated);
    }
    for solid in solids {
        match solid.purity() {
            Purity::Stated { of: PurityOf::Unknown, .. } => warnings.push(Warning::PurityMeaningUnknown),
            Purity::Stated { of: PurityOf::Trace, .. } => warnings.push(Warning::PurityTraceBasis),
            Purity::Stated { .. } | Purity::Unstated => {}
        }
    }
    warnings.extend(aim_warning(request, dissolved));
    if request.glass.is_some() && request.balance.is_none() {
        warnings.push(Warning::GlassUnused);
    }
    warnings
}

fn is(formula: &Formula, class: Class) -> bool {
    classes(formula).contains(&class)
}

/// The separate solution is proposed first; then what holds for chlorate in iron, and for an oxidiser as a powder.
fn chlorate_warnings(request: &SolutionRequest, dissolved: &[Dissolved], volume: Volume) -> Vec<Warning> {
    let formulas = || request.ingredients.iter().map(|own| own.comes.formula());
    let iron = formulas().any(|own| is(own, Class::Iron));
    let chlorate = request.ingredients.iter().zip(dissolved).find(|(own, _)| is(own.comes.formula(), Class::Chlorate));
    let mut warnings = Vec::new();
    if let (true, Some((own, planned))) = (iron, chlorate) {
        warnings.push(Warning::ChlorateApart(own.comes.formula().clone()));
        let large = volume.to_millilitres() > CHLORATE_SMALL.value;
        let grams = planned.weigh.unwrap_or(Mass::ZERO);
        warnings.push(Warning::ChlorateInIron { grams, percent: planned.percent.best, large });
    }
    let oxidiser = formulas().find(|own| is(own, Class::Chlorate) || is(own, Class::Chromate));
    warnings.extend(oxidiser.cloned().map(Warning::NeverDry));
    warnings
}

/// What is in the bottle and all it will meet.
fn pair_warnings(request: &SolutionRequest) -> Vec<Warning> {
    let inside = request.ingredients.iter().map(|own| own.comes.formula());
    let together: Vec<&Formula> = inside.chain(&request.meets).collect();
    let found = together
        .iter()
        .enumerate()
        .flat_map(|(place, one)| together.iter().skip(place + 1).flat_map(|other| meetings(one, other)))
        .collect();
    grouped(found).into_iter().map(Warning::Meets).collect()
}

fn liquid_warnings(request: &SolutionRequest) -> Vec<Warning> {
    let mut warnings = Vec::new();
    for own in &request.ingredients {
        let ComesAs::Liquid { formula, strong } = &own.comes else { continue };
        if is(formula, Class::Acid) {
            warnings.push(Warning::AcidToWater);
        }
        if is(formula, Class::Peroxide) {
            warnings.push(Warning::PeroxideAlone);
        }
        if let Strong::ByVolume(_) = strong {
            warnings.push(Warning::StrongByVolume(formula.clone()));
        }
    }
    warnings
}

fn form_warning(own: &Ingredient, planned: &Dissolved) -> Option<Warning> {
    let solid = own.comes.solid().filter(|_| planned.molarity().is_none())?;
    let (dry, most) = planned.molarities.first()?;
    let (wet, least) = planned.molarities.last()?;
    Some(Warning::FormOpen {
        solid: solid.formula().clone(),
        dry: (dry.clone(), most.best),
        wet: (wet.clone(), least.best),
    })
}

fn solubility_warning(own: &Ingredient, planned: &Dissolved, volume: Volume, room: RoomTaken) -> Option<Warning> {
    let row = own.comes.forms().iter().find_map(solubility)?;
    let water_g = volume.to_millilitres() - room.middle_ml();
    let grams = planned.percent.best.to_grams_per_100_ml() * volume.to_millilitres() / 100.0;
    let asked = grams / water_g * 100.0;
    (water_g > 0.0 && asked > row.grams_per_100_g_water).then_some(Warning::Solubility { row, asked })
}

fn coarse_warning(request: &SolutionRequest, own: &Ingredient, planned: &Dissolved, volume: Volume) -> Option<Warning> {
    let (balance, mass) = (request.balance?, planned.weigh?);
    let ten_steps = Mass::grams(balance.step().to_grams() * STEPS_WANTED.value).ok()?;
    if mass >= ten_steps {
        return None;
    }
    // From what was asked, not from what rounding to the scale made of it: else what is proposed is coarse again.
    let asked_g = request.exact_grams(own, volume.to_millilitres()).unwrap_or_else(|_| mass.to_grams());
    let growth = ten_steps.to_grams() / asked_g;
    let larger_volume = Volume::millilitres(libm::ceil(volume.to_millilitres() * growth)).ok();
    Some(Warning::Coarse(Coarse {
        what: alloc::format!("{}", own.comes.formula()),
        mass,
        step: balance.step(),
        // More of an iron solution with chlorate is no remedy: it is to be small.
        // Nor is it where the powder is what there is, or the bottle does not hold it.
        larger_volume: larger_volume.filter(|volume| {
            !matches!(request.how_much, HowMuch::Use(_))
                && request.bottle.is_none_or(|bottle| holds(bottle, *volume))
                && (!request.ingredients.iter().any(|own| is(own.comes.formula(), Class::Chlorate))
                    || request.ingredients.len() == 1)
        }),
        dilution: None,
    }))
}

/// The solute whose strength rounding moved most, when that is worth a word.
fn aim_warning(request: &SolutionRequest, dissolved: &[Dissolved]) -> Option<Warning> {
    let off = |(place, (own, planned)): (usize, (&Ingredient, &Dissolved))| {
        let Dose::Percent(asked) = own.dose else { return None };
        let given = matches!(request.how_much, HowMuch::Use(_)) && place == 0;
        let off = planned.percent.best.to_grams_per_100_ml() / asked.to_grams_per_100_ml() - 1.0;
        (!given && libm::fabs(off) > AIM_MISSED.value).then(|| (own.comes.formula().clone(), off))
    };
    let missed = request.ingredients.iter().zip(dissolved).enumerate().filter_map(off);
    missed
        .max_by(|a, b| libm::fabs(a.1).total_cmp(&libm::fabs(b.1)))
        .map(|(solute, off)| Warning::SoluteMissed { solute, off })
}
