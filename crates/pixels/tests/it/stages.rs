//! Stages that work point by point, against a slow, obvious reference, bit for bit.

use std::path::Path;
use std::sync::Arc;

use handcoat_pixels::{
    Area, Budget, Drawn, DrawnStrips, Filter, Format, Ink, Job, Lut, NoJob, NotMade, Orientation, Output, Packing,
    Picture, Placed, Ppi, Run, SheetSize, make,
};

use crate::made::{Dice, grey, read_grey, read_raw, write_tiff};

fn ppi() -> Ppi {
    Ppi::new(720.0).expect("ppi")
}

fn picture(path: &Path) -> Arc<Picture> {
    Arc::new(Picture::open(path, &Budget::default()).expect("a picture"))
}

fn curve(seed: u64) -> Lut {
    let mut dice = Dice(seed);
    let mut entries: Vec<u16> = (0..65536).map(|_| dice.below(65536) as u16).collect();
    entries.sort_unstable();
    Lut::from_entries(&entries).expect("65,536")
}

#[test]
fn curve_inversion_and_mirror_are_what_they_say() {
    let folder = tempfile::tempdir().expect("a folder");
    let from = folder.path().join("in.tif");
    let (width, height) = (203, 171);
    let source = grey(width, height, 1);
    write_tiff(&from, width, height, 1, &source, None);
    let own = curve(5);
    for (number, format) in
        [Format::Tiff(Packing::None), Format::Tiff(Packing::Deflate), Format::Tiff(Packing::Lzw), Format::Png]
            .into_iter()
            .enumerate()
    {
        let mut job = Job::plain(picture(&from), (width, height), ppi());
        job.pictures[0].table = own.then(&Lut::inverting());
        job.format = format;
        let to = folder.path().join(format!("out{number}"));
        let made = make(&job, &to, &Run::default()).expect("made");
        assert_eq!((made.width_px, made.height_px), (width, height));
        let (.., out) = read_grey(&to);
        for y in 0..height as usize {
            for x in 0..width as usize {
                let code = source[y * width as usize + width as usize - 1 - x];
                assert_eq!(out[y * width as usize + x], 65535 - own.at(code), "{format:?} {x} {y}");
            }
        }
        let bytes = std::fs::read(&to).expect("the file");
        let hash = sha2::Digest::finalize(<sha2::Sha256 as sha2::Digest>::new_with_prefix(&bytes));
        assert_eq!(made.sha256, hash.iter().map(|byte| format!("{byte:02x}")).collect::<String>());
        assert_eq!(made.bytes, bytes.len() as u64);
        assert!(!folder.path().join(format!("out{number}.handcoat-part")).exists());
    }
}

#[test]
fn a_ramp_stays_monotone_through_any_curve() {
    let folder = tempfile::tempdir().expect("a folder");
    let from = folder.path().join("in.tif");
    let ramp: Vec<u16> = (0..=65535).collect();
    write_tiff(&from, 4096, 16, 1, &ramp, None);
    for seed in 0..4 {
        let mut job = Job::plain(picture(&from), (4096, 16), ppi());
        job.pictures[0].table = curve(seed);
        job.mirror = false;
        let to = folder.path().join(format!("out{seed}"));
        make(&job, &to, &Run::default()).expect("made");
        assert!(read_grey(&to).2.is_sorted());
    }
}

#[test]
fn rgb_without_a_profile_is_weighed_as_it_is() {
    let folder = tempfile::tempdir().expect("a folder");
    let from = folder.path().join("in.tif");
    let mut dice = Dice(9);
    let mut codes: Vec<u16> = (0..50 * 40 * 3).map(|_| dice.below(65536) as u16).collect();
    // Neutral pixels keep their code.
    for (at, code) in [0, 1, 777, 65_534, 65_535].into_iter().enumerate() {
        codes[at * 3..at * 3 + 3].fill(code);
    }
    write_tiff(&from, 50, 40, 3, &codes, None);
    let (.., out) = read_grey(&from);
    assert_eq!(&out[..5], &[0, 1, 777, 65_534, 65_535]);
    for (pixel, own) in codes.chunks_exact(3).zip(&out) {
        let exact = 0.2126 * f64::from(pixel[0]) + 0.7152 * f64::from(pixel[1]) + 0.0722 * f64::from(pixel[2]);
        assert!((f64::from(*own) - exact).abs() <= 1.5, "{pixel:?} {own} {exact}");
    }
}

#[test]
fn every_turn_brings_each_pixel_to_its_place() {
    let folder = tempfile::tempdir().expect("a folder");
    let from = folder.path().join("in.tif");
    // Wider than a group of the spill file is high, so that several groups meet.
    let (width, height) = (130, 1100);
    let source = grey(width, height, 4);
    write_tiff(&from, width, height, 1, &source, None);
    let at = |x: u32, y: u32| source[(y * width + x) as usize];
    for turns in 0..4 {
        let size = if turns % 2 == 1 { (height, width) } else { (width, height) };
        let mut job = Job::plain(picture(&from), size, ppi());
        job.mirror = false;
        job.pictures[0].table = Lut::straight();
        job.pictures[0].turn = Orientation::quarter_turns(turns);
        let to = folder.path().join(format!("turned{turns}"));
        make(&job, &to, &Run::default()).expect("made");
        let (.., out) = read_grey(&to);
        for y in 0..size.1 {
            for x in 0..size.0 {
                // Clockwise, by hand.
                let wanted = match turns {
                    0 => at(x, y),
                    1 => at(y, height - 1 - x),
                    2 => at(width - 1 - x, height - 1 - y),
                    _ => at(width - 1 - y, x),
                };
                assert_eq!(out[(y * size.0 + x) as usize], wanted, "{turns} turns, {x} {y}");
            }
        }
        // A part of it, cropped.
        let crop = Area { left: 17, top: 33, width: size.0 - 30, height: size.1 - 60 };
        job.pictures[0].crop = Some(crop);
        job.pictures[0].size = (crop.width, crop.height);
        job.sheet = SheetSize { width: crop.width, height: crop.height };
        let part = folder.path().join(format!("part{turns}"));
        make(&job, &part, &Run::default()).expect("made");
        let (.., cropped) = read_grey(&part);
        for y in 0..crop.height {
            for x in 0..crop.width {
                let whole = out[((y + crop.top) * size.0 + x + crop.left) as usize];
                assert_eq!(cropped[(y * crop.width + x) as usize], whole, "{turns} turns, {x} {y}");
            }
        }
    }
}

#[test]
fn the_tag_of_orientation_and_a_turn_add_up() {
    let folder = tempfile::tempdir().expect("a folder");
    let flavours = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../tests/known/tiff");
    let mut seen = 0;
    for entry in std::fs::read_dir(flavours).expect("the folder") {
        let path = entry.expect("an entry").path();
        let name = path.file_name().expect("a name").to_string_lossy().into_owned();
        let Some(tag) = name.strip_prefix("grey-u2-orientation-").and_then(|rest| rest.chars().next()) else {
            continue;
        };
        let (width, height, source) = read_grey(&path);
        let at = |x: u32, y: u32| source[(y * width + x) as usize];
        // Where the first row and the first column of the file are seen, by the table of the TIFF specification.
        let upright = |x: u32, y: u32| match tag {
            '2' => at(width - 1 - x, y),
            '3' => at(width - 1 - x, height - 1 - y),
            '4' => at(x, height - 1 - y),
            '5' => at(y, x),
            '6' => at(y, height - 1 - x),
            '7' => at(width - 1 - y, height - 1 - x),
            _ => at(width - 1 - y, x),
        };
        let stands = if tag >= '5' { (height, width) } else { (width, height) };
        for turns in 0..4 {
            let size = if turns % 2 == 1 { (stands.1, stands.0) } else { stands };
            let mut job = Job::plain(picture(&path), size, ppi());
            job.mirror = false;
            job.pictures[0].table = Lut::straight();
            job.pictures[0].turn = Orientation::quarter_turns(turns);
            let to = folder.path().join(format!("{tag}-{turns}"));
            make(&job, &to, &Run::default()).expect("made");
            let (.., out) = read_grey(&to);
            for y in 0..size.1 {
                for x in 0..size.0 {
                    let wanted = match turns {
                        0 => upright(x, y),
                        1 => upright(y, stands.1 - 1 - x),
                        2 => upright(stands.0 - 1 - x, stands.1 - 1 - y),
                        _ => upright(stands.0 - 1 - y, x),
                    };
                    assert_eq!(out[(y * size.0 + x) as usize], wanted, "tag {tag}, {turns} turns, {x} {y}");
                }
            }
            seen += 1;
        }
    }
    assert_eq!(seen, 28);
}

#[test]
fn whatever_is_packed_is_unpacked_the_same() {
    let folder = tempfile::tempdir().expect("a folder");
    let mut dice = Dice(31);
    let (width, height) = (700, 150);
    let count = (width * height) as usize;
    let noise: Vec<u16> = (0..count).map(|_| dice.below(65536) as u16).collect();
    let grain: Vec<u16> = (0..count).map(|at| 20_000 + at as u16 % 700 * 9 + dice.below(256) as u16).collect();
    let smooth: Vec<u16> = (0..count).map(|at| ((at % 700) * (at % 700) / 8) as u16).collect();
    // Differences whose counts grow like Fibonacci's numbers have the longest codes there are.
    let mut steep = Vec::new();
    let (mut one, mut two) = (1_usize, 1_usize);
    for letter in 0..24_u16 {
        steep.extend(std::iter::repeat_n(letter * 257, one));
        (one, two) = (two, one + two);
    }
    let mut code = 0_u16;
    let steep: Vec<u16> = (0..count)
        .map(|_| {
            code = code.wrapping_add(steep[dice.below(steep.len() as u64) as usize]);
            code
        })
        .collect();
    let dots: Vec<u16> = (0..count).map(|_| if dice.below(40) == 0 { 65535 } else { 0 }).collect();
    for (name, codes) in [
        ("even", vec![7; count]),
        ("noise", noise),
        ("grain", grain),
        ("smooth", smooth),
        ("steep", steep),
        ("dots", dots),
    ] {
        let from = folder.path().join(format!("{name}.tif"));
        write_tiff(&from, width, height, 1, &codes, None);
        for format in [Format::Tiff(Packing::Deflate), Format::Tiff(Packing::Lzw), Format::Png] {
            let mut job = Job::plain(picture(&from), (width, height), ppi());
            job.pictures[0].table = Lut::straight();
            job.mirror = false;
            job.format = format;
            let to = folder.path().join("packed");
            let made = make(&job, &to, &Run::default()).expect("made");
            assert!(read_grey(&to).2 == codes, "{name} {format:?}");
            if format == Format::Tiff(Packing::Deflate) {
                // Noise grows by less than a hundredth.
                assert!(made.bytes < 2 * count as u64 * 101 / 100 + 2000, "{name}: {} bytes", made.bytes);
            }
            std::fs::remove_file(to).expect("removed");
        }
    }
}

/// Codes that tell their place.
struct Rule(u32);

impl DrawnStrips for Rule {
    fn rows(&self, first: u32, into: &mut [u16]) {
        for (row, codes) in (first..).zip(into.chunks_exact_mut(self.0 as usize)) {
            for (x, code) in (0..self.0).zip(codes) {
                *code = (row * 100 + x) as u16;
            }
        }
    }
}

#[test]
fn pictures_and_drawings_lie_on_the_sheet_the_later_above() {
    let folder = tempfile::tempdir().expect("a folder");
    let (one, two) = (folder.path().join("one.tif"), folder.path().join("two.tif"));
    let (first, second) = (grey(60, 150, 1), grey(40, 90, 2));
    write_tiff(&one, 60, 150, 1, &first, None);
    write_tiff(&two, 40, 90, 1, &second, None);
    let placed = |path: &Path, size, at| Placed {
        picture: picture(path),
        turn: Orientation::upright(),
        crop: None,
        size,
        filter: Filter::Lanczos3,
        table: Lut::straight(),
        at,
    };
    let mut job = Job::plain(picture(&one), (60, 150), ppi());
    job.sheet = SheetSize { width: 150, height: 200 };
    job.ground = 12_345;
    job.mirror = true;
    job.pictures = vec![placed(&one, (60, 150), (10, 5)), placed(&two, (40, 90), (50, 100))];
    job.drawn = vec![Drawn { strips: Arc::new(Rule(30)), size: (30, 80), at: (100, 70) }];
    let to = folder.path().join("sheet.tif");
    make(&job, &to, &Run::default()).expect("made");
    let (.., out) = read_grey(&to);
    for y in 0..200_u32 {
        for x in 0..150_u32 {
            let inside = |left: u32, top: u32, w: u32, h: u32| x >= left && y >= top && x < left + w && y < top + h;
            let mut wanted = 12_345;
            if inside(10, 5, 60, 150) {
                wanted = first[((y - 5) * 60 + x - 10) as usize];
            }
            if inside(50, 100, 40, 90) {
                wanted = second[((y - 100) * 40 + x - 50) as usize];
            }
            if inside(100, 70, 30, 80) {
                wanted = ((y - 70) * 100 + x - 100) as u16;
            }
            assert_eq!(out[(y * 150 + 149 - x) as usize], wanted, "{x} {y}");
        }
    }
}

#[test]
fn one_ink_is_mixed_in_proportion() {
    let folder = tempfile::tempdir().expect("a folder");
    let from = folder.path().join("in.tif");
    let ramp: Vec<u16> = (0..=65535).collect();
    write_tiff(&from, 256, 256, 1, &ramp, None);
    let mut job = Job::plain(picture(&from), (256, 256), ppi());
    job.pictures[0].table = Lut::straight();
    job.mirror = false;
    let ink = Ink { red: 60_000, green: 20_001, blue: 0 };
    job.output = Output::Ink(ink);
    let to = folder.path().join("ink.tif");
    make(&job, &to, &Run::default()).expect("made");
    let raw = read_raw(&to);
    for (code, pixel) in (0..=65535_u16).zip(raw.chunks_exact(6)) {
        for (own, full) in pixel.chunks_exact(2).zip([ink.red, ink.green, ink.blue]) {
            let exact = 65535.0 - (65535.0 - f64::from(full)) * (65535.0 - f64::from(code)) / 65535.0;
            let own = f64::from(u16::from_le_bytes([own[0], own[1]]));
            assert!((own - exact).abs() <= 0.51, "{code} {full}: {own} {exact}");
        }
    }
}

#[test]
fn a_job_that_contradicts_itself_is_none() {
    let folder = tempfile::tempdir().expect("a folder");
    let from = folder.path().join("in.tif");
    write_tiff(&from, 10, 10, 1, &grey(10, 10, 1), None);
    let plain = || Job::plain(picture(&from), (10, 10), ppi());
    let mut beyond = plain();
    beyond.pictures[0].at = (1, 0);
    let mut crop = plain();
    crop.pictures[0].crop = Some(Area { left: 5, top: 0, width: 6, height: 10 });
    let mut far = plain();
    far.sheet = SheetSize { width: 5000, height: 10 };
    far.pictures[0].size = (5000, 10);
    let mut none = plain();
    none.sheet.height = 0;
    let target = folder.path().join("never.tif");
    for (job, wanted) in [(beyond, "Beyond"), (crop, "Crop"), (far, "Scale"), (none, "Sheet")] {
        let Err(NotMade::Job(found)) = make(&job, &target, &Run::default()) else { panic!("{wanted} was made") };
        let name = match found {
            NoJob::Beyond { .. } => "Beyond",
            NoJob::Crop { .. } => "Crop",
            NoJob::Scale { .. } => "Scale",
            NoJob::Sheet { .. } => "Sheet",
        };
        assert_eq!(name, wanted);
        assert!(!target.exists());
    }
}
