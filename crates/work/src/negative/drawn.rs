//! What stands in the border, row by row.

use handcoat_craft::negative::Rect;
use handcoat_pixels::DrawnStrips;

/// A rectangle of one code.
pub(super) struct Plain(pub(super) u16);

impl DrawnStrips for Plain {
    fn rows(&self, _first: u32, into: &mut [u16]) {
        into.fill(self.0);
    }
}

/// A code of squares: dark ones in ink, on clear film.
pub(super) struct Squares {
    dark: Vec<bool>,
    /// Squares of a side, the clear ones around it too.
    side: usize,
    /// Pixels of a square.
    pixels: usize,
}

impl Squares {
    /// The code of a text in a rectangle, and where in it the code lies: squares are whole pixels, and those of what is left over stay clear.
    /// None when a square would be less than a pixel, or the text is too long.
    pub(super) fn of(text: &str, place: Rect) -> Option<(Self, Rect)> {
        let (side, dark) = handcoat_figures::qr_squares(text).ok()?;
        let pixels = place.width.min(place.height) as usize / side;
        let width = u32::try_from(pixels * side).ok().filter(|own| *own > 0)?;
        let place = Rect { left: place.left + (place.width - width), width, height: width, ..place };
        Some((Self { dark, side, pixels }, place))
    }
}

impl DrawnStrips for Squares {
    fn rows(&self, first: u32, into: &mut [u16]) {
        let width = self.side * self.pixels;
        for (row, out) in into.chunks_mut(width.max(1)).enumerate() {
            let y = (first as usize + row) / self.pixels.max(1);
            for (x, code) in out.iter_mut().enumerate() {
                let dark = self.dark.get(y * self.side + x / self.pixels.max(1)).copied().unwrap_or(false);
                *code = if dark { 0 } else { u16::MAX };
            }
        }
    }
}
