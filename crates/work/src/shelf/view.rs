//! The shelf as it stands, with what is due and what should be known. Nothing here blocks.

use handcoat_book::{Facts, Item};
use handcoat_craft::ledger::{Balances, ItemCode, ItemKind, ItemNumber};
use handcoat_craft::measure::{Mass, MassConcentration, Money, PercentByVolume, Volume};
use handcoat_craft::source::{Element, Keeping, Keeps, TESTS};
use handcoat_craft::stock::{Formula, concentration, keeping, keeping_of, kept_metal, percent_of};
use jiff::{SignedDuration, Timestamp};

use super::content::{Contents, Held, account_of, held_mass};
use super::find::Shelf;
use super::solution::{Solute, solutes};
use crate::{Day, Question, Refusal, Studio};

/// Something to do with an item.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Due {
    /// It rests until then.
    Rest(Timestamp),
    /// It has rested: look whether it is clear.
    LookAgain,
    /// A test that is due, and why.
    Test(&'static str, &'static str),
}

/// Something to know of an item. At most the first is shown at the bench.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Notice {
    /// Sediment was seen.
    Sediment,
    /// A test failed.
    TestFailed(String),
    /// Swept powder of the same salt is on the shelf and goes first.
    UseFirst(String),
    /// Its strength is unknown.
    StrengthUnknown,
    /// Some of what is in it came without a price.
    CostIncomplete,
    /// Iron with chlorate: until when it is used up.
    ChlorateInIron(Day),
    /// It is empty.
    Empty,
}

impl std::fmt::Display for Notice {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match self {
            Self::Sediment => f.write_str("sediment was seen: warm it and stir, and look again before it is used"),
            Self::TestFailed(test) => {
                write!(f, "it failed the {test} test: try it on a strip before a print, or mix it again")
            }
            Self::UseFirst(vial) => write!(f, "use {vial} first"),
            Self::StrengthUnknown => f.write_str("its strength is unknown, so its metal is not in the ledger"),
            Self::CostIncomplete => {
                f.write_str("some of what is in it came without a price: its cost is more than shown")
            }
            Self::ChlorateInIron(until) => {
                write!(f, "iron with chlorate: vented cap, never warmed, used up or put away safely by {until}")
            }
            Self::Empty => f.write_str("it is empty: put it away"),
        }
    }
}

/// An item as a page or a list shows it.
#[derive(Clone, Debug, PartialEq)]
pub struct ItemView {
    /// Its number.
    pub number: ItemNumber,
    /// The code on its label.
    pub code: ItemCode,
    /// Jar, bottle or vial.
    pub kind: ItemKind,
    /// Spoken name.
    pub name: String,
    /// What is known of it.
    pub facts: Facts,
    /// Formula of its solid.
    pub formula: Option<Formula>,
    /// Powder in it.
    pub mass: Option<Mass>,
    /// Solution in it.
    pub volume: Option<Volume>,
    /// How much, in words with its ±.
    pub amount: String,
    /// Metal in it.
    pub metal: Option<(Element, Mass)>,
    /// Metal per volume.
    pub strength: Option<MassConcentration>,
    /// Its strength in grams of the solid per 100 mL.
    pub percent: Option<PercentByVolume>,
    /// What is dissolved in it besides stocks of palladium and platinum.
    pub dissolved: Vec<Solute>,
    /// What it cost, by currency.
    pub cost: Vec<Money>,
    /// When it came or was made.
    pub since: Timestamp,
    /// Whole days since then.
    pub age_days: i64,
    /// What is due.
    pub due: Vec<Due>,
    /// What to know.
    pub notices: Vec<Notice>,
}

/// Everything on the shelf, in the order it came.
///
/// # Errors
/// [`Refusal`] when the book cannot be read.
pub fn shelf(studio: &Studio, now: Timestamp) -> Result<Vec<ItemView>, Refusal> {
    let (all, balances) = here(studio)?;
    all.here().map(|item| view(studio, &all, item, &balances, now)).collect()
}

/// One item, by its name or code.
///
/// # Errors
/// [`Refusal`] when nothing is called so, or the book cannot be read.
pub fn shelf_item(studio: &Studio, written: &str, now: Timestamp) -> Result<ItemView, Refusal> {
    let (all, balances) = here(studio)?;
    view(studio, &all, all.find(Question::Item, written)?, &balances, now)
}

/// What is there and what it holds; a long book has far more that is gone, and is not read for a page.
fn here(studio: &Studio) -> Result<(Shelf, Balances), Refusal> {
    let all = Shelf::here_now(studio)?;
    let balances = studio.book.balances_of(all.here().map(account_of))?;
    Ok((all, balances))
}

fn view(studio: &Studio, all: &Shelf, item: &Item, balances: &Balances, now: Timestamp) -> Result<ItemView, Refusal> {
    let held = Held::of(item, balances);
    let formula: Option<Formula> = item.facts.formula.as_deref().and_then(|text| text.parse().ok());
    let (mass, volume) = match held.contents {
        Contents::Powder(mass) => (Some(mass), None),
        Contents::Solution(volume) => (None, Some(volume)),
    };
    let strength = volume.zip(held.metal).and_then(|(volume, (_, metal))| concentration(metal, volume));
    let dissolved = solutes(&item.facts);
    let percent = match dissolved.first() {
        Some(first) => Some(first.percent),
        None => formula.as_ref().zip(strength).and_then(|(formula, strength)| percent_of(formula, strength)),
    };
    let kept = kept(formula.as_ref(), &dissolved, percent);
    let since = studio.book.since(item.number)?.unwrap_or(now);
    let age_days = now.duration_since(since).as_hours() / 24;
    Ok(ItemView {
        number: item.number,
        code: ItemCode::of(item.number),
        kind: item.kind,
        name: item.name.clone(),
        facts: item.facts.clone(),
        due: due(item, kept, age_days, now),
        notices: notices(all, item, formula.as_ref(), &held, balances, kept.map(|row| (row, since))),
        formula,
        mass,
        volume,
        amount: held.words(&item.facts),
        metal: held.metal,
        strength,
        percent,
        dissolved,
        cost: held.cost,
        since,
        age_days,
    })
}

/// How long what is in it keeps.
fn kept(formula: Option<&Formula>, dissolved: &[Solute], percent: Option<PercentByVolume>) -> Option<&'static Keeping> {
    if dissolved.is_empty() {
        return keeping(formula?, percent);
    }
    let solids: Vec<Formula> = dissolved.iter().map(|own| own.formula.clone()).collect();
    keeping_of(&solids, percent)
}

fn due(item: &Item, kept: Option<&'static Keeping>, age_days: i64, now: Timestamp) -> Vec<Due> {
    let mut due = Vec::new();
    if item.kind != ItemKind::Bottle {
        return due;
    }
    if let Some(ready) = item.facts.ready_after {
        if now < ready {
            due.push(Due::Rest(ready));
        } else if item.facts.look.as_ref().is_none_or(|look| look.at < ready) {
            due.push(Due::LookAgain);
        }
    }
    if let Some(row) = kept {
        let last = match row.test {
            "look" => item.facts.look.as_ref().map(|look| look.at),
            test => item.facts.tests.iter().rev().find(|own| own.test == test).map(|own| own.at),
        };
        let days = last.map_or(age_days, |at| now.duration_since(at).as_hours() / 24);
        // The first test of an iron solution is due at once; a look at a metal stock only when it is old.
        let untested = last.is_none() && row.test != "look";
        if untested || days as f64 >= row.days {
            due.push(Due::Test(row.test, row.advice));
        }
        for test in TESTS.iter().filter(|test| row.fresh.contains(&test.name)) {
            if !item.facts.tests.iter().any(|own| own.test == test.name) {
                due.push(Due::Test(test.name, test.how));
            }
        }
    }
    due
}

fn notices(
    all: &Shelf,
    item: &Item,
    formula: Option<&Formula>,
    held: &Held,
    balances: &Balances,
    kept: Option<(&'static Keeping, Timestamp)>,
) -> Vec<Notice> {
    let mut notices = Vec::new();
    if let Some((row, since)) =
        kept.filter(|(row, _)| item.kind == ItemKind::Bottle && row.what == Keeps::IronWithChlorate)
    {
        let span = SignedDuration::from_hours(row.days as i64 * 24);
        notices.extend(since.checked_add(span).ok().map(|until| Notice::ChlorateInIron(Day::of_instant(until))));
    }
    if item.facts.look.as_ref().is_some_and(|look| !look.clear) {
        notices.push(Notice::Sediment);
    }
    // Of each test the last time counts: a passed fog strip says nothing of iron(II).
    for (place, test) in item.facts.tests.iter().enumerate() {
        let later = item.facts.tests.iter().skip(place + 1).any(|other| other.test == test.test);
        if !test.passed && !later {
            notices.push(Notice::TestFailed(test.test.clone()));
        }
    }
    if held.contents.tally().is_zero() {
        notices.push(Notice::Empty);
    }
    if item.kind == ItemKind::Jar {
        let holds_some = |other: &&Item| held_mass(other, balances).is_some_and(|mass| !mass.is_zero());
        let mut vials =
            all.here().filter(|other| other.kind == ItemKind::Vial && other.facts.formula == item.facts.formula);
        let first = vials.find(holds_some);
        notices.extend(first.map(|vial| Notice::UseFirst(vial.name.clone())));
    }
    let unknown = formula.is_none_or(|formula| kept_metal(formula).is_some()) && held.metal.is_none();
    if unknown && !held.contents.tally().is_zero() {
        notices.push(Notice::StrengthUnknown);
    }
    if item.facts.cost_incomplete {
        notices.push(Notice::CostIncomplete);
    }
    notices
}
