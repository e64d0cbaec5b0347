//! The sheet of a day's printing: the timeline, what to do next with a box for each step, and room for the drops.

use serde::Serialize;

use crate::press::{Supply, set_any, set_one_page};
use crate::{PaperSize, SheetError};

/// One thing to do.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct SessionStep {
    /// When.
    pub at: String,
    /// Whose hand; nothing where only one works.
    pub hand: Option<String>,
    /// Which print.
    pub print: String,
    /// What to do.
    pub what: String,
    /// Until when.
    pub until: String,
}

/// The drops of one print. What is not known yet is left blank to write on.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize)]
#[allow(missing_docs, reason = "each is a column of the same name")]
pub struct DropsRow {
    pub print: String,
    pub size: Option<String>,
    pub iron: Option<String>,
    pub palladium: Option<String>,
    pub platinum: Option<String>,
    pub contrast: Option<String>,
    pub exposure: Option<String>,
}

/// All that stands on it.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct SessionSheet {
    /// Heading.
    pub title: String,
    /// Whose studio.
    pub studio: Option<String>,
    /// Year, month, day.
    pub day: (i32, u8, u8),
    /// Whether the data are invented.
    pub invented: bool,
    /// The paper it is printed on.
    #[serde(skip)]
    pub paper: PaperSize,
    /// Sentences under the heading.
    pub summary: Vec<String>,
    /// The timeline, as SVG.
    #[serde(skip)]
    pub timeline: String,
    /// The timeline in a few words, for those who do not see it.
    pub timeline_words: String,
    /// What to do, in order.
    pub steps: Vec<SessionStep>,
    /// The drops.
    pub drops: Vec<DropsRow>,
    /// The usual cautions.
    pub cautions: String,
}

#[derive(Serialize)]
struct Data<'a> {
    #[serde(flatten)]
    sheet: &'a SessionSheet,
    paper: &'static str,
    hands: bool,
    room_pt: f64,
}

/// Room above and below a line, roomiest first: a sheet that can be one page is one.
const ROOM_PT: [f64; 4] = [4.5, 3.6, 2.8, 2.2];

/// Sets it as PDF/A-2b: on one page if its steps fit there, else on as many as they take.
///
/// # Errors
/// [`SheetError`] when it cannot be set.
pub fn session_sheet(sheet: &SessionSheet) -> Result<Vec<u8>, SheetError> {
    let supplies = |room_pt: f64| -> Result<Vec<Supply>, SheetError> {
        let hands = sheet.steps.iter().any(|step| step.hand.is_some());
        let data = Data { sheet, paper: sheet.paper.press_name(), hands, room_pt };
        Ok(vec![
            Supply { path: "/data.json", bytes: serde_json::to_vec(&data)? },
            Supply { path: "/timeline.svg", bytes: sheet.timeline.clone().into_bytes() },
        ])
    };
    let template = include_str!("../templates/session_sheet.typ");
    for room_pt in ROOM_PT {
        match set_one_page(template, supplies(room_pt)?, sheet.day) {
            // Far too long is not tried closer.
            Err(SheetError::Pages(2)) => {}
            Err(SheetError::Pages(_)) => break,
            done => return done,
        }
    }
    let [roomy, ..] = ROOM_PT;
    set_any(template, supplies(roomy)?, sheet.day)
}
