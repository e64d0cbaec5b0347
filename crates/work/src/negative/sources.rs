//! The pictures that negatives come from: none of a kept negative is written over, and a job says when its own is another by now.

use std::path::Path;

use handcoat_book::RecordKind;
use jiff::Timestamp;
use serde::{Deserialize, Serialize};

use super::file::{same_file, written_at};
use super::job::{Asked, sources_of_jobs};
use super::kept::makings;
use super::mark::sha256_of;
use crate::{Question, Refusal, Remedy, Studio};

/// A picture as it lay there when a job was asked for.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub(super) struct Seen {
    /// Its path.
    path: String,
    /// Bytes of the file.
    bytes: u64,
    /// When it was last written, as its folder says.
    written: Option<Timestamp>,
}

impl Seen {
    fn now(path: &Path) -> Option<Self> {
        let bytes = path.metadata().ok().filter(std::fs::Metadata::is_file)?.len();
        Some(Self { path: path.to_str()?.to_owned(), bytes, written: written_at(path) })
    }

    /// What to know where the picture was written again since; nothing of one that is gone, which is refused when it is opened.
    pub(super) fn changed(&self) -> Option<String> {
        let now = Self::now(Path::new(&self.path)).filter(|own| own != self)?;
        let when = |own: &Self| own.written.map_or("a time that is not known".into(), |own| own.to_string());
        Some(format!(
            "`{}` was written again after this was asked for ({} bytes of {}; then {} bytes of {}); the negative is of what is there now",
            self.path,
            now.bytes,
            when(&now),
            self.bytes,
            when(self)
        ))
    }
}

/// The pictures of a job as they lie there now.
pub(super) fn seen(asked: &Asked) -> Vec<Seen> {
    std::iter::once(Path::new(&asked.source))
        .chain(asked.answers.also.iter().map(std::path::PathBuf::as_path))
        .filter_map(Seen::now)
        .collect()
}

/// That no picture of a kept negative, or of a job, is written over: by where it lay, and by its bytes wherever it lies now.
///
/// # Errors
/// [`Refusal`] when one would be, or the book cannot be read.
pub fn check_no_source(studio: &Studio, about: Question, target: &Path) -> Result<(), Refusal> {
    let Some(about_file) = target.metadata().ok().filter(std::fs::Metadata::is_file) else { return Ok(()) };
    let refused = |of: String| {
        let cause = format!("`{}` is the picture of {of}, which is never written over", target.display());
        Err(Refusal::rule("picture_overwritten", about, cause, vec![Remedy::AnotherName]))
    };
    for (job, path) in sources_of_jobs(studio)? {
        if same_file(Path::new(&path), target) {
            return refused(format!("job {job}"));
        }
    }
    let mut of_kept = Vec::new();
    let mut own_file = None;
    for record in studio.book.records_ever(RecordKind::Negative)? {
        for own in makings(&record)? {
            // A negative of ours that was left alone since is known without reading it.
            let alone =
                own.facts.bytes == about_file.len() && own.written.is_some() && own.written == written_at(target);
            if alone && same_file(Path::new(&own.file), target) {
                own_file = Some(own.facts.sha256);
            }
            let all = std::iter::once(own.facts.source_sha256).chain(own.facts.also_sha256);
            of_kept.extend(all.filter(|own| !own.is_empty()).map(|own| (own, record.ordinal, record.name.clone())));
        }
    }
    if of_kept.is_empty() {
        return Ok(());
    }
    // What cannot be read is told by whoever writes there.
    let Some(sha256) = own_file.or_else(|| sha256_of(target).ok()) else { return Ok(()) };
    match of_kept.into_iter().find(|own| own.0 == sha256) {
        Some((_, number, name)) => refused(format!("negative {number}, `{name}`")),
        None => Ok(()),
    }
}
