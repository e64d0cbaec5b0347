//! Where the work stands, as it is kept in the book.

use handcoat_book::{BookError, Damage};
use handcoat_craft::measure::Mass;
use serde::{Deserialize, Serialize};
use serde_json::Value;

use super::step::{Step, in_order};
use crate::Refusal;
use crate::shelf::Mix;
use crate::stock::{Answers, Planned, plan};

/// Answers, readings and the step that comes now. Masses are kept as the maker wrote or confirmed them.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(default, deny_unknown_fields)]
pub(super) struct State {
    pub(super) v: u32,
    /// Spoken name of the jar.
    pub(super) jar: String,
    /// Vials of swept powder that go in first and whole, with what they hold.
    pub(super) vials: Vec<(String, String)>,
    pub(super) chloride_jar: Option<String>,
    pub(super) name: Option<String>,
    /// What the jar says, and what was asked for.
    pub(super) salt: Option<String>,
    pub(super) hydrate: Option<String>,
    pub(super) purity: Option<String>,
    pub(super) purity_of: Option<String>,
    pub(super) with: Option<String>,
    pub(super) make: Option<String>,
    pub(super) percent: Option<String>,
    pub(super) salt_mass: Option<String>,
    pub(super) balance: Option<String>,
    pub(super) glass: Option<String>,
    pub(super) capacity: Option<String>,
    /// Readings, once they are taken.
    pub(super) empty: Option<String>,
    pub(super) chloride: Option<String>,
    pub(super) powder: Option<String>,
    pub(super) vial_full: Option<String>,
    pub(super) full: Option<String>,
    /// The mark of the way that was chosen; the plan's when none was.
    pub(super) mark: Option<String>,
    /// What was asked for before the plan followed the chloride: make, percent, powder.
    pub(super) before_following: Option<[Option<String>; 3]>,
    /// What more chloride the way asks for.
    pub(super) more_chloride: Option<String>,
    pub(super) step: Option<Step>,
    /// Steps that were done, newest last, for the way back.
    pub(super) done: Vec<Step>,
}

impl State {
    pub(super) fn read(body: &Value) -> Result<Self, Refusal> {
        serde_json::from_value(body.clone()).map_err(|_| {
            let what = "the state of bench work";
            BookError::Damaged(Damage::Unreadable { what, value: body.to_string() }).into()
        })
    }

    pub(super) fn to_body(&self) -> Value {
        // OK because the state holds text, lists and names of steps only.
        serde_json::to_value(self).expect("BUG: a state that is no JSON")
    }

    pub(super) fn step(&self) -> Step {
        self.step.unwrap_or(Step::Protect)
    }

    /// The plan, with what was weighed so far beside it.
    pub(super) fn planned(&self) -> Result<Planned, Refusal> {
        plan(&Answers {
            salt: self.salt.clone(),
            hydrate: self.hydrate.clone(),
            purity: self.purity.clone(),
            purity_of: self.purity_of.clone(),
            with: self.with.clone(),
            make: self.make.clone(),
            percent_complex: self.percent.clone(),
            salt_mass: self.salt_mass.clone(),
            balance: self.balance.clone(),
            glass: self.glass.clone(),
            bottle: self.capacity.clone(),
            weighed: self.total_powder()?,
            chloride_weighed: self.chloride.clone(),
            ..Answers::default()
        })
    }

    /// What of the plan's powder is already in the vials.
    pub(super) fn in_vials(&self) -> Result<Mass, Refusal> {
        self.vials.iter().try_fold(Mass::ZERO, |sum, (_, mass)| {
            let mass = read_mass(mass)?;
            sum.plus(mass).map_err(|error| Refusal::bounds(crate::Question::PowderWeighed, &error))
        })
    }

    /// What was weighed and what the vials held, together; none before the powder is weighed.
    pub(super) fn total_powder(&self) -> Result<Option<String>, Refusal> {
        let Some(powder) = &self.powder else { return Ok(None) };
        let all = read_mass(powder)?
            .plus(self.in_vials()?)
            .map_err(|error| Refusal::bounds(crate::Question::PowderWeighed, &error))?;
        Ok(Some(written(all)))
    }

    /// The steps of this work.
    pub(super) fn steps(&self, planned: &Planned) -> Vec<Step> {
        let salt = planned.plan.request.powder.salt();
        in_order(salt.is_chloroplatinate(), !planned.plan.batch.chloride.is_zero())
    }

    /// The mix this work has become.
    pub(super) fn mix(&self, planned: &Planned) -> Result<Mix, Refusal> {
        let mark = self.mark.clone().unwrap_or_else(|| {
            format!("{}mL", handcoat_craft::measure::significant(planned.plan.batch.volume.best.to_millilitres(), 9))
        });
        let chloride = match (&self.chloride, &self.more_chloride) {
            (Some(first), Some(more)) => {
                let all = read_mass(first)?.plus(read_mass(more)?);
                Some(written(all.map_err(|error| Refusal::bounds(crate::Question::ChlorideWeighed, &error))?))
            }
            (chloride, _) => chloride.clone(),
        };
        Ok(Mix {
            from: Some(self.jar.clone()),
            mass: self.powder.clone(),
            vials: self.vials.iter().map(|(name, _)| name.clone()).collect(),
            with: self.chloride_jar.is_none().then(|| self.with.clone()).flatten(),
            chloride_from: self.chloride_jar.clone(),
            chloride,
            make: Some(mark),
            name: self.name.clone(),
            empty: self.empty.clone(),
            full: self.full.clone(),
            capacity: self.capacity.clone(),
            balance: self.balance.clone(),
            glass: self.glass.clone(),
            day: None,
            ..Mix::default()
        })
    }
}

/// A mass as it stands in the state.
pub(super) fn written(mass: Mass) -> String {
    format!("{}mg", handcoat_craft::measure::significant(mass.to_grams() * 1000.0, 12))
}

pub(super) fn read_mass(text: &str) -> Result<Mass, Refusal> {
    let about = crate::Question::PowderWeighed;
    Ok(crate::stock::read_weighing(about, Some(&text.to_owned()))?.unwrap_or(Mass::ZERO))
}
