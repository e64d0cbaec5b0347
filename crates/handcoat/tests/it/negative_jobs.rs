//! Negatives as jobs of a book: stopped, killed, gone on with; two that want one file; limits; a folder in one go; prints that lead back.
#![cfg(target_os = "linux")]

use std::path::{Path, PathBuf};
use std::process::{Command, Output, Stdio};
use std::time::{Duration, Instant};

use handcoat_work::Studio;
use handcoat_work::negative::{
    Asked, FileFacts, KeptCurve, NegativeAnswers, Whole, Worker, add_job, curve_of_table, job_is_whole, take_job,
};
use handcoat_work::sample::sample_picture;
use serde_json::Value;

use crate::books::{new_book, on};
use crate::command::fresh_folder;

const PROGRAM: &str = env!("CARGO_BIN_EXE_handcoat");

/// A folder with a book, a picture and a curve.
pub(crate) fn studio(name: &str) -> PathBuf {
    let folder = fresh_folder(name);
    new_book(&folder);
    std::fs::write(folder.join("heron.tif"), sample_picture()).expect("written");
    std::fs::write(folder.join("curve.csv"), "input,output\n0,0\n0.5,0.4\n1,1\n").expect("written");
    folder
}

/// The words that make a negative there.
pub(crate) fn words<'a>(picture: &'a str, file: &'a str, more: &[&'a str]) -> Vec<&'a str> {
    [&["negative", "make", picture, "-o", file, "--curve", "curve.csv"], more].concat()
}

fn program(folder: &Path, arguments: &[&str]) -> Command {
    let mut command = Command::new(PROGRAM);
    command.args(arguments).current_dir(folder).env("HANDCOAT_BOOK", folder.join("studio.handcoat"));
    command.stdin(Stdio::null()).stdout(Stdio::piped()).stderr(Stdio::piped());
    command
}

pub(crate) fn run(folder: &Path, arguments: &[&str]) -> Output {
    program(folder, arguments).output().expect("a run")
}

#[track_caller]
pub(crate) fn json(folder: &Path, arguments: &[&str]) -> Value {
    let output = run(folder, &[arguments, &["--json"]].concat());
    assert!(output.status.success(), "{arguments:?}: {}", String::from_utf8_lossy(&output.stderr));
    serde_json::from_slice(&output.stdout).expect("JSON")
}

pub(crate) fn code(output: &Output) -> (Option<i32>, Value) {
    let error: Value = serde_json::from_slice(&output.stderr).expect("JSON on stderr");
    (output.status.code(), error["error"]["code"].clone())
}

/// A number below `most`, by a plain generator of this test's own.
fn dice(state: &mut u64, most: u64) -> u64 {
    *state = state.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
    (*state >> 33) % most.max(1)
}

const LARGE: [&str; 6] = ["--width", "7in", "--ppi", "720", "--keep", "heron"];

#[test]
fn killed_at_any_moment_it_goes_on_to_the_same_bytes_and_is_kept_once() {
    let cycles = std::env::var("HANDCOAT_KILLS").ok().and_then(|own| own.parse().ok()).unwrap_or(10_u64);
    let folder = studio("negative-killed");
    let begun = Instant::now();
    json(&folder, &words("heron.tif", "whole.tif", &LARGE[..4]));
    let span = u64::try_from(begun.elapsed().as_micros()).expect("a span");
    let whole = std::fs::read(folder.join("whole.tif")).expect("read");
    let (mut state, mut interrupted, mut from_the_middle) = (cycles, 0, 0);
    for cycle in 0..cycles {
        let file = format!("film-{cycle}.tif");
        let own = words("heron.tif", &file, &LARGE);
        let mut child = program(&folder, &own).spawn().expect("a run");
        // With a book it takes a little longer than without.
        std::thread::sleep(Duration::from_micros(dice(&mut state, span * 3 / 2)));
        child.kill().expect("killed");
        child.wait().expect("waited");
        let path = folder.join(&file);
        if path.exists() {
            assert!(std::fs::read(&path).expect("read") == whole, "half a file under its name");
        }
        let jobs = json(&folder, &["negative", "jobs", "--most", "1"]);
        let job = jobs["jobs"]
            .as_array()
            .and_then(|own| own.first())
            .filter(|own| own["file"].as_str().is_some_and(|own| own.ends_with(&file)));
        match job.map(|own| (own["state"].as_str().expect("a state"), own["job"].as_i64().expect("a number"))) {
            // Killed before it was written down: nothing is there, and it is asked for again.
            None => {
                assert!(!path.exists());
                json(&folder, &own);
            }
            Some(("made", _)) => {}
            Some((state, number)) => {
                assert_eq!(state, "interrupted");
                interrupted += 1;
                from_the_middle += i32::from(job.is_some_and(|own| own["rows"].as_i64() > Some(0)));
                let told = json(&folder, &["negative", "resume", &number.to_string()]);
                assert_eq!(told["job"].as_i64(), Some(number));
                let again = run(&folder, &["negative", "resume", &number.to_string(), "--json"]);
                assert_eq!(code(&again), (Some(4), "job_made".into()));
            }
        }
        assert!(std::fs::read(&path).expect("made") == whole, "cycle {cycle}: other bytes");
        let kept = json(&folder, &["negative", "show", "heron"]);
        assert_eq!(kept["made"].as_array().map(Vec::len), Some(cycle as usize + 1), "once each");
        std::fs::remove_file(&path).expect("removed");
    }
    let left = std::fs::read_dir(&folder).expect("a folder").filter_map(Result::ok);
    let left: Vec<_> = left.map(|own| own.file_name()).filter(|own| own.to_string_lossy().contains("film-")).collect();
    assert_eq!(left, Vec::<std::ffi::OsString>::new(), "something was left behind");
    assert!(interrupted * 3 >= cycles, "only {interrupted} of {cycles} were killed while they had a job");
    on(&folder.join("studio.handcoat"), &["check"]);
    // Printed for the measurements; a test runner shows it when asked.
    #[allow(clippy::print_stdout)]
    {
        println!("{cycles} cycles, {interrupted} killed with a job, {from_the_middle} of them after rows were written");
    }
}

#[test]
fn of_two_that_want_one_file_one_is_refused_and_a_stopped_one_goes_on() {
    let folder = studio("negative-two");
    let own = words("heron.tif", "film.tif", &["--width", "20in", "--ppi", "1000", "--compression", "deflate"]);
    let first = program(&folder, &[&own[..], &["--keep"]].concat()).spawn().expect("a run");
    let running = || json(&folder, &["negative", "jobs"])["jobs"][0].clone();
    let until = Instant::now() + Duration::from_secs(60);
    while running()["rows"].as_i64().unwrap_or(0) == 0 {
        assert!(Instant::now() < until, "it does not begin");
        std::thread::sleep(Duration::from_millis(20));
    }
    assert_eq!(running()["state"], "running");
    let kept = run(&folder, &[&own[..], &["--keep", "other", "--json"]].concat());
    assert_eq!(code(&kept), (Some(6), "job_of_this_file".into()));
    let plain = run(&folder, &[&own[..], &["--json"]].concat());
    assert_eq!(code(&plain), (Some(6), "negative_busy".into()));
    let taken = run(&folder, &["negative", "resume", "1", "--json"]);
    assert_eq!(code(&taken), (Some(6), "job_taken".into()));

    run(&folder, &["negative", "stop", "1"]);
    let ended = first.wait_with_output().expect("an end");
    assert_eq!(ended.status.code(), Some(1), "{}", String::from_utf8_lossy(&ended.stderr));
    assert!(!folder.join("film.tif").exists());
    assert_eq!(running()["state"], "stopped");
    let over = run(&folder, &["negative", "stop", "1", "--json"]);
    assert_eq!(code(&over), (Some(4), "job_over".into()));
    let told = json(&folder, &["negative", "resume", "1"]);
    let own = words("heron.tif", "again.tif", &["--width", "20in", "--ppi", "1000", "--compression", "deflate"]);
    assert_eq!(json(&folder, &own)["sha256"], told["sha256"]);
}

/// As if the machine had gone dark after the file had its name and before the act: the row says what the file is, and nobody has it.
#[test]
fn a_file_that_was_whole_is_only_recorded() {
    let folder = studio("negative-recorded");
    let file = folder.join("film.tif");
    let made = json(&folder, &words("heron.tif", "film.tif", &["--width", "2in"]));
    let dead = Worker { holder: "another start of the machine", lives: &|_| false };
    let asked = Asked {
        answers: NegativeAnswers { width: Some("2in".into()), ..NegativeAnswers::default() },
        source: folder.join("heron.tif").display().to_string(),
        name: None,
        curve: KeptCurve::of(&curve_of_table("curve.csv", b"input,output\n0,0\n0.5,0.4\n1,1\n").expect("a curve")),
        who: "command line".into(),
        at: None,
    };
    let whole = Whole {
        facts: FileFacts {
            mark: String::new(),
            sha256: made["sha256"].as_str().expect("a hash").into(),
            bytes: 1,
            width_px: 1,
            height_px: 1,
            ppi: 720.0,
            millimetres: (1.0, 1.0),
            image_millimetres: None,
            rule_correction: None,
            rules_mm: None,
            warnings: Vec::new(),
            source_sha256: String::new(),
            also_sha256: Vec::new(),
        },
        lines: vec!["as it was said then".into()],
    };
    let at = jiff::Timestamp::UNIX_EPOCH;
    let mut studio = Studio::open(&folder.join("studio.handcoat")).expect("a book");
    for _ in 0..2 {
        let number = add_job(&mut studio, &asked, &file.display().to_string(), dead, at).expect("a job");
        take_job(&mut studio, number, dead, at).expect("taken");
        job_is_whole(&mut studio, number, dead.holder, &whole, at).expect("written down");
        if number == 1 {
            let told = json(&folder, &["negative", "resume", "1"]);
            assert_eq!((&told["recorded_only"], &told["sha256"]), (&true.into(), &made["sha256"]));
            assert_eq!(json(&folder, &["negative", "show", "film"])["made"].as_array().map(Vec::len), Some(1));
            // Another file under that name is nobody's of this job.
            std::fs::write(&file, "of somebody").expect("written");
        } else {
            let other = run(&folder, &["negative", "resume", "2", "--json"]);
            assert_eq!(code(&other), (Some(4), "file_exists".into()));
            assert_eq!(std::fs::read(&file).expect("read"), b"of somebody");
        }
    }
}

#[test]
fn a_picture_that_takes_too_much_is_refused_by_name() {
    let folder = studio("negative-limits");
    // 400,000 pixels across: more than this process may have, and within what the header may say.
    let with = |limit: &str, arguments: &[&str]| {
        let script = format!("{limit}; exec \"$@\"");
        let mut command = Command::new("sh");
        command.args(["-c", &script, "sh", PROGRAM]).args(arguments).current_dir(&folder);
        command.output().expect("a shell")
    };
    let large = words("heron.tif", "film.tif", &["--width", "60in", "--ppi", "1000", "--no-border", "--json"]);
    let memory = with("ulimit -v 170000", &large);
    let (exit, found) = code(&memory);
    assert_eq!(
        (exit, &found),
        (Some(2), &"picture_needs_memory".into()),
        "{}",
        String::from_utf8_lossy(&memory.stderr)
    );
    let text = String::from_utf8_lossy(&memory.stderr).into_owned();
    assert!(text.contains("heron.tif") && text.contains("MiB"), "{text}");
    let time = with("ulimit -t 2", &words("heron.tif", "film.tif", &["--width", "45in", "--ppi", "1440", "--json"]));
    assert_eq!(code(&time), (Some(2), "picture_needs_time".into()));
    let left: Vec<_> = std::fs::read_dir(&folder).expect("a folder").filter_map(Result::ok).collect();
    assert!(left.iter().all(|own| !own.file_name().to_string_lossy().contains("film")), "something was left behind");
}

#[test]
fn a_folder_goes_on_past_a_bad_picture_and_leaves_what_is_there() {
    let folder = studio("negative-folder");
    let pictures = folder.join("pictures");
    std::fs::create_dir(&pictures).expect("a folder");
    for name in ["a.tif", "b.tif", "b.png", "notes.txt"] {
        std::fs::copy(folder.join("heron.tif"), pictures.join(name)).expect("copied");
    }
    std::fs::write(pictures.join("torn.tif"), b"II*\0\x08\0\0\0").expect("written");
    let own = words("pictures", "films", &["--width", "1in", "--ppi", "300", "--keep"]);
    let output = run(&folder, &own);
    assert_eq!(output.status.code(), Some(1));
    let said = String::from_utf8_lossy(&output.stdout).into_owned();
    assert!(said.contains("torn.tif") && said.ends_with("3 made, 0 skipped, 1 failed.\n"), "{said}");
    assert!(String::from_utf8_lossy(&output.stderr).contains("[pictures_failed]"));
    for name in ["a.tif", "b.tif.tif", "b.png.tif"] {
        assert!(folder.join("films").join(name).exists(), "{name}");
    }
    std::fs::remove_file(pictures.join("torn.tif")).expect("removed");
    let again = json(&folder, &own);
    assert_eq!(again["skipped"].as_array().map(Vec::len), Some(3), "{again}");
    assert_eq!(json(&folder, &["negative", "list"])["negatives"].as_array().map(Vec::len), Some(3));
}

#[test]
fn a_print_leads_back_to_file_curve_and_set_up() {
    let folder = studio("negative-print");
    let book = folder.join("studio.handcoat");
    std::fs::write(
        folder.join("chart.csv"),
        "input,l_star\n0,22\n0.1,26\n0.25,38\n0.35,48\n0.5,62\n0.6,70\n0.75,84\n0.9,91\n1,93\n",
    )
    .expect("written");
    on(&book, &["keep", "paper", "rag", "--lot", "A7"]);
    on(&book, &["keep", "setup", "rag, palladium", "--paper", "rag", "--metal", "Pd"]);
    let chart = folder.join("chart.csv").display().to_string();
    on(&book, &["tone", "fit", &chart, "--keep", "--setup", "1"]);
    let own = ["negative", "make", "heron.tif", "-o", "film.tif", "--curve", "1", "--width", "2in", "--keep", "Heron"];
    let made = json(&folder, &own);
    assert_eq!(made["negative"], 1);
    on(&book, &["print", "record", "Morning", "--negative", "heron", "--time", "6:00"]);
    let print = json(&folder, &["print", "show", "1"]);
    assert_eq!(print["negative_made"]["sha256"], made["sha256"]);
    assert_eq!(print["negative_made"]["response_number"], 1);
    assert_eq!(print["negative_made"]["setup"]["name"], "rag, palladium");
    assert_eq!(print["negative_curve_stale"], false);
    let kept = json(&folder, &["negative", "show", "1"]);
    assert_eq!(kept["prints"][0]["title"], "Morning");
    assert_eq!(kept["made"][0]["settings"]["width"], "2in");
    assert_eq!(kept["made"][0]["curve_points"].as_array().map(Vec::len), Some(257));
    assert_eq!(kept["made"][0]["source_sha256"].as_str().map(str::len), Some(64));

    // Another lot of the paper: what is linked from now on says so, and so does what was.
    on(&book, &["keep", "paper", "rag", "--change", "--lot", "B1"]);
    let said = on(&book, &["print", "record", "Noon", "--negative", "heron", "--time", "6:00"]);
    assert!(said.contains("Its curve is stale"), "{said}");
    assert_eq!(json(&folder, &["print", "show", "1"])["negative_curve_stale"], true);
    // What was not checked yet is not stale for that.
    let shown = on(&book, &["negative", "show", "1"]);
    assert!(shown.contains("its curve is stale: the paper changed since"), "{shown}");
    assert!(shown.contains("of its curve: no print through this curve was read yet"), "{shown}");
    let list = on(&book, &["negative", "list"]);
    assert!(list.contains("its curve is stale"), "{list}");

    // Under the name of a negative of another picture, or of one that was written down by hand, nothing is made.
    let sound = std::fs::read(folder.join("heron.tif")).expect("a picture");
    std::fs::write(folder.join("gull.tif"), [&sound[..], b"\0"].concat()).expect("written");
    on(&book, &["keep", "negative", "Pier", "--size", "4x5in"]);
    for (name, why) in [("heron", "is of another picture, `heron.tif`"), ("pier", "was entered by hand")] {
        let words =
            ["negative", "make", "gull.tif", "-o", "gull-film.tif", "--curve", "1", "--width", "2in", "--keep", name];
        let output = run(&folder, &words);
        let said = String::from_utf8_lossy(&output.stderr).into_owned();
        assert!(output.status.code() == Some(4) && said.contains(why), "{name}: {said}");
        assert!(said.contains("[negative_name_taken]"), "{said}");
    }
    assert!(!folder.join("gull-film.tif").exists(), "refused before it is made");
    // Its size is that of the image and not that of the film around it.
    let kept = json(&folder, &["negative", "show", "1"]);
    let (image, film) = (&kept["made"][0]["image_width_mm"], &kept["made"][0]["width_mm"]);
    assert!((image.as_f64().expect("a size") - 50.8).abs() < 0.05, "{image}");
    assert!(film.as_f64().expect("a size") > 60.0, "{film}");
    assert!(kept["fields"]["size"].as_str().is_some_and(|own| own.starts_with("50.8x")), "{kept}");

    // The file made anew with another curve: the comparison of two prints says it.
    let again = [&own[..3], &["-o", "other.tif", "--curve", "curve.csv", "--width", "2in", "--keep", "heron"]].concat();
    assert_eq!(json(&folder, &again)["negative"], 1, "with the negative of that name");
    on(&book, &["print", "record", "Evening", "--negative", "Heron", "--time", "6:00"]);
    let compared = on(&book, &["print", "compare", "1", "3"]);
    assert!(compared.contains("the same negative, made anew between the two"), "{compared}");
    assert!(compared.contains("their curves differ"), "{compared}");
    // An undo takes the second file back and leaves the first; not before the print that was made from it.
    let act = json(&folder, &["negative", "jobs"])["jobs"][0]["act"].to_string();
    let output = run(&folder, &["undo", &act, "--json"]);
    assert_eq!(code(&output), (Some(4), "act_in_the_way".into()));
    let error: Value = serde_json::from_slice(&output.stderr).expect("JSON");
    let first = error["error"]["remedies"][0].as_str().expect("a way").to_owned();
    let print = first.strip_prefix("handcoat undo ").expect("an act");
    on(&book, &["undo", print]);
    let output = run(&folder, &["undo", &act]);
    assert!(output.status.success(), "{}", String::from_utf8_lossy(&output.stderr));
    assert_eq!(json(&folder, &["negative", "show", "1"])["made"].as_array().map(Vec::len), Some(1));
}

#[test]
fn a_job_whose_name_is_taken_goes_on_under_another_and_one_can_be_put_away() {
    let folder = studio("negative-another-name");
    let small = ["--width", "2in", "--ppi", "150"];
    // A name that is none is refused before anything is made.
    let bad = run(&folder, &words("heron.tif", "film.tif", &[&small[..], &["--keep", "17", "--json"]].concat()));
    assert_eq!(code(&bad), (Some(2), "name_unreadable".into()));
    assert_eq!(json(&folder, &["negative", "jobs"])["jobs"].as_array().map(Vec::len), Some(0));
    assert!(!folder.join("film.tif").exists());
    // Asked for, and then somebody's file stands there.
    let dead = Worker { holder: "another start of the machine", lives: &|_| false };
    let asked = Asked {
        answers: NegativeAnswers { width: Some("2in".into()), ..NegativeAnswers::default() },
        source: folder.join("heron.tif").display().to_string(),
        name: Some("Heron".into()),
        curve: KeptCurve::of(&curve_of_table("curve.csv", b"input,output\n0,0\n0.5,0.4\n1,1\n").expect("a curve")),
        who: "command line".into(),
        at: Some("2026-03-14T10:00:00Z".parse().expect("a time")),
    };
    let at = jiff::Timestamp::UNIX_EPOCH;
    let add = |name: &str| {
        let mut studio = Studio::open(&folder.join("studio.handcoat")).expect("a book");
        add_job(&mut studio, &asked, &folder.join(name).display().to_string(), dead, at).expect("a job").to_string()
    };
    let (first, second) = (add("film.tif"), add("other.tif"));
    std::fs::write(folder.join("film.tif"), "of somebody").expect("written");
    let refused = run(&folder, &["negative", "resume", &first]);
    let said = String::from_utf8_lossy(&refused.stderr).into_owned();
    let free = folder.join("film-2.tif");
    let way = format!("handcoat negative resume {first} --output {}", free.display());
    assert!(refused.status.code() == Some(4) && said.contains(&way), "{said}");
    assert!(said.contains(&format!("handcoat negative put-away {first}")), "{said}");
    let listed = String::from_utf8_lossy(&run(&folder, &["negative", "jobs"]).stdout).into_owned();
    assert!(listed.contains(&format!("resume {first} -o {}", free.display())), "{listed}");
    let told = json(&folder, &["negative", "resume", &first, "-o", "film-2.tif", "--keep", "Heron II"]);
    assert_eq!(told["file"], free.display().to_string());
    assert_eq!(std::fs::read(folder.join("film.tif")).expect("read"), b"of somebody");
    let kept = json(&folder, &["negative", "show", "heron ii"]);
    // The instant that was said is that of the act and of the file.
    assert_eq!(
        (&kept["made"][0]["at"], &kept["made"][0]["file_state"]),
        (&"2026-03-14T10:00:00Z".into(), &"as_made".into())
    );

    let told = json(&folder, &["negative", "put-away", &second]);
    assert_eq!((&told["put_away"], &told["file_exists"]), (&true.into(), &false.into()));
    assert_eq!(code(&run(&folder, &["negative", "resume", &second, "--json"])), (Some(3), "job_unknown".into()));
    json(&folder, &words("heron.tif", "other.tif", &[&small[..], &["--keep", "Other"]].concat()));

    // A file that was changed is said, and so is one that is gone; what is exported has the jobs.
    let bytes = std::fs::read(&free).expect("read");
    std::fs::write(&free, [&bytes[..bytes.len() - 1], b"?"].concat()).expect("written");
    let shown = String::from_utf8_lossy(&run(&folder, &["negative", "show", "heron ii"]).stdout).into_owned();
    assert!(shown.contains("is not the one that was made") && shown.contains("[file_changed]"), "{shown}");
    std::fs::remove_file(&free).expect("removed");
    assert_eq!(json(&folder, &["negative", "show", "heron ii"])["made"][0]["file_state"], "gone");
    on(&folder.join("studio.handcoat"), &["export", folder.join("handed-over").to_str().expect("text")]);
    let whole = std::fs::read(folder.join("handed-over").join("book.json")).expect("read");
    let whole: Value = serde_json::from_slice(&whole).expect("JSON");
    let jobs = whole["jobs"].as_array().expect("jobs");
    assert_eq!(jobs.iter().map(|own| own["state"].as_str().expect("a state")).collect::<Vec<_>>(), ["made", "made"]);
    assert_eq!((&jobs[0]["file"], &jobs[0]["asked"]["name"]), (&told_file(&free), &"Heron II".into()));
    assert!(jobs[0]["outcome"]["whole"]["facts"]["sha256"].is_string(), "{whole}");
}

fn told_file(path: &Path) -> Value {
    path.display().to_string().into()
}

#[test]
fn the_rule_on_a_film_of_the_book_is_measured_against_its_own_figure() {
    let folder = studio("negative-rule");
    let ten = ["--width", "254mm", "--ppi", "72"];
    let first = [&ten[..], &["--rule-measured", "98mm", "--keep", "Gate"]].concat();
    let first = json(&folder, &words("heron.tif", "gate.tif", &first));
    assert_eq!((&first["picture_width_px"], &first["rule_uncorrected_mm"]), (&735.into(), &98.0.into()));
    let mark = first["mark"].as_str().expect("a mark");
    for on in ["gate", mark] {
        let own = [&ten[..], &["--rule-measured", "100.1mm", "--rule-on", on, "--force"]].concat();
        let next = json(&folder, &words("heron.tif", "next.tif", &own));
        assert_eq!((&next["picture_width_px"], &next["rule_uncorrected_mm"]), (&734.into(), &98.098.into()), "{on}");
        assert_eq!(next["rule_on"], "negative 1 (Gate)");
    }
    // Without a book it can be said that the film was made without correction.
    let own = [&ten[..], &["--rule-measured", "100.1mm", "--rule-on", "none", "--force"]].concat();
    assert_eq!(json(&folder, &words("heron.tif", "next.tif", &own))["picture_width_px"], 720);
}

/// Every number of a JSON that is no whole one.
fn fractions(value: &Value, into: &mut Vec<String>) {
    match value {
        Value::Number(own) if own.is_f64() => into.push(own.to_string()),
        Value::Array(all) => all.iter().for_each(|own| fractions(own, into)),
        Value::Object(all) => {
            let points = ["curve_points", "seconds"];
            all.iter().filter(|own| !points.contains(&own.0.as_str())).for_each(|own| fractions(own.1, into));
        }
        _ => {}
    }
}

#[test]
fn numbers_of_a_negative_are_plain() {
    let folder = studio("negative-plain");
    let mut all = Vec::new();
    for (place, (width, ppi)) in [("133.3mm", "360"), ("101.7mm", "300"), ("7.3in", "144")].iter().enumerate() {
        let file = format!("film-{place}.tif");
        let own = ["--width", width, "--ppi", ppi, "--rule-measured", "99.1mm", "--keep", &file[..6]];
        let told = json(&folder, &words("heron.tif", &file, &own));
        let shown = json(&folder, &["negative", "show", &file[..6]]);
        fractions(&told, &mut all);
        fractions(&shown, &mut all);
    }
    assert!(all.len() > 40, "{all:?}");
    let long: Vec<_> = all.iter().filter(|own| own.split_once('.').is_some_and(|own| own.1.len() > 6)).collect();
    assert_eq!(long, Vec::<&String>::new());
}

#[test]
fn a_small_picture_that_cannot_be_written_leaves_the_negative_standing() {
    let folder = studio("negative-no-preview");
    for keep in [&[][..], &["--keep", "Heron"]] {
        let file = format!("film-{}.tif", keep.len());
        let own = [&["--width", "2in", "--ppi", "150", "--preview", "no-such-folder/small.png"], keep].concat();
        let told = json(&folder, &words("heron.tif", &file, &own));
        assert!(folder.join(&file).exists());
        assert_eq!((&told["preview"], &told["preview_error"]["code"]), (&Value::Null, &"file_unwritable".into()));
        let warned = told["warnings"].as_array().expect("warnings").iter().any(|own| own["code"] == "preview_failed");
        assert!(warned, "{told}");
        let words = run(&folder, &words("heron.tif", &format!("words-{file}"), &own));
        let said = String::from_utf8_lossy(&words.stdout).into_owned();
        assert!(
            words.status.success() && said.contains("[preview_failed]") && !said.contains("As it will print"),
            "{said}"
        );
    }
    assert_eq!(json(&folder, &["negative", "show", "heron"])["made"].as_array().map(Vec::len), Some(2));
    // What stands there and is no file stays, and is named before anything is made.
    std::fs::create_dir(folder.join("folder.tif")).expect("a folder");
    let own = ["--width", "2in", "--force", "--keep", "--json"];
    assert_eq!(code(&run(&folder, &words("heron.tif", "folder.tif", &own))), (Some(4), "file_no_file".into()));
    assert_eq!(json(&folder, &["negative", "jobs"])["jobs"].as_array().map(Vec::len), Some(2));
}

#[test]
fn an_instant_that_is_said_is_the_one_a_curve_is_held_against() {
    let folder = studio("negative-at");
    let book = folder.join("studio.handcoat");
    let chart = "input,l_star\n0,22\n0.1,26\n0.25,38\n0.35,48\n0.5,62\n0.6,70\n0.75,84\n0.9,91\n1,93\n";
    std::fs::write(folder.join("chart.csv"), chart).expect("written");
    let path = folder.join("chart.csv").display().to_string();
    on(&book, &["tone", "fit", &path, "--keep", "--at", "2026-03-14T10:00Z"]);
    let doubts = |at: &str| {
        let own = [
            "negative",
            "make",
            "heron.tif",
            "-o",
            "film.tif",
            "--curve",
            "1",
            "--width",
            "1in",
            "--force",
            "--at",
            at,
        ];
        let told = json(&folder, &own);
        told["warnings"].as_array().expect("warnings").iter().map(|own| own["code"].clone()).collect::<Vec<_>>()
    };
    let (soon, later) = (doubts("2026-03-15T10:00Z"), doubts("2027-03-15T10:00Z"));
    assert!(later.len() == soon.len() + 1, "a year later it is old: {soon:?} {later:?}");
    assert_eq!(doubts("2027-03-15T10:00Z"), later);
}
