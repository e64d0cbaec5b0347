//! Files this door leaves: never through a link, never over something, and none that is half written.

use std::fs::File;
use std::io::{ErrorKind, Write as _};
use std::path::Path;

use handcoat_work::{Question, Refusal, Remedy};

/// Whether anything stands at a path, a link that leads nowhere included.
pub(super) fn occupied(path: &Path) -> bool {
    path.symlink_metadata().is_ok()
}

/// Writes a file that is not there yet. What could not be written whole is taken away again.
///
/// # Errors
/// [`Refusal`] when something stands there already, or when it cannot be written.
pub(super) fn write_new(about: Question, path: &Path, bytes: &[u8]) -> Result<(), Refusal> {
    let mut file = match File::create_new(path) {
        Ok(file) => file,
        Err(error) if error.kind() == ErrorKind::AlreadyExists => return Err(Refusal::occupied(about, path)),
        Err(error) => return Err(unwritable(about, path, &error)),
    };
    // What the system still holds back is asked for too: a full disk may show only then.
    file.write_all(bytes).and_then(|()| file.sync_all()).map_err(|error| {
        // The first failure is the one to tell of, whether or not this works.
        let _ = std::fs::remove_file(path);
        unwritable(about, path, &error)
    })
}

/// Reads a file, which is left as it is.
///
/// # Errors
/// [`Refusal`] when it is not there or cannot be read.
pub(super) fn read(about: Question, path: &Path) -> Result<Vec<u8>, Refusal> {
    std::fs::read(path).map_err(|error| unreadable(about, path, &error))
}

/// Why a file could not be read.
pub(super) fn unreadable(about: Question, path: &Path, error: &std::io::Error) -> Refusal {
    let cause = format!("`{}` could not be read: {error}", path.display());
    Refusal::file("file_unreadable", about, cause, vec![Remedy::AnotherName])
}

/// Writes a file in a folder that is this program's own: what an earlier run left there is taken away first.
///
/// # Errors
/// [`Refusal`] when it cannot be written.
pub(super) fn replace(about: Question, path: &Path, bytes: &[u8]) -> Result<(), Refusal> {
    remove(about, path)?;
    write_new(about, path, bytes)
}

/// Takes a file of this program's own away, if it is there.
///
/// # Errors
/// [`Refusal`] when it stays.
pub(super) fn remove(about: Question, path: &Path) -> Result<(), Refusal> {
    match std::fs::remove_file(path) {
        Err(error) if error.kind() != ErrorKind::NotFound => Err(unwritable(about, path, &error)),
        _ => Ok(()),
    }
}

/// A file or folder that could not be written.
pub(super) fn unwritable(about: Question, path: &Path, error: &std::io::Error) -> Refusal {
    let cause = format!("`{}` could not be written: {error}", path.display());
    Refusal::file("file_unwritable", about, cause, vec![next_step(error)])
}

/// What helps against a failed write.
pub(super) fn next_step(error: &std::io::Error) -> Remedy {
    match error.kind() {
        ErrorKind::StorageFull | ErrorKind::QuotaExceeded | ErrorKind::FileTooLarge => Remedy::MakeRoom,
        _ => Remedy::AnotherPlace,
    }
}
