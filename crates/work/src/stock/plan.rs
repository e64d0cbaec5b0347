//! Planning a stock, and setting beside it what was weighed.

use handcoat_craft::stock::{AsWeighed, Plan};

use super::Answers;
use crate::Refusal;

/// A plan, and what was weighed if anything was.
#[derive(Clone, Debug, PartialEq)]
pub struct Planned {
    /// The plan.
    pub plan: Plan,
    /// What was weighed, beside it.
    pub as_weighed: Option<AsWeighed>,
}

/// Plans a stock from answers.
///
/// # Errors
/// [`Refusal`] when an answer cannot be read, when answers contradict each other, or for the impossible.
pub fn plan(answers: &Answers) -> Result<Planned, Refusal> {
    let request = answers.request()?;
    let weighed = answers.weighed()?;
    let plan = Plan::make(request).map_err(|error| Refusal::plan(answers, &error))?;
    let compare = |weighed| AsWeighed::after(&plan, weighed).map_err(|error| Refusal::weighing(&plan, weighed, &error));
    let as_weighed = weighed.map(compare).transpose()?;
    Ok(Planned { plan, as_weighed })
}
