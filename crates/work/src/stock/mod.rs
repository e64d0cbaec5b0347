//! Acts and plans of the station *stock*.

mod answers;
mod facts;
mod given;
mod plan;
mod rows;
mod sheet;
mod steps;
mod ways;

pub use answers::{Answers, LadderAnswers, StrengthAnswers};
pub use facts::{FormulaFacts, Pairing, facts, ladder, pairs, strengths};
pub use plan::{Planned, plan};
pub use rows::{Row, RowKind, bars, cause_words, known_by, not_in_it, result_rows, title, weigh_rows};
pub use sheet::{SheetFacts, bench_sheet};
pub use ways::{strength_off, way_words, weighed_words};
