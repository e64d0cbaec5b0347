//! How many pixels a picture has on the film.

use crate::measure::Length;
use crate::source::MM_PER_INCH;

/// Pixels across and down.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct PixelSize {
    /// Across.
    pub width: u32,
    /// Down.
    pub height: u32,
}

/// The side whose length is said; the other follows from the picture.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Side {
    /// Across.
    Width(Length),
    /// Down.
    Height(Length),
}

/// Pixels of a length, rounded.
#[must_use]
pub fn pixels_of(millimetres: f64, ppi: f64) -> u32 {
    libm::round(millimetres / MM_PER_INCH.value * ppi).max(0.0) as u32
}

impl PixelSize {
    /// The size of a picture on the film: the side that is said is rounded to whole pixels, and the other has the picture's proportion to
    /// it. None when a side comes to no pixel.
    #[must_use]
    pub fn of(picture: Self, side: Side, ppi: f64) -> Option<Self> {
        let follows = |own: u32, other: u32, first: u32| {
            libm::round(f64::from(first) * f64::from(other) / f64::from(own)).min(f64::from(u32::MAX)) as u32
        };
        let size = match side {
            Side::Width(length) => {
                let width = pixels_of(length.to_millimetres(), ppi);
                Self { width, height: follows(picture.width, picture.height, width) }
            }
            Side::Height(length) => {
                let height = pixels_of(length.to_millimetres(), ppi);
                Self { width: follows(picture.height, picture.width, height), height }
            }
        };
        (size.width > 0 && size.height > 0).then_some(size)
    }

    /// Its sides in millimetres, to the nanometre: 133.3 and not 133.29999999999998.
    #[must_use]
    pub fn millimetres(self, ppi: f64) -> (f64, f64) {
        let side = |own: u32| libm::round(f64::from(own) / ppi * MM_PER_INCH.value * 1e6) / 1e6;
        (side(self.width), side(self.height))
    }
}
