//! ICC profiles that are written: grey ones to embed, a device link of a curve, and the profile of what a print is.
//!
//! After ICC.1:2022, version 4.4: 7.2 the header, 8.4.2 what a grey profile has, 8.8 a device link; 10.6 `curv`, 10.12 `mAB `, 10.15 `mluc`,
//! 10.16 `mpet` with its curves, 10.18 `para`, 10.19 `pseq`, 10.31 `XYZ `. The same bytes each time: no date of making but the day that standard is of.

use handcoat_craft::colour::{White, Xyz};

use crate::profile::code;

/// What the codes of a grey picture mean.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum GreyTone {
    /// Codes are L*/100.
    Lightness,
    /// Codes are luminance to the power of 1/γ.
    Gamma(f64),
}

/// D50: 0.9642, 1, 0.8249 in 1/65536.
const D50: [u32; 3] = [0xF6D6, 0x10000, 0xD32D];

/// A number in 1/65536.
fn fixed16(own: f64) -> u32 {
    // A cast keeps to the ends by itself.
    libm::round(own * 65536.0) as i32 as u32
}

fn words(text: &str) -> Vec<u8> {
    let letters: Vec<u8> = text.encode_utf16().flat_map(u16::to_be_bytes).collect();
    let mut out = b"mluc\0\0\0\0".to_vec();
    out.extend([1_u32, 12].map(u32::to_be_bytes).concat());
    out.extend(b"enUS");
    out.extend([letters.len() as u32, 28].map(u32::to_be_bytes).concat());
    out.extend(letters);
    out
}

fn table(entries: impl ExactSizeIterator<Item = u16>) -> Vec<u8> {
    let mut out = b"curv\0\0\0\0".to_vec();
    out.extend((entries.len() as u32).to_be_bytes());
    out.extend(entries.flat_map(u16::to_be_bytes));
    out
}

fn tristimulus(own: [u32; 3]) -> Vec<u8> {
    let mut out = b"XYZ \0\0\0\0".to_vec();
    out.extend(own.map(u32::to_be_bytes).concat());
    out
}

/// A profile of these tags. `kind` is its class, the space of its codes and the space it leads to.
fn profile(kind: &[u8; 12], name: &str, own: Vec<(&[u8; 4], Vec<u8>)>) -> Vec<u8> {
    let mut tags: Vec<(&[u8; 4], Vec<u8>)> =
        vec![(b"desc", words(name)), (b"cprt", words("No copyright, free to use"))];
    tags.extend(own);
    let mut table = (tags.len() as u32).to_be_bytes().to_vec();
    let mut body = Vec::new();
    let begin = 128 + 4 + 12 * tags.len();
    for (tag, data) in tags {
        table.extend(tag);
        table.extend([(begin + body.len()) as u32, data.len() as u32].map(u32::to_be_bytes).concat());
        body.extend(data);
        body.resize(body.len().next_multiple_of(4), 0);
    }
    let mut out = Vec::new();
    out.extend(((begin + body.len()) as u32).to_be_bytes());
    out.extend([0; 4]);
    out.extend([4, 0x40, 0, 0]);
    out.extend(kind);
    out.extend([2022_u16, 5, 1, 0, 0, 0].map(u16::to_be_bytes).concat());
    out.extend(b"acsp");
    out.resize(68, 0);
    out.extend(D50.map(u32::to_be_bytes).concat());
    out.resize(128, 0);
    out.extend(table);
    out.extend(body);
    out
}

/// A grey profile with the D50 white.
#[must_use]
pub fn grey_profile(tone: GreyTone) -> Vec<u8> {
    let name = match tone {
        GreyTone::Lightness => "Grey by lightness".to_owned(),
        GreyTone::Gamma(gamma) => format!("Grey, gamma {gamma}"),
    };
    let curve = match tone {
        GreyTone::Gamma(gamma) => {
            let mut out = b"para\0\0\0\0\0\0\0\0".to_vec();
            out.extend(((gamma * 65536.0) as i32).to_be_bytes());
            out
        }
        GreyTone::Lightness => table((0..1024_u16).map(|entry| {
            let light = f64::from(entry) / 10.23;
            let luminance = if light > 8.0 {
                let root = (light + 16.0) / 116.0;
                root * root * root
            } else {
                light * 27.0 / 24389.0
            };
            code(luminance)
        })),
    };
    profile(b"prtrGRAYXYZ ", &name, vec![(b"wtpt", tristimulus(D50)), (b"kTRC", curve)])
}

/// The profile of what a print is: parts of full scale of the luminance relative to that of its white, for codes at even distances from 0 to
/// full scale, and the white itself beside the D50 of the connection space.
#[must_use]
pub fn print_profile(name: &str, relative: &[f64], white: Xyz) -> Vec<u8> {
    let own = [white.x, white.y, white.z].map(fixed16);
    let curve = table(relative.iter().map(|own| code(*own)));
    profile(b"prtrGRAYXYZ ", name, vec![(b"wtpt", tristimulus(own)), (b"kTRC", curve)])
}

/// The white of a print of a luminance, neutral.
#[must_use]
pub fn neutral_white(luminance: f64) -> Xyz {
    let Xyz { x, y, z } = White::IccD50.xyz();
    Xyz { x: x * luminance, y: y * luminance, z: z * luminance }
}

/// One curve as an element of its own (`mpet`), in numbers of 32 bits: level below the first and beyond the last, straight lines between.
fn curve_element(out: &[f64]) -> Vec<u8> {
    let number = |own: f64| (own as f32).to_be_bytes();
    // A level piece: Y = (0 · X + 0)¹ + c.
    let level = |own: f64| {
        let mut piece = b"parf\0\0\0\0\0\0\0\0".to_vec();
        piece.extend([1.0, 0.0, 0.0, own].map(number).concat());
        piece
    };
    let (first, last) = (out.first().copied().unwrap_or(0.0), out.last().copied().unwrap_or(1.0));
    // Three pieces that meet at 0 and at 1.
    let mut curve = b"curf\0\0\0\0\0\x03\0\0".to_vec();
    curve.extend([0.0, 1.0].map(number).concat());
    curve.extend(level(first));
    curve.extend(b"samf\0\0\0\0");
    // Its first value is where the piece before it ends.
    curve.extend((out.len().saturating_sub(1) as u32).to_be_bytes());
    curve.extend(out.iter().skip(1).flat_map(|own| number(*own)));
    curve.extend(level(last));
    let mut set = b"cvst\0\0\0\0\0\x01\0\x01".to_vec();
    set.extend([20, curve.len() as u32].map(u32::to_be_bytes).concat());
    set.extend(curve);
    let mut element = b"mpet\0\0\0\0\0\x01\0\x01".to_vec();
    element.extend([1, 24, set.len() as u32].map(u32::to_be_bytes).concat());
    element.extend(set);
    element
}

/// A device link from grey to grey: parts of full scale that come out for codes at even distances from 0 to full scale. It has one curve and
/// nothing else, so that programs that join curves into a table of their own do not make it coarser. The same curve stands in it twice: in 16 bits, and
/// for programs that take numbers in floating point, which then look it up between the codes.
#[must_use]
pub fn device_link(name: &str, out: &[f64]) -> Vec<u8> {
    // One channel in, one out; the B curve begins behind this head, and there is no other stage.
    let mut stages = b"mAB \0\0\0\0\x01\x01\0\0".to_vec();
    stages.extend([32_u32, 0, 0, 0, 0].map(u32::to_be_bytes).concat());
    stages.extend(table(out.iter().map(|own| code(*own))));
    // One step: no maker, model or attributes, and the same words for both.
    let mut steps = b"pseq\0\0\0\0\0\0\0\x01".to_vec();
    steps.extend([0; 20]);
    steps.extend(words("none"));
    steps.extend(words("grey"));
    profile(b"linkGRAYGRAY", name, vec![(b"A2B0", stages), (b"D2B0", curve_element(out)), (b"pseq", steps)])
}
