//! How a print was made. What is not here is unknown, and unknown is never taken for equal.

use alloc::collections::BTreeMap;
use alloc::format;
use alloc::string::String;

use crate::measure::{AgentDose, Length, RelativeHumidity, Span, Temperature, Uptake, significant};
use crate::source::Condition;

/// What is known of one condition.
#[derive(Clone, Debug, PartialEq)]
pub enum Reading {
    /// A word: a name, a side, yes.
    Word(String),
    /// A number in a unit that belongs to its condition.
    Measured {
        /// The number.
        value: f64,
        /// Its unit, empty for a ratio.
        unit: &'static str,
    },
}

impl Reading {
    /// A word.
    #[must_use]
    pub fn word(text: &str) -> Self {
        Self::Word(text.trim().into())
    }

    /// A length of time.
    #[must_use]
    pub fn span(span: Span) -> Self {
        Self::Measured { value: span.to_seconds(), unit: "s" }
    }

    /// Days of age.
    #[must_use]
    pub fn days(days: f64) -> Self {
        Self::Measured { value: days, unit: "days" }
    }

    /// Hours of use.
    #[must_use]
    pub fn hours(hours: f64) -> Self {
        Self::Measured { value: hours, unit: "h" }
    }

    /// A plain ratio or count.
    #[must_use]
    pub fn ratio(value: f64) -> Self {
        Self::Measured { value, unit: "" }
    }

    /// Area in square metres.
    #[must_use]
    pub fn square_metres(value: f64) -> Self {
        Self::Measured { value, unit: "m²" }
    }

    /// In words.
    #[must_use]
    pub fn words(&self) -> String {
        match self {
            Self::Word(text) => text.clone(),
            Self::Measured { value, unit: "s" } => {
                Span::seconds(*value).map_or_else(|_| format!("{value} s"), Span::clock)
            }
            Self::Measured { value, unit: "" } => significant(*value, 3),
            Self::Measured { value, unit } => format!("{} {unit}", significant(*value, 3)),
        }
    }
}

impl From<Temperature> for Reading {
    fn from(own: Temperature) -> Self {
        Self::Measured { value: own.to_celsius(), unit: "°C" }
    }
}

impl From<RelativeHumidity> for Reading {
    fn from(own: RelativeHumidity) -> Self {
        Self::Measured { value: own.to_percent(), unit: "% RH" }
    }
}

impl From<Length> for Reading {
    fn from(own: Length) -> Self {
        Self::Measured { value: own.to_millimetres() / 10.0, unit: "cm" }
    }
}

impl From<Uptake> for Reading {
    fn from(own: Uptake) -> Self {
        Self::Measured { value: own.to_millilitres_per_100_cm2(), unit: "mL/100 cm²" }
    }
}

impl From<AgentDose> for Reading {
    fn from(own: AgentDose) -> Self {
        Self::Measured { value: own.to_milligrams_per_millilitre(), unit: "mg/mL" }
    }
}

/// How a print was made.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Conditions(BTreeMap<Condition, Reading>);

impl Conditions {
    /// Writes one down.
    pub fn set(&mut self, of: Condition, reading: impl Into<Reading>) {
        self.0.insert(of, reading.into());
    }

    /// The same where it is known.
    pub fn set_known(&mut self, of: Condition, reading: Option<impl Into<Reading>>) {
        if let Some(reading) = reading {
            self.set(of, reading);
        }
    }

    /// What is known of one.
    #[must_use]
    pub fn of(&self, condition: Condition) -> Option<&Reading> {
        self.0.get(&condition)
    }

    /// All that is known, in the order of the work.
    pub fn known(&self) -> impl Iterator<Item = (Condition, &Reading)> {
        self.0.iter().map(|(of, reading)| (*of, reading))
    }
}
