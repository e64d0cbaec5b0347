//! What a scanner or a camera wrote down as sRGB, taken for light again.
//!
//! IEC 61966-2-1:1999, from memory: the curve with its straight leg, primaries and white as in ITU-R BT.709. A code is no reflectance and much less a
//! density: 128 of 255 is 0.216 of the light.

use super::{Lab, White, Xyz};

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

/// A part of full scale for light, both 0 to 1.
#[must_use]
pub fn light_to_srgb(light: f64) -> f64 {
    if light <= STRAIGHT_BELOW / 12.92 { light * 12.92 } else { 1.055 * libm::pow(light, 1.0 / 2.4) - 0.055 }
}

/// Light of red, green and blue of those primaries for tristimulus values in the connection space of ICC profiles. What those primaries
/// cannot mix has parts below 0 or above 1.
#[must_use]
pub fn icc_to_rgb_light(own: Xyz) -> [f64; 3] {
    // By Cramer's rule: one matrix stands here, and the way back cannot differ from it.
    let [x, y, z] = TO_ICC;
    let of = |a: [f64; 3], b: [f64; 3], c: [f64; 3]| {
        a[0] * (b[1] * c[2] - b[2] * c[1]) - a[1] * (b[0] * c[2] - b[2] * c[0]) + a[2] * (b[0] * c[1] - b[1] * c[0])
    };
    let whole = of(x, y, z);
    let put = |row: [f64; 3], value: f64| [[value, row[1], row[2]], [row[0], value, row[2]], [row[0], row[1], value]];
    let ([xr, xg, xb], [yr, yg, yb], [zr, zg, zb]) = (put(x, own.x), put(y, own.y), put(z, own.z));
    [of(xr, yr, zr), of(xg, yg, zg), of(xb, yb, zb)].map(|part| part / whole)
}

impl Srgb8 {
    /// The codes nearest to a colour beside the white of ICC profiles, that white being 255, 255, 255. What a screen of sRGB cannot show is cut
    /// off at each code's end.
    #[must_use]
    pub fn of_lab(own: Lab) -> Self {
        let code = |light: f64| libm::round(255.0 * light_to_srgb(light.clamp(0.0, 1.0))) as u8;
        let [red, green, blue] = icc_to_rgb_light(own.to_xyz(White::IccD50)).map(code);
        Self { red, green, blue }
    }

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
