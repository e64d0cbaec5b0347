//! The plan of a day's printing.

use handcoat_craft::measure::Span;
use handcoat_craft::session::{Bound, Means, Resource, Schedule, SessionError, Sheet, Step, TimeOfDay};

use super::SessionAnswers;
use crate::{Question, Refusal, Remedy};

/// A day's printing, planned.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct SessionPlan {
    /// The prints.
    pub sheets: Vec<Sheet>,
    /// What there is.
    pub means: Means,
    /// When it begins.
    pub start: TimeOfDay,
    /// Every step in its place.
    pub schedule: Schedule,
    /// What no plan can be shorter than.
    pub bound: Bound,
    /// The prints one after the other.
    pub one_at_a_time: Span,
    /// Spans nobody has said: what, and how long it was taken to be.
    pub assumed: Vec<(&'static str, Span)>,
}

/// Something one hand does.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct HandStep {
    /// Whose hand, counted from 1.
    pub hand: u16,
    /// Which print, counted from 0.
    pub print: usize,
    /// Which step.
    pub step: Step,
    /// When, after the beginning.
    pub at: Span,
    /// When the step's own time is over.
    pub due: Span,
}

/// Plans a day's printing.
///
/// # Errors
/// [`Refusal`] when an answer cannot be read, when trays are too few, or when there is no plan.
pub fn session_plan(answers: &SessionAnswers) -> Result<SessionPlan, Refusal> {
    let request = answers.request()?;
    let (sheets, means) = (request.sheets, request.means);
    let refused = |error: SessionError| {
        let about = Question::Prints;
        let remedies = match error {
            SessionError::Nothing => vec![Remedy::Write(Question::Exposure, "6:00".into())],
            _ => vec![Remedy::Write(about, "3".into())],
        };
        Refusal::rule("session_not_planned", about, error.to_string(), remedies)
    };
    let schedule = Schedule::make(&sheets, &means).map_err(refused)?;
    let bound = Bound::of(&sheets, &means).map_err(refused)?;
    let one_at_a_time = Schedule::one_at_a_time(&sheets).map_err(refused)?;
    Ok(SessionPlan { sheets, means, start: request.start, schedule, bound, one_at_a_time, assumed: request.assumed })
}

impl SessionPlan {
    /// How much longer it is than what no plan can be shorter than, as a ratio from 1 on.
    #[must_use]
    pub fn ratio_to_bound(&self) -> f64 {
        let bound = self.bound.span.to_seconds();
        if bound > 0.0 { self.schedule.total().to_seconds() / bound } else { 1.0 }
    }

    /// All that hands do, in order of time.
    #[must_use]
    pub fn hand_steps(&self) -> Vec<HandStep> {
        let tasks = self.schedule.tasks.iter();
        let by_hand = |task: &handcoat_craft::session::Task| {
            let own = task.uses.iter().find(|own| own.resource == Resource::Hand)?;
            Some(HandStep { hand: own.unit + 1, print: task.print, step: task.step, at: task.begins, due: task.due })
        };
        tasks.filter_map(by_hand).collect()
    }

    /// What a print is called.
    #[must_use]
    pub fn name(&self, print: usize) -> &str {
        self.sheets.get(print).map_or("", |sheet| &sheet.name)
    }
}
