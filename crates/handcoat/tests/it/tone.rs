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
