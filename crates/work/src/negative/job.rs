//! Making a negative as a job in the book: who has it, how far it is, where it goes on, and the act it becomes.
//!
//! A job whose process is gone is interrupted. It goes on from its last checkpoint and comes to the same bytes; where the file was whole
//! already and only the book did not know, it is known by its SHA-256 and recorded.

use std::path::Path;

use handcoat_book::{ActKey, BookError, Holding, JobNumber, JobRow, JobState, RecordKind, Stamp};
use handcoat_craft::measure::shortened;
use jiff::Timestamp;
use serde::{Deserialize, Serialize};
use serde_json::{Value, json};

use super::answers::NegativeAnswers;
use super::apart::{FileFacts, KeptCurve};
use super::file::{check_target, written_at};
use super::kept::{Making, keep_made, name_of};
use super::make::forget;
use super::sources::{Seen, check_no_source, seen};
use crate::keep::plain_name;
use crate::{Done, Question, Refusal, RefusalKind, Remedy, Studio};

/// The only sort of job so far.
const KIND: &str = "negative";

/// What a job is asked for.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Asked {
    /// Every setting.
    pub answers: NegativeAnswers,
    /// The picture, as a path from the root.
    pub source: String,
    /// The name it is kept under; that of its file when nothing is said.
    pub name: Option<String>,
    /// The curve.
    pub curve: KeptCurve,
    /// Who asked.
    pub who: String,
    /// When it was made, where that is said; when its file was whole otherwise.
    #[serde(default)]
    pub at: Option<Timestamp>,
}

/// The same as it is kept: with the pictures as they lay there when it was asked for.
#[derive(Serialize, Deserialize)]
struct KeptAsked {
    #[serde(flatten)]
    asked: Asked,
    #[serde(default)]
    seen: Vec<Seen>,
}

/// How a job stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum JobStanding {
    /// It waits for its turn.
    Waiting,
    /// It is worked on.
    Running,
    /// Whoever had it is gone.
    Interrupted,
    /// The negative is made and kept.
    Made,
    /// It was refused, or something failed.
    Failed,
    /// Somebody stopped it.
    Stopped,
}

impl JobStanding {
    /// Its word.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Waiting => "waiting",
            Self::Running => "running",
            Self::Interrupted => "interrupted",
            Self::Made => "made",
            Self::Failed => "failed",
            Self::Stopped => "stopped",
        }
    }

    /// Whether it can go on.
    #[must_use]
    pub fn can_go_on(self) -> bool {
        matches!(self, Self::Interrupted | Self::Failed | Self::Stopped)
    }
}

/// A job, in words and numbers.
#[derive(Clone, Debug, PartialEq)]
pub struct JobView {
    /// Its number.
    pub number: i64,
    /// How it stands.
    pub standing: JobStanding,
    /// Whether it is this worker's.
    pub ours: bool,
    /// What was asked for.
    pub asked: Asked,
    /// The picture.
    pub source: String,
    /// The file.
    pub target: String,
    /// Rows that are done, and of how many; nought of nought before that is known.
    pub rows: (u32, u32),
    /// Seconds that are left, at the pace so far.
    pub left_seconds: Option<f64>,
    /// When it was begun.
    pub begun: Timestamp,
    /// Why it failed: code and words.
    pub refused: Option<(String, String)>,
    /// The act it became.
    pub act: Option<i64>,
    /// The negative it became.
    pub negative: Option<u32>,
}

/// Who works on jobs, and how it is told whether another still does.
#[derive(Clone, Copy)]
pub struct Worker<'a> {
    /// The process.
    pub holder: &'a str,
    /// Whether the process with this word lives.
    pub lives: &'a dyn Fn(&str) -> bool,
}

/// What whoever works on a job needs.
#[derive(Clone, Debug, PartialEq)]
pub struct Taken {
    /// Its number.
    pub number: i64,
    /// What was asked for.
    pub asked: Asked,
    /// The file.
    pub target: String,
    /// Where it can go on.
    pub checkpoint: Option<Vec<u8>>,
    /// What the file was when it was about to get its name.
    pub whole: Option<Whole>,
    /// What to know of pictures that were written again since it was asked for.
    pub changed: Vec<String>,
}

/// A file that is whole, and what was said of it.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Whole {
    /// What it came to.
    pub facts: FileFacts,
    /// What was said of it.
    pub lines: Vec<String>,
}

/// What became of a job, as it is kept.
#[derive(Default, Serialize, Deserialize)]
struct Outcome {
    #[serde(default)]
    whole: Option<Whole>,
    #[serde(default)]
    refused: Option<(String, String)>,
    #[serde(default)]
    negative: Option<u32>,
}

impl Outcome {
    fn of(row: &JobRow) -> Result<Self, Refusal> {
        let Some(value) = &row.outcome else { return Ok(Self::default()) };
        let read = Self::deserialize(value);
        Ok(read.map_err(|_| BookError::unreadable("what became of a job", value.to_string()))?)
    }

    fn to_json(&self) -> Value {
        json!({ "whole": self.whole, "refused": self.refused, "negative": self.negative })
    }
}

/// Writes down a job that waits for its turn. Gives its number.
///
/// # Errors
/// [`Refusal`] when its name is none, another job that is open makes this file, or the book cannot be written.
pub fn add_job(
    studio: &mut Studio,
    asked: &Asked,
    target: &str,
    worker: Worker<'_>,
    at: Timestamp,
) -> Result<i64, Refusal> {
    if let Some(name) = &asked.name {
        plain_name(RecordKind::Negative, Question::KeptName, name)?;
    }
    no_other(studio, None, target, worker)?;
    if asked.answers.force {
        check_no_source(studio, Question::Output, Path::new(target))?;
    }
    let asked = serde_json::to_value(KeptAsked { asked: asked.clone(), seen: seen(asked) })
        .map_err(|_| BookError::unreadable("a job", String::new()))?;
    Ok(studio.book.add_job(KIND, &asked, target, worker.holder, at)?.get())
}

/// That no other job that is open makes a file.
fn no_other(studio: &Studio, own: Option<i64>, target: &str, worker: Worker<'_>) -> Result<(), Refusal> {
    let others = studio.book.open_jobs()?;
    let found = others.into_iter().find(|other| other.target == target && Some(other.number.get()) != own);
    if let Some(other) = found {
        let lives = (worker.lives)(&other.holder);
        let what = if lives { "is making" } else { "was interrupted while it made" };
        return Err(Refusal {
            code: "job_of_this_file",
            kind: RefusalKind::Busy,
            about: Some(Question::Output),
            cause: format!("job {} {what} `{target}`", other.number),
            excerpt: None,
            // Nothing stands under that name yet, so there is nothing to move.
            remedies: if lives {
                vec![Remedy::TryAgain, Remedy::ListJobs]
            } else {
                vec![Remedy::ResumeJob(other.number.get()), Remedy::PutAwayJob(other.number.get())]
            },
        });
    }
    Ok(())
}

/// What of a job is asked otherwise before it goes on.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct JobChange {
    /// Another file.
    pub target: Option<String>,
    /// Another name to keep it under.
    pub name: Option<String>,
    /// In the place of what stands there.
    pub force: bool,
}

/// Changes what a job is asked for that was interrupted, stopped or refused, so that it can go on.
///
/// # Errors
/// [`Refusal`] when there is none, it is made, somebody has it, or what is said cannot be taken.
pub fn change_job(studio: &mut Studio, number: i64, change: &JobChange, worker: Worker<'_>) -> Result<(), Refusal> {
    let row = row_of(studio, number)?;
    may_go_on(&row, false, worker)?;
    let mut kept = kept_of(&row)?;
    let asked = &mut kept.asked;
    if let Some(name) = &change.name {
        asked.name = Some(plain_name(RecordKind::Negative, Question::KeptName, name)?);
    }
    asked.answers.force |= change.force;
    let target = change.target.as_ref().unwrap_or(&row.target);
    asked.answers.format(Path::new(target))?;
    if change.target.is_some() {
        check_target(Question::Output, Path::new(target), asked.answers.force)?;
    }
    no_other(studio, Some(number), target, worker)?;
    if asked.answers.force {
        check_no_source(studio, Question::Output, Path::new(target))?;
    }
    let asked = serde_json::to_value(kept).map_err(|_| BookError::unreadable("a job", String::new()))?;
    if !studio.book.change_job(&row, &asked, target)? {
        return Err(taken(number));
    }
    if *target != row.target {
        forget(Path::new(&row.target));
    }
    Ok(())
}

/// Puts a job away that was interrupted, stopped or refused, with what it left unfinished; its file's name is free again. Gives that name. A file
/// that was whole already stays.
///
/// # Errors
/// [`Refusal`] when there is none, it is made, or somebody has it.
pub fn put_away_job(studio: &mut Studio, number: i64, worker: Worker<'_>) -> Result<String, Refusal> {
    let row = row_of(studio, number)?;
    if row.state == JobState::Made {
        let cause = format!("job {number} is made, and its negative is kept; what is kept is taken back as an act");
        return Err(Refusal::rule("job_made", Question::Job, cause, vec![Remedy::ListActs]));
    }
    may_go_on(&row, false, worker)?;
    if !studio.book.put_away_job(&row)? {
        return Err(taken(number));
    }
    if !studio.book.open_jobs()?.iter().any(|own| own.target == row.target) {
        forget(Path::new(&row.target));
    }
    Ok(row.target)
}

/// Takes a job to work on it: one of its own that waits, or one that was interrupted, stopped or refused.
///
/// # Errors
/// [`Refusal`] when there is none, it is made, or somebody has it.
pub fn take_job(studio: &mut Studio, number: i64, worker: Worker<'_>, at: Timestamp) -> Result<Taken, Refusal> {
    let row = row_of(studio, number)?;
    let own = row.state == JobState::Waiting && row.holder == worker.holder;
    may_go_on(&row, own, worker)?;
    let by = Holding { number: row.number, holder: worker.holder, at };
    if !studio.book.take_job(&row, JobState::Running, by)? {
        return Err(taken(number));
    }
    let kept = kept_of(&row)?;
    Ok(Taken {
        number,
        changed: kept.seen.iter().filter_map(Seen::changed).collect(),
        asked: kept.asked,
        target: row.target.clone(),
        checkpoint: row.checkpoint.clone(),
        whole: Outcome::of(&row)?.whole,
    })
}

/// Lets a job that was interrupted, stopped or refused wait for its turn with this worker.
///
/// # Errors
/// [`Refusal`] when there is none, it is made, or somebody has it.
pub fn queue_job(studio: &mut Studio, number: i64, worker: Worker<'_>, at: Timestamp) -> Result<(), Refusal> {
    let row = row_of(studio, number)?;
    may_go_on(&row, false, worker)?;
    let by = Holding { number: row.number, holder: worker.holder, at };
    if studio.book.take_job(&row, JobState::Waiting, by)? { Ok(()) } else { Err(taken(number)) }
}

fn may_go_on(row: &JobRow, own: bool, worker: Worker<'_>) -> Result<(), Refusal> {
    if own || standing(row, worker.lives).can_go_on() {
        return Ok(());
    }
    if row.state == JobState::Made {
        let cause = format!("job {} is made; there is nothing to go on with", row.number);
        return Err(Refusal::rule("job_made", Question::Job, cause, vec![Remedy::ListJobs]));
    }
    Err(taken(row.number.get()))
}

fn taken(number: i64) -> Refusal {
    Refusal {
        code: "job_taken",
        kind: RefusalKind::Busy,
        about: Some(Question::Job),
        cause: format!("job {number} is being worked on by another process, or waits there"),
        excerpt: None,
        remedies: vec![Remedy::TryAgain, Remedy::ListJobs],
    }
}

/// Keeps how far a job is. Gives whether to stop: somebody asked for it, or another process has the job.
///
/// # Errors
/// [`Refusal`] when the book cannot be written.
pub fn job_is_at(
    studio: &mut Studio,
    number: i64,
    holder: &str,
    rows: (u32, u32),
    checkpoint: Option<&[u8]>,
    at: Timestamp,
) -> Result<bool, Refusal> {
    let by = Holding { number: JobNumber::new(number), holder, at };
    Ok(studio.book.job_is_at(by, rows, checkpoint)?.unwrap_or(true))
}

/// Keeps what the file is, just before it gets its name.
///
/// # Errors
/// [`Refusal`] when the book cannot be written.
pub fn job_is_whole(
    studio: &mut Studio,
    number: i64,
    holder: &str,
    whole: &Whole,
    at: Timestamp,
) -> Result<(), Refusal> {
    let by = Holding { number: JobNumber::new(number), holder, at };
    let outcome = Outcome { whole: Some(whole.clone()), ..Outcome::default() };
    if studio.book.job_comes_to(by, JobState::Running, Some(&outcome.to_json()), None)? {
        Ok(())
    } else {
        Err(taken(number))
    }
}

/// Records the negative of a job whose file is whole, once however often it is asked.
///
/// # Errors
/// [`Refusal`] when the book cannot be written.
pub fn job_is_made(
    studio: &mut Studio,
    job: &Taken,
    holder: &str,
    whole: &Whole,
    at: Timestamp,
) -> Result<Done, Refusal> {
    let asked = &job.asked;
    let key = format!("job-{:06}-{}", job.number, whole.facts.sha256.chars().take(16).collect::<String>());
    // OK because the key is made of letters, digits and dashes, and not long.
    let key = ActKey::new(&key).expect("BUG: a key of a job that is none");
    let made_at = asked.at.unwrap_or(at);
    let stamp = Stamp { key, who: asked.who.clone(), at: made_at, asked: None };
    let file_name =
        |path: &str| Path::new(path).file_name().map(|own| own.to_string_lossy().into_owned()).unwrap_or_default();
    let making = Making {
        at: made_at,
        written: written_at(Path::new(&job.target)),
        source: file_name(&asked.source),
        file: job.target.clone(),
        facts: whole.facts.clone(),
        answers: asked.answers.clone(),
        curve: asked.curve.clone(),
        setup: None,
        lines: whole.lines.clone(),
    };
    let name = asked.name.clone().unwrap_or_else(|| name_of(&job.target));
    let done = keep_made(studio, &stamp, &name, making)?;
    let by = Holding { number: JobNumber::new(job.number), holder, at };
    let outcome = Outcome { whole: Some(whole.clone()), refused: None, negative: done.record };
    let act = Some(handcoat_book::ActNumber::new(done.act));
    studio.book.job_comes_to(by, JobState::Made, Some(&outcome.to_json()), act)?;
    Ok(done)
}

/// Keeps that a job was refused or stopped.
///
/// # Errors
/// [`Refusal`] when the book cannot be written.
pub fn job_is_refused(
    studio: &mut Studio,
    number: i64,
    holder: &str,
    refusal: &Refusal,
    at: Timestamp,
) -> Result<(), Refusal> {
    let by = Holding { number: JobNumber::new(number), holder, at };
    let mut outcome = Outcome::of(&row_of(studio, number)?)?;
    let stopped = refusal.code == "negative_stopped";
    outcome.refused = (!stopped).then(|| (refusal.code.to_owned(), refusal.cause.clone()));
    let state = if stopped { JobState::Stopped } else { JobState::Failed };
    studio.book.job_comes_to(by, state, Some(&outcome.to_json()), None)?;
    Ok(())
}

/// Asks that a job be stopped; one whose process is gone, or that only waits in one that is, is stopped at once.
///
/// # Errors
/// [`Refusal`] when there is none, or nobody has it.
pub fn stop_job(studio: &mut Studio, number: i64, worker: Worker<'_>, at: Timestamp) -> Result<JobView, Refusal> {
    let row = row_of(studio, number)?;
    let how = standing(&row, worker.lives);
    let over = || {
        let cause = format!("job {number} is {}; there is nothing to stop", how.word());
        Refusal::rule("job_over", Question::Job, cause, vec![Remedy::ListJobs])
    };
    match how {
        JobStanding::Running => {
            if !studio.book.stop_job(row.number)? {
                return Err(over());
            }
        }
        JobStanding::Waiting | JobStanding::Interrupted => {
            let holder = row.holder.clone();
            studio.book.job_comes_to(
                Holding { number: row.number, holder: &holder, at },
                JobState::Stopped,
                None,
                None,
            )?;
        }
        JobStanding::Made | JobStanding::Failed | JobStanding::Stopped => return Err(over()),
    }
    job(studio, number, worker)
}

/// One job.
///
/// # Errors
/// [`Refusal`] when there is none, or the book cannot be read.
pub fn job(studio: &Studio, number: i64, worker: Worker<'_>) -> Result<JobView, Refusal> {
    view(&row_of(studio, number)?, worker)
}

/// The newest jobs, newest first.
///
/// # Errors
/// [`Refusal`] when the book cannot be read.
pub fn jobs(studio: &Studio, most: u32, worker: Worker<'_>) -> Result<Vec<JobView>, Refusal> {
    studio.book.newest_jobs(most)?.iter().map(|own| view(own, worker)).collect()
}

/// The number of a job as it was written.
///
/// # Errors
/// [`Refusal`] when it is no number.
pub fn job_number(written: &str) -> Result<i64, Refusal> {
    let about = Question::Job;
    written.trim().parse().ok().filter(|own| *own > 0).ok_or_else(|| {
        let cause = format!("`{}` is no number of a job; expected one such as 3", shortened(written.trim()));
        Refusal::unreadable("count_unreadable", about, cause, vec![Remedy::Write(about, "1".into()), Remedy::ListJobs])
    })
}

fn row_of(studio: &Studio, number: i64) -> Result<JobRow, Refusal> {
    studio.book.job(JobNumber::new(number))?.ok_or_else(|| Refusal {
        code: "job_unknown",
        kind: RefusalKind::Missing,
        about: Some(Question::Job),
        cause: format!("no job has the number {number}"),
        excerpt: None,
        remedies: vec![Remedy::ListJobs],
    })
}

fn asked_of(row: &JobRow) -> Result<Asked, Refusal> {
    Ok(kept_of(row)?.asked)
}

/// Each picture that a job of the book was asked for, with the number of that job.
pub(super) fn sources_of_jobs(studio: &Studio) -> Result<Vec<(i64, String)>, Refusal> {
    let mut all = Vec::new();
    for row in studio.book.newest_jobs(u32::MAX)? {
        let asked = asked_of(&row)?;
        let also = asked.answers.also.iter().filter_map(|own| own.to_str().map(String::from));
        all.extend(std::iter::once(asked.source.clone()).chain(also).map(|own| (row.number.get(), own)));
    }
    Ok(all)
}

fn kept_of(row: &JobRow) -> Result<KeptAsked, Refusal> {
    let read = KeptAsked::deserialize(&row.asked);
    Ok(read.map_err(|error| BookError::unreadable("what a job was asked for", error.to_string()))?)
}

fn standing(row: &JobRow, lives: &dyn Fn(&str) -> bool) -> JobStanding {
    match row.state {
        JobState::Made => JobStanding::Made,
        JobState::Failed => JobStanding::Failed,
        JobState::Stopped => JobStanding::Stopped,
        open if open.is_open() && !lives(&row.holder) => JobStanding::Interrupted,
        JobState::Waiting => JobStanding::Waiting,
        JobState::Running => JobStanding::Running,
    }
}

fn view(row: &JobRow, worker: Worker<'_>) -> Result<JobView, Refusal> {
    let outcome = Outcome::of(row)?;
    let asked = asked_of(row)?;
    let standing = standing(row, worker.lives);
    let spent = row.seen.duration_since(row.went_on).as_secs_f64();
    let since = row.done.saturating_sub(row.went_from);
    let paced = standing == JobStanding::Running && since > 0 && spent > 0.0;
    Ok(JobView {
        number: row.number.get(),
        standing,
        ours: row.holder == worker.holder,
        source: asked.source.clone(),
        asked,
        target: row.target.clone(),
        rows: (row.done, row.of),
        left_seconds: paced.then(|| spent * f64::from(row.of.saturating_sub(row.done)) / f64::from(since)),
        begun: row.begun,
        refused: outcome.refused,
        act: row.act.map(handcoat_book::ActNumber::get),
        negative: outcome.negative,
    })
}
