//! What a scanner or a camera wrote down as sRGB, taken for light again.
//!
//! IEC 61966-2-1:1999, from memory: the curve with its straight leg, primaries and white as in ITU-R BT.709. A code is no reflectance and much less a
//! density: 128 of 255 is 0.216 of the light.

use super::Xyz;

/// Below this part of full scale the curve is straight.
const STRAIGHT_BELOW: f64 = 0.04045;
/// Tristimulus values of the primaries under D65, adapted to the connection space of ICC profiles by the linear Bradford transform: columns are
/// red, green and blue, rows X, Y and Z. Computed from the chromaticities, so that equal codes give the white of that space.
const TO_ICC: [[f64; 3]; 3] = [
    [0.436_041_251_6, 0.385_112_910_8, 0.143_045_837_6],
    [0.222_484_540_2, 0.716_905_078_6, 0.060_610_381_2],
    [0.013_920_187_5, 0.097_067_238_7, 0.713_912_573_8],
];

/// Three codes of 8 bits.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Srgb8 {
    /// Red.
    pub red: u8,
    /// Green.
    pub green: u8,
    /// Blue.
    pub blue: u8,
}

/// Light for a part of full scale, both 0 to 1.
#[must_use]
pub fn srgb_to_light(part: f64) -> f64 {
    if part <= STRAIGHT_BELOW { part / 12.92 } else { libm::pow((part + 0.055) / 1.055, 2.4) }
}

/// Light for a code of 8 bits.
#[must_use]
pub fn srgb8_to_light(code: u8) -> f64 {
    srgb_to_light(f64::from(code) / 255.0)
}

impl Srgb8 {
    /// Its tristimulus values in the connection space of ICC profiles, media-relative.
    #[must_use]
    pub fn to_icc(self) -> Xyz {
        rgb_light_to_icc([self.red, self.green, self.blue].map(srgb8_to_light))
    }
}

/// Tristimulus values in the connection space of ICC profiles of light of red, green and blue of those primaries, each 0 to 1.
#[must_use]
pub fn rgb_light_to_icc(light: [f64; 3]) -> Xyz {
    let [x, y, z] = TO_ICC.map(|row| row.iter().zip(light).map(|(own, light)| own * light).sum());
    Xyz { x, y, z }
}
