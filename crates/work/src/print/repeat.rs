//! The same print again, with today's bottles.
//!
//! What makes the picture is kept: metal and iron to the coated area, contrast agent to the millilitre of sensitizer, and the time.
//! Bottles differ from those of then in strength, so drops change where metal shall not; whole drops leave a rest, which is said.

use handcoat_book::{Dissolved, Item, RecordKind};
use handcoat_craft::ledger::Balances;
use handcoat_craft::measure::{Area, Length, MassConcentration, RelativeHumidity, Size, Volume, fixed};
use handcoat_craft::print::Change;
use handcoat_craft::source::{Condition, DOSE_ROUNDED, MOST_UNDER};
use handcoat_craft::stock::concentration;
use jiff::Timestamp;

use super::compare::still_stands;
use super::conditions;
use super::pour::dropper_for;
use super::sheet::{Pour, PrintSheet, coated_area};
use super::view::print_record;
use crate::shelf::{Contents, Held, account_of, millilitres};
use crate::stock::read;
use crate::{Question, Refusal, Remedy, Studio};

/// What is asked of a repeat.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
#[allow(missing_docs, reason = "each field answers the question of the same name")]
pub struct Repeat {
    pub print: Option<String>,
    /// Another size of the image.
    pub image: Option<String>,
    /// Another margin.
    pub margin: Option<String>,
    /// The humidity of the room today.
    pub room_humidity: Option<String>,
}

/// One solution of the repeat.
#[derive(Clone, Debug, PartialEq)]
pub struct Again {
    /// What was poured then.
    pub then: (String, Option<u32>, Volume),
    /// The bottle of today; none where none is on the shelf.
    pub bottle: Option<String>,
    /// What it does: `iron`, `metal`, `agent`, `other`.
    pub role: String,
    /// Whole drops.
    pub drops: u32,
    /// What that comes to.
    pub volume: Volume,
    /// What whole drops leave over or under, as a part.
    pub off: f64,
    /// How today's strength stands to that of then, as a ratio; none where one of them is unknown.
    pub strength: Option<f64>,
    /// What should be known.
    pub notices: Vec<String>,
}

/// The same print again.
#[derive(Clone, Debug, PartialEq)]
pub struct Repeated {
    /// Which.
    pub print: (u32, String),
    /// Size and coated area of then.
    pub area_then: Option<Area>,
    /// Coated area now.
    pub area: Option<Area>,
    /// Size of the image now, as it was written.
    pub image: Option<String>,
    /// Its margin, likewise.
    pub margin: Option<String>,
    /// Solutions in the order they were dropped.
    pub solutions: Vec<Again>,
    /// The time to begin with.
    pub time: Option<String>,
    /// What changed since then that the time stands on.
    pub changed: Vec<Change>,
    /// What it stands on that is not known.
    pub unknown: Vec<Condition>,
    /// What cannot be equal any more.
    pub unequal: Vec<String>,
}

/// Plans a repeat.
///
/// # Errors
/// [`Refusal`] when there is no such print, or an answer cannot be read.
pub fn repeat(studio: &Studio, answers: &Repeat, now: Timestamp) -> Result<Repeated, Refusal> {
    let written = answers.print.as_ref().ok_or_else(|| Refusal::missing(Question::Print, "1"))?;
    let room = read::<RelativeHumidity>(super::record::question("room_humidity"), answers.room_humidity.as_ref())?;
    let record = print_record(studio, written)?;
    let sheet = PrintSheet::of(&record)?;
    let area_then = sheet.area()?;
    let image = read::<Size>(Question::Image, answers.image.as_ref())?;
    let margin = read::<Length>(super::record::question("margin"), answers.margin.as_ref())?;
    if image.is_some_and(Size::is_empty) {
        let about = Question::Image;
        let cause = "an image without a side takes no drop".into();
        return Err(Refusal::rule("nothing_asked", about, cause, vec![Remedy::Write(about, "8x10in".into())]));
    }
    let area = new_area(&sheet, image, margin)?;
    let mut unequal = Vec::new();
    let scale = match (area_then, area) {
        (Some(then), Some(now)) => now.to_square_centimetres() / then.to_square_centimetres(),
        (None, _) if answers.image.is_some() || answers.margin.is_some() => {
            unequal.push("The coated area of then is not known: drops are those of then, for the size of then.".into());
            1.0
        }
        _ => 1.0,
    };
    let items = studio.book.items_here()?;
    let balances = studio.book.balances_of(items.iter().map(account_of))?;
    let droppers = studio.book.records(RecordKind::Dropper)?;
    let mut solutions = Vec::new();
    for pour in &sheet.pours {
        let own = again(pour, scale, &items, &balances, &droppers);
        unequal.extend(own.notices.iter().filter(|_| own.bottle.is_none()).cloned());
        let name = own.bottle.as_deref().unwrap_or(&own.then.0);
        if own.off.abs() > DOSE_ROUNDED.value {
            let more = if own.off > 0.0 { "more" } else { "less" };
            let part = fixed(own.off.abs() * 100.0, 0);
            unequal.push(format!(
                "Whole drops of {name} are {part} % {more} than then; a weaker solution of it would be nearer."
            ));
        }
        if let Some(strength) = own.strength.filter(|own| (own - 1.0).abs() > DOSE_ROUNDED.value) {
            let part = fixed(strength * 100.0, 0);
            unequal.push(format!(
                "{name} has {part} % of the strength of then: the drops follow it, and with them the water."
            ));
        }
        solutions.push(own);
    }
    let coats = sheet.coats.len().max(sheet.fields().whole("coats").map_or(0, |own| own as usize));
    if coats > 1 {
        unequal.push(format!(
            "It had {coats} coats: the drops stand in the order they were poured, and water in them is not written down."
        ));
    }
    if sheet.pours.is_empty() {
        unequal.push("What was poured is not known.".into());
    }
    if scale.max(1.0 / scale) > FAR_FROM {
        unequal.push(format!("The area is {:.1} times that of then: past what was tried, make a strip first.", scale));
    }
    let fields = sheet.fields();
    let written_or = |answer: Option<&String>, key: &str| {
        answer.map(|own| own.trim().to_owned()).or_else(|| fields.text(key).map(String::from))
    };
    let stands = still_stands(studio, written, now, room)?;
    Ok(Repeated {
        print: (record.ordinal, record.name.clone()),
        area_then,
        area,
        image: written_or(answers.image.as_ref(), "image"),
        margin: written_or(answers.margin.as_ref(), "margin"),
        solutions,
        time: stands.time,
        changed: stands.changed,
        unknown: stands.unknown,
        unequal,
    })
}

/// Past this ratio of areas drying and evenness are another matter.
const FAR_FROM: f64 = handcoat_craft::source::AREA_TRIED.value;

fn new_area(sheet: &PrintSheet, image: Option<Size>, margin: Option<Length>) -> Result<Option<Area>, Refusal> {
    let fields = sheet.fields();
    let image = match image {
        Some(image) => Some(image),
        None => conditions::image(sheet)?,
    };
    let margin = match margin {
        Some(margin) => Some(margin),
        None => fields.quantity::<Length>("margin")?,
    };
    let Some(size) = image else { return sheet.area() };
    let area = coated_area(size, margin).map_err(|error| Refusal::bounds(Question::Image, &error))?;
    Ok(Some(area).filter(|own| own.to_square_centimetres() > 0.0))
}

/// What a bottle without metal is named after, as it is dissolved in it.
fn main_of(item: &Item) -> Option<&Dissolved> {
    let dissolved = &item.facts.dissolved;
    dissolved.iter().find(|own| Some(&own.formula) == item.facts.formula.as_ref()).or(dissolved.first())
}

/// What else is dissolved in a bottle than what it is named after.
fn beside(item: &Item) -> Vec<&str> {
    let main = main_of(item).map(|own| &own.formula);
    let others = item.facts.dissolved.iter().filter(|own| Some(&own.formula) != main);
    let mut formulas: Vec<&str> = others.map(|own| own.formula.as_str()).collect();
    formulas.sort_unstable();
    formulas
}

/// The same of a pour.
fn beside_then(pour: &Pour) -> Vec<&str> {
    let mut formulas: Vec<&str> = pour.also.iter().map(|own| own.formula.as_str()).collect();
    formulas.sort_unstable();
    formulas
}

/// Metal to the volume in a pour.
fn strength_of(pour: &Pour) -> Option<MassConcentration> {
    concentration(pour.metal_mass()?, pour.volume())
}

fn again(pour: &Pour, scale: f64, items: &[Item], balances: &Balances, droppers: &[handcoat_book::Record]) -> Again {
    let holds = |item: &Item| match Held::of(item, balances).contents {
        Contents::Solution(volume) => volume,
        Contents::Powder(_) => Volume::ZERO,
    };
    let here = |item: &&Item| !holds(item).is_zero();
    let same = items.iter().filter(here).find(|item| item.number.get() == pour.item);
    // A bottle of the same solid stands in only with the same things beside it: iron with chlorate is not plain iron.
    let alike = |item: &&Item| {
        pour.formula.is_some() && item.facts.formula == pour.formula && beside(item) == beside_then(pour)
    };
    let like = || items.iter().filter(here).rev().find(alike);
    let bottle = same.or_else(like);
    let mut notices = Vec::new();
    let strength = bottle.and_then(|item| {
        if pour.metal.is_some() {
            let now = concentration(Held::of(item, balances).metal?.1, holds(item))?;
            return Some(now.to_milligrams_per_millilitre() / strength_of(pour)?.to_milligrams_per_millilitre());
        }
        Some(main_of(item)?.percent / pour.percent.filter(|then| *then > 0.0)?)
    });
    // What is in it stays to the area as it was: of a weaker bottle more drops. Where strengths are unknown the volume stays.
    let need = pour.volume().to_millilitres() * scale / strength.unwrap_or(1.0);
    let per_ml = dropper_for(droppers, bottle.map_or(pour.name.as_str(), |item| item.name.as_str()))
        .per_ml
        .best
        .to_per_millilitre();
    let drops = whole_drops(need * per_ml);
    let volume = Volume::millilitres(f64::from(drops) / per_ml).unwrap_or(Volume::ZERO);
    let off = if need > 0.0 { volume.to_millilitres() / need - 1.0 } else { 0.0 };
    match bottle {
        None => {
            notices.push(format!("No bottle of {} is on the shelf.", pour.formula.as_deref().unwrap_or(&pour.name)))
        }
        Some(item) => {
            if item.number.get() != pour.item {
                notices.push(format!("{} stands in for {}, which is not on the shelf.", item.name, pour.name));
            }
            if strength.is_none() && (pour.metal.is_some() || item.number.get() != pour.item) {
                notices.push(format!("How strong {} is beside {} is not known.", item.name, pour.name));
            }
            let there = holds(item);
            if there < volume {
                notices.push(format!(
                    "{} holds {} and {} are needed.",
                    item.name,
                    millilitres(there),
                    millilitres(volume)
                ));
            }
        }
    }
    Again {
        then: (pour.name.clone(), pour.drops, pour.volume()),
        bottle: bottle.map(|item| item.name.clone()),
        role: pour.role.clone(),
        drops,
        volume,
        off,
        strength,
        notices,
    }
}

/// Whole drops, never more than a fiftieth under what is needed.
fn whole_drops(need: f64) -> u32 {
    let nearest = need.round();
    let drops = if nearest < need * (1.0 - MOST_UNDER.value) { need.ceil() } else { nearest };
    drops.clamp(1.0, 1e5) as u32
}
