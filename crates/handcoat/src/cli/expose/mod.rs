//! `handcoat expose …`: wedge, eye, strips, contrast ladder. None of them needs a book.

mod args;
mod text;

use handcoat_craft::measure::significant;
use handcoat_work::Refusal;
use handcoat_work::expose::{at_distance, by_eye, ink, ladder, strips, wedge};
use serde_json::json;

pub(super) use args::ExposeCommand;

use super::import;
use crate::json;

/// A table of readings longer than this is another file.
const MOST_BYTES: u64 = 1024 * 1024;

pub(super) fn run(command: &ExposeCommand) -> Result<String, Refusal> {
    match command {
        ExposeCommand::Wedge(args) => {
            let bytes = import::read(&args.file, "readings under a wedge", "wedge.csv", MOST_BYTES)?;
            if args.ink {
                let read = ink(&args.answers(), &bytes)?;
                return Ok(if args.json { json::lines(&json::expose::ink(&read)) } else { text::ink(&read) });
            }
            let read = wedge(&args.answers(), &bytes)?;
            Ok(if args.json { json::lines(&json::expose::wedge(&read)) } else { text::wedge(&read) })
        }
        ExposeCommand::Eye(args) => {
            let read = by_eye(&args.answers())?;
            Ok(if args.json { json::lines(&json::expose::eye(&read)) } else { text::eye(&read) })
        }
        ExposeCommand::Strip(args) => {
            let read = strips(&args.answers())?;
            Ok(if args.json { json::lines(&json::expose::strips(&read)) } else { text::strips(&read) })
        }
        ExposeCommand::Ladder(args) => {
            let read = ladder(&args.answers())?;
            Ok(if args.json { json::lines(&json::expose::ladder(&read)) } else { text::ladder(&read) })
        }
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
