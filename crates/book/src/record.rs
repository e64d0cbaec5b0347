//! What the maker keeps beside the shelf: papers, tools, lamps, baths, supplies, set-ups with what was found of them, coats and prints.
//!
//! All of them are records of one shape: a kind, a number within it that is never used again, a name, and facts as JSON whose meaning is
//! known further up. Like items they change in acts only, and an undo puts them back.

use std::collections::BTreeMap;

use rusqlite::{Connection, OptionalExtension, Row, params};
use serde::{Deserialize, Serialize};
use serde_json::Value;

use crate::{Acting, Book, BookError, Damage, Standing, words};

/// What sort of record.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum RecordKind {
    /// A paper, by lot.
    Paper,
    /// A brush or a rod.
    Tool,
    /// A dropper with one solution.
    Dropper,
    /// A lamp, or the sun.
    Lamp,
    /// A tray's bath: developer or clearing bath.
    Bath,
    /// Something that is counted: gloves, films, sheets of blotting paper.
    Supply,
    /// A negative.
    Negative,
    /// A set-up: paper, coat, lamp, developer, film, printer and ink that belong together.
    Setup,
    /// An exposure test of a set-up: a wedge, strips, an order of ink steps.
    Test,
    /// What a set-up does with tones: the readings of a chart and the curve through them.
    Response,
    /// A coat made on a sheet.
    Coat,
    /// A print.
    Print,
}

impl RecordKind {
    /// All of them.
    pub const ALL: [Self; 12] = [
        Self::Paper,
        Self::Tool,
        Self::Dropper,
        Self::Lamp,
        Self::Bath,
        Self::Supply,
        Self::Negative,
        Self::Setup,
        Self::Test,
        Self::Response,
        Self::Coat,
        Self::Print,
    ];

    /// Its word, as it stands in the book.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Paper => "paper",
            Self::Tool => "tool",
            Self::Dropper => "dropper",
            Self::Lamp => "lamp",
            Self::Bath => "bath",
            Self::Supply => "supply",
            Self::Negative => "negative",
            Self::Setup => "setup",
            Self::Test => "test",
            Self::Response => "response",
            Self::Coat => "coat",
            Self::Print => "print",
        }
    }

    fn read(text: &str) -> Result<Self, BookError> {
        Self::ALL
            .into_iter()
            .find(|own| own.word() == text)
            .ok_or_else(|| BookError::unreadable("the kind of a record", text))
    }

    /// Whether two of it may have one name; in the schema the index `records_spoken` says the same.
    fn shares_names(self) -> bool {
        matches!(self, Self::Coat | Self::Print | Self::Test | Self::Response)
    }
}

/// A record.
#[derive(Clone, Debug, PartialEq)]
pub struct Record {
    /// Its kind.
    pub kind: RecordKind,
    /// Its number within the kind; never used again.
    pub ordinal: u32,
    /// What it is called.
    pub name: String,
    /// Whether it is in use.
    pub standing: Standing,
    /// What is known of it.
    pub facts: Value,
    /// Its row, for counts and touches.
    pub(crate) row: i64,
}

/// A record as it stood before an act. `None`: the act made it.
pub(crate) type RecordImages = BTreeMap<i64, Option<RecordBefore>>;

/// The part of a record that acts change.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub(crate) struct RecordBefore {
    name: String,
    standing: Standing,
    facts: Value,
}

impl RecordBefore {
    /// What was known of it.
    pub(crate) fn facts(&self) -> &Value {
        &self.facts
    }

    fn of(record: &Record) -> Self {
        Self { name: record.name.clone(), standing: record.standing, facts: record.facts.clone() }
    }
}

impl Book {
    /// One record.
    ///
    /// # Errors
    /// [`BookError`] when the book cannot be read.
    pub fn record(&self, kind: RecordKind, ordinal: u32) -> Result<Option<Record>, BookError> {
        one(&self.connection, kind, ordinal)
    }

    /// Records of a kind that are in use, in the order they came.
    ///
    /// # Errors
    /// [`BookError`] when the book cannot be read.
    pub fn records(&self, kind: RecordKind) -> Result<Vec<Record>, BookError> {
        here(&self.connection, kind)
    }

    /// Records of a kind that are in use or were put away, in the order they came.
    ///
    /// # Errors
    /// [`BookError`] when the book cannot be read.
    pub fn records_ever(&self, kind: RecordKind) -> Result<Vec<Record>, BookError> {
        ever(&self.connection, kind)
    }

    /// The newest records of a kind in use, newest first; only those before `before` when it is given.
    ///
    /// # Errors
    /// [`BookError`] when the book cannot be read.
    pub fn newest_records(&self, kind: RecordKind, most: u32, before: Option<u32>) -> Result<Vec<Record>, BookError> {
        let sql = format!(
            "SELECT {COLUMNS} FROM records WHERE kind = ?1 AND ordinal < ?2 AND standing <> 'undone' ORDER BY ordinal DESC LIMIT ?3"
        );
        collect(&self.connection, &sql, params![kind.word(), before.unwrap_or(u32::MAX), most])
    }

    /// Records of a kind that answer every word: `cotton`, or `paper:cotton` for one field; newest first, and only those before `before`
    /// when it is given.
    ///
    /// # Errors
    /// [`BookError`] when the book cannot be read.
    pub fn search_records(
        &self,
        kind: RecordKind,
        asked: &str,
        most: u32,
        before: Option<u32>,
    ) -> Result<Vec<Record>, BookError> {
        let Some(query) = words::query(kind, asked) else { return self.newest_records(kind, most, before) };
        // Rows come in the order of numbers, so the words are read from the newest on and only as far as the list goes. What was taken back
        // is passed over before it is counted.
        let sql = format!(
            "SELECT {COLUMNS} FROM record_words CROSS JOIN records ON records.number = record_words.rowid \
             WHERE record_words MATCH ?1 AND record_words.rowid < ?2 AND standing <> 'undone' \
             ORDER BY record_words.rowid DESC LIMIT ?3"
        );
        let row = before.map(|own| row_of(&self.connection, kind, own)).transpose()?.flatten();
        collect(&self.connection, &sql, params![query, row.unwrap_or(i64::MAX), most])
    }

    /// How many records of a kind were ever made and not taken back.
    ///
    /// # Errors
    /// [`BookError`] when the book cannot be read.
    pub fn how_many_records(&self, kind: RecordKind) -> Result<u32, BookError> {
        let sql = "SELECT count(*) FROM records WHERE kind = ?1 AND standing <> 'undone'";
        Ok(self.connection.prepare_cached(sql)?.query_row([kind.word()], |row| row.get(0))?)
    }

    /// What was counted for a record, by word.
    ///
    /// # Errors
    /// [`BookError`] when the book cannot be read.
    pub fn counts(&self, record: &Record) -> Result<BTreeMap<String, i64>, BookError> {
        counts(&self.connection, record)
    }
}

impl Acting<'_> {
    /// Records of a kind that are in use, also those this act made.
    ///
    /// # Errors
    /// [`BookError`] when the book cannot be read.
    pub fn records(&self, kind: RecordKind) -> Result<Vec<Record>, BookError> {
        here(self.db(), kind)
    }

    /// Records of a kind that are in use or were put away, in the order they came.
    ///
    /// # Errors
    /// [`BookError`] when the book cannot be read.
    pub fn records_ever(&self, kind: RecordKind) -> Result<Vec<Record>, BookError> {
        ever(self.db(), kind)
    }

    /// One record.
    ///
    /// # Errors
    /// [`BookError`] when the book cannot be read.
    pub fn record(&self, kind: RecordKind, ordinal: u32) -> Result<Option<Record>, BookError> {
        one(self.db(), kind, ordinal)
    }

    /// What was counted for a record, by word.
    ///
    /// # Errors
    /// [`BookError`] when the book cannot be read.
    pub fn counts(&self, record: &Record) -> Result<BTreeMap<String, i64>, BookError> {
        counts(self.db(), record)
    }

    /// The number the next record of a kind gets.
    ///
    /// # Errors
    /// [`BookError`] when the book cannot be read.
    pub fn next_ordinal(&self, kind: RecordKind) -> Result<u32, BookError> {
        let sql = "SELECT coalesce(max(ordinal), 0) + 1 FROM records WHERE kind = ?1";
        Ok(self.db().prepare_cached(sql)?.query_row([kind.word()], |row| row.get(0))?)
    }

    /// Makes a record.
    ///
    /// # Errors
    /// [`BookError`] when the book cannot be written; a name that is taken is one of those, so look first.
    pub fn add_record(&mut self, kind: RecordKind, name: &str, facts: &Value) -> Result<Record, BookError> {
        let ordinal = self.next_ordinal(kind)?;
        self.db()
            .prepare_cached(
                "INSERT INTO records (kind, ordinal, name, standing, facts) VALUES (?1, ?2, ?3, 'here', ?4)",
            )?
            .execute(params![kind.word(), ordinal, name, facts.to_string()])?;
        let record = Record {
            kind,
            ordinal,
            name: name.into(),
            standing: Standing::Here,
            facts: facts.clone(),
            row: self.db().last_insert_rowid(),
        };
        index(self.db(), &record)?;
        self.record_images().insert(record.row, None);
        Ok(record)
    }

    /// Changes a record.
    ///
    /// # Errors
    /// [`BookError`] when the book cannot be written.
    pub fn change_record(&mut self, changed: &Record) -> Result<(), BookError> {
        if !self.record_images().contains_key(&changed.row) {
            let was = by_row(self.db(), changed.row)?;
            self.record_images().insert(changed.row, Some(RecordBefore::of(&was)));
        }
        put(self.db(), changed)
    }

    /// Counts something for a record, beside the ledger.
    pub fn count(&mut self, record: &Record, what: &str, amount: i64) {
        *self.counted().entry((record.row, what.into())).or_default() += amount;
    }

    /// Puts a record back as it was. Gives the name that another has by now, when that keeps it from being put back.
    pub(crate) fn put_record_back(
        &mut self,
        row: i64,
        before: Option<RecordBefore>,
    ) -> Result<Option<String>, BookError> {
        let is = by_row(self.db(), row)?;
        self.record_images().insert(row, Some(RecordBefore::of(&is)));
        let back = match before {
            None => Record { standing: Standing::Undone, ..is },
            Some(RecordBefore { name, standing, facts }) => Record { name, standing, facts, ..is },
        };
        let named = !back.kind.shares_names() && back.standing == Standing::Here;
        let taken = |other: &Record| other.row != back.row && other.name.to_lowercase() == back.name.to_lowercase();
        if named && here(self.db(), back.kind)?.iter().any(taken) {
            return Ok(Some(back.name));
        }
        put(self.db(), &back)?;
        Ok(None)
    }
}

const COLUMNS: &str = "kind, ordinal, name, standing, facts, number";

fn read(row: &Row<'_>) -> Result<Record, BookError> {
    let (kind, standing, facts): (String, String, String) = (row.get(0)?, row.get(3)?, row.get(4)?);
    Ok(Record {
        kind: RecordKind::read(&kind)?,
        ordinal: row.get(1)?,
        name: row.get(2)?,
        standing: Standing::read(&standing)?,
        facts: serde_json::from_str(&facts).map_err(|_| BookError::unreadable("what is known of a record", facts))?,
        row: row.get(5)?,
    })
}

fn collect(db: &Connection, sql: &str, given: impl rusqlite::Params) -> Result<Vec<Record>, BookError> {
    let mut statement = db.prepare_cached(sql)?;
    let mut rows = statement.query(given)?;
    let mut found = Vec::new();
    while let Some(row) = rows.next()? {
        found.push(read(row)?);
    }
    Ok(found)
}

fn here(db: &Connection, kind: RecordKind) -> Result<Vec<Record>, BookError> {
    let sql = format!("SELECT {COLUMNS} FROM records WHERE kind = ?1 AND standing = 'here' ORDER BY ordinal");
    collect(db, &sql, [kind.word()])
}

fn ever(db: &Connection, kind: RecordKind) -> Result<Vec<Record>, BookError> {
    let sql = format!("SELECT {COLUMNS} FROM records WHERE kind = ?1 AND standing <> 'undone' ORDER BY ordinal");
    collect(db, &sql, [kind.word()])
}

/// Every record, in the order they were made.
pub(crate) fn all(db: &Connection) -> Result<Vec<Record>, BookError> {
    collect(db, &format!("SELECT {COLUMNS} FROM records ORDER BY number"), [])
}

pub(crate) fn one(db: &Connection, kind: RecordKind, ordinal: u32) -> Result<Option<Record>, BookError> {
    let mut statement =
        db.prepare_cached(&format!("SELECT {COLUMNS} FROM records WHERE kind = ?1 AND ordinal = ?2"))?;
    statement.query_row(params![kind.word(), ordinal], |row| Ok(read(row))).optional()?.transpose()
}

fn row_of(db: &Connection, kind: RecordKind, ordinal: u32) -> Result<Option<i64>, BookError> {
    let sql = "SELECT number FROM records WHERE kind = ?1 AND ordinal = ?2";
    Ok(db.prepare_cached(sql)?.query_row(params![kind.word(), ordinal], |row| row.get(0)).optional()?)
}

pub(crate) fn by_row(db: &Connection, row: i64) -> Result<Record, BookError> {
    let mut statement = db.prepare_cached(&format!("SELECT {COLUMNS} FROM records WHERE number = ?1"))?;
    let found = statement.query_row([row], |own| Ok(read(own))).optional()?.transpose()?;
    found.ok_or_else(|| BookError::Damaged(Damage::Rule(format!("record {row} is spoken of and is not there"))))
}

fn put(db: &Connection, record: &Record) -> Result<(), BookError> {
    db.prepare_cached("UPDATE records SET name = ?2, standing = ?3, facts = ?4 WHERE number = ?1")?
        .execute(params![record.row, record.name, record.standing.word(), record.facts.to_string()])?;
    index(db, record)
}

fn index(db: &Connection, record: &Record) -> Result<(), BookError> {
    db.prepare_cached("DELETE FROM record_words WHERE rowid = ?1")?.execute([record.row])?;
    db.prepare_cached("INSERT INTO record_words (rowid, words) VALUES (?1, ?2)")?
        .execute(params![record.row, words::of(record)])?;
    Ok(())
}

fn counts(db: &Connection, record: &Record) -> Result<BTreeMap<String, i64>, BookError> {
    let mut statement = db.prepare_cached("SELECT what, amount FROM count_totals WHERE record = ?1 AND amount <> 0")?;
    let mut rows = statement.query([record.row])?;
    let mut found = BTreeMap::new();
    while let Some(row) = rows.next()? {
        found.insert(row.get(0)?, row.get(1)?);
    }
    Ok(found)
}
