//! Pictures for the tests, and the plainest TIFF there is, written here so that the product does not check itself.

use std::path::Path;

/// Numbers from a seed (splitmix64).
pub(crate) struct Dice(pub(crate) u64);

impl Dice {
    pub(crate) fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        z ^ (z >> 31)
    }

    pub(crate) fn below(&mut self, most: u64) -> u64 {
        self.next() % most
    }
}

/// A ramp with squares and noise.
pub(crate) fn grey(width: u32, height: u32, seed: u64) -> Vec<u16> {
    let mut dice = Dice(seed);
    let mut out = Vec::new();
    for y in 0..height {
        for x in 0..width {
            let ramp = 65535 * u64::from(x + y) / u64::from(width + height);
            let square = if (x / 7 + y / 5) % 4 == 0 { 20_000 } else { 0 };
            out.push((ramp / 2 + square + dice.below(6_000)).min(65535) as u16);
        }
    }
    out
}

/// An uncompressed TIFF in one strip, low byte first, of one or three samples of 16 bits.
pub(crate) fn write_tiff(path: &Path, width: u32, height: u32, samples: u16, codes: &[u16], profile: Option<&[u8]>) {
    assert_eq!(codes.len(), (width * height) as usize * usize::from(samples));
    let entry = |tag: u16, kind: u16, count: u32, value: u32| {
        let mut out = Vec::new();
        out.extend(tag.to_le_bytes());
        out.extend(kind.to_le_bytes());
        out.extend(count.to_le_bytes());
        out.extend(value.to_le_bytes());
        out
    };
    let fields = 9 + u32::from(profile.is_some());
    let behind = 8 + 2 + 12 * fields + 4;
    let pixels = behind + 6;
    let length = codes.len() as u32 * 2;
    let bits = if samples == 1 { entry(258, 3, 1, 16) } else { entry(258, 3, 3, behind) };
    let mut out = b"II*\0\x08\0\0\0".to_vec();
    out.extend((fields as u16).to_le_bytes());
    for own in [
        entry(256, 4, 1, width),
        entry(257, 4, 1, height),
        bits,
        entry(259, 3, 1, 1),
        entry(262, 3, 1, if samples == 1 { 1 } else { 2 }),
        entry(273, 4, 1, pixels),
        entry(277, 3, 1, u32::from(samples)),
        entry(278, 4, 1, height),
        entry(279, 4, 1, length),
    ] {
        out.extend(own);
    }
    if let Some(profile) = profile {
        out.extend(entry(34675, 7, profile.len() as u32, pixels + length));
    }
    out.extend([0; 4]);
    out.extend([16, 0, 16, 0, 16, 0]);
    out.extend(codes.iter().flat_map(|code| code.to_le_bytes()));
    out.extend(profile.unwrap_or_default());
    std::fs::write(path, out).expect("a file");
}

/// All rows of a picture in grey.
pub(crate) fn read_grey(path: &Path) -> (u32, u32, Vec<u16>) {
    let picture = handcoat_pixels::Picture::open(path, &handcoat_pixels::Budget::default()).expect("a picture");
    let mut out = Vec::new();
    picture.each_grey_row(|_, row| out.extend_from_slice(row)).expect("rows");
    (picture.header().width, picture.header().height, out)
}

/// All rows of a picture as bytes.
pub(crate) fn read_raw(path: &Path) -> Vec<u8> {
    let picture = handcoat_pixels::Picture::open(path, &handcoat_pixels::Budget::default()).expect("a picture");
    let mut out = Vec::new();
    picture.each_row(|_, row| out.extend_from_slice(row)).expect("rows");
    out
}
