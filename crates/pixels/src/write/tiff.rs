//! The head and the directory of a TIFF.
//!
//! What is not packed has its directory at the front, so that the file can be hashed while it is written; what is packed has it behind its
//! strips, whose lengths nobody knows before. Bytes are low byte first. BigTIFF is decided before the first byte, by what the strips can
//! come to at most.

use super::{Packing, Shape};

/// What the directory says.
#[derive(Debug, Clone)]
pub(crate) struct TiffFile {
    pub(crate) shape: Shape,
    pub(crate) height: u32,
    pub(crate) band_rows: u32,
    pub(crate) packing: Packing,
    pub(crate) ppi: f64,
    pub(crate) profile: Option<Vec<u8>>,
    pub(crate) note: Option<String>,
}

/// A field, its values as bytes.
struct Field {
    tag: u16,
    kind: u16,
    count: u64,
    bytes: Vec<u8>,
}

/// Types of fields.
const ASCII: u16 = 2;
const SHORT: u16 = 3;
const LONG: u16 = 4;
const RATIONAL: u16 = 5;
const UNDEFINED: u16 = 7;
const LONG8: u16 = 16;

fn shorts(tag: u16, values: &[u16]) -> Field {
    let bytes = values.iter().flat_map(|own| own.to_le_bytes()).collect();
    Field { tag, kind: SHORT, count: values.len() as u64, bytes }
}

fn long(tag: u16, value: u32) -> Field {
    Field { tag, kind: LONG, count: 1, bytes: value.to_le_bytes().to_vec() }
}

impl TiffFile {
    /// Bytes of one row.
    fn row_bytes(&self) -> u64 {
        (self.shape.width * self.shape.samples * self.shape.bytes) as u64
    }

    /// Bytes of the pixels, not packed.
    fn pixel_bytes(&self) -> u64 {
        self.row_bytes() * u64::from(self.height)
    }

    fn bands(&self) -> u64 {
        u64::from(self.height.div_ceil(self.band_rows))
    }

    /// Whether places need 64 bits: strips that grow by a thousandth and a directory stay below 4 GB or not. LZW grows by half at worst.
    pub(crate) fn is_big(&self) -> bool {
        let pixels = self.pixel_bytes();
        let grown = if self.packing == Packing::Lzw { pixels / 2 } else { pixels / 1000 };
        let rest = self.bands() * 80 + self.profile.as_ref().map_or(0, Vec::len) as u64 + 65536;
        pixels + grown + rest > u64::from(u32::MAX)
    }

    /// Bytes before the first strip.
    pub(crate) fn begin(&self) -> u64 {
        match self.packing {
            Packing::None => self.front().len() as u64,
            _ => 16,
        }
    }

    /// All before the first strip. Of a packed file the place of the directory is still nothing.
    pub(crate) fn front(&self) -> Vec<u8> {
        if self.packing != Packing::None {
            return self.head(0);
        }
        let strip = self.row_bytes() * u64::from(self.band_rows);
        let lengths: Vec<u64> = (0..self.bands()).map(|band| strip.min(self.pixel_bytes() - band * strip)).collect();
        // The length of the directory does not depend on what is in it.
        let behind = self.directory(16, 0, &lengths).len() as u64 + 16;
        let begin = behind.next_multiple_of(16);
        let mut out = self.head(16);
        out.extend(self.directory(16, begin, &lengths));
        out.resize(begin as usize, 0);
        out
    }

    /// The first sixteen bytes.
    pub(crate) fn head(&self, directory: u64) -> Vec<u8> {
        let mut out = b"II".to_vec();
        if self.is_big() {
            out.extend([43_u16, 8, 0].map(u16::to_le_bytes).concat());
            out.extend(directory.to_le_bytes());
        } else {
            out.extend(42_u16.to_le_bytes());
            out.extend((directory as u32).to_le_bytes());
            out.resize(16, 0);
        }
        out
    }

    /// The directory with what belongs to it, to stand at `at`, for strips of those lengths one behind the other from `begin` on.
    pub(crate) fn directory(&self, at: u64, begin: u64, lengths: &[u64]) -> Vec<u8> {
        let big = self.is_big();
        let mut fields = self.fields();
        let mut place = begin;
        let places: Vec<u64> = lengths
            .iter()
            .map(|length| {
                let own = place;
                place += length;
                own
            })
            .collect();
        for (tag, values) in [(273, &places[..]), (279, lengths)] {
            let bytes = if big {
                values.iter().flat_map(|own| own.to_le_bytes()).collect()
            } else {
                values.iter().flat_map(|own| (*own as u32).to_le_bytes()).collect()
            };
            fields.push(Field { tag, kind: if big { LONG8 } else { LONG }, count: values.len() as u64, bytes });
        }
        fields.sort_by_key(|field| field.tag);

        let (count_bytes, entry, inline) = if big { (8, 20, 8) } else { (2, 12, 4) };
        let mut out = if big {
            (fields.len() as u64).to_le_bytes().to_vec()
        } else {
            (fields.len() as u16).to_le_bytes().to_vec()
        };
        let place = |number: u64| {
            if big { number.to_le_bytes().to_vec() } else { (number as u32).to_le_bytes().to_vec() }
        };
        let behind = at + count_bytes + entry * fields.len() as u64 + inline;
        let mut values = Vec::new();
        for field in fields {
            out.extend(field.tag.to_le_bytes());
            out.extend(field.kind.to_le_bytes());
            out.extend(place(field.count));
            let mut word = field.bytes;
            if word.len() as u64 > inline {
                let own = place(behind + values.len() as u64);
                values.extend(std::mem::replace(&mut word, own));
                values.resize(values.len().next_multiple_of(8), 0);
            }
            word.resize(inline as usize, 0);
            out.extend(word);
        }
        // No further directory.
        out.extend(place(0));
        out.extend(values);
        out
    }

    fn fields(&self) -> Vec<Field> {
        let Shape { width, samples, bytes } = self.shape;
        // In 1/10,000, which is exact for what is typed.
        let resolution = [(self.ppi * 10_000.0).round() as u32, 10_000].map(u32::to_le_bytes).concat();
        let resolution = |tag: u16| Field { tag, kind: RATIONAL, count: 1, bytes: resolution.clone() };
        let words = |tag: u16, text: &str| {
            let bytes: Vec<u8> = text.bytes().filter(|&byte| byte != 0).chain([0]).collect();
            Field { tag, kind: ASCII, count: bytes.len() as u64, bytes }
        };
        let packing = match self.packing {
            Packing::None => 1,
            Packing::Lzw => 5,
            Packing::Deflate => 8,
        };
        let mut fields = vec![
            long(256, width as u32),
            long(257, self.height),
            shorts(258, &vec![8 * bytes as u16; samples]),
            shorts(259, &[packing]),
            shorts(262, &[if samples == 3 { 2 } else { 1 }]),
            shorts(274, &[1]),
            shorts(277, &[samples as u16]),
            long(278, self.band_rows.min(self.height)),
            resolution(282),
            resolution(283),
            shorts(284, &[1]),
            shorts(296, &[2]),
            words(305, "handcoat"),
        ];
        if packing != 1 {
            fields.push(shorts(317, &[2]));
        }
        if let Some(note) = &self.note {
            fields.push(words(270, note));
        }
        if let Some(profile) = &self.profile {
            let bytes = profile.clone();
            fields.push(Field { tag: 34675, kind: UNDEFINED, count: bytes.len() as u64, bytes });
        }
        fields
    }
}
