//! What is really there, against what the book says.

use handcoat_book::{Deed, Item};
use handcoat_craft::ledger::{Account, Commodity, Draft, ItemKind, share};
use handcoat_craft::measure::{COVERAGE, Level, Mass, MassDensity, Uncertain, Volume, significant, with_uncertainty};
use handcoat_craft::stock::{Balance, Gauge};
use serde_json::json;

use super::content::{Contents, Held, account_of, body, contents_of, take};
use super::find::Shelf;
use super::receive::gauge_refusal;
use super::solution::concentrated;
use crate::stock::{needed, read, read_balance, read_weighing};
use crate::{Done, Moment, Question, Refusal, Remedy, Studio};

/// A count: one of the ways to say how much there is.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
#[allow(missing_docs, reason = "each field answers the question of the same name")]
pub struct Count {
    pub item: Option<String>,
    /// Net mass of a powder; `8.12g-2.20g` is load less tare.
    pub mass: Option<String>,
    pub volume: Option<String>,
    pub level: Option<String>,
    /// Bottle and contents together.
    pub gross: Option<String>,
    pub balance: Option<String>,
    /// What is missing is water that went off: the metal is still there.
    pub evaporated: bool,
}

/// What was found, in the unit of the contents (µg or nL), with its standard uncertainty.
struct Found {
    contents: Contents,
    standard: f64,
    words: String,
}

/// Takes stock of one item.
///
/// A count that agrees with the book within both uncertainties (k = 2) moves nothing and is kept as agreed; a sharp one leaves the
/// book less in doubt. Otherwise
/// the difference, with its metal and money in proportion, goes to or comes from *unexplained*; with `evaporated` only the volume
/// changes and the stock is stronger.
///
/// # Errors
/// [`Refusal`] when an answer cannot be read, or the bottle's own weight or size is needed and not known.
pub fn count(studio: &mut Studio, moment: &Moment, answers: &Count) -> Result<Done, Refusal> {
    let acted = studio.book.act(&moment.asked(answers)?, "count", |acting| {
        let shelf = Shelf::now(acting)?;
        let item = shelf.find(Question::Item, needed(Question::Item, answers.item.as_ref(), "palladium stock")?)?;
        let balances = acting.balances_of([account_of(item)])?;
        let held = Held::of(item, &balances);
        let found = found(item, answers)?;
        let (book, there) = (held.contents.tally().to_units(), found.contents.tally().to_units());
        let tolerance = 2.0 * item.facts.contents_u.unwrap_or(0.0).hypot(found.standard);
        let agrees = (book - there).abs() as f64 <= tolerance;
        let mut said =
            vec![format!("{}: the book says {}, found {}.", item.name, held.words(&item.facts), found.words)];
        let mut draft = Draft::default();
        let mut changed = item.clone();
        if agrees {
            said.push("They agree within what is known; nothing is moved.".into());
            // What the book says stays, so what it differs by is part of how far it may be off.
            let standard = found.standard.hypot((book - there) as f64);
            if item.facts.contents_u.is_some_and(|known| standard < known) {
                changed.facts.contents_u = Some(standard);
                said.push(format!("The amount is known better now, to ± {}.", off_by(item.kind, standard)));
            }
        } else {
            let missing = Contents::of(item.kind, (book - there).abs());
            if answers.evaporated {
                evaporate(item, book, book - there, &mut draft)?;
                changed.facts.strength_rel_u = concentrated_u(&changed.facts, held.contents, &found);
                concentrated(&mut changed.facts, book, there);
                said.push(format!(
                    "{} of water went off; the metal is all there and the stock is stronger.",
                    missing.words()
                ));
                changed.facts.label = None;
                changed.facts.density_g_per_ml = None;
                changed.facts.density_u_g_per_ml = None;
            } else if there < book {
                take(&balances, item, missing, Question::Item)?.post(
                    &mut draft,
                    Account::Unexplained,
                    Account::Unexplained,
                );
                said.push(format!("{} are missing and stand as unexplained.", missing.words()));
            } else {
                let account = account_of(item);
                let mut again = false;
                for (commodity, total) in balances.held_by(account) {
                    // What is found over is of the same mixture as what is there.
                    let more = match commodity {
                        Commodity::Contents(..) => missing.tally(),
                        _ => share(total, missing.tally(), held.contents.tally()),
                    };
                    draft.move_from(Account::Unexplained, account, commodity, more);
                }
                if book == 0 {
                    draft.move_from(Account::Unexplained, account, contents_of(item), missing.tally());
                    again = item.facts.metal.is_some();
                }
                said.push(format!("{} more than the book knew; they stand as unexplained.", missing.words()));
                if again {
                    said.push(
                        "How much metal is in it is not known, for the book had it as empty; metal that an earlier count missed stays unexplained."
                            .into(),
                    );
                }
            }
            changed.facts.contents_u = Some(found.standard);
        }
        acting.change_item(&changed)?;
        let mut body = body(item, &said);
        body["agrees"] = json!(agrees);
        Ok::<_, Refusal>(Deed { body, entry: acting.admit(draft)? })
    })?;
    Ok(Done::of(&acted))
}

/// How far it may be off (k = 2), with its unit; two digits say enough of that.
fn off_by(kind: ItemKind, standard: f64) -> String {
    let unit = if kind == ItemKind::Bottle { "mL" } else { "g" };
    format!("{} {unit}", significant(standard * COVERAGE / 1e6, 2))
}

/// Metal over less water: known as well as it was, as the volume was, and as what was found is.
fn concentrated_u(facts: &handcoat_book::Facts, before: Contents, found: &Found) -> Option<f64> {
    let part = |standard: f64, contents: Contents| standard / contents.tally().to_units().max(1) as f64;
    let volumes = part(facts.contents_u.unwrap_or(0.0), before).hypot(part(found.standard, found.contents));
    facts.strength_rel_u.map(|own| own.hypot(volumes))
}

fn evaporate(item: &Item, book: i64, missing: i64, draft: &mut Draft) -> Result<(), Refusal> {
    let about = Question::Evaporated;
    if item.kind != ItemKind::Bottle {
        let cause = format!("{} holds powder; powder does not evaporate", item.name);
        return Err(Refusal::rule("item_of_another_kind", about, cause, vec![Remedy::LeaveOut(about)]));
    }
    if missing < 0 {
        let cause = String::from("there is more than the book says; nothing went off");
        return Err(Refusal::rule("more_than_book", about, cause, vec![Remedy::LeaveOut(about)]));
    }
    if missing >= book {
        let cause = format!("{} cannot dry up to nothing: its metal is still in it", item.name);
        let remedies = vec![Remedy::LeaveOut(about), Remedy::Write(Question::Measured, "0.5mL".into())];
        return Err(Refusal::rule("dried_to_nothing", about, cause, remedies));
    }
    let contents = Contents::of(item.kind, missing);
    draft.move_from(account_of(item), Account::Used, contents_of(item), contents.tally());
    Ok(())
}

fn found(item: &Item, answers: &Count) -> Result<Found, Refusal> {
    let balance = read_balance(answers.balance.as_ref())?;
    match item.kind {
        ItemKind::Jar | ItemKind::Vial => powder(item, answers, balance),
        ItemKind::Bottle => solution(item, answers, balance),
    }
}

fn powder(item: &Item, answers: &Count, balance: Option<Balance>) -> Result<Found, Refusal> {
    let mass =
        match (read_weighing(Question::JarMass, answers.mass.as_ref())?, answers.gross.as_ref(), item.facts.empty_ug) {
            (Some(mass), ..) => mass,
            (None, Some(gross), Some(empty)) => {
                let gross = read::<Mass>(Question::Gross, Some(gross))?.unwrap_or(Mass::ZERO);
                let empty = Mass::micrograms(empty).unwrap_or(Mass::ZERO);
                gross.less(empty).ok_or_else(|| {
                    gauge_refusal(&handcoat_craft::stock::GaugeError::LighterThanEmpty { gross, empty })
                })?
            }
            (None, Some(_), None) => {
                let cause = format!("the empty weight of {} is not known", item.name);
                let remedies = vec![Remedy::Write(Question::JarMass, "8.12g-2.20g".into())];
                return Err(Refusal::rule("empty_weight_unknown", Question::Gross, cause, remedies));
            }
            (None, None, _) => return Err(missing(&[Question::JarMass, Question::Gross])),
        };
    let standard = balance.map_or(0.0, |balance| balance.weighing(mass).standard() * 1e6);
    let words = match balance {
        Some(_) => format!("{} g", with_uncertainty(&Uncertain::new(mass, standard * 1e-6))),
        None => Contents::Powder(mass).words(),
    };
    Ok(Found { contents: Contents::Powder(mass), standard, words })
}

fn solution(item: &Item, answers: &Count, balance: Option<Balance>) -> Result<Found, Refusal> {
    let facts = &item.facts;
    let gauge = if let Some(volume) = read::<Volume>(Question::Measured, answers.volume.as_ref())? {
        Gauge::Measured(volume)
    } else if let Some(level) = read::<Level>(Question::Level, answers.level.as_ref())? {
        let capacity = facts.capacity_nl.and_then(|own| Volume::nanolitres(own).ok()).ok_or_else(|| {
            let cause = format!("how much {} holds when full is not known", item.name);
            let remedies = vec![Remedy::AnswerOneOf(vec![Question::Measured, Question::Gross])];
            Refusal::rule("capacity_unknown", Question::Level, cause, remedies)
        })?;
        Gauge::ByEye(level, capacity)
    } else if let Some(gross) = read::<Mass>(Question::Gross, answers.gross.as_ref())? {
        let empty = facts.empty_ug.and_then(|own| Mass::micrograms(own).ok()).ok_or_else(|| {
            let cause = format!("the empty weight of {} is not known", item.name);
            let remedies = vec![Remedy::AnswerOneOf(vec![Question::Measured, Question::Level])];
            Refusal::rule("empty_weight_unknown", Question::Gross, cause, remedies)
        })?;
        let density = facts
            .density_g_per_ml
            .and_then(|own| MassDensity::grams_per_millilitre(own).ok())
            .map(|best| Uncertain::new(best, facts.density_u_g_per_ml.unwrap_or(0.0)));
        Gauge::ByWeight { gross, empty, density, balance }
    } else {
        return Err(missing(&[Question::Measured, Question::Level, Question::Gross]));
    };
    let volume = gauge.volume().map_err(|error| gauge_refusal(&error))?;
    Ok(Found {
        contents: Contents::Solution(volume.best),
        standard: volume.standard() * 1e6,
        words: format!("{} mL", with_uncertainty(&volume)),
    })
}

fn missing(one_of: &[Question]) -> Refusal {
    let cause = String::from("it is not said how much was found");
    Refusal::unreadable("amount_missing", one_of[0], cause, vec![Remedy::AnswerOneOf(one_of.to_vec())])
}
