//! What should be known of a negative before it is printed. Nothing here blocks.

use alloc::vec::Vec;
use core::fmt;

use super::PixelSize;
use crate::measure::{fixed, significant};
use crate::source::{DITHER_SEEN, LEAST_SOURCE_PPI, MUCH_ENLARGED, RANGE_SHORT, STEP_SEEN};

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
    /// One code of 8 bits is such a part of the tones where the curve is flattest.
    Dither(f64),
    /// The film holds such a range, and the paper asks for this one.
    RangeShort(f64, f64),
    /// The curve leaves the darkest or the lightest part of the inks' range to the ends: such a part of it is sent for no tone.
    EndsLeft(f64, f64),
    /// Paper white is reached with all of the ink and no less, if at all.
    WhiteAtEnd,
}

impl Warning {
    /// The stable code.
    #[must_use]
    pub fn code(&self) -> &'static str {
        match self {
            Self::SourceCoarse(_) => "source_coarse",
            Self::MuchEnlarged(_) => "much_enlarged",
            Self::Steps(_) => "steps_seen",
            Self::Dither(_) => "dither_seen",
            Self::RangeShort(..) => "range_short",
            Self::EndsLeft(..) => "ends_left",
            Self::WhiteAtEnd => "white_at_end",
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
            Self::Dither(part) => write!(
                f,
                "where the curve is flattest one code of 8 bits is {} % of the tones; dots may show: --depth 16",
                fixed(100.0 * part, 1)
            ),
            Self::RangeShort(film, paper) => write!(
                f,
                "the film holds a range of {} and the paper asks for {}: white is not reached; more ink, another ink, or more contrast in the coat",
                fixed(*film, 2),
                fixed(*paper, 2)
            ),
            Self::EndsLeft(black, white) => write!(
                f,
                "the curve sends {} at its darkest and {} at its lightest; whether black and paper white are reached there, only a response of this set-up says",
                fixed(*black, 2),
                fixed(*white, 2)
            ),
            Self::WhiteAtEnd => f.write_str(
                "the response reaches paper white only where all of the ink is sent, if there: the film may hold less than the paper asks for",
            ),
        }
    }
}

/// The largest part of the tone scale that one code of 8 bits is, between the first and the last that are sent. The table may rise or fall.
#[must_use]
pub fn dither_step(table: &[u16]) -> f64 {
    let (mut widest, mut begin, mut steps) = (0, 0, 0);
    let mut last = table.first().map(|own| own / 257);
    for (code, own) in table.iter().enumerate() {
        let own = Some(own / 257);
        if own != last {
            // What comes before the first step and after the last is an end, and may be flat.
            if steps > 0 {
                widest = widest.max(code - begin);
            }
            (begin, steps, last) = (code, steps + 1, own);
        }
    }
    f64::from(u32::try_from(widest).unwrap_or(u32::MAX)) / f64::from(u16::MAX)
}

impl Warning {
    /// That 8 bits may be seen, where they may.
    #[must_use]
    pub fn of_dither(table: &[u16]) -> Option<Self> {
        Some(dither_step(table)).filter(|own| *own > DITHER_SEEN.value).map(Self::Dither)
    }

    /// That the film holds less than the paper asks for, where it does. Both in log exposure.
    #[must_use]
    pub fn of_range(film: f64, paper: f64) -> Option<Self> {
        (film < paper - RANGE_SHORT.value).then_some(Self::RangeShort(film, paper))
    }

    /// That white is not surely reached, where all is sent for it and the place where it is reached is no nearer than that. `sent` and
    /// `margin` are those of a response.
    #[must_use]
    pub fn of_white(sent: f64, margin: f64) -> Option<Self> {
        (sent >= 1.0 && margin < STEP_SEEN.value).then_some(Self::WhiteAtEnd)
    }

    /// That a curve does not send all, where it does not and nobody measured that this is enough. `sent` is what it sends at its ends.
    #[must_use]
    pub fn of_ends(sent: (f64, f64)) -> Option<Self> {
        let part = STEP_SEEN.value;
        (sent.0 > part || sent.1 < 1.0 - part).then_some(Self::EndsLeft(sent.0, sent.1))
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
