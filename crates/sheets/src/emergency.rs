//! The page for the wall: what to do when something went wrong.

use handcoat_craft::source::Emergency;
use serde::Serialize;

use crate::SheetError;
use crate::press::{Supply, set_one_page};

/// What the wall page says beyond its rows.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize)]
pub struct EmergencyFacts {
    /// Whose studio.
    pub studio: Option<String>,
    /// Local emergency number; without it the page has room to write it in.
    pub emergency_number: Option<String>,
    /// Number of the poison centre; the same.
    pub poison_centre: Option<String>,
    /// Suppliers' sheets that were entered. As many as find room are named, and how many more there are.
    pub sheets: Vec<WallSheet>,
    /// The line under the rows that says who decides.
    pub defers: String,
    /// Year, month, day.
    pub day: (i32, u8, u8),
}

/// A supplier's sheet that was entered.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize)]
pub struct WallSheet {
    /// The jar, bottle or vial.
    pub item: String,
    /// Whose sheet.
    pub supplier: String,
    /// Its date.
    pub date: String,
}

#[derive(Serialize)]
struct Row {
    when: &'static str,
    first: &'static str,
    then: &'static [&'static str],
}

#[derive(Serialize)]
struct Data<'a> {
    #[serde(flatten)]
    facts: &'a EmergencyFacts,
    rows: Vec<Row>,
    status: String,
    size_pt: f64,
    /// How many of the sheets are named.
    named: usize,
}

/// Sizes tried, largest first: the page is read from a step away.
const SIZES_PT: [f64; 6] = [16.0, 15.0, 14.0, 13.0, 12.0, 11.0];

/// More sheets than this are not named on a wall; what to do first stands larger for it.
const MOST_NAMED: usize = 12;

/// Sets it on one A4 page as PDF/A-2b.
///
/// # Errors
/// [`SheetError::Pages`] when the words do not fit on one page.
pub fn emergency_page(facts: &EmergencyFacts, rows: &[Emergency]) -> Result<Vec<u8>, SheetError> {
    let mut sources: Vec<String> = rows.iter().map(|row| row.cite.to_string()).collect();
    sources.dedup();
    let given = |words: &Option<String>| words.clone().filter(|words| !words.trim().is_empty());
    let facts = EmergencyFacts {
        studio: given(&facts.studio),
        emergency_number: given(&facts.emergency_number),
        poison_centre: given(&facts.poison_centre),
        ..facts.clone()
    };
    let mut last = SheetError::Pages(0);
    // Names give way before the size does once the words are small.
    let most = facts.sheets.len().min(MOST_NAMED);
    let tried = SIZES_PT.map(|size| (size, most)).into_iter().chain([(12.0, most / 2), (12.0, 0), (11.0, 0)]);
    for (size_pt, named) in tried {
        let rows = rows.iter().map(|row| Row { when: row.when, first: row.do_first, then: row.then }).collect();
        let data = Data { facts: &facts, rows, status: sources.join("; "), size_pt, named };
        let supplies = vec![Supply { path: "/data.json", bytes: serde_json::to_vec(&data)? }];
        match set_one_page(include_str!("../templates/emergency.typ"), supplies, facts.day) {
            Err(SheetError::Pages(pages)) => last = SheetError::Pages(pages),
            done => return done,
        }
    }
    Err(last)
}
