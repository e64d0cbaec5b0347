//! `handcoat import FILE`: a list of jars and bottles comes into the book; first as a dry run.

use std::fmt::Write as _;
use std::io::ErrorKind;
use std::path::{Path, PathBuf};

use clap::Args;
use handcoat_work::exchange::{DecimalMark, Does, DryRun, dry_run, import, read_mark, sample};
use handcoat_work::{Question, Refusal, RefusalKind, Remedy};
use serde_json::json;

use super::book::{ActArgs, done_text};
use super::{files, table};
use crate::json;

/// A list of jars and bottles longer than this is another file.
const MOST_BYTES: u64 = 16 * 1024 * 1024;

const EXAMPLES: &str = "\
Examples:
  handcoat import --sample shelf.csv --decimal-mark comma
  handcoat import shelf.csv --decimal-mark comma
  handcoat import shelf.csv --decimal-mark comma --yes

The first writes a table to begin with. The second says row by row what would be done and what stands against it, and keeps
nothing. The third does it: all rows in one act, or none.";

#[derive(Debug, Args)]
#[command(after_help = EXAMPLES)]
pub(super) struct ImportArgs {
    /// The table, as CSV with the columns of items.csv of an export
    #[arg(value_name = "FILE")]
    file: PathBuf,
    /// Mark between whole and part in its numbers: point or comma; never guessed
    #[arg(long, value_name = "MARK")]
    decimal_mark: Option<String>,
    /// Do it; without, only say what would be done
    #[arg(long)]
    yes: bool,
    /// Write a table to begin with to FILE instead, rows of an invented shelf in it
    #[arg(long)]
    sample: bool,
    #[command(flatten)]
    act: ActArgs,
}

pub(super) fn run(args: &ImportArgs) -> Result<String, Refusal> {
    let mark = read_mark(args.decimal_mark.as_deref())?;
    if args.sample {
        return leave_sample(args, mark);
    }
    let bytes = read(&args.file, "a list of jars and bottles", "shelf.csv", MOST_BYTES)?;
    let moment = args.act.moment()?;
    let mut studio = args.act.whose.open()?;
    if args.yes {
        return Ok(done_text(&import(&mut studio, &moment, &bytes, mark)?, &args.act.whose));
    }
    let looked = dry_run(&mut studio, &moment, &bytes, mark)?;
    Ok(match &looked.before {
        Some(done) => done_text(done, &args.act.whose),
        None if args.act.whose.json => json::lines(&json::exchange::dry_run(&looked)),
        None => text(&looked, args),
    })
}

fn leave_sample(args: &ImportArgs, mark: DecimalMark) -> Result<String, Refusal> {
    files::write_new(Question::Table, &args.file, sample(mark).as_bytes())?;
    let file = args.file.display();
    if args.act.whose.json {
        return Ok(json::lines(&json!({ "file": file.to_string() })));
    }
    Ok(format!("A table to begin with is in {file}; its rows are invented.\n"))
}

/// Reads a table whole, unless it is longer than such a table can be.
pub(super) fn read(file: &Path, what: &str, example: &str, most: u64) -> Result<Vec<u8>, Refusal> {
    let refusal = |error: std::io::Error| {
        let about = Some(Question::Table);
        let cause = format!("`{}` could not be read: {error}", file.display());
        let remedies = vec![Remedy::Write(Question::Table, example.into())];
        if error.kind() == ErrorKind::NotFound {
            return Refusal {
                code: "table_missing",
                kind: RefusalKind::Missing,
                about,
                cause,
                excerpt: None,
                remedies,
            };
        }
        Refusal::file("table_unreadable", Question::Table, cause, remedies)
    };
    let size = std::fs::metadata(file).map_err(refusal)?.len();
    if size > most {
        let cause = format!("`{}` has {size} bytes; expected {what} of at most {most}", file.display());
        let (about, remedies) = (Some(Question::Table), vec![Remedy::Write(Question::Table, example.into())]);
        let kind = RefusalKind::Unreadable;
        return Err(Refusal { code: "table_too_large", kind, about, cause, excerpt: None, remedies });
    }
    std::fs::read(file).map_err(refusal)
}

/// What a dry run found, as a table and a list.
fn text(looked: &DryRun, args: &ImportArgs) -> String {
    let separator = match looked.separator {
        '\t' => "tabs".into(),
        own => format!("`{own}`"),
    };
    let mark = looked.mark.word();
    let mut out = format!("Read with {separator} between cells and a decimal {mark}. Nothing is kept yet.\n");
    let mut cells = vec![["line", "name", "becomes", "amount", "metal"].map(String::from).to_vec()];
    cells.extend(looked.rows.iter().map(|row| {
        let (becomes, amount, metal) = match &row.does {
            Does::Shelve { kind, amount, metal } => {
                (format!("a {}", kind.word()), amount.clone(), metal.clone().unwrap_or_else(|| "-".into()))
            }
            Does::LeaveOut(why) => (format!("left out: {why}"), "-".into(), "-".into()),
        };
        vec![row.line.to_string(), row.name.clone(), becomes, amount, metal]
    }));
    if cells.len() > 1 {
        out.push_str(&table::columns(&cells));
    }
    for own in &looked.findings {
        let column = if own.column.is_empty() { String::new() } else { format!(", column {}", own.column) };
        let _ = writeln!(out, "line {}{column}: {} [{}]", own.line, own.message, own.code);
        if !own.hint.is_empty() {
            let _ = writeln!(out, "  takes: {}", own.hint);
        }
    }
    let shelved = looked.rows.iter().filter(|row| matches!(row.does, Does::Shelve { .. })).count();
    let file = super::words::quoted(&args.file.to_string_lossy());
    let _ = match looked.findings.len() {
        0 => writeln!(out, "To put {shelved} on the shelf: handcoat import {file} --decimal-mark {mark} --yes"),
        count => writeln!(out, "Found {count}; while there is any, nothing is looked."),
    };
    out
}
