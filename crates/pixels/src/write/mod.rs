//! Files, written band by band under a name of their own until they are whole.

mod part;
mod png;
mod tiff;

pub(crate) use part::Part;
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

/// The level of a strip's deflate.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub(crate) enum Level {
    /// Quick, and as small where there is noise.
    Quick,
    /// Smaller where it is smooth.
    #[default]
    Small,
}

/// What packs, with room of its own.
pub(crate) struct Packer {
    quick: Compressor,
    small: Compressor,
    differences: Vec<u8>,
}

impl Packer {
    pub(crate) fn new() -> Self {
        let level = |number: i32| Compressor::new(CompressionLvl::new(number).unwrap_or_default());
        Self { quick: level(1), small: level(4), differences: Vec::new() }
    }

    /// Packs rows of samples of the machine's byte order kept low byte first; what comes out replaces `into`.
    pub(crate) fn pack(&mut self, packing: Packing, level: Level, shape: Shape, rows: &[u8], into: &mut Vec<u8>) {
        match packing {
            Packing::None => {
                into.clear();
                into.extend_from_slice(rows);
            }
            Packing::Deflate => {
                self.difference(shape, rows);
                self.deflate(level, into);
            }
            Packing::Lzw => {
                self.difference(shape, rows);
                into.clear();
                let mut encoder = Encoder::with_tiff_size_switch(BitOrder::Msb, 8);
                // Writing into memory does not fail.
                let _ = encoder.into_vec(into).encode_all(&self.differences);
            }
        }
    }

    /// Packs the differences of the last call once more at another level.
    pub(crate) fn again(&mut self, level: Level, into: &mut Vec<u8>) {
        self.deflate(level, into);
    }

    fn deflate(&mut self, level: Level, into: &mut Vec<u8>) {
        let compressor = if level == Level::Quick { &mut self.quick } else { &mut self.small };
        into.resize(compressor.zlib_compress_bound(self.differences.len()), 0);
        // OK because the room is what the library asks for at most.
        let made = compressor.zlib_compress(&self.differences, into).expect("BUG: the bound of deflate is no bound");
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
