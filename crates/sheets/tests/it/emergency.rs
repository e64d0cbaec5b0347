//! The wall page: one page, every row on it, and room for a number nobody gave.

use handcoat_craft::source::{EMERGENCY_DEFERS, emergency};
use handcoat_sheets::{EmergencyFacts, WallSheet, emergency_page};

use crate::labels::DAY;
use crate::printed::{Printed, poppler};

fn facts(number: Option<&str>) -> EmergencyFacts {
    EmergencyFacts {
        studio: Some("An invented studio".into()),
        emergency_number: number.map(Into::into),
        poison_centre: None,
        sheets: Vec::new(),
        defers: EMERGENCY_DEFERS.text.into(),
        day: DAY,
    }
}

#[test]
fn one_page_with_every_row_and_who_decides() {
    let bytes = emergency_page(&facts(Some("000 invented")), emergency()).expect("a page");
    assert!(bytes == emergency_page(&facts(Some("000 invented")), emergency()).expect("a page"));
    if !poppler() {
        return;
    }
    let printed = Printed::new(&bytes);
    printed.is_archival(1);
    let said = printed.text();
    for row in emergency() {
        // A heading may be broken over lines that the reading order mixes with the row beside it.
        assert!(row.when.split(' ').all(|word| said.contains(word)), "no {} in {said}", row.when);
        for words in row.then.iter().chain([&row.do_first]) {
            assert!(said.contains(words), "no `{words}` in {said}");
        }
    }
    assert!(said.contains("local emergency number: 000 invented"), "{said}");
    assert!(said.contains(EMERGENCY_DEFERS.text) && said.contains("common practice, no source"), "{said}");
}

#[test]
fn a_number_nobody_gave_leaves_a_line_to_write_on() {
    if !poppler() {
        return;
    }
    for missing in [None, Some("  ")] {
        let said = Printed::new(&emergency_page(&facts(missing), emergency()).expect("a page")).text();
        assert!(said.contains("local emergency number: ____") && said.contains("poison centre: ____"), "{said}");
    }
}

#[test]
fn long_words_are_set_smaller_and_never_run_over() {
    let long = EmergencyFacts { studio: Some("A studio with a long name ".repeat(4)), ..facts(None) };
    assert!(emergency_page(&long, emergency()).is_ok());
    let endless = EmergencyFacts { defers: "on and on ".repeat(900), ..facts(None) };
    let error = emergency_page(&endless, emergency()).expect_err("too much");
    assert!(error.to_string().contains("must be one"), "{error}");
}

#[test]
fn suppliers_sheets_are_named_and_never_push_a_row_off() {
    let sheet = |count: usize| WallSheet {
        item: format!("jar number {count}"),
        supplier: "an invented supplier of fine salts".into(),
        date: "2026-01-20".into(),
    };
    for (count, named) in [(1, 1), (3, 3), (12, 12), (40, 12), (400, 12)] {
        let with = EmergencyFacts { sheets: (1..=count).map(sheet).collect(), ..facts(Some("000 invented")) };
        let bytes = emergency_page(&with, emergency()).expect("a page");
        if !poppler() {
            return;
        }
        let said = Printed::new(&bytes).text().split_whitespace().collect::<Vec<_>>().join(" ");
        for row in emergency() {
            assert!(said.contains(row.do_first), "no `{}` in {said}", row.do_first);
        }
        let found = (1..=count).filter(|own| said.contains(&format!("jar number {own}: an invented"))).count();
        assert!(found > 0 && found <= named, "{found} of {count} in {said}");
        let more = count - found;
        assert_eq!(said.contains(&format!("and {more} more, listed")), more > 0, "{said}");
    }
    let none = emergency_page(&facts(None), emergency()).expect("a page");
    assert!(!poppler() || !Printed::new(&none).text().contains("sheets in the book"));
}
