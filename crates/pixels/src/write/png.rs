//! PNG whose bands are packed by themselves and follow each other in one stream, each ending on a whole byte.

use flate2::{Compress, Compression, FlushCompress, Status};

use super::Shape;

/// What the chunks say.
#[derive(Debug, Clone)]
pub(crate) struct PngFile {
    pub(crate) shape: Shape,
    pub(crate) height: u32,
    pub(crate) ppi: f64,
    pub(crate) profile: Option<Vec<u8>>,
    pub(crate) note: Option<String>,
    /// Whether the samples are sRGB.
    pub(crate) srgb: bool,
}

/// The level of deflate: noise gains nothing by more.
const LEVEL: u32 = 4;

fn chunk(kind: &[u8; 4], data: &[u8], out: &mut Vec<u8>) {
    out.extend((data.len() as u32).to_be_bytes());
    let begin = out.len();
    out.extend(kind);
    out.extend(data);
    let sum = crc32fast::hash(out.get(begin..).unwrap_or_default());
    out.extend(sum.to_be_bytes());
}

impl PngFile {
    /// All before the pixels, the head of their stream included.
    pub(crate) fn front(&self) -> Vec<u8> {
        let mut out = b"\x89PNG\r\n\x1a\n".to_vec();
        let mut about = Vec::new();
        about.extend((self.shape.width as u32).to_be_bytes());
        about.extend(self.height.to_be_bytes());
        about.extend([8 * self.shape.bytes as u8, if self.shape.samples == 3 { 2 } else { 0 }, 0, 0, 0]);
        chunk(b"IHDR", &about, &mut out);
        if let Some(profile) = &self.profile {
            let mut data = b"embedded\0\0".to_vec();
            data.extend(deflated(profile, FlushCompress::Finish, true));
            chunk(b"iCCP", &data, &mut out);
        }
        if self.srgb && self.profile.is_none() {
            // Relative colorimetric.
            chunk(b"sRGB", &[1], &mut out);
        }
        let per_metre = (self.ppi / 0.0254).round() as u32;
        let mut size = [per_metre, per_metre].map(u32::to_be_bytes).concat();
        size.push(1);
        chunk(b"pHYs", &size, &mut out);
        if let Some(note) = &self.note {
            let mut data = b"Comment\0\0\0\0\0".to_vec();
            data.extend(note.bytes().filter(|&byte| byte != 0));
            chunk(b"iTXt", &data, &mut out);
        }
        // The head of a zlib stream: 32 KiB back, level 1 to 5.
        chunk(b"IDAT", &[0x78, 0x5e], &mut out);
        out
    }

    /// One band. `rows` are samples low byte first; `lines` is room for what is packed. Gives the checksum of the lines and their length.
    pub(crate) fn band(&self, rows: &[u8], lines: &mut Vec<u8>, out: &mut Vec<u8>) -> (u32, u64) {
        let Shape { width, samples, bytes } = self.shape;
        let (row_bytes, pixel) = ((width * samples * bytes).max(1), samples * bytes);
        lines.clear();
        let mut above: Option<Vec<u8>> = None;
        let mut tried = Vec::new();
        for row in rows.chunks_exact(row_bytes) {
            let mut own = row.to_vec();
            if bytes == 2 {
                own.as_chunks_mut::<2>().0.iter_mut().for_each(|sample| sample.reverse());
            }
            // The first row of a band does not know the one above it, and no other filter than these two pays for its time.
            let sub = filtered(&own, &own, pixel);
            let up = above.as_ref().map(|above| filtered(&own, above, 0));
            let chosen = match up {
                Some(up) if sum(&up) < sum(&sub) => (2, up),
                _ => (1, sub),
            };
            tried.clear();
            tried.push(chosen.0);
            tried.extend(chosen.1);
            lines.extend(&tried);
            above = Some(own);
        }
        let packed = deflated(lines, FlushCompress::Sync, false);
        out.clear();
        chunk(b"IDAT", &packed, out);
        (libdeflater::adler32(lines), lines.len() as u64)
    }

    /// All behind the pixels: an empty last block, the checksum, the end.
    pub(crate) fn back(sum: u32) -> Vec<u8> {
        let mut data = vec![0x03, 0x00];
        data.extend(sum.to_be_bytes());
        let mut out = Vec::new();
        chunk(b"IDAT", &data, &mut out);
        chunk(b"IEND", &[], &mut out);
        out
    }
}

/// Bytes less those of the row that is given, moved by so many.
fn filtered(row: &[u8], from: &[u8], moved: usize) -> Vec<u8> {
    let before = std::iter::repeat_n(&0, moved).chain(from);
    row.iter().zip(before).map(|(now, before)| now.wrapping_sub(*before)).collect()
}

/// How far bytes are from nothing, as signed ones.
fn sum(bytes: &[u8]) -> u64 {
    bytes.iter().map(|&byte| u64::from((byte as i8).unsigned_abs())).sum()
}

fn deflated(data: &[u8], flush: FlushCompress, zlib: bool) -> Vec<u8> {
    let mut packer = Compress::new(Compression::new(LEVEL), zlib);
    // More than the worst case, so that one call takes all.
    let mut out = Vec::with_capacity(data.len() + data.len() / 100 + 4096);
    loop {
        let rest = data.get(packer.total_in() as usize..).unwrap_or_default();
        match packer.compress_vec(rest, &mut out, flush) {
            Ok(Status::StreamEnd) | Err(_) => return out,
            // With room left over, all there was is out.
            Ok(_) if packer.total_in() as usize == data.len() && out.len() < out.capacity() => return out,
            Ok(_) => out.reserve(data.len() / 4 + 65536),
        }
    }
}

/// The Adler checksum of two stretches from those of each (RFC 1950, 8.2): sums modulo 65,521.
pub(crate) fn adler_of_both(first: u32, second: u32, second_len: u64) -> u32 {
    const BASE: u64 = 65521;
    let halves = |sum: u32| (u64::from(sum & 0xffff), u64::from(sum >> 16));
    let ((a1, b1), (a2, b2)) = (halves(first), halves(second));
    let a = (a1 + a2 + BASE - 1) % BASE;
    let b = (b1 + b2 + second_len % BASE * ((a1 + BASE - 1) % BASE)) % BASE;
    (b << 16 | a) as u32
}
