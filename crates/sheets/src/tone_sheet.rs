//! The report of a response: what was found, the plots, and the curve in numbers, on one page.

use serde::Serialize;

use crate::press::{Supply, set_one_page};
use crate::{PaperSize, SheetError, SheetRow};

/// All that stands on it.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct ToneSheet {
    /// Heading.
    pub title: String,
    /// Which set-up it is of.
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
    /// What was found.
    pub result: Vec<SheetRow>,
    /// Sentences beneath it.
    pub notes: Vec<String>,
    /// Plots as SVG, each with its title; the first is the largest.
    #[serde(skip)]
    pub plots: Vec<(String, String)>,
    /// Whether the last of them is a map of the sheet.
    pub map: bool,
    /// Heads of the table.
    pub heads: Vec<String>,
    /// Its rows.
    pub table: Vec<Vec<String>>,
    /// What to do next.
    pub next: String,
    /// At the foot.
    pub foot: String,
}

#[derive(Serialize)]
struct Data<'a> {
    #[serde(flatten)]
    sheet: &'a ToneSheet,
    paper: &'static str,
    plots: Vec<&'a str>,
    first_mm: f64,
    /// Width of the row beneath the first plot, as a part of the page's.
    row: f64,
    text_pt: f64,
}

const PATHS: [&str; 4] = ["/plot-1.svg", "/plot-2.svg", "/plot-3.svg", "/plot-4.svg"];

/// Width of the first plot and size of the text; largest first: what fits on one page stands on one.
const SIZES: [(f64, f64); 6] = [(134.0, 10.5), (126.0, 10.5), (114.0, 10.0), (100.0, 9.5), (88.0, 9.0), (72.0, 8.5)];

/// Sets it as one page of PDF/A-2b. Of more than four plots the others are left out.
///
/// # Errors
/// [`SheetError`] when it cannot be set, or does not fit on one page.
pub fn tone_sheet(sheet: &ToneSheet) -> Result<Vec<u8>, SheetError> {
    let template = include_str!("../templates/tone_sheet.typ");
    let mut over = SheetError::Pages(2);
    for (first_mm, text_pt) in SIZES {
        let plots = sheet.plots.iter().take(PATHS.len()).map(|own| own.1.as_str()).collect();
        let row = first_mm / SIZES[0].0;
        let data = Data { sheet, paper: sheet.paper.press_name(), plots, first_mm, row, text_pt };
        let mut supplies = vec![Supply { path: "/data.json", bytes: serde_json::to_vec(&data)? }];
        let drawings = PATHS.into_iter().zip(&sheet.plots);
        supplies.extend(drawings.map(|(path, own)| Supply { path, bytes: own.0.clone().into_bytes() }));
        match set_one_page(template, supplies, sheet.day) {
            Err(SheetError::Pages(pages)) => over = SheetError::Pages(pages),
            done => return done,
        }
    }
    Err(over)
}
