//! The sheet of a chart: one page on both papers, every step on it, nothing off the page.

use handcoat_sheets::{ChartSheet, ChartStep, PaperSize, SheetRow, chart_sheet};

use crate::labels::DAY;
use crate::printed::{Printed, poppler};

fn sheet(paper: PaperSize, steps: usize, chart_mm: (f64, f64)) -> ChartSheet {
    let step = |own: usize| ChartStep {
        word: format!("Step {own}"),
        text: "No automatic corrections: no exposure, no colours, no sharpening, no removal of dust. ".repeat(3),
    };
    let row =
        |label: &str, value: &str| SheetRow { label: label.into(), value: value.into(), unit: " mm".into(), cas: None };
    ChartSheet {
        title: "Chart for film".into(),
        what: Some("#rag *palladium* · lot 7 · 2026-03-14".into()),
        studio: Some("An invented studio".into()),
        day: DAY,
        invented: true,
        paper,
        chart_mm,
        facts: vec![row("chart", "134 × 104"), row("from drop to drop", "121 and 91")],
        steps: (1..=steps).map(step).collect(),
        blanks: vec!["coat".into(), "dry at".into()],
        cautions: "Do not look into the lamp.".into(),
    }
}

#[test]
fn a_chart_has_one_page_on_both_papers() {
    for paper in [PaperSize::A4, PaperSize::Letter] {
        for chart_mm in [(104.0, 54.0), (134.0, 104.0), (204.0, 134.0)] {
            let own = sheet(paper, 8, chart_mm);
            let bytes = chart_sheet(&own).expect("a sheet");
            assert!(bytes == chart_sheet(&own).expect("a sheet"), "the same twice");
            if !poppler() {
                continue;
            }
            let printed = Printed::new(&bytes);
            printed.is_archival(1);
            let (width, height) = if paper == PaperSize::A4 { (210.0, 297.0) } else { (215.9, 279.4) };
            for word in &printed.words() {
                assert!(word.left > 10.0 && word.right < width - 10.0 && word.bottom < height - 4.0, "{word:?}");
            }
            let said = printed.text();
            for words in ["#rag *palladium*", "Step 8", "121 and 91", "Do not look into the lamp."] {
                assert!(said.contains(words), "no {words}: {said}");
            }
        }
    }
    assert!(chart_sheet(&sheet(PaperSize::A4, 60, (134.0, 104.0))).is_err(), "more than a page is no sheet");
}
