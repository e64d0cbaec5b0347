//! What an item holds, and words for amounts.

use handcoat_book::{Acting, Facts, Item};
use handcoat_craft::ledger::{Account, Balances, Commodity, ContentsIn, Draft, Draw, ItemKind, Overdraw, Tally, draw};
use handcoat_craft::measure::{Mass, Money, Readable, Uncertain, Volume, significant, with_uncertainty};
use handcoat_craft::source::Element;
use serde_json::{Value, json};

use crate::{Question, Refusal, Remedy};

/// An amount of contents: powder by mass, solution by volume.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Contents {
    Powder(Mass),
    Solution(Volume),
}

impl Contents {
    pub(crate) fn tally(self) -> Tally {
        match self {
            Self::Powder(mass) => mass.into(),
            Self::Solution(volume) => volume.into(),
        }
    }

    /// So many of the smallest unit of what such an item holds.
    pub(crate) fn of(kind: ItemKind, units: i64) -> Self {
        match unit_of(kind) {
            ContentsIn::Micrograms => Self::Powder(Mass::micrograms(units).unwrap_or(Mass::ZERO)),
            ContentsIn::Nanolitres => Self::Solution(Volume::nanolitres(units).unwrap_or(Volume::ZERO)),
        }
    }

    pub(crate) fn words(self) -> String {
        match self {
            Self::Powder(mass) => grams(mass),
            Self::Solution(volume) => millilitres(volume),
        }
    }
}

pub(crate) fn grams(mass: Mass) -> String {
    format!("{} g", significant(mass.to_grams(), 6))
}

pub(crate) fn millilitres(volume: Volume) -> String {
    format!("{} mL", significant(volume.to_millilitres(), 5))
}

pub(crate) fn unit_of(kind: ItemKind) -> ContentsIn {
    match kind {
        ItemKind::Jar | ItemKind::Vial => ContentsIn::Micrograms,
        ItemKind::Bottle => ContentsIn::Nanolitres,
    }
}

pub(crate) fn account_of(item: &Item) -> Account {
    Account::Item(item.kind, item.number)
}

pub(crate) fn contents_of(item: &Item) -> Commodity {
    Commodity::Contents(item.number, unit_of(item.kind))
}

/// What is in an item.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Held {
    pub(crate) contents: Contents,
    /// Metal in it; none when it is not known to hold any.
    pub(crate) metal: Option<(Element, Mass)>,
    /// What it cost, by currency.
    pub(crate) cost: Vec<Money>,
}

impl Held {
    pub(crate) fn of(item: &Item, balances: &Balances) -> Self {
        let tally = balances.of(account_of(item), contents_of(item));
        // Balances of items are never negative; beyond the bounds of a mass nothing was ever received.
        let contents = Contents::of(item.kind, tally.to_units());
        let mut held = Self { contents, metal: None, cost: Vec::new() };
        for (commodity, tally) in balances.held_by(account_of(item)) {
            match commodity {
                Commodity::Metal(element) => held.metal = tally.to_mass().map(|mass| (element, mass)),
                Commodity::Money(currency) => held.cost.extend(Money::minor(tally.to_units(), currency)),
                Commodity::Contents(..) => {}
            }
        }
        held
    }

    pub(crate) fn words(&self, facts: &Facts) -> String {
        let known = facts.contents_u.filter(|own| *own > 0.0);
        match (self.contents, known) {
            (Contents::Powder(mass), Some(own)) => {
                format!("{}", with_uncertainty(&Uncertain::new(mass, own * 1e-6))) + " g"
            }
            (Contents::Solution(volume), Some(own)) => {
                format!("{}", with_uncertainty(&Uncertain::new(volume, own * 1e-6))) + " mL"
            }
            (contents, None) => contents.words(),
        }
    }
}

/// Powder in a jar or vial; none for a bottle.
pub(crate) fn held_mass(item: &Item, balances: &Balances) -> Option<Mass> {
    match Held::of(item, balances).contents {
        Contents::Powder(mass) => Some(mass),
        Contents::Solution(_) => None,
    }
}

/// Takes a part out of an item, or says that there is less.
pub(crate) fn take(balances: &Balances, item: &Item, amount: Contents, about: Question) -> Result<Draw, Refusal> {
    draw(balances, item.kind, item.number, unit_of(item.kind), amount.tally()).map_err(|Overdraw { .. }| {
        let held = Held::of(item, balances);
        let cause = format!("{} holds {} and {} are taken from it", item.name, held.contents.words(), amount.words());
        let most = held.contents.words().replace(' ', "");
        Refusal::rule(
            "more_than_held",
            about,
            cause,
            vec![Remedy::Write(about, most), Remedy::TakeStock(item.name.clone())],
        )
    })
}

/// Reads an amount of what is in an item: grams from a jar, millilitres from a bottle.
pub(crate) fn read_amount(item: &Item, about: Question, text: &str) -> Result<Contents, Refusal> {
    match unit_of(item.kind) {
        ContentsIn::Micrograms => {
            Mass::read(text).map(Contents::Powder).map_err(|error| Refusal::quantity(about, Mass::FORMS, &error))
        }
        ContentsIn::Nanolitres => {
            Volume::read(text).map(Contents::Solution).map_err(|error| Refusal::quantity(about, Volume::FORMS, &error))
        }
    }
}

/// Standard uncertainties of things that were added, put together.
pub(crate) fn together(one: Option<f64>, other: Option<f64>) -> Option<f64> {
    match (one, other) {
        (None, None) => None,
        (one, other) => Some(one.unwrap_or(0.0).hypot(other.unwrap_or(0.0))),
    }
}

/// The body of an act: what it is about and what it says of itself.
pub(crate) fn body(item: &Item, said: &[String]) -> Value {
    json!({ "v": 1, "item": item.number.get(), "name": item.name, "said": said })
}

/// New contents of an item, out of nothing but the making.
pub(crate) fn fill(draft: &mut Draft, item: &Item, contents: Contents) {
    draft.move_from(Account::Made, account_of(item), contents_of(item), contents.tally());
}

/// The item with this number, inside an act that just made it.
pub(crate) fn fresh(acting: &Acting<'_>, number: handcoat_craft::ledger::ItemNumber) -> Result<Item, Refusal> {
    // OK because the act wrote it in this same transaction.
    Ok(acting.item(number)?.expect("BUG: an item that was just written is not there"))
}
