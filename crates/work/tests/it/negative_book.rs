//! Negatives in the book: what stands on them, what their files have become, and jobs that go on otherwise or are put away.

use std::path::{Path, PathBuf};
use std::sync::atomic::AtomicBool;

use handcoat_work::keep::{Keep, RecordKind, keep};
use handcoat_work::ledger::undo;
use handcoat_work::negative::{
    Asked, CurveOf, FileFacts, FileStanding, Hooks, JobChange, KeptCurve, Negative, NegativeAnswers, NegativeView,
    Whole, Worker, add_job, as_made, change_job, check_target, curve_of_response, curve_of_table, file_standings,
    forget, job, job_is_made, job_is_refused, job_is_whole, jobs, make, name_taken, one_negative, preview,
    put_away_job, sha256_of, take_job, with_setup, with_way,
};
use handcoat_work::print::{PrintMade, record};
use handcoat_work::sample::sample_chart;
use handcoat_work::tone::{ChartAnswers, ResponseOfSetup, fit_chart, keep_response, one_response};
use handcoat_work::{Question, Refusal, Remedy};

use crate::studio::{TestStudio, fields, now, some};

static GO_ON: AtomicBool = AtomicBool::new(false);
const HERE: Worker<'static> = Worker { holder: "this process", lives: &|_| false };

fn hooks() -> Hooks<'static> {
    Hooks::of(&|_, _| {}, &GO_ON)
}

fn straight() -> CurveOf {
    curve_of_table("straight.csv", b"input,output\n0,0\n1,1\n").expect("a curve")
}

fn small() -> NegativeAnswers {
    NegativeAnswers { width: some("60mm"), ppi: some("72"), ..NegativeAnswers::default() }
}

/// A picture of 60 by 50 pixels, grey, as the plainest TIFF there is.
pub(crate) fn small_picture(folder: &Path, name: &str, salt: u8) -> PathBuf {
    let (width, height) = (60_u32, 50_u32);
    let field = |tag: u16, value: u32| {
        [&tag.to_le_bytes()[..], &4_u16.to_le_bytes(), &1_u32.to_le_bytes(), &value.to_le_bytes()].concat()
    };
    let fields = [
        field(256, width),
        field(257, height),
        field(258, 8),
        field(259, 1),
        field(262, 1),
        field(273, 8 + 2 + 9 * 12 + 4),
        field(277, 1),
        field(278, height),
        field(279, width * height),
    ];
    let mut bytes = b"II\x2a\0\x08\0\0\0".to_vec();
    bytes.extend((fields.len() as u16).to_le_bytes());
    bytes.extend(fields.concat());
    bytes.extend([0; 4]);
    bytes.extend((0..width * height).map(|own| (own as u8).wrapping_mul(31) ^ salt));
    let path = folder.join(name);
    std::fs::write(&path, bytes).expect("written");
    path
}

/// A job of the book up to where its file is whole and recorded, in this process.
pub(crate) fn keep_film(
    house: &mut TestStudio,
    name: &str,
    answers: &NegativeAnswers,
    curve: &CurveOf,
    source: &Path,
    file: &str,
) -> Negative {
    let target = house.folder.path().join(file);
    let number = asked_for(house, name, answers, curve, source, &target).expect("a job");
    worked(house, number).expect("made")
}

fn asked_for(
    house: &mut TestStudio,
    name: &str,
    answers: &NegativeAnswers,
    curve: &CurveOf,
    source: &Path,
    target: &Path,
) -> Result<i64, Refusal> {
    let asked = Asked {
        answers: answers.clone(),
        source: source.display().to_string(),
        name: some(name),
        curve: KeptCurve::of(curve),
        who: "test".into(),
        at: None,
    };
    add_job(&mut house.studio, &asked, &target.display().to_string(), HERE, now().at)
}

fn worked(house: &mut TestStudio, number: i64) -> Result<Negative, Refusal> {
    let taken = take_job(&mut house.studio, number, HERE, now().at)?;
    let asked = &taken.asked;
    let made = make(&asked.answers, Path::new(&asked.source), Path::new(&taken.target), &asked.curve.curve(), &hooks());
    let kept = made.and_then(|own| {
        let whole = Whole { facts: FileFacts::of(&own), lines: Vec::new() };
        job_is_whole(&mut house.studio, number, HERE.holder, &whole, now().at)?;
        job_is_made(&mut house.studio, &taken, HERE.holder, &whole, now().at).map(|_| own)
    });
    kept.map_err(|own| {
        let own = with_way(own, &taken);
        job_is_refused(&mut house.studio, number, HERE.holder, &own, now().at).expect("written down");
        own
    })
}

fn shown(house: &TestStudio, name: &str) -> NegativeView {
    one_negative(&house.studio, name, now().at).expect("a negative")
}

fn setup(house: &mut TestStudio, name: &str) -> i64 {
    let answers = Keep { name: some(name), fields: fields(&[("metal", "Pd")]), came: None };
    keep(&mut house.studio, &now(), RecordKind::Setup, &answers).expect("kept").act
}

fn printed(house: &mut TestStudio, title: &str, negative: &str) -> i64 {
    let answers = PrintMade { title: some(title), fields: fields(&[("negative", negative)]), ..PrintMade::default() };
    record(&mut house.studio, &now(), &answers).expect("recorded").act
}

#[test]
fn the_set_up_that_was_said_is_kept_beside_that_of_the_curve() {
    let mut house = TestStudio::new();
    let source = small_picture(house.folder.path(), "heron.tif", 1);
    for name in ["rag, palladium", "rag, platinum"] {
        setup(&mut house, name);
    }
    let read = fit_chart(&ChartAnswers::default(), sample_chart(None).as_bytes(), None).expect("a fit");
    let place = ResponseOfSetup { setup: some("rag, palladium"), note: None, scan: None };
    keep_response(&mut house.studio, &now(), &place, &read).expect("kept");
    let view = one_response(&house.studio, "1", now().at).expect("a response");
    let platinum = some("rag, platinum");
    let curve = |curve, said: Option<&String>| with_setup(&house.studio, curve, said, now().at).expect("a curve");
    let (own, other) = (curve(curve_of_response(&view), None), curve(curve_of_response(&view), platinum.as_ref()));
    let of_table = curve(straight(), platinum.as_ref());
    keep_film(&mut house, "Own", &small(), &own, &source, "own.tif");
    keep_film(&mut house, "Other", &small(), &other, &source, "other.tif");
    keep_film(&mut house, "Table", &small(), &of_table, &source, "table.tif");
    let setups = |name: &str| {
        let own = shown(&house, name).made.remove(0);
        (own.setup, own.curve.of_setup)
    };
    let (palladium, platinum) = (Some((1, "rag, palladium".to_owned())), Some((2, "rag, platinum".to_owned())));
    assert_eq!(setups("own"), (palladium.clone(), palladium.clone()));
    assert_eq!(setups("other"), (platinum.clone(), palladium));
    assert_eq!(setups("table"), (platinum, None));
    assert!(shown(&house, "other").made[0].facts.warnings.iter().any(|own| own.0 == "setup_other"));
    // A print of it says both.
    let answers =
        PrintMade { title: some("Morning"), fields: fields(&[("negative", "other")]), ..PrintMade::default() };
    let said = record(&mut house.studio, &now(), &answers).expect("recorded").said.join(" ");
    assert!(said.contains("response 1 of rag, palladium, set-up rag, platinum"), "{said}");
}

#[test]
fn a_set_up_and_a_negative_are_not_taken_back_under_what_stands_on_them() {
    let mut house = TestStudio::new();
    let source = small_picture(house.folder.path(), "heron.tif", 1);
    let (mine, other) = (setup(&mut house, "rag, palladium"), setup(&mut house, "rag, platinum"));
    let curve = with_setup(&house.studio, straight(), some("rag, palladium").as_ref(), now().at).expect("a curve");
    keep_film(&mut house, "Heron", &small(), &curve, &source, "heron-film.tif");
    let made =
        |house: &TestStudio, place: usize| jobs(&house.studio, 9, HERE).expect("jobs")[place].act.expect("an act");
    let first = made(&house, 0);
    let morning = printed(&mut house, "Morning", "heron");
    keep_film(&mut house, "Heron", &NegativeAnswers { no_border: true, ..small() }, &curve, &source, "again.tif");
    let second = made(&house, 0);
    let evening = printed(&mut house, "Evening", "heron");
    // Written down before there was a negative of that name.
    printed(&mut house, "Early", "pier");
    let by_hand =
        keep(&mut house.studio, &now(), RecordKind::Negative, &Keep { name: some("Pier"), ..Keep::default() })
            .expect("kept")
            .act;
    let pier = printed(&mut house, "Pier", "pier");
    let other_print = printed(&mut house, "Another", "nobody's");
    let mut back = |act: i64| undo(&mut house.studio, &now(), &act.to_string());
    let in_the_way = |refusal: Refusal| {
        assert_eq!(refusal.code, "act_in_the_way", "{}", refusal.cause);
        refusal.remedies
    };

    assert_eq!(in_the_way(back(by_hand).expect_err("a print stands on it")), [Remedy::UndoFirst(pier)]);
    assert_eq!(in_the_way(back(second).expect_err("a print stands on its file")), [Remedy::UndoFirst(evening)]);
    let all = [evening, second, morning].map(Remedy::UndoFirst);
    assert_eq!(in_the_way(back(first).expect_err("prints, and a later file")), all);
    assert_eq!(in_the_way(back(mine).expect_err("a negative")), [second, first].map(Remedy::UndoFirst));
    back(other).expect("nothing stands on it");
    back(other_print).expect("nothing stands on it");
    // In the order that was named.
    back(evening).expect("taken back");
    back(second).expect("the print of the first file is not in its way");
    for act in [morning, first, mine, pier, by_hand] {
        back(act).expect("taken back");
    }
    house.sound();
}

#[test]
fn a_file_that_is_another_by_now_is_known_and_not_handed_out() {
    let mut house = TestStudio::new();
    let source = small_picture(house.folder.path(), "heron.tif", 1);
    keep_film(&mut house, "Heron", &small(), &straight(), &source, "film.tif");
    let file = house.folder.path().join("film.tif");
    let standing = |house: &TestStudio| {
        let own = shown(house, "heron");
        let standing = file_standings(&own)[0];
        assert_eq!(as_made(&own.made[0]).is_ok(), standing == FileStanding::AsMade);
        standing
    };
    let bytes = std::fs::read(&file).expect("read");
    assert_eq!(standing(&house), FileStanding::AsMade);
    // Another time and the same bytes, as a copy that was put back has.
    std::fs::write(&file, &bytes).expect("written");
    let open = std::fs::File::options().write(true).open(&file).expect("opened");
    open.set_modified(std::time::UNIX_EPOCH + std::time::Duration::from_secs(1_000_000)).expect("set");
    assert_eq!(standing(&house), FileStanding::AsMade);
    // One bit, of the same size.
    let mut other = bytes.clone();
    let middle = other.len() / 2;
    other[middle] ^= 1;
    std::fs::write(&file, &other).expect("written");
    assert_eq!(standing(&house), FileStanding::Changed);
    std::fs::write(&file, &bytes[1..]).expect("written");
    assert_eq!(standing(&house), FileStanding::Changed);
    let refusal = as_made(&shown(&house, "heron").made[0]).expect_err("another");
    assert_eq!(refusal.code, "negative_file_changed");
    std::fs::remove_file(&file).expect("removed");
    assert_eq!(standing(&house), FileStanding::Gone);
    std::fs::create_dir(&file).expect("a folder");
    assert_eq!(standing(&house), FileStanding::Changed);
    std::fs::remove_dir(&file).expect("removed");
    // A later file of the same name: the newest is as it was made, and the earlier is gone with that.
    let forced = NegativeAnswers { force: true, no_border: true, ..small() };
    std::fs::write(&file, &bytes).expect("written");
    keep_film(&mut house, "Heron", &forced, &straight(), &source, "film.tif");
    assert_eq!(file_standings(&shown(&house, "heron")), [FileStanding::AsMade, FileStanding::Replaced]);
}

#[test]
fn only_a_file_is_written_over_and_never_the_picture_under_another_name() {
    let folder = tempfile::tempdir().expect("a folder");
    let source = small_picture(folder.path(), "heron.tif", 1);
    let original = std::fs::read(&source).expect("read");
    let at = |name: &str| folder.path().join(name);
    let about = Question::Output;
    std::fs::create_dir(at("folder.tif")).expect("a folder");
    let pipe = std::process::Command::new("mkfifo").arg(at("pipe.tif")).status().expect("mkfifo runs");
    assert!(pipe.success());
    let socket = std::os::unix::net::UnixListener::bind(at("socket.tif")).expect("a socket");
    let forced = NegativeAnswers { force: true, ..small() };
    for (name, what) in [("folder.tif", "a folder"), ("pipe.tif", "a pipe"), ("socket.tif", "a socket")] {
        assert_eq!(check_target(about, &at(name), false).expect_err("occupied").code, "file_exists");
        let refusal = make(&forced, &source, &at(name), &straight(), &hooks()).expect_err("no file");
        assert!(refusal.code == "file_no_file" && refusal.cause.contains(what), "{}", refusal.cause);
        assert!(at(name).symlink_metadata().is_ok_and(|own| !own.is_file()), "{name} was replaced");
    }
    drop(socket);
    assert_eq!(check_target(about, Path::new("/dev/null"), true).expect_err("a device").code, "file_no_file");
    // A second name of the picture's own bytes, as the file, and as each name it has before it is whole.
    for (link, target) in [
        ("second.tif", "second.tif"),
        ("film.tif.handcoat-part", "film.tif"),
        ("film.tif.handcoat-new", "film.tif"),
        ("film.tif.handcoat-new.handcoat-part", "film.tif"),
    ] {
        std::fs::hard_link(&source, at(link)).expect("a second name");
        let refusal = make(&forced, &source, &at(target), &straight(), &hooks()).expect_err("the picture itself");
        assert_eq!(refusal.code, "picture_overwritten", "{link}");
        assert!(std::fs::read(&source).expect("read") == original, "{link}: the picture was written into");
        std::fs::remove_file(at(link)).expect("removed");
    }
    // One of another file, left under the unfinished name, is not written into either.
    std::fs::write(at("letters.txt"), "somebody's").expect("written");
    std::fs::hard_link(at("letters.txt"), at("film.tif.handcoat-part")).expect("a second name");
    make(&forced, &source, &at("film.tif"), &straight(), &hooks()).expect("made");
    assert_eq!(std::fs::read(at("letters.txt")).expect("read"), b"somebody's");
}

#[test]
fn a_job_goes_on_under_another_name_or_is_put_away() {
    let mut house = TestStudio::new();
    let heron = small_picture(house.folder.path(), "heron.tif", 1);
    let mill = small_picture(house.folder.path(), "mill.tif", 2);
    let folder = house.folder.path().to_path_buf();
    let at = |name: &str| folder.join(name);
    let (film, free) = (at("film.tif"), at("film-2.tif"));
    // A name that is none is found before any work.
    for bad in ["", "17", "a\nb", &"x".repeat(61)] {
        let refusal = asked_for(&mut house, bad, &small(), &straight(), &heron, &film).expect_err("no name");
        assert_eq!(refusal.code, "name_unreadable", "{bad:?}");
        assert_eq!(name_taken(&house.studio, Some(bad), "film.tif").expect_err("no name").code, "name_unreadable");
    }
    assert_eq!(jobs(&house.studio, 9, HERE).expect("jobs").len(), 0);

    // Somebody else's file took the name after it was asked for.
    let number = asked_for(&mut house, "Heron", &small(), &straight(), &heron, &film).expect("a job");
    std::fs::write(&film, "somebody's").expect("written");
    let refusal = worked(&mut house, number).expect_err("occupied");
    let way = Remedy::ResumeWith(number, Question::Output, free.display().to_string());
    assert_eq!((refusal.code, &refusal.remedies[0]), ("file_exists", &way));
    assert!(refusal.remedies.contains(&Remedy::PutAwayJob(number)));
    assert_eq!(worked(&mut house, number).expect_err("again").code, "file_exists");
    let change = job(&house.studio, number, HERE).expect("a job").way_on().expect("a way");
    change_job(&mut house.studio, number, &change, HERE).expect("changed");
    let made = worked(&mut house, number).expect("made under the other name");
    assert_eq!(sha256_of(&free).expect("read"), made.sha256);
    assert_eq!(std::fs::read(&film).expect("read"), b"somebody's");
    for refused in [
        change_job(&mut house.studio, number, &JobChange::default(), HERE).expect_err("made"),
        put_away_job(&mut house.studio, number, HERE).expect_err("made"),
    ] {
        assert_eq!(refused.code, "job_made");
    }

    // Two pictures were asked for under one name before either was made: the later is not kept with the earlier.
    let (one, two) = (at("one.tif"), at("two.tif"));
    let first = asked_for(&mut house, "Pair", &small(), &straight(), &heron, &one).expect("a job");
    let second = asked_for(&mut house, "Pair", &small(), &straight(), &mill, &two).expect("a job");
    worked(&mut house, first).expect("made");
    let refusal = worked(&mut house, second).expect_err("of another picture");
    assert_eq!(refusal.code, "negative_name_taken");
    assert_eq!(refusal.remedies[0], Remedy::ResumeWith(second, Question::Keep, "Pair 2".into()));
    assert_eq!(shown(&house, "pair").made.len(), 1);
    let bad = JobChange { name: some("2"), ..JobChange::default() };
    assert_eq!(change_job(&mut house.studio, second, &bad, HERE).expect_err("no name").code, "name_unreadable");
    let ours = JobChange { target: Some(film.display().to_string()), ..JobChange::default() };
    assert_eq!(change_job(&mut house.studio, second, &ours, HERE).expect_err("occupied").code, "file_exists");

    // Put away, with what it left unfinished; its number is not given again.
    let third = asked_for(&mut house, "Third", &small(), &straight(), &mill, &at("third.tif")).expect("a job");
    let unfinished = at("third.tif.handcoat-part");
    std::fs::write(&unfinished, "half").expect("written");
    let busy = asked_for(&mut house, "Fourth", &small(), &straight(), &mill, &at("third.tif")).expect_err("one has it");
    assert_eq!(busy.code, "job_of_this_file");
    put_away_job(&mut house.studio, third, HERE).expect("put away");
    assert!(!unfinished.exists());
    assert_eq!(job(&house.studio, third, HERE).expect_err("gone").code, "job_unknown");
    let fourth =
        asked_for(&mut house, "Fourth", &small(), &straight(), &mill, &at("third.tif")).expect("its name is free");
    assert!(fourth > third);
    let elsewhere = Worker { holder: "another", lives: &|_| true };
    assert_eq!(put_away_job(&mut house.studio, fourth, elsewhere).expect_err("it waits there").code, "job_taken");
    forget(&at("third.tif"));
    house.sound();
}

#[test]
fn a_small_picture_of_a_negative_that_was_made_reads_no_picture_for_its_mark() {
    let folder = tempfile::tempdir().expect("a folder");
    let source = small_picture(folder.path(), "heron.tif", 1);
    let answers = NegativeAnswers { width: some("150mm"), ppi: some("150"), force: true, ..NegativeAnswers::default() };
    let target = folder.path().join("small.png");
    let png = |known: &[String]| {
        preview(&answers, &source, &target, &straight(), known, &hooks()).expect("a picture");
        std::fs::read(&target).expect("read")
    };
    let looked = png(&[]);
    assert!(png(&[sha256_of(&source).expect("read")]) == looked);
    // Another SHA-256 is another mark in its border: what is said is taken, and the file is not read for it.
    assert!(png(&["0".repeat(64)]) != looked);
}

#[test]
fn a_crop_that_shows_nothing_says_why() {
    let folder = tempfile::tempdir().expect("a folder");
    let source = small_picture(folder.path(), "heron.tif", 1);
    let refused = |crop: &str| {
        let own = NegativeAnswers { crop: some(crop), ..small() };
        let refusal = make(&own, &source, &folder.path().join("no.tif"), &straight(), &hooks()).expect_err("nothing");
        assert_eq!(refusal.code, "crop_beyond");
        refusal.cause
    };
    assert!(
        refused("60%,0%,60%x100%")
            .contains("the right side of the picture: 60.0 % from the left and 60.0 % across come to 120.0 %")
    );
    assert!(refused("0%,50%,100%x70%").contains("the foot of the picture"));
    for crop in ["0%,0%,0%x90%", "1:100000"] {
        let cause = refused(crop);
        assert!(cause.contains("leaves no pixel of its 60 × 50") && !cause.contains("100 %"), "{cause}");
    }
}
