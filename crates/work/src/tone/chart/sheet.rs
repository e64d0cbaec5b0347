//! The sheet that goes with a chart: from the file to the scan.

use handcoat_craft::measure::fixed;
use handcoat_craft::source::DROP_AT_MM;
use handcoat_sheets::{ChartSheet, ChartStep, SheetRow};

use super::make::{ChartPrintAnswers, planned};
use super::whose::ChartOf;
use crate::negative::CurveOf;
use crate::session::read_paper;
use crate::tone::ReportFacts;
use crate::{Question, Refusal, Remedy};

const CAUTIONS: &str = "Do not look into the lamp; UV glasses where its box is open. Gloves; the metal salts harm eyes and skin and can make you allergic. \
    Local rules and the suppliers' sheets come before this page.";
const BLANKS: [&str; 6] = ["paper and lot", "coat", "lamp, time", "developed", "dry at", "scanned as"];

/// What is done with a chart, in order; one that is printed as it lies on the print says so.
#[must_use]
pub fn chart_steps(answers: &ChartPrintAnswers) -> Vec<(&'static str, String)> {
    let turned = match (answers.no_mirror, answers.no_invert) {
        (false, false) => "It is mirrored already, and light for dark.",
        (true, false) => "It is light for dark already, and not mirrored.",
        (false, true) => "It is mirrored already, and its tones are those of the print.",
        (true, true) => "It is neither mirrored nor light for dark: both is left to you.",
    };
    vec![
        (
            "On film",
            format!(
                "Print the file at 100 %, not fitted to the page, without colour management, the driver set as for your negatives. {turned} Measure from the \
                 middle of one drop to that of the next: it must be what stands above."
            ),
        ),
        (
            "Dry ink",
            "Let the ink dry through before it touches coated paper; a damp film marks both, and its density still changes.".into(),
        ),
        ("Coat", "Coat as always with this set-up, to beyond all four edges of the chart.".into()),
        (
            "Expose",
            "Ink side on the coat, for the base time of the set-up: the shortest that gives full black through clear film.".into(),
        ),
        (
            "Process",
            "Develop, clear and wash as your prints are: what is left out here is missing from the curve.".into(),
        ),
        ("Dry print", "Let it dry through and lie flat, overnight if you can. Damp prints are darker than dry ones.".into()),
        (
            "Scan",
            "The whole chart with some paper around it, as a positive, 16 bits, grey or RGB, 300 to 600 pixels to the inch. No automatic corrections: no exposure, no \
             colours, no sharpening, no removal of dust. Any turn will do. A step strip of known densities goes beside it."
                .into(),
        ),
        ("Read", "handcoat tone read scan.tif -o readings.csv, or drop the scan on the page “Read a scan”.".into()),
    ]
}

/// Sets the sheet of a chart as it is asked for, as a PDF.
///
/// # Errors
/// [`Refusal`] when an answer cannot be taken, or the sheet cannot be set.
pub fn chart_sheet(
    answers: &ChartPrintAnswers,
    curve: Option<&CurveOf>,
    of: &ChartOf,
    facts: &ReportFacts,
) -> Result<Vec<u8>, Refusal> {
    let plan = planned(answers, curve.is_some(), of)?;
    let (frame, code) = (&plan.layout.frame, &plan.layout.code);
    let row =
        |label: &str, value: String, unit: &str| SheetRow { label: label.into(), value, unit: unit.into(), cas: None };
    let between = |side: f64| fixed(side - 2.0 * DROP_AT_MM.value, 0);
    let mut rows = vec![
        row("patches", format!("{} levels, each {} times", code.size.levels(), code.size.copies()), ""),
        row("chart", format!("{} × {}", fixed(frame.width_mm, 0), fixed(frame.height_mm, 0)), " mm"),
        row("from drop to drop", format!("{} and {}", between(frame.width_mm), between(frame.height_mm)), " mm"),
        row("its code", code.to_string(), ""),
        row("through", curve.map_or("no curve".into(), |own| format!("the curve of {}", own.from)), ""),
        row("base exposure", of.setup.as_ref().and_then(|own| own.base.clone()).unwrap_or("not found yet".into()), ""),
        row("printed in", plan.ink.map_or("grey".into(), |own| format!("the ink {}", own.name)), ""),
    ];
    rows.extend(facts.setup.clone().map(|own| row("set-up", own, "")));
    let step = |(word, text): (&str, String)| ChartStep { word: word.into(), text };
    let sheet = ChartSheet {
        title: facts.title.clone(),
        what: plan.letters,
        studio: facts.studio.clone(),
        day: facts.day.numbers(),
        invented: facts.invented,
        paper: read_paper(facts.paper.as_ref())?,
        chart_mm: (frame.width_mm, frame.height_mm),
        facts: rows,
        steps: chart_steps(answers).into_iter().map(step).collect(),
        blanks: BLANKS.map(String::from).to_vec(),
        cautions: CAUTIONS.into(),
    };
    handcoat_sheets::chart_sheet(&sheet).map_err(|error| {
        Refusal::file(
            "sheet_not_set",
            Question::ReportFile,
            error.to_string(),
            vec![Remedy::LeaveOut(Question::ReportFile)],
        )
    })
}
