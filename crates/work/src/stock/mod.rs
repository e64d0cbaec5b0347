//! Acts and plans of the station *stock*.

mod answers;
mod compare;
mod facts;
mod given;
mod plan;
mod rows;
mod sheet;
mod solution;
mod solution_answers;
mod solution_steps;
mod solution_words;
mod steps;
mod ways;

pub use answers::{Answers, LadderAnswers, StrengthAnswers};
pub(crate) use answers::{
    needed, read, read_balance, read_count, read_formula, read_hydrate, read_powder, read_purity, read_weighing,
};
pub use compare::{CompareAnswers, Compared, compare};
pub use facts::{FormulaFacts, Pairing, facts, ladder, pairs, strengths};
pub use plan::{Planned, plan};
pub use rows::{
    Row, RowKind, bars, budget_words, cause_words, known_by, mass_percent, not_in_it, plain, result_rows, title,
    weigh_rows,
};
pub use sheet::{SheetFacts, bench_sheet};
pub use solution::{AnyPlan, any_sheet, plan_any};
pub(crate) use solution_answers::{read_solid, read_solute};
pub use solution_steps::solution_steps;
pub use solution_words::{
    Moles, bottle_words, form_words, keeping_words, solute_name, solution_known_by, solution_result_rows,
    solution_title, solution_weigh_rows,
};
pub(crate) use ways::at_least;
pub use ways::{strength_off, way_care, way_words, weighed_words};
