//! The two doors of `handcoat`: the command line, and the pages.
//!
//! A door resolves what somebody named, calls one function of `work`, and says what happened. It does no
//! arithmetic on quantities and knows no rule of the trade.

mod apart;
mod cli;
mod clock;
mod json;
pub mod web;

pub use apart::{is_child, run_child, this_program, use_program};
pub use cli::{Outcome, run};
