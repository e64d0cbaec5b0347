//! Acts and plans of the station *stock*.

mod answers;
mod facts;
mod plan;
mod rows;
mod sheet;
mod steps;

pub use answers::{Answers, LadderAnswers, StrengthAnswers};
pub use facts::{FormulaFacts, Pairing, facts, ladder, pairs, strengths};
pub use plan::{Planned, plan};
pub use rows::{
    Row, RowKind, bars, cause_words, known_by, not_in_it, result_rows, strength_off, title, way_words, weigh_rows,
    weighed_words,
};
pub use sheet::{SheetFacts, bench_sheet};
