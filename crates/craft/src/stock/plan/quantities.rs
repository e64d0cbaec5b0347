//! From the answers to grams and millilitres.

use super::{BuysNothing, Goal, Nothing, PlanError, Request, WaterIs};
use crate::measure::{Mass, OutOfBounds, PercentByVolume, Volume};
use crate::numerics::Inputs;
use crate::source::{BOTTLE_FILL, BOTTLE_MARKS, CHLORIDE_EXCESS, USUAL_COMPLEX_PERCENT, USUAL_SALT_PERCENT};
use crate::stock::batch::{Bench, Fill};
use crate::stock::molar_mass::Weights;
use crate::stock::water::mark_at;
use crate::stock::{Balance, Batch, ChlorideChoice, Powder, Strength, molar_mass, room_taken};

/// The strength a maker usually means when none is said: 15 % of the complex for palladium, 20 g of powder
/// per 100 mL for platinum (common practice).
#[must_use]
pub fn usual_strength(powder: &Powder) -> Strength {
    let (percent, complex) = if powder.salt().is_chloroplatinate() {
        (USUAL_SALT_PERCENT.value, false)
    } else {
        (USUAL_COMPLEX_PERCENT.value, true)
    };
    // OK because both constants lie inside the bounds.
    let percent = PercentByVolume::grams_per_100_ml(percent).expect("BUG: a usual strength out of bounds");
    if complex { Strength::ComplexPercent(percent) } else { Strength::SaltPer100Ml(percent) }
}

impl Request {
    pub(in crate::stock) fn bench(&self) -> Bench<'_> {
        Bench { powder: &self.powder, balance: self.balance, glass: self.glass }
    }

    /// So much powder and chloride in so much solution.
    pub(in crate::stock) fn batch(&self, salt: Mass, chloride: Mass, fill: Fill) -> Result<Batch, OutOfBounds> {
        self.bench().batch(salt, &self.chloride, chloride, fill)
    }

    /// A strength in moles of metal per litre, without uncertainty.
    pub(super) fn moles_per_litre(&self, strength: Strength) -> f64 {
        let salt = self.powder.salt();
        match strength {
            Strength::ComplexPercent(percent) => {
                let complex = molar_mass(&salt.complex(&self.chloride)).best.to_grams_per_mole();
                percent.to_grams_per_100_ml() * 10.0 / complex
            }
            Strength::Molarity(molarity) => molarity.to_moles_per_litre(),
            Strength::SaltPer100Ml(percent) => percent.to_grams_per_100_ml() * 10.0 * self.moles_per_gram(),
            Strength::Metal(metal) => {
                metal.to_milligrams_per_millilitre() / salt.metal().element().weight().grams_per_mole
            }
        }
    }

    pub(super) fn moles_per_gram(&self) -> f64 {
        self.bench().moles_per_gram(&mut Inputs::default(), &mut Weights::default()).value()
    }

    fn chloride_molar(&self) -> f64 {
        molar_mass(self.chloride.formula()).best.to_grams_per_mole()
    }

    /// Grams of powder rounded to what the scale shows. A sealed vial is taken as it is.
    fn to_balance(&self, grams: f64) -> Result<Mass, PlanError> {
        let mass = Mass::grams(grams)?;
        let Some(balance) = self.balance.filter(|_| !self.powder.salt().is_chloroplatinate()) else {
            return Ok(mass);
        };
        let rounded = mass.to_step(balance.step())?;
        if rounded.is_zero() {
            return Err(self.below_balance(mass, balance));
        }
        Ok(rounded)
    }

    /// Powder for a sum of money, down to the step of the scale: that of a vial too, which is yet to be bought.
    fn bought(&self, mass: Mass) -> Result<Mass, PlanError> {
        let Some(balance) = self.balance else { return Ok(mass) };
        let shown = mass.down_to_step(balance.step());
        if shown.is_zero() { Err(self.below_balance(mass, balance)) } else { Ok(shown) }
    }

    /// Powder there is, as much of it as the scale shows: rounding up would plan with what nobody has. A vial is taken as it is.
    fn on_hand(&self, mass: Mass) -> Result<Mass, PlanError> {
        if self.powder.salt().is_chloroplatinate() { Ok(mass) } else { self.bought(mass) }
    }

    fn below_balance(&self, wanted: Mass, balance: Balance) -> PlanError {
        PlanError::BelowBalance {
            what: alloc::format!("{}", self.powder.salt().formula()),
            wanted_g: wanted.to_grams(),
            step_g: balance.step().to_grams(),
            fine_enough: Balance::fine_enough_for(wanted).step(),
        }
    }

    /// The chloride for so much powder.
    pub(super) fn chloride_for(&self, salt: Mass) -> Result<Mass, PlanError> {
        let moles = salt.to_grams() * self.moles_per_gram();
        let grams_for = |ratio: f64| moles * ratio * self.chloride_molar();
        match (self.chloride_choice, self.balance) {
            (ChlorideChoice::Mass(mass), _) => Ok(mass),
            (ChlorideChoice::Ratio(ratio), None) => Ok(Mass::grams(grams_for(ratio.to_ratio()))?),
            (ChlorideChoice::Ratio(ratio), Some(balance)) => {
                Ok(Mass::grams(grams_for(ratio.to_ratio()))?.to_step(balance.step())?)
            }
            (ChlorideChoice::Enough, None) => Ok(Mass::grams(grams_for(self.powder.salt().chlorides_needed()))?),
            (ChlorideChoice::Enough, Some(balance)) => self.surely_enough(salt, balance),
        }
    }

    /// The smallest balance step whose ratio less twice its standard uncertainty reaches the need; where the
    /// scale is too coarse for that, the largest step that is not yet far over.
    fn surely_enough(&self, salt: Mass, balance: Balance) -> Result<Mass, PlanError> {
        let needed = self.powder.salt().chlorides_needed();
        if needed == 0.0 {
            return Ok(Mass::ZERO);
        }
        let bare_g = salt.to_grams() * self.moles_per_gram() * needed * self.chloride_molar();
        let step = balance.step().to_micrograms();
        // The ratio does not depend on the volume; one in which the batch is surely a possible solution.
        let roomy = Volume::millilitres((salt.to_grams() * 20.0).clamp(1e-3, 1e6))?;
        let enough = |steps: i64| -> Result<bool, PlanError> {
            let ratio =
                self.batch(salt, Mass::micrograms(steps.saturating_mul(step))?, Fill::To(roomy))?.chloride_to_metal;
            let (best, surely) = (ratio.best.to_ratio(), ratio.best.to_ratio() - ratio.expanded());
            let next_is_far_over = best * (steps + 1) as f64 / steps as f64 > CHLORIDE_EXCESS.value;
            Ok(surely >= needed || (best >= needed && next_is_far_over))
        };
        let first = (Mass::grams(bare_g)?.to_micrograms() / step).max(1);
        Mass::micrograms(first_enough(first, enough)?.saturating_mul(step)).map_err(PlanError::from)
    }

    /// Powder and fill for the goal.
    pub(super) fn quantities(&self) -> Result<(Mass, Fill), PlanError> {
        let nothing = |what| Err(PlanError::Nothing { what });
        match self.goal {
            Goal::Make(volume, _) | Goal::Into(volume, _) if volume.is_zero() => nothing(Nothing::Volume),
            Goal::FillBottle(bottle, _) if bottle.is_zero() => nothing(Nothing::Bottle),
            Goal::Into(_, mass) | Goal::Dissolve(mass, _) if mass.is_zero() => nothing(Nothing::Powder),
            Goal::Make(volume, strength) => self.powder_for(volume, strength),
            Goal::FillBottle(bottle, strength) => {
                let full_ml = bottle.to_millilitres() * BOTTLE_FILL.value;
                let step = mark_at(&BOTTLE_MARKS.value, full_ml);
                let to_step = |ml: f64| {
                    let stepped = libm::floor(ml / step + 1e-9) * step;
                    if stepped > 0.0 { stepped } else { ml }
                };
                match self.water_is {
                    WaterIs::MadeUp => self.powder_for(Volume::millilitres(to_step(full_ml))?, strength),
                    WaterIs::Added => {
                        // What the bottle holds is the water and the solids: room is left for them at their largest.
                        let salt = Mass::grams(self.grams_in(full_ml, strength))?;
                        let room = room_taken(self.powder.salt(), salt, &self.chloride, self.chloride_for(salt)?);
                        let water_ml = full_ml - room.most_ml;
                        if water_ml <= 0.0 {
                            return Err(PlanError::NoRoomForWater { volume_ml: full_ml, solids_ml: room.most_ml });
                        }
                        self.powder_for(Volume::millilitres(to_step(water_ml))?, strength)
                    }
                }
            }
            Goal::Into(volume, mass) => {
                let salt = self.on_hand(mass)?;
                Ok((salt, self.fill(volume, salt)?))
            }
            Goal::Dissolve(mass, strength) => self.volume_for(self.on_hand(mass)?, strength),
            Goal::Spend(budget, strength) => {
                let price = self.price.ok_or(PlanError::PriceMissing)?;
                let price_currency = price.currency().letters();
                let nothing = |why| PlanError::BudgetBuysNothing { budget, price_currency, why };
                let bought = match price.mass_for(budget).filter(|mass| !mass.is_zero()) {
                    Some(bought) => bought,
                    None if budget.to_minor() == 0 => return Err(nothing(BuysNothing::NoMoney)),
                    None if budget.currency() != price.currency() => return Err(nothing(BuysNothing::OtherCurrency)),
                    None if price.is_free() => return Err(nothing(BuysNothing::Free)),
                    None => return Err(nothing(BuysNothing::TooLittle)),
                };
                // A budget is not to be passed.
                self.volume_for(self.bought(bought)?, strength)
            }
        }
    }

    /// Grams of powder in so much finished solution of a strength.
    fn grams_in(&self, volume_ml: f64, strength: Strength) -> f64 {
        self.moles_per_litre(strength) / 1000.0 * volume_ml / self.moles_per_gram()
    }

    fn powder_for(&self, volume: Volume, strength: Strength) -> Result<(Mass, Fill), PlanError> {
        let grams = |volume_ml: f64| self.grams_in(volume_ml, strength);
        let mut exact_g = grams(volume.to_millilitres());
        if self.water_is == WaterIs::Added {
            // The solids widen the volume they are to make strong; each turn adds a few percent of the last.
            let mut last = None;
            for _ in 0..30 {
                let salt = Mass::grams(exact_g)?;
                if last.replace(salt) == Some(salt) {
                    break;
                }
                let room = room_taken(self.powder.salt(), salt, &self.chloride, self.chloride_for(salt)?);
                exact_g = grams(volume.to_millilitres() + room.middle_ml());
            }
        }
        let salt = self.to_balance(exact_g)?;
        Ok((salt, self.fill(volume, salt)?))
    }

    fn volume_for(&self, salt: Mass, strength: Strength) -> Result<(Mass, Fill), PlanError> {
        let final_ml = salt.to_grams() * self.moles_per_gram() / self.moles_per_litre(strength) * 1000.0;
        let volume = Volume::millilitres(final_ml)?;
        if self.water_is == WaterIs::MadeUp {
            return Ok((salt, Fill::To(volume)));
        }
        let room = room_taken(self.powder.salt(), salt, &self.chloride, self.chloride_for(salt)?);
        let water_ml = final_ml - room.middle_ml();
        if water_ml <= 0.0 {
            return Err(PlanError::NoRoomForWater { volume_ml: final_ml, solids_ml: room.middle_ml() });
        }
        Ok((salt, Fill::Water(Volume::millilitres(water_ml)?, room)))
    }

    pub(in crate::stock) fn fill(&self, volume: Volume, salt: Mass) -> Result<Fill, PlanError> {
        Ok(match self.water_is {
            WaterIs::MadeUp => Fill::To(volume),
            WaterIs::Added => {
                Fill::Water(volume, room_taken(self.powder.salt(), salt, &self.chloride, self.chloride_for(salt)?))
            }
        })
    }
}

/// The least count from `first` up that is enough, where more than enough is enough too: reached in strides that
/// double, then halved in. An error of `enough` is the answer; counts beyond what a mass holds give one.
fn first_enough(first: i64, enough: impl Fn(i64) -> Result<bool, PlanError>) -> Result<i64, PlanError> {
    if enough(first)? {
        return Ok(first);
    }
    let (mut low, mut stride) = (first, 1_i64);
    let mut high = loop {
        let reached = low.saturating_add(stride);
        // An overreach is no answer yet: what fits lies in between, or nowhere.
        match enough(reached) {
            Ok(false) => low = reached,
            Ok(true) => break reached,
            Err(error) if stride == 1 => return Err(error),
            Err(_) => {
                stride = 1;
                continue;
            }
        }
        stride = stride.saturating_mul(2);
    };
    while high - low > 1 {
        let middle = low + (high - low) / 2;
        if enough(middle)? { high = middle } else { low = middle }
    }
    Ok(high)
}
