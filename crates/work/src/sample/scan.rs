//! A made-up scan: a film is printed on the invented paper, and the print lies a little turned on an invented scanner. Nobody's print.

use std::path::Path;

use handcoat_craft::colour::{density, relative_luminance};
use handcoat_craft::measure::Lightness;
use handcoat_pixels::{Budget, Picture};

use super::picture::tiff;
use super::sample_paper;
use crate::Refusal;
use crate::negative::picture_refused;

/// Pixels to the inch of the scan.
const PPI: u32 = 200;
const MM_PER_INCH: f64 = 25.4;
/// Around the film: black coat to this width, then bare paper, mm.
const COAT_MM: f64 = 6.0;
const AROUND_MM: f64 = 14.0;
/// Cosine and sine of the turn, about seven degrees: of the triangle of 255, 32 and 257.
const TURN: (f64, f64) = (255.0 / 257.0, 32.0 / 257.0);
/// Noise of a code, uniform to both sides, of 255.
const NOISE: f64 = 2.0;
const SPECKS: usize = 24;
/// Radius of the largest speck, mm.
const SPECK_MM: f64 = 0.25;

/// A fixed sequence (Lehmer's generator with Park and Miller's numbers): the same scan everywhere. From 0 to 1.
struct Sequence(u64);

impl Sequence {
    fn next(&mut self) -> f64 {
        self.0 = self.0 * 16_807 % 2_147_483_647;
        self.0 as f64 / 2_147_483_647.0
    }
}

/// Film as it is laid on the paper: its codes seen from the other side.
struct Laid {
    width: usize,
    height: usize,
    codes: Vec<u16>,
}

/// The print of a film on the invented paper, scanned with a turn, some blur, noise and dust: a TIFF of 8-bit grey without a profile, its codes sRGB.
///
/// # Errors
/// [`Refusal`] when the film cannot be read.
pub fn sample_scan(film: &Path) -> Result<Vec<u8>, Refusal> {
    let refused = |own| picture_refused(film, &own);
    let picture = Picture::open(film, &Budget::default()).map_err(refused)?.without_profile();
    let mut laid = Laid { width: 0, height: 0, codes: Vec::new() };
    picture
        .each_grey_row(|_, row| {
            laid.width = row.len();
            laid.height += 1;
            laid.codes.extend(row.iter().rev());
        })
        .map_err(refused)?;
    let film_ppi = picture.header().ppi.map_or(f64::from(PPI), |own| own.0.per_inch());
    Ok(scan(&laid, film_ppi / MM_PER_INCH))
}

fn scan(laid: &Laid, film_per_mm: f64) -> Vec<u8> {
    let per_mm = f64::from(PPI) / MM_PER_INCH;
    let size = |px: usize| px as f64 / film_per_mm + 2.0 * AROUND_MM;
    let (wide, high) = (size(laid.width), size(laid.height));
    let (cos, sin) = TURN;
    let (width, height) =
        (((wide * cos + high * sin) * per_mm) as usize, ((high * cos + wide * sin) * per_mm) as usize);
    // The lighter the film, the more light goes through and the darker the print.
    let light: Vec<f32> =
        (0..=u16::MAX).map(|code| luminance(1.0 - f64::from(code) / f64::from(u16::MAX)) as f32).collect();
    let (black, paper) = (luminance(0.0) as f32, luminance(1.0) as f32);
    let tone = |x: f64, y: f64| {
        let (x, y) = (x + wide / 2.0, y + high / 2.0);
        let from_edge = x.min(y).min(wide - x).min(high - y);
        if from_edge < AROUND_MM - COAT_MM {
            return paper;
        }
        let px = |mm: f64| ((mm - AROUND_MM) * film_per_mm).floor();
        let (column, row) = (px(x), px(y));
        let on_film = column >= 0.0 && row >= 0.0 && (column as usize) < laid.width;
        let code = on_film.then(|| laid.codes.get(row as usize * laid.width + column as usize)).flatten();
        code.and_then(|own| light.get(usize::from(*own))).copied().unwrap_or(black)
    };
    let mut plane = Vec::with_capacity(width * height);
    for row in 0..height {
        for column in 0..width {
            // What a sensor sees is the mean over its pixel.
            let of = [(0.25, 0.25), (0.75, 0.25), (0.25, 0.75), (0.75, 0.75)].map(|(dx, dy)| {
                let x = (column as f64 + dx - width as f64 / 2.0) / per_mm;
                let y = (row as f64 + dy - height as f64 / 2.0) / per_mm;
                tone(x * cos + y * sin, y * cos - x * sin)
            });
            plane.push(of.iter().sum::<f32>() / 4.0);
        }
    }
    let mut dice = Sequence(16_807);
    let plane = soft(&soft(&plane, width, height), height, width);
    let mut codes: Vec<u8> = plane.iter().map(|own| code(f64::from(*own), NOISE * (2.0 * dice.next() - 1.0))).collect();
    for place in 0..SPECKS {
        let (x, y) = (dice.next() * width as f64, dice.next() * height as f64);
        let radius = SPECK_MM * per_mm * (0.4 + 0.6 * dice.next());
        let tone = if place % 2 == 0 { 236 } else { 70 };
        let rows = (y - radius).max(0.0) as usize..((y + radius) as usize + 1).min(height);
        for row in rows {
            for column in (x - radius).max(0.0) as usize..((x + radius) as usize + 1).min(width) {
                if (column as f64 - x).hypot(row as f64 - y) <= radius
                    && let Some(own) = codes.get_mut(row * width + column)
                {
                    *own = tone;
                }
            }
        }
    }
    tiff((width as u32, height as u32), 8, PPI, &codes)
}

/// What the invented paper gives back of the light, for an input.
fn luminance(input: f64) -> f64 {
    let density = Lightness::l_star(sample_paper(input)).ok().and_then(|own| density(own).ok());
    density.map_or(0.0, relative_luminance)
}

/// Each pixel with its neighbours of the row, the middle twice; the picture comes out lying on its side, so that twice is both ways.
fn soft(plane: &[f32], width: usize, height: usize) -> Vec<f32> {
    let mut out = Vec::with_capacity(plane.len());
    for column in 0..width {
        for row in 0..height {
            let at = |column: usize| plane.get(row * width + column.min(width - 1)).copied().unwrap_or(0.0);
            out.push((at(column.saturating_sub(1)) + 2.0 * at(column) + at(column + 1)) / 4.0);
        }
    }
    out
}

/// The code of IEC 61966-2-1 for a luminance, with noise.
fn code(y: f64, noise: f64) -> u8 {
    let own = if y <= 0.003_130_8 { 12.92 * y } else { 1.055 * y.powf(1.0 / 2.4) - 0.055 };
    (255.0 * own + noise).clamp(0.0, 255.0).round() as u8
}
