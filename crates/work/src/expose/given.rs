//! The exposure of a test: a time, or a count of an integrator.

use handcoat_craft::expose::{Base, ExposeError, Exposure};
use handcoat_craft::measure::{Bounded, IntegratorUnits, Span, Uncertain};

use crate::stock::read;
use crate::{Question, Refusal, Remedy};

/// What was set for a test.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Given {
    /// The time of the lamp.
    Time(Span),
    /// The count of an integrator.
    Units(IntegratorUnits),
}

/// What comes of it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Exposed {
    /// A time of the same lamp.
    Time(Base<Span>),
    /// A count of the same integrator.
    Units(Base<IntegratorUnits>),
}

impl Exposed {
    /// Between which it lies (k = 2), or between which black begins that was seen; in seconds or units; none for what is nothing.
    #[must_use]
    pub fn between(&self) -> Option<(f64, f64)> {
        match self {
            Self::Time(own) => own.between.map(|(least, most)| (least.in_unit(), most.in_unit())),
            Self::Units(own) => own.between.map(|(least, most)| (least.in_unit(), most.in_unit())),
        }
    }

    /// Whether it was judged by eye.
    #[must_use]
    pub fn seen(&self) -> bool {
        match self {
            Self::Time(own) => own.seen,
            Self::Units(own) => own.seen,
        }
    }
}

impl Given {
    /// Reads which it is; one of both is said, not both and not neither.
    pub(super) fn read(time: Option<&String>, units: Option<&String>) -> Result<Self, Refusal> {
        let both = [Question::TestTime, Question::TestUnits];
        match (read::<Span>(Question::TestTime, time)?, read::<IntegratorUnits>(Question::TestUnits, units)?) {
            (Some(time), None) => Ok(Self::Time(time)),
            (None, Some(units)) => Ok(Self::Units(units)),
            (None, None) => Err(Refusal::missing(Question::TestTime, "4:00")),
            (Some(_), Some(_)) => {
                let cause = String::from("the test is given by a time and by a count; expected one of them");
                Err(Refusal::rule(
                    "exposure_said_twice",
                    Question::TestTime,
                    cause,
                    both.map(Remedy::LeaveOut).to_vec(),
                ))
            }
        }
    }

    /// An exposure of the same sort, through what a plan of either sort gives.
    pub(super) fn exposed(
        self,
        time: impl FnOnce(Span) -> Result<Option<Uncertain<Span>>, ExposeError>,
        units: impl FnOnce(IntegratorUnits) -> Result<Option<Uncertain<IntegratorUnits>>, ExposeError>,
    ) -> Result<Option<Exposed>, ExposeError> {
        match self {
            Self::Time(own) => Ok(time(own)?.map(Base::computed).map(Exposed::Time)),
            Self::Units(own) => Ok(units(own)?.map(Base::computed).map(Exposed::Units)),
        }
    }
}

/// Whether anything can be exposed by it; zero seconds are no test.
pub(super) fn lasting<E: Exposure>(about: Question, own: E, example: &str) -> Result<E, Refusal> {
    if own.in_unit() > 0.0 {
        return Ok(own);
    }
    let nothing = if about == Question::TestTime { "0 s" } else { "0 units" };
    let cause = format!("{nothing} was said for {}; nothing is exposed by that", about.asks());
    Err(Refusal::rule("exposure_of_nothing", about, cause, vec![Remedy::Write(about, example.into())]))
}
