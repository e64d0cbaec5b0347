//! From the answers to grams and millilitres, and what they come to.

use alloc::vec::Vec;

use super::{ComesAs, Dose, HowMuch, Ingredient, NO_ROOM, Solid, SolutionError, SolutionRequest, form_known};
use crate::measure::{Mass, Molarity, OutOfBounds, PercentByVolume, Uncertain, Volume, significant};
use crate::numerics::{Inputs, Linear};
use crate::source::{COMPLEX_SHRINKS, UNKNOWN_SOLID_ROOM};
use crate::stock::batch::{Cause, tolerance_ml};
use crate::stock::identity::crystal_density;
use crate::stock::molar_mass::Weights;
use crate::stock::{Balance, Formula, PlanError, RoomTaken, molar_mass};

/// One solute of a planned solution.
#[derive(Clone, Debug, PartialEq)]
pub struct Dissolved {
    /// Powder to weigh.
    pub weigh: Option<Mass>,
    /// Strong liquid to measure.
    pub measure: Option<Volume>,
    /// Grams of the pure solid per 100 mL.
    pub percent: Uncertain<PercentByVolume>,
    /// Moles per litre in each form it may be, from the least water up; one where the form is known.
    pub molarities: Vec<(Formula, Uncertain<Molarity>)>,
    /// Relative standard uncertainty of the percentage; none when the scale is not known.
    pub relative: Option<f64>,
    /// The same by cause, largest first.
    pub causes: Vec<(Cause, f64)>,
    form_known: bool,
}

impl Dissolved {
    /// Moles per litre, where one number can be given.
    #[must_use]
    pub fn molarity(&self) -> Option<Uncertain<Molarity>> {
        self.molarities.first().filter(|_| self.form_known).map(|(_, own)| *own)
    }

    /// The least and the most it may be in moles per litre.
    #[must_use]
    pub fn molarity_range(&self) -> Option<(Molarity, Molarity)> {
        // More water, fewer moles.
        Some((self.molarities.last()?.1.best, self.molarities.first()?.1.best))
    }

    /// What dominates the uncertainty, and its part of the variance.
    #[must_use]
    pub fn dominant(&self) -> Option<(Cause, f64)> {
        let (cause, own) = *self.causes.first()?;
        let whole = self.relative.filter(|whole| *whole > 0.0)?;
        Some((cause, own * own / (whole * whole)))
    }
}

/// What is weighed or measured of one solute.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum Taken {
    Weighed(Mass),
    Measured(Volume),
}

impl SolutionRequest {
    /// Grams of powder, or of the substance in a liquid, for so much finished solution, not rounded.
    pub(super) fn exact_grams(&self, own: &Ingredient, final_ml: f64) -> Result<f64, SolutionError> {
        let formula = own.comes.formula();
        let per_gram = own.comes.solid().map_or(1.0, super::Solid::part);
        let molar = |formula: &Formula| molar_mass(formula).best.to_grams_per_mole();
        let grams_as = |grams_of: &dyn Fn(&Formula) -> f64| -> Result<f64, SolutionError> {
            match own.comes.solid().filter(|solid| !form_known(solid)) {
                None => Ok(grams_of(own.comes.forms().first().unwrap_or(formula))),
                Some(solid) => {
                    let forms = solid.forms();
                    let (dry, wet) = (forms.first().unwrap_or(formula), forms.last().unwrap_or(formula));
                    let grams = |form: &Formula| significant(grams_of(form) / per_gram, 4);
                    Err(SolutionError::FormOpen {
                        dry: alloc::format!("{dry}"),
                        dry_g: grams(dry),
                        wet: alloc::format!("{wet}"),
                        wet_g: grams(wet),
                    })
                }
            }
        };
        let pure = match own.dose {
            Dose::Powder(mass) => return Ok(mass.to_grams()),
            Dose::Percent(percent) => percent.to_grams_per_100_ml() / 100.0 * final_ml,
            Dose::PercentAs(percent, waters) => {
                let stated = molar(&formula.with_waters(waters).map_err(crate::stock::HydrateError::from)?);
                let grams = percent.to_grams_per_100_ml() / 100.0 * final_ml;
                // The same form on both sides needs no knowledge of the jar.
                grams_as(&|form| grams / stated * molar(form))?
            }
            Dose::Molar(molarity) => {
                let moles = molarity.to_moles_per_litre() * final_ml / 1000.0;
                grams_as(&|form| moles * molar(form))?
            }
        };
        Ok(pure / per_gram)
    }

    /// What is taken of each, on this scale, when `goal` is the volume that is measured.
    pub(super) fn amounts(&self, goal: Volume) -> Result<Vec<Taken>, SolutionError> {
        let mut final_ml = goal.to_millilitres();
        if self.adds_water() {
            // The solids widen the volume they are to make strong; each turn adds a part of the last.
            for _ in 0..40 {
                let next = goal.to_millilitres() + self.room_exact(final_ml)?.middle_ml();
                if next == final_ml {
                    break;
                }
                final_ml = next;
            }
        }
        self.ingredients.iter().enumerate().map(|(place, own)| self.taken(place, own, final_ml)).collect()
    }

    fn taken(&self, place: usize, own: &Ingredient, final_ml: f64) -> Result<Taken, SolutionError> {
        let on_hand = matches!(self.how_much, HowMuch::Use(_)) && place == 0;
        let grams = match self.how_much {
            HowMuch::Use(mass) if on_hand => mass.to_grams(),
            _ => self.exact_grams(own, final_ml)?,
        };
        match &own.comes {
            ComesAs::Powder(_) => self.on_balance(own, grams, on_hand).map(Taken::Weighed),
            ComesAs::Liquid { formula, strong } => {
                let measured_ml = grams / strong.grams_per_ml(formula);
                if measured_ml >= final_ml {
                    let wanted_ml = significant(measured_ml, 4);
                    return Err(SolutionError::NotStrongEnough { wanted_ml, volume_ml: significant(final_ml, 4) });
                }
                Ok(Taken::Measured(Volume::millilitres(measured_ml)?))
            }
        }
    }

    /// So many grams as the scale shows them: of what is on hand no more than there is, else the nearest.
    fn on_balance(&self, own: &Ingredient, grams: f64, on_hand: bool) -> Result<Mass, SolutionError> {
        let wanted = Mass::grams(grams)?;
        if wanted.is_zero() {
            return Err(PlanError::Nothing { what: crate::stock::Nothing::Powder }.into());
        }
        let Some(balance) = self.balance else { return Ok(wanted) };
        let step = balance.step();
        let rounded = if on_hand { wanted.down_to_step(step) } else { wanted.to_step(step)? };
        if rounded.is_zero() {
            return Err(PlanError::BelowBalance {
                what: alloc::format!("{}", own.comes.formula()),
                wanted_g: wanted.to_grams(),
                step_g: balance.step().to_grams(),
                fine_enough: Balance::fine_enough_for(wanted).step(),
            }
            .into());
        }
        Ok(rounded)
    }

    /// The room all of it takes before anything is rounded.
    pub(super) fn room_exact(&self, final_ml: f64) -> Result<RoomTaken, SolutionError> {
        self.ingredients.iter().try_fold(NO_ROOM, |sum, own| {
            let grams = self.exact_grams(own, final_ml)?;
            Ok(together(sum, room_of(&own.comes, grams)))
        })
    }

    /// The room of what is taken.
    pub(super) fn room(&self, amounts: &[Taken]) -> RoomTaken {
        self.ingredients.iter().zip(amounts).fold(NO_ROOM, |sum, (own, taken)| {
            let own = match taken {
                Taken::Weighed(mass) => room_of(&own.comes, mass.to_grams()),
                Taken::Measured(volume) => {
                    let ml = volume.to_millilitres();
                    RoomTaken { least_ml: ml, most_ml: ml }
                }
            };
            together(sum, own)
        })
    }

    /// What each solute comes to, and the finished volume.
    pub(super) fn dissolved(
        &self,
        amounts: &[Taken],
        goal: Volume,
        room: RoomTaken,
    ) -> Result<(Vec<Dissolved>, Uncertain<Volume>), SolutionError> {
        let (mut inputs, mut weights) = (Inputs::<Cause>::default(), Weights::default());
        let poured = inputs.add_rectangular(Cause::Glass, goal.to_millilitres(), tolerance_ml(self.glass, goal));
        let volume_ml = if self.adds_water() {
            &poured + &inputs.add_rectangular(Cause::SolidsRoom, room.middle_ml(), room.half_width_ml())
        } else {
            poured
        };
        let known = self.balance.is_some();
        let each: Result<Vec<Dissolved>, OutOfBounds> = self
            .ingredients
            .iter()
            .zip(amounts)
            .map(|(own, taken)| {
                let (pure_g, weigh, measure) = self.pure_grams(&mut inputs, own, *taken);
                let percent = &(&pure_g / &volume_ml) * 100.0;
                let relative = inputs.standard_uncertainty(&percent) / percent.value();
                let causes = if known { inputs.contributions(&percent) } else { Vec::new() };
                let causes = causes.into_iter().map(|(cause, u)| (cause, u / percent.value())).collect();
                let litres = &volume_ml * 1e-3;
                let molarities: Result<Vec<_>, OutOfBounds> = own
                    .comes
                    .forms()
                    .into_iter()
                    .map(|form| {
                        let moles = &pure_g / &weights.molar_mass(&mut inputs, &form);
                        let molarity = &moles / &litres;
                        let best = Molarity::moles_per_litre(molarity.value())?;
                        Ok((form, Uncertain::new(best, inputs.standard_uncertainty(&molarity))))
                    })
                    .collect();
                let u = inputs.standard_uncertainty(&percent);
                Ok(Dissolved {
                    weigh,
                    measure,
                    percent: Uncertain::new(PercentByVolume::grams_per_100_ml(percent.value())?, u),
                    molarities: molarities?,
                    relative: known.then_some(relative),
                    causes,
                    form_known: own.comes.solid().is_none_or(form_known),
                })
            })
            .collect();
        let best = Volume::millilitres(volume_ml.value())?;
        Ok((each?, Uncertain::new(best, inputs.standard_uncertainty(&volume_ml))))
    }

    /// Grams of the pure substance in what is taken.
    fn pure_grams(
        &self,
        inputs: &mut Inputs<Cause>,
        own: &Ingredient,
        taken: Taken,
    ) -> (Linear, Option<Mass>, Option<Volume>) {
        match (taken, &own.comes) {
            (Taken::Measured(volume), ComesAs::Liquid { formula, strong }) => {
                let ml = volume.to_millilitres();
                // The tolerance stated is that of the large glass; the small one is its own.
                let measured = inputs.add_rectangular(Cause::Measuring, ml, tolerance_ml(None, volume));
                (&measured * strong.grams_per_ml(formula), None, Some(volume))
            }
            (Taken::Measured(volume), ComesAs::Powder(_)) => (Linear::exact(0.0), None, Some(volume)),
            (Taken::Weighed(mass), comes) => {
                let grams = match self.balance {
                    Some(balance) => balance.read(inputs, Cause::SaltWeighing, mass),
                    None => Linear::exact(mass.to_grams()),
                };
                (&grams * comes.solid().map_or(1.0, super::Solid::part), Some(mass), None)
            }
        }
    }
}

/// Grams of the pure solid per 100 mL of what was really weighed and made up, and its relative standard uncertainty; none
/// when the scale is not known.
///
/// # Errors
/// [`OutOfBounds`] for a strength beyond any solution.
pub fn strength_made(
    solid: &Solid,
    mass: Mass,
    balance: Option<Balance>,
    volume: Volume,
    glass: Option<Volume>,
) -> Result<(PercentByVolume, Option<f64>), OutOfBounds> {
    let mut inputs = Inputs::<Cause>::default();
    let grams = match balance {
        Some(balance) => balance.read(&mut inputs, Cause::SaltWeighing, mass),
        None => Linear::exact(mass.to_grams()),
    };
    let volume_ml = inputs.add_rectangular(Cause::Glass, volume.to_millilitres(), tolerance_ml(glass, volume));
    let percent = &(&(&grams * solid.part()) / &volume_ml) * 100.0;
    let best = PercentByVolume::grams_per_100_ml(percent.value())?;
    Ok((best, balance.map(|_| inputs.standard_uncertainty(&percent) / percent.value())))
}

/// Standard uncertainty of a volume made up in a glass, in mL.
#[must_use]
pub fn made_up_u(volume: Volume, glass: Option<Volume>) -> f64 {
    let mut inputs = Inputs::<Cause>::default();
    let ml = inputs.add_rectangular(Cause::Glass, volume.to_millilitres(), tolerance_ml(glass, volume));
    inputs.standard_uncertainty(&ml)
}

fn together(one: RoomTaken, other: RoomTaken) -> RoomTaken {
    RoomTaken { least_ml: one.least_ml + other.least_ml, most_ml: one.most_ml + other.most_ml }
}

/// The room of so many grams: of a known crystal up to a quarter less, of others within what such solids take.
fn room_of(comes: &ComesAs, grams: f64) -> RoomTaken {
    match comes {
        ComesAs::Liquid { formula, strong } => {
            let ml = grams / strong.grams_per_ml(formula);
            RoomTaken { least_ml: ml, most_ml: ml }
        }
        ComesAs::Powder(solid) => match crystal_density(solid.formula()) {
            Some(density) => {
                RoomTaken { least_ml: grams / density * (1.0 - COMPLEX_SHRINKS.value), most_ml: grams / density }
            }
            None => {
                let (least, most) = UNKNOWN_SOLID_ROOM.value;
                RoomTaken { least_ml: grams * least, most_ml: grams * most }
            }
        },
    }
}
