//! Solutions out of bottles onto a sheet.
//!
//! What was poured was poured, whatever the book says the bottle held: the part beyond is posted as a stocktake difference, so that
//! no bottle goes below nothing and nothing that was done is lost.

use handcoat_book::{Acting, Dissolved, Item, PostError, Record, RecordKind};
use handcoat_craft::ledger::{Account, Balances, Commodity, Draft, ItemKind, ItemNumber, Tally, share};
use handcoat_craft::measure::{DropsPerMillilitre, Mass, Money, Readable, Volume, shortened};
use handcoat_craft::paper::Dropper;
use handcoat_craft::source::TELLING_METAL;
use handcoat_craft::stock::{Formula, concentration};
use jiff::Timestamp;

use super::sheet::{Also, Pour};
use crate::coat::{dropper_of, percent_as_named, said_beside};
use crate::role::Role;
use crate::shelf::{Contents, Held, Shelf, account_of, contents_of, millilitres, take};
use crate::stock::{read, read_hydrate};
use crate::{Question, Refusal, Remedy};

/// What pouring came to.
#[derive(Clone, Debug, Default)]
pub(crate) struct PouredAll {
    pub(crate) pours: Vec<Pour>,
    pub(crate) cost: Vec<Money>,
    pub(crate) cost_incomplete: bool,
    pub(crate) said: Vec<String>,
}

/// Pours what is written, each as `BOTTLE=23` drops or `BOTTLE=1.15mL`, onto `to`.
pub(crate) fn pour_all(
    acting: &Acting<'_>,
    written: &[String],
    drops_per_ml: Option<&String>,
    at: Timestamp,
    to: Account,
    draft: &mut Draft,
) -> Result<PouredAll, Refusal> {
    let shelf = Shelf::now(acting)?;
    let mut balances = acting.balances_of(shelf.here().map(account_of))?;
    let droppers = acting.records(RecordKind::Dropper)?;
    let stated = read::<DropsPerMillilitre>(Question::DropSize, drops_per_ml)?;
    let mut all = PouredAll::default();
    for text in written {
        let (bottle, drops, volume, drop_rel_u) = amount(&shelf, &droppers, stated, text)?;
        let mut own = Draft::default();
        let (mut pour, cost, said) = one(&balances, bottle, volume, to, &mut own)?;
        pour.drops = drops;
        // The drop and the strength are off apart from each other. Of a measured volume only the strength is known.
        let strength = bottle.facts.strength_rel_u.filter(|_| pour.metal_ug.is_some());
        pour.metal_rel_u = strength.map(|own| own.hypot(drop_rel_u));
        pour.age_days = bottle.facts.day.as_deref().and_then(|day| age(day, at));
        // The next pour may be of the same bottle: it finds what this one left.
        let entry = own.settle().map_err(PostError::Unsettled)?;
        balances.apply(&entry).map_err(|error| {
            Refusal::rule(
                "value_out_of_bounds",
                Question::Pour,
                error.to_string(),
                vec![Remedy::TakeStock(bottle.name.clone())],
            )
        })?;
        entry.lines().iter().for_each(|line| draft.line(*line));
        add_cost(&mut all.cost, &cost);
        // What was poured beyond the book came without a price.
        all.cost_incomplete |=
            pour.short_nl.is_some() || bottle.facts.cost_incomplete || (cost.is_empty() && pour.metal_ug.is_some());
        all.said.extend(said);
        all.pours.push(pour);
    }
    Ok(all)
}

/// Adds sums, each to the one in its currency.
pub(crate) fn add_cost(all: &mut Vec<Money>, more: &[Money]) {
    for money in more {
        match all.iter_mut().find(|own| own.currency() == money.currency()) {
            Some(own) => *own = own.plus(*money).unwrap_or(*own),
            None => all.push(*money),
        }
    }
}

pub(super) fn age(day: &str, at: Timestamp) -> Option<i64> {
    let day: jiff::civil::Date = day.parse().ok()?;
    let made = jiff::tz::Offset::UTC.to_timestamp(day.at(0, 0, 0, 0)).ok()?;
    Some(at.duration_since(made).as_hours() / 24).filter(|days| *days >= 0)
}

/// The bottle, the drops where they were counted, the volume, and the relative standard uncertainty of a drop.
fn amount<'s>(
    shelf: &'s Shelf,
    droppers: &[Record],
    stated: Option<DropsPerMillilitre>,
    text: &str,
) -> Result<(&'s Item, Option<u32>, Volume, f64), Refusal> {
    let about = Question::Pour;
    let example = || vec![Remedy::Write(about, "palladium stock=23".into())];
    let (name, much) = text.rsplit_once('=').ok_or_else(|| {
        let cause = format!(
            "`{}` does not say a bottle and how much of it; expected `BOTTLE=23` or `BOTTLE=1.15mL`",
            shortened(text)
        );
        Refusal::unreadable("pour_unreadable", about, cause, example())
    })?;
    let bottle = shelf.find_kind(about, &[ItemKind::Bottle], name)?;
    let much = much.trim().trim_end_matches("drops").trim();
    if let Ok(drops) = much.parse::<u32>() {
        if drops == 0 || drops > MOST_DROPS {
            let cause = format!("{drops} drops of {} are no pour; expected 1 to {MOST_DROPS}", bottle.name);
            return Err(Refusal::rule("pour_out_of_bounds", about, cause, example()));
        }
        // What was measured of this bottle goes before a figure for all of them.
        let own = dropper_of(droppers, &bottle.name).map(|own| own.dropper());
        let dropper = own.or(stated.map(Dropper::stated)).unwrap_or_else(Dropper::usual);
        let millilitres = f64::from(drops) * dropper.drop_ml();
        let volume = Volume::millilitres(millilitres).map_err(|error| Refusal::bounds(about, &error))?;
        return Ok((bottle, Some(drops), volume, dropper.relative()));
    }
    let volume = Volume::read(much).map_err(|error| Refusal {
        remedies: vec![
            Remedy::Write(about, format!("{}=23", bottle.name)),
            Remedy::Write(about, format!("{}=1.15mL", bottle.name)),
        ],
        ..Refusal::quantity(about, Volume::FORMS, &error)
    })?;
    if volume.is_zero() {
        let cause = format!("nothing of {} is poured", bottle.name);
        return Err(Refusal::rule("pour_out_of_bounds", about, cause, example()));
    }
    if volume.to_millilitres() > MOST_POUR_ML {
        let cause =
            format!("{} of {} are no pour; expected at most {MOST_POUR_ML} mL", millilitres(volume), bottle.name);
        return Err(Refusal::rule("pour_out_of_bounds", about, cause, example()));
    }
    Ok((bottle, None, volume, 0.0))
}

/// A pour that is written and not poured yet.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct ReadPour {
    pub(crate) item: ItemNumber,
    pub(crate) name: String,
    pub(crate) role: &'static str,
    /// Symbol of its metal.
    pub(crate) metal: Option<String>,
    /// Drops; none where a volume was written.
    pub(crate) drops: Option<u32>,
}

/// Reads a pour without pouring it.
pub(crate) fn read_pour(shelf: &Shelf, droppers: &[Record], text: &str) -> Result<ReadPour, Refusal> {
    let (bottle, drops, _, _) = amount(shelf, droppers, None, text)?;
    let formula: Option<Formula> = bottle.facts.formula.as_deref().and_then(|text| text.parse().ok());
    Ok(ReadPour {
        item: bottle.number,
        name: bottle.name.clone(),
        role: Role::of(formula.as_ref()).word(),
        metal: bottle.facts.metal.as_ref().map(ToString::to_string),
        drops,
    })
}

/// More drops than this on one sheet are a slip, and so is more than they come to.
const MOST_DROPS: u32 = 5000;
const MOST_POUR_ML: f64 = 250.0;

/// The dropper of this bottle, or one that nobody calibrated.
pub(crate) fn dropper_for(droppers: &[Record], bottle: &str) -> Dropper {
    dropper_of(droppers, bottle).map_or_else(Dropper::usual, |own| own.dropper())
}

/// One pour: what the bottle holds first, and what is beyond it from `unexplained`.
fn one(
    balances: &Balances,
    bottle: &Item,
    volume: Volume,
    to: Account,
    draft: &mut Draft,
) -> Result<(Pour, Vec<Money>, Vec<String>), Refusal> {
    let held = Held::of(bottle, balances);
    let there = match held.contents {
        Contents::Solution(own) => own,
        Contents::Powder(_) => Volume::ZERO,
    };
    let (from_bottle, beyond) = parts(volume, there);
    let mut cost = Vec::new();
    let mut metal = Tally::ZERO;
    if !from_bottle.is_zero() {
        let draw = take(balances, bottle, Contents::Solution(from_bottle), Question::Pour)?;
        draw.post(draft, to, Account::Used);
        for &(commodity, tally) in draw.shares() {
            match commodity {
                Commodity::Metal(_) => metal = tally,
                Commodity::Money(currency) => cost.extend(Money::minor(tally.to_units(), currency)),
                Commodity::Contents(..) => {}
            }
        }
    }
    let mut said = Vec::new();
    // Metal was poured, and how much nobody can tell: then it is unknown, and not the little that the book had.
    let mut untold = false;
    if !beyond.is_zero() {
        draft.move_from(Account::Unexplained, Account::Used, contents_of(bottle), beyond.into());
        let telling = |mass: Mass| !there.is_zero() && mass.to_micrograms() >= TELLING_METAL.value;
        let more = held.metal.filter(|(_, mass)| telling(*mass)).map(|(element, mass)| {
            // Of the same strength as the rest of it.
            let extra = beyond_metal(mass, beyond, there);
            draft.move_from(Account::Unexplained, to, Commodity::Metal(element), extra);
            extra
        });
        metal = more.and_then(|extra| metal.plus(extra)).unwrap_or(metal);
        said.push(format!(
            "{} held {} by the book and {} were poured: {} are posted as a stocktake difference.",
            bottle.name,
            millilitres(there),
            millilitres(volume),
            millilitres(beyond)
        ));
        if more.is_none() && bottle.facts.metal.is_some() {
            untold = true;
            said.push(format!(
                "How much metal was in that is not known: the book had {} as all but empty.",
                bottle.name
            ));
        }
    }
    let formula: Option<Formula> = bottle.facts.formula.as_deref().and_then(|text| text.parse().ok());
    let strength = held.metal.and_then(|(_, mass)| concentration(mass, there));
    // In the form its bottle names it, as the plan of a coat has it.
    let hydrate = read_hydrate(bottle.facts.hydrate.as_ref())?;
    let percent = formula
        .as_ref()
        .zip(strength)
        .and_then(|(formula, own)| percent_as_named(formula, said_beside(formula, hydrate), own));
    let percent = percent.map(|own| own.to_grams_per_100_ml());
    // Of what holds no stock of metal the book keeps the grams, of the solid it is named after and of what is dissolved besides.
    let dissolved = &bottle.facts.dissolved;
    let named = |own: &&Dissolved| Some(own.formula.as_str()) == bottle.facts.formula.as_deref();
    let main = dissolved.iter().find(named).or(dissolved.first());
    let also = dissolved.iter().filter(|own| main.is_none_or(|main| main.formula != own.formula));
    let pour = Pour {
        item: bottle.number.get(),
        name: bottle.name.clone(),
        formula: bottle.facts.formula.clone(),
        role: Role::of(formula.as_ref()).word().into(),
        volume_nl: volume.to_nanolitres(),
        metal: held.metal.map(|(element, _)| element.to_string()),
        metal_ug: held.metal.filter(|_| !untold).map(|_| metal.to_units()),
        percent: percent.or(main.map(|own| own.percent)),
        also: also.map(|own| Also { formula: own.formula.clone(), percent: own.percent }).collect(),
        short_nl: (!beyond.is_zero()).then(|| beyond.to_nanolitres()),
        ..Pour::default()
    };
    Ok((pour, cost, said))
}

fn parts(wanted: Volume, there: Volume) -> (Volume, Volume) {
    let (wanted, there) = (wanted.to_nanolitres(), there.to_nanolitres());
    let own = wanted.min(there);
    let volume = |units| Volume::nanolitres(units).unwrap_or(Volume::ZERO);
    (volume(own), volume(wanted - own))
}

/// Metal in so much more of the same solution; the part may be larger than the whole, so it is counted in wholes and a rest.
fn beyond_metal(held: Mass, beyond: Volume, there: Volume) -> Tally {
    let (beyond, there) = (beyond.to_nanolitres(), there.to_nanolitres());
    let wholes = held.to_micrograms().saturating_mul(beyond / there);
    let rest = share(held.into(), Tally::from_units(beyond % there), Tally::from_units(there));
    Tally::from_units(wholes.saturating_add(if beyond % there == 0 { 0 } else { rest.to_units() }))
}
