//! Readings as a person writes them: a table with heads, two columns of numbers, or one number for each step of a tablet.

use handcoat_craft::expose::StepTablet;
use handcoat_craft::measure::{Bounded as _, LogRange, PrintDensity, Readable as _, StepDensity, fixed, shortened};
use handcoat_craft::source::USUAL_TABLET;
use serde::{Deserialize, Serialize};

use super::refused::{refused, step};
use crate::stock::read;
use crate::{Question, Refusal, Remedy};

/// Answers about a tablet. `None` is a question left open.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[allow(missing_docs, reason = "each field answers the question of the same name")]
pub struct TabletAnswers {
    pub first_step: Option<String>,
    pub increment: Option<String>,
    pub steps: Option<String>,
}

/// Reads a tablet; what is not said is as usual.
///
/// # Errors
/// [`Refusal`] when an answer cannot be read, or there is no such tablet.
pub fn tablet(answers: &TabletAnswers) -> Result<StepTablet, Refusal> {
    let usual = USUAL_TABLET.value;
    let bounds = |about| move |own| Refusal::bounds(about, &own);
    let first = match read::<StepDensity>(Question::FirstStep, answers.first_step.as_ref())? {
        Some(own) => own,
        None => StepDensity::density(usual.first).map_err(bounds(Question::FirstStep))?,
    };
    let increment = match read::<LogRange>(Question::StepIncrement, answers.increment.as_ref())? {
        Some(own) => own,
        None => LogRange::log_h(usual.increment).map_err(bounds(Question::StepIncrement))?,
    };
    let steps = answers.steps.as_ref().map_or(Ok(usual.steps), |own| step(Question::StepCount, own, "21"))?;
    StepTablet::new(first, increment, steps).map_err(|own| refused(&own))
}

/// The densities of its steps, in words, from step 1 on.
#[must_use]
pub fn step_densities(tablet: &StepTablet) -> Vec<String> {
    (1..=tablet.steps()).filter_map(|own| tablet.density(own).ok()).map(|own| fixed(own.to_density(), 2)).collect()
}

fn unreadable(line: usize, text: &str, expected: &str) -> Refusal {
    let about = Question::Table;
    let cause = format!("line {line}: `{}` is no reading; expected {expected}", shortened(text.trim()));
    Refusal::unreadable("reading_unreadable", about, cause, vec![Remedy::Write(about, "0.05 1.43".into())])
}

/// One number with a point or a comma, as a print density is written.
fn number(line: usize, text: &str) -> Result<String, Refusal> {
    let read = PrintDensity::read(text).map_err(|_| unreadable(line, text, "a density from 0 to 6 as `1.43`"))?;
    Ok(format!("{}", read.in_unit()))
}

/// A table out of what was pasted. A first line with letters is the head of a table, which is left as it is; of plain numbers, two to a
/// line are a step and its print, and one to a line are prints under steps 1, 2, 3 … of the tablet.
///
/// # Errors
/// [`Refusal`] with the line that is no reading.
pub fn pasted(text: &str, tablet: &StepTablet, ink: bool) -> Result<String, Refusal> {
    let lines: Vec<(usize, &str)> =
        text.lines().enumerate().map(|(at, own)| (at + 1, own.trim())).filter(|own| !own.1.is_empty()).collect();
    let Some((_, head)) = lines.first() else { return Err(Refusal::missing(Question::Table, "0.05 1.43")) };
    if head.chars().any(char::is_alphabetic) {
        return Ok(text.into());
    }
    let mut table = String::from(if ink { "print_density\n" } else { "step_density,print_density\n" });
    for (place, (line, own)) in lines.iter().enumerate() {
        let mut cells: Vec<&str> = own.split(|sign: char| sign.is_whitespace() || sign == ';').collect();
        cells.retain(|own| !own.is_empty());
        // `0.05,1.43`: where a point is the decimal mark, a comma parts two numbers.
        if let [only] = cells.as_slice()
            && only.contains('.')
            && let Some((one, other)) = only.split_once(',')
        {
            cells = vec![one, other];
        }
        match (cells.as_slice(), ink) {
            ([print], true) => table.push_str(&format!("{}\n", number(*line, print)?)),
            ([print], false) => {
                let count = u8::try_from(place + 1).unwrap_or(u8::MAX);
                let step = tablet.density(count).map_err(|own| refused(&own))?;
                table.push_str(&format!("{},{}\n", step.to_density(), number(*line, print)?));
            }
            ([step, print], false) => {
                table.push_str(&format!("{},{}\n", number(*line, step)?, number(*line, print)?));
            }
            _ => return Err(unreadable(*line, own, "a step density and the print density under it, as `0.05 1.43`")),
        }
    }
    Ok(table)
}

/// A table out of fields typed one by one, from step 1 on; a step left empty was not read.
///
/// # Errors
/// [`Refusal`] when one of them is no density.
pub fn stepwise(prints: &[Option<String>], tablet: &StepTablet, ink: bool) -> Result<String, Refusal> {
    let mut table = String::from(if ink { "print_density\n" } else { "step_density,print_density\n" });
    for (place, own) in prints.iter().enumerate() {
        let Some(text) = own else { continue };
        let read = PrintDensity::read(text).map_err(|_| {
            let about = Question::Table;
            let cause =
                format!("step {}: `{}` is no density; expected one from 0 to 6 as `1.43`", place + 1, shortened(text));
            Refusal::unreadable("reading_unreadable", about, cause, vec![Remedy::Write(about, "1.43".into())])
        })?;
        if ink {
            table.push_str(&format!("{}\n", read.in_unit()));
            continue;
        }
        let count = u8::try_from(place + 1).unwrap_or(u8::MAX);
        let step = tablet.density(count).map_err(|own| refused(&own))?;
        table.push_str(&format!("{},{}\n", step.to_density(), read.in_unit()));
    }
    Ok(table)
}

/// A table as bare numbers, a reading to a line: as a form carries it on.
#[must_use]
pub fn plain(readings: &[(StepDensity, PrintDensity)]) -> String {
    readings.iter().map(|(step, print)| format!("{} {}\n", step.to_density(), print.to_density())).collect()
}
