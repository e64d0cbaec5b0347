//! What a file says of its picture, and the budget it is held to before a pixel is read.

use crate::orient::Orientation;
use crate::refused::Refused;

/// What is taken at most. Held against the header, before anything of that size is asked for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Budget {
    /// Pixels of the picture.
    pub pixels: u64,
    /// Bytes of one row as it lies in the file.
    pub row_bytes: u64,
    /// Bytes of the embedded profile.
    pub profile_bytes: u64,
    /// Bytes that tables of strips or tiles and the states of their unpacking may take.
    pub table_bytes: u64,
    /// Pixels of a JPEG, which is unpacked as a whole.
    pub jpeg_pixels: u64,
}

impl Default for Budget {
    /// Two thousand megapixels in rows of four megabytes; a JPEG of 128 megapixels.
    fn default() -> Self {
        Self {
            pixels: 2_000_000_000,
            row_bytes: 4 << 20,
            profile_bytes: 4 << 20,
            table_bytes: 24 << 20,
            jpeg_pixels: 128_000_000,
        }
    }
}

impl Budget {
    /// Holds a size against the budget.
    pub(crate) fn size(&self, width: u64, height: u64) -> Result<(u32, u32), Refused> {
        let refused = || Refused::Size { width, height, most: self.pixels };
        let pixels = width.checked_mul(height).ok_or_else(refused)?;
        if pixels == 0 || pixels > self.pixels {
            return Err(refused());
        }
        let narrow = |side: u64| u32::try_from(side).map_err(|_| refused());
        Ok((narrow(width)?, narrow(height)?))
    }

    /// Holds the bytes of a row against the budget.
    pub(crate) fn row(&self, bytes: u64) -> Result<usize, Refused> {
        let refused = || Refused::Row { bytes, most: self.row_bytes };
        if bytes > self.row_bytes { Err(refused()) } else { usize::try_from(bytes).map_err(|_| refused()) }
    }
}

/// Pixels to the inch.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub struct Ppi(f64);

impl Ppi {
    /// From one pixel to the inch to a hundred thousand.
    #[must_use]
    pub fn new(per_inch: f64) -> Option<Self> {
        (1.0..=100_000.0).contains(&per_inch).then_some(Self(per_inch))
    }

    /// Pixels to the inch.
    #[must_use]
    pub fn per_inch(self) -> f64 {
        self.0
    }
}

/// The kind of file.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum FileKind {
    /// TIFF or BigTIFF.
    Tiff,
    /// PNG.
    Png,
    /// JPEG.
    Jpeg,
}

/// How a sample is written.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Depth {
    /// 8 bits.
    Eight,
    /// 16 bits.
    Sixteen,
    /// Floating point of 16 bits, 0 to 1.
    Half,
    /// Floating point of 32 bits, 0 to 1.
    Single,
    /// Floating point of 64 bits, 0 to 1.
    Double,
}

impl Depth {
    /// Bytes of a sample.
    #[must_use]
    pub fn bytes(self) -> usize {
        match self {
            Self::Eight => 1,
            Self::Sixteen | Self::Half => 2,
            Self::Single => 4,
            Self::Double => 8,
        }
    }
}

/// What the samples of a pixel are.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Channels {
    /// One grey sample.
    Grey,
    /// Red, green, blue.
    Rgb,
}

impl Channels {
    /// Samples of colour.
    #[must_use]
    pub fn count(self) -> usize {
        match self {
            Self::Grey => 1,
            Self::Rgb => 3,
        }
    }
}

/// The sample behind the colour, when there is one.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Alpha {
    /// None.
    None,
    /// Covers: the picture is laid over white.
    Straight,
    /// Covers, and the colours are multiplied by it already.
    Multiplied,
}

/// What a PNG says of its colours in chunks of its own, without a profile. Numbers are those of the file, in 1/100,000.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Stated {
    /// That they are sRGB.
    Srgb,
    /// The exponent that made codes of light, and the chromaticities of white, red, green and blue when it says them.
    Gamma(u32, Option<[[u32; 2]; 4]>),
}

/// What a file says of its picture.
#[derive(Debug, Clone, PartialEq)]
pub struct Header {
    /// The kind of file.
    pub kind: FileKind,
    /// Pixels across, as they lie in the file.
    pub width: u32,
    /// Pixels down, as they lie in the file.
    pub height: u32,
    /// What the samples of a pixel are.
    pub channels: Channels,
    /// How a sample is written.
    pub depth: Depth,
    /// Whether a sample covers.
    pub alpha: Alpha,
    /// Further samples of a pixel that are left out.
    pub left_out: u16,
    /// Whether 0 is white.
    pub zero_is_white: bool,
    /// Whether the first byte of a sample is the highest.
    pub big_endian: bool,
    /// How the picture is to be turned to stand upright.
    pub orientation: Orientation,
    /// Pixels to the inch across and down, when the file says so.
    pub ppi: Option<(Ppi, Ppi)>,
    /// The embedded profile.
    pub profile: Option<Vec<u8>>,
    /// What it says of its colours without one; none where a profile says it.
    pub stated: Option<Stated>,
}

impl Header {
    /// Samples of a pixel, all of them.
    #[must_use]
    pub fn samples(&self) -> usize {
        self.channels.count() + usize::from(self.alpha != Alpha::None) + usize::from(self.left_out)
    }

    /// Bytes of a pixel in the file.
    #[must_use]
    pub fn pixel_bytes(&self) -> usize {
        self.samples() * self.depth.bytes()
    }

    /// Whether it says what its codes mean.
    #[must_use]
    pub fn is_tagged(&self) -> bool {
        self.profile.is_some() || self.stated.is_some()
    }

    /// Pixels across and down when it stands upright.
    #[must_use]
    pub fn upright(&self) -> (u32, u32) {
        if self.orientation.swaps() { (self.height, self.width) } else { (self.width, self.height) }
    }
}
