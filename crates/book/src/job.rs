//! Long work on large pictures: how far it is, where it goes on, what became of it. Like bench work it is no act: it may change, and what it
//! comes to becomes one.

use jiff::Timestamp;
use rusqlite::{OptionalExtension, Row, TransactionBehavior, params};
use serde_json::Value;

use crate::number::{ActNumber, JobNumber};
use crate::{Book, BookError};

/// Where a job stands, as it is written. Whether who has it still lives is for others to see.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum JobState {
    /// It waits for its turn.
    Waiting,
    /// It is worked on.
    Running,
    /// Its file is whole.
    Made,
    /// It was refused, or something failed.
    Failed,
    /// Somebody stopped it; it can go on.
    Stopped,
}

impl JobState {
    const ALL: [Self; 5] = [Self::Waiting, Self::Running, Self::Made, Self::Failed, Self::Stopped];

    /// Its word, as it stands in the book.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Waiting => "waiting",
            Self::Running => "running",
            Self::Made => "made",
            Self::Failed => "failed",
            Self::Stopped => "stopped",
        }
    }

    /// Whether somebody has it.
    #[must_use]
    pub fn is_open(self) -> bool {
        matches!(self, Self::Waiting | Self::Running)
    }
}

/// A job.
#[derive(Clone, Debug, PartialEq)]
pub struct JobRow {
    /// Its number.
    pub number: JobNumber,
    /// What sort of work.
    pub kind: String,
    /// What was asked for.
    pub asked: Value,
    /// The file it makes.
    pub target: String,
    /// Where it stands.
    pub state: JobState,
    /// The process that has it, or had.
    pub holder: String,
    /// Whether somebody wants it stopped.
    pub stop: bool,
    /// Rows that are done.
    pub done: u32,
    /// Rows of the sheet; nought before that is known.
    pub of: u32,
    /// When it was begun.
    pub begun: Timestamp,
    /// When it was last begun or gone on with.
    pub went_on: Timestamp,
    /// From which row that was.
    pub went_from: u32,
    /// When it last said something.
    pub seen: Timestamp,
    /// Where it can go on.
    pub checkpoint: Option<Vec<u8>>,
    /// What became of it.
    pub outcome: Option<Value>,
    /// The act it became.
    pub act: Option<ActNumber>,
}

/// Who has a job, and when he says something of it.
#[derive(Clone, Copy, Debug)]
pub struct Holding<'a> {
    /// The job.
    pub number: JobNumber,
    /// The process.
    pub holder: &'a str,
    /// When.
    pub at: Timestamp,
}

const JOB: &str = "SELECT number, kind, asked, target, state, holder, stop, done, of, begun, went_on, went_from, seen, \
    checkpoint, outcome, act FROM jobs";

impl Book {
    /// Writes down a job that waits for its turn.
    ///
    /// # Errors
    /// [`BookError`] when the book cannot be written.
    pub fn add_job(
        &mut self,
        kind: &str,
        asked: &Value,
        target: &str,
        holder: &str,
        at: Timestamp,
    ) -> Result<JobNumber, BookError> {
        self.connection
            .prepare_cached(
                "INSERT INTO jobs (kind, asked, target, state, holder, begun, went_on, seen) \
                 VALUES (?1, ?2, ?3, 'waiting', ?4, ?5, ?5, ?5)",
            )?
            .execute(params![kind, asked.to_string(), target, holder, at.to_string()])?;
        Ok(JobNumber(self.connection.last_insert_rowid()))
    }

    /// Takes a job to work on it, if it still stands as it was seen. Gives whether that went.
    ///
    /// # Errors
    /// [`BookError`] when the book cannot be written.
    pub fn take_job(&mut self, seen: &JobRow, state: JobState, by: Holding<'_>) -> Result<bool, BookError> {
        let transaction = self.connection.transaction_with_behavior(TransactionBehavior::Immediate)?;
        let changed = transaction
            .prepare_cached(
                "UPDATE jobs SET state = ?4, holder = ?5, stop = 0, went_on = ?6, went_from = done, seen = ?6 \
                 WHERE number = ?1 AND state = ?2 AND holder = ?3",
            )?
            .execute(params![
                seen.number.get(),
                seen.state.word(),
                seen.holder,
                state.word(),
                by.holder,
                by.at.to_string(),
            ])?;
        transaction.commit()?;
        Ok(changed == 1)
    }

    /// Keeps how far a job is; with `checkpoint` where it can go on. Gives whether somebody wants it stopped, or none when it is not held by
    /// this process any more.
    ///
    /// # Errors
    /// [`BookError`] when the book cannot be written.
    pub fn job_is_at(
        &mut self,
        by: Holding<'_>,
        (done, of): (u32, u32),
        checkpoint: Option<&[u8]>,
    ) -> Result<Option<bool>, BookError> {
        let sql = "UPDATE jobs SET done = ?4, of = ?5, seen = ?3, checkpoint = coalesce(?6, checkpoint) \
            WHERE number = ?1 AND holder = ?2 AND state = 'running' RETURNING stop";
        let mut statement = self.connection.prepare_cached(sql)?;
        let all = params![by.number.get(), by.holder, by.at.to_string(), done, of, checkpoint];
        Ok(statement.query_row(all, |row| row.get(0)).optional()?)
    }

    /// Keeps what a job comes to, before or when it ends; a job that is made needs no checkpoint any more. Gives whether this process had it.
    ///
    /// # Errors
    /// [`BookError`] when the book cannot be written.
    pub fn job_comes_to(
        &mut self,
        by: Holding<'_>,
        state: JobState,
        outcome: Option<&Value>,
        act: Option<ActNumber>,
    ) -> Result<bool, BookError> {
        let changed = self
            .connection
            .prepare_cached(
                "UPDATE jobs SET state = ?3, seen = ?4, outcome = coalesce(?5, outcome), act = coalesce(?6, act), \
                 done = CASE WHEN ?3 = 'made' THEN of ELSE done END, \
                 checkpoint = CASE WHEN ?3 = 'made' THEN NULL ELSE checkpoint END \
                 WHERE number = ?1 AND holder = ?2 AND state IN ('waiting', 'running')",
            )?
            .execute(params![
                by.number.get(),
                by.holder,
                state.word(),
                by.at.to_string(),
                outcome.map(Value::to_string),
                act.map(ActNumber::get)
            ])?;
        Ok(changed == 1)
    }

    /// Asks that a job be stopped. Gives whether somebody had it.
    ///
    /// # Errors
    /// [`BookError`] when the book cannot be written.
    pub fn stop_job(&mut self, number: JobNumber) -> Result<bool, BookError> {
        let sql = "UPDATE jobs SET stop = 1 WHERE number = ?1 AND state IN ('waiting', 'running')";
        Ok(self.connection.prepare_cached(sql)?.execute([number.get()])? == 1)
    }

    /// Changes what a job is asked for, if it still stands as it was seen. With another file it begins anew. Gives whether that went.
    ///
    /// # Errors
    /// [`BookError`] when the book cannot be written.
    pub fn change_job(&mut self, seen: &JobRow, asked: &Value, target: &str) -> Result<bool, BookError> {
        let sql = "UPDATE jobs SET asked = ?4, target = ?5, \
            checkpoint = CASE WHEN target = ?5 THEN checkpoint ELSE NULL END, \
            outcome = CASE WHEN target = ?5 THEN outcome ELSE NULL END, \
            done = CASE WHEN target = ?5 THEN done ELSE 0 END \
            WHERE number = ?1 AND state = ?2 AND holder = ?3";
        let mut statement = self.connection.prepare_cached(sql)?;
        let all = params![seen.number.get(), seen.state.word(), seen.holder, asked.to_string(), target];
        Ok(statement.execute(all)? == 1)
    }

    /// Puts a job away, if it still stands as it was seen; its number is never given again. Gives whether that went.
    ///
    /// # Errors
    /// [`BookError`] when the book cannot be written.
    pub fn put_away_job(&mut self, seen: &JobRow) -> Result<bool, BookError> {
        let sql = "DELETE FROM jobs WHERE number = ?1 AND state = ?2 AND holder = ?3 AND state <> 'made'";
        let mut statement = self.connection.prepare_cached(sql)?;
        Ok(statement.execute(params![seen.number.get(), seen.state.word(), seen.holder])? == 1)
    }

    /// A job.
    ///
    /// # Errors
    /// [`BookError`] when the book cannot be read.
    pub fn job(&self, number: JobNumber) -> Result<Option<JobRow>, BookError> {
        let mut statement = self.connection.prepare_cached(&format!("{JOB} WHERE number = ?1"))?;
        statement.query_row([number.get()], |row| Ok(read(row))).optional()?.transpose()
    }

    /// The newest jobs, newest first.
    ///
    /// # Errors
    /// [`BookError`] when the book cannot be read.
    pub fn newest_jobs(&self, most: u32) -> Result<Vec<JobRow>, BookError> {
        let mut statement = self.connection.prepare_cached(&format!("{JOB} ORDER BY number DESC LIMIT ?1"))?;
        all(statement.query([most])?)
    }

    /// Jobs that wait or are worked on, in the order they came.
    ///
    /// # Errors
    /// [`BookError`] when the book cannot be read.
    pub fn open_jobs(&self) -> Result<Vec<JobRow>, BookError> {
        let sql = format!("{JOB} WHERE state IN ('waiting', 'running') ORDER BY number");
        let mut statement = self.connection.prepare_cached(&sql)?;
        all(statement.query([])?)
    }
}

/// Every job, by number.
pub(crate) fn every(db: &rusqlite::Connection) -> Result<Vec<JobRow>, BookError> {
    let mut statement = db.prepare(&format!("{JOB} ORDER BY number"))?;
    all(statement.query([])?)
}

fn all(mut rows: rusqlite::Rows<'_>) -> Result<Vec<JobRow>, BookError> {
    let mut found = Vec::new();
    while let Some(row) = rows.next()? {
        found.push(read(row)?);
    }
    Ok(found)
}

fn read(row: &Row<'_>) -> Result<JobRow, BookError> {
    let when = |text: String| text.parse().map_err(|_| BookError::unreadable("a time of a job", text));
    let json = |text: String| serde_json::from_str(&text).map_err(|_| BookError::unreadable("what a job says", text));
    let state: String = row.get(4)?;
    Ok(JobRow {
        number: JobNumber(row.get(0)?),
        kind: row.get(1)?,
        asked: json(row.get(2)?)?,
        target: row.get(3)?,
        state: JobState::ALL
            .into_iter()
            .find(|own| own.word() == state)
            .ok_or_else(|| BookError::unreadable("the state of a job", state))?,
        holder: row.get(5)?,
        stop: row.get(6)?,
        done: row.get(7)?,
        of: row.get(8)?,
        begun: when(row.get(9)?)?,
        went_on: when(row.get(10)?)?,
        went_from: row.get(11)?,
        seen: when(row.get(12)?)?,
        checkpoint: row.get(13)?,
        outcome: row.get::<_, Option<String>>(14)?.map(json).transpose()?,
        act: row.get::<_, Option<i64>>(15)?.map(ActNumber::new),
    })
}
