//! What leads from a print to its negative and stays, pictures that are not written over, and the ways on of a job that was killed.
#![cfg(target_os = "linux")]

use std::path::Path;

use handcoat_work::Studio;
use handcoat_work::negative::{Asked, KeptCurve, NegativeAnswers, Worker, add_job, curve_of_table};
use handcoat_work::sample::sample_picture;
use serde_json::Value;

use crate::books::on;
use crate::negative_jobs::{code, json, run, studio, words};

#[test]
fn a_print_is_led_to_its_negative_by_mark_and_number_and_stays_so_when_that_is_put_away() {
    let folder = studio("negative-by-mark");
    let book = folder.join("studio.handcoat");
    let small = ["--width", "254mm", "--ppi", "72", "--keep", "Gate"];
    let made = json(&folder, &words("heron.tif", "film.tif", &small));
    let mark = made["mark"].as_str().expect("a mark").to_owned();
    let by = [mark.clone(), mark.to_lowercase(), format!("HANDCOAT{mark}"), "1".into(), "gate".into()];
    let linked = |print: usize| json(&folder, &["print", "show", &print.to_string()])["negative_made"].clone();
    for (place, by) in by.iter().enumerate() {
        let said = on(&book, &["print", "record", &format!("By {place}"), "--negative", by, "--time", "6:00"]);
        assert!(said.contains("Printed from Gate") && !said.contains("kept as words"), "{by}: {said}");
        assert_eq!(linked(place + 1)["sha256"], made["sha256"], "{by}");
    }
    on(&book, &["print", "record", "Later said", "--time", "6:00"]);
    on(&book, &["print", "note", "6", "--negative", &mark]);
    assert_eq!(linked(6)["sha256"], made["sha256"]);
    let prints = |negative: &str| json(&folder, &["negative", "show", negative])["prints"].as_array().map(Vec::len);
    assert_eq!(prints("1"), Some(6));

    let said = on(&book, &["keep", "away", "negative", "gate"]);
    assert!(said.contains("by its number, 1, or a mark"), "{said}");
    for by in &by {
        let shown = json(&folder, &["negative", "show", by]);
        assert_eq!((&shown["put_away"], &shown["negative"]), (&true.into(), &1.into()), "{by}");
        let rule = ["--width", "254mm", "--ppi", "72", "--rule-measured", "100.1mm", "--rule-on", by, "--force"];
        assert_eq!(json(&folder, &words("heron.tif", "next.tif", &rule))["rule_on"], "negative 1 (Gate)", "{by}");
    }
    assert_eq!(json(&folder, &["negative", "list"])["negatives"].as_array().map(Vec::len), Some(0));
    assert!(on(&book, &["negative", "show", "1"]).contains("put away"));
    let said = on(&book, &["print", "record", "Written down late", "--negative", &mark, "--time", "6:00"]);
    assert!(said.contains("Negative 1 was put away"), "{said}");
    // Another takes its name; each has its own prints.
    let other = ["--width", "3in", "--ppi", "150", "--keep", "Gate"];
    json(&folder, &words("heron.tif", "other.tif", &other));
    on(&book, &["print", "record", "Of the other", "--negative", "gate", "--time", "6:00"]);
    assert_eq!((linked(8)["negative"].clone(), prints("gate"), prints("1")), (2.into(), Some(1), Some(7)));
    let bogus = run(&folder, &["negative", "show", "bogus"]);
    assert!(String::from_utf8_lossy(&bogus.stderr).contains("try: handcoat negative list"));
}

#[test]
fn no_picture_of_a_kept_negative_is_written_over() {
    let folder = studio("negative-sources");
    let small = ["--width", "2in", "--ppi", "150"];
    let copy = |name: &str, salt: u8| {
        let mut bytes = sample_picture();
        *bytes.last_mut().expect("bytes") ^= salt;
        std::fs::write(folder.join(name), &bytes).expect("written");
        bytes
    };
    let (gate, _) = (copy("gate.tif", 1), copy("pier.tif", 2));
    json(&folder, &words("gate.tif", "film.tif", &[&small[..], &["--keep", "Gate"]].concat()));
    let refused = |arguments: &[&str]| {
        let output = run(&folder, &[arguments, &["--force", "--json"]].concat());
        assert_eq!(code(&output), (Some(4), "picture_overwritten".into()), "{arguments:?}");
        String::from_utf8_lossy(&output.stderr).into_owned()
    };
    let onto = |target: &str, more: &[&str]| refused(&words("pier.tif", target, &[&small[..], more].concat()));
    assert!(onto("gate.tif", &["--keep", "Pier"]).contains("job 1"));
    onto("gate.tif", &[]);
    // Moved away it is known by its bytes, also once its negative is put away.
    std::fs::rename(folder.join("gate.tif"), folder.join("moved.tif")).expect("moved");
    assert!(onto("moved.tif", &["--keep", "Pier"]).contains("negative 1, `Gate`"));
    on(&folder.join("studio.handcoat"), &["keep", "away", "negative", "gate"]);
    onto("moved.tif", &[]);
    std::fs::write(folder.join("small.png"), &gate).expect("written");
    onto("next.tif", &["--preview", "small.png"]);
    assert!(!folder.join("next.tif").exists(), "it was made before it was refused");
    // A job that waits is not sent there either.
    let job = job_of(&folder, "pier.tif", "waits.tif");
    refused(&["negative", "resume", &job, "--output", "moved.tif"]);
    assert!(std::fs::read(folder.join("moved.tif")).expect("read") == gate);
    // What is no picture of any is written over as it was asked.
    json(&folder, &words("pier.tif", "film.tif", &[&small[..], &["--force", "--keep", "Pier"]].concat()));
}

/// A job that nobody works on any more.
fn job_of(folder: &Path, picture: &str, file: &str) -> String {
    let asked = Asked {
        answers: NegativeAnswers { width: Some("2in".into()), ..NegativeAnswers::default() },
        source: folder.join(picture).display().to_string(),
        name: None,
        curve: KeptCurve::of(&curve_of_table("curve.csv", b"input,output\n0,0\n0.5,0.4\n1,1\n").expect("a curve")),
        who: "command line".into(),
        at: None,
    };
    let dead = Worker { holder: "another start of the machine", lives: &|_| false };
    let mut studio = Studio::open(&folder.join("studio.handcoat")).expect("a book");
    let target = folder.join(file).display().to_string();
    add_job(&mut studio, &asked, &target, dead, jiff::Timestamp::UNIX_EPOCH).expect("a job").to_string()
}

#[test]
fn a_job_that_was_killed_names_its_ways_on_and_says_what_became_of_its_picture() {
    let folder = studio("negative-after-kill");
    let first = job_of(&folder, "heron.tif", "film.tif");
    let own = words("heron.tif", "film.tif", &["--width", "2in", "--keep"]);
    for more in [&[][..], &["--force"]] {
        let refused = run(&folder, &[&own[..], more].concat());
        let said = String::from_utf8_lossy(&refused.stderr).into_owned();
        let ways: Vec<&str> =
            said.lines().filter_map(|own| own.trim().strip_prefix("try: handcoat negative ")).collect();
        assert_eq!(ways, [format!("resume {first}"), format!("put-away {first}")], "{said}");
        assert!(said.contains("[job_of_this_file]") && !said.contains("move what is there"), "{said}");
    }
    // Left as it was, nothing is said of its picture.
    let plain = json(&folder, &["negative", "resume", &first]);
    let codes = |told: &Value| {
        told["warnings"].as_array().expect("warnings").iter().map(|own| own["code"].clone()).collect::<Vec<_>>()
    };
    assert!(!codes(&plain).contains(&"picture_changed".into()), "{plain}");
    // Another picture under its name is said in the answer, and stands on record.
    let second = job_of(&folder, "heron.tif", "second.tif");
    let mut bytes = sample_picture();
    *bytes.last_mut().expect("bytes") ^= 0x55;
    bytes.push(0);
    std::fs::write(folder.join("heron.tif"), &bytes).expect("written");
    let told = run(&folder, &["negative", "resume", &second]);
    let said = String::from_utf8_lossy(&told.stdout).into_owned();
    assert!(
        said.contains("[picture_changed]") && said.contains("was written again after this was asked for"),
        "{said}"
    );
    let kept = json(&folder, &["negative", "show", "second"]);
    assert!(codes(&kept["made"][0]).contains(&"picture_changed".into()), "{kept}");
    // One that is gone is named where it lay, with ways that a job has.
    let third = job_of(&folder, "heron.tif", "third.tif");
    std::fs::remove_file(folder.join("heron.tif")).expect("removed");
    let gone = run(&folder, &["negative", "resume", &third]);
    let said = String::from_utf8_lossy(&gone.stderr).into_owned();
    assert!(gone.status.code() == Some(3) && said.contains(&folder.join("heron.tif").display().to_string()), "{said}");
    assert!(
        said.contains(&format!("try: handcoat negative put-away {third}")) && !said.contains("picture.tif"),
        "{said}"
    );
}

#[test]
fn a_border_without_room_for_letters_says_what_to_write_on_the_film() {
    let folder = studio("negative-no-letters");
    for (sides, lettered) in [("long", false), ("short", true)] {
        let file = format!("{sides}.tif");
        let own = ["--width", "5in", "--ppi", "72", "--border-sides", sides, "--keep"];
        let told = run(&folder, &words("heron.tif", &file, &own));
        let said = String::from_utf8_lossy(&told.stdout).into_owned();
        let shown = json(&folder, &["negative", "show", sides]);
        let write = format!("so write the mark {} on the film", shown["mark"].as_str().expect("a mark"));
        assert_eq!(
            (said.contains(&write), said.contains("curve and size in letters")),
            (!lettered, lettered),
            "{said}"
        );
    }
}
