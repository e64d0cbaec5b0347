//! The bench sheet of one batch of stock.

use serde::Serialize;

use crate::SheetError;
use crate::press::{Supply, set_one_page};

/// One line of a table.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct SheetRow {
    /// What it is.
    pub label: String,
    /// The number.
    pub value: String,
    /// Its unit.
    pub unit: String,
    /// CAS number of a substance.
    pub cas: Option<&'static str>,
}

/// One step, with a box to tick.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct SheetStep {
    /// What to do.
    pub what: String,
    /// What to read off, large.
    pub target: Option<String>,
    /// What to write in by hand: a word or unit for each blank.
    pub write: Vec<String>,
    /// A caution, before the step is done.
    pub care: Option<String>,
}

/// All that stands on the sheet.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct BenchSheet {
    /// Heading.
    pub title: String,
    /// Whose studio.
    pub studio: Option<String>,
    /// Year, month, day; an archival file must carry one.
    pub day: (i32, u8, u8),
    /// Whether the data are invented.
    pub invented: bool,
    /// What the jar says.
    pub jar: String,
    /// Warnings, the weightiest first.
    pub warnings: Vec<String>,
    /// What to weigh and measure.
    pub weigh: Vec<SheetRow>,
    /// What it will be.
    pub result: Vec<SheetRow>,
    /// What dominates the uncertainty.
    pub dominant: Option<String>,
    /// What was weighed, if it was.
    pub weighed: Option<String>,
    /// Ways on: heading and words.
    pub ways: Vec<(String, String)>,
    /// The steps.
    pub steps: Vec<SheetStep>,
    /// Drawing of where the ± comes from, as SVG.
    #[serde(skip)]
    pub bars: Option<String>,
    /// Drawing of the chloride ratio, as SVG.
    #[serde(skip)]
    pub chloride: Option<String>,
}

#[derive(Serialize)]
struct Data<'a> {
    #[serde(flatten)]
    sheet: &'a BenchSheet,
    has_bars: bool,
    has_chloride: bool,
    size_pt: f64,
}

/// Sizes tried for the steps, largest first: a sheet is read from arm's length, and must stay one page.
const SIZES_PT: [f64; 6] = [14.0, 13.0, 12.0, 11.0, 10.0, 9.0];

/// Sets it on one A4 page as PDF/A-2b.
///
/// # Errors
/// [`SheetError`] when the words do not fit on one page.
pub fn bench_sheet(sheet: &BenchSheet) -> Result<Vec<u8>, SheetError> {
    let mut last = None;
    for size_pt in SIZES_PT {
        match set_at(sheet, size_pt) {
            Err(SheetError::Pages(pages)) => last = Some(SheetError::Pages(pages)),
            done => return done,
        }
    }
    Err(last.unwrap_or(SheetError::Pages(0)))
}

fn set_at(sheet: &BenchSheet, size_pt: f64) -> Result<Vec<u8>, SheetError> {
    let data = Data { sheet, has_bars: sheet.bars.is_some(), has_chloride: sheet.chloride.is_some(), size_pt };
    let mut supplies = vec![Supply { path: "/data.json", bytes: serde_json::to_vec(&data)? }];
    for (path, drawing) in [("/bars.svg", &sheet.bars), ("/chloride.svg", &sheet.chloride)] {
        supplies.extend(drawing.as_ref().map(|svg| Supply { path, bytes: svg.clone().into_bytes() }));
    }
    set_one_page(include_str!("../templates/bench_sheet.typ"), supplies, sheet.day)
}
