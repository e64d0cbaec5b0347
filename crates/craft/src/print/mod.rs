//! What is written down of a print, and what two prints say about each other.
//!
//! | module | what it holds |
//! |---|---|
//! | `conditions` | how a print was made, each thing known or unknown |
//! | `compare` | what changed between two prints, the likeliest explanation first; whether an exposure time still stands |

mod compare;
mod conditions;

pub use compare::{Change, Comparison, Likelihood, compare, suspect};
pub use conditions::{Conditions, Reading};
