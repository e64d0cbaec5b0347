//! The acts of a book, newest first.

use handcoat_book::{Act, ActNumber, RecordKind};
use handcoat_craft::ledger::ItemNumber;
use jiff::Timestamp;

use crate::studio::said;
use crate::{Refusal, Studio};

/// An act as a list shows it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ActRow {
    /// Its number.
    pub act: i64,
    /// Which sort.
    pub kind: String,
    /// When.
    pub at: Timestamp,
    /// Who.
    pub who: String,
    /// What it said of itself.
    pub said: Vec<String>,
    /// The act that took it back.
    pub undone_by: Option<i64>,
    /// The act it takes back.
    pub undoes: Option<i64>,
}

/// The newest acts.
///
/// # Errors
/// [`Refusal`] when the book cannot be read.
pub fn acts(studio: &Studio, most: u32) -> Result<Vec<ActRow>, Refusal> {
    Ok(studio.book.latest_acts(most)?.into_iter().map(row).collect())
}

/// One act; none when no act has this number.
///
/// # Errors
/// [`Refusal`] when the book cannot be read.
pub fn act(studio: &Studio, number: i64) -> Result<Option<ActRow>, Refusal> {
    Ok(studio.book.act_numbered(ActNumber::new(number))?.map(row))
}

/// The newest acts on one item, newest first.
///
/// # Errors
/// [`Refusal`] when the book cannot be read.
pub fn acts_on(studio: &Studio, item: ItemNumber, most: u32) -> Result<Vec<ActRow>, Refusal> {
    Ok(studio.book.acts_on(item, most)?.into_iter().map(row).collect())
}

/// The newest acts that made or changed a record, newest first.
///
/// # Errors
/// [`Refusal`] when the book cannot be read.
pub fn acts_on_record(studio: &Studio, kind: RecordKind, number: u32, most: u32) -> Result<Vec<ActRow>, Refusal> {
    Ok(studio.book.acts_on_record(kind, number, most)?.into_iter().map(row).collect())
}

fn row(act: Act) -> ActRow {
    ActRow {
        act: act.number.get(),
        said: said(&act.body),
        kind: act.kind,
        at: act.at,
        who: act.who,
        undone_by: act.reversed_by.map(|own| own.get()),
        undoes: act.reverses.map(|own| own.get()),
    }
}
