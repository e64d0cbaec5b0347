//! Pictures that are turned go through a file on the disk, grey and in groups of rows, so that little memory is enough.
//!
//! A group of rows lies in it turned: for each column its pixels of the group. So both writing and reading go over long stretches. The file
//! never has a name; whatever ends the program ends the file.

use std::fs::File;
use std::io;
use std::ops::Range;
use std::os::unix::fs::FileExt;
use std::path::Path;
use std::sync::atomic::{AtomicBool, Ordering};

use crate::orient::Orientation;
use crate::refused::Refused;
use crate::samples::ToGrey;
use crate::sheet::{Area, Job, Placed};

use super::NotMade;

/// Bytes of a group of rows.
const GROUP_BYTES: usize = 8 << 20;
/// Columns that are turned at a time.
const TURNED: usize = 16;

/// A picture in grey, to be read upright.
pub(super) struct Spill {
    file: File,
    orientation: Orientation,
    /// Pixels across and down as they lay in the picture's file.
    width: usize,
    height: usize,
    /// Rows of a group.
    group: usize,
}

/// What stops a spill.
pub(super) enum NotSpilled {
    Refused(Refused),
    Write(io::Error),
    Stopped,
}

impl NotSpilled {
    pub(super) fn into_not_made(
        self,
        refused: impl Fn(Refused) -> NotMade,
        write: impl Fn(io::Error) -> NotMade,
        job: &Job,
    ) -> NotMade {
        match self {
            Self::Refused(own) => refused(own),
            Self::Write(own) => write(own),
            Self::Stopped => NotMade::Stopped { rows: 0, of: job.sheet.height },
        }
    }
}

impl From<Refused> for NotSpilled {
    fn from(own: Refused) -> Self {
        Self::Refused(own)
    }
}

impl From<io::Error> for NotSpilled {
    fn from(own: io::Error) -> Self {
        Self::Write(own)
    }
}

/// A file without a name in the folder of the target.
fn nameless(target: &Path) -> io::Result<File> {
    let folder = target.parent().filter(|folder| !folder.as_os_str().is_empty());
    tempfile::tempfile_in(folder.unwrap_or(Path::new(".")))
}

impl Spill {
    /// Writes a picture out, turned as it is placed.
    pub(super) fn turned(placed: &Placed, target: &Path, cancel: &AtomicBool) -> Result<Self, NotSpilled> {
        let picture = &*placed.picture;
        let header = picture.header();
        let (width, height) = (header.width as usize, header.height as usize);
        let group = (GROUP_BYTES / (2 * width)).clamp(1, 512).min(height);
        let spill = Self { file: nameless(target)?, orientation: placed.orientation(), width, height, group };
        let mut to_grey = ToGrey::new(header, picture.tones());
        let mut rows = if picture.plain().is_some() { None } else { Some(picture.rows()?) };
        let mut raw = vec![0; width * header.pixel_bytes()];
        let mut grey = vec![0_u16; group * width];
        let mut out = Vec::new();
        for begin in (0..height).step_by(group) {
            if cancel.load(Ordering::Relaxed) {
                return Err(NotSpilled::Stopped);
            }
            let count = group.min(height - begin);
            for (row, grey) in (begin as u32..).zip(grey.chunks_exact_mut(width)).take(count) {
                match (picture.plain(), &mut rows) {
                    (Some(tiff), _) => tiff.plain_rows(row, &mut raw)?,
                    (None, Some(rows)) => rows.read_row(&mut raw)?,
                    (None, None) => {}
                }
                to_grey.row(row, &raw, grey)?;
            }
            // OK because `count` is at most the rows there is room for.
            spill.write(begin, &grey[..count * width], count, &mut out)?;
        }
        Ok(spill)
    }

    /// One group.
    fn write(&self, begin: usize, grey: &[u16], count: usize, out: &mut Vec<u8>) -> io::Result<()> {
        let place = (begin * self.width * 2) as u64;
        out.clear();
        if !self.orientation.swaps() {
            out.extend(grey.iter().flat_map(|code| code.to_le_bytes()));
            return self.file.write_all_at(out, place);
        }
        out.resize(grey.len() * 2, 0);
        // A few columns at a time, so that what is read and what is written are both near.
        for (block, columns) in out.chunks_mut(TURNED * count * 2).enumerate() {
            for (row, codes) in grey.chunks_exact(self.width).enumerate() {
                let own = codes.iter().skip(block * TURNED);
                for (code, column) in own.zip(columns.chunks_exact_mut(count * 2)) {
                    let [low, high] = code.to_le_bytes();
                    column[2 * row] = low;
                    column[2 * row + 1] = high;
                }
            }
        }
        self.file.write_all_at(out, place)
    }

    /// Rows of the upright picture's area.
    pub(super) fn rows(
        &self,
        area: &Area,
        rows: &Range<u32>,
        spare: &mut Vec<u8>,
        into: &mut [u16],
    ) -> Result<(), Refused> {
        let width = area.width as usize;
        let (flips_x, flips_y) = (self.orientation.flips_x(), self.orientation.flips_y());
        if !self.orientation.swaps() {
            spare.resize(self.width * 2, 0);
            for (row, out) in (area.top + rows.start..).zip(into.chunks_exact_mut(width)) {
                let own = if flips_y { self.height - 1 - row as usize } else { row as usize };
                self.file.read_exact_at(spare, (own * self.width * 2) as u64)?;
                take(spare, flips_x, area.left as usize, out);
            }
            return Ok(());
        }
        // Rows of the upright picture are columns of the file; across them go its rows, group after group.
        let count = rows.len();
        let top = (area.top + rows.start) as usize;
        let first = if flips_x { self.width - top - count } else { top };
        for begin in (0..self.height).step_by(self.group) {
            let across = self.group.min(self.height - begin);
            // Where the group lies in the upright picture.
            let left = if flips_y { self.height - begin - across } else { begin };
            let (from, to) = (left.max(area.left as usize), (left + across).min(area.left as usize + width));
            if from >= to {
                continue;
            }
            spare.resize(count * across * 2, 0);
            self.file.read_exact_at(spare, ((begin * self.width + first * across) * 2) as u64)?;
            for (index, own) in spare.chunks_exact(across * 2).enumerate() {
                let row = if flips_x { count - 1 - index } else { index };
                let out = into.chunks_exact_mut(width).nth(row).unwrap_or_default();
                let begin = from - area.left as usize;
                // OK because both ends are within the area.
                take(own, flips_y, from - left, &mut out[begin..begin + to - from]);
            }
        }
        Ok(())
    }
}

/// Codes from a place on, counted from the other end when it flips.
fn take(bytes: &[u8], flips: bool, from: usize, into: &mut [u16]) {
    let (codes, _) = bytes.as_chunks::<2>();
    if flips {
        let own = codes.iter().rev().skip(from);
        own.zip(into).for_each(|(own, to)| *to = u16::from_le_bytes(*own));
    } else {
        codes.iter().skip(from).zip(into).for_each(|(own, to)| *to = u16::from_le_bytes(*own));
    }
}
