//! The plan of a coat.

use alloc::string::String;
use alloc::vec::Vec;

use super::blend::Shown;
use super::contrast::{Contrast, mg_per_ml};
use super::reckon::{Cost, IronToMetal, MetalPoured};
use super::warning::{self, Warning};
use super::whole::{Coat, Role};
use super::{CoatError, Coats, LessPoured, Request};
use crate::measure::{AgentDose, Bounded, Share, Uncertain, Volume};
use crate::paper::Need;
use crate::source::Element;

/// What all sheets together take out of one bottle.
#[derive(Clone, Debug, PartialEq)]
pub struct ForAll {
    /// What the solution is there for.
    pub role: Role,
    /// What it is.
    pub name: String,
    /// How much, lost sheets included.
    pub volume: Volume,
    /// What is in the bottle; none when nobody says.
    pub holds: Option<Volume>,
    /// Sheets it is good for, lost ones counted in; none when nobody says what it holds.
    pub sheets_left: Option<u64>,
}

/// A coat, planned.
#[derive(Clone, Debug, PartialEq)]
pub struct Plan {
    /// What was asked.
    pub request: Request,
    /// What one coat needs.
    pub need: Need,
    /// The coats of one sheet.
    pub coats: Vec<Coat>,
    /// All that is poured on one sheet, agent included, water not.
    pub poured: Uncertain<Volume>,
    /// Metal on one sheet.
    pub metals: Vec<MetalPoured>,
    /// Iron to metal.
    pub iron_to_metal: IronToMetal,
    /// What one sheet costs.
    pub cost: Cost,
    /// The ratio of two metals as whole drops have it; none of a single metal.
    pub ratio: Option<Shown>,
    /// The dose that whole drops come to; none without contrast.
    pub dose: Option<AgentDose>,
    /// What all sheets take out of each bottle.
    pub for_all: Vec<ForAll>,
    /// Sheets the bottles are good for, lost ones counted in; none when no bottle says what it holds.
    pub prints_left: Option<u64>,
    /// What pouring less would come to.
    pub less: Vec<LessPoured>,
    /// What to know before dropping.
    pub warnings: Vec<Warning>,
}

impl Plan {
    /// Plans a coat.
    ///
    /// # Errors
    /// [`CoatError`] for the impossible.
    pub fn make(request: Request) -> Result<Self, CoatError> {
        if request.sheet.image.is_empty() {
            return Err(CoatError::NothingToCoat);
        }
        if request.iron.solid.count(Element::FE) <= 0.0 {
            return Err(CoatError::NoIron);
        }
        let need = request.uptake.need(&request.sheet)?;
        let mut coats = Vec::new();
        if let Coats::Double(part) = request.coats {
            coats.push(request.coat(need.pour_ml * part.of_whole(), part.of_whole())?);
        }
        coats.push(request.coat(need.pour_ml, 1.0)?);
        let sums = request.sums(&coats)?;
        let for_all = for_all(&request, &coats)?;
        let prints_left = for_all.iter().filter_map(|own| own.sheets_left).min();
        let amounts: Vec<_> = sums.metals.iter().map(|own| (own.element, own.mass.best)).collect();
        let rung = coats.iter().flat_map(|coat| &coat.pours).find_map(|pour| pour.rung);
        let less = match request.coats {
            Coats::Single => request.with_less(&need, &amounts, sums.cost.sum, rung)?,
            Coats::Double(_) => Vec::new(),
        };
        let mut plan = Self {
            ratio: ratio(&request, &coats),
            dose: dose(&request, &coats),
            request,
            need,
            coats,
            poured: sums.poured,
            metals: sums.metals,
            iron_to_metal: sums.iron_to_metal,
            cost: sums.cost,
            for_all,
            prints_left,
            less,
            warnings: Vec::new(),
        };
        plan.warnings = warning::all(&plan)?;
        Ok(plan)
    }

    /// What a sheet needs in all its coats, before drops became whole: what the paper takes, in mL.
    #[must_use]
    pub fn sensitizer_ml(&self) -> f64 {
        let parts: f64 = self.coats.iter().map(|coat| coat.strength).sum();
        self.need.sensitizer_ml * parts
    }

    /// What must be poured for it, before drops became whole, in mL.
    #[must_use]
    pub fn to_pour_ml(&self) -> f64 {
        self.coats.iter().map(|coat| coat.need_ml).sum()
    }

    /// What whole drops pour beyond that, in mL; below zero where they pour less. What is added on top is not counted.
    #[must_use]
    pub fn rounding_ml(&self) -> f64 {
        self.coats.iter().map(Coat::sensitizer_ml).sum::<f64>() - self.to_pour_ml()
    }

    /// The same as a part of the need.
    #[must_use]
    pub fn rounding_part(&self) -> f64 {
        self.rounding_ml() / self.to_pour_ml()
    }

    /// The largest deviation of a solution's part in any coat.
    #[must_use]
    pub fn ratio_error(&self) -> f64 {
        self.coats.iter().map(|coat| coat.ratio_error).fold(0.0, f64::max)
    }

    /// A bottle that holds less than all sheets take, if there is one.
    #[must_use]
    pub fn short(&self) -> Option<&ForAll> {
        self.for_all.iter().find(|own| own.holds.is_some_and(|holds| holds < own.volume))
    }
}

fn volume_of(coats: &[Coat], role: Role) -> f64 {
    coats.iter().flat_map(|coat| &coat.pours).filter(|pour| pour.role == role).map(|pour| pour.ml).sum()
}

fn for_all(request: &Request, coats: &[Coat]) -> Result<Vec<ForAll>, CoatError> {
    let sheets = request.sheets_with_loss();
    let mut out: Vec<ForAll> = Vec::new();
    for role in [Role::Iron, Role::ChlorateIron, Role::Metal, Role::SecondMetal, Role::Agent] {
        let ml = volume_of(coats, role);
        let Some(bottle) = request.bottle(role).filter(|_| ml > 0.0) else { continue };
        let volume = Volume::millilitres(ml * sheets)?;
        let each = ml * sheets / f64::from(request.sheets.max(1));
        let sheets_left = bottle.holds.map(|holds| libm::floor(holds.to_millilitres() / each + 1e-9) as u64);
        out.push(ForAll { role, name: bottle.name.clone(), volume, holds: bottle.holds, sheets_left });
    }
    Ok(out)
}

fn ratio(request: &Request, coats: &[Coat]) -> Option<Shown> {
    let (second, _) = request.second.as_ref()?;
    Some(Shown::of(&request.metal, volume_of(coats, Role::Metal), second, volume_of(coats, Role::SecondMetal)))
}

fn dose(request: &Request, coats: &[Coat]) -> Option<AgentDose> {
    let sensitizer: f64 = coats.iter().map(Coat::sensitizer_ml).sum();
    let mg: f64 = match request.contrast.as_ref()? {
        Contrast::Chlorate(iron, _) => volume_of(coats, Role::ChlorateIron) * mg_per_ml(iron.chlorate),
        Contrast::OnTop(..) => coats
            .iter()
            .flat_map(|coat| &coat.pours)
            .filter_map(|pour| pour.rung.map(|rung| pour.ml * mg_per_ml(rung)))
            .sum(),
    };
    AgentDose::from_unit(mg / sensitizer).ok()
}

/// The part of a mix that one drop of its scarcest solution is.
pub(super) fn one_drop(plan: &Plan) -> Option<(&str, Share)> {
    let of_sensitizer = |role: Role| role != Role::Agent;
    let pours = plan.coats.iter().flat_map(|coat| &coat.pours).filter(|pour| of_sensitizer(pour.role));
    let scarce = pours.min_by_key(|pour| pour.drops)?;
    let part = Share::part(1.0 / f64::from(scarce.drops.to_drops().max(1))).ok()?;
    Some((scarce.name.as_str(), part))
}
