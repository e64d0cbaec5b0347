//! The coat sheet: how many drops of which bottle, readable from a metre, with a box for each.

use serde::Serialize;

use crate::press::{Supply, set_one_page};
use crate::{PaperSize, SheetError, SheetRow};

/// Drops of one solution.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct SheetDrops {
    /// How many.
    pub count: u32,
    /// Of what.
    pub name: String,
    /// How many it was last time.
    pub last: Option<String>,
}

/// The drops of one coat, in the order they are dropped.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct SheetCoat {
    /// Which of two coats; nothing for a single one.
    pub heading: Option<String>,
    /// The drops.
    pub drops: Vec<SheetDrops>,
    /// What thins them.
    pub water: Option<String>,
}

/// All that stands on it.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct CoatSheet {
    /// Heading.
    pub title: String,
    /// Image and margin.
    pub what: String,
    /// Whose studio.
    pub studio: Option<String>,
    /// Year, month, day.
    pub day: (i32, u8, u8),
    /// Whether the data are invented.
    pub invented: bool,
    /// The paper it is printed on.
    #[serde(skip)]
    pub paper: PaperSize,
    /// What should be known first.
    pub warnings: Vec<String>,
    /// The coats of one sheet.
    pub coats: Vec<SheetCoat>,
    /// Sheets to tick off, one box each.
    pub sheets: u32,
    /// What it comes to.
    pub result: Vec<SheetRow>,
    /// Sentences beneath it.
    pub notes: Vec<String>,
    /// What it rests on.
    pub used: Vec<String>,
    /// What was poured last time.
    pub last: Vec<String>,
}

#[derive(Serialize)]
struct Data<'a> {
    #[serde(flatten)]
    sheet: &'a CoatSheet,
    paper: &'static str,
    count_pt: f64,
    small_pt: f64,
}

/// Sizes of a count and of the small print, largest first: drops that fit on one page stand on one.
const SIZES_PT: [(f64, f64); 5] = [(64.0, 10.0), (52.0, 9.5), (42.0, 9.0), (32.0, 8.5), (24.0, 8.0)];

/// Sets it as one page of PDF/A-2b.
///
/// # Errors
/// [`SheetError`] when it cannot be set, or does not fit on one page.
pub fn coat_sheet(sheet: &CoatSheet) -> Result<Vec<u8>, SheetError> {
    let template = include_str!("../templates/coat_sheet.typ");
    let mut over = SheetError::Pages(2);
    for (count_pt, small_pt) in SIZES_PT {
        let data = Data { sheet, paper: sheet.paper.press_name(), count_pt, small_pt };
        let supplies = vec![Supply { path: "/data.json", bytes: serde_json::to_vec(&data)? }];
        match set_one_page(template, supplies, sheet.day) {
            Err(SheetError::Pages(pages)) => over = SheetError::Pages(pages),
            done => return done,
        }
    }
    Err(over)
}
