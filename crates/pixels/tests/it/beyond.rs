//! Pictures in floating point whose values go beyond 0 to 1.

use std::path::Path;

use handcoat_pixels::{Beyond, Budget, Picture, Refused};

/// A TIFF of 32-bit floating point in one strip, with so many samples to a pixel, the last of four a cover.
fn write(path: &Path, width: u32, samples: u16, values: &[f32]) {
    let height = values.len() as u32 / width / u32::from(samples);
    let short = |tag: u16, values: &[u16], behind: u32| {
        let count = values.len() as u32;
        let own = match values {
            [one] => u32::from(*one),
            [one, two] => u32::from(*one) | u32::from(*two) << 16,
            _ => behind,
        };
        [&tag.to_le_bytes()[..], &3_u16.to_le_bytes(), &count.to_le_bytes(), &own.to_le_bytes()].concat()
    };
    let long = |tag: u16, value: u32| {
        [&tag.to_le_bytes()[..], &4_u16.to_le_bytes(), &1_u32.to_le_bytes(), &value.to_le_bytes()].concat()
    };
    let fields = 10 + u32::from(samples == 4);
    let behind = 8 + 2 + 12 * fields + 4;
    let (bits, formats) = (vec![32_u16; usize::from(samples)], vec![3_u16; usize::from(samples)]);
    let mut all = [
        long(256, width),
        long(257, height),
        short(258, &bits, behind),
        short(259, &[1], 0),
        short(262, &[if samples == 1 { 1 } else { 2 }], 0),
        long(273, behind + 16),
        short(277, &[samples], 0),
        long(278, height),
        long(279, values.len() as u32 * 4),
    ]
    .concat();
    if samples == 4 {
        all.extend(short(338, &[2], 0));
    }
    all.extend(short(339, &formats, behind + 8));
    let mut out = b"II\x2a\0\x08\0\0\0".to_vec();
    out.extend((fields as u16).to_le_bytes());
    out.extend(all);
    out.extend([0; 4]);
    for own in [bits, formats] {
        out.extend(own.iter().chain(&[0; 4]).take(4).flat_map(|own| own.to_le_bytes()));
    }
    out.extend(values.iter().flat_map(|own| own.to_le_bytes()));
    std::fs::write(path, out).expect("written");
}

fn beyond(path: &Path) -> Result<Option<Beyond>, Refused> {
    Picture::open(path, &Budget::default())?.beyond()
}

#[test]
fn what_lies_beyond_is_counted_by_pixels_and_a_cover_is_no_colour() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("own.tif");
    write(&path, 4, 1, &[0.0, 1.0, 0.5, -0.25, 1.5, 0.1, 7.0, 0.2]);
    let own = beyond(&path).expect("a picture").expect("something beyond");
    assert_eq!(own, Beyond { pixels: 3, of: 8, least: -0.25, most: 7.0 });
    // Two samples beyond are one pixel, and a cover of 9 is none.
    write(&path, 2, 4, &[2.0, -1.0, 0.5, 1.0, 0.5, 0.5, 0.5, 9.0]);
    let own = beyond(&path).expect("a picture").expect("something beyond");
    assert_eq!(own, Beyond { pixels: 1, of: 2, least: -1.0, most: 2.0 });
    write(&path, 2, 1, &[0.0, 1.0, 0.5, 0.25]);
    assert_eq!(beyond(&path).expect("a picture"), None);
    write(&path, 2, 1, &[0.0, f32::INFINITY, 0.5, 0.25]);
    assert_eq!(beyond(&path).expect("a picture").map(|own| (own.pixels, own.most)), Some((1, f64::INFINITY)));
    write(&path, 2, 1, &[0.0, 1.0, 0.5, f32::NAN]);
    assert_eq!(beyond(&path).expect_err("no number").code(), "picture_not_a_number");
}
