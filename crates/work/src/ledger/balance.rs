//! Every account, and what the metal is worth at a price somebody enters.

use std::collections::HashMap;

use handcoat_craft::ledger::{Account, Balances, Commodity, ItemNumber, Tally};
use handcoat_craft::measure::{Money, Readable, read_price_per_mass};
use handcoat_craft::source::Element;

use crate::{Question, Refusal, Remedy, Studio};

/// One balance.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct BalanceRow {
    /// Whose.
    pub account: Account,
    /// Its spoken name, when it is an item.
    pub name: Option<String>,
    /// Of what.
    pub commodity: Commodity,
    /// The spoken name of the item whose contents it counts, where it counts contents.
    pub contents_of: Option<String>,
    /// How much.
    pub amount: Tally,
}

/// Metal on the shelf at an entered price.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Valued {
    /// Which metal.
    pub element: Element,
    /// How much of it is on the shelf.
    pub amount: Tally,
    /// What that is worth.
    pub worth: Money,
}

/// All balances, by account and then commodity. Each commodity sums to zero.
///
/// # Errors
/// [`Refusal`] when the book cannot be read.
pub fn balance(studio: &Studio) -> Result<Vec<BalanceRow>, Refusal> {
    names_of(studio, &studio.book.balances()?)
}

/// Balances with the names of the items among them.
pub(super) fn names_of(studio: &Studio, balances: &Balances) -> Result<Vec<BalanceRow>, Refusal> {
    let names: HashMap<ItemNumber, String> = studio.book.names()?.into_iter().collect();
    let name_of = |item: ItemNumber| names.get(&item).cloned();
    let row = |(account, commodity, amount): (Account, Commodity, Tally)| BalanceRow {
        account,
        name: account.item().and_then(name_of),
        commodity,
        contents_of: match commodity {
            Commodity::Contents(item, _) => name_of(item),
            Commodity::Metal(_) | Commodity::Money(_) => None,
        },
        amount,
    };
    Ok(balances.rows().map(row).collect())
}

/// Metal on the shelf at a price such as `Pd 38EUR/g`.
///
/// # Errors
/// [`Refusal`] when the price cannot be read.
pub fn value(studio: &Studio, price: &str) -> Result<Valued, Refusal> {
    let about = Question::MetalPrice;
    let unreadable = || {
        let cause = format!("`{price}` is no price of a metal; expected one such as `Pd 38EUR/g`");
        Refusal::unreadable("metal_price_unreadable", about, cause, vec![Remedy::Write(about, "Pd 38EUR/g".into())])
    };
    let (metal, per) = price.trim().split_once(' ').ok_or_else(unreadable)?;
    let Ok(commodity @ Commodity::Metal(element)) = metal.parse::<Commodity>() else { return Err(unreadable()) };
    let per = read_price_per_mass(per).map_err(|error| Refusal::quantity(about, Money::FORMS, &error))?;
    let balances = studio.book.balances_apart()?;
    let on_shelf = balances.rows().filter(|(account, own, _)| account.item().is_some() && *own == commodity);
    let amount = on_shelf.fold(Tally::ZERO, |sum, (_, _, tally)| sum.plus(tally).unwrap_or(sum));
    let mass = amount.to_mass().unwrap_or_default();
    let worth = per.cost_of(mass).map_err(|error| Refusal::bounds(about, &error))?;
    Ok(Valued { element, amount, worth })
}
