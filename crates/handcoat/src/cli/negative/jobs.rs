//! Jobs and negatives of the book: listed, stopped, gone on with, shown.

use std::path::Path;
use std::sync::Mutex;
use std::sync::atomic::Ordering;

use handcoat_work::negative::{self as work, job_number};
use handcoat_work::{Question, Refusal};
use serde_json::{Value, json};

use super::args::{JobArgs, JobsArgs, ResumeArgs, ShowArgs};
use super::make::{from_root, put_kept};
use super::{progress, text};
use crate::apart;
use crate::{clock, json as lines_of};

pub(super) fn list(args: &JobsArgs) -> Result<String, Refusal> {
    let all = work::jobs(&args.whose.open()?, args.most, apart::worker())?;
    if args.whose.json {
        return Ok(lines_of::lines(&json!({ "jobs": all.iter().map(lines_of::negative::job).collect::<Vec<_>>() })));
    }
    if all.is_empty() {
        return Ok("No job yet. A negative is one with: handcoat negative make … --keep\n".into());
    }
    Ok(all.iter().map(text::job).collect())
}

pub(super) fn stop(args: &JobArgs) -> Result<String, Refusal> {
    let number = job_number(&args.job)?;
    let own = work::stop_job(&mut args.whose.open()?, number, apart::worker(), clock::now())?;
    if args.whose.json {
        return Ok(lines_of::lines(&lines_of::negative::job(&own)));
    }
    Ok(match own.standing {
        work::JobStanding::Running => format!("Job {number} stops at its next row.\n"),
        _ => text::job(&own),
    })
}

pub(super) fn put_away(args: &JobArgs) -> Result<String, Refusal> {
    let number = job_number(&args.job)?;
    let target = work::put_away_job(&mut args.whose.open()?, number, apart::worker())?;
    let there = Path::new(&target).exists();
    if args.whose.json {
        return Ok(lines_of::lines(&json!({ "job": number, "put_away": true, "file": target, "file_exists": there })));
    }
    let file = if there { "What stands there stays." } else { "Its name is free." };
    Ok(format!("Job {number} is put away; it made {target}. {file}\n"))
}

pub(super) fn resume(args: &ResumeArgs) -> Result<String, Refusal> {
    let number = job_number(&args.job)?;
    let mut studio = args.whose.open()?;
    let target = args.output.as_ref().map(|own| from_root(own, Question::Output)).transpose()?;
    let change = work::JobChange { target, name: args.keep.clone(), force: args.force };
    if change != work::JobChange::default() {
        work::change_job(&mut studio, number, &change, apart::worker())?;
    }
    let book = Mutex::new(studio);
    let bar = progress::Bar::new();
    let outcome = {
        let guard = progress::Guard::new();
        let told = |rows, of| bar.tell(rows, of);
        apart::work_on(&book, number, false, &told, &|| guard.cancel().load(Ordering::SeqCst))
    };
    bar.end();
    let worked = outcome?;
    let studio = book.into_inner().unwrap_or_else(std::sync::PoisonError::into_inner);
    let target = work::job(&studio, number, apart::worker())?.target;
    if args.whose.json {
        let mut told = worked.json.clone().unwrap_or_else(|| facts(&worked.whole.facts));
        told["file"] = json!(target);
        told["recorded_only"] = json!(worked.json.is_none());
        put_kept(&mut told, number, &worked);
        return Ok(lines_of::lines(&told));
    }
    let mut out = text::made(&worked.whole.lines, Path::new(&target), None);
    if worked.json.is_none() {
        out.push_str("The file was whole already; it is recorded now.\n");
    }
    out.push_str(&worked.done.said.join("\n"));
    out.push('\n');
    Ok(out)
}

fn facts(own: &work::FileFacts) -> Value {
    json!({ "sha256": own.sha256, "bytes": own.bytes, "width_px": own.width_px, "height_px": own.height_px, "ppi": own.ppi })
}

pub(super) fn negatives(args: &JobsArgs) -> Result<String, Refusal> {
    let mut all = work::negatives(&args.whose.open()?, clock::now())?;
    all.truncate(args.most as usize);
    if args.whose.json {
        let all: Vec<_> = all.iter().map(|own| lines_of::negative::kept(own, None)).collect();
        return Ok(lines_of::lines(&json!({ "negatives": all })));
    }
    if all.is_empty() {
        return Ok("No negative is kept yet. One is with: handcoat negative make … --keep\n".into());
    }
    Ok(all.iter().map(text::brief).collect())
}

pub(super) fn show(args: &ShowArgs) -> Result<String, Refusal> {
    let own = work::one_negative(&args.whose.open()?, &args.negative, clock::now())?;
    let files = work::file_standings(&own);
    if args.whose.json {
        return Ok(lines_of::lines(&lines_of::negative::kept(&own, Some(&files))));
    }
    Ok(text::kept(&own, &files))
}
