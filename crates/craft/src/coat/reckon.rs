//! What the drops come to: metal with its ±, iron to metal, money.

use alloc::string::String;
use alloc::vec::Vec;

use super::contrast::{Agent, Contrast};
use super::whole::{Coat, Role};
use super::{Bottle, CoatError, MetalStock, Request};
use crate::measure::{Mass, MassConcentration, Money, PercentByVolume, Uncertain, Volume};
use crate::numerics::{Inputs, Linear};
use crate::source::Element;
use crate::stock::{Strength, metal_in_solution};

/// What makes a figure uncertain.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Cause {
    /// The size of the drops of this dropper.
    Dropper(usize),
    /// The strength of the solution with this role.
    Strength(Role),
}

/// Metal that is poured.
#[derive(Clone, Debug, PartialEq)]
pub struct MetalPoured {
    /// Which.
    pub element: Element,
    /// How much.
    pub mass: Uncertain<Mass>,
    /// The part of it that comes with a contrast agent; most of that never ends in the print.
    pub of_agent: Mass,
    /// What its ± comes from, largest first, in mg.
    pub causes: Vec<(Cause, f64)>,
}

/// Moles of iron to a mole of metal(II). Two are needed.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct IronToMetal {
    /// If the iron salt holds the most water it may.
    pub least: f64,
    /// If it holds the least.
    pub most: f64,
    /// Whether its form is known; then both are the same.
    pub form_known: bool,
}

impl IronToMetal {
    /// The middle of what it may be.
    #[must_use]
    pub fn middle(self) -> f64 {
        f64::midpoint(self.least, self.most)
    }

    /// Standard uncertainty of the middle, for a form that may be any between (rectangular).
    #[must_use]
    pub fn standard(self) -> f64 {
        (self.most - self.least) / 2.0 / libm::sqrt(3.0)
    }
}

/// What a sheet costs.
#[derive(Clone, Debug, PartialEq)]
pub struct Cost {
    /// Of all solutions whose price is known; none when that of a metal is not, or prices are in several currencies.
    pub sum: Option<Money>,
    /// Solutions without a price; they are not in the sum.
    pub without: Vec<String>,
}

/// The sums of all coats of a sheet.
pub(super) struct Sums {
    pub(super) poured: Uncertain<Volume>,
    pub(super) metals: Vec<MetalPoured>,
    pub(super) iron_to_metal: IronToMetal,
    pub(super) cost: Cost,
}

impl Request {
    /// The stock of a role that holds metal.
    pub(super) fn stock(&self, role: Role) -> Option<&MetalStock> {
        match role {
            Role::Metal => Some(&self.metal),
            Role::SecondMetal => self.second.as_ref().map(|(stock, _)| stock),
            Role::Iron | Role::ChlorateIron | Role::Agent => None,
        }
    }

    /// The bottle of a role.
    pub(super) fn bottle(&self, role: Role) -> Option<&Bottle> {
        match (role, &self.contrast) {
            (Role::Iron, _) => Some(&self.iron.bottle),
            (Role::ChlorateIron, Some(Contrast::Chlorate(iron, _))) => Some(&iron.bottle),
            (Role::Agent, Some(Contrast::OnTop(agent, _))) => Some(&agent.bottle),
            (Role::ChlorateIron | Role::Agent, _) => None,
            (Role::Metal | Role::SecondMetal, _) => self.stock(role).map(|stock| &stock.bottle),
        }
    }

    /// Platinum per volume of an agent's rung; none of one without metal.
    fn agent_strength(&self, rung: PercentByVolume) -> Result<Option<Uncertain<MassConcentration>>, CoatError> {
        match &self.contrast {
            Some(Contrast::OnTop(agent, _)) => match &agent.agent {
                Agent::Hexachloroplatinate(..) if agent.platinum.is_some() => Ok(agent.platinum),
                Agent::Hexachloroplatinate(solid, hydrate) => {
                    Ok(metal_in_solution(solid, *hydrate, Strength::SaltPer100Ml(rung))?)
                }
                Agent::Peroxide | Agent::Chlorate => Ok(None),
            },
            _ => Ok(None),
        }
    }

    pub(super) fn sums(&self, coats: &[Coat]) -> Result<Sums, CoatError> {
        let mut inputs = Inputs::<Cause>::default();
        let drops: Vec<Linear> = self
            .droppers
            .iter()
            .enumerate()
            .map(|(place, own)| {
                let ml = own.drop_ml();
                inputs.add(Cause::Dropper(place), ml, ml * own.relative())
            })
            .collect();
        // The same bottle serves both coats: its strength is one uncertainty.
        let mut known: Vec<(Role, Option<PercentByVolume>, Linear)> = Vec::new();
        let mut poured = Linear::exact(0.0);
        let mut metals: Vec<(Element, Linear, f64)> = Vec::new();
        let (mut iron_ml, mut metal_moles) = (0.0, 0.0);
        for pour in coats.iter().flat_map(|coat| &coat.pours) {
            let Some(drop) = drops.get(pour.dropper) else { continue };
            let volume = drop * f64::from(pour.drops.to_drops());
            poured = &poured + &volume;
            if matches!(pour.role, Role::Iron | Role::ChlorateIron) {
                iron_ml += volume.value();
            }
            let (element, strength) = match (self.stock(pour.role), pour.rung) {
                (Some(stock), _) => (stock.element, Some(stock.strength)),
                (None, Some(rung)) => (Element::PT, self.agent_strength(rung)?),
                (None, None) => continue,
            };
            let Some(strength) = strength else { continue };
            let found = known.iter().position(|(role, rung, _)| *role == pour.role && *rung == pour.rung);
            let strength = match found.and_then(|place| known.get(place)) {
                Some((.., strength)) => strength.clone(),
                None => {
                    let best = strength.best.to_milligrams_per_millilitre();
                    let input = inputs.add(Cause::Strength(pour.role), best, strength.standard());
                    known.push((pour.role, pour.rung, input.clone()));
                    input
                }
            };
            let mg = &volume * &strength;
            let of_agent = if pour.role == Role::Agent { mg.value() } else { 0.0 };
            if pour.role != Role::Agent {
                metal_moles += mg.value() / element.weight().grams_per_mole;
            }
            match metals.iter_mut().find(|(own, ..)| *own == element) {
                Some((_, sum, agent)) => {
                    *sum = &*sum + &mg;
                    *agent += of_agent;
                }
                None => metals.push((element, mg, of_agent)),
            }
        }
        let metals: Result<Vec<MetalPoured>, CoatError> = metals
            .into_iter()
            .map(|(element, mg, of_agent)| {
                let mass = Uncertain::new(Mass::grams(mg.value() / 1000.0)?, inputs.standard_uncertainty(&mg) / 1000.0);
                let causes = inputs.contributions(&mg);
                Ok(MetalPoured { element, mass, of_agent: Mass::grams(of_agent / 1000.0)?, causes })
            })
            .collect();
        let molarity = self.iron.molarity()?;
        let ratio = |iron: f64| iron_ml * iron / metal_moles;
        Ok(Sums {
            poured: Uncertain::new(Volume::millilitres(poured.value())?, inputs.standard_uncertainty(&poured)),
            metals: metals?,
            iron_to_metal: IronToMetal {
                least: ratio(molarity.least.to_moles_per_litre()),
                most: ratio(molarity.most.to_moles_per_litre()),
                form_known: molarity.known,
            },
            cost: self.cost(coats)?,
        })
    }

    fn cost(&self, coats: &[Coat]) -> Result<Cost, CoatError> {
        let mut volumes: Vec<(Role, f64)> = Vec::new();
        for pour in coats.iter().flat_map(|coat| &coat.pours) {
            match volumes.iter_mut().find(|(role, _)| *role == pour.role) {
                Some((_, ml)) => *ml += pour.ml,
                None => volumes.push((pour.role, pour.ml)),
            }
        }
        let (mut sum, mut without, mut metal_open, mut currencies_differ) = (None::<Money>, Vec::new(), false, false);
        for (role, ml) in volumes {
            let Some(bottle) = self.bottle(role) else { continue };
            let Some(price) = bottle.price else {
                without.push(bottle.name.clone());
                metal_open |= self.stock(role).is_some();
                continue;
            };
            let own = price.cost_of(Volume::millilitres(ml)?)?;
            sum = match sum {
                None => Some(own),
                Some(before) => {
                    let both = before.plus(own);
                    currencies_differ |= both.is_none();
                    both.or(Some(before))
                }
            };
        }
        Ok(Cost { sum: sum.filter(|_| !metal_open && !currencies_differ), without })
    }
}
