//! The sheet of an exposure test: to work from, or to keep beside the prints.

use handcoat_craft::expose::DryOrWet;
use handcoat_craft::measure::{fixed, significant, with_uncertainty};
use handcoat_figures::{PlotWidth, Theme, wedge_plot};
use handcoat_sheets::{ReadingTable, SheetRow, StripRow, TestSheet};

use super::strip::{StripAnswers, StripRead, strips};
use super::test::{TestRead, TestView};
use super::words::{
    base_criterion, dose_words, exposed_words, not_bracketed_words, scale_criterion, shoulder_criterion,
};
use crate::session::read_paper;
use crate::{Day, Question, Refusal, Remedy};

/// What the sheet says beyond the test.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct TestSheetFacts {
    /// Whose studio.
    pub studio: Option<String>,
    /// The day it carries.
    pub day: Day,
    /// A line that says the data are invented, for samples.
    pub invented: bool,
    /// Size of the paper, as it was written.
    pub paper: Option<String>,
}

const CAUTIONS: &str = "Do not look into the lamp; UV glasses where its box is open. Gloves; the metal salts harm eyes and skin and can \
    make you allergic. Local rules and the suppliers' sheets come before this page. ± is k = 2.";

/// What is done with strips, in order.
pub const STRIP_STEPS: [&str; 3] = [
    "Lay clear film over the whole coated strip. Expose all of it for the first time.",
    "Cover strip 1 with a card and add the seconds of strip 2. Move the card over one strip more before each addition.",
    "Develop, clear and dry it. Dry, and with the others covered, tap the first strip that is no blacker than the one before it.",
];

/// Sets the sheet of strips that are planned, as a PDF.
///
/// # Errors
/// [`Refusal`] when an answer cannot be read, there are no such strips, or the sheet cannot be set.
pub fn strip_sheet(answers: &StripAnswers, facts: &TestSheetFacts) -> Result<Vec<u8>, Refusal> {
    let read = strips(answers)?;
    let blanks = ["paper and lot", "coat", "lamp, distance", "developed", "dry at", "first no blacker"];
    let sheet = TestSheet {
        title: "Exposure strips".into(),
        steps: STRIP_STEPS.map(String::from).to_vec(),
        strips: strip_rows(&StripRead { base: None, ..read }),
        blanks: blanks.map(String::from).to_vec(),
        ..blank(facts)?
    };
    handcoat_sheets::test_sheet(&sheet).map_err(|error| not_set(error.to_string()))
}

/// Sets the sheet of a test that was kept.
///
/// # Errors
/// [`Refusal`] when the size of the paper is unknown, or it cannot be set.
pub fn test_sheet(test: &TestView, read: Option<&TestRead>, facts: &TestSheetFacts) -> Result<Vec<u8>, Refusal> {
    let mut what: Vec<String> = test.setup.iter().map(|own| own.1.clone()).collect();
    what.extend(test.dose.as_deref().map(|own| dose_words(Some(own))));
    what.push(format!("kept {}", Day::of_instant(test.at)));
    let mut result = Vec::new();
    let row = |label: &str, value: String| SheetRow { label: label.into(), value, unit: String::new(), cas: None };
    if let Some(base) = &test.found.base {
        result.push(row("base exposure through clear film", exposed_words(base)));
    }
    if let Some(scale) = &test.found.scale {
        result.push(row("exposure scale, log H", with_uncertainty(scale).to_string()));
    }
    let mut notes = Vec::new();
    if test.found.base.is_none() {
        notes.push(not_bracketed_words(test.way).into());
    }
    let mut sheet = TestSheet {
        title: format!("Exposure test {}: {}", test.number, test.way.words()),
        what: Some(what.join(", ")),
        result,
        ..blank(facts)?
    };
    match read {
        Some(TestRead::Wedge(own)) => {
            let fit = &own.fit;
            if let Some(shoulder) = &own.shoulder {
                let by = shoulder_criterion(&fit.criteria);
                sheet.result.push(row(&format!("by {by} it would be"), exposed_words(shoulder)));
                notes.push(format!(
                    "Time by: {}. Scale by: {}.",
                    base_criterion(&fit.criteria),
                    scale_criterion(&fit.criteria)
                ));
            }
            let state = if fit.state == DryOrWet::Dry { "dry" } else { "wet" };
            notes.push(format!(
                "Base {}, Dmax {}, read {state}; one reading is known to {}.",
                with_uncertainty(&fit.base),
                with_uncertainty(&fit.dmax),
                significant(own.noise.reading().to_density(), 2)
            ));
            notes.extend(fit.warnings.iter().map(|own| format!("Mind: {own}.")));
            sheet.plot = Some(wedge_plot(fit, own.noise.reading(), PlotWidth::Page, Theme::Paper));
            sheet.plot_words = "Density of the print against the light under each step".into();
            let cells = |own: &handcoat_craft::expose::ReadStep| {
                vec![
                    fixed(own.step.to_density(), 2),
                    fixed(own.mean.to_density(), 3),
                    fixed(own.fitted.to_density(), 3),
                ]
            };
            sheet.readings = Some(ReadingTable {
                heads: ["step density", "print density", "curve"].map(String::from).to_vec(),
                rows: fit.steps.iter().map(cells).collect(),
            });
        }
        Some(TestRead::Strip(own)) => {
            sheet.strips = strip_rows(own);
            notes.push(format!("By: {}.", test.found.base_criterion));
        }
        Some(TestRead::Eye(_)) => {
            notes.push(format!("Time by: {}. Scale {}.", test.found.base_criterion, test.found.scale_criterion));
        }
        Some(TestRead::Ink(own)) => {
            let step = |own: Option<usize>| own.map_or("not reached".into(), |own| format!("step {own}"));
            sheet.result.push(row("last full black", step(own.rank.last_black)));
            sheet.result.push(row("last with a tone", step(own.rank.last_tone)));
        }
        None => {}
    }
    notes.extend(test.note.clone());
    sheet.notes = notes;
    handcoat_sheets::test_sheet(&sheet).map_err(|error| not_set(error.to_string()))
}

fn blank(facts: &TestSheetFacts) -> Result<TestSheet, Refusal> {
    Ok(TestSheet {
        title: String::new(),
        what: None,
        studio: facts.studio.clone(),
        day: facts.day.numbers(),
        invented: facts.invented,
        paper: read_paper(facts.paper.as_ref())?,
        steps: Vec::new(),
        strips: Vec::new(),
        result: Vec::new(),
        notes: Vec::new(),
        plot: None,
        plot_words: String::new(),
        readings: None,
        blanks: Vec::new(),
        cautions: CAUTIONS.into(),
    })
}

/// Rows of strips; with a base time the one after it was tapped.
fn strip_rows(read: &StripRead) -> Vec<StripRow> {
    let black = read.base.as_ref().map(|own| own.set.best);
    let mut before = None;
    let mut rows = Vec::new();
    for own in &read.strips {
        let first = own.number == 1;
        rows.push(StripRow {
            number: own.number.to_string(),
            add: if first { own.add.clock() } else { significant(own.add.to_seconds(), 6) },
            unit: if first { "over all".into() } else { "s more".into() },
            in_all: own.total.clock(),
            tapped: black.is_some() && before == black,
        });
        before = Some(own.total);
    }
    rows
}

fn not_set(cause: String) -> Refusal {
    Refusal::file("sheet_not_set", Question::Output, cause, vec![Remedy::LeaveOut(Question::Output)])
}
