//! A whole book as rows: what `work` reads and this crate writes.

use std::collections::BTreeMap;

use handcoat_craft::ledger::{Account, Balances, Entry, ItemKind, ItemNumber};
use jiff::Timestamp;
use serde_json::Value;

use crate::shelf::{ShelfRow, Standing};

/// Everything a book holds, of one moment.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct WholeBook {
    /// What the book knows of itself, by name.
    pub studio: BTreeMap<String, String>,
    /// Everything that is or was on the shelf, by number: as the book remembers it.
    pub items: Vec<ItemRecord>,
    /// The same as rows of a table.
    pub shelf: Vec<ShelfRow>,
    /// Every act, by number.
    pub acts: Vec<ActRecord>,
    /// What every account holds.
    pub balances: Balances,
    /// Bench work, done or under way, by number.
    pub benches: Vec<BenchRecord>,
    /// Papers, tools, lamps, baths, supplies, coats and prints, in the order they were made.
    pub records: Vec<KeptRecord>,
    /// Sessions and timers, done or under way, as the book keeps them.
    pub days: Vec<Value>,
    /// Jobs that make negatives, by number: what was asked for, and what became of it.
    pub jobs: Vec<Value>,
    /// Pictures: name of the file and its bytes, as they came.
    pub photos: Vec<(String, Vec<u8>)>,
}

/// A record beside the shelf.
#[derive(Clone, Debug, PartialEq)]
pub struct KeptRecord {
    /// Its kind: `paper`, `print`.
    pub kind: String,
    /// Its number within the kind.
    pub number: u32,
    /// What it is called.
    pub name: String,
    /// Whether it is in use.
    pub standing: Standing,
    /// What is known of it.
    pub facts: Value,
    /// What was counted for it, by word.
    pub counts: BTreeMap<String, i64>,
}

/// An item as the book remembers it.
#[derive(Clone, Debug, PartialEq)]
pub struct ItemRecord {
    /// Its running number.
    pub number: ItemNumber,
    /// Jar, bottle or vial.
    pub kind: ItemKind,
    /// Spoken name.
    pub name: String,
    /// Whether it is on the shelf.
    pub standing: Standing,
    /// What is known of it.
    pub facts: Value,
}

/// An act as it stands in the book.
#[derive(Clone, Debug, PartialEq)]
pub struct ActRecord {
    /// Its running number.
    pub number: i64,
    /// Its key.
    pub key: String,
    /// Which sort.
    pub kind: String,
    /// Who did it.
    pub who: String,
    /// When.
    pub at: Timestamp,
    /// What was said and what came of it.
    pub body: Value,
    /// The items it changed, as they were before it.
    pub before: Value,
    /// The records it changed, as they were before it.
    pub before_records: Value,
    /// The act it takes back.
    pub reverses: Option<i64>,
    /// The act that took it back.
    pub reversed_by: Option<i64>,
    /// Its entry, where it moved anything.
    pub entry: Option<Entry>,
}

/// A piece of bench work.
#[derive(Clone, Debug, PartialEq)]
pub struct BenchRecord {
    /// Its running number.
    pub number: i64,
    /// When it was begun.
    pub begun: Timestamp,
    /// Where it stands.
    pub body: Value,
    /// The act it became.
    pub act: Option<i64>,
}

impl WholeBook {
    /// The spoken name behind an account, where it is an item's.
    pub(crate) fn name_of(&self, account: Account) -> Option<&str> {
        let number = account.item()?;
        self.items.iter().find(|item| item.number == number).map(|item| item.name.as_str())
    }
}
