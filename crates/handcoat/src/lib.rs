//! The two doors of `handcoat`: so far the command line.
//!
//! A door resolves what somebody named, calls one function of `work`, and says what happened. It does no
//! arithmetic on quantities and knows no rule of the trade.

mod cli;
mod json;
mod web;

pub use cli::{Outcome, run};
