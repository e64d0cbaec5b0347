//! Reading the ledger.

use handcoat_craft::ledger::{Balances, Draft, Entry, Line};
use rusqlite::Connection;

use crate::acts::{ActNumber, read_balance};
use crate::{Book, BookError, Damage};

/// The entries of a book, oldest first, each with its act.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Journal {
    /// Every entry.
    pub entries: Vec<(ActNumber, Entry)>,
    /// Acts that were taken back, and those that took them back, by number.
    pub cancelled: Vec<ActNumber>,
}

impl Journal {
    /// Entries that still count: neither taken back nor taking back.
    pub fn live(&self) -> impl Iterator<Item = &Entry> {
        self.entries.iter().filter(|(act, _)| self.cancelled.binary_search(act).is_err()).map(|(_, entry)| entry)
    }
}

impl Book {
    /// What every account holds.
    ///
    /// # Errors
    /// [`BookError`] when the book cannot be read.
    pub fn balances(&self) -> Result<Balances, BookError> {
        balances(&self.connection)
    }

    /// Every entry with its metal and its money only: contents stay where they are, and are two lines of three.
    ///
    /// # Errors
    /// [`BookError`] when the book cannot be read, or an entry does not sum to zero.
    pub fn journal_of_value(&self) -> Result<Journal, BookError> {
        entries(&self.connection, "WHERE commodity NOT LIKE 'contents:%'")
    }

    /// Every entry.
    ///
    /// # Errors
    /// [`BookError`] when the book cannot be read, or an entry does not sum to zero.
    pub fn journal(&self) -> Result<Journal, BookError> {
        journal(&self.connection)
    }
}

pub(crate) fn balances(db: &Connection) -> Result<Balances, BookError> {
    let mut statement = db.prepare_cached("SELECT account, commodity, amount FROM balances WHERE amount <> 0")?;
    let mut rows = statement.query([])?;
    let mut balances = Balances::default();
    while let Some(row) = rows.next()? {
        let (account, commodity, tally) = read_balance(row)?;
        balances.set(account, commodity, tally);
    }
    Ok(balances)
}

pub(crate) fn lines_of(db: &Connection, act: ActNumber) -> Result<Vec<Line>, BookError> {
    let mut statement = db.prepare_cached(
        "SELECT account, commodity, amount FROM lines JOIN entries ON entries.number = lines.entry WHERE entries.act = ?1",
    )?;
    let mut rows = statement.query([act.get()])?;
    let mut lines = Vec::new();
    while let Some(row) = rows.next()? {
        let (account, commodity, amount) = read_balance(row)?;
        lines.push(Line { account, commodity, amount });
    }
    Ok(lines)
}

/// Every entry.
pub(crate) fn journal(db: &Connection) -> Result<Journal, BookError> {
    entries(db, "")
}

fn entries(db: &Connection, only: &str) -> Result<Journal, BookError> {
    let mut statement = db.prepare_cached(&format!(
        "SELECT account, commodity, amount, entries.act FROM lines JOIN entries ON entries.number = lines.entry {only} \
         ORDER BY entries.number, account, commodity",
    ))?;
    let mut rows = statement.query([])?;
    let mut drafts: Vec<(ActNumber, Draft)> = Vec::new();
    while let Some(row) = rows.next()? {
        let (account, commodity, amount) = read_balance(row)?;
        let act = ActNumber::new(row.get(3)?);
        if drafts.last().is_none_or(|(last, _)| *last != act) {
            drafts.push((act, Draft::default()));
        }
        if let Some((_, draft)) = drafts.last_mut() {
            draft.line(Line { account, commodity, amount });
        }
    }
    let entries = drafts
        .into_iter()
        .map(|(act, draft)| match draft.settle() {
            Ok(entry) => Ok((act, entry)),
            Err(error) => Err(BookError::Damaged(Damage::Rule(format!("the entry of act {act}: {error}")))),
        })
        .collect::<Result<_, _>>()?;
    let mut statement =
        db.prepare_cached("SELECT number, reverses FROM acts WHERE reverses IS NOT NULL ORDER BY number")?;
    let mut rows = statement.query([])?;
    let mut cancelled = Vec::new();
    while let Some(row) = rows.next()? {
        cancelled.extend([ActNumber::new(row.get(0)?), ActNumber::new(row.get(1)?)]);
    }
    cancelled.sort_unstable();
    Ok(Journal { entries, cancelled })
}
