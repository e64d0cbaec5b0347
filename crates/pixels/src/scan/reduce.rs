//! Rows go by and become the smaller picture: each of its pixels is the mean of a square of theirs.

use handcoat_craft::colour::White;

use crate::header::{Channels, Header, Stated};
use crate::profile::ColourProfile;
use crate::read::Picture;
use crate::refused::Refused;
use crate::samples::{WEIGHTS, unpack};

use super::light::Light;
use super::{BELOW_BITS, CodeMeaning, Scan};

/// Pixels that are left of the longer side, at least, of a scan that has as many.
const SIDE: u32 = 2_000;

/// The smaller picture as it grows.
struct Small<'a> {
    header: &'a Header,
    factor: usize,
    width: usize,
    samples: Vec<u16>,
    /// Sums of columns of samples, as they lie in a row.
    sums: Vec<u32>,
    rows: usize,
    planes: Vec<Vec<u16>>,
    luma: Vec<u16>,
}

impl Small<'_> {
    fn row(&mut self, row: u32, raw: &[u8]) -> Result<(), Refused> {
        unpack(self.header, row, raw, &mut self.samples)?;
        self.sums.iter_mut().zip(&self.samples).for_each(|(sum, own)| *sum += u32::from(*own));
        self.rows += 1;
        if self.rows == self.factor {
            self.gather();
            self.sums.fill(0);
            self.rows = 0;
        }
        Ok(())
    }

    /// One row of ours out of the sums.
    fn gather(&mut self) {
        let (count, each) = (self.header.samples(), self.factor);
        let area = (each * each) as u64;
        let colours = self.planes.len();
        let begin = self.planes.first().map_or(0, Vec::len);
        for (channel, plane) in self.planes.iter_mut().enumerate() {
            let mut columns = self.sums.iter().skip(channel).step_by(count);
            plane.extend((0..self.width).map(|_| {
                let sum: u64 = columns.by_ref().take(each).map(|own| u64::from(*own)).sum();
                ((sum + area / 2) / area) as u16
            }));
            if self.header.zero_is_white {
                plane.iter_mut().skip(begin).for_each(|own| *own = u16::MAX - *own);
            }
        }
        if let (3, [red, green, blue]) = (colours, self.planes.as_slice()) {
            let all = red.iter().zip(green).zip(blue).skip(begin);
            self.luma.extend(all.map(|((red, green), blue)| {
                let sum = [red, green, blue].into_iter().zip(WEIGHTS).map(|(own, weight)| u32::from(*own) * weight);
                ((sum.sum::<u32>() + 32_768) >> 16) as u16
            }));
        }
    }
}

impl Scan {
    /// Reads a picture as a scan. Its rows are read once.
    ///
    /// # Errors
    /// [`Refused`] when the pixels are damaged or end early.
    pub fn read(picture: &Picture, meaning: CodeMeaning) -> Result<Self, Refused> {
        let header = picture.header();
        let factor = (header.width.max(header.height) / SIDE).max(1) as usize;
        let (width, height) = (header.width as usize / factor, header.height as usize / factor);
        let colours = header.channels.count();
        let room = header.width as usize * header.samples();
        let mut small = Small {
            header,
            factor,
            width,
            samples: vec![0; room],
            sums: vec![0; room],
            rows: 0,
            planes: vec![Vec::with_capacity(width * height); colours],
            luma: Vec::new(),
        };
        let mut outcome = Ok(());
        picture.each_row(|row, raw| {
            if outcome.is_ok() {
                outcome = small.row(row, raw);
            }
        })?;
        outcome?;
        let Small { mut planes, mut luma, .. } = small;
        // A tag that mirrors is followed here; turns do not matter to whoever looks for marks.
        if matches!(header.orientation.tag(), 2 | 4 | 5 | 7) {
            for plane in planes.iter_mut().chain([&mut luma]) {
                plane.chunks_mut(width.max(1)).for_each(<[u16]>::reverse);
            }
        }
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
        let neutral = |code: f64| if colours == 3 { light.colour(&[code; 3]) } else { light.colour(&[code]) };
        let lightness = (0..=(1_u32 << (16 - BELOW_BITS)))
            .map(|own| {
                let code = f64::from(own << BELOW_BITS) / 65_535.0;
                neutral(code.min(1.0)).to_lab(White::IccD50).l_star as f32
            })
            .collect();
        let luma = (header.channels == Channels::Rgb).then_some(luma);
        let ppi = header.ppi.map(|own| own.0);
        Ok(Self { width, height, factor: factor as u32, ppi, planes, luma, light, lightness })
    }
}
