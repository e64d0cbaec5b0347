//! A wedge judged by eye.

use handcoat_craft::expose::ByEye;
use handcoat_craft::measure::{LogRange, Uncertain};

use serde::{Deserialize, Serialize};

use super::given::{Exposed, Given};
use super::refused::{refused, step};
use super::typed::{TabletAnswers, tablet};
use crate::stock::needed;
use crate::{Question, Refusal};

/// Answers about a wedge judged by eye. `None` is a question left open.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(default)]
#[allow(missing_docs, reason = "each field answers the question of the same name")]
pub struct EyeAnswers {
    pub test_time: Option<String>,
    pub test_units: Option<String>,
    pub last_black: Option<String>,
    pub last_tone: Option<String>,
    pub first_step: Option<String>,
    pub increment: Option<String>,
    pub steps: Option<String>,
}

/// What two step numbers came to.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct EyeRead {
    /// The exposure of the test.
    pub test: Given,
    /// Whether two steps at least are full black.
    pub black: bool,
    /// Whether a step is paper white.
    pub white: bool,
    /// The exposure scale; none when the wedge did not bracket.
    pub scale: Option<Uncertain<LogRange>>,
    /// To full black; none when the wedge did not bracket.
    pub base: Option<Exposed>,
}

/// Reads base exposure and exposure scale from two step numbers.
///
/// # Errors
/// [`Refusal`] when an answer cannot be read, or the tablet has no such steps.
pub fn by_eye(answers: &EyeAnswers) -> Result<EyeRead, Refusal> {
    let test = Given::read(answers.test_time.as_ref(), answers.test_units.as_ref())?;
    let number = |about, own: Option<&String>, example| step(about, needed(about, own, example)?, example);
    let last_black = number(Question::LastBlack, answers.last_black.as_ref(), "5")?;
    let last_tone = number(Question::LastTone, answers.last_tone.as_ref(), "15")?;
    let tablet = tablet(&TabletAnswers {
        first_step: answers.first_step.clone(),
        increment: answers.increment.clone(),
        steps: answers.steps.clone(),
    })?;
    let eye = ByEye { tablet, last_black, last_tone };
    match test {
        Given::Time(own) => eye.judge(own).map(|own| EyeRead {
            test,
            black: own.black,
            white: own.white,
            scale: own.scale,
            base: own.base.map(Exposed::Time),
        }),
        Given::Units(own) => eye.judge(own).map(|own| EyeRead {
            test,
            black: own.black,
            white: own.white,
            scale: own.scale,
            base: own.base.map(Exposed::Units),
        }),
    }
    .map_err(|own| refused(&own))
}
