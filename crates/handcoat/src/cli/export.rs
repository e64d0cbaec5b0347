//! `handcoat export DIR`: a whole book as files, all of them or none.

use std::fs;
use std::io::ErrorKind;
use std::path::{Path, PathBuf};

use clap::Args;
use handcoat_work::exchange::{NAMES, export};
use handcoat_work::{Question, Refusal};
use serde_json::json;

use super::book::BookArgs;
use super::files;
use crate::json;

const EXAMPLES: &str = "\
Example:
  handcoat export handed-over

The folder holds tables, one JSON document, a journal for programs that balance books, and README.txt, which explains them.
The same book gives the same bytes again.";

#[derive(Debug, Args)]
#[command(after_help = EXAMPLES)]
pub(super) struct ExportArgs {
    /// Folder to leave the files in; it must not exist, or be empty
    #[arg(value_name = "DIR")]
    dir: PathBuf,
    #[command(flatten)]
    whose: BookArgs,
}

pub(super) fn run(args: &ExportArgs) -> Result<String, Refusal> {
    let dir = free(&args.dir)?;
    let written = export(&args.whose.open()?)?;
    leave(&dir, &written)?;
    let names: Vec<&str> = written.iter().map(|(name, _)| name.as_str()).collect();
    if args.whose.json {
        return Ok(json::lines(&json!({ "dir": args.dir.display().to_string(), "files": names })));
    }
    let dir = args.dir.display();
    Ok(format!("The whole book is in {dir}: {}.\nBegin with {dir}/README.txt.\n", names.join(", ")))
}

/// The folder by its own name, when nothing is in it or it is not there.
fn free(dir: &Path) -> Result<PathBuf, Refusal> {
    let about = Question::OutputFolder;
    let unwritable = |error| files::unwritable(about, dir, &error);
    match dir.symlink_metadata() {
        Err(error) if error.kind() == ErrorKind::NotFound && dir.file_name().is_some() => Ok(dir.into()),
        Err(error) => Err(unwritable(error)),
        Ok(own) if own.is_dir() && fs::read_dir(dir).map_err(unwritable)?.next().is_none() => {
            dir.canonicalize().map_err(unwritable)
        }
        Ok(_) => Err(Refusal::occupied(about, dir)),
    }
}

/// Writes all files to a folder beside and gives it its name only when it is whole.
fn leave(dir: &Path, written: &[(String, Vec<u8>)]) -> Result<(), Refusal> {
    let about = Question::OutputFolder;
    let mut name = dir.file_name().unwrap_or_default().to_owned();
    name.push(".part");
    let part = dir.with_file_name(name);
    // Of an earlier try that was cut off; when anything else is in it too, it stays and is said.
    take_away(&part);
    if files::occupied(&part) {
        return Err(Refusal::occupied(about, &part));
    }
    let done = fs::create_dir(&part).map_err(|error| files::unwritable(about, &part, &error)).and_then(|()| {
        for (name, bytes) in written {
            files::write_new(about, &part.join(name), bytes)?;
        }
        fs::rename(&part, dir).map_err(|error| match error.kind() {
            ErrorKind::DirectoryNotEmpty | ErrorKind::AlreadyExists | ErrorKind::NotADirectory => {
                Refusal::occupied(about, dir)
            }
            _ => files::unwritable(about, dir, &error),
        })
    });
    if done.is_err() {
        take_away(&part);
    }
    done
}

/// Takes a half-written folder away: the files an export writes and no others. What stays is seen by who asked.
fn take_away(part: &Path) {
    if part.symlink_metadata().is_ok_and(|own| own.is_dir()) {
        let names =
            fs::read_dir(part).into_iter().flatten().flatten().filter_map(|own| own.file_name().into_string().ok());
        for name in names.filter(|name| NAMES.contains(&name.as_str()) || is_photo(name)) {
            let _ = fs::remove_file(part.join(name));
        }
        let _ = fs::remove_dir(part);
    }
}

/// `photo-`, 64 hexadecimal digits and an ending.
fn is_photo(name: &str) -> bool {
    let digits = name.strip_prefix("photo-").and_then(|rest| rest.split_once('.')).map(|(digits, _)| digits);
    digits.is_some_and(|own| own.len() == 64 && own.bytes().all(|byte| byte.is_ascii_hexdigit()))
}
