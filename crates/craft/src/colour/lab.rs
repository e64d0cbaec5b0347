//! Colour of a surface: CIE XYZ, CIE 1976 L*a*b*, and how far two colours are apart.
//!
//! CIE 15:2018 for L*a*b*, from memory; ISO/CIE 11664-6 for the difference of the year 2000, whose traps are told by Sharma, Wu and Dalal (*Color Res.
//! Appl.* 30 (2005) 21-30).

use core::f64::consts::PI;

use super::{JUNCTION, KAPPA};

/// Tristimulus values, the Y of a perfect white being 1.
#[derive(Clone, Copy, Debug, PartialEq)]
#[allow(missing_docs, reason = "their letters are their names")]
pub struct Xyz {
    pub x: f64,
    pub y: f64,
    pub z: f64,
}

/// The white that L*a*b* is of. Three whites go by the name D50 and differ in the fourth digit, so that each has a name of its own here.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum White {
    /// Of the connection space of ICC profiles: X 0.9642, Z 0.8249 (ICC.1).
    IccD50,
    /// Illuminant D50 from its chromaticity 0.3457, 0.3585.
    ChromaticityD50,
    /// Illuminant D50 from tables of its spectrum, 2° observer: X 0.96422, Z 0.82521.
    TabulatedD50,
    /// Illuminant D65 from its chromaticity 0.3127, 0.3290.
    ChromaticityD65,
}

impl White {
    /// Its tristimulus values.
    #[must_use]
    pub fn xyz(self) -> Xyz {
        let of_chromaticity = |x: f64, y: f64| Xyz { x: x / y, y: 1.0, z: (1.0 - x - y) / y };
        match self {
            Self::IccD50 => Xyz { x: 0.9642, y: 1.0, z: 0.8249 },
            Self::ChromaticityD50 => of_chromaticity(0.3457, 0.3585),
            Self::TabulatedD50 => Xyz { x: 0.96422, y: 1.0, z: 0.82521 },
            Self::ChromaticityD65 => of_chromaticity(0.3127, 0.3290),
        }
    }
}

/// CIE 1976 L*a*b*.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Lab {
    /// Lightness, 0 to 100 for surfaces.
    pub l_star: f64,
    /// From green to red.
    pub a_star: f64,
    /// From blue to yellow.
    pub b_star: f64,
}

/// The cube root and the straight line that takes its place below the junction.
fn bent(t: f64) -> f64 {
    if t > JUNCTION { libm::cbrt(t) } else { (KAPPA * t + 16.0) / 116.0 }
}

fn straightened(root: f64) -> f64 {
    let cube = root * root * root;
    if cube > JUNCTION { cube } else { (116.0 * root - 16.0) / KAPPA }
}

fn degrees(own: f64) -> f64 {
    own * PI / 180.0
}

/// Chroma's seventh power against that of 25, where the difference changes its character.
fn saturation(chroma: f64) -> f64 {
    let seventh = |own: f64| own * own * own * own * own * own * own;
    libm::sqrt(seventh(chroma) / (seventh(chroma) + seventh(25.0)))
}

impl Xyz {
    /// Its L*a*b* beside a white.
    #[must_use]
    pub fn to_lab(self, white: White) -> Lab {
        let white = white.xyz();
        let [x, y, z] = [self.x / white.x, self.y / white.y, self.z / white.z].map(bent);
        Lab { l_star: 116.0 * y - 16.0, a_star: 500.0 * (x - y), b_star: 200.0 * (y - z) }
    }
}

impl Lab {
    /// Its tristimulus values beside a white.
    #[must_use]
    pub fn to_xyz(self, white: White) -> Xyz {
        let white = white.xyz();
        let y = (self.l_star + 16.0) / 116.0;
        let [x, y, z] = [y + self.a_star / 500.0, y, y - self.b_star / 200.0].map(straightened);
        Xyz { x: x * white.x, y: y * white.y, z: z * white.z }
    }

    /// Distance from another colour, of 1976.
    #[must_use]
    pub fn difference_1976(self, other: Self) -> f64 {
        let [l, a, b] =
            [self.l_star - other.l_star, self.a_star - other.a_star, self.b_star - other.b_star].map(|own| own * own);
        libm::sqrt(l + a + b)
    }

    /// Distance from another colour after CIEDE2000, all three weights being 1.
    #[must_use]
    pub fn difference_2000(self, other: Self) -> f64 {
        let chroma = |own: Self| libm::hypot(own.a_star, own.b_star);
        let stretch = 1.5 - 0.5 * saturation(0.5 * (chroma(self) + chroma(other)));
        // Chroma and hue with the reds and greens stretched near grey; a grey has hue 0.
        let polar = |own: Self| {
            let a = stretch * own.a_star;
            let hue = if a == 0.0 && own.b_star == 0.0 { 0.0 } else { libm::atan2(own.b_star, a) * 180.0 / PI };
            (libm::hypot(a, own.b_star), if hue < 0.0 { hue + 360.0 } else { hue })
        };
        let ((c1, h1), (c2, h2)) = (polar(self), polar(other));
        let grey = c1 * c2 == 0.0;
        let turned = match h2 - h1 {
            _ if grey => 0.0,
            turn if turn > 180.0 => turn - 360.0,
            turn if turn < -180.0 => turn + 360.0,
            turn => turn,
        };
        let hue = match h1 + h2 {
            sum if grey => sum,
            sum if (h1 - h2).abs() <= 180.0 => 0.5 * sum,
            sum if sum < 360.0 => 0.5 * (sum + 360.0),
            sum => 0.5 * (sum - 360.0),
        };
        let (l, c) = (0.5 * (self.l_star + other.l_star), 0.5 * (c1 + c2));
        let cosine = |times: f64, shift: f64| libm::cos(degrees(times * hue + shift));
        let t = 1.0 - 0.17 * cosine(1.0, -30.0) + 0.24 * cosine(2.0, 0.0) + 0.32 * cosine(3.0, 6.0)
            - 0.20 * cosine(4.0, -63.0);
        let from_middle = (l - 50.0) * (l - 50.0);
        let by_lightness = 1.0 + 0.015 * from_middle / libm::sqrt(20.0 + from_middle);
        let (by_chroma, by_hue) = (1.0 + 0.045 * c, 1.0 + 0.015 * c * t);
        let blue = (hue - 275.0) / 25.0;
        let crossed = -2.0 * saturation(c) * libm::sin(degrees(60.0 * libm::exp(-blue * blue)));
        let lightness = (other.l_star - self.l_star) / by_lightness;
        let chroma = (c2 - c1) / by_chroma;
        let hue = 2.0 * libm::sqrt(c1 * c2) * libm::sin(degrees(0.5 * turned)) / by_hue;
        libm::sqrt(lightness * lightness + chroma * chroma + hue * hue + crossed * chroma * hue)
    }
}
