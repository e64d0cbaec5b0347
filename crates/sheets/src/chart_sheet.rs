//! The sheet that goes with a chart for film: from the file to the scan, step by step, with what the chart is and room to write beside it.

use serde::Serialize;

use crate::press::{Supply, set_one_page};
use crate::{PaperSize, SheetError, SheetRow};

/// One step.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct ChartStep {
    /// What it is about, in a word or two.
    pub word: String,
    /// What to do.
    pub text: String,
}

/// All that stands on it.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct ChartSheet {
    /// Heading.
    pub title: String,
    /// What the line of letters on the chart reads.
    pub what: Option<String>,
    /// Whose studio.
    pub studio: Option<String>,
    /// Year, month, day.
    pub day: (i32, u8, u8),
    /// Whether the data are invented.
    pub invented: bool,
    /// The paper it is printed on.
    #[serde(skip)]
    pub paper: PaperSize,
    /// Width and height of the chart, mm: for the drawing of the glass.
    pub chart_mm: (f64, f64),
    /// What the chart is.
    pub facts: Vec<SheetRow>,
    /// What to do, in order.
    pub steps: Vec<ChartStep>,
    /// Words with room to write beside them.
    pub blanks: Vec<String>,
    /// The usual cautions.
    pub cautions: String,
}

#[derive(Serialize)]
struct Data<'a> {
    #[serde(flatten)]
    sheet: &'a ChartSheet,
    paper: &'static str,
    text_pt: f64,
}

/// Sizes of the text, largest first: it is read beside the printer and the lamp.
const SIZES_PT: [f64; 6] = [12.5, 12.0, 11.5, 11.0, 10.5, 10.0];

/// Sets it as one page of PDF/A-2b.
///
/// # Errors
/// [`SheetError`] when it cannot be set, or does not fit on one page.
pub fn chart_sheet(sheet: &ChartSheet) -> Result<Vec<u8>, SheetError> {
    let mut over = SheetError::Pages(2);
    for text_pt in SIZES_PT {
        let data = Data { sheet, paper: sheet.paper.press_name(), text_pt };
        let supplies = vec![Supply { path: "/data.json", bytes: serde_json::to_vec(&data)? }];
        match set_one_page(include_str!("../templates/chart_sheet.typ"), supplies, sheet.day) {
            Err(SheetError::Pages(pages)) => over = SheetError::Pages(pages),
            done => return done,
        }
    }
    Err(over)
}
