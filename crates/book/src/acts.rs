//! Acts: one row, one transaction, done once.

use std::collections::{BTreeMap, BTreeSet};

use handcoat_craft::ledger::{
    Account, Admitted, Balances, Commodity, Draft, ItemKind, ItemNumber, Line, NotAdmitted, Tally, Unsettled,
};
use jiff::Timestamp;
use rusqlite::{Connection, OptionalExtension, Row, Transaction, TransactionBehavior, params};
use serde_json::Value;

use crate::item::{self, Before, BeforeImages};
use crate::number::ActNumber;
use crate::record::{RecordImages, RecordKind};
use crate::{Book, BookError, Damage, Facts, Item, Standing};

/// The key of an act: asking twice with the same key does it once.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub struct ActKey(String);

impl ActKey {
    /// A key from 8 to 64 letters, digits, `-` and `_`.
    #[must_use]
    pub fn new(text: &str) -> Option<Self> {
        let sound = (8..=64).contains(&text.len())
            && text.bytes().all(|byte| byte.is_ascii_alphanumeric() || byte == b'-' || byte == b'_');
        sound.then(|| Self(text.into()))
    }

    /// Its text.
    #[must_use]
    pub fn text(&self) -> &str {
        &self.0
    }
}

/// Who does an act, when, and under which key.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Stamp {
    /// Done once per key.
    pub key: ActKey,
    /// Who: a device, or `command line`.
    pub who: String,
    /// When.
    pub at: Timestamp,
    /// A digest of what is asked for, where that can be told apart.
    pub asked: Option<String>,
}

/// An act as it stands in the book.
#[derive(Clone, Debug, PartialEq)]
pub struct Act {
    /// Its number.
    pub number: ActNumber,
    /// Its key.
    pub key: ActKey,
    /// Which sort: `receive`, `mix`, …
    pub kind: String,
    /// Who did it.
    pub who: String,
    /// When.
    pub at: Timestamp,
    /// What was said and what came of it.
    pub body: Value,
    /// The act it takes back.
    pub reverses: Option<ActNumber>,
    /// The act that took it back.
    pub reversed_by: Option<ActNumber>,
}

/// How an act ended.
#[derive(Clone, Debug, PartialEq)]
pub enum Acted {
    /// It was done now.
    Done(Act),
    /// An act with this key had been done before; nothing was done now.
    Before(Act),
}

impl Acted {
    /// The act, whenever it was done.
    #[must_use]
    pub fn act(&self) -> &Act {
        match self {
            Self::Done(act) | Self::Before(act) => act,
        }
    }
}

/// What an act comes to.
#[derive(Debug)]
pub struct Deed {
    /// What was said and what came of it.
    pub body: Value,
    /// Its entry, when it moves anything. It was admitted inside the same transaction.
    pub entry: Option<Admitted>,
}

/// Why a draft does not become the entry of an act.
#[derive(Debug, thiserror::Error)]
pub enum PostError {
    /// It does not sum to zero: a slip of the program.
    #[error(transparent)]
    Unsettled(#[from] Unsettled),
    /// An account would be left with less than nothing.
    #[error(transparent)]
    NotAdmitted(#[from] NotAdmitted),
    /// The book cannot be read.
    #[error(transparent)]
    Book(#[from] BookError),
}

/// An act under way: everything it reads and writes is inside one transaction.
#[derive(Debug)]
pub struct Acting<'book> {
    transaction: Transaction<'book>,
    before: BeforeImages,
    touched: Vec<ItemNumber>,
    before_records: RecordImages,
    counted: BTreeMap<(i64, String), i64>,
}

impl Book {
    /// Does an act: what `work` returns is kept as its body and its entry; an error leaves the book as it was.
    ///
    /// # Errors
    /// Whatever `work` refuses, and [`BookError`] where the book cannot be written.
    pub fn act<E: From<BookError>>(
        &mut self,
        stamp: &Stamp,
        kind: &str,
        work: impl FnOnce(&mut Acting<'_>) -> Result<Deed, E>,
    ) -> Result<Acted, E> {
        self.act_that_reverses(stamp, kind, None, work)
    }

    pub(crate) fn act_that_reverses<E: From<BookError>>(
        &mut self,
        stamp: &Stamp,
        kind: &str,
        reverses: Option<ActNumber>,
        work: impl FnOnce(&mut Acting<'_>) -> Result<Deed, E>,
    ) -> Result<Acted, E> {
        let transaction =
            self.connection.transaction_with_behavior(TransactionBehavior::Immediate).map_err(BookError::from)?;
        if let Some(act) = with_key(&transaction, &stamp.key)? {
            // The same key for something else, with other answers, or for what was taken back since, is a slip; silence would say that
            // it was done.
            let otherwise = match (&stamp.asked, asked(&transaction, act.number)?) {
                (Some(own), Some(before)) => *own != before,
                _ => false,
            };
            if act.kind != kind || act.reverses != reverses || act.reversed_by.is_some() || otherwise {
                return Err(BookError::KeyUsed { act: act.number.get(), kind: act.kind }.into());
            }
            return Ok(Acted::Before(act));
        }
        let mut acting = Acting {
            transaction,
            before: BeforeImages::new(),
            touched: Vec::new(),
            before_records: RecordImages::new(),
            counted: BTreeMap::new(),
        };
        let deed = work(&mut acting)?;
        let number = acting.write(stamp, kind, reverses, &deed)?;
        let act = numbered(&acting.transaction, number)?
            .ok_or_else(|| BookError::Damaged(Damage::Rule(format!("act {number} was written and is not there"))))?;
        acting.transaction.commit().map_err(BookError::from)?;
        Ok(Acted::Done(act))
    }

    /// The act with this number.
    ///
    /// # Errors
    /// [`BookError`] when the book cannot be read.
    pub fn act_numbered(&self, number: ActNumber) -> Result<Option<Act>, BookError> {
        numbered(&self.connection, number)
    }

    /// The act that was done under a key.
    ///
    /// # Errors
    /// [`BookError`] when the book cannot be read.
    pub fn act_with_key(&self, key: &ActKey) -> Result<Option<Act>, BookError> {
        with_key(&self.connection, key)
    }

    /// The newest acts, newest first.
    ///
    /// # Errors
    /// [`BookError`] when the book cannot be read.
    pub fn latest_acts(&self, most: u32) -> Result<Vec<Act>, BookError> {
        let sql = format!("{SELECT} ORDER BY acts.number DESC LIMIT ?1");
        let mut statement = self.connection.prepare_cached(&sql)?;
        let mut rows = statement.query([most])?;
        let mut acts = Vec::new();
        while let Some(row) = rows.next()? {
            acts.push(read(row)?);
        }
        Ok(acts)
    }

    /// When the first act touched an item: when it came, or was made.
    ///
    /// # Errors
    /// [`BookError`] when the book cannot be read.
    pub fn since(&self, item: ItemNumber) -> Result<Option<Timestamp>, BookError> {
        let sql = "SELECT at FROM acts WHERE number = (SELECT min(act) FROM touches WHERE item = ?1)";
        let mut statement = self.connection.prepare_cached(sql)?;
        let at: Option<String> = statement.query_row([item.get()], |row| row.get(0)).optional()?;
        at.map(|at| at.parse().map_err(|_| BookError::unreadable("the time of an act", at))).transpose()
    }

    /// The newest acts that touched an item, newest first.
    ///
    /// # Errors
    /// [`BookError`] when the book cannot be read.
    pub fn acts_on(&self, item: ItemNumber, most: u32) -> Result<Vec<Act>, BookError> {
        // The newest are picked out of the index first, and only those are read.
        let sql = format!(
            "{SELECT} WHERE acts.number IN (SELECT act FROM touches WHERE item = ?1 ORDER BY act DESC LIMIT ?2) \
             ORDER BY acts.number DESC"
        );
        let mut statement = self.connection.prepare_cached(&sql)?;
        let mut rows = statement.query([item.get(), most])?;
        let mut acts = Vec::new();
        while let Some(row) = rows.next()? {
            acts.push(read(row)?);
        }
        Ok(acts)
    }
}

impl Book {
    /// The newest acts that made or changed a record, newest first.
    ///
    /// # Errors
    /// [`BookError`] when the book cannot be read.
    pub fn acts_on_record(&self, kind: RecordKind, ordinal: u32, most: u32) -> Result<Vec<Act>, BookError> {
        let sql = format!(
            "{SELECT} WHERE acts.number IN (SELECT act FROM record_touches WHERE record = \
             (SELECT number FROM records WHERE kind = ?1 AND ordinal = ?2) ORDER BY act DESC LIMIT ?3) \
             ORDER BY acts.number DESC"
        );
        let mut statement = self.connection.prepare_cached(&sql)?;
        let mut rows = statement.query(params![kind.word(), ordinal, most])?;
        let mut acts = Vec::new();
        while let Some(row) = rows.next()? {
            acts.push(read(row)?);
        }
        Ok(acts)
    }
}

impl Acting<'_> {
    /// What every account holds. In a long book that is a long list: an act that moves few asks for those.
    ///
    /// # Errors
    /// [`BookError`] when the book cannot be read.
    pub fn balances(&self) -> Result<Balances, BookError> {
        crate::ledger::balances(&self.transaction)
    }

    /// What these accounts hold, which an act is about to move. Others are not read and look empty.
    ///
    /// # Errors
    /// [`BookError`] when the book cannot be read.
    pub fn balances_of(&self, accounts: impl IntoIterator<Item = Account>) -> Result<Balances, BookError> {
        crate::ledger::balances_of(&self.transaction, accounts)
    }

    /// Items on the shelf, and those that were.
    ///
    /// # Errors
    /// [`BookError`] when the book cannot be read.
    pub fn items(&self) -> Result<Vec<Item>, BookError> {
        crate::facts::items(&self.transaction)
    }

    /// Items on the shelf.
    ///
    /// # Errors
    /// [`BookError`] when the book cannot be read.
    pub fn items_here(&self) -> Result<Vec<Item>, BookError> {
        crate::facts::items_here(&self.transaction)
    }

    /// Items that are not on the shelf any more, by number and name: nothing else of them is read.
    ///
    /// # Errors
    /// [`BookError`] when the book cannot be read.
    pub fn items_gone(&self) -> Result<Vec<(ItemNumber, String)>, BookError> {
        crate::facts::items_gone(&self.transaction)
    }

    /// One item, also one this act just made.
    ///
    /// # Errors
    /// [`BookError`] when the book cannot be read.
    pub fn item(&self, number: ItemNumber) -> Result<Option<Item>, BookError> {
        crate::facts::item(&self.transaction, number)
    }

    /// Puts something on the shelf.
    ///
    /// # Errors
    /// [`BookError`] when the book cannot be written; a name that is on the shelf already is one of those, so look first.
    pub fn add_item(&mut self, kind: ItemKind, name: &str, facts: &Facts) -> Result<ItemNumber, BookError> {
        self.transaction
            .prepare_cached("INSERT INTO items (kind, name, standing, facts) VALUES (?1, ?2, 'here', ?3)")?
            .execute(params![kind.word(), name, as_text(facts)])?;
        let number = u32::try_from(self.transaction.last_insert_rowid()).ok().and_then(ItemNumber::new);
        let number = number.ok_or_else(|| BookError::Damaged(Damage::Rule("item numbers have run out".into())))?;
        self.before.insert(number.get(), None);
        self.touch(number);
        Ok(number)
    }

    /// Changes what is known of an item.
    ///
    /// # Errors
    /// [`BookError`] when the book cannot be written.
    pub fn change_item(&mut self, changed: &Item) -> Result<(), BookError> {
        let number = changed.number;
        if !self.before.contains_key(&number.get()) {
            let was = crate::facts::item(&self.transaction, number)?
                .ok_or_else(|| BookError::unreadable("the number of an item", number.to_string()))?;
            self.before.insert(number.get(), Some(Before::of(&was)));
        }
        self.put(number, &changed.name, changed.standing, &changed.facts)?;
        self.touch(number);
        Ok(())
    }

    fn put(&self, number: ItemNumber, name: &str, standing: Standing, facts: &Facts) -> Result<(), BookError> {
        self.transaction
            .prepare_cached("UPDATE items SET name = ?2, standing = ?3, facts = ?4 WHERE number = ?1")?
            .execute(params![number.get(), name, item::word(standing), as_text(facts)])?;
        Ok(())
    }

    /// Puts an item back as it was; one that was not there yet is marked as undone.
    /// Gives the name that something else on the shelf has by now, when that keeps it from being put back.
    pub(crate) fn put_back(&mut self, number: ItemNumber, before: Option<Before>) -> Result<Option<String>, BookError> {
        let is = crate::facts::item(&self.transaction, number)?
            .ok_or_else(|| BookError::unreadable("the number of an item", number.to_string()))?;
        self.before.insert(number.get(), Some(Before::of(&is)));
        match before {
            Some(Before { name, standing, facts }) => {
                let spoken = |other: &Item| other.name.to_lowercase() == name.to_lowercase() && other.number != number;
                if standing == Standing::Here && self.items_here()?.iter().any(spoken) {
                    return Ok(Some(name));
                }
                self.put(number, &name, standing, &facts)?;
            }
            None => self.put(number, &is.name, Standing::Undone, &is.facts)?,
        }
        self.touch(number);
        Ok(None)
    }

    /// Settles a draft and holds it against what the accounts have; none when it moves nothing.
    ///
    /// # Errors
    /// [`PostError`] when an account would be left with less than nothing, or the book cannot be read.
    pub fn admit(&self, draft: Draft) -> Result<Option<Admitted>, PostError> {
        match draft.settle() {
            Ok(entry) => {
                let moved: BTreeSet<Account> = entry.lines().iter().map(|line| line.account).collect();
                Ok(Some(entry.admit(&self.balances_of(moved)?)?))
            }
            Err(Unsettled::Nothing) => Ok(None),
            Err(other) => Err(PostError::Unsettled(other)),
        }
    }

    fn touch(&mut self, item: ItemNumber) {
        if !self.touched.contains(&item) {
            self.touched.push(item);
        }
    }

    fn write(
        &mut self,
        stamp: &Stamp,
        kind: &str,
        reverses: Option<ActNumber>,
        deed: &Deed,
    ) -> Result<ActNumber, BookError> {
        let lines = deed.entry.as_ref().map_or(&[][..], |admitted| admitted.entry().lines());
        lines.iter().filter_map(|line| line.account.item()).for_each(|item| self.touch(item));
        let db = &self.transaction;
        db.prepare_cached(
            "INSERT INTO acts (key, kind, who, at, body, before, before_records, reverses, asked) \
             VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9)",
        )?
        .execute(params![
            stamp.key.text(),
            kind,
            stamp.who,
            stamp.at.to_string(),
            deed.body.to_string(),
            as_text(&self.before),
            as_text(&self.before_records),
            reverses.map(ActNumber::get),
            stamp.asked
        ])?;
        let number = db.last_insert_rowid();
        if !lines.is_empty() {
            // The lines come first, so that the entry can be refused when they do not sum to zero.
            let next: i64 = db
                .prepare_cached("SELECT coalesce(max(number), 0) + 1 FROM entries")?
                .query_row([], |row| row.get(0))?;
            let mut insert =
                db.prepare_cached("INSERT INTO lines (entry, account, commodity, amount) VALUES (?1, ?2, ?3, ?4)")?;
            for Line { account, commodity, amount } in lines {
                insert.execute(params![next, account.to_string(), commodity.to_string(), amount.to_units()])?;
            }
            db.prepare_cached("INSERT INTO entries (number, act) VALUES (?1, ?2)")?.execute(params![next, number])?;
        }
        let mut touch = db.prepare_cached("INSERT INTO touches (item, act) VALUES (?1, ?2)")?;
        for item in &self.touched {
            touch.execute(params![item.get(), number])?;
        }
        let mut touch = db.prepare_cached("INSERT INTO record_touches (record, act) VALUES (?1, ?2)")?;
        for record in self.before_records.keys() {
            touch.execute(params![record, number])?;
        }
        let mut count = db.prepare_cached("INSERT INTO counts (act, record, what, amount) VALUES (?1, ?2, ?3, ?4)")?;
        for ((record, what), amount) in self.counted.iter().filter(|(_, amount)| **amount != 0) {
            count.execute(params![number, record, what, amount])?;
        }
        Ok(ActNumber(number))
    }

    /// The lines of an act's entry.
    pub(crate) fn lines_of(&self, act: ActNumber) -> Result<Vec<Line>, BookError> {
        crate::ledger::lines_of(&self.transaction, act)
    }

    /// Records this act changed, as they were.
    pub(crate) fn record_images(&mut self) -> &mut RecordImages {
        &mut self.before_records
    }

    /// What this act counts beside the ledger.
    pub(crate) fn counted(&mut self) -> &mut BTreeMap<(i64, String), i64> {
        &mut self.counted
    }

    /// The connection inside the transaction.
    pub(crate) fn db(&self) -> &Connection {
        &self.transaction
    }
}

const SELECT: &str = "SELECT acts.number, acts.key, acts.kind, acts.who, acts.at, acts.body, acts.reverses, back.number \
    FROM acts LEFT JOIN acts AS back ON back.reverses = acts.number";

fn with_key(db: &Connection, key: &ActKey) -> Result<Option<Act>, BookError> {
    one(db, "acts.key = ?1", key.text())
}

/// The digest of what an act was asked for.
fn asked(db: &Connection, act: ActNumber) -> Result<Option<String>, BookError> {
    Ok(db.prepare_cached("SELECT asked FROM acts WHERE number = ?1")?.query_row([act.get()], |row| row.get(0))?)
}

pub(crate) fn numbered(db: &Connection, number: ActNumber) -> Result<Option<Act>, BookError> {
    one(db, "acts.number = ?1", number.get())
}

/// Every act by number, with the before-images of items and of records kept for its undoing.
pub(crate) fn all(db: &Connection) -> Result<Vec<(Act, Value, Value)>, BookError> {
    let mut befores = db.prepare("SELECT before, before_records FROM acts ORDER BY number")?;
    let mut befores = befores.query([])?;
    let mut statement = db.prepare(&format!("{SELECT} ORDER BY acts.number"))?;
    let mut rows = statement.query([])?;
    let mut acts = Vec::new();
    while let (Some(row), Some(before)) = (rows.next()?, befores.next()?) {
        let image = |column: usize| {
            let text: String = before.get(column)?;
            serde_json::from_str(&text).map_err(|_| BookError::unreadable("the before-images of an act", text))
        };
        acts.push((read(row)?, image(0)?, image(1)?));
    }
    Ok(acts)
}

fn one(db: &Connection, whose: &str, value: impl rusqlite::ToSql) -> Result<Option<Act>, BookError> {
    let mut statement = db.prepare_cached(&format!("{SELECT} WHERE {whose}"))?;
    statement.query_row([value], |row| Ok(read(row))).optional()?.transpose()
}

fn read(row: &Row<'_>) -> Result<Act, BookError> {
    let key: String = row.get(1)?;
    let at: String = row.get(4)?;
    let body: String = row.get(5)?;
    Ok(Act {
        number: ActNumber(row.get(0)?),
        key: ActKey::new(&key).ok_or_else(|| BookError::unreadable("the key of an act", key))?,
        kind: row.get(2)?,
        who: row.get(3)?,
        at: at.parse().map_err(|_| BookError::unreadable("the time of an act", at))?,
        body: serde_json::from_str(&body).map_err(|_| BookError::unreadable("the body of an act", body))?,
        reverses: row.get::<_, Option<i64>>(6)?.map(ActNumber),
        reversed_by: row.get::<_, Option<i64>>(7)?.map(ActNumber),
    })
}

fn as_text(value: &impl serde::Serialize) -> String {
    // OK because these records hold text, numbers and lists only, which always become JSON.
    serde_json::to_string(value).expect("BUG: a record that is no JSON")
}

/// A balance as two texts and a number, as they are stored.
pub(crate) fn read_balance(row: &Row<'_>) -> Result<(Account, Commodity, Tally), BookError> {
    let text = |column: usize| row.get_ref(column)?.as_str().map_err(rusqlite::Error::from);
    let (account, commodity) = (text(0)?, text(1)?);
    Ok((
        account.parse().map_err(|_| BookError::unreadable("an account", account))?,
        commodity.parse().map_err(|_| BookError::unreadable("a commodity", commodity))?,
        Tally::from_units(row.get(2)?),
    ))
}
