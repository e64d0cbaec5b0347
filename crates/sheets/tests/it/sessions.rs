//! The session sheet and the blank data sheet: nothing off the page, known drops printed, long days on more pages.

use handcoat_sheets::{
    BlankField, BlankGroup, BlankSheet, DropsRow, PaperSize, SessionSheet, SessionStep, blank_sheet, session_sheet,
};

use crate::labels::DAY;
use crate::printed::{Printed, poppler};

fn sheet(steps: usize, paper: PaperSize) -> SessionSheet {
    let step = |place: usize| SessionStep {
        at: format!("{}:{:02}", 10 + place / 60, place % 60),
        hand: (steps > 30).then(|| "2".into()),
        print: format!("#print *{place}*"),
        what: "mix the drops and coat".into(),
        until: "10:08".into(),
    };
    let known = DropsRow { print: "heron".into(), iron: Some("23 drops".into()), ..DropsRow::default() };
    SessionSheet {
        title: "The day's printing".into(),
        studio: Some("An invented studio".into()),
        day: DAY,
        invented: true,
        paper,
        summary: vec!["3 prints".into()],
        timeline: "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"640\" height=\"90\" viewBox=\"0 0 640 90\"/>"
            .into(),
        timeline_words: "3 prints".into(),
        steps: (0..steps).map(step).collect(),
        drops: vec![known, DropsRow { print: "weir".into(), ..DropsRow::default() }],
        cautions: "Gloves.".into(),
    }
}

#[test]
fn a_short_day_is_one_page_and_a_long_one_takes_more() {
    for paper in [PaperSize::A4, PaperSize::Letter] {
        for (steps, pages) in [(0, 1), (12, 1), (26, 1), (120, 0)] {
            let own = sheet(steps, paper);
            let bytes = session_sheet(&own).expect("a sheet");
            assert!(steps != 12 || bytes == session_sheet(&own).expect("a sheet"));
            if !poppler() {
                continue;
            }
            let printed = Printed::new(&bytes);
            let words = printed.words();
            let last = words.iter().map(|word| word.page).max().unwrap_or(0);
            assert!(if pages == 0 { last > 1 } else { last == pages }, "{steps} steps on {last} pages");
            let (width, height) = if paper == PaperSize::A4 { (210.0, 297.0) } else { (215.9, 279.4) };
            for word in &words {
                assert!(word.left > 10.0 && word.right < width - 10.0 && word.bottom < height - 4.0, "{word:?}");
            }
            let said = printed.text();
            // What a maker writes stays as it is written.
            assert!(steps == 0 || said.contains("#print *0*"), "{said}");
            assert!(said.contains("23 drops") && said.contains("weir") && said.contains("Gloves."), "{said}");
        }
    }
}

#[test]
fn blanks_that_do_not_fit_on_a_page_are_refused() {
    let field = BlankField { label: "number".into(), unit: "mL".into(), sixths: 6 };
    let group = BlankGroup { title: "Print".into(), fields: vec![field; 3] };
    let own = |groups: usize| BlankSheet {
        title: "Data sheet".into(),
        studio: None,
        day: DAY,
        paper: PaperSize::Letter,
        groups: vec![group.clone(); groups],
        foot: "A line.".into(),
    };
    assert!(blank_sheet(&own(7)).is_ok());
    let error = blank_sheet(&own(40)).expect_err("too many");
    assert_eq!(error.code(), "sheet_not_set");
    assert_eq!((PaperSize::from_name(" Letter"), PaperSize::from_name("a5")), (Some(PaperSize::Letter), None));
}
