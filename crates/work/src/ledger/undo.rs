//! Taking an act back.

use handcoat_book::{ActNumber, Acting, BookError, Record, RecordKind, UndoError};

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

/// What would be left without the set-up it was found for, and could not say any more that something of it has changed.
fn standing_on(acting: &Acting<'_>, made: &Record) -> Result<Vec<Record>, BookError> {
    if made.kind != RecordKind::Setup {
        return Ok(Vec::new());
    }
    let mut all = acting.records(RecordKind::Test)?;
    all.extend(acting.records(RecordKind::Response)?);
    all.retain(|own| own.facts.get("setup").and_then(serde_json::Value::as_u64) == Some(u64::from(made.ordinal)));
    Ok(all)
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
