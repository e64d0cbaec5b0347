//! The steps, in the order of the bench.

use serde::{Deserialize, Serialize};

/// One step of the work.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Step {
    /// Glasses and gloves.
    Protect,
    /// The empty bottle with its dropper, named and weighed.
    EmptyBottle,
    /// Glass, paper, tare.
    ChloridePaper,
    /// The chloride.
    Chloride,
    /// A way on where the chloride is not as planned.
    ChlorideWay,
    /// Dissolve it till clear.
    Dissolve,
    /// New paper, tare.
    PowderPaper,
    /// The powder.
    Powder,
    /// A way on where the powder is not as planned.
    PowderWay,
    /// Close the jar, add.
    Add,
    /// The sealed vial, full.
    VialFull,
    /// Water into the vial, all of it into the beaker.
    VialDissolve,
    /// The empty vial.
    VialEmpty,
    /// Warm water bath, until clear.
    Stir,
    /// Pour into the cylinder.
    Pour,
    /// Rinse the beaker into it.
    Rinse,
    /// To the mark.
    Mark,
    /// Into the bottle, capped, weighed full.
    Full,
    /// Done: look again tomorrow.
    Tomorrow,
}

impl Step {
    /// Its word, as it goes with a form.
    #[must_use]
    pub fn word(self) -> String {
        // OK because a step is written as its own name.
        let value = serde_json::to_value(self).expect("BUG: a step that is no JSON");
        value.as_str().unwrap_or_default().into()
    }

    /// The step with this word.
    #[must_use]
    pub fn from_word(word: &str) -> Option<Self> {
        serde_json::from_value(serde_json::Value::String(word.into())).ok()
    }
}

/// The steps of powder from a jar, with a chloride or without, and of a sealed vial.
pub(super) fn in_order(vial: bool, with_chloride: bool) -> Vec<Step> {
    let mut steps = vec![Step::Protect, Step::EmptyBottle];
    if with_chloride {
        steps.extend([Step::ChloridePaper, Step::Chloride, Step::ChlorideWay, Step::Dissolve]);
    }
    if vial {
        steps.extend([Step::VialFull, Step::VialDissolve, Step::VialEmpty, Step::PowderWay]);
    } else {
        steps.extend([Step::PowderPaper, Step::Powder, Step::PowderWay, Step::Add]);
    }
    steps.extend([Step::Stir, Step::Pour, Step::Rinse, Step::Mark, Step::Full, Step::Tomorrow]);
    steps
}
