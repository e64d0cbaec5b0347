//! The image, its margin, and the area that is coated.

use crate::measure::{Area, Length, OutOfBounds, Size};
use crate::source::CUSTOMARY_MARGIN;

/// A size of negatives and papers by the name everybody calls it, in inches.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct NominalSize {
    /// As it is said and written.
    pub name: &'static str,
    /// Shorter side, in inches.
    pub width_in: u32,
    /// Longer side, in inches.
    pub height_in: u32,
}

/// The sizes of the trade.
pub const NOMINAL_SIZES: [NominalSize; 5] = [
    NominalSize { name: "4x5in", width_in: 4, height_in: 5 },
    NominalSize { name: "5x7in", width_in: 5, height_in: 7 },
    NominalSize { name: "8x10in", width_in: 8, height_in: 10 },
    NominalSize { name: "11x14in", width_in: 11, height_in: 14 },
    NominalSize { name: "16x20in", width_in: 16, height_in: 20 },
];

/// The coated border around the image.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Margin {
    /// Nothing is said: what habits told by the nominal size have in them.
    Customary,
    /// So much on each of the four sides.
    Real(Length),
}

/// An image and the border coated around it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Sheet {
    /// The image.
    pub image: Size,
    /// The border.
    pub margin: Margin,
}

impl Sheet {
    /// The border on each side.
    #[must_use]
    pub fn border(&self) -> Length {
        match self.margin {
            Margin::Real(length) => length,
            // OK because the customary margin is a constant well inside the bounds.
            Margin::Customary => {
                Length::millimetres(CUSTOMARY_MARGIN.value).expect("BUG: the customary margin is no length")
            }
        }
    }

    /// The area that is coated, border and all.
    ///
    /// # Errors
    /// [`OutOfBounds`] for a sheet beyond any paper.
    pub fn coated(&self) -> Result<Area, OutOfBounds> {
        self.image.with_margin(self.border())?.area()
    }

    /// The area of the image alone, which a nominal size is named by.
    ///
    /// # Errors
    /// [`OutOfBounds`] for a sheet beyond any paper.
    pub fn nominal(&self) -> Result<Area, OutOfBounds> {
        self.image.area()
    }
}
