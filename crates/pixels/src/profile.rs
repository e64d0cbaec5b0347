//! The embedded ICC profile as tables to lightness.
//!
//! Read with a library; the curves and the sums are our own with `libm`, so that they are the same on every machine. After ICC.1:2022.

use handcoat_craft::colour::{Lab, White, Xyz, rgb_light_to_icc, srgb_to_light};
use moxcms::{ColorProfile, DataColorSpace, ToneReprCurve};

use crate::header::{Channels, Stated};
use crate::refused::Refused;

/// From samples of a profiled picture to L*/100, as tables.
#[derive(Clone)]
pub(crate) enum Tones {
    /// A code for a code.
    Grey(Box<[u16]>),
    /// Parts of the relative luminance by red, green and blue, in 2⁻²⁴, and lightness by luminance.
    Rgb(Box<[Box<[i32]>; 3]>, Box<[u32]>),
}

impl std::fmt::Debug for Tones {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str(match self {
            Self::Grey(_) => "Tones::Grey",
            Self::Rgb(..) => "Tones::Rgb",
        })
    }
}

/// Bits of a relative luminance.
const LUMINANCE_BITS: u32 = 24;
/// Bits of it that stand between two entries of the table of lightness.
const BETWEEN_BITS: u32 = 8;

/// L*/100 of a relative luminance, CIE 15:2018, 8.2.1.
fn lightness(luminance: f64) -> f64 {
    let scaled =
        if luminance > 216.0 / 24389.0 { 116.0 * libm::cbrt(luminance) - 16.0 } else { luminance * 24389.0 / 27.0 };
    scaled / 100.0
}

/// A part of full scale as a code.
pub(crate) fn code(share: f64) -> u16 {
    // Casting keeps to the ends by itself.
    libm::round(share * 65535.0) as u16
}

/// The luminance of each code of one part of three.
fn luminances(of: impl Fn(f64) -> f64) -> Box<[i32]> {
    let one = f64::from(1 << LUMINANCE_BITS);
    (0..=u16::MAX).map(|own| libm::round(of(f64::from(own) / 65535.0) * one) as i32).collect()
}

/// Luminances of red, green and blue of those chromaticities when all three give white, that adapted to the white of profiles: the linear
/// Bradford transform, ICC.1:2022, annex E. None of what is no triangle, or has white beyond all reason.
fn luminances_of(said: [[u32; 2]; 4]) -> Option<[f64; 3]> {
    const CONES: [[f64; 3]; 3] = [[0.8951, 0.2664, -0.1614], [-0.7502, 1.7135, 0.0367], [0.0389, -0.0685, 1.0296]];
    // The second row of the inverse of that.
    const LUMINANCE_OF_CONES: [f64; 3] = [0.432_305_269_723, 0.518_360_271_537, 0.049_291_228_213];
    let times =
        |matrix: &[[f64; 3]; 3], own: [f64; 3]| matrix.map(|row| row[0] * own[0] + row[1] * own[1] + row[2] * own[2]);
    let tristimulus = |own: [u32; 2]| {
        let [x, y] = own.map(|own| f64::from(own) / 100_000.0);
        (y > 0.0).then(|| [x / y, 1.0, (1.0 - x - y) / y])
    };
    let [white, red, green, blue] = said.map(tristimulus);
    let (white, columns) = (white?, [red?, green?, blue?]);
    let volume = |[a, b, c]: [[f64; 3]; 3]| {
        a[0] * (b[1] * c[2] - b[2] * c[1]) - b[0] * (a[1] * c[2] - a[2] * c[1]) + c[0] * (a[1] * b[2] - a[2] * b[1])
    };
    // How much of each makes white, by Cramer's rule.
    let [red, green, blue] = columns;
    let whole = volume(columns);
    let much = [[white, green, blue], [red, white, blue], [red, green, white]].map(|own| volume(own) / whole);
    let to = White::IccD50.xyz();
    let (cones, cones_to) = (times(&CONES, white), times(&CONES, [to.x, to.y, to.z]));
    if libm::fabs(whole) < 1e-9 || cones.iter().any(|own| *own <= 0.0) {
        return None;
    }
    let mut parts = [0.0; 3];
    for ((part, own), much) in parts.iter_mut().zip(columns).zip(much) {
        let own = times(&CONES, own.map(|own| own * much));
        let adapted = own.iter().zip(cones).zip(cones_to).map(|((own, from), to)| own * to / from);
        *part = adapted.zip(LUMINANCE_OF_CONES).map(|own| own.0 * own.1).sum();
    }
    let sum: f64 = parts.iter().sum();
    (libm::fabs(sum - 1.0) < 0.01 && parts.iter().all(|own| (-1.0..=2.0).contains(own)))
        .then(|| parts.map(|own| own / sum))
}

impl Tones {
    /// Reads a profile for a picture of those channels.
    pub(crate) fn read(profile: &[u8], channels: Channels) -> Result<Self, Refused> {
        let unusable = |what: &str| Refused::Profile { what: what.to_owned() };
        let parsed =
            ColorProfile::new_from_slice(profile).map_err(|error| Refused::Profile { what: error.to_string() })?;
        match (channels, parsed.color_space) {
            (Channels::Grey, DataColorSpace::Gray) => {
                let curve = parsed.gray_trc.as_ref().ok_or_else(|| unusable("it has no grey tone curve"))?;
                let curve = Curve::of(curve)?;
                let light = parsed.pcs == DataColorSpace::Lab;
                Ok(Self::grey_of(|own| if light { curve.at(own) } else { lightness(curve.at(own)) }))
            }
            (Channels::Rgb, DataColorSpace::Rgb) => {
                let parts = [
                    (&parsed.red_trc, parsed.red_colorant.y),
                    (&parsed.green_trc, parsed.green_colorant.y),
                    (&parsed.blue_trc, parsed.blue_colorant.y),
                ];
                let white: f64 = parts.iter().map(|(_, luminance)| luminance).sum();
                if !(0.5..=2.0).contains(&white) {
                    return Err(unusable("it has no matrix whose white has a luminance near 1"));
                }
                let table = |(curve, luminance): (&Option<ToneReprCurve>, f64)| -> Result<Box<[i32]>, Refused> {
                    let curve = Curve::of(curve.as_ref().ok_or_else(|| unusable("a tone curve is missing"))?)?;
                    Ok(luminances(|own| curve.at(own) * luminance / white))
                };
                let [red, green, blue] = parts;
                Ok(Self::rgb_of([table(red)?, table(green)?, table(blue)?]))
            }
            (Channels::Grey, _) => Err(unusable("the picture is grey and the profile is not")),
            (Channels::Rgb, _) => Err(unusable("the picture is RGB and the profile is not")),
        }
    }

    /// Of what a PNG says without a profile, as a profile would have it: white is that of the connection space. Without primaries they are
    /// those of sRGB.
    pub(crate) fn stated(stated: Stated, channels: Channels) -> Result<Self, Refused> {
        let (light, primaries): (&dyn Fn(f64) -> f64, _) = match &stated {
            Stated::Srgb => (&srgb_to_light, None),
            // Once light to this power made the codes.
            Stated::Gamma(gamma, primaries) => {
                (&|code| libm::pow(code, 1.0 / (f64::from((*gamma).max(1)) / 100_000.0)), *primaries)
            }
        };
        if channels == Channels::Grey {
            return Ok(Self::grey_of(|own| lightness(light(own))));
        }
        let parts = match primaries {
            None => [[1.0, 0.0, 0.0], [0.0, 1.0, 0.0], [0.0, 0.0, 1.0]].map(|own| rgb_light_to_icc(own).y),
            Some(own) => luminances_of(own).ok_or_else(|| Refused::Profile {
                what: "the chromaticities of the PNG (cHRM) are those of no colours".into(),
            })?,
        };
        Ok(Self::rgb_of(parts.map(|part| luminances(|own| light(own) * part))))
    }

    /// Of grey, by what becomes of a part of full scale.
    fn grey_of(lightness: impl Fn(f64) -> f64) -> Self {
        Self::Grey((0..=u16::MAX).map(|own| code(lightness(f64::from(own) / 65535.0))).collect())
    }

    /// Of RGB, by the luminances of its parts.
    fn rgb_of(tables: [Box<[i32]>; 3]) -> Self {
        let entries = 1_u32 << (LUMINANCE_BITS - BETWEEN_BITS);
        // In 1/256 of a code, and one entry more to go on to.
        let scale = 65535.0 * f64::from(1 << BETWEEN_BITS);
        let light = (0..=entries + 1)
            .map(|own| libm::round(lightness((f64::from(own) / f64::from(entries)).min(1.0)) * scale) as u32);
        Self::Rgb(Box::new(tables), light.collect())
    }

    /// The lightness of a grey sample.
    #[inline]
    pub(crate) fn grey(&self, sample: u16) -> u16 {
        match self {
            Self::Grey(table) => table.get(usize::from(sample)).copied().unwrap_or(sample),
            Self::Rgb(..) => sample,
        }
    }

    /// Rows of RGB to lightness.
    pub(crate) fn rgb(&self, rgb: impl Iterator<Item = [u16; 3]>, into: &mut [u16]) {
        let Self::Rgb(tables, light) = self else { return };
        let [red, green, blue] = &**tables;
        for (own, out) in rgb.zip(into) {
            let [r, g, b] = own.map(usize::from);
            let part = |table: &[i32], at: usize| table.get(at).copied().unwrap_or(0);
            let luminance = (part(red, r) + part(green, g) + part(blue, b)).clamp(0, 1 << LUMINANCE_BITS) as u32;
            let (at, between) = ((luminance >> BETWEEN_BITS) as usize, luminance & ((1 << BETWEEN_BITS) - 1));
            let entry = |at: usize| u64::from(light.get(at).copied().unwrap_or(0));
            let sum = entry(at) * u64::from((1 << BETWEEN_BITS) - between) + entry(at + 1) * u64::from(between);
            *out = ((sum + (1 << (2 * BETWEEN_BITS - 1))) >> (2 * BETWEEN_BITS)) as u16;
        }
    }
}

/// A profile kept whole, for a few colours out of many pixels.
#[derive(Debug, Clone)]
pub(crate) struct ColourProfile(ColorProfile);

impl ColourProfile {
    /// Only of profiles [`Tones`] could be read from.
    pub(crate) fn read(profile: &[u8]) -> Option<Self> {
        ColorProfile::new_from_slice(profile).ok().map(Self)
    }

    /// Tristimulus values of codes from 0 to 1: three of them, or one of grey.
    pub(crate) fn colour(&self, codes: &[f64]) -> Option<Xyz> {
        let own = &self.0;
        match codes {
            [grey] => {
                let out = Curve::of(own.gray_trc.as_ref()?).ok()?.at(*grey);
                let neutral = White::IccD50.xyz();
                if own.pcs == DataColorSpace::Lab {
                    let light = Lab { l_star: 100.0 * out, a_star: 0.0, b_star: 0.0 };
                    return Some(light.to_xyz(White::IccD50));
                }
                Some(Xyz { x: neutral.x * out, y: out, z: neutral.z * out })
            }
            [red, green, blue] => {
                let parts = [
                    (&own.red_trc, own.red_colorant, red),
                    (&own.green_trc, own.green_colorant, green),
                    (&own.blue_trc, own.blue_colorant, blue),
                ];
                let mut sum = Xyz { x: 0.0, y: 0.0, z: 0.0 };
                for (curve, colorant, code) in parts {
                    let light = Curve::of(curve.as_ref()?).ok()?.at(*code);
                    sum.x += light * colorant.x;
                    sum.y += light * colorant.y;
                    sum.z += light * colorant.z;
                }
                Some(sum)
            }
            _ => None,
        }
    }
}

/// A tone curve, 0 to 1.
enum Curve<'a> {
    Straight,
    Gamma(f64),
    Table(&'a [u16]),
    /// g a b c d e f of ICC.1:2022, 10.18, function type 4: (aX + b)^g + e from d on, cX + f below.
    Parts([f64; 7]),
}

impl<'a> Curve<'a> {
    fn of(curve: &'a ToneReprCurve) -> Result<Self, Refused> {
        match curve {
            ToneReprCurve::Lut(table) => match table.as_slice() {
                [] => Ok(Self::Straight),
                // One entry is a gamma in 1/256.
                [gamma] => Ok(Self::Gamma(f64::from(*gamma) / 256.0)),
                table => Ok(Self::Table(table)),
            },
            ToneReprCurve::Parametric(own) => {
                let own: Vec<f64> = own.iter().map(|&part| f64::from(part)).collect();
                let parts = match own.as_slice() {
                    [g] => return Ok(Self::Gamma(*g)),
                    // Types 1 and 2 begin where aX + b is nothing.
                    [g, a, b] if *a != 0.0 => [*g, *a, *b, 0.0, -b / a, 0.0, 0.0],
                    [g, a, b, c] if *a != 0.0 => [*g, *a, *b, 0.0, -b / a, *c, *c],
                    [g, a, b, c, d] => [*g, *a, *b, *c, *d, 0.0, 0.0],
                    [g, a, b, c, d, e, f] => [*g, *a, *b, *c, *d, *e, *f],
                    other => {
                        return Err(Refused::Profile { what: format!("a tone curve has {} parameters", other.len()) });
                    }
                };
                Ok(Self::Parts(parts))
            }
        }
    }

    fn at(&self, x: f64) -> f64 {
        let y = match self {
            Self::Straight => x,
            Self::Gamma(gamma) => libm::pow(x, *gamma),
            Self::Table(table) => {
                let place = x * (table.len() - 1) as f64;
                let below = (place as usize).min(table.len() - 1);
                let entry = |at: usize| f64::from(table.get(at).or(table.last()).copied().unwrap_or(0)) / 65535.0;
                entry(below) + (entry(below + 1) - entry(below)) * (place - below as f64)
            }
            Self::Parts([g, a, b, c, d, e, f]) => {
                if x >= *d {
                    libm::pow((a * x + b).max(0.0), *g) + e
                } else {
                    c * x + f
                }
            }
        };
        if y.is_finite() { y.clamp(0.0, 1.0) } else { 0.0 }
    }
}
