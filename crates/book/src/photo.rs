//! Pictures of prints, byte for byte as they came, each under its SHA-256.

use jiff::Timestamp;
use rusqlite::{Connection, OptionalExtension, params};

use crate::{Acting, Book, BookError};

/// A picture.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Photo {
    /// SHA-256 of its bytes, in hexadecimal.
    pub sha256: String,
    /// What sort: `image/jpeg`, `image/png`.
    pub media: String,
    /// Its bytes.
    pub bytes: Vec<u8>,
}

impl Acting<'_> {
    /// Takes a picture in. One that is there already stays as it is.
    ///
    /// # Errors
    /// [`BookError`] when the book cannot be written.
    pub fn add_photo(&mut self, photo: &Photo, at: Timestamp) -> Result<(), BookError> {
        self.db()
            .prepare_cached("INSERT OR IGNORE INTO photos (sha256, media, since, bytes) VALUES (?1, ?2, ?3, ?4)")?
            .execute(params![photo.sha256, photo.media, at.to_string(), photo.bytes])?;
        Ok(())
    }
}

impl Book {
    /// The picture with this SHA-256.
    ///
    /// # Errors
    /// [`BookError`] when the book cannot be read.
    pub fn photo(&self, sha256: &str) -> Result<Option<Photo>, BookError> {
        let sql = "SELECT sha256, media, bytes FROM photos WHERE sha256 = ?1";
        let mut statement = self.connection.prepare_cached(sql)?;
        let read = |row: &rusqlite::Row<'_>| Ok(Photo { sha256: row.get(0)?, media: row.get(1)?, bytes: row.get(2)? });
        Ok(statement.query_row([sha256], read).optional()?)
    }
}

/// Every picture, by its SHA-256.
pub(crate) fn all(db: &Connection) -> Result<Vec<Photo>, BookError> {
    let mut statement = db.prepare("SELECT sha256, media, bytes FROM photos ORDER BY sha256")?;
    let read = |row: &rusqlite::Row<'_>| Ok(Photo { sha256: row.get(0)?, media: row.get(1)?, bytes: row.get(2)? });
    Ok(statement.query_map([], read)?.collect::<Result<_, _>>()?)
}
