//! Pictures in files: header first, then rows.

mod bytes;
mod jpeg;
mod png;
mod tiff;

use std::path::{Path, PathBuf};
use std::sync::Arc;

use crate::header::{Budget, Depth, Header};
use crate::profile::Tones;
use crate::refused::Refused;
use crate::samples::{Beyond, ToGrey};

use bytes::Bytes;
use tiff::{Tiff, Unpacking};

/// A picture in a file, of which the header was read and found possible. The file is only ever read.
#[derive(Debug)]
pub struct Picture {
    path: PathBuf,
    budget: Budget,
    header: Header,
    inside: Inside,
    tones: Option<Tones>,
}

#[derive(Debug)]
enum Inside {
    Tiff(Arc<Tiff>),
    Png,
    Jpeg,
}

impl Picture {
    /// Reads the header and holds it against the budget; no pixel is read yet.
    ///
    /// # Errors
    /// [`Refused`] names what was seen and what is taken.
    pub fn open(path: &Path, budget: &Budget) -> Result<Self, Refused> {
        let bytes = Arc::new(Bytes::open(path)?);
        let start = bytes.stretch("the first bytes", 0, bytes.len().min(8))?;
        let (header, inside) = match start.as_slice() {
            [b'I', b'I', 42 | 43, 0, ..] | [b'M', b'M', 0, 42 | 43, ..] => {
                let tiff = Arc::new(Tiff::open(bytes, budget)?);
                (tiff.header.clone(), Inside::Tiff(tiff))
            }
            [0x89, b'P', b'N', b'G', ..] => (png::header(&bytes, budget)?, Inside::Png),
            [0xff, 0xd8, 0xff, ..] => (jpeg::header(&bytes, budget)?, Inside::Jpeg),
            _ => {
                let seen = match start.as_slice() {
                    [] => "nothing: it is empty".to_owned(),
                    some => some.iter().map(|byte| format!("{byte:02x}")).collect::<Vec<_>>().join(" "),
                };
                return Err(Refused::Unknown { seen });
            }
        };
        let tones = match &header.profile {
            Some(profile) => Some(Tones::read(profile, header.channels)?),
            None => header.stated.map(|own| Tones::stated(own, header.channels)).transpose()?,
        };
        Ok(Self { path: path.to_owned(), budget: *budget, header, inside, tones })
    }

    /// What the file says of its picture.
    #[must_use]
    pub fn header(&self) -> &Header {
        &self.header
    }

    /// The same picture with its profile, and what it says in the place of one, left out of account.
    #[must_use]
    pub fn without_profile(mut self) -> Self {
        self.tones = None;
        self
    }

    /// Every row as it lies in the file, from the top down.
    ///
    /// # Errors
    /// [`Refused`] when the pixels are damaged or end early.
    pub fn each_row(&self, mut see: impl FnMut(u32, &[u8])) -> Result<(), Refused> {
        let mut raw = vec![0; self.header.width as usize * self.header.pixel_bytes()];
        let mut rows = if self.plain().is_some() { None } else { Some(self.rows()?) };
        for row in 0..self.header.height {
            match (self.plain(), &mut rows) {
                (Some(tiff), _) => tiff.plain_rows(row, &mut raw)?,
                (None, Some(rows)) => rows.read_row(&mut raw)?,
                (None, None) => {}
            }
            see(row, &raw);
        }
        Ok(())
    }

    /// Every row in 16-bit grey, as it lies in the file, from the top down.
    ///
    /// # Errors
    /// [`Refused`] when the pixels are damaged or end early, or are no numbers.
    pub fn each_grey_row(&self, mut see: impl FnMut(u32, &[u16])) -> Result<(), Refused> {
        let mut to_grey = ToGrey::new(&self.header, self.tones.as_ref());
        let mut grey = vec![0; self.header.width as usize];
        let mut outcome = Ok(());
        self.each_row(|row, raw| {
            if outcome.is_ok() {
                outcome = to_grey.row(row, raw, &mut grey);
                if outcome.is_ok() {
                    see(row, &grey);
                }
            }
        })?;
        outcome
    }

    /// What of it lies beyond 0 to 1, the whole picture counted whatever is shown of it; none of a picture in whole numbers, nor where nothing
    /// does. All of its rows are read for it.
    ///
    /// # Errors
    /// [`Refused`] when the pixels are damaged or end early, or are no numbers.
    pub fn beyond(&self) -> Result<Option<Beyond>, Refused> {
        if matches!(self.header.depth, Depth::Eight | Depth::Sixteen) {
            return Ok(None);
        }
        let (mut all, mut outcome) = (Beyond::none(), Ok(()));
        self.each_row(|row, raw| {
            if outcome.is_ok() {
                outcome = all.row(&self.header, row, raw);
            }
        })?;
        outcome?;
        Ok((all.pixels > 0).then_some(all))
    }

    /// What tells this file from another one, or from the same one changed.
    pub(crate) fn known_by(&self) -> String {
        let about = std::fs::metadata(&self.path).ok();
        let changed = about.as_ref().and_then(|about| about.modified().ok());
        let len = about.map_or(0, |about| about.len());
        format!("{} {len} {changed:?} {}", self.path.display(), self.tones.is_some())
    }

    pub(crate) fn tones(&self) -> Option<&Tones> {
        self.tones.as_ref()
    }

    /// The TIFF whose rows can be read in any order.
    pub(crate) fn plain(&self) -> Option<&Tiff> {
        match &self.inside {
            Inside::Tiff(tiff) if tiff.is_plain() => Some(tiff),
            _ => None,
        }
    }

    /// Rows from the first one on.
    pub(crate) fn rows(&self) -> Result<Rows, Refused> {
        match &self.inside {
            Inside::Tiff(tiff) => Ok(Rows::Tiff(Unpacking::new(Arc::clone(tiff)))),
            Inside::Png => {
                let bytes = Arc::new(Bytes::open(&self.path)?);
                png::PngRows::open(&bytes, &self.budget, &self.header).map(|rows| Rows::Png(Box::new(rows)))
            }
            Inside::Jpeg => {
                let bytes = Arc::new(Bytes::open(&self.path)?);
                jpeg::JpegRows::open(&bytes, &self.budget, &self.header).map(Rows::Jpeg)
            }
        }
    }
}

/// Rows as they lie in the file, from the top down.
pub(crate) enum Rows {
    Tiff(Unpacking),
    Png(Box<png::PngRows>),
    Jpeg(jpeg::JpegRows),
}

impl Rows {
    /// The next row.
    pub(crate) fn read_row(&mut self, into: &mut [u8]) -> Result<(), Refused> {
        match self {
            Self::Tiff(rows) => rows.read_row(into),
            Self::Png(rows) => rows.read_row(into),
            Self::Jpeg(rows) => rows.read_row(into),
        }
    }

    /// Goes on to a row further down.
    pub(crate) fn skip_to(&mut self, row: u32) -> Result<(), Refused> {
        match self {
            Self::Tiff(rows) => rows.skip_to(row),
            Self::Png(rows) => rows.skip_to(row),
            Self::Jpeg(rows) => {
                rows.skip_to(row);
                Ok(())
            }
        }
    }
}
