//! What comes and goes: bytes on one side, rows of `craft`'s types on the other.
//!
//! Nothing here opens a file or a book. Out: [`files`] gives a whole book as tables, as one JSON document and as a plain-text journal; the
//! same book gives the same bytes, in any zone and language. In: [`read_shelf`] reads a table of jars and bottles and finds, cell by cell,
//! what it cannot take.
//!
//! | module | what it holds |
//! |---|---|
//! | `columns` | the columns of `items.csv`, each with its unit and what it takes |
//! | `decimal` | exact decimals out of whole micrograms, nanolitres and minor units |
//! | `whole` | a whole book as rows |
//! | `tables` | `items.csv`, `acts.csv`, `lines.csv`, `balances.csv` |
//! | `document` | `book.json` |
//! | `journal` | `journal.ledger` |
//! | `folder` | all files of an export, their sums, and the page that explains them |
//! | `shelf` | one row of the shelf, out and in |
//! | `reading` | a table of jars and bottles, cell by cell |
//! | `cells` | a table of measurements, CSV or CGATS.17 text, as cells |
//! | `readings` | densities under the steps of a wedge |
//! | `reference` | a step strip of known densities on a scan |
//! | `chart` | readings of a chart's patches |
//! | `curve` | a curve, out and in |
//! | `fault` | what a cell can have wrong with it |

mod cells;
mod chart;
mod columns;
mod curve;
mod decimal;
mod document;
mod fault;
mod folder;
mod journal;
mod reading;
mod readings;
mod reference;
mod shelf;
mod tables;
mod whole;

pub use chart::{ChartRow, ChartTable, chart_table, read_chart};
pub use columns::{COLUMNS, Column, column_named};
pub use curve::{CurveTable, curve_table, read_curve};
pub use document::SCHEMA;
pub use fault::{CellFinding, Fault};
pub use folder::{NAMES, files};
pub use reading::{DecimalMark, ShelfTable, read_shelf, sample};
pub use readings::{WedgeRow, WedgeTable, read_wedge};
pub use reference::{ReferenceStep, ReferenceTable, read_reference};
pub use shelf::{Relative, ShelfRow, Standing};
pub use whole::{ActRecord, BenchRecord, ItemRecord, KeptRecord, WholeBook};
