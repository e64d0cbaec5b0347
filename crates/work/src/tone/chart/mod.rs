//! A chart for film that knows itself: its own code of squares says what lies where, and a scan of its print is read without a table.
//!
//! | module | what it holds |
//! |---|---|
//! | `make` | the answers read, the file made, its patches as a table |
//! | `drawn` | what stands on it, row by row |
//! | `letters` | letters of five by seven squares for the line of words |

mod drawn;
mod letters;
mod make;

pub use make::{ChartMade, ChartPrintAnswers, chart_print_csv, make_chart};
