//! Calibrating at the bench.

use handcoat_craft::measure::{
    Area, Length, Mass, MassDensity, Readable, RelativeHumidity, Share, Size, Temperature, Uncertain, Uptake, Volume,
    shortened,
};
use handcoat_craft::measure::{DropCount, significant};
use handcoat_craft::paper::{
    Dropper, DropperError, Margin, Run, SaltBox, ShareError, SharesWeighed, Sheet, Taken, WaterDrops, Weighings,
};
use handcoat_craft::source::{BOX_RANGE, BOX_SALTS};

use crate::stock::{needed, read, read_balance, read_formula};
use crate::{Question, Refusal, Remedy};

/// Answers about a salt box. `None` is a question left open.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
#[allow(missing_docs, reason = "each field answers the question of the same name")]
pub struct BoxAnswers {
    pub salt: Option<String>,
    pub temperature: Option<String>,
}

/// A box and the humidity in it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Humidity {
    /// The box.
    pub salt_box: SaltBox,
    /// The humidity.
    pub humidity: Uncertain<RelativeHumidity>,
    /// At this temperature.
    pub at: Temperature,
}

/// The humidity over a salt, or over every salt of the table.
///
/// # Errors
/// [`Refusal`] for a salt without a row, or a temperature no room has.
pub fn humidities(answers: &BoxAnswers) -> Result<Vec<Humidity>, Refusal> {
    let usual = String::from("20C");
    let at = read::<Temperature>(Question::Temperature, Some(answers.temperature.as_ref().unwrap_or(&usual)))?;
    let at = at.ok_or_else(|| Refusal::missing(Question::Temperature, "20C"))?;
    let boxes: Vec<SaltBox> = match &answers.salt {
        None => SaltBox::all().collect(),
        Some(text) => {
            let about = Question::BoxSalt;
            let found = SaltBox::with(&read_formula(about, text)?);
            vec![found.ok_or_else(|| {
                let cause = format!("no humidity is known here over `{}`", shortened(text.trim()));
                let remedies = BOX_SALTS.iter().map(|row| Remedy::Write(about, row.formula.into())).collect();
                Refusal::rule("box_salt_unknown", about, cause, remedies)
            })?]
        }
    };
    let of = |salt_box: SaltBox| {
        let humidity = salt_box.humidity(at).ok_or_else(|| {
            let about = Question::Temperature;
            let (least, most) = BOX_RANGE.value;
            let cause = format!(
                "humidities are known from {least} to {most} °C, and {} °C is asked",
                significant(at.to_celsius(), 4)
            );
            Refusal::rule("box_out_of_range", about, cause, vec![Remedy::Write(about, "20C".into())])
        })?;
        Ok(Humidity { salt_box, humidity, at })
    };
    boxes.into_iter().map(of).collect()
}

/// Answers about a dropper. `None` is a question left open.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
#[allow(missing_docs, reason = "each field answers the question of the same name")]
pub struct DropperAnswers {
    /// `203drops 10mL`, `20drops 0.98g`.
    pub runs: Vec<String>,
    pub water_at: Option<String>,
    pub density: Option<String>,
    pub balance: Option<String>,
    pub glass: Option<String>,
}

fn read_run(text: &str) -> Result<Run, Refusal> {
    let about = Question::DropRun;
    let unreadable = || {
        let cause = format!(
            "`{}` is no run of drops; expected their count and what they came to, as `203drops 10mL`",
            shortened(text.trim())
        );
        Refusal::unreadable("run_unreadable", about, cause, vec![Remedy::Write(about, "203drops 10mL".into())])
    };
    let at = text.find("drops").map(|at| at + "drops".len()).or_else(|| text.find("dr ").map(|at| at + "dr".len()));
    // OK because both ends lie where `find` saw a word end.
    let (drops, taken) = text.split_at_checked(at.ok_or_else(unreadable)?).ok_or_else(unreadable)?;
    let taken = taken.trim().trim_start_matches(['=', ':', '/']).trim();
    if taken.is_empty() {
        return Err(unreadable());
    }
    let drops = DropCount::read(drops).map_err(|error| Refusal::quantity(about, "`203drops 10mL`", &error))?;
    let taken = match (Volume::read(taken), Mass::read(taken)) {
        (Ok(volume), _) => Taken::Volume(volume),
        (Err(_), Ok(mass)) => Taken::Mass(mass),
        (Err(error), Err(_)) => return Err(Refusal::quantity(about, "`203drops 10mL`", &error)),
    };
    Ok(Run { drops, taken })
}

/// Drops to the millilitre, from runs that were counted or weighed.
///
/// # Errors
/// [`Refusal`] when a run cannot be read, came to nothing, or was weighed without a density.
pub fn calibrate_dropper(answers: &DropperAnswers) -> Result<(Dropper, Option<Temperature>), Refusal> {
    if answers.runs.is_empty() {
        return Err(Refusal::missing(Question::DropRun, "203drops 10mL"));
    }
    let runs = answers.runs.iter().map(|text| read_run(text)).collect::<Result<Vec<_>, _>>()?;
    let water_at = read::<Temperature>(Question::WaterAt, answers.water_at.as_ref())?;
    let density = read::<MassDensity>(Question::Density, answers.density.as_ref())?;
    if water_at.is_some() && density.is_some() {
        let cause = String::from("the drops are said to be of water, and of a solution with a density of its own");
        let remedies = vec![Remedy::LeaveOut(Question::WaterAt), Remedy::LeaveOut(Question::Density)];
        return Err(Refusal::rule("density_said_twice", Question::Density, cause, remedies));
    }
    let known = WaterDrops {
        water_at,
        density: density.map(|own| Uncertain::new(own, 0.0)),
        balance: read_balance(answers.balance.as_ref())?,
        glass: read(Question::Glass, answers.glass.as_ref())?,
    };
    let dropper = Dropper::calibrated(&runs, &known).map_err(|error| {
        let (about, remedies) = match error {
            DropperError::Nothing | DropperError::OutOfBounds(_) => {
                (Question::DropRun, vec![Remedy::Write(Question::DropRun, "203drops 10mL".into())])
            }
            DropperError::DensityMissing => (
                Question::Density,
                vec![
                    Remedy::Write(Question::WaterAt, "20C".into()),
                    Remedy::Write(Question::Density, "1.12g/mL".into()),
                ],
            ),
            DropperError::NoWater(_) => (Question::WaterAt, vec![Remedy::Write(Question::WaterAt, "20C".into())]),
        };
        Refusal::rule(error.code(), about, error.to_string(), remedies)
    })?;
    Ok((dropper, water_at))
}

/// Answers about what reached the paper. `None` is a question left open.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
#[allow(missing_docs, reason = "each field answers the question of the same name")]
pub struct ShareAnswers {
    /// After less before: `21.80g-20.00g`.
    pub paper: Option<String>,
    pub brush: Option<String>,
    pub glass: Option<String>,
    pub balance: Option<String>,
    pub image: Option<String>,
    pub margin: Option<String>,
    pub density: Option<String>,
}

/// What was found by weighing.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Shared {
    /// The share on the paper.
    pub share: Uncertain<Share>,
    /// What the paper took, where its size is said.
    pub uptake: Option<(Area, Uncertain<Uptake>)>,
}

fn read_pair(about: Question, answer: Option<&String>) -> Result<Weighings, Refusal> {
    let text = needed(about, answer, "21.80g-20.00g")?;
    let (after, before) = text.trim().split_once(['-', '\u{2212}']).ok_or_else(|| {
        let cause = format!("`{}` is one weighing; expected two, after less before", shortened(text.trim()));
        Refusal::unreadable("weighings_unreadable", about, cause, vec![Remedy::Write(about, "21.80g-20.00g".into())])
    })?;
    let reading = |text: &str| Mass::read(text).map_err(|error| Refusal::quantity(about, Mass::FORMS, &error));
    Ok(Weighings { before: reading(before)?, after: reading(after)? })
}

/// The share of what was poured that is on the paper, and what the paper took.
///
/// # Errors
/// [`Refusal`] when a weighing cannot be read, or nothing reached the paper.
pub fn share_on_paper(answers: &ShareAnswers) -> Result<Shared, Refusal> {
    let balance = read_balance(answers.balance.as_ref())?;
    let weighed = SharesWeighed {
        paper: read_pair(Question::PaperWeighed, answers.paper.as_ref())?,
        brush: read_pair(Question::BrushWeighed, answers.brush.as_ref())?,
        glass: read_pair(Question::GlassWeighed, answers.glass.as_ref())?,
        balance: balance.ok_or_else(|| Refusal::missing(Question::Balance, "0.01g"))?,
    };
    let refused = |error: ShareError| {
        let about = match error {
            ShareError::NothingOnPaper(_) | ShareError::OutOfBounds(_) => Question::PaperWeighed,
            ShareError::BrushGaveWater => Question::BrushWeighed,
        };
        Refusal::rule(error.code(), about, error.to_string(), vec![Remedy::Write(about, "21.80g-20.00g".into())])
    };
    let share = weighed.share().map_err(refused)?;
    let density = read::<MassDensity>(Question::Density, answers.density.as_ref())?;
    let margin = read::<Length>(Question::Margin, answers.margin.as_ref())?.map_or(Margin::Customary, Margin::Real);
    let uptake = match read::<Size>(Question::Image, answers.image.as_ref())? {
        None => None,
        Some(image) => {
            let coated = Sheet { image, margin }.coated().map_err(|error| Refusal::bounds(Question::Image, &error))?;
            Some((coated, weighed.uptake(coated, density).map_err(refused)?))
        }
    };
    Ok(Shared { share, uptake })
}
