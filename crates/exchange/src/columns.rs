//! The columns of `items.csv`: one list for what is written, what is read, and what is said of both.

/// What becomes of a column.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Use {
    /// Written and read.
    Both,
    /// Written; belongs to the book it comes from and is passed over when read.
    Out,
    /// Read: another way to say how much or how strong.
    In,
}

/// A column.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Column {
    /// Its name, the unit at its end.
    pub name: &'static str,
    /// What it takes, for who has to correct a cell.
    pub takes: &'static str,
    /// What becomes of it.
    pub used: Use,
}

const fn both(name: &'static str, takes: &'static str) -> Column {
    Column { name, takes, used: Use::Both }
}
const fn out(name: &'static str, takes: &'static str) -> Column {
    Column { name, takes, used: Use::Out }
}
const fn read(name: &'static str, takes: &'static str) -> Column {
    Column { name, takes, used: Use::In }
}

/// Columns in the order they are written; besides these there is one `cost_EUR` for each currency.
pub const COLUMNS: &[Column] = &[
    out("number", "the number in the book it comes from"),
    out("code", "the code on its label"),
    both("standing", "`here`, `retired` or `undone`; only what is `here` is taken"),
    both("kind", "`jar`, `bottle` or `vial`"),
    both("name", "what it is called aloud, up to 40 characters"),
    both("formula", "a formula such as `PdCl2`; of a solution, the dissolved solid; or `unknown`"),
    both("hydrate", "waters in the solid: `none`, a number or `unknown`"),
    both("purity_percent", "a number of percent such as 99"),
    both("purity_of", "`salt`, `metal`, `trace` or `unknown`"),
    both("chloride", "the alkali chloride a bottle was mixed with, such as `NaCl`"),
    both("chloride_to_metal", "moles of added chloride per mole of metal, such as 2.2"),
    both("mass_g", "grams of powder, without vessel"),
    both("mass_u_g", "its standard uncertainty (k = 1) in grams"),
    both("volume_ml", "millilitres of solution"),
    both("volume_u_ml", "its standard uncertainty (k = 1) in millilitres"),
    both("metal", "`Pd`, `Pt` or `Au`"),
    both("metal_g", "grams of that metal in all of it"),
    both("strength_rel_u", "relative standard uncertainty (k = 1) of metal per contents, such as 0.01"),
    read("percent_wv", "strength on the label in grams of the solid per 100 mL"),
    read("molarity_mol_per_l", "strength on the label in moles of metal per litre"),
    read("metal_mg_per_ml", "strength on the label in milligrams of metal per millilitre"),
    read("level_percent", "how full the bottle is by eye, in percent, beside capacity_ml"),
    both("capacity_ml", "what the bottle holds when full, in millilitres"),
    read("gross_g", "vessel and contents together in grams, beside empty_g"),
    both("empty_g", "the empty vessel with its cap in grams"),
    both("density_g_per_ml", "density of the solution in grams per millilitre"),
    read("balance_g", "smallest step of the scale in grams"),
    both("cost_incomplete", "`yes` when some of it came without a price, else `no`"),
    both("supplier", "who sold it"),
    both("lot", "the supplier's lot"),
    both("day", "the day it came, as 2026-03-14"),
    both("ready_after", "when a fresh solution may be used, as 2026-03-14T10:30:00Z"),
    both("label", "what the label says beside the name"),
    both("note", "anything else"),
    out("made_of", "numbers of the items it was made of"),
];

/// What begins the name of a column of money.
pub(crate) const COST: &str = "cost_";

/// The column with this name; none for one nobody knows. Columns of money are `cost_` and a currency, and not in this list.
#[must_use]
pub fn column_named(name: &str) -> Option<&'static Column> {
    COLUMNS.iter().find(|column| column.name == name)
}
