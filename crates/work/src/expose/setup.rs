//! Set-ups and the base exposure in force for each: the newest kept test of it that bracketed, and what has changed since.

use std::collections::BTreeMap;

use handcoat_book::{Acting, Record, RecordKind};
use handcoat_craft::expose::{Dose, LadderWedge, has_aged, lamp_has_aged};
use handcoat_craft::measure::{LogRange, Uncertain, fixed};
use handcoat_craft::source::DOSE_ALIKE;
use jiff::Timestamp;

use super::given::Exposed;
use super::ladder::read_dose;
use super::test::{TestView, TestWay, view};
use crate::keep::{Fields, HOURS, fields_of, find_among};
use crate::{Day, Question, Refusal, Studio};

/// The clock of a lamp counts seconds.
const SECONDS_IN_AN_HOUR: f64 = 3600.0;

/// The base exposure of a set-up.
#[derive(Clone, Debug, PartialEq)]
pub struct BaseInForce {
    /// The set-up's name.
    pub setup: String,
    /// The test it comes from.
    pub test: u32,
    /// How that was made.
    pub way: TestWay,
    /// When.
    pub at: Timestamp,
    /// How long ago, in days.
    pub days: i64,
    /// How long, or how many units.
    pub exposed: Exposed,
    /// By which criterion.
    pub criterion: String,
    /// With which dose of contrast agent.
    pub dose: Option<String>,
    /// Why it should be found anew; nothing while it can be trusted.
    pub suspect: Vec<String>,
}

/// A set-up with what was found of it.
#[derive(Clone, Debug, PartialEq)]
pub struct SetupView {
    /// Its number.
    pub number: u32,
    /// Its name.
    pub name: String,
    /// What is known of it, in words: paper, metals, lamp and the rest.
    pub known: Vec<(&'static crate::Field, String)>,
    /// The base exposure, when a test of it bracketed.
    pub base: Option<BaseInForce>,
    /// The newest exposure scale, and its test.
    pub scale: Option<(Uncertain<LogRange>, u32)>,
    /// Its tests, newest first.
    pub tests: Vec<TestView>,
}

/// What a set-up stands on, as it is now.
#[derive(Clone, Debug, Default, PartialEq)]
pub(crate) struct Stands {
    pub(crate) facts: BTreeMap<String, String>,
    pub(crate) lamp_seconds: Option<i64>,
}

/// Records that set-ups speak of.
pub(crate) struct Around {
    setups: Vec<Record>,
    papers: Vec<Record>,
    baths: Vec<Record>,
    lamps: Vec<(Record, i64)>,
}

impl Around {
    pub(crate) fn of(studio: &Studio) -> Result<Self, Refusal> {
        let book = &studio.book;
        let burned = |own: Record| Ok((book.counts(&own)?.get(HOURS).copied().unwrap_or(0), own));
        let lamps = book.records(RecordKind::Lamp)?.into_iter().map(burned);
        Ok(Self {
            setups: book.records(RecordKind::Setup)?,
            papers: book.records(RecordKind::Paper)?,
            baths: book.records(RecordKind::Bath)?,
            lamps: lamps.map(|own| own.map(|(burned, lamp)| (lamp, burned))).collect::<Result<_, Refusal>>()?,
        })
    }

    pub(crate) fn within(acting: &Acting<'_>) -> Result<Self, Refusal> {
        let mut lamps = Vec::new();
        for lamp in acting.records(RecordKind::Lamp)? {
            let burned = acting.counts(&lamp)?.get(HOURS).copied().unwrap_or(0);
            lamps.push((lamp, burned));
        }
        Ok(Self {
            setups: acting.records(RecordKind::Setup)?,
            papers: acting.records(RecordKind::Paper)?,
            baths: acting.records(RecordKind::Bath)?,
            lamps,
        })
    }

    pub(crate) fn stands(&self, setup: &Record) -> Stands {
        let own = Fields::of(&setup.facts);
        let mut facts = BTreeMap::new();
        for field in fields_of(RecordKind::Setup).iter().filter(|own| !matches!(own.key, "note" | "rule_measured")) {
            // How long the film comes out changes no tone.
            facts.extend(own.text(field.key).map(|text| (field.key.to_owned(), text.to_owned())));
        }
        let named = |all: &[Record], key: &str| {
            let name = own.text(key)?.to_lowercase();
            all.iter().find(|other| other.name.to_lowercase() == name).map(|other| Fields::of(&other.facts))
        };
        let mut of = |key: &str, fields: Option<&Fields>, its: &str| {
            facts.extend(fields.and_then(|own| own.text(its)).map(|text| (key.to_owned(), text.to_owned())));
        };
        of("paper_lot", named(&self.papers, "paper").as_ref(), "lot");
        let bath = named(&self.baths, "developer");
        of("developer_made", bath.as_ref(), "made");
        of("developer_holds", bath.as_ref(), "holds");
        let lamp = own.text("lamp").map(str::to_lowercase);
        let burned = self.lamps.iter().find(|(own, _)| Some(own.name.to_lowercase()) == lamp).map(|own| own.1);
        Stands { facts, lamp_seconds: burned }
    }
}

impl Around {
    /// The same for a set-up by its number; nothing where it is not in use any more.
    pub(crate) fn stands_now(&self, setup: u32) -> Option<Stands> {
        self.setups.iter().find(|own| own.ordinal == setup).map(|own| self.stands(own))
    }
}

pub(crate) fn find_setup<'a>(around: &'a Around, written: &str) -> Result<&'a Record, Refusal> {
    find_among(&around.setups, RecordKind::Setup, Question::Setup, written)
}

/// What has changed since a test, in words.
fn suspect(test: &TestView, now: &Stands, days: i64) -> Vec<String> {
    let mut words = Vec::new();
    for (key, was) in &test.stood {
        // What nobody says any more is not known to have changed.
        let Some(is) = now.facts.get(key).filter(|is| *is != was && key != "dose") else { continue };
        words.push(format!("{}: {was} then, {is} now", key.replace('_', " ")));
    }
    // Another lamp says so itself; its hours are not those of the first.
    let same_lamp = test.stood.get("lamp") == now.facts.get("lamp");
    if let (Some(then), Some(burned), true) = (test.lamp_seconds, now.lamp_seconds, same_lamp) {
        let hours = (burned - then) as f64 / SECONDS_IN_AN_HOUR;
        if lamp_has_aged(hours) {
            words.push(format!("the lamp burned {} h more", fixed(hours, 0)));
        }
    }
    if days < 0 {
        words.push(format!("it is dated {}, which is yet to come", Day::of_instant(test.at)));
    }
    if has_aged(days) {
        words.push(format!("it is {days} days old"));
    }
    words
}

fn age_in_days(test: &TestView, now: Timestamp) -> i64 {
    Day::of_instant(now).days_since(Day::of_instant(test.at))
}

fn dose_of(text: Option<&str>) -> Option<Dose> {
    text.and_then(|own| read_dose(Question::TestDose, own).ok().flatten())
}

fn same_dose(a: Option<&str>, b: Option<&str>) -> bool {
    match (dose_of(a), dose_of(b)) {
        (None, None) => true,
        (Some(a), Some(b)) => {
            a.unit() == b.unit() && (a.in_unit() - b.in_unit()).abs() <= DOSE_ALIKE.value * a.in_unit()
        }
        _ => false,
    }
}

fn one(around: &Around, setup: &Record, tests: &[TestView], now: Timestamp) -> SetupView {
    let stands = around.stands(setup);
    let own: Vec<TestView> =
        tests.iter().filter(|test| test.setup.as_ref().is_some_and(|own| own.0 == setup.ordinal)).cloned().collect();
    let dose = stands.facts.get("dose").map(String::as_str);
    // A test with another dose says how that dose prints, and nothing of this one.
    let here = || own.iter().filter(|test| same_dose(test.dose.as_deref(), dose));
    let base = here().find_map(|test| {
        let exposed = test.found.base.filter(|_| test.found.bracketed)?;
        let days = age_in_days(test, now);
        Some(BaseInForce {
            setup: setup.name.clone(),
            test: test.number,
            way: test.way,
            at: test.at,
            days: days.max(0),
            exposed,
            criterion: test.found.base_criterion.clone(),
            dose: test.dose.clone(),
            suspect: suspect(test, &stands, days),
        })
    });
    let scale = here().find_map(|test| Some((test.found.scale.filter(|_| test.found.bracketed)?, test.number)));
    let fields = Fields::of(&setup.facts);
    let known = fields_of(RecordKind::Setup);
    let known = known.iter().filter_map(|field| Some((field, fields.text(field.key)?.to_owned()))).collect();
    SetupView { number: setup.ordinal, name: setup.name.clone(), known, base, scale, tests: own }
}

/// That a set-up has no base exposure, and with which other doses its tests bracketed.
#[must_use]
pub fn no_base_words(own: &SetupView) -> String {
    let said = |dose: Option<&str>| dose.map_or("no contrast agent".into(), |own| format!("a dose of {own}"));
    let mut others: Vec<String> = Vec::new();
    for test in own.tests.iter().filter(|test| test.found.bracketed && test.found.base.is_some()) {
        let words = format!("{} (test {})", said(test.dose.as_deref()), test.number);
        others.push(words);
    }
    if others.is_empty() {
        return "no base exposure yet: no test of it bracketed".into();
    }
    let dose = own.known.iter().find(|(field, _)| field.key == "dose").map(|own| own.1.as_str());
    format!("no base exposure yet with {}; a test bracketed with {}", said(dose), others.join(", "))
}

/// Every kept test, newest first: by the day it was made, and of one day the later number.
fn all_tests(studio: &Studio) -> Result<Vec<TestView>, Refusal> {
    let mut tests = studio.book.records(RecordKind::Test)?.iter().map(view).collect::<Result<Vec<_>, _>>()?;
    tests.sort_by_key(|own| std::cmp::Reverse((own.at, own.number)));
    Ok(tests)
}

/// Every set-up in use.
///
/// # Errors
/// [`Refusal`] when the book cannot be read.
pub fn setups(studio: &Studio, now: Timestamp) -> Result<Vec<SetupView>, Refusal> {
    let (around, tests) = (Around::of(studio)?, all_tests(studio)?);
    Ok(around.setups.iter().map(|setup| one(&around, setup, &tests, now)).collect())
}

/// One set-up, by its name or number.
///
/// # Errors
/// [`Refusal`] when it is not there, or the book cannot be read.
pub fn one_setup(studio: &Studio, written: &str, now: Timestamp) -> Result<SetupView, Refusal> {
    let (around, tests) = (Around::of(studio)?, all_tests(studio)?);
    Ok(one(&around, find_setup(&around, written)?, &tests, now))
}

/// What must be the same for wedges to stand on one ladder: another of these is another paper.
const FAMILY: [&str; 5] = ["paper", "metal", "agent", "tool", "developer"];

/// The kept wedges that stand on one ladder.
pub(super) struct Family {
    /// The set-up.
    pub(super) setup: SetupView,
    /// Their numbers, newest first.
    pub(super) wedges: Vec<(u32, LadderWedge)>,
    /// How all of them count the scale; none where there is none.
    pub(super) criterion: Option<String>,
    /// Those that count it otherwise, which are left out.
    pub(super) otherwise: Vec<(u32, String)>,
    /// What has changed since, each with the tests it was otherwise in.
    pub(super) suspect: Vec<String>,
}

/// Wedges of a set-up and of those that differ from it in nothing but the dose, lamp or film.
///
/// A scale by eye and one of 90 % are two measures, and a line through both is no line. So a ladder has one criterion: that of most
/// wedges, and among as many the one of the newest.
pub(super) fn family(studio: &Studio, written: &str, now: Timestamp) -> Result<Family, Refusal> {
    let (around, tests) = (Around::of(studio)?, all_tests(studio)?);
    let setup = find_setup(&around, written)?;
    let own = Fields::of(&setup.facts);
    let akin = |other: &&Record| {
        let fields = Fields::of(&other.facts);
        FAMILY.iter().all(|key| own.text(key).map(str::to_lowercase) == fields.text(key).map(str::to_lowercase))
    };
    let numbers: Vec<u32> = around.setups.iter().filter(akin).map(|own| own.ordinal).collect();
    let of_it = |test: &&TestView| test.setup.as_ref().is_some_and(|own| numbers.contains(&own.0));
    let scaled = tests.iter().filter(of_it).filter(|own| own.found.bracketed);
    let scaled: Vec<(&TestView, Uncertain<LogRange>)> =
        scaled.filter_map(|test| Some((test, test.found.scale?))).collect();
    let criterion = most_used(scaled.iter().map(|own| own.0.found.scale_criterion.as_str()));
    // Times by another criterion are other times, though the scale counts alike.
    let base_by = scaled
        .iter()
        .find(|own| Some(own.0.found.scale_criterion.as_str()) == criterion)
        .map(|own| &own.0.found.base_criterion);
    let (mut wedges, mut otherwise) = (Vec::new(), Vec::new());
    let mut suspects: Vec<(String, Vec<String>)> = Vec::new();
    for (test, scale) in &scaled {
        if Some(test.found.scale_criterion.as_str()) != criterion {
            otherwise.push((test.number, test.found.scale_criterion.clone()));
            continue;
        }
        // Times under one lamp say nothing of another.
        let lit_alike = test.stood.get("lamp") == own.text("lamp").map(String::from).as_ref();
        let base = match test.found.base {
            Some(Exposed::Time(own)) if lit_alike && Some(&test.found.base_criterion) == base_by => Some(own.set),
            _ => None,
        };
        wedges.push((test.number, LadderWedge { dose: dose_of(test.dose.as_deref()), scale: *scale, base }));
        let stands = test.setup.as_ref().and_then(|own| around.stands_now(own.0)).unwrap_or_default();
        for why in suspect(test, &stands, age_in_days(test, now)) {
            match suspects.iter_mut().find(|own| own.0 == why) {
                Some(known) => known.1.push(test.number.to_string()),
                None => suspects.push((why, vec![test.number.to_string()])),
            }
        }
    }
    let suspect = suspects.into_iter().map(|(why, tests)| {
        let many = if tests.len() == 1 { "test" } else { "tests" };
        format!("{why} ({many} {})", tests.join(", "))
    });
    Ok(Family {
        setup: one(&around, setup, &tests, now),
        wedges,
        criterion: criterion.map(String::from),
        otherwise,
        suspect: suspect.collect(),
    })
}

/// The word said most often; among as many the one that comes first.
fn most_used<'a>(words: impl Iterator<Item = &'a str>) -> Option<&'a str> {
    let mut counted: Vec<(&str, usize)> = Vec::new();
    for word in words {
        match counted.iter_mut().find(|own| own.0 == word) {
            Some(own) => own.1 += 1,
            None => counted.push((word, 1)),
        }
    }
    let most = counted.iter().map(|own| own.1).max()?;
    counted.iter().find(|own| own.1 == most).map(|own| own.0)
}
