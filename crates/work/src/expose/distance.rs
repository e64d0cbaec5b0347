//! The time at another distance from the lamp.

use handcoat_craft::expose::{LampDistance, LampKind, time_at};
use handcoat_craft::measure::{Length, Readable, Span};

use super::refused::{none_of, one_of, refused};
use crate::stock::needed;
use crate::{Question, Refusal};

/// Answers about a lamp that is moved. `None` is a question left open.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
#[allow(missing_docs, reason = "each field answers the question of the same name")]
pub struct DistanceAnswers {
    pub lamp: Option<String>,
    pub time: Option<String>,
    pub from: Option<String>,
    pub to: Option<String>,
}

/// The time at the new distance; only for a lamp that is small against both distances.
///
/// # Errors
/// [`Refusal`] when an answer cannot be read, and for a wide lamp, which goes by no rule.
pub fn at_distance(answers: &DistanceAnswers) -> Result<Span, Refusal> {
    let words = [("point", LampKind::Point), ("wide", LampKind::Wide)];
    let lamp = needed(Question::LampKind, answers.lamp.as_ref(), "point")?;
    let lamp = one_of(lamp, &words).ok_or_else(|| {
        let (cause, remedies) = none_of(Question::LampKind, lamp, &words);
        Refusal::unreadable("lamp_unknown", Question::LampKind, cause, remedies)
    })?;
    let about = Question::TestTime;
    let time = Span::read(needed(about, answers.time.as_ref(), "4:00")?)
        .map_err(|error| Refusal::quantity(about, Span::FORMS, &error))?;
    let length = |about: Question, own: Option<&String>| {
        let text = needed(about, own, "50cm")?;
        let read = Length::read(text).map_err(|error| Refusal::quantity(about, Length::FORMS, &error));
        read.map(LampDistance)
    };
    let from = length(Question::DistanceFrom, answers.from.as_ref())?;
    let to = length(Question::DistanceTo, answers.to.as_ref())?;
    time_at(lamp, time, from, to).map_err(|own| refused(&own))
}
