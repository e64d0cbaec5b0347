//! Where did my jar go?

use std::collections::{BTreeMap, BTreeSet};

use handcoat_craft::ledger::{Account, Commodity, Entry, ItemKind, Tally, Whereabouts, whereabouts};

use crate::shelf::Shelf;
use crate::{Question, Refusal, Remedy, Studio};

/// One place where some of it is.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct WhereRow {
    /// Whose.
    pub account: Account,
    /// Its spoken name, when it is an item.
    pub name: Option<String>,
    /// How much.
    pub amount: Tally,
}

/// Where the metal of one item is, or its money.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Where {
    /// The item.
    pub account: Account,
    /// Its name.
    pub name: String,
    /// Which metal, or which currency.
    pub commodity: Commodity,
    /// All that came in.
    pub received: Tally,
    /// Where it is. The rows sum to `received` exactly; the unexplained is always among them.
    pub rows: Vec<WhereRow>,
}

/// Follows the metal and the money of a jar (or of a bottle that was bought), or of every one that was received.
///
/// # Errors
/// [`Refusal`] when nothing is called so, or the book cannot be read.
pub fn whereabouts_of(studio: &Studio, written: Option<&str>) -> Result<Vec<Where>, Refusal> {
    // By its key and not its number: a restored book may have another act of the same number.
    let latest = studio.book.latest_acts(1)?.first().map_or(String::new(), |act| act.key.text().into());
    // A poisoned lock holds what a page that broke had looked up; it is looked up anew.
    let mut traced = studio.traced.lock().unwrap_or_else(std::sync::PoisonError::into_inner);
    if written.is_none()
        && let Some((as_of, found)) = traced.as_ref()
        && *as_of == latest
    {
        return Ok(found.clone());
    }
    let found = follow(studio, written)?;
    if written.is_none() {
        *traced = Some((latest, found.clone()));
    }
    Ok(found)
}

fn follow(studio: &Studio, written: Option<&str>) -> Result<Vec<Where>, Refusal> {
    let items = studio.book.items()?;
    let shelf = Shelf::of(items.clone());
    let wanted = match written {
        // A jar that was used up is asked for as often as one that is there.
        Some(text) => {
            let gone = items.iter().rev().find(|item| item.name.to_lowercase() == text.trim().to_lowercase());
            Some(match shelf.find(Question::Item, text) {
                Ok(item) => item.number,
                Err(refusal) => gone.map(|item| item.number).ok_or(refusal)?,
            })
        }
        None => None,
    };
    let journal = studio.book.journal_of_value()?;
    // Metals first, then money: the order of commodities. Contents stay where they are.
    let commodities: BTreeSet<Commodity> = journal
        .live()
        .flat_map(Entry::lines)
        .map(|line| line.commodity)
        .filter(|own| !matches!(own, Commodity::Contents(..)))
        .collect();
    let all: BTreeMap<(Commodity, Account), Whereabouts> = commodities
        .iter()
        .flat_map(|&commodity| {
            whereabouts(journal.live(), commodity).into_iter().map(move |(item, own)| ((commodity, item), own))
        })
        .collect();
    let mut found = Vec::new();
    for item in items.iter().filter(|item| wanted.is_none_or(|number| number == item.number)) {
        for &commodity in &commodities {
            let Some(mut trace) = all.get(&(commodity, Account::Item(item.kind, item.number))).cloned() else {
                continue;
            };
            if trace.received.is_zero() {
                continue;
            }
            if !trace.rows.iter().any(|(account, _)| *account == Account::Unexplained) {
                trace.rows.push((Account::Unexplained, Tally::ZERO));
            }
            let name_of = |account: Account| {
                let number = account.item()?;
                items.iter().find(|own| own.number == number).map(|own| own.name.clone())
            };
            let row = |(account, amount): (Account, Tally)| WhereRow { account, name: name_of(account), amount };
            found.push(Where {
                account: Account::Item(item.kind, item.number),
                name: item.name.clone(),
                commodity,
                received: trace.received,
                rows: trace.rows.into_iter().map(row).collect(),
            });
        }
        if wanted.is_some() && found.is_empty() {
            let cause = match item.kind {
                ItemKind::Jar => format!("no metal came in with {}", item.name),
                _ => format!("{} was not bought but made; ask for the jar it came from", item.name),
            };
            return Err(Refusal::rule("nothing_received", Question::Item, cause, vec![Remedy::ShowShelf]));
        }
    }
    Ok(found)
}
