//! What can be wrong with a book.

use std::path::{Path, PathBuf};

use rusqlite::ErrorCode;

/// Why a book could not be opened, read or written.
#[derive(Debug, thiserror::Error)]
pub enum BookError {
    /// No file there.
    #[error("there is no book at `{}`", .0.display())]
    Missing(PathBuf),
    /// A file is there that must not be replaced.
    #[error("`{}` exists already and is left as it is", .0.display())]
    Exists(PathBuf),
    /// A file that is no book: empty, or of another program.
    #[error("`{}` is no book of this program and is left as it is", .0.display())]
    Foreign(PathBuf),
    /// A book of a later version.
    #[error("`{}` was written by a later version (schema {found}; this one reads up to {known})", .path.display())]
    Newer {
        /// Where.
        path: PathBuf,
        /// Its schema.
        found: i64,
        /// The newest schema known here.
        known: i64,
    },
    /// A book whose contents contradict themselves.
    #[error("the book is damaged: {0}")]
    Damaged(Damage),
    /// A key that belongs to another act.
    #[error(
        "this key belongs to act {act} ({kind}), which was asked for otherwise or taken back since; nothing was done"
    )]
    KeyUsed {
        /// That act.
        act: i64,
        /// Its sort.
        kind: String,
    },
    /// Somebody else is writing and did not end in five seconds.
    #[error("the book is being written by another program; nothing was changed")]
    Busy,
    /// The disk is full or the file may not be written.
    #[error("`{}` cannot be written: {cause}", .path.display())]
    Disk {
        /// Where.
        path: PathBuf,
        /// What the system says.
        cause: String,
    },
    /// Anything else the database says.
    #[error("the book could not be read or written: {0}")]
    Database(rusqlite::Error),
}

/// What contradicts itself.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum Damage {
    /// SQLite's own check found something.
    #[error("{0}")]
    File(String),
    /// A stored value that cannot be read back.
    #[error("{what} `{value}` cannot be read")]
    Unreadable {
        /// What sort of value.
        what: &'static str,
        /// As it is stored.
        value: String,
    },
    /// A check of ours.
    #[error("{0}")]
    Rule(String),
}

impl BookError {
    /// A stored value that cannot be read back.
    pub fn unreadable(what: &'static str, value: impl Into<String>) -> Self {
        Self::Damaged(Damage::Unreadable { what, value: value.into() })
    }

    /// An error of the file system at `path`.
    pub(crate) fn disk(path: &Path, error: &std::io::Error) -> Self {
        Self::Disk { path: path.into(), cause: error.to_string() }
    }
}

impl From<rusqlite::Error> for BookError {
    fn from(error: rusqlite::Error) -> Self {
        match error.sqlite_error_code() {
            Some(ErrorCode::DatabaseBusy | ErrorCode::DatabaseLocked) => Self::Busy,
            Some(ErrorCode::DatabaseCorrupt | ErrorCode::NotADatabase) => {
                Self::Damaged(Damage::File(error.to_string()))
            }
            _ => Self::Database(error),
        }
    }
}
