//! What is remembered: one SQLite file.
//!
//! A [`Book`] is opened, never adopted: a file without our application id is foreign, one with a newer schema is refused.
//! Everything that changes it is an act: [`Book::act`] opens one immediate transaction, hands out an [`Acting`] that can read
//! balances, admit entries and change items, and writes the act, its before-images and its entry in the same commit.
//! [`Book::undo`] puts the before-images back and posts the reversal.
//!
//! This crate takes and gives types of `craft` and records of its own. It knows no chemistry and words nothing for a reader.

mod acts;
mod backup;
mod bench;
mod check;
mod day;
mod devices;
mod error;
mod facts;
mod item;
mod job;
mod ledger;
mod number;
mod open;
mod photo;
mod record;
mod schema;
#[cfg(test)]
mod tests;
mod undo;
mod whole;
mod words;

pub use acts::{Act, ActKey, Acted, Acting, Deed, PostError, Stamp};
pub use bench::Benched;
pub use check::{Finding, FindingKind};
pub use day::{Instant, SessionRow, TimerRow};
pub use devices::{Device, TokenHash};
pub use error::{BookError, Damage};
pub use item::{Dissolved, Facts, HazardSheet, Item, Look, Price, Standing, TestDone};
pub use job::{Holding, JobRow, JobState};
pub use ledger::{EntryNumber, Journal, Together};
pub use number::{ActNumber, BenchNumber, JobNumber, SessionNumber, TimerNumber};
pub use open::Book;
pub use photo::Photo;
pub use record::{Record, RecordKind};
pub use undo::{InTheWay, UndoError};
pub use whole::Whole;
