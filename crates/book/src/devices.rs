//! Devices that were let in from the local network. They are no acts: nothing in the ledger stands on them.

use jiff::Timestamp;
use rusqlite::{OptionalExtension, Row, params};

use crate::{Book, BookError};

/// SHA-256 of a device's token. The token itself never comes here.
#[derive(Clone, Copy, PartialEq, Eq)]
pub struct TokenHash([u8; 32]);

impl TokenHash {
    /// From the 32 bytes of the digest.
    #[must_use]
    pub fn new(digest: [u8; 32]) -> Self {
        Self(digest)
    }

    fn hexadecimal(self) -> String {
        self.0.iter().map(|byte| format!("{byte:02x}")).collect()
    }
}

// A hash is not printed by accident: half of it would be enough to know a device again.
impl std::fmt::Debug for TokenHash {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str("TokenHash(…)")
    }
}

/// A device that was let in.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Device {
    /// Its running number.
    pub number: i64,
    /// What its maker calls it.
    pub name: String,
    /// When it was let in.
    pub since: Timestamp,
}

impl Book {
    /// Lets a device in.
    ///
    /// # Errors
    /// [`BookError`] when the book cannot be written.
    pub fn admit_device(&mut self, hash: TokenHash, name: &str, at: Timestamp) -> Result<Device, BookError> {
        self.connection
            .prepare_cached("INSERT INTO devices (hash, name, since) VALUES (?1, ?2, ?3)")?
            .execute(params![hash.hexadecimal(), name, at.to_string()])?;
        Ok(Device { number: self.connection.last_insert_rowid(), name: name.into(), since: at })
    }

    /// The device whose token has this hash.
    ///
    /// # Errors
    /// [`BookError`] when the book cannot be read.
    pub fn device(&self, hash: TokenHash) -> Result<Option<Device>, BookError> {
        let mut statement =
            self.connection.prepare_cached("SELECT number, name, since FROM devices WHERE hash = ?1")?;
        statement.query_row([hash.hexadecimal()], |row| Ok(read(row))).optional()?.transpose()
    }

    /// All that are let in, in the order they came.
    ///
    /// # Errors
    /// [`BookError`] when the book cannot be read.
    pub fn devices(&self) -> Result<Vec<Device>, BookError> {
        let mut statement =
            self.connection.prepare_cached("SELECT number, name, since FROM devices ORDER BY number")?;
        let mut rows = statement.query([])?;
        let mut found = Vec::new();
        while let Some(row) = rows.next()? {
            found.push(read(row)?);
        }
        Ok(found)
    }

    /// Lets a device in no more. Whether there was one.
    ///
    /// # Errors
    /// [`BookError`] when the book cannot be written.
    pub fn forget_device(&mut self, number: i64) -> Result<bool, BookError> {
        let gone = self.connection.prepare_cached("DELETE FROM devices WHERE number = ?1")?.execute([number])?;
        Ok(gone > 0)
    }
}

fn read(row: &Row<'_>) -> Result<Device, BookError> {
    let since: String = row.get(2)?;
    Ok(Device {
        number: row.get(0)?,
        name: row.get(1)?,
        since: since.parse().map_err(|_| BookError::unreadable("when a device was let in", since))?,
    })
}
