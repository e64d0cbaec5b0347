//! The coat sheet of a plan: the drops on paper, to work from with wet gloves.

use handcoat_craft::coat::Plan;
use handcoat_craft::measure::{fixed, shortened, significant};
use handcoat_sheets::{CoatSheet, PaperSize, SheetCoat, SheetDrops, SheetRow};

use super::last::last_words;
use super::plan::Coated;
use super::rows::{drop_lines, fact_rows, margin_words, ratio_words, rounding_words, uptake_words};
use crate::{Day, Question, Refusal, Remedy};

/// What the sheet says beyond the plan.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct CoatSheetFacts {
    /// Whose studio.
    pub studio: Option<String>,
    /// What it is for.
    pub title: Option<String>,
    /// The day it carries.
    pub day: Day,
    /// A line that says the data are invented, for samples.
    pub invented: bool,
    /// Size of its page, as it was written.
    pub page: Option<String>,
}

/// Warnings on a sheet: the rest stand where the plan is made.
const MOST_WARNINGS: usize = 3;
/// Sheets that get a box each.
const MOST_BOXES: u32 = 24;

/// Sets the coat sheet as a PDF.
///
/// # Errors
/// [`Refusal`] when the size of the page is unknown, or with code `sheet_not_set` when it cannot be set.
pub fn coat_sheet(coated: &Coated, facts: &CoatSheetFacts) -> Result<Vec<u8>, Refusal> {
    let plan = &coated.plan;
    let sheet = CoatSheet {
        title: facts.title.clone().unwrap_or_else(|| "A coat".into()),
        what: format!("{} with {}", image_words(plan), margin_words(plan)),
        studio: facts.studio.clone(),
        day: facts.day.numbers(),
        invented: facts.invented,
        paper: page(facts.page.as_ref())?,
        warnings: plan
            .warnings
            .iter()
            .filter(|own| own.code() != "care")
            .take(MOST_WARNINGS)
            .map(ToString::to_string)
            .collect(),
        coats: coats(coated),
        sheets: if plan.request.sheets <= MOST_BOXES { plan.request.sheets } else { 1 },
        result: fact_rows(plan)
            .into_iter()
            .map(|row| SheetRow { label: row.label, value: row.value, unit: row.unit, cas: row.cas })
            .collect(),
        notes: [Some(uptake_words(plan)), Some(rounding_words(plan)), ratio_words(plan)]
            .into_iter()
            .flatten()
            .collect(),
        used: coated.used.iter().map(|own| format!("{}: {}", own.origin.heading(), own.words)).collect(),
        last: coated.last.as_ref().map(last_words).unwrap_or_default(),
    };
    handcoat_sheets::coat_sheet(&sheet).map_err(|error| {
        let remedies = vec![Remedy::LeaveOut(Question::Output)];
        Refusal::file("sheet_not_set", Question::Output, error.to_string(), remedies)
    })
}

fn page(answer: Option<&String>) -> Result<PaperSize, Refusal> {
    let Some(text) = answer else { return Ok(PaperSize::default()) };
    PaperSize::from_name(text).ok_or_else(|| {
        let about = Question::PageSize;
        let cause = format!("`{}` is no size of page known here; expected `a4` or `letter`", shortened(text));
        Refusal::unreadable("paper_size_unreadable", about, cause, vec![Remedy::Write(about, "a4".into())])
    })
}

/// The image in words.
#[must_use]
pub fn image_words(plan: &Plan) -> String {
    let size = plan.request.sheet.image;
    let cm = |mm: f64| significant(mm / 10.0, 4);
    format!("An image of {} x {} cm", cm(size.width.to_millimetres()), cm(size.height.to_millimetres()))
}

/// Which of two coats it is; nothing for a single one.
#[must_use]
pub fn coat_heading(plan: &Plan, place: usize) -> Option<String> {
    let coat = plan.coats.get(place).filter(|_| plan.coats.len() > 1)?;
    let which = if place == 0 { "First coat" } else { "Second coat" };
    Some(format!("{which}, {} % of full strength: drop in this order", fixed(coat.strength * 100.0, 0)))
}

fn coats(coated: &Coated) -> Vec<SheetCoat> {
    let plan = &coated.plan;
    let single = plan.coats.len() == 1;
    let coat = |(place, coat): (usize, &handcoat_craft::coat::Coat)| {
        let lines = drop_lines(coat).into_iter().zip(&coat.pours);
        let drops = lines.map(|((count, name), pour)| {
            let before = coated.last.as_ref().filter(|_| single).and_then(|last| last.drops_of(&pour.name));
            SheetDrops { count, name, last: before.map(|own| format!("last time {own}")) }
        });
        SheetCoat {
            heading: coat_heading(plan, place),
            drops: drops.collect(),
            water: coat.water_ml.map(|water| format!("{} mL of distilled water", fixed(water, 1))),
        }
    };
    plan.coats.iter().enumerate().map(coat).collect()
}
