//! A blank data sheet: the fields of a print's record, to be written on by hand.

use serde::Serialize;

use crate::press::{Supply, set_one_page};
use crate::{PaperSize, SheetError};

/// One blank.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct BlankField {
    /// What is written there.
    pub label: String,
    /// A unit or a hint behind it.
    pub unit: String,
    /// Sixths of the line it takes.
    pub sixths: u8,
}

/// Blanks that belong together.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct BlankGroup {
    /// What they are about.
    pub title: String,
    /// In order.
    pub fields: Vec<BlankField>,
}

/// The sheet.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct BlankSheet {
    /// Heading.
    pub title: String,
    /// Whose studio.
    pub studio: Option<String>,
    /// Year, month, day of the file; the sheet has a blank for its own.
    pub day: (i32, u8, u8),
    /// The paper it is printed on.
    #[serde(skip)]
    pub paper: PaperSize,
    /// The blanks.
    pub groups: Vec<BlankGroup>,
    /// A line at the foot.
    pub foot: String,
}

#[derive(Serialize)]
struct Data<'a> {
    #[serde(flatten)]
    sheet: &'a BlankSheet,
    paper: &'static str,
    line_mm: f64,
}

/// Heights of a line tried, roomiest first: it is written on with a pencil.
const LINES_MM: [f64; 7] = [11.0, 10.4, 9.8, 9.2, 8.6, 8.0, 7.4];

/// Sets it on one page as PDF/A-2b.
///
/// # Errors
/// [`SheetError::Pages`] when the blanks do not fit on one page.
pub fn blank_sheet(sheet: &BlankSheet) -> Result<Vec<u8>, SheetError> {
    let mut last = SheetError::Pages(0);
    for line_mm in LINES_MM {
        let data = Data { sheet, paper: sheet.paper.press_name(), line_mm };
        let supplies = vec![Supply { path: "/data.json", bytes: serde_json::to_vec(&data)? }];
        match set_one_page(include_str!("../templates/blank_sheet.typ"), supplies, sheet.day) {
            Err(SheetError::Pages(pages)) => last = SheetError::Pages(pages),
            done => return done,
        }
    }
    Err(last)
}
