//! Versions of the schema and the way from one to the next.

use rusqlite::{Connection, TransactionBehavior};

use crate::BookError;

/// `hcoa`: the first four letters of a hand-coated sheet, in the file's header.
pub(crate) const APPLICATION_ID: i64 = 0x6863_6f61;

/// What brings a book from each version to the next, beginning with an empty file.
pub(crate) const MIGRATIONS: &[&str] = &[
    include_str!("schema/1.sql"),
    include_str!("schema/2.sql"),
    include_str!("schema/3.sql"),
    include_str!("schema/4.sql"),
    include_str!("schema/5.sql"),
];

/// The newest version known here.
pub(crate) fn newest() -> i64 {
    // OK because the list is written by hand and short.
    i64::try_from(MIGRATIONS.len()).expect("BUG: more migrations than numbers")
}

/// The version a file says it has.
pub(crate) fn version(connection: &Connection) -> Result<i64, BookError> {
    Ok(connection.pragma_query_value(None, "user_version", |row| row.get(0))?)
}

/// Brings a file up to the newest version, each step in a transaction of its own that also writes the version.
pub(crate) fn migrate(connection: &mut Connection, migrations: &[&str]) -> Result<(), BookError> {
    let from = usize::try_from(version(connection)?).unwrap_or(usize::MAX);
    for (step, sql) in migrations.iter().enumerate().skip(from) {
        let transaction = connection.transaction_with_behavior(TransactionBehavior::Immediate)?;
        transaction.execute_batch(sql)?;
        transaction.pragma_update(None, "user_version", step as i64 + 1)?;
        transaction.commit()?;
    }
    Ok(())
}
