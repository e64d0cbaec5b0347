//! The session sheet: the day's printing on paper.

use handcoat_figures::{Theme, TimelineWidth, timeline};
use handcoat_sheets::{DropsRow, SessionSheet, SessionStep};

use super::SessionPlan;
use super::answers::read_paper;
use super::words::{step_words, summary, timeline_rows};
use crate::{Day, Question, Refusal, Remedy};

/// What the sheet says beyond the plan.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct SessionSheetFacts {
    /// Whose studio.
    pub studio: Option<String>,
    /// The day it carries.
    pub day: Day,
    /// A line that says the data are invented, for samples.
    pub invented: bool,
    /// Size of the paper, as it was written.
    pub paper: Option<String>,
}

/// The drops of one print, as far as they are known; the rest is left blank to write on.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
#[allow(missing_docs, reason = "each is the column of the same name")]
pub struct Drops {
    pub print: String,
    pub size: Option<String>,
    pub iron: Option<String>,
    pub palladium: Option<String>,
    pub platinum: Option<String>,
    pub contrast: Option<String>,
}

/// What stands at the foot: the usual cautions of a day's printing.
const CAUTIONS: &str = "Gloves; no food or drink; the metal salts harm eyes and skin and can make you allergic. Do not look into the \
    lamp; UV glasses where its box is open. No acid on sulfite, no bleach near the baths. Local rules and the suppliers' sheets \
    come before this page.";

/// Sets the session sheet as a PDF; prints without a row among the drops get blanks.
///
/// # Errors
/// [`Refusal`] when the size of the paper is unknown, or with code `sheet_not_set` when it cannot be set.
pub fn session_sheet(plan: &SessionPlan, facts: &SessionSheetFacts, drops: &[Drops]) -> Result<Vec<u8>, Refusal> {
    let paper = read_paper(facts.paper.as_ref())?;
    let several = plan.means.people > 1;
    let steps = plan.hand_steps().into_iter().map(|own| {
        let (what, until) = step_words(plan, &own);
        let hand = several.then(|| own.hand.to_string());
        SessionStep { at: plan.start.after(own.at), hand, print: plan.name(own.print).into(), what, until }
    });
    let rows = plan.sheets.iter().map(|sheet| {
        let own = drops.iter().find(|row| row.print == sheet.name).cloned().unwrap_or_default();
        let Drops { size, iron, palladium, platinum, contrast, .. } = own;
        let exposure = Some(sheet.spans.expose.clock());
        DropsRow { print: sheet.name.clone(), size, iron, palladium, platinum, contrast, exposure }
    });
    let sentences = summary(plan);
    let sheet = SessionSheet {
        title: "The day's printing".into(),
        studio: facts.studio.clone(),
        day: facts.day.numbers(),
        invented: facts.invented,
        paper,
        timeline: timeline(&timeline_rows(plan), plan.start, TimelineWidth::Page, Theme::Paper),
        timeline_words: sentences.first().cloned().unwrap_or_default(),
        summary: vec![sentences.join(" ")],
        steps: steps.collect(),
        drops: rows.collect(),
        cautions: CAUTIONS.into(),
    };
    handcoat_sheets::session_sheet(&sheet).map_err(|error| not_set(error.to_string()))
}

pub(super) fn not_set(cause: String) -> Refusal {
    Refusal::file("sheet_not_set", Question::Output, cause, vec![Remedy::LeaveOut(Question::Output)])
}
