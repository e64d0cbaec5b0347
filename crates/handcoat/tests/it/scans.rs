//! A chart from the command line: made, printed and scanned by the sample, read in a process apart, fitted, and printed through its curve.
#![cfg(target_os = "linux")]

use std::path::Path;
use std::process::{Command, Output};

use handcoat_work::sample::{sample_paper, sample_scan};
use serde_json::Value;

use crate::books::tiff;
use crate::command::{fresh_folder, handcoat};

const PROGRAM: &str = env!("CARGO_BIN_EXE_handcoat");

/// Runs the program there, within limits of a shell where some are said.
fn run(folder: &Path, limit: &str, arguments: &[&str]) -> Output {
    let mut command = Command::new("sh");
    command.args(["-c", &format!("{limit}exec \"$@\""), "sh", PROGRAM]).args(arguments).current_dir(folder);
    command.output().expect("a run")
}

#[track_caller]
fn json(folder: &Path, arguments: &[&str]) -> Value {
    let output = run(folder, "", &[arguments, &["--json"]].concat());
    assert!(output.status.success(), "{arguments:?}: {}", String::from_utf8_lossy(&output.stderr));
    serde_json::from_slice(&output.stdout).expect("JSON")
}

/// Code of the program and of the refusal.
fn refused(output: &Output) -> (Option<i32>, String) {
    let error: Value = serde_json::from_slice(&output.stderr).expect("JSON on stderr");
    (output.status.code(), error["error"]["code"].as_str().expect("a code").into())
}

#[test]
fn a_scan_becomes_a_correction_within_what_was_promised_of_it() {
    let folder = fresh_folder("scans-loop");
    let scanned = |film: &str, scan: &str| {
        std::fs::write(folder.join(scan), sample_scan(&folder.join(film)).expect("a scan")).expect("written");
    };
    json(&folder, &["tone", "chart", "-o", "film.tif", "--levels", "24", "--seed", "3", "--ppi", "200"]);
    scanned("film.tif", "scan.tif");
    let apart = json(&folder, &["tone", "read", "scan.tif", "-o", "readings.csv", "--overlay", "seen.png"]);
    assert!(std::fs::read(folder.join("seen.png")).expect("an overlay").starts_with(b"\x89PNG"));
    // The same in this process, to the last digit.
    let here = handcoat(&["tone", "read", &folder.join("scan.tif").display().to_string(), "--json"]);
    assert_eq!(serde_json::from_str::<Value>(&here.data).expect("JSON"), apart);
    let read = apart["readings"].as_array().expect("readings");
    assert_eq!(read.len(), 72);
    for own in read {
        let (input, seen) = (own["input"].as_f64().expect("an input"), own["l_star"].as_f64().expect("a tone"));
        assert!((seen - sample_paper(input)).abs() < 0.5, "{own}");
    }

    let fit = json(&folder, &["tone", "fit", "readings.csv", "--csv", "curve.csv"]);
    let promised = fit["predicted_rms_l_star"].as_f64().expect("what was promised");
    // Held against the true paper, which the fit has not seen: even steps from its black to its white.
    let (black, white) = (sample_paper(0.0), sample_paper(1.0));
    let curve = std::fs::read_to_string(folder.join("curve.csv")).expect("a curve");
    let squares: Vec<f64> = curve
        .lines()
        .skip(1)
        .map(|line| {
            let (tone, sent) = line.split_once(',').expect("two cells");
            let (tone, sent): (f64, f64) = (tone.parse().expect("a tone"), sent.parse().expect("an input"));
            (sample_paper(sent) - black - tone * (white - black)).powi(2)
        })
        .collect();
    let off = (squares.iter().sum::<f64>() / squares.len() as f64).sqrt();
    assert!(squares.len() > 200 && off <= promised && promised < 0.5, "off by {off}, promised {promised}");

    // And a second print, through the curve.
    let more = ["--levels", "12", "--seed", "4", "--ppi", "200", "--curve", "curve.csv"];
    json(&folder, &[&["tone", "chart", "-o", "film-2.tif"][..], &more].concat());
    scanned("film-2.tif", "scan-2.tif");
    let again = json(&folder, &["tone", "read", "scan-2.tif", "-o", "readings-2.csv"]);
    assert_eq!(again["through_curve"], true);
    std::fs::write(folder.join("fit.json"), fit.to_string()).expect("written");
    let checked = json(&folder, &["tone", "verify", "readings-2.csv", "--of", "fit.json"]);
    let left = checked["rms_l_star"].as_f64().expect("what is left");
    assert!(left < 0.5, "{left}");
}

#[test]
fn the_ink_of_a_chart_goes_with_it_to_the_negative() {
    let folder = fresh_folder("scans-ink");
    let own = |words: &[&str]| json(&folder, &[words, &["--book", "studio.handcoat"]].concat());
    let codes = |told: &Value| -> Vec<String> {
        let all = told["warnings"].as_array().expect("warnings");
        all.iter().map(|own| own["code"].as_str().expect("a code").to_owned()).collect()
    };
    assert!(run(&folder, "", &["new", "studio.handcoat"]).status.success());
    own(&["keep", "paper", "rag", "--lot", "7"]);
    own(&["keep", "setup", "rag, palladium", "--paper", "rag", "--metal", "Pd", "--ink-colour", "#204060"]);
    // A chart is in the ink of its set-up, and its letters name set-up, lot, note and day.
    let small = ["--levels", "12", "--seed", "3", "--ppi", "200"];
    let more = ["--setup", "rag, palladium", "--note", "first sheet", "--day", "2026-03-14"];
    let made = own(&[&["tone", "chart", "-o", "film.tif"][..], &small, &more].concat());
    assert_eq!(made["letters"], "rag, palladium · lot 7 · first sheet · 2026-03-14");
    assert_eq!((&made["ink"], &made["code"]["text"]), (&"#204060".into(), &"HANDCOAT 1/12/3//P204060".into()));
    let film = std::fs::read(folder.join("film.tif")).expect("a film");
    // Three samples of a pixel (tag 277), and no profile that would change the ink.
    let samples = |count: u8| [0x15, 1, 3, 0, 1, 0, 0, 0, count, 0];
    assert!(film.windows(10).any(|own| own == samples(3)) && !film.windows(4).any(|own| own == b"acsp"), "{made}");
    // What the film holds back of the ink is another paper's business: the reader takes the tones as they are.
    std::fs::write(folder.join("scan.tif"), sample_scan(&folder.join("film.tif")).expect("a scan")).expect("written");
    let read = json(&folder, &["tone", "read", "scan.tif", "-o", "readings.csv"]);
    assert_eq!(read["ink"], "#204060");
    let table = std::fs::read_to_string(folder.join("readings.csv")).expect("readings");
    assert!(table.lines().skip(1).all(|own| own.ends_with(",#204060")), "{table}");
    let fit = own(&["tone", "fit", "readings.csv", "--keep", "--setup", "rag, palladium"]);
    assert!(!fit["said"].to_string().contains("Its chart was printed in"), "{fit}");
    let kept = own(&["tone", "show", "1"]);
    assert_eq!(kept["ink"], "#204060", "{kept}");

    std::fs::write(folder.join("heron.tif"), handcoat_work::sample::sample_picture()).expect("a picture");
    let negative = |name: &str, more: &[&str]| {
        let words = ["negative", "make", "heron.tif", "-o", name, "--curve", "1", "--width", "2in", "--ppi", "200"];
        codes(&own(&[&words[..], more].concat()))
    };
    assert!(!negative("same.tif", &["--ink", "8224,16448,24672"]).contains(&"ink_other".into()), "written otherwise");
    assert!(!negative("own.tif", &[]).contains(&"ink_other".into()));
    assert!(negative("other.tif", &["--ink", "#206040"]).contains(&"ink_other".into()));
    assert!(negative("grey.tif", &["--ink", "none"]).contains(&"ink_other".into()));
    let checked = own(&[&["tone", "chart", "-o", "film-2.tif", "--curve", "1", "--ink", "none"][..], &small].concat());
    assert_eq!(codes(&checked), ["ink_other"]);
    assert_eq!(checked["code"]["text"], "HANDCOAT 1/12/3//C");
    let through = own(&[&["tone", "chart", "-o", "film-3.tif", "--curve", "1"][..], &small].concat());
    assert_eq!((&through["ink"], codes(&through).len()), (&"#204060".into(), 0), "that of the curve's set-up");

    // A grey chart that is kept of a set-up with an ink: said at once, doubted, and warned of with each negative in the ink.
    own(&[&["tone", "chart", "-o", "grey-film.tif"][..], &small].concat());
    let film = std::fs::read(folder.join("grey-film.tif")).expect("a film");
    assert!(film.windows(10).any(|own| own == samples(1)) && film.windows(4).any(|own| own == b"acsp"));
    std::fs::write(folder.join("grey-scan.tif"), sample_scan(&folder.join("grey-film.tif")).expect("a scan"))
        .expect("written");
    json(&folder, &["tone", "read", "grey-scan.tif", "-o", "grey.csv"]);
    let fit = own(&["tone", "fit", "grey.csv", "--keep", "--setup", "rag, palladium"]);
    assert!(
        fit.to_string().contains("Its chart was printed in grey, and negatives of the set-up are in the ink #204060."),
        "{fit}"
    );
    let kept = own(&["tone", "show", "2"]);
    assert_eq!((&kept["ink"], &kept["standing"]), (&"none".into(), &"stale".into()), "{kept}");
    let words =
        ["negative", "make", "heron.tif", "-o", "through-grey.tif", "--curve", "2", "--width", "2in", "--ppi", "200"];
    assert!(codes(&own(&words)).contains(&"ink_other".into()));
    // Two inks in one table are two charts.
    let mixed = table.replacen(",#204060", ",#204061", 1);
    std::fs::write(folder.join("mixed.csv"), mixed).expect("written");
    let output = run(&folder, "", &["tone", "fit", "mixed.csv", "--json"]);
    assert_eq!(refused(&output), (Some(2), "reading_contradicted".into()));
}

#[test]
fn next_is_the_file_that_was_written_and_the_sheet_is_one_page() {
    let folder = fresh_folder("scans-next");
    let words = [
        "tone",
        "chart",
        "-o",
        "film.tif",
        "--levels",
        "12",
        "--ppi",
        "200",
        "--pdf",
        "how to.pdf",
        "--paper",
        "letter",
    ];
    let made = run(&folder, "", &words);
    let said = String::from_utf8_lossy(&made.stdout).into_owned();
    for part in ["let the ink dry", "let the print dry", "how to.pdf", "without colour management"] {
        assert!(said.contains(part), "no {part}: {said}");
    }
    assert!(std::fs::read(folder.join("how to.pdf")).expect("a sheet").starts_with(b"%PDF"));
    std::fs::write(folder.join("scan.tif"), sample_scan(&folder.join("film.tif")).expect("a scan")).expect("written");
    let read = run(&folder, "", &["tone", "read", "scan.tif", "-o", "my readings.csv"]);
    let said = String::from_utf8_lossy(&read.stdout).into_owned();
    assert!(said.contains("Next: handcoat tone fit 'my readings.csv' --csv curve.csv"), "{said}");
}

#[test]
fn what_is_wrong_with_a_scan_ends_the_process_apart_and_nothing_else() {
    let folder = fresh_folder("scans-apart");
    // 16 megapixels of 8-bit grey, which are not made smaller, and no two rows alike: more than this process may have.
    let pixels: Vec<u8> = (0..3990 * 3990_u32).map(|own| ((own / 40) ^ (own >> 13)) as u8).collect();
    let large = tiff(&[(256, 3990), (257, 3990), (278, 3990), (279, 3990 * 3990)], &pixels);
    std::fs::write(folder.join("large.tif"), large).expect("written");
    let memory = run(&folder, "ulimit -v 138000; ", &["tone", "read", "large.tif", "--json"]);
    assert_eq!(
        refused(&memory),
        (Some(2), "picture_needs_memory".into()),
        "{}",
        String::from_utf8_lossy(&memory.stderr)
    );
    let text = String::from_utf8_lossy(&memory.stderr).into_owned();
    assert!(text.contains("large.tif") && text.contains("MiB"), "{text}");
    // What it was refused for is shown, also out of the process apart.
    std::fs::write(folder.join("none.tif"), handcoat_work::sample::sample_picture()).expect("written");
    let none = run(&folder, "", &["tone", "read", "none.tif", "--overlay", "seen.png", "-o", "readings.csv", "--json"]);
    assert_eq!(refused(&none), (Some(4), "scan_no_marks".into()));
    assert!(std::fs::read(folder.join("seen.png")).expect("an overlay").starts_with(b"\x89PNG"));
    assert!(!folder.join("readings.csv").exists());
}

#[test]
fn what_is_known_of_a_scan_is_kept_with_its_response() {
    let folder = fresh_folder("scans-facts");
    json(&folder, &["tone", "chart", "-o", "film.tif", "--levels", "24", "--seed", "3", "--ppi", "200"]);
    std::fs::write(folder.join("scan.tif"), sample_scan(&folder.join("film.tif")).expect("a scan")).expect("written");
    let read = json(&folder, &["tone", "read", "scan.tif", "-o", "readings.csv"]);
    std::fs::write(folder.join("scan.json"), read.to_string()).expect("written");
    let book = ["--book", "studio.handcoat"];
    assert!(run(&folder, "", &["new", "studio.handcoat"]).status.success());
    let fit = |table: &str| {
        run(&folder, "", &[&["tone", "fit", table, "--keep", "--scan", "scan.json", "--json"], &book[..]].concat())
    };
    assert!(fit("readings.csv").status.success());
    let kept = json(&folder, &[&["tone", "show", "1"], &book[..]].concat());
    let scan = &kept["scan"];
    assert_eq!(scan["file"], "scan.tif");
    let sha256 = handcoat_work::negative::sha256_of(&folder.join("scan.tif")).expect("a digest");
    assert_eq!(scan["sha256"].as_str(), Some(sha256.as_str()));
    for key in ["ppi", "turn_degrees", "light_fall_part", "codes_by", "profile_sha256", "blur_mm", "code"] {
        assert_eq!(scan[key], read[key], "{key}");
    }
    assert!(scan["turn_degrees"].as_f64().is_some_and(|own| own.abs() < 180.0) && scan["ppi"].is_number(), "{scan}");
    let flagged = read["readings"].as_array().expect("readings").iter();
    let flagged = flagged.filter(|own| own["flags"].as_array().is_some_and(|own| !own.is_empty())).count();
    assert_eq!(scan["flagged"].as_array().map(Vec::len), Some(flagged));
    // One reading is another: then it is not the table of this scan.
    let table = std::fs::read_to_string(folder.join("readings.csv")).expect("readings");
    std::fs::write(folder.join("other.csv"), table.replacen(",1,", ",2,", 1)).expect("written");
    assert_eq!(refused(&fit("other.csv")), (Some(4), "scan_facts_other".into()));
}
