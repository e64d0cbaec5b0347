//! Making a book and opening it.

use std::fs::{self, OpenOptions};
use std::path::{Path, PathBuf};
use std::time::Duration;

use rusqlite::{Connection, OpenFlags};

use crate::{BookError, Damage, backup, schema};

/// How long a writer waits for another before it says "busy".
const PATIENCE: Duration = Duration::from_secs(5);

/// The oldest SQLite that is trusted with a write-ahead log: 3.7.0 to 3.51.2 could lose a commit when two connections wrote and
/// checkpointed at once (SQLite change log, 3.51.3).
const LEAST_SQLITE: i32 = 3_051_003;

/// One open book.
#[derive(Debug)]
pub struct Book {
    pub(crate) connection: Connection,
    path: PathBuf,
}

impl Book {
    /// Makes a new book where no file is.
    ///
    /// # Errors
    /// [`BookError::Exists`] when anything is there, [`BookError::Disk`] when it cannot be written; then no file is left.
    pub fn create(path: &Path) -> Result<Self, BookError> {
        // Claims the name first, so that two who make the same book cannot both go on.
        OpenOptions::new().write(true).create_new(true).open(path).map_err(|error| match error.kind() {
            std::io::ErrorKind::AlreadyExists => BookError::Exists(path.into()),
            _ => BookError::disk(path, &error),
        })?;
        let made = Self::fill(path);
        if made.is_err() {
            // Only what was made here is removed; when that fails too the first error is the one to tell.
            let _ = fs::remove_file(path);
        }
        made
    }

    fn fill(path: &Path) -> Result<Self, BookError> {
        let mut connection = connect(path)?;
        connection.pragma_update(None, "application_id", schema::APPLICATION_ID)?;
        schema::migrate(&mut connection, schema::MIGRATIONS)?;
        Ok(Self { connection, path: path.into() })
    }

    /// Opens a book.
    ///
    /// An older one is brought up to date, after a snapshot of it was written beside it and verified.
    ///
    /// # Errors
    /// [`BookError`]: missing, foreign, newer, damaged, busy.
    pub fn open(path: &Path) -> Result<Self, BookError> {
        let (connection, version) = recognise(path)?;
        let mut book = Self { connection, path: path.into() };
        if version < schema::newest() {
            book.migrate(version, schema::MIGRATIONS)?;
        }
        Ok(book)
    }

    /// Brings an older book up to date after a verified snapshot.
    pub(crate) fn migrate(&mut self, from: i64, migrations: &[&str]) -> Result<(), BookError> {
        let mut name = self.path.file_name().unwrap_or_default().to_owned();
        name.push(format!(".schema-{from}"));
        let snapshot = self.path.with_file_name(name);
        // One that is there already is of an earlier try that stopped half way, and holds the same acts.
        if !snapshot.exists() {
            backup::write(&self.connection, &snapshot)?;
        }
        schema::migrate(&mut self.connection, migrations)
    }

    /// Where it is.
    #[must_use]
    pub fn path(&self) -> &Path {
        &self.path
    }
}

/// Opens a file that must be a book of a known version.
pub(crate) fn recognise(path: &Path) -> Result<(Connection, i64), BookError> {
    if !path.exists() {
        return Err(BookError::Missing(path.into()));
    }
    let foreign = |error: BookError| match error {
        BookError::Damaged(Damage::File(_)) => BookError::Foreign(path.into()),
        other => other,
    };
    // The id is read before any setting is made, so that a foreign file is not touched at all.
    let reader = Connection::open_with_flags(path, OpenFlags::SQLITE_OPEN_READ_ONLY | OpenFlags::SQLITE_OPEN_NO_MUTEX)?;
    reader.busy_timeout(PATIENCE)?;
    let id: i64 = reader
        .pragma_query_value(None, "application_id", |row| row.get(0))
        .map_err(|error| foreign(BookError::from(error)))?;
    if id != schema::APPLICATION_ID {
        return Err(BookError::Foreign(path.into()));
    }
    let found = schema::version(&reader)?;
    if found > schema::newest() {
        return Err(BookError::Newer { path: path.into(), found, known: schema::newest() });
    }
    drop(reader);
    Ok((connect(path)?, found))
}

fn connect(path: &Path) -> Result<Connection, BookError> {
    if rusqlite::version_number() < LEAST_SQLITE {
        let cause = format!("SQLite {} is too old to be trusted with it", rusqlite::version());
        return Err(BookError::Disk { path: path.into(), cause });
    }
    let connection = Connection::open_with_flags(
        path,
        OpenFlags::SQLITE_OPEN_READ_WRITE | OpenFlags::SQLITE_OPEN_NO_MUTEX | OpenFlags::SQLITE_OPEN_EXRESCODE,
    )?;
    connection.busy_timeout(PATIENCE)?;
    connection.pragma_update(None, "journal_mode", "wal")?;
    // FULL: in a write-ahead log the default may forget the last commits when the power goes.
    connection.pragma_update(None, "synchronous", "full")?;
    connection.pragma_update(None, "foreign_keys", true)?;
    connection.pragma_update(None, "trusted_schema", false)?;
    connection.pragma_update(None, "cell_size_check", true)?;
    connection.pragma_update(None, "mmap_size", 0)?;
    // As many as a day's work asks; the usual sixteen are read and forgotten by turns.
    connection.set_prepared_statement_cache_capacity(64);
    connection.set_db_config(rusqlite::config::DbConfig::SQLITE_DBCONFIG_DEFENSIVE, true)?;
    Ok(connection)
}
