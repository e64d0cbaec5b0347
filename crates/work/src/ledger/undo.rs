//! Taking an act back.

use handcoat_book::{ActNumber, Acting, BookError, Record, RecordKind, UndoError};
use serde::Deserialize as _;
use serde_json::Value;

use crate::keep::Fields;
use crate::negative::{NegativeLink, files_of, made_for};
use crate::{Done, Moment, Question, Refusal, RefusalKind, Remedy, Studio};

/// Takes an act back: everything is as if it had not been, and both stand in the book.
///
/// # Errors
/// [`Refusal`] when there is no such act, it was taken back before, or later acts stand on it; those are named.
pub fn undo(studio: &mut Studio, moment: &Moment, written: &str) -> Result<Done, Refusal> {
    let about = Question::Act;
    let number = written.trim().parse::<i64>().ok().filter(|number| *number > 0).ok_or_else(|| {
        let cause = format!("`{}` is no number of an act", written.trim());
        Refusal::unreadable("count_unreadable", about, cause, vec![Remedy::Write(about, "7".into())])
    })?;
    let acted = studio.book.undo_minding(&moment.stamp()?, ActNumber::new(number), standing_on).map_err(refusal)?;
    let mut done = Done::of(&acted);
    let kind = acted.act().body.get("kind").and_then(|kind| kind.as_str()).unwrap_or("act").to_owned();
    // As the book has it: under a key that was used before it may have been done earlier.
    let undone = acted.act().reverses.map_or(number, |act| act.get());
    done.said = vec![format!("Act {undone} ({kind}) is taken back.")];
    Ok(done)
}

/// What would be left without what it was found for or made from: tests, responses and negatives of a set-up, and prints of a negative or of the
/// file of one that is taken back.
fn standing_on(acting: &Acting<'_>, own: &Record, before: Option<&Value>) -> Result<Vec<Record>, BookError> {
    match (own.kind, before) {
        (RecordKind::Setup, None) => {
            let of =
                |record: &Record| record.facts.get("setup").and_then(Value::as_u64) == Some(u64::from(own.ordinal));
            let mut all = acting.records(RecordKind::Test)?;
            all.extend(acting.records(RecordKind::Response)?);
            all.retain(of);
            let negatives = acting.records(RecordKind::Negative)?;
            all.extend(negatives.into_iter().filter(|record| made_for(record, own.ordinal)));
            Ok(all)
        }
        (RecordKind::Negative, _) => {
            let (is, was) = (files_of(&own.facts), before.map(files_of).unwrap_or_default());
            let mut prints = acting.records(RecordKind::Print)?;
            prints.retain(|print| match printed_from(print, own.ordinal) {
                Some(sha256) => before.is_none() || (is.contains(&sha256) && !was.contains(&sha256)),
                None => before.is_none() && names(print, &own.name),
            });
            Ok(prints)
        }
        _ => Ok(Vec::new()),
    }
}

/// SHA-256 of the file a print was made from, when it is one of that negative.
fn printed_from(print: &Record, number: u32) -> Option<String> {
    let link = NegativeLink::deserialize(print.facts.get("negative_made")?).ok()?;
    (link.number == number).then_some(link.sha256)
}

/// Whether a print was written down with a negative of that name.
fn names(print: &Record, name: &str) -> bool {
    let said = Fields::of(&print.facts).text("negative").map(str::to_lowercase);
    said == Some(name.to_lowercase())
}

fn refusal(error: UndoError) -> Refusal {
    let about = Question::Act;
    let cause = error.to_string();
    match error {
        UndoError::Book(error) => error.into(),
        UndoError::NoSuchAct(_) => Refusal {
            code: "act_unknown",
            kind: RefusalKind::Missing,
            about: Some(about),
            cause,
            excerpt: None,
            remedies: vec![Remedy::ListActs],
        },
        UndoError::AlreadyUndone { .. } => Refusal::rule("act_undone_before", about, cause, vec![Remedy::ListActs]),
        UndoError::IsUndo(_) => Refusal::rule("act_is_undo", about, cause, vec![Remedy::ListActs]),
        UndoError::InTheWay { later, .. } => {
            let named: Vec<String> = later.iter().map(|own| format!("{} ({})", own.number, own.kind)).collect();
            let cause = format!("{cause}: {}", named.join(", "));
            let first = later.iter().map(|own| Remedy::UndoFirst(own.number.get())).collect();
            Refusal::rule("act_in_the_way", about, cause, first)
        }
        UndoError::NotAdmitted { .. } => Refusal::rule("act_in_the_way", about, cause, vec![Remedy::ListActs]),
        UndoError::NameTaken { .. } => Refusal::rule("name_taken", about, cause, vec![Remedy::ListActs]),
    }
}
