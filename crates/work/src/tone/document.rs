//! A fit as JSON: what a command answers, what the next fit takes as its prior, and what the book keeps, all the same.

use handcoat_craft::measure::{Bounded, Length, Lightness, LightnessSpread, ToneInput};
use handcoat_craft::source::FIT_OFF_MOST;
use handcoat_craft::tone::{
    Correction, FieldFound, Memory, PatchReading, Place, PredictedTone, PriorUse, Quality, Response, Target, ToneFit,
};
use handcoat_exchange::ChartRow;
use serde::{Deserialize, Serialize};
use serde_json::Value;

use super::read::ToneRead;
use crate::{Question, Refusal, Remedy};

#[derive(Serialize, Deserialize)]
struct ResponseRow {
    input: f64,
    l_star: f64,
    l_star_sd: f64,
}

#[derive(Serialize, Deserialize)]
struct QualityRow {
    noise_l_star: f64,
    #[serde(default)]
    field_l_star: Option<f64>,
    #[serde(default)]
    field_length_mm: Option<f64>,
    sheet_l_star_u: f64,
    expected_rms_l_star: f64,
    #[serde(default)]
    plain_differs_l_star: Option<f64>,
}

#[derive(Serialize, Deserialize)]
struct ReadingRow {
    line: u64,
    #[serde(default)]
    patch: Option<String>,
    #[serde(default)]
    copy: Option<String>,
    input: f64,
    l_star: f64,
    #[serde(default)]
    l_star_u: Option<f64>,
    #[serde(default)]
    x_mm: Option<f64>,
    #[serde(default)]
    y_mm: Option<f64>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    a_star: Option<f64>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    b_star: Option<f64>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    ink: Option<String>,
    drift_l_star: f64,
    residual_l_star: f64,
    left_aside: bool,
}

#[derive(Serialize)]
struct EndRow {
    reached_input: f64,
    reached_input_u: f64,
    margin_input: f64,
    sent_input: f64,
}

#[derive(Serialize)]
struct PredictedRow {
    tone: f64,
    sent_input: f64,
    wanted_l_star: f64,
    expected_l_star: f64,
    difference_l_star: f64,
    difference_l_star_u: f64,
}

#[derive(Serialize)]
struct OutlierRow {
    reading: usize,
    line: u64,
    patch: Option<String>,
    input: f64,
    residual_l_star: f64,
}

#[derive(Serialize)]
struct WarningRow {
    code: &'static str,
    message: String,
}

#[derive(Serialize, Deserialize)]
struct MemoryRow {
    values: Vec<f64>,
    covariance: Vec<f64>,
}

/// What is written.
#[derive(Serialize)]
struct Written {
    response: Vec<ResponseRow>,
    correction: Vec<f64>,
    outliers: Vec<OutlierRow>,
    quality: QualityRow,
    target: &'static str,
    target_says: &'static str,
    black: EndRow,
    white: EndRow,
    predicted: Vec<PredictedRow>,
    predicted_rms_l_star: f64,
    prior: &'static str,
    readings: Vec<ReadingRow>,
    warnings: Vec<WarningRow>,
    memory: MemoryRow,
}

/// What is read back; the rest follows from it.
#[derive(Deserialize)]
struct Read {
    response: Vec<ResponseRow>,
    correction: Vec<f64>,
    quality: QualityRow,
    target: String,
    prior: String,
    readings: Vec<ReadingRow>,
    memory: MemoryRow,
}

/// A number that is written and read again may miss by its last digit.
const LAST_DIGIT: f64 = 1e-9;

const PRIORS: [(&str, PriorUse); 4] = [
    ("none", PriorUse::None),
    ("used", PriorUse::Used),
    ("contradicted", PriorUse::Contradicted),
    ("repeated", PriorUse::Repeated),
];

pub(super) fn prior_word(prior: PriorUse) -> &'static str {
    PRIORS.iter().find(|own| own.1 == prior).map_or("none", |own| own.0)
}

/// A fit as JSON.
#[must_use]
pub fn document(read: &ToneRead) -> Value {
    let fit = &read.fit;
    let response = fit.response.lightness().iter().zip(fit.response.standard()).enumerate();
    let end = |own: &handcoat_craft::tone::EndReached| EndRow {
        reached_input: own.at.best.to_part(),
        reached_input_u: own.at.standard(),
        margin_input: own.margin(),
        sent_input: own.sent.to_part(),
    };
    let predicted = |own: &PredictedTone| PredictedRow {
        tone: own.tone,
        sent_input: own.sent,
        wanted_l_star: own.wanted,
        expected_l_star: own.expected,
        difference_l_star: own.expected - own.wanted,
        difference_l_star_u: own.standard,
    };
    let quality = &fit.quality;
    let at = |all: &[f64], place: usize| all.get(place).copied().unwrap_or(0.0);
    let outlier = |place: &usize| {
        read.rows.get(*place).map(|own| OutlierRow {
            reading: place + 1,
            line: own.line,
            patch: own.patch.clone(),
            input: own.reading.input.to_part(),
            residual_l_star: at(&fit.residuals, *place),
        })
    };
    let reading = |(place, own): (usize, &ChartRow)| ReadingRow {
        line: own.line,
        patch: own.patch.clone(),
        copy: own.copy.clone(),
        input: own.reading.input.to_part(),
        l_star: own.reading.lightness.to_l_star(),
        l_star_u: own.reading.spread.map(LightnessSpread::to_l_star),
        x_mm: own.reading.place.map(|own| own.across.to_millimetres()),
        y_mm: own.reading.place.map(|own| own.down.to_millimetres()),
        a_star: own.tint.map(|own| own.0),
        b_star: own.tint.map(|own| own.1),
        ink: own.ink.clone(),
        drift_l_star: at(&fit.drift, place),
        residual_l_star: at(&fit.residuals, place),
        left_aside: fit.outliers.contains(&place),
    };
    let written = Written {
        response: response
            .map(|(row, (own, u))| ResponseRow { input: Response::input_of(row), l_star: *own, l_star_sd: *u })
            .collect(),
        correction: read.correction.inputs().to_vec(),
        outliers: fit.outliers.iter().filter_map(outlier).collect(),
        quality: QualityRow {
            noise_l_star: quality.noise,
            field_l_star: quality.field.map(|own| own.deviation),
            field_length_mm: quality.field.map(|own| own.length_mm),
            sheet_l_star_u: quality.sheet_u,
            expected_rms_l_star: quality.expected,
            plain_differs_l_star: quality.plain_differs,
        },
        target: read.target().word(),
        target_says: read.target().says(),
        black: end(&read.correction.black),
        white: end(&read.correction.white),
        predicted: read.correction.predicted().iter().map(predicted).collect(),
        predicted_rms_l_star: read.correction.expected_rms(),
        prior: prior_word(fit.prior),
        readings: read.rows.iter().enumerate().map(reading).collect(),
        warnings: read.warnings.iter().map(|own| WarningRow { code: own.code(), message: own.to_string() }).collect(),
        memory: MemoryRow { values: fit.memory.values().to_vec(), covariance: fit.memory.covariance().to_vec() },
    };
    // Numbers and words alone: there is nothing in it that JSON has no form for.
    serde_json::to_value(&written).unwrap_or(Value::Null)
}

/// Reads a fit that was written earlier, from its bytes; what it is not is said in words.
///
/// # Errors
/// [`Refusal`] when it is no JSON, or not that of a fit.
pub fn read_document(about: Question, bytes: &[u8]) -> Result<ToneRead, Refusal> {
    let refused = |what: String| {
        let cause = format!("{what}; expected what `handcoat tone fit … --json` printed");
        Refusal::unreadable("fit_unreadable", about, cause, vec![Remedy::Write(about, "fit.json".into())])
    };
    let value: Value =
        serde_json::from_slice(bytes).map_err(|error| refused(format!("the earlier fit is no JSON: {error}")))?;
    of_value(&value).map_err(|what| refused(format!("the JSON is not that of a fit: {what}")))
}

/// The same from JSON; the error says what is missing or out of bounds.
pub(super) fn of_value(value: &Value) -> Result<ToneRead, String> {
    let read = Read::deserialize(value).map_err(|error| error.to_string())?;
    let mut last = Lightness::LEAST;
    for (row, own) in read.response.iter().enumerate() {
        let before = row.checked_sub(1).and_then(|own| read.response.get(own));
        if before.is_some_and(|before| own.l_star < before.l_star - LAST_DIGIT) {
            return Err(format!("`response` falls at row {}", row + 1));
        }
        if (own.input - Response::input_of(row)).abs() > LAST_DIGIT {
            return Err(format!("`response` has another input than {} at row {}", Response::input_of(row), row + 1));
        }
    }
    let lightness = read.response.iter().map(|own| {
        // A number that is written and read again may end on the digit beside it.
        last = own.l_star.max(last);
        last
    });
    let lightness = lightness.collect();
    let standard = read.response.iter().map(|own| own.l_star_sd).collect();
    let response = Response::new(lightness, standard)
        .ok_or("`response` is not 257 rows of a lightness that never falls and its uncertainty")?;
    let memory = Memory::new(read.memory.values, read.memory.covariance)
        .ok_or("`memory` is not that of this version of the fit, or holds numbers no fit comes to")?;
    let target = Target::ALL.into_iter().find(|own| own.word() == read.target);
    let target = target.ok_or("`target` is none that is known")?;
    let prior = PRIORS.iter().find(|own| own.0 == read.prior).ok_or("`prior` is none that is known")?.1;
    let mut rows = Vec::with_capacity(read.readings.len());
    let (mut drift, mut residuals, mut outliers) = (Vec::new(), Vec::new(), Vec::new());
    for (place, own) in read.readings.iter().enumerate() {
        rows.push(row(own).ok_or_else(|| format!("reading {} is out of bounds", place + 1))?);
        drift.push(own.drift_l_star);
        residuals.push(own.residual_l_star);
        outliers.extend(own.left_aside.then_some(place));
    }
    let quality = &read.quality;
    let most = FIT_OFF_MOST.value;
    let sizes = [quality.noise_l_star, quality.sheet_l_star_u, quality.expected_rms_l_star];
    let others = [quality.field_l_star, quality.plain_differs_l_star].into_iter().flatten();
    if !sizes.into_iter().chain(others).all(|own| (0.0..=most).contains(&own)) {
        return Err("`quality` is out of bounds".into());
    }
    if !drift.iter().chain(&residuals).all(|own| own.abs() <= most) {
        return Err("a drift or a residual of `readings` is out of bounds".into());
    }
    let field = quality.field_l_star.zip(quality.field_length_mm);
    let fit = ToneFit {
        response,
        drift,
        residuals,
        outliers,
        quality: Quality {
            noise: quality.noise_l_star,
            field: field.map(|(deviation, length_mm)| FieldFound { deviation, length_mm }),
            sheet_u: quality.sheet_l_star_u,
            expected: quality.expected_rms_l_star,
            plain_differs: quality.plain_differs_l_star,
        },
        prior,
        memory,
    };
    let mut made = ToneRead::of(rows, fit, target).map_err(|own| own.to_string())?;
    made.correction = Correction::with_inputs(made.correction, read.correction)
        .ok_or("`correction` is not 257 inputs that never fall")?;
    Ok(made)
}

fn row(own: &ReadingRow) -> Option<ChartRow> {
    let place = match (own.x_mm, own.y_mm) {
        (Some(x), Some(y)) => Some(Place { across: Length::millimetres(x).ok()?, down: Length::millimetres(y).ok()? }),
        _ => None,
    };
    let spread = match own.l_star_u {
        Some(own) => Some(LightnessSpread::l_star(own).ok()?),
        None => None,
    };
    let input = ToneInput::part(own.input).ok()?;
    let reading = PatchReading { input, lightness: Lightness::l_star(own.l_star).ok()?, place, spread };
    let tint = own.a_star.zip(own.b_star);
    Some(ChartRow {
        line: own.line,
        patch: own.patch.clone(),
        copy: own.copy.clone(),
        reading,
        tint,
        ink: own.ink.clone(),
    })
}
