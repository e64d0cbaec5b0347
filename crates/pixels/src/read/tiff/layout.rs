//! The header of a TIFF: what is in it, where its chunks lie, and whether that can be.

use std::sync::Arc;

use crate::header::{Alpha, Budget, Channels, Depth, FileKind, Header, Ppi};
use crate::orient::Orientation;
use crate::read::bytes::Bytes;
use crate::refused::Refused;

use super::fields::Fields;

/// How chunks are packed.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Packed {
    Plain,
    Lzw,
    Deflate,
    PackBits,
}

impl Packed {
    /// How many bytes one packed byte can become at most: deflate 1,032 (its longest match in two bits), LZW 4,096 in twelve bits, PackBits 128
    /// in two bytes.
    fn most_from_one(self) -> u64 {
        match self {
            Self::Plain => 1,
            Self::Lzw => 2731,
            Self::Deflate => 1032,
            Self::PackBits => 64,
        }
    }

    /// Bytes that unpacking one chunk keeps, buffer included.
    fn state_bytes(self) -> u64 {
        match self {
            Self::Plain => 0,
            Self::Lzw => 96 << 10,
            Self::Deflate => 96 << 10,
            Self::PackBits => 33 << 10,
        }
    }
}

/// How samples were made smaller before they were packed.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Predictor {
    None,
    /// Differences along the row.
    Horizontal,
    /// Bytes of floating-point samples apart, then differences.
    Float,
}

/// A strip or a tile; a strip is a tile as wide as the picture.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Chunk {
    pub(super) at: u64,
    pub(super) bytes: u64,
}

/// A TIFF whose header was read and found possible.
#[derive(Debug)]
pub(crate) struct Tiff {
    pub(super) bytes: Arc<Bytes>,
    pub(crate) header: Header,
    pub(super) packed: Packed,
    pub(super) predictor: Predictor,
    /// 1, or the samples of a pixel when each has a plane of its own.
    pub(super) planes: usize,
    /// Pixels across a chunk and rows of it.
    pub(super) chunk_width: u32,
    pub(super) chunk_height: u32,
    /// Chunks side by side.
    pub(super) across: usize,
    /// Chunks row by row, plane after plane.
    pub(super) chunks: Vec<Chunk>,
}

fn compression_name(number: u64) -> String {
    let name = match number {
        2..=4 => "fax",
        6 | 7 => "JPEG inside TIFF",
        34661 => "JBIG",
        34712 => "JPEG 2000",
        34887 => "LERC",
        34925 => "LZMA",
        50000 => "Zstandard",
        50001 => "WebP",
        _ => return number.to_string(),
    };
    format!("{number} ({name})")
}

fn photometric_name(number: u64) -> String {
    let name = match number {
        3 => "palette",
        4 => "mask",
        5 => "CMYK",
        6 => "YCbCr",
        8..=10 => "Lab",
        32803 => "raw sensor",
        _ => return number.to_string(),
    };
    format!("{number} ({name})")
}

impl Tiff {
    pub(crate) fn open(bytes: Arc<Bytes>, budget: &Budget) -> Result<Self, Refused> {
        let fields = Fields::read(&bytes)?;
        let must = |what: &'static str, tag: u16| fields.one(what, tag)?.ok_or(Refused::Missing { what });
        if fields.one("kind of page", 254)?.unwrap_or(0) & 1 == 1 {
            return Err(Refused::Sort {
                what: "the first picture in the file",
                seen: "a reduced copy".into(),
                taken: "the picture itself, first in the file,",
            });
        }
        let (width, height) = budget.size(must("width", 256)?, must("height", 257)?)?;
        let samples = fields.one("samples of a pixel", 277)?.unwrap_or(1);
        if !(1..=16).contains(&samples) {
            return Err(Refused::Field { what: "samples of a pixel", seen: samples.to_string(), taken: "1 to 16" });
        }
        let depth = depth(&fields, samples)?;
        let (channels, zero_is_white) = match must("photometric interpretation", 262)? {
            0 => (Channels::Grey, true),
            1 => (Channels::Grey, false),
            2 => (Channels::Rgb, false),
            other => {
                return Err(Refused::Sort {
                    what: "the photometric interpretation",
                    seen: photometric_name(other),
                    taken: "grey or RGB",
                });
            }
        };
        let extra = samples.checked_sub(channels.count() as u64).ok_or_else(|| Refused::Field {
            what: "samples of a pixel",
            seen: samples.to_string(),
            taken: "3 or more for RGB",
        })?;
        let kinds = fields.numbers("extra samples", 338, 16)?.unwrap_or_default();
        let alpha = match (extra, kinds.first()) {
            (1.., Some(1)) => Alpha::Multiplied,
            (1.., Some(2)) => Alpha::Straight,
            _ => Alpha::None,
        };
        let packed = match fields.one("compression", 259)?.unwrap_or(1) {
            1 => Packed::Plain,
            5 => Packed::Lzw,
            8 | 32946 => Packed::Deflate,
            32773 => Packed::PackBits,
            other => {
                return Err(Refused::Sort {
                    what: "the compression",
                    seen: compression_name(other),
                    taken: "none, LZW, deflate or PackBits",
                });
            }
        };
        let float = matches!(depth, Depth::Half | Depth::Single | Depth::Double);
        // Libraries ignore the predictor of what is not packed, so that files with both are about.
        let predictor = match fields.one("predictor", 317)?.unwrap_or(1) {
            _ if matches!(packed, Packed::Plain | Packed::PackBits) => Predictor::None,
            1 => Predictor::None,
            2 => Predictor::Horizontal,
            3 if float => Predictor::Float,
            other => {
                return Err(Refused::Field {
                    what: "predictor",
                    seen: other.to_string(),
                    taken: "1, 2, or 3 with floating point",
                });
            }
        };
        if fields.one("order of bits", 266)?.unwrap_or(1) != 1 {
            return Err(Refused::Field { what: "order of bits", seen: "reversed".into(), taken: "highest first" });
        }
        let apart = match fields.one("planar configuration", 284)?.unwrap_or(1) {
            1 => false,
            2 => samples > 1,
            other => {
                return Err(Refused::Field { what: "planar configuration", seen: other.to_string(), taken: "1 or 2" });
            }
        };
        let planes = if apart { samples as usize } else { 1 };
        let orientation = match fields.one("orientation", 274)?.unwrap_or(1) {
            number @ 1..=8 => Orientation::from_tag(number as u8),
            other => {
                return Err(Refused::Field { what: "orientation", seen: other.to_string(), taken: "1 to 8" });
            }
        };
        let unit = match fields.one("unit of resolution", 296)?.unwrap_or(2) {
            2 => Some(1.0),
            3 => Some(2.54),
            _ => None,
        };
        let ppi = |tag: u16| -> Result<Option<Ppi>, Refused> {
            let there = fields.fraction("resolution", tag)?;
            Ok(there.zip(unit).and_then(|(per_unit, factor)| Ppi::new(per_unit * factor)))
        };
        let header = Header {
            kind: FileKind::Tiff,
            width,
            height,
            channels,
            depth,
            alpha,
            left_out: extra as u16 - u16::from(alpha != Alpha::None),
            zero_is_white,
            big_endian: fields.big_endian,
            orientation,
            ppi: ppi(282)?.zip(ppi(283)?),
            profile: fields.octets("the ICC profile", 34675, budget.profile_bytes)?,
            stated: None,
        };
        budget.row(u64::from(width) * header.pixel_bytes() as u64)?;
        let places = Places::read(&fields, &header, planes, packed, budget)?;
        let tiff = Self {
            bytes: Arc::clone(&bytes),
            header,
            packed,
            predictor,
            planes,
            chunk_width: places.width,
            chunk_height: places.height,
            across: places.across,
            chunks: places.chunks,
        };
        tiff.is_possible()?;
        Ok(tiff)
    }

    /// Bytes of one row of one chunk.
    pub(super) fn chunk_row_bytes(&self) -> usize {
        self.chunk_width as usize * self.header.pixel_bytes() / self.planes
    }

    /// Rows of chunks.
    pub(super) fn down(&self) -> usize {
        self.header.height.div_ceil(self.chunk_height) as usize
    }

    /// Rows that are in the chunks of that row of chunks; tiles are always whole.
    fn rows_in(&self, down: usize) -> u32 {
        if self.across == 1 && self.chunk_width == self.header.width {
            let begun = (down as u32).saturating_mul(self.chunk_height);
            self.header.height.saturating_sub(begun).min(self.chunk_height)
        } else {
            self.chunk_height
        }
    }

    /// Whether the chunks are in the file, and can hold what they are to hold.
    fn is_possible(&self) -> Result<(), Refused> {
        let mut there = 0_u64;
        for (index, chunk) in self.chunks.iter().enumerate() {
            let down = index / self.across % self.down();
            let bytes = match self.packed {
                Packed::Plain => u64::from(self.rows_in(down)) * self.chunk_row_bytes() as u64,
                _ => chunk.bytes,
            };
            self.bytes.holds("a strip or tile", chunk.at, bytes)?;
            there = there.saturating_add(chunk.bytes);
        }
        let whole = u64::from(self.header.width) * u64::from(self.header.height) * self.header.pixel_bytes() as u64;
        let needed = whole / self.packed.most_from_one();
        if self.packed != Packed::Plain && there < needed {
            return Err(Refused::Short { needed, there });
        }
        Ok(())
    }

    /// Whether rows can be read in any order.
    pub(crate) fn is_plain(&self) -> bool {
        self.packed == Packed::Plain
    }
}

fn depth(fields: &Fields<'_>, samples: u64) -> Result<Depth, Refused> {
    let bits = fields.numbers("bits of a sample", 258, 16)?.unwrap_or_else(|| vec![1]);
    let first = bits.first().copied().unwrap_or(1);
    if bits.iter().take(samples as usize).any(|&own| own != first) {
        return Err(Refused::Sort {
            what: "the bits of a sample",
            seen: format!("{bits:?}"),
            taken: "the same number for all",
        });
    }
    let formats = fields.numbers("format of a sample", 339, 16)?.unwrap_or_else(|| vec![1]);
    let format = formats.first().copied().unwrap_or(1);
    if formats.iter().take(samples as usize).any(|&own| own != format) {
        return Err(Refused::Sort {
            what: "the format of a sample",
            seen: format!("{formats:?}"),
            taken: "the same for all",
        });
    }
    let name = match format {
        1 => "whole number",
        2 => "signed number",
        3 => "floating point",
        _ => "unknown format",
    };
    match (format, first) {
        (1, 8) => Ok(Depth::Eight),
        (1, 16) => Ok(Depth::Sixteen),
        (3, 16) => Ok(Depth::Half),
        (3, 32) => Ok(Depth::Single),
        (3, 64) => Ok(Depth::Double),
        _ => Err(Refused::Sort {
            what: "a sample",
            seen: format!("a {name} of {first} bits"),
            taken: "a whole number of 8 or 16 bits or floating point of 16, 32 or 64",
        }),
    }
}

/// Where the chunks lie.
struct Places {
    width: u32,
    height: u32,
    across: usize,
    chunks: Vec<Chunk>,
}

impl Places {
    fn read(
        fields: &Fields<'_>,
        header: &Header,
        planes: usize,
        packed: Packed,
        budget: &Budget,
    ) -> Result<Self, Refused> {
        let tiled = fields.has(322) || fields.has(323) || fields.has(324);
        let (width, height) = if tiled {
            let side = |what: &'static str, tag: u16| -> Result<u32, Refused> {
                let found = fields.one(what, tag)?.ok_or(Refused::Missing { what })?;
                u32::try_from(found).ok().filter(|&side| side > 0).ok_or_else(|| Refused::Field {
                    what,
                    seen: found.to_string(),
                    taken: "1 to 4294967295",
                })
            };
            (side("width of a tile", 322)?, side("height of a tile", 323)?)
        } else {
            let rows = fields.one("rows of a strip", 278)?.unwrap_or(u64::from(header.height));
            let rows = rows.min(u64::from(header.height)) as u32;
            if rows == 0 {
                return Err(Refused::Field { what: "rows of a strip", seen: "0".into(), taken: "1 or more" });
            }
            (header.width, rows)
        };
        budget.row(u64::from(width).saturating_mul(header.pixel_bytes() as u64))?;
        let across = header.width.div_ceil(width) as usize;
        let down = header.height.div_ceil(height) as usize;
        let count = (across as u64).saturating_mul(down as u64).saturating_mul(planes as u64);
        let states = (across as u64).saturating_mul(planes as u64).saturating_mul(packed.state_bytes());
        for (part, needed) in
            [("its table of strips or tiles", count.saturating_mul(32)), ("unpacking tiles side by side", states)]
        {
            if needed > budget.table_bytes {
                return Err(Refused::Memory { part, needed, most: budget.table_bytes });
            }
        }
        let (places, lengths) = if tiled { (324, 325) } else { (273, 279) };
        for tag in [places, lengths] {
            if let Some(seen) = fields.count(tag).filter(|&seen| seen != count) {
                return Err(Refused::Field {
                    what: "the number of strips or tiles",
                    seen: format!("{seen} where the size of the picture asks for {count}"),
                    taken: "as many as that",
                });
            }
        }
        let what = "places of strips or tiles";
        let at = fields.numbers(what, places, count)?.ok_or(Refused::Missing { what })?;
        let what = "lengths of strips or tiles";
        let bytes = match fields.numbers(what, lengths, count)? {
            Some(found) => found,
            // What is not packed tells its length by itself.
            None if packed == Packed::Plain => vec![0; at.len()],
            None => return Err(Refused::Missing { what }),
        };
        let chunks = at.into_iter().zip(bytes).map(|(at, bytes)| Chunk { at, bytes }).collect();
        Ok(Self { width, height, across, chunks })
    }
}
