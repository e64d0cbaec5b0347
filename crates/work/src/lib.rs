//! What the maker does: one function per act or plan.
//!
//! Each takes what somebody answered, as text, and gives a result of `craft` types, or a [`Refusal`]: what
//! happened, what was seen, what was expected, and what to do next. Both doors (command line and page) call
//! these and only put them into words.

pub mod bench;
pub mod coat;
mod day;
pub mod exchange;
pub mod expose;
mod field;
pub mod keep;
pub mod ledger;
pub mod negative;
pub mod paper;
pub mod print;
mod question;
mod refusal;
mod role;
pub mod sample;
pub mod session;
mod settings;
pub mod shelf;
pub mod stock;
mod studio;
pub mod tone;

pub use day::Day;
pub use field::{Field, Form};
pub use question::Question;
pub use refusal::{Excerpt, Refusal, RefusalKind, Remedy};
pub use settings::{Settings, TokenHash};
pub use studio::{Checked, Done, Moment, Studio};
