//! Whole drops of one coat.

use alloc::string::String;
use alloc::vec::Vec;

use super::contrast::{Contrast, mg_per_ml};
use super::search::{Asked, Found, OnTopAsked, Part, search};
use super::{Bottle, CoatError, Request, Rounding};
use crate::measure::{Bounded, DropCount, PercentByVolume, Share};
use crate::paper::Dropper;
use crate::source::{DOSE_ROUNDED, MOST_OVER, MOST_UNDER};

/// What a solution is there for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Role {
    /// Plain iron.
    Iron,
    /// Iron with chlorate, in the place of some plain iron.
    ChlorateIron,
    /// The first metal.
    Metal,
    /// The second.
    SecondMetal,
    /// A contrast agent on top.
    Agent,
}

impl Role {
    /// In one word, as programs read it.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Iron => "iron",
            Self::ChlorateIron => "chlorate_iron",
            Self::Metal | Self::SecondMetal => "metal",
            Self::Agent => "contrast_agent",
        }
    }
}

/// Drops of one solution.
#[derive(Clone, Debug, PartialEq)]
pub struct Pour {
    /// What it is there for.
    pub role: Role,
    /// What it is.
    pub name: String,
    /// Which dropper.
    pub dropper: usize,
    /// How many drops.
    pub drops: DropCount,
    /// What was wanted before drops became whole, in mL.
    pub wanted_ml: f64,
    /// What they come to, in mL.
    pub ml: f64,
    /// Of an agent: its strength.
    pub rung: Option<PercentByVolume>,
}

/// One coat of one sheet.
#[derive(Clone, Debug, PartialEq)]
pub struct Coat {
    /// The part of full strength it has: 1 for a plain coat.
    pub strength: f64,
    /// Sensitizer that must be poured for it, before drops became whole, in mL; water not counted.
    pub need_ml: f64,
    /// Water that thins it, in mL; none in a plain coat.
    pub water_ml: Option<f64>,
    /// Drops in the order they are dropped: iron, chlorate iron, metal, second metal, agent.
    pub pours: Vec<Pour>,
    /// The largest deviation of a solution's part from what was wanted.
    pub ratio_error: f64,
    /// Deviation of the dose; none without a contrast agent.
    pub dose_error: Option<f64>,
    /// Whether a search was asked for and kept within its error.
    pub within: Option<bool>,
}

impl Coat {
    /// Sensitizer poured, what is added on top not counted, in mL.
    #[must_use]
    pub fn sensitizer_ml(&self) -> f64 {
        self.pours.iter().filter(|pour| pour.role != Role::Agent).map(|pour| pour.ml).sum()
    }

    /// What is added on top, as a part of the sensitizer with its water.
    #[must_use]
    pub fn on_top_part(&self) -> f64 {
        let added: f64 = self.pours.iter().filter(|pour| pour.role == Role::Agent).map(|pour| pour.ml).sum();
        added / (self.sensitizer_ml() + self.water_ml.unwrap_or(0.0))
    }
}

/// A solution of the sensitizer and its wanted part of it.
struct Wanted<'a> {
    role: Role,
    bottle: &'a Bottle,
    share: f64,
}

/// The search without plain iron, which chlorate iron has all but replaced; its error is that of the dose that was asked. None where
/// there is no such pair.
fn without_plain(wanted: &[Wanted<'_>], asked: &Asked) -> Option<Found> {
    let [plain, chlorate, ..] = wanted else { return None };
    if plain.role != Role::Iron || chlorate.role != Role::ChlorateIron {
        return None;
    }
    let both = plain.share + chlorate.share;
    let mut parts: Vec<Part> = asked.parts.iter().skip(1).copied().collect();
    parts.first_mut()?.share = both;
    let found = search(&Asked { parts, ..asked.clone() })?;
    let error = found.error + both / chlorate.share - 1.0;
    Some(Found { error, within: error <= asked.error, ..found })
}

/// The least count of drops that is not more than a fiftieth under the need.
fn fewest(need_ml: f64, drop_ml: f64) -> f64 {
    libm::ceil(need_ml * (1.0 - MOST_UNDER.value) / drop_ml - 1e-9).max(1.0)
}

impl Request {
    fn drop_ml(&self, bottle: &Bottle) -> f64 {
        self.droppers.get(bottle.dropper).map_or_else(|| Dropper::usual().drop_ml(), Dropper::drop_ml)
    }

    /// The solutions and their parts of the sensitizer, in the order they are dropped; half is iron, half metal.
    fn wanted(&self) -> Result<Vec<Wanted<'_>>, CoatError> {
        let half = 0.5;
        let mut out = Vec::new();
        let mut plain = half;
        if let Some(Contrast::Chlorate(iron, dose)) = &self.contrast {
            let share = dose.to_milligrams_per_millilitre() / mg_per_ml(iron.chlorate);
            if share > half + 1e-9 {
                return Err(CoatError::ChlorateBeyond {
                    asked: *dose,
                    most_mg_per_ml: half * mg_per_ml(iron.chlorate),
                });
            }
            plain = half - share;
            if plain > 1e-9 {
                out.push(Wanted { role: Role::Iron, bottle: &self.iron.bottle, share: plain });
            }
            out.push(Wanted { role: Role::ChlorateIron, bottle: &iron.bottle, share });
        } else {
            out.push(Wanted { role: Role::Iron, bottle: &self.iron.bottle, share: plain });
        }
        match &self.second {
            None => out.push(Wanted { role: Role::Metal, bottle: &self.metal.bottle, share: half }),
            Some((second, ratio)) => {
                let first = ratio.first_by_volume(&self.metal, second);
                out.push(Wanted { role: Role::Metal, bottle: &self.metal.bottle, share: half * first });
                out.push(Wanted { role: Role::SecondMetal, bottle: &second.bottle, share: half * (1.0 - first) });
            }
        }
        Ok(out)
    }

    /// One coat that needs so much sensitizer.
    pub(super) fn coat(&self, need_ml: f64, strength: f64) -> Result<Coat, CoatError> {
        let wanted = self.wanted()?;
        let (drops, on_top, within) = match self.rounding {
            Rounding::Plain => {
                let drops = self.plain(&wanted, need_ml);
                let total: f64 = drops.iter().zip(&wanted).map(|(count, own)| count * self.drop_ml(own.bottle)).sum();
                (drops, self.plain_on_top(total), None)
            }
            Rounding::Within(error) => self.searched(&wanted, need_ml, error)?,
        };
        let mut pours = Vec::new();
        for (own, &count) in wanted.iter().zip(&drops) {
            pours.push(self.pour(own.role, own.bottle, count, own.share * need_ml, None)?);
        }
        let total: f64 = pours.iter().map(|pour| pour.ml).sum();
        let error = |(pour, own): (&Pour, &Wanted<'_>)| (pour.ml / total / own.share - 1.0).abs();
        let dropped = |(pour, _): &(&Pour, &Wanted<'_>)| pour.drops.to_drops() > 0;
        let ratio_error = pours.iter().zip(&wanted).filter(dropped).map(error).fold(0.0, f64::max);
        let mut dose_error = None;
        if let Some(Contrast::Chlorate(..)) = &self.contrast {
            let both = pours.iter().zip(&wanted).find(|(pour, _)| pour.role == Role::ChlorateIron);
            dose_error = both.map(|(pour, own)| pour.ml / total / own.share - 1.0);
        }
        // What is left out is not dropped.
        pours.retain(|pour| pour.drops.to_drops() > 0);
        if let (Some(Contrast::OnTop(agent, dose)), Some((rung, count))) = (&self.contrast, on_top)
            && let Some(&percent) = agent.rungs.get(rung)
        {
            let mg = dose.to_milligrams_per_millilitre();
            let pour =
                self.pour(Role::Agent, &agent.bottle, count, mg * need_ml / mg_per_ml(percent), Some(percent))?;
            dose_error = Some(pour.ml * mg_per_ml(percent) / total / mg - 1.0);
            pours.push(pour);
        }
        let water_ml = (strength < 1.0).then(|| total * (1.0 / strength - 1.0));
        Ok(Coat { strength, need_ml, water_ml, pours, ratio_error, dose_error, within })
    }

    fn pour(
        &self,
        role: Role,
        bottle: &Bottle,
        count: f64,
        wanted_ml: f64,
        rung: Option<PercentByVolume>,
    ) -> Result<Pour, CoatError> {
        let drops = DropCount::from_unit(count)?;
        let ml = f64::from(drops.to_drops()) * self.drop_ml(bottle);
        Ok(Pour { role, name: bottle.name.clone(), dropper: bottle.dropper, drops, wanted_ml, ml, rung })
    }

    /// Equal whole drops of iron and metal. Where both solutions of a side have the same drops they share out one count, so that
    /// the two irons together equal the metals.
    fn plain(&self, wanted: &[Wanted<'_>], need_ml: f64) -> Vec<f64> {
        let is_iron = |own: &Wanted<'_>| matches!(own.role, Role::Iron | Role::ChlorateIron);
        let (irons, metals): (Vec<_>, Vec<_>) = wanted.iter().partition(|own| is_iron(own));
        // Plain iron that chlorate iron has all but replaced may be left out; of two metals each is meant to be there.
        let sides = [(irons, 0.0), (metals, 1.0)];
        sides.into_iter().flat_map(|(side, least)| self.plain_side(&side, need_ml, least)).collect()
    }

    fn plain_side(&self, side: &[&Wanted<'_>], need_ml: f64, least_first: f64) -> Vec<f64> {
        let each = |own: &&Wanted<'_>| fewest(own.share * need_ml, self.drop_ml(own.bottle));
        let [first, second] = side else { return side.iter().map(each).collect() };
        let (one, other) = (self.drop_ml(first.bottle), self.drop_ml(second.bottle));
        if (one - other).abs() > 1e-9 {
            if least_first < 1.0 && first.share * need_ml < one / 2.0 {
                return Vec::from([0.0, fewest((first.share + second.share) * need_ml, other)]);
            }
            return side.iter().map(each).collect();
        }
        let both = fewest((first.share + second.share) * need_ml, one).max(2.0);
        // The last to be dropped decides: of chlorate iron the dose, of two metals the second's part.
        let last = libm::round(both * second.share / (first.share + second.share)).clamp(1.0, both - least_first);
        Vec::from([both - last, last])
    }

    /// The rung and the drops of an agent: the least added water of those that meet the dose well, or else the nearest.
    fn plain_on_top(&self, total_ml: f64) -> Option<(usize, f64)> {
        let Some(Contrast::OnTop(agent, dose)) = &self.contrast else { return None };
        let drop_ml = self.drop_ml(&agent.bottle);
        let mut best: Option<(bool, f64, f64, usize)> = None;
        for (rung, percent) in agent.rungs.iter().enumerate() {
            let exact = dose.to_milligrams_per_millilitre() * total_ml / (mg_per_ml(*percent) * drop_ml);
            let count = libm::round(exact).max(1.0);
            let error = (count / exact - 1.0).abs();
            let well = error <= DOSE_ROUNDED.value;
            let better = best.is_none_or(|(was_well, was_error, was_count, _)| match (well, was_well) {
                (true, false) => true,
                (false, true) => false,
                (true, true) => count < was_count,
                (false, false) => error < was_error - 1e-9,
            });
            if better {
                best = Some((well, error, count, rung));
            }
        }
        best.map(|(_, _, count, rung)| (rung, count))
    }

    #[allow(clippy::type_complexity, reason = "drops, agent, within: read by the one caller")]
    fn searched(
        &self,
        wanted: &[Wanted<'_>],
        need_ml: f64,
        error: Share,
    ) -> Result<(Vec<f64>, Option<(usize, f64)>, Option<bool>), CoatError> {
        let nl = |ml: f64| libm::round(ml * 1e6) as i64;
        let parts = wanted.iter().map(|own| Part { drop_nl: nl(self.drop_ml(own.bottle)), share: own.share }).collect();
        let on_top = match &self.contrast {
            Some(Contrast::OnTop(agent, dose)) => Some(OnTopAsked {
                drop_nl: nl(self.drop_ml(&agent.bottle)),
                rungs: agent.rungs.iter().map(|&percent| mg_per_ml(percent)).collect(),
                dose: dose.to_milligrams_per_millilitre(),
            }),
            _ => None,
        };
        // A sheet so small that a whole drop is more than all that is too much still finds its drops.
        let one_each: f64 = wanted.iter().map(|own| self.drop_ml(own.bottle)).sum();
        let most_ml = (need_ml * (1.0 + MOST_OVER.value)).max(need_ml + one_each);
        let asked = Asked {
            parts,
            on_top,
            least_nl: libm::ceil(need_ml * (1.0 - MOST_UNDER.value) * 1e6 - 1e-3) as i64,
            most_nl: nl(most_ml),
            error: error.of_whole(),
        };
        let found = search(&asked).ok_or(CoatError::NoDrops)?;
        if let Some(found) = without_plain(wanted, &asked).filter(|own| !found.within && own.error < found.error) {
            let drops = core::iter::once(0.0).chain(found.drops.iter().map(|&count| f64::from(count))).collect();
            return Ok((drops, None, Some(found.within)));
        }
        let drops = found.drops.iter().map(|&count| f64::from(count)).collect();
        Ok((drops, found.on_top.map(|(rung, count)| (rung, f64::from(count))), Some(found.within)))
    }
}
