//! A day's printing under way, and its timers. Like bench work it is no act: it may change, and what came of it becomes acts.

use jiff::Timestamp;
use rusqlite::{Connection, OptionalExtension, Row, params};
use serde_json::Value;

use crate::number::{SessionNumber, TimerNumber};
use crate::{Book, BookError};

/// A day's printing.
#[derive(Clone, Debug, PartialEq)]
pub struct SessionRow {
    /// Its number.
    pub number: SessionNumber,
    /// When it was begun.
    pub begun: Timestamp,
    /// Where it stands.
    pub body: Value,
    /// When it ended.
    pub ended: Option<Timestamp>,
}

/// When something is, by the wall and by the machine.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Instant {
    /// Wall time.
    pub wall: Timestamp,
    /// Which start of the machine, and milliseconds since it, sleep included; none where the machine does not tell.
    pub boot: Option<(String, i64)>,
}

/// A timer.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct TimerRow {
    /// Its number.
    pub number: TimerNumber,
    /// The session it belongs to.
    pub session: Option<SessionNumber>,
    /// What it is called.
    pub name: String,
    /// How long it runs, in milliseconds.
    pub span_ms: i64,
    /// When it was begun.
    pub begun: Instant,
    /// When it was put away.
    pub ended: Option<Timestamp>,
}

impl Book {
    /// Begins a session.
    ///
    /// # Errors
    /// [`BookError`] when the book cannot be written.
    pub fn begin_session(&mut self, at: Timestamp, body: &Value) -> Result<SessionNumber, BookError> {
        self.connection
            .prepare_cached("INSERT INTO sessions (begun, changed, body) VALUES (?1, ?1, ?2)")?
            .execute(params![at.to_string(), body.to_string()])?;
        Ok(SessionNumber(self.connection.last_insert_rowid()))
    }

    /// Keeps where a session stands; with `was`, only when it stands there still, so that two tablets do not write over each other.
    /// Gives whether it was kept.
    ///
    /// # Errors
    /// [`BookError`] when the book cannot be written.
    pub fn keep_session(
        &mut self,
        number: SessionNumber,
        at: Timestamp,
        was: &Value,
        body: &Value,
        ended: bool,
    ) -> Result<bool, BookError> {
        let changed = self
            .connection
            .prepare_cached(
                "UPDATE sessions SET changed = ?2, body = ?4, ended = CASE WHEN ?5 THEN ?2 ELSE NULL END \
                 WHERE number = ?1 AND body = ?3",
            )?
            .execute(params![number.0, at.to_string(), was.to_string(), body.to_string(), ended])?;
        Ok(changed == 1)
    }

    /// A session.
    ///
    /// # Errors
    /// [`BookError`] when the book cannot be read.
    pub fn session(&self, number: SessionNumber) -> Result<Option<SessionRow>, BookError> {
        let mut statement = self.connection.prepare_cached(&format!("{SESSION} WHERE number = ?1"))?;
        statement.query_row([number.0], |row| Ok(read_session(row))).optional()?.transpose()
    }

    /// The newest sessions, newest first.
    ///
    /// # Errors
    /// [`BookError`] when the book cannot be read.
    pub fn newest_sessions(&self, most: u32) -> Result<Vec<SessionRow>, BookError> {
        let mut statement = self.connection.prepare_cached(&format!("{SESSION} ORDER BY number DESC LIMIT ?1"))?;
        let mut rows = statement.query([most])?;
        let mut found = Vec::new();
        while let Some(row) = rows.next()? {
            found.push(read_session(row)?);
        }
        Ok(found)
    }

    /// Starts a timer.
    ///
    /// # Errors
    /// [`BookError`] when the book cannot be written.
    pub fn start_timer(
        &mut self,
        session: Option<SessionNumber>,
        name: &str,
        span_ms: i64,
        begun: &Instant,
    ) -> Result<TimerNumber, BookError> {
        let (boot, ms) = begun.boot.clone().unzip();
        self.connection
            .prepare_cached(
                "INSERT INTO timers (session, name, span_ms, begun, boot, begun_boot_ms) VALUES (?1, ?2, ?3, ?4, ?5, ?6)",
            )?
            .execute(params![session.map(SessionNumber::get), name, span_ms, begun.wall.to_string(), boot, ms])?;
        Ok(TimerNumber(self.connection.last_insert_rowid()))
    }

    /// Puts a timer away; one that is away stays as it is.
    ///
    /// # Errors
    /// [`BookError`] when the book cannot be written.
    pub fn end_timer(&mut self, number: TimerNumber, at: Timestamp) -> Result<(), BookError> {
        self.connection
            .prepare_cached("UPDATE timers SET ended = ?2 WHERE number = ?1 AND ended IS NULL")?
            .execute(params![number.0, at.to_string()])?;
        Ok(())
    }

    /// A timer.
    ///
    /// # Errors
    /// [`BookError`] when the book cannot be read.
    pub fn timer(&self, number: TimerNumber) -> Result<Option<TimerRow>, BookError> {
        let mut statement = self.connection.prepare_cached(&format!("{TIMER} WHERE number = ?1"))?;
        statement.query_row([number.0], |row| Ok(read_timer(row))).optional()?.transpose()
    }

    /// Timers that were not put away, in the order they were begun.
    ///
    /// # Errors
    /// [`BookError`] when the book cannot be read.
    pub fn running_timers(&self) -> Result<Vec<TimerRow>, BookError> {
        timers(&self.connection, "WHERE ended IS NULL ORDER BY number")
    }
}

/// Every session, by number.
pub(crate) fn sessions(db: &Connection) -> Result<Vec<SessionRow>, BookError> {
    let mut statement = db.prepare(&format!("{SESSION} ORDER BY number"))?;
    let mut rows = statement.query([])?;
    let mut found = Vec::new();
    while let Some(row) = rows.next()? {
        found.push(read_session(row)?);
    }
    Ok(found)
}

/// Timers, as chosen.
pub(crate) fn timers(db: &Connection, which: &str) -> Result<Vec<TimerRow>, BookError> {
    let mut statement = db.prepare_cached(&format!("{TIMER} {which}"))?;
    let mut rows = statement.query([])?;
    let mut found = Vec::new();
    while let Some(row) = rows.next()? {
        found.push(read_timer(row)?);
    }
    Ok(found)
}

const SESSION: &str = "SELECT number, begun, body, ended FROM sessions";
const TIMER: &str = "SELECT number, session, name, span_ms, begun, boot, begun_boot_ms, ended FROM timers";

fn read_session(row: &Row<'_>) -> Result<SessionRow, BookError> {
    let body: String = row.get(2)?;
    Ok(SessionRow {
        number: SessionNumber(row.get(0)?),
        begun: when(&row.get::<_, String>(1)?)?,
        body: serde_json::from_str(&body).map_err(|_| BookError::unreadable("the state of a session", body))?,
        ended: row.get::<_, Option<String>>(3)?.map(|text| when(&text)).transpose()?,
    })
}

fn read_timer(row: &Row<'_>) -> Result<TimerRow, BookError> {
    let (boot, ms): (Option<String>, Option<i64>) = (row.get(5)?, row.get(6)?);
    Ok(TimerRow {
        number: TimerNumber(row.get(0)?),
        session: row.get::<_, Option<i64>>(1)?.map(SessionNumber),
        name: row.get(2)?,
        span_ms: row.get(3)?,
        begun: Instant { wall: when(&row.get::<_, String>(4)?)?, boot: boot.zip(ms) },
        ended: row.get::<_, Option<String>>(7)?.map(|text| when(&text)).transpose()?,
    })
}

fn when(text: &str) -> Result<Timestamp, BookError> {
    text.parse().map_err(|_| BookError::unreadable("a time", text))
}
