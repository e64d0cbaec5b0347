//! Rows as they lie in the file become 16-bit grey.
//!
//! Luminance is stated: through the embedded profile it is the relative luminance of the profile's own matrix, as L*/100; without a profile
//! codes are weighed 0.2126 R + 0.7152 G + 0.0722 B as they are (ITU-R BT.709), so that a neutral pixel keeps its code.

use crate::header::{Alpha, Channels, Depth, Header};
use crate::profile::Tones;
use crate::refused::Refused;

/// The weights of BT.709 in 1/65536; they add up to one.
pub(crate) const WEIGHTS: [u32; 3] = [13_933, 46_871, 4_732];

/// From raw rows to grey, with room for what lies between.
pub(crate) struct ToGrey<'a> {
    header: &'a Header,
    tones: Option<&'a Tones>,
    samples: Vec<u16>,
}

impl<'a> ToGrey<'a> {
    pub(crate) fn new(header: &'a Header, tones: Option<&'a Tones>) -> Self {
        Self { header, tones, samples: Vec::new() }
    }

    /// One row of whole pixels; `row` is its number, for what is to be said of it.
    pub(crate) fn row(&mut self, row: u32, raw: &[u8], into: &mut [u16]) -> Result<(), Refused> {
        let header = self.header;
        let simple = header.samples() == 1 && !header.zero_is_white;
        if simple {
            unpack(header, row, raw, into)?;
        } else {
            self.samples.resize(into.len() * header.samples(), 0);
            unpack(header, row, raw, &mut self.samples)?;
            if header.zero_is_white {
                // Only grey can be so; what follows the grey sample is not colour.
                self.samples.iter_mut().step_by(header.samples()).for_each(|sample| *sample = u16::MAX - *sample);
            }
            self.cover();
            self.gather(into);
            return Ok(());
        }
        if let Some(tones) = self.tones {
            into.iter_mut().for_each(|code| *code = tones.grey(*code));
        }
        Ok(())
    }

    /// Lays what is partly covered over white.
    fn cover(&mut self) {
        let (count, colours) = (self.header.samples(), self.header.channels.count());
        let multiplied = match self.header.alpha {
            Alpha::None => return,
            Alpha::Straight => false,
            Alpha::Multiplied => true,
        };
        for pixel in self.samples.chunks_exact_mut(count) {
            let Some((colours, rest)) = pixel.split_at_mut_checked(colours) else { return };
            let cover = u32::from(rest.first().copied().unwrap_or(u16::MAX));
            let white = 65535 - cover;
            for own in colours {
                let part = if multiplied { u32::from(*own) } else { (u32::from(*own) * cover + 32767) / 65535 };
                *own = (part + white).min(65535) as u16;
            }
        }
    }

    fn gather(&self, into: &mut [u16]) {
        let count = self.header.samples();
        let pixels = self.samples.chunks_exact(count);
        match (self.header.channels, self.tones) {
            (Channels::Grey, tones) => {
                for (pixel, out) in pixels.zip(into) {
                    let own = pixel.first().copied().unwrap_or(0);
                    *out = tones.map_or(own, |tones| tones.grey(own));
                }
            }
            (Channels::Rgb, None) => {
                let weigh = |[r, g, b]: [u16; 3]| {
                    let sum = u32::from(r) * WEIGHTS[0] + u32::from(g) * WEIGHTS[1] + u32::from(b) * WEIGHTS[2];
                    ((sum + 32768) >> 16) as u16
                };
                if count == 3 {
                    let (pixels, _) = self.samples.as_chunks::<3>();
                    pixels.iter().zip(into).for_each(|(pixel, out)| *out = weigh(*pixel));
                } else {
                    pixels.filter_map(|pixel| pixel.first_chunk()).zip(into).for_each(|(own, out)| *out = weigh(*own));
                }
            }
            (Channels::Rgb, Some(tones)) => {
                tones.rgb(pixels.filter_map(|pixel| pixel.first_chunk().copied()), into);
            }
        }
    }
}

/// Samples of any depth as 16 bits.
pub(crate) fn unpack(header: &Header, row: u32, raw: &[u8], into: &mut [u16]) -> Result<(), Refused> {
    let nan = || Refused::NotANumber { row };
    match (header.depth, header.big_endian) {
        (Depth::Eight, _) => raw.iter().zip(into).for_each(|(own, out)| *out = u16::from(*own) * 257),
        (Depth::Sixteen, false) => each(raw, into, u16::from_le_bytes),
        (Depth::Sixteen, true) => each(raw, into, u16::from_be_bytes),
        (Depth::Half, big) => {
            let number = |own| half(if big { u16::from_be_bytes(own) } else { u16::from_le_bytes(own) });
            floats(raw, into, number).ok_or_else(nan)?;
        }
        (Depth::Single, false) => floats(raw, into, |own| f64::from(f32::from_le_bytes(own))).ok_or_else(nan)?,
        (Depth::Single, true) => floats(raw, into, |own| f64::from(f32::from_be_bytes(own))).ok_or_else(nan)?,
        (Depth::Double, false) => floats(raw, into, f64::from_le_bytes).ok_or_else(nan)?,
        (Depth::Double, true) => floats(raw, into, f64::from_be_bytes).ok_or_else(nan)?,
    }
    Ok(())
}

fn each<const N: usize>(raw: &[u8], into: &mut [u16], mut number: impl FnMut([u8; N]) -> u16) {
    let (units, _) = raw.as_chunks::<N>();
    units.iter().zip(into).for_each(|(own, out)| *out = number(*own));
}

/// 0 to 1 becomes 0 to 65,535; what is beyond is kept to the ends, and what is no number is none.
fn floats<const N: usize>(raw: &[u8], into: &mut [u16], number: impl Fn([u8; N]) -> f64) -> Option<()> {
    let mut nan = false;
    each(raw, into, |own| {
        let value = number(own);
        nan |= value.is_nan();
        // Halves go up; casting keeps to the ends.
        (value * 65535.0 + 0.5) as u16
    });
    (!nan).then_some(())
}

/// What of a picture in floating point lies beyond 0 to 1, and is kept to the ends.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Beyond {
    /// Pixels with a sample of colour beyond.
    pub pixels: u64,
    /// All pixels.
    pub of: u64,
    /// The smallest value there is.
    pub least: f64,
    /// The largest.
    pub most: f64,
}

impl Beyond {
    pub(crate) fn none() -> Self {
        Self { pixels: 0, of: 0, least: f64::INFINITY, most: f64::NEG_INFINITY }
    }

    /// Takes a row in; of pixels in whole numbers nothing is beyond.
    pub(crate) fn row(&mut self, header: &Header, row: u32, raw: &[u8]) -> Result<(), Refused> {
        let counted = match (header.depth, header.big_endian) {
            (Depth::Eight | Depth::Sixteen, _) => return Ok(()),
            (Depth::Half, true) => self.count(header, raw, |own| half(u16::from_be_bytes(own))),
            (Depth::Half, false) => self.count(header, raw, |own| half(u16::from_le_bytes(own))),
            (Depth::Single, true) => self.count(header, raw, |own| f64::from(f32::from_be_bytes(own))),
            (Depth::Single, false) => self.count(header, raw, |own| f64::from(f32::from_le_bytes(own))),
            (Depth::Double, true) => self.count(header, raw, f64::from_be_bytes),
            (Depth::Double, false) => self.count(header, raw, f64::from_le_bytes),
        };
        counted.ok_or(Refused::NotANumber { row })
    }

    fn count<const N: usize>(&mut self, header: &Header, raw: &[u8], number: impl Fn([u8; N]) -> f64) -> Option<()> {
        let (samples, _) = raw.as_chunks::<N>();
        for pixel in samples.chunks_exact(header.samples()) {
            let mut beyond = false;
            for own in pixel.iter().take(header.channels.count()) {
                let value = number(*own);
                if value.is_nan() {
                    return None;
                }
                beyond |= !(0.0..=1.0).contains(&value);
                self.least = self.least.min(value);
                self.most = self.most.max(value);
            }
            self.pixels += u64::from(beyond);
            self.of += 1;
        }
        Some(())
    }
}

/// IEEE 754 binary16.
fn half(bits: u16) -> f64 {
    let sign = if bits >> 15 == 1 { -1.0 } else { 1.0 };
    let (exponent, fraction) = (i32::from(bits >> 10 & 31), f64::from(bits & 1023));
    sign * match exponent {
        0 => fraction * 2f64.powi(-24),
        31 if fraction > 0.0 => f64::NAN,
        31 => f64::INFINITY,
        _ => (1024.0 + fraction) * 2f64.powi(exponent - 25),
    }
}
