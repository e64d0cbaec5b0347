//! Exposure tests that are kept: what was read or judged, with which set-up as it then was, and what it came to.
//!
//! What it came to is kept as it was said that day; the readings are kept beside it, so that the curve can be drawn again.

use std::collections::BTreeMap;

use handcoat_book::{BookError, Deed, Record, RecordKind};
use handcoat_craft::expose::{Base, Exposure};
use handcoat_craft::measure::{Bounded, IntegratorUnits, LogRange, Span, Uncertain};
use jiff::Timestamp;
use serde::de::DeserializeOwned;
use serde::{Deserialize, Serialize};
use serde_json::Value;

use super::eye::{EyeAnswers, EyeRead, by_eye};
use super::given::Exposed;
use super::ladder::read_dose;
use super::setup::{Around, find_setup};
use super::strip::{StripAnswers, StripRead, strips};
use super::wedge::{InkRead, WedgeAnswers, WedgeRead, ink, wedge};
use super::words::{
    EYE_BASE, EYE_SCALE, STRIP_BASE, base_criterion, exposed_words, not_bracketed_words, of_dose, scale_criterion,
};
use crate::keep::{fields_of, record_body};
use crate::{Done, Moment, Question, Refusal, RefusalKind, Remedy, Studio};

/// Where a test belongs. `None` is a question left open.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
#[allow(missing_docs, reason = "each field answers the question of the same name")]
pub struct TestOfSetup {
    pub setup: Option<String>,
    pub dose: Option<String>,
    pub note: Option<String>,
}

/// How a test was made.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum TestWay {
    /// A silver wedge, read with a densitometer.
    Wedge,
    /// A silver wedge, judged by eye.
    Eye,
    /// Strips under a moved card.
    Strip,
    /// Steps of ink, which only rank.
    Ink,
}

impl TestWay {
    /// Its word.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Wedge => "wedge",
            Self::Eye => "eye",
            Self::Strip => "strip",
            Self::Ink => "ink",
        }
    }

    /// What it is, in words.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::Wedge => "silver wedge",
            Self::Eye => "wedge by eye",
            Self::Strip => "strips",
            Self::Ink => "ink steps",
        }
    }
}

/// A test to be kept, with its answers.
#[derive(Clone, Debug, PartialEq)]
pub enum Tested<'a> {
    /// A table of readings under a silver wedge.
    Wedge(&'a WedgeAnswers, &'a [u8]),
    /// A table of readings under ink.
    Ink(&'a WedgeAnswers, &'a [u8]),
    /// Two step numbers.
    Eye(&'a EyeAnswers),
    /// Strips, one of them tapped.
    Strip(&'a StripAnswers),
}

/// What a test came to, read again.
#[derive(Clone, Debug, PartialEq)]
#[allow(missing_docs, reason = "each is what the function of that name gives")]
pub enum TestRead {
    Wedge(Box<WedgeRead>),
    Ink(InkRead),
    Eye(EyeRead),
    Strip(StripRead),
}

/// What a test came to, as it was said that day.
#[derive(Clone, Debug, PartialEq)]
pub struct Found {
    /// Both ends were there.
    pub bracketed: bool,
    /// To full black through clear film.
    pub base: Option<Exposed>,
    /// By which criterion.
    pub base_criterion: String,
    /// The exposure scale.
    pub scale: Option<Uncertain<LogRange>>,
    /// By which criterion.
    pub scale_criterion: String,
}

/// A test that is kept.
#[derive(Clone, Debug, PartialEq)]
pub struct TestView {
    /// Its number; never used again.
    pub number: u32,
    /// When it was kept.
    pub at: Timestamp,
    /// How it was made.
    pub way: TestWay,
    /// Number and name of its set-up.
    pub setup: Option<(u32, String)>,
    /// The dose of contrast agent, as it was written; none where there was none or nobody said.
    pub dose: Option<String>,
    /// A note.
    pub note: Option<String>,
    /// What it came to.
    pub found: Found,
    /// The set-up as it then was.
    pub(super) stood: BTreeMap<String, String>,
    /// Seconds the lamp had burned since it was entered.
    pub(super) lamp_seconds: Option<i64>,
}

/// A value and its standard uncertainty, as they are kept.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
struct With {
    best: f64,
    u: f64,
}

/// What stands in the book of a test.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
struct TestSheet {
    v: u32,
    way: TestWay,
    at: Timestamp,
    #[serde(default)]
    setup: Option<u32>,
    #[serde(default)]
    setup_name: Option<String>,
    #[serde(default)]
    dose: Option<String>,
    #[serde(default)]
    note: Option<String>,
    answers: Value,
    /// Step density and print density; of ink the print alone.
    #[serde(default)]
    readings: Vec<(Option<f64>, f64)>,
    #[serde(default)]
    stood: BTreeMap<String, String>,
    #[serde(default)]
    lamp_seconds: Option<i64>,
    bracketed: bool,
    #[serde(default)]
    base_s: Option<With>,
    #[serde(default)]
    base_units: Option<With>,
    /// By eye: between which black begins, in the unit of the base exposure.
    #[serde(default)]
    black_begins: Option<(f64, f64)>,
    base_criterion: String,
    #[serde(default)]
    scale_log_h: Option<With>,
    scale_criterion: String,
}

/// The word of a test without contrast agent.
const NO_DOSE: &str = "none";

/// Most readings of one test that are kept.
const MOST_READINGS: usize = 600;

/// Whether so many readings can be kept.
///
/// # Errors
/// [`Refusal`] with code `readings_many` when not.
pub fn readings_fit(count: usize) -> Result<(), Refusal> {
    if count <= MOST_READINGS {
        return Ok(());
    }
    let cause = format!("{count} readings are in this table; a test is kept with {MOST_READINGS} at most");
    let remedies = vec![Remedy::Write(Question::Table, "wedge.csv".into())];
    Err(Refusal::rule("readings_many", Question::Table, cause, remedies))
}

impl Tested<'_> {
    fn way(&self) -> TestWay {
        match self {
            Self::Wedge(..) => TestWay::Wedge,
            Self::Ink(..) => TestWay::Ink,
            Self::Eye(_) => TestWay::Eye,
            Self::Strip(_) => TestWay::Strip,
        }
    }

    fn read(&self) -> Result<TestRead, Refusal> {
        Ok(match self {
            Self::Wedge(answers, bytes) => TestRead::Wedge(Box::new(wedge(answers, bytes)?)),
            Self::Ink(answers, bytes) => TestRead::Ink(ink(answers, bytes)?),
            Self::Eye(answers) => TestRead::Eye(by_eye(answers)?),
            Self::Strip(answers) => TestRead::Strip(strips(answers)?),
        })
    }

    /// The answers as they are kept: readings stand beside them in a form of their own, with a point.
    fn answers(&self) -> Result<Value, Refusal> {
        let written = match self {
            Self::Wedge(answers, _) | Self::Ink(answers, _) => {
                serde_json::to_value(WedgeAnswers { decimal_mark: None, ..(*answers).clone() })
            }
            Self::Eye(answers) => serde_json::to_value(answers),
            Self::Strip(answers) => serde_json::to_value(answers),
        };
        Ok(written.map_err(|_| BookError::unreadable("the answers of a test", String::new()))?)
    }
}

impl TestRead {
    fn found(&self) -> Found {
        match self {
            Self::Wedge(own) => Found {
                bracketed: own.fit.bracketed(),
                base: own.base,
                base_criterion: base_criterion(&own.fit.criteria),
                scale: own.fit.scale,
                scale_criterion: scale_criterion(&own.fit.criteria),
            },
            Self::Ink(own) => Found {
                bracketed: own.rank.last_black.is_some() && own.rank.last_tone.is_some(),
                base: None,
                base_criterion: String::new(),
                scale: None,
                scale_criterion: String::new(),
            },
            Self::Eye(own) => Found {
                bracketed: own.black && own.white,
                base: own.base,
                base_criterion: EYE_BASE.into(),
                scale: own.scale,
                scale_criterion: EYE_SCALE.into(),
            },
            Self::Strip(own) => Found {
                bracketed: own.base.is_some(),
                base: own.base.map(Exposed::Time),
                base_criterion: STRIP_BASE.into(),
                scale: None,
                scale_criterion: String::new(),
            },
        }
    }

    fn readings(&self) -> Vec<(Option<f64>, f64)> {
        match self {
            Self::Wedge(own) => {
                own.readings.iter().map(|(step, print)| (Some(step.to_density()), print.to_density())).collect()
            }
            Self::Ink(own) => own.prints.iter().map(|print| (None, print.to_density())).collect(),
            Self::Eye(_) | Self::Strip(_) => Vec::new(),
        }
    }
}

/// Keeps a test.
///
/// # Errors
/// [`Refusal`] when an answer cannot be read, the set-up is not there, or strips were only planned.
pub fn keep_test(
    studio: &mut Studio,
    moment: &Moment,
    place: &TestOfSetup,
    tested: &Tested<'_>,
) -> Result<Done, Refusal> {
    let read = tested.read()?;
    if let (TestRead::Strip(own), Tested::Strip(_)) = (&read, tested)
        && own.base.is_none()
        && !own.longer
    {
        return Err(Refusal::missing(Question::StripTapped, "4"));
    }
    let readings = read.readings();
    readings_fit(readings.len())?;
    let dose = place.dose.as_ref().map(|own| own.trim().to_owned()).filter(|own| !own.is_empty());
    let dose = dose.map(|text| Ok::<_, Refusal>(read_dose(Question::TestDose, &text)?.map_or(NO_DOSE.into(), of_dose)));
    let dose = dose.transpose()?;
    let note = note(place.note.as_ref())?;
    let acted = studio.book.act(&moment.asked(&(place, tested))?, "expose", |acting| {
        let around = Around::within(acting)?;
        let setup = place.setup.as_ref().map(|own| find_setup(&around, own)).transpose()?;
        let found = read.found();
        let stood = setup.map(|own| around.stands(own)).unwrap_or_default();
        // A test belongs to the dose of its set-up, unless it says otherwise; `none` is said too.
        let dose = dose.clone().or_else(|| stood.facts.get("dose").cloned());
        let name = match setup {
            Some(own) => format!("{}, {}", tested.way().words(), own.name),
            None => tested.way().words().into(),
        };
        let (base_s, base_units) = match &found.base {
            Some(Exposed::Time(own)) => (Some(With::of(&own.set)), None),
            Some(Exposed::Units(own)) => (None, Some(With::of(&own.set))),
            None => (None, None),
        };
        let sheet = TestSheet {
            v: 1,
            way: tested.way(),
            at: moment.at,
            setup: setup.map(|own| own.ordinal),
            setup_name: setup.map(|own| own.name.clone()),
            dose,
            note: note.clone(),
            answers: tested.answers()?,
            readings: readings.clone(),
            stood: stood.facts,
            lamp_seconds: stood.lamp_seconds,
            bracketed: found.bracketed,
            base_s,
            base_units,
            black_begins: found.base.filter(Exposed::seen).and_then(|own| own.between()),
            base_criterion: found.base_criterion.clone(),
            scale_log_h: found.scale.as_ref().map(With::of),
            scale_criterion: found.scale_criterion.clone(),
        };
        let facts =
            serde_json::to_value(&sheet).map_err(|_| BookError::unreadable("an exposure test", String::new()))?;
        let record = acting.add_record(RecordKind::Test, &name, &facts)?;
        let of = setup.map_or(String::new(), |own| format!(" of {}", own.name));
        let mut said = vec![format!("Test {} is kept{of}: {}.", record.ordinal, tested.way().words())];
        said.push(match (&found.base, tested.way()) {
            (Some(base), _) => format!("Base exposure {}.", exposed_words(base)),
            (None, TestWay::Ink) => "Steps of ink only rank: no time is said.".into(),
            (None, way) => not_bracketed_words(way).into(),
        });
        Ok::<_, Refusal>(Deed { body: record_body(&record, &said), entry: None })
    })?;
    Ok(Done::of(&acted))
}

/// A note, read as those of everything that is kept.
fn note(written: Option<&String>) -> Result<Option<String>, Refusal> {
    let field = fields_of(RecordKind::Setup).iter().find(|own| own.key == "note");
    field.zip(written).map_or(Ok(None), |(field, text)| field.read(text))
}

impl With {
    fn of<Q: Bounded>(own: &Uncertain<Q>) -> Self {
        Self { best: own.best.in_unit(), u: own.standard() }
    }

    fn read<Q: Bounded>(self) -> Result<Uncertain<Q>, Refusal> {
        let best = Q::from_unit(self.best)
            .map_err(|_| BookError::unreadable("what an exposure test came to", self.best.to_string()))?;
        Ok(Uncertain::new(best, self.u))
    }

    fn base<E: Exposure>(self, seen: Option<(f64, f64)>) -> Result<Base<E>, Refusal> {
        let computed = Base::computed(self.read::<E>()?);
        let Some((least, most)) = seen else { return Ok(computed) };
        let of = |value| Self { best: value, u: 0.0 }.read::<E>().map(|own| own.best);
        Ok(Base { between: Some((of(least)?, of(most)?)), seen: true, ..computed })
    }
}

fn sheet_of(record: &Record) -> Result<TestSheet, Refusal> {
    let read = serde_json::from_value(record.facts.clone());
    Ok(read.map_err(|_| BookError::unreadable("an exposure test", record.facts.to_string()))?)
}

pub(super) fn view(record: &Record) -> Result<TestView, Refusal> {
    let sheet = sheet_of(record)?;
    let base = match (sheet.base_s, sheet.base_units) {
        (Some(own), _) => Some(Exposed::Time(own.base::<Span>(sheet.black_begins)?)),
        (None, Some(own)) => Some(Exposed::Units(own.base::<IntegratorUnits>(sheet.black_begins)?)),
        (None, None) => None,
    };
    Ok(TestView {
        number: record.ordinal,
        at: sheet.at,
        way: sheet.way,
        setup: sheet.setup.map(|own| (own, sheet.setup_name.unwrap_or_default())),
        dose: sheet.dose,
        note: sheet.note,
        found: Found {
            bracketed: sheet.bracketed,
            base,
            base_criterion: sheet.base_criterion,
            scale: sheet.scale_log_h.map(With::read).transpose()?,
            scale_criterion: sheet.scale_criterion,
        },
        stood: sheet.stood,
        lamp_seconds: sheet.lamp_seconds,
    })
}

fn again<A: DeserializeOwned>(sheet: &TestSheet) -> Result<A, Refusal> {
    let read = serde_json::from_value(sheet.answers.clone());
    Ok(read.map_err(|_| BookError::unreadable("the answers of a test", sheet.answers.to_string()))?)
}

fn read_again(sheet: &TestSheet) -> Result<TestRead, Refusal> {
    let head = if sheet.way == TestWay::Ink { "print_density\n" } else { "step_density,print_density\n" };
    let mut table = String::from(head);
    for (step, print) in &sheet.readings {
        match step {
            Some(step) => table.push_str(&format!("{step},{print}\n")),
            None => table.push_str(&format!("{print}\n")),
        }
    }
    match sheet.way {
        TestWay::Wedge => Tested::Wedge(&again(sheet)?, table.as_bytes()).read(),
        TestWay::Ink => Tested::Ink(&again(sheet)?, table.as_bytes()).read(),
        TestWay::Eye => Tested::Eye(&again(sheet)?).read(),
        TestWay::Strip => Tested::Strip(&again(sheet)?).read(),
    }
}

/// The newest tests, newest first; only those before `before` when it is given.
///
/// # Errors
/// [`Refusal`] when the book cannot be read.
pub fn tests(studio: &Studio, most: u32, before: Option<u32>) -> Result<Vec<TestView>, Refusal> {
    studio.book.newest_records(RecordKind::Test, most, before)?.iter().map(view).collect()
}

/// One test and what it reads as; none of that where it cannot be read again.
///
/// # Errors
/// [`Refusal`] when it is not there, or the book cannot be read.
pub fn one_test(studio: &Studio, written: &str) -> Result<(TestView, Option<TestRead>), Refusal> {
    let about = Question::ExposureTest;
    let number: u32 = written.trim().parse().ok().filter(|own| *own > 0).ok_or_else(|| {
        let cause =
            format!("`{}` is no number; expected one such as 3", handcoat_craft::measure::shortened(written.trim()));
        Refusal::unreadable("count_unreadable", about, cause, vec![Remedy::Write(about, "1".into())])
    })?;
    let found = studio.book.record(RecordKind::Test, number)?;
    let record = found.filter(|own| own.standing == handcoat_book::Standing::Here).ok_or_else(|| Refusal {
        code: "record_unknown",
        kind: RefusalKind::Missing,
        about: Some(about),
        cause: format!("no exposure test has the number {number}"),
        excerpt: None,
        remedies: vec![Remedy::ListTests],
    })?;
    let read = read_again(&sheet_of(&record)?).ok();
    Ok((view(&record)?, read))
}
