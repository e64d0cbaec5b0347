//! Readings of a chart, and the response and correction they come to. Nothing here needs a book.

use handcoat_craft::tone::{
    Correction, Memory, PatchReading, Target, ToneError, ToneFit, Warning, fit as fitted, warnings,
};
use handcoat_exchange::{ChartRow, DecimalMark, chart_table, curve_table, read_chart};

use crate::exchange::{found, read_mark};
use crate::expose::{none_of, one_of};
use crate::{Question, Refusal, Remedy};

/// Answers about a chart. `None` is a question left open.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
#[allow(missing_docs, reason = "each field answers the question of the same name")]
pub struct ChartAnswers {
    pub decimal_mark: Option<String>,
    pub target: Option<String>,
}

/// What a chart came to.
#[derive(Clone, Debug, PartialEq)]
pub struct ToneRead {
    /// Its readings as they stood in the table.
    pub rows: Vec<ChartRow>,
    /// The response.
    pub fit: ToneFit,
    /// The correction for the target.
    pub correction: Correction,
    /// What to know.
    pub warnings: Vec<Warning>,
}

impl ToneRead {
    /// From readings that were fitted.
    pub(super) fn of(rows: Vec<ChartRow>, fit: ToneFit, target: Target) -> Result<Self, ToneError> {
        let correction = Correction::of(&fit, target)?;
        let own: Vec<PatchReading> = rows.iter().map(|own| own.reading).collect();
        let warnings = warnings(&own, &fit, &correction);
        Ok(Self { rows, fit, correction, warnings })
    }

    /// The readings alone.
    #[must_use]
    pub fn readings(&self) -> Vec<PatchReading> {
        self.rows.iter().map(|own| own.reading).collect()
    }

    /// For which target the correction is.
    #[must_use]
    pub fn target(&self) -> Target {
        self.correction.target()
    }
}

/// Rows of a table of readings.
pub(super) fn rows(answers: &ChartAnswers, bytes: &[u8]) -> Result<Vec<ChartRow>, Refusal> {
    let mark = answers.decimal_mark.as_ref().map_or(Ok(DecimalMark::Point), |own| read_mark(Some(own)))?;
    let table = read_chart(bytes, mark);
    let wanted = "`input` and `l_star` or `density`, and `x_mm` with `y_mm` where the places are known,";
    match found(&table.findings, wanted, "chart.csv") {
        Some(refusal) => Err(refusal),
        None => Ok(table.rows),
    }
}

pub(super) fn target(answers: &ChartAnswers) -> Result<Target, Refusal> {
    let about = Question::Target;
    let words = Target::ALL.map(|own| (own.word(), own));
    answers.target.as_ref().map_or(Ok(Target::default()), |own| {
        one_of(own, &words).ok_or_else(|| {
            let (cause, remedies) = none_of(about, own, &words);
            Refusal::unreadable("target_unknown", about, cause, remedies)
        })
    })
}

/// Fits the response of a chart and makes its correction; what an earlier fit knew is added where one is given.
///
/// # Errors
/// [`Refusal`] when the table cannot be read, or there is no response in it.
pub fn fit_chart(answers: &ChartAnswers, bytes: &[u8], earlier: Option<&Memory>) -> Result<ToneRead, Refusal> {
    let target = target(answers)?;
    let rows = rows(answers, bytes)?;
    let own: Vec<PatchReading> = rows.iter().map(|own| own.reading).collect();
    let fit = fitted(&own, earlier).map_err(|own| refused(&own))?;
    ToneRead::of(rows, fit, target).map_err(|own| refused(&own))
}

fn code(error: &ToneError) -> &'static str {
    match error {
        ToneError::TooFewInputs { .. } => "inputs_few",
        ToneError::TooManyPatches { .. } => "patches_many",
        ToneError::NoTones { .. } => "chart_flat",
        ToneError::Upside => "chart_upside_down",
        ToneError::EndsMissing { .. } => "ends_missing",
        ToneError::NoFit => "fit_not_found",
    }
}

/// The refusal of readings without a response.
pub(super) fn refused(error: &ToneError) -> Refusal {
    let about = Question::Table;
    Refusal::rule(code(error), about, error.to_string(), vec![Remedy::Write(about, "chart.csv".into())])
}

/// The correction as a table `input,output`.
#[must_use]
pub fn curve_csv(read: &ToneRead) -> String {
    curve_table(&read.correction)
}

/// The readings as a table that can be read again.
#[must_use]
pub fn readings_csv(read: &ToneRead) -> String {
    chart_table(read.rows.iter().map(|own| &own.reading))
}

/// A chart of an invented paper to begin with: 31 patches in no order on a sheet of 200 by 140 mm, with some scatter and one wrong reading.
/// `corrected` gives the same paper printed through a curve that is sent for each tone.
#[must_use]
pub fn sample_chart(corrected: Option<&Correction>) -> String {
    const PATCHES: usize = 31;
    let mut out = String::from("patch,input,l_star,x_mm,y_mm,copy\n");
    // A fixed sequence (Lehmer's generator with Park and Miller's numbers) stands in for scatter: the same sample everywhere.
    let mut state: u64 = if corrected.is_some() { 48_271 } else { 16_807 };
    let mut next = || {
        state = state * 16_807 % 2_147_483_647;
        state as f64 / 2_147_483_647.0 - 0.5
    };
    for patch in 0..PATCHES {
        // Thirteen has no factor in common with 31, so every level comes once, far from its neighbours.
        let tone = ((patch * 13) % PATCHES) as f64 / (PATCHES - 1) as f64;
        let sent = corrected.map_or(tone, |own| {
            handcoat_craft::measure::ToneInput::part(tone).map_or(tone, |tone| own.send(tone).to_part())
        });
        let (x, y) = (15.0 + 28.0 * (patch % 7) as f64, 15.0 + 26.0 * (patch / 7) as f64);
        let coat = 0.8 * (x / 70.0).sin() - 0.6 * (y / 45.0).cos();
        let wrong = if patch == 17 && corrected.is_none() { -4.5 } else { 0.0 };
        let l_star = sample_paper(sent) + coat + 0.5 * (next() + next()) + wrong;
        out.push_str(&format!("{},{tone:.4},{l_star:.2},{x},{y},1\n", patch + 1));
    }
    out
}

/// What an invented paper prints for an input, L*: dark and steep at first, white from about input 0.9 on.
#[must_use]
pub fn sample_paper(input: f64) -> f64 {
    let bent = |x: f64| 1.0 / (1.0 + (-7.5 * (x - 0.42)).exp());
    22.0 + 71.5 * ((bent(input.min(0.92)) - bent(0.0)) / (bent(0.92) - bent(0.0)))
}
