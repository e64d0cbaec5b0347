//! Contrast agents. A dose is milligrams of agent to a millilitre of sensitizer; drops by themselves say nothing, because a dose
//! scales with the volume it goes into.

use alloc::format;
use alloc::string::{String, ToString};
use alloc::vec::Vec;

use super::Bottle;
use crate::measure::{
    AgentDose, Bounded, DropCount, MassConcentration, OutOfBounds, PercentByVolume, Uncertain, Volume,
};
use crate::paper::Dropper;
use crate::source::{LADDER_HALVINGS, LADDER_TOP, PEROXIDE_TOP};
use crate::stock::{Formula, Hydrate};

/// An agent that is added on top of the metal and the iron.
#[derive(Clone, Debug, PartialEq)]
pub enum Agent {
    /// A hexachloroplatinate(IV).
    Hexachloroplatinate(Formula, Hydrate),
    /// Hydrogen peroxide.
    Peroxide,
    /// A chlorate in water. In iron it takes the place of plain iron instead.
    Chlorate,
}

/// An iron solution with chlorate in it, which takes the place of plain iron.
#[derive(Clone, Debug, PartialEq)]
pub struct ChlorateIron {
    /// The bottle.
    pub bottle: Bottle,
    /// Grams of potassium chlorate per 100 mL.
    pub chlorate: PercentByVolume,
}

/// An agent on top, and the solutions of it that stand ready.
#[derive(Clone, Debug, PartialEq)]
pub struct OnTop {
    /// Which.
    pub agent: Agent,
    /// The bottles of it; one dropper serves all of them.
    pub bottle: Bottle,
    /// Grams of the solid per 100 mL, in the form it is named in, from the strongest rung down.
    pub rungs: Vec<PercentByVolume>,
    /// Platinum in a bottle of one rung, as the shelf keeps account of it; none where it follows from the solid.
    pub platinum: Option<Uncertain<MassConcentration>>,
}

/// How contrast is raised.
#[derive(Clone, Debug, PartialEq)]
pub enum Contrast {
    /// By chlorate, in iron that replaces plain iron.
    Chlorate(ChlorateIron, AgentDose),
    /// By an agent added on top.
    OnTop(OnTop, AgentDose),
}

impl Contrast {
    /// What a dose is milligrams of: the solid in the form in which its solution says its strength.
    #[must_use]
    pub fn dose_of(&self) -> String {
        match self {
            Self::Chlorate(..) => "KClO3".into(),
            Self::OnTop(on_top, _) => on_top.agent.dose_of(),
        }
    }
}

/// Milligrams per millilitre of so many grams per 100 mL.
pub(super) fn mg_per_ml(percent: PercentByVolume) -> f64 {
    percent.to_grams_per_100_ml() * 10.0
}

impl Agent {
    /// The usual solutions: a halving ladder of the hexachloroplatinate, or one series of peroxide. A chlorate in water has none.
    #[must_use]
    pub fn usual_rungs(&self) -> Vec<PercentByVolume> {
        match self {
            Self::Hexachloroplatinate(..) => halved(LADDER_TOP.value),
            Self::Peroxide => halved(PEROXIDE_TOP.value),
            Self::Chlorate => Vec::new(),
        }
    }

    /// What its dose is milligrams of.
    fn dose_of(&self) -> String {
        match self {
            Self::Hexachloroplatinate(solid, Hydrate::AsWritten) if solid.waters() > 0.0 => solid.to_string(),
            Self::Hexachloroplatinate(solid, Hydrate::Stated(waters)) => match solid.with_waters(*waters) {
                Ok(form) if *waters > 0.0 => form.to_string(),
                _ => format!("{solid}, anhydrous"),
            },
            Self::Hexachloroplatinate(solid, _) => format!("{solid}, its water not said"),
            Self::Peroxide => "H2O2".into(),
            Self::Chlorate => "KClO3".into(),
        }
    }

    /// Its name.
    #[must_use]
    pub fn name(&self) -> &'static str {
        match self {
            Self::Hexachloroplatinate(..) => "hexachloroplatinate",
            Self::Peroxide => "hydrogen peroxide",
            Self::Chlorate => "potassium chlorate",
        }
    }
}

fn halved(top: f64) -> Vec<PercentByVolume> {
    let rungs = (0..=LADDER_HALVINGS.value).map(|halvings| top / libm::pow(2.0, f64::from(halvings)));
    rungs.filter_map(|percent| PercentByVolume::grams_per_100_ml(percent).ok()).collect()
}

/// The dose of so many drops of a solution in so much sensitizer: what a recipe in drops comes to.
///
/// # Errors
/// [`OutOfBounds`] on no sensitizer or beyond any dose.
pub fn dose_of_drops(
    drops: DropCount,
    strength: PercentByVolume,
    dropper: &Dropper,
    sensitizer: Volume,
) -> Result<AgentDose, OutOfBounds> {
    let mg = f64::from(drops.to_drops()) * dropper.drop_ml() * mg_per_ml(strength);
    AgentDose::from_unit(mg / sensitizer.to_millilitres())
}

/// A dose in the drop-percent of older recipes, to a millilitre of sensitizer: drops times their strength in %.
#[must_use]
pub fn drop_percent(dose: AgentDose, dropper: &Dropper) -> f64 {
    dose.to_milligrams_per_millilitre() / (dropper.drop_ml() * 10.0)
}
