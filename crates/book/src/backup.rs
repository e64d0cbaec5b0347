//! Copies that are checked before they are called copies.

use std::fs::{self, File};
use std::path::{Path, PathBuf};
use std::time::Duration;

use rusqlite::Connection;
use rusqlite::backup::Backup;

use crate::check::{self, FindingKind};
use crate::{Book, BookError, Damage, open};

impl Book {
    /// Writes a copy of the book as it stands, while others may go on writing. The copy is checked before it gets its name.
    ///
    /// # Errors
    /// [`BookError::Exists`] when something has that name, [`BookError::Damaged`] when the copy is not sound.
    pub fn backup(&self, to: &Path) -> Result<(), BookError> {
        write(&self.connection, to)
    }

    /// Puts the acts of a copy in the place of this book's, in one transaction, after a copy of this one was written beside it.
    /// Gives the name of that copy.
    ///
    /// # Errors
    /// [`BookError`] when the copy is no sound book of this version, or someone is writing; nothing is changed then.
    pub fn restore(&mut self, from: &Path, aside: &Path) -> Result<PathBuf, BookError> {
        let (copy, version) = open::recognise(from)?;
        if version != crate::schema::newest() {
            return Err(BookError::Damaged(Damage::Rule(format!(
                "the copy has schema {version}; open it once by itself, which brings it to schema {}",
                crate::schema::newest()
            ))));
        }
        sound(&copy)?;
        write(&self.connection, aside)?;
        pour(&copy, &mut self.connection)?;
        Ok(aside.into())
    }
}

/// Copies a connection's book to a new file.
pub(crate) fn write(from: &Connection, to: &Path) -> Result<(), BookError> {
    if to.exists() {
        return Err(BookError::Exists(to.into()));
    }
    let mut name = to.file_name().unwrap_or_default().to_owned();
    name.push(".part");
    let part = to.with_file_name(name);
    let done = write_part(from, &part).and_then(|()| {
        // A hard link refuses a name that was taken meanwhile; a rename would replace it.
        fs::hard_link(&part, to).map_err(|error| match error.kind() {
            std::io::ErrorKind::AlreadyExists => BookError::Exists(to.into()),
            _ => BookError::disk(to, &error),
        })
    });
    for leftover in [part.clone(), with_suffix(&part, "-wal"), with_suffix(&part, "-shm")] {
        // Absent ones are the usual case.
        let _ = fs::remove_file(leftover);
    }
    done?;
    let folder = to.parent().filter(|parent| !parent.as_os_str().is_empty()).unwrap_or_else(|| Path::new("."));
    File::open(folder).and_then(|folder| folder.sync_all()).map_err(|error| BookError::disk(to, &error))
}

fn write_part(from: &Connection, part: &Path) -> Result<(), BookError> {
    // A part of an earlier try that was cut off is no copy.
    let _ = fs::remove_file(part);
    let mut copy = Connection::open(part).map_err(BookError::from)?;
    pour(from, &mut copy)?;
    // One file, no log beside it: a copy is carried about.
    copy.pragma_update(None, "journal_mode", "delete")?;
    sound(&copy)?;
    copy.close().map_err(|(_, error)| BookError::from(error))?;
    File::open(part).and_then(|file| file.sync_all()).map_err(|error| BookError::disk(part, &error))
}

fn pour(from: &Connection, into: &mut Connection) -> Result<(), BookError> {
    let backup = Backup::new(from, into)?;
    // Everything in one step: the copy is of one moment, and nobody waits long for so small a file.
    backup.run_to_completion(i32::MAX, Duration::ZERO, None)?;
    Ok(())
}

fn sound(db: &Connection) -> Result<(), BookError> {
    let findings = check::all(db)?;
    match findings.into_iter().find(|finding| finding.kind == FindingKind::Damage) {
        Some(finding) => Err(BookError::Damaged(Damage::Rule(format!("in the copy: {}", finding.what)))),
        None => Ok(()),
    }
}

fn with_suffix(path: &Path, suffix: &str) -> PathBuf {
    let mut name = path.as_os_str().to_owned();
    name.push(suffix);
    name.into()
}
