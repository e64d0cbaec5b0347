//! A bottle is thinned, divided, or filled up from another.

use handcoat_book::{Deed, Facts, Item};
use handcoat_craft::ledger::{Account, Draft, ItemKind};
use handcoat_craft::measure::{Readable, Uncertain, Volume};
use handcoat_craft::stock::{Gauge, kept_metal, thinned_u};

use super::content::{Contents, Held, account_of, body, fill, fresh, millilitres, take, together};
use super::find::Shelf;
use super::solution::{poured_together, same_solutes, thinned};
use crate::stock::needed;
use crate::{Done, Moment, Question, Refusal, Remedy, Studio};

/// Water is added to a bottle.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
#[allow(missing_docs, reason = "each field answers the question of the same name")]
pub struct Dilute {
    pub bottle: Option<String>,
    pub water: Option<String>,
}

/// A part of a bottle goes into a new one.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
#[allow(missing_docs, reason = "each field answers the question of the same name")]
pub struct Split {
    pub bottle: Option<String>,
    pub volume: Option<String>,
    pub name: Option<String>,
}

/// One bottle is filled up from another.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
#[allow(missing_docs, reason = "each field answers the question of the same name")]
pub struct Pour {
    pub from: Option<String>,
    pub into: Option<String>,
    /// All of it when left open.
    pub volume: Option<String>,
}

fn volume(about: Question, text: &str) -> Result<Volume, Refusal> {
    let volume = Volume::read(text).map_err(|error| Refusal::quantity(about, Volume::FORMS, &error))?;
    if volume.is_zero() {
        let cause = String::from("nothing poured changes nothing");
        return Err(Refusal::rule("nothing_asked", about, cause, vec![Remedy::Write(about, "5mL".into())]));
    }
    Ok(volume)
}

/// Standard uncertainty of a measured pour, in nanolitres.
fn pour_u(volume: Volume) -> Option<f64> {
    Gauge::Measured(volume).volume().ok().map(|own| own.standard() * 1e6)
}

/// Thins a bottle with water: the metal stays, the volume grows.
///
/// # Errors
/// [`Refusal`] when an answer cannot be read or the bottle would overflow its own size.
pub fn dilute(studio: &mut Studio, moment: &Moment, answers: &Dilute) -> Result<Done, Refusal> {
    let water = volume(Question::Water, needed(Question::Water, answers.water.as_ref(), "2.5mL")?)?;
    let acted = studio.book.act(&moment.asked(answers)?, "dilute", |acting| {
        let shelf = Shelf::now(acting)?;
        let text = needed(Question::Item, answers.bottle.as_ref(), "palladium stock")?;
        let bottle = shelf.find_kind(Question::Item, &[ItemKind::Bottle], text)?;
        let balances = acting.balances_of([account_of(bottle)])?;
        let held = Held::of(bottle, &balances);
        let Contents::Solution(before) = held.contents else {
            return Err(Refusal::rule(
                "item_of_another_kind",
                Question::Bottle,
                format!("{} holds powder", bottle.name),
                Vec::new(),
            ));
        };
        let after = before.plus(water).map_err(|error| Refusal::bounds(Question::Water, &error))?;
        fits(bottle, after)?;
        let mut changed = bottle.clone();
        // The strength is now known as well as it was, and as the water was measured.
        let known = Uncertain::new(before, changed.facts.contents_u.unwrap_or(0.0) * 1e-6);
        let added = Uncertain::new(water, pour_u(water).unwrap_or(0.0) * 1e-6);
        changed.facts.strength_rel_u = changed.facts.strength_rel_u.map(|own| thinned_u(own, known, added));
        thinned(&mut changed.facts, known, Some(added));
        changed.facts.contents_u = together(changed.facts.contents_u, pour_u(water));
        changed.facts.density_g_per_ml = None;
        changed.facts.label = None;
        acting.change_item(&changed)?;
        let mut draft = Draft::default();
        fill(&mut draft, bottle, Contents::Solution(water));
        let said = vec![
            format!("Added {} of water to {}: {} now.", millilitres(water), bottle.name, millilitres(after)),
            "Print a new label for it.".into(),
        ];
        Ok::<_, Refusal>(Deed { body: body(bottle, &said), entry: acting.admit(draft)? })
    })?;
    Ok(Done::of(&acted))
}

/// Divides a bottle: a part of it, with its metal and money, becomes a bottle of its own.
///
/// # Errors
/// [`Refusal`] when an answer cannot be read or the bottle holds less.
pub fn split(studio: &mut Studio, moment: &Moment, answers: &Split) -> Result<Done, Refusal> {
    let part = volume(Question::Measured, needed(Question::Measured, answers.volume.as_ref(), "10mL")?)?;
    let acted = studio.book.act(&moment.asked(answers)?, "split", |acting| {
        let shelf = Shelf::now(acting)?;
        let text = needed(Question::Item, answers.bottle.as_ref(), "palladium stock")?;
        let bottle = shelf.find_kind(Question::Item, &[ItemKind::Bottle], text)?;
        let balances = acting.balances_of([account_of(bottle)])?;
        let draw = take(&balances, bottle, Contents::Solution(part), Question::Measured)?;
        let name = shelf.name_for(answers.name.as_deref(), &bottle.name)?;
        let facts = Facts {
            contents_u: pour_u(part),
            empty_ug: None,
            full_ug: None,
            capacity_nl: None,
            made_of: vec![bottle.number.get()],
            price: None,
            ..bottle.facts.clone()
        };
        let other = acting.add_item(ItemKind::Bottle, &name, &facts)?;
        let other = fresh(acting, other)?;
        let mut draft = Draft::default();
        draw.post(&mut draft, account_of(&other), Account::Used);
        fill(&mut draft, &other, Contents::Solution(part));
        let mut changed = bottle.clone();
        changed.facts.contents_u = together(changed.facts.contents_u, pour_u(part));
        acting.change_item(&changed)?;
        let said = vec![format!("{} of {} is now {name}.", millilitres(part), bottle.name)];
        Ok::<_, Refusal>(Deed { body: body(&other, &said), entry: acting.admit(draft)? })
    })?;
    Ok(Done::of(&acted))
}

/// Fills one bottle up from another of the same solid.
///
/// # Errors
/// [`Refusal`] when an answer cannot be read, a bottle holds less, the other would overflow, or they hold different solids.
pub fn pour(studio: &mut Studio, moment: &Moment, answers: &Pour) -> Result<Done, Refusal> {
    let acted = studio.book.act(&moment.asked(answers)?, "pour", |acting| {
        let shelf = Shelf::now(acting)?;
        let from = needed(Question::From, answers.from.as_ref(), "old stock")?;
        let from = shelf.find_kind(Question::From, &[ItemKind::Bottle], from)?;
        let into = needed(Question::Into, answers.into.as_ref(), "palladium stock")?;
        let into = shelf.find_kind(Question::Into, &[ItemKind::Bottle], into)?;
        let balances = acting.balances_of([from, into].map(account_of))?;
        if from.number == into.number {
            let cause = format!("{} is named twice", from.name);
            return Err(Refusal::rule("item_named_twice", Question::Into, cause, vec![Remedy::ShowShelf]));
        }
        if from.facts.formula != into.facts.formula {
            let solid = |item: &Item| item.facts.formula.clone().unwrap_or_else(|| "something unknown".into());
            let cause = format!(
                "{} holds {} and {} holds {}; what is mixed for one print is a coat, not a stock",
                from.name,
                solid(from),
                into.name,
                solid(into)
            );
            return Err(Refusal::rule("salts_differ", Question::Into, cause, vec![Remedy::ShowShelf]));
        }
        let unknown = |item: &Item| {
            let metal = item.facts.formula.as_deref().and_then(|text| text.parse().ok());
            item.facts.metal.is_none() && metal.is_none_or(|formula| kept_metal(&formula).is_some())
        };
        if unknown(from) != unknown(into) {
            let nameless = if unknown(from) { from } else { into };
            let cause = format!("the strength of {} is unknown; poured together neither would be known", nameless.name);
            return Err(Refusal::rule("contents_unknown", Question::Into, cause, vec![Remedy::ShowShelf]));
        }
        same_solutes(from, into)?;
        let poured = match answers.volume.as_deref() {
            Some(text) => Contents::Solution(volume(Question::Measured, text)?),
            None => Held::of(from, &balances).contents,
        };
        if poured.tally().is_zero() {
            let cause = format!("{} is empty; there is nothing to pour", from.name);
            return Err(Refusal::rule("nothing_asked", Question::From, cause, vec![Remedy::ShowShelf]));
        }
        let draw = take(&balances, from, poured, Question::Measured)?;
        let (Contents::Solution(more), Contents::Solution(before)) = (poured, Held::of(into, &balances).contents)
        else {
            return Err(Refusal::rule(
                "item_of_another_kind",
                Question::Into,
                "a bottle holds powder".into(),
                Vec::new(),
            ));
        };
        let after = before.plus(more).map_err(|error| Refusal::bounds(Question::Measured, &error))?;
        fits(into, after)?;
        let mut draft = Draft::default();
        draw.post(&mut draft, account_of(into), Account::Used);
        fill(&mut draft, into, poured);
        let mut filled = into.clone();
        // No better known than the worse of the two; unknown when either is.
        filled.facts.strength_rel_u =
            into.facts.strength_rel_u.zip(from.facts.strength_rel_u).map(|(one, other)| one.max(other));
        filled.facts.contents_u = together(into.facts.contents_u, pour_u(more));
        filled.facts.cost_incomplete |= from.facts.cost_incomplete;
        poured_together(&mut filled.facts, before, &from.facts, more);
        // What was wrong with one is wrong with both, and what has to rest rests.
        if from.facts.look.as_ref().is_some_and(|look| !look.clear) {
            filled.facts.look = from.facts.look.clone();
        }
        filled.facts.tests.extend(from.facts.tests.last().filter(|test| !test.passed).cloned());
        filled.facts.ready_after = into.facts.ready_after.max(from.facts.ready_after);
        filled.facts.hazards = into.facts.hazards.clone().or_else(|| from.facts.hazards.clone());
        filled.facts.density_g_per_ml = None;
        filled.facts.label = None;
        filled.facts.made_of.push(from.number.get());
        acting.change_item(&filled)?;
        let mut left = from.clone();
        left.facts.contents_u = together(from.facts.contents_u, pour_u(more));
        acting.change_item(&left)?;
        let said = vec![
            format!("Poured {} from {} into {}: {} now.", millilitres(more), from.name, into.name, millilitres(after)),
            "Print a new label for it.".into(),
        ];
        Ok::<_, Refusal>(Deed { body: body(into, &said), entry: acting.admit(draft)? })
    })?;
    Ok(Done::of(&acted))
}

/// Whether so much goes into a bottle of known size.
fn fits(bottle: &Item, volume: Volume) -> Result<(), Refusal> {
    let Some(capacity) = bottle.facts.capacity_nl.and_then(|own| Volume::nanolitres(own).ok()) else { return Ok(()) };
    if volume <= capacity {
        return Ok(());
    }
    let cause =
        format!("{} holds {} and would have to hold {}", bottle.name, millilitres(capacity), millilitres(volume));
    let largest = Remedy::LargerBottle(millilitres(volume));
    Err(Refusal::rule("bottle_overflows", Question::Item, cause, vec![largest]))
}
