//! Readings of a chart, and the response and correction they come to. Nothing here needs a book.

use handcoat_craft::colour::Lab;
use handcoat_craft::measure::ToneInput;
use handcoat_craft::tone::{
    Correction, PatchReading, PriorUse, Target, Tint, ToneError, ToneFit, Warning, fit as fitted, same_readings,
    warnings,
};
use handcoat_exchange::{ChartRow, DecimalMark, chart_table, curve_table, read_chart};

use crate::exchange::{found, read_mark};
use crate::expose::{none_of, one_of};
use crate::negative::{NO_INK, ink};
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

    /// The one ink its chart was printed in, as an answer writes it; `none` where it was grey, nothing where nobody said.
    #[must_use]
    pub fn ink(&self) -> Option<&str> {
        self.rows.iter().find_map(|own| own.ink.as_deref())
    }

    /// The tint of its print by how light it is; nothing is known of a scan without colour.
    #[must_use]
    pub fn tint(&self) -> Option<Tint> {
        let patch = |own: &ChartRow| {
            let (a_star, b_star) = own.tint?;
            let l_star = own.reading.lightness.to_l_star();
            Some((own.reading.input, Lab { l_star, a_star, b_star }))
        };
        let kept = self.rows.iter().enumerate().filter(|own| !self.fit.outliers.contains(&own.0));
        let patches: Vec<(ToneInput, Lab)> = kept.filter_map(|own| patch(own.1)).collect();
        if patches.is_empty() { None } else { Some(Tint::read(&patches)) }
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
        Some(refusal) => return Err(refusal),
        None => {
            // All rows have the same.
            let said = table.rows.first().and_then(|own| own.ink.as_deref()).filter(|own| *own != NO_INK);
            said.map(ink).transpose()?;
        }
    }
    Ok(table.rows)
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

/// Fits the response of a chart and makes its correction; what an earlier fit knew is added where one is given, unless it knew it from the
/// same readings.
///
/// # Errors
/// [`Refusal`] when the table cannot be read, or there is no response in it.
pub fn fit_chart(answers: &ChartAnswers, bytes: &[u8], earlier: Option<&ToneRead>) -> Result<ToneRead, Refusal> {
    let target = target(answers)?;
    let rows = rows(answers, bytes)?;
    let own: Vec<PatchReading> = rows.iter().map(|own| own.reading).collect();
    let repeated = earlier.is_some_and(|earlier| same_readings(&own, &earlier.readings()));
    let known = earlier.filter(|_| !repeated).map(|own| &own.fit.memory);
    let mut fit = fitted(&own, known).map_err(|own| refused(&own))?;
    if repeated {
        fit.prior = PriorUse::Repeated;
    }
    ToneRead::of(rows, fit, target).map_err(|own| refused(&own))
}

fn code(error: &ToneError) -> &'static str {
    match error {
        ToneError::TooFewInputs { .. } => "inputs_few",
        ToneError::TooManyPatches { .. } => "patches_many",
        ToneError::NoTones { .. } => "chart_flat",
        ToneError::Upside => "chart_upside_down",
        ToneError::EndsMissing { .. } => "ends_missing",
        ToneError::ReadBefore => "update_none",
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
