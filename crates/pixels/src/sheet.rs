//! What is to be made: pictures and drawn strips on one sheet of film, and the file it becomes.

use std::sync::Arc;

use thiserror::Error;

use crate::dither::Dither;
use crate::header::Ppi;
use crate::lut::Lut;
use crate::orient::Orientation;
use crate::read::Picture;
use crate::resample::Filter;
use crate::write::{Format, Packing};

/// Pixels of the whole sheet.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct SheetSize {
    /// Across.
    pub width: u32,
    /// Down.
    pub height: u32,
}

/// A part of a picture, in pixels of the upright picture.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Area {
    /// The first column.
    pub left: u32,
    /// The first row.
    pub top: u32,
    /// Columns.
    pub width: u32,
    /// Rows.
    pub height: u32,
}

/// A picture on the sheet. In this order: upright by its own tag, turned, cropped, grey, resampled, through the table.
#[derive(Debug, Clone)]
pub struct Placed {
    /// The picture.
    pub picture: Arc<Picture>,
    /// How it is turned once it stands upright.
    pub turn: Orientation,
    /// What of it is shown, all of it when nothing is said. What is cropped away does not shine in at the edge.
    pub crop: Option<Area>,
    /// Its pixels on the sheet, across and down.
    pub size: (u32, u32),
    /// How it comes to that size.
    pub filter: Filter,
    /// From grey to what is on the film: the curve, and the inversion with it.
    pub table: Lut,
    /// Its upper left pixel on the sheet.
    pub at: (u32, u32),
}

/// Strips that somebody draws: a wedge, ticks, a rule, a line of text, a code.
pub trait DrawnStrips: Send + Sync {
    /// Fills whole rows from the row `first` on with codes as they are to be on the film.
    fn rows(&self, first: u32, into: &mut [u16]);
}

/// Drawn strips on the sheet. They lie over the pictures, the later over the earlier.
#[derive(Clone)]
pub struct Drawn {
    /// Who draws.
    pub strips: Arc<dyn DrawnStrips>,
    /// Pixels across and down.
    pub size: (u32, u32),
    /// The upper left pixel on the sheet.
    pub at: (u32, u32),
}

impl std::fmt::Debug for Drawn {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "Drawn {:?} at {:?}", self.size, self.at)
    }
}

/// The colour of a code 0 when the film is printed in one ink; 65,535 stays white and what is between is mixed in proportion.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Ink {
    /// Red.
    pub red: u16,
    /// Green.
    pub green: u16,
    /// Blue.
    pub blue: u16,
}

/// Inks of strips that lie one under the other at even distances. Rows between them are in black.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct InkRows {
    /// The first row of the first strip.
    pub first: u32,
    /// Rows of a strip.
    pub high: u32,
    /// Rows from the first row of a strip to that of the next.
    pub every: u32,
    /// Their inks from above; those that are not there are black.
    pub inks: [Option<Ink>; Self::MOST],
}

impl InkRows {
    /// Strips at most.
    pub const MOST: usize = 12;

    /// The ink of a row.
    pub(crate) fn at(&self, row: u32) -> Ink {
        const BLACK: Ink = Ink { red: 0, green: 0, blue: 0 };
        let Some(below) = row.checked_sub(self.first) else { return BLACK };
        let (strip, within) = (below / self.every.max(1), below % self.every.max(1));
        let own = self.inks.get(strip as usize).copied().flatten();
        own.filter(|_| within < self.high).unwrap_or(BLACK)
    }
}

/// A colour of 8 bits for each code, in sRGB.
#[derive(Clone, PartialEq, Eq)]
pub struct Colours(Arc<[[u8; 3]]>);

impl Colours {
    /// The colours of a function.
    #[must_use]
    pub fn of(colour: impl FnMut(u16) -> [u8; 3]) -> Self {
        Self((0..=u16::MAX).map(colour).collect())
    }

    /// The colour of a code.
    #[must_use]
    pub fn at(&self, code: u16) -> [u8; 3] {
        self.0.get(usize::from(code)).copied().unwrap_or_default()
    }
}

impl std::fmt::Debug for Colours {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "Colours(0 → {:?}, 32768 → {:?}, 65535 → {:?})", self.at(0), self.at(32768), self.at(65535))
    }
}

/// The samples that are written.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Output {
    /// Grey of 16 bits.
    Sixteen,
    /// Grey of 8 bits, dithered.
    Eight(Dither),
    /// RGB of 16 bits in one ink.
    Ink(Ink),
    /// RGB of 16 bits, strip by strip in another ink.
    Strips(InkRows),
    /// RGB of 8 bits, as a screen shows it.
    Colours(Colours),
}

impl Output {
    /// Samples of a pixel and bytes of a sample.
    pub(crate) fn shape(&self) -> (usize, usize) {
        match self {
            Self::Sixteen => (1, 2),
            Self::Eight(_) => (1, 1),
            Self::Ink(_) | Self::Strips(_) => (3, 2),
            Self::Colours(_) => (3, 1),
        }
    }
}

/// All that is to be made.
#[derive(Debug, Clone)]
pub struct Job {
    /// Pixels of the sheet.
    pub sheet: SheetSize,
    /// The code where nothing lies.
    pub ground: u16,
    /// The pictures, the later over the earlier.
    pub pictures: Vec<Placed>,
    /// What is drawn over them.
    pub drawn: Vec<Drawn>,
    /// Whether the whole sheet is mirrored left to right at the end.
    pub mirror: bool,
    /// The samples.
    pub output: Output,
    /// The kind of file.
    pub format: Format,
    /// Pixels to the inch, written into the file.
    pub ppi: Ppi,
    /// The profile to embed.
    pub profile: Option<Vec<u8>>,
    /// Words to put into the file.
    pub note: Option<String>,
}

/// A job that contradicts itself.
#[derive(Debug, Clone, PartialEq, Error)]
pub enum NoJob {
    /// The sheet has no pixels or too many in a row.
    #[error("the sheet is {width} × {height} pixels; 1 × 1 to {most} in a row are made")]
    Sheet {
        /// Across.
        width: u32,
        /// Down.
        height: u32,
        /// Most across.
        most: u32,
    },
    /// Something lies beyond the sheet, or has no size.
    #[error("a picture or drawing of {width} × {height} pixels at {left}, {top} is not within the sheet")]
    Beyond {
        /// Across.
        width: u32,
        /// Down.
        height: u32,
        /// From the left.
        left: u32,
        /// From the top.
        top: u32,
    },
    /// The crop is not within the picture.
    #[error(
        "a crop of {width} × {height} pixels at {left}, {top} is not within the picture of {of_width} × {of_height}"
    )]
    Crop {
        /// Across.
        width: u32,
        /// Down.
        height: u32,
        /// From the left.
        left: u32,
        /// From the top.
        top: u32,
        /// The picture across.
        of_width: u32,
        /// The picture down.
        of_height: u32,
    },
    /// Pictures become smaller or larger only so far.
    #[error("a picture of {from} pixels is to have {to} on the sheet; from {least} to {most} times as many are made")]
    Scale {
        /// Pixels of a side of the picture.
        from: u32,
        /// Of the same on the sheet.
        to: u32,
        /// Least.
        least: f64,
        /// Most.
        most: f64,
    },
}

/// Pixels across a sheet at most: a metre and a half at 5,760 to the inch.
const MOST_ACROSS: u32 = 400_000;
/// Smallest and largest scale of a picture.
const SCALES: (f64, f64) = (1.0 / 64.0, 64.0);
/// Rows of a band, the strip of a file, at most.
const BAND_ROWS: u32 = 64;
/// Bytes of a band about which it is made of fewer rows.
const BAND_BYTES: u64 = 4 << 20;

impl Placed {
    /// How the picture comes from the file to the sheet: its own tag and the turn.
    pub(crate) fn orientation(&self) -> Orientation {
        self.picture.header().orientation.then(self.turn)
    }

    /// What of the turned picture is shown.
    pub(crate) fn area(&self) -> Area {
        let header = self.picture.header();
        let (width, height) =
            if self.orientation().swaps() { (header.height, header.width) } else { (header.width, header.height) };
        self.crop.unwrap_or(Area { left: 0, top: 0, width, height })
    }

    fn check(&self) -> Result<(), NoJob> {
        let area = self.area();
        let whole = Self { crop: None, ..self.clone() }.area();
        let ends = |from: u32, size: u32, most: u32| size > 0 && from.checked_add(size).is_some_and(|end| end <= most);
        if !ends(area.left, area.width, whole.width) || !ends(area.top, area.height, whole.height) {
            return Err(NoJob::Crop {
                width: area.width,
                height: area.height,
                left: area.left,
                top: area.top,
                of_width: whole.width,
                of_height: whole.height,
            });
        }
        for (from, to) in [(area.width, self.size.0), (area.height, self.size.1)] {
            let scale = f64::from(to) / f64::from(from);
            if !(SCALES.0..=SCALES.1).contains(&scale) {
                return Err(NoJob::Scale { from, to, least: SCALES.0, most: SCALES.1 });
            }
        }
        Ok(())
    }
}

impl Job {
    /// One picture that fills its sheet, inverted and mirrored, through no curve: the plainest negative.
    #[must_use]
    pub fn plain(picture: Arc<Picture>, size: (u32, u32), ppi: Ppi) -> Self {
        let placed = Placed {
            picture,
            turn: Orientation::upright(),
            crop: None,
            size,
            filter: Filter::default(),
            table: Lut::inverting(),
            at: (0, 0),
        };
        Self {
            sheet: SheetSize { width: size.0, height: size.1 },
            ground: u16::MAX,
            pictures: vec![placed],
            drawn: Vec::new(),
            mirror: true,
            output: Output::Sixteen,
            format: Format::Tiff(Packing::None),
            ppi,
            profile: None,
            note: None,
        }
    }

    /// Whether it can be made.
    ///
    /// # Errors
    /// [`NoJob`] names what contradicts what.
    pub fn check(&self) -> Result<(), NoJob> {
        let SheetSize { width, height } = self.sheet;
        if width == 0 || height == 0 || width > MOST_ACROSS {
            return Err(NoJob::Sheet { width, height, most: MOST_ACROSS });
        }
        let placed = self.pictures.iter().map(|own| (own.size, own.at));
        for (size, at) in placed.chain(self.drawn.iter().map(|own| (own.size, own.at))) {
            let ends =
                |from: u32, size: u32, most: u32| size > 0 && from.checked_add(size).is_some_and(|end| end <= most);
            if !ends(at.0, size.0, width) || !ends(at.1, size.1, height) {
                return Err(NoJob::Beyond { width: size.0, height: size.1, left: at.0, top: at.1 });
            }
        }
        self.pictures.iter().try_for_each(Placed::check)
    }

    /// Rows of a band: a matter of the job alone, so that bytes depend on nothing else.
    pub(crate) fn band_rows(&self) -> u32 {
        let (samples, bytes) = self.output.shape();
        let row = u64::from(self.sheet.width) * (samples * bytes) as u64;
        let by_bytes = (BAND_BYTES / row).clamp(1, u64::from(BAND_ROWS)) as u32;
        let shrinks = |own: &Placed| own.area().height.div_ceil(own.size.1);
        let by_scale = BAND_ROWS / self.pictures.iter().map(shrinks).max().unwrap_or(1).clamp(1, BAND_ROWS);
        let rows = by_bytes.min(by_scale).max(1);
        // The power of two below.
        1 << rows.ilog2()
    }
}
