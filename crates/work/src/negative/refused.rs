//! Pictures that are not taken and negatives that are not made, in the words of the house.

use std::io::ErrorKind;
use std::path::Path;

use handcoat_pixels::{NoJob, NotMade, Refused};

use crate::{Question, Refusal, RefusalKind, Remedy};

/// A picture that was refused.
pub(crate) fn picture(path: &Path, refused: &Refused) -> Refusal {
    let about = Question::Picture;
    let cause = format!("`{}`: {refused}", path.display());
    let (kind, remedy) = match refused {
        Refused::Unreadable(error) if error.kind() == ErrorKind::NotFound => {
            (RefusalKind::Missing, Remedy::Write(about, "picture.tif".into()))
        }
        Refused::Unreadable(_) => (RefusalKind::Failed, Remedy::Write(about, "picture.tif".into())),
        _ => (RefusalKind::Unreadable, Remedy::OtherPicture),
    };
    Refusal { code: refused.code(), kind, about: Some(about), cause, excerpt: None, remedies: vec![remedy] }
}

/// A sheet that contradicts itself, or is beyond what is made.
pub(super) fn job(about: Question, error: &NoJob) -> Refusal {
    let remedies = vec![Remedy::Write(about, "10in".into()), Remedy::Write(Question::Ppi, "720".into())];
    Refusal::rule("negative_size", about, error.to_string(), remedies)
}

/// A negative that was not made.
pub(crate) fn not_made(about: Question, source: &Path, target: &Path, error: &NotMade) -> Refusal {
    let out = Question::Output;
    match error {
        NotMade::Job(own) => job(about, own),
        NotMade::Picture { refused, .. } => picture(source, refused),
        NotMade::Exists { .. } => Refusal::occupied(out, target),
        NotMade::Busy { .. } => Refusal {
            code: "negative_busy",
            kind: RefusalKind::Busy,
            about: Some(out),
            cause: error.to_string(),
            excerpt: None,
            remedies: vec![Remedy::TryAgain, Remedy::AnotherName],
        },
        NotMade::Write { source, .. } => unwritable(target, source),
        NotMade::Stopped { .. } => {
            let cause = format!("{error}; no file is left of it");
            Refusal::output("negative_stopped", cause, vec![Remedy::TryAgain])
        }
    }
}

/// A file that could not be written.
pub(super) fn unwritable(target: &Path, error: &std::io::Error) -> Refusal {
    let cause = format!("`{}` could not be written: {}", target.display(), why_unwritable(error));
    let remedy = match error.kind() {
        ErrorKind::StorageFull | ErrorKind::QuotaExceeded | ErrorKind::FileTooLarge => Remedy::MakeRoom,
        _ => Remedy::AnotherPlace,
    };
    Refusal::file("file_unwritable", Question::Output, cause, vec![remedy])
}

/// Why a file could not be written, in plain words where the system's are none; its own stand behind them.
#[must_use]
pub fn why_unwritable(error: &std::io::Error) -> String {
    let plain = match error.kind() {
        ErrorKind::StorageFull => "the disk is full",
        ErrorKind::QuotaExceeded => "no more is allowed to this user on the disk",
        ErrorKind::FileTooLarge => {
            "it is larger than a file may be here (the limit of this shell, ulimit -f, or of the disk)"
        }
        ErrorKind::ReadOnlyFilesystem => "the disk is mounted read-only",
        _ => return error.to_string(),
    };
    format!("{plain} ({error})")
}
