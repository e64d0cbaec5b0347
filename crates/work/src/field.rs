//! Things that are written down of a paper, a lamp, a print: one table for each, and every door reads the table.
//!
//! A field is kept as it was written, once it has been read without fault: the maker's own unit stays, nothing is rounded, and a field
//! that is not there is unknown.

use handcoat_book::RecordKind;
use handcoat_craft::measure::{
    AgentDose, DropsPerMillilitre, Length, Money, Readable, RelativeHumidity, Share, Size, Span, Temperature, Uptake,
    Volume, read_digits, shortened,
};
use handcoat_craft::source::Sign;

use crate::{Day, Question, Refusal, Remedy};

/// How a field is written.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Form {
    /// Words in one line.
    Words,
    /// Words in several lines.
    Note,
    /// Two sides.
    Size,
    /// A length.
    Length,
    /// A span of time.
    Time,
    /// Relative humidity.
    Humidity,
    /// A temperature.
    Temperature,
    /// Solution to an area.
    Uptake,
    /// A part of a whole.
    Share,
    /// Drops to the millilitre.
    DropsPerMl,
    /// A volume.
    Volume,
    /// Contrast agent per millilitre.
    Dose,
    /// Contrast agent per millilitre of the coat, or per litre of the developer.
    ContrastDose,
    /// An optical density.
    Density,
    /// A plain number, not below zero.
    Number,
    /// A whole number.
    Whole,
    /// A sum of money.
    Money,
    /// A day.
    Day,
    /// Signs, by their words.
    Signs,
    /// The name of a record.
    Record(RecordKind),
    /// A bottle on the shelf.
    Bottle,
}

/// One thing that is written down.
#[derive(Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Field {
    /// Its key in the book and in JSON.
    pub key: &'static str,
    /// Its flag on the command line.
    pub flag: &'static str,
    /// What is asked.
    pub label: &'static str,
    /// How it is written.
    pub form: Form,
    /// A typical answer.
    pub example: &'static str,
    /// Which part of the work it belongs to.
    pub group: &'static str,
}

/// Longest words in one line, and longest note.
const MOST_WORDS: usize = 120;
const MOST_NOTE: usize = 2000;

impl Field {
    /// The question it answers.
    #[must_use]
    pub fn question(&'static self) -> Question {
        Question::Field(self)
    }

    /// Reads an answer; what comes back is what is kept. Nothing written is nothing known.
    ///
    /// # Errors
    /// [`Refusal`] when it is not written in the form of the field.
    pub fn read(&'static self, text: &str) -> Result<Option<String>, Refusal> {
        let text = text.trim();
        if text.is_empty() || text.eq_ignore_ascii_case("unknown") {
            return Ok(None);
        }
        match self.form {
            Form::Words | Form::Record(_) | Form::Bottle => self.words(text, MOST_WORDS, false)?,
            Form::Note => self.words(text, MOST_NOTE, true)?,
            Form::Size => {
                self.quantity::<Size>(text)?;
                if Size::read(text).is_ok_and(Size::is_empty) {
                    return Err(self.unreadable(text, "two sides that are not nothing"));
                }
            }
            Form::Length => self.quantity::<Length>(text)?,
            Form::Time => self.quantity::<Span>(text)?,
            Form::Humidity => self.quantity::<RelativeHumidity>(text)?,
            Form::Temperature => self.quantity::<Temperature>(text)?,
            Form::Uptake => self.quantity::<Uptake>(text)?,
            Form::Share => self.quantity::<Share>(text)?,
            Form::DropsPerMl => self.quantity::<DropsPerMillilitre>(text)?,
            Form::Volume => self.quantity::<Volume>(text)?,
            Form::Dose => self.quantity::<AgentDose>(text)?,
            Form::ContrastDose => {
                crate::expose::read_dose(self.question(), text)?;
            }
            Form::Density => self.number(text, MOST_DENSITY)?,
            Form::Number => self.number(text, MOST_NUMBER)?,
            Form::Whole => {
                let whole = text.parse::<u32>().ok().filter(|own| f64::from(*own) <= MOST_NUMBER);
                whole.ok_or_else(|| self.unreadable(text, "a whole number"))?;
            }
            Form::Money => {
                self.quantity::<Money>(text)?;
            }
            Form::Day => {
                Day::read(text).map_err(|refusal| Refusal { about: Some(self.question()), ..refusal })?;
            }
            Form::Signs => {
                signs(self.question(), text)?;
            }
        }
        Ok(Some(text.into()))
    }

    fn quantity<Q: Readable>(&'static self, text: &str) -> Result<(), Refusal> {
        Q::read(text).map(|_| ()).map_err(|error| Refusal::quantity(self.question(), Q::FORMS, &error))
    }

    fn words(&'static self, text: &str, most: usize, lines: bool) -> Result<(), Refusal> {
        let odd = |own: char| own.is_control() && !(lines && matches!(own, '\n' | '\r' | '\t'));
        if text.chars().count() > most || text.chars().any(odd) {
            let expected = format!("at most {most} characters{}", if lines { "" } else { " in one line" });
            return Err(self.unreadable(text, &expected));
        }
        Ok(())
    }

    fn number(&'static self, text: &str, most: f64) -> Result<(), Refusal> {
        let read = number(text).filter(|own| (0.0..=most).contains(own));
        read.map(|_| ()).ok_or_else(|| self.unreadable(text, &format!("a number from 0 to {most}")))
    }

    fn unreadable(&'static self, text: &str, expected: &str) -> Refusal {
        let cause = format!("`{}` is no answer to {}; expected {expected}", shortened(text), self.label);
        let remedies = vec![Remedy::Write(self.question(), self.example.into())];
        Refusal::unreadable("field_unreadable", self.question(), cause, remedies)
    }
}

/// Beyond this nothing in the trade is so dense.
const MOST_DENSITY: f64 = 6.0;
/// Beyond this a number is a slip.
const MOST_NUMBER: f64 = 1e6;

/// A plain number with a point or a comma.
pub(crate) fn number(text: &str) -> Option<f64> {
    let (digits, rest) = read_digits("number", "`1.45`", text).ok()?;
    (rest.is_empty() && !digits.is_negative()).then(|| digits.to_f64())
}

/// Signs by their words, with commas or spaces between them.
pub(crate) fn signs(about: Question, text: &str) -> Result<Vec<Sign>, Refusal> {
    let words = text.split([',', ' ']).map(str::trim).filter(|word| !word.is_empty());
    words
        .map(|word| {
            Sign::all().iter().copied().find(|sign| sign.word().eq_ignore_ascii_case(word)).ok_or_else(|| {
                let all: Vec<&str> = Sign::all().iter().map(|sign| sign.word()).collect();
                let cause =
                    format!("`{}` is no sign that is known; expected one of {}", shortened(word), all.join(", "));
                Refusal::unreadable("sign_unknown", about, cause, vec![Remedy::Write(about, "darker".into())])
            })
        })
        .collect()
}
