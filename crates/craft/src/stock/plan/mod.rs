//! The plan: which powder, how much, which scale → what to weigh, and what it will be.

mod quantities;
mod warn;

use alloc::string::String;
use alloc::vec::Vec;

pub use quantities::usual_strength;
pub(super) use warn::{chloride_warning, coarse, cold_warning, holds, jar_warnings};

use super::batch::Fill;
use super::water::{mark_above, rinse_ml};
use super::{
    AlkaliChloride, Balance, Batch, ChlorideChoice, Formula, LeftOpen, Powder, Purity, PurityOf, RoomTaken, Strength,
    Warning, Water, mass_fraction, room_taken, share_out,
};
use crate::measure::{Mass, MassFraction, MolarMass, Money, OutOfBounds, PricePerMass, Volume};
use crate::source::{ASSAY_SLACK, GLASS_TOLERANCE_MOST};

/// How much is wanted.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Goal {
    /// A volume of a strength.
    Make(Volume, Strength),
    /// So much powder in a volume; the strength follows.
    Into(Volume, Mass),
    /// So much powder at a strength; the volume follows.
    Dissolve(Mass, Strength),
    /// What fits in a bottle, dropper and all.
    FillBottle(Volume, Strength),
    /// What a sum of money buys.
    Spend(Money, Strength),
}

/// What the volume of a goal is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum WaterIs {
    /// The finished solution, made up to a mark.
    MadeUp,
    /// Water added to the solids: the final volume is an estimate.
    Added,
}

/// All the answers a plan is made from.
#[derive(Clone, Debug, PartialEq)]
pub struct Request {
    /// Which powder.
    pub powder: Powder,
    /// With which alkali chloride.
    pub chloride: AlkaliChloride,
    /// Whether the maker named that chloride, or it is the usual one.
    pub chloride_named: bool,
    /// How much of it.
    pub chloride_choice: ChlorideChoice,
    /// How much stock.
    pub goal: Goal,
    /// What its volume means.
    pub water_is: WaterIs,
    /// Which scale; none for a plan on paper, where nothing is rounded.
    pub balance: Option<Balance>,
    /// How far the glass may be off, when it is known.
    pub glass: Option<Volume>,
    /// What the powder costs.
    pub price: Option<PricePerMass>,
    /// The bottle it goes into.
    pub bottle: Option<Volume>,
    /// How often the beaker is rinsed.
    pub rinses: u32,
    /// The molar mass on the jar.
    pub stated_molar_mass: Option<MolarMass>,
    /// Other substances this stock will meet.
    pub meets: Vec<Formula>,
}

/// What there is nothing of.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Nothing {
    /// The volume asked for.
    Volume,
    /// The bottle it goes into.
    Bottle,
    /// The powder to use.
    Powder,
    /// What was weighed.
    Weighing,
}

impl core::fmt::Display for Nothing {
    fn fmt(&self, f: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
        f.write_str(match self {
            Self::Volume => "a volume",
            Self::Bottle => "a bottle",
            Self::Powder => "a mass",
            Self::Weighing => "a weighing",
        })
    }
}

/// Why a sum of money buys no powder.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum BuysNothing {
    /// The sum is nothing.
    NoMoney,
    /// The price is in another currency.
    OtherCurrency,
    /// The powder costs nothing.
    Free,
    /// It is less than a microgram costs.
    TooLittle,
}

/// Why there is no such plan.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
#[allow(missing_docs, reason = "the sentence above each variant says it")]
pub enum PlanError {
    #[error("a {metal} content of {} is more than pure {formula} holds, {}", crate::measure::percent(.stated.to_ratio()), crate::measure::percent(.pure.to_ratio()))]
    PurityAboveFormula {
        metal: &'static str,
        formula: String,
        stated: MassFraction,
        pure: MassFraction,
        /// Whether the salt without its water could hold as much.
        dry_holds: bool,
    },
    #[error("{wanted_g} g of {what} cannot be weighed on a scale that reads {step_g} g")]
    BelowBalance { what: String, wanted_g: f64, step_g: f64, fine_enough: Mass },
    #[error("the solids take {} mL of {} mL; that leaves no room for water", crate::measure::significant(*.solids_ml, 3), crate::measure::significant(*.volume_ml, 6))]
    NoRoomForWater { volume_ml: f64, solids_ml: f64 },
    #[error("{rinses} rinses of {} mL leave no water to dissolve in, of {} mL in all", crate::measure::significant(*.rinse_ml, 3), crate::measure::significant(*.volume_ml, 6))]
    NoRoomForRinses { volume_ml: f64, rinses: u32, rinse_ml: f64, fit: u32 },
    #[error("{} mL leave less water than can be poured", crate::measure::significant(*.volume_ml, 6))]
    TooLittleToPour { volume_ml: f64 },
    #[error("a glass tolerance of {} mL at {} mL; expected more than nothing and no more than {} mL", crate::measure::significant(*.tolerance_ml, 6), crate::measure::significant(*.volume_ml, 6), crate::measure::significant(*.most_ml, 3))]
    GlassTolerance { tolerance_ml: f64, volume_ml: f64, most_ml: f64 },
    #[error("{what} of nothing makes no stock")]
    Nothing { what: Nothing },
    #[error("{budget} buys nothing: {}", match .why { BuysNothing::NoMoney => "that is no money", BuysNothing::OtherCurrency => "the price is in another currency", BuysNothing::Free => "the powder costs nothing, and a budget does not say how much", BuysNothing::TooLittle => "not a microgram at this price" })]
    BudgetBuysNothing { budget: Money, price_currency: &'static str, why: BuysNothing },
    #[error("a budget needs the powder's price")]
    PriceMissing,
    #[error("{0}")]
    OutOfBounds(#[from] OutOfBounds),
}

impl PlanError {
    /// The stable code of this refusal.
    #[must_use]
    pub fn code(&self) -> &'static str {
        match self {
            Self::PurityAboveFormula { .. } => "purity_above_formula",
            Self::BelowBalance { .. } => "mass_below_balance",
            Self::NoRoomForWater { .. } => "no_room_for_water",
            Self::NoRoomForRinses { .. } => "no_room_for_rinses",
            Self::TooLittleToPour { .. } => "too_little_to_pour",
            Self::GlassTolerance { .. } => "glass_out_of_bounds",
            Self::Nothing { .. } => "nothing_asked",
            Self::BudgetBuysNothing { .. } => "budget_buys_nothing",
            Self::PriceMissing => "price_missing",
            Self::OutOfBounds(_) => "value_out_of_bounds",
        }
    }
}

/// A plan.
#[derive(Clone, Debug, PartialEq)]
pub struct Plan {
    /// The answers it was made from.
    pub request: Request,
    /// What to weigh and what it comes to.
    pub batch: Batch,
    /// The complex in the finished solution.
    pub complex: Formula,
    /// The water.
    pub water: Water,
    /// All the water, where it is added and not made up.
    pub water_added: Option<Volume>,
    /// What the powder costs; none without a price.
    pub cost: Option<Money>,
    /// What to know before going on.
    pub warnings: Vec<Warning>,
}

impl Plan {
    /// What is open, and in no uncertainty that is reckoned: of the powder's jar, and of the chloride's, which nobody is asked for.
    #[must_use]
    pub fn left_open(&self) -> Vec<LeftOpen> {
        let chloride = (!self.batch.chloride.is_zero()).then_some(LeftOpen::ChlorideJar);
        self.request.powder.left_open().into_iter().chain(chloride).collect()
    }

    /// How much of the water planned for dissolving and rinsing must stay out, before it is poured, for a batch that is
    /// made up to less; none when all of it fits. The solids are taken at their largest.
    #[must_use]
    pub fn water_to_leave_out(&self, batch: &Batch) -> Option<Volume> {
        let request = &self.request;
        let room = room_taken(request.powder.salt(), batch.salt, &request.chloride, batch.chloride);
        let rinses = f64::from(self.water.rinses) * self.water.rinse.to_millilitres();
        let before_the_mark = self.water.dissolve.to_millilitres() + rinses + room.most_ml;
        let over = before_the_mark - batch.volume.best.to_millilitres();
        // To the next mark, so that what is left out is surely enough.
        (over > 0.0).then(|| Volume::millilitres(mark_above(over)).ok()).flatten()
    }

    /// What the powder of a batch costs; none without a price.
    #[must_use]
    pub fn cost_of(&self, batch: &Batch) -> Option<Money> {
        self.request.price.and_then(|price| price.cost_of(batch.salt).ok())
    }

    /// Whether any alkali chloride is added.
    #[must_use]
    pub fn adds_chloride(&self) -> bool {
        !self.batch.chloride.is_zero()
    }

    /// A mass that must be reached, up to the next step of the scale; as it is without one.
    ///
    /// # Errors
    /// [`OutOfBounds`] beyond what a mass holds.
    pub fn at_least(&self, mass: Mass) -> Result<Mass, OutOfBounds> {
        self.request.balance.map_or(Ok(mass), |balance| mass.up_to_step(balance.step()))
    }

    /// How many decimals of a millilitre the glass can do at this volume: none finer than the decade its tolerance lies
    /// in. At most three.
    #[must_use]
    pub fn glass_decimals(&self, volume: Volume) -> usize {
        let tolerance_ml = self.request.bench().glass_tolerance_ml(volume);
        // A hair over, so that a tolerance of just 0.1 mL is a tenth; a tolerance of nothing is three decimals.
        let decade = libm::floor(libm::log10(tolerance_ml) + 1e-9);
        (-decade).clamp(0.0, 3.0) as usize
    }

    /// Makes the plan.
    ///
    /// # Errors
    /// [`PlanError`] for what cannot be done at all. What merely should not be done is a [`Warning`].
    pub fn make(request: Request) -> Result<Self, PlanError> {
        check_assay(&request.powder)?;
        let (salt, fill) = request.quantities()?;
        let chloride = request.chloride_for(salt)?;
        let batch = request.batch(salt, chloride, fill)?;
        check_glass(request.glass, batch.volume.best)?;
        let room = room_taken(request.powder.salt(), salt, &request.chloride, chloride);
        let (measured, made_up, water_added) = match fill {
            Fill::To(volume) => (volume, true, None),
            Fill::Water(volume, _) => (volume, false, Some(volume)),
        };
        let water = share_out(measured, room, made_up, request.rinses)?
            .ok_or_else(|| no_water(measured, room, made_up, request.rinses))?;
        let cost = request.price.map(|price| price.cost_of(salt)).transpose()?;
        let complex = request.powder.salt().complex(&request.chloride);
        let warnings = warn::all(&request, &batch, &complex, &water);
        Ok(Self { request, batch, complex, water, water_added, cost, warnings })
    }
}

/// What took the room of the water: the solids, the rinses, or the smallness of it all.
pub(super) fn no_water(total: Volume, room: RoomTaken, made_up: bool, rinses: u32) -> PlanError {
    let volume_ml = total.to_millilitres();
    let fits = |rinses: &u32| matches!(share_out(total, room, made_up, *rinses), Ok(Some(_)));
    match (0..rinses).rev().find(fits) {
        Some(fit) => PlanError::NoRoomForRinses { volume_ml, rinses, rinse_ml: rinse_ml(volume_ml), fit },
        None if room.most_ml > volume_ml / 2.0 => PlanError::NoRoomForWater { volume_ml, solids_ml: room.most_ml },
        None => PlanError::TooLittleToPour { volume_ml },
    }
}

/// A tolerance of nothing is no glass, and one beyond a part of the volume measures nothing.
pub(super) fn check_glass(glass: Option<Volume>, volume: Volume) -> Result<(), PlanError> {
    let Some(tolerance_ml) = glass.map(Volume::to_millilitres) else { return Ok(()) };
    let volume_ml = volume.to_millilitres();
    let most_ml = volume_ml * GLASS_TOLERANCE_MOST.value;
    if tolerance_ml > 0.0 && tolerance_ml <= most_ml {
        return Ok(());
    }
    Err(PlanError::GlassTolerance { tolerance_ml, volume_ml, most_ml })
}

/// A metal assay cannot exceed what the pure salt holds, but for the rounding on labels.
///
/// # Errors
/// [`PlanError::PurityAboveFormula`] when it does.
pub fn check_assay(powder: &Powder) -> Result<(), PlanError> {
    let Purity::Stated { fraction, of: PurityOf::Metal } = powder.purity() else {
        return Ok(());
    };
    let metal = powder.salt().metal();
    let holds = |formula: &Formula| mass_fraction(formula, metal.element()).map(|own| own.best);
    let below = |pure: MassFraction| fraction.to_ratio() <= pure.to_ratio() * (1.0 + ASSAY_SLACK.value);
    let Some(pure) = holds(powder.salt().formula()).filter(|pure| !below(*pure)) else { return Ok(()) };
    let dry = powder.salt().with_waters(0.0).ok().filter(|_| powder.salt().waters() > 0.0);
    Err(PlanError::PurityAboveFormula {
        metal: metal.name(),
        formula: alloc::format!("{}", powder.salt().formula()),
        stated: fraction,
        pure,
        dry_holds: dry.and_then(|own| holds(own.formula())).is_some_and(below),
    })
}
