//! Files that lie. Each is refused by name, before much memory is asked for.

use std::path::Path;

use handcoat_pixels::{Budget, Picture, Refused};

use crate::made::{Dice, grey, write_tiff};

fn read(path: &Path) -> Result<(), Refused> {
    Picture::open(path, &Budget::default())?.each_grey_row(|_, _| {})
}

#[test]
fn what_is_no_picture_is_named() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("file");
    for (bytes, code) in [
        (&b""[..], "picture_unknown"),
        (b"GIF89a", "picture_unknown"),
        (b"%PDF-1.7", "picture_unknown"),
        (b"II*\0", "picture_ends_early"),
        (b"MM\0*\0\0\0\x08", "picture_ends_early"),
        (b"\x89PNG\r\n\x1a\n", "picture_ends_early"),
        (b"\xff\xd8\xff\xe0", "picture_field"),
    ] {
        std::fs::write(&path, bytes).expect("written");
        let error = read(&path).expect_err("refused");
        assert_eq!(error.code(), code, "{bytes:?}: {error}");
    }
    assert_eq!(read(folder.path()).expect_err("a folder").code(), "picture_unreadable");
}

#[test]
fn every_cut_and_every_changed_byte_is_refused_or_read() {
    let folder = tempfile::tempdir().expect("a folder");
    let (from, path) = (folder.path().join("in.tif"), folder.path().join("file"));
    write_tiff(&from, 9, 7, 1, &grey(9, 7, 1), None);
    let whole = std::fs::read(&from).expect("read");
    for length in 0..whole.len() {
        std::fs::write(&path, &whole[..length]).expect("written");
        assert!(read(&path).is_err(), "cut to {length}");
    }
    let mut dice = Dice(11);
    for at in 0..150 {
        for _ in 0..4 {
            let mut changed = whole.clone();
            changed[at] = dice.below(256) as u8;
            std::fs::write(&path, &changed).expect("written");
            // No panic, whatever it says; most of these are still a picture.
            let _ = read(&path);
        }
    }
}

#[test]
fn sizes_are_held_against_the_budget_before_anything_is_read() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("file.tif");
    write_tiff(&path, 9, 7, 1, &grey(9, 7, 1), None);
    let whole = std::fs::read(&path).expect("read");
    // Width is the value of the first field, height of the second.
    for (width, height, code) in [
        (0_u32, 7_u32, "picture_size"),
        (9, 0, "picture_size"),
        (u32::MAX, u32::MAX, "picture_size"),
        (100_000_000, 10, "picture_row_too_long"),
        // One strip of seven rows is not enough.
        (20_000, 20_000, "picture_field"),
    ] {
        let mut changed = whole.clone();
        changed[18..22].copy_from_slice(&width.to_le_bytes());
        changed[30..34].copy_from_slice(&height.to_le_bytes());
        std::fs::write(&path, &changed).expect("written");
        let error = read(&path).expect_err("refused");
        assert_eq!(error.code(), code, "{width} × {height}: {error}");
    }
}
