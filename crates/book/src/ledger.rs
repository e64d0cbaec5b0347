//! Reading the ledger.

use handcoat_craft::ledger::{Account, Balances, Commodity, Draft, Entry, Line, Tally};
use rusqlite::Connection;

use crate::acts::read_balance;
use crate::number::ActNumber;
use crate::{Book, BookError, Damage, RecordKind};

/// The entries of a book, oldest first, each with its act.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Journal {
    /// Every entry.
    pub entries: Vec<(ActNumber, Entry)>,
    /// Acts that were taken back, and those that took them back, by number.
    pub cancelled: Vec<ActNumber>,
}

/// What all accounts of a kind hold together of one commodity.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Together {
    /// Of what.
    pub commodity: Commodity,
    /// How much.
    pub amount: Tally,
    /// In how many accounts.
    pub accounts: u32,
}

/// The running number of an entry, in the order of their acts.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct EntryNumber(i64);

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

    /// What these accounts hold; others are not read and look empty.
    ///
    /// # Errors
    /// [`BookError`] when the book cannot be read.
    pub fn balances_of(&self, accounts: impl IntoIterator<Item = Account>) -> Result<Balances, BookError> {
        balances_of(&self.connection, accounts)
    }

    /// What every account holds but those of prints and of coats, of which a long book has one for each sheet.
    ///
    /// # Errors
    /// [`BookError`] when the book cannot be read.
    pub fn balances_apart(&self) -> Result<Balances, BookError> {
        let sql = "SELECT account, commodity, amount FROM balances WHERE amount <> 0 AND account < 'coat:' \
            UNION ALL SELECT account, commodity, amount FROM balances WHERE amount <> 0 AND account >= 'coat;' AND account < 'print:' \
            UNION ALL SELECT account, commodity, amount FROM balances WHERE amount <> 0 AND account >= 'print;'";
        collect(&self.connection, sql)
    }

    /// What the accounts of all prints, or of all coats, hold together, by commodity.
    ///
    /// # Errors
    /// [`BookError`] when the book cannot be read.
    pub fn balances_together(&self, kind: RecordKind) -> Result<Vec<Together>, BookError> {
        let sql = "SELECT ?1, commodity, sum(amount), count(*) FROM balances \
            WHERE account > ?1 AND account < ?2 AND amount <> 0 GROUP BY commodity";
        let mut statement = self.connection.prepare_cached(sql)?;
        let mut rows = statement.query([format!("{}:", kind.word()), format!("{};", kind.word())])?;
        let mut found = Vec::new();
        while let Some(row) = rows.next()? {
            let commodity: String = row.get(1)?;
            let commodity = commodity.parse().map_err(|_| BookError::unreadable("a commodity", commodity))?;
            found.push(Together { commodity, amount: Tally::from_units(row.get(2)?), accounts: row.get(3)? });
        }
        found.sort_by_key(|own| own.commodity);
        Ok(found)
    }

    /// The metal and the money of every entry that counts and comes after one, oldest first, each with its number. Contents stay where they
    /// are, are two lines of three, and are left out. `each` is given the lines in the order of their accounts.
    ///
    /// A long book is read through here, so nothing is kept of an entry but its lines, and these only until the next.
    ///
    /// # Errors
    /// [`BookError`] when the book cannot be read; whatever `each` finds wrong with an entry becomes [`Damage`].
    pub fn follow_value<E: std::fmt::Display>(
        &self,
        after: EntryNumber,
        each: impl FnMut(EntryNumber, &[Line]) -> Result<(), E>,
    ) -> Result<(), BookError> {
        follow_value(&self.connection, after, each)
    }

    /// The entries of acts that were taken back by an act after this one.
    ///
    /// # Errors
    /// [`BookError`] when the book cannot be read.
    pub fn taken_back_since(&self, act: ActNumber) -> Result<Vec<EntryNumber>, BookError> {
        let sql = "SELECT entries.number FROM acts JOIN entries ON entries.act = acts.reverses \
            WHERE acts.number > ?1 AND acts.reverses > 0";
        let mut statement = self.connection.prepare_cached(sql)?;
        Ok(statement.query_map([act.get()], |row| row.get(0).map(EntryNumber))?.collect::<Result<_, _>>()?)
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
    collect(db, "SELECT account, commodity, amount FROM balances WHERE amount <> 0")
}

fn collect(db: &Connection, sql: &str) -> Result<Balances, BookError> {
    let mut statement = db.prepare_cached(sql)?;
    let mut rows = statement.query([])?;
    let mut balances = Balances::default();
    while let Some(row) = rows.next()? {
        let (account, commodity, tally) = read_balance(row)?;
        balances.set(account, commodity, tally);
    }
    Ok(balances)
}

/// What these accounts hold, and nothing of others: a book has an account for every print, and an act moves few.
pub(crate) fn balances_of(db: &Connection, accounts: impl IntoIterator<Item = Account>) -> Result<Balances, BookError> {
    let mut statement = db.prepare_cached("SELECT account, commodity, amount FROM balances WHERE account = ?1")?;
    let mut balances = Balances::default();
    for account in accounts {
        let mut rows = statement.query([account.to_string()])?;
        while let Some(row) = rows.next()? {
            let (account, commodity, tally) = read_balance(row)?;
            balances.set(account, commodity, tally);
        }
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
    let mut statement = db.prepare_cached(
        "SELECT account, commodity, amount, entries.act FROM lines JOIN entries ON entries.number = lines.entry \
         ORDER BY entries.number, account, commodity",
    )?;
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
    let mut statement = db.prepare_cached("SELECT number, reverses FROM acts WHERE reverses > 0")?;
    let mut rows = statement.query([])?;
    let mut cancelled = Vec::new();
    while let Some(row) = rows.next()? {
        cancelled.extend([ActNumber::new(row.get(0)?), ActNumber::new(row.get(1)?)]);
    }
    cancelled.sort_unstable();
    Ok(Journal { entries, cancelled })
}

fn follow_value<E: std::fmt::Display>(
    db: &Connection,
    after: EntryNumber,
    mut each: impl FnMut(EntryNumber, &[Line]) -> Result<(), E>,
) -> Result<(), BookError> {
    // Only undone acts are looked up, out of the index of what takes what back; most books have few.
    let sql = "SELECT entries.number FROM acts JOIN entries ON entries.act IN (acts.number, acts.reverses) \
        WHERE acts.reverses > 0 AND entries.number > ?1";
    let mut statement = db.prepare_cached(sql)?;
    let mut cancelled: Vec<i64> = statement.query_map([after.0], |row| row.get(0))?.collect::<Result<_, _>>()?;
    cancelled.sort_unstable();
    // Two comparisons, because `LIKE` is a call for every line.
    let sql = "SELECT account, commodity, amount, entry FROM lines \
        WHERE entry > ?1 AND (commodity < 'contents:' OR commodity >= 'contents;') ORDER BY entry, account, commodity";
    let mut statement = db.prepare_cached(sql)?;
    let mut rows = statement.query([after.0])?;
    let (mut entry, mut counts, mut lines) = (0_i64, false, Vec::new());
    let mut give = |entry: i64, lines: &mut Vec<Line>| {
        let given = if lines.is_empty() { Ok(()) } else { each(EntryNumber(entry), lines) };
        lines.clear();
        given.map_err(|error| BookError::Damaged(Damage::Rule(format!("entry {entry}: {error}"))))
    };
    while let Some(row) = rows.next()? {
        let number: i64 = row.get(3)?;
        if number != entry {
            give(entry, &mut lines)?;
            (entry, counts) = (number, cancelled.binary_search(&number).is_err());
        }
        if counts {
            let (account, commodity, amount) = read_balance(row)?;
            lines.push(Line { account, commodity, amount });
        }
    }
    give(entry, &mut lines)
}
