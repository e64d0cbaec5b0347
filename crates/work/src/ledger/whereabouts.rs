//! Where did my jar go?

use std::collections::{HashMap, VecDeque};
use std::sync::{Arc, MutexGuard};

use handcoat_book::{ActKey, ActNumber, Book, EntryNumber};
use handcoat_craft::ledger::{Account, Commodity, ItemKind, ItemNumber, Tally, Trace};

use super::holder::{HeldRow, Holder, balance_by_holder, where_by_holder};
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

/// What was followed so far. A book is only added to, so the next look goes on from here; an act that was taken back is gone back to.
#[derive(Debug, Default)]
pub(crate) struct Followed {
    /// The act it is as of, by key as well: a restored book may have another act of the same number.
    as_of: Option<(ActNumber, ActKey)>,
    /// The last entry that was followed.
    last: EntryNumber,
    trace: Trace,
    /// The newest entries in `trace`, oldest first: as many as can be taken off it.
    newest: VecDeque<EntryNumber>,
    /// The answer for everything that was received, until the next act.
    found: Option<Arc<[Where]>>,
    /// The same with all prints and all coats together, and every balance likewise: a page asks for these, and a long book has three rows
    /// for every print.
    together: Option<Together>,
}

/// What a page of the ledger shows, as of an act.
#[derive(Clone, Debug)]
pub struct Together {
    /// Every balance.
    pub balances: Arc<[HeldRow]>,
    /// Where everything went.
    pub whereabouts: Arc<[WhereTogether]>,
}

/// Where the metal of one item is, or its money, prints and coats together.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct WhereTogether {
    /// Its name.
    pub name: String,
    /// Which metal, or which currency.
    pub commodity: Commodity,
    /// All that came in.
    pub received: Tally,
    /// Where it is; the rows sum to `received` exactly.
    pub rows: Vec<(Holder, Option<String>, Tally)>,
}

/// Balances and whereabouts with all prints and all coats together, looked up once for each newest act.
///
/// # Errors
/// [`Refusal`] when the book cannot be read.
pub fn ledger_together(studio: &Studio) -> Result<Together, Refusal> {
    let found = whereabouts_of(studio, None)?;
    if let Some(own) = &locked(studio).together {
        return Ok(own.clone());
    }
    let one = |own: &Where| WhereTogether {
        name: own.name.clone(),
        commodity: own.commodity,
        received: own.received,
        rows: where_by_holder(&own.rows)
            .into_iter()
            .map(|(who, name, much)| (who, name.map(String::from), much))
            .collect(),
    };
    let together =
        Together { balances: balance_by_holder(studio)?.into(), whereabouts: found.iter().map(one).collect() };
    let mut followed = locked(studio);
    // Kept only beside the answer it was made of: somebody else's act may have come between.
    if followed.found.as_ref().is_some_and(|own| Arc::ptr_eq(own, &found)) {
        followed.together = Some(together.clone());
    }
    Ok(together)
}

fn locked(studio: &Studio) -> MutexGuard<'_, Followed> {
    // A poisoned lock holds what a page that broke had looked up; it is looked up anew.
    studio.followed.lock().unwrap_or_else(|poisoned| {
        let mut followed = poisoned.into_inner();
        *followed = Followed::default();
        followed
    })
}

impl Followed {
    /// Goes on to the newest act.
    fn up_to_date(&mut self, book: &Book) -> Result<(), Refusal> {
        let latest = book.latest_acts(1)?.pop().map(|act| (act.number, act.key));
        if latest == self.as_of {
            return Ok(());
        }
        let known = match &self.as_of {
            Some((number, key)) => book.act_numbered(*number)?.is_some_and(|act| act.key == *key),
            None => false,
        };
        if !known || !self.gone_back(book)? {
            *self = Self::default();
        }
        // What is half followed when the book cannot be read on is followed anew next time.
        let as_of = self.as_of.take();
        self.found = None;
        self.together = None;
        let Self { trace, last, newest, .. } = self;
        book.follow_value(*last, |entry, lines| {
            trace.follow(lines)?;
            newest.push_back(entry);
            if newest.len() > trace.remembered() {
                newest.pop_front();
            }
            *last = entry;
            Ok::<_, handcoat_craft::ledger::Unsettled>(())
        })?;
        self.as_of = latest.or(as_of);
        Ok(())
    }

    /// Takes off what was taken back meanwhile, with all that came after it. False where that is too long ago.
    fn gone_back(&mut self, book: &Book) -> Result<bool, Refusal> {
        let Some((number, _)) = &self.as_of else { return Ok(false) };
        let Some(first) = book.taken_back_since(*number)?.into_iter().min() else { return Ok(true) };
        while self.last >= first {
            if self.newest.pop_back().is_none() || !self.trace.back() {
                return Ok(false);
            }
            match self.newest.back() {
                Some(entry) => self.last = *entry,
                // Nothing is left that says where it stands.
                None => return Ok(false),
            }
        }
        Ok(true)
    }
}

/// Follows the metal and the money of a jar (or of a bottle that was bought), or of every one that was received.
///
/// # Errors
/// [`Refusal`] when nothing is called so, or the book cannot be read.
pub fn whereabouts_of(studio: &Studio, written: Option<&str>) -> Result<Arc<[Where]>, Refusal> {
    let mut followed = locked(studio);
    followed.up_to_date(&studio.book)?;
    let Some(text) = written else {
        if let Some(found) = &followed.found {
            return Ok(Arc::clone(found));
        }
        let found: Arc<[Where]> = rows(&studio.book.names()?, &followed.trace, None).into();
        followed.found = Some(Arc::clone(&found));
        return Ok(found);
    };
    let items = studio.book.items()?;
    // A jar that was used up is asked for as often as one that is there.
    let gone = items.iter().rev().find(|item| item.name.to_lowercase() == text.trim().to_lowercase()).cloned();
    let item = match Shelf::of(items).find(Question::Item, text) {
        Ok(item) => item.clone(),
        Err(refusal) => gone.ok_or(refusal)?,
    };
    let found = rows(&studio.book.names()?, &followed.trace, Some(item.number));
    if found.is_empty() {
        let cause = match item.kind {
            ItemKind::Jar => format!("no metal came in with {}", item.name),
            _ => format!("{} was not bought but made; ask for the jar it came from", item.name),
        };
        return Err(Refusal::rule("nothing_received", Question::Item, cause, vec![Remedy::ShowShelf]));
    }
    Ok(found.into())
}

/// One table for each item and commodity: of all items in the order they came, or of one.
fn rows(names: &[(ItemNumber, String)], trace: &Trace, only: Option<ItemNumber>) -> Vec<Where> {
    let names: HashMap<ItemNumber, &str> = names.iter().map(|(number, name)| (*number, name.as_str())).collect();
    let name_of = |account: Account| Some((*names.get(&account.item()?)?).to_owned());
    let row = |&(account, amount): &(Account, Tally)| WhereRow { account, name: name_of(account), amount };
    let mut found = Vec::new();
    for commodity in trace.commodities() {
        for (account, own) in trace.whereabouts(commodity) {
            if only.is_some() && account.item() != only {
                continue;
            }
            let mut rows: Vec<WhereRow> = own.rows.iter().map(row).collect();
            if !rows.iter().any(|row| row.account == Account::Unexplained) {
                rows.push(WhereRow { account: Account::Unexplained, name: None, amount: Tally::ZERO });
            }
            let name = name_of(account).unwrap_or_default();
            found.push(Where { account, name, commodity, received: own.received, rows });
        }
    }
    // Within an item metals first, then money: the order of commodities.
    found.sort_by_key(|own| (own.account.item(), own.commodity));
    found
}
