//! Which way up: mirrors and quarter turns, and the file in which they are made.

/// One of the eight ways a picture can lie.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Orientation {
    /// Rows become columns first.
    swaps: bool,
    /// Then left and right as they lie in the file change places.
    flips_x: bool,
    /// Then top and bottom.
    flips_y: bool,
}

impl Orientation {
    /// As it lies.
    #[must_use]
    pub fn upright() -> Self {
        Self::default()
    }

    /// So many quarter turns clockwise.
    #[must_use]
    pub fn quarter_turns(clockwise: u8) -> Self {
        Self::from_tag(match clockwise % 4 {
            0 => 1,
            1 => 6,
            2 => 3,
            _ => 8,
        })
    }

    /// Left for right.
    #[must_use]
    pub fn mirrored() -> Self {
        Self::from_tag(2)
    }

    /// The meaning of tag 274 of TIFF (and of Exif), 1 to 8; another number is taken as 1.
    pub(crate) fn from_tag(number: u8) -> Self {
        let (swaps, flips_x, flips_y) = match number {
            2 => (false, true, false),
            3 => (false, true, true),
            4 => (false, false, true),
            5 => (true, false, false),
            6 => (true, false, true),
            7 => (true, true, true),
            8 => (true, true, false),
            _ => (false, false, false),
        };
        Self { swaps, flips_x, flips_y }
    }

    /// The number of tag 274.
    #[must_use]
    pub fn tag(self) -> u8 {
        (1..=8).find(|&number| Self::from_tag(number) == self).unwrap_or(1)
    }

    /// This way first, and what then stands upright turned that way.
    #[must_use]
    pub fn then(self, next: Self) -> Self {
        let (x, y) = if self.swaps { (next.flips_y, next.flips_x) } else { (next.flips_x, next.flips_y) };
        Self { swaps: self.swaps ^ next.swaps, flips_x: self.flips_x ^ x, flips_y: self.flips_y ^ y }
    }

    /// Whether width and height change places.
    #[must_use]
    pub fn swaps(self) -> bool {
        self.swaps
    }

    /// Whether rows stay rows in their order, so that nothing has to be kept.
    pub(crate) fn keeps_rows(self) -> bool {
        !self.swaps && !self.flips_y
    }

    pub(crate) fn flips_x(self) -> bool {
        self.flips_x
    }

    pub(crate) fn flips_y(self) -> bool {
        self.flips_y
    }
}

/// The orientation in a block of Exif, which is a small TIFF; nothing when it says none.
pub(crate) fn exif_orientation(exif: &[u8]) -> Option<u8> {
    let exif = exif.strip_prefix(b"Exif\0\0").unwrap_or(exif);
    let big = exif.first()? == &b'M';
    let number = |at: usize, len: usize| -> Option<u32> {
        let bytes = exif.get(at..at.checked_add(len)?)?;
        let add = |sum: u32, byte: &u8| sum << 8 | u32::from(*byte);
        Some(if big { bytes.iter().fold(0, add) } else { bytes.iter().rev().fold(0, add) })
    };
    let directory = number(4, 4)? as usize;
    let count = number(directory, 2)?.min(256) as usize;
    (0..count)
        .find_map(|index| {
            let at = directory.checked_add(2 + index * 12)?;
            (number(at, 2)? == 274).then(|| number(at + 8, 2))?
        })?
        .try_into()
        .ok()
}
