//! PNG, row by row. Interlaced ones are refused: their last pass needs all of the first.

use std::sync::Arc;

use png::{BitDepth, ColorType, Decoder, DecodingError, Limits, Reader, Transformations, Unit};

use crate::header::{Alpha, Budget, Channels, Depth, FileKind, Header, Ppi, Stated};
use crate::orient::{Orientation, exif_orientation};
use crate::refused::Refused;

use super::bytes::{Bytes, Stretch};

/// Metres of an inch.
const INCH: f64 = 0.0254;

fn decoder(bytes: &Arc<Bytes>, budget: &Budget) -> Decoder<Stretch> {
    let whole = Stretch::new(Arc::clone(bytes), 0, bytes.len());
    let most = (budget.profile_bytes + 4 * budget.row_bytes) as usize;
    let mut decoder = Decoder::new_with_limits(whole, Limits { bytes: most });
    decoder.set_transformations(Transformations::EXPAND);
    decoder.set_ignore_text_chunk(true);
    decoder
}

fn refused(bytes: &Bytes, error: &DecodingError) -> Refused {
    match error {
        DecodingError::IoError(own) if own.kind() == std::io::ErrorKind::UnexpectedEof => {
            Refused::Ends { part: "the header of the PNG", needed: bytes.len() + 1, there: bytes.len() }
        }
        DecodingError::LimitsExceeded => Refused::Memory {
            part: "the header of the PNG",
            needed: bytes.len(),
            most: Budget::default().profile_bytes,
        },
        other => Refused::Field { what: "the header of the PNG", seen: other.to_string(), taken: "a sound one" },
    }
}

fn open(bytes: &Arc<Bytes>, budget: &Budget) -> Result<(Reader<Stretch>, Header), Refused> {
    let mut decoder = decoder(bytes, budget);
    let first = decoder.read_header_info().map_err(|error| refused(bytes, &error))?;
    let (width, height) = budget.size(u64::from(first.width), u64::from(first.height))?;
    if first.interlaced {
        return Err(Refused::Sort { what: "the PNG", seen: "interlaced".into(), taken: "one that is not" });
    }
    // As if every sample were unpacked: palettes become RGB.
    budget.row(u64::from(width) * 8)?;
    let reader = decoder.read_info().map_err(|error| refused(bytes, &error))?;
    let info = reader.info();
    let (color, depth) = reader.output_color_type();
    let (channels, alpha) = match color {
        ColorType::Grayscale => (Channels::Grey, Alpha::None),
        ColorType::GrayscaleAlpha => (Channels::Grey, Alpha::Straight),
        ColorType::Rgb => (Channels::Rgb, Alpha::None),
        ColorType::Rgba => (Channels::Rgb, Alpha::Straight),
        ColorType::Indexed => {
            return Err(Refused::Sort { what: "the PNG", seen: "a palette".into(), taken: "grey or RGB" });
        }
    };
    let per_inch = |dots: u32| Ppi::new(f64::from(dots) * INCH);
    let header = Header {
        kind: FileKind::Png,
        width,
        height,
        channels,
        depth: if depth == BitDepth::Sixteen { Depth::Sixteen } else { Depth::Eight },
        alpha,
        left_out: 0,
        zero_is_white: false,
        big_endian: true,
        orientation: info
            .exif_metadata
            .as_deref()
            .and_then(exif_orientation)
            .map_or_else(Orientation::upright, Orientation::from_tag),
        ppi: info
            .pixel_dims
            .filter(|dims| dims.unit == Unit::Meter)
            .and_then(|dims| per_inch(dims.xppu).zip(per_inch(dims.yppu))),
        profile: info.icc_profile.as_deref().map(<[u8]>::to_vec),
        stated: if info.icc_profile.is_some() { None } else { stated(info)? },
    };
    // What the library left out in silence is a profile all the same, and without it the tones would be others.
    if header.profile.is_none() && has_profile(bytes)? {
        return Err(Refused::Profile { what: "it is damaged or larger than the budget".into() });
    }
    let whole = u64::from(width) * u64::from(height) * header.pixel_bytes() as u64;
    // A palette may hold eight pixels in a byte, and each becomes four.
    let needed = whole / (1032 * if info.palette.is_some() { 32 } else { 8 });
    if bytes.len() < needed {
        return Err(Refused::Short { needed, there: bytes.len() });
    }
    Ok((reader, header))
}

/// What it says of its colours without a profile: code points, or else sRGB, or else an exponent with its primaries (PNG specification, third
/// edition, 11.3.2 and 13.13). Primaries alone say nothing of how codes become light.
fn stated(info: &png::Info<'_>) -> Result<Option<Stated>, Refused> {
    if let Some(own) = info.coding_independent_code_points {
        let seen = (own.color_primaries, own.transfer_function, own.is_video_full_range_image);
        return match seen {
            (1, 13, true) => Ok(Some(Stated::Srgb)),
            (primaries, transfer, _) => Err(Refused::Sort {
                what: "the colours of the PNG (cICP)",
                seen: format!("primaries {primaries}, transfer {transfer}"),
                taken: "1 and 13, which is sRGB, in the full range; or an ICC profile",
            }),
        };
    }
    if info.srgb.is_some() {
        return Ok(Some(Stated::Srgb));
    }
    let primaries = info
        .chrm_chunk
        .map(|own| [own.white, own.red, own.green, own.blue].map(|own| [own.0.into_scaled(), own.1.into_scaled()]));
    Ok(info.gama_chunk.map(|own| Stated::Gamma(own.into_scaled(), primaries)))
}

/// Whether a chunk with a profile stands before the pixels.
fn has_profile(bytes: &Bytes) -> Result<bool, Refused> {
    let mut at = 8;
    // More chunks before the pixels are in no picture.
    for _ in 0..1000 {
        let mut head = [0; 8];
        bytes.read_at("a chunk of the PNG", at, &mut head)?;
        let [a, b, c, d, kind @ ..] = head;
        match &kind {
            b"iCCP" => return Ok(true),
            b"IDAT" => return Ok(false),
            _ => at += 12 + u64::from(u32::from_be_bytes([a, b, c, d])),
        }
    }
    Ok(false)
}

pub(super) fn header(bytes: &Arc<Bytes>, budget: &Budget) -> Result<Header, Refused> {
    open(bytes, budget).map(|(_, header)| header)
}

/// Rows of a PNG.
pub(crate) struct PngRows {
    reader: Reader<Stretch>,
    next: u32,
    spare: Vec<u8>,
}

impl PngRows {
    pub(super) fn open(bytes: &Arc<Bytes>, budget: &Budget, known: &Header) -> Result<Self, Refused> {
        let (reader, header) = open(bytes, budget)?;
        if &header != known {
            return Err(Refused::Damaged { row: 0, what: "the file changed while it was read".into() });
        }
        Ok(Self { reader, next: 0, spare: vec![0; header.width as usize * header.pixel_bytes()] })
    }

    pub(super) fn read_row(&mut self, into: &mut [u8]) -> Result<(), Refused> {
        let row = self.next;
        let damaged = |what: String| Refused::Damaged { row, what };
        match self.reader.read_row(into) {
            Ok(Some(_)) => {
                self.next += 1;
                Ok(())
            }
            Ok(None) => Err(damaged("there are no more rows".into())),
            Err(error) => Err(damaged(error.to_string())),
        }
    }

    pub(super) fn skip_to(&mut self, row: u32) -> Result<(), Refused> {
        let mut spare = std::mem::take(&mut self.spare);
        while self.next < row {
            self.read_row(&mut spare)?;
        }
        self.spare = spare;
        Ok(())
    }
}
