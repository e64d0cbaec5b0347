//! Jars, bottles and vials, as the book remembers them.

use std::collections::BTreeMap;

use handcoat_craft::ledger::{ItemKind, ItemNumber};
use jiff::Timestamp;
use rusqlite::Row;
use serde::{Deserialize, Serialize};

use crate::BookError;

/// Whether an item is on the shelf.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum Standing {
    /// On the shelf.
    Here,
    /// Empty, or put away for good.
    Retired,
    /// The act that brought it was taken back.
    Undone,
}

impl Standing {
    pub(crate) fn word(self) -> &'static str {
        match self {
            Self::Here => "here",
            Self::Retired => "retired",
            Self::Undone => "undone",
        }
    }

    pub(crate) fn read(text: &str) -> Result<Self, BookError> {
        [Self::Here, Self::Retired, Self::Undone]
            .into_iter()
            .find(|own| own.word() == text)
            .ok_or_else(|| BookError::unreadable("the standing of an item", text))
    }
}

/// Something on the shelf.
#[derive(Clone, Debug, PartialEq)]
pub struct Item {
    /// Its running number.
    pub number: ItemNumber,
    /// Jar, bottle or vial.
    pub kind: ItemKind,
    /// What it is called aloud; unique on the shelf.
    pub name: String,
    /// Whether it is there.
    pub standing: Standing,
    /// What is known of it.
    pub facts: Facts,
}

/// What is known of an item. `None` is *unknown*; nothing is assumed in its place. Amounts that move are in the ledger, not here.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(default, deny_unknown_fields)]
pub struct Facts {
    /// Formula of the solid: the powder of a jar or vial, the dissolved complex of a bottle.
    pub formula: Option<String>,
    /// The alkali chloride a bottle was mixed with.
    pub chloride: Option<String>,
    /// Moles of added chloride per mole of metal.
    pub chloride_to_metal: Option<f64>,
    /// Waters of the solid: `none`, a number, or `unknown`; absent where the formula says it.
    pub hydrate: Option<String>,
    /// Purity as on the jar, `99%`.
    pub purity: Option<String>,
    /// What the purity means: `salt`, `metal`, `trace`, `unknown`.
    pub purity_of: Option<String>,
    /// Symbol of the metal kept account of.
    pub metal: Option<String>,
    /// Relative standard uncertainty of the metal per contents.
    pub strength_rel_u: Option<f64>,
    /// Standard uncertainty of the contents, in the unit of the contents (µg or nL).
    pub contents_u: Option<f64>,
    /// What the label says, when it says more or other than the ledger: `15 %`.
    pub label: Option<String>,
    /// What was paid, as it was said.
    pub price: Option<Price>,
    /// Whether some of what is in it was received without a price.
    pub cost_incomplete: bool,
    /// Supplier, as the maker writes it.
    pub supplier: Option<String>,
    /// The supplier's lot.
    pub lot: Option<String>,
    /// Day it came, was mixed or was swept, `2026-03-14`.
    pub day: Option<String>,
    /// When a fresh solution may be used.
    pub ready_after: Option<Timestamp>,
    /// Weight of the empty vessel with its cap and dropper, in micrograms.
    pub empty_ug: Option<i64>,
    /// Weight when it was filled.
    pub full_ug: Option<i64>,
    /// What the vessel holds, in nanolitres.
    pub capacity_nl: Option<i64>,
    /// Density of the solution found from those weights, g/mL.
    pub density_g_per_ml: Option<f64>,
    /// Its standard uncertainty; absent where the maker stated the density.
    pub density_u_g_per_ml: Option<f64>,
    /// Items it was made of.
    pub made_of: Vec<u32>,
    /// The last look at it.
    pub look: Option<Look>,
    /// Tests that were done, newest last.
    pub tests: Vec<TestDone>,
    /// What a supplier's sheet says of its hazards.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub hazards: Option<HazardSheet>,
    /// What is dissolved in a bottle that holds no stock of palladium or platinum, the one it is named after first.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub dissolved: Vec<Dissolved>,
    /// Anything else.
    pub note: Option<String>,
}

/// One solid in a solution.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Dissolved {
    /// Its formula, with the water that is stated.
    pub formula: String,
    /// Waters as the jar says them, as in [`Facts::hydrate`].
    pub hydrate: Option<String>,
    /// Grams of the pure solid per 100 mL.
    pub percent: f64,
    /// Its relative standard uncertainty, when it is known.
    pub percent_rel_u: Option<f64>,
}

/// Hazards from a supplier's sheet, in its codes.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct HazardSheet {
    /// Whose sheet.
    pub supplier: String,
    /// Its date, `2026-01-20`.
    pub date: String,
    /// `Danger` or `Warning`.
    pub signal_word: Option<String>,
    /// Codes of hazard statements.
    pub statements: Vec<String>,
    /// Codes of pictograms.
    pub pictograms: Vec<String>,
    /// It is of the pure substance and not of what is in the vessel.
    pub of_pure_substance: bool,
}

/// A price that was paid for all of it.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Price {
    /// Minor units.
    pub minor: i64,
    /// ISO 4217.
    pub currency: String,
}

/// A look through the glass.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Look {
    /// When.
    pub at: Timestamp,
    /// Clear, without sediment.
    pub clear: bool,
}

/// A test of a solution.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct TestDone {
    /// Which.
    pub test: String,
    /// When.
    pub at: Timestamp,
    /// Whether it passed.
    pub passed: bool,
}

/// An item as it stood before an act, for its undoing. `None`: the act made it.
pub(crate) type BeforeImages = BTreeMap<u32, Option<Before>>;

/// The part of an item that acts change.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub(crate) struct Before {
    pub(crate) name: String,
    pub(crate) standing: Standing,
    pub(crate) facts: Facts,
}

impl Before {
    pub(crate) fn of(item: &Item) -> Self {
        Self { name: item.name.clone(), standing: item.standing, facts: item.facts.clone() }
    }
}

/// Columns of [`read`], in its order.
pub(crate) const COLUMNS: &str = "number, kind, name, standing, facts";

pub(crate) fn read(row: &Row<'_>) -> Result<Item, BookError> {
    let number: u32 = row.get(0)?;
    let kind: String = row.get(1)?;
    let standing: String = row.get(3)?;
    let facts: String = row.get(4)?;
    Ok(Item {
        number: ItemNumber::new(number).ok_or_else(|| BookError::unreadable("the number of an item", "0"))?,
        kind: ItemKind::ALL
            .into_iter()
            .find(|own| own.word() == kind)
            .ok_or_else(|| BookError::unreadable("the kind of an item", kind))?,
        name: row.get(2)?,
        standing: Standing::read(&standing)?,
        facts: serde_json::from_str(&facts).map_err(|_| BookError::unreadable("what is known of an item", facts))?,
    })
}

pub(crate) fn word(standing: Standing) -> &'static str {
    standing.word()
}
