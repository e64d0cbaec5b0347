//! Taking an act back.

use handcoat_craft::ledger::{Draft, ItemNumber, Line, NotAdmitted};
use serde_json::{Value, json};

use crate::acts::{self, Acted, Acting, Deed, PostError, Stamp};
use crate::item::BeforeImages;
use crate::number::ActNumber;
use crate::record::{self, Record, RecordImages};
use crate::{Book, BookError, Damage};

/// A later act that stands on the one to be taken back.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct InTheWay {
    /// Its number.
    pub number: ActNumber,
    /// Which sort.
    pub kind: String,
    /// What both touch: an item, when it is one; otherwise a record.
    pub item: Option<ItemNumber>,
}

/// Why an act is not taken back.
#[derive(Debug, thiserror::Error)]
pub enum UndoError {
    /// There is no such act.
    #[error("there is no act {0}")]
    NoSuchAct(ActNumber),
    /// It was taken back before.
    #[error("act {act} was taken back by act {by}")]
    AlreadyUndone {
        /// The act.
        act: ActNumber,
        /// What took it back.
        by: ActNumber,
    },
    /// It takes another back.
    #[error("act {0} is itself an undo")]
    IsUndo(ActNumber),
    /// Later acts touch the same items. Newest first: the order to take them back in.
    #[error("later acts stand on act {act}")]
    InTheWay {
        /// The act.
        act: ActNumber,
        /// Those acts.
        later: Vec<InTheWay>,
    },
    /// The reversal would leave an account with less than nothing.
    #[error("act {act} cannot be taken back: {cause}")]
    NotAdmitted {
        /// The act.
        act: ActNumber,
        /// Which account.
        cause: NotAdmitted,
    },
    /// Something on the shelf has by now the name of what would be put back.
    #[error("act {act} cannot be taken back: `{name}` is the name of something else on the shelf now")]
    NameTaken {
        /// The act.
        act: ActNumber,
        /// The name.
        name: String,
    },
    /// The book cannot be read or written.
    #[error(transparent)]
    Book(#[from] BookError),
}

impl Book {
    /// Takes an act back: every item it changed is as it was, and its entry is posted the other way round.
    ///
    /// # Errors
    /// [`UndoError`]; nothing is changed then.
    pub fn undo(&mut self, stamp: &Stamp, act: ActNumber) -> Result<Acted, UndoError> {
        self.undo_minding(stamp, act, |_, _, _| Ok(Vec::new()))
    }

    /// The same where records stand on others by what their facts mean, which is known further up: `stands` gives those that stand on one, and
    /// is told what its facts were before, or nothing where the act made it. It is not taken away or put back from under them; the acts on
    /// them are in the way like those on the record itself.
    ///
    /// # Errors
    /// [`UndoError`]; nothing is changed then.
    pub fn undo_minding(
        &mut self,
        stamp: &Stamp,
        act: ActNumber,
        stands: impl Fn(&Acting<'_>, &Record, Option<&Value>) -> Result<Vec<Record>, BookError>,
    ) -> Result<Acted, UndoError> {
        self.act_that_reverses(stamp, "undo", Some(act), |acting| {
            let known = acts::numbered(acting.db(), act)?.ok_or(UndoError::NoSuchAct(act))?;
            if known.reverses.is_some() {
                return Err(UndoError::IsUndo(act));
            }
            if let Some(by) = known.reversed_by {
                return Err(UndoError::AlreadyUndone { act, by });
            }
            let (text, of_records): (String, String) = acting
                .db()
                .prepare_cached("SELECT before, before_records FROM acts WHERE number = ?1")
                .and_then(|mut statement| statement.query_row([act.get()], |row| Ok((row.get(0)?, row.get(1)?))))
                .map_err(BookError::from)?;
            let unreadable = |text: String| BookError::unreadable("the before-images of an act", text);
            let before: BeforeImages = serde_json::from_str(&text).map_err(|_| unreadable(text))?;
            let records: RecordImages = serde_json::from_str(&of_records).map_err(|_| unreadable(of_records))?;
            let mut later = in_the_way(acting.db(), act)?;
            for (row, image) in &records {
                let before = image.as_ref().map(record::RecordBefore::facts);
                for standing in stands(acting, &record::by_row(acting.db(), *row)?, before)? {
                    // What was there before it stands on it by a word alone.
                    later.extend(live_acts_on(acting.db(), &standing)?.into_iter().filter(|own| own.number > act));
                }
            }
            later.sort_by_key(|own| std::cmp::Reverse(own.number));
            later.dedup_by_key(|own| own.number);
            if !later.is_empty() {
                return Err(UndoError::InTheWay { act, later });
            }
            for (number, image) in before {
                let number =
                    ItemNumber::new(number).ok_or_else(|| BookError::unreadable("the number of an item", "0"))?;
                if let Some(name) = acting.put_back(number, image)? {
                    return Err(UndoError::NameTaken { act, name });
                }
            }
            for (row, image) in records {
                if let Some(name) = acting.put_record_back(row, image)? {
                    return Err(UndoError::NameTaken { act, name });
                }
            }
            take_counts_back(acting, act)?;
            let mut draft = Draft::default();
            for line in acting.lines_of(act)? {
                draft.line(Line { amount: -line.amount, ..line });
            }
            let entry = acting.admit(draft).map_err(|error| match error {
                PostError::NotAdmitted(cause) => UndoError::NotAdmitted { act, cause },
                PostError::Unsettled(error) => UndoError::Book(BookError::Damaged(Damage::Rule(error.to_string()))),
                PostError::Book(error) => UndoError::Book(error),
            })?;
            Ok(Deed { body: json!({ "undone": act.get(), "kind": known.kind }), entry })
        })
    }
}

/// Counts the opposite of what an act counted.
fn take_counts_back(acting: &mut Acting<'_>, act: ActNumber) -> Result<(), BookError> {
    let mut taken = Vec::new();
    {
        let mut statement = acting.db().prepare_cached("SELECT record, what, amount FROM counts WHERE act = ?1")?;
        let mut rows = statement.query([act.get()])?;
        while let Some(row) = rows.next()? {
            taken.push(((row.get(0)?, row.get(1)?), -row.get::<_, i64>(2)?));
        }
    }
    acting.counted().extend(taken);
    Ok(())
}

/// Live acts after `act` that touch one of its items or records, newest first.
fn in_the_way(db: &rusqlite::Connection, act: ActNumber) -> Result<Vec<InTheWay>, BookError> {
    // In this order and no other: left to itself the database begins with every act that is no undo, and looks through all touches for each.
    let mut statement = db.prepare_cached(
        "WITH later (act, item) AS ( \
           SELECT next.act, next.item FROM touches AS own \
             CROSS JOIN touches AS next ON next.item = own.item AND next.act > own.act WHERE own.act = ?1 \
           UNION ALL \
           SELECT next.act, NULL FROM record_touches AS own \
             CROSS JOIN record_touches AS next ON next.record = own.record AND next.act > own.act WHERE own.act = ?1) \
         SELECT acts.number, acts.kind, min(later.item) FROM later \
         CROSS JOIN acts ON acts.number = later.act \
         LEFT JOIN acts AS back ON back.reverses = acts.number \
         WHERE acts.reverses IS NULL AND back.number IS NULL \
         GROUP BY acts.number ORDER BY acts.number DESC",
    )?;
    let mut rows = statement.query([act.get()])?;
    let mut later = Vec::new();
    while let Some(row) = rows.next()? {
        let item = row.get::<_, Option<u32>>(2)?.and_then(ItemNumber::new);
        later.push(InTheWay { number: ActNumber::new(row.get(0)?), kind: row.get(1)?, item });
    }
    Ok(later)
}

/// Acts on a record that were not taken back.
fn live_acts_on(db: &rusqlite::Connection, record: &Record) -> Result<Vec<InTheWay>, BookError> {
    let mut statement = db.prepare_cached(
        "SELECT acts.number, acts.kind FROM record_touches CROSS JOIN acts ON acts.number = record_touches.act \
         LEFT JOIN acts AS back ON back.reverses = acts.number \
         WHERE record_touches.record = ?1 AND acts.reverses IS NULL AND back.number IS NULL",
    )?;
    let mut rows = statement.query([record.row])?;
    let mut found = Vec::new();
    while let Some(row) = rows.next()? {
        found.push(InTheWay { number: ActNumber::new(row.get(0)?), kind: row.get(1)?, item: None });
    }
    Ok(found)
}
