//! Plans of the station *coat*.

mod answers;
mod choices;
mod known;
mod last;
mod plan;
mod rows;
mod sheet;
mod solution;
mod used;

pub use answers::CoatAnswers;
pub use choices::{Choice, Choices, choices};
pub(crate) use known::dropper_of;
pub use last::{LastTime, last_words};
pub use plan::{Coated, plan};
pub use rows::{
    cause_words, drop_lines, fact_rows, less_words, margin_words, pours_of, ratio_words, rounding_words, uptake_words,
};
pub use sheet::{CoatSheetFacts, coat_heading, coat_sheet, image_words};
pub(crate) use solution::{percent_as_named, said_beside};
pub use used::{Origin, Used};
