//! The way on for a job that was refused: under another name, with its picture put back, or away with it.

use std::path::Path;

use super::job::{JobChange, JobView, Taken};
use super::kept::name_of;
use crate::{Question, Refusal, RefusalKind, Remedy};

/// Names that are tried beside one that is taken.
const MOST_TRIES: u32 = 999;

impl JobView {
    /// What would let it go on where a name that is taken is in its way: another file, or another name to keep it under.
    #[must_use]
    pub fn way_on(&self) -> Option<JobChange> {
        way_on(self.refused.as_ref()?.0.as_str(), &self.target, self.asked.name.as_deref())
    }
}

fn way_on(code: &str, target: &str, name: Option<&str>) -> Option<JobChange> {
    match code {
        "file_exists" => {
            let path = Path::new(target);
            let (stem, ending) = (path.file_stem()?.to_str()?, path.extension()?.to_str()?);
            let beside = (2..MOST_TRIES).map(|own| path.with_file_name(format!("{stem}-{own}.{ending}")));
            let free = beside.into_iter().find(|own| own.symlink_metadata().is_err())?;
            Some(JobChange { target: Some(free.to_str()?.to_owned()), ..JobChange::default() })
        }
        "negative_name_taken" => {
            let name = name.map_or_else(|| name_of(target), |own| own.trim().to_owned());
            Some(JobChange { name: Some(format!("{name} 2")), ..JobChange::default() })
        }
        _ => None,
    }
}

/// A refusal of a job with the way on, where a name that is taken is in its way.
#[must_use]
pub fn with_way(mut refusal: Refusal, job: &Taken) -> Refusal {
    if let Some(own) = way_on(refusal.code, &job.target, job.asked.name.as_deref()) {
        let otherwise = match own {
            JobChange { target: Some(target), .. } => (Question::Output, target),
            JobChange { name, .. } => (Question::Keep, name.unwrap_or_default()),
        };
        refusal.remedies =
            vec![Remedy::ResumeWith(job.number, otherwise.0, otherwise.1), Remedy::PutAwayJob(job.number)];
    }
    // A job has its picture already: no other can be written with it.
    if refusal.code == "picture_unreadable" && refusal.kind == RefusalKind::Missing {
        refusal.cause.push_str("; put the picture back there and go on, or put the job away");
        refusal.remedies = vec![Remedy::ResumeJob(job.number), Remedy::PutAwayJob(job.number)];
    }
    refusal
}
