//! `handcoat expose …`: wedge, eye, strips, contrast ladder; and with a book, the tests that are kept under their set-ups.

mod args;
mod kept;
mod scan;
mod text;

use handcoat_craft::measure::significant;
use handcoat_work::Refusal;
use handcoat_work::expose::{Tested, at_distance, by_eye, ink, keep_test, ladder, ladder_of, strips, wedge};
use serde_json::{Value, json};

pub(super) use args::ExposeCommand;
use args::KeepArgs;
pub(super) use kept::setup_words;

use super::book::done_text;
use super::import;
use crate::{clock, json};

/// A table of readings longer than this is another file.
const MOST_BYTES: u64 = 1024 * 1024;

pub(super) fn run(command: &ExposeCommand) -> Result<String, Refusal> {
    match command {
        ExposeCommand::Wedge(args) => {
            let Some(file) = &args.file else { return scan::wedge(args) };
            let bytes = import::read(file, "readings under a wedge", "wedge.csv", MOST_BYTES)?;
            let answers = args.answers();
            if args.ink {
                let read = ink(&answers, &bytes)?;
                let said = (json::expose::ink(&read), text::ink(&read));
                return answer(&args.kept, &Tested::Ink(&answers, &bytes), said);
            }
            let read = wedge(&answers, &bytes)?;
            answer(&args.kept, &Tested::Wedge(&answers, &bytes), (json::expose::wedge(&read), text::wedge(&read)))
        }
        ExposeCommand::Eye(args) => {
            let answers = args.answers();
            let read = by_eye(&answers)?;
            answer(&args.kept, &Tested::Eye(&answers), (json::expose::eye(&read), text::eye(&read)))
        }
        ExposeCommand::Strip(args) => {
            let answers = args.answers();
            let read = strips(&answers)?;
            answer(&args.kept, &Tested::Strip(&answers), (json::expose::strips(&read), text::strips(&read)))
        }
        ExposeCommand::Ladder(args) => {
            let answers = args.answers();
            // A ladder needs a book only where a set-up is named.
            let read = match &args.setup {
                Some(_) => ladder_of(&args.whose.open()?, &answers, clock::now())?,
                None => ladder(&answers)?,
            };
            Ok(if args.whose.json { json::lines(&json::expose::ladder(&read)) } else { text::ladder(&read) })
        }
        ExposeCommand::List(args) => kept::list(args),
        ExposeCommand::Show(args) => kept::show(args),
        ExposeCommand::Sheet(args) => kept::sheet(args),
        ExposeCommand::Distance(args) => {
            let time = at_distance(&args.answers())?;
            if args.json {
                return Ok(json::lines(&json!({ "time_s": time.to_seconds() })));
            }
            Ok(format!(
                "{} ({} s) at the new distance, by the square of it; make one strip there before a sheet\n",
                time.clock(),
                significant(time.to_seconds(), 4)
            ))
        }
    }
}

/// What a test came to, and what was kept of it.
fn answer(kept: &KeepArgs, tested: &Tested<'_>, (mut value, mut words): (Value, String)) -> Result<String, Refusal> {
    let as_json = kept.act.whose.json;
    if kept.keep {
        let moment = kept.act.moment()?;
        let done = keep_test(&mut kept.act.whose.open()?, &moment, &kept.place(), tested)?;
        if let (Value::Object(out), Value::Object(act)) = (&mut value, json::ledger::done(&done)) {
            out.insert("test".into(), json!(done.record));
            out.extend(act);
        }
        words.push('\n');
        words.push_str(&done_text(&done, &kept.act.whose));
    }
    Ok(if as_json { json::lines(&value) } else { words })
}
