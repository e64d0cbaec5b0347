//! Responses in the book: kept with the set-up as it then was, checked by a print through their curve, doubted when the set-up changes.

use std::collections::BTreeMap;

use handcoat_book::{Acting, BookError, Deed, Record, RecordKind, Standing as RecordStanding};
use handcoat_craft::measure::shortened;
use handcoat_craft::tone::{Doubt, SetupPart, Since, Standing, doubts, standing, within_noise};
use jiff::Timestamp;
use serde::{Deserialize, Serialize};
use serde_json::Value;

use super::check::CheckRead;
use super::document::{document, of_value};
use super::read::ToneRead;
use super::scan::ScanFacts;
use super::words::{good_sentence, verdict};
use crate::expose::{Around, find_setup};
use crate::keep::{fields_of, record_body};
use crate::negative::{NO_INK, ink_words, same_ink};
use crate::{Day, Done, Moment, Question, Refusal, RefusalKind, Remedy, Studio};

/// Where a response belongs. `None` is a question left open.
#[derive(Clone, Debug, Default, PartialEq)]
#[allow(missing_docs, reason = "each field answers the question of the same name")]
pub struct ResponseOfSetup {
    pub setup: Option<String>,
    pub note: Option<String>,
    pub scan: Option<ScanFacts>,
}

/// What a print through the curve of a response said.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct Checked {
    /// When it was kept.
    pub at: Timestamp,
    /// How many patches were read.
    pub readings: usize,
    /// Root mean square of what was left, L*.
    pub rms_l_star: f64,
    /// How much of it noise explains, L*.
    pub noise_l_star: f64,
    /// What remains beside the noise, L*.
    pub beside_noise_l_star: f64,
}

/// What stands in the book of a response.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
struct ResponseSheet {
    v: u32,
    at: Timestamp,
    #[serde(default)]
    setup: Option<u32>,
    #[serde(default)]
    setup_name: Option<String>,
    #[serde(default)]
    note: Option<String>,
    /// The response whose corrected print it comes from.
    #[serde(default)]
    follows: Option<u32>,
    #[serde(default)]
    stood: BTreeMap<String, String>,
    #[serde(default)]
    lamp_seconds: Option<i64>,
    #[serde(default)]
    checked: Option<Checked>,
    /// What is known of the scan its readings come from.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    scan: Option<ScanFacts>,
    fit: Value,
}

/// A response that is kept.
#[derive(Clone, Debug, PartialEq)]
pub struct ResponseView {
    /// Its number; never used again.
    pub number: u32,
    /// When it was kept.
    pub at: Timestamp,
    /// Number and name of its set-up.
    pub setup: Option<(u32, String)>,
    /// A note.
    pub note: Option<String>,
    /// The response whose corrected print it comes from.
    pub follows: Option<u32>,
    /// What is known of the scan its readings come from.
    pub scan: Option<ScanFacts>,
    /// What a print through its curve said.
    pub checked: Option<Checked>,
    /// The one ink its chart was printed in: as the chart said, or else as its set-up had it then; `none` where it was grey, nothing where nobody said.
    pub ink: Option<String>,
    /// Why it is doubted, the gravest first.
    pub doubts: Vec<Doubt>,
    /// What of the set-up is not as it was: which part, and in words what it was and is.
    pub changes: Vec<(SetupPart, String)>,
    /// Response and correction as they were kept.
    pub read: ToneRead,
}

impl ResponseView {
    /// How it stands.
    #[must_use]
    pub fn standing(&self) -> Standing {
        standing(&self.doubts)
    }

    /// Its doubts in words, what changed with its values.
    #[must_use]
    pub fn doubt_words(&self) -> Vec<(&'static str, String)> {
        let one = |own: &Doubt| {
            let Doubt::Changed(part) = own else { return (own.code(), own.to_string()) };
            let what: Vec<&str> =
                self.changes.iter().filter(|other| other.0 == *part).map(|other| other.1.as_str()).collect();
            let said = own.to_string();
            let marked = format!("{} changed since", part.words());
            (own.code(), said.replacen(&marked, &format!("{marked} ({})", what.join("; ")), 1))
        };
        self.doubts.iter().map(one).collect()
    }
}

/// Which of these responses of one set-up to use, the newest first: the newest that a print has verified and that holds; where there is
/// none the newest that is not stale. Of stale ones none is used before a chart was read anew.
#[must_use]
pub fn curve_to_use(all: &[ResponseView], setup: Option<u32>) -> Option<u32> {
    let own = || all.iter().filter(|own| own.setup.as_ref().map(|own| own.0) == setup);
    let holds = own().find(|own| own.checked.is_some() && own.standing() == Standing::Holds);
    holds.or_else(|| own().find(|own| own.standing() != Standing::Stale)).map(|own| own.number)
}

/// The response that was made from a print through this one, if it is among these.
#[must_use]
pub fn followed_by(all: &[ResponseView], number: u32) -> Option<u32> {
    all.iter().find(|own| own.follows == Some(number)).map(|own| own.number)
}

/// The field of a set-up that says in which one ink its negatives are.
const INK_COLOUR: &str = "ink_colour";

/// Which part of a set-up a field of it, or of what it is made of, belongs to. What changes with every bottle and every day is none.
fn part_of(key: &str) -> Option<SetupPart> {
    Some(match key {
        "paper" | "paper_lot" => SetupPart::Paper,
        "metal" | "agent" | "dose" | "tool" => SetupPart::Coat,
        "lamp" | "distance" => SetupPart::Lamp,
        "developer" | "developer_holds" => SetupPart::Developer,
        "film" => SetupPart::Film,
        "printer" => SetupPart::Printer,
        "driver" => SetupPart::Driver,
        "ink" | INK_COLOUR => SetupPart::Ink,
        _ => return None,
    })
}

/// Keeps a response with its set-up as it now is.
///
/// # Errors
/// [`Refusal`] when the set-up is not there, or a note cannot be read.
pub fn keep_response(
    studio: &mut Studio,
    moment: &Moment,
    place: &ResponseOfSetup,
    read: &ToneRead,
) -> Result<Done, Refusal> {
    let note = note(place.note.as_ref())?;
    let fit = document(read);
    let acted = studio.book.act(&moment.asked(&(place, fit.to_string()))?, "tone", |acting| {
        let around = Around::within(acting)?;
        let setup = place.setup.as_ref().map(|own| find_setup(&around, own)).transpose()?;
        let stood = setup.map(|own| around.stands(own)).unwrap_or_default();
        let inks = read.ink().zip(setup.map(|_| stood.facts.get(INK_COLOUR).map_or(NO_INK, String::as_str)));
        let other = inks.filter(|own| !same_ink(own.0, own.1)).map(|(of, own)| {
            format!(
                "Its chart was printed in {}, and negatives of the set-up are in {}.",
                ink_words(of),
                ink_words(own)
            )
        });
        let sheet = ResponseSheet {
            v: 1,
            at: moment.at,
            setup: setup.map(|own| own.ordinal),
            setup_name: setup.map(|own| own.name.clone()),
            note: note.clone(),
            follows: None,
            stood: stood.facts,
            lamp_seconds: stood.lamp_seconds,
            checked: None,
            scan: place.scan.clone(),
            fit: fit.clone(),
        };
        let name = setup.map_or("response".into(), |own| format!("response, {}", own.name));
        let record = acting.add_record(RecordKind::Response, &name, &facts_of(&sheet)?)?;
        let of = setup.map_or(String::new(), |own| format!(" of {}", own.name));
        let mut said = vec![format!("Response {} is kept{of}.", record.ordinal), good_sentence(read)];
        said.extend(other);
        Ok::<_, Refusal>(Deed { body: record_body(&record, &said), entry: None })
    })?;
    Ok(Done::of(&acted))
}

/// Keeps what a print through a response's curve said; with `update` also the response these readings improve, as one of its own.
///
/// # Errors
/// [`Refusal`] when it is not there, or these readings give no better response.
pub fn keep_check(
    studio: &mut Studio,
    moment: &Moment,
    written: &str,
    check: &CheckRead,
    update: bool,
) -> Result<Done, Refusal> {
    let number = response_number(written)?;
    let improved = match (&check.update, update) {
        (Some(own), true) => Some(document(own)),
        (None, true) => {
            let cause = match &check.verified.update {
                Err(error) => format!("these readings give no better response: {error}"),
                Ok(_) => "these readings give no better response: there are no tones between its ends".into(),
            };
            let about = Question::Table;
            let remedies = vec![Remedy::Write(about, "chart.csv".into())];
            return Err(Refusal::rule("update_none", about, cause, remedies));
        }
        (_, false) => None,
    };
    let verified = &check.verified;
    let kept = Checked {
        at: moment.at,
        readings: check.rows.len(),
        rms_l_star: verified.rms,
        noise_l_star: verified.noise,
        beside_noise_l_star: verified.beside_noise,
    };
    let asked = (written, &check.rows, update);
    let acted = studio.book.act(&moment.asked(&asked)?, "tone_check", |acting| {
        let mut record = acting
            .record(RecordKind::Response, number)?
            .filter(|own| own.standing == RecordStanding::Here)
            .ok_or_else(|| unknown(number))?;
        let mut sheet = sheet_of(&record)?;
        sheet.checked = Some(kept);
        record.facts = facts_of(&sheet)?;
        acting.change_record(&record)?;
        let mut said = vec![format!("Response {number} is checked: {}.", verdict(check))];
        let mut shown = record.clone();
        if let Some(fit) = &improved {
            let around = Around::within(acting)?;
            let stood = sheet.setup.and_then(|own| around.stands_now(own)).unwrap_or_default();
            let next = ResponseSheet {
                at: moment.at,
                follows: Some(number),
                stood: stood.facts,
                lamp_seconds: stood.lamp_seconds,
                checked: None,
                // These readings come from another print.
                scan: None,
                fit: fit.clone(),
                ..sheet
            };
            shown = acting.add_record(RecordKind::Response, &record.name, &facts_of(&next)?)?;
            said.push(format!("Response {} is kept: {number} with what its print taught.", shown.ordinal));
        }
        Ok::<_, Refusal>(Deed { body: record_body(&shown, &said), entry: None })
    })?;
    Ok(Done::of(&acted))
}

/// A note, read as those of everything that is kept.
fn note(written: Option<&String>) -> Result<Option<String>, Refusal> {
    let field = fields_of(RecordKind::Setup).iter().find(|own| own.key == "note");
    field.zip(written).map_or(Ok(None), |(field, text)| field.read(text))
}

fn facts_of(sheet: &ResponseSheet) -> Result<Value, Refusal> {
    Ok(serde_json::to_value(sheet).map_err(|_| BookError::unreadable("a response", String::new()))?)
}

fn sheet_of(record: &Record) -> Result<ResponseSheet, Refusal> {
    let read = ResponseSheet::deserialize(&record.facts);
    Ok(read.map_err(|error| BookError::unreadable("a response", error.to_string()))?)
}

fn view(around: &Around, record: &Record, now: Timestamp) -> Result<ResponseView, Refusal> {
    let sheet = sheet_of(record)?;
    let read = of_value(&sheet.fit).map_err(|what| BookError::unreadable("a response", what))?;
    let stands = sheet.setup.and_then(|own| around.stands_now(own));
    let stood_in = || sheet.setup.map(|_| sheet.stood.get(INK_COLOUR).map_or(NO_INK, String::as_str));
    let ink = read.ink().or_else(stood_in).map(String::from);
    let mut changes = Vec::new();
    let mut since = Since {
        days: Some(Day::of_instant(now).days_since(Day::of_instant(sheet.at))),
        verified: sheet.checked.is_some(),
        failed: sheet
            .checked
            .filter(|own| !within_noise(own.rms_l_star, own.noise_l_star))
            .map(|own| own.beside_noise_l_star),
        ..Since::default()
    };
    if let Some(now) = &stands {
        // What nobody says any more is not known to have changed.
        let other = |(key, was): (&String, &String)| {
            let part = part_of(key).filter(|_| key != INK_COLOUR)?;
            let is = now.facts.get(key).filter(|is| is.to_lowercase() != was.to_lowercase())?;
            Some((part, format!("{}: {was} then, {is} now", key.replace('_', " "))))
        };
        changes = sheet.stood.iter().filter_map(other).collect();
        // A set-up without an ink does not say that there is none any more.
        let is = now.facts.get(INK_COLOUR);
        if let Some((of, is)) = ink.as_ref().zip(is).filter(|own| !same_ink(own.0, own.1)) {
            changes.push((SetupPart::Ink, format!("printed in {} then, {is} now", ink_words(of))));
        }
        since.changed = changes.iter().map(|own| own.0).collect();
        // Another lamp says so itself; its hours are not those of the first.
        if sheet.stood.get("lamp") == now.facts.get("lamp") {
            let burned = now.lamp_seconds.zip(sheet.lamp_seconds).map(|(now, then)| now - then);
            since.lamp_hours = burned.map(|own| own as f64 / 3600.0);
        }
    }
    Ok(ResponseView {
        number: record.ordinal,
        at: sheet.at,
        setup: sheet.setup.map(|own| (own, sheet.setup_name.unwrap_or_default())),
        note: sheet.note,
        ink,
        follows: sheet.follows,
        checked: sheet.checked,
        scan: sheet.scan,
        doubts: doubts(&since),
        changes,
        read,
    })
}

/// The newest responses, newest first; only those before `before` when it is given, and only those of a set-up when one is named.
///
/// # Errors
/// [`Refusal`] when the set-up is not there, or the book cannot be read.
pub fn responses(
    studio: &Studio,
    setup: Option<&str>,
    most: u32,
    before: Option<u32>,
    now: Timestamp,
) -> Result<Vec<ResponseView>, Refusal> {
    let around = Around::of(studio)?;
    let of = setup.map(|own| find_setup(&around, own)).transpose()?.map(|own| own.ordinal);
    let records = studio.book.newest_records(RecordKind::Response, most, before)?;
    let views = records.iter().filter(|own| own.standing == RecordStanding::Here).map(|own| view(&around, own, now));
    views
        .filter(|own| match (own, of) {
            (Ok(own), Some(of)) => own.setup.as_ref().is_some_and(|own| own.0 == of),
            _ => true,
        })
        .collect()
}

/// The number of a response as it was written.
///
/// # Errors
/// [`Refusal`] when it is no number.
pub fn response_number(written: &str) -> Result<u32, Refusal> {
    let about = Question::Response;
    written.trim().parse().ok().filter(|own| *own > 0).ok_or_else(|| {
        let cause = format!("`{}` is no number of a response; expected one such as 3", shortened(written.trim()));
        Refusal::unreadable("count_unreadable", about, cause, vec![Remedy::Write(about, "1".into())])
    })
}

fn unknown(number: u32) -> Refusal {
    Refusal {
        code: "record_unknown",
        kind: RefusalKind::Missing,
        about: Some(Question::Response),
        cause: format!("no response has the number {number}"),
        excerpt: None,
        remedies: vec![Remedy::ListResponses],
    }
}

/// One response within an act; none where it is not in use any more.
pub(crate) fn response_within(
    acting: &Acting<'_>,
    number: u32,
    now: Timestamp,
) -> Result<Option<ResponseView>, Refusal> {
    let found = acting.record(RecordKind::Response, number)?.filter(|own| own.standing == RecordStanding::Here);
    found.map(|record| view(&Around::within(acting)?, &record, now)).transpose()
}

/// One response, by its number.
///
/// # Errors
/// [`Refusal`] when it is not there, or the book cannot be read.
pub fn one_response(studio: &Studio, written: &str, now: Timestamp) -> Result<ResponseView, Refusal> {
    let number = response_number(written)?;
    let found = studio.book.record(RecordKind::Response, number)?;
    let record = found.filter(|own| own.standing == RecordStanding::Here).ok_or_else(|| unknown(number))?;
    view(&Around::of(studio)?, &record, now)
}
