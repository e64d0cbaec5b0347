//! Acts and plans of the station *stock*.

mod answers;
mod compare;
mod facts;
mod given;
mod plan;
mod rows;
mod sheet;
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
pub use ways::{strength_off, way_care, way_words, weighed_words};
