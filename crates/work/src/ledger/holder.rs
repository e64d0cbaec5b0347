//! Who holds something, as a person reads it: an account, or all prints together. A long book has an account for every print, and nobody
//! reads a hundred thousand rows; programs still get each of them.

use std::collections::BTreeMap;
use std::fmt;

use handcoat_book::RecordKind;
use handcoat_craft::ledger::{Account, Commodity, Tally};

use super::balance::names_of;
use super::{BalanceRow, WhereRow};
use crate::{Refusal, Studio};

/// An account, or all of a kind.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Holder {
    /// One account.
    One(Account),
    /// So many prints, or coats, together.
    All(RecordKind, u32),
}

impl fmt::Display for Holder {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::One(account) => account.fmt(f),
            Self::All(kind, many) => {
                let digits = many.to_string();
                for (place, digit) in digits.chars().enumerate() {
                    let left = digits.len() - place;
                    if place > 0 && left.is_multiple_of(3) {
                        f.write_str(",")?;
                    }
                    write!(f, "{digit}")?;
                }
                write!(f, " {}{}", kind.word(), if *many == 1 { "" } else { "s" })
            }
        }
    }
}

/// What a holder holds.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct HeldRow {
    /// Who.
    pub holder: Holder,
    /// Its spoken name, when it is an item.
    pub name: Option<String>,
    /// Of what.
    pub commodity: Commodity,
    /// The spoken name of the item whose contents it counts, where it counts contents.
    pub contents_of: Option<String>,
    /// How much.
    pub amount: Tally,
}

/// Kinds whose accounts are read together.
const TOGETHER: [RecordKind; 2] = [RecordKind::Coat, RecordKind::Print];

/// All balances, those of prints and of coats together. Each commodity sums to zero.
///
/// # Errors
/// [`Refusal`] when the book cannot be read.
pub fn balance_by_holder(studio: &Studio) -> Result<Vec<HeldRow>, Refusal> {
    let apart = names_of(studio, &studio.book.balances_apart()?)?;
    let one = |row: BalanceRow| HeldRow {
        holder: Holder::One(row.account),
        name: row.name,
        commodity: row.commodity,
        contents_of: row.contents_of,
        amount: row.amount,
    };
    let mut rows: Vec<HeldRow> = apart.into_iter().map(one).collect();
    for kind in TOGETHER {
        for own in studio.book.balances_together(kind)? {
            let holder = Holder::All(kind, own.accounts);
            rows.push(HeldRow { holder, name: None, commodity: own.commodity, contents_of: None, amount: own.amount });
        }
    }
    Ok(rows)
}

/// Where it is, prints and coats together, in the order of the rows. The rows sum to the same.
#[must_use]
pub fn where_by_holder(rows: &[WhereRow]) -> Vec<(Holder, Option<&str>, Tally)> {
    let mut found: Vec<(Holder, Option<&str>, Tally)> = Vec::new();
    let mut together: BTreeMap<RecordKind, (u32, Tally)> = BTreeMap::new();
    for row in rows {
        let kind = match row.account {
            Account::Coat(_) => RecordKind::Coat,
            Account::Print(_) => RecordKind::Print,
            account => {
                found.push((Holder::One(account), row.name.as_deref(), row.amount));
                continue;
            }
        };
        let (many, sum) = together.entry(kind).or_insert((0, Tally::ZERO));
        *many = many.saturating_add(1);
        *sum = sum.plus(row.amount).unwrap_or(*sum);
    }
    found.extend(together.into_iter().map(|(kind, (many, sum))| (Holder::All(kind, many), None, sum)));
    found
}
