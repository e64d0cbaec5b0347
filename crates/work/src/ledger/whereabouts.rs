//! Where did my jar go?

use handcoat_craft::ledger::{Account, Commodity, ItemKind, Tally, whereabouts};
use handcoat_craft::source::Element;

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

/// Where the metal of one item is.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Where {
    /// The item.
    pub account: Account,
    /// Its name.
    pub name: String,
    /// Which metal.
    pub element: Element,
    /// All that came in.
    pub received: Tally,
    /// Where it is. The rows sum to `received` exactly.
    pub rows: Vec<WhereRow>,
}

/// Follows the metal of a jar (or of a bottle that was bought), or of every one that was received.
///
/// # Errors
/// [`Refusal`] when nothing is called so, or the book cannot be read.
pub fn whereabouts_of(studio: &Studio, written: Option<&str>) -> Result<Vec<Where>, Refusal> {
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
    let journal = studio.book.journal()?;
    let mut found = Vec::new();
    for item in items.iter().filter(|item| wanted.is_none_or(|number| number == item.number)) {
        for element in [Element::PD, Element::PT, Element::AU] {
            let trace = whereabouts(journal.live(), item.kind, item.number, Commodity::Metal(element));
            if trace.received.is_zero() {
                continue;
            }
            let name_of = |account: Account| {
                let number = account.item()?;
                items.iter().find(|own| own.number == number).map(|own| own.name.clone())
            };
            let row = |(account, amount): (Account, Tally)| WhereRow { account, name: name_of(account), amount };
            found.push(Where {
                account: Account::Item(item.kind, item.number),
                name: item.name.clone(),
                element,
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
