//! TIFFs as a general library writes them, `tests/known/tiff`: each decodes to the pixels its name promises, or is refused as its name says.

use std::path::PathBuf;

use handcoat_pixels::{Budget, Picture};

fn folder() -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("../../tests/known/tiff")
}

#[test]
fn every_flavour_decodes_to_the_pixels_of_its_name_or_is_refused() {
    let (mut decoded, mut refused) = (0, 0);
    for entry in std::fs::read_dir(folder()).expect("the folder of flavours") {
        let path = entry.expect("an entry").path();
        let name = path.file_stem().expect("a name").to_string_lossy().into_owned();
        let (name, ending) = name.rsplit_once('-').expect("an ending");
        let opened = Picture::open(&path, &Budget::default());
        if name.starts_with("refused") {
            let error = opened.expect_err(name);
            assert_eq!(error.code(), ending, "{name}: {error}");
            refused += 1;
            continue;
        }
        let picture = opened.unwrap_or_else(|error| panic!("{name}: {error}"));
        let header = picture.header().clone();
        let bytes = header.depth.bytes();
        let mut all = Vec::new();
        picture
            .each_row(|_, row| {
                for sample in row.chunks_exact(bytes) {
                    if header.big_endian {
                        all.extend(sample.iter().rev());
                    } else {
                        all.extend(sample);
                    }
                }
            })
            .unwrap_or_else(|error| panic!("{name}: {error}"));
        assert_eq!(format!("{:08x}", crc32fast::hash(&all)), ending, "{name}");
        picture.each_grey_row(|_, _| {}).unwrap_or_else(|error| panic!("{name}: {error}"));
        decoded += 1;
    }
    assert!(decoded > 70 && refused >= 9, "{decoded} decoded, {refused} refused");
}

fn pictures() -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("../../tests/known/pictures")
}

fn samples(picture: &Picture) -> Vec<u8> {
    let (bytes, big) = (picture.header().depth.bytes(), picture.header().big_endian);
    let mut out = Vec::new();
    let mut see = |row: &[u8]| {
        for sample in row.chunks_exact(bytes) {
            if big {
                out.extend(sample.iter().rev());
            } else {
                out.extend(sample);
            }
        }
    };
    picture.each_row(|_, row| see(row)).expect("rows");
    out
}

#[test]
fn every_png_decodes_to_the_pixels_of_its_name() {
    let mut decoded = 0;
    for entry in std::fs::read_dir(pictures()).expect("the folder") {
        let path = entry.expect("an entry").path();
        let name = path.file_name().expect("a name").to_string_lossy().into_owned();
        let Some(stem) = name.strip_suffix(".png").filter(|stem| !stem.ends_with(".decoded")) else { continue };
        let (stem, ending) = stem.rsplit_once('-').expect("an ending");
        let picture = Picture::open(&path, &Budget::default()).unwrap_or_else(|error| panic!("{name}: {error}"));
        assert_eq!(format!("{:08x}", crc32fast::hash(&samples(&picture))), ending, "{name}");
        let header = picture.header();
        assert_eq!(header.profile.is_some(), stem.ends_with("profile"), "{name}");
        let ppi = header.ppi.map(|(across, _)| across.per_inch().round());
        assert_eq!(ppi, stem.ends_with("720-ppi").then_some(720.0), "{name}");
        decoded += 1;
    }
    assert_eq!(decoded, 9);
}

#[test]
fn every_jpeg_decodes_to_what_another_library_makes_of_it() {
    for name in ["grey", "colour-whole", "colour-half", "progressive", "profile", "orientation-6"] {
        let open = |ending: &str| {
            let path = pictures().join(format!("{name}.{ending}"));
            Picture::open(&path, &Budget::default()).unwrap_or_else(|error| panic!("{name}: {error}"))
        };
        let (own, theirs) = (open("jpg"), open("decoded.png"));
        assert_eq!(own.header().orientation.tag(), if name == "orientation-6" { 6 } else { 1 }, "{name}");
        assert_eq!(own.header().profile.is_some(), name == "profile");
        let (own, theirs) = (samples(&own), samples(&theirs));
        assert_eq!(own.len(), theirs.len(), "{name}");
        let apart: Vec<u32> = own.iter().zip(&theirs).map(|(a, b)| u32::from(a.abs_diff(*b))).collect();
        let mean = f64::from(apart.iter().sum::<u32>()) / apart.len() as f64;
        // The standard leaves the rounding of the inverse transform open, and how colour at half the resolution is spread.
        let most =
            if name == "colour-whole" || name.starts_with("grey") || name.starts_with("orientation") { 3 } else { 40 };
        assert!(apart.iter().all(|&own| own <= most) && mean < 1.5, "{name}: {:?} {mean}", apart.iter().max());
    }
    let refused = Picture::open(&pictures().join("refused-four-inks-picture_sort.jpg"), &Budget::default());
    assert_eq!(refused.expect_err("four inks").code(), "picture_sort");
}
