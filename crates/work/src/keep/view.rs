//! What is kept, what was counted for it, and what is to be bought.

use std::collections::BTreeMap;

use handcoat_book::{Book, Record, RecordKind};
use handcoat_craft::measure::{Area, Volume, significant};
use handcoat_craft::source::CLEARS_PER_LITRE;

use super::act::find_among;
use super::fields::Fields;
use super::tables::{fields_of, kinds};
use crate::field::Field;
use crate::{Question, Refusal, Studio};

/// Sheets of a paper that are there.
pub(crate) const SHEETS: &str = "sheets";
/// Pieces of a supply that are there.
pub(super) const PIECES: &str = "pieces";
/// Square millimetres a bath has had through it.
pub(crate) const AREA: &str = "mm2";
/// Seconds a lamp has burned since it was entered.
pub(crate) const HOURS: &str = "seconds";

/// One thing that is kept, in words.
#[derive(Clone, Debug, PartialEq)]
pub struct Kept {
    /// Its kind.
    pub kind: RecordKind,
    /// Its number.
    pub number: u32,
    /// Its name.
    pub name: String,
    /// What is known of it: each field and its words.
    pub known: Vec<(&'static Field, String)>,
    /// How many are there, where it is counted.
    pub there: Option<i64>,
    /// Area that went through it, for a bath.
    pub area: Option<Area>,
    /// Hours on it, for a lamp: those when it was entered and those since.
    pub hours: Option<f64>,
    /// What should be looked at.
    pub notices: Vec<String>,
}

/// Something to buy.
#[derive(Clone, Debug, PartialEq)]
pub struct ToBuy {
    /// What.
    pub name: String,
    /// Its kind.
    pub kind: RecordKind,
    /// How many are there.
    pub there: i64,
    /// At how many more are bought.
    pub low: u32,
}

/// Everything of a kind, in the order it came.
///
/// # Errors
/// [`Refusal`] when the book cannot be read.
pub fn kept(studio: &Studio, kind: RecordKind) -> Result<Vec<Kept>, Refusal> {
    studio.book.records(kind)?.iter().map(|record| view(&studio.book, record)).collect()
}

/// One of them, by its name or number.
///
/// # Errors
/// [`Refusal`] when it is not there, or the book cannot be read.
pub fn one_kept(studio: &Studio, kind: RecordKind, written: &str) -> Result<Kept, Refusal> {
    let here = studio.book.records(kind)?;
    view(&studio.book, find_among(&here, kind, Question::Name, written)?)
}

/// Papers and supplies that are low, as one list.
///
/// # Errors
/// [`Refusal`] when the book cannot be read.
pub fn shopping(studio: &Studio) -> Result<Vec<ToBuy>, Refusal> {
    let mut list = Vec::new();
    for &kind in kinds() {
        for own in kept(studio, kind)? {
            let low = own.known.iter().find(|(field, _)| field.key == "low").and_then(|(_, text)| text.parse().ok());
            if let (Some(there), Some(low)) = (own.there, low)
                && there <= i64::from(low)
            {
                list.push(ToBuy { name: own.name, kind, there, low });
            }
        }
    }
    Ok(list)
}

fn view(book: &Book, record: &Record) -> Result<Kept, Refusal> {
    let fields = Fields::of(&record.facts);
    let counts = book.counts(record)?;
    let known =
        fields_of(record.kind).iter().filter_map(|field| Some((field, fields.text(field.key)?.to_owned()))).collect();
    let there = match record.kind {
        RecordKind::Paper => counts.get(SHEETS).copied(),
        RecordKind::Supply => Some(counts.get(PIECES).copied().unwrap_or(0)),
        _ => None,
    };
    let area = (record.kind == RecordKind::Bath).then(|| area_of(&counts)).flatten();
    let hours = (record.kind == RecordKind::Lamp).then(|| hours_of(&fields, &counts)).flatten();
    let mut notices = Vec::new();
    if let (Some(there), Some(low)) = (there, fields.whole("low"))
        && there <= i64::from(low)
    {
        notices.push(format!("{there} left: buy more"));
    }
    if there.is_some_and(|own| own < 0) {
        notices.push("more were used than came: count them".into());
    }
    if let (Some(area), Some(good)) = (area, good_for(&fields)?)
        && area.to_square_centimetres() >= good.to_square_centimetres()
    {
        let (area, good) = (square_metres(area), square_metres(good));
        notices.push(format!("{area} m² went through it, trusted with {good} m²: renew it"));
    }
    Ok(Kept {
        kind: record.kind,
        number: record.ordinal,
        name: record.name.clone(),
        known,
        there,
        area,
        hours,
        notices,
    })
}

pub(crate) fn area_of(counts: &BTreeMap<String, i64>) -> Option<Area> {
    let square_millimetres = counts.get(AREA).copied().unwrap_or(0);
    Area::square_centimetres(square_millimetres as f64 / 100.0).ok()
}

/// Hours on a lamp; unknown unless they were said when it was entered.
pub(crate) fn hours_of(fields: &Fields, counts: &BTreeMap<String, i64>) -> Option<f64> {
    let since = counts.get(HOURS).copied().unwrap_or(0) as f64 / 3600.0;
    fields.number("hours").map(|before| before + since)
}

/// What a clearing bath is trusted with: as said, or by its volume.
fn good_for(fields: &Fields) -> Result<Option<Area>, Refusal> {
    if let Some(metres) = fields.number("good_for") {
        return Ok(Area::square_centimetres(metres * 10_000.0).ok());
    }
    if !fields.text("work").is_some_and(|work| work.to_lowercase().contains("clear")) {
        return Ok(None);
    }
    let litres = fields.quantity::<Volume>("volume")?.map(|own| own.to_millilitres() / 1000.0);
    Ok(litres.and_then(|own| Area::square_centimetres(own * CLEARS_PER_LITRE.value).ok()))
}

fn square_metres(area: Area) -> String {
    significant(area.to_square_centimetres() / 10_000.0, 2)
}
