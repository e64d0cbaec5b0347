//! What a sheet of film holds: against a slow, obvious reference; its words and its code read back; samples, inks, the rule, set-ups.
//!
//! Long because the slow reference draws every part of a sheet once more.

use std::path::{Path, PathBuf};
use std::sync::atomic::AtomicBool;

use handcoat_craft::measure::ToneInput;
use handcoat_craft::negative::{Border, Mark, Rect, Sides, table};
use handcoat_figures::{letters, qr_small};
use handcoat_pixels::{Budget, Picture};
use handcoat_work::Refusal;
use handcoat_work::keep::{Keep, RecordKind, keep};
use handcoat_work::negative::{
    CurveOf, Hooks, InkAnswers, Negative, NegativeAnswers, curve_of_response, curve_of_table, make, make_inks, preview,
    with_setup,
};
use handcoat_work::sample::sample_chart;
use handcoat_work::tone::{ChartAnswers, ResponseOfSetup, fit_chart, keep_response, one_response};
use proptest::prelude::{ProptestConfig, Strategy, prop, proptest};
use proptest::{prop_assert, prop_assert_eq};

use crate::studio::{TestStudio, fields, now, some};

static GO_ON: AtomicBool = AtomicBool::new(false);

fn hooks() -> Hooks<'static> {
    Hooks::of(&|_, _| {}, &GO_ON)
}

fn made(answers: &NegativeAnswers, source: &Path, target: &Path, curve: &CurveOf) -> Result<Negative, Refusal> {
    make(answers, source, target, curve, &hooks())
}

/// A picture of codes, row by row.
#[derive(Clone)]
struct Codes {
    width: usize,
    all: Vec<u16>,
}

impl Codes {
    fn of(width: usize, height: usize, code: impl Fn(usize, usize) -> u16) -> Self {
        Self { width, all: (0..width * height).map(|own| code(own % width, own / width)).collect() }
    }

    fn height(&self) -> usize {
        self.all.len() / self.width
    }

    fn at(&self, x: usize, y: usize) -> u16 {
        self.all[y * self.width + x]
    }

    fn piece(&self, place: Rect) -> Self {
        let (left, top) = (place.left as usize, place.top as usize);
        Self::of(place.width as usize, place.height as usize, |x, y| self.at(left + x, top + y))
    }

    fn mirrored(&self) -> Self {
        Self::of(self.width, self.height(), |x, y| self.at(self.width - 1 - x, y))
    }

    fn clockwise(&self) -> Self {
        Self::of(self.height(), self.width, |x, y| self.at(y, self.height() - 1 - x))
    }

    /// Through a lens that is not sharp: a Gaussian of so many pixels, across and then down.
    fn blurred(&self, sigma: f64) -> Self {
        if sigma <= 0.0 {
            return self.clone();
        }
        let reach = (4.0 * sigma).ceil() as isize;
        let weights: Vec<(isize, f64)> =
            (-reach..=reach).map(|own| (own, (-0.5 * (own as f64 / sigma).powi(2)).exp())).collect();
        let all: f64 = weights.iter().map(|own| own.1).sum();
        let pass = |from: &Self, (right, down): (isize, isize)| {
            Self::of(from.width, from.height(), |x, y| {
                let at = |own: isize| {
                    let x = (x as isize + own * right).clamp(0, from.width as isize - 1);
                    let y = (y as isize + own * down).clamp(0, from.height() as isize - 1);
                    f64::from(from.at(x as usize, y as usize))
                };
                (weights.iter().map(|own| own.1 * at(own.0)).sum::<f64>() / all).round() as u16
            })
        };
        pass(&pass(self, (1, 0)), (0, 1))
    }

    fn lay(&mut self, own: &Self, left: u32, top: u32) {
        for y in 0..own.height() {
            for x in 0..own.width {
                self.all[(top as usize + y) * self.width + left as usize + x] = own.at(x, y);
            }
        }
    }

    /// As the plainest TIFF there is: grey, 16 bits, one strip, low byte first.
    fn write(&self, path: &Path) {
        let short = |tag: u16, value: u32| {
            [&tag.to_le_bytes()[..], &3_u16.to_le_bytes(), &1_u32.to_le_bytes(), &value.to_le_bytes()].concat()
        };
        let long = |tag: u16, value: u32| {
            [&tag.to_le_bytes()[..], &4_u16.to_le_bytes(), &1_u32.to_le_bytes(), &value.to_le_bytes()].concat()
        };
        let fields = [
            long(256, self.width as u32),
            long(257, self.height() as u32),
            short(258, 16),
            short(259, 1),
            short(262, 1),
            long(273, 8 + 2 + 9 * 12 + 4),
            short(277, 1),
            long(278, self.height() as u32),
            long(279, 2 * self.all.len() as u32),
        ];
        let mut bytes = b"II\x2a\0\x08\0\0\0".to_vec();
        bytes.extend((fields.len() as u16).to_le_bytes());
        bytes.extend(fields.concat());
        bytes.extend([0; 4]);
        bytes.extend(self.all.iter().flat_map(|own| own.to_le_bytes()));
        std::fs::write(path, bytes).expect("written");
    }

    fn read(path: &Path) -> Self {
        let picture = Picture::open(path, &Budget::default()).expect("a picture").without_profile();
        let mut all = Vec::new();
        picture.each_grey_row(|_, row| all.extend_from_slice(row)).expect("rows");
        Self { width: picture.header().width as usize, all }
    }
}

/// No two neighbours alike, nothing alike under a turn or a mirror.
fn uneven(width: usize, height: usize, salt: u32) -> Codes {
    Codes::of(width, height, |x, y| {
        let mixed = (x as u32).wrapping_mul(2_654_435_761) ^ (y as u32).wrapping_mul(40_503) ^ salt;
        (mixed.wrapping_mul(2_246_822_519) >> 15) as u16
    })
}

fn bent() -> CurveOf {
    curve_of_table("bent.csv", b"input,output\n0,0\n0.3,0.5\n1,1\n").expect("a curve")
}

fn straight() -> CurveOf {
    curve_of_table("straight.csv", b"input,output\n0,0\n1,1\n").expect("a curve")
}

/// What stands around a picture, drawn pixel by pixel.
fn reference_border(sheet: &mut Codes, border: &Border, left: u32, top: u32, code: &str, line: &str, entries: &[u16]) {
    let fill = |place: Rect, code: u16| Codes::of(place.width as usize, place.height as usize, |_, _| code);
    for (place, mark) in &border.marks {
        let code = match mark {
            Mark::Ink => 0,
            Mark::Tone(own) => entries[(own * 65535.0).round() as usize],
        };
        sheet.lay(&fill(*place, code), left + place.left, top + place.top);
    }
    let place = border.code.expect("room for a code");
    let (side, dark) = qr_small(code).expect("a code");
    let pixels = place.width as usize / side;
    let squares =
        Codes::of(side * pixels, side * pixels, |x, y| if dark[y / pixels * side + x / pixels] { 65535 } else { 0 });
    sheet.lay(&squares, left + place.left + place.width - (side * pixels) as u32, top + place.top);
    let label = border.rule.map(|own| (own.label, format!("{} mm", own.millimetres)));
    let line = border.line.map(|own| (own, line.to_owned()));
    for (place, words) in label.into_iter().chain([line.expect("room for a line")]) {
        reference_words(sheet, place, left, top, &words);
    }
}

fn reference_words(sheet: &mut Codes, place: handcoat_craft::negative::Line, left: u32, top: u32, line: &str) {
    let (high, long) = (place.place.width.min(place.place.height), place.place.width.max(place.place.height));
    let words = letters(line, high, long, 0.55).expect("words");
    let flat = Codes::of(words.width as usize, words.height as usize, |x, y| {
        let by = f64::from(words.coverage[y * words.width as usize + x]) / 255.0;
        ((1.0 - by) * 65535.0).round() as u16
    });
    // Three turns clockwise are one the other way: it is read from the foot upwards.
    let standing = if place.upwards { flat.clockwise().clockwise().clockwise() } else { flat };
    let (width, height) = (standing.width as u32, standing.height() as u32);
    let across = if place.upwards { place.place.width - width } else { 0 };
    sheet.lay(&standing, left + place.place.left + across, top + place.place.top + place.place.height - height);
}

#[test]
fn a_sheet_with_everything_is_that_of_a_slow_reference_bit_for_bit() {
    let folder = tempfile::tempdir().expect("a folder");
    let (one, two) = (folder.path().join("heron.tif"), folder.path().join("mill.tif"));
    let sources = [uneven(1500, 800, 1), uneven(1200, 2875, 7)];
    sources[0].write(&one);
    sources[1].write(&two);
    let target = folder.path().join("sheet.tif");
    // At 300 to the inch each is shown pixel for pixel: 80 % of the height becomes the width once it is turned.
    let answers = NegativeAnswers {
        also: vec![two.clone()],
        width: some(&format!("{}in,{}in", 640.0 / 300.0, 2300.0 / 300.0)),
        ppi: some("300"),
        crop: some("10%,20%,70%x80%"),
        turn: some("90"),
        sheet: some("20x12in"),
        film_margin: some("4mm"),
        gap: some("6mm"),
        copies: some("2"),
        day: some("2026-05-14"),
        ..NegativeAnswers::default()
    };
    let negative = made(&answers, &one, &target, &bent()).expect("a negative");
    assert_eq!((negative.width_px, negative.height_px, negative.pictures.len()), (6000, 3600, 4));
    let part = |own| ToneInput::part(own).expect("a part");
    let entries =
        table(&[(0.0, 0.0), (0.3, 0.5), (1.0, 1.0)].map(|own| (part(own.0), part(own.1))), true).expect("a table");
    let mut sheet = Codes::of(6000, 3600, |_, _| 65535);
    let upwards = |own: usize| negative.pictures[own].border.as_ref().and_then(|own| own.line).map(|own| own.upwards);
    assert_eq!((upwards(0), upwards(2)), (Some(true), Some(false)), "both ways of a line are looked at");
    for (number, own) in negative.pictures.iter().enumerate() {
        let source = &sources[number / 2];
        let (width, height) = (source.width as f64, source.height() as f64);
        let area = Rect {
            left: (width * 0.1).round() as u32,
            top: (height * 0.2).round() as u32,
            width: (width * 0.7).round() as u32,
            height: (height * 0.8).round() as u32,
        };
        let mut shown = source.piece(area).clockwise();
        assert_eq!(
            (own.scale, own.place.width as usize, own.place.height as usize),
            (1.0, shown.width, shown.height())
        );
        shown.all.iter_mut().for_each(|code| *code = entries[usize::from(*code)]);
        sheet.lay(&shown, own.place.left, own.place.top);
        let border = own.border.as_ref().expect("a border");
        let (left, top) = (own.place.left - border.picture.left, own.place.top - border.picture.top);
        let name = if number < 2 { "heron" } else { "mill" };
        let code = format!("HANDCOAT{}", negative.mark);
        let (across, down) = (f64::from(own.place.width) / 300.0 * 25.4, f64::from(own.place.height) / 300.0 * 25.4);
        let line = format!("{} · {name} · bent.csv · 2026-05-14 · {across:.0} × {down:.0} mm, 300 ppi", negative.mark);
        assert_eq!((own.code.as_deref(), own.line.as_deref()), (Some(code.as_str()), Some(line.as_str())));
        reference_border(&mut sheet, border, left, top, &code, &line, &entries);
    }
    let file = Codes::read(&target);
    let sheet = sheet.mirrored();
    assert!(file.width == sheet.width && file.height() == sheet.height());
    let off = file.all.iter().zip(&sheet.all).position(|own| own.0 != own.1);
    assert_eq!(off.map(|own| (own % 6000, own / 6000, file.all[own], sheet.all[own])), None);
}

#[test]
fn the_code_in_the_border_reads_back_once_the_film_is_turned_over_and_the_words_are_right_reading() {
    let folder = tempfile::tempdir().expect("a folder");
    let (source, target) = (folder.path().join("heron.tif"), folder.path().join("negative.tif"));
    // Wider than the rule and a line beside it.
    uneven(1400, 700, 3).write(&source);
    let answers = NegativeAnswers { width: some("210mm"), ppi: some("300"), ..NegativeAnswers::default() };
    let negative = made(&answers, &source, &target, &straight()).expect("a negative");
    let (file, border) = (Codes::read(&target), negative.border.expect("a border"));
    let over = file.mirrored();
    let place = border.code.expect("a code");
    let near = Rect { left: place.left - 20, width: place.width + 40, top: place.top - 20, height: place.height + 20 };
    // As it prints: clear film dark, ink light.
    let near = over.piece(near);
    let print = Codes::of(near.width, near.height(), |x, y| 65535 - near.at(x, y));
    assert_eq!(place.width, 29 * 6, "squares of half a millimetre");
    for blur_mm in [0.0, 0.1] {
        let text = squares_read(&print.blurred(blur_mm / 25.4 * 300.0));
        assert_eq!(text, negative.code, "a blur of {blur_mm} mm");
        assert_eq!(text, Some(format!("HANDCOAT{}", negative.mark)));
    }
    assert_eq!(squares_read(&near), None, "it is there for the print and not for the film");
    // On the print light and dark change places, and the words read from left to right.
    let line = border.line.expect("a line");
    assert!(!line.upwards);
    let printed = over.piece(line.place);
    let words = negative.pictures[0].line.as_deref().expect("words");
    assert!(words.starts_with(&format!("{} · heron · straight.csv · 210 × 105 mm", negative.mark)), "{words}");
    let own = letters(words, line.place.height, line.place.width, 0.55).expect("letters");
    let top = printed.height() - own.height as usize;
    let differs = |piece: &Codes| {
        (0..own.height as usize)
            .flat_map(|y| (0..own.width as usize).map(move |x| (x, y)))
            .filter(|(x, y)| {
                let by = f64::from(own.coverage[y * own.width as usize + x]) / 255.0;
                (f64::from(piece.at(*x, top + y)) - 65535.0 * (1.0 - by)).abs() > 1.0
            })
            .count()
    };
    assert_eq!(differs(&printed), 0);
    assert!(differs(&printed.mirrored()) > 1000, "mirrored it would not be told apart");
}

/// What another's reader makes of a picture with a code of squares.
fn squares_read(picture: &Codes) -> Option<String> {
    let mut image = rqrr::PreparedImage::prepare_from_greyscale(picture.width, picture.height(), |x, y| {
        (picture.at(x, y) >> 8) as u8
    });
    image.detect_grids().first().and_then(|own| own.decode().ok()).map(|own| own.1)
}

#[test]
fn the_same_negative_has_one_mark_and_another_has_another() {
    let folder = tempfile::tempdir().expect("a folder");
    let at = |name: &str| folder.path().join(name);
    uneven(600, 500, 3).write(&at("heron.tif"));
    uneven(600, 500, 4).write(&at("mill.tif"));
    std::fs::copy(at("heron.tif"), at("copy.tif")).expect("a copy");
    let own = NegativeAnswers { width: some("120mm"), ppi: some("100"), ..NegativeAnswers::default() };
    let mark = |answers: &NegativeAnswers, source: &str, curve: &CurveOf| {
        let answers = NegativeAnswers { force: true, ..answers.clone() };
        let made = made(&answers, &at(source), &at("negative.tif"), curve).expect("a negative");
        assert!(
            made.mark.len() == 8 && made.mark.bytes().all(|own| own.is_ascii_digit() || (b'A'..=b'F').contains(&own))
        );
        made.mark
    };
    let first = mark(&own, "heron.tif", &bent());
    let renamed = CurveOf { from: "another name".into(), ..bent() };
    for (source, curve) in [("heron.tif", bent()), ("copy.tif", bent()), ("heron.tif", renamed)] {
        assert_eq!(mark(&own, source, &curve), first, "{source}");
    }
    let measured = handcoat_work::negative::FilmSetup { rule_measured: some("99mm"), ..Default::default() };
    let others = [
        mark(&own, "mill.tif", &bent()),
        mark(&own, "heron.tif", &straight()),
        mark(&own, "heron.tif", &CurveOf { setup: Some(measured), ..bent() }),
        mark(&NegativeAnswers { width: some("121mm"), ..own.clone() }, "heron.tif", &bent()),
        mark(&NegativeAnswers { day: some("2026-05-14"), ..own.clone() }, "heron.tif", &bent()),
        mark(&NegativeAnswers { no_border: true, ..own.clone() }, "heron.tif", &bent()),
        mark(
            &NegativeAnswers { also: vec![at("mill.tif")], sheet: some("16x20in"), ..own.clone() },
            "heron.tif",
            &bent(),
        ),
        mark(&NegativeAnswers { also: vec![at("copy.tif")], sheet: some("16x20in"), ..own }, "heron.tif", &bent()),
    ];
    let all: std::collections::BTreeSet<_> = others.iter().chain([&first]).collect();
    assert_eq!(all.len(), others.len() + 1, "{first} {others:?}");
}

fn rising() -> impl Strategy<Value = Vec<(f64, f64)>> {
    let points = (prop::collection::btree_set(1_u32..10_000, 0..10), prop::collection::vec(0_u32..=10_000, 12));
    points.prop_map(|(mut inputs, mut outputs)| {
        // A curve reaches from the darkest tone to the lightest.
        inputs.extend([0, 10_000]);
        outputs.sort_unstable();
        inputs.into_iter().zip(outputs).map(|own| (f64::from(own.0) / 1e4, f64::from(own.1) / 1e4)).collect()
    })
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(24))]

    #[test]
    fn a_ramp_of_all_codes_stays_in_order_through_any_curve(points in rising()) {
        let folder = tempfile::tempdir().expect("a folder");
        let (source, target) = (folder.path().join("ramp.tif"), folder.path().join("negative.tif"));
        Codes::of(65536, 1, |x, _| x as u16).write(&source);
        let part = |own: f64| ToneInput::part(own).expect("a part");
        let curve = CurveOf {
            points: points.iter().map(|own| (part(own.0), part(own.1))).collect(),
            from: "any".into(),
            ..CurveOf::default()
        };
        let answers = NegativeAnswers {
            width: some(&format!("{}in", 65536.0 / 5760.0)),
            ppi: some("5760"),
            no_border: true,
            no_mirror: true,
            ..NegativeAnswers::default()
        };
        let negative = made(&answers, &source, &target, &curve).expect("a negative");
        prop_assert_eq!(negative.scale, 1.0);
        let film = Codes::read(&target);
        prop_assert!(film.all.windows(2).all(|own| own[0] >= own[1]));
    }
}

#[test]
fn eight_bits_keep_the_mean_and_an_ink_mixes_with_white_in_proportion() {
    let folder = tempfile::tempdir().expect("a folder");
    let source = folder.path().join("even.tif");
    Codes::of(256, 256, |_, _| 30_000).write(&source);
    let answers = NegativeAnswers {
        width: some(&format!("{}in", 256.0 / 300.0)),
        ppi: some("300"),
        no_border: true,
        ..NegativeAnswers::default()
    };
    for dither in ["blue-noise", "diffusion"] {
        let target = folder.path().join(format!("{dither}.tif"));
        let own = NegativeAnswers { depth: some("8"), dither: some(dither), ..answers.clone() };
        let negative = made(&own, &source, &target, &straight()).expect("a negative");
        assert_eq!(negative.bits, 8);
        let codes = Codes::read(&target).all;
        let mean = codes.iter().map(|own| f64::from(*own) / 257.0).sum::<f64>() / codes.len() as f64;
        assert!((mean - 35_535.0 / 257.0).abs() < 0.02, "{dither}: {mean}");
        assert!(codes.iter().any(|own| *own != codes[0]));
    }
    let target = folder.path().join("ink.tif");
    let own = NegativeAnswers { ink: some("#804000"), ..answers.clone() };
    let negative = made(&own, &source, &target, &straight()).expect("a negative");
    assert_eq!(negative.ink.as_deref(), Some("#804000"));
    let picture = Picture::open(&target, &Budget::default()).expect("a picture");
    assert!(picture.header().profile.is_none());
    let mut first = Vec::new();
    picture
        .each_row(|row, raw| {
            if row == 0 {
                first = raw[..6].to_vec()
            }
        })
        .expect("rows");
    let codes: Vec<f64> = first.chunks(2).map(|own| f64::from(u16::from_le_bytes([own[0], own[1]]))).collect();
    // A part 30000/65535 of the ink, the rest white.
    for (code, full) in codes.iter().zip([0x80 * 257, 0x40 * 257, 0]) {
        let wanted = 65535.0 - (65535.0 - f64::from(full)) * 30_000.0 / 65535.0;
        assert!((code - wanted).abs() <= 0.5 + 1e-6, "{code} and not {wanted}");
    }
    for (own, code) in [
        (NegativeAnswers { depth: some("8"), ..own.clone() }, "ink_of_eight"),
        (NegativeAnswers { turn: some("45"), ..answers.clone() }, "choice_unknown"),
    ] {
        assert_eq!(made(&own, &source, &folder.path().join("no.tif"), &straight()).expect_err("no").code, code);
    }
}

#[test]
fn strips_of_inks_go_from_none_to_all_each_in_its_own() {
    let folder = tempfile::tempdir().expect("a folder");
    let target = folder.path().join("inks.tif");
    let answers = InkAnswers {
        inks: vec!["#000000".into(), "#204060".into(), "65535,0,100".into()],
        ppi: some("150"),
        no_mirror: true,
        ..InkAnswers::default()
    };
    let made = make_inks(&answers, &target, &hooks()).expect("a sheet");
    let picture = Picture::open(&target, &Budget::default()).expect("a picture");
    let mut rows: Vec<Vec<[u16; 3]>> = Vec::new();
    picture
        .each_row(|_, raw| {
            let pixel = |own: &[u8]| [0, 2, 4].map(|at| u16::from_le_bytes([own[at], own[at + 1]]));
            rows.push(raw.chunks_exact(6).map(pixel).collect());
        })
        .expect("rows");
    assert_eq!((rows[0].len(), rows.len()), (made.pixels.width as usize, made.pixels.height as usize));
    // What every row has most of at its right end: all of an ink, or the white between strips.
    let margin = (5.0 / 25.4 * 150.0_f64).round() as usize;
    let mut ends: Vec<[u16; 3]> = rows.iter().map(|row| row[row.len() - margin - 2]).collect();
    ends.dedup();
    ends.retain(|own| *own != [65535; 3]);
    assert_eq!(ends, [[0, 0, 0], [0x20 * 257, 0x40 * 257, 0x60 * 257], [65535, 0, 100]]);
    let (steps, strip) = (21, rows.iter().position(|row| row[row.len() - margin - 2] == [0, 0, 0]).expect("a strip"));
    let mut along: Vec<u16> = rows[strip][margin..rows[strip].len() - margin].iter().map(|own| own[0]).collect();
    along.dedup();
    assert_eq!((along.len(), along[0], along[20]), (steps, 65535, 0));
    // Names stand above, in black whatever the ink.
    let letters = rows.iter().flatten().filter(|own| own[0] == 0 && own[1] == 0 && own[2] == 0).count();
    assert!(letters > 0 && made.inks == ["#000000", "#204060", "65535,0,100"]);
}

#[test]
fn a_rule_that_is_off_makes_lengths_right_and_one_that_is_near_does_not() {
    let folder = tempfile::tempdir().expect("a folder");
    let source = folder.path().join("heron.tif");
    uneven(600, 500, 9).write(&source);
    let width = |measured: &str, name: &str| {
        let answers = NegativeAnswers {
            width: some("254mm"),
            ppi: some("72"),
            rule_measured: some(measured),
            ..NegativeAnswers::default()
        };
        let negative = made(&answers, &source, &folder.path().join(name), &straight()).expect("a negative");
        let codes: Vec<&str> =
            negative.warnings.iter().map(|own| own.0).filter(|own| own.starts_with("rule")).collect();
        (
            negative.picture.width,
            negative.ppi,
            negative.border.expect("a border").rule.map(|own| own.pixels),
            codes.concat(),
        )
    };
    // 720 pixels, or 720/0.99 of them; the rule itself 283 or 286.
    assert_eq!(width("99mm", "a.tif"), (727, 72.0, Some(286), "rule_corrected".into()));
    assert_eq!(width("99.8mm", "b.tif"), (720, 72.0, Some(283), "rule_near".into()));
}

#[test]
fn a_small_picture_shows_the_sheet_as_it_prints() {
    let folder = tempfile::tempdir().expect("a folder");
    let (source, target) = (folder.path().join("half.tif"), folder.path().join("small.png"));
    // Light at the left.
    Codes::of(3000, 2000, |x, _| if x < 1500 { 60_000 } else { 10_000 }).write(&source);
    let answers =
        NegativeAnswers { width: some("10in"), ppi: some("300"), sheet: some("14x11in"), ..NegativeAnswers::default() };
    preview(&answers, &source, &target, &bent(), &[], &hooks()).expect("a picture");
    let small = Codes::read(&target);
    assert_eq!((small.width, small.height()), (1200, 943));
    // Clear film prints black; the tones are those that are wanted, not those that are sent.
    assert_eq!(small.at(2, 2), 0);
    let mean = |left: usize| {
        let all = (0..100 * 100).map(|own| f64::from(small.at(left + own % 100, 400 + own / 100)));
        all.sum::<f64>() / 10_000.0
    };
    assert!((mean(300) - 60_000.0).abs() < 60.0 && (mean(800) - 10_000.0).abs() < 60.0, "{} {}", mean(300), mean(800));
    let refusal = preview(&answers, &source, &target, &bent(), &[], &hooks()).expect_err("occupied");
    assert_eq!(refusal.code, "file_exists");
    // So many and so small that some are less than a pixel's worth of a picture: it still is one.
    let tiny = NegativeAnswers { width: some("4mm"), copies: some("40"), no_border: true, force: true, ..answers };
    preview(&tiny, &source, &target, &bent(), &[], &hooks()).expect("a picture");
}

#[test]
fn a_film_that_is_full_says_what_would_fit_and_that_fits() {
    let folder = tempfile::tempdir().expect("a folder");
    let (source, target) = (folder.path().join("heron.tif"), folder.path().join("sheet.tif"));
    uneven(500, 400, 5).write(&source);
    let answers = NegativeAnswers {
        width: some("100mm"),
        ppi: some("72"),
        sheet: some("8x10in"),
        copies: some("4"),
        border_sides: some("all"),
        ..NegativeAnswers::default()
    };
    let refusal = made(&answers, &source, &target, &straight()).expect_err("full");
    assert_eq!(refusal.code, "film_full");
    assert!(refusal.cause.starts_with("2 of 4 pictures fit on film of 203 × 254 mm"), "{}", refusal.cause);
    let said: Vec<String> = refusal.remedies.iter().map(|own| format!("{own:?}")).collect();
    let smaller = said
        .iter()
        .find_map(|own| own.strip_prefix("Write(PrintWidth, \"")?.strip_suffix("\")"))
        .expect("a width")
        .to_owned();
    for own in
        [NegativeAnswers { width: Some(smaller), ..answers.clone() }, NegativeAnswers { copies: some("2"), ..answers }]
    {
        made(&NegativeAnswers { force: true, ..own }, &source, &target, &straight()).expect("a negative");
    }
}

#[test]
fn film_that_is_named_the_other_way_is_taken_so_and_one_without_a_border_is_named() {
    let folder = tempfile::tempdir().expect("a folder");
    let source = folder.path().join("heron.tif");
    uneven(500, 400, 5).write(&source);
    let own =
        NegativeAnswers { width: some("8in"), ppi: some("72"), sheet: some("8x10in"), ..NegativeAnswers::default() };
    let negative = made(&own, &source, &folder.path().join("a.tif"), &straight()).expect("a negative");
    assert_eq!((negative.width_px, negative.height_px), (720, 576));
    let said = negative.warnings.iter().find(|own| own.0 == "sheet_turned").expect("told");
    assert!(said.1.contains("254 mm wide and 203 mm high"), "{}", said.1);
    let upright = NegativeAnswers { width: some("6in"), ..own.clone() };
    let upright = made(&upright, &source, &folder.path().join("b.tif"), &straight()).expect("a negative");
    assert_eq!((upright.width_px, upright.warnings.iter().any(|own| own.0 == "sheet_turned")), (576, false));
    let large = NegativeAnswers { width: some("9.5in"), ..own };
    let refusal = made(&large, &source, &folder.path().join("c.tif"), &straight()).expect_err("full");
    assert!(refusal.code == "film_full" && refusal.cause.contains("--no-border"), "{}", refusal.cause);
    // What is offered instead fits, in the unit that was asked in, and is no smaller than it must be.
    let widths = refusal.remedies.iter().filter_map(|own| match own {
        handcoat_work::Remedy::Write(handcoat_work::Question::PrintWidth, text) => Some(text.clone()),
        _ => None,
    });
    let offered = widths.last().expect("a width");
    let inches: f64 = offered.strip_suffix("in").expect("in inches").parse().expect("a number");
    assert!((8.5..9.5).contains(&inches), "{offered}");
    let fits = NegativeAnswers { width: Some(offered), ..large.clone() };
    made(&fits, &source, &folder.path().join("d.tif"), &straight()).expect("what was offered");
    let copies = NegativeAnswers { width: some("4in"), copies: some("9"), ..large.clone() };
    let refusal = made(&copies, &source, &folder.path().join("e.tif"), &straight()).expect_err("full");
    let copies = refusal.remedies.iter().find_map(|own| match own {
        handcoat_work::Remedy::Write(handcoat_work::Question::Copies, text) => text.parse::<u32>().ok(),
        _ => None,
    });
    let answers = |count: u32| NegativeAnswers { width: some("4in"), copies: Some(count.to_string()), ..large.clone() };
    let most = copies.expect("a count");
    made(&answers(most), &source, &folder.path().join("f.tif"), &straight()).expect("as many as were offered");
    assert_eq!(
        made(&answers(most + 1), &source, &folder.path().join("g.tif"), &straight()).expect_err("full").code,
        "film_full"
    );
    let bare = NegativeAnswers { no_border: true, ..large };
    made(&bare, &source, &folder.path().join("c.tif"), &straight()).expect("a negative");
}

#[test]
fn many_copies_of_a_large_jpeg_are_refused_before_they_are_held() {
    let folder = tempfile::tempdir().expect("a folder");
    let source = folder.path().join("large.jpg");
    // A header of 10,000 by 8,000 pixels of grey; nothing else is read before the sheet is planned.
    let mut bytes = vec![0xff, 0xd8, 0xff, 0xdb, 0, 67, 0];
    bytes.extend([1; 64]);
    bytes.extend([0xff, 0xc0, 0, 11, 8, 0x1f, 0x40, 0x27, 0x10, 1, 1, 0x11, 0]);
    bytes.extend([0xff, 0xda, 0, 8, 1, 1, 0, 0, 63, 0]);
    bytes.resize(bytes.len() + 90_000, 0);
    bytes.extend([0xff, 0xd9]);
    std::fs::write(&source, bytes).expect("written");
    let answers = NegativeAnswers {
        width: some("1in"),
        ppi: some("200"),
        sheet: some("8x10in"),
        copies: some("2"),
        no_border: true,
        ..NegativeAnswers::default()
    };
    let refusal = made(&answers, &source, &folder.path().join("no.tif"), &straight()).expect_err("too much");
    assert_eq!(refusal.code, "copies_memory", "{}", refusal.cause);
}

#[test]
fn ink_and_rule_come_from_the_set_up_of_the_response_and_another_set_up_is_told() {
    let mut house = TestStudio::new();
    for (name, own) in [
        ("rag, palladium", &[("metal", "Pd"), ("ink_colour", "#204060"), ("rule_measured", "99mm")][..]),
        ("rag, platinum", &[("metal", "Pt")]),
    ] {
        let answers = Keep { name: some(name), fields: fields(own), came: None };
        keep(&mut house.studio, &now(), RecordKind::Setup, &answers).expect("kept");
    }
    let read = fit_chart(&ChartAnswers::default(), sample_chart(None).as_bytes(), None).expect("a fit");
    let place = ResponseOfSetup { setup: some("rag, palladium"), note: None, scan: None };
    keep_response(&mut house.studio, &now(), &place, &read).expect("kept");
    let view = one_response(&house.studio, "1", now().at).expect("a response");
    let curve = |setup: Option<&str>| {
        let setup = setup.map(String::from);
        with_setup(&house.studio, curve_of_response(&view), setup.as_ref(), now().at).expect("a curve")
    };
    let folder = tempfile::tempdir().expect("a folder");
    let source: PathBuf = folder.path().join("heron.tif");
    uneven(600, 500, 11).write(&source);
    let answers = NegativeAnswers { width: some("254mm"), ppi: some("72"), ..NegativeAnswers::default() };
    let own = made(&answers, &source, &folder.path().join("a.tif"), &curve(None)).expect("a negative");
    assert_eq!((own.ink.as_deref(), own.picture.width), (Some("#204060"), 727));
    let codes = |own: &Negative| own.warnings.iter().map(|own| own.0).collect::<Vec<_>>();
    assert!(codes(&own).contains(&"rule_corrected") && !codes(&own).contains(&"setup_other"));
    let other =
        made(&answers, &source, &folder.path().join("b.tif"), &curve(Some("rag, platinum"))).expect("a negative");
    assert_eq!((other.ink.as_deref(), other.picture.width), (None, 720));
    assert!(codes(&other).contains(&"setup_other"));
    let plain = NegativeAnswers { ink: some("none"), ..answers };
    let plain = made(&plain, &source, &folder.path().join("c.tif"), &curve(None)).expect("a negative");
    assert_eq!(plain.ink, None);
    // A film that holds less than the paper asks for is told.
    let mut short = curve(None);
    let setup = short.setup.as_mut().expect("a set-up");
    (setup.film_range, setup.scale) = (Some(1.7), Some(2.0));
    let short = made(
        &NegativeAnswers { force: true, width: some("100mm"), ppi: some("72"), ..NegativeAnswers::default() },
        &source,
        &folder.path().join("c.tif"),
        &short,
    )
    .expect("a negative");
    assert!(codes(&short).contains(&"range_short"));
}

/// Marks whose print is read through a blur at 300 to the inch, out of so many; a reader as a telephone has one sees it finer than that.
fn codes_read(pixels: usize, blur_mm: f64, marks: u32, seen: impl Fn(&Codes) -> Codes) -> u32 {
    let one = |number: u32| {
        let mark = format!("HANDCOAT{:08X}", number.wrapping_mul(2_654_435_761).wrapping_add(77));
        let (side, dark) = qr_small(&mark).expect("a code");
        let around = 10;
        let whole = side * pixels + 2 * around;
        let print = Codes::of(whole, whole, |x, y| {
            let inside = |own: usize| own.checked_sub(around).map(|own| own / pixels).filter(|own| *own < side);
            let light = inside(x).zip(inside(y)).is_some_and(|(x, y)| !dark[y * side + x]);
            if light { 65535 } else { 0 }
        });
        squares_read(&seen(&print.blurred(blur_mm / 25.4 * 300.0))) == Some(mark)
    };
    (0..marks).map(|own| u32::from(one(own))).sum()
}

/// Twice as many pixels each way, straight lines between them.
fn twice(own: &Codes) -> Codes {
    let at = |x: usize, y: usize| u32::from(own.at(x.min(own.width - 1), y.min(own.height() - 1)));
    Codes::of(2 * own.width, 2 * own.height(), |x, y| {
        let (a, b, c, d) = (x / 2, y / 2, x.div_ceil(2), y.div_ceil(2));
        ((at(a, b) + at(c, b) + at(a, d) + at(c, d)) / 4) as u16
    })
}

#[test]
fn larger_squares_are_read_through_more_blur() {
    // A reader that counts pixels is the worst there is at so few of them to a square; how many it reads stands in docs/measured.md.
    let (small, large) = (codes_read(5, 0.1, 20, twice), codes_read(6, 0.1, 20, twice));
    assert!(large > small && large >= 12, "{small} {large}");
}

#[test]
fn a_border_stands_on_the_sides_the_film_has_room_for_and_that_is_said() {
    let folder = tempfile::tempdir().expect("a folder");
    let (source, target) = (folder.path().join("heron.tif"), folder.path().join("negative.tif"));
    uneven(800, 1000, 3).write(&source);
    let answers = NegativeAnswers {
        width: some("8in"),
        ppi: some("300"),
        sheet: some("letter"),
        force: true,
        ..NegativeAnswers::default()
    };
    let with = |change: &dyn Fn(&mut NegativeAnswers)| {
        let mut own = answers.clone();
        change(&mut own);
        made(&own, &source, &target, &straight())
    };
    // Eight by ten inches on letter: below there is room, and nowhere else.
    let negative = with(&|_| {}).expect("a negative");
    let border = negative.border.clone().expect("a border");
    assert_eq!(border.sides, Sides::OneShort);
    let said = negative.warnings.iter().find(|own| own.0 == "border_fewer_sides").expect("said");
    assert!(said.1.ends_with("it stands on one short side"), "{}", said.1);
    // The code reads there, from the film turned over, as it prints.
    let (file, place) = (Codes::read(&target).mirrored(), negative.pictures[0].place);
    let (left, top) = (place.left - border.picture.left, place.top - border.picture.top);
    let code = border.code.expect("a code");
    let near = Rect { left: left + code.left - 9, width: code.width + 9, top: top + code.top, height: code.height };
    let near = file.piece(near);
    let print = Codes::of(near.width, near.height(), |x, y| 65535 - near.at(x, y));
    assert_eq!(squares_read(&print), negative.code);
    // Where there is room it stands on all sides and nothing is said; where sides are said, on those.
    let all = with(&|own| own.sheet = some("11x14in")).expect("a negative");
    assert_eq!(all.border.expect("a border").sides, Sides::All);
    assert!(all.warnings.iter().all(|own| own.0 != "border_fewer_sides"));
    let long = with(&|own| (own.sheet, own.border_sides) = (some("11x14in"), some("long"))).expect("a negative");
    assert_eq!(long.border.expect("a border").sides, Sides::Long);
    assert_eq!(with(&|own| own.border_sides = some("all")).expect_err("no room").code, "film_full");
    let both = with(&|own| (own.border_sides, own.no_border) = (some("all"), true)).expect_err("both");
    assert_eq!(both.code, "border_both");
    assert_eq!(with(&|own| own.border_sides = some("upper")).expect_err("no word").code, "choice_unknown");
}
