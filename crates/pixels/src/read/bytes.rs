//! The bytes of a file by their place, and a stretch of them as a stream.

use std::fs::File;
use std::io::{self, BufRead, Read};
use std::os::unix::fs::FileExt;
use std::path::Path;
use std::sync::Arc;

use crate::refused::Refused;

/// A file that is read by place; never written, never mapped.
#[derive(Debug)]
pub(crate) struct Bytes {
    file: File,
    len: u64,
}

impl Bytes {
    pub(crate) fn open(path: &Path) -> Result<Self, Refused> {
        let file = File::open(path)?;
        let about = file.metadata()?;
        if !about.is_file() {
            return Err(Refused::Unreadable(io::Error::other("it is no ordinary file")));
        }
        Ok(Self { file, len: about.len() })
    }

    pub(crate) fn len(&self) -> u64 {
        self.len
    }

    /// Whether the file has that stretch.
    pub(crate) fn holds(&self, part: &'static str, at: u64, bytes: u64) -> Result<(), Refused> {
        let needed = at.saturating_add(bytes);
        if needed > self.len { Err(Refused::Ends { part, needed, there: self.len }) } else { Ok(()) }
    }

    /// Fills the buffer from that place.
    pub(crate) fn read_at(&self, part: &'static str, at: u64, into: &mut [u8]) -> Result<(), Refused> {
        self.holds(part, at, into.len() as u64)?;
        Ok(self.file.read_exact_at(into, at)?)
    }

    /// A stretch of the file, once it is known to be there.
    pub(crate) fn stretch(&self, part: &'static str, at: u64, bytes: u64) -> Result<Vec<u8>, Refused> {
        self.holds(part, at, bytes)?;
        let size = usize::try_from(bytes).map_err(|_| Refused::Ends { part, needed: u64::MAX, there: self.len })?;
        let mut out = vec![0; size];
        self.read_at(part, at, &mut out)?;
        Ok(out)
    }
}

/// How many bytes of a stretch are kept in memory.
const BUFFER: usize = 32 << 10;

/// A stretch of a file as a stream.
pub(crate) struct Stretch {
    bytes: Arc<Bytes>,
    at: u64,
    end: u64,
    buffer: Vec<u8>,
    /// What of the buffer was taken.
    taken: usize,
}

impl Stretch {
    pub(crate) fn new(bytes: Arc<Bytes>, at: u64, len: u64) -> Self {
        let end = at.saturating_add(len).min(bytes.len());
        Self { bytes, at, end, buffer: Vec::new(), taken: 0 }
    }
}

impl BufRead for Stretch {
    fn fill_buf(&mut self) -> io::Result<&[u8]> {
        if self.taken >= self.buffer.len() && self.at < self.end {
            let more = usize::try_from(self.end - self.at).unwrap_or(BUFFER).min(BUFFER);
            self.buffer.resize(more, 0);
            self.bytes.file.read_exact_at(&mut self.buffer, self.at)?;
            self.at += more as u64;
            self.taken = 0;
        }
        Ok(self.buffer.get(self.taken..).unwrap_or_default())
    }

    fn consume(&mut self, amount: usize) {
        self.taken = self.taken.saturating_add(amount).min(self.buffer.len());
    }
}

impl Read for Stretch {
    fn read(&mut self, into: &mut [u8]) -> io::Result<usize> {
        let there = self.fill_buf()?;
        let count = there.len().min(into.len());
        for (to, from) in into.iter_mut().zip(there) {
            *to = *from;
        }
        self.consume(count);
        Ok(count)
    }
}

impl io::Seek for Stretch {
    /// Only to tell where it stands; the decoders that ask for this never go back.
    fn seek(&mut self, to: io::SeekFrom) -> io::Result<u64> {
        let stands = self.at - (self.buffer.len() - self.taken) as u64;
        let place = match to {
            io::SeekFrom::Start(place) => Some(place),
            io::SeekFrom::Current(by) => stands.checked_add_signed(by),
            io::SeekFrom::End(by) => self.end.checked_add_signed(by),
        };
        let place = place.ok_or_else(|| io::Error::from(io::ErrorKind::InvalidInput))?;
        if place != stands {
            self.at = place.min(self.end);
            self.buffer.clear();
            self.taken = 0;
        }
        Ok(place.min(self.end))
    }
}
