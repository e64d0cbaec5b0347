//! What the studio knows of its papers and droppers, as a record keeps it. A plan takes it where no answer says otherwise.

use handcoat_craft::measure::{DropsPerMillilitre, Share, Uncertain, Uptake};
use handcoat_craft::paper::{Dropper, DropperFrom};
use serde::{Deserialize, Serialize};

/// A dropper with one solution, calibrated.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(default)]
pub struct DropperFacts {
    /// The bottle it belongs to, by its name, or what it holds: `iron`, `chlorate`, `metal`, `second`, `contrast`.
    pub of: String,
    /// Drops to the millilitre.
    pub drops_per_ml: f64,
    /// Standard uncertainty of that.
    pub drops_per_ml_u: f64,
    /// In so many runs.
    pub runs: usize,
}

/// A paper, one side of one lot, as it was measured with one tool.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(default)]
pub struct PaperFacts {
    /// What it is called.
    pub name: String,
    /// The tool it was measured with: `rod`, `brush`, `thirsty`.
    pub tool: Option<String>,
    /// What it takes, in mL to 100 cm² of coated area.
    pub uptake_ml_per_100cm2: Option<f64>,
    /// What of the poured solution reaches it.
    pub share: Option<f64>,
    /// Standard uncertainty of that.
    pub share_u: Option<f64>,
}

/// What is known before a plan is asked for.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(default)]
pub struct Known {
    /// The paper.
    pub paper: Option<PaperFacts>,
    /// The droppers.
    pub droppers: Vec<DropperFacts>,
}

impl DropperFacts {
    /// As a dropper; none when the figure is no such thing.
    #[must_use]
    pub fn dropper(&self) -> Option<Dropper> {
        let best = DropsPerMillilitre::per_millilitre(self.drops_per_ml).ok()?;
        let from = if self.runs > 0 { DropperFrom::Calibrated(self.runs) } else { DropperFrom::Stated };
        Some(Dropper { per_ml: Uncertain::new(best, self.drops_per_ml_u), from })
    }
}

impl PaperFacts {
    pub(super) fn uptake(&self) -> Option<Uptake> {
        Uptake::millilitres_per_100_cm2(self.uptake_ml_per_100cm2?).ok()
    }

    pub(super) fn share(&self) -> Option<Uncertain<Share>> {
        Some(Uncertain::new(Share::part(self.share?).ok()?, self.share_u.unwrap_or(0.0)))
    }
}

impl Known {
    /// The dropper of a bottle by its name, or of a place by its word.
    pub(super) fn dropper_of(&self, name: &str, place: &str) -> Option<Dropper> {
        let by = |wanted: &str| self.droppers.iter().find(|own| own.of.to_lowercase() == wanted.to_lowercase());
        by(name).or_else(|| by(place)).and_then(DropperFacts::dropper)
    }
}
