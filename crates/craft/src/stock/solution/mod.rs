//! Solutions that are no stock of palladium or platinum: one solid or several in water, or a strong liquid thinned.
//!
//! Strength is grams of the pure solid, in the form that lies in the jar, per 100 mL of finished solution: what the
//! trade means by percent. Moles per litre follow only where the form is known; where it is open there is a range and
//! no number in its middle.

mod amounts;
mod pairs;
mod solid;
mod warn;

use alloc::string::String;
use alloc::vec::Vec;

pub use amounts::{Dissolved, made_up_u, strength_made};
pub use pairs::borne;
pub use solid::Solid;

use super::plan::{check_glass, no_water};
use super::water::mark_at;
use super::{
    Balance, Formula, HydrateError, Hydration, Nothing, PlanError, RoomTaken, Warning, WaterIs, molar_mass, prepared,
    share_out,
};
use crate::measure::{
    Mass, MassDensity, Molarity, Money, OutOfBounds, PercentByMass, PercentByVolume, PricePerMass, Uncertain, Volume,
};
use crate::source::{BOTTLE_FILL, BOTTLE_MARKS, Role};

/// How strong a liquid is as it was bought.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Strong {
    /// Grams in 100 mL.
    ByVolume(PercentByVolume),
    /// Grams in 100 g, and the density.
    ByMass(PercentByMass, MassDensity),
    /// Moles per litre.
    Molar(Molarity),
}

impl Strong {
    /// Grams of the substance in a millilitre.
    #[must_use]
    pub fn grams_per_ml(self, formula: &Formula) -> f64 {
        match self {
            Self::ByVolume(percent) => percent.to_grams_per_100_ml() / 100.0,
            Self::ByMass(percent, density) => percent.to_grams_per_100_g() * density.to_grams_per_millilitre() / 100.0,
            Self::Molar(molarity) => {
                molarity.to_moles_per_litre() * molar_mass(formula).best.to_grams_per_mole() / 1000.0
            }
        }
    }
}

/// What a solute comes as.
#[derive(Clone, Debug, PartialEq)]
pub enum ComesAs {
    /// A powder that is weighed.
    Powder(Solid),
    /// A strong solution that is measured.
    Liquid {
        /// What is in it.
        formula: Formula,
        /// How strong it is.
        strong: Strong,
    },
}

impl ComesAs {
    /// Its formula, with the water that is stated.
    #[must_use]
    pub fn formula(&self) -> &Formula {
        match self {
            Self::Powder(solid) => solid.formula(),
            Self::Liquid { formula, .. } => formula,
        }
    }

    /// The solid, when it is one.
    #[must_use]
    pub fn solid(&self) -> Option<&Solid> {
        match self {
            Self::Powder(solid) => Some(solid),
            Self::Liquid { .. } => None,
        }
    }

    /// Every form it may be.
    #[must_use]
    pub fn forms(&self) -> Vec<Formula> {
        self.solid().map_or_else(|| Vec::from([self.formula().clone()]), Solid::forms)
    }
}

/// How much of a solute.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Dose {
    /// Grams of it, in the form of the jar, per 100 mL.
    Percent(PercentByVolume),
    /// Grams of another form of it per 100 mL: percent, and the waters of that form.
    PercentAs(PercentByVolume, f64),
    /// Moles per litre.
    Molar(Molarity),
    /// So much of the powder.
    Powder(Mass),
}

/// A solute that is wanted.
#[derive(Clone, Debug, PartialEq)]
pub struct Ingredient {
    /// What it comes as.
    pub comes: ComesAs,
    /// How much of it.
    pub dose: Dose,
}

/// How much solution is wanted.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum HowMuch {
    /// A volume.
    Make(Volume),
    /// What fits in a bottle.
    FillBottle(Volume),
    /// What so much of the first powder makes.
    Use(Mass),
}

/// All the answers a solution is planned from.
#[derive(Clone, Debug, PartialEq)]
pub struct SolutionRequest {
    /// What is dissolved, the one it is named after first.
    pub ingredients: Vec<Ingredient>,
    /// How much is wanted.
    pub how_much: HowMuch,
    /// What its volume means.
    pub water_is: WaterIs,
    /// Which scale; none for a plan on paper.
    pub balance: Option<Balance>,
    /// How far the glass may be off.
    pub glass: Option<Volume>,
    /// What the first powder costs.
    pub price: Option<PricePerMass>,
    /// The bottle it goes into.
    pub bottle: Option<Volume>,
    /// How often the beaker is rinsed; none for what is usual.
    pub rinses: Option<u32>,
    /// Other substances it will meet.
    pub meets: Vec<Formula>,
}

/// Why there is no such solution.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
#[allow(missing_docs, reason = "the sentence above each variant says it")]
pub enum SolutionError {
    #[error("in one bottle {pair} {what}; make two, and keep them apart")]
    PairInOneBottle { pair: String, what: &'static str },
    #[error("one solute is named twice: {formula}")]
    Twice { formula: String },
    #[error("how many grams that is depends on the form: {dry_g} g of {dry}, {wet_g} g of {wet}")]
    FormOpen { dry: String, dry_g: String, wet: String, wet_g: String },
    #[error("{wanted_ml} mL of the strong liquid are wanted for {volume_ml} mL; it is not strong enough")]
    NotStrongEnough { wanted_ml: String, volume_ml: String },
    #[error("{0}")]
    Hydrate(#[from] HydrateError),
    #[error("{0}")]
    Plan(#[from] PlanError),
}

impl From<OutOfBounds> for SolutionError {
    fn from(error: OutOfBounds) -> Self {
        Self::Plan(error.into())
    }
}

impl SolutionError {
    /// The stable code of this refusal.
    #[must_use]
    pub fn code(&self) -> &'static str {
        match self {
            Self::PairInOneBottle { .. } => "pair_in_one_bottle",
            Self::Twice { .. } => "solute_named_twice",
            Self::FormOpen { .. } => "form_open",
            Self::NotStrongEnough { .. } => "liquid_not_strong_enough",
            Self::Hydrate(error) => error.code(),
            Self::Plan(error) => error.code(),
        }
    }
}

/// A planned solution.
#[derive(Clone, Debug, PartialEq)]
pub struct SolutionPlan {
    /// The answers it was made from.
    pub request: SolutionRequest,
    /// What to weigh or measure, in the order of the answers.
    pub dissolved: Vec<Dissolved>,
    /// The finished solution.
    pub volume: Uncertain<Volume>,
    /// The water.
    pub water: super::Water,
    /// All the water, where it is added and not made up.
    pub water_added: Option<Volume>,
    /// What the first powder costs.
    pub cost: Option<Money>,
    /// What to know before going on.
    pub warnings: Vec<Warning>,
}

impl SolutionPlan {
    /// Makes the plan.
    ///
    /// # Errors
    /// [`SolutionError`] for what cannot be done at all, or in no bottle.
    pub fn make(request: SolutionRequest) -> Result<Self, SolutionError> {
        pairs::check(&request)?;
        let goal = request.volume()?;
        let amounts = request.amounts(goal)?;
        let room = request.room(&amounts);
        let final_ml = goal.to_millilitres() + if request.adds_water() { room.middle_ml() } else { 0.0 };
        check_glass(request.glass, goal)?;
        let rinses = request.rinses.unwrap_or_else(|| request.usual_rinses());
        let water = share_out(goal, room, !request.adds_water(), rinses)?
            .ok_or_else(|| no_water(goal, room, !request.adds_water(), rinses))?;
        let (dissolved, volume) = request.dissolved(&amounts, goal, room)?;
        let cost = match (request.price, dissolved.first().and_then(|first| first.weigh)) {
            (Some(price), Some(mass)) => Some(price.cost_of(mass)?),
            _ => None,
        };
        let water_added = request.adds_water().then_some(goal);
        let warnings = warn::all(&request, &dissolved, Volume::millilitres(final_ml)?, room);
        Ok(Self { request, dissolved, volume, water, water_added, cost, warnings })
    }

    /// What the trade calls it by: the first solute, when it is a known one.
    #[must_use]
    pub fn role(&self) -> Option<Role> {
        self.request.ingredients.first().and_then(|first| prepared(first.comes.formula())).map(|row| row.role)
    }

    /// Hours of rest before it is used.
    #[must_use]
    pub fn rest_h(&self) -> f64 {
        let rest =
            self.request.ingredients.iter().filter_map(|own| prepared(own.comes.formula())).map(|row| row.rest_h);
        rest.fold(0.0, f64::max)
    }

    /// What is in the finished solution.
    pub fn formulas(&self) -> impl Iterator<Item = &Formula> {
        self.request.ingredients.iter().map(|own| own.comes.formula())
    }
}

impl SolutionRequest {
    fn adds_water(&self) -> bool {
        self.water_is == WaterIs::Added
    }

    /// A sensitizer is brought over to the last drop; of a bath nothing hangs on it.
    fn usual_rinses(&self) -> u32 {
        let bath = |own: &Ingredient| {
            prepared(own.comes.formula()).is_some_and(|row| matches!(row.role, Role::Developer | Role::Clearing))
        };
        if self.ingredients.first().is_some_and(bath) { 0 } else { 2 }
    }

    /// The volume that is measured: the finished one, or the water added.
    fn volume(&self) -> Result<Volume, SolutionError> {
        let nothing = |what| Err(SolutionError::Plan(PlanError::Nothing { what }));
        match self.how_much {
            HowMuch::Make(volume) if volume.is_zero() => nothing(Nothing::Volume),
            HowMuch::FillBottle(bottle) if bottle.is_zero() => nothing(Nothing::Bottle),
            HowMuch::Use(mass) if mass.is_zero() => nothing(Nothing::Powder),
            HowMuch::Make(volume) => Ok(volume),
            HowMuch::FillBottle(bottle) => {
                let full_ml = bottle.to_millilitres() * BOTTLE_FILL.value;
                let step = mark_at(&BOTTLE_MARKS.value, full_ml);
                let stepped = libm::floor(full_ml / step + 1e-9) * step;
                Ok(Volume::millilitres(if stepped > 0.0 { stepped } else { full_ml })?)
            }
            HowMuch::Use(mass) => {
                // What a litre holds tells what the mass makes; the dose is a strength, or it would say the mass twice.
                let litre = Volume::millilitres(1000.0)?;
                let Some(first) = self.ingredients.first() else { return nothing(Nothing::Powder) };
                let each = self.exact_grams(first, litre.to_millilitres())?;
                let final_ml = mass.to_grams() / each * 1000.0;
                if !self.adds_water() {
                    return Ok(Volume::millilitres(final_ml)?);
                }
                let room = self.room_exact(final_ml)?;
                let water_ml = final_ml - room.middle_ml();
                if water_ml <= 0.0 {
                    return Err(PlanError::NoRoomForWater { volume_ml: final_ml, solids_ml: room.middle_ml() }.into());
                }
                Ok(Volume::millilitres(water_ml)?)
            }
        }
    }
}

/// Whether what is asked of a form can be reckoned: it is known, or the same whichever it is.
fn form_known(solid: &Solid) -> bool {
    !solid.form_open() || matches!(solid.hydration(), Hydration::Unstated(row) if row.waters.len() == 1)
}

/// The room of nothing.
const NO_ROOM: RoomTaken = RoomTaken { least_ml: 0.0, most_ml: 0.0 };
