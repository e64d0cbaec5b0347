//! The station *expose* at the command line: the keys of the contract, and what is never said.

use std::path::PathBuf;

use serde_json::Value;

use crate::books::tiff;
use crate::command::{fresh_folder, handcoat, json};

/// A synthetic paper: densities at log H 0, 0.15 … 3.00; the scale was computed with scipy 1.17.1 (PchipInterpolator).
const CURVE: [f64; 21] = [
    0.07, 0.07, 0.08, 0.08, 0.09, 0.11, 0.15, 0.23, 0.35, 0.53, 0.76, 0.99, 1.17, 1.29, 1.37, 1.41, 1.43, 1.44, 1.44,
    1.45, 1.45,
];

#[track_caller]
fn near(value: &Value, expected: f64, tolerance: f64) {
    let value = value.as_f64().unwrap_or_else(|| panic!("{value} is no number"));
    assert!((value - expected).abs() <= tolerance, "{value} is not {expected} ± {tolerance}");
}

/// Step and print densities, from the thinnest step.
fn rows() -> Vec<(f64, f64)> {
    CURVE.into_iter().rev().enumerate().map(|(place, print)| (place as f64 * 0.15, print)).collect()
}

fn table(rows: &[(f64, f64)], separator: char, point: &str) -> String {
    let number = |own: f64, decimals: usize| format!("{own:.decimals$}").replace('.', point);
    let lines = rows.iter().map(|(step, print)| format!("{}{separator}{}\n", number(*step, 2), number(*print, 2)));
    format!("step_density{separator}print_density\n{}", lines.collect::<String>())
}

fn written(folder: &str, text: &str) -> (PathBuf, String) {
    let folder = fresh_folder(folder);
    let file = folder.join("wedge.csv");
    std::fs::write(&file, text).expect("written");
    let name = file.display().to_string();
    (folder, name)
}

#[test]
fn a_wedge_has_every_key_of_the_contract() {
    let (_, file) = written("expose-contract", &table(&rows(), ',', "."));
    let read = json(&["expose", "wedge", &file, "--test-time", "4:00"]);
    near(&read["base_density"], 0.07, 1e-12);
    near(&read["dmax"], 1.45, 1e-12);
    near(&read["exposure_scale"], 1.235_042_297_9, 1e-9);
    near(&read["base_time_s"], 240.0 * 10_f64.powf(-0.684_8), 0.5);
    assert!(read["exposure_scale_u"].as_f64().is_some_and(|own| own > 0.0 && own < 0.3));
    assert!(read["base_time_u_s"].as_f64().is_some_and(|own| own > 0.0));
    assert_eq!(read["bracketed"], true);
    assert_eq!(read["exposure_scale_criterion"], "from 0.04 above base to 90 % of (Dmax - base) above base");
    assert_eq!(read["base_time_criterion"], "first exposure within 0.03 of Dmax");
    // Black and nine tenths of it are 2.1 times apart.
    let ratio = read["base_time_s"].as_f64().expect("a time") / read["shoulder_time_s"].as_f64().expect("a time");
    assert!((ratio - 2.1).abs() < 0.05, "{ratio}");
    assert_eq!((&read["read"], &read["wedge"], &read["base_units"]), (&"dry".into(), &"silver".into(), &Value::Null));
    let absolute = json(&["expose", "wedge", &file, "--test-time", "4:00", "--shoulder", "absolute"]);
    near(&absolute["exposure_scale"], 1.223_711_571_4, 1e-9);
    let units = json(&["expose", "wedge", &file, "--test-units", "240"]);
    assert_eq!(units["base_time_s"], Value::Null);
    near(&units["base_units"], read["base_time_s"].as_f64().expect("a time"), 1e-2);
    let said = handcoat(&["expose", "wedge", &file, "--test-time", "4:00"]).data;
    assert!(said.contains("first exposure within 0.03 of Dmax") && said.contains("By the other criterion"), "{said}");
}

#[test]
fn a_wedge_that_did_not_bracket_gives_no_number() {
    for (name, cut, end) in [("thin", &rows()[8..], "black_bracketed"), ("dense", &rows()[..13], "white_bracketed")] {
        let (_, file) = written(&format!("expose-{name}"), &table(cut, ',', "."));
        let read = json(&["expose", "wedge", &file, "--test-time", "4:00"]);
        assert_eq!((&read["bracketed"], &read[end]), (&Value::Bool(false), &Value::Bool(false)));
        for key in ["base_time_s", "base_time_u_s", "exposure_scale", "exposure_scale_u", "shoulder_time_s"] {
            assert_eq!(read[key], Value::Null, "{key}");
        }
        let said = handcoat(&["expose", "wedge", &file, "--test-time", "4:00"]).data;
        assert!(said.contains("did not bracket") && !said.contains("Base exposure"), "{said}");
    }
}

#[test]
fn a_table_with_commas_and_a_measuring_text_read_the_same() {
    let (_, point) = written("expose-point", &table(&rows(), ',', "."));
    let (_, comma) = written("expose-comma", &table(&rows(), ';', ","));
    let measured: String = rows().iter().map(|(step, print)| format!("{step:.2} \"p\" {print:.2}\n")).collect();
    let text = format!(
        "CGATS.17\nORIGINATOR \"invented\"\nNUMBER_OF_FIELDS 3\nBEGIN_DATA_FORMAT\nSTEP_DENSITY SAMPLE_ID D_VIS\nEND_DATA_FORMAT\n\
         NUMBER_OF_SETS 21\nBEGIN_DATA\n{measured}END_DATA\n"
    );
    let (_, cgats) = written("expose-cgats", &text);
    let one = json(&["expose", "wedge", &point, "--test-time", "4:00"]);
    assert_eq!(one, json(&["expose", "wedge", &comma, "--test-time", "4:00", "--decimal-mark", "comma"]));
    assert_eq!(one, json(&["expose", "wedge", &cgats, "--test-time", "4:00"]));
}

#[test]
fn steps_of_ink_get_no_time_and_no_scale() {
    let text: String =
        std::iter::once("print_density\n".into()).chain(rows().iter().map(|own| format!("{:.2}\n", own.1))).collect();
    let (_, file) = written("expose-ink", &text);
    let read = json(&["expose", "wedge", &file, "--ink"]);
    assert_eq!((&read["last_black_step"], &read["last_tone_step"]), (&5.into(), &15.into()));
    assert_eq!((&read["base_time_s"], &read["exposure_scale"]), (&Value::Null, &Value::Null));
}

#[test]
fn without_instruments_there_is_a_time_with_an_honest_uncertainty() {
    let eye = json(&["expose", "eye", "--test-time", "4:00", "--last-black", "5", "--last-tone", "15"]);
    near(&eye["base_time_s"], 53.729, 1e-3);
    // Half of a step in quadrature with the eye's tenth; black begins between step 6 less a tenth and step 5 and a tenth.
    near(&eye["base_time_u_s"], 7.587, 0.01);
    near(&eye["base_time_least_s"], 0.9 * 240.0 * 10_f64.powf(-0.80), 0.01);
    near(&eye["base_time_most_s"], 1.1 * 53.729, 0.01);
    assert_eq!(eye["base_seen"], true);
    near(&eye["exposure_scale"], 1.5, 1e-12);
    let none = json(&["expose", "eye", "--test-time", "4:00", "--last-black", "0", "--last-tone", "15"]);
    assert_eq!((&none["bracketed"], &none["base_time_s"]), (&Value::Bool(false), &Value::Null));
    // Step 1 alone has nothing denser to be full black by: no time, and the next exposure.
    let alone = ["expose", "eye", "--test-time", "4:00", "--last-black", "1", "--last-tone", "12"];
    let read = json(&alone);
    assert_eq!((&read["black_bracketed"], &read["base_time_s"]), (&Value::Bool(false), &Value::Null));
    let said = handcoat(&alone).data;
    assert!(said.contains("No two steps") && said.contains("for 8:00, twice as long"), "{said}");
    let strip = json(&["expose", "strip", "--first", "2:00", "--until", "8:00", "--tapped", "5"]);
    let add: Vec<f64> =
        strip["strips"].as_array().expect("strips").iter().filter_map(|own| own["add_s"].as_f64()).collect();
    assert_eq!(add, [120.0, 31.0, 39.0, 50.0, 62.0, 79.0, 99.0]);
    near(&strip["base_time_s"], 240.0, 1e-9);
    near(&strip["base_time_u_s"], 28.94, 0.01);
    near(&strip["base_time_least_s"], 171.0, 1e-6);
    near(&strip["base_time_most_s"], 264.0, 1e-6);
    let longer = handcoat(&["expose", "strip", "--first", "2:00", "--until", "8:00", "--tapped", "none"]).data;
    assert!(longer.contains("did not bracket"), "{longer}");
}

#[test]
fn a_ladder_says_a_dose_or_to_change_the_negative() {
    let own = ["--wedge", "0.5mg/mL 1.80 0.03 4:00", "--wedge", "2mg/mL 1.40 0.03 4:20"];
    let ask = |range: &'static str| {
        json(
            &[&["expose", "ladder", "--agent", "hexachloroplatinate", "--range", range, "--own-only"], &own[..]]
                .concat(),
        )
    };
    let dose = ask("1.6");
    near(&dose["wanted"]["dose_mg_per_ml"], 1.0, 1e-9);
    near(&dose["wanted"]["base_time_s"], (240.0_f64 * 260.0).sqrt(), 0.01);
    near(&dose["wanted"]["borrowed_part"], 0.0, 0.0);
    assert_eq!(ask("1.2")["wanted"]["answer"], "harder_negative");
    assert_eq!(ask("2.1")["wanted"]["answer"], "softer_negative");
    let lent = json(&["expose", "ladder", "--agent", "dichromate", "--range", "1.5"]);
    near(&lent["wanted"]["borrowed_part"], 1.0, 1e-9);
    assert_eq!(lent["wanted"]["base_time_s"], Value::Null);
    let said = handcoat(&["expose", "ladder", "--agent", "dichromate", "--range", "2.6"]).data;
    assert!(said.contains("Change the negative") && said.contains("measure, do not trust"), "{said}");
}

#[test]
fn a_kept_test_is_an_act_and_its_base_exposure_is_in_force() {
    let (folder, file) = written("expose-kept", &table(&rows(), ',', "."));
    let book = folder.join("studio.handcoat").display().to_string();
    let run = |words: &[&str]| json(&[words, &["--book", &book]].concat());
    assert_eq!(handcoat(&["new", &book]).code, 0);
    run(&["keep", "paper", "rag", "--lot", "A7"]);
    run(&["keep", "setup", "rag, Pd", "--paper", "rag", "--agent", "hexachloroplatinate"]);
    let kept = run(&[
        "expose",
        "wedge",
        &file,
        "--test-time",
        "4:00",
        "--keep",
        "--setup",
        "rag, pd",
        "--at",
        "2026-03-14T10:30Z",
    ]);
    assert_eq!((&kept["act"], &kept["test"], &kept["kind"]), (&3.into(), &1.into(), &"expose".into()));
    near(&kept["exposure_scale"], 1.235_042_297_9, 1e-9);
    let eye =
        ["expose", "eye", "--test-time", "4:00", "--last-black", "5", "--last-tone", "15", "--keep", "--setup", "1"];
    assert_eq!(run(&[&eye[..], &["--dose", "2mg/mL"]].concat())["test"], 2);
    let listed = run(&["expose", "list"]);
    let own = &listed["setups"][0];
    assert_eq!((&own["base_time_s"], &own["base_test"]), (&kept["base_time_s"], &1.into()));
    assert_eq!(own["base_time_criterion"], "first exposure within 0.03 of Dmax");
    assert_eq!(listed["tests"].as_array().map(Vec::len), Some(2));
    // Months ago by now, whatever day it is.
    assert_eq!(own["base_stale"], true);
    run(&["keep", "paper", "rag", "--change", "--lot", "B2"]);
    assert_eq!(run(&["expose", "list"])["setups"][0]["base_stale_because"][0], "paper lot: A7 then, B2 now");
    let shown = run(&["expose", "show", "1"]);
    assert_eq!(shown["read"]["steps"].as_array().map(Vec::len), Some(21));
    let ladder = run(&["expose", "ladder", "--setup", "1", "--range", "1.5"]);
    let from: Vec<&str> =
        ladder["points"].as_array().expect("points").iter().filter_map(|own| own["from"].as_str()).collect();
    // One read with an instrument and one by eye count the scale otherwise: the newest counts, and the other is said.
    assert_eq!(from, ["own", "borrowed", "borrowed", "borrowed", "borrowed", "borrowed"]);
    assert_eq!((&ladder["points"][0]["test"], &ladder["counted_otherwise"][0]["test"]), (&2.into(), &1.into()));
    assert_eq!(ladder["stale"], true);
    let said = handcoat(&["expose", "ladder", "--setup", "1", "--book", &book]).data;
    assert!(said.contains("Test 1 is counted otherwise, not used: from 0.04 above base"), "{said}");
    assert!(said.find("! find it anew: paper lot: A7 then, B2 now") < said.find("exposure scale"), "{said}");
    let said = handcoat(&["expose", "list", "--book", &book]).data;
    assert!(said.contains("base exposure with no contrast agent") && said.contains("2 mg/mL"), "{said}");
    let plan = run(&["coat", "plan", "--image", "8x10in", "--metal", "Na2PdCl4 15% anhydrous", "--setup", "1"]);
    assert_eq!(plan["exposed_as"]["base_test"], 1);
    run(&["undo", "3"]);
    assert_eq!(run(&["expose", "list"])["setups"][0]["base_time_s"], Value::Null);
    assert_eq!(run(&["check"])["damage"].as_array().map(Vec::len).unwrap_or(0), 0);
}

/// A scan of a print under 21 steps on white paper: 8 bits of grey, taken for sRGB.
pub(crate) fn wedge_scan() -> Vec<u8> {
    const SIZE: (u32, u32) = (960, 260);
    let code = |density: f64| {
        let y = 10_f64.powf(-density);
        let own = if y <= 0.003_130_8 { 12.92 * y } else { 1.055 * y.powf(1.0 / 2.4) - 0.055 };
        (own * 255.0).round() as u8
    };
    let prints: Vec<u8> = CURVE.iter().rev().map(|own| code(*own)).collect();
    let tone = |column: u32, row: u32| {
        let step = column.checked_sub(60).map(|own| own / 40).filter(|_| (60..200).contains(&row));
        step.and_then(|own| prints.get(own as usize)).copied().unwrap_or(code(0.07))
    };
    let pixels: Vec<u8> =
        (0..SIZE.1).flat_map(|row| (0..SIZE.0).map(move |own| (own, row))).map(|own| tone(own.0, own.1)).collect();
    tiff(&[(256, SIZE.0), (257, SIZE.1), (278, SIZE.1), (279, SIZE.0 * SIZE.1)], &pixels)
}

#[test]
fn a_wedge_on_a_scan_is_read_as_one_that_was_typed() {
    let (folder, typed) = written("expose-scan", &table(&rows(), ',', "."));
    let path = |name: &str| folder.join(name).display().to_string();
    std::fs::write(folder.join("scan.tif"), wedge_scan()).expect("written");
    let scan = ["expose", "wedge", "--scan", &path("scan.tif"), "--test-time", "4:00", "--first-step", "0"];
    let files = ["--overlay", &path("seen.png"), "-o", &path("readings.csv")];
    let read = json(&[&scan[..], &files].concat());
    let by_hand = json(&["expose", "wedge", &typed, "--test-time", "4:00"]);
    // Codes of 8 bits are up to 0.01 of a density apart in this black.
    for (key, off) in [("base_density", 0.005), ("dmax", 0.01), ("exposure_scale", 0.02), ("base_time_s", 8.0)] {
        near(&read[key], by_hand[key].as_f64().expect("a number"), off);
    }
    let of_scan = &read["scan"];
    assert_eq!((&of_scan["file"], &of_scan["codes_by"]), (&"scan.tif".into(), &"srgb".into()));
    assert_eq!(of_scan["begins_by_paper"], true);
    near(&of_scan["step_px"], 40.0, 0.1);
    let steps = of_scan["readings"].as_array().expect("readings");
    assert_eq!(steps.len(), 21);
    for (own, (step, print)) in steps.iter().zip(rows()) {
        near(&own["step_density"], step, 1e-9);
        near(&own["print_density"], print, 0.01);
        assert!(own["l_star_u"].as_f64().is_some_and(|own| own > 0.0), "{own}");
        assert_eq!(own["flags"], serde_json::json!([]));
    }
    assert!(std::fs::read(folder.join("seen.png")).expect("an overlay").starts_with(b"\x89PNG"));
    // The table that was written comes to the same by the other door.
    let again = json(&["expose", "wedge", &path("readings.csv"), "--test-time", "4:00"]);
    for key in ["base_time_s", "exposure_scale", "dmax", "base_density"] {
        assert_eq!(again[key], read[key], "{key}");
    }
    // A box says the same, and one over half of the row that it holds fewer.
    let boxed = json(&[&scan[..], &["--box", "6%,22%,88.5%x56%"]].concat());
    assert_eq!(boxed["base_time_s"], read["base_time_s"]);
    let half = handcoat(&[&scan[..], &["--box", "6%,22%,60%x56%", "--json"]].concat());
    assert!(half.code == 4 && half.messages.contains("wedge_count"), "{}", half.messages);
    let words = handcoat(&scan);
    assert!(words.code == 0 && words.data.contains("21 steps read, 0 left aside"), "{}", words.data);
}

#[test]
fn a_test_that_was_scanned_is_kept_like_any() {
    let folder = fresh_folder("expose-scan-kept");
    let path = |name: &str| folder.join(name).display().to_string();
    std::fs::write(folder.join("scan.tif"), wedge_scan()).expect("written");
    let book = ["--book", &path("studio.handcoat")];
    assert_eq!(handcoat(&["new", &path("studio.handcoat")]).code, 0);
    json(&[&["keep", "paper", "rag"][..], &book].concat());
    json(&[&["keep", "setup", "rag, palladium", "--paper", "rag", "--metal", "Pd"][..], &book].concat());
    let scan = ["expose", "wedge", "--scan", &path("scan.tif"), "--test-time", "4:00"];
    let kept = json(&[&scan[..], &["--keep", "--setup", "rag, palladium", "--dose", "none"], &book].concat());
    let shown = json(&[&["expose", "show", &kept["test"].to_string()][..], &book].concat());
    assert_eq!(shown["base_time_s"], kept["base_time_s"], "{shown}");
}
