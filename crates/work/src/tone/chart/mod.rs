//! A chart for film that knows itself: its own code of squares says what lies where, and a scan of its print is read without a table.
//!
//! | module | what it holds |
//! |---|---|
//! | `make` | the answers read, the file made, its patches as a table |
//! | `drawn` | what stands on it, row by row |
//! | `letters` | letters of five by seven squares for the line of words |
//! | `sheet` | the sheet of paper that goes with it |
//! | `whose` | of which book and set-up it is |

mod drawn;
mod letters;
mod make;
mod sheet;
mod whose;

pub use make::{ChartMade, ChartPrintAnswers, chart_print_csv, make_chart};
pub use sheet::{chart_sheet, chart_steps};
pub use whose::{ChartOf, ChartSetup, chart_setup};
