//! A picture through a correction becomes a negative; printed in simulation by the true paper it has the tones that were wanted.

use std::path::{Path, PathBuf};
use std::sync::atomic::{AtomicBool, Ordering};

use handcoat_craft::measure::{Bounded, ToneInput};
use handcoat_craft::tone::Correction;
use handcoat_pixels::{Budget, Picture};
use handcoat_work::Refusal;
use handcoat_work::negative::{
    ANSWER_FIELDS, AnswerShape, CurveOf, Hooks, Negative, NegativeAnswers, curve_of_table, make,
};
use handcoat_work::sample::{sample_chart, sample_paper, sample_picture};
use handcoat_work::tone::{ChartAnswers, curve_csv, fit_chart};

static GO_ON: AtomicBool = AtomicBool::new(false);

fn answers(width_px: u32) -> NegativeAnswers {
    NegativeAnswers {
        width: Some(format!("{}in", f64::from(width_px) / 300.0)),
        ppi: Some("300".into()),
        no_border: true,
        ..NegativeAnswers::default()
    }
}

fn made(answers: &NegativeAnswers, source: &Path, target: &Path, curve: &CurveOf) -> Result<Negative, Refusal> {
    make(answers, source, target, curve, &Hooks::of(&|_, _| {}, &GO_ON))
}

fn rows(path: &Path) -> Vec<Vec<u16>> {
    let mut out = Vec::new();
    // The codes as they are: what the embedded profile says of them is not asked.
    let picture = Picture::open(path, &Budget::default()).expect("a picture").without_profile();
    picture.each_grey_row(|_, row| out.push(row.to_vec())).expect("rows");
    out
}

fn scene(folder: &Path) -> PathBuf {
    let path = folder.join("still-life.tif");
    std::fs::write(&path, sample_picture()).expect("written");
    path
}

fn straight() -> CurveOf {
    curve_of_table("straight.csv", b"input,output\n0,0\n1,1\n").expect("a curve")
}

#[test]
fn a_print_by_the_true_paper_has_the_wanted_tones_within_what_was_predicted() {
    let read = fit_chart(&ChartAnswers::default(), sample_chart(None).as_bytes(), None).expect("a fit");
    let curve = curve_of_table("curve.csv", curve_csv(&read).as_bytes()).expect("a curve");
    let folder = tempfile::tempdir().expect("a folder");
    let (source, target) = (scene(folder.path()), folder.path().join("negative.tif"));
    // As the tour makes it: five inches at 360.
    let own = NegativeAnswers { ppi: Some("360".into()), width: Some("5in".into()), ..answers(1080) };
    let negative = made(&own, &source, &target, &curve).expect("a negative");
    assert_eq!((negative.width_px, negative.height_px), (1800, 1440));
    // What was asked for: the picture at that size without any curve, and not changed over.
    let asked = folder.path().join("asked.tif");
    made(&NegativeAnswers { no_invert: true, no_mirror: true, ..own }, &source, &asked, &straight())
        .expect("a picture");

    // The true ends of this paper; what was asked for lies between them in equal steps of lightness.
    let (black, white) = (sample_paper(0.0), sample_paper(1.0));
    let (wanted, film) = (rows(&asked), rows(&target));
    let (mut squares, mut largest, mut count) = (0.0, 0.0_f64, 0.0);
    for (wanted, film) in wanted.iter().zip(&film) {
        // Laid ink side down left is right again, and light is dark.
        for (tone, ink) in wanted.iter().zip(film.iter().rev()) {
            let print = sample_paper(f64::from(u16::MAX - ink) / 65535.0);
            let off = print - (black + (white - black) * f64::from(*tone) / 65535.0);
            squares += off * off;
            largest = largest.max(off.abs());
            count += 1.0;
        }
    }
    let (rms, predicted) = ((squares / count).sqrt(), read.correction.expected_rms());
    assert!(rms <= predicted, "off by {rms} L* (rms) and up to {largest}, {predicted} predicted");
    // Without the curve it is far off: the check can fail.
    let plain = made(&answers(1800), &source, &folder.path().join("plain.tif"), &straight()).expect("a negative");
    assert_ne!(plain.sha256, negative.sha256);
    let off = |tone: f64| sample_paper(tone) - (black + (white - black) * tone);
    assert!(off(0.5).abs() > 4.0 * predicted);
}

#[test]
fn every_code_is_that_of_the_correction() {
    let read = fit_chart(&ChartAnswers::default(), sample_chart(None).as_bytes(), None).expect("a fit");
    let part = |own: f64| ToneInput::part(own).expect("a part");
    let points = read.correction.inputs().iter().enumerate();
    let points = points.map(|(row, own)| (part(Correction::tone_of(row)), part(own.min(ToneInput::MOST)))).collect();
    let curve = CurveOf { points, from: "fit".into(), ..CurveOf::default() };
    let folder = tempfile::tempdir().expect("a folder");
    let (source, target) = (scene(folder.path()), folder.path().join("negative.png"));
    let own = NegativeAnswers { no_invert: true, no_mirror: true, ..answers(1080) };
    made(&own, &source, &target, &curve).expect("a negative");
    for (from, to) in rows(&source).iter().flatten().zip(rows(&target).iter().flatten()).step_by(97) {
        let sent = read.correction.send(part(f64::from(*from) / 65535.0)).to_part() * 65535.0;
        assert!((sent - f64::from(*to)).abs() <= 0.5 + 1e-6, "{from} became {to} and not {sent}");
    }
}

#[test]
fn a_border_leaves_the_picture_as_it_is() {
    let folder = tempfile::tempdir().expect("a folder");
    let source = scene(folder.path());
    let (alone, bordered) = (folder.path().join("alone.tif"), folder.path().join("bordered.tif"));
    made(&answers(1080), &source, &alone, &straight()).expect("a negative");
    let with = NegativeAnswers { no_border: false, ..answers(1080) };
    let negative = made(&with, &source, &bordered, &straight()).expect("a negative");
    let border = negative.border.expect("a border");
    let (alone, bordered) = (rows(&alone), rows(&bordered));
    // The sheet is mirrored as a whole; its borders are of one width.
    let (left, top) = (border.picture.left as usize, border.picture.top as usize);
    for (row, own) in alone.iter().enumerate() {
        assert_eq!(&bordered[top + row][left..left + own.len()], &own[..], "row {row}");
    }
    assert_eq!(bordered[0][0], u16::MAX);
}

#[test]
fn nothing_stands_there_after_a_stop_and_what_stood_there_stays() {
    let folder = tempfile::tempdir().expect("a folder");
    let (source, target) = (scene(folder.path()), folder.path().join("negative.tif"));
    let stop = AtomicBool::new(true);
    let hooks = Hooks::of(&|_, _| {}, &stop);
    let refusal = make(&answers(1080), &source, &target, &straight(), &hooks).expect_err("a stop");
    assert_eq!(refusal.code, "negative_stopped");
    let names = || std::fs::read_dir(folder.path()).expect("a folder").count();
    assert_eq!(names(), 1, "only the picture");
    std::fs::write(&target, "a file of somebody").expect("written");
    assert_eq!(made(&answers(1080), &source, &target, &straight()).expect_err("occupied").code, "file_exists");
    let force = NegativeAnswers { force: true, ..answers(1080) };
    make(&force, &source, &target, &straight(), &hooks).expect_err("a stop");
    assert_eq!(std::fs::read(&target).expect("read"), b"a file of somebody");
    stop.store(false, Ordering::Relaxed);
    made(&force, &source, &target, &straight()).expect("a negative");
    assert_eq!((names(), rows(&target).len()), (2, 864));
}

#[test]
fn the_table_of_answers_and_the_answers_agree() {
    let written = serde_json::to_value(NegativeAnswers::default()).expect("written");
    let mut own: Vec<&str> = written.as_object().expect("an object").keys().map(String::as_str).collect();
    let mut listed: Vec<&str> = ANSWER_FIELDS.iter().map(|field| field.key).collect();
    own.sort_unstable();
    listed.sort_unstable();
    assert_eq!(listed, own);
    for field in ANSWER_FIELDS {
        // Each is taken in the shape the table says, one that is not there stays open, and what was said comes back.
        let said = match field.shape {
            AnswerShape::Words => serde_json::json!({ field.key: "1" }),
            AnswerShape::OneOf(all) => serde_json::json!({ field.key: all[0] }),
            AnswerShape::YesNo => serde_json::json!({ field.key: true }),
            AnswerShape::Files => serde_json::json!({ field.key: ["a.tif"] }),
        };
        let read: NegativeAnswers = serde_json::from_value(said.clone()).expect("answers");
        assert_ne!(read, NegativeAnswers::default(), "{}", field.key);
        assert_eq!(serde_json::to_value(&read).expect("written")[field.key], said[field.key]);
        assert!(
            (field.flag.starts_with("--") || field.shape == AnswerShape::Files)
                && !field.label.is_empty()
                && !field.hint.is_empty()
        );
    }
    assert_eq!(serde_json::from_str::<NegativeAnswers>("{}").expect("answers"), NegativeAnswers::default());
    let unknown = serde_json::from_str::<NegativeAnswers>(r#"{"widht":"10in"}"#).expect_err("unknown");
    assert!(unknown.to_string().contains("widht"), "{unknown}");
}

#[test]
fn a_picture_is_never_written_over_under_any_name_of_the_work() {
    let folder = tempfile::tempdir().expect("a folder");
    let target = folder.path().join("heron.tif");
    for ending in ["", ".handcoat-part", ".handcoat-new", ".handcoat-new.handcoat-part"] {
        let source = folder.path().join(format!("heron.tif{ending}"));
        std::fs::write(&source, sample_picture()).expect("written");
        for force in [false, true] {
            let own = NegativeAnswers { force, ..answers(1080) };
            let refusal = made(&own, &source, &target, &straight()).expect_err("the picture itself");
            let expected = if ending.is_empty() && !force { "file_exists" } else { "picture_overwritten" };
            assert_eq!(refusal.code, expected, "{ending} {force}: {}", refusal.cause);
        }
        assert!(std::fs::read(&source).expect("read") == sample_picture(), "{ending}");
        std::fs::remove_file(source).expect("removed");
    }
}

/// A grey TIFF of 32-bit floating point, in one strip.
fn floats(path: &Path, width: u32, values: &[f32]) {
    let height = values.len() as u32 / width;
    let field = |tag: u16, kind: u16, value: u32| {
        [&tag.to_le_bytes()[..], &kind.to_le_bytes(), &1_u32.to_le_bytes(), &value.to_le_bytes()].concat()
    };
    let fields = [
        field(256, 4, width),
        field(257, 4, height),
        field(258, 3, 32),
        field(259, 3, 1),
        field(262, 3, 1),
        field(273, 4, 8 + 2 + 9 * 12 + 4),
        field(278, 4, height),
        field(279, 4, values.len() as u32 * 4),
        field(339, 3, 3),
    ];
    let mut bytes = b"II\x2a\0\x08\0\0\0\x09\0".to_vec();
    bytes.extend(fields.concat());
    bytes.extend([0; 4]);
    bytes.extend(values.iter().flat_map(|own| own.to_le_bytes()));
    std::fs::write(path, bytes).expect("written");
}

#[test]
fn values_beyond_the_ends_are_said_with_their_share_and_their_ends() {
    let folder = tempfile::tempdir().expect("a folder");
    let (source, target) = (folder.path().join("own.tif"), folder.path().join("negative.tif"));
    let mut values = vec![0.5_f32; 2000];
    values[7] = 3.25;
    values[90] = -0.5;
    values[91] = 1.5;
    floats(&source, 50, &values);
    let answers = NegativeAnswers { force: true, ..answers(50) };
    let negative = made(&answers, &source, &target, &straight()).expect("a negative");
    let said = negative.warnings.iter().find(|own| own.0 == "values_beyond").expect("a warning");
    assert!(
        said.1.starts_with("0.15 % of its pixels lie beyond 0 to 1 (smallest value -0.5, largest 3.25)"),
        "{}",
        said.1
    );
    let own = negative.pictures[0].beyond.expect("counted");
    assert_eq!((own.pixels, own.of), (3, 2000));
    // It goes into the book with the file.
    let kept = handcoat_work::negative::FileFacts::of(&negative);
    assert!(kept.warnings.iter().any(|own| own.0 == "values_beyond" && own.1 == said.1));
    assert!(negative.pictures[0].tones.starts_with("it has no profile"), "{}", negative.pictures[0].tones);
    values.iter_mut().for_each(|own| *own = own.clamp(0.0, 1.0));
    floats(&source, 50, &values);
    let negative = made(&answers, &source, &target, &straight()).expect("a negative");
    assert!(negative.warnings.iter().all(|own| own.0 != "values_beyond") && negative.pictures[0].beyond.is_none());
}
