//! Whether a book agrees with itself.

use handcoat_craft::ledger::{Account, Balances, Commodity, Tally};
use rusqlite::Connection;

use crate::{Book, BookError, Damage, RecordKind, Standing, facts, ledger, record, schema};

/// How bad a finding is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum FindingKind {
    /// The book contradicts itself.
    Damage,
    /// Worth a look; counts under `--strict`.
    Notice,
}

/// One thing a check found.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Finding {
    /// Stable code.
    pub code: &'static str,
    /// How bad.
    pub kind: FindingKind,
    /// What was found, with the value seen.
    pub what: String,
}

impl Book {
    /// Everything that can be checked: the file, the links, every entry's sum, the balances against a replay, that nothing is
    /// held by an item that is not there.
    ///
    /// # Errors
    /// [`BookError`] when the book cannot even be read.
    pub fn check(&self) -> Result<Vec<Finding>, BookError> {
        all(&self.connection)
    }
}

/// The first version that has records.
const RECORDS_SINCE: i64 = 3;

pub(crate) fn all(db: &Connection) -> Result<Vec<Finding>, BookError> {
    let mut findings = Vec::new();
    let mut damage = |code, what| findings.push(Finding { code, kind: FindingKind::Damage, what });

    let mut statement = db.prepare("PRAGMA integrity_check")?;
    let mut rows = statement.query([])?;
    while let Some(row) = rows.next()? {
        let said: String = row.get(0)?;
        if said != "ok" {
            damage("file_damaged", said);
        }
    }
    let mut statement = db.prepare("PRAGMA foreign_key_check")?;
    let mut rows = statement.query([])?;
    while let Some(row) = rows.next()? {
        damage("link_broken", format!("a row of {} points at nothing", row.get::<_, String>(0)?));
    }
    let sql = "SELECT entry FROM lines GROUP BY entry, commodity HAVING sum(amount) <> 0";
    for entry in numbers(db, sql)? {
        damage("entry_unbalanced", format!("entry {entry} does not sum to zero"));
    }
    for entry in numbers(db, "SELECT DISTINCT entry FROM lines WHERE entry NOT IN (SELECT number FROM entries)")? {
        damage("lines_without_entry", format!("lines stand under entry {entry}, which is not there"));
    }
    let undone = "SELECT number FROM acts WHERE reverses >= number";
    for act in numbers(db, undone)? {
        damage("undo_before_act", format!("act {act} takes back one that comes later"));
    }
    // A copy of an older version is held against itself before it is brought up to date.
    if schema::version(db)? >= RECORDS_SINCE {
        let sql = "SELECT record FROM (SELECT record, what, amount FROM count_totals \
            UNION ALL SELECT record, what, -amount FROM counts) GROUP BY record, what HAVING sum(amount) <> 0";
        for record in numbers(db, sql)? {
            damage("count_wrong", format!("what was counted for record {record} does not come to its total"));
        }
        let sql = "SELECT number FROM records WHERE number NOT IN (SELECT rowid FROM record_words)";
        for record in numbers(db, sql)? {
            damage("record_unfindable", format!("record {record} is missing among the words to search by"));
        }
    }
    match replay(db) {
        Ok((replayed, kept)) if replayed != kept => {
            for (account, commodity, tally) in replayed.rows() {
                let held = kept.of(account, commodity);
                if held != tally {
                    damage(
                        "balance_wrong",
                        format!("`{account}` holds {held} of `{commodity}`; replayed it is {tally}"),
                    );
                }
            }
            for (account, commodity, tally) in kept.rows() {
                if replayed.of(account, commodity) == Tally::ZERO {
                    damage("balance_wrong", format!("`{account}` holds {tally} of `{commodity}`; replayed it is 0"));
                }
            }
        }
        Ok((replayed, _)) => {
            for (account, commodity, tally) in replayed.rows() {
                if tally.is_negative() && !account.may_be_negative() {
                    damage("below_nothing", format!("`{account}` holds {tally} of `{commodity}`"));
                }
            }
            items(db, &replayed, &mut findings)?;
        }
        Err(BookError::Damaged(what)) => damage("entry_unreadable", what.to_string()),
        Err(other) => return Err(other),
    }
    Ok(findings)
}

/// Every balance from every line, and the balances as they are kept.
fn replay(db: &Connection) -> Result<(Balances, Balances), BookError> {
    let mut replayed = Balances::default();
    for (act, entry) in &ledger::journal(db)?.entries {
        replayed
            .apply(entry)
            .map_err(|error| BookError::Damaged(Damage::Rule(format!("the entry of act {act}: {error}"))))?;
    }
    Ok((replayed, ledger::balances(db)?))
}

/// Items against what the ledger says of them.
fn items(db: &Connection, balances: &Balances, findings: &mut Vec<Finding>) -> Result<(), BookError> {
    let items = facts::items(db)?;
    for (account, commodity, tally) in balances.rows() {
        let sheet = match account {
            Account::Coat(number) => Some((RecordKind::Coat, number.get())),
            Account::Print(number) => Some((RecordKind::Print, number.get())),
            _ => None,
        };
        if let Some((kind, number)) = sheet
            && record::one(db, kind, number)?.is_none_or(|own| own.standing == Standing::Undone)
        {
            let what = format!("`{account}` holds {tally} of `{commodity}` and no such {} is in the book", kind.word());
            findings.push(Finding { code: "record_wrong", kind: FindingKind::Damage, what });
        }
        let Some(number) = account.item() else { continue };
        let what = match items.iter().find(|item| item.number == number) {
            None => format!("`{account}` holds {tally} of `{commodity}` and is on no shelf"),
            Some(item) if item.kind.word() != account.to_string().split(':').next().unwrap_or_default() => {
                format!("`{account}` is a {}", item.kind.word())
            }
            Some(item) if item.standing != Standing::Here => {
                format!("`{}` is not on the shelf and holds {tally} of `{commodity}`", item.name)
            }
            Some(item) => {
                // Metal or money without contents: the last drop took less than all.
                let contents = balances
                    .held_by(account)
                    .any(|(own, _)| matches!(own, Commodity::Contents(own, _) if own == item.number));
                if contents {
                    continue;
                }
                format!("`{}` is empty and still holds {tally} of `{commodity}`", item.name)
            }
        };
        findings.push(Finding { code: "item_wrong", kind: FindingKind::Damage, what });
    }
    for item in items.iter().filter(|item| item.standing == Standing::Here) {
        if item.facts.metal.is_some() && item.facts.strength_rel_u.is_none() {
            let what = format!("how well the strength of `{}` is known is unknown", item.name);
            findings.push(Finding { code: "strength_unknown", kind: FindingKind::Notice, what });
        }
    }
    Ok(())
}

fn numbers(db: &Connection, sql: &str) -> Result<Vec<i64>, BookError> {
    let mut statement = db.prepare(sql)?;
    let found = statement.query_map([], |row| row.get(0))?.collect::<Result<_, _>>()?;
    Ok(found)
}
