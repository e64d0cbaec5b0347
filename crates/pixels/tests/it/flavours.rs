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
