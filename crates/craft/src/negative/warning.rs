//! What should be known of a negative before it is printed. Nothing here blocks.

use alloc::vec::Vec;
use core::fmt;

use super::PixelSize;
use crate::measure::{fixed, significant};
use crate::source::{LEAST_SOURCE_PPI, MUCH_ENLARGED, STEP_SEEN};

/// What is known of the picture.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PictureFacts {
    /// Its pixels, upright.
    pub pixels: PixelSize,
    /// Whether a sample has 8 bits.
    pub eight_bit: bool,
}

/// Something to know.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Warning {
    /// So few of the picture's own pixels to the inch of the print.
    SourceCoarse(f64),
    /// So many times as many pixels across.
    MuchEnlarged(f64),
    /// Neighbouring tones of an 8-bit picture become so different, as a part of the range of ink.
    Steps(f64),
}

impl Warning {
    /// The stable code.
    #[must_use]
    pub fn code(&self) -> &'static str {
        match self {
            Self::SourceCoarse(_) => "source_coarse",
            Self::MuchEnlarged(_) => "much_enlarged",
            Self::Steps(_) => "steps_seen",
        }
    }
}

impl fmt::Display for Warning {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::SourceCoarse(ppi) => write!(
                f,
                "the picture has {} pixels of its own to the inch of this print; below {} edges look soft: a smaller print, or a larger picture",
                fixed(*ppi, 0),
                fixed(LEAST_SOURCE_PPI.value, 0)
            ),
            Self::MuchEnlarged(scale) => {
                write!(
                    f,
                    "each pixel of the picture becomes {} across; what is between them is a guess",
                    significant(*scale, 2)
                )
            }
            Self::Steps(part) => write!(
                f,
                "the picture has 8 bits, and the curve pulls two of its tones {} % of the ink apart; bands may show: take a picture of 16 bits",
                fixed(100.0 * part, 1)
            ),
        }
    }
}

/// All there is to know of a picture of that size through that table.
#[must_use]
pub fn warnings(picture: PictureFacts, size: PixelSize, ppi: f64, table: &[u16]) -> Vec<Warning> {
    let mut all = Vec::new();
    let scale = f64::from(size.width) / f64::from(picture.pixels.width.max(1));
    let own = ppi / scale;
    if own < LEAST_SOURCE_PPI.value {
        all.push(Warning::SourceCoarse(own));
    }
    if scale > MUCH_ENLARGED.value {
        all.push(Warning::MuchEnlarged(scale));
    }
    if picture.eight_bit {
        // Code k of 8 bits is 257 k of 16.
        let codes = table.iter().step_by(257);
        let steps = codes.clone().zip(codes.skip(1)).map(|(one, next)| one.abs_diff(*next)).max().unwrap_or(0);
        let part = f64::from(steps) / f64::from(u16::MAX);
        if part > STEP_SEEN.value {
            all.push(Warning::Steps(part));
        }
    }
    all
}
