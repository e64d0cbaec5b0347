//! Lengths, the size of an image, areas, and how much solution an area takes.

use alloc::format;

use super::bounds::quantity;
use super::read::read_with_unit;
use super::{Digits, Kind, OutOfBounds, ReadError, Readable, Volume, read_digits, shortened};

quantity!(
    /// A length.
    Length, "length", "mm", millimetres / to_millimetres, 0.0 ..= 5000.0
);
quantity!(
    /// An area.
    Area, "area", "cm²", square_centimetres / to_square_centimetres, 0.0 ..= 250000.0
);
quantity!(
    /// Solution to an area of paper.
    Uptake, "uptake", "mL per 100 cm²", millilitres_per_100_cm2 / to_millilitres_per_100_cm2, 0.01 ..= 10.0
);

/// Width and height of something flat.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Size {
    /// The side written first.
    pub width: Length,
    /// The side written second.
    pub height: Length,
}

impl Size {
    /// Its area.
    ///
    /// # Errors
    /// [`OutOfBounds`] beyond what an [`Area`] holds.
    pub fn area(self) -> Result<Area, OutOfBounds> {
        Area::square_centimetres(self.width.to_millimetres() * self.height.to_millimetres() / 100.0)
    }

    /// The same with a margin on each of the four sides.
    ///
    /// # Errors
    /// [`OutOfBounds`] when a side leaves the range of a [`Length`].
    pub fn with_margin(self, margin: Length) -> Result<Self, OutOfBounds> {
        let wider = |side: Length| Length::millimetres(side.to_millimetres() + 2.0 * margin.to_millimetres());
        Ok(Self { width: wider(self.width)?, height: wider(self.height)? })
    }

    /// Whether it covers nothing.
    #[must_use]
    pub fn is_empty(self) -> bool {
        self.width.to_millimetres() <= 0.0 || self.height.to_millimetres() <= 0.0
    }
}

impl Uptake {
    /// What so much solution on so much paper comes to.
    ///
    /// # Errors
    /// [`OutOfBounds`] on no area, or beyond what an [`Uptake`] holds.
    pub fn of(volume: Volume, area: Area) -> Result<Self, OutOfBounds> {
        Self::millilitres_per_100_cm2(volume.to_millilitres() / area.to_square_centimetres() * 100.0)
    }

    /// The solution an area takes, in mL.
    #[must_use]
    pub fn millilitres_on(self, area: Area) -> f64 {
        area.to_square_centimetres() / 100.0 * self.to_millilitres_per_100_cm2()
    }
}

impl Readable for Length {
    const WHAT: &'static str = "length";
    const FORMS: &'static str = "`1cm`, `10mm` or `0.5in`";

    fn read(text: &str) -> Result<Self, ReadError> {
        let (digits, unit) = read_with_unit::<Self>(Kind::Length, text)?;
        Ok(Self::millimetres(digits.in_unit(unit))?)
    }
}

impl Readable for Uptake {
    const WHAT: &'static str = "uptake";
    const FORMS: &'static str = "`0.38mL/100cm2`";

    fn read(text: &str) -> Result<Self, ReadError> {
        let (digits, unit) = read_with_unit::<Self>(Kind::Uptake, text)?;
        Ok(Self::millilitres_per_100_cm2(digits.in_unit(unit))?)
    }
}

impl Readable for Size {
    const WHAT: &'static str = "size";
    const FORMS: &'static str = "`8x10in` or `20x25cm`";

    /// Two sides with a cross between them; a first side without a unit has that of the second.
    fn read(text: &str) -> Result<Self, ReadError> {
        if text.trim().is_empty() {
            return Err(ReadError::Empty { what: Self::WHAT, forms: Self::FORMS });
        }
        let malformed = || ReadError::SizeMalformed { text: shortened(text.trim()), forms: Self::FORMS };
        let (first, second) = text.split_once(['x', 'X', '×']).ok_or_else(malformed)?;
        let height = Length::read(second)?;
        let (_, unit): (Digits, &str) = read_digits(Length::WHAT, Length::FORMS, second)?;
        let (_, own): (Digits, &str) = read_digits(Length::WHAT, Length::FORMS, first)?;
        let width = if own.is_empty() { Length::read(&format!("{first} {unit}"))? } else { Length::read(first)? };
        Ok(Self { width, height })
    }
}
