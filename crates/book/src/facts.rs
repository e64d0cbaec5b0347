//! Reading the shelf, and the few facts a book keeps of itself.

use handcoat_craft::ledger::ItemNumber;
use rusqlite::{Connection, OptionalExtension, params};

use crate::item::{self, COLUMNS};
use crate::{Book, BookError, Item};

impl Book {
    /// Everything that is or was on the shelf, in the order it came.
    ///
    /// # Errors
    /// [`BookError`] when the book cannot be read.
    pub fn items(&self) -> Result<Vec<Item>, BookError> {
        items(&self.connection)
    }

    /// One item.
    ///
    /// # Errors
    /// [`BookError`] when the book cannot be read.
    pub fn item(&self, number: ItemNumber) -> Result<Option<Item>, BookError> {
        item(&self.connection, number)
    }

    /// A fact of the book itself: the studio's name, the local emergency number, whether it is invented.
    ///
    /// # Errors
    /// [`BookError`] when the book cannot be read.
    pub fn fact(&self, name: &str) -> Result<Option<String>, BookError> {
        let mut statement = self.connection.prepare_cached("SELECT value FROM facts WHERE name = ?1")?;
        Ok(statement.query_row([name], |row| row.get(0)).optional()?)
    }

    /// Writes a fact of the book itself.
    ///
    /// # Errors
    /// [`BookError`] when the book cannot be written.
    pub fn set_fact(&mut self, name: &str, value: &str) -> Result<(), BookError> {
        let sql = "INSERT INTO facts (name, value) VALUES (?1, ?2) ON CONFLICT (name) DO UPDATE SET value = ?2";
        self.connection.prepare_cached(sql)?.execute(params![name, value])?;
        Ok(())
    }
}

pub(crate) fn items(db: &Connection) -> Result<Vec<Item>, BookError> {
    let mut statement = db.prepare_cached(&format!("SELECT {COLUMNS} FROM items ORDER BY number"))?;
    let mut rows = statement.query([])?;
    let mut items = Vec::new();
    while let Some(row) = rows.next()? {
        items.push(item::read(row)?);
    }
    Ok(items)
}

pub(crate) fn item(db: &Connection, number: ItemNumber) -> Result<Option<Item>, BookError> {
    let mut statement = db.prepare_cached(&format!("SELECT {COLUMNS} FROM items WHERE number = ?1"))?;
    statement.query_row([number.get()], |row| Ok(item::read(row))).optional()?.transpose()
}
