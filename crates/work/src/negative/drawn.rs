//! What stands in the border, row by row.

use std::sync::Arc;

use handcoat_craft::negative::{Line, Mark, Rect};
use handcoat_craft::source::LETTER_LEAST;
use handcoat_figures::{Letters, letters};
use handcoat_pixels::{Drawn, DrawnStrips};

/// The codes that are drawn with.
#[derive(Clone, Copy)]
pub(crate) struct Codes {
    /// What is dark on the film.
    pub(crate) ink: u16,
    /// What is clear.
    pub(crate) clear: u16,
}

impl Codes {
    /// On film: all of the ink, and none.
    pub(crate) const FILM: Self = Self { ink: 0, clear: u16::MAX };
    /// The same as it prints.
    pub(crate) const PRINT: Self = Self { ink: u16::MAX, clear: 0 };

    /// Between the two, by how much is covered.
    fn covered(self, by: u8) -> u16 {
        let (ink, clear, by) = (u32::from(self.ink), u32::from(self.clear), u32::from(by));
        // OK because it lies between two codes.
        ((ink * by + clear * (255 - by) + 127) / 255) as u16
    }
}

/// A rectangle of one code.
pub(crate) struct Plain(pub(crate) u16);

impl DrawnStrips for Plain {
    fn rows(&self, _first: u32, into: &mut [u16]) {
        into.fill(self.0);
    }
}

/// A code of squares, to be read on the print: what is dark there is clear on the film, and around it lies ink.
pub(super) struct Squares {
    dark: Vec<bool>,
    /// Squares of a side, the clear ones around it too.
    side: usize,
    /// Pixels of a square.
    pixels: usize,
    codes: Codes,
}

impl Squares {
    /// The code of a text in a rectangle, and where in it the code lies: squares are whole pixels, and those of what is left over stay as they are.
    /// None when a square would be less than a pixel, or the text is too long.
    pub(super) fn of(text: &str, place: Rect, codes: Codes) -> Option<(Self, Rect)> {
        let (side, dark) = handcoat_figures::qr_small(text).ok()?;
        let pixels = place.width.min(place.height) as usize / side;
        let width = u32::try_from(pixels * side).ok().filter(|own| *own > 0)?;
        let place = Rect { left: place.left + (place.width - width), width, height: width, ..place };
        Some((Self { dark, side, pixels, codes }, place))
    }
}

impl DrawnStrips for Squares {
    fn rows(&self, first: u32, into: &mut [u16]) {
        let width = self.side * self.pixels;
        for (row, out) in into.chunks_mut(width.max(1)).enumerate() {
            let y = (first as usize + row) / self.pixels.max(1);
            for (x, code) in out.iter_mut().enumerate() {
                let dark = self.dark.get(y * self.side + x / self.pixels.max(1)).copied().unwrap_or(false);
                *code = if dark { self.codes.clear } else { self.codes.ink };
            }
        }
    }
}

/// A line of words.
pub(crate) struct Words {
    letters: Letters,
    upwards: bool,
    codes: Codes,
}

impl Words {
    /// Words on their line, as near to the picture as they may stand, and where that is. None where not one letter has room.
    pub(crate) fn of(text: &str, line: Line, codes: Codes) -> Option<(Self, Rect)> {
        let Line { place, upwards } = line;
        let (high, long) = if upwards { (place.width, place.height) } else { (place.height, place.width) };
        let letters = letters(text, high, long, LETTER_LEAST.value)?;
        let (width, height) = (letters.width, letters.height);
        let own = if upwards {
            let (left, top) = (place.left + (place.width - height), place.top + (place.height - width));
            Rect { left, top, width: height, height: width }
        } else {
            Rect { top: place.top + (place.height - height), width, height, ..place }
        };
        Some((Self { letters, upwards, codes }, own))
    }

    /// The words that had room.
    pub(crate) fn words(&self) -> &str {
        &self.letters.words
    }
}

impl DrawnStrips for Words {
    fn rows(&self, first: u32, into: &mut [u16]) {
        let (width, height) = (self.letters.width as usize, self.letters.height as usize);
        let across = if self.upwards { height } else { width };
        for (row, out) in into.chunks_mut(across.max(1)).enumerate() {
            let y = first as usize + row;
            for (x, code) in out.iter_mut().enumerate() {
                // From the foot upwards the first letter is the lowest, its top to the left.
                let (column, line) = if self.upwards { (width.wrapping_sub(y + 1), x) } else { (x, y) };
                let by = self.letters.coverage.get(line * width + column).copied().unwrap_or(0);
                *code = self.codes.covered(by);
            }
        }
    }
}

/// A mark of a border; `tone` says what is sent for a wanted tone.
pub(super) fn mark(mark: Mark, place: Rect, codes: Codes, tone: &dyn Fn(f64) -> u16) -> Drawn {
    let code = match mark {
        Mark::Ink => codes.ink,
        Mark::Tone(own) => tone(own),
    };
    strip(Plain(code), place)
}

pub(crate) fn strip(strips: impl DrawnStrips + 'static, place: Rect) -> Drawn {
    Drawn { strips: Arc::new(strips), size: (place.width, place.height), at: (place.left, place.top) }
}
