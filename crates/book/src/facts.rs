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

    /// Everything on the shelf, in the order it came.
    ///
    /// # Errors
    /// [`BookError`] when the book cannot be read.
    pub fn items_here(&self) -> Result<Vec<Item>, BookError> {
        items_here(&self.connection)
    }

    /// What is not on the shelf any more, by number and name.
    ///
    /// # Errors
    /// [`BookError`] when the book cannot be read.
    pub fn items_gone(&self) -> Result<Vec<(ItemNumber, String)>, BookError> {
        items_gone(&self.connection)
    }

    /// The names of everything that is or was on the shelf: for a list that shows no more of it.
    ///
    /// # Errors
    /// [`BookError`] when the book cannot be read.
    pub fn names(&self) -> Result<Vec<(ItemNumber, String)>, BookError> {
        names(&self.connection, "SELECT number, name FROM items ORDER BY number")
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

pub(crate) fn items_here(db: &Connection) -> Result<Vec<Item>, BookError> {
    let mut statement =
        db.prepare_cached(&format!("SELECT {COLUMNS} FROM items WHERE standing = 'here' ORDER BY number"))?;
    let mut rows = statement.query([])?;
    let mut items = Vec::new();
    while let Some(row) = rows.next()? {
        items.push(item::read(row)?);
    }
    Ok(items)
}

pub(crate) fn items_gone(db: &Connection) -> Result<Vec<(ItemNumber, String)>, BookError> {
    names(db, "SELECT number, name FROM items WHERE standing <> 'here' ORDER BY number")
}

fn names(db: &Connection, sql: &str) -> Result<Vec<(ItemNumber, String)>, BookError> {
    let mut statement = db.prepare_cached(sql)?;
    let mut rows = statement.query([])?;
    let mut names = Vec::new();
    while let Some(row) = rows.next()? {
        let number = ItemNumber::new(row.get(0)?).ok_or_else(|| BookError::unreadable("the number of an item", "0"))?;
        names.push((number, row.get(1)?));
    }
    Ok(names)
}

pub(crate) fn item(db: &Connection, number: ItemNumber) -> Result<Option<Item>, BookError> {
    let mut statement = db.prepare_cached(&format!("SELECT {COLUMNS} FROM items WHERE number = ?1"))?;
    statement.query_row([number.get()], |row| Ok(item::read(row))).optional()?.transpose()
}
