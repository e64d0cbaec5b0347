//! Made-up prints of a chart, and scans of them: what a reader of scans is tried with, since the truth is known.
//!
//! The chart comes from its own file, as the print is to be. Then, in this order: the tones of an invented paper, a coat around it, strokes of a brush, blur; the
//! sheet turned, pulled out of square and lifted at an edge; light that falls off, dust and hairs, noise; codes of 8 or 16 bits, grey or RGB. The geometry is
//! written from the scan to the print, the other way round than a reader needs it, and shares nothing with it.

use std::path::Path;
use std::sync::atomic::AtomicBool;

use handcoat_craft::source::{CHART_BAND_MM, CHART_SQUARE_MM};
use handcoat_craft::tone::{CODE_SQUARES, ChartLayout};
use handcoat_figures::qr_of_25;
use handcoat_pixels::{Budget, GreyTone, Picture, grey_profile};
use handcoat_work::negative::Hooks;
use handcoat_work::tone::{ChartOf, ChartPrintAnswers, ChartSetup, make_chart};

use crate::Dice;

/// What the codes of a scan are.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Codes {
    /// sRGB without a profile.
    Srgb,
    /// A power with its grey profile; grey only.
    Profile(f64),
    /// A power that the file does not say.
    Bare(f64),
}

/// How a print was made and scanned.
#[derive(Clone, Debug, PartialEq)]
pub struct Conditions {
    /// Pixels to the inch of the scan.
    pub ppi: f64,
    /// Turned by, degrees.
    pub turn: f64,
    /// Pulled out of square by, degrees.
    pub skew: f64,
    /// One side shorter than the other by, as a part.
    pub taper: f64,
    /// Standard deviation of the blur, mm.
    pub blur_mm: f64,
    /// Light that is missing at the darkest place, as a part.
    pub fall: f64,
    /// Standard deviation of the noise, parts of full scale.
    pub noise: f64,
    /// The same of the light itself, before it becomes codes.
    pub light_noise: f64,
    /// Specks and hairs of dust.
    pub dust: u32,
    /// Strokes of the brush.
    pub strokes: u32,
    /// Black and white of the paper, L*.
    pub tones: (f64, f64),
    /// What codes are.
    pub codes: Codes,
    /// 16 bits instead of 8.
    pub sixteen: bool,
    /// RGB with a warm tint instead of grey.
    pub colour: bool,
    /// Left for right.
    pub mirrored: bool,
    /// Dark for light.
    pub negative: bool,
    /// Everything brighter by this factor.
    pub gain: f64,
    /// Waves in the sheet, mm.
    pub waves_mm: f64,
    /// Rectangles of paper laid over the print: left, top, right, below, mm.
    pub covered: Vec<[f64; 4]>,
    /// Cut off of the right side of the scan, as a part.
    pub cut: f64,
}

impl Default for Conditions {
    fn default() -> Self {
        Self {
            ppi: 200.0,
            turn: 0.0,
            skew: 0.0,
            taper: 0.0,
            blur_mm: 0.1,
            fall: 0.0,
            noise: 0.004,
            light_noise: 0.0,
            dust: 0,
            strokes: 0,
            tones: (18.0, 94.0),
            codes: Codes::Srgb,
            sixteen: false,
            colour: false,
            mirrored: false,
            negative: false,
            gain: 1.0,
            waves_mm: 0.0,
            covered: Vec::new(),
            cut: 0.0,
        }
    }
}

impl Conditions {
    /// Some conditions within what a reader promises.
    #[must_use]
    pub fn within(dice: &mut Dice) -> Self {
        let mut part = |low: f64, high: f64| low + (high - low) * dice.below(10_001) as f64 / 10_000.0;
        let ppi = part(150.0, 300.0).round();
        let (turn, skew, taper) = (part(-180.0, 180.0), part(-4.5, 4.5), part(-0.05, 0.05));
        let (blur_mm, fall, noise) = (part(0.05, 0.28), part(0.0, 0.12), part(0.001, 0.01));
        let (black, white) = (part(12.0, 32.0), part(84.0, 95.0));
        let codes = match dice.below(4) {
            0 => Codes::Profile(1.8),
            1 => Codes::Profile(2.4),
            2 => Codes::Bare(2.2),
            _ => Codes::Srgb,
        };
        let colour = dice.once_in(2) && !matches!(codes, Codes::Profile(_));
        Self {
            ppi,
            turn,
            skew,
            taper,
            blur_mm,
            fall,
            noise,
            dust: dice.below(60) as u32,
            strokes: dice.below(5) as u32,
            tones: (black, white),
            codes,
            sixteen: dice.once_in(2),
            colour,
            ..Self::default()
        }
    }
}

/// A chart as its print is to be, and what lies where.
pub struct Original {
    layout: ChartLayout,
    width: usize,
    height: usize,
    inputs: Vec<u16>,
}

/// Pixels to the inch of the file the print is made from.
const ORIGINAL_PPI: f64 = 360.0;
const MM_PER_INCH: f64 = 25.4;
/// Around the chart: coat to this width, then bare paper, mm.
const COAT_MM: f64 = 6.0;
const AROUND_MM: f64 = 14.0;

impl Original {
    /// Makes the chart's file in a folder and reads it back.
    ///
    /// # Errors
    /// What went wrong, in words.
    pub fn of(levels: usize, seed: u32, folder: &Path) -> Result<Self, String> {
        let path = folder.join(format!("chart-{levels}-{seed}.tif"));
        let strip = levels == 9;
        let answers = ChartPrintAnswers {
            levels: (!strip).then(|| levels.to_string()),
            seed: Some(seed.to_string()),
            ppi: Some(ORIGINAL_PPI.to_string()),
            packing: Some("none".into()),
            strip,
            note: Some("made up".into()),
            day: Some("2026-03-14".into()),
            no_invert: true,
            no_mirror: true,
            ..ChartPrintAnswers::default()
        };
        let setup = ChartSetup { name: "Rag, palladium, tubes".into(), lot: Some("7".into()), ..ChartSetup::default() };
        let of = ChartOf { book: Some("Invented studio".into()), setup: Some(setup) };
        let never = AtomicBool::new(false);
        let hooks = Hooks::of(&|_, _| {}, &never);
        let made = make_chart(&answers, &path, None, &of, &hooks).map_err(|own| own.to_string())?;
        let picture = Picture::open(&path, &Budget::default()).map_err(|own| own.to_string())?.without_profile();
        let mut inputs = Vec::new();
        picture.each_grey_row(|_, row| inputs.extend_from_slice(row)).map_err(|own| own.to_string())?;
        let (width, height) = (made.width_px as usize, made.height_px as usize);
        std::fs::remove_file(&path).map_err(|own| own.to_string())?;
        Ok(Self { layout: made.layout, width, height, inputs })
    }

    /// What lies where.
    #[must_use]
    pub fn layout(&self) -> &ChartLayout {
        &self.layout
    }

    /// Pixels of the file to a millimetre.
    fn per_mm(&self) -> f64 {
        self.width as f64 / self.layout.frame.width_mm
    }

    /// Fills a rectangle, in mm, with what `from` says of a column and a row.
    fn fill(&mut self, [left, top, right, below]: [f64; 4], from: impl Fn(usize, usize) -> u16) {
        let per_mm = self.per_mm();
        let px = |mm: f64| (mm * per_mm).round() as usize;
        for row in px(top)..px(below) {
            for column in px(left)..px(right) {
                if let Some(own) = self.inputs.get_mut(row * self.width + column) {
                    *own = from(column, row);
                }
            }
        }
    }

    /// The same with another text in its code of squares.
    ///
    /// # Errors
    /// When no code holds the text.
    pub fn with_code_saying(mut self, text: &str) -> Result<Self, String> {
        let squares = qr_of_25(text).map_err(|error| error.to_string())?;
        let first = self.layout.frame.square(0, 0);
        let side = CHART_SQUARE_MM.value;
        for (at, dark) in squares.into_iter().enumerate() {
            let (x, y) = ((at % CODE_SQUARES) as f64 * side, (at / CODE_SQUARES) as f64 * side);
            let (left, top) = (first.x_mm - side / 2.0 + x, first.y_mm - side / 2.0 + y);
            self.fill([left, top, left + side, top + side], |_, _| if dark { 0 } else { u16::MAX });
        }
        Ok(self)
    }

    /// Both on one sheet, side by side. What lies where is that of the first.
    #[must_use]
    pub fn beside(&self, other: &Self) -> Self {
        let gap = (AROUND_MM * self.per_mm()) as usize;
        let (width, height) = (self.width + gap + other.width, self.height.max(other.height));
        let mut inputs = vec![u16::MAX; width * height];
        for (from, left) in [(self, 0), (other, self.width + gap)] {
            for (row, own) in from.inputs.chunks_exact(from.width).enumerate() {
                let begin = row * width + left;
                if let Some(to) = inputs.get_mut(begin..begin + from.width) {
                    to.copy_from_slice(own);
                }
            }
        }
        Self { layout: self.layout.clone(), width, height, inputs }
    }

    /// The same with the patches of another chart of that size, dark for light where they are to be `reversed`; paper stays paper.
    ///
    /// # Errors
    /// As of [`Self::with_code_saying`].
    pub fn with_patches_of(mut self, other: &Self, reversed: bool) -> Result<Self, String> {
        let (band, width) = (CHART_BAND_MM.value, other.width);
        let inside = [band, band, self.layout.frame.width_mm - band, self.layout.frame.height_mm - band];
        self.fill(inside, |column, row| match other.inputs.get(row * width + column).copied().unwrap_or(0) {
            own if reversed && own < u16::MAX => u16::MAX - own,
            own => own,
        });
        let text = self.layout.code.to_string();
        self.with_code_saying(&text)
    }
}

/// L* an invented paper prints for an input.
#[must_use]
pub fn printed(input: f64, (black, white): (f64, f64)) -> f64 {
    // A foot and a shoulder: not too plain, and always rising.
    let rise = 0.75 * input + 0.25 * input * input * (3.0 - 2.0 * input);
    black + (white - black) * rise
}

pub(crate) fn luminance(l_star: f64) -> f64 {
    let root = (l_star + 16.0) / 116.0;
    if l_star > 8.0 { root * root * root } else { l_star * 27.0 / 24389.0 }
}

/// A plane of luminances.
pub(crate) struct Plane {
    pub(crate) width: usize,
    pub(crate) height: usize,
    pub(crate) y: Vec<f32>,
}

impl Plane {
    fn at(&self, x: f64, y: f64) -> f32 {
        let (x, y) = ((x - 0.5).clamp(0.0, (self.width - 2) as f64), (y - 0.5).clamp(0.0, (self.height - 2) as f64));
        let (column, row) = (x as usize, y as usize);
        let (u, v) = ((x - column as f64) as f32, (y - row as f64) as f32);
        let own = |column: usize, row: usize| self.y.get(row * self.width + column).copied().unwrap_or(1.0);
        let above = own(column, row) * (1.0 - u) + own(column + 1, row) * u;
        let below = own(column, row + 1) * (1.0 - u) + own(column + 1, row + 1) * u;
        above * (1.0 - v) + below * v
    }

    /// A running mean over 2r + 1 pixels of each row.
    fn smear(&mut self, radius: usize) {
        if radius == 0 {
            return;
        }
        let width = self.width;
        for row in self.y.chunks_exact_mut(width) {
            let old = row.to_vec();
            let own = |at: isize| f64::from(old.get(at.clamp(0, width as isize - 1) as usize).copied().unwrap_or(0.0));
            let reach = radius as isize;
            let mut sum: f64 = (-reach..=reach).map(own).sum();
            for (at, out) in row.iter_mut().enumerate() {
                *out = (sum / (2 * radius + 1) as f64) as f32;
                sum += own(at as isize + reach + 1) - own(at as isize - reach);
            }
        }
    }

    fn turned(&self) -> Self {
        let mut y = Vec::with_capacity(self.y.len());
        for column in 0..self.width {
            y.extend((0..self.height).map(|row| self.y.get(row * self.width + column).copied().unwrap_or(0.0)));
        }
        Self { width: self.height, height: self.width, y }
    }

    /// Three running means are nearly a normal spread.
    pub(crate) fn blurred(mut self, deviation: f64) -> Self {
        // Each of 2r + 1 has a variance of ((2r + 1)² − 1) / 12; what whole numbers leave is made up by the last.
        let wanted = deviation * deviation;
        let variance = |radius: usize| ((2 * radius + 1) * (2 * radius + 1) - 1) as f64 / 12.0;
        let mut radii = Vec::new();
        let mut left = wanted;
        for still in (1..=3).rev() {
            let radius = (0..200).rev().find(|own| variance(*own) <= left / f64::from(still) * 1.15).unwrap_or(0);
            left = (left - variance(radius)).max(0.0);
            radii.push(radius);
        }
        for _ in 0..2 {
            radii.iter().for_each(|own| self.smear(*own));
            self = self.turned();
        }
        self
    }
}

fn print(original: &Original, how: &Conditions, dice: &mut Dice) -> (Plane, f64) {
    let per_mm = ORIGINAL_PPI / MM_PER_INCH;
    let border = (AROUND_MM * per_mm) as usize;
    let coat = (COAT_MM * per_mm) as usize;
    let (width, height) = (original.width + 2 * border, original.height + 2 * border);
    let paper = luminance(how.tones.1) as f32;
    let black = luminance(how.tones.0) as f32;
    let table: Vec<f32> =
        (0..=u16::MAX).map(|own| luminance(printed(f64::from(own) / 65_535.0, how.tones)) as f32).collect();
    let mut y = vec![paper; width * height];
    // The coat ends in a ragged edge.
    let ragged: Vec<usize> = (0..width.max(height)).map(|_| dice.below(12) as usize).collect();
    for (row, line) in y.chunks_exact_mut(width).enumerate() {
        for (column, own) in line.iter_mut().enumerate() {
            let edge = |at: usize, most: usize, other: usize| {
                let reach = coat + ragged.get(other / 9).copied().unwrap_or(0);
                at + reach >= border && at < most - border + reach
            };
            if edge(column, width, row) && edge(row, height, column) {
                *own = black;
            }
            let inside = column.checked_sub(border).zip(row.checked_sub(border));
            if let Some((x, z)) = inside.filter(|own| own.0 < original.width && own.1 < original.height) {
                let input = original.inputs.get(z * original.width + x).copied().unwrap_or(0);
                *own = table.get(usize::from(input)).copied().unwrap_or(paper);
            }
        }
    }
    for [left, top, right, below] in &how.covered {
        let px = |mm: f64| ((mm * per_mm).max(0.0) as usize) + border;
        for row in px(*top)..px(*below).min(height) {
            if let Some(line) = y.get_mut(row * width + px(*left)..row * width + px(*right).min(width)) {
                line.fill(paper);
            }
        }
    }
    // A stroke takes some of the metal away, along a line a little off the level.
    for _ in 0..how.strokes {
        let from = dice.below(height as u64) as f64;
        let slope = (dice.below(100) as f64 - 50.0) / 500.0;
        let thick = (0.3 + 0.5 * dice.below(100) as f64 / 100.0) * per_mm;
        for column in 0..width {
            let middle = from + slope * column as f64;
            for row in (middle - thick / 2.0).max(0.0) as usize..((middle + thick / 2.0).max(0.0) as usize).min(height)
            {
                if let Some(own) = y.get_mut(row * width + column) {
                    *own += 0.25 * (paper - *own);
                }
            }
        }
    }
    (Plane { width, height, y }.blurred(how.blur_mm * per_mm), per_mm)
}

/// A scan, and what its patches really are.
pub struct MadeScan {
    /// L* by the number of the patch, from 1 on.
    pub truth: Vec<f64>,
    /// What to say of its codes when the file does not.
    pub gamma: Option<f64>,
}

/// Makes a scan of a print of a chart.
///
/// # Errors
/// What went wrong, in words.
pub fn scan_of(original: &Original, how: &Conditions, seed: u64, path: &Path) -> Result<MadeScan, String> {
    let mut dice = Dice::new(seed);
    let (plane, per_mm) = print(original, how, &mut dice);
    let gamma = scan_plane(&plane, per_mm, how, (seed, &mut dice), path)?;
    // The tone a paper of the table gives, gain and all.
    let truth = original.layout.patches.iter().map(|own| {
        let input = (own.input.to_part() * 65_535.0).round() / 65_535.0;
        printed(input, how.tones)
    });
    Ok(MadeScan { truth: truth.collect(), gamma })
}

/// Lays a print under the lens and writes what comes out; gives the gamma that the file does not say.
pub(crate) fn scan_plane(
    plane: &Plane,
    per_mm: f64,
    how: &Conditions,
    (seed, dice): (u64, &mut Dice),
    path: &Path,
) -> Result<Option<f64>, String> {
    let (wide, high) = (plane.width as f64 / per_mm, plane.height as f64 / per_mm);
    let turn = how.turn.to_radians();
    let (sin, cos) = turn.sin_cos();
    let step = MM_PER_INCH / how.ppi;
    let room = 1.0 + how.skew.abs() / 60.0 + how.taper.abs() / 2.0;
    let size = |one: f64, other: f64| ((one * cos.abs() + other * sin.abs()) * room / step) as usize;
    let (full, rows) = (size(wide, high), size(high, wide));
    let columns = (full as f64 * (1.0 - how.cut)) as usize;
    let pull = how.skew.to_radians().tan();
    let (cx, cy) = (full as f64 / 2.0, rows as f64 / 2.0);
    let (lamp_x, lamp_y) = ((dice.below(60) as f64 - 30.0) / 100.0, (dice.below(60) as f64 - 30.0) / 100.0);
    let far = 0.25 * (wide * wide + high * high);
    let channels = if how.colour { 3 } else { 1 };
    let mut light = vec![0_f32; columns * rows];
    for row in 0..rows {
        for column in 0..columns {
            let mut sum = 0.0;
            // What a sensor sees is the mean over its pixel.
            for (dx, dy) in [(0.25, 0.25), (0.75, 0.25), (0.25, 0.75), (0.75, 0.75)] {
                let (mut x, y) = ((column as f64 + dx - cx) * step, (row as f64 + dy - cy) * step);
                if how.mirrored {
                    x = -x;
                }
                let (u, v) = (x * cos + y * sin, y * cos - x * sin);
                let w = 1.0 + how.taper * u / wide;
                let (u, v) = ((u + pull * v) / w, v / w);
                let wave = how.waves_mm * (v * 0.1).sin();
                sum += plane.at((u + wide / 2.0 + wave) * per_mm, (v + high / 2.0) * per_mm);
            }
            let (x, y) =
                ((column as f64 - cx) * step - lamp_x * wide * 0.5, (row as f64 - cy) * step - lamp_y * high * 0.5);
            let off = (x * x + y * y) / far;
            // Of half of the scans the light falls off like a cosine, of the others like a parabola.
            let shape = if seed.is_multiple_of(2) { off } else { 2.0 * (1.0 - (off.sqrt()).min(2.0).cos()) };
            let lit = 1.0 - how.fall * shape.min(1.5);
            if let Some(own) = light.get_mut(row * columns + column) {
                *own = sum / 4.0 * lit as f32;
            }
        }
    }
    dust(&mut light, columns, rows, 1.0 / step, how.dust, dice);
    let gamma = match how.codes {
        Codes::Srgb => None,
        Codes::Profile(own) | Codes::Bare(own) => Some(own),
    };
    // Each channel's part of the light; weighed as luminance they come to 1.
    let tint = [1.04, 1.0, 0.853];
    let weights = [0.222_484_540_2, 0.716_905_078_6, 0.060_610_381_2];
    let even: f64 = tint.iter().zip(weights).map(|(own, weight)| own * weight).sum();
    let most = if how.sixteen { 65_535.0 } else { 255.0 };
    let mut bytes = Vec::with_capacity(columns * rows * channels * if how.sixteen { 2 } else { 1 });
    for own in &light {
        for channel in 0..channels {
            let part = if how.colour { tint.get(channel).copied().unwrap_or(1.0) / even } else { 1.0 };
            // Four rolls added up are near enough to a normal spread; each has a variance of 1/12.
            let mut noise = |deviation: f64| {
                let rolls: f64 = (0..4).map(|_| dice.below(65_536) as f64 / 65_536.0 - 0.5).sum();
                deviation * rolls * 3_f64.sqrt()
            };
            let lit = if how.light_noise > 0.0 { noise(how.light_noise) } else { 0.0 };
            let y = (f64::from(*own) * part * how.gain + lit).clamp(0.0, 1.0);
            let code = match gamma {
                Some(gamma) => y.powf(1.0 / gamma),
                None if y <= 0.003_130_8 => 12.92 * y,
                None => 1.055 * y.powf(1.0 / 2.4) - 0.055,
            };
            let code = code + noise(how.noise);
            let code = if how.negative { 1.0 - code } else { code };
            let code = (code.clamp(0.0, 1.0) * most + 0.5) as u16;
            if how.sixteen { bytes.extend(code.to_le_bytes()) } else { bytes.push(code as u8) }
        }
    }
    let profile = match how.codes {
        Codes::Profile(own) => Some(grey_profile(GreyTone::Gamma(own))),
        _ => None,
    };
    let file = tiff(columns as u32, rows as u32, channels as u16, how, &bytes, profile.as_deref());
    std::fs::write(path, file).map_err(|error| error.to_string())?;
    Ok(match how.codes {
        Codes::Bare(own) => Some(own),
        _ => None,
    })
}

/// Specks, light or dark, and hairs.
fn dust(light: &mut [f32], columns: usize, rows: usize, per_mm: f64, count: u32, dice: &mut Dice) {
    for number in 0..count {
        let (x, y) = (dice.below(columns as u64) as f64, dice.below(rows as u64) as f64);
        let tone = if dice.once_in(2) { 0.9 } else { 0.15 };
        let turn = dice.below(628) as f64 / 100.0;
        let (long, thick) = if number % 5 == 0 {
            ((2.0 + dice.below(300) as f64 / 100.0) * per_mm, 0.08 * per_mm)
        } else {
            (0.0, (0.08 + dice.below(25) as f64 / 100.0) * per_mm)
        };
        let reach = long / 2.0 + thick;
        for row in (y - reach).max(0.0) as usize..((y + reach) as usize + 1).min(rows) {
            for column in (x - reach).max(0.0) as usize..((x + reach) as usize + 1).min(columns) {
                let (dx, dy) = (column as f64 - x, row as f64 - y);
                let (along, across) = (dx * turn.cos() + dy * turn.sin(), dy * turn.cos() - dx * turn.sin());
                let out = (along.abs() - long / 2.0).max(0.0);
                if out.hypot(across) <= thick
                    && let Some(own) = light.get_mut(row * columns + column)
                {
                    *own = tone;
                }
            }
        }
    }
}

/// A plain TIFF: one strip.
fn tiff(width: u32, height: u32, channels: u16, how: &Conditions, pixels: &[u8], profile: Option<&[u8]>) -> Vec<u8> {
    let bits: u16 = if how.sixteen { 16 } else { 8 };
    let mut out = b"II*\0".to_vec();
    let begin = 8_u32;
    let directory = begin + pixels.len() as u32 + pixels.len() as u32 % 2;
    out.extend(directory.to_le_bytes());
    out.extend_from_slice(pixels);
    out.resize(directory as usize, 0);
    let entries = 12 + u16::from(profile.is_some());
    let after = directory + 2 + 12 * u32::from(entries) + 4;
    let mut extra: Vec<u8> = Vec::new();
    let mut place = |bytes: &[u8]| {
        let at = after + extra.len() as u32;
        extra.extend_from_slice(bytes);
        at
    };
    let all_bits = place(&bits.to_le_bytes().repeat(usize::from(channels.max(3))));
    let per_inch = place(&[(how.ppi as u32).to_le_bytes(), 1_u32.to_le_bytes()].concat());
    let icc = profile.map(|own| (place(own), own.len() as u32));
    let photometric = if channels == 3 { 2 } else { 1 };
    let mut list: Vec<(u16, u16, u32, u32)> = vec![
        (256, 4, 1, width),
        (257, 4, 1, height),
        (258, 3, u32::from(channels), if channels == 1 { u32::from(bits) } else { all_bits }),
        (259, 3, 1, 1),
        (262, 3, 1, photometric),
        (273, 4, 1, begin),
        (277, 3, 1, u32::from(channels)),
        (278, 4, 1, height),
        (279, 4, 1, pixels.len() as u32),
        (282, 5, 1, per_inch),
        (283, 5, 1, per_inch),
        (296, 3, 1, 2),
    ];
    list.extend(icc.map(|(at, len)| (34_675, 7, len, at)));
    out.extend(entries.to_le_bytes());
    for (tag, kind, count, value) in list {
        out.extend(tag.to_le_bytes());
        out.extend(kind.to_le_bytes());
        out.extend(count.to_le_bytes());
        out.extend(value.to_le_bytes());
    }
    out.extend([0; 4]);
    out.extend(extra);
    out
}
