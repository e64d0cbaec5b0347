//! What stands in the book of one print or coat, and reading it back.

use handcoat_book::{BookError, Record};
use handcoat_craft::ledger::ItemNumber;
use handcoat_craft::measure::{Area, Length, Mass, Money, OutOfBounds, Size, Volume};
use handcoat_craft::source::CUSTOMARY_MARGIN;
use jiff::Timestamp;
use serde::{Deserialize, Serialize};
use serde_json::Value;

use crate::Refusal;
use crate::keep::Fields;
use crate::negative::NegativeLink;

/// One solution that was poured.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
pub(crate) struct Pour {
    /// The bottle, by number.
    pub(crate) item: u32,
    /// What it was called.
    pub(crate) name: String,
    /// Formula of what is dissolved, where it is known.
    pub(crate) formula: Option<String>,
    /// What it does in the mix: `iron`, `metal`, `agent`, `other`.
    pub(crate) role: String,
    /// Drops, where drops were counted.
    pub(crate) drops: Option<u32>,
    /// How much.
    pub(crate) volume_nl: i64,
    /// Metal in it.
    pub(crate) metal: Option<String>,
    pub(crate) metal_ug: Option<i64>,
    /// Grams of what is dissolved per 100 mL, where it is known.
    pub(crate) percent: Option<f64>,
    /// What else is dissolved in it.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub(crate) also: Vec<Also>,
    /// Relative standard uncertainty of the metal, from drop and strength; none where that of the strength is not known.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub(crate) metal_rel_u: Option<f64>,
    /// Age of the solution in days.
    pub(crate) age_days: Option<i64>,
    /// What more was poured than the book said the bottle held.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(crate) short_nl: Option<i64>,
}

/// A second solid in a solution, in grams per 100 mL.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub(crate) struct Also {
    pub(crate) formula: String,
    pub(crate) percent: f64,
}

/// A sum as it is kept.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub(crate) struct Sum {
    pub(crate) minor: i64,
    pub(crate) currency: String,
}

impl Sum {
    pub(crate) fn of(money: Money) -> Self {
        Self { minor: money.to_minor(), currency: money.currency().letters().into() }
    }

    pub(crate) fn money(&self) -> Option<Money> {
        Money::minor(self.minor, handcoat_craft::measure::Currency::code(&self.currency).ok()?).ok()
    }
}

/// A coat on a sheet.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(default)]
pub(crate) struct CoatSheet {
    pub(crate) v: u32,
    pub(crate) at: Option<Timestamp>,
    /// Size of the image and its margin, as they were written.
    pub(crate) image: Option<String>,
    pub(crate) margin: Option<String>,
    /// The paper it is on.
    pub(crate) paper: Option<String>,
    pub(crate) pours: Vec<Pour>,
    /// What it cost so far, by currency.
    pub(crate) cost: Vec<Sum>,
    /// Some of what was poured came without a price.
    pub(crate) cost_incomplete: bool,
    /// The print it became.
    pub(crate) print: Option<u32>,
    /// It was spoiled: why.
    pub(crate) spoiled: Option<String>,
    /// Its sheet of paper was counted out when it was coated.
    pub(crate) sheet_counted: bool,
}

/// A print.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(default)]
pub(crate) struct PrintSheet {
    pub(crate) v: u32,
    pub(crate) at: Option<Timestamp>,
    pub(crate) fields: Value,
    /// Coats it was made of.
    pub(crate) coats: Vec<u32>,
    pub(crate) pours: Vec<Pour>,
    pub(crate) cost: Vec<Sum>,
    pub(crate) cost_incomplete: bool,
    /// What the sheet of paper cost.
    pub(crate) paper_cost: Option<Sum>,
    /// Lot of the paper on that day.
    pub(crate) paper_lot: Option<String>,
    /// Hours on the lamp before.
    pub(crate) lamp_hours: Option<f64>,
    /// Age of the developer in days.
    pub(crate) developer_days: Option<i64>,
    /// Area the clearing baths had had before, in m².
    pub(crate) bath_area: Option<f64>,
    /// Density range of the negative, where its record says it.
    pub(crate) negative_range: Option<f64>,
    /// The file of the negative, its curve and set-up, where it was made here.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub(crate) negative_made: Option<NegativeLink>,
    /// SHA-256 of pictures of it.
    pub(crate) photos: Vec<String>,
    /// The print it repeats.
    pub(crate) repeats: Option<u32>,
}

fn read<T: for<'d> Deserialize<'d>>(record: &Record) -> Result<T, Refusal> {
    let read = serde_json::from_value(record.facts.clone());
    Ok(read.map_err(|_| BookError::unreadable("what is known of a record", record.facts.to_string()))?)
}

fn write(sheet: &impl Serialize) -> Value {
    // OK because these hold text, numbers and lists only, which always become JSON.
    serde_json::to_value(sheet).expect("BUG: a record that is no JSON")
}

impl CoatSheet {
    pub(crate) fn of(record: &Record) -> Result<Self, Refusal> {
        read(record)
    }

    pub(crate) fn to_json(&self) -> Value {
        write(self)
    }
}

impl PrintSheet {
    pub(crate) fn of(record: &Record) -> Result<Self, Refusal> {
        read(record)
    }

    pub(crate) fn to_json(&self) -> Value {
        write(self)
    }

    pub(crate) fn fields(&self) -> Fields {
        Fields::of(&serde_json::json!({ "fields": self.fields }))
    }

    /// The coated area: the image and its margin, where both are known; the image where only that is.
    pub(crate) fn area(&self) -> Result<Option<Area>, Refusal> {
        coated(&self.fields())
    }

    /// Everything that was poured.
    pub(crate) fn volume(&self) -> Volume {
        let all: i64 = self.pours.iter().map(|pour| pour.volume_nl).sum();
        Volume::nanolitres(all).unwrap_or(Volume::ZERO)
    }
}

/// The coated area that fields come to. A margin nobody said is the customary one, as a coat plan takes it.
pub(crate) fn coated(fields: &Fields) -> Result<Option<Area>, Refusal> {
    let Some(image) = fields.quantity::<Size>("image")? else { return Ok(None) };
    Ok(coated_area(image, fields.quantity::<Length>("margin")?).ok())
}

/// The area of an image with its margin.
pub(crate) fn coated_area(image: Size, margin: Option<Length>) -> Result<Area, OutOfBounds> {
    let margin = match margin {
        Some(margin) => margin,
        None => Length::millimetres(CUSTOMARY_MARGIN.value)?,
    };
    image.with_margin(margin)?.area()
}

impl Pour {
    pub(crate) fn volume(&self) -> Volume {
        Volume::nanolitres(self.volume_nl).unwrap_or(Volume::ZERO)
    }

    pub(crate) fn metal_mass(&self) -> Option<Mass> {
        self.metal_ug.and_then(|own| Mass::micrograms(own).ok())
    }

    pub(crate) fn item(&self) -> Option<ItemNumber> {
        ItemNumber::new(self.item)
    }
}
