//! A wedge that was read: a table of densities becomes base time and exposure scale.

use handcoat_craft::expose::{Criteria, DryOrWet, InkRank, InkSteps, Noise, Shoulder, SilverWedge, WedgeFit};
use handcoat_craft::measure::{PrintDensity, ReadingNoise, StepDensity};
use handcoat_craft::source::BLACK_WITHIN;
use handcoat_exchange::{DecimalMark, WedgeTable, read_wedge};

use serde::{Deserialize, Serialize};

use super::given::{Exposed, Given, lasting};
use super::refused::{none_of, one_of, refused};
use crate::exchange::{found, read_mark};
use crate::stock::read;
use crate::{Question, Refusal};

/// Answers about a wedge. `None` is a question left open.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(default)]
#[allow(missing_docs, reason = "each field answers the question of the same name")]
pub struct WedgeAnswers {
    pub test_time: Option<String>,
    pub test_units: Option<String>,
    pub shoulder: Option<String>,
    pub black_within: Option<String>,
    pub reading_noise: Option<String>,
    pub decimal_mark: Option<String>,
    /// The print was read wet.
    pub wet: bool,
}

/// What a wedge came to.
#[derive(Clone, Debug, PartialEq)]
pub struct WedgeRead {
    /// What was read: density of the step and of the print beneath it.
    pub readings: Vec<(StepDensity, PrintDensity)>,
    /// The curve.
    pub fit: WedgeFit,
    /// How far readings scatter.
    pub noise: Noise,
    /// The exposure of the test.
    pub test: Given,
    /// To full black; none when the wedge did not bracket.
    pub base: Option<Exposed>,
    /// To nine tenths, the other criterion.
    pub shoulder: Option<Exposed>,
}

/// What steps of ink came to.
#[derive(Clone, Debug, PartialEq)]
pub struct InkRead {
    /// The order.
    pub rank: InkRank,
    /// What was read, step by step.
    pub prints: Vec<PrintDensity>,
}

fn table(bytes: &[u8], mark: Option<&String>, ink: bool) -> Result<WedgeTable, Refusal> {
    let mark = mark.map_or(Ok(DecimalMark::Point), |own| read_mark(Some(own)))?;
    let table = read_wedge(bytes, mark, ink);
    let wanted = if ink { "`print_density`" } else { "`step_density` and `print_density`" };
    match found(&table.findings, wanted, "wedge.csv") {
        Some(refusal) => Err(refusal),
        None => Ok(table),
    }
}

/// Reads a silver wedge that lay on clear film.
///
/// # Errors
/// [`Refusal`] when the table cannot be read, or there is no picture in it.
pub fn wedge(answers: &WedgeAnswers, bytes: &[u8]) -> Result<WedgeRead, Refusal> {
    let test = match Given::read(answers.test_time.as_ref(), answers.test_units.as_ref())? {
        Given::Time(own) => Given::Time(lasting(Question::TestTime, own, "4:00")?),
        Given::Units(own) => Given::Units(lasting(Question::TestUnits, own, "120")?),
    };
    let words = [("net", Shoulder::Net), ("absolute", Shoulder::Absolute)];
    let shoulder = answers.shoulder.as_ref().map(|own| {
        one_of(own, &words).ok_or_else(|| {
            let (cause, remedies) = none_of(Question::Shoulder, own, &words);
            Refusal::unreadable("shoulder_unknown", Question::Shoulder, cause, remedies)
        })
    });
    let within = match read::<PrintDensity>(Question::BlackWithin, answers.black_within.as_ref())? {
        Some(own) => own,
        None => {
            PrintDensity::density(BLACK_WITHIN.value).map_err(|own| Refusal::bounds(Question::BlackWithin, &own))?
        }
    };
    let criteria =
        Criteria::new(shoulder.transpose()?.unwrap_or(Shoulder::Net), within).map_err(|own| refused(&own))?;
    let noise = read::<ReadingNoise>(Question::ReadingNoise, answers.reading_noise.as_ref())?;
    let state = if answers.wet { DryOrWet::Wet } else { DryOrWet::Dry };
    let table = table(bytes, answers.decimal_mark.as_ref(), false)?;
    let readings: Vec<(StepDensity, PrintDensity)> =
        table.rows.iter().filter_map(|row| Some((row.step?, row.print))).collect();
    let wedge = SilverWedge::new(&readings, noise).map_err(|own| refused(&own))?;
    let fit = wedge.fit(criteria, state).map_err(|own| refused(&own))?;
    let base = test.exposed(|own| fit.base_exposure(own), |own| fit.base_exposure(own)).map_err(|own| refused(&own))?;
    let shoulder = test
        .exposed(|own| fit.shoulder_exposure(own), |own| fit.shoulder_exposure(own))
        .map_err(|own| refused(&own))?;
    Ok(WedgeRead { readings, noise: wedge.noise(), fit, test, base, shoulder })
}

/// Ranks steps of ink: which is the last full black, which the last tone. No time and no scale follows.
///
/// # Errors
/// [`Refusal`] when the table cannot be read, or there is no picture in it.
pub fn ink(answers: &WedgeAnswers, bytes: &[u8]) -> Result<InkRead, Refusal> {
    let table = table(bytes, answers.decimal_mark.as_ref(), true)?;
    let prints: Vec<PrintDensity> = table.rows.iter().map(|row| row.print).collect();
    let rank = InkSteps::new(prints.clone()).and_then(|own| own.rank()).map_err(|own| refused(&own))?;
    Ok(InkRead { rank, prints })
}
