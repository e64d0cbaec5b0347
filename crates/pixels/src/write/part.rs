//! A file under a name of its own until it is whole.

use std::fs::{File, OpenOptions, TryLockError};
use std::io::{self, ErrorKind};
use std::os::unix::fs::{FileExt, MetadataExt};
use std::path::{Path, PathBuf};
use std::time::Duration;

/// The name a file has beside its place until it is whole. It is this program's own: no picture is called so.
#[must_use]
pub fn unfinished(target: &Path) -> PathBuf {
    let mut name = target.as_os_str().to_owned();
    name.push(".handcoat-part");
    PathBuf::from(name)
}

/// Takes away what is left unfinished of a file, unless somebody works on it.
pub fn forget_unfinished(target: &Path) {
    if unfinished(target).symlink_metadata().is_ok_and(|own| own.is_file())
        && let Ok(part) = Part::open(target)
    {
        part.discard();
    }
}

/// How often, and how far apart, a lock is asked for before it is called another's.
const LOCK_TURNS: u32 = 20;
const LOCK_TURN: Duration = Duration::from_millis(5);

/// The unfinished file beside the place of the finished one. Only one process at a time has it.
#[derive(Debug)]
pub(crate) struct Part {
    file: File,
    path: PathBuf,
    target: PathBuf,
}

impl Part {
    /// Opens the unfinished file, whatever it holds: nobody but this program gives a file such a name.
    pub(crate) fn open(target: &Path) -> io::Result<Self> {
        let path = unfinished(target);
        if let Ok(about) = path.symlink_metadata() {
            if !about.is_file() {
                let cause =
                    format!("`{}` is no file of this program's; expected none, or an unfinished one", path.display());
                return Err(io::Error::new(ErrorKind::InvalidInput, cause));
            }
            // Ended between its two names: what is whole has another, and must not be written into under this one.
            if about.nlink() > 1 {
                std::fs::remove_file(&path)?;
            }
        }
        let file = OpenOptions::new().read(true).write(true).create(true).truncate(false).open(&path)?;
        for turn in 1.. {
            match file.try_lock() {
                Ok(()) => break,
                // A process that somebody starts holds our open files until it has become another program: a lock just given up lasts that long.
                Err(TryLockError::WouldBlock) if turn < LOCK_TURNS => std::thread::sleep(LOCK_TURN),
                Err(TryLockError::WouldBlock) => return Err(ErrorKind::ResourceBusy.into()),
                Err(TryLockError::Error(error)) => return Err(error),
            }
        }
        Ok(Self { file, path, target: target.to_owned() })
    }

    /// Cuts it to a length. Not when it has it: a file that was cut to nothing is sent to the disk by some file systems when it is closed,
    /// and whoever closes it waits.
    pub(crate) fn cut(&self, len: u64) -> io::Result<()> {
        if self.file.metadata()?.len() == len { Ok(()) } else { self.file.set_len(len) }
    }

    pub(crate) fn write_at(&self, at: u64, bytes: &[u8]) -> io::Result<()> {
        self.file.write_all_at(bytes, at)
    }

    pub(crate) fn read_at(&self, at: u64, into: &mut [u8]) -> io::Result<()> {
        self.file.read_exact_at(into, at)
    }

    pub(crate) fn sync(&self) -> io::Result<()> {
        self.file.sync_data()
    }

    /// Gives it its name. A file that has the name already stays as it is, and this is an error.
    pub(crate) fn publish(self, durable: bool) -> io::Result<()> {
        if durable {
            self.file.sync_all()?;
        }
        match std::fs::hard_link(&self.path, &self.target) {
            Ok(()) => std::fs::remove_file(&self.path)?,
            Err(error) if error.kind() == ErrorKind::AlreadyExists || self.target.exists() => {
                // Somebody else took the name meanwhile.
                self.discard();
                return Err(ErrorKind::AlreadyExists.into());
            }
            // A file system without second names.
            Err(_) => std::fs::rename(&self.path, &self.target)?,
        }
        if durable {
            let folder = self.target.parent().filter(|folder| !folder.as_os_str().is_empty());
            File::open(folder.unwrap_or(Path::new(".")))?.sync_all()?;
        }
        Ok(())
    }

    /// Takes it away.
    pub(crate) fn discard(self) {
        let _ = std::fs::remove_file(&self.path);
    }
}
