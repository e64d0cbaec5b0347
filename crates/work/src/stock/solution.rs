//! One question, two sorts of plan: a stock of metal, or a solution of anything else.

use handcoat_craft::measure::percent;
use handcoat_craft::source::Element;
use handcoat_craft::stock::prepared;
use handcoat_craft::stock::solution::{SolutionError, SolutionPlan};
use handcoat_figures::{Bar, Theme, uncertainty_bars};
use handcoat_sheets::{BenchSheet, SheetRow};

use super::Answers;
use super::answers::read_formula;
use super::plan::{Planned, plan};
use super::rows::{Row, cause_words};
use super::sheet::{SheetFacts, bench_sheet, set};
use super::solution_steps::solution_steps;
use super::solution_words::{form_words, solution_known_by, solution_result_rows, solution_title, solution_weigh_rows};
use crate::{Question, Refusal, Remedy};

/// A plan of either sort.
#[derive(Clone, Debug, PartialEq)]
pub enum AnyPlan {
    /// A stock of palladium or platinum.
    Metal(Box<Planned>),
    /// A solution of something else.
    Solution(Box<SolutionPlan>),
}

/// Plans what the answers ask for.
///
/// # Errors
/// [`Refusal`] when an answer cannot be read, when answers contradict each other, or for the impossible.
pub fn plan_any(answers: &Answers) -> Result<AnyPlan, Refusal> {
    if !asks_for_a_solution(answers) {
        return plan(answers).map(|planned| AnyPlan::Metal(Box::new(planned)));
    }
    let request = answers.solution()?;
    SolutionPlan::make(request)
        .map(|planned| AnyPlan::Solution(Box::new(planned)))
        .map_err(|error| refused(answers, &error))
}

/// Without palladium and platinum, and either known here or of a stated strength. What cannot be read is left to the plan of
/// metal, which says why.
fn asks_for_a_solution(answers: &Answers) -> bool {
    let Some(formula) = answers.salt.as_deref().and_then(|text| read_formula(Question::Powder, text).ok()) else {
        return false;
    };
    let metal = formula.count(Element::PD) > 0.0 || formula.count(Element::PT) > 0.0;
    let asked = answers.percent.is_some() || answers.from_stock.is_some();
    !metal && formula.charge() == 0 && (asked || prepared(&formula).is_some())
}

/// The bench sheet of either sort.
///
/// # Errors
/// [`Refusal`] when the page cannot be set.
pub fn any_sheet(planned: &AnyPlan, facts: &SheetFacts) -> Result<Vec<u8>, Refusal> {
    match planned {
        AnyPlan::Metal(planned) => bench_sheet(planned, facts),
        AnyPlan::Solution(planned) => set(&compose(planned, facts), facts),
    }
}

fn sheet_row(row: Row) -> SheetRow {
    SheetRow { label: row.label, value: row.value, unit: row.unit, cas: row.cas }
}

fn compose(plan: &SolutionPlan, facts: &SheetFacts) -> BenchSheet {
    let first = plan.dissolved.first();
    let bars: Vec<Bar> = first
        .map(|own| own.causes.iter().filter(|(_, u)| *u > 1e-5))
        .into_iter()
        .flatten()
        .map(|&(cause, relative)| Bar { label: cause_words(cause).into(), relative })
        .collect();
    BenchSheet {
        title: solution_title(plan),
        studio: facts.studio.clone(),
        day: facts.day.numbers(),
        invented: facts.invented,
        jar: plan.request.ingredients.iter().map(form_words).collect::<Vec<_>>().join("; "),
        warnings: plan.warnings.iter().map(ToString::to_string).collect(),
        weigh: solution_weigh_rows(plan).into_iter().map(sheet_row).collect(),
        result: solution_result_rows(plan).into_iter().map(sheet_row).collect(),
        // What is open stands beside the jars already.
        dominant: first.filter(|_| plan.dissolved.len() < 3).and_then(|own| own.dominant()).map(|(cause, part)| {
            let known = solution_known_by(plan).join("; ");
            format!(
                "± is k = 2; {} dominates it ({} of the variance). Reckoned from: {known}.",
                cause_words(cause),
                percent(part)
            )
        }),
        weighed: None,
        ways: Vec::new(),
        steps: solution_steps(plan),
        // The cautions of several solutes need the room of the drawing.
        bars: (!bars.is_empty() && plan.dissolved.len() == 1).then(|| uncertainty_bars(&bars, Theme::Paper)),
        chloride: None,
    }
}

/// Why there is no such solution, about the answer to blame.
fn refused(answers: &Answers, error: &SolutionError) -> Refusal {
    let form = || vec![Remedy::Write(Question::Hydrate, "hexahydrate".into())];
    let (about, remedies) = match error {
        SolutionError::Plan(error) => return Refusal::plan(answers, error),
        SolutionError::Hydrate(error) => return Refusal::hydrate(error),
        SolutionError::PairInOneBottle { .. } | SolutionError::Twice { .. } => {
            (Question::And, answers.leave_out(&[Question::And]))
        }
        SolutionError::FormOpen { .. } => {
            let percent = answers.leave_out(&[Question::PercentAs, Question::Molarity]);
            (Question::Hydrate, [form(), percent].concat())
        }
        SolutionError::NotStrongEnough { .. } => {
            (Question::FromStock, vec![Remedy::Write(Question::Percent, "1".into())])
        }
    };
    Refusal::rule(error.code(), about, error.to_string(), remedies)
}
