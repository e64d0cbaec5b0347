//! Rows go by and become the smaller picture: each of its pixels is the mean light of a square of theirs.
//!
//! Two threads or more share the work: where rows can be read in any order each takes a part of the picture, otherwise one unpacks and another
//! makes smaller. What comes out does not depend on how many there are.

use std::num::NonZeroUsize;
use std::sync::mpsc::{Receiver, sync_channel};

use handcoat_craft::colour::White;
use handcoat_craft::source::SCAN_SIDE_PX;

use crate::header::{Channels, Depth, Header, Stated};
use crate::profile::ColourProfile;
use crate::read::Picture;
use crate::refused::Refused;
use crate::samples::{WEIGHTS, unpack};

use super::light::{Light, Lights};
use super::{BELOW_BITS, CodeMeaning, Scan};

/// Bits of the light of one sample while it is summed: more than its code has, so that dark tones stay apart.
const LIGHT_BITS: u32 = 20;
/// And those that the way back does not go by.
const FINE_BITS: u32 = 4;
/// More threads than these wait for memory.
const MOST_THREADS: usize = 4;
/// Bytes that are handed from the thread that unpacks to the other at once, about.
const BLOCK: usize = 1 << 18;
/// Blocks that wait.
const WAITING: usize = 4;

/// From samples to light, and from light to codes.
struct Tables {
    /// The light of a sample of 8 bits, and of 16.
    eight: Box<[u32; 256]>,
    sixteen: Vec<u32>,
    /// The code of a light, by its upper bits.
    codes: Vec<u16>,
}

impl Tables {
    fn of(lights: &Lights, header: &Header) -> Self {
        let full = f64::from((1_u32 << LIGHT_BITS) - 1);
        let light = |code: u16| {
            // Only grey can be so; what follows the grey sample is not colour.
            let code = if header.zero_is_white { u16::MAX - code } else { code };
            (lights.light(code) * full + 0.5) as u32
        };
        let mut eight = Box::new([0; 256]);
        for (code, own) in (0..=u8::MAX).zip(eight.iter_mut()) {
            *own = light(u16::from(code) * 257);
        }
        let sixteen = if header.depth == Depth::Eight { Vec::new() } else { (0..=u16::MAX).map(light).collect() };
        let steps = 1_u32 << (LIGHT_BITS - FINE_BITS);
        Self { eight, sixteen, codes: lights.codes(steps) }
    }

    fn code(&self, light: f64) -> u16 {
        let place = light / f64::from(1 << FINE_BITS);
        let at = place as usize;
        let entry = |at: usize| f64::from(self.codes.get(at).copied().unwrap_or(u16::MAX));
        (entry(at) + (entry(at + 1) - entry(at)) * (place - at as f64) + 0.5) as u16
    }
}

/// A part of the smaller picture as it grows.
struct Small<'a> {
    header: &'a Header,
    factor: usize,
    width: usize,
    /// None where a pixel stays a pixel.
    tables: Option<&'a Tables>,
    samples: Vec<u16>,
    /// Sums of columns of samples, as they lie in a row.
    sums: Vec<u32>,
    rows: usize,
    /// Where the next row goes: of each plane, and of how light pixels are.
    planes: Vec<std::slice::ChunksExactMut<'a, u16>>,
    luma: Option<std::slice::ChunksExactMut<'a, u16>>,
}

impl Small<'_> {
    fn row(&mut self, row: u32, raw: &[u8]) -> Result<(), Refused> {
        let Some(tables) = self.tables else {
            unpack(self.header, row, raw, &mut self.samples)?;
            if self.header.zero_is_white {
                self.samples.iter_mut().for_each(|own| *own = u16::MAX - *own);
            }
            self.keep();
            return Ok(());
        };
        if self.header.depth == Depth::Eight {
            for (sum, own) in self.sums.iter_mut().zip(raw) {
                *sum += tables.eight.get(usize::from(*own)).copied().unwrap_or(0);
            }
        } else {
            unpack(self.header, row, raw, &mut self.samples)?;
            for (sum, own) in self.sums.iter_mut().zip(&self.samples) {
                *sum += tables.sixteen.get(usize::from(*own)).copied().unwrap_or(0);
            }
        }
        self.rows += 1;
        if self.rows == self.factor {
            self.gather(tables);
            self.keep();
            self.sums.fill(0);
            self.rows = 0;
        }
        Ok(())
    }

    /// One row of ours out of the sums, laid as samples lie.
    fn gather(&mut self, tables: &Tables) {
        let out = &mut self.samples;
        match self.header.samples() {
            1 => across::<1>(&self.sums, self.factor, tables, out),
            2 => across::<2>(&self.sums, self.factor, tables, out),
            3 => across::<3>(&self.sums, self.factor, tables, out),
            4 => across::<4>(&self.sums, self.factor, tables, out),
            count => {
                let part = 1.0 / (self.factor * self.factor) as f64;
                for (pixels, out) in self.sums.chunks_exact(count * self.factor).zip(out.chunks_exact_mut(count)) {
                    for (channel, out) in out.iter_mut().enumerate() {
                        let all = pixels.iter().skip(channel).step_by(count);
                        *out = tables.code(all.map(|own| u64::from(*own)).sum::<u64>() as f64 * part);
                    }
                }
            }
        }
    }

    /// A row of samples into the planes.
    fn keep(&mut self) {
        let count = self.header.samples();
        for (channel, plane) in self.planes.iter_mut().enumerate() {
            let all = self.samples.iter().skip(channel).step_by(count);
            plane.next().unwrap_or_default().iter_mut().zip(all).for_each(|(out, own)| *out = *own);
        }
        if let Some(luma) = &mut self.luma {
            let pixels = self.samples.chunks_exact(count).take(self.width);
            for (pixel, out) in pixels.zip(luma.next().unwrap_or_default()) {
                let sum = pixel.iter().zip(WEIGHTS).map(|(own, weight)| u32::from(*own) * weight).sum::<u32>();
                *out = ((sum + 32_768) >> 16) as u16;
            }
        }
    }
}

/// Means of so many pixels of N samples each.
fn across<const N: usize>(sums: &[u32], each: usize, tables: &Tables, out: &mut [u16]) {
    let part = 1.0 / (each * each) as f64;
    let (out, _) = out.as_chunks_mut::<N>();
    for (pixels, out) in sums.chunks_exact(each * N).zip(out) {
        let mut all = [0_u64; N];
        for pixel in pixels.as_chunks::<N>().0 {
            all.iter_mut().zip(pixel).for_each(|(sum, own)| *sum += u64::from(*own));
        }
        out.iter_mut().zip(all).for_each(|(out, own)| *out = tables.code(own as f64 * part));
    }
}

/// Rows of the picture go into the parts: all at once where they can be read in any order, otherwise into the only one.
fn fill(picture: &Picture, mut parts: Vec<Small<'_>>, rows_each: u32) -> Result<(), Refused> {
    let row_bytes = picture.header().width as usize * picture.header().pixel_bytes();
    let together = (BLOCK / row_bytes.max(1)).max(1);
    if let Some(tiff) = picture.plain() {
        let rows = rows_each as usize;
        let height = picture.header().height;
        let run = |(number, mut part): (usize, Small<'_>)| {
            let begin = (number * rows) as u32;
            let end = begin.saturating_add(rows_each).min(height);
            let mut block = vec![0; together * row_bytes];
            let mut row = begin;
            while row < end {
                let count = together.min((end - row) as usize);
                // OK because no more rows are asked for than the block was made for.
                let block =
                    block.get_mut(..count * row_bytes).expect("BUG: a block of fewer rows than it was made for");
                tiff.plain_rows(row, block)?;
                for raw in block.chunks_exact(row_bytes) {
                    part.row(row, raw)?;
                    row += 1;
                }
            }
            Ok(())
        };
        return std::thread::scope(|scope| {
            let others: Vec<_> = parts.drain(..).enumerate().map(|own| scope.spawn(move || run(own))).collect();
            // OK because what a part does with a row does not panic on anything that may be in it.
            others.into_iter().try_for_each(|own| own.join().expect("BUG: a part of a scan panicked"))
        });
    }
    let Some(part) = parts.first_mut() else { return Ok(()) };
    std::thread::scope(|scope| {
        let (send, receive) = sync_channel::<(u32, Vec<u8>)>(WAITING);
        let (give_back, spare) = sync_channel::<Vec<u8>>(WAITING);
        let mut smaller = move |receive: Receiver<(u32, Vec<u8>)>| {
            for (first, mut block) in receive {
                for (row, raw) in (first..).zip(block.chunks_exact(row_bytes)) {
                    part.row(row, raw)?;
                }
                block.clear();
                // Whoever unpacks may be done with it.
                let _ = give_back.try_send(block);
            }
            Ok(())
        };
        let other = scope.spawn(move || smaller(receive));
        let mut block: Vec<u8> = Vec::with_capacity(together * row_bytes);
        let mut first = 0;
        let unpacked = picture.each_row(|row, raw| {
            if block.is_empty() {
                first = row;
            }
            block.extend_from_slice(raw);
            if block.len() >= together * row_bytes {
                let next = spare.try_recv().unwrap_or_default();
                // Where the other has stopped, it says why.
                let _ = send.send((first, std::mem::replace(&mut block, next)));
            }
        });
        let _ = send.send((first, block));
        drop(send);
        // OK because what a part does with a row does not panic on anything that may be in it.
        let smaller = other.join().expect("BUG: making a scan smaller panicked");
        unpacked.and(smaller)
    })
}

/// How many threads share a picture.
fn threads() -> usize {
    std::thread::available_parallelism().map_or(1, NonZeroUsize::get).min(MOST_THREADS)
}

impl Scan {
    /// Reads a picture as a scan. Its rows are read once.
    ///
    /// # Errors
    /// [`Refused`] when the pixels are damaged or end early.
    pub fn read(picture: &Picture, meaning: CodeMeaning) -> Result<Self, Refused> {
        let header = picture.header();
        let light = match (meaning, &header.profile) {
            (CodeMeaning::Gamma(gamma), _) => Light::Gamma(gamma),
            (CodeMeaning::AsTagged, Some(profile)) => {
                ColourProfile::read(profile).map_or(Light::Srgb, |own| Light::Profile(Box::new(own)))
            }
            // Of a scan in grey tones the primaries are no matter.
            (CodeMeaning::AsTagged, None) => match header.stated {
                Some(Stated::Gamma(own, _)) => Light::Gamma(100_000.0 / f64::from(own.max(1))),
                Some(Stated::Srgb) | None => Light::Srgb,
            },
        };
        let factor = (header.width.max(header.height) / SCAN_SIDE_PX.value).max(1) as usize;
        let (width, height) = (header.width as usize / factor, header.height as usize / factor);
        let colours = header.channels.count();
        let colour = header.channels == Channels::Rgb;
        let neutral = |code: f64| if colour { light.colour(&[code; 3]) } else { light.colour(&[code]) };
        let of_codes: Vec<_> = (0..=(1_u32 << (16 - BELOW_BITS)))
            .map(|own| neutral((f64::from(own << BELOW_BITS) / 65_535.0).min(1.0)))
            .collect();
        let lightness = of_codes.iter().map(|own| own.to_lab(White::IccD50).l_star as f32).collect();
        let lights = Lights::of(of_codes.iter().map(|own| own.y));
        let tables = (factor > 1).then(|| Tables::of(&lights, header));

        let mut planes = vec![vec![0_u16; width * height]; colours];
        let mut luma = if colour { vec![0; width * height] } else { Vec::new() };
        let count = if picture.plain().is_some() { threads().min(height).max(1) } else { 1 };
        // Rows of ours to a part; what a last part has fewer of is nothing.
        let rows_each = height.div_ceil(count).max(1);
        let stretch = (rows_each * width).max(1);
        let room = header.width as usize * header.samples();
        let mut of_planes: Vec<_> = planes.iter_mut().map(|own| own.chunks_mut(stretch)).collect();
        let mut of_luma = luma.chunks_mut(stretch);
        let mut parts = Vec::new();
        for _ in 0..height.div_ceil(rows_each) {
            parts.push(Small {
                header,
                factor,
                width,
                tables: tables.as_ref(),
                samples: vec![0; room],
                sums: vec![0; if factor > 1 { room } else { 0 }],
                rows: 0,
                planes: of_planes
                    .iter_mut()
                    .map(|own| own.next().unwrap_or_default().chunks_exact_mut(width.max(1)))
                    .collect(),
                luma: colour.then(|| of_luma.next().unwrap_or_default().chunks_exact_mut(width.max(1))),
            });
        }
        fill(picture, parts, (rows_each * factor) as u32)?;
        // A tag that mirrors is followed here; turns do not matter to whoever looks for marks.
        if matches!(header.orientation.tag(), 2 | 4 | 5 | 7) {
            for plane in planes.iter_mut().chain([&mut luma]) {
                plane.chunks_mut(width.max(1)).for_each(<[u16]>::reverse);
            }
        }
        let luma = colour.then_some(luma);
        let ppi = header.ppi.map(|own| own.0);
        Ok(Self { width, height, factor: factor as u32, ppi, planes, luma, light, lights, lightness })
    }
}
