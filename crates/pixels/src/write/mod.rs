//! Files, written band by band under a name of their own until they are whole.

mod letters;
mod part;
mod png;
mod tiff;

pub(crate) use part::Part;
pub use part::{forget_unfinished, unfinished};
pub(crate) use png::{PngFile, adler_of_both};
pub(crate) use tiff::TiffFile;

use libdeflater::{CompressionLvl, Compressor};
use weezl::{BitOrder, encode::Encoder};

/// The kind of file that is written.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Format {
    /// TIFF in strips, BigTIFF when it may grow beyond 4 GB.
    Tiff(Packing),
    /// PNG.
    Png,
}

/// How strips are packed.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Packing {
    /// Not at all: the quickest.
    None,
    /// Deflate, with differences along the row.
    Deflate,
    /// LZW, with differences along the row.
    Lzw,
}

/// How a strip is deflated. Which one is tried on a part of it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Level {
    /// Letters only: by far the quickest, and as small where there is grain.
    Letters,
    /// Quick matches.
    Quick,
    /// Better matches: smaller where it is smooth.
    Small,
    /// Better still, where a pattern comes again: what was dithered.
    Smaller,
}

/// The least bytes of a strip that are tried, and the share of it.
const TRIED: (usize, usize) = (32 << 10, 64);

/// What packs, with room of its own.
pub(crate) struct Packer {
    quick: Compressor,
    small: Compressor,
    smaller: Compressor,
    differences: Vec<u8>,
}

impl Packer {
    pub(crate) fn new() -> Self {
        let level = |number: i32| Compressor::new(CompressionLvl::new(number).unwrap_or_default());
        Self { quick: level(1), small: level(4), smaller: level(5), differences: Vec::new() }
    }

    /// Packs rows of samples, low byte first; what comes out replaces `into`.
    pub(crate) fn pack(&mut self, packing: Packing, shape: Shape, rows: &[u8], into: &mut Vec<u8>) {
        into.clear();
        match packing {
            Packing::None => into.extend_from_slice(rows),
            Packing::Deflate => {
                self.difference(shape, rows);
                let differences = std::mem::take(&mut self.differences);
                let level = self.level(&differences, into);
                self.deflate(level, &differences, into);
                self.differences = differences;
            }
            Packing::Lzw => {
                self.difference(shape, rows);
                let mut encoder = Encoder::with_tiff_size_switch(BitOrder::Msb, 8);
                // Writing into memory does not fail.
                let _ = encoder.into_vec(into).encode_all(&self.differences);
            }
        }
    }

    /// Letters unless matches make the tried part smaller by more than 1.2 %, quick ones unless better ones do by 4 %: each is twice as quick
    /// as the next, or more. It is a matter of the strip alone, so that bytes depend on nothing else.
    fn level(&mut self, strip: &[u8], room: &mut Vec<u8>) -> Level {
        let count = TRIED.0.max(strip.len() / TRIED.1).min(strip.len());
        // From the middle.
        let tried = strip.get((strip.len() - count) / 2..).and_then(|rest| rest.get(..count)).unwrap_or(strip);
        let mut try_out = |level: Level| {
            self.deflate(level, tried, room);
            room.len()
        };
        let gains = |slower: usize, quicker: usize, thousandths: usize| slower * 1000 < quicker * (1000 - thousandths);
        let quick = try_out(Level::Quick);
        if !gains(quick, try_out(Level::Letters), 12) {
            return Level::Letters;
        }
        let small = try_out(Level::Small);
        if !gains(small, quick, 40) {
            Level::Quick
        } else if gains(try_out(Level::Smaller), small, 5) {
            Level::Smaller
        } else {
            Level::Small
        }
    }

    fn deflate(&mut self, level: Level, data: &[u8], into: &mut Vec<u8>) {
        let compressor = match level {
            Level::Letters => return letters::pack(data, into),
            Level::Quick => &mut self.quick,
            Level::Small => &mut self.small,
            Level::Smaller => &mut self.smaller,
        };
        into.resize(compressor.zlib_compress_bound(data.len()), 0);
        // OK because the room is what the library asks for at most.
        let made = compressor.zlib_compress(data, into).expect("BUG: the bound of deflate is no bound");
        into.truncate(made);
    }

    /// Differences along rows, sample by sample, out of place so that they are taken many at a time.
    fn difference(&mut self, shape: Shape, rows: &[u8]) {
        self.differences.resize(rows.len(), 0);
        let row_bytes = (shape.width * shape.samples * shape.bytes).max(1);
        for (row, out) in rows.chunks(row_bytes).zip(self.differences.chunks_mut(row_bytes)) {
            if shape.bytes == 2 {
                let ((own, _), (out, _)) = (row.as_chunks::<2>(), out.as_chunks_mut::<2>());
                less(own, out, shape.samples, |now, before| {
                    u16::from_le_bytes(now).wrapping_sub(u16::from_le_bytes(before)).to_le_bytes()
                });
            } else {
                less(row, out, shape.samples, u8::wrapping_sub);
            }
        }
    }
}

/// Each less the one of the pixel before; the first pixel as it is.
fn less<T: Copy>(row: &[T], out: &mut [T], samples: usize, minus: impl Fn(T, T) -> T) {
    for (to, own) in out.iter_mut().zip(row).take(samples) {
        *to = *own;
    }
    for ((to, now), before) in out.iter_mut().skip(samples).zip(row.iter().skip(samples)).zip(row) {
        *to = minus(*now, *before);
    }
}

/// The shape of rows.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Shape {
    /// Pixels across.
    pub(crate) width: usize,
    /// Samples of a pixel.
    pub(crate) samples: usize,
    /// Bytes of a sample.
    pub(crate) bytes: usize,
}
