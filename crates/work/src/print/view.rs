//! Prints as pages and lists show them, and finding them.

use std::collections::BTreeMap;

use handcoat_book::{Record, RecordKind, Standing};
use handcoat_craft::ledger::ItemCode;
use handcoat_craft::measure::{Area, Mass, Money, Uptake, Volume};
use jiff::Timestamp;

use super::coat::{not_there, read_number};
use super::pour::add_cost;
use super::sheet::{CoatSheet, Pour, PrintSheet, Sum};
use super::table::FIELDS;
use crate::field::Field;
use crate::negative::NegativeLink;
use crate::{Question, Refusal, Studio};

/// One solution that was poured.
#[derive(Clone, Debug, PartialEq)]
pub struct Poured {
    /// The bottle's name then.
    pub name: String,
    /// The code on its label.
    pub code: Option<ItemCode>,
    /// Formula of what is dissolved.
    pub formula: Option<String>,
    /// `iron`, `metal`, `agent`, `other`.
    pub role: String,
    /// Drops, where they were counted.
    pub drops: Option<u32>,
    /// How much.
    pub volume: Volume,
    /// Metal in it, with its symbol.
    pub metal: Option<(String, Mass)>,
    /// Relative standard uncertainty of that metal, from drop and strength, where both are known.
    pub metal_rel_u: Option<f64>,
    /// What was poured beyond what the book said the bottle held.
    pub short: Option<Volume>,
}

/// A print.
#[derive(Clone, Debug, PartialEq)]
pub struct PrintView {
    /// Its number; never used again.
    pub number: u32,
    /// What it is called.
    pub title: String,
    /// When it was recorded.
    pub at: Option<Timestamp>,
    /// What is written down of it, in the order of the work.
    pub known: Vec<(&'static Field, String)>,
    /// What was poured.
    pub pours: Vec<Poured>,
    /// Coats it was made of.
    pub coats: Vec<u32>,
    /// Coated area.
    pub area: Option<Area>,
    /// Everything poured, to the coated area.
    pub uptake: Option<Uptake>,
    /// Metal on it when it was coated, by symbol.
    pub metal: BTreeMap<String, Mass>,
    /// What its metal and solutions cost.
    pub cost: Vec<Money>,
    /// What its sheet of paper cost.
    pub paper_cost: Option<Money>,
    /// Some of it came without a price.
    pub cost_incomplete: bool,
    /// Lot of the paper, hours on the lamp, age of the developer in days, area of the baths in m²: as they were that day.
    pub paper_lot: Option<String>,
    /// Hours on the lamp before it.
    pub lamp_hours: Option<f64>,
    /// Age of the developer in days.
    pub developer_days: Option<i64>,
    /// Area the clearing baths had had before, in m².
    pub bath_area: Option<f64>,
    /// SHA-256 of its pictures.
    pub photos: Vec<String>,
    /// The print it repeats.
    pub repeats: Option<u32>,
    /// The file of its negative, with curve and set-up, where it was made here.
    pub negative_made: Option<NegativeLink>,
}

/// A coated sheet that is no print yet.
#[derive(Clone, Debug, PartialEq)]
pub struct CoatView {
    /// Its number.
    pub number: u32,
    /// What it is for.
    pub title: String,
    /// When it was coated.
    pub at: Option<Timestamp>,
    /// Size of the image, as it was written.
    pub image: Option<String>,
    /// Its margin, as it was written.
    pub margin: Option<String>,
    /// The paper it is on.
    pub paper: Option<String>,
    /// What was poured.
    pub pours: Vec<Poured>,
}

impl PrintView {
    /// A field's words.
    #[must_use]
    pub fn of(&self, key: &str) -> Option<&str> {
        self.known.iter().find(|(field, _)| field.key == key).map(|(_, text)| text.as_str())
    }

    /// What it cost with its paper, by currency.
    #[must_use]
    pub fn whole_cost(&self) -> Vec<Money> {
        let mut all = self.cost.clone();
        add_cost(&mut all, self.paper_cost.as_slice());
        all
    }
}

/// One print by its number.
///
/// # Errors
/// [`Refusal`] when there is none, or the book cannot be read.
pub fn print(studio: &Studio, written: &str) -> Result<PrintView, Refusal> {
    view(&print_record(studio, written)?)
}

pub(super) fn print_record(studio: &Studio, written: &str) -> Result<Record, Refusal> {
    let number = read_number(Question::Print, written)?;
    let found = studio.book.record(RecordKind::Print, number)?.filter(|own| own.standing != Standing::Undone);
    found.ok_or_else(|| not_there(RecordKind::Print, Question::Print, number))
}

/// Prints that answer every word, newest first; all of them when nothing is asked. `before` goes on where a list ended.
///
/// # Errors
/// [`Refusal`] when the book cannot be read.
pub fn prints(studio: &Studio, asked: &str, most: u32, before: Option<u32>) -> Result<Vec<PrintView>, Refusal> {
    let records = if asked.trim().is_empty() {
        studio.book.newest_records(RecordKind::Print, most, before)?
    } else {
        studio.book.search_records(RecordKind::Print, asked, most, before)?
    };
    records.iter().map(view).collect()
}

/// Coats that are neither prints nor spoiled, in the order they were made.
///
/// # Errors
/// [`Refusal`] when the book cannot be read.
pub fn open_coats(studio: &Studio) -> Result<Vec<CoatView>, Refusal> {
    let records = studio.book.records(RecordKind::Coat)?;
    records.iter().map(|record| Ok(coat_view(record, CoatSheet::of(record)?))).collect()
}

/// The newest coats that came to something: those that wait, and those that are prints.
pub(crate) fn coats_newest(studio: &Studio, most: u32) -> Result<Vec<CoatView>, Refusal> {
    let mut all = Vec::new();
    for record in studio.book.newest_records(RecordKind::Coat, most, None)? {
        let sheet = CoatSheet::of(&record)?;
        if sheet.spoiled.is_none() {
            all.push(coat_view(&record, sheet));
        }
    }
    Ok(all)
}

fn coat_view(record: &Record, sheet: CoatSheet) -> CoatView {
    let pours = sheet.pours.iter().map(poured).collect();
    let (number, title, at) = (record.ordinal, record.name.clone(), sheet.at);
    CoatView { number, title, at, image: sheet.image, margin: sheet.margin, paper: sheet.paper, pours }
}

fn view(record: &Record) -> Result<PrintView, Refusal> {
    let sheet = PrintSheet::of(record)?;
    let (fields, area) = (sheet.fields(), sheet.area()?);
    let mut metal: BTreeMap<String, Mass> = BTreeMap::new();
    for pour in &sheet.pours {
        if let (Some(symbol), Some(mass)) = (&pour.metal, pour.metal_mass()) {
            let own = metal.entry(symbol.clone()).or_insert(Mass::ZERO);
            *own = Mass::micrograms(own.to_micrograms().saturating_add(mass.to_micrograms())).unwrap_or(*own);
        }
    }
    Ok(PrintView {
        number: record.ordinal,
        title: record.name.clone(),
        at: sheet.at,
        known: FIELDS.iter().filter_map(|field| Some((field, fields.text(field.key)?.to_owned()))).collect(),
        uptake: area.filter(|_| !sheet.pours.is_empty()).and_then(|area| Uptake::of(sheet.volume(), area).ok()),
        pours: sheet.pours.iter().map(poured).collect(),
        coats: sheet.coats,
        area,
        metal,
        cost: sheet.cost.iter().filter_map(Sum::money).collect(),
        paper_cost: sheet.paper_cost.as_ref().and_then(Sum::money),
        cost_incomplete: sheet.cost_incomplete,
        paper_lot: sheet.paper_lot,
        lamp_hours: sheet.lamp_hours,
        developer_days: sheet.developer_days,
        bath_area: sheet.bath_area,
        photos: sheet.photos,
        repeats: sheet.repeats,
        negative_made: sheet.negative_made,
    })
}

fn poured(pour: &Pour) -> Poured {
    Poured {
        name: pour.name.clone(),
        code: pour.item().map(ItemCode::of),
        formula: pour.formula.clone(),
        role: pour.role.clone(),
        drops: pour.drops,
        volume: pour.volume(),
        metal: pour.metal.clone().zip(pour.metal_mass()),
        metal_rel_u: pour.metal_rel_u,
        short: pour.short_nl.and_then(|own| Volume::nanolitres(own).ok()),
    }
}
