//! JPEG. It is unpacked as a whole, in bytes and within a budget of its own: a progressive one cannot be had in strips.

use std::panic::{AssertUnwindSafe, catch_unwind};
use std::sync::Arc;

use zune_jpeg::JpegDecoder;
use zune_jpeg::zune_core::colorspace::ColorSpace;
use zune_jpeg::zune_core::options::DecoderOptions;

use crate::header::{Alpha, Budget, Channels, Depth, FileKind, Header};
use crate::orient::{Orientation, exif_orientation};
use crate::refused::Refused;

use super::bytes::{Bytes, Stretch};

fn damaged(what: impl ToString) -> Refused {
    Refused::Damaged { row: 0, what: what.to_string() }
}

/// The library is tried with hostile input by its makers; should it give up all the same, that is a damaged picture and no end of ours.
fn guarded<T>(work: impl FnOnce() -> Result<T, Refused>) -> Result<T, Refused> {
    catch_unwind(AssertUnwindSafe(work)).unwrap_or_else(|_| Err(damaged("unpacking gave up")))
}

fn decoder(bytes: &Arc<Bytes>, color: ColorSpace) -> JpegDecoder<Stretch> {
    // Plain loops and no kernels chosen by the processor: the same bytes on every machine.
    let options = DecoderOptions::new_safe()
        .set_use_unsafe(false)
        .set_strict_mode(true)
        .set_max_width(usize::from(u16::MAX))
        .set_max_height(usize::from(u16::MAX))
        .jpeg_set_out_colorspace(color);
    JpegDecoder::new_with_options(Stretch::new(Arc::clone(bytes), 0, bytes.len()), options)
}

pub(super) fn header(bytes: &Arc<Bytes>, budget: &Budget) -> Result<Header, Refused> {
    guarded(|| {
        let mut decoder = decoder(bytes, ColorSpace::RGB);
        decoder.decode_headers().map_err(|error| Refused::Field {
            what: "the header of the JPEG",
            seen: error.to_string(),
            taken: "a sound one",
        })?;
        let info = decoder.info().ok_or(Refused::Missing { what: "size" })?;
        let (width, height) = budget.size(u64::from(info.width), u64::from(info.height))?;
        let pixels = u64::from(width) * u64::from(height);
        if pixels > budget.jpeg_pixels {
            return Err(Refused::Size { width: width.into(), height: height.into(), most: budget.jpeg_pixels });
        }
        // A block of 64 samples takes two bits at least; with colour at half the resolution 256 pixels are six blocks. Runs of empty blocks
        // in progressive ones are shorter still, but not by this much.
        let needed = pixels / 1000;
        if bytes.len() < needed {
            return Err(Refused::Short { needed, there: bytes.len() });
        }
        let channels = match decoder.input_colorspace() {
            Some(ColorSpace::Luma) => Channels::Grey,
            Some(ColorSpace::YCbCr | ColorSpace::RGB) => Channels::Rgb,
            other => {
                return Err(Refused::Sort {
                    what: "the colour of the JPEG",
                    seen: other.map_or_else(|| "not said".to_owned(), |color| format!("{color:?}")),
                    taken: "grey or YCbCr",
                });
            }
        };
        let profile = decoder.icc_profile();
        if let Some(own) = profile.as_ref().filter(|own| own.len() as u64 > budget.profile_bytes) {
            return Err(Refused::Memory {
                part: "the ICC profile",
                needed: own.len() as u64,
                most: budget.profile_bytes,
            });
        }
        let turned = decoder.exif().and_then(|exif| exif_orientation(exif));
        Ok(Header {
            kind: FileKind::Jpeg,
            width,
            height,
            channels,
            depth: Depth::Eight,
            alpha: Alpha::None,
            left_out: 0,
            zero_is_white: false,
            big_endian: false,
            orientation: turned.map_or_else(Orientation::upright, Orientation::from_tag),
            ppi: None,
            profile,
            stated: None,
        })
    })
}

/// Rows of a JPEG that is unpacked already.
pub(crate) struct JpegRows {
    pixels: Vec<u8>,
    row_bytes: usize,
    next: usize,
}

impl JpegRows {
    pub(super) fn open(bytes: &Arc<Bytes>, budget: &Budget, known: &Header) -> Result<Self, Refused> {
        if &header(bytes, budget)? != known {
            return Err(damaged("the file changed while it was read"));
        }
        let color = if known.channels == Channels::Grey { ColorSpace::Luma } else { ColorSpace::RGB };
        let row_bytes = known.width as usize * known.pixel_bytes();
        let pixels = guarded(|| decoder(bytes, color).decode().map_err(damaged))?;
        if pixels.len() != row_bytes * known.height as usize {
            return Err(damaged(format!("{} bytes came out of it", pixels.len())));
        }
        Ok(Self { pixels, row_bytes, next: 0 })
    }

    pub(super) fn read_row(&mut self, into: &mut [u8]) -> Result<(), Refused> {
        let row = self.pixels.chunks_exact(self.row_bytes).nth(self.next);
        let row = row.filter(|row| row.len() == into.len()).ok_or_else(|| damaged("there are no more rows"))?;
        into.copy_from_slice(row);
        self.next += 1;
        Ok(())
    }

    pub(super) fn skip_to(&mut self, row: u32) {
        self.next = self.next.max(row as usize);
    }
}
