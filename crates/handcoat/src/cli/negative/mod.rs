//! `handcoat negative …`: from a picture and a curve to a negative for ink on film.

mod args;
mod progress;
mod text;

use std::path::Path;
use std::time::Instant;

use handcoat_work::negative::{CurveOf, Hooks, curve_of_response, curve_of_table, make as made};
use handcoat_work::tone::one_response;
use handcoat_work::{Question, Refusal};

use args::MakeArgs;
pub(super) use args::NegativeCommand;

use super::book::BookArgs;
use super::{files, import};
use crate::{clock, json};

/// A table of a curve longer than this is another file.
const MOST_BYTES: u64 = 8 * 1024 * 1024;

pub(super) fn run(command: &NegativeCommand) -> Result<String, Refusal> {
    match command {
        NegativeCommand::Make(args) => make(args),
    }
}

/// A curve: that of a kept response by its number, or a table in a file.
pub(super) fn curve_of(written: Option<&String>, whose: &BookArgs) -> Result<CurveOf, Refusal> {
    let about = Question::Curve;
    let written = written.ok_or_else(|| Refusal::missing(about, "curve.csv"))?.trim();
    if !written.is_empty() && written.bytes().all(|byte| byte.is_ascii_digit()) {
        return Ok(curve_of_response(&one_response(&whose.open()?, written, clock::now())?));
    }
    let path = Path::new(written);
    let name = path.file_name().map(|own| own.to_string_lossy().into_owned()).unwrap_or_default();
    let bytes = import::read(path, "a curve", "curve.csv", MOST_BYTES).map_err(|mut refusal| {
        refusal.about = Some(about);
        refusal
    })?;
    curve_of_table(&name, &bytes)
}

fn make(args: &MakeArgs) -> Result<String, Refusal> {
    let target = args.output.as_ref().ok_or_else(|| Refusal::missing(Question::Output, "negative.tif"))?;
    // Nothing is begun where something stands already.
    if !args.force && files::occupied(target) {
        return Err(Refusal::occupied(Question::Output, target));
    }
    let curve = curve_of(args.curve.as_ref(), &args.whose)?;
    let bar = progress::Bar::new();
    let begun = Instant::now();
    let outcome = {
        let guard = progress::Guard::new();
        let told = |rows, of| bar.tell(rows, of);
        let hooks = Hooks { progress: &told, cancel: guard.cancel() };
        made(&args.answers(), &args.picture, target, &curve, &hooks)
    };
    bar.end();
    let negative = outcome?;
    let seconds = begun.elapsed().as_secs_f64();
    if args.whose.json {
        return Ok(json::lines(&json::negative::made(&negative, target, seconds)));
    }
    Ok(text::made(&negative, target))
}
