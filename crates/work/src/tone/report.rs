//! One page of a response: what was found, how good it is, the curve, and the readings it stands on; or of a print through its curve.

use handcoat_craft::measure::{fixed, significant};
use handcoat_craft::tone::{PatchReading, ToneFit};
use handcoat_figures::{PlotWidth, Theme, correction_plot, drift_map, left_plot, residual_plot, response_plot};
use handcoat_sheets::{SheetRow, ToneSheet};

use super::check::CheckRead;
use super::read::ToneRead;
use super::words::{ToneRow, aside_words, check_rows, found_rows, left_cells, prior_sentence, verdict, without_curve};
use crate::session::read_paper;
use crate::{Day, Question, Refusal, Remedy};

/// What a report says beyond the fit.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ReportFacts {
    /// Heading.
    pub title: String,
    /// The set-up it is of.
    pub setup: Option<String>,
    /// Whose studio.
    pub studio: Option<String>,
    /// The day it carries.
    pub day: Day,
    /// A line that says the data are invented, for samples.
    pub invented: bool,
    /// Size of the paper, as it was written.
    pub paper: Option<String>,
}

/// Rows of the table of the curve.
const CURVE_STEPS: usize = 16;

const FOOT: &str = "± is k = 2. Lightness is CIE 1976 L* of the dry print. A curve belongs to its set-up: paper lot, coat, lamp, developer, film, \
    printer, driver settings and ink. Change one of them and print a chart again.";

fn rows(rows: &[ToneRow]) -> Vec<SheetRow> {
    let one = |own: &ToneRow| SheetRow {
        label: own.label.into(),
        value: own.value.clone(),
        unit: own.unit.clone(),
        cas: None,
    };
    rows.iter().map(one).collect()
}

fn sheet(facts: &ReportFacts) -> Result<ToneSheet, Refusal> {
    Ok(ToneSheet {
        title: facts.title.clone(),
        what: facts.setup.clone(),
        studio: facts.studio.clone(),
        day: facts.day.numbers(),
        invented: facts.invented,
        paper: read_paper(facts.paper.as_ref())?,
        result: Vec::new(),
        notes: Vec::new(),
        plots: Vec::new(),
        map: false,
        heads: Vec::new(),
        table: Vec::new(),
        next: String::new(),
        foot: FOOT.into(),
    })
}

fn set(sheet: &ToneSheet) -> Result<Vec<u8>, Refusal> {
    handcoat_sheets::tone_sheet(sheet).map_err(|error| {
        let about = Question::ReportFile;
        Refusal::file("sheet_not_set", about, error.to_string(), vec![Remedy::LeaveOut(about)])
    })
}

/// The map of the sheet, with its key in the title.
fn add_map(sheet: &mut ToneSheet, readings: &[PatchReading], fit: &ToneFit) {
    let Some(map) = drift_map(readings, fit, Theme::Paper) else { return };
    let most = fit.drift.iter().map(|own| own.abs()).fold(0.0, f64::max);
    sheet.map = true;
    sheet.plots.push((
        map,
        format!("The coat over the sheet: filled darker, open lighter; largest {} L*", significant(most, 2)),
    ));
}

/// Sets the report of a response, as a PDF of one page.
///
/// # Errors
/// [`Refusal`] when the size of the paper is unknown, or it cannot be set.
pub fn report(read: &ToneRead, facts: &ReportFacts) -> Result<Vec<u8>, Refusal> {
    let readings = read.readings();
    let mut sheet = sheet(facts)?;
    sheet.result = rows(&found_rows(read));
    sheet.notes.push(format!("Target: {}.", read.target().says()));
    sheet.notes.extend(prior_sentence(read.fit.prior).map(String::from));
    let aside = aside_words(read);
    if !aside.is_empty() {
        sheet.notes.push(format!("Left aside: {}.", aside.join("; ")));
    }
    sheet.notes.extend(read.warnings.iter().map(|own| format!("Mind: {own}.")));
    let wide = PlotWidth::Page;
    sheet.plots.push((
        response_plot(&readings, &read.fit, &read.correction, wide, Theme::Paper),
        "What this set-up prints".into(),
    ));
    // The others are printed small: their words are as large as a telephone's.
    let small = PlotWidth::Phone;
    sheet.plots.push((correction_plot(&read.correction, small, Theme::Paper), "The correction".into()));
    sheet.plots.push((residual_plot(&readings, &read.fit, small, Theme::Paper), "What is left of the readings".into()));
    add_map(&mut sheet, &readings, &read.fit);
    sheet.heads = ["tone", "send", "L* wanted", "±"].map(String::from).to_vec();
    let step = read.correction.predicted().len() / CURVE_STEPS;
    let line = |own: &handcoat_craft::tone::PredictedTone| {
        vec![fixed(own.tone, 3), fixed(own.sent, 3), fixed(own.wanted, 1), fixed(2.0 * own.standard, 1)]
    };
    sheet.table = read.correction.predicted().iter().step_by(step.max(1)).map(line).collect();
    sheet.next = "Next: make a negative of a chart through this curve, print it on the same set-up, read it dry, and hold it against the target.".into();
    set(&sheet)
}

/// Sets the report of a print through a curve, as a PDF of one page.
///
/// # Errors
/// [`Refusal`] when the size of the paper is unknown, or it cannot be set.
pub fn check_report(check: &CheckRead, facts: &ReportFacts) -> Result<Vec<u8>, Refusal> {
    let mut sheet = sheet(facts)?;
    let own = &check.sent;
    sheet.result = rows(&check_rows(check));
    sheet.notes.extend(without_curve(check, None).map(|own| format!("{own}.")));
    let mut said = verdict(check);
    said.get_mut(..1).map(str::make_ascii_uppercase);
    sheet.notes.push(format!("{said}."));
    let wide = PlotWidth::Page;
    sheet.plots.push((left_plot(&check.verified.left, wide, Theme::Paper), "What the corrected print was off".into()));
    sheet.plots.push((
        residual_plot(own, &check.verified.print, PlotWidth::Phone, Theme::Paper),
        "What is left of the readings".into(),
    ));
    add_map(&mut sheet, own, &check.verified.print);
    sheet.heads = ["tone", "off by", "±"].map(String::from).to_vec();
    // The column is narrow, and the note above says what the ends are set to.
    let short = |own: String| if own.starts_with("set to") { "set".into() } else { own };
    sheet.table = left_cells(check, CURVE_STEPS).into_iter().map(|own| own.map(short).to_vec()).collect();
    sheet
        .notes
        .push("Tones 0 and 1 are set to this print's own black and white; how far these moved stands above.".into());
    sheet.next = if check.verified.within_noise() {
        "Next: print with this curve; more patches only where they are worth their paper.".into()
    } else {
        "Next: take the curve these readings improve, and print a chart through it once more.".into()
    };
    set(&sheet)
}
