//! As weighed: what was really on the pan, and the ways on, side by side.
//!
//! The powder is dense and pours suddenly, so overshoot is the normal case. Before the water there are three
//! honest ways: put the excess back, make more, or keep it and relabel. After mixing two are left: dilute to
//! the label, or relabel. Chloroplatinates are never put back, scraped or weighed out in the open: a vial
//! is dissolved whole, and the only way is to make up.

use alloc::vec::Vec;

use super::batch::Fill;
use super::plan::{Nothing, chloride_warning, holds};
use super::{Batch, Plan, PlanError, Warning, WaterIs, Way, WayOut};
use crate::measure::{Mass, Money, Volume};
use crate::source::STRENGTH_AS_PLANNED;

/// What was weighed, and how far the work has come.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Weighed {
    /// Powder on the pan; none when nothing is said of it: not weighed yet or, in what is mixed, as planned.
    pub salt: Option<Mass>,
    /// Chloride in the beaker; none when nothing is said of it: it goes first, and is taken as planned.
    pub chloride: Option<Mass>,
    /// Whether the solution is already mixed to the planned volume.
    pub mixed: bool,
}

/// More or less than planned.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Off {
    /// Within half a step of the scale.
    AsPlanned,
    /// This much too much.
    Over(Mass),
    /// This much too little.
    Under(Mass),
}

impl Off {
    fn between(planned: Mass, weighed: Mass, half_step: Mass) -> Self {
        let (over, under) = (weighed.excess_over(planned), planned.excess_over(weighed));
        if over > half_step {
            Self::Over(over)
        } else if under > half_step {
            Self::Under(under)
        } else {
            Self::AsPlanned
        }
    }
}

/// What was weighed, set beside the plan.
#[derive(Clone, Debug, PartialEq)]
pub struct AsWeighed {
    /// Powder, against the plan.
    pub salt: Off,
    /// Chloride, against the plan.
    pub chloride: Off,
    /// What was said to be weighed, and how far the work has come.
    pub weighed: Weighed,
    /// The batch as it stands, in the planned volume.
    pub batch: Batch,
    /// Its strength over the plan's, as a part of it: 0.087 is 8.7 % stronger.
    pub stronger: f64,
    /// What the powder costs.
    pub cost: Option<Money>,
    /// Volume at which the weighed powder has the planned strength.
    pub make_up_to: Volume,
    /// Chloride that keeps the planned ratio for the weighed powder.
    pub chloride_same_ratio: Mass,
    /// Ways on for the powder; empty when it went as planned.
    pub ways: Vec<WayOut>,
    /// Ways on for the chloride; empty when it went as planned.
    pub chloride_ways: Vec<WayOut>,
}

impl AsWeighed {
    /// How much stronger than planned (below zero: weaker), as a part of it; none when it is as planned.
    #[must_use]
    pub fn strength_off(&self) -> Option<f64> {
        (libm::fabs(self.stronger) >= STRENGTH_AS_PLANNED.value).then_some(self.stronger)
    }

    /// Whether the powder is still to be weighed.
    #[must_use]
    pub fn powder_to_come(&self) -> bool {
        self.weighed.salt.is_none() && !self.weighed.mixed
    }

    /// Chloride that keeps the planned ratio, over what is in the beaker.
    #[must_use]
    pub fn chloride_to_add(&self) -> Mass {
        self.chloride_same_ratio.excess_over(self.batch.chloride)
    }

    /// Powder to put back to be as planned: none at all when it is under, and no answer (none) for what is never put
    /// back.
    #[must_use]
    pub fn put_back(&self, plan: &Plan) -> Option<Mass> {
        match self.salt {
            Off::Over(mass) => Way::PutBack(mass).is_permitted(plan.request.powder.salt()).then_some(mass),
            Off::AsPlanned | Off::Under(_) => Some(Mass::ZERO),
        }
    }

    /// Sets what was weighed beside the plan.
    ///
    /// # Errors
    /// [`PlanError`] when a weighing of nothing, or a strength beyond a solution, comes of it.
    pub fn after(plan: &Plan, weighed: Weighed) -> Result<Self, PlanError> {
        let planned = &plan.batch;
        let salt = weighed.salt.unwrap_or(planned.salt);
        let chloride = weighed.chloride.unwrap_or(planned.chloride);
        if salt.is_zero() {
            return Err(PlanError::Nothing { what: Nothing::Weighing });
        }
        let step = plan.request.balance.map_or(0, |balance| balance.step().to_micrograms());
        // A display is off by up to half a step; anything less is not a difference.
        let half_step = Mass::micrograms((step / 2 - 1).max(0))?;
        let bench = Bencher { plan };
        let batch = bench.batch(salt, chloride, bench.as_planned(salt)?)?;
        let scale = salt.to_grams() / planned.salt.to_grams();
        let make_up_to = Volume::millilitres(planned.volume.best.to_millilitres() * scale)?;
        let chloride_same_ratio = Mass::grams(planned.chloride.to_grams() * scale)?;
        let stronger = batch.strengths.molarity.best.to_moles_per_litre()
            / planned.strengths.molarity.best.to_moles_per_litre()
            - 1.0;
        let mut as_weighed = Self {
            salt: Off::between(planned.salt, salt, half_step),
            weighed,
            chloride: Off::between(planned.chloride, chloride, half_step),
            cost: bench.cost(salt)?,
            batch,
            stronger,
            make_up_to,
            chloride_same_ratio,
            ways: Vec::new(),
            chloride_ways: Vec::new(),
        };
        as_weighed.ways = bench.salt_ways(&as_weighed)?;
        as_weighed.chloride_ways = bench.chloride_ways(&as_weighed)?;
        Ok(as_weighed)
    }
}

/// The plan, with the small steps every way is made of.
struct Bencher<'a> {
    plan: &'a Plan,
}

impl Bencher<'_> {
    fn batch(&self, salt: Mass, chloride: Mass, fill: Fill) -> Result<Batch, PlanError> {
        Ok(self.plan.request.batch(salt, chloride, fill)?)
    }

    /// The filling as planned, for so much powder.
    fn as_planned(&self, salt: Mass) -> Result<Fill, PlanError> {
        match self.plan.water_added {
            Some(water) => self.plan.request.fill(water, salt),
            None => Ok(Fill::To(self.plan.batch.volume.best)),
        }
    }

    /// So many grams as the scale shows them.
    fn on_the_scale(&self, grams: f64) -> Result<Mass, PlanError> {
        let mass = Mass::grams(grams)?;
        Ok(self.plan.request.balance.map_or(Ok(mass), |balance| mass.to_step(balance.step()))?)
    }

    fn cost(&self, salt: Mass) -> Result<Option<Money>, PlanError> {
        Ok(self.plan.request.price.map(|price| price.cost_of(salt)).transpose()?)
    }

    fn bottle_holds(&self, volume: Volume) -> Option<bool> {
        self.plan.request.bottle.map(|bottle| holds(bottle, volume))
    }

    /// A way and what comes of it; none when it is not permitted for this salt. Every way is made here.
    fn way(&self, way: Way, salt: Mass, chloride: Mass, fill: Fill) -> Result<Option<WayOut>, PlanError> {
        if !way.is_permitted(self.plan.request.powder.salt()) {
            return Ok(None);
        }
        let batch = self.batch(salt, chloride, fill)?;
        let cost = self.cost(salt)?;
        let extra_cost = cost.zip(self.plan.cost).and_then(|(cost, planned)| cost.excess_over(planned));
        let warning = chloride_warning(self.plan.request.powder.salt().chlorides_needed(), &batch);
        let short = matches!(warning, Some(Warning::ChlorideShort(_)));
        let cure = short.then(|| self.plan.at_least(batch.chloride_missing())).transpose()?;
        Ok(Some(WayOut { way, batch, cost, extra_cost, warning, cure }))
    }

    fn salt_ways(&self, now: &AsWeighed) -> Result<Vec<WayOut>, PlanError> {
        let (salt, chloride) = (now.batch.salt, now.batch.chloride);
        let planned = self.plan.batch.salt;
        let keep = || self.way(Way::KeepAndRelabel, salt, chloride, self.as_planned(salt)?);
        let to_the_plan = |way| self.way(way, planned, chloride, self.as_planned(planned)?);
        let before_the_water = |way| {
            // A vial is dissolved whole, and made up to what was in it.
            let keep = if self.plan.request.powder.salt().is_chloroplatinate() { None } else { keep()? };
            Ok::<_, PlanError>([to_the_plan(way)?, self.make_up(now)?, keep])
        };
        let ways = match (now.salt, now.weighed.mixed) {
            (Off::AsPlanned, _) => return Ok(Vec::new()),
            (Off::Over(over), false) => before_the_water(Way::PutBack(over))?,
            (Off::Under(under), false) => before_the_water(Way::WeighMore(under))?,
            (Off::Over(_), true) => [self.dilute(now)?, keep()?, None],
            (Off::Under(_), true) => [keep()?, None, None],
        };
        Ok(ways.into_iter().flatten().collect())
    }

    fn make_up(&self, now: &AsWeighed) -> Result<Option<WayOut>, PlanError> {
        let chloride_to_add = now.chloride_to_add();
        let way = Way::MakeUpTo {
            volume: now.make_up_to,
            chloride_to_add,
            chloride_must_add: self.plan.at_least(now.batch.chloride_missing())?,
            bottle_holds: self.bottle_holds(now.make_up_to),
        };
        let chloride = now.batch.chloride.plus(chloride_to_add)?;
        self.way(way, now.batch.salt, chloride, Fill::To(now.make_up_to))
    }

    fn dilute(&self, now: &AsWeighed) -> Result<Option<WayOut>, PlanError> {
        let mixed_ml = now.batch.volume.best.to_millilitres();
        let volume = Volume::millilitres(mixed_ml * (1.0 + now.stronger))?;
        let water = volume.excess_over(now.batch.volume.best);
        let way = Way::Dilute { water, volume, bottle_holds: self.bottle_holds(volume) };
        self.way(way, now.batch.salt, now.batch.chloride, Fill::To(volume))
    }

    fn chloride_ways(&self, now: &AsWeighed) -> Result<Vec<WayOut>, PlanError> {
        let planned = &self.plan.batch;
        let (salt, chloride) = (now.batch.salt, now.batch.chloride);
        let as_it_is = self.as_planned(salt)?;
        let first = match now.chloride {
            Off::AsPlanned => return Ok(Vec::new()),
            Off::Over(over) => Way::PutBackChloride(over),
            Off::Under(under) => Way::WeighMoreChloride(under),
        };
        let first = self.way(first, salt, planned.chloride, as_it_is)?.filter(|first| {
            // Nothing comes back out of a solution, and no way is offered that makes a shortage where there is none.
            let back = matches!(first.way, Way::PutBackChloride(_));
            !(back && (now.weighed.mixed || matches!(first.warning, Some(Warning::ChlorideShort(_)))))
        });
        let mut ways = Vec::from_iter(first);
        if !now.weighed.mixed
            && now.salt == Off::AsPlanned
            && self.plan.request.water_is == WaterIs::MadeUp
            && !planned.chloride.is_zero()
        {
            // What the scale shows is weighed, and the volume follows that.
            let more =
                self.on_the_scale(planned.salt.to_grams() * chloride.to_grams() / planned.chloride.to_grams())?;
            let scale = more.to_grams() / planned.salt.to_grams();
            let volume = Volume::millilitres(planned.volume.best.to_millilitres() * scale)?;
            if !more.is_zero() {
                let way = Way::FollowChloride { salt: more, volume, bottle_holds: self.bottle_holds(volume) };
                ways.extend(self.way(way, more, chloride, Fill::To(volume))?);
            }
        }
        ways.extend(self.way(Way::KeepChloride, salt, chloride, as_it_is)?);
        Ok(ways)
    }
}
