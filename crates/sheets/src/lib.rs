//! Paper that is printed: PDFs, set by typst from structs of words and numbers.
//!
//! Nothing is computed here and nothing is looked up: what stands on a sheet arrives as text. User text goes
//! to the template as JSON data, never as markup, so nothing a maker writes can become a command. The same
//! input gives the same bytes: no clock is read, the day arrives with the words.

mod bench_sheet;
mod press;

pub use bench_sheet::{BenchSheet, SheetRow, SheetStep, bench_sheet};
pub use press::SheetError;
