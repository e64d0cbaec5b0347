//! What goes out of a book as files, and what comes in from a table.

mod export;
mod found;
mod import;
mod row;

pub use export::export;
pub(crate) use found::found;
pub use handcoat_exchange::{DecimalMark, NAMES, sample};
pub use import::{Does, DryRun, ImportFinding, ImportRow, dry_run, import, read_mark};
