//! The sheet of an exposure test: one page whatever is on it, seconds to add large, nothing off the page.

use handcoat_sheets::{PaperSize, ReadingTable, SheetRow, StripRow, TestSheet, test_sheet};

use crate::labels::DAY;
use crate::printed::{Printed, poppler};

fn sheet(strips: usize, readings: usize, paper: PaperSize) -> TestSheet {
    let strip = |place: usize| StripRow {
        number: place.to_string(),
        add: if place == 1 { "12:00".into() } else { (place * 31).to_string() },
        unit: "s more".into(),
        in_all: "1:04:08".into(),
        tapped: place == 5,
    };
    let reading = |place: usize| vec![format!("{:.2}", 0.05 * place as f64), "1.234".into(), "1.230".into()];
    TestSheet {
        title: "Exposure test 3: silver wedge".into(),
        what: Some("#cotton *palladium*".into()),
        studio: Some("An invented studio".into()),
        day: DAY,
        invented: true,
        paper,
        steps: vec!["Lay clear film over the strip.".into()],
        strips: (1..=strips).map(strip).collect(),
        result: vec![SheetRow { label: "base exposure".into(), value: "4:00".into(), unit: String::new(), cas: None }],
        notes: vec!["By: the shortest strip.".into()],
        plot: (readings > 0).then(|| {
            "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"640\" height=\"400\" viewBox=\"0 0 640 400\"/>".into()
        }),
        plot_words: "a curve".into(),
        readings: (readings > 0).then(|| ReadingTable {
            heads: ["step density", "print density", "curve"].map(String::from).to_vec(),
            rows: (0..readings).map(reading).collect(),
        }),
        blanks: vec!["paper and lot".into(), "dry at".into()],
        cautions: "Do not look into the lamp.".into(),
    }
}

#[test]
fn a_test_is_one_page() {
    for paper in [PaperSize::A4, PaperSize::Letter] {
        for (strips, readings) in [(7, 0), (16, 0), (0, 21), (0, 31), (0, 60)] {
            let own = sheet(strips, readings, paper);
            let bytes =
                test_sheet(&own).unwrap_or_else(|error| panic!("{strips} strips, {readings} readings: {error}"));
            assert!(strips != 7 || bytes == test_sheet(&own).expect("a sheet"), "the same twice");
            if !poppler() {
                continue;
            }
            let printed = Printed::new(&bytes);
            printed.is_archival(1);
            let words = printed.words();
            let (width, height) = if paper == PaperSize::A4 { (210.0, 297.0) } else { (215.9, 279.4) };
            for word in &words {
                assert!(word.left > 10.0 && word.right < width - 10.0 && word.bottom < height - 4.0, "{word:?}");
            }
            let said = printed.text();
            assert!(said.contains("#cotton *palladium*") && said.contains("Do not look into the lamp."), "{said}");
            // Seconds to add are read from beside the lamp.
            if strips == 7 {
                let seconds = words.iter().find(|word| word.text == "62").expect("62 s");
                assert!(seconds.bottom - seconds.top > 10.0, "{seconds:?}");
                assert_eq!(said.matches("no blacker than the one before").count(), 1, "{said}");
            }
        }
    }
}
