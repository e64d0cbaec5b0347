//! A picture of what was found on a scan: the scan in grey, and lines over it.

use png::{BitDepth, ColorType, Compression, Encoder};

use super::Scan;

/// The colour of a line.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Colour {
    /// What is as it should be.
    Good,
    /// What is told of.
    Told,
    /// What is left aside, or why it was refused.
    Bad,
}

impl Colour {
    fn rgb(self) -> [u8; 3] {
        match self {
            Self::Good => [0, 140, 60],
            Self::Told => [230, 140, 0],
            Self::Bad => [210, 20, 20],
        }
    }
}

/// A line through places of the scan.
#[derive(Clone, Debug, PartialEq)]
pub struct Stroke {
    /// From each to the next.
    pub through: Vec<(f64, f64)>,
    /// Whether the last is joined to the first.
    pub closed: bool,
    /// Its colour.
    pub colour: Colour,
}

/// What is drawn over a scan.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Overlay {
    /// Lines, the later over the earlier.
    pub strokes: Vec<Stroke>,
}

/// Pixels of the longer side, about.
const SIDE: usize = 1_400;
/// Corners of what stands for a circle.
const CORNERS: usize = 24;

impl Overlay {
    /// A closed line.
    pub fn outline(&mut self, through: Vec<(f64, f64)>, colour: Colour) {
        self.strokes.push(Stroke { through, closed: true, colour });
    }

    /// A circle.
    pub fn circle(&mut self, middle: (f64, f64), radius: f64, colour: Colour) {
        let corner = |own: usize| {
            let turn = own as f64 * std::f64::consts::TAU / CORNERS as f64;
            (middle.0 + radius * turn.cos(), middle.1 + radius * turn.sin())
        };
        self.outline((0..CORNERS).map(corner).collect(), colour);
    }

    /// A line with two ends.
    pub fn line(&mut self, from: (f64, f64), to: (f64, f64), colour: Colour) {
        self.strokes.push(Stroke { through: vec![from, to], closed: false, colour });
    }

    /// The picture as a PNG. None when it cannot be packed, which no picture of bytes has shown.
    #[must_use]
    pub fn png(&self, scan: &Scan) -> Option<Vec<u8>> {
        let factor = scan.width.max(scan.height).div_ceil(SIDE).max(1);
        let (width, height) = (scan.width / factor, scan.height / factor);
        let mut rgb = Vec::with_capacity(width * height * 3);
        for row in 0..height {
            for column in 0..width {
                // Paler than it is, so that lines are seen on black too.
                let own = (scan.tone(column * factor, row * factor) >> 8) as u8;
                rgb.extend([48 + (u16::from(own) * 207 / 255) as u8; 3]);
            }
        }
        let mut dot = |x: f64, y: f64, colour: [u8; 3]| {
            for (x, y) in [(x, y), (x + 1.0, y), (x, y + 1.0), (x + 1.0, y + 1.0)] {
                if x >= 0.0 && y >= 0.0 && (x as usize) < width {
                    let at = 3 * (y as usize * width + x as usize);
                    if let Some(own) = rgb.get_mut(at..at + 3) {
                        own.copy_from_slice(&colour);
                    }
                }
            }
        };
        for stroke in &self.strokes {
            let places = stroke.through.iter().map(|own| (own.0 / factor as f64, own.1 / factor as f64));
            let ends = places.clone().skip(1).chain(places.clone().take(usize::from(stroke.closed)));
            for (from, to) in places.zip(ends) {
                let steps = (to.0 - from.0).hypot(to.1 - from.1).ceil().clamp(1.0, 10_000.0);
                for step in 0..=steps as usize {
                    let part = step as f64 / steps;
                    dot(from.0 + (to.0 - from.0) * part, from.1 + (to.1 - from.1) * part, stroke.colour.rgb());
                }
            }
        }
        let mut out = Vec::new();
        let mut encoder = Encoder::new(&mut out, u32::try_from(width).ok()?, u32::try_from(height).ok()?);
        encoder.set_color(ColorType::Rgb);
        encoder.set_depth(BitDepth::Eight);
        // It is looked at once; packing it well takes longer than reading the scan.
        encoder.set_compression(Compression::Fast);
        let mut writer = encoder.write_header().ok()?;
        writer.write_image_data(&rgb).ok()?;
        writer.finish().ok()?;
        Some(out)
    }
}
