//! What `craft` refuses of exposures, with the question it is about and the next step.

use handcoat_craft::expose::ExposeError;
use handcoat_craft::measure::shortened;

use crate::{Question, Refusal, Remedy};

/// The refusal of a rule, about the answer that is to blame.
pub(super) fn refused(error: &ExposeError) -> Refusal {
    let write = |about: Question, text: &str| (about, vec![Remedy::Write(about, text.into())]);
    let (about, remedies) = match error {
        ExposeError::TooFewSteps(_) | ExposeError::NoTones { .. } | ExposeError::Upside => {
            write(Question::Table, "wedge.csv")
        }
        ExposeError::BlackWithin { .. } => write(Question::BlackWithin, "0.03"),
        ExposeError::StepUnknown { .. } | ExposeError::TonesReversed { .. } => write(Question::LastTone, "15"),
        ExposeError::NoTablet => write(Question::StepCount, "21"),
        ExposeError::StripsReversed | ExposeError::StripsMany { .. } => write(Question::StripUntil, "8:00"),
        ExposeError::StripsAlike => write(Question::StripFirst, "2:00"),
        ExposeError::StripUnknown { .. } => write(Question::StripTapped, "4"),
        ExposeError::BlackFromTheFirst => write(Question::StripFirst, "1:00"),
        ExposeError::LadderEmpty | ExposeError::DoseOfAnotherKind | ExposeError::LadderFlat => {
            write(Question::LadderWedge, "0.5mg/mL 1.80 0.03 4:00")
        }
        ExposeError::WideLamp => write(Question::LampKind, "point"),
        ExposeError::NoDistance => write(Question::DistanceFrom, "50cm"),
        ExposeError::OutOfBounds(_) => write(Question::TestTime, "4:00"),
    };
    Refusal::rule(error.code(), about, error.to_string(), remedies)
}

/// What one of a few words means.
pub(crate) fn one_of<T: Copy>(text: &str, words: &[(&'static str, T)]) -> Option<T> {
    words.iter().find(|(word, _)| word.eq_ignore_ascii_case(text.trim())).map(|own| own.1)
}

/// Why a word is none of them, and what to write instead.
pub(crate) fn none_of<T>(about: Question, text: &str, words: &[(&'static str, T)]) -> (String, Vec<Remedy>) {
    let all: Vec<&str> = words.iter().map(|own| own.0).collect();
    let cause =
        format!("`{}` does not say {}; expected one of {}", shortened(text.trim()), about.asks(), all.join(", "));
    (cause, all.first().map(|word| Remedy::Write(about, (*word).into())).into_iter().collect())
}

/// A step number.
pub(super) fn step(about: Question, text: &str, example: &str) -> Result<u8, Refusal> {
    text.trim().parse().map_err(|_| {
        let cause =
            format!("`{}` is no number of a step; expected a whole number as `{example}`", shortened(text.trim()));
        Refusal::unreadable("step_unreadable", about, cause, vec![Remedy::Write(about, example.into())])
    })
}
