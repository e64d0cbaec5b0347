//! Everything a book holds, read in one go.

use handcoat_craft::ledger::Balances;
use serde_json::Value;

use crate::{
    Act, Benched, Book, BookError, Item, JobRow, Journal, Photo, Record, SessionRow, TimerRow, acts, bench, day, facts,
    job, ledger, photo, record,
};

/// A whole book of one moment, whoever writes meanwhile.
#[derive(Clone, Debug, PartialEq)]
pub struct Whole {
    /// What the book knows of itself, by name.
    pub facts: Vec<(String, String)>,
    /// Everything that is or was on the shelf, by number.
    pub items: Vec<Item>,
    /// Every act by number, each with the items and the records it changed as they were before.
    pub acts: Vec<(Act, Value, Value)>,
    /// Every entry.
    pub journal: Journal,
    /// What every account holds.
    pub balances: Balances,
    /// Bench work, done or under way, by number.
    pub benches: Vec<Benched>,
    /// Every record, in the order they were made.
    pub records: Vec<Record>,
    /// Every session, by number.
    pub sessions: Vec<SessionRow>,
    /// Every timer, by number.
    pub timers: Vec<TimerRow>,
    /// Every job that was not put away, by number.
    pub jobs: Vec<JobRow>,
    /// Every picture.
    pub photos: Vec<Photo>,
}

impl Book {
    /// Reads everything inside one transaction.
    ///
    /// # Errors
    /// [`BookError`] when the book cannot be read.
    pub fn whole(&self) -> Result<Whole, BookError> {
        // Dropped at the end: nothing was written.
        let db = self.connection.unchecked_transaction()?;
        let mut statement = db.prepare("SELECT name, value FROM facts ORDER BY name")?;
        let own = statement.query_map([], |row| Ok((row.get(0)?, row.get(1)?)))?.collect::<Result<_, _>>()?;
        Ok(Whole {
            facts: own,
            items: facts::items(&db)?,
            acts: acts::all(&db)?,
            journal: ledger::journal(&db)?,
            balances: ledger::balances(&db)?,
            benches: bench::all(&db)?,
            records: record::all(&db)?,
            sessions: day::sessions(&db)?,
            timers: day::timers(&db, "ORDER BY number")?,
            jobs: job::every(&db)?,
            photos: photo::all(&db)?,
        })
    }
}
