//! What stands where a file is to be written, and whether a file that was made is still that one.

use std::path::Path;

use jiff::Timestamp;

use super::kept::{Making, NegativeView};
use super::mark::sha256_of;
use crate::{Question, Refusal, RefusalKind, Remedy};

/// How the file of a negative stands by now.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum FileStanding {
    /// It is the one that was made.
    AsMade,
    /// Nothing is there.
    Gone,
    /// Something else is there: another size, or other bytes.
    Changed,
    /// A later file of the same negative has its name.
    Replaced,
}

impl FileStanding {
    /// Its word.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::AsMade => "as_made",
            Self::Gone => "gone",
            Self::Changed => "changed",
            Self::Replaced => "replaced",
        }
    }

    /// What to know of it, without its end; nothing of one that is as it was made.
    #[must_use]
    pub fn says(self) -> Option<&'static str> {
        match self {
            Self::AsMade => None,
            Self::Gone => Some("the file is not there any more"),
            Self::Changed => Some(
                "the file under this name is not the one that was made: what is there is another size or has other bytes",
            ),
            Self::Replaced => Some("a later file has its name by now"),
        }
    }
}

/// When a file was last written, as its folder says.
pub(super) fn written_at(path: &Path) -> Option<Timestamp> {
    Timestamp::try_from(path.metadata().ok()?.modified().ok()?).ok()
}

/// How the file of a negative stands. One whose size and time are those it was made with is not read; any other of that size is, all of it.
#[must_use]
pub fn file_standing(making: &Making) -> FileStanding {
    let path = Path::new(&making.file);
    let Ok(about) = path.metadata() else { return FileStanding::Gone };
    if !about.is_file() || about.len() != making.facts.bytes {
        return FileStanding::Changed;
    }
    if making.written.is_some() && written_at(path) == making.written {
        return FileStanding::AsMade;
    }
    match sha256_of(path) {
        Ok(own) if own == making.facts.sha256 => FileStanding::AsMade,
        _ => FileStanding::Changed,
    }
}

/// How each file of a negative stands, in their order, the newest first.
#[must_use]
pub fn file_standings(view: &NegativeView) -> Vec<FileStanding> {
    let mut all: Vec<FileStanding> = Vec::new();
    for own in &view.made {
        let later = view.made.iter().zip(&all).find(|other| other.0.file == own.file);
        all.push(match later {
            Some((other, standing)) if other.facts.sha256 == own.facts.sha256 => *standing,
            Some(_) => FileStanding::Replaced,
            None => file_standing(own),
        });
    }
    all
}

/// That a file is still the one that was made, before it is handed out.
///
/// # Errors
/// [`Refusal`] when it is gone, or another is there.
pub fn as_made(making: &Making) -> Result<(), Refusal> {
    let Some(says) = file_standing(making).says() else { return Ok(()) };
    Err(Refusal {
        code: "negative_file_changed",
        kind: RefusalKind::Missing,
        about: Some(Question::Negative),
        cause: format!(
            "`{}`: {says}; it was {} bytes with SHA-256 {}",
            making.file, making.facts.bytes, making.facts.sha256
        ),
        excerpt: None,
        remedies: vec![Remedy::ListNegatives],
    })
}

/// That a file can be written under a name: nothing stands there, or with `force` a file and nothing else.
///
/// # Errors
/// [`Refusal`] when something stands there that stays.
pub fn check_target(about: Question, target: &Path, force: bool) -> Result<(), Refusal> {
    let Ok(standing) = target.symlink_metadata() else { return Ok(()) };
    if !force {
        return Err(Refusal::occupied(about, target));
    }
    if standing.is_file() || standing.is_symlink() {
        return Ok(());
    }
    let what = if standing.is_dir() { "a folder" } else { kind_of(&standing) };
    let cause = format!("`{}` is {what}; only a file is written over", target.display());
    Err(Refusal::rule("file_no_file", about, cause, vec![Remedy::AnotherName]))
}

#[cfg(unix)]
fn kind_of(about: &std::fs::Metadata) -> &'static str {
    use std::os::unix::fs::FileTypeExt as _;
    let own = about.file_type();
    if own.is_fifo() {
        "a pipe"
    } else if own.is_socket() {
        "a socket"
    } else {
        "a device"
    }
}

#[cfg(not(unix))]
fn kind_of(_about: &std::fs::Metadata) -> &'static str {
    "no file"
}

/// Whether two names lead to one file: the same path once links are followed, or two names of the same bytes on the disk.
pub(super) fn same_file(one: &Path, other: &Path) -> bool {
    let path = matches!((one.canonicalize(), other.canonicalize()), (Ok(one), Ok(other)) if one == other);
    path || same_bytes(one, other)
}

#[cfg(unix)]
fn same_bytes(one: &Path, other: &Path) -> bool {
    use std::os::unix::fs::MetadataExt as _;
    let of = |own: &Path| own.metadata().ok().map(|own| (own.dev(), own.ino()));
    of(one).is_some() && of(one) == of(other)
}

#[cfg(not(unix))]
fn same_bytes(_one: &Path, _other: &Path) -> bool {
    false
}
