//! What a PNG says of its colours without a profile, against the values of other libraries in `tests/known/png_colours.csv`, made by the script beside it.
//! The order of what counts is that of the PNG specification, third edition (W3C 2025), 4.3 and 11.3.2: code points, profile, sRGB, gamma (from memory).

use std::path::Path;

use flate2::Compression;
use flate2::write::ZlibEncoder;
use handcoat_pixels::{Budget, GreyTone, Picture, Refused, grey_profile};
use std::io::Write as _;

const KNOWN: &str = include_str!("../../../../tests/known/png_colours.csv");

/// A chunk of a PNG.
fn chunk(kind: &[u8; 4], data: &[u8]) -> Vec<u8> {
    let named = [&kind[..], data].concat();
    [&(data.len() as u32).to_be_bytes()[..], &named, &crc32fast::hash(&named).to_be_bytes()].concat()
}

fn packed(bytes: &[u8]) -> Vec<u8> {
    let mut own = ZlibEncoder::new(Vec::new(), Compression::fast());
    own.write_all(bytes).expect("packed");
    own.finish().expect("packed")
}

/// A PNG of one row of 16 bits, grey or RGB, with those chunks before its pixels; written here so that the product does not check itself.
fn write(path: &Path, samples: usize, codes: &[u16], said: &[Vec<u8>]) {
    let width = (codes.len() / samples) as u32;
    let head = [&width.to_be_bytes()[..], &[0, 0, 0, 1, 16, if samples == 3 { 2 } else { 0 }, 0, 0, 0]].concat();
    let row: Vec<u8> = std::iter::once(0).chain(codes.iter().flat_map(|own| own.to_be_bytes())).collect();
    let all = [
        b"\x89PNG\r\n\x1a\n".to_vec(),
        chunk(b"IHDR", &head),
        said.concat(),
        chunk(b"IDAT", &packed(&row)),
        chunk(b"IEND", &[]),
    ];
    std::fs::write(path, all.concat()).expect("written");
}

fn grey(path: &Path) -> Result<Vec<u16>, Refused> {
    let mut all = Vec::new();
    Picture::open(path, &Budget::default())?.each_grey_row(|_, row| all.extend_from_slice(row))?;
    Ok(all)
}

fn gamma(own: u32) -> Vec<u8> {
    chunk(b"gAMA", &own.to_be_bytes())
}

fn profile(own: GreyTone) -> Vec<u8> {
    chunk(b"iCCP", &[b"own\0\0", &packed(&grey_profile(own))[..]].concat())
}

#[test]
fn colours_a_png_states_are_those_of_other_libraries_to_two_codes() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("own.png");
    let mut rows = 0;
    for line in KNOWN.lines() {
        let own: Vec<&str> = line.split(',').collect();
        let [kind, power, chromaticities, r, g, b, wanted] = own.as_slice() else { panic!("{line}") };
        let said = match *kind {
            "srgb" => vec![chunk(b"sRGB", &[1]), gamma(45_455)],
            _ => {
                let all = chromaticities.split(' ').flat_map(|own| own.parse::<u32>().expect("a number").to_be_bytes());
                vec![gamma(power.parse().expect("a number")), chunk(b"cHRM", &all.collect::<Vec<u8>>())]
            }
        };
        let codes = [r, g, b].map(|own| own.parse().expect("a code"));
        write(&path, 3, &codes, &said);
        let (seen, wanted) = (f64::from(grey(&path).expect("a picture")[0]), wanted.parse::<f64>().expect("a number"));
        assert!((seen - wanted).abs() <= 2.0, "{line}: {seen}");
        rows += 1;
    }
    assert_eq!(rows, 320);
}

#[test]
fn a_profile_goes_before_srgb_and_srgb_before_gamma_and_code_points_before_all() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("own.png");
    let read = |said: &[Vec<u8>]| {
        write(&path, 1, &[32_768], said);
        grey(&path)
    };
    let one = |said: &[Vec<u8>]| read(said).expect("a picture")[0];
    let srgb = || chunk(b"sRGB", &[0]);
    // The middle code: L* of 0.2140 of the light (IEC 61966-2-1), of half the light, and of half of it squared.
    let (as_srgb, as_light, as_square) = (one(&[srgb()]), one(&[gamma(100_000)]), one(&[gamma(50_000)]));
    let near = |own: u16, l_star: f64| assert!((f64::from(own) / 655.35 - l_star).abs() < 0.02, "{own} for {l_star}");
    near(as_srgb, 53.39);
    near(as_light, 76.07);
    near(as_square, 57.08);
    assert_eq!(one(&[]), 32_768, "what says nothing is taken as it is");
    assert_eq!(one(&[gamma(100_000), srgb()]), as_srgb);
    assert_eq!(one(&[profile(GreyTone::Gamma(1.0)), gamma(50_000)]), as_light);
    assert_eq!(one(&[profile(GreyTone::Gamma(1.0)), srgb(), gamma(50_000)]), as_light);
    let points = |own: [u8; 4]| chunk(b"cICP", &own);
    assert_eq!(one(&[points([1, 13, 0, 1]), gamma(50_000)]), as_srgb);
    let refused = read(&[points([9, 16, 0, 1])]).expect_err("a transfer that is not taken");
    assert_eq!(refused.code(), "picture_sort", "{refused}");
    // Chromaticities alone do not say how codes become light; those of no triangle say nothing.
    let chroma = |all: [u32; 8]| chunk(b"cHRM", &all.iter().flat_map(|own| own.to_be_bytes()).collect::<Vec<u8>>());
    let flat = chroma([31_270, 32_900, 64_000, 33_000, 64_000, 33_000, 15_000, 6_000]);
    assert_eq!(one(std::slice::from_ref(&flat)), 32_768);
    write(&path, 3, &[9, 9, 9], &[gamma(45_455), flat]);
    assert_eq!(grey(&path).expect_err("no triangle").code(), "picture_profile");
}
