//! Plans of the station *coat*.

mod answers;
mod known;
mod plan;
mod rows;
mod solution;

pub use answers::CoatAnswers;
pub use known::{DropperFacts, Known, PaperFacts};
pub use plan::{Coated, plan};
pub use rows::{
    cause_words, drop_lines, fact_rows, less_words, margin_words, ratio_words, rounding_words, uptake_words,
};
