//! Work under way at the bench: it survives a reload and a killed server, and becomes an act when it is done.

use jiff::Timestamp;
use rusqlite::{OptionalExtension, params};
use serde_json::Value;

use crate::number::{ActNumber, BenchNumber};
use crate::{Book, BookError};

/// Work under way.
#[derive(Clone, Debug, PartialEq)]
pub struct Benched {
    /// Its number.
    pub number: BenchNumber,
    /// When it was begun.
    pub begun: Timestamp,
    /// Where it stands.
    pub body: Value,
    /// The act it became.
    pub act: Option<ActNumber>,
}

impl Book {
    /// Begins a piece of work.
    ///
    /// # Errors
    /// [`BookError`] when the book cannot be written.
    pub fn begin_bench(&mut self, at: Timestamp, body: &Value) -> Result<BenchNumber, BookError> {
        self.connection
            .prepare_cached("INSERT INTO benches (begun, changed, body) VALUES (?1, ?1, ?2)")?
            .execute(params![at.to_string(), body.to_string()])?;
        Ok(BenchNumber(self.connection.last_insert_rowid()))
    }

    /// Keeps where the work stands, or the act it became.
    ///
    /// # Errors
    /// [`BookError`] when the book cannot be written.
    pub fn keep_bench(
        &mut self,
        number: BenchNumber,
        at: Timestamp,
        body: &Value,
        act: Option<ActNumber>,
    ) -> Result<(), BookError> {
        self.connection
            .prepare_cached("UPDATE benches SET changed = ?2, body = ?3, act = ?4 WHERE number = ?1")?
            .execute(params![number.get(), at.to_string(), body.to_string(), act.map(ActNumber::get)])?;
        Ok(())
    }

    /// A piece of work.
    ///
    /// # Errors
    /// [`BookError`] when the book cannot be read.
    pub fn bench(&self, number: BenchNumber) -> Result<Option<Benched>, BookError> {
        let sql = "SELECT number, begun, body, act FROM benches WHERE number = ?1";
        let mut statement = self.connection.prepare_cached(sql)?;
        statement.query_row([number.get()], |row| Ok(read(row))).optional()?.transpose()
    }

    /// Work that is not done, newest first.
    ///
    /// # Errors
    /// [`BookError`] when the book cannot be read.
    pub fn open_benches(&self) -> Result<Vec<Benched>, BookError> {
        let sql = "SELECT number, begun, body, act FROM benches WHERE act IS NULL ORDER BY number DESC";
        let mut statement = self.connection.prepare_cached(sql)?;
        let mut rows = statement.query([])?;
        let mut found = Vec::new();
        while let Some(row) = rows.next()? {
            found.push(read(row)?);
        }
        Ok(found)
    }
}

/// All of it, by number.
pub(crate) fn all(db: &rusqlite::Connection) -> Result<Vec<Benched>, BookError> {
    let mut statement = db.prepare("SELECT number, begun, body, act FROM benches ORDER BY number")?;
    let mut rows = statement.query([])?;
    let mut found = Vec::new();
    while let Some(row) = rows.next()? {
        found.push(read(row)?);
    }
    Ok(found)
}

fn read(row: &rusqlite::Row<'_>) -> Result<Benched, BookError> {
    let (begun, body): (String, String) = (row.get(1)?, row.get(2)?);
    Ok(Benched {
        number: BenchNumber(row.get(0)?),
        begun: begun.parse().map_err(|_| BookError::unreadable("when bench work was begun", begun))?,
        body: serde_json::from_str(&body).map_err(|_| BookError::unreadable("the state of bench work", body))?,
        act: row.get::<_, Option<i64>>(3)?.map(ActNumber::new),
    })
}
