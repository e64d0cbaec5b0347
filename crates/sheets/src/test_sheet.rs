//! The sheet of an exposure test: strips with the seconds to add, large, and a box for each; or what a wedge came to, with its plot.

use serde::Serialize;

use crate::press::{Supply, set_one_page};
use crate::{PaperSize, SheetError, SheetRow};

/// One strip.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct StripRow {
    /// Its number.
    pub number: String,
    /// What to add to it.
    pub add: String,
    /// The unit of that.
    pub unit: String,
    /// What it has in all.
    pub in_all: String,
    /// The maker tapped it: the first that is no blacker than the one before.
    pub tapped: bool,
}

/// Readings of a wedge beside their curve.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize)]
pub struct ReadingTable {
    /// Heads of its columns.
    pub heads: Vec<String>,
    /// Its rows.
    pub rows: Vec<Vec<String>>,
}

/// All that stands on it.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct TestSheet {
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
    /// What to do, sentence by sentence.
    pub steps: Vec<String>,
    /// The strips.
    pub strips: Vec<StripRow>,
    /// What it comes to.
    pub result: Vec<SheetRow>,
    /// Sentences beneath it.
    pub notes: Vec<String>,
    /// The plot, as SVG.
    #[serde(skip)]
    pub plot: Option<String>,
    /// The plot in a few words, for those who do not see it.
    pub plot_words: String,
    /// The readings.
    pub readings: Option<ReadingTable>,
    /// Words with room to write beside them.
    pub blanks: Vec<String>,
    /// The usual cautions.
    pub cautions: String,
}

#[derive(Serialize)]
struct Data<'a> {
    #[serde(flatten)]
    sheet: &'a TestSheet,
    paper: &'static str,
    plotted: bool,
    add_pt: f64,
    row_pt: f64,
}

/// Sizes of the seconds to add, and of a row of readings; largest first: what fits on one page stands on one.
const SIZES_PT: [(f64, f64); 8] =
    [(58.0, 11.0), (48.0, 10.5), (40.0, 10.0), (33.0, 9.5), (26.0, 9.0), (22.0, 8.5), (18.0, 7.5), (15.0, 6.5)];

/// Sets it as one page of PDF/A-2b.
///
/// # Errors
/// [`SheetError`] when it cannot be set, or does not fit on one page.
pub fn test_sheet(sheet: &TestSheet) -> Result<Vec<u8>, SheetError> {
    let template = include_str!("../templates/test_sheet.typ");
    let mut over = SheetError::Pages(2);
    for (add_pt, row_pt) in SIZES_PT {
        let plotted = sheet.plot.is_some();
        let data = Data { sheet, paper: sheet.paper.press_name(), plotted, add_pt, row_pt };
        let mut supplies = vec![Supply { path: "/data.json", bytes: serde_json::to_vec(&data)? }];
        supplies.extend(sheet.plot.as_ref().map(|own| Supply { path: "/plot.svg", bytes: own.clone().into_bytes() }));
        match set_one_page(template, supplies, sheet.day) {
            Err(SheetError::Pages(pages)) => over = SheetError::Pages(pages),
            done => return done,
        }
    }
    Err(over)
}
