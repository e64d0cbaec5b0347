//! Bench sheets read back with poppler's tools: one page, faces embedded, every number on it.

use std::path::{Path, PathBuf};
use std::process::Command;

use crate::command::{fresh_folder, handcoat, json};

pub(crate) fn sheet(name: &str, arguments: &[&str]) -> PathBuf {
    let path = fresh_folder(name).join("sheet.pdf");
    let outcome = handcoat(&[arguments, &["--sheet", &path.to_string_lossy()]].concat());
    assert_eq!(outcome.code, 0, "{}", outcome.messages);
    path
}

/// Whether sheets can be read back. `scripts/test` says so when poppler-utils cannot be installed; where the gate runs
/// that is no excuse.
pub(crate) fn poppler() -> bool {
    let without = std::env::var_os("HANDCOAT_WITHOUT_POPPLER").is_some();
    let gate = std::env::var_os("CI").is_some_and(|value| !value.is_empty());
    assert!(!(without && gate), "HANDCOAT_WITHOUT_POPPLER and CI are both set; the gate reads sheets back");
    !without
}

/// What a poppler tool prints about a file. `scripts/test` installs poppler-utils.
pub(crate) fn read_back(tool: &str, options: &[&str], path: &Path, last: &[&str]) -> String {
    let output = Command::new(tool)
        .args(options)
        .arg(path)
        .args(last)
        .output()
        .unwrap_or_else(|error| panic!("`{tool}` cannot be run ({error}); install poppler-utils, as scripts/test does, or set HANDCOAT_WITHOUT_POPPLER=1"));
    assert!(output.status.success(), "{tool}: {}", String::from_utf8_lossy(&output.stderr));
    String::from_utf8_lossy(&output.stdout).into_owned()
}

const PALLADIUM: [&str; 14] = [
    "stock",
    "plan",
    "--salt",
    "PdCl2",
    "--make",
    "40mL",
    "--bottle",
    "50mL",
    "--balance",
    "0.01g",
    "--price-salt",
    "61EUR/g",
    "--weighed",
    "3.97g",
];

#[test]
fn a_sheet_is_one_archival_page_with_its_faces_embedded() {
    let path = sheet("one-page", &PALLADIUM);
    let bytes = std::fs::read(&path).expect("a file");
    let text = String::from_utf8_lossy(&bytes);
    assert!(text.contains("pdfaid:part") && text.contains("pdfaid:conformance"), "no PDF/A mark");
    if !poppler() {
        return;
    }
    let info = read_back("pdfinfo", &[], &path, &[]);
    assert!(info.lines().any(|line| line.starts_with("Pages:") && line.ends_with(" 1")), "{info}");
    let fonts = read_back("pdffonts", &[], &path, &[]);
    assert!(fonts.lines().count() >= 4, "{fonts}");
    assert!(fonts.lines().skip(2).all(|line| line.contains(" yes yes yes ")), "{fonts}");
}

#[test]
fn every_number_of_the_plan_is_on_it() {
    let path = sheet("numbers", &PALLADIUM);
    if !poppler() {
        return;
    }
    let words = read_back("pdftotext", &["-layout"], &path, &["-"]);
    let plan = json(&PALLADIUM);
    let fixed = |key: &str| format!("{:.2}", plan[key].as_f64().expect("a number"));
    // The mark of a way is shown as finely as its glass reads: a 50 mL cylinder is off by up to 0.5 mL.
    let mark = format!("make up to {:.1} mL", plan["make_up_to_ml"].as_f64().expect("a number"));
    for number in [fixed("salt_g"), fixed("chloride_g"), mark, fixed("put_back_g")] {
        assert!(words.contains(&number), "no {number} in\n{words}");
    }
    for word in ["7647-10-1", "Put some back", "Make more", "Keep it and relabel", "k = 2", "can make you allergic"] {
        assert!(words.contains(word), "no `{word}` in\n{words}");
    }
}

#[test]
fn a_vial_is_never_told_to_be_weighed_out() {
    let vial = ["stock", "plan", "--salt", "K2PtCl4", "--salt-mass", "2g", "--balance", "0.01g", "--weighed", "2.06g"];
    let path = sheet("vial", &vial);
    if !poppler() {
        return;
    }
    let words = read_back("pdftotext", &["-layout"], &path, &["-"]);
    assert!(words.contains("Weigh the sealed vial") && words.contains("10.3 mL"), "{words}");
    assert!(!words.contains("New paper") && !words.contains("Close the jar") && !words.contains("Put some"), "{words}");
}

#[test]
fn a_crowded_sheet_is_still_one_page_and_user_words_stay_words() {
    let long = "A studio with a very long name & #set page(height: 1cm) \\ $x$ [odd] *words* <b>";
    let crowded = [
        "stock",
        "plan",
        "--salt",
        "PdCl2",
        "--make",
        "8mL",
        "--bottle",
        "8mL",
        "--balance",
        "0.1g",
        "--weighed",
        "0.9g",
        "--chloride-weighed",
        "0.7g",
        "--price-salt",
        "61EUR/g",
        "--meets",
        "KClO3",
        "--studio",
        long,
    ];
    let path = sheet("crowded", &crowded);
    if !poppler() {
        return;
    }
    let info = read_back("pdfinfo", &[], &path, &[]);
    assert!(info.lines().any(|line| line.starts_with("Pages:") && line.ends_with(" 1")), "{info}");
    let words = read_back("pdftotext", &["-layout"], &path, &["-"]);
    assert!(words.contains("#set page") && words.contains("*words*"), "{words}");
}

#[test]
fn a_sheet_is_never_written_over() {
    let path = sheet("kept", &PALLADIUM);
    let before = std::fs::read(&path).expect("a file");
    let again = handcoat(&[&PALLADIUM[..], &["--sheet", &path.to_string_lossy()]].concat());
    assert_eq!(again.code, 4);
    assert!(std::fs::read(&path).expect("a file") == before);
}
