//! Keeping a record, changing it, counting what came, putting it away.

use std::collections::BTreeMap;

use handcoat_book::{Acting, Deed, Record, RecordKind, Standing};
use handcoat_craft::measure::shortened;
use serde_json::{Value, json};

use super::fields::Fields;
use super::tables::{fields_of, what_is};
use super::view::{PIECES, SHEETS};
use crate::field::{Field, Form};
use crate::negative::check_rule_kept;
use crate::shelf::Shelf;
use crate::stock::needed;
use crate::{Done, Moment, Question, Refusal, RefusalKind, Remedy, Studio};

/// Answers about one thing that is kept.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Keep {
    /// What it is called.
    pub name: Option<String>,
    /// Answers by the key of their field.
    pub fields: BTreeMap<&'static str, String>,
    /// How many came: sheets of a paper, pieces of a supply.
    pub came: Option<String>,
}

/// The field for what the rule in the border measured.
const RULE: &str = "rule_measured";
/// Longest name.
const MOST_NAME: usize = 60;

/// Keeps something new.
///
/// # Errors
/// [`Refusal`] when an answer cannot be read, or the name is taken.
pub fn keep(studio: &mut Studio, moment: &Moment, kind: RecordKind, answers: &Keep) -> Result<Done, Refusal> {
    let acted = studio.book.act(&moment.asked(&(kind, answers))?, "keep", |acting| {
        let (record, said) = kept_in(acting, kind, answers)?;
        Ok::<_, Refusal>(Deed { body: body(&record, &said), entry: None })
    })?;
    Ok(Done::of(&acted))
}

/// Keeps something new within an act.
pub(crate) fn kept_in(
    acting: &mut Acting<'_>,
    kind: RecordKind,
    answers: &Keep,
) -> Result<(Record, Vec<String>), Refusal> {
    let written = needed(Question::Name, answers.name.as_ref(), example(kind))?;
    let name = free_name(acting, kind, written, None)?;
    let fields = linked(acting, kind, Fields::default().read(fields_of(kind), &answers.fields)?)?;
    rule_usable(kind, &fields, answers)?;
    let record = acting.add_record(kind, &name, &json!({ "v": 1, "fields": fields.to_json() }))?;
    let came = count_in(acting, &record, answers.came.as_ref())?;
    let mut said = vec![format!("{name} is kept: {} {}.", kind.word(), record.ordinal)];
    said.extend(came);
    Ok((record, said))
}

/// Changes what is known of something.
///
/// # Errors
/// [`Refusal`] when it is not there, an answer cannot be read, or the new name is taken.
pub fn change(
    studio: &mut Studio,
    moment: &Moment,
    kind: RecordKind,
    written: &str,
    answers: &Keep,
) -> Result<Done, Refusal> {
    let acted = studio.book.act(&moment.asked(&(kind, written, answers))?, "change", |acting| {
        let (record, said) = changed_in(acting, kind, written, answers)?;
        Ok::<_, Refusal>(Deed { body: body(&record, &said), entry: None })
    })?;
    Ok(Done::of(&acted))
}

/// Changes what is known of something within an act.
pub(crate) fn changed_in(
    acting: &mut Acting<'_>,
    kind: RecordKind,
    written: &str,
    answers: &Keep,
) -> Result<(Record, Vec<String>), Refusal> {
    let mut record = find_record(acting, kind, Question::Name, written)?;
    if let Some(name) = &answers.name {
        record.name = free_name(acting, kind, name, Some(record.ordinal))?;
    }
    let were = Fields::of(&record.facts);
    let fields = Fields::of(&record.facts).read(fields_of(kind), &answers.fields)?;
    let fields = linked(acting, kind, fields)?;
    rule_usable(kind, &fields, answers)?;
    let rule = rule_changed(were.text(RULE), fields.text(RULE));
    record.facts["fields"] = fields.to_json();
    acting.change_record(&record)?;
    let came = count_in(acting, &record, answers.came.as_ref())?;
    let mut said = vec![format!("{} is changed.", record.name)];
    said.extend(rule);
    said.extend(came);
    Ok((record, said))
}

/// What is said of the rule is what a rule measures: by any other figure every negative of the set-up would be refused later.
fn rule_usable(kind: RecordKind, fields: &Fields, answers: &Keep) -> Result<(), Refusal> {
    let field = fields_of(kind).iter().find(|own| own.key == RULE).filter(|own| answers.fields.contains_key(own.key));
    let (Some(field), Some(text)) = (field, fields.text(RULE)) else { return Ok(()) };
    check_rule_kept(field.question(), text)
}

/// A film that was made by the figure a set-up keeps measures 100 mm again: kept as it is, that would undo the figure.
fn rule_changed(was: Option<&str>, is: Option<&str>) -> Option<String> {
    let (was, is) = (was?, is?);
    (was != is).then(|| {
        format!(
            "The rule was {was} and is {is} now, as on a film made without correction. Measured on a film made by {was}, it is said with the next negative, \
             which says what to keep: --rule-measured {is}."
        )
    })
}

/// Counts what came, or what is there now.
///
/// # Errors
/// [`Refusal`] when it is not there, or the count cannot be read.
pub fn restock(
    studio: &mut Studio,
    moment: &Moment,
    kind: RecordKind,
    written: &str,
    came: Option<&String>,
    there: Option<&String>,
) -> Result<Done, Refusal> {
    let acted = studio.book.act(&moment.asked(&(kind, written, came, there))?, "restock", |acting| {
        let record = find_record(acting, kind, Question::Name, written)?;
        let about = Question::Pieces;
        let said = match there {
            Some(text) => {
                let word = counted(kind).ok_or_else(|| not_counted(kind))?;
                let held = acting.counts(&record)?.get(word).copied().unwrap_or(0);
                let now = whole(about, text)?;
                acting.count(&record, word, now - held);
                vec![format!("{} of {} are there; the book had {held}.", now, record.name)]
            }
            None => {
                let came = needed(about, came, "25")?.to_owned();
                count_in(acting, &record, Some(&came))?.into_iter().collect()
            }
        };
        Ok::<_, Refusal>(Deed { body: body(&record, &said), entry: None })
    })?;
    Ok(Done::of(&acted))
}

/// Puts something away: it is used up, broken or gone.
///
/// # Errors
/// [`Refusal`] when it is not there.
pub fn put_away(studio: &mut Studio, moment: &Moment, kind: RecordKind, written: &str) -> Result<Done, Refusal> {
    let acted = studio.book.act(&moment.asked(&(kind, written))?, "put_away", |acting| {
        let mut record = find_record(acting, kind, Question::Name, written)?;
        record.standing = Standing::Retired;
        acting.change_record(&record)?;
        let mut said = vec![format!("{} is put away. What was made with it keeps its name.", record.name)];
        if kind == RecordKind::Negative {
            let number = record.ordinal;
            said.push(format!("Its record stays: by its number, {number}, or a mark in its border it is shown as before, and its prints lead to it."));
        }
        Ok::<_, Refusal>(Deed { body: body(&record, &said), entry: None })
    })?;
    Ok(Done::of(&acted))
}

/// A record in use by its name or its number.
fn find_record(acting: &Acting<'_>, kind: RecordKind, about: Question, written: &str) -> Result<Record, Refusal> {
    let here = acting.records(kind)?;
    find_among(&here, kind, about, written).cloned()
}

/// The same among records that were read already.
pub(crate) fn find_among<'r>(
    here: &'r [Record],
    kind: RecordKind,
    about: Question,
    written: &str,
) -> Result<&'r Record, Refusal> {
    let text = written.trim();
    let named =
        |record: &&Record| record.name.to_lowercase() == text.to_lowercase() || record.ordinal.to_string() == text;
    here.iter().find(named).ok_or_else(|| Refusal {
        code: "record_unknown",
        kind: RefusalKind::Missing,
        about: Some(about),
        cause: format!("{} called `{}` is not in the book", what_is(kind), shortened(text)),
        excerpt: None,
        remedies: here
            .iter()
            .take(4)
            .map(|own| Remedy::Write(about, own.name.clone()))
            .chain([Remedy::ListKept])
            .collect(),
    })
}

/// A name as it may be written, whoever has it.
pub(crate) fn plain_name(kind: RecordKind, about: Question, written: &str) -> Result<String, Refusal> {
    let name = written.trim();
    let number = name.bytes().all(|byte| byte.is_ascii_digit());
    if name.is_empty() || number || name.chars().count() > MOST_NAME || name.chars().any(char::is_control) {
        let cause = format!(
            "`{}` is no name; expected 1 to {MOST_NAME} characters in one line, with a letter among them",
            shortened(name)
        );
        let remedies = vec![Remedy::Write(about, example(kind).into())];
        return Err(Refusal::unreadable("name_unreadable", about, cause, remedies));
    }
    Ok(name.into())
}

/// A name nobody of that kind has.
fn free_name(acting: &Acting<'_>, kind: RecordKind, written: &str, own: Option<u32>) -> Result<String, Refusal> {
    let about = Question::Name;
    let name = plain_name(kind, about, written)?;
    let taken = |other: &Record| other.name.to_lowercase() == name.to_lowercase() && Some(other.ordinal) != own;
    if acting.records(kind)?.iter().any(taken) {
        let cause = format!("{} called `{name}` is in the book already", what_is(kind));
        return Err(Refusal::rule("name_taken", about, cause, vec![Remedy::Write(about, format!("{name} 2"))]));
    }
    Ok(name)
}

/// Bottles that fields name must be on the shelf, and what a set-up is made of must be kept; both stand here by the name they have.
fn linked(acting: &Acting<'_>, kind: RecordKind, mut fields: Fields) -> Result<Fields, Refusal> {
    for field in fields_of(kind).iter().filter(|own: &&Field| own.form == Form::Bottle) {
        if let Some(text) = fields.text(field.key) {
            let shelf = Shelf::now(acting)?;
            let name = shelf.find(field.question(), text)?.name.clone();
            fields.set(field.key, name);
        }
    }
    for field in fields_of(kind) {
        let Form::Record(other) = field.form else { continue };
        if let Some(text) = fields.text(field.key).map(String::from) {
            fields.set(field.key, find_record(acting, other, field.question(), &text)?.name);
        }
    }
    Ok(fields)
}

/// What is counted of a kind.
fn counted(kind: RecordKind) -> Option<&'static str> {
    match kind {
        RecordKind::Paper => Some(SHEETS),
        RecordKind::Supply => Some(PIECES),
        _ => None,
    }
}

fn not_counted(kind: RecordKind) -> Refusal {
    let cause = format!("pieces of {} are not counted; papers and supplies are", what_is(kind));
    Refusal::rule("not_counted", Question::Pieces, cause, vec![Remedy::LeaveOut(Question::Pieces)])
}

fn count_in(acting: &mut Acting<'_>, record: &Record, came: Option<&String>) -> Result<Option<String>, Refusal> {
    let Some(text) = came else { return Ok(None) };
    let word = counted(record.kind).ok_or_else(|| not_counted(record.kind))?;
    let came = whole(Question::Pieces, text)?;
    acting.count(record, word, came);
    let held = acting.counts(record)?.get(word).copied().unwrap_or(0);
    Ok(Some(format!("{came} came; {} are there.", held + came)))
}

fn whole(about: Question, text: &str) -> Result<i64, Refusal> {
    let read = text.trim().parse::<u32>().ok().filter(|own| *own <= 1_000_000).map(i64::from);
    read.ok_or_else(|| {
        let cause = format!("`{}` is no count; expected a whole number", shortened(text.trim()));
        Refusal::unreadable("count_unreadable", about, cause, vec![Remedy::Write(about, "25".into())])
    })
}

fn example(kind: RecordKind) -> &'static str {
    match kind {
        RecordKind::Paper => "cotton rag 300",
        RecordKind::Tool => "wide brush",
        RecordKind::Dropper => "palladium dropper",
        RecordKind::Lamp => "tube bank",
        RecordKind::Bath => "oxalate developer",
        RecordKind::Supply => "gloves",
        RecordKind::Negative => "heron",
        RecordKind::Setup => "cotton, palladium, tubes",
        RecordKind::Test | RecordKind::Response => "spring wedge",
        RecordKind::Coat | RecordKind::Print => "heron, morning",
    }
}

/// The body of an act on a record.
pub(crate) fn body(record: &Record, said: &[String]) -> Value {
    json!({ "v": 1, "record": { "kind": record.kind.word(), "number": record.ordinal }, "name": record.name, "said": said })
}
