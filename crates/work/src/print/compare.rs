//! Two prints side by side, and whether an exposure time still stands.

use handcoat_book::{Record, RecordKind, Standing as Stood};
use handcoat_craft::measure::RelativeHumidity;
use handcoat_craft::print::{Change, Comparison, Conditions, Reading, suspect};
use handcoat_craft::source::{Condition, Sign};
use jiff::Timestamp;

use super::conditions;
use super::pour::age;
use super::sheet::PrintSheet;
use super::view::print_record;
use crate::field::signs;
use crate::keep::{Fields, hours_of};
use crate::negative::NegativeLink;
use crate::{Question, Refusal, Studio};

/// Two prints side by side.
#[derive(Clone, Debug, PartialEq)]
pub struct Compared {
    /// Numbers and titles.
    pub first: (u32, String),
    /// Numbers and titles.
    pub second: (u32, String),
    /// What the second shows, where it was said.
    pub sign: Option<Sign>,
    /// What changed.
    pub found: Comparison,
    /// The files their negatives were, with curve and set-up, where they were made here.
    pub negatives: (Option<NegativeLink>, Option<NegativeLink>),
}

impl Compared {
    /// What is to be said of two negatives; nothing when neither is known or both are one file.
    #[must_use]
    pub fn negative_words(&self) -> Vec<String> {
        let (one, other) = &self.negatives;
        if one == other {
            return Vec::new();
        }
        let of = |print: u32, own: &Option<NegativeLink>| {
            let words = own.as_ref().map_or_else(|| "not known".into(), NegativeLink::words);
            format!("negative of print {print}: {words}")
        };
        let mut said = vec![of(self.first.0, one), of(self.second.0, other)];
        if let (Some(one), Some(other)) = (one, other) {
            if one.number == other.number && one.sha256 != other.sha256 {
                said.push("the same negative, made anew between the two".into());
            }
            if one.curve != other.curve || one.response != other.response {
                said.push("their curves differ".into());
            }
            if one.setup != other.setup {
                said.push("their curves are of different set-ups".into());
            }
        }
        said
    }
}

/// Whether the exposure time of a print may be trusted today.
#[derive(Clone, Debug, PartialEq)]
pub struct Standing {
    /// The time that was found.
    pub time: Option<String>,
    /// What changed since that it stands on.
    pub changed: Vec<Change>,
    /// What it stands on that is not known of both days.
    pub unknown: Vec<Condition>,
}

/// Holds one print against another. `shows` is what the second shows more than the first.
///
/// # Errors
/// [`Refusal`] when there is no such print, or the sign is not known.
pub fn compare(studio: &Studio, first: &str, second: &str, shows: Option<&String>) -> Result<Compared, Refusal> {
    let sign = shows.map(|text| signs(Question::Sign, text)).transpose()?.and_then(|all| all.first().copied());
    let (one, other) = (print_record(studio, first)?, print_record(studio, second)?);
    let found = handcoat_craft::print::compare(&made(&one)?, &made(&other)?, sign);
    let negatives = (PrintSheet::of(&one)?.negative_made, PrintSheet::of(&other)?.negative_made);
    Ok(Compared { first: (one.ordinal, one.name), second: (other.ordinal, other.name), sign, found, negatives })
}

fn made(record: &Record) -> Result<Conditions, Refusal> {
    conditions::of(&PrintSheet::of(record)?)
}

/// Holds a print against today: its paper, lamp, developer and bottles as they stand now, and the room where that is said.
///
/// # Errors
/// [`Refusal`] when the book cannot be read.
pub fn still_stands(
    studio: &Studio,
    print: &str,
    now: Timestamp,
    room: Option<RelativeHumidity>,
) -> Result<Standing, Refusal> {
    let record = print_record(studio, print)?;
    let sheet = PrintSheet::of(&record)?;
    let then = conditions::of(&sheet)?;
    let (changed, unknown) = suspect(&then, &today(studio, &sheet, &then, now, room)?);
    // The day has not begun: what is only known of a print that is made is not missing yet.
    let unknown = unknown.into_iter().filter(|of| then.of(*of).is_none() || known_beforehand(*of)).collect();
    Ok(Standing { time: sheet.fields().text("time").map(String::from), changed, unknown })
}

fn known_beforehand(of: Condition) -> bool {
    matches!(of, Condition::PaperLot | Condition::LampHours | Condition::DeveloperAge | Condition::RoomHumidity)
}

/// What is known of today: what the print had, and in its place what the records say now.
pub(super) fn today(
    studio: &Studio,
    sheet: &PrintSheet,
    then: &Conditions,
    now: Timestamp,
    room: Option<RelativeHumidity>,
) -> Result<Conditions, Refusal> {
    let mut today = Conditions::default();
    let changes = [Condition::PaperLot, Condition::LampHours, Condition::RoomHumidity, Condition::DeveloperAge];
    for (of, reading) in then.known().filter(|(of, _)| !changes.contains(of)) {
        today.set(of, reading.clone());
    }
    today.set_known(Condition::RoomHumidity, room);
    let fields = sheet.fields();
    let find = |kind: RecordKind, key: &str| -> Result<Option<Record>, Refusal> {
        let Some(name) = fields.text(key) else { return Ok(None) };
        let here = studio.book.records(kind)?;
        Ok(here.into_iter().find(|own| own.standing == Stood::Here && own.name.eq_ignore_ascii_case(name)))
    };
    if let Some(paper) = find(RecordKind::Paper, "paper")? {
        today.set_known(Condition::PaperLot, Fields::of(&paper.facts).text("lot").map(Reading::word));
    }
    if let Some(lamp) = find(RecordKind::Lamp, "lamp")? {
        let hours = hours_of(&Fields::of(&lamp.facts), &studio.book.counts(&lamp)?);
        today.set_known(Condition::LampHours, hours.map(Reading::hours));
    }
    if let Some(bath) = find(RecordKind::Bath, "developer")? {
        let days = Fields::of(&bath.facts).text("made").and_then(|day| age(day, now));
        today.set_known(Condition::DeveloperAge, days.map(|own| Reading::days(own as f64)));
    }
    Ok(today)
}
