//! `handcoat negative …`: from a picture and a curve to a negative for ink on film.

mod args;
mod progress;
mod text;

use std::path::Path;
use std::time::Instant;

use handcoat_work::negative::{
    CurveOf, Hooks, check_preview, curve_of_response, curve_of_table, make as made, make_inks, preview, with_setup,
};
use handcoat_work::tone::one_response;
use handcoat_work::{Question, Refusal};

pub(super) use args::NegativeCommand;
use args::{InksArgs, MakeArgs};

use super::book::BookArgs;
use super::{files, import};
use crate::{clock, json};

/// A table of a curve longer than this is another file.
const MOST_BYTES: u64 = 8 * 1024 * 1024;

pub(super) fn run(command: &NegativeCommand) -> Result<String, Refusal> {
    match command {
        NegativeCommand::Make(args) => make(args),
        NegativeCommand::Inks(args) => inks(args),
    }
}

/// A curve: that of a kept response by its number, or a table in a file. What a set-up says of negatives comes with it.
fn curve_of(written: Option<&String>, setup: Option<&String>, whose: &BookArgs) -> Result<CurveOf, Refusal> {
    let about = Question::Curve;
    let written = written.ok_or_else(|| Refusal::missing(about, "curve.csv"))?.trim();
    if !written.is_empty() && written.bytes().all(|byte| byte.is_ascii_digit()) {
        let (studio, now) = (whose.open()?, clock::now());
        return with_setup(&studio, curve_of_response(&one_response(&studio, written, now)?), setup, now);
    }
    let path = Path::new(written);
    let name = path.file_name().map(|own| own.to_string_lossy().into_owned()).unwrap_or_default();
    let bytes = import::read(path, "a curve", "curve.csv", MOST_BYTES).map_err(|mut refusal| {
        refusal.about = Some(about);
        refusal
    })?;
    let curve = curve_of_table(&name, &bytes)?;
    if setup.is_none() {
        return Ok(curve);
    }
    with_setup(&whose.open()?, curve, setup, clock::now())
}

fn make(args: &MakeArgs) -> Result<String, Refusal> {
    let target = args.output.as_ref().ok_or_else(|| Refusal::missing(Question::Output, "negative.tif"))?;
    // Nothing is begun where something stands already.
    if !args.force && files::occupied(target) {
        return Err(Refusal::occupied(Question::Output, target));
    }
    args.preview.iter().try_for_each(|own| check_preview(own, Some(target), args.force))?;
    let Some(picture) = args.pictures.first() else { return Err(Refusal::missing(Question::Picture, "picture.tif")) };
    let answers = args.answers();
    let curve = curve_of(args.curve.as_ref(), args.setup.as_ref(), &args.whose)?;
    let bar = progress::Bar::new();
    let begun = Instant::now();
    let outcome = {
        let guard = progress::Guard::new();
        let told = |rows, of| bar.tell(rows, of);
        let hooks = Hooks { progress: &told, cancel: guard.cancel() };
        made(&answers, picture, target, &curve, &hooks).map(|own| (own, begun.elapsed())).and_then(|own| {
            let quiet = Hooks { progress: &|_, _| {}, cancel: guard.cancel() };
            args.preview.iter().try_for_each(|file| preview(&answers, picture, file, &curve, &quiet)).map(|()| own)
        })
    };
    bar.end();
    let (negative, spent) = outcome?;
    if args.whose.json {
        let preview = args.preview.as_deref();
        return Ok(json::lines(&json::negative::made(&negative, target, preview, spent.as_secs_f64())));
    }
    Ok(text::made(&negative, target, args.preview.as_deref()))
}

fn inks(args: &InksArgs) -> Result<String, Refusal> {
    let target = args.output.as_ref().ok_or_else(|| Refusal::missing(Question::Output, "inks.tif"))?;
    let guard = progress::Guard::new();
    let hooks = Hooks { progress: &|_, _| {}, cancel: guard.cancel() };
    let made = make_inks(&args.answers(), target, &hooks)?;
    if args.json {
        return Ok(json::lines(&json::negative::inks(&made, target)));
    }
    Ok(text::inks(&made, target))
}
