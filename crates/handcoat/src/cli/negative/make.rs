//! `negative make`: one picture, with or without a book.

use std::fmt::Write as _;
use std::path::{Path, PathBuf};
use std::sync::Mutex;
use std::sync::atomic::Ordering;
use std::time::Instant;

use handcoat_work::negative::{
    Asked, CurveOf, KeptCurve, NegativeAnswers, Whole, add_job, check_no_source, check_preview, check_target,
    curve_of_response, curve_of_table, name_taken, with_rule_film, with_setup,
};
use handcoat_work::tone::one_response;
use handcoat_work::{Question, Refusal, Remedy, Studio};
use jiff::Timestamp;
use serde_json::{Value, json};

use super::args::MakeArgs;
use super::{progress, text};
use crate::apart::{self, AskedNegative, Hooks, SentPath, Worked};
use crate::cli::book::{BookArgs, read_instant};
use crate::cli::import;
use crate::{clock, json as lines_of};

/// A table of a curve longer than this is another file.
const MOST_BYTES: u64 = 8 * 1024 * 1024;

/// A curve: that of a kept response by its number, or a table in a file. What a set-up says of negatives comes with it.
pub(in crate::cli) fn curve_of(
    written: Option<&String>,
    setup: Option<&String>,
    whose: &BookArgs,
    now: Timestamp,
) -> Result<CurveOf, Refusal> {
    let about = Question::Curve;
    let written = written.ok_or_else(|| no_curve_said(whose))?.trim();
    if !written.is_empty() && written.bytes().all(|byte| byte.is_ascii_digit()) {
        let studio = whose.open()?;
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
    with_setup(&whose.open()?, curve, setup, now)
}

/// That no curve is said; where a book is at hand its responses are one step away.
fn no_curve_said(whose: &BookArgs) -> Refusal {
    let mut refusal = Refusal::missing(Question::Curve, "curve.csv");
    if whose.open().is_ok() {
        refusal.remedies.insert(0, Remedy::ListResponses);
    }
    refusal
}

/// The curve of a negative as it is asked for, with the film on which the rule was measured.
pub(super) fn curve_for(args: &MakeArgs) -> Result<CurveOf, Refusal> {
    let now = args.at.as_deref().map_or_else(|| Ok(clock::now()), read_instant)?;
    let curve = curve_of(args.curve.as_ref(), args.setup.as_ref(), &args.whose, now)?;
    match &args.rule_on {
        // No book is needed to say that a film was made without correction.
        Some(own) if own.trim() != "none" => with_rule_film(&args.whose.open()?, curve, Some(own), now),
        _ => Ok(curve),
    }
}

/// What came of one picture: in words, and as JSON.
pub(super) struct Told {
    pub(super) words: String,
    pub(super) json: Value,
}

pub(super) fn one(args: &MakeArgs) -> Result<String, Refusal> {
    let target = args.output.as_ref().ok_or_else(|| Refusal::missing(Question::Output, "negative.tif"))?;
    // Nothing is begun where something stands already.
    check_target(Question::Output, target, args.force)?;
    args.preview.iter().try_for_each(|own| check_preview(own, Some(target), args.force))?;
    let Some(first) = args.pictures.first() else { return Err(Refusal::missing(Question::Picture, "picture.tif")) };
    let curve = curve_for(args)?;
    args.answers().check_rule(&curve)?;
    let book = book(args)?;
    args.preview.iter().try_for_each(|own| no_source(args, Question::Preview, own))?;
    let told = picture(args, first, target, &curve, book.as_ref())?;
    Ok(if args.whose.json { lines_of::lines(&told.json) } else { told.words })
}

/// The book it is kept in, when it is to be kept.
pub(super) fn book(args: &MakeArgs) -> Result<Option<Mutex<Studio>>, Refusal> {
    args.keep.as_ref().map(|_| Ok(Mutex::new(args.whose.open()?))).transpose()
}

/// That no picture of a negative in the book is written over; where no book is at hand nothing is known of them.
fn no_source(args: &MakeArgs, about: Question, target: &Path) -> Result<(), Refusal> {
    if !args.force || target.symlink_metadata().is_err() {
        return Ok(());
    }
    let Ok(studio) = args.whose.open() else { return Ok(()) };
    check_no_source(&studio, about, target)
}

/// Makes one; with a book as a job of it.
pub(super) fn picture(
    args: &MakeArgs,
    source: &Path,
    target: &Path,
    curve: &CurveOf,
    book: Option<&Mutex<Studio>>,
) -> Result<Told, Refusal> {
    let at = args.at.as_deref().map(read_instant).transpose()?;
    let bar = progress::Bar::new();
    let begun = Instant::now();
    let outcome = {
        let guard = progress::Guard::new();
        let told = |rows, of| bar.tell(rows, of);
        let cancel = || guard.cancel().load(Ordering::SeqCst);
        match book {
            None => {
                no_source(args, Question::Output, target)?;
                let asked = asked_apart(args, source, target, curve, Vec::new());
                apart::make(asked, &quiet(&told, &cancel)).map(|own| (own.whole, own.json, None))
            }
            Some(book) => {
                let name = args.keep.clone().filter(|own| !own.trim().is_empty());
                let asked = Asked {
                    answers: answers_from_root(args.answers())?,
                    source: from_root(source, Question::Picture)?,
                    name,
                    curve: KeptCurve::of(curve),
                    who: "command line".into(),
                    at,
                };
                let target = from_root(target, Question::Output)?;
                let taken = {
                    let studio = book.lock().unwrap_or_else(std::sync::PoisonError::into_inner);
                    name_taken(&studio, asked.name.as_deref(), &target)?
                };
                if let Some(own) = taken {
                    own.admits(handcoat_work::negative::sha256_of(source).ok().as_deref())?;
                }
                let number = {
                    let mut studio = book.lock().unwrap_or_else(std::sync::PoisonError::into_inner);
                    add_job(&mut studio, &asked, &target, apart::worker(), clock::now())?
                };
                let worked = apart::work_on(book, number, false, &told, &cancel);
                worked.map(|own| (own.whole.clone(), own.json.clone().unwrap_or(Value::Null), Some((number, own))))
            }
        }
    };
    bar.end();
    let (whole, mut told, kept) = outcome?;
    let mut preview = args.preview.as_deref();
    let mut words = String::new();
    if let Some(refusal) = preview.and_then(|small| small_failed(args, source, small, curve, &whole)) {
        // The negative stands; what is beside it can be made another time.
        preview = None;
        let said = format!("the negative is made, and its small picture is not: {}", refusal.cause);
        let _ = writeln!(words, "Note: {said} [preview_failed]");
        told["preview_error"] = json!({ "code": refusal.code, "message": refusal.cause });
        if let Some(all) = told["warnings"].as_array_mut() {
            all.push(json!({ "code": "preview_failed", "message": said }));
        }
    }
    words.insert_str(0, &text::made(&whole.lines, target, preview));
    told["preview"] = json!(preview);
    told["file"] = json!(target);
    told["seconds"] = json!(begun.elapsed().as_secs_f64());
    if let Some((number, worked)) = &kept {
        words.push_str(&worked.done.said.join("\n"));
        words.push('\n');
        put_kept(&mut told, *number, worked);
    }
    Ok(Told { words, json: told })
}

/// Makes the small picture of a negative that was made. Gives why not, when it was not.
fn small_failed(args: &MakeArgs, source: &Path, small: &Path, curve: &CurveOf, whole: &Whole) -> Option<Refusal> {
    let known = std::iter::once(&whole.facts.source_sha256).chain(&whole.facts.also_sha256).cloned().collect();
    let asked = asked_apart(args, source, small, curve, known);
    apart::preview(asked, &quiet(&|_, _| {}, &|| false)).err()
}

fn asked_apart(args: &MakeArgs, source: &Path, target: &Path, curve: &CurveOf, known: Vec<String>) -> AskedNegative {
    AskedNegative {
        answers: args.answers(),
        source: SentPath::of(source),
        target: SentPath::of(target),
        curve: KeptCurve::of(curve),
        kept: false,
        resume: None,
        known,
        changed: Vec::new(),
        yields: false,
    }
}

/// Hooks of what no book keeps.
fn quiet<'a>(rows: &'a (dyn Fn(u32, u32) + Sync), cancel: &'a (dyn Fn() -> bool + Sync)) -> Hooks<'a> {
    Hooks { rows, checkpoint: &|_| {}, whole: &|_| true, cancel, overlay: &|_| {} }
}

/// The same answers, with further pictures from the root.
fn answers_from_root(mut answers: NegativeAnswers) -> Result<NegativeAnswers, Refusal> {
    for own in &mut answers.also {
        *own = PathBuf::from(from_root(own, Question::Picture)?);
    }
    Ok(answers)
}

/// What the book has of it.
pub(super) fn put_kept(told: &mut Value, number: i64, worked: &Worked) {
    told["job"] = json!(number);
    told["act"] = json!(worked.done.act);
    told["negative"] = json!(worked.done.record);
    told["source_sha256"] = json!(worked.whole.facts.source_sha256);
}

/// A path from the root, as text: a job is gone on with from anywhere.
pub(super) fn from_root(path: &Path, about: Question) -> Result<String, Refusal> {
    let whole = std::path::absolute(path).ok();
    whole.as_deref().and_then(Path::to_str).map(String::from).ok_or_else(|| {
        let cause = format!("`{}` has letters that are no text, and a job keeps names as text", path.display());
        Refusal::file("name_no_text", about, cause, vec![Remedy::AnotherName])
    })
}
