//! The station *tone* at the command line: files are left together with the act, or not at all.

use std::fs;

use crate::command::{fresh_folder, handcoat, json};

#[test]
fn what_is_refused_leaves_no_file_behind() {
    let folder = fresh_folder("tone-left");
    let at = |name: &str| folder.join(name).display().to_string();
    let (chart, book) = (at("chart.csv"), at("studio.handcoat"));
    assert_eq!(handcoat(&["new", &book]).code, 0);
    assert_eq!(handcoat(&["tone", "fit", &chart, "--sample"]).code, 0);
    let before = || {
        let mut names: Vec<_> =
            fs::read_dir(&folder).expect("a folder").map(|own| own.expect("an entry").path()).collect();
        names
            .retain(|own| own.extension().is_some_and(|own| ["csv", "svg", "pdf", "json"].iter().any(|is| own == *is)));
        names.len()
    };
    assert_eq!(before(), 1);
    let (csv, plot, pdf) = (at("left.csv"), at("left.svg"), at("left.pdf"));
    let files = ["--csv", &csv, "--plot", &plot, "--pdf", &pdf, "--day", "2026-03-14"];
    let asked = |more: &[&str]| handcoat(&[&["tone", "fit", &chart, "--book", &book][..], more].concat());
    let nowhere = at("nowhere/left.svg");
    for (more, code) in [
        ([&files[..], &["--keep", "--setup", "nosuch"]].concat(), 3),
        (vec!["--csv", &csv, "--plot", &nowhere], 1),
        (vec!["--csv", &csv, "--plot", &csv], 4),
    ] {
        let outcome = asked(&more);
        assert_eq!((outcome.code, before()), (code, 1), "{more:?}: {}", outcome.messages);
    }
    // The same act under the same key is answered as done, and the files stay.
    let kept = [&files[..], &["--keep", "--key", "tone-left-1"]].concat();
    for _ in 0..2 {
        let outcome = asked(&kept);
        assert_eq!((outcome.code, before()), (0, 4), "{}", outcome.messages);
        assert!(outcome.data.contains(&csv), "{}", outcome.data);
    }
    let listed = json(&["tone", "list", "--book", &book]);
    assert_eq!(listed["responses"].as_array().map(Vec::len), Some(1));
    // Another file there is nobody's to write over.
    fs::write(&csv, "mine").expect("written");
    assert_eq!(asked(&kept).code, 4);
    assert_eq!(fs::read(&csv).expect("there"), b"mine");
    assert!(asked(&[]).data.contains("± is k = 2; scatter and drift are one standard deviation"));
}

#[test]
fn a_curve_goes_out_as_icc_and_a_picture_is_proofed() {
    let folder = fresh_folder("tone-outside");
    let at = |name: &str| folder.join(name).display().to_string();
    let fit = handcoat(&["tone", "fit", &at("chart.csv"), "--sample", "--json"]);
    fs::write(folder.join("fit.json"), &fit.data).expect("the fit is written");
    let link = ["--device-link", &at("link.icc"), "--profile", &at("print.icc")];
    let told = json(&[&["tone", "curve", &at("fit.json")][..], &link[..]].concat());
    assert!(told["device_link_off_codes_of_65535"].as_f64().is_some_and(|own| own <= 2.0), "{told}");
    assert!(told["profile_off_l_star"].as_f64().is_some_and(|own| own <= 0.01), "{told}");
    let read = |name: &str| fs::read(folder.join(name)).expect("it was written");
    for (name, kind) in [("link.icc", &b"linkGRAYGRAY"[..]), ("print.icc", b"prtrGRAYXYZ ")] {
        let own = read(name);
        assert_eq!(own.get(12..24), Some(kind), "{name}");
        let length = own.get(..4).and_then(|own| own.try_into().ok()).map(u32::from_be_bytes);
        assert_eq!(length, u32::try_from(own.len()).ok(), "{name} says another length than it has");
    }
    fs::write(folder.join("heron.tif"), handcoat_work::sample::sample_picture()).expect("a picture");
    let words = ["tone", "proof", &at("heron.tif"), "--of", &at("fit.json"), "--pixels", "64", "-o"];
    let proof = |more: &[&str]| json(&[&words[..], more].concat());
    let told = proof(&[&at("neutral.png")]);
    let sides = [told["width_px"].as_u64(), told["height_px"].as_u64()];
    assert_eq!(sides.into_iter().flatten().max(), Some(64), "{told}");
    let black = told["black"]["l_star"].as_f64().zip(told["white"]["l_star"].as_f64());
    assert!(black.is_some_and(|(black, white)| black > 5.0 && white < 99.0 && black < white), "{told}");
    proof(&[&at("warm.png"), "--tint", "2,8"]);
    proof(&[&at("straight.png"), "--curve", "none"]);
    // A response that was read in colour brings its tint, and 0,0 is none.
    let chart = fs::read_to_string(folder.join("chart.csv")).expect("a chart");
    let line = |(place, own): (usize, &str)| format!("{own},{}\n", if place == 0 { "a_star,b_star" } else { "2,8" });
    let colour: String = chart.lines().enumerate().map(line).collect();
    fs::write(folder.join("colour.csv"), colour).expect("a chart in colour");
    let fit = handcoat(&["tone", "fit", &at("colour.csv"), "--json"]);
    fs::write(folder.join("colour.json"), &fit.data).expect("the fit is written");
    let of = |name: &str, more: &[&str]| {
        let words = ["tone", "proof", &at("heron.tif"), "--of", &at("colour.json"), "--pixels", "64", "-o", &at(name)];
        json(&[&words[..], more].concat())
    };
    let told = of("read.png", &[]);
    assert_eq!((&told["white"]["a_star"], &told["white"]["b_star"]), (&2.0.into(), &8.0.into()), "{told}");
    assert!(told["tint_from"].as_str().is_some_and(|own| own.contains("read from")), "{told}");
    of("none.png", &["--tint", "0,0"]);
    assert_eq!(read("read.png"), read("warm.png"), "the tint that was read is the tint that was said");
    assert_eq!(read("none.png"), read("neutral.png"));
    assert_eq!(read("neutral.png").get(1..4), Some(&b"PNG"[..]));
    assert!(read("neutral.png").windows(4).any(|own| own == b"sRGB"), "it does not say that it is sRGB");
    assert_ne!(read("neutral.png"), read("warm.png"), "a tint changes nothing");
    assert_ne!(read("neutral.png"), read("straight.png"), "the curve changes nothing");
}
