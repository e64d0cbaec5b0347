//! Rows of a TIFF as they lie in the file: by place when nothing is packed, one after the other when it is.

use std::io::Read;
use std::sync::Arc;

use crate::read::bytes::Stretch;
use crate::refused::Refused;

use super::layout::{Chunk, Tiff};
use super::predictor::undo;
use super::unpack::Unpack;

const PART: &str = "a strip or tile";

impl Tiff {
    fn chunk(&self, plane: usize, down: usize, across: usize) -> Chunk {
        let index = (plane * self.down() + down) * self.across + across;
        // A table is as long as the size asks for; it was counted when the header was read.
        self.chunks.get(index).copied().unwrap_or(Chunk { at: u64::MAX, bytes: 0 })
    }

    /// Bytes of a pixel in one plane.
    fn plane_pixel(&self) -> usize {
        self.header.pixel_bytes() / self.planes
    }

    /// Pixels of a chunk that are in the picture, and where they begin.
    fn visible(&self, across: usize) -> (usize, usize) {
        let begin = across * self.chunk_width as usize;
        (begin, (self.header.width as usize - begin).min(self.chunk_width as usize))
    }

    /// Rows of what is not packed, from any place. `into` holds whole rows.
    pub(crate) fn plain_rows(&self, first: u32, into: &mut [u8]) -> Result<(), Refused> {
        let row_bytes = self.header.width as usize * self.header.pixel_bytes();
        let chunk_row = self.chunk_row_bytes();
        let mut begin = first;
        let mut rest = into;
        let mut spare = Vec::new();
        while !rest.is_empty() {
            let (down, inside) = ((begin / self.chunk_height) as usize, begin % self.chunk_height);
            let count = ((self.chunk_height - inside) as usize).min(rest.len() / row_bytes).max(1);
            let (part, later) = std::mem::take(&mut rest).split_at_mut_checked(count * row_bytes).unwrap_or_default();
            let skipped = u64::from(inside) * chunk_row as u64;
            if self.planes == 1 && self.across == 1 && chunk_row == row_bytes {
                self.bytes.read_at(PART, self.chunk(0, down, 0).at.saturating_add(skipped), part)?;
            } else {
                spare.resize(count * chunk_row, 0);
                for plane in 0..self.planes {
                    for across in 0..self.across {
                        let at = self.chunk(plane, down, across).at.saturating_add(skipped);
                        self.bytes.read_at(PART, at, &mut spare)?;
                        for (from, to) in spare.chunks_exact(chunk_row).zip(part.chunks_exact_mut(row_bytes)) {
                            self.lay(plane, across, from, to);
                        }
                    }
                }
            }
            begin = begin.saturating_add(count as u32);
            rest = later;
        }
        Ok(())
    }

    /// One row of a chunk into a row of the picture.
    fn lay(&self, plane: usize, across: usize, from: &[u8], to: &mut [u8]) {
        let (begin, count) = self.visible(across);
        let (unit, whole) = (self.plane_pixel(), self.header.pixel_bytes());
        let pixels = to.chunks_exact_mut(whole).skip(begin).take(count);
        for (pixel, sample) in pixels.zip(from.chunks_exact(unit)) {
            for (byte, own) in pixel.iter_mut().skip(plane * unit).zip(sample) {
                *byte = *own;
            }
        }
    }
}

/// Reads packed chunks one row after the other.
pub(crate) struct Unpacking {
    tiff: Arc<Tiff>,
    /// The row that comes next.
    next: u32,
    /// The row of chunks that is open, and its chunks, plane after plane.
    open: Option<usize>,
    streams: Vec<Unpack>,
    row: Vec<u8>,
    spare: Vec<u8>,
}

impl Unpacking {
    pub(crate) fn new(tiff: Arc<Tiff>) -> Self {
        let row = vec![0; tiff.chunk_row_bytes()];
        Self { tiff, next: 0, open: None, streams: Vec::new(), row, spare: Vec::new() }
    }

    /// The next row.
    pub(crate) fn read_row(&mut self, into: &mut [u8]) -> Result<(), Refused> {
        let tiff = Arc::clone(&self.tiff);
        let down = (self.next / tiff.chunk_height) as usize;
        self.begin(&tiff, down);
        for plane in 0..tiff.planes {
            for across in 0..tiff.across {
                self.chunk_row(&tiff, plane, across)?;
                if tiff.planes == 1 && tiff.across == 1 && self.row.len() == into.len() {
                    into.copy_from_slice(&self.row);
                } else {
                    tiff.lay(plane, across, &self.row, into);
                }
            }
        }
        self.next += 1;
        Ok(())
    }

    fn begin(&mut self, tiff: &Arc<Tiff>, down: usize) {
        if self.open == Some(down) {
            return;
        }
        self.open = Some(down);
        self.streams.clear();
        for plane in 0..tiff.planes {
            for across in 0..tiff.across {
                let chunk = tiff.chunk(plane, down, across);
                let stretch = Stretch::new(Arc::clone(&tiff.bytes), chunk.at, chunk.bytes);
                self.streams.push(Unpack::new(tiff.packed, stretch));
            }
        }
    }

    /// The next row of one chunk, samples again.
    fn chunk_row(&mut self, tiff: &Tiff, plane: usize, across: usize) -> Result<(), Refused> {
        let row = self.next;
        let damaged = |what: String| Refused::Damaged { row, what };
        let stream = self.streams.get_mut(plane * tiff.across + across);
        let stream = stream.ok_or_else(|| damaged("there is no such strip or tile".into()))?;
        stream.read_exact(&mut self.row).map_err(|error| damaged(error.to_string()))?;
        let header = &tiff.header;
        let samples = header.samples() / tiff.planes;
        undo(tiff.predictor, header.depth, header.big_endian, samples, &mut self.row, &mut self.spare);
        Ok(())
    }

    /// Goes on to a row further down; what is in chunks that are passed is not unpacked.
    pub(crate) fn skip_to(&mut self, row: u32) -> Result<(), Refused> {
        let tiff = Arc::clone(&self.tiff);
        let down = row / tiff.chunk_height;
        if down > self.next / tiff.chunk_height {
            self.next = down * tiff.chunk_height;
            self.open = None;
        }
        while self.next < row {
            self.begin(&tiff, (self.next / tiff.chunk_height) as usize);
            for plane in 0..tiff.planes {
                for across in 0..tiff.across {
                    self.chunk_row(&tiff, plane, across)?;
                }
            }
            self.next += 1;
        }
        Ok(())
    }
}
