//! Rows of coats and of prints taken together: a page that shows each of five hundred prints shows nothing.

use handcoat_craft::ledger::{Account, Commodity, Tally};

use super::{BalanceRow, WhereRow};

/// Who holds it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Holder {
    /// An account, by its spoken name when it is an item.
    One(Account, Option<String>),
    /// So many coats that are no prints yet.
    Coats(usize),
    /// So many prints.
    Prints(usize),
}

/// What it holds.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Together {
    /// Who.
    pub holder: Holder,
    /// Of what.
    pub commodity: Commodity,
    /// The spoken name of the item whose contents it counts, where it counts contents.
    pub contents_of: Option<String>,
    /// How much: of several, their sum.
    pub amount: Tally,
}

/// Balances with one row for all coats and one for all prints, in each commodity. The sums stay what they are.
#[must_use]
pub fn balances_together(rows: &[BalanceRow]) -> Vec<Together> {
    let own = rows.iter().map(|row| Together {
        holder: Holder::One(row.account, row.name.clone()),
        commodity: row.commodity,
        contents_of: row.contents_of.clone(),
        amount: row.amount,
    });
    together(own)
}

/// The same of where one jar went.
#[must_use]
pub fn where_together(commodity: Commodity, rows: &[WhereRow]) -> Vec<Together> {
    let own = rows.iter().map(|row| Together {
        holder: Holder::One(row.account, row.name.clone()),
        commodity,
        contents_of: None,
        amount: row.amount,
    });
    together(own)
}

fn together(rows: impl Iterator<Item = Together>) -> Vec<Together> {
    let mut all: Vec<Together> = Vec::new();
    for row in rows {
        let first = match &row.holder {
            Holder::One(Account::Coat(_), _) => Holder::Coats(1),
            Holder::One(Account::Print(_), _) => Holder::Prints(1),
            other => other.clone(),
        };
        let alike = |own: &&mut Together| {
            let same = matches!(
                (&own.holder, &first),
                (Holder::Coats(_), Holder::Coats(_)) | (Holder::Prints(_), Holder::Prints(_))
            );
            same && own.commodity == row.commodity
        };
        match all.iter_mut().find(alike) {
            Some(own) => {
                own.amount = own.amount.plus(row.amount).unwrap_or(own.amount);
                match &mut own.holder {
                    Holder::Coats(many) | Holder::Prints(many) => *many += 1,
                    Holder::One(..) => {}
                }
            }
            None => all.push(Together { holder: first, ..row }),
        }
    }
    all
}
