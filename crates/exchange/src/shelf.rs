//! One row of the shelf: what a table of jars and bottles says of one of them. `None` is unknown.

use handcoat_craft::ledger::{ItemKind, ItemNumber};
use handcoat_craft::measure::{
    AmountRatio, Level, Mass, MassConcentration, MassDensity, MassFraction, Molarity, Money, PercentByVolume, Volume,
};
use handcoat_craft::source::Element;
use jiff::Timestamp;

/// Whether an item is on the shelf.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Standing {
    /// On the shelf.
    #[default]
    Here,
    /// Empty, or put away for good.
    Retired,
    /// The act that brought it was taken back.
    Undone,
}

impl Standing {
    /// All of them.
    pub const ALL: [Self; 3] = [Self::Here, Self::Retired, Self::Undone];

    /// Its word.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Here => "here",
            Self::Retired => "retired",
            Self::Undone => "undone",
        }
    }
}

/// A relative standard uncertainty (k = 1), as a part of the value.
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd)]
pub struct Relative(f64);

impl Relative {
    /// From a part of the value; none below zero or not finite.
    #[must_use]
    pub fn part(part: f64) -> Option<Self> {
        (part.is_finite() && part >= 0.0).then_some(Self(part))
    }

    /// As a part of the value.
    #[must_use]
    pub fn to_part(self) -> f64 {
        self.0
    }
}

/// A jar, a bottle or a vial as one row of `items.csv`.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct ShelfRow {
    /// Line of the file it was read from; 0 for a row that comes out of a book.
    pub line: u64,
    /// Its number in the book it comes from. Another book gives it another.
    pub number: Option<ItemNumber>,
    /// Whether it is on the shelf.
    pub standing: Standing,
    /// Jar, bottle or vial.
    pub kind: Option<ItemKind>,
    /// Spoken name.
    pub name: Option<String>,
    /// Formula of the solid.
    pub formula: Option<String>,
    /// Waters of the solid: `none`, a number, `unknown`.
    pub hydrate: Option<String>,
    /// Purity on the jar.
    pub purity: Option<MassFraction>,
    /// What the purity is a percentage of.
    pub purity_of: Option<String>,
    /// The alkali chloride a bottle was mixed with.
    pub chloride: Option<String>,
    /// Moles of added chloride per mole of metal.
    pub chloride_to_metal: Option<AmountRatio>,
    /// Powder in it.
    pub mass: Option<Mass>,
    /// Standard uncertainty of that.
    pub mass_u: Option<Mass>,
    /// Solution in it.
    pub volume: Option<Volume>,
    /// Standard uncertainty of that.
    pub volume_u: Option<Volume>,
    /// The metal kept account of.
    pub metal: Option<Element>,
    /// How much of it there is in all.
    pub metal_mass: Option<Mass>,
    /// Relative standard uncertainty of metal per contents.
    pub strength_u: Option<Relative>,
    /// Strength on the label, in g of the solid per 100 mL; only read, never written.
    pub percent: Option<PercentByVolume>,
    /// Strength on the label, in mol/L; only read.
    pub molarity: Option<Molarity>,
    /// Strength on the label, in mg of metal per mL; only read.
    pub metal_per_ml: Option<MassConcentration>,
    /// How full the bottle is, by eye; only read.
    pub level: Option<Level>,
    /// What the bottle holds when full.
    pub capacity: Option<Volume>,
    /// Vessel and contents together on the scale; only read.
    pub gross: Option<Mass>,
    /// The empty vessel.
    pub empty: Option<Mass>,
    /// Density of the solution.
    pub density: Option<MassDensity>,
    /// Smallest step of the scale; only read.
    pub balance: Option<Mass>,
    /// What it cost, by currency.
    pub costs: Vec<Money>,
    /// Whether some of what is in it came without a price.
    pub cost_incomplete: Option<bool>,
    /// Supplier, as the maker writes it.
    pub supplier: Option<String>,
    /// The supplier's lot.
    pub lot: Option<String>,
    /// The day it came.
    pub day: Option<String>,
    /// When a fresh solution may be used.
    pub ready_after: Option<Timestamp>,
    /// What the label says, when more or other than the ledger.
    pub label: Option<String>,
    /// Anything else.
    pub note: Option<String>,
    /// Numbers of the items it was made of.
    pub made_of: Vec<ItemNumber>,
}
