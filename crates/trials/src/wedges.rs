//! Made-up prints under a silver step wedge, and scans of them: what a reader of wedges is tried with, since the truth is known.

use std::path::Path;

use crate::Dice;
use crate::scans::{Conditions, MadeScan, Plane, luminance, scan_plane};

/// What the paper around the wedge prints.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Around {
    /// It was covered.
    Paper,
    /// It saw the light as the clear film did.
    Black,
}

/// A print under a wedge.
#[derive(Clone, Debug, PartialEq)]
pub struct WedgePrint {
    /// How many steps.
    pub steps: u8,
    /// From each to the next, density.
    pub increment: f64,
    /// Length of a step, and width of the wedge, mm.
    pub step_mm: (f64, f64),
    /// How much longer the first step is than the others, mm.
    pub longer_mm: f64,
    /// The density of the wedge at which the print has its middle tone: the more the longer it was exposed.
    pub middle: f64,
    /// Around it.
    pub around: Around,
    /// A second one below the first.
    pub twice: bool,
    /// Three of the steps the other way round.
    pub shuffled: bool,
}

impl Default for WedgePrint {
    fn default() -> Self {
        Self {
            steps: 21,
            increment: 0.15,
            step_mm: (5.0, 20.0),
            longer_mm: 0.0,
            middle: 1.4,
            around: Around::Paper,
            twice: false,
            shuffled: false,
        }
    }
}

/// Pixels of the print to a millimetre.
const PER_MM: f64 = 12.0;
/// Bare paper around it, mm.
const AROUND_MM: f64 = 15.0;

impl WedgePrint {
    /// L* of the print under each step.
    #[must_use]
    pub fn tones(&self, (black, white): (f64, f64)) -> Vec<f64> {
        let tone = |step: u8| {
            // A straight part of a density of 1.2 or so, a foot and a shoulder, of which both ends are soon reached.
            let log_h = self.middle - f64::from(step) * self.increment;
            black + (white - black) / (1.0 + (5.0 * log_h).exp())
        };
        let mut all: Vec<f64> = (0..self.steps).map(tone).collect();
        if let Some(some) = all.get_mut(8..11).filter(|_| self.shuffled) {
            some.reverse();
        }
        all
    }

    /// From the left of the print, the top, across and down, mm: where the wedge lies.
    #[must_use]
    pub fn place_mm(&self) -> [f64; 4] {
        [AROUND_MM, AROUND_MM, f64::from(self.steps) * self.step_mm.0 + self.longer_mm, self.step_mm.1]
    }

    /// Across and down, mm.
    #[must_use]
    pub fn size_mm(&self) -> (f64, f64) {
        let [left, top, across, down] = self.place_mm();
        let second = if self.twice { top + down } else { 0.0 };
        (2.0 * left + across, 2.0 * top + down + second)
    }

    fn print(&self, how: &Conditions) -> Plane {
        let tones: Vec<f32> = self.tones(how.tones).into_iter().map(|own| luminance(own) as f32).collect();
        let paper = luminance(how.tones.1) as f32;
        let around = match self.around {
            Around::Paper => paper,
            Around::Black => luminance(how.tones.0) as f32,
        };
        let [left, top, across, down] = self.place_mm();
        let (wide, high) = self.size_mm();
        let (width, height) = ((wide * PER_MM) as usize, (high * PER_MM) as usize);
        let mut y = Vec::with_capacity(width * height);
        for row in 0..height {
            for column in 0..width {
                let (x, z) = ((column as f64 + 0.5) / PER_MM - left, (row as f64 + 0.5) / PER_MM - top);
                let second = self.twice && z >= down + top && z < 2.0 * down + top;
                let inside = x >= 0.0 && x < across && ((z >= 0.0 && z < down) || second);
                let step = ((x - self.longer_mm) / self.step_mm.0).max(0.0) as usize;
                y.push(if inside { tones.get(step).copied().unwrap_or(paper) } else { around });
            }
        }
        Plane { width, height, y }.blurred(how.blur_mm * PER_MM)
    }
}

/// Makes a scan of a print under a wedge. Of the conditions those of a chart's coat are left alone.
///
/// # Errors
/// What went wrong, in words.
pub fn wedge_scan_of(wedge: &WedgePrint, how: &Conditions, seed: u64, path: &Path) -> Result<MadeScan, String> {
    let mut dice = Dice::new(seed);
    let plane = wedge.print(how);
    let gamma = scan_plane(&plane, PER_MM, how, (seed, &mut dice), path)?;
    Ok(MadeScan { truth: wedge.tones(how.tones), gamma })
}
