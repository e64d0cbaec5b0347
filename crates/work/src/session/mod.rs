//! Plans and papers of the station *session*: the day's printing.

mod answers;
mod blank;
mod plan;
mod sheet;
mod words;

pub use answers::SessionAnswers;
pub use blank::{BlankFacts, blank_sheet};
pub use plan::{HandStep, SessionPlan, session_plan};
pub use sheet::{Drops, SessionSheetFacts, session_sheet};
pub use words::{bound_words, duration, steps_by_hand, summary, timeline_rows};
