//! A job of the book, from taking it to the act it becomes. Both doors work on one in this way.

use std::path::Path;
use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::{Mutex, MutexGuard, PoisonError};
use std::time::{Duration, Instant};

use handcoat_work::negative::{
    Taken, Whole, Worker, job_is_at, job_is_made, job_is_refused, job_is_whole, sha256_of, take_job, with_way,
};
use handcoat_work::{Done, Refusal, Studio};
use serde_json::Value;

use super::parent::{Hooks, Made, make};
use super::said::{AskedNegative, SentPath, hexadecimal};
use super::{holder, lives};
use crate::clock;

/// From one line in the book to the next; a checkpoint is written at once.
const BETWEEN: Duration = Duration::from_millis(500);
/// How long to wait for the file of a process that was just ended and still has it.
const PATIENCE: Duration = Duration::from_secs(3);

/// What a job came to.
pub(crate) struct Worked {
    /// The act.
    pub(crate) done: Done,
    /// What the file is.
    pub(crate) whole: Whole,
    /// What is said of it as JSON; none where the file was whole already and only had to be recorded.
    pub(crate) json: Option<Value>,
}

/// Who works, as this process.
pub(crate) fn worker() -> Worker<'static> {
    Worker { holder: holder(), lives: &lives }
}

fn open(book: &Mutex<Studio>) -> MutexGuard<'_, Studio> {
    book.lock().unwrap_or_else(PoisonError::into_inner)
}

/// Takes a job, makes its negative and records it. The book is not held while a picture is worked on.
///
/// # Errors
/// [`Refusal`]; what was refused is kept with the job.
pub(crate) fn work_on(
    book: &Mutex<Studio>,
    number: i64,
    yields: bool,
    told: &(dyn Fn(u32, u32) + Sync),
    cancel: &(dyn Fn() -> bool + Sync),
) -> Result<Worked, Refusal> {
    let job = take_job(&mut open(book), number, worker(), clock::now())?;
    let worked = worked(book, &job, yields, told, cancel).map_err(|own| with_way(own, &job));
    if let Err(refusal) = &worked {
        // When not even that can be written the job is found interrupted later, and goes on.
        let _ = job_is_refused(&mut open(book), number, holder(), refusal, clock::now());
    }
    worked
}

fn worked(
    book: &Mutex<Studio>,
    job: &Taken,
    yields: bool,
    told: &(dyn Fn(u32, u32) + Sync),
    cancel: &(dyn Fn() -> bool + Sync),
) -> Result<Worked, Refusal> {
    let record = |whole: &Whole| job_is_made(&mut open(book), job, holder(), whole, clock::now());
    if let Some(whole) = &job.whole {
        let there = sha256_of(Path::new(&job.target)).is_ok_and(|own| own == whole.facts.sha256);
        if there {
            return Ok(Worked { done: record(whole)?, whole: whole.clone(), json: None });
        }
    }
    let until = Instant::now() + PATIENCE;
    let made = loop {
        match once(book, job, yields, told, cancel) {
            Err(refusal) if refusal.code == "negative_busy" && Instant::now() < until => {
                std::thread::sleep(Duration::from_millis(100));
            }
            other => break other?,
        }
    };
    Ok(Worked { done: record(&made.whole)?, whole: made.whole, json: Some(made.json) })
}

fn once(
    book: &Mutex<Studio>,
    job: &Taken,
    yields: bool,
    told: &(dyn Fn(u32, u32) + Sync),
    cancel: &(dyn Fn() -> bool + Sync),
) -> Result<Made, Refusal> {
    let stop = AtomicBool::new(false);
    let last: Mutex<(Option<Instant>, (u32, u32))> = Mutex::new((None, (0, 0)));
    let keep = |rows: (u32, u32), checkpoint: Option<&[u8]>| {
        let asked = job_is_at(&mut open(book), job.number, holder(), rows, checkpoint, clock::now());
        // A book that is busy for a moment is told the next time.
        if asked.unwrap_or(false) {
            stop.store(true, Ordering::SeqCst);
        }
    };
    let rows = |done: u32, of: u32| {
        told(done, of);
        let mut last = last.lock().unwrap_or_else(PoisonError::into_inner);
        last.1 = (done, of);
        if last.0.is_none_or(|own| own.elapsed() >= BETWEEN) {
            last.0 = Some(Instant::now());
            keep((done, of), None);
        }
    };
    let checkpoint = |own: &[u8]| {
        let at = last.lock().unwrap_or_else(PoisonError::into_inner).1;
        keep(at, Some(own));
    };
    let whole = |own: &Whole| job_is_whole(&mut open(book), job.number, holder(), own, clock::now()).is_ok();
    let asked = AskedNegative {
        answers: job.asked.answers.clone(),
        source: SentPath::of(Path::new(&job.asked.source)),
        target: SentPath::of(Path::new(&job.target)),
        curve: job.asked.curve.clone(),
        kept: true,
        resume: job.checkpoint.as_deref().map(hexadecimal),
        known: Vec::new(),
        changed: job.changed.clone(),
        yields,
    };
    let cancel = || stop.load(Ordering::SeqCst) || cancel();
    make(asked, &Hooks { rows: &rows, checkpoint: &checkpoint, whole: &whole, cancel: &cancel, overlay: &|_| {} })
}
