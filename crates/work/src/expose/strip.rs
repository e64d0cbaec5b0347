//! Strips without a wedge.

use handcoat_craft::expose::{Base, StopPart, Strip, StripPlan};
use handcoat_craft::measure::{Readable, Span, shortened};

use serde::{Deserialize, Serialize};

use super::refused::{none_of, one_of, refused, step};
use crate::stock::needed;
use crate::{Question, Refusal};

/// Answers about strips. `None` is a question left open.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(default)]
#[allow(missing_docs, reason = "each field answers the question of the same name")]
pub struct StripAnswers {
    pub first: Option<String>,
    pub until: Option<String>,
    pub part: Option<String>,
    pub tapped: Option<String>,
}

/// Strips, and the base time when one was tapped.
#[derive(Clone, Debug, PartialEq)]
pub struct StripRead {
    /// The strips, from the shortest exposure.
    pub strips: Vec<Strip<Span>>,
    /// The base time; none before a strip was tapped.
    pub base: Option<Base<Span>>,
    /// No strip stopped getting blacker: longer ones are wanted.
    pub longer: bool,
    /// From when to when those would go.
    pub next: Option<(Span, Span)>,
}

/// Plans strips; with the first strip that is no blacker than the one before it, says the base time. `none` says that there is no such.
///
/// # Errors
/// [`Refusal`] when an answer cannot be read, or there are no such strips.
pub fn strips(answers: &StripAnswers) -> Result<StripRead, Refusal> {
    let time = |about: Question, own: Option<&String>, example| {
        Span::read(needed(about, own, example)?).map_err(|error| Refusal::quantity(about, Span::FORMS, &error))
    };
    let first = time(Question::StripFirst, answers.first.as_ref(), "2:00")?;
    let until = time(Question::StripUntil, answers.until.as_ref(), "8:00")?;
    let words = [("third", StopPart::Third), ("half", StopPart::Half)];
    let part = answers.part.as_ref().map(|own| {
        one_of(own, &words).ok_or_else(|| {
            let (cause, remedies) = none_of(Question::StripPart, own, &words);
            Refusal::unreadable("stop_part_unknown", Question::StripPart, cause, remedies)
        })
    });
    let plan =
        StripPlan::make(first, until, part.transpose()?.unwrap_or(StopPart::Third)).map_err(|own| refused(&own))?;
    let longer = answers.tapped.as_ref().is_some_and(|own| shortened(own.trim()) == "none");
    let tapped = answers.tapped.as_ref().filter(|_| !longer);
    let base = tapped
        .map(|own| plan.tapped(step(Question::StripTapped, own, "4")?).map_err(|own| refused(&own)))
        .transpose()?;
    // On from the longest, over as many stops as most tests have.
    let last = plan.strips().last().map(|own| own.total).filter(|_| longer);
    let next = last.and_then(|own| Some((own, Span::seconds(own.to_seconds() * 4.0).ok()?)));
    Ok(StripRead { strips: plan.strips().to_vec(), base, longer, next })
}
