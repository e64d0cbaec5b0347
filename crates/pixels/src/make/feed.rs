//! Grey rows of the pictures, from wherever they can be had: by place, in turn, or out of a spill file.

use std::ops::Range;
use std::path::Path;
use std::sync::atomic::AtomicBool;
use std::sync::{Arc, Mutex, PoisonError};

use crate::header::Header;
use crate::read::Rows;
use crate::refused::Refused;
use crate::resample::Resampler;
use crate::samples::ToGrey;
use crate::sheet::{Area, Job, Placed};

use super::spill::Spill;
use super::{NotMade, write_error};

/// Bytes of raw rows that are read at once.
const READ_AT_ONCE: usize = 512 << 10;

/// How one picture comes to its place.
pub(super) struct Lay<'a> {
    pub(super) placed: &'a Placed,
    pub(super) area: Area,
    /// Nothing when the size stays as it is.
    pub(super) resampler: Option<Resampler>,
    access: Access<'a>,
}

/// Where its grey rows are.
enum Access<'a> {
    /// Rows by place.
    Plain,
    /// Rows one after the other.
    InTurn(Mutex<InTurn<'a>>),
    /// Turned already; copies that are turned alike share it.
    Spilled(Arc<Spill>),
}

/// Rows that come one after the other, and those that the next band needs again.
struct InTurn<'a> {
    rows: Rows,
    to_grey: ToGrey<'a>,
    raw: Vec<u8>,
    /// The row of the file that comes next.
    next: u32,
    /// Grey rows from `first` on that are kept.
    kept: Vec<u16>,
    first: u32,
}

/// All pictures of a job.
pub(super) struct Feeds<'a> {
    lays: Vec<Lay<'a>>,
}

/// What was refused of which picture, from 0.
pub(super) type PictureRefused = (usize, Refused);

impl<'a> Feeds<'a> {
    /// Opens what can be had in turn from the sheet's row `from` on, and turns what has to be turned.
    pub(super) fn open(job: &'a Job, from: u32, target: &Path, cancel: &AtomicBool) -> Result<Self, NotMade> {
        let mut lays: Vec<Lay<'a>> = Vec::new();
        for (index, placed) in job.pictures.iter().enumerate() {
            let refused = |refused| NotMade::Picture { number: index + 1, refused };
            let picture = &*placed.picture;
            // A picture that was done before needs no reading.
            let done = placed.at.1 + placed.size.1 <= from;
            let turned_before = lays.iter().find_map(|own| own.spill_of(placed));
            let access = if !placed.orientation().keeps_rows() && !done {
                match turned_before.map_or_else(|| Spill::turned(placed, target, cancel).map(Arc::new), Ok) {
                    Ok(spill) => Access::Spilled(spill),
                    Err(spill_error) => {
                        return Err(spill_error.into_not_made(refused, |own| write_error(target, own), job));
                    }
                }
            } else if picture.plain().is_some() || done {
                Access::Plain
            } else {
                Access::InTurn(Mutex::new(InTurn {
                    rows: picture.rows().map_err(refused)?,
                    to_grey: ToGrey::new(picture.header(), picture.tones()),
                    raw: vec![0; picture.header().width as usize * picture.header().pixel_bytes()],
                    next: 0,
                    kept: Vec::new(),
                    first: 0,
                }))
            };
            let area = placed.area();
            let (from, to) = ((area.width, area.height), placed.size);
            let resampler = (from != to).then(|| Resampler::new(placed.filter, from, to));
            lays.push(Lay { placed, area, resampler, access });
        }
        Ok(Self { lays })
    }

    pub(super) fn lays(&self) -> &[Lay<'a>] {
        &self.lays
    }

    /// Whether any picture has to be read in turn.
    pub(super) fn go_in_turn(&self) -> bool {
        self.lays.iter().any(|lay| matches!(lay.access, Access::InTurn(_)))
    }
}

/// The rows of a picture in a band: which of its own, and which of its area they are made of.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Needed {
    pub(super) own: Range<u32>,
    pub(super) source: Range<u32>,
}

impl Lay<'_> {
    /// What of the picture lies in those rows of the sheet.
    pub(super) fn needed(&self, sheet: Range<u32>) -> Option<Needed> {
        let (top, height) = (self.placed.at.1, self.placed.size.1);
        let begin = sheet.start.max(top).checked_sub(top)?;
        let end = sheet.end.min(top + height).checked_sub(top)?;
        if begin >= end {
            return None;
        }
        let own = begin..end;
        let source = self.resampler.as_ref().map_or_else(|| own.clone(), |resampler| resampler.window(own.clone()));
        Some(Needed { own, source })
    }

    /// The spill of the same picture turned alike: it holds all of it, whatever is shown.
    fn spill_of(&self, other: &Placed) -> Option<Arc<Spill>> {
        let same =
            Arc::ptr_eq(&self.placed.picture, &other.picture) && self.placed.orientation() == other.orientation();
        match &self.access {
            Access::Spilled(own) if same => Some(Arc::clone(own)),
            _ => None,
        }
    }

    fn header(&self) -> &Header {
        self.placed.picture.header()
    }

    /// The stretch of a raw row that is in the area.
    fn stretch(&self) -> Range<usize> {
        let header = self.header();
        let left = if self.placed.orientation().flips_x() {
            header.width - self.area.left - self.area.width
        } else {
            self.area.left
        };
        let pixel = header.pixel_bytes();
        left as usize * pixel..(left + self.area.width) as usize * pixel
    }

    /// One raw row to grey, as it lies on the sheet.
    fn grey(&self, to_grey: &mut ToGrey<'_>, row: u32, raw: &[u8], into: &mut [u16]) -> Result<(), Refused> {
        to_grey.row(row, raw.get(self.stretch()).unwrap_or_default(), into)?;
        if self.placed.orientation().flips_x() {
            into.reverse();
        }
        Ok(())
    }

    /// Rows by place, or from the spill. Not those that come in turn.
    pub(super) fn read_anywhere(
        &self,
        source: &Range<u32>,
        to_grey: &mut ToGrey<'_>,
        raw: &mut Vec<u8>,
        into: &mut [u16],
    ) -> Result<(), Refused> {
        match &self.access {
            Access::InTurn(_) => Ok(()),
            Access::Spilled(spill) => spill.rows(&self.area, source, raw, into),
            Access::Plain => {
                let Some(tiff) = self.placed.picture.plain() else { return Ok(()) };
                let row_bytes = self.header().width as usize * self.header().pixel_bytes();
                let width = self.area.width as usize;
                let at_once = (READ_AT_ONCE / row_bytes).max(1);
                let top = self.area.top + source.start;
                for (row, greys) in (top..).step_by(at_once).zip(into.chunks_mut(at_once * width)) {
                    raw.resize(greys.len() / width * row_bytes, 0);
                    tiff.plain_rows(row, raw)?;
                    for ((row, raw), grey) in
                        (row..).zip(raw.chunks_exact(row_bytes)).zip(greys.chunks_exact_mut(width))
                    {
                        self.grey(to_grey, row, raw, grey)?;
                    }
                }
                Ok(())
            }
        }
    }

    /// Rows that come in turn. `later` is the first row that the next band needs.
    pub(super) fn read_in_turn(&self, source: &Range<u32>, later: u32, into: &mut [u16]) -> Result<(), Refused> {
        let Access::InTurn(state) = &self.access else { return Ok(()) };
        let mut state = state.lock().unwrap_or_else(PoisonError::into_inner);
        let state = &mut *state;
        let width = self.area.width as usize;
        let kept = (state.kept.len() / width) as u32;
        for (row, grey) in source.clone().zip(into.chunks_exact_mut(width)) {
            if (state.first..state.first + kept).contains(&row) {
                let own = state.kept.chunks_exact(width).nth((row - state.first) as usize);
                grey.copy_from_slice(own.unwrap_or_default());
                continue;
            }
            let row = self.area.top + row;
            if state.next < row {
                state.rows.skip_to(row)?;
                state.next = row;
            }
            state.rows.read_row(&mut state.raw)?;
            state.next += 1;
            self.grey(&mut state.to_grey, row, &state.raw, grey)?;
        }
        let begin = later.clamp(source.start, source.end);
        let skipped = (begin - source.start) as usize * width;
        state.kept.clear();
        state.kept.extend_from_slice(into.get(skipped..).unwrap_or_default());
        state.first = begin;
        Ok(())
    }
}
