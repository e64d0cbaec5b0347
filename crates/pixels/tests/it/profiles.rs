//! Profiles: what is embedded is read by its meaning, and what we write is read back.

use handcoat_pixels::{
    Budget, Format, GreyTone, Job, Packing, Picture, Ppi, Run, device_link, grey_profile, make, neutral_white,
    print_profile,
};

use crate::made::{read_grey, write_tiff};

fn lightness(luminance: f64) -> f64 {
    if luminance > 0.008856 { 116.0 * luminance.cbrt() - 16.0 } else { 903.3 * luminance }
}

#[test]
fn a_grey_profile_of_gamma_brings_codes_to_lightness() {
    let folder = tempfile::tempdir().expect("a folder");
    let from = folder.path().join("in.tif");
    let ramp: Vec<u16> = (0..=65535).collect();
    for gamma in [1.0, 1.8, 2.2] {
        write_tiff(&from, 256, 256, 1, &ramp, Some(&grey_profile(GreyTone::Gamma(gamma))));
        let (.., out) = read_grey(&from);
        for (code, own) in ramp.iter().zip(&out) {
            let exact = lightness((f64::from(*code) / 65535.0).powf(gamma)) / 100.0 * 65535.0;
            assert!((f64::from(*own) - exact).abs() < 4.0, "gamma {gamma}: {code} gave {own}, wanted {exact}");
        }
    }
}

#[test]
fn a_profile_of_lightness_changes_next_to_nothing() {
    let folder = tempfile::tempdir().expect("a folder");
    let from = folder.path().join("in.tif");
    let ramp: Vec<u16> = (0..=65535).collect();
    write_tiff(&from, 256, 256, 1, &ramp, Some(&grey_profile(GreyTone::Lightness)));
    let (.., out) = read_grey(&from);
    for (code, own) in ramp.iter().zip(&out) {
        // 1,024 entries of 16 bits: the darkest are coarse.
        let most = if *code < 6_000 { 120 } else { 12 };
        assert!(own.abs_diff(*code) <= most, "{code} gave {own}");
    }
}

#[test]
fn profile_resolution_and_note_are_in_the_file_that_is_written() {
    let folder = tempfile::tempdir().expect("a folder");
    let from = folder.path().join("in.tif");
    write_tiff(&from, 20, 10, 1, &[30_000; 200], None);
    let open = |path: &std::path::Path| Picture::open(path, &Budget::default()).expect("a picture");
    let picture = std::sync::Arc::new(open(&from));
    for format in [Format::Tiff(Packing::None), Format::Tiff(Packing::Deflate), Format::Tiff(Packing::Lzw), Format::Png]
    {
        let mut job = Job::plain(std::sync::Arc::clone(&picture), (20, 10), Ppi::new(1440.0).expect("ppi"));
        job.profile = Some(grey_profile(GreyTone::Gamma(2.2)));
        job.note = Some("curve 17".to_owned());
        job.format = format;
        let to = folder.path().join("out");
        make(&job, &to, &Run::default()).expect("made");
        let header = open(&to).header().clone();
        assert_eq!(header.profile, job.profile, "{format:?}");
        let (across, down) = header.ppi.expect("a resolution");
        assert!((across.per_inch() - 1440.0).abs() < 0.02 && across == down, "{format:?} {across:?}");
        let bytes = std::fs::read(&to).expect("read");
        assert!(bytes.windows(8).any(|own| own == b"curve 17"), "{format:?}");
        std::fs::remove_file(to).expect("removed");
    }
}

/// A matrix profile as its standard describes it, written here.
fn rgb_profile(gamma: f64, luminances: [f64; 3]) -> Vec<u8> {
    let fixed = |number: f64| ((number * 65536.0).round() as i32).to_be_bytes();
    let xyz = |y: f64| {
        let mut out = b"XYZ \0\0\0\0".to_vec();
        out.extend([fixed(0.3), fixed(y), fixed(0.27)].concat());
        out
    };
    let mut curve = b"para\0\0\0\0\0\0\0\0".to_vec();
    curve.extend(fixed(gamma));
    let tags: Vec<(&[u8; 4], Vec<u8>)> = vec![
        (b"rXYZ", xyz(luminances[0])),
        (b"gXYZ", xyz(luminances[1])),
        (b"bXYZ", xyz(luminances[2])),
        (b"rTRC", curve.clone()),
        (b"gTRC", curve.clone()),
        (b"bTRC", curve),
        (b"wtpt", xyz(1.0)),
    ];
    let mut table = (tags.len() as u32).to_be_bytes().to_vec();
    let mut body: Vec<u8> = Vec::new();
    let begin = 132 + 12 * tags.len();
    for (tag, data) in tags {
        table.extend(tag);
        table.extend(((begin + body.len()) as u32).to_be_bytes());
        table.extend((data.len() as u32).to_be_bytes());
        body.extend(data);
    }
    let mut out = ((begin + body.len()) as u32).to_be_bytes().to_vec();
    out.extend(b"\0\0\0\0\x04\x40\0\0mntrRGB XYZ ");
    out.extend([0x07, 0xe6, 0, 5, 0, 1, 0, 0, 0, 0, 0, 0]);
    out.extend(b"acsp");
    out.resize(68, 0);
    out.extend([fixed(0.9642), fixed(1.0), fixed(0.8249)].concat());
    out.resize(128, 0);
    out.extend(table);
    out.extend(body);
    out
}

#[test]
fn an_rgb_profile_gives_the_lightness_of_its_own_luminance() {
    let folder = tempfile::tempdir().expect("a folder");
    let from = folder.path().join("in.tif");
    let mut dice = crate::made::Dice(2);
    let codes: Vec<u16> = (0..64 * 64 * 3).map(|_| dice.below(65536) as u16).collect();
    // sRGB's, at D50.
    let weights = [0.2225, 0.7169, 0.0606];
    write_tiff(&from, 64, 64, 3, &codes, Some(&rgb_profile(2.2, weights)));
    let (.., out) = read_grey(&from);
    for (pixel, own) in codes.chunks_exact(3).zip(&out) {
        let linear = |code: u16| (f64::from(code) / 65535.0).powf(2.2);
        let luminance: f64 = pixel.iter().zip(weights).map(|(&code, weight)| linear(code) * weight).sum();
        let exact = lightness(luminance) / 100.0 * 65535.0;
        assert!((f64::from(*own) - exact).abs() < 6.0, "{pixel:?} gave {own}, wanted {exact}");
    }
}

#[test]
fn a_profile_of_another_kind_is_refused_by_name() {
    let folder = tempfile::tempdir().expect("a folder");
    let from = folder.path().join("in.tif");
    for (samples, profile) in [
        (1_u16, rgb_profile(2.2, [0.2, 0.7, 0.1])),
        (3, grey_profile(GreyTone::Gamma(2.2))),
        (1, b"no profile".to_vec()),
        (3, rgb_profile(2.2, [0.0, 0.0, 0.0])),
    ] {
        write_tiff(&from, 4, 4, samples, &vec![0; 16 * usize::from(samples)], Some(&profile));
        let error = handcoat_pixels::Picture::open(&from, &handcoat_pixels::Budget::default()).expect_err("refused");
        assert_eq!(error.code(), "picture_profile", "{error}");
    }
}

#[test]
fn what_is_written_for_others_is_read_by_an_independent_reader() {
    use moxcms::{ColorProfile, DataColorSpace, ProfileClass, ToneReprCurve};
    let curve: Vec<f64> = (0..4096).map(|own| (f64::from(own) / 4095.0).powf(1.7)).collect();
    let link = ColorProfile::new_from_slice(&device_link("A curve, größer", &curve)).expect("a link");
    assert_eq!((link.profile_class, link.color_space), (ProfileClass::DeviceLink, DataColorSpace::Gray));
    assert_eq!(link.pcs, DataColorSpace::Gray);
    assert!(link.lut_a_to_b_perceptual.is_some(), "its curve is not found");
    let own = ColorProfile::new_from_slice(&print_profile("A print", &curve, neutral_white(0.8))).expect("a profile");
    assert_eq!((own.profile_class, own.color_space), (ProfileClass::OutputDevice, DataColorSpace::Gray));
    let Some(ToneReprCurve::Lut(table)) = own.gray_trc else { panic!("no table") };
    assert!(table.iter().zip(&curve).all(|(own, wanted)| (f64::from(*own) - wanted * 65535.0).abs() <= 0.5));
}
