//! Paper that is printed: PDFs, set by typst from structs of words and numbers.
//!
//! Nothing is computed here and nothing is looked up: what stands on a sheet arrives as text. User text goes
//! to the template as JSON data, never as markup, so nothing a maker writes can become a command. The same
//! input gives the same bytes: no clock is read, the day arrives with the words.

mod bench_sheet;
mod blank_sheet;
mod calibration;
mod chart_sheet;
mod coat_sheet;
mod emergency;
mod label;
mod label_stock;
mod length;
mod paper_size;
mod press;
mod session_sheet;
mod test_sheet;
mod tone_sheet;

pub use bench_sheet::{BenchSheet, SheetRow, SheetStep, bench_sheet};
pub use blank_sheet::{BlankField, BlankGroup, BlankSheet, blank_sheet};
pub use calibration::calibration_page;
pub use chart_sheet::{ChartSheet, ChartStep, chart_sheet};
pub use coat_sheet::{CoatSheet, SheetCoat, SheetDrops, coat_sheet};
pub use emergency::{EmergencyFacts, WallSheet, emergency_page};
pub use label::{Hazards, LEFT_OUT, Label, SheetHazards, labels};
pub use label_stock::{LABEL_STOCKS, LabelStock};
pub use length::{Millimetres, Offset};
pub use paper_size::PaperSize;
pub use press::SheetError;
pub use session_sheet::{DropsRow, SessionSheet, SessionStep, session_sheet};
pub use test_sheet::{ReadingTable, StripRow, TestSheet, test_sheet};
pub use tone_sheet::{ToneSheet, tone_sheet};
