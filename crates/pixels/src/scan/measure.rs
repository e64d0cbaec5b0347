//! The tone of a patch, the middle and the edges of a dark mark.

use handcoat_craft::colour::{Lab, White, Xyz};
use handcoat_craft::numerics::{Homography, MAD_TO_SD};
use handcoat_craft::source::{EDGE_PARTS, EDGE_WIDTH, MARK_LEVELS, MARK_PAPER, SCAN_ENDS, STEEPEST_RISE};

use super::Scan;

/// A patch that was measured.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Measured {
    /// Tristimulus values of what was kept, the Y of a perfect white being 1.
    pub xyz: Xyz,
    /// Standard deviation of the pixels that were kept, L*.
    pub scatter: f64,
    /// Part of the pixels that were too far from the middle.
    pub wild: f64,
    /// Tone from one side to the other, L*.
    pub slope: f64,
    /// Part of the pixels at the dark end of the scale, and at the light end.
    pub clipped: (f64, f64),
    /// Pixels.
    pub count: usize,
}

impl Measured {
    /// L*, a*, b*.
    #[must_use]
    pub fn lab(&self) -> Lab {
        self.xyz.to_lab(White::IccD50)
    }
}

/// A pixel of a patch.
struct Pixel {
    at: usize,
    l_star: f64,
    /// Its light, of a perfect white 1.
    light: f64,
    /// From the middle of the patch, as parts of its side.
    place: (f64, f64),
}

/// Pixels that are too few to speak of.
const FEWEST: usize = 9;

/// A mark or a cell looked at closely.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Close {
    /// The middle of its darkness, in pixels.
    pub middle: (f64, f64),
    /// Its own tone and that of the paper around it, L*.
    pub tones: (f64, f64),
    /// Pixels of its edges.
    pub edge: f64,
}

impl Close {
    /// Standard deviation of the blur, in pixels, of a mark whose outline is so long.
    #[must_use]
    pub fn blur(&self, outline: f64) -> f64 {
        self.edge / outline / EDGE_WIDTH.value
    }
}

impl Scan {
    /// Pixels of a square on the sheet, `to` and `back` being the maps from the sheet to pixels and back.
    fn pixels(&self, to: &Homography, back: &Homography, middle: (f64, f64), side: f64) -> Vec<Pixel> {
        let half = side / 2.0;
        let corners = [(-half, -half), (half, -half), (half, half), (-half, half)];
        let corners = corners.map(|own| to.map(middle.0 + own.0, middle.1 + own.1));
        let (low, high) = corners.iter().fold(((f64::MAX, f64::MAX), (f64::MIN, f64::MIN)), |(low, high), own| {
            ((low.0.min(own.0), low.1.min(own.1)), (high.0.max(own.0), high.1.max(own.1)))
        });
        if !(low.0 >= 0.0 && low.1 >= 0.0 && high.0 <= self.width as f64 && high.1 <= self.height as f64) {
            return Vec::new();
        }
        let (columns, rows) = self.within(low, high);
        let mut all = Vec::with_capacity(columns.len() * rows.len());
        for row in rows {
            for column in columns.clone() {
                let own = back.map(column as f64 + 0.5, row as f64 + 0.5);
                let place = ((own.0 - middle.0) / side, (own.1 - middle.1) / side);
                if place.0.abs() <= 0.5 && place.1.abs() <= 0.5 {
                    let tone = self.tone(column, row);
                    let (l_star, light) = (self.l_star(tone), self.lights.light(tone));
                    all.push(Pixel { at: row * self.width + column, l_star, light, place });
                }
            }
        }
        all
    }

    /// Measures a square on the sheet: the mean of its light. Pixels further from the middle than `wild` standard deviations, and than `never` L*, are left out. None where
    /// it is not whole on the scan, or of fewer than nine pixels.
    #[must_use]
    pub fn measure(
        &self,
        (to, back): (&Homography, &Homography),
        middle: (f64, f64),
        side: f64,
        (wild, never): (f64, f64),
    ) -> Option<Measured> {
        let all = self.pixels(to, back, middle, side);
        if all.len() < FEWEST {
            return None;
        }
        let mut values: Vec<f64> = all.iter().map(|own| own.l_star).collect();
        let median = middle_of(&mut values);
        // What is left out is decided by light, in which the noise of a sensor is as wide upwards as down; in L* a black has a long tail of noise.
        let mut lights: Vec<f64> = all.iter().map(|own| own.light).collect();
        let typical = middle_of(&mut lights);
        let mut off: Vec<f64> = lights.iter().map(|own| (own - typical).abs()).collect();
        let never = never * light_of_one_l_star(median);
        let most = (wild * MAD_TO_SD * middle_of(&mut off)).max(never);
        let mut sums = vec![0.0; self.planes.len()];
        let (mut kept, mut sum, mut squares) = (0.0, 0.0, 0.0);
        let (mut dark, mut light) = (0.0, 0.0);
        let (mut across, mut down, mut ones) = (0.0, 0.0, (0.0, 0.0));
        for own in &all {
            let codes = self.planes.iter().map(|plane| plane.get(own.at).copied().unwrap_or(0));
            dark += f64::from(u8::from(codes.clone().any(|own| own == 0)));
            light += f64::from(u8::from(codes.clone().any(|own| own == u16::MAX)));
            if (own.light - typical).abs() > most {
                continue;
            }
            let apart = own.l_star - median;
            sums.iter_mut().zip(codes).for_each(|(sum, own)| *sum += self.lights.light(own));
            kept += 1.0;
            sum += apart;
            squares += apart * apart;
            across += apart * own.place.0;
            down += apart * own.place.1;
            ones.0 += own.place.0 * own.place.0;
            ones.1 += own.place.1 * own.place.1;
        }
        let codes: Vec<f64> = sums.iter().map(|own| self.lights.code(own / kept) / 65_535.0).collect();
        let count = all.len() as f64;
        Some(Measured {
            xyz: self.light.colour(&codes),
            scatter: (squares / kept - (sum / kept) * (sum / kept)).max(0.0).sqrt(),
            wild: 1.0 - kept / count,
            slope: (across / ones.0).hypot(down / ones.1),
            clipped: (dark / count, light / count),
            count: all.len(),
        })
    }

    /// Standard deviation of the blur of the sharpest edges, in pixels: the steepest rise from pixel to pixel against the whole range. None of a
    /// scan of one tone.
    #[must_use]
    pub fn softness(&self) -> Option<f64> {
        let mut tones = [0_usize; 256];
        let mut rises = [0_usize; 1024];
        for row in self.tones().chunks_exact(self.width.max(1)) {
            for (one, next) in row.iter().zip(row.iter().skip(1)) {
                if let Some(count) = tones.get_mut(usize::from(one >> 8)) {
                    *count += 1;
                }
                if let Some(count) = rises.get_mut(usize::from(one.abs_diff(*next) >> 6)) {
                    *count += 1;
                }
            }
        }
        let all: usize = tones.iter().sum();
        let place = |counts: &[usize], part: f64| {
            let mut left = (part * all as f64) as usize;
            counts.iter().position(|own| {
                let here = *own > left;
                left = left.saturating_sub(*own);
                here
            })
        };
        let range =
            (place(&tones, 1.0 - SCAN_ENDS.value)? as f64 - place(&tones, SCAN_ENDS.value)? as f64) * f64::from(1 << 8);
        let rise = (place(&rises, STEEPEST_RISE.value)? as f64 + 0.5) * f64::from(1 << 6);
        // The steepest place of a step that is smeared by a normal spread.
        (range > 0.0).then(|| range / rise / std::f64::consts::TAU.sqrt())
    }

    /// Looks closely at what is dark within a circle.
    #[must_use]
    pub fn close(&self, middle: (f64, f64), radius: f64) -> Option<Close> {
        let low = (middle.0 - radius, middle.1 - radius);
        let high = (middle.0 + radius, middle.1 + radius);
        if !(low.0 >= 0.0 && low.1 >= 0.0 && high.0 <= self.width as f64 && high.1 <= self.height as f64) {
            return None;
        }
        let (columns, rows) = self.within(low, high);
        let mut all = Vec::with_capacity(columns.len() * rows.len());
        for row in rows {
            for column in columns.clone() {
                let (x, y) = (column as f64 + 0.5, row as f64 + 0.5);
                if (x - middle.0).hypot(y - middle.1) <= radius {
                    all.push((x, y, f64::from(self.tone(column, row))));
                }
            }
        }
        let mut sorted: Vec<f64> = all.iter().map(|own| own.2).collect();
        sorted.sort_by(f64::total_cmp);
        let level = |part: f64| sorted.get((part * sorted.len() as f64) as usize).copied();
        let (dark, light) = (level(MARK_LEVELS.value.0)?, level(MARK_LEVELS.value.1)?);
        if light <= dark {
            return None;
        }
        let (mut sum, mut x, mut y, mut edge) = (0.0, 0.0, 0.0, 0.0);
        for own in &all {
            let part = ((light - own.2) / (light - dark)).clamp(0.0, 1.0);
            if part > EDGE_PARTS.value.0 && part < EDGE_PARTS.value.1 {
                edge += 1.0;
            }
            if part > MARK_PAPER.value {
                sum += part;
                x += part * own.0;
                y += part * own.1;
            }
        }
        let tones = (self.l_star(dark as u16), self.l_star(light as u16));
        (sum > 0.0).then(|| Close { middle: (x / sum, y / sum), tones, edge })
    }
}

/// How much more light one L* is at that lightness, of a perfect white 1.
fn light_of_one_l_star(l_star: f64) -> f64 {
    let light = |l_star: f64| Lab { l_star, a_star: 0.0, b_star: 0.0 }.to_xyz(White::IccD50).y;
    light(l_star + 0.5) - light(l_star - 0.5)
}

/// The middle value; what is given comes back in another order.
fn middle_of(values: &mut [f64]) -> f64 {
    let half = values.len() / 2;
    if values.is_empty() {
        return 0.0;
    }
    *values.select_nth_unstable_by(half, f64::total_cmp).1
}
